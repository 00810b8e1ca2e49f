"""``cardmaker new --form``: forms that three programs filled in give the patterns that were meant; all else is told."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

import pikepdf
import pytest
import yaml

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs.form_making import form_pdf
from cardmaker.model import tape_form
from cardmaker.model.pattern import Pattern
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reckoning.stripes.stripe_counts import end_yarns
from tests.helpers.filled_forms import FILLERS, blank, changed, filled_by_pikepdf, filled_by_pypdf, rows
from tests.helpers.places import ROOT
from tests.helpers.shipped import LOOM_FILES

Said = pytest.CaptureFixture[str]

pytestmark = pytest.mark.usefixtures("empty_folder")


class Tape(NamedTuple):
    """What is written into a form, and what was meant by it, worked out by hand."""

    texts: Mapping[str, str]
    ticks: Sequence[str]
    ends: Sequence[str]  # the yarn of every end
    yarns: Mapping[str, tuple[str, str, str | None]]  # fibre, count, system
    finished_mm: float
    grade: str = ""


LINEN, COTTON = ("linen", "20/2", None), ("cotton", "8/2", None)
W, B, R, G, K = "white", "blue", "red", "green", "black"
TAPES = {
    "edge to edge": Tape(
        {
            "title": "Plain Rails",
            "total": "13",
            "yarn_1_yarn": "linen 20/2",
            "length": "72 in",
            **rows("2 blue", "9 white", "2 blue"),
        },
        [],
        [B] * 2 + [W] * 9 + [B] * 2,
        {B: LINEN, W: LINEN},
        1828.8,
    ),
    "mirrored about its last stripe": Tape(
        {
            "title": "Gate Band",
            "code": "T08",
            "total": "25",
            "yarn_1_yarn": "Cotton 8/2",
            "length": "2 m",
            **rows("3 red", "4 white", "2 red", "7 white"),
        },
        ["mirror_last", "grade_f"],
        [R] * 3 + [W] * 4 + [R] * 2 + [W] * 7 + [R] * 2 + [W] * 4 + [R] * 3,
        {R: COTTON, W: COTTON},
        2000,
        "F",
    ),
    "mirrored whole": Tape(
        {
            "title": "Two Lanes",
            "total": "20",
            "yarn_1_yarn": "wool 28/2 metric",
            "length": "1.5 m",
            **rows("2 green", "5 white", "3 black"),
        },
        ["mirror_whole"],
        [G] * 2 + [W] * 5 + [K] * 6 + [W] * 5 + [G] * 2,
        {G: ("wool", "28/2", "metric"), W: ("wool", "28/2", "metric"), K: ("wool", "28/2", "metric")},
        1500,
    ),
    "single ends in turn": Tape(
        {
            "title": "Checked",
            "total": "31",
            "yarn_1_yarn": "linen 20/2",
            "length": "2 yd",
            **rows("8 blue", "15 white / blue", "8 blue"),
        },
        ["grade_b"],
        [B] * 8 + [W, B] * 7 + [W] + [B] * 8,
        {B: LINEN, W: LINEN},
        1828.8,
        "B",
    ),
    "single ends row by row": Tape(
        {
            "title": "Ladder",
            "total": "9",
            "yarn_1_yarn": "linen 20/2",
            "length": "40 cm",
            **rows("3 white", "1 red", "1 white", "1 red", "3 white"),
        },
        [],
        [W] * 3 + [R, W, R] + [W] * 3,
        {W: LINEN, R: LINEN},
        400,
    ),
    "single ends mirrored": Tape(
        {
            "title": "Ladder and Back",
            "total": "21",
            "yarn_1_yarn": "linen 20/2",
            "length": "3 ft",
            **rows("3 white", "5 red, white in turn", "1 black", "3 white and red in turn"),
        },
        ["mirror_last"],
        [W] * 3 + [R, W, R, W, R] + [K] + [W, R, W] + [K] + [R, W, R, W, R] + [W] * 3,
        {W: LINEN, R: LINEN, K: LINEN},
        914.4,
    ),
    "a line for every colour": Tape(
        {
            "title": "Mixed",
            "total": "12 ends",
            "length": "60 cm",
            "weft": "black",
            "yarn_1_colour": "white",
            "yarn_1_yarn": "linen 20/2",
            "yarn_1_shade": "bleached",
            "yarn_2_colour": "blue",
            "yarn_2_yarn": "cotton 16/2",
            "yarn_3_colour": "black",
            "yarn_3_yarn": "wool 2/20 worsted",
            **rows("4 white", "4 blue", "4 white"),
        },
        [],
        [W] * 4 + [B] * 4 + [W] * 4,
        {W: LINEN, B: ("cotton", "16/2", None), K: ("wool", "2/20", "worsted")},
        600,
    ),
    "one line for all and one of its own": Tape(
        {
            "title": "Thick Edge",
            "total": "10",
            "length": "1 m",
            "yarn_1_yarn": "linen 20/2",
            "yarn_2_colour": "red",
            "yarn_2_yarn": "cotton 8/2",
            **rows("1 red", "8 white", "1 red"),
        },
        ["grade_e"],
        [R] + [W] * 8 + [R],
        {R: COTTON, W: LINEN},
        1000,
        "E",
    ),
    "five colours": Tape(
        {
            "title": "Fair",
            "total": "23",
            "yarn_1_yarn": "silk 60/2 metric",
            "length": "36 in",
            **rows("5 red", "1 white", "1 green", "2 black", "5 dark blue", "2 black", "1 green", "1 white", "5 red"),
        },
        ["grade_d"],
        [R] * 5 + [W] + [G] + [K] * 2 + ["dark blue"] * 5 + [K] * 2 + [G] + [W] + [R] * 5,
        dict.fromkeys((R, W, G, K, "dark blue"), ("silk", "60/2", "metric")),
        914.4,
        "D",
    ),
    "not alike, with signs of many languages": Tape(
        {
            "title": "Žlutá páska (no. 2): “Ēbēna” #1",
            "total": "36",
            "length": "2 1/4 in",
            "yarn_1_yarn": "linen 20/2",
            "holder": "Muzeum: “Kraj” #3, Česko",
            "object_number": "007.50 # b",
            "what": "a tie, 'old' & worn",
            "certainty": "give or take 1",
            "notes_1": "Width: 14 mm;",
            "notes_2": "edge worn - see photo",
            **rows("20 černá", "16 krémová"),
        },
        ["grade_a"],
        ["černá"] * 20 + ["krémová"] * 16,
        {"černá": LINEN, "krémová": LINEN},
        57.15,
        "A",
    ),
}


def write(pdf: bytes, name: str = "filled.pdf") -> str:
    Path(name).write_bytes(pdf)
    return name


def new(pdf: bytes, said: Said, *more: str) -> tuple[int, str, str]:
    status = run_command_line(["new", *more, "--form", write(pdf)])
    return (status, *said.readouterr())


def made(pdf: bytes, said: Said) -> tuple[Pattern, str]:
    """The pattern that a form gives, and what was told."""
    status, out, err = new(pdf, said)
    assert (status, err) == (0, "")
    path = Path(out.splitlines()[0])
    return parse_pattern(path.read_bytes(), str(path), path.stem), out


def told(said: Said, texts: Mapping[str, str], ticks: Sequence[str] = ()) -> list[str]:
    """The problems of a form, which is then not written."""
    status, out, err = new(filled_by_pikepdf(texts, ticks), said)
    assert (status, out) == (1, "")
    assert not Path("patterns").exists()
    lines = err.splitlines()
    assert all(line.startswith("filled.pdf: ") for line in lines)
    return [line.removeprefix("filled.pdf: ") for line in lines]


GOOD = {
    "title": "Gate Band",
    "total": "13",
    "yarn_1_yarn": "cotton 8/2",
    "length": "2 m",
    **rows("2 blue", "9 white", "2 blue"),
}
CASES = ROOT / "tests" / "cases" / "forms"
DOUBTS: dict[str, Any] = yaml.safe_load((CASES / "in-doubt.yaml").read_text("utf-8"))
WRONG: dict[str, Any] = yaml.safe_load((CASES / "wrong.yaml").read_text("utf-8"))


def case(told: Mapping[str, Any]) -> tuple[dict[str, str], list[str], list[str]]:
    """What is written, what is ticked, and what is told of it."""
    texts = {**GOOD, **told.get("fields", {})}
    return {field: text for field, text in texts.items() if text}, told.get("ticks", []), told["told"]


# What was meant


@pytest.mark.parametrize("library", FILLERS)
@pytest.mark.parametrize("name", TAPES)
def test_a_filled_form_gives_the_pattern_that_was_meant(name: str, library: str, capsys: Said) -> None:
    tape = TAPES[name]
    pattern, out = made(FILLERS[library](tape.texts, tape.ticks), capsys)
    assert pattern.title == tape.texts["title"]
    assert pattern.code == tape.texts.get("code", "")
    assert end_yarns(pattern) == tuple(tape.ends)
    assert {yarn.name: (yarn.fibre, yarn.count, yarn.system) for yarn in pattern.yarns} == dict(tape.yarns)
    assert float(pattern.length.finished_mm or 0) == pytest.approx(tape.finished_mm)
    assert pattern.stated_ends == len(tape.ends)
    assert pattern.weft == tape.texts.get("weft", "")
    assert (pattern.source.grade if pattern.source else "") == tape.grade
    assert f"{len(tape.ends)} ends: " in out


def test_all_libraries_say_the_same_on_both_papers(capsys: Said) -> None:
    files = set()
    for number, (size, units) in enumerate((("letter", "us"), ("a4", "metric"))):
        for library, fill in FILLERS.items():
            form = fill(GOOD, ["grade_f"], form_pdf(size, units))  # type: ignore[arg-type]
            assert new(form, capsys, "--out", f"{number}-{library}")[0] == 0
            files.add(Path(f"{number}-{library}/gate-band.yaml").read_bytes())
    assert len(files) == 1


def test_as_many_stripes_as_there_are_rows(capsys: Said) -> None:
    names = ["white", "blue", "red"] * 15
    pattern, _ = made(filled_by_pypdf({**GOOD, "total": "45", **rows(*(f"1 {name}" for name in names))}), capsys)
    assert end_yarns(pattern) == tuple(names)


def test_every_fact_of_the_source_is_kept(capsys: Said) -> None:
    facts = {field: f"{field} as written" for field in tape_form.SOURCE}
    pattern, _ = made(filled_by_pikepdf({**GOOD, **facts}, ["grade_c"]), capsys)
    assert {field: getattr(pattern.source, field) for field in tape_form.SOURCE} == facts
    assert pattern.source is not None
    assert pattern.source.grade == "C"


def test_notes_shade_and_printed_colours(capsys: Said) -> None:
    texts = {
        **GOOD,
        "notes_1": "Worn at one edge,",
        "notes_2": "14 mm wide.",
        "yarn_1_colour": "blue",
        "yarn_1_shade": "321",
    }
    pattern, out = made(filled_by_pikepdf(texts), capsys)
    assert pattern.notes.teacher == ("Worn at one edge, 14 mm wide.",)
    assert pattern.yarn("blue").shade == "321"
    assert pattern.yarn("blue").colour == "#2f4a7d"
    assert "  printed in blue #2F4A7D, white #F4F0E4" in out.splitlines()
    assert (
        "  Yarn line 1, yarn: nothing is said of white; cotton 8/2 is taken. Write into the file what the label says."
        in out.splitlines()
    )


def test_what_is_told_of_a_form_that_leaves_nothing_open(capsys: Said) -> None:
    texts = {**GOOD, "what": "a tape tie", "holder": "the county museum", "certainty": "certain"}
    assert new(filled_by_pypdf(texts, ["grade_a"]), capsys)[1].splitlines() == [
        "patterns/gate-band.yaml",
        "13 ends: 2 blue, 9 white, 2 blue; the same from both edges.",
        "Yarn: blue and white of cotton 8/2.",
        "Grade A: copied, object seen. On the card: After a tape tie.",
        "Assumed, for you to change in the file:",
        "  printed in blue #2F4A7D, white #F4F0E4",
        "Next: change what you like in it, then run: cardmaker card patterns/gate-band.yaml",
    ]


def test_the_file_makes_a_card(capsys: Said) -> None:
    made(filled_by_pypdf(TAPES["single ends mirrored"].texts, ["mirror_last"]), capsys)
    assert run_command_line(["check", "patterns"]) == 0
    assert run_command_line(["card", "ladder-and-back"]) == 0


def test_a_form_is_never_read_over_a_file(capsys: Said) -> None:
    assert new(filled_by_pypdf(GOOD), capsys)[0] == 0
    before = Path("patterns/gate-band.yaml").read_bytes()
    status, _, err = new(filled_by_pypdf({**GOOD, "length": "3 m"}), capsys)
    assert (status, "is there already" in err) == (2, True)
    assert Path("patterns/gate-band.yaml").read_bytes() == before


def test_a_title_that_is_typed_stands_for_an_empty_one(capsys: Said) -> None:
    texts = {field: text for field, text in GOOD.items() if field != "title"}
    assert new(filled_by_pikepdf(texts), capsys, "Lane")[1].startswith("patterns/lane.yaml\n")
    status, _, err = new(filled_by_pikepdf(GOOD), capsys, "Lane")
    told_of_it = "Name: the form says 'Gate Band', and the command 'Lane'. Leave one of them out, or make them agree."
    assert (status, err) == (1, f"filled.pdf: {told_of_it}\n")


@pytest.mark.parametrize("title", ["?", "x" * 81, "La\u202ene"])
def test_a_title_that_is_typed_is_one(title: str, capsys: Said) -> None:
    assert new(filled_by_pikepdf(GOOD), capsys, title)[0] == 2
    assert not Path("patterns").exists()


@pytest.mark.parametrize("more", [["--ask"], ["--stripes", "9 white"], ["--kind", "loom"]])
def test_a_form_tells_everything(more: list[str], capsys: Said) -> None:
    status, _, err = new(blank(), capsys, *more)
    assert (status, err) == (
        2,
        "cardmaker: --form tells everything of a pattern: leave --ask, --stripes and --kind out.\n",
    )


# What is in doubt


@pytest.mark.parametrize("name", DOUBTS)
def test_a_doubt_is_told_at_its_field_and_stands_in_the_file(name: str, capsys: Said) -> None:
    texts, ticks, (doubt,) = case(DOUBTS[name])
    _, out = made(filled_by_pikepdf(texts, ticks), capsys)
    lines = out.splitlines()
    told_from = lines.index("To look at; it stands at the head of the file, too:")
    (line,) = (line for line in lines[told_from:] if line.startswith(f"  {doubt}"))
    assert lines[-1].startswith("Next: look at what is in doubt, then run: cardmaker card patterns/gate-band.yaml")
    text = Path("patterns/gate-band.yaml").read_text("utf-8")
    assert text.splitlines()[2] == "# To look at:"  # below the line for editors and what it was read from
    assert f"# {line}" in text.splitlines()


def test_a_total_that_nobody_counted_is_no_check(capsys: Said) -> None:
    """The sum of the rows would always agree with them."""
    pattern, _ = made(filled_by_pikepdf({field: text for field, text in GOOD.items() if field != "total"}), capsys)
    assert pattern.stated_ends is None
    assert "# ends: 13" in Path("patterns/gate-band.yaml").read_text("utf-8")


def test_a_loom_that_holds_the_tape_is_named_in_the_command(capsys: Said) -> None:
    stem = "broad-paddle"
    assert stem in [path.stem for path in LOOM_FILES]
    for name in (stem, "Broad Paddle"):
        _, out = made(filled_by_pikepdf({**GOOD, "title": f"Lane {len(name.split())}", "loom": name}), capsys)
        assert out.splitlines()[-1].endswith(f" --loom {stem}")


def test_a_loom_that_does_not_hold_the_tape_is_in_doubt(capsys: Said) -> None:
    _, out = made(
        filled_by_pikepdf(
            {**GOOD, **rows("200 blue"), "stripe_02_ends": "190", "total": "392", "loom": "broad-paddle"}
        ),
        capsys,
    )
    assert "  Loom: 392 ends; " in out
    assert "--loom" not in out


def test_what_is_written_over_the_page_is_in_doubt(capsys: Said) -> None:
    def write_over(pdf: pikepdf.Pdf) -> None:
        words = pikepdf.Dictionary(Type=pikepdf.Name.Annot, Subtype=pikepdf.Name.FreeText, Rect=[0, 0, 9, 9])
        pdf.pages[0].Annots.append(pdf.make_indirect(words))

    _, out = made(changed(filled_by_pikepdf(GOOD), write_over), capsys)
    assert "  something is drawn or written over the page, and is not read." in out


# What is wrong


@pytest.mark.parametrize("name", WRONG)
def test_what_is_wrong_is_told_at_its_field(name: str, capsys: Said) -> None:
    texts, ticks, sentences = case(WRONG[name])
    assert told(capsys, texts, ticks) == sentences


def test_an_empty_form_is_told_as_such(capsys: Said) -> None:
    first, *others = told(capsys, {})
    assert first.startswith("no field of it is filled in. Click into a field and type, then save; what is drawn or")
    assert [line.split(":")[0] for line in others] == ["Name", "Row 1, ends"]


# The command that makes it


def test_the_form_is_written_where_pdfs_go_and_her_paper_and_units_hold(capsys: Said) -> None:
    assert run_command_line(["form"]) == 0
    assert capsys.readouterr().out.splitlines() == [
        "out/tape-form.pdf",
        "Next: fill it in and save it, then run: cardmaker new --form out/tape-form.pdf",
    ]
    assert Path("out/tape-form.pdf").read_bytes() == form_pdf("letter", "metric")
    Path("cardmaker.yaml").write_text("paper: a4\nunits: us\nout: mine\n")
    assert run_command_line(["form"]) == 0
    assert Path("mine/tape-form.pdf").read_bytes() == form_pdf("a4", "us")
    assert run_command_line(["form", "--paper", "letter", "--units", "metric", "--out", "one.pdf", "--quiet"]) == 0
    assert Path("one.pdf").read_bytes() == form_pdf("letter", "metric")


def test_a_form_is_never_written_over_one_that_may_be_filled_in(capsys: Said) -> None:
    """Without a name it gets the next number; the very form, which is empty, is as good as a new one."""
    filled = filled_by_pypdf(GOOD)
    Path("out").mkdir()
    Path("out/tape-form.pdf").write_bytes(filled)
    for _ in range(2):
        assert run_command_line(["form"]) == 0
        assert capsys.readouterr().out.startswith("out/tape-form-2.pdf\n")
    Path("out/tape-form-2.pdf").write_bytes(filled)
    assert run_command_line(["form", "--out", "out"]) == 0
    assert capsys.readouterr().out.startswith("out/tape-form-3.pdf\n")
    assert run_command_line(["form", "--out", "out/tape-form.pdf"]) == 2
    told_of_it = "is there already, and may be filled in. Name another file, or a folder, which gets the next number."
    assert capsys.readouterr().err == f"cardmaker: out/tape-form.pdf {told_of_it}\n"
    assert {path.read_bytes() for path in Path("out").glob("tape-form*.pdf")} == {filled, form_pdf("letter", "metric")}
    assert Path("out/tape-form.pdf").read_bytes() == filled


def test_the_form_is_opened_where_that_is_wanted(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[Sequence[Path]] = []

    def open_in_viewer(paths: Sequence[Path]) -> str:
        asked.append(paths)
        return ""

    monkeypatch.setattr("cardmaker.cli.viewer.open_in_viewer", open_in_viewer)
    assert run_command_line(["form", "--open"]) == 0
    assert asked == [[Path("out/tape-form.pdf")]]


def test_a_form_without_its_option_is_no_title(capsys: Said) -> None:
    assert run_command_line(["new", "out/Filled.PDF"]) == 2
    told_of_it = (
        "'out/Filled.PDF' is a PDF, and no title. If it is a filled form, write: cardmaker new --form out/Filled.PDF"
    )
    assert capsys.readouterr().err == f"cardmaker: {told_of_it}\n"
    assert not Path("patterns").exists()
