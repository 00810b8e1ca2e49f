"""A pattern made over in its own file: the lines that change are changed, everything else stays as it was typed."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any, Final

from cardmaker.editing.resized_pattern import item_text, new_code, new_title
from cardmaker.editing.text_edits import NotEditable, TextEdits
from cardmaker.editing.yaml_text import decimal_number, yaml_string
from cardmaker.model.pattern import Alternation, Pattern, Stripe, WarpItem, Yarn
from cardmaker.model.problems import KeyPath
from cardmaker.model.record_class import replace
from cardmaker.reckoning.stripes.new_size import NewSize
from cardmaker.reckoning.stripes.stripe_counts import end_yarns
from cardmaker.wording.phrases import end_count
from cardmaker.wording.resize_words import difference, head_lines

_KEYS: Final = (
    "fibre", "count", "system", "shade", "lot", "dye", "dye_evidence", "colour", "yards_per_pound", "metres_per_kg",
    "wraps_per_inch", "ends_per_inch", "package",
)  # fmt: skip
_OLD_HEAD: Final = re.compile(r"^# .*, made over from \d+ ends? to \d+\.\n(?:#.*\n)*\n*", re.MULTILINE)


def edited_text(new: NewSize, text: str) -> str:
    """The file of the old pattern, made over in place. Raises NotEditable where it is written in an unusual way."""
    edits = TextEdits(text, new.old.places)
    if head := _OLD_HEAD.search(text):
        edits.cut(*head.span())
    edits.insert_top([*head_lines(new), ""])
    _edit_names(edits, new)
    _edit_warp(edits, new)
    for yarn in new.pattern.yarns:
        _edit_yarn(edits, new.old.yarn(yarn.name), yarn)
    _edit_figures(edits, new)
    _take_out_the_old(edits, new)
    if new.old.source is not None:
        _edit_source(edits, new)
    return edits.edited()


def is_as_meant(read: Pattern, new: NewSize) -> bool:
    """Whether a file that was made over says what it should: each end, each yarn, each length, and nothing of the old
    tape."""
    wanted = new.pattern
    if end_yarns(read) != end_yarns(wanted) or read.stated_ends not in (None, new.ends):
        return False
    source = wanted.source
    if source is not None:
        source = replace(source, differences=(*source.differences, difference(new)))
    said = replace(read, warp=(), mirror=None, stated_ends=None, version="", stem="")
    meant = replace(wanted, warp=(), mirror=None, stated_ends=None, version="", stem="")
    return said == replace(meant, title=new_title(new), code=new_code(new), source=source)


def _edit_names(edits: TextEdits, new: NewSize) -> None:
    edits.change(("title",), yaml_string(new_title(new)))
    if edits.has(("version",)):
        edits.change(("version",), "1")
    if edits.has(("code",)):
        if code := new_code(new):
            edits.change(("code",), yaml_string(code))
        else:
            edits.take_out(("code",))


# Stripes


def _edit_warp(edits: TextEdits, new: NewSize) -> None:
    """Count by count where the stripes are told one by one; else the whole list is written anew."""
    old, pattern = new.old, new.pattern
    if edits.has(("ends",)):
        edits.change(("ends",), str(new.ends))
    if end_yarns(old) == end_yarns(pattern):
        return
    items = _as_mirrored(old, pattern)
    if items is not None and len(items) == len(old.warp) and all(map(_same_but_for_count, old.warp, items)):
        for index, (before, after) in enumerate(zip(old.warp, items, strict=True)):
            _edit_item(edits, index, before, after)
        return
    if items is None and edits.has(("mirror",)):
        edits.take_out(("mirror",))
    edits.replace_block(("warp",), ["warp:", *(f"  - {item_text(item)}" for item in items or pattern.warp)])


def _as_mirrored(old: Pattern, pattern: Pattern) -> tuple[WarpItem, ...] | None:
    """The new stripes as the file tells its own: as far as its mirror leaves off; None where they are not mirrored."""
    whole = pattern.warp
    half = whole[: len(whole) // 2 + 1]
    if old.mirror is None:
        half = whole
    elif old.mirror == "whole" and isinstance(half[-1], Stripe):
        half = (*half[:-1], replace(half[-1], ends=half[-1].ends // 2)) if half[-1].ends > 1 else half[:-1]
    if not half:
        return None
    trial = replace(pattern, warp=half, mirror=old.mirror, stated_ends=None)
    return half if end_yarns(trial) == end_yarns(pattern) else None


def _same_but_for_count(before: WarpItem, after: WarpItem) -> bool:
    if isinstance(before, Stripe) and isinstance(after, Stripe):
        return before.yarn == after.yarn
    return isinstance(before, Alternation) and isinstance(after, Alternation) and before.yarns == after.yarns


def _edit_item(edits: TextEdits, index: int, before: WarpItem, after: WarpItem) -> None:
    if isinstance(before, Stripe) and isinstance(after, Stripe):
        if before.ends != after.ends:
            edits.change_count(("warp", index), after.ends)
    elif isinstance(before, Alternation) and isinstance(after, Alternation):
        if before.ends != after.ends:
            edits.change(("warp", index, "ends"), str(after.ends))
    else:
        raise NotEditable


# Yarns, lengths and what was measured


def _edit_yarn(edits: TextEdits, old: Yarn, yarn: Yarn) -> None:
    """What the file must say of a yarn: of one that has a file of its own, what differs from that."""
    group = ("yarns", yarn.name)
    before, after = (each.shelf.stem if each.shelf else "" for each in (old, yarn))
    told_elsewhere = {key: getattr(yarn.shelf.yarn, key) if yarn.shelf else "" for key in _KEYS}
    wanted = {key: "" if getattr(yarn, key) == told_elsewhere[key] else getattr(yarn, key) for key in _KEYS}
    if before != after:
        _edit_which_yarn(edits, group, after, wanted)
    for key in _KEYS:
        path = (*group, key)
        if before == after and getattr(old, key) == getattr(yarn, key):
            continue
        if not wanted[key]:
            if edits.has(path) and not (key == "fibre" and before != after):
                edits.take_out(path)
        elif edits.has(path):
            edits.change(path, _value(wanted[key]))
        elif not (key == "fibre" and before and before != after):
            edits.add(path, _value(wanted[key]))


def _edit_which_yarn(edits: TextEdits, group: KeyPath, stem: str, wanted: Mapping[str, Any]) -> None:
    """Another yarn's file, one instead of a fibre that the pattern told, or a fibre instead of it."""
    if edits.has((*group, "yarn")):
        entry = f"yarn: {yaml_string(stem)}" if stem else f"fibre: {wanted['fibre']}"
        edits.change_entry((*group, "yarn"), entry)
        if stem and edits.has((*group, "fibre")):
            edits.take_out((*group, "fibre"))
    else:
        edits.change_entry((*group, "fibre"), f"yarn: {yaml_string(stem)}")


