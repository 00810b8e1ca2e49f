"""The sheds and the face: which shed is next, what lies on top in each, how wide the tape is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from typing import Final

from cardmaker.model.loom import Heddles, Loom, Side
from cardmaker.model.plan import Plan, Width
from cardmaker.model.record_class import record
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.weaving.sheds import raised_runs
from cardmaker.wording.formatters import Units, decimal
from cardmaker.wording.phrases import NO_BREAK, capitalised, listed, weavers_side
from cardmaker.wording.stripe_words import stripes_in_words
from cardmaker.wording.title_words import width_fact
from cardmaker.wording.units_in_words import with_units_in_words
from cardmaker.wording.view_words import but_from_seat, edge_of_end_1

FACE: Final = "What you see"
NOT_SURE: Final = "Not sure which shed?"
TUG_IT: Final = "Tug the weft: if it slides out freely, the open shed was the last one."
# A pick in the open shed goes round nothing, so it comes out again: common practice, no source.
TUG: Final = f"{NOT_SURE} {TUG_IT}"
TRY_IT: Final = "Front up: try it, the foot that raises the front heddle’s holes."
TRY_IT_BRIEF: Final = "Front up: try which foot."
SHUTTLE_GUESSED: Final = "The sides are a guess: watch where your shuttle flies in each shed."
SHUTTLE_GUESSED_BRIEF: Final = "The sides are a guess."
LEFT_HAND_THROWS: Final = "For a left hand only the shuttle goes the other way; each foot does the same."
BOTH_ALIKE: Final = "Both sheds show the same:"
AS_IN_PICTURE: Final = " as in the picture"
BEFORE_PICKING: Final = "Before the hand lifts or drops an end:"


def next_shed_alt_text(plan: Plan) -> str:
    """The weft, and which shed is next by where it hangs; no word in capitals, which may be spelled out."""
    rules = next_sheds(plan).replace(NO_BREAK, " ")
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
        f"{capitalised(shed_name_in_words(plan.loom, down))}: {raised_in_words(plan, shed)}."
        for down, shed in ((True, plan.sheds.down), (False, plan.sheds.up))
    )
    rows = plan.pickup.rows if plan.pickup else ()
    by_hand = (
        f"Row {row.row} of {len(rows)}, {shed_name_in_words(plan.loom, row.shed == 'down')}, by hand: "
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
    """The shed in the words of its cell: ``warp DOWN``; of two heddles which foot, or which one is raised."""
    opens = what_opens(loom, is_down=down)
    return f"warp {opens.in_capitals}" if opens in _BY_HAND else str(opens)


def shed_name_in_words(loom: Loom, down: bool) -> str:
    """The same to be read aloud: no word in capitals, which may be spelled out."""
    return shed_name(loom, down).lower()


def shed_hints(loom: Loom, *, brief: bool = False) -> list[str]:
    """What a shed's name leaves open: which foot opens it, on two heddles whose file has no tie-up."""
    hint = TRY_IT_BRIEF if brief else TRY_IT
    return [hint] if loom.heddles is Heddles.TWO and loom.front_raised_by is None else []


def on_top(shed: str) -> str:
    """Before the colours of a shed: they are those of the ends that lie on top while it is open."""
    return f"{capitalised(shed)}, on top:"


def sheds_alike(plan: Plan) -> bool:
    """Whether both sheds show the same colours in the same order."""
    return raised_runs(plan.sheds.down, plan.end_yarns) == raised_runs(plan.sheds.up, plan.end_yarns)


def shed_colours(runs: Sequence[tuple[str, int]], plan: Plan) -> str:
    """What is on top in one shed, left to right."""
    if not runs:
        return "nothing"
    if len(runs) == 1:
        yarn, count = runs[0]
        return f"all {yarn},{NO_BREAK}{count}"
    counts: dict[str, int] = {}
    for yarn, count in runs:
        counts[yarn] = counts.get(yarn, 0) + count
    if len(runs) > 9:
        totals = [f"{count} {plan.letters(yarn)}" for yarn, count in counts.items()]
        return f"{listed(totals)}, mixed{AS_IN_PICTURE}"
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


_BY_HAND: Final = {Opens.DOWN: "press the ", Opens.UP: "lift the "}


@record
class NextShed:
    """Where the weft hangs, as it is drawn for a right hand, and what opens the shed that then comes next."""

    hangs: Side
    opens: Opens


def next_shed_rules(loom: Loom, *, starts_up: bool = False) -> tuple[NextShed, NextShed]:
    """Both rules, that of the first pick first: down, unless a figure ``starts_up``.

    While the warp is pressed down the shuttle travels towards ``shuttle_down``: so it starts from the other side.
    Without a tie-up a loom's file may tell the shuttle's sides by foot, and then nobody knows which shed a foot opens.
    """
    down = NextShed(loom.shuttle_down.opposite, _opening(loom, is_down=True))
    up = NextShed(loom.shuttle_up.opposite, _opening(loom, is_down=False))
    return (up, down) if starts_up else (down, up)


def sheds_in_turn(plan: Plan) -> tuple[NextShed, NextShed]:
    """The rules as they are needed: of a figure that is picked up by hand the first shed is that of its row 1."""
    starts_up = plan.pickup is not None and plan.pickup.rows[0].shed == "up"
    return next_shed_rules(plan.loom, starts_up=starts_up)


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
    """Where the weft hangs, in the fewest words that cannot be read as where to throw it: ``weft at right``."""
    return f"weft at {weavers_side(hangs, loom)}"


def begin_tries(plan: Plan) -> list[str]:
    """The same in ever fewer words, for the end of a line; whereto she throws in the same ones."""
    return list(dict.fromkeys(begin_words(plan, brief=is_brief) for is_brief in (False, True)))


def begin_words(plan: Plan, *, brief: bool = False) -> str:
    """What the hand or the foot does first, and whereto it throws; where all else is seen from behind, that she sits.

    With one heddle, which stays where it is, the warp goes down: ``begin: press the warp DOWN, throw left``. The
    first shed of a figure may be up.
    """
    loom = plan.loom
    first, _ = sheds_in_turn(plan)
    hangs, opens = first.hangs, first.opens
    seat = but_from_seat(loom.view)
    begin = f"begin {seat}" if seat else "begin"
    return f"{begin}: {_first_act(opens, brief=brief)}, throw {weavers_side(hangs.opposite, loom)}"


def _first_act(opens: Opens, *, brief: bool) -> str:
    """How the first shed is opened: by pressing or lifting, unless the foot or the heddle tells it alone."""
    if opens not in _BY_HAND:
        return opens.in_capitals
    return f"{'' if brief else _BY_HAND[opens]}warp {opens.in_capitals}"


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


def next_sheds(plan: Plan) -> str:
    """The next-shed rule in words."""
    return " ".join(
        f"{hanging(rule.hangs, plan.loom)}, {next_shed(rule.opens.in_capitals)}." for rule in sheds_in_turn(plan)
    )


def face_scale(scale: float) -> str:
    return f"{decimal(Fraction(scale), 1)} × life size"
