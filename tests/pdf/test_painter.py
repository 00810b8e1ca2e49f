"""PDFs read back by libraries that did not write them, in millimetres from the top left."""

from __future__ import annotations

import hashlib
import os
import random
import subprocess
import sys
from io import BytesIO
from pathlib import Path as FilePath
from typing import Any

import pdfplumber
import pikepdf
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab import rl_config

from cardmaker.model.carried_file import Carried
from cardmaker.model.marks import Box, Dot, Face, Group, Line, Mark, Page, Path, Rectangle, Stamp, Words
from cardmaker.pdf.draft import draft_of, with_names
from cardmaker.pdf.fonts import TypeRuler, face_file
from tests.benchmarks.bare import bare_reportlab
from tests.benchmarks.painting import card_like_page, ribbon, written_out
from tests.helpers.painted import paint
from tests.helpers.places import ROOT

MM = 72 / 25.4
RULER = TypeRuler()


def letter(*marks: Mark) -> Page:
    return Page(215.9, 279.4, marks)


def read(pdf: bytes) -> Any:
    return pdfplumber.open(BytesIO(pdf))


def painted(*marks: Mark) -> Any:
    """The one page of these marks, as pdfplumber sees it."""
    return read(paint([letter(*marks)], title="Test")).pages[0]


def box_mm(thing: dict[str, float]) -> tuple[float, float, float, float]:
    return thing["x0"] / MM, thing["top"] / MM, thing["x1"] / MM, thing["bottom"] / MM


def said(page: Any) -> list[str]:
    return [line["text"] for line in page.extract_text_lines(x_tolerance=1, keep_blank_chars=True)]


def grey_pixels(pdf: bytes, dpi: float, page: int = 0) -> Any:
    document = pypdfium2.PdfDocument(pdf)
    picture = document[page].render(scale=dpi / 72, grayscale=True).to_numpy().copy()
    document.close()
    return picture


# Sheets


def test_as_many_sheets_as_pages_each_of_its_size() -> None:
    pages = [Page(215.9, 279.4, ()), Page(297, 210, (Dot(1, 1, 1, "#000000"),)), Page(101.6, 152.4, ())]
    with pikepdf.open(BytesIO(paint(pages, title="Sizes"))) as pdf:
        boxes = [[float(side) for side in page.MediaBox] for page in pdf.pages]
    assert boxes == [[0, 0, 612, 792], [0, 0, 841.89, 595.276], [0, 0, 288, 432]]


def test_no_pages_are_refused() -> None:
    with pytest.raises(ValueError, match="no pages"):
        paint([], title="Nothing")


def test_the_file_is_sound_and_set_up_for_print() -> None:
    with pikepdf.open(BytesIO(paint([card_like_page()], title="Three Paths"))) as pdf:
        assert pdf.check_pdf_syntax() == []
        assert pdf.get_warnings() == []
        assert pdf.pdf_version == "1.7"
        assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
        assert pdf.Root.Lang == "en"
        assert set(pdf.docinfo) == {"/Title", "/Creator", "/Producer"}
        streams = [thing for thing in pdf.objects if isinstance(thing, pikepdf.Stream)]
        plain = [stream for stream in streams if "/FlateDecode" not in str(stream.get("/Filter"))]
        assert len(streams) > len(plain)
        assert [stream.Type for stream in plain] == ["/Metadata"]  # which other programs look for as it is


def test_fonts_are_embedded_subsets_and_no_other_is_listed() -> None:
    with pikepdf.open(BytesIO(paint([card_like_page()], title="Three Paths"))) as pdf:
        fonts = [thing for thing in pdf.objects if isinstance(thing, pikepdf.Dictionary) and thing.get("/Widths")]
        named = [str(font.BaseFont) for font in fonts]
        assert all(len(font.FontDescriptor.FontFile2.read_bytes()) < 20_000 for font in fonts)
        assert sum(thing.get("/Type") == "/Font" for thing in pdf.objects if isinstance(thing, pikepdf.Dictionary)) == 4
    assert named == [f"/AAAAAA+Source{name}" for name in
                     ("SansPro-Regular", "SansPro-Semibold", "SansPro-Bold", "SerifPro-Semibold")]  # fmt: skip
    assert b"Helvetica" not in paint([letter(Line(0, 0, 1, 1, 1))], title="No words")


