"""Which yarn at hand can be which yarn of a pattern: of the same fibre, about as thick, and of its colour.

One yarn at hand stands for two of the pattern only where those are of one colour: stripes would else disappear.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from cardmaker.model.drawer import YarnAtHand, YarnMatch
from cardmaker.model.pattern import Yarn
from cardmaker.reckoning.amounts.yarn_counts import metres_per_kg
from cardmaker.reckoning.stripes.yarn_colours import basic_colours, colour_words

AS_THICK: Final = Fraction(15, 100)  # of the metres in a kilogram; a label may tell 12 % more than a count (ours)


def matched_yarns(yarns: Sequence[Yarn], at_hand: Sequence[YarnAtHand]) -> tuple[YarnMatch, ...]:
    """Each yarn of a pattern with the one at hand that is most like it, the closest pairs first."""
    pairs = sorted(_pairs(yarns, at_hand))
    chosen: dict[int, int] = {}
    for _, number, place in pairs:
        others = [yarns[other] for other, its in chosen.items() if its == place]
        if number not in chosen and all(_same_colour(yarns[number], other) for other in others):
            chosen[number] = place
    return tuple(
        YarnMatch(yarn, at_hand[chosen[number]] if number in chosen else None) for number, yarn in enumerate(yarns)
    )


Rank = tuple[bool, bool, Fraction]  # the lowest is the closest


def _pairs(yarns: Sequence[Yarn], at_hand: Sequence[YarnAtHand]) -> Iterator[tuple[Rank, int, int]]:
    for number, yarn in enumerate(yarns):
        for place, each in enumerate(at_hand):
            if (rank := _likeness(yarn, each)) is not None:
                yield rank, number, place


def _likeness(yarn: Yarn, at_hand: YarnAtHand) -> Rank | None:
    """How close the two are, or None where one cannot be the other."""
    metres, other = metres_per_kg(yarn), metres_per_kg(at_hand.yarn)
    if metres is None or other is None or yarn.fibre != at_hand.yarn.fibre or abs(other / metres - 1) > AS_THICK:
        return None
    own_file = bool(at_hand.stem) and yarn.shelf is not None and yarn.shelf.stem == at_hand.stem
    words, own = colour_words(at_hand.yarn.name), colour_words(f"{yarn.name} {yarn.shade}")
    if not own_file and not (words and words <= own) and basic_colours(yarn).isdisjoint(basic_colours(at_hand.yarn)):
        return None
    return not own_file, not words <= own, abs(other / metres - 1)


def _same_colour(one: Yarn, other: Yarn) -> bool:
    return one.colour == other.colour if one.colour and other.colour else basic_colours(one) == basic_colours(other)
