"""What one finished tape teaches for every later one: of its yarn, and of the loom that it was woven on.

Reckoned as the pattern's own next card reckons with its record (``measured_tapes``), from that record alone.
"""

from __future__ import annotations

from fractions import Fraction

from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Measurement, Pattern, ShelfYarn
from cardmaker.model.record_class import record, replace
from cardmaker.model.units import nearest_part
from cardmaker.reckoning.amounts.measured_tapes import learned_figures
from cardmaker.reckoning.amounts.other_yarns import are_one_yarn
from cardmaker.reckoning.amounts.weft import weft_yarn
from cardmaker.reckoning.stripes.stripe_counts import end_yarns

TENTHS = 10  # ends to the inch and per cent are kept to a tenth, closer than a ruler tells them


@record
class TaughtFigures:
    """Figures of one record; None where it tells none, or where the tape is of several yarns, so that it tells them of
    none of these. ``shrinkage`` is the pattern's own, with which the take-up was reckoned."""

    ends_per_inch: Fraction | None = None
    take_up: Fraction | None = None
    shrinkage: Fraction | None = None
    picks_per_inch: Fraction | None = None

    @property
    def any_of_yarn(self) -> bool:
        return any(getattr(self, name) is not None for name in self.__match_args__)


def figures_taught(pattern: Pattern, measurement: Measurement, loom: Loom) -> TaughtFigures:
    """What a record of ``pattern``, woven on ``loom``, tells of its yarn. Raises Refusal for more tape than its warp
    could give."""
    yarns = end_yarns(pattern)
    learned = learned_figures(replace(pattern, measured=(measurement,)), loom, len(yarns))
    warp = [pattern.yarn(name) for name in dict.fromkeys(yarns)]
    if learned is None or not are_one_yarn(warp):
        return TaughtFigures()
    ends_per_inch = nearest_part(learned.ends_per_inch, TENTHS) if learned.ends_per_inch else None
    if not are_one_yarn([*warp, pattern.yarn(weft_yarn(pattern, yarns))]):
        return TaughtFigures(ends_per_inch)
    take_up = None if learned.take_up is None else nearest_part(learned.take_up, 100 * TENTHS)
    return TaughtFigures(
        ends_per_inch, take_up, None if take_up is None else pattern.length.shrinkage, learned.picks_per_inch
    )


def shelf_yarns_of_warp(pattern: Pattern) -> tuple[ShelfYarn, ...]:
    """The yarns of the warp that have files of their own, each once."""
    shelves = [pattern.yarn(name).shelf for name in dict.fromkeys(end_yarns(pattern))]
    return tuple({shelf.places.file: shelf for shelf in shelves if shelf}.values())
