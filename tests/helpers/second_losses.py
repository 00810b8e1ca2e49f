"""Width, picks, take-up, shrinkage and waste: a part of the second calculator.

Written from the manual alone, like ``second_calculator``; the comments between quotation marks are its sentences.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from math import asin, ceil, cos, floor, sin
from typing import Final, NamedTuple

from tests.helpers.second_sizes import INCH_MM, Refused, Tree, diameter_mm, ends_per_inch, length_mm, share

SHRINKAGE: Final = {  # per cent: the least, the likely and the most
    "linen": (3, 5, 10),
    "hemp": (3, 5, 10),
    "cotton": (5, 8, 12),
    "cottolin": (4, 6, 8),
    "wool": (5, 10, 15),
    "silk": (2, 3, 5),
    "other": (2, 5, 15),
}


class Loss(NamedTuple):
    """A share that is lost: at least, likely, at most."""

    least: Fraction
    likely: Fraction
    most: Fraction


def weft_of(pattern: Tree, ends: list[str]) -> str:
    """ "Left out, it is the yarn of the left edge." """
    return str(pattern.get("weft", ends[0]))


# What was measured


def records_here(pattern: Tree, loom: Tree) -> list[Tree]:
    """The records of this loom, the latest last; one that names no loom counts as this loom's."""
    return [record for record in by_date(pattern) if record.get("loom", loom["title"]) == loom["title"]]


def by_date(pattern: Tree) -> list[Tree]:
    return sorted(pattern.get("measured", []), key=lambda record: str(record["date"]))


def latest_with(pattern: Tree, loom: Tree, key: str) -> str | None:
    """ "The latest record of this loom counts most", then the latest of any; of those that have the figure."""
    having = [record[key] for record in by_date(pattern) if key in record]
    here = [record[key] for record in records_here(pattern, loom) if key in record]
    return str((here or having)[-1]) if having else None


# Width, picks, take-up, shrinkage, waste


def width_of(pattern: Tree, loom: Tree, ends: list[str]) -> tuple[Fraction, Fraction, Fraction]:
    """ "The width adds up the stripes; a measured one counts 5 % either way." """
    measured = latest_with(pattern, loom, "width") or pattern.get("width")
    if measured:
        width = length_mm(measured)
        return width * Fraction("0.95"), width, width * Fraction("1.05")
    low = high = likely = Fraction(0)
    for yarn, count in Counter(ends).items():
        fewest, usual, most = ends_per_inch(pattern["yarns"][yarn])
        low, likely, high = (
            low + count * INCH_MM / most,
            likely + count * INCH_MM / usual,
            high + count * INCH_MM / fewest,
        )
    return low, likely, high


def picks_to_the_inch(pattern: Tree, loom: Tree, ends: list[str], width: Fraction) -> Fraction:
    """ "What was measured on an earlier tape, else ``picks_per_inch``, else a third of the ends to the inch." """
    measured = latest_with(pattern, loom, "picks_per_inch") or pattern.get("picks_per_inch")
    if measured:
        return Fraction(measured)
    return len(ends) * INCH_MM / width / 3


def shrinkage_of(pattern: Tree, ends: list[str]) -> Loss:
    """ "The file's own, else a range by the fibre of most ends." """
    own = pattern.get("length", {}).get("shrinkage")
    if own:
        return Loss(share(own), share(own), share(own))
    fibres = Counter(pattern["yarns"][yarn]["fibre"] for yarn in ends)
    return Loss(*(Fraction(per_cent, 100) for per_cent in SHRINKAGE[fibres.most_common(1)[0][0]]))


def take_up_of(pattern: Tree, loom: Tree, ends: list[str], picks_per_inch: Fraction, shrinkage: Loss) -> Loss:
    """ "Measured, else the file's own; either is one figure. Else a range, from the yarn and the picks." """
    measured = measured_take_up(pattern, loom, shrinkage)
    if measured is not None:
        return Loss(measured, measured, measured)
    own = pattern.get("length", {}).get("take_up")
    if own:
        return Loss(share(own), share(own), share(own))
    return take_up_range(pattern, ends, picks_per_inch)


