"""What you see: the woven face enlarged, pick by pick, each pick named by its shed, and what is on top in each.

It has no heading of its own: it stands beside the shed cells, under the heading of their step.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import picture_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.ink import BLACK, HAIRLINE, SOFT
from cardmaker.layout.stacking import NO_ROOM, HeightRange, Part
from cardmaker.layout.type_setting import Span, cap_height
from cardmaker.layout.woven_face import pick_height, repeat_of, stamped_face
from cardmaker.model.marks import Box, Face, Line, Mark, Rectangle, Words
from cardmaker.model.record_class import replace
from cardmaker.reckoning.weaving.sheds import raised_runs
from cardmaker.wording import shed_words

LEAST_PICKS, MOST_PICKS = 4, 8
LARGEST_SCALE = 5.0
LEAST_FACE, MOST_FACE = 14.0, 34.0  # high
BETWEEN_NAMES = 0.9  # mm from the foot of one name, which is in capitals, to the next
MOST_BEYOND = 0.8  # mm that they may stand beyond the face, above and below
NAMES_GAP = 2.4  # from the names to the face
ABOVE_SENTENCE = 1.6
NARROWEST_FACE = 8.0  # the tape beside the names of its sheds


def _names_width(sheet: Sheet) -> float:
    return max(sheet.wide(name, Face.SANS, sheet.sizes.small) for name in _names(sheet)) + NAMES_GAP


def _names(sheet: Sheet) -> list[str]:
    """The shed of each pick, numbered upward from the first at the foot; of a tape with a figure without numbers, as
    those are the figure's."""
    plan = sheet.face_plan
    names = [shed_words.what_opens(plan.loom, is_down=pick.is_down).in_capitals for pick in repeat_of(plan)]
    if sheet.plan.pickup is not None:
        return names
    return [f"{pick} {name}" for pick, name in enumerate(names * (MOST_PICKS // len(names)), start=1)]


def _scale(sheet: Sheet, width: float) -> float:
    """As large as the column allows."""
    likely = float(sheet.face_plan.width.likely_mm)
    return min(LARGEST_SCALE, (width - _names_width(sheet)) / likely)


def _sentences(sheet: Sheet, width: float) -> Paragraph:
    """What is on top in each shed, once for both where they look alike; which foot to try if nobody says; the scale."""
    plan, loom = sheet.face_plan, sheet.plan.loom
    raised_in = ((True, plan.sheds.down), (False, plan.sheds.up))
    named = [(shed_words.on_top(shed_words.shed_name(loom, down)), raised) for down, raised in raised_in]
    if shed_words.sheds_alike(plan):
        named = [(shed_words.BOTH_ALIKE, plan.sheds.down)]
    spans = [Span(shed_words.BEFORE_PICKING)] if sheet.plan.pickup is not None else []
    if seat := shed_words.hangs_from(sheet.plan.view):
        spans.append(Span(seat, Face.SANS_SEMIBOLD))
    for name, raised in named:
        colours = shed_words.shed_colours(raised_runs(raised, plan.end_yarns), plan)
        spans += [Span(name, Face.SANS_SEMIBOLD), Span(f"{colours}.")]
    hints = [Span(hint) for hint in shed_words.shed_hints(loom)]
    return [*spans, *hints, Span(f"({shed_words.face_scale(_scale(sheet, width))})", colour=SOFT)]


def _picture_heights(sheet: Sheet, width: float) -> HeightRange:
    if width - _names_width(sheet) < NARROWEST_FACE:
        return NO_ROOM
    pick = pick_height(sheet.face_plan) * _scale(sheet, width)
    least = max(2 * pick, _names_height(sheet), min(LEAST_PICKS * pick, LEAST_FACE) * sheet.picture_share)
    return HeightRange(least, max(least, min(MOST_PICKS * pick, MOST_FACE)))


def _name_step(sheet: Sheet) -> float:
    """From one name to the next, so that none touches another."""
    return cap_height(sheet.sizes.small) + BETWEEN_NAMES


def _names_height(sheet: Sheet) -> float:
    """Two names, one above the other."""
    return 2 * _name_step(sheet)


def _face(sheet: Sheet, box: Box) -> list[Mark]:
    scale = _scale(sheet, box.width)
    pick = pick_height(sheet.face_plan) * scale
    picks = max(2, int(box.height / pick + 1e-6))
    high, names = picks * pick, _names_width(sheet)
    wide = float(sheet.face_plan.width.likely_mm) * scale
    face = Box(box.left + names, box.top, wide, min(high, box.height))
    return [
        *stamped_face(sheet, face, scale),
        Rectangle(face, stroke=BLACK, width=HAIRLINE),
        *_pick_names(sheet, box.left, face, pick, picks),
    ]


def _pick_names(sheet: Sheet, left: float, face: Box, pick: float, picks: int) -> Iterator[Mark]:
    """The shed of each pick from the foot up, level with it. Where picks are so low that two names would touch these
    are drawn apart, no lower than the foot of the face, if all then stand beside it; else those of the first two."""
    size, names, step = sheet.sizes.small, _names(sheet), _name_step(sheet)
    apart = max(0.0, step - pick)
    taken = max(step, pick) * (picks - 1) + cap_height(size)
    named = picks if apart * (picks - 1) / 2 <= MOST_BEYOND and taken <= face.height else 2
    lowest = face.bottom - pick / 2
    if apart:
        lowest = min(lowest + apart * (named - 1) / 2, face.bottom - cap_height(size) / 2)
        lowest = max(lowest, face.top + cap_height(size) / 2 + max(step, pick) * (named - 1))  # beside a very low face
    for number in range(named):
        y = face.bottom - (number + 0.5) * pick
        level = lowest - number * max(step, pick)
        yield Words(left, level + cap_height(size) / 2, names[number % len(names)], Face.SANS, size, SOFT)
        yield Line(face.left - NAMES_GAP + 0.6, level, face.left - 0.3, y, HAIRLINE)


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    sheet = replace(sheet, face_plan=replace(sheet.face_plan, pickup=None))  # the sheds as they open, before the hand
    alt = partial(shed_words.face_alt_text, sheet.face_plan, sheet.units)
    heights = _picture_heights(sheet, width)
    picture = picture_part("face", heights, lambda box: _face(sheet, box), alt, facts=("sheds",))
    if heights is NO_ROOM:
        return (picture,)
    words = [_sentences(sheet, width)]
    return picture, words_part(sheet, width, words, sheet.sizes.small, above=ABOVE_SENTENCE, facts=("sheds",))


FACE = Panel("face", _parts)
