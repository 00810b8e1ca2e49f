"""Panels for small cards and hard light: counts very large, the first space, ticks, the six numbers."""

from __future__ import annotations

from collections.abc import Callable

from cardmaker.card.paragraphs import Paragraph, body, paragraph, paragraphs_height, set_paragraphs
from cardmaker.card.sheet import Drawing, HeightRange, Panel, Sheet
from cardmaker.layout.ink import ACCENT, BLACK, OUTLINE, SOFT, WHITE
from cardmaker.layout.lines_of_type import Line, Span, cap_height, leading, text_height
from cardmaker.layout.roles import figure
from cardmaker.model.marks import Box, Face, Group, Mark, Rectangle, Words
from cardmaker.model.plan import Post
from cardmaker.reckoning.winding.walk import Walk, walk_of
from cardmaker.wording import heddle_words, length_words, shed_words, stripe_words, student_words, winding_words
from cardmaker.wording.units_in_words import with_units_in_words

GAP = 3.0
FAR_BAR = 0.9  # the foot of a box that is ticked at the far post
LEAST_BLOCK_GAP, MOST_BLOCK_GAP = 0.6, 5.0


def _stripe_words(sheet: Sheet) -> list[tuple[str, str]]:
    """(Count, letters) of every stripe; what is counted in turn stays one."""
    found = []
    for segment in sheet.segments:
        letters = " ".join(sheet.letters(yarn) for yarn in segment.yarns)
        found.append((str(segment.ends), stripe_words.in_turn(letters) if segment.in_turn else letters))
    return found


def _stripe_lines(sheet: Sheet, width: float) -> list[list[tuple[str, str, float]]]:
    """The stripes in lines: each with the width it takes."""
    lines: list[list[tuple[str, str, float]]] = [[]]
    used = 0.0
    for count, letters in _stripe_words(sheet):
        wide = max(
            sheet.wide(count, Face.SANS_BOLD, sheet.sizes.count),
            sheet.wide(letters, Face.SANS_SEMIBOLD, sheet.sizes.body),
        )
        if lines[-1] and used + GAP + wide > width:
            lines.append([])
            used = 0.0
        used += wide + (GAP if lines[-1] else 0.0)
        lines[-1].append((count, letters, wide))
    return lines


def _line_height(sheet: Sheet) -> float:
    return cap_height(sheet.sizes.count) + 1.2 + cap_height(sheet.sizes.body) + 3.0


def _legend(sheet: Sheet, width: float) -> list[Line]:
    """What the letters stand for, and on which side the counting begins."""
    spans = [Span(stripe_words.FROM_RIGHT_SHORT, Face.SANS_SEMIBOLD)] if sheet.plan.loom.sides_swapped else []
    return sheet.lines([*spans, Span(stripe_words.legend(sheet.plan))], sheet.sizes.small, width)


def _counts_room(sheet: Sheet, width: float) -> HeightRange:
    height = len(_stripe_lines(sheet, width)) * _line_height(sheet) - 0.6
    height += text_height(len(_legend(sheet, width)), sheet.sizes.small)
    return HeightRange(height, height)


def _counts(sheet: Sheet, box: Box) -> Drawing:
    marks: list[Mark] = []
    for number, line in enumerate(_stripe_lines(sheet, box.width)):
        y = box.top + number * _line_height(sheet) + cap_height(sheet.sizes.count)
        x = box.left
        for count, letters, wide in line:
            below = y + 1.2 + cap_height(sheet.sizes.body)
            marks.append(Words(x + wide / 2, y, count, Face.SANS_BOLD, sheet.sizes.count, align="middle"))
            marks.append(Words(x + wide / 2, below, letters, Face.SANS_SEMIBOLD, sheet.sizes.body, align="middle"))
            x += wide + GAP
    y = box.top + len(_stripe_lines(sheet, box.width)) * _line_height(sheet) - 0.6
    legend = _legend(sheet, box.width)
    marks += sheet.set(legend, box.left, y + cap_height(sheet.sizes.small), sheet.sizes.small)
    return Drawing((figure("stripes", box, marks, _order_told(sheet)),))


def _order_told(sheet: Sheet) -> str:
    return stripe_words.order_alt_text(sheet.plan, sheet.segments)


def _heddle_told(sheet: Sheet) -> str:
    return heddle_words.heddle_alt_text(sheet.plan, behind=sheet.behind)


