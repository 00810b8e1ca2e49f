"""How to set the pegs in this room for a warp of a given length.

On a board or table the route is chosen (see ``routes``). A span has one distance to set, from centre to centre of its
posts: home, the cross next to it, and the far post level with home and to the right of it. A span's file gives posts
and distances only, so two cross pegs like the posts are taken to stand in the line, a step and two steps from home;
where the shortest distance leaves no room for them the two posts are wound in a figure of eight, whose cross lies half
way. (Pegs of a span that do have places keep them, but for the last of ``order``, which is the far post.)

Inputs are exact; the geometry is in floats; what is printed is rounded to the millionth of a millimetre that the floats
are good for. Common practice, no source, where no other is named.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from fractions import Fraction
from itertools import pairwise
from math import ceil, hypot
from typing import Final

from cardmaker.model.peg_plan import Bend, Dimension, PassedPeg, Peg, PegPlan, Pegs, ThreadPath
from cardmaker.model.problems import Refusal
from cardmaker.model.record_class import replace
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.winding.clearance import EXACT_MM, can_be_wound
from cardmaker.reckoning.winding.routes import Route, nearest_routes, round_trip
from cardmaker.reckoning.winding.thread_path import path_round_pegs, pile_up_mm, stack_mm

MILLIONTHS: Final = 1_000_000  # of a millimetre: ours, finer than any float here is wrong
CROSS_STEP_MM: Final = Fraction(100)  # from home to the cross, and between its pegs: common practice, no source
WASTEFUL: Final = Fraction(1, 10)  # of the length wanted: more to spare than this, and another place is better (ours)


def plan_pegs(
    pegs: Pegs, wanted_mm: Fraction, ends: int, yarn_diameter_mm: Fraction, *, most_spare_mm: Fraction | None = None
) -> PegPlan:
    """The route or the distance that gives at least the wanted length with the least to spare.

    Raises Refusal where these pegs cannot give it, or not without more than ``most_spare_mm``, with the nearest lengths
    that they can give.
    """
    if pegs.kind == "span":
        return _span_plan(pegs, wanted_mm, ends, yarn_diameter_mm)
    radius = _radius(pegs, yarn_diameter_mm)
    _check_stands(pegs, yarn_diameter_mm)
    below, above = nearest_routes(pegs, float(wanted_mm), radius)
    if above is None or (most_spare_mm is not None and _exact(above.length_mm) - wanted_mm > most_spare_mm):
        raise _no_route(pegs, wanted_mm, below, above)
    path, turning = round_trip(pegs, above.visited, radius)
    reached = pegs.order[: pegs.order.index(above.visited[-1])]
    skipped = tuple(name for name in reached if name not in above.visited)
    return _plan(pegs, above.visited, skipped, path, turning, wanted_mm, ends, yarn_diameter_mm)


def choose_pegs(candidates: Iterable[Pegs], wanted_mm: Fraction, ends: int, yarn_diameter_mm: Fraction) -> PegPlan:
    """The best of several places to wind this warp.

    A place whose pegs hold all ends in one layer goes before one where they heap up; then a board or table that wastes
    no more than a tenth of the length, since it needs no walking, before a span; then the least to spare, and the
    earlier of the candidates. Ours, no source. Raises Refusal, with every place's reason, where none will do.
    """
    plans: list[PegPlan] = []
    refusals: list[Refusal] = []
    for pegs in candidates:
        try:
            plans.append(plan_pegs(pegs, wanted_mm, ends, yarn_diameter_mm))
        except Refusal as refusal:
            refusals.append(refusal)
    if not plans:
        reasons = " ".join(refusal.message for refusal in refusals)
        raise Refusal(("length",), reasons or "There is nowhere to wind.", "Choose another length, or add a pegs file.")
    return min(plans, key=_preference)


def pegs_for(
    wanted_mm: Fraction,
    end_yarns: Sequence[str],
    diameters_mm: Mapping[str, Fraction],
    pegs: Sequence[Pegs],
    required: bool = False,
) -> PegPlan | None:
    """The best of these places for a warp so long; None when none will do and nobody asked for one of them.

    Raises Refusal, where these very pegs were ``required``, for a length that they cannot give.
    """
    ends = len(end_yarns)
    # The mean, so that the stack at the cross is true.
    diameter = sum((diameters_mm[name] for name in end_yarns), Fraction(0)) / ends
    try:
        if len(pegs) == 1:
            return plan_pegs(pegs[0], wanted_mm, ends, diameter)
        return _best_place(pegs, wanted_mm, ends, diameter) if pegs else None
    except Refusal:
        if required:
            raise
        return None


def _best_place(pegs: Sequence[Pegs], wanted: Fraction, ends: int, diameter: Fraction) -> PegPlan:
    """As ``choose_pegs``; but spans, which take longest, only where no board or table goes before them all."""
    boards = [each for each in pegs if each.kind != "span"]
    try:
        best = choose_pegs(boards, wanted, ends, diameter)
    except Refusal:
        return choose_pegs(pegs, wanted, ends, diameter)
    wins = best.spare_mm <= WASTEFUL * wanted and not best.stack_is_too_high
    return best if wins else choose_pegs(pegs, wanted, ends, diameter)


def _preference(plan: PegPlan) -> tuple[bool, int, Fraction]:
    wasteful = plan.spare_mm > WASTEFUL * plan.wanted_mm
    return plan.stack_is_too_high, 2 if wasteful else 1 if plan.kind == "span" else 0, plan.spare_mm


def _plan(
    pegs: Pegs, visited: tuple[str, ...], skipped: tuple[str, ...], path: ThreadPath, turning: int,
    wanted_mm: Fraction, ends: int, yarn_diameter_mm: Fraction,
) -> PegPlan:  # fmt: skip
    route = (pegs.home, *pegs.cross, *visited)
    dimensions = _dimensions(pegs, route)
    length = _exact(path.length_mm / 2)
    span = pegs.kind == "span"
    return PegPlan(
        title=pegs.title,
        kind=pegs.kind,
        pegs=pegs.pegs,
        diameter_mm=pegs.diameter_mm,
        surface_mm=pegs.surface_mm,
        route=route,
        cross=pegs.cross,
        skipped=skipped,
        wanted_mm=wanted_mm,
        length_mm=length,
        centres_mm=sum((each.centres_mm for each in dimensions), Fraction(0)),
        distance_mm=_between(pegs, pegs.home, visited[-1]).centres_mm if span else None,
        dimensions=(*dimensions[:-1], _between(pegs, pegs.home, visited[-1])) if span else dimensions,
        guide_string_mm=wanted_mm,
        walking_mm=ends * length,
        stack_mm=stack_mm(ends, yarn_diameter_mm),
        stack_limit_mm=pegs.height_mm,
        pile_up_mm=_pile_up(pegs, path, ends, yarn_diameter_mm),
        round_trip=path,
        turning=turning,
    )


def _pile_up(pegs: Pegs, path: ThreadPath, ends: int, yarn_diameter_mm: Fraction) -> tuple[Fraction, Fraction]:
    """How much longer the last end is than the first: spread over the pegs' height, and heaped on all the others."""
    height, stack = pegs.height_mm, stack_mm(ends, yarn_diameter_mm)
    layers_below = ceil(stack / height) - 1 if height and stack else 0
    least, most = (pile_up_mm(path.wrap / 2, below, yarn_diameter_mm) for below in (layers_below, max(ends - 1, 0)))
    return _exact(least), _exact(most)


