"""Every student's handout, or her slips, for a class: composed, put on sheets, and what found no room on whose."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

from cardmaker.card.facts import facts_in_words
from cardmaker.jobs.file_lookup import find
from cardmaker.jobs.loading import load_layout
from cardmaker.jobs.parallel import with_progress_bar
from cardmaker.model.problems import KeyPath, Problem, ProblemsFound, Refusal, problem_from
from cardmaker.pdf.fonts import RULER
from cardmaker.school.handout_sheets import HALF, WHOLE, compose_handout, two_up, with_backs
from cardmaker.school.handout_slips import compose_slip, slips_needed

if TYPE_CHECKING:
    from pathlib import Path

    from cardmaker.card.composing import Composed
    from cardmaker.layout.yarn_inks import Hatches
    from cardmaker.model.card_layout import CardLayout
    from cardmaker.model.marks import Page
    from cardmaker.model.school_class import ClassPlan, Kit
    from cardmaker.school.handout_sheets import Size
    from cardmaker.wording.formatters import Units

HANDOUT: Final = "handout"

_Compose = Callable[["Kit"], "list[Composed]"]


class Handouts(NamedTuple):
    """The sheets, what found no room on which handout, and the layouts that they were made by."""

    pages: tuple[Page, ...]
    left_out: tuple[str, ...]
    layouts: tuple[CardLayout, ...]


def make_handouts(
    plan: ClassPlan, size: Size, units: Units, hatches: Hatches, *, around: Path | None, quiet: bool, backs: bool
) -> Handouts:
    """Two half sheets on one, then the large ones; of a class in stages all slips of one stage after those of the one
    before it, so that each stage is a stack to give out. Raises ProblemsFound."""
    layouts = _layouts(plan, around)
    stages = _stages(plan, layouts, size, units, hatches, backs=backs)
    of_stage: list[list[tuple[Kit, list[Composed]]]] = [[] for _ in stages]
    problems: list[Problem] = []
    for kit in with_progress_bar(plan.kits, len(plan.kits), "handouts", quiet=quiet):
        for made, compose in zip(of_stage, stages, strict=True):
            try:
                made.append((kit, compose(kit)))
            except Refusal as refusal:
                problems.append(_problem(plan, kit, refusal))
                break
    if problems:
        raise ProblemsFound(problems)
    pages = [page for made in of_stage for page in _sheets(made, size, backs=backs)]
    left_out = tuple(_left_out(made for stage in of_stage for made in stage))
    return Handouts(tuple(pages), left_out, (*layouts.usual, layouts.large))


class _Layouts(NamedTuple):
    """Of the usual handout or of every slip, and of the one in large print."""

    usual: tuple[CardLayout, ...]
    large: CardLayout


def _layouts(plan: ClassPlan, around: Path | None) -> _Layouts:
    done, in_stages = plan.school_class.done, plan.school_class.in_stages
    names = [f"{HANDOUT}-{each}" for each in slips_needed(done)] if in_stages else [HANDOUT]
    usual = tuple(layout_to_give_away(name, around) for name in names)
    return _Layouts(usual, layout_to_give_away(f"{HANDOUT}-large", around))


def _stages(
    plan: ClassPlan, layouts: _Layouts, size: Size, units: Units, hatches: Hatches, *, backs: bool
) -> list[_Compose]:
    """How each card is composed that a student gets: her handout, or one slip after the other."""
    school_class = plan.school_class
    large = layouts.large

    def handout(kit: Kit) -> list[Composed]:
        layout, paper = (large, WHOLE[size]) if kit.large_print else (layouts.usual[0], HALF[size])
        wound, threaded = school_class.wound_beforehand, school_class.threaded_beforehand
        return [
            compose_handout(
                kit, layout, paper, RULER, units, hatches,
                wound_beforehand=wound, threaded_beforehand=threaded, with_back=backs,
            )
        ]  # fmt: skip

    def slip(layout: CardLayout) -> _Compose:
        return lambda kit: compose_slip(
            kit, layout, large, size, RULER, units, hatches, done=school_class.done, with_back=backs
        )

    if not school_class.in_stages:
        return [handout]
    return [slip(layout) for layout in layouts.usual]


def _sheets(made: Sequence[tuple[Kit, list[Composed]]], size: Size, *, backs: bool) -> Iterator[Page]:
    """The half sheets in pairs, then the whole ones."""
    half = [card for kit, cards in made for card in cards if not kit.large_print]
    yield from with_backs(half, size) if backs else two_up([card.page for card in half], size)
    for kit, cards in made:
        for card in cards if kit.large_print else ():
            yield from (side.page for side in (card, card.back) if side)


def _left_out(made: Iterator[tuple[Kit, list[Composed]]]) -> Iterator[str]:
    """What found no room, with the names of all whose handouts lack it."""
    owners: dict[str, list[str]] = {}
    for kit, cards in made:
        lacking = tuple(dict.fromkeys(fact for card in cards for fact in card.left_out))
        if lacking:
            owner = kit.student.name if kit.student else f"kit {kit.number}"
            owners.setdefault(", ".join(facts_in_words(lacking)), []).append(owner)
    return (f"{facts} ({', '.join(dict.fromkeys(names))})" for facts, names in owners.items())


def _problem(plan: ClassPlan, kit: Kit, refusal: Refusal) -> Problem:
    path: KeyPath = ("students", kit.number - 1) if kit.student else ("spares",)
    message = f"{kit.plan.pattern.title}: {refusal.message}"
    return problem_from(Refusal(path, message, refusal.remedy), plan.school_class.places)


def layout_to_give_away(name: str, around: Path | None) -> CardLayout:
    """The layout of a class's sheets. Raises ProblemsFound for a record, which may hold notes that no student gets."""
    layout = load_layout(find("layout", name, around))
    if layout.kind == "record":
        message = "the sheets of a class are given away, so their layout cannot be a record."
        refusal = Refusal(("kind",), message, "Write 'kind: sheet', or leave it out.")
        raise ProblemsFound([problem_from(refusal, layout.places)])
    return layout
