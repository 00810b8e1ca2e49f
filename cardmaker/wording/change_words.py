"""Versions: what a card says of the one that it replaces, and of its own history."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cardmaker.model.pattern import Pattern, Yarn
from cardmaker.model.plan import Run
from cardmaker.model.record_class import record
from cardmaker.model.viewpoint import FROM_SEAT, Viewpoint
from cardmaker.wording.formatters import Units, decimal, small_length
from cardmaker.wording.view_words import AS_YOU_SIT
from cardmaker.wording.yarn_words import yarn_kind

if TYPE_CHECKING:
    from cardmaker.reckoning.stripes.version_changes import Difference, What

MOST_STRIPES: Final = 16  # of a changed warp: longer ones are not told on the card, only that they changed
ALIKE: Final = "The pattern is the same."  # the loom may be another one
_SHORT: Final[dict[What, str]] = {
    "ends": "the number of ends", "stripes": "the stripes", "new yarn": "the yarns", "yarn gone": "the yarns",
    "colour": "colours", "thickness": "the yarn", "spaces": "which ends lie in slots", "weft": "the weft",
    "picks": "picks", "width": "the width", "length": "the length", "measured": "what was measured",
    "pick-up": "the pick-up", "title": "the name", "code": "the code", "words": "words only",
}  # fmt: skip


@record
class Replaced:
    """The version that a card replaces, what has changed since, and whether the card is of that version still."""

    version: str
    date: str
    differences: tuple[Difference, ...]
    same_version: bool = False


def replaced_by_new(old: Pattern, new: Pattern) -> Replaced:
    """What a card of ``new`` must say of one of ``old``."""
    from cardmaker.reckoning.stripes.version_changes import differences

    same_version = old.version == new.version
    date = "" if same_version and old.date == new.date else old.date
    return Replaced(old.version, date, differences(old, new), same_version)


def changes_in_full(since: Replaced, units: Units, view: Viewpoint = FROM_SEAT) -> str:
    """One sentence for every difference. The old stripes are told as the file has them, from the left."""
    if not since.differences:
        return f"{_named(since)} {ALIKE}"
    return " ".join([_named(since), *(_sentence(each, units, view) for each in since.differences)])


def changes_in_short(since: Replaced) -> str:
    """Only which things differ."""
    if not since.differences:
        return f"{_named(since)} {ALIKE}"
    things = tuple(dict.fromkeys(_SHORT[each.what] for each in since.differences))
    return f"{_named(since)} Changed: {', '.join(things)}."


def _named(since: Replaced) -> str:
    """A version replaces another one; of its own version a card replaces no more than an earlier card."""
    version = f"version {since.version}" if since.version else ""
    if since.same_version:
        version = f"an earlier card{f' of {version}' if version else ''}"
    return f"Replaces {version or 'an earlier card'}{f' of {since.date}' if since.date else ''}."


def _sentence(each: Difference, units: Units, view: Viewpoint) -> str:
    return _stripes(each, view) if each.what == "stripes" else _SENTENCES[each.what](each, units)


def _stripes(each: Difference, view: Viewpoint) -> str:
    before = each.before
    assert isinstance(before, tuple)
    if len(before) > MOST_STRIPES:
        return "The stripes are others."
    from_left = f", from the left {AS_YOU_SIT}," if view.from_other_edge else ""
    return f"The stripes were{from_left} {_listed(before)}."


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
    "new yarn": lambda each, units: f"{each.yarn.capitalize()} is new.",
    "yarn gone": lambda each, units: f"There is no {each.yarn} any more.",
    "colour": lambda each, units: f"{each.yarn.capitalize()} has another colour.",
    "thickness": _thickness,
    "spaces": lambda each, units: f"Which spaces {each.yarn} may lie in has changed.",
    "weft": lambda each, units: f"The weft was {each.before}, now {each.now}.",
    "picks": lambda each, units: f"Picks to the inch: before {_number(each.before)}, now {_number(each.now)}.",
    "width": lambda each, units: f"Width: before {_length(each.before, units)}, now {_length(each.now, units)}.",
    "length": lambda each, units: "The length wanted, or what it is reckoned from, has changed.",
    "measured": lambda each, units: "What was measured has changed; each figure that comes from a tape says so.",
    "pick-up": lambda each, units: "The pick-up rows have changed.",
    "title": lambda each, units: f"It was called {each.before}.",
    "code": lambda each, units: f"Its code was {each.before or 'none'}.",
    "words": lambda each, units: "In the pattern only words have changed.",
}


def latest_change(pattern: Pattern) -> str:
    """What this version replaces, and why: the last line of the history and the last one of another version.

    Nothing when the history stops at another version than the card's: the two would contradict each other.
    """
    if not pattern.changes:
        return ""
    latest = pattern.changes[-1]
    if pattern.version and latest.version != pattern.version:
        return ""
    return f"Version {latest.version}, {latest.date}: {latest.what}{replaces(pattern)}."


def replaces(pattern: Pattern) -> str:
    """Which version the newest one of the history replaces, as the end of a sentence; nothing when it is the card's no
    longer, or the first."""
    latest = pattern.changes[-1]
    earlier = [change.version for change in pattern.changes if change.version != latest.version]
    is_on_card = not pattern.version or latest.version == pattern.version
    return f"; replaces version {earlier[-1]}" if earlier and is_on_card else ""


CHANGES: Final = "Versions"
