"""The plan put together: which loom is taken, what is said when none will do, and the other looms at hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Measurement, Pattern, WantedLength
from cardmaker.model.plan import Colour, OtherLoom, Plan
from cardmaker.model.problems import Refusal
from cardmaker.reckoning.planning import make_plan, smallest_loom
from cardmaker.wording.loom_words import on_other_loom
from tests.helpers.boards import zigzag
from tests.helpers.warps import BROAD_PADDLE, MIDDLE_BOX, ROW, SMALL_BOX, TREADLE_PAIR, one_heddle, pattern

LOOMS = (TREADLE_PAIR, BROAD_PADDLE, MIDDLE_BOX, SMALL_BOX)


def linen(notation: str, *slots_only: str, weft: str = "") -> Pattern:
    """A pattern whose yarns are all 20/2 linen; ``weft`` is one more yarn when it is in no stripe."""
    made = pattern(notation, slots_only=slots_only)
    yarns = [replace(yarn, count="20/2") for yarn in made.yarns]
    if weft:
        yarns.append(replace(yarns[0], name=weft, slots_only=False))
    return replace(made, yarns=tuple(yarns), weft=weft)


def planned(made: Pattern, loom: Loom, *at_hand: Loom) -> Plan:
    return make_plan(made, loom, at_hand=at_hand)


@pytest.mark.parametrize(
    ("code", "expected"),
    [
        ("T03", "Small box"),
        ("T12", "Small box"),
        ("T08", "Middle box"),
        ("T23", "Broad paddle"),
        ("T24", "Treadle pair"),
    ],
)
def test_the_smallest_loom_that_holds_the_warp_is_taken(code: str, expected: str) -> None:
    assert smallest_loom(linen(ROW[code].stripes), LOOMS).title == expected


def test_one_heddle_goes_before_two_and_of_two_alike_the_first_by_name() -> None:
    pair = replace(TREADLE_PAIR, title="Low pair", slots=17, holes=17)  # holds 33, as the Middle box does
    t08 = linen(ROW["T08"].stripes)
    assert smallest_loom(t08, (pair, BROAD_PADDLE)) == BROAD_PADDLE
    assert smallest_loom(t08, (pair,)) == pair
    twins = (one_heddle(17, 16, title="Quay box"), one_heddle(17, 16, title="Loft box"))
    assert smallest_loom(t08, twins).title == smallest_loom(t08, twins[::-1]).title == "Loft box"


def test_a_loom_on_which_bound_ends_would_lie_in_holes_is_passed_over() -> None:
    full = "11 Wh 1 Re 11 Wh"  # 23 ends fill the Small box, with the red one in the middle hole
    assert smallest_loom(linen(full), LOOMS) == SMALL_BOX
    assert smallest_loom(linen(full, "Re"), LOOMS) == MIDDLE_BOX


def test_when_none_holds_it_the_largest_says_why() -> None:
    with pytest.raises(Refusal, match=r"^61 ends; Treadle pair has 31 slots"):
        smallest_loom(linen("61 Wh"), LOOMS)


def test_without_any_loom_one_must_be_described() -> None:
    with pytest.raises(Refusal) as refused:
        smallest_loom(linen("8 Wh"), ())
    assert refused.value.path == ("warp",)
    assert str(refused.value) == "There is no loom at hand. Describe one in a file and name it with --loom."


def test_a_loom_that_is_too_small_names_one_that_holds_the_warp() -> None:
    with pytest.raises(Refusal) as refused:
        planned(linen(ROW["T08"].stripes), SMALL_BOX, *LOOMS)
    assert refused.value.path == ("warp",)
    assert refused.value.message == "31 ends; Small box has 12 slots and 11 holes, 23 spaces in all."
    assert refused.value.remedy == (
        "The nearest count that fits and stays odd is 23; it can stay the same from both edges. "
        "Middle box holds it as it is."
    )


def test_a_loom_that_is_too_small_alone_says_so_alone() -> None:
    with pytest.raises(Refusal) as refused:
        planned(linen(ROW["T08"].stripes), SMALL_BOX, SMALL_BOX)
    assert (
        refused.value.remedy == "The nearest count that fits and stays odd is 23; it can stay the same from both edges."
    )


def test_how_the_warp_sits_on_the_other_looms() -> None:
    """T08 from the loom table: empty 8 on either side of the paddle, and too wide for the small box."""
    small, broad = planned(linen(ROW["T08"].stripes), MIDDLE_BOX, SMALL_BOX, MIDDLE_BOX, BROAD_PADDLE).other_looms
    assert small == OtherLoom(SMALL_BOX, None, "too small: 23 ends at most")
    assert (broad.title, on_other_loom(broad)) == ("Broad paddle", "L15, a slot, to R15; empty: 8 left, 8 right.")
    assert broad.placement is not None
    assert (broad.placement.empty_left, broad.placement.empty_right, broad.why_not) == (8, 8, "")


def test_bound_ends_may_keep_a_warp_off_another_loom_that_is_wide_enough() -> None:
    (small,) = planned(linen("11 Wh 1 Re 11 Wh", "Re"), MIDDLE_BOX, SMALL_BOX).other_looms
    assert small == OtherLoom(SMALL_BOX, None, "thick ends would lie in holes")


def test_bound_ends_shift_on_another_loom_as_well() -> None:
    (broad,) = planned(linen(ROW["T21"].stripes, "Re"), MIDDLE_BOX, BROAD_PADDLE).other_looms
    assert (
        on_other_loom(broad) == "L14, a hole, to R16; empty: 9 left, 7 right."
    )  # from the loom table: one space to the right
    assert broad.placement is not None
    assert broad.placement.shifted == 1


def test_the_colours_with_their_ends_in_holes_and_slots() -> None:
    """T08 on the Middle box begins in a slot, so the table's two kinds swap; a weft that is in no stripe comes last."""
    found = planned(linen(ROW["T08"].stripes, weft="Gr"), MIDDLE_BOX)
    assert found.colours == (
        Colour("Re", "Re", 6, 2, 4),
        Colour("Wh", "Wh", 19, 11, 8),
        Colour("Bu", "Bu", 6, 2, 4),
        Colour("Gr", "Gr", 0, 0, 0),
    )
    assert [colour.yarn for colour in planned(linen("8 Wh"), SMALL_BOX).colours] == ["Wh"]


