"""``cardmaker begin``: from an empty folder to her own card on her own loom, and nothing of anybody else's on it."""

from __future__ import annotations

import io
import os
import pty
import re
import select
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import pdfplumber
import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import checking
from cardmaker.jobs.beginning import offered_stripes
from cardmaker.jobs.file_lookup import shipped, shipped_names
from cardmaker.model.loom import Heddles, Loom, Space
from tests.helpers.places import ROOT

Said = pytest.CaptureFixture[str]

pytestmark = pytest.mark.usefixtures("empty_folder")

# units, paper, hand; title, heddles, slots, holes, mark, shuttle, hole, waste, so it is;
# title, stripes, no more, yarn, length, yes
ANSWERS = ("", "", "", "Kitchen box", "", "22", "21", "2", "left", "", "", "", "Gate Band", "", "", "", "", "y")
SCHEMAS = [".schemas/loom.json", ".schemas/pattern.json", ".schemas/settings.json"]  # for editors
FILES = ["cardmaker.yaml", "layouts/looms/kitchen-box.yaml", "patterns/gate-band.yaml"]
SHIPPED = {
    line.split(":", 1)[1].strip().strip('"')
    for name in shipped_names()
    if name.startswith(("patterns/", "layouts/looms/"))
    for line in (shipped() / name).read_text("utf-8").splitlines()
    if line.startswith("title:")
}


def answered(answers: Sequence[str], monkeypatch: pytest.MonkeyPatch, *arguments: str) -> int:
    monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{answer}\n" for answer in answers)))
    return run_command_line(arguments or ["begin"])


def files_here() -> list[str]:
    return sorted(path.as_posix() for path in Path().rglob("*") if path.is_file())


def shipped_names_in(text: str) -> set[str]:
    """Titles of what ships, as they stand; and the stems of their files."""
    stems = {Path(name).stem for name in shipped_names() if name.startswith(("patterns/", "layouts/looms/"))}
    return {each for each in SHIPPED | {stem for stem in stems if "-" in stem} if re.search(rf"\b{each}\b", text)}


