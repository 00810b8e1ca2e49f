"""The press gauge of a warp: its dips against the least energy of a stretched thread, its weight, and her own standard.

The other hand (``least_energy_dip_mm``) knows nothing of the balance of forces that the product solves.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from random import Random
from typing import Final

import pytest

from cardmaker.model.bench import PressGauge, WarpPull
from cardmaker.model.loom import Heddles, Loom, MeasuredPress, Press, Space
from cardmaker.model.pattern import Pattern, Stripe, Yarn
from cardmaker.model.problems import Refusal
from cardmaker.reckoning.on_loom.press_gauge import standard_levels
from cardmaker.reckoning.on_loom.tension import STIFFNESS
from cardmaker.reckoning.planning import make_plan
from tests.helpers.statics import least_energy_dip_mm

GRAVITY: Final = 0.00980665  # newtons a gram: standard gravity
TWO_RAILS_TEX: Final = Fraction(1_653_515, 10_000)  # of 20/2 linen: 1,653,515 over 10 * 1000, ASTM D2260
FIBRES: Final = sorted(STIFFNESS)
EVERY_STIFFNESS: Final = (0.0, 0.25, 0.5, 0.75, 1.0)  # from the lowest of the stated range to the highest


def loom_with(press: Press | None, measured: MeasuredPress | None = None) -> Loom:
    return Loom("Trial", "trial", Heddles.ONE, 200, 199, Space.SLOT, press=press, measured_press=measured)


def pattern_of(ends: int, tex: Fraction, fibre: str) -> Pattern:
    yarn = Yarn("yarn", fibre, metres_per_kg=Fraction(1_000_000) / tex)  # type: ignore[arg-type]
    return Pattern("Trial", "trial", (yarn,), (Stripe("yarn", ends),))


def pull_of(pattern: Pattern, loom: Loom) -> WarpPull:
    pull = make_plan(pattern, loom).tension
    assert pull is not None
    return pull


def gauge_of(ends: int, tex: Fraction, fibre: str, loom: Loom) -> PressGauge | None:
    return pull_of(pattern_of(ends, tex, fibre), loom).gauge


def random_press(chance: Random) -> Press:
    span = Fraction(chance.randint(20, 120) * 10)
    free = span * Fraction(chance.randint(10, 40), 10) if chance.random() < 0.7 else None
    weight = Fraction(chance.randint(5, 600)) if chance.random() < 0.5 else None
    return Press(span, weight, free)


def random_warp(chance: Random) -> tuple[int, Fraction, str]:
    return chance.randint(5, 120), Fraction(chance.randint(15, 600)), chance.choice(FIBRES)


def other_hand_mm(gauge: PressGauge, whole_tex: float, level: float, stiffness: float, free_mm: float) -> float:
    """The dip by least energy, at a level and a stiffness in cN/tex."""
    press_n, share = float(gauge.weight_g) * GRAVITY, whole_tex / 100
    return least_energy_dip_mm(level * share, press_n, float(gauge.span_mm), stiffness * share, free_mm, 0.2)


def test_the_dips_of_500_random_warps() -> None:
    """Every mark, at its likely place and both its ends, within 2 % of a solution by other means."""
    chance, with_marks = Random(11), 0
    for _ in range(500):
        ends, tex, fibre = random_warp(chance)
        gauge = gauge_of(ends, tex, fibre, loom_with(random_press(chance)))
        if gauge is None:
            continue
        stiff, shortest, longest = STIFFNESS[fibre], float(gauge.shortest_free_mm), float(gauge.longest_free_mm)  # type: ignore[index]
        likely_free = shortest if shortest == longest else 1.5 * float(gauge.span_mm)
        for mark in gauge.marks:
            whole, level = float(ends * tex), mark.pull.cn_per_tex
            by_other_hand = (
                other_hand_mm(gauge, whole, level, stiff.high, shortest),
                other_hand_mm(gauge, whole, level, stiff.likely, likely_free),
                other_hand_mm(gauge, whole, level, stiff.low, longest),
            )
            assert (mark.least_mm, mark.likely_mm, mark.most_mm) == pytest.approx(by_other_hand, rel=0.02)
        with_marks += bool(gauge.marks)
    assert with_marks > 200


def test_no_right_warp_reads_slack_and_no_slack_one_right_whatever_the_yarn() -> None:
    """At every stiffness of the stated range, and at every free length where the file does not say."""
    chance, with_marks = Random(12), 0
    for _ in range(300):
        ends, tex, fibre = random_warp(chance)
        gauge = gauge_of(ends, tex, fibre, loom_with(random_press(chance)))
        if gauge is None or not gauge.marks:
            continue
        with_marks += 1
        tight, right, slack = gauge.marks
        stiff, whole = STIFFNESS[fibre], float(ends * tex)  # type: ignore[index]
        for share in EVERY_STIFFNESS:
            stiffness = stiff.low + share * (stiff.high - stiff.low)
            for free in (float(gauge.shortest_free_mm), float(gauge.longest_free_mm)):
                dips = [other_hand_mm(gauge, whole, level, stiffness, free) for level in (2.0, 1.0, 0.5, 0.3, 0.1)]
                assert dips[0] < dips[1] < right.least_mm - 0.25
                assert tight.most_mm + 0.25 < dips[2] < slack.least_mm - 0.25
                assert right.most_mm + 0.25 < dips[3] < dips[4]
    assert with_marks > 120


def test_the_weight_that_is_chosen_dips_a_right_warp_by_4_to_6_mm() -> None:
    chance, chosen = Random(13), 0
    for _ in range(300):
        ends, tex, fibre = random_warp(chance)
        press = random_press(chance)
        gauge = gauge_of(ends, tex, fibre, loom_with(Press(press.span_mm, None, press.free_mm)))
        if gauge is None:
            continue
        chosen += 1
        grams, stiff = gauge.weight_g, STIFFNESS[fibre].likely  # type: ignore[index]
        free = float(press.free_mm or Fraction(3, 2) * press.span_mm)
        assert 3.99 < other_hand_mm(gauge, float(ends * tex), 0.5, stiff, free) < 6.01
        assert grams % (1 if grams <= 50 else 5 if grams <= 200 else 10) == 0
        assert 1 <= grams <= 5000
        assert (gauge.fitting_weight_g, gauge.loom_weight_g, gauge.loom_weight_is) == (grams, None, None)
    assert chosen > 280


def test_a_weight_of_her_own_is_kept_while_it_tells_slack_from_right() -> None:
    """13 ends of 20/2 linen, 40 cm of 60: 50 g suit, 40 g still tell, 3 and 200 g do not."""

    def weights(grams: int) -> list[object]:
        gauge = gauge_of(13, TWO_RAILS_TEX, "linen", loom_with(Press(Fraction(400), Fraction(grams), Fraction(600))))
        assert gauge is not None
        assert gauge.marks
        return [gauge.weight_g, gauge.loom_weight_g, gauge.loom_weight_is, gauge.fitting_weight_g]

    assert weights(50) == [50, 50, "fitting", 50]
    assert weights(40) == [40, 40, "too light", 50]
    assert weights(200) == [50, 200, "too heavy", 50]
    assert weights(3) == [50, 3, "too light", 50]


def test_where_the_range_of_stiffness_hides_the_difference_there_are_no_marks() -> None:
    """20 cm of linen, no more, of 250 to 1,000 cN/tex: a right soft warp dips deeper than a slack stiff one."""
    gauge = gauge_of(31, TWO_RAILS_TEX, "linen", loom_with(Press(Fraction(200), None, Fraction(200))))
    assert gauge is not None
    assert gauge.marks == ()
    whole = float(31 * TWO_RAILS_TEX)
    soft_right = other_hand_mm(gauge, whole, 0.5, 250, 200)
    stiff_slack = other_hand_mm(gauge, whole, 0.3, 1000, 200)
    assert soft_right > stiff_slack


@pytest.mark.parametrize(("ends", "tex", "span"), [(1, 1, 3000), (399, 50_000, 100)])
def test_a_warp_that_no_kitchen_weight_dips_as_it_should_has_no_gauge(ends: int, tex: int, span: int) -> None:
    assert gauge_of(ends, Fraction(tex), "wool", loom_with(Press(Fraction(span)))) is None


def test_without_a_span_in_the_file_there_is_a_pull_and_no_gauge() -> None:
    pull = pull_of(pattern_of(13, TWO_RAILS_TEX, "linen"), loom_with(None))
    assert (pull.gauge, pull.standard, pull.level_range) == (None, None, (0.5, 0.5))


def test_fibres_side_by_side_share_the_pull_by_their_tex() -> None:
    """6 ends of 100 tex cotton (250) and 4 of 150 tex linen (500), 600 tex each: 375 in the middle."""
    cotton = Yarn("cotton", "cotton", metres_per_kg=Fraction(10_000))
    linen = Yarn("linen", "linen", metres_per_kg=Fraction(20_000, 3))
    pull = pull_of(Pattern("Two", "two", (cotton, linen), (Stripe("cotton", 6), Stripe("linen", 4))), loom_with(None))
    assert (pull.stiffness.low, pull.stiffness.likely, pull.stiffness.high) == (187.5, 375, 750)
    assert (pull.tex, pull.ends) == (120, 10)


# Her own warp that wove well


def standard_of(
    ends: int, tex: Fraction, fibre: str, dip: float, grams: Fraction = Fraction(50), span: Fraction = Fraction(400)
) -> MeasuredPress:
    return MeasuredPress(grams, span, Fraction(dip).limit_denominator(10_000), ends, tex, fibre)  # type: ignore[arg-type]


def test_the_same_warp_is_told_to_dip_as_it_did() -> None:
    """Whatever its stiffness: what the next warp is held against is what was seen."""
    press = Press(Fraction(400), Fraction(50), Fraction(600))
    pull = pull_of(
        pattern_of(13, TWO_RAILS_TEX, "linen"), loom_with(press, standard_of(13, TWO_RAILS_TEX, "linen", 4.8))
    )
    assert pull.gauge is not None
    tight, right, slack = pull.gauge.marks
    assert (right.least_mm, right.likely_mm, right.most_mm) == pytest.approx((4.8, 4.8, 4.8), abs=0.001)
    assert tight.most_mm < 4 < 5.3 < slack.least_mm
    assert pull.working.cn_per_tex < 0.5  # it dipped deeper than the estimate says, so it was less tight
    assert pull.working.status == "measured"


@pytest.mark.parametrize("fibre", FIBRES)
@pytest.mark.parametrize("other", [False, True])
def test_a_standard_sets_the_level_of_every_later_warp(fibre: str, other: bool) -> None:
    """A warp of truly any stiffness in the range, pulled at any level, is pressed; the next one, of other count, ends
    and weight, pulled as hard, dips to within its right mark. Where the fibre is another, both may be anything."""
    chance, seen = Random(f"{fibre} {other}"), 0
    for _ in range(60):
        level, press = chance.uniform(0.25, 1.2), random_press(chance)
        if press.free_mm is None:
            continue
        ends, tex, _ = random_warp(chance)
        next_ends, next_tex, next_fibre = random_warp(chance)
        next_fibre = next_fibre if other else fibre
        stiff, next_stiff = STIFFNESS[fibre], STIFFNESS[next_fibre]  # type: ignore[index]
        share = chance.random()
        truly = stiff.low + share * (stiff.high - stiff.low)
        next_share = chance.random() if next_fibre != fibre else share
        next_truly = next_stiff.low + next_share * (next_stiff.high - next_stiff.low)
        whole, free = float(ends * tex), float(press.free_mm)
        weight = Fraction(max(1, round(whole / 40)))
        dip = least_energy_dip_mm(
            level * whole / 100, float(weight) * GRAVITY, float(press.span_mm), truly * whole / 100, free
        )
        if not 1 <= dip <= press.span_mm / 10:
            continue
        loom = loom_with(press, standard_of(ends, tex, fibre, dip, weight, press.span_mm))
        try:
            pull = pull_of(pattern_of(next_ends, next_tex, next_fibre), loom)
        except Refusal:
            continue  # as stiff as is likely, the yarn alone would have held the weight: refused, and never guessed
        assert pull.level_range[0] - 0.005 <= level <= pull.level_range[1] + 0.005
        gauge = pull.gauge
        if gauge is None or not gauge.marks:
            continue
        seen += 1
        tight, right, slack = gauge.marks
        dips = other_hand_mm(gauge, float(next_ends * next_tex), level, next_truly, free)
        assert right.least_mm * 0.99 - 0.01 <= dips <= right.most_mm * 1.01 + 0.01
        assert tight.most_mm < dips < slack.least_mm
    assert seen > (8 if fibre != "other" and not other else 2 if fibre != "other" else 0)


def test_a_measured_warp_alone_tells_the_span() -> None:
    gauge = gauge_of(31, TWO_RAILS_TEX, "linen", loom_with(None, standard_of(13, TWO_RAILS_TEX, "linen", 4)))
    assert gauge is not None
    assert [gauge.span_mm, gauge.shortest_free_mm, gauge.longest_free_mm] == [400, 400, 800]


def test_a_standard_narrows_the_marks() -> None:
    press = Press(Fraction(400), None, Fraction(600))
    bare = gauge_of(31, TWO_RAILS_TEX, "linen", loom_with(press))
    known = gauge_of(31, TWO_RAILS_TEX, "linen", loom_with(press, standard_of(13, TWO_RAILS_TEX, "linen", 4)))
    assert bare is not None
    assert known is not None
    widths = [mark.most_mm - mark.least_mm for mark in (bare.marks[1], known.marks[1])]
    assert widths[1] < widths[0] / 5
    assert all(above.most_mm < below.least_mm for above, below in pairwise(known.marks))


@pytest.mark.parametrize(
    ("measured", "told"),
    [
        (standard_of(13, TWO_RAILS_TEX, "linen", 13.5, Fraction(200)), "has next to no pull of its own"),
        (standard_of(1, Fraction(20), "silk", 1, Fraction(50)), "a quarter or more of what its yarn breaks at"),
    ],
)
def test_a_standard_that_no_warp_is_woven_at_is_refused(measured: MeasuredPress, told: str) -> None:
    with pytest.raises(Refusal, match=told) as refused:
        standard_levels(loom_with(Press(Fraction(400), None, Fraction(600)), measured))
    assert refused.value.path == ("measured", "press", "dip")


def test_without_a_standard_there_is_no_level_of_it() -> None:
    assert standard_levels(loom_with(None)) is None
