"""A pattern made over, as a whole file: what was changed stands at its head, what went with the old size is named."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields
from fractions import Fraction
from typing import Final

from cardmaker.editing.yaml_text import (
    decimal_number,
    yaml_keys,
    yaml_length,
    yaml_lines,
    yaml_list,
    yaml_share,
    yaml_string,
    yaml_texts,
    yaml_weight,
)
from cardmaker.model.pattern import (
    LONGEST_CODE,
    LONGEST_TITLE,
    Alternation,
    Package,
    Pattern,
    Pickup,
    Source,
    Stripe,
    WantedLength,
    WarpItem,
    Yarn,
)
from cardmaker.reckoning.stripes.new_size import NewSize
from cardmaker.wording.phrases import end_count
from cardmaker.wording.resize_words import difference, head_lines
from cardmaker.wording.yarn_words import yarn_kind

_SIZE_AT_END: Final = re.compile(r", \d+ ends?$")
_SIZE_OF_CODE: Final = re.compile(r"-\d+$")


def resized_text(new: NewSize) -> str:
    """The text of the new pattern file; it checks clean as it stands."""
    pattern = new.pattern
    parts = [
        "\n".join(head_lines(new)),
        "\n".join(_title(new)),
        "\n".join(["# The yarns; the stripes use their names.", "yarns:", *map(_yarn, pattern.yarns)]),
        "\n".join(_warp(pattern)),
        "\n".join(_wanted_length(pattern.length)),
        "\n".join(_rest(new)).lstrip("\n"),
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def _title(new: NewSize) -> Iterator[str]:
    pattern = new.pattern
    yield f"title: {yaml_string(new_title(new))}"
    if code := new_code(new):
        yield f"code: {yaml_string(code)}            # give it one of your own"
    yield "version: 1"
    yield "# date: 2026-11-20    # when you made it"
    uses = yaml_list(pattern.purposes) if pattern.purposes else ""
    yield from yaml_lines([("for", uses), ("about", _text(pattern.about))])


def new_code(new: NewSize) -> str:
    """The old code with the new count; nothing where there was none, or no room for more."""
    pattern = new.pattern
    base = _SIZE_OF_CODE.sub("", pattern.code) if _SIZE_AT_END.search(pattern.title) else pattern.code
    code = f"{base}-{new.ends}"
    return code if pattern.code and len(code) <= LONGEST_CODE else ""


def new_title(new: NewSize) -> str:
    """The old title with what is new about it."""
    base, size = _SIZE_AT_END.sub("", new.old.title), f", {end_count(new.ends)}"
    if new.changed_yarns:
        size = f", {yarn_kind(new.pattern.yarn(new.changed_yarns[0]))}{size}"
    return base[: max(1, LONGEST_TITLE - len(size))].rstrip() + size


def _yarn(yarn: Yarn) -> str:
    return f"  {yaml_string(yarn.name)}: {_yarn_values(yarn)}"


def _yarn_values(yarn: Yarn) -> str:
    """Its keys; of a yarn that has a file of its own, the file and what differs from it."""
    figures = ("yards_per_pound", "metres_per_kg", "wraps_per_inch", "ends_per_inch")
    values = [
        ("fibre", yarn.fibre),
        ("count", _text(yarn.count)),
        ("system", yarn.system or ""),
        *((key, decimal_number(figure)) for key in figures if (figure := getattr(yarn, key))),
        ("colour", _text(yarn.colour)),
        *((key, _text(getattr(yarn, key))) for key in ("shade", "lot", "dye", "dye_evidence")),
        ("spaces", "slots" if yarn.slots_only else ""),
        ("package", _package(yarn.package) if yarn.package else ""),
    ]
    if yarn.shelf:
        there = yarn.shelf.yarn
        same = {key for key, _ in values if key != "spaces" and getattr(yarn, key) == getattr(there, key)}
        same |= {"spaces"} if yarn.slots_only == there.slots_only else set()
        values = [("yarn", yaml_string(yarn.shelf.stem)), *(each for each in values if each[0] not in same)]
    return yaml_keys(values)


def _package(package: Package) -> str:
    length, weight = _length(package.length_mm), yaml_weight(package.weight_g) if package.weight_g else ""
    return yaml_keys([("length", length), ("weight", weight), ("price", _text(package.price))])


def _warp(pattern: Pattern) -> Iterator[str]:
    yield "# The stripes from the left edge to the right edge as you sit at the loom."
    yield "warp:"
    for item in pattern.warp:
        yield f"  - {item_text(item)}"
    yield f"ends: {pattern.stated_ends}                # a check on your counting"
    if pattern.weft:
        yield f"weft: {yaml_string(pattern.weft)}"


def item_text(item: WarpItem) -> str:
    """A stripe, or yarns in turn, as a line of a file's list."""
    if isinstance(item, Alternation):
        return yaml_keys([("alternate", yaml_list(item.yarns)), ("ends", str(item.ends))])
    if isinstance(item, Stripe):
        return yaml_string(f"{item.ends} {item.yarn}")
    raise TypeError("stripes made over have no repeats")


