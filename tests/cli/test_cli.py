"""The command line: what is said, where it is said, what status is left, and that no half file ever stays."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pdfplumber
import pikepdf
import pytest

from cardmaker import files
from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import file_lookup, loading
from tests.helpers.places import ROOT, shipped_alone, shipped_in

CASES = ROOT / "tests" / "cases"
COMMANDS = ("card", "class", "plan", "check", "new", "list")

Said = pytest.CaptureFixture[str]


pytestmark = pytest.mark.usefixtures("empty_folder")


def files_in(folder: Path) -> list[str]:
    """All files but the schemas that a new file leads an editor to."""
    files = sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())
    return [name for name in files if not name.startswith(".schemas/")]


def run(arguments: Sequence[str], said: Said) -> tuple[int, str, str]:
    """The status and what was said on both streams; wrong usage that argparse finds included."""
    try:
        status = run_command_line(arguments)
    except SystemExit as left:
        status = int(left.code or 0)
    out, err = said.readouterr()
    return status, out, err


def is_one_line(text: str) -> bool:
    return text.count("\n") == 1 and text.endswith("\n") and "Traceback" not in text


# Help


@pytest.mark.parametrize("asked", [["--help"], *([command, "--help"] for command in COMMANDS)], ids=" ".join)
def test_help(asked: list[str], capsys: Said) -> None:
    status, out, err = run(asked, capsys)
    assert (status, err) == (0, "")
    assert (
        "Your own files in patterns/ and layouts/ come before those that are shipped, and cardmaker.yaml says"
        in " ".join(out.split())
    )


def test_help_names_every_command(capsys: Said) -> None:
    _, out, _ = run(["--help"], capsys)
    assert all(re.search(rf"^    {command}  +[a-z]", out, re.MULTILINE) for command in COMMANDS)


@pytest.mark.parametrize("command", COMMANDS)
def test_every_option_is_explained(command: str, capsys: Said) -> None:
    _, out, _ = run([command, "--help"], capsys)
    options = re.findall(r"^  (--[a-z]+)(.*(?:\n {10,}.*)?)", out, re.MULTILINE)
    assert all(re.search(r"[a-z]{2,} [a-z(]", told) for _, told in options)


def test_version(capsys: Said) -> None:
    status, out, _ = run(["--version"], capsys)
    assert status == 0
    assert re.fullmatch(r"cardmaker \d+\.\d+\.\d+\n", out)


# Wrong usage: status 2, one sentence on the error stream, nothing on the other


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        (["knit"], "There is no command 'knit'. There are card, binder, "),
        (["cards"], "There is no command 'cards'. Did you mean card?"),
        (["chekc", "x.yaml"], "There is no command 'chekc'. Did you mean check?"),
        (["--hlep"], "'cardmaker' has no option --hlep. Did you mean --help?"),
        (["plan", "two-rails", "-x"], "'plan' has no option -x. It has --from, --hand, "),
        (["card", "two-rails", "--papr", "a4"], "'card' has no option --papr. Did you mean --paper?"),
        (["card", "two-rails", "--lom=small-box"], "'card' has no option --lom. Did you mean --loom?"),
        (["resize", "two-rails", "--ends", "15", "--zzz"], "'resize' has no option --zzz. It has --ends, --help, "),
        (["card"], "cardmaker: PATTERN is missing: what to make cards of. See: cardmaker card --help"),
        (["plan"], "PATTERN is missing: what to reckon."),
        (["plan", "two-rails", "three-paths"], "'three-paths' is more than can be named here."),
        (["check"], "FILE is missing: files of any kind, or folders of them."),
        (["new"], "A new pattern needs a title"),
        (["plan", "two-rails", "--warp", "3"], "'3' has no unit. Write the two as one word"),
        (["plan", "two-rails", "--warp", "0 yd"], "a warp has some length"),
        (["plan", "two-rails", "--warp", "9 miles"], "'9 miles' has no unit that is known here"),
        (["plan", "two-rails", "--units", "imperial"], "--units is not 'imperial'. Did you mean us?"),
        (["plan", "tree-paths"], "There is no pattern named 'tree-paths'. Did you mean three-paths?"),
        (["card", "three-path"], "There is no pattern named 'three-path'. Did you mean three-paths?"),
        (["card", "zzz"], "There is no pattern named 'zzz'. Looked in patterns and what is shipped: bare-thread, "),
        (["plan", "two-rails", "--loom", "smal-box"], "There is no loom named 'smal-box'. Did you mean small-box?"),
        (["card", "two-rails", "--layout", "recrod"], "Did you mean record?"),
        (["card", "two-rails", "--paper", "a5"], "a5"),
        (["card", "two-rails", "three-paths", "--out", "both.pdf"], "both.pdf is one file, but 2 cards were asked for"),
        (["new", "!!!"], "no letter or digit"),
        (["new", "Belt", "--stripes", "white 2"], "'white 2' is not a stripe"),
        (["new", "Belt", "--stripes", "2 brown, red"], "'red' is not a stripe"),
    ],
)  # fmt: skip
def test_wrong_usage(asked: list[str], told: str, capsys: Said, empty_folder: Path) -> None:
    status, out, err = run(asked, capsys)
    assert (status, out) == (2, "")
    assert told in " ".join(err.split())
    assert "Traceback" not in err
    assert files_in(empty_folder) == []


def test_alone_it_tells_what_to_do_next(capsys: Said, empty_folder: Path) -> None:
    status, out, err = run([], capsys)
    assert (status, err) == (0, "")
    assert out.splitlines()[1].split("  ")[1:2] == ["cardmaker begin"]
    assert "cardmaker card" not in out
    (empty_folder / "cardmaker.yaml").write_text("units: us\n")
    (empty_folder / "patterns").mkdir()
    for name in "abcdefg":
        shutil.copy(ROOT / "patterns" / "two-rails.yaml", f"patterns/{name}.yaml")
    lines = run([], capsys)[1].splitlines()
    assert lines[1] == "  cardmaker card a            make the card of it; and so for b, c, d and e, and 2 more"
    assert lines[2] == "  cardmaker measured PATTERN  once a tape is off the loom, keep what it taught"
    assert not any("begin" in line for line in lines)
    assert all(len(line) <= 100 for line in lines)


def test_two_patterns_of_one_name_would_share_a_file(capsys: Said, empty_folder: Path) -> None:
    (empty_folder / "mine").mkdir()
    shutil.copy(ROOT / "patterns" / "two-rails.yaml", "mine/two-rails.yaml")
    status, _, err = run(["card", "two-rails", "mine/two-rails.yaml", "--out", "cards"], capsys)
    assert status == 2
    assert "Two of the patterns would be written to cards/two-rails-record.pdf" in err
    assert not (empty_folder / "cards").exists()


def test_a_pattern_named_twice_is_no_less_wrong(capsys: Said) -> None:
    assert run(["card", "two-rails", "two-rails"], capsys)[0] == 2


# Cards land where they are sent


def test_a_card_lands_in_out(capsys: Said, empty_folder: Path) -> None:
    status, out, err = run(["card", "two-rails"], capsys)
    assert (status, err) == (0, "")
    assert out.splitlines()[0] == "out/two-rails-record.pdf  (Small box, letter)"
    assert files_in(empty_folder) == ["out/two-rails-record.pdf"]
    with pikepdf.open("out/two-rails-record.pdf") as document:
        assert len(document.pages) == 1


def test_out_as_a_folder_that_is_not_there_yet(capsys: Said, empty_folder: Path) -> None:
    status, out, _ = run(["card", "two-rails", "three-paths", "--out", "deep/down", "--paper", "a4"], capsys)
    assert status == 0
    assert "deep/down/three-paths-record.pdf  (Middle box, a4)" in out
    assert files_in(empty_folder) == ["deep/down/three-paths-record.pdf", "deep/down/two-rails-record.pdf"]


def test_out_as_one_file_and_a_picture_beside_it(capsys: Said, empty_folder: Path) -> None:
    status, _, _ = run(["card", "two-rails", "--out", "cards/rails.pdf", "--preview"], capsys)
    assert status == 0
    assert files_in(empty_folder) == ["cards/rails.pdf", "cards/rails.png"]
    assert (empty_folder / "cards/rails.png").read_bytes().startswith(b"\x89PNG")


def test_a_folder_that_is_named_like_a_pdf_is_a_folder(capsys: Said, empty_folder: Path) -> None:
    (empty_folder / "cards.pdf").mkdir()
    assert run(["card", "two-rails", "--out", "cards.pdf"], capsys)[0] == 0
    assert files_in(empty_folder) == ["cards.pdf/two-rails-record.pdf"]


def test_a_card_replaces_the_one_before(capsys: Said, empty_folder: Path) -> None:
    (empty_folder / "card.pdf").write_text("%PDF-old")
    assert run(["card", "two-rails", "--out", "card.pdf"], capsys)[0] == 0
    assert (empty_folder / "card.pdf").read_bytes().startswith(b"%PDF")


def test_one_bad_pattern_does_not_keep_the_others_from_being_made(capsys: Said, empty_folder: Path) -> None:
    status, out, err = run(["card", "long-sixty", "two-rails", "--loom", "small-box"], capsys)
    assert status == 1
    assert "60 ends" in err
    assert "two-rails-record.pdf" in out
    assert files_in(empty_folder) == ["out/two-rails-record.pdf"]


def test_the_loom_may_be_a_path_and_the_pattern_too(capsys: Said) -> None:
    loom, pattern = ROOT / "layouts/looms/broad-paddle.yaml", ROOT / "patterns/two-rails.yaml"
    status, out, _ = run(["card", str(pattern), "--loom", str(loom)], capsys)
    assert status == 0
    assert "(Broad paddle, letter)" in out


def test_a_file_of_ones_own_wins(capsys: Said, empty_folder: Path) -> None:
    own = empty_folder / "patterns"
    own.mkdir()
    text = (ROOT / "patterns" / "two-rails.yaml").read_text("utf-8")
    (own / "two-rails.yaml").write_text(text.replace("title: Two Rails", "title: Our Own Rails"), "utf-8")
    _, out, _ = run(["plan", "two-rails"], capsys)
    assert out.startswith("Our Own Rails (T03)")


# What cannot be written


@pytest.mark.parametrize(
    ("out", "told"),
    [
        ("notes.txt", "notes.txt"),  # a file where the folder should be
        ("notes.txt/card.pdf", "notes.txt"),
        ("notes.txt/deeper", "notes.txt"),
    ],
)
def test_a_file_in_the_folders_place(out: str, told: str, capsys: Said, empty_folder: Path) -> None:
    (empty_folder / "notes.txt").write_text("keep me")
    status, said, err = run(["card", "two-rails", "--out", out], capsys)
    assert (status, said) == (1, "")
    assert told in err
    assert is_one_line(err)
    assert files_in(empty_folder) == ["notes.txt"]
    assert (empty_folder / "notes.txt").read_text() == "keep me"


@pytest.mark.skipif(os.geteuid() == 0, reason="nothing is read-only for the administrator")
def test_a_read_only_folder(capsys: Said, empty_folder: Path) -> None:
    locked = empty_folder / "locked"
    locked.mkdir(mode=0o500)
    status, said, err = run(["card", "two-rails", "--out", "locked"], capsys)
    assert (status, said) == (1, "")
    assert "the folder is read-only" in err
    assert is_one_line(err)
    assert files_in(empty_folder) == []


def test_a_full_disk_leaves_nothing(capsys: Said, empty_folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    status, said, err = run(["card", "two-rails", "--preview"], capsys)
    assert (status, said) == (1, "")
    assert "the disk is full" in err
    assert is_one_line(err)
    assert files_in(empty_folder) == []


@pytest.mark.parametrize("names", ["first and then", "no first"])
@pytest.mark.parametrize("at_move", [1, 2])
def test_an_interruption_leaves_no_half_file(
    at_move: int, names: str, capsys: Said, empty_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file gets its name by a link, or by a move where files cannot be without a name; both are stopped here."""
    moves = 0

    def stopping(really: Callable[..., None]) -> Callable[..., None]:
        def moved(*args: Any, **more: Any) -> None:
            nonlocal moves
            moves += 1
            if moves == at_move:
                raise KeyboardInterrupt
            really(*args, **more)

        return moved

    monkeypatch.setattr(os, "replace", stopping(os.replace))
    monkeypatch.setattr(os, "link", stopping(os.link))
    if names == "first and then":
        monkeypatch.setattr(files, "_without_name", lambda folder: -1)
    status, _, err = run(["card", "two-rails", "--out", "card.pdf", "--preview"], capsys)
    assert (status, err) == (130, "cardmaker: interrupted; no file is left half written\n")
    assert moves == at_move
    assert files_in(empty_folder) == ["card.pdf"][: at_move - 1]
    for name in files_in(empty_folder):
        assert (empty_folder / name).read_bytes().endswith(b"%%EOF\n")


