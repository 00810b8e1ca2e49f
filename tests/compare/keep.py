"""Keeps all that a checkout makes: every card, two binders, a class, and what is told in the terminal."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from itertools import product
from pathlib import Path
from typing import NamedTuple

import yaml

HANDS = ("right", "left")
SIDES = ("front", "behind")
UNITS = ("us", "metric")
SAMPLE = ("three-paths", "five-posts", "treadle-ladder", "off-side", "long-sixty")  # for a quick look between steps


class Command(NamedTuple):
    """A command line, what its results are kept under, and whether they are files or what it prints."""

    name: str
    arguments: tuple[str, ...]


def commands(checkout: Path, *, sample: bool) -> Iterator[Command]:
    """Every pattern × card layout × paper × hand × side × units on its default loom, and all else."""
    patterns = tuple(sorted(path.stem for path in (checkout / "patterns").glob("*.yaml")))
    patterns = tuple(name for name in patterns if name in SAMPLE) if sample else patterns
    for layout in sorted((checkout / "layouts" / "cards").glob("*.yaml")):
        for paper, hand, side, units in product(_papers(layout, sample=sample), HANDS, SIDES, UNITS):
            name = f"cards/{layout.stem}-{paper}-{hand}-{side}-{units}"
            options = ("--layout", layout.stem, "--paper", paper, "--hand", hand, "--from", side, "--units", units)
            yield Command(name, ("card", *patterns, *options, "--out", name))
    yield Command("binders/all", ("binder", str(checkout / "patterns"), "--duplex", "--out", "binders/all.pdf"))
    yield Command("binders/book", ("binder", "the-ropeloft-book", "--out", "binders/book.pdf"))
    for units in UNITS:
        yield Command(f"class/{units}", ("class", "a-yard-by-supper", "--units", units, "--out", f"class/{units}"))
    for pattern, units in product(patterns, UNITS):
        yield Command(f"terminal/{pattern}-{units}", ("plan", pattern, "--units", units))
    for pattern in patterns:
        yield Command(f"terminal/{pattern}-json", ("plan", pattern, "--json"))
        yield Command(f"terminal/{pattern}-left-behind", ("plan", pattern, "--hand", "left", "--from", "behind"))
        yield Command(f"terminal/{pattern}-resized", ("resize", pattern, "--width", "12 mm"))
    yield Command("terminal/list", ("list",))
    yield Command("terminal/check", ("check", str(checkout / "patterns"), str(checkout / "layouts")))
    bad = sorted((checkout / "tests" / "cases" / "bad").glob("*.yaml"))
    yield Command("terminal/bad", ("check", *map(str, bad)))


def _papers(layout: Path, *, sample: bool) -> list[str]:
    papers = yaml.safe_load(layout.read_text(encoding="utf-8"))["papers"]
    names = [paper if isinstance(paper, str) else paper["name"] for paper in papers]
    return names[:1] if sample else names


def keep(checkout: Path, folder: Path, *, sample: bool) -> int:
    """Runs every command of a checkout; its files, and what it prints, lie in ``folder``. Returns how many it ran."""
    for part in ("cards", "binders", "class", "terminal"):
        (folder / part).mkdir(parents=True, exist_ok=True)
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        return sum(pool.map(lambda command: _run(command, checkout, folder), commands(checkout, sample=sample)))


def _run(command: Command, checkout: Path, folder: Path) -> int:
    environment = os.environ | {"PYTHONPATH": str(checkout), "PYTHONHASHSEED": "0"}
    run = subprocess.run(
        [sys.executable, "-m", "cardmaker", *command.arguments],
        cwd=folder,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    output = f"{run.stdout}\n-- errors\n{run.stderr}\n-- status {run.returncode}\n".replace(str(checkout), "CHECKOUT")
    (folder / f"{command.name}.txt").write_text(output, encoding="utf-8")
    return 1
