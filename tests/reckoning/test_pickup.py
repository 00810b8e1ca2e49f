"""Pick-up rows on T21: five red posts, ends 8, 12, 16, 20 and 24 of 31, all in slots when end 1 is in a hole."""

from __future__ import annotations

from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.model.bench import Float, ThickEnd
from cardmaker.model.loom import Space
from cardmaker.model.pattern import Pickup, PickupRow
from cardmaker.model.plan import Sheds
from cardmaker.model.problems import Refusal
from cardmaker.reckoning.weaving.pickup import pattern_ends, pickup_plan, thick_ends

POSTS = (8, 12, 16, 20, 24)
T21 = tuple("red" if end in POSTS else "blue" if end < 4 or end > 28 else "white" for end in range(1, 32))
SHEDS = Sheds(down=tuple(range(1, 32, 2)), up=tuple(range(2, 31, 2)))
ROWS = (
    PickupRow("up"),
    PickupRow("down", lift=(3,)),
    PickupRow("up"),
    PickupRow("down", lift=(2, 4)),
    PickupRow("up", drop=(3,)),
    PickupRow("down", lift=(2, 4)),
    PickupRow("up"),
    PickupRow("down"),
)
FIGURE = Pickup("red", ROWS)


def refused(*rows: PickupRow, yarn: str = "red") -> Refusal:
    with pytest.raises(Refusal) as caught:
        pickup_plan(Pickup(yarn, rows), T21, SHEDS)
    return caught.value


def test_the_posts() -> None:
    assert pattern_ends("red", T21) == POSTS
    assert pickup_plan(FIGURE, T21, SHEDS).pattern_ends == POSTS


def test_what_is_on_top_row_by_row() -> None:
    rows = pickup_plan(FIGURE, T21, SHEDS).rows
    on_top = [tuple(post for post in POSTS if post in row.raised) for row in rows]
    assert on_top == [POSTS, (16,), POSTS, (12, 20), (8, 12, 20, 24), (12, 20), POSTS, ()]
    assert rows[1].lifted == (16,)
    assert rows[4].dropped == (16,)
    assert set(rows[1].raised) == {*SHEDS.down, 16}
    assert set(rows[4].raised) == set(SHEDS.up) - {16}


def test_the_floats() -> None:
    """P3 floats rows 1 to 3, and lies behind rows 4 to 6; P2 and P4 float rows 3 to 7; P1 and P5 never."""
    plan = pickup_plan(FIGURE, T21, SHEDS)
    assert plan.floats == (
        Float(2, 12, 3, 5, "face"),
        Float(3, 16, 1, 3, "face"),
        Float(3, 16, 4, 3, "back"),
        Float(4, 20, 3, 5, "face"),
    )
    assert plan.long_floats == ()
    assert plan.same_shed_after == ()
    assert len(pickup_plan(FIGURE, T21, SHEDS, longest_float=4).long_floats) == 2


def test_a_float_goes_on_into_the_next_repeat() -> None:
    """Post 3 lifted in rows 2 and 4 of four and dropped in row 3: up in 4, 1 and 2, so three rows from row 4."""
    rows = (PickupRow("up"), PickupRow("down", lift=(3,)), PickupRow("up", drop=(3,)), PickupRow("down", lift=(3,)))
    assert pickup_plan(Pickup("red", rows), T21, SHEDS).floats == (Float(3, 16, 4, 3, "face"),)


def test_the_shortest_float_is_two_rows() -> None:
    """Post 1 of four rows: up, lifted, dropped, down."""
    rows = (PickupRow("up"), PickupRow("down", lift=(1,)), PickupRow("up", drop=(1,)), PickupRow("down"))
    floats = pickup_plan(Pickup("red", rows), T21, SHEDS).floats
    assert floats == (Float(1, 8, 1, 2, "face"), Float(1, 8, 3, 2, "back"))


def test_past_five_rows_it_is_told_not_refused() -> None:
    lifted = (PickupRow("up"), PickupRow("down", lift=(1,)))
    plan = pickup_plan(Pickup("red", (*lifted, *lifted, *lifted, PickupRow("up"), PickupRow("down"))), T21, SHEDS)
    assert plan.long_floats == (Float(1, 8, 1, 7, "face"),)


def test_two_rows_in_one_shed_are_told() -> None:
    rows = (PickupRow("up"), PickupRow("down"), PickupRow("down", lift=(1,)))
    assert pickup_plan(Pickup("red", rows), T21, SHEDS).same_shed_after == (2,)
    three = (PickupRow("up"), PickupRow("down"), PickupRow("up", drop=(1,)))
    assert pickup_plan(Pickup("red", three), T21, SHEDS).same_shed_after == (3,)  # row 3 meets row 1 of the next repeat


def test_lifting_what_is_up_and_dropping_what_is_down() -> None:
    up = refused(PickupRow("up"), PickupRow("up", lift=(2, 3)))
    assert up.path == ("pickup", "rows", 1, "lift", 0)
    assert str(up) == (
        "pattern end 2 (end 12) is up already in the up shed. Leave it out, or use the other shed for row 2."
    )
    down = refused(PickupRow("down", drop=(5,)))
    assert down.path == ("pickup", "rows", 0, "drop", 0)
    assert str(down) == (
        "pattern end 5 (end 24) is down already in the down shed. Leave it out, or use the other shed for row 1."
    )


