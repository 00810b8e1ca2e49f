"""The walk that winding is, stroke by stroke, by the recommended method: from which post to which each end is wound.

In order, one thread walks on and on, so the strokes turn back and forth. Carrying, or one colour at a time, each yarn
walks by itself: its first stroke starts at home, and it waits wherever its last one ended (parity; needs no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Final

from cardmaker.model.plan import Method, Post, Run
from cardmaker.model.record_class import record
from cardmaker.reckoning.stripes.segments import FEWEST_BESIDE_TEN, Segment, hand_counted
from cardmaker.reckoning.winding.winding_methods import bundle_list

MOST_TICKS: Final = 16  # that a card finds room for; ours, no source


@record
class Stroke:
    """One end, from one post to the other."""

    yarn: str
    start: Post

    @property
    def stop(self) -> Post:
        return self.start.opposite


@record
class Walk:
    """All strokes in the order of winding, the stretches they are counted in, and what is said at each checkpoint.

    Positions count strokes from 1. ``totals`` tells, for every position to stop at, how many ends are wound: of the
    whole warp, or of the bundle in hand when each colour is wound by itself.
    """

    strokes: tuple[Stroke, ...]
    stretches: tuple[Segment, ...]
    totals: dict[int, int]

    def stop_of(self, position: int) -> Post:
        """Where the winder stands after so many strokes."""
        return self.strokes[position - 1].stop

    @property
    def tens(self) -> dict[int, int]:
        """The totals to stop at where there are too many changes to stop at each: every ten, and the last."""
        last = len(self.strokes)
        return {total: total for total in (*range(10, last - FEWEST_BESIDE_TEN + 1, 10), last)}

    @property
    def finish(self) -> Post:
        return self.strokes[-1].stop

    @property
    def empty_walks(self) -> int:
        """How often the winder must walk to the other post without a thread, to where the next ball waits."""
        return sum(self.walks_empty_before(position) for position in range(2, len(self.strokes) + 1))

    def walks_empty_before(self, position: int) -> bool:
        """Whether the stroke before this one left her at the other post."""
        return self.strokes[position - 2].stop is not self.strokes[position - 1].start

    def ends_ball(self, position: int) -> bool:
        """Whether this stroke is the last of its yarn."""
        yarn = self.strokes[position - 1].yarn
        return all(stroke.yarn != yarn for stroke in self.strokes[position:])


def walk_of(warp: Sequence[Run], method: Method) -> Walk:
    """The walk of a warp wound by ``method``."""
    return _walk(tuple(warp), method)


def part_wound(walk: Walk, first: int, last: int) -> Segment:
    """The ends from one position to another. Of ends in turn its yarns are in the order of its own first ends: a part
    that begins in the middle of a turn begins with another yarn than the whole."""
    return Segment(first, last, tuple(dict.fromkeys(stroke.yarn for stroke in walk.strokes[first - 1 : last])))


def ticked_totals(walk: Walk, method: Method) -> dict[int, int]:
    """The totals that are ticked while winding, by position: after every stripe, and on the way through a long one at
    the round tens. Where that would be too many it is after the stripes alone, and of very many stripes at the tens
    alone.

    It goes by the tape, so that a teacher and a class count alike from different cards. Ours; no source.
    """
    stripes = {stretch.last_end: walk.totals[stretch.last_end] for stretch in walk.stretches}
    if len(walk.totals) <= MOST_TICKS:
        return walk.totals
    return stripes if len(stripes) <= MOST_TICKS or method == "bundle" else walk.tens


def resting_totals(walk: Walk, method: Method) -> dict[int, int]:
    """Those of the ticked totals, by position, at which nothing changes: the round tens inside a long stripe. They are
    there to count by, and must not look like a change of colour: whoever takes one for it cuts the thread in the middle
    of a stripe. Where only tens are ticked, and in a bundle, which has one colour, none is mistaken. Ours; no source.
    """
    stripes = {stretch.last_end for stretch in walk.stretches}
    ticked = ticked_totals(walk, method)
    if method == "bundle" or not stripes <= ticked.keys():
        return {}
    return {at: total for at, total in ticked.items() if at not in stripes}


def boxed_totals(walk: Walk, method: Method) -> dict[int, int]:
    """The ticked totals that have a box on a card: all at which something changes."""
    rests = resting_totals(walk, method)
    return {at: total for at, total in ticked_totals(walk, method).items() if at not in rests}


def ticked_within(walk: Walk, method: Method, stretch: Segment) -> dict[int, int]:
    """Those of the ticked totals, by position, that lie inside a stretch, on the way to its last end."""
    return {
        at: total for at, total in ticked_totals(walk, method).items() if stretch.first_end <= at < stretch.last_end
    }


@lru_cache(maxsize=16)  # every part of a drawing asks, and so does what is said
def _walk(warp: tuple[Run, ...], method: Method) -> Walk:
    if method == "bundle":
        return _bundles(warp)
    yarns = [run.yarn for run in warp for _ in range(run.ends)]
    stretches = hand_counted(warp)
    totals = {total: total for stretch in stretches for total in stretch.checkpoints}
    strokes = _each_by_itself(yarns) if method == "carry" else _on_and_on(yarns)
    return Walk(strokes, stretches, totals)


def _on_and_on(yarns: Iterable[str]) -> tuple[Stroke, ...]:
    return tuple(Stroke(yarn, Post.FAR if before % 2 else Post.HOME) for before, yarn in enumerate(yarns))


def _each_by_itself(yarns: Iterable[str]) -> tuple[Stroke, ...]:
    waits: dict[str, Post] = {}
    strokes = []
    for yarn in yarns:
        stroke = Stroke(yarn, waits.get(yarn, Post.HOME))
        waits[yarn] = stroke.stop
        strokes.append(stroke)
    return tuple(strokes)


def _bundles(warp: Sequence[Run]) -> Walk:
    strokes: list[Stroke] = []
    stretches: list[Segment] = []
    totals: dict[int, int] = {}
    for bundle in bundle_list(warp):
        before, alone = len(strokes), Segment(1, bundle.ends, (bundle.yarn,))
        strokes += _each_by_itself([bundle.yarn] * bundle.ends)
        stretches.append(Segment(before + 1, len(strokes), alone.yarns))
        totals |= {before + total: total for total in alone.checkpoints}
    return Walk(tuple(strokes), tuple(stretches), totals)
