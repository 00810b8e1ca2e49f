"""Commands that are stopped, that find no room, or that nobody listens to: whole files, one line, nothing left behind.

The same at length, with every command: ``python -m tests.benchmarks.interrupted``.
"""

from __future__ import annotations

import os
import resource
import shlex
import signal
import subprocess
import sys
from pathlib import Path
from time import sleep

import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import loading
from tests.benchmarks import interrupted
from tests.benchmarks.binder import children
from tests.benchmarks.interrupted import LINE, Errand
from tests.helpers.places import ROOT, shipped_alone

COMMAND = f"{shlex.quote(sys.executable)} -m cardmaker"
# As everywhere but in our own settings: what is printed waits until the command ends.
PLAIN = {name: value for name, value in os.environ.items() if name != "PYTHONUNBUFFERED"} | {"PYTHONPATH": str(ROOT)}


def shell(line: str, folder: Path) -> tuple[int, str]:
    """The status of ``cardmaker`` with what follows it on a line of bash, and all that was said."""
    done = subprocess.run(
        ["bash", "-c", f"{COMMAND} {line}; exit ${{PIPESTATUS[0]}}"],
        cwd=folder, env=PLAIN, text=True, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False,
    )  # fmt: skip
    return done.returncode, done.stdout


def test_a_seeded_sample_of_commands_that_are_stopped() -> None:
    for one in interrupted.campaign(12, seed=7, names=("card", "binder, helped")):
        assert one.faults == (), one


def test_two_cards_at_once_make_a_whole_file() -> None:
    assert list(interrupted.two_at_once(3, seed=7)) == [()] * 3


def test_the_campaign_sees_what_is_wrong(tmp_path: Path) -> None:
    """A command that leaves half a file, scraps, a traceback and a process is found out in all four."""
    tmp_path.joinpath("cardmaker.py").write_text(
        "import subprocess, sys, time\n"
        "subprocess.Popen([sys.executable, '-c', 'import time; time.sleep(30)'], stderr=-3)\n"
        "open('card.pdf', 'w').write('half'); open('.card.pdf.part', 'w').close()\n"
        "print('ready', flush=True)\n"
        "time.sleep(30)\n"
    )
    errand = Errand("bad", (), {"card.pdf": b"whole"}, 0)
    folder = tmp_path / "folder"
    folder.mkdir()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(interrupted, "_command", lambda _: [sys.executable, str(tmp_path / "cardmaker.py")])
        found = interrupted.stopped(errand, signal.SIGTERM, 3, folder, with_helpers=False)
    assert found.faults == (
        ".card.pdf.part is left",
        "card.pdf is neither the old file nor the new one",
        "a process lives on",
    )


