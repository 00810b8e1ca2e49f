"""What a form holds that somebody filled in, however it was saved; and what any other document is told to be."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from random import Random
from typing import Any

import pikepdf
import pytest
from pypdf import PdfWriter

from cardmaker.cli.command_line import run_command_line
from cardmaker.pdf.distrusted import CannotReadPdf
from cardmaker.pdf.form_values import LARGEST_FORM, MOST_LETTERS, FormValues, values_of_form
from tests.helpers.filled_forms import blank, changed, fields_of, filled_by_pikepdf, rows

Said = pytest.CaptureFixture[str]

pytestmark = pytest.mark.usefixtures("empty_folder")

STRIPES = ("2 blue", "9 white", "2 blue")
GOOD = {"title": "Gate Band", **rows(*STRIPES)}


def values(pdf: bytes) -> FormValues:
    Path("filled.pdf").write_bytes(pdf)
    return values_of_form(Path("filled.pdf"))


# Other documents


def without_form(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.AcroForm
    del pdf.pages[0].Annots


def of_xfa_alone(pdf: pikepdf.Pdf) -> None:
    pdf.Root.AcroForm = pikepdf.Dictionary(Fields=[], XFA=pikepdf.Stream(pdf, b"<xdp/>"))


def of_other_names(pdf: pikepdf.Pdf) -> None:
    for number, field in enumerate(fields_of(pdf).values()):
        field.T = pikepdf.String(f"Text{number}")


def without_weft(pdf: pikepdf.Pdf) -> None:
    pdf.Root.AcroForm.Fields = [field for field in pdf.Root.AcroForm.Fields if str(field.T) != "weft"]


def without_row_twenty(pdf: pikepdf.Pdf) -> None:
    fields = [field for field in pdf.Root.AcroForm.Fields if not str(field.T).startswith("stripe_20")]
    pdf.Root.AcroForm.Fields = fields


def crowded(pdf: pikepdf.Pdf) -> None:
    more = [pikepdf.Dictionary(T=pikepdf.String(f"more {number}"), FT=pikepdf.Name.Tx) for number in range(2000)]
    pdf.Root.AcroForm.Fields = [*pdf.Root.AcroForm.Fields, *map(pdf.make_indirect, more)]


def with_two_titles(pdf: pikepdf.Pdf) -> None:
    fields_of(pdf)["weft"].T = pikepdf.String("title")


def knotted(pdf: pikepdf.Pdf) -> None:
    field = fields_of(pdf)["title"]
    field.Kids = [field]


def endless(pdf: pikepdf.Pdf) -> None:
    fields_of(pdf)["title"].V = pikepdf.String("x" * (MOST_LETTERS + 1))


TYPE_IT = "type what stands on it into a form that cardmaker form makes"
OTHERS: dict[str, tuple[Callable[[], bytes], str]] = {
    "scanned": (
        lambda: changed(blank(), without_form),
        f"It has no fields, as a scan, or a form that was printed to a PDF: {TYPE_IT}.",
    ),
    "XFA": (
        lambda: changed(blank(), of_xfa_alone),
        "Its form is of another kind (XFA), without fields: fill in one that cardmaker form makes.",
    ),
    "foreign": (
        lambda: changed(filled_by_pikepdf(GOOD), of_other_names),
        "Its fields are those of another form: fill in one that cardmaker form makes.",
    ),
    "cut": (
        lambda: changed(filled_by_pikepdf(GOOD), without_weft),
        "It lacks the field weft: fill in a new form that cardmaker form makes.",
    ),
    "with few rows": (
        lambda: changed(filled_by_pikepdf(GOOD), without_row_twenty),
        "It lacks the field stripe_20_ends: fill in a new form that cardmaker form makes.",
    ),
    "two of one name": (
        lambda: changed(filled_by_pikepdf(GOOD), with_two_titles),
        "It has two fields named 'title', which hold different things.",
    ),
    "knotted": (lambda: changed(filled_by_pikepdf(GOOD), knotted), "Its fields are knotted into themselves."),
    "endless": (lambda: changed(filled_by_pikepdf(GOOD), endless), "Its field title holds more than 4,000 letters."),
    "crowded": (lambda: changed(filled_by_pikepdf(GOOD), crowded), "It has more than 2000 fields."),
    "locked": (
        lambda: changed(blank(), lambda _: None, encryption=pikepdf.Encryption(owner="a", user="b")),
        "It is locked with a password.",
    ),
    "picture": (
        lambda: b"\x89PNG\r\n\x1a\n" + b"0" * 99,
        f"It is a picture, whose writing is not read: {TYPE_IT}.",
    ),
    "text": (lambda: b"title: Gate Band\n", "It is no PDF: name the form as your PDF reader saved it."),
    "torn": (lambda: blank()[:3000], "It is torn: its end is missing."),
    "broken": (lambda: blank()[:3000] + b"%%EOF", "It is not a sound PDF ("),
}


@pytest.mark.filterwarnings("ignore::pikepdf.PageCopyWarning" if hasattr(pikepdf, "PageCopyWarning") else "default")
@pytest.mark.parametrize("name", OTHERS)
def test_another_document_is_told_as_such(name: str, capsys: Said) -> None:
    make, sentence = OTHERS[name]
    Path("filled.pdf").write_bytes(make())
    assert run_command_line(["new", "--form", "filled.pdf"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(f"filled.pdf: {sentence}")
    assert len(err.splitlines()) == 1
    assert not Path("patterns").exists()


def test_a_file_that_is_not_there_is_told_and_a_huge_one_not_read(capsys: Said) -> None:
    assert run_command_line(["new", "--form", "none.pdf"]) == 1
    assert capsys.readouterr().err == "none.pdf: There is no such file.\n"
    with Path("huge.pdf").open("wb") as file:
        file.write(b"%PDF-1.7\n")
        file.truncate(LARGEST_FORM + 1)
    assert run_command_line(["new", "--form", "huge.pdf"]) == 1
    assert capsys.readouterr().err == "huge.pdf: It is far larger than the form.\n"
    Path("folder.pdf").mkdir()
    assert run_command_line(["new", "--form", "folder.pdf"]) == 1
    assert capsys.readouterr().err.startswith("folder.pdf: It cannot be read: ")


def test_a_torn_form_is_read_or_refused_and_never_stumbled_over() -> None:
    """Bytes changed and lost at random, the same every time."""
    chance, sound = Random(15), filled_by_pikepdf(GOOD, ["grade_f"])
    read = refused = 0
    for _ in range(120):
        torn = bytearray(sound)
        for _ in range(chance.randint(1, 30)):
            torn[chance.randrange(len(torn))] = chance.randrange(256)
        if chance.random() < 0.3:
            del torn[chance.randrange(len(torn)) :]
        Path("torn.pdf").write_bytes(torn)
        try:
            values_of_form(Path("torn.pdf"))
        except CannotReadPdf:
            refused += 1
        else:
            read += 1
    assert min(read, refused) > 5


# The ways in which readers save


def by_appearance(pdf: pikepdf.Pdf) -> None:
    field = fields_of(pdf)["grade_f"]
    del field.V


def by_value(pdf: pikepdf.Pdf) -> None:
    del fields_of(pdf)["grade_f"].AS


def with_places_apart(pdf: pikepdf.Pdf) -> None:
    """The field above, the widgets below it."""
    for name in ("title", "grade_f"):
        field = fields_of(pdf)[name]
        widget = pikepdf.Dictionary(Type=field.Type, Subtype=field.Subtype, Rect=field.Rect, AP=field.AP, Parent=field)
        if "/AS" in field:
            widget.AS = field.AS
            del field.AS
        del field["/Subtype"]
        field.Kids = [pdf.make_indirect(widget)]


def value_of_the_parent(pdf: pikepdf.Pdf) -> None:
    """Kind and value are told above."""
    field = fields_of(pdf)["title"]
    above = pdf.make_indirect(pikepdf.Dictionary(FT=field.FT, V=field.V, Kids=[field]))
    del field["/FT"]
    del field["/V"]
    pdf.Root.AcroForm.Fields = [above, *(each for each in pdf.Root.AcroForm.Fields if each.objgen != field.objgen)]


def as_a_stream(pdf: pikepdf.Pdf) -> None:
    fields_of(pdf)["title"].V = pikepdf.Stream(pdf, "Gate Band".encode("utf-16"))


def with_spaces(pdf: pikepdf.Pdf) -> None:
    fields_of(pdf)["title"].V = pikepdf.String(" Gate\r\n Band \n")


@pytest.mark.parametrize(
    "change", [by_appearance, by_value, with_places_apart, value_of_the_parent, as_a_stream, with_spaces]
)
def test_however_a_reader_saves_it(change: Any) -> None:
    found = values(changed(filled_by_pikepdf(GOOD, ["grade_f"]), change))
    assert " ".join(found.texts["title"].split()) == "Gate Band"
    assert found.ticks == {"grade_f"}
    assert {field: text for field, text in found.texts.items() if field != "title"} == rows(*STRIPES)


def test_a_tick_that_was_taken_away_is_none() -> None:
    def untick(pdf: pikepdf.Pdf) -> None:
        field = fields_of(pdf)["grade_a"]
        field.V = field.AS = pikepdf.Name.Off

    assert values(changed(filled_by_pikepdf(GOOD, ["grade_a", "grade_f"]), untick)).ticks == {"grade_f"}


def test_saved_behind_the_old_form() -> None:
    """Most readers leave what was there, and write what changed behind it."""
    writer = PdfWriter(BytesIO(blank()), incremental=True)
    writer.update_page_form_field_values(writer.pages[0], dict(GOOD), auto_regenerate=False)
    out = BytesIO()
    writer.write(out)
    assert out.getvalue().startswith(blank())
    assert values(out.getvalue()).texts == GOOD


def test_an_empty_form_holds_nothing() -> None:
    assert values(blank()) == FormValues({}, frozenset(), 45)


def test_only_what_somebody_put_there_is_written_over_it() -> None:
    def with_annotation(kind: str) -> Callable[[pikepdf.Pdf], None]:
        def annotate(pdf: pikepdf.Pdf) -> None:
            mark = pikepdf.Dictionary(Type=pikepdf.Name.Annot, Subtype=pikepdf.Name(kind), Rect=[0, 0, 9, 9])
            pdf.pages[0].Annots.append(pdf.make_indirect(mark))

        return annotate

    assert not values(filled_by_pikepdf(GOOD)).is_written_over
    for kind, is_over in (("/FreeText", True), ("/Ink", True), ("/Stamp", True), ("/Popup", False)):
        assert values(changed(filled_by_pikepdf(GOOD), with_annotation(kind))).is_written_over == is_over
