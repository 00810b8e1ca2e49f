"""Brackets over columns: every count inside its stripe where it can be, none near another, whatever the stripes are."""

from __future__ import annotations

import re
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardmaker.card.bracket_drawing import BracketRow, bracket_rows
from cardmaker.card.brackets import Bracket, brackets_over
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK
from cardmaker.layout.spreading import spread
from cardmaker.model.marks import Box, Line, Mark, Path, Words
from cardmaker.reckoning.stripes.segments import hand_counted
from cardmaker.reckoning.stripes.stripe_counts import runs
from cardmaker.wording.stripe_words import IN_TURN
from tests.helpers.card_faults import extent, letters_box
from tests.helpers.paper_tools import MM_PER_POINT
from tests.helpers.record_cards import RULER, paper_named, plan
from tests.helpers.shipped import shipped_layout

APART = 0.5  # mm: nearer than this two counts are read as one
SLACK = 1e-6


def sheet(layout: str = "handout") -> Sheet:
    """A sheet of a pattern with many yarns: their letters are what is asked for."""
    tape, of = plan("fair-day", "treadle-pair"), shipped_layout(layout)
    return Sheet(tape, of, paper_named("letter"), RULER, "metric", {}, (), of.type_sizes, tape)


YARNS = [colour.yarn for colour in plan("fair-day", "treadle-pair").colours]


def ends(*stripes: tuple[int, int]) -> list[str]:
    """(Count, which yarn) of every stripe as ends."""
    return [YARNS[yarn % len(YARNS)] for count, yarn in stripes for _ in range(count)]


def brackets(warp: list[str], pitch: float) -> list[Bracket]:
    return over(warp, range(1, len(warp) + 1), pitch)


def over(warp: list[str], row: range, pitch: float) -> list[Bracket]:
    """The brackets over some of the ends, which begin at the left."""
    return brackets_over(hand_counted(runs(warp)), row, lambda number: (number - row.start + 0.5) * pitch, pitch)


def row_of(warp: list[str], pitch: float, layout: str = "handout") -> BracketRow:
    return bracket_rows(sheet(layout), [brackets(warp, pitch)], len(warp) * pitch)[0]


def words_of(row: BracketRow) -> list[Words]:
    return [mark for mark in row.marks(0.0, 0.0) if isinstance(mark, Words)]


def counts_of(row: BracketRow) -> list[Words]:
    return [words for words in words_of(row) if words.text.isdigit()]


def letters_of(row: BracketRow) -> list[Words]:
    return [words for words in words_of(row) if not words.text.isdigit()]


def gap(first: Box, second: Box) -> float:
    """How far apart two boxes are, sideways or upright, whichever is more."""
    sideways = max(first.left, second.left) - min(first.right, second.right)
    return max(sideways, max(first.top, second.top) - min(first.bottom, second.bottom))


def fused(row: BracketRow) -> list[tuple[str, str]]:
    """Counts on one line that come nearer than more than a word space, and so read as one number."""
    pairs = [(a, b) for a, b in combinations(counts_of(row), 2) if a.y == b.y]
    least = {words: 0.25 * words.size * MM_PER_POINT for words in counts_of(row)}
    return [(a.text, b.text) for a, b in pairs if gap(letters_box(a), letters_box(b)) < min(least[a], least[b])]


def near(row: BracketRow) -> list[tuple[str, str]]:
    boxes = [(words.text, letters_box(words)) for words in words_of(row)]
    return [(one, other) for (one, a), (other, b) in combinations(boxes, 2) if gap(a, b) < APART - SLACK]


def test_counts_and_letters_stand_inside_their_brackets_in_one_size() -> None:
    row = row_of(ends((3, 0), (5, 1), (3, 2), (9, 1), (3, 2), (5, 1), (3, 0)), 2.4)
    counts = counts_of(row)
    assert [words.text for words in counts] == ["3", "5", "3", "9", "3", "5", "3"]
    assert {words.size for words in words_of(row)} == {18.0, 11.0}
    edges = [0, 3, 8, 11, 20, 23, 28, 31]
    for words, (first, last) in zip(counts, pairwise(edges), strict=True):
        box = letters_box(words)
        assert first * 2.4 < box.left
        assert box.right < last * 2.4
        assert box.left + box.width / 2 == pytest.approx((first + last) * 1.2, abs=0.01)


def test_single_ends_in_turn_are_one_bracket_that_says_so() -> None:
    warp = ends((4, 0), *((1, 1 + number % 3) for number in range(27)), (4, 0))
    texts = [words.text for words in words_of(row_of(warp, 2.2))]
    assert texts == ["4", "27", "4", "Bu", f"Ye/Re/Wh {IN_TURN}", "Bu"]


