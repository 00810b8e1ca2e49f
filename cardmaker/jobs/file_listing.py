"""``list``: the files at hand, kind by kind, a line each."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Final

from cardmaker.jobs import file_lookup, loading
from cardmaker.model.problems import ProblemsFound
from cardmaker.reading.read_file import read_binder, read_class, read_pegs
from cardmaker.reckoning.stripes.stripe_counts import counted_ends
from cardmaker.wording.phrases import end_count, plural


def lines_of_files_at_hand() -> Iterator[str]:
    """Every file at hand, a line each, under headings, hers first and those shipped apart; problems are told of."""
    own = {kind: file_lookup.own_files(kind) for kind in _KINDS}
    has_own = any(own.values())
    for number, (kind, files) in enumerate(own.items() if has_own else ()):
        if files:
            yield from [""] if number else []
            yield f"your {_KINDS[kind][0]}"
            yield from _lines(kind, files)
    for number, kind in enumerate(_KINDS):
        shipped = {stem: path for stem, path in file_lookup.shipped_files(kind).items() if stem not in own[kind]}
        if shipped:
            yield from [""] if number or has_own else []
            yield f"{_KINDS[kind][0]}{' that are shipped' if has_own else ''}"
            yield from _lines(kind, shipped)


def _lines(kind: file_lookup.Kind, files: Mapping[str, Path]) -> Iterator[str]:
    facts = _KINDS[kind][1]
    for stem, path in files.items():
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