def _dimensions(pegs: Pegs, route: tuple[str, ...]) -> tuple[Dimension, ...]:
    return tuple(_between(pegs, start, stop) for start, stop in pairwise(route))


def _between(pegs: Pegs, start: str, stop: str) -> Dimension:
    at = {peg.name: peg for peg in pegs.pegs}
    centres = _distance(at[start], at[stop])
    return Dimension(at[start], at[stop], centres, max(Fraction(0), centres - pegs.diameter_mm))


def _distance(start: Peg, stop: Peg) -> Fraction:
    """Between two centres: exact where they stand level or above one another."""
    across, down = abs(stop.x_mm - start.x_mm), abs(stop.y_mm - start.y_mm)
    return across + down if not (across and down) else _exact(hypot(float(across), float(down)))


def _radius(pegs: Pegs, yarn_diameter_mm: Fraction) -> float:
    return float((pegs.diameter_mm + yarn_diameter_mm) / 2)


def _exact(length: float) -> Fraction:
    return Fraction(round(length * MILLIONTHS), MILLIONTHS)


def _in_mm(length: float | Fraction) -> str:
    """A length in a refusal: whole millimetres, and tenths of an inch."""
    return f"{float(length):.0f} mm ({float(length) / float(MM_PER_INCH):.1f} in)"


def _check_stands(pegs: Pegs, yarn_diameter_mm: Fraction) -> None:
    """Raises Refusal where a peg has two tasks, or two stand so near that no thread passes between them."""
    names = (pegs.home, *pegs.cross, *pegs.order)
    if len(set(names)) < len(names):
        twice = next(name for name in names if names.count(name) > 1)
        raise Refusal(("order",), f"{pegs.title}: the thread comes to {twice} twice.", "Name each peg once.")
    for index, peg in enumerate(pegs.pegs):
        for earlier in pegs.pegs[:index]:
            square = (peg.x_mm - earlier.x_mm) ** 2 + (peg.y_mm - earlier.y_mm) ** 2
            if square <= (pegs.diameter_mm + yarn_diameter_mm) ** 2:
                raise Refusal(
                    ("pegs",),
                    f"{pegs.title}: {earlier.name} and {peg.name} stand so near that no thread passes between them.",
                    "Set them further apart, or check their places and the diameter.",
                )


