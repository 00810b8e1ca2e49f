"""How time and memory of a binder grow with its cards: ``python -m tests.benchmarks.binder [CARDS…]``.

For each number of cards so many distinct pattern files are written and bound by the command, in a process of its own.
Told are the time, the time for each card over that of the smallest binder's (which must not grow), and the most memory
that the process and its helpers had in use at one time.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter, sleep
from typing import NamedTuple

from tests.benchmarks.cold import AS_INSTALLED
from tests.benchmarks.distinct import pattern_text
from tests.helpers.places import ROOT

PAGE_KB = os.sysconf("SC_PAGE_SIZE") / 1024


class Taken(NamedTuple):
    """What one binder took. ``main_mb`` and ``all_mb`` are peaks of the first process and of all together."""

    seconds: float
    main_mb: float
    all_mb: float
    pdf_mb: float


def resident_mb(pid: int) -> float:
    """Memory in use by one process, pages that it shares with its parent counted in proportion (smaps_rollup, Pss)."""
    try:
        told = Path(f"/proc/{pid}/smaps_rollup").read_text("ascii")
    except OSError:
        return 0.0
    return float(next(line.split()[1] for line in told.splitlines() if line.startswith("Pss:"))) / 1024


def children(pid: int) -> list[int]:
    found = []
    for task in Path(f"/proc/{pid}/task").glob("*/children"):
        found += [int(child) for child in task.read_text("ascii").split()]
    return found


def taken(folder: Path, target: Path) -> Taken:
    """One binder of all files in ``folder``."""
    command = [sys.executable, "-m", "cardmaker", "binder", str(folder), "--out", str(target), "--quiet"]
    start = perf_counter()
    run = subprocess.Popen(command, cwd=ROOT, env=AS_INSTALLED)
    main_mb = all_mb = 0.0
    while run.poll() is None:
        try:
            each = [resident_mb(pid) for pid in (run.pid, *children(run.pid))]
        except OSError:
            break
        main_mb, all_mb = max(main_mb, each[0]), max(all_mb, sum(each))
        sleep(0.05)
    if run.wait():
        raise SystemExit("the binder could not be made")
    return Taken(perf_counter() - start, main_mb, all_mb, target.stat().st_size / 2**20)


def main(sizes: list[int]) -> int:
    first = 0.0
    for size in sizes:
        with TemporaryDirectory() as folder:
            patterns = Path(folder, "patterns")
            patterns.mkdir()
            for number in range(size):
                (patterns / f"d{number}.yaml").write_text(pattern_text(number), "utf-8")
            took = taken(patterns, Path(folder, "binder.pdf"))
        each = took.seconds / size
        first = first or each
        print(
            f"{size:5} cards: {took.seconds:6.1f} s, a card {each / first:5.2f} times the first binder's; "
            f"{took.main_mb:4.0f} MB, with helpers {took.all_mb:4.0f} MB; {took.pdf_mb:5.1f} MB of PDF",
            flush=True,
        )
    return 0


if __name__ == "__main__":
    sys.exit(main([int(size) for size in sys.argv[1:]] or [10, 100, 1000]))
