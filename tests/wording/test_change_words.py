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
            "What was measured has changed; each figure that comes from a tape says so.",
        ),
    ],
)
def test_what_has_changed_is_told(made: Pattern, told: str) -> None:
    """The version is counted up, or the card would be of the version that it says it replaces."""
    now = replace(made, version="2", date="2026-11-21")
    if made == RAILS:
        told = "In the pattern only words have changed."  # the version and its date
    assert changes_in_full(replaced_by_new(RAILS, now), "metric") == f"Replaces version 1 of 2026-03-07. {told}"
    assert changes_in_full(replaced_by_new(RAILS, RAILS), "metric").endswith(". The pattern is the same.")


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (RAILS, RAILS, "an earlier card of version 1"),
        (RAILS, replace(RAILS, date="2026-11-21"), "an earlier card of version 1 of 2026-03-07"),
        (RAILS, replace(RAILS, version="2"), "version 1 of 2026-03-07"),
        (RAILS, replace(RAILS, version=""), "version 1 of 2026-03-07"),
        (replace(RAILS, version=""), RAILS, "an earlier card of 2026-03-07"),
        (replace(RAILS, version=""), replace(RAILS, version=""), "an earlier card"),
    ],
)
def test_no_card_says_that_it_replaces_its_own_version(old: Pattern, new: Pattern, told: str) -> None:
    """When only results were added, version 1 was said to replace version 1."""
    since = replaced_by_new(old, replace(new, measured=(MEASURED,)))
    for sentence in (changes_in_full(since, "metric"), changes_in_short(since)):
        assert sentence.startswith(f"Replaces {told}. ")


def test_in_short_only_the_things_are_named() -> None:
    told = changes_in_short(replaced_by_new(RAILS, replace(RAILS, version="2", measured=(MEASURED,))))
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


def test_a_second_line_of_one_version_replaces_the_version_before_it() -> None:
    first, second = Change("1", "2026-03-07", "first woven"), Change("2", "2026-10-03", "one white more")
    woven = Change("2", "2026-11-20", "results added")
    told = latest_change(replace(RAILS, version="2", changes=(first, second, woven)))
    assert told == "Version 2, 2026-11-20: results added; replaces version 1."
    assert "replaces" not in latest_change(replace(RAILS, changes=(first, replace(woven, version="1"))))
