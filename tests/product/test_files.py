"""Files are written whole or not at all, and what goes wrong is told in one line."""

from __future__ import annotations

import os
import resource
import signal
import subprocess
import sys
from errno import EACCES, EDQUOT, EISDIR, ENOENT, ENOSPC, ENOTDIR, EROFS
from pathlib import Path
from time import time
from typing import Any

import pytest

from cardmaker.files import CannotWrite, write_many, write_whole


def test_a_file_is_written_and_replaced(tmp_path: Path) -> None:
    card = tmp_path / "card.pdf"
    write_whole(card, b"one")
    write_whole(card, b"another")
    assert card.read_bytes() == b"another"
    assert os.listdir(tmp_path) == ["card.pdf"]


@pytest.mark.parametrize("mask", [0o022, 0o077, 0o002])
def test_the_mode_is_that_of_any_new_file(tmp_path: Path, mask: int) -> None:
    before = os.umask(mask)
    try:
        write_whole(tmp_path / "card.pdf", b"one")
    finally:
        os.umask(before)
    assert (tmp_path / "card.pdf").stat().st_mode & 0o777 == 0o666 & ~mask


def test_what_is_replaced_keeps_its_permissions(tmp_path: Path) -> None:
    card = tmp_path / "card.pdf"
    for files in ({card: b"one"}, {card: b"two"}, {card: b"three", **{tmp_path / f"{n}": b"x" for n in range(120)}}):
        if card.exists():
            card.chmod(0o600)
        write_many(files)
    assert card.read_bytes() == b"three"
    assert card.stat().st_mode & 0o777 == 0o600


def test_what_is_read_only_is_not_replaced(tmp_path: Path) -> None:
    card = tmp_path / "card.pdf"
    card.write_bytes(b"one")
    card.chmod(0o444)
    with pytest.raises(CannotWrite, match="it is read-only"):
        write_many({tmp_path / "other.pdf": b"x", card: b"two"})
    assert card.read_bytes() == b"one"
    assert os.listdir(tmp_path) == ["card.pdf"]


@pytest.mark.parametrize(("data", "sort"), [(b"%PDF-1.7 new", "PDF"), (b"\x89PNG new", "PNG")])
def test_a_document_replaces_documents_alone(tmp_path: Path, data: bytes, sort: str) -> None:
    path = tmp_path / "w.pdf"
    path.write_bytes(b"title: Wick\n")  # the very pattern, perhaps
    with pytest.raises(CannotWrite, match=f"what is there is no {sort}, and would be lost"):
        write_whole(path, data)
    assert path.read_bytes() == b"title: Wick\n"
    for before in (b"", data):
        path.write_bytes(before)
        write_whole(path, data)
        assert path.read_bytes() == data


@pytest.mark.parametrize("others", [0, 120])
def test_a_new_file_takes_no_place_that_was_taken_meanwhile(tmp_path: Path, others: int) -> None:
    mine = tmp_path / "mine.yaml"
    mine.write_bytes(b"hers")
    before = {tmp_path / f"{n}": b"x" for n in range(others)}
    with pytest.raises(CannotWrite, match="it is there already"):
        write_many({**before, mine: b"ours"}, new=[mine])
    assert mine.read_bytes() == b"hers"


@pytest.mark.parametrize("problem", [KeyboardInterrupt(), OSError(ENOSPC, "No space left on device"), MemoryError()])
@pytest.mark.parametrize("moment", ["fsync", "replace"])
def test_whatever_happens_the_old_file_stands_and_nothing_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, problem: BaseException, moment: str
) -> None:
    def fails(*_: object) -> None:
        raise problem

    card = tmp_path / "card.pdf"
    card.write_bytes(b"old")
    monkeypatch.setattr(os, moment, fails)
    with pytest.raises(BaseException) as raised:  # noqa: PT011
        write_whole(card, b"new")
    monkeypatch.undo()
    assert isinstance(raised.value, CannotWrite if isinstance(problem, OSError) else type(problem))
    assert os.listdir(tmp_path) == ["card.pdf"]
    assert card.read_bytes() == b"old"


def test_a_folder_in_its_place_is_told(tmp_path: Path) -> None:
    (tmp_path / "card.pdf").mkdir()
    with pytest.raises(CannotWrite, match=r"card\.pdf: cannot be written: it is a folder$") as raised:
        write_whole(tmp_path / "card.pdf", b"one")
    assert raised.value.errno == EISDIR
    assert "\n" not in str(raised.value)
    assert os.listdir(tmp_path) == ["card.pdf"]


def test_a_missing_folder_is_made(tmp_path: Path) -> None:
    write_whole(tmp_path / "out" / "card.pdf", b"whole")
    assert (tmp_path / "out" / "card.pdf").read_bytes() == b"whole"


def test_a_file_for_a_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"")
    with pytest.raises(CannotWrite, match=r"its folder is a file$"):
        write_whole(tmp_path / "out" / "card.pdf", b"one")


