"""The ribbon and what belongs to it: the tape drawn down the card, its scale, the notch that gauges the tape."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from cardmaker.model.plan import Plan, Width
from cardmaker.wording.formatters import Units, decimal, width_range
from cardmaker.wording.phrases import NO_BREAK, listed
from cardmaker.wording.shed_words import tape_width_in_words
from cardmaker.wording.stripe_words import stripes_in_words
from cardmaker.wording.title_words import likely_width
from cardmaker.wording.units_in_words import with_units_in_words
from cardmaker.wording.view_words import edge_of_end_1

INCH_BAR: Final = "a bar of 4 inches"
HALF: Final = "left half"
WHOLE_WIDTH: Final = "The whole tape at life size, edge to edge."
CHECKS_PRINT: Final = "for checking the print"
SAMPLE: Final = "your own tape here"
WASHED_SAMPLE: Final = "a piece of it, washed, sewn on here"
SAMPLE_PLACE: Final = "An empty frame to sew a washed piece of the tape on."


def mm_bar(length: int) -> str:
    return f"a bar of {length} millimetres"


def drawn_at(scale: float) -> str:
    """What stands over a ribbon that is smaller than its tape."""
    return f"drawn at {_percent(scale)}{NO_BREAK}%"


def _percent(scale: float) -> str:
    return decimal(Fraction(scale) * 100, 0)


def ribbon_alt_text(
    plan: Plan, units: Units, beside: Sequence[str], *, is_half: bool, scale: float, has_window: bool
) -> str:
    """The tape, how much of it is drawn and how large, what stands beside it, and the frame below it."""
    size = "at life size" if scale == 1 else f"drawn at {_percent(scale)} percent of life size"
    half = " Drawn is its left half, cut at the middle; the other half mirrors it." if is_half else ""
    where = "Beside it" if scale == 1 else f"Below it, {CHECKS_PRINT},"
    scales = f" {where} {listed(beside)}." if beside else ""
    window = " Below it an empty frame for a piece of your own tape." if has_window else ""
    return (
        f"The tape {size}, from {edge_of_end_1(plan.view)}: {stripes_in_words(plan.end_yarns)}."
        f"{half} {tape_width_in_words(plan, units)}{scales}{window}"
    )


def strip_alt_text(plan: Plan) -> str:
    """The strip across the page that shows the whole width of a tape whose ribbon is smaller than life."""
    return f"The whole tape at life size, from {edge_of_end_1(plan.view)}: {stripes_in_words(plan.end_yarns)}."


def notch_label(width: Width, units: Units, *, is_line: bool = False) -> str:
    """What stands beside the notch in a narrow column: ``cut out: 16 mm``, the width that the card gives; beside a
    line ``as wide: 4 mm``."""
    return f"{'as wide' if is_line else 'cut out'}: {likely_width(width, units, alone=True)}"


def notch_use(width: Width, units: Units, *, is_line: bool = False) -> str:
    """The same with what it is for: ``gauge, 16 mm: cut out the dashed part, lay it on the tape``."""
    how = "lay the tape across the line" if is_line else "cut out the dashed part, lay it on the tape"
    return f"gauge, {likely_width(width, units, alone=True)}: {how}"


def notch_limits(width: Width, units: Units, *, is_line: bool = False) -> str:
    """What the marks beside the notch mean: the narrowest and the widest that the tape is likely to be. A line has no
    marks."""
    limits = f"narrowest and widest, {width_range(width.low_mm, width.high_mm, units)}"
    return limits if is_line else f"marks: {limits}"


def notch_alt_text(width: Width, units: Units, *, is_line: bool = False) -> str:
    """The notch and its marks for whoever does not see them; or the line."""
    wide = with_units_in_words(likely_width(width, units, alone=True))
    limits = with_units_in_words(width_range(width.low_mm, width.high_mm, units))
    if is_line:
        return f"A line in the card's margin, {wide} long, to lay the tape across; it may be {limits} wide."
    return f"A notch to cut out of the card's edge, {wide} wide, to measure the tape with; marks beside it at {limits}."
