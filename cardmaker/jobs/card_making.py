"""``card``: patterns planned, composed, drawn and written as PDFs; many over all cores, in the order asked for."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from fractions import Fraction
from functools import partial
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from cardmaker.card.facts import FACTS, facts_in_words
from cardmaker.files import twins_among, write_many
from cardmaker.jobs import file_lookup, loading, plan_making
from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.jobs.files_to_carry import MakingCommand, content_digest, files_with_command, sources_of
from cardmaker.jobs.layout_lookup import asked_layouts, asked_papers
from cardmaker.jobs.making_commands import card_command
from cardmaker.jobs.own_settings import ANY, ANY_LAYOUT, AtHand, own_out
from cardmaker.jobs.paper_lookup import paper_of
from cardmaker.jobs.parallel import parallel_answers, with_progress_bar
from cardmaker.model.card_layout import CardLayout, Paper
from cardmaker.model.carried_file import CODE, DIGEST, VERSION, About
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Plan
from cardmaker.model.problems import Place, Problem, ProblemsFound, Refusal, problem_from
from cardmaker.model.record_class import record, replace
from cardmaker.model.settings import Settings
from cardmaker.wording.formatters import Units

if TYPE_CHECKING:
    from cardmaker.layout.yarn_inks import Hatches
    from cardmaker.model.marks import Page
    from cardmaker.pdf.draft import Draft
    from cardmaker.wording.change_words import Replaced

_VARIANTS: Final = {"left": "for a left hand", "behind": "threaded from behind"}  # named in a file's name, and told


@record
class CardRequest:
    """What the command asks for; what is left out is as the settings say, or as usual."""

    patterns: Sequence[str]
    layout: str | None
    paper: str | None
    out: Path | None
    hand: Literal["right", "left"] | None
    side: plan_making.AskedSide | None
    loom: str | None
    pegs: str | None
    warp: Fraction | None
    units: Units | None
    supersedes: Path | None
    preview: bool
    back: bool
    quiet: bool
    looms: Sequence[str] | None = None
    places: Sequence[str] | None = None


@record
class CardSetup:
    """What is the same for every card of one call."""

    plans: plan_making.PlanSetup
    layout: CardLayout
    paper: Paper
    units: Units | None
    hatches: Hatches | None = None  # of the yarns of a whole binder; a card by itself has its own
    with_back: bool = False


@record
class DrawnCard:
    """Its page, drawn but not yet part of a document, and the page behind it; what found no room, and what is behind.

    Facts by name.
    """

    front: Draft
    back: Draft | None
    left_out: tuple[str, ...]
    on_back: tuple[str, ...]

    @property
    def sides(self) -> list[Draft]:
        """The pages in the order of printing."""
        return [self.front, *([self.back] if self.back else [])]


@record
class Card:
    """A finished card: its PDF, what found no room on it and what stands on its back, what kind of card it is, its
    picture if one is wanted, and the stem of its pattern."""

    pdf: bytes
    left_out: tuple[str, ...]
    on_back: tuple[str, ...] = ()
    description: str = ""
    png: bytes | None = None
    pattern: str = ""


Answer = Card | tuple[Problem, ...]


@contextmanager
def write_cards(request: CardRequest) -> Iterator[Iterator[tuple[Path, Answer]]]:
    """For each card its file, with the card once it is written, or the problems of a pattern, in order, while the
    context lasts. Of one pattern all cards are written or none.

    Raises WrongUsage, ProblemsFound, CannotWrite.
    """
    settings = loading.load_settings()
    request = replace(request, hand=request.hand or settings.hand, side=request.side or settings.side)
    paths = [file_lookup.find("pattern", name) for name in request.patterns]
    for_any = ANY_LAYOUT if request.loom == ANY else None
    layouts = asked_layouts(request.layout or for_any, settings)
    papers = asked_papers(layouts, request.paper)
    setups = [_setup(request, settings, *each) for each in zip(layouts, papers, strict=True)]
    works = [_Work(path, setup) for path in paths for setup in setups]
    targets = _targets(works, request.out or own_out(settings), _variants(request))
    if request.supersedes and len(works) > 1:
        raise WrongUsage("--supersedes is for one card at a time.")
    quiet = request.quiet or sys.stdout.isatty()  # what is told on a terminal is progress enough
    with parallel_answers(partial(_card_or_problems, request, len(works) == 1), works) as answers:
        yield _written(with_progress_bar(answers, len(works), "drawing", quiet=quiet), works, targets)


class _Work(NamedTuple):
    """One card to make."""

    path: Path
    setup: CardSetup


def _setup(request: CardRequest, settings: Settings, layout: CardLayout, paper_name: str | None) -> CardSetup:
    paper = paper_of(layout, paper_name, request.paper or settings.paper)
    if request.back and not layout.back:
        raise WrongUsage(f"{layout.title} has no back: its file has no 'back' rows.")
    sides = layout.as_back(paper) if request.back else layout
    at_hand = AtHand(request.looms, request.places)
    plans = plan_making.load_plan_setup_for(sides, request.loom, request.warp, request.pegs, request.units, at_hand)
    plans = plan_making.as_asked(plans, request.hand, request.side)
    return CardSetup(plans, layout, paper, request.units or settings.units, with_back=request.back)


def _variants(request: CardRequest) -> list[str]:
    return [word for word in _VARIANTS if word in (request.hand, request.side)]


_NO_FOLDERS: Final = frozenset({".png", ".jpg", ".jpeg", ".svg", ".docx", ".txt", ".html", ".yaml", ".yml"})


def _targets(works: Sequence[_Work], out: Path, variants: Sequence[str]) -> list[Path]:
    """Where each card is written. Raises WrongUsage when two would share a file, here or on some other system."""
    if out.suffix.lower() == ".pdf" and not out.is_dir():
        if len(works) > 1:
            raise WrongUsage(f"{out} is one file, but {len(works)} cards were asked for: name a folder.")
        return [out]
    if out.suffix.lower() in _NO_FOLDERS and not out.exists():
        raise WrongUsage(f"{out} is no name for a card, which is a PDF. Write --out {out.with_suffix('.pdf')}.")
    targets = [out / f"{'-'.join((path.stem, setup.layout.stem, *variants))}.pdf" for path, setup in works]
    if twins := twins_among(targets):
        from cardmaker.wording.layout_words import one_file

        of_one = len({work.path for work, target in zip(works, targets, strict=True) if target in twins}) == 1
        raise WrongUsage(one_file("cards" if of_one else "patterns", *map(str, twins)))
    return targets


def _card_or_problems(request: CardRequest, alone: bool, work: _Work) -> Answer:
    """One card, or what keeps its file from becoming one. Raises WrongUsage where a preview cannot be made."""
    path, setup = work.path, work.setup
    try:
        pattern = loading.load_pattern(path)
        if nothing := nothing_to_say(setup.layout, pattern):
            return (replace(nothing, is_note=not alone),)
        plan = plan_making.plan_for(pattern, setup.plans)
        replaced = _replaced(plan.pattern, request.supersedes)
        command = card_command(plan, setup, request.supersedes)
        card = make_card(plan, setup.layout, setup.paper, setup.units, replaced, command, with_back=setup.with_back)
    except ProblemsFound as error:
        return error.problems
    words = (_VARIANTS[word] for word in (plan.view.hand, plan.view.side) if word in _VARIANTS)
    description = ", ".join((plan.loom.title, setup.paper.name, *words))
    png = _preview(card.pdf) if request.preview else None
    return replace(card, description=description, png=png, pattern=path.stem)


def nothing_to_say(layout: CardLayout, pattern: Pattern) -> Problem | None:
    """Why a tape has no such card, if it has none: no fault of its file, so of many patterns it is passed over."""
    if layout.needs == "end":
        from cardmaker.wording.lost_end_words import NAME_ONE, NO_END

        remedy = NAME_ONE.format(pattern=pattern.stem)
        return problem_from(Refusal(("title",), f"{pattern.title}: {NO_END}", remedy), pattern.places)
    if layout.needs in {"nothing", "no loom"} or pattern.pickup is not None:
        return None
    from cardmaker.wording.pickup_words import NO_FIGURE, USE_HANDOUT

    return problem_from(Refusal(("title",), f"{pattern.title}: {NO_FIGURE}", USE_HANDOUT), pattern.places)


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
    replaced: Replaced | None = None,
    command: MakingCommand | None = None,
    *,
    with_back: bool = False,
) -> Card:
    """One page, or two when its back is asked for, painted; the files that it was made from are in it, and the command.

    Raises ProblemsFound.
    """
    from cardmaker.pdf.painter import paint_drafts

    drawn, stem = draw_card(plan, layout, paper, units, replaced, with_back=with_back), layout.stem
    pattern, files = plan.pattern, files_with_command(sources_of(plan), command)
    facts = {CODE: pattern.code, VERSION: pattern.version, DIGEST: content_digest(files)}
    about = About(drawn.front.title, pattern.about, pattern.code, facts=facts)
    left_out, on_back = facts_in_words(drawn.left_out, stem), facts_in_words(drawn.on_back)
    return Card(paint_drafts(drawn.sides, about, files), tuple(left_out), tuple(on_back))


def draw_card(
    plan: Plan,
    layout: CardLayout,
    paper: Paper,
    units: Units | None,
    replaced: Replaced | None = None,
    hatches: Hatches | None = None,
    *,
    with_back: bool = False,
) -> DrawnCard:
    """The pages of a card, drawn. Raises ProblemsFound."""
    from cardmaker.card.composing import compose_card
    from cardmaker.pdf.fonts import RULER

    places = plan.pattern.places
    try:
        composed = compose_card(plan, layout, paper, RULER, units, replaced, hatches=hatches, with_back=with_back)
    except Refusal as refusal:
        raise ProblemsFound([problem_from(refusal, places)]) from None
    front, *others = _drafts(plan, [side.page for side in (composed, composed.back) if side])
    on_back = [fact for fact in FACTS if composed.back and fact in composed.back.printed - {"title"}]
    return DrawnCard(front, next(iter(others), None), composed.left_out, tuple(on_back))


def _drafts(plan: Plan, pages: Sequence[Page]) -> list[Draft]:
    """The pages drawn. Raises ProblemsFound where the type lacks a sign."""
    from cardmaker.pdf.draft import draft_of

    drafts = [draft_of(page) for page in pages]
    if missing := dict.fromkeys(sign for draft in drafts for sign, _ in draft.missing):
        from cardmaker.jobs.pattern_letters import key_with_sign
        from cardmaker.jobs.typeface_check import unprintable

        pattern = plan.pattern
        raise ProblemsFound(
            unprintable(sign, pattern.places, key_with_sign(pattern, sign), "The card's") for sign in missing
        )
    return drafts


def _written(
    answers: Iterable[Answer], works: Sequence[_Work], targets: Sequence[Path]
) -> Iterator[tuple[Path, Answer]]:
    """All cards of one pattern are written together, or none of them."""
    for path, together in groupby(zip(answers, works, targets, strict=True), key=lambda each: each[1].path):
        cards = list(together)
        if wrong := _what_is_wrong(path, [(answer, setup.layout.stem) for answer, (_, setup), _ in cards]):
            yield cards[0][2], wrong
            continue
        files: dict[Path, bytes] = {}
        for answer, _, target in cards:
            if isinstance(answer, Card):
                files |= {target: answer.pdf} | ({} if answer.png is None else {target.with_suffix(".png"): answer.png})
        write_many(files)
        yield from ((target, answer) for answer, _, target in cards)


def _what_is_wrong(path: Path, answers: Sequence[tuple[Answer, str]]) -> tuple[Problem, ...]:
    """Why no card of a pattern is written: every problem once, and of several cards those that could be made; nothing
    where there are but notes. ``answers`` are with the names of the layouts."""
    problems = dict.fromkeys(each for answer, _ in answers if not isinstance(answer, Card) for each in answer)
    if all(problem.is_note for problem in problems):
        return ()
    if len(answers) == 1:
        return tuple(problems)
    from cardmaker.wording.layout_words import none_written, write_the_others

    made = [layout for answer, layout in answers if isinstance(answer, Card)]
    return (*problems, Problem(str(path), Place(), "", none_written(len(answers)), write_the_others(made)))
