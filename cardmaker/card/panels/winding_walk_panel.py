"""Step 1, winding: the walk with its counts, and where it finishes."""

from __future__ import annotations

from collections.abc import Sequence

from cardmaker.card.panels.walk_drawing import WalkDrawing, measured_walk
from cardmaker.card.paragraphs import Paragraph, body, paragraphs_panel
from cardmaker.card.parts import aside_fits, picture_part, step_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import NO_ROOM, Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.wording import stripe_words, winding_words
from cardmaker.wording.step_words import WIND


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    drawing = measured_walk(sheet, width)
    aside = _aside(sheet, width, drawing is not None and drawing.in_tens)
    return (
        step_part(sheet, width, WIND, aside),
        *_begins(sheet, width),
        _picture(sheet, drawing),
        finish_part(sheet, width),
        *_joins(sheet, width),
    )


def _aside(sheet: Sheet, width: float, in_tens: bool) -> str:
    """The most that is said beside the heading and finds room there."""
    asides = winding_words.walk_asides(sheet.plan, in_tens=in_tens)
    return next((aside for aside in asides if aside_fits(sheet, width, WIND.name, aside, step=True)), "")


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
    above = 1.8 if stripe_words.begins_at(sheet.plan) else 0.6
    return picture_part("walk", drawing.heights(), drawing.marks, alt, above=above, facts=facts)


def finish_part(sheet: Sheet, width: float) -> Part:
    """Where it finishes; and how balls are carried or bundles made, which no picture tells."""
    plan = sheet.plan
    choices, size = winding_words.trips_in_a_line(plan), sheet.sizes.body
    fits = (line for line in choices if sheet.wide(line, Face.SANS_SEMIBOLD, size) <= width)
    told: list[Paragraph] = [[Span(next(fits, choices[-1]), Face.SANS_SEMIBOLD)]]
    if plan.winding.method != "order":
        told.append([Span(winding_words.method(plan, brief=sheet.brief, drawn=True))])
    return words_part(sheet, width, told, size, above=1.8, facts=("finish",))


def _joins(sheet: Sheet, width: float) -> list[Part]:
    """Where to join, if there is room to say it."""
    if not sheet.plan.winding.changes or sheet.plan.winding.method != "order":
        return []
    told: list[Paragraph] = [[Span(winding_words.TAILS)]]
    return [words_part(sheet, width, told, sheet.sizes.body, above=1.2, facts=("joins",), priority=3)]


WALK = Panel("walk", _parts)
TRIPS = paragraphs_panel(
    "trips", lambda sheet: [[Span(winding_words.trips_and_walking(sheet.plan, sheet.units))]], size_of=body
)
