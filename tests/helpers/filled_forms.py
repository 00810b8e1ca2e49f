"""Forms filled in by two libraries, and by the PDF reader of a browser with mouse and keys."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from functools import cache
from io import BytesIO
from typing import Any, Final

import pikepdf
import pypdfium2
from pypdf import PdfReader, PdfWriter
from pypdfium2 import raw

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


def filled_by_pdfium(texts: Texts, ticks: Collection[str] = (), pdf: bytes | None = None) -> bytes:
    """As somebody does it in a browser: a click into each field, and key by key; saved as a copy."""
    form = pdf or blank()
    with pikepdf.open(BytesIO(form)) as opened:
        middles = {name: _middle(field) for name, field in fields_of(opened).items()}
    document = pypdfium2.PdfDocument(form)
    document.init_forms()
    first = document[0]
    page, keyboard = first.raw, document.formenv.raw
    raw.FORM_OnAfterLoadPage(page, keyboard)
    for name in (*texts, *ticks):
        raw.FORM_OnMouseMove(keyboard, page, 0, *middles[name])
        raw.FORM_OnLButtonDown(keyboard, page, 0, *middles[name])
        raw.FORM_OnLButtonUp(keyboard, page, 0, *middles[name])
        for sign in texts.get(name, ""):
            raw.FORM_OnChar(keyboard, page, ord(sign), 0)
    raw.FORM_ForceToKillFocus(keyboard)
    out = BytesIO()
    document.save(out)
    first.close()
    document.close()
    return out.getvalue()


def _middle(field: Any) -> tuple[float, float]:
    left, bottom, right, top = map(float, field.Rect)
    return (left + right) / 2, (bottom + top) / 2


FILLERS: Final[dict[str, Callable[..., bytes]]] = {
    "pypdf": filled_by_pypdf,
    "pikepdf": filled_by_pikepdf,
    "pdfium": filled_by_pdfium,
}


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