def test_counts_shrink_together_while_that_is_enough() -> None:
    counts = counts_of(row_of(ends((9, 0), (1, 1), (9, 0)), 3.3))
    assert len({words.size for words in counts}) == 1
    assert 12.5 <= counts[0].size < 18


def test_a_count_too_wide_for_its_bracket_is_set_smaller_alone() -> None:
    counts = counts_of(row_of(ends((9, 0), (1, 1), (9, 0)), 2.3))
    assert counts[0].size == counts[2].size == 12.5
    assert 11 <= counts[1].size < 12.5


def test_a_count_that_no_size_makes_narrow_enough_stands_above_with_a_leader() -> None:
    row = row_of(ends((9, 0), (1, 1), (9, 0)), 1.6)
    first, above, last = counts_of(row)
    assert first.y == last.y > above.y
    leader = next(mark for mark in row.marks(0, 0) if isinstance(mark, Line))
    assert leader.x1 == leader.x2 == pytest.approx(9.5 * 1.6)
    assert above.y < leader.y1 < leader.y2 <= first.y
    assert letters_box(above).left < leader.x1 < letters_box(above).right


def test_letters_wider_than_their_bracket_stay_in_line_where_their_neighbours_leave_room() -> None:
    letters = letters_of(row_of(ends((9, 0), (1, 1), (9, 0)), 2.4))
    assert len({words.y for words in letters}) == 1
    assert {words.turned for words in letters} == {0}


def test_letters_that_meet_move_aside_before_one_of_them_drops() -> None:
    """11 stripes of 4 and 6 ends, 1.36 mm each: *Wh* is wider than its bracket by itself."""
    counts = (4, 4, 4, 4, 6, 4, 6, 4, 4, 4, 4)
    letters = letters_of(row_of(ends(*zip(counts, (0, 1, 2, 3, 4, 5, 4, 3, 2, 1, 0), strict=True)), 1.36))
    assert len(letters) == 11
    assert len({words.y for words in letters}) == 1


def test_where_they_crowd_each_other_the_letters_of_the_narrowest_drop() -> None:
    letters = letters_of(row_of(ends((3, 0), (1, 1), (3, 2), (1, 1), (3, 0)), 1.7))
    first, second, third, fourth, fifth = letters
    assert first.y == third.y == fifth.y < second.y == fourth.y


def test_of_equal_stripes_that_crowd_each_other_every_second_drops() -> None:
    letters = letters_of(row_of(ends(*((2, number) for number in range(5))), 1.7))
    assert len({words.y for words in letters[::2]}) == 1
    assert letters[0].y < letters[1].y == letters[3].y


def test_in_turn_is_never_left_out_and_said_of_all_in_one_way() -> None:
    """Of 4 ends in turn it finds no room behind the letters: so it stands below those of 13 as well."""
    turn = [(1, number % 2) for number in range(4)]
    longer = [(1, 2 + number % 2) for number in range(13)]
    for pitch, told in ((2.6, [IN_TURN, IN_TURN]), (6.0, [])):
        row = row_of(ends((3, 4), *turn, (2, 5), *longer, (3, 4)), pitch)
        below = [words for words in words_of(row) if words.text == IN_TURN]
        assert [words.text for words in below] == told
        behind = [words.text for words in words_of(row) if words.text.endswith(f" {IN_TURN}")]
        assert len(below) + len(behind) == 2
        for words in below:
            over = next(each for each in letters_of(row) if each.x == words.x and each is not words)
            assert re.fullmatch(r"[A-Z][a-z]/[A-Z][a-z]", over.text)
            assert over.y < words.y


def test_letters_keep_farther_from_those_of_several_yarns() -> None:
    """*Wh/Gr* beside *Wh* is not to be read as one."""
    turn = [(1, number % 2) for number in range(4)]
    row = row_of(ends((3, 1), *turn, (2, 0), (9, 1)), 2.6)
    pair = next(words for words in letters_of(row) if "/" in words.text)
    after = min(
        (words for words in letters_of(row) if words.x > pair.x and words.y == pair.y), key=lambda words: words.x
    )
    assert letters_box(after).left - letters_box(pair).right >= 0.4 * pair.size * MM_PER_POINT


def test_counts_shrink_before_they_are_read_as_one_number() -> None:
    counts = counts_of(row_of(ends(*((4, number) for number in range(8))), 1.4))
    assert {12.5 <= words.size < 18 for words in counts} == {True}
    for one, other in pairwise(counts):
        assert gap(letters_box(one), letters_box(other)) >= 0.45 * one.size * MM_PER_POINT


