"""The legend: a swatch of every yarn as the drawings show it, with its letters and its name; below it the weft,
and which yarns look alike."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.bracket_labels import turns_in_legend
from cardmaker.card.look_alikes import look_alike_parts
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.ink import Ink
from cardmaker.layout.lettering import hatched_cell
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import SetLine, Span, cap_height, leading, side_by_side, text_height, words_group
from cardmaker.model.marks import Box, Face, Mark
from cardmaker.model.record_class import record
from cardmaker.wording import stripe_words, time_words

ABOVE_CAPS: Final = 0.15  # mm that a swatch is higher than the letters beside it; its outline stays in the margins
BETWEEN: Final = 4.0  # mm from one entry to the next
SWATCH: Final = 4.6  # mm wide
BESIDE_SWATCH: Final = 1.3  # mm
NO_WEFT: Final = frozenset({"slip-dress", "dress-steps"})  # of a stage that needs none


@record
class _Entry:
    """What stands together on a line: the swatch of a yarn, and its words; or what joined letters mean, without one."""

    spans: SetLine
    ink: Ink | None = None

    @property
    def indent(self) -> float:
        """What its swatch takes, in mm."""
        return SWATCH + BESIDE_SWATCH if self.ink else 0.0


def _entries(sheet: Sheet) -> list[_Entry]:
    return [
        _Entry((Span(colour.letters, Face.SANS_SEMIBOLD), Span(colour.yarn)), sheet.inks[colour.yarn])
        for colour in sheet.plan.colours
    ]


def _tries(sheet: Sheet) -> list[list[_Entry]]:
    """The yarns and, where the drawings do not say that stripes are in turn, what joined letters mean: the fullest
    first."""
    yarns = _entries(sheet)
    if not turns_in_legend(sheet):
        return [yarns]
    return [[*yarns, _Entry((Span(told),))] for told in stripe_words.turns_explained(sheet.plan)]


def _wide(sheet: Sheet, entry: _Entry) -> float:
    text = sum(sheet.wide(span.text, span.face, sheet.sizes.small) for span in entry.spans)
    spaces = (len(entry.spans) - 1) * sheet.wide(" ", Face.SANS, sheet.sizes.small)
    return text + spaces + entry.indent


def _lines(sheet: Sheet, width: float) -> list[list[_Entry]]:
    tries = [side_by_side(each, lambda entry: _wide(sheet, entry), BETWEEN, width) for each in _tries(sheet)]
    return min(tries, key=len)


def _set_lines(sheet: Sheet, entry: _Entry, width: float) -> Sequence[SetLine]:
    """The entry's words: on one line, unless they are wider than the card."""
    room = width - entry.indent
    return sheet.lines(entry.spans, sheet.sizes.small, room) if _wide(sheet, entry) > width else (entry.spans,)


def _line_count(sheet: Sheet, line: Sequence[_Entry], width: float) -> int:
    return max(len(_set_lines(sheet, entry, width)) for entry in line)


def _parts(sheet: Sheet, width: float) -> list[Part]:
    count = sum(_line_count(sheet, line, width) for line in _lines(sheet, width))
    height = exactly(text_height(count, sheet.sizes.small))
    legend = Part(height, lambda box: _draw(sheet, box), facts=("legend",))
    above = leading(sheet.sizes.small) - text_height(1, sheet.sizes.small)
    if NO_WEFT & sheet.layout.panels:
        return [legend, *look_alike_parts(sheet, width, above)]
    facts = ("weft", "wraps") if sheet.plan.shuttle else ("weft",)
    weft = words_part(sheet, width, [_weft(sheet, width)], sheet.sizes.small, above=above, facts=facts)
    return [legend, weft, *look_alike_parts(sheet, width, above)]


def _weft(sheet: Sheet, width: float) -> Paragraph:
    """Apart from the yarns of the warp, on a line of its own: which yarn the weft is, and how often the shuttle is
    filled with it, in fewer words where the line is short."""
    label, yarn = stripe_words.weft_labelled(sheet.plan)
    fill = sheet.plan.shuttle
    tries = [[Span(label, Face.SANS_SEMIBOLD), Span(yarn)]]
    if fill:
        how_full = [time_words.fill_the_shuttle(fill, brief=brief) for brief in (False, True)]
        tries = [[*tries[0], Span(words)] for words in how_full]
    lines = [sheet.lines(spans, sheet.sizes.small, width) for spans in tries]
    return tries[min(range(len(tries)), key=lambda at: len(lines[at]))]


def _draw(sheet: Sheet, box: Box) -> list[Mark]:
    size, cap = sheet.sizes.small, cap_height(sheet.sizes.small)
    marks: list[Mark] = []
    top = box.top
    for line in _lines(sheet, box.width):
        x = box.left
        for entry in line:
            left = x + entry.indent
            if entry.ink:
                marks += hatched_cell(Box(x, top - ABOVE_CAPS, SWATCH, cap + 2 * ABOVE_CAPS), entry.ink)
            words = sheet.set(_set_lines(sheet, entry, box.width), left, top + cap, size)
            marks.append(words_group("paragraph", Box(left, top, box.right - left, cap), *words))
            x += _wide(sheet, entry) + BETWEEN
        top += _line_count(sheet, line, box.width) * leading(size)
    return marks


LEGEND: Final = Panel("legend", _parts)
