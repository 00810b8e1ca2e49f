"""The warp on its beam, worked by hand and as laws."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from math import floor, hypot, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from shapely.geometry import Point, box

from cardmaker.model.loom import Beam, Heddles, Loom, Packing, Space
from cardmaker.model.pattern import Piece
from cardmaker.model.problems import Refusal
from cardmaker.reckoning.amounts.pieces import pieces_still_to_come, planned_pieces
from cardmaker.reckoning.on_loom.beam import (
    MOST_TURNS,
    advances,
    final_diameter_mm,
    let_off_lengths,
    let_off_mm,
    packing_share_mm,
    slipped_edge_mm,
    stick_turns,
    still_to_weave_mm,
    tape_left,
    turns_on_beam,
    warp_layer_mm,
    warp_on_beam,
    warp_on_turns_mm,
)
from tests.helpers.stick_bump import bump_mm
from tests.helpers.warps import lengths_of

INCH = 25.4
SMALL = Loom(
    title="Small box",
    stem="small-box",
    heddles=Heddles.ONE,
    slots=12,
    holes=11,
    outer=Space.SLOT,
    beam=Beam(Fraction(30), "stick", 4),
    packing=Packing(Fraction(2), Fraction(60), 3),
    weaving_zone_mm=(Fraction(50), Fraction(130)),
)
BARE_BEAM = Beam(Fraction(30), "ratchet", 8)
WARP = lengths_of(2500, 500, Fraction(12, 100), Fraction(3, 100))
BEAMLESS = replace(SMALL, beam=None)

TURNS = "a beam needs a diameter, and neither warp nor build-up can be negative"
ON_TURNS = "a beam needs a diameter, and neither turns nor build-up can be negative"
LAYER = "ends, diameter and spread must be above nought, and the fill a share of one"
BUMP = "the roll must have a radius and the stick no negative thickness or breadth"


def test_build_up_is_warp_and_its_share_of_the_sticks() -> None:
    assert packing_share_mm(SMALL.packing) == pytest.approx(2 / 3)
    assert packing_share_mm(None) == 0
    wound = warp_on_beam(SMALL, Fraction(1, 2), WARP)
    assert wound.build_up_mm == pytest.approx(0.5 + 2 / 3)
    assert wound.turns == pytest.approx(turns_on_beam(2500, 30, 0.5 + 2 / 3))
    assert wound.let_off == let_off_lengths(2500, 500, Fraction(12, 100), SMALL, wound.build_up_mm)
    assert wound.beam_diameter_mm == 30
    assert wound.tape_left == tape_left(30.0, wound.build_up_mm, WARP)
    assert wound.final_diameter_mm == pytest.approx(30 + 2 * wound.turns * (0.5 + 2 / 3))


def test_sticks_go_in_while_there_is_warp_to_cover_them() -> None:
    assert stick_turns(22.3, 3) == (0, 3, 6, 9, 12, 15, 18, 21)
    assert stick_turns(21, 3) == (0, 3, 6, 9, 12, 15, 18)  # nothing would lie on those of turn 21
    assert stick_turns(21.01, 3)[-1] == 21
    assert stick_turns(0.5, 1) == (0,)
    assert stick_turns(4, 1) == (0, 1, 2, 3)
    assert warp_on_beam(SMALL, 0.5, WARP).sticks == 2 * len(stick_turns(turns_on_beam(2500, 30, 7 / 6), 3))


def test_a_loom_without_packing_takes_no_sticks() -> None:
    wound = warp_on_beam(replace(SMALL, packing=None), 0.5, WARP)
    assert (wound.sticks, wound.stick_turns, wound.slipped_edge_mm) == (0, (), None)


def test_the_full_beam_gives_exactly_the_promised_tape() -> None:
    warp, waste, take_up, shrinkage = Fraction(27432, 10), Fraction(508), Fraction(12, 100), Fraction(3, 100)
    rows = tape_left(30, 1.1, lengths_of(warp, waste, take_up, shrinkage))
    assert rows[0].tape_mm == float((warp - waste) * (1 - take_up) * (1 - shrinkage))
    assert rows[-1].turns == 0
    assert rows[-1].tape_mm == 0
    assert [row.turns for row in rows[1:]] == list(range(int(rows[0].turns), -1, -1))


def test_no_tape_is_left_when_only_waste_is() -> None:
    waste = warp_on_turns_mm(4, 30, 1.1)
    rows = {row.turns: row.tape_mm for row in tape_left(30, 1.1, lengths_of(2700, waste, 0.12, 0.03))}
    assert rows[4] == 0
    assert rows[3] == 0
    assert rows[5] == pytest.approx((pi * 5 * 35.5 - pi * 4 * 34.4) * 0.88 * 0.97)
    assert still_to_weave_mm(100, WARP) == 0


@pytest.mark.parametrize("turns", range(1, 26))
def test_a_whole_number_of_turns_is_told_once(turns: int) -> None:
    rows = tape_left(30, 0.7, lengths_of(warp_on_turns_mm(turns, 30, 0.7), 10))
    assert [round(row.turns, 6) for row in rows] == list(range(turns, -1, -1))


def test_one_stop_lets_off_its_part_of_the_turn() -> None:
    """Four stops a turn on a bare 30 mm beam: π·30/4 = 23.6 mm and a little; 10 turns of 1 mm on, about π·50/4."""
    off = let_off_lengths(2500, 500, 0.12, SMALL, 1.0)
    assert off.nearly_empty_mm == pytest.approx(pi * 31 / 4, rel=0.03)
    assert let_off_mm(10, SMALL.beam or BARE_BEAM, 1.0) == pytest.approx(pi * 50 / 4, rel=0.01)
    assert off.full_mm > off.half_mm > off.nearly_empty_mm
    assert off.half_mm == pytest.approx(pi * final_diameter_mm(turns_on_beam(1250, 30, 1.0), 30, 1.0) / 4, rel=0.01)
    ratchet = let_off_lengths(2500, 500, 0.12, replace(SMALL, beam=BARE_BEAM), 1.0)
    assert ratchet.full_mm == pytest.approx(off.full_mm / 2, rel=0.01)


def test_the_stops_of_one_turn_add_up_to_it() -> None:
    stops = sum(let_off_mm(7 - each / 8, BARE_BEAM, 1.2) for each in range(8))
    assert stops == pytest.approx(warp_on_turns_mm(7, 30, 1.2) - warp_on_turns_mm(6, 30, 1.2))


def test_advances_by_hand() -> None:
    """A beam of 100/π mm without build-up and 10 stops lets off 10 mm a stop. 1000 mm of warp, 200 of waste.

    A zone of 100 mm: 800 mm are 8 zones, the first before any move, so 7. A zone of 95 mm takes 9 stops, 90 mm:
    95 + 7·90 = 725, 95 + 8·90 = 815, so 8. A zone of 6 mm: one stop of 10 mm at least, 80 moves (6 + 79·10 = 796).
    """
    beam = Beam(Fraction(100 / pi), "ratchet", 10)
    assert advances(1000, 200, 100, 0, beam, 0) == (10,) * 7
    assert advances(1000, 200, 95, 0, beam, 0) == (9,) * 8
    assert advances(1000, 200, 6, 0, beam, 0) == (1,) * 80
    assert advances(200, 200, 100, 0, beam, 0) == ()
    assert advances(1000, 0, 6, 0, beam, 0) == (1,) * 100  # 6 + 99·10 = 996, and the last stop empties the beam


def test_a_move_has_more_stops_as_the_roll_gets_thinner() -> None:
    """Ten turns of 1 mm on 30 mm, four stops: with n turns left one lets off π·(7.5 + n/2 − 1/16), the difference of
    n·(30 + n) and (n − ¼)·(30 + n − ¼): 39 mm of the first, and under 80/3 mm from 2.1 turns on.

    So a zone of 80 mm takes 2 stops at first and 3 in the end.
    """
    beam = Beam(Fraction(30), "stick", 4)
    wound = warp_on_turns_mm(10, 30, 1)
    moves = advances(wound, 0, 80, 0, beam, 1)
    left = 10.0
    for stops in moves[:-1]:
        assert stops == floor(80 / (pi * (7.5 + left / 2 - 1 / 16)))
        left -= stops / 4
    assert (moves[0], moves[-1], set(moves)) == (2, 3, {2, 3})
    off = let_off_lengths(wound, 0, 0, replace(SMALL, weaving_zone_mm=(Fraction(0), Fraction(80))), 1)
    assert (off.advances, off.stops_a_move) == (len(moves), (2, 3))


def test_the_last_move_takes_no_more_stops_than_there_are() -> None:
    """A turn of 100 mm in 10 stops, 204 mm in all: a zone of 100 mm, then 100 mm more, then 4 mm on part of a stop."""
    beam = Beam(Fraction(100 / pi), "ratchet", 10)
    assert advances(204, 0, 100, 0, beam, 0) == (10, 10)
    assert advances(204, 0, 99.5, 0, beam, 0) == (9, 9)
    assert advances(Fraction(2041, 10), 0, 94, 0, beam, 0) == (9, 9)


def test_advances_with_take_up_by_hand() -> None:
    """A fifth taken up: 800 mm of warp are 640 mm of tape, and a stop of 10 mm is worth 8.

    A zone of 80 mm takes 10 stops, and 640 mm are 8 zones, so 7 moves. One of 76 mm takes 9 stops, 72 mm:
    76 + 7·72 = 580, 76 + 8·72 = 652, so 8.
    """
    beam = Beam(Fraction(100 / pi), "ratchet", 10)
    fifth = Fraction(1, 5)
    assert advances(1000, 200, 80, fifth, beam, 0) == (10,) * 7
    assert advances(1000, 200, 76, fifth, beam, 0) == (9,) * 8


def test_a_stop_longer_than_the_zone_is_told() -> None:
    coarse = replace(SMALL, beam=Beam(Fraction(30), "stick", 1))
    assert let_off_lengths(2500, 500, 0.12, coarse, 1.0).longer_than_zone
    assert not let_off_lengths(2500, 500, 0.12, SMALL, 1.0).longer_than_zone
    fine = let_off_lengths(2500, 500, 0.12, SMALL, 1.0)
    assert fine.advances == len(advances(2500, 500, 80, 0.12, SMALL.beam or BARE_BEAM, 1.0))
    zoneless = let_off_lengths(2500, 500, 0.12, replace(SMALL, weaving_zone_mm=None), 1.0)
    assert (zoneless.advances, zoneless.stops_a_move, zoneless.longer_than_zone) == (None, None, False)
    assert (zoneless.full_mm, zoneless.half_mm) == (fine.full_mm, fine.half_mm)


def test_an_edge_off_a_pair_of_sticks_differs_by_its_circle_at_every_turn() -> None:
    """Wound 2 mm lower, at any radius a turn is 4π mm shorter than the others': 13 mm. Own derivation, acted out.

    While winding on, all ends are pulled alike: the low edge takes less warp, and gives less when it comes off. On a
    finished roll the edge has what the high circle took and needs only the low one.
    """
    wound = warp_on_beam(SMALL, 0.5, WARP)
    assert wound.slipped_edge_mm == slipped_edge_mm(2) == pytest.approx(4 * pi)
    for radius in (16, 22.5, 40):
        others, edge = 2 * pi * radius, 2 * pi * (radius - 2)
        assert others - edge == pytest.approx(slipped_edge_mm(2))


def test_full_wraps_of_packing_are_more_than_two_sticks_bridge() -> None:
    """The stick's bump, twice and spread over the circle, is the lower limit of what a pair adds to the radius."""
    for radius in (15, 20, 30):
        assert 0 < 2 * bump_mm(radius, 2) / (2 * pi) < 2 * bump_mm(radius, 2, 15) / (2 * pi) < 2
    assert 2 * bump_mm(16, 2, 15) / (2 * pi) == pytest.approx(1.7, abs=0.05)
    assert 2 * bump_mm(25, 2, 15) / (2 * pi) == pytest.approx(1.1, abs=0.05)


