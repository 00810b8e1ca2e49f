"""What is at hand, what a tape takes of it, and what must be bought."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from cardmaker.model.drawer import DrawerPlan, YarnToBuy
from cardmaker.model.plan import Plan
from cardmaker.reckoning.drawer_plans import taken
from cardmaker.wording.formatters import Units, decimal, grams_up, warp_length, yarn_length
from cardmaker.wording.phrases import NO_BREAK, listed, plural
from cardmaker.wording.yarn_words import yarn_kind

AS_TYPED: Final = "as in 40 g red linen 20/2"
NONE_LIKE: Final = "none of its yarns is at hand"
EMPTY: Final = (
    "No yarn at hand says how much there is of it: write at_hand: 40 g into its file in layouts/yarns, "
    'or name it with --yarn "40 g red linen 20/2".'
)


def drawer_sentences(drawer: DrawerPlan, plan: Plan, units: Units) -> tuple[str, ...]:
    """All that is told of a tape and the yarn at hand, sentence by sentence."""
    return tuple(_sentences(drawer, plan, units))


def drawer_in_brief(drawer: DrawerPlan, plan: Plan, units: Units) -> tuple[str, ...]:
    """The same on a page of several tapes: what it gives, or what must be bought, and of which yarns."""
    own = warp_length(plan.lengths.wound_mm, units)
    yours = listed([*dict.fromkeys(match.at_hand.yarn.name for match in drawer.matches if match.at_hand)])
    sentences = []
    if drawer.longest is not None:
        kits = f"{plural(drawer.kits, 'kit')} of {own}, or one warp" if drawer.kits else "A warp"
        sentences.append(f"{kits} of {warp_length(drawer.longest.lengths.wound_mm, units)}, of your {yours}.")
    if drawer.to_buy:
        sentences.append(f"To buy for {own}: {listed([_bought(each, units) for each in drawer.to_buy])}.")
    return tuple(sentences)


def _sentences(drawer: DrawerPlan, plan: Plan, units: Units) -> Iterator[str]:
    own = warp_length(plan.lengths.wound_mm, units)
    if drawer.kits:
        yield f"Your yarn gives {plural(drawer.kits, 'kit')} with a warp of {own}."
    if drawer.longest is not None:
        most = ", the longest that is reckoned" if drawer.is_most else ""
        yield f"Longest warp: {warp_length(drawer.longest.lengths.wound_mm, units)}{most}, of {_takes(drawer)}."
    elif all(match.at_hand for match in drawer.matches):
        yield "Your yarn gives no warp that reaches through the loom."
    if drawer.to_buy:
        yield f"To buy for a warp of {own}: {listed([_bought(each, units) for each in drawer.to_buy])}."
    yield f"Matched: {listed(_matched(drawer))}."


def _takes(drawer: DrawerPlan) -> str:
    """What the longest warp takes of each: ``39 g of 40 g red linen 20/2``."""
    assert drawer.longest is not None
    return listed(
        [
            f"{grams_up(each.grams * length / each.length_mm)}{NO_BREAK}g of your {weight(each.grams)} {each.told}"
            for each, length in taken(drawer.longest, drawer.matches).items()
        ]
    )


def weight(grams: Fraction) -> str:
    """What is there, as it was said: not rounded up, for that would be yarn that nobody has."""
    return f"{decimal(grams, 1)}{NO_BREAK}g"


def _bought(each: YarnToBuy, units: Units) -> str:
    heavy = "" if each.grams is None else f", {grams_up(each.grams)}{NO_BREAK}g"
    return (
        f"{each.yarn.name} {yarn_kind(each.yarn).replace(' ', NO_BREAK)} ({yarn_length(each.length_mm, units)}{heavy})"
    )


def _matched(drawer: DrawerPlan) -> list[str]:
    return [f"its {match.yarn.name} is your {match.at_hand.told}" for match in drawer.matches if match.at_hand]


# What cannot be read


def no_amount(text: str) -> str:
    """That an amount is missing."""
    return f"'{text}' does not begin with an amount: write how much there is first, {AS_TYPED}."


def no_amount_in_file(name: str) -> str:
    """That the file of a yarn says no amount."""
    return f'The file of {name} does not say how much there is: write at_hand: 40 g into it, or --yarn "40 g {name}".'


def incomplete(text: str, missing: Sequence[str], fibre: str) -> str:
    """What a yarn at hand does not say, all at once; ``fibre`` is the one that was probably meant."""
    meant = f" Did you mean {fibre}?" if fibre else ""
    return f"'{text}' does not say {listed(missing)}.{meant} Write it {AS_TYPED}."


def unweighed(told: str) -> str:
    """That the file of a yarn does not tell how far its weight goes."""
    return f"Nothing tells how far {told} goes: give its count, yards_per_pound or metres_per_kg in its file."