@pytest.mark.parametrize(
    ("code", "told"),
    [
        (EACCES, "the folder is read-only"),
        (EROFS, "the disk is read-only"),
        (ENOSPC, "the disk is full"),
        (EDQUOT, "the disk is full"),
        (ENOENT, "there is no such folder"),
        (ENOTDIR, "its folder is a file"),
        (5, "Input/output error"),
    ],
)
def test_the_systems_errors_are_one_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, code: int, told: str) -> None:
    def fails(*_: object, **__: object) -> Any:
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr("builtins.open", fails)
    with pytest.raises(CannotWrite) as raised:
        write_whole(tmp_path / "card.pdf", b"one")
    assert str(raised.value) == f"{tmp_path}/card.pdf: cannot be written: {told}"
    assert (raised.value.errno, raised.value.path) == (code, tmp_path / "card.pdf")


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_read_only_folder_is_told(tmp_path: Path) -> None:
    tmp_path.chmod(0o555)
    try:
        with pytest.raises(CannotWrite, match=r"the folder is read-only$"):
            write_whole(tmp_path / "card.pdf", b"one")
    finally:
        tmp_path.chmod(0o755)


def test_a_real_limit_leaves_nothing_half_written(tmp_path: Path) -> None:
    """The system itself refuses the second half of the file."""
    code = (
        "import sys; from pathlib import Path; from cardmaker.files import write_whole, CannotWrite\n"
        "try: write_whole(Path(sys.argv[1]), bytes(500_000))\n"
        "except CannotWrite as problem: print(problem)"
    )

    def limit() -> None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, 100_000))

    done = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path / "card.pdf")],
        preexec_fn=limit, capture_output=True, text=True, check=True, env=os.environ | {"PYTHONDONTWRITEBYTECODE": "1"},
    )  # fmt: skip
    assert done.stdout == f"{tmp_path}/card.pdf: cannot be written: File too large\n"
    assert os.listdir(tmp_path) == []


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "usb").mkdir()
    link = tmp_path / "card.pdf"
    link.symlink_to(tmp_path / "usb" / "card.pdf")
    write_whole(link, b"one")
    assert link.is_symlink()
    assert (tmp_path / "usb" / "card.pdf").read_bytes() == b"one"


def test_a_device_is_written_to_as_it_is() -> None:
    write_whole(Path("/dev/null"), b"one")
    assert not Path("/dev/null").is_file()


def test_long_names_are_no_trouble(tmp_path: Path) -> None:
    card = tmp_path / ("é" * 120 + ".pdf")
    write_whole(card, b"one")
    assert os.listdir(tmp_path) == [card.name]


def test_many_files_are_written_together_or_not_at_all(tmp_path: Path) -> None:
    write_many({tmp_path / f"{number}.pdf": bytes([number]) for number in range(5)})
    assert [(tmp_path / f"{number}.pdf").read_bytes() for number in range(5)] == [bytes([n]) for n in range(5)]
    (tmp_path / "9.pdf").mkdir()
    with pytest.raises(CannotWrite, match=r"9\.pdf: cannot be written: it is a folder"):
        write_many({tmp_path / "0.pdf": b"new", tmp_path / "8.pdf": b"new", tmp_path / "9.pdf": b"new"})
    assert (tmp_path / "0.pdf").read_bytes() == bytes([0])
    assert sorted(os.listdir(tmp_path)) == ["0.pdf", "1.pdf", "2.pdf", "3.pdf", "4.pdf", "9.pdf"]


@pytest.mark.parametrize("limit", [150, 1024])
def test_more_files_than_may_be_open_are_written(tmp_path: Path, limit: int) -> None:
    """A binder gives back a thousand files, where a process may often have 1024 open, or 256."""
    code = (
        "import sys; from pathlib import Path; from cardmaker.files import write_many\n"
        "write_many({Path(sys.argv[1], f'{n}.yaml'): b'%d' % n for n in range(1100)})"
    )
    subprocess.run(
        [sys.executable, "-c", code, str(tmp_path)], check=True,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_NOFILE, (limit, limit)),
    )  # fmt: skip
    found = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    assert found == {f"{n}.yaml": b"%d" % n for n in range(1100)}


def test_one_of_many_that_does_not_settle_leaves_all_as_they_were(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Many settle at once; the first trouble is told, of the file that has it."""
    settled = []

    def fails_late(number: int) -> None:
        settled.append(number)
        if len(settled) == 150:
            raise OSError(ENOSPC, "No space left on device")

    (tmp_path / "7.yaml").write_bytes(b"old")
    monkeypatch.setattr(os, "fsync", fails_late)
    with pytest.raises(CannotWrite, match=r"\.yaml: cannot be written: the disk is full$"):
        write_many({tmp_path / f"{number}.yaml": b"new" for number in range(200)})
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"7.yaml": b"old"}


def test_what_a_killed_run_left_is_swept_away_after_an_hour(tmp_path: Path) -> None:
    """Its own scraps alone: not those of another file, nor of a run that may still go."""
    names = {
        ".card.pdf.0123abcd.part": 7200,
        ".card.pdf.89abcdef.part": 60,
        ".other.pdf.0123abcd.part": 7200,
        "a": 7200,
    }
    for name, age_s in names.items():
        (tmp_path / name).write_bytes(b"half")
        os.utime(tmp_path / name, (time() - age_s, time() - age_s))
    write_whole(tmp_path / "card.pdf", b"one")
    assert set(os.listdir(tmp_path)) == {*names, "card.pdf"} - {".card.pdf.0123abcd.part"}
