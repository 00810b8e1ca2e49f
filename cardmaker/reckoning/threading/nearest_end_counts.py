"""The nearest counts of ends that put all thick or pattern ends into slots. Parity alone: needs no source."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from itertools import accumulate, groupby, pairwise

from cardmaker.model.loom import Heddles, Loom
from cardmaker.model.record_class import record
from cardmaker.reckoning.stripes.stripe_counts import is_same_both_ways
from cardmaker.reckoning.threading.counting import slot_shift


@record
class NearestCounts:
    """Totals below and above at which every slot end finds a slot; None where there is none."""

    fewer: int | None = None
    more: int | None = None

    @property
    def both(self) -> tuple[int, ...]:
        return tuple(count for count in (self.fewer, self.more) if count is not None)


@record
class _Gap:
    """The ends before, between or after the slot ends: how many, and the longest run among them."""

    ends: int
    longest: int


def nearest_counts(yarns: Sequence[str], slot_ends: Collection[int], loom: Loom) -> NearestCounts:
    """The nearest totals, by a change that spoils the pattern least, at which all ``slot_ends`` (from 1) lie in slots.

    Ends in slots are an even number apart, so wherever two slot ends have an even number of ends between them, one run
    between them loses an end (``fewer``; no run is lost altogether) or gains one (``more``). All such places change
    alike, so a tape that is the same both ways stays so. When nothing is amiss but the heddle is so full that the warp
    cannot shift, room is made instead: see :func:`_with_room`. Two slot ends side by side can never both be in slots,
    and on two heddles nothing can: no counts.
    """
    if loom.heddles is Heddles.TWO or not slot_ends:
        return NearestCounts()
    gaps = _gaps(yarns, slot_ends)
    between = gaps[1:-1]
    if any(gap.ends == 0 for gap in between):
        return NearestCounts()
    amiss = [gap for gap in between if gap.ends % 2 == 0]
    if not amiss:
        return NearestCounts(fewer=_checked(_with_room(gaps, _is_mirrored(yarns, slot_ends)), loom))
    shrunk = [_changed(gap, -1) if gap in amiss else gap for gap in between]
    grown = [_changed(gap, 1) if gap in amiss else gap for gap in between]
    can_shrink = all(gap.longest > 1 for gap in amiss)
    return NearestCounts(
        fewer=_checked([gaps[0], *shrunk, gaps[-1]], loom) if can_shrink else None,
        more=_checked([gaps[0], *grown, gaps[-1]], loom),
    )


def _is_mirrored(yarns: Sequence[str], slot_ends: Collection[int]) -> bool:
    return is_same_both_ways(yarns) and {len(yarns) + 1 - end_number for end_number in slot_ends} == set(slot_ends)


def _gaps(yarns: Sequence[str], slot_ends: Collection[int]) -> list[_Gap]:
    """The gap left of the first slot end, those between neighbours, and the one right of the last."""
    edges = [0, *sorted(set(slot_ends)), len(yarns) + 1]
    return [_gap(yarns[start : stop - 1]) for start, stop in pairwise(edges)]


def _gap(yarns: Sequence[str]) -> _Gap:
    return _Gap(len(yarns), max((len(tuple(run)) for _, run in groupby(yarns)), default=0))


def _changed(gap: _Gap, ends: int) -> _Gap:
    return _Gap(gap.ends + ends, gap.longest + ends)


def _with_room(gaps: list[_Gap], same_both_ways: bool) -> list[_Gap]:
    """One end less outside the slot ends (one on each side, if the tape is the same both ways), so that it can shift.

    Where there are none to spare outside, two less between a pair of slot ends: the middle pair, if it must stay the
    same both ways. Unchanged when that cannot be done either.
    """
    first, *between, last = gaps
    if same_both_ways and first.longest > 1:
        return [_changed(first, -1), *between, _changed(last, -1)]
    if not same_both_ways and max(first.longest, last.longest) > 1:
        left = first.longest > 1
        return [_changed(first, -1 if left else 0), *between, _changed(last, 0 if left else -1)]
    middle = len(between) // 2
    choices = range(len(between)) if not same_both_ways else [middle] if len(between) % 2 else []
    for place in choices:
        if between[place].longest > 2:
            return [first, *between[:place], _changed(between[place], -2), *between[place + 1 :], last]
    return gaps


def _checked(gaps: list[_Gap], loom: Loom) -> int | None:
    """The total of the gaps and the slot ends between them, if the loom holds it with all slot ends in slots."""
    total = sum(gap.ends for gap in gaps) + len(gaps) - 1
    slot_ends = accumulate(gap.ends + 1 for gap in gaps[:-1])
    return None if slot_shift(total, loom, tuple(slot_ends)) is None else total
