"""Counts and letters on the yarn's own colour: on a plate that keeps its hatching off them, also in a grey copy."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from cardmaker.layout.ink import BLACK, HAIRLINE, OUTLINE, WHITE, Ink, hatching
from cardmaker.layout.type_setting import cap_height, tail_depth
from cardmaker.model.marks import Box, Face, Mark, Rectangle, Ruler, Words

PLATE_EDGE: Final = 0.35  # from letters to the hatching round them, in mm
_WITH_TAILS: Final = frozenset("gjpqyJQ,;()/")


def hatched_cell(box: Box, ink: Ink, over: Iterable[Mark] = (), outline: float = OUTLINE) -> list[Mark]:
    """A cell of a yarn: its colour, its hatching, what stands ``over`` these, and an outline unless it is 0 mm."""
    return [
        Rectangle(box, fill=ink.fill),
        *hatching(box, ink, hatch_width(ink)),
        *over,
        *([Rectangle(box, stroke=BLACK, width=outline)] if outline else []),
    ]


def lettered_cell(box: Box, text: str, ink: Ink, ruler: Ruler, face: Face, size: float) -> list[Mark]:
    """A cell of a yarn: its colour, its hatching, an outline, and ``text`` in the middle, on a plate.

    Whoever draws it sees first, with :func:`cell_holds`, that the text finds room.
    """
    words = Words(box.middle, box.top + (box.height + cap_height(size)) / 2, text, face, size, align="middle")
    return hatched_cell(box, ink, plate_under(words, ink, ruler, box))


def cell_holds(box: Box, text: str, ruler: Ruler, face: Face, size: float) -> bool:
    """Whether ``text`` stands in the box with as much room round it as a plate needs."""
    wide, high = ruler.width_mm(text, face, size), cap_height(size) + _tails(text, size)
    return wide + 2 * PLATE_EDGE <= box.width and high + 2 * PLATE_EDGE <= box.height


def plate_under(words: Words, ink: Ink, ruler: Ruler, within: Box | None = None) -> list[Mark]:
    """The words in the ink that reads on the yarn, and under them a plate of its colour where it is needed.

    The plate ends at ``within``, the cell that the words stand in.
    """
    inked = words._replace(colour=ink.on)
    if not ink.slopes:
        return [inked]
    box = words_box(words, ruler).inset(-PLATE_EDGE, -PLATE_EDGE, -PLATE_EDGE, -PLATE_EDGE)
    return [Rectangle(_inside(box, within) if within else box, fill=ink.fill), inked]


def words_box(words: Words, ruler: Ruler) -> Box:
    """The box of one line of words, from the top of its capitals to its baseline, or to the last tail if it has one."""
    wide, cap = ruler.width_mm(words.text, words.face, words.size), cap_height(words.size)
    tail = _tails(words.text, words.size)
    start = {"left": 0.0, "middle": wide / 2, "right": wide}[words.align]
    if words.turned:
        return Box(words.x - cap, words.y - wide + start, cap + tail, wide)
    return Box(words.x - start, words.y - cap, wide, cap + tail)


def hatch_width(ink: Ink) -> float:
    """The width of hatching: white lines on dark yarn fill up in print, so they are wider."""
    return OUTLINE if ink.on == WHITE else HAIRLINE


def _tails(text: str, size: float) -> float:
    return tail_depth(size) if _WITH_TAILS.intersection(text) else 0.0


def _inside(box: Box, limit: Box) -> Box:
    left, top = max(box.left, limit.left), max(box.top, limit.top)
    return Box(left, top, min(box.right, limit.right) - left, min(box.bottom, limit.bottom) - top)
