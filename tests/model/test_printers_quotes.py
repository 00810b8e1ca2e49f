"""A typewriter's quotes in a file become a printer's; feet, inches and names that are compared stay."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.model.pattern import Change, Measurement, Notes
from cardmaker.model.printers_quotes import pattern_in_print, with_curly_quotes
from cardmaker.model.record_class import replace
from tests.helpers.shipped import plan_of, shipped_pattern

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
    """And the file keeps what was typed: an editing command writes it again."""
    typed = shipped_pattern("cord-edge").source
    assert typed
    assert typed.what == 'a sailmaker\'s receipt for "white tape, corded both edges"'
    source = plan_of("cord-edge").pattern.source
    assert source
    assert source.what == "a sailmaker’s receipt for “white tape, corded both edges”"


def test_only_prose_is_changed() -> None:
    """Every text that is printed as a sentence; a title is compared and looked up."""
    typed, printed = 'it\'s "so"', "it’s “so”"
    change, record = Change(typed, typed, typed), Measurement(typed, note=typed)
    pattern = replace(
        shipped_pattern("cord-edge"), title=typed, code=typed, marked_as=typed, about=typed, credit=typed,
        purposes=(typed,), notes=Notes((typed,), (typed,), (typed,)), changes=(change,), measured=(record,),
    )  # fmt: skip
    found = pattern_in_print(pattern)
    assert (found.title, found.code, found.marked_as) == (typed, typed, typed)
    assert (found.about, found.credit, found.purposes) == (printed, printed, (printed,))
    assert found.notes == Notes((printed,), (printed,), (printed,))
    assert found.changes == (Change(typed, typed, printed),)
    assert found.measured[0].note == printed
    assert found.yarns == pattern.yarns
    assert found.source
    assert found.source.differences == ("brown cord, because white on white cannot be seen on a card",)
