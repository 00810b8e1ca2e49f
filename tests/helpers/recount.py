"""A second reckoning, written from the trade's rules alone, to hold against what the program says.

It imports nothing of the program. It counts as a hand counts: it lays end beside end, says the numbers aloud from the
mark, and walks between the posts. Where the program has a formula, this has a loop.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

import yaml

INCH = Fraction(254, 10)
LENGTHS = {"in": INCH, "ft": 12 * INCH, "yd": 36 * INCH, "mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000)}
HANKS = {"linen": 300, "cotton": 840, "worsted": 560, "woollen run": 1600}


def read(path: Path) -> dict[str, Any]:
    """A file as plain text, numbers and lists; numbers that matter are parsed here, not by YAML."""
    with path.open(encoding="utf-8") as handle:
        found = yaml.load(handle, Loader=yaml.BaseLoader)
    assert isinstance(found, dict)
    return found


def number(text: str) -> Fraction:
    """``2 1/4`` and ``0.5`` and ``16`` as an exact number."""
    return sum((Fraction(part) for part in text.split()), Fraction(0))


def millimetres(text: str) -> Fraction:
    """A length with its unit, in millimetres."""
    found = re.fullmatch(r"([0-9 ./]+?)\s*(in|ft|yd|mm|cm|m)", text.strip())
    assert found, text
    return number(found[1]) * LENGTHS[found[2]]


def share(text: str) -> Fraction:
    """``12 %`` as a share of one."""
    return number(text.replace("%", "")) / 100


# --- the stripes -----------------------------------------------------------------------------------------------------


def lay(items: Sequence[Any]) -> list[tuple[str, int]]:
    """The runs of a list of warp items, in the order of the file and not yet put together."""
    runs: list[tuple[str, int]] = []
    for item in items:
        if isinstance(item, str):
            count, yarn = item.split(None, 1)
            runs.append((yarn, int(count)))
        elif "alternate" in item:
            names = item["alternate"]
            runs += [(names[turn % len(names)], 1) for turn in range(int(item["ends"]))]
        else:
            for _ in range(int(item["repeat"])):
                runs += lay(item["stripes"])
    return runs


def lay_ends(pattern: dict[str, Any]) -> list[str]:
    """The yarn of every end from the left edge, one by one."""
    runs = lay(pattern["warp"])
    mirror = pattern.get("mirror")
    if mirror == "last stripe":
        runs += list(reversed(lay(pattern["warp"][:-1])))  # the last item of the list is the middle, as it stands
    elif mirror == "whole":
        runs += list(reversed(runs))
    return [yarn for yarn, count in runs for _ in range(count)]


def stripes(ends: Sequence[str]) -> list[tuple[str, int]]:
    """Ends that lie together in one yarn, as (yarn, how many)."""
    runs: list[tuple[str, int]] = []
    for yarn in ends:
        if runs and runs[-1][0] == yarn:
            runs[-1] = (yarn, runs[-1][1] + 1)
        else:
            runs.append((yarn, 1))
    return runs


# --- the heddle ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Board:
    """One heddle as it stands before the weaver: the kind of each space from the left, and how she counts."""

    kinds: tuple[str, ...]
    mark: str
    back: str | None

    @property
    def spaces(self) -> int:
        """How many spaces."""
        return len(self.kinds)

    @property
    def middle(self) -> int | None:
        """The marked space, or nothing when the mark is between two."""
        return (self.spaces + 1) // 2 if self.spaces % 2 else None

    def kind(self, space: int) -> str:
        """Hole or slot."""
        return self.kinds[space - 1]

    def holds(self) -> int:
        """The most ends: two heddles that are the same lose one."""
        return self.spaces - 1 if self.back == "same" else self.spaces

    def said(self, space: int) -> tuple[str, int]:
        """The side, and the number that is said on a space when counting out from the mark."""
        if self.middle is None:
            half = self.spaces // 2
            return ("left", half - space + 1) if space <= half else ("right", space - half)
        on_mark = 1 if self.mark == "counted as one" else 0
        if space == self.middle:
            return "middle", on_mark
        side = "left" if space < self.middle else "right"
        return side, abs(space - self.middle) + on_mark

    def count_out(self, ends: int) -> int:
        """Say the numbers to the left of the mark until half of the ends are told, and see where the finger is."""
        if self.middle is None:
            space, said, stop = self.spaces // 2, 1, math.ceil(ends / 2)
        elif self.mark == "counted as one":
            space, said, stop = self.middle, 1, math.ceil(ends / 2)
        else:
            space, said, stop = self.middle, 0, ends // 2
        while said < stop:
            space, said = space - 1, said + 1
        return space


def board(loom: dict[str, Any]) -> Board:
    """The heddle of a loom file: the larger kind at both outer places, or what the file says is at the left."""
    slots, holes = int(loom["slots"]), int(loom["holes"])
    first = loom.get("outer") or ("slot" if slots > holes else "hole")
    other = "hole" if first == "slot" else "slot"
    kinds = tuple(first if place % 2 == 0 else other for place in range(slots + holes))
    assert (kinds.count("slot"), kinds.count("hole")) == (slots, holes)
    back = (loom.get("back_heddle") or "same") if loom["kind"] == "two heddles" else None
    return Board(kinds, loom.get("mark") or "counted as zero", back)


@dataclass(frozen=True)
class Threading:
    """Where the ends lie: the first space where counting leads, and the step aside."""

    heddle: Board
    ends: tuple[str, ...]
    counted: int
    first: int

    @property
    def last(self) -> int:
        """The space of the last end."""
        return self.first + len(self.ends) - 1

    @property
    def shifted(self) -> int:
        """The step aside; to the right is more than nothing."""
        return self.first - self.counted

    def spaces(self) -> list[int]:
        """The space of each end, one beside the other."""
        return list(range(self.first, self.last + 1))

    def kinds(self) -> list[str]:
        """The kind of space of each end."""
        return [self.heddle.kind(space) for space in self.spaces()]

    def raised(self, shed: str) -> list[str]:
        """Left to right, what lies on top: hole ends while the warp is pressed down, slot ends when lifted."""
        wanted = "hole" if shed == "down" else "slot"
        return [yarn for yarn, kind in zip(self.ends, self.kinds(), strict=True) if kind == wanted]

    def lean(self) -> Fraction:
        """How far the middle of the tape is to the right of the middle of the heddle, in spaces."""
        return Fraction(self.first + self.last, 2) - Fraction(self.heddle.spaces + 1, 2)

    def middle_end(self) -> int | None:
        """The end that has as many ends on its left as on its right."""
        return (len(self.ends) + 1) // 2 if len(self.ends) % 2 else None

    def back_offset(self) -> int | None:
        """How far the back heddle is threaded to one side: the first way that stays on the board, left before right."""
        if self.heddle.back is None:
            return None
        if self.heddle.back == "opposite":
            return 0
        return -1 if self.first > 1 else 1

    def back_kind(self, space: int) -> str:
        """The kind of a space of the back heddle."""
        kind = self.heddle.kind(space)
        if self.heddle.back == "opposite":
            return "slot" if kind == "hole" else "hole"
        return kind


def thread(pattern: dict[str, Any], loom: dict[str, Any]) -> Threading | None:
    """Count the ends out, and step one space aside when ends that must lie in slots would lie in holes.

    Of the two ways aside it takes the one that stays nearer to the middle, and the right when both are as near.
    Two heddles can never keep an end out of holes.
    """
    heddle, ends = board(loom), lay_ends(pattern)
    if len(ends) > heddle.holds():
        return None
    counted = heddle.count_out(len(ends))
    fussy = {name for name, yarn in pattern["yarns"].items() if yarn.get("spaces") == "slots"}
    if heddle.back is not None and fussy & set(ends):
        return None
    ways = [Threading(heddle, tuple(ends), counted, counted + step) for step in (0, 1, -1)]
    for found in sorted(ways, key=lambda way: (way.shifted != 0, abs(way.lean()))):
        if found.first < 1 or found.last > heddle.spaces:
            continue
        if all(kind == "slot" for yarn, kind in zip(ends, found.kinds(), strict=True) if yarn in fussy):
            return found
    return None


# --- as she sits or stands -------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Seat:
    """How one weaver meets the loom: which hand, and from which side she threads."""

    hand: str = "right"
    behind: bool = False

    @property
    def begins(self) -> str:
        """The side, as she sees it, where she puts end 1."""
        return "left" if self.hand == "right" else "right"

    @property
    def turned(self) -> bool:
        """Whether her end 1 is the last one of the file."""
        return (self.hand == "left") != self.behind

    def seen(self, side: str) -> str:
        """A side of the heddle as she sees it."""
        if not self.behind or side == "middle":
            return side
        return "right" if side == "left" else "left"


@dataclass(frozen=True)
class Told:
    """What one card must say of one pattern, one loom and one weaver."""

    seat: Seat
    threading: Threading

    def ends(self) -> list[str]:
        """The ends in the order in which she threads them."""
        ends = list(self.threading.ends)
        return ends[::-1] if self.seat.turned else ends

    def stripes(self) -> list[tuple[str, int]]:
        """The stripes from the side where she begins."""
        return stripes(self.ends())

    def totals(self) -> list[int]:
        """The running total after each stripe."""
        totals, sofar = [], 0
        for _, count in self.stripes():
            sofar += count
            totals.append(sofar)
        return totals

    def first_and_last(self) -> tuple[int, int]:
        """The spaces, from the weaver's left at the seat, of her own first and last end."""
        there = (self.threading.first, self.threading.last)
        return there[::-1] if self.seat.turned else there

    def label(self, space: int) -> str:
        """``L15``, ``R3``, or the word for the middle."""
        side, said = self.threading.heddle.said(space)
        return "the middle" if side == "middle" else self.seat.seen(side)[0].upper() + str(said)

    def kind(self, space: int) -> str:
        """The kind of a space."""
        return self.threading.heddle.kind(space)

    def empties(self) -> dict[str, int]:
        """The empty spaces on each side, as she sees them."""
        left, right = self.threading.first - 1, self.threading.heddle.spaces - self.threading.last
        return {self.seat.seen("left"): left, self.seat.seen("right"): right}

    def leans(self) -> str:
        """The side to which the tape sits half a space, as she sees it."""
        lean = self.threading.lean()
        if lean.denominator == 1:
            return "none"
        return self.seat.seen("left" if lean < 0 else "right")

    def counted(self) -> tuple[str, int, str]:
        """Where counting leads her: the side on which the first space is, the number, the kind."""
        space = (
            self.threading.counted + self.threading.shifted + (len(self.threading.ends) - 1 if self.seat.turned else 0)
        )
        side, said = self.threading.heddle.said(space)
        return self.seat.seen(side), said, self.kind(space)

    def step(self) -> str | None:
        """The side to which she steps aside from there."""
        shifted = self.threading.shifted
        return self.seat.seen("right" if shifted > 0 else "left") if shifted else None

    def middle(self) -> tuple[int, str, str] | None:
        """The middle end: its number, which is the same from both sides, its yarn, and its space."""
        number_ = self.threading.middle_end()
        if number_ is None:
            return None
        return number_, self.threading.ends[number_ - 1], self.label(self.threading.first + number_ - 1)

    def numbers_of(self, yarn: str) -> list[int]:
        """Her own numbers for the ends of one yarn, those ends taken from the left of the tape."""
        ends = len(self.threading.ends)
        found = [place for place, name in enumerate(self.threading.ends, start=1) if name == yarn]
        return [ends + 1 - place if self.seat.turned else place for place in found]


