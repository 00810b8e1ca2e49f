"""Step 1, winding: the walk with its counts, and where it finishes."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import product
from math import inf
from typing import Final

from cardmaker.card.panels.small_cross import (
    beside_small_cross,
    draw_small_cross,
    lines_beside,
    small_cross_height,
)
from cardmaker.card.panels.walk_drawing import WalkDrawing, measured_walk
from cardmaker.card.panels.walk_ticks import ticks_not_drawn, walk_tick_box
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import aside_fits, picture_part, step_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.tick_boxes import tick_boxes_part
from cardmaker.layout.ink import SOFT
from cardmaker.layout.stacking import NO_ROOM, Part, exactly
from cardmaker.layout.type_setting import SetLine, Span, cap_height, text_height, words_group
from cardmaker.model.marks import Box, Face, Mark
from cardmaker.model.record_class import record
from cardmaker.wording import peg_words, stripe_words, walk_words, winding_words
from cardmaker.wording.step_words import WIND

ABOVE_FINER: Final = 1.3  # mm
ABOVE_FINISH: Final = 1.8  # mm
NAMES: Final = peg_words.ODD_AND_EVEN[0]  # of the ends at the cross of a card with many words


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    drawing = measured_walk(sheet, width)
    aside, begins = _aside(sheet, width)
    return (
        step_part(sheet, width, WIND, aside, strong=begins),
        *([] if begins else _begins(sheet, width)),
        _picture(sheet, drawing),
        *_left_out(sheet, drawing, width),
        *finish_parts(sheet, width, drawn=True, begins_at_home=walk_words.begins_at_home(aside)),
        *_finer_points(sheet, width),
        *_other_way(sheet, width),
    )


def _aside(sheet: Sheet, width: float) -> tuple[str, bool]:
    """The most that is said beside the heading and finds room there, and whether it says where the stripes begin.

    On a small card that is said there, in strong letters, where it is not the usual edge.
    """
    asides = walk_words.walk_asides(sheet.plan, brief=sheet.brief)
    begin = stripe_words.begin_in_short(sheet.plan) if sheet.brief else ""
    if begin:  # where balls begin comes before when to tick: below the walk it would take a line
        asides = [aside for aside in asides if walk_words.begins_at_home(aside)] or asides
    choices = [*(f"{begin}; {aside}" for aside in asides), begin] if begin else asides
    said = next((aside for aside in choices if aside_fits(sheet, width, WIND.name, aside, step=True)), "")
    return said, bool(begin and said)


def _begins(sheet: Sheet, width: float) -> list[Part]:
    """At which edge the stripes begin, where that is not the usual."""
    begins = stripe_words.begins_at(sheet.plan)
    spans = [Span(begins, Face.SANS_SEMIBOLD)]
    return [words_part(sheet, width, [spans], sheet.sizes.small, above=0.0)] if begins else []


def _picture(sheet: Sheet, drawing: WalkDrawing | None) -> Part:
    alt = partial(winding_words.winding_alt_text, sheet.plan)
    facts = ("walk",) if sheet.plan.winding.method == "bundle" else ("stripes", "walk")
    if drawing is None:
        return picture_part("walk", NO_ROOM, lambda box: [], alt, facts=facts)
    above = 1.8 if stripe_words.begins_at(sheet.plan) and not sheet.brief else 0.0 if sheet.is_crowded else 0.6
    return picture_part("walk", drawing.heights(), drawing.marks, alt, above=above, facts=facts)


def finish_parts(sheet: Sheet, width: float, *, drawn: bool, begins_at_home: bool = False) -> list[Part]:
    """Where it finishes; and how balls are carried or bundles made, which no walk tells; ``drawn`` under one, whose
    heading may tell where balls begin."""
    plan = sheet.plan
    if sheet.brief:
        is_tersest = sheet.is_tersest
        ways = walk_words.ways_in_brief(plan, drawn=drawn, begins_at_home=begins_at_home, is_tersest=is_tersest)
        decides = winding_words.number_decides_in_brief(plan)
        decides = decides if sheet.is_terse else decides[:-1]
        ways = [[*way, told] for told in decides for way in ways] or ways
        number = ["cross number"] if decides else []
        return [_finish_in_brief(sheet, width, walk_words.trips_in_a_line(plan, drawn=drawn), ways, number)]
    return [_finish_in_full(sheet, width, drawn=drawn)]


def _finish_in_full(sheet: Sheet, width: float, *, drawn: bool) -> Part:
    """Where it finishes, what to do at a change, and that the ends are counted at the cross, beside its picture; and
    where balls are mistaken there, which end goes where. Where the picture has no room, words tell how the cross is
    made."""
    plan = sheet.plan
    ways = _ways_in_full(sheet, walk_words.count_at_cross(plan), drawn=drawn)
    choices = [_Beside(lines_beside(sheet, way, width, beside_small_cross(sheet, NAMES)), NAMES) for way in ways]
    if not any(each.lines for each in choices):
        in_words = _ways_in_full(sheet, walk_words.cross_and_count(plan), drawn=drawn)
        choices = [_Beside(lines_beside(sheet, way, width, ())) for way in in_words]
    number = ("cross number",) if winding_words.number_decides_in_brief(plan) else ()
    facts = ("finish", *(("change",) if plan.winding.changes else ()), "cross reminder", *number)
    return _beside_cross(sheet, min(choices, key=lambda each: each.unrest), facts)


def _ways_in_full(sheet: Sheet, at_cross: str, *, drawn: bool) -> list[list[Paragraph]]:
    """The paragraphs with what is said of the cross, the fullest first."""
    plan = sheet.plan
    finish, count = Span(walk_words.trips(plan), Face.SANS_SEMIBOLD), Span(at_cross)
    if plan.winding.method != "order":
        method = Span(walk_words.method(plan, drawn=drawn))
        decides = winding_words.number_decides_in_brief(plan)
        told = [[Span(words), count, method] for words in decides] or [[count, method]]
        return [*([[finish], each] for each in told), *([[finish, *each]] for each in told)]
    changes = [[Span(words)] for words in walk_words.at_a_change(plan)] or [[]]
    apart = [[[finish], [*change, count]] for change in changes]
    return [*apart, *([[finish, *change, count]] for change in changes)]


def _finish_in_brief(
    sheet: Sheet, width: float, trips: Sequence[str], ways: Sequence[Sequence[str]], number: Sequence[str]
) -> Part:
    """The same on a small card, with what to do at a change, and how the cross is made, which it tells nowhere else: as
    a picture beside the words, or in words where it has no room. It is the fullest of the ways that takes no more lines
    than another does.

    See :func:`_paragraphs` for which of them follow each other.
    """
    finishes = trips[-1:] if sheet.is_crowded else trips
    choices: list[_Beside] = []
    crosses_taken = [(names, beside_small_cross(sheet, names)) for names in peg_words.ODD_AND_EVEN]
    for finish, (names, taken), way in product(finishes, crosses_taken, ways):
        for paragraphs in _paragraphs(sheet, finish, way):
            choices.append(_Beside(lines_beside(sheet, paragraphs, width, taken), names))
    if not any(each.lines for each in choices):
        told = product(walk_words.cross_in_brief(), ways)
        every = (paragraphs for cross, way in told for paragraphs in _paragraphs(sheet, trips[-1], [cross, *way]))
        choices += [_Beside(lines_beside(sheet, paragraphs, width, ())) for paragraphs in every]
    facts = ("finish", *(("change",) if ways[0] else ()), "cross reminder", *number)
    return _beside_cross(sheet, min(choices, key=lambda each: each.unrest), facts)


@record
class _Beside:
    """The lines of words, and which ends the picture beside them names; none where words tell of the cross."""

    lines: Sequence[SetLine]
    names: tuple[str, str] | None = None

    @property
    def unrest(self) -> tuple[float, int, int]:
        """How many there are; in how many of them strong letters tell where it finishes: better in one; and in how many
        other words follow these: better on lines of their own."""
        strong = [line for line in self.lines if line[0].face is Face.SANS_SEMIBOLD]
        return len(self.lines) or inf, len(strong), sum(line[-1].face is not Face.SANS_SEMIBOLD for line in strong)


def _paragraphs(sheet: Sheet, finish: str, told: Sequence[str]) -> list[list[Paragraph]]:
    """Where winding finishes in strong letters and what follows it, of which one sentence has a line of its own, and
    several go on from there; on a crowded card one may do so too."""
    first, rest = Span(finish, Face.SANS_SEMIBOLD), [Span(each) for each in told]
    apart: list[Paragraph] = [[first], *([rest] if rest else [])]
    if not rest or (len(rest) == 1 and not sheet.is_crowded):
        return [apart]
    return [apart, [[first, *rest]]]


def _beside_cross(sheet: Sheet, beside: _Beside, facts: tuple[str, ...]) -> Part:
    """The lines and, at the right of the first two, the cross as a picture."""
    size, lines, names = sheet.sizes.body, beside.lines, beside.names
    height = text_height(max(len(lines), 2) if names else len(lines), size)

    def draw(box: Box) -> list[Mark]:
        words = sheet.set(lines, box.left, box.top + cap_height(size), size)
        cross = box._replace(height=small_cross_height(sheet))
        return [words_group("paragraph", box, *words), *([draw_small_cross(sheet, cross, names)] if names else [])]

    return Part(exactly(height), draw, ABOVE_FINISH * sheet.over_words, facts)


def _left_out(sheet: Sheet, drawing: WalkDrawing | None, width: float) -> list[Part]:
    """Of a walk that is drawn with breaks how many strokes are not there: whoever counts them would miss some; and the
    boxes to tick on the way through them."""
    if drawing is None or not drawing.grid.columns.is_broken:
        return []
    walk, size = drawing.walk, sheet.sizes.body
    hidden = ticks_not_drawn(sheet, walk, drawing.grid)
    told = [Span(walk_words.not_drawn(drawing.grid.columns.left_out, tick=bool(hidden)))]
    words = words_part(sheet, width, [told], sheet.sizes.small, above=1.2, facts=("walk",))
    boxes = [walk_tick_box(str(total), walk.stop_of(at)) for at, total in hidden.items()]
    return [words, *([tick_boxes_part(sheet, width, boxes, size, above=1.0, facts=("walk",))] if boxes else [])]


def _finer_points(sheet: Sheet, width: float) -> list[Part]:
    """What is asked next, where there is room: which end is end 1, and how stripes in turn begin and end."""
    plan, size = sheet.plan, sheet.sizes.small
    told = [("in turn", turns, -1)] if (turns := walk_words.turns_told(plan)) else []
    told.append(("end 1 wound", walk_words.end_1_wound(plan), 6))
    return [
        words_part(sheet, width, [[Span(words)]], size, above=ABOVE_FINER, facts=(fact,), priority=priority)
        for fact, words, priority in told
    ]


def _other_way(sheet: Sheet, width: float) -> list[Part]:
    """The stripes from the other edge, of a tape whose edges differ; a small card leaves it to the brackets."""
    if sheet.plan.same_both_ways or sheet.brief:
        return []
    told: list[Paragraph] = [[Span(stripe_words.other_way(sheet.segments, sheet.plan), colour=SOFT)]]
    return [words_part(sheet, width, told, sheet.sizes.small, above=1.2, facts=("other edge",), priority=4)]


WALK = Panel("walk", _parts)
