"""A pattern in other yarns: which figures of the old ones are none of the new ones.

The stripes stay, and what is wanted; what was measured on a tape belongs to the yarn that it was woven of.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cardmaker.model.pattern import Measurement, Pattern, SecondYarn, WantedLength, Yarn
from cardmaker.model.record_class import replace
from cardmaker.reckoning.amounts.yarn_thickness import thickness_mm


def length_in_other_yarns(pattern: Pattern, yarns: Iterable[Yarn]) -> WantedLength:
    """What is wanted stays. Shrinkage goes with the fibre, and take-up with fibre and thickness: a figure of the old
    yarn is none of the new one."""
    new, wanted = tuple(yarns), pattern.length
    return replace(
        wanted,
        take_up=wanted.take_up if _same_yarns(pattern, new) else None,
        shrinkage=wanted.shrinkage if _same_fibres(pattern, new) else None,
    )


def in_second_yarn(pattern: Pattern, second: SecondYarn) -> Pattern:
    """The pattern as it is woven in its second yarn, with as many ends.

    Yarns that it does not name stay. Ends that had to lie in slots still must, so that the warp lies as it lay; a yarn
    without a colour has that of the old one. Where the new yarns are as the old ones but for colour and label, what was
    measured stays; else it goes, but for the waste, which is the loom's.
    """
    new = {yarn.name: _in_place_of(pattern.yarn(yarn.name), yarn) for yarn in second.yarns}
    changed = replace(
        pattern,
        yarns=tuple(new.get(yarn.name, yarn) for yarn in pattern.yarns),
        length=length_in_other_yarns(pattern, new.values()),
        second_yarns=(),
    )
    if _same_yarns(pattern, tuple(new.values())):
        return changed
    waste = tuple(_waste_alone(record) for record in pattern.measured)
    return replace(changed, width_mm=None, picks_per_inch=None, measured=waste)


def _in_place_of(old: Yarn, new: Yarn) -> Yarn:
    return replace(new, colour=new.colour or old.colour, slots_only=new.slots_only or old.slots_only)


def _waste_alone(record: Measurement) -> Measurement:
    return Measurement(record.date, record.loom, leftover_mm=record.leftover_mm)


def are_one_yarn(yarns: Sequence[Yarn]) -> bool:
    """Whether several are one yarn in several shades, by fibre and thickness."""
    return len({(yarn.fibre, thickness_mm(yarn)) for yarn in yarns}) == 1


def _same_fibres(pattern: Pattern, new: Sequence[Yarn]) -> bool:
    return all(pattern.yarn(yarn.name).fibre == yarn.fibre for yarn in new)


def _same_yarns(pattern: Pattern, new: Sequence[Yarn]) -> bool:
    """By fibre and thickness: another shade of a yarn is the same yarn."""
    pairs = [(pattern.yarn(yarn.name), yarn) for yarn in new]
    return _same_fibres(pattern, new) and all(thickness_mm(old) == thickness_mm(yarn) for old, yarn in pairs)
