"""A second calculator: it works every figure of a plan out again, from the text of the files and the manual alone.

It was written from README.md (*How the numbers come about*, *Writing a pattern*, *Describing your loom* and what the
options say) by somebody who had not read the program's own reckoning, and it shares no line with it. It reads the
files with PyYAML, in which every value stays text. What it gives has the keys of ``plan --json``, but exact: lengths
in millimetres as fractions, nothing rounded. Where the two disagree, one of them or the manual is wrong.

The comments between quotation marks are the manual's sentences.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import Any

import yaml

from tests.helpers.second_amounts import amounts, yarns_in_order
from tests.helpers.second_sizes import Refused, Tree


def second_plan(
    pattern_text: str, loom_text: str, warp: str | None = None, thread_mm: Fraction | None = None
) -> dict[str, Any]:
    """All figures of a pattern on a loom, by the keys of ``plan --json``. Raises Refused.

    ``warp`` is what ``--warp`` says. ``thread_mm`` is the way of one end round the pegs, where they are more than a
    span: it hangs on the pegs alone, so it is taken as measured with a string, as the manual advises. A span gives
    what is wanted.
    """
    pattern, loom = read_tree(pattern_text), read_tree(loom_text)
    ends = ends_of(pattern)
    placement = placement_of(pattern, loom, ends)
    return {
        "title": pattern["title"],
        "ends": len(ends),
        "same_both_ways": ends == ends[::-1],
        "colours": colours_of(yarns_in_order(pattern, ends), ends, placement),
        "stripes": stripes_of(ends),
        "placement": placement,
        "ends_list": [
            {"number": number, "yarn": yarn, "space": space, "kind": kind_of(loom, space)}
            for number, (yarn, space) in enumerate(zip(ends, spaces_of(placement), strict=True), start=1)
        ],
        "sheds": sheds_of(ends, placement["first_kind"]),
        "winding": winding_of(ends),
        **amounts(pattern, loom, ends, warp, thread_mm),
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
    """Every stripe with the running total, and the post where one stands when it is wound: an even total is home."""
    stripes, total = [], 0
    for yarn, count in runs_of(ends):
        total += count
        stripes.append({"yarn": yarn, "ends": count, "total": total, "stand_at": post_after(total)})
    return stripes


def post_after(ends: int) -> str:
    """ "An even number of ends finishes at home, an odd one at the far post." """
    return "far" if ends % 2 else "home"


# Places in the heddle


def spaces_of(placement: Tree) -> range:
    return range(placement["first_space"], placement["last_space"] + 1)


def kind_of(loom: Tree, space: int) -> str:
    """ "If there is one slot more than holes, both outermost are slots; if one hole more, both are holes." """
    slots, holes = int(loom["slots"]), int(loom["holes"])
    outer = loom["outer"] if slots == holes else "slot" if slots > holes else "hole"
    other = "hole" if outer == "slot" else "slot"
    return str(outer if space % 2 else other)


def placement_of(pattern: Tree, loom: Tree, ends: list[str]) -> Tree:
    """ "The spaces are numbered from the left, 1 to S." Raises Refused."""
    spaces, count = int(loom["slots"]) + int(loom["holes"]), len(ends)
    two = loom["kind"] == "two heddles"
    two_alike = two and loom["back_heddle"] == "same"
    if count > spaces - two_alike:  # "Two that are the same hold one end fewer"
        raise Refused("the heddle is too small")
    start = first_space(loom, spaces, count)
    shift = shift_into_slots(pattern, loom, ends, start)
    first = start + shift
    last = first + count - 1
    holes = sum(kind_of(loom, space) == "hole" for space in range(first, last + 1))
    back = (
        0 if not two_alike else -1 if first > 1 else 1
    )  # "one space further left in it, or further right when end 1 lies in space 1"
    return {
        "spaces": spaces,
        "first_space": first,
        "last_space": last,
        "first_label": label(loom, spaces, first),
        "last_label": label(loom, spaces, last),
        "first_kind": kind_of(loom, first),
        "last_kind": kind_of(loom, last),
        "empty_left": first - 1,
        "empty_right": spaces - last,
        "holes": holes,
        "slots": count - holes,
        "shifted": shift,
        "count_to": max(count_to(loom, spaces, count) - shift, 0),  # what is said on the space of end 1
        "middle_end": (count + 1) // 2 if count % 2 else None,
        "back_heddle": {"offset": back, "first_space": first + back, "last_space": last + back} if two else None,
    }


def counts_from_one(loom: Tree) -> bool:
    return bool(loom.get("mark", "counted as zero") == "counted as one")


def count_to(loom: Tree, spaces: int, count: int) -> int:
    """How far one counts from the mark.

    "Counted as one: up to half of the ends, rounded up. Counted as zero: to half of the ends, rounded down. Between two
    spaces up to half of the ends, rounded up."
    """
    return count // 2 if spaces % 2 and not counts_from_one(loom) else ceil(Fraction(count, 2))


def first_space(loom: Tree, spaces: int, count: int) -> int:
    """Where one stops counting to the left. The mark "is on space (S + 1)/2 when S is odd, else between two"."""
    steps = count_to(loom, spaces, count)
    if spaces % 2 == 0:  # "the 1 is said on the space left of the mark"
        return spaces // 2 + 1 - steps
    mark = (spaces + 1) // 2
    return mark + counts_from_one(loom) - steps  # "say 1 on the marked space", or "on the space beside the mark"


def label(loom: Tree, spaces: int, space: int) -> str:
    """A side and what is said on that space when one counts from the mark; the marked space is the middle."""
    if spaces % 2 == 0:
        left = spaces // 2
        return f"L{left - space + 1}" if space <= left else f"R{space - left}"
    off = space - (spaces + 1) // 2
    if off == 0:
        return "the middle"
    return f"{'R' if off > 0 else 'L'}{abs(off) + counts_from_one(loom)}"


def shift_into_slots(pattern: Tree, loom: Tree, ends: list[str], start: int) -> int:
    """ "Everything moves one space: the way that leaves the tape nearer the middle, and of two as near to the right."

    One that leads out of the heddle is no way. Raises Refused.
    """
    spaces = int(loom["slots"]) + int(loom["holes"])
    bound = [number for number, yarn in enumerate(ends) if pattern["yarns"][yarn].get("spaces") == "slots"]
    lie_well = all(kind_of(loom, start + number) == "slot" for number in bound)
    if bound and loom["kind"] == "two heddles":  # every end goes through a hole of one
        raise Refused("with two heddles every end passes a hole of one")
    if lie_well:
        return 0
    ways = [way for way in (1, -1) if start + way >= 1 and start + way + len(ends) - 1 <= spaces]
    ways = [way for way in ways if all(kind_of(loom, start + way + number) == "slot" for number in bound)]
    if not ways:
        raise Refused("ends that must lie in slots would lie in holes")
    return min(ways, key=lambda way: abs(2 * (start + way) + len(ends) - 1 - (spaces + 1)))


def colours_of(yarns: list[str], ends: list[str], placement: Tree) -> list[Tree]:
    """Of every yarn how many ends there are, in holes and in slots."""
    in_hole = [(placement["first_kind"] == "hole") == (number % 2 == 0) for number in range(len(ends))]
    colours = []
    for yarn in yarns:
        holes = sum(hole for name, hole in zip(ends, in_hole, strict=True) if name == yarn)
        count = ends.count(yarn)
        colours.append({"yarn": yarn, "ends": count, "in_holes": holes, "in_slots": count - holes})
    return colours


def sheds_of(ends: list[str], first_kind: str) -> Tree:
    """Pressed down, the ends in slots go under and those in holes, which cannot slide, are seen; lifted up, the
    others."""
    odd, even = ends[::2], ends[1::2]
    return {"down": odd, "up": even} if first_kind == "hole" else {"down": even, "up": odd}


# Winding


def winding_of(ends: list[str]) -> Tree:
    """ "An end is one trip from post to post." """
    totals = [stripe["total"] for stripe in stripes_of(ends)][:-1]
    return {
        "trips": len(ends),
        "round_trips": len(ends) // 2,
        "changes": len(totals),
        "far_changes": sum(total % 2 for total in totals),
        "finish_in_order": post_after(len(ends)),
        "finish": finish_of(ends, method_of(ends, len(totals))),
        "method": method_of(ends, len(totals)),
    }


def finish_of(ends: list[str], method: str) -> str:
    """Where one stands at the end: balls and bundles all begin at home, so it hangs on the last one's own ends."""
    if method == "order":
        return post_after(len(ends))
    last = ends[-1] if method == "carry" else list(dict.fromkeys(ends))[-1]
    return post_after(ends.count(last))


def method_of(ends: list[str], changes: int) -> str:
    """ "In order while there are three ends or more to every change; else carry with up to three colours; else
    bundles." """
    if len(ends) >= 3 * changes:
        return "order"
    return "carry" if len(set(ends)) <= 3 else "bundle"
