"""The pictures of dressing that boards, shuttles and sheds are in: what they show is so on this loom with this warp."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from itertools import combinations, pairwise, product
from math import atan2, hypot
from typing import Any

import pytest

from cardmaker.card.dressing import act_advance, act_first_shed, act_first_space, act_shuttles, act_tied_back
from cardmaker.card.dressing import act_two_heddles as both
from cardmaker.card.dressing.act_drawing import CORD, DARK, EDGE, KNOT, LIGHT, WOOD
from cardmaker.card.dressing.act_figures import ACT_BOX, ActFigures, Board
from cardmaker.card.dressing.act_loom_parts import HEDDLE_EDGE, STEEL, TAPE, WEFT
from cardmaker.card.dressing.act_making import act_marks, figures_of_plan
from cardmaker.layout.ink import ACCENT, BLACK, WHITE
from cardmaker.layout.transforms import mirrored
from cardmaker.model.bench import PickupPlan
from cardmaker.model.dressing_acts import Act
from cardmaker.model.loom import Loom, Space
from cardmaker.model.marks import Box, Dot, Line, Mark, Path, Rectangle, Words
from cardmaker.model.plan import Plan
from cardmaker.model.problems import Refusal
from cardmaker.model.record_class import replace
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.wording.shed_words import Opens, begin_words, sheds_in_turn
from tests.helpers.act_samples import KINDS, act_sample
from tests.helpers.card_faults import extent, ink_box
from tests.helpers.drawn_over import points_of
from tests.helpers.sheets import sheet_of
from tests.helpers.shipped import LOOMS, PATTERNS, shipped_loom, shipped_pattern
from tests.helpers.treadle_looms import TIE_UPS, treadles

Point = tuple[float, float]
Picture = Callable[[ActFigures], tuple[Mark, ...]]

SIZES = (8.6, 9.0 * 45 / 35)  # points of the smallest type in a box of 45 mm that is printed 47 or 35 mm wide
VIEWS = [Viewpoint(left, behind) for left in (False, True) for behind in (False, True)]
SPACES = tuple(Space.SLOT if space % 2 else Space.HOLE for space in range(1, 62))
TWO: dict[str, Any] = {
    "front": Board(SPACES, 8, 54, 31), "back": Board(SPACES, 7, 53, 31), "opens_by": "treadle",
    "held_by": "ratchet", "cloth_beam": True, "shuttle": "flat", "pressed_at_left": True,
}  # fmt: skip
ONE_HEDDLE: dict[str, Picture] = {
    "first space": act_first_space.first_space_picture,
    "tied back": act_tied_back.tied_back_picture,
    "shuttle": act_shuttles.shuttle_picture,
    "first shed": act_first_shed.first_shed_picture,
    "advance": act_advance.advance_picture,
    "cut off": act_advance.cut_off_picture,
}
TWO_HEDDLES: dict[str, Picture] = {**ONE_HEDDLE, "two heddles": both.two_heddles_picture}


def plan_on(pattern: str, loom: str, view: Viewpoint) -> Plan | None:
    """The plan as seen; None where the loom does not hold it."""
    try:
        return plan_as_seen(make_plan(shipped_pattern(pattern), shipped_loom(loom)), view)
    except Refusal:
        return None


def figures_of(plan: Plan, size: float = 9.0) -> ActFigures:
    return figures_of_plan(sheet_of(plan, "dressing"), size)


SHIPPED = [
    (pattern, loom, plan)
    for pattern, loom, view in product(PATTERNS, LOOMS, VIEWS)
    if (plan := plan_on(pattern, loom, view)) is not None
]


# What stands in all of them


def samples() -> list[tuple[str, tuple[Mark, ...]]]:
    """Every picture, at both sizes, of every kind of loom."""
    found = []
    for size, beam_first, cloth, held_by in product(SIZES, (False, True), (False, True), ("stick", "ratchet", None)):
        common = {"type_size": size, "beam_first": beam_first, "cloth_beam": cloth, "held_by": held_by}
        near = {"needle_comes_near": beam_first}
        for loom, pictures in (({}, ONE_HEDDLE), (TWO, TWO_HEDDLES)):
            act = act_sample(**{**loom, **common, **near})
            found += [(name, draw(act)) for name, draw in pictures.items()]
            found.append(("first shed up", act_first_shed.first_shed_picture(upwards(act))))
            found.append(("other shuttle", act_shuttles.shuttle_picture(replace(act, shuttle="flat"))))
    return found


def upwards(act: ActFigures) -> ActFigures:
    return replace(act, first_shed="up", on_top=Space.SLOT, throw_to_left=False)


@pytest.mark.parametrize("turn", [False, True])
def test_nothing_leaves_the_box_and_no_label_is_crossed(turn: bool) -> None:
    for name, drawn in samples():
        assert_clear(name, mirrored(drawn, ACT_BOX) if turn else drawn)


def test_nothing_leaves_the_box_and_no_label_is_crossed_on_any_shipped_loom() -> None:
    assert len(SHIPPED) > 4 * len(PATTERNS)
    seen = set()
    for _, _, plan in SHIPPED:
        pictures = TWO_HEDDLES if plan.placement.back else ONE_HEDDLE
        for size in SIZES:
            act = figures_of(plan, size)
            for name, draw in pictures.items():
                marks = draw(act)
                is_left = plan.view.left_hand
                key = (name, marks, is_left)
                if key not in seen:
                    seen.add(key)
                    assert_clear(f"{name} {plan.pattern.title}", mirrored(marks, ACT_BOX) if is_left else marks)


def assert_clear(name: str, marks: Sequence[Mark]) -> None:
    out = [mark for mark in marks if not ACT_BOX.holds(box_of(mark), slack=0.01)]
    assert out == [], name
    labels = [mark for mark in marks if isinstance(mark, Words)]
    discs = [own_disc(marks, words) for words in labels]
    rooms = [box_of(disc) if disc else ink_box(words) for words, disc in zip(labels, discs, strict=True)]
    for words, disc, room in zip(labels, discs, rooms, strict=True):
        assert words.size >= min(SIZES) - 1e-9
        assert re.search(r"(left|right)", words.text, re.IGNORECASE) is None
        others = [mark for mark in marks if not isinstance(mark, Words) and mark is not disc]
        assert [mark for mark in others if crosses(mark, room)] == [], (name, words.text)
    for number, room in enumerate(rooms):
        assert not any(overlap(room, other) for other in rooms[:number]), name


def own_disc(marks: Sequence[Mark], words: Words) -> Dot | None:
    """The disc of the accent that a number of order stands on."""
    disc = marks[marks.index(words) - 1]
    return disc if isinstance(disc, Dot) and disc.fill == ACCENT and words.colour == WHITE else None


def box_of(mark: Mark) -> Box:
    box = extent(mark)
    assert box is not None
    return box


def overlap(one: Box, other: Box) -> bool:
    return one.left < other.right and other.left < one.right and one.top < other.bottom and other.top < one.bottom


def crosses(mark: Mark, room: Box) -> bool:
    """Whether a mark comes into the room of a label: outlines point by point, all else by its box."""
    if not overlap(box_of(mark), room):
        return False
    if not isinstance(mark, Path | Line):
        return not (isinstance(mark, Rectangle | Dot) and mark.fill is None)
    half = mark.width / 2 if isinstance(mark, Line) or mark.stroke else 0.0
    wide = room.inset(-half, -half, -half, -half)
    return any(
        wide.left < x < wide.right and wide.top < y < wide.bottom for each in points_of(mark) for x, y in dense(each)
    )


def dense(points: Sequence[Point]) -> list[Point]:
    return [
        (x1 + (x2 - x1) * share / 20, y1 + (y2 - y1) * share / 20)
        for (x1, y1), (x2, y2) in pairwise(points)
        for share in range(21)
    ]


# 3. The first space


def openings(marks: Sequence[Mark], top: float, bottom: float) -> list[tuple[float, Space]]:
    """What is cut into a board between two heights, from the left."""
    found: dict[float, Space] = {}
    for mark in marks:
        if isinstance(mark, Dot) and mark.fill == WHITE and top < mark.y < bottom and 0.8 < mark.radius < 1.2:
            found[mark.x] = Space.HOLE
        if isinstance(mark, Rectangle) and mark.fill == WHITE and top < mark.box.top and mark.box.bottom < bottom:
            found[mark.box.middle] = Space.SLOT
    return sorted(found.items())


def boards(marks: Sequence[Mark]) -> list[Path]:
    return [mark for mark in marks if isinstance(mark, Path) and mark.fill == WOOD]


def entry(marks: Sequence[Mark]) -> float:
    """Where end 1 goes through: both its parts meet there, before the board and behind it."""
    ends = [point for mark in stroked(marks, DARK) for line in points_of(mark) for point in (line[0], line[-1])]
    [x] = {round(x, 6) for x, y in ends if y == act_first_space.EYE}
    return x


def stroked(marks: Sequence[Mark], colour: str) -> list[Path]:
    return [mark for mark in marks if isinstance(mark, Path) and mark.stroke == colour]


def pencil_mark_x(marks: Sequence[Mark]) -> float:
    [mark] = [mark for mark in marks if isinstance(mark, Path) and mark.fill == BLACK and mark.stroke is None]
    return max(points_of(mark)[0], key=lambda point: point[1])[0]


@pytest.mark.parametrize("loom", LOOMS)
def test_end_1_goes_through_the_first_space_of_the_plan_and_its_kind(loom: str) -> None:
    plans = [plan for _, on, plan in SHIPPED if on == loom]
    assert plans
    for plan in plans:
        marks, placement = act_first_space.first_space_picture(figures_of(plan)), plan.placement
        cut = openings(marks, act_first_space.TOP, act_first_space.BOTTOM)
        xs = [x for x, _ in cut]
        at = min(range(len(xs)), key=lambda number: abs(xs[number] - entry(marks)))
        assert xs[at] == pytest.approx(entry(marks))
        assert cut[at][1] is placement.first_kind
        low = min(placement.first_space, (plan.loom.spaces + 1) // 2)
        assert at == placement.first_space - max(1, low - 1)  # what stands before it, from one empty space on
        assert_mark(plan.loom, marks, cut)


def assert_mark(loom: Loom, marks: Sequence[Mark], cut: Sequence[tuple[float, Space]]) -> None:
    """The mark stands over the middle space, or between the two that it lies between."""
    x = pencil_mark_x(marks)
    under = [kind for each, kind in cut if abs(each - x) < 0.01]
    if loom.middle_space is None:
        assert under == []
        beside = [kind for each, kind in cut if abs(each - x) < act_first_space.WIDEST * 0.6]
        assert beside == [loom.kind_of(loom.spaces // 2), loom.kind_of(loom.spaces // 2 + 1)]
    else:
        assert under == [loom.kind_of(loom.middle_space)]


@pytest.mark.parametrize(("first", "mark", "says", "count"), [
    (10, 12.0, "0", "2"), (8, 12.0, "0", "4"), (8, 12.0, "1", "5"), (12, 12.5, "0", "1"), (14, 12.0, "0", "2"),
])  # fmt: skip
def test_where_no_space_is_left_out_there_are_as_many_hops_as_are_counted(
    first: int, mark: float, says: str, count: str
) -> None:
    spaces = 23 if mark == 12 else 24
    board = Board(SPACES[:spaces], first, first + 2, mark)
    marks = act_first_space.first_space_picture(act_sample(front=board, ends=3, mark_says=says, count=count))
    hops = stroked(marks, ACCENT)
    assert len(hops) == int(count) - int(says)
    assert (entry(marks) < pencil_mark_x(marks)) == (first < mark)
    assert points_of(hops[0])[0][0][0] == pytest.approx(pencil_mark_x(marks))  # the count begins on the mark
    last = points_of(hops[-1])[0][-1]
    assert abs(last[0] - entry(marks)) < 1.5
    assert {mark.text for mark in marks if isinstance(mark, Words)} == {says, count}


def test_a_long_count_is_broken_between_the_mark_and_the_first_space() -> None:
    marks = act_first_space.first_space_picture(act_sample())
    pieces = sorted((box_of(board) for board in boards(marks)), key=lambda box: box.left)
    assert len(pieces) == 2
    x, mark = entry(marks), pencil_mark_x(marks)
    assert pieces[0].left < x < pieces[0].right < pieces[1].left < mark < pieces[1].right
    dashed = [hop for hop in stroked(marks, ACCENT) if hop.dash]
    assert len(dashed) == 1
    assert box_of(dashed[0]).left < pieces[0].right < pieces[1].left < box_of(dashed[0]).right


def test_nothing_is_counted_to_the_marked_space_itself() -> None:
    board = Board(SPACES[:23], 12, 12, 12.0)
    marks = act_first_space.first_space_picture(act_sample(front=board, ends=1, count="0", counts_from_mark=False))
    assert stroked(marks, ACCENT) == []
    assert entry(marks) == pytest.approx(pencil_mark_x(marks))


@pytest.mark.parametrize("near", [False, True])
def test_the_needle_is_at_the_end_that_has_gone_through(near: bool) -> None:
    """Behind the board it is drawn before it; in front of it, after it."""
    marks = act_first_space.first_space_picture(act_sample(needle_comes_near=near))
    [needle] = [number for number, mark in enumerate(marks) if isinstance(mark, Path) and mark.fill == STEEL]
    board = marks.index(boards(marks)[0])
    assert (needle > board) == near
    assert (box_of(marks[needle]).bottom < act_first_space.TOP) != near


@pytest.mark.parametrize("first", [1, 2])
def test_the_board_ends_only_where_it_does(first: int) -> None:
    """One space beyond the first is drawn; where more follow, the wood goes on."""
    whole, torn = (
        points_of(boards(act_first_space.first_space_picture(act_sample(front=Board(KINDS, at, 32, 17))))[0])[0]
        for at in (first, 5)
    )
    assert len({round(x, 3) for x, y in whole if x < 4}) < len({round(x, 3) for x, y in torn if x < 4})


# 4. Two heddles


def ways(marks: Sequence[Mark]) -> tuple[list[tuple[float, Space]], list[tuple[float, Space]]]:
    """Through what the ends go, of the farther board and of the nearer one, from the left."""
    found: list[list[tuple[float, Space]]] = []
    for top, high in ((both.FAR_TOP, both.FAR_HIGH), (both.NEAR_TOP, both.NEAR_HIGH)):
        cut, eye = openings(marks, top, top + high), top + high / 2
        xs = {
            round(x, 6)
            for ink in (DARK, LIGHT)
            for mark in stroked(marks, ink)
            for line in points_of(mark)
            for x, y in (line[0], line[-1])
            if y == eye
        }
        found.append([(x, kind) for x, kind in cut if any(abs(x - each) < 0.01 for each in xs)])
        assert len(found[-1]) == len(xs)
    return found[0], found[1]


def test_every_end_has_a_hole_in_one_heddle_and_a_slot_in_the_other_as_in_the_plan() -> None:
    plans = [plan for _, _, plan in SHIPPED if plan.placement.back]
    assert {plan.placement.back.offset for plan in plans if plan.placement.back} == {-1, 1}
    for plan in plans:
        far, near = ways(both.two_heddles_picture(figures_of(plan)))
        drawn = plan.placement.kinds[: both.MOST]
        kinds = [kind for _, kind in near], [kind for _, kind in far]
        front, back = reversed(kinds) if plan.view.from_behind else kinds
        assert front == list(drawn)
        assert back == [kind.opposite for kind in drawn]


@pytest.mark.parametrize("offset", [-1, 0, 1])
def test_ends_slant_by_one_space_where_the_boards_are_alike(offset: int) -> None:
    alike = SPACES if offset else tuple(kind.opposite for kind in SPACES)
    first = 8
    act = act_sample(**{**TWO, "back": Board(alike, first + offset, 53, 31)})
    far, near = ways(both.two_heddles_picture(act))
    for (x, _), (behind, _) in zip(near, far, strict=True):
        straight = both.VANISHING + (x - both.VANISHING) * both.FARTHER
        assert behind - straight == pytest.approx(offset * both.PITCH * both.FARTHER)


def test_the_rings_name_the_hole_and_the_slot_of_one_end() -> None:
    marks = both.two_heddles_picture(act_sample(**TWO))
    far, near = ways(marks)
    rings = sorted((mark for mark in marks if isinstance(mark, Dot) and mark.stroke == ACCENT), key=lambda ring: ring.y)
    assert [ring.x for ring in rings] == [pytest.approx(far[-1][0]), pytest.approx(near[-1][0])]
    named = sorted((mark for mark in marks if isinstance(mark, Words)), key=lambda words: words.y)
    assert [words.text for words in named] == [far[-1][1], "back", "front", near[-1][1]]


def test_from_behind_the_back_heddle_is_the_nearer_one() -> None:
    marks = both.two_heddles_picture(act_sample(**TWO, from_behind=True))
    named = sorted((mark for mark in marks if isinstance(mark, Words)), key=lambda words: words.y)
    assert [words.text for words in named[1:3]] == ["front", "back"]


def test_one_heddle_has_no_picture_of_two() -> None:
    with pytest.raises(ValueError, match="second heddle"):
        both.two_heddles_picture(act_sample())


# 8. Tied back


@pytest.mark.parametrize("loom", [{}, TWO])
def test_the_cord_is_taut_from_the_loom_and_tied_in_a_bow_and_only_the_pull_has_an_arrow(loom: dict[str, Any]) -> None:
    marks = act_tied_back.tied_back_picture(act_sample(**loom))
    [pull] = [points_of(mark)[0] for mark in stroked(marks, ACCENT)]
    assert pull[0][0] < pull[-1][0]
    cords = stroked(marks, CORD)
    assert len(cords) == 7  # the cord, twice round what it is tied to, and of the bow two ends and two loops
    loops = [line for mark in cords for line in points_of(mark) if line[0] == line[-1]]
    assert len(loops) == 2
    assert all(box_of(mark).right < act_tied_back.HAND[0] - 12 for mark in cords)  # behind the warp's beam
    cord = points_of(cords[0])[0]
    turns = bends(cord)
    assert len(turns) == (0 if loom else 2)  # straight; over the table's edge and down
    rings = [mark for mark in marks if isinstance(mark, Dot) and mark.stroke == STEEL]
    assert [(ring.x, ring.y) for ring in rings] == [cord[0]]
    fixed_in = [mark.box for mark in marks if isinstance(mark, Rectangle) and mark.fill == WOOD]
    assert any(box.left < cord[0][0] < box.right and box.top < cord[0][1] < box.bottom for box in fixed_in)
    round_post = [box_of(mark) for mark in cords[1:3]]
    bow = next(mark for mark in marks if isinstance(mark, Dot) and mark.fill == CORD)
    post = next(box for box in fixed_in if box.left < bow.x < box.right and box.height > 12)
    assert all(box.left < post.left and post.right < box.right for box in round_post)


# 9. The shuttle


def test_weft_goes_round_the_tongue_behind_it_and_out_of_the_heel() -> None:
    marks = act_shuttles.shuttle_picture(act_sample(shuttle="netting"))
    tongues = [mark for mark in boards(marks) if abs(box_of(mark).right - act_shuttles.TONGUE) < 0.1]
    loops = [mark for mark in stroked(marks, DARK) if box_of(mark).width > 9]
    others = {mark.fill for mark in marks if isinstance(mark, Path) and mark.fill} - {WHITE, ACCENT}
    assert others == {WOOD, act_shuttles.OTHER_FACE}  # it is turned over
    assert len(tongues) == 1
    assert len(loops) == 2
    for loop in loops:
        points = points_of(loop)[0]
        assert points[0][0] == pytest.approx(points[-1][0])
        assert max(x for x, _ in points) < act_shuttles.TONGUE  # behind the tongue, not round its tip
        assert min(x for x, _ in points) < act_shuttles.HEEL + act_shuttles.NOTCH
    assert marks.index(tongues[0]) > marks.index(loops[0])


def test_a_flat_shuttle_is_wound_lengthwise_from_notch_to_notch() -> None:
    marks = act_shuttles.shuttle_picture(act_sample(shuttle="flat"))
    stick = max((box_of(mark) for mark in boards(marks)), key=lambda box: box.height)
    laps = [box_of(mark) for mark in stroked(marks, DARK) if box_of(mark).width > stick.width * 0.7]
    assert len(laps) >= 3
    assert all(box.left > stick.left and box.right < stick.right for box in laps)
    assert not any(
        box_of(mark).width < 4 < box_of(mark).height and box_of(mark).left > 10 for mark in stroked(marks, DARK)
    )


# 10. The first shed


def height_at(path: Path, x: float) -> float:
    """How high a thread runs."""
    for (x1, y1), (x2, y2) in pairwise(points_of(path)[0]):
        if min(x1, x2) <= x <= max(x1, x2) and x1 != x2:
            return y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    raise ValueError(x)


def inks(act: ActFigures) -> tuple[str, str]:
    """Of the ends in holes of the (front) heddle, and of the others: end 1 is dark, as on the hand and at the board."""
    return (DARK, LIGHT) if act.front.kinds[act.front.first_space - 1] is Space.HOLE else (LIGHT, DARK)


def layers(marks: Sequence[Mark], act: ActFigures) -> tuple[Path, Path]:
    """The ends in holes of the (front) heddle, and the others."""
    in_holes, others = (max(stroked(marks, ink), key=lambda mark: box_of(mark).width) for ink in inks(act))
    return in_holes, others


@pytest.mark.parametrize(("first_shed", "on_top"), [("down", Space.HOLE), ("up", Space.SLOT)])
@pytest.mark.parametrize("cloth_beam", [False, True])
def test_by_hand_ends_in_holes_bend_at_the_hole_and_the_others_run_straight(
    first_shed: str, on_top: Space, cloth_beam: bool
) -> None:
    act = act_sample(first_shed=first_shed, on_top=on_top, cloth_beam=cloth_beam)
    marks = act_first_shed.first_shed_picture(act)
    in_holes, in_slots = layers(marks, act)
    hole = next(mark for mark in marks if isinstance(mark, Dot) and mark.radius == 1 and mark.fill == WHITE)
    assert hole.x == act_first_shed.HEDDLE
    assert height_at(in_holes, hole.x) == pytest.approx(hole.y)
    assert bends(points_of(in_holes)[0]) == [(hole.x, hole.y)]
    assert bends(points_of(in_slots)[0]) == []
    x, y = shuttle_at(marks)
    assert x > act_first_shed.HEDDLE
    upper, lower = (in_holes, in_slots) if on_top is Space.HOLE else (in_slots, in_holes)
    assert height_at(upper, x) + 1.0 < y < height_at(lower, x) - 1.0
    hand = points_of(in_holes)[0][-1]
    assert (hand[1] > hole.y) == (first_shed == "down")
    arrow = next(points_of(mark)[0] for mark in stroked(marks, ACCENT) if abs(box_of(mark).width) < 1)
    assert (arrow[-1][1] > arrow[0][1]) == (first_shed == "down")
    moved = [mark for mark in stroked(marks, ACCENT) if abs(box_of(mark).middle - act_first_shed.HEDDLE) < 4]
    assert moved == []  # the heddle stands still


def test_down_and_up_are_one_loom_and_only_the_hand_and_the_warp_move() -> None:
    """The heddle, its hole and the roll stand where they stood."""
    pictures = [
        act_first_shed.first_shed_picture(act_sample(first_shed=shed, on_top=top))
        for shed, top in (("down", Space.HOLE), ("up", Space.SLOT))
    ]
    still = [
        [mark for mark in marks if isinstance(mark, Dot) or (isinstance(mark, Rectangle) and mark.box.height > 20)]
        for marks in pictures
    ]
    assert still[0] == still[1]
    assert len(still[0]) >= 6
    hands = [points_of(layers(marks, act_sample())[0])[0][-1] for marks in pictures]
    assert hands[0][1] > act_first_shed.HOLE + 8 > act_first_shed.HOLE > hands[1][1] + 8


@pytest.mark.parametrize("first", [2, 3])
@pytest.mark.parametrize("opens_by", ["hand", "treadle"])
def test_end_1_is_as_dark_in_the_shed_as_at_the_board(first: int, opens_by: str) -> None:
    """Whether it lies in a hole or in a slot: the same ends are dark in every picture of a page."""
    front = Board(KINDS, first, first + 30, 17)
    changes = TWO if opens_by == "treadle" else {}
    act = act_sample(**{**changes, "front": front})
    at_board = act_first_space.first_space_picture(act)
    assert any(box_of(mark).height > 8 for mark in stroked(at_board, DARK))
    in_holes, others = layers(act_first_shed.first_shed_picture(act), act)
    dark = in_holes if front.first_kind is Space.HOLE else others
    assert dark.stroke == DARK
    assert bool(bends(points_of(in_holes)[0]))


@pytest.mark.parametrize("on_top", list(Space))
def test_both_layers_pass_each_board_within_its_slot(on_top: Space) -> None:
    act = act_sample(**TWO, on_top=on_top)
    marks = act_first_shed.first_shed_picture(act)
    for x in (act_first_shed.BACK, act_first_shed.FRONT):
        slot = next(
            mark.box
            for mark in marks
            if isinstance(mark, Rectangle)
            and mark.fill == WHITE
            and abs(mark.box.middle - x) < 0.1 < 8 < mark.box.height
        )
        for layer in layers(marks, act):
            assert slot.top + 0.6 < height_at(layer, x) < slot.bottom - 0.6


def treadles_drawn(marks: Sequence[Mark]) -> tuple[Path, Path]:
    """Of the two that hang on one hinge the one that is down, and the other one."""
    hinged = [mark for mark in stroked(marks, WOOD) if mark.width == act_first_shed.TREADLE and box_of(mark).width > 20]
    pressed, free = sorted(hinged, key=lambda mark: -box_of(mark).bottom)
    return pressed, free


def test_both_treadles_hang_on_one_hinge_and_the_foot_is_on_the_one_that_pulls_its_heddle_down() -> None:
    for on_top, sunk in ((Space.HOLE, act_first_shed.BACK), (Space.SLOT, act_first_shed.FRONT)):
        marks = act_first_shed.first_shed_picture(act_sample(**TWO, on_top=on_top))
        pressed, free = (points_of(mark)[0] for mark in treadles_drawn(marks))
        assert pressed[0] == free[0] == act_first_shed.HINGE
        assert pressed[-1][1] > free[-1][1] + 5
        [cord] = [
            points_of(mark)[0] for mark in stroked(marks, BLACK)
            if mark.width == 0.3 and len(mark.steps) == 2 and points_of(mark)[0][0][0] == sunk
            and points_of(mark)[0][-1][0] == sunk and points_of(mark)[0][-1][1] > 25
        ]  # fmt: skip
        assert cord[-1][1] == pytest.approx(height_at(treadles_drawn(marks)[0], sunk))


def test_the_shoe_stands_on_the_treadle_along_its_whole_sole() -> None:
    marks = act_first_shed.first_shed_picture(act_sample(**TWO))
    treadle = treadles_drawn(marks)[0]
    [shoe] = [
        points_of(mark)[0] for mark in marks
        if isinstance(mark, Path) and mark.fill == WHITE and box_of(mark).width > 9 and box_of(mark).bottom > 30
    ]  # fmt: skip
    toe, heel = shoe[0], max(shoe, key=lambda point: point[1])
    top = act_first_shed.TREADLE / 2 + EDGE
    for x, y in (toe, heel):
        assert y == pytest.approx(height_at(treadle, x) - top, abs=0.02)


def shuttle_at(marks: Sequence[Mark]) -> Point:
    """The middle of the shuttle's end, between both layers: of the weft that is wound on it."""
    [wound] = [box_of(mark) for mark in marks if isinstance(mark, Path) and mark.fill == WEFT]
    return wound.middle, (wound.top + wound.bottom) / 2


