"""What only a slip of a handout in stages has: the checks before lifting off, and which slip is next."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from cardmaker.card.parts import words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.stuck_help import stuck_lines, stuck_parts
from cardmaker.card.tick_boxes import TickBox, tick_boxes_part
from cardmaker.layout.ink import BLACK, HAIRLINE
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Box, Face, Line, Mark
from cardmaker.wording import stage_words, winding_words

ABOVE_NEXT: Final = 1.6  # mm from the rule over the next slip to its capitals
ABOVE_CHECK: Final = 1.2  # mm


def _lifting(sheet: Sheet, width: float) -> list[Part]:
    """What to look at while the warp is still on the posts, each with its box."""
    plan = sheet.plan
    colours = [(colour.ends, colour.yarn) for colour in plan.colours if colour.ends]
    checks = winding_words.lifting_checks(plan.ends, colours, plan.winding.method)
    heading = words_part(sheet, width, [[Span(winding_words.BEFORE_LIFTING, Face.SANS_SEMIBOLD)]], sheet.sizes.body)
    boxes = [
        tick_boxes_part(
            sheet, width, [TickBox(check, face=Face.SANS)], sheet.sizes.small, above=ABOVE_CHECK, facts=("cross",)
        )
        for check in checks
    ]
    return [heading, *boxes]


def _then(words: str) -> Callable[[Sheet, float], Sequence[Part]]:
    """Under a rule at the foot: when this slip is done with, and which is next."""

    def parts(sheet: Sheet, width: float) -> list[Part]:
        told = words_part(sheet, width, [[Span(words, Face.SANS_SEMIBOLD)]], sheet.sizes.body)

        def draw(box: Box) -> list[Mark]:
            return [Line(box.left, box.top, box.right, box.top, HAIRLINE, BLACK), *told.draw(box.inset(top=ABOVE_NEXT))]

        return [Part(exactly(told.heights.least + ABOVE_NEXT), draw, facts=("next slip",))]

    return parts


def _stuck_winding(sheet: Sheet, width: float) -> Sequence[Part]:
    return stuck_parts(sheet, width, stuck_lines("wind", sheet))


def _stuck_dressing(sheet: Sheet, width: float) -> Sequence[Part]:
    return stuck_parts(sheet, width, stuck_lines("dress", sheet))


LIFTING: Final = Panel("lifting", _lifting)
STUCK_WINDING: Final = Panel("stuck-winding", _stuck_winding)
STUCK_DRESSING: Final = Panel("stuck-dressing", _stuck_dressing)
THEN_DRESS: Final = Panel("then-dress", _then(stage_words.NEXT_AFTER_WINDING), sinks=True)
THEN_WEAVE: Final = Panel("then-weave", _then(stage_words.NEXT_AFTER_DRESSING), sinks=True)
LAST_SLIP: Final = Panel("last-slip", _then(stage_words.NO_NEXT), sinks=True)
