"""One input tried: written down, run through the command line in this process, and judged."""

from __future__ import annotations

import io
import json
import os
import re
import shutil
import sys
import traceback
from collections.abc import Sequence
from contextlib import suppress
from functools import cache
from pathlib import Path
from random import Random
from typing import Final, Literal, NamedTuple

import pypdfium2

from cardmaker.cli import arguments, command_line
from tests.fuzz.guard import MOST_MB, Guard, TooSlow
from tests.fuzz.inputs import Input
from tests.fuzz.kinds import KINDS, Command, shipped
from tests.helpers.places import ROOT

Verdict = Literal["fine", "told", "crash", "slow", "large", "breach", "speechless", "left over"]
PLACED: Final = re.compile(r".*:([1-9]\d*):([1-9]\d*): \S")
POOL: Final = 6  # fuzzed files of a kind that others are tried with
# Controls and marks that reorder a line: no terminal should be sent them by a file.
CONTROLS: Final = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
_LIST_EVERY: Final = 400
_OPEN_EVERY: Final = 10


class Outcome(NamedTuple):
    """How one input ended; ``what`` tells a failure, ``where`` is the innermost line of ours."""

    verdict: Verdict
    commands: int
    what: str = ""
    where: str = ""


class Ran(NamedTuple):
    """One command: its exit status, and what it wrote to both streams."""

    status: int
    out: str
    err: str


class Fault(Exception):
    """What a command may not do."""

    def __init__(self, verdict: Verdict, what: str, where: str = "") -> None:
        super().__init__(what)
        self.verdict, self.what, self.where = verdict, what, where


class TrialFolder:
    """The folder in which inputs are tried, the guard, and sound files to try others with."""

    def __init__(self, folder: Path) -> None:
        # It takes longer than reading most of the files.
        vars(command_line)["command_parser"] = cache(arguments.command_parser)
        self.folder = folder
        self.guard = Guard(ROOT)
        self.pool = {kind.name: [str(path) for path in shipped(kind)] for kind in KINDS}
        self.own: dict[str, list[str]] = {kind.name: [] for kind in KINDS}
        os.chdir(folder)
        for kind in KINDS:
            Path(kind.folder).mkdir(parents=True, exist_ok=True)

    def tried(self, given: Input, seed: int) -> Outcome:
        """Tries one input; leaves the folder as it was."""
        chance, commands = Random(f"{seed} {given.number} commands"), 0
        verdict: Verdict = "fine"
        try:
            with suppress(OSError, ValueError):
                Path(given.path).write_bytes(given.data)
            for command in self._commands(given, chance):
                commands += 1
                ran = self._run(command, given, chance)
                if command[0] == "check" and not given.commands:
                    self._check_places(ran, given)
                if ran.status != 0:
                    verdict = "told"
                    if command[0] == "check" and not given.commands:
                        break
        except Fault as fault:
            return Outcome(fault.verdict, commands, fault.what, fault.where)
        finally:
            self._keep(given, verdict)
            self._clear()
        return Outcome(verdict, commands)

    def _commands(self, given: Input, chance: Random) -> Sequence[Command]:
        if given.commands:
            return given.commands
        others = {kind: [*self.own[kind], chance.choice(files)] for kind, files in self.pool.items() if files}
        made = [["check", given.path], *given.kind.commands(given.path, others, chance)]
        return [*made, ["list"]] if given.number % _LIST_EVERY == 0 else made

    def _run(self, command: Command, given: Input, chance: Random) -> Ran:
        out = _out_of(command)
        before = _files(Path.cwd())
        encoding = chance.choice(("utf-8", "utf-8", "utf-8", "ascii", "cp1252"))
        try:
            ran = _called(command, self.guard, out, encoding)
        except TooSlow as slow:
            raise Fault("slow", f"{slow}: {command[0]}", _where(slow)) from None
        except MemoryError as no:
            raise Fault("large", f"no memory: {command[0]}", _where(no)) from None
        except Exception as no:
            raise Fault("crash", f"{type(no).__name__}: {no}"[:300] + f" in {command[0]}", _where(no)) from None
        if self.guard.breaches:
            breaches, self.guard.breaches = self.guard.breaches, []
            raise Fault("breach", "; ".join(breaches[:3]))
        if self.guard.largest_mb > MOST_MB:
            raise Fault("large", f"{self.guard.largest_mb:.0f} MB: {command[0]}")
        _check_words(ran, command)
        _check_files(ran, command, before, given.number)
        return ran

    def _check_places(self, ran: Ran, given: Input) -> None:
        """A problem's place is in the file, or at most one step behind its last sign."""
        lines = given.data.decode(errors="replace").replace("\r\n", "\n").replace("\r", "\n").split("\n")
        for line in ran.err.splitlines():
            if found := PLACED.match(line):
                row, column = int(found[1]), int(found[2])
                if row > len(lines) or column > len(lines[row - 1]) + 2:
                    raise Fault("speechless", f"place {row}:{column} is not in the file: {line[:200]}")

    def _keep(self, given: Input, verdict: Verdict) -> None:
        """A file that did well is tried with others later on."""
        if verdict != "fine" or given.level in ("text", "name", "pdf"):
            return
        own = self.own[given.kind.name]
        kept = f"pool-{given.kind.name}-{given.number % POOL}.yaml"
        with suppress(OSError):
            shutil.copyfile(given.path, kept)
            if kept not in own:
                own.append(kept)

    def _clear(self) -> None:
        """Away with whatever was not here before: most inputs leave one file."""
        folders = {kind.folder for kind in KINDS} | {kind.folder.split("/")[0] for kind in KINDS}
        for place, inner, names in os.walk(".", topdown=False):
            for name in names:
                if not name.startswith("pool-"):
                    _away(Path(place, name))
            for name in inner:
                if os.path.relpath(os.path.join(place, name)) not in folders:
                    _away(Path(place, name))
        for entry in os.scandir(".."):
            if entry.name not in ("work", "part.json", "now"):
                _away(Path(entry.path))


