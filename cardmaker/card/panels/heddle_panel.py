"""Threading: the heddle under its brackets, a sentence for where end 1 goes, boxes to tick when all is threaded."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Final

from cardmaker.card.panels.first_space_panel import threading_checks
from cardmaker.card.panels.heddle_boards import HeddlePicture, draw_heddle, heddle_heights, heddle_picture
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import (
    aside_fits,
    picture_part,
    step_baseline,
    step_heading_width,
    step_part,
    words_part,
)
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.tick_boxes import tick_boxes_part
from cardmaker.layout.ink import BLACK, SOFT
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Box, Face, Mark
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import record, replace
from cardmaker.wording import heddle_alt_texts, heddle_words, view_words
from cardmaker.wording.step_words import THREAD

ABOVE_COUNTS: Final = 1.0  # mm from the heading to the counts that a crowded card does without
BESIDE_KEY: Final = 4.0  # mm on either side of the key to the board
# What finds a place only where there is room
MISCOUNTED, LENS, FURTHER, RULE, MIDDLE = -1, 2, 4, 5, 7


def _board_parts(sheet: Sheet, width: float) -> Sequence[Part]:
    """The heading with from where it is seen, the picture, where end 1 goes, and the boxes to tick."""
    picture = heddle_picture(sheet, width)
    heading, view = _heading(sheet, width)
    where = _where(sheet, view, brief=False)
    if sheet.is_terse and sheet.brief:
        tries = [_where_in_terse(sheet, view, articles=articles) for articles in (True, False)]
        where = min(tries, key=lambda each: _line_count(sheet, each, sheet.sizes.smallest, width))
    elif sheet.is_crowded:
        brief = _where(sheet, view, brief=True)
        where = min(where, brief, key=lambda each: _line_count(sheet, each, sheet.sizes.smallest, width))
    size = _in_fewest_lines(sheet, where, width)
    checks = threading_checks(sheet, size, width)
    lead = f"{heddle_words.WHEN_DONE}: "
    return [
        heading,
        *_picture_parts(sheet, picture, width),
        *_sentences(sheet, where, size, width),
        tick_boxes_part(sheet, width, checks, size, above=1.7 * sheet.over_words, facts=("checks",), lead=lead),
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
            heading = replace(step_part(sheet, width, THREAD, words, strong=behind), facts=("view",))
            return _with_key(sheet, width, _close_above_counts(sheet, heading), words), []
    face, colour = (Face.SANS_SEMIBOLD, BLACK) if behind else (Face.SANS, SOFT)
    heading = _with_key(sheet, width, step_part(sheet, width, THREAD), "")
    return heading, [Span(view_words.seen_from(sheet.plan.loom), face, colour)]


def _close_above_counts(sheet: Sheet, heading: Part) -> Part:
    """The heading, on a crowded small card as near to the counts below it as that of winding is."""
    less = ABOVE_COUNTS if sheet.is_crowded and sheet.brief else 0.0
    return replace(heading, heights=exactly(heading.heights.least - less))


def _with_key(sheet: Sheet, width: float, heading: Part, aside: str) -> Part:
    """On a small card what a hole and a slot look like, before the words at the end of the heading's line, where it
    finds room."""
    if not sheet.brief:
        return heading
    from cardmaker.card.panels.board_key import board_key_width, openings_key

    right = width - (sheet.wide(aside, Face.SANS_SEMIBOLD, sheet.sizes.small) + BESIDE_KEY if aside else 0.0)
    left = right - board_key_width(sheet)
    if left < step_heading_width(sheet, THREAD) + BESIDE_KEY:
        return heading

    def draw(box: Box) -> list[Mark]:
        return [*heading.draw(box), openings_key(sheet, box.left + left, box.top + step_baseline(sheet))]

    return replace(heading, draw=draw)


def _picture_parts(sheet: Sheet, picture: HeddlePicture | None, width: float) -> Sequence[Part]:
    """The board and, where its spaces are too close to be seen, two places of it enlarged."""

    def draw(box: Box) -> Sequence[Mark]:
        return draw_heddle(sheet, picture, box) if picture else []

    facts, alt = ("board", "stripes"), partial(heddle_alt_texts.heddle_alt_text, sheet.plan)
    parts = [picture_part("heddle", heddle_heights(sheet, picture), draw, alt, above=0.4, facts=facts)]
    if picture and picture.in_bands:
        from cardmaker.card.panels.heddle_lens import draw_lens, lens_height

        lens = exactly(lens_height(sheet))
        alt = partial(heddle_alt_texts.lens_alt_text, sheet.plan)
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
    return _in_rows(sheet, view, check=False)


def _where_in_terse(sheet: Sheet, view: Paragraph, *, articles: bool) -> list[Paragraph]:
    """The same with what the space must not be, in place of the sentence that tells a miscount."""
    if sheet.plan.placement.back:
        return _in_rows(sheet, view, check=True)
    return [[*view, Span(heddle_words.count_out_in_terse(sheet.plan, articles=articles), Face.SANS_SEMIBOLD)]]


def _in_rows(sheet: Sheet, view: Paragraph, *, check: bool) -> list[Paragraph]:
    """Of two heddles on a small card: each in a row of its own, and then what holds for both."""
    plan = sheet.plan
    front, behind = (Span(row, Face.SANS_SEMIBOLD) for row in heddle_words.count_out_on_both(plan, check=check))
    nearer = [Span(view_words.nearer_heddle(plan.loom))] if plan.loom.view.from_behind else []
    through = Span(heddle_words.through_both(plan.loom, brief=True))
    return [[*view, front], [behind, Span(heddle_words.ALIKE_IN_BOTH), *nearer, through]]


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
    if sheet.is_terse and sheet.brief:
        facts = [*facts, "miscount"]  # told with the space itself
    elif _line_count(sheet, longer, size, width) > _line_count(sheet, where, size, width):
        told.append(_Further([miscounted], ("miscount",), MISCOUNTED if sheet.is_crowded else 0, alone))
    else:
        where, facts = longer, [*facts, "miscount"]
    parts = [words_part(sheet, width, where, size, above=1.8 * sheet.over_words, facts=tuple(facts))]
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


@record
class _Further:
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


BOARD = Panel("board", _board_parts)
