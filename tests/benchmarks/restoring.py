"""What a large binder costs to take apart again: ``python -m tests.benchmarks.restoring [CARDS]``.

A binder of distinct patterns is made. Then, each in a process of its own, ``restore`` writes its files into an empty
folder, ``restore`` finds them there already, and ``card --supersedes`` asks it what has changed, for a pattern that is
found by its file's name and for one that is found by its title alone. Told are time and peak
of memory, beside those of a process that only starts (``--version``) and of a card alone.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter
from typing import NamedTuple

from tests.benchmarks.cold import AS_INSTALLED
from tests.benchmarks.distinct import pattern_text
from tests.helpers.places import ROOT

RUNS = 3


class Taken(NamedTuple):
    """Seconds by the clock and by the processor, and the most memory that one process had in use."""

    seconds: float
    processor: float
    peak_mb: float


def taken(arguments: list[str], folder: Path) -> Taken:
    """One command; it must succeed."""
    start = perf_counter()
    command = [sys.executable, "-m", "cardmaker", *arguments]
    run = subprocess.Popen(command, cwd=folder, env=AS_INSTALLED | {"PYTHONPATH": str(ROOT)}, stdout=subprocess.DEVNULL)
    _, status, used = os.wait4(run.pid, 0)
    run.returncode = os.waitstatus_to_exitcode(status)
    if run.returncode:
        raise SystemExit(f"{' '.join(arguments)} ended with {run.returncode}")
    return Taken(perf_counter() - start, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)  # Linux tells kibibytes


def _without_code(text: str) -> str:
    return "".join(line for line in text.splitlines(keepends=True) if not line.startswith("code:"))


def main(cards: int) -> int:
    with TemporaryDirectory() as scratch:
        folder = Path(scratch)
        patterns = folder / "patterns"
        patterns.mkdir()
        for number in range(cards):
            (patterns / f"d{number}.yaml").write_text(pattern_text(number), "utf-8")
        (folder / "renamed.yaml").write_text(_without_code(pattern_text(cards // 2)), "utf-8")
        made = taken(["binder", "patterns", "--out", "binder.pdf", "--quiet"], folder)
        size_mb = (folder / "binder.pdf").stat().st_size / 2**20
        print(f"{cards} cards, {size_mb:.1f} MB of PDF, bound in {made.seconds:.1f} s")
        alike = str(patterns / f"d{cards // 2}.yaml")
        for told, commands in {
            "only starting": [["--version"]] * RUNS,
            "restore": [["restore", "binder.pdf", "--out", f"back{run}"] for run in range(RUNS)],
            "restore, all there": [["restore", "binder.pdf", "--out", f"back{run}"] for run in range(RUNS)],
            "a card": [["card", alike]] * RUNS,
            "--supersedes by file": [["card", alike, "--supersedes", "binder.pdf"]] * RUNS,
            "--supersedes by title": [["card", "renamed.yaml", "--supersedes", "binder.pdf"]] * RUNS,
        }.items():
            each = [taken(command, folder) for command in commands]
            clock, processor = median(one.seconds for one in each), median(one.processor for one in each)
            peak = max(one.peak_mb for one in each)
            print(f"  {told:22} {clock:6.2f} s, of the processor {processor:6.2f} s; {peak:4.0f} MB", flush=True)
        same = all((folder / "back0" / path.name).read_bytes() == path.read_bytes() for path in patterns.iterdir())
        print(f"  every pattern came back byte for byte: {'yes' if same else 'NO'}")
    return 0 if same else 1


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000))
