"""``binder``: many pattern files drawn as cards over all cores, put together in one document, written whole."""

from __future__ import annotations

import os
import pickle
import zlib
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import Final, Literal, NamedTuple

from cardmaker.binder.arranging import SectionHeading, arranged
from cardmaker.binder.assembling import Parts, UnsettledPages
from cardmaker.card.composing import face_repeat
from cardmaker.card.facts import facts_in_words
from cardmaker.files import write_whole
from cardmaker.jobs import card_making, file_lookup, loading, plan_making, typeface_check
from cardmaker.jobs.binder_files import binder_of_request, pattern_paths, section_paths
from cardmaker.jobs.binder_growing import require_same_paper
from cardmaker.jobs.binding import CARD_PAGE, BinderCard, bound_binder
from cardmaker.jobs.card_making import CardSetup
from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.jobs.files_to_carry import content_digest, files_with_command, sources_of
from cardmaker.jobs.layout_lookup import only_layout
from cardmaker.jobs.leaf_lists import leaf_list_in
from cardmaker.jobs.making_commands import binder_command, photograph_name
from cardmaker.jobs.own_settings import ANY, AtHand, own_out
from cardmaker.jobs.paper_lookup import paper_named, paper_of
from cardmaker.jobs.parallel import parallel_answers, with_progress_bar
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.table_setting import TooWide
from cardmaker.layout.yarn_inks import settled_hatches
from cardmaker.model.binder_contents import Binder, Entry, Order, Section, TapeFace
from cardmaker.model.carried_file import DIGEST, About
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Plan
from cardmaker.model.problems import KeyPath, Problem, ProblemsFound, Refusal, problem_from
from cardmaker.model.record_class import replace
from cardmaker.pdf.draft import form_of
from cardmaker.pdf.fonts import RULER, lacks
from cardmaker.pdf.print_digests import print_digest
from cardmaker.wording.formatters import Units
from cardmaker.wording.phrases import plural

TITLE: Final = "A book of tapes"
_NAME: Final = "binder.pdf"


class BinderRequest(NamedTuple):
    """What the command asks for; what is left out is taken from the binder file, or from the layout."""

    patterns: Sequence[str]
    title: str | None = None
    by: Order | None = None
    layout: str | None = None
    paper: str | None = None
    loom: str | None = None
    units: Units | None = None
    duplex: bool = False
    strict: bool = False
    since: Path | None = None
    quiet: bool = False
    jobs: int = 0
    hand: Literal["right", "left"] | None = None
    side: plan_making.AskedSide | None = None
    looms: Sequence[str] | None = None
    places: Sequence[str] | None = None
    prefer: str | None = None


class FinishedBinder(NamedTuple):
    """A binder's PDF, and what kept patterns out of it.

    ``change`` says how many leaves come and go since an old one; there is no PDF when none does.
    """

    pdf: bytes
    pages: int
    cards: int
    problems: tuple[Problem, ...]
    left_out: tuple[str, ...]  # what found no room, with the number of cards that lack it
    change: str = ""


def write_binder(request: BinderRequest, out: Path | None) -> tuple[Path, FinishedBinder]:
    """The file that was written, unless nothing has changed since an old one, and the binder in it.

    Raises ProblemsFound, WrongUsage, CannotWrite.
    """
    out = out or own_out(loading.load_settings()) / _NAME
    target = out / _NAME if out.is_dir() else out
    if target.suffix.lower() != ".pdf":
        raise WrongUsage(f"{target} is no PDF: let its name end with .pdf.")
    if request.since and os.path.realpath(target) == os.path.realpath(request.since):
        raise WrongUsage(f"{target} is the old binder, which has all of its leaves: name another file with --out.")
    binder = make_binder(request)
    if binder.pdf:
        write_whole(target, binder.pdf)
    return target, binder


def make_binder(request: BinderRequest) -> FinishedBinder:
    """The binder that is asked for. A pattern that cannot be made is named at its end.

    Raises ProblemsFound, also when that is asked for by ``strict`` or nothing could be made, and WrongUsage. With
    ``since`` it is strict, or a slip of the pen in a file would have its leaf taken out.
    """
    old = leaf_list_in(request.since) if request.since else None
    file = binder_of_request(request.patterns)
    binder = _with_request(file, request)
    sections = section_paths(file) if file else {Section(""): pattern_paths(request.patterns)}
    setup = _setup(binder, request)
    looms = {} if request.loom else _section_looms(binder, setup.plans.looms)
    cards, problems = _drawn_cards(
        sections, setup, looms, request, around=_around(binder), uses_are_headings=binder.by == "use"
    )
    if problems and (request.strict or old or not cards):
        raise ProblemsFound(problems)
    units = setup.units or setup.layout.units
    headings = _headings(binder, sections, cards, units)
    leaf = _leaf(setup)
    if old and request.since:
        require_same_paper(old, leaf, duplex=binder.duplex, path=request.since)
    not_made = typeface_check.in_available_letters(problems)
    parts = Parts(binder, headings, setup.plans.looms, not_made, leaf, units, has_backs=setup.with_back)
    sources = [source for card in cards.values() for source in card.sources]
    files = files_with_command(
        sources, None if problems else binder_command(binder, request, setup, cards, _around(binder))
    )
    about = About(binder.title, binder.about, author=binder.credit, facts={DIGEST: content_digest(files)})
    count, left_out = len(cards), {card.entry.anchor: card.left_out for card in cards.values()}
    try:
        bound = bound_binder(parts, cards, about, files, old, quiet=request.quiet)
    except (TooWide, UnsettledPages) as error:
        raise WrongUsage(f"{setup.paper.name} is too small for a binder's contents: {error}.") from None
    lacking = _left_out(facts for anchor, facts in left_out.items() if anchor in bound.anchors)
    return FinishedBinder(bound.pdf, bound.pages, count, tuple(problems), lacking, bound.change)


