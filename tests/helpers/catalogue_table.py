"""The catalogue's figures, counted by hand before there was a program: what the demonstration files must come to.

Two tables share the code in their first column. Colours are two letters, `*` marks the thick yarn, and
`ALT(Wh,Bu,14)` is fourteen ends in turn, white first. The holes and slots are those of a warp whose first end stands
in a hole (Cord Edge: in a slot); where a loom puts the first end into the other kind of space, the two swap.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

_STRIPES: Final = """
T01 | Bare Thread     | 8 Wh
T02 | Peep Edge       | 14 Bu
T03 | Two Rails       | 2 Bu 9 Wh 2 Bu
T04 | Twin Rails      | 2 Bn 2 Wh 2 Bn 12 Wh 2 Bn 2 Wh 2 Bn
T05 | Wick            | 7 Wh 1 Re 7 Wh
T06 | Broad Wick      | 8 Wh 6 Gr 8 Wh
T07 | Five Bars Up    | 2 Bn 4 Wh 2 Bu 4 Wh 2 Bn 4 Wh 2 Bu 4 Wh 2 Bn
T08 | Three Paths     | 3 Re 5 Wh 3 Bu 9 Wh 3 Bu 5 Wh 3 Re
T09 | Off Side        | 11 Wh 6 Bu 4 Wh 1 Re
T10 | Stair           | 7 Wh 1 Gr 6 Wh 2 Gr 5 Wh 3 Gr 4 Wh
T11 | Open Ladder     | ALT(Wh,Bu,14)
T12 | Penned Ladder   | 4 Bu ALT(Wh,Bu,15) 4 Bu
T13 | Four Drips      | 4 Wh 1 Bu 4 Wh 1 Bu 5 Wh 1 Bu 4 Wh 1 Bu 4 Wh
T14 | Pavement        | ALT(Wh,Bu,8) ALT(Bu,Wh,8) ALT(Wh,Bu,8) ALT(Bu,Wh,8)
T15 | Framed Pavement | 5 Bn ALT(Wh,Bn,9) ALT(Wh,Bn,9) ALT(Wh,Bn,9) 5 Bn
T16 | Hop and Stride  | 3 Gr ALT(Wh,Gr,5) ALT(Wh,Gr,15) ALT(Wh,Gr,5) 3 Gr
T17 | Half and Half   | 2 Bu ALT(Wh,Bu,12) 2 Wh 4 Re 2 Wh 4 Re 4 Wh
T18 | Nine            | 2 Re 5 Wh 2 Re
T19 | Cord Edge       | 1 Bn* 20 Wh 1 Bn*
T20 | Raised Ribs     | 7 Wh 1 Bu* 7 Wh 1 Bu* 7 Wh 1 Bu* 7 Wh
T21 | Five Posts      | 3 Bu 4 Wh 1 Re* 3 Wh 1 Re* 3 Wh 1 Re* 3 Wh 1 Re* 3 Wh 1 Re* 4 Wh 3 Bu
T22 | Three Sparks    | 3 Gr 6 Wh 1 Re* 2 Wh 1 Re* 2 Wh 1 Re* 6 Wh 3 Gr
T23 | Treadle Ladder  | 6 Bu 4 Wh ALT(Bu,Wh,20) 4 Wh 6 Bu
T24 | Long Sixty      | 4 Bn 8 Wh 2 Bu 8 Wh 2 Bu 12 Wh 2 Bu 8 Wh 2 Bu 8 Wh 4 Bn
T25 | Grey Trap       | 6 Re 6 Gr 6 Re 6 Gr
T26 | Threes          | (1 Wh 1 Bu 1 Re)9
T27 | Fair Day        | 4 Bu 4 Ye 4 Re 4 Wh 6 Gr 4 Bk 6 Gr 4 Wh 4 Re 4 Ye 4 Bu
"""

# code | ends | in holes | in slots | totals | same both ways | changes | of them at the far peg | finish peg
_FIGURES: Final = """
T01 |  8 | 4Wh                     | 4Wh                     | 8Wh                      | yes |  0 |  0 | home
T02 | 14 | 7Bu                     | 7Bu                     | 14Bu                     | yes |  0 |  0 | home
T03 | 13 | 2Bu 5Wh                 | 2Bu 4Wh                 | 4Bu 9Wh                  | yes |  2 |  1 | far
T04 | 24 | 4Bn 8Wh                 | 4Bn 8Wh                 | 8Bn 16Wh                 | yes |  6 |  0 | home
T05 | 15 | 8Wh                     | 6Wh 1Re                 | 14Wh 1Re                 | yes |  2 |  1 | far
T06 | 22 | 8Wh 3Gr                 | 8Wh 3Gr                 | 16Wh 6Gr                 | yes |  2 |  0 | home
T07 | 26 | 3Bn 8Wh 2Bu             | 3Bn 8Wh 2Bu             | 6Bn 16Wh 4Bu             | yes |  8 |  0 | home
T08 | 31 | 4Re 8Wh 4Bu             | 2Re 11Wh 2Bu            | 6Re 19Wh 6Bu             | yes |  6 |  3 | far
T09 | 22 | 8Wh 3Bu                 | 7Wh 3Bu 1Re             | 15Wh 6Bu 1Re             | no  |  3 |  3 | home
T10 | 28 | 12Wh 2Gr                | 10Wh 4Gr                | 22Wh 6Gr                 | no  |  6 |  2 | home
T11 | 14 | 7Wh                     | 7Bu                     | 7Wh 7Bu                  | no  | 13 |  7 | home
T12 | 23 | 4Bu 8Wh                 | 11Bu                    | 15Bu 8Wh                 | yes | 16 |  8 | far
T13 | 25 | 11Wh 2Bu                | 10Wh 2Bu                | 21Wh 4Bu                 | yes |  8 |  4 | far
T14 | 32 | 8Wh 8Bu                 | 8Bu 8Wh                 | 16Wh 16Bu                | yes | 28 | 16 | home
T15 | 37 | 14Bn 5Wh                | 8Bn 10Wh                | 22Bn 15Wh                | yes | 26 | 13 | far
T16 | 31 | 8Gr 8Wh                 | 9Gr 6Wh                 | 17Gr 14Wh                | yes | 24 | 12 | far
T17 | 30 | 1Bu 10Wh 4Re            | 7Bu 4Wh 4Re             | 8Bu 14Wh 8Re             | no  | 17 |  6 | home
T18 |  9 | 2Re 3Wh                 | 2Re 2Wh                 | 4Re 5Wh                  | yes |  2 |  1 | far
T19 | 22 | 10Wh 1Bn*               | 1Bn* 10Wh               | 2Bn* 20Wh                | yes |  2 |  2 | home
T20 | 31 | 16Wh                    | 12Wh 3Bu*               | 28Wh 3Bu*                | yes |  6 |  3 | far
T21 | 31 | 4Bu 12Wh                | 2Bu 8Wh 5Re*            | 6Bu 20Wh 5Re*            | yes | 12 |  6 | far
T22 | 25 | 4Gr 8Wh 1Re*            | 2Gr 8Wh 2Re*            | 6Gr 16Wh 3Re*            | yes |  8 |  4 | far
T23 | 40 | 16Bu 4Wh                | 6Bu 14Wh                | 22Bu 18Wh                | no  | 22 | 10 | home
T24 | 60 | 4Bn 22Wh 4Bu            | 4Bn 22Wh 4Bu            | 8Bn 44Wh 8Bu             | yes | 10 |  0 | home
T25 | 24 | 6Re 6Gr                 | 6Re 6Gr                 | 12Re 12Gr                | no  |  3 |  0 | home
T26 | 27 | 5Wh 5Re 4Bu             | 5Bu 4Wh 4Re             | 9Wh 9Bu 9Re              | no  | 26 | 13 | far
T27 | 48 | 4Bu 4Ye 4Re 4Wh 6Gr 2Bk | 4Bu 4Ye 4Re 4Wh 6Gr 2Bk | 8Bu 8Ye 8Re 8Wh 12Gr 4Bk | yes | 10 |  0 | home
"""

COLOURS: Final = {
    "Wh": "white", "Bu": "blue", "Re": "red", "Bn": "brown", "Gr": "green", "Ye": "yellow", "Bk": "black",
    "Bn*": "brown cord", "Bu*": "blue cord", "Re*": "red cord",
}  # fmt: skip
_PIECE: Final = re.compile(r"ALT\((\w+),(\w+),(\d+)\)|\((.+?)\)(\d+)|(\d+) (\w+\*?)")


@dataclass(frozen=True, slots=True)
class Row:
    """One pattern's figures, with the yarns under the names that its file gives them."""

    code: str
    title: str
    end_yarns: tuple[str, ...]
    ends: int
    odd_ends: Mapping[str, int]  # ends 1, 3, 5 ... by yarn: all in one kind of space
    even_ends: Mapping[str, int]  # ends 2, 4, 6 ...: all in the other
    totals: Mapping[str, int]
    same_both_ways: bool
    changes: int
    far_changes: int
    finish: str

    @property
    def stem(self) -> str:
        return self.title.lower().replace(" ", "-")


