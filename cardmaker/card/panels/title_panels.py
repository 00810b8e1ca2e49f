"""The title: name, code, version, date, and the first line of rescue, the number of ends."""

from __future__ import annotations

from cardmaker.card.paragraphs import paragraph
from cardmaker.card.sheet import Drawing, HeightRange, Panel, Sheet
from cardmaker.layout.ink import HEAVY, POINT, SOFT
from cardmaker.layout.lines_of_type import Line, Span, cap_height, cut, leading, shortened, text_height
from cardmaker.layout.roles import words_group
from cardmaker.model.marks import Box, Face, Group, Mark, Words
from cardmaker.model.marks import Line as Rule
from cardmaker.wording import length_words, loom_words, phrases, title_words, winding_words
from cardmaker.wording.measures import small_length

_FACTS = 4  # columns
HOLE_ROOM = 7.5  # what names keep clear of a corner that is punched
NARROW = 112.0  # on narrower cards code, version and date always stand below the name
NO_BREAK = "\N{NO-BREAK SPACE}"


def _facts(sheet: Sheet) -> list[tuple[str, str]]:
    """Four things to know before anything else: each a value and what it means."""
    plan, units = sheet.plan, sheet.units
    colours = len({run.yarn for run in plan.runs})
    return [
        (phrases.end_count(plan.ends), title_words.symmetry(plan)),
        (small_length(plan.width.likely_mm, units), title_words.width_basis(plan.width, units)),
        (phrases.plural(colours, "colour"), winding_words.colour_changes(plan)),
        (plan.loom.title, loom_words.heddle_spaces(plan.loom, brief=True)),
    ]


def _number(sheet: Sheet, width: float) -> str:
    """Code, version and date, the version shortened and then the date left off where the line is too short for them."""
    pattern = sheet.plan.pattern
    choices = [
        [pattern.code, title_words.version(pattern.version), pattern.date],
        [pattern.code, title_words.version(pattern.version, brief=True), pattern.date],
        [pattern.code, title_words.version(pattern.version, brief=True)],
    ]
    told = ["  ·  ".join(part for part in parts if part) for parts in choices]
    fitting = [text for text in told if sheet.wide(text, Face.SANS_SEMIBOLD, sheet.sizes.body) <= width]
    return fitting[0] if fitting else told[-1]


def _stacked(sheet: Sheet, width: float) -> bool:
    """Whether code, version and date stand below the name, because they find no room beside it."""
    if width < NARROW:
        return True
    title = sheet.wide(sheet.plan.pattern.title, Face.SERIF_SEMIBOLD, sheet.sizes.title)
    number = sheet.wide(_number(sheet, width), Face.SANS_SEMIBOLD, sheet.sizes.body)
    return title + 6 + number > width


def _head_height(sheet: Sheet, width: float) -> float:
    number = leading(sheet.sizes.body) if _stacked(sheet, width) and _number(sheet, width) else 0.0
    return cap_height(sheet.sizes.title) + 2.6 + number


def _fact_lines(sheet: Sheet, width: float) -> int:
    column = (width - (_FACTS - 1) * 4) / _FACTS
    return max(len(sheet.lines([Span(said)], sheet.sizes.small, column)) for _, said in _facts(sheet))


def _room(sheet: Sheet, width: float) -> HeightRange:
    height = _head_height(sheet, width) + 3.6 + cap_height(sheet.sizes.count) + 1.6
    height += _fact_lines(sheet, width) * leading(sheet.sizes.small) + _about_height(sheet, width)
    return HeightRange(height, height)


def _about_height(sheet: Sheet, width: float) -> float:
    lines = len(_about_lines(sheet, width))
    return 1.4 + lines * leading(sheet.sizes.small) if lines else 0.0


def _about_lines(sheet: Sheet, width: float) -> list[Line]:
    """What it is for, and what it looks like."""
    pattern = sheet.plan.pattern
    said = [title_words.uses(pattern.purposes), pattern.about]
    return sheet.lines([Span(text) for text in said if text], sheet.sizes.small, width)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks = _name_and_number(sheet, box)
    y = box.top + _head_height(sheet, box.width)
    first = y + leading(sheet.sizes.small) - 0.4
    marks += paragraph(sheet, _about_lines(sheet, box.width), box.left, first, sheet.sizes.small, box.width)
    y += _about_height(sheet, box.width)
    marks.append(Rule(box.left, y + 1.4, box.right, y + 1.4, HEAVY))
    baseline = y + 3.6 + cap_height(sheet.sizes.count)
    marks += _fact_columns(sheet, box, baseline)
    return Drawing(tuple(marks))


