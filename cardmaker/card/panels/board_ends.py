"""The holes and slots of a heddle, and the ends that go through them: one by one, or as bands of colour."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import Final

from cardmaker.card.panels.heddle_board import HeddleBoard
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK, OUTLINE, RULE, WHITE
from cardmaker.layout.lettering import hatched_cell
from cardmaker.layout.single_threads import thread_line, thread_widths
from cardmaker.model.loom import Space
from cardmaker.model.marks import Box, Dot, Mark, Rectangle
from cardmaker.reckoning.amounts.width import relative_thickness

HANG: Final = 3.4  # mm that the ends hang below the board
MOST_THREAD_SHARE: Final = 0.63  # of the way to the next space: a thick end with its edges


def board_openings(board: HeddleBoard) -> list[Mark]:
    """Round holes and tall slots, white until an end goes through."""
    marks: list[Mark] = []
    slot, line = board.slot_width, min(RULE, board.pitch * 0.14)
    for space in range(board.first, board.last + 1):
        x = board.x(space)
        if board.kind(space) is Space.SLOT:
            box = Box(x - slot / 2, board.slot_top, slot, board.slot_bottom - board.slot_top)
            marks.append(Rectangle(box, WHITE, BLACK, line, slot / 2))
        else:
            marks.append(Dot(x, board.eye, board.hole_radius, WHITE, BLACK, line))
    return marks


def board_threads(sheet: Sheet, board: HeddleBoard, offset: int, bottom: float) -> list[Mark]:
    """Each end in its colour and hatching, out of its space and down: cased in black, so that white yarn shows on white
    paper. ``offset`` is how many spaces further right the ends lie than in the front heddle."""
    marks: list[Mark] = []
    edge = board.edge
    thickness = relative_thickness(sheet.plan.pattern, sheet.plan.end_yarns)
    widths = thread_widths(thickness, board.thread, edge, board.pitch * MOST_THREAD_SHARE)
    for space, yarn in _ends_on(sheet, board, offset):
        x, fill, in_hole = board.x(space), sheet.inks[yarn].fill, board.kind(space) is Space.HOLE
        eye, thick = board.eye if in_hole else board.slot_eye, widths[yarn]
        stop = bottom - thick / 2 - edge  # its end is round
        marks += thread_line(sheet.inks[yarn], x, eye, x, stop, thick, edge)
        radius = board.hole_radius if in_hole else thick / 2 + edge / 2
        marks.append(Dot(x, eye, radius, fill, BLACK, edge))
    return marks


def _ends_on(sheet: Sheet, board: HeddleBoard, offset: int) -> Iterator[tuple[int, str]]:
    """The ends whose spaces are drawn: space and yarn."""
    for end_number, yarn in enumerate(sheet.plan.end_yarns, start=1):
        space = sheet.plan.placement.space_of(end_number) + offset
        if board.first <= space <= board.last:
            yield space, yarn


def board_bands(sheet: Sheet, board: HeddleBoard, offset: int, bottom: float) -> list[Mark]:
    """Neighbouring ends of one yarn as a band of its colour and hatching, from the height of the holes down."""
    marks: list[Mark] = []
    sides: list[float] = []
    for yarn, ends in groupby(_ends_on(sheet, board, offset), key=lambda end: end[1]):
        spaces = [space for space, _ in ends]
        left = board.x(spaces[0] - 0.5)
        band = Box(left, board.eye, board.x(spaces[-1] + 0.5) - left, bottom - board.eye)
        sides += [band.left, band.right]
        ink = sheet.ink_to_mirror(yarn)
        marks += hatched_cell(band, ink) if len(spaces) > 1 else [Rectangle(band, ink.fill)]
    whole = Box(min(sides), board.eye, max(sides) - min(sides), bottom - board.eye)
    return [*marks, Rectangle(whole, stroke=BLACK, width=OUTLINE)]
