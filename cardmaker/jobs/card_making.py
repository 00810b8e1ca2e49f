"""``card``: patterns planned, composed, drawn and written as PDFs; many over all cores, in the order asked for."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from cardmaker.files import write_many
from cardmaker.jobs import loading, lookup, plan_making
from cardmaker.jobs.carrying import carried_files, content_digest, sources_of
from cardmaker.jobs.lookup import WrongUsage
from cardmaker.jobs.parallel import parallel_answers, with_progress_bar
from cardmaker.model.card_layout import CardLayout, Paper
from cardmaker.model.carried import CODE, DIGEST, VERSION, About
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Plan
from cardmaker.model.problems import Places, Problem, ProblemsFound, Refusal, problem_from
from cardmaker.wording.measures import Units

if TYPE_CHECKING:
    from cardmaker.card.viewpoint import Viewpoint
    from cardmaker.pdf.draft import Draft
    from cardmaker.wording.change_words import Replaced

_VARIANTS: Final = {"left": "for a left hand", "behind": "threaded from behind"}  # named in a file's name, and told


class CardRequest(NamedTuple):
    """What the command asks for."""

    patterns: Sequence[str]
    layout: str
    paper: str | None
    out: Path
    hand: Literal["right", "left"]
    side: Literal["front", "behind"] | None  # None: as the loom says
    loom: str | None
    pegs: str | None
    warp: Fraction | None
    units: Units | None
    supersedes: Path | None
    preview: bool
    quiet: bool


class CardSetup(NamedTuple):
    """What is the same for every card of one call."""

    plans: plan_making.PlanSetup
    layout: CardLayout
    paper: Paper
    units: Units | None


class WrittenCard(NamedTuple):
    """The file of a card, what kind of card it is, and what found no room on it."""

    target: Path
    description: str
    left_out: tuple[str, ...]


class Card(NamedTuple):
    """A finished card: its PDF, its picture where one is wanted, its loom, and what found no room on it."""

    pdf: bytes
    loom: str
    left_out: tuple[str, ...]
    png: bytes | None = None


class DrawnCard(NamedTuple):
    """A card's page, drawn but not yet part of a document, and what found no room on it."""

    draft: Draft
    left_out: tuple[str, ...]


@contextmanager
def write_cards(request: CardRequest) -> Iterator[Iterator[WrittenCard | tuple[Problem, ...]]]:
    """For each pattern its card, once it is written, or its problems, in order, while the context lasts.

    Raises WrongUsage, ProblemsFound, CannotWrite.
    """
    paths = [lookup.find("pattern", name) for name in request.patterns]
    layout = loading.load_layout(lookup.find("layout", request.layout))
    paper = paper_of(layout, request.paper)
    variants = [word for word in _VARIANTS if word in (request.hand, request.side)]
    targets = _targets(paths, request.out, "-".join((layout.stem, *variants)))
    setup = load_card_setup(layout, paper, request.units, request.loom, request.warp, request.pegs)
    if request.supersedes and len(paths) > 1:
        raise WrongUsage("--supersedes is for one card at a time.")
    described = ", ".join((paper.name, *(_VARIANTS[word] for word in variants)))
    quiet = request.quiet or sys.stdout.isatty()  # what is told on a terminal is progress enough
    with parallel_answers(partial(_card_or_problems, request, setup), paths) as cards:
        yield _written(with_progress_bar(cards, len(paths), "drawing", quiet=quiet), targets, described)


def paper_of(layout: CardLayout, name: str | None) -> Paper:
    """The layout's own first paper, or the one named. Raises WrongUsage."""
    for paper in layout.papers:
        if name in (None, paper.name):
            return paper
    names = ", ".join(paper.name for paper in layout.papers)
    raise WrongUsage(f"{layout.title} has no paper '{name}'; it has {names}.")


def _targets(paths: Sequence[Path], out: Path, suffix: str) -> list[Path]:
    """Where each card is written. Raises WrongUsage when two would share a file."""
    if out.suffix.lower() == ".pdf" and not out.is_dir():
        if len(paths) > 1:
            raise WrongUsage(f"{out} is one file, but {len(paths)} cards were asked for: name a folder.")
        return [out]
    targets = [out / f"{path.stem}-{suffix}.pdf" for path in paths]
    for target in targets:
        if targets.count(target) > 1:
            raise WrongUsage(f"Two of the patterns would be written to {target}: give them different file names.")
    return targets


