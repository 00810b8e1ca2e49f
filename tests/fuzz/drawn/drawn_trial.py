"""One input tried: its files written, checked and printed, and every page held against the laws."""

from __future__ import annotations

import io
import os
import re
import shutil
import sys
import traceback
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final, NamedTuple

import yaml

from cardmaker.cli import command_line
from cardmaker.model.marks import Page
from tests.fuzz.drawn.catching import Catch, Cut, caught_pages, document_number, one_process
from tests.fuzz.drawn.jobs import Command, Job
from tests.fuzz.drawn.page_laws import Broken, card_faults, page_faults
from tests.fuzz.guard import MOST_MB, Guard, TooSlow
from tests.helpers.card_faults import all_words

LEAST_SECONDS: Final = 6.0  # of the processor, for the smallest of inputs
SECONDS_A_PAGE: Final = 1.0
MOST_PAGES: Final = 130
# What a card says plainly that it does not hold, at the key to blame. Not a fault, but counted.
FULL: Final = re.compile(
    r"\d+ ends do not fit on |has \d+ letters|letters? fit|together too many for|is too small for a binder's contents"
    r"|typeface has no |the type has no |pattern end \d+ .* already"
)
OUT: Final = "out"


class Ran(NamedTuple):
    """One command: its exit status, and what it wrote."""

    status: int
    told: str


class Tried(NamedTuple):
    """How an input ended: printed, refused by ``check``, or told by a command that something is too full; with the
    pages that were looked at, and what is wrong with them."""

    ended: str
    pages: int
    broken: list[Broken]
    told: tuple[str, ...] = ()


class DrawnTrial:
    """A folder in which inputs are tried one after the other."""

    def __init__(self, folder: Path, guard: Guard | None = None) -> None:
        self.folder, self.guard = folder, guard
        folder.mkdir(parents=True, exist_ok=True)

    def tried(self, job: Job, *, read_back: bool = False) -> Tried:
        """Tries one input and leaves the folder empty. The folder must be where the process runs."""
        try:
            with one_process():
                write_files(job, self.folder)
                return self._tried(job, read_back=read_back)
        except TooSlow as slow:
            return Tried("broken", 0, [Broken("slow", f"{slow}: {_where(slow)}")])
        except MemoryError as error:
            return Tried("broken", 0, [Broken("large", f"no memory: {_where(error)}")])
        except Exception as error:
            return Tried(
                "broken", 0, [Broken("crash", f"{type(error).__name__}: {error}"[:300] + f" at {_where(error)}")]
            )
        finally:
            for entry in os.scandir(self.folder):
                shutil.rmtree(entry.path) if entry.is_dir() else os.unlink(entry.path)

    def _tried(self, job: Job, *, read_back: bool) -> Tried:
        checked = self._ran(["check", *job.files])
        if checked.status != 0:
            wrong = [] if checked.status == 1 else [Broken("check", f"status {checked.status}: {checked.told[:200]}")]
            return Tried("refused", 0, wrong, tuple(_messages(checked.told)))
        broken: list[Broken] = []
        told: list[str] = []
        pages = 0
        for command in job.commands:
            with caught_pages() as catch:
                ran = self._ran([*command, *_out(command)])
            if ran.status != 0:
                messages = list(_messages(ran.told))
                told += messages
                broken += [
                    Broken("refused", f"{command[0]}: {each}"[:300]) for each in messages if not FULL.search(each)
                ]
                if not messages and command[0] == "choose" and ran.status == 1:
                    told.append("choose: nothing suits")  # which it says on a terminal alone
                elif not messages or ran.status != 1:
                    broken.append(Broken("refused", f"{' '.join(command)}: status {ran.status}: {ran.told[:200]}"))
            broken += look_at(catch, job)
            pages += sum(map(len, catch.documents))
            if read_back and ran.status == 0:
                broken += self._read_back(command, catch, job)
            shutil.rmtree(OUT, ignore_errors=True)
        return Tried("told" if told else "printed", pages, broken, tuple(told))

    def _read_back(self, command: Command, catch: Catch, job: Job) -> Iterator[Broken]:
        from tests.fuzz.drawn.read_back import file_faults

        documents = {path: catch.documents[document_number(path)] for path in sorted(Path(OUT).rglob("*.pdf"))}
        shutil.rmtree(OUT)
        ran = self._ran([*command, *_out(command)])
        if ran.status:
            yield Broken("read back", f"printed on marks alone: {ran.told[:200]}")
            return
        for path, pages in documents.items():
            yield from file_faults(path, pages, job, self._ran)

    def _ran(self, command: Command) -> Ran:
        if self.guard is None:
            return called(command)
        self.guard.largest_mb = 0.0
        with self.guard.watching(OUT, "back", seconds=LEAST_SECONDS + SECONDS_A_PAGE * MOST_PAGES):
            ran = called(command)
        if self.guard.breaches:
            breaches, self.guard.breaches = self.guard.breaches, []
            raise RuntimeError(f"breach: {'; '.join(breaches[:3])}")
        if self.guard.largest_mb > MOST_MB:
            raise MemoryError(f"{self.guard.largest_mb:.0f} MB")
        return ran


