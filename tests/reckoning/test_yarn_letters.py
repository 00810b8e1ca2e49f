"""Two letters for every yarn, never two alike."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from cardmaker.reckoning.stripes.yarn_letters import letters


def codes(*names: str) -> str:
    return " ".join(letters(names).values())


def test_common_colours_have_the_letters_of_the_demonstration_patterns() -> None:
    assert codes("white", "blue", "red", "brown", "green", "yellow", "black") == "Wh Bu Re Bn Gr Ye Bk"
    assert codes("Blue", "blue", "grey", "gray") == "Bu Bl Gy Gr"


def test_the_common_word_keeps_its_letters_whatever_comes_before() -> None:
    assert codes("buff", "blue", "bunting") == "Bf Bu Bn"
    assert codes("bunting", "brown") == "Bu Bn"


def test_several_words_give_their_first_letters() -> None:
    assert codes("blue", "dark blue", "light blue", "red", "red thick", "red posts") == "Bu Db Lb Re Rt Rp"
    assert codes("off-white", "tow 12/2") == "Ow To"


def test_digits_when_the_letters_of_the_name_are_used_up() -> None:
    assert codes("ab", "Ab", "AB", "aB") == "Ab A2 A3 A4"


def test_a_name_of_one_letter_is_its_own_letter_and_keeps_its_figure() -> None:
    assert codes("N", "No", "n", "5N") == "N No N2 N5"
    assert codes("N5", "N 4", "White") == "N5 N4 Wh"


def test_any_script_and_no_letter_at_all() -> None:
    assert codes("белый", "бурый") == "Бе Бу"
    assert codes("白", "12", "★") == "白 Y2 Y3"
    assert codes("ßalt", "e\N{COMBINING ACUTE ACCENT}cru") == "Al Éc"


@given(st.lists(st.text(min_size=1, max_size=6) | st.text("ab ", min_size=1, max_size=4), max_size=60, unique=True))
def test_no_two_are_alike_even_without_capitals(names: list[str]) -> None:
    found = letters(names)
    assert list(found) == names
    assert len({code.casefold() for code in found.values()}) == len(names)
    assert all(1 <= len(code) <= 2 for code in found.values())
    assert all(code[0] == code[0].upper() and code[1:] == code[1:].lower() for code in found.values())


def test_a_thousand_yarns_of_one_name_still_differ() -> None:
    found = letters([f"white {'!' * number}" for number in range(1200)])
    assert len({code.casefold() for code in found.values()}) == 1200
    assert next(code for code in found.values() if len(code) > 2) == "W10"  # the first that two letters cannot name
