"""``--watch``: made again at every save, however an editor saves; problems as they come and go; ended in one line."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from queue import Empty, Queue
from threading import Thread
from typing import Final

import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import saved_files
from cardmaker.jobs.saved_files import file_states, wait_for_saves
from tests.helpers.places import ROOT

PATTERN: Final = """\
title: Gate Band
yarns: {blue: {fibre: cotton, count: 8/2}, white: {fibre: cotton, count: 8/2}}
warp: [3 blue, 9 white, 3 blue]
"""
LOOM: Final = "title: {title}\nkind: one heddle\nslots: {slots}\nholes: {holes}\nmark: counted as zero\nwaste: 20 in\n"
PATIENCE: Final = 30.0  # seconds for a line that comes at once, on a machine that is busy
MADE: Final = "out/gate-band-record.pdf  ("


@pytest.fixture
def hers(empty_folder: Path) -> Path:
    for folder in ("patterns", "layouts/looms"):
        (empty_folder / folder).mkdir(parents=True)
    Path("patterns/gate-band.yaml").write_text(PATTERN)
    Path("layouts/looms/kitchen-box.yaml").write_text(LOOM.format(title="Kitchen box", slots=22, holes=21))
    return empty_folder


class Watch:
    """A command that watches, and what it says: a line each."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self.process = process
        self.lines: Queue[str] = Queue()
        Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        for line in self.process.stdout or ():
            if not line.startswith("  "):
                self.lines.put(line.rstrip("\n"))

    def said(self) -> str:
        try:
            return self.lines.get(timeout=PATIENCE)
        except Empty:
            pytest.fail("it says nothing")

    def ended_by(self, number: signal.Signals) -> tuple[int, str]:
        self.process.send_signal(number)
        status = self.process.wait(PATIENCE)
        return status, self.said()


@contextmanager
def watching(*arguments: str) -> Iterator[Watch]:
    command = [sys.executable, "-m", "cardmaker", "card", "gate-band", "--watch", *arguments]
    process = subprocess.Popen(
        command, env=os.environ | {"PYTHONPATH": str(ROOT)}, text=True,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, preexec_fn=_hear_signals,
    )  # fmt: skip
    try:
        yield Watch(process)
    finally:
        process.kill()
        process.wait()


def _hear_signals() -> None:
    signal.signal(signal.SIGINT, signal.default_int_handler)


def card() -> bytes:
    return Path("out/gate-band-record.pdf").read_bytes()


@pytest.mark.skipif(os.name != "posix", reason="signals are sent as a terminal sends them here")
@pytest.mark.usefixtures("hers")
def test_it_is_made_again_at_every_save_and_problems_come_and_go() -> None:
    pattern = Path("patterns/gate-band.yaml")
    with watching() as watch:
        assert watch.said() == f"{MADE}Kitchen box, letter)"
        assert watch.said().startswith("Watching: save any file")
        first = card()

        pattern.write_text(PATTERN.replace("9 white", "11 white"))  # in place
        assert watch.said() == "patterns/gate-band.yaml was saved:"
        assert watch.said().startswith(MADE)
        wider = card()
        assert wider != first

        Path("patterns/.gate-band.swp").write_text(PATTERN.replace("9 white", "1 red"))  # beside it, and moved
        os.replace("patterns/.gate-band.swp", pattern)
        assert watch.said() == "patterns/gate-band.yaml was saved:"
        assert watch.said().startswith("patterns/gate-band.yaml:3:")
        assert watch.said().startswith("What was made before stays as it was")
        assert card() == wider

        pattern.rename("patterns/gate-band.yaml~")  # away, and written anew
        pattern.write_text(PATTERN)
        assert watch.said() == "patterns/gate-band.yaml was saved:"
        assert watch.said().startswith(MADE)
        assert watch.said() == "Mended: no problem any more."
        assert card() == first  # the same bytes, however often it was made

        Path("layouts/looms/little-board.yaml").write_text(LOOM.format(title="Little board", slots=12, holes=11))
        assert watch.said() == "layouts/looms/little-board.yaml was saved:"
        assert watch.said() == f"{MADE}Little board, letter)"

        Path("cardmaker.yaml").write_text("paper: a4\nlom: kitchen-box\n")
        assert watch.said() == "cardmaker.yaml was saved:"
        assert watch.said().startswith("cardmaker.yaml:2:1:")
        assert watch.said().startswith("What was made before")
        Path("cardmaker.yaml").write_text("paper: a4\nloom: kitchen-box\n")
        assert watch.said() == "cardmaker.yaml was saved:"
        assert watch.said() == f"{MADE}Kitchen box, a4)"
        assert watch.said().startswith("Mended")

        Path("layouts/looms/kitchen-box.yaml").unlink()
        assert watch.said() == "layouts/looms/kitchen-box.yaml is gone:"
        assert watch.said().startswith("cardmaker.yaml:2:1: loom: There is no loom named 'kitchen-box'.")
        assert watch.said().startswith("What was made before")
        assert watch.ended_by(signal.SIGINT) == (130, "cardmaker: interrupted; no file is left half written")
        assert watch.lines.empty()


