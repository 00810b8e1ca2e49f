"""A thread round pegs: its parts, its refusals, and what it costs to let ends pile up."""

from __future__ import annotations

from fractions import Fraction
from math import atan2, hypot, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.nouns.peg_plan import Bend, PassedPeg
from cardmaker.reckoning.thread_path import pile_up_mm, signed_bend, stack_mm, thread_path, without_untouched

LEFT, RIGHT = Bend.LEFT, Bend.RIGHT


def peg(name: str, x: float, y: float, bend: Bend, radius: float = 10) -> PassedPeg:
    return PassedPeg(name, x, y, radius, bend)


def test_two_like_pegs_passed_on_one_side_lie_on_the_upper_tangent() -> None:
    """Travelling to the right with both pegs on its right hand, the thread runs above them: y = 0 - 10."""
    path = thread_path([peg("a", 0, 0, RIGHT), peg("b", 100, 0, RIGHT)])
    assert path.legs[0].start == pytest.approx((0, -10))
    assert path.legs[0].stop == pytest.approx((100, -10))
    assert path.arcs == ()
    assert path.length_mm == pytest.approx(100)


def test_a_change_of_side_takes_the_inner_tangent() -> None:
    """From below one peg to above the next: sqrt(100^2 - 20^2) = 97.9796."""
    path = thread_path([peg("a", 0, 0, LEFT), peg("b", 100, 0, RIGHT)])
    assert path.length_mm == pytest.approx(97.979590, abs=1e-6)
    assert path.legs[0].start[1] > 0 > path.legs[0].stop[1]


def test_a_square_corner_is_a_quarter_of_a_circle() -> None:
    """100 to the right, a quarter turn to the right on radius 10 (5 pi), 100 down."""
    path = thread_path([peg("a", 0, 0, RIGHT), peg("b", 100, 0, RIGHT), peg("c", 100, 100, RIGHT)])
    (arc,) = path.arcs
    assert arc.sweep == pytest.approx(pi / 2)
    assert arc.start == pytest.approx((100, -10))
    assert arc.stop == pytest.approx((110, 0))
    assert path.length_mm == pytest.approx(200 + 5 * pi)
    assert path.centres_mm == pytest.approx(200)


def test_a_straight_pass_lies_on_the_peg_without_an_arc() -> None:
    path = thread_path([peg(name, x, 0.1 * x, LEFT) for name, x in (("a", 0), ("b", 30), ("c", 90))])
    assert path.arcs[0].length_mm == 0
    assert path.length_mm == pytest.approx(path.centres_mm)


@given(st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40), st.sampled_from(Bend)), min_size=2, max_size=7))
def test_legs_and_arcs_join_end_to_end_and_touch_square_to_the_radius(pegs: list[tuple[int, int, Bend]]) -> None:
    passed = [peg(str(i), 25.0 * x, 25.0 * y, bend, 12) for i, (x, y, bend) in enumerate(pegs)]
    if any((a.x_mm, a.y_mm) == (b.x_mm, b.y_mm) for a, b in zip(passed, passed[1:] + passed[:1], strict=True)):
        with pytest.raises(ValueError, match="no room"):
            thread_path(passed, closed=True)
        return
    path = thread_path(passed, closed=True)
    for index, arc in enumerate(path.arcs):
        assert arc.start == pytest.approx(path.legs[index - 1].stop, abs=1e-6)
        assert arc.stop == pytest.approx(path.legs[index].start, abs=1e-6)
        for end, leg in ((arc.start, path.legs[index - 1]), (arc.stop, path.legs[index])):
            along = (leg.stop[0] - leg.start[0], leg.stop[1] - leg.start[1])
            radius = (end[0] - arc.peg.x_mm, end[1] - arc.peg.y_mm)
            assert along[0] * radius[0] + along[1] * radius[1] == pytest.approx(0, abs=1e-6)
            assert hypot(*along) == pytest.approx(leg.length_mm)
            assert atan2(along[1], along[0]) % (2 * pi) == pytest.approx(leg.heading % (2 * pi))


@given(st.lists(st.tuples(st.integers(0, 30), st.integers(0, 30), st.sampled_from(Bend)), min_size=2, max_size=6))
def test_walked_backwards_a_thread_is_as_long(pegs: list[tuple[int, int, Bend]]) -> None:
    passed = [peg(str(i), 25.0 * x + i, 25.0 * y, bend, 9) for i, (x, y, bend) in enumerate(pegs)]
    backwards = [peg(each.name, each.x_mm, each.y_mm, each.bend.other, 9) for each in reversed(passed)]
    try:
        length = thread_path(passed).length_mm
    except ValueError:
        return
    assert thread_path(backwards).length_mm == pytest.approx(length, abs=1e-6)


@pytest.mark.parametrize("gap", [0, 15, 20])
def test_pegs_that_leave_no_room_are_refused_by_name(gap: float) -> None:
    with pytest.raises(ValueError, match=r"a to b: .*no room"):
        thread_path([peg("a", 0, 0, LEFT), peg("b", gap, 0, LEFT)])


def test_one_peg_is_no_thread() -> None:
    with pytest.raises(ValueError, match="two pegs"):
        thread_path([peg("a", 0, 0, LEFT)])


def test_a_cross_peg_in_a_corner_is_touched_on_one_side_only() -> None:
    """The way turns right at b: laid with b on the right it bends round it, on the left it cuts the corner."""
    for bend, names in ((RIGHT, "abc"), (LEFT, "ac")):
        passed = [peg("a", 0, 0, RIGHT), peg("b", 100, 0, bend), peg("c", 100, 100, RIGHT)]
        assert "".join(each.name for each in without_untouched(passed, {"b"})) == names
        assert (signed_bend(*passed) > 0) == (bend is RIGHT)


def test_a_peg_that_must_be_touched_is_never_left_out() -> None:
    passed = [peg("a", 0, 0, RIGHT), peg("b", 100, 0, LEFT), peg("c", 100, 100, RIGHT)]
    assert without_untouched(passed, set()) == tuple(passed)


def test_twenty_ends_deep_costs_31_mm_at_each_half_turn() -> None:
    """pi times 20 times 0.5 mm = 31.4 mm; nothing under the first end."""
    assert pile_up_mm(pi, 20, Fraction(1, 2)) == pytest.approx(31.4159, abs=1e-4)
    assert pile_up_mm(pi, 0, Fraction(1, 2)) == 0


def test_the_stack_is_ends_times_yarn() -> None:
    assert stack_mm(31, Fraction(2, 5)) == Fraction(62, 5)