SHEDS = [
    {**loom, "first_shed": shed, "on_top": top, "cloth_beam": cloth}
    for loom, cloth in product(({}, TWO), (False, True))
    for shed, top in (("down", Space.HOLE), ("up", Space.SLOT))
]


@pytest.mark.parametrize("changes", SHEDS)
def test_the_shuttle_lies_flat_between_the_layers_and_touches_neither(changes: dict[str, Any]) -> None:
    """Its end is a bar much wider than thick; each of its corners has a layer's thickness of free shed."""
    act = act_sample(**changes)
    marks = act_first_shed.first_shed_picture(act)
    at = next(number for number, mark in enumerate(marks) if isinstance(mark, Path) and mark.fill == WEFT)
    wound, stick = points_of(marks[at])[0], points_of(marks[at + 1])[0]
    lengths = [hypot(x1 - x2, y1 - y2) for (x1, y1), (x2, y2) in product(stick, stick)]
    assert max(lengths) > 4 * act_first_shed.SHUTTLE[1]
    over, under = sorted(layers(marks, act), key=lambda layer: height_at(layer, stick[0][0]))
    boards_end = act_first_shed.HEDDLE if "back" not in changes else act_first_shed.FRONT
    for x, y in (*wound, *stick):
        assert x > boards_end + HEDDLE_EDGE / 2
        assert height_at(over, x) + 0.63 < y < height_at(under, x) - 0.63


