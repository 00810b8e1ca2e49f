"""Threading: the heddle under its brackets, a sentence for where end 1 goes, boxes to tick when all is threaded."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from cardmaker.card.panels.heddle_boards import HeddlePicture, draw_heddle, heddle_heights, heddle_picture
from cardmaker.card.panels.heddle_lens import draw_lens, lens_height
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import (
    aside_fits,
    heading_part,
    picture_part,
    step_indent,
    step_line_part,
    step_part,
    words_part,
)
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.tick_boxes import TickBox, tick_box_width, tick_boxes_height, tick_boxes_part
from cardmaker.layout.ink import ACCENT, BLACK, SOFT
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import Span, cap_height, fitting_size, text_height
from cardmaker.model.marks import Box, Face, Mark
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import replace
from cardmaker.wording import heddle_alt_texts, heddle_words, student_words, view_words
from cardmaker.wording.step_words import THREAD

ABOVE_PLACE: Final = 1.7  # mm
HEADED_STEPS: Final = frozenset({"shuttle", "shuttle-first", "weave"})  # panels that head the step of weaving
LARGER_PLACE: Final = 1.1  # the name of the first space, at least, in sizes of a sentence
CALM: Final = 0.75  # of the size of a count: what it shrinks to on a crowded card
# What finds a place only where there is room
MISCOUNTED, LENS, FURTHER, RULE, MIDDLE = -1, 2, 4, 5, 7


def _alt_text(sheet: Sheet) -> str:
    return heddle_alt_texts.heddle_alt_text(sheet.plan)


# on a card with a board


def _board_parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """The heading with from where it is seen, the picture, where end 1 goes, and the boxes to tick."""
    picture = heddle_picture(sheet, width)
    heading, view = _heading(sheet, width)
    where = _where(sheet, view, brief=False)
    if sheet.is_crowded:
        brief = _where(sheet, view, brief=True)
        where = min(where, brief, key=lambda each: _line_count(sheet, each, sheet.sizes.smallest, width))
    size = _in_fewest_lines(sheet, where, width)
    checks = _checks(sheet, size, width)
    lead = f"{heddle_words.WHEN_DONE}: "
    return [
        heading,
        *_picture_parts(sheet, picture, width),
        *_sentences(sheet, where, size, width),
        tick_boxes_part(sheet, width, checks, size, above=1.7, facts=("checks",), lead=lead),
    ]


def _in_fewest_lines(sheet: Sheet, paragraphs: Sequence[Paragraph], width: float) -> float:
    """The largest size, from that of sentences down to the smallest, at which the paragraphs take as few lines as they
    can: half a point less often spares a word that would stand alone."""
    sizes = [sheet.sizes.body]
    while sizes[-1] - 0.5 >= sheet.sizes.smallest:
        sizes.append(sizes[-1] - 0.5)
    return min(sizes, key=lambda size: _line_count(sheet, paragraphs, size, width))


def _line_count(sheet: Sheet, paragraphs: Sequence[Paragraph], size: float, width: float) -> int:
    return sum(len(sheet.lines(spans, size, width)) for spans in paragraphs)


def _heading(sheet: Sheet, width: float) -> tuple[Part, Paragraph]:
    """The step, with from where the heddle is seen at the end of its line; else that goes before the sentence."""
    behind = sheet.plan.view.from_behind
    for words in (view_words.view_beside_heading(sheet.plan.loom), view_words.seen_from(sheet.plan.loom, brief=True)):
        if aside_fits(sheet, width, THREAD.name, words, step=True):
            return replace(step_part(sheet, width, THREAD, words, strong=behind), facts=("view",)), []
    face, colour = (Face.SANS_SEMIBOLD, BLACK) if behind else (Face.SANS, SOFT)
    return step_part(sheet, width, THREAD), [Span(view_words.seen_from(sheet.plan.loom), face, colour)]


def _picture_parts(sheet: Sheet, picture: HeddlePicture | None, width: float) -> Sequence[Part]:
    """The board and, where its spaces are too close to be seen, two places of it enlarged."""

    def draw(box: Box) -> Sequence[Mark]:
        return draw_heddle(sheet, picture, box) if picture else []

    facts = ("board", "stripes")
    parts = [picture_part("heddle", heddle_heights(sheet, picture), draw, _alt_text(sheet), above=0.4, facts=facts)]
    if picture and picture.in_bands:
        lens = exactly(lens_height(sheet))
        alt = heddle_alt_texts.lens_alt_text(sheet.plan)
        priority = LENS if sheet.is_crowded else 0
        parts.append(picture_part("lens", lens, lambda box: draw_lens(sheet, box), alt, above=1.2, priority=priority))
    return parts


def _where(sheet: Sheet, view: Paragraph, *, brief: bool) -> list[Paragraph]:
    """How to count out to the first space and, of two heddles, to the first one of the back heddle and how each end
    goes through both."""
    plan = sheet.plan
    front = Span(heddle_words.count_out(plan.loom, plan.placement, brief=sheet.brief), Face.SANS_SEMIBOLD)
    if plan.placement.back is None:
        return [[*view, front]]
    behind = Span(heddle_words.count_out_behind(plan, brief=sheet.brief), Face.SANS_SEMIBOLD)
    nearer = [Span(view_words.nearer_heddle(plan.loom))] if plan.loom.view.from_behind else []  # no picture tells it
    through: Paragraph = [Span(heddle_words.through_both(plan.loom, brief=brief))]
    if not sheet.brief:
        return [[*view, front, behind, *nearer], through]
    if both := heddle_words.count_out_on_both(plan):
        return [[*view, Span(both, Face.SANS_SEMIBOLD), *nearer, *through]]
    return [[*view, front], [behind, *nearer], through]


def _checks(sheet: Sheet, size: float, width: float, *, is_small: bool = False) -> list[TickBox]:
    """What to count when all is threaded: in full, or on a small or crowded card in as few rows as it can be told."""
    brief, joined = (heddle_words.closing_checks_in_brief(sheet.plan, joined=joined) for joined in (False, True))
    told = [heddle_words.closing_checks(sheet.plan)]
    if is_small or sheet.is_crowded:
        told.append(brief)
    boxes = [[TickBox(text, face=Face.SANS) for text in texts] for texts in (*told, joined)]
    if not sheet.is_crowded or tick_box_width(sheet, boxes[-1][0], size) > width:
        boxes.pop()
    return min(boxes, key=lambda each: tick_boxes_height(sheet, each, size, width))


def _sentences(sheet: Sheet, where: list[Paragraph], size: float, width: float) -> list[Part]:
    """Where end 1 goes, with what tells a miscount where that takes no further line; and further sentences for which
    there may be room: the rule of two heddles, the middle end, the half space."""
    plan = sheet.plan
    moved = heddle_words.moved_aside(plan, sheet.units)
    facts = ["first space", *(["both heddles"] if plan.placement.back else [])]
    if moved and not sheet.brief:
        where, facts = [[*where[0], Span(moved)], *where[1:]], [*facts, "moved"]
    told: list[_Further] = []
    miscounted = Span(heddle_words.miscounted(plan.placement))
    alone: Paragraph = [Span(heddle_words.miscounted(plan.placement, alone=True))]
    longer = [[*where[0], miscounted], *where[1:]]
    if _line_count(sheet, longer, size, width) > _line_count(sheet, where, size, width):
        told.append(_Further([miscounted], ("miscount",), MISCOUNTED, alone))
    else:
        where, facts = longer, [*facts, "miscount"]
    parts = [words_part(sheet, width, where, size, above=1.8, facts=tuple(facts))]
    if moved and sheet.brief:
        told.append(_Further([Span(moved)], ("moved",), RULE))
    told.append(_Further(_middle(plan), ("middle end",), MIDDLE))
    if not sheet.brief:  # one paragraph
        told = [
            _Further(
                [span for each in told for span in each.words],
                tuple(f for each in told for f in each.facts),
                FURTHER,
                [span for each in told for span in each.elsewhere],
            )
        ]
    return [*parts, *(_further_part(sheet, each, width) for each in told)]


def _further_part(sheet: Sheet, told: _Further, width: float) -> Part:
    """What tells a miscount stands close to what it speaks of."""
    above = 0.3 if "miscount" in told.facts and sheet.brief else 1.2
    part = words_part(
        sheet, width, [told.words], sheet.sizes.small, above=above, facts=told.facts, priority=told.priority
    )
    return replace(part, words=(told.elsewhere,))


class _Further(NamedTuple):
    """Sentences for which there may be room."""

    words: Paragraph
    facts: tuple[str, ...]
    priority: int
    alone: Paragraph | None = None  # the same where what they follow does not stand before them

    @property
    def elsewhere(self) -> Paragraph:
        return self.alone or self.words


def _middle(plan: Plan) -> Paragraph:
    """The middle end and, where the tape does not lie in the middle of the heddle, that it does not."""
    middle = [Span(heddle_words.middle_end(plan))]
    if plan.placement.half_space != "none":
        middle.append(Span(heddle_words.half_space(plan.placement, plan.loom)))
    return middle


# on a small card: in words alone


def _first_parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """What the first space counts from, its name as large as a count, and the boxes to tick."""
    size = sheet.sizes.body
    checks = _checks(sheet, size, width, is_small=True)
    lead = f"{heddle_words.WHEN_DONE}: "
    return [
        _first_step(sheet, width),
        _first_space_part(sheet, width),
        tick_boxes_part(sheet, width, checks, size, above=_closer(sheet, 1.4), facts=("checks",), lead=lead),
    ]


def _first_step(sheet: Sheet, width: float) -> Part:
    """The words of the step in the line of its heading, where the other steps have one; else after its number alone."""
    words = heddle_words.end_1_counted(sheet.plan)
    if HEADED_STEPS & sheet.layout.panels and aside_fits(sheet, width, THREAD.name, words, step=True):
        return replace(step_part(sheet, width, THREAD, words), facts=("view",))
    return step_line_part(sheet, width, THREAD, [Span(words)], facts=("view",))


def _closer(sheet: Sheet, space: float) -> float:
    """A space that gives way a little on a crowded card."""
    return space * 0.4 if sheet.is_crowded else space


def _first_space_part(sheet: Sheet, width: float) -> Part:
    """The name of the space under the words of its step; of two heddles one below the other where both are large, else
    in one line. It is a picture of words, told in full."""
    sizes, face, indent = sheet.sizes, Face.SANS_BOLD, step_indent(sheet)
    least = sizes.body * LARGER_PLACE
    name = heddle_words.first_place(sheet.plan)
    places = name.split("; ")
    if len(places) > 1 and sheet.is_crowded and sheet.wide(name, face, least) <= width - indent:
        places = [name]
    longest = max(places, key=lambda place: sheet.wide(place, face, sizes.count))
    most = max(least, sizes.count * CALM) if sheet.is_crowded else sizes.count
    size = fitting_size(longest, face, most, width - indent, sheet.ruler, least)

    def draw(box: Box) -> list[Mark]:
        spans = [(Span(place, face, ACCENT),) for place in places]
        return list(sheet.set(spans, box.left + indent, box.top + cap_height(size), size))

    height = exactly(text_height(len(places), size))
    return picture_part(
        "first", height, draw, _alt_text(sheet), above=_closer(sheet, ABOVE_PLACE), facts=("first space",)
    )


def _checks_parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """What is counted when all is threaded, by itself: on the back of a card whose front has no room for it."""
    size = sheet.sizes.body
    boxes = tick_boxes_part(sheet, width, _checks(sheet, size, width), size, above=0.0, facts=("checks",))
    return [heading_part(sheet, width, heddle_words.WHEN_DONE), boxes]


# of a loom that somebody has threaded beforehand


def _threaded_parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """One line to tick."""
    facts = ("board", "first space", "view", "checks")
    box = TickBox(heddle_words.threaded_beforehand(sheet.plan), face=Face.SANS)
    return [
        step_part(sheet, width, THREAD, student_words.DONE),
        tick_boxes_part(sheet, width, [box], sheet.sizes.body, above=0.0, facts=facts),
    ]


BOARD = Panel("board", _board_parts)
THREADED = Panel("threaded", _threaded_parts)
FIRST = Panel("first", _first_parts)
CHECKS: Final = Panel("checks", _checks_parts)