def _around(binder: Binder) -> Path | None:
    """The folder laid out as hers that a binder file lies in, if it is another than hers."""
    return file_lookup.folder_around(Path(binder.places.file), "binder")


def _with_request(file: Binder | None, request: BinderRequest) -> Binder:
    """The binder file, or an empty one, with what the command asks for instead. Raises WrongUsage, ProblemsFound."""
    if file is not None and file.sections and request.by:
        raise WrongUsage("A binder file has its own sections: leave --by out.")
    binder = file or Binder(TITLE)
    title, duplex = request.title or binder.title, request.duplex or binder.duplex
    binder = replace(binder, title=title, by=request.by, duplex=duplex)
    if signs := lacks(title, typeface_check.HEADING) if request.title else ():
        raise WrongUsage(f"--title: the type has no {', no '.join(map(typeface_check.with_name, signs))}.")
    if problems := typeface_check.binder_problems(binder):
        raise ProblemsFound(problems)
    return binder


def _setup(binder: Binder, request: BinderRequest) -> CardSetup:
    """What is the same for every card. Raises WrongUsage, ProblemsFound."""
    settings = loading.load_settings()
    named = _file_named("layout", None, binder) if request.layout is None else None
    file = named or only_layout(request.layout, settings)
    layout = loading.load_layout(file)
    at_home = not request.layout or paper_named(layout, binder.paper) is not None
    paper = paper_of(layout, request.paper or (binder.paper if at_home else "") or None, settings.paper)
    loom = ANY if request.loom == ANY else _file_named("loom", request.loom, binder)
    units = request.units or binder.units or settings.units
    with_back = binder.duplex and bool(layout.back)
    sides = layout.as_back(paper) if with_back else layout
    at_hand = AtHand(request.looms, request.places, request.prefer)
    plans = plan_making.load_plan_setup_for(sides, str(loom) if loom else None, units=units, at_hand=at_hand)
    plans = plan_making.as_asked(plans, request.hand, request.side)
    if problems := typeface_check.loom_problems(plans.looms):
        raise ProblemsFound(problems)
    return CardSetup(plans, layout, paper, units, with_back=with_back)


def _file_named(kind: file_lookup.Kind, requested: str | None, binder: Binder) -> Path | None:
    """The layout or loom that the command names, else the binder file. Raises WrongUsage, ProblemsFound at the key."""
    if requested:
        return file_lookup.find(kind, requested)
    name = binder.layout if kind == "layout" else binder.loom
    return _file_at(kind, name, binder, (kind,)) if name else None


def _file_at(kind: file_lookup.Kind, name: str, binder: Binder, path: KeyPath) -> Path:
    """The file that the binder names at ``path``. Raises ProblemsFound there."""
    try:
        return file_lookup.yaml_file(file_lookup.find(kind, name, _around(binder)), name)
    except WrongUsage as error:
        raise ProblemsFound([problem_from(Refusal(path, str(error), ""), binder.places)]) from None


def _section_looms(binder: Binder, at_hand: Sequence[Loom]) -> dict[str, Loom]:
    """The loom of every section that names one, by the section's title. Raises ProblemsFound."""
    looms: dict[str, Loom] = {}
    for number, section in enumerate(binder.sections):
        if section.loom:
            file = _file_at("loom", section.loom, binder, ("sections", number, "loom"))
            loom = next((each for each in at_hand if each.places.file == str(file)), None)
            looms[section.title] = loom or loading.load_loom(file)
    if problems := typeface_check.loom_problems(tuple(looms.values())):
        raise ProblemsFound(problems)
    return looms


