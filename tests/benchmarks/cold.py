"""How long one card takes from a cold start, against merely loading the libraries: ``python -m tests.benchmarks.cold``.

``python -m tests.benchmarks.cold [PATTERN] [RUNS]``. Every run is a new process, the commands take turns, and ratios
of medians are printed: to loading YAML, a schema checker and ReportLab, and to loading YAML and ReportLab alone.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter

from tests.helpers.places import ROOT

# An installed program has its byte code beside it; a setting that keeps Python from writing it would time compiling.
AS_INSTALLED = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
LOADING = {
    "import yaml, jsonschema, reportlab.pdfgen.canvas": "loading YAML, the schema checker and ReportLab",
    "import yaml, reportlab.pdfgen.canvas": "loading YAML and ReportLab",
    "pass": "starting Python",
}


def taken(command: list[str]) -> float:
    """Milliseconds for one run of ``command``; it must succeed."""
    start = perf_counter()
    subprocess.run(command, cwd=ROOT, env=AS_INSTALLED, check=True, capture_output=True)
    return 1000 * (perf_counter() - start)


def compare(card: list[str], runs: int) -> None:
    """Run everything in turn and print the ratios."""
    commands = {"the card": card} | {told: [sys.executable, "-c", code] for code, told in LOADING.items()}
    times: dict[str, list[float]] = {told: [] for told in commands}
    for _ in range(runs + 1):
        for told, command in commands.items():
            times[told].append(taken(command))
    medians = {told: median(values[1:]) for told, values in times.items()}  # the first run warms the disk's memory
    mine = medians.pop("the card")
    for told, other in medians.items():
        print(f"one card takes {mine / other:5.2f} times {told} ({mine:.0f} against {other:.0f} ms)")


def main(pattern: str, runs: int) -> int:
    with TemporaryDirectory() as folder:
        card = [sys.executable, "-m", "cardmaker", "card", pattern, "--out", str(Path(folder) / "card.pdf")]
        trial = subprocess.run(card, cwd=ROOT, env=AS_INSTALLED, capture_output=True, text=True, check=False)
        if trial.returncode:
            last = (trial.stderr.strip().splitlines() or ["it said nothing"])[-1]
            print(f"there is nothing to time: the card of {pattern} could not be made: {last}", file=sys.stderr)
            return 1
        compare(card, runs)
    return 0


if __name__ == "__main__":
    said = sys.argv[1:]
    sys.exit(main(said[0] if said else "three-paths", int(said[1]) if len(said) > 1 else 15))
