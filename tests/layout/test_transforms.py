"""Marks drawn larger or smaller as a whole."""

from __future__ import annotations

import pytest

from cardmaker.layout.transforms import mirrored, scaled, shifted
from cardmaker.model.marks import Again, Box, Dot, Face, Group, Line, Mark, Path, Rectangle, Stamp, Words

MARKS: tuple[Mark, ...] = (
    Line(1, 2, 3, 4, 0.5, dash=(1.0, 0.5)),
    Rectangle(Box(1, 2, 3, 4), "#ffffff", "#000000", 0.5, 0.25, (1.0,)),
    Dot(5, 6, 2, None, "#000000", 0.5),
    Path(
        (("move", 1, 2), ("curve", 1, 2, 3, 4, 5, 6), ("line", 7, 8), ("close",)),
        stroke="#000000", width=0.5, dash=(2.0,),
    ),
    Words(3, 4, "on", Face.SANS, 9),
    Stamp((Dot(1, 1, 1),), 3, 2.0, 4.0, Box(0, 0, 8, 8)),
    Again("tape", 2, 5.0, Box(0, 0, 4, 10)),
    Group("figure", "one", Box(0, 0, 9, 9), (Line(0, 0, 9, 9, 1),), "One."),
)  # fmt: skip


def test_everything_grows_about_the_origin() -> None:
    assert scaled(MARKS, 2) == (
        Line(2, 4, 6, 8, 1.0, dash=(2.0, 1.0)),
        Rectangle(Box(2, 4, 6, 8), "#ffffff", "#000000", 1.0, 0.5, (2.0,)),
        Dot(10, 12, 4, None, "#000000", 1.0),
        Path(
            (("move", 2, 4), ("curve", 2, 4, 6, 8, 10, 12), ("line", 14, 16), ("close",)),
            stroke="#000000", width=1.0, dash=(4.0,),
        ),
        Words(6, 8, "on", Face.SANS, 18),
        Stamp((Dot(2, 2, 2),), 3, 4.0, 8.0, Box(0, 0, 16, 16)),
        Again("tape", 2, 10.0, Box(0, 0, 8, 20), 2.0),
        Group("figure", "one", Box(0, 0, 18, 18), (Line(0, 0, 18, 18, 2),), "One."),
    )  # fmt: skip


def test_what_is_drawn_as_large_as_it_was_stays_what_it_is() -> None:
    assert scaled(MARKS, 1) == MARKS
    for mark, again in zip(MARKS, scaled(scaled(MARKS, 4), 0.25), strict=True):
        assert mark == again


def test_growing_and_moving_after_it() -> None:
    (line,) = shifted(scaled((Line(1, 1, 2, 2, 1),), 3), 10, 20)
    assert line == Line(13, 23, 16, 26, 3)


@pytest.mark.parametrize("factor", [0.5, 3])
def test_a_mirror_image_grows_into_the_mirror_image(factor: float) -> None:
    box = Box(0, 0, 9, 9)
    grown = Box(0, 0, 9 * factor, 9 * factor)
    plain = MARKS[:4]  # words keep their size beside their line
    assert scaled(mirrored(plain, box), factor) == mirrored(scaled(plain, factor), grown)
