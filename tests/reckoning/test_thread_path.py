"""A thread round pegs: its parts, its refusals, and what it costs to let ends pile up."""

from __future__ import annotations

from fractions import Fraction
from math import asin, atan2, cos, hypot, pi, radians, sin, tau

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.model.peg_plan import Bend, PassedPeg
from cardmaker.reckoning.winding.thread_path import (
    path_round_pegs,
    pile_up_mm,
    signed_bend,
    stack_mm,
    without_untouched,
    wrap,
)
from tests.helpers.between_centres import between_centres_mm

LEFT, RIGHT = Bend.LEFT, Bend.RIGHT


def peg(name: str, x: float, y: float, bend: Bend, radius: float = 10) -> PassedPeg:
    return PassedPeg(name, x, y, radius, bend)


def test_two_like_pegs_passed_on_one_side_lie_on_the_upper_tangent() -> None:
    """Travelling to the right with both pegs on its right hand, the thread runs above them: y = 0 - 10."""
    path = path_round_pegs([peg("a", 0, 0, RIGHT), peg("b", 100, 0, RIGHT)])
    assert path.legs[0].start == pytest.approx((0, -10))
    assert path.legs[0].stop == pytest.approx((100, -10))
    assert path.arcs == ()
    assert path.length_mm == pytest.approx(100)


def test_a_change_of_side_takes_the_inner_tangent() -> None:
    """From below one peg to above the next: sqrt(100^2 - 20^2) = 97.9796."""
    path = path_round_pegs([peg("a", 0, 0, LEFT), peg("b", 100, 0, RIGHT)])
    assert path.length_mm == pytest.approx(97.979590, abs=1e-6)
    assert path.legs[0].start[1] > 0 > path.legs[0].stop[1]


def test_a_square_corner_is_a_quarter_of_a_circle() -> None:
    """100 to the right, a quarter turn to the right on radius 10 (5 pi), 100 down."""
    path = path_round_pegs([peg("a", 0, 0, RIGHT), peg("b", 100, 0, RIGHT), peg("c", 100, 100, RIGHT)])
    (arc,) = path.arcs
    assert arc.sweep == pytest.approx(pi / 2)
    assert arc.start == pytest.approx((100, -10))
    assert arc.stop == pytest.approx((110, 0))
    assert path.length_mm == pytest.approx(200 + 5 * pi)
    assert between_centres_mm(path) == pytest.approx(200)


def test_a_straight_pass_lies_on_the_peg_without_an_arc() -> None:
    path = path_round_pegs([peg(name, x, 0.1 * x, LEFT) for name, x in (("a", 0), ("b", 30), ("c", 90))])
    assert path.arcs[0].length_mm == 0
    assert path.length_mm == pytest.approx(between_centres_mm(path))


@given(st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40), st.sampled_from(Bend)), min_size=2, max_size=7))
def test_legs_and_arcs_join_end_to_end_and_touch_square_to_the_radius(pegs: list[tuple[int, int, Bend]]) -> None:
    passed = [peg(str(i), 25.0 * x, 25.0 * y, bend, 12) for i, (x, y, bend) in enumerate(pegs)]
    if any((a.x_mm, a.y_mm) == (b.x_mm, b.y_mm) for a, b in zip(passed, passed[1:] + passed[:1], strict=True)):
        with pytest.raises(ValueError, match="no room"):
            path_round_pegs(passed, closed=True)
        return
    path = path_round_pegs(passed, closed=True)
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
    backwards = [peg(each.name, each.x_mm, each.y_mm, each.bend.opposite, 9) for each in reversed(passed)]
    try:
        length = path_round_pegs(passed).length_mm
    except ValueError:
        return
    assert path_round_pegs(backwards).length_mm == pytest.approx(length, abs=1e-6)


@pytest.mark.parametrize("gap", [0, 15, 20])
def test_pegs_that_leave_no_room_are_refused_by_name(gap: float) -> None:
    with pytest.raises(ValueError, match=r"a to b: .*no room"):
        path_round_pegs([peg("a", 0, 0, LEFT), peg("b", gap, 0, LEFT)])


def test_one_peg_is_no_thread() -> None:
    with pytest.raises(ValueError, match=r"^a thread needs two pegs$"):
        path_round_pegs([peg("a", 0, 0, LEFT)])


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


