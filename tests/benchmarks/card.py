"""How long one warm card takes against the plain way: ``python -m tests.benchmarks.card [PATTERN] [RUNS]``.

The whole of a card after the first (read, reckon, compose, draft, paint) against drawing the same marks by plain canvas
calls, which is given them for nothing. Both in one run, in turn; ratios are printed, since absolute times say little
about another machine. Then where the time goes, and which imports a cold start pays for.
"""

from __future__ import annotations

import cProfile
import os
import pstats
import re
import subprocess
import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from statistics import median
from time import perf_counter

from cardmaker.card.composing import compose_card
from cardmaker.jobs import card_making, file_lookup, loading, plan_making
from cardmaker.model.carried_file import About
from cardmaker.model.marks import Group, Mark, Page, Stamp
from cardmaker.model.plan import Plan
from cardmaker.pdf.draft import draft_of
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.pdf.painter import paint_drafts
from tests.benchmarks import cold
from tests.benchmarks.bare import bare_reportlab
from tests.helpers.places import ROOT

FIRST = 12  # lines of each list


def whole_card(pattern: Path, bench: plan_making.PlanSetup, layout: str) -> bytes:
    """What one more card costs: everything but the looms, which are read once."""
    cut = loading.load_layout(file_lookup.find("layout", layout))
    return card_making.make_card(
        plan_making.plan_for(loading.load_pattern(pattern), bench), cut, cut.papers[0], None
    ).pdf


def page_of(plan: Plan, layout: str) -> Page:
    cut = loading.load_layout(file_lookup.find("layout", layout))
    return compose_card(plan, cut, cut.papers[0], TypeRuler()).page


def in_turn(tasks: dict[str, Callable[[], object]], runs: int) -> dict[str, float]:
    """The median milliseconds of each task, one after the other so that a busy moment meets all."""
    taken: dict[str, list[float]] = {told: [] for told in tasks}
    for _ in range(runs + 1):
        for told, task in tasks.items():
            start = perf_counter()
            task()
            taken[told].append(1000 * (perf_counter() - start))
    return {told: median(times[1:]) for told, times in taken.items()}  # the first is not warm


def warm(name: str, layout: str, runs: int) -> None:
    """Prints the ratio of a whole warm card to its bare drawing, and of each step."""
    path = file_lookup.find("pattern", name)
    cut = loading.load_layout(file_lookup.find("layout", layout))
    bench = plan_making.load_plan_setup(None, None, any_pegs=plan_making.shows_pegs(cut))
    plan = plan_making.plan_for(loading.load_pattern(path), bench)
    page = page_of(plan, layout)
    draft, about = draft_of(page), About(page.title, "", "", "")
    times = in_turn(
        {
            "bare": lambda: bare_reportlab([page], page.title),
            "the whole card": lambda: whole_card(path, bench, layout),
            "read": lambda: (loading.load_pattern(path), loading.load_layout(file_lookup.find("layout", layout))),
            "reckon": lambda: plan_making.plan_for(plan.pattern, bench),
            "compose": lambda: page_of(plan, layout),
            "draft": lambda: draft_of(page),
            "paint": lambda: paint_drafts([draft], about),
        },
        runs,
    )
    bare = times.pop("bare")
    print(f"{name}, {layout}: {bare:.1f} ms to draw its {marks_in(page)} marks the plain way")
    for told, time in times.items():
        print(f"  {told:16} {time / bare:5.2f} times that  ({time:5.1f} ms)")


def marks_in(page: Page) -> int:
    def inside(marks: Iterable[Mark]) -> int:
        return sum(1 + (inside(mark.marks) if isinstance(mark, Group | Stamp) else 0) for mark in marks)

    return inside(page.marks)


def where_it_goes(name: str, layout: str, cards: int) -> None:
    """Prints the functions that take the most time themselves, over some warm cards."""
    path, bench = file_lookup.find("pattern", name), plan_making.load_plan_setup(None, None)
    whole_card(path, bench, layout)
    profile = cProfile.Profile()
    profile.enable()
    for _ in range(cards):
        whole_card(path, bench, layout)
    profile.disable()
    times = sorted(pstats.Stats(profile).get_stats_profile().func_profiles.items(), key=lambda one: -one[1].tottime)
    total = sum(one.tottime for _, one in times)
    print(f"\nown time of one warm card, under the profiler ({1000 * total / cards:.1f} ms):")
    for told, one in times[:FIRST]:
        place = f"{Path(one.file_name).name}:{one.line_number}"
        print(f"  {100 * one.tottime / total:5.1f} %  {1000 * one.tottime / cards:6.2f} ms  {told} ({place})")


def what_is_imported(name: str) -> None:
    """Prints the imports that a cold card pays for, those below them included."""
    command = [sys.executable, "-X", "importtime", "-m", "cardmaker", "card", name, "--out", "/dev/null/none.pdf"]
    told = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False).stderr
    found = re.findall(r"^import time: +(\d+) \| +(\d+) \| ( *)(\S+)$", told, re.MULTILINE)
    print(
        f"\n{len(found)} modules of a cold card take {sum(int(own) for own, *_ in found) / 1000:.0f} ms; the dearest,"
    )
    print("  with those that they bring in:")
    for _, whole, _, module in sorted(found, key=lambda row: -int(row[1]))[: 2 * FIRST]:
        print(f"  {int(whole) / 1000:6.1f} ms  {module}")
    print("  by themselves:")
    for own, _, _, module in sorted(found, key=lambda row: -int(row[0]))[:FIRST]:
        print(f"  {int(own) / 1000:6.1f} ms  {module}")


def main(name: str, runs: int) -> int:
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # a card that is compiled anew each time is not what anybody meets
    for pattern, layout in dict.fromkeys([(name, "record"), ("long-sixty", "record"), (name, "bench")]):
        warm(pattern, layout, runs)
    where_it_goes(name, "record", runs)
    print()
    status = cold.main(name, runs)
    what_is_imported(name)
    return status


if __name__ == "__main__":
    said = sys.argv[1:]
    sys.exit(main(said[0] if said else "three-paths", int(said[1]) if len(said) > 1 else 15))
