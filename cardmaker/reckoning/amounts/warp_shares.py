"""Where one warp goes, from end to end: into finished tape, the wash, take-up, fringes, a rest, and waste."""

from __future__ import annotations

from fractions import Fraction
from itertools import cycle, islice
from math import floor
from typing import Final, Literal

from cardmaker.model.plan import Lengths
from cardmaker.model.record_class import record
from cardmaker.model.units import MM_PER_INCH

ShareName = Literal["finished", "washing", "take-up", "fringes", "spare", "waste"]
_LOSSES_BESIDE: Final = 4  # parts: finished, waste and two more; own derivation
_MM_PER_CM: Final = Fraction(10)  # exact by definition (the SI prefixes)


@record
class LengthShare:
    """One part of the warp, in millimetres."""

    name: ShareName
    mm: Fraction


def length_shares(lengths: Lengths) -> tuple[LengthShare, ...]:
    """The parts that one warp falls into; together they are the warp as it is wound.

    Of tape as it is likely to come; of pieces, those that come, with what they are allowed at the most, and the rest.
    """
    woven, finished = lengths.woven_mm, lengths.tape_from_warp_mm
    parts: tuple[tuple[ShareName, Fraction], ...] = (
        ("finished", finished),
        ("washing", woven - finished),
        ("take-up", lengths.used_mm - lengths.fringes_mm - woven),
        ("fringes", lengths.fringes_mm),
        ("spare", lengths.weavable_mm - lengths.used_mm),
        ("waste", lengths.waste_mm),
    )
    return tuple(LengthShare(name, mm) for name, mm in parts if mm > 0)


def in_whole_units(shares: tuple[LengthShare, ...], units: Literal["metric", "us"]) -> tuple[int, ...]:
    """The parts in whole centimetres or inches that add up to the rounded whole: the largest remainders are rounded up.

    What is finished and what is waste are told in words as well: they are to the nearest, and the others take up the
    difference. Common practice wherever shares must add up (the method of largest remainders), no source.
    """
    unit = _MM_PER_CM if units == "metric" else MM_PER_INCH
    exact = [share.mm / unit for share in shares]
    told = [at for at, share in enumerate(shares) if share.name == "finished" or _is_told_waste(share, shares)]
    others = [at for at in range(len(shares)) if at not in told]
    counts = [floor(value + Fraction(at in told, 2)) for at, value in enumerate(exact)]
    missing = floor(sum(exact) + Fraction(1, 2)) - sum(counts)
    others = [at for at in others if missing > 0 or counts[at] > 0]
    by_remainder = sorted(others, key=lambda at: counts[at] - exact[at], reverse=missing < 0)
    for index in islice(cycle(by_remainder), abs(missing)):
        counts[index] += 1 if missing > 0 else -1
    return tuple(counts)


def _is_told_waste(share: LengthShare, shares: tuple[LengthShare, ...]) -> bool:
    """Waste, where two other losses or more can take up the difference."""
    return share.name == "waste" and len(shares) >= _LOSSES_BESIDE
