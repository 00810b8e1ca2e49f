"""What people ask of a binder, and what may be wrong with it: names, folders, titles, places to write."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import Final

import pikepdf
import pypdf
import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFPage

from cardmaker.binder.arranging import by_code, natural
from cardmaker.cli.command_line import run_command_line
from cardmaker.model.binder_contents import Entry, TapeFace
from cardmaker.pdf.document import Document, compact_text
from tests.benchmarks.distinct import pattern_text
from tests.helpers.places import ROOT

SMALL: Final = ("--layout", "six-numbers", "--quiet")
Said = pytest.CaptureFixture[str]


pytestmark = pytest.mark.usefixtures("empty_folder")


def pattern(path: str, title: str, code: str = "", use: str = "") -> str:
    """A pattern file of its own; returns its path."""
    lines = [f"title: {title}", *([f"code: {code}"] if code else []), *([f"for: [{use}]"] if use else [])]
    lines += ["yarns: {white: {fibre: linen, count: 20/2}}", "warp: [9 white]"]
    Path(path).parent.mkdir(parents=True, exist_ok=True)
    Path(path).write_text("\n".join(lines), "utf-8")
    return path


def binder(*asked: str) -> tuple[int, pypdf.PdfReader | None]:
    status = run_command_line(["binder", *asked, *SMALL, "--out", "book.pdf"])
    return status, pypdf.PdfReader("book.pdf", strict=True) if Path("book.pdf").exists() else None


def titles(reader: pypdf.PdfReader | None) -> list[str]:
    """What the outline says, level after level left out."""
    assert reader is not None

    def flat(entries: object) -> list[str]:
        if isinstance(entries, list):
            return [title for entry in entries for title in flat(entry)]
        return [str(entries.title)]  # type: ignore[attr-defined]

    return flat(reader.outline)


def text(reader: pypdf.PdfReader | None) -> str:
    assert reader is not None
    return "\n".join(page.extract_text() for page in reader.pages)


# What is bound


def test_only_patterns_of_a_folder_are_bound(capsys: Said) -> None:
    for name, kind in (("small-box", "looms"), ("two-pegs", "pegs"), ("record", "cards")):
        Path(f"mine/{kind}").mkdir(parents=True)
        Path(f"mine/{kind}/{name}.yaml").write_bytes((ROOT / "layouts" / kind / f"{name}.yaml").read_bytes())
    pattern("mine/b.yaml", "Bea")
    pattern("mine/deeper/a.yaml", "Ann")
    pattern("mine/.old/c.yaml", "Cid")
    status, made = binder("mine")
    assert (status, capsys.readouterr().err) == (0, "")
    assert {"Ann", "Bea"} <= set(titles(made))
    assert "Cid" not in titles(made)


@pytest.mark.parametrize(
    ("names", "told"),
    [
        (["nothing"], "There is no pattern in the folder nothing"),
        (["two-rail"], "There is no pattern named 'two-rail'. Did you mean two-rails?"),
        (["book.yaml", "wick"], "book.yaml is a binder file: name it alone."),
        (["the-ropeloft-book", "wick"], "the-ropeloft-book.yaml is a binder file: name it alone."),
        (["book.yaml", "--by", "use"], "A binder file has its own sections: leave --by out."),
        (["wick", "--title", "一"], "--title: the type has no '一' (CJK UNIFIED IDEOGRAPH-4E00)."),
        (["wick", "--title", "a\nb"], "--title: the type has no U+000A."),
    ],
)
def test_what_cannot_be_meant_is_told_in_one_line(names: list[str], told: str, capsys: Said) -> None:
    Path("nothing").mkdir()
    Path("book.yaml").write_text("title: Book\nsections: [{title: One, patterns: [wick]}]", "utf-8")
    assert binder(*names) == (2, None)
    err = capsys.readouterr().err
    assert told in err
    assert err.count("\n") == 1


def test_every_name_of_a_binder_file_that_means_nothing_is_told_with_its_place(capsys: Said) -> None:
    Path("book.yaml").write_text("title: Book\nsections:\n  - {title: One, patterns: [wik, wick, nin]}\n", "utf-8")
    assert binder("book.yaml") == (1, None)
    lines = capsys.readouterr().err.splitlines()
    assert [line.split(": ")[0] for line in lines] == ["book.yaml:3:29", "book.yaml:3:40"]
    assert "Did you mean wick?" in lines[0]


def test_a_section_s_loom_that_is_not_there_is_told_with_its_place(capsys: Said) -> None:
    Path("book.yaml").write_text(
        "title: Book\nsections:\n  - {title: One, loom: smal-box, patterns: [wick]}\n", "utf-8"
    )
    assert binder("book.yaml") == (1, None)
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith(
        "book.yaml:3:18: sections item 1.loom: There is no loom named 'smal-box'. Did you mean small-box"
    )


def test_one_file_stands_in_it_once_whatever_it_is_called() -> None:
    pattern("a.yaml", "Ann")
    Path("b.yaml").symlink_to("a.yaml")
    status, made = binder("a.yaml", "./a.yaml", str(Path("a.yaml").resolve()), "b.yaml", ".")
    assert status == 0
    assert titles(made).count("Ann") == 1


def test_two_patterns_of_one_file_name_code_and_title_both_stand_in_it() -> None:
    pattern("one/tape.yaml", "Tape", "T1")
    pattern("two/tape.yaml", "Tape", "T1")
    status, made = binder("one", "two")
    assert status == 0
    assert titles(made).count("Tape (T1)") == 2
    targets = {str(link["/Dest"]) for page in made.pages for link in links(page) if "page" in str(link["/Contents"])}  # type: ignore[union-attr]
    assert len(targets) >= 2
    assert run_command_line(["restore", "book.pdf", "--out", "back", "--quiet"]) == 0
    assert len([path for path in Path("back/patterns").iterdir() if b"Tape" in path.read_bytes()]) == 1 + 1


def links(page: pypdf.PageObject) -> list[dict[str, object]]:
    return [annotation.get_object() for annotation in page.get("/Annots", [])]


def test_long_titles_other_letters_and_no_codes_are_set() -> None:
    long = "A tape of eighty letters, " + "long and longer, " * 3 + "yes"
    for number, title in enumerate((long, "Ταινία", "Лента", "Łączka")):
        pattern(f"p/{number}.yaml", title, use="bookmark")
    status, made = binder("p", "--by", "use")
    assert status == 0
    assert {long, "Ταινία", "Лента", "Łączka"} <= set(titles(made))
    assert "Ταινία" in text(made)


def test_two_hundred_sections() -> None:
    pattern("a.yaml", "Ann")
    lines = [f"  - {{title: Part {number}, text: Words.}}" for number in range(199)]
    sections = ["title: Book", "sections:", *lines, "  - {title: Last, patterns: [a.yaml]}"]
    Path("book.yaml").write_text("\n".join(sections), "utf-8")
    status, made = binder("book.yaml")
    assert status == 0
    assert [title for title in titles(made) if title.startswith("Part ")] == [f"Part {n}" for n in range(199)]


# What cannot be bound


def test_a_broken_pattern_is_named_at_the_end_and_the_rest_is_made(capsys: Said) -> None:
    pattern("p/a.yaml", "Ann")
    Path("p/odd.yaml").write_text("title: 一\nyarns: {white: {fibre: linen, count: 20/2}}\nwarp: [9 wite]\n", "utf-8")
    Path("p/raw.yaml").write_bytes(b"\xff\xfe\x00")
    pattern("p/uses.yaml", "Uses", use="一")
    status, made = binder("p")
    assert status == 1
    err = capsys.readouterr().err
    assert {line.split(":")[0] for line in err.splitlines()} == {"p/odd.yaml", "p/raw.yaml", "p/uses.yaml"}
    assert titles(made)[-1] == "Not in this binder"
    last = made.pages[-1].extract_text()  # type: ignore[union-attr]
    assert {"p/odd.yaml", "p/raw.yaml", "p/uses.yaml"} <= set(text(made).split())
    assert "Line " in last


def test_strict_makes_nothing(capsys: Said) -> None:
    pattern("p/a.yaml", "Ann")
    Path("p/odd.yaml").write_text("title: Odd\nwarp: [9 white]\n", "utf-8")
    assert binder("p", "--strict") == (1, None)
    assert capsys.readouterr().err.startswith("p/odd.yaml:")


# Where it is written


def test_it_is_written_into_a_folder_or_a_new_one() -> None:
    Path("there").mkdir()
    assert run_command_line(["binder", "wick", *SMALL, "--out", "there"]) == 0
    assert run_command_line(["binder", "wick", *SMALL, "--out", "new/deep/book.pdf"]) == 0
    assert Path("there/binder.pdf").read_bytes() == Path("new/deep/book.pdf").read_bytes()


@pytest.mark.parametrize(("out", "status"), [("book.txt", 2), ("/proc/none/book.pdf", 1), ("a.yaml/book.pdf", 1)])
def test_where_it_cannot_be_written_one_line_says_so(out: str, status: int, capsys: Said) -> None:
    pattern("a.yaml", "Ann")
    assert run_command_line(["binder", "a.yaml", *SMALL, "--out", out]) == status
    err = capsys.readouterr().err
    assert out in err
    assert err.count("\n") == 1


# Small papers


@pytest.mark.parametrize(
    ("layout", "paper"),
    [("six-numbers", "3x5"), ("six-numbers", "a6"), ("field", "4x6"), ("handout", "half-letter"), ("handout", "a5")],
)
def test_on_small_paper_nothing_leaves_the_page(layout: str, paper: str) -> None:
    asked = ["wick", "three-paths", "long-sixty", "--layout", layout, "--paper", paper, "--by", "use", "--quiet"]
    assert run_command_line(["binder", *asked, "--out", "book.pdf"]) == 0
    for page in pypdfium2.PdfDocument("book.pdf"):
        width, height = page.get_size()
        letters = page.get_textpage()
        for number in range(letters.count_chars()):
            left, bottom, right, top = letters.get_charbox(number)
            assert -0.01 <= left <= right <= width + 0.01
            assert -1 <= bottom <= top <= height + 0.01


# Given back


def test_a_hundred_patterns_are_given_back_byte_for_byte() -> None:
    Path("p").mkdir()
    for number in range(100):
        Path(f"p/d{number}.yaml").write_text(pattern_text(number), "utf-8")
    status, made = binder("p")
    assert status == 0
    cards = [title for title in titles(made) if title.endswith(")")]
    assert [title.rsplit("(", 1)[1] for title in cards] == [f"D{number})" for number in range(100)]
    assert run_command_line(["restore", "book.pdf", "--out", "back", "--quiet"]) == 0
    for path in Path("p").iterdir():
        assert Path("back/patterns", path.name).read_bytes() == path.read_bytes()


def test_a_binder_may_be_what_a_card_supersedes(capsys: Said) -> None:
    binder("three-paths", "wick")
    asked = ["card", "three-paths", "--layout", "six-numbers", "--supersedes", "book.pdf", "--out", "new.pdf"]
    assert run_command_line(asked) == 0
    assert capsys.readouterr().err == ""


# Order


def entry(code: str, title: str = "") -> Entry:
    face = TapeFace("R", 1.0, 1.0, "")
    return Entry(f"card {code} {title}", title, code, 1, 1, {}, (), "", (), "", face)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("codes", "in_order"),
    [
        (["T10", "T9", "", "t1"], ["t1", "T9", "T10", ""]),
        (["B2", "A10b", "A10", "A2"], ["A2", "A10", "A10b", "B2"]),
        (["10", "9", "a"], ["9", "10", "a"]),
        (["T01", "T1", "T001"], ["T01", "T1", "T001"]),
    ],
)
def test_codes_in_the_order_of_their_figures(codes: list[str], in_order: list[str]) -> None:
    assert [each.code for each in by_code(map(entry, codes))] == in_order


@given(st.lists(st.text(max_size=6), max_size=8))
def test_any_codes_can_be_put_in_order_and_none_is_lost(codes: list[str]) -> None:
    found = [each.code for each in by_code(map(entry, codes))]
    assert sorted(found) == sorted(codes)
    assert found == sorted(found, key=lambda code: (not code, natural(code)))


@given(st.integers(0, 10**30), st.integers(0, 10**30), st.text(alphabet="abcT-", max_size=4))
def test_figures_in_names_go_by_their_value(one: int, other: int, letters: str) -> None:
    assert (natural(f"{letters}{one}") < natural(f"{letters}{other}")) == (one < other)


# Packed objects


@given(st.lists(st.integers(0, 30), min_size=1, max_size=5))
def test_packed_objects_are_read_back(counts: list[int]) -> None:
    """Object streams as pikepdf (qpdf) and pypdf read them: every object under its own number, whatever the order."""
    document = Document("en")
    page = PDFPage()
    page.MediaBox, page.Resources, page.Contents = PDFArray([0, 0, 9, 9]), PDFDictionary({}), compact_text(b"")
    document.addPage(page)
    reserved = [document.reserve(count) for count in counts]
    assert [len(numbers) for numbers in reserved] == counts
    for numbers in reversed(reserved):
        document.pack(numbers, [f"<</Own {number}>>".encode() for number in numbers])
    kept = document.number(compact_text(b"kept"))
    pdf = document.finished()
    reader = pypdf.PdfReader(BytesIO(pdf))
    with pikepdf.open(BytesIO(pdf)) as read:
        for numbers in reserved:
            for number in numbers:
                assert read.get_object((number, 0)).Own == number
                assert pypdf.generic.IndirectObject(number, 0, reader).get_object()["/Own"] == number  # type: ignore[index]
        assert read.get_object((kept, 0)).read_bytes() == b"kept"


def test_a_promised_object_that_never_comes_is_an_error() -> None:
    document = Document("en")
    document.reserve(2)
    with pytest.raises(ValueError, match="was promised and never came"):
        document.finished()
