"""Lengths, yarn, and all that is measured: a part of the second calculator.

Written from the manual alone, like ``second_calculator``; the comments between quotation marks are its sentences.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor, pi
from typing import Final

from tests.helpers.second_losses import (
    Loss,
    measured_take_up,
    picks_to_the_inch,
    shrinkage_of,
    take_up_of,
    waste_of,
    weft_of,
    width_of,
)
from tests.helpers.second_sizes import INCH_MM, Refused, Tree, length_mm, metres_per_kg
from tests.helpers.second_warp import Warp, beam_of, new_ends, piece_of, pieces_that_come

ROUNDED_UP_TO_MM: Final = {"metric": Fraction(100), "us": 9 * INCH_MM}  # a tenth of a metre, a quarter of a yard


def amounts(
    pattern: Tree, loom: Tree, ends: list[str], warp: str | None, thread_mm: Fraction | None, units: str
) -> Tree:
    """All that is measured in millimetres, metres and grams, by the keys of ``plan --json``."""
    low, width, high = width_of(pattern, loom, ends)
    picks_per_inch = picks_to_the_inch(pattern, loom, ends, width)
    shrinkage = shrinkage_of(pattern, ends)
    waste, front = waste_of(pattern, loom)
    take_up = take_up_of(pattern, loom, ends, picks_per_inch, shrinkage)
    if measured_take_up(pattern, loom, shrinkage) is not None:
        shrinkage = Loss(shrinkage.likely, shrinkage.likely, shrinkage.likely)
    wanted = pattern.get("length", {})
    given = warp or wanted.get("warp")
    kinds = [piece_of(entry, take_up, shrinkage) for entry in wanted.get("pieces", [])]
    finished = sum((kind.length * kind.wanted for kind in kinds), Fraction(0)) or length_mm(
        wanted.get("finished", "180 cm")
    )
    fringes = sum((2 * kind.fringe * kind.wanted for kind in kinds), Fraction(0))
    on_loom = finished / (1 - shrinkage.most)
    asked = on_loom / (1 - take_up.most) + fringes + waste
    step = ROUNDED_UP_TO_MM[units]
    wind = length_mm(given) if given else ceil(asked / step) * step
    wound = wind if thread_mm is None else thread_mm
    if wind <= waste:
        raise Refused("nothing is left to weave")
    held = Warp(wound, (wind if given else wound) - waste, waste, front, take_up, shrinkage)
    come, spare = pieces_that_come(kinds, held)
    woven = list(zip(kinds, come, strict=True)) if any(come) else []
    if woven:
        tape = least = sum((kind.length * count for kind, count in woven), Fraction(0))
        woven_mm = sum((kind.on_loom * count for kind, count in woven), Fraction(0))
    else:
        least = held.woven_off * held.kept
        woven_mm = held.woven_off * (1 - take_up.likely)
        tape = woven_mm * (1 - shrinkage.likely)
    if given:
        finished, on_loom, asked = tape, woven_mm, wind
        fringes = sum((2 * kind.fringe * count for kind, count in woven), Fraction(0))
    picks = floor(picks_per_inch * woven_mm / INCH_MM)
    return {
        "width": {"low_mm": low, "likely_mm": width, "high_mm": high},
        "lengths": {
            "finished_mm": finished,
            "on_loom_mm": on_loom,
            "fringes_mm": fringes,
            "warp_mm": asked,
            "wind_mm": wind,
            "wound_mm": wound,
            "take_up": take_up.likely,
            "take_up_range": [take_up.least, take_up.most],
            "shrinkage": shrinkage.likely,
            "shrinkage_range": [shrinkage.least, shrinkage.most],
            "waste_mm": waste,
            "waste_front_mm": front,
            "waste_back_mm": waste - front,
            "tape_at_least_mm": least,
            "tape_from_warp_mm": tape,
        },
        "pieces": [
            {
                "for": kind.name,
                "wanted": kind.wanted,
                "come": count,
                "length_mm": kind.length,
                "on_loom_mm": kind.on_loom,
                "fringe_mm": kind.fringe,
            }
            for kind, count in zip(kinds, come, strict=True)
        ],
        "pieces_spare_mm": spare,
        "yarn": yarn_of(pattern, ends, wound, picks, picks_per_inch, width),
        "weft": {"yarn": weft_of(pattern, ends), "picks_per_inch": picks_per_inch, "picks": picks},
        "beam": beam_of(pattern, loom, ends, width, held, woven),
        "rescue": {"replacements": new_ends(held)},
    }


# Yarn


def yarns_in_order(pattern: Tree, ends: list[str]) -> list[str]:
    """The yarns as they are met from the left, and last the weft's, if no end is of it."""
    return list(dict.fromkeys([*ends, weft_of(pattern, ends)]))


def yarn_of(
    pattern: Tree, ends: list[str], wound: Fraction, picks: int, picks_per_inch: Fraction, width: Fraction
) -> list[Tree]:
    """ "Of each colour (ends + spare ends) times the length as wound; the weft's yarn is counted with its own colour."

    Weft: "One pick takes 1.02 of the width and 0.5708 (half of π, less one) of the distance from pick to pick; all of
    them, a tenth more for joins, and 30 cm."
    """
    spare = int(pattern.get("length", {}).get("spare_ends", 1))
    one_pick = Fraction("1.02") * width + Fraction(pi / 2 - 1) * INCH_MM / picks_per_inch
    weft_m = (picks * one_pick * Fraction("1.1") + 300) / 1000
    weft = weft_of(pattern, ends)
    lines = []
    for yarn in yarns_in_order(pattern, ends):
        warp_m = (ends.count(yarn) + spare) * wound / 1000 if yarn in ends else Fraction(0)
        total = warp_m + (weft_m if yarn == weft else 0)
        metres = metres_per_kg(pattern["yarns"][yarn])
        lines.append(
            {
                "yarn": yarn,
                "warp_m": warp_m,
                "weft_m": weft_m if yarn == weft else Fraction(0),
                "total_m": total,
                "grams": None if metres is None else total / metres * 1000,
            }
        )
    return lines
