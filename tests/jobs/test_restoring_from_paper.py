"""Paper alone gives the file back: scans of every pattern, worn; and a sentence for every picture that gives none."""

from __future__ import annotations

import struct
import sys
import zlib
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
import segno
from PIL import Image

from cardmaker.cli.command_line import run_command_line
from cardmaker.model.carried_file import Carried
from cardmaker.pdf import scanned_code
from cardmaker.pdf.attachments import CannotRestore
from cardmaker.pdf.scanned_code import file_in_picture
from tests.helpers.places import ROOT
from tests.helpers.samples import part_of
from tests.helpers.scans import (
    Grey,
    card_with_code,
    code_box,
    page_scanned,
    picture,
    record_with_back,
    side_by_side,
    worn,
)
from tests.helpers.shipped import PATTERN_FILES

NINE = ROOT / "patterns" / "nine.yaml"
LONGEST = ROOT / "patterns" / "three-paths.yaml"  # the one that is compressed
DENSEST = ROOT / "patterns" / "two-rails.yaml"  # of those that are plain text


BACK = 1  # the second page of a card


def scanned(pattern: Path, *, dpi: int = 300) -> Grey:
    pdf, composed = card_with_code(pattern)
    return page_scanned(pdf, code_box(composed), dpi=dpi)


def foreign(text: str = "https://example.org/tapes/9") -> Grey:
    code = np.array([list(row) for row in segno.make(text).matrix], np.uint8)
    return np.pad(255 - 255 * np.kron(code, np.ones((6, 6), np.uint8)), 40, constant_values=255)


# What comes back


@pytest.mark.parametrize("path", part_of(PATTERN_FILES, 3, "worn"), ids=lambda path: path.stem)
def test_every_pattern_comes_back_from_a_worn_scan_of_its_record_s_back(path: Path) -> None:
    """The whole page, at 300 dots to the inch, turned, blurred and made black and white, twice."""
    scan = worn(page_scanned(record_with_back(path), page_index=BACK))
    assert set(np.unique(scan)) == {0, 255}
    assert file_in_picture(picture(scan)) == Carried(path.name, path.read_bytes())


def test_the_largest_code_comes_back_from_other_paper_too() -> None:
    """On A4 its place is smaller."""
    scan = worn(page_scanned(record_with_back(LONGEST, 1), page_index=BACK))
    assert file_in_picture(picture(scan)) == Carried(LONGEST.name, LONGEST.read_bytes())


def test_the_front_of_a_record_has_no_code() -> None:
    with pytest.raises(CannotRestore, match="there is no code on it"):
        file_in_picture(picture(page_scanned(record_with_back(NINE))))


def test_the_sheets_of_a_class_have_no_code_in_front_or_behind(tmp_path: Path) -> None:
    """Files hold a teacher's notes, so what is given away holds no file."""
    out = tmp_path / "class.pdf"
    asked = ["class", "a-yard-by-supper", "--backs", "--one", "--out", str(out), "--quiet"]
    assert run_command_line(asked) == 0
    pdf = out.read_bytes()
    for number in range(len(pypdfium2.PdfDocument(pdf))):
        with pytest.raises(CannotRestore, match="there is no code on it"):
            file_in_picture(picture(page_scanned(pdf, page_index=number, dpi=200)))