def test_the_language_is_that_of_the_first_page() -> None:
    with pikepdf.open(BytesIO(paint([Page(100, 100, (), language="de")], title="Karte"))) as pdf:
        assert pdf.Root.Lang == "de"


# Words


def test_words_stand_where_they_should_and_as_typed() -> None:
    typed = "Three Paths: 2 ¼ in → “L15, a slot” × 31 · Мера ığž"
    page = painted(Words(20, 50, typed, Face.SANS_SEMIBOLD, 11))
    assert said(page) == [typed]
    first = page.chars[0]
    assert first["x0"] / MM == pytest.approx(20, abs=0.001)
    assert (page.height - first["matrix"][5]) / MM == pytest.approx(50, abs=0.001)
    assert first["size"] == pytest.approx(11)


@pytest.mark.parametrize(("align", "share"), [("left", 0), ("middle", 0.5), ("right", 1)])
def test_words_are_aligned_at_their_point(align: Any, share: float) -> None:
    page = painted(Words(100, 50, "31 ends", Face.SERIF, 20, align=align))
    width = RULER.width_mm("31 ends", Face.SERIF, 20)
    assert page.chars[0]["x0"] / MM == pytest.approx(100 - share * width, abs=0.001)
    assert page.chars[-1]["x1"] / MM == pytest.approx(100 - share * width + width, abs=0.001)


@pytest.mark.parametrize(("align", "share"), [("left", 0), ("middle", 0.5), ("right", 1)])
def test_turned_words_run_upwards(align: Any, share: float) -> None:
    page = painted(Words(100, 150, "upwards", Face.SANS, 20, align=align, turned=90))
    width = RULER.width_mm("upwards", Face.SANS, 20)
    begin = 150 + share * width
    assert page.chars[0]["bottom"] / MM == pytest.approx(begin, abs=0.001)
    assert page.chars[-1]["top"] / MM == pytest.approx(begin - width, abs=0.001)
    assert page.chars[0]["matrix"][4] / MM == pytest.approx(100, abs=0.001)


MARKUP = ("<b>bold</b>", '<img src="/etc/hosts"/>', "&amp; &lt;", "(a) \\( \\n )", "<a href='javascript:x'>", "%PDF /F")


@pytest.mark.parametrize("typed", MARKUP)
def test_markup_prints_as_typed_and_opens_nothing(typed: str) -> None:
    pdf = paint([letter(Words(20, 50, typed, Face.SANS, 10))], title=typed, subject=typed, keywords=typed, author=typed)
    assert said(read(pdf).pages[0]) == [typed]
    with pikepdf.open(BytesIO(pdf)) as opened:
        for key in ("/Title", "/Subject", "/Keywords", "/Author"):
            assert str(opened.docinfo[key]) == typed
        assert not {"/OpenAction", "/AA", "/Names"} & set(opened.Root.keys())
        assert "/Annots" not in opened.pages[0]


def test_any_title_comes_back() -> None:
    title = "Три дорожки □ 織 \\ ) ( é"
    with pikepdf.open(BytesIO(paint([letter()], title=title))) as pdf:
        assert str(pdf.docinfo["/Title"]) == title


def test_letter_and_accent_are_set_as_one() -> None:
    assert said(painted(Words(20, 50, "Cafe\u0301", Face.SANS, 10))) == ["Café"]


def test_more_characters_than_one_font_holds() -> None:
    every = [chr(code) for code in sorted(face_file(Face.SANS).glyphs) if 0x21 <= code < 0x2100 and code != 0xA0]
    every = [ch for ch in every if not ch.isspace() and ch.isprintable() and not 0x300 <= ord(ch) < 0x370]
    assert len(every) > 600
    rows = ["".join(every[at : at + 25]) for at in range(0, len(every), 25)]
    page = painted(*[Words(10, 10 + 7 * row, text, Face.SANS, 10) for row, text in enumerate(rows)])
    from unicodedata import normalize

    found = "".join(char["text"] for char in page.chars)
    assert normalize("NFC", found) == normalize("NFC", "".join(rows))


