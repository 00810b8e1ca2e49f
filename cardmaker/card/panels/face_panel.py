"""What you see: the woven face enlarged, pick by pick, each pick named by its shed, and what is on top in each."""

from __future__ import annotations

from collections.abc import Iterator

from cardmaker.card.paragraphs import paragraph
from cardmaker.card.sheet import NO_ROOM, Drawing, HeightRange, Panel, Sheet, headed, heading_height
from cardmaker.layout.ink import BLACK, HAIRLINE, SOFT
from cardmaker.layout.lines_of_type import Span, cap_height, leading, text_height
from cardmaker.layout.roles import figure
from cardmaker.layout.weave import pick_height, repeat_of, stamped_face
from cardmaker.model.marks import Box, Face, Line, Mark, Rectangle, Words
from cardmaker.reckoning.weaving.sheds import raised_runs
from cardmaker.wording import shed_words

LEAST_PICKS, MOST_PICKS = 4, 8
LARGEST_SCALE = 5.0
NARROWEST_FACE = 8.0  # the tape beside the names of its sheds


def _names_width(sheet: Sheet) -> float:
    names = (shed_words.shed_name(sheet.face_plan.loom, down) for down in (True, False))
    return max(sheet.wide(name, Face.SANS_SEMIBOLD, sheet.sizes.small) for name in names) + 3


def _scale(sheet: Sheet, width: float) -> float:
    """As large as the column allows, so that one pick is still no taller than a line and a half of type."""
    likely = float(sheet.face_plan.width.likely_mm)
    return min(LARGEST_SCALE, (width - _names_width(sheet)) / likely)


def _sentences(sheet: Sheet) -> list[list[Span]]:
    plan = sheet.face_plan
    if shed_words.sheds_alike(plan):
        said = shed_words.shed_colours(raised_runs(plan.sheds.down, plan.end_yarns), plan)
        return [[Span(shed_words.BOTH_ALIKE, Face.SANS_SEMIBOLD), Span(said)]]
    sentences = []
    for down, raised in ((True, plan.sheds.down), (False, plan.sheds.up)):
        said = shed_words.shed_colours(raised_runs(raised, plan.end_yarns), plan)
        sentences.append([Span(f"{shed_words.shed_name(plan.loom, down)}:", Face.SANS_SEMIBOLD), Span(said)])
    return sentences


def _words_height(sheet: Sheet, width: float) -> float:
    size = sheet.sizes.small
    return sum(1.3 + text_height(len(sheet.lines(spans, size, width)), size) for spans in _sentences(sheet))


def _room(sheet: Sheet, width: float) -> HeightRange:
    if width - _names_width(sheet) < NARROWEST_FACE:
        return NO_ROOM
    pick = pick_height(sheet.face_plan) * _scale(sheet, width)
    fixed = heading_height(sheet) + 1.2 + _words_height(sheet, width)
    least = max(2 * pick, min(LEAST_PICKS * pick, 16.0) * sheet.give)
    return HeightRange(fixed + least, fixed + max(least, min(MOST_PICKS * pick, 42.0)))


def _draw(sheet: Sheet, box: Box) -> Drawing:
    scale = _scale(sheet, box.width)
    marks, body = headed(sheet, box, shed_words.FACE, shed_words.face_scale(scale))
    pick = pick_height(sheet.face_plan) * scale
    words = _words_height(sheet, box.width)
    picks = max(2, int((body.height - words - 1.2) / pick + 1e-6))
    names = _names_width(sheet)
    face = Box(body.left + names, body.top + 0.6, float(sheet.face_plan.width.likely_mm) * scale, picks * pick)
    drawn = (
        *stamped_face(sheet, face, scale),
        Rectangle(face, stroke=BLACK, width=HAIRLINE),
        *_pick_names(sheet, body.left, face, pick, picks),
    )
    room = Box(body.left, body.top, body.width, face.bottom - body.top)
    marks.append(figure("face", room, drawn, shed_words.face_alt_text(sheet.face_plan, sheet.units)))
    marks += _said(sheet, body, face.bottom + 0.6)
    return Drawing(tuple(marks))


def _pick_names(sheet: Sheet, left: float, face: Box, pick: float, picks: int) -> Iterator[Mark]:
    """The shed of each pick, beside it; of the first two only, with leaders, where picks are lower than a line."""
    size = sheet.sizes.small
    line = leading(size)
    roomy = pick >= line
    repeat = repeat_of(sheet.face_plan)
    for number in range(picks if roomy else min(picks, 2)):
        y = face.top + (number + 0.5) * pick
        label = y if roomy else face.top + cap_height(size) / 2 + number * line
        name = shed_words.shed_name(sheet.face_plan.loom, repeat[number % len(repeat)].is_down)
        yield Words(left, label + cap_height(size) / 2, name, Face.SANS, size, SOFT)
        yield Line(face.left - 2.2, label, face.left - 0.3, y, HAIRLINE)


def _said(sheet: Sheet, body: Box, top: float) -> Iterator[Mark]:
    size = sheet.sizes.small
    for spans in _sentences(sheet):
        lines = sheet.lines(spans, size, body.width)
        yield from paragraph(sheet, lines, body.left, top + 1.3 + cap_height(size), size, body.width)
        top += 1.3 + text_height(len(lines), size)


FACE = Panel("face", _room, _draw)
