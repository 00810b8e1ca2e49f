"""The Tab key: what the shell is told, asked as it asks."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.helpers.places import ROOT
from tests.helpers.shipped import LAYOUT_FILES, LOOMS, PATTERNS, PEGS

pytestmark = pytest.mark.skipif(os.name != "posix", reason="these are shells of unix")


def completions(line: str) -> list[str]:
    """The answers of the command to a cursor at the end of ``line``, which are one text with a tab between them."""
    asked = {
        "_ARGCOMPLETE": "1",
        "_ARGCOMPLETE_IFS": "\t",
        "_ARGCOMPLETE_STDOUT_FILENAME": "answers.txt",
        "COMP_LINE": line,
        "COMP_POINT": str(len(line.encode())),
        "PYTHONPATH": str(ROOT),
    }
    command = [sys.executable, "-m", "cardmaker"]
    Path("answers.txt").unlink(missing_ok=True)
    done = subprocess.run(command, env=os.environ | asked, capture_output=True, text=True, check=False)
    assert (done.stdout, done.stderr) == ("", "")
    answers = Path("answers.txt").read_text("utf-8")
    return [answer.rstrip() for answer in answers.split("\t") if answer]


@pytest.mark.usefixtures("empty_folder")
def test_names_of_what_is_at_hand_are_completed() -> None:
    Path("patterns").mkdir()
    shutil.copy(ROOT / "patterns/wick.yaml", "patterns/wicker-work.yaml")
    assert completions("cardmaker card wick") == ["wick", "wicker-work"]
    assert set(PATTERNS) | {"wicker-work"} <= set(completions("cardmaker plan "))
    assert completions("cardmaker card wick --loom ") == [*LOOMS]
    assert completions("cardmaker binder wick --looms broad-paddle sm") == ["small-box"]
    assert completions("cardmaker card wick --pegs ") == [*PEGS]
    assert completions("cardmaker class a") == ["a-yard-by-supper"]


@pytest.mark.usefixtures("empty_folder")
def test_layouts_are_completed_after_a_comma_too() -> None:
    stems = [path.stem for path in LAYOUT_FILES]
    assert completions("cardmaker card wick --layout ") == [*stems, "all"]
    assert completions("cardmaker card wick --layout record,vi") == ["record,visitor"]
    assert completions("cardmaker card wick --layout record,rec") == []


@pytest.mark.usefixtures("empty_folder")
def test_commands_options_choices_papers_and_paths_are_completed() -> None:
    assert completions("cardmaker bi") == ["binder"]
    assert completions("cardmaker card wick --sup") == ["--supersedes"]
    assert completions("cardmaker card wick --hand ") == ["right", "left"]
    assert "half-letter" in completions("cardmaker card wick --paper ha")
    assert completions("cardmaker class a-yard-by-supper --paper ") == ["letter", "a4"]
    Path("mine").mkdir()
    Path("mine/tape.yaml").touch()
    Path("mine/notes.txt").touch()
    assert completions("cardmaker card ./mine/") == ["./mine/tape.yaml"]


@pytest.mark.usefixtures("empty_folder")
def test_nothing_is_made_because_a_key_was_pressed() -> None:
    """Nor where the package is not installed."""
    completions("cardmaker card wick")
    Path("argcomplete.py").write_text("raise ModuleNotFoundError('argcomplete')\n")
    asked = {"_ARGCOMPLETE": "1", "PYTHONPATH": f".{os.pathsep}{ROOT}"}
    command = [sys.executable, "-m", "cardmaker", "card", "wick"]
    done = subprocess.run(command, env=os.environ | asked, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (1, "", "")
    assert not Path("out").exists()


@pytest.mark.skipif(shutil.which("bash") is None, reason="no bash")
@pytest.mark.usefixtures("empty_folder")
def test_it_works_in_bash_as_the_manual_says() -> None:
    Path("programs").mkdir()
    Path("programs/cardmaker").write_text(f'#!/bin/sh\nPYTHONPATH="{ROOT}" exec "{sys.executable}" -m cardmaker "$@"\n')
    Path("programs/cardmaker").chmod(0o755)
    script = """
        PATH="$PWD/programs:$PATH"
        eval "$(register-python-argcomplete cardmaker)"
        COMP_WORDS=(cardmaker card thr) COMP_CWORD=2 COMP_LINE="cardmaker card thr" COMP_POINT=18 COMP_TYPE=9
        "$(complete -p cardmaker | sed 's/.*-F \\([^ ]*\\) .*/\\1/')" cardmaker thr card
        echo "${COMPREPLY[@]}"
    """
    path = f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"
    done = subprocess.run(
        ["bash", "-c", script], env=os.environ | {"PATH": path}, capture_output=True, text=True, check=False
    )
    assert done.stdout.split() == ["three-paths", "three-sparks", "threes"]