# Check


@pytest.mark.parametrize("folder", sorted(file_lookup.FOLDERS.values()))
def test_the_shipped_files_are_right(folder: str, capsys: Said) -> None:
    count = len(shipped_in(folder))
    status, out, err = run(["check", str(shipped_alone() / folder)], capsys)
    assert (status, err) == (0, "")
    assert out == ("1 file, no problems\n" if count == 1 else f"{count} files, no problems\n")


def test_a_folder_is_checked_to_its_depth(capsys: Said) -> None:
    status, out, _ = run(["check", str(shipped_alone() / "layouts")], capsys)
    assert status == 0
    count = sum(name.startswith("layouts/") for name in file_lookup.shipped_names())
    assert out == f"{count} files, no problems\n"


@pytest.mark.parametrize(
    "case", ["pattern-unknown-keys", "loom-numbers", "card-row-too-wide", "pattern-duplicate-keys"]
)
def test_every_problem_of_every_kind_of_file(case: str, capsys: Said) -> None:
    """The messages themselves are held by the reading tests; here, that each comes out on a line with its place."""
    path = CASES / "bad" / f"{case}.yaml"
    status, out, err = run(["check", str(path)], capsys)
    assert (status, out) == (1, "")
    lines = err.splitlines()
    assert lines
    assert all(re.match(rf"{re.escape(str(path))}:\d+:\d+: .+", line) for line in lines)


