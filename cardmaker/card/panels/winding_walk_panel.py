"""Step 1, winding: the walk with its counts, and where it finishes; of a warp that is wound already, one line."""

from __future__ import annotations

from collections.abc import Sequence

from cardmaker.card.panels.walk_drawing import WalkDrawing, measured_walk
from cardmaker.card.paragraphs import Paragraph, body, paragraphs_panel
from cardmaker.card.parts import aside_fits, picture_part, step_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.tick_boxes import TickBox, tick_boxes_part
from cardmaker.layout.stacking import NO_ROOM, Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face
from cardmaker.wording import stripe_words, winding_words
from cardmaker.wording.step_words import WIND


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    if WIND in sheet.owner.done:
        done = [TickBox(winding_words.wound_beforehand(sheet.plan, sheet.units))]
        facts = ("stripes", "walk", "finish", "joins")
        return step_part(sheet, width, WIND), tick_boxes_part(sheet, width, done, sheet.sizes.body, facts=facts)
    drawing = measured_walk(sheet, width)
    aside = _aside(sheet, width, drawing is not None and drawing.in_tens)
    return step_part(sheet, width, WIND, aside), *_begins(sheet, width), _picture(sheet, drawing), *_words(sheet, width)


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


def _words(sheet: Sheet, width: float) -> list[Part]:
    """Where it finishes; how balls are carried or bundles made, which no picture tells; where to join."""
    plan = sheet.plan
    finish: Paragraph = [Span(winding_words.trips(plan), Face.SANS_SEMIBOLD)]
    by_balls = plan.winding.method != "order"
    told = [finish, [Span(winding_words.method(plan, brief=sheet.brief, drawn=True))]] if by_balls else [finish]
    parts = [words_part(sheet, width, told, sheet.sizes.body, above=1.8, facts=("finish",))]
    if plan.winding.changes and not by_balls:
        joins: Paragraph = [Span(winding_words.TAILS)]
        parts.append(words_part(sheet, width, [joins], sheet.sizes.body, above=1.2, facts=("joins",), priority=3))
    return parts


WALK = Panel("walk", _parts)
TRIPS = paragraphs_panel(
    "trips", lambda sheet: [[Span(winding_words.trips_and_walking(sheet.plan, sheet.units))]], size_of=body
)
