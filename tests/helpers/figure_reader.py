"""Reads a whole number in a picture of a page, at a place that is known; says nothing when it is unsure.

It knows how digits look (the project's own typefaces, drawn by another library) and how high they are at the place; how
many there are and which, it finds. It compares digit by digit, so that a smudge on one cannot hide behind the others.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from math import floor
from typing import Final, NamedTuple

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageDraw, ImageFont
from scipy.ndimage import gaussian_filter, label

from cardmaker.model.marks import Box, Face
from cardmaker.pdf.fonts import face_path
from tests.helpers.paper_tools import MM_PER_INCH, MM_PER_POINT, Grey, copied, picture
from tests.helpers.type_heights import cap_height_mm

DPI: Final = 300
PIXEL: Final = MM_PER_INCH / DPI
FACES: Final = (Face.SANS_BOLD, Face.SANS_SEMIBOLD)  # what counts are set in
AROUND_MM: Final = 0.5  # as far as this about its place a figure's ink is followed; what goes on is no figure
REACH_PX: Final = round(AROUND_MM / PIXEL)
BEYOND_PX: Final = 2  # how far ink may stand over the height of the capitals: digits are rounder
SPECK_PX: Final = 3  # less ink in one piece is dust
LEAST_LIKENESS: Final = 0.92
LEAST_LEAD: Final = 0.05  # of a digit over the next likely one
MOST_DIGITS: Final = 3

Ink = npt.NDArray[np.bool_]
Soft = npt.NDArray[np.float32]


def copy_of_a_copy(pdf: bytes, dpi: int = DPI) -> Grey:
    """The first page as two poor copiers leave it: each blurs by a pixel and knows but toner and paper."""
    sheet = picture(pdf, dpi)
    for _ in range(2):
        sheet = copied(sheet, dpi, blur_mm=MM_PER_INCH / dpi)
    return sheet


def read_figure(sheet: Grey, place: Box, faces: Sequence[Face] = FACES) -> int | None:
    """The number whose digits stand in ``place``, which is as high as its capitals and wide enough for it; None when
    nothing stands there, when anything else stands or runs there too, or when a digit may be another.

    Black on white or white on black; ``sheet`` is a picture of two greys at ``DPI``.
    """
    found = ink_at(sheet, place)
    if found is None:
        return None
    types = [_Type(face, place.height / cap_height_mm(face, 1), found.is_light) for face in faces]
    readings = [reading for type_ in types if (reading := _reading(found.ink, type_)) is not None]
    best = max(readings, key=lambda reading: reading.likeness, default=None)
    if best is None or best.likeness < LEAST_LIKENESS or best.lead < LEAST_LEAD:
        return None
    return int(best.digits) if best.digits == str(int(best.digits)) else None


# What stands at the place


class Found(NamedTuple):
    """The ink of a figure, cut to its size, and whether it is paper that toner leaves free."""

    ink: Ink
    is_light: bool


def ink_at(sheet: Grey, place: Box) -> Found | None:
    """The ink of the figure alone: all that is joined to what stands in ``place``, and is not as the ring about it.

    None when there is none, or when it runs on out of sight, as a line, a hatching or a letter in the way does.
    """
    crop = _crop(sheet, place)
    if crop is None:
        return None
    core, ring = _core_and_ring(crop)
    is_light = bool(crop[ring].mean() > 0.5)
    pieces, number = label(crop != is_light, np.ones((3, 3)))
    found = np.zeros_like(crop)
    for piece in range(1, number + 1):
        mine = pieces == piece
        if not (mine & core).any() or mine.sum() < SPECK_PX:
            continue
        if _at_the_edge(mine):
            return None
        found |= mine
    rows, columns = np.nonzero(found)
    if not len(rows):
        return None
    return Found(found[rows.min() : rows.max() + 1, columns.min() : columns.max() + 1], is_light)


def _crop(sheet: Grey, place: Box) -> Ink | None:
    """What is dark about a place; None where that is no longer on the sheet."""
    left, top, right, bottom = (round(side / PIXEL) for side in (place.left, place.top, place.right, place.bottom))
    if min(left, top) < REACH_PX or bottom + REACH_PX > sheet.shape[0] or right + REACH_PX > sheet.shape[1]:
        return None
    return sheet[top - REACH_PX : bottom + REACH_PX, left - REACH_PX : right + REACH_PX] < 128


def _core_and_ring(crop: Ink) -> tuple[Ink, Ink]:
    """Which pixels are the place itself, and which lie about it."""
    core, ring = np.zeros_like(crop), np.zeros_like(crop)
    core[REACH_PX:-REACH_PX, REACH_PX:-REACH_PX] = True
    ring[REACH_PX - 3 : 3 - REACH_PX, REACH_PX - 3 : 3 - REACH_PX] = True
    return core, ring & ~core


def _at_the_edge(ink: Ink) -> bool:
    return bool(ink[0].any() or ink[-1].any() or ink[:, 0].any() or ink[:, -1].any())


# What it says


class _Type(NamedTuple):
    """How digits are set."""

    face: Face
    size: float
    is_light: bool  # on a dark ground

    @property
    def advance(self) -> float:
        """How wide a digit's room is, in pixels. Figures are tabular: all of one face are as wide."""
        return _advance(self.face) * self.size * MM_PER_POINT / PIXEL

    @property
    def height(self) -> float:
        return cap_height_mm(self.face, self.size) / PIXEL


