"""What keeps a route from being wound, and how many of its pegs it takes to show it: boards drawn and judged by hand.

Pegs and yarn together have a radius of 10 mm. Home and the cross stand at x = 0, 100 and 200 on the line y = 0. Out,
the thread runs below A and above B, so along y = 10 from home to A and along y = -10 from B on to R at x = 600; back it
runs above A and below B, so from (600, -10) down to (200, 10), and along y = -10 from A to home.
"""

from __future__ import annotations

import pytest

from cardmaker.model.peg_plan import Pegs
from cardmaker.reckoning.winding.clearance import Clearance, can_be_wound
from cardmaker.reckoning.winding.routes import round_trip
from tests.helpers.boards import board

RADIUS = 10.0
CROSS = {"H": (0, 0), "A": (100, 0), "B": (200, 0)}
STAIRS = CROSS | {"R": (600, 0), "p": (600, 300), "q": (300, 300), "s": (300, 600)}  # right, down, left and down again
THROUGH = CROSS | {"R": (600, 0), "p": (600, 300)}


def fault(pegs: Pegs, visited: str) -> int | None:
    path, turning = round_trip(pegs, tuple(visited), RADIUS)
    return Clearance(pegs, RADIUS).first_fault(path, turning, len(visited))


@pytest.mark.parametrize("visited", ["R", "Rp", "Rpq", "Rpqs"])
def test_stairs_can_be_wound_up_to_any_step(visited: str) -> None:
    pegs = board(STAIRS)
    assert fault(pegs, visited) is None
    assert can_be_wound(pegs, *round_trip(pegs, tuple(visited), RADIUS), len(visited))


@pytest.mark.parametrize(
    ("post", "faults"),  # of R, Rp, Rpq and Rpqs; a leg is settled by the peg after it, but for the leg to the far peg
    [
        ((50, 15), (2, 2, 2, 2)),  # 5 off the thread from home to A
        ((50, -15), (2, 2, 2, 2)),  # 5 off the thread from A to home
        ((400, -15), (1, 2, 2, 2)),  # 5 off the way out from B to R, 15 off the way back
        ((300, 5), (1, 2, 2, 2)),  # on the way back from R to B, which is at y = 5 there; 15 off the way out
        ((615, 150), (None, 2, 3, 3)),  # 5 off the thread from R to p, at x = 610
        (
            (450, 305),
            (None, None, 3, 4),
        ),  # 5 off the thread from p to q, at y = 310; to go on to s it comes in at y = 300
        ((585, 270), (None, 2, None, None)),  # left of p, where only a thread that turns at p comes back, to x = 590
        ((295, 450), (None, None, None, 4)),  # 5 off the thread from q to s, somewhere between x = 290 and 310
    ],
)
def test_a_post_in_the_way_of_a_leg(post: tuple[int, int], faults: tuple[int | None, ...]) -> None:
    pegs = board(STAIRS | {"post": post})
    assert tuple(fault(pegs, visited) for visited in ("R", "Rp", "Rpq", "Rpqs")) == faults


def test_of_several_faults_the_one_that_shows_first_counts() -> None:
    posts = {"x": (295, 450), "y": (450, 305), "z": (615, 150), "w": (50, 15)}
    pegs = [board(STAIRS | dict(list(posts.items())[:count])) for count in (1, 2, 3, 4)]
    assert [fault(each, "Rpqs") for each in pegs] == [4, 4, 3, 2]


@pytest.mark.parametrize(
    ("place", "is_clear"),
    [
        ((400, -20), True),  # it touches the thread along y = -10
        ((400, -19), False),
        ((620, 150), True),  # the thread along x = 610
        ((619, 150), False),
        ((50, 20), True),
        ((50, 19), False),
        ((50, -20), True),
        ((650, -10), True),  # in line with the leg from B to R, past its end
        ((-50, -10), True),  # in line with the leg from A to home, past its end
        ((610, -60), True),  # in line with the leg from R to p, before its beginning
        ((610, 360), True),
        ((250, 310), True),  # in line with the leg from p to q, past its end
    ],
)
def test_how_near_a_post_may_stand(place: tuple[int, int], *, is_clear: bool) -> None:
    assert (fault(board(STAIRS | {"post": place}), "Rpq") is None) is is_clear


