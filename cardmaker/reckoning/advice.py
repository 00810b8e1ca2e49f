"""What else the weaver should know: warnings, advice and cautions that follow from the figures.

A note is a key and its values; the sentences are in the wording.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from math import floor
from typing import TYPE_CHECKING, Final

from cardmaker.model.loom import Heddles, Loom
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Lengths, Note, Placement, Weft
from cardmaker.model.record_class import record
from cardmaker.reckoning.amounts.lengths import all_tape_mm, is_short
from cardmaker.reckoning.amounts.yarn_thickness import KNOT, diameter_mm
from cardmaker.reckoning.file_notes import notes_of_file
from cardmaker.reckoning.on_loom.bench_figures import BenchFigures
from cardmaker.reckoning.stripes.stripe_counts import is_same_both_ways
from cardmaker.reckoning.threading.placement import thick_ends_in_holes

if TYPE_CHECKING:
    from cardmaker.model.peg_plan import PegPlan

THICKER: Final = Fraction(6, 5)  # from this ratio of diameters on, an end is thick beside the others (a limit of ours)
ACROSS_A_ROOM_MM: Final = 1000  # from there on somebody may walk into it (ours)
MUCH_TO_SPARE: Final = Fraction(1, 20)  # of the length wanted: from there on the pegs take yarn worth telling (ours)


@record
class Facts:
    """What advice is drawn from."""

    pattern: Pattern
    loom: Loom
    yarns: Sequence[str]  # of each end
    placement: Placement
    lengths: Lengths
    weft: Weft
    at_hand: Sequence[Loom]
    loom_was_chosen: bool
    diameters_mm: Mapping[str, Fraction] | None
    pegs: PegPlan | None
    pegs_sought: bool
    bench: BenchFigures


def notes(facts: Facts) -> tuple[Note, ...]:
    """All notes: warnings first, cautions last."""
    return (
        *_thick(facts),
        *_holes(facts),
        *_floats(facts),
        *(note for _, note in notes_of_file(facts.pattern, (facts.loom, *facts.at_hand))),
        *_pegs(facts),
        *_placed(facts),
        *_weft(facts),
        *_lengths(facts),
        *_weights(facts),
        *_cautions(facts),
    )


def loom_notes(loom: Loom) -> Iterator[Note]:
    """What a loom's file leaves open, whatever is woven: which foot raises which heddle, where the shuttle flies."""
    if loom.heddles is Heddles.TWO and loom.front_raised_by is None:
        yield Note("advice", "loom", "no_tie_up", {"loom": loom.title})
    if not loom.shuttle_stated:
        keys = ("left_foot", "right_foot") if loom.heddles is Heddles.TWO else ("down", "up")
        shuttle = f"{keys[0]}: left, {keys[1]}: right"
        yield Note("advice", "loom", "no_shuttle", {"loom": loom.title, "shuttle": shuttle})


def thick_yarns(facts: Facts) -> tuple[str, ...]:
    """The yarns noticeably thicker than the commonest one, where the diameters are known."""
    ends = Counter(facts.yarns)
    usual = diameter_mm(facts.pattern.yarn(max(ends, key=ends.__getitem__)))
    thick = []
    for name in dict.fromkeys(facts.yarns):
        diameter = diameter_mm(facts.pattern.yarn(name))
        if usual and diameter and diameter >= THICKER * usual:
            thick.append(name)
    return tuple(thick)


def _thick(facts: Facts) -> Iterator[Note]:
    """A thick end in a hole may stick or not go through at all (common practice, no source)."""
    for name in thick_yarns(facts):
        ends = [number for number, yarn in enumerate(facts.yarns, start=1) if yarn == name]
        misplaced = thick_ends_in_holes(facts.yarns, ends, facts.placement, facts.loom)
        if misplaced is None:
            continue
        values: dict[str, str | int | Fraction] = {"count": len(misplaced.in_holes), "of": len(ends), "yarn": name}
        if misplaced.shift_helps:
            yield Note("warning", "placement", "thick_shift", values)
        elif misplaced.counts.both:
            values["nearest"] = " or ".join(map(str, misplaced.counts.both))
            yield Note("warning", "placement", "thick_counts", values)
        else:
            yield Note("warning", "placement", "thick_in_hole", values)


def _placed(facts: Facts) -> Iterator[Note]:
    if facts.loom_was_chosen and len(facts.at_hand) > 1:
        yield Note("advice", "loom", "chosen_loom", {"loom": facts.loom.title})
    yield from loom_notes(facts.loom)
    if facts.placement.shifted:
        side = "right" if facts.placement.shifted > 0 else "left"
        yield Note("advice", "shift", "moved", {"side": side, "yarn": facts.placement.moved_yarn})
    if not is_same_both_ways(facts.yarns):
        yield Note("advice", "order", "turned" if _is_same_turned(facts) else "other_figure", {})


def _is_same_turned(facts: Facts) -> bool:
    """Whether the warp threaded from the other edge is the same tape: of plain weave always, of a figure seldom."""
    if facts.bench.pickup is None:
        return True
    from cardmaker.reckoning.weaving.pickup import is_same_from_other_edge

    return is_same_from_other_edge(facts.pattern, facts.loom, facts.yarns, facts.bench.pickup.rows)


