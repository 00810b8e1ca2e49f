"""The route of one end: which routes are allowed, which can be wound, and the one with the least to spare."""

from __future__ import annotations

from itertools import combinations, pairwise
from math import pi, sqrt

import pytest

from cardmaker.model.peg_plan import Bend, Pegs
from cardmaker.reckoning.winding.clearance import can_be_wound
from cardmaker.reckoning.winding.routes import corner_bend, cross_bends, nearest_routes, round_trip
from cardmaker.reckoning.winding.thread_path import signed_bend
from tests.helpers.boards import allowed_lengths, board, strewn, zigzag

RADIUS = 9.75  # half of a 19 mm peg and of a 0.5 mm yarn


def every_allowed(pegs: Pegs) -> set[tuple[str, ...]]:
    """All subsequences of the order that begin with its first peg and leave out at most one run of neighbours."""
    found = set()
    for count in range(1, len(pegs.order) + 1):
        for chosen in combinations(range(len(pegs.order)), count):
            jumps = sum(later - earlier > 1 for earlier, later in pairwise(chosen))
            if chosen[0] == 0 and jumps <= 1:
                found.add(tuple(pegs.order[index] for index in chosen))
    return found


def wound_lengths(pegs: Pegs) -> list[float]:
    """The length of every allowed route that can be wound, each measured on its own, the shortest first."""
    lengths = []
    for visited in every_allowed(pegs):
        path, turning = round_trip(pegs, visited, RADIUS)
        if can_be_wound(pegs, path, turning, len(visited)):
            lengths.append(path.length_mm / 2)
    return sorted(lengths)


BOARDS = [zigzag(count) for count in range(4, 13)] + [
    strewn(count, seed) for count in (5, 8, 10, 12) for seed in range(8)
]


