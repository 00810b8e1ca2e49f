"""What the manual shows, read out of it and run; ``python -m tests.helpers.readme`` writes output and pictures anew.

Its pages promise that every command in them works as shown. The blocks of ``console`` of a page are one session in one
empty folder, from its top to its end; a line of ``…`` stands for lines of output that were left out, and ``…/`` for the
folder in which the program's own files lie.
"""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final, NamedTuple

from PIL import Image
from pypdfium2 import PdfDocument

from tests.helpers.places import ROOT, shipped_alone

README: Final = ROOT / "README.md"
PAGES: Final = (README, ROOT / "patterns" / "README.md", ROOT / "layouts" / "README.md")
PICTURES: Final = ROOT / ".pictures"
PICTURE_COLOURS: Final = 128  # more only makes the file larger


class Shot(NamedTuple):
    """One picture of the README: a page of a file that a command makes in an empty folder.

    The page is the first of those that a bookmark of this name leads to, or else the first of all.
    """

    command: str
    file: str
    width: int  # in pixels
    bookmark: str = ""


ALL_PATTERNS: Final = (shipped_alone() / "patterns").as_posix()
_BINDER: Final = f"cardmaker binder {ALL_PATTERNS} --by use --title 'The Ropeloft Book' --quiet"
_CLASS: Final = "cardmaker class a-yard-by-supper"
SHOTS: Final = {
    "card": Shot("cardmaker card three-paths", "out/three-paths-record.pdf", 980),
    "bench": Shot("cardmaker card three-paths --layout bench", "out/three-paths-bench.pdf", 680),
    "handout": Shot("cardmaker card two-rails --layout handout", "out/two-rails-handout.pdf", 500),
    "field": Shot("cardmaker card two-rails --layout field", "out/two-rails-field.pdf", 420),
    "field-folded": Shot("cardmaker card three-paths --layout field-folded", "out/three-paths-field-folded.pdf", 760),
    "six-numbers": Shot("cardmaker card three-paths --layout six-numbers", "out/three-paths-six-numbers.pdf", 340),
    "binder-contents": Shot(_BINDER, "out/binder.pdf", 560, "Contents"),
    "binder-faces": Shot(_BINDER, "out/binder.pdf", 560, "All tapes at a glance"),
    "class-teacher": Shot(_CLASS, "out/a-yard-by-supper-teacher.pdf", 620),
    "class-tags": Shot(_CLASS, "out/a-yard-by-supper-tags.pdf", 520),
}

ADDED: Final = "yaml added"
CONSOLE: Final = "console"
LEFT_OUT: Final = "…"
_BLOCK: Final = re.compile(r"^```(?P<kind>[^\n]*)\n(?P<body>.*?)^```$", re.MULTILINE | re.DOTALL)


@dataclass(frozen=True, slots=True)
class Block:
    """A fenced block of a page: what stands after the opening fence, its text, and where the text lies in the file."""

    kind: str
    text: str
    start: int
    stop: int


@dataclass(frozen=True, slots=True)
class Command:
    """One command of a session and what its page says that it prints."""

    line: str
    shown: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Done:
    """What a command really printed, both streams together, and its exit status."""

    printed: tuple[str, ...]
    status: int


def blocks(page: str, kind: str = "") -> list[Block]:
    """All fenced blocks, or those of one kind, in order."""
    found = (Block(each["kind"], each["body"], *each.span("body")) for each in _BLOCK.finditer(page))
    return [block for block in found if not kind or block.kind == kind]


def commands(block: Block) -> list[Command]:
    """The commands of a block of ``console``: each begins with ``$``, its output follows."""
    found: list[Command] = []
    for part in re.split(r"^\$ ", block.text, flags=re.MULTILINE)[1:]:
        line, *shown = part.rstrip("\n").split("\n")
        found.append(Command(line, tuple(shown)))
    return found


def typed(shown: Sequence[str]) -> str:
    """What is typed in a run that is shown: the lines that begin with ``>``."""
    return "".join(f"{line[1:].strip()}\n" for line in shown if line.startswith(">"))


def ran(command: str, folder: Path, typed: str = "") -> Done:
    """Runs a ``cardmaker`` command of the manual in ``folder``; ``typed`` is what it is answered."""
    program, *arguments = shlex.split(command)
    if program != "cardmaker":
        raise ValueError(f"'{command}' is no command of ours")
    done = subprocess.run(
        [sys.executable, "-m", "cardmaker", *arguments],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1", "COLUMNS": "80"},
        input=typed,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        timeout=60,
        check=False,
    )
    said = done.stdout.rstrip("\n").replace("\\", "/").replace(f"{ROOT.as_posix()}/", f"{LEFT_OUT}/")
    return Done(tuple(said.split("\n")) if said else (), done.returncode)


