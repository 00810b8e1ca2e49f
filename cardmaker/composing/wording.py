"""Every sentence that a card prints, in one place, ready to be said in another language.

Numbers are put in once; the same number is never written in two forms inside one sentence.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from cardmaker.composing.bench_notes import BENCH_NOTES
from cardmaker.composing.measures import (
    Units,
    decimal,
    percent,
    small_length,
    tape_length,
    warp_length,
    width_range,
)
from cardmaker.nouns.loom import Heddles, Loom, Mark, Side, Space
from cardmaker.nouns.pattern import Pattern, Source, Yarn
from cardmaker.nouns.plan import Lengths, Note, OtherLoom, Placement, Plan, Post, Width
from cardmaker.reckoning.placement import space_label
from cardmaker.reckoning.segments import Segment
from cardmaker.reckoning.sheds import raised_runs
from cardmaker.reckoning.walk import walk

ORDER: Final = "The order"
BOARD: Final = "The heddle"
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


# the heddle


def count_out(loom: Loom, placement: Placement) -> tuple[str, str]:
    """Where counting leads, said as this weaver counts; with the self-check that the space's kind gives for nothing,
    and the step aside if there is one."""
    counted_space = placement.first_space - placement.shifted
    count, kind = counted(counted_space, loom), a_space(loom.kind_of(counted_space))
    is_right = counted_space > (loom.spaces + 1) / 2  # a single end may lie on the other side of the mark
    towards = side("right" if is_right else "left", loom)
    if counted_space == loom.middle_space:
        where = f"Begin at the marked space, {kind}."
    else:
        start = {
            Mark.ONE: f"Say 1 on the marked {_middle_kind(loom)} and count",
            Mark.ZERO: f"The marked {_middle_kind(loom)} is 0. Say 1 on the next space and count",
        }[loom.mark]
        if loom.middle_space is None:
            start = f"The mark stands between two spaces. Say 1 on the space to its {towards} and count"
        where = f"{start} to the {towards}: stop at {count}, {kind}."
    check = f"If that is {a_space(loom.kind_of(counted_space).other)} you have miscounted."
    if not placement.shifted:
        return f"{where} End 1 goes there.", check
    return where, f"{check} {shift(placement, loom)}"


def _middle_kind(loom: Loom) -> str:
    return "" if loom.middle_space is None else str(loom.kind_of(loom.middle_space))


def shift(placement: Placement, loom: Loom) -> str:
    """Why counting does not lead to the first space of this pattern, and where that is."""
    towards = side("right" if placement.shifted > 0 else "left", loom)
    spaces = plural(abs(placement.shifted), "space")
    first = f"{space_label(placement.first_space, loom)}, {a_space(placement.first_kind)}"
    return (
        f"Then go {spaces} to the {towards}, to {first}: end 1 goes there, "
        f"because the {placement.moved_yarn} ends must lie in slots."
    )


def middle_end(plan: Plan) -> str:
    """Where the middle end lies, or why there is none."""
    placement, loom = plan.placement, plan.loom
    if placement.middle_end is None:
        left, right = placement.ends // 2, placement.ends // 2 + 1
        return f"The middle is between ends {left} and {right}."
    space = placement.space_of(placement.middle_end)
    where = "the middle space" if space == loom.middle_space else space_label(space, loom)
    return f"The middle end, no. {placement.middle_end} ({plan.end_yarns[placement.middle_end - 1]}), lies in {where}."


def half_space(placement: Placement, loom: Loom) -> str:
    return f"The tape sits half a space to the {side(placement.half_space, loom)}; nobody will see it."


def closing_count(plan: Plan) -> str:
    placement, loom = plan.placement, plan.loom
    return (
        f"{plural(placement.holes, 'hole')}, {plural(placement.slots, 'slot')}"
        f" · {placement.empty_left} empty {side('left', loom)}, {placement.empty_right} empty {side('right', loom)}"
        f" · last space {space_label(placement.last_space, loom)}, {a_space(placement.last_kind)}"
    )


WHEN_DONE: Final = "When done"


def back_heddle(plan: Plan) -> str:
    """How the second heddle is threaded."""
    back = plan.placement.back
    if back is None:
        return ""
    rule = "Every end goes through a hole of one heddle and a slot of the other."
    if not back.offset:
        return f"{rule} The back heddle starts at the same space."
    further = side("left" if back.offset < 0 else "right", plan.loom)
    return (
        f"{rule} Back heddle: start {plural(abs(back.offset), 'space')} further {further}, "
        f"at {space_label(back.first_space, plan.loom)}."
    )


def _flag(plan: Plan, space: int, kind: Space) -> str:
    said = f"{space_label(space, plan.loom)}, {a_space(kind)}"
    back = plan.placement.back
    if back is None:
        return said
    return f"front {said}; back {space_label(space + back.offset, plan.loom)}, {a_space(kind.other)}"


def counted(space: int, loom: Loom) -> int:
    """The number that this weaver says on a space, going outwards from the mark on either side."""
    if space == loom.middle_space:
        return 1 if loom.mark is Mark.ONE else 0
    return int(space_label(space, loom)[1:])


def first_place(plan: Plan) -> str:
    return _flag(plan, plan.placement.first_space, plan.placement.first_kind)


def first_flag(plan: Plan) -> str:
    return f"end 1: {first_place(plan)}"


def last_flag(plan: Plan) -> str:
    placement = plan.placement
    return f"end {placement.ends}: {_flag(plan, placement.last_space, placement.last_kind)}"


def board(loom: Loom) -> str:
    return "The heddles" if loom.heddles is Heddles.TWO else BOARD


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


# yarn and lengths


def spare(plan: Plan) -> str:
    count = plan.pattern.length.spare_ends
    if not count:
        return "No spare ends are counted."
    return f"{plural(count, 'spare end')} of each colour counted in."


def length_basis(lengths: Lengths) -> str:
    """What the sum rests on where it does not rest on the file's own figures."""
    guessed = [
        name
        for name, basis in (
            ("take-up", lengths.take_up_basis),
            ("shrinkage", lengths.shrinkage_basis),
            ("waste", lengths.waste_basis),
        )
        if basis == "default"
    ]
    if not guessed:
        return ""
    verb = "is a guess" if len(guessed) == 1 else "are guesses"
    return f"The {listed(guessed)} {verb} until you have measured your own."