@pytest.mark.parametrize(("radius", "thickness", "breadth"), [(16, 2, 15), (25, 3, 0.0001), (12, 5, 8)])
def test_a_stick_against_the_hull_round_it(radius: float, thickness: float, breadth: float) -> None:
    """The warp round roll and stick is the hull of the two, measured as a polygon of very many sides."""
    roll = Point(0, 0).buffer(radius, quad_segs=4096)
    stick = box(-breadth / 2, radius, breadth / 2, radius + thickness)
    longer = roll.union(stick).convex_hull.length - 2 * pi * radius
    assert bump_mm(radius, thickness, breadth) == pytest.approx(longer, abs=1e-3)


def test_warp_too_wide_for_its_spread_is_heaped() -> None:
    assert warp_layer_mm(20, 0.5, 10) == 0.5
    assert warp_layer_mm(40, 0.5, 10) == pytest.approx(40 * pi * 0.25 / (4 * 10 * 0.8))
    assert warp_layer_mm(21, 0.5, 10, fill=1) == 0.5  # never thinner than an end


@given(
    warp=st.floats(1, 50_000), bare=st.floats(5, 200), build_up=st.floats(0, 5), more=st.floats(1, 5_000)
)  # fmt: skip
def test_turns_and_their_inverse(warp: float, bare: float, build_up: float, more: float) -> None:
    turns = turns_on_beam(warp, bare, build_up)
    assert warp_on_turns_mm(turns, bare, build_up) == pytest.approx(warp)
    assert turns_on_beam(warp + more, bare, build_up) > turns
    assert turns_on_beam(warp, bare, build_up + 0.1) < turns
    ring = pi / 4 * (final_diameter_mm(turns, bare, build_up) ** 2 - bare**2)
    assert ring == pytest.approx(warp * build_up, rel=1e-6, abs=1e-6 * bare**2)


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        (lambda: turns_on_beam(-1, 30, 1), TURNS),
        (lambda: turns_on_beam(1, 0, 1), TURNS),
        (lambda: turns_on_beam(1, 30, -1), TURNS),
        (lambda: warp_on_turns_mm(-1, 30, 1), ON_TURNS),
        (lambda: warp_on_turns_mm(1, 0, 1), ON_TURNS),
        (lambda: warp_on_turns_mm(1, 30, -1), ON_TURNS),
        (lambda: warp_layer_mm(0, 0.5, 10), LAYER),
        (lambda: warp_layer_mm(5, 0, 10), LAYER),
        (lambda: warp_layer_mm(5, 0.5, 0), LAYER),
        (lambda: warp_layer_mm(5, 1, 10, 0), LAYER),
        (lambda: warp_layer_mm(5, 1, 10, 1.2), LAYER),
        (lambda: stick_turns(5, 0), "sticks go in every whole number of turns, 1 or more"),
        (lambda: advances(1000, 100, 0, 0, BARE_BEAM, 1), "the weaving zone must be above nought"),
        (lambda: slipped_edge_mm(-1), "an edge drops by nought or more"),
        (lambda: bump_mm(0, 1), BUMP),
        (lambda: bump_mm(16, -1, 15), BUMP),
        (lambda: bump_mm(16, 2, -1), BUMP),
        (lambda: warp_on_beam(BEAMLESS, 0.5, WARP), "Small box has no beam in its file"),
    ],
)
def test_nonsense_is_refused(wrong: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=f"^{told}$"):
        wrong()