def _weft(facts: Facts) -> Iterator[Note]:
    """The weft shows as a dot where it turns (common practice, no source)."""
    weft, edges = facts.weft.yarn, (facts.yarns[0], facts.yarns[-1])
    if weft not in edges:
        yield Note("advice", "weft", "weft_differs", {"weft": weft, "edge": " and ".join(dict.fromkeys(edges))})
    elif edges[0] != edges[1]:
        edge = edges[1] if weft == edges[0] else edges[0]
        yield Note("advice", "weft", "edges_differ", {"weft": weft, "edge": edge})


def _lengths(facts: Facts) -> Iterator[Note]:
    lengths = facts.lengths
    if lengths.request == "default":
        yield Note("advice", "lengths", "guessed_length", {"length": lengths.finished_mm})
    if lengths.pieces_come < lengths.pieces_wanted:
        values: dict[str, str | int | Fraction] = {"come": lengths.pieces_come, "wanted": lengths.pieces_wanted}
        yield Note("warning", "lengths", "fewer_pieces", values)
    if is_short(lengths):
        yield Note("warning", "lengths", "short_warp", {"share": round(100 * all_tape_mm(lengths) / lengths.wind_mm)})


def _weights(facts: Facts) -> Iterator[Note]:
    for name in dict.fromkeys((*facts.yarns, facts.weft.yarn)):
        yarn = facts.pattern.yarn(name)
        if not (yarn.count or yarn.yards_per_pound or yarn.metres_per_kg):
            yield Note("advice", "yarn", "no_weight", {"yarn": name})


def _holes(facts: Facts) -> Iterator[Note]:
    """A yarn in a hole that it does not pass, or whose joins do not (see ``thick_ends``)."""
    hole, diameters = facts.loom.hole_size_mm, facts.diameters_mm
    if hole is None or diameters is None or max(diameters.values()) * KNOT <= hole:
        return
    from cardmaker.reckoning.weaving.pickup import thick_ends

    held = {end.yarn: end for end in thick_ends(facts.yarns, facts.placement.kinds, diameters, hole)}
    for name, end in held.items():
        key = "knot_sticks" if end.passes else "end_sticks"
        yield Note("warning", "yarn", key, {"yarn": name, "across": Fraction(end.diameter_mm), "hole": hole})


def _floats(facts: Facts) -> Iterator[Note]:
    """Floats on the face past five picks catch and pull (common practice, no source)."""
    pickup = facts.bench.pickup
    if pickup is not None and pickup.long_floats:
        longest = max(pickup.long_floats, key=lambda run: run.rows)
        end, sensible = longest.pattern_end, pickup.longest_sensible
        yield Note("warning", "pickup", "long_float", {"end": end, "rows": longest.rows, "sensible": sensible})


def _pegs(facts: Facts) -> Iterator[Note]:
    """Ends that heap up at the cross, and the yarn that a longer way round takes."""
    pegs, ends = facts.pegs, len(facts.yarns)
    if pegs is None:
        if facts.pegs_sought:
            yield Note("caution", "pegs", "no_pegs", {"length": facts.lengths.wind_mm})
        return
    if pegs.stack_limit_mm is not None and pegs.stack_is_too_high:
        high, peg = Fraction(pegs.stack_mm), Fraction(pegs.stack_limit_mm)
        yield Note("warning", "pegs", "stack_too_high", {"ends": ends, "stack": high, "peg": peg})
    if pegs.spare_mm > MUCH_TO_SPARE * pegs.wanted_mm:
        values: dict[str, str | int | Fraction] = {"pegs": pegs.title}
        values |= {"spare": Fraction(pegs.spare_mm), "more": Fraction(ends * pegs.spare_mm)}
        yield Note("advice", "pegs", "longer_route", values)


def _cautions(facts: Facts) -> Iterator[Note]:
    """What a tape must not be used for, a line to trip over, what the warp pulls at, and what the figures are worth.

    16 CFR 1120, ASTM F1816 and EN 14682 limit cords on children's clothes; the pull is the sum of all ends'.
    """
    yield Note("caution", "use", "children", {})
    if facts.pegs is not None and facts.pegs.kind == "span" and (facts.pegs.distance_mm or 0) >= ACROSS_A_ROOM_MM:
        yield Note("caution", "pegs", "across_a_room", {})
    if (pull := facts.bench.tension) is not None:
        force, kilograms = pull.working.newtons, _tenths(pull.kilograms)
        newtons = round(force) if force >= 10 else _tenths(force)  # as wherever the pull is told
        yield Note("caution", "tension", "pull", {"newtons": newtons, "kilograms": kilograms})
    yield Note("caution", "figures", "estimates", {})


def _tenths(value: Fraction | float) -> str:
    """To a tenth, a half rounded up, without a nought after the point."""
    tenths = floor(Fraction(value) * 10 + Fraction(1, 2))
    return f"{tenths // 10}.{tenths % 10}" if tenths % 10 else str(tenths // 10)