def bends(points: Sequence[Point]) -> list[Point]:
    found = []
    for (x1, y1), (x2, y2), (x3, y3) in zip(points, points[1:], points[2:], strict=False):
        turn = (x2 - x1) * (y3 - y2) - (y2 - y1) * (x3 - x2)
        if abs(turn) > 0.01 * hypot(x2 - x1, y2 - y1) * hypot(x3 - x2, y3 - y2):
            found.append((x2, y2))
    return found


@pytest.mark.parametrize("on_top", list(Space))
def test_on_treadles_one_heddle_rises_as_the_other_sinks(on_top: Space) -> None:
    act = act_sample(**TWO, on_top=on_top)
    marks = act_first_shed.first_shed_picture(act)
    holes = {mark.x: mark.y for mark in marks if isinstance(mark, Dot) and mark.radius == 1 and mark.fill == WHITE}
    front, back = holes[act_first_shed.FRONT], holes[act_first_shed.BACK]
    assert (front < back) == (on_top is Space.HOLE)
    of_front, of_back = layers(marks, act)
    assert bends(points_of(of_front)[0]) == [(act_first_shed.FRONT, front)]
    assert bends(points_of(of_back)[0]) == [(act_first_shed.BACK, back)]
    x, y = shuttle_at(marks)
    assert x > act_first_shed.FRONT
    upper, lower = (of_front, of_back) if on_top is Space.HOLE else (of_back, of_front)
    assert height_at(upper, x) + 1.0 < y < height_at(lower, x) - 1.0


