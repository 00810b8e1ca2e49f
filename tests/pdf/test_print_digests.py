"""A page's digest is another as soon as anything on it prints otherwise, and the same where only links differ."""

from __future__ import annotations

import pytest

from cardmaker.model.marks import Again, Box, Colour, Face, Group, Line, Link, Mark, Page, Words
from cardmaker.model.record_class import replace
from cardmaker.pdf.draft import Draft, draft_of, form_of, with_links_to, with_marks
from cardmaker.pdf.page_resources import content_of
from cardmaker.pdf.print_digests import print_digest

BOX = Box(0, 0, 20, 20)
INK: Colour = "#000000"


def draft(*marks: Mark, width: float = 100.0) -> Draft:
    return draft_of(Page(width, 150.0, marks))


def words(text: str = "15 in turn", x: float = 10.0, size: float = 9.0, face: Face = Face.SANS) -> Words:
    return Words(x, 20.0, text, face, size)


PLAIN = print_digest(draft(words(), Line(5, 5, 50, 5, 0.3)))


@pytest.mark.parametrize(
    "other",
    [
        draft(words("16 in turn"), Line(5, 5, 50, 5, 0.3)),
        draft(words("15 in tüřn"), Line(5, 5, 50, 5, 0.3)),
        draft(words(x=10.01), Line(5, 5, 50, 5, 0.3)),
        draft(words(size=9.5), Line(5, 5, 50, 5, 0.3)),
        draft(words(face=Face.SERIF), Line(5, 5, 50, 5, 0.3)),
        draft(words(), Line(5, 5, 50, 5, 0.31)),
        draft(words()),
        draft(words(), Line(5, 5, 50, 5, 0.3), width=100.1),
        with_marks(draft(words(), Line(5, 5, 50, 5, 0.3)), (words("12a"),)),
    ],
)
def test_whatever_prints_otherwise_has_another_digest(other: Draft) -> None:
    assert print_digest(other) != PLAIN
    assert print_digest(draft(words(), Line(5, 5, 50, 5, 0.3))) == PLAIN


def test_unusual_letters_are_told_apart() -> None:
    """Their codes are settled by the whole document, so they might be alike in two."""
    assert print_digest(draft(words("ř"))) != print_digest(draft(words("ď")))


def test_a_picture_that_is_drawn_once_and_placed_counts_with_all_that_is_in_it() -> None:
    name, form = form_of((Line(0, 0, 5, 5, 0.3),))
    placed = draft(Again(name, 2, 5.0, BOX))
    one = replace(placed, forms={name: form})
    other = replace(placed, forms={name: replace(form, content=content_of("0 0 m 6 6 l S"))})
    assert print_digest(one) != print_digest(other)


def test_where_a_link_leads_is_not_printed() -> None:
    def linked(target: str) -> Draft:
        return draft(Group("paragraph", "row", BOX, (Link(BOX, target, (words(),), f"to {target}"),)))

    assert print_digest(linked("one")) == print_digest(linked("two"))
    kept, cut = with_links_to(linked("one"), {"one"}), with_links_to(linked("one"), {"two"})
    assert [len(each.links) for each in (kept, cut)] == [1, 0]
    assert kept == linked("one")
