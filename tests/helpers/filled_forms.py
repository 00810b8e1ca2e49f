"""Forms filled in by two libraries, as PDF readers do it, and what is written into them."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from functools import cache
from io import BytesIO
from typing import Any, Final

import pikepdf
from pypdf import PdfReader, PdfWriter

from cardmaker.jobs.form_making import form_pdf

Texts = Mapping[str, str]


@cache
def blank() -> bytes:
    return form_pdf("a4", "metric")


def filled_by_pypdf(texts: Texts, ticks: Collection[str] = (), pdf: bytes | None = None) -> bytes:
    """Values and their appearances."""
    writer = PdfWriter(clone_from=PdfReader(BytesIO(pdf or blank())))
    values = {**texts, **dict.fromkeys(ticks, "/Yes")}
    writer.update_page_form_field_values(writer.pages[0], values, auto_regenerate=False)
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def filled_by_pikepdf(texts: Texts, ticks: Collection[str] = (), pdf: bytes | None = None) -> bytes:
    """Values alone: whoever opens it is asked to draw them."""

    def fill(opened: pikepdf.Pdf) -> None:
        fields = fields_of(opened)
        for name, text in texts.items():
            fields[name].V = pikepdf.String(text)
        for name in ticks:
            fields[name].V = fields[name].AS = pikepdf.Name.Yes
        opened.Root.AcroForm.NeedAppearances = True

    return changed(pdf or blank(), fill)


FILLERS: Final[dict[str, Callable[..., bytes]]] = {"pypdf": filled_by_pypdf, "pikepdf": filled_by_pikepdf}


def changed(pdf: bytes, change: Callable[[pikepdf.Pdf], None], **saving: Any) -> bytes:
    """The document with a change, saved again."""
    with pikepdf.open(BytesIO(pdf)) as opened:
        change(opened)
        out = BytesIO()
        opened.save(out, **saving)
    return out.getvalue()


def fields_of(opened: pikepdf.Pdf) -> dict[str, Any]:
    return {str(field.T): field for field in opened.Root.AcroForm.Fields}


def rows(*stripes: str) -> dict[str, str]:
    """The fields of stripes written as ``9 white``, each in a row of its own."""
    texts: dict[str, str] = {}
    for number, stripe in enumerate(stripes, start=1):
        ends, colour = stripe.split(" ", 1)
        texts |= {f"stripe_{number:02d}_ends": ends, f"stripe_{number:02d}_colour": colour}
    return texts