def _name_and_number(sheet: Sheet, box: Box) -> list[Mark]:
    """The name in the largest type that its line holds; code, version and date beside it or below."""
    if sheet.layout.punch == "corner":  # a hole to hang the card by, 3 mm within the margins
        box = box.inset(right=HOLE_ROOM)
    pattern, sizes, number = sheet.plan.pattern, sheet.sizes, _number(sheet, box.width)
    size = shortened(pattern.title, Face.SERIF_SEMIBOLD, sizes.title, box.width, sheet.ruler, sizes.heading)
    baseline = box.top + 0.72 * sizes.title * POINT
    marks: list[Mark] = [_titled(sheet, box, baseline, size)]
    if not number:
        return marks
    small = shortened(number, Face.SANS_SEMIBOLD, sizes.body, box.width, sheet.ruler, sizes.smallest)
    if _stacked(sheet, box.width):
        words = Words(box.left, baseline + leading(sizes.body), number, Face.SANS_SEMIBOLD, small)
    else:
        words = Words(box.right, baseline, number, Face.SANS_SEMIBOLD, small, align="right")
    return [*marks, words_group("paragraph", box, words)]


def _titled(sheet: Sheet, box: Box, baseline: float, size: float) -> Group:
    """The pattern's name; where it is cut short it is told whole."""
    whole = sheet.plan.pattern.title
    title = cut(whole, Face.SERIF_SEMIBOLD, size, box.width, sheet.ruler)
    words = Words(box.left, baseline, title, Face.SERIF_SEMIBOLD, size)
    return words_group("title", box, words, alt=whole if title != whole else "")


def _fact_columns(sheet: Sheet, box: Box, baseline: float) -> list[Mark]:
    marks: list[Mark] = []
    gap = 4.0
    column = (box.width - (_FACTS - 1) * gap) / _FACTS
    for number, (value, said) in enumerate(_facts(sheet)):
        x = box.left + number * (column + gap)
        size = shortened(value, Face.SANS_BOLD, sheet.sizes.count, column, sheet.ruler, sheet.sizes.body)
        lines = sheet.lines([Span(said, colour=SOFT)], sheet.sizes.small, column)
        below = sheet.set(lines, x, baseline + leading(sheet.sizes.small) + 0.8, sheet.sizes.small)
        room = Box(x, baseline - cap_height(size), column, box.bottom - baseline + cap_height(size))
        marks.append(words_group("paragraph", room, Words(x, baseline, value, Face.SANS_BOLD, size), *below))
    return marks


def _name_spans(sheet: Sheet) -> list[Span]:
    plan = sheet.plan
    facts = [phrases.end_count(plan.ends), plan.loom.title, length_words.wind(plan.lengths, sheet.units)]
    return [
        Span(NO_BREAK.join(fact.split(" ")) + ("  ·" if fact is not facts[-1] else ""), Face.SANS_BOLD)
        for fact in facts
    ]


def _name_room(sheet: Sheet, width: float) -> HeightRange:
    lines = len(sheet.lines(_name_spans(sheet), sheet.sizes.body, width))
    height = _head_height(sheet, width) + 2.4 + text_height(lines, sheet.sizes.body)
    return HeightRange(height, height)


def _draw_name(sheet: Sheet, box: Box) -> Drawing:
    """Name, code, version and date, and the facts in a line: for a card that is small, or has another beside it."""
    y = box.top + _head_height(sheet, box.width)
    marks = [*_name_and_number(sheet, box), Rule(box.left, y, box.right, y, HEAVY)]
    lines = sheet.lines(_name_spans(sheet), sheet.sizes.body, box.width)
    size = sheet.sizes.body
    marks += paragraph(sheet, lines, box.left, y + 2.4 + cap_height(size), size, box.width)
    return Drawing(tuple(marks))


TITLE = Panel("title", _room, _draw)
NAME = Panel("name", _name_room, _draw_name)
PLAIN_NAME = Panel(
    "plain-name",
    lambda sheet, width: HeightRange(_head_height(sheet, width), _head_height(sheet, width)),
    lambda sheet, box: Drawing(
        (*_name_and_number(sheet, box), Rule(box.left, box.bottom - 0.4, box.right, box.bottom - 0.4, HEAVY))
    ),
)


def _visitor_name(sheet: Sheet, box: Box) -> Drawing:
    """The name alone, as a sign."""
    size = shortened(
        sheet.plan.pattern.title, Face.SERIF_SEMIBOLD, sheet.sizes.title, box.width, sheet.ruler, sheet.sizes.heading
    )
    return Drawing((_titled(sheet, box, box.top + 0.72 * sheet.sizes.title * POINT, size),))


VISITOR_NAME = Panel(
    "visitor-name",
    lambda sheet, width: HeightRange(cap_height(sheet.sizes.title) + 2.6, cap_height(sheet.sizes.title) + 2.6),
    _visitor_name,
)
