"""The pictures of dressing with the cross, the beam and the knots: what lies over what, and which way it goes."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from itertools import pairwise
from math import cos, hypot, radians, sin

import pytest

from cardmaker.card.dressing import act_drawing, beaming_drawing, hand_pictures, knot_pictures, rod_picture
from cardmaker.card.dressing import winding_off_picture as off
from cardmaker.card.dressing.act_drawing import CORD, DARK, KNOT, LIGHT, THICK_CORD, THREAD, WOOD, ink_of_end
from cardmaker.card.dressing.act_figures import ACT_BOX, ActFigures
from cardmaker.card.dressing.act_hands import SLEEVE, combing_fingers
from cardmaker.card.dressing.act_loom_parts import STEEL
from cardmaker.card.dressing.curves import Curve, arc, straight, through
from cardmaker.layout.ink import ACCENT, BLACK, SOFT, WHITE, contrast, copied_grey
from cardmaker.layout.transforms import mirrored
from cardmaker.model.dressing_acts import Act
from cardmaker.model.marks import Box, Dot, Line, Mark, Path, Rectangle, Words
from cardmaker.model.record_class import replace
from cardmaker.wording.dressing_alt_texts import act_alt_text
from tests.helpers.act_samples import act_sample
from tests.helpers.card_faults import extent, ink_box
from tests.helpers.drawn_over import (
    colour_at,
    crossings,
    is_on_top,
    points_of,
    sampled,
    stroke_reach,
    stroked,
    without_words,
)
from tests.helpers.paper_tools import COPIER_CUT
from tests.helpers.record_cards import plan

PICTURES: dict[str, Callable[[ActFigures], tuple[Mark, ...]]] = {
    "off the pegs": off.off_the_pegs_picture,
    "cross on the hand": hand_pictures.cross_on_hand_picture,
    "beam knot": knot_pictures.beam_knot_picture,
    "beaming": beaming_drawing.beaming_picture,
    "fist tie": knot_pictures.fist_tie_picture,
    "front tie": knot_pictures.front_tie_picture,
}
SIZES = {"full": 9.0, "brief": 9.0 * 45 / 35}  # points of the smallest type, in a box that is printed 45 or 35 mm wide
CASES = [
    (name, size, beam_first, is_wound)
    for name in PICTURES
    for size in SIZES
    for beam_first in (False, True)
    for is_wound in ((False, True) if name == "off the pegs" else (False,))
]


def marks_of(case: tuple[str, str, bool, bool]) -> tuple[Mark, ...]:
    name, size, beam_first, is_wound = case
    return PICTURES[name](act_sample(type_size=SIZES[size], beam_first=beam_first, is_wound=is_wound))


def arrows(marks: Sequence[Mark]) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Where each arrow starts and where its shaft ends: the accent's strokes that a filled head follows."""
    return [
        (points_of(shaft)[0][0], points_of(shaft)[0][-1])
        for shaft, head in pairwise(marks)
        if isinstance(shaft, Path) and shaft.stroke == ACCENT and isinstance(head, Path) and head.fill == ACCENT
    ]


# All pictures


@pytest.mark.parametrize("case", CASES)
def test_nothing_leaves_the_box(case: tuple[str, str, bool, bool]) -> None:
    boxes = [(mark, room_of(mark)) for mark in marks_of(case)]
    assert [mark for mark, box in boxes if box is None or not ACT_BOX.holds(box, slack=0.01)] == []


def room_of(mark: Mark) -> Box | None:
    return stroke_reach(mark) if isinstance(mark, Path) else extent(mark)


@pytest.mark.parametrize("case", CASES)
def test_labels_stand_clear_of_strokes_or_on_a_disc_of_their_own(case: tuple[str, str, bool, bool]) -> None:
    marks = marks_of(case)
    drawing = without_words(marks)
    for number, words in enumerate(marks):
        if not isinstance(words, Words):
            continue
        disc = marks[number - 1]
        own = isinstance(disc, Dot) and words.colour == WHITE
        room = extent(disc) if own else ink_box(words)
        assert room is not None
        others = [mark for mark in drawing if not (own and mark is disc)]
        assert [mark for mark in others if reaches(mark, room)] == [], words.text


def reaches(mark: Mark, room: Box) -> bool:
    """Whether a mark's ink comes into a room, outlines followed point by point; fills of paper are no ink."""
    if isinstance(mark, Path | Line):
        half = mark.width / 2 if isinstance(mark, Line) or mark.stroke else 0.0
        if (mark.colour if isinstance(mark, Line) else mark.stroke or mark.fill) == WHITE:
            return False
        wide = room.inset(-half, -half, -half, -half)
        return any(holds_point(wide, x, y) for points in points_of(mark) for x, y in dense(points))
    box = extent(mark)
    assert box is not None
    if isinstance(mark, Rectangle) and mark.fill == WHITE and mark.stroke:  # the frame of a small picture
        return any(reaches(side, room) for side in sides_of(mark))
    if isinstance(mark, Dot):
        nearest = (min(max(mark.x, room.left), room.right), min(max(mark.y, room.top), room.bottom))
        return hypot(nearest[0] - mark.x, nearest[1] - mark.y) < box.width / 2
    return box.left < room.right and room.left < box.right and box.top < room.bottom and room.top < box.bottom


