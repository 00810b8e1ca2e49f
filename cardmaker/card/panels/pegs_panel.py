"""Where to wind: the pegs from above with one thread through them, the route as a list, and the cross."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.bench_columns import BETWEEN_COLUMNS, RIGHT, right_edge
from cardmaker.card.panels.cross_drawing import cross_figure, draw_span, own_cross_height, passes_above, span_height
from cardmaker.card.panels.peg_ground import apart_height, pegs_height
from cardmaker.card.panels.pegs_drawing import draw_pegs
from cardmaker.card.paragraphs import Paragraph, paragraph_height
from cardmaker.card.parts import OVER_PICTURE, close_heading, columns_part, stack_part, wind_heading, words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.layout.ink import ACCENT, BLACK, SOFT
from cardmaker.layout.stacking import HeightRange, Part, exactly, stack_heights
from cardmaker.layout.table_setting import row_group
from cardmaker.layout.type_setting import Span, cap_height, figure, leading, words_group
from cardmaker.model.marks import Box, Face, Group, Mark, Words
from cardmaker.model.peg_plan import PegPlan
from cardmaker.wording import peg_words, winding_words, yarn_words

_Stop = tuple[str, str, str]  # its number, its name, how far it is from the one before
LEAST_VIEW, MOST_VIEW = 28.0, 38.0
SMALLEST_VIEW: Final = 16.0  # on the most crowded card
NARROW: Final = 120.0  # panels narrower than this stand their parts below each other
AFTER_NUMBER: Final = 1.0  # from the number of a stop to its name
LEAST_BETWEEN, MOST_BETWEEN = 2.0, 5.0  # mm between two stops
AFTER_HEADS: Final = 3.0
BETWEEN_STRIPS: Final = 1.2


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """In a wide panel the cross and its words stand beside the view, in a narrow one below it; then the route, and how
    long one end is. The view of a span has the cross in it."""
    pegs = planned(sheet.plan.pegs)
    heap = words_part(
        sheet, width, [_more_words(sheet)], sheet.sizes.small, above=1.2, facts=("stack",),
        priority=0 if pegs.stack_is_too_high else 3,
    )  # fmt: skip
    below = (_route(sheet, pegs, width), _length(sheet, width), heap)
    if width < NARROW:
        return (_heading(sheet, width), _view(sheet, pegs, width), *_at_cross(sheet, pegs, width, width), *below)
    left = right_edge(width) - BETWEEN_COLUMNS
    view = stack_part([_heading(sheet, left), _view(sheet, pegs, left)])
    beside = stack_part(_at_cross(sheet, pegs, RIGHT, width))
    return (columns_part([(0.0, left, view), (right_edge(width), RIGHT, beside)]), *below)


def _heading(sheet: Sheet, width: float) -> Part:
    heading = wind_heading(sheet, width, peg_words.drawn_from(planned(sheet.plan.pegs)))
    return close_heading(sheet, heading, OVER_PICTURE)


def _more_words(sheet: Sheet) -> Paragraph:
    pegs = planned(sheet.plan.pegs)
    walking = peg_words.walking_length(pegs, sheet.plan.ends, sheet.units)
    return [Span(walking), Span(peg_words.stack(pegs, sheet.units))]


def _length(sheet: Sheet, width: float) -> Part:
    """How long one end is; and that its number decides on which side it passes the cross, where that is mistaken."""
    decides = winding_words.number_decides(sheet.plan, planned(sheet.plan.pegs).cross)
    more_yarn = yarn_words.more_on_pegs(sheet.plan, sheet.units)
    facts = (
        *(["guide string"] if _guide_is_below(sheet, planned(sheet.plan.pegs), width) else ()),
        *(["cross rule"] if decides else ()),
        *(["yarn on pegs"] if more_yarn else ()),
    )
    above = 0.8 if sheet.is_crowded else 1.6
    return words_part(sheet, width, [_told_below(sheet, width)], sheet.sizes.small, above=above, facts=facts)


def _told_below(sheet: Sheet, width: float) -> Paragraph:
    pegs = planned(sheet.plan.pegs)
    number = winding_words.number_decides(sheet.plan, pegs.cross)
    length, yarn = (
        peg_words.thread_length(pegs, sheet.units, brief=True),
        yarn_words.more_on_pegs(sheet.plan, sheet.units, brief=sheet.is_crowded),
    )
    words: Paragraph = [Span(sentence, Face.SANS_SEMIBOLD) for sentence in (length, yarn, number) if sentence]
    if _guide_is_below(sheet, pegs, width):
        words.append(Span(peg_words.guide(pegs, sheet.units, brief=True)))
    return [*words, Span(peg_words.keeper_sticks(pegs))] if _sticks_are_below(sheet, words, width) else words


def _sticks_are_below(sheet: Sheet, words: Paragraph, width: float) -> bool:
    """Whether on a crowded card the sticks find room in the last line of the words below, and not beside the view."""
    more = [*words, Span(peg_words.keeper_sticks(planned(sheet.plan.pegs)))]
    high = [paragraph_height(sheet, each, sheet.sizes.small, width) for each in (words, more)]
    return sheet.is_crowded and high[0] == high[1]


def _guide_is_below(sheet: Sheet, pegs: PegPlan, width: float) -> bool:
    """Whether on a crowded card the guide string is told below: where beside the view the words of the cross have all
    the room that there is at the view's least height."""
    if not sheet.is_crowded or pegs.kind == "span":
        return False
    if width < NARROW:
        return True
    left = right_edge(width) - BETWEEN_COLUMNS
    free = stack_heights([_heading(sheet, left), _view(sheet, pegs, left)]).least
    told = _paragraphs_at_cross(sheet, pegs, with_sticks=True, with_guide=True)
    words = words_part(sheet, RIGHT, told, sheet.sizes.small, above=0.6)
    return stack_heights([_cross(sheet, pegs, RIGHT), words]).least > free


