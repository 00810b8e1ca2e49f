"""The student's own: the line for her name, the notes to her, and the kit tag."""

from __future__ import annotations

from cardmaker.card.paragraphs import Paragraph, paragraphs_height, paragraphs_panel, set_paragraphs
from cardmaker.card.sheet import Drawing, Sheet, whole_panel
from cardmaker.layout.ink import BLACK, FAINT, HAIRLINE, OUTLINE, RULE, SOFT, WHITE
from cardmaker.layout.stacking import HeightRange, exactly
from cardmaker.layout.type_setting import Span, cap_height, cut, figure, fitting_size, words_group
from cardmaker.model.marks import Box, Dot, Face, Line, Mark, Words
from cardmaker.wording import student_words

SNIP = 2.6  # the radius of the hole for the tie
TAG_HEAD = 3.4  # the cut with its label, above the tag's words
DASHES = (2.0, 1.4)


def _draw_named(sheet: Sheet, box: Box) -> Drawing:
    """The student's name and hand where they are known; else a line for the name and one for the date."""
    if sheet.owner.name:
        return _owned(sheet, box)
    size, y = sheet.sizes.small, box.bottom - 1.2
    date = box.left + box.width * 0.64
    marks: list[Mark] = []
    for x, right, label in ((box.left, date - 4, student_words.NAME_LINE), (date, box.right, student_words.DATE_LINE)):
        start = x + sheet.wide(label, Face.SANS, size) + 1.2
        marks += [Words(x, y, label, Face.SANS, size, SOFT), Line(start, y + 0.5, right, y + 0.5, RULE)]
    return Drawing((figure("blanks", box, marks, student_words.NAMED_ALT_TEXT),))


def _owned(sheet: Sheet, box: Box) -> Drawing:
    """The name as large as it fits beside the hand; one that is too long ends in an ellipsis."""
    small, y = sheet.sizes.small, box.top + cap_height(sheet.sizes.heading) + 0.4
    left = box.left + sheet.wide(student_words.NAME_LINE, Face.SANS, small) + 1.6
    whole, hand, face = sheet.owner.name, sheet.owner.hand, Face.SANS_BOLD
    width = box.right - left - (sheet.wide(hand, Face.SANS, small) + 3.0 if hand else 0.0)
    size = fitting_size(whole, face, sheet.sizes.heading, width, sheet.ruler, sheet.sizes.smallest)
    name = cut(whole, face, size, width, sheet.ruler) if sheet.wide(whole, face, size) > width else whole
    words = [
        Words(box.left, y, student_words.NAME_LINE, Face.SANS, small, SOFT),
        Words(left, y, name, face, size),
        Words(box.right, y, hand, Face.SANS, small, align="right"),
    ]
    rule = Line(box.left, y + 1.8, box.right, y + 1.8, HAIRLINE)
    return Drawing((words_group("paragraph", box, *words, alt=whole if name != whole else ""), rule))


def _tag(sheet: Sheet) -> list[Paragraph]:
    first, *others = student_words.kit_tag(sheet.plan, sheet.units)
    return [[Span(first, Face.SANS_SEMIBOLD)], *([Span(other)] for other in others)]


def _tag_heights(sheet: Sheet, width: float) -> HeightRange:
    size = sheet.sizes.smallest
    return exactly(TAG_HEAD + cap_height(size) + 1.6 + paragraphs_height(sheet, _tag(sheet), size, width - 3 * SNIP))


def _draw_tag(sheet: Sheet, box: Box) -> Drawing:
    """A strip to cut off and tie to the kit, with a hole for the tie."""
    size = sheet.sizes.smallest
    y = box.top + 1.6
    label = f" {student_words.TAG_CUT} "
    wide = sheet.wide(label, Face.SANS, size)
    x = box.left + 8
    marks: list[Mark] = [
        Line(box.left, y, x, y, OUTLINE, BLACK, DASHES),
        Line(x + wide, y, box.right, y, OUTLINE, BLACK, DASHES),
        words_group("paragraph", box, Words(x, y + cap_height(size) / 2, label.strip(), Face.SANS, size, SOFT)),
        Dot(box.left + SNIP, box.bottom - SNIP - 0.5, SNIP * 0.8, WHITE, FAINT, HAIRLINE),
    ]
    inner = box.inset(left=3 * SNIP, top=TAG_HEAD + cap_height(size))
    return Drawing((*marks, *set_paragraphs(sheet, _tag(sheet), size, inner)))


STUDENT = paragraphs_panel(
    "student",
    lambda sheet: [[Span(note)] for note in sheet.plan.pattern.notes.student],
    student_words.FOR_STUDENT,
    applies=lambda sheet: bool(sheet.plan.pattern.notes.student),
)
NAMED = whole_panel("named", lambda sheet, width: HeightRange(7.0, 8.0), _draw_named, sinks=True)
TAG = whole_panel("tag", _tag_heights, _draw_tag, sinks=True)
