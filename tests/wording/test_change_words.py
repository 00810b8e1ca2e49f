"""What a card says of the one that it replaces: true of what is wound, and never more than is known."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cardmaker.model.pattern import Change, Measurement, Pattern, Stripe, Yarn
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reading.read_file import read_loom
from cardmaker.reckoning.planning import make_plan
from cardmaker.wording.change_words import changes_in_full, changes_in_short, latest_change, replaced_by_new
from tests.helpers.places import ROOT

SMALL_BOX = read_loom(ROOT / "layouts" / "looms" / "small-box.yaml")
WHITE, BLUE = Yarn("white", "linen", "20/2"), Yarn("blue", "linen", "20/2")
RAILS = Pattern(
    "Two Rails",
    "two-rails",
    (WHITE, BLUE),
    (Stripe("blue", 2), Stripe("white", 9), Stripe("blue", 2)),
    version="1",
    date="2026-03-07",
)
MEASURED = Measurement("2026-11-20", "Small box", Fraction(2743), Fraction(1727))


@pytest.mark.parametrize(
    ("made", "told"),
    [
        (RAILS, "The pattern is the same."),
        (replace(RAILS, about="Rails."), "In the pattern only words have changed."),
        (
            replace(RAILS, warp=(Stripe("blue", 2), Stripe("white", 11), Stripe("blue", 2))),
            "It had 13 ends, now 15. The stripes were 2 blue, 9 white, 2 blue.",
        ),
        (
            replace(RAILS, measured=(MEASURED,)),
            "Other tapes are measured, and lengths, width and picks are reckoned from them.",
        ),
    ],
)
def test_what_has_changed_is_told(made: Pattern, told: str) -> None:
    assert changes_in_full(replaced_by_new(RAILS, made), "metric") == f"Replaces version 1 of 2026-03-07. {told}"


def test_in_short_only_the_things_are_named() -> None:
    told = changes_in_short(replaced_by_new(RAILS, replace(RAILS, measured=(MEASURED,))))
    assert told == "Replaces version 1 of 2026-03-07. Changed: what was measured."


def test_a_measured_tape_changes_what_is_wound_and_so_is_never_told_as_mere_words() -> None:
    measured = replace(RAILS, measured=(MEASURED,))
    before, now = (make_plan(pattern, SMALL_BOX).lengths.wind_mm for pattern in (RAILS, measured))
    assert before != now
    assert "only words" not in changes_in_full(replaced_by_new(RAILS, measured), "metric")


def test_a_history_that_stops_at_an_earlier_version_is_not_told_as_this_one() -> None:
    history = (Change("1", "2026-03-07", "first woven"), Change("2", "2026-10-03", "one white more"))
    assert latest_change(replace(RAILS, version="2", changes=history)).endswith("replaces version 1.")
    assert latest_change(replace(RAILS, version="3", changes=history)) == ""


def test_old_stripes_are_told_from_the_left_on_a_card_that_begins_at_the_right() -> None:
    wider = replaced_by_new(RAILS, replace(RAILS, warp=(*RAILS.warp, RAILS.warp[0])))
    for view in (Viewpoint(), Viewpoint(True, True)):
        assert "The stripes were 2 blue, 9 white, 2 blue." in changes_in_full(wider, "metric", view)
    for view in (Viewpoint(left_hand=True), Viewpoint(from_behind=True)):
        told = changes_in_full(wider, "metric", view)
        assert "The stripes were, from the left as you sit, 2 blue, 9 white, 2 blue." in told
