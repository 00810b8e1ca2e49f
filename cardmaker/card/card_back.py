"""The panels of a card's back: what stands in front is not said again, and what found no room there stands here."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Final

from cardmaker.card.closing_columns import (
    BACK_ONLY,
    CLOSINGS,
    PICTURES,
    Closing,
    closing_part,
    closing_rows,
    column_width,
    led_paragraph,
    placed_last,
    row_widths,
)
from cardmaker.card.fitting import Fitted, Placed
from cardmaker.card.panels import REST
from cardmaker.card.panels.ribbon_panel import SIGN_PANEL
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import heading_part, run_in_part, stack_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import NO_ROOM, Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.card_layout import CardLayout, Rows
from cardmaker.model.marks import Face
from cardmaker.model.record_class import replace
from cardmaker.wording.back_words import heading_of_rest, heading_of_whole, rest_heading, subject

NAME_AGAIN: Final = "back-name"  # the one panel that says again what stands in front
TITLE: Final = "title"  # the one fact that stands on both sides
GATHERING: Final = frozenset({REST, *CLOSINGS})
LISTS: Final = frozenset(
    {"trouble", "student", "changes", "stuck-winding", "slip-dress", "slip-weave"}
)  # what is looked up line by line
WIDE: Final = 1000.0  # mm: a width at which every panel has its parts


class BackPanels:
    """What may stand behind a front, and what of the front then stands nowhere.

    Of a panel that stands in front these are the parts that found no room there; of another one all parts, unless the
    front tells some of them elsewhere. What is left of a panel has a heading of its own, without the number of a step.
    """

    def __init__(self, panels: Mapping[str, Panel], layout: CardLayout, front: Fitted) -> None:
        self._panels, self._layout, self._front = panels, layout, front
        self._in_front = {placed.panel.name: placed for placed in front.placed}
        self._told = frozenset(fact for placed in front.placed for fact in placed.told) - {TITLE}
        places = [place for row in layout.back for place in row]
        self._names = [name for place in places for name in (place.panel, place.instead) if name]

    def by_name(self) -> dict[str, Panel]:
        """The panels that the rows of the back name."""
        return {name: self._panel(name) for name in self._names}

    def all_essential(self) -> tuple[Rows, dict[str, Panel]]:
        """The rows and panels of the back with nothing in them that may be left out."""
        rows = tuple(tuple(replace(place, essential=True) for place in row) for row in self._layout.back)
        return rows, {name: replace(panel, parts=_all_of(panel)) for name, panel in self.by_name().items()}

    def nowhere(self, sheet: Sheet, behind: Fitted) -> list[str]:
        """The facts of parts that found no room in front, and that nothing tells behind either; and of what closes the
        back, where a simpler form of it stands there."""
        told = frozenset(fact for placed in behind.placed for fact in placed.told)
        gathers = not GATHERING.isdisjoint(self._names)
        lost = (placed for placed in self._front.placed if not gathers and not self._has_place(placed))
        parts = [part for placed in lost for part in self._rest(placed)]
        parts += [part for name in self._not_closing(behind) for part in self._panels[name].parts(sheet, WIDE)]
        return [fact for part in parts for fact in part.facts if fact not in told]

    def _not_closing(self, behind: Fitted) -> Iterator[str]:
        """The panels that would have closed the back, had there been room for its fullest form."""
        placed = {each.panel.name for each in behind.placed}
        for place in (place for row in self._layout.back for place in row):
            if place.panel in CLOSINGS and place.instead in placed:
                there = {name for names in CLOSINGS.get(place.instead, ()) for name in names}
                yield from (name for names in CLOSINGS[place.panel] for name in names if name not in there)

    def _has_place(self, placed: Placed) -> bool:
        return placed.panel.name in self._names

    def _panel(self, name: str) -> Panel:
        if name == NAME_AGAIN:
            return self._panels[name]
        if name == REST:
            return Panel(REST, self._more, lambda sheet: bool(self._more(sheet, WIDE)))
        if name in CLOSINGS:
            return Panel(name, lambda sheet, width: self._closing(sheet, width, CLOSINGS[name]))
        placed = self._in_front.get(name)
        if placed is None:
            return Panel(
                name,
                lambda sheet, width: self._untold(sheet, width, name),
                lambda sheet: self._panels[name].applies(sheet) and bool(self._untold(sheet, WIDE, name)),
                sinks=self._panels[name].sinks,
            )
        rest = self._rest(placed)
        return Panel(
            name,
            lambda sheet, width: _headed(sheet, width, name, [_as_in_front(part, placed, width) for part in rest]),
            lambda sheet: bool(rest),
        )

    def _rest(self, placed: Placed) -> list[Part]:
        """The parts of a panel that found no room in front, and that no other panel tells there."""
        told = frozenset(fact for other in self._front.placed if other is not placed for fact in other.told)
        return [part for part in placed.hidden if not told.issuperset(part.facts)]

    def _untold(self, sheet: Sheet, width: float, name: str) -> Sequence[Part]:
        """All parts of a panel where the front tells none of them; else the others, under a heading of their own."""
        parts = self._panels[name].parts(sheet, width)
        others = [part for part in parts if part.facts and not self._told.issuperset(part.facts)]
        others = [replace(part, facts=tuple(fact for fact in part.facts if fact not in self._told)) for part in others]
        is_whole = len(others) == sum(1 for part in parts if part.facts)
        new = iter(others)
        parts = [next(new) if part.facts else part for part in parts] if is_whole else parts
        return parts if is_whole else _headed(sheet, width, name, others) if others else []

    def _more(self, sheet: Sheet, width: float) -> list[Part]:
        """Sentences of all panels without a place of their own behind, one paragraph; then their pictures."""
        spans: Paragraph = []
        pictures: list[Part] = []
        facts: list[str] = []
        for name, part in self._others(sheet, width):
            if part.words:
                label = Span(subject(name), Face.SANS_SEMIBOLD)
                spans += [*([label] if label.text and label not in spans else []), *(s for w in part.words for s in w)]
                facts += part.facts
            else:
                pictures.append(part)
        words = (
            run_in_part(
                sheet,
                width,
                rest_heading(is_sign=SIGN_PANEL in sheet.layout.panels),
                spans,
                facts=tuple(dict.fromkeys(facts)),
            )
            if spans
            else []
        )
        return [*words, *pictures]

    def _closing(self, sheet: Sheet, width: float, closing: Closing) -> list[Part]:
        """The same in a paragraph for each subject, and what is for the back only, about the panels that close it."""
        wide = column_width(width)
        words = self._closing_words(sheet, wide)
        below, beside = (self._closing_panels(sheet, wide, names) for names in closing)
        columns = closing_part(words, below, beside, width)
        if not sheet.is_crowded or not below or not beside or wide == width:
            return [columns]
        panels = zip(closing, row_widths(width), strict=True)
        at_left, at_right = (stack_part(self._closing_panels(sheet, room, names)) for names, room in panels)
        rows = closing_rows(sheet, words, at_left, at_right, width)
        return [min(columns, rows, key=lambda part: part.heights.least)]

    def _closing_panels(self, sheet: Sheet, width: float, names: Sequence[str]) -> list[Part]:
        panels = (self._panels[name] for name in names)
        return [placed_last(panel.parts(sheet, width)) for panel in panels if panel.applies(sheet)]

    def _closing_words(self, sheet: Sheet, width: float) -> list[Part]:
        by_subject: dict[str, list[Part]] = {}
        for name, part in self._others(sheet, width):
            by_subject.setdefault(subject(name), []).append(part)
        missing = [each.panel for each in self._front.left_out]
        for name in dict.fromkeys((*missing, *BACK_ONLY)):
            if name not in (*self._names, *self._in_front, *PICTURES) and self._panels[name].applies(sheet):
                parts = [part for part in self._untold(sheet, width, name) if part.facts]
                by_subject.setdefault(heading_of_whole(name), []).extend(parts)
        return [led_paragraph(sheet, width, lead, parts) for lead, parts in by_subject.items() if parts]

    def _others(self, sheet: Sheet, width: float) -> Iterator[tuple[str, Part]]:
        """What found no room in front, panel by panel in their order; of one that a simpler one stood in for, too."""
        named = self._told_by_named(sheet)
        told = self._told | named
        for place in (place for row in (*self._layout.rows, *self._layout.other_half) for place in row):
            for name in (place.panel, place.instead):
                placed = self._in_front.get(name)
                if placed is not None and not self._has_place(placed):
                    rest = (part for part in self._rest(placed) if not named.issuperset(part.facts))
                    yield from ((name, _as_in_front(part, placed, width)) for part in rest)
                    told |= {*placed.lacks}
            if place.instead in self._in_front and place.panel not in self._names:
                for part in self._panels[place.panel].parts(sheet, width):
                    if part.words and part.facts and not told.issuperset(part.facts):
                        yield place.panel, part

    def _told_by_named(self, sheet: Sheet) -> frozenset[str]:
        """The facts of the panels that have a place of their own on the back."""
        panels = (self._panel(name) for name in self._names if name not in (*GATHERING, NAME_AGAIN))
        parts = (part for panel in panels if panel.applies(sheet) for part in panel.parts(sheet, WIDE))
        return frozenset(fact for part in parts for fact in part.facts)


def _all_of(panel: Panel) -> Callable[[Sheet, float], Sequence[Part]]:
    """The parts of a panel, each of which has its place."""
    return lambda sheet, width: [replace(part, priority=0) for part in panel.parts(sheet, width)]


def _headed(sheet: Sheet, width: float, name: str, parts: Sequence[Part]) -> list[Part]:
    """The parts under the heading of what is left of a panel; the first of them always stands with it.

    Sentences run on from their heading, unless each is looked up by itself and there is room for that.
    """
    heading = heading_of_rest(name)
    runs_on = name not in LISTS or sheet.is_crowded
    if heading and runs_on and all(part.words for part in parts):
        spans = [span for part in parts for words in part.words for span in words]
        return run_in_part(sheet, width, heading, spans, facts=tuple(fact for part in parts for fact in part.facts))
    first, *further = [_set_at(sheet, part, width) for part in parts]
    with_first = replace(first, priority=0, above=0.0)
    return [*([heading_part(sheet, width, heading)] if heading else []), with_first, *further]


def _set_at(sheet: Sheet, part: Part, width: float) -> Part:
    """A part of the front set for the back: its words anew, a picture as it is."""
    if not part.words:
        return part
    words, size = [list(spans) for spans in part.words], sheet.sizes.small
    return words_part(sheet, width, words, size, above=part.above, facts=part.facts, priority=part.priority)


def _as_in_front(part: Part, placed: Placed, width: float) -> Part:
    """A picture that was made for the front, as wide as there."""
    if part.words:
        return part
    if width < placed.box.width:
        return replace(part, heights=NO_ROOM)
    return replace(part, draw=lambda box: part.draw(box._replace(width=placed.box.width)))