def _called(command: Command, guard: Guard, out: str, encoding: str) -> Ran:
    streams = [io.TextIOWrapper(io.BytesIO(), encoding, write_through=True, newline="\n") for _ in range(2)]
    kept = sys.stdout, sys.stderr
    sys.stdout, sys.stderr = streams
    try:
        beside = [os.path.dirname(out) or "."] if out.lower().endswith((".pdf", ".yaml")) else []
        schemas = [".schemas"] if command[0] == "new" else []  # for editors
        with guard.watching(out, *beside, *schemas):
            status = command_line.run_command_line(command)
    except SystemExit as end:  # argparse's way out
        status = int(end.code or 0)
    finally:
        sys.stdout, sys.stderr = kept
    said = [stream.buffer.getvalue().decode(encoding) for stream in streams]
    return Ran(status, *said)


def _out_of(command: Command) -> str:
    """Where a command may write."""
    for index, word in enumerate(command):
        if word == "--out" and index + 1 < len(command):
            return command[index + 1]
        if word.startswith("--out="):
            return word.removeprefix("--out=")
    return {"card": "out", "class": "out", "restore": ".", "new": "patterns"}.get(command[0], "nowhere")


def _check_words(ran: Ran, command: Command) -> None:
    """An exit status that is known; problems with places, each on a line; no signs that turn a terminal over."""
    if ran.status not in (0, 1, 2):
        raise Fault("speechless", f"exit status {ran.status}")
    if sign := CONTROLS.search(ran.out + ran.err):
        raise Fault("speechless", f"U+{ord(sign[0]):04X} is sent to the terminal by {command[0]}")
    lines = ran.err.splitlines()
    if ran.status and not lines:
        raise Fault("speechless", f"status {ran.status} without a word: {command[0]}")
    if command[0] == "resize" and ran.status == 1:  # tells the sizes near by before it writes
        lines = lines[-1:]
    if ran.status == 1 and not all(PLACED.match(line) or line.startswith("cardmaker: ") for line in lines):
        raise Fault("speechless", f"no place in {lines[0][:200]!r}")
    if ran.status == 2 and not ((len(lines) == 1 and lines[0].startswith("cardmaker: ")) or "usage: " in lines[0]):
        raise Fault("speechless", f"wrong usage told as {ran.err[:200]!r}")
    if "--json" in command and ran.status == 0:
        try:
            json.loads(ran.out, parse_constant=_no_constant)
        except ValueError as no:
            raise Fault("speechless", f"no JSON: {no}") from None


def _no_constant(word: str) -> float:
    raise ValueError(f"{word} is no number")


def _check_files(ran: Ran, command: Command, before: frozenset[str], number: int) -> None:
    """Nothing new but whole cards and pattern files, and nothing at all when the command failed."""
    new = _files(Path.cwd()) - before
    if ran.status and new and not (command[0] in ("card", "binder", "class") and ran.status == 1):
        raise Fault("left over", f"{command[0]} failed and left {sorted(new)[0]!r}")
    for name in new:
        if name.endswith(".part") or not _is_whole(name, Path(name).read_bytes(), command[0], number):
            raise Fault("left over", f"{name!r} is not whole")


def _is_whole(name: str, data: bytes, command: str, number: int) -> bool:
    """A card is one sound page; what a PDF gives back has a plain name; any other file ends with a line."""
    if command == "restore":
        return re.fullmatch(r".*/out/(patterns|layouts/[a-z]+)/[^/\\]*\.ya?ml", name, re.IGNORECASE) is not None
    if command not in ("card", "binder", "class"):
        return data.endswith(b"\n")
    whole = data.startswith(b"%PDF-") and data.rstrip().endswith(b"%%EOF")
    return whole and (command != "card" or number % _OPEN_EVERY != 0 or len(pypdfium2.PdfDocument(data)) == 1)


def _files(folder: Path) -> frozenset[str]:
    return frozenset(os.path.join(place, name) for place, _, names in os.walk(folder) for name in names)


def _away(path: Path) -> None:
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path, ignore_errors=True)
    else:
        with suppress(OSError):
            path.unlink()


def _where(no: BaseException) -> str:
    """The innermost line of ours that was being run."""
    ours = [frame for frame in traceback.extract_tb(no.__traceback__) if "/cardmaker/" in frame.filename]
    last = ours[-1] if ours else None
    return f"{last.filename.rpartition('/cardmaker/')[2]}:{last.lineno} {last.name}" if last else ""
