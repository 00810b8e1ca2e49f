"""``choose``: the tapes that suit what is asked, in order of ease, and why the others do not."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Final, Literal, NamedTuple

from cardmaker.jobs import loading, plan_making
from cardmaker.jobs.binder_files import pattern_paths
from cardmaker.jobs.drawer_loading import yarns_at_hand
from cardmaker.jobs.file_lookup import WrongUsage, at_hand
from cardmaker.jobs.plan_making import AskedSide
from cardmaker.jobs.sheet_making import FinishedSheet, SheetRequest, SheetSetup, ToldTape, load_sheet_setup, write_tapes
from cardmaker.model.drawer import DrawerPlan, YarnAtHand
from cardmaker.model.named_colours import NAMED_COLOURS
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Plan
from cardmaker.model.problems import Problem, ProblemsFound
from cardmaker.model.record_class import record, replace
from cardmaker.model.units import length_mm, wind_step
from cardmaker.reading.limits import WARP
from cardmaker.reckoning.stripes.ease import Ease, ease_of
from cardmaker.reckoning.stripes.stripe_counts import counted_ends, end_yarns
from cardmaker.reckoning.stripes.yarn_colours import colour_words, is_called
from cardmaker.wording import choosing_words, drawer_words
from cardmaker.wording.formatters import Units

_SHEET: Final = "choose"


@record
class ChooseRequest:
    """What the command asks for; None is anything."""

    patterns: Sequence[str]
    use: str | None = None
    ends: tuple[int, int] | None = None
    colours: str | None = None
    loom: str | None = None
    looms: Sequence[str] | None = None
    time: Fraction | None = None  # minutes
    yarn: Sequence[str] | None = None
    drawer: bool = False
    paper: str | None = None
    title: str = ""
    hand: Literal["right", "left"] | None = None
    side: AskedSide | None = None
    units: Units | None = None


@record
class ChosenTape:
    """A tape that suits."""

    plan: Plan
    ease: Ease
    drawer: DrawerPlan | None = None


@record
class TapeChoice:
    """What suits, the easiest first; of the others the title, the wish and the reason; ``nothing`` is said where
    nothing suits."""

    tapes: tuple[ChosenTape, ...]
    left_out: tuple[tuple[str, str, str], ...]
    problems: tuple[Problem, ...]
    setup: SheetSetup
    nothing: str = ""


class _Found(NamedTuple):
    """One pattern and what is known of it: the plan, or why there is none; and what it takes of the yarn at hand."""

    pattern: Pattern
    plan: Plan | None = None
    why_no_plan: str = ""
    drawer: DrawerPlan | None = None


_Wish = tuple[str, Callable[[_Found], str]]  # its name, and why a tape does not meet it, or nothing


def choose(request: ChooseRequest) -> TapeChoice:
    """Every pattern asked about, held against every wish. Raises WrongUsage, ProblemsFound."""
    setup = load_sheet_setup(_sheet_request(request))
    patterns, problems = _patterns(request.patterns)
    yarns = yarns_at_hand(request.yarn, every=request.drawer)
    of_file, of_plan = _wishes_of_file(request, patterns), _wishes_of_plan(request)
    tapes: list[ChosenTape] = []
    left_out: list[tuple[str, str, str]] = []
    for pattern in patterns:
        found = _Found(pattern)
        failed = next(_failed(found, of_file), None)
        if failed is None:
            found = _planned(pattern, setup, yarns)
            failed = next(_failed(found, of_plan), None)
        if failed is None and found.plan is not None:
            tapes.append(ChosenTape(found.plan, ease_of(found.plan), found.drawer))
        elif failed is not None:
            left_out.append((pattern.title, *failed))
    nothing = "" if tapes or not patterns else _nearest(patterns, setup, yarns, [*of_file, *of_plan], request)
    return TapeChoice(tuple(sorted(tapes, key=_order)), tuple(left_out), tuple(problems), setup, nothing)


def lines_of_choice(choice: TapeChoice, *, why: bool) -> Iterator[str]:
    """What the terminal says."""
    if choice.nothing:
        yield choice.nothing
    elif choice.tapes:
        yield _first_line(choice)
    for tape in choice.tapes:
        yield choosing_words.tape_line(tape.plan, tape.ease)
        if tape.drawer is not None:
            for sentence in drawer_words.drawer_sentences(tape.drawer, tape.plan, choice.setup.units):
                yield f"    {sentence}"
    if why or not choice.nothing:
        yield from choosing_words.left_out_lines(choice.left_out, all_of_them=why)


def _first_line(choice: TapeChoice) -> str:
    of = len(choice.tapes) + len(choice.left_out)
    if choice.tapes[0].drawer is None:
        return choosing_words.chosen(len(choice.tapes), of)
    whole = sum(tape.drawer is not None and tape.drawer.longest is not None for tape in choice.tapes)
    return choosing_words.chosen_for_yarn(whole, len(choice.tapes) - whole, of)


def write_choice(choice: TapeChoice, out: Path | None) -> tuple[Path, FinishedSheet]:
    """The page of the tapes that suit. Raises WrongUsage, ProblemsFound, CannotWrite."""
    units = choice.setup.units
    tapes = [
        ToldTape(
            tape.plan,
            (
                choosing_words.how_easy(tape.ease),
                *(drawer_words.drawer_in_brief(tape.drawer, tape.plan, units) if tape.drawer else ()),
            ),
        )
        for tape in choice.tapes
    ]
    return write_tapes(tapes, replace(choice.setup, note=choosing_words.how_ordered()), out)


def _sheet_request(request: ChooseRequest) -> SheetRequest:
    return SheetRequest(
        (), _SHEET, request.paper, request.title, request.loom, None, request.hand, request.side, request.units,
        request.looms,
    )  # fmt: skip


def _patterns(names: Sequence[str]) -> tuple[list[Pattern], list[Problem]]:
    """The patterns asked about, hers where none is named, and all that is wrong with the others."""
    patterns: list[Pattern] = []
    problems: list[Problem] = []
    for path in pattern_paths(names) if names else at_hand("pattern").values():
        try:
            patterns.append(loading.load_pattern(path))
        except ProblemsFound as error:
            problems += error.problems
    return patterns, problems


def _planned(pattern: Pattern, setup: SheetSetup, yarns: Sequence[YarnAtHand]) -> _Found:
    try:
        plan = plan_making.plan_for(pattern, setup.plans)
    except ProblemsFound as error:
        return _Found(pattern, None, error.problems[0].message.rstrip("."))
    return _Found(pattern, plan, "", _drawer_plan(plan, pattern, setup, yarns) if yarns else None)


def _drawer_plan(plan: Plan, pattern: Pattern, setup: SheetSetup, yarns: Sequence[YarnAtHand]) -> DrawerPlan:
    from cardmaker.reckoning.drawer_plans import drawer_plan

    plans = setup.plans
    looms = [loom for loom in (plans.loom, plans.preferred, *plans.looms) if loom and loom.stem == plan.loom.stem]
    return drawer_plan(plan, pattern, looms[0], yarns, wind_step(setup.units), length_mm(WARP.most))


def _failed(found: _Found, wishes: Sequence[_Wish]) -> Iterator[tuple[str, str]]:
    """The wishes that a tape does not meet, each with the reason."""
    for name, why_not in wishes:
        if reason := why_not(found):
            yield name, reason


def _wishes_of_file(request: ChooseRequest, patterns: Sequence[Pattern]) -> list[_Wish]:
    """What a pattern's file alone can answer. Raises WrongUsage for a use or a colour that no pattern has."""
    wishes: list[_Wish] = []
    if request.use is not None:
        use = _known_use(request.use, patterns)
        wishes.append(("use", lambda found: "" if _is_for(found.pattern, use) else _used_for(found.pattern)))
    if request.ends is not None:
        wishes.append(("ends", _ends_wish(*request.ends)))
    if request.colours is not None:
        colours = _known_colours(request.colours, patterns)
        wishes.append(("colours", lambda found: _other_colours(found.pattern, colours)))
    return wishes


