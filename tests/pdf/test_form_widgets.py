"""The fields of a form in the PDF, read back by other libraries: what a reader needs to fill them in."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from io import BytesIO
from typing import Any

import page as page_validation
import pikepdf
import pypdfium2
import pytest
from PIL import ImageChops

from cardmaker.form.form_sheet import compose_form
from cardmaker.jobs.form_making import form_pdf
from cardmaker.layout.transforms import shifted
from cardmaker.model.marks import Box, FormField, Group, Page, Words
from cardmaker.model.marks import Face as TypeFace
from cardmaker.pdf.draft import draft_of, with_links_to
from cardmaker.pdf.fonts import face_path
from cardmaker.school.handout_sheets import WHOLE
from tests.helpers.accessible import faults
from tests.helpers.card_faults import leaves
from tests.helpers.filled_forms import FILLERS, blank, changed, fields_of, filled_by_pikepdf, filled_by_pypdf
from tests.helpers.painted import paint
from tests.helpers.record_cards import RULER
from tests.helpers.tagged import structure_of, walk

MM = 72 / 25.4
TEXTS = {"title": "Gate Band", "stripe_01_ends": "9", "stripe_01_colour": "grey", "certainty": "give or take one"}


@pytest.fixture
def opened() -> Iterator[pikepdf.Pdf]:
    with pikepdf.open(BytesIO(blank())) as pdf:
        yield pdf


@cache
def marks() -> dict[str, FormField]:
    sheet = compose_form(WHOLE["a4"], RULER, "metric")
    return {mark.name: mark for mark in leaves(sheet.marks) if isinstance(mark, FormField)}


def test_the_fields_are_those_of_the_page_in_its_order(opened: pikepdf.Pdf) -> None:
    assert list(fields_of(opened)) == list(marks())
    (page,) = opened.pages
    assert [annotation.objgen for annotation in page.Annots] == [field.objgen for field in opened.Root.AcroForm.Fields]


def test_each_has_its_place_its_words_and_its_kind(opened: pikepdf.Pdf) -> None:
    for name, field in fields_of(opened).items():
        mark = marks()[name]
        left, bottom, right, top = map(float, field.Rect)
        box = mark.box
        wanted = (box.left * MM, (297 - box.bottom) * MM, box.right * MM, (297 - box.top) * MM)
        assert (left, bottom, right, top) == pytest.approx(wanted, abs=0.01)
        assert str(field.TU) == mark.alt
        assert field.F == 4  # it is printed
        assert ("/Btn" if mark.kind == "tick" else "/Tx") == field.FT
        assert "/V" not in field
        assert int(field.get("/MaxLen", 0)) == mark.most
        assert int(field.get("/Q", 0)) == (1 if mark.align == "middle" else 0)


def test_each_has_an_appearance_of_its_own_and_type_to_be_set_in(opened: pikepdf.Pdf) -> None:
    """Two that share one would show each other's words."""
    known = opened.Root.AcroForm.DR.Font
    seen = set()
    for field in fields_of(opened).values():
        font = str(field.DA).split()[0]
        assert font in known
        normal = field.AP.N
        drawn = [normal] if field.FT == "/Tx" else [normal.Yes, normal.Off]
        assert all(each.objgen not in seen for each in drawn)
        seen |= {each.objgen for each in drawn}
        wide, high = float(field.Rect[2]) - float(field.Rect[0]), float(field.Rect[3]) - float(field.Rect[1])
        assert [float(side) for each in drawn for side in each.BBox] == pytest.approx(
            [0, 0, wide, high] * len(drawn), abs=0.01
        )
        assert field.FT == "/Tx" or field.AS == "/Off"


def test_what_is_typed_is_set_in_our_own_face_which_is_there_whole(opened: pikepdf.Pdf) -> None:
    """WinAnsi codes, a face with a Unicode table for Windows, and the widths that its own tables have."""
    font = opened.Root.AcroForm.DR.Font.SourceSans
    assert (str(font.Subtype), str(font.Encoding)) == ("/TrueType", "/WinAnsiEncoding")
    assert int(font.FontDescriptor.Flags) == 32  # not symbolic
    assert font.FontDescriptor.FontFile2.read_bytes() == face_path(TypeFace.SANS).read_bytes()
    widths = {code: int(width) for code, width in enumerate(font.Widths, start=int(font.FirstChar))}
    assert set(widths) == set(range(32, 256))
    for code in range(32, 256):
        try:
            sign = bytes([code]).decode("cp1252")
        except UnicodeDecodeError:
            continue
        assert widths[code] == pytest.approx(RULER.width_mm(sign, TypeFace.SANS, 1000) * MM, abs=1), sign


