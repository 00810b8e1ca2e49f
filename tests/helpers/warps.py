"""The demonstration patterns and looms as data, for the tests of the arithmetic. All invented."""

# ruff: noqa: E501 -- one row of the table is one line

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from hypothesis import strategies as st

from cardmaker.model.loom import Heddles, Loom, Mark, Space
from cardmaker.model.pattern import Alternation, Mirror, Pattern, Repeat, Stripe, WantedLength, WarpItem, Yarn
from cardmaker.model.plan import Lengths
from cardmaker.reckoning.amounts.lengths import warp_lengths

_ITEM = re.compile(r"ALT\((\w+),(\w+),(\d+)\)|\(([^)]*)\)(\d+)|(\d+) (\w+)\*?")


def warp(notation: str) -> tuple[WarpItem, ...]:
    """``4 Bu ALT(Wh,Bu,15) (1 Wh 1 Re)9`` as warp items."""
    items: list[WarpItem] = []
    for first, second, in_turn, repeated, times, ends, yarn in _ITEM.findall(notation):
        if first:
            items.append(Alternation((first, second), int(in_turn)))
        elif times:
            items.append(Repeat(int(times), warp(repeated)))
        else:
            items.append(Stripe(yarn, int(ends)))
    return tuple(items)


def pattern(
    notation: str, mirror: Mirror | None = None, stated_ends: int | None = None, slots_only: tuple[str, ...] = ()
) -> Pattern:
    """A pattern of that warp, its yarns named by their letters."""
    names = dict.fromkeys(re.findall(r"[A-Z][a-z]", notation))
    yarns = tuple(Yarn(name, "linen", slots_only=name in slots_only) for name in names)
    return Pattern("Test", "test", yarns, warp(notation), mirror=mirror, stated_ends=stated_ends)


def lengths_of(
    warp_mm: Fraction | float,
    waste_mm: Fraction | float,
    take_up: Fraction | float = 0,
    shrinkage: Fraction | float = 0,
) -> Lengths:
    """A warp that is given, with all of its waste at the back."""
    wish = WantedLength(warp_mm=Fraction(warp_mm), take_up=Fraction(take_up), shrinkage=Fraction(shrinkage))
    tape = Pattern("Test", "test", (Yarn("white", "linen", "20/2"),), (Stripe("white", 9),), length=wish)
    back = Fraction(waste_mm)
    return warp_lengths(tape, replace(one_heddle(12, 11), waste_mm=back, waste_front_mm=Fraction(0)))


def one_heddle(slots: int, holes: int, mark: Mark = Mark.ZERO, outer: Space | None = None, title: str = "Test") -> Loom:
    """A box loom; the larger kind stands outside."""
    larger = Space.SLOT if slots >= holes else Space.HOLE
    return Loom(title, title.lower(), Heddles.ONE, slots, holes, outer or larger, mark)


def any_loom(spaces: int, outer: Space, mark: Mark) -> Loom:
    larger, smaller = spaces - spaces // 2, spaces // 2
    return one_heddle(larger, smaller, mark, outer) if outer is Space.SLOT else one_heddle(smaller, larger, mark, outer)


