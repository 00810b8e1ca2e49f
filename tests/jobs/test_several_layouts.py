"""Several card layouts at once: a card of each, all of one pattern or none, each as if it were made by itself."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.pdf.attachments import held_in
from tests.helpers.places import ROOT
from tests.helpers.shipped import LAYOUT_FILES

Said = pytest.CaptureFixture[str]

pytestmark = pytest.mark.usefixtures("empty_folder")


def run(capsys: Said, *arguments: str) -> tuple[int, str, str]:
    try:
        status = run_command_line(arguments)
    except SystemExit as end:
        status = end.code if isinstance(end.code, int) else 0
    return (status, *capsys.readouterr())


def made(folder: str = "out") -> list[str]:
    return sorted(path.name for path in Path(folder).glob("*")) if Path(folder).exists() else []


def write_narrow_layout() -> None:
    """A layout that no tape has room on."""
    text = (ROOT / "layouts/cards/record.yaml").read_text("utf-8")
    text = re.sub(r"(?m)^papers: .*$", "papers: [{name: slip, width: 90 mm, height: 90 mm}]", text)
    Path("layouts/cards").mkdir(parents=True)
    Path("layouts/cards/slip.yaml").write_text(text, "utf-8")


def test_a_card_of_each_is_the_same_as_one_made_alone(capsys: Said) -> None:
    for layout in ("handout", "record"):
        assert run(capsys, "card", "wick", "--layout", layout, "--out", "alone")[0] == 0
    status, out, err = run(capsys, "card", "wick", "nine", "--layout", "handout, record", "--out", "together")
    assert (status, err) == (0, "")
    assert made("together") == [f"{tape}-{layout}.pdf" for tape in ("nine", "wick") for layout in ("handout", "record")]
    for name in made("alone"):
        assert Path("together", name).read_bytes() == Path("alone", name).read_bytes()
    assert [line for line in out.splitlines() if not line.startswith("  ")][-1] == "4 cards of 2 patterns."


def test_each_tells_the_command_for_itself_alone(capsys: Said) -> None:
    assert run(capsys, "card", "wick", "--layout", "handout,record")[0] == 0
    for layout in ("handout", "record"):
        held = held_in(Path(f"out/wick-{layout}.pdf"))
        options = dict(option[:2] for option in json.loads(held.how_made)["options"] if len(option) > 1)
        assert options["--layout"] == f"{layout}.yaml"


def test_all_is_every_kind_but_that_of_one_end_and_that_for_no_loom(capsys: Said) -> None:
    """And what a tape without a figure has no use for is passed over, with a word."""
    status, out, err = run(capsys, "card", "wick", "--layout", "all")
    assert status == 0
    stems = [path.stem for path in LAYOUT_FILES if path.stem not in ("rescue", "pick-up", "any-loom")]
    assert made() == sorted(f"wick-{stem}.pdf" for stem in stems)
    assert out.splitlines()[-1] == f"{len(stems)} cards of 1 pattern."
    assert [": note: " in line and "nothing is picked up by hand" in line for line in err.splitlines()] == [True]


def test_all_has_her_own_as_well(capsys: Said) -> None:
    write_narrow_layout()
    text = Path("layouts/cards/slip.yaml").read_text("utf-8")
    Path("layouts/cards/slip.yaml").write_text(text.replace("90 mm, height: 90 mm", "210 mm, height: 290 mm"), "utf-8")
    assert run(capsys, "card", "wick", "--layout", "all")[0] == 0
    assert "wick-slip.pdf" in made()


def test_a_problem_with_one_keeps_all_of_its_pattern_back(capsys: Said) -> None:
    """What stands there stays, and what to type for the others is told. Other patterns are made."""
    write_narrow_layout()
    Path("out").mkdir()
    Path("out/wick-record.pdf").write_bytes(b"%PDF- the old one")
    status, out, err = run(capsys, "card", "wick", "--layout", "handout,slip,record", "--preview")
    assert (status, out) == (1, "")
    assert made() == ["wick-record.pdf"]
    assert Path("out/wick-record.pdf").read_bytes() == b"%PDF- the old one"
    said = err.splitlines()
    assert len(said) == 2
    assert said[1].endswith(
        "none of its 3 cards is written, so that old and new ones do not lie side by side. "
        "Those without a problem are made by --layout handout,record."
    )
    Path("bad.yaml").write_text("title: Bad\n")
    status, out, err = run(capsys, "card", "bad.yaml", "wick", "--layout", "handout,record")
    assert status == 1
    assert made() == ["wick-handout.pdf", "wick-record.pdf"]
    assert len(set(err.splitlines())) == len(err.splitlines())  # what is wrong with the file is told once
    assert "Those without a problem" not in err


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("card wick --layout handout,recrod", "There is no layout named 'recrod'. Did you mean record?"),
        ("card wick --layout handout,", "has a comma with no card layout beside it. Write the names as in"),
        ("card wick --layout handout,record,handout", "names handout twice. Name each card layout once."),
        ("card wick --layout handout,record --out x.pdf", "x.pdf is one file, but 2 cards were asked for"),
        ("card wick --layout handout,record --supersedes old.pdf", "--supersedes is for one card at a time."),
        ("card wick --layout handout,field --paper a4", "None of these card layouts has a paper 'a4'; they have"),
        ("card wick --layout record,./record.yaml", "Two of the cards would be written to out/wick-record.pdf"),
        ("binder wick --layout handout,record", "all of one layout: name one, handout or record."),
        ("binder wick --layout all", "all of one layout: name one, such as --layout record."),
    ],
)
def test_what_does_not_go_together(asked: str, told: str, capsys: Said) -> None:
    Path("record.yaml").write_bytes((ROOT / "layouts/cards/record.yaml").read_bytes())
    status, out, err = run(capsys, *asked.split())
    assert (status, out, made()) == (2, "", [])
    assert told in err


def test_a_comma_in_the_name_of_a_file_parts_nothing(capsys: Said) -> None:
    Path("tall, narrow.yaml").write_bytes((ROOT / "layouts/cards/record.yaml").read_bytes())
    assert run(capsys, "card", "wick", "--layout", "tall, narrow.yaml")[0] == 0
    assert made() == ["wick-tall, narrow.pdf"]


@pytest.mark.parametrize("settings", ["layout: handout, record\n", "layout: [handout, record]\n"])
def test_the_settings_may_name_several(settings: str, capsys: Said) -> None:
    Path("cardmaker.yaml").write_text(settings)
    assert run(capsys, "card", "wick")[0] == 0
    assert made() == ["wick-handout.pdf", "wick-record.pdf"]
    assert run(capsys, "binder", "wick", "nine", "--out", "book.pdf")[0] == 0
    several = Path("book.pdf").read_bytes()
    Path("cardmaker.yaml").write_text("layout: handout\n")
    assert run(capsys, "binder", "wick", "nine", "--out", "book.pdf")[0] == 0
    assert Path("book.pdf").read_bytes() == several


def test_a_wrong_name_in_the_settings_is_told_at_its_line(capsys: Said) -> None:
    Path("cardmaker.yaml").write_text("units: us\nlayout: handout, recrod\n")
    status, _, err = run(capsys, "card", "wick")
    assert status == 1
    assert err.startswith("cardmaker.yaml:2:1: layout: There is no layout named 'recrod'. Did you mean record?")


def test_each_layout_has_the_paper_asked_for_or_one_from_the_same_sheets(capsys: Said) -> None:
    _, out, _ = run(capsys, "card", "wick", "--layout", "handout,record,field", "--paper", "a4")
    assert re.findall(r"\(.*, (\S+)\)", out) == ["a5", "a4", "a6"]


def test_the_paper_of_the_settings_brings_the_one_that_goes_with_it(capsys: Said) -> None:
    Path("cardmaker.yaml").write_text("paper: a4\n")
    assert "(Small box, a5)" in run(capsys, "card", "wick", "--layout", "handout")[1]
    Path("cardmaker.yaml").write_text("paper: letter\n")
    assert "(Small box, half-letter)" in run(capsys, "card", "wick", "--layout", "handout")[1]
