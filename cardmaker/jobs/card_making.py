"""``card``: a plan composed, drawn and painted as a PDF; many files over all cores, in the order asked for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from cardmaker.jobs import card_making, loading, plan_making
from cardmaker.jobs.carrying import carried_files, content_digest
from cardmaker.jobs.lookup import WrongUsage
from cardmaker.jobs.parallel import parallel_answers
from cardmaker.jobs.plan_making import Equipment
from cardmaker.model.card_layout import CardLayout, Paper
from cardmaker.model.carried import CODE, DIGEST, VERSION, About
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Plan
from cardmaker.model.problems import Places, Problem, ProblemsFound, Refusal, problem_from
from cardmaker.model.records import record
from cardmaker.wording.measures import Units

if TYPE_CHECKING:
    from cardmaker.card.sheet import Viewpoint
    from cardmaker.pdf.draft import Draft
    from cardmaker.wording.change_words import Replaced


class CardRequest(NamedTuple):
    """What is the same for every card of one call."""

    bench: Equipment
    layout: CardLayout
    paper: Paper
    units: Units | None
    left_hand: bool
    behind: bool | None  # None: as the loom says
    supersedes: Path | None
    preview: bool


class WrittenCard(NamedTuple):
    """A card as it is written: its PDF, its picture where one is wanted, its loom, and what found no room on it."""

    pdf: bytes
    png: bytes | None
    loom: str
    left_out: tuple[str, ...]


Answer = WrittenCard | tuple[Problem, ...]


@contextmanager
def cards_of_files(wish: CardRequest, paths: Sequence[Path]) -> Iterator[Iterator[Answer]]:
    """For each file its card or its problems, in order, while the context lasts. Raises WrongUsage."""
    with parallel_answers(partial(card_of_file, wish), paths) as found:
        yield found


def card_of_file(wish: CardRequest, path: Path) -> Answer:
    """One card, or what keeps its file from becoming one. Raises WrongUsage where a preview cannot be made."""
    from cardmaker.card.sheet import Viewpoint

    try:
        plan = plan_making.plan_for(loading.load_pattern(path), wish.bench)
        behind = plan.loom.threads_from == "back" if wish.behind is None else wish.behind
        replaces = _replaces(plan.pattern, wish.supersedes)
        seen = Viewpoint(wish.left_hand, behind)
        card = card_making.make_card(plan, wish.layout, wish.paper, wish.units, seen, replaces)
    except ProblemsFound as found:
        return found.problems
    return WrittenCard(card.pdf, _preview(card.pdf) if wish.preview else None, plan.loom.title, card.left_out)


def _replaces(pattern: Pattern, old: Path | None) -> Replaced | None:
    if old is None:
        return None
    from cardmaker.jobs.restoring import replaced_by

    return replaced_by(pattern, old)


def _preview(pdf: bytes) -> bytes:
    from cardmaker.pdf.preview import preview_png

    try:
        return preview_png(pdf)
    except ModuleNotFoundError as missing:
        raise WrongUsage(str(missing)) from None


def paper_of(layout: CardLayout, name: str | None) -> Paper:
    """The layout's own first paper, or the one named. Raises WrongUsage."""
    if name is None:
        return layout.papers[0]
    for paper in layout.papers:
        if paper.name == name:
            return paper
    raise WrongUsage(
        f"{layout.title} has no paper '{name}'; it has {', '.join(paper.name for paper in layout.papers)}."
    )


@record
class Card:
    """A finished card: the file's bytes, and what found no room on it."""

    pdf: bytes
    left_out: tuple[str, ...]


class DrawnCard(NamedTuple):
    """A card's page, drawn but not yet part of a document, and what found no room on it."""

    draft: Draft
    left_out: tuple[str, ...]


def make_card(
    plan: Plan,
    layout: CardLayout,
    paper: Paper,
    units: Units | None,
    seen: Viewpoint | None = None,
    replaces: Replaced | None = None,
) -> Card:
    """One page, painted; the files that it was made from are in it. Raises ProblemsFound."""
    from cardmaker.pdf.lazy_import import import_when_touched

    import_when_touched("PIL", "Image")
    from cardmaker.pdf.painter import paint_drafts

    drawn = draw_card(plan, layout, paper, units, seen, replaces)
    pattern, files = plan.pattern, carried_files([plan])
    facts = {CODE: pattern.code, VERSION: pattern.version, DIGEST: content_digest(files)}
    about = About(drawn.draft.title, pattern.about, pattern.code, facts=facts)
    return Card(paint_drafts([drawn.draft], about, files), drawn.left_out)


def draw_card(
    plan: Plan,
    layout: CardLayout,
    paper: Paper,
    units: Units | None,
    seen: Viewpoint | None = None,
    replaces: Replaced | None = None,
) -> DrawnCard:
    """One page, drawn. Raises ProblemsFound."""
    from cardmaker.card.composing import compose_card
    from cardmaker.card.sheet import Viewpoint
    from cardmaker.pdf.draft import draft_of, named
    from cardmaker.pdf.fonts import TypeRuler

    places = plan.pattern.places
    try:
        composed = compose_card(plan, layout, paper, TypeRuler(), units, seen or Viewpoint(), replaces)
    except Refusal as refusal:
        raise ProblemsFound([problem_from(refusal, places)]) from None
    draft = draft_of(composed.page)
    if draft.missing:
        raise ProblemsFound(unprintable_problems(named(draft.missing), places))
    return DrawnCard(draft, composed.left_out)


def unprintable_problems(missing: Sequence[tuple[str, str, object]], places: Places) -> Iterable[Problem]:
    seen = dict.fromkeys((character, name) for character, name, _ in missing)
    for character, name in seen:
        message = (
            f"The card's typeface has no '{character}' ({name})." if character.isprintable() else f"It has {name}."
        )
        yield Problem(places.file, places.of(()), "", message, "Write it in other characters.")
