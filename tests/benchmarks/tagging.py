"""What its tags cost a card: ``python -m tests.benchmarks.tagging [PATTERN] [RUNS]``.

A whole warm card (read, reckon, compose, paint) with the tags that a screen reader needs, against the same card without
them: its content unmarked and no structure tree. Both in one run, in turn; the ratio is printed, for what should be at
most 1.15, and so is what the tags add to the file.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from cardmaker import workshop
from cardmaker.writing import draft
from cardmaker.writing.pen import Pen
from tests.benchmarks.card import in_turn, whole_card


@contextmanager
def no_tags() -> Iterator[None]:
    """Within it pages are drawn as if nobody had them read aloud."""

    def plain(x: Any, y: Any, shop: Any, **_: Any) -> Pen:
        return Pen(x, y, shop)

    draft.Pen = plain  # type: ignore[assignment, misc, attr-defined]
    try:
        yield
    finally:
        draft.Pen = Pen  # type: ignore[misc, attr-defined]


def main(names: list[str], runs: int) -> int:
    for name, layout in ((name, layout) for name in names for layout in ("record", "bench")):
        path = workshop.find("pattern", name)
        bench = workshop.make_bench(None, None)

        def tagged(path: Any = path, bench: Any = bench, layout: str = layout) -> bytes:
            return whole_card(path, bench, layout)

        def untagged(path: Any = path, bench: Any = bench, layout: str = layout) -> bytes:
            with no_tags():
                return whole_card(path, bench, layout)

        if tagged() != tagged() or b"/StructTreeRoot" in untagged() and b"/MCID" in untagged():
            raise SystemExit("the same card gave other bytes, or was tagged after all")
        times = in_turn({"tagged": tagged, "untagged": untagged}, runs)
        ratio, more = times["tagged"] / times["untagged"], len(tagged()) - len(untagged())
        print(
            f"{name}, {layout}: {ratio:.3f} times the untagged card ({times['tagged']:.1f} ms); {more / 1024:+.1f} KB"
        )
    return 0


if __name__ == "__main__":
    said = sys.argv[1:]
    sys.exit(main([said[0]] if said else ["three-paths", "long-sixty"], int(said[1]) if len(said) > 1 else 40))
