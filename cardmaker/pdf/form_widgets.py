"""The fields of a form: places on a page that a PDF reader fills in and saves.

Interactive forms: ISO 32000-1:2008, 12.7; what an accessible file asks of their fields: ISO 14289-1, 7.18. Every field
has a name, words that say what belongs in it, an appearance for what it holds at first, which is nothing, and the type
that a reader sets what is written in. That is our own, whole, since nobody knows what will be typed: so what is filled
in keeps to our type, and the filled file has all its fonts. A box is ticked by a drawing.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.marks import Face
from cardmaker.pdf.document import Document, Raw, add_entries, compact_text, pdf_array, text_string
from cardmaker.pdf.fonts import face_file
from cardmaker.pdf.operands import compact
from cardmaker.pdf.page_resources import FieldPlace

TICKED: Final = "Yes"
_NAME: Final = "SourceSans"
_TICKS: Final = "ZaDb"  # every reader has it, and some draw a tick of their own with it
_TYPE: Final = (
    f"/{_NAME} 10.5 Tf 0 g"  # of one size, which no reader cuts off below; what is longer than its line goes on
)
_WIN_ANSI: Final = range(32, 256)  # codes: ISO 32000-1, annex D.2
_NOT_SYMBOLIC: Final = 32  # a flag of fonts: ISO 32000-1, table 123
_ASCENT, _DESCENT, _CAPITALS = 984, -273, 660  # thousandths of the size: read from the font
_BOX: Final = "-454 -292 2159 968"  # around all its letters, likewise
_PRINTED: Final = 4  # a flag of annotations: ISO 32000-1, table 165
_MIDDLE: Final = 1  # a quadding: ISO 32000-1, table 222
_STROKE: Final = 1.4  # points, of a tick


def add_form(document: Document, fields: Sequence[int]) -> None:
    """The form of all fields, by their objects' numbers in their order on the page."""
    font = document.reference(Raw(_font(document)))
    ticks = document.reference(Raw("/Type /Font /Subtype /Type1 /BaseFont /ZapfDingbats"))
    references = pdf_array(f"{number} 0 R" for number in fields)
    form = Raw(f"/Fields {references} /DR << /Font << /{_NAME} {font} /{_TICKS} {ticks} >> >> /DA ({_TYPE})")
    add_entries(document.Catalog, AcroForm=form)


def _font(document: Document) -> str:
    """The sans with the codes of Western Europe, in the form that readers set type in by themselves."""
    face = face_file(Face.SANS)
    name, data = face.path.stem, face.path.read_bytes()
    file = document.reference(compact_text(data, {"Length1": len(data)}))
    widths = (face.advances[bytes([code]).decode("cp1252", "replace")] for code in _WIN_ANSI)
    described = (
        f"/Type /FontDescriptor /FontName /{name} /Flags {_NOT_SYMBOLIC} /FontBBox [{_BOX}] /ItalicAngle 0"
        f" /Ascent {_ASCENT} /Descent {_DESCENT} /CapHeight {_CAPITALS} /StemV 84 /FontFile2 {file}"
    )
    return (
        f"/Type /Font /Subtype /TrueType /BaseFont /{name} /Encoding /WinAnsiEncoding"
        f" /FirstChar {_WIN_ANSI.start} /LastChar {_WIN_ANSI.stop - 1} /Widths {pdf_array(map(str, widths))}"
        f" /FontDescriptor {document.reference(Raw(described))}"
    )


def widget(document: Document, place: FieldPlace, page: str, key: int) -> str:
    """One field with its only place on the page, as it is written; ``key`` is its own in the parent tree."""
    left, bottom, right, top = place.corners
    field = place.field
    parts = _tick(document, place) if field.kind == "tick" else _line(document, place)
    return (
        f"<</Type/Annot/Subtype/Widget/Rect[{left:g} {bottom:g} {right:g} {top:g}]/F {_PRINTED}/P {page}"
        f"/T {text_string(field.name)}/TU {text_string(field.alt)}/StructParent {key}{parts}>>"
    )


def _line(document: Document, place: FieldPlace) -> str:
    field = place.field
    most = f"/MaxLen {field.most}" if field.most else ""
    middle = f"/Q {_MIDDLE}" if field.align == "middle" else ""
    empty = _appearance(document, place, "")
    return f"/FT/Tx/DA({_TYPE}){most}{middle}/AP<</N {empty}>>"


def _tick(document: Document, place: FieldPlace) -> str:
    left, bottom, right, top = place.corners
    wide, high = right - left, top - bottom
    steps = ((0.2, 0.5, "m"), (0.42, 0.22, "l"), (0.8, 0.8, "l"))
    drawn = " ".join(f"{compact(x * wide)} {compact(y * high)} {operator}" for x, y, operator in steps)
    ticked = _appearance(document, place, f"q 1 J 1 j {compact(_STROKE)} w 0 G {drawn} S Q")
    empty = _appearance(document, place, "")
    return f"/FT/Btn/DA(/{_TICKS} 10 Tf 0 g)/MK<</CA(4)>>/AS/Off/AP<</N<</{TICKED} {ticked}/Off {empty}>>>>"


def _appearance(document: Document, place: FieldPlace, code: str) -> str:
    """What a place shows, as a form of its own: programs that fill fields in write into it."""
    left, bottom, right, top = place.corners
    box = f"[0 0 {compact(right - left)} {compact(top - bottom)}]"
    entries = f"/Type /XObject /Subtype /Form /BBox {box} /Resources << >>"
    return document.reference(Raw(entries, code.encode()))