def printed_on(marks: Sequence[Mark]) -> list[bool]:
    """Of both treadles as they are seen from the seat, left to right: which has the print of a sole on it."""
    treadles = [mark.box for mark in marks if isinstance(mark, Rectangle) and mark.box.top > 25 and mark.box.height > 8]
    soles = [box_of(mark) for mark in marks if isinstance(mark, Path) and mark.fill == ACCENT and len(mark.steps) > 5]
    found = [
        any(box.left < sole.left and sole.right < box.right and box.top < sole.top for sole in soles)
        for box in sorted(treadles)
    ]
    assert len(soles) == 2 * sum(found)  # ball and heel
    return found


@pytest.mark.parametrize("pressed", [True, False, None])
def test_the_treadle_to_press_has_a_sole_on_it_and_none_is_as_dark_as_the_ends(pressed: bool | None) -> None:
    marks = act_first_shed.first_shed_picture(act_sample(**{**TWO, "pressed_at_left": pressed}))
    assert printed_on(marks) == [pressed is True, pressed is False]
    treadles = [mark for mark in marks if isinstance(mark, Rectangle) and mark.box.top > 25]
    assert {mark.fill for mark in treadles} == {WOOD}
    assert not [mark for mark in stroked(marks, BLACK) if mark.width == act_first_shed.TREADLE]


