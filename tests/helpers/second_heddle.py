"""Where the ends lie in the heddle, and how that is told from each side: a part of the second calculator.

Written from the manual alone, like ``second_calculator``; the comments between quotation marks are its sentences.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import Final, NamedTuple

from tests.helpers.second_sizes import Refused, Tree


class View(NamedTuple):
    """From where sides are seen, and for which hand.

    "Ends and spaces are numbered from that hand's side", so both together leave the order as it is.
    """

    behind: bool = False
    left_hand: bool = False

    @property
    def is_turned(self) -> bool:
        return self.behind != self.left_hand

    def side(self, name: str) -> str:
        """A side as it is called from here: "from ``back``, sides are seen from behind the heddle"."""
        return {"left": "right", "right": "left"}[name] if self.behind else name


SEAT: Final = View()


class Places(NamedTuple):
    """The spaces of a warp as the weaver sits, whoever looks at it: the tape itself never moves."""

    spaces: int
    first: int
    last: int
    shift: int
    back_offset: int | None  # of the second heddle, if there is one

    def number(self, space: int, view: View) -> int:
        return self.spaces + 1 - space if view.is_turned else space


def kind_of(loom: Tree, space: int) -> str:
    """ "If there is one slot more than holes, both outermost are slots; if one hole more, both are holes." """
    slots, holes = int(loom["slots"]), int(loom["holes"])
    outer = loom["outer"] if slots == holes else "slot" if slots > holes else "hole"
    other = "hole" if outer == "slot" else "slot"
    return str(outer if space % 2 else other)


def places_of(pattern: Tree, loom: Tree, ends: list[str]) -> Places:
    """ "The spaces are numbered from the left, 1 to S." Raises Refused."""
    spaces, count = int(loom["slots"]) + int(loom["holes"]), len(ends)
    two = loom["kind"] == "two heddles"
    two_alike = two and loom["back_heddle"] == "same"
    if count > spaces - two_alike:  # "Two that are the same hold one end fewer"
        raise Refused("the heddle is too small")
    start = first_space(loom, spaces, count)
    shift = shift_into_slots(pattern, loom, ends, start)
    first = start + shift
    back = 0 if two else None
    if two_alike:  # "one space further left in it, or further right when end 1 lies in space 1"
        back = -1 if first > 1 else 1
    return Places(spaces, first, first + count - 1, shift, back)


def placement_of(loom: Tree, places: Places, view: View) -> Tree:
    """The places as they are told: the first space is that of end 1, whichever side it is on."""
    spaces, first, last, shift, _ = places
    begin, end = (last, first) if view.is_turned else (first, last)
    holes = sum(kind_of(loom, space) == "hole" for space in range(first, last + 1))
    count = last - first + 1
    empty = {"left": first - 1, "right": spaces - last}
    return {
        "spaces": spaces,
        "first_space": places.number(begin, view),
        "last_space": places.number(end, view),
        "first_label": label(loom, spaces, begin, view),
        "last_label": label(loom, spaces, end, view),
        "first_kind": kind_of(loom, begin),
        "last_kind": kind_of(loom, end),
        "empty_left": empty[view.side("left")],
        "empty_right": empty[view.side("right")],
        "holes": holes,
        "slots": count - holes,
        "shifted": -shift if view.is_turned else shift,  # by the number of the space
        "count_to": said_on(loom, spaces, begin - shift),
        "first_count": said_on(loom, spaces, begin),
        "middle_end": (count + 1) // 2 if count % 2 else None,
        "back_heddle": back_heddle_of(places, begin, end, view),
    }


def back_heddle_of(places: Places, begin: int, end: int, view: View) -> Tree | None:
    back = places.back_offset
    if back is None:
        return None
    return {
        "offset": -back if view.is_turned else back,
        "first_space": places.number(begin + back, view),
        "last_space": places.number(end + back, view),
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


def said_on(loom: Tree, spaces: int, space: int) -> int:
    """What is said on a space when one counts from the mark to its side."""
    off = abs(2 * space - spaces - 1)  # half spaces from the middle
    return (off + 1) // 2 if spaces % 2 == 0 else off // 2 + counts_from_one(loom)


def label(loom: Tree, spaces: int, space: int, view: View = SEAT) -> str:
    """ "A space is called by its side and by what is said on it; the marked one is *the middle*." """
    if 2 * space == spaces + 1:
        return "the middle"
    side = view.side("left" if 2 * space < spaces + 1 else "right")
    return f"{side[0].upper()}{said_on(loom, spaces, space)}"


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