@cache
def _advance(face: Face) -> float:
    """In shares of the size."""
    return float(ImageFont.truetype(str(face_path(face)), 1000).getlength("0")) / 1000


class _Reading(NamedTuple):
    """Digits, how like the worst of them is to what stands there, and how far it is ahead of any other digit."""

    digits: str
    likeness: float
    lead: float


@cache
def digits_drawn(type_: _Type) -> tuple[Ink, ...]:
    """The ten digits as two copiers leave them, each in the middle of the room that it takes on a line, with a border
    about it."""
    font = ImageFont.truetype(str(face_path(type_.face)), type_.size * MM_PER_POINT / PIXEL)
    wide, high, paper = round(type_.advance), round(type_.height), 0 if type_.is_light else 255
    drawn = []
    for digit in "0123456789":
        sheet = Image.new("L", (wide + 2 * BORDER, high + 2 * BORDER), paper)
        pen = BORDER + (wide - type_.advance) / 2
        ImageDraw.Draw(sheet).text((pen, BORDER + type_.height), digit, font=font, fill=255 - paper, anchor="ls")
        twice = np.asarray(sheet, dtype=np.uint8)
        for _ in range(2):
            twice = copied(twice, DPI, blur_mm=PIXEL)
        drawn.append((twice < 128) != type_.is_light)
    return tuple(drawn)


@cache
def _compared_with(type_: _Type) -> Soft:
    """Every digit in every shift as a row, ready to be multiplied with what stands in a room: digit by digit."""
    shifted = [_level(np.roll(digit, shift, (0, 1))) for digit in digits_drawn(type_) for shift in _SHIFTS]
    return np.stack(shifted)


_SHIFTS: Final = [(down, aside) for down in (-2, -1, 0, 1, 2) for aside in (-1, 0, 1)]


def _level(ink: Ink) -> Soft:
    """A small picture as one row of length 1 about nought, softened: a pixel's shift of an edge must not weigh as much
    as another digit. The product of two such rows is their correlation."""
    soft = gaussian_filter(ink.astype(np.float32), 0.8).ravel()
    row: Soft = soft - soft.mean()
    long = float(np.sqrt((row * row).sum()))
    return row / long if long else row


BORDER: Final = 6


def _reading(ink: Ink, type_: _Type) -> _Reading | None:
    """The likeliest number of digits and place of the first one, and what then stands in the room of each."""
    advance, high = type_.advance, type_.height
    if abs(ink.shape[0] - high) > 2 * BEYOND_PX:
        return None
    readings = (
        _read_from(ink, start, digits, type_)
        for digits in range(1, MOST_DIGITS + 1)
        for start in _starts(ink.shape[1], advance, digits)
    )
    return max(readings, key=lambda reading: reading.likeness, default=None)


def _starts(wide: int, advance: float, digits: int) -> Iterator[float]:
    """Where the room of the first digit may begin, in pixels from the left of the ink: all ink lies in the rooms."""
    spare = digits * advance - wide
    if -2 <= spare < advance:
        yield from (-float(step) for step in range(-1, floor(spare) + 2))


def _read_from(ink: Ink, start: float, digits: int, type_: _Type) -> _Reading:
    advance = type_.advance
    told, likeness, lead = "", 1.0, 1.0
    for number in range(digits):
        room = _level(_room(ink, start + number * advance, type_))
        alike = np.einsum("ij,j->i", _compared_with(type_), room).reshape(10, -1).max(axis=1)  # without threads
        next_best, best = np.argsort(alike)[-2:]
        told = f"{told}{best}"
        likeness, lead = min(likeness, float(alike[best])), min(lead, float(alike[best] - alike[next_best]))
    return _Reading(told, likeness, lead)


def _room(ink: Ink, left: float, type_: _Type) -> Ink:
    """What stands in the room of one digit, on a field as large as that of a drawn digit; ink of neighbours is left
    out."""
    high, wide = digits_drawn(type_)[0].shape
    field = np.zeros((high, wide), dtype=np.bool_)
    first, last = max(0, round(left)), min(ink.shape[1], round(left + type_.advance))
    top = (high - ink.shape[0]) // 2
    if last > first:
        at = BORDER + first - round(left)
        field[top : top + ink.shape[0], at : at + last - first] = ink[:, first:last]
    return field