def _at_cross(sheet: Sheet, pegs: PegPlan, width: float, whole: float) -> Sequence[Part]:
    """The cross by itself, where the sticks go if that is not told below, and the string that shows the way."""
    sticks = peg_words.keeper_sticks(pegs)
    with_sticks = all(span.text != sticks for span in _told_below(sheet, whole))
    with_guide = not _guide_is_below(sheet, pegs, whole)
    told = _paragraphs_at_cross(sheet, pegs, with_sticks=with_sticks, with_guide=with_guide)
    cross = () if pegs.kind == "span" else (_cross(sheet, pegs, width),)
    facts = ("guide string",) if with_guide else ()
    return (*cross, words_part(sheet, width, told, sheet.sizes.small, above=0.6, facts=facts))


def _is_told_below(sheet: Sheet, pegs: PegPlan) -> bool:
    """Whether on a crowded card it is told below alone that it is not the way that decides."""
    return sheet.is_crowded and bool(winding_words.number_decides(sheet.plan, pegs.cross))


def _paragraphs_at_cross(sheet: Sheet, pegs: PegPlan, *, with_sticks: bool, with_guide: bool) -> list[Paragraph]:
    rule = peg_words.sides_at_cross(
        pegs,
        passes_above(pegs),
        any_way=sheet.plan.winding.method == "carry" and not _is_told_below(sheet, pegs),
    )
    at_pegs: Paragraph = [Span(text) for text in (rule, peg_words.keeper_sticks(pegs) if with_sticks else "") if text]
    guide: Paragraph = [Span(peg_words.guide(pegs, sheet.units))] if with_guide else []
    return [paragraph for paragraph in (at_pegs, guide) if paragraph]


def _view(sheet: Sheet, pegs: PegPlan, width: float) -> Part:
    if pegs.kind == "span":
        heights, draw = exactly(span_height(sheet, pegs)), draw_span
        cross = peg_words.cross_alt_text(pegs, passes_above(pegs))
        alt = f"{peg_words.pegs_alt_text(pegs, sheet.units)} {cross}"
    else:
        fills = pegs_height(sheet, pegs, width)
        least = min(fills, max(SMALLEST_VIEW, LEAST_VIEW * sheet.picture_share, apart_height(sheet, pegs)))
        heights, draw = HeightRange(least, max(least, min(fills, MOST_VIEW))), draw_pegs
        alt = peg_words.pegs_alt_text(pegs, sheet.units)
    return Part(heights, lambda box: [figure("pegs", box, draw(sheet, pegs, box), alt)], facts=("room",))


def _cross(sheet: Sheet, pegs: PegPlan, width: float) -> Part:
    """The cross by itself."""
    return Part(exactly(own_cross_height(sheet)), lambda box: [cross_figure(sheet, pegs, box)], above=2.0)


def _stops(sheet: Sheet, pegs: PegPlan, *, alone: bool) -> list[_Stop]:
    """Number, name and how far from the one before; then what the way round the pegs adds where these add up."""
    stops = peg_words.route_stops(pegs, sheet.units, alone=alone)
    numbered = [(str(number), name, apart) for number, (name, apart) in enumerate(stops, start=1)]
    if pegs.kind == "span":
        return numbered
    return [*numbered, ("", peg_words.ROUND, peg_words.round_the_pegs(pegs, sheet.units))]


