"""What shows in each shed, row by row."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from cardmaker.model.loom import Loom
from cardmaker.model.plan import Sheds
from cardmaker.reckoning.stripes.stripe_counts import end_yarns
from cardmaker.reckoning.threading.placement import place
from cardmaker.reckoning.weaving.sheds import both_sheds, raised_runs
from tests.helpers.warps import MIDDLE_BOX, ROW, ROWS, SMALL_BOX, TREADLE_PAIR, one_heddle, pattern
from tests.helpers.woven_face import FaceRow, face_row, woven_face

# Thirteen, twenty-three and thirty-one ends have an odd half, so end 1 lies in the other kind than the middle end.
MIDDLE_A_SLOT, MIDDLE_A_HOLE = one_heddle(32, 33), one_heddle(33, 32)


def yarns_of(notation: str) -> tuple[str, ...]:
    return end_yarns(pattern(notation))


def shown(row: FaceRow, yarns: tuple[str, ...]) -> str:
    """One letter for every half end, a dot where the weft turns."""
    return "".join("." if number is None else yarns[number - 1][0].lower() for number in row)


def both_rows(notation: str, loom: Loom) -> list[str]:
    yarns = yarns_of(notation)
    return [shown(row, yarns) for row in woven_face(both_sheds(place(yarns, loom)), len(yarns), 2)]


def told(notation: str, loom: Loom) -> list[str]:
    """The two shed sentences, down and up, shortened: ``2 Bu 8 Wh 2 Bu``."""
    yarns = yarns_of(notation)
    of = both_sheds(place(yarns, loom))
    return [" ".join(f"{count} {yarn}" for yarn, count in raised_runs(ends, yarns)) for ends in (of.down, of.up)]


def test_down_raises_the_hole_ends_and_up_the_slot_ends() -> None:
    assert both_sheds(place(("white",) * 5, one_heddle(2, 3))) == Sheds(down=(1, 3, 5), up=(2, 4))
    assert both_sheds(place(("white",) * 5, one_heddle(3, 2))) == Sheds(down=(2, 4), up=(1, 3, 5))


def test_two_heddles_raise_the_holes_of_the_front_one_and_then_of_the_back_one() -> None:
    of = both_sheds(place(yarns_of(ROW["T23"].stripes), TREADLE_PAIR))  # 40 ends, lean left: end 1 in space 11, a slot
    assert (of.down[:2], of.up[:2], len(of.down), len(of.up)) == ((2, 4), (1, 3), 20, 20)


def test_penned_ladder_shows_a_white_bar_and_then_a_blue_bar() -> None:
    assert told(ROW["T12"].stripes, SMALL_BOX) == ["11 Bu", "2 Bu 8 Wh 2 Bu"]  # full: end 1 in space 1, a slot
    assert told(ROW["T12"].stripes, MIDDLE_BOX) == ["2 Bu 8 Wh 2 Bu", "11 Bu"][::-1]  # L11 of 33, space 6: a slot
    assert told(ROW["T12"].stripes, one_heddle(15, 14)) == ["2 Bu 8 Wh 2 Bu", "11 Bu"]  # space 4: a hole


def test_the_shed_sentence_follows_the_loom() -> None:
    hole_first, slot_first = one_heddle(31, 30), one_heddle(30, 31)
    for row in ROWS:
        if row.ends <= 61:
            assert told(row.stripes, hole_first) == told(row.stripes, slot_first)[::-1]


def test_open_ladder_shows_full_bars_with_the_weft_dot_at_one_edge() -> None:
    # a raised end at the edge shows over its own place and half of its neighbour's
    assert sorted(both_rows(ROW["T11"].stripes, MIDDLE_BOX)) == ["." + 27 * "b", 27 * "w" + "."]


def test_wick_is_a_red_dot_every_second_pick() -> None:
    assert sorted(both_rows(ROW["T05"].stripes, MIDDLE_BOX)) == ["." + 12 * "w" + "rrrr" + 12 * "w" + ".", 30 * "w"]


def test_pavement_shows_a_chequer() -> None:
    # four ends of each block show, each two wide: eight ends or sixteen columns, moved by half an end at the flips
    assert sorted(both_rows(ROW["T14"].stripes, MIDDLE_BOX)) == [
        "." + 16 * "b" + 16 * "w" + 16 * "b" + 15 * "w",
        15 * "w" + 16 * "b" + 16 * "w" + 16 * "b" + ".",
    ]


def test_an_end_lifted_by_hand_shows_only_over_its_own_place() -> None:
    assert face_row((1, 3, 5), 5) == (1, 1, 1, 3, 3, 3, 3, 5, 5, 5)
    assert face_row((1, 2, 3, 5), 5) == (1, 1, 2, 2, 3, 3, 3, 5, 5, 5)
    assert face_row((2, 4), 5) == (None, 2, 2, 2, 2, 4, 4, 4, 4, None)


def test_an_end_dropped_by_hand_leaves_a_gap() -> None:
    assert face_row((1, 5), 5) == (1, 1, 1, None, None, None, None, 5, 5, 5)


def test_the_sheds_take_turns_from_the_first_pick_on() -> None:
    of = Sheds(down=(1, 3), up=(2,))
    down, up = face_row((1, 3), 3), face_row((2,), 3)
    assert woven_face(of, 3, 3) == (down, up, down)
    assert woven_face(of, 3, 2, first="up") == (up, down)
    assert woven_face(of, 3, 3, by_hand={3: (1, 2, 3)}) == (down, up, (1, 1, 2, 2, 3, 3))
    assert woven_face(of, 3, 0) == ()


@given(st.integers(2, 60))
def test_plain_weave_leaves_no_gap_but_the_dots_at_the_edges(ends: int) -> None:
    of = both_sheds(place(("white",) * ends, MIDDLE_A_SLOT))
    assert sorted((*of.down, *of.up)) == list(range(1, ends + 1))
    rows = woven_face(of, ends, 2)
    assert all(None not in row[1:-1] for row in rows)
    assert [row[0] for row in rows].count(None) == [row[-1] for row in rows].count(None) == 1
    for number in range(2, ends):
        assert sum(row.count(number) for row in rows) == 4  # four half ends: two ends wide
