"""Numbers as words: millimetres beside real fractions of an inch, rounded once, here and nowhere else."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor
from typing import Final, Literal

from cardmaker.model.units import MM_PER_INCH, MM_PER_YARD, inches, nearest_part

Units = Literal["metric", "us"]
Number = Fraction | float  # exact where the sum allows it

_RAISED: Final = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
_LOWERED: Final = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
_READY_MADE: Final = {
    Fraction(1, 4): "¼", Fraction(1, 2): "½", Fraction(3, 4): "¾",
    Fraction(1, 8): "⅛", Fraction(3, 8): "⅜", Fraction(5, 8): "⅝", Fraction(7, 8): "⅞",
}  # fmt: skip


def mixed(value: Fraction) -> str:
    """A mixed number as a carpenter writes it: ``2 ¼``, ``⅝``, ``3``; exact, so round first."""
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    part = _READY_MADE.get(rest)
    if part is None:
        part = f"{str(rest.numerator).translate(_RAISED)}⁄{str(rest.denominator).translate(_LOWERED)}"
    return f"{whole}\N{NO-BREAK SPACE}{part}" if whole else part


def decimal(value: Number, places: int) -> str:
    """A decimal rounded half up, without trailing noughts: ``2.74``, ``16``."""
    rounded = nearest_part(Fraction(value), 10**places)
    text = f"{float(rounded):.{places}f}"
    return text.rstrip("0").rstrip(".") if places else text


def both(metric: str, us: str, units: Units) -> str:
    """The two systems, the wanted one first."""
    return f"{metric} ({us})" if units == "metric" else f"{us} ({metric})"


def in_mm(length: Fraction) -> str:
    """Whole millimetres from 10 mm up, tenths below."""
    return f"{decimal(length, 0 if length >= 10 else 1)} mm"


def in_mm_about(length: Fraction) -> str:
    """An estimate, no finer than it is known: whole millimetres from 10 mm up, halves from 3 mm, tenths below."""
    return in_mm(nearest_part(length, 2) if 3 <= length < 10 else length)


def in_sixteenths(length: Fraction) -> str:
    """Inches to the nearest sixteenth, never nought."""
    return f"{mixed(max(Fraction(1, 16), nearest_part(inches(length), 16)))} in"


def small_length(length: Number, units: Units) -> str:
    """A width or a short length: ``16 mm (⅝ in)``; under a sixteenth of an inch in hundredths, ``0.4 mm (0.02 in)``."""
    length = Fraction(length)
    if length < MM_PER_INCH / 16:
        return thickness(length, units)
    return both(in_mm(length), in_sixteenths(length), units)


def tape_width_in_both(length: Number, units: Units, *, is_estimate: bool) -> str:
    """The width of a tape: ``16 mm (⅝ in)``; where it is not measured to half a millimetre: ``7.5 mm (⁵⁄₁₆ in)``.

    The inches are those of the millimetres as printed, so that two cards with one of them never differ in the other.
    """
    length = Fraction(length)
    if length < MM_PER_INCH / 16:
        return small_length(length, units)
    metric = in_mm_about(length) if is_estimate else in_mm(length)
    return both(metric, in_sixteenths(Fraction(metric.removesuffix(" mm"))), units)


def tape_width_alone(length: Number, units: Units, *, is_estimate: bool) -> str:
    """The same in one system, where there is no room for two: ``16 mm``."""
    return tape_width_in_both(length, units, is_estimate=is_estimate).partition(" (")[0]


def thickness(length: Number, units: Units) -> str:
    """How thick a yarn is, or a hole wide, where a sixteenth of an inch is too coarse: ``0.5 mm (0.02 in)``."""
    length = Fraction(length)
    return both(f"{decimal(length, 1)} mm", f"{decimal(inches(length), 2)} in", units)


def in_inches(length: Fraction) -> str:
    """Whole inches; halves below ten."""
    return f"{mixed(nearest_part(inches(length), 1 if length >= 10 * MM_PER_INCH else 2))} in"


def tape_length(length: Number, units: Units) -> str:
    """A length of tape: ``183 cm (72 in)``."""
    length = Fraction(length)
    return both(f"{decimal(length / 10, 0)} cm", in_inches(length), units)


def tape_length_alone(length: Number, units: Units) -> str:
    """The same in one system, where there is no room for two: ``183 cm``."""
    length = Fraction(length)
    return f"{decimal(length / 10, 0)} cm" if units == "metric" else in_inches(length)


def tape_at_least(length: Number, units: Units, *, alone: bool = False) -> str:
    """A length of tape that is promised, rounded down: ``147 cm (57 in)``; ``alone`` in one system of units."""
    length = Fraction(length)
    step = 1 if length >= 10 * MM_PER_INCH else 2
    metric, us = f"{floor(length / 10)} cm", f"{mixed(Fraction(floor(inches(length) * step), step))} in"
    return {"metric": metric, "us": us}[units] if alone else both(metric, us, units)


def piece_length(length: Number, units: Units) -> str:
    """A length to mark with a ruler: ``20.9 cm (8 ¼ in)``, to the millimetre and the eighth of an inch."""
    length = Fraction(length)
    if length < MM_PER_INCH / 4:
        return thickness(length, units)
    eighths = mixed(max(Fraction(1, 8), nearest_part(inches(length), 8)))
    return both(f"{decimal(length / 10, 1)} cm", f"{eighths} in", units)


def piece_length_alone(length: Number, units: Units) -> str:
    """The same in one system, where there is no room for two: ``20.9 cm``."""
    return piece_length(length, units).partition(" (")[0]


def woven_length(length: Number, units: Units, *, alone: bool = False) -> str:
    """How long a piece is woven, an estimate, no finer than it is known: ``23.5 cm (9 ¼ in)``, to the half centimetre
    and the quarter of an inch; ``alone`` in one system of units."""
    length = Fraction(length)
    metric = f"{decimal(max(Fraction(1, 2), nearest_part(length / 10, 2)), 1)} cm"
    us = f"{mixed(max(Fraction(1, 4), nearest_part(inches(length), 4)))} in"
    return {"metric": metric, "us": us}[units] if alone else both(metric, us, units)


def how_close_picks_lie(per_inch: Number, *, is_measured: bool, per_cm: bool = False) -> str:
    """How close picks lie: ``about 16 picks to the inch``, whole, unless they were measured: ``13.5 picks to the
    inch``; ``per_cm`` with what a ruler of centimetres shows besides: ``(6 to the cm)``."""
    told = (
        f"{decimal(per_inch, 1)} picks to the inch"
        if is_measured
        else f"about {decimal(per_inch, 0)} picks to the inch"
    )
    if not per_cm:
        return told
    in_cm = Fraction(per_inch) * 10 / MM_PER_INCH
    return f"{told} ({decimal(in_cm, 1 if is_measured or in_cm < 3 else 0)} to the cm)"


def in_yards(length: Fraction) -> str:
    """Yards in quarters when they are exact, else to two places."""
    yards = length / MM_PER_YARD
    return f"{mixed(yards) if (yards * 4).denominator == 1 else decimal(yards, 2)} yd"


def warp_length(length: Fraction, units: Units) -> str:
    """A length to wind: ``2.74 m (3 yd)``."""
    return both(f"{decimal(length / 1000, 2)} m", in_yards(length), units)


def long_way(length: Number, units: Units) -> str:
    """A way to walk, in whole metres and yards: ``88 m (96 yd)``."""
    length = Fraction(length)
    return both(f"{decimal(length / 1000, 0)} m", f"{decimal(length / MM_PER_YARD, 0)} yd", units)


def metres(length: Fraction) -> str:
    """A part of a total, in metres to a tenth; nothing for none. Only the total is rounded up."""
    return f"{decimal_places(length / 1000, 1)}" if length else ""


def yards(length: Fraction) -> str:
    """A part of a total, in yards to a tenth; nothing for none."""
    return f"{decimal_places(length / MM_PER_YARD, 1)}" if length else ""


def decimal_places(value: Fraction, places: int) -> str:
    """A decimal rounded half up that keeps its noughts, for figures in a column: ``19.0``."""
    return f"{float(nearest_part(value, 10**places)):.{places}f}"


def metres_up(length: Fraction) -> str:
    """Metres of yarn to have at hand, rounded up once to whole metres."""
    return str(ceil(length / 1000))


def yards_up(length: Fraction) -> str:
    """Yards of yarn to have at hand, rounded up once to whole yards."""
    return str(ceil(length / MM_PER_YARD))


def yarn_length(length: Fraction, units: Units) -> str:
    """Yarn to have at hand, each unit rounded up by itself: ``44 m (48 yd)``."""
    return both(f"{metres_up(length)} m", f"{yards_up(length)} yd", units)


def grams_up(grams: Fraction | None) -> str:
    """Grams rounded up once: tenths below ten, whole grams above; a dash when nothing tells the weight."""
    if grams is None:
        return "–"
    if grams < 10:
        return decimal(Fraction(ceil(grams * 10), 10), 1)
    return str(ceil(grams))


def percent(part: Fraction) -> str:
    """``12 %`` with at most one place."""
    return f"{decimal(part * 100, 1)}\N{NO-BREAK SPACE}%"


def percent_range(least: Fraction, most: Fraction) -> str:
    """``10 to 25 %``, or one figure where that is all."""
    if least == most:
        return percent(most)
    return f"{decimal(least * 100, 1)} to {percent(most)}"


def width_range(low: Fraction, high: Fraction, units: Units) -> str:
    """The range a width may fall in: ``14 to 18 mm``, in sixteenths, or in hundredths where it is less than one."""
    if units == "metric":
        return f"{in_mm_about(low).removesuffix(' mm')} to {in_mm_about(high)}"
    least, most = in_sixteenths(low), in_sixteenths(high)
    return f"{least[:-3]} to {most}" if least != most else f"{decimal(inches(low), 2)} to {decimal(inches(high), 2)} in"


def newtons(force: Number) -> str:
    """A pull: ``26 N``; tenths below ten."""
    return f"{decimal(force, 0 if force >= 10 else 1)} N"


def whole_minutes(minutes: Number) -> int:
    """To the nearest minute, a half rounded up."""
    return floor(minutes + Fraction(1, 2))


def duration(minutes: Number) -> str:
    """``45 min``, ``3 h``, ``2 h 20 min``; to the nearest minute."""
    hours, rest = divmod(whole_minutes(minutes), 60)
    parts = (f"{hours} h" if hours else "", f"{rest} min" if rest or not hours else "")
    return " ".join(part for part in parts if part)


def a_minute(picks_per_minute: Number) -> str:
    """``12 a minute``, ``7.5 a minute``."""
    return f"{decimal(picks_per_minute, 1)} a minute"
