"""When a tape with a figure is the same from its other edge, against tapes woven out as letters and turned.

The letters know nothing of ends: what is on top in a pick is a letter, what is below a dot. Own derivation.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, product

import pytest

from cardmaker.model.bench import PickupPlan
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Pattern, Pickup, PickupRow, Stripe, Yarn
from cardmaker.model.problems import Refusal
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.weaving.pickup import is_same_from_other_edge
from cardmaker.wording.title_words import symmetry
from tests.helpers.warps import one_heddle

LOOM: Loom = one_heddle(6, 7)
NAMES = {"W": "white", "B": "blue", "P": "post"}
Row = tuple[str, tuple[int, ...]]  # the shed, and the posts lifted in it (down) or dropped (up), from the left


def woven(warp: str, rows: Sequence[Row]) -> list[str]:
    """The picks, the first one first, from the left. Posts lie in slots: every second end from a post on does.

    Pressed down the slot ends are below and lifted up they are on top; that is how a slot-and-hole heddle works.
    """
    posts = [place for place, yarn in enumerate(warp) if yarn == "P"]
    picks = []
    for shed, moved in rows:
        by_hand = {posts[post - 1] for post in moved}
        top = [((place - posts[0]) % 2 == 0) == (shed == "up") for place in range(len(warp))]
        top = [not up if place in by_hand else up for place, up in enumerate(top)]
        picks.append("".join(yarn if up else "." for yarn, up in zip(warp, top, strict=True)))
    return picks


def turned(picks: Sequence[str]) -> list[str]:
    """The same tape turned by half a circle: what was last comes first, what was right stands left."""
    return [pick[::-1] for pick in reversed(picks)]


def is_one_tape(picks: Sequence[str], others: Sequence[str]) -> bool:
    """Whether two endless tapes are one, whichever pick one begins to look at."""
    return any([*picks[at:], *picks[:at]] == list(others) for at in range(len(picks)))


def pattern(warp: str, rows: Sequence[Row]) -> Pattern:
    yarns = tuple(Yarn(name, "linen", "20/2", slots_only=name == "post") for name in NAMES.values())
    worked = tuple(
        PickupRow("down", lift=moved) if shed == "down" else PickupRow("up", drop=moved) for shed, moved in rows
    )
    stripes = tuple(Stripe(NAMES[yarn], 1) for yarn in warp)
    return Pattern("Posts", "posts", yarns, stripes, pickup=Pickup("post", worked))


def figures(posts: int, most_rows: int) -> Iterator[tuple[Row, ...]]:
    moves = [moved for count in range(posts + 1) for moved in combinations(range(1, posts + 1), count)]
    for count in range(2, most_rows + 1):
        yield from product(product(("down", "up"), moves), repeat=count)


WARPS = ["PW", "PWW", "WPB", "PBWW", "PWPB", "WPWPB", "WPBBBP", "BPWPW", "PWPWBB", "PBPWPW"]


@pytest.mark.parametrize("warp", WARPS)
def test_a_tape_is_called_the_same_from_its_other_edge_exactly_when_it_is(warp: str) -> None:
    """Every figure of up to three rows, of four on one post, that can be woven at all."""
    posts = warp.count("P")
    answers = {True: 0, False: 0}
    for rows in figures(posts, 4 if posts == 1 else 3 if posts == 2 else 2):
        made = pattern(warp, rows)
        try:
            plan = make_plan(made, LOOM)
        except Refusal:
            continue  # a post that stays up, or down, in every row
        assert plan.pickup is not None
        wanted = is_one_tape(turned(woven(warp[::-1], rows)), woven(warp, rows))
        assert is_same_from_other_edge(made, LOOM, plan.end_yarns, plan.pickup.rows) is wanted, rows
        keys = {note.key for note in plan.notes if note.about == "order"}
        assert keys == {"turned" if wanted else "other_figure"}
        answers[wanted] += 1
    assert answers[True]
    assert answers[False] or posts == 1


def test_plain_weave_is_always_the_same_turned_round() -> None:
    """Holes and slots in turn, from either kind on: the note needs no looking at rows there."""
    for count in range(1, 8):
        for warp in product("WB", repeat=count):
            for first, other_first in product((0, 1), repeat=2):
                picks, others = (
                    ["".join(yarn if (at + pick) % 2 == kind else "." for at, yarn in enumerate(of)) for pick in (0, 1)]
                    for of, kind in ((warp, first), (warp[::-1], other_first))
                )
                assert is_one_tape(turned(others), picks)


def figure_of(warp: str, rows: Sequence[Row]) -> PickupPlan:
    found = make_plan(pattern(warp, rows), LOOM).pickup
    assert found is not None
    return found


def test_the_head_calls_only_what_is_its_own_mirror_image_the_same_from_both_edges() -> None:
    """Posts 1 and 3 lifted in turn are the mirror image further along; posts 1, 2, 3 one after the other are not."""
    warp, plain = "WPWPWPW", ("up", ())
    both: list[Row] = [plain, ("down", (1, 3))]
    in_turn: list[Row] = [plain, ("down", (1,)), plain, ("down", (3,)), plain, ("down", ())]
    zigzag: list[Row] = [plain, ("down", (1,)), plain, ("down", (3,))]
    stair: list[Row] = [plain, ("down", (1,)), plain, ("down", (2,)), plain, ("down", (3,))]
    end_rows: list[Row] = [plain, ("down", ())]
    for rows, same in ((both, True), (zigzag, True), (in_turn, False), (stair, False)):
        worked = [*rows, *end_rows] if rows is both else rows
        figure = figure_of(warp, worked)
        mirrored = [pick[::-1] for pick in woven(warp, worked)]
        assert figure.same_both_ways is is_one_tape(mirrored, woven(warp, worked)) is same
        said = symmetry(make_plan(pattern(warp, worked), LOOM))
        assert said == ("same from both edges" if same else "stripes the same from both edges, the figure not")
