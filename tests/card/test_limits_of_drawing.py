"""What is drawn does not grow with a figure of a file: it is bounded before anybody asks whether it fits."""

from __future__ import annotations

import tracemalloc
from fractions import Fraction

import pytest

from cardmaker.layout.ink import MOST_LINES, Ink, hatching
from cardmaker.layout.woven_face import Cloth, stamped_face
from cardmaker.model.marks import Box, Stamp
from cardmaker.model.pattern import Pattern, PickupRow, Stripe, Yarn
from cardmaker.model.problems import Refusal
from cardmaker.model.record_class import replace
from cardmaker.reckoning.planning import make_plan
from tests.helpers.paper_tools import composed
from tests.helpers.shipped import plan_of, shipped_loom, shipped_pattern

WIDE = Pattern(
    "Wide",
    "wide",
    (Yarn("a", "cotton", ends_per_inch=Fraction(1, 10**6)), Yarn("b", "cotton", "8/2", colour="#000000")),
    (Stripe("a", 3), Stripe("b", 3), Stripe("a", 3)),
)


@pytest.mark.parametrize("layout", ["record", "handout", "field", "bench"])
def test_a_tape_of_150_km_is_refused_and_not_drawn(layout: str) -> None:
    """No file can ask for it, since its figures have limits; the drawing has a limit of its own (it took 1.4 GB)."""
    plan = make_plan(WIDE, shipped_loom("small-box"))
    assert plan.width.likely_mm > 10**8
    tracemalloc.start()
    try:
        composed(plan, layout)
    except Refusal:
        pass
    finally:
        most = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
    assert most < 100 * 2**20


@pytest.mark.parametrize("slopes", [(0,), (1,), (-1,), (1, -1)])
def test_hatching_has_a_most_and_is_the_same_on_any_paper(slopes: tuple[int, ...]) -> None:
    ink = Ink("#000000", "#ffffff", slopes, 0.85)
    for size in (1.0, 400.0, 10.0**8):
        lines = [step for path in hatching(Box(0, 0, size, size), ink, 0.2) for step in path.steps]
        assert len(lines) // 2 <= len(slopes) * (MOST_LINES + 1)
    (largest,) = hatching(Box(0, 0, 420, 420), Ink("#000000", "#ffffff", (0,), 0.85), 0.2)
    rows = [step[2] for step in largest.steps if step[0] == "move"]
    assert rows[1] - rows[0] == pytest.approx(0.85)


def test_of_a_long_figure_as_many_picks_are_drawn_as_show() -> None:
    """500 rows are 80 cm of tape: on 5 cm of it no more marks than 5 cm take."""
    pattern = shipped_pattern("five-posts")
    assert pattern.pickup is not None
    rows = tuple(PickupRow("down" if number % 2 else "up") for number in range(500))
    short, long = (
        make_plan(replace(pattern, pickup=replace(pattern.pickup, rows=rows[:count])), shipped_loom("middle-box"))
        for count in (60, 500)
    )
    inks = {colour.yarn: Ink("#000000", "#ffffff", (), 0.0) for colour in long.colours}
    box = Box(0.0, 0.0, 17.0, 50.0)
    (few,), (many,) = (stamped_face(Cloth(plan, inks), box, 1.0) for plan in (short, long))
    assert isinstance(few, Stamp)
    assert isinstance(many, Stamp)
    assert len(many.marks) == len(few.marks)
    assert plan_of("five-posts").pickup is not None


def test_a_beam_that_takes_no_whole_turn_has_a_card_too() -> None:
    """60 cm across, 1.9 m round: a warp of 1 m has no row in the table of turns left."""
    loom = shipped_loom("small-box")
    assert loom.beam is not None
    thick = replace(loom, beam=replace(loom.beam, diameter_mm=Fraction(600)))
    plan = make_plan(shipped_pattern("two-rails"), thick, warp_mm=Fraction(1000))
    assert plan.beam is not None
    assert plan.beam.turns < 1
    assert composed(plan, "bench").page.marks