def test_a_missing_character_is_refused_by_name_with_all_others() -> None:
    inner = Group("cell", "a", Box(0, 0, 9, 9), (Words(1, 1, "b□b\u2603", Face.SERIF, 9),))
    pages = [letter(Words(1, 1, "a\ta□", Face.SANS, 9)), letter(Stamp((inner,), 2, 1, 1, Box(0, 0, 9, 9)))]
    assert [with_names(draft_of(page).missing) for page in pages] == [
        (("\t", "U+0009", Face.SANS), ("□", "WHITE SQUARE", Face.SANS)),
        (("□", "WHITE SQUARE", Face.SERIF), ("☃", "SNOWMAN", Face.SERIF)),
    ]
    names = r"U\+0009 \('\\t', sans\), no WHITE SQUARE \(□, sans\), no WHITE SQUARE \(□, serif\), no SNOWMAN"
    with pytest.raises(ValueError, match=names):
        paint(pages, title="Missing")
    assert draft_of(letter(Words(1, 1, "all here", Face.SANS, 9))).missing == ()


# Drawing


def test_lines_and_rectangles_lie_where_they_should() -> None:
    page = painted(
        Line(10.5, 20.25, 110.5, 20.25, 0.4),
        Line(30, 40, 50, 90, 0.4, "#a5322b"),
        Rectangle(Box(60, 100, 30, 20), "#a5322b", "#000000", 0.5),
    )
    assert box_mm(page.lines[0]) == pytest.approx((10.5, 20.25, 110.5, 20.25), abs=0.01)
    assert box_mm(page.lines[1]) == pytest.approx((30, 40, 50, 90), abs=0.01)
    assert page.lines[0]["linewidth"] / MM == pytest.approx(0.4, abs=0.001)
    assert box_mm(page.rects[0]) == pytest.approx((60, 100, 90, 120), abs=0.01)
    assert page.rects[0]["non_stroking_color"] == pytest.approx((0xA5 / 255, 0x32 / 255, 0x2B / 255), abs=0.001)
    assert page.rects[0]["fill"]
    assert page.rects[0]["stroke"]


def test_dots_rounded_boxes_and_curves_lie_where_they_should() -> None:
    page = painted(
        Dot(50, 60, 5, "#000000"),
        Rectangle(Box(100, 100, 40, 20), "#000000", None, 0, 4),
        Path((("move", 10, 200), ("curve", 20, 190, 30, 210, 40, 200)), None, "#000000", 0.3),
    )
    assert box_mm(page.curves[0]) == pytest.approx((45, 55, 55, 65), abs=0.01)
    assert box_mm(page.curves[1]) == pytest.approx((100, 100, 140, 120), abs=0.01)
    ends = [(x / MM, y / MM) for x, y in (page.curves[2]["pts"][0], page.curves[2]["pts"][-1])]
    assert ends == [pytest.approx((10, 200), abs=0.01), pytest.approx((40, 200), abs=0.01)]


def test_dashes_are_in_millimetres() -> None:
    page = painted(Line(10, 10, 60, 10, 0.4, dash=(2, 1)))
    pattern, phase = page.lines[0]["dash"]
    assert [part / MM for part in pattern] == pytest.approx([2, 1], abs=0.001)
    assert phase == 0


def test_a_stamp_appears_as_often_as_it_should_cut_off_at_its_clip() -> None:
    stamp = Stamp((Rectangle(Box(20, 30, 4, 2), "#a5322b"), Line(20, 31, 24, 31, 0.2)), 12, 0.5, 3, Box(20, 30, 6, 28))
    page = painted(stamp)
    tops = sorted(rect["top"] / MM for rect in page.rects)
    assert tops == pytest.approx([30 + 3 * copy for copy in range(12)], abs=0.01)
    lefts = sorted(rect["x0"] / MM for rect in page.rects)
    assert lefts == pytest.approx([20 + 0.5 * copy for copy in range(12)], abs=0.01)
    assert len(page.lines) == 12
    pixels = grey_pixels(paint([letter(stamp)], title="Clip"), 254)  # ten pixels to the millimetre
    dark = (pixels < 250).nonzero()
    assert (dark[0].min(), dark[0].max()) == pytest.approx((300, 579), abs=1)  # cut at 58 mm, within the tenth
    assert (dark[1].min(), dark[1].max()) == pytest.approx((200, 259), abs=1)  # cut at 26 mm


