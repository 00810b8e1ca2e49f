"""A part of a campaign in a process of its own: fresh memory, its own limits, and nobody else hurt when it dies."""

from __future__ import annotations

import gc
import json
import os
import sys
from collections import Counter
from pathlib import Path
from typing import Any

from tests.fuzz.guard import limit_memory
from tests.fuzz.inputs import make_input
from tests.fuzz.trial import TrialFolder

WARM: tuple[list[str], ...] = (
    ["check", "patterns"], ["plan", "two-rails", "--json"], ["list"], ["check", "wrong.yaml"],
    ["card", "three-paths", "--layout", "bench", "--out", "out"], ["card", "threes", "--out", "out"],
    ["resize", "two-rails", "--ends", "17"], ["class", "a-yard-by-supper", "--out", "out"],
)  # fmt: skip


def run_part(seed: int, start: int, stop: int, folder: Path) -> dict[str, Any]:
    """Tries the inputs from ``start`` to before ``stop`` in a folder of its own. ``now`` holds the number at hand."""
    work = folder / "work"
    work.mkdir(parents=True, exist_ok=True)
    bench = TrialFolder(work)
    _warm_up(bench)
    gc.freeze()
    limit_memory()
    counts: Counter[str] = Counter()
    failed: list[dict[str, Any]] = []
    commands, slowest = 0, (0.0, -1)
    with open(folder / "now", "w", encoding="ascii") as now:
        for number in range(start, stop):
            now.seek(0)
            now.write(f"{number:>12}")
            now.flush()
            given = make_input(seed, number)
            bench.guard.slowest = 0.0
            ended = bench.tried(given, seed)
            slowest = max(slowest, (bench.guard.slowest, number))
            commands += ended.commands
            counts[f"{given.kind.name} {given.level} {ended.verdict}"] += 1
            if ended.what:
                failed.append({"number": number, "kind": given.kind.name, "level": given.level, **ended._asdict()})
    return {
        "counts": counts, "failed": failed, "commands": commands, "slowest": slowest,
        "largest_mb": bench.guard.largest_mb,
    }  # fmt: skip


def _warm_up(bench: TrialFolder) -> None:
    """Loads what is loaded late, so that memory and time are those of the inputs."""
    Path("patterns/warm.yaml").write_text("title: Warm\n", "utf-8")
    Path("wrong.yaml").write_text("titel: Wrong\n", "utf-8")
    from tests.fuzz.trial import _called

    for command in WARM:
        _called(command, bench.guard, "out", "utf-8")
    bench.guard.breaches.clear()
    bench.guard.largest_mb = 0.0
    bench._clear()


def main() -> None:
    """``python -m tests.fuzz.part SEED START STOP FOLDER``: the result is ``part.json`` in the folder."""
    seed, start, stop = map(int, sys.argv[1:4])
    folder = Path(sys.argv[4]).resolve()
    result = run_part(seed, start, stop, folder)
    os.chdir(folder)
    (folder / "part.json").write_text(json.dumps(result), "utf-8")


if __name__ == "__main__":
    main()