def test_what_is_barely_sensible_is_reckoned() -> None:
    assert bump_mm(16, 0) == 0  # no stick at all
    assert bump_mm(1, 0.2) > 0  # a rod of 2 mm
    assert turns_on_beam(0, 30, 0) == 0
    assert turns_on_beam(pi, 1, 0) == pytest.approx(1)  # once round a rod of 1 mm
    assert warp_on_turns_mm(0, 30, 0) == 0
    assert warp_on_turns_mm(1, 1, 0) == pytest.approx(pi)
    assert warp_layer_mm(1, 0.5, 0.5) == 0.5
    assert slipped_edge_mm(0) == 0
    assert still_to_weave_mm(500, WARP) == 0


def test_ends_that_find_room_side_by_side_are_one_layer_even_when_loosely_filled() -> None:
    """10 ends of 0.5 mm find room on 6 mm and just on 5; heaped to half, 10 pi 0.25 / (4 * 6 * 0.5) = 0.65 each.

    10 ends of 2 mm do not find room on 12 mm: 10 pi 4 / (4 * 12 * 0.8) = 3.2725.
    """
    assert warp_layer_mm(10, 0.5, 6, 0.5) == warp_layer_mm(10, 0.5, 5, 0.5) == 0.5
    assert warp_layer_mm(10, 2, 12) == pytest.approx(3.2725, abs=1e-4)


