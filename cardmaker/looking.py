"""What lies at hand, a line each; and everything that is wrong with a file of any kind."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from cardmaker import workshop
from cardmaker.problems import Problem, ProblemsFound
from cardmaker.reading.files import kind_of_file, read_binder, read_class, read_loom, read_pegs
from cardmaker.reckoning.stripes import counted_ends


def check(path: Path) -> list[Problem]:
    """Every problem of one file, whatever its kind, in the order of its lines."""
    try:
        kind = kind_of_file(path.read_bytes()) if path.is_file() else "pattern"
    except OSError:
        kind = "pattern"
    if kind in (None, "pattern"):
        return list(ProblemsFound(workshop.pattern_with_problems(path)[1]).problems)
    readers: dict[str, Callable[[Path], object]] = {
        "loom": read_loom, "pegs": read_pegs, "card layout": workshop.load_layout, "class": _check_class,
        "binder": read_binder,
    }  # fmt: skip
    reader = readers[kind]
    try:
        reader(path)
    except ProblemsFound as found:
        return list(found.problems)
    return []


def _check_class(path: Path) -> object:
    """A class with every kit reckoned, so that a pattern that does not fit a student's loom is told as well."""
    from cardmaker.classroom import load_class, plan_class

    return plan_class(load_class(path))


def listing() -> Iterable[str]:
    """Every file at hand, kind by kind, a line each; one with problems is told of."""
    yield "looms"
    yield from _listed("loom", lambda path: (loom := read_loom(path)).title + f", {loom.capacity} ends at most")
    yield ""
    yield "pegs"
    yield from _listed("pegs", _pegs_line)
    yield ""
    yield "card layouts"
    yield from _listed("layout", _layout_line)
    yield ""
    yield "classes"
    yield from _listed("class", _class_line)
    yield ""
    yield "binders"
    yield from _listed("binder", _binder_line)
    yield ""
    yield "patterns"
    yield from _listed("pattern", _pattern_line)


def _layout_line(path: Path) -> str:
    return f"on {', '.join(paper.name for paper in workshop.load_layout(path).papers)}"


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
    pattern = workshop.load_pattern(path)
    ends = counted_ends(pattern.warp, pattern.mirror)
    return "  ".join(part for part in (pattern.code, f"{ends} ends", pattern.about) if part)


def _listed(kind: workshop.Kind, told: Callable[[Path], str]) -> Iterable[str]:
    for stem, path in workshop.at_hand(kind).items():
        try:
            yield f"  {stem:<18} {told(path)}"
        except ProblemsFound as found:
            yield f"  {stem:<18} has {len(found.problems)} problems: cardmaker check {path}"