@pytest.mark.parametrize("pegs", BOARDS)
def test_the_quick_search_gives_what_trying_every_route_gives(pegs: Pegs) -> None:
    lengths = wound_lengths(pegs)
    wishes = [1.0, 1e5] + [length + off for length in lengths[:: len(lengths) // 12 + 1] for off in (-1, -1e-7, 0, 1)]
    for wanted in wishes:
        below, above = nearest_routes(pegs, wanted, RADIUS)
        at_least = [length for length in lengths if length >= wanted - 1e-6]
        short = [length for length in lengths if length < wanted - 1e-6]
        assert (above and above.length_mm) == (pytest.approx(at_least[0], abs=1e-6) if at_least else None)
        assert (below and below.length_mm) == (pytest.approx(short[-1], abs=1e-6) if short else None)


@pytest.mark.parametrize("pegs", [*BOARDS, zigzag(24), strewn(24, 1)])
def test_reused_lengths_are_the_measured_lengths(pegs: Pegs) -> None:
    routes = allowed_lengths(pegs, RADIUS)
    if len(pegs.pegs) <= 12:
        assert sorted(route.visited for route in routes) == sorted(every_allowed(pegs))
    for route in routes:
        path, _ = round_trip(pegs, route.visited, RADIUS)
        assert route.length_mm == pytest.approx(path.length_mm / 2, abs=1e-6)
        assert route.has_shortcut == (route.visited != pegs.order[: len(route.visited)])


def test_the_strewn_boards_try_something() -> None:
    """Otherwise the comparison above would compare nothing: most have routes, some have routes that cannot be wound."""
    counts = [(len(wound_lengths(pegs)), len(every_allowed(pegs))) for pegs in BOARDS]
    assert sum(wound > 1 for wound, _ in counts) > 20
    assert sum(0 < wound < allowed for wound, allowed in counts) > 15


def test_home_cross_and_one_peg_in_a_line() -> None:
    """H A B R at 0, 100, 200, 500, r = 10: half a round trip has half of a half turn at H and at R.

    Outer tangents H-A 100 and B-R 300, the inner one between the cross pegs sqrt(100^2 - 20^2) = 97.9796, arcs at A and
    B of asin(0.2) each, half of pi at H and at R: 497.9796 + 10 (2 x 0.201358 + pi) = 533.4226.
    """
    pegs = board({"H": (0, 0), "A": (100, 0), "B": (200, 0), "R": (500, 0)})
    path, turning = round_trip(pegs, ("R",), 10)
    assert path.length_mm / 2 == pytest.approx(400 + sqrt(9600) + 10 * (2 * 0.2013579 + pi), abs=1e-5)
    assert [peg.name for peg in path.passed] == ["H", "A", "B", "R", "B", "A"]
    assert turning == 3


def test_cross_pegs_are_passed_on_opposite_sides_out_and_back() -> None:
    """Seen from above the thread is below A and above B on the way out, and the other way round on the way back."""
    path, turning = round_trip(zigzag(8), ("R1", "L1", "R2"), RADIUS)
    heights = {}
    for arc, way in [(arc, index < turning) for index, arc in enumerate(path.arcs)]:
        if arc.peg.name in "AB":
            heights[arc.peg.name, way] = arc.start[1] > arc.peg.y_mm
    assert heights == {("A", True): True, ("B", True): False, ("A", False): False, ("B", False): True}


def test_other_pegs_are_passed_on_the_same_side_of_the_peg_both_ways() -> None:
    path, turning = round_trip(zigzag(8), ("R1", "L1", "R2"), RADIUS)
    out = {arc.peg.name: arc.peg.bend for arc in path.arcs[:turning]}
    back = {arc.peg.name: arc.peg.bend for arc in path.arcs[turning + 1 :]}
    assert all(out[name] is back[name].opposite for name in ("R1", "L1"))


def test_the_thread_bends_round_the_inner_side_of_each_corner() -> None:
    path, turning = round_trip(zigzag(8), ("R1", "L1", "R2", "L2"), RADIUS)
    assert [peg.bend for peg in path.passed[3:6]] == [
        corner_bend((0, 0), (1, 0), after, path.passed[0].bend) for after in ((0, 1), (0, -1), (0, 1))
    ]
    for index in range(1, turning):
        assert 0 < signed_bend(*path.passed[index - 1 : index + 2]) < 1.05 * pi


@pytest.mark.parametrize(
    ("places", "visited"),
    [
        ({"R": (600, 0), "L": (600, 300), "far": (300, 300), "post": (600, 150)}, ("R", "L", "far")),  # touches it
        ({"R": (600, 0), "far": (900, 0)}, ("R", "far")),  # straight on
    ],
)
def test_routes_that_can_be_wound(places: dict[str, tuple[int, int]], visited: tuple[str, ...]) -> None:
    pegs = board({"H": (0, 0), "A": (100, 0), "B": (200, 0)} | places)
    assert can_be_wound(pegs, *round_trip(pegs, visited, RADIUS), len(visited))


@pytest.mark.parametrize(
    ("places", "visited"),
    [
        ({"R": (600, 0), "far": (600, 300), "post": (615, 150)}, ("R", "far")),  # the leg would run through a peg
        (
            {"R": (600, 0), "p": (600, 300), "q": (300, 300), "far": (400, -300)},
            ("R", "p", "q", "far"),
        ),  # cuts its way out
        ({"R": (-300, 8)}, ("R",)),  # back over home
        (
            {"A": (100, 50), "B": (200, -10), "R": (270, -70), "L": (340, -130)},
            ("R", "L"),
        ),  # does not touch R going out
    ],
)
def test_routes_that_cannot_be_wound(places: dict[str, tuple[int, int]], visited: tuple[str, ...]) -> None:
    pegs = board({"H": (0, 0), "A": (100, 0), "B": (200, 0)} | places)
    assert not can_be_wound(pegs, *round_trip(pegs, visited, RADIUS), len(visited))


def test_a_plain_route_goes_before_a_shortcut_of_the_same_length() -> None:
    """Mirror images: R then L or R then N are equally long; the one that follows the order is taken."""
    pegs = board({"H": (0, 0), "A": (100, 0), "B": (200, 0), "R": (600, 0), "L": (800, 300), "N": (800, -300)})
    lengths = [r.length_mm for r in allowed_lengths(pegs, RADIUS) if r.visited in (("R", "L"), ("R", "N"))]
    assert lengths[0] == pytest.approx(lengths[1], abs=1e-9)
    _, above = nearest_routes(pegs, lengths[0] - 5, RADIUS)
    assert above is not None
    assert above.visited == ("R", "L")


def test_a_false_cross_of_three_pegs_passes_them_by_turns() -> None:
    places = {"H": (0, 0), "A": (100, 0), "B": (200, 0), "C": (300, 0), "R": (700, 0)}
    path, turning = round_trip(board(places, cross=("A", "B", "C")), ("R",), RADIUS)
    a, b, c = (path.passed[index].bend for index in (1, 2, 3))
    assert (a, b, c) == (a, a.opposite, a)
    assert turning == 4


def test_pegs_without_room_between_them() -> None:
    with pytest.raises(ValueError, match="no room"):
        nearest_routes(board({"H": (0, 0), "A": (100, 0), "B": (200, 0), "R": (600, 0), "L": (610, 0)}), 100, RADIUS)


def test_a_corner_is_one_from_a_thousand_millionth_of_a_turn_on() -> None:
    """Legs of a metre: a ten-millionth of a millimetre aside is straight on, a ten-thousandth is a corner."""
    for straight in Bend:
        assert corner_bend((0, 0), (1000, 0), (2000, 1e-7), straight) is straight
        assert corner_bend((0, 0), (1000, 0), (2000, 1e-4), straight) is Bend.RIGHT
        assert corner_bend((0, 0), (1000, 0), (2000, -1e-4), straight) is Bend.LEFT


def test_home_without_a_cross_is_looped_to_the_left() -> None:
    """As it is where the first peg of a cross is passed on the left."""
    pegs = board({"H": (0, 0), "R": (600, 0)}, cross=())
    assert cross_bends(pegs) == (Bend.LEFT,)
    assert cross_bends(zigzag(6)) == (Bend.LEFT, Bend.LEFT, Bend.RIGHT)


def test_a_shortcut_tells_how_many_pegs_go_before_it_and_where_it_comes_back() -> None:
    """H A B R1 L1 R2 L2: R1 and then L2 keeps one peg and comes back at the fourth, whose index is 3."""
    found = {route.visited: (route.kept, route.resumed) for route in allowed_lengths(zigzag(7), RADIUS)}
    assert found[("R1", "L2")] == (1, 3)
    assert found[("R1", "L1", "L2")] == (2, 3)
    assert found[("R1", "R2", "L2")] == (1, 2)
    assert found[("R1", "L1", "R2")] == (0, 0)
    assert found[("R1", "R2")] == (1, 2)
    assert len(found) == 8  # up to any of four pegs, and these four shortcuts


@pytest.mark.parametrize("side", [1, -1])
def test_pegs_in_a_line_keep_the_side_of_the_peg_before(side: int) -> None:
    """Down a column of four pegs, left or right of the way there, and back below it: each length as it is measured."""
    column = {f"p{row}": (600, side * 150 * row) for row in range(4)}
    pegs = board({"H": (0, 0), "A": (100, 0), "B": (200, 0)} | column | {"q": (300, side * 450), "r": (0, side * 450)})
    for route in allowed_lengths(pegs, RADIUS):
        path, _ = round_trip(pegs, route.visited, RADIUS)
        assert route.length_mm == pytest.approx(path.length_mm / 2, abs=1e-6)
    path, turning = round_trip(pegs, ("p0", "p1", "p2", "p3", "q"), RADIUS)
    assert {peg.bend for peg in path.passed[3:turning]} == {Bend.RIGHT if side > 0 else Bend.LEFT}
