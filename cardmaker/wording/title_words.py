"""What stands beside a card's title: version, width, use, and whether the tape is the same from both edges."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from cardmaker.wording.formatters import Units, tape_width_alone, tape_width_in_both, width_range
from cardmaker.wording.phrases import capitalised

if TYPE_CHECKING:
    from cardmaker.model.binder_contents import Entry
    from cardmaker.model.pattern import Pattern
    from cardmaker.model.plan import Plan, Width

HOW_WIDE: Final = "How wide"
BACK: Final = "back"  # which side of a card this is
BAR_SHORT: Final = "If the 100 mm bar is not 100 mm, the page was scaled; the counts are still right."


def uses(purposes: Sequence[str]) -> str:
    """What it is for, as a sentence of its own."""
    return capitalised(f"{', '.join(purposes)}.") if purposes else ""


def version(version: str, *, brief: bool = False) -> str:
    return f"{'v' if brief else 'version '}{version}" if version else ""


def symmetry(plan: Plan) -> str:
    """Whether it reads the same from both edges: the stripes, and a figure that is picked up on them."""
    if not plan.same_both_ways:
        return "not a mirror image"
    if plan.pickup is not None and not plan.pickup.same_both_ways:
        return "stripes the same from both edges, the figure not"
    return "same from both edges"


WIDTH_BASIS: Final = {
    "measured": "measured",
    "sample": "by sample",
    "wraps": "by wraps",
    "count": "a guess",
}


def width_fact(width: Width, units: Units) -> str:
    return f"about {likely_width(width, units)}"


def likely_width(width: Width, units: Units, *, alone: bool = False) -> str:
    """How wide the tape is, as exactly as that is known; ``alone`` in one system of units."""
    say = tape_width_alone if alone else tape_width_in_both
    return say(width.likely_mm, units, is_estimate=width.basis != "measured")


def width_basis(width: Width, units: Units, tape: str = "") -> str:
    """The range, and what it rests on: ``tape`` where that is a tape of hers."""
    return f"{width_range(width.low_mm, width.high_mm, units)}, {tape or WIDTH_BASIS[width.basis]}"


def card_title(card: Pattern | Entry, *, brief: bool = False) -> str:
    """The card's title as a document's: name and code."""
    if not card.code:
        return card.title
    return f"{card.title}, {card.code}" if brief else f"{card.title} ({card.code})"
