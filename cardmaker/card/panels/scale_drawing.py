"""The scale beside the ribbon: bars of 100 mm and 4 in with their ticks, by which a print at another size is told."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import HAIRLINE, RULE
from cardmaker.layout.type_setting import cap_height, tail_depth
from cardmaker.model.marks import Box, Face, Line, Mark, Words
from cardmaker.model.record_class import record
from cardmaker.wording import ribbon_words

MM_PER_INCH: Final = 25.4
BAR_MM: Final = (100, 50)  # the longest that finds room
BAR_INCHES: Final = 4
BAR_FOOT: Final = 2.5  # mm that the last figure may stand below a bar
ASIDE: Final = 1.0  # mm from the tape to a bar
TICKS: Final = ((2.6, 1.8, 1.1), (1.8, 1.4, 0.9))  # mm, longest first: of a bar with figures, and of one without
BESIDE_TICKS: Final = 0.5  # mm from a tick to its figure, or to what the bar is long
LARGEST_FIGURES: Final = 10.0  # points: where even the smallest type is larger, no room is kept for figures
GAP: Final = 14.0  # mm between the bars

Ticks = Sequence[tuple[float, int, str]]  # how far down, the rank, and the figure that those of rank 0 bear


@record
class ScaleBar:
    """A bar, from the top of the tape down, with what it is for whoever hears the card."""

    top: float
    bottom: float
    marks: tuple[Mark, ...]
    in_words: str


def scale_room(sheet: Sheet) -> float:
    """What the bars need beside the tape, in mm: with figures only where the smallest type is small."""
    return _figured_room(sheet) if _has_figures(sheet) else _plain_room(sheet)


def _has_figures(sheet: Sheet) -> bool:
    """One form of the scale for all cards of a layout, however narrow the tape is."""
    return sheet.layout.type_sizes.smallest <= LARGEST_FIGURES


def _figured_room(sheet: Sheet) -> float:
    size = sheet.sizes.smallest
    figures = max(sheet.wide("100", Face.SANS, size), sheet.wide("mm", Face.SANS, size))
    return ASIDE + TICKS[0][0] + BESIDE_TICKS + figures


def _plain_room(sheet: Sheet) -> float:
    size = sheet.sizes.smallest
    return ASIDE + TICKS[1][0] + BESIDE_TICKS + cap_height(size) + tail_depth(size)


def scale_bars(sheet: Sheet, tape: Box, right: float) -> list[ScaleBar]:
    """As many bars as find room beside ``tape``, with figures if the layout has them and they end at ``right``."""
    figured = _has_figures(sheet) and tape.right + _figured_room(sheet) <= right + 1e-6
    below = cap_height(sheet.sizes.smallest) / 2 + 0.3 if figured else 0.3
    bars: list[ScaleBar] = []
    top = tape.top
    for choices in ([_millimetres(length) for length in BAR_MM], [_inches(BAR_INCHES)]):
        fitting = [scale for scale in choices if top + scale.ticks[-1][0] + below <= tape.bottom]
        if not fitting:
            break
        scale = fitting[0]
        bottom = top + scale.ticks[-1][0]
        bars.append(ScaleBar(top, bottom + below, tuple(_bar(sheet, tape, top, scale, figured)), scale.in_words))
        top = bottom + GAP
    return bars


@record
class _Scale:
    """The ticks of a bar, the unit of its figures, how long it is, and what it is for whoever hears the card."""

    ticks: Ticks
    unit: str
    length: str
    in_words: str


def _millimetres(length: int) -> _Scale:
    ticks = [(float(mm), _rank(mm, 10), str(mm)) for mm in range(length + 1)]
    return _Scale(ticks, "mm", f"{length} mm", ribbon_words.mm_bar(length))


def _inches(length: int) -> _Scale:
    ticks = [(eighth * MM_PER_INCH / 8, _rank(eighth, 8), str(eighth // 8)) for eighth in range(length * 8 + 1)]
    return _Scale(ticks, "in", f"{length} in", ribbon_words.INCH_BAR)


def _rank(number: int, whole: int) -> int:
    return 0 if number % whole == 0 else 1 if number % (whole // 2) == 0 else 2


def _bar(sheet: Sheet, tape: Box, top: float, scale: _Scale, figured: bool) -> list[Mark]:
    """A bar with its ticks: ``figured`` with the unit at its head and figures at the longest, else with its length
    beside it."""
    x, bottom, cap = tape.right + ASIDE, top + scale.ticks[-1][0], cap_height(sheet.sizes.smallest)
    long = TICKS[0 if figured else 1]
    marks: list[Mark] = [Line(x, top, x, bottom, RULE)]
    for down, rank, figures in scale.ticks:
        y = top + down
        marks.append(Line(x, y, x + long[rank], y, HAIRLINE if rank else RULE))
        if figured and rank == 0 and down:
            marks.append(_figure(sheet, x, y + cap / 2, figures))
    if figured:
        return [*marks, _figure(sheet, x, top + cap, scale.unit)]
    return [*marks, _upwards(sheet, x, bottom, scale.length)]


def _figure(sheet: Sheet, x: float, baseline: float, text: str) -> Words:
    return Words(x + TICKS[0][0] + BESIDE_TICKS, baseline, text, Face.SANS, sheet.sizes.smallest)


def _upwards(sheet: Sheet, x: float, end: float, text: str) -> Words:
    """The length of a bar that has no figures, written upwards from its end: in the middle it would be read as a mark
    there."""
    size = sheet.sizes.smallest
    at = x + TICKS[1][0] + BESIDE_TICKS + cap_height(size)
    return Words(at, end, text, Face.SANS, size, turned=90)
