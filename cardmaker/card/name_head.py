"""The name of the pattern at the head of a card, with its code, version and date beside it or below."""

from __future__ import annotations

from typing import Final

from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import HEAVY, POINT
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import Headline, Span, cap_height, headline, leading, words_group
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Words
from cardmaker.wording import title_words

HOLE_ROOM: Final = 4.5  # mm that a name keeps clear of a corner that is punched
BESIDE: Final = 5.0  # mm from the name to the number beside it
ASCENT: Final = 0.72  # of the size: from the top of the name's highest letters to its baseline
DESCENT: Final = 0.23  # of the size: how far the name's tails hang below its baseline
ABOVE_RULE: Final = 1.2  # mm


def name_part(sheet: Sheet, width: float, *, dated: bool = True) -> Part:
    """The name in the largest type that its lines hold, and its number; without the date where that stands below."""
    head = _Head(sheet, width, dated=dated)
    return Part(exactly(head.height), head.draw, facts=("title", "code"))


def back_name_part(sheet: Sheet, width: float) -> Part:
    """The name on the back of a card: with its number, so that a copy is not lost, and which side this is. It is said
    again, so it counts as the name only."""
    head = _Head(sheet, width, dated=False, side=title_words.BACK)
    return Part(exactly(head.height), head.draw, facts=("title",))


def title_part(sheet: Sheet, width: float) -> Part:
    """The name alone, as a sign."""
    head = _Head(sheet, width, numbered=False)
    return Part(exactly(head.height), head.draw, facts=("title",))


def rule_part(sheet: Sheet, *, above: float = ABOVE_RULE) -> Part:
    """The heavy rule under a head."""
    return Part(exactly(HEAVY), lambda box: [Line(box.left, box.top, box.right, box.top, HEAVY)], above)


def card_number(sheet: Sheet, width: float, *, dated: bool = True, side: str = "") -> str:
    """Code, version and date; the version shortened, as on all cards of few words, then the date left off where the
    line is too short for them. The ``side`` stands last."""
    pattern = sheet.plan.pattern
    brief, date = title_words.version(pattern.version, brief=True), pattern.date if dated else ""
    choices = [[pattern.code, brief, date, side], [pattern.code, brief, side]]
    if not sheet.brief:
        choices.insert(0, [pattern.code, title_words.version(pattern.version), date, side])
    lines = ["  ·  ".join(part for part in parts if part) for parts in choices]
    return next((line for line in lines if _number_width(sheet, line) <= width), lines[-1])


def _number_width(sheet: Sheet, number: str) -> float:
    return sheet.wide(number, Face.SANS_SEMIBOLD, sheet.sizes.body)


class _Head:
    """The name and the number, set once, measured and drawn from that."""

    def __init__(
        self, sheet: Sheet, width: float, *, numbered: bool = True, dated: bool = True, side: str = ""
    ) -> None:
        self._sheet = sheet
        is_pierced = sheet.layout.punch == "corner" and not (sheet.is_back and sheet.layout.ribbon)
        self._width = width - (HOLE_ROOM if is_pierced else 0.0)
        self._left = width - self._width if sheet.is_back else 0.0  # turned over, the hole is in the other corner
        shortest = card_number(sheet, 0.0, side=side) if numbered else ""
        room = self._width - BESIDE - _number_width(sheet, shortest)
        one_line = headline(sheet.plan.pattern.title, sheet.sizes.title, sheet.sizes.title, room, sheet.ruler)
        self._beside = bool(shortest) and len(one_line.lines) == 1
        self._name: Headline = (
            one_line
            if self._beside
            else headline(
                sheet.plan.pattern.title, sheet.sizes.title, sheet.sizes.smallest, self._width, sheet.ruler
            )
        )  # fmt: skip
        name_width = max(sheet.wide(line[0].text, Face.SERIF_SEMIBOLD, self._name.size) for line in self._name.lines)
        free = self._width - BESIDE - name_width if self._beside else self._width
        free = free if dated or side else 0.0
        self._number = card_number(sheet, free, dated=dated, side=side) if numbered else ""
        self._number_lines = (
            [] if self._beside or not self._number
            else sheet.lines([Span(self._number, Face.SANS_SEMIBOLD)], sheet.sizes.body, self._width)
        )  # fmt: skip

    @property
    def _first(self) -> float:
        """The first baseline, from the top."""
        return ASCENT * self._name.size * POINT

    @property
    def height(self) -> float:
        """From the top of the capitals to below the name's tails, or to the number below it."""
        name = self._first + self._name.height_mm - cap_height(self._name.size)
        tails = DESCENT * self._name.size * POINT
        return name + tails + len(self._number_lines) * leading(self._sheet.sizes.body)

    def draw(self, box: Box) -> list[Mark]:
        sheet, name = self._sheet, self._name
        box = box.inset(left=self._left)
        first = box.top + self._first
        lines = [
            Words(box.left, first + number * leading(name.size), line[0].text, Face.SERIF_SEMIBOLD, name.size)
            for number, line in enumerate(name.lines)
        ]
        marks: list[Mark] = [Group("title", "", Box(box.left, box.top, self._width, name.height_mm), tuple(lines))]
        if not self._number:
            return marks
        size, face = sheet.sizes.body, Face.SANS_SEMIBOLD
        place = Box(box.left, box.top, self._width, box.height)
        if self._beside:
            number = [Words(box.left + self._width, first, self._number, face, size, align="right")]
        else:
            below = lines[-1].y + DESCENT * name.size * POINT + leading(size) - 0.6
            number = sheet.set(self._number_lines, box.left, below, size)
        return [*marks, words_group("paragraph", place, *number)]
