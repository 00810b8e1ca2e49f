"""Turns on a beam against an integrated spiral and against figures worked out beforehand."""

from __future__ import annotations

from math import hypot, pi

import pytest
from scipy.integrate import quad

from cardmaker.reckoning.on_loom.beam import (
    final_diameter_mm,
    slipped_edge_strain,
    stick_turns,
    tape_left,
    turns_on_beam,
    warp_layer_mm,
    warp_on_turns_mm,
)
from tests.helpers.stick_bump import bump_mm
from tests.helpers.warps import lengths_of

INCH = 25.4


@pytest.mark.parametrize(
    ("bare", "build_up", "warp", "turns", "final"),
    [  # own sums, checked by an independent script
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
    assert bump_mm(radius, thickness) == pytest.approx(longer, abs=0.006)


def test_an_edge_off_the_packing_strains_more_than_linen_stands() -> None:
    """1 mm on a mean radius of 25 mm is 4 %: a beam of 40 mm with 10 mm of build-up all round."""
    assert slipped_edge_strain(1, turns=20, beam_diameter_mm=40, build_up_mm=0.5) == pytest.approx(0.04)


def test_a_thin_warp_is_one_layer() -> None:
    """24 ends of 0.48 mm on 15 mm fill 0.77 of one layer; heaped on 5 mm they are the area form."""
    assert warp_layer_mm(24, 0.48, 15) == 0.48
    share = 24 * 0.48 / 15
    assert share == pytest.approx(0.77, abs=0.005)
    assert warp_layer_mm(24, 0.48, 5, 0.8) == pytest.approx(24 * pi * 0.48**2 / 4 / (5 * 0.8))


def test_the_worked_example_of_160_inches() -> None:
    """160 in on a 1 1/4 in beam: about 22 turns, 16 sticks in pairs every third turn, and a table of tape left.

    The table (20 turns ~103 in, 15 ~65, 10 ~34, 8 ~23, 6 ~12, 4 ~3) was given without its inputs. Least squares gives
    0.0447 in of build-up and 14 in of waste with 12 % take-up and 3 % shrinkage; all rows then agree to the whole inch
    they are rounded to.
    """
    build_up, warp, waste = 0.0447 * INCH, 160 * INCH, 14 * INCH
    turns = turns_on_beam(warp, 1.25 * INCH, build_up)
    assert turns == pytest.approx(22, abs=0.7)
    assert stick_turns(turns, 3) == (0, 3, 6, 9, 12, 15, 18, 21)
    assert 2 * len(stick_turns(turns, 3)) == 16
    left = {
        row.turns: row.tape_mm / INCH for row in tape_left(1.25 * INCH, build_up, lengths_of(warp, waste, 0.12, 0.03))
    }
    for turn, tape in ((20, 103), (15, 65), (10, 34), (8, 23), (6, 12), (4, 3)):
        assert left[turn] == pytest.approx(tape, abs=0.6), turn