# --- winding ---------------------------------------------------------------------------------------------------------

ACROSS = {"home": "far", "far": "home"}


def posts(runs: Sequence[tuple[str, int]]) -> list[str]:
    """Walk every end from post to post, and note where she stands after each stripe."""
    at, seen = "home", []
    for _, count in runs:
        for _ in range(count):
            at = ACROSS[at]
        seen.append(at)
    return seen


def empty_walks(ends: Sequence[str], method: str, waiting: Mapping[str, str] | None = None) -> int:
    """How often she goes to the other post without a thread, walking every end by the method.

    ``waiting`` is where each ball waits before; without it all are at home.
    """
    if method == "order":
        return 0
    wound = ends if method == "carry" else [yarn for name in dict.fromkeys(ends) for yarn in ends if yarn == name]
    waits, empty = dict(waiting or dict.fromkeys(ends, "home")), 0
    at = waits[wound[0]]
    for yarn in wound:
        empty += waits[yarn] != at
        at = waits[yarn] = ACROSS[waits[yarn]]
    return empty


def balls(runs: Sequence[tuple[str, int]]) -> list[tuple[str, int, str, str]]:
    """One ball for each colour, all at home to begin with: where each stripe starts, and where its ball waits after."""
    waiting = {yarn: "home" for yarn, _ in runs}
    walks = []
    for yarn, count in runs:
        start = waiting[yarn]
        for _ in range(count):
            waiting[yarn] = ACROSS[waiting[yarn]]
        walks.append((yarn, count, start, waiting[yarn]))
    return walks


