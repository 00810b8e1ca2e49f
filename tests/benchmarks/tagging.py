"""What its tags cost a card: ``python -m tests.benchmarks.tagging [PATTERN] [RUNS]``.

A whole warm card (read, reckon, compose, paint) with the tags that a screen reader needs, against the same card without
them: its content unmarked and no elements. Both in one run, in turn; told are the ratio, which should be at most 1.15,
and what the tags add to the file.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from io import BytesIO
from statistics import median
from time import process_time

import pikepdf

from cardmaker.jobs import file_lookup, plan_making
from cardmaker.model.marks import Mark
from cardmaker.pdf.tagged_pen import TaggedPen
from tests.benchmarks.card import whole_card
from tests.helpers.tagged import content_of


@contextmanager
def no_tags() -> Iterator[None]:
    """Within it pages are drawn as if nobody had them read aloud."""

    def draw(self: TaggedPen, marks: Iterable[Mark], tag: str = "") -> None:
        self.draw(marks)

    tagged = TaggedPen.draw_tagged
    TaggedPen.draw_tagged = draw  # type: ignore[method-assign]
    try:
        yield
    finally:
        TaggedPen.draw_tagged = tagged  # type: ignore[method-assign]


def stretches(pdf: bytes) -> int:
    """How many stretches of content are marked."""
    with pikepdf.open(BytesIO(pdf)) as file:
        return sum(len(content_of(page).stretches) for page in file.pages)


def in_turn(one: Callable[[], bytes], other: Callable[[], bytes], runs: int) -> tuple[float, float]:
    """The median time of each on the processor, so that what else the machine does counts for little."""
    taken: tuple[list[float], list[float]] = ([], [])
    for _ in range(runs):
        for times, task in zip(taken, (one, other), strict=True):
            start = process_time()
            task()
            times.append(process_time() - start)
    return median(taken[0]), median(taken[1])


def compare(name: str, layout: str, runs: int) -> None:
    """Prints the ratio for one card."""
    path, bench = file_lookup.find("pattern", name), plan_making.load_plan_setup(None, None)

    def tagged() -> bytes:
        return whole_card(path, bench, layout)

    def untagged() -> bytes:
        with no_tags():
            return whole_card(path, bench, layout)

    marked = stretches(tagged())
    if tagged() != tagged() or stretches(untagged()) or not marked:
        raise SystemExit("the same card gave other bytes, or was tagged after all")
    more = len(tagged()) - len(untagged())
    with_tags, without = in_turn(tagged, untagged, runs)
    print(
        f"{name}, {layout}: {with_tags / without:.3f} times the untagged card ({1000 * with_tags:.1f} ms of the "
        f"processor); {marked} stretches, {more / 1024:+.1f} KB",
        flush=True,
    )


if __name__ == "__main__":
    said = sys.argv[1:]
    for wanted in [said[0]] if said else ["three-paths", "long-sixty"]:
        for of in ("record", "bench"):
            compare(wanted, of, int(said[1]) if len(said) > 1 else 40)
