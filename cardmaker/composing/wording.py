"""What a card prints in words: headings, the small words, and the sentences of title, order, winding and sheds.

The other sentences stand in the modules beside this one, named for what they tell; all of them are ready to be said in
another language.

Numbers are put in once; the same number is never written in two forms inside one sentence.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from cardmaker.composing.measures import (
    Units,
    decimal,
    small_length,
    width_range,
)
from cardmaker.nouns.loom import Heddles, Loom, Side, Space
from cardmaker.nouns.pattern import Pattern
from cardmaker.nouns.plan import Plan, Post, Width
from cardmaker.reckoning.segments import Segment
from cardmaker.reckoning.sheds import raised_runs
from cardmaker.reckoning.walk import walk

ORDER: Final = "The order"
BACK: Final = "back"
FRONT: Final = "front"
WALK: Final = "Winding"
FACE: Final = "What you see"
SHUTTLE: Final = "Which shed next?"
YARN: Final = "Yarn for one warp"
LETTERS: Final = "letters"  # said for the head of their column, which is blank
LENGTHS: Final = "How long"
LOOMS: Final = "On your other looms"
SOURCE: Final = "Where it comes from"
RESULTS: Final = "What came off the loom"
RESULT_BLANKS: Final = ("date", "loom", "warp", "tape", "width", "picks per inch", "leftover", "note")
NOTES: Final = "Take care"
CHANGES: Final = "Versions"

NO_SOURCE: Final = "No source recorded."
BAR_SHORT: Final = "If the 100 mm bar is not 100 mm long, the counts are still right: only the pictures are off size."
SEAT: Final = "seen from the weaver’s seat"


def ends(count: int) -> str:
    return "1 end" if count == 1 else f"{count} ends"


def plural(count: int, one: str, many: str = "") -> str:
    return f"{count} {one if count == 1 else many or one + 's'}"


def listed(words: Sequence[str], last: str = "and") -> str:
    """``a, b and c``."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}"


def side(drawn: str, loom: Loom) -> str:
    """What the weaver calls the side that is drawn ``left`` or ``right``: the other one on a drawing turned over."""
    return {"left": "right", "right": "left"}.get(drawn, drawn) if loom.sides_swapped else drawn


def capitalised(text: str) -> str:
    """The sentence with a capital first letter."""
    return f"{text[:1].upper()}{text[1:]}"


def sentence(text: str) -> str:
    """The text with a full stop, unless it has an ending of its own."""
    return text if text.endswith((".", "!", "?")) else f"{text}."


def a_space(kind: Space) -> str:
    return "a hole" if kind is Space.HOLE else "a slot"


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


def changes(plan: Plan) -> str:
    winding = plan.winding
    if not winding.changes:
        return "no changes"
    if winding.method != "order":
        return plural(winding.changes, "change")
    far = f", {winding.far_changes} at far" if winding.far_changes else ", all at home"
    if winding.changes == 1:
        far = " at far" if winding.far_changes else " at home"
    return f"{plural(winding.changes, 'change')}{far}"


def spaces(loom: Loom) -> str:
    if loom.heddles is Heddles.TWO:
        return f"2 × {loom.spaces} spaces"
    return f"{loom.slots} slots and {loom.holes} holes"


# the order


def other_way(segments: Sequence[Segment], plan: Plan) -> str:
    """The stripes read from the other edge, for a tape whose edges differ."""
    said = [_stripe_from_behind(segment, plan) for segment in reversed(segments)]
    return f"From the other edge: {', '.join(said)}."


def _stripe_from_behind(segment: Segment, plan: Plan) -> str:
    """A stripe read from the other side: yarns in turn then begin with the one that lies last."""
    if not segment.in_turn:
        return f"{segment.ends} {plan.letters(segment.yarns[0])}"
    last = [plan.end_yarns[end_number - 1] for end_number in range(segment.last_end, segment.first_end - 1, -1)]
    return f"{segment.ends} {in_turn(' '.join(plan.letters(yarn) for yarn in dict.fromkeys(last)))}"


def legend(plan: Plan) -> str:
    """What the letters stand for, where no table tells."""
    return f"{', '.join(f'{colour.letters} {colour.yarn}' for colour in plan.colours)}."


FROM_BEHIND: Final = "Seen from behind the heddle."
FROM_RIGHT_SHORT: Final = "From the right:"
FROM_RIGHT: Final = "For a left hand: begin at the right edge."


def in_turn(letters: str) -> str:
    return f"{letters} in turn"


# winding

NO_BREAK: Final = "\N{NO-BREAK SPACE}"
SAMPLE: Final = "your sample"
HOME: Final = "home"
FAR: Final = "far"


