"""How much yarn one warp and its weft take, and many of them: multiplied first, rounded up once, where printed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction

from cardmaker.model.pattern import Pattern, Yarn
from cardmaker.model.plan import Lengths, Weft, YarnAmount
from cardmaker.reckoning.amounts.yarn_counts import metres_per_kg


def yarn_needed(
    pattern: Pattern,
    end_yarns: Sequence[str],
    lengths: Lengths,
    weft: Weft,
    kits: int = 1,
    extra: Fraction = Fraction(0),
    spare_ends: int | None = None,
) -> tuple[YarnAmount, ...]:
    """What each yarn comes to, in the order in which the yarns first appear, a weft that is in no stripe last.

    Warp = (ends + spare ends) * length as wound; weft as bought, joins and all; both times ``kits`` and 1 + ``extra``.
    ``spare_ends`` of each warp yarn are the pattern's own unless given. Exact, not yet rounded.
    """
    spare = pattern.length.spare_ends if spare_ends is None else spare_ends
    many = kits * (1 + extra)
    ends = Counter(end_yarns)
    by_yarn = []
    for name in (*ends, *({weft.yarn} - ends.keys())):
        warp_mm = many * (ends[name] + spare) * lengths.wound_mm if name in ends else Fraction(0)
        weft_mm = many * weft.buy_mm if name == weft.yarn else Fraction(0)
        by_yarn.append(YarnAmount(name, warp_mm, weft_mm, grams(pattern.yarn(name), warp_mm + weft_mm)))
    return tuple(by_yarn)


def grams(yarn: Yarn, length_mm: Fraction) -> Fraction | None:
    """What so much of the yarn weighs, or None when nothing tells: millimetres over metres per kilogram are grams."""
    metres = metres_per_kg(yarn)
    return None if metres is None else length_mm / metres


def ball_length_mm(yarn: Yarn, weight_g: Fraction) -> Fraction | None:
    """How much of the yarn a ball of that weight holds, or None when nothing tells."""
    metres = metres_per_kg(yarn)
    return None if metres is None else weight_g * metres
