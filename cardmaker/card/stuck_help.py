"""What to do when she is stuck, for the slips of a handout in stages: a question and its answer on every line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.parts import BELOW_HEADING, heading_part, words_part
from cardmaker.card.sheet import Sheet
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import Span, tail_depth
from cardmaker.model.dressing_acts import Slip
from cardmaker.model.marks import Face
from cardmaker.model.record_class import replace
from cardmaker.wording import stage_words

ALWAYS: Final = 3  # lines
FIRST_PRIORITY: Final = 3  # of the lines that stand where there is room
BELOW_TAILS: Final = 1.4  # mm from the tails of the heading to the capitals below it
BETWEEN: Final = 1.0  # mm from one line to the next


def stuck_lines(slip: Slip, sheet: Sheet) -> list[stage_words.Line]:
    """The lines of a slip, the commonest question first."""
    if slip == "wind":
        return stage_words.wind_lines(sheet.plan)
    if slip == "weave":
        return stage_words.weave_lines(sheet.plan, sheet.units, is_threaded=sheet.is_threaded)
    return stage_words.dress_lines(sheet.plan, is_wound=sheet.is_wound)


def stuck_parts(sheet: Sheet, width: float, lines: Sequence[stage_words.Line]) -> list[Part]:
    """The first lines under a heading, the others as they find room."""
    heading = heading_part(sheet, width, stage_words.STUCK)
    last_line = heading.heights.least - BELOW_HEADING
    close = exactly(last_line + tail_depth(sheet.sizes.heading) + BELOW_TAILS)
    always = [_line(sheet, width, line, above=BETWEEN if number else 0.0) for number, line in enumerate(lines[:ALWAYS])]
    return [replace(heading, heights=close, above=2 * BETWEEN), *always, *further_parts(sheet, width, lines[ALWAYS:])]


def further_parts(sheet: Sheet, width: float, lines: Sequence[stage_words.Line]) -> list[Part]:
    """Lines that stand where there is room, the first of them first."""
    return [
        _line(sheet, width, line, priority=FIRST_PRIORITY + number, facts=("more stuck",))
        for number, line in enumerate(lines)
    ]


def _line(
    sheet: Sheet,
    width: float,
    line: stage_words.Line,
    *,
    above: float = BETWEEN,
    priority: int = 0,
    facts: tuple[str, ...] = ("stuck",),
) -> Part:
    question, answer = line
    words = [Span(question, Face.SANS_SEMIBOLD), Span(answer)]
    return words_part(sheet, width, [words], sheet.sizes.small, above=above, facts=facts, priority=priority)
