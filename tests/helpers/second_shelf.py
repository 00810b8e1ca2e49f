"""Yarns with files of their own, and what was measured for all: a part of the second calculator.

Written from the manual alone, like ``second_calculator``: such a pattern is turned into one that says everything
itself, which the other parts can reckon. The comments between quotation marks are the manual's sentences.
"""

from __future__ import annotations

from copy import deepcopy
from fractions import Fraction

from tests.helpers.second_losses import latest_with, measured_take_up, own_waste, shrinkage_of, weft_of
from tests.helpers.second_sizes import Tree, diameter_mm, length_mm

_TELLS_DENSITY = ("ends_per_inch", "wraps_per_inch")


def said_by_itself(pattern: Tree, shelf: dict[str, Tree], loom: Tree, ends: list[str]) -> tuple[Tree, Tree]:
    """The pattern and the loom with all that the files of the yarns and the loom say written in; of texts."""
    pattern, loom = deepcopy(pattern), deepcopy(loom)
    records = {
        name: shelf[yarn["yarn"]].get("measured", []) for name, yarn in pattern["yarns"].items() if "yarn" in yarn
    }
    pattern["yarns"] = {name: _yarn(yarn, shelf, loom) for name, yarn in pattern["yarns"].items()}
    _write_losses(pattern, records, loom, ends)
    if waste := loom.get("measured", {}).get("waste"):
        _write_waste(loom, length_mm(waste["length"]))
    return pattern, loom


def _yarn(yarn: Tree, shelf: dict[str, Tree], loom: Tree) -> Tree:
    """ "What the pattern says of the yarn comes before its file"; "what was measured before the file's own count of
    ends, and what the pattern says before both"."""
    if "yarn" not in yarn:
        return yarn
    file = {key: value for key, value in shelf[yarn["yarn"]].items() if key not in ("title", "measured", "marked_as")}
    if any(key in yarn for key in _TELLS_DENSITY):
        file.pop("ends_per_inch", None)
    elif best := best_record(shelf[yarn["yarn"]].get("measured", []), "ends_per_inch", loom):
        file["ends_per_inch"] = best["ends_per_inch"]
    return file | {key: value for key, value in yarn.items() if key != "yarn"}


def best_record(records: list[Tree], key: str, loom: Tree) -> Tree | None:
    """ "The youngest tape of the same loom, else the youngest of any"; one that names no loom counts as this loom's."""
    having = sorted((record for record in records if key in record), key=lambda record: str(record.get("date", "")))
    here = [record for record in having if record.get("loom", loom["title"]) == loom["title"]]
    return (here or having)[-1] if having else None


def _write_losses(pattern: Tree, records: dict[str, list[Tree]], loom: Tree, ends: list[str]) -> None:
    """ "Take-up and picks hold for a tape whose warp and weft are of one yarn, in several shades at most", each of them
    measured."""
    yarns, names = pattern["yarns"], dict.fromkeys(ends)
    kinds = {(yarns[name]["fibre"], diameter_mm(yarns[name])) for name in (*names, weft_of(pattern, ends))}
    if len(kinds) > 1 or any(name not in records for name in names):
        return
    take_up, picks = (_of_all([records[name] for name in names], key, loom) for key in ("take_up", "picks_per_inch"))
    if picks and not latest_with(pattern, loom, "picks_per_inch") and "picks_per_inch" not in pattern:
        pattern["picks_per_inch"] = picks["picks_per_inch"]
    length = pattern.get("length", {})
    shrinkage = shrinkage_of(pattern, ends)
    if take_up and "take_up" not in length and measured_take_up(pattern, loom, shrinkage) is None:
        likely = f"{100 * shrinkage.likely} %"
        pattern["length"] = {"shrinkage": take_up.get("shrinkage", likely), **length, "take_up": take_up["take_up"]}


def _of_all(records: list[list[Tree]], key: str, loom: Tree) -> Tree | None:
    found = [best_record(each, key, loom) for each in records]
    return best_record([each for each in found if each], key, loom) if all(found) else None


def _write_waste(loom: Tree, waste: Fraction) -> None:
    """ "Measured on an earlier warp before what the file says", parted as that is."""
    parts = loom.get("waste")
    in_front = length_mm(parts["front"]) / own_waste(loom) if isinstance(parts, dict) else Fraction(1, 3)
    loom["waste"] = {"front": f"{waste * in_front} mm", "back": f"{waste * (1 - in_front)} mm"}
