"""Brackets over columns of ends: the count and the letters of every stripe, so that no two of them meet.

The walk and the board are headed by the same row, whatever their columns are. Nothing in it stands upright but figures
and letters: a line beside a *1* would be read as another.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final, NamedTuple

from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK, HAIRLINE, OUTLINE, POINT
from cardmaker.layout.spreading import spread
from cardmaker.layout.type_setting import cap_height, tail_depth
from cardmaker.model.marks import Face, Line, Mark, Path, Step, Words
from cardmaker.model.record_class import record
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.wording import stripe_words

# How near, as a share of the type size, two counts come, and the letters of two stripes: more than a word space (0.2).
COUNTS_APART: Final = 0.3
LETTERS_APART: Final = 0.23
CALM: Final = 0.7  # of the size of a count: down to this all counts of a drawing shrink together
ABOVE_LETTERS: Final = 1.3  # mm from a count's baseline to the capitals of its letters
BETWEEN_LETTERS: Final = 0.9  # mm from letters to those in the row below
BELOW_LEADER: Final = 0.4  # mm from the leader of a count in an upper row to the counts below it
LEADER: Final = 0.9  # mm: too short to be read as a figure
ABOVE_LEADER: Final = 0.4  # mm
ABOVE_BRACKET: Final = 0.4  # mm from the letters' tails to the bracket
BRACKET_DROP: Final = 1.3  # mm: the arms of a bracket
ARM_INSET: Final = 0.3  # mm from the edge of a stripe's columns to the arm, so that two brackets do not join


class Bracket(NamedTuple):
    """Ends that are counted in one go, and the columns that they take, in mm from the left of the drawing.

    Of a stripe that goes over from one row into the next the first part bears the count of all of it.
    """

    segment: Segment
    left: float
    right: float
    begins: bool = True  # whether the stripe begins here, and is not the rest of one
    ends: bool = True  # whether it ends here

    @property
    def middle(self) -> float:
        return (self.left + self.right) / 2

    @property
    def bar(self) -> tuple[float, float]:
        """From where to where it is drawn: arms keep a little from the edge of the columns."""
        inset = min(ARM_INSET, (self.right - self.left) * 0.1)
        return self.left + self.begins * inset, self.right - self.ends * inset

    @property
    def inside(self) -> float:
        """The width that it holds: figures may stand over its arms."""
        start, stop = self.bar
        return stop - start + OUTLINE


def brackets_over(
    segments: Sequence[Segment], row: range, column: Callable[[int], float], pitch: float
) -> list[Bracket]:
    """A bracket for each of the segments, as far as it lies in a row of ends, over columns ``pitch`` mm wide.

    ``column`` gives the middle of a column by the number of its end.
    """
    brackets = []
    for segment in segments:
        first, last = max(segment.first_end, row.start), min(segment.last_end, row.stop - 1)
        if first <= last:
            left, right = column(first) - pitch / 2, column(last) + pitch / 2
            brackets.append(Bracket(segment, left, right, first == segment.first_end, last == segment.last_end))
    return brackets


class _Label(NamedTuple):
    """A count, or the letters of a stripe: where its middle stands, and in which row; 0 is inside its bracket."""

    bracket: Bracket
    text: str
    face: Face
    size: float
    width: float
    x: float
    row: int = 0

    @property
    def nearest(self) -> float:
        """How near, in mm, another may come."""
        return (COUNTS_APART if self.face is Face.SANS_BOLD else LETTERS_APART) * self.size * POINT

    @property
    def stands_by(self) -> bool:
        """Whether the middle of its bracket still lies under or over it."""
        return abs(self.x - self.bracket.middle) <= self.width / 2


@record
class BracketRow:
    """The counts and letters over one row of columns, measured."""

    brackets: tuple[Bracket, ...]
    counts: tuple[_Label, ...]
    letters: tuple[_Label, ...]
    upper: int  # rows of counts over the usual one
    lower: int  # rows of letters under the first one
    first_letters: int  # the row of letters that stands highest: 1 where none lie inside
    count_size: float
    letter_size: float

    @property
    def height(self) -> float:
        """From the top of the counts to the foot of the brackets, in mm."""
        return self._bracket_at + BRACKET_DROP

    @property
    def _count_step(self) -> float:
        return cap_height(self.count_size) + ABOVE_LEADER + LEADER + BELOW_LEADER

    def _count_at(self, row: int) -> float:
        """The baseline of the counts of a row."""
        return cap_height(self.count_size) + (self.upper - row) * self._count_step

    def _letters_at(self, row: int) -> float:
        """The baseline of the letters of a row."""
        cap = cap_height(self.letter_size)
        down = (row - self.first_letters) * (cap + BETWEEN_LETTERS)
        return self._count_at(0) + ABOVE_LETTERS + cap + down

    @property
    def _bracket_at(self) -> float:
        return self._letters_at(self.first_letters + self.lower) + tail_depth(self.letter_size) + ABOVE_BRACKET

    def marks(self, left: float, top: float) -> list[Mark]:
        """The row as drawn, its columns from ``left`` on and its counts from ``top`` down."""
        marks: list[Mark] = []
        for label in self.counts:
            y = top + self._count_at(label.row)
            marks.append(_words(label, left, y))
            if label.row:
                x, start = left + label.bracket.middle, y + ABOVE_LEADER
                marks.append(Line(x, start, x, start + LEADER, HAIRLINE))
        marks += [_words(label, left, top + self._letters_at(label.row)) for label in self.letters]
        return marks + [_bar(bracket, left, top + self._bracket_at) for bracket in self.brackets]


def _words(label: _Label, left: float, y: float) -> Words:
    return Words(left + label.x, y, label.text, label.face, label.size, align="middle")


def _bar(bracket: Bracket, left: float, y: float) -> Mark:
    """A bar over the columns of a stripe, with an arm where it begins and where it ends, nearer to a narrow one's edge.

    Towards the row in which the stripe goes on it stays open.
    """
    start, stop = (left + x for x in bracket.bar)
    foot = y + BRACKET_DROP
    steps: list[Step] = [("move", start, foot), ("line", start, y)] if bracket.begins else [("move", start, y)]
    steps.append(("line", stop, y))
    if bracket.ends:
        steps.append(("line", stop, foot))
    return Path(tuple(steps), stroke=BLACK, width=OUTLINE)


def bracket_rows(sheet: Sheet, rows: Sequence[Sequence[Bracket]], width: float) -> list[BracketRow]:
    """The counts and letters over each row of columns of one drawing that is ``width`` mm wide.

    Counts have one size where they can; one that is too wide for its bracket is set smaller, and where even the
    layout's smallest is too wide it stands in a row above with a leader. Letters wider than their bracket stand in a
    row below. Ours; no source.
    """
    size = _common_size(sheet, rows)
    return [_row(sheet, row, width, size) for row in rows]


def _row(sheet: Sheet, brackets: Sequence[Bracket], width: float, size: float) -> BracketRow:
    small = max(sheet.sizes.smallest, sheet.sizes.small)
    counts = _apart([_count(sheet, bracket, size) for bracket in brackets if bracket.begins], width)
    letters = _apart([_letters(sheet, bracket, small) for bracket in brackets], width)
    first_letters = min(label.row for label in letters)
    return BracketRow(
        tuple(brackets),
        tuple(counts),
        tuple(letters),
        upper=max((label.row for label in counts), default=0),
        lower=max(label.row for label in letters) - first_letters,
        first_letters=first_letters,
        count_size=max((label.size for label in counts), default=size),
        letter_size=small,
    )


def _common_size(sheet: Sheet, rows: Sequence[Sequence[Bracket]]) -> float:
    """The largest size at which every count lies inside its bracket, or the least to which all shrink together."""
    size, least = sheet.sizes.count, max(sheet.sizes.smallest, round(sheet.sizes.count * CALM * 2) / 2)
    while size > least and not all(_all_inside(sheet, row, size) for row in rows):
        size -= 0.5
    return max(size, least)


def _all_inside(sheet: Sheet, brackets: Sequence[Bracket], size: float) -> bool:
    shown = [bracket for bracket in brackets if bracket.begins]
    labels = [_label(sheet, bracket, str(bracket.segment.ends), Face.SANS_BOLD, size) for bracket in shown]
    return not any(label.row for label in _clear_of_neighbours(labels))


def _label(sheet: Sheet, bracket: Bracket, text: str, face: Face, size: float) -> _Label:
    """A label in the middle of its bracket, or outside where it is wider than that."""
    width = sheet.wide(text, face, size)
    return _Label(bracket, text, face, size, width, bracket.middle, 0 if width <= bracket.inside else 1)


def _count(sheet: Sheet, bracket: Bracket, size: float) -> _Label:
    """The count, as large as its bracket holds it; outside in the usual size where even the smallest is too wide."""
    usual = label = _label(sheet, bracket, str(bracket.segment.ends), Face.SANS_BOLD, size)
    while label.row and label.size > sheet.sizes.smallest:
        smaller = max(sheet.sizes.smallest, label.size - 0.5)
        label = _label(sheet, bracket, label.text, label.face, smaller)
    return usual if label.row else label


def _letters(sheet: Sheet, bracket: Bracket, size: float) -> _Label:
    """The letters under a count, with *in turn* where they find room; of the rest of a stripe, that it is one."""
    text = " ".join(sheet.letters(yarn) for yarn in bracket.segment.yarns)
    if not bracket.begins:
        return _label(sheet, bracket, stripe_words.rest_of(bracket.segment.ends, text), Face.SANS_SEMIBOLD, size)
    if bracket.segment.in_turn:
        longer = _label(sheet, bracket, stripe_words.in_turn(text), Face.SANS_SEMIBOLD, size)
        if not longer.row:
            return longer
    return _label(sheet, bracket, text, Face.SANS_SEMIBOLD, size)


def _clear_of_neighbours(labels: Sequence[_Label]) -> list[_Label]:
    """The labels, of those that lie inside every one taken out that comes too near to the one before it."""
    cleared: list[_Label] = []
    reached = -1.0  # how far the last one inside reaches; nothing lies left of the drawing
    for label in labels:
        if not label.row:
            if label.x - label.width / 2 < reached:
                label = label._replace(row=1)
            else:
                reached = label.x + label.width / 2 + label.nearest
        cleared.append(label)
    return cleared


def _apart(labels: Sequence[_Label], width: float) -> list[_Label]:
    """The labels, those that do not lie inside moved aside a little and dealt to as few rows as keep them apart.

    Each still stands over or under the middle of its bracket.
    """
    labels = _clear_of_neighbours(labels)
    outside = [label for label in labels if label.row]
    for rows in range(1, len(outside) + 1):
        moved = [label for first in range(rows) for label in _moved(outside[first::rows], width, first + 1)]
        if all(label.stands_by for label in moved):
            by_bracket = {label.bracket: label for label in moved}
            return [by_bracket.get(label.bracket, label) for label in labels]
    return labels


def _moved(labels: Sequence[_Label], width: float, row: int) -> list[_Label]:
    nearest = max(label.nearest for label in labels)
    places = spread([label.bracket.middle for label in labels], [label.width for label in labels], nearest, width)
    return [label._replace(x=x, row=row) for label, x in zip(labels, places, strict=True)]
