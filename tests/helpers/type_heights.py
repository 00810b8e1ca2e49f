"""How high letters stand and hang, as the font files say it themselves to a reader that is not ours."""

from __future__ import annotations

from functools import cache
from typing import Any

from reportlab.pdfbase.ttfonts import TTFont

from cardmaker.layout.ink import POINT
from cardmaker.model.marks import Face
from cardmaker.pdf.fonts import face_path


def cap_height_mm(face: Face, size_pt: float) -> float:
    """How high capitals and figures stand above the baseline."""
    units: int = _read(face).capHeight
    return units / 1000 * size_pt * POINT


def descent_mm(face: Face, size_pt: float) -> float:
    """The room a line asks for below its baseline, as a positive length."""
    units: int = -_read(face).descent
    return units / 1000 * size_pt * POINT


@cache
def _read(face: Face) -> Any:
    return TTFont(f"heights of {face}", str(face_path(face))).face
