"""What shows in each shed: the raised ends, the face row by row, and the figures that come out of it.

In warp-faced plain weave only the raised ends show, each about two ends wide; the others show on the back. Common
practice, checked by simulation; no source.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from itertools import groupby
from types import MappingProxyType
from typing import Final, Literal

from cardmaker.model.loom import Space
from cardmaker.model.plan import Placement, Sheds

Shed = Literal["down", "up"]
FaceRow = tuple[int | None, ...]

_AS_THE_SHED: Final[Mapping[int, Collection[int]]] = MappingProxyType({})


def both_sheds(placement: Placement) -> Sheds:
    """The raised ends of each shed, as end numbers from the left.

    Pressed down, the slot ends go down and the hole ends stay on top; lifted up, the slot ends are on top. On two
    heddles down raises the hole ends of the front one, and up the others, which are the hole ends of the back one.
    """
    kinds = tuple(enumerate(placement.kinds, start=1))
    return Sheds(
        down=tuple(end_number for end_number, kind in kinds if kind is Space.HOLE),
        up=tuple(end_number for end_number, kind in kinds if kind is Space.SLOT),
    )


def raised_runs(raised: Sequence[int], yarns: Sequence[str]) -> tuple[tuple[str, int], ...]:
    """The raised ends of one shed as stripes of one yarn each, left to right: two blue, eight white, two blue."""
    shown = (yarns[end_number - 1] for end_number in sorted(raised))
    return tuple((yarn, len(tuple(neighbours))) for yarn, neighbours in groupby(shown))


def face_row(raised: Collection[int], ends: int) -> FaceRow:
    """Which end shows in each of the ``2 * ends`` columns of one row, a column being half an end wide.

    A raised end covers its own place and half of each neighbour's, unless the neighbour is raised as well. None is
    where nothing raised reaches: at an edge whose end is down, where the weft turns and shows as a dot, and where an
    end was pushed down by hand.
    """
    up = frozenset(raised)
    row: list[int | None] = []
    for end_number in range(1, ends + 1):
        for neighbour in (end_number - 1, end_number + 1):
            row.append(next((number for number in (end_number, neighbour) if number in up), None))
    return tuple(row)


def woven_face(
    of: Sheds,
    ends: int,
    picks: int,
    first: Shed = "down",
    by_hand: Mapping[int, Collection[int]] = _AS_THE_SHED,
) -> tuple[FaceRow, ...]:
    """The face of the tape, one row for each pick, the first pick first; the sheds take turns.

    ``by_hand`` gives the raised ends of single picks (counted from 1) where ends were lifted or pushed down.
    """
    in_turn = (of.down, of.up) if first == "down" else (of.up, of.down)
    return tuple(
        face_row(by_hand.get(pick_number, in_turn[(pick_number - 1) % 2]), ends) for pick_number in range(1, picks + 1)
    )