def test_a_zone_of_a_millimetre_is_a_zone() -> None:
    """Ten stops of 10 mm a turn; 30 mm of warp: 1 mm, then 11, 21 and 31."""
    beam = Beam(Fraction(100 / pi), "ratchet", 10)
    assert advances(30, 0, 1, 0, beam, 0) == advances(30, 0, Fraction(1, 2), 0, beam, 0) == (1, 1, 1)


def test_a_stop_is_longer_than_the_zone_by_the_tape_it_gives() -> None:
    """Four stops to a turn of 100 mm, a fifth taken up: 25 mm of warp are 20 of tape. A zone of 22 mm is longer."""
    beam = Beam(Fraction(100 / pi), "ratchet", 4)
    for zone, longer in ((19, True), (22, False), (26, False)):
        loom = replace(SMALL, beam=beam, weaving_zone_mm=(Fraction(0), Fraction(zone)))
        assert let_off_lengths(1000, 200, Fraction(1, 5), loom, 0).longer_than_zone is longer


def test_a_loom_without_a_zone_still_tells_what_a_stop_lets_off() -> None:
    with_zone, without = (
        let_off_lengths(2500, 500, 0.12, replace(SMALL, weaving_zone_mm=zone), 1.0)
        for zone in (SMALL.weaving_zone_mm, None)
    )
    assert (without.full_mm, without.half_mm, without.nearly_empty_mm) == (
        with_zone.full_mm,
        with_zone.half_mm,
        with_zone.nearly_empty_mm,
    )