LOOKED_AT = """\
title: Odd Posts
yarns:
  white: {fibre: linen, count: 20/2}
  post: {fibre: linen, count: 12/2, spaces: slots}
warp: [5 white, 1 post, 3 white]
pickup:
  pattern_yarn: post
  rows: [{shed: up}, {shed: down, lift: [1]}, {shed: up, drop: [1]}, {shed: down}, {shed: up}]
measured:
  - {date: 2026-11-20, loom: Smallbox, width: 7 mm}
  - {date: 2026-11-21, loom: Small box, width: 7 mm}
"""


def test_what_is_no_fault_is_told_as_a_note_and_fails_nothing(capsys: Said, empty_folder: Path) -> None:
    """Two picks in one shed, and a loom spelt so that its tape counts as another loom's."""
    (empty_folder / "odd-posts.yaml").write_text(LOOKED_AT, encoding="utf-8")
    status, out, err = run(["check", "odd-posts.yaml"], capsys)
    assert (status, out) == (0, "1 file, no problems, 2 notes\n")
    assert err.splitlines() == [
        "odd-posts.yaml:8:84: note: pickup.rows item 5: Pick-up rows 5 and then 1 again put two picks in one shed, and "
        "from there the weft’s side tells the wrong shed: add a row of the other shed between, or take one out.",
        "odd-posts.yaml:10:24: note: measured item 1.loom: The tape of 2026-11-20 is said to be from Smallbox; if that "
        "is Small box, spell it so, or its figures count as another loom’s.",
    ]


