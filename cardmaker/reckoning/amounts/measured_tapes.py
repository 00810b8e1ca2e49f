"""What earlier tapes of this pattern taught: true take-up, ends and picks per inch, and waste.

A record of what came off the loom is worth more than any rule; the best measure of take-up is a length of warp against
the cloth that it made (Wolfensberger 1921 p.68).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from fractions import Fraction
from math import floor
from typing import Final

from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Measurement, Pattern, YarnMeasurement
from cardmaker.model.problems import Refusal
from cardmaker.model.record_class import record
from cardmaker.model.units import inches
from cardmaker.reckoning.amounts.allowances import shrinkage, waste

ALMOST: Final = 0.75  # of two names, how alike they are by difflib's ratio: one or two letters of eight (ours)
LONGER: Final = Fraction(105, 100)  # than all pieces together: no tape of these comes out so long (ours)
_SORTABLE_DATE: Final = r"\d{4}(-\d{2}){0,2}"


@record
class Learned:
    """Figures from the records, each from the latest one that tells it; None where none does.

    ``dates`` are those of the records used, latest first, as typed; ``date_of`` pairs each figure's name with its own.
    """

    dates: tuple[str, ...]
    take_up: Fraction | None = None
    ends_per_inch: Fraction | None = None
    picks_per_inch: Fraction | None = None
    waste_mm: Fraction | None = None
    date_of: tuple[tuple[str, str], ...] = ()


@record
class YarnFigures:
    """The records of the yarns' files that a tape reckons with; None where there is none that it may."""

    take_up: YarnMeasurement | None = None
    picks_per_inch: YarnMeasurement | None = None


NO_YARN_FIGURES: Final = YarnFigures()


def age_of_record(date: str, index: int) -> tuple[str, int]:
    """Sorts older before younger: by date where it is written year first, else by the place in the file."""
    return date if re.fullmatch(_SORTABLE_DATE, date, re.ASCII) else "", index


@record
class _Record:
    index: int  # in the file, to point at
    what: Measurement
    of_this_loom: bool

    @property
    def age(self) -> tuple[str, int]:
        return age_of_record(self.what.date, self.index)


def learned_figures(pattern: Pattern, loom: Loom, ends: int) -> Learned | None:
    """What the pattern's ``measured`` records teach about weaving its ``ends`` ends on ``loom``, or None.

    Records of this loom, or of none in particular, come before those of another. Raises Refusal for a record of more
    tape than its warp could give.
    """
    records = sorted(_records(pattern, loom), key=lambda record: (record.of_this_loom, record.age), reverse=True)
    readers: dict[str, Callable[[_Record], Fraction | None]] = {
        "take_up": lambda record: _take_up(record, pattern, loom),
        "ends_per_inch": lambda record: _ends_per_inch(record, ends),
        "picks_per_inch": lambda record: record.what.picks_per_inch,
        "waste_mm": lambda record: record.what.leftover_mm if record.of_this_loom else None,
    }
    figures: dict[str, Fraction] = {}
    used: dict[str, _Record] = {}
    for name, read in readers.items():
        for each in records:
            if (figure := read(each)) is not None:
                figures[name] = figure
                used[name] = each
                break
    if not used:
        return None
    youngest_first = sorted(set(used.values()), key=lambda record: record.age, reverse=True)
    dates = tuple(record.what.date for record in youngest_first)
    return Learned(dates, **figures, date_of=tuple((name, record.what.date) for name, record in used.items()))


def latest(pattern: Pattern, read: Callable[[Measurement], Fraction | None]) -> Fraction | None:
    """What the latest record that tells it tells, whatever the loom; None where none does."""
    records = [_Record(index, what, True) for index, what in enumerate(pattern.measured) if read(what)]
    return read(max(records, key=lambda record: record.age).what) if records else None


