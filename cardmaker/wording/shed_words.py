"""The sheds and the face: which shed is next, what lies on top in each, how wide the tape is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from typing import Final, NamedTuple

from cardmaker.model.loom import Heddles, Loom, Side
from cardmaker.model.plan import Plan, Width
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.weaving.sheds import raised_runs
from cardmaker.wording.formatters import Units, decimal
from cardmaker.wording.phrases import NO_BREAK, capitalised, listed, weavers_side
from cardmaker.wording.stripe_words import stripes_in_words
from cardmaker.wording.title_words import width_fact
from cardmaker.wording.units_in_words import with_units_in_words
from cardmaker.wording.view_words import but_from_seat, edge_of_end_1

FACE: Final = "What you see"
# A pick in the open shed goes round nothing, so it comes out again: common practice, no source.
TUG: Final = "Not sure? Tug the weft: if it slides out freely, the open shed was the last one."
TRY_IT: Final = "Front up: try it, the foot that raises the front heddle’s holes."
TRY_IT_BRIEF: Final = "Front up: try which foot."
SHUTTLE_GUESSED: Final = "The sides are a guess: watch where your shuttle flies in each shed."
SHUTTLE_GUESSED_BRIEF: Final = "The sides are a guess."
LEFT_HAND_THROWS: Final = "For a left hand only the shuttle goes the other way; each foot does the same."
BOTH_ALIKE: Final = "Both sheds show the same:"
BEFORE_PICKING: Final = "Before the hand lifts or drops an end:"


def next_shed_alt_text(plan: Plan) -> str:
    """The weft, and which shed is next by where it hangs; no word in capitals, which may be spelled out."""
    rules = next_sheds(plan.loom).replace(NO_BREAK, " ")
    rules = " ".join(word.lower() if word.isupper() else word for word in rules.split())
    begin = begin_in_words(plan)
    parts = (f"The weft is {plan.weft.yarn}.", begin, hangs_from(plan.view), rules, *next_shed_hints(plan.loom))
    return " ".join(part for part in parts if part)


def hangs_from(view: Viewpoint) -> str:
    """Before what is told of the shuttle, on a card that is else seen from behind: the weaver sits in front."""
    seat = but_from_seat(view)
    return f"{capitalised(seat)}:" if seat else ""


def face_heading(view: Viewpoint) -> str:
    """The heading of what shows in each shed, which is seen from the seat whatever the heddle is seen from."""
    return f"{FACE} {but_from_seat(view)}".rstrip()


def face_alt_text(plan: Plan, units: Units) -> str:
    """What the cloth shows, and how wide it is."""
    return f"{sheds_alt_text(plan)} {tape_width_in_words(plan, units)}"


def sheds_alt_text(plan: Plan) -> str:
    """What is on top in each shed, edge to edge, and in each row that the hand changes."""
    down, up = (
        f"{shed_name(plan.loom, down)}: {raised_in_words(plan, shed)}."
        for down, shed in ((True, plan.sheds.down), (False, plan.sheds.up))
    )
    rows = plan.pickup.rows if plan.pickup else ()
    by_hand = (
        f"Row {row.row} of {len(rows)}, {shed_name(plan.loom, row.shed == 'down').lower()}, by hand: "
        f"{raised_in_words(plan, row.raised)}."
        for row in rows
        if row.lifted or row.dropped
    )
    face = f"The woven face, picks in turn from the bottom up, from {edge_of_end_1(plan.view)}."
    return " ".join((face, down, up, *by_hand, *shed_hints(plan.loom)))


def raised_in_words(plan: Plan, end_numbers: Iterable[int]) -> str:
    """Such ends from the left, neighbours of one yarn together."""
    return stripes_in_words([plan.end_yarns[number - 1] for number in end_numbers]) or "nothing"


def tape_width_in_words(plan: Plan, units: Units) -> str:
    """How wide the tape is, as a sentence that is read aloud."""
    return f"The tape is {_width_in_words(plan.width, units)} wide."


@lru_cache(maxsize=8)  # face and ribbon both tell it
def _width_in_words(width: Width, units: Units) -> str:
    return with_units_in_words(width_fact(width, units))


def shed_name(loom: Loom, down: bool) -> str:
    """The shed in the weaver's words: pressed down or lifted up; of two heddles which foot, or which one is raised."""
    if loom.heddles is Heddles.ONE:
        return "Pressed down" if down else "Lifted up"
    foot = loom.foot_of(is_down=down)
    if foot is None:
        return "Front up" if down else "Back up"
    return capitalised(_foot(foot))


def _foot(foot: Side) -> str:
    return f"{foot} foot"


def shed_hints(loom: Loom, *, brief: bool = False) -> list[str]:
    """What a shed's name leaves open: which foot opens it, on two heddles whose file has no tie-up."""
    hint = TRY_IT_BRIEF if brief else TRY_IT
    return [hint] if loom.heddles is Heddles.TWO and loom.front_raised_by is None else []