def _wishes_of_plan(request: ChooseRequest) -> list[_Wish]:
    """What only a plan can answer."""
    wishes: list[_Wish] = [("loom", lambda found: found.why_no_plan)]
    if (most := request.time) is not None:
        wishes.append(("time", lambda found: _too_long(found.plan, most)))
    if request.yarn or request.drawer:
        wishes.append(("yarn", _no_yarn))
    return wishes


def _ends_wish(least: int, most: int) -> Callable[[_Found], str]:
    def why_not(found: _Found) -> str:
        ends = counted_ends(found.pattern.warp, found.pattern.mirror)
        return "" if least <= ends <= most else choosing_words.outside(ends, least, most)

    return why_not


def _known_use(use: str, patterns: Sequence[Pattern]) -> str:
    if any(_is_for(pattern, use) for pattern in patterns):
        return use
    known = sorted({purpose for pattern in patterns for purpose in pattern.purposes})
    raise WrongUsage(choosing_words.unknown_use(use, known))


def _is_for(pattern: Pattern, use: str) -> bool:
    """``tie`` is met by a bag tie, and ``bookmarks`` by a bookmark."""
    asked = use.casefold().strip()
    return any(
        asked in (purpose.casefold(), f"{purpose.casefold()}s", *purpose.casefold().split())
        for purpose in pattern.purposes
    )


