"""Warnings, advice and cautions with the figures in them, each worked by hand. Their sentences are tested elsewhere."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

import pytest

from cardmaker.model.loom import Loom, Mark
from cardmaker.model.pattern import Measurement, Pattern, Pickup, PickupRow, Piece, WantedLength, Yarn
from cardmaker.model.peg_plan import Pegs
from cardmaker.model.plan import Note, Plan
from cardmaker.model.units import MM_PER_INCH, MM_PER_YARD
from cardmaker.reckoning.planning import make_plan
from tests.helpers.boards import zigzag
from tests.helpers.warps import BROAD_PADDLE, MIDDLE_BOX, ROW, SMALL_BOX, TREADLE_PAIR, one_heddle, pattern

FINE, THICK = "20/2", "12/2"  # linen: the square root of 20/12 is 1.29, so the second is thick beside the first


def linen(notation: str, thick: str = "", slots_only: tuple[str, ...] = (), **more: object) -> Pattern:
    made = pattern(notation, slots_only=slots_only)
    yarns = tuple(replace(yarn, count=THICK if yarn.name == thick else FINE) for yarn in made.yarns)
    return replace(made, yarns=yarns, **more)  # type: ignore[arg-type]


def planned(made: Pattern, loom: Loom = MIDDLE_BOX, **more: object) -> Plan:
    return make_plan(made, loom, **more)  # type: ignore[arg-type]


def note(found: Plan, key: str) -> Note | None:
    notes = [each for each in found.notes if each.key == key]
    assert len(notes) <= 1
    return notes[0] if notes else None


def values(found: Plan, key: str) -> Mapping[str, str | int | Fraction]:
    told = note(found, key)
    assert told is not None
    return told.values


# Thick ends


def test_thick_ends_in_holes_that_a_shift_would_help() -> None:
    found = planned(linen(ROW["T20"].stripes, "Bu"), BROAD_PADDLE)  # ends 8, 16 and 24 of 31, from L15, a slot
    assert note(found, "thick_shift") == Note(
        "warning", "placement", "thick_shift", {"count": 3, "of": 3, "yarn": "Bu"}
    )
    assert found.notes[0].key == "thick_shift"
    assert note(planned(linen(ROW["T20"].stripes, "Bu", ("Bu",)), BROAD_PADDLE), "thick_shift") is None


def test_thick_ends_in_holes_that_another_count_would_help() -> None:
    found = planned(linen(ROW["T19"].stripes, "Bn"), SMALL_BOX)  # the cords at the edges of 22: one of them in a hole
    assert note(found, "thick_counts") == Note(
        "warning", "placement", "thick_counts", {"count": 1, "of": 2, "yarn": "Bn", "nearest": "21 or 23"}
    )


def test_a_thick_yarn_in_slots_does_not_hide_another_in_holes() -> None:
    made = linen("1 Bn 2 Wh 1 Re 19 Wh", "Bn")  # 23 ends fill the Small box: end 1 in a slot, end 4 in a hole
    both = replace(made, yarns=tuple(replace(yarn, count=FINE if yarn.name == "Wh" else THICK) for yarn in made.yarns))
    told = [each.values for each in planned(both, SMALL_BOX).notes if each.key.startswith("thick")]
    assert [(each["yarn"], each["count"], each["of"]) for each in told] == [("Re", 1, 1)]


def test_thick_ends_that_nothing_helps() -> None:
    found = planned(linen(ROW["T19"].stripes, "Bn"), TREADLE_PAIR)
    assert note(found, "thick_in_hole") == Note(
        "warning", "placement", "thick_in_hole", {"count": 2, "of": 2, "yarn": "Bn"}
    )


@pytest.mark.parametrize(("yards", "is_told"), [(2500, True), (2501, False)])
def test_an_end_is_thick_from_six_fifths_on(yards: int, is_told: bool) -> None:
    """3600 yards to the pound are 54 diameters to the inch (0.9 * 60), 2500 are 45: 54 / 45 is 6 / 5."""
    made = pattern("3 Wh 1 Re 3 Wh")  # the middle end of seven, in the middle hole of the Small box
    white, red = made.yarns
    yarns = replace(white, yards_per_pound=Fraction(3600)), replace(red, yards_per_pound=Fraction(yards))
    found = planned(replace(made, yarns=yarns), SMALL_BOX)
    assert (note(found, "thick_shift") is not None) is is_told


def test_a_yarn_of_unknown_thickness_is_not_called_thick() -> None:
    made = linen("3 Wh 1 Re 3 Wh", "Re")
    white, red = made.yarns
    unknown = replace(red, count="", ends_per_inch=Fraction(20))
    assert note(planned(replace(made, yarns=(white, unknown)), SMALL_BOX), "thick_shift") is None
    unknown = replace(white, count="", ends_per_inch=Fraction(50))
    assert note(planned(replace(made, yarns=(unknown, red)), SMALL_BOX), "thick_shift") is None
    assert note(planned(made, SMALL_BOX), "thick_shift") is not None


# Where the warp lies


def test_a_shifted_warp_says_to_which_side_and_for_which_yarn() -> None:
    right = planned(linen(ROW["T21"].stripes, slots_only=("Re",)))
    assert note(right, "moved") == Note("advice", "shift", "moved", {"side": "right", "yarn": "Re"})
    left = planned(linen("1 Re 15 Wh", slots_only=("Re",)), one_heddle(17, 16, Mark.ONE))
    assert values(left, "moved") == {"side": "left", "yarn": "Re"}
    assert note(planned(linen(ROW["T21"].stripes)), "moved") is None


def test_a_tape_that_is_not_the_same_both_ways_can_be_turned() -> None:
    assert note(planned(linen(ROW["T09"].stripes)), "turned") == Note("advice", "order", "turned", {})
    assert note(planned(linen(ROW["T08"].stripes)), "turned") is None


UNEVEN = "5 Bu 3 Wh 1 Re 3 Wh 1 Re 3 Wh 1 Re 2 Wh 2 Bu"


def test_a_figure_counted_from_the_left_is_another_from_the_other_edge() -> None:
    """Post 1 lifted and post 3 dropped: threaded from the right edge post 1 is the last of the three."""
    rows = (PickupRow("up"), PickupRow("down", (1,)), PickupRow("up", drop=(3,)), PickupRow("down"))
    made = linen(UNEVEN, slots_only=("Re",), pickup=Pickup("Re", rows))
    assert note(planned(made), "turned") is None
    assert note(planned(made), "other_figure") == Note("advice", "order", "other_figure", {})
    even = (PickupRow("up"), PickupRow("down", (2,)))  # the middle post alone: the same, turned round
    both = planned(replace(made, pickup=Pickup("Re", (*even, PickupRow("up"), PickupRow("down")))))
    assert (note(both, "turned") is None, note(both, "other_figure")) == (False, None)


def test_a_loom_that_nobody_asked_for_is_told_where_there_was_a_choice() -> None:
    made = linen(ROW["T08"].stripes)
    two = (MIDDLE_BOX, BROAD_PADDLE)
    found = planned(made, at_hand=two, loom_was_chosen=True)
    assert note(found, "chosen_loom") == Note("advice", "loom", "chosen_loom", {"loom": "Middle box"})
    assert note(planned(made, at_hand=two), "chosen_loom") is None
    assert note(planned(made, at_hand=two[:1], loom_was_chosen=True), "chosen_loom") is None


# Weft


def test_a_weft_unlike_the_edges_is_told_with_both() -> None:
    green = Yarn("Gr", "linen", FINE)
    t08, t09 = (linen(ROW[code].stripes, weft="Gr") for code in ("T08", "T09"))
    found = planned(replace(t08, yarns=(*t08.yarns, green)))
    assert note(found, "weft_differs") == Note("advice", "weft", "weft_differs", {"weft": "Gr", "edge": "Re"})
    assert values(planned(replace(t09, yarns=(*t09.yarns, green))), "weft_differs")["edge"] == "Wh and Re"
    assert note(planned(linen(ROW["T08"].stripes)), "weft_differs") is None


def test_a_weft_like_one_edge_shows_at_the_other() -> None:
    found = planned(linen(ROW["T09"].stripes))
    assert note(found, "edges_differ") == Note("advice", "weft", "edges_differ", {"weft": "Wh", "edge": "Re"})
    assert values(planned(linen(ROW["T09"].stripes, weft="Re")), "edges_differ") == {"weft": "Re", "edge": "Wh"}
    assert note(planned(linen(ROW["T08"].stripes)), "edges_differ") is None
    assert note(planned(linen("1 Re 8 Wh 1 Re")), "edges_differ") is None


# Lengths and weights


def test_a_length_that_nobody_gave_is_told() -> None:
    found = planned(linen("8 Wh"))
    assert note(found, "guessed_length") == Note("advice", "lengths", "guessed_length", {"length": Fraction(1800)})
    assert note(planned(linen("8 Wh", length=WantedLength(finished_mm=Fraction(1800)))), "guessed_length") is None


def test_a_short_warp_says_how_much_of_it_becomes_tape() -> None:
    """1000 mm less 400 of waste, less a tenth for take-up, are 540 mm: 54 % of the warp."""
    wish = WantedLength(take_up=Fraction(1, 10), shrinkage=Fraction(0))
    loom = replace(MIDDLE_BOX, waste_mm=Fraction(400))
    found = planned(linen("8 Wh", length=wish), loom, warp_mm=Fraction(1000))
    assert note(found, "short_warp") == Note("warning", "lengths", "short_warp", {"share": 54})
    assert note(planned(linen("8 Wh", length=wish), loom, warp_mm=Fraction(2000)), "short_warp") is None


def test_every_yarn_that_cannot_be_weighed_is_told_once() -> None:
    made = linen(ROW["T08"].stripes, weft="Gr")
    red, white, blue = made.yarns
    yarns = (
        replace(red, count="", ends_per_inch=Fraction(50)),
        replace(white, count="", yards_per_pound=Fraction(3000)),
        replace(blue, count="", metres_per_kg=Fraction(6048)),
        Yarn("Gr", "linen"),
    )
    found = planned(replace(made, yarns=yarns, width_mm=Fraction(16)))
    assert [each for each in found.notes if each.key == "no_weight"] == [
        Note("advice", "yarn", "no_weight", {"yarn": name}) for name in ("Re", "Gr")
    ]


# Holes


@pytest.mark.parametrize(
    ("hole", "key", "told"),
    [
        ("1", None, None),  # a knot of 0.5 mm yarn is 1 mm
        ("0.99", "knot_sticks", {"yarn": "Wh", "across": Fraction("0.5"), "hole": Fraction("0.99")}),
        ("0.5", "knot_sticks", {"yarn": "Wh", "across": Fraction("0.5"), "hole": Fraction("0.5")}),
        ("0.44", "end_sticks", {"yarn": "Wh", "across": Fraction("0.5"), "hole": Fraction("0.44")}),
    ],
)
def test_what_a_yarn_of_half_a_millimetre_passes(hole: str, key: str | None, told: dict[str, str] | None) -> None:
    """Ends at 60.96 to the inch are taken as 1.2 to the diameter: 25.4 * 1.2 / 60.96 is 0.5 mm."""
    made = pattern("8 Wh")
    yarns = (replace(made.yarns[0], ends_per_inch=Fraction("60.96")),)
    found = planned(replace(made, yarns=yarns), replace(SMALL_BOX, hole_size_mm=Fraction(hole)))
    notes = [each for each in found.notes if each.key in ("knot_sticks", "end_sticks")]
    assert notes == ([] if key is None else [Note("warning", "yarn", key, told or {})])


# Pick-up, pegs and cautions


def test_two_rows_that_follow_each_other_in_one_shed_are_told_together() -> None:
    """The last row and the first one follow each other too, since the rows begin again."""
    up, down = PickupRow("up"), PickupRow("down")
    for rows, told in (
        ((up, down, up, down, up), "5 and then 1 again"),
        ((up, up, down), "1 and 2"),
        ((down, up, up, up, down), "2 and 3, 3 and 4, 5 and then 1 again"),
        ((up, up, down, down, up, up, down, down), "1 and 2, 3 and 4, 5 and 6, 7 and 8"),
        ((up, up, down, down) * 3, "1 and 2, 3 and 4, 5 and 6, 3 more pairs"),
    ):
        found = planned(linen(UNEVEN, slots_only=("Re",), pickup=Pickup("Re", rows)))
        assert note(found, "same_shed") == Note("warning", "pickup", "same_shed", {"rows": told})
        assert found.notes[0].kind == "warning"
    assert note(planned(linen(UNEVEN, slots_only=("Re",), pickup=Pickup("Re", (up, down)))), "same_shed") is None


# Measured tapes


@pytest.mark.parametrize(
    ("named", "meant"),
    [
        ("Smallbox", "Small box"),
        ("small-box", "Small box"),
        ("Smal box", "Small box"),
        ("Middlebox", "Middle box"),
        ("BROAD  PADDLE", "Broad paddle"),
        ("small box ", None),
        ("Middle box", None),
        ("Grandmother's loom", None),
        ("", None),
    ],
)
def test_a_loom_of_a_record_that_is_nearly_one_at_hand_is_told(named: str, meant: str | None) -> None:
    """Its stem is *small box*, as the helper names it: a hyphen makes it another loom's record."""
    made = linen(ROW["T08"].stripes, measured=(Measurement("2026-11-20", named, width_mm=Fraction(15)),))
    found = planned(made, at_hand=(SMALL_BOX, MIDDLE_BOX, BROAD_PADDLE))
    told = note(found, "loom_meant")
    values = {"date": "2026-11-20", "named": named, "loom": meant}
    assert told == (Note("warning", "measured", "loom_meant", values) if meant else None)  # type: ignore[arg-type]


