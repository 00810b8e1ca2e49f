"""Lengths: what to wind, what the sum rests on, what comes of it, and what earlier tapes taught."""

from __future__ import annotations

from fractions import Fraction
from typing import Final, Literal

from cardmaker.model.plan import Lengths, Plan
from cardmaker.wording.formatters import (
    Units,
    decimal,
    how_close_picks_lie,
    percent,
    percent_range,
    tape_at_least,
    tape_length,
    tape_length_alone,
    warp_length,
)
from cardmaker.wording.phrases import NO_BREAK, capitalised, listed, tape_named
from cardmaker.wording.piece_words import pieces_in_a_line, pieces_that_come, tape_to_spare
from cardmaker.wording.title_words import likely_width
from cardmaker.wording.units_in_words import with_units_in_words

LENGTHS: Final = "How long"
WORTH_TELLING_MM: Final = 10  # that pegs give more than was asked for
LearnedFigure = Literal["take-up", "shrinkage", "waste", "width", "picks per inch"]
_LEARNED: Final[dict[LearnedFigure, str]] = {
    "take-up": "take_up", "shrinkage": "shrinkage", "waste": "waste_mm", "width": "ends_per_inch",
    "picks per inch": "picks_per_inch",
}  # fmt: skip


def length_basis(lengths: Lengths) -> str:
    """What the sum rests on where it does not rest on the file's own figures."""
    guessed = [
        name
        for name, basis in (
            (_guessed_share("take-up", lengths.take_up_range), lengths.take_up_basis),
            (_guessed_share("shrinkage", lengths.shrinkage_range), lengths.shrinkage_basis),
            ("waste", lengths.waste_basis),
        )
        if basis == "default"
    ]
    if not guessed:
        return ""
    verb = "is a guess" if len(guessed) == 1 else "are guesses"
    return f"The {listed(guessed)} {verb} until you have measured your own."


def _guessed_share(name: str, ends: tuple[Fraction, Fraction]) -> str:
    return f"{name} ({percent_range(*ends)})"


def _share(likely: Fraction, ends: tuple[Fraction, Fraction]) -> str:
    """A share as the sum takes it: the most of a range."""
    return percent(likely) if ends[0] == ends[1] else f"up to {percent(ends[1])}"


def length_sum(plan: Plan, units: Units) -> list[str]:
    """The sum with her own numbers, for the long case: division by what is left, never adding percentages.

    It begins with what is asked for, which is less than what comes of a warp that is rounded up.

    Of a warp that is given there is no sum, but what was measured and used is told all the same.
    """
    lengths = plan.lengths
    lost = f"{_share(lengths.take_up, lengths.take_up_range)} taken up"
    waste = f"{tape_length(lengths.waste_mm, units)} of waste"
    losses = _from_tapes(lost, from_tape(plan, "take-up"), waste, from_tape(plan, "waste"))
    if lengths.request == "warp":
        return [f"With {losses}."] if "measured" in (lengths.take_up_basis, lengths.waste_basis) else []
    wanted = tape_length(lengths.finished_mm, units)
    on_loom = tape_length(lengths.on_loom_mm, units)
    fringe = f" and {tape_length(lengths.fringes_mm, units)} of fringes" if lengths.fringes_mm else ""
    asked = "The usual length" if lengths.request == "default" else "Asked for"
    rounded = ", rounded up" if lengths.wind_mm > lengths.warp_mm else ""
    washed = from_tape(plan, "shrinkage")
    return [
        f"{asked}: {wanted} finished. With {_share(lengths.shrinkage, lengths.shrinkage_range)} lost in washing "
        f"{f'({washed}) ' if washed else ''}that is {on_loom} woven;",
        f"with {losses}{fringe}, the warp is {tape_length(lengths.warp_mm, units)}{rounded}.",
    ]


def _from_tapes(one: str, tape: str, other: str, other_tape: str) -> str:
    """Two figures, each with the tape that it is from; said once where both are from one."""
    if tape == other_tape:
        return f"{one} and {other}{f' (both {tape})' if tape else ''}"
    return f"{one}{f' ({tape})' if tape else ''} and {other}{f' ({other_tape})' if other_tape else ''}"


def wind(lengths: Lengths, units: Units, *, alone: bool = False) -> str:
    """The length to wind; ``alone`` in one system of units."""
    return f"Wind {_warp(lengths, units, alone)}"


def warp_wound(lengths: Lengths, units: Units, *, alone: bool = False) -> str:
    """The length of a warp that somebody has wound already."""
    return f"warp {_warp(lengths, units, alone)}"


def _warp(lengths: Lengths, units: Units, alone: bool) -> str:
    told = warp_length(lengths.wind_mm, units)
    return told.partition(" (")[0] if alone else told


def wide(plan: Plan, units: Units) -> str:
    """How wide the tape is, for a student: ``16 mm wide``."""
    return f"{likely_width(plan.width, units, alone=True)} wide"


