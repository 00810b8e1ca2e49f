"""What has changed from version to version, and since the card that this one takes the place of."""

from __future__ import annotations

from cardmaker.card.paragraphs import Paragraph, paragraph_height
from cardmaker.card.parts import heading_part, words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.model.pattern import Change
from cardmaker.wording import change_words


def _changes(sheet: Sheet) -> list[Change]:
    """The newest first; without the one that the foot of the card tells."""
    pattern = sheet.plan.pattern
    told = "foot" in sheet.layout.panels and bool(change_words.latest_change(pattern))
    return list(pattern.changes[-2 if told else -1 :: -1]) if len(pattern.changes) > told else []


def _changes_parts(sheet: Sheet, width: float) -> list[Part]:
    """The history, the newest version first: one line each, as many as find room."""
    size = sheet.sizes.small
    parts = [heading_part(sheet, width, change_words.CHANGES)]
    for number, change in enumerate(_changes(sheet)):
        line = [Span(f"{change.version}, {change.date}:", Face.SANS_SEMIBOLD), Span(change.what)]
        above, priority = (0.6, 30 + number) if number else (0.0, 0)
        parts.append(words_part(sheet, width, [line], size, above=above, facts=("versions",), priority=priority))
    return parts


def _in_full(sheet: Sheet) -> Paragraph:
    return [
        Span(change_words.changes_in_full(planned(sheet.replaces), sheet.units, sheet.plan.view), Face.SANS_SEMIBOLD)
    ]


def _in_short(sheet: Sheet) -> Paragraph:
    return [Span(change_words.changes_in_short(planned(sheet.replaces)), Face.SANS_SEMIBOLD)]


def _changed_parts(sheet: Sheet, width: float) -> list[Part]:
    """It stands under the name when asked for, whatever the layout; on a small card in short where that is less."""
    size, full, short = sheet.sizes.small, _in_full(sheet), _in_short(sheet)
    heights = [paragraph_height(sheet, spans, size, width) for spans in (full, short)]
    words = short if sheet.brief and heights[1] < heights[0] else full
    return [words_part(sheet, width, [words], size, facts=("replaced",))]


CHANGES = Panel("changes", _changes_parts, applies=lambda sheet: bool(_changes(sheet)))
CHANGED = Panel("changed", _changed_parts, applies=lambda sheet: sheet.replaces is not None)
