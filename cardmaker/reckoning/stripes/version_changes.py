"""What differs between two versions of a pattern: what the hands would do otherwise, not how the files are typed."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Literal

from cardmaker.model.pattern import Pattern, Yarn
from cardmaker.model.plan import Run
from cardmaker.model.record_class import record
from cardmaker.reckoning.amounts.weft import weft_yarn
from cardmaker.reckoning.stripes.stripe_counts import end_yarns, runs

What = Literal[
    "title", "code", "ends", "stripes", "new yarn", "yarn gone", "colour", "thickness", "spaces", "weft", "picks",
    "width", "length", "measured", "pick-up", "words",
]  # fmt: skip
Value = str | int | Fraction | tuple[Run, ...] | Yarn | None


@record
class Difference:
    """One thing that was ``before`` and is ``now``; ``yarn`` says of which yarn, where it is of one."""

    what: What
    before: Value = None
    now: Value = None
    yarn: str = ""


def differences(old: Pattern, new: Pattern) -> tuple[Difference, ...]:
    """Everything that differs, the weightiest first; empty when the two are alike in all that is told here.

    Stripes are compared end by end, so that a warp written in another way is the same warp. Texts and sources that
    differ are one difference, "words", and it is named only when it is alone. What was measured is no mere text: the
    next warp is reckoned from it.
    """
    changed = (*_of_the_warp(old, new), *_of_the_yarns(old, new), *_of_the_rest(old, new))
    if not changed and _all_else(old) != _all_else(new):
        return (Difference("words"),)
    return changed


def _of_the_warp(old: Pattern, new: Pattern) -> Iterator[Difference]:
    before, now = end_yarns(old), end_yarns(new)
    if len(before) != len(now):
        yield Difference("ends", len(before), len(now))
    if before != now:
        yield Difference("stripes", runs(before), runs(now))
    if (weft_before := weft_yarn(old, before)) != (weft_now := weft_yarn(new, now)):
        yield Difference("weft", weft_before, weft_now)
    if old.pickup != new.pickup:
        yield Difference("pick-up")


def _of_the_yarns(old: Pattern, new: Pattern) -> Iterator[Difference]:
    before, now = ({yarn.name: yarn for yarn in pattern.yarns} for pattern in (old, new))
    for name, yarn in now.items():
        if name not in before:
            yield Difference("new yarn", yarn=name)
        else:
            yield from _of_a_yarn(before[name], yarn)
    for name in before:
        if name not in now:
            yield Difference("yarn gone", yarn=name)


def _of_a_yarn(old: Yarn, new: Yarn) -> Iterator[Difference]:
    if old.colour != new.colour:
        yield Difference("colour", old.colour, new.colour, new.name)
    if _thickness(old) != _thickness(new):
        yield Difference("thickness", old, new, new.name)
    if old.slots_only != new.slots_only:
        yield Difference("spaces", yarn=new.name)


def _thickness(yarn: Yarn) -> tuple[object, ...]:
    return (
        yarn.fibre, yarn.count, yarn.system, yarn.yards_per_pound, yarn.metres_per_kg, yarn.wraps_per_inch,
        yarn.ends_per_inch,
    )  # fmt: skip


def _measured(pattern: Pattern) -> tuple[object, ...]:
    """On its own tapes, and on others of its yarns."""
    of_yarns = [(yarn.name, yarn.shelf.measured) for yarn in pattern.yarns if yarn.shelf and yarn.shelf.measured]
    return pattern.measured, *of_yarns


def _of_the_rest(old: Pattern, new: Pattern) -> Iterator[Difference]:
    if old.picks_per_inch != new.picks_per_inch:
        yield Difference("picks", old.picks_per_inch, new.picks_per_inch)
    if old.width_mm != new.width_mm:
        yield Difference("width", old.width_mm, new.width_mm)
    if old.length != new.length:
        yield Difference("length")
    if _measured(old) != _measured(new):
        yield Difference("measured")
    if old.title != new.title:
        yield Difference("title", old.title, new.title)
    if old.code != new.code:
        yield Difference("code", old.code, new.code)


def _all_else(pattern: Pattern) -> tuple[object, ...]:
    return (
        pattern.version, pattern.date, pattern.purposes, pattern.about, pattern.second_yarns, pattern.source,
        pattern.notes, pattern.changes, pattern.credit, pattern.marked_as, pattern.yarns,
    )  # fmt: skip