def test_of_several_long_floats_the_longest_is_told() -> None:
    """Post 1 floats over rows 1 to 7, post 2 over rows 1 to 9 of ten."""
    both, second = PickupRow("down", (1, 2)), PickupRow("down", (2,))
    rows = (*(PickupRow("up"), both) * 3, PickupRow("up"), second, PickupRow("up"), PickupRow("down"))
    made = linen("6 Wh 1 Re 1 Wh 1 Re 6 Wh", slots_only=("Re",), pickup=Pickup("Re", rows))
    found = planned(made, one_heddle(17, 16))
    assert note(found, "long_float") == Note("warning", "pickup", "long_float", {"end": 2, "rows": 9, "sensible": 5})


def test_a_longer_way_round_than_was_asked_for() -> None:
    board: Pegs = zigzag(6)
    made = linen("10 Wh")
    found = planned(made, pegs=(board,), warp_mm=Fraction(1500))
    assert found.pegs is not None
    spare = found.pegs.spare_mm  # some 1.6 m are the least that the board gives
    assert spare > 75
    assert note(found, "longer_route") == Note(
        "advice", "pegs", "longer_route", {"pegs": "Test board", "spare": spare, "more": 10 * spare}
    )
    close = planned(made, pegs=(board,), warp_mm=found.pegs.length_mm / Fraction(105, 100))  # a twentieth more: enough
    assert note(close, "longer_route") is None
    over = planned(made, pegs=(board,), warp_mm=found.pegs.length_mm / Fraction(106, 100))
    assert note(over, "longer_route") is not None


