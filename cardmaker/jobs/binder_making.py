"""A binder from many pattern files: cards drawn over all cores, put together in one document, written whole."""

from __future__ import annotations

import pickle
import zlib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import Final, NamedTuple

from cardmaker.binder.arranging import SectionHeading, arranged
from cardmaker.binder.assembling import BinderSide, Parts, UnsettledPages, assemble
from cardmaker.card.composing import face_repeat
from cardmaker.card.panels import PANELS
from cardmaker.card.sheet import Viewpoint
from cardmaker.jobs import card_making, carrying, loading, lookup, plan_making
from cardmaker.jobs.binder_files import binder_of_request, pattern_paths, section_paths
from cardmaker.jobs.binder_letters import (
    HEADING,
    binder_problems,
    entry_problems,
    in_available_letters,
    lacking_letters,
    loom_problems,
)
from cardmaker.jobs.lookup import WrongUsage
from cardmaker.jobs.parallel import parallel_answers
from cardmaker.jobs.progress import watched
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.tables import TooWide
from cardmaker.model.binder_contents import Binder, Entry, Order, Section, TapeFace
from cardmaker.model.card_layout import CardLayout, Paper
from cardmaker.model.carried import DIGEST, About, Carried
from cardmaker.model.plan import Plan
from cardmaker.model.problems import Problem, ProblemsFound
from cardmaker.model.records import record, replace
from cardmaker.pdf.draft import Draft, Form, draft_of, form_of, with_marks
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.pdf.painter import paint_drafts
from cardmaker.wording.measures import Units
from cardmaker.wording.phrases import plural


class CardSetup(NamedTuple):
    """What is the same for every card of a binder."""

    bench: plan_making.Equipment
    layout: CardLayout
    paper: Paper
    units: Units | None
    uses_are_headings: bool = False


class DrawnEntry(NamedTuple):
    """A card that is ready to be bound. ``packed`` is its draft, which waits until all are there.

    ``face`` is the form that its small picture is stamped from.
    """

    entry: Entry
    packed: bytes
    face: Form
    files: tuple[Carried, ...]
    left_out: tuple[str, ...]


class BinderRequest(NamedTuple):
    """What the command asks for; what is left out is taken from the binder file, or from the layout."""

    names: tuple[str, ...]
    title: str | None = None
    by: Order | None = None
    layout: str | None = None
    paper: str | None = None
    loom: str | None = None
    units: Units | None = None
    duplex: bool = False
    strict: bool = False
    quiet: bool = False
    jobs: int = 0


@record
class BoundBinder:
    """A finished binder, and what kept patterns out of it."""

    pdf: bytes
    pages: int
    cards: int
    problems: tuple[Problem, ...]
    left_out: tuple[str, ...]  # what found no room, with the number of cards that lack it


TITLE: Final = "A book of tapes"
FACTS: Final = "facts of the source"  # of which a single card tells how many found no room
CARD: Final = "card "  # before the path of a card: the name of its page


def make_binder(asked: BinderRequest) -> BoundBinder:
    """The binder that is asked for. Raises ProblemsFound and WrongUsage."""
    file = binder_of_request(asked.names)
    if file is not None and file.sections and asked.by:
        raise WrongUsage("A binder file has its own sections: leave --by out.")
    binder = file or Binder(TITLE)
    binder = replace(binder, title=asked.title or binder.title, by=asked.by, duplex=asked.duplex or binder.duplex)
    if signs := lacking_letters(binder.title, HEADING) if asked.title else []:
        raise WrongUsage(f"--title: the type has no {', no '.join(signs)}.")
    if problems := binder_problems(binder):
        raise ProblemsFound(problems)
    sections = section_paths(binder) if file else {Section(""): pattern_paths(asked.names)}
    layout = loading.load_layout(_asked_in_file("layout", asked.layout, binder) or lookup.find("layout", "record"))
    at_home = not asked.layout or binder.paper in (paper.name for paper in layout.papers)
    paper = card_making.paper_of(layout, asked.paper or (binder.paper if at_home else "") or None)
    loom = _asked_in_file("loom", asked.loom, binder)
    bench = plan_making.load_equipment(
        None if loom is None else str(loom),
        None,
        any_pegs=plan_making.shows_pegs(layout),
        in_full=plan_making.asks_bench(layout),
    )
    if problems := loom_problems(bench.looms):
        raise ProblemsFound(problems)
    setup = CardSetup(bench, layout, paper, asked.units or binder.units, binder.by == "use")
    return bind_binder(binder, sections, setup, strict=asked.strict, quiet=asked.quiet, jobs=asked.jobs)


