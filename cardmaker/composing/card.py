"""The card: a plan and a layout become one page of marks."""

from __future__ import annotations

from dataclasses import dataclass, replace
from difflib import get_close_matches
from typing import Final

from cardmaker.composing import wording
from cardmaker.composing.fitting import DoesNotFit, Fitted, fit
from cardmaker.composing.measures import Units
from cardmaker.composing.palette import palette
from cardmaker.composing.panels.board import BOARD
from cardmaker.composing.panels.face import FACE
from cardmaker.composing.panels.order import ORDER
from cardmaker.composing.panels.pickup import PICKUP
from cardmaker.composing.panels.press import PRESS
from cardmaker.composing.panels.rescue import RESCUE
from cardmaker.composing.panels.results import RESULTS
from cardmaker.composing.panels.ribbon import draw_ribbon, ribbon_width
from cardmaker.composing.panels.room import ROOM
from cardmaker.composing.panels.shuttle import SHUTTLE
from cardmaker.composing.panels.steps import STEPS
from cardmaker.composing.panels.title import NAME, TITLE
from cardmaker.composing.panels.turns import TURNS
from cardmaker.composing.panels.walk import WALK
from cardmaker.composing.panels.words import CAUTIONS, CHANGES, FOOT, LENGTHS, LOOMS, NOTES, SOURCE, WEAVING
from cardmaker.composing.panels.yarn import YARN
from cardmaker.composing.sheet import Drawing, Sheet, tightened
from cardmaker.geometry import Box
from cardmaker.nouns.card_layout import CardLayout, Paper
from cardmaker.nouns.marks import Group, Page
from cardmaker.nouns.plan import Plan
from cardmaker.nouns.ruler import Ruler
from cardmaker.problems import Refusal
from cardmaker.reckoning.segments import segments

PANELS: Final = {
    panel.name: panel
    for panel in (
        TITLE, ORDER, BOARD, WALK, FACE, SHUTTLE, YARN, LENGTHS, SOURCE, NOTES, CHANGES, LOOMS, RESULTS, FOOT,
        NAME, CAUTIONS, ROOM, STEPS, TURNS, PRESS, WEAVING, RESCUE, PICKUP,
    )
}  # fmt: skip

TIGHTER: Final = (1.0, 0.95, 0.9, 0.85)  # how far type and gaps give way before a card is refused


@dataclass(frozen=True, slots=True)
class Composed:
    """The page, and the panels that found no room on it."""

    page: Page
    left_out: tuple[str, ...]


def compose_card(plan: Plan, layout: CardLayout, paper: Paper, ruler: Ruler, units: Units | None = None) -> Composed:
    """One page, always: what does not fit is left out by priority. Raises Refusal when the essential does not fit."""
    pattern = plan.pattern
    colours = [(colour.yarn, pattern.yarn(colour.yarn).colour) for colour in plan.colours]
    sizes = layout.type_sizes
    sheet = Sheet(plan, layout, paper, ruler, units or layout.units, palette(colours), segments(plan.runs), sizes)
    page = printable(layout, paper)
    groups: list[Group] = []
    inner = page
    if layout.ribbon:
        ribbon = Box(page.left, page.top, ribbon_width(sheet), page.height)
        groups.append(_group("ribbon", ribbon, draw_ribbon(sheet, ribbon)))
        inner = page.inset(left=ribbon.width + 4)
    sheet, fitted = _fitted(sheet, inner)
    groups += [_group(placed.panel.name, placed.box, placed.panel.draw(sheet, placed.box)) for placed in fitted.placed]
    title = wording.page_title(pattern)
    return Composed(Page(paper.width_mm, paper.height_mm, tuple(groups), title), fitted.left_out)


def _fitted(sheet: Sheet, box: Box) -> tuple[Sheet, Fitted]:
    """The panels placed, in type as large as the page allows: tighter, never below the layout's smallest."""
    for factor in TIGHTER:
        sizes = tightened(sheet.layout.type_sizes, factor)
        trial = replace(sheet, sizes=sizes, give=1 - (1 - factor) * 3)
        try:
            return trial, fit(trial, sheet.layout.rows, PANELS, box, factor)
        except DoesNotFit as no:
            needed = no
    message = f"{sheet.plan.ends} ends do not fit on {sheet.paper.name}: the card {needed}."
    raise Refusal(("warp",), message, "Choose a larger paper or another layout.") from None


def unknown_panels(layout: CardLayout) -> tuple[Refusal, ...]:
    """A refusal for every panel of a layout that there is no such panel of, with the nearest that there is."""
    refusals = []
    for row_index, row in enumerate(layout.rows):
        for index, place in enumerate(row):
            if place.panel not in PANELS:
                near = get_close_matches(place.panel, PANELS, 1)
                remedy = f"Did you mean {near[0]}?" if near else f"The panels are {', '.join(PANELS)}."
                message = f"'{place.panel}' is not a panel."
                refusals.append(Refusal(("rows", row_index, index, "panel"), message, remedy))
    return tuple(refusals)


def printable(layout: CardLayout, paper: Paper) -> Box:
    """What margins and binding side leave of the paper."""
    margin = layout.margin_mm
    left = layout.binding_mm if layout.binding_side == "left" else margin
    right = layout.binding_mm if layout.binding_side == "right" else margin
    return Box(left, margin, paper.width_mm - left - right, paper.height_mm - 2 * margin)


def _group(name: str, box: Box, drawing: Drawing) -> Group:
    return Group("panel", name, box, drawing.marks, drawing.alt)
