"""The board is the order: brackets over its stripes, ends in their spaces, end 1 flagged, closing counts to tick."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

import pytest

from cardmaker.card.panels.board_numbers import number_step
from cardmaker.card.panels.first_space_panel import FIRST
from cardmaker.card.panels.heddle_board import HeddleBoard
from cardmaker.card.panels.heddle_boards import HeddlePicture, draw_heddle, heddle_heights, heddle_picture
from cardmaker.card.panels.heddle_panel import BOARD
from cardmaker.card.panels.student_panels import THREADED
from cardmaker.card.parts import step_indent
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import ACCENT, BLACK, OUTLINE, SOFT
from cardmaker.layout.stacking import Part, stack_heights
from cardmaker.model.loom import Loom
from cardmaker.model.loom import Mark as Marked
from cardmaker.model.marks import Box, Dot, Face, Group, Line, Mark, Path, Rectangle, Words
from cardmaker.model.pattern import Pattern, WantedLength
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import replace
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.reckoning.threading.placement import space_label
from cardmaker.wording import heddle_words
from cardmaker.wording.phrases import a_space
from tests.helpers.card_faults import gap_mm
from tests.helpers.sheets import sheet_of
from tests.helpers.shipped import plan_of, shipped_loom, shipped_pattern
from tests.helpers.warps import one_heddle, pattern

RULER = TypeRuler()
TAPES = [
    "three-paths", "wick", "nine", "two-rails", "grey-trap", "fair-day", "penned-ladder", "long-sixty", "half-and-half",
    "treadle-ladder", "framed-pavement", "cord-edge", "off-side", "broad-wick", "bare-thread", "stair", "five-posts",
]  # fmt: skip


def flat(marks: Iterable[Mark]) -> Iterator[Mark]:
    for mark in marks:
        if isinstance(mark, Group):
            yield from flat(mark.marks)
        else:
            yield mark


def parts_of(sheet: Sheet, width: float, *, optional: bool = True) -> list[Part]:
    return [part for part in BOARD.parts(sheet, width) if optional or not part.priority]


def said(parts: Iterable[Part], width: float) -> str:
    marks = (mark for part in parts for mark in flat(part.draw(Box(0, 0, width, part.heights.least))))
    return " ".join(mark.text for mark in marks if isinstance(mark, Words)).replace("\N{NO-BREAK SPACE}", " ")


def drawn(sheet: Sheet, width: float) -> tuple[HeddlePicture, list[Mark], Box]:
    picture = heddle_picture(sheet, width)
    assert picture is not None
    box = Box(10.0, 20.0, width, heddle_heights(sheet, picture).least)
    return picture, draw_heddle(sheet, picture, box), box


def extent(word: Words) -> Box:
    wide, high = RULER.width_mm(word.text, word.face, word.size), word.size * 25.4 / 72 * 0.66
    left = word.x - wide * {"left": 0.0, "middle": 0.5, "right": 1.0}[word.align]
    return Box(left, word.y - high, wide, high)


def two_digits(sheet: Sheet) -> float:
    return RULER.width_mm("00", Face.SANS, sheet.sizes.smallest)


COLOURS = {"Re": "#a32a29", "Wh": "#f4f0e2", "Bu": "#2d4a86", "Gr": "#4f6b3f"}


def coloured(notation: str) -> Pattern:
    plain = pattern(notation)
    yarns = (replace(yarn, count="20/2", colour=COLOURS[yarn.name]) for yarn in plain.yarns)
    return replace(plain, yarns=tuple(yarns), length=WantedLength(warp_mm=Fraction(3000)))


def wide_plan(notation: str, spaces: int) -> Plan:
    return make_plan(coloured(notation), one_heddle((spaces + 1) // 2, spaces // 2))


def threads(marks: Iterable[Mark], sheet: Sheet) -> list[Line]:
    fills = {ink.fill for ink in sheet.inks.values()}
    return [mark for mark in marks if isinstance(mark, Line) and mark.colour in fills and mark.round_ends]


# the order


@pytest.mark.parametrize("layout", ["handout", "record", "handout-large"])
@pytest.mark.parametrize("tape", TAPES)
def test_every_count_stands_over_the_ends_that_it_counts(tape: str, layout: str) -> None:
    """From the spaces alone: the counts over the board, left to right, and under each so many ends of that yarn."""
    sheet = sheet_of(plan_of(tape), layout)
    picture, marks, _ = drawn(sheet, 150)
    counts = [mark for mark in marks if isinstance(mark, Words) and mark.face == Face.SANS_BOLD and mark.text.isdigit()]
    counts.sort(key=lambda word: word.x)
    assert len(picture.rows) == 1
    assert [int(word.text) for word in counts] == [segment.ends for segment in sheet.segments]
    hanging = sorted({round(line.x1, 3) for line in threads(marks, sheet)})
    assert len(hanging) == sheet.plan.ends
    for word, segment in zip(counts, sheet.segments, strict=True):
        over = hanging[segment.first_end - 1 : segment.last_end]
        assert over[0] - picture.pitch <= word.x <= over[-1] + picture.pitch


@pytest.mark.parametrize("width", [79.0, 95.0, 157.0])
@pytest.mark.parametrize("tape", TAPES)
def test_no_two_words_meet_and_none_leaves_the_picture(tape: str, width: float) -> None:
    for layout in ("handout", "record"):
        _, marks, box = drawn(sheet_of(plan_of(tape), layout), width)
        places = [(mark.text, extent(mark)) for mark in marks if isinstance(mark, Words)]
        for number, (text, place) in enumerate(places):
            assert box.holds(place, 0.3), text
            for other, there in places[:number]:
                apart = place.left >= there.right + 0.4 or there.left >= place.right + 0.4
                assert apart or place.top >= there.bottom or there.top >= place.bottom, (text, other)


# ends, flag, numbers, mark


@pytest.mark.parametrize("tape", TAPES)
def test_end_1_is_flagged_under_its_space_and_numbers_keep_away(tape: str) -> None:
    sheet = sheet_of(plan_of(tape), "handout")
    _, marks, _ = drawn(sheet, 95)
    loom, placement = sheet.plan.loom, sheet.plan.placement
    (flag,) = (mark for mark in marks if isinstance(mark, Path) and mark.fill == ACCENT)
    name = max((mark for mark in marks if isinstance(mark, Words) and mark.colour == ACCENT), key=lambda word: word.y)
    feet = {line: line.y2 + line.width / 2 for line in threads(marks, sheet)}  # the ends of threads are round
    firsts = [line.x1 for line, foot in feet.items() if foot > max(feet.values()) - 1e-6]
    assert flag.steps[0][1] == pytest.approx(min(firsts))  # type: ignore[misc]
    middle = (loom.spaces + 1) // 2
    away = middle - placement.first_space + (1 if loom.spaces % 2 == 0 else 0)
    assert name.text == f"L{away}"
    below = [mark for mark in marks if isinstance(mark, Words) and mark.y == name.y and mark is not name]
    (last,) = (mark for mark in below if mark.colour == BLACK)
    assert (last.text, last.face) == (space_label(placement.last_space, loom), Face.SANS_BOLD)
    assert extent(last).left - 0.6 <= max(firsts) <= extent(last).right + 0.6
    numbers = [mark for mark in below if mark is not last]
    assert numbers
    for number in numbers:
        near = 1.3 if number.text == "0" else two_digits(sheet)
        assert all(gap_mm(extent(number), extent(each)) >= near - 1e-6 for each in (name, last))
        assert int(number.text.lstrip("LR")) % 5 == 0
    x = flag.steps[0][1]  # type: ignore[misc]
    assert extent(name).left - 1.2 <= x <= extent(name).right + 1.2
    picture, _, _ = drawn(sheet, 95)
    mark_x = next(number.x for number in numbers if number.text == "0")
    told = {int(number.text.lstrip("L")) for number in numbers if x < number.x < mark_x}
    step = number_step(sheet, HeddleBoard(loom, Box(0, 0, 95, 9), 0, picture.pitch, 2, 2, 1, loom.spaces, 1.0))
    widest = max(extent(number).width for number in numbers)
    near = (extent(name).width + widest) / 2 + two_digits(sheet) + 0.01
    assert {number.text[0] for number in numbers} <= {"L", "R", "0"}  # each has its side
    assert {number for number in range(step, away, step) if (away - number) * picture.pitch > near} <= told
    assert sorted(below, key=lambda number: number.x)[-1].text[0] == "R"


def test_numbers_run_outwards_from_the_mark_and_thin_out() -> None:
    """33 spaces in 90 mm: every fifth of 2.5 mm; 121 spaces in 95 mm: every tenth of 0.73 mm."""
    for plan, step, most in ((plan_of("three-paths"), 5, 15), (wide_plan("119 Wh", 121), 10, 60)):
        sheet = sheet_of(plan, "record")
        picture, marks, _ = drawn(sheet, 95 if most == 60 else 90)
        mark_x = next(mark.steps[2][1] for mark in marks if isinstance(mark, Path) and mark.fill == BLACK)  # type: ignore[misc]
        flagged = next(mark for mark in marks if isinstance(mark, Words) and mark.colour == ACCENT)
        numbers = [mark for mark in marks if isinstance(mark, Words) and mark.y == flagged.y and mark.colour == SOFT]
        assert [number.text for number in numbers if number.x == pytest.approx(mark_x)] == ["0"]
        for number in numbers:
            assert abs(number.x - mark_x) == pytest.approx(int(number.text.lstrip("LR")) * picture.pitch)
            assert int(number.text.lstrip("LR")) % step == 0
        right = [number.text for number in sorted(numbers, key=lambda number: number.x) if number.x > mark_x + 1]
        reach = (plan.ends // 2) * picture.pitch - 2.8 - 2 * two_digits(sheet)  # from there on the last is named
        assert right == [f"R{number}" for number in range(step, most, step) if number * picture.pitch < reach]
        stems = {mark.x1 for mark in marks if isinstance(mark, Line) and mark.colour == SOFT and mark.x1 == mark.x2}
        assert {round(x, 3) for x in stems} <= {round(number.x, 3) for number in numbers}  # none leads to nothing


@pytest.mark.parametrize("tape", TAPES)
def test_the_mark_is_clear_of_threads_and_brackets(tape: str) -> None:
    for width in (90.0, 157.0):
        sheet = sheet_of(plan_of(tape), "handout")
        _, marks, _ = drawn(sheet, width)
        triangles = [mark for mark in marks if isinstance(mark, Path) and mark.fill == BLACK]
        assert len(triangles) == (2 if sheet.plan.placement.back else 1)
        for triangle in triangles:
            xs, ys = zip(*(step[1:] for step in triangle.steps if len(step) == 3), strict=True)
            for line in threads(marks, sheet):
                beside = line.x1 + line.width / 2 + OUTLINE < min(xs) or line.x1 - line.width / 2 - OUTLINE > max(xs)
                assert beside or line.y1 > max(ys) or line.y2 < min(ys)
            brackets = [mark for mark in marks if isinstance(mark, Path) and mark.fill is None]
            assert all(max(step[2] for step in each.steps if len(step) == 3) < min(ys) for each in brackets)


def test_the_mark_has_a_white_edge_so_that_it_shows_on_black() -> None:
    _, marks, _ = drawn(sheet_of(plan_of("long-sixty"), "record"), 157)
    blacks = [mark for mark in marks if isinstance(mark, Path) and mark.fill == BLACK]
    whites = [mark for mark in marks if isinstance(mark, Path) and mark.stroke == "#ffffff" and mark.width >= 0.8]
    assert [mark.steps for mark in blacks] == [mark.steps for mark in whites]


def test_every_end_has_a_dark_edge_of_two_tenths() -> None:
    sheet = sheet_of(plan_of("bare-thread"), "record")
    _, marks, _ = drawn(sheet, 157)
    lines = [mark for mark in marks if isinstance(mark, Line)]
    for inner in threads(marks, sheet):
        (casing,) = (mark for mark in lines if mark.colour == BLACK and mark[:4] == inner[:4])
        assert casing.width - inner.width >= 2 * 0.2
        assert lines.index(casing) < lines.index(inner)
        wood = max(mark for mark in (line.y1 for line in lines))
        assert inner.y2 > wood - 3  # it hangs below the board, where there is only paper


# two heddles


def test_two_heddles_are_two_boards_with_their_names_under_one_row_of_brackets() -> None:
    for layout in ("handout", "record", "handout-large"):
        sheet = sheet_of(plan_of("long-sixty"), layout)
        picture, marks, _ = drawn(sheet, 95)
        assert len(picture.rows) == 1
        boards = [mark for mark in marks if isinstance(mark, Path) and mark.stroke == BLACK and mark.fill == "#ffffff"]
        assert len(boards) == 2
        for board, name in zip(boards, ("back", "front"), strict=True):
            xs = [value for step in board.steps for value in step[1::2] if isinstance(value, float)]
            ys = [value for step in board.steps for value in step[2::2] if isinstance(value, float)]
            assert max(ys) - min(ys) >= 9
            (written,) = (mark for mark in marks if isinstance(mark, Words) and mark.text == name)
            place = extent(written)
            assert min(xs) < place.left
            assert place.right < max(xs)
            assert min(ys) < place.top
            assert place.bottom < max(ys)


def test_each_end_hangs_straight_through_both() -> None:
    sheet = sheet_of(plan_of("fair-day"), "record")
    _, marks, _ = drawn(sheet, 157)
    places = sorted(round(line.x1, 3) for line in threads(marks, sheet))
    assert places[::2] == places[1::2]
    assert len(set(places)) == sheet.plan.ends


# wide warps and narrow panels


def test_close_spaces_are_bands_of_colour_and_two_places_are_enlarged() -> None:
    """79 ends on 81 spaces in 79 mm: 0.9 mm each."""
    sheet = sheet_of(wide_plan("5 Re 8 Wh 6 Bu 10 Wh 4 Gr 13 Wh 4 Gr 10 Wh 6 Bu 8 Wh 5 Re", 81), "handout")
    picture, marks, _ = drawn(sheet, 79)
    assert picture.in_bands
    assert picture.pitch < 1.2
    assert not threads(marks, sheet)
    outlined = {mark.box for mark in marks if isinstance(mark, Rectangle) and mark.stroke == BLACK and not mark.radius}
    bands = [mark.box for mark in marks if isinstance(mark, Rectangle) and mark.fill and mark.box in outlined]
    widths = [round(band.width / picture.pitch) for band in sorted(bands)]
    assert widths == [5, 8, 6, 10, 4, 13, 4, 10, 6, 8, 5]
    lens = parts_of(sheet, 79)[2]
    shown = list(flat(lens.draw(Box(0, 0, 79, lens.heights.least))))
    assert len(threads(shown, sheet)) == 10 + 9  # the first ten, and four on either side of the mark with its own
    words = [mark.text for mark in shown if isinstance(mark, Words)]
    assert {"L39", "L35", "L30", "0", "1", "2", "3", "4"} <= set(words)
    assert all(Box(0, 0, 79, lens.heights.least).holds(extent(mark)) for mark in shown if isinstance(mark, Words))


def test_a_crowded_card_may_do_without_the_enlarged_places() -> None:
    sheet = sheet_of(wide_plan("119 Wh", 121), "handout")
    assert not parts_of(sheet, 95)[2].priority
    assert parts_of(replace(sheet, picture_share=0.55), 95)[2].priority


def test_spaces_that_are_wide_enough_are_drawn_one_by_one() -> None:
    picture, marks, _ = drawn(sheet := sheet_of(wide_plan("79 Wh", 81), "record"), 157)
    assert not picture.in_bands
    assert len(threads(marks, sheet)) == 79


@pytest.mark.parametrize("ends", [79, 119])
def test_wide_warps_find_room_on_a_handout(ends: int) -> None:
    sheet = sheet_of(wide_plan(f"{ends} Wh", ends + 2), "handout")
    assert stack_heights(parts_of(sheet, 79, optional=False)).least < 100


def test_a_board_is_broken_between_two_stripes_and_no_row_has_one_end() -> None:
    """Brown, 20 white, brown: broken once a row would be a single end."""
    sheet = sheet_of(plan_of("cord-edge"), "handout-large")
    picture, _, _ = drawn(sheet, 36)
    assert len(picture.rows) == 1
    plan = wide_plan("2 Re 1 Wh 2 Re 1 Wh 2 Re 1 Wh 2 Re 1 Wh 2 Re 1 Wh 2 Re 1 Wh 2 Re 1 Wh 2 Re", 25)
    sheet = sheet_of(plan, "handout-large")
    picture, marks, box = drawn(sheet, 60)
    assert len(picture.rows) > 1
    starts = [row.first for row in picture.rows]
    assert [row.last + 1 for row in picture.rows] == [*starts[1:], 26]
    first = plan.placement.first_space
    assert all(plan.end_yarns[start - first - 1] != plan.end_yarns[start - first] for start in starts[1:])
    assert len(threads(marks, sheet)) == plan.ends
    assert len([mark for mark in marks if isinstance(mark, Words) and mark.colour == ACCENT]) == 1
    assert len([mark for mark in marks if isinstance(mark, Path) and mark.fill == BLACK]) == 1
    assert all(box.holds(extent(mark), 0.3) for mark in marks if isinstance(mark, Words))


@pytest.mark.parametrize("notation", ["1 Re", "1 Re 1 Wh", "1 Re 1 Wh 1 Bu"])
def test_one_two_and_three_ends_have_a_board(notation: str) -> None:
    for loom in (one_heddle(12, 11), one_heddle(2, 1), shipped_loom("treadle-pair")):
        sheet = sheet_of(make_plan(coloured(notation), loom), "handout")
        for width in (95.0, 157.0):
            _, marks, box = drawn(sheet, width)
            assert all(box.holds(extent(mark), 0.5) for mark in marks if isinstance(mark, Words))
            assert len({round(line.x1, 3) for line in threads(marks, sheet)}) == sheet.plan.ends


def test_where_there_is_no_width_at_all_it_says_so() -> None:
    sheet = sheet_of(wide_plan("119 Wh", 121), "handout")
    assert heddle_picture(sheet, 40) is None
    assert stack_heights(BOARD.parts(sheet, 40)).least == float("inf")


# sides


def test_a_left_hand_sees_it_mirrored_and_reads_it_upright() -> None:
    right, left = (
        sheet_of(plan_as_seen(plan_of("off-side"), Viewpoint(left_hand=hand)), "handout") for hand in (False, True)
    )
    pictures = [drawn(sheet, 95)[1] for sheet in (right, left)]
    ends = [sorted((round(line.x1, 3), line.colour) for line in threads(marks, right)) for marks in pictures]
    assert ends[0] == ends[1]  # the board is where it is
    flags = [next(mark.x for mark in marks if isinstance(mark, Words) and mark.colour == ACCENT) for marks in pictures]
    assert flags[0] < 30 < 75 < flags[1]


# words


def loom_marked(mark: Marked, slots: int, holes: int) -> Loom:
    return one_heddle(slots, holes, mark)


@pytest.mark.parametrize(
    ("loom", "sentence"),
    [
        # 9 ends on 23 spaces: half of them, rounded down, are 4 to the left of the mark, which is nought or one
        (loom_marked(Marked.ZERO, 12, 11), "End 1: count 4 left of 0, holes and slots alike: a hole."),
        (
            loom_marked(Marked.ONE, 12, 11),
            "End 1: say 1 on the mark and count to 5 left, holes and slots alike: a hole.",
        ),
        # on 22 the mark lies between two spaces: say 1 on the next one, to 5
        (loom_marked(Marked.ONE, 11, 11), "End 1: count 5 left of 0, holes and slots alike: a slot."),
    ],
)
def test_one_sentence_says_where_end_1_goes(loom: Loom, sentence: str) -> None:
    sheet = sheet_of(make_plan(shipped_pattern("nine"), loom), "handout")
    assert sentence in said(parts_of(sheet, 95, optional=False), 95)


def test_a_single_end_lies_at_the_mark() -> None:
    sheet = sheet_of(make_plan(coloured("1 Re"), one_heddle(12, 11)), "handout")
    assert "End 1: begin at the mark (0): a hole." in said(parts_of(sheet, 95), 95)


def test_what_to_tick_and_from_where_it_is_seen_are_always_there() -> None:
    """31 ends on 33 spaces, from hole to hole: end 1 in a slot, 16 of them, 15 holes, one space empty at each side."""
    sheet = sheet_of(plan_of("three-paths"), "handout")
    parts = parts_of(sheet, 95, optional=False)
    text = said(parts, 95)
    assert text.endswith("filled: 15 holes, 16 slots empty: 1 left, 1 right last end in R15, a slot")
    assert "seen from your seat" in text
    told = {fact for part in parts for fact in part.facts}
    assert told >= {"board", "stripes", "first space", "view", "checks"}
    assert ("miscount" in told) == ("If that is a hole you have miscounted." in text)


def test_what_tells_a_miscount_fills_a_line_that_is_there_anyway() -> None:
    """At 11 pt the sentence takes 90 mm: in 80 mm it takes two lines, in 120 mm one."""
    for width, wanted in ((80, "first space miscount"), (120, "first space")):
        sheet = sheet_of(plan_of("three-paths"), "handout")
        (where,) = (part for part in parts_of(sheet, width, optional=False) if "first space" in part.facts)
        assert " ".join(where.facts) == wanted
        lines = [mark.y for mark in flat(where.draw(Box(0, 0, width, 0))) if isinstance(mark, Words)]
        assert len(set(lines)) == (2 if width == 80 else 1)


def test_further_sentences_come_where_there_is_room_after_what_they_speak_of() -> None:
    parts = parts_of(sheet_of(plan_of("off-side"), "record"), 157)
    text = said(parts, 157)
    told = text.index("If that is a hole you have miscounted.")
    assert text.index("End 1: ") < told < text.index("filled: 11 holes")
    assert "The middle is between ends 11 and 12. The tape sits half a space to the left; nobody will see it." in text
    (part,) = (part for part in parts if part.priority)
    assert "middle end" in part.facts
    assert "miscount" in {fact for each in parts for fact in each.facts}


def test_of_two_heddles_both_beginnings_are_told() -> None:
    """60 ends from the first space of 61: the back one, alike, has room one space to the right."""
    text = said(parts_of(sheet_of(plan_of("long-sixty"), "handout"), 95, optional=False), 95)
    rows = "Front: count 30 left of its 0: a slot. Back: count 29 left of its 0: a hole. Holes and slots alike."
    assert rows in text
    assert "Through both, front first: hole of one, slot of the other." in text
    assert "filled: front 30 holes, 30 slots; back 30 and 30" in text
    assert "empty: front 0 left, 1 right; back 1 and 0" in text
    assert "last end in front R29, a hole; back R30, a slot" in text


def test_a_record_counts_out_on_each_board_and_takes_each_end_through_both() -> None:
    text = said(parts_of(sheet_of(plan_of("fair-day"), "record"), 157), 157)
    assert (
        "Front: count 24 left of its mark (0), holes and slots alike: a slot. Back: count 25 left of its mark (0),"
        in text
    )
    assert "Each end goes through both, front first: hole of one, slot of the other." in text
    assert "filled: front 24 holes, 24 slots; back 24 and 24" in text
    assert "empty: front 6 left, 7 right; back 5 and 8" in text


def test_of_an_odd_number_of_ends_the_back_board_has_the_other_counts() -> None:
    """37 ends, slot first in front: 19 slots and 18 holes there; behind them 19 holes and 18 slots."""
    plan = make_plan(shipped_pattern("framed-pavement"), shipped_loom("treadle-pair"))
    assert heddle_words.closing_checks(plan)[0] == "filled: front 18 holes, 19 slots; back 19 and 18"
    assert "front first" in heddle_words.through_both(plan.loom)
    behind = plan_as_seen(plan, Viewpoint(from_behind=True))
    assert "back first" in heddle_words.through_both(behind.loom)  # the back heddle is the nearer one


def test_a_single_end_begins_at_the_mark_of_one_and_beside_that_of_the_other() -> None:
    """A single end on a pair whose mark is a space: at the mark in front, one to the left of it behind."""
    plan = make_plan(coloured("1 Re"), shipped_loom("treadle-pair"))
    text = said(parts_of(sheet_of(plan, "handout"), 95), 95)
    assert f"Front: begin at its mark (0): {a_space(plan.placement.first_kind)}." in text
    assert "Back: count 1 left of its 0: " in text


def test_a_crowded_card_checks_the_front_board_and_both_last_spaces() -> None:
    sheet = replace(sheet_of(plan_of("fair-day"), "handout"), picture_share=0.5)
    text = said(parts_of(sheet, 95, optional=False), 95)
    assert text.endswith("front: 24 holes, 24 slots front empty: 6 left, 7 right last end in front R23, back R22")
    text = said(FIRST.parts(replace(sheet_of(plan_of("fair-day"), "field"), picture_share=0.5), 84)[-1:], 84)
    assert text == "front: 24 holes, 24 slots front empty: 6 left, 7 right last end in front R23, back R22"


def test_the_back_board_has_a_count_of_its_own() -> None:
    """Its mark stands one space aside: 0 beside it, L25 over end 1 and R22 over end 48."""
    for tape, first, last in (("fair-day", "L25", "R22"), ("long-sixty", "L29", "R30")):
        for layout, width in (("handout", 93.5), ("record", 157.0), ("handout-large", 157.0)):
            sheet = sheet_of(plan_of(tape), layout)
            _, marks, _ = drawn(sheet, width)
            words = [mark for mark in marks if isinstance(mark, Words)]
            (name,) = (word for word in words if word.text == "back")
            line = {word.text: word for word in words if word.y == name.y}
            assert set(line) == {"back", "0", first, last}
            ends = sorted({round(thread.x1, 3) for thread in threads(marks, sheet)})
            for text, x in ((first, ends[0]), (last, ends[-1])):
                assert extent(line[text]).left <= x <= extent(line[text]).right
            mark_x = min(
                mark.steps[2][1] - 100 * (mark.steps[2][2] < name.y)  # type: ignore[misc]
                for mark in marks
                if isinstance(mark, Path) and mark.fill == BLACK
            )
            assert 0 < line["0"].x - mark_x - 100 < 3.5


class Drawn(NamedTuple):
    """An end as it is drawn: its dark edge, the dot from which it hangs, and the slot that it comes out of."""

    edge: Line
    dot: float
    slot: Box | None

    def is_beside(self, x: float, pitch: float) -> bool:
        return 0.01 < abs(self.edge.x1 - x) < 1.1 * pitch


def drawn_ends(marks: list[Mark], sheet: Sheet) -> tuple[list[Drawn], list[Box]]:
    """The ends on every board of a picture, and all slots."""
    fills = {ink.fill for ink in sheet.inks.values()}
    dots = {(dot.x, dot.y): dot for dot in marks if isinstance(dot, Dot) and dot.fill in fills}
    slots = [mark.box for mark in marks if isinstance(mark, Rectangle) and mark.radius]
    ends = []
    for edge in (mark for mark in marks if isinstance(mark, Line) and mark.round_ends and mark.colour == BLACK):
        own = [slot for slot in slots if abs(slot.middle - edge.x1) < 0.01 and slot.top < edge.y1 < slot.bottom]
        dot = dots[edge.x1, edge.y1]
        ends.append(Drawn(edge, dot.radius + dot.width / 2, own[0] if own else None))
    assert len(dots) == len(ends)
    return ends, slots


@pytest.mark.parametrize(("layout", "width"), [("handout", 93.5), ("handout-large", 157.0), ("record", 157.0)])
@pytest.mark.parametrize("tape", TAPES)
def test_a_hole_is_told_from_a_slot_however_close_spaces_are(tape: str, layout: str, width: float) -> None:
    """From the marks, also of a crowded card: a hole is a dot of a millimetre at least, wider than its end, with white
    between it and the slots beside it, whose ends come out lower; over these the opening is seen. Between two ends lies
    more than a third of the pitch in white."""
    sheet = replace(sheet_of(plan_of(tape), layout), picture_share=0.5)
    picture, marks, _ = drawn(sheet, width)
    assert not picture.in_bands
    ends, slots = drawn_ends(marks, sheet)
    for end in ends:
        edge, x, y = end.edge, end.edge.x1, end.edge.y1
        assert picture.pitch - edge.width >= 0.36 * picture.pitch
        if end.slot:
            assert y - end.dot - end.slot.top >= 1.2
            assert end.slot.bottom - y >= 0.5
            continue
        assert 2 * end.dot >= max(1.0, 1.25 * edge.width)
        for slot in slots:
            if slot.top < y < slot.bottom and abs(slot.middle - x) < 1.1 * picture.pitch:
                assert abs(slot.middle - x) - slot.width / 2 - end.dot >= 0.25
        for other in ends:
            if other.is_beside(x, picture.pitch) and other.slot and other.slot.top < y < other.slot.bottom:
                assert other.edge.y1 > y + 0.5


def test_where_the_heading_has_no_room_for_it_the_view_stands_before_the_sentence() -> None:
    behind = plan_as_seen(plan_of("nine"), Viewpoint(from_behind=True))
    sheet = sheet_of(behind, "handout-large")
    assert said(parts_of(sheet, 160), 160).startswith("2 Thread seen from behind the heddle")
    assert said(parts_of(sheet, 75), 75).startswith("2 Thread from behind")
    assert "Seen from behind the heddle. End 1: count" in said(parts_of(sheet, 50), 50)


def test_a_loom_threaded_beforehand_is_one_line_to_tick() -> None:
    parts = THREADED.parts(sheet_of(plan_of("three-paths"), "handout"), 95)
    assert said(parts, 95) == "2 Thread done for you threaded: end 1 in L15, a slot, as you sit"
    assert stack_heights(parts).most < 15


# in words alone


def test_the_field_has_the_first_space_as_large_as_a_count() -> None:
    sheet = sheet_of(plan_of("three-paths"), "field")
    *_, checks = FIRST.parts(sheet, 84)
    step, first, _ = FIRST.parts(sheet, 84)
    marks = list(flat(first.draw(Box(0, 0, 64, first.heights.least))))
    assert marks[0] == Words(step_indent(sheet), marks[0].y, "L15, a slot", Face.SANS_BOLD, 24, ACCENT)  # type: ignore[union-attr]
    assert heddle_words.end_1_counted(sheet.plan) in said([step], 84)
    assert said([checks], 84) == "15 holes, 16 slots last end in R15 empty: 1 left, 1 right"
    squares = [mark for mark in checks.draw(Box(0, 0, 84, checks.heights.least)) if isinstance(mark, Rectangle)]
    assert len({square.box.top for square in squares}) == 2
    assert [set(part.facts) for part in (step, first, checks)] == [{"view"}, {"first space"}, {"checks"}]


def test_both_spaces_of_two_heddles_stand_below_each_other() -> None:
    _, first, _ = FIRST.parts(sheet_of(plan_of("long-sixty"), "field"), 64)
    marks = list(flat(first.draw(Box(0, 0, 64, first.heights.least))))
    large = [mark for mark in marks if isinstance(mark, Words) and mark.colour == ACCENT]
    assert [mark.text for mark in large] == ["front L30, a slot", "back L29, a hole"]
    assert all(extent(mark).right <= 64 for mark in large)


def test_holes_and_slots_alternate_on_the_board() -> None:
    _, marks, _ = drawn(sheet_of(plan_of("three-paths"), "record"), 157)
    holes = [mark.x for mark in marks if isinstance(mark, Dot) and mark.fill == "#ffffff"]
    slots = [mark.box.middle for mark in marks if isinstance(mark, Rectangle) and mark.radius]
    kinds = [kind for _, kind in sorted([*((x, "hole") for x in holes), *((x, "slot") for x in slots)])]
    assert kinds == ["hole", "slot"] * 16 + ["hole"]


@pytest.mark.parametrize(("tape", "cord"), [("cord-edge", "brown cord"), ("three-sparks", "red cord")])
@pytest.mark.parametrize(("layout", "width"), [("record", 146.0), ("handout", 95.0)])
def test_a_thick_yarn_hangs_thicker_from_the_board(tape: str, cord: str, layout: str, width: float) -> None:
    """With its edges 49.3 / 38.2 times as thick as the white ends: as many fewer of it lie in an inch."""
    sheet = sheet_of(plan_of(tape), layout)
    _, marks, _ = drawn(sheet, width)
    fills = {sheet.inks[yarn].fill: yarn for yarn in (cord, "white")}
    lines = [mark for mark in marks if isinstance(mark, Line)]
    cased = [
        (one.width, fills[core.colour]) for one, core in pairwise(lines) if core.colour in fills and core.y2 == one.y2
    ]
    thick, thin = ({round(wide, 6) for wide, yarn in cased if yarn == each} for each in (cord, "white"))
    assert (len(thick), len(thin)) == (1, 1)
    assert thick.pop() / thin.pop() == pytest.approx(49.3 / 38.2, rel=1e-4)
