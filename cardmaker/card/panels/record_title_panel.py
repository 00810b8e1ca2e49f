"""The head of a record: name, what it is for, and four things to know before anything else."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.name_head import name_part, rule_part
from cardmaker.card.parts import quarters, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.ink import SOFT
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import SetLine, Span, cap_height, fitting_size, leading, tail_depth, words_group
from cardmaker.model.marks import Box, Face, Mark, Words
from cardmaker.model.record_class import record
from cardmaker.wording import length_words, loom_words, phrases, title_words
from cardmaker.wording.formatters import warp_length

BELOW_VALUE: Final = 0.8  # mm more than the leading, from a value to what it means
BELOW_NAME: Final = 1.4  # mm from the tails of the name to the line under it


@record
class _Fact:
    """A value and what it means."""

    value: str
    meaning: str


def _facts(sheet: Sheet) -> list[_Fact]:
    plan, units = sheet.plan, sheet.units
    tape = length_words.from_tape(plan, "width")
    return [
        _Fact(phrases.end_count(plan.ends), title_words.symmetry(plan)),
        _Fact(title_words.likely_width(plan.width, units), title_words.width_basis(plan.width, units, tape)),
        _Fact(plan.loom.title, loom_words.heddle_spaces(plan.loom, brief=True)),
        _Fact(warp_length(plan.lengths.wind_mm, units), length_words.wind_and_get(plan.lengths, units)),
    ]


@record
class _Column:
    """A fact in its column, set."""

    left: float
    width: float
    value: str
    lines: list[SetLine]


def _value_size(sheet: Sheet, facts: Sequence[_Fact], width: float) -> float:
    """The size at which the longest value fits its column: all have one size."""
    sizes = sheet.sizes
    return min(
        fitting_size(fact.value, Face.SANS_BOLD, sizes.count, width, sheet.ruler, sizes.smallest) for fact in facts
    )


def _columns(sheet: Sheet, facts: Sequence[_Fact], width: float, size: float) -> list[_Column]:
    """The facts, each in a quarter of the width."""
    lefts, wide = quarters(width)
    columns = []
    for left, fact in zip(lefts, facts, strict=True):
        meaning = sheet.lines([Span(fact.meaning, colour=SOFT)], sheet.sizes.small, wide)
        value = sheet.lines([Span(fact.value, Face.SANS_BOLD)], size, wide)
        columns.append(_Column(left, wide, value[0][0].text, [*value[1:], *meaning]))
    return columns


def _facts_part(sheet: Sheet, width: float) -> Part:
    told = _facts(sheet)
    size = _value_size(sheet, told, quarters(width)[1])
    columns, small = _columns(sheet, told, width, size), sheet.sizes.small
    lines = max(len(column.lines) for column in columns)
    height = cap_height(sheet.sizes.count) + BELOW_VALUE + lines * leading(small) + tail_depth(small)
    facts = ("ends", "width", "loom", "warp")
    return Part(exactly(height), lambda box: _draw_facts(sheet, columns, size, box), 2.6, facts)


def _draw_facts(sheet: Sheet, columns: Sequence[_Column], size: float, box: Box) -> list[Mark]:
    baseline = box.top + cap_height(sheet.sizes.count)
    marks: list[Mark] = []
    for column in columns:
        x = box.left + column.left
        value = Words(x, baseline, column.value, Face.SANS_BOLD, size)
        below = sheet.set(column.lines, x, baseline + BELOW_VALUE + leading(sheet.sizes.small), sheet.sizes.small)
        marks.append(words_group("paragraph", Box(x, box.top, column.width, box.height), value, *below))
    return marks


def _about_parts(sheet: Sheet, width: float) -> list[Part]:
    """What it is for, and what it looks like: where there is room."""
    pattern = sheet.plan.pattern
    spans = [Span(text) for text in (title_words.uses(pattern.purposes), pattern.about) if text]
    if not spans:
        return []
    return [words_part(sheet, width, [spans], sheet.sizes.small, above=BELOW_NAME, facts=("use", "about"), priority=-1)]


def _parts(sheet: Sheet, width: float) -> list[Part]:
    return [
        name_part(sheet, width), *_about_parts(sheet, width), rule_part(sheet), _facts_part(sheet, width),
    ]  # fmt: skip


TITLE = Panel("title", _parts)