def test_stamps_that_look_alike_are_drawn_once() -> None:
    one = ribbon()
    moved = Stamp(
        tuple(
            Rectangle(Box(mark.box.left + 100.1, mark.box.top + 7, mark.box.width, mark.box.height), mark.fill)
            for mark in one.marks
            if isinstance(mark, Rectangle)
        ),
        one.count, one.dx, one.dy, Box(one.clip.left + 100.1, one.clip.top + 7, one.clip.width, one.clip.height),
    )  # fmt: skip
    other = Stamp((Rectangle(Box(0, 0, 1, 1), "#123456"),), 3, 2, 0, Box(0, 0, 9, 9))
    pages = [letter(one, moved), Page(148, 210, (one, other))]
    with pikepdf.open(BytesIO(paint(pages, title="Ribbons"))) as pdf:
        streams = [thing for thing in pdf.objects if isinstance(thing, pikepdf.Stream)]
        assert sum(stream.get("/Subtype") == "/Form" for stream in streams) == 2
        assert [len(page.Resources.XObject) for page in pdf.pages] == [1, 2]


def test_a_stamp_takes_no_look_from_the_page_and_leaves_none() -> None:
    thick = Line(10, 10, 60, 10, 3, "#ff0000", (4, 4), True)
    stamp = Stamp((Line(10, 30, 60, 30, 1),), 3, 0, 10, Box(0, 0, 200, 200))
    page = painted(thick, stamp, thick)
    looks = [
        (round(line["linewidth"] / MM, 2), line["stroking_color"], [round(part / MM, 2) for part in line["dash"][0]])
        for line in page.lines
    ]
    red: tuple[Any, ...] = (3, (1, 0, 0), [4, 4])
    black: tuple[Any, ...] = (1, 0, [])
    assert looks == [red, black, black, black, red]


def test_stamps_within_stamps_and_words_in_stamps() -> None:
    row = Stamp((Rectangle(Box(10, 10, 1, 1), "#000000"),), 4, 2, 0, Box(10, 10, 20, 1))
    page = painted(Stamp((row, Words(20, 11, "pick", Face.SANS, 6)), 3, 0, 5, Box(0, 0, 100, 100)))
    assert sorted((round(rect["x0"] / MM, 2), round(rect["top"] / MM, 2)) for rect in page.rects) == [
        (10 + 2 * across, 10 + 5 * down) for across in range(4) for down in range(3)
    ]
    assert said(page) == ["pick"] * 3


@pytest.mark.parametrize("page", [card_like_page(), written_out(card_like_page())], ids=["repeats", "written out"])
def test_our_ink_is_the_ink_of_plain_canvas_calls(page: Page) -> None:
    ours, plain = (grey_pixels(pdf, 100).astype(int) for pdf in (paint([page], title="Ours"), bare_reportlab([page])))
    assert ours.shape == plain.shape
    assert (ours < 128).sum() > 20_000
    assert abs(ours - plain).mean() < 0.05  # of 255
    assert (abs(ours - plain) > 64).sum() < 40


def test_a_bar_of_100_mm_measures_100_mm() -> None:
    """At 600 dpi a pixel is 0.0423 mm; the edge is taken where the ink falls to a half, within the grey pixel."""

    def bar_mm(scale: float) -> float:
        pdf = paint([letter(Rectangle(Box(50 * scale, 100, 100 * scale, 4), "#000000"))], title="Bar")
        row = grey_pixels(pdf, 600)[round(102 / 25.4 * 600)]
        return float((255 - row.astype(int)).sum()) / 255 / 600 * 25.4

    assert bar_mm(1) == pytest.approx(100, abs=0.05)
    assert bar_mm(0.97) != pytest.approx(100, abs=0.05)


# Same pages, same bytes


