"""What a round opening of the drawn heddle is and what a tall one, beside the heading of its step."""

from __future__ import annotations

from typing import Final

from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK, RULE, WHITE
from cardmaker.layout.type_setting import cap_height, figure
from cardmaker.model.loom import Space
from cardmaker.model.marks import Box, Dot, Face, Mark, Rectangle, Words
from cardmaker.wording import heddle_alt_texts

HOLE: Final = 0.42  # the radius of a hole, in capitals of the words
SLOT: Final = 0.46  # how wide a slot is, likewise
SLOT_HEIGHT: Final = 1.3  # and how high
BESIDE_SIGN: Final = 1.1  # mm to its name
BETWEEN: Final = 2.6  # mm from one to the other


def openings_key(sheet: Sheet, left: float, baseline: float) -> Mark:
    """Both signs with their names, from ``left`` on."""
    size = sheet.sizes.small
    cap = cap_height(size)
    middle, slot = baseline - cap / 2, left + board_key_width(sheet) - _wide(sheet, Space.SLOT)
    opening = Box(slot, middle - SLOT_HEIGHT * cap / 2, SLOT * cap, SLOT_HEIGHT * cap)
    marks: list[Mark] = [
        Dot(left + HOLE * cap, middle, HOLE * cap, WHITE, BLACK, RULE),
        Words(left + _sign(sheet, Space.HOLE), baseline, Space.HOLE, Face.SANS, size),
        Rectangle(opening, WHITE, BLACK, RULE, opening.width / 2),
        Words(slot + _sign(sheet, Space.SLOT), baseline, Space.SLOT, Face.SANS, size),
    ]
    box = Box(left, opening.top, board_key_width(sheet), opening.height)
    return figure("key", box, marks, heddle_alt_texts.OPENINGS)


def board_key_width(sheet: Sheet) -> float:
    """How wide it is, in mm."""
    return _wide(sheet, Space.HOLE) + BETWEEN + _wide(sheet, Space.SLOT)


def _wide(sheet: Sheet, kind: Space) -> float:
    return _sign(sheet, kind) + sheet.wide(kind, Face.SANS, sheet.sizes.small)


def _sign(sheet: Sheet, kind: Space) -> float:
    """From the left edge of a sign to its name."""
    return (2 * HOLE if kind is Space.HOLE else SLOT) * cap_height(sheet.sizes.small) + BESIDE_SIGN
