"""A campaign: parts of a thousand inputs, each in a process of its own, some at a time; then the sum of it all."""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final

from tests.fuzz.guard import MOST_MB, MOST_SECONDS
from tests.helpers.places import ROOT

PART: Final = 2000
COVERED_EVERY: Final = 10  # parts: tracing branches more than doubles the time
COVERED: Final = ("cardmaker.reading", "cardmaker.reckoning")
MOST_DEATHS: Final = 5  # of one part: then it is not the input's fault
KEPT: Final = ".coverage.fuzz"
PATIENCE: Final = 1800  # seconds for one part, by the clock on the wall
GOOD: Final = ("fine", "told")


def campaign(inputs: int, seed: int, jobs: int, first: int = 0, coverage: bool = True) -> dict[str, Any]:
    """Tries so many inputs and gives the sum; with ``coverage``, the branches of reading and reckoning as well."""
    with TemporaryDirectory(prefix="fuzz-", dir=_quick_folder()) as place:
        folder, total = Path(place), _nothing()
        spans = [(start, min(start + PART, first + inputs)) for start in range(first, first + inputs, PART)]
        with ThreadPoolExecutor(jobs) as crew:
            for results in crew.map(lambda span: list(_part(seed, span[0], span[1], folder, coverage)), spans):
                for result in results:
                    _add(total, result)
                    for each in result["failed"]:
                        print(f"{each['verdict']}: input {each['number']}, {each['what'][:300]}", file=sys.stderr)
                _told_so_far(total)
        total["coverage"] = _covered(folder) if coverage else {}
        return total


def _quick_folder() -> str | None:
    """A folder in memory where there is one: half of the time goes into making and taking away files."""
    return "/dev/shm" if os.access("/dev/shm", os.W_OK) else None


def _part(seed: int, start: int, stop: int, folder: Path, coverage: bool) -> Iterator[dict[str, Any]]:
    """One part; when its process dies, that is one crash, and another process goes on behind it."""
    deaths = 0
    while start < stop and deaths < MOST_DEATHS:
        own = folder / f"{start}"
        own.mkdir()
        traced = coverage and start // PART % COVERED_EVERY == 0
        command = [sys.executable, *(_coverage(folder) if traced else ["-m"]), "tests.fuzz.part"]
        died = ""
        try:
            done = subprocess.run(
                [*command, str(seed), str(start), str(stop), str(own)], cwd=ROOT, timeout=PATIENCE, check=False,
                stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, env={**os.environ, "PYTHONHASHSEED": "0"},
            )  # fmt: skip
            if done.returncode:
                died = f"status {done.returncode}: {done.stderr.decode(errors='replace')[-1500:]}"
        except subprocess.TimeoutExpired:
            died = "no answer"
        if not died:
            yield json.loads((own / "part.json").read_text("utf-8"))
            return
        deaths += 1
        number = int((own / "now").read_text("ascii") or start) if (own / "now").exists() else start
        lost = {
            "number": number,
            "verdict": "died",
            "what": died,
            "where": "",
            "kind": "?",
            "level": "?",
            "commands": 0,
        }
        yield {"counts": {"? ? died": 1}, "failed": [lost], "commands": 0, "slowest": (0, -1), "largest_mb": 0}
        start = number + 1


def _coverage(folder: Path) -> list[str]:
    return [
        "-m", "coverage", "run", "--branch", "--parallel-mode", f"--data-file={folder}/.coverage",
        f"--source={','.join(COVERED)}", "-m",
    ]  # fmt: skip


def _covered(folder: Path) -> dict[str, Any]:
    """How many branches were taken; the data itself is kept in ``.coverage.fuzz``, so that the tests' can be added."""
    data, report = folder / ".coverage", folder / "coverage.json"
    for words in (["combine", str(folder)], ["json", "-o", str(report)]):
        command = [sys.executable, "-m", "coverage", words[0], f"--data-file={data}", *words[1:]]
        subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    shutil.copyfile(data, ROOT / KEPT)
    files = json.loads(report.read_text("utf-8"))["files"]
    found = {}
    for name in COVERED:
        sums = [each["summary"] for path, each in files.items() if path.startswith(name.replace(".", "/"))]
        found[name] = (sum(each["covered_branches"] for each in sums), sum(each["num_branches"] for each in sums))
    return found


def _nothing() -> dict[str, Any]:
    return {
        "counts": Counter(),
        "failed": [],
        "commands": 0,
        "slowest": (0.0, -1),
        "largest_mb": 0.0,
        "began": time.time(),
    }


def _add(total: dict[str, Any], part: dict[str, Any]) -> None:
    total["counts"].update(part["counts"])
    total["failed"] += part["failed"]
    total["commands"] += part["commands"]
    total["slowest"] = max(total["slowest"], tuple(part["slowest"]))
    total["largest_mb"] = max(total["largest_mb"], part["largest_mb"])


def _told_so_far(total: dict[str, Any]) -> None:
    done, bad = sum(total["counts"].values()), len(total["failed"])
    line = f"{done:,} inputs, {bad} failed, {(time.time() - total['began']) / 60:.1f} min"
    print(line, end="\r" if sys.stderr.isatty() else "\n", file=sys.stderr, flush=True)


def report(total: dict[str, Any]) -> Iterator[str]:
    """What a campaign came to, a line each."""
    counts: Counter[str] = total["counts"]
    yield f"inputs     {sum(counts.values()):,}, {total['commands']:,} commands"
    for what, place in (("kinds", 0), ("levels", 1), ("ended", 2)):
        sums: Counter[str] = Counter()
        for key, number in counts.items():
            sums[key.split(" ", 2)[place]] += number
        yield f"{what:<10} " + ", ".join(f"{name} {number:,}" for name, number in sorted(sums.items()))
    seconds, number = total["slowest"]
    yield f"slowest    {seconds:.2f} s of the processor (input {number}); allowed are {MOST_SECONDS} s"
    yield f"memory     {total['largest_mb']:.0f} MB more at most; allowed are {MOST_MB} MB"
    for name, (taken, all_of_them) in total["coverage"].items():
        yield f"branches   {name}: {taken} of {all_of_them}, {100 * taken / max(1, all_of_them):.1f} %"
    alike: dict[tuple[str, str], list[dict[str, Any]]] = {}
    for each in total["failed"]:
        alike.setdefault((each["verdict"], each["where"] or each["what"][:60]), []).append(each)
    yield f"failures   {len(total['failed'])}, of {len(alike)} sorts"
    for (verdict, where), ones in sorted(alike.items(), key=lambda item: -len(item[1])):
        numbers = ", ".join(str(each["number"]) for each in ones[:5])
        yield f"  {len(ones)} x {verdict} at {where}: {ones[0]['what']} (inputs {numbers})"


def main() -> int:
    """Runs a campaign; the exit status says whether anything failed."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parser.add_argument("--inputs", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=7)
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--first", type=int, default=0, help="the number of the first input")
    parser.add_argument("--no-coverage", action="store_true")
    parser.add_argument("--show", type=int, metavar="NUMBER", help="write the bytes of one input, and run nothing")
    options = parser.parse_args()
    if options.show is not None:
        from tests.fuzz.inputs import make_input

        given = make_input(options.seed, options.show)
        print(given.kind.name, given.level, given.path, *map(repr, given.commands), sep="\n", file=sys.stderr)
        sys.stdout.buffer.write(given.data)
        return 0
    total = campaign(options.inputs, options.seed, options.jobs, options.first, not options.no_coverage)
    print()
    for line in report(total):
        print(line)
    return 1 if total["failed"] else 0


if __name__ == "__main__":
    sys.exit(main())
