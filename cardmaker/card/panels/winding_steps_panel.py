"""Winding, step by step: a box to tick for each; and what to look at before lifting off."""

from __future__ import annotations

from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height
from cardmaker.card.sheet import Drawing, Sheet, headed, heading_height, whole_panel
from cardmaker.card.table import in_a_row
from cardmaker.layout.ink import ACCENT, BLACK, OUTLINE, RULE, SOFT, WHITE
from cardmaker.layout.stacking import HeightRange
from cardmaker.layout.type_setting import Span, cap_height, leading, words_group
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Rectangle, Words
from cardmaker.model.plan import Post
from cardmaker.model.record_class import record
from cardmaker.reckoning.winding.walk import walk_of
from cardmaker.wording import phrases, stripe_words, view_words, winding_words

TICK = 2.8
GAP = 3.4
INDENT = 5.0
NOTE_LINE = 0.8  # a note's share of a line
MOST_LINE = 1.25  # of the usual height of a line
ABOVE_RULE, ABOVE_CHECK = 2.2, 1.3


@record
class _Step:
    """One line of the list. Balls in turn start each from where it waits: then ``way`` says from where."""

    ends: int
    yarn: str
    start: Post | None
    stop: Post | None
    total: int
    then: str
    way: str = ""
    note: str = ""  # on a line of its own: the empty walks, and where several balls wait
    alts: tuple[str, str, str] = ("", "", "")  # yarn, way and then as they are said where letters stand for yarns


def winding_steps(sheet: Sheet) -> list[_Step]:
    """The stripes, or the bundles, as they are wound by the recommended method."""
    plan = sheet.plan
    walk = walk_of(plan.runs, plan.winding.method)
    steps = []
    for stretch in walk.stretches:
        name = phrases.listed(stretch.yarns)
        if stretch.in_turn:
            name = stripe_words.in_turn(name)
        if stretch.in_turn and plan.winding.method == "carry":
            balls = winding_words.balls_of(walk, stretch)
            way = winding_words.way_of_balls(walk, stretch)
            letters = stripe_words.in_turn(" ".join(sheet.letters(yarn) for yarn in stretch.yarns))
            alts = name, winding_words.way(plan, walk, stretch), winding_words.balls_waiting(balls)
            note = winding_words.note_of_balls(walk, stretch, sheet.letters)
            steps.append(_Step(stretch.ends, letters, None, None, stretch.last_end, "", way, note, alts))
            continue
        start, stop = walk.strokes[stretch.first_end - 1].start, walk.stop_of(stretch.last_end)
        then = winding_words.step_then(walk, stretch.last_end, plan.winding.method)
        steps.append(_Step(stretch.ends, name, start, stop, walk.totals[stretch.last_end], then))
    return steps


def _lines(steps: list[_Step]) -> float:
    """How many lines the steps take."""
    return sum(1 + (NOTE_LINE if step.note else 0.0) for step in steps)


def _line(sheet: Sheet) -> float:
    return leading(sheet.sizes.body) + 0.9


def _checks(sheet: Sheet) -> list[Paragraph]:
    colours = [(colour.ends, colour.yarn) for colour in sheet.plan.colours if colour.ends]
    return [
        [Span(check)] for check in winding_words.lifting_checks(sheet.plan.ends, colours, sheet.plan.winding.method)
    ]


def _checks_height(sheet: Sheet, width: float) -> float:
    size = sheet.sizes.body
    heights = (paragraph_height(sheet, check, size, width - INDENT) for check in _checks(sheet))
    return 4.1 + cap_height(size) + sum(ABOVE_CHECK + height for height in heights)


def _rule(sheet: Sheet) -> Paragraph:
    return [Span(winding_words.CROSS_SIDES, colour=SOFT)]


def _rule_height(sheet: Sheet, width: float) -> float:
    return ABOVE_RULE + paragraph_height(sheet, _rule(sheet), sheet.sizes.small, width)


def _heights(sheet: Sheet, width: float) -> HeightRange:
    rows = _lines(winding_steps(sheet)) + 1
    fixed = heading_height(sheet) + _rule_height(sheet, width) + _checks_height(sheet, width)
    return HeightRange(fixed + rows * _line(sheet), fixed + rows * _line(sheet) * MOST_LINE)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    """The heading says at which edge the steps begin."""
    marks, body = headed(sheet, box, winding_words.STEPS, view_words.where_end_1_is(sheet.plan.view))
    steps = winding_steps(sheet)
    foot = _rule_height(sheet, box.width) + _checks_height(sheet, box.width)
    line = min((body.height - foot) / (_lines(steps) + 1), _line(sheet) * MOST_LINE)
    rows = _head(sheet, body)
    number = 1.0
    for step in steps:
        rows += _row(sheet, body, body.top + (number + 0.66) * line, step, line)
        number += _lines([step])
    y = body.top + number * line
    marks.append(Group("table", "steps", Box(body.left, body.top, body.width, y - body.top), tuple(rows)))
    marks += paragraph(sheet, _rule(sheet), sheet.sizes.small, Box(body.left, y + ABOVE_RULE, body.width, 0.0))
    return Drawing((*marks, *_lifting(sheet, body, y + _rule_height(sheet, box.width))))