def _value(value: str | Fraction) -> str:
    return yaml_string(value) if isinstance(value, str) else decimal_number(value)


def _edit_figures(edits: TextEdits, new: NewSize) -> None:
    old, pattern = new.old, new.pattern
    for key in ("take_up", "shrinkage"):
        if getattr(old.length, key) is not None and getattr(pattern.length, key) is None:
            edits.take_out(("length", key))
    if pattern.picks_per_inch == old.picks_per_inch:
        return
    if pattern.picks_per_inch is None:
        edits.take_out(("picks_per_inch",))
    elif edits.has(("picks_per_inch",)):
        edits.change(("picks_per_inch",), decimal_number(pattern.picks_per_inch))
    else:
        edits.add(("picks_per_inch",), decimal_number(pattern.picks_per_inch))


def _take_out_the_old(edits: TextEdits, new: NewSize) -> None:
    """What belongs to the old tape is put behind a #, so that no card says it of the new one and nothing is lost."""
    of_ends, of_yarn = end_count(new.old_ends), "the old yarn"
    gone = (
        ("date", "", True),
        ("width", of_ends, True),
        ("measured", of_yarn if new.changed_yarns else of_ends, True),
        ("notes", of_ends, True),
        ("changes", of_ends, True),
        ("pickup", of_ends, new.pattern.pickup is None),
        ("second_yarns", of_yarn, not new.pattern.second_yarns),
    )
    for key, owner, is_gone in gone:
        if is_gone and edits.has((key,)):
            edits.take_out((key,), f"Of {owner}, and so behind a #:" if owner else "")


def _edit_source(edits: TextEdits, new: NewSize) -> None:
    path, words = ("source", "differences"), yaml_string(difference(new))
    if edits.has(path):
        edits.append_item(path, words)
    else:
        edits.add(path, f"[{words}]")
