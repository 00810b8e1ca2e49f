"""Fitting: panels into rows of twelve columns on one page, the least wanted left out first, spare height given away."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import ceil, floor, isinf

from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import NO_ROOM, HeightRange, Part, stack_heights
from cardmaker.model.card_layout import PanelPlace
from cardmaker.model.marks import Box
from cardmaker.model.record_class import record, replace

HEADED_GAP = 0.5  # from a row that is only a heading to what it heads, besides the heading's own space
COLUMNS, GUTTER = 12, 5.0
LEAST_GAP, MOST_GAP = 2.4, 8.0  # between sections
CLOSEST = 0.3  # less of it on a card that is too full even in the fewest words
CLOSER_IN_CELL, MOST_IN_CELL = 1.2, 3.6  # among others on a sheet: nearer, so that a tape's lines stay together
CLEAR_GAP = 3.2  # what parts for which there may be room, and pictures that could grow, leave to them first
NARROWEST_MM = 35.0  # no panel is drawn in less: a heading and a heddle of a few spaces find no room there


@record
class Placed:
    """A panel in its box, with those of its parts that found room, and those that did not."""

    panel: Panel
    box: Box
    parts: tuple[Part, ...]
    hidden: tuple[Part, ...]

    @property
    def told(self) -> frozenset[str]:
        """The facts of the parts that are shown."""
        return frozenset(fact for part in self.parts for fact in part.facts)

    @property
    def lacks(self) -> tuple[str, ...]:
        """The facts of the parts that are not."""
        return tuple(fact for part in self.hidden for fact in part.facts)


@record
class Fitted:
    """All panels that found room, and those left out; and what share of the height the essential ones need."""

    placed: tuple[Placed, ...]
    left_out: tuple[LeftOut, ...]
    needed: float = 0.0


@record
class LeftOut:
    """A panel that found no room, and the facts that it would have told."""

    panel: str
    facts: tuple[str, ...]


class DoesNotFit(Exception):
    """Even the essential panels are taller than the page: ``needed_mm`` of ``given_mm``; infinite where one is too
    narrow to be drawn at any height."""

    def __init__(self, needed_mm: float, given_mm: float) -> None:
        self.needed_mm, self.given_mm = needed_mm, given_mm
        if isinf(needed_mm):
            super().__init__("has too little width for one of its panels")
        else:
            super().__init__(f"needs {ceil(needed_mm)} mm of height, has {floor(given_mm)} mm")

    @property
    def share(self) -> float:
        """Of the height that there is."""
        return self.needed_mm / self.given_mm


@record
class _Cell:
    """A panel with its place in a row, its parts at its width, which of the optional ones have found room, and the
    height of those that are shown."""

    place: PanelPlace
    panel: Panel
    left: float
    width: float
    parts: tuple[Part, ...]
    found: frozenset[int]
    heights: HeightRange

    @property
    def hidden(self) -> tuple[Part, ...]:
        """The parts that are not shown."""
        return tuple(part for at, part in enumerate(self.parts) if part.priority and at not in self.found)

    @property
    def shown(self) -> tuple[Part, ...]:
        return _shown(self.parts, self.found)

    def with_part(self, at: int) -> _Cell:
        """The cell with one more of its optional parts."""
        found = self.found | {at}
        heights = stack_heights(_shown(self.parts, found))
        return _Cell(self.place, self.panel, self.left, self.width, self.parts, found, heights)


def _shown(parts: Sequence[Part], found: frozenset[int]) -> tuple[Part, ...]:
    return tuple(part for at, part in enumerate(parts) if not part.priority or at in found)


Row = list[_Cell]


def fit(
    sheet: Sheet, rows: Sequence[Sequence[PanelPlace]], panels: Mapping[str, Panel], box: Box, tight: float = 1.0
) -> Fitted:
    """The panels of ``rows`` in ``box``: all that are essential, then the others, most wanted first, as they find room;
    then the optional parts of all these panels, likewise. Parts with a priority below nought come before the panels
    that may be left out.

    What does not apply is no loss. ``tight`` under 1 draws the rows closer together. Raises DoesNotFit.
    """
    closer = (1 - tight) * 4 + (CLOSEST if sheet.is_tersest else 0.0) + (CLOSER_IN_CELL if sheet.layout.cells else 0.0)
    gap, clear = LEAST_GAP - closer, CLEAR_GAP - closer
    setter = _Setter(sheet, rows, panels, box)
    applying = [place for row in rows for place in row if panels[place.panel].applies(sheet)]
    kept = [place for place in applying if place.essential]
    cells = setter.cells(kept)
    needed_mm = _least(cells, gap)
    if needed_mm > box.height + 1e-6:
        raise DoesNotFit(needed_mm, box.height)
    cells = _with_optional_parts(cells, gap, box, lambda part: part.priority < 0)
    left_out: list[LeftOut] = []
    for place in sorted((place for place in applying if not place.essential), key=lambda place: place.priority):
        trial = setter.cells([*kept, place], cells)
        if _least(trial, gap) <= box.height + 1e-6:
            kept, cells = [*kept, place], trial
        else:
            left_out.append(LeftOut(place.panel, setter.facts(place, trial)))
    cells = _with_optional_parts(cells, clear, box, lambda part: part.priority != 0)
    most = MOST_IN_CELL if sheet.layout.cells else MOST_GAP
    placed = tuple(_placed(cells, box, gap, clear, most))
    return Fitted(placed, tuple(left_out), needed_mm / box.height)


def _with_optional_parts(rows: Sequence[Row], gap: float, box: Box, wanted: Callable[[Part], bool]) -> list[Row]:
    """The rows with as many of the optional parts that are ``wanted`` as find room beside such gaps, the lowest number
    first."""
    rows = [list(row) for row in rows]
    optional = [
        (part.priority, at, row, index)
        for row in rows
        for index, cell in enumerate(row)
        for at, part in enumerate(cell.parts)
        if wanted(part) and at not in cell.found
    ]
    spare = box.height - _least(rows, gap)
    for _, at, row, index in sorted(optional, key=lambda each: each[0]):
        before, height = row[index], _row_least(row)
        if before.parts[at].follows and before.parts[at - 1] not in before.shown:
            continue
        row[index] = before.with_part(at)
        grown = _row_least(row) - height
        if grown <= spare + 1e-6:
            spare -= grown
        else:
            row[index] = before
    return rows


class _Setter:
    """Sets panels side by side in their rows, asking each panel only once for its parts at a width."""

    def __init__(
        self, sheet: Sheet, rows: Sequence[Sequence[PanelPlace]], panels: Mapping[str, Panel], box: Box
    ) -> None:
        self._sheet, self._rows, self._panels, self._box = sheet, rows, panels, box
        self._parts_at: dict[tuple[str, float], tuple[Part, ...]] = {}

    def cells(self, kept: Sequence[PanelPlace], before: Sequence[Row] = ()) -> list[Row]:
        """The rows that hold any of ``kept``, with the optional parts that have found room ``before``; where a
        neighbour is missing the others share its columns."""
        found = {cell.place.panel: cell.found for row in before for cell in row}
        settled = {tuple([id(cell.place) for cell in row]): row for row in before}  # nothing changes in most of them
        chosen = set(map(id, kept))  # they are the places of these rows
        rows = ([place for place in row if id(place) in chosen] for row in self._rows)
        return [
            settled.get(tuple(map(id, row))) or self._row(row, sum([place.columns for place in whole]), found)
            for row, whole in zip(rows, self._rows, strict=True)
            if row
        ]

    def facts(self, place: PanelPlace, rows: Sequence[Row]) -> tuple[str, ...]:
        """All that a panel would tell."""
        cells = (cell for row in rows for cell in row if cell.place is place)
        return tuple(fact for cell in cells for part in cell.parts for fact in part.facts)

    def _row(self, row: Sequence[PanelPlace], whole: int, found: Mapping[str, frozenset[int]]) -> Row:
        columns = sum(place.columns for place in row)
        usable = self._box.width * whole / COLUMNS - GUTTER * (len(row) - 1)
        cells: Row = []
        left = self._box.left
        for place in row:
            width = usable * place.columns / columns
            parts, shown = self._parts(place.panel, width), found.get(place.panel, frozenset())
            heights = stack_heights(_shown(parts, shown))
            cells.append(_Cell(place, self._panels[place.panel], left, width, parts, shown, heights))
            left += width + GUTTER
        return cells

    def _parts(self, panel: str, width: float) -> tuple[Part, ...]:
        key = (panel, width)
        if key not in self._parts_at:
            parts = tuple(self._panels[panel].parts(self._sheet, width))
            narrow = width < NARROWEST_MM
            self._parts_at[key] = tuple(replace(part, heights=NO_ROOM) for part in parts) if narrow else parts
        return self._parts_at[key]


def _least(rows: Sequence[Row], gap: float) -> float:
    sections = _sections_after_first(rows)
    heads = max(0, len(rows) - 1) - sections
    return sum(map(_row_least, rows)) + gap * sections + HEADED_GAP * heads


def _sections_after_first(rows: Sequence[Row]) -> int:
    """How many rows begin a section below another: there is free space above each."""
    return sum(not _heads(above) for above in rows[:-1])


def _heads(row: Row) -> bool:
    """Whether a row is the heading of the one below it, and has its own space to it."""
    return all(cell.panel.heads_below for cell in row)


def _row_least(row: Row) -> float:
    return max(cell.heights.least for cell in row)


def _row_heights(row: Row) -> HeightRange:
    least = _row_least(row)
    return HeightRange(least, max(least, *(cell.heights.most for cell in row)))


def _placed(rows: Sequence[Row], box: Box, least_gap: float, clear_gap: float, most_gap: float) -> list[Placed]:
    """Spare height goes to the gaps until they are clear, then to the rows that can use it, in proportion, then to the
    gaps again; the last row ends at the foot."""
    height_ranges = [_row_heights(row) for row in rows]
    gaps = max(1, _sections_after_first(rows))
    spare = box.height - _least(rows, least_gap)
    gap = min(clear_gap, least_gap + spare / gaps)
    spare -= (gap - least_gap) * gaps
    usable = sum(heights.most - heights.least for heights in height_ranges)
    share = min(1.0, spare / usable) if usable else 0.0
    spare -= share * usable
    gap = max(gap, min(most_gap, gap + spare / gaps))
    placed: list[Placed] = []
    top = box.top
    for row, heights in zip(rows, height_ranges, strict=True):
        height = heights.least + share * (heights.most - heights.least)
        if row is rows[-1] and row[0].panel.sinks:
            top = max(top, box.bottom - height)
        placed += [Placed(cell.panel, Box(cell.left, top, cell.width, height), cell.shown, cell.hidden) for cell in row]
        top += height + (HEADED_GAP if _heads(row) else gap)
    return placed