def figure_that_starts_up() -> PickupPlan:
    figure = make_plan(shipped_pattern("five-posts"), shipped_loom("middle-box")).pickup
    assert figure is not None
    return replace(figure, rows=tuple(replace(row, shed="up") for row in figure.rows))


@pytest.mark.parametrize("starts", ["down", "up"])
@pytest.mark.parametrize("view", VIEWS, ids=str)
@pytest.mark.parametrize(("tie_up", "front"), TIE_UPS.items())
def test_sole_sunk_board_and_named_foot_agree_on_every_tie_up_for_every_hand_and_view(
    tie_up: str, front: str, view: Viewpoint, starts: str
) -> None:
    """Reckoned here from the tie-up alone: down raises the front heddle, up the back one, by the foot that does that;
    the other heddle sinks. In the printed picture, mirrored for a left hand, the sole is at that foot's own side."""
    plan = plan_as_seen(make_plan(shipped_pattern("fair-day"), treadles(tie_up)), view)
    if starts == "up":
        plan = replace(plan, pickup=figure_that_starts_up())
    raised = "front" if starts == "down" else "back"
    foot = front if raised == "front" else {"left": "right", "right": "left"}[front]
    sheet = sheet_of(plan, "dressing")
    assert f"{foot} FOOT".upper() in begin_words(sheet.plan)
    marks = act_marks(Act.FIRST_PICK, sheet, ACT_BOX)
    assert printed_on(marks) == [foot == "left", foot == "right"]
    drawn = act_first_shed.first_shed_picture(figures_of(plan))
    holes = {mark.x: mark.y for mark in drawn if isinstance(mark, Dot) and mark.radius == 1 and mark.fill == WHITE}
    front_is_up = holes[act_first_shed.FRONT] < holes[act_first_shed.BACK]
    assert front_is_up == (raised == "front")