def loom_meant(name: str, looms: Sequence[Loom]) -> Loom | None:
    """The loom whose title or file's name is nearly ``name``; None where it is one of theirs, or like none.

    Whoever writes *Kitchenbox* of her *Kitchen box* would have the tape counted as another loom's.
    """
    if any(is_loom_named(loom, name) for loom in looms):
        return None
    spellings = {_letters(spelling): loom for loom in looms for spelling in (loom.stem, loom.title)}
    if (bare := _letters(name)) not in spellings:
        from difflib import get_close_matches

        bare = next(iter(get_close_matches(bare, spellings, 1, ALMOST)), "")
    return spellings.get(bare)


def is_loom_named(loom: Loom, name: str) -> bool:
    """Whether a record means this loom, by its title or its file's stem."""
    return name.strip().casefold() in (loom.title.casefold(), loom.stem.casefold())


def _letters(name: str) -> str:
    """Letters and figures alone, in small letters: a space, a hyphen or a capital more is a slip of the pen."""
    return "".join(sign for sign in name.casefold() if sign.isalnum())


def _records(pattern: Pattern, loom: Loom) -> list[_Record]:
    records = enumerate(pattern.measured)
    return [_Record(index, what, not what.loom.strip() or is_loom_named(loom, what.loom)) for index, what in records]


def _ends_per_inch(record: _Record, ends: int) -> Fraction | None:
    return ends / inches(record.what.width_mm) if record.what.width_mm else None


def _take_up(record: _Record, pattern: Pattern, loom: Loom) -> Fraction | None:
    """1 - (tape / (1 - shrinkage)) / (warp - waste - fringes): back from ``lengths``, with the likely shrinkage.

    The record's own leftover is the waste; without one it is this loom's, and another loom's record then tells nothing.
    """
    what = record.what
    if what.warp_mm is None or what.tape_mm is None or (what.leftover_mm is None and not record.of_this_loom):
        return None
    lost = what.leftover_mm if what.leftover_mm is not None else waste(loom)[0]
    woven_from = what.warp_mm - lost - _fringes_of(what, pattern)
    on_loom = what.tape_mm / (1 - shrinkage(pattern)[0][1])
    if on_loom > woven_from or woven_from <= 0:
        raise Refusal(
            ("measured", record.index, "tape"),
            f"{_inches(what.tape_mm)} of tape, {_inches(on_loom)} before washing, cannot come from a warp of "
            f"{_inches(what.warp_mm)} less {_inches(what.warp_mm - woven_from)} of waste and fringes.",
            _remedy(what, on_loom, pattern),
        )
    return 1 - on_loom / woven_from


def _remedy(record: Measurement, on_loom_mm: Fraction, pattern: Pattern) -> str:
    """What may be missing from a record that cannot be; where nothing is, a length must be wrong."""
    warp = record.warp_mm or Fraction(0)
    if record.leftover_mm is None and on_loom_mm < warp - _fringes_of(record, pattern):
        return "Add leftover: the warp that was not woven."
    if record.fringes_mm is None and _fringes_of(record, pattern) and on_loom_mm < warp - (record.leftover_mm or 0):
        return "Check the lengths, and write fringes: the warp that was left bare, 0 in if there was none."
    return "Check the lengths."


def _fringes_of(record: Measurement, pattern: Pattern) -> Fraction:
    """The record's own; else the fringes of as many pieces as so much tape makes, in the order of the file and to the
    nearest piece. A tape longer than all of them was not cut into them, and had none."""
    if record.fringes_mm is not None:
        return record.fringes_mm
    tape_mm = record.tape_mm or Fraction(0)
    fringes = Fraction(0)
    if tape_mm > LONGER * sum((piece.count * piece.length_mm for piece in pattern.length.pieces), Fraction(0)):
        return fringes
    for piece in pattern.length.pieces:
        come = min(piece.count, floor(tape_mm / piece.length_mm + Fraction(1, 2)))
        tape_mm = max(tape_mm - come * piece.length_mm, Fraction(0))
        fringes += 2 * come * piece.fringe_mm
    return fringes


def _inches(length: Fraction) -> str:
    return f"{float(inches(length)):.1f} in"
