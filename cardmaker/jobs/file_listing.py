"""``list``: the files at hand, kind by kind, a line each."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

from cardmaker.jobs import file_lookup, loading
from cardmaker.model.problems import ProblemsFound
from cardmaker.reading.read_file import read_binder, read_class, read_pegs
from cardmaker.reckoning.stripes.stripe_counts import counted_ends
from cardmaker.wording.phrases import end_count, plural


def lines_of_files_at_hand() -> Iterator[str]:
    """Every file at hand, a line each, under headings; one with problems is told of."""
    for number, (kind, (heading, facts)) in enumerate(_KINDS.items()):
        if number:
            yield ""
        yield heading
        for stem, path in file_lookup.at_hand(kind).items():
            try:
                yield f"  {stem:<18} {facts(path)}"
            except ProblemsFound as error:
                yield f"  {stem:<18} has {plural(len(error.problems), 'problem')}: cardmaker check {path}"


def _loom_facts(path: Path) -> str:
    loom = loading.load_loom(path)
    return f"{loom.title}, {loom.capacity} ends at most"


def _pegs_facts(path: Path) -> str:
    pegs = read_pegs(path)
    return f"{pegs.title}, a span" if pegs.kind == "span" else f"{pegs.title}, a {pegs.kind} of {len(pegs.pegs)} pegs"


def _layout_facts(path: Path) -> str:
    return f"on {', '.join(paper.name for paper in loading.load_layout(path).papers)}"


def _class_facts(path: Path) -> str:
    school_class = read_class(path)
    spare_kits = sum(spares.kits for spares in school_class.spares)
    kits = f", {plural(spare_kits, 'spare kit')}" if spare_kits else ""
    return f"{school_class.title}, {plural(len(school_class.students), 'student')}{kits}"


def _binder_facts(path: Path) -> str:
    binder = read_binder(path)
    return f"{binder.title}, {plural(len({name for section in binder.sections for name in section.patterns}), 'card')}"


def _pattern_facts(path: Path) -> str:
    pattern = loading.load_pattern(path)
    ends = end_count(counted_ends(pattern.warp, pattern.mirror))
    return "  ".join(part for part in (pattern.code, ends, *pattern.about.splitlines()) if part)


_KINDS: Final[dict[file_lookup.Kind, tuple[str, Callable[[Path], str]]]] = {
    "loom": ("looms", _loom_facts),
    "pegs": ("pegs", _pegs_facts),
    "layout": ("card layouts", _layout_facts),
    "class": ("classes", _class_facts),
    "binder": ("binders", _binder_facts),
    "pattern": ("patterns", _pattern_facts),
}
