"""The foot of a record's back: all that found no room in front, about the code and the place for a sample."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from cardmaker.card.fitting import GUTTER
from cardmaker.card.panels.sample_panel import WIDE as SAMPLE_WIDE
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import columns_part, stack_part, words_part
from cardmaker.card.sheet import Sheet
from cardmaker.layout.stacking import Part, stack_heights
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.model.record_class import replace


class Closing(NamedTuple):
    """The panels that stand at the foot of the left column and at the head of the right one."""

    below: tuple[str, ...]
    beside: tuple[str, ...]


CLOSINGS: Final = {
    "rest-and-code": Closing((), ("file-code",)),
    "rest-code-and-sample": Closing(("sample",), ("file-code",)),
}
PICTURES: Final = ("results",)  # panels without words of their own: something else on the back stands for them
BACK_ONLY: Final = ("pieces", "student")  # panels that stand among the words, unless they have a place of their own
TWO_COLUMNS: Final = 140.0  # mm: from there on there are two of them
BETWEEN: Final = 1.6  # mm between the paragraphs
ABOVE: Final = 3.0  # mm over what is no paragraph


def column_width(width: float) -> float:
    """How wide each column is, of two where there is room for them."""
    return (width - GUTTER) / 2 if width >= TWO_COLUMNS else width


def led_paragraph(sheet: Sheet, width: float, lead: str, parts: Sequence[Part]) -> Part:
    """The words of the parts in one paragraph, after the name of what they belong to."""
    words: Paragraph = [span for part in parts for spans in part.words for span in spans]
    facts = tuple(dict.fromkeys(fact for part in parts for fact in part.facts))
    led = [*([Span(lead, Face.SANS_SEMIBOLD)] if lead else []), *words]
    return words_part(sheet, width, [led], sheet.sizes.small, above=BETWEEN, facts=facts)


def placed_last(parts: Sequence[Part]) -> Part:
    """A panel as a part of a column."""
    return stack_part(parts, above=ABOVE)


def closing_part(words: Sequence[Part], below: Sequence[Part], beside: Sequence[Part], width: float) -> Part:
    """The words in order, with what stands ``below`` at the foot of the left column and what stands ``beside`` at the
    head of the right one: the columns as nearly alike in height as they can be. In one column all stands in turn."""
    wide = column_width(width)
    if wide == width:
        return stack_part([*words, *below, *beside])
    splits = [([*words[:at], *below], [*beside, *_after(beside, words[at:])]) for at in range(len(words), -1, -1)]
    best = min(splits, key=lambda split: max(stack_heights(column).least for column in split if column))
    sides = [(number * (wide + GUTTER), wide, stack_part(column)) for number, column in enumerate(best) if column]
    return columns_part(sides, above=0.0)


def closing_rows(sheet: Sheet, words: Sequence[Part], below: Part, beside: Part, width: float) -> Part:
    """The closest form: the words run on from each other, and in a row under them stand what closes the left column
    elsewhere, with as many of the last words under it as make the whole lowest, and what closes the right one, as wide
    as :func:`row_widths` says."""
    left, right = row_widths(width)

    def split(at: int) -> Part:
        under = stack_part([below, *_running(sheet, words[at:], left)])
        foot = columns_part([(0.0, left, under), (left + GUTTER, right, beside)], above=ABOVE)
        return stack_part([*_running(sheet, words[:at], width), foot])

    return min(map(split, range(len(words), -1, -1)), key=lambda part: part.heights.least)


def _running(sheet: Sheet, words: Sequence[Part], width: float) -> list[Part]:
    """The words as one paragraph, clear of what stands above; nothing of none."""
    facts = tuple(dict.fromkeys(fact for part in words for fact in part.facts))
    spans: Paragraph = [span for part in words for each in part.words for span in each]
    return [words_part(sheet, width, [spans], sheet.sizes.small, above=ABOVE, facts=facts)] if spans else []


def row_widths(width: float) -> tuple[float, float]:
    """The place for a sample, which is as wide as it is, and what that leaves."""
    return SAMPLE_WIDE, width - GUTTER - SAMPLE_WIDE


def _after(beside: Sequence[Part], words: Sequence[Part]) -> list[Part]:
    """The words that stand under something else, clear of it."""
    return [replace(part, above=ABOVE) if beside and number == 0 else part for number, part in enumerate(words)]
