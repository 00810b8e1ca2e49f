"""The code that holds the pattern file: what it is, and how the file comes back from paper."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.wording.phrases import listed

HEADING: Final = "The pattern file, in a code"
FROM_PAPER: Final = "cardmaker restore scan.png"
FROM_PDF: Final = "cardmaker restore card.pdf"
HOW_BACK: Final = (
    "To get the file back, scan this page at 300 dpi, or photograph the square, sharp and from straight above it. "
    f"Then run: {FROM_PAPER}"
)
TOO_LARGE: Final = (
    "This pattern file is too large for a code that can be read again from paper. Keep the file, or the PDF of this "
    f"card, which carries it. To get it out of there, run: {FROM_PDF}"
)
_PLAIN: Final = "as plain text, which a phone can show as well"
_PACKED: Final = "compressed (by two standards: zlib, RFC 1950, written in Base45, RFC 9285)"


def what_it_holds(*, is_packed: bool, yarn_files: Sequence[str] = ()) -> str:
    """What is in the code, and in which form; and that the files of its yarns are not."""
    held = f"This square holds the whole pattern file, with its notes, {_PACKED if is_packed else _PLAIN}."
    if not yarn_files:
        return held
    files = f"the {'file' if len(yarn_files) == 1 else 'files'} of {listed(yarn_files)}"
    return f"{held} Not in it: {files}. Keep them, or the PDF of this card."


def code_alt_text(*, is_packed: bool) -> str:
    """What is heard in place of the code."""
    form = "compressed" if is_packed else "as plain text"
    return f"A square QR code, which holds the whole pattern file {form}."
