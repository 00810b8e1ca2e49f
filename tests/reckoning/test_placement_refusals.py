"""Warps that no loom holds, and pattern ends that no shift puts in slots: what is told, with the numbers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardmaker.model.loom import Heddles, Loom, Mark, Space
from cardmaker.model.problems import Refusal
from cardmaker.reckoning.stripes.stripe_counts import end_yarns
from cardmaker.reckoning.threading.placement import place, slots_only_ends
from tests.helpers.warps import BROAD_PADDLE, MIDDLE_BOX, ROW, SMALL_BOX, TREADLE_PAIR, one_heddle, pattern


def refusal(yarns: tuple[str, ...], loom: Loom, slots_only: dict[int, str] | None = None) -> Refusal:
    with pytest.raises(Refusal) as caught:
        place(yarns, loom, slots_only or {})
    return caught.value


def slots_refusal(notation: str, loom: Loom, *slots_only: str) -> str:
    made = pattern(notation, slots_only=slots_only)
    yarns = end_yarns(made)
    found = refusal(yarns, loom, slots_only_ends(made, yarns))
    assert found.path[0] == "yarns"
    assert found.path[2] == "spaces"
    return str(found)


@pytest.mark.parametrize(
    ("code", "loom", "expected"),
    [
        (
            "T08",
            SMALL_BOX,
            "31 ends; Small box has 12 slots and 11 holes, 23 spaces in all. "
            "The nearest count that fits and stays odd is 23; it can stay the same from both edges.",
        ),
        (
            "T27",
            BROAD_PADDLE,
            "48 ends; Broad paddle has 24 slots and 23 holes, 47 spaces in all. "
            "The nearest count that fits is 47; it can stay the same from both edges.",
        ),
        (
            "T26",
            one_heddle(12, 12, title="Even board"),
            "27 ends; Even board has 12 slots and 12 holes, 24 spaces in all. "
            "The nearest count that fits and stays odd is 23.",
        ),
        (
            "T23",
            MIDDLE_BOX,
            "40 ends; Middle box has 16 slots and 17 holes, 33 spaces in all. The nearest count that fits is 33.",
        ),
        (
            "T15",
            MIDDLE_BOX,
            "37 ends; Middle box has 16 slots and 17 holes, 33 spaces in all. "
            "The nearest count that fits and stays odd is 33; it can stay the same from both edges.",
        ),
        (
            "T10",
            one_heddle(2, 1, title="Toy"),
            "28 ends; Toy has 2 slots and 1 hole, 3 spaces in all. The nearest count that fits is 3.",
        ),
    ],
)
def test_too_many_ends_are_refused_with_the_numbers(code: str, loom: Loom, expected: str) -> None:
    found = refusal(end_yarns(pattern(ROW[code].stripes)), loom)
    assert (found.path, str(found)) == (("warp",), expected)


def test_long_sixty_is_refused_by_every_loom_with_one_heddle() -> None:
    for loom in (SMALL_BOX, MIDDLE_BOX, BROAD_PADDLE):
        assert str(refusal(end_yarns(pattern(ROW["T24"].stripes)), loom)).startswith(
            f"60 ends; {loom.title} has {loom.slots} slots"
        )


def test_a_loom_that_could_not_hold_a_single_odd_end_offers_no_count() -> None:
    pair = Loom("Toy", "toy", Heddles.TWO, 1, 1, Space.SLOT, Mark.ZERO, "same")  # two spaces alike hold one end
    assert refusal(("white",) * 3, pair).remedy == (
        "The nearest count that fits and stays odd is 1; it can stay the same from both edges."
    )
    assert (
        "and so holds 0 ends" in refusal(("white",), replace(pair, holes=0)).message
    )  # no file can tell of such a one
    assert "and so holds 1 end." in refusal(("white",) * 3, pair).message


def test_a_warp_without_ends_is_refused() -> None:
    found = refusal((), SMALL_BOX)
    assert (found.path, str(found)) == (
        ("warp",),
        "The warp has no ends. Write at least one stripe, as in `9 white`.",
    )


@pytest.mark.parametrize("loom", [SMALL_BOX, MIDDLE_BOX, BROAD_PADDLE], ids=lambda loom: loom.stem)
def test_cords_at_both_edges_of_an_even_tape_are_refused(loom: Loom) -> None:
    assert slots_refusal(ROW["T19"].stripes, loom, "Bn") == (
        f"1 of the 2 ends that must lie in slots (Bn) falls in a hole of {loom.title}, however the warp is shifted. "
        "There must be an odd number of other ends between each two of them; 21 or 23 ends in all would do."
    )


def test_sparks_with_two_ends_between_are_refused() -> None:
    assert slots_refusal(ROW["T22"].stripes, MIDDLE_BOX, "Re") == (
        "1 of the 3 ends that must lie in slots (Re) falls in a hole of Middle box, however the warp is shifted. "
        "There must be an odd number of other ends between each two of them; 23 or 27 ends in all would do."
    )


def test_the_fewest_in_holes_are_told_whichever_way_the_warp_is_shifted() -> None:
    # red at 3, 6 and 9: two odd, one even
    assert slots_refusal("2 Gr 1 Re 2 Wh 1 Re 2 Wh 1 Re 5 Gr", MIDDLE_BOX, "Re").startswith("1 of the 3 ends")


def test_slot_ends_side_by_side_can_never_be() -> None:
    assert slots_refusal("4 Wh 2 Re 5 Wh", SMALL_BOX, "Re") == (
        "1 of the 2 ends that must lie in slots (Re) falls in a hole of Small box, however the warp is shifted. "
        "Of two ends side by side one is always in a hole: put an end of another yarn between them."
    )


def test_a_full_heddle_leaves_no_room_to_shift() -> None:
    full = "11 Wh 1 Re 11 Wh"  # red is the middle end of 23, in the middle hole of Small box
    assert slots_refusal(full, SMALL_BOX, "Re") == (
        "The end that must lie in a slot (Re) falls in a hole, and the warp fills Small box, so it cannot shift. "
        "Use a loom with more spaces; 21 ends in all would do."
    )
    assert place(end_yarns(pattern("10 Wh 1 Re 10 Wh")), SMALL_BOX, {11: "Re"}).shifted == 1
    assert "22 ends in all would do" in slots_refusal("9 Wh 2 Bu 1 Re 11 Wh", SMALL_BOX, "Re")


def test_all_that_fall_in_holes_of_a_full_heddle_are_counted() -> None:
    # the holes of Small box are the even spaces, and 23 ends fill it
    assert slots_refusal("1 Wh 1 Re 19 Wh 1 Re 1 Wh", SMALL_BOX, "Re") == (
        "2 of the 2 ends that must lie in slots (Re) fall in holes, and the warp fills Small box, so it cannot shift. "
        "Use a loom with more spaces; 21 ends in all would do."
    )
    assert slots_refusal("1 Wh 1 Re 9 Wh 1 Re 9 Wh 1 Re 1 Wh", SMALL_BOX, "Re") == (
        "3 of the 3 ends that must lie in slots (Re) fall in holes, and the warp fills Small box, so it cannot shift. "
        "Use a loom with more spaces."
    )


def test_every_yarn_that_must_lie_in_slots_is_named_and_the_first_is_pointed_at() -> None:
    made = pattern("3 Wh 1 Re 2 Wh 1 Bn 3 Wh", slots_only=("Bn", "Re"))  # ends 4 and 7
    found = refusal(end_yarns(made), SMALL_BOX, slots_only_ends(made, end_yarns(made)))
    assert found.path == ("yarns", "Re", "spaces")
    assert found.message.startswith("1 of the 2 ends that must lie in slots (Re and Bn) falls in a hole of Small box")


def test_with_two_heddles_no_end_is_in_slots_only() -> None:
    assert slots_refusal(ROW["T21"].stripes, TREADLE_PAIR, "Re") == (
        "`spaces: slots` (Re) cannot be kept on Treadle pair: with two heddles every end passes a hole of one. "
        "Use a loom with one heddle, or take `spaces: slots` out."
    )


def test_one_more_than_two_heddles_hold_is_refused() -> None:
    assert str(refusal(("white",) * 61, TREADLE_PAIR)) == (
        "61 ends; Treadle pair has 31 slots and 30 holes in each of two heddles that are the same, 61 spaces in all, "
        "and so holds 60 ends. The nearest count that fits and stays odd is 59; it can stay the same from both edges."
    )


def test_one_more_than_opposite_heddles_hold_is_refused() -> None:
    front = replace(TREADLE_PAIR, back_heddle="opposite")
    assert str(refusal(("white",) * 62, front)).startswith("62 ends; Treadle pair has 31 slots and 30 holes, 61 spaces")


def test_a_pair_that_does_not_say_how_its_heddles_compare_is_refused() -> None:
    found = refusal(("white",) * 9, replace(TREADLE_PAIR, back_heddle=None))
    assert (found.path, str(found)) == (
        ("warp",),
        "Treadle pair has two heddles, and does not say whether they are alike. "
        "Write `back_heddle: same` or `back_heddle: opposite` in the loom's file.",
    )
