"""``resize``: a pattern in another number of ends, another width, or another yarn."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import NamedTuple, get_args

from cardmaker.jobs import file_lookup, loading
from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.jobs.pattern_making import refuse_to_replace
from cardmaker.model.pattern import MOST_ENDS, CountSystem, Fibre, Pattern, Yarn
from cardmaker.model.problems import ProblemsFound, Refusal, problem_from
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reckoning.amounts.yarn_counts import count_refusal
from cardmaker.reckoning.stripes.stripe_counts import end_yarns


class ResizeRequest(NamedTuple):
    """What the command asks for: one of ends, width and yarn."""

    pattern: str
    ends: int | None
    width: Fraction | None
    yarn: str | None
    out: Path | None


def resize(request: ResizeRequest) -> tuple[bytes, list[str]]:
    """The text of a pattern in another size, and the sizes near by, a line each. Raises WrongUsage, ProblemsFound."""
    if request.ends is not None and not 1 <= request.ends <= MOST_ENDS:
        raise WrongUsage(f"--ends: a tape has 1 to {MOST_ENDS} ends.")
    if request.out is not None:
        if request.out.suffix not in file_lookup.ENDINGS:
            raise WrongUsage(f"{request.out} is no pattern file: let its name end with .yaml.")
        refuse_to_replace(request.out)
    return _resized(loading.load_pattern(file_lookup.find("pattern", request.pattern)), request)


def _resized(pattern: Pattern, request: ResizeRequest) -> tuple[bytes, list[str]]:
    from cardmaker.editing.resized_pattern import resized_text, size_lines
    from cardmaker.reckoning.stripes.new_size import to_ends, to_width, to_yarn

    try:
        if request.yarn is not None:
            new = to_yarn(pattern, yarn_of(request.yarn))
        elif request.width is not None:
            new = to_width(pattern, request.width)
        else:
            new = to_ends(pattern, request.ends or 0)
    except Refusal as refusal:
        raise ProblemsFound([problem_from(refusal, pattern.places)]) from None
    text = resized_text(new).encode()
    end_yarns(parse_pattern(text, "the new file", pattern.stem))  # it reads well
    return text, size_lines(new)


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
    if refusal := count_refusal(yarn):
        raise WrongUsage(f"{refusal.message} {refusal.remedy}")
    return yarn
