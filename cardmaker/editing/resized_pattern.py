"""A pattern made over, as a whole file: what was changed stands at its head, what went with the old size is named."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
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
from cardmaker.model.bench import StripeRun
from cardmaker.model.loom import Loom
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
from cardmaker.reckoning.stripes.new_size import NewSize, Size, laid_out, warp_items
from cardmaker.reckoning.stripes.stripe_counts import is_same_both_ways
from cardmaker.wording.formatters import Units, decimal
from cardmaker.wording.phrases import end_count, listed
from cardmaker.wording.title_words import width_basis, width_fact
from cardmaker.wording.yarn_words import yarn_kind

UNITS: Final[Units] = "metric"
_SIZE_AT_END: Final = re.compile(r", \d+ ends?$")
_OF_THE_LABEL: Final = (
    ("yards_per_pound", "yards per pound"), ("metres_per_kg", "metres per kilogram"),
    ("wraps_per_inch", "wraps per inch"), ("ends_per_inch", "ends per inch"), ("shade", "shades"), ("dye", "dyes"),
    ("package", "packages"),
)  # fmt: skip
_SIZE_OF_CODE: Final = re.compile(r"-\d+$")


def size_lines(new: NewSize) -> list[str]:
    """The chosen size and its neighbours, a line each, narrowest first."""
    return [_size_line(size, size.stripes.ends == new.ends) for size in new.sizes]


def change_lines(new: NewSize, looms: Sequence[str], *, in_place: bool) -> list[str]:
    """What became of the pattern, and on which looms at hand it goes."""
    become = "as before" if new.ends == new.old_ends else f"become {new.ends}"
    comma = "," if new.ends == new.old_ends else ""
    lines = [f"{_one_line(new.old.title)}: {end_count(new.old_ends)}{comma} {become}."]
    if new.refused_by_loom and new.loom is not None:
        lines.append(_refused_by_loom(new, new.loom))
    elif new.wanted_ends != new.ends:
        lines.append(_spoilt(new))
    if new.changed_yarns:
        now = yarn_kind(new.pattern.yarn(new.changed_yarns[0]))
        lines.append(f"Now of {now}: {listed(list(map(_one_line, new.changed_yarns)))}.")
    if taken := [*_measured_on_old(new), *_left_behind(new)]:
        lines.append(f"Taken out, because the new tape has its own: {listed(taken)}.")
    kept = _IN_PLACE if in_place else _NOT_IN_PLACE
    held = f"Looms at hand that hold it: {', '.join(looms)}." if looms else _NO_LOOM
    return [*lines, kept, held]


_IN_PLACE: Final = "Your notes (#) are kept: look whether they still hold. What was taken out stands behind a #, too."
_NO_LOOM: Final = "No loom at hand holds it: with --loom NAME it becomes the nearest size that goes on one."
_NOT_IN_PLACE: Final = (
    "The old file is written in a way that could not be changed in place: your notes (#) are not in the new one."
)


def _refused_by_loom(new: NewSize, loom: Loom) -> str:
    return f"{end_count(new.wanted_ends)} do not go on {_one_line(loom.title)}: {new.ends} is the nearest that does."


def _spoilt(new: NewSize) -> str:
    return (
        f"{end_count(new.wanted_ends)} cannot be had without spoiling the design: {new.ends} is the nearest that can."
    )


def _size_line(size: Size, is_chosen: bool) -> str:
    mark = " (this one)" if is_chosen else ""
    across = width_fact(size.width, UNITS)
    return f"{end_count(size.stripes.ends)}{mark}, {across}: {stripe_list(size.stripes.runs)}"


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
        "\n".join(head_lines(new)),
        "\n".join(_title(new)),
        "\n".join(["# The yarns; the stripes use their names.", "yarns:", *map(_yarn, pattern.yarns)]),
        "\n".join(_warp(pattern)),
        "\n".join(_wanted_length(pattern.length)),
        "\n".join(_rest(new)).lstrip("\n"),
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def head_lines(new: NewSize) -> list[str]:
    """What was done, as a comment for the head of the file."""
    return [f"# {line}".rstrip() for line in _head_comment(new)]


def _head_comment(new: NewSize) -> Iterator[str]:
    yield f"{_one_line(new.old.title)}, made over from {end_count(new.old_ends)} to {new.ends}."
    yield "Lines that begin with # are notes to you: change or delete them."
    if new.diameters_mm is not None:
        before, after = (decimal(each, 2) for each in new.diameters_mm)
        yield f"Another yarn for {listed(list(map(_one_line, new.changed_yarns)))}: the ends were {before} mm thick"
        if new.keeps_width:
            yield f"and are now {after} mm, so {new.old_ends} become {new.wanted_ends}: if the new yarn packs"
            yield "as the old one did, the tape stays as wide as it was."
        else:
            yield f"and are now {after} mm."
        if new.keeps_width and new.chosen.width.basis != new.old_width.basis:
            yield "The card cannot count on that: nothing has been measured of the new yarn."
    if new.refused_by_loom and new.loom is not None:
        yield _refused_by_loom(new, new.loom)
    elif new.wanted_ends != new.ends:
        yield _spoilt(new)
    yield from _kept(new)
    width = new.chosen.width
    yield f"The card will say {width_fact(width, UNITS)}, {width_basis(width, UNITS)}: weave a sample."
    yield "The same stripes in sizes near by:"
    for line in size_lines(new):
        yield f"  {line}"
    of_ends = end_count(new.old_ends)
    left = {"the old yarn" if new.changed_yarns else of_ends: _measured_on_old(new)}
    left[of_ends] = [*left.get(of_ends, ()), *_left_behind(new)]
    for owner, things in left.items():
        if things:
            yield f"Taken out, because it belongs to {owner}: {listed(things)}."


def _kept(new: NewSize) -> Iterator[str]:
    """What the design keeps, as far as it has it."""
    stripes = new.chosen.stripes.runs
    items = warp_items(stripes)
    whole = "its stripes are" if new.pattern.pickup else "it is"  # a figure has rows as well
    kept = (
        (f"{whole} the same from both edges", is_same_both_ways(laid_out(stripes))),
        ("single ends stay single", any(isinstance(item, Stripe) and item.ends == 1 for item in items)),
        ("bars begin and end as they did", any(isinstance(item, Alternation) for item in items)),
    )
    if features := [feature for feature, is_kept in kept if is_kept]:
        yield f"Kept as it was: {'; '.join(features)}."


def _measured_on_old(new: NewSize) -> list[str]:
    """What was measured on the old tape, or told of its yarns, and does not go over."""
    old, resized = new.old, new.pattern
    left = (
        ("the take-up", old.length.take_up is not None and resized.length.take_up is None),
        ("the shrinkage", old.length.shrinkage is not None and resized.length.shrinkage is None),
        ("the measured width", old.width_mm is not None),
        ("the records of what came off the loom", bool(old.measured)),
        ("the picks per inch", old.picks_per_inch is not None and resized.picks_per_inch is None),
        ("the second yarns", bool(old.second_yarns) and not resized.second_yarns),
        *(
            (f"the {words}", any(getattr(old.yarn(name), key) for name in new.changed_yarns))
            for key, words in _OF_THE_LABEL
        ),
    )
    return [name for name, is_left in left if is_left]


def _left_behind(new: NewSize) -> list[str]:
    """What speaks of the old number of ends."""
    old, resized = new.old, new.pattern
    left = (
        ("the pick-up", old.pickup is not None and resized.pickup is None),
        ("the notes", bool(old.notes.student or old.notes.teacher or old.notes.visitor)),
        ("the version history", bool(old.changes)),
    )
    return [name for name, is_left in left if is_left]


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
    figures = ("yards_per_pound", "metres_per_kg", "wraps_per_inch", "ends_per_inch")
    return yaml_keys(
        [
            ("fibre", yarn.fibre),
            ("count", _text(yarn.count)),
            ("system", yarn.system or ""),
            *((key, decimal_number(figure)) for key in figures if (figure := getattr(yarn, key))),
            ("colour", _text(yarn.colour)),
            *((key, _text(getattr(yarn, key))) for key in ("shade", "dye", "dye_evidence")),
            ("spaces", "slots" if yarn.slots_only else ""),
            ("package", _package(yarn.package) if yarn.package else ""),
        ]
    )


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


def difference(new: NewSize) -> str:
    """What is different from the old pattern, for the list of its source."""
    stays = new.ends == new.old_ends
    count = f"{end_count(new.ends)}, as before" if stays else f"{end_count(new.ends)} instead of {new.old_ends}"
    if not new.changed_yarns:
        return count
    yarn = yarn_kind(new.pattern.yarn(new.changed_yarns[0]))
    return yarn if stays else f"{yarn}, and {count}"


def _one_line(words: str) -> str:
    return " ".join(words.split())


def _text(text: str) -> str:
    return yaml_string(text) if text else ""


def _length(length_mm: Fraction | None) -> str:
    return yaml_length(length_mm) if length_mm else ""


def _share(share: Fraction | None) -> str:
    return "" if share is None else yaml_share(share)