@pytest.mark.parametrize("path", [LONGEST, DENSEST], ids=lambda path: path.stem)
def test_a_code_that_its_page_keeps_as_small_as_may_be_comes_back(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("cardmaker.layout.qr_code.MOST_MODULE_MM", 0.35)
    pdf, composed = card_with_code.__wrapped__(path)
    box = code_box(composed)
    assert box.width == pytest.approx(161 * 0.35)
    assert file_in_picture(picture(worn(page_scanned(pdf, box)))).data == path.read_bytes()


def test_a_whole_page_comes_back_by_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    card, scan, out = tmp_path / "card.pdf", tmp_path / "scan.png", tmp_path / "back"
    assert run_command_line(["card", str(LONGEST), "--layout", "record", "--back", "--out", str(card), "--quiet"]) == 0
    scan.write_bytes(picture(worn(page_scanned(card.read_bytes(), page_index=BACK))))
    assert run_command_line(["restore", str(scan), "--out", str(out)]) == 0
    restored = out / "patterns" / LONGEST.name
    assert [path for path in out.rglob("*") if path.is_file()] == [restored]
    assert restored.read_bytes() == LONGEST.read_bytes()
    assert capsys.readouterr().out == f"{restored}\nNext: cardmaker card {restored}\n"


def test_a_photograph_that_lies_on_its_side_comes_back() -> None:
    scan = worn(np.rot90(scanned(NINE)), times=1)
    assert file_in_picture(picture(scan, "JPEG")).data == NINE.read_bytes()


def test_odd_bytes_come_back_as_typed(tmp_path: Path) -> None:
    for number, data in enumerate((NINE.read_bytes().replace(b"\n", b"\r\n"), b"\xef\xbb\xbf" + NINE.read_bytes())):
        own = tmp_path / f"nine – {number}.yaml"
        own.write_bytes(data + "# Três voltas – „así“\n".encode())
        assert file_in_picture(picture(scanned(own))) == Carried(own.name, own.read_bytes())


def test_a_new_card_says_what_has_changed_since_a_scan(tmp_path: Path) -> None:
    old, new = tmp_path / "old.png", tmp_path / "nine.yaml"
    old.write_bytes(picture(scanned(NINE)))
    new.write_bytes(NINE.read_bytes().replace(b"version: 1", b"version: 2"))
    out = str(tmp_path / "new.pdf")
    assert run_command_line(["card", str(new), "--supersedes", str(old), "--out", out, "--quiet"]) == 0


def in_colour(scan: Grey) -> Image.Image:
    return Image.fromarray(scan).convert("RGB")


def clear(scan: Grey) -> Image.Image:
    """Black ink on nothing, as some programs save a scan: without its white it would be black on black."""
    ink = Image.new("RGBA", (scan.shape[1], scan.shape[0]), (0, 0, 0, 0))
    ink.putalpha(Image.fromarray(255 - scan))
    return ink


def of_sixteen_bits(scan: Grey) -> Image.Image:
    return Image.fromarray(scan.astype(np.uint16) * 257)


def of_two_colours(scan: Grey) -> Image.Image:
    return Image.fromarray(scan).convert("1")


def of_few_colours(scan: Grey) -> Image.Image:
    return in_colour(scan).quantize(16)


@pytest.mark.parametrize("made", [in_colour, clear, of_sixteen_bits, of_two_colours, of_few_colours])
def test_scanners_save_pictures_in_many_ways(made: Callable[[Grey], Image.Image]) -> None:
    file = BytesIO()
    made(scanned(NINE)).save(file, "PNG")
    assert file_in_picture(file.getvalue()).data == NINE.read_bytes()


def test_a_page_with_specks_comes_back() -> None:
    scan = scanned(DENSEST)
    specks = np.random.default_rng(1).random(scan.shape) < 0.06
    assert file_in_picture(picture(np.where(specks, 255 - scan, scan))).data == DENSEST.read_bytes()


def test_a_code_with_a_stain_comes_back() -> None:
    scan = scanned(NINE).copy()
    high, wide = scan.shape
    scan[high // 2 : high // 2 + high // 7, wide // 2 : wide // 2 + wide // 7] = 0
    assert file_in_picture(picture(scan)).data == NINE.read_bytes()


# What gives nothing back


def torn(scan: Grey) -> Grey:
    """A strip across the middle is gone."""
    scan = scan.copy()
    high = scan.shape[0]
    scan[high * 2 // 5 : high * 3 // 5] = 255
    return scan


def cut_off(scan: Grey) -> Grey:
    return scan[: scan.shape[0] * 2 // 3]


BAD: dict[str, tuple[Callable[[], Grey], str]] = {
    "nothing": (lambda: np.full((900, 900), 255, np.uint8), "There is no code on it"),
    "page": (lambda: page_scanned(card_with_code(NINE)[0])[:700], "There is no code on it"),
    "cut off": (
        lambda: cut_off(scanned(NINE)),
        "The code on it is damaged|There is no code on it",
    ),
    "coarse": (lambda: scanned(DENSEST, dpi=60), "There is no code on it"),
    "torn": (lambda: torn(scanned(NINE)), "The code on it is damaged"),
    "torn and compressed": (lambda: torn(scanned(LONGEST)), "The code on it is damaged"),
    "foreign": (foreign, "The code on it was not made by cardmaker"),
    "two": (lambda: side_by_side([scanned(NINE), scanned(LONGEST)]), "There are 2 codes on it"),
    "one twice": (lambda: side_by_side([scanned(NINE), scanned(NINE)]), "There are 2 codes on it"),
    "one foreign": (lambda: side_by_side([foreign(), scanned(NINE)]), "There are 2 codes on it"),
}


@pytest.mark.parametrize("case", BAD)
@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
def test_a_bad_picture_gets_one_sentence_and_nothing_is_written(
    case: str, kind: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    make, told = BAD[case]
    scan = tmp_path / "scan.picture"  # what it is, is told from its bytes
    scan.write_bytes(picture(make(), "PNG" if kind == "PNG" else "JPEG"))
    assert run_command_line(["restore", str(scan), "--out", str(tmp_path / "back")]) == 1
    said = capsys.readouterr().err
    assert said.startswith(tuple(f"{scan}:1:1: {each}" for each in told.split("|")))
    assert said.count("\n") == 1
    assert not (tmp_path / "back").exists()


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"\x89PNG\r\n\x1a\n" + bytes(90), "not a sound picture"),
        (b"\xff\xd8\xff\xe0" + bytes(90), "not a sound picture"),
        (b"GIF89a" + bytes(90), "neither a PDF nor a picture (PNG or JPEG)"),
        (b"title: Nine\n", "neither a PDF nor a picture (PNG or JPEG)"),
    ],
)
def test_what_is_no_picture_is_told(data: bytes, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "scan.png").write_bytes(data)
    assert run_command_line(["restore", str(tmp_path / "scan.png"), "--out", str(tmp_path / "back")]) == 1
    said = capsys.readouterr().err
    assert told in said
    assert said.count("\n") == 1


def test_a_torn_picture_is_refused_or_whole() -> None:
    data = picture(scanned(NINE))
    for share in (0.1, 0.5, 0.9, 0.999):
        with pytest.raises(CannotRestore, match="not a sound picture"):
            file_in_picture(data[: int(len(data) * share)])


def header_alone(side: int) -> bytes:
    """A PNG of which nothing but its size is there."""
    header = b"IHDR" + struct.pack(">IIBBBBB", side, side, 1, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + header + struct.pack(">I", zlib.crc32(header))


@pytest.mark.parametrize("side", [8_001, 12_000, 100_000])
def test_a_picture_that_is_too_large_is_refused_before_it_is_unpacked(side: int) -> None:
    with pytest.raises(CannotRestore, match="more than 64 million pixels"):
        file_in_picture(header_alone(side) + struct.pack(">I", 0) + b"IDAT")


@pytest.mark.parametrize("missing", ["zxingcpp", "PIL"])
def test_without_the_packages_it_says_what_to_install(
    missing: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "scan.png").write_bytes(picture(foreign()))
    monkeypatch.setitem(sys.modules, missing, None)
    assert run_command_line(["restore", str(tmp_path / "scan.png"), "--out", str(tmp_path / "back")]) == 2
    said = capsys.readouterr().err
    assert said.endswith("reading a picture needs two more packages: pip install zxing-cpp pillow\n")
    assert said.count("\n") == 1


def test_the_most_pixels_are_those_of_a_large_scan() -> None:
    assert scanned_code.MOST_PIXELS > 8.5 * 14 * 600**2