RESULT_BLANKS: Final = ("date", "loom", "warp", "tape", "width", "picks per inch", "leftover", "note")


def on_loom(other: OtherLoom) -> str:
    """How the pattern sits on another loom, or why it does not."""
    placement = other.placement
    if placement is None:
        return f"{other.why_not}."
    return (
        f"{other.first_label}, {a_space(placement.first_kind)}, to {other.last_label}; "
        f"empty {placement.empty_left} + {placement.empty_right}."
    )


def length_sum(lengths: Lengths, units: Units) -> list[str]:
    """The sum with her own numbers: division by what is left, never adding percentages."""
    wanted = tape_length(lengths.finished_mm, units)
    on_loom = tape_length(lengths.on_loom_mm, units)
    if lengths.asked == "warp":
        return []
    fringe = f" and {tape_length(lengths.fringes_mm, units)} of fringes" if lengths.fringes_mm else ""
    return [
        f"{wanted} finished, with {percent(lengths.shrinkage)} lost in washing, is {on_loom} woven;",
        f"with {percent(lengths.take_up)} taken up and {tape_length(lengths.waste_mm, units)} of waste{fringe}, "
        f"the warp is {tape_length(lengths.warp_mm, units)}.",
    ]


def wind(lengths: Lengths, units: Units) -> str:
    return f"Wind {warp_length(lengths.wind_mm, units)}"


def gives(lengths: Lengths, units: Units) -> str:
    return f"gives about {tape_length(lengths.tape_from_warp_mm, units)} of finished tape"


def yarn_aside(units: Units) -> str:
    return f"warp and weft in {'metres' if units == 'metric' else 'yards'}, then all of it"


def yarn_kinds(yarns: Sequence[Yarn]) -> str:
    """Fibre and count, said once when all yarns are of one kind."""
    kinds = [f"{yarn.fibre} {yarn.count}".strip() for yarn in yarns]
    if len(set(kinds)) == 1:
        return f"All {kinds[0]}."
    said = listed([f"{yarn.name} {kind}" for yarn, kind in zip(yarns, kinds, strict=True)])
    return capitalised(f"{said}.")


def dyes(yarns: Sequence[Yarn]) -> str:
    """Dye claims, each with its evidence; a claim without evidence is not repeated."""
    said = [f"{yarn.name}: {yarn.dye} ({yarn.dye_evidence})" for yarn in yarns if yarn.dye and yarn.dye_evidence]
    return f"Dyed {'; '.join(said)}." if said else ""


def weft_line(plan: Plan) -> str:
    weft = plan.weft
    basis = {"pattern": "", "measured": ", measured", "default": ", a guess"}[weft.basis]
    picks = f"about {decimal(weft.picks_per_inch, 0)} picks to the inch{basis}"
    return f"Weft: {weft.yarn}, {picks}; {weft.picks} picks in all"


# the source


