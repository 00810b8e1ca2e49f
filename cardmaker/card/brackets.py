"""Brackets over columns of ends: the count and the letters of every stripe, so that no two of them meet.

The walk and the board are headed by the same row, whatever their columns are. Nothing in it stands upright but figures
and letters: a line beside a *1* would be read as another.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise, zip_longest
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
# Letters of several yarns have such a space between them, so that their neighbours keep farther away.
COUNTS_APART, COUNTS_WELL_APART = 0.3, 0.5
LETTERS_APART, PAIRS_APART = 0.28, 0.45
LETTERS_CLOSE: Final = 0.2  # where only so all find room in one row: a code has no word space in it
NEAR_MIDDLE, NEAR_MIDDLE_CLOSE = 0.35, 0.5  # of their width: so far may letters stand from the middle of a bracket
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
    """A count, or the letters of a stripe: where its middle stands, and in which row; 0 is the usual one. ``below`` is
    a second line of it."""

    bracket: Bracket
    text: str
    face: Face
    size: float
    width: float
    x: float
    row: int = 0
    below: str = ""
    is_close: bool = False  # set as near to its neighbours as letters may stand

    @property
    def nearest(self) -> float:
        """How near, in mm, another may come."""
        if self.face is Face.SANS_BOLD:
            return COUNTS_APART * self.size * POINT
        if self.is_close:
            return LETTERS_CLOSE * self.size * POINT
        return (PAIRS_APART if len(self.bracket.segment.yarns) > 1 else LETTERS_APART) * self.size * POINT

    @property
    def stands_by(self) -> bool:
        """Whether the middle of its bracket still lies under or over it."""
        return self.aside <= self.width / 2

    @property
    def is_far_aside(self) -> bool:
        """Whether it does not stand near the middle of its bracket any more."""
        return self.aside > (NEAR_MIDDLE_CLOSE if self.is_close else NEAR_MIDDLE) * self.width

    @property
    def aside(self) -> float:
        """How far it has moved from the middle of its bracket."""
        return abs(self.x - self.bracket.middle)

    @property
    def last_row(self) -> int:
        return self.row + bool(self.below)


@record
class BracketRow:
    """The counts and letters over one row of columns, measured."""

    brackets: tuple[Bracket, ...]
    counts: tuple[_Label, ...]
    letters: tuple[_Label, ...]
    upper: int  # rows of counts over the usual one
    lower: int  # rows of letters under the first one
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
        return self._count_at(0) + ABOVE_LETTERS + cap + row * (cap + BETWEEN_LETTERS)

    @property
    def _bracket_at(self) -> float:
        return self._letters_at(self.lower) + tail_depth(self.letter_size) + ABOVE_BRACKET

    def marks(self, left: float, top: float) -> list[Mark]:
        """The row as drawn, its columns from ``left`` on and its counts from ``top`` down."""
        marks: list[Mark] = []
        for label in self.counts:
            y = top + self._count_at(label.row)
            marks.append(_words(label, left, y))
            if label.row:
                x, start = left + label.bracket.middle, y + ABOVE_LEADER
                marks.append(Line(x, start, x, start + LEADER, HAIRLINE))
        for label in self.letters:
            marks.append(_words(label, left, top + self._letters_at(label.row)))
            if label.below:
                second = label._replace(text=label.below, face=Face.SANS)
                marks.append(_words(second, left, top + self._letters_at(label.row + 1)))
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
    layout's smallest is too wide it stands in a row above with a leader. Letters stand in one row, moved aside a little
    where they meet; only what finds no room there stands below. That ends are in turn is said of all such stripes in
    one way: behind the letters, or of all of them below. Ours; no source.
    """
    size, in_one_line = _common_size(sheet, rows), _turns_in_one_line(sheet, rows)
    return [_row(sheet, row, width, size, in_one_line) for row in rows]


def _row(sheet: Sheet, brackets: Sequence[Bracket], width: float, size: float, in_one_line: bool) -> BracketRow:
    counts = _apart([_count(sheet, bracket, size) for bracket in brackets if bracket.begins], width)
    letters = _all_letters([_letters(sheet, bracket, in_one_line) for bracket in brackets], width)
    return BracketRow(
        tuple(brackets),
        tuple(counts),
        tuple(letters),
        upper=max((label.row for label in counts), default=0),
        lower=max(label.last_row for label in letters),
        count_size=max((label.size for label in counts), default=size),
        letter_size=_letter_size(sheet),
    )


# counts


def _common_size(sheet: Sheet, rows: Sequence[Sequence[Bracket]]) -> float:
    """The largest size at which every count lies inside its bracket well apart from the next, or at least not too near
    to it; else the least to which all shrink together."""
    largest, least = sheet.sizes.count, max(sheet.sizes.smallest, round(sheet.sizes.count * CALM * 2) / 2)
    sizes = [largest - step / 2 for step in range(int(max(0.0, largest - least) * 2) + 1)]
    for apart in (COUNTS_WELL_APART, COUNTS_APART):
        for size in sizes:
            if all(_all_inside(sheet, row, size, apart) for row in rows):
                return size
    return max(sizes[-1], least)


