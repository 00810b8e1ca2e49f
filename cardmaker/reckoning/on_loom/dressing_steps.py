"""Dressing a loom: which steps there are, in which order, and the few figures that the plan lacks.

Order: what is rolled first comes off last, so a warp that is rolled from its far loops begins with the end that is cut
at home, goes through the heddle, and is tied to the beam last of all; one that is rolled from home shows its loops
first, which go on a rod of the beam, and is threaded when it is wound on (needs no source: geometry). Lengths to leave
over are common practice, no source, each a hand or less.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from cardmaker.model.dressing_acts import Act, Dressing, Slip
from cardmaker.model.loom import Heddles, Loom
from cardmaker.model.plan import Plan, Post
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.winding.walk import walk_of

TIPS_MM: Final = 2 * MM_PER_INCH  # enough for a knot to hold: common practice, no source
SPARE_MM: Final = 3 * MM_PER_INCH  # to tie again: common practice, no source
TAIL_MM: Final = 4 * MM_PER_INCH  # to be turned into the next shed: common practice, no source
HEADER_MM: Final = 2 * MM_PER_INCH  # until the width is even: common practice, no source
BEYOND_ZONE_MM: Final = 4 * MM_PER_INCH  # from the far end of the weaving zone to the front knot: common practice
ONE_KNOT_HOLDS: Final = 60  # ends; a thicker bundle slips: common practice, no source

_TO_BEAM: Final = (Act.TIE_ON, Act.WIND_ON)
_TO_HEDDLE: Final = (Act.CROSS, Act.THREAD, Act.TWO_HEDDLES)
_IN_FRONT: Final = (Act.FRONT_TIE, Act.TIE_LOOM, Act.SHUTTLE, Act.FIRST_PICK, Act.MOVE_ON, Act.FINISH)


def acts_in_order(loom: Loom, *, is_threaded: bool = False, is_brief: bool = False) -> tuple[Act, ...]:
    """The steps that this loom asks for, in their order; of a loom that was threaded and beamed beforehand the rest.

    ``is_brief``: without shuttle and finish, which are no part of dressing, and with one step for both heddles.
    """
    left_out = {*(() if loom.heddles is Heddles.TWO else (Act.TWO_HEDDLES,))}
    if is_brief:
        left_out |= {Act.SHUTTLE, Act.FINISH, *((Act.THREAD,) if loom.heddles is Heddles.TWO else ())}
    before = (Act.KEEPERS, *_TO_BEAM, *_TO_HEDDLE) if loom.beam_first else (Act.KEEPERS, *_TO_HEDDLE, *_TO_BEAM)
    acts = _IN_FRONT if is_threaded else (*before, *_IN_FRONT)
    return tuple(act for act in acts if act not in left_out)


def acts_of_slip(slip: Slip, loom: Loom, *, is_threaded: bool = False) -> tuple[Act, ...]:
    """The steps that a slip of a handout in stages draws: those that its words need a picture for. A loom that was
    threaded beforehand comes with its warp on the beam, so the front tie is the first step of weaving."""
    if slip == "wind":
        return (Act.KEEPERS,)
    if slip == "weave":
        return (
            (Act.FRONT_TIE, Act.TIE_LOOM, Act.FIRST_PICK) if is_threaded else (Act.SHUTTLE, Act.FIRST_PICK, Act.MOVE_ON)
        )
    elsewhere = {Act.KEEPERS, Act.THREAD, Act.TWO_HEDDLES, Act.FIRST_PICK, Act.MOVE_ON}  # the board tells how to thread
    return tuple(act for act in acts_in_order(loom, is_brief=True) if act not in elsewhere)


def dressing_figures(plan: Plan) -> Dressing:
    """The figures of one warp on one loom.

    A fill weaves its share of the tape: the wraps are for the weft with all its joins, so that none is promised that
    they do not give (own derivation).
    """
    zone, fill = plan.loom.weaving_zone_mm, plan.shuttle
    return Dressing(
        tips_mm=TIPS_MM,
        spare_mm=SPARE_MM,
        tail_mm=TAIL_MM,
        header_mm=HEADER_MM,
        knots=2 if plan.ends > ONE_KNOT_HOLDS and not plan.loom.beam_first else 1,
        left_at_heddle_mm=zone[1] + BEYOND_ZONE_MM if zone and not plan.loom.beam_first else None,
        tape_per_fill_mm=plan.lengths.woven_mm * Fraction(fill.wraps_per_fill, fill.wraps)
        if fill and fill.wraps
        else None,
        loose_at_far=loose_at_far(plan),
    )


def loose_at_far(plan: Plan) -> tuple[int, ...]:
    """The ends that stop at the far peg without a loop there: each must be given one, or the stick misses it. They are
    numbered as they are wound: of bundles that is not their place in the tape.

    In order it is the last end of an odd number, of balls and bundles each one that ends there (parity).
    """
    walk, method = walk_of(plan.runs, plan.winding.method), plan.winding.method
    last = {stretch.last_end for stretch in walk.stretches} if method == "bundle" else set[int]()
    last.add(len(walk.strokes))
    if method == "carry":
        last |= {position for position in range(1, len(walk.strokes)) if walk.ends_ball(position)}
    return tuple(position for position in sorted(last) if walk.stop_of(position) is Post.FAR)