def _wanted_length(wanted: WantedLength) -> Iterator[str]:
    yield "# How much tape you want when it is woven and washed."
    yield "length:"
    if wanted == WantedLength():
        yield "  spare_ends: 1         # of each colour; add finished: 2 yd, or what you want"
        return
    yield from yaml_lines([("finished", _length(wanted.finished_mm)), ("warp", _length(wanted.warp_mm))], "  ")
    if wanted.pieces:
        yield "  pieces:"
    for piece in wanted.pieces:
        sizes = ("length", _length(piece.length_mm)), ("count", str(piece.count)), ("fringe", _length(piece.fringe_mm))
        yield f"    - {yaml_keys([('for', yaml_string(piece.purpose)), *sizes])}"
    yield from yaml_lines([("take_up", _share(wanted.take_up)), ("shrinkage", _share(wanted.shrinkage))], "  ")
    yield f"  spare_ends: {wanted.spare_ends}         # of each colour"


def _rest(new: NewSize) -> Iterator[str]:
    pattern = new.pattern
    if pattern.picks_per_inch is not None:
        yield f"picks_per_inch: {decimal_number(pattern.picks_per_inch)}"
    if pattern.second_yarns:
        yield "\nsecond_yarns:"
    for second in pattern.second_yarns:
        yield f"  - title: {yaml_string(second.title)}"
        yield "    yarns:"
        yield from (f"    {_yarn(yarn)}" for yarn in second.yarns)
    if pattern.pickup is not None:
        yield from _pickup(pattern.pickup)
    if pattern.source is not None:
        yield from _source(pattern.source, new)
    if pattern.credit or pattern.marked_as:
        yield ""
    yield from yaml_lines([("credit", _text(pattern.credit)), ("marked_as", _text(pattern.marked_as))])


def _pickup(pickup: Pickup) -> Iterator[str]:
    yield "\npickup:"
    yield f"  pattern_yarn: {yaml_string(pickup.pattern_yarn)}"
    yield "  rows:"
    for row in pickup.rows:
        by_hand = (("lift", row.lift), ("drop", row.drop))
        ends = [(key, f"[{', '.join(map(str, numbers))}]" if numbers else "") for key, numbers in by_hand]
        yield f"    - {yaml_keys([('shed', row.shed), *ends])}"


def _source(source: Source, new: NewSize) -> Iterator[str]:
    """As recorded, with one difference more: a tape of another size is no copy of the old one."""
    yield "\n# Where it comes from. The last difference is what was done here."
    yield "source:"
    for field in fields(source):
        value = getattr(source, field.name)
        if field.name == "differences":
            yield from yaml_texts(field.name, (*value, difference(new)), "  ")
        elif isinstance(value, str):
            yield from yaml_lines([(field.name, _text(value))], "  ")
        elif value:
            yield from yaml_texts(field.name, value, "  ")


def _text(text: str) -> str:
    return yaml_string(text) if text else ""


def _length(length_mm: Fraction | None) -> str:
    return yaml_length(length_mm) if length_mm else ""


def _share(share: Fraction | None) -> str:
    return "" if share is None else yaml_share(share)
