"""What a tape could be made of the yarn at hand: how long a warp, how many kits, and what lacks.

Every amount is that of a plan: a warp can be wound when the plan of just that warp takes no more of any yarn than there
is. So nothing is reckoned here that ``planning`` does not tell.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from math import floor

from cardmaker.model.drawer import DrawerPlan, YarnAtHand, YarnMatch, YarnToBuy
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Plan
from cardmaker.reckoning.amounts.drawer_matches import matched_yarns
from cardmaker.reckoning.amounts.yarn_amounts import grams
from cardmaker.reckoning.planning import make_plan


def drawer_plan(
    plan: Plan, pattern: Pattern, loom: Loom, at_hand: Sequence[YarnAtHand], step: Fraction, longest_mm: Fraction
) -> DrawerPlan:
    """What ``pattern``, whose ``plan`` on ``loom`` has a warp as long as it asks, could be made of what is at hand.

    Warps are as long as so many times ``step``, and ``longest_mm`` at most.
    """

    def of_steps(steps: int) -> Plan:
        return make_plan(pattern, loom, warp_mm=steps * step, with_bench=False, with_shuttle=False, wind_step=step)

    matches = matched_yarns([pattern.yarn(amount.yarn) for amount in plan.amounts], at_hand)
    to_buy = tuple(_to_buy(plan, matches))
    if not all(match.at_hand for match in matches):
        return DrawerPlan(matches, None, 0, to_buy)
    least, most = floor(plan.lengths.waste_mm / step) + 1, floor(longest_mm / step)
    longest, is_most = _longest_warp(of_steps, matches, least, most)
    return DrawerPlan(matches, longest, _kits(plan, matches), to_buy, is_most)


def taken(plan: Plan, matches: Iterable[YarnMatch]) -> dict[YarnAtHand, Fraction]:
    """How many millimetres a plan takes of each yarn at hand, of all the yarns that it stands for."""
    amounts = {amount.yarn: amount.total_mm for amount in plan.amounts}
    lengths: dict[YarnAtHand, Fraction] = {}
    for match in matches:
        if match.at_hand is not None:
            lengths[match.at_hand] = lengths.get(match.at_hand, Fraction(0)) + amounts[match.yarn.name]
    return lengths


def _kits(plan: Plan, matches: Sequence[YarnMatch]) -> int:
    lengths = taken(plan, matches)
    return min(floor(each.length_mm / length) for each, length in lengths.items())


def _to_buy(plan: Plan, matches: Sequence[YarnMatch]) -> Iterable[YarnToBuy]:
    """What lacks for one warp: all of what is not at hand, and the rest of what is."""
    lengths = taken(plan, matches)
    told: set[YarnAtHand] = set()
    for match, amount in zip(matches, plan.amounts, strict=True):
        each = match.at_hand
        if each is None:
            yield YarnToBuy(match.yarn, amount.total_mm, amount.grams)
        elif each not in told and (lacking := lengths[each] - each.length_mm) > 0:
            told.add(each)
            yield YarnToBuy(match.yarn, lacking, grams(each.yarn, lacking))


def _longest_warp(
    of_steps: Callable[[int], Plan], matches: Sequence[YarnMatch], least: int, most: int
) -> tuple[Plan | None, bool]:
    """The plan of the longest warp from ``least`` to ``most`` steps that can be wound, and whether it is ``most``.

    The last that can and the first that cannot close in on each other, each guess where a straight line between them
    leads: yarn for a warp grows evenly with its length, and yarn for its weft almost so.
    """

    def spare(each: Plan) -> Fraction:
        """The share that is left of the yarn that there is least of; below nought it lacks."""
        return min(1 - length / there.length_mm for there, length in taken(each, matches).items())

    best = of_steps(least)
    low, left = least, spare(best)
    if left < 0:
        return None, False
    high = _first_without_yarn(best, matches, least, most)
    lacking = spare(of_steps(high))
    if lacking >= 0:
        return of_steps(high), True
    while high - low > 1:
        guess = low + floor((high - low) * left / (left - lacking))
        for steps in dict.fromkeys((guess, guess + 1, (low + high) // 2)):
            if low < steps < high:
                tried = of_steps(steps)
                if (now := spare(tried)) >= 0:
                    low, best, left = steps, tried, now
                else:
                    high, lacking = steps, now
    return best, False


def _first_without_yarn(plan: Plan, matches: Sequence[YarnMatch], least: int, most: int) -> int:
    """A warp of so many steps, ``most`` at most, for which alone there is too little yarn, its weft left aside;
    ``plan`` is that of ``least``."""
    a_step = {amount.yarn: amount.warp_mm / least for amount in plan.amounts}
    takes: dict[YarnAtHand, Fraction] = {}
    for match in matches:
        if match.at_hand is not None:
            takes[match.at_hand] = takes.get(match.at_hand, Fraction(0)) + a_step[match.yarn.name]
    enough = [floor(each.length_mm / length) + 1 for each, length in takes.items() if length]
    return min([most, *enough])