def _asked_in_file(kind: lookup.Kind, asked: str | None, binder: Binder) -> Path | None:
    """The layout or loom that the command names, else the binder file. Raises WrongUsage, ProblemsFound at the key."""
    if asked:
        return lookup.find(kind, asked)
    name = binder.layout if kind == "layout" else binder.loom
    if not name:
        return None
    try:
        return lookup.yaml_file(lookup.find(kind, name), name)
    except WrongUsage as no:
        raise ProblemsFound([Problem(binder.places.file, binder.places.of((kind,)), kind, str(no))]) from None


def draw_entry(setup: CardSetup, path: Path) -> DrawnEntry | tuple[Problem, ...]:
    """One card with what the binder must know of it, or the problems of its file."""
    try:
        plan = plan_making.plan_for(loading.load_pattern(path), setup.bench)
        seen = Viewpoint(from_behind=plan.loom.threads_from == "back")
        drawn = card_making.draw_card(plan, setup.layout, setup.paper, setup.units, seen)
    except ProblemsFound as found:
        return found.problems
    box, marks, alt = face_repeat(plan)
    name, form = form_of(marks)
    entry = _entry(plan, path, TapeFace(name, box.width, box.height, alt))
    problems = entry_problems(entry, plan.pattern.places, uses_are_headings=setup.uses_are_headings)
    if problems:
        return problems
    packed = zlib.compress(pickle.dumps(drawn.draft), 1)
    return DrawnEntry(entry, packed, form, carrying.carried_files([plan]), drawn.left_out)


def _entry(plan: Plan, path: Path, face: TapeFace) -> Entry:
    pattern = plan.pattern
    colours = {colour.yarn: colour.ends for colour in plan.colours}
    holding = [other.title for other in plan.other_looms if other.placement is not None]
    return Entry(
        anchor=f"{CARD}{path}",
        title=pattern.title,
        code=pattern.code,
        ends=plan.ends,
        width_mm=plan.width.likely_mm,
        colours=colours,
        purposes=pattern.purposes,
        grade=pattern.source.grade if pattern.source else "",
        looms=tuple(sorted({plan.loom.title, *holding})),
        loom=plan.loom.title,
        face=face,
    )


def bind_binder(
    binder: Binder,
    sections: Mapping[Section, Sequence[Path]],
    setup: CardSetup,
    *,
    strict: bool,
    quiet: bool,
    jobs: int = 0,
) -> BoundBinder:
    """The binder. A pattern that cannot be made is named at its end; when ``strict``, ProblemsFound is raised instead.

    Raises WrongUsage when there is nothing to bind.
    """
    paths = list(dict.fromkeys(path for found in sections.values() for path in found))
    cards, problems = _drawn(paths, setup, quiet, jobs)
    if problems and strict:
        raise ProblemsFound(problems)
    if not cards and problems:
        raise ProblemsFound(problems)
    headings = _headings(binder, sections, cards)
    units = setup.units or setup.layout.units
    parts = Parts(binder, headings, setup.bench.looms, in_available_letters(problems), _leaf(setup), units)
    try:
        sides = assemble(parts)
    except (TooWide, UnsettledPages) as no:
        raise WrongUsage(f"{setup.paper.name} is too small for a binder's contents: {no}.") from None
    files = _files(cards, binder)
    about = About(binder.title, binder.about, author=binder.credit, facts={DIGEST: carrying.content_digest(files)})
    made, left_out = len(cards), _left_out(cards)
    pdf = paint_drafts(watched(_drafts(sides, cards), len(sides), "binding", quiet=quiet), about, files)
    return BoundBinder(pdf, len(sides), made, tuple(problems), left_out)


