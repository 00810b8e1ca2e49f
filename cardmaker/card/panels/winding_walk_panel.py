"""Step 1, winding: the walk with its counts, and where it finishes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.panels.cross_drawing import cross_height, cross_in_general, cross_width
from cardmaker.card.panels.walk_drawing import WalkDrawing, measured_walk
from cardmaker.card.panels.walk_ticks import ticks_not_drawn, walk_tick_box
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import aside_fits, picture_part, step_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.card.tick_boxes import tick_boxes_part
from cardmaker.layout.ink import SOFT
from cardmaker.layout.stacking import NO_ROOM, Part, exactly
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Box, Face, Mark
from cardmaker.model.record_class import replace
from cardmaker.wording import stripe_words, walk_words, winding_words
from cardmaker.wording.phrases import NO_BREAK
from cardmaker.wording.step_words import WIND

ABOVE_FINISH: Final = 1.8  # mm
BESIDE_CROSS: Final = 2.0  # mm
MORE_FOR_CROSS: Final = 5.0  # mm that its picture may be higher than words that tell the same


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    drawing = measured_walk(sheet, width)
    aside, begins = _aside(sheet, width)
    return (
        step_part(sheet, width, WIND, aside, strong=begins),
        *([] if begins else _begins(sheet, width)),
        _picture(sheet, drawing),
        *_left_out(sheet, drawing, width),
        *finish_parts(sheet, width, drawn=True),
        *_at_a_change(sheet, width),
        *_finer_points(sheet, width),
        *_other_way(sheet, width),
    )


def _aside(sheet: Sheet, width: float) -> tuple[str, bool]:
    """The most that is said beside the heading and finds room there, and whether it says where the stripes begin.

    On a small card that is said there, in strong letters, where it is not the usual edge.
    """
    asides = walk_words.walk_asides(sheet.plan)
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
    above = 1.8 if stripe_words.begins_at(sheet.plan) and not sheet.brief else 0.0 if sheet.is_crowded else 0.6
    return picture_part("walk", drawing.heights(), drawing.marks, alt, above=above, facts=facts)


def finish_parts(sheet: Sheet, width: float, *, drawn: bool) -> list[Part]:
    """Where it finishes; and how balls are carried or bundles made, which no walk tells; ``drawn`` under one."""
    plan, size = sheet.plan, sheet.sizes.body
    if sheet.brief:
        return _finish_in_brief(sheet, width, drawn=drawn)
    told: list[Paragraph] = [[Span(walk_words.trips(plan), Face.SANS_SEMIBOLD)]]
    if plan.winding.method != "order":
        told.append([Span(walk_words.method(plan, drawn=drawn))])
    return [words_part(sheet, width, told, size, above=ABOVE_FINISH, facts=("finish",))]


def _finish_in_brief(sheet: Sheet, width: float, *, drawn: bool) -> list[Part]:
    """The same on a small card, with what to do at a change, and how the cross is made, which it tells nowhere else.

    Each stands on a line of its own, and the cross is drawn where there is room; on a crowded card they follow each
    other in as few words as tell them.
    """
    plan, size = sheet.plan, sheet.sizes.body
    trips, cross = walk_words.trips_in_a_line(plan), walk_words.cross_in_brief()
    ways = walk_words.ways_in_brief(plan, drawn=drawn)
    facts = ("finish", *(("change",) if ways else ()), "cross reminder")
    if sheet.is_crowded:
        tied = [cross[-1].replace(" ", NO_BREAK), *(way.replace(" ", NO_BREAK, 2) for way in ways)]
        return [_in_one_paragraph(sheet, width, trips[-1], [tied, [cross[-1], *ways]], facts)]
    finish = _in_lines(sheet, trips, Face.SANS_SEMIBOLD, size, width, 1)
    lines = [finish, *map(Span, ways), _in_lines(sheet, cross[:-1], Face.SANS, size, width, 1)]
    words = words_part(sheet, width, [[each] for each in lines], size, above=ABOVE_FINISH, facts=facts)
    short = Span(trips[-1], Face.SANS_SEMIBOLD)
    left = width - cross_width(sheet) - BESIDE_CROSS
    if not drawn or left < sheet.wide(short.text, short.face, size):
        return [words]
    beside = _beside_cross(sheet, width, left, [short, *map(Span, ways)])
    is_low = beside.heights.least <= words.heights.least + MORE_FOR_CROSS
    return [replace(beside, above=ABOVE_FINISH, facts=facts) if is_low else words]


def _in_one_paragraph(
    sheet: Sheet, width: float, finish: str, choices: Sequence[Sequence[str]], facts: tuple[str, ...]
) -> Part:
    """Where winding finishes, and what follows it, by the first of the choices that takes the fewest lines."""
    told = [[Span(finish, Face.SANS_SEMIBOLD), Span(" ".join(choice))] for choice in choices]
    parts = [words_part(sheet, width, [each], sheet.sizes.body, above=ABOVE_FINISH, facts=facts) for each in told]
    return min(parts, key=lambda part: part.heights.least)


def _beside_cross(sheet: Sheet, width: float, left: float, lines: Sequence[Span]) -> Part:
    """The sentences, and at their right the cross as a picture, which no words need then."""
    wide = cross_width(sheet)
    words = words_part(sheet, left, [[each] for each in lines], sheet.sizes.body)

    def draw(box: Box) -> list[Mark]:
        picture = Box(box.right - wide, box.top, wide, cross_height(sheet))
        return [*words.draw(box._replace(width=left)), cross_in_general(sheet, picture)]

    return Part(exactly(max(cross_height(sheet), words.heights.least)), draw)


def _in_lines(sheet: Sheet, choices: Sequence[str], face: Face, size: float, width: float, most: int) -> Span:
    """The fullest of the sentences that takes no more lines than that; the last of them where all do."""
    spans = [Span(choice, face) for choice in choices]
    return next((span for span in spans if len(sheet.lines([span], size, width)) <= most), spans[-1])


def _left_out(sheet: Sheet, drawing: WalkDrawing | None, width: float) -> list[Part]:
    """Of a walk that is drawn with breaks how many strokes are not there: whoever counts them would miss some; and the
    boxes to tick on the way through them."""
    if drawing is None or not drawing.grid.columns.is_broken:
        return []
    walk, size = drawing.walk, sheet.sizes.body
    hidden = ticks_not_drawn(sheet, walk, drawing.grid)
    told = [Span(walk_words.not_drawn(drawing.grid.columns.left_out, tick=bool(hidden)))]
    words = words_part(sheet, width, [told], sheet.sizes.small, above=1.2, facts=("walk",))
    boxes = [walk_tick_box(str(walk.totals[at]), walk.stop_of(at)) for at in hidden]
    return [words, *([tick_boxes_part(sheet, width, boxes, size, above=1.0, facts=("walk",))] if boxes else [])]


def _at_a_change(sheet: Sheet, width: float) -> list[Part]:
    """What to do where the colour changes, if there is room to say it, on a card that tells of the cross elsewhere."""
    change = walk_words.at_a_change(sheet.plan)
    if not change or sheet.brief:
        return []
    told: list[Paragraph] = [[Span(f"{change} {walk_words.COUNT_AT_CROSS}")]]
    return [words_part(sheet, width, told, sheet.sizes.body, above=1.2, facts=("joins",), priority=3)]


def _finer_points(sheet: Sheet, width: float) -> list[Part]:
    """What is asked next, where there is room: which end is end 1, and how stripes in turn begin and end."""
    plan, size = sheet.plan, sheet.sizes.small
    told = [("in turn", turns, 2)] if (turns := walk_words.turns_told(plan)) else []
    told.append(("end 1 wound", walk_words.end_1_wound(plan), 6))
    return [
        words_part(sheet, width, [[Span(words)]], size, above=0.6, facts=(fact,), priority=priority)
        for fact, words, priority in told
    ]


def _other_way(sheet: Sheet, width: float) -> list[Part]:
    """The stripes from the other edge, of a tape whose edges differ; a small card leaves it to the brackets."""
    if sheet.plan.same_both_ways or sheet.brief:
        return []
    told: list[Paragraph] = [[Span(stripe_words.other_way(sheet.segments, sheet.plan), colour=SOFT)]]
    return [words_part(sheet, width, told, sheet.sizes.small, above=1.2, facts=("other edge",), priority=4)]


WALK = Panel("walk", _parts)
