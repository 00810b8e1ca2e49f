"""Pick-up: pattern ends lifted or dropped by hand on top of the plain sheds, row by row."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final, Literal

from cardmaker.model.bench import Float, Number, PickedRow, PickupPlan, ThickEnd
from cardmaker.model.loom import Loom, Space
from cardmaker.model.pattern import Pattern, Pickup, PickupRow
from cardmaker.model.plan import Sheds
from cardmaker.model.problems import KeyPath, Refusal
from cardmaker.reckoning.amounts.yarn_thickness import KNOT
from cardmaker.reckoning.threading import placement
from cardmaker.reckoning.weaving.sheds import both_sheds
from cardmaker.reckoning.weaving.turned_picks import are_turned, is_own_mirror_image

LONGEST_FLOAT: Final = 5  # rows: common practice, no source


def pattern_ends(pattern_yarn: str, end_yarns: Sequence[str]) -> tuple[int, ...]:
    """The end numbers of the pattern yarn, left to right."""
    return tuple(number for number, yarn in enumerate(end_yarns, start=1) if yarn == pattern_yarn)


def pickup_plan(
    pickup: Pickup, end_yarns: Sequence[str], sheds: Sheds, longest_float: int = LONGEST_FLOAT
) -> PickupPlan:
    """The ends on top in every row, and how long each pattern end floats. The rows repeat from 1.

    Floats past ``longest_float`` rows are told, not refused. Raises Refusal for a pattern yarn that is not in the warp,
    a number past its ends, an end lifted that is up already or dropped that is down already, and for a pattern end that
    never changes sides (nothing would hold it in the tape).
    """
    ends = pattern_ends(pickup.pattern_yarn, end_yarns)
    if not ends:
        raise Refusal(("pickup", "pattern_yarn"), f"no end of the warp is {pickup.pattern_yarn}.")
    rows = tuple(_picked(number, row, ends, sheds) for number, row in enumerate(pickup.rows, start=1))
    if not rows:
        raise Refusal(("pickup", "rows"), "there are no rows.", "Write one line for each pick of the figure.")
    floats = tuple(run for place in range(len(ends)) for run in _floats(place + 1, ends[place], rows))
    mirrored = is_own_mirror_image([row.raised for row in rows], len(end_yarns))
    return PickupPlan(ends, rows, floats, same_shed_after(pickup.rows), longest_float, mirrored)


def same_shed_after(rows: Sequence[PickupRow]) -> tuple[int, ...]:
    """The rows, counted from 1, whose next row uses the same shed; row 1 comes again after the last.

    The second pick lies beside the first, held apart by nothing but the pattern ends that change, and from there on the
    weft waits at the other side than before (needs no source: the sheds change in turn, and so do the sides).
    """
    following = (*rows[1:], *rows[:1])
    pairs = enumerate(zip(rows, following, strict=True), start=1)
    return tuple(number for number, (row, after) in pairs if row.shed == after.shed)


def is_same_from_other_edge(pattern: Pattern, loom: Loom, end_yarns: Sequence[str], rows: Sequence[PickedRow]) -> bool:
    """Whether the warp threaded from the right edge and worked by the same rows is the same tape, turned round.

    The rows count the pattern ends from the left at the seat, however the warp was threaded. Where they cannot be
    worked on such a warp it is another tape.
    """
    assert pattern.pickup is not None
    threaded = tuple(end_yarns[::-1])
    try:
        bound = placement.slots_only_ends(pattern, threaded)
        sheds = both_sheds(placement.place(threaded, loom, bound))
        other = pickup_plan(pattern.pickup, threaded, sheds)
    except Refusal:
        return False
    return are_turned([row.raised for row in other.rows], [row.raised for row in rows], len(end_yarns))


def thick_ends(
    end_yarns: Sequence[str],
    kinds: Sequence[Space],
    diameters_mm: Mapping[str, Number],
    hole_mm: Number,
    knot: Number = KNOT,
) -> tuple[ThickEnd, ...]:
    """The ends in holes that a yarn, or a small join in it, does not pass. Ends in slots always pass.

    Holds for round holes and yarn as it lies; a knot of two diameters is common practice, no source. Raises ValueError
    for a hole not above nought.
    """
    if hole_mm <= 0:
        raise ValueError("a hole is above nought")
    return tuple(
        ThickEnd(number, yarn, float(diameters_mm[yarn]), diameters_mm[yarn] <= hole_mm)
        for number, (yarn, kind) in enumerate(zip(end_yarns, kinds, strict=True), start=1)
        if kind is Space.HOLE and knot * diameters_mm[yarn] > hole_mm
    )


def _picked(number: int, row: PickupRow, ends: Sequence[int], sheds: Sheds) -> PickedRow:
    plain = set(sheds.down if row.shed == "down" else sheds.up)
    lifted = _numbers(number, "lift", row.lift, ends)
    dropped = _numbers(number, "drop", row.drop, ends)
    for key, given, moved, wrong in (
        ("lift", row.lift, lifted, plain),
        ("drop", row.drop, dropped, set(ends) - plain),
    ):
        for place, (pattern_end, end_number) in enumerate(zip(given, moved, strict=True)):
            if end_number in wrong:
                state = "up" if key == "lift" else "down"
                raise Refusal(
                    ("pickup", "rows", number - 1, key, place),
                    f"pattern end {pattern_end} (end {end_number}) is {state} already in the {row.shed} shed.",
                    f"Leave it out, or use the other shed for row {number}.",
                )
    raised = (plain | set(lifted)) - set(dropped)
    return PickedRow(number, row.shed, lifted, dropped, tuple(sorted(raised)))


def _numbers(number: int, key: str, given: Sequence[int], ends: Sequence[int]) -> tuple[int, ...]:
    path: KeyPath = ("pickup", "rows", number - 1, key)
    for place, pattern_end in enumerate(given):
        if not 1 <= pattern_end <= len(ends):
            message = f"there is no pattern end {pattern_end}."
            raise Refusal((*path, place), message, f"The warp has {len(ends)}, counted from the left.")
        if pattern_end in given[:place]:
            raise Refusal((*path, place), f"pattern end {pattern_end} is named twice.", "Name it once.")
    return tuple(ends[pattern_end - 1] for pattern_end in given)


def _floats(pattern_end: int, end_number: int, rows: Sequence[PickedRow]) -> tuple[Float, ...]:
    """Stays of two rows or more on one side, going round the repeat once from a row where the end changes sides."""
    up = [end_number in row.raised for row in rows]
    starts = [place for place in range(len(up)) if up[place] != up[place - 1]]
    if not starts:
        side = "up" if up[0] else "down"
        raise Refusal(
            ("pickup", "rows"),
            f"pattern end {pattern_end} (end {end_number}) stays {side} in every row, so no weft holds it.",
            f"{'Drop' if up[0] else 'Lift'} it in at least one row.",
        )
    runs = []
    for start, after in zip(starts, (*starts[1:], starts[0] + len(up)), strict=True):
        side_of: Literal["face", "back"] = "face" if up[start] else "back"
        runs.append(Float(pattern_end, end_number, start + 1, after - start, side_of))
    return tuple(run for run in runs if run.rows > 1)
