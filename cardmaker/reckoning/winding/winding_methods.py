"""How the warp is wound: trips, the post at every change, what must be joined, and which way saves trouble.

One trip from post to post is one end (needs no source: parity). An even number of trips ends where it began.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Final

from cardmaker.model.plan import Carry, Method, Post, Run, Winding
from cardmaker.model.record_class import record

ENDS_PER_JOIN: Final = 3  # with fewer ends to a join, winding in order is more knotting than winding (no source)
MOST_BALLS: Final = 3  # that one pair of hands carries side by side (common practice, no source)


def plan_winding(warp: Sequence[Run]) -> Winding:
    """Trips, changes and joins, and the recommended method.

    Every change of colour is a join when winding in order. Carrying one ball per colour needs none, as each ball waits
    at the post where it was left; winding one colour at a time needs none either, but the ends must be taken from as
    many bundles as there are colours when threading.
    """
    changes = warp[:-1]
    colours = len({run.yarn for run in warp})
    return Winding(
        trips=sum(run.ends for run in warp),
        changes=len(changes),
        far_changes=sum(run.stand_at is Post.FAR for run in changes),
        joins=len(changes),
        bundles=colours,
        balls=colours,
        carries=carries(warp),
        method=_recommended(sum(run.ends for run in warp), len(changes), colours),
    )


def _recommended(ends: int, joins: int, colours: int) -> Method:
    """In order while there are at least three ends to a join; then carry up to three balls; else one colour at a time.

    Common practice, no source.
    """
    if joins * ENDS_PER_JOIN <= ends:
        return "order"
    return "carry" if colours <= MOST_BALLS else "bundle"


def carries(warp: Sequence[Run]) -> tuple[Carry, ...]:
    """Each stripe with its own ball: it starts from the post where that ball waits, home at first.

    A ball waits at home after an even number of its own ends, at the far post after an odd number.
    """
    wound: Counter[str] = Counter()
    strokes = []
    for run in warp:
        start = _waits_at(wound[run.yarn])
        wound[run.yarn] += run.ends
        strokes.append(Carry(run.yarn, run.ends, start, _waits_at(wound[run.yarn])))
    return tuple(strokes)


def _waits_at(ends: int) -> Post:
    return Post.FAR if ends % 2 else Post.HOME


@record
class Bundle:
    """All ends of one colour, wound in one go."""

    yarn: str
    ends: int


def bundle_list(warp: Sequence[Run]) -> tuple[Bundle, ...]:
    """What to wind of each colour, one at a time, in the order in which the colours first appear."""
    wanted: dict[str, int] = {}
    for run in warp:
        wanted[run.yarn] = wanted.get(run.yarn, 0) + run.ends
    return tuple(Bundle(yarn, ends) for yarn, ends in wanted.items())