@pytest.mark.parametrize(("sent", "status"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
def test_a_command_that_waits_is_stopped_in_one_line(tmp_path: Path, sent: signal.Signals, status: int) -> None:
    run = subprocess.Popen(
        [sys.executable, "-m", "cardmaker", "new", "--ask", "--out", str(tmp_path)],
        env=PLAIN | {"PYTHONUNBUFFERED": "1"}, text=True,
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip
    assert run.stdout is not None
    run.stdout.readline()
    run.send_signal(sent)
    said = run.communicate()[1]
    assert (run.returncode, said) == (status, LINE)
    assert os.listdir(tmp_path) == []


@pytest.mark.parametrize("number", ["INT", "TERM"])
def test_a_command_that_is_not_to_be_stopped_is_not(tmp_path: Path, number: str) -> None:
    """A shell starts a command in the background with SIGINT ignored; so may who must not be disturbed."""
    asking = f"mkfifo fifo; exec 3<>fifo; trap '' {number}; {COMMAND} new --ask --out here <&3 & child=$!; sleep 1.5; "
    line = asking + f"kill -{number} $child; yes '' | head -40 >&3; exec 3>&-; wait $child"
    done = subprocess.run(
        ["bash", "-c", line], cwd=tmp_path, env=PLAIN, capture_output=True, text=True, timeout=60, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert len(interrupted.files_in(tmp_path / "here")) == 1


@pytest.mark.parametrize("line", ["list", "plan three-paths", "card three-paths", "--help", "--version", "binder -h"])
def test_a_reader_that_has_left_is_no_trouble(line: str, tmp_path: Path) -> None:
    assert shell(f"{line} | true", tmp_path) == (0, "")


@pytest.mark.parametrize("line", ["list", "plan three-paths", "card three-paths", "--help", "--version"])
def test_output_that_finds_no_room_is_told_in_one_line(line: str, tmp_path: Path) -> None:
    said = "cardmaker: what it said could not be written: No space left on device\n"
    assert shell(f"{line} > /dev/full", tmp_path) == (1, said)


@pytest.mark.parametrize("closed", [">&-", "2>&-", ">&- 2>&-", "<&- >&- 2>&-"])
@pytest.mark.parametrize(("line", "status"), [("card three-paths", 0), ("card nonesuch", 2), ("check none.yaml", 1)])
def test_closed_streams_change_nothing_else(line: str, status: int, closed: str, tmp_path: Path) -> None:
    ended, said = shell(f"{line} {closed}", tmp_path)
    assert ended == status
    assert "Traceback" not in said
    assert said.count("\n") <= 2
    if status == 0:
        assert (tmp_path / "out" / "three-paths-record.pdf").read_bytes().endswith(b"%%EOF\n")


@pytest.mark.parametrize("where", ["2> /dev/full", "2>&1 | true", "2>&-"])
def test_a_problem_that_nobody_hears_still_sets_the_status(where: str, tmp_path: Path) -> None:
    assert shell(f"card nonesuch {where}", tmp_path) == (2, "")


def test_what_is_told_does_not_go_into_the_pattern_when_errors_are_closed(tmp_path: Path) -> None:
    """`resize` prints a pattern, and tells of the sizes beside it."""
    alone = shell("resize three-paths --ends 41 2>/dev/null", tmp_path)
    assert alone[1].split("\n")[1].startswith("# Three Paths, made over")
    assert shell("resize three-paths --ends 41 2>&-", tmp_path) == alone


def test_questions_that_cannot_be_answered_are_left(tmp_path: Path) -> None:
    status, said = shell("new --ask <&-", tmp_path)
    assert status == 2
    assert "cardmaker: The questions were not all answered. No file was written.\n" in said
    assert "Traceback" not in said


def test_a_file_that_may_not_grow_leaves_the_old_one(tmp_path: Path) -> None:
    (tmp_path / "card.pdf").write_bytes(b"%PDF-older")

    def limit() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (10_000, 10_000))

    done = subprocess.run(
        [sys.executable, "-m", "cardmaker", "card", "three-paths", "--out", "card.pdf"],
        preexec_fn=limit, cwd=tmp_path, env=PLAIN | {"PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr == "cardmaker: card.pdf: cannot be written: File too large\n"
    assert interrupted.files_in(tmp_path) == {"card.pdf": b"%PDF-older"}


def test_a_full_disk_leaves_the_old_file() -> None:
    with interrupted.small_disk(interrupted.DISK_KB) as disk:
        if disk is None:
            pytest.skip("no disk can be mounted here")
        assert interrupted.on_a_full_disk(disk) == ()


def test_a_folder_in_the_way_is_told_in_one_line(tmp_path: Path) -> None:
    (tmp_path / "out" / "three-paths-record.pdf").mkdir(parents=True)
    said = "cardmaker: out/three-paths-record.pdf: cannot be written: it is a folder\n"
    assert shell("card three-paths", tmp_path) == (1, said)
    assert interrupted.files_in(tmp_path) == {}


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_read_only_folder_is_told_in_one_line(tmp_path: Path) -> None:
    (tmp_path / "out").mkdir(mode=0o500)
    status, said = shell("card three-paths", tmp_path)
    assert status == 1
    assert said.endswith("cannot be written: the folder is read-only\n")
    assert said.count("\n") == 1


@pytest.mark.skipif(not Path("/proc/self/task").exists(), reason="helpers are found in /proc")
@pytest.mark.parametrize("wait_s", [0.0, 0.2])
def test_a_helper_that_is_lost_is_told_in_one_line(tmp_path: Path, wait_s: float) -> None:
    """As a system without memory does it. The command neither waits for ever nor leaves the other helper behind."""
    (tmp_path / "binder.pdf").write_bytes(b"%PDF-older")
    patterns = str(shipped_alone() / "patterns")
    run = subprocess.Popen(
        [sys.executable, "-m", "cardmaker", "binder", patterns, "--out", "binder.pdf", "--jobs", "2"],
        cwd=tmp_path, env=PLAIN, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True,
    )  # fmt: skip
    while not (helpers := children(run.pid)) and run.poll() is None:
        sleep(0.01)
    sleep(wait_s)
    while not (helpers := children(run.pid)) and run.poll() is None:  # those who read are gone before those who draw
        sleep(0.001)
    os.kill(helpers[0], signal.SIGKILL)
    said = run.communicate(timeout=60)
    line = "cardmaker: a helping process was ended from outside; with --jobs 1 there are none\n"
    assert (run.returncode, *said) == (1, "", line)
    assert interrupted.all_gone(run.pid)
    assert interrupted.files_in(tmp_path) == {"binder.pdf": b"%PDF-older"}


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_a_library_that_makes_another_error_of_a_stop_changes_nothing(
    number: signal.Signals, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    """ReportLab does so when it is stopped while it opens a font."""

    def opens(*_: object) -> None:
        try:
            signal.raise_signal(number)
        except BaseException:
            raise OSError("Can't open file") from None

    monkeypatch.setattr(loading, "load_pattern", opens)
    assert run_command_line(["plan", "three-paths"]) == 128 + number
    assert capfd.readouterr() == ("", LINE)
