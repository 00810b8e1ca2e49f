"""Where to wind: the pegs from above with one thread through them, the route as a list, and the cross."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.bench_columns import BETWEEN_COLUMNS, MIDDLE, RIGHT, right_edge
from cardmaker.card.panels.cross_drawing import CROSS, cross_figure, draw_span, passes_above, span_height
from cardmaker.card.panels.pegs_drawing import apart_height, draw_pegs, pegs_height
from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height
from cardmaker.card.parts import columns_part, stack_part, wind_heading, words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.layout.ink import ACCENT, BLACK, SOFT
from cardmaker.layout.stacking import HeightRange, Part, exactly
from cardmaker.layout.table_setting import row_group
from cardmaker.layout.type_setting import Span, cap_height, figure, leading, words_group
from cardmaker.model.marks import Box, Face, Group, Mark, Words
from cardmaker.model.peg_plan import PegPlan
from cardmaker.wording import peg_words, winding_words

LEAST_VIEW, MOST_VIEW = 34.0, 42.0
NARROW: Final = 120.0  # panels narrower than this stand their parts below each other
ABOVE_CAPTION: Final = 1.0
NUMBER: Final = 5.0  # where the names stand in the list
BEFORE_APART: Final = 3.0  # and from the widest of them to the distances


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """In a wide panel view, cross and list stand side by side and words below them; in a narrow one all stand below
    each other. The view of a span has the cross in it."""
    pegs = planned(sheet.plan.pegs)
    heap = words_part(
        sheet, width, [_more_words(sheet)], sheet.sizes.small, above=1.2, facts=("stack",),
        priority=0 if pegs.stack_is_too_high else 3,
    )  # fmt: skip
    if width < NARROW:
        cross = () if pegs.kind == "span" else (_cross(sheet, pegs, width),)
        view = _view(sheet, pegs, width)
        return (_heading(sheet, width), view, *cross, _route(sheet, pegs), _words(sheet, width), heap)
    left = right_edge(width) - BETWEEN_COLUMNS
    pictures = stack_part([_heading(sheet, left), _pictures(sheet, pegs, left)])
    route = (right_edge(width), RIGHT, _route(sheet, pegs))
    return (columns_part([(0.0, left, pictures), route]), _words(sheet, width), heap)


def _heading(sheet: Sheet, width: float) -> Part:
    return wind_heading(sheet, width, peg_words.drawn_from(planned(sheet.plan.pegs)))


def _length_and_guide(sheet: Sheet) -> Paragraph:
    pegs = planned(sheet.plan.pegs)
    length = Span(peg_words.thread_length(pegs, sheet.units, brief=True), Face.SANS_SEMIBOLD)
    sticks = [Span(peg_words.keeper_sticks(pegs))] if pegs.kind == "span" else []
    return [length, Span(peg_words.guide(pegs, sheet.units)), *sticks]


def _more_words(sheet: Sheet) -> Paragraph:
    pegs = planned(sheet.plan.pegs)
    walking = peg_words.walking_length(pegs, sheet.plan.ends, sheet.units)
    return [Span(walking), Span(peg_words.stack(pegs, sheet.units))]


def _pictures(sheet: Sheet, pegs: PegPlan, width: float) -> Part:
    """View and cross, up to the list."""
    if pegs.kind == "span":
        return _view(sheet, pegs, width)
    cross, left = width - MIDDLE, width - MIDDLE - BETWEEN_COLUMNS
    columns = [(0.0, left, _view(sheet, pegs, left)), (cross, MIDDLE, _cross(sheet, pegs, MIDDLE))]
    return columns_part(columns, above=0.0)


def _words(sheet: Sheet, width: float) -> Part:
    return words_part(sheet, width, [_length_and_guide(sheet)], sheet.sizes.body, facts=("guide string",))


def _view(sheet: Sheet, pegs: PegPlan, width: float) -> Part:
    if pegs.kind == "span":
        heights, draw = exactly(span_height(sheet, pegs)), draw_span
        cross = peg_words.cross_alt_text(pegs, passes_above(pegs))
        alt = f"{peg_words.pegs_alt_text(pegs, sheet.units)} {cross}"
    else:
        fills = pegs_height(sheet, pegs, width)
        least = min(fills, max(LEAST_VIEW * sheet.picture_share, apart_height(sheet, pegs)))
        heights, draw = HeightRange(least, max(least, min(fills, MOST_VIEW))), draw_pegs
        alt = peg_words.pegs_alt_text(pegs, sheet.units)
    return Part(heights, lambda box: [figure("pegs", box, draw(sheet, pegs, box), alt)], facts=("room",))


def _cross(sheet: Sheet, pegs: PegPlan, width: float) -> Part:
    """The cross by itself, with where the sticks go below it."""
    words: Paragraph = [Span(peg_words.keeper_sticks(pegs))]
    size = sheet.sizes.small
    height = CROSS + ABOVE_CAPTION + paragraph_height(sheet, words, size, width)

    def draw(box: Box) -> list[Mark]:
        below = box.inset(top=CROSS + ABOVE_CAPTION)
        return [cross_figure(sheet, pegs, box), *paragraph(sheet, words, size, below)]

    return Part(exactly(height), draw, above=2.0)


def _route_rows(sheet: Sheet, pegs: PegPlan) -> list[tuple[str, str, str]]:
    stops = peg_words.route_stops(pegs, sheet.units)
    return [(str(number), name, apart) for number, (name, apart) in enumerate(stops, start=1)]


def _distances_at(sheet: Sheet, pegs: PegPlan) -> float:
    """Where the distances stand in the list."""
    names = (sheet.wide(name, Face.SANS_SEMIBOLD, sheet.sizes.small) for _, name, _ in _route_rows(sheet, pegs))
    return NUMBER + max(names) + BEFORE_APART


def _route(sheet: Sheet, pegs: PegPlan) -> Part:
    """The pegs in the order of the thread, numbered, with how far each stands from the one before."""
    height = (len(_route_rows(sheet, pegs)) + 2) * _route_line(sheet)
    return Part(exactly(height), lambda box: _draw_route(sheet, pegs, box), facts=("route",))


def _route_line(sheet: Sheet) -> float:
    return leading(sheet.sizes.small) + 0.3


def _draw_route(sheet: Sheet, pegs: PegPlan, box: Box) -> list[Mark]:
    line, apart = _route_line(sheet), box.left + _distances_at(sheet, pegs)
    size = sheet.sizes.small
    y = box.top + cap_height(size)
    lefts = (box.left, box.left + NUMBER, apart)
    heads = [
        words_group("header cell", _cell(x, y, size), Words(x, y, text, Face.SANS, size, SOFT), alt=alt)
        for x, (text, alt) in zip(lefts, peg_words.ROUTE_HEADS, strict=True)
    ]
    rows = [row_group(heads)]
    for number, row in enumerate(_route_rows(sheet, pegs), start=1):
        rows.append(_route_row(row, lefts, y + number * line, size))
    table = Group("table", "route", Box(box.left, box.top, box.width, (len(rows)) * line), tuple(rows))
    last = y + len(rows) * line
    back = Words(box.left + NUMBER, last, peg_words.turning_back(pegs), Face.SANS, size)
    return [table, words_group("paragraph", _cell(box.left + NUMBER, last, size), back)]


def _route_row(row: tuple[str, str, str], lefts: Sequence[float], y: float, size: float) -> Group:
    number, name, apart = row
    posts = name.split()[0] in (winding_words.HOME, winding_words.FAR)
    words = (
        Words(lefts[0], y, number, Face.SANS, size, SOFT),
        Words(lefts[1], y, name, Face.SANS_SEMIBOLD, size, ACCENT if posts else BLACK),
        Words(lefts[2], y, apart, Face.SANS, size),
    )
    return row_group([words_group("cell", _cell(word.x, y, size), word) for word in words])


def _cell(left: float, baseline: float, size: float) -> Box:
    return Box(left, baseline - cap_height(size), 0.0, leading(size))


ROOM: Final = Panel("room", _parts, lambda sheet: sheet.plan.pegs is not None)