def test_it_makes_the_folder(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    assert answered(ANSWERS, monkeypatch) == 0
    told = capsys.readouterr().out
    assert files_here() == [*SCHEMAS, *FILES]
    assert checking.problems_of_file(Path("layouts/looms/kitchen-box.yaml")) == []
    assert checking.problems_of_file(Path("patterns/gate-band.yaml")) == []
    assert checking.problems_of_file(Path("cardmaker.yaml")) == []
    assert told.rstrip().endswith("Next, your card for Kitchen box: cardmaker card gate-band")
    assert shipped_names_in(told + "".join(Path(name).read_text("utf-8") for name in FILES)) == set()


def test_that_shipped_names_are_found() -> None:
    assert shipped_names_in("on a Small box, Two Rails, see layouts/looms/treadle-pair.yaml") == {
        "Small box", "Two Rails", "treadle-pair",
    }  # fmt: skip


def test_the_second_command_makes_her_card_on_her_loom(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    answered(ANSWERS, monkeypatch)
    second = capsys.readouterr().out.rstrip().rpartition("cardmaker ")[2]
    assert run_command_line(second.split()) == 0
    assert capsys.readouterr().out.startswith("out/gate-band-record.pdf  (Kitchen box, a4)\n")


def test_a_whole_round_names_nothing_that_ships(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    answered(ANSWERS, monkeypatch)
    assert answered(("Ribbon Day", "", "Ann, Ben", "", "", "", "", ""), monkeypatch, "new", "--kind", "class") == 0
    assert run_command_line(["card", "gate-band", "--back"]) == 0
    for layout in ("bench", "handout", "field"):
        assert run_command_line(["card", "gate-band", "--layout", layout]) == 0
    assert run_command_line(["binder", "patterns"]) == 0
    assert run_command_line(["class", "ribbon-day"]) == 0
    said = capsys.readouterr()
    sheets = sorted(Path("out").glob("*.pdf"))
    assert len(sheets) >= 9
    assert said.err == ""
    for sheet in sheets:
        with pdfplumber.open(sheet) as document:
            text = " ".join(" ".join((page.extract_text() or "").split()) for page in document.pages)
        assert len(text) > 20
        assert shipped_names_in(text) == set(), sheet
    assert shipped_names_in(said.out) == set()


def test_what_was_answered_is_in_the_files(monkeypatch: pytest.MonkeyPatch) -> None:
    answers = (
        "us", "letter", "left", "Grey Bench", "two", "30", "30", "hole", "same", "r", "2.5 mm", "26 in", "",
        "Lane", "3 red, 5 cream", "3 red", "", "linen 20/2", "60 in", "",
    )  # fmt: skip
    assert answered(answers, monkeypatch) == 0
    settings = Path("cardmaker.yaml").read_text("utf-8")
    for line in ("loom: grey-bench", "units: us", "paper: letter", "hand: left"):
        assert re.search(rf"^{line} +#", settings, re.MULTILINE)
    loom = Path("layouts/looms/grey-bench.yaml").read_text("utf-8")
    for line in ("kind: two heddles", "slots: 30", "holes: 30", "outer: hole", "back_heddle: same", "waste: 26 in"):
        assert re.search(rf"^{line}\b", loom, re.MULTILINE)
    assert "\nshuttle: {left_foot: right, right_foot: left} " in loom
    assert not re.search(r"^mark:", loom, re.MULTILINE)  # it stands between two spaces
    pattern = Path("patterns/lane.yaml").read_text("utf-8")
    assert "  - 3 red\n  - 5 cream\n  - 3 red\nends: 11 " in pattern
    assert pattern.count("fibre: linen, count: 20/2") == 2
    assert "finished: 60 in" in pattern


def test_stripes_that_her_loom_does_not_hold_are_asked_again(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    answers = (*ANSWERS[:13], "44 red", "401 red", "30 red", "14 red", "13 red", *ANSWERS[14:])
    assert answered(answers, monkeypatch) == 0
    told = capsys.readouterr().out
    assert told.count("44 ends; Kitchen box has 22 slots and 21 holes, 43 spaces in all.") == 2  # 30 and 14 as well
    assert "400 is the most" in told
    assert "30 red (30), 13 red (43): 43 ends. More stripes?" in told


@pytest.mark.parametrize("spaces", [*range(2, 30), 43, 119])
def test_the_stripe_that_is_offered_fits_every_loom(spaces: int) -> None:
    loom = Loom("Any", "any", Heddles.ONE, (spaces + 1) // 2, spaces // 2, Space.SLOT)
    stripes = offered_stripes(loom)
    ends = sum(count for count, _ in stripes)
    assert ends <= spaces
    assert ends % 2 == 1
    assert stripes == stripes[::-1]
    assert ends >= min(13, spaces - 1)


# Never over a file, nothing half done


@pytest.mark.parametrize("told", range(len(ANSWERS)))
def test_whoever_leaves_leaves_nothing(told: int, monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    assert answered(ANSWERS[:told], monkeypatch) == 2
    assert capsys.readouterr().err == "cardmaker: The questions were not all answered. No file was written.\n"
    assert list(Path().iterdir()) == []


def test_a_folder_is_begun_once(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    Path("cardmaker.yaml").write_text("paper: a4\n")
    Path("deeper").mkdir()
    for folder, name in ((".", "cardmaker.yaml"), ("deeper", "../cardmaker.yaml")):
        monkeypatch.chdir(folder)
        assert answered(ANSWERS, monkeypatch) == 2
        out, err = capsys.readouterr()
        assert (out, err.split(" is ")[0]) == ("", f"cardmaker: {name}")
    monkeypatch.chdir("..")
    assert files_here() == ["cardmaker.yaml"]


@pytest.mark.parametrize("name", FILES[1:])
def test_a_loom_or_pattern_that_is_there_is_left_alone(
    name: str, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    Path(name).parent.mkdir(parents=True)
    Path(name).write_text("mine")
    place = ANSWERS.index("Kitchen box" if "looms" in name else "Gate Band") + 1
    assert answered((*ANSWERS[:place], "Another", *ANSWERS[place:]), monkeypatch) == 0
    assert f"{name} is there already. Choose another name, or move it away." in capsys.readouterr().out
    assert Path(name).read_text() == "mine"
    assert Path(name).with_name("another.yaml").is_file()


def test_through_a_terminal(tmp_path: Path) -> None:
    """A real one: each answer is typed when its question stands there; then the command that it prints."""
    ours, theirs = pty.openpty()
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    shown, asked = b"", 0
    with subprocess.Popen(
        [sys.executable, "-m", "cardmaker", "begin"],
        stdin=theirs, stdout=theirs, stderr=theirs, cwd=tmp_path, env=environment, start_new_session=True,
    ) as begun:  # fmt: skip
        try:
            os.close(theirs)
            until = time.monotonic() + 60
            while time.monotonic() < until:
                if shown.count(b"\n> ") > asked and asked < len(ANSWERS):
                    os.write(ours, f"{ANSWERS[asked]}\n".encode())
                    asked += 1
                if select.select([ours], [], [], 0.5)[0]:
                    try:
                        shown += os.read(ours, 4096)
                    except OSError:  # the terminal's other side is closed
                        break
                elif begun.poll() is not None:
                    break
            assert begun.wait(20) == 0, shown
        finally:
            begun.kill()
    os.close(ours)
    told = shown.decode().replace("\r\n", "\n")
    assert asked == len(ANSWERS)
    second = told.rstrip().rpartition("cardmaker ")[2]
    done = subprocess.run(
        [sys.executable, "-m", "cardmaker", *second.split()],
        cwd=tmp_path, env=environment, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert "(Kitchen box, a4)" in done.stdout
    assert shipped_names_in(told) == set()