def _drawn_cards(
    sections: Mapping[Section, Sequence[Path]],
    setup: CardSetup,
    looms: Mapping[str, Loom],
    request: BinderRequest,
    *,
    around: Path | None,
    uses_are_headings: bool,
) -> tuple[dict[str, BinderCard], list[Problem]]:
    """Every card by its path, for the loom of the section that it stands in; and the problems of those that cannot be
    made. All files are read before the first card is drawn: a yarn has one hatching in the whole binder.
    """
    placed = [(path, looms.get(section.title)) for section, inside in sections.items() for path in inside]
    own_looms = dict(reversed(placed))  # of a card that is named twice, the first
    paths = list(dict.fromkeys(path for path, _ in placed))
    with parallel_answers(partial(_pattern_or_problems, around), paths, request.jobs) as read:
        patterns = list(with_progress_bar(read, len(paths), "reading", quiet=request.quiet))
    setup = replace(setup, hatches=settled_hatches(each for each in patterns if isinstance(each, Pattern)))
    cards: dict[str, BinderCard] = {}
    problems: list[Problem] = []
    anchors = _anchors(paths)
    things = [(anchors[path], pattern, own_looms[path]) for path, pattern in zip(paths, patterns, strict=True)]
    with parallel_answers(partial(_card_or_problems, setup, uses_are_headings), things, request.jobs) as answers:
        answers_with_bar = with_progress_bar(answers, len(paths), "drawing", quiet=request.quiet)
        for path, answer in zip(paths, answers_with_bar, strict=True):
            if isinstance(answer, BinderCard):
                cards[str(path)] = answer
            else:
                problems += answer
    return cards, problems


def _anchors(paths: Sequence[Path]) -> dict[Path, str]:
    """The name of each card's page: that of its file, so that the same files make the same binder in any folder."""
    anchors: dict[Path, str] = {}
    counts: Counter[str] = Counter()
    for path in paths:
        counts[path.name] += 1
        again = f" {counts[path.name]}" if counts[path.name] > 1 else ""
        anchors[path] = f"{CARD_PAGE}{path.name}{again}"
    return anchors


def _pattern_or_problems(around: Path | None, path: Path) -> Pattern | tuple[Problem, ...]:
    try:
        return loading.load_pattern(path, around)
    except ProblemsFound as error:
        return error.problems


def _card_or_problems(
    setup: CardSetup, uses_are_headings: bool, thing: tuple[str, Pattern | tuple[Problem, ...], Loom | None]
) -> BinderCard | tuple[Problem, ...]:
    """One card with what the binder must know of it, or the problems of its file."""
    anchor, pattern, loom = thing
    if not isinstance(pattern, Pattern):
        return pattern
    if loom is not None:
        plans = setup.plans
        setup = replace(setup, plans=replace(plans, loom=loom, looms=plan_making.with_loom(plans.looms, loom)))
    if nothing := card_making.nothing_to_say(setup.layout, pattern):
        return (nothing,)
    try:
        plan = plan_making.plan_for(pattern, setup.plans)
        drawn = card_making.draw_card(
            plan, setup.layout, setup.paper, setup.units, hatches=setup.hatches, with_back=setup.with_back
        )
    except ProblemsFound as error:
        return error.problems
    box, marks, alt_text = face_repeat(plan, setup.hatches)
    name, form = form_of(marks)
    entry = _entry(plan, anchor, TapeFace(name, box.width, box.height, alt_text))
    if problems := typeface_check.entry_problems(entry, plan.pattern.places, uses_are_headings=uses_are_headings):
        return problems
    photograph = photograph_name(plan)
    packed = zlib.compress(pickle.dumps(drawn.sides), 1)
    return BinderCard(entry, packed, form, print_digest(drawn.front), sources_of(plan), drawn.left_out, photograph)


def _entry(plan: Plan, anchor: str, face: TapeFace) -> Entry:
    pattern = plan.pattern
    holding = [fit.title for fit in plan.other_looms if fit.placement is not None]
    return Entry(
        anchor=anchor,
        title=pattern.title,
        code=pattern.code,
        ends=plan.ends,
        width_mm=plan.width.likely_mm,
        colours={colour.yarn: colour.ends for colour in plan.colours},
        purposes=pattern.purposes,
        grade=pattern.source.grade if pattern.source else "",
        looms=tuple(sorted({plan.loom.title, *holding})),
        loom=plan.loom.title,
        face=face,
        about=pattern.about,
    )


def _left_out(cards: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    """Each fact that found no room on some cards, the one that most cards lack first."""
    counts = Counter(fact for left_out in cards for fact in facts_in_words(left_out))
    return tuple(f"{fact} (on {plural(count, 'card')})" for fact, count in counts.most_common())


def _headings(
    binder: Binder, sections: Mapping[Section, Sequence[Path]], cards: Mapping[str, BinderCard], units: Units
) -> tuple[SectionHeading, ...]:
    """The binder file's own sections, or those that the order asked for makes."""
    if not binder.sections:
        entries = [cards[str(path)].entry for paths in sections.values() for path in paths if str(path) in cards]
        return arranged(entries, binder.by, units)
    headings = []
    entries_left = {path: card.entry for path, card in cards.items()}
    for section, paths in sections.items():
        entries = [entries_left.pop(path) for path in map(str, paths) if path in entries_left]
        headings.append(SectionHeading(section.title, tuple(entries), section.text))
    return tuple(headings)


def _leaf(setup: CardSetup) -> Leaf:
    layout = setup.layout
    binds = layout.binding_side != "none"
    return Leaf(
        setup.paper,
        RULER,
        margin_mm=layout.margin_mm,
        binding_mm=layout.binding_mm if binds else layout.margin_mm,
        binding_side=layout.binding_side if binds else "left",
    )
