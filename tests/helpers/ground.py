"""What words stand on: the page without its words as a grey picture, and how well each word stands out from it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

import numpy as np
import numpy.typing as npt

from cardmaker.model.marks import Group, Link, Mark, Page, Stamp, Words
from cardmaker.model.record_class import replace
from tests.helpers.card_faults import ink_box
from tests.helpers.painted import paint
from tests.helpers.paper_tools import Grey, cut_out, picture

DPI: Final = 300
LEAST_CONTRAST: Final = 4.5  # WCAG 2.2, success criterion 1.4.3, for text of any size
MOST_LOST: Final = 0.03  # share of a word's room that may be darker: the edge of an outline beside it


def bare(page: Page) -> Page:
    """The page as it is without its words."""
    return replace(page, marks=tuple(_wordless(page.marks)))


def _wordless(marks: Iterable[Mark]) -> Iterator[Mark]:
    for mark in marks:
        if isinstance(mark, Group | Link | Stamp):
            yield replace(mark, marks=tuple(_wordless(mark.marks)))
        elif not isinstance(mark, Words):
            yield mark


def ground_of(page: Page) -> Grey:
    return picture(paint([bare(page)], title="Ground"), DPI)


def low_contrasts(ground: Grey, words: Iterable[Words]) -> list[str]:
    """The words of a page that do not stand out from what lies under or over them, without colour."""
    lost = ((each, _lost(ground, each)) for each in words if each.text.strip())
    return [f"'{each.text}' stands on what hides {share:.0%} of it" for each, share in lost if share > MOST_LOST]


def _lost(ground: Grey, words: Words) -> float:
    """The share of the room of some words in which the contrast with their own grey is too low."""
    part = cut_out(ground, ink_box(words), DPI)
    if not part.size:
        return 1.0
    letters = _luminance(np.array([_grey(words.colour)]))
    return float((_contrast(_luminance(part), letters) < LEAST_CONTRAST).mean())


def _grey(colour: str) -> float:
    """As a copier sees a colour (ITU-R BT.601)."""
    red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    return 0.299 * red + 0.587 * green + 0.114 * blue


def _luminance(grey: npt.NDArray[np.generic]) -> npt.NDArray[np.float64]:
    """Relative luminance of greys of 0 to 255 (WCAG 2.2)."""
    share = grey.astype(np.float64) / 255
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def _contrast(one: npt.NDArray[np.float64], two: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    return (np.maximum(one, two) + 0.05) / (np.minimum(one, two) + 0.05)
