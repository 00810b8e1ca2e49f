"""The least and the most that a length, a weight or a percentage of a file may be, each with its reason.

What lies outside is a slip of the pen, or another unit than was meant: it is told at its place, not drawn. The limits
are wide on purpose and all ours: common practice and from memory, no source. Those of plain numbers stand in the
schemas, beside their reasons.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Final

from cardmaker.model.record_class import record
from cardmaker.model.units import length_mm, parse_share, weight_g

CHECK_UNIT: Final = "Check the figure and its unit."


@record
class Limit:
    """From ``least`` to ``most``, as a person writes them, in the reader's unit; and why."""

    least: str
    most: str
    why: str
    remedy: str = CHECK_UNIT

    def holds(self, value: Fraction) -> bool:
        """Whether ``value`` lies within, nought included."""
        return value <= _in_base_unit(self.most)

    def message(self, text: str, value: Fraction) -> str:
        """What is wrong with ``value``, which stands in the file as ``text`` (quoted); empty when it lies within."""
        least, most = _in_base_unit(self.least), _in_base_unit(self.most)
        if least <= value <= most:
            return ""
        too, bound = ("little", f"{self.least} is the least") if value < least else ("much", f"{self.most} is the most")
        return f"{text} is too {too}: {bound}, because {self.why}."


@cache  # every file of a kind has the same limits
def _in_base_unit(text: str) -> Fraction:
    if text.endswith("%"):
        return parse_share(text)
    try:
        return length_mm(text, longest_mm=None)
    except ValueError:
        return weight_g(text)


# yarn and tape
FINISHED: Final = Limit("1 cm", "200 m", "one warp gives no more, and less is no tape")
PIECE: Final = Limit("5 mm", "50 m", "a piece is cut from one warp, and is no shorter than it is wide")
PIECES: Final = Limit("1 cm", "200 m", "one warp gives no more tape", "Ask for fewer or shorter pieces.")
FRINGE: Final = Limit("1 mm", "1 m", "a fringe hangs from a piece of tape")
WARP: Final = Limit("10 cm", "300 m", "a warp reaches through the loom and goes on one beam")
LEFTOVER: Final = Limit("1 mm", "10 m", "this is what the loom could not weave")
TAPE_WIDTH: Final = Limit("0.5 mm", "50 cm", "narrow tape is a few threads to two hands wide")
TAKE_UP: Final = Limit(
    "0 %", "50 %", "warp-faced tape takes up 8 to 25 % of its warp", "Write how much shorter the tape is than its warp."
)
SHRINKAGE: Final = Limit("0 %", "50 %", "even felted wool keeps half its length", "Write how much the wash takes away.")
PACKAGE_LENGTH: Final = Limit("1 m", "100000 m", "yarn is sold by the skein, ball or cone")
PACKAGE_WEIGHT: Final = Limit("1 g", "100 kg", "yarn is sold by the skein, ball or cone")

# the loom
HOLE: Final = Limit("0.3 mm", "30 mm", "one end goes through a hole")
BEAM: Final = Limit("5 mm", "60 cm", "a beam is a rod or a roller")
PACKING: Final = Limit("0.05 mm", "25 mm", "packing is paper, card or a stick")
STICK_WIDTH: Final = Limit("1 mm", "50 cm", "packing is paper, card or a stick")
WASTE: Final = Limit("1 mm", "3 m", "this is what cannot be woven at both ends of a warp")
WEAVING_ZONE: Final = Limit("1 mm", "5 m", "it is measured from the heddle bar, within reach of a hand")
SHUTTLE: Final = Limit("2 cm", "1 m", "it goes through a narrow shed")

# where to wind
PEG: Final = Limit("1 mm", "30 cm", "thread turns round it")
PEG_HEIGHT: Final = Limit("5 mm", "2 m", "the ends lie round it one above the other")
PEG_PLACE: Final = Limit("0.1 mm", "30 m", "pegs stand in one room")
SURFACE: Final = Limit("5 cm", "30 m", "pegs stand in one room")
SPAN: Final = Limit("10 cm", "300 m", "a warp is stretched between two things")
