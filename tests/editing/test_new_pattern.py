"""The pattern file to start from: whatever its title and its stripes are called, it reads back as it was asked for."""

from __future__ import annotations

import re
from unicodedata import normalize

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardmaker.editing.new_pattern import DEFAULT_STRIPES, requested_pattern_text, stem_of, usual_request
from cardmaker.model.named_colours import NAMED_COLOURS
from cardmaker.model.pattern import Pattern
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reading.stripe_text import stripes_of_text
from cardmaker.reckoning.stripes.colour_clash import lightness, ways_alike
from cardmaker.reckoning.stripes.stripe_counts import end_yarns


def read(title: str, stripes: list[tuple[int, str]]) -> Pattern:
    return parse_pattern(new_pattern_text(title, stripes).encode(), "new.yaml", "new")


def new_pattern_text(title: str, stripes: list[tuple[int, str]]) -> str:
    return requested_pattern_text(usual_request(title, stripes, "2 yd"))


def laid_out(stripes: list[tuple[int, str]]) -> tuple[str, ...]:
    return tuple(normalize("NFC", name) for count, name in stripes for _ in range(count))


# File names


@pytest.mark.parametrize(
    ("title", "stem"),
    [
        ("Harbour Rails", "harbour-rails"),
        ('  It\'s "so": #1 ', "it-s-so-1"),
        ("../../etc/passwd", "etc-passwd"),
        ("A_B", "a-b"),
        ("Größe", "grösse"),
        ("?!", ""),
    ],
)
def test_stems(title: str, stem: str) -> None:
    assert stem_of(title) == stem


@given(st.text(max_size=40))
def test_a_stem_is_a_plain_file_name(title: str) -> None:
    stem = stem_of(title)
    assert not re.search(r"[\s/\\:.\x00]", stem)
    assert not stem.startswith("-")
    assert not stem.endswith("-")


# The file


def test_the_default_reads_back() -> None:
    pattern = read("Harbour Rails", [*DEFAULT_STRIPES])
    assert pattern.title == "Harbour Rails"
    assert end_yarns(pattern) == ("blue",) * 2 + ("white",) * 9 + ("blue",) * 2
    assert (pattern.stated_ends, pattern.weft) == (13, "blue")
    assert pattern.source is None


def test_known_colours_are_put_in() -> None:
    yarns = read("Two", [(2, "sea Blue"), (3, "teal")]).yarns
    assert [yarn.colour for yarn in yarns] == [NAMED_COLOURS["blue"].lower(), ""]


@pytest.mark.parametrize("colour", ["gold", "orange", "red", "pink", "purple", "blue", "green", "brown", "grey"])
def test_light_and_dark_of_one_colour_are_told_apart_even_in_a_grey_copy(colour: str) -> None:
    names = (f"pale {colour}", colour, f"dark-{colour}")
    colours = [yarn.colour for yarn in read("Three", [(2, name) for name in names]).yarns]
    light, plain, dark = map(lightness, colours)
    assert plain == lightness(NAMED_COLOURS[colour])
    assert light - plain > 15
    assert plain - dark > 12
    assert ways_alike(colours[0], colours[2]) == ()


def test_each_line_of_the_file_has_its_comment_or_its_meaning() -> None:
    lines = new_pattern_text("Harbour Rails", [(13, "white")]).splitlines()
    assert lines[0].startswith("# ")
    assert all(len(line) <= 120 and line == line.rstrip() for line in lines)
    assert "  - 13 white" in lines


NAMES = [
    "no", "yes", "on", "null", "~", "true", "1e3", "0812", "16:2", "2026-11-20", "20/2", "a: b", "a #b", "#b", "- x",
    "=", "? y", "it's", 'the "dark" one', "a\\b", "[x]", "{y}", "&a", "*a", "!c", "%x", "@y", "`z", "|", ">", "<<", "é",
    "x-", "a_b", "тёмный", "dark blue", "brown cord",
]  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_an_odd_name_reads_back_exactly(name: str) -> None:
    stripes = [(2, name), (3, "white"), (2, name)]
    pattern = read(name, stripes)
    assert (pattern.title, pattern.weft) == (name, name)
    assert end_yarns(pattern) == laid_out(stripes)


@settings(max_examples=150, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.integers(1, 30),
            st.text(
                st.characters(codec="utf-8", exclude_categories=("C", "Z", "M", "N"), exclude_characters=",;+/|#"),
                min_size=1,
                max_size=12,
            ),
        ),
        min_size=1,
        max_size=6,
    )
)
def test_any_stripes_that_can_be_typed_read_back(stripes: list[tuple[int, str]]) -> None:
    typed = ", ".join(f"{count} {name}" for count, name in stripes)
    if len({name.casefold() for _, name in stripes}) < len({name for _, name in stripes}):
        return
    parsed = stripes_of_text(typed)
    assert parsed == [(count, normalize("NFC", name)) for count, name in stripes]
    assert end_yarns(read("Any", parsed)) == laid_out(stripes)