def test_what_earlier_tapes_taught_goes_into_every_answer() -> None:
    """31 ends in 15 mm, 14 picks an inch, 400 mm left over of 2000, and 1440 mm of tape from the rest: a tenth."""
    record = Measurement(
        "2026-10-03",
        warp_mm=Fraction(2000),
        tape_mm=Fraction(1440),
        width_mm=Fraction(15),
        picks_per_inch=Fraction(14),
        leftover_mm=Fraction(400),
    )
    wish = WantedLength(finished_mm=Fraction(1800), shrinkage=Fraction(0))
    found = planned(replace(linen(ROW["T08"].stripes), measured=(record,), length=wish), MIDDLE_BOX)
    assert found.learned_from == ("2026-10-03",)
    assert (found.lengths.take_up, found.lengths.waste_mm) == (Fraction(1, 10), Fraction(400))
    assert found.lengths.warp_mm == 2400  # 1800 / 0.9 + 400
    assert (found.width.likely_mm, found.width.basis) == (Fraction(15), "measured")
    assert (found.weft.picks_per_inch, found.weft.basis) == (Fraction(14), "measured")
    assert planned(linen("8 Wh"), MIDDLE_BOX).learned_from == ()


def test_a_given_warp_is_wound_whatever_the_file_asks_for() -> None:
    found = make_plan(linen("8 Wh"), MIDDLE_BOX, warp_mm=Fraction(3000))
    assert (found.lengths.wind_mm, found.lengths.request) == (Fraction(3000), "warp")


def test_bound_ends_shift_the_warp_of_the_plan() -> None:
    assert planned(linen(ROW["T21"].stripes, "Re"), MIDDLE_BOX).placement.shifted == 1


def test_without_the_bench_only_the_plan_of_the_loom_is_made() -> None:
    made = linen(ROW["T08"].stripes)
    bare, whole = make_plan(made, MIDDLE_BOX, with_bench=False), make_plan(made, MIDDLE_BOX)
    assert (bare.rescue, bare.tension, bare.pace, bare.beam) == (None, None, None, None)
    assert whole.rescue is not None
    assert whole.tension is not None
    assert (bare.pattern, bare.loom, bare.same_both_ways) == (made, MIDDLE_BOX, True)
    assert (bare.runs, bare.sheds, bare.winding) == (whole.runs, whole.sheds, whole.winding)
    assert (bare.amounts, bare.weft, bare.end_yarns) == (whole.amounts, whole.weft, whole.end_yarns)
    assert [run.ends for run in bare.runs] == [3, 5, 3, 9, 3, 5, 3]
    assert (bare.winding.trips, bare.weft.yarn, [each.yarn for each in bare.amounts]) == (31, "Re", ["Re", "Wh", "Bu"])


def test_a_record_of_this_loom_goes_before_a_younger_one_of_another() -> None:
    """In the width and in the picks; without what was learned, the youngest record of the file would count."""
    here = Measurement("2026-01-05", "Middle box", width_mm=Fraction(15), picks_per_inch=Fraction(14))
    elsewhere = Measurement("2026-06-05", "Broad paddle", width_mm=Fraction(20), picks_per_inch=Fraction(10))
    found = planned(replace(linen(ROW["T08"].stripes), measured=(here, elsewhere)), MIDDLE_BOX)
    assert (found.width.likely_mm, found.weft.picks_per_inch) == (Fraction(15), Fraction(14))
    assert found.learned_from == ("2026-01-05",)


def test_pegs_that_are_at_hand_are_asked_even_without_the_bench() -> None:
    board = replace(zigzag(8), title="Loft board")
    found = make_plan(linen(ROW["T08"].stripes), MIDDLE_BOX, pegs=(board,), with_bench=False)
    assert found.pegs is not None
    assert found.pegs.title == "Loft board"


def test_a_yarn_that_passes_no_hole_is_told_even_without_the_bench() -> None:
    """Cotton of 100 yards to the pound: 25.4 / (0.9 * sqrt(100)) = 2.82 mm, and holes of 2 mm."""
    rug = replace(pattern("9 Wh").yarns[0], fibre="cotton", yards_per_pound=Fraction(100))
    loom = replace(MIDDLE_BOX, hole_size_mm=Fraction(2))
    found = make_plan(replace(pattern("9 Wh"), yarns=(rug,)), loom, with_bench=False)
    assert "end_sticks" in [note.key for note in found.notes]
