"""A slip of one end: which it is, its space and the length of a new one in large figures, and how it is put in."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from cardmaker.card.panels.lost_end_board import board_heights, draw_board
from cardmaker.card.parts import columns_part, heading_part, picture_part, words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.layout.ink import ACCENT, BLACK, HAIRLINE, SOFT
from cardmaker.layout.lettering import cell_holds, hatched_cell, lettered_cell
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import Span, cap_height, figure, fitting_size, leading, tail_depth, text_height
from cardmaker.model.bench import LostEnd
from cardmaker.model.marks import Box, Colour, Face, Mark, Path, Step, Words
from cardmaker.model.record_class import replace
from cardmaker.reckoning.weaving.lost_ends import place_in_stripe
from cardmaker.wording import lost_end_words, view_words

SWATCH: Final = 9.0  # mm, the cell of its yarn
BESIDE_SWATCH: Final = 2.4  # mm
BETWEEN: Final = 4.0  # mm between the figures
BELOW_LABEL: Final = 1.9  # mm from a label to the capitals of its figure
BELOW_FIGURE: Final = 1.9  # mm
HALF: Final = 0.45  # of a figure, of the names of two spaces
CELL: Final = 4.2  # mm, the height of the stripes of the whole warp
ARROW: Final = 2.0  # mm
WARP: Final = 2  # the picture of them: left out where there is no room
NUMBER: Final = 5.0  # mm from the number of a step to its words
BETWEEN_STEPS, CLOSER_STEPS = 1.1, 0.7  # mm; the other on a crowded slip
SHARES: Final = (0.32, 0.26, 0.42)  # of the width, for the three figures


class _Figure(NamedTuple):
    """What is counted, the figure, large, and the words below it."""

    label: str
    lines: tuple[str, ...]
    below: str
    colour: Colour = BLACK

    @property
    def is_one(self) -> bool:
        """Whether it is one figure; of two heddles there are two spaces, one over the other."""
        return len(self.lines) == 1


def _lost(sheet: Sheet) -> LostEnd:
    return planned(sheet.plan.lost_end)


def _which_parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """The end with a cell of its yarn, and the three figures to work by."""
    return (_name_part(sheet, width), _figures_part(sheet, width), _warp_part(sheet, width))


def _name_part(sheet: Sheet, width: float) -> Part:
    lost, size = _lost(sheet), sheet.sizes.heading
    text = lost_end_words.lost_end_title(lost, sheet.plan)
    beside = SWATCH + BESIDE_SWATCH
    lines = sheet.lines([Span(text, Face.SANS_BOLD)], size, width - beside)
    cell = cap_height(size) + 2.6
    height = max(cell, text_height(len(lines), size))
    ink, letters = sheet.inks[lost.place.yarn], sheet.letters(lost.place.yarn)

    def draw(box: Box) -> list[Mark]:
        swatch = Box(box.left, box.top, SWATCH, cell)
        baseline = box.top + (cell + cap_height(size)) / 2
        small = fitting_size(letters, Face.SANS_BOLD, size, SWATCH - 2.0, sheet.ruler, sheet.sizes.smallest)
        marks = [*lettered_cell(swatch, letters, ink, sheet.ruler, Face.SANS_BOLD, small)]
        marks += sheet.set(lines, box.left + beside, baseline, size)
        return [figure("lost-end", box, marks, f"{text}.")]

    return Part(exactly(height), draw, facts=("lost end",))


def _figures_of(sheet: Sheet) -> tuple[_Figure, ...]:
    lost, plan = _lost(sheet), sheet.plan
    count = _Figure(*lost_end_words.count_figure(lost))
    space = _Figure(*lost_end_words.space_figure(lost, plan), ACCENT)
    length = _Figure(*lost_end_words.length_figure(lost, sheet.units))
    return count, space, length


def _figures_part(sheet: Sheet, width: float) -> Part:
    """Three columns: the count from the nearer edge, the space, the length."""
    figures, sizes = _figures_of(sheet), sheet.sizes
    widths = [share * (width - 2 * BETWEEN) for share in SHARES]
    size = min(_size(sheet, each.lines[0], wide) for each, wide in zip(figures, widths, strict=True) if each.is_one)
    own_sizes = [
        size if each.is_one else _half_size(sheet, each, size, wide) for each, wide in zip(figures, widths, strict=True)
    ]
    below = [sheet.lines([Span(each.below)], sizes.small, wide) for each, wide in zip(figures, widths, strict=True)]
    top = cap_height(sizes.small) + BELOW_LABEL
    last = top + max(
        cap_height(own) + (len(each.lines) - 1) * leading(own) for each, own in zip(figures, own_sizes, strict=True)
    )
    under = last + BELOW_FIGURE + cap_height(sizes.small)
    height = under + (max(map(len, below)) - 1) * leading(sizes.small) + tail_depth(sizes.small)

    def draw(box: Box) -> list[Mark]:
        marks: list[Mark] = []
        for number, (each, words) in enumerate(zip(figures, below, strict=True)):
            x = box.left + sum(widths[:number]) + number * BETWEEN
            own = own_sizes[number]
            first = box.top + last - (len(each.lines) - 1) * leading(own)
            marks.append(Words(x, box.top + cap_height(sizes.small), each.label, Face.SANS, sizes.small, SOFT))
            marks += [
                Words(x, first + at * leading(own), line, Face.SANS_BOLD, own, each.colour)
                for at, line in enumerate(each.lines)
            ]
            marks += sheet.set(words, x, box.top + under, sizes.small)
        return [figure("figures", box, marks, lost_end_words.figures_alt_text(_lost(sheet), sheet.plan, sheet.units))]

    return Part(exactly(height), draw, 3.0, ("lost end",))


def _warp_part(sheet: Sheet, width: float) -> Part:
    """Where there is room: all ends side by side, with an arrow to this one; for a left hand mirrored."""
    lost, plan, size = _lost(sheet), sheet.plan, sheet.sizes.smallest

    def draw(box: Box) -> list[Mark]:
        pitch = box.width / plan.ends
        marks: list[Mark] = []
        for run in plan.runs:
            cell = Box(box.left + (run.first_end - 1) * pitch, box.top, run.ends * pitch, CELL)
            ink, letters = sheet.ink_to_mirror(run.yarn), sheet.letters(run.yarn)
            if cell_holds(cell, letters, sheet.ruler, Face.SANS_SEMIBOLD, size):
                marks += lettered_cell(cell, letters, ink, sheet.ruler, Face.SANS_SEMIBOLD, size)
            else:
                marks += hatched_cell(cell, ink, outline=HAIRLINE)
        x, top = box.left + (lost.place.end_number - 0.5) * pitch, box.top + CELL + 0.4
        left, right = max(box.left, x - ARROW * 0.6), min(box.right, x + ARROW * 0.6)
        foot = top + ARROW
        steps: tuple[Step, ...] = (("move", x, top), ("line", right, foot), ("line", left, foot), ("close",))
        marks.append(Path(steps, ACCENT))
        return list(sheet.as_mirrored(marks, box))

    height = exactly(CELL + 0.4 + ARROW)
    alt = lost_end_words.warp_alt_text(lost, plan)
    return picture_part("warp", height, draw, alt, above=2.4, priority=WARP)


def _size(sheet: Sheet, line: str, width: float) -> float:
    return fitting_size(line, Face.SANS_BOLD, sheet.sizes.count, width, sheet.ruler, sheet.sizes.smallest)


def _half_size(sheet: Sheet, figure: _Figure, size: float, width: float) -> float:
    """So that two lines are about as high as one figure of ``size``."""
    longest = max(figure.lines, key=lambda line: sheet.wide(line, Face.SANS_BOLD, size))
    return fitting_size(longest, Face.SANS_BOLD, size * HALF, width, sheet.ruler, sheet.sizes.smallest)


def _board_parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """The picture, and in words how to count to its space and what lies beside it."""
    lost, plan = _lost(sheet), sheet.plan
    alt = lost_end_words.lost_end_alt_text(lost, plan)
    edge = lost_end_words.nearer_edge(lost)
    stripe = lost_end_words.in_its_stripe(place_in_stripe(lost.place.end_number, edge, plan))
    counted = [Span(" ".join(lost_end_words.counted_to_it(lost, plan, brief=True)), Face.SANS_SEMIBOLD)]
    beside = Span(lost_end_words.beside_it_in_brief(lost))
    figure_words = lost_end_words.its_figure(lost, plan)
    words = [counted, [Span(f"{stripe}."), beside, *([Span(figure_words)] if figure_words else [])]]
    view = view_words.view_beside_heading(plan.loom)
    heading = heading_part(sheet, width, plan.loom.title, view, strong=plan.view.from_behind)
    return (
        replace(heading, facts=("loom", "view")),
        picture_part("board", board_heights(sheet), lambda box: draw_board(sheet, box), alt, above=0.4),
        words_part(sheet, width, words, sheet.sizes.small, above=1.6, facts=("lost end beside",)),
    )


def _steps_parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """The steps, numbered, and the cautions."""
    steps = lost_end_words.new_end_steps(_lost(sheet), sheet.plan, sheet.units, brief=True)
    parts = [heading_part(sheet, width, lost_end_words.NEW_END)]
    for number, (act, how) in enumerate(steps, start=1):
        parts.append(_step(sheet, width, number, act, how))
    careful = [[Span(lost_end_words.CAREFUL_IN_BRIEF)]]
    return [
        *parts,
        words_part(sheet, width, careful, sheet.sizes.smallest, above=1.8, facts=("careful",)),
    ]


def _step(sheet: Sheet, width: float, number: int, act: str, how: str) -> Part:
    size, beside = sheet.sizes.small, width - NUMBER
    spans = [Span(act, Face.SANS_SEMIBOLD), *([Span(how)] if how else [])]
    words = words_part(sheet, beside, [spans], size, facts=("new end",))
    between = CLOSER_STEPS if sheet.is_crowded else BETWEEN_STEPS
    at = words_part(sheet, NUMBER, [[Span(f"{number}", Face.SANS_BOLD)]], size)
    return columns_part([(0.0, NUMBER, at), (NUMBER, beside, words)], above=between if number > 1 else 0.0)


def _has_end(sheet: Sheet) -> bool:
    return sheet.plan.lost_end is not None


LOST_END: Final = Panel("lost-end", _which_parts, _has_end)
LOST_END_BOARD: Final = Panel("lost-end-board", _board_parts, _has_end)
LOST_END_STEPS: Final = Panel("lost-end-steps", _steps_parts, _has_end)