def _no_route(pegs: Pegs, wanted_mm: Fraction, below: Route | None, above: Route | None) -> Refusal:
    nearest = [f"the nearest below is {_in_mm(below.length_mm)}"] if below else []
    nearest += [f"the nearest above is {_in_mm(above.length_mm)}"] if above else []
    message = f"{pegs.title} has no route for a warp of {_in_mm(wanted_mm)}"
    if not nearest:
        return Refusal(("pegs",), f"{message}, nor any other that can be wound.", "Check where its pegs stand.")
    return Refusal(("length",), f"{message}; {', '.join(nearest)}.", "Wind one of these, or choose other pegs.")


def _span_plan(pegs: Pegs, wanted_mm: Fraction, ends: int, yarn_diameter_mm: Fraction) -> PegPlan:
    """The plan of a span: the distance at which one end has the wanted length."""
    shortest, longest = pegs.shortest_mm, pegs.longest_mm
    if shortest is None or longest is None:
        raise Refusal(("longest",), f"{pegs.title} does not say its shortest and longest distance.", "Add them.")
    pegs = _with_posts(pegs, shortest)
    radius, far = _radius(pegs, yarn_diameter_mm), pegs.order[-1] if pegs.order else "far"

    def trip(distance_mm: Fraction) -> tuple[Pegs, ThreadPath, int]:
        placed = _with_far_post(pegs, far, distance_mm)
        return (placed, *(round_trip(placed, (far,), radius) if placed.cross else _figure_of_eight(placed, radius)))

    _check_stands(_with_far_post(pegs, far, shortest), yarn_diameter_mm)
    distance = _distance_for(
        lambda distance_mm: trip(distance_mm)[1].length_mm / 2, wanted_mm, pegs.title, shortest, longest
    )
    placed, path, turning = trip(distance)
    if placed.cross and not can_be_wound(placed, path, turning, 1):
        raise Refusal(("pegs",), f"{pegs.title}: no thread winds round these pegs.", "Set the cross in line with home.")
    plan = _plan(placed, (far,), (), path, turning, wanted_mm, ends, yarn_diameter_mm)
    return replace(plan, length_mm=wanted_mm, walking_mm=ends * wanted_mm)  # the distance was sought for just this


def _with_posts(pegs: Pegs, shortest_mm: Fraction) -> Pegs:
    """The span with its home post, and its cross next to it where there is room; see the head of this module."""
    if pegs.pegs:
        return pegs
    home, step = Peg("home", Fraction(0), Fraction(0)), max(CROSS_STEP_MM, 3 * pegs.diameter_mm)
    if shortest_mm < 3 * step:
        return replace(pegs, home=home.name, pegs=(home,))
    cross = Peg("A", step, Fraction(0)), Peg("B", 2 * step, Fraction(0))
    return replace(pegs, home=home.name, pegs=(home, *cross), cross=tuple(peg.name for peg in cross))


def _with_far_post(pegs: Pegs, far: str, distance_mm: Fraction) -> Pegs:
    stay = tuple(peg for peg in pegs.pegs if peg.name != far)
    home = next(peg for peg in stay if peg.name == pegs.home)
    return replace(pegs, pegs=(*stay, Peg(far, home.x_mm + distance_mm, home.y_mm)), order=(far,))


def _figure_of_eight(pegs: Pegs, radius: float) -> tuple[ThreadPath, int]:
    """A crossed belt round home and far."""
    home, far = (next(peg for peg in pegs.pegs if peg.name == name) for name in (pegs.home, pegs.order[-1]))
    ends = ((home, Bend.LEFT), (far, Bend.RIGHT))
    passed = [PassedPeg(peg.name, float(peg.x_mm), float(peg.y_mm), radius, bend) for peg, bend in ends]
    return path_round_pegs(passed, closed=True), 1


def _distance_for(
    length: Callable[[Fraction], float], wanted_mm: Fraction, title: str, shortest_mm: Fraction, longest_mm: Fraction
) -> Fraction:
    """The distance that gives the wanted length, by halving: the length only grows with the distance.

    Raises Refusal where even the shortest distance gives more, or the longest less.
    """
    wanted = float(wanted_mm)
    least, most = length(shortest_mm), length(longest_mm)
    if not least - EXACT_MM <= wanted <= most + EXACT_MM:
        nearest = f"its longest gives {_in_mm(most)}" if wanted > most else f"its shortest gives {_in_mm(least)}"
        raise Refusal(
            ("length",),
            f"{title} cannot be set for a warp of {_in_mm(wanted_mm)}: "
            f"{nearest}, its distances run from {_in_mm(shortest_mm)} to {_in_mm(longest_mm)}.",
            "Choose a length between, or other pegs.",
        )
    near, far = shortest_mm, longest_mm
    while (middle := _exact(float(near + far) / 2)) not in (near, far):
        near, far = (near, middle) if length(middle) >= wanted else (middle, far)
    return far
