"""A part of a run in a process of its own: fresh memory, its own limits, and nobody else hurt when it dies."""

from __future__ import annotations

import gc
import json
import os
import sys
import time
from collections import Counter
from pathlib import Path
from typing import Any, Final

from tests.fuzz.drawn.drawn_trial import DrawnTrial
from tests.fuzz.drawn.jobs import KINDS, make_job
from tests.fuzz.guard import Guard, limit_memory
from tests.helpers.places import ROOT

MOST_TOLD: Final = 400  # letters of a fault
MOST_OF_ONE: Final = 3  # faults of one law that are told of one input


def run_part(
    seed: int, start: int, stop: int, folder: Path, kinds: tuple[str, ...] = (), read_every: int = 0
) -> dict[str, Any]:
    """Tries the inputs from ``start`` to before ``stop``; ``now`` holds the number at hand. Of every ``read_every``th
    the PDFs are read back."""
    work = folder / "work"
    guard = Guard(ROOT)
    trial = DrawnTrial(work, guard)
    os.chdir(work)
    trial.guard = None
    for kind in kinds or KINDS:  # loads what is loaded late, so that memory and time are those of the inputs
        trial.tried(make_job(0, 1, (kind,)), read_back=bool(read_every))
    trial.guard = guard
    gc.freeze()
    limit_memory()
    found: dict[str, Any] = {"counts": Counter(), "pages": Counter(), "cpu": Counter(), "told": Counter(), "failed": []}
    found |= {"read": 0, "slowest": (0.0, -1), "largest_mb": 0.0}
    with open(folder / "now", "w", encoding="ascii") as now:
        for number in range(start, stop):
            now.seek(0)
            now.write(f"{number:>12}")
            now.flush()
            _try(trial, guard, found, seed, number, kinds, read_back=bool(read_every) and number % read_every == 0)
    return found


def _try(
    trial: DrawnTrial, guard: Guard, found: dict[str, Any], seed: int, number: int, kinds: tuple[str, ...], *,
    read_back: bool,
) -> None:  # fmt: skip
    job = make_job(seed, number, kinds)
    began = time.process_time()
    tried = trial.tried(job, read_back=read_back)
    took = time.process_time() - began
    found["counts"][f"{job.kind} {tried.ended}"] += 1
    found["pages"][job.kind] += tried.pages
    found["cpu"][job.kind] += took
    found["read"] += read_back and tried.ended != "refused"
    found["slowest"] = max(found["slowest"], (took, number))
    found["largest_mb"] = max(found["largest_mb"], guard.largest_mb)
    for each in tried.told:
        found["told"][" ".join(each.split(": ")[1:2])[:40]] += 1
    of_law: Counter[str] = Counter()
    for law, what in tried.broken:
        of_law[law] += 1
        if of_law[law] <= MOST_OF_ONE:
            found["failed"].append({"number": number, "kind": job.kind, "law": law, "what": what[:MOST_TOLD]})


def main() -> None:
    """``python -m tests.fuzz.drawn.drawn_part SEED START STOP FOLDER READ_EVERY [KIND …]``: the result is
    ``part.json`` in the folder."""
    seed, start, stop = map(int, sys.argv[1:4])
    folder = Path(sys.argv[4]).resolve()
    result = run_part(seed, start, stop, folder, tuple(sys.argv[6:]), int(sys.argv[5]))
    os.chdir(folder)
    (folder / "part.json").write_text(json.dumps(result), "utf-8")


if __name__ == "__main__":
    main()
