"""Pieces, the beam and new ends: a part of the second calculator.

Written from the manual alone, like ``second_calculator``; the comments between quotation marks are its sentences.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor, pi, sqrt
from typing import Any, NamedTuple

from tests.helpers.second_losses import Loss
from tests.helpers.second_sizes import INCH_MM, Tree, diameter_mm, length_mm


class Piece(NamedTuple):
    """A kind of piece, and the warp that one of them takes with both its fringes."""

    name: str
    length: Fraction
    wanted: int
    fringe: Fraction
    on_loom: Fraction
    warp: Fraction


class Warp(NamedTuple):
    """The warp's figures that everything else hangs on."""

    wound: Fraction  # as it goes round the pegs
    woven_off: Fraction  # without its waste
    waste: Fraction
    front: Fraction
    take_up: Loss
    shrinkage: Loss

    @property
    def kept(self) -> Fraction:
        """What is left of warp when it is tape, "with the most of both"."""
        return (1 - self.take_up.most) * (1 - self.shrinkage.most)


# Pieces


def piece_of(entry: Tree, take_up: Loss, shrinkage: Loss) -> Piece:
    """ "One piece is its length ÷ (1 - the most shrinkage) on the loom; that ÷ (1 - the most take-up) and both its
    fringes is the warp that it takes." """
    length, fringe = length_mm(entry["length"]), length_mm(entry.get("fringe", "0 mm"))
    on_loom = length / (1 - shrinkage.most)
    warp = on_loom / (1 - take_up.most) + 2 * fringe
    return Piece(entry["for"], length, int(entry.get("count", 1)), fringe, on_loom, warp)


def pieces_that_come(kinds: list[Piece], held: Warp) -> tuple[list[int], Fraction]:
    """How many of every kind, and the tape to spare.

    "From the warp without its waste the first kind takes as many as are wanted and fit whole, then the next kind. The
    rest (1 - take-up)(1 - shrinkage), with the most of both, is to spare."
    """
    left, come = held.woven_off, []
    for kind in kinds:
        come.append(min(kind.wanted, floor(left / kind.warp)))
        left -= come[-1] * kind.warp
    return come, left * held.kept if kinds else Fraction(0)


# The beam and new ends


def beam_of(
    pattern: Tree, loom: Tree, ends: list[str], width: Fraction, held: Warp, woven: list[tuple[Piece, int]]
) -> Tree | None:
    """ "With a beam D across and t more at every turn, L of warp makes n turns where L = π n (D + n t)." """
    if "beam" not in loom:
        return None
    across = float(length_mm(loom["beam"]["diameter"]))
    packing = loom.get("packing")
    every = int(packing["every_turns"]) if packing else 0
    stick = float(length_mm(packing["thickness"])) / every if packing else 0.0
    thicker = layer_mm(pattern, ends, width) + stick
    turns = (sqrt(across**2 + 4 * thicker * float(held.wound) / pi) - across) / (2 * thicker)
    places = list(range(0, ceil(turns), every)) if packing else []
    return {
        "turns": turns,
        "build_up_mm": thicker,
        "sticks": 2 * len(places),  # "Sticks go in at the knot, and then after every so many turns"
        "stick_turns": places,
        "tape_left": [
            {"turns": left, **still_to_come(pi * left * (across + left * thicker), held, woven)}
            for left in [turns, *range(floor(turns), -1, -1)]
        ],
    }


def layer_mm(pattern: Tree, ends: list[str], width: Fraction) -> float:
    """ "The warp, spread as wide as the tape, is as thick as one end where the ends lie side by side, else
    π E d² ÷ (4 · 0.8 · width), E ends of the diameter d." """
    squares = [float(diameter_mm(pattern["yarns"][yarn])) ** 2 for yarn in ends]
    return max(sqrt(sum(squares) / len(ends)), pi * sum(squares) / (4 * 0.8 * float(width)))


def still_to_come(on_beam: float, held: Warp, woven: list[tuple[Piece, int]]) -> Tree:
    """ "π n (D + n t) less the waste at the back is still to be woven, never more than the whole warp gives. Of pieces
    it is the last ones in their order that are still whole." """
    left = min(max(Fraction(on_beam) - (held.waste - held.front), Fraction(0)), held.woven_off)
    if not woven:
        return {"tape_mm": left * held.kept}
    counts: list[int] = []
    tape = Fraction(0)
    for kind, come in reversed(woven):
        counts.insert(0, min(come, floor(left / kind.warp + Fraction(1, 10**9))))
        left = left - counts[0] * kind.warp if counts[0] == come else Fraction(0)
        tape += counts[0] * kind.length
    return {"tape_mm": tape, "pieces": counts}


def new_ends(held: Warp) -> list[dict[str, Any]]:
    """ "The warp as wound, less the share that is woven of what can be woven, and 12 inches." """
    can_be_woven = held.wound - held.waste
    return [
        {"woven": part, "length_mm": held.wound - part * can_be_woven + 12 * INCH_MM}
        for part in (Fraction(0), Fraction(1, 4), Fraction(1, 2), Fraction(3, 4))
    ]
