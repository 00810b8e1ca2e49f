"""Brackets over columns of ends, with the count and the letters of every stripe.

The walk and the board are headed by the same row, whatever their columns are. Nothing beside a figure stands upright: a
line beside a *1* would be read as another. Where letters of narrow stripes stand in a second row, a line leads from
those of the first down to their brackets.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from math import inf
from typing import Final

from cardmaker.card.bracket_labels import (
    BracketLabel,
    common_size,
    count_labels,
    letter_labels,
    letter_size,
    over_their_letters,
    turns_in_one_line,
)
from cardmaker.card.brackets import Bracket
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK, HAIRLINE, OUTLINE
from cardmaker.layout.type_setting import cap_height, tail_depth
from cardmaker.model.marks import Face, Line, Mark, Path, Step, Words
from cardmaker.model.record_class import record

ABOVE_LETTERS: Final = 1.1  # mm from a count's baseline to the capitals of its letters
BETWEEN_LETTERS: Final = 0.128  # mm for every point, from letters to the row below: a stroke between two hangs lower
BELOW_LEADER: Final = 0.4  # mm from the leader of a count in an upper row to the counts below it
LEADER: Final = 0.9  # mm: too short to be read as a figure
ABOVE_LEADER: Final = 0.4  # mm
BESIDE_LEADER: Final = 0.25  # mm from letters to the line that leads down to their bracket, and from that to it
LEAST_BESIDE: Final = 0.05  # mm: nearer than this it is seen to touch them
OFF_LETTERS: Final = 0.35  # of their width: so far from the middle of its letters a line may begin, at the most
ABOVE_BRACKET: Final = 0.4  # mm from the letters' tails to the bracket
BRACKET_DROP: Final = 1.1  # mm: the arms of a bracket


@record
class BracketRow:
    """The counts and letters over one row of columns, measured."""

    brackets: tuple[Bracket, ...]
    counts: tuple[BracketLabel, ...]
    letters: tuple[BracketLabel, ...]
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
        return self._count_at(0) + ABOVE_LETTERS + cap + row * (cap + BETWEEN_LETTERS * self.letter_size)

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
            elif label.row < self.lower:
                marks.append(self._leader(label, left, top))
        return marks + [_bar(bracket, left, top + self._bracket_at) for bracket in self.brackets]

    def _leader(self, label: BracketLabel, left: float, top: float) -> Mark:
        """From letters of an upper row down to their bracket: from middle to middle, or as near to that as the line
        keeps clear of the letters of the rows between; where no straight line does, one that turns between them."""
        start = self._letters_at(label.row) + tail_depth(self.letter_size) + BESIDE_LEADER
        stop = self._bracket_at - BESIDE_LEADER
        first, last = label.bracket.bar
        middle = label.bracket.middle
        heads = _around(label.x, label.width * OFF_LETTERS)
        feet = _around(middle, min(middle - first, last - middle))
        below = [each for each in self.letters if each.row > label.row]

        def clearance(way: tuple[float, float]) -> float:
            """How far, in mm, a line keeps from the nearest letters; more than wanted counts no more."""
            head, foot = way
            beside = (self._beside(each, (head, start), (foot, stop)) for each in below)
            return round(min([BESIDE_LEADER, *beside]), 3)

        ways = sorted(product(heads, feet), key=lambda way: abs(way[0] - label.x) + abs(way[1] - middle))
        head, foot = max(ways, key=clearance)  # of equals the first
        if clearance((head, foot)) > LEAST_BESIDE:
            return Line(left + head, top + start, left + foot, top + stop, HAIRLINE)
        points = [(left + x, top + y) for x, y in self._way_between(label, start, stop)]
        steps: list[Step] = [("move", *points[0]), *(("line", *point) for point in points[1:])]
        return Path(tuple(steps), stroke=BLACK, width=HAIRLINE)

    def _way_between(self, label: BracketLabel, start: float, stop: float) -> list[tuple[float, float]]:
        """Straight down between the letters of every row below, each time between those of the stripes before and
        after, and from one gap to the next between the rows."""
        middle, reach = label.bracket.middle, label.width * OFF_LETTERS
        points: list[tuple[float, float]] = []
        for row in range(label.row + 1, self.lower + 1):
            x, foot = self._gap(row, middle), self._letters_at(row)
            points += [(x, foot - cap_height(self.letter_size)), (x, foot + tail_depth(self.letter_size))]
        first, last = label.bracket.bar
        head = min(max(points[0][0], label.x - reach), label.x + reach)
        return [(head, start), *points, (min(max(points[-1][0], first), last), stop)]

    def _gap(self, row: int, middle: float) -> float:
        """Where a line to a bracket with this middle passes a row of letters: over it, if there is room between."""
        edges = [(each.x - each.width / 2, each.x + each.width / 2, each.bracket.middle) for each in self._in_row(row)]
        before = max((right + BESIDE_LEADER for _, right, at in edges if at < middle), default=-inf)
        after = min((left - BESIDE_LEADER for left, _, at in edges if at > middle), default=inf)
        return min(max(middle, before), after) if before <= after else (before + after) / 2

    def _in_row(self, row: int) -> list[BracketLabel]:
        return [each for each in self.letters if each.row <= row <= each.last_row]

    def _beside(self, label: BracketLabel, start: tuple[float, float], stop: tuple[float, float]) -> float:
        """How far a line passes beside letters, in mm: less than nothing where it runs through them."""
        foot = self._letters_at(label.row)
        heights = (foot - cap_height(self.letter_size), foot)
        slope = (stop[0] - start[0]) / (stop[1] - start[1])
        passes = [start[0] + slope * (y - start[1]) for y in heights]
        return max(label.x - max(passes), min(passes) - label.x) - label.width / 2


def _around(middle: float, reach: float) -> list[float]:
    """Places from the middle to both sides, as far as they reach."""
    return [middle + reach * fifths / 5 for fifths in (0, 1, -1, 2, -2, 3, -3, 4, -4, 5, -5)]


def _words(label: BracketLabel, left: float, y: float) -> Words:
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
    size, in_one_line = common_size(sheet, rows), turns_in_one_line(sheet, rows)
    return [_row(sheet, row, width, size, in_one_line) for row in rows]


def _row(sheet: Sheet, brackets: Sequence[Bracket], width: float, size: float, in_one_line: bool) -> BracketRow:
    letters = letter_labels(sheet, brackets, width, in_one_line)
    counts = over_their_letters(count_labels(sheet, brackets, width, size), letters)
    return BracketRow(
        tuple(brackets),
        tuple(counts),
        tuple(letters),
        upper=max((label.row for label in counts), default=0),
        lower=max(label.last_row for label in letters),
        count_size=max((label.size for label in counts), default=size),
        letter_size=letter_size(sheet),
    )
