"""What has changed from version to version, and since the card that this one takes the place of."""

from __future__ import annotations

from cardmaker.card.paragraphs import Paragraph, paragraph_height
from cardmaker.card.parts import run_in_part, words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.model.pattern import Change
from cardmaker.wording import change_words, phrases


def _changes_parts(sheet: Sheet, width: float) -> list[Part]:
    """What the newest version changed, beside the heading; then the history back to the first, as far as it finds
    room."""
    size = sheet.sizes.small
    newest, *earlier = [_line(sheet, change) for change in reversed(sheet.plan.pattern.changes)]
    parts = run_in_part(sheet, width, change_words.CHANGES, newest, facts=("version",))
    for number, line in enumerate(earlier):
        parts.append(words_part(sheet, width, [line], size, above=0.6, facts=("versions",), priority=30 + number))
    return parts


def _line(sheet: Sheet, change: Change) -> Paragraph:
    replaces = change_words.replaces(sheet.plan.pattern) if change is sheet.plan.pattern.changes[-1] else ""
    what = phrases.sentence(f"{change.what}{replaces}")
    return [Span(f"{change.version}, {change.date}:", Face.SANS_SEMIBOLD), Span(what)]


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


CHANGES = Panel("changes", _changes_parts, applies=lambda sheet: bool(sheet.plan.pattern.changes))
CHANGED = Panel("changed", _changed_parts, applies=lambda sheet: sheet.replaces is not None)
