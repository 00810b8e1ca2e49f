"""Which card stands under which heading, and in what order."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from functools import partial
from typing import Final, NamedTuple, TypeVar

from cardmaker.binder import binder_words
from cardmaker.model.binder_contents import Entry, Order
from cardmaker.wording import phrases, source_words
from cardmaker.wording.formatters import Units

_PARTS: Final = re.compile(r"(\d+)")
WIDTHS_MM: Final = (5, 10, 15, 20, 30)  # each section's tapes are narrower than this, and not than the one before
ENDS: Final = (15, 25, 35, 50)  # each section's tapes have at most so many

Key = TypeVar("Key")


class SectionHeading(NamedTuple):
    """A section of the binder as it is printed."""

    title: str
    entries: tuple[Entry, ...]
    text: str = ""


def by_code(entries: Iterable[Entry]) -> list[Entry]:
    """In the order of their codes, T9 before T10; those without a code last, by name."""
    return sorted(entries, key=lambda entry: (not entry.code, natural(entry.code), natural(entry.title)))


def natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """A key that sorts figures in a text by their value and letters without regard to capitals."""
    parts = _PARTS.split(text.casefold())
    return tuple((0, int(part[:40]), "") if part.isdecimal() else (1, 0, part) for part in parts if part)


def arranged(entries: Sequence[Entry], by: Order | None, units: Units) -> tuple[SectionHeading, ...]:
    """The sections of a binder ordered ``by`` something, none of them empty; without it one, in the order given."""
    if by is None:
        return (SectionHeading("", tuple(entries)),)
    key = partial(width_place, units=units) if by == "width" else _KEYS[by]
    sections = grouped(by_code(entries), key)
    return tuple(SectionHeading(str(place[-1]), tuple(sections[place])) for place in sorted(sections))


def grouped(entries: Iterable[Entry], key: Callable[[Entry], Key]) -> dict[Key, list[Entry]]:
    """Those of one key together, in the order that they have."""
    groups: dict[Key, list[Entry]] = {}
    for entry in entries:
        groups.setdefault(key(entry), []).append(entry)
    return groups


Place = tuple[object, ...]  # sorts a section; its last member is the section's title


def _use(entry: Entry) -> Place:
    """Under the first use that the pattern names: the index tells the others."""
    if not entry.purposes:
        return (1, "", binder_words.NO_USE)
    return (0, entry.purposes[0].casefold(), phrases.capitalised(entry.purposes[0]))


def width_place(entry: Entry, units: Units, *, brief: bool = False) -> Place:
    """Among tapes of about its width."""
    below = next((limit for limit in WIDTHS_MM if entry.width_mm < limit), None)
    above = max((limit for limit in WIDTHS_MM if entry.width_mm >= limit), default=None)
    return (Fraction(above or 0), binder_words.width_heading(above, below, units, brief=brief))


def ends_place(entry: Entry) -> Place:
    """Among tapes of about as many ends."""
    most = next((limit for limit in ENDS if entry.ends <= limit), None)
    least = max((limit + 1 for limit in ENDS if entry.ends > limit), default=1)
    return (least, binder_words.ends_heading(least, most))


def _grade(entry: Entry) -> Place:
    return (entry.grade or "Z", source_words.grade(entry.grade))


_KEYS: Final[dict[Order, Callable[[Entry], Place]]] = {"use": _use, "ends": ends_place, "grade": _grade}
