"""``cardmaker new --ask``: scripted answers, what is asked again and why, and what is left behind by whoever leaves."""

from __future__ import annotations

import io
import os
import pty
import re
import select
import signal
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import pytest
import yaml

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import checking, loading
from cardmaker.jobs.pattern_questions import ask_for_pattern
from cardmaker.model.named_colours import NAMED_COLOURS
from cardmaker.wording.question_words import WELCOME
from tests.helpers.places import ROOT

Said = pytest.CaptureFixture[str]
ALL_DEFAULTS = (
    "",
) * 13  # title, uses, colours, two questions for each of two, way, stripes, no more, length, loom, yes


pytestmark = pytest.mark.usefixtures("empty_folder")


def answered(answers: Sequence[str], monkeypatch: pytest.MonkeyPatch, *arguments: str) -> int:
    monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{answer}\n" for answer in answers)))
    return run_command_line(["new", "--ask", *arguments])


def file_of(stem: str) -> dict[str, object]:
    """The file as another reader reads it."""
    found: dict[str, object] = yaml.load(Path(f"patterns/{stem}.yaml").read_text("utf-8"), yaml.BaseLoader)
    return found


def test_enter_alone_makes_a_tape_that_checks_clean(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    assert answered(ALL_DEFAULTS, monkeypatch) == 0
    told = capsys.readouterr().out
    assert "First Tape: 13 ends, the same from both edges." in told
    assert told.rstrip().endswith("cardmaker card patterns/first-tape.yaml --loom small-box")
    assert checking.problems_of_file(Path("patterns/first-tape.yaml")) == []


ANSWERS = (
    "Cord Rails",
    "lantern cord, bag tie",
    "red, dark blue, cream",
    "linen 20/2",
    "#9C2F2B",
    "",  # the same yarn
    "blue",
    "wool 28/2 metric",
    "none",
    "half",
    "2 red, 4 dark blue, 1 red, 3 cream",
    "",  # that is all
    "1.5 m",
    "middle-box",
    "yes",
)


def test_what_was_answered_is_in_the_file(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    assert answered(ANSWERS, monkeypatch) == 0
    made = file_of("cord-rails")
    assert made["title"] == "Cord Rails"
    assert made["for"] == ["lantern cord", "bag tie"]
    assert made["yarns"] == {
        "red": {"fibre": "linen", "count": "20/2", "colour": "#9C2F2B"},
        "dark blue": {"fibre": "linen", "count": "20/2", "colour": NAMED_COLOURS["blue"]},
        "cream": {"fibre": "wool", "count": "28/2", "system": "metric"},
    }
    assert made["warp"] == ["2 red", "4 dark blue", "1 red", "3 cream"]
    assert (made["mirror"], made["ends"]) == ("last stripe", "17")  # 2 + 4 + 1 twice, and 3
    assert made["length"] == {"finished": "1.5 m"}
    assert checking.problems_of_file(Path("patterns/cord-rails.yaml")) == []


def test_it_tells_what_it_understood(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    """Running totals by hand: 2, 6, 7, 10, 11, 15, 17."""
    answered(ANSWERS, monkeypatch)
    lines = capsys.readouterr().out.splitlines()
    told = lines[lines.index("Cord Rails: 17 ends, the same from both edges.") :]
    assert [line.split() for line in told[1:8]] == [
        ["2", "red", "total", "2"], ["4", "dark", "blue", "total", "6"], ["1", "red", "total", "7"],
        ["3", "cream", "total", "10"], ["1", "red", "total", "11"], ["4", "dark", "blue", "total", "15"],
        ["2", "red", "total", "17"],
    ]  # fmt: skip
    assert told[8] == "Looms at hand that hold it: Broad paddle, Middle box, Small box, Treadle pair."
    assert lines[-1].endswith("--loom middle-box")


def test_stripes_from_edge_to_edge_are_not_mirrored(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    answers = ("Lean", "", "red, white", "", "", "", "", "all", "3 red, 5 white", "", "", "", "")
    assert answered(answers, monkeypatch) == 0
    assert "Lean: 8 ends, not the same from both edges." in capsys.readouterr().out
    assert "mirror" not in file_of("lean")


# What is asked again

WRONG = {
    0: [("x" * 81, "80 letters at most"), ("!!!", "no letter or digit"), ("a\x1bb", "ESCAPE")],
    1: [("x" * 101, "too long")],
    2: [
        ("red, red", "each colour once"), ("red,,blue", "no name for a colour"), ("2 red", "no name for a colour"),
        ("x" * 31, "no name for a colour"), ("Red, red", "each colour once"), ("dmc 321", "no name"),
        ("r\u202eed", "RIGHT-TO-LEFT OVERRIDE"),
        (", ".join("a" * n for n in range(1, 22)), "20 colours at most"),
    ],
    3: [("linen", "is not a yarn"), ("jute 8/2", "is not a yarn"), ("wool 28/2", "system"), ("linen 20/0", "count")],
    4: [("bleu", "no colour that is known"), ("#12345", "no colour"), ("#12345６", "no colour")],
    7: [("both", "'both' is none of these. Write a number or the first letters."), ("3", "none of"), ("0", "none")],
    8: [
        ("white", "not a stripe"), ("0 white", "not a stripe"), ("2 blue, 9 whit", "Did you mean white?"),
        ("2 blue, 9 zz", "You have blue and white"), ("399 blue, 9 white", "400 is the most"),
        ("2 blue9 white", "write 2 blue, 9 white"),
    ],
    9: [("9 whit", "Did you mean white?"), ("400 white", "400 is the most")],
    10: [("2", "needs a unit"), ("0 m", "no length"), ("2 km", "needs a unit"), ("9000 m", "more than a kilometre")],
    11: [("smal-bx", "'smal-bx' is none of these. Did you mean small-box?"), ("5000 ends", "none of these")],
    12: [("maybe", "none of these")],
}  # fmt: skip


@pytest.mark.parametrize(("number", "wrong", "reason"), [(n, *each) for n, all_ in WRONG.items() for each in all_])
def test_an_answer_that_cannot_be_taken_is_asked_again(
    number: int, wrong: str, reason: str, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    answers = list(ALL_DEFAULTS)
    answers.insert(number, wrong)
    assert answered(answers, monkeypatch) == 0
    told = capsys.readouterr().out
    assert reason in told
    assert told.count("Enter alone: ") == len(ALL_DEFAULTS) + 1
    assert checking.problems_of_file(Path("patterns/first-tape.yaml")) == []


def test_a_loom_that_does_not_hold_it_is_asked_again(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    answers = ("", "", "", "", "", "", "", "half", "9 blue, 13 white", "", "", "small-box", "", "")
    assert answered(answers, monkeypatch) == 0
    told = capsys.readouterr().out
    assert "31 ends; Small box has 12 slots and 11 holes, 23 spaces in all." in told
    assert "Looms at hand that hold it: Broad paddle, Middle box, Treadle pair." in told
    assert told.rstrip().endswith("--loom middle-box")


def test_a_tape_that_no_loom_holds_is_written_all_the_same(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    answers = ("", "", "", "", "", "", "", "half", "40 blue, 13 white", "", "", "", "")
    assert answered(answers, monkeypatch) == 0
    told = capsys.readouterr().out
    assert "No loom at hand holds it as it is." in told
    assert "--loom" not in told


def test_a_colour_without_a_stripe_is_told(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    answers = ("", "", "", "", "", "", "", "all", "9 blue", "", "", "", "")
    assert answered(answers, monkeypatch) == 0
    assert "No stripe has white" in capsys.readouterr().out
    assert checking.problems_of_file(Path("patterns/first-tape.yaml")) == []


# What is left behind


@pytest.mark.parametrize("told", range(13))
def test_the_end_of_input_leaves_nothing(told: int, monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    assert answered(ALL_DEFAULTS[:told], monkeypatch) == 2
    assert capsys.readouterr().err == "cardmaker: The questions were not all answered. No file was written.\n"
    assert list(Path().iterdir()) == []


def test_ctrl_c_on_a_terminal_leaves_nothing(tmp_path: Path) -> None:
    """A real terminal: two questions answered, then Ctrl-C."""
    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "cardmaker", "new", "--ask"]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    with subprocess.Popen(
        command, stdin=theirs, stdout=theirs, stderr=theirs, cwd=tmp_path, env=environment, start_new_session=True,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),  # whoever runs the tests may not hear it
    ) as asking:  # fmt: skip
        try:
            os.close(theirs)
            os.write(ours, b"Cord Rails\nbag tie\n")
            shown = b""
            until = time.monotonic() + 20
            while b"Which colours" not in shown and time.monotonic() < until:
                if select.select([ours], [], [], 1)[0]:
                    shown += os.read(ours, 4096)
            while asking.poll() is None and time.monotonic() < until + 20:
                os.kill(asking.pid, signal.SIGINT)  # again: one that comes just before the reading begins is not heard
                time.sleep(0.2)
            assert asking.wait(20) == 130
        finally:
            asking.kill()  # nobody waits for ever for what did not end
    os.close(ours)
    assert b"What is the tape called?" in shown
    assert b"Traceback" not in shown
    assert list(tmp_path.iterdir()) == []


def test_nothing_is_overwritten(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    assert answered(ANSWERS, monkeypatch) == 0
    before = Path("patterns/cord-rails.yaml").read_bytes()
    capsys.readouterr()
    assert answered(("Cord Rails", *ALL_DEFAULTS), monkeypatch) == 0
    assert "patterns/cord-rails.yaml is there already. Choose another name, or move it away." in capsys.readouterr().out
    assert Path("patterns/cord-rails.yaml").read_bytes() == before
    assert answered(ALL_DEFAULTS, monkeypatch) == 0
    assert sorted(path.name for path in Path("patterns").iterdir()) == [
        "cord-rails.yaml", "first-tape-2.yaml", "first-tape.yaml",
    ]  # fmt: skip


def test_a_file_that_appears_meanwhile_is_not_overwritten(monkeypatch: pytest.MonkeyPatch) -> None:
    def appears(*_: object) -> list[str]:
        Path("patterns").mkdir()
        Path("patterns/first-tape.yaml").write_text("mine", "utf-8")
        return ["told"]

    monkeypatch.setattr("cardmaker.wording.question_words.summary_lines", appears)
    assert answered(ALL_DEFAULTS, monkeypatch) == 2
    assert Path("patterns/first-tape.yaml").read_text("utf-8") == "mine"


# Going back, being told more, answering shortly, saying no


def test_back_asks_the_question_before_and_offers_what_was_answered(
    monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    """Two steps back from the uses of a tape that was called Lane, to the very first, and one more than there are."""
    answers = ("Lane", "belt", "back", "back", "Back", "Lone", "", *ALL_DEFAULTS[2:])
    assert answered(answers, monkeypatch) == 0
    told = capsys.readouterr().out
    assert "Enter alone: Lane" in told
    assert "Enter alone: belt" in told
    assert told.count("This is the first question.") == 1
    assert told.count(WELCOME) == 1
    assert (file_of("lone")["title"], file_of("lone")["for"]) == ("Lone", ["belt"])
    assert not Path("patterns/lane.yaml").exists()


def test_back_over_what_depends_on_an_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    """Other colours ask other questions: those of the old ones are gone."""
    answers = ("Lane", "", "red, white", "linen 20/2", "", "back", "back", "back", "green", *("",) * 8)
    assert answered(answers, monkeypatch) == 0
    assert file_of("lane")["yarns"] == {"green": {"fibre": "cotton", "count": "8/2", "colour": NAMED_COLOURS["green"]}}


def test_a_question_mark_explains_every_question(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    answers = [each for answer in ALL_DEFAULTS for each in ("?", answer)]
    assert answered(answers, monkeypatch) == 0
    lines = capsys.readouterr().out.splitlines()
    explained = [lines[number + 1] for number, line in enumerate(lines) if line == "> ?"]
    assert len(explained) == len(ALL_DEFAULTS)
    assert all(re.fullmatch(r"  \S.{20,}[.;].*", line) for line in explained)
    assert not any("no more to say" in line for line in explained)


@pytest.mark.parametrize("short", ["1", "a", "ALL", "al"])
def test_a_choice_by_its_number_or_first_letters(short: str, monkeypatch: pytest.MonkeyPatch) -> None:
    answers = (*ALL_DEFAULTS[:7], short, "3 blue 7 white", *ALL_DEFAULTS[9:])
    assert answered(answers, monkeypatch) == 0
    assert "mirror" not in file_of("first-tape")


def test_letters_that_several_choices_begin_with(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    Path("layouts/looms").mkdir(parents=True)
    for stem in ("box-one", "box-two"):
        Path(f"layouts/looms/{stem}.yaml").write_text(
            f"title: {stem}\nkind: one heddle\nslots: 12\nholes: 11\nmark: counted as zero\n"
        )
    assert answered((*ALL_DEFAULTS[:11], "box", "box-t", ""), monkeypatch) == 0
    told = capsys.readouterr().out
    assert "'box' may be box-one or box-two. Write more letters, or the number." in told
    assert told.rstrip().endswith("--loom box-two")


def test_her_loom_is_the_one_that_is_offered(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    """A smaller one that she has as well would hold it too; the command needs no name of the one she always uses."""
    Path("cardmaker.yaml").write_text("loom: broad-paddle\nlooms: [small-box, treadle-pair]\nunits: metric\n")
    assert answered(ALL_DEFAULTS, monkeypatch) == 0
    told = capsys.readouterr().out
    assert re.search(r"1 broad-paddle .*\n  2 small-box .*\n  3 treadle-pair .*\n  4 none\n", told)
    assert "Enter alone: broad-paddle" in told
    assert told.rstrip().endswith("cardmaker card patterns/first-tape.yaml")
    assert file_of("first-tape")["length"] == {"finished": "2 m"}


def test_it_counts_as_stripes_are_told(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    """By hand: 2, 11, 13, 15; of half a tape 13 + 13 - 2."""
    answers = (*ALL_DEFAULTS[:7], "all", "2 blue 9 white", "2 blue", "2 white", "back", "", *ALL_DEFAULTS[10:])
    assert answered(answers, monkeypatch) == 0
    told = capsys.readouterr().out
    assert "2 blue (2), 9 white (11): 11 ends. More stripes?" in told
    assert "2 blue (2), 9 white (11), 2 blue (13), 2 white (15): 15 ends. More stripes?" in told
    assert file_of("first-tape")["warp"] == ["2 blue", "9 white", "2 blue"]
    assert answered((*ALL_DEFAULTS[:7], "half", "2 blue 9 white 2 blue", *ALL_DEFAULTS[9:]), monkeypatch) == 0
    assert "13 ends, so 24 ends from edge to edge. More stripes?" in capsys.readouterr().out


def test_the_file_is_shown_before_it_is_written_and_no_writes_nothing(
    monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    assert answered((*ALL_DEFAULTS[:-1], "n"), monkeypatch) == 2
    out, err = capsys.readouterr()
    assert err == "cardmaker: No file was written.\n"
    assert list(Path().iterdir()) == []
    assert answered(ALL_DEFAULTS, monkeypatch) == 0
    text = Path("patterns/first-tape.yaml").read_text("utf-8")
    assert "\n".join(f"  {line}".rstrip() for line in text.splitlines()) in out


def test_a_title_given_is_the_one_offered(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    assert answered(ALL_DEFAULTS, monkeypatch, "Harbour Rails", "--out", "mine") == 0
    assert "Enter alone: Harbour Rails" in capsys.readouterr().out
    assert Path("mine/harbour-rails.yaml").is_file()


@pytest.mark.parametrize("arguments", [["new"], ["new", "--ask", "--stripes", "9 white"]])
def test_wrong_usage(arguments: list[str], capsys: Said) -> None:
    assert run_command_line(arguments) == 2
    assert capsys.readouterr().err.startswith("cardmaker: ")


def test_bytes_that_are_no_text_are_asked_again(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "cardmaker", "new", "--ask"], cwd=tmp_path, capture_output=True, check=False,
        env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"}, input=b"Caf\xe9\n" + b"\n" * 13,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert b"Leave it out" in done.stdout
    assert [path.name for path in (tmp_path / "patterns").iterdir()] == ["first-tape.yaml"]


def test_without_a_loom_at_hand_no_loom_is_asked_for(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    monkeypatch.setattr(loading, "load_looms", lambda **_: ())
    monkeypatch.setattr(sys, "stdin", io.StringIO("\n" * 12))
    assert ask_for_pattern(None, Path("patterns"))[0] == "patterns/first-tape.yaml"
    assert "Which loom" not in capsys.readouterr().out
