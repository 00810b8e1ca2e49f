"""Texts of every allowed length, and what may be wrong with where they stand on sheets of several pages."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Final

from cardmaker.model.marks import Again, Box, Link, Mark, Page, Stamp, Words
from tests.helpers.card_faults import leaves, letters_box
from tests.helpers.type_heights import descent_mm

LONGEST_LINE, LONGEST_MARK = 200, 40
_SENTENCE: Final = "Grandmother’s own stay lace of seven and twenty ends, as it was counted in the loft by lamplight, "
_SLACK: Final = 0.2  # mm: capitals of the serif are that much higher than those of the sans, by which titles stand


def line_of(length: int, *, in_one: bool = False) -> str:
    """So many signs: words with spaces between them, or one word, which no space lets wrap."""
    text = ("Wm" * length if in_one else _SENTENCE * (length // len(_SENTENCE) + 1))[:length]
    return text.rstrip() + "x" * (len(text) - len(text.rstrip()))


def misplaced(page: Page, printable: Box, least: float) -> list[str]:
    """Words outside ``printable``, on one another, or set smaller than ``least``; and pictures outside it."""
    words = [mark for mark in all_leaves(page.marks) if isinstance(mark, Words) and mark.text.strip()]
    boxes = [(each, letters_box(each)) for each in words]
    faults = [f"'{each.text}' at {box} leaves {printable}" for each, box in boxes if not printable.holds(box, _SLACK)]
    faults += [
        f"'{each.text}' hangs below {printable}"
        for each, box in boxes
        if box.bottom + descent_mm(each.face, each.size) > printable.bottom + 0.5
    ]
    faults += [f"'{each.text}' is set in {each.size}" for each in words if each.size < least]
    faults += [f"'{one.text}' on '{other.text}'" for one, other in _crossing(boxes)]
    faults += [
        f"a tape at {mark.clip} leaves {printable}"
        for mark in all_leaves(page.marks)
        if isinstance(mark, Again | Stamp) and not printable.holds(mark.clip, _SLACK)
    ]
    return faults


def _crossing(boxes: Sequence[tuple[Words, Box]]) -> Iterator[tuple[Words, Words]]:
    for (one, box), (other, beside) in combinations(boxes, 2):
        across = min(box.right, beside.right) - max(box.left, beside.left)
        down = min(box.bottom, beside.bottom) - max(box.top, beside.top)
        if across > _SLACK and down > _SLACK:
            yield one, other


def all_leaves(marks: Sequence[Mark]) -> Iterator[Mark]:
    """Every mark that draws, also inside links; a stamp is one mark."""
    for mark in leaves(marks):
        if isinstance(mark, Link):
            yield from all_leaves(mark.marks)
        else:
            yield mark
