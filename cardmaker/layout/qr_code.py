"""A pattern file as a QR code (ISO/IEC 18004): which code holds it, and how it is drawn. The only user of segno."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from cardmaker.layout.ink import BLACK
from cardmaker.model.carried_file import Carried
from cardmaker.model.code_text import packed_text, plain_text
from cardmaker.model.marks import Box, Path, Step
from cardmaker.model.record_class import record

MOST_SIDE_MM: Final = 60.0  # of the code itself, without the white about it
LEAST_MODULE_MM: Final = 0.35  # four dots of a scan at 300 dpi
MOST_MODULE_MM: Final = 0.6  # larger ones are no easier to read
QUIET: Final = 4  # modules of white on every side (ISO/IEC 18004)
_MOST_MODULES: Final = int(MOST_SIDE_MM / LEAST_MODULE_MM + 1e-9)
# How much of a code may be lost and is mended: M 15 %, L 7 % (ISO/IEC 18004). A page in a binder gets creased and
# smeared, so the higher comes first; but rather plain text that mends less than packed text that mends more.
_LEVELS: Final = ("M", "L")


@record
class FileCode:
    """The rows of a code, a byte for each module, 1 where it is dark; and whether its text is packed."""

    rows: tuple[bytes, ...]
    is_packed: bool

    @property
    def modules(self) -> int:
        """How many modules a side has."""
        return len(self.rows)

    @property
    def most_module_mm(self) -> float:
        """The size of a module where there is room for the code as large as it may be."""
        return min(MOST_MODULE_MM, MOST_SIDE_MM / self.modules)


@lru_cache(maxsize=4)
def file_code(file: Carried) -> FileCode | None:
    """The code of a file: plain where one holds it, else packed; None of a file that is too large for either."""
    plain = plain_text(file)
    rows = _rows(plain, "byte") if plain else None
    if rows:
        return FileCode(rows, is_packed=False)
    rows = _rows(packed_text(file), "alphanumeric")
    return FileCode(rows, is_packed=True) if rows else None


def _rows(text: bytes, mode: str) -> tuple[bytes, ...] | None:
    import segno

    for level in _LEVELS:
        try:
            code = segno.make(text, error=level, mode=mode, micro=False)
        except segno.DataOverflowError:
            continue
        if len(code.matrix) <= _MOST_MODULES:
            return tuple(bytes(row) for row in code.matrix)
    return None


def code_mark(code: FileCode, square: Box) -> Path:
    """The code in ``square``, without the white about it: a figure for each row's neighbouring dark modules.

    All in one path: of rectangles by themselves printers and screens draw each a little too large, so that white
    modules get too small; within one path none is drawn larger than it is.
    """
    module = square.width / code.modules
    steps: list[Step] = []
    for number, row in enumerate(code.rows):
        y1, y2 = square.top + number * module, square.top + (number + 1) * module
        for start, stop in _dark_runs(row):
            x1, x2 = square.left + start * module, square.left + stop * module
            steps += [("move", x1, y1), ("line", x2, y1), ("line", x2, y2), ("line", x1, y2), ("close",)]
    return Path(tuple(steps), fill=BLACK)


def _dark_runs(row: bytes) -> list[tuple[int, int]]:
    """Where neighbouring dark modules start, and stop."""
    edges = [at for at, (before, here) in enumerate(zip(b"\0" + row, row + b"\0", strict=True)) if before != here]
    return list(zip(edges[::2], edges[1::2], strict=True))
