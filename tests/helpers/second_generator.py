"""Patterns, looms and lengths for the second calculator to be held against, the same ones every time.

Each is made from its number alone, as the text of the files that a weaver would type; nothing here counts anything
but the ends, so that most warps find a heddle that holds them.
"""

from __future__ import annotations

from collections import Counter
from contextlib import suppress
from random import Random
from typing import Any, Final, NamedTuple

import yaml

from tests.helpers.second_calculator import ends_of
from tests.helpers.second_heddle import SEAT, View, places_of
from tests.helpers.second_sizes import Refused, Tree

MOST_ENDS: Final = 60
COLOURS: Final = {
    "red": "#9C2F2B",
    "white": "#F4F0E4",
    "blue": "#2F4A7D",
    "green": "#6F8B52",
    "brown": "#5B4332",
    "yellow": "#D9B13B",
}
LABELS: Final[list[Tree]] = [
    {"fibre": "linen", "count": "20/2"},
    {"fibre": "linen", "count": "16/1"},
    {"fibre": "linen", "count": "40/3", "wraps_per_inch": 38},
    {"fibre": "linen", "count": "20/2", "ends_per_inch": 49.3},
    {"fibre": "cotton", "count": "8/2"},
    {"fibre": "cotton", "count": "5/2"},
    {"fibre": "cotton", "count": "10"},
    {"fibre": "wool", "count": "28/2", "system": "metric"},
    {"fibre": "wool", "count": "12/2", "system": "worsted"},
    {"fibre": "wool", "count": "4", "system": "woollen run"},
    {"fibre": "silk", "yards_per_pound": 5200},
    {"fibre": "silk", "count": "74 x 2", "system": "tex"},
    {"fibre": "hemp", "count": "900", "system": "denier"},
    {"fibre": "hemp", "count": "12/2", "system": "linen"},
    {"fibre": "cottolin", "metres_per_kg": 6700},
    {"fibre": "cottolin", "count": "22/2", "system": "cotton"},
    {"fibre": "other", "wraps_per_inch": 24},
    {"fibre": "other", "ends_per_inch": 32},
]
LENGTHS: Final = ["36 in", "2 1/4 yd", "1.5 m", "60 in", "110 cm", "2 yd", "4 ft", "950 mm", "3.2 m", "20 in"]
GIVEN: Final = ["1.5 m", "2 yd", "2.5 m", "3 yd", "118 in", "4 m", "1 3/4 yd", "700 mm", "51 cm"]
PIECE_LENGTHS: Final = ["9 in", "1 yd", "20 cm", "7 1/2 in", "24 cm", "30 in", "55 cm"]
FRINGES: Final = ["1 in", "3 in", "25 mm", "5 cm", "1/2 in"]
PER_CENT: Final = ["8 %", "12 %", "15 %", "18.9 %"]
SMALL_PER_CENT: Final = ["0 %", "3 %", "5 %", "7.5 %"]


class Combination(NamedTuple):
    """A pattern and a loom as typed, the options, whether it is wound on a span, and how it is looked at."""

    number: int
    pattern: str
    loom: str
    warp: str | None
    span: bool
    units: str = "metric"
    options: tuple[str, ...] = ()
    view: View = SEAT


def combination(number: int) -> Combination:
    """The same for one number for ever."""
    dice = Random(1000 + number)
    pattern = a_pattern(dice, number)
    loom = a_loom(dice, pattern)
    while has_bound_ends(pattern) and dice.random() < 0.9 and shift_of(pattern, loom) != number % 3 - 1:
        loom = a_loom(dice, pattern)
    if dice.random() < 0.35:
        pattern["measured"] = measured(dice, pattern, loom["title"])
        if any("width" in record for record in pattern["measured"]):
            pattern.pop("width", None)  # which of the two counts is asked by a test of its own
    warp = dice.choice(GIVEN) if dice.random() < 0.3 else None
    span, units = dice.random() < 0.7, dice.choice(["metric", "metric", "us"])
    options, view = a_view(dice, loom)
    texts = (yaml.safe_dump(pattern, sort_keys=False), yaml.safe_dump(loom))
    return Combination(number, *texts, warp, span, units, options, view)


def a_view(dice: Random, loom: Tree) -> tuple[tuple[str, ...], View]:
    """From which side it is threaded, as an option or the loom says, and for which hand."""
    side, behind = dice.choice([(None, False)] * 4 + [("behind", True), ("behind", True), ("front", False)])
    if dice.random() < 0.2:
        loom["threads_from"] = dice.choice(["back", "back", "front"])
        behind = loom["threads_from"] == "back" if side is None else behind
    left_hand = dice.random() < 0.3
    options = [*(["--from", side] if side else []), *(["--hand", "left"] if left_hand else [])]
    return tuple(options), View(behind, left_hand)