def test_a_card_and_the_plan_tell_what_check_does(capsys: Said, empty_folder: Path) -> None:
    (empty_folder / "odd-posts.yaml").write_text(LOOKED_AT, encoding="utf-8")
    _, out, _ = run(["plan", "odd-posts.yaml"], capsys)
    assert "Pick-up rows 5 and then 1 again put two picks in one shed" in " ".join(out.split())
    assert "is said to be from Smallbox; if that is Small box" in " ".join(out.split())
    for layout in ("record", "bench"):
        assert run(["card", "odd-posts.yaml", "--layout", layout, "--out", "."], capsys)[0] == 0
        with pdfplumber.open(f"odd-posts-{layout}.pdf") as pdf:
            text = " ".join(pdf.pages[0].extract_text().split())
        assert text.count("and then 1 again") == 1


def test_pegs_are_checked_as_pegs(capsys: Said, empty_folder: Path) -> None:
    text = (ROOT / "layouts/pegs/yard-board.yaml").read_text("utf-8")
    (empty_folder / "board.yaml").write_text(re.sub(r"^home: .*$", "home: Nowhere", text, flags=re.MULTILINE), "utf-8")
    status, _, err = run(["check", "board.yaml"], capsys)
    assert status == 1
    assert "Nowhere" in err
    assert err.startswith("board.yaml:")