def test_a_thread_bends_by_less_than_a_full_turn_and_a_hair_under_one_is_none() -> None:
    assert wrap(1.0, 1.5, 1) == wrap(1.5, 1.0, -1) == pytest.approx(0.5)
    assert wrap(1.0, 1.5, -1) == wrap(1.5, 1.0, 1) == pytest.approx(tau - 0.5)
    assert wrap(0.0, -1e-10, 1) == wrap(0.0, 1e-10, -1) == 0.0
    assert wrap(0.0, -1e-6, 1) == pytest.approx(tau - 1e-6)


@pytest.mark.parametrize(
    ("bends", "expected"),
    [
        ((RIGHT, RIGHT, RIGHT), pi / 2),  # the corner alone
        ((RIGHT, RIGHT, LEFT), pi / 2 + asin(0.2)),  # leaves leaning outwards by asin((10 + 10) / 100)
        ((LEFT, RIGHT, RIGHT), pi / 2 + asin(0.2)),  # arrives leaning so
        ((LEFT, RIGHT, LEFT), pi / 2 + 2 * asin(0.2)),
        ((LEFT, LEFT, LEFT), -pi / 2),  # on the wrong side of the corner
        ((RIGHT, LEFT, LEFT), asin(0.2) - pi / 2),
        ((RIGHT, LEFT, RIGHT), 2 * asin(0.2) - pi / 2),
    ],
)
def test_the_bend_at_a_square_corner(bends: tuple[Bend, Bend, Bend], expected: float) -> None:
    """Radius 10, pegs 100 apart, a corner to the right somewhere on the board."""
    places = ((230, 140), (330, 140), (330, 240))
    passed = [peg(name, x, y, bend) for name, (x, y), bend in zip("abc", places, bends, strict=True)]
    assert signed_bend(*passed) == pytest.approx(expected)


def test_the_bend_is_the_same_whichever_way_the_board_is_turned() -> None:
    """Two legs that enclose 150 degrees: a bend of 30 to the right, from headings all round the compass."""
    for degrees in range(-360, 360, 15):
        first, second = radians(degrees), radians(degrees + 30)
        x, y = 400 + 100 * cos(first), 300 + 100 * sin(first)
        passed = [peg("a", 400, 300, RIGHT), peg("b", x, y, RIGHT)]
        passed.append(peg("c", x + 100 * cos(second), y + 100 * sin(second), RIGHT))
        assert signed_bend(*passed) == pytest.approx(radians(30))


def test_turning_straight_back_is_half_a_turn_on_either_side() -> None:
    """To a peg and back to where the thread came from: pi, not minus pi."""
    for bend in Bend:
        assert signed_bend(peg("a", 0, 0, bend), peg("b", 100, 0, bend), peg("c", 0, 0, bend)) == pytest.approx(pi)
        assert signed_bend(peg("a", 100, 0, bend), peg("b", 0, 0, bend), peg("c", 100, 0, bend)) == pytest.approx(pi)


def laid(way: str, degrees: int, *, mirrored: bool = False) -> list[PassedPeg]:
    """Pegs such as ``a 0 0 R, b 100 -5 R``, turned by so many degrees, 500 to the right and 300 down, or mirrored."""
    turn, passed = radians(degrees), []
    for told in way.split(", "):
        name, across, down, side = told.split()
        x, y = float(across), -float(down) if mirrored else float(down)
        bend = RIGHT if (side == "R") is not mirrored else LEFT
        passed.append(peg(name, 500 + x * cos(turn) - y * sin(turn), 300 + x * sin(turn) + y * cos(turn), bend))
    return passed


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("degrees", [0, 25, 90, 160, 235, 300])
@pytest.mark.parametrize(
    ("way", "touched"),
    [
        ("a 0 0 R, p 100 -5 R, c 200 0 R", "apc"),  # 5 above the line of the others: the thread bends over it
        ("a 0 0 R, p 100 0.5 R, c 200 0 R", "ac"),  # half a millimetre below: the thread runs past
        ("a 0 0 R, p 100 5 R, c 200 0 R", "ac"),
        # From the top of p, y = -40, to that of c, y = -10, the thread runs 15 above q at x = 200. The line from a to q
        # and the one from a to c would run through p.
        ("a 0 0 R, p 100 -30 R, q 200 5 R, c 300 0 R", "apc"),
        ("a 0 0 L, p 100 -30 R, q 200 5 R, c 300 0 R", "apc"),  # a on the other side
        ("a 0 0 R, q 100 5 R, p 200 -30 R, c 300 0 R", "apc"),
        # p stands 8 above the line and q 1: over p the thread at q is at y = -14, 4 clear of it; but over q alone it
        # would be at y = -10.5 where p reaches up to -18.
        ("a 0 0 R, p 100 -8 R, q 200 -1 R, c 300 0 R", "apc"),
        ("a 0 0 R, p 100 5 R, q 200 5 R, c 300 0 R", "ac"),  # neither is reached
        ("a 0 0 R, p 100 -20 R, q 200 -20 R, c 300 0 R", "apqc"),  # both are
    ],
)
def test_which_pegs_a_taut_thread_touches(way: str, touched: str, degrees: int, mirrored: bool) -> None:
    passed = laid(way, degrees, mirrored=mirrored)
    assert "".join(each.name for each in without_untouched(passed, {"p", "q"})) == touched


