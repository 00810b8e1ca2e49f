"""What the tests of printed paper share: a card as a grey picture, rulers read off it, and what a copier does to it.

Rows and columns of a picture are pixels from the top left, 0 black to 255 white; lengths are millimetres.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from io import BytesIO
from typing import Final

import numpy as np
import numpy.typing as npt
import pikepdf
import pypdfium2
from scipy.ndimage import gaussian_filter

from cardmaker.card.composing import Composed, compose_card
from cardmaker.jobs import card_making
from cardmaker.model.card_layout import Paper
from cardmaker.model.marks import Box
from cardmaker.model.plan import Plan
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.wording.formatters import Units
from tests.helpers.shipped import paper_of as paper
from tests.helpers.shipped import plan_for_layout
from tests.helpers.shipped import shipped_layout as layout

MM_PER_INCH: Final = 25.4
MM_PER_POINT: Final = 25.4 / 72
RULER: Final = TypeRuler()

Grey = npt.NDArray[np.uint8]

# A copier that still passes half of the contrast at three line pairs to the millimetre blurs by a Gaussian of
# 0.187 / 3 mm: exp(-2 (pi sigma f)^2) = 1/2. From memory; common practice, no source.
COPIER_BLUR_MM: Final = 0.0624
WORN_BLUR_MM: Final = 0.127  # a worn one, at half of that: 1.5 line pairs to the millimetre
COPIER_CUT: Final = 150  # what is darker than this takes toner


# Cards from files


def composed(
    of: Plan, stem: str, on: Paper | None = None, *, left_hand: bool = False, units: Units | None = None
) -> Composed:
    return compose_card(plan_as_seen(of, Viewpoint(left_hand)), layout(stem), on or paper(stem), RULER, units)


@cache
def printed(pattern: str, stem: str, paper_name: str | None = None) -> bytes:
    """The card of a pattern on the smallest loom that holds it, as a file."""
    return card_making.make_card(plan_for_layout(pattern, stem), layout(stem), paper(stem, paper_name), None).pdf


# Paper


@lru_cache(maxsize=4)  # one at 600 dpi takes 34 MB
def picture(pdf: bytes, dpi: int) -> Grey:
    """The first page in grey."""
    page = pypdfium2.PdfDocument(pdf)[0].render(scale=dpi / 72, grayscale=True)
    grey: Grey = page.to_numpy().reshape(page.height, page.width)
    return grey


def scaled(pdf: bytes, factor: float) -> bytes:
    """The page printed smaller about its middle on a sheet of the same size, as a printer fits it to the paper."""
    with pikepdf.open(BytesIO(pdf)) as document:
        page = document.pages[0]
        width, height = (float(value) for value in list(page.mediabox)[2:])
        aside, down = width * (1 - factor) / 2, height * (1 - factor) / 2
        page.contents_add(f"q {factor} 0 0 {factor} {aside:.4f} {down:.4f} cm\n".encode(), prepend=True)
        page.contents_add(b"\nQ\n")
        made = BytesIO()
        document.save(made)
    return made.getvalue()


def copied(sheet: Grey, dpi: int, *, blur_mm: float = COPIER_BLUR_MM) -> Grey:
    """A black-and-white copy: what the lens blurs is toner or paper."""
    blurred = gaussian_filter(sheet.astype(np.float32), blur_mm * dpi / MM_PER_INCH)
    return np.where(blurred < COPIER_CUT, 0, 255).astype(np.uint8)


def inked(sheet: Grey, dpi: int, darker_than: float = 250) -> Box:
    """The smallest box that holds everything printed."""
    rows, columns = np.nonzero(sheet < darker_than)
    mm = MM_PER_INCH / dpi
    left, top = float(columns.min()) * mm, float(rows.min()) * mm
    return Box(left, top, float(columns.max() + 1) * mm - left, float(rows.max() + 1) * mm - top)


def cut_out(sheet: Grey, box: Box, dpi: int) -> Grey:
    """The part of a picture that lies in a box."""
    left, top, right, bottom = (round(side * dpi / MM_PER_INCH) for side in (box.left, box.top, box.right, box.bottom))
    return sheet[max(0, top) : bottom, max(0, left) : right]


# Rulers


def dark_runs(line: Grey, lighter_than: float = 200) -> list[tuple[float, int]]:
    """Each run of dark pixels in one row or column: its centre of gravity in pixels, and how many there are in it."""
    ink = 255.0 - line
    edges = np.flatnonzero(np.diff(np.concatenate(([False], line < lighter_than, [False])).astype(np.int8)))
    found = []
    for start, stop in zip(edges[::2], edges[1::2], strict=True):
        from_, to = max(0, start - 1), min(len(line), stop + 1)  # the grey edges belong to the run
        weights = ink[from_:to]
        found.append((float((np.arange(from_, to) * weights).sum() / weights.sum()) + 0.5, int(stop - start)))
    return found


@dataclass(frozen=True, slots=True)
class Bar:
    """A row of ticks as measured: how many, how far apart by a straight line through all of them, and how far the one
    furthest from that line lies off it."""

    ticks: int
    apart_mm: float
    worst_mm: float

    @property
    def length_mm(self) -> float:
        return (self.ticks - 1) * self.apart_mm


def bar_of(places_mm: Sequence[float]) -> Bar:
    """The line through the ticks, by least squares."""
    numbers = np.arange(len(places_mm))
    slope, start = np.polyfit(numbers, np.asarray(places_mm), 1)
    worst = np.abs(start + slope * numbers - np.asarray(places_mm)).max()
    return Bar(len(places_mm), float(slope), float(worst))


def bars_of(places_mm: Sequence[float], gap_mm: float = 8.0) -> list[Bar]:
    """The ticks of one column as bars: where nothing stands for ``gap_mm`` a new one begins."""
    bars: list[list[float]] = [[]]
    for place in places_mm:
        if bars[-1] and place - bars[-1][-1] > gap_mm:
            bars.append([])
        bars[-1].append(place)
    return [bar_of(bar) for bar in bars]


def bars_in_picture(sheet: Grey, dpi: int, after_mm: float) -> list[Bar]:
    """The bars beside the ribbon. The upright they hang on is found first: the longest dark run of all the columns in
    the 3 mm after ``after_mm``; half a millimetre beyond it every tick is crossed."""
    first = round(after_mm * dpi / MM_PER_INCH)
    columns = range(first, first + round(3 * dpi / MM_PER_INCH))
    upright = max(columns, key=lambda column: max((run for _, run in dark_runs(sheet[:, column])), default=0))
    crossed = dark_runs(sheet[:, upright + round(0.5 * dpi / MM_PER_INCH)])
    return bars_of([centre * MM_PER_INCH / dpi for centre, _ in crossed])


def off_size(bars: Sequence[Bar], wanted_mm: Sequence[float], within_mm: float = 0.1) -> list[str]:
    """A sentence for every bar that is not as long as it says; no sentence when all are right."""
    if len(bars) != len(wanted_mm):
        return [f"{len(bars)} bars, not {len(wanted_mm)}"]
    return [
        f"a bar of {wanted} mm measures {bar.length_mm:.2f} mm"
        for bar, wanted in zip(bars, wanted_mm, strict=True)
        if abs(bar.length_mm - wanted) > within_mm
    ]


def overlap(box: Box, other: Box, slack: float = 1e-6) -> bool:
    """Whether the two share more than an edge."""
    return (
        box.left < other.right - slack
        and other.left < box.right - slack
        and box.top < other.bottom - slack
        and other.top < box.bottom - slack
    )
