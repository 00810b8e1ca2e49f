"""``resize``: a pattern in another number of ends, another width, or another yarn."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, get_args

from cardmaker.jobs.lookup import WrongUsage
from cardmaker.model.pattern import CountSystem, Fibre, Pattern, Yarn
from cardmaker.model.problems import ProblemsFound, Refusal, problem_from
from cardmaker.model.records import record
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reckoning.amounts.yarn_counts import metres_per_kg
from cardmaker.reckoning.stripes.stripe_counts import end_yarns

if TYPE_CHECKING:
    pass


@record
class ResizedFile:
    """A pattern in another size: the text of its file, and the sizes near by, a line each."""

    text: bytes
    told: tuple[str, ...]


def resize_pattern(
    pattern: Pattern, *, ends: int | None = None, width_mm: Fraction | None = None, yarn: str | None = None
) -> ResizedFile:
    """The pattern at one of: a count of ends, a width, another yarn. Raises WrongUsage and ProblemsFound."""
    from cardmaker.editing.resized_pattern import resized_text, size_lines
    from cardmaker.reckoning.stripes.new_size import to_ends, to_width, to_yarn

    kind = yarn_of(yarn) if yarn is not None else None
    try:
        if kind is not None:
            new = to_yarn(pattern, kind)
        else:
            new = to_width(pattern, width_mm) if width_mm is not None else to_ends(pattern, ends or 0)
    except Refusal as refusal:
        raise ProblemsFound([problem_from(refusal, pattern.places)]) from None
    text = resized_text(new).encode()
    made = parse_pattern(text, "the new file", pattern.stem)
    end_yarns(made)
    return ResizedFile(text, tuple(size_lines(new)))


def yarn_of(text: str) -> Yarn:
    """``cotton 8/2`` or ``wool 28/2 metric``: fibre, count, and the count's system where the fibre has none of its own.

    Raises WrongUsage.
    """
    word, _, rest = text.strip().partition(" ")
    fibres: tuple[Fibre, ...] = get_args(Fibre)
    systems: tuple[CountSystem, ...] = get_args(CountSystem)
    fibre = next((each for each in fibres if each == word), None)
    system = next((each for each in systems if rest.endswith(f" {each}")), None)
    count = rest.removesuffix(system or "").strip()
    if fibre is None or not count:
        raise WrongUsage(f"'{text}' is not a yarn. Write fibre and count, as in cotton 8/2 or wool 28/2 metric.")
    yarn = Yarn("", fibre, count, system)
    try:
        metres_per_kg(yarn)
    except Refusal as refusal:
        raise WrongUsage(f"{refusal.message} {refusal.remedy}") from None
    return yarn
