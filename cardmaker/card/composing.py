"""The card: a plan and a layout become one page of marks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Final, TypeGuard

from cardmaker.card.fitting import DoesNotFit, Fitted, fit
from cardmaker.card.panels import PANELS, READING_ORDER
from cardmaker.card.panels.ribbon_panel import draw_ribbon, ribbon_width
from cardmaker.card.sheet import NO_OWNER, CardOwner, Drawing, Sheet, tightened
from cardmaker.layout.yarn_inks import Hatches, card_inks
from cardmaker.model.card_layout import CardLayout, PanelPlace, Paper
from cardmaker.model.marks import Box, Group, Mark, Page, Ruler
from cardmaker.model.plan import Plan
from cardmaker.model.problems import Refusal
from cardmaker.model.record_class import record, replace
from cardmaker.model.viewpoint import FROM_SEAT
from cardmaker.reckoning.stripes.segments import hand_counted
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.wording import shed_words, title_words
from cardmaker.wording.formatters import Units
from cardmaker.wording.phrases import did_you_mean

if TYPE_CHECKING:
    from cardmaker.wording.change_words import Replaced

Rows = tuple[tuple[PanelPlace, ...], ...]
TIGHTER: Final = (1.0, 0.95, 0.9, 0.85)  # how far type and gaps give way before a card is refused


@record
class Composed:
    """The page, and the panels that found no room on it."""

    page: Page
    left_out: tuple[str, ...]


def compose_card(
    plan: Plan,
    layout: CardLayout,
    paper: Paper,
    ruler: Ruler,
    units: Units | None = None,
    replaces: Replaced | None = None,
    owner: CardOwner = NO_OWNER,
    hatches: Hatches | None = None,
) -> Composed:
    """One page, always: what does not fit is left out by priority. Raises Refusal when the essential does not fit.

    It is drawn for the view of its plan. A card that ``replaces`` another says so under its name, whatever the layout.
    Of a binder or a class it takes the ``hatches`` that were settled for all of its patterns.
    """
    inks, segments = card_inks(plan.pattern, hatches), hand_counted(plan.runs)
    sheet = Sheet(
        plan, layout, paper, ruler, units or layout.units, inks, segments, layout.type_sizes,
        plan_as_seen(plan, FROM_SEAT), replaces, owner,
    )  # fmt: skip
    box = layout.printable(paper)
    groups: list[Group] = []
    if layout.ribbon:
        ribbon = Box(box.left, box.top, ribbon_width(sheet), box.height)
        groups.append(_group("ribbon", ribbon, draw_ribbon(sheet, ribbon)))
        box = box.inset(left=ribbon.width + 4)
    sheet, fitted = _fitted(sheet, box)
    drawings = [(placed, placed.panel.draw(sheet, placed.box)) for placed in fitted.placed]
    groups += [_group(placed.panel.name, placed.box, drawing) for placed, drawing in drawings]
    left_out = (*fitted.left_out, *(drawing.left_out for _, drawing in drawings if drawing.left_out))
    title = title_words.card_title(plan.pattern)
    return Composed(Page(paper.width_mm, paper.height_mm, _in_reading_order(groups), title), left_out)


def face_repeat(plan: Plan, hatches: Hatches | None = None) -> tuple[Box, tuple[Mark, ...], str]:
    """One repeat of the tape's face at life size, from the top left corner: its box, its marks, and what it shows."""
    from cardmaker.layout.woven_face import Cloth, pick_height, picks_drawn, repeat_of

    plan = plan_as_seen(plan, FROM_SEAT)
    repeat = repeat_of(plan)
    box = Box(0.0, 0.0, float(plan.width.likely_mm), pick_height(plan) * len(repeat))
    marks = picks_drawn(Cloth(plan, card_inks(plan.pattern, hatches)), [pick.raised for pick in repeat], box)
    return box, tuple(marks), shed_words.sheds_alt_text(plan)


def _fitted(sheet: Sheet, box: Box) -> tuple[Sheet, Fitted]:
    """The panels placed, in type as large as the page allows; then with simpler panels instead of the large ones.

    Type never goes below the layout's smallest. The least wanted panel that has a simpler one gives way first.
    """
    rows = sheet.layout.rows if sheet.replaces is None else _with_changes(sheet.layout.rows)
    while True:
        for factor in TIGHTER:
            sizes = tightened(sheet.layout.type_sizes, factor)
            trial = replace(sheet, sizes=sizes, picture_share=1 - (1 - factor) * 3)
            try:
                fitted = fit(trial, rows, PANELS, box, factor)
            except DoesNotFit as error:
                needed = str(error)
                continue
            if fitted.placed or not fitted.left_out:
                return trial, fitted
            needed = "has room for none of its panels"
        if (simpler := _simpler(rows)) is None:
            break
        rows = simpler
    message = f"{sheet.plan.ends} ends do not fit on {sheet.paper.name}: the card {needed}."
    raise Refusal(("warp",), message, "Choose a larger paper or another layout.")


def _with_changes(rows: Rows) -> Rows:
    """The rows with what the card replaces under the first one, unless the layout has a place for it."""
    if any(place.panel == "changed" for row in rows for place in row):
        return rows
    return (*rows[:1], (PanelPlace("changed", rows[0][0].columns, 1, True),), *rows[1:])


def _simpler(rows: Rows) -> Rows | None:
    """The rows with the least wanted of the large panels replaced by its simpler one; None when there is none left."""
    large = [place for row in rows for place in row if place.instead]
    if not large:
        return None
    least = max(large, key=lambda place: place.priority)
    plain = replace(least, panel=least.instead, instead="")
    return tuple(tuple(plain if place is least else place for place in row) for row in rows)


def unknown_panels(layout: CardLayout) -> tuple[Refusal, ...]:
    """A refusal for every panel of a layout that there is no such panel of, with the nearest that there is."""
    refusals = []
    for row_index, row in enumerate(layout.rows):
        for index, place in enumerate(row):
            for key, name in (("panel", place.panel), ("instead", place.instead)):
                if name and name not in PANELS:
                    remedy = did_you_mean(name, PANELS, f"The panels are {', '.join(PANELS)}.")
                    refusals.append(Refusal(("rows", row_index, index, key), f"'{name}' is not a panel.", remedy))
    return tuple(refusals)


def _group(name: str, box: Box, drawing: Drawing) -> Group:
    return Group("panel", name, box, drawing.marks)


def _in_reading_order(groups: list[Group]) -> tuple[Mark, ...]:
    """The panels as they are read aloud: no panel lies over another, so they may be drawn in any order."""
    ordered = sorted(groups, key=lambda group: READING_ORDER.index(group.name))
    return tuple(_titled_once(ordered))


def _titled_once(panels: Iterable[Group]) -> Iterator[Group]:
    """A card has one title; the name said again, on a visitor's side, is a heading."""
    is_titled = False
    for panel in panels:
        if is_titled and any(_is_title(mark) for mark in panel.marks):
            marks = (replace(mark, role="heading") if _is_title(mark) else mark for mark in panel.marks)
            yield replace(panel, marks=tuple(marks))
        else:
            is_titled = is_titled or any(_is_title(mark) for mark in panel.marks)
            yield panel


def _is_title(mark: Mark) -> TypeGuard[Group]:
    return isinstance(mark, Group) and mark.role == "title"
