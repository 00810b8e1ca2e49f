"""The order of the ends: stripes, letters, yarns in turn, and the order from the other edge."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.plan import Plan
from cardmaker.model.viewpoint import FROM_SEAT
from cardmaker.reckoning.stripes.segments import Segment, hand_counted
from cardmaker.reckoning.stripes.stripe_counts import runs
from cardmaker.wording.phrases import NO_BREAK, capitalised, end_count, listed
from cardmaker.wording.view_words import edge_of_end_1, seen_from

SHORT_YARN: Final = 16  # letters of a yarn's name that stay in one line

ORDER: Final = "The order"
IN_TURN: Final = "in turn"
HOLE, SLOT, TOTAL = "hole", "slot", "total"
LETTERS: Final = "letters"  # said for the head of their column, which is blank


def begins_at(plan: Plan, *, brief: bool = False) -> str:
    """At which edge the stripes begin for a left hand, or seen from behind; there it tells only if the edges differ."""
    view = plan.view
    if view == FROM_SEAT or (view.from_behind and plan.same_both_ways):
        return ""
    if brief:
        return f"From {edge_of_end_1(view, brief=True) if view.from_behind else 'the right'}:"
    if not view.from_behind:
        return "Left hand: begin at the right edge as you sit."
    hand = "for a left hand, " if view.left_hand else ""
    return f"{capitalised(f'{hand}{seen_from(plan.loom, brief=True)}')}: begin at {edge_of_end_1(view)}."


def begin_in_short(plan: Plan) -> str:
    """The same in a few words within a line: ``from the right``; nothing where it is the usual edge."""
    begins = begins_at(plan, brief=True).rstrip(":")
    return f"{begins[:1].lower()}{begins[1:]}"


def letters_of(letters: Sequence[str]) -> str:
    """The letters of a stripe; those of yarns in turn joined, so that no two groups beside each other read as one."""
    return "/".join(letters)


def turns_explained(plan: Plan) -> list[str]:
    """What the joined letters of stripes in turn mean, by the first of them, the fullest first: ``Wh/Bu = in turn, Wh
    first``."""
    yarns = next(each.yarns for each in hand_counted(plan.runs) if each.in_turn)
    letters = [plan.letters(yarn) for yarn in yarns]
    told = f"{letters_of(letters)}{NO_BREAK}={NO_BREAK}{IN_TURN.replace(' ', NO_BREAK)}"
    return [f"{told},{NO_BREAK}{letters[0]}{NO_BREAK}first", told]


def in_turn(names: str) -> str:
    return f"{names} {IN_TURN}"


def turn_named(ends: int, names: Sequence[str], together: str) -> str:
    """One yarn by its name; of ends in turn all ``together``, which begin with the first; of two, which is which:
    ``Wh, then Gr``."""
    if len(names) == 1:
        return names[0]
    return f"{names[0]}, then {names[1]}" if ends == len(names) == 2 else in_turn(together)


def spaces_of(plan: Plan) -> str:
    """Of two heddles, whose holes and slots are shown."""
    return "of the front heddle" if plan.placement.back else ""


def rest_of(ends: int, letters: str) -> str:
    """Over the ends of a stripe that began in the row before."""
    return f"rest of {ends} {letters}"


def order_alt_text(plan: Plan, stripes: Sequence[Segment]) -> str:
    """Every stripe in turn with its ends, its yarn and the running total; and which ends lie in holes."""
    totals = "; ".join(f"{stripe_in_words(stripe)}, total {stripe.last_end}" for stripe in stripes)
    start = f"{end_count(plan.ends)} from {edge_of_end_1(plan.view)}: {totals}."
    return f"{start} {_in_holes(plan)} {_other_edge(plan, stripes)}"


def stripe_in_words(stripe: Segment) -> str:
    return f"{stripe.ends} {f'of {in_turn(listed(stripe.yarns))}' if stripe.in_turn else stripe.yarns[0]}"


def _in_holes(plan: Plan) -> str:
    first = plan.placement.first_kind
    where = f" {spaces_of(plan)}" if plan.placement.back else ""
    if plan.ends == 1:
        return f"It lies in a {first}{where}."
    return f"End 1 lies in a {first}{where}, end 2 in a {first.opposite}, and so on in turn."


def _other_edge(plan: Plan, stripes: Sequence[Segment]) -> str:
    if plan.same_both_ways:
        return "It is the same from both edges."
    return _from_other_edge(stripes_in_words(plan.end_yarns[::-1]))


def stripes_in_words(yarns: Sequence[str]) -> str:
    """The stripes that such ends make, without totals."""
    return "; ".join(stripe_in_words(stripe) for stripe in hand_counted(runs(yarns)))


def stripes_seen_alt_text(plan: Plan) -> str:
    """The stripes as they lie in front of the weaver, of a drawing without totals."""
    return f"The stripes from {edge_of_end_1(plan.view)}: {stripes_in_words(plan.end_yarns)}."


def swatches_alt_text(yarns: Sequence[str]) -> str:
    """The legend's pictures."""
    return f"A swatch of each yarn as the pictures show it, and a ring to knot a snip through: {listed(yarns)}."


def other_way(segments: Sequence[Segment], plan: Plan) -> str:
    """The stripes read from the other edge, for a tape whose edges differ."""
    return _from_other_edge(", ".join(_stripe_from_behind(segment, plan) for segment in reversed(segments)))


def _from_other_edge(stripes: str) -> str:
    return f"From the other edge: {stripes}."


def _stripe_from_behind(segment: Segment, plan: Plan) -> str:
    """A stripe read from the other side: yarns in turn then begin with the one that lies last."""
    if not segment.in_turn:
        return f"{segment.ends} {plan.letters(segment.yarns[0])}"
    last = [plan.end_yarns[end_number - 1] for end_number in range(segment.last_end, segment.first_end - 1, -1)]
    return f"{segment.ends} {in_turn(letters_of([plan.letters(yarn) for yarn in dict.fromkeys(last)]))}"


def weft_labelled(plan: Plan) -> tuple[str, str]:
    """Which yarn the weft is, as a sentence of its own: ``Weft:`` and its yarn."""
    return "Weft:", f"{plan.weft.yarn}."


def legend_with_weft(plan: Plan, *, turns: bool) -> str:
    """What the letters stand for, and by its letters which yarn the weft is, on a card that tells of yarn nowhere else;
    what joined letters mean, where ``turns`` are told by them alone."""
    in_turns = f", /{NO_BREAK}={NO_BREAK}{IN_TURN.replace(' ', NO_BREAK)}." if turns else "."
    return f"{legend(plan).removesuffix('.')}{in_turns} {capitalised(f'weft{NO_BREAK}{plan.letters(plan.weft.yarn)}')}."


def legend(plan: Plan) -> str:
    """What the letters stand for, where no table tells."""
    return f"{', '.join(f'{colour.letters}{NO_BREAK}{_together(colour.yarn)}' for colour in plan.colours)}."


def _together(name: str) -> str:
    """A short name, not parted at the end of a line: *Rc red / cord* would be a red called Rc."""
    return name.replace(" ", NO_BREAK) if len(name) <= SHORT_YARN else name
