"""The count and the letters of every stripe beside its bracket, moved and set smaller so that no two of them meet."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise, zip_longest
from typing import Final, NamedTuple

from cardmaker.card.brackets import Bracket
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import POINT
from cardmaker.layout.spreading import spread
from cardmaker.model.marks import Face
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.wording import stripe_words

# How near, as a share of the type size, two counts come, and the letters of two stripes: more than a word space (0.2).
COUNTS_APART, COUNTS_WELL_APART = 0.3, 0.5
LETTERS_APART: Final = 0.28
LETTERS_CLOSE, LEAST_CLOSE = 0.14, 0.55  # and mm, where only so all find room in one row: a code has no space in it
NEAR_MIDDLE, NEAR_MIDDLE_CLOSE = 0.35, 0.44  # of their width: so far from the middle of a bracket
BRACKETED: Final = frozenset({"walk", "board"})  # panels whose drawings have brackets
CALM: Final = 0.7  # of the size of a count: down to this all counts of a drawing shrink together


class BracketLabel(NamedTuple):
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
            return max(LEAST_CLOSE, LETTERS_CLOSE * self.size * POINT)
        return LETTERS_APART * self.size * POINT

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


# counts


def common_size(sheet: Sheet, rows: Sequence[Sequence[Bracket]]) -> float:
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


def _label(sheet: Sheet, bracket: Bracket, text: str, face: Face, size: float) -> BracketLabel:
    """A label in the middle of its bracket, or outside where it is wider than that."""
    width = sheet.wide(text, face, size)
    return BracketLabel(bracket, text, face, size, width, bracket.middle, 0 if width <= bracket.inside else 1)


def _count(sheet: Sheet, bracket: Bracket, size: float) -> BracketLabel:
    """The count, as large as its bracket holds it; outside in the usual size where even the smallest is too wide."""
    usual = label = _label(sheet, bracket, str(bracket.segment.ends), Face.SANS_BOLD, size)
    while label.row and label.size > sheet.sizes.smallest:
        smaller = max(sheet.sizes.smallest, label.size - 0.5)
        label = _label(sheet, bracket, label.text, label.face, smaller)
    return usual if label.row else label


def _clear_of_neighbours(labels: Sequence[BracketLabel]) -> list[BracketLabel]:
    """The labels, of those that lie inside every one taken out that comes too near to the one before it."""
    cleared: list[BracketLabel] = []
    reached = -1.0  # how far the last one inside reaches; nothing lies left of the drawing
    for label in labels:
        if not label.row:
            if label.x - label.width / 2 < reached:
                label = label._replace(row=1)
            else:
                reached = label.x + label.width / 2 + label.nearest
        cleared.append(label)
    return cleared


def count_labels(sheet: Sheet, brackets: Sequence[Bracket], width: float, size: float) -> list[BracketLabel]:
    """The counts of the stripes that begin there; those that do not lie inside are moved aside a little and dealt to as
    few rows as keep them apart.

    Each still stands over the middle of its bracket.
    """
    labels = _clear_of_neighbours([_count(sheet, bracket, size) for bracket in brackets if bracket.begins])
    outside = _dealt([label for label in labels if label.row], width, 1)
    return [outside.get(label.bracket, label) for label in labels]


def over_their_letters(counts: Sequence[BracketLabel], letters: Sequence[BracketLabel]) -> list[BracketLabel]:
    """The counts over letters that had to move aside, as far as each bracket holds its own and has it over its middle;
    where they are apart."""
    aside = {label.bracket: label.x for label in letters if not label.row}
    moved = [_moved_over(count, aside.get(count.bracket, count.x)) for count in counts]
    inside = [label for label in moved if not label.row]
    gaps = (other.x - other.width / 2 - one.x - one.width / 2 - one.nearest for one, other in pairwise(inside))
    return list(counts) if any(gap < 0 for gap in gaps) else moved


def _moved_over(count: BracketLabel, x: float) -> BracketLabel:
    if count.row:
        return count
    free = min(max(0.0, (count.bracket.inside - count.width) / 2), NEAR_MIDDLE * count.width)
    return count._replace(x=min(max(x, count.bracket.middle - free), count.bracket.middle + free))


# letters


def letter_size(sheet: Sheet) -> float:
    return max(sheet.sizes.smallest, sheet.sizes.small)


def _letters(sheet: Sheet, bracket: Bracket, in_one_line: bool) -> BracketLabel:
    """The letters under a count, with *in turn*; of the rest of a stripe, that it is one."""
    segment, size, face = bracket.segment, letter_size(sheet), Face.SANS_SEMIBOLD
    text = stripe_words.letters_of([sheet.letters(yarn) for yarn in segment.yarns])
    if not bracket.begins:
        text = stripe_words.rest_of(segment.ends, text)
    below = ""
    if segment.in_turn and in_one_line:
        text = stripe_words.in_turn(text)
    elif segment.in_turn and not turns_in_legend(sheet):
        below = stripe_words.IN_TURN
    width = max(sheet.wide(text, face, size), sheet.wide(below, Face.SANS, size))
    return BracketLabel(bracket, text, face, size, width, bracket.middle, below=below)


def turns_in_legend(sheet: Sheet) -> bool:
    """Whether a legend says of all joined letters that their yarns are in turn: on a small card with several such
    stripes, whose drawings would each lose a line to it."""
    panels = sheet.layout.panels
    return sheet.brief and "legend" in panels and bool(BRACKETED & panels) and len(_turns(sheet)) > 1


def _turns(sheet: Sheet) -> list[Segment]:
    return [segment for segment in sheet.segments if segment.in_turn]


def turns_in_one_line(sheet: Sheet, rows: Sequence[Sequence[Bracket]]) -> bool:
    """Whether every stripe of ends in turn holds its letters with *in turn* behind them, which no legend says."""
    if turns_in_legend(sheet):
        return False
    turns = [bracket for row in rows for bracket in row if bracket.segment.in_turn]
    return all(_letters(sheet, bracket, True).width <= bracket.inside for bracket in turns)


def letter_labels(sheet: Sheet, brackets: Sequence[Bracket], width: float, in_one_line: bool) -> list[BracketLabel]:
    """The letters at the usual distance; closer, if those of single yarns are then all in one row, and else they are
    not."""
    labels = [_letters(sheet, bracket, in_one_line) for bracket in brackets]
    usual = _in_fewest_rows(labels, width)
    if not any(label.row for label in usual) or any(bracket.segment.in_turn for bracket in brackets):
        return usual
    close = _in_fewest_rows([label._replace(is_close=True) for label in labels], width)
    return usual if any(label.row for label in close) else close


def _in_fewest_rows(labels: Sequence[BracketLabel], width: float) -> list[BracketLabel]:
    """The letters in one row where they all find room, each near the middle of its bracket; else those of the narrowest
    stripes among them that crowd each other stand in rows below."""
    kept = list(labels)
    moved = _moved(kept, width, 0)
    while crowded := _crowded(moved):
        taken_out = _narrowest(kept, crowded)
        kept = [label for label in kept if label.bracket not in taken_out]
        moved = _moved(kept, width, 0)
    first = {label.bracket: label for label in moved}
    below = 1 + max((label.last_row for label in kept), default=-1)
    others = _dealt([label for label in labels if label.bracket not in first], width, below)
    return [(first | others).get(label.bracket, label) for label in labels]


def _crowded(labels: Sequence[BracketLabel]) -> list[Bracket]:
    """The brackets of letters that push each other aside, all of them, where one of them stands too far aside."""
    groups: list[list[BracketLabel]] = []
    for label in labels:
        last = groups[-1][-1] if groups else None
        if last and label.x - label.width / 2 - last.x - last.width / 2 <= max(last.nearest, label.nearest) + 0.01:
            groups[-1].append(label)
        else:
            groups.append([label])
    too_far = (group for group in groups if any(label.is_far_aside for label in group))
    return [label.bracket for group in too_far for label in group]


def _narrowest(labels: Sequence[BracketLabel], crowded: Sequence[Bracket]) -> list[Bracket]:
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


def _dealt(labels: Sequence[BracketLabel], width: float, first_row: int) -> dict[Bracket, BracketLabel]:
    """What does not lie inside, dealt to as few rows as let each stand by the middle of its bracket."""
    for rows in range(1, len(labels) + 1):
        high = 1 + max(label.last_row - label.row for label in labels)
        moved = [
            label for first in range(rows) for label in _moved(labels[first::rows], width, first_row + first * high)
        ]
        if all(label.stands_by for label in moved):
            return {label.bracket: label for label in moved}
    return {}


def _moved(labels: Sequence[BracketLabel], width: float, row: int) -> list[BracketLabel]:
    """The labels side by side in a row, moved no farther than they must."""
    gaps = [max(one.nearest, other.nearest) for one, other in pairwise(labels)]
    places = spread([label.bracket.middle for label in labels], [label.width for label in labels], gaps, width)
    return [label._replace(x=x, row=row) for label, x in zip(labels, places, strict=True)]