def test_ends_that_stand_higher_than_the_peg() -> None:
    """Ten ends of 0.5 mm stand 5 mm high: as high as the peg is well, more is not."""
    made = pattern("10 Wh")
    made = replace(made, yarns=(replace(made.yarns[0], ends_per_inch=Fraction("60.96")),))
    board = replace(zigzag(6), height_mm=Fraction(5))
    warp = 3 * MM_PER_YARD
    assert note(planned(made, pegs=(board,), warp_mm=warp), "stack_too_high") is None
    low = replace(board, height_mm=Fraction("4.25"))
    assert note(planned(made, pegs=(low,), warp_mm=warp), "stack_too_high") == Note(
        "warning", "pegs", "stack_too_high", {"ends": 10, "stack": Fraction(5), "peg": Fraction("4.25")}
    )


def test_cautions_come_last_and_name_the_pull() -> None:
    """40 ends of 100 tex at 0.5 cN/tex pull 20 N, like 2.04 kg."""
    made = pattern("40 Wh")
    made = replace(made, yarns=(replace(made.yarns[0], metres_per_kg=Fraction(10_000)),))
    found = planned(made, BROAD_PADDLE)
    assert found.notes[-3:] == (
        Note("caution", "use", "children", {}),
        Note("caution", "tension", "pull", {"newtons": 20, "kilograms": "2"}),
        Note("caution", "figures", "estimates", {}),
    )