def measured_take_up(pattern: Tree, loom: Tree, shrinkage: Loss) -> Fraction | None:
    """What an earlier tape says: "one less the tape as it was before the wash, divided by the warp that was woven".

    "A record without its ``leftover`` counts on its own loom only, with that loom's waste". Raises Refused.
    """
    here = records_here(pattern, loom)
    able = [record for record in by_date(pattern) if "warp" in record and "tape" in record]
    able = [record for record in able if "leftover" in record or record in here]
    ours = [record for record in able if record in here]
    return take_up_from((ours or able)[-1], pattern, loom, shrinkage) if able else None


def take_up_from(record: Tree, pattern: Tree, loom: Tree, shrinkage: Loss) -> Fraction:
    leftover = length_mm(record["leftover"]) if "leftover" in record else own_waste(loom)
    tape = length_mm(record["tape"])
    before_washing = tape / (1 - shrinkage.likely)
    woven = length_mm(record["warp"]) - leftover - fringes_of_tape(pattern, record, tape)
    if before_washing >= woven:
        raise Refused("no warp is shorter than its tape")
    return 1 - before_washing / woven


def fringes_of_tape(pattern: Tree, record: Tree, tape: Fraction) -> Fraction:
    """As the record says; else the fringes of the pieces that a tape of this length came as: as many of each kind as
    were wanted and fit; none where the tape was a twentieth longer than all of them."""
    fringes = Fraction(0)
    if "fringes" in record:
        return length_mm(record["fringes"])
    kinds = pattern.get("length", {}).get("pieces", [])
    if tape > Fraction(21, 20) * sum(int(kind.get("count", 1)) * length_mm(kind["length"]) for kind in kinds):
        return fringes
    for entry in pattern.get("length", {}).get("pieces", []):
        count = max(min(int(entry.get("count", 1)), floor(tape / length_mm(entry["length"]) + Fraction(1, 2))), 0)
        tape -= count * length_mm(entry["length"])
        fringes += 2 * count * length_mm(entry.get("fringe", "0 mm"))
    return fringes


def take_up_range(pattern: Tree, ends: list[str], picks_per_inch: Fraction) -> Loss:
    """ "In whole per cent, the least rounded down and the most up, and always within 8 to 25 %."

    p is "from pick to pick", D "the diameters of warp (the mean of all ends) and weft together", and e "of them
    counting (0.6 at least, 0.8 likely, 1 at most)".
    """
    yarns = pattern["yarns"]
    warp = sum((diameter_mm(yarns[yarn]) for yarn in ends), Fraction(0)) / len(ends)
    both = warp + diameter_mm(yarns[weft_of(pattern, ends)])
    pick = INCH_MM / picks_per_inch
    least, likely, most = (100 * take_up_at(e * float(both / pick)) for e in (0.6, 0.8, 1.0))
    whole = (floor(least), floor(likely + 0.5), ceil(most))
    return Loss(*(Fraction(min(max(per_cent, 8), 25), 100) for per_cent in whole))


def take_up_at(sine: float) -> float:
    """ "The crimp is c = θ sin θ + cos θ - 1, and the take-up c / (1 + c)", sin θ never more than 1."""
    angle = asin(min(sine, 1.0))
    crimp = angle * sin(angle) + cos(angle) - 1
    return crimp / (1 + crimp)


def waste_of(pattern: Tree, loom: Tree) -> tuple[Fraction, Fraction]:
    """All of it, and what lies in front of the first pick.

    "Measured as ``leftover`` on this loom, else the loom's own; else 45 cm with one heddle and 60 cm with two": in
    front "as the loom's file has it in two parts, else a third"; a measured one is parted as the loom's is.
    """
    own = own_waste(loom)
    left = [record["leftover"] for record in records_here(pattern, loom) if "leftover" in record]
    waste = length_mm(left[-1]) if left else own
    parts = loom.get("waste")
    in_front = length_mm(parts["front"]) / own if isinstance(parts, dict) else Fraction(1, 3)
    return waste, waste * in_front


def own_waste(loom: Tree) -> Fraction:
    """The loom's own, in one part or two; else what is usual."""
    own = loom.get("waste", "60 cm" if loom["kind"] == "two heddles" else "45 cm")
    return sum(map(length_mm, own.values()), Fraction(0)) if isinstance(own, dict) else length_mm(own)