@pytest.mark.parametrize("left_hand", [False, True])
def test_the_foot_stays_what_it_is_for_a_left_hand(left_hand: bool) -> None:
    """The picture is mirrored, the feet are not."""
    plan = plan_on("fair-day", "treadle-pair", Viewpoint(left_hand))
    assert plan is not None
    act = figures_of(plan)
    foot = sheds_in_turn(plan)[0].opens
    assert foot in (Opens.LEFT_FOOT, Opens.RIGHT_FOOT)
    assert act.pressed_at_left is ((foot is Opens.LEFT_FOOT) != left_hand)
    by_hand = plan_on("three-paths", "middle-box", Viewpoint(left_hand))
    assert by_hand is not None
    assert figures_of(by_hand).pressed_at_left is None


@pytest.mark.parametrize(("tie_up", "foot"), TIE_UPS.items())
def test_the_pressed_treadle_is_the_one_that_raises_the_heddle_that_is_drawn_up(tie_up: str, foot: str) -> None:
    act = figures_of(make_plan(shipped_pattern("fair-day"), treadles(tie_up)))
    assert act.on_top is Space.HOLE  # so the front one is drawn up
    assert act.pressed_at_left is (foot == "left")


def test_no_treadle_has_a_sole_where_no_tie_up_tells_which_heddle_it_raises() -> None:
    loom = treadles()
    assert loom.shuttle_by_foot
    assert figures_of(make_plan(shipped_pattern("fair-day"), loom)).pressed_at_left is None