def test_what_reckoning_refuses_is_told_as_well(capsys: Said, empty_folder: Path) -> None:
    text = "title: Odd\nyarns:\n  red: {fibre: cotton, count: 8/2}\nwarp: [3 red]\nends: 4\n"
    (empty_folder / "odd.yaml").write_text(text)
    status, _, err = run(["check", "odd.yaml"], capsys)
    assert status == 1
    assert re.match(r"odd\.yaml:5:\d+: ends: .*\b3\b.*\b4\b", err) or re.match(r"odd\.yaml:5:\d+: ends: .*4.*3", err)


def test_problems_come_in_the_order_of_the_files(capsys: Said) -> None:
    bad = [str(CASES / "bad" / f"{name}.yaml") for name in ("loom-numbers", "pattern-unknown-keys")]
    _, _, err = run(["check", *bad], capsys)
    files = [line.split(":")[0] for line in err.splitlines()]
    assert files == sorted(files, key=bad.index)
    assert set(files) == set(bad)


@pytest.mark.parametrize("missing", ["nowhere.yaml", "nowhere/at/all.yaml"])
def test_a_file_that_is_not_there(missing: str, capsys: Said) -> None:
    for asked in (["check", missing], ["plan", missing], ["card", missing]):
        status, out, err = run(asked, capsys)
        assert (status, out) == (1, "")
        assert missing in err
        assert is_one_line(err)


def test_a_folder_without_files_to_check(capsys: Said, empty_folder: Path) -> None:
    (empty_folder / "empty").mkdir()
    status, _, err = run(["check", "empty"], capsys)
    assert status == 2
    assert "There is no .yaml file in the folder empty" in err


def test_a_folder_in_a_patterns_place(capsys: Said, empty_folder: Path) -> None:
    (empty_folder / "belt.yaml").mkdir()
    for asked in (["plan", "belt.yaml"], ["card", "belt.yaml"]):
        status, out, err = run(asked, capsys)
        assert (status, out) == (1, "")
        assert "belt.yaml" in err
        assert is_one_line(err)


@pytest.mark.parametrize("content", [b"", b"\xff\xfe\x00", b"\x00" * 99, b"%PDF-1.7\n%\xe2\xe3", b"title: [", b"- 1\n"])
def test_what_is_no_pattern_is_refused_without_a_traceback(content: bytes, capsys: Said, empty_folder: Path) -> None:
    (empty_folder / "odd.yaml").write_bytes(content)
    for asked in (["check", "odd.yaml"], ["plan", "odd.yaml"], ["card", "odd.yaml"]):
        status, out, err = run(asked, capsys)
        assert (status, out) == (1, "")
        assert err.startswith("odd.yaml:")
    assert files_in(empty_folder) == ["odd.yaml"]


def test_one_kind_of_file_in_place_of_another(capsys: Said) -> None:
    loom, pattern = str(ROOT / "layouts/looms/small-box.yaml"), str(ROOT / "patterns/two-rails.yaml")
    for asked in (["plan", loom], ["plan", pattern, "--loom", pattern], ["card", pattern, "--layout", loom]):
        status, out, err = run(asked, capsys)
        assert (status, out) == (1, "")
        assert re.search(r"\.yaml:\d+:\d+: ", err)


# New


def test_new_writes_a_file_that_checks_and_prints(capsys: Said, empty_folder: Path) -> None:
    status, out, err = run(["new", "Harbour Rails", "--stripes", "2 blue, 9 white, 2 blue"], capsys)
    assert (status, err) == (0, "")
    assert out.splitlines()[0] == "patterns/harbour-rails.yaml"
    assert run(["check", "patterns"], capsys)[:2] == (0, "1 file, no problems\n")
    status, out, err = run(["card", "harbour-rails"], capsys)
    assert (status, err) == (0, "")
    assert files_in(empty_folder) == ["out/harbour-rails-record.pdf", "patterns/harbour-rails.yaml"]


