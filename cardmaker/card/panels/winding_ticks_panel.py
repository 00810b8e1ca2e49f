"""Running totals with boxes to tick while winding, those that fall at the far post underlined; no picture."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.panels.winding_walk_panel import finish_part
from cardmaker.card.parts import picture_part, step_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.tick_boxes import TickBox, draw_tick_boxes, tick_boxes_height
from cardmaker.layout.ink import ACCENT, BLACK, SOFT
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.model.plan import Post
from cardmaker.reckoning.winding.walk import Walk, ticked_totals, walk_of
from cardmaker.wording import winding_words
from cardmaker.wording.step_words import WIND

ABOVE_NOTE: Final = 1.6
NOTE: Final = 1  # on a small card the first of what finds a place only where there is room


def _walk(sheet: Sheet) -> Walk:
    return walk_of(sheet.plan.runs, sheet.plan.winding.method)


def _label(sheet: Sheet, walk: Walk, at: int) -> str:
    """The running total; of a bundle its own count, with its letters."""
    if sheet.plan.winding.method == "bundle":
        return f"{walk.totals[at]} {sheet.letters(walk.strokes[at - 1].yarn)}"
    return str(at)


def _boxes(sheet: Sheet) -> list[TickBox]:
    """A box for each total at which she stops; at the far post in the accent, and underlined for a grey copy."""
    walk = _walk(sheet)
    boxes = []
    for at in ticked_totals(walk, sheet.plan.winding.method):
        far = walk.stop_of(at) is Post.FAR
        boxes.append(TickBox(_label(sheet, walk, at), ACCENT if far else BLACK, Face.SANS_BOLD, marked=far))
    return boxes


def _ticks(sheet: Sheet, width: float, above: float = 0.0) -> list[Part]:
    boxes, size = _boxes(sheet), sheet.sizes.body
    heights = exactly(tick_boxes_height(sheet, boxes, size, width))
    alt = winding_words.winding_alt_text(sheet.plan)
    note = [Span(winding_words.tick_box_note(any(box.marked for box in boxes)), colour=SOFT)]
    priority = NOTE if sheet.brief else 0
    return [
        picture_part("ticks", heights, lambda box: draw_tick_boxes(sheet, boxes, size, box), alt, above=above,
                     facts=("walk", "finish")),
        words_part(
            sheet, width, [note], sheet.sizes.small, above=ABOVE_NOTE, facts=("underlined",), priority=priority
        ),
    ]  # fmt: skip


def _step(sheet: Sheet, width: float) -> Sequence[Part]:
    """As step 1, where the walk finds no room."""
    return step_part(sheet, width, WIND), *_ticks(sheet, width), finish_part(sheet, width, drawn=False)


TICKS = Panel("ticks", _ticks)
WALK_IN_TOTALS = Panel("walk-in-totals", _step)
