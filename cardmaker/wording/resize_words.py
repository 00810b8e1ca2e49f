"""What is said of a pattern made over: at the head of its new file, and in the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from cardmaker.model.bench import StripeRun
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Alternation, Stripe
from cardmaker.reckoning.stripes.new_size import NewSize, Size, laid_out, warp_items
from cardmaker.reckoning.stripes.stripe_counts import is_same_both_ways
from cardmaker.wording.formatters import Units, decimal
from cardmaker.wording.phrases import end_count, listed
from cardmaker.wording.title_words import width_basis, width_fact
from cardmaker.wording.yarn_words import yarn_kind

UNITS: Final[Units] = "metric"


_OF_THE_LABEL: Final = (
    ("yards_per_pound", "yards per pound"), ("metres_per_kg", "metres per kilogram"),
    ("wraps_per_inch", "wraps per inch"), ("ends_per_inch", "ends per inch"), ("shade", "shades"), ("dye", "dyes"),
    ("package", "packages"),
)  # fmt: skip


def size_lines(new: NewSize) -> list[str]:
    """The chosen size and its neighbours, a line each, narrowest first."""
    return [_size_line(size, size.stripes.ends == new.ends) for size in new.sizes]


def change_lines(new: NewSize, looms: Sequence[str], *, in_place: bool) -> list[str]:
    """What became of the pattern, and on which looms at hand it goes."""
    become = "as before" if new.ends == new.old_ends else f"become {new.ends}"
    comma = "," if new.ends == new.old_ends else ""
    lines = [f"{one_line(new.old.title)}: {end_count(new.old_ends)}{comma} {become}."]
    if new.refused_by_loom and new.loom is not None:
        lines.append(_refused_by_loom(new, new.loom))
    elif new.wanted_ends != new.ends:
        lines.append(_spoilt(new))
    if new.changed_yarns:
        now = yarn_kind(new.pattern.yarn(new.changed_yarns[0]))
        lines.append(f"Now of {now}: {listed(list(map(one_line, new.changed_yarns)))}.")
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
    return f"{end_count(new.wanted_ends)} do not go on {one_line(loom.title)}: {new.ends} is the nearest that does."


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


def head_lines(new: NewSize) -> list[str]:
    """What was done, as a comment for the head of the file."""
    return [f"# {line}".rstrip() for line in _head_comment(new)]


def _head_comment(new: NewSize) -> Iterator[str]:
    yield f"{one_line(new.old.title)}, made over from {end_count(new.old_ends)} to {new.ends}."
    yield "Lines that begin with # are notes to you: change or delete them."
    if new.diameters_mm is not None:
        before, after = (decimal(each, 2) for each in new.diameters_mm)
        yield f"Another yarn for {listed(list(map(one_line, new.changed_yarns)))}: the ends were {before} mm thick"
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


def difference(new: NewSize) -> str:
    """What is different from the old pattern, for the list of its source."""
    stays = new.ends == new.old_ends
    count = f"{end_count(new.ends)}, as before" if stays else f"{end_count(new.ends)} instead of {new.old_ends}"
    if not new.changed_yarns:
        return count
    yarn = yarn_kind(new.pattern.yarn(new.changed_yarns[0]))
    return yarn if stays else f"{yarn}, and {count}"


def one_line(words: str) -> str:
    """A text of several lines on one."""
    return " ".join(words.split())