def rows() -> tuple[Row, ...]:
    """All 27 rows, in the order of their codes."""
    figures = {line.split(" | ")[0]: line for line in _FIGURES.split("\n") if line}
    stripes = [line.split(" | ") for line in _STRIPES.split("\n") if line]
    return tuple(_row(code, title.strip(), stripe, figures[code]) for code, title, stripe in stripes)


def _row(code: str, title: str, stripe: str, figures: str) -> Row:
    _, ends, in_holes, in_slots, totals, same, changes, far, finish = (cell.strip() for cell in figures.split("|"))
    odd, even = _by_yarn(in_holes), _by_yarn(in_slots)
    if code == "T19":  # the one row that is written with its first end in a slot
        odd, even = even, odd
    yarns = tuple(_laid_out(stripe))
    return Row(
        code, title, yarns, int(ends), odd, even, _by_yarn(totals), same == "yes", int(changes), int(far), finish
    )


def _laid_out(stripe: str) -> list[str]:
    """Every end of a stripe as the table writes it, apart from the program's own reading of a file."""
    laid_out: list[str] = []
    for first, second, turns, inner, times, ends, colour in _PIECE.findall(stripe):
        if turns:
            laid_out += [COLOURS[first if turn % 2 == 0 else second] for turn in range(int(turns))]
        elif inner:
            laid_out += _laid_out(inner) * int(times)
        else:
            laid_out += [COLOURS[colour]] * int(ends)
    return laid_out


def _by_yarn(cell: str) -> Counter[str]:
    """`4Bu 9Wh` as ends by yarn."""
    found = re.findall(r"(\d+)(\w+\*?)", cell)
    return Counter({COLOURS[letters]: int(ends) for ends, letters in found})
