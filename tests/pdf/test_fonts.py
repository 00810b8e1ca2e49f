"""The ruler against ReportLab's own reading of the same files, and what a face cannot show."""

from __future__ import annotations

import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase.ttfonts import TTFont, TTFontFace

from cardmaker.model.marks import Face, Ruler
from cardmaker.pdf import font_subsets
from cardmaker.pdf.fonts import TypeRuler, character_name, composed, face_file, face_path, lacks

MM_PER_POINT = 25.4 / 72
RULER = TypeRuler()
PLAIN = {face: TTFont(f"plain {face}", str(face_path(face))) for face in Face}


def test_type_ruler_is_a_ruler() -> None:
    ruler: Ruler = RULER  # the types are checked by mypy
    assert ruler.width_mm("", Face.SANS, 9) == 0


@pytest.mark.parametrize("face", Face)
def test_whole_face_agrees_with_reportlab(face: Face) -> None:
    theirs, ours = PLAIN[face].face, font_subsets._Face(face)
    long_tables = ("charToGlyph", "charWidths", "hmetrics", "glyphPos", "defaultWidth")
    for name in (*long_tables, "ascent", "descent", "capHeight", "name", "bbox", "flags", "stemV", "numGlyphs"):
        assert getattr(ours, name) == getattr(theirs, name), name
    assert set(vars(theirs)) <= set(vars(ours))
    assert isinstance(ours, TTFontFace)


def test_our_font_has_all_that_reportlabs_has() -> None:
    assert set(vars(PLAIN[Face.SANS])) == set(vars(font_subsets.font_of(Face.SANS)))


@given(st.text("abcXYZ 0123 ½→″×éİșĀЖя\u00a0□\U0001f9f6-–—“”", max_size=30), st.sampled_from(list(Face)))
def test_widths_agree_with_reportlab(text: str, face: Face) -> None:
    wanted = PLAIN[face].stringWidth(composed(text), 9.5) * MM_PER_POINT
    assert RULER.width_mm(text, face, 9.5) == pytest.approx(wanted, abs=1e-9)


def test_figures_are_tabular() -> None:
    for face in Face:
        assert len({RULER.width_mm(figure, face, 10) for figure in "0123456789"}) == 1


def test_letter_and_accent_measure_as_one() -> None:
    assert RULER.width_mm("e\u0301", Face.SANS, 9) == RULER.width_mm("é", Face.SANS, 9)
    assert lacks("e\u0301", Face.SANS) == ()


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("Three Paths ½ → ″ × ✓", ()),
        ("□ a □", ("WHITE SQUARE",)),
        ("co\u2011op אב", ("NON-BREAKING HYPHEN", "HEBREW LETTER ALEF", "HEBREW LETTER BET")),
        ("a\tb\x07\x85", ("U+0009", "U+0007", "U+0085")),
        ("\ud800", ("U+D800",)),
    ],
)
def test_missing_characters_are_named(text: str, names: tuple[str, ...]) -> None:
    assert tuple(map(character_name, lacks(text, Face.SANS))) == names


def test_what_has_no_glyph_is_missing_and_nothing_else() -> None:
    codes = [code for code in range(0x20, 0x2800) if not 0x7F <= code < 0xA0]
    lacking = [ch for ch in map(chr, codes) if composed(ch) == ch and lacks(ch, Face.SERIF)]
    glyphs = PLAIN[Face.SERIF].face.charToGlyph
    assert lacking == [chr(code) for code in codes if composed(chr(code)) == chr(code) and code not in glyphs]


def test_names_of_characters() -> None:
    assert character_name("→") == "RIGHTWARDS ARROW"
    assert character_name("\x00") == "U+0000"


def test_measuring_loads_no_pdf_library_and_only_the_face_in_use() -> None:
    code = (
        "import sys; from cardmaker.pdf.fonts import TypeRuler, face_file; from cardmaker.model.marks import Face;"
        "TypeRuler().width_mm('a', Face.SANS, 9);"
        "assert face_file.cache_info().currsize == 1;"
        "assert not {'reportlab', 'font_source_sans_pro', 'PIL'} & set(sys.modules)"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_a_face_is_read_once() -> None:
    assert face_file(Face.SANS) is face_file(Face.SANS)
