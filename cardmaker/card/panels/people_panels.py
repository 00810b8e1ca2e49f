"""Panels for one audience each: the student's trouble lines, name line and kit tag; the visitor's plain words."""

from __future__ import annotations

from cardmaker.card.paragraphs import body, paragraphs_height, paragraphs_panel, set_paragraphs
from cardmaker.card.sheet import Drawing, HeightRange, Panel, Sheet, headed, heading_height
from cardmaker.layout.ink import BLACK, FAINT, HAIRLINE, OUTLINE, RULE, SOFT, WHITE
from cardmaker.layout.lines_of_type import Span, cap_height, cut, shortened
from cardmaker.layout.roles import figure, words_group
from cardmaker.model.marks import Box, Dot, Face, Line, Mark, Words
from cardmaker.wording import rescue_words, source_words, student_words, winding_words

FEWEST_LINES = 2  # of trouble: fewer are not worth a heading
SNIP = 2.6  # the radius of a circle to knot a snip of yarn through


def _trouble_rows(sheet: Sheet) -> list[list[Span]]:
    fuzzy = any(yarn.fibre in ("linen", "wool", "hemp") for yarn in sheet.plan.pattern.yarns)
    return [[Span(question, Face.SANS_SEMIBOLD), Span(answer)] for question, answer in rescue_words.trouble(fuzzy)]


def _student_rows(sheet: Sheet) -> list[list[Span]]:
    return [[Span(note)] for note in sheet.plan.pattern.notes.student]


def _named_room(sheet: Sheet, width: float) -> HeightRange:
    return HeightRange(7.0, 8.0)


def _named(sheet: Sheet, box: Box) -> Drawing:
    """The student's name and hand where they are known; else a line for the name and one for the date."""
    if sheet.bearer.name:
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
    hand = sheet.bearer.hand
    room = box.right - left - (sheet.wide(hand, Face.SANS, small) + 3.0 if hand else 0.0)
    name, face = sheet.bearer.name, Face.SANS_BOLD
    size = shortened(name, face, sheet.sizes.heading, room, sheet.ruler, sheet.sizes.smallest)
    if sheet.wide(name, face, size) > room:
        name = cut(name, face, size, room, sheet.ruler)
    words = [
        Words(box.left, y, student_words.NAME_LINE, Face.SANS, small, SOFT),
        Words(left, y, name, face, size),
        Words(box.right, y, hand, Face.SANS, small, align="right"),
    ]
    rule = Line(box.left, y + 1.8, box.right, y + 1.8, HAIRLINE)
    return Drawing(
        (words_group("paragraph", box, *words, alt=sheet.bearer.name if name != sheet.bearer.name else ""), rule)
    )


def _history_rows(sheet: Sheet) -> list[list[Span]]:
    return [[Span(source_words.source_sentence(sheet.plan.pattern.source))]]


def _tag_rows(sheet: Sheet) -> list[list[Span]]:
    first, *others = student_words.kit_tag(sheet.plan, sheet.units)
    return [[Span(first, Face.SANS_SEMIBOLD)], *([Span(other)] for other in others)]


def _tag_room(sheet: Sheet, width: float) -> HeightRange:
    size = sheet.sizes.smallest
    height = 3.4 + cap_height(size) + 1.6 + paragraphs_height(sheet, _tag_rows(sheet), size, width - 3 * SNIP)
    return HeightRange(height, height)


def _tag(sheet: Sheet, box: Box) -> Drawing:
    """A strip to cut off and tie to the kit, with a hole for the tie."""
    size = sheet.sizes.smallest
    cut = box.top + 1.6
    label = f" {student_words.TAG_CUT} "
    wide = sheet.wide(label, Face.SANS, size)
    x = box.left + 8
    marks: list[Mark] = [
        Line(box.left, cut, x, cut, OUTLINE, BLACK, (2.0, 1.4)),
        Line(x + wide, cut, box.right, cut, OUTLINE, BLACK, (2.0, 1.4)),
        words_group("paragraph", box, Words(x, cut + cap_height(size) / 2, label.strip(), Face.SANS, size, SOFT)),
        Dot(box.left + SNIP, box.bottom - SNIP - 0.5, SNIP * 0.8, WHITE, FAINT, HAIRLINE),
    ]
    inner = box.inset(left=3 * SNIP, top=3.4 + cap_height(size))
    return Drawing((*marks, *set_paragraphs(sheet, _tag_rows(sheet), size, inner)))


def _visitor_rows(sheet: Sheet) -> list[list[Span]]:
    rows = [[Span(student_words.in_plain_words(sheet.plan, sheet.units), Face.SANS_SEMIBOLD)]]
    return rows + [[Span(note)] for note in sheet.plan.pattern.notes.visitor]


def _known_rows(sheet: Sheet) -> list[list[Span]]:
    return [
        [Span(label, Face.SANS_SEMIBOLD), Span(text)] for label, text in student_words.known(sheet.plan.pattern.source)
    ]


def _length_rows(sheet: Sheet) -> list[list[Span]]:
    return [[Span(winding_words.trips_and_walking(sheet.plan, sheet.units))]]


def _trouble_room(sheet: Sheet, width: float) -> HeightRange:
    rows = _trouble_rows(sheet)
    top, size = heading_height(sheet), sheet.sizes.small
    least = paragraphs_height(sheet, rows[:FEWEST_LINES], size, width)
    return HeightRange(top + least, top + paragraphs_height(sheet, rows, size, width))


def _trouble(sheet: Sheet, box: Box) -> Drawing:
    """As many of the lines as find room, the commonest trouble first."""
    marks, inner = headed(sheet, box, rescue_words.TROUBLE)
    rows = _trouble_rows(sheet)
    while (
        len(rows) > FEWEST_LINES and paragraphs_height(sheet, rows, sheet.sizes.small, box.width) > inner.height + 1e-6
    ):
        rows.pop()
    return Drawing((*marks, *set_paragraphs(sheet, rows, sheet.sizes.small, inner)))


TROUBLE = Panel("trouble", _trouble_room, _trouble)
STUDENT = paragraphs_panel(
    "student", _student_rows, student_words.FOR_STUDENT, applies=lambda sheet: bool(sheet.plan.pattern.notes.student)
)
HISTORY = paragraphs_panel("history", _history_rows)
VISITOR = paragraphs_panel("visitor", _visitor_rows, size_of=body)
KNOWN = paragraphs_panel("known", _known_rows, size_of=body)
TRIPS = paragraphs_panel("trips", _length_rows, size_of=body)
NAMED = Panel("named", _named_room, _named, sinks=True)
TAG = Panel("tag", _tag_room, _tag, sinks=True)
