"""A pattern made over, as a whole file: what was changed stands at its head, what went with the old size is named."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import fields
from typing import Final

from cardmaker.editing import yaml_text
from cardmaker.model.bench import StripeRun
from cardmaker.model.pattern import Alternation, Pattern, Pickup, Source, Stripe, WantedLength, WarpItem, Yarn
from cardmaker.reckoning.stripes.new_size import NewSize, Size, laid_out, warp_items
from cardmaker.reckoning.stripes.stripe_counts import is_same_both_ways
from cardmaker.wording.measures import Units, decimal, small_length, width_range
from cardmaker.wording.phrases import end_count, listed
from cardmaker.wording.title_words import WIDTH_BASIS

UNITS: Final[Units] = "metric"
_LONGEST_TITLE: Final = 150
_LONGEST_CODE: Final = 40
_SIZE_AT_END: Final = re.compile(r", \d+ ends?$")
_SIZE_OF_CODE: Final = re.compile(r"-\d+$")


def size_lines(new: NewSize) -> list[str]:
    """The chosen size and its neighbours, a line each, narrowest first."""
    return [_size_line(size, size.stripes.ends == new.ends) for size in new.sizes]


def _size_line(size: Size, is_chosen: bool) -> str:
    mark = " (this one)" if is_chosen else ""
    across = small_length(size.width.likely_mm, UNITS)
    return f"{end_count(size.stripes.ends)}{mark}, about {across}: {stripe_list(size.stripes.runs)}"


def stripe_list(stripes: Sequence[StripeRun]) -> str:
    """``2 red, 5 white``, with single ends in turn taken together: ``9 white and blue in turn``."""
    return ", ".join(
        f"{item.ends} {item.yarn}" if isinstance(item, Stripe) else f"{item.ends} {listed(item.yarns)} in turn"
        for item in warp_items(stripes)
        if isinstance(item, Stripe | Alternation)
    )


def resized_text(new: NewSize) -> str:
    """The text of the new pattern file; it checks clean as it stands."""
    pattern = new.pattern
    parts = [
        "\n".join(f"# {line}".rstrip() for line in _head_comment(new)),
        "\n".join(_title(new)),
        "\n".join(["# The yarns; the stripes use their names.", "yarns:", *map(_yarn, pattern.yarns)]),
        "\n".join(_warp(pattern)),
        "\n".join(_length(pattern)),
        "\n".join(_rest(new)).lstrip("\n"),
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def _head_comment(new: NewSize) -> Iterator[str]:
    across = new.chosen.width
    yield f"{_one_line(new.old.title)}, made over from {end_count(new.old_ends)} to {new.ends}."
    yield "Lines that begin with # are notes to you: change or delete them."
    if new.goal == "yarn" and new.diameters_mm is not None:
        before, after = (decimal(each, 2) for each in new.diameters_mm)
        yield f"Another yarn for {listed(list(map(_one_line, new.changed_yarns)))}: the ends were {before} mm thick"
        yield f"and are now {after} mm, so {new.old_ends} become {new.wanted_ends}. If it packs as the old yarn did,"
        yield f"the tape stays about {small_length(new.old_width.likely_mm, UNITS)} wide."
    if new.wanted_ends != new.ends:
        wanted = end_count(new.wanted_ends)
        yield f"{wanted} cannot be had without spoiling the design: {new.ends} is the nearest that can."
    yield from _kept(new)
    wide = width_range(across.low_mm, across.high_mm, UNITS)
    likely = small_length(across.likely_mm, UNITS)
    yield f"The card will say about {likely}, {wide}, {WIDTH_BASIS[across.basis]}: weave a sample."
    yield "The same stripes in sizes near by:"
    for line in size_lines(new):
        yield f"  {line}"
    if left := _left_behind(new):
        yield f"Left with the old file, because it belongs to {end_count(new.old_ends)}: {listed(left)}."


def _kept(new: NewSize) -> Iterator[str]:
    """What the design keeps, as far as it has it."""
    stripes = new.chosen.stripes.runs
    items = warp_items(stripes)
    kept = (
        ("it is the same from both edges", is_same_both_ways(laid_out(stripes))),
        ("single ends stay single", any(isinstance(item, Stripe) and item.ends == 1 for item in items)),
        ("bars begin and end as they did", any(isinstance(item, Alternation) for item in items)),
    )
    if said := [what for what, holds in kept if holds]:
        yield f"Kept as it was: {'; '.join(said)}."


def _left_behind(new: NewSize) -> list[str]:
    old, made = new.old, new.pattern
    left = (
        ("the measured width", old.width_mm is not None),
        ("the records of what came off the loom", bool(old.measured)),
        ("the picks per inch", old.picks_per_inch is not None and made.picks_per_inch is None),
        ("the second yarns", bool(old.second_yarns) and not made.second_yarns),
        ("the pick-up", old.pickup is not None and made.pickup is None),
        ("the notes", bool(old.notes.student or old.notes.teacher or old.notes.visitor)),
        ("the version history", bool(old.changes)),
    )
    return [name for name, is_left in left if is_left]


def _title(new: NewSize) -> Iterator[str]:
    pattern = new.pattern
    yield f"title: {yaml_text.yaml_string(new_title(new))}"
    base = _SIZE_OF_CODE.sub("", pattern.code) if _SIZE_AT_END.search(pattern.title) else pattern.code
    code = f"{base}-{new.ends}"
    if pattern.code and len(code) <= _LONGEST_CODE:
        yield f"code: {yaml_text.yaml_string(code)}            # give it one of your own"
    yield "version: 1"
    yield "# date: 2026-11-20    # when you made it"
    if pattern.purposes:
        yield f"for: {yaml_text.yaml_list(pattern.purposes)}"
    if pattern.about:
        yield f"about: {yaml_text.yaml_string(pattern.about)}"


def new_title(new: NewSize) -> str:
    """The old title with what is new about it."""
    base = _SIZE_AT_END.sub("", new.old.title)[:_LONGEST_TITLE]
    if new.goal == "yarn":
        yarn = new.pattern.yarn(new.changed_yarns[0])
        return f"{base}, {yarn.fibre} {yarn.count}, {end_count(new.ends)}"
    return f"{base}, {end_count(new.ends)}"


def _yarn(yarn: Yarn) -> str:
    return f"  {yaml_text.yaml_string(yarn.name)}: {_yarn_values(yarn)}"


def _yarn_values(yarn: Yarn) -> str:
    figures = ("yards_per_pound", "metres_per_kg", "wraps_per_inch", "ends_per_inch")
    told = [(key, getattr(yarn, key)) for key in figures]
    return yaml_text.yaml_keys(
        [
            ("fibre", yarn.fibre),
            ("count", yaml_text.yaml_string(yarn.count) if yarn.count else ""),
            ("system", yarn.system or ""),
            *((key, yaml_text.decimal_number(value) if value else "") for key, value in told),
            ("colour", f'"{yarn.colour}"' if yarn.colour else ""),
            *((key, yaml_text.yaml_string(value) if value else "") for key, value in _label(yarn)),
            ("spaces", "slots" if yarn.slots_only else ""),
            ("package", _package(yarn)),
        ]
    )


def _label(yarn: Yarn) -> tuple[tuple[str, str], ...]:
    return ("shade", yarn.shade), ("dye", yarn.dye), ("dye_evidence", yarn.dye_evidence)


def _package(yarn: Yarn) -> str:
    found = yarn.package
    if found is None:
        return ""
    return yaml_text.yaml_keys(
        [
            ("length", yaml_text.yaml_length(found.length_mm) if found.length_mm else ""),
            ("weight", yaml_text.yaml_weight(found.weight_g) if found.weight_g else ""),
            ("price", yaml_text.yaml_string(found.price) if found.price else ""),
        ]
    )


def _warp(pattern: Pattern) -> Iterator[str]:
    yield "# The stripes from the left edge to the right edge as you sit at the loom."
    yield "warp:"
    for item in pattern.warp:
        yield f"  - {_item(item)}"
    yield f"ends: {pattern.stated_ends}                # a check on your counting"
    if pattern.weft:
        yield f"weft: {yaml_text.yaml_string(pattern.weft)}"


def _item(item: WarpItem) -> str:
    if isinstance(item, Alternation):
        return yaml_text.yaml_keys([("alternate", yaml_text.yaml_list(item.yarns)), ("ends", str(item.ends))])
    if isinstance(item, Stripe):
        return yaml_text.yaml_string(f"{item.ends} {item.yarn}")
    raise TypeError("stripes made over have no repeats")


def _length(pattern: Pattern) -> Iterator[str]:
    wish = pattern.length
    yield "# How much tape you want when it is woven and washed."
    yield "length:"
    if wish == WantedLength():
        yield "  spare_ends: 1         # of each colour; add finished: 2 yd, or what you want"
        return
    if wish.finished_mm is not None:
        yield f"  finished: {yaml_text.yaml_length(wish.finished_mm)}"
    if wish.warp_mm is not None:
        yield f"  warp: {yaml_text.yaml_length(wish.warp_mm)}"
    if wish.pieces:
        yield "  pieces:"
    for piece in wish.pieces:
        fringe = yaml_text.yaml_length(piece.fringe_mm) if piece.fringe_mm else ""
        sizes = ("length", yaml_text.yaml_length(piece.length_mm)), ("count", str(piece.count)), ("fringe", fringe)
        yield f"    - {yaml_text.yaml_keys([('for', yaml_text.yaml_string(piece.purpose)), *sizes])}"
    if wish.take_up is not None:
        yield f"  take_up: {yaml_text.yaml_share(wish.take_up)}"
    if wish.shrinkage is not None:
        yield f"  shrinkage: {yaml_text.yaml_share(wish.shrinkage)}"
    yield f"  spare_ends: {wish.spare_ends}         # of each colour"


def _rest(new: NewSize) -> Iterator[str]:
    pattern = new.pattern
    if pattern.picks_per_inch is not None:
        yield f"picks_per_inch: {yaml_text.decimal_number(pattern.picks_per_inch)}"
    if pattern.second_yarns:
        yield "\nsecond_yarns:"
    for second in pattern.second_yarns:
        yield f"  - title: {yaml_text.yaml_string(second.title)}"
        yield "    yarns:"
        yield from (f"    {_yarn(yarn)}" for yarn in second.yarns)
    if pattern.pickup is not None:
        yield from _pickup(pattern.pickup)
    if pattern.source is not None:
        yield from _source(pattern.source, new)
    if pattern.credit or pattern.marked_as:
        yield ""
    if pattern.credit:
        yield f"credit: {yaml_text.yaml_string(pattern.credit)}"
    if pattern.marked_as:
        yield f"marked_as: {yaml_text.yaml_string(pattern.marked_as)}"


def _pickup(pickup: Pickup) -> Iterator[str]:
    yield "\npickup:"
    yield f"  pattern_yarn: {yaml_text.yaml_string(pickup.pattern_yarn)}"
    yield "  rows:"
    for row in pickup.rows:
        by_hand = (("lift", row.lift), ("drop", row.drop))
        said = [(key, f"[{', '.join(map(str, numbers))}]" if numbers else "") for key, numbers in by_hand]
        yield f"    - {yaml_text.yaml_keys([('shed', row.shed), *said])}"


def _source(source: Source, new: NewSize) -> Iterator[str]:
    """As recorded, with one difference more: a tape of another size is no copy of the old one."""
    yield "\n# Where it comes from. The last difference is what was done here."
    yield "source:"
    for field in fields(source):
        value = getattr(source, field.name)
        if isinstance(value, str) and value:
            yield f"  {field.name}: {yaml_text.yaml_string(value)}"
        elif field.name == "differences":
            yield "  differences:"
            yield from (f"    - {yaml_text.yaml_string(line)}" for line in (*value, _difference(new)))
        elif value:
            yield f"  {field.name}:"
            yield from (f"    - {yaml_text.yaml_string(line)}" for line in value)


def _difference(new: NewSize) -> str:
    count = f"{end_count(new.ends)} instead of {new.old_ends}"
    if new.goal != "yarn":
        return count
    yarn = new.pattern.yarn(new.changed_yarns[0])
    return f"{yarn.fibre} {yarn.count}, and {count}"


def _one_line(words: str) -> str:
    return " ".join(words.split())
