"""A second calculator: it works every figure of a plan out again, from the text of the files and the manual alone.

It was written from the manual (*How the numbers come about*, *What stands in the file*, *Your loom* and what the
options say) by somebody who had not read the program's own reckoning, and it shares no line with it. It reads the
files with PyYAML, in which every value stays text. What it gives has the keys of ``plan --json``, but exact: lengths
in millimetres as fractions, nothing rounded. Where the two disagree, one of them or the manual is wrong.

The comments between quotation marks are the manual's sentences.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import yaml

from tests.helpers.second_amounts import amounts, yarns_in_order
from tests.helpers.second_heddle import SEAT, View, kind_of, placement_of, places_of
from tests.helpers.second_hours import hours_of
from tests.helpers.second_sizes import Tree


def second_plan(
    pattern_text: str,
    loom_text: str,
    warp: str | None = None,
    thread_mm: Fraction | None = None,
    view: View = SEAT,
    units: str = "metric",
) -> dict[str, Any]:
    """All figures of a pattern on a loom, by the keys of ``plan --json``. Raises Refused.

    ``warp`` is what ``--warp`` says. ``thread_mm`` is the way of one end round the pegs, where they are more than a
    span: it hangs on the pegs alone, so it is taken as measured with a string, as the manual advises. A span gives
    what is wanted.
    """
    pattern, loom = read_tree(pattern_text), read_tree(loom_text)
    from_left = ends_of(pattern)
    places = places_of(pattern, loom, from_left)
    placement = placement_of(loom, places, view)
    spaces = range(places.first, places.last + 1)
    laid = [(yarn, kind_of(loom, space)) for yarn, space in zip(from_left, spaces, strict=True)]
    laid = laid[::-1] if view.is_turned else laid
    ends = [yarn for yarn, _ in laid]
    amounts_of = amounts(pattern, loom, from_left, warp, thread_mm, units)
    return {
        "title": pattern["title"],
        "ends": len(ends),
        "same_both_ways": ends == ends[::-1],
        "colours": colours_of(yarns_in_order(pattern, from_left), laid),
        "stripes": stripes_of(ends),
        "placement": placement,
        "ends_list": [
            {"number": index + 1, "yarn": yarn, "space": placement["first_space"] + index, "kind": kind}
            for index, (yarn, kind) in enumerate(laid)
        ],
        "sheds": sheds_of(laid),
        "winding": winding_of(ends),
        "pace": hours_of(pattern, loom, len(ends), amounts_of["weft"]["picks"]),
        **amounts_of,
    }


def read_tree(text: str) -> Tree:
    tree: Tree = yaml.load(text, Loader=yaml.BaseLoader)
    return tree


# Stripes


def ends_of(pattern: Tree) -> list[str]:
    """The yarn of every end, from the left.

    ``mirror``: "``last stripe``: go back through the list, the last stripe not doubled. ``whole``: go back with the
    last one doubled". Going back, what a stripe holds lies the other way round as well.
    """
    stripes = [ends_of_item(item) for item in pattern["warp"]]
    back = stripes[:-1] if pattern.get("mirror") == "last stripe" else stripes
    there = [yarn for stripe in stripes for yarn in stripe]
    if "mirror" not in pattern:
        return there
    return there + [yarn for stripe in back for yarn in stripe][::-1]


def ends_of_item(item: Any) -> list[str]:
    """``9 white``; or "the yarns in turn, beginning with the first"; or "the same stripes nine times"."""
    if isinstance(item, str):
        count, _, yarn = item.strip().partition(" ")
        return [yarn.strip()] * int(count)
    if "alternate" in item:
        names = item["alternate"]
        return [names[index % len(names)] for index in range(int(item["ends"]))]
    return [yarn for inner in item["stripes"] for yarn in ends_of_item(inner)] * int(item["repeat"])


def runs_of(ends: list[str]) -> list[tuple[str, int]]:
    """Neighbours of one yarn, together: where two of these meet, a colour changes."""
    runs: list[tuple[str, int]] = []
    for yarn in ends:
        if runs and runs[-1][0] == yarn:
            runs[-1] = (yarn, runs[-1][1] + 1)
        else:
            runs.append((yarn, 1))
    return runs


def stripes_of(ends: list[str]) -> list[Tree]:
    """Every stripe with the running total, and where one stands when it is wound.

    "``stand_at`` is where its ball is left by the way of winding that is recommended, null for bundles;
    ``stand_at_in_order`` is where you would stand winding in order."
    """
    stripes, total, method = [], 0, method_of(ends)
    for yarn, count in runs_of(ends):
        total += count
        walked = {"order": total, "carry": ends[:total].count(yarn), "bundle": None}[method]
        stand_at = None if walked is None else post_after(walked)
        stripe = {"yarn": yarn, "ends": count, "total": total, "stand_at": stand_at}
        stripes.append({**stripe, "stand_at_in_order": post_after(total)})
    return stripes


def post_after(ends: int) -> str:
    """ "An even number of ends finishes at home, an odd one at the far post." """
    return "far" if ends % 2 else "home"


# Colours and sheds


def colours_of(yarns: list[str], laid: list[tuple[str, str]]) -> list[Tree]:
    """Of every yarn how many ends there are, in holes and in slots."""
    return [
        {
            "yarn": yarn,
            "ends": laid.count((yarn, "hole")) + laid.count((yarn, "slot")),
            "in_holes": laid.count((yarn, "hole")),
            "in_slots": laid.count((yarn, "slot")),
        }
        for yarn in yarns
    ]


def sheds_of(laid: list[tuple[str, str]]) -> Tree:
    """Pressed down, the ends in slots go under and those in holes, which cannot slide, are seen; lifted up, the
    others."""
    return {
        "down": [yarn for yarn, kind in laid if kind == "hole"],
        "up": [yarn for yarn, kind in laid if kind == "slot"],
    }


# Winding


def winding_of(ends: list[str]) -> Tree:
    """ "An end is one trip from post to post." Wound otherwise than in order, no change is at the far post."""
    totals = [stripe["total"] for stripe in stripes_of(ends)][:-1]
    method = method_of(ends)
    return {
        "trips": len(ends),
        "round_trips": len(ends) // 2,
        "changes": len(totals),
        "far_changes": sum(total % 2 for total in totals) if method == "order" else None,
        "finish_in_order": post_after(len(ends)),
        "finish": finish_of(ends, method),
        "method": method,
        "methods": {
            "order": {"joins": len(totals)},
            "bundle": {"bundles": len(set(ends))},
            "carry": {"balls": len(set(ends)), "starts": strokes_of(ends)},
        },
    }


def strokes_of(ends: list[str]) -> list[Tree]:
    """Every stripe wound with its own ball, which "begins at home", and waits where its last stroke ended."""
    strokes, before = [], 0
    for yarn, count in runs_of(ends):
        start, end = (ends[:total].count(yarn) for total in (before, before + count))
        strokes.append({"yarn": yarn, "ends": count, "from": post_after(start), "to": post_after(end)})
        before += count
    return strokes


def finish_of(ends: list[str], method: str) -> str:
    """Where one stands at the end: balls and bundles all begin at home, so it hangs on the last one's own ends."""
    if method == "order":
        return post_after(len(ends))
    last = ends[-1] if method == "carry" else list(dict.fromkeys(ends))[-1]
    return post_after(ends.count(last))


def method_of(ends: list[str]) -> str:
    """ "In order while there are three ends or more to every change; else carry with up to three colours; else
    bundles." """
    if len(ends) >= 3 * (len(runs_of(ends)) - 1):
        return "order"
    return "carry" if len(set(ends)) <= 3 else "bundle"