def next_sheds(loom: dict[str, Any], hand: str) -> dict[str, str]:
    """Where the weft hangs, and which shed comes next: she throws from there, so the shuttle flies the other way.

    A left hand throws the other way round in each shed.
    """
    habit, turn = loom["shuttle"], {"left": "right", "right": "left"}
    flies = {shed: side if hand == "right" else turn[side] for shed, side in habit.items()}
    return {turn[side]: shed for shed, side in flies.items()}


def shed_names(loom: dict[str, Any]) -> dict[str, str]:
    """How each shed is called: of two heddles by the foot that opens it, if the loom's file tells one.

    Down has the front heddle raised; the other heddle always goes the opposite way.
    """
    if loom["kind"] == "one heddle":
        return {"down": "down", "up": "up"}
    if "tie_up" not in loom:
        return {"down": "Front up", "up": "Back up"}
    feet = ["Left foot", "Right foot"]
    raises_front = [loom["tie_up"][key] in ("front up", "back down") for key in ("left_foot", "right_foot")]
    assert sorted(raises_front) == [False, True]
    front = feet[raises_front.index(True)]
    return {"down": front, "up": next(foot for foot in feet if foot != front)}


# --- lengths, yarn, weft, beam ----------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Lengths:
    """The warp, both ways."""

    finished: Fraction | None
    woven: Fraction | None
    fringes: Fraction
    waste: Fraction
    take_up: Fraction
    shrinkage: Fraction
    warp: Fraction
    wind: Fraction
    pieces: tuple[tuple[Fraction, Fraction], ...] = ()  # every single piece in its order: its length and its fringe

    def takes(self, length: Fraction, fringe: Fraction) -> Fraction:
        """The warp that one piece takes, with both fringes."""
        return length / (1 - self.shrinkage) / (1 - self.take_up) + 2 * fringe

    def tape(self, wound: Fraction) -> Fraction:
        """What a warp gives without its waste: the pieces that fit one after another, else tape."""
        room, whole = wound - self.waste, Fraction(0)
        for length, fringe in self.pieces:
            if room >= self.takes(length, fringe):
                room -= self.takes(length, fringe)
                whole += length
        return whole or room * (1 - self.take_up) * (1 - self.shrinkage)

    def still_to_come(self, warp: Fraction) -> Fraction:
        """Of the last so much warp: the last pieces that are whole, else tape."""
        if not self.pieces:
            return max(Fraction(0), warp) * (1 - self.take_up) * (1 - self.shrinkage)
        whole = Fraction(0)
        for length, fringe in reversed(self.pieces):
            warp -= self.takes(length, fringe)
            if warp < 0:
                return whole
            whole += length
        return whole


