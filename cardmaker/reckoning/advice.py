"""What else the weaver should know: warnings, advice and cautions that follow from the figures.

A note is a key and its values; the sentences are in the wording.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from cardmaker.nouns.loom import Loom
from cardmaker.nouns.pattern import Pattern
from cardmaker.nouns.plan import Lengths, Note, Placement, Weft
from cardmaker.reckoning.bench import Bench
from cardmaker.reckoning.diameters import diameter_mm
from cardmaker.reckoning.lengths import is_short
from cardmaker.reckoning.placement import thick_ends_in_holes
from cardmaker.reckoning.stripes import is_same_both_ways

THICKER: Final = Fraction(6, 5)  # from this ratio of diameters on, an end is thick beside the others (a limit of ours)


@dataclass(frozen=True, slots=True)
class Facts:
    """What advice is drawn from."""

    pattern: Pattern
    loom: Loom
    yarns: Sequence[str]  # of each end
    placement: Placement
    lengths: Lengths
    weft: Weft
    at_hand: Sequence[Loom]
    loom_was_chosen: bool
    bench: Bench


def notes(facts: Facts) -> tuple[Note, ...]:
    """All notes: warnings first, cautions last."""
    return (*_thick(facts), *_placed(facts), *_weft(facts), *_lengths(facts), *_weights(facts), *_cautions())


def thick_yarns(facts: Facts) -> tuple[str, ...]:
    """The yarns noticeably thicker than the commonest one, where the diameters are known."""
    commonest = Counter(facts.yarns).most_common(1)[0][0]
    usual = diameter_mm(facts.pattern.yarn(commonest))
    thick = []
    for name in dict.fromkeys(facts.yarns):
        diameter = diameter_mm(facts.pattern.yarn(name))
        if usual and diameter and diameter >= THICKER * usual:
            thick.append(name)
    return tuple(thick)


def _thick(facts: Facts) -> Iterator[Note]:
    """A thick end in a hole may stick or not go through at all (common practice, no source)."""
    for name in thick_yarns(facts):
        ends = [number for number, yarn in enumerate(facts.yarns, start=1) if yarn == name]
        found = thick_ends_in_holes(facts.yarns, ends, facts.placement, facts.loom)
        if found is None:
            continue
        values: dict[str, str | int | Fraction] = {"count": len(found.in_holes), "of": len(ends), "yarn": name}
        if found.shift_helps:
            yield Note("warning", "placement", "thick_shift", values)
        elif found.counts.both:
            values["nearest"] = " or ".join(map(str, found.counts.both))
            yield Note("warning", "placement", "thick_counts", values)
        else:
            yield Note("warning", "placement", "thick_in_hole", values)


def _placed(facts: Facts) -> Iterator[Note]:
    if facts.loom_was_chosen and len(facts.at_hand) > 1:
        yield Note("advice", "loom", "chosen_loom", {"loom": facts.loom.title})
    if facts.placement.shifted:
        side = "right" if facts.placement.shifted > 0 else "left"
        yield Note("advice", "shift", "moved", {"side": side, "yarn": facts.placement.moved_yarn})
    if not is_same_both_ways(facts.yarns):
        yield Note("advice", "order", "turned", {})


def _weft(facts: Facts) -> Iterator[Note]:
    """The weft shows as a dot where it turns (common practice, no source)."""
    weft, edges = facts.weft.yarn, (facts.yarns[0], facts.yarns[-1])
    if weft not in edges:
        yield Note("advice", "weft", "weft_differs", {"weft": weft, "edge": " and ".join(dict.fromkeys(edges))})
    elif edges[0] != edges[1]:
        other = edges[1] if weft == edges[0] else edges[0]
        yield Note("advice", "weft", "edges_differ", {"weft": weft, "edge": other})


def _lengths(facts: Facts) -> Iterator[Note]:
    lengths = facts.lengths
    if lengths.asked == "default":
        yield Note("advice", "lengths", "guessed_length", {"length": lengths.finished_mm})
    if is_short(lengths):
        share = round(100 * lengths.tape_from_warp_mm / lengths.wind_mm)
        yield Note("warning", "lengths", "short_warp", {"share": share})


def _weights(facts: Facts) -> Iterator[Note]:
    for name in dict.fromkeys((*facts.yarns, facts.weft.yarn)):
        yarn = facts.pattern.yarn(name)
        if not (yarn.count or yarn.yards_per_pound or yarn.metres_per_kg):
            yield Note("advice", "yarn", "no_weight", {"yarn": name})


def _cautions() -> Iterator[Note]:
    """What a tape must not be used for (16 CFR 1120, ASTM F1816 and EN 14682 limit cords on children's clothes)."""
    yield Note("caution", "use", "children", {})