def test_a_second_paint_gives_the_same_bytes_whatever_was_painted_between() -> None:
    page = letter(Words(20, 50, "Three Paths", Face.SANS, 10), ribbon())
    first = paint([page], title="One")
    paint([letter(Words(20, 50, "Quite other letters: žюß½", Face.SANS, 10))], title="Two")
    with pytest.raises(ValueError, match="WHITE SQUARE"):
        paint([letter(Words(20, 50, "half way □", Face.SANS, 10))], title="Three")
    assert paint([page], title="One") == first


def test_the_identity_tells_contents_apart() -> None:
    def identity(marks: tuple[Mark, ...], **said: Any) -> bytes:
        with pikepdf.open(BytesIO(paint([letter(*marks)], **({"title": "Same"} | said)))) as pdf:
            return bytes(pdf.trailer.ID[0])

    line, stamp = Line(1, 1, 2, 2, 1), Stamp((Dot(1, 1, 1, "#000000"),), 2, 1, 1, Box(0, 0, 9, 9))
    green = Stamp((Dot(1, 1, 1, "#00ff00"),), 2, 1, 1, Box(0, 0, 9, 9))
    found = [identity((line,)), identity((stamp,)), identity((green,)), identity((line,), title="Other"),
             identity((line,), carried=[Carried("a.yaml", b"pattern", "pattern")]), identity(())]  # fmt: skip
    assert len(set(found)) == len(found)
    assert identity((line,)) == found[0]


DIGEST = (
    "import hashlib; from tests.benchmarks.painting import card_like_page; from tests.helpers.painted import paint;"
    "print(hashlib.sha256(paint([card_like_page()] * 2, title='T')).hexdigest())"
)


def test_other_processes_settings_and_times_give_the_same_bytes(tmp_path: FilePath) -> None:
    (tmp_path / "reportlab_settings.py").write_text("useA85=1\nttfAsciiReadable=1\npageCompression=0\npdfMultiLine=1\n")
    here = hashlib.sha256(paint([card_like_page()] * 2, title="T")).hexdigest()
    stray = {"RL_useA85": "1", "RL_pdfComments": "1", "RL_canvas_baseColor": "None", "SOURCE_DATE_EPOCH": "86400"}
    for seed, more in (("1", {"TZ": "Asia/Tokyo"} | stray), ("77", {"PYTHONPATH": str(tmp_path), "LC_ALL": "de_DE"})):
        elsewhere = subprocess.run(
            [sys.executable, "-c", DIGEST], cwd=ROOT, env=os.environ | more | {"PYTHONHASHSEED": seed},
            capture_output=True, text=True, check=True,
        )  # fmt: skip
        assert elsewhere.stdout.strip() == here


def test_settings_of_the_library_are_left_as_they_were() -> None:
    before = dict(vars(rl_config))
    paint([letter()], title="Settings")
    with pytest.raises(ValueError, match="colour"):
        paint([letter(Line(0, 0, 1, 1, 1, "red"))], title="Settings")
    assert dict(vars(rl_config)) == before


@settings(max_examples=15, deadline=None)
@given(st.lists(st.tuples(st.floats(5, 200), st.floats(5, 270), st.floats(0.2, 10)), min_size=1, max_size=8))
def test_boxes_anywhere_come_back_where_they_were_put(places: list[tuple[float, float, float]]) -> None:
    page = painted(*[Rectangle(Box(x, y, side, side / 2), "#123456") for x, y, side in places])
    found = [value for rect in page.rects for value in box_mm(rect)]
    assert found == pytest.approx([v for x, y, side in places for v in (x, y, x + side, y + side / 2)], abs=0.01)


def test_a_binder_draws_its_cards_as_they_are_drawn_alone() -> None:
    marks = [Words(20, 20 + 3 * line, f"line {line}", Face.SANS, 9) for line in range(40)]
    random.Random(7).shuffle(marks)
    cards = [letter(*marks[at : at + 10]) for at in range(0, 40, 10)]
    binder = read(paint(cards, title="Binder"))
    assert [said(page) for page in binder.pages] == [said(painted(*card.marks)) for card in cards]
