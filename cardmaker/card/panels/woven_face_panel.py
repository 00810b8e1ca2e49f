"""What you see: the woven face enlarged, pick by pick, each pick named by its shed, and what is on top in each."""

from __future__ import annotations

from collections.abc import Iterator

from cardmaker.card.paragraphs import Paragraph, paragraph_height, set_paragraphs
from cardmaker.card.sheet import Drawing, Sheet, headed, heading_height, whole_panel
from cardmaker.layout.ink import BLACK, HAIRLINE, SOFT
from cardmaker.layout.stacking import NO_ROOM, HeightRange
from cardmaker.layout.type_setting import Span, cap_height, figure, leading
from cardmaker.layout.woven_face import pick_height, repeat_of, stamped_face
from cardmaker.model.marks import Box, Face, Line, Mark, Rectangle, Words
from cardmaker.reckoning.weaving.sheds import raised_runs
from cardmaker.wording import shed_words

LEAST_PICKS, MOST_PICKS = 4, 8
LARGEST_SCALE = 5.0
LEAST_FACE, MOST_FACE = 16.0, 42.0  # high
ABOVE_SENTENCE = 1.3
ABOVE_FOOT = 0.9  # the lower of two names beside low picks stands so far above the foot, clear of the sentences
NARROWEST_FACE = 8.0  # the tape beside the names of its sheds


def _names_width(sheet: Sheet) -> float:
    return max(sheet.wide(name, Face.SANS_SEMIBOLD, sheet.sizes.small) for name in _names(sheet)) + 3


def _names(sheet: Sheet) -> list[str]:
    """The shed of each pick until they repeat; of a figure with the row's number, as its table has it."""
    plan = sheet.face_plan
    names = [shed_words.shed_name(plan.loom, pick.is_down) for pick in repeat_of(plan)]
    return names if plan.pickup is None else [f"{row} {name}" for row, name in enumerate(names, start=1)]


def _scale(sheet: Sheet, width: float) -> float:
    """As large as the column allows, so that one pick is still no taller than a line and a half of type."""
    likely = float(sheet.face_plan.width.likely_mm)
    return min(LARGEST_SCALE, (width - _names_width(sheet)) / likely)


def _sentences(sheet: Sheet) -> list[Paragraph]:
    """What is on top in each shed, once for both where they look alike; and which foot to try, if nobody says."""
    plan = sheet.face_plan
    raised_in = ((True, plan.sheds.down), (False, plan.sheds.up))
    named = [(f"{shed_words.shed_name(plan.loom, down)}:", raised) for down, raised in raised_in]
    if shed_words.sheds_alike(plan):
        named = [(shed_words.BOTH_ALIKE, plan.sheds.down)]
    colours = [(name, shed_words.shed_colours(raised_runs(raised, plan.end_yarns), plan)) for name, raised in named]
    sheds = [[Span(name, Face.SANS_SEMIBOLD), Span(colour)] for name, colour in colours]
    return [*sheds, *([Span(hint)] for hint in shed_words.shed_hints(plan.loom))]


def _words_height(sheet: Sheet, width: float) -> float:
    size = sheet.sizes.small
    return sum(ABOVE_SENTENCE + paragraph_height(sheet, spans, size, width) for spans in _sentences(sheet))


def _heights(sheet: Sheet, width: float) -> HeightRange:
    if width - _names_width(sheet) < NARROWEST_FACE:
        return NO_ROOM
    pick = pick_height(sheet.face_plan) * _scale(sheet, width)
    fixed = heading_height(sheet) + 1.2 + _words_height(sheet, width)
    least = max(2 * pick, min(LEAST_PICKS * pick, LEAST_FACE) * sheet.picture_share)
    return HeightRange(fixed + least, fixed + max(least, min(MOST_PICKS * pick, MOST_FACE)))


def _draw(sheet: Sheet, box: Box) -> Drawing:
    scale = _scale(sheet, box.width)
    marks, body = headed(sheet, box, shed_words.face_heading(sheet.plan.view), shed_words.face_scale(scale))
    pick = pick_height(sheet.face_plan) * scale
    picks = max(2, int((body.height - _words_height(sheet, box.width) - 1.2) / pick + 1e-6))
    names = _names_width(sheet)
    face = Box(body.left + names, body.top + 0.6, float(sheet.face_plan.width.likely_mm) * scale, picks * pick)
    drawn = (
        *stamped_face(sheet, face, scale),
        Rectangle(face, stroke=BLACK, width=HAIRLINE),
        *_pick_names(sheet, body.left, face, pick, picks),
    )
    picture = Box(body.left, body.top, body.width, face.bottom - body.top)
    marks.append(figure("face", picture, drawn, shed_words.face_alt_text(sheet.face_plan, sheet.units)))
    below = Box(body.left, face.bottom + 0.6 + ABOVE_SENTENCE, body.width, 0.0)
    return Drawing((*marks, *set_paragraphs(sheet, _sentences(sheet), sheet.sizes.small, below, ABOVE_SENTENCE)))


def _pick_names(sheet: Sheet, left: float, face: Box, pick: float, picks: int) -> Iterator[Mark]:
    """The shed of each pick from the foot up, beside it; of the first two only, with leaders, where picks are low."""
    size = sheet.sizes.small
    line = leading(size)
    roomy = pick >= line
    names = _names(sheet)
    for number in range(picks if roomy else min(picks, 2)):
        y = face.bottom - (number + 0.5) * pick
        label = y if roomy else face.bottom - ABOVE_FOOT - cap_height(size) / 2 - number * line
        yield Words(left, label + cap_height(size) / 2, names[number % len(names)], Face.SANS, size, SOFT)
        yield Line(face.left - 2.2, label, face.left - 0.3, y, HAIRLINE)


FACE = whole_panel("face", _heights, _draw)