def round_up(length: Fraction, step: Fraction) -> Fraction:
    """Up to the next whole step."""
    return math.ceil(length / step) * step


def reckon_lengths(
    pattern: dict[str, Any], loom: dict[str, Any], take_up: Fraction, shrinkage: Fraction, step: Fraction = 9 * INCH
) -> Lengths:
    """The length of the warp from the tape that is wanted, dividing by what is left each time; wound in quarter yards
    or in another step."""
    wish, waste = pattern["length"], millimetres(loom["waste"])
    fringes = Fraction(0)
    pieces: list[tuple[Fraction, Fraction]] = []
    if "warp" in wish:
        warp = millimetres(wish["warp"])
        return Lengths(None, None, fringes, waste, take_up, shrinkage, warp, warp)
    finished = millimetres(wish["finished"]) if "finished" in wish else Fraction(0)
    for piece in wish.get("pieces", []):
        count = int(piece.get("count", "1"))
        finished += count * millimetres(piece["length"])
        fringe = millimetres(piece["fringe"]) if "fringe" in piece else Fraction(0)
        fringes += 2 * count * fringe
        pieces += [(millimetres(piece["length"]), fringe)] * count
    woven = finished / (1 - shrinkage)
    warp = woven / (1 - take_up) + waste + fringes
    wind = round_up(warp, step)
    return Lengths(finished, woven, fringes, waste, take_up, shrinkage, warp, wind, tuple(pieces))


def grams_per_metre(yarn: dict[str, Any]) -> float:
    """Tex by the count on the label, ply divided out."""
    size, _, ply = yarn["count"].partition("/")
    system = yarn.get("system", yarn["fibre"])
    yards_per_pound = HANKS[system] * Fraction(size) / Fraction(ply or 1)
    return 453.59237 / (float(yards_per_pound) * 0.9144)


def beam_length(turns: float, bare: float, build_up: float) -> float:
    """What lies on a beam after some turns, laid down turn by turn as a ribbon of that thickness."""
    return math.pi * turns * (bare + turns * build_up)


def replacement(lengths: Lengths, wound: Fraction, woven: Fraction) -> Fraction:
    """A new end for a broken one: the warp that is left, and 12 inches."""
    return wound - woven * (wound - lengths.waste) + 12 * INCH
