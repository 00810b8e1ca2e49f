"""The face of the tape by simulation, half an end at a time: what the sheds are held against."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from types import MappingProxyType
from typing import Final, Literal

from cardmaker.model.plan import Sheds

Shed = Literal["down", "up"]
FaceRow = tuple[int | None, ...]

_AS_THE_SHED: Final[Mapping[int, Collection[int]]] = MappingProxyType({})


def face_row(raised: Collection[int], ends: int) -> FaceRow:
    """Which end shows in each of the ``2 * ends`` columns of one row, a column being half an end wide.

    A raised end covers its own place and half of each neighbour's, unless the neighbour is raised as well. None is
    where nothing raised reaches: at an edge whose end is down, where the weft turns and shows as a dot, and where an
    end was dropped by hand.
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

    ``by_hand`` gives the raised ends of single picks (counted from 1) where ends were lifted or dropped.
    """
    in_turn = (of.down, of.up) if first == "down" else (of.up, of.down)
    return tuple(
        face_row(by_hand.get(pick_number, in_turn[(pick_number - 1) % 2]), ends) for pick_number in range(1, picks + 1)
    )
