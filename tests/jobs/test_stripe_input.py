"""``cardmaker new --stripes``: from the command line, a file, a spreadsheet's table and standard input."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest
import yaml

from cardmaker.cli.command_line import run_command_line

Said = pytest.CaptureFixture[str]

pytestmark = pytest.mark.usefixtures("empty_folder")


def new(stripes: str, said: Said, *more: str) -> tuple[int, str, str]:
    status = run_command_line(["new", "Lane", "--stripes", stripes, *more])
    return (status, *said.readouterr())


def warp() -> list[str]:
    found: list[str] = yaml.load(Path("patterns/lane.yaml").read_text("utf-8"), yaml.BaseLoader)["warp"]
    return found


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("lane.txt", b"2 blue\n9 white\n2 blue\n"),
        ("lane.csv", b"\xef\xbb\xbfcount;colour\r\n2;blue\r\n9;white\r\n2;blue\r\n"),
        ("lane.tsv", "colour\tcount\r\nblue\t2\r\nwhite\t9\r\nblue\t2\r\n".encode("utf-16")),
        ("lane", b"2 blue 9 white 2 blue"),  # any file that is there
    ],
)
def test_from_a_file(name: str, content: bytes, capsys: Said) -> None:
    Path(name).write_bytes(content)
    status, _, err = new(name, capsys)
    assert (status, err, warp()) == (0, "", ["2 blue", "9 white", "2 blue"])


def test_from_standard_input(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"2,blue\n9,white\n")))
    assert new("-", capsys)[0] == 0
    assert warp() == ["2 blue", "9 white"]


def test_what_was_understood_and_assumed_is_told(capsys: Said) -> None:
    """2 + 9 + 2 = 13."""
    assert new("2 blue 9 white 2 teal", capsys)[1].splitlines() == [
        "patterns/lane.yaml",
        "13 ends in 3 stripes: 2 blue, 9 white, 2 teal; not the same from both edges.",
        "Assumed, for you to change in the file:",
        "  blue, white and teal of cotton 8/2",
        "  printed in blue #2F4A7D, white #F4F0E4",
        "  no colour for teal",
        "  2 yd of tape, woven and washed",
        "Next: change what you like in it, then run: cardmaker card patterns/lane.yaml",
    ]


def test_without_stripes_those_are_assumed_too(capsys: Said) -> None:
    assert run_command_line(["new", "Lane"]) == 0
    told = capsys.readouterr().out.splitlines()
    assert told[1] == "13 ends in 3 stripes: 2 blue, 9 white, 2 blue; the same from both edges."
    assert told[3] == "  the stripes"


def test_her_units_are_those_that_are_assumed(capsys: Said) -> None:
    Path("cardmaker.yaml").write_text("units: metric\n")
    assert "  2 m of tape, woven and washed" in new("9 white", capsys)[1].splitlines()
    assert "finished: 2 m\n" in Path("patterns/lane.yaml").read_text("utf-8")


def test_it_is_written_into_her_own_folder(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    Path("cardmaker.yaml").write_text("units: us\n")
    Path("out").mkdir()
    monkeypatch.chdir("out")
    assert new("9 white", capsys)[1].startswith("../patterns/lane.yaml\n")
    assert Path("../patterns/lane.yaml").is_file()
    assert new("9 white", capsys, "--out", "here")[1].startswith("here/lane.yaml\n")


@pytest.mark.parametrize(
    ("asked", "content", "said"),
    [
        ("lane.csv", None, "--stripes: lane.csv:1:1: there is no such file. Check the name and the folder."),
        ("lane.xlsx", b"PK\x03\x04", "--stripes: lane.xlsx is a spreadsheet's own file. Save the sheet as"),
        ("lane.csv", b"PK\x03\x04\x00", "--stripes: lane.csv is no text. Save the sheet as a table of text, CSV"),
        ("lane.csv", "2,gr\xfcn".encode("latin-1"), "--stripes: lane.csv is not saved as UTF-8. Save it again"),
        ("lane.txt", b"9 wh\x1bite", "The sign ESCAPE (U+001B) cannot stand in a file. Leave it out."),
        ("2 blue 9 \u202ewhite", None, "The sign RIGHT-TO-LEFT OVERRIDE (U+202E) cannot stand in a file."),
        ("2 blue9 white", None, "--stripes: '2 blue9 white' has a figure inside the name of a yarn. If you mean two"),
        ("399 blue, 9 white", None, "--stripes: The stripes add up to 408 ends; 400 is the most."),
        (f"9 {'w' * 31}", None, "is no name for a colour. Begin it with a letter, and write 30 letters at most."),
    ],
)  # fmt: skip
def test_what_is_refused(asked: str, content: bytes | None, said: str, capsys: Said) -> None:
    if content is not None:
        Path(asked).write_bytes(content)
    status, out, err = new(asked, capsys)
    assert (status, out) == (2, "")
    assert said in err
    assert not Path("patterns").exists()


def test_no_stripes_at_all(capsys: Said) -> None:
    with pytest.raises(SystemExit) as left:
        new("", capsys)
    assert left.value.code == 2
    assert capsys.readouterr().err.startswith("cardmaker: --stripes needs a word after it: from left to right, such as")
    assert not Path("patterns").exists()