def sides_of(frame: Rectangle) -> list[Line]:
    box, width = frame.box, frame.width
    return [
        *(Line(box.left, y, box.right, y, width) for y in (box.top, box.bottom)),
        *(Line(x, box.top, x, box.bottom, width) for x in (box.left, box.right)),
    ]


def holds_point(box: Box, x: float, y: float) -> bool:
    return box.left < x < box.right and box.top < y < box.bottom


def dense(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    return [
        (a[0] + (b[0] - a[0]) * share / 20, a[1] + (b[1] - a[1]) * share / 20)
        for a, b in pairwise(points)
        for share in range(21)
    ]


@pytest.mark.parametrize("case", CASES)
def test_labels_are_no_smaller_than_the_type_and_name_no_side(case: tuple[str, str, bool, bool]) -> None:
    words = [mark for mark in marks_of(case) if isinstance(mark, Words)]
    assert [mark.text for mark in words if mark.size < SIZES[case[1]] - 1e-9] == []
    assert [mark.text for mark in words if re.search(r"\b(left|right|near|far)\b", mark.text, re.IGNORECASE)] == []


@pytest.mark.parametrize("case", CASES)
def test_mirrored_labels_stand_clear_too(case: tuple[str, str, bool, bool]) -> None:
    marks = mirrored(marks_of(case), ACT_BOX)
    boxes = [room_of(mark) for mark in marks]
    assert [box for box in boxes if box is None or not ACT_BOX.holds(box, slack=0.06)] == []
    for words in (mark for mark in marks if isinstance(mark, Words) and mark.colour != WHITE):
        assert [mark for mark in without_words(marks) if reaches(mark, ink_box(words))] == [], words.text


@pytest.mark.parametrize("case", CASES)
def test_a_grey_copy_keeps_threads_cords_and_arrows_apart(case: tuple[str, str, bool, bool]) -> None:
    """Whatever thread or cord is drawn has a wider black stroke under it: white on white has an edge."""
    marks = marks_of(case)
    for number, mark in enumerate(marks):
        if isinstance(mark, Path) and mark.stroke in (DARK, LIGHT, CORD, knot_pictures.HALF):
            before = [under for under in marks[max(number - 3, 0) : number] if isinstance(under, Path)]
            black = [under for under in before if under.stroke == BLACK and alike(under.steps, mark.steps)]
            assert any(under.width >= mark.width + 0.28 for under in black), mark
    greys = [copied_grey(ink) for ink in (DARK, CORD, WOOD)]
    assert all(contrast(one, other) > 1.8 for one, other in pairwise(greys))
    assert contrast(copied_grey(ACCENT), WHITE) > 7
    assert contrast(copied_grey(CORD), WHITE) > 2


def alike(steps: Sequence[object], others: Sequence[object]) -> bool:
    """Whether one way is the other, or its part: a thread's ink may run on a trace under what is beside it."""
    first, second = (points_of(Path(tuple(each), stroke=BLACK, width=1))[0] for each in (steps, others))  # type: ignore[arg-type]
    return all(min(hypot(x - a, y - b) for a, b in dense(second)) < 0.1 for x, y in first[::8])


def test_what_a_copier_makes_black_hides_no_knot() -> None:
    """Only threads that lie apart are dark: cords, halves and wood come out white, with their edges."""
    for ink in (CORD, knot_pictures.HALF, WOOD, beaming_drawing.PACKING):
        assert int(copied_grey(ink)[1:3], 16) > COPIER_CUT


# 2. The cross on the hand


ON_HAND = hand_pictures.cross_on_hand_picture(act_sample())


@pytest.mark.parametrize("end_number", range(1, 6))
def test_odd_ends_lie_over_the_first_finger_and_under_the_little_one(end_number: int) -> None:
    curve, ink = hand_pictures.end_on_hand(end_number), ink_of_end(end_number)
    for finger, over in ((hand_pictures.FIRST, end_number % 2 == 1), (hand_pictures.LITTLE, end_number % 2 == 0)):
        middle = (finger[0][1] + finger[1][1]) / 2
        x, _ = curve.at(curve.where(middle))
        (x1, y1), (x2, y2), _ = finger
        place = curve.where(y1 + (y2 - y1) * (x - x1) / (x2 - x1))
        assert is_on_top(ON_HAND, curve, place, ink, THREAD) == over
        if not over:
            assert colour_at(ON_HAND, *curve.at(place)) == WHITE  # the finger


@pytest.mark.parametrize("end_number", range(1, 6))
def test_all_ends_run_side_by_side_over_the_palm_side_of_the_fingers_between(end_number: int) -> None:
    """The X is not in the palm: no end crosses another one there."""
    curve = hand_pictures.end_on_hand(end_number)
    for finger in (hand_pictures.MIDDLE, hand_pictures.RING):
        assert is_on_top(ON_HAND, curve, curve.where(finger[0][1] + 0.2), ink_of_end(end_number), THREAD)
    for other in range(end_number + 1, 6):
        assert crossings(curve, hand_pictures.end_on_hand(other)) == []


def test_end_1_lies_nearest_to_the_fingertips_and_the_arrow_goes_off_them() -> None:
    xs = [hand_pictures.end_on_hand(number).at(1)[0] for number in range(1, 6)]
    assert xs == sorted(xs, reverse=True)
    [(start, stop)] = arrows(ON_HAND)
    assert start[0] > xs[0]
    assert stop[0] > start[0] + 5


def test_the_x_is_seen_end_on_between_the_first_and_the_little_finger() -> None:
    by_ink = {ink: mark for ink in (DARK, LIGHT) for mark in ON_HAND if is_end_on(mark, ink)}
    dark, light = (points_of(by_ink[ink])[0] for ink in (DARK, LIGHT))
    first, little = hand_pictures.FIRST[1][1], hand_pictures.LITTLE[1][1] - 1.5
    for y, dark_on_palm_side in ((first, True), (little, False)):
        assert (x_at(dark, y) < x_at(light, y)) == dark_on_palm_side  # the palm is at the left, where the nails are not
        assert abs(x_at(dark, y) - x_at(light, y)) > 4  # a finger is between them
    meets = [y for y in range(int(first), int(little)) if abs(x_at(dark, y) - x_at(light, y)) < 0.9]
    assert meets
    assert min(meets) > first + 4
    assert max(meets) < little - 4


def is_end_on(mark: Mark, ink: str) -> bool:
    return isinstance(mark, Path) and mark.stroke == ink and mark.width == THREAD and points_of(mark)[0][0][0] > 38


def x_at(points: Sequence[tuple[float, float]], y: float) -> float:
    return min(points, key=lambda point: abs(point[1] - y))[0]


# 1. Off the pegs


@pytest.mark.parametrize("beam_first", [False, True])
def test_each_keeper_stands_as_the_peg_beside_it_and_between_them_the_ends_cross(beam_first: bool) -> None:
    marks = off.off_the_pegs_picture(act_sample(beam_first=beam_first))
    assert off.A < off.KEEPERS[0] < off.KEEPERS[1] < off.B
    for x, odd_before in ((off.A, beam_first), (off.KEEPERS[0], beam_first), (off.KEEPERS[1], not beam_first),
                          (off.B, not beam_first)):  # fmt: skip
        for end_number, y in enumerate(off.HEIGHTS, start=1):
            level = straight((0, y), (45, y))
            before = is_on_top(marks, level, x / 45, ink_of_end(end_number), THREAD)
            assert before == (odd_before == (end_number % 2 == 1)), (x, end_number)


@pytest.mark.parametrize("beam_first", [False, True])
def test_the_cross_is_seen_from_above_with_its_x_between_the_keepers(beam_first: bool) -> None:
    """Before a peg is below it there; dark and light change sides between the two keepers, and nowhere else."""
    marks = off.off_the_pegs_picture(act_sample(beam_first=beam_first))
    above = off.SEEN_FROM_ABOVE + off.ROUND_PEGS + THREAD
    ways = {
        mark.stroke: [point for points in points_of(mark) for point in points]
        for mark in marks
        if isinstance(mark, Path) and mark.stroke in (DARK, LIGHT) and (box := extent(mark)) and box.bottom < above
    }
    assert set(ways) == {DARK, LIGHT}
    for x, odd_before in ((off.A, beam_first), (off.KEEPERS[0], beam_first), (off.KEEPERS[1], not beam_first),
                          (off.B, not beam_first)):  # fmt: skip
        dark, light = (min(ways[ink], key=lambda point: abs(point[0] - x))[1] for ink in (DARK, LIGHT))
        assert (dark > off.SEEN_FROM_ABOVE > light) == odd_before
        assert (dark < off.SEEN_FROM_ABOVE < light) != odd_before


def test_the_warp_on_the_hand_goes_to_its_stick_below_the_little_finger() -> None:
    left, top, long, _ = hand_pictures.ROLL
    [stick] = [mark for mark in ON_HAND if isinstance(mark, Rectangle) and mark.fill == WOOD]
    assert (stick.box.left, stick.box.top, stick.box.width) == (left, top, long)
    assert top > hand_pictures.LITTLE[1][1] + hand_pictures.LITTLE[2] / 2
    assert all(left < hand_pictures.end_on_hand(number).at(5)[0] < left + long for number in range(1, 6))


def test_the_first_end_lies_lowest_and_the_bright_thread_beside_it() -> None:
    assert list(off.HEIGHTS) == sorted(off.HEIGHTS, reverse=True)
    for is_wound in (False, True):
        marks = off.off_the_pegs_picture(act_sample(is_wound=is_wound))
        bright = [extent(mark) for mark in marks if isinstance(mark, Path) and mark.stroke == act_drawing.BRIGHT]
        assert len(bright) == 3  # round both keepers, and two tails
        for box in bright:
            assert box is not None
            assert off.HEIGHTS[0] + THREAD < box.top < box.bottom < off.TABLE
        round_keepers = bright[0]
        assert round_keepers is not None
        assert round_keepers.left < off.KEEPERS[0] < off.KEEPERS[1] < round_keepers.right


@pytest.mark.parametrize("beam_first", [False, True])
def test_in_a_warp_that_comes_wound_the_knot_of_the_bright_thread_is_ringed(beam_first: bool) -> None:
    def rings(is_wound: bool) -> list[Dot]:
        marks = off.off_the_pegs_picture(act_sample(is_wound=is_wound, beam_first=beam_first))
        found = [mark for mark in marks if isinstance(mark, Dot) and mark.stroke == ACCENT]
        bright = [box for mark in marks if isinstance(mark, Path | Dot) and is_bright(mark) and (box := extent(mark))]
        knotted = [box for box in bright if box.left > off.KEEPERS[1] - 1]  # the knot and its tails
        assert len(knotted) == 3
        for ring in found:
            assert all(hypot(x - ring.x, y - ring.y) < ring.radius for box in knotted for x, y in corners(box))
            [(start, stop)] = arrows(marks)
            gaps = [hypot(x - ring.x, y - ring.y) - ring.radius for x, y in (start, stop)]
            assert 0 < gaps[1] - act_drawing.HEAD * 0.8 < 0.8 < gaps[0]  # the arrow comes to the ring
        return found

    assert len(rings(is_wound=True)) == 1
    assert rings(is_wound=False) == []


def is_bright(mark: Path | Dot) -> bool:
    return act_drawing.BRIGHT in (mark.fill, mark.stroke)


def corners(box: Box) -> list[tuple[float, float]]:
    return [(x, y) for x in (box.left, box.right) for y in (box.top, box.bottom)]


def test_the_accent_is_arrows_and_numbers_only() -> None:
    for case in CASES:
        marks = marks_of(case)
        heads = [at for at, mark in enumerate(marks) if isinstance(mark, Path) and mark.fill == ACCENT]
        strokes = [at for at, mark in enumerate(marks) if isinstance(mark, Path) and mark.stroke == ACCENT]
        assert [at + 1 for at in strokes] == heads
        assert [mark for mark in marks if isinstance(mark, Words | Line) and mark.colour == ACCENT] == []


@pytest.mark.parametrize("is_wound", [False, True])
@pytest.mark.parametrize("beam_first", [False, True])
def test_a_loop_joins_two_ends_in_the_ink_of_each(beam_first: bool, is_wound: bool) -> None:
    """Home joins an even end to the next odd one, the far peg an odd one to the next even one; the rest is tied."""
    act = act_sample(beam_first=beam_first, is_wound=is_wound)
    marks = off.off_the_pegs_picture(act)
    home, far = ((2, 3), (4, 5)), ((1, 2), (3, 4))
    assert (off.joined(act, -1), off.joined(act, 1)) == ((far, home) if beam_first else (home, far))
    for way in (-1, 1):
        if way < 0 and is_wound and not beam_first:
            continue  # cut tips
        loops = [extent(mark) for mark in marks if isinstance(mark, Path) and is_half_loop(mark, way)]
        assert len(loops) == 4
        for lower, upper in off.joined(act, way):
            y = (off.HEIGHTS[lower - 1] + off.HEIGHTS[upper - 1]) / 2
            halves = sorted(
                (box.middle, box.top, box.bottom) for box in loops if box and box.top - 1 < y < box.bottom + 1
            )
            assert len(halves) == 2


def is_half_loop(mark: Path, way: int) -> bool:
    """A light or dark bend beyond the left peg, or beyond the stick."""
    box = extent(mark)
    assert box is not None
    aside = box.left < off.LOOP_ENDS - 1 if way < 0 else box.right > off.ROLLED + off.STICK / 2 + 1
    return mark.stroke in (DARK, LIGHT) and mark.width == THREAD and aside and 1 < box.height < 3


@pytest.mark.parametrize("beam_first", [False, True])
def test_the_stick_stands_in_the_loops_as_the_peg_did_that_is_gone(beam_first: bool) -> None:
    """What passes before the second peg of the cross passes before the stick, and the hand is on the stick below."""
    act = act_sample(beam_first=beam_first)
    marks = off.off_the_pegs_picture(act)
    tied = 1 if beam_first else 5
    for end_number, y in enumerate(off.HEIGHTS, start=1):
        if end_number != tied:
            before = (end_number % 2 == 0) == beam_first
            assert colour_at(marks, off.ROLLED, y) == (ink_of_end(end_number) if before else WOOD)
    stick = next(mark for mark in marks if isinstance(mark, Rectangle) and abs(mark.box.middle - off.ROLLED) < 0.1)
    over = [box for mark in marks[marks.index(stick) :] if isinstance(mark, Path) and mark.fill == WHITE
            and (box := extent(mark)) and box.left < stick.box.left and box.right > off.ROLLED]  # fmt: skip
    assert len(over) >= 4  # fingers
    assert all(box.top > off.HEIGHTS[0] + 0.8 for box in over)


def test_the_warp_is_rolled_from_the_far_end_towards_the_cross_and_cut_at_home() -> None:
    marks = off.off_the_pegs_picture(act_sample())
    turn, way = arrows(marks)
    assert off.ROLLED > off.B
    assert way[1][0] < way[0][0]  # the stick goes towards the cross
    assert turn[1][1] < turn[0][1]  # and turns: in front from the left to the right, then back behind
    steel = [extent(mark) for mark in marks if isinstance(mark, Path) and mark.fill == "#d9d9d9"]
    assert len(steel) == 2
    assert all(box is not None and box.right < off.LEFT_PEG for box in steel)


@pytest.mark.parametrize("changes", [{"beam_first": True}, {"is_wound": True}])
def test_no_scissors_where_nothing_is_cut_off_the_pegs(changes: dict[str, bool]) -> None:
    marks = off.off_the_pegs_picture(act_sample(**changes))
    assert [mark for mark in marks if isinstance(mark, Path) and mark.fill == "#d9d9d9"] == []
    assert "3" not in [mark.text for mark in marks if isinstance(mark, Words)]


@pytest.mark.parametrize("is_wound", [False, True])
@pytest.mark.parametrize("beam_first", [False, True])
def test_scissors_keepers_and_sticks_are_told_where_they_are_drawn(beam_first: bool, is_wound: bool) -> None:
    loom = replace(plan("three-paths", "middle-box").loom, beam_first=beam_first)
    warp = replace(plan("three-paths", "middle-box"), loom=loom)
    off_pegs = off.off_the_pegs_picture(act_sample(beam_first=beam_first, is_wound=is_wound))
    cuts = any(isinstance(mark, Path) and mark.fill == "#d9d9d9" for mark in off_pegs)
    assert ("scissors" in act_alt_text(Act.KEEPERS, warp, is_wound=is_wound)) == cuts
    beaming = beaming_drawing.beaming_picture(act_sample(beam_first=beam_first))
    told = act_alt_text(Act.WIND_ON, warp)
    assert ("keepers" in told) == any(isinstance(mark, Dot) and mark.fill == WOOD and mark.x > 18 for mark in beaming)
    assert ("knot" in told) == any(isinstance(mark, Path) and mark.stroke == KNOT for mark in beaming)
    assert warp.beam is not None
    without = replace(warp, beam=replace(warp.beam, stick_turns=()))
    assert "pairs of sticks" in told
    assert "pairs of sticks" not in act_alt_text(Act.WIND_ON, without)


# 5. The knot on the beam


def test_the_cord_is_choked_on_the_heddle_side_of_the_knot() -> None:
    knot_foot = knot_pictures.KNOT_ON_CORD[1] + knot_pictures.KNOT_RADIUS
    assert knot_foot < knot_pictures.UPPER - THICK_CORD / 2
    assert knot_pictures.LOWER < knot_pictures.HEDDLE_TOP
    assert knot_pictures.KNOT_ON_CORD[1] - knot_pictures.KNOT_RADIUS > rod_picture.BEAM_FOOT


def test_the_cord_passes_behind_the_warp_and_its_bow_before_it() -> None:
    marks = knot_pictures.beam_knot_picture(act_sample())
    bow = knot_pictures.cord_bow()
    for place in (2.5, 3, 3.5, 4.5, 5.5):  # on its upper leg the strands lie over it
        assert is_on_top(marks, bow, place, CORD, THICK_CORD)
    upper, lower = knot_pictures.cord_behind()
    for turn, x in ((upper, knot_pictures.CHOKED[0]), (lower, knot_pictures.CHOKED[-1])):
        assert colour_at(marks, *turn.at(turn.where_x(x, 2))) == DARK  # an end before it


@pytest.mark.parametrize("beam_first", [False, True])
def test_the_cords_go_over_the_beam_and_once_more_round_it(beam_first: bool) -> None:
    """Each ends in a round over the beam's upper edge, and has a turn beside itself that goes over both edges."""
    marks = knot_pictures.beam_knot_picture(act_sample(beam_first=beam_first))
    beam = next(mark.box for mark in marks if isinstance(mark, Rectangle) and mark.box.width > 40)
    over = [
        box for mark in stroked(marks, BLACK)
        if mark.round_ends and abs(mark.width - THICK_CORD - 2 * act_drawing.EDGE) < 0.01
        and (box := extent(mark)) and 0 < box.top < beam.top - 0.5
    ]  # fmt: skip
    assert len(over) == (6 if beam_first else 4)
    assert sum(box.bottom > beam.bottom + 0.5 for box in over) == (4 if beam_first else 2)
    if beam_first:
        rod = next(mark.box for mark in marks if isinstance(mark, Rectangle) and mark.box.top == rod_picture.ROD[0])
        at_rod = [box for mark in stroked(marks, BLACK) if (box := extent(mark)) and box.bottom > rod.bottom + 0.5]
        assert sum(box.bottom < rod.bottom + 1 for box in at_rod) == 4


def test_both_strands_leave_through_the_bow() -> None:
    """Under its end, over its upper leg: twice over or twice under would not hold."""
    marks = knot_pictures.beam_knot_picture(act_sample())
    bow = knot_pictures.cord_bow()
    for strand in knot_pictures.cord_strands():
        (under, end), (over, leg) = crossings(strand, bow)
        assert not is_on_top(marks, strand, under, CORD, THICK_CORD)
        assert is_on_top(marks, bow, end, CORD, THICK_CORD)
        assert is_on_top(marks, strand, over, CORD, THICK_CORD)
        assert 1.5 < end < 4.5
        assert leg < 1.5
        assert not is_on_top(marks, bow, leg, CORD, THICK_CORD)
        beyond = strand.at(len(strand.pieces))
        assert beyond[1] < rod_picture.BEAM_FOOT


def test_beam_first_a_rod_lies_in_the_far_loops_as_the_far_peg_did() -> None:
    marks = knot_pictures.beam_knot_picture(act_sample(beam_first=True))
    height = rod_picture.ROD[0] + rod_picture.ROD[1] / 2
    for x in rod_picture.LOOPS:
        assert colour_at(marks, x, height) == DARK
        assert colour_at(marks, x + rod_picture.APART, height) == WOOD  # the even end runs down behind
        for top, odd_before in ((rod_picture.KEPT[0], True), (rod_picture.KEPT[1], False)):
            y = top + rod_picture.KEEPER / 2
            odd, even = (straight((x + aside, 0), (x + aside, 35)) for aside in (0.0, rod_picture.APART))
            assert is_on_top(marks, odd, y / 35, DARK, THREAD) == odd_before
            assert is_on_top(marks, even, y / 35, LIGHT, THREAD) != odd_before
    assert KNOT not in {mark.stroke for mark in marks if isinstance(mark, Path)}


# 6. On the beam


@pytest.mark.parametrize("beam_first", [False, True])
def test_the_crank_turns_the_rolls_top_away_from_the_heddle_and_the_warp_runs_on_to_its_top(beam_first: bool) -> None:
    x, y = beaming_drawing.BEAM
    marks = beaming_drawing.beaming_picture(act_sample(beam_first=beam_first))
    [(start, stop)] = [(start, stop) for start, stop in arrows(marks) if start[0] < 20]
    turned = (start[0] - x) * (stop[1] - y) - (start[1] - y) * (stop[0] - x)
    assert turned < -20  # against the clock
    assert start[1] < y - beaming_drawing.ROLL  # it begins over the warp that runs on to the roll
    assert stop[0] < x
    assert stop[1] > y
    handle = beaming_drawing.crank_handle()
    assert hypot(handle[0] - x, handle[1] - y) > beaming_drawing.ROLL
    crank = straight(beaming_drawing.BEAM, handle)
    assert is_on_top(marks, crank, 0.4, STEEL, 1.0)
    assert colour_at(marks, *crank.at(0.99)) != STEEL  # a hand is about it
    for layer in beaming_drawing.crossed_warp() if beam_first else beaming_drawing.warp_to_beam():
        top = min(sampled(layer), key=lambda point: point[1])
        assert abs(top[0] - x) < 3
        assert layer.at(len(layer.pieces))[0] > beaming_drawing.HEDDLE


def test_each_turn_lies_on_the_one_before_it_with_room_for_its_sticks() -> None:
    """From the knot on, the warp gets farther from the axis; the sticks lie between the turns, on the older one."""
    dark, _ = beaming_drawing.warp_to_beam()
    x, y = beaming_drawing.BEAM
    top = dark.where_x(x, 20)
    away = [hypot(px - x, py - y) for px, py in (dark.at(top * each / 60) for each in range(61))]
    assert away == sorted(away)
    for radius, angle in beaming_drawing.STICKS:
        around = [far for each in range(600) if (far := at_angle(dark, top * each / 600, angle)) is not None]
        outer = min(far for far in around if far > radius)
        assert outer - beaming_drawing.BELOW - radius > 0.5
        assert all(radius - far > 0.5 for far in around if far < radius)


def at_angle(layer: Curve, place: float, angle: float) -> float | None:
    """How far from the axis a layer is where it passes this angle; None where it does not."""
    px, py = layer.at(place)
    dx, dy = px - beaming_drawing.BEAM[0], py - beaming_drawing.BEAM[1]
    far = hypot(dx, dy)
    return far if abs(dx - far * cos(radians(angle))) + abs(dy - far * sin(radians(angle))) < 0.25 else None


@pytest.mark.parametrize("beam_first", [False, True])
def test_the_fingers_are_between_the_ends_and_stick_out_below_them(beam_first: bool) -> None:
    marks = beaming_drawing.beaming_picture(act_sample(beam_first=beam_first))
    dark, light = beaming_drawing.combed_warp(is_threaded=not beam_first)
    for finger in combing_fingers(beaming_drawing.COMB):
        points = sampled(finger)
        tip, left, right = max(py for _, py in points), min(px for px, _ in points), max(px for px, _ in points)
        middle = (left + right) / 2
        before, behind = (layer.where_x(middle, 0) for layer in (dark, light))
        assert is_on_top(marks, dark, before, DARK, beaming_drawing.LAYER)
        assert not is_on_top(marks, light, behind, LIGHT, beaming_drawing.LAYER)
        assert tip > max(dark.at(before)[1], light.at(behind)[1]) + 1.5


def test_the_warp_passes_through_the_heddle() -> None:
    """Through the slot that is cut into its edge, neither before the board nor behind it; so in the small picture."""
    marks = beaming_drawing.beaming_picture(act_sample())
    slots = [mark.box for mark in marks if isinstance(mark, Rectangle) and mark.fill == WHITE and mark.box.width < 2]
    for slot, middle, layers in zip(
        slots,
        (beaming_drawing.HEDDLE, beaming_drawing.COMBED_HEDDLE),
        (beaming_drawing.warp_to_beam(), beaming_drawing.combed_warp(is_threaded=True)),
        strict=True,
    ):
        for layer, ink in zip(layers, (DARK, LIGHT), strict=True):
            x, y = layer.at(layer.where_x(middle, max(0, len(layer.pieces) - 2)))
            assert slot.left < x < slot.right
            assert slot.top + 1 < y < slot.bottom - 1
            assert colour_at(marks, x, y) == ink


@pytest.mark.parametrize("beam_first", [False, True])
def test_the_fist_pulls_and_the_fingers_comb_away_from_the_beam(beam_first: bool) -> None:
    marks = beaming_drawing.beaming_picture(act_sample(beam_first=beam_first))
    others = [(start, stop) for start, stop in arrows(marks) if start[0] > 20]
    assert len(others) == 2
    assert all(stop[0] > start[0] + 4 for start, stop in others)
    assert beaming_drawing.FIST.x > beaming_drawing.HEDDLE
    combed, combed_to = max(others, key=lambda ends: ends[0][1])
    tips = [max(sampled(finger), key=lambda point: point[1]) for finger in combing_fingers(beaming_drawing.COMB)]
    before = beaming_drawing.COMBED_KEEPERS[-1] if beam_first else beaming_drawing.COMBED_HEDDLE
    assert before < combed[0] < tips[-1][0] - 1 < combed_to[0] + 1  # it starts below the fingers, not at the heddle
    assert 0 < combed[1] - max(y for _, y in tips) < 2.2
    assert all(beaming_drawing.COMBED.holds(box) for x, y in tips if (box := Box(x, y, 0, 0)))


def test_two_packing_sticks_lie_beside_the_knot_on_every_turn_that_has_them() -> None:
    by_radius: dict[float, list[float]] = {}
    for radius, angle in beaming_drawing.STICKS:
        by_radius.setdefault(radius, []).append(angle)
    for radius, angles in by_radius.items():
        assert beaming_drawing.CORE < radius < beaming_drawing.ROLL
        assert len(angles) == 2
        assert sum(angles) / 2 == 90  # the knot lies straight below the axis
        assert 30 <= angles[1] - angles[0] <= 120


def test_no_sticks_lie_on_a_beam_without_packing() -> None:
    def sticks(**changes: object) -> int:
        marks = beaming_drawing.beaming_picture(act_sample(**changes))
        return sum(isinstance(mark, Path) and mark.fill == beaming_drawing.PACKING for mark in marks)

    assert sticks() == len(beaming_drawing.STICKS)
    assert sticks(stick_turns=()) == 0
    assert sticks(stick_turns=(), turns="") == len(beaming_drawing.STICKS)  # of a beam that the file does not tell


def test_beam_first_the_keepers_are_in_the_cross_between_roll_and_fist() -> None:
    (x1, _), (x2, _) = beaming_drawing.KEPT_AT
    dark, light = beaming_drawing.crossed_warp()
    [(place, _)] = [
        pair for pair in crossings(dark, light) if dark.at(pair[0])[0] > x1 - 2 and dark.at(pair[0])[0] < x2
    ]
    assert x1 < dark.at(place)[0] < x2


# 7. The front ties


def test_the_square_knot_both_strands_of_a_half_leave_on_one_side_of_the_others_loop() -> None:
    marks = knot_pictures.front_tie_picture(act_sample())
    left, right = knot_pictures.TIE, knot_pictures.TIE.mirrored_about(knot_pictures.MIDDLE)
    on_top = [
        (left.at(a)[0], is_on_top(marks, left, a, knot_pictures.HALF, 1.4), is_on_top(marks, right, b, LIGHT, 1.4))
        for a, b in crossings(left, right)
        if left.at(a)[1] < 20
    ]
    assert len(on_top) == 6
    middle = knot_pictures.MIDDLE
    for low, high, left_on_top in ((0, middle - 4, False), (middle - 4, middle + 4, True), (middle + 4, 45, False)):
        sides = [(mine, other) for x, mine, other in on_top if low < x < high]
        assert sides == [(left_on_top, not left_on_top)] * 2


def test_the_halves_lie_over_the_bow_of_the_cord_and_come_up_over_it() -> None:
    marks = knot_pictures.front_tie_picture(act_sample())
    y = knot_pictures.BOW
    for side, ink in ((-1, knot_pictures.HALF), (1, LIGHT)):
        for number in range(4):
            down = straight(
                (knot_pictures.MIDDLE + side * (1 + number), 15), (knot_pictures.MIDDLE + side * (1 + number), 27)
            )
            assert is_on_top(marks, down, (y + 0.2 - 15) / 12, ink, knot_pictures.FLAT_END[0])
    assert colour_at(marks, knot_pictures.MIDDLE, y + 0.1) == CORD


def test_the_fist_holds_the_warp_below_its_knot_and_pulls_away_from_the_heddle() -> None:
    marks = knot_pictures.fist_tie_picture(act_sample())
    knot = next(box for mark in marks if isinstance(mark, Path) and mark.stroke == KNOT and (box := extent(mark)))
    board = next(mark for mark in marks if isinstance(mark, Rectangle))
    [(start, stop)] = arrows(marks)
    assert board.box.bottom < knot.top < knot.bottom < 22
    assert stop[1] > start[1] + 5
    sleeve = next(at for at, mark in enumerate(marks) if isinstance(mark, Path) and mark.fill == SLEEVE)
    assert not [mark for mark in marks[sleeve:] if isinstance(mark, Path) and mark.stroke in (DARK, LIGHT)]  # over it


def test_an_end_keeps_its_thickness_where_it_goes_round_the_cord() -> None:
    marks = knot_pictures.front_tie_picture(act_sample())
    turned = [mark for mark in marks if isinstance(mark, Path) and mark.steps == knot_pictures.turned_end(1).steps()]
    x = knot_pictures.MIDDLE - 2
    flat = [
        mark for mark in marks
        if isinstance(mark, Path) and mark not in turned and points_of(mark)[0][-1] == (x, knot_pictures.TURNS_AT)
    ]  # fmt: skip
    assert [mark.width for mark in turned] == [mark.width for mark in flat]
    assert len(flat) == 2
    assert points_of(turned[0])[0][0][1] < knot_pictures.TURNS_AT  # they overlap


# The curves that all is drawn along


def test_a_part_of_a_curve_lies_on_it() -> None:
    curve = through((0, 0), (10, 4), (14, 12), (30, 10))
    part = curve.part(0.4, 2.3)
    assert part.at(0) == pytest.approx(curve.at(0.4))
    assert part.at(len(part.pieces)) == pytest.approx(curve.at(2.3))
    short = curve.part(1.2, 1.7)
    assert [short.at(0), short.at(1)] == [pytest.approx(curve.at(1.2)), pytest.approx(curve.at(1.7))]


def test_a_curve_passes_through_its_points_without_a_corner() -> None:
    points = [(0.0, 0.0), (10.0, 4.0), (14.0, 12.0), (30.0, 10.0)]
    curve = through(*points)
    assert [curve.at(at) for at in range(4)] == [pytest.approx(point) for point in points]
    for one, other in pairwise(curve.pieces):
        before = (one[3][0] - one[2][0], one[3][1] - one[2][1])
        after = (other[1][0] - other[0][0], other[1][1] - other[0][1])
        assert before[0] * after[1] == pytest.approx(before[1] * after[0])


def test_an_arc_keeps_its_distance() -> None:
    assert all(hypot(x - 3, y - 4) == pytest.approx(5, abs=0.01) for x, y in sampled(arc(3, 4, 5, -30, 300)))


def test_an_arrow_ends_where_its_curve_ends() -> None:
    _, head = act_drawing.arrow(Curve(straight((2, 3), (9, 3)).pieces))
    assert points_of(head)[0][0] == (9, 3)


def test_soft_ink_is_kept_by_copiers() -> None:
    assert contrast(copied_grey(SOFT), WHITE) > 7
