"""A photograph beside the pattern file: printed only where the file says yes, whole, upright, and without what a camera
noted; or refused in plain words."""

from __future__ import annotations

import zlib
from io import BytesIO
from pathlib import Path
from struct import pack
from typing import Any

import pikepdf
import pypdfium2
import pytest
from PIL import Image

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import loading, plan_making
from cardmaker.jobs.checking import problems_of_file
from cardmaker.model.marks import Box, PlacedPhotograph
from cardmaker.model.photograph import LARGEST_PHOTOGRAPH, Photograph
from cardmaker.model.problems import ProblemsFound
from cardmaker.reading.photograph_file import NotPrintable, photograph_of
from cardmaker.wording.source_words import source_facts
from tests.helpers.card_faults import leaves
from tests.helpers.shipped import pattern_file, shipped_layout

WIDE, HIGH = 90, 60
CORNER = (0, 0, 255)  # of the upper left as it is seen; the rest is sand
SAND = (216, 200, 168)


def image() -> Image.Image:
    made = Image.new("RGB", (WIDE, HIGH), SAND)
    made.paste(CORNER, (0, 0, 30, 20))
    return made


def saved(made: Image.Image, kind: str, **how: Any) -> bytes:
    file = BytesIO()
    made.save(file, kind, **how)
    return file.getvalue()


def held(orientation: int) -> bytes:
    exif = Image.Exif()
    exif[0x0112] = orientation
    exif[0x010F] = "A camera that knows where it stood"
    turned = {1: 0, 6: 90, 3: 180, 8: 270}.get(orientation, 0)
    return saved(image().rotate(turned, expand=True), "JPEG", quality=95, exif=exif)


FILES = {
    "upright.jpg": held(1),
    "left.jpg": held(6),
    "over.jpeg": held(3),
    "right.JPG": held(8),
    "progressive.jpg": saved(image(), "JPEG", quality=95, progressive=True),
    "colours.png": saved(image(), "PNG"),
    "numbered.png": saved(image().quantize(2), "PNG", bits=1),
}


def pattern_with(folder: Path, photograph: str, may: str, raw: bytes | None = None) -> Path:
    text = pattern_file("twin-rails").read_text("utf-8")
    for was, becomes in (
        ("photograph: Tamble family chest, envelope 3", f"photograph: '{photograph}'"),
        ("may_print_photograph: no", f"may_print_photograph: {may}"),
    ):
        assert was in text
        text = text.replace(was, becomes)
    path = folder / "own.yaml"
    path.write_text(text, "utf-8")
    if raw is not None:
        (folder / photograph).write_bytes(raw)
    return path


def card(folder: Path, path: Path, layout: str = "record") -> bytes:
    out = folder / "card.pdf"
    back = ["--back"] if layout == "record" else []
    assert run_command_line(["card", str(path), "--layout", layout, *back, "--out", str(out)]) == 0
    return out.read_bytes()


# Printed


@pytest.mark.parametrize("name", FILES)
def test_it_stands_upright_in_its_own_colours(name: str, tmp_path: Path) -> None:
    pdf = card(tmp_path, pattern_with(tmp_path, name, "yes", FILES[name]))
    page = pypdfium2.PdfDocument(pdf)[1]
    box = _place(tmp_path / "own.yaml")
    scan = page.render(scale=2).to_pil().convert("RGB")
    for share, colour in (((0.15, 0.15), CORNER), ((0.85, 0.15), SAND), ((0.15, 0.85), SAND), ((0.85, 0.85), SAND)):
        x, y = box.left + share[0] * box.width, box.top + share[1] * box.height
        seen = scan.getpixel((int(x * 144 / 25.4), int(y * 144 / 25.4)))
        assert isinstance(seen, tuple)
        assert max(abs(a - b) for a, b in zip(seen, colour, strict=True)) < 12, (share, seen)
    assert box.width / box.height == pytest.approx(WIDE / HIGH)


def _place(path: Path) -> Box:
    from cardmaker.card.composing import compose_card
    from cardmaker.pdf.fonts import TypeRuler

    record = shipped_layout("record")
    setup = plan_making.load_plan_setup_for(record.as_back(record.papers[0]), None)
    plan = plan_making.plan_for(loading.load_pattern(path), setup)
    back = compose_card(plan, record, record.papers[0], TypeRuler(), with_back=True).back
    assert back
    (picture,) = (mark for mark in leaves(back.page.marks) if isinstance(mark, PlacedPhotograph))
    return picture.box


def test_what_the_camera_noted_is_not_in_the_document(tmp_path: Path) -> None:
    pdf = card(tmp_path, pattern_with(tmp_path, "left.jpg", "yes", FILES["left.jpg"]))
    assert b"where it stood" in FILES["left.jpg"]
    with pikepdf.open(BytesIO(pdf)) as document:
        streams = [each.read_raw_bytes() for each in document.objects if isinstance(each, pikepdf.Stream)]
    assert not any(b"where it stood" in stream or b"Exif" in stream for stream in streams)
    assert any(stream.startswith(b"\xff\xd8") for stream in streams)


