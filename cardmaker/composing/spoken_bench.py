"""The drawings of the bench in words, whole: pegs, cross, roll, gauge, rescue and pick-up."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

from cardmaker.composing import bench_sentences, room_words, spoken
from cardmaker.composing.measures import Units
from cardmaker.composing.spelt_out import small_told, spelt_out
from cardmaker.composing.wording import listed, plural, shed_name
from cardmaker.nouns.loom import Heddles, Loom, Side
from cardmaker.nouns.pattern import PickupRow
from cardmaker.nouns.plan import Plan

if TYPE_CHECKING:  # named only in signatures
    from cardmaker.nouns.bench import CoinDip, EndPlace, PickedRow, WarpOnBeam
    from cardmaker.nouns.peg_plan import PassedPeg, PegPlan


# pegs


def room(pegs: PegPlan, units: Units) -> str:
    """The pegs in order with the distances to measure, on which side the thread passes each, and those left empty."""
    distances = [
        f"{_peg(each.start.name, pegs)} to {_peg(each.stop.name, pegs)} "
        f"{spelt_out(room_words.distance(each.centres_mm, units))}"
        for each in pegs.dimensions
    ]
    told = f"{pegs.title} from above. From middle to middle: {'; '.join(distances)}. {_passing(pegs)}"
    empty = [peg.name for peg in pegs.pegs if peg.name not in pegs.route]
    return f"{told} Left empty: {listed(empty)}." if empty else told


def _peg(name: str, pegs: PegPlan) -> str:
    """A peg as the drawing names it; the far one of a board by its own name as well."""
    told = room_words.peg_name(name, pegs)
    return f"{told}, {name}," if told == "far" and name != "far" else told


def _passing(pegs: PegPlan) -> str:
    """On which side of the thread each peg lies, out and back."""
    passed, turning = pegs.round_trip.passed, pegs.turning
    out, back = passed[1 : turning + 1], passed[turning + 1 :]
    told = f"Going out from home the thread has {_sides(out, pegs)}, and turns there."
    return f"{told} Coming back it has {_sides(back, pegs)}." if back else told


def _sides(passed: Sequence[PassedPeg], pegs: PegPlan) -> str:
    return listed([f"{room_words.peg_name(peg.name, pegs)} on its {peg.bend}" for peg in passed])


def cross(pegs: PegPlan, above: Sequence[bool]) -> str:
    """The cross by itself, as it is drawn: ``above`` tells past which pegs the way out runs above on the paper."""
    if not pegs.cross:
        return (
            "The cross by itself, home at its left and the far post at its right: ends 1, 3, 5 and so on and ends 2, "
            "4, 6 and so on pass each other half-way between the two posts."
        )
    out, back = (
        listed([f"{'above' if side is up else 'below'} {name}" for name, side in zip(pegs.cross, above, strict=True)])
        for up in (True, False)
    )
    meet = [
        f"between {one} and {other}"
        for (one, side), (other, beyond) in pairwise(zip(pegs.cross, above, strict=True))
        if side is not beyond
    ]
    where = f"; they cross {listed(meet)}" if meet else ""
    odd, even = f"ends 1, 3, 5 and so on run {out}", f"ends 2, 4, 6 and so on {back}"
    return f"The cross by itself, home at its left: {odd}, {even}{where}."


# beam and pull


def roll(beam: WarpOnBeam, loom: Loom, units: Units) -> str:
    """The roll from its end."""
    bare = small_told(Fraction(beam.beam_diameter_mm), units)
    told = f"The beam from its end, {bare} across when bare. {spelt_out(bench_sentences.turns(beam, units))}"
    return f"{told} {bench_sentences.sticks(beam, loom)}".rstrip()


def gauge(dips: Sequence[CoinDip], units: Units) -> str:
    """The marks of the gauge from the top down."""
    marks = [spelt_out(bench_sentences.gauge_mark(dip, units)) for dip in sorted(dips, key=lambda dip: dip.dip_mm)]
    return f"A gauge to cut out, at true scale. Below the line of the warp at rest: {'; '.join(marks)}."


# rescue


def rescue(places: Sequence[EndPlace], loom: Loom) -> str:
    """Every end counted from its nearer edge, the edge end first."""
    of = " Hole and slot are those of the front heddle." if loom.heddles is Heddles.TWO else ""
    told = []
    for edge in (Side.LEFT, Side.RIGHT):
        near = sorted((place for place in places if place.nearer is edge), key=lambda place: place.count)
        if near:
            each = "; ".join(f"{place.count} {place.yarn}, {place.kind}" for place in near)
            told.append(f"From the {edge} edge: {each}.")
    return f"{' '.join(told)}{of}"


# pick-up


def pickup(plan: Plan, asked: Sequence[PickupRow], worked: Sequence[PickedRow]) -> str:
    """Row by row what the hand does in which shed, and what is then on top."""
    told = [
        f"Row {number}, {shed_name(plan.loom, row.shed == 'down').lower()}: by hand "
        f"{bench_sentences.by_hand(row.lift, row.drop)}; on top {spoken.raised(plan, done.raised)}."
        for number, (row, done) in enumerate(zip(asked, worked, strict=True), start=1)
    ]
    return f"The face of {plural(len(told), 'row')}, from the left. {' '.join(told)}"
