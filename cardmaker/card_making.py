"""Single cards from many files: over all cores where that pays, told of one by one in the order asked for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from cardmaker import workshop
from cardmaker.composing.measures import Units
from cardmaker.many import answers
from cardmaker.nouns.card_layout import CardLayout, Paper
from cardmaker.problems import Problem, ProblemsFound
from cardmaker.workshop import Bench, WrongUsage

if TYPE_CHECKING:
    from cardmaker.composing.change_words import Replaced
    from cardmaker.nouns.pattern import Pattern


class Wish(NamedTuple):
    """What is the same for every card of one call."""

    bench: Bench
    layout: CardLayout
    paper: Paper
    units: Units | None
    left_hand: bool
    behind: bool | None  # None: as the loom says
    supersedes: Path | None
    preview: bool


class Made(NamedTuple):
    """A card as it is written: its PDF, its picture where one is wanted, its loom, and what found no room on it."""

    pdf: bytes
    png: bytes | None
    loom: str
    left_out: tuple[str, ...]


Answer = Made | tuple[Problem, ...]


@contextmanager
def cards(wish: Wish, paths: Sequence[Path]) -> Iterator[Iterator[Answer]]:
    """For each file its card or its problems, in order, while the context lasts. Raises WrongUsage."""
    with answers(partial(make, wish), paths) as found:
        yield found


def make(wish: Wish, path: Path) -> Answer:
    """One card, or what keeps its file from becoming one. Raises WrongUsage where a preview cannot be made."""
    from cardmaker.composing.card import Seen

    try:
        plan = workshop.plan_for(workshop.load_pattern(path), wish.bench)
        behind = plan.loom.threads_from == "back" if wish.behind is None else wish.behind
        replaces = _replaces(plan.pattern, wish.supersedes)
        seen = Seen(wish.left_hand, behind)
        card = workshop.make_card(plan, wish.layout, wish.paper, wish.units, seen, replaces)
    except ProblemsFound as found:
        return found.problems
    return Made(card.pdf, _preview(card.pdf) if wish.preview else None, plan.loom.title, card.left_out)


def _replaces(pattern: Pattern, old: Path | None) -> Replaced | None:
    if old is None:
        return None
    from cardmaker.giving_back import replaced_by

    return replaced_by(pattern, old)


def _preview(pdf: bytes) -> bytes:
    from cardmaker.writing.preview import preview_png

    try:
        return preview_png(pdf)
    except ModuleNotFoundError as missing:
        raise WrongUsage(str(missing)) from None
