"""One warm card made by us and drawn by others: ``python -m tests.benchmarks.peers [PATTERN] [RUNS]``.

Needs the ``peers`` extra. Ours is the whole card: read, checked, reckoned, composed and painted. The others get every
mark of the composed page, in their own language, for nothing, and need neither tag nor carry files as ours does. That
each draws the card is seen by comparing pictures.

Every run makes another card, so that nobody hands over a document that is made already: first one pattern with a new
title each time, then patterns that share no words. All in turn in one process; ratios of medians. *Processor* counts
all threads, for some use more than one.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter, process_time
from typing import Any, NamedTuple

from cardmaker.jobs import file_lookup, loading, plan_making
from cardmaker.model.marks import Page
from tests.benchmarks.bare import bare_reportlab
from tests.benchmarks.card import page_of, whole_card
from tests.benchmarks.distinct import pattern_text
from tests.benchmarks.peers import by_fpdf2, by_matplotlib, by_typst, by_weasyprint
from tests.benchmarks.peers.pictures import difference
from tests.helpers.painted import paint

LAYOUT = "record"
FEW = 3  # runs of what takes long
LONG_MS = 500


class Peer(NamedTuple):
    """Another way to draw a card: what it is given, and how it makes a PDF of that."""

    name: str
    prepare: Callable[[Page], Any]
    make: Callable[[Any], bytes]
    at_least: float = 0  # how many times our time it should take


PEERS = (
    Peer("ReportLab, plainly", lambda page: page, lambda page: bare_reportlab([page], page.title)),
    Peer("typst, calls", by_typst.prepared_calls, by_typst.calls, at_least=3),
    Peer("typst, data", by_typst.prepared_data, by_typst.data, at_least=3),
    Peer("fpdf2", by_fpdf2.prepared, by_fpdf2.made),
    Peer("matplotlib", by_matplotlib.prepared, by_matplotlib.made),
    Peer("WeasyPrint", by_weasyprint.prepared, by_weasyprint.made, at_least=50),
    Peer("WeasyPrint, whole fonts", by_weasyprint.prepared, partial(by_weasyprint.made, whole_fonts=True)),
)


class Taken(NamedTuple):
    """Milliseconds of each run, by the clock and by the processor."""

    clock: list[float]
    processor: list[float]


def drawing(page: Page) -> bytes:
    """What the others do: the PDF of a page that is composed."""
    return paint([page], title=page.title)


def versions(name: str, count: int) -> Iterator[str]:
    """One pattern with a title of its own each time."""
    text = file_lookup.find("pattern", name).read_text("utf-8")
    title = next(line for line in text.splitlines() if line.startswith("title:"))
    for number in range(count):
        yield text.replace(title, f"{title} {number}", 1)


def able(page: Page, ours: bytes) -> list[Peer]:
    """The peers that run here. Raises SystemExit for one that draws another picture."""
    found = []
    for peer in PEERS:
        try:
            theirs = peer.make(peer.prepare(page))
        except (ImportError, OSError) as no:  # WeasyPrint says OSError when there is no Pango
            print(f"{peer.name} cannot run here: {str(no).splitlines()[0]}")
            continue
        apart = difference(ours, theirs)
        print(f"{peer.name:24} draws it, {apart.of_all:.4f} apart, {apart.of_a_block:.2f} in the worst 2 mm")
        if not apart.is_small:
            raise SystemExit(f"{peer.name} does not draw the same card: there is nothing to compare")
        found.append(peer)
    return found


def measured(paths: list[Path], peers: list[Peer], bench: plan_making.PlanSetup) -> dict[str, Taken]:
    """Every card by everybody, in turn; what takes long, a few times only."""
    taken: dict[str, Taken] = {}
    for number, path in enumerate(paths):
        page = page_of(plan_making.plan_for(loading.load_pattern(path), bench), LAYOUT)
        tasks: dict[str, Callable[[], object]] = {
            "ours": partial(whole_card, path, bench, LAYOUT),
            "ours, its drawing alone": partial(drawing, page),
        }
        tasks |= {peer.name: partial(peer.make, peer.prepare(page)) for peer in peers}
        for name, task in tasks.items():
            times = taken.setdefault(name, Taken([], []))
            if number <= FEW or times.clock[-1] < LONG_MS:
                clock, processor = perf_counter(), process_time()
                task()
                times.clock.append(1000 * (perf_counter() - clock))
                times.processor.append(1000 * (process_time() - processor))
    return {name: Taken(times.clock[1:], times.processor[1:]) for name, times in taken.items()}  # the first is not warm


def told(taken: dict[str, Taken], peers: list[Peer]) -> None:
    """Prints everybody's time over ours."""
    ours, drawing = (median(taken[name].clock) for name in ("ours", "ours, its drawing alone"))
    print(f"{'':26}{'ms':>8}{'processor':>11}{'/ our card':>12}{'/ our drawing':>15}{'runs':>6}")
    for name, times in taken.items():
        clock = median(times.clock)
        shares = f"{clock / ours:12.2f}{clock / drawing:15.2f}"
        print(f"{name:26}{clock:8.1f}{median(times.processor):11.1f}{shares}{len(times.clock):6}")
    for peer in peers:
        if peer.at_least:
            share = median(taken[peer.name].clock) / ours
            holds = "holds" if share >= peer.at_least else "does NOT hold"
            print(f"at least {peer.at_least} times as fast as {peer.name}: {holds}, {share:.1f}")


def main(name: str, runs: int) -> int:
    os.environ["SOURCE_DATE_EPOCH"] = "0"  # nobody looks at the clock
    bench = plan_making.load_plan_setup(None, None)
    page = page_of(plan_making.plan_for(loading.load_pattern(file_lookup.find("pattern", name)), bench), LAYOUT)
    peers = able(page, paint([page], title=page.title))
    for said, texts in (
        (f"{name} with a new title each time", versions(name, runs + 1)),
        ("patterns that share no words", map(pattern_text, range(runs + 1))),
    ):
        with TemporaryDirectory() as folder:
            paths = [Path(folder, f"card{number}.yaml") for number in range(runs + 1)]
            for path, text in zip(paths, texts, strict=True):
                path.write_text(text, "utf-8")
            print(f"\n{said}:")
            told(measured(paths, peers, bench), peers)
    return 0


if __name__ == "__main__":
    asked = sys.argv[1:]
    sys.exit(main(asked[0] if asked else "three-paths", int(asked[1]) if len(asked) > 1 else 15))
