"""Boxes to tick: in rows that wrap evenly, under one another where there is room, never over their neighbours."""

from __future__ import annotations

import pytest

from cardmaker.card.sheet import Sheet
from cardmaker.card.tick_boxes import TickBox, draw_tick_boxes, tick_boxes_height, tick_boxes_part
from cardmaker.layout.ink import ACCENT
from cardmaker.layout.type_setting import NO_BREAK, leading
from cardmaker.model.marks import Box, Group, Rectangle, Words
from cardmaker.pdf.fonts import TypeRuler
from tests.helpers.sheets import sheet_of
from tests.helpers.shipped import plan_of

BOXES = [TickBox(text) for text in ("15 holes", "16 slots", "1 at left", "1 at right", "last end in R15, a slot")]
RULER = TypeRuler()


def sheet() -> Sheet:
    return sheet_of(plan_of("three-paths"), "handout")


def rows_of(width: float, size: float = 11) -> list[list[str]]:
    words = [mark for mark in draw_tick_boxes(sheet(), BOXES, size, Box(10, 20, width, 0)) if isinstance(mark, Words)]
    heights = sorted({word.y for word in words})
    return [[word.text for word in words if word.y == height] for height in heights]


def test_all_stand_in_one_row_where_there_is_room() -> None:
    assert rows_of(200) == [[box.text for box in BOXES]]


def test_no_box_is_left_alone_below_four() -> None:
    """Four of the five find room in 112 mm; three and two are the better rows."""
    assert [len(row) for row in rows_of(112)] == [3, 2]


@pytest.mark.parametrize("width", [38, 45, 60, 79, 100, 112, 130, 160])
@pytest.mark.parametrize("size", [9, 11, 14, 16])
def test_nothing_meets_and_nothing_leaves_its_box(width: float, size: float) -> None:
    part = tick_boxes_part(sheet(), width, BOXES, size)
    box = Box(10, 20, width, part.heights.least)
    assert part.heights.least == tick_boxes_height(sheet(), BOXES, size, width)
    marks = part.draw(box)
    squares = [mark.box for mark in marks if isinstance(mark, Rectangle)]
    groups = [mark for mark in marks if isinstance(mark, Group)]
    assert [said(group) for group in groups] == [each.text for each in BOXES]
    places = []
    for square, group in zip(squares, groups, strict=True):
        words = [mark for mark in group.marks if isinstance(mark, Words)]
        right = max(word.x + RULER.width_mm(word.text, word.face, word.size) for word in words)
        assert square.right < min(word.x for word in words)
        assert square.top < words[0].y < square.bottom
        places.append(Box(square.left, square.top, right - square.left, max(square.bottom, words[-1].y) - square.top))
    for number, place in enumerate(places):
        assert box.holds(place)
        for other in places[:number]:
            assert other.right + 3 <= place.left or other.bottom + 0.5 <= place.top


def said(group: Group) -> str:
    return " ".join(mark.text for mark in group.marks if isinstance(mark, Words)).replace(NO_BREAK, " ")


def test_words_wider_than_all_there_is_wrap_beside_their_box() -> None:
    """At 16 pt the last one is 59 mm wide: in 40 mm its words stand in two lines, one below the other."""
    part = tick_boxes_part(sheet(), 40, BOXES[-1:], 16)
    (group,) = (mark for mark in part.draw(Box(0, 0, 40, 0)) if isinstance(mark, Group))
    words = [mark for mark in group.marks if isinstance(mark, Words)]
    assert [word.x for word in words] == [words[0].x] * 2
    assert words[1].y - words[0].y == pytest.approx(leading(16))
    assert part.heights.least > words[1].y


def test_rows_stand_in_columns_where_these_find_room_and_are_alike() -> None:
    """Three and three of one width; among the five the last is twice as wide as what stands above it."""
    alike = [TickBox(f"{count} ends") for count in (13, 14, 15, 16, 17, 18)]
    words = [mark for mark in draw_tick_boxes(sheet(), alike, 9, Box(0, 0, 60, 0)) if isinstance(mark, Words)]
    assert [word.x for word in words][:3] == [word.x for word in words][3:]
    words = [mark for mark in draw_tick_boxes(sheet(), BOXES, 9, Box(0, 0, 100, 0)) if isinstance(mark, Words)]
    assert words[3].x == words[0].x
    assert words[4].x != words[1].x


def test_each_is_read_aloud_and_the_squares_are_not() -> None:
    part = tick_boxes_part(sheet(), 100, BOXES, 9, facts=("checks",))
    assert part.facts == ("checks",)
    marks = part.draw(Box(0, 0, 100, part.heights.least))
    groups = [mark for mark in marks if isinstance(mark, Group)]
    assert [group.marks[0].text for group in groups if isinstance(group.marks[0], Words)] == [b.text for b in BOXES]
    assert all(group.role == "paragraph" for group in groups)


def test_a_marked_box_has_a_bar_under_it() -> None:
    boxes = [TickBox("3", ACCENT, marked=True), TickBox("8")]
    marks = draw_tick_boxes(sheet(), boxes, 11, Box(0, 0, 100, 0))
    (bar,) = (mark for mark in marks if isinstance(mark, Rectangle) and mark.fill == ACCENT)
    first = next(mark for mark in marks if isinstance(mark, Rectangle))
    assert first.box.bottom < bar.box.top
    assert bar.box.bottom <= tick_boxes_height(sheet(), boxes, 11, 100) + 1e-9
    assert bar.box.left == first.box.left


def test_no_boxes_take_no_room() -> None:
    assert tick_boxes_height(sheet(), [], 11, 100) == 0
    assert draw_tick_boxes(sheet(), [], 11, Box(0, 0, 100, 0)) == []