LOOMS = st.builds(any_loom, st.integers(3, 65), st.sampled_from(Space), st.sampled_from(Mark))
SMALL_BOX = one_heddle(12, 11, title="Small box")
MIDDLE_BOX = one_heddle(16, 17, title="Middle box")
BROAD_PADDLE = one_heddle(24, 23, title="Broad paddle")
TREADLE_PAIR = Loom("Treadle pair", "treadle-pair", Heddles.TWO, 31, 30, Space.SLOT, Mark.ZERO, "same")


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the demonstration table, worked by hand with end 1 in a hole (T19: in a slot)."""

    code: str
    stripes: str
    ends: int
    kinds: str  # of the first and last end
    holes: int
    in_holes: str
    slots: int
    in_slots: str
    totals: str
    same_both_ways: bool
    changes: int
    far: int
    finish: str


_TABLE = """
T01|8 Wh|8|HS|4|4Wh|4|4Wh|8Wh|yes|0|0|home
T02|14 Bu|14|HS|7|7Bu|7|7Bu|14Bu|yes|0|0|home
T03|2 Bu 9 Wh 2 Bu|13|HH|7|2Bu 5Wh|6|2Bu 4Wh|4Bu 9Wh|yes|2|1|far
T04|2 Bn 2 Wh 2 Bn 12 Wh 2 Bn 2 Wh 2 Bn|24|HS|12|4Bn 8Wh|12|4Bn 8Wh|8Bn 16Wh|yes|6|0|home
T05|7 Wh 1 Re 7 Wh|15|HH|8|8Wh|7|6Wh 1Re|14Wh 1Re|yes|2|1|far
T06|8 Wh 6 Gr 8 Wh|22|HS|11|8Wh 3Gr|11|8Wh 3Gr|16Wh 6Gr|yes|2|0|home
T07|2 Bn 4 Wh 2 Bu 4 Wh 2 Bn 4 Wh 2 Bu 4 Wh 2 Bn|26|HS|13|3Bn 8Wh 2Bu|13|3Bn 8Wh 2Bu|6Bn 16Wh 4Bu|yes|8|0|home
T08|3 Re 5 Wh 3 Bu 9 Wh 3 Bu 5 Wh 3 Re|31|HH|16|4Re 8Wh 4Bu|15|2Re 11Wh 2Bu|6Re 19Wh 6Bu|yes|6|3|far
T09|11 Wh 6 Bu 4 Wh 1 Re|22|HS|11|8Wh 3Bu|11|7Wh 3Bu 1Re|15Wh 6Bu 1Re|no|3|3|home
T10|7 Wh 1 Gr 6 Wh 2 Gr 5 Wh 3 Gr 4 Wh|28|HS|14|12Wh 2Gr|14|10Wh 4Gr|22Wh 6Gr|no|6|2|home
T11|ALT(Wh,Bu,14)|14|HS|7|7Wh|7|7Bu|7Wh 7Bu|no|13|7|home
T12|4 Bu ALT(Wh,Bu,15) 4 Bu|23|HH|12|4Bu 8Wh|11|11Bu|15Bu 8Wh|yes|16|8|far
T13|4 Wh 1 Bu 4 Wh 1 Bu 5 Wh 1 Bu 4 Wh 1 Bu 4 Wh|25|HH|13|11Wh 2Bu|12|10Wh 2Bu|21Wh 4Bu|yes|8|4|far
T14|ALT(Wh,Bu,8) ALT(Bu,Wh,8) ALT(Wh,Bu,8) ALT(Bu,Wh,8)|32|HS|16|8Wh 8Bu|16|8Bu 8Wh|16Wh 16Bu|yes|28|16|home
T15|5 Bn ALT(Wh,Bn,9) ALT(Wh,Bn,9) ALT(Wh,Bn,9) 5 Bn|37|HH|19|14Bn 5Wh|18|8Bn 10Wh|22Bn 15Wh|yes|26|13|far
T16|3 Gr ALT(Wh,Gr,5) ALT(Wh,Gr,15) ALT(Wh,Gr,5) 3 Gr|31|HH|16|8Gr 8Wh|15|9Gr 6Wh|17Gr 14Wh|yes|24|12|far
T17|2 Bu ALT(Wh,Bu,12) 2 Wh 4 Re 2 Wh 4 Re 4 Wh|30|HS|15|1Bu 10Wh 4Re|15|7Bu 4Wh 4Re|8Bu 14Wh 8Re|no|17|6|home
T18|2 Re 5 Wh 2 Re|9|HH|5|2Re 3Wh|4|2Re 2Wh|4Re 5Wh|yes|2|1|far
T19|1 Bn* 20 Wh 1 Bn*|22|SH|11|10Wh 1Bn|11|1Bn 10Wh|2Bn 20Wh|yes|2|2|home
T20|7 Wh 1 Bu* 7 Wh 1 Bu* 7 Wh 1 Bu* 7 Wh|31|HH|16|16Wh|15|12Wh 3Bu|28Wh 3Bu|yes|6|3|far
T21|3 Bu 4 Wh 1 Re* 3 Wh 1 Re* 3 Wh 1 Re* 3 Wh 1 Re* 3 Wh 1 Re* 4 Wh 3 Bu|31|HH|16|4Bu 12Wh|15|2Bu 8Wh 5Re|6Bu 20Wh 5Re|yes|12|6|far
T22|3 Gr 6 Wh 1 Re* 2 Wh 1 Re* 2 Wh 1 Re* 6 Wh 3 Gr|25|HH|13|4Gr 8Wh 1Re|12|2Gr 8Wh 2Re|6Gr 16Wh 3Re|yes|8|4|far
T23|6 Bu 4 Wh ALT(Bu,Wh,20) 4 Wh 6 Bu|40|HS|20|16Bu 4Wh|20|6Bu 14Wh|22Bu 18Wh|no|22|10|home
T24|4 Bn 8 Wh 2 Bu 8 Wh 2 Bu 12 Wh 2 Bu 8 Wh 2 Bu 8 Wh 4 Bn|60|HS|30|4Bn 22Wh 4Bu|30|4Bn 22Wh 4Bu|8Bn 44Wh 8Bu|yes|10|0|home
T25|6 Re 6 Gr 6 Re 6 Gr|24|HS|12|6Re 6Gr|12|6Re 6Gr|12Re 12Gr|no|3|0|home
T26|(1 Wh 1 Bu 1 Re)9|27|HH|14|5Wh 5Re 4Bu|13|5Bu 4Wh 4Re|9Wh 9Bu 9Re|no|26|13|far
T27|4 Bu 4 Ye 4 Re 4 Wh 6 Gr 4 Bk 6 Gr 4 Wh 4 Re 4 Ye 4 Bu|48|HS|24|4Bu 4Ye 4Re 4Wh 6Gr 2Bk|24|4Bu 4Ye 4Re 4Wh 6Gr 2Bk|8Bu 8Ye 8Re 8Wh 12Gr 4Bk|yes|10|0|home
"""


def _row(line: str) -> Row:
    code, stripes, ends, kinds, holes, in_holes, slots, in_slots, totals, same, changes, far, finish = line.split("|")
    return Row(
        code, stripes, int(ends), kinds, int(holes), in_holes, int(slots), in_slots, totals,
        same == "yes", int(changes), int(far), finish,
    )  # fmt: skip


ROWS = tuple(map(_row, _TABLE.strip().splitlines()))
ROW = {row.code: row for row in ROWS}


def per_yarn(told: str) -> dict[str, int]:
    """``4Bu 9Wh`` as counts."""
    return {yarn: int(ends) for ends, yarn in re.findall(r"(\d+)([A-Z][a-z])", told)}


# What the tests of a class buy
RED = Yarn("Re", "linen", metres_per_kg=Fraction(10_000), colour="#9c2f2b")
WHITE = Yarn("Wh", "linen", metres_per_kg=Fraction(5_000), colour="#f4f0e4")
