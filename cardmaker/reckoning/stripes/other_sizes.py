"""The same design in another number of ends.

What makes a stripe list the design it is stays as it was (own rules, after common practice among band weavers):

* a list that is the same both ways stays so, and odd stays odd, so that it still centres as it did (a
  solid tape may have any number);
* a single end stays single, and a stripe of two or more keeps at least two: a line never becomes dots;
* a block of bars changes by whole turns of its colours and an even number of ends, so it begins and ends as it did;
* between the first and the last single end or block, stripes change by two, so that what showed in one shed still does;
* all stay near proportion, and stripes or blocks that were equal stay equal where that costs little.

Valid for lists of up to ``LONGEST_LIST`` ends.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import groupby
from math import floor, lcm
from typing import Final

from cardmaker.model.bench import Number, Resized, StripeRun
from cardmaker.model.record_class import record, replace
from cardmaker.model.units import MM_PER_INCH

LONGEST_LIST: Final = 600  # ends: a limit of ours, far past any heddle
_EQUAL_IS_WORTH: Final = 0.5  # how far from proportion (squared ends for an end) parts may go to stay equal (ours)
_LONGEST_TURN: Final = 8  # single ends of more colours than that in turn are not seen as bars (ours)
_STEPS_ROUND: Final = 8  # how many steps either side of proportion each part tries (ours)


@record
class _Part:
    """A piece of the list that is resized as one: a stripe (one yarn), a single end, or bars (yarns in turn).

    Its length is ``least`` and any number of ``step`` more; a step of nought fixes it.
    """

    yarns: tuple[str, ...]
    ends: int
    least: int
    step: int

    @property
    def has_phase(self) -> bool:
        """Whether it matters which shed its ends lie in: dots and bars, not stripes."""
        return len(self.yarns) > 1 or self.ends == 1

    def turned(self) -> _Part:
        """The same read from the other edge."""
        last = self.ends - 1
        return replace(
            self, yarns=tuple(self.yarns[(last - place) % len(self.yarns)] for place in range(len(self.yarns)))
        )

    def in_steps_of(self, step: int) -> _Part:
        """The same, changing only by whole steps from what it is."""
        return replace(self, step=step, least=self.least + (self.ends - self.least) % step)


def sizes_around(runs: Sequence[StripeRun], wanted: int) -> tuple[Resized, ...]:
    """The design at the wanted number of ends or the nearest it can have, with two neighbours either side, rising.

    Of two as near the narrower. Fewer sizes when the design cannot become that narrow or change at all. Raises
    ValueError for a list that is empty or too long, or a wanted number under 1 or over ``LONGEST_LIST``.
    """
    parts = _parts(runs, wanted)
    sizes = _sizes(parts, wanted)
    within = sorted(sizes)
    chosen = _nearest(sizes, wanted)
    place = within.index(chosen)
    around = within[max(place - 2, 0) : place + 3]
    return tuple(_rebuilt(parts, sizes[ends]) for ends in around)


def nearest_ends_for_width(width_mm: Number, ends_per_inch: Number) -> int:
    """Ends for a wanted width, to the nearest whole: as good as the ends per inch are. Raises ValueError."""
    if width_mm <= 0 or ends_per_inch <= 0:
        raise ValueError("a width and its ends per inch are above nought")
    return max(1, floor(width_mm * ends_per_inch / MM_PER_INCH + Fraction(1, 2)))


def ends_for_yarn(ends: int, diameter_mm: Number, new_diameter_mm: Number) -> int:
    """Ends of another yarn for the same width, in proportion to the diameters (geometry; same fibre and firmness).

    Between two- and four-ply of one count this misses by up to 30 % (a loom maker's measured widths); weave a sample.
    Raises ValueError.
    """
    if ends < 1 or diameter_mm <= 0 or new_diameter_mm <= 0:
        raise ValueError("ends and diameters are above nought")
    return max(1, floor(ends * diameter_mm / new_diameter_mm + Fraction(1, 2)))


def _nearest(sizes: Iterable[int], wanted: int) -> int:
    return min(sizes, key=lambda ends: (abs(ends - wanted), ends))


def _rebuilt(parts: Sequence[_Part], lengths: Sequence[int]) -> Resized:
    """The parts at their new lengths as runs again, neighbours of one yarn joined."""
    yarns = [
        part.yarns[place % len(part.yarns)] for part, ends in zip(parts, lengths, strict=True) for place in range(ends)
    ]
    return Resized(tuple((yarn, len(list(group))) for yarn, group in groupby(yarns)))


# --- taking the list apart -------------------------------------------------------------------------------------------


def _parts(runs: Sequence[StripeRun], wanted: int) -> tuple[_Part, ...]:
    """The list as parts with the steps they may change by; the same both ways when the list is."""
    if not runs or any(ends < 1 for _, ends in runs):
        raise ValueError("a stripe list has one run or more, each of one end or more")
    if not 1 <= wanted <= LONGEST_LIST or sum(ends for _, ends in runs) > LONGEST_LIST:
        raise ValueError(f"resizing holds for 1 to {LONGEST_LIST} ends")
    joined = _joined(runs)
    parts = tuple(_taken_apart(joined))
    same = joined == joined[::-1]
    if same and not _same_both_ways(parts):  # blocks that share an end: keep every single end as it is
        parts = tuple(_plain(yarn, ends) for yarn, ends in joined)
    return _with_steps(parts, same)


def _joined(runs: Sequence[StripeRun]) -> tuple[StripeRun, ...]:
    grouped = groupby(runs, key=lambda run: run[0])
    return tuple((yarn, sum(ends for _, ends in group)) for yarn, group in grouped)


def _with_steps(parts: tuple[_Part, ...], same: bool) -> tuple[_Part, ...]:
    """Stripes between parts that have a phase, and the centre of a list that is the same both ways, change by two."""
    phased = [place for place, part in enumerate(parts) if part.has_phase]
    by_two = set(range(phased[0], phased[-1])) if phased else set()
    if same and len(parts) % 2 and len(parts) > 1:
        by_two.add(len(parts) // 2)
    return tuple(
        part.in_steps_of(2) if place in by_two and part.step == 1 else part for place, part in enumerate(parts)
    )


def _taken_apart(runs: tuple[StripeRun, ...]) -> Iterator[_Part]:
    """Bars where single ends take turns, else stripes and single ends.

    Two ends of one yarn between two stretches of bars are where one block stops and the next, out of step, begins: each
    block gets one of them.
    """
    place, taken = 0, 0  # taken: ends of the run at ``place`` that the block before it has had
    while place < len(runs):
        yarn, ends = runs[place][0], runs[place][1] - taken
        block = _block(runs, place) if ends == 1 else None
        yield block or _plain(yarn, ends)
        stop = place + (block.ends if block else 1)
        shares = block is not None and _joint_at(runs, stop - 1, first=place)
        place, taken = (stop - 1, 1) if shares else (stop, 0)


def _plain(yarn: str, ends: int) -> _Part:
    return _Part((yarn,), 1, 1, 0) if ends == 1 else _Part((yarn,), ends, 2, 1)


def _block(runs: tuple[StripeRun, ...], start: int) -> _Part | None:
    """The bars that begin at a run: single ends in turn, at least twice round; None where there are none."""
    stop = start + 1
    while stop < len(runs) and runs[stop][1] == 1:
        stop += 1
    if _joint_at(runs, stop, first=start):
        stop += 1
    yarns = [yarn for yarn, _ in runs[start:stop]]
    for period in range(2, _LONGEST_TURN + 1):
        ends = next((place for place in range(period, len(yarns)) if yarns[place] != yarns[place - period]), len(yarns))
        if ends >= 2 * period:
            step = lcm(2, period)
            return _Part(tuple(yarns[:period]), ends, ends - (ends - 2 * period) // step * step, step)
    return None


def _joint_at(runs: tuple[StripeRun, ...], place: int, first: int) -> bool:
    """Whether a run is two ends where bars of the same two yarns stop before it and begin again after it."""
    if place - first < 2 or place + 2 >= len(runs) or runs[place][1] != 2:
        return False
    before, after = runs[place - 2 : place], runs[place + 1 : place + 3]
    in_turn = before[0][0] == runs[place][0] == after[1][0] and after[0][0] == before[1][0]
    return in_turn and before[1][1] == after[0][1] == after[1][1] == 1


# --- choosing the lengths --------------------------------------------------------------------------------------------


def _same_both_ways(parts: tuple[_Part, ...]) -> bool:
    return parts == tuple(part.turned() for part in reversed(parts))


def _sizes(parts: tuple[_Part, ...], wanted: int) -> dict[int, tuple[int, ...]]:
    """For every total round the wanted one: the lengths nearest to proportion, equals kept equal where that pays."""
    last, same = len(parts) - 1, _same_both_ways(parts)

    def mirrored(place: int) -> Hashable:
        return min(place, last - place) if same else place

    def alike(place: int) -> Hashable:
        return parts[place].has_phase, parts[place].ends

    best = _totals(parts, mirrored, wanted)
    for total, (cost, lengths) in _totals(parts, alike, wanted).items():
        if total not in best or cost <= best[total][0] + _EQUAL_IS_WORTH:
            best[total] = cost, lengths
    return {total: lengths for total, (_, lengths) in best.items()}


def _totals(
    parts: tuple[_Part, ...], key: Callable[[int], Hashable], wanted: int
) -> dict[int, tuple[float, tuple[int, ...]]]:
    """Each total and its best lengths, parts of the same ``key`` having the same.

    The cost is the sum of ``(length − scale·ends)² / ends``. At one total the scale's terms add up to a constant, so
    the sum of ``length²/ends`` finds the same best for every total at once.
    """
    groups: dict[Hashable, list[int]] = {}
    for place in range(len(parts)):
        groups.setdefault(key(place), []).append(place)
    scale = _scale(parts, wanted)
    best: dict[int, tuple[float, tuple[int, ...]]] = {0: (0.0, ())}
    for places in groups.values():
        best = _with_group(best, [parts[place] for place in places], scale)
    order = [place for places in groups.values() for place in places]
    counts = [len(places) for places in groups.values()]
    return {total: (cost, _spread(lengths, counts, order)) for total, (cost, lengths) in best.items()}


def _with_group(
    best: dict[int, tuple[float, tuple[int, ...]]], group: list[_Part], scale: float
) -> dict[int, tuple[float, tuple[int, ...]]]:
    step, ends = lcm(*(part.step for part in group)), group[0].ends
    more: dict[int, tuple[float, tuple[int, ...]]] = {}
    for length in _lengths(max(part.least for part in group), step, scale * ends):
        for total, (cost, lengths) in best.items():
            now, sum_ = cost + len(group) * length * length / ends, total + len(group) * length
            if sum_ <= LONGEST_LIST and (sum_ not in more or now < more[sum_][0] - 1e-9):
                more[sum_] = now, (*lengths, length)
    return more


def _lengths(least: int, step: int, target: float) -> range:
    """The lengths worth trying: eight steps either side of the target, none under the least."""
    if step == 0:
        return range(least, least + 1)
    middle = max(0, round((target - least) / step))
    return range(least + max(0, middle - _STEPS_ROUND) * step, least + (middle + _STEPS_ROUND) * step + 1, step)


def _scale(parts: tuple[_Part, ...], wanted: int) -> float:
    """What every part that can change is multiplied by for the wanted total, none going under its least."""
    low, high = 0.0, float(LONGEST_LIST)
    for _ in range(60):
        middle = (low + high) / 2
        total = sum(max(part.least, middle * part.ends) if part.step else part.ends for part in parts)
        low, high = (middle, high) if total < wanted else (low, middle)
    return high


def _spread(lengths: tuple[int, ...], counts: list[int], order: list[int]) -> tuple[int, ...]:
    """Group lengths back onto the parts' places."""
    spread = [length for length, count in zip(lengths, counts, strict=True) for _ in range(count)]
    by_place = dict(zip(order, spread, strict=True))
    return tuple(by_place[place] for place in sorted(by_place))
