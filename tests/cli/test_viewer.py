"""``--open``: the system's own viewer is asked, and where there is none a sentence says so and nothing fails."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

from cardmaker.cli import viewer
from cardmaker.cli.command_line import run_command_line

Said = pytest.CaptureFixture[str]

pytestmark = pytest.mark.skipif(os.name != "posix", reason="the starter is a script here")


@pytest.fixture
def starters(empty_folder: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder that alone is searched for programs."""
    folder = empty_folder / "programs"
    folder.mkdir()
    monkeypatch.setenv("PATH", str(folder))
    monkeypatch.setattr(sys, "platform", "linux")
    return folder


def write_starter(folder: Path, name: str, status: int = 0) -> None:
    """A program that notes what it is asked to open."""
    log = folder / "opened.txt"
    (folder / name).write_text(f'#!/bin/sh\nprintf "%s\\n" "$@" >> "{log}"\nexit {status}\n')
    (folder / name).chmod(0o755)


def opened(folder: Path) -> list[str]:
    log = folder / "opened.txt"
    return log.read_text().splitlines() if log.exists() else []


def run(capsys: Said, arguments: Sequence[str]) -> tuple[int, str, str]:
    return (run_command_line(arguments), *capsys.readouterr())


@pytest.mark.parametrize(("system", "starter"), [("linux", "xdg-open"), ("darwin", "open"), ("freebsd14", "xdg-open")])
def test_the_starter_of_the_system_gets_the_file_that_was_made(
    system: str, starter: str, starters: Path, empty_folder: Path, capsys: Said, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "platform", system)
    write_starter(starters, starter)
    assert run(capsys, ["card", "wick", "--out=-card.pdf", "--open"])[::2] == (0, "")
    assert opened(starters) == [str(empty_folder / "-card.pdf")]


def test_windows_opens_it_itself(starters: Path, empty_folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    started: list[str] = []
    monkeypatch.setattr(os, "startfile", started.append, raising=False)
    monkeypatch.setattr(sys, "platform", "win32")
    assert viewer.open_in_viewer([Path("out/a.pdf"), Path("out/b.pdf")]) == ""
    assert started == [str(empty_folder / "out/a.pdf"), str(empty_folder / "out/b.pdf")]

    def refuse(_: str) -> None:
        raise OSError

    monkeypatch.setattr(os, "startfile", refuse)
    assert viewer.open_in_viewer([Path("out/a.pdf")]).startswith("out/a.pdf is made, but ")


@pytest.mark.parametrize("status", [None, 3])
def test_without_a_viewer_a_sentence_says_so(status: int | None, starters: Path, capsys: Said) -> None:
    """No starter, or one that knows no viewer."""
    if status is not None:
        write_starter(starters, "xdg-open", status)
    status_of_command, out, err = run(capsys, ["card", "wick", "--open"])
    assert status_of_command == 0
    assert out.startswith("out/wick-record.pdf  (")
    assert err == (
        "out/wick-record.pdf is made, but this computer names no program to open it with: "
        "open it as you open any other PDF.\n"
    )


def test_a_viewer_that_stays_open_is_not_waited_for(starters: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(viewer, "_MOMENT", 0.01)
    (starters / "xdg-open").write_text("#!/bin/sh\nexec /bin/sleep 1\n")
    (starters / "xdg-open").chmod(0o755)
    assert viewer.open_in_viewer([Path("a.pdf")]) == ""  # as one that has ended with another status would not


def test_what_is_not_made_is_not_opened(starters: Path, capsys: Said) -> None:
    write_starter(starters, "xdg-open")
    Path("bad.yaml").write_text("title: Bad\n")
    assert run(capsys, ["card", "bad.yaml", "wick", "--open"])[0] == 1
    assert [Path(name).name for name in opened(starters)] == ["wick-record.pdf"]
    assert run(capsys, ["card", "bad.yaml", "--open"])[0] == 1
    assert len(opened(starters)) == 1


def test_a_binder_and_the_sheets_of_a_class_are_opened_too(starters: Path, capsys: Said) -> None:
    write_starter(starters, "xdg-open")
    assert run(capsys, ["binder", "wick", "--open"])[0] == 0
    assert run(capsys, ["class", "a-yard-by-supper", "--open"])[0] == 0
    names = [Path(name).name for name in opened(starters)]
    assert names == [
        "binder.pdf",
        *(f"a-yard-by-supper-{kind}.pdf" for kind in ("handouts", "tags", "teacher", "shopping")),
    ]


def test_a_shelf_of_cards_is_not_opened(starters: Path) -> None:
    write_starter(starters, "xdg-open")
    many = [Path(f"out/{number}.pdf") for number in range(viewer.MOST_OPENED + 1)]
    assert viewer.open_in_viewer(many) == "21 files are made, too many to open at once: look into the folder out."
    assert opened(starters) == []
    assert viewer.open_in_viewer(many[1:]) == ""
    assert len(opened(starters)) == 20
