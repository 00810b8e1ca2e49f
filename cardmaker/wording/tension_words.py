"""How tight: the pull of the warp, and the weight and gauge that show it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cardmaker.wording.formatters import Units, decimal, newtons, small_length, tape_length
from cardmaker.wording.units_in_words import with_units_in_words

if TYPE_CHECKING:
    from cardmaker.model.bench import CoinDip, WarpPull

PRESS: Final = "How tight"
AT_REST: Final = "warp at rest"
PRESS_IS_ESTIMATE: Final = "These are estimates: stiff linen stretches under the weight and reads a little too tight."
_LEVELS: Final = {"low": "too slack", "working": "right", "high": "too tight"}


def pull(warp: WarpPull, *, brief: bool = False) -> str:
    """The neutral level, for one end and for all of them; and where slack begins and the most that it bears."""
    working = warp.working
    sentence = (
        f"About {newtons(working.newtons_per_end)} on each end, {newtons(working.newtons)} on the whole warp, "
        f"the weight of {decimal(warp.kilograms, 1)} kg. The loom, the table and you feel all of it."
    )
    if brief:
        return sentence
    low, high = (newtons(each.newtons) for each in warp.pulls if each is not working)
    return f"{sentence} {low} is {_LEVELS['low']}, {high} is {_LEVELS['high']}."


def press_to_hang(warp: WarpPull, units: Units) -> str:
    """What to hang where, and how to read it."""
    if warp.weight_g is None or warp.span_mm is None:
        return ""
    return (
        f"Hang {decimal(warp.weight_g, 0)} g in the middle of a clear {tape_length(warp.span_mm, units)} "
        "and stand the gauge beside it: the warp should come down to the middle mark."
    )


def gauge_mark(dip: CoinDip, units: Units) -> str:
    """One mark of the gauge: what it means, and how deep it is."""
    return f"{_LEVELS[dip.pull.name]} {small_length(dip.dip_mm, units)}"


def gauge_marks(warp: WarpPull, units: Units) -> str:
    """The marks of the gauge from the top down; and where the middle one would be too deep, that it is."""
    if warp.weight_g is None:
        return ""
    marks = [gauge_mark(dip, units) for dip in sorted(warp.dips, key=lambda dip: dip.dip_mm)]
    below = f"Below the line of the warp at rest: {'; '.join(marks)}." if marks else ""
    is_held = any(dip.pull is warp.working for dip in warp.dips)
    return below if is_held else f"{below} The weight is too much for this warp: take a lighter one.".lstrip()


def gauge_alt_text(warp: WarpPull, units: Units) -> str:
    return f"A gauge to cut out, at true scale. {with_units_in_words(gauge_marks(warp, units))}"