def test_a_warp_of_more_turns_than_any_beam_takes_is_refused() -> None:
    """pi * 2,000 * 0.5 mm is 3,142 mm where nothing builds up, so four metres on such a wire are too many turns."""
    thin = replace(SMALL, beam=Beam(Fraction(1, 2), "stick", 4), packing=None)
    layer = Fraction(1, 10**9)
    with pytest.raises(Refusal, match=r"makes 2,54\d turns on the beam of Small box, 0\.5 mm across"):
        warp_on_beam(thin, layer, lengths_of(4000, 0))
    assert 1_900 < warp_on_beam(thin, layer, lengths_of(3100, 0)).turns < MOST_TURNS


def test_what_lies_in_front_of_the_first_pick_is_not_on_the_beam() -> None:
    """508 mm of waste, 169 of it in front: 500 mm on the beam still give 500 - 339 mm, and never more than the warp."""
    one_figure = replace(WARP, waste_front_mm=WARP.waste_mm / 3)
    assert still_to_weave_mm(500, WARP) == 0
    assert still_to_weave_mm(500, one_figure) == pytest.approx(500 - 2 * 500 / 3)
    assert still_to_weave_mm(2500, one_figure) == 2000


def test_pieces_still_to_come_are_the_last_ones_that_are_whole() -> None:
    """Three marks of 100 mm and a belt of 300, woven in that order: with 350 mm to go only the belt is still whole."""
    pieces = (Piece("mark", Fraction(100), 3), Piece("belt", Fraction(300)))
    planned = planned_pieces(pieces, Fraction(600), Fraction(0), Fraction(0))
    assert pieces_still_to_come(planned, 350) == (0, 1)
    assert pieces_still_to_come(planned, 299) == (0, 0)
    assert pieces_still_to_come(planned, 400) == (1, 1)
    assert pieces_still_to_come(planned, 600) == (3, 1)
    assert pieces_still_to_come(planned[:1], 250) == (2,)


# against an integrated spiral, and against sums of our own