@pytest.mark.skipif(os.name != "posix", reason="the starter is a script here")
def test_it_is_opened_once(hers: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As soon as there is something to see."""
    (hers / "programs").mkdir()
    starter = hers / "programs" / ("open" if sys.platform == "darwin" else "xdg-open")
    starter.write_text(f'#!/bin/sh\necho "$1" >> "{hers}/opened.txt"\n')
    starter.chmod(0o755)
    monkeypatch.setenv("PATH", f"{hers}/programs:{os.environ['PATH']}")
    pattern = Path("patterns/gate-band.yaml")
    pattern.write_text("title: Gate Band\n")
    with watching("--open") as watch:
        while not watch.said().startswith("Watching"):
            pass
        assert not Path("opened.txt").exists()
        for count in ("9 white", "11 white"):
            pattern.write_text(PATTERN.replace("9 white", count))
            while not watch.said().startswith(MADE):
                pass
        assert watch.ended_by(signal.SIGTERM)[0] == 143
    assert Path("opened.txt").read_text().splitlines() == [str(hers / "out/gate-band-record.pdf")]


@pytest.mark.usefixtures("hers")
def test_what_does_not_exist_is_refused_at_once(capsys: pytest.CaptureFixture[str]) -> None:
    assert run_command_line(["card", "gate-bnad", "--watch"]) == 2
    assert "Did you mean gate-band?" in capsys.readouterr().err


@pytest.mark.usefixtures("hers")
def test_every_file_that_a_card_may_be_made_from_is_looked_at() -> None:
    for name in ("layouts/cards", "layouts/pegs", "elsewhere"):
        Path(name).mkdir(parents=True)
    mine = ["layouts/cards/mine.yaml", "layouts/pegs/mine.yml", "elsewhere/mine.yaml", "patterns/gate.jpg"]
    for name in (*mine, "cardmaker.yaml", "patterns/other.yaml", "notes.yaml"):
        Path(name).write_text("title: x\n")
    states = file_states(["gate-band"], ["elsewhere/mine.yaml", "record"])
    watched = {file for file in states if not file.startswith(str(ROOT))}
    assert watched == {*mine, "cardmaker.yaml", "patterns/gate-band.yaml", "layouts/looms/kitchen-box.yaml"}
    shipped = {file.removeprefix(f"{ROOT}/") for file in states} - watched
    assert {"layouts/looms/small-box.yaml", "layouts/cards/record.yaml"} <= shipped


def test_in_a_checkout_every_file_is_looked_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    files = [os.path.realpath(file) for file in file_states(["wick"], [])]
    assert len(files) == len({*files}) > 20


@pytest.mark.usefixtures("hers")
def test_a_file_that_comes_back_as_it_was_was_not_saved(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is made while a file is away for a moment, as when an editor moves its own to the place of it."""
    pattern = Path("patterns/gate-band.yaml")
    before = file_states(["gate-band"], [])
    steps: Iterator[Callable[[], object]] = iter(
        [
            lambda: pattern.rename("away"),
            lambda: Path("away").rename(pattern),
            lambda: None,
            lambda: pattern.write_text(PATTERN[:50]),
            lambda: pattern.write_text(PATTERN + "# and more\n"),
            lambda: None,
        ]
    )
    monkeypatch.setattr(saved_files, "sleep", lambda _: next(steps)())
    now, saves = wait_for_saves(before, ["gate-band"], [])
    assert saves == [("patterns/gate-band.yaml", False)]
    assert now["patterns/gate-band.yaml"][1] == len(PATTERN + "# and more\n")
    assert next(steps, None) is None