def test_each_is_an_element_of_the_form_within_its_cell_or_section(opened: pikepdf.Pdf) -> None:
    elements = [element for element in walk(structure_of(opened)) if element.tag == "/Form"]
    told = [str(kid.entry.T) for element in elements for kid in element.kids if hasattr(kid, "entry")]
    assert told == list(marks())
    (page,) = opened.pages
    assert page.Tabs == "/S"


def test_the_form_is_accessible_empty_and_filled() -> None:
    """What it claims (PDF/UA-1) holds when it is saved with what was typed, since it brings the type for that."""
    for size, units in (("letter", "us"), ("a4", "metric")):
        assert faults(form_pdf(size, units)) == []  # type: ignore[arg-type]
    for pdf in (blank(), filled_by_pypdf(TEXTS, ["grade_a"]), filled_by_pikepdf(TEXTS, ["grade_a"])):
        report = page_validation.validate_pdf_bytes(pdf, profile="ua1")
        assert report.rules.total > 100
        assert [failure.message for failure in report.failures] == []


@pytest.mark.parametrize(
    "change",
    [
        lambda field: field.__delitem__("/TU"),
        lambda field: field.__setitem__("/StructParent", 10_000),
        lambda field: field.__setitem__("/Subtype", pikepdf.Name.Link),
    ],
)
def test_a_field_that_is_not_accessible_is_found(change: Any) -> None:
    def spoil(pdf: pikepdf.Pdf) -> None:
        change(fields_of(pdf)["title"])

    try:
        found = faults(changed(blank(), spoil))
    except KeyError:  # it leads back to nothing
        return
    assert found


def rendered(pdf: bytes) -> Any:
    document = pypdfium2.PdfDocument(pdf)
    document.init_forms()
    return document[0].render(scale=2, may_draw_forms=True).to_pil().convert("L")


@pytest.mark.parametrize("library", FILLERS)
def test_what_is_filled_in_is_seen_in_its_field_and_nowhere_else(library: str) -> None:
    """Of pikepdf's, which has values alone, whoever opens it draws them."""
    filled = FILLERS[library](TEXTS, ["grade_a", "mirror_last"])
    difference = ImageChops.difference(rendered(blank()), rendered(filled)).point(lambda grey: 255 * (grey > 60))
    seen = {name: box_of(name) for name in ("grade_a", "mirror_last", *TEXTS)}
    for name, box in seen.items():
        assert difference.crop(box).getbbox(), name
        difference.paste(0, box)
    assert difference.getbbox() is None


def box_of(name: str) -> tuple[int, int, int, int]:
    box, scale = marks()[name].box, 2 * MM
    return (
        int(box.left * scale) - 2, int(box.top * scale) - 2, int(box.right * scale) + 3, int(box.bottom * scale) + 3
    )  # fmt: skip


def test_the_same_form_has_the_same_bytes() -> None:
    form_pdf("letter", "us")
    assert form_pdf("a4", "metric") == blank()


def test_a_page_without_fields_has_no_form() -> None:
    box = Box(20, 20, 40, 10)
    words = Group("title", "", box, (Words(20, 30, "Lane", TypeFace.SANS, 12),))
    with pikepdf.open(BytesIO(paint([Page(100, 100, (words,))], title="Lane"))) as pdf:
        assert "/AcroForm" not in pdf.Root


def test_a_field_moves_with_the_marks_beside_it_and_stays_where_links_go() -> None:
    field = FormField(Box(20, 20, 40, 10), "lane", "its name")
    (moved,) = shifted([field], 5, 7)
    assert isinstance(moved, FormField)
    assert moved.box == Box(25, 27, 40, 10)
    draft = draft_of(Page(100, 100, (Group("panel", "", Box(0, 0, 100, 100), (field,)),)))
    assert with_links_to(draft, ()) == draft
