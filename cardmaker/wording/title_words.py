"""What stands beside a card's title: version, width, use, and whether the tape is the same from both edges."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Plan, Width
from cardmaker.wording.measures import Units, small_length, width_range
from cardmaker.wording.phrases import capitalised

BAR_SHORT: Final = "If the 100 mm bar is not 100 mm long, the counts are still right: only the pictures are off size."


# the title's facts


def uses(purposes: Sequence[str]) -> str:
    """What it is for, as a sentence of its own."""
    if not purposes:
        return ""
    said = ", ".join(purposes)
    return capitalised(f"{said}.")


def version(version: str) -> str:
    return f"version {version}" if version else ""


def short_version(version: str) -> str:
    return f"v{version}" if version else ""


def symmetry(plan: Plan) -> str:
    return "same from both edges" if plan.same_both_ways else "its two edges differ"


WIDTH_BASIS: Final = {
    "measured": "measured",
    "sample": "by sample",
    "wraps": "by wraps",
    "count": "a guess",
}


def width_fact(width: Width, units: Units) -> str:
    return f"about {small_length(width.likely_mm, units)}"


def width_basis(width: Width, units: Units) -> str:
    return f"{width_range(width.low_mm, width.high_mm, units)}, {WIDTH_BASIS[width.basis]}"


SAMPLE: Final = "your sample"


# the card


def card_title(pattern: Pattern) -> str:
    """The card's title as a document's: name and code."""
    return f"{pattern.title} ({pattern.code})" if pattern.code else pattern.title