def trips(plan: Plan) -> str:
    """Ends as trips: the commonest miscount is to take a round trip for an end."""
    winding = plan.winding
    if winding.method == "bundle":
        return f"{plural(winding.trips, 'trip')} in {plural(winding.bundles, 'bundle')}; every bundle starts at home."
    if winding.method == "carry":
        post = "at the far post" if walk(plan.runs, "carry").finish is Post.FAR else "at home"
        return f"{plural(winding.trips, 'trip')}, one for every end; the last one ends {post}."
    over = " and 1 single" if winding.trips % 2 else ""
    where = "you finish at the far post, and that is right" if winding.finish is Post.FAR else "you finish at home"
    return f"{ends(winding.trips)} = {plural(winding.round_trips, 'round trip')}{over}; {where}."


def method(plan: Plan) -> str:
    """The recommended way of winding, with the number that decided it."""
    winding = plan.winding
    if winding.changes == 0:
        return "One colour: wind straight through, no joins."
    joins = plural(winding.joins, "join")
    if winding.method == "order":
        at_far = f"{winding.far_changes} of them at the far post" if winding.far_changes else "all of them at home"
        if winding.far_changes == winding.joins:
            at_far = "all of them at the far post"
        if winding.joins == 1:
            at_far = "at the far post" if winding.far_changes else "at home"
        return f"Wind in order, end 1 first: {joins}, {at_far}."
    if winding.method == "carry":
        return (
            f"Carry {winding.balls} balls, one of each colour, and tie nothing; wound in order it needs {joins}. "
            "Every ball starts at home and waits at the post where its last stroke ended."
        )
    return (
        f"Wind one colour at a time, {winding.bundles} bundles, and take the ends up in threading order: "
        f"wound in order it needs {joins}."
    )


TAILS: Final = "Join only at a post. Count at the cross."


# the sheds


def shed_name(loom: Loom, down: bool) -> str:
    """The shed in the weaver's words: pressed down or lifted up, or which foot."""
    if loom.heddles is Heddles.TWO:
        return "Left foot" if down else "Right foot"
    return "Pressed down" if down else "Lifted up"


def shed_word(loom: Loom, down: bool) -> str:
    if loom.heddles is Heddles.TWO:
        return "LEFT FOOT" if down else "RIGHT FOOT"
    return "DOWN" if down else "UP"


def sheds_alike(plan: Plan) -> bool:
    """Whether both sheds show the same colours in the same order."""
    return raised_runs(plan.sheds.down, plan.end_yarns) == raised_runs(plan.sheds.up, plan.end_yarns)


BOTH_ALIKE: Final = "Both sheds show the same:"


def shed_colours(runs: Sequence[tuple[str, int]], plan: Plan) -> str:
    """What is on top in one shed, left to right."""
    if not runs:
        return "nothing"
    if len(runs) == 1:
        yarn, count = runs[0]
        return f"all {yarn}, {count}"
    counts: dict[str, int] = {}
    for yarn, count in runs:
        counts[yarn] = counts.get(yarn, 0) + count
    if len(runs) > 9:
        totals = [f"{count} {plan.letters(yarn)}" for yarn, count in counts.items()]
        return f"{listed(totals)}, mixed as in the picture"
    return ", ".join(f"{count} {plan.letters(yarn)}" for yarn, count in runs)


def hanging(drawn: Side, loom: Loom) -> str:
    return f"Weft on the {side(drawn, loom).upper()}"


def next_shed(loom: Loom, down: bool) -> str:
    return f"next:{NO_BREAK}{shed_word(loom, down).replace(' ', NO_BREAK)}"


TUG: Final = "Not sure? Tug the weft: if it slides out freely, the open shed was the last one."


def next_sheds(loom: Loom) -> str:
    """The next-shed rule in words."""
    rules = ((loom.shuttle_down.other, True), (loom.shuttle_up.other, False))
    return " ".join(f"{hanging(drawn, loom)}: {next_shed(loom, down)}." for drawn, down in rules)


def face_aside(scale: float) -> str:
    return f"{decimal(Fraction(scale), 1)} times life size"


# the card


def page_title(pattern: Pattern) -> str:
    """The card's title as a document's: name and code."""
    return f"{pattern.title} ({pattern.code})" if pattern.code else pattern.title


def page_told(number: str) -> str:
    """A bare number beside other numbers, for whoever cannot see where it stands."""
    return f"page {number}"


def page_of(number: int, pages: int) -> str:
    """The number of a page among several: ``2 of 3``; nothing when it is the only one."""
    return f"{number} of {pages}" if pages > 1 else ""
