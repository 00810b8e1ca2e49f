"""Headings: in lines where they are long, their aside beside them, below, or nowhere."""

from __future__ import annotations

import pytest

from cardmaker.layout.headings import aside_words, fits_beside, heading_words, set_heading
from cardmaker.layout.type_setting import cap_height, leading
from cardmaker.model.marks import Box
from tests.helpers.even_space import EvenSpace

BOX = Box(10, 0, 40, 0)


SPACE = EvenSpace(5, 5)


def test_an_aside_stands_at_the_end_of_the_line_or_after_the_heading() -> None:
    """9 signs, 3 mm and 56 small signs fill 40 mm."""
    heading = set_heading(SPACE, "Pick rows", 40, "x" * 56)
    assert heading.height_mm == pytest.approx(cap_height(10))
    (right,), (left,) = (aside_words(heading, BOX, 5, side) for side in ("right", "left"))
    assert (right.x, right.align, right.y) == (50, "right", 5)
    assert (left.x, left.align, left.y) == (10 + 9 + 3, "left", 5)


@pytest.mark.parametrize("below", [False, True])
def test_an_aside_without_room_beside_goes_below_or_away(below: bool) -> None:
    aside = f"{'x' * 56} y"
    assert not fits_beside(SPACE, "Pick rows", aside, 40)
    heading = set_heading(SPACE, "Pick rows", 40, aside, below=below)
    words = aside_words(heading, BOX, 5)
    assert [(word.text, word.x, word.y) for word in words] == ([(aside, 10, 5 + leading(5))] if below else [])
    assert heading.height_mm == pytest.approx(cap_height(10) + below * leading(5))


def test_a_long_heading_has_lines_and_is_as_high_as_they_are() -> None:
    heading = set_heading(SPACE, "When a thread breaks or a space was skipped", 31, "short")
    assert [word.text for word in heading_words(heading, 10, 5)] == ["When a thread breaks or a space", "was skipped"]
    assert heading.height_mm == pytest.approx(cap_height(10) + leading(10))
    assert aside_words(heading, BOX, 5) == []
