"""What is written of the stripes of a small card, and where each finds room: in its cell, or hung below it.

A count and its letters are never parted. A cell that is wide enough holds both, the count over the letters or, where
that is lower, before them; from one that is not they hang as one line, straight under their stripe, in two lines of
such labels where one is too narrow for all.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import accumulate, product
from typing import Final

from cardmaker.card.sheet import Sheet
from cardmaker.layout.spreading import spread
from cardmaker.model.marks import Face
from cardmaker.model.record_class import record, replace
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.wording import stripe_words

BESIDE_FIGURES, LEAST_BESIDE = 0.6, 0.35  # mm from the edge of a cell to its figures, at least; where that saves labels
CLEAR: Final = 0.45  # mm from a leader to the labels that it passes, and in from the ends of its own
APART: Final = 1.3  # mm between labels
LEAST_APART: Final = 0.9  # mm, where that saves a row
TIERS: Final = 2  # of labels, one below the other
A_FEW: Final = 5  # labels


@record
class StripeFigures:
    """What is written of a stripe, and how wide that is over one another and in one line."""

    segment: Segment
    number: str
    letters: str
    wide: float
    in_line: float  # how wide count and letters are one after the other
    is_hung: bool = False
    tier: int = 0  # of its label
    middle: float = 0.0  # of its label, from the left of the stripes, in mm


def figures_of_stripes(sheet: Sheet, count_size: float, *, tells_turns: bool) -> list[StripeFigures]:
    """Of all stripes; letters tell that they are in turn in words, or by the stroke between them alone."""
    return [_figures(sheet, segment, count_size, tells_turns=tells_turns) for segment in sheet.segments]


def _figures(sheet: Sheet, segment: Segment, count_size: float, *, tells_turns: bool) -> StripeFigures:
    count = str(segment.ends)
    letters = stripe_words.letters_of([sheet.letters(yarn) for yarn in segment.yarns])
    if segment.in_turn and tells_turns:
        letters = stripe_words.in_turn(letters)
    number = sheet.wide(count, Face.SANS_BOLD, count_size)
    words, space = (sheet.wide(text, Face.SANS_SEMIBOLD, sheet.sizes.small) for text in (letters, " "))
    return StripeFigures(segment, count, letters, max(number, words), number + space + words)


def held_in_cells(figures: Sequence[StripeFigures], pitch: float, beside: float, *, flat: bool) -> list[StripeFigures]:
    """Each in its cell where that holds it with so much ``beside`` it, else as a label; ``flat`` in one line."""
    return [
        replace(each, is_hung=(each.in_line if flat else each.wide) + 2 * beside > pitch * each.segment.ends)
        for each in figures
    ]


def hung_in_place(figures: Sequence[StripeFigures], pitch: float, width: float) -> list[StripeFigures]:
    """The labels placed in as few tiers as they can be, so that each leader goes straight down to its label and past
    all others; none where they cannot. A label moves aside only as far as its stripe's middle stays over it."""
    starts = [0.0, *accumulate(pitch * each.segment.ends for each in figures)]
    placed = [
        replace(each, middle=start + pitch * each.segment.ends / 2)
        for each, start in zip(figures, starts, strict=False)
    ]
    labels = [at for at, each in enumerate(placed) if each.is_hung]
    for tiers in _ways(len(labels)):
        moved = _moved([placed[at] for at in labels], tiers, width)
        if moved:
            for at, label in zip(labels, moved, strict=True):
                placed[at] = label
            return placed
    return []


def _ways(labels: int) -> Iterable[list[int]]:
    """Which label is in which tier: all in the first, by turns or, of a few, in any way."""
    yield [0] * labels
    for first in range(TIERS):
        yield [(first + at) % TIERS for at in range(labels)]
    if labels <= A_FEW:
        yield from (list(tiers) for tiers in product(range(TIERS), repeat=labels))


def _moved(labels: Sequence[StripeFigures], tiers: Sequence[int], width: float) -> list[StripeFigures]:
    """The labels of each tier beside one another; none where a leader would miss its own or strike another."""
    middles = [each.middle for each in labels]
    moved = list(labels)
    for tier in range(TIERS):
        row = [at for at, each in enumerate(tiers) if each == tier]
        wide = [labels[at].in_line for at in row]
        places = spread([middles[at] for at in row], wide, [LEAST_APART] * (len(row) - 1), width)
        for at, x in zip(row, places, strict=True):
            moved[at] = replace(labels[at], tier=tier, middle=x)
    clear = all(
        abs(own.middle - x) <= own.in_line / 2 - CLEAR
        and all(abs(other.middle - x) >= other.in_line / 2 + CLEAR for other in moved if other.tier < own.tier)
        for own, x in zip(moved, middles, strict=True)
    )
    inside = all(each.in_line / 2 - 1e-6 <= each.middle <= width - each.in_line / 2 + 1e-6 for each in moved)
    return moved if clear and inside else []
