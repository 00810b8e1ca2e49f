"""How long our painter takes over the plain way, in one run: ``python -m tests.benchmarks.painting``.

A page like a card: 400 cells, 400 woven cells of a ribbon drawn by repeats, 60 words, curves. Prints ratios; absolute
times say little about another machine. Repeats the plain way with the repeats written out, which is the same ink.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from statistics import median
from time import perf_counter

from cardmaker.model.marks import Box, Dot, Face, Group, Line, Mark, Page, Path, Rectangle, Stamp, Step, Words
from cardmaker.pdf import font_subsets
from cardmaker.pdf.fonts import face_file
from tests.benchmarks.bare import bare_reportlab, forget_fonts
from tests.helpers.painted import paint

INKS = ("#a5322b", "#20304f", "#f4efe2", "#6b7d4f", "#000000")


def cells() -> tuple[Mark, ...]:
    """Twenty rows of twenty outlined cells, five colours, changing every third cell."""
    return tuple(
        Rectangle(Box(30 + 4 * column, 60 + 3 * row, 4, 3), INKS[column // 3 % 5], "#000000", 0.26)
        for row in range(20)
        for column in range(20)
    )


def ribbon() -> Stamp:
    """Twenty ends over two picks, ten times down the edge: four hundred woven cells."""
    repeat = tuple(
        Rectangle(Box(8 + 0.8 * end, 20 + 2.1 * pick, 0.8, 2.1), INKS[(end + pick) % 3])
        for pick in range(2)
        for end in range(20)
    )
    return Stamp(repeat, 10, 0, 4.2, Box(8, 20, 16, 42))


def words() -> tuple[Mark, ...]:
    """Sixty lines in four faces and three alignments."""
    faces = (Face.SANS, Face.SANS_SEMIBOLD, Face.SANS_BOLD, Face.SERIF_SEMIBOLD)
    said = ("31 ends, the same both ways", "L15, a slot", "2 ¼ yd warp → home", "Three Paths", "hang the weft far side")
    aligned: tuple[Words, ...] = tuple(
        Words(130, 20 + 4 * line, f"{said[line % 5]} {line}", faces[line // 15], 9 + line // 15) for line in range(60)
    )
    return (*aligned[:20], *(one._replace(align="middle") for one in aligned[20:40]), *aligned[40:])


def drawings() -> tuple[Mark, ...]:
    """The walk's strokes, the board's holes, pegs on a route of curves, two rulers."""
    strokes = tuple(Line(30 + 2 * end, 130, 31 + 2 * end, 160, 0.4, INKS[end // 8 % 5]) for end in range(60))
    holes = tuple(Dot(30 + 2 * hole, 170, 0.6, "#ffffff", "#000000", 0.2) for hole in range(60))
    slots = tuple(Rectangle(Box(29 + 2 * slot, 172, 0.5, 12), None, "#000000", 0.2, 0.25) for slot in range(60))
    ticks = tuple(Line(30 + mm, 200, 30 + mm, 200 + (5 if mm % 10 == 0 else 2), 0.15) for mm in range(150))
    steps: list[Step] = [("move", 30, 220)]
    steps += [("curve", 35 + 5 * bend, 215, 35 + 5 * bend, 225, 40 + 5 * bend, 220) for bend in range(20)]
    route = Path(tuple(steps), None, "#a5322b", 0.7, (), True)
    leaves = tuple(
        Path((("move", 30 + 4 * leaf, 240), ("line", 32 + 4 * leaf, 244), ("line", 28 + 4 * leaf, 244), ("close",)),
             "#20304f", "#000000", 0.2)
        for leaf in range(30)
    )  # fmt: skip
    return (*strokes, *holes, *slots, *ticks, route, *leaves)


def card_like_page() -> Page:
    """The whole page, in panels."""
    sheet = Box(0, 0, 215.9, 279.4)
    panels = ((ribbon(),), cells(), words(), drawings())
    names = ("ribbon", "order", "words", "drawings")
    groups = tuple(Group("panel", name, sheet, marks) for name, marks in zip(names, panels, strict=True))
    return Page(215.9, 279.4, groups)


def written_out(page: Page) -> Page:
    """The same page with every repeat as marks of its own."""
    ribbon_marks: list[Mark] = []
    stamp = ribbon()
    for copy in range(stamp.count):
        for mark in stamp.marks:
            assert isinstance(mark, Rectangle)
            box = mark.box
            moved = Box(box.left + copy * stamp.dx, box.top + copy * stamp.dy, box.width, box.height)
            ribbon_marks.append(mark._replace(box=moved))
    first = page.marks[0]
    assert isinstance(first, Group)
    return replace(page, marks=(replace(first, marks=tuple(ribbon_marks)), *page.marks[1:]))


def forget_ours() -> None:
    """Let our painter load its fonts again, as a new process would."""
    face_file.cache_clear()
    font_subsets.font_of.cache_clear()


def ratio(ours: Callable[[], object], theirs: Callable[[], object], runs: int) -> tuple[float, float, float]:
    """Medians of both in milliseconds, run in turn so that a busy moment meets both, and ours over theirs."""
    taken: tuple[list[float], list[float]] = ([], [])
    for _ in range(runs):
        for task, times in zip((ours, theirs), taken, strict=True):
            start = perf_counter()
            task()
            times.append(1000 * (perf_counter() - start))
    mine, other = map(median, taken)
    return mine, other, mine / other


def main(runs: int) -> None:
    page = card_like_page()
    plain = written_out(page)
    binder = [page] * 20

    def cold_ours() -> None:
        forget_ours()
        paint([page], title="Bench")

    def cold_bare() -> None:
        forget_fonts()
        bare_reportlab([page])

    for told, ours, theirs in (
        ("one page", lambda: paint([page], title="Bench"), lambda: bare_reportlab([page])),
        ("one page, repeats written out", lambda: paint([plain], title="Bench"), lambda: bare_reportlab([plain])),
        ("one page, fonts loaded anew", cold_ours, cold_bare),
        ("twenty pages", lambda: paint(binder, title="Bench"), lambda: bare_reportlab(binder)),
    ):
        ours(), theirs()
        mine, other, share = ratio(ours, theirs, runs if told != "twenty pages" else max(3, runs // 5))
        print(f"{told:32} {share:5.2f} of the plain way  ({mine:6.1f} against {other:6.1f} ms)")
    size, plain_size = len(paint([page], title="Bench")), len(bare_reportlab([page]))
    print(f"{'bytes of one page':32} {size / plain_size:5.2f} of the plain way  ({size} against {plain_size})")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 25)
