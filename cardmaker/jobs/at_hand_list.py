"""``list``: the files at hand, kind by kind, a line each."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from cardmaker.jobs import loading, lookup
from cardmaker.model.problems import ProblemsFound
from cardmaker.reading.read_file import read_binder, read_class, read_loom, read_pegs
from cardmaker.reckoning.stripes.stripe_counts import counted_ends


def list_of_files() -> Iterable[str]:
    """Every file at hand, kind by kind, a line each; one with problems is told of."""
    yield "looms"
    yield from _lines_of("loom", lambda path: (loom := read_loom(path)).title + f", {loom.capacity} ends at most")
    yield ""
    yield "pegs"
    yield from _lines_of("pegs", _pegs_line)
    yield ""
    yield "card layouts"
    yield from _lines_of("layout", _layout_line)
    yield ""
    yield "classes"
    yield from _lines_of("class", _class_line)
    yield ""
    yield "binders"
    yield from _lines_of("binder", _binder_line)
    yield ""
    yield "patterns"
    yield from _lines_of("pattern", _pattern_line)


def _layout_line(path: Path) -> str:
    return f"on {', '.join(paper.name for paper in loading.load_layout(path).papers)}"


def _pegs_line(path: Path) -> str:
    pegs = read_pegs(path)
    return f"{pegs.title}, a span" if pegs.kind == "span" else f"{pegs.title}, a {pegs.kind} of {len(pegs.pegs)} pegs"


def _class_line(path: Path) -> str:
    school_class = read_class(path)
    spares = sum(each.kits for each in school_class.spares)
    more = f", {spares} spare kits" if spares > 1 else ", 1 spare kit" if spares else ""
    return f"{school_class.title}, {len(school_class.students)} students{more}"


def _binder_line(path: Path) -> str:
    binder = read_binder(path)
    cards = len({name for section in binder.sections for name in section.patterns})
    return f"{binder.title}, {'1 card' if cards == 1 else f'{cards} cards'}"


def _pattern_line(path: Path) -> str:
    pattern = loading.load_pattern(path)
    ends = counted_ends(pattern.warp, pattern.mirror)
    return "  ".join(part for part in (pattern.code, f"{ends} ends", pattern.about) if part)


def _lines_of(kind: lookup.Kind, told: Callable[[Path], str]) -> Iterable[str]:
    for stem, path in lookup.at_hand(kind).items():
        try:
            yield f"  {stem:<18} {told(path)}"
        except ProblemsFound as found:
            yield f"  {stem:<18} has {len(found.problems)} problems: cardmaker check {path}"
