"""Which text of the files is too long for a card that does not fit, and how long it may be."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import Any, Final, NamedTuple

from cardmaker.card.sheet import Sheet
from cardmaker.model.pattern import Pattern
from cardmaker.model.problems import KeyPath, Refusal
from cardmaker.model.record_class import replace

BRIEF: Final = 12  # letters: what is as short as this is not to blame
MOST_TRIED: Final = 12  # texts, each by itself: a card is set anew for every one of them
SHORTEN: Final = "Shorten it, or choose a larger paper or another layout."
_OF_PATTERN: Final = {
    "title": "this title",
    "code": "this code",
    "version": "this version",
    "date": "this date",
    "about": "this description",
    "credit": "this credit",
    "marked_as": "this mark",
}
_NOTES: Final = ("student", "teacher", "visitor")
_OF_SOURCE: Final = (
    "what", "holder", "object_number", "attached_to", "place", "period", "attributed", "counted_by", "counted_when",
    "counted_how", "certainty", "fibre", "twist", "colour_today", "colour_then", "colour_reason",
)  # fmt: skip


class _Text(NamedTuple):
    """A text, or some that are alike, with the key that it stands under; and a sheet with no more letters of it."""

    path: KeyPath
    name: str
    letters: int
    cut: Callable[[Sheet, int], Sheet]


def too_long_text(sheet: Sheet, fits: Callable[[Sheet], bool]) -> Refusal | None:
    """The longest text without which the card would fit, with the longest that does; where no single one is to blame,
    the longest of all. None where the card is too full without them."""
    texts = sorted((text for text in _texts(sheet) if text.letters > BRIEF), key=lambda text: -text.letters)
    if not texts or not fits(_all_cut(sheet, texts)):
        return None
    for text in texts[:MOST_TRIED]:
        if fits(text.cut(sheet, BRIEF)):
            most = _longest(sheet, text, fits)
            left = f"beside all else that must stand on {sheet.paper.name}, {most} fit"
            return Refusal(text.path, f"{text.name} has {text.letters} letters; {left}.", SHORTEN)
    others = ", ".join(f"{text.name} {text.letters}" for text in texts[1:4])
    message = f"{texts[0].name} has {texts[0].letters} letters, {others}; together too many for {sheet.paper.name}."
    return Refusal(texts[0].path, message, "Shorten them, or choose a larger paper or another layout.")


def _longest(sheet: Sheet, text: _Text, fits: Callable[[Sheet], bool]) -> int:
    """How many letters of a text fit, sought by halving."""
    most, too_many = BRIEF, text.letters
    while too_many - most > 1:
        tried = (most + too_many) // 2
        most, too_many = (tried, too_many) if fits(text.cut(sheet, tried)) else (most, tried)
    return most


def _all_cut(sheet: Sheet, texts: Sequence[_Text]) -> Sheet:
    for text in texts:
        sheet = text.cut(sheet, BRIEF)
    return sheet


def _texts(sheet: Sheet) -> Iterator[_Text]:
    pattern = sheet.plan.pattern
    for key, name in _OF_PATTERN.items():
        yield _Text((key,), name, len(getattr(pattern, key)), partial(_with_field, key))
    for index, use in enumerate(pattern.purposes):
        yield _Text(("for", index), "this use", len(use), partial(_with_use, index))
    for key in _NOTES:
        for index, note in enumerate(getattr(pattern.notes, key)):
            yield _Text(("notes", key), f"a note for the {key}", len(note), partial(_with_note, key, index))
    if pattern.source is not None:
        for key in _OF_SOURCE:
            said = getattr(pattern.source, key)
            yield _Text(("source", key), "this part of the source", len(said), partial(_with_source, key))
        for key, name in (("differences", "this difference"), ("references", "this reference")):
            for index, said in enumerate(getattr(pattern.source, key)):
                yield _Text(("source", key, index), name, len(said), partial(_with_list_of_source, key, index))
    for index, change in enumerate(pattern.changes):
        yield _Text(("changes", index, "what"), "this change", len(change.what), partial(_with_change, index))
    for index, yarn in enumerate(pattern.yarns):
        for key in ("shade", "dye", "dye_evidence"):
            said = getattr(yarn, key)
            name = f"this {key.replace('_', ' ')}"
            yield _Text(("yarns", yarn.name, key), name, len(said), partial(_with_yarn, index, key))
    longest = max(len(yarn.name) for yarn in pattern.yarns)
    yield _Text(("yarns",), "the longest name of a yarn", longest, _with_yarns)
    yield _Text(("warp",), "the title of the loom", len(sheet.plan.loom.title), _with_loom)


def _with_pattern(sheet: Sheet, pattern: Pattern) -> Sheet:
    plan, face_plan = (replace(each, pattern=pattern) for each in (sheet.plan, sheet.face_plan))
    return replace(sheet, plan=plan, face_plan=face_plan)


def _with_field(key: str, sheet: Sheet, letters: int) -> Sheet:
    pattern = sheet.plan.pattern
    changed: dict[str, Any] = {key: _cut(getattr(pattern, key), letters)}
    return _with_pattern(sheet, replace(pattern, **changed))


def _with_use(index: int, sheet: Sheet, letters: int) -> Sheet:
    pattern = sheet.plan.pattern
    return _with_pattern(sheet, replace(pattern, purposes=_one_cut(pattern.purposes, index, letters)))


def _with_note(key: str, index: int, sheet: Sheet, letters: int) -> Sheet:
    pattern = sheet.plan.pattern
    changed: dict[str, Any] = {key: _one_cut(getattr(pattern.notes, key), index, letters)}
    return _with_pattern(sheet, replace(pattern, notes=replace(pattern.notes, **changed)))


def _with_source(key: str, sheet: Sheet, letters: int) -> Sheet:
    pattern = sheet.plan.pattern
    assert pattern.source is not None
    changed: dict[str, Any] = {key: _cut(getattr(pattern.source, key), letters)}
    return _with_pattern(sheet, replace(pattern, source=replace(pattern.source, **changed)))


def _with_list_of_source(key: str, index: int, sheet: Sheet, letters: int) -> Sheet:
    pattern = sheet.plan.pattern
    assert pattern.source is not None
    changed: dict[str, Any] = {key: _one_cut(getattr(pattern.source, key), index, letters)}
    return _with_pattern(sheet, replace(pattern, source=replace(pattern.source, **changed)))


def _with_change(index: int, sheet: Sheet, letters: int) -> Sheet:
    pattern = sheet.plan.pattern
    changes = list(pattern.changes)
    changes[index] = replace(changes[index], what=_cut(changes[index].what, letters))
    return _with_pattern(sheet, replace(pattern, changes=tuple(changes)))


def _with_yarn(index: int, key: str, sheet: Sheet, letters: int) -> Sheet:
    """By its place among them: its name may have been cut as well."""
    pattern = sheet.plan.pattern
    yarns = list(pattern.yarns)
    changed: dict[str, Any] = {key: _cut(getattr(yarns[index], key), letters)}
    yarns[index] = replace(yarns[index], **changed)
    return _with_pattern(sheet, replace(pattern, yarns=tuple(yarns)))


def _with_loom(sheet: Sheet, letters: int) -> Sheet:
    plan, face_plan = (
        replace(each, loom=replace(each.loom, title=_cut(each.loom.title, letters)))
        for each in (sheet.plan, sheet.face_plan)
    )
    return replace(sheet, plan=plan, face_plan=face_plan)


def _with_yarns(sheet: Sheet, letters: int) -> Sheet:
    """All names of yarns cut, wherever the plan has one; their last letter keeps them apart."""
    names = {
        yarn.name: f"{_cut(yarn.name, letters - 1)}{index}" if len(yarn.name) > letters else yarn.name
        for index, yarn in enumerate(sheet.plan.pattern.yarns)
    }
    inks = {names[yarn]: ink for yarn, ink in sheet.inks.items()}
    plan, face_plan, segments = (_renamed(each, names) for each in (sheet.plan, sheet.face_plan, sheet.segments))
    return replace(sheet, plan=plan, face_plan=face_plan, segments=segments, inks=inks)


def _renamed(value: Any, names: dict[str, str]) -> Any:
    """A value with other names of yarns in it, however deep; only to measure by."""
    if isinstance(value, str):
        return names.get(value, value) if type(value) is str else value
    if isinstance(value, tuple):
        items = [_renamed(item, names) for item in value]
        return type(value)(*items) if hasattr(value, "_fields") else tuple(items)
    if isinstance(value, dict):
        return {_renamed(key, names): _renamed(item, names) for key, item in value.items()}
    if hasattr(value, "__match_args__") and not isinstance(value, type):
        return replace(value, **{key: _renamed(getattr(value, key), names) for key in value.__match_args__})
    return value


def _one_cut(texts: tuple[str, ...], index: int, letters: int) -> tuple[str, ...]:
    return (*texts[:index], _cut(texts[index], letters), *texts[index + 1 :])


def _cut(text: str, letters: int) -> str:
    return text[:letters].rstrip()
