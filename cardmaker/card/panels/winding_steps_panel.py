"""Winding, step by step: a box to tick for each; and what to look at before lifting off."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.bench_columns import RIGHT
from cardmaker.card.look_alikes import look_alike_parts
from cardmaker.card.panels.winding_step_lines import WindingStep, thens_of_stripes, winding_steps
from cardmaker.card.panels.winding_step_list import ROWS_WANTED, StepList, list_heights, set_list, step_list
from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height
from cardmaker.card.parts import columns_part, stack_part, wind_heading, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.ink import SOFT
from cardmaker.layout.stacking import NO_ROOM, Part, exactly
from cardmaker.layout.tick_squares import tick_side, tick_square
from cardmaker.layout.type_setting import Span, cap_height, text_height, words_group
from cardmaker.model.marks import Box, Face, Mark, Words
from cardmaker.model.record_class import replace
from cardmaker.wording import winding_words

WIDE: Final = 120.0  # from here on the list and the checks stand side by side, or the checks in two columns
GAP: Final = 4.0  # between what stands side by side
LEAST_CHECKS: Final = 46.0  # mm that the checks need beside the list, where it leaves less than the right column
INDENT: Final = 4.4  # of a check, after its box
ABOVE_ALIKE: Final = 1.2
ABOVE_CHECK, ABOVE_CHECK_CROWDED = 1.2, 0.6


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """List and checks side by side, or one below the other."""
    steps = winding_steps(sheet)
    shape, beside = _arrangement(sheet, steps, width)
    rule: Paragraph = [Span(winding_words.CROSS_SIDES, colour=SOFT)]
    rule_part = words_part(sheet, width, [rule], sheet.sizes.small, facts=("cross rule",), priority=5)
    is_told = _is_under_room(sheet) and winding_words.number_decides(sheet.plan, ())
    alike = [
        part if sheet.is_crowded else replace(part, priority=0) for part in look_alike_parts(sheet, width, ABOVE_ALIKE)
    ]
    rules = (*alike, *(() if is_told else (rule_part,)))
    if not beside:
        listed, checks = _listed(sheet, steps, shape, width), _checks(sheet, shape, width, 2 if width >= WIDE else 1)
        return (*_heading(sheet, steps, shape, width), listed, checks, *rules)
    left, empty = width - beside - GAP, winding_words.balls_begin(sheet.plan)
    listed, checks = _listed(sheet, steps, shape, left), _checks(sheet, shape, beside, 1)
    right = (width - beside, beside, checks)
    if empty:
        return (*_heading(sheet, steps, shape, width), columns_part([(0.0, left, listed), right]), *rules)
    under_heading = stack_part([*_heading(sheet, steps, shape, left), listed])
    return (columns_part([(0.0, left, under_heading), right]), *rules)


def _arrangement(sheet: Sheet, steps: Sequence[WindingStep], width: float) -> tuple[StepList, float]:
    """How the list is set, and how wide the checks beside it are; nothing where they stand below. On a crowded card
    they stand beside a long list too, if it finds room for one column only."""
    if width >= WIDE:
        shape = step_list(sheet, steps, width - LEAST_CHECKS - GAP)
        if shape.columns == 1 and len(steps) <= ROWS_WANTED and shape.width <= width - LEAST_CHECKS - GAP:
            return shape, min(RIGHT, width - GAP - shape.width)
    shape = step_list(sheet, steps, width, short=sheet.is_crowded, tersely=sheet.is_terse)
    beside = width - shape.width - GAP
    if sheet.is_crowded and shape.columns == 1 and beside >= LEAST_CHECKS:
        return shape, min(RIGHT, beside)
    return shape, 0.0


def _heading(sheet: Sheet, steps: Sequence[WindingStep], shape: StepList, width: float) -> Sequence[Part]:
    """Under the room, whose heading is the step's own, a line in bold; else the step. It says in which order the steps
    are done, and what to do after each where the list does not."""
    columns = 1 if sheet.is_crowded else shape.columns  # on a crowded card the rules between them tell it alone
    aside = winding_words.order_of_steps(sheet.plan.winding.method, columns)
    each = "" if shape.has_starts else winding_words.after_each(thens_of_stripes(steps))
    after = " ".join(filter(None, (each, winding_words.balls_begin(sheet.plan))))
    below = [words_part(sheet, width, [[Span(after)]], sheet.sizes.body, above=0.0)] if after else []
    if not _is_under_room(sheet):
        return (wind_heading(sheet, width, aside), *below)
    words: Paragraph = [
        Span(f"{winding_words.STEPS},", Face.SANS_SEMIBOLD),
        Span(f"{aside}. {after}" if after else aside),
    ]
    return (words_part(sheet, width, [words], sheet.sizes.body),)


def _is_under_room(sheet: Sheet) -> bool:
    return sheet.plan.pegs is not None and "room" in sheet.layout.panels


def _listed(sheet: Sheet, steps: Sequence[WindingStep], shape: StepList, width: float) -> Part:
    heights = list_heights(sheet, shape) if shape.width <= width + 1e-6 else NO_ROOM
    above = 1.0 if sheet.is_crowded else 1.6
    return Part(heights, lambda box: set_list(sheet, steps, shape, box), above, ("steps",))


def _checks(sheet: Sheet, shape: StepList, width: float, columns: int) -> Part:
    """What to look at before lifting off, each with a box, in one column or two; where the list had no room for the
    names of the yarns, they stand here beside their letters."""
    plan = sheet.plan
    colours = [
        (colour.ends, colour.yarn if shape.has_names else f"{colour.letters} {colour.yarn}")
        for colour in plan.colours
        if colour.ends
    ]
    checks: list[Paragraph] = [
        [Span(check)] for check in winding_words.lifting_checks(plan.ends, colours, plan.winding.method)
    ]
    each = len(checks) // columns
    run_in = columns > 1 and sheet.is_crowded
    if run_in:
        checks[0].insert(0, Span(f"{winding_words.BEFORE_LIFTING}:", Face.SANS_SEMIBOLD))
    parts = [checks[at : at + each] for at in range(0, len(checks), each)]
    wide = (width - GAP * (columns - 1)) / columns
    lefts, wides = [number * (wide + GAP) for number in range(columns)], [wide] * columns
    head = 0.0 if run_in else text_height(1, sheet.sizes.body)
    height = head + max(_checks_height(sheet, part, wide) for part, wide in zip(parts, wides, strict=True))

    def draw(box: Box) -> list[Mark]:
        y = box.top + cap_height(sheet.sizes.body)
        name = Words(box.left, y, winding_words.BEFORE_LIFTING, Face.SANS_SEMIBOLD, sheet.sizes.body)
        place = Box(box.left, box.top, box.width, head)
        marks: list[Mark] = [] if run_in else [words_group("paragraph", place, name)]
        for part, left, wide in zip(parts, lefts, wides, strict=True):
            marks += _draw_checks(sheet, part, Box(box.left + left, box.top + head, wide, 0.0))
        return marks

    return Part(exactly(height), draw, 1.2 if sheet.is_crowded else 1.8, ("cross",))


def _checks_height(sheet: Sheet, checks: Sequence[Paragraph], width: float) -> float:
    above = _above_check(sheet)
    return sum(above + paragraph_height(sheet, check, sheet.sizes.small, width - INDENT) for check in checks)


def _above_check(sheet: Sheet) -> float:
    return ABOVE_CHECK_CROWDED if sheet.is_crowded else ABOVE_CHECK


def _draw_checks(sheet: Sheet, checks: Sequence[Paragraph], box: Box) -> list[Mark]:
    size, top = sheet.sizes.small, box.top
    marks: list[Mark] = []
    for check in checks:
        place = Box(box.left + INDENT, top + _above_check(sheet), box.width - INDENT, 0.0)
        marks += tick_square(box.left, place.top - 0.3, tick_side(size))
        marks += paragraph(sheet, check, size, place)
        top += _checks_height(sheet, [check], box.width)
    return marks


STEPS: Final = Panel("steps", _parts)
