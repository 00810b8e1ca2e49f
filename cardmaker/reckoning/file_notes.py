"""What is no fault of a pattern's file and should be looked at all the same, whatever it is woven on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Note
from cardmaker.model.problems import KeyPath

MOST_PAIRS: Final = 3  # of rows that are named one by one (a limit of ours)


def notes_of_file(pattern: Pattern, looms: Sequence[Loom]) -> Iterator[tuple[KeyPath, Note]]:
    """Each note with the key that it is about. ``looms`` are those that a record of a tape may mean."""
    yield from _two_picks_in_one_shed(pattern)
    yield from _looms_spelt_otherwise(pattern, looms)


def _two_picks_in_one_shed(pattern: Pattern) -> Iterator[tuple[KeyPath, Note]]:
    if pattern.pickup is None:
        return
    from cardmaker.reckoning.weaving.pickup import same_shed_after

    if rows := same_shed_after(pattern.pickup.rows):
        last = len(pattern.pickup.rows)
        pairs = [f"{row} and {row + 1}" if row < last else f"{row} and then 1 again" for row in rows]
        more = [f"{len(pairs) - MOST_PAIRS} more pairs"] if len(pairs) > MOST_PAIRS + 1 else []
        shown = ", ".join((*pairs[:MOST_PAIRS], *more) if more else pairs)
        yield ("pickup", "rows", rows[0] - 1), Note("warning", "pickup", "same_shed", {"rows": shown})


def _looms_spelt_otherwise(pattern: Pattern, looms: Sequence[Loom]) -> Iterator[tuple[KeyPath, Note]]:
    named = [(index, record) for index, record in enumerate(pattern.measured) if record.loom]
    if not named:
        return
    from cardmaker.reckoning.amounts.measured_tapes import loom_meant

    for index, record in named:
        if (loom := loom_meant(record.loom, looms)) is not None:
            values = {"date": record.date, "named": record.loom, "loom": loom.title}
            yield ("measured", index, "loom"), Note("warning", "measured", "loom_meant", values)
