"""What shows in each shed, row by row, and the figures that come out of the order of the ends."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.model.loom import Loom
from cardmaker.model.plan import Sheds
from cardmaker.reckoning.stripes.stripe_counts import end_yarns
from cardmaker.reckoning.threading.placement import place
from cardmaker.reckoning.weaving.sheds import FaceRow, both_sheds, face_row, raised_runs, woven_face
from cardmaker.reckoning.weaving.woven_figures import figures
from tests.helpers.warps import MIDDLE_BOX, ROW, ROWS, SMALL_BOX, TREADLE_PAIR, Row, one_heddle, pattern

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


def test_an_end_pushed_down_by_hand_leaves_a_gap() -> None:
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


# Figures


def drawn(notation: str) -> str:
    """``bars 5-19 Wh/Bu``, with ``!`` where bars are out of step with those on their left."""
    return ", ".join(
        f"{figure.kind}{'!' * figure.out_of_step} {figure.first_end}-{figure.last_end} {'/'.join(figure.yarns)}"
        for figure in figures(yarns_of(notation))
    )


@pytest.mark.parametrize(
    ("notation", "expected"),
    [
        (ROW["T03"].stripes, "line 1-2 Bu, stripe 3-11 Wh, line 12-13 Bu"),
        (ROW["T05"].stripes, "stripe 1-7 Wh, dots 8-8 Re, stripe 9-15 Wh"),
        (
            ROW["T10"].stripes,
            "stripe 1-7 Wh, dots 8-8 Gr, stripe 9-14 Wh, line 15-16 Gr, "
            "stripe 17-21 Wh, stripe 22-24 Gr, stripe 25-28 Wh",
        ),
        (ROW["T11"].stripes, "bars 1-14 Wh/Bu"),
        (ROW["T12"].stripes, "stripe 1-4 Bu, bars 5-19 Wh/Bu, stripe 20-23 Bu"),
        (ROW["T14"].stripes, "bars 1-8 Wh/Bu, bars! 9-16 Bu/Wh, bars! 17-24 Wh/Bu, bars! 25-32 Bu/Wh"),
        (
            ROW["T15"].stripes,
            "stripe 1-5 Bn, bars 6-14 Wh/Bn, bars! 15-23 Wh/Bn, bars! 24-32 Wh/Bn, stripe 33-37 Bn",
        ),
        (
            ROW["T16"].stripes,
            "stripe 1-3 Gr, bars 4-8 Wh/Gr, bars! 9-23 Wh/Gr, bars! 24-28 Wh/Gr, stripe 29-31 Gr",
        ),
        (
            ROW["T17"].stripes,  # a pair beside bars is a line when it does not join two stretches of bars
            "line 1-2 Bu, bars 3-14 Wh/Bu, line 15-16 Wh, stripe 17-20 Re, "
            "line 21-22 Wh, stripe 23-26 Re, stripe 27-30 Wh",
        ),
        (ROW["T19"].stripes, "dots 1-1 Bn, stripe 2-21 Wh, dots 22-22 Bn"),
        (ROW["T23"].stripes, "stripe 1-6 Bu, stripe 7-10 Wh, bars 11-29 Bu/Wh, stripe 30-34 Wh, stripe 35-40 Bu"),
        (ROW["T26"].stripes, "steps 1-27 Wh/Bu/Re"),
        ("4 Wh 1 Bu 1 Re 4 Wh", "stripe 1-4 Wh, dots 5-6 Bu/Re, stripe 7-10 Wh"),
        ("4 Wh 1 Bu 1 Wh 1 Bu 4 Wh", "stripe 1-4 Wh, bars 5-7 Bu/Wh, stripe 8-11 Wh"),
        ("ALT(Wh,Bu,5) ALT(Re,Wh,5)", "bars 1-5 Wh/Bu, bars 6-10 Re/Wh"),  # other yarns: no step to be out of
        ("(1 Wh 1 Bu 1 Wh 1 Re)3", "bars 1-12 Wh/Bu/Re"),  # white in every other pick
        ("(1 Wh 1 Bu 1 Wh 1 Re)2 (1 Re 1 Wh 1 Bu 1 Wh)2", "bars 1-8 Wh/Bu/Re, bars! 9-16 Re/Wh/Bu"),
        (  # every colour in either shed: no step to be out of
            "(1 Wh 1 Re 1 Bu 1 Wh 1 Re 1 Wh 1 Re 1 Bu)2 (1 Bu 1 Re 1 Wh 1 Re 1 Wh 1 Bu 1 Re 1 Wh)2",
            "bars 1-16 Wh/Re/Bu, bars 17-32 Bu/Re/Wh",
        ),
        ("4 Wh 1 Gr ALT(Wh,Bu,5) 3 Re", "stripe 1-4 Wh, dots 5-5 Gr, bars 6-10 Wh/Bu, stripe 11-13 Re"),
        ("ALT(Wh,Bu,6) 1 Bu ALT(Bu,Wh,5)", "bars 1-5 Wh/Bu, stripe 6-8 Bu, bars 9-12 Wh/Bu"),
        ("ALT(Wh,Bu,3) ALT(Wh,Bu,4)", "bars 1-3 Wh/Bu, bars! 4-7 Wh/Bu"),  # the fewest that are in turn
        ("1 Gr 1 Wh 1 Bu 3 Wh", "dots 1-3 Gr/Wh/Bu, stripe 4-6 Wh"),  # a white end before the white stripe
    ],
)
def test_the_figures_come_out_of_the_order_of_the_ends(notation: str, expected: str) -> None:
    assert drawn(notation) == expected


def test_a_repeat_of_up_to_eight_ends_is_seen_as_bars() -> None:
    eight, nine = figures("abcdefgh" * 2), figures("abcdefghi" * 2)
    assert [(figure.kind, figure.ends) for figure in eight] == [("bars", 16)]
    assert [(figure.kind, figure.ends) for figure in nine] == [("dots", 18)]


def test_only_bars_that_touch_can_be_out_of_step() -> None:
    assert [figure.out_of_step for figure in figures(yarns_of("ALT(Wh,Bu,4) 4 Re ALT(Bu,Wh,4)"))] == [False] * 3


def orders() -> st.SearchStrategy[list[str]]:
    """Orders with many bars and doubled ends."""
    piece = st.sampled_from(["w", "b", "r", "ww", "bb", "wbwb", "bwb", "wbr", "www"])
    return st.lists(piece, min_size=1, max_size=12).map(lambda pieces: list("".join(pieces)))


@given(orders())
def test_the_figures_hold_every_end_once_and_are_what_they_are_called(yarns: list[str]) -> None:
    found = figures(yarns)
    assert [number for figure in found for number in range(figure.first_end, figure.last_end + 1)] == list(
        range(1, len(yarns) + 1)
    )
    for figure in found:
        own = yarns[figure.first_end - 1 : figure.last_end]
        assert set(own) == set(figure.yarns)
        if figure.kind in ("stripe", "line"):
            assert (len(set(own)), figure.kind == "line") == (1, len(own) == 2)
        else:
            assert all(left != right for left, right in pairwise(own))


@given(orders())
def test_out_of_step_is_what_the_woven_face_shows(yarns: list[str]) -> None:
    """A flip shows on its right in one pick what it shows on its left in the next."""

    def showing(first: int, last: int) -> list[set[str]]:
        numbers = range(first, last + 1)
        return [{yarns[number - 1] for number in numbers if number % 2 == shed} for shed in (0, 1)]

    for left, right in pairwise(figures(yarns)):
        here, there = showing(left.first_end, left.last_end), showing(right.first_end, right.last_end)
        if left.kind == right.kind == "bars" and set(left.yarns) == set(right.yarns) and len(left.yarns) == 2:
            assert [len(shown) for shown in here + there] == [1, 1, 1, 1]
            assert right.out_of_step is (here[0] != there[0])
        elif right.out_of_step:
            assert (left.kind, right.kind, here) == ("bars", "bars", there[::-1])


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.code)
def test_a_pattern_read_from_the_other_edge_has_the_same_kinds_of_figures(row: Row) -> None:
    there = figures(yarns_of(row.stripes))
    back = figures(yarns_of(row.stripes)[::-1])
    assert [(figure.kind, figure.ends) for figure in there] == [(figure.kind, figure.ends) for figure in back[::-1]]


def test_the_widest_warp_is_quick() -> None:
    assert len(figures(("white", "blue") * 200)) == 1
    assert len(figures(("white", "white", "blue", "white", "blue") * 80)) > 1
