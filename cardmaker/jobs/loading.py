"""Files that a job asks for by name: read, checked as far as their kind allows, or refused with all their problems."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from cardmaker.jobs.lookup import at_hand
from cardmaker.model.card_layout import CardLayout
from cardmaker.model.carried import LARGEST_FILE
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern
from cardmaker.model.problems import Place, Problem, ProblemsFound, Refusal, problem_from
from cardmaker.reading.read_file import kind_of_file, read_card_layout, read_loom, read_pattern_draft, read_pegs
from cardmaker.reckoning.amounts.yarn_counts import count_refusals
from cardmaker.reckoning.stripes.stripe_counts import stripe_refusals

if TYPE_CHECKING:
    from cardmaker.model.peg_plan import Pegs


def load_pattern(path: Path) -> Pattern:
    """The pattern in a file, its stripes and counts checked as well. Raises ProblemsFound with all its problems."""
    pattern, problems = pattern_with_problems(path)
    if problems or pattern is None:
        raise ProblemsFound(problems)
    return pattern


def problem_of_kind(path: Path, wanted: str) -> list[Problem]:
    """One plain problem for a file of another kind than is wanted, instead of one for every key of it."""
    try:
        kind = kind_of_file(path.read_bytes()) if path.is_file() and path.stat().st_size <= LARGEST_FILE else None
    except OSError:
        kind = None
    if kind in (None, wanted):
        return []
    message = f"This is a {kind} file." if kind != "pegs" else "This file describes pegs."
    return [Problem(str(path), Place(), "", message, f"A {wanted} file is wanted here.")]


def pattern_with_problems(path: Path) -> tuple[Pattern | None, list[Problem]]:
    """What reading finds and what reckoning refuses, together, so that one look shows everything."""
    if other := problem_of_kind(path, "pattern"):
        return None, other
    draft = read_pattern_draft(path)
    refusals: list[Refusal] = []
    if draft.warp is not None:
        refusals += stripe_refusals(draft.warp, draft.mirror, draft.stated_ends)
    if draft.pattern is not None:
        refusals += count_refusals(draft.pattern)
    return draft.pattern, [*draft.problems, *(problem_from(refusal, draft.places) for refusal in refusals)]


def load_looms(*, sound_only: bool = False) -> tuple[Loom, ...]:
    """All looms at hand; with ``sound_only`` those whose files have no problems. Raises ProblemsFound."""
    looms = []
    for path in at_hand("loom").values():
        try:
            looms.append(read_loom(path))
        except ProblemsFound:
            if not sound_only:
                raise
    return tuple(looms)


def load_pegs() -> tuple[Pegs, ...]:
    """All places to wind a warp at hand. Raises ProblemsFound."""
    return tuple(read_pegs(path) for path in at_hand("pegs").values())


def load_layout(path: Path) -> CardLayout:
    """A card layout whose panels all exist. Raises ProblemsFound."""
    from cardmaker.card.composing import unknown_panels

    layout = read_card_layout(path)
    unknown = unknown_panels(layout)
    if unknown:
        raise ProblemsFound(problem_from(refusal, layout.places) for refusal in unknown)
    return layout