def test_new_says_what_to_do_next(capsys: Said) -> None:
    _, out, _ = run(["new", "Harbour Rails"], capsys)
    assert out.splitlines()[-1].endswith("cardmaker card patterns/harbour-rails.yaml")


def test_new_never_overwrites(capsys: Said, empty_folder: Path) -> None:
    own = empty_folder / "patterns" / "harbour-rails.yaml"
    own.parent.mkdir()
    own.write_text("mine")
    status, out, err = run(["new", "Harbour Rails!"], capsys)
    assert (status, out) == (2, "")
    assert "patterns/harbour-rails.yaml is there already" in err
    assert own.read_text() == "mine"


@pytest.mark.parametrize(
    ("title", "stem"),
    [
        ('It\'s "so": #1', "it-s-so-1"),
        ("no", "no"),
        ("null", "null"),
        ("1e3", "1e3"),
        ("2026-11-20", "2026-11-20"),
        ("Größe 38", "grösse-38"),
        ("../../up", "up"),
        ("{a} [b] & *c !d %e @f `g", "a-b-c-d-e-f-g"),
        ("back\\slash", "back-slash"),
    ],
)
def test_new_keeps_a_title_exactly(title: str, stem: str, capsys: Said, empty_folder: Path) -> None:
    assert run(["new", title], capsys)[0] == 0
    assert files_in(empty_folder) == [f"patterns/{stem}.yaml"]
    assert loading.load_pattern(Path(f"patterns/{stem}.yaml")).title == title


def test_new_refuses_a_title_that_no_file_can_hold(capsys: Said, empty_folder: Path) -> None:
    for title in ("bell\a", "x" * 300):
        status, out, _ = run(["new", title], capsys)
        assert (status != 0, out) == (True, "")
    assert files_in(empty_folder) == []


# List


def test_list_tells_what_is_at_hand(capsys: Said) -> None:
    status, out, err = run(["list"], capsys)
    assert (status, err) == (0, "")
    for stem in ("small-box", "treadle-pair", "record", "three-paths", "long-sixty"):
        assert re.search(rf"^  {stem} ", out, re.MULTILINE)
    assert re.search(r"^  three-paths +T08 +31 ends", out, re.MULTILINE)


def test_list_marks_a_file_with_problems(capsys: Said, empty_folder: Path) -> None:
    (empty_folder / "patterns").mkdir()
    (empty_folder / "patterns" / "broken.yaml").write_text("title: [")
    status, out, _ = run(["list"], capsys)
    assert status == 0
    assert re.search(r"^  broken +has 1 problem: cardmaker check patterns/broken\.yaml", out, re.MULTILINE)


# As a program of its own


def program(*arguments: str, **settings: str) -> subprocess.CompletedProcess[str]:
    surroundings = os.environ | {"PYTHONPATH": str(ROOT)} | settings
    command = [sys.executable, "-m", "cardmaker", *arguments]
    return subprocess.run(command, env=surroundings, capture_output=True, text=True, check=False)


def test_the_status_reaches_the_shell() -> None:
    assert program("list").returncode == 0
    assert program("plan", "long-sixty", "--loom", "small-box").returncode == 1
    assert program("plan", "long-sixteen").returncode == 2


def test_a_reader_that_leaves_early_is_no_error() -> None:
    command = f"{sys.executable} -m cardmaker plan three-paths --json | head -1"
    surroundings = os.environ | {"PYTHONPATH": str(ROOT)}
    done = subprocess.run(["bash", "-o", "pipefail", "-c", command], env=surroundings, capture_output=True, text=True)
    assert (done.returncode, done.stdout, done.stderr) == (0, "{\n", "")


@pytest.mark.parametrize("argument", ["list", "plan"])
def test_a_terminal_without_letters_for_it_is_no_traceback(argument: str) -> None:
    done = program(argument, *(["three-paths"] if argument == "plan" else []), PYTHONIOENCODING="ascii")
    assert "Traceback" not in done.stderr
