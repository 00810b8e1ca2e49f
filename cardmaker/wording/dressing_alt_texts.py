"""What the pictures of dressing show, told so that the act can be done by whoever only hears it."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final, NamedTuple

from cardmaker.model.dressing_acts import Act
from cardmaker.model.loom import Loom
from cardmaker.model.plan import Plan
from cardmaker.wording import heddle_words, shed_words
from cardmaker.wording.phrases import a_space, weavers_side
from cardmaker.wording.units_in_words import with_units_in_words

_CAPITALS: Final = re.compile(r"\b[A-Z]{2,}\b")


class _Shown(NamedTuple):
    """What a picture is of."""

    plan: Plan
    is_wound: bool

    @property
    def loom(self) -> Loom:
        return self.plan.loom

    def side(self, drawn: str) -> str:
        """A side of the picture, which is mirrored for a left hand."""
        return weavers_side(drawn, self.loom)


def act_alt_text(act: Act, plan: Plan, *, is_wound: bool = False) -> str:
    """What the picture of a step shows."""
    return _SHOWN[act](_Shown(plan, is_wound))


def heading_in_words(number: int, text: str) -> str:
    """The line of a step as it is read aloud, with its number."""
    return f"{number}. {quietly(with_units_in_words(text))}"


def quietly(text: str) -> str:
    """The text without words in capitals, which may be spelled out."""
    return _CAPITALS.sub(lambda word: word[0].lower(), text)


def _keepers(shown: _Shown) -> str:
    cross = (
        "Two keepers stand upright in the cross, one each side of the X, banded together at the top and at the foot; "
        "odd ends pass behind the first peg of the cross and before the second, even ends the other way. A bright "
        "thread at the foot marks end 1. Over it the same cross from above: the ends make an X between the keepers."
    )
    if shown.is_wound:
        return f"A wound warp on its stick, from the side. {cross}"
    left, rolled = ("far", "home") if shown.loom.beam_first else ("home", "far")
    turned = (
        f"The warp on its pegs, from the side, {left} at the {shown.side('left')}. First: {cross} Second: the {rolled} "
        "peg is gone, and a fist turns an upright stick that is through the loops there, rolling the warp up towards "
        f"{left}."
    )
    cut = "Nothing is cut." if shown.loom.beam_first else "Third, last of all: scissors cut the loops at home."
    return f"{turned} {cut}"


def _cross(shown: _Shown) -> str:
    hand = "right" if shown.plan.view.left_hand else "left"
    return (
        f"Your {hand} hand, its palm towards you and thumb up, the warp across it: tips of the ends up, the warp "
        "going down to the roll on its stick. The ends lie over and under the first finger by turns, and the other way "
        "at the little finger; seen on the fingertips they make an X between the two. End 1 lies nearest to the "
        "fingertips, and an arrow shows it slide off first."
    )


def _thread(shown: _Shown) -> str:
    placement, loom = shown.plan.placement, shown.loom
    near = loom.beam_first != shown.plan.view.from_behind
    way = "towards you" if near else "away from you"
    counted = f"The heddle, with leaps from its mark to the first space. {heddle_words.count_out(loom, placement)}"
    needle = f"A needle draws it through, {way}."
    second = f"End 2 goes beside it, in {a_space(placement.first_kind.opposite)}." if shown.plan.ends > 1 else ""
    return f"{counted} {needle} {second}".strip()


def _two_heddles(shown: _Shown) -> str:
    back, first = shown.plan.placement.back, shown.plan.placement.first_kind
    slant = "straight behind" if back is None or not back.offset else "one space over"
    far, near = ("front", "back") if shown.plan.view.from_behind else ("back", "front")
    return (
        f"Two heddles, the {far} one above and the {near} one, which is nearer, below. Every end goes through a hole "
        f"of one and a slot of the other, {slant}: of one end both are ringed. End 1 has {a_space(first)} in front and "
        f"{a_space(first.opposite)} at the back."
    )


def _tie_on(shown: _Shown) -> str:
    if shown.loom.beam_first:
        return (
            "The beam above, and a rod tied to it; the loops of the warp hang on the rod, and the ends go down from it."
        )
    return (
        "The beam above, the heddle below; the ends come up from the heddle and meet in one knot, their tips past "
        "it. A loop of cord is drawn through itself round the ends, on the heddle’s side of the knot; its two "
        "strands pass the knot to the beam, which pulls."
    )


def _wind_on(shown: _Shown) -> str:
    away, knot = ("beam", "rod in the loops") if shown.loom.beam_first else ("heddle", "knot")
    beam = shown.plan.beam
    pairs = f", with pairs of sticks lying in the roll, the first pair beside the {knot}"
    sticks = "" if beam and not beam.stick_turns else pairs
    keepers = " The keepers are still in the cross, between the beam and the hands." if shown.loom.beam_first else ""
    return (
        "From the side. First: one fist pulls the warp away from the beam. Second: the other hand turns the crank, the "
        f"beam’s top going away from the weaver{sticks}. Third, in a small picture: the hand that has turned combs the "
        f"warp with its fingers, away from the {away}.{keepers}"
    )


def _front_tie(shown: _Shown) -> str:
    if shown.loom.cloth_beam:
        return (
            "The warp in two halves, each over the bow of a cord on the front roller, round it and up again. The "
            "halves are tied over the warp in a square knot: both strands of each half leave on one side of the "
            "other’s loop."
        )
    return "The ends come down from the heddle into one knot; a fist below it holds the tips and pulls towards you."


def _tie_loom(shown: _Shown) -> str:
    where = "a post behind it" if shown.loom.back_heddle else "the leg of the table that it stands on"
    return (
        f"The loom from the side, held by a taut cord from its back to {where}, tied with a bow. An arrow shows the "
        "fist’s pull on the warp."
    )


def _shuttle(shown: _Shown) -> str:
    if shown.loom.shuttle_kind == "netting":
        return (
            "A netting shuttle: the weft goes up one face, round the tongue in its window, and back on the same face "
            "to the notch at the heel; then the shuttle is turned over, and the same is done on its other face."
        )
    return (
        "A flat shuttle: the weft goes along its front, through the notch, and back behind it. Below it, seen on its "
        "edge: the weft lies round it lengthwise."
    )


def _first_pick(shown: _Shown) -> str:
    plan, loom = shown.plan, shown.loom
    hangs = shed_words.sheds_in_turn(plan)[0].hangs
    throw, tail = (weavers_side(side, loom) for side in (hangs.opposite, hangs))
    if loom.back_heddle:
        how = (
            "From the side: a foot on a treadle lifts one heddle and lowers the other, and the warp parts in two "
            "layers."
        )
    else:
        how = (
            f"From the side: the heddle stays where it is, and a fist {'lifts' if _starts_up(plan) else 'presses'} "
            f"the warp {'up' if _starts_up(plan) else 'down'} in front of it. The ends in {_on_top(plan)} are the "
            "upper layer, the others the lower one."
        )
    return (
        f"{how} The shuttle lies between the two layers. In the corner the tape from above: the shuttle leaves it to "
        f"the {throw}, and the tail of the weft hangs at the {tail}."
    )


def _on_top(plan: Plan) -> str:
    return "slots" if _starts_up(plan) else "holes"


def _starts_up(plan: Plan) -> bool:
    return plan.pickup is not None and plan.pickup.rows[0].shed == "up"


def _move_on(shown: _Shown) -> str:
    on = "the cloth beam winds the tape on" if shown.loom.cloth_beam else "a hand draws the tape on"
    return (
        "From the side: the shed is closed, and a measure below the tape shows where weaving goes well. The "
        f"beam is let go behind, a hand on its crank, and {on}, away from the heddle."
    )


def _finish(shown: _Shown) -> str:
    last = "rod" if shown.loom.beam_first else "knot"
    return (
        f"The {last} has come up to the heddle and the shed stays flat. First: a needle takes the end of the weft into "
        "the tape. Second: scissors, behind the heddle. Third: the tape, with its fringe, is wound off into a coil."
    )


_SHOWN: Final[dict[Act, Callable[[_Shown], str]]] = {
    Act.KEEPERS: _keepers,
    Act.CROSS: _cross,
    Act.THREAD: _thread,
    Act.TWO_HEDDLES: _two_heddles,
    Act.TIE_ON: _tie_on,
    Act.WIND_ON: _wind_on,
    Act.FRONT_TIE: _front_tie,
    Act.TIE_LOOM: _tie_loom,
    Act.SHUTTLE: _shuttle,
    Act.FIRST_PICK: _first_pick,
    Act.MOVE_ON: _move_on,
    Act.FINISH: _finish,
}
