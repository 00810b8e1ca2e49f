"""What has changed from version to version, and since the card that this one takes the place of."""

from __future__ import annotations

from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height, paragraphs_panel
from cardmaker.card.sheet import Drawing, Sheet, planned, whole_panel
from cardmaker.layout.stacking import HeightRange
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Box, Face
from cardmaker.wording import change_words


def _changes(sheet: Sheet) -> list[Paragraph]:
    return [
        [Span(f"{change.version}, {change.date}:", Face.SANS_SEMIBOLD), Span(change.what)]
        for change in sheet.plan.pattern.changes
    ]


def _in_full(sheet: Sheet) -> Paragraph:
    return [
        Span(change_words.changes_in_full(planned(sheet.replaces), sheet.units, sheet.plan.view), Face.SANS_SEMIBOLD)
    ]


def _in_short(sheet: Sheet) -> Paragraph:
    return [Span(change_words.changes_in_short(planned(sheet.replaces)), Face.SANS_SEMIBOLD)]


def _changed_heights(sheet: Sheet, width: float) -> HeightRange:
    full = paragraph_height(sheet, _in_full(sheet), sheet.sizes.small, width)
    short = paragraph_height(sheet, _in_short(sheet), sheet.sizes.small, width)
    return HeightRange(min(full, short) if sheet.brief else full, full)


def _draw_changed(sheet: Sheet, box: Box) -> Drawing:
    """It stands under the name when asked for, whatever the layout."""
    size, spans = sheet.sizes.small, _in_full(sheet)
    if paragraph_height(sheet, spans, size, box.width) > box.height + 1e-6:
        spans = _in_short(sheet)
    return Drawing(tuple(paragraph(sheet, spans, size, box)))


CHANGES = paragraphs_panel(
    "changes", _changes, change_words.CHANGES, applies=lambda sheet: bool(sheet.plan.pattern.changes)
)
CHANGED = whole_panel("changed", _changed_heights, _draw_changed, applies=lambda sheet: sheet.replaces is not None)