def on_top(shed: str) -> str:
    """Before the colours of a shed: they are those of the ends that lie on top while it is open."""
    return f"{shed}, on top:"


def sheds_alike(plan: Plan) -> bool:
    """Whether both sheds show the same colours in the same order."""
    return raised_runs(plan.sheds.down, plan.end_yarns) == raised_runs(plan.sheds.up, plan.end_yarns)


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
    return f"Weft on the {weavers_side(drawn, loom).upper()}"


def next_shed(shed: str) -> str:
    return f"next:{NO_BREAK}{shed.replace(' ', NO_BREAK)}"


class Opens(StrEnum):
    """What opens a shed, as the weaver is told to do it."""

    DOWN = "down"
    UP = "up"
    LEFT_FOOT = "left foot"
    RIGHT_FOOT = "right foot"
    FRONT = "front up"
    BACK = "back up"

    @property
    def in_capitals(self) -> str:
        return self.value.upper()


class NextShed(NamedTuple):
    """Where the weft hangs, as it is drawn for a right hand, and what opens the shed that then comes next."""

    hangs: Side
    opens: Opens


def next_shed_rules(loom: Loom) -> tuple[NextShed, NextShed]:
    """Both rules, down first: it is the first pick.

    While the warp is pressed down the shuttle travels towards ``shuttle_down``: so it starts from the other side.
    Without a tie-up a loom's file may tell the shuttle's sides by foot, and then nobody knows which shed a foot opens.
    """
    return (
        NextShed(loom.shuttle_down.opposite, _opening(loom, is_down=True)),
        NextShed(loom.shuttle_up.opposite, _opening(loom, is_down=False)),
    )


def _opening(loom: Loom, *, is_down: bool) -> Opens:
    if loom.shuttle_by_foot:
        return Opens.LEFT_FOOT if is_down else Opens.RIGHT_FOOT
    return what_opens(loom, is_down=is_down)


def what_opens(loom: Loom, *, is_down: bool) -> Opens:
    """What opens one of the two sheds; of two heddles without a tie-up, which heddle then goes up."""
    if loom.heddles is Heddles.ONE:
        return Opens.DOWN if is_down else Opens.UP
    foot = loom.foot_of(is_down=is_down)
    if foot is None:
        return Opens.FRONT if is_down else Opens.BACK
    return Opens.LEFT_FOOT if foot is Side.LEFT else Opens.RIGHT_FOOT


def weft_side(hangs: Side, loom: Loom) -> str:
    """Where the weft hangs, in the fewest words: ``weft right``."""
    return f"weft {weavers_side(hangs, loom)}"


def begin_words(plan: Plan, *, brief: bool = False) -> str:
    """What the hand or the foot does first, and whereto it throws; where all else is seen from behind, that she sits.

    With one heddle, which stays where it is, the warp goes down: ``begin: press the warp DOWN, throw to the left``. Of
    a figure that is picked up by hand the first shed is that of its row 1, and may be up.
    """
    loom = plan.loom
    starts_up = plan.pickup is not None and plan.pickup.rows[0].shed == "up"
    hangs, opens = next_shed_rules(loom)[starts_up]
    seat = but_from_seat(loom.view)
    begin = f"begin {seat}" if seat else "begin"
    throw = f"throw {'' if seat and brief else 'to the '}{weavers_side(hangs.opposite, loom)}"
    return f"{begin}: {_first_act(opens, brief=brief)}, {throw}"


def _first_act(opens: Opens, *, brief: bool) -> str:
    """How the first shed is opened: by pressing or lifting, unless the foot or the heddle tells it alone."""
    by_hand = {Opens.DOWN: "press the ", Opens.UP: "lift the "}
    if opens not in by_hand:
        return opens.in_capitals
    return f"{'' if brief else by_hand[opens]}warp {opens.in_capitals}"


def begin_in_words(plan: Plan) -> str:
    """The same as a sentence that is read aloud: no word in capitals, which may be spelled out."""
    begin = begin_words(plan)
    return f"{capitalised(' '.join(word.lower() if word.rstrip(',').isupper() else word for word in begin.split()))}."


def next_shed_hints(loom: Loom, *, brief: bool = False) -> list[str]:
    """What stands below the rule: which foot to try, that the sides are a guess, what a left hand does on treadles."""
    sides = [] if loom.shuttle_stated else [SHUTTLE_GUESSED_BRIEF if brief else SHUTTLE_GUESSED]
    if loom.heddles is Heddles.ONE:
        return sides
    tried = [] if loom.shuttle_by_foot else shed_hints(loom, brief=brief)
    return [*tried, *sides, *([LEFT_HAND_THROWS] if loom.sides_swapped and not brief else [])]


def next_sheds(loom: Loom) -> str:
    """The next-shed rule in words."""
    return " ".join(
        f"{hanging(hangs, loom)}, {next_shed(opens.in_capitals)}." for hangs, opens in next_shed_rules(loom)
    )


def face_scale(scale: float) -> str:
    return f"{decimal(Fraction(scale), 1)} × life size"