def _all_inside(sheet: Sheet, brackets: Sequence[Bracket], size: float, apart: float) -> bool:
    shown = [bracket for bracket in brackets if bracket.begins]
    labels = [_label(sheet, bracket, str(bracket.segment.ends), Face.SANS_BOLD, size) for bracket in shown]
    gaps = (other.x - other.width / 2 - one.x - one.width / 2 for one, other in pairwise(labels))
    return not any(label.row for label in labels) and all(gap >= apart * size * POINT for gap in gaps)


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
    """The counts, those that do not lie inside moved aside a little and dealt to as few rows as keep them apart.

    Each still stands over the middle of its bracket.
    """
    labels = _clear_of_neighbours(labels)
    outside = _dealt([label for label in labels if label.row], width, 1)
    return [outside.get(label.bracket, label) for label in labels]


# letters


def _letter_size(sheet: Sheet) -> float:
    return max(sheet.sizes.smallest, sheet.sizes.small)


def _letters(sheet: Sheet, bracket: Bracket, in_one_line: bool) -> _Label:
    """The letters under a count, with *in turn*; of the rest of a stripe, that it is one."""
    segment, size, face = bracket.segment, _letter_size(sheet), Face.SANS_SEMIBOLD
    text = " ".join(sheet.letters(yarn) for yarn in segment.yarns)
    if not bracket.begins:
        text = stripe_words.rest_of(segment.ends, text)
    below = ""
    if segment.in_turn and in_one_line:
        text = stripe_words.in_turn(text)
    elif segment.in_turn:
        below = stripe_words.IN_TURN
    width = max(sheet.wide(text, face, size), sheet.wide(below, Face.SANS, size))
    return _Label(bracket, text, face, size, width, bracket.middle, below=below)


def _turns_in_one_line(sheet: Sheet, rows: Sequence[Sequence[Bracket]]) -> bool:
    """Whether every stripe of ends in turn holds its letters with *in turn* behind them."""
    turns = [bracket for row in rows for bracket in row if bracket.segment.in_turn]
    return all(_letters(sheet, bracket, True).width <= bracket.inside for bracket in turns)


def _all_letters(labels: Sequence[_Label], width: float) -> list[_Label]:
    """The letters in the usual distance; closer, if single yarns are then all in one row, and else they are not."""
    usual = _in_fewest_rows(labels, width)
    if not any(label.row for label in usual) or any(label.bracket.segment.in_turn for label in labels):
        return usual
    close = _in_fewest_rows([label._replace(is_close=True) for label in labels], width)
    return usual if any(label.row for label in close) else close


def _in_fewest_rows(labels: Sequence[_Label], width: float) -> list[_Label]:
    """The letters in one row where they all find room, each near the middle of its bracket; else those of the narrowest
    stripes among them that crowd each other stand in rows below."""
    kept = list(labels)
    while crowded := _crowded(_moved(kept, width, 0)):
        taken_out = _narrowest(kept, crowded)
        kept = [label for label in kept if label.bracket not in taken_out]
    first = {label.bracket: label for label in _moved(kept, width, 0)}
    below = 1 + max((label.last_row for label in kept), default=-1)
    others = _dealt([label for label in labels if label.bracket not in first], width, below)
    return [(first | others).get(label.bracket, label) for label in labels]


def _crowded(labels: Sequence[_Label]) -> list[Bracket]:
    """The brackets of letters that push each other aside, all of them, where one of them stands too far aside."""
    groups: list[list[_Label]] = []
    for label in labels:
        last = groups[-1][-1] if groups else None
        if last and label.x - label.width / 2 - last.x - last.width / 2 <= max(last.nearest, label.nearest) + 0.01:
            groups[-1].append(label)
        else:
            groups.append([label])
    too_far = (group for group in groups if any(label.is_far_aside for label in group))
    return [label.bracket for group in too_far for label in group]


def _narrowest(labels: Sequence[_Label], crowded: Sequence[Bracket]) -> list[Bracket]:
    """The brackets, among those that are crowded, that are narrowest; of neighbours every second one."""
    least = min(bracket.right - bracket.left for bracket in crowded)
    taken: list[Bracket] = []
    run = 0  # how many of them stand side by side so far
    following = [label.bracket for label in labels[1:]]
    for label, after in zip_longest(labels, following):
        if not _is_one_of(label.bracket, crowded, least):
            run = 0
            continue
        is_alone = run == 0 and not (after and _is_one_of(after, crowded, least))
        if run % 2 or is_alone:
            taken.append(label.bracket)
        run += 1
    return taken


def _is_one_of(bracket: Bracket, crowded: Sequence[Bracket], width: float) -> bool:
    return bracket in crowded and bracket.right - bracket.left <= width + 0.01


# both


def _dealt(labels: Sequence[_Label], width: float, first_row: int) -> dict[Bracket, _Label]:
    """What does not lie inside, dealt to as few rows as let each stand by the middle of its bracket."""
    for rows in range(1, len(labels) + 1):
        high = 1 + max(label.last_row - label.row for label in labels)
        moved = [
            label for first in range(rows) for label in _moved(labels[first::rows], width, first_row + first * high)
        ]
        if all(label.stands_by for label in moved):
            return {label.bracket: label for label in moved}
    return {}


def _moved(labels: Sequence[_Label], width: float, row: int) -> list[_Label]:
    """The labels side by side in a row, moved no farther than they must."""
    gaps = [max(one.nearest, other.nearest) for one, other in pairwise(labels)]
    places = spread([label.bracket.middle for label in labels], [label.width for label in labels], gaps, width)
    return [label._replace(x=x, row=row) for label, x in zip(labels, places, strict=True)]