_AFTER: Final = {
    "A": "After", "B": "After", "C": "Suggested by", "D": "Suggested by", "E": "In the manner of",
}  # fmt: skip
GRADES: Final = {
    "A": "A: copied, object seen",
    "B": "B: copied from a photograph or record",
    "C": "C: from a written description",
    "D": "D: from a picture",
    "E": "E: in the style of, no single source",
    "F": "F: own design, no claim",
}


def source_sentence(source: Source | None) -> str:
    """How the tape may be spoken of: never more than the grade allows."""
    if source is None:
        return NO_SOURCE
    if source.grade == "F":
        return f"A new design: {source.what}." if source.what else "A new design."
    what = source.what or "a tape"
    return f"{_AFTER[source.grade]} {what}."


def sentence(text: str) -> str:
    """The text with a full stop, unless it has an ending of its own."""
    return text if text.endswith((".", "!", "?")) else f"{text}."


def facts_left_out(count: int) -> str:
    return f"{plural(count, 'fact')} of the source"


def source_facts(source: Source) -> list[tuple[str, str]]:
    """The recorded fields with their labels, in the order in which a museum label gives them."""
    fields = [
        ("grade", GRADES[source.grade]),
        ("held by", source.holder),
        ("object", source.object_number),
        ("attached to", source.attached_to),
        ("place", source.place),
        ("period", source.period),
        ("attributed", source.attributed),
        ("counted by", ", ".join(filter(None, (source.counted_by, source.counted_when, source.counted_how)))),
        ("how sure", source.certainty),
        ("fibre", source.fibre),
        ("twist", source.twist),
        ("colour today", source.colour_today),
        ("colour then", source.colour_then),
        ("because", source.colour_reason),
        ("changed here", "; ".join(source.differences)),
        ("photograph", source.photograph),
        ("read", "; ".join(source.references)),
    ]
    return [(label, value) for label, value in fields if value]


# notes: every key that reckoning may use

_NOTES: Final = {
    "weft_differs": "The {weft} weft shows as small dots along the {edge} edges.",
    "edges_differ": "The edges differ: the {weft} weft shows as small dots along the {edge} one.",
    "thick_in_hole": "{count} of the {of} thick {yarn} ends {lie} in a hole, where {it} may stick: try {them} first.",
    "thick_counts": (
        "{count} of the {of} thick {yarn} ends {lie} in a hole, where {it} may stick. "
        "With {nearest} ends in all, every one can lie in a slot (say spaces: slots in the file)."
    ),
    "thick_shift": (
        "{count} of the {of} thick {yarn} ends {lie} in a hole. Write spaces: slots under that yarn "
        "and everything moves by one space."
    ),
    "alike": "{one} and {other} look alike {ways}: go by their letters and hatching.",
    "moved": "All is moved one space to the {side}, because the {yarn} ends must lie in slots.",
    "short_warp": "Short warps waste a lot: only {share} % of this one becomes tape.",
    "turned": "Threaded from the other edge it is the same tape, turned end for end.",
    "no_weight": "Nothing tells what the {yarn} yarn weighs, so its grams are left out.",
    "guessed_length": "No length was asked for: the sums are for {length} of tape.",
    "chosen_loom": "{loom} is the smallest loom at hand that holds it.",
    "children": (
        "No neck, hood or chin cords on young children’s clothes: check the current standard for children’s wear."
    ),
}


def note(note: Note, units: Units) -> str:
    """A note's sentence, with its values put in."""
    values = {key: _said(value, units) for key, value in note.values.items()}
    one = note.values.get("count") == 1
    values |= {"lie": "lies" if one else "lie", "it": "it" if one else "they", "them": "it" if one else "them"}
    return capitalised((_NOTES | BENCH_NOTES)[note.key].format(**values))


def _said(value: str | int | Fraction, units: Units) -> str:
    return tape_length(value, units) if isinstance(value, Fraction) else str(value)


def superseded(pattern: Pattern) -> str:
    """What this version replaces, and why: the last line of the history and the one before it."""
    if not pattern.changes:
        return ""
    latest = pattern.changes[-1]
    told = f"Version {latest.version}, {latest.date}: {latest.what}."
    if len(pattern.changes) > 1:
        return f"{told[:-1]}; replaces version {pattern.changes[-2].version}."
    return told


def page_title(pattern: Pattern) -> str:
    """The card's title as a document's: name and code."""
    return f"{pattern.title} ({pattern.code})" if pattern.code else pattern.title


def page_of(number: int, pages: int) -> str:
    """The number of a page among several: ``2 of 3``; nothing when it is the only one."""
    return f"{number} of {pages}" if pages > 1 else ""
