"""What somebody asks of a tape, typed in a few signs: how many ends, and in what time."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from cardmaker.model.pattern import MOST_ENDS
from cardmaker.model.units import minutes

_RANGE: Final = r"\s*(\d{1,9})\s*(?:(?:-|–|—|to|\.\.)\s*(\d{1,9})\s*)?(?:ends?)?\s*"


def ends_range(text: str) -> tuple[int, int]:
    """The least and the most of ``9-31``, ``9 to 31`` or ``31``. Raises ValueError."""
    found = re.fullmatch(_RANGE, text, re.ASCII)
    if not found:
        raise ValueError(f"'{text}' is no range of ends: write the least and the most, as in 9-31, or one number")
    least, most = int(found[1]), int(found[2] or found[1])
    if least > most:
        raise ValueError(f"'{text}' has its larger number first: write {most}-{least}")
    if not least:
        raise ValueError(f"'{text}' begins with nought, and a tape has 1 end or more")
    if most > MOST_ENDS:
        raise ValueError(f"'{text}' is too many: a tape has {MOST_ENDS} ends at most")
    return least, most


def time_at_most(text: str) -> Fraction:
    """Minutes of ``2 h``, ``90 min`` or ``2 h 30 min``. Raises ValueError."""
    time = minutes(text)
    if not time:
        raise ValueError(f"'{text}' is no time at all")
    return time
