"""``list``: the files at hand, kind by kind, a line each."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Final

from cardmaker.jobs import file_lookup, loading
from cardmaker.model.problems import ProblemsFound
from cardmaker.reading.read_file import read_binder, read_class, read_event, read_pegs
from cardmaker.reckoning.stripes.stripe_counts import counted_ends
from cardmaker.wording.phrases import did_you_mean, end_count, listed, plural
from cardmaker.wording.yarn_words import yarn_kind


def lines_of_files_at_hand(kind: str | None = None) -> Iterator[str]:
    """Every file at hand, or those of one kind alone, a line each, under headings, hers first and those shipped apart;
    problems are told of. Raises WrongUsage for a kind that there is not."""
    kinds = _KINDS if kind is None else {_kind_called(kind): _KINDS[_kind_called(kind)]}
    own = {each: file_lookup.own_files(each) for each in kinds}
    has_own = any(own.values())
    told = False
    for each, files in own.items():
        if files:
            yield from [""] if told else []
            told = True
            yield f"your {kinds[each][0]}"
            yield from _lines(each, files)
    for each in kinds:
        shipped = {stem: path for stem, path in file_lookup.shipped_files(each).items() if stem not in own[each]}
        if shipped:
            yield from [""] if told else []
            told = True
            yield f"{kinds[each][0]}{' that are shipped' if has_own else ''}"
            yield from _lines(each, shipped)


def _kind_called(name: str) -> file_lookup.Kind:
    """The kind of a word such as ``yarns``, ``yarn`` or ``layouts``. Raises WrongUsage."""
    words: dict[str, file_lookup.Kind] = {
        word: kind for kind, (heading, _) in _KINDS.items() for word in (heading, heading.split()[-1], kind)
    }
    if name.casefold() not in words:
        known = [heading.split()[-1] for heading, _ in _KINDS.values()]
        message = f"'{name}' is nothing that is listed."
        raise file_lookup.WrongUsage(f"{message} {did_you_mean(name, known, f'There are {listed(known)}.')}")
    return words[name.casefold()]


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


def _yarn_facts(path: Path) -> str:
    yarn = loading.load_yarn(path)
    return ", ".join([yarn.title, yarn_kind(yarn.yarn), *([yarn.yarn.shade] if yarn.yarn.shade else [])])


def _pegs_facts(path: Path) -> str:
    pegs = read_pegs(path)
    return f"{pegs.title}, a span" if pegs.kind == "span" else f"{pegs.title}, a {pegs.kind} of {len(pegs.pegs)} pegs"


def _layout_facts(path: Path) -> str:
    return f"on {', '.join(paper.name for paper in loading.load_layout(path).papers)}"


def _sheet_facts(path: Path) -> str:
    return f"on {', '.join(paper.name for paper in loading.load_sheet(path).papers)}"


def _class_facts(path: Path) -> str:
    school_class = read_class(path)
    spare_kits = sum(spares.kits for spares in school_class.spares)
    kits = f", {plural(spare_kits, 'spare kit')}" if spare_kits else ""
    return f"{school_class.title}, {plural(len(school_class.students), 'student')}{kits}"


def _event_facts(path: Path) -> str:
    event = read_event(path)
    return f"{event.title}, {plural(len(event.patterns), 'tape')}"


def _binder_facts(path: Path) -> str:
    binder = read_binder(path)
    return f"{binder.title}, {plural(len({name for section in binder.sections for name in section.patterns}), 'card')}"


def _pattern_facts(path: Path) -> str:
    pattern = loading.load_pattern(path)
    ends = end_count(counted_ends(pattern.warp, pattern.mirror))
    return "  ".join(part for part in (pattern.code, ends, *pattern.about.splitlines()) if part)


_KINDS: Final[dict[file_lookup.Kind, tuple[str, Callable[[Path], str]]]] = {
    "yarn": ("yarns", _yarn_facts),
    "loom": ("looms", _loom_facts),
    "pegs": ("pegs", _pegs_facts),
    "layout": ("card layouts", _layout_facts),
    "sheet": ("sheets", _sheet_facts),
    "class": ("classes", _class_facts),
    "event": ("events", _event_facts),
    "binder": ("binders", _binder_facts),
    "pattern": ("patterns", _pattern_facts),
}
