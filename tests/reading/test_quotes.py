"""A typewriter's quotes in a file become a printer's; feet, inches and names that are compared stay."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.reading.source_text import with_curly_quotes
from tests.helpers.shipped import plan_of

STRAIGHT = {"\N{LEFT DOUBLE QUOTATION MARK}": '"', "\N{RIGHT DOUBLE QUOTATION MARK}": '"'}
STRAIGHT |= {"\N{LEFT SINGLE QUOTATION MARK}": "'", "\N{RIGHT SINGLE QUOTATION MARK}": "'"}


@pytest.mark.parametrize(
    ("typed", "printed"),
    [
        ('a sailmaker\'s receipt for "white tape, corded".', "a sailmaker’s receipt for “white tape, corded”."),
        ("weavers' work of the '80s", "weavers’ work of the ’80s"),
        ("'page 16' (\"x\")", "‘page 16’ (“x”)"),
        ("it's 'so' it's", "it’s ‘so’ it’s"),
        ("5\" wide and 6' long", "5\" wide and 6' long"),
        ('the "5" of it', "the “5” of it"),
        ('a " b', 'a " b'),
        ("“as typed”", "“as typed”"),
    ],
)
def test_quotes_open_and_close(typed: str, printed: str) -> None:
    assert with_curly_quotes(typed) == printed


@given(st.text("ab1 '\"(.", max_size=30))
def test_nothing_else_changes(text: str) -> None:
    curly = with_curly_quotes(text)
    assert "".join(STRAIGHT.get(sign, sign) for sign in curly) == text
    assert with_curly_quotes(curly) == curly or "'" in curly or '"' in curly


def test_the_prose_of_a_pattern_is_printed_so() -> None:
    source = plan_of("cord-edge").pattern.source
    assert source
    assert source.what == "a sailmaker’s receipt for “white tape, corded both edges”"
