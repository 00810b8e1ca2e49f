"""Scans of a record's code: a layout of one's own that has it, pages as pictures, and what wears them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Final, Literal

import numpy as np
import numpy.typing as npt
import pypdfium2
from PIL import Image
from scipy.ndimage import gaussian_filter, rotate

from cardmaker.card.composing import Composed, compose_card
from cardmaker.jobs import card_making, loading, plan_making
from cardmaker.model.card_layout import CardLayout
from cardmaker.model.marks import Box, Group
from cardmaker.model.marks import Path as Outline
from cardmaker.pdf.fonts import TypeRuler
from tests.helpers.card_faults import leaves
from tests.helpers.places import CASES, ROOT

Grey = npt.NDArray[np.uint8]

KEEPSAKE: Final = CASES / "layouts" / "keepsake.yaml"  # a record with the code at its foot
SCAN_DPI: Final = 300
POINT: Final = 25.4 / 72


@cache
def keepsake() -> CardLayout:
    return loading.load_layout(KEEPSAKE)


@cache
def card_with_code(pattern: Path) -> tuple[bytes, Composed]:
    """The PDF of a pattern's card, and its page."""
    of = keepsake()
    plan = plan_making.plan_for(loading.load_pattern(pattern), plan_making.load_plan_setup_for(of, None))
    composed = compose_card(plan, of, of.papers[0], TypeRuler())
    return card_making.make_card(plan, of, of.papers[0], None).pdf, composed


@cache
def record_with_back(pattern: Path, paper: int = 0) -> bytes:
    """The PDF of a pattern's record, front and back."""
    of = loading.load_layout(ROOT / "layouts" / "cards" / "record.yaml")
    setup = plan_making.load_plan_setup_for(of.as_back(of.papers[paper]), None)
    plan = plan_making.plan_for(loading.load_pattern(pattern), setup)
    return card_making.make_card(plan, of, of.papers[paper], None, with_back=True).pdf


def code_box(composed: Composed) -> Box:
    """Where the dark modules are, without the white about them."""
    figures = [mark for mark in composed.page.marks if isinstance(mark, Group) and mark.name == "file-code"]
    (path,) = (mark for mark in leaves(figures) if isinstance(mark, Outline))
    xs = [float(step[1]) for step in path.steps if step[0] in ("move", "line")]
    ys = [float(step[2]) for step in path.steps if step[0] in ("move", "line")]
    return Box(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


def page_scanned(
    pdf: bytes, about: Box | None = None, *, page_index: int = 0, around: float = 4.0, dpi: int = SCAN_DPI
) -> Grey:
    """A page of a PDF in greys, or of it a box with ``around`` mm on all sides."""
    page = pypdfium2.PdfDocument(pdf)[page_index]
    wide, high = page.get_size()
    crop = (0.0, 0.0, 0.0, 0.0)
    if about:
        sides = (about.left, high * POINT - about.bottom, wide * POINT - about.right, about.top)
        crop = tuple((side - around) / POINT for side in sides)  # type: ignore[assignment]
    return np.asarray(page.render(scale=dpi / 72, crop=crop).to_pil().convert("L"))


def worn(scan: Grey, *, degrees: float = 1.0, sigma: float = 1.0, times: int = 2) -> Grey:
    """A scan turned, blurred by a Gaussian of ``sigma`` pixels, and made black and white; so many times."""
    for _ in range(times):
        turned = rotate(scan.astype(float), degrees, order=1, cval=255)
        scan = np.where(gaussian_filter(turned, sigma) >= 128, 255, 0).astype(np.uint8)
    return scan


def picture(scan: Grey, kind: Literal["PNG", "JPEG"] = "PNG") -> bytes:
    """The picture's file."""
    file = BytesIO()
    Image.fromarray(scan).save(file, kind)
    return file.getvalue()


def side_by_side(scans: Sequence[Grey]) -> Grey:
    """Several on one sheet of white."""
    high = max(scan.shape[0] for scan in scans)
    padded = [np.pad(scan, ((0, high - scan.shape[0]), (0, 0)), constant_values=255) for scan in scans]
    return np.hstack(padded)
