"""Versions: what a card says of the one that it replaces, and of its own history."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from typing import Final, NamedTuple

from cardmaker.model.pattern import Pattern, Yarn
from cardmaker.model.plan import Run
from cardmaker.reckoning.stripes.version_changes import Difference, What, differences
from cardmaker.wording.formatters import Units, decimal, small_length
from cardmaker.wording.yarn_words import yarn_kind

MOST_STRIPES: Final = 16  # of a changed warp: longer ones are not told on the card, only that they changed
ALIKE: Final = "The pattern is the same."  # the loom may be another one
_SHORT: Final[dict[What, str]] = {
    "ends": "the number of ends", "stripes": "the stripes", "new yarn": "the yarns", "yarn gone": "the yarns",
    "colour": "colours", "thickness": "the yarn", "spaces": "which ends lie in slots", "weft": "the weft",
    "picks": "picks", "width": "the width", "length": "the length", "measured": "what was measured",
    "pick-up": "the pick-up", "title": "the name", "code": "the code", "words": "words only",
}  # fmt: skip


class Replaced(NamedTuple):
    """The version that a card replaces, and what has changed since."""

    version: str
    date: str
    differences: tuple[Difference, ...]


def replaced_by_new(old: Pattern, new: Pattern) -> Replaced:
    """What a card of ``new`` must say of one of ``old``."""
    return Replaced(old.version, old.date, differences(old, new))


def changes_in_full(since: Replaced, units: Units) -> str:
    """One sentence for every difference."""
    if not since.differences:
        return f"{_named(since)} {ALIKE}"
    return " ".join([_named(since), *(_sentence(each, units) for each in since.differences)])


def changes_in_short(since: Replaced) -> str:
    """Only which things differ."""
    if not since.differences:
        return f"{_named(since)} {ALIKE}"
    things = tuple(dict.fromkeys(_SHORT[each.what] for each in since.differences))
    return f"{_named(since)} Changed: {', '.join(things)}."


def _named(since: Replaced) -> str:
    version = f"version {since.version}" if since.version else "an earlier card"
    return f"Replaces {version}{f' of {since.date}' if since.date else ''}."


def _sentence(each: Difference, units: Units) -> str:
    return _SENTENCES[each.what](each, units)


def _stripes(each: Difference, units: Units) -> str:
    before = each.before
    assert isinstance(before, tuple)
    if len(before) > MOST_STRIPES:
        return "The stripes are others."
    return f"The stripes were {_listed(before)}."


def _listed(stripes: Iterable[Run]) -> str:
    return ", ".join(f"{run.ends} {run.yarn}" for run in stripes)


def _length(value: object, units: Units) -> str:
    return small_length(value, units) if isinstance(value, Fraction) else "not stated"


def _thickness(each: Difference, units: Units) -> str:
    before, now = (yarn_kind(yarn) if isinstance(yarn, Yarn) else "" for yarn in (each.before, each.now))
    if before != now:
        return f"{each.yarn.capitalize()} was {before}, now {now}."
    return f"{each.yarn.capitalize()} is reckoned with other figures."


def _number(value: object) -> str:
    return decimal(value, 1) if isinstance(value, Fraction) else "not stated"


_SENTENCES: Final[dict[What, Callable[[Difference, Units], str]]] = {
    "ends": lambda each, units: f"It had {each.before} ends, now {each.now}.",
    "stripes": _stripes,
    "new yarn": lambda each, units: f"{each.yarn.capitalize()} is new.",
    "yarn gone": lambda each, units: f"There is no {each.yarn} any more.",
    "colour": lambda each, units: f"{each.yarn.capitalize()} has another colour.",
    "thickness": _thickness,
    "spaces": lambda each, units: f"Which spaces {each.yarn} may lie in has changed.",
    "weft": lambda each, units: f"The weft was {each.before}, now {each.now}.",
    "picks": lambda each, units: f"Picks to the inch: before {_number(each.before)}, now {_number(each.now)}.",
    "width": lambda each, units: f"Width: before {_length(each.before, units)}, now {_length(each.now, units)}.",
    "length": lambda each, units: "The length wanted, or what it is reckoned from, has changed.",
    "measured": lambda each, units: "Other tapes are measured, and lengths, width and picks are reckoned from them.",
    "pick-up": lambda each, units: "The pick-up rows have changed.",
    "title": lambda each, units: f"It was called {each.before}.",
    "code": lambda each, units: f"Its code was {each.before or 'none'}.",
    "words": lambda each, units: "In the pattern only words have changed.",
}


def latest_change(pattern: Pattern) -> str:
    """What this version replaces, and why: the last line of the history and the one before it.

    Nothing when the history stops at another version than the card's: the two would contradict each other.
    """
    if not pattern.changes:
        return ""
    latest = pattern.changes[-1]
    if pattern.version and latest.version != pattern.version:
        return ""
    replaces = f"; replaces version {pattern.changes[-2].version}" if len(pattern.changes) > 1 else ""
    return f"Version {latest.version}, {latest.date}: {latest.what}{replaces}."


CHANGES: Final = "Versions"