@pytest.mark.parametrize("to_left", [True, False])
@pytest.mark.parametrize("on_top", list(Space))
def test_in_the_corner_the_shuttle_leaves_on_its_side_and_the_tail_hangs_at_the_other(
    to_left: bool, on_top: Space
) -> None:
    act = act_sample(throw_to_left=to_left, on_top=on_top, first_shed="down" if on_top is Space.HOLE else "up")
    marks = act_first_shed.first_shed_picture(act)
    weft = max(stroked(marks, WEFT), key=lambda mark: box_of(mark).height)  # the others are on the shuttle
    points = points_of(weft)[0]
    shuttle = box_of(boards(marks)[-1])
    tail = max(points, key=lambda point: point[1])
    assert (shuttle.middle < tail[0]) == to_left
    thrown = next(points_of(mark)[0] for mark in stroked(marks, ACCENT) if box_of(mark).height < 1)
    assert (thrown[-1][0] < thrown[0][0]) == to_left
    over = {mark.stroke for mark in marks[marks.index(weft) + 1 :] if isinstance(mark, Path)} & {DARK, LIGHT}
    assert over == {inks(act)[0 if on_top is Space.HOLE else 1]}
    below = [mark for mark in marks[: marks.index(weft)] if isinstance(mark, Path) and box_of(mark).width < 2]
    ends = sorted({(box_of(mark).left, mark.stroke) for mark in below if mark.stroke in (DARK, LIGHT)})
    assert [ink for _, ink in ends] == [DARK, LIGHT, DARK, LIGHT]  # one tape, whichever way the shuttle goes


@pytest.mark.parametrize("to_left", [True, False])
def test_in_the_corner_flies_the_looms_own_shuttle(to_left: bool) -> None:
    """One with a window and a point that leads, or a stick that is notched at both ends; its weft reaches the shed."""
    for kind in ("netting", "flat"):
        marks = act_first_shed.first_shed_picture(act_sample(throw_to_left=to_left, shuttle=kind))
        body = boards(marks)[-1]
        windows = [
            mark for mark in marks
            if isinstance(mark, Path) and mark.fill == WHITE and box_of(body).holds(box_of(mark)) and mark.steps
        ]  # fmt: skip
        assert len(windows) == (1 if kind == "netting" else 0)
        ahead = -1 if to_left else 1
        points = [(x * ahead, y) for x, y in points_of(body)[0]]
        foremost = max(x for x, _ in points)
        leading = [y for x, y in points if x > foremost - 0.01]
        assert (max(leading) - min(leading) < 0.5) == (kind == "netting")  # a point, or two corners
        on_it = [box_of(mark) for mark in stroked(marks, WEFT) if box_of(mark).height < 2]
        assert any(box.left < box_of(body).left or box.right > box_of(body).right for box in on_it)


# 11. Moving on, and the end


@pytest.mark.parametrize("cloth_beam", [True, False])
def test_the_beams_and_the_heddle_are_named_over_their_places(cloth_beam: bool) -> None:
    marks = act_advance.advance_picture(act_sample(cloth_beam=cloth_beam))
    words = {mark.text: ink_box(mark) for mark in marks if isinstance(mark, Words) and mark.text.isalpha()}
    named = dict.fromkeys(("beam", "heddle"), 1) | (dict.fromkeys(("cloth",), 1) if cloth_beam else {})
    assert set(words) == set(named)
    texts = [mark.text for mark in marks if isinstance(mark, Words)]
    assert texts.count("beam") == (2 if cloth_beam else 1)
    assert words["heddle"].left < act_advance.HEDDLE < words["heddle"].right
    assert all(box.bottom < act_advance.WARP for box in words.values())
    first = next(ink_box(mark) for mark in marks if isinstance(mark, Words) and mark.text == "beam")
    assert act_advance.ROLL[0] - act_advance.ROLL_RADIUS < first.right < act_advance.HEDDLE
    if cloth_beam:
        assert words["cloth"].left > act_advance.HEDDLE + 10


@pytest.mark.parametrize("cloth_beam", [True, False])
@pytest.mark.parametrize("size", [6.0, *SIZES, 10.0, 14.0, 18.0])
def test_nothing_that_is_written_stands_over_anything_else_in_any_size(size: float, cloth_beam: bool) -> None:
    """In large print the parts are named beside the picture alone."""
    marks = act_advance.advance_picture(act_sample(cloth_beam=cloth_beam, type_size=size))
    words = [mark for mark in marks if isinstance(mark, Words)]
    discs = [box_of(mark) for mark in marks if isinstance(mark, Dot) and mark.fill == ACCENT]
    assert len(discs) >= 2
    assert all(ACT_BOX.holds(disc) for disc in discs)
    named = [ink_box(mark) for mark in words if mark.text.isalpha()]
    assert bool(named) == (size < 14)
    assert not [(one, two) for one, two in combinations([*named, *discs], 2) if overlap(one, two)]


