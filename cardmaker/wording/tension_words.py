"""How tight: the pull of the warp, and the weight and gauge that show it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cardmaker.model.plan import Plan
from cardmaker.wording.measures import Units, decimal, in_mm, small_length, tape_length
from cardmaker.wording.units_in_words import with_units_in_words

if TYPE_CHECKING:
    from cardmaker.model.bench import CoinDip, WarpPull


# pull

PRESS: Final = "How tight"
AT_REST: Final = "warp at rest"
PRESS_IS_ESTIMATE: Final = "These are estimates: stiff linen stretches under the weight and reads a little too tight."


def pull(pull: WarpPull) -> str:
    """The neutral level, for one end and for all of them."""
    working = pull.working
    return (
        f"About {decimal(Fraction(working.newtons_per_end), 1)} N on each end, "
        f"{decimal(Fraction(working.newtons), 0)} N on the whole warp, the weight of "
        f"{decimal(Fraction(pull.kilograms), 1)} kg. The loom, the table and you feel all of it."
    )


def press_to_hang(pull: WarpPull, units: Units) -> str:
    """What to hang where, and how to read it."""
    if pull.weight_g is None or pull.span_mm is None:
        return ""
    return (
        f"Hang {decimal(Fraction(pull.weight_g), 0)} g in the middle of a clear "
        f"{tape_length(Fraction(pull.span_mm), units)} and stand the gauge beside it: "
        "the warp should come down to the middle mark."
    )


def gauge_mark(dip: CoinDip, units: Units) -> str:
    """One mark of the gauge: what it means, and how deep it is."""
    name = {"low": "too slack", "working": "right", "high": "too tight"}[dip.pull.name]
    return f"{name} {small_length(Fraction(dip.dip_mm), units)}"


TENSION: Final = "How tight"


def tension_lines(plan: Plan, units: Units) -> list[str]:
    """The pull of the whole warp and of one end, and how far the loom's press dips it."""
    found = plan.tension
    if found is None:
        return []
    low, working, high = (decimal(Fraction(pull.newtons), 0) for pull in found.pulls)
    one, kilograms = decimal(Fraction(found.working.newtons_per_end), 2), decimal(Fraction(found.kilograms), 1)
    lines = [f"About {working} N in all ({kilograms} kg), {one} N for one end; {low} N is slack and {high} N the most."]
    dips = {dip.pull.name: in_mm(Fraction(dip.dip_mm)) for dip in found.dips}
    if found.weight_g is not None and found.span_mm is not None:
        press = f"{decimal(found.weight_g, 0)} g laid half-way along {tape_length(found.span_mm, units)} of warp"
        if "working" in dips:
            slack = f"{dips['low']} is slack, " if "low" in dips else ""
            lines.append(f"{press} dips it by {dips['working']}; {slack}{dips['high']} is tight.")
        else:
            lines.append(f"{press} is too much for it: take a lighter weight.")
    return lines


def gauge_alt_text(dips: Sequence[CoinDip], units: Units) -> str:
    """The marks of the gauge from the top down."""
    marks = [with_units_in_words(gauge_mark(dip, units)) for dip in sorted(dips, key=lambda dip: dip.dip_mm)]
    return f"A gauge to cut out, at true scale. Below the line of the warp at rest: {'; '.join(marks)}."
