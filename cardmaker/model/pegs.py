"""A place to wind a warp: a board, a table with pegs, or a span between two things."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from cardmaker.model.problems import NOWHERE, Places
from cardmaker.model.records import record, uncompared


@record
class Peg:
    """One peg's centre: millimetres to the right of and below the top left corner of the board, seen from above."""

    name: str
    x_mm: Fraction
    y_mm: Fraction


@record
class Pegs:
    """Where a warp is wound. A board or table has ``pegs``; a span has a shortest and a longest distance.

    A thread starts at ``home``, passes the ``cross`` pegs as over and under (the reverse on the way back), and may then
    visit the pegs of ``order`` in that order, turning at the last one it reaches.
    """

    title: str
    stem: str
    kind: Literal["board", "table", "span"]
    pegs: tuple[Peg, ...] = ()
    diameter_mm: Fraction = Fraction(0)
    height_mm: Fraction | None = None
    home: str = ""
    cross: tuple[str, ...] = ()  # two names, or three where a second, false cross appears
    order: tuple[str, ...] = ()
    shortest_mm: Fraction | None = None
    longest_mm: Fraction | None = None
    surface_mm: tuple[Fraction, Fraction] | None = None  # width and depth of the board or table top
    about: str = ""
    marked_as: str = ""
    places: Places = uncompared(default=NOWHERE)