@pytest.mark.parametrize("zone", [(50.8, 152.4), (38.1, 127.0), (20.0, 200.0)])
def test_the_zone_is_measured_out_below_the_tape_to_the_scale_of_the_looms_figures(zone: tuple[float, float]) -> None:
    act = act_sample(zone_mm=zone, zone=("a", "b"))
    marks = act_advance.advance_picture(act)
    heddle = act_advance.HEDDLE + HEDDLE_EDGE / 2
    near, far = act_advance.zone_on_paper(act)
    assert (near - heddle) / (far - heddle) == pytest.approx(zone[0] / zone[1])
    tape = next(mark for mark in marks if isinstance(mark, Rectangle) and mark.box.height == TAPE)
    below = [mark for mark in marks if isinstance(mark, Line) and mark.y1 > tape.box.bottom + 0.5]
    ticks = [mark for mark in below if mark.x1 == mark.x2]
    assert [mark.x1 for mark in ticks] == pytest.approx([near, far])
    tips = [
        sorted(points_of(mark)[0]) for mark in marks
        if isinstance(mark, Path) and mark.fill == BLACK and len(mark.steps) == 4
        and box_of(mark).top > tape.box.bottom
    ]  # fmt: skip
    assert [tips[0][0][0], tips[1][-1][0]] == pytest.approx([near, far])  # a double arrow from tick to tick
    assert {round(y, 6) for _, y in (tips[0][0], tips[1][-1])} == {act_advance.MEASURE}
    assert max(mark.width for mark in below) < 0.5  # nothing that clamps the tape
    [zero] = [mark for mark in marks if isinstance(mark, Dot) and mark.y == act_advance.MEASURE]
    assert zero.x == pytest.approx(heddle)
    [out] = [mark for mark in below if mark.x1 == zero.x]
    assert out.x2 == pytest.approx(near)
    figures = [mark for mark in marks if isinstance(mark, Words) and mark.text in ("a", "b")]
    assert [mark.text for mark in figures] == ["a", "b"]
    assert all(mark.y > act_advance.MEASURE + act_advance.TICK for mark in figures)
    assert tape.box.left == pytest.approx(near)  # the fell is as near as it may come
    drawn_on = [points_of(mark)[0] for mark in stroked(marks, ACCENT) if box_of(mark).height < 1]
    assert any(points[0][0] < points[-1][0] <= far for points in drawn_on)


def test_the_pawl_stands_in_a_tooth_and_holds_it_against_the_pull_of_the_warp() -> None:
    """It fits between the steep face of a tooth and the next one; the warp turns the wheel clockwise on to it."""
    (x, y), tip = act_advance.ROLL, act_advance.pawl_tip()
    marks = act_advance.advance_picture(act_sample(held_by="ratchet"))
    [pawl] = [mark for mark in marks if isinstance(mark, Path) and mark.fill == STEEL and points_of(mark)[0][0] == tip]
    assert act_advance.INNER < hypot(tip[0] - x, tip[1] - y) < act_advance.OUTER
    rim = [piece[0] for piece in act_advance.toothed_wheel().pieces]
    nearest = min(rim, key=lambda point: hypot(point[0] - tip[0], point[1] - tip[1]))
    face = sorted(rim, key=lambda point: abs(turn_of(point) - turn_of(nearest)))[:2]
    assert {round(hypot(px - x, py - y), 3) for px, py in face} == {act_advance.INNER, act_advance.OUTER}
    assert abs(turn_of(face[0]) - turn_of(face[1])) < 0.03  # steep
    assert 0 < turn_of(tip) - max(map(turn_of, face)) < 0.12  # on the side to which it turns
    assert box_of(pawl).top > tip[1] - 0.5  # it stands against the tooth from below
    (ax, ay), (bx, by) = arc_of_roll(marks)
    assert (ax - x) * (by - y) - (ay - y) * (bx - x) > 0  # clockwise


def turn_of(point: Point) -> float:
    """Its angle about the beam, clockwise, in radians."""
    return atan2(point[1] - act_advance.ROLL[1], point[0] - act_advance.ROLL[0])


def arc_of_roll(marks: Sequence[Mark]) -> tuple[Point, Point]:
    """The start and the end of the arrow about the beam, which is the first."""
    points = points_of(stroked(marks, ACCENT)[0])[0]
    return points[0], points[-1]


@pytest.mark.parametrize("held_by", ["stick", "ratchet", None])
def test_the_beam_is_let_off_by_what_holds_it(held_by: str | None) -> None:
    marks = act_advance.advance_picture(act_sample(held_by=held_by))
    black = [mark for mark in marks if isinstance(mark, Dot) and mark.fill == BLACK]
    holes = [mark for mark in black if mark.y != act_advance.MEASURE]
    toothed = [mark for mark in marks if isinstance(mark, Path) and mark.fill == STEEL and len(mark.steps) > 20]
    assert bool(holes) == (held_by == "stick")
    assert bool(toothed) == (held_by == "ratchet")


def test_the_last_cut_is_behind_the_heddle_and_the_tape_keeps_a_fringe() -> None:
    marks = act_advance.cut_off_picture(act_sample())
    blades = [box_of(mark) for mark in marks if isinstance(mark, Path) and mark.fill == STEEL and box_of(mark).top < 11]
    heddle = next(mark.box for mark in marks if isinstance(mark, Rectangle) and mark.fill == WOOD)
    knot = next(box_of(mark) for mark in stroked(marks, KNOT))
    cutting = [box for box in blades if box.left < heddle.left]
    assert len(cutting) == 2
    assert all(knot.right < box.left and box.right < heddle.left for box in cutting)
    assert all(box.top < act_advance.WARP < box.bottom for box in cutting)
