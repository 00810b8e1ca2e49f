"""How tight: the pull of the warp, the weight and gauge that show it, and what of it is measured or estimated."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cardmaker.model.units import inches
from cardmaker.wording.formatters import Number, Units, decimal, newtons, tape_length
from cardmaker.wording.phrases import capitalised, tape_named
from cardmaker.wording.units_in_words import with_units_in_words

if TYPE_CHECKING:
    from cardmaker.model.bench import PressGauge, PressMark, WarpPull

PRESS: Final = "How tight"
AT_REST: Final = "warp at rest"
WOVE_WELL: Final = "mark where it wove well"
DIP_BLANK: Final = "____ mm"
DIP_LINE: Final = "________ mm"  # as long as a hand needs
_LEVELS: Final = {"low": "too slack", "working": "right", "high": "too tight"}
_USUAL: Final = "0.5 cN/tex, the middle of the range in which a standard (ASTM D1907) tensions yarn to measure it"
_USUAL_LEVELS: Final = (0.3, 1.0)  # cN/tex; common practice, no source


def pull(warp: WarpPull, *, brief: bool = False) -> str:
    """The working level at rest, for one end and for all of them; if not ``brief``, who feels it."""
    working = warp.working
    level = (
        f"About {newtons(working.newtons_per_end)} on each end, {newtons(working.newtons)} on the whole warp at rest, "
        f"the weight of {decimal(warp.kilograms, 1)} kg."
    )
    return level if brief else f"{level} The loom, the table and you feel all of it."


def pull_basis(warp: WarpPull) -> str:
    """Where the level comes from, and where too slack begins and the most."""
    low, high = (newtons(each.newtons) for each in warp.pulls if each is not warp.working)
    source = "as tight as the warp that wove well on this loom" if warp.standard else _USUAL
    level = f"{_level(warp)}, " if warp.standard else ""
    return (
        f"Right is {level}{source}. {low} on the whole warp is {_LEVELS['low']} and {high} {_LEVELS['high']}: "
        "by common practice, three fifths of right and twice as much."
    )


def press_to_hang(warp: WarpPull) -> str:
    """How to hold the gauge and read it; a sketch shows what hangs where."""
    if warp.gauge is None:
        return ""
    hold = "Cut the gauge out and stand it at the weight, its upper line where the warp rested"
    if not warp.gauge.marks:
        return f"{hold}. {_not_apart(warp.gauge)}"
    return f"{hold}: right is the black bar, and between the marks will do."


def press_to_measure(warp: WarpPull, units: Units) -> str:
    """What to hang where, and how far the warp should come down, for whoever has no gauge."""
    if warp.gauge is None:
        return ""
    hang = f"{capitalised(_hang(warp.gauge, units))} and measure how far it comes down"
    return f"{hang}: {gauge_marks(warp.gauge, units)}." if warp.gauge.marks else f"{hang}. {_not_apart(warp.gauge)}"


def _not_apart(gauge: PressGauge) -> str:
    """Why there are no marks, and what helps."""
    measure = "" if gauge.shortest_free_mm == gauge.longest_free_mm else ", write free_length into the loom’s file"
    return (
        "How far this yarn stretches is not known well enough to tell right from slack by a dip: go by a warp that "
        f"wove well{measure}, or take a longer clear span."
    )


def weight_label(gauge: PressGauge) -> str:
    """On the weight in the sketch."""
    return _grams(gauge.weight_g)


def clear_span(gauge: PressGauge, units: Units) -> str:
    """Over the sketch: how far apart the two places are between which nothing touches the warp."""
    return f"{tape_length(gauge.span_mm, units)} clear"


def sketch_alt_text(gauge: PressGauge, units: Units) -> str:
    """The warp with the weight on it."""
    return (
        f"The warp from the side, lying over two bars, {with_units_in_words(tape_length(gauge.span_mm, units))} clear "
        f"between them; {with_units_in_words(_grams(gauge.weight_g))} hang from its middle and bend it down."
    )


def _hang(gauge: PressGauge, units: Units) -> str:
    return f"hang {_grams(gauge.weight_g)} in the middle of a clear {tape_length(gauge.span_mm, units)}"


def other_weight(warp: WarpPull) -> str:
    """That the weight which the loom's file names does not suit this warp, and which one does."""
    gauge = warp.gauge
    if gauge is None or gauge.loom_weight_g is None or gauge.loom_weight_is in (None, "fitting"):
        return ""
    sentence = f"The loom’s {_grams(gauge.loom_weight_g)} is {gauge.loom_weight_is} for this warp"
    if gauge.fitting_weight_g is None:
        return f"{sentence}."
    better = f"{_grams(gauge.fitting_weight_g)} {'would suit' if gauge.weight_g == gauge.loom_weight_g else 'suits'} it"
    return f"{sentence}: {better}."


