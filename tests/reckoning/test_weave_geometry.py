"""Take-up from yarn and picks: the closed form against an integrated path, and the range that a card tells."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import asin, cos, pi, sin

import pytest
from scipy.integrate import quad

from cardmaker.model.pattern import Pattern, Stripe, Yarn
from cardmaker.reckoning.amounts.weave_geometry import TAKE_UP_OF_TAPES, usual_take_up, warp_faced_take_up
from cardmaker.reckoning.amounts.weft import ENDS_PER_PICK
from cardmaker.reckoning.amounts.yarn_thickness import ENDS_PER_DIAMETER

LINEN = Yarn("white", "linen", "20/2")
TAPE = Pattern("Test", "test", (LINEN, Yarn("thick", "linen", "8/2")), (Stripe("white", 21),))


@pytest.mark.parametrize("spacing", [1.0, 1.25, 1.5, 2.0, 3.0])
def test_the_take_up_is_that_of_the_path_round_the_weft(spacing: float) -> None:
    """A quarter of the path: an arc of radius D/2 over the weft up to where it leaves at θ, then straight to the middle
    between two picks. Integrated along the pick spacing, it is the thread of half a pick."""
    angle = asin(1 / spacing)
    over = sin(angle) / 2
    arc, _ = quad(lambda x: 1 / (1 - (2 * x) ** 2) ** 0.5, 0, min(over, 0.5 - 1e-15))
    straight = (spacing / 2 - over) / cos(angle) if angle < pi / 2 - 1e-9 else 0.0
    length = 2 * (arc + straight)
    assert warp_faced_take_up(spacing, 1) == pytest.approx((length - spacing) / length, abs=2e-6)


def test_a_third_of_the_ends_for_picks_takes_up_ten_to_twenty_five_per_cent() -> None:
    """Whatever the yarn: p = 3 d/1.2 and D = 2 d make x = 1.25/e, so 10.5, 17.5 and 25.5 % for e of 0.6, 0.8 and 1."""
    assert ENDS_PER_PICK / ENDS_PER_DIAMETER[1] == Fraction(5, 2)
    shares = [100 * warp_faced_take_up(Fraction(5, 2), 2 * part) for part in (0.6, 0.8, 1.0)]
    assert [round(share, 1) for share in shares] == [10.5, 17.5, 25.5]
    for count in ("8/2", "16/2", "40/2"):
        yarn = Yarn("white", "linen", count)
        pattern = replace(TAPE, yarns=(yarn,))
        diameter = 1 / (0.9 * (300 * int(count.split("/")[0]) / 2) ** 0.5)
        picks = Fraction(1.2 / diameter / 3)
        assert [round(float(share), 2) for share in usual_take_up(pattern, ("white",) * 9, "white", picks)] == [
            0.10,
            0.18,
            0.25,
        ]


def test_closer_picks_and_a_thicker_weft_take_up_more() -> None:
    ends = ("white",) * 21
    few, many = (usual_take_up(TAPE, ends, "white", Fraction(picks)) for picks in (14, 18))
    assert few[1] < many[1] < usual_take_up(TAPE, ends, "thick", Fraction(18))[1]
    least, _, most = TAKE_UP_OF_TAPES
    for picks in (1, 5, 40, 400):
        shares = usual_take_up(TAPE, ends, "white", Fraction(picks))
        assert least <= shares[0] <= shares[1] <= shares[2] <= most


def test_the_one_measured_band_lies_within_its_range() -> None:
    """5/2 cotton, 62 ends on 1.3 in, 60 in of warp less 7 for 43 in: 18.9 % (one weaver's measurement, 2021)."""
    yarn = Yarn("white", "cotton", "5/2")
    band = replace(TAPE, yarns=(yarn,), warp=(Stripe("white", 62),))
    least, likely, most = usual_take_up(band, ("white",) * 62, "white", Fraction(62) / Fraction("1.3") / 3)
    assert least < 1 - Fraction(43, 53) < most
    assert abs(likely - (1 - Fraction(43, 53))) < Fraction(3, 100)


def test_nothing_known_of_a_yarn_gives_what_is_told_of_tapes() -> None:
    bare = replace(TAPE, yarns=(Yarn("white", "linen"),))
    assert usual_take_up(bare, ("white",) * 5, "white", Fraction(15)) == TAKE_UP_OF_TAPES
