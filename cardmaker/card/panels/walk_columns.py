"""The strokes of the walk in columns and rows: one for every end, or of long stripes only the first and the last."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from cardmaker.card.rows_of_ends import ends_in_rows
from cardmaker.model.record_class import record
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.reckoning.winding.walk import Walk

KEPT: Final = (3, 2)  # strokes at either end of a stripe with a break: as many as find room
SAVED: Final = 2  # columns, at the least, before a stripe is broken
GAP: Final = 0  # stands where a position would: strokes are left out here
GAP_COLUMNS: Final = 2
LEAST_STROKE: Final = 1.28  # mm from stroke to stroke: nearer ones are not told apart
WIDEST_STROKE: Final = 8.0
EMPTY_WALK_SHARE: Final = 0.5  # of a column


@record
class WalkColumns:
    """The columns of the walk. Positions count strokes, columns what is drawn; both from 1."""

    positions: tuple[int, ...]  # of the stroke in each column; GAP where strokes are left out
    column_of: Mapping[int, int]
    stretches: tuple[Segment, ...]  # what is counted in one go, in columns

    @property
    def is_broken(self) -> bool:
        return GAP in self.positions

    @property
    def left_out(self) -> int:
        """How many strokes are not drawn."""
        return max(self.positions) - len(self.column_of)

    def gaps(self, row: range) -> list[int]:
        """The columns of a row at which strokes begin to be left out."""
        return [at for at in row if self.positions[at - 1] == GAP and self.positions[at - 2] != GAP]


@record
class WalkGrid:
    """The columns at their places; between the strokes before and after an empty walk there is a little room for it."""

    columns: WalkColumns
    pitch: float
    empty_before: frozenset[int] = frozenset()  # the columns to which she walks empty
    empty_width: float = 0.0

    def stop(self, row: range, position: int) -> float:
        """Where the stroke at a position ends, in mm from the first post of its row on."""
        return self.right(row, self.columns.column_of[position])

    def right(self, row: range, column: int) -> float:
        """Where a column ends."""
        empty = sum(row.start < each <= column for each in self.empty_before)
        return (column - row.start + 1) * self.pitch + empty * self.empty_width

    def width(self, row: range) -> float:
        return self.right(row, row.stop - 1)

    def drawn(self, row: range) -> list[int]:
        """The positions of the strokes of a row."""
        return [position for position in self.columns.positions[row.start - 1 : row.stop - 1] if position != GAP]


def walk_grid(walk: Walk, columns: WalkColumns, rows: Sequence[range], free: float) -> WalkGrid:
    """The columns as wide as ``free`` mm allow; an empty walk takes its share of a column, less where strokes would
    come too near to each other."""
    at = columns.column_of.items()
    empty = frozenset(column for position, column in at if position > 1 and walk.walks_empty_before(position))
    counts = [(len(row), sum(row.start < column < row.stop for column in empty)) for row in rows]
    shares = [(free / LEAST_STROKE - strokes) / walks for strokes, walks in counts if walks]
    share = max(0.0, min([EMPTY_WALK_SHARE, *shares]))
    pitch = min(WIDEST_STROKE, *(free / (strokes + share * walks) for strokes, walks in counts))
    return WalkGrid(columns, pitch, empty, share * pitch)


def columns_in_rows(walk: Walk, most: int, most_rows: int) -> tuple[WalkColumns, list[range]]:
    """The columns, and those of each row of at most ``most``.

    Long stripes are drawn with a break only where there would else be more than ``most_rows``, and it saves any.
    """

    def in_rows(drawn: Sequence[tuple[int, ...]]) -> tuple[WalkColumns, list[range]]:
        columns = _columns(walk, drawn)
        return columns, ends_in_rows(columns.stretches, most)

    best = in_rows([_all_of(stretch) for stretch in walk.stretches])
    for kept in KEPT:
        if len(best[1]) <= most_rows:
            break
        broken = in_rows([_with_break(stretch, kept) for stretch in walk.stretches])
        best = min(best, broken, key=lambda way: len(way[1]))
    return best


def _columns(walk: Walk, drawn: Sequence[tuple[int, ...]]) -> WalkColumns:
    """The columns, from the positions that are drawn of each stretch."""
    stretches: list[Segment] = []
    for stretch, positions in zip(walk.stretches, drawn, strict=True):
        before = stretches[-1].last_end if stretches else 0
        stretches.append(Segment(before + 1, before + len(positions), stretch.yarns))
    flat = tuple(position for positions in drawn for position in positions)
    column_of = {position: column for column, position in enumerate(flat, start=1) if position != GAP}
    return WalkColumns(flat, column_of, tuple(stretches))


def _all_of(stretch: Segment) -> tuple[int, ...]:
    return tuple(range(stretch.first_end, stretch.last_end + 1))


def _with_break(stretch: Segment, kept: int) -> tuple[int, ...]:
    """Of a long stripe its first strokes and its last; an even number is left out, so that the line goes on."""
    every, last = _all_of(stretch), kept + stretch.ends % 2
    if stretch.in_turn or kept + GAP_COLUMNS + last + SAVED > stretch.ends:
        return every
    return (*every[:kept], *[GAP] * GAP_COLUMNS, *every[-last:])
