"""A photograph as a card prints it: the picture's own data, without anything that a camera noted beside it."""

from __future__ import annotations

import re
from hashlib import sha256
from typing import Final, Literal

from cardmaker.model.pattern import Source
from cardmaker.model.record_class import record

ENDINGS: Final = (".jpg", ".jpeg", ".png")
LARGEST_PHOTOGRAPH: Final = 4 * 1024 * 1024  # bytes of its file: a card is for printing and for sending (ours)
MOST_PIXELS: Final = 24_000_000  # of a picture: more than any small print shows (ours)
Turn = Literal[0, 90, 180, 270]  # clockwise, from how it is stored to how it is seen


@record
class Photograph:
    """``data`` is a JPEG file, or the compressed rows of a PNG; ``wide`` and ``high`` are pixels as they are stored.

    ``channels`` is 1 for greys and 3 for colours; ``palette`` has the colours, three bytes each, of a picture that
    numbers them.
    """

    name: str
    kind: Literal["jpeg", "png"]
    data: bytes
    wide: int
    high: int
    channels: int
    bits: int = 8
    palette: bytes = b""
    turned: Turn = 0

    @property
    def shape(self) -> float:
        """How wide it is for its height, as it is seen."""
        return self.high / self.wide if self.turned in (90, 270) else self.wide / self.high

    @property
    def digest(self) -> str:
        """By which one picture is told from another."""
        return sha256(self.data + self.palette).hexdigest()


def photograph_to_print(source: Source | None) -> str:
    """The name of the file that a source names as its photograph and allows to be printed; else nothing.

    Allowed it is by a *yes* and nothing else: of what belongs to others nothing is printed because nobody forbade it.
    """
    if source is None or not source.photograph.lower().endswith(ENDINGS):
        return ""
    if not re.match(_YES, source.may_print_photograph):
        return ""
    return source.photograph


def condition_of_print(source: Source) -> str:
    """What is written after that *yes*: in whose name it may be printed."""
    return re.sub(_YES, "", source.may_print_photograph, count=1).strip()


_YES: Final = r"(?i)\s*yes\b[\s,;:.]*"  # compiled when a file names a photograph
