"""The shed cells on the card: where the weft is drawn, which sign stands over it, and what the words say of both."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

import pytest

from cardmaker.card.composing import compose_card
from cardmaker.card.panels.shed_drawing import pictogram
from cardmaker.layout.ink import BLACK, WHITE
from cardmaker.model.loom import Loom, Side
from cardmaker.model.marks import Box, Line, Mark, Path, Rectangle, Words
from cardmaker.model.plan import Plan
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.wording.plan_json import plan_as_json
from cardmaker.wording.shed_words import Opens, begin_words, next_shed_alt_text
from tests.helpers.card_faults import all_words, extent, leaves, panels
from tests.helpers.record_cards import RULER
from tests.helpers.shipped import LAYOUTS, plan_for_layout, plan_of, shipped_layout, shipped_loom, shipped_pattern
from tests.helpers.treadle_looms import TIE_UPS, treadles

WITH_CELLS = [stem for stem in LAYOUTS if stem not in ("bench", "visitor", "dressing", "dressing-brief")]
VIEWS = [Viewpoint(hand, behind) for hand in (False, True) for behind in (False, True)]
SIDE = re.compile(r"weft at (left|right):")


OTHER_SIDE = {"left": "right", "right": "left"}


class Cell(NamedTuple):
    """What one cell shows: by its picture, and by its words."""

    frame: Box
    drawn_side: str
    drawn_sign: str
    said_side: str
    said_shed: str
    thrown: str
    width_to_height: float
    picture_height: float


def cells(plan: Plan, stem: str) -> list[Cell]:
    layout = shipped_layout(stem)
    composed = compose_card(plan, layout, layout.papers[0], RULER)
    marks = [
        mark
        for panel in panels(composed)
        for figure in panel.marks
        if getattr(figure, "name", "") == "shuttle"
        for mark in leaves([figure])
    ]
    frames = sorted((mark.box for mark in marks if isinstance(mark, Rectangle)), key=lambda box: -box.width)[:2]
    return [seen(frame, [mark for mark in marks if inside(mark, frame)]) for frame in sorted(frames)]


def inside(mark: Mark, frame: Box) -> bool:
    box = place(mark)
    return box.width < frame.width - 1 and frame.left <= box.middle <= frame.right


@pytest.mark.parametrize(("pattern", "corners"), [("three-paths", 1), ("two-rails", 2)])
def test_the_shuttle_is_the_looms_own(pattern: str, corners: int) -> None:
    """Middle box's file says netting: a point leads; small box's tells none, so it is flat, with two corners there."""
    plan = plan_for_layout(pattern, "handout")
    assert plan.loom.shuttle_kind == ("netting" if corners == 1 else "flat")
    for side, away in ((Side.RIGHT, 1), (Side.LEFT, -1)):
        marks = pictogram(Box(0, 0, 32, 15.6), side, Opens.DOWN, plan.loom.shuttle_kind)
        [body] = [mark for mark in marks if isinstance(mark, Path) and len(mark.steps) == 11]
        ends = [(float(step[-2]) * away, float(step[-1])) for step in body.steps if step[0] != "close"]
        foremost = max(x for x, _ in ends)
        assert len([x for x, _ in ends if x > foremost - 0.01]) == corners
    composed = compose_card(plan, shipped_layout("handout"), shipped_layout("handout").papers[0], RULER)
    printed = [mark for panel in panels(composed) for mark in leaves([panel])]
    windows = [mark for mark in printed if isinstance(mark, Path) and len(mark.steps) == 6 and mark.fill == WHITE]
    assert (len(windows) == 2) == (corners == 1)


def place(mark: Mark) -> Box:
    """Of the words of a cell only that they stand in it is asked: their box is the point where they are set."""
    return extent(mark) or (Box(mark.x, mark.y, 0, 0) if isinstance(mark, Words) else Box(0, 0, 0, 0))


def seen(frame: Box, marks: list[Mark]) -> Cell:
    ends = [mark.box for mark in marks if isinstance(mark, Rectangle) and mark.fill == WHITE and not mark.radius]
    (shuttle,) = (place(mark) for mark in marks if isinstance(mark, Path) and len(mark.steps) == 11)
    tape = min(box.left for box in ends)
    words = [word.text for word in sorted(all_words(marks), key=lambda word: (round(word.y), word.x))]
    said = SIDE.fullmatch(words[0])
    assert said
    assert len(words) == 2
    picture = [place(mark) for mark in marks if not isinstance(mark, Words)]
    wide = max(box.right for box in picture) - min(box.left for box in picture)
    high = max(box.bottom for box in picture) - min(box.top for box in picture)
    side = "right" if shuttle.left > tape else "left"
    return Cell(frame, side, sign(marks), said[1], words[-1], thrown(marks), wide / high, high)


def thrown(marks: list[Mark]) -> str:
    """Where the arrow through the shed points to: to where its barbs are not; and it goes right through the tape."""
    (head,) = (mark for mark in marks if isinstance(mark, Path) and len(mark.steps) == 5 and mark.fill == BLACK)
    corners = [step[-2:] for step in head.steps if step[0] != "close"]
    (point, y), (barb, _) = ((float(x), float(y)) for x, y in corners[:2])
    (shaft,) = (mark for mark in marks if isinstance(mark, Line) and mark.y1 == mark.y2 == y)
    ends = [mark.box for mark in marks if isinstance(mark, Rectangle) and mark.fill == WHITE and not mark.radius]
    left, right = min(box.left for box in ends), max(box.right for box in ends)
    assert sorted([shaft.x1, point]) == pytest.approx([min(shaft.x1, point), max(shaft.x1, point)])
    assert min(shaft.x1, point) < left < right < max(shaft.x1, point)
    assert all(box.top < y < box.bottom for box in ends)
    return "left" if point < barb else "right"


def sign(marks: list[Mark]) -> str:
    """What is drawn to open the shed: a black triangle, or a black one of two boards or treadles."""
    triangles = [mark for mark in marks if isinstance(mark, Path) and len(mark.steps) == 4]
    (triangle,) = (mark for mark in triangles if mark.fill in (BLACK, WHITE) and not mark.stroke)
    points = [step[-2:] for step in triangle.steps if step[0] != "close"]
    heights = sorted(float(point[1]) for point in points)
    direction = "DOWN" if heights[1] - heights[0] < heights[2] - heights[1] else "UP"
    if triangle.fill == BLACK:
        return direction
    black = next(mark.box for mark in marks if isinstance(mark, Rectangle) and mark.fill == BLACK)
    white = min(
        (mark.box for mark in marks if isinstance(mark, Rectangle) and mark.fill == WHITE),
        key=lambda box: abs(box.width - black.width) + abs(box.height - black.height),
    )
    if direction == "DOWN":
        return "LEFT FOOT" if black.left < white.left else "RIGHT FOOT"
    return "FRONT UP" if black.top > white.top else "BACK UP"


def looms() -> Iterator[Loom]:
    yield shipped_loom("middle-box")
    yield from (treadles(tie_up) for tie_up in TIE_UPS)
    yield from (treadles(), treadles(shuttle=""))


@pytest.mark.parametrize("stem", WITH_CELLS)
def test_picture_words_and_plan_agree(stem: str) -> None:
    for loom in looms():
        for view in VIEWS:
            plan = plan_as_seen(make_plan(shipped_pattern("nine"), loom), view)
            told = [(rule["weft_hangs"], rule["next"].upper()) for rule in plan_as_json(plan)["next_shed"]]
            found = cells(plan, stem)
            assert [(cell.drawn_side, cell.drawn_sign) for cell in found] == told, (loom.title, view)
            assert [cell.said_shed for cell in found] == [shed for _, shed in told]
            assert [cell.said_side for cell in found] == [side for side, _ in told]
            assert [cell.thrown for cell in found] == [OTHER_SIDE[side] for side, _ in told]


@pytest.mark.parametrize("stem", WITH_CELLS)
def test_the_first_cell_is_that_of_the_first_throw(stem: str) -> None:
    """Five Posts begins in the lifted shed, Three Paths in the one that is pressed down; so they are heard too."""
    for pattern, shed in (("five-posts", "UP"), ("three-paths", "DOWN")):
        for view in VIEWS:
            plan = plan_as_seen(plan_of(pattern), view)
            first, second = cells(plan, stem)
            assert first.said_shed == first.drawn_sign == shed != second.said_shed
            assert first.thrown in re.findall(r"throw (left|right)", begin_words(plan))
            heard = next_shed_alt_text(plan)
            assert re.findall(r"next: (down|up)", heard) == [shed.lower(), second.said_shed.lower()]


@pytest.mark.parametrize("stem", WITH_CELLS)
def test_no_card_is_so_crowded_that_a_cell_leaves_out_the_side(stem: str) -> None:
    """The side is the condition on which the shed depends: the picture shrinks before it goes."""
    for pattern in ("fair-day", "long-sixty", "five-posts", "framed-pavement"):
        for hand in (False, True):
            plan = plan_as_seen(plan_of(pattern), Viewpoint(hand))
            assert sorted(cell.said_side for cell in cells(plan, stem)) == ["left", "right"], (pattern, hand)


def test_a_wide_cell_has_its_words_beside_a_large_picture() -> None:
    """Less large on the fullest of cards, where a walk with ticks on two heights stands above it, and the same three
    troubles below."""
    least = dict.fromkeys(("wick", "two-rails", "off-side", "three-paths"), 15.6)
    least |= {"framed-pavement": 11.2, "fair-day": 10.8}  # of two heddles each has a row that counts to its first space
    for pattern, high in least.items():
        for cell in cells(plan_of(pattern), "handout-large"):
            assert cell.picture_height >= high, pattern


def test_a_plain_loom_by_hand() -> None:
    """Middle box: pressed down, the shuttle goes left. So with the weft at the right the next shed is down."""
    told = [cell[1:5] for cell in cells(plan_of("three-paths"), "handout")]
    assert told == [("right", "DOWN", "right", "DOWN"), ("left", "UP", "left", "UP")]


def test_it_is_one_pictogram_on_every_layout() -> None:
    shapes = [cell.width_to_height for stem in WITH_CELLS for cell in cells(plan_of("three-paths"), stem)]
    assert max(shapes) / min(shapes) < 1.02
    assert len(shapes) == 2 * len(WITH_CELLS)


@pytest.mark.parametrize("stem", WITH_CELLS)
def test_the_cells_are_large_enough_and_side_by_side(stem: str) -> None:
    least = 9.0 if stem == "six-numbers" else 14.5  # where the words stand beside the picture
    for pattern in ("three-paths", "wick", "grey-trap", "penned-ladder"):
        found = cells(plan_of(pattern), stem)
        assert all(cell.frame.width >= 26 and cell.frame.height >= least for cell in found)
        assert all(left.frame.right + 3 <= right.frame.left for left, right in pairwise(found))


@pytest.mark.parametrize("stem", WITH_CELLS)
def test_how_to_begin_is_said(stem: str) -> None:
    for view in VIEWS:
        plan = plan_as_seen(plan_of("three-paths"), view)
        layout = shipped_layout(stem)
        composed = compose_card(plan, layout, layout.papers[0], RULER)
        text = " ".join(word.text for panel in panels(composed) for word in all_words(panel.marks))
        begins = re.findall(
            r"[Bb]egin(?: as you sit)?: (?:press the )?warp DOWN, throw (?:to the )?(left|right)",
            text.replace("\u00a0", " "),
        )
        assert begins == ["right" if view.left_hand else "left"]
        assert ("egin as you sit:" in text) == view.from_behind
        assert "begin" in composed.printed
