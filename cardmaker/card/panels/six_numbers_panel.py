"""The six numbers, each under its label, as large as the card allows."""

from __future__ import annotations

from cardmaker.card.sheet import Drawing, Sheet, whole_panel
from cardmaker.layout.ink import SOFT
from cardmaker.layout.stacking import HeightRange
from cardmaker.layout.type_setting import SetLine, Span, cap_height, figure, text_height
from cardmaker.model.marks import Box, Face, Group, Words
from cardmaker.wording import heddle_words, length_words, shed_words, stripe_words, student_words, winding_words
from cardmaker.wording.units_in_words import with_units_in_words

LEAST_GAP, MOST_GAP = 0.6, 5.0  # between one number and the next
BELOW_LABEL = 0.9
_Block = tuple[list[SetLine], list[SetLine]]  # a label and its value, each in lines


def _blocks(sheet: Sheet, size: float, width: float) -> list[_Block]:
    """Each label, small, with its value set at ``size``."""
    blocks = []
    for label, values in student_words.six_numbers(sheet.plan, sheet.segments, sheet.units):
        lines = [line for value in values for line in sheet.lines([Span(value, Face.SANS_BOLD)], size, width)]
        blocks.append((sheet.lines([Span(label, colour=SOFT)], sheet.sizes.small, width), lines))
    return blocks


def _block_height(sheet: Sheet, block: _Block, size: float) -> float:
    label, lines = block
    value = BELOW_LABEL + text_height(len(lines), size) if lines else 0.0
    return text_height(len(label), sheet.sizes.small) + value


def _height(sheet: Sheet, size: float, width: float) -> float:
    blocks = _blocks(sheet, size, width)
    return sum(_block_height(sheet, block, size) for block in blocks) + LEAST_GAP * (len(blocks) - 1)


def _heights(sheet: Sheet, width: float) -> HeightRange:
    return HeightRange(_height(sheet, sheet.sizes.body, width), _height(sheet, sheet.sizes.count, width) * 1.5)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    """Label above value, the values as large as the card allows; told as the large cards tell it, in their order."""
    size = sheet.sizes.count
    while size > sheet.sizes.body and _height(sheet, size, box.width) > box.height:
        size -= 0.5
    blocks = _blocks(sheet, size, box.width)
    spare = box.height - _height(sheet, size, box.width)
    gap = LEAST_GAP + min(MOST_GAP, spare / max(1, len(blocks) - 1))
    words = []
    top = box.top
    for block in blocks:
        words.append(_set_block(sheet, block, size, box.left, top))
        top += _block_height(sheet, block, size) + gap
    return Drawing(_figures(sheet, box, words))


def _set_block(sheet: Sheet, block: _Block, size: float, left: float, top: float) -> list[Words]:
    label, lines = block
    small = sheet.sizes.small
    below = top + text_height(len(label), small) + BELOW_LABEL
    return [
        *sheet.set(label, left, top + cap_height(small), small),
        *sheet.set(lines, left, below + cap_height(size), size),
    ]


def _figures(sheet: Sheet, box: Box, words: list[list[Words]]) -> tuple[Group, ...]:
    """The blocks as four pictures of words: the stripes, the winding, the heddle, the shuttle."""
    plan = sheet.plan
    ends, stripes, letters, first, empty, sheds, warp = words
    wind = with_units_in_words(f"{length_words.wind(plan.lengths, sheet.units)}.")
    heddle = heddle_words.heddle_alt_text(plan)
    return (
        figure("stripes", box, (*ends, *stripes, *letters), stripe_words.order_alt_text(plan, sheet.segments)),
        figure("warp", box, warp, f"{wind} {winding_words.winding_alt_text(plan)}"),
        figure("heddle", box, (*first, *empty), heddle),
        figure("shuttle", box, sheds, shed_words.next_shed_alt_text(plan)),
    )


SIX = whole_panel("six", _heights, _draw)