def wind_on_pegs(lengths: Lengths, units: Units) -> str:
    """What to wind; where these pegs give more, how much that is."""
    asked = wind(lengths, units)
    on_pegs = warp_length(lengths.wound_mm, units)
    if lengths.request == "warp" or lengths.wound_mm - lengths.wind_mm < WORTH_TELLING_MM:
        return asked
    return f"{asked}; these pegs give {on_pegs}"


def for_warp_wound(lengths: Lengths, units: Units) -> str:
    """Beside figures of the beam, in one system of units: for which warp they are, where these pegs give so much more
    than what to wind that it is told as another length; else nothing."""
    given, asked = (warp_length(length, units).partition(" (")[0] for length in (lengths.wound_mm, lengths.wind_mm))
    return f"for {given} of warp" if given != asked else ""


def gives(lengths: Lengths, units: Units) -> str:
    """The tape or the pieces that come of it: at least, and about, where those differ."""
    likely = f"about {tape_length(lengths.tape_from_warp_mm, units)} of finished tape"
    if lengths.pieces_come:
        spare = tape_to_spare(lengths, units)
        return f"gives {pieces_that_come(lengths)}{f', and {spare}' if spare else ''}"
    if lengths.pieces:
        return f"is too short for one whole piece with its fringes; it gives {likely}"
    if lengths.tape_at_least_mm == lengths.tape_from_warp_mm:
        return f"gives {likely}"
    return f"gives at least {tape_at_least(lengths.tape_at_least_mm, units)} and {likely}"


SHARES: Final = {
    "finished": "finished", "washing": "wash", "take-up": "take-up", "fringes": "fringes", "spare": "to spare",
    "waste": "waste",
}  # fmt: skip


def share_labels(lengths: Lengths, units: Units, *, with_unit: bool = True) -> list[str]:
    """What each part of the warp is and how long, in whole units that add up: ``finished 187 cm``, ``wash 6 cm``; empty
    for one that is less than half a unit. Where there is no room ``with_unit`` for each, the first one has it.
    """
    from cardmaker.reckoning.amounts.warp_shares import in_whole_units, length_shares  # which few cards tell

    shares = length_shares(lengths)
    counts = in_whole_units(shares, units)
    unit = f"{NO_BREAK}{'cm' if units == 'metric' else 'in'}"
    return [
        f"{SHARES[share.name]} {count}{unit if with_unit or not number else ''}" if count else ""
        for number, (share, count) in enumerate(zip(shares, counts, strict=True))
    ]


def whole_warp(lengths: Lengths, units: Units) -> str:
    """What the parts add up to, with its unit."""
    from cardmaker.reckoning.amounts.warp_shares import in_whole_units, length_shares

    total = sum(in_whole_units(length_shares(lengths), units))
    return f"of {total} {'cm' if units == 'metric' else 'in'}"


def shares_alt_text(lengths: Lengths, units: Units) -> str:
    """The bar in words."""
    labels = [label for label in share_labels(lengths, units) if label]
    told = with_units_in_words(listed(labels))
    return f"Where one warp goes, {with_units_in_words(whole_warp(lengths, units))}: {told}."


def wind_and_get(lengths: Lengths, units: Units) -> str:
    """What the length beside it is, and what comes of it, in brief and in one system of units: about, and at least,
    where those differ."""
    likely = f"about {tape_length_alone(lengths.tape_from_warp_mm, units)}"
    if lengths.pieces_come:
        return f"to wind for {pieces_that_come(lengths)}"
    if lengths.tape_at_least_mm == lengths.tape_from_warp_mm:
        return f"to wind for {likely}"
    at_least = tape_at_least(lengths.tape_at_least_mm, units, alone=True)
    return f"to wind for {likely}, {at_least} at least"


def from_tape(plan: Plan, figure: LearnedFigure) -> str:
    """Of which tape a figure was measured; empty where it comes from elsewhere."""
    if figure not in learned_figure_names(plan):
        return ""
    if tapes := tapes_of_others(plan, figure):
        return f"measured on {listed(tapes)}"
    date = learned_date(plan, figure)
    return f"from your tape of {date}" if date else "from an earlier tape"


def tapes_of_others(plan: Plan, figure: LearnedFigure) -> list[str]:
    """The tapes of other patterns that a figure was measured on, through its yarns' or its loom's file."""
    return [tape_named(each.pattern, each.date) for each in plan.measured_on if each.figure == _LEARNED[figure]]


def lengths_from_tapes(plan: Plan) -> str:
    """On which tapes of other patterns the losses were measured, where the sum that says so may find no room:
    ``Take-up and waste measured on Three Paths, 2026.``"""
    by_tape: dict[str, list[str]] = {}
    losses: tuple[LearnedFigure, ...] = ("take-up", "shrinkage", "waste")
    for figure in losses:
        if tapes_of_others(plan, figure):
            by_tape.setdefault(from_tape(plan, figure), []).append(figure)
    told = "; ".join(f"{listed(figures)} {tape}" for tape, figures in by_tape.items())
    return f"{capitalised(told)}." if told else ""


