"""Winding, step by step: a box to tick for each; and what to look at before lifting off."""

from __future__ import annotations

from cardmaker.card.paragraphs import paragraph
from cardmaker.card.sheet import Drawing, HeightRange, Panel, Sheet, headed, heading_height
from cardmaker.card.table import in_a_row
from cardmaker.layout.ink import ACCENT, BLACK, OUTLINE, RULE, SOFT, WHITE
from cardmaker.layout.lines_of_type import Span, cap_height, leading, text_height
from cardmaker.layout.roles import words_group
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Rectangle, Words
from cardmaker.model.plan import Post
from cardmaker.model.records import record
from cardmaker.reckoning.winding.walk import walk_of
from cardmaker.wording import phrases, stripe_words, winding_words

TICK = 2.8
GAP = 3.4
INDENT = 5.0
NOTE_LINE = 0.8  # a note's share of a line


@record
class _Step:
    """One line of the list. Balls in turn go to and fro, each at its own post: then there is no one way."""

    ends: int
    yarn: str
    start: Post | None
    stop: Post | None
    total: int
    then: str
    note: str = ""  # on a line of its own: where several balls wait
    told: tuple[str, str, str] = ("", "", "")  # yarn, way and then as they are said where letters stand for yarns


def winding_steps(sheet: Sheet) -> list[_Step]:
    """The stripes, or the bundles, as they are wound by the recommended method."""
    plan = sheet.plan
    found = walk_of(plan.runs, plan.winding.method)
    listed = []
    for stretch in found.stretches:
        last = stretch.last_end == plan.ends
        name = phrases.listed(stretch.yarns)
        if stretch.in_turn and plan.winding.method == "carry":
            balls = winding_words.balls_of(found, stretch)
            letters = stripe_words.in_turn(" ".join(sheet.letters(yarn) for yarn in stretch.yarns))
            told = (
                stripe_words.in_turn(name),
                winding_words.way(plan, found, stretch),
                winding_words.balls_waiting(balls),
            )
            note = winding_words.balls_waiting([(sheet.letters(yarn), post) for yarn, post in balls], brief=True)
            listed.append(_Step(stretch.ends, letters, None, None, stretch.last_end, "", note, told))
            continue
        if stretch.in_turn:
            name = stripe_words.in_turn(name)
        start, stop = found.strokes[stretch.first_end - 1].start, found.stop_of(stretch.last_end)
        then = winding_words.step_then(last, plan.winding.method)
        listed.append(_Step(stretch.ends, name, start, stop, found.totals[stretch.last_end], then))
    return listed


def _lines(found: list[_Step]) -> float:
    """How many lines the steps take."""
    return sum(1 + (NOTE_LINE if step.note else 0.0) for step in found)


def _line(sheet: Sheet) -> float:
    return leading(sheet.sizes.body) + 0.9


def _checks(sheet: Sheet) -> list[str]:
    colours = [(colour.ends, colour.yarn) for colour in sheet.plan.colours if colour.ends]
    return winding_words.lifting_checks(sheet.plan.ends, colours)


def _checks_height(sheet: Sheet, width: float) -> float:
    size = sheet.sizes.body
    lines = [len(sheet.lines([Span(check)], size, width - INDENT)) for check in _checks(sheet)]
    return 4.1 + cap_height(sheet.sizes.body) + sum(1.3 + text_height(count, size) for count in lines)


def _rule_height(sheet: Sheet, width: float) -> float:
    return 2.2 + text_height(
        len(sheet.lines([Span(winding_words.CROSS_SIDES)], sheet.sizes.small, width)), sheet.sizes.small
    )


def _room(sheet: Sheet, width: float) -> HeightRange:
    rows = _lines(winding_steps(sheet)) + 1
    fixed = heading_height(sheet) + _rule_height(sheet, width) + _checks_height(sheet, width)
    return HeightRange(fixed + rows * _line(sheet), fixed + rows * _line(sheet) * 1.25)


def _aside(sheet: Sheet) -> str:
    """On a card that begins at the other edge the list says so."""
    return winding_words.FROM_OTHER_EDGE if sheet.turned else ""


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks, body = headed(sheet, box, winding_words.STEPS, _aside(sheet))
    found = winding_steps(sheet)
    foot = _rule_height(sheet, box.width) + _checks_height(sheet, box.width)
    line = min((body.height - foot) / (_lines(found) + 1), _line(sheet) * 1.25)
    rows = _head(sheet, body, line)
    number = 1.0
    for step in found:
        rows += _row(sheet, body, body.top + (number + 0.66) * line, step, line)
        number += _lines([step])
    y, size = body.top + number * line, sheet.sizes.small
    marks.append(Group("table", "steps", Box(body.left, body.top, body.width, y - body.top), tuple(rows)))
    rule = sheet.lines([Span(winding_words.CROSS_SIDES, colour=SOFT)], size, body.width)
    marks += paragraph(sheet, rule, body.left, y + 2.2 + cap_height(size), size, body.width)
    marks += _lifting(sheet, body, y + _rule_height(sheet, box.width))
    return Drawing(tuple(marks))


def _columns(sheet: Sheet, body: Box) -> list[float]:
    """Where ends (right), yarn, way, total (right) and then stand."""
    size = sheet.sizes.body
    ends = body.left + TICK + GAP + sheet.wide("000", Face.SANS_BOLD, size)
    longest = max(sheet.wide(step.yarn, Face.SANS, size) for step in winding_steps(sheet))
    way = ends + GAP + longest + GAP
    total = way + sheet.wide("home to home", Face.SANS, size) + GAP + sheet.wide("000", Face.SANS_BOLD, size)
    return [ends, ends + GAP, way, total, total + GAP]


def _head(sheet: Sheet, body: Box, line: float) -> list[Mark]:
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
    middle = y - cap_height(size) / 2
    room = Box(body.left, y - cap_height(size), body.width, _lines([step]) * line)
    named, _, waits = step.told
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
    return [Rectangle(Box(body.left, middle - TICK / 2, TICK, TICK), WHITE, BLACK, OUTLINE, 0.4), in_a_row(cells)]


def _way(sheet: Sheet, body: Box, room: Box, y: float, step: _Step) -> Group:
    """From which post to which; the far one in the accent."""
    way, size = _columns(sheet, body)[2], sheet.sizes.body
    if step.start is None or step.stop is None:
        return words_group("cell", room, Words(way, y, winding_words.TO_AND_FRO, Face.SANS, size), alt=step.told[1])
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
        lines = sheet.lines([Span(check)], size, body.width - INDENT)
        first = top + 1.3 + cap_height(size)
        box = Box(body.left, first - cap_height(size) / 2 - TICK / 2, TICK, TICK)
        marks.append(Rectangle(box, WHITE, BLACK, OUTLINE, 0.4))
        marks += paragraph(sheet, lines, body.left + INDENT, first, size, body.width - INDENT)
        top += 1.3 + text_height(len(lines), size)
    return marks


STEPS = Panel("steps", _room, _draw)