@pytest.mark.parametrize(
    ("q", "far"),
    [
        ((150, 300), (150, -300)),  # between the two cross pegs
        ((50, 300), (50, -300)),  # between home and A
        ((400, 300), (400, -300)),  # between B and R
        ((750, 150), (400, 150)),  # back over the leg from R to p
    ],
)
def test_a_leg_that_cuts_an_earlier_one(q: tuple[int, int], far: tuple[int, int]) -> None:
    """The fault shows at the far peg; if the thread goes on from there, with the next one after it."""
    pegs = board(THROUGH | {"q": q, "f": far, "g": (-300, -400)})
    assert fault(pegs, "Rpq") is None
    assert fault(pegs, "Rpqf") == 4
    assert fault(pegs, "Rpqfg") == 5


def turned(places: dict[str, tuple[int, int]], quarter: int, *, slanting: bool) -> dict[str, tuple[int, int]]:
    """The same board turned by so many quarters, and by the larger angle of a 3-4-5 triangle, five times as large."""
    for _ in range(quarter):
        places = {name: (-y, x) for name, (x, y) in places.items()}
    if slanting:
        places = {name: (3 * x - 4 * y, 4 * x + 3 * y) for name, (x, y) in places.items()}
    return places


@pytest.mark.parametrize("slanting", [False, True])
@pytest.mark.parametrize("quarter", range(4))
def test_what_is_cut_is_cut_whichever_way_the_board_is_turned(quarter: int, *, slanting: bool) -> None:
    def shows(places: dict[str, tuple[int, int]], visited: str) -> int | None:
        return fault(board(turned(CROSS | places, quarter, slanting=slanting)), visited)

    assert shows({"R": (600, 0), "p": (600, 300), "q": (300, 300), "s": (300, 600)}, "Rpqs") is None
    assert shows({"R": (600, 0), "p": (600, 300), "q": (150, 300), "f": (150, -300)}, "Rpqf") == 4
    assert shows({"R": (300, 200), "p": (-60, -300)}, "Rp") == 2  # down from R between A and B


def test_a_thread_that_goes_straight_on_can_be_wound() -> None:
    assert fault(board(CROSS | {"R": (600, 0), "s": (900, 0)}), "Rs") is None


@pytest.mark.parametrize(
    ("places", "shows"),
    [
        # To A and on to B is a turn to the right, to B and on to R one to the left, and A must lie on the left of the
        # thread and B on its right. From home straight to R, A would lie on the right.
        ({"H": (250, 50), "A": (75, 250), "B": (50, 200), "R": (150, 275)}, 1),
        ({"H": (275, 250), "A": (75, 225), "B": (175, 100), "R": (75, 300)}, 1),
        ({"H": (100, 225), "A": (250, 275), "B": (50, 275), "R": (125, 200)}, 1),  # B, on the way back
        ({"H": (300, 200), "A": (0, 0), "B": (50, 250), "R": (200, 50)}, 1),  # B on the way out, A on the way back
        ({"H": (225, 200), "A": (25, 300), "B": (225, 275), "R": (0, 175), "p": (50, 75)}, 2),
        ({"H": (25, 150), "A": (250, 25), "B": (125, 0), "R": (200, 175), "p": (300, 250)}, 2),
    ],
)
def test_a_cross_that_stands_askew_is_not_touched(places: dict[str, tuple[int, int]], shows: int) -> None:
    visited = "".join(name for name in places if name not in "HAB")
    assert fault(board(places), visited) == shows


def test_a_thread_round_the_outside_cuts_nothing() -> None:
    pegs = board(THROUGH | {"q": (-200, 300), "f": (-200, -300)})
    assert fault(pegs, "Rpqf") is None


def test_a_peg_that_the_way_out_does_not_touch() -> None:
    """The thread from A runs well clear of B and leans over to the upper side of R: A to R rises 27.9 degrees, and it
    leans asin(20 / 192.4) = 6.0 more. From R to L, in line with B, it rises 40.6, so R on its right is not touched."""
    rising = {"H": (0, 0), "A": (100, 20), "B": (200, -10), "R": (270, -70), "L": (340, -130)}
    assert fault(board(rising), "RL") == 2
    further = board(rising | {"M": (500, -150), "N": (700, -150)})
    assert [fault(further, visited) for visited in ("RLM", "RLMN")] == [3, 3]


def test_what_was_tried_is_remembered_and_still_true() -> None:
    """One room asked again and again tells what a fresh one does."""
    pegs = board(STAIRS | {"post": (450, 305)})
    room = Clearance(pegs, RADIUS)
    for visited in ("Rpqs", "R", "Rpq", "Rp", "Rpqs", "Rpq"):
        path, turning = round_trip(pegs, tuple(visited), RADIUS)
        assert room.first_fault(path, turning, len(visited)) == fault(pegs, visited)
