"""Whether two PDFs show the same card, loosely: inks may differ at edges, but nothing may be missing or elsewhere."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
import pypdfium2

DPI = 72
BLOCK = 6  # pixels: about 2 mm
MOST_OF_ALL, MOST_OF_A_BLOCK = 0.006, 0.25  # of black; kerning that cannot be turned off makes 0.004 and 0.24


class Difference(NamedTuple):
    """How far two pictures lie apart, white to black being 1: over the whole page, and in the worst block of 2 mm."""

    of_all: float
    of_a_block: float

    @property
    def is_small(self) -> bool:
        return self.of_all <= MOST_OF_ALL and self.of_a_block <= MOST_OF_A_BLOCK


def picture(pdf: bytes) -> Any:
    """The first page in greys from 0 to 1."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return document[0].render(scale=DPI / 72, grayscale=True).to_numpy().squeeze().astype(float) / 255
    finally:
        document.close()


def difference(one: bytes, other: bytes) -> Difference:
    """Raises ValueError for pages of two sizes."""
    first, second = picture(one), picture(other)
    if first.shape != second.shape:
        raise ValueError(f"pages of two sizes: {first.shape} and {second.shape} pixels")
    blocks = np.abs(_blocks(first) - _blocks(second))
    return Difference(float(blocks.mean()), float(blocks.max()))


def _blocks(greys: Any) -> Any:
    """The mean grey of each block."""
    rows, columns = (size // BLOCK for size in greys.shape)
    cut = greys[: rows * BLOCK, : columns * BLOCK]
    return cut.reshape(rows, BLOCK, columns, BLOCK).mean(axis=(1, 3))
