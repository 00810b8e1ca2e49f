"""Winding stroke by stroke: from which post each end is wound, walked by hand."""

from __future__ import annotations

from cardmaker.model.plan import Method, Post
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.reckoning.stripes.stripe_counts import end_yarns, runs
from cardmaker.reckoning.winding.walk import Walk, walk_of
from tests.helpers.warps import ROW, pattern


def walked(notation: str, method: Method) -> Walk:
    return walk_of(runs(end_yarns(pattern(notation))), method)


def starts(found: Walk) -> str:
    """``Re< Re>``: a stroke from home, and one from the far post."""
    return " ".join(f"{stroke.yarn}{'<' if stroke.start is Post.HOME else '>'}" for stroke in found.strokes)


def test_in_order_the_strokes_turn_back_and_forth_whatever_the_colour() -> None:
    found = walked(ROW["T03"].stripes, "order")
    assert starts(found) == "Bu< Bu> Wh< Wh> Wh< Wh> Wh< Wh> Wh< Wh> Wh< Bu> Bu<"
    assert found.stretches == (Segment(1, 2, ("Bu",)), Segment(3, 11, ("Wh",)), Segment(12, 13, ("Bu",)))
    assert found.totals == {2: 2, 11: 11, 13: 13}
    assert [found.stop_of(position) for position in (1, 2, 3, 11, 13)] == [
        Post.FAR, Post.HOME, Post.FAR, Post.FAR, Post.FAR,
    ]  # fmt: skip
    assert found.finish is Post.FAR


def test_carried_each_ball_goes_on_from_where_it_waits() -> None:
    found = walked("ALT(Wh,Bu,5) 2 Bu", "carry")
    assert starts(found) == "Wh< Bu< Wh> Bu> Wh< Bu< Bu>"
    assert found.stretches == (Segment(1, 5, ("Wh", "Bu")), Segment(6, 7, ("Bu",)))
    assert found.totals == {5: 5, 7: 7}
    assert (found.stop_of(5), found.stop_of(6), found.finish) == (Post.FAR, Post.FAR, Post.HOME)


def test_a_long_stretch_in_turn_has_its_tens_among_the_totals() -> None:
    assert walked(ROW["T11"].stripes, "carry").totals == {10: 10, 14: 14}


def test_one_colour_at_a_time_each_bundle_begins_at_home_and_is_counted_by_itself() -> None:
    found = walked("1 Wh 1 Bu 1 Re 3 Gr 2 Wh", "bundle")
    assert starts(found) == "Wh< Wh> Wh< Bu< Re< Gr< Gr> Gr<"
    assert found.stretches == (
        Segment(1, 3, ("Wh",)),
        Segment(4, 4, ("Bu",)),
        Segment(5, 5, ("Re",)),
        Segment(6, 8, ("Gr",)),
    )
    assert found.totals == {3: 3, 4: 1, 5: 1, 8: 3}
    assert [found.stop_of(position) for position in (2, 3, 4, 7)] == [Post.HOME, Post.FAR, Post.FAR, Post.HOME]
    assert found.finish is Post.FAR
