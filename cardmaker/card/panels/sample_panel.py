"""A place to sew or staple a woven sample on, large enough to see how the tape lies."""

from __future__ import annotations

from typing import Final

from cardmaker.card.parts import picture_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.ink import FAINT, RULE, SOFT
from cardmaker.layout.stacking import NO_ROOM, Part, exactly
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Face, Mark, Rectangle, Words
from cardmaker.wording import ribbon_words

WIDE, HIGH = 80.0, 60.0  # mm
DASH: Final = (1.6, 1.2)  # mm


def _parts(sheet: Sheet, width: float) -> list[Part]:
    """At the left edge of its place, in line with what stands above it."""
    heights = exactly(HIGH) if width >= WIDE else NO_ROOM
    return [
        picture_part("sample", heights, lambda box: _draw(sheet, box), ribbon_words.SAMPLE_PLACE, facts=("sample",))
    ]


def _draw(sheet: Sheet, box: Box) -> list[Mark]:
    place, size = Box(box.left, box.top, WIDE, HIGH), sheet.sizes.small
    middle = place.top + (place.height + cap_height(size)) / 2
    words = Words(place.middle, middle, ribbon_words.WASHED_SAMPLE, Face.SANS, size, SOFT, "middle")
    return [Rectangle(place, stroke=FAINT, width=RULE, dash=DASH), words]


SAMPLE: Final = Panel("sample", _parts)
