"""The laws of a page, held against its marks: what any sheet must keep, and what a card must keep beside that."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, Final, NamedTuple

from cardmaker.model.marks import Box, Group, Link, Mark, Page
from tests.fuzz.drawn.catching import Cut
from tests.helpers.bracketed_counts import (
    bracket_faults,
    bracketed,
    counted_wrong,
    hand_counts,
    in_order_of_work,
    walk_counts,
)
from tests.helpers.card_faults import (
    all_words,
    collisions,
    cut_off,
    extent,
    faults_by_law,
    fused,
    grown,
    ink_box,
    leaves,
    overlapping_panels,
    panels,
    struck,
    too_small,
)

REACH_MM: Final = 3.9  # cut marks begin 4 mm from the edge; words stay where home printers print (card_faults)
WORDS_REACH_MM: Final = 4.2
PAGE_NUMBER: Final = "page number"
# In a margin of 6 mm, as the small cards have it, the number of a page finds room nowhere else than between the card
# and what printers do not reach: one that reaches less far loses it, and nothing but it.
NUMBER_REACH_MM: Final = 3.0
ASTRAY_MM: Final = 1.0  # how far words may stand out of their panel: tails, and overshoot
SMALLEST_OF_SHEETS: Final = 9.0  # SHEET_SIZES, tags and labels


class Broken(NamedTuple):
    """A law that is broken, and how."""

    law: str
    what: str


def card_faults(cut: Cut, tree: dict[str, Any] | None) -> Iterator[Broken]:
    """What is wrong with a card, and with its back; ``tree`` is its pattern's file, to count by."""
    composed, layout = cut.composed, cut.layout
    yield from _of_side(cut, tree)
    if composed.back is not None:
        behind = cut._replace(composed=composed.back, layout=layout.as_back(cut.paper))
        yield from (Broken(law, f"back: {what}") for law, what in _of_side(behind, None))


def _of_side(cut: Cut, tree: dict[str, Any] | None) -> Iterator[Broken]:
    composed = cut.composed
    groups = panels(composed)
    for law, found in faults_by_law(composed, cut.layout, cut.paper).items():
        if not (cut.in_cell and law == "margin"):
            yield from (Broken(law, what) for what in found)
    yield from (Broken("bracket", what) for what in bracket_faults(groups))
    if tree is not None:
        yield from _counts(cut, groups, tree)


def _counts(cut: Cut, groups: Sequence[Group], tree: dict[str, Any]) -> Iterator[Broken]:
    """Where a panel has brackets they must bear the stripes of the file."""
    left, behind = cut.plan.view.hand == "left", cut.plan.view.side == "behind"
    found = bracketed(groups)
    for panel in dict.fromkeys(each.panel for each in found):
        mine = in_order_of_work([each for each in found if each.panel == panel], left_hand=left)
        counts = walk_counts if panel == "walk" else hand_counts
        wanted = counts(tree, left_hand=left, behind=behind)
        yield from (Broken("count", f"{panel}: {what}") for what in counted_wrong(mine, wanted))


def page_faults(page: Page, smallest: float = SMALLEST_OF_SHEETS, *, of_cards: bool = False) -> Iterator[Broken]:
    """What is wrong with a page of any kind; of one that is put together ``of_cards``, which are held to their own
    laws, only where they stand to each other."""
    groups = [mark if isinstance(mark, Group) else _alone(mark) for mark in page.marks]
    yield from _outside(page, groups)
    yield from (Broken("over", what) for what in collisions(groups))
    if of_cards:
        return
    framed = [group for group in groups if group.role == "panel"]
    yield from (Broken("panels", what) for what in overlapping_panels(framed))
    for law, found in (
        ("fused", fused(groups)), ("cut", cut_off(groups)), ("small", too_small(groups, smallest)),
        ("struck", struck(groups)), ("astray", _astray(framed)),
    ):  # fmt: skip
        yield from (Broken(law, what) for what in found)


def _alone(mark: Mark) -> Group:
    box = mark.box if isinstance(mark, Link) else extent(mark) or Box(0, 0, 0, 0)
    return Group("span", "", box, (mark,))


def _outside(page: Page, groups: Sequence[Group]) -> Iterator[Broken]:
    """Ink where no printer prints."""
    paper = Box(0, 0, page.width_mm, page.height_mm)
    reach, of_words = (paper.inset(*[each] * 4) for each in (REACH_MM, WORDS_REACH_MM))
    groups = [
        group
        for group in groups
        if group.name != PAGE_NUMBER or not paper.inset(*[NUMBER_REACH_MM] * 4).holds(group.box)
    ]
    for words in all_words(groups):
        if not of_words.holds(ink_box(words), slack=0.05):
            yield Broken("edge", f"'{words.text}' stands where no printer prints")
    for group in groups:
        box = extent(group)
        if box is not None and not reach.holds(box) and group.role not in ("artefact", "figure"):
            yield Broken("edge", f"{group.role} {group.name} stands where no printer prints")


def _astray(framed: Sequence[Group]) -> Iterator[str]:
    """Words out of the box of their panel."""
    for group in framed:
        room = grown(group.box, ASTRAY_MM)
        for mark in leaves(group.marks):
            box = extent(mark)
            if box is not None and not room.holds(box):
                yield f"{group.name}: {type(mark).__name__} {getattr(mark, 'text', '')} leaves its panel"