def gauge_mark(mark: PressMark, units: Units) -> str:
    """One mark of the gauge: what it means, and how deep it is.

    The outer two go on beyond their marks: ``too tight 2.2 mm or less``. Inches in hundredths: in sixteenths two marks
    could be told as one.
    """
    level, limits = mark.pull.name, (mark.least_mm, mark.most_mm)
    unit, places, ends = (
        ("mm", 1, limits) if units == "metric" else ("in", 2, tuple(_in_inches(limit) for limit in limits))
    )
    if level == "high":
        return f"{_LEVELS[level]} {decimal(ends[0], places)} {unit} or less"
    if level == "low":
        return f"{_LEVELS[level]} {decimal(ends[0], places)} {unit} or more"
    return f"{_LEVELS[level]} {_range(ends[0], ends[1], places)} {unit}"


def _in_inches(length_mm: float) -> Fraction:
    return inches(Fraction(length_mm))


def gauge_marks(gauge: PressGauge, units: Units) -> str:
    """The marks of the gauge from the top down."""
    return "; ".join(gauge_mark(mark, units) for mark in gauge.marks)


def stiffness(warp: WarpPull, units: Units, *, brief: bool = False) -> str:
    """What the marks rest on besides the level: how far the yarn stretches, which nobody has measured."""
    gauge = warp.gauge
    if gauge is None:
        return ""
    low, high = (round(level) for level in (warp.stiffness.low, warp.stiffness.high))
    figures = f"{low:,} to {high:,} cN/tex"
    if brief:
        pull_too = "" if warp.standard else "pull (common practice); "
        return f"Estimated: {pull_too}stiffness (from memory, {figures})."
    free = tape_length(gauge.shortest_free_mm, units)
    if gauge.longest_free_mm != gauge.shortest_free_mm:
        free = f"{free} to {tape_length(gauge.longest_free_mm, units)}"
    return (
        f"Estimated from memory is how stiff the yarn is, {figures}; {free} of warp are free to stretch. The weight "
        "itself tightens a stiff warp, which then dips less and can look tighter than it is: so the weight is light."
    )


def standard(warp: WarpPull, *, brief: bool = False) -> str:
    """The warp that wove well: what the loom's file says of it, or that it is worth more than the estimate; ``brief``
    for a card, with a line to write its dip on instead of the file's own words."""
    if warp.gauge is None:
        return ""
    measured = warp.standard
    if measured is None and brief:
        hung = _grams(warp.gauge.weight_g)
        return f"Better: once it has woven well, {hung} dips this warp {DIP_LINE}. Keep it in the loom’s file."
    if measured is None:
        return "Better: mark the dip of a warp that wove well, and write into the loom’s file:"
    is_usual = _USUAL_LEVELS[0] <= warp.working.cn_per_tex <= _USUAL_LEVELS[1]
    doubt = "" if is_usual else " That is far apart: measure once more, and then trust your own."
    on = f" on {tape_named(measured.pattern, measured.date)}" if measured.pattern else ""
    return (
        f"Measured{on}: {_grams(measured.weight_g)} dipped {measured.ends} ends that wove well by "
        f"{decimal(measured.dip_mm, 1)} mm. So right is {_level(warp)}, not the usual 0.5.{doubt}"
    )


def standard_line(warp: WarpPull) -> str:
    """What to write into the loom's file of this warp, once it has woven well: all but the dip is filled in."""
    gauge = warp.gauge
    if gauge is None or warp.standard is not None:
        return ""
    tex = decimal(warp.tex, 1 if warp.tex >= 20 else 3)
    return (
        f"measured: {{press: {{weight: {decimal(gauge.weight_g, 1)} g, span: {decimal(gauge.span_mm / 10, 2)} cm, "
        f"dip: {DIP_BLANK}, ends: {warp.ends}, tex: {tex}, fibre: {warp.fibre}}}}}"
    )


def gauge_alt_text(gauge: PressGauge, units: Units) -> str:
    """What the gauge shows: its marks, and the blank scale."""
    told = "; ".join(with_units_in_words(gauge_mark(mark, units)) for mark in gauge.marks)
    marks = f"Below the line of the warp at rest: {told}. " if told else ""
    blank = "A blank scale in millimetres to mark the dip of a warp that wove well."
    return f"A gauge to cut out, at true scale. {marks}{blank}"


def _level(warp: WarpPull) -> str:
    """In cN/tex; with the range that it may lie in, since nobody knows how stiff the yarn of the standard was."""
    likely, measured = decimal(warp.working.cn_per_tex, 2), _range(*warp.level_range, 2)
    return f"{likely} cN/tex" if likely == measured else f"{likely} cN/tex ({measured})"


def _range(low: Number, high: Number, places: int = 1) -> str:
    least, most = decimal(low, places), decimal(high, places)
    return least if least == most else f"{least} to {most}"


def _grams(grams: Number) -> str:
    return f"{decimal(grams, 1)} g"
