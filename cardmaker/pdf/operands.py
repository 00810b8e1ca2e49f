"""Places, lengths, colours and outlines as text of a content stream: what of a mark does not depend on what is set.

Operators and their operands are those of ISO 32000-1:2008, tables 59, 60 and 74. Here alone millimetres from the top
left become points from the bottom left.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import isfinite
from re import compile as pattern
from typing import Final

from cardmaker.model.marks import Box, Colour, Step

POINTS_PER_MM: Final = 72 / 25.4
_ARC: Final = 0.5522847498  # 4/3 (√2 - 1): how far a quarter circle's handles reach; from memory
_COLOUR: Final = pattern(r"#[0-9a-fA-F]{6}")
_MOST_NUMBERS: Final = 8_000  # then a cache starts anew, so that a long binder stays small


def compact(points: float) -> str:
    """A number with up to three decimals, never with an exponent: a third of a micrometre is the grain of the page."""
    if not isfinite(points):
        raise ValueError(f"{points} is no place on a page")
    text = f"{points:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


class Numbers(dict[float, str]):
    """Millimetres as they are written in points: ``start`` plus so many ``per_mm``, each worked out once.

    Equal numbers are written alike whatever came before, so the cache cannot change a page.
    """

    __slots__ = ("per_mm", "start")

    def __init__(self, start: float = 0, per_mm: float = POINTS_PER_MM) -> None:
        self.start, self.per_mm = start, per_mm

    def __missing__(self, mm: float) -> str:
        if len(self) >= _MOST_NUMBERS:
            self.clear()
        text = self[mm] = compact(self.start + self.per_mm * mm)
        return text

    def points(self, mm: float) -> float:
        """The number itself, before it is written."""
        return self.start + self.per_mm * mm


LENGTHS: Final = Numbers()


class Colours(dict[Colour, str]):
    """Colours as the operator that sets them, each parsed once: ``grey`` has one operand, ``coloured`` three.

    Greys are written as greys, so that a printer sets black type with black toner alone.
    """

    def __init__(self, grey: str, coloured: str) -> None:
        self.grey, self.coloured = grey, coloured

    def __missing__(self, colour: Colour) -> str:
        if not _COLOUR.fullmatch(colour):
            raise ValueError(f"'{colour}' is not a colour: write #rrggbb")
        red, green, blue = (compact(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
        text = f"{red} {self.grey}" if red == green == blue else f"{red} {green} {blue} {self.coloured}"
        self[colour] = text
        return text


FILLS: Final = Colours("g", "rg")
STROKES: Final = Colours("G", "RG")


def box_outline(box: Box, x: Numbers, y: Numbers) -> str:
    return f"{x[box.left]} {y[box.bottom]} {LENGTHS[box.width]} {LENGTHS[box.height]} re"


def rounded_outline(box: Box, radius: float, x: Numbers, y: Numbers) -> str:
    """A box with quarter circles at its corners; a dot is all corners."""
    reach = radius * (1 - _ARC)
    left, l_handle, l_end = x[box.left], x[box.left + reach], x[box.left + radius]
    right, r_handle, r_end = x[box.right], x[box.right - reach], x[box.right - radius]
    top, t_handle, t_end = y[box.top], y[box.top + reach], y[box.top + radius]
    bottom, b_handle, b_end = y[box.bottom], y[box.bottom - reach], y[box.bottom - radius]
    level = "" if l_end == r_end else f"{r_end} {bottom} l "
    upright = "" if t_end == b_end else f"{right} {t_end} l "
    level_back = level and f"{l_end} {top} l "
    upright_back = upright and f"{left} {b_end} l "
    return (
        f"{l_end} {bottom} m {level}{r_handle} {bottom} {right} {b_handle} {right} {b_end} c "
        f"{upright}{right} {t_handle} {r_handle} {top} {r_end} {top} c "
        f"{level_back}{l_handle} {top} {left} {t_handle} {left} {t_end} c "
        f"{upright_back}{left} {b_handle} {l_handle} {bottom} {l_end} {bottom} c h"
    )


def path_outline(steps: Iterable[Step], x: Numbers, y: Numbers) -> str:
    parts = []
    for step in steps:
        match step:
            case ("line", to_x, to_y):
                parts.append(f"{x[to_x]} {y[to_y]} l")
            case ("move", to_x, to_y):
                parts.append(f"{x[to_x]} {y[to_y]} m")
            case ("curve", x1, y1, x2, y2, to_x, to_y):
                parts.append(f"{x[x1]} {y[y1]} {x[x2]} {y[y2]} {x[to_x]} {y[to_y]} c")
            case ("close",):
                parts.append("h")
            case _:
                raise ValueError(f"{step} is no step of a path")
    return " ".join(parts)