def _route(sheet: Sheet, pegs: PegPlan, width: float) -> Part:
    """The pegs in the order of the thread, numbered, each with how far it stands from the one before below it."""
    strips = _strips(sheet, pegs, width)
    height = len(strips) * (2 * _route_line(sheet) + BETWEEN_STRIPS) - BETWEEN_STRIPS
    above = 1.0 if sheet.is_crowded else 1.8
    return Part(exactly(height), lambda box: _draw_route(sheet, strips, box), above, ("route",))


def _route_line(sheet: Sheet) -> float:
    return leading(sheet.sizes.small)


def _strips(sheet: Sheet, pegs: PegPlan, width: float) -> list[list[tuple[float, _Stop]]]:
    """The stops in as few lines as the width holds, in one unit where two would take more of them, each with how far
    from the left edge it stands."""
    first = max(sheet.wide(head, Face.SANS, sheet.sizes.small) for head, _ in peg_words.ROUTE_HEADS) + AFTER_HEADS
    tries = [_in_rows(sheet, _stops(sheet, pegs, alone=alone), width - first) for alone in (False, True)]
    rows = min(tries, key=len)
    if sheet.is_crowded and len(rows) > 1 and len(rows[-1]) == 1:  # what the pegs add, alone on a line
        rows = rows[:-1]
    widest = max(sum(_stop_width(sheet, stop) for stop in row) + LEAST_BETWEEN * (len(row) - 1) for row in rows)
    most = max(len(row) for row in rows)
    between = min(MOST_BETWEEN, LEAST_BETWEEN + max(0.0, width - first - widest) / max(1, most - 1))
    return [_placed(sheet, row, first, between) for row in rows]


def _in_rows(sheet: Sheet, stops: Sequence[_Stop], width: float) -> list[list[_Stop]]:
    rows: list[list[_Stop]] = [[]]
    right = 0.0
    for stop in stops:
        wide = _stop_width(sheet, stop)
        if rows[-1] and right + wide > width:
            rows.append([])
            right = 0.0
        rows[-1].append(stop)
        right += wide + LEAST_BETWEEN
    return rows


def _placed(sheet: Sheet, row: Sequence[_Stop], left: float, between: float) -> list[tuple[float, _Stop]]:
    placed = []
    for stop in row:
        placed.append((left, stop))
        left += _stop_width(sheet, stop) + between
    return placed


def _stop_width(sheet: Sheet, stop: _Stop) -> float:
    number, name, apart = stop
    size, before = sheet.sizes.small, _before_name(sheet, number)
    return max(before + sheet.wide(name, Face.SANS_SEMIBOLD, size), sheet.wide(apart, Face.SANS, size))


def _before_name(sheet: Sheet, number: str) -> float:
    """What a number of one figure or two takes before the name of its peg."""
    return sheet.wide(number, Face.SANS, sheet.sizes.small) + AFTER_NUMBER if number else 0.0


def _draw_route(
    sheet: Sheet, strips: Sequence[Sequence[tuple[float, _Stop]]], box: Box
) -> list[Mark]:  # fmt: skip
    size, line = sheet.sizes.small, _route_line(sheet)
    rows: list[Mark] = [_route_heads(box, box.top + cap_height(size), line, size)]
    for at, strip in enumerate(strips):
        y = box.top + cap_height(size) + at * (2 * line + BETWEEN_STRIPS)
        rows += [_route_row(sheet, stop, box.left + left, y) for left, stop in strip]
    return [Group("table", "route", box, tuple(rows))]


def _route_heads(box: Box, y: float, line: float, size: float) -> Group:
    heads = [
        words_group("header cell", _cell(box.left, at, size), Words(box.left, at, text, Face.SANS, size, SOFT), alt=alt)
        for at, (text, alt) in zip((y, y, y + line), peg_words.ROUTE_HEADS, strict=True)
    ]
    return row_group(heads)


def _route_row(sheet: Sheet, stop: _Stop, left: float, y: float) -> Group:
    number, name, apart = stop
    size, posts = sheet.sizes.small, name.split()[0] in (winding_words.HOME, winding_words.FAR)
    face = Face.SANS_SEMIBOLD if number else Face.SANS
    words = (
        Words(left, y, number, Face.SANS, size),
        Words(left + _before_name(sheet, number), y, name, face, size, ACCENT if posts else BLACK),
        Words(left, y + _route_line(sheet), apart, Face.SANS, size),
    )
    return row_group([words_group("cell", _cell(word.x, word.y, size), word) for word in words])


def _cell(left: float, baseline: float, size: float) -> Box:
    return Box(left, baseline - cap_height(size), 0.0, leading(size))


ROOM: Final = Panel("room", _parts, lambda sheet: sheet.plan.pegs is not None)