def shows(shown: Sequence[str], printed: Sequence[str]) -> bool:
    """Whether the lines shown are those printed, save for what one line of ``…`` leaves out."""
    if LEFT_OUT not in shown:
        return tuple(shown) == tuple(printed)
    before, after = _around(shown)
    whole = len(printed) > len(before) + len(after)
    return whole and tuple(printed) == (*before, *printed[len(before) : len(printed) - len(after)], *after)


def _around(shown: Sequence[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    at = list(shown).index(LEFT_OUT)
    return tuple(shown[:at]), tuple(shown[at + 1 :])


def session(page: str, folder: Path) -> Iterator[tuple[Command, Done]]:
    """Runs every command of a page in order. Files that it shows are written where it says that they lie.

    A block of ``yaml added`` is added to the file that is there.
    """
    for block in blocks(page):
        if block.kind == CONSOLE:
            for command in commands(block):
                yield command, ran(command.line, folder, typed(command.shown))
        elif name := file_named(block):
            target = folder / name
            target.parent.mkdir(parents=True, exist_ok=True)
            with target.open("a" if block.kind == ADDED else "w", encoding="utf-8") as file:
                file.write(block.text)


def file_named(block: Block) -> str:
    """The path in a YAML block's first line, ``# patterns/harbour-rails.yaml``, or nothing."""
    found = re.match(r"# (\S+\.yaml)\n", block.text)
    return found[1] if found and block.kind.startswith("yaml") else ""


def pictures(shots: Iterable[Shot]) -> Iterator[bytes]:
    """The picture of each, as PNG. A command that several share is run once."""
    with TemporaryDirectory() as folder:
        made: dict[str, Path] = {}
        for shot in shots:
            if shot.command not in made:
                made[shot.command] = Path(folder, str(len(made)))
                made[shot.command].mkdir()
                if (done := ran(shot.command, made[shot.command])).status:
                    raise RuntimeError("\n".join(done.printed))
            yield _png(_page(made[shot.command] / shot.file, shot))


def _page(file: Path, shot: Shot) -> Image.Image:
    with PdfDocument(file) as document:
        marks = {mark.get_title(): mark.get_dest().get_index() for mark in reversed(list(document.get_toc()))}
        page = document[marks[shot.bookmark] if shot.bookmark else 0]
        drawn: Image.Image = page.render(scale=2 * shot.width / page.get_width()).to_pil().convert("RGB")
    return drawn.resize((shot.width, round(drawn.height * shot.width / drawn.width)), Image.Resampling.LANCZOS)


def _png(page: Image.Image) -> bytes:
    png = BytesIO()
    page.quantize(PICTURE_COLOURS, Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE).save(png, "PNG", optimize=True)
    return png.getvalue()


def with_output(page: str, printed: Sequence[Sequence[str]]) -> str:
    """The page with what each of its commands printed, in order; what ``…`` leaves out stays left out."""
    left = list(printed)
    for block in reversed(blocks(page, CONSOLE)):
        said = [f"$ {command.line}\n{_as_shown(command, left.pop())}" for command in reversed(commands(block))]
        page = page[: block.start] + "".join(reversed(said)) + page[block.stop :]
    return page


def _as_shown(command: Command, printed: Sequence[str]) -> str:
    lines = printed
    if LEFT_OUT in command.shown:
        before, after = _around(command.shown)
        lines = (*printed[: len(before)], LEFT_OUT, *printed[len(printed) - len(after) :])
    return "".join(f"{line}\n" for line in lines)


def main() -> None:
    """Writes the pictures and the output on every page anew."""
    PICTURES.mkdir(exist_ok=True)
    for name, png in zip(SHOTS, pictures(SHOTS.values()), strict=True):
        (PICTURES / f"{name}.png").write_bytes(png)
    for page in PAGES:
        _write_output(page)


def _write_output(page: Path) -> None:
    text = page.read_text("utf-8")
    with TemporaryDirectory() as folder:
        printed = [done.printed for _, done in session(text, Path(folder))]
    if any(line.startswith("Traceback ") for lines in printed for line in lines):
        raise SystemExit(f"A command breaks; {page.relative_to(ROOT).as_posix()} stays as it was.")
    page.write_text(with_output(text, printed), encoding="utf-8")


if __name__ == "__main__":
    main()
