"""Stripes in all the ways in which they are typed, pasted and saved; what could be meant in two ways is refused."""

from __future__ import annotations

import re

import pytest

from cardmaker.reading.stripe_text import stripes_of_text

RAILS = [(2, "blue"), (9, "white"), (2, "blue")]


@pytest.mark.parametrize(
    "typed",
    [
        "2 blue, 9 white, 2 blue",
        "2 blue 9 white 2 blue",
        "  2   blue ,9 white,  2 blue ",
        "2 blue / 9 white / 2 blue",
        "2 blue/9 white/2 blue",
        "2 blue; 9 white; 2 blue",
        "2 blue + 9 white + 2 blue",
        "2 blue, 9 white and 2 blue",
        "2 blue and 9 white & 2 blue",
        "2 blue - 9 white – 2 blue",
        "2 blue | 9 white | 2 blue",
        "2 blue. 9 white. 2 blue",
        "2 blue\n9 white\n2 blue\n",
        "2 blue\r\n9 white\r\n\r\n2 blue",
        "2 blue,\n9 white,\n2 blue,\n",
        "- 2 blue\n- 9 white\n- 2 blue",
        "# counted at the table\n2 blue 9 white\n• 2 blue",
        "2 x blue, 9 × white, 2 ends of blue",
        "2 blue, 9 white, 2 blue, total 13",
        "2 blue\n9 white\n2 blue\n= 13",
        "2 blue, 9 white, 2 blue, 13 in all",
        "2,blue\n9,white\n2,blue\n",
        "blue,2\nwhite,9\nblue,2",
        "2;blue\r\n9;white\r\n2;blue\r\n",
        "2\tblue\n9\twhite\n2\tblue",
        '"2","blue"\n"9","white"\n"2","blue"',
        "count,colour\n2,blue\n9,white\n2,blue",
        "Colour;Ends\nblue;2\nwhite;9\nblue;2\nTotal;13",
        "yarn,ends,note\nblue,2,edge\nwhite,9,\nblue,2,edge",
        "no,yarn,count\n1,blue,2\n2,white,9\n3,blue,2",
        "2.00,blue\n9.00,white\n2.00,blue\ntotal,13.00",
        "count,colour\n2,blue\n,\n9,white\n2,blue\n13,total",
    ],
)
def test_one_tape_in_many_ways(typed: str) -> None:
    assert stripes_of_text(typed) == RAILS


@pytest.mark.parametrize(
    ("typed", "stripes"),
    [
        ("13 white", [(13, "white")]),
        ("1 red ,2 dark blue", [(1, "red"), (2, "dark blue")]),
        ("5 black and tan, 3 red", [(5, "black and tan"), (3, "red")]),
        ("1 a: b", [(1, "a: b")]),
        ("3 тёмный", [(3, "тёмный")]),
        ("2 x", [(2, "x")]),  # a yarn may be called so
        ('2,"dark, blue"\n3,red', [(2, "dark, blue"), (3, "red")]),
        ("count;colour\n2;DMC 321\n3;red", [(2, "DMC 321"), (3, "red")]),  # its cell says where it ends
    ],
)
def test_others(typed: str, stripes: list[tuple[int, str]]) -> None:
    assert stripes_of_text(typed) == stripes


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ("", "this stripe is empty. Write how many ends, a space and the yarn, as in 9 white."),
        ("2 white,", "this stripe is empty."),
        ("2 white,,3 red", "this stripe is empty."),
        ("white", "'white' is not a stripe: it does not say how many ends. Write it as in '9 white'."),
        ("white 2", "'white 2' is not a stripe: it is the wrong way round. Write '2 white'."),
        ("2 brown, red", "'red' is not a stripe: it does not say how many ends. Write it as in '9 red'."),
        ("2white", "'2white' is not a stripe. Write '2 white', with a space."),
        ("0 white", "'0 white' is not a stripe: it has no whole number of ends from 1 to 400."),
        ("-2 white", "'-2 white' is not a stripe. Write '2 white'."),
        ("2.5 white", "'2.5 white' is not a stripe: it has no whole number of ends"),
        ("٣ white", "'٣ white' is not a stripe: it does not begin with a number."),
        ("13", "'13' is not a stripe: it says how many ends but not of which yarn. Write it as in 13 white."),
        (
            "2 blue9 white",
            "'2 blue9 white' has a figure inside the name of a yarn. If you mean two stripes, write 2 blue, 9 white.",
        ),
        (
            "2 DMC321, 3 white",
            "'2 DMC321' has a figure inside the name of a yarn. Write the name with letters alone; its shade or number "
            "goes into the file, as in shade: 321.",
        ),
        ("2 DMC 321", "'2 DMC 321' has a figure that no yarn follows: 321. A figure begins the next stripe."),
        ("2 blue 9 white 13", "'2 blue 9 white 13' has a figure that no yarn follows: 13."),
        ("2 Blue, 9 white, 2 blue", "'Blue' and 'blue' differ in capitals alone. Write one of them."),
        ("2 blue, 9 white, total 13", "The total says 13, and the stripes before it add up to 11. Count again."),
        ("2,blue\n9,white\ntotal,13", "The total says 13, and the stripes before it add up to 11. Count again."),
        ("blue,\n9,white", "Line 1: 'blue' is no whole number of ends from 1 to 400."),
        ("two,blue\n9,white", "Line 1: 'two' is no whole number of ends from 1 to 400."),
        ("Anzahl,Farbe\n9,white", "Line 1: 'Anzahl' is no whole number of ends"),
        ("2,blue\n1.000,white", "Line 2: '1.000' is no whole number of ends"),
        ("count,colour\n2,blue\n9,", "Line 3: '' is no name of a yarn. Begin it with a letter."),
        ("2,blue\n9,white\n,11", "Line 3: '' is no whole number of ends"),
        ("1,blue,2\n2,white,9", "This table has more columns than a count and a colour."),
        ("2,blue,edge\n9,white,middle", "This table has more columns than a count and a colour."),
        ("count,colour\n", "'count' is not a stripe: it does not say how many ends."),
    ],
)  # fmt: skip
def test_what_is_refused_and_what_is_said(typed: str, message: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(message)}"):
        stripes_of_text(typed)