def test_a_warp_across_a_room_is_a_caution() -> None:
    chairs = Pegs("Chairs", "chairs", "span", (), Fraction(20), None, "", (), (), Fraction(900), Fraction(5000))
    found = planned(linen("8 Wh"), pegs=(chairs,), warp_mm=100 * MM_PER_INCH)
    assert note(found, "across_a_room") == Note("caution", "pegs", "across_a_room", {})
    assert note(planned(linen("8 Wh"), pegs=(zigzag(6),)), "across_a_room") is None
    near = replace(chairs, shortest_mm=Fraction(300))
    assert note(planned(linen("8 Wh"), pegs=(near,), warp_mm=Fraction(700)), "across_a_room") is None  # under a metre


def test_a_fringe_is_no_tape() -> None:
    """36 in less 20 of waste: one mark of 8 in takes 8/0.97/0.88 + 6 = 15.37 in. 8 and 0.5 in are tape: 24 %."""
    marks = (Piece("mark", 8 * MM_PER_INCH, 12, 3 * MM_PER_INCH),)
    wish = WantedLength(pieces=marks, take_up=Fraction(12, 100), shrinkage=Fraction(3, 100))
    loom = replace(SMALL_BOX, waste_mm=20 * MM_PER_INCH)
    found = planned(linen("9 Wh", length=wish), loom, warp_mm=36 * MM_PER_INCH)
    assert note(found, "short_warp") == Note("warning", "lengths", "short_warp", {"share": 24})
    assert note(found, "fewer_pieces") == Note("warning", "lengths", "fewer_pieces", {"come": 1, "wanted": 12})


def test_no_place_to_wind_is_told() -> None:
    wanted = Fraction(300_000)
    found = planned(linen("9 Wh"), pegs=(zigzag(6),), warp_mm=wanted)
    assert found.pegs is None
    assert note(found, "no_pegs") == Note("caution", "pegs", "no_pegs", {"length": wanted})
    assert note(planned(linen("9 Wh"), warp_mm=wanted), "no_pegs") is None  # nobody asked


def test_a_loom_that_does_not_say_where_its_shuttle_flies_is_told_so() -> None:
    found = planned(linen("9 Wh"), replace(MIDDLE_BOX, shuttle_stated=False))
    assert note(found, "no_shuttle") == Note(
        "advice", "loom", "no_shuttle", {"loom": "Middle box", "shuttle": "down: left, up: right"}
    )
    assert note(planned(linen("9 Wh")), "no_shuttle") is None