def as_typed(tree: Tree) -> Tree:
    typed: Tree = yaml.load(yaml.safe_dump(tree), Loader=yaml.BaseLoader)
    return typed


# Patterns


def a_pattern(dice: Random, number: int) -> Tree:
    names = dice.sample(sorted(COLOURS), dice.choice([1, 2, 2, 3, 3, 4]))
    warp, mirror = stripes(dice, names), dice.choice([None, None, "last stripe", "whole"])
    pattern: Tree = {"title": f"Second {number}", "yarns": yarns(dice, names), "warp": warp}
    if mirror:
        pattern["mirror"] = mirror
    while len(ends_of(as_typed(pattern))) > MOST_ENDS and len(warp) > 1:
        warp.pop(0)
    if not one_fibre_leads(pattern):  # which of the two counts is asked by a test of its own
        label = dice.choice(LABELS)
        pattern["yarns"] = {name: {**label, "colour": yarn["colour"]} for name, yarn in pattern["yarns"].items()}
    used = list(dict.fromkeys(ends_of(as_typed(pattern))))
    pattern["yarns"] = {name: yarn for name, yarn in pattern["yarns"].items() if name in used}
    if dice.random() < 0.5:
        bind_to_slots(dice, pattern)
    weft = dice.random()
    if weft < 0.3:
        pattern["weft"] = dice.choice(used)
    elif weft < 0.4:
        pattern["yarns"]["thin"] = dict(dice.choice(LABELS))
        pattern["weft"] = "thin"
    length = a_length(dice)
    if length:
        pattern["length"] = length
    if dice.random() < 0.3:
        pattern["picks_per_inch"] = dice.choice([12, 14.5, 17, 22])
    if dice.random() < 0.25:
        pattern["width"] = a_width(dice, pattern)
    return pattern


def one_fibre_leads(pattern: Tree) -> bool:
    """Whether the yarn of most ends is of the fibre of most ends, and no other fibre has as many."""
    ends = Counter(ends_of(as_typed(pattern))).most_common()
    fibres: Counter[str] = Counter()
    for name, count in ends:
        fibres[pattern["yarns"][name]["fibre"]] += count
    (first, most), *others = fibres.most_common(2)
    return pattern["yarns"][ends[0][0]]["fibre"] == first and all(count < most for _, count in others)


def yarns(dice: Random, names: list[str]) -> Tree:
    """All of one label, or each of its own."""
    if dice.random() < 0.6:
        label = dice.choice(LABELS)
        return {name: {**label, "colour": COLOURS[name]} for name in names}
    return {name: {**dice.choice(LABELS), "colour": COLOURS[name]} for name in names}


def stripes(dice: Random, names: list[str]) -> list[Any]:
    if dice.random() < 0.05:
        return [f"{dice.randint(1, 3)} {names[0]}"]
    if dice.random() < 0.2 and len(names) > 1:  # one yarn in every second place only, which can be bound to slots
        ground, post = names[:2]
        bars = {"alternate": [post, ground], "ends": dice.randint(2, 16)}
        return [f"{dice.randint(1, 6)} {ground}", bars, f"{dice.randint(1, 6)} {ground}"]
    return [item(dice, names) for _ in range(dice.randint(1, 5))]


def item(dice: Random, names: list[str], depth: int = 0) -> Any:
    kind = dice.random()
    if kind < 0.2 and len(names) > 1:
        turns = dice.sample(names, dice.randint(2, min(3, len(names))))
        return {"alternate": turns, "ends": dice.randint(len(turns), 11)}
    if kind < 0.35 and depth < 2:
        inner = [item(dice, names, depth + 1) for _ in range(dice.randint(1, 2))]
        return {"repeat": dice.randint(1, 3), "stripes": inner}
    return f"{dice.randint(1, 9)} {dice.choice(names)}"


def bind_to_slots(dice: Random, pattern: Tree) -> None:
    """One yarn whose ends all lie in every second place, if there is one, must lie in slots; now and then another."""
    ends = ends_of(as_typed(pattern))
    places = {name: {number % 2 for number, yarn in enumerate(ends) if yarn == name} for name in pattern["yarns"]}
    fit = [name for name, parities in places.items() if len(parities) == 1]
    if not fit and dice.random() < 0.9:
        return
    name = dice.choice(fit) if fit and dice.random() < 0.9 else dice.choice(sorted(places))
    pattern["yarns"][name]["spaces"] = "slots"