def test_on_another_loom_the_sheds_swap_and_so_do_the_refusals() -> None:
    """With the posts in holes, pressing down raises them: row 2 lifts what is up already."""
    with pytest.raises(Refusal, match="pattern end 3"):
        pickup_plan(FIGURE, T21, Sheds(down=SHEDS.up, up=SHEDS.down))


@pytest.mark.parametrize(
    ("rows", "path", "words"),
    [
        (
            (PickupRow("up", drop=(1, 6)),),
            ("rows", 0, "drop", 1),
            "there is no pattern end 6. The warp has 5, counted from the left.",
        ),
        (
            (PickupRow("up"), PickupRow("down", lift=(0,))),
            ("rows", 1, "lift", 0),
            "there is no pattern end 0. The warp has 5, counted from the left.",
        ),
        (
            (PickupRow("down", lift=(2, 5, 2)),),
            ("rows", 0, "lift", 2),
            "pattern end 2 is named twice. Name it once.",
        ),
        ((), ("rows",), "there are no rows. Write one line for each pick of the figure."),
        (
            (PickupRow("up"), PickupRow("down", lift=(1, 2, 3, 4, 5))),
            ("rows",),
            "pattern end 1 (end 8) stays up in every row, so no weft holds it. Drop it in at least one row.",
        ),
        (
            (PickupRow("down", lift=(1,)), PickupRow("up", drop=(2, 3, 4, 5))),
            ("rows",),
            "pattern end 1 (end 8) stays up in every row, so no weft holds it. Drop it in at least one row.",
        ),
        (
            (PickupRow("down", lift=(1,)), PickupRow("up", drop=(1, 2, 3, 4, 5))),
            ("rows",),
            "pattern end 2 (end 12) stays down in every row, so no weft holds it. Lift it in at least one row.",
        ),
    ],
)
def test_refusals(rows: tuple[PickupRow, ...], path: tuple[str | int, ...], words: str) -> None:
    found = refused(*rows)
    assert (found.path, str(found)) == (("pickup", *path), words)


@pytest.mark.parametrize(("row", "words"), [(PickupRow("up"), "stays up"), (PickupRow("down"), "stays down")])
def test_one_row_alone_holds_nothing(row: PickupRow, words: str) -> None:
    assert words in str(refused(row))


def test_a_pattern_yarn_that_is_not_in_the_warp() -> None:
    found = refused(*ROWS, yarn="green")
    assert (found.path, str(found)) == (("pickup", "pattern_yarn"), "no end of the warp is green.")


@given(st.lists(st.lists(st.booleans(), min_size=5, max_size=5), min_size=1, max_size=6))
def test_stays_fill_the_repeat(choice: list[list[bool]]) -> None:
    """Each post's floats and its single rows, face and back, come to exactly one repeat."""
    rows: list[PickupRow] = []
    for place, picks in enumerate(choice):
        named = tuple(number for number, taken in enumerate(picks, start=1) if taken)
        shed: Literal["down", "up"] = "down" if place % 2 else "up"
        rows.append(PickupRow(shed, lift=named) if shed == "down" else PickupRow(shed, drop=named))
    rows += [PickupRow("up"), PickupRow("down")]
    plan = pickup_plan(Pickup("red", tuple(rows)), T21, SHEDS)
    for post in POSTS:
        faces = sum(post in row.raised for row in plan.rows)
        stays = [each for each in plan.floats if each.end_number == post]
        assert sum(each.rows for each in stays if each.side == "face") <= faces
        assert sum(each.rows for each in stays) <= len(rows)
        for stay in stays:
            there = [(stay.first_row - 1 + step) % len(rows) for step in range(stay.rows)]
            assert all((post in plan.rows[place].raised) == (stay.side == "face") for place in there)
            assert (post in plan.rows[(there[-1] + 1) % len(rows)].raised) != (stay.side == "face")


def test_thick_ends_against_the_holes() -> None:
    """One thick end at each edge of 22: with end 1 in a slot the other, end 22, is in a hole (T19)."""
    yarns = ("brown", *("white",) * 20, "brown")
    kinds = tuple(Space.SLOT if end % 2 else Space.HOLE for end in range(1, 23))
    found = thick_ends(yarns, kinds, {"brown": 1.2, "white": 0.5}, 1.5)
    assert [(each.end_number, each.passes) for each in found] == [(22, True)]
    assert thick_ends(yarns, kinds, {"brown": 1.2, "white": 0.5}, 2.4) == ()
    assert not thick_ends(yarns, kinds, {"brown": 1.6, "white": 0.5}, 1.5)[0].passes
    with pytest.raises(ValueError, match=r"^a hole is above nought$"):
        thick_ends(yarns, kinds, {"brown": 1.2, "white": 0.5}, 0)


def test_a_hole_that_just_lets_the_end_through() -> None:
    """A yarn of 1 mm in a hole of 1 mm passes, and its knot of two does not; in one of 2 mm both pass."""
    kinds = (Space.HOLE, Space.SLOT)
    assert thick_ends(("brown", "brown"), kinds, {"brown": 1}, 1) == (ThickEnd(1, "brown", 1.0, True),)
    assert thick_ends(("brown", "brown"), kinds, {"brown": 1}, 2) == ()
    assert thick_ends(("white", "white"), kinds, {"white": 0.5}, 0.75)[0].diameter_mm == 0.5
