"""Which text of the files is too long for a card that does not fit, and how long it may be."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import Any, Final, NamedTuple

from cardmaker.card.sheet import Sheet
from cardmaker.model.plan import Plan
from cardmaker.model.problems import KeyPath, Refusal
from cardmaker.model.record_class import replace

BRIEF: Final = 12  # letters: what is as short as this is not to blame
_OF_PATTERN: Final = ("title", "code", "version", "date", "about", "credit", "marked_as")
_NOTES: Final = ("student", "visitor")


class _Text(NamedTuple):
    """A text with the key that it stands under, and the plan with another in its place."""

    path: KeyPath
    name: str
    text: str
    put: Callable[[Plan, str], Plan]


def too_long_text(sheet: Sheet, fits: Callable[[Sheet], bool]) -> Refusal | None:
    """The longest text without which the card would fit, with the longest that does; None where no single one is."""
    for text in sorted(_texts(sheet.plan), key=lambda text: -len(text.text)):
        if len(text.text) > BRIEF and fits(_with(sheet, text, BRIEF)):
            return _refusal(sheet, text, _longest(sheet, text, fits))
    return None


def _longest(sheet: Sheet, text: _Text, fits: Callable[[Sheet], bool]) -> int:
    """How many letters of a text fit, sought by halving."""
    most, too_many = BRIEF, len(text.text)
    while too_many - most > 1:
        tried = (most + too_many) // 2
        most, too_many = (tried, too_many) if fits(_with(sheet, text, tried)) else (most, tried)
    return most


def _refusal(sheet: Sheet, text: _Text, most: int) -> Refusal:
    message = (
        f"{text.name} has {len(text.text)} letters; beside all else that must stand on {sheet.paper.name}, {most} fit."
    )
    return Refusal(text.path, message, "Shorten it, or choose a larger paper or another layout.")


def _with(sheet: Sheet, text: _Text, letters: int) -> Sheet:
    brief = text.text[:letters].rstrip()
    return replace(sheet, plan=text.put(sheet.plan, brief), face_plan=text.put(sheet.face_plan, brief))


def _texts(plan: Plan) -> Iterator[_Text]:
    pattern = plan.pattern
    for key in _OF_PATTERN:
        yield _Text((key,), f"this {key.replace('_', ' ')}", getattr(pattern, key), partial(_put, key))
    for key in _NOTES:
        for index, note in enumerate(getattr(pattern.notes, key)):
            yield _Text(("notes", key), f"a note for the {key}", note, partial(_put_note, key, index))
    yield _Text(("warp",), "the title of the loom", plan.loom.title, _put_loom)


def _put(key: str, plan: Plan, text: str) -> Plan:
    changed: dict[str, Any] = {key: text}
    return replace(plan, pattern=replace(plan.pattern, **changed))


def _put_note(key: str, index: int, plan: Plan, text: str) -> Plan:
    notes = [*getattr(plan.pattern.notes, key)]
    notes[index] = text
    changed: dict[str, Any] = {key: tuple(notes)}
    return replace(plan, pattern=replace(plan.pattern, notes=replace(plan.pattern.notes, **changed)))


def _put_loom(plan: Plan, text: str) -> Plan:
    return replace(plan, loom=replace(plan.loom, title=text))