def _next_told(sheet: Sheet) -> str:
    return shed_words.next_shed_alt_text(sheet.plan)


def _first_rows(sheet: Sheet) -> list[list[Span]]:
    plan = sheet.plan
    return [
        [Span(heddle_words.first_flag(plan), Face.SANS_BOLD, ACCENT)],
        [Span(heddle_words.WHEN_DONE, Face.SANS_BOLD), Span(f"{heddle_words.closing_count(plan)}.")],
    ]


def _next_rows(sheet: Sheet) -> list[list[Span]]:
    loom = sheet.plan.loom
    return [
        [Span(f"{shed_words.hanging(side, loom)},"), Span(shed_words.next_shed(loom, down), Face.SANS_BOLD)]
        for side, down in shed_words.hangs_and_next(loom)
    ]


def _tick(sheet: Sheet) -> float:
    return cap_height(sheet.sizes.body) + 0.6


def _tick_label(sheet: Sheet, found: Walk, at: int) -> str:
    """The running total; of a bundle its own count, with its letters."""
    total = str(found.totals[at])
    bundled = sheet.plan.winding.method == "bundle"
    return f"{total} {sheet.letters(found.strokes[at - 1].yarn)}" if bundled else total


def _ticks(sheet: Sheet, width: float) -> list[list[tuple[str, Post, float]]]:
    """The checkpoints in lines, each with its post and the width it takes."""
    found = walk_of(sheet.plan.runs, sheet.plan.winding.method)
    lines: list[list[tuple[str, Post, float]]] = [[]]
    used = 0.0
    for at in found.totals:
        label = _tick_label(sheet, found, at)
        wide = _tick(sheet) + 1.2 + sheet.wide(label, Face.SANS_BOLD, sheet.sizes.body) + GAP
        if lines[-1] and used + wide > width + GAP:
            lines.append([])
            used = 0.0
        used += wide
        lines[-1].append((label, found.stop_of(at), wide))
    return lines


def _ticks_told(sheet: Sheet) -> str:
    found = walk_of(sheet.plan.runs, sheet.plan.winding.method)
    return winding_words.tick_boxes(any(found.stop_of(at) is Post.FAR for at in found.totals))


def _ticks_room(sheet: Sheet, width: float) -> HeightRange:
    lines = len(_ticks(sheet, width))
    step = leading(sheet.sizes.body) + 1.2
    note = len(sheet.lines([Span(_ticks_told(sheet))], sheet.sizes.small, width))
    height = (lines - 1) * step + _tick(sheet) + 1.6 + text_height(note, sheet.sizes.small)
    return HeightRange(height, height)


def _draw_ticks(sheet: Sheet, box: Box) -> Drawing:
    marks: list[Mark] = []
    step, tick, size = leading(sheet.sizes.body) + 1.2, _tick(sheet), sheet.sizes.body
    lines = _ticks(sheet, box.width)
    for number, line in enumerate(lines):
        x, y = box.left, box.top + number * step
        for label, post, wide in line:
            colour = ACCENT if post is Post.FAR else BLACK
            marks.append(Rectangle(Box(x, y, tick, tick), WHITE, colour, OUTLINE * 1.3, 0.4))
            if post is Post.FAR:
                marks.append(Rectangle(Box(x, y + tick - FAR_BAR, tick, FAR_BAR), colour))
            baseline = y + tick / 2 + cap_height(size) / 2
            marks.append(Words(x + tick + 1.2, baseline, label, Face.SANS_BOLD, size, colour))
            x += wide
    first = box.top + (len(lines) - 1) * step + tick + 1.6 + cap_height(sheet.sizes.small)
    note = sheet.lines([Span(_ticks_told(sheet), colour=SOFT)], sheet.sizes.small, box.width)
    drawn = figure("ticks", box, marks, winding_words.winding_alt_text(sheet.plan))
    return Drawing((drawn, *paragraph(sheet, note, box.left, first, sheet.sizes.small, box.width)))


Block = tuple[list[Line], list[Line]]  # a label and its value, each in lines


def _six_blocks(sheet: Sheet, size: float, width: float) -> list[Block]:
    """Each label, small, with its value set at ``size``."""
    blocks = []
    for label, values in student_words.six_numbers(sheet.plan, sheet.segments, sheet.units):
        lines = [line for value in values for line in sheet.lines([Span(value, Face.SANS_BOLD)], size, width)]
        blocks.append((sheet.lines([Span(label, colour=SOFT)], sheet.sizes.small, width), lines))
    return blocks


