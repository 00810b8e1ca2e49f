"""What choosing among many patterns costs beside planning them: ``python -m tests.benchmarks.choosing [PATTERNS]``.

Both take turns in one run, each with its files read and its looms loaded; the ratio is what to compare. Choosing plans
every pattern once, with all that ``plan`` tells, so about 1 is what it may cost; with yarn at hand some warps are tried
besides, without the bench.
"""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter

from cardmaker.jobs import loading, plan_making
from cardmaker.jobs.choosing import ChooseRequest, choose
from tests.benchmarks.distinct import pattern_text

ROUNDS = 5
YARNS = ["40 g red linen 20/2", "100 g white linen 20/2", "60 g blue linen 20/2"]


def plan_all(names: list[str], *, on_pegs: bool) -> None:
    """As ``cardmaker plan`` would, one after the other, but for the looms and places, which are read once."""
    setup = plan_making.load_plan_setup(None, None, any_pegs=on_pegs)
    for name in names:
        plan_making.plan_for(loading.load_pattern(Path(name)), setup)


def seconds(act: Callable[[], object]) -> float:
    start = perf_counter()
    act()
    return perf_counter() - start


def main(count: int) -> None:
    with TemporaryDirectory() as folder, contextlib.chdir(folder):
        Path("patterns").mkdir()
        names = [f"patterns/p{number}.yaml" for number in range(count)]
        for number, name in enumerate(names):
            Path(name).write_text(pattern_text(number), encoding="utf-8")
        ways: dict[str, Callable[[], object]] = {
            "planned": lambda: plan_all(names, on_pegs=True),
            "planned without pegs": lambda: plan_all(names, on_pegs=False),
            "chosen": lambda: choose(ChooseRequest(names, time=Fraction(9999))),
            "chosen by yarn": lambda: choose(ChooseRequest(names, yarn=YARNS)),
            "chosen, nothing fits": lambda: choose(ChooseRequest(names, time=Fraction(1))),
        }
        taken: dict[str, list[float]] = {way: [] for way in ways}
        for _ in range(ROUNDS):
            for way, act in ways.items():
                taken[way].append(seconds(act))
        for way, times in taken.items():
            print(f"{way:22} {median(times) * 1000:8.0f} ms  {median(times) / median(taken['planned']):5.2f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 300)
