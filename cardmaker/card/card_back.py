"""The panels of a card's back: what stands in front is not said again, and what found no room there stands here."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from cardmaker.card.fitting import GUTTER, Fitted, Placed
from cardmaker.card.parts import columns_part, heading_part, run_in_part, stack_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import NO_ROOM, Part, stack_heights
from cardmaker.layout.type_setting import Span
from cardmaker.model.card_layout import CardLayout
from cardmaker.model.marks import Face
from cardmaker.model.record_class import replace
from cardmaker.wording.back_words import heading_of_rest, lead_of_rest, lead_of_whole

NAME_AGAIN: Final = "back-name"  # the one panel that says again what stands in front
LISTS: Final = frozenset({"trouble", "student", "changes"})  # what is looked up line by line
LAST_OF_ALL: Final[dict[str, tuple[tuple[str, ...], tuple[str, ...]]]] = {
    "rest-and-code": ((), ("file-code",)),
    "rest-code-and-sample": (("sample",), ("file-code",)),
}
"""The panels of all that has no place of its own behind the front, with what stands below and beside that."""
PICTURES: Final = ("results",)  # panels without words of their own, which something else on the back stands for
BACK_ONLY: Final = ("pieces", "student")  # panels that stand among what is left over, unless they have a place
ABOVE_LAST: Final = 3.0  # mm
TWO_COLUMNS: Final = 140.0  # mm: from there on what is left over stands in two of them
BETWEEN_LEFT_OVER: Final = 1.6  # mm between what is left of one panel and of the next


def panels_of_back(panels: Mapping[str, Panel], layout: CardLayout, front: Fitted) -> dict[str, Panel]:
    """The panels of a layout's back as they stand behind that front: without what is told there.

    Of a panel that stands in front these are the parts that found no room there; of another one all parts, unless the
    front tells some of them elsewhere. What is left of a panel has a heading of its own, without the number of a step.
    """
    told = frozenset(fact for placed in front.placed for fact in placed.told)
    in_front = {placed.panel.name: placed for placed in front.placed}
    places = [place for row in layout.back for place in row]
    names = [name for place in places for name in (place.panel, place.instead) if name]
    behind = {name: _behind(panels, name, told, front, in_front.get(name)) for name in names}
    return behind | {name: _rest_panel(name, panels, names, front) for name in names if name in LAST_OF_ALL}


def lost_in_front(layout: CardLayout, front: Fitted) -> list[str]:
    """The facts of parts that found no room in front, and whose panel has no place on the back."""
    on_back = {place.panel for row in layout.back for place in row}
    if not on_back.isdisjoint(LAST_OF_ALL):
        return []
    lost = (placed for placed in front.placed if placed.panel.name not in on_back)
    return [fact for placed in lost for part in _rest(front, placed) for fact in part.facts]


def _behind(
    panels: Mapping[str, Panel], name: str, told: frozenset[str], front: Fitted, placed: Placed | None
) -> Panel:
    if name == NAME_AGAIN:
        return panels[name]

    def parts(sheet: Sheet, width: float) -> Sequence[Part]:
        if placed is not None:
            return _headed(sheet, width, name, [_in_front(part, placed, width) for part in _rest(front, placed)])
        panel = panels[name]
        return _untold(sheet, width, name, panel.parts(sheet, width), told)

    def applies(sheet: Sheet) -> bool:
        return bool(_rest(front, placed) if placed is not None else _has_more(panels[name], sheet, told))

    return Panel(name, parts, applies, sinks=_sinks(panels, name, placed))


def _sinks(panels: Mapping[str, Panel], name: str, placed: Placed | None) -> bool:
    return placed is None and panels[name].sinks


def _rest(front: Fitted, placed: Placed) -> list[Part]:
    """The parts of a panel that found no room in front, and that no other panel tells there."""
    others = frozenset(fact for other in front.placed if other is not placed for fact in other.told)
    return [part for part in placed.hidden if not others.issuperset(part.facts)]


def _in_front(part: Part, placed: Placed, width: float) -> Part:
    """A picture that was made for the front, as wide as there."""
    if part.words:
        return part
    if width < placed.box.width:
        return replace(part, heights=NO_ROOM)
    return replace(part, draw=lambda box: part.draw(box._replace(width=placed.box.width)))


def _has_more(panel: Panel, sheet: Sheet, told: frozenset[str]) -> bool:
    """Whether a panel that does not stand in front tells what the front does not."""
    return panel.applies(sheet) and any(
        not told.issuperset(part.facts) for part in panel.parts(sheet, WIDE) if part.facts
    )


def _untold(sheet: Sheet, width: float, name: str, parts: Sequence[Part], told: frozenset[str]) -> Sequence[Part]:
    """All parts of a panel where the front tells none of them; else the others under a heading of their own."""
    others = [part for part in parts if part.facts and not told.issuperset(part.facts)]
    others = [replace(part, facts=tuple(fact for fact in part.facts if fact not in told)) for part in others]
    if len(others) == sum(1 for part in parts if part.facts):
        new = iter(others)
        return [next(new) if part.facts else part for part in parts]
    return _headed(sheet, width, name, others)


def _rest_panel(name: str, panels: Mapping[str, Panel], names: Sequence[str], front: Fitted) -> Panel:
    """All that found no room in front and whose panel is not among ``names``, and what is for the back only: paragraph
    by paragraph, each after a word that says what it belongs to; with them what ``LAST_OF_ALL`` says."""
    told = frozenset(fact for each in front.placed for fact in each.told)
    placed = [each for each in front.placed if each.panel.name not in names and _rest(front, each)]
    in_front = [each.panel.name for each in front.placed]
    missing = [each.panel for each in front.left_out if each.panel not in (*names, *PICTURES)]
    missing += [each for each in BACK_ONLY if each not in (*names, *in_front, *missing)]

    def words(sheet: Sheet, width: float) -> list[Part]:
        whole = [each for each in missing if _has_more(panels[each], sheet, told)]
        return [
            *(_led(sheet, lead_of_rest(each.panel.name), _rest(front, each), width) for each in placed),
            *(_led(sheet, lead_of_whole(each), _untold_at(sheet, width, each), width) for each in whole),
        ]

    def _untold_at(sheet: Sheet, width: float, each: str) -> Sequence[Part]:
        return _untold(sheet, width, each, panels[each].parts(sheet, width), told)

    def parts(sheet: Sheet, width: float) -> Sequence[Part]:
        columns = 2 if width >= TWO_COLUMNS else 1
        wide = (width - (columns - 1) * GUTTER) / columns
        below, beside = (
            [_stood(panels[each].parts(sheet, wide)) for each in group if panels[each].applies(sheet)]
            for group in LAST_OF_ALL[name]
        )
        return [_in_columns(words(sheet, wide), below, beside, columns, wide)]

    return Panel(name, parts)


def _stood(parts: Sequence[Part]) -> Part:
    return stack_part(parts, above=ABOVE_LAST)


def _led(sheet: Sheet, lead: str, parts: Sequence[Part], width: float) -> Part:
    """What is left of a panel: its words in one paragraph, after the name of what they belong to."""
    telling = [part for part in parts if part.facts]
    words = [span for part in telling for spans in part.words for span in spans]
    facts = tuple(fact for part in telling for fact in part.facts)
    return words_part(sheet, width, [[Span(lead, Face.SANS_SEMIBOLD), *words]], sheet.sizes.small, facts=facts)


def _in_columns(
    words: Sequence[Part], below: Sequence[Part], beside: Sequence[Part], columns: int, width: float
) -> Part:
    """The words in order, with what stands ``below`` the first of them at the foot of the left column, and what stands
    ``beside`` at the head of the right one: the columns as nearly alike in height as they can be, or all in one."""
    spaced = [replace(part, above=BETWEEN_LEFT_OVER) for part in words]
    if columns == 1:
        return stack_part([*spaced, *below, *beside])
    splits = [([*spaced[:at], *below], [*beside, *spaced[at:]]) for at in range(len(spaced), -1, -1)]
    best = min(splits, key=lambda split: max(stack_heights(column).least for column in split if column))
    sides = [(number * (width + GUTTER), width, stack_part(column)) for number, column in enumerate(best) if column]
    return columns_part(sides, above=0.0)


def _headed(sheet: Sheet, width: float, name: str, parts: Sequence[Part]) -> list[Part]:
    """The parts under the heading of what is left of a panel; the first of them always stands with it.

    Sentences run on from their heading, unless each is looked up by itself.
    """
    heading = heading_of_rest(name)
    if heading and name not in LISTS and all(part.words for part in parts):
        spans = [span for part in parts for words in part.words for span in words]
        return run_in_part(sheet, width, heading, spans, facts=tuple(fact for part in parts for fact in part.facts))
    first, *further = [_set_at(sheet, part, width) for part in parts]
    with_first = replace(first, priority=0, above=0.0)
    return [*([heading_part(sheet, width, heading)] if heading else []), with_first, *further]


def _set_at(sheet: Sheet, part: Part, width: float) -> Part:
    """A part of the front set for the width of the back: its words anew, a picture as wide as it was."""
    if not part.words:
        return part
    words = [list(spans) for spans in part.words]
    return words_part(
        sheet, width, words, sheet.sizes.small, above=part.above, facts=part.facts, priority=part.priority
    )
