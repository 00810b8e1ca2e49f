"""Step 1, winding: the walk with its counts, and where it finishes."""

from __future__ import annotations

from collections.abc import Sequence

from cardmaker.card.panels.walk_drawing import WalkDrawing, measured_walk
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import aside_fits, picture_part, step_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.ink import SOFT
from cardmaker.layout.stacking import NO_ROOM, Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.wording import stripe_words, winding_words
from cardmaker.wording.step_words import WIND


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    drawing = measured_walk(sheet, width)
    aside, begins = _aside(sheet, width, drawing is not None and drawing.in_tens)
    return (
        step_part(sheet, width, WIND, aside, strong=begins),
        *([] if begins else _begins(sheet, width)),
        _picture(sheet, drawing),
        finish_part(sheet, width, drawn=True),
        *_joins(sheet, width),
        *_other_way(sheet, width),
    )


def _aside(sheet: Sheet, width: float, in_tens: bool) -> tuple[str, bool]:
    """The most that is said beside the heading and finds room there, and whether it says where the stripes begin.

    On a small card that is said there, in strong letters, where it is not the usual edge.
    """
    asides = winding_words.walk_asides(sheet.plan, in_tens=in_tens)
    begin = stripe_words.begin_in_short(sheet.plan) if sheet.brief else ""
    choices = [*(f"{begin}; {aside}" for aside in asides), begin] if begin else asides
    said = next((aside for aside in choices if aside_fits(sheet, width, WIND.name, aside, step=True)), "")
    return said, bool(begin and said)


def _begins(sheet: Sheet, width: float) -> list[Part]:
    """At which edge the stripes begin, where that is not the usual."""
    begins = stripe_words.begins_at(sheet.plan)
    spans = [Span(begins, Face.SANS_SEMIBOLD)]
    return [words_part(sheet, width, [spans], sheet.sizes.small, above=0.0)] if begins else []


def _picture(sheet: Sheet, drawing: WalkDrawing | None) -> Part:
    alt = winding_words.winding_alt_text(sheet.plan)
    facts = ("walk",) if sheet.plan.winding.method == "bundle" else ("stripes", "walk")
    if drawing is None:
        return picture_part("walk", NO_ROOM, lambda box: [], alt, facts=facts)
    above = 1.8 if stripe_words.begins_at(sheet.plan) and not sheet.brief else 0.6
    return picture_part("walk", drawing.heights(), drawing.marks, alt, above=above, facts=facts)


def finish_part(sheet: Sheet, width: float, *, drawn: bool) -> Part:
    """Where it finishes; and how balls are carried or bundles made, which no walk tells; ``drawn`` under one."""
    plan, bold = sheet.plan, Face.SANS_SEMIBOLD
    if sheet.brief:
        told = [[_on_one_line(sheet, winding_words.trips_in_a_line(plan, drawn=drawn), bold, width)]]
        method = _on_one_line(sheet, winding_words.method_in_a_line(plan), Face.SANS, width)
    else:
        told = [[Span(winding_words.trips(plan), bold)]]
        method = Span(winding_words.method(plan, drawn=drawn))
    paragraphs = told if plan.winding.method == "order" else [*told, [method]]
    return words_part(sheet, width, paragraphs, sheet.sizes.body, above=1.8, facts=("finish",))


def _on_one_line(sheet: Sheet, choices: Sequence[str], face: Face, width: float) -> Span:
    """The fullest of the sentences that takes one line; the last of them where none does."""
    fits = (choice for choice in choices if sheet.wide(choice, face, sheet.sizes.body) <= width)
    return Span(next(fits, choices[-1]), face)


def _joins(sheet: Sheet, width: float) -> list[Part]:
    """Where to join, if there is room to say it."""
    if not sheet.plan.winding.changes or sheet.plan.winding.method != "order":
        return []
    told: list[Paragraph] = [[Span(winding_words.TAILS)]]
    return [words_part(sheet, width, told, sheet.sizes.body, above=1.2, facts=("joins",), priority=3)]


def _other_way(sheet: Sheet, width: float) -> list[Part]:
    """The stripes from the other edge, of a tape whose edges differ; a small card leaves it to the brackets."""
    if sheet.plan.same_both_ways or sheet.brief:
        return []
    told: list[Paragraph] = [[Span(stripe_words.other_way(sheet.segments, sheet.plan), colour=SOFT)]]
    return [words_part(sheet, width, told, sheet.sizes.small, above=1.2, facts=("other edge",), priority=4)]


WALK = Panel("walk", _parts)