def test_it_says_in_whose_name_and_is_told_once(tmp_path: Path) -> None:
    path = pattern_with(tmp_path, "a.png", "'Yes, by permission of the collection'", FILES["colours.png"])
    text = pypdfium2.PdfDocument(card(tmp_path, path))[1].get_textpage().get_text_range()
    assert "Photograph By permission of the collection." in " ".join(text.split())
    assert "a.png" not in text
    source = loading.load_pattern(path).source
    assert source is not None
    assert {"photograph", "may be printed"}.isdisjoint(label for label, _ in source_facts(source))


@pytest.mark.parametrize("may", ["no", "ask the holder first", "'yesterday they said so'"])
def test_without_a_yes_it_is_neither_printed_nor_asked_for(may: str, tmp_path: Path) -> None:
    path = pattern_with(tmp_path, "not-there.jpg", may)
    with pikepdf.open(BytesIO(card(tmp_path, path))) as document:
        assert not any(page.get_images() for page in document.pages)
    assert not any("photograph" in problem.message for problem in problems_of_file(path))


def test_where_one_is_kept_is_told_with_whether_it_may_be_printed(tmp_path: Path) -> None:
    source = loading.load_pattern(pattern_file("twin-rails")).source
    assert source is not None
    facts = dict(source_facts(source))
    assert (facts["photograph"], facts["may be printed"]) == (source.photograph, "no")


def test_a_layout_without_it_does_not_look_for_it(tmp_path: Path) -> None:
    card(tmp_path, pattern_with(tmp_path, "not-there.jpg", "yes"), "handout")


def test_the_same_photograph_gives_the_same_bytes(tmp_path: Path) -> None:
    path = pattern_with(tmp_path, "a.png", "yes", FILES["colours.png"])
    assert card(tmp_path, path) == card(tmp_path, path)


# Refused


def _torn_png() -> bytes:
    """A sound file by its chunks, whose picture has a row too few."""
    rows = zlib.compress(b"\0" + bytes(WIDE * 3))
    head = pack(">IIBBBBB", WIDE, 2, 8, 2, 0, 0, 0)
    chunks = [(b"IHDR", head), (b"IDAT", rows), (b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        pack(">I", len(inside)) + name + inside + pack(">I", zlib.crc32(name + inside)) for name, inside in chunks
    )


REFUSED = {
    "is not there": None,
    "is larger than 4 MB": FILES["upright.jpg"] + bytes(LARGEST_PHOTOGRAPH),
    "is neither a JPEG nor a PNG": b"GIF89a" + bytes(100),
    "is torn": FILES["upright.jpg"][:400],
    "a part of it is missing": _torn_png(),
    "can be seen through": saved(image().convert("RGBA"), "PNG"),
    "for a printing press": saved(image().convert("CMYK"), "JPEG"),
    "mirror image": held(2),
    "by 5000 dots": saved(Image.new("L", (5000, 5000)), "PNG"),
}


@pytest.mark.parametrize("words", REFUSED)
def test_what_cannot_be_printed_is_refused_at_its_key_with_a_way_out(
    words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = pattern_with(tmp_path, "a.jpg", "yes", REFUSED[words])
    (told,) = problems_of_file(path)
    assert (told.where, words in told.message, bool(told.remedy)) == ("source.photograph", True, True), told
    out = tmp_path / "card.pdf"
    assert run_command_line(["card", str(path), "--layout", "record", "--back", "--out", str(out)]) != 0
    assert not out.exists()
    assert words in " ".join(capsys.readouterr().err.split())


@pytest.mark.parametrize("name", ["../a.jpg", "pictures/a.jpg", "/elsewhere/a.jpg", ".a.jpg", "..\\\\a.jpg"])
def test_it_lies_beside_the_file_and_nowhere_else(name: str, tmp_path: Path) -> None:
    (tmp_path / "a.jpg").write_bytes(FILES["upright.jpg"])
    folder = tmp_path / "patterns"
    folder.mkdir()
    path = pattern_with(folder, name, "yes")
    with pytest.raises(ProblemsFound, match="not the name of a file alone"):
        loading.photograph_of_pattern(loading.load_pattern(path))


def test_of_whatever_bytes_it_is_read_or_refused() -> None:
    """Sound files with every byte of their heads changed in turn, and cut off anywhere."""
    for raw in (FILES["left.jpg"], FILES["numbered.png"], FILES["progressive.jpg"]):
        for at in range(min(len(raw), 700)):
            for changed in (raw[:at] + bytes([raw[at] ^ 0xFF]) + raw[at + 1 :], raw[:at]):
                try:
                    found = photograph_of(changed, "a.jpg")
                except NotPrintable:
                    continue
                assert isinstance(found, Photograph)
