"""What the card replaces: the earlier version, and what has changed since. It stands under the name when asked for."""

from __future__ import annotations

from cardmaker.card.paragraphs import paragraphs_height, set_paragraphs
from cardmaker.card.sheet import Drawing, HeightRange, Panel, Sheet
from cardmaker.layout.lines_of_type import Span
from cardmaker.model.marks import Box, Face
from cardmaker.wording.change_words import Replaced, changes_in_full, changes_in_short


def _paragraph(told: str) -> list[list[Span]]:
    return [[Span(told, Face.SANS_SEMIBOLD)]]


def _height(sheet: Sheet, told: str, width: float) -> float:
    return paragraphs_height(sheet, _paragraph(told), sheet.sizes.small, width)


def _since(sheet: Sheet) -> Replaced:
    assert sheet.replaces is not None
    return sheet.replaces


def _room(sheet: Sheet, width: float) -> HeightRange:
    since = _since(sheet)
    full = _height(sheet, changes_in_full(since, sheet.units), width)
    return HeightRange(min(full, _height(sheet, changes_in_short(since), width)) if sheet.brief else full, full)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    told = changes_in_full(_since(sheet), sheet.units)
    if _height(sheet, told, box.width) > box.height + 1e-6:
        told = changes_in_short(_since(sheet))
    return Drawing(tuple(set_paragraphs(sheet, _paragraph(told), sheet.sizes.small, box)))


CHANGED = Panel("changed", _room, _draw, applies=lambda sheet: sheet.replaces is not None)