def _left_out(cards: Mapping[str, DrawnEntry]) -> tuple[str, ...]:
    """Each panel that found no room on some cards, the one that most cards lack first."""
    told = (what if what in PANELS else FACTS for card in cards.values() for what in card.left_out)
    counts = Counter(told)
    return tuple(f"{panel} (on {plural(count, 'card')})" for panel, count in counts.most_common())


def _drawn(
    paths: Sequence[Path], setup: CardSetup, quiet: bool, jobs: int
) -> tuple[dict[str, DrawnEntry], list[Problem]]:
    """Every card by its path, and the problems of those that cannot be made."""
    cards: dict[str, DrawnEntry] = {}
    problems: list[Problem] = []
    with parallel_answers(partial(draw_entry, setup), paths, jobs) as found:
        for path, answer in zip(paths, watched(found, len(paths), "drawing", quiet=quiet), strict=True):
            if isinstance(answer, DrawnEntry):
                cards[str(path)] = answer
            else:
                problems += answer
    return cards, problems


def _headings(
    binder: Binder, sections: Mapping[Section, Sequence[Path]], cards: Mapping[str, DrawnEntry]
) -> tuple[SectionHeading, ...]:
    """The binder file's own sections, or those that the order asked for makes."""
    if not binder.sections:
        entries = [cards[str(path)].entry for paths in sections.values() for path in paths if str(path) in cards]
        return arranged(entries, binder.by)
    headings, taken = [], set()
    for section, paths in sections.items():
        mine = [path for path in dict.fromkeys(map(str, paths)) if path in cards and path not in taken]
        taken.update(mine)
        headings.append(SectionHeading(section.title, tuple(cards[path].entry for path in mine), section.text))
    return tuple(headings)


def _leaf(setup: CardSetup) -> Leaf:
    layout = setup.layout
    margin = layout.margin_mm
    return Leaf(
        setup.paper,
        TypeRuler(),
        margin_mm=margin,
        binding_mm=layout.binding_mm if layout.binding_side != "none" else margin,
        binding_side=layout.binding_side if layout.binding_side != "none" else "left",
    )


def _files(cards: Mapping[str, DrawnEntry], binder: Binder) -> tuple[Carried, ...]:
    """The files of all cards, each once, and the binder's own."""
    files: dict[tuple[str, bytes], Carried] = {}
    taken: set[str] = set()
    for card in cards.values():
        for file in card.files:
            carrying.carry(files, taken, file.kind, file.path, file.data)
    carrying.carry(files, taken, "binder", binder.places.file, binder.places.raw)
    return tuple(files.values())


def _drafts(sides: Sequence[BinderSide], cards: dict[str, DrawnEntry]) -> Iterator[Draft]:
    """Every side drawn, one at a time; a card is taken out of its wrapping when its turn has come."""
    faces = {card.entry.face.name: card.face for card in cards.values()}
    for side in sides:
        if side.entry is not None:
            draft: Draft = pickle.loads(zlib.decompress(cards.pop(side.entry.anchor.removeprefix(CARD)).packed))
            draft = draft._replace(anchor=side.entry.anchor)
        else:
            assert side.page is not None
            draft = draft_of(side.page)
            draft = draft._replace(forms=draft.forms | {name: faces[name] for name in draft.used if name in faces})
        draft = with_marks(draft, side.extra)
        yield draft._replace(label=side.label, bookmarks=side.bookmarks)