def _columns(sheet: Sheet, body: Box) -> list[float]:
    """Where ends (right), yarn, way, total (right) and then stand."""
    size = sheet.sizes.body
    ends = body.left + TICK + GAP + sheet.wide("000", Face.SANS_BOLD, size)
    longest = max(sheet.wide(step.yarn, Face.SANS, size) for step in winding_steps(sheet))
    way = ends + GAP + longest + GAP
    ways = ("home to home", *(step.way for step in winding_steps(sheet)))
    widest = max(sheet.wide(text, Face.SANS, size) for text in ways)
    total = way + widest + GAP + sheet.wide("000", Face.SANS_BOLD, size)
    return [ends, ends + GAP, way, total, total + GAP]


def _head(sheet: Sheet, body: Box) -> list[Mark]:
    ends, yarn, way, total, then = _columns(sheet, body)
    size = sheet.sizes.small
    y = body.top + cap_height(size)
    cells = [
        words_group("header cell", body, Words(x, y, text, Face.SANS, size, SOFT, "right" if right else "left"))
        for x, text, right in zip(
            (ends, yarn, way, total, then), winding_words.STEP_HEADS, (1, 0, 0, 1, 0), strict=True
        )
    ]
    rule = body.top + cap_height(size) + 1.4
    return [in_a_row(cells), Line(body.left, rule, body.right, rule, RULE)]


def _row(sheet: Sheet, body: Box, y: float, step: _Step, line: float) -> list[Mark]:
    """A box to tick, and the cells: a stripe's balls that wait at different posts stand on a line of their own."""
    ends, yarn, _, total, then = _columns(sheet, body)
    size = sheet.sizes.body
    room = Box(body.left, y - cap_height(size), body.width, _lines([step]) * line)
    named, _, waits = step.alts
    last = [Words(then, y, step.then, Face.SANS, size)]
    if step.note:
        last += [Words(yarn, y + line * NOTE_LINE, step.note, Face.SANS, sheet.sizes.small, SOFT)]
    cells = [
        words_group("cell", room, Words(ends, y, str(step.ends), Face.SANS_BOLD, size, align="right")),
        words_group("cell", room, Words(yarn, y, step.yarn, Face.SANS, size), alt=named),
        _way(sheet, body, room, y, step),
        words_group("cell", room, Words(total, y, str(step.total), Face.SANS_BOLD, size, align="right")),
        words_group("cell", room, *last, alt=waits),
    ]
    return [_box_to_tick(body.left, y - cap_height(size) / 2), in_a_row(cells)]


def _way(sheet: Sheet, body: Box, room: Box, y: float, step: _Step) -> Group:
    """From which post to which; the far one in the accent."""
    way, size = _columns(sheet, body)[2], sheet.sizes.body
    if step.start is None or step.stop is None:
        return words_group("cell", room, Words(way, y, step.way, Face.SANS, size), alt=step.alts[1])
    far = step.stop is Post.FAR
    start = f"{step.start} to"
    stop_at = way + sheet.wide(f"{start} ", Face.SANS, size)
    stop = Words(stop_at, y, step.stop, Face.SANS_SEMIBOLD if far else Face.SANS, size, ACCENT if far else BLACK)
    return words_group("cell", room, Words(way, y, start, Face.SANS, size), stop)


def _lifting(sheet: Sheet, body: Box, top: float) -> list[Mark]:
    size = sheet.sizes.body
    y = top + 3.2 + cap_height(size)
    name = Words(body.left, y, winding_words.BEFORE_LIFTING, Face.SANS_SEMIBOLD, size)
    marks: list[Mark] = [words_group("paragraph", body, name)]
    top = y + 0.9
    for check in _checks(sheet):
        first = top + ABOVE_CHECK + cap_height(size)
        marks.append(_box_to_tick(body.left, first - cap_height(size) / 2))
        place = Box(body.left + INDENT, top + ABOVE_CHECK, body.width - INDENT, 0.0)
        marks += paragraph(sheet, check, size, place)
        top += ABOVE_CHECK + paragraph_height(sheet, check, size, place.width)
    return marks


def _box_to_tick(left: float, middle: float) -> Rectangle:
    return Rectangle(Box(left, middle - TICK / 2, TICK, TICK), WHITE, BLACK, OUTLINE, 0.4)


STEPS = whole_panel("steps", _heights, _draw)