def _block_height(sheet: Sheet, block: Block, size: float) -> float:
    label, lines = block
    value = 0.9 + text_height(len(lines), size) if lines else 0.0
    return text_height(len(label), sheet.sizes.small) + value


def _six_height(sheet: Sheet, size: float, width: float) -> float:
    blocks = _six_blocks(sheet, size, width)
    return sum(_block_height(sheet, block, size) for block in blocks) + LEAST_BLOCK_GAP * (len(blocks) - 1)


def _six_room(sheet: Sheet, width: float) -> HeightRange:
    return HeightRange(_six_height(sheet, sheet.sizes.body, width), _six_height(sheet, sheet.sizes.count, width) * 1.5)


def _draw_six(sheet: Sheet, box: Box) -> Drawing:
    """Label above value, the values as large as the card allows; told as the large cards tell it, in their order."""
    size = sheet.sizes.count
    while size > sheet.sizes.body and _six_height(sheet, size, box.width) > box.height:
        size -= 0.5
    blocks = _six_blocks(sheet, size, box.width)
    spare = box.height - _six_height(sheet, size, box.width)
    gap = LEAST_BLOCK_GAP + min(MOST_BLOCK_GAP, spare / max(1, len(blocks) - 1))
    set_blocks = []
    top = box.top
    for block in blocks:
        set_blocks.append(_set_block(sheet, block, size, Box(box.left, top, box.width, 0.0)))
        top += _block_height(sheet, block, size) + gap
    return Drawing(_six_told(sheet, box, set_blocks))


def _set_block(sheet: Sheet, block: Block, size: float, box: Box) -> list[Words]:
    label, lines = block
    small = sheet.sizes.small
    below = box.top + text_height(len(label), small) + 0.9
    return [
        *sheet.set(label, box.left, box.top + cap_height(small), small),
        *sheet.set(lines, box.left, below + cap_height(size), size),
    ]


def _six_told(sheet: Sheet, box: Box, blocks: list[list[Words]]) -> tuple[Group, ...]:
    """The blocks as four pictures of words: the stripes, the winding, the heddle, the shuttle."""
    ends, stripes, letters, first, empty, sheds, warp = blocks
    wind = with_units_in_words(f"{length_words.wind(sheet.plan.lengths, sheet.units)}.")
    return (
        figure("stripes", box, (*ends, *stripes, *letters), _order_told(sheet)),
        figure("warp", box, warp, f"{wind} {winding_words.winding_alt_text(sheet.plan)}"),
        figure("heddle", box, (*first, *empty), _heddle_told(sheet)),
        figure("shuttle", box, sheds, _next_told(sheet)),
    )


def _stripes_rows(sheet: Sheet) -> list[list[Span]]:
    """The stripes in a line of type, for a card that has no room for large counts."""
    stripes = ", ".join(f"{count} {letters}" for count, letters in _stripe_words(sheet))
    start = [Span(stripe_words.FROM_RIGHT_SHORT, Face.SANS_SEMIBOLD)] if sheet.plan.loom.sides_swapped else []
    return [[*start, Span(stripes, Face.SANS_BOLD)], [Span(stripe_words.legend(sheet.plan))]]


def _told_panel(name: str, rows: Callable[[Sheet], list[Paragraph]], told: Callable[[Sheet], str]) -> Panel:
    """A panel of few words in letters and signs, which are told in full: for whom they are read aloud, a picture."""

    def room(sheet: Sheet, width: float) -> HeightRange:
        height = paragraphs_height(sheet, rows(sheet), body(sheet), width)
        return HeightRange(height, height)

    def draw(sheet: Sheet, box: Box) -> Drawing:
        marks = [
            words
            for each in set_paragraphs(sheet, rows(sheet), body(sheet), box)
            if isinstance(each, Group)
            for words in each.marks
        ]
        return Drawing((figure(name, box, marks, told(sheet)),))

    return Panel(name, room, draw)


COUNTS = Panel("counts", _counts_room, _counts)
STRIPES = _told_panel("stripes", _stripes_rows, _order_told)
FIRST = _told_panel("first", _first_rows, _heddle_told)
NEXT = _told_panel("next", _next_rows, _next_told)
TICKS = Panel("ticks", _ticks_room, _draw_ticks)
SIX = Panel("six", _six_room, _draw_six)