def _used_for(pattern: Pattern) -> str:
    return choosing_words.used_for(pattern.purposes)


def _known_colours(text: str, patterns: Sequence[Pattern]) -> list[str]:
    """The colours of a list with commas. Raises WrongUsage for one that is none, and that no yarn goes by."""
    asked = [name.strip() for name in text.split(",") if name.strip()]
    if not asked:
        raise WrongUsage("--colours names no colour: write them as in blue,white.")
    yarns = {yarn.name: yarn for pattern in patterns for yarn in pattern.yarns}
    known = sorted({*NAMED_COLOURS, *yarns})
    for name in asked:
        plain = colour_words(name) <= NAMED_COLOURS.keys()
        if not plain and not any(is_called(yarn, name) for pattern in patterns for yarn in pattern.yarns):
            raise WrongUsage(choosing_words.unknown_colour(name, known))
    return asked


def _other_colours(pattern: Pattern, colours: Sequence[str]) -> str:
    names = dict.fromkeys((*end_yarns(pattern), *([pattern.weft] if pattern.weft else [])))
    others = [name for name in names if not any(is_called(pattern.yarn(name), colour) for colour in colours)]
    return choosing_words.other_colours(others) if others else ""


def _too_long(plan: Plan | None, most: Fraction) -> str:
    if plan is None:
        return ""
    if plan.pace is None:
        return choosing_words.NO_PACE
    needed = plan.pace.work.needed_minutes
    return choosing_words.takes_too_long(needed, most) if needed > most else ""


def _no_yarn(found: _Found) -> str:
    return drawer_words.NONE_LIKE if found.drawer is not None and not found.drawer.is_like_some else ""


def _order(tape: ChosenTape) -> tuple[bool, tuple[bool, int, int, int], str]:
    """What can be woven of the yarn at hand before what lacks some; then the easiest first."""
    return tape.drawer is not None and tape.drawer.longest is None, tape.ease.order, tape.plan.pattern.title


def _nearest(
    patterns: Sequence[Pattern],
    setup: SheetSetup,
    yarns: Sequence[YarnAtHand],
    wishes: Sequence[_Wish],
    request: ChooseRequest,
) -> str:
    """What is said where nothing suits: every pattern is held against every wish once more.

    Nearest is what fails the fewest wishes, of these the one that it fails by the least.
    """
    tapes = [_planned(pattern, setup, yarns) for pattern in patterns]
    failed = [(found, [*_failed(found, wishes)]) for found in tapes]
    nearest, reasons = min(failed, key=lambda each: _far_off(each[0], each[1], request))
    failures = [failure for _, its in failed for failure in its]
    why = [reason for _, reason in reasons]
    return choosing_words.nothing_fits(failures, nearest.pattern.title, why, len(patterns))


_LIGHTEST: Final = ("time", "ends", "yarn", "colours", "loom", "use")  # what somebody lets go of first (ours)


def _far_off(found: _Found, failed: Sequence[tuple[str, str]], request: ChooseRequest) -> tuple[int, int, int, int]:
    """How many wishes a tape fails, how dear the dearest is, and by how many ends and minutes."""
    ends = counted_ends(found.pattern.warp, found.pattern.mirror)
    least, most = request.ends or (ends, ends)
    minutes = found.plan.pace.work.needed_minutes if found.plan and found.plan.pace else 0
    return len(failed), max(_LIGHTEST.index(name) for name, _ in failed), max(least - ends, ends - most, 0), minutes
