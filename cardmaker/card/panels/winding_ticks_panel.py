"""Running totals with boxes to tick while winding, marked where they fall at the far post."""

from __future__ import annotations

from cardmaker.card.paragraphs import paragraph, paragraph_height
from cardmaker.card.sheet import Drawing, Sheet, whole_panel
from cardmaker.layout.ink import ACCENT, BLACK, OUTLINE, SOFT, WHITE
from cardmaker.layout.stacking import HeightRange, exactly
from cardmaker.layout.type_setting import Span, cap_height, figure, leading, side_by_side
from cardmaker.model.marks import Box, Face, Mark, Rectangle, Words
from cardmaker.model.plan import Post
from cardmaker.reckoning.winding.walk import Walk, walk_of
from cardmaker.wording import winding_words

GAP = 3.0
FAR_BAR = 0.9  # the foot of a box that is ticked at the far post
AFTER_BOX = 1.2  # from a box to its total
ABOVE_NOTE = 1.6


def _tick(sheet: Sheet) -> float:
    return cap_height(sheet.sizes.body) + 0.6


def _step(sheet: Sheet) -> float:
    return leading(sheet.sizes.body) + 1.2


def _label(sheet: Sheet, walk: Walk, at: int) -> str:
    """The running total; of a bundle its own count, with its letters."""
    total = str(walk.totals[at])
    bundled = sheet.plan.winding.method == "bundle"
    return f"{total} {sheet.letters(walk.strokes[at - 1].yarn)}" if bundled else total


def _walk(sheet: Sheet) -> Walk:
    return walk_of(sheet.plan.runs, sheet.plan.winding.method)


def _lines(sheet: Sheet, width: float) -> list[list[tuple[str, Post, float]]]:
    """The checkpoints in lines, each with its post and the width it takes."""
    walk, size = _walk(sheet), sheet.sizes.body
    labels = [(_label(sheet, walk, at), walk.stop_of(at)) for at in walk.totals]
    box = _tick(sheet) + AFTER_BOX
    ticks = [(label, post, box + sheet.wide(label, Face.SANS_BOLD, size)) for label, post in labels]
    return side_by_side(ticks, lambda tick: tick[-1], GAP, width)


def _note(sheet: Sheet) -> list[Span]:
    walk = _walk(sheet)
    return [Span(winding_words.tick_boxes(any(walk.stop_of(at) is Post.FAR for at in walk.totals)), colour=SOFT)]


def _boxes_height(sheet: Sheet, lines: int) -> float:
    return (lines - 1) * _step(sheet) + _tick(sheet) + ABOVE_NOTE


def _heights(sheet: Sheet, width: float) -> HeightRange:
    note = paragraph_height(sheet, _note(sheet), sheet.sizes.small, width)
    return exactly(_boxes_height(sheet, len(_lines(sheet, width))) + note)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks: list[Mark] = []
    lines = _lines(sheet, box.width)
    for number, line in enumerate(lines):
        x, y = box.left, box.top + number * _step(sheet)
        for label, post, wide in line:
            marks += _box_to_tick(sheet, x, y, label, is_far=post is Post.FAR)
            x += wide + GAP
    drawn = figure("ticks", box, marks, winding_words.winding_alt_text(sheet.plan))
    below = box.inset(top=_boxes_height(sheet, len(lines)))
    return Drawing((drawn, *paragraph(sheet, _note(sheet), sheet.sizes.small, below)))


def _box_to_tick(sheet: Sheet, x: float, y: float, label: str, *, is_far: bool) -> list[Mark]:
    tick, size, colour = _tick(sheet), sheet.sizes.body, ACCENT if is_far else BLACK
    baseline = y + tick / 2 + cap_height(size) / 2
    return [
        Rectangle(Box(x, y, tick, tick), WHITE, colour, OUTLINE * 1.3, 0.4),
        *([Rectangle(Box(x, y + tick - FAR_BAR, tick, FAR_BAR), colour)] if is_far else []),
        Words(x + tick + AFTER_BOX, baseline, label, Face.SANS_BOLD, size, colour),
    ]


TICKS = whole_panel("ticks", _heights, _draw)