def learned_date(plan: Plan, figure: LearnedFigure) -> str:
    """The date of the record that gave a figure, as typed; empty where it has none."""
    return dict(plan.learned_on).get(_LEARNED[figure], "")


def learned_figure_names(plan: Plan) -> list[LearnedFigure]:
    """The figures of this plan that a measured record gave."""
    came: tuple[tuple[LearnedFigure, bool], ...] = (
        ("take-up", plan.lengths.take_up_basis == "measured"),
        ("shrinkage", plan.lengths.shrinkage_basis == "measured"),
        ("waste", plan.lengths.waste_basis == "measured"),
        ("width", _LEARNED["width"] in dict(plan.learned_on) or bool(tapes_of_others(plan, "width"))),
        ("picks per inch", plan.weft.basis == "measured"),
    )
    return [name for name, is_measured in came if is_measured]


RESULTS: Final = "What came off the loom"
RESULT_BLANKS: Final = ("date", "loom", "warp", "tape", "width", "picks per inch", "leftover", "note")
RECKONS_WITH_IT: Final = "run cardmaker measured, and the next card reckons with it"
RESULTS_TABLE_ALT_TEXT: Final = (
    f"A table to fill in for one tape after the other, with columns named like a measured record in the file: "
    f"{listed(RESULT_BLANKS)}."
)
RESULTS_ALT_TEXT: Final = (
    f"Blank lines to write on after weaving, named like a measured record in the file: {listed(RESULT_BLANKS)}."
)


def closeness(plan: Plan, *, per_cm: bool = False) -> str:
    """How close it is beaten: about so many picks, unless they were measured; ``per_cm`` for a ruler of centimetres
    besides."""
    weft = plan.weft
    return how_close_picks_lie(weft.picks_per_inch, is_measured=weft.basis == "measured", per_cm=per_cm)


def closeness_tries(plan: Plan, units: Units) -> list[str]:
    """The same for a student, who may have a ruler of centimetres alone; the fullest first."""
    return [closeness(plan, per_cm=True), closeness(plan)] if units == "metric" else [closeness(plan)]


def weave_so_wide(plan: Plan, units: Units, *, is_beaten_elsewhere: bool = False) -> list[str]:
    """For the student, of a tape without pieces, how long, how wide and how close, the fullest first: ``Weave about
    193 cm, 16 mm wide, about 16 picks to the inch (6 to the cm).`` The width, which stands at the head of a card too,
    gives way first. How close ``is_beaten_elsewhere`` where another sentence of the card tells it."""
    long, width = tape_length_alone(plan.lengths.woven_mm, units), wide(plan, units)
    if is_beaten_elsewhere:
        return [f"Weave about {long}, {width}.", f"Weave about {long}."]
    tries = closeness_tries(plan, units)
    return [f"Weave about {long}, {wide_too}{beaten}." for beaten in tries for wide_too in (f"{width}, ", "")]


def weave_in_a_line(plan: Plan, units: Units) -> list[str]:
    """The same on a small card, of pieces too, with what lies between two of them, the fullest first: ``Weave 8
    bookmarks of 23.5 cm, 5.1 cm bare between, 12 mm wide, about 15 picks/in.``"""
    what, size, close = _what_to_weave(plan, units), wide(plan, units).replace(" ", NO_BREAK), _close_in_brief(plan)
    about = f"about{NO_BREAK}{close}"
    told = [f"Weave {what[0]}, {size}, {about}.", *(f"{capitalised(each)}, {size}, {about}." for each in what)]
    return [*told, f"Weave {what[-1]}, {size}, {close}.", f"{capitalised(what[-1])}, {size}, {close}."]


def weave_in_brief(plan: Plan, units: Units) -> list[str]:
    """The same in the fewest words of all: ``8 × 23.5 cm, 5.1 cm bare, 12 mm, 15/in.``"""
    what, close = capitalised(_what_to_weave(plan, units)[-1]), _close_in_brief(plan)
    what = what.replace(" between", "").replace(" and 1", ", 1").replace(" and 2", ", 2")
    width = likely_width(plan.width, units, alone=True).replace(" ", NO_BREAK)
    return [f"{what}, {width}, {close.replace(f'{NO_BREAK}picks', '')}."]


def _what_to_weave(plan: Plan, units: Units) -> list[str]:
    """The pieces or the tape, the fullest first."""
    if plan.lengths.pieces_come:
        return pieces_in_a_line(plan.lengths, units)
    return [f"about {tape_length_alone(plan.lengths.woven_mm, units)}".replace(" ", NO_BREAK)]


def _close_in_brief(plan: Plan) -> str:
    return f"{decimal(plan.weft.picks_per_inch, 0)}{NO_BREAK}picks/in"
