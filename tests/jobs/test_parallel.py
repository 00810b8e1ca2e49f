"""Work over several processes: the same answers in the same order, and nobody left behind when it is stopped."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Final

import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import parallel
from cardmaker.jobs.parallel import HelperLost, parallel_answers
from tests.helpers.places import ROOT, shipped_alone

PATTERNS: Final = str(shipped_alone() / "patterns")
STOPPED: Final = "cardmaker: interrupted; no file is left half written\n"


def squared(number: int) -> int:
    return number * number


def lost(number: int) -> int:
    os._exit(3)


@pytest.mark.parametrize("jobs", [0, 1, 2, 5])
@pytest.mark.parametrize("count", [0, 1, 30])
def test_answers_come_in_order(jobs: int, count: int) -> None:
    with parallel_answers(squared, range(count), jobs) as found:
        assert list(found) == [number * number for number in range(count)]


def test_a_helper_that_is_ended_is_told_of() -> None:
    with pytest.raises(HelperLost, match="ended from outside"), parallel_answers(lost, range(4), 2) as found:
        list(found)


def test_many_cards_are_the_cards_one_by_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """With a broken file among them: its problem is told, the others are made, and both streams say the same."""
    monkeypatch.chdir(tmp_path)
    Path("odd.yaml").write_text("title: Odd\nyarns: {}\nwarp: [3 nothing]\n", "utf-8")
    asked = ["card", "two-rails", "odd.yaml", "wick", "nine", "--layout", "six-numbers"]
    said = []
    for fewest in (99, 2):
        monkeypatch.setattr(parallel, "FEWEST", fewest)
        monkeypatch.setattr(parallel, "core_count", lambda: 2)
        monkeypatch.setattr(parallel, "CHUNK", 1)
        assert run_command_line([*asked, "--out", "out"]) == 1
        said.append((capsys.readouterr(), {path.name: path.read_bytes() for path in Path("out").iterdir()}))
    assert said[0] == said[1]
    assert len(said[0][1]) == 3
    assert said[0][0].err.startswith("odd.yaml:")


def started(folder: Path, at_work: float = 30.0) -> tuple[subprocess.Popen[str], list[int]]:
    """A binder of many cards in a process group of its own, once its helpers are there."""
    names = [PATTERNS]
    for number in range(12):
        copy = folder / f"more{number}"
        copy.mkdir()
        for path in Path(PATTERNS).glob("*.yaml"):
            (copy / path.name).write_bytes(path.read_bytes() + b"\n")
        names.append(str(copy))
    command = [sys.executable, "-m", "cardmaker", "binder", *names, "--jobs", "2", "--out", str(folder / "book.pdf")]
    run = subprocess.Popen(
        command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True
    )
    until = time.monotonic() + at_work
    while time.monotonic() < until and run.poll() is None:
        helpers = children(run.pid)
        if len(helpers) == 2:
            time.sleep(0.3)
            return run, helpers
        time.sleep(0.02)
    raise AssertionError("the helpers never came")


def children(pid: int) -> list[int]:
    found: list[int] = []
    for task in Path(f"/proc/{pid}/task").glob("*/children"):
        found += map(int, task.read_text("ascii").split())
    return found


def is_running(pid: int) -> bool:
    """A process that has ended but was not yet asked for its end (state Z) does not run (proc(5))."""
    try:
        return Path(f"/proc/{pid}/stat").read_text("ascii").rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


def ended(pids: list[int], within: float = 20.0) -> bool:
    until = time.monotonic() + within
    while time.monotonic() < until:
        if not any(map(is_running, pids)):
            return True
        time.sleep(0.05)
    return False


@pytest.mark.skipif(sys.platform != "linux", reason="asks the system for the processes of a process")
@pytest.mark.parametrize(
    ("stop", "whole_group", "status", "said"),
    [
        (signal.SIGINT, True, 130, STOPPED),
        (signal.SIGTERM, False, 143, STOPPED),
        (signal.SIGTERM, True, 143, STOPPED),
        (signal.SIGKILL, False, -9, ""),
    ],
)
def test_nobody_is_left_when_it_is_stopped(
    stop: signal.Signals, whole_group: bool, status: int, said: str, tmp_path: Path
) -> None:
    run, helpers = started(tmp_path)
    (os.killpg if whole_group else os.kill)(run.pid, stop)
    out, err = run.communicate(timeout=60)
    assert (run.returncode, out, err) == (status, "", said)
    assert ended(helpers)
    assert not [path for path in tmp_path.iterdir() if path.is_file()]