def a_length(dice: Random) -> Tree:
    length: Tree = {}
    kind = dice.random()
    if kind < 0.35:
        length["finished"] = dice.choice(LENGTHS)
    elif kind < 0.8:
        length["pieces"] = [
            piece(dice, name) for name in dice.sample(["bookmark", "bag tie", "garter"], dice.randint(1, 3))
        ]
    elif kind < 0.95:
        length["warp"] = dice.choice(GIVEN)
    if dice.random() < 0.45:
        length["take_up"] = dice.choice(PER_CENT)
    if dice.random() < 0.45:
        length["shrinkage"] = dice.choice(SMALL_PER_CENT)
    if dice.random() < 0.3:
        length["spare_ends"] = dice.choice([0, 2, 3])
    return length


def piece(dice: Random, name: str) -> Tree:
    piece: Tree = {"for": name, "length": dice.choice(PIECE_LENGTHS)}
    if dice.random() < 0.8:
        piece["count"] = dice.randint(1, 5)
    if dice.random() < 0.6:
        piece["fringe"] = dice.choice(FRINGES)
    return piece


def a_width(dice: Random, pattern: Tree) -> str:
    """Of a tape of so many ends, as a ruler shows it."""
    millimetres = len(ends_of(as_typed(pattern))) * dice.choice([0.4, 0.5, 0.65])
    return dice.choice([f"{max(millimetres, 1):.1f} mm", f"{max(round(millimetres / 25.4 * 8), 1)}/8 in"])


def measured(dice: Random, pattern: Tree, loom: str) -> list[Tree]:
    """One to three records, of this loom, another or none, each with some of the figures."""
    records = []
    for month in range(1, dice.randint(1, 3) + 1):
        record: Tree = {"date": f"2026-{month:02d}-1{dice.randint(0, 9)}"}
        where = dice.choice([loom, loom, "Neighbour box", None])
        if where:
            record["loom"] = where
        if dice.random() < 0.6:
            record |= dice.choice(
                [
                    {"warp": "3 yd", "tape": "72 in"},
                    {"warp": "2 yd", "tape": "1.02 m"},
                    {"warp": "250 cm", "tape": "61 in"},
                ]
            )
        if dice.random() < 0.5:
            record["width"] = a_width(dice, pattern)
        if dice.random() < 0.5:
            record["picks_per_inch"] = dice.choice([13, 15.5, 18])
        if dice.random() < 0.5:
            record["leftover"] = dice.choice(["18 in", "48 cm", "40 cm", "21 in"])
        records.append(record)
    dice.shuffle(records)
    return records


# Looms


def has_bound_ends(pattern: Tree) -> bool:
    return any("spaces" in yarn for yarn in pattern["yarns"].values())


def shift_of(pattern: Tree, loom: Tree) -> int | None:
    """How the warp moves for ends that must lie in slots; to the left it seldom does by itself."""
    typed = as_typed(pattern)
    with suppress(Refused):
        return places_of(typed, as_typed(loom), ends_of(typed)).shift
    return None


def a_loom(dice: Random, pattern: Tree) -> Tree:
    """A heddle with room for the ends, now and then none, and often just enough."""
    ends, bound = len(ends_of(as_typed(pattern))), has_bound_ends(pattern)
    back = dice.choice(["same", "same", "opposite"]) if dice.random() < (0.02 if bound else 0.25) else None
    just_enough = [1, 1, 1, 1, 1] if back == "same" else []
    spaces = max(ends + dice.choice([-1, 0, 1, 1, 1, 2, 2, 3, 3, 5, 8, 13, 13, 20, 21, *just_enough]), 3)
    slots = (spaces + dice.randint(0, 1)) // 2
    holes = spaces - slots
    loom: Tree = {"title": "Own box", "kind": "one heddle", "slots": slots, "holes": holes}
    if slots == holes:
        loom["outer"] = dice.choice(["slot", "hole"])
    if dice.random() < 0.9:
        loom["mark"] = dice.choice(["counted as one", "counted as zero"])
    if back:
        loom |= {"kind": "two heddles", "back_heddle": back}
    waste = dice.choice([None, "18 in", "20 in", "52 cm", ["7 in", "13 in"], ["20 cm", "35 cm"]])
    if waste:
        loom["waste"] = dict(zip(("front", "back"), waste, strict=True)) if isinstance(waste, list) else waste
    if dice.random() < 0.8:
        loom["beam"] = {"diameter": dice.choice(["1 in", "1 1/4 in", "38 mm"]), "held_by": "stick", "stops_per_turn": 4}
    if dice.random() < 0.6:
        loom["packing"] = {
            "thickness": dice.choice(["1.5 mm", "2 mm"]),
            "width": "15 mm",
            "every_turns": dice.randint(1, 5),
        }
    return loom