@pytest.mark.parametrize(
    ("bare", "build_up", "warp", "turns", "final"),
    [  # own sums from the closed form, by hand calculator
        (25.4, 0.5, 5000, 36.473, 61.87),
        (50, 0.5, 5000, 25.386, 75.39),
        (50, 0.8, 10_000, 39.145, 112.63),
        (25, 0.5, 2500, 22.08, 47.1),
        (25, 0.5 + 0.15, 2500, 20.70, 51.9),  # paper of 0.15 mm every turn
    ],
)
def test_turns_and_final_diameter(bare: float, build_up: float, warp: float, turns: float, final: float) -> None:
    found = turns_on_beam(warp, bare, build_up)
    assert found == pytest.approx(turns, abs=0.005)
    assert final_diameter_mm(found, bare, build_up) == pytest.approx(final, abs=0.05)
    # The area form: what lies on the beam is the ring between the two circles.
    assert warp * build_up == pytest.approx(pi / 4 * (final_diameter_mm(found, bare, build_up) ** 2 - bare**2))


@pytest.mark.parametrize("bare", [20.0, 31.75, 60.0])
@pytest.mark.parametrize("build_up", [0.3, 0.5, 1.2])
@pytest.mark.parametrize("turns", [10, 22.4, 60])
def test_the_archimedean_spiral_is_as_long(bare: float, build_up: float, turns: float) -> None:
    """r = D0/2 + t·θ/2π, integrated along its arc."""
    pitch = build_up / (2 * pi)
    length, _ = quad(lambda angle: hypot(bare / 2 + pitch * angle, pitch), 0, 2 * pi * turns, limit=400)
    assert warp_on_turns_mm(turns, bare, build_up) == pytest.approx(length, rel=1e-4)
    assert turns_on_beam(length, bare, build_up) == pytest.approx(turns, rel=1e-4)


@pytest.mark.parametrize(("radius", "thickness", "longer"), [(25, 3, 1.86), (25, 6, 5.03), (12.7, 2, 1.40)])
def test_a_bump_lengthens_a_turn(radius: float, thickness: float, longer: float) -> None:
    """Own derivation: two tangents over a bump, less the arc below them."""
    assert bump_mm(radius, thickness) == pytest.approx(longer, abs=0.006)


def test_a_thin_warp_is_one_layer() -> None:
    """24 ends of 0.48 mm on 15 mm fill 0.77 of one layer; heaped on 5 mm they are the area form."""
    assert warp_layer_mm(24, 0.48, 15) == 0.48
    share = 24 * 0.48 / 15
    assert share == pytest.approx(0.77, abs=0.005)
    assert warp_layer_mm(24, 0.48, 5, 0.8) == pytest.approx(24 * pi * 0.48**2 / 4 / (5 * 0.8))


def test_the_worked_example_of_160_inches() -> None:
    """A weaver's own table, unpublished. 160 in on a 1 1/4 in beam: about 22 turns, 16 sticks in pairs every third
    turn, and a table of tape left.

    The table (20 turns ~103 in, 15 ~65, 10 ~34, 8 ~23, 6 ~12, 4 ~3) was given without its inputs. Least squares gives
    0.0447 in of build-up and 14 in of waste with 12 % take-up and 3 % shrinkage; all rows then agree to the whole inch
    they are rounded to.
    """
    build_up, warp, waste = 0.0447 * INCH, 160 * INCH, 14 * INCH
    turns = turns_on_beam(warp, 1.25 * INCH, build_up)
    assert turns == pytest.approx(22, abs=0.7)
    assert stick_turns(turns, 3) == (0, 3, 6, 9, 12, 15, 18, 21)
    assert 2 * len(stick_turns(turns, 3)) == 16
    lengths = lengths_of(warp, waste, 0.12, 0.03)
    left = {row.turns: row.tape_mm / INCH for row in tape_left(1.25 * INCH, build_up, lengths)}
    for turn, tape in ((20, 103), (15, 65), (10, 34), (8, 23), (6, 12), (4, 3)):
        assert left[turn] == pytest.approx(tape, abs=0.6), turn
