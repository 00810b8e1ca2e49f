"""What earlier tapes of a yarn, and earlier warps on a loom, taught for every later one: figures of their own files.

Ends per inch, take-up and picks per inch go with the yarn, waste with the loom. What was measured on the pattern's own
tape and what its file says come before them, and they before what is usual. A tape as warp-faced as another of the same
yarn is as dense, and takes up as much: common practice, no source; so the range of a sample stays on its width.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern, Yarn, YarnMeasurement
from cardmaker.model.plan import Lengths, MeasuredOn, Weft, Width
from cardmaker.model.record_class import replace
from cardmaker.reckoning.amounts.measured_tapes import (
    NO_YARN_FIGURES,
    Learned,
    YarnFigures,
    age_of_record,
    is_loom_named,
)
from cardmaker.reckoning.amounts.other_yarns import are_one_yarn
from cardmaker.reckoning.stripes.stripe_counts import end_yarns


def yarn_figures(pattern: Pattern, loom: Loom, warp_yarns: Sequence[str], weft_yarn: str) -> YarnFigures:
    """Take-up and picks of a tape whose warp and weft are of one yarn in several shades at most: of another mixture
    nobody knows them. Every yarn of the warp must have been measured."""
    warp = [pattern.yarn(name) for name in dict.fromkeys(warp_yarns)]
    if any(yarn.shelf is None for yarn in warp) or not are_one_yarn([*warp, pattern.yarn(weft_yarn)]):
        return NO_YARN_FIGURES
    return YarnFigures(
        **{
            key: _best([each for each in found if each is not None], loom)
            for key in YarnFigures.__match_args__
            if all(found := [_best(_records(yarn, key), loom) for yarn in warp])
        }
    )


def as_measured(pattern: Pattern, loom: Loom | None = None) -> Pattern:
    """The pattern with its yarns as dense as tapes of them were, on this loom before others; but where the pattern's
    own file says how many ends lie in an inch."""
    if not any(yarn.shelf and yarn.shelf.measured for yarn in pattern.all_yarns):
        return pattern
    return replace(
        pattern,
        yarns=_all_as_measured(pattern.yarns, loom),
        second_yarns=tuple(
            [replace(second, yarns=_all_as_measured(second.yarns, loom)) for second in pattern.second_yarns]
        ),
    )


def measured_on(
    pattern: Pattern,
    loom: Loom,
    learned: Learned | None,
    of_yarns: YarnFigures,
    lengths: Lengths,
    width: Width,
    weft: Weft,
) -> tuple[MeasuredOn, ...]:
    """From which tapes of other patterns each figure of a plan comes. ``width`` does where every yarn was measured."""
    told: list[MeasuredOn] = []
    if lengths.take_up_basis == "measured" and not (learned and learned.take_up is not None) and of_yarns.take_up:
        told.append(_of_tape("take_up", of_yarns.take_up))
        told += [_of_tape("shrinkage", of_yarns.take_up)] if lengths.shrinkage_basis == "measured" else []
    if weft.basis == "measured" and not (learned and learned.picks_per_inch) and of_yarns.picks_per_inch:
        told.append(_of_tape("picks_per_inch", of_yarns.picks_per_inch))
    if lengths.waste_basis == "measured" and not (learned and learned.waste_mm is not None) and loom.measured_waste:
        told.append(MeasuredOn("waste_mm", loom.measured_waste.pattern, loom.measured_waste.date))
    if width.basis == "sample":
        told += _of_width(pattern, loom)
    return tuple(told)


def _of_width(pattern: Pattern, loom: Loom) -> Iterable[MeasuredOn]:
    yarns = [pattern.yarn(name) for name in dict.fromkeys(end_yarns(pattern))]
    records = [_best(_records(yarn, "ends_per_inch"), loom) for yarn in yarns]
    found = [_of_tape("ends_per_inch", each) for each in records if each is not None]
    return dict.fromkeys(found) if len(found) == len(yarns) else ()


def _of_tape(figure: str, measurement: YarnMeasurement) -> MeasuredOn:
    return MeasuredOn(figure, measurement.pattern, measurement.date)


def _all_as_measured(yarns: Iterable[Yarn], loom: Loom | None) -> tuple[Yarn, ...]:
    measured = [(yarn, _best(_records(yarn, "ends_per_inch"), loom)) for yarn in yarns]
    return tuple([replace(yarn, ends_per_inch=best.ends_per_inch) if best else yarn for yarn, best in measured])


def _records(yarn: Yarn, key: str) -> list[YarnMeasurement]:
    """Those of the yarn's file that tell a figure."""
    return [each for each in (yarn.shelf.measured if yarn.shelf else ()) if getattr(each, key) is not None]


def _best(records: Sequence[YarnMeasurement], loom: Loom | None) -> YarnMeasurement | None:
    """The youngest of this loom or of none in particular, else the youngest of all."""

    def order(numbered: tuple[int, YarnMeasurement]) -> tuple[bool, tuple[str, int]]:
        index, each = numbered
        here = loom is None or not each.loom.strip() or is_loom_named(loom, each.loom)
        return here, age_of_record(each.date, index)

    return max(enumerate(records), key=order)[1] if records else None