def test_where_all_letters_are_too_wide_they_leave_no_empty_row() -> None:
    narrow = row_of(ends((1, 0)), 4.0)
    wide = row_of(ends((1, 0)), 7.4)
    assert narrow.height == pytest.approx(wide.height)


def test_the_foot_of_a_row_lies_below_all_that_is_drawn_in_it() -> None:
    row = row_of(ends((9, 0), (1, 1), (2, 2), (1, 0), (9, 1)), 1.6)
    boxes = [box for mark in row.marks(0.0, 0.0) if (box := extent(mark))]
    assert min(box.top for box in boxes) >= -SLACK
    assert max(box.bottom for box in boxes) <= row.height + 0.2


def test_brackets_do_not_join_their_neighbours() -> None:
    marks: list[Mark] = row_of(ends((3, 0), (1, 1), (3, 0)), 2.0).marks(0.0, 0.0)
    boxes = [box for mark in marks if isinstance(mark, Path) and (box := extent(mark))]
    assert len(boxes) == 3
    assert all(second.left - first.right > 0.2 for first, second in pairwise(boxes))


def test_a_stripe_over_two_rows_is_counted_once() -> None:
    warp = ends((3, 0), (50, 1))
    rows = bracket_rows(sheet(), [over(warp, range(1, 28), 2.4), over(warp, range(28, 54), 2.4)], 70.0)
    assert [[words.text for words in words_of(row)] for row in rows] == [["3", "50", "Bu", "Ye"], ["rest of 50 Ye"]]
    bars = [mark for row in rows for mark in row.marks(0.0, 0.0) if isinstance(mark, Path)]
    assert [len(bar.steps) for bar in bars] == [4, 3, 3]


def test_all_is_black_for_a_copier() -> None:
    assert {words.colour for words in words_of(row_of(ends((9, 0), (1, 1), (9, 0)), 1.6))} == {BLACK}


def test_rows_of_one_drawing_have_one_size() -> None:
    one, other = ends((9, 0), (9, 1)), ends((1, 2), (9, 0))
    rows = bracket_rows(sheet(), [brackets(one, 3.3), brackets(other, 3.3)], 60.0)
    assert len({words.size for row in rows for words in counts_of(row)}) == 1


stripes = st.lists(st.tuples(st.sampled_from([1, 1, 1, 2, 2, 3, 4, 9, 12, 31]), st.integers(0, 6)), min_size=1)


@given(stripes, st.floats(1.6, 7.4), st.sampled_from(["handout", "handout-large", "record"]))
@settings(max_examples=300, deadline=None)
def test_no_two_counts_or_letters_come_near_each_other(told: list[tuple[int, int]], pitch: float, layout: str) -> None:
    warp = ends(*told)[: int(170 / pitch)]
    row = row_of(warp, pitch, layout)
    assert near(row) == []
    assert fused(row) == []
    assert [int(words.text) for words in counts_of(row)] == [segment.ends for segment in hand_counted(runs(warp))]
    assert min(words.size for words in words_of(row)) >= shipped_layout(layout).type_sizes.smallest


def test_sixty_stripes_of_119_ends_are_told_apart() -> None:
    warp = ends(*((1 + number % 2 if number else 30, number % 7) for number in range(60)))
    assert len(warp) == 119
    assert near(row_of(warp, 1.6, "record")) == []


@given(st.lists(st.tuples(st.floats(0, 50), st.floats(1, 9)), min_size=1, max_size=12))
def test_things_spread_apart_keep_their_order_and_move_no_farther_than_they_must(
    told: list[tuple[float, float]],
) -> None:
    wanted = sorted(place for place, _ in told)
    widths = [wide for _, wide in told]
    places = spread(wanted, widths, [0.5] * (len(wanted) - 1), 300.0)
    for (x1, w1), (x2, w2) in pairwise(zip(places, widths, strict=True)):
        assert x2 - w2 / 2 - (x1 + w1 / 2) >= 0.5 - SLACK
    for index, (place, first) in enumerate(zip(places, wanted, strict=True)):
        alone = all(abs(first - other) > sum(widths) + 6 for at, other in enumerate(wanted) if at != index)
        if alone and first >= widths[0] / 2:
            assert place == pytest.approx(first)
    assert places[0] - widths[0] / 2 >= -SLACK


def test_things_that_meet_move_by_halves_and_stay_in_their_room() -> None:
    assert spread([10.0, 11.0], [4.0, 4.0], [1.0], 100.0) == pytest.approx([8.0, 13.0])
    assert spread([0.0, 99.0], [4.0, 4.0], [1.0], 100.0) == pytest.approx([2.0, 98.0])
    assert spread([], [], [], 10.0) == []