def write_files(job: Job, folder: Path) -> None:
    """The files of an input in a folder."""
    for name, data in job.files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)


def look_at(catch: Catch, job: Job) -> Iterator[Broken]:
    """What is wrong with all that one command composed."""
    cards = {
        id(side.page) for cut in catch.cuts for side in (cut.composed, cut.composed.back) if side and not cut.in_cell
    }
    printed = {id(page) for pages in catch.documents for page in pages}
    for cut in catch.cuts:
        if job.kind == "class" or id(cut.composed.page) in printed:
            yield from card_faults(cut, _tree(job, cut))
    smallest = min((cut.layout.type_sizes.smallest for cut in catch.cuts if cut.in_cell), default=9.0)
    for page in (page for pages in catch.documents for page in pages):
        if id(page) not in cards:
            yield from page_faults(page, smallest, of_cards=_is_of_cards(page, job))


def _is_of_cards(page: Page, job: Job) -> bool:
    """Whether a page is two handouts side by side."""
    return job.kind == "class" and page.width_mm > page.height_mm


def _tree(job: Job, cut: Cut) -> dict[str, Any] | None:
    """A pattern's file as plain texts, to count by."""
    name = cut.plan.pattern.places.file
    data = job.files.get(name)
    if data is None:
        return None
    tree: dict[str, Any] = yaml.load(data, Loader=getattr(yaml, "CBaseLoader", yaml.BaseLoader))
    return tree


def _out(command: Command) -> Command:
    return ["--out", f"{OUT}/binder.pdf" if command[0] == "binder" else OUT]


def called(command: Command) -> Ran:
    """One command in this process."""
    streams = [io.TextIOWrapper(io.BytesIO(), "utf-8", write_through=True, newline="\n") for _ in range(2)]
    kept = sys.stdout, sys.stderr
    sys.stdout, sys.stderr = streams
    try:
        status = command_line.run_command_line(command)
    except SystemExit as end:
        status = int(end.code or 0)
    finally:
        sys.stdout, sys.stderr = kept
    return Ran(status, streams[1].buffer.getvalue().decode())


def _messages(told: str) -> Iterator[str]:
    return (line for line in told.splitlines() if line.strip())


def _where(error: BaseException) -> str:
    """The innermost line of ours that was being run."""
    ours = [frame for frame in traceback.extract_tb(error.__traceback__) if "/cardmaker/" in frame.filename]
    last = ours[-1] if ours else None
    return f"{last.filename.rpartition('/cardmaker/')[2]}:{last.lineno} {last.name}" if last else ""


def letters_of(page: Page) -> Counter[str]:
    """The letters that a page sets."""
    return Counter("".join("".join(words.text.split()) for words in all_words(page.marks)))