def load_card_setup(
    layout: CardLayout,
    paper: Paper,
    units: Units | None,
    loom: str | None,
    warp_mm: Fraction | None = None,
    pegs: str | None = None,
) -> CardSetup:
    """Looms and pegs as far as the layout's panels ask for them. Raises WrongUsage and ProblemsFound."""
    any_pegs, in_full = plan_making.shows_pegs(layout), plan_making.asks_bench(layout)
    plans = plan_making.load_plan_setup(loom, warp_mm, pegs, any_pegs=any_pegs, in_full=in_full)
    return CardSetup(plans, layout, paper, units)


def _card_or_problems(request: CardRequest, setup: CardSetup, path: Path) -> Card | tuple[Problem, ...]:
    """One card, or what keeps its file from becoming one. Raises WrongUsage where a preview cannot be made."""
    from cardmaker.card.viewpoint import Viewpoint

    try:
        plan = plan_making.plan_for(loading.load_pattern(path), setup.plans)
        from_behind = request.side == "behind" if request.side else plan.loom.threads_from == "back"
        viewpoint = Viewpoint(request.hand == "left", from_behind)
        replaced = _replaced(plan.pattern, request.supersedes)
        card = make_card(plan, setup.layout, setup.paper, setup.units, viewpoint, replaced)
    except ProblemsFound as found:
        return found.problems
    return card._replace(png=_preview(card.pdf)) if request.preview else card


def _replaced(pattern: Pattern, old: Path | None) -> Replaced | None:
    if old is None:
        return None
    from cardmaker.jobs.restoring import replaced_by

    return replaced_by(pattern, old)


def _preview(pdf: bytes) -> bytes:
    from cardmaker.pdf.preview import preview_png

    try:
        return preview_png(pdf)
    except ModuleNotFoundError as error:
        raise WrongUsage(str(error)) from None


def make_card(
    plan: Plan,
    layout: CardLayout,
    paper: Paper,
    units: Units | None,
    viewpoint: Viewpoint | None = None,
    replaced: Replaced | None = None,
) -> Card:
    """One page, painted; the files that it was made from are in it. Raises ProblemsFound."""
    from cardmaker.pdf.lazy_import import import_when_touched

    import_when_touched("PIL", "Image")
    from cardmaker.pdf.painter import paint_drafts

    drawn = draw_card(plan, layout, paper, units, viewpoint, replaced)
    pattern, files = plan.pattern, carried_files(sources_of(plan))
    facts = {CODE: pattern.code, VERSION: pattern.version, DIGEST: content_digest(files)}
    about = About(drawn.draft.title, pattern.about, pattern.code, facts=facts)
    return Card(paint_drafts([drawn.draft], about, files), plan.loom.title, drawn.left_out)


def draw_card(
    plan: Plan,
    layout: CardLayout,
    paper: Paper,
    units: Units | None,
    viewpoint: Viewpoint | None = None,
    replaced: Replaced | None = None,
) -> DrawnCard:
    """One page, drawn. Raises ProblemsFound."""
    from cardmaker.card.composing import compose_card
    from cardmaker.card.viewpoint import Viewpoint
    from cardmaker.pdf.draft import draft_of
    from cardmaker.pdf.fonts import TypeRuler

    places = plan.pattern.places
    try:
        composed = compose_card(plan, layout, paper, TypeRuler(), units, viewpoint or Viewpoint(), replaced)
    except Refusal as refusal:
        raise ProblemsFound([problem_from(refusal, places)]) from None
    draft = draft_of(composed.page)
    if draft.missing:
        raise ProblemsFound(_unprintable(dict.fromkeys(sign for sign, _ in draft.missing), places))
    return DrawnCard(draft, composed.left_out)


def _unprintable(signs: Iterable[str], places: Places) -> Iterator[Problem]:
    """A problem for each sign that the type lacks."""
    from cardmaker.pdf.fonts import character_name

    for sign in signs:
        name = character_name(sign)
        message = f"The card's typeface has no '{sign}' ({name})." if sign.isprintable() else f"It has {name}."
        yield Problem(places.file, places.of(()), "", message, "Write it in other characters.")


def _written(
    cards: Iterable[Card | tuple[Problem, ...]], targets: Sequence[Path], described: str
) -> Iterator[WrittenCard | tuple[Problem, ...]]:
    for card, target in zip(cards, targets, strict=True):
        if isinstance(card, Card):
            write_many({target: card.pdf} | ({} if card.png is None else {target.with_suffix(".png"): card.png}))
            yield WrittenCard(target, f"{card.loom}, {described}", card.left_out)
        else:
            yield card
