"""A run: parts of some inputs, each in a process of its own, one after the other; then the sum of it all."""

from __future__ import annotations

import argparse
import json
import os
import re
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final

from tests.fuzz.drawn.drawn_trial import DrawnTrial, write_files
from tests.fuzz.drawn.jobs import KINDS, make_job
from tests.fuzz.guard import MOST_MB
from tests.helpers.places import ROOT

PART: Final = 200
PATIENCE: Final = 3600  # seconds for one part, by the clock on the wall
VARIED: Final = re.compile(r"'.*?'|[\d.]+|\{.*?\}")  # what differs between two faults of one sort
SHOWN: Final = 5  # numbers of a sort
TOLD_MOST: Final = 12


def run(
    seed: int, first: int, count: int, kinds: tuple[str, ...] = (), read_back: int = 0, part: int = PART
) -> dict[str, Any]:
    """Tries so many inputs and gives the sum; of about ``read_back`` of them the PDFs are read back."""
    total = _nothing()
    every = max(1, count // read_back) if read_back else 0
    with TemporaryDirectory(prefix="drawn-", dir="/dev/shm" if os.access("/dev/shm", os.W_OK) else None) as place:
        for start in range(first, first + count, part):
            stop = min(start + part, first + count)
            for result in _part(seed, start, stop, Path(place) / str(start), kinds, every):
                _add(total, result)
            _told_so_far(total, stop - first)
    return total


def _part(
    seed: int, start: int, stop: int, folder: Path, kinds: tuple[str, ...], every: int
) -> Iterator[dict[str, Any]]:
    """One part; when its process dies, that is one fault, and another process goes on behind it."""
    while start < stop:
        own = folder / str(start)
        own.mkdir(parents=True)
        command = [sys.executable, "-m", "tests.fuzz.drawn.drawn_part"]
        try:
            done = subprocess.run(
                [*command, str(seed), str(start), str(stop), str(own), str(every), *kinds], cwd=ROOT, check=False,
                timeout=PATIENCE, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
                env={**os.environ, "PYTHONHASHSEED": "0"},
            )  # fmt: skip
            died = (
                f"status {done.returncode}: {done.stderr.decode(errors='replace')[-1500:]}" if done.returncode else ""
            )
        except subprocess.TimeoutExpired:
            died = "no answer"
        if not died:
            yield json.loads((own / "part.json").read_text("utf-8"))
            return
        now = own / "now"
        number = int(now.read_text("ascii")) if now.exists() else start
        lost = {"number": number, "kind": "?", "law": "died", "what": died}
        yield {**_nothing(), "counts": {"? died": 1}, "failed": [lost], "slowest": (0.0, -1)}
        start = number + 1


def _nothing() -> dict[str, Any]:
    sums: dict[str, Any] = {name: Counter() for name in ("counts", "pages", "cpu", "told")}
    return sums | {"failed": [], "read": 0, "slowest": (0.0, -1), "largest_mb": 0.0, "began": time.time()}


def _add(total: dict[str, Any], part: dict[str, Any]) -> None:
    for name in ("counts", "pages", "cpu", "told"):
        total[name].update(part[name])
    total["failed"] += part["failed"]
    total["read"] += part["read"]
    total["slowest"] = max(total["slowest"], tuple(part["slowest"]))
    total["largest_mb"] = max(total["largest_mb"], part["largest_mb"])
    for each in part["failed"]:
        print(f"{each['law']}: input {each['number']} ({each['kind']}): {each['what'][:300]}", file=sys.stderr)


def _told_so_far(total: dict[str, Any], done: int) -> None:
    pages, bad = sum(total["pages"].values()), len({each["number"] for each in total["failed"]})
    minutes = (time.time() - total["began"]) / 60
    line = f"{done:,} inputs, {pages:,} pages, {total['read']:,} read back, {bad} with faults, {minutes:.1f} min"
    print(line, end="\r" if sys.stderr.isatty() else "\n", file=sys.stderr, flush=True)


def report(total: dict[str, Any]) -> Iterator[str]:
    """What a run came to, a line each."""
    pages, cpu = sum(total["pages"].values()), sum(total["cpu"].values())
    inputs = sum(total["counts"].values())
    yield f"inputs    {inputs:,}, {pages:,} pages on marks, {total['read']:,} inputs read back from their PDFs"
    minutes, each = (time.time() - total["began"]) / 60, 1000 * cpu / max(1, pages)
    yield f"time      {minutes:.1f} min; {cpu:.0f} s of the processor, {each:.0f} ms a page"
    for kind in [*KINDS, "?"]:
        ended = {
            key.split(" ", 1)[1]: many for key, many in sorted(total["counts"].items()) if key.split(" ", 1)[0] == kind
        }
        if ended:
            told = ", ".join(f"{name} {many:,}" for name, many in ended.items())
            yield f"{kind:<9} {sum(ended.values()):,} inputs: {told}; {total['pages'][kind]:,} pages"
    seconds, number = total["slowest"]
    yield f"slowest   {seconds:.1f} s of the processor (input {number})"
    yield f"memory    {total['largest_mb']:.0f} MB more at most; allowed are {MOST_MB} MB"
    yield "told      " + "; ".join(f"{many} x {what}" for what, many in total["told"].most_common(TOLD_MOST))
    alike: dict[tuple[str, str], list[dict[str, Any]]] = {}
    for each in total["failed"]:
        alike.setdefault((each["law"], VARIED.sub("_", each["what"])), []).append(each)
    yield f"faults    {len({each['number'] for each in total['failed']})} inputs, {len(alike)} sorts"
    for (law, _), ones in sorted(alike.items(), key=lambda item: -len(item[1])):
        numbers = ", ".join(str(number) for number in list(dict.fromkeys(each["number"] for each in ones))[:SHOWN])
        yield f"  {len(ones)} x {law}, {ones[0]['kind']}: {ones[0]['what'][:200]} (inputs {numbers})"


def show(seed: int, number: int, kinds: tuple[str, ...], folder: Path) -> int:
    """Writes the files of one input into a folder, tells its commands, and what is wrong with what they print."""
    folder = folder.resolve()
    job = make_job(seed, number, kinds)
    with TemporaryDirectory(prefix="drawn-") as place:
        os.chdir(place)
        tried = DrawnTrial(Path(place)).tried(job, read_back=True)
        os.chdir(ROOT)
    write_files(job, folder)
    print(f"{job.kind}, in {folder}:")
    for command in job.commands:
        print("cardmaker", *(f"'{word}'" if " " in word else word for word in command))
    print(tried.ended, *tried.told, sep="\n  ")
    for law, what in tried.broken:
        print(f"{law}: {what}")
    return 1 if tried.broken else 0


def main() -> int:
    """Runs the inputs; the exit status says whether any law was broken."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz.drawn", description=__doc__)
    parser.add_argument("--seed", type=int, default=7)
    parser.add_argument("--count", type=int, default=1000)
    parser.add_argument("--first", type=int, default=0, help="the number of the first input, to go on behind a run")
    parser.add_argument("--read-back", type=int, default=0, metavar="N", help="of so many the PDFs are read back")
    parser.add_argument("--kinds", default="", help=f"only some, between commas: {', '.join(KINDS)}")
    parser.add_argument("--part", type=int, default=PART, help="inputs for one process")
    parser.add_argument("--save", type=Path, metavar="FOLDER", help="write the files of every failing input into it")
    parser.add_argument("--show", type=int, metavar="NUMBER", help="one input: its files into --save, and its faults")
    options = parser.parse_args()
    kinds = tuple(each for each in options.kinds.split(",") if each)
    if wrong := set(kinds) - set(KINDS):
        parser.error(f"no such kind: {', '.join(sorted(wrong))}")
    if options.show is not None:
        return show(options.seed, options.show, kinds, options.save or Path(f"input-{options.show}"))
    total = run(options.seed, options.first, options.count, kinds, options.read_back, options.part)
    for line in report(total):
        print(line)
    for number in sorted({each["number"] for each in total["failed"]}) if options.save else ():
        write_files(make_job(options.seed, number, kinds), options.save / f"input-{number}")
    return 1 if total["failed"] else 0


if __name__ == "__main__":
    sys.exit(main())