def test_a_peg_in_a_straight_line_is_touched() -> None:
    """The thread lies on it without a bend."""
    passed = [peg("a", 0, 0, RIGHT), peg("p", 100, 0, RIGHT), peg("c", 200, 0, RIGHT)]
    assert without_untouched(passed, {"p"}) == tuple(passed)


def test_where_no_choice_is_taut_all_pegs_are_kept() -> None:
    """The way to b overshoots c beside it. Round b it would have to bend to the right, but b must lie on its left; and
    the straight way from a to c leaves b on its right as well."""
    passed = [peg("a", 50, -70, LEFT), peg("b", -90, -90, LEFT), peg("c", -40, -90, RIGHT)]
    assert without_untouched(passed, {"b"}) == tuple(passed)


# sums of our own, by hand calculator


def test_a_yard_between_two_half_inch_radii() -> None:
    """2c + 2 pi r = 2 x 914.4 + 2 pi x 12.7 = 1908.60."""
    ends = PassedPeg("a", 0, 0, 12.7, Bend.RIGHT), PassedPeg("b", 914.4, 0, 12.7, Bend.RIGHT)
    twice = path_round_pegs(ends, closed=True)
    assert twice.length_mm == pytest.approx(1908.60, abs=5e-3)


@pytest.mark.parametrize(("inwards", "inches"), [(True, 259.78), (False, 260.56)])
def test_seven_passes_between_columns_a_yard_apart(inwards: bool, inches: float) -> None:
    """Pegs 3/4 in thick every 3 in, r = 0.385 in: seven times sqrt(36^2 + 3^2) = 252.87 in from centre to centre.

    Six arcs: each leg is sqrt(36.1248^2 - 0.77^2) = 36.1166 in. Turned the near way an arc takes pi - 2 atan(3/36) +
    2 asin(0.77/36.1248) = 3.0177 rad, so 252.816 + 6 x 0.385 x 3.0177 = 259.79; turned the long way, crossing its own
    leg, 3.3507 rad: 260.56 (+3.0 %).
    """
    pegs = [
        PassedPeg(str(i), 36.0 * (i % 2), 3.0 * i, 0.385, Bend.RIGHT if (i % 2) == inwards else Bend.LEFT)
        for i in range(8)
    ]
    path = path_round_pegs(pegs)
    assert between_centres_mm(path) == pytest.approx(252.87, abs=5e-3)
    assert path.length_mm == pytest.approx(inches, abs=1e-2)


def test_inner_and_outer_tangent_differ_little_at_a_cross_six_inches_apart() -> None:
    """Thread round 3/4 in pegs, r = 0.385: sqrt(6^2 - 0.77^2) = 5.950 in against 6.000 in."""
    across = [
        path_round_pegs([PassedPeg("a", 0, 0, 0.385, Bend.LEFT), PassedPeg("b", 6, 0, 0.385, bend)]) for bend in Bend
    ]
    assert [path.length_mm for path in across] == pytest.approx([6.0, 5.950], abs=5e-4)


def test_three_sides_of_a_table_and_once_round_it() -> None:
    """A table of 30 by 72 in: 72 + 30 + 72 = 174 in on three sides, 204 in once round, from centre to centre."""
    inch = float(Fraction(254, 10))
    corners = [(0, 0), (72, 0), (72, 30), (0, 30)]
    passed = [PassedPeg(str(i), x * inch, y * inch, 13, Bend.RIGHT) for i, (x, y) in enumerate(corners)]
    assert between_centres_mm(path_round_pegs(passed)) / inch == pytest.approx(174)
    assert between_centres_mm(path_round_pegs(passed, closed=True)) / inch == pytest.approx(204)
    assert path_round_pegs(passed, closed=True).length_mm == pytest.approx(204 * inch + 2 * pi * 13)
