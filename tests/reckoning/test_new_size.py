"""A pattern made over: what goes over to the new size, and what stays with the old tape."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cardmaker.model.pattern import (
    Alternation,
    Change,
    Measurement,
    Notes,
    Pattern,
    Pickup,
    PickupRow,
    SecondYarn,
    Stripe,
    Yarn,
)
from cardmaker.model.problems import Refusal
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.stripes.new_size import NewSize, made_over, warp_items
from tests.helpers.warps import ROW, pattern

COTTON = Yarn("cotton 8/2", "cotton", "8/2")


def dressed(notation: str, ends_per_inch: int | None = 50, **more: object) -> Pattern:
    """A pattern whose yarns lie at so many ends to the inch."""
    made = pattern(notation)
    fine = None if ends_per_inch is None else Fraction(ends_per_inch)
    yarns = tuple(replace(yarn, ends_per_inch=fine) for yarn in made.yarns)
    return replace(made, yarns=yarns, **more)  # type: ignore[arg-type]


def to_ends(old: Pattern, ends: int) -> NewSize:
    return made_over(old, ends=ends)


def to_width(old: Pattern, width_mm: Fraction) -> NewSize:
    return made_over(old, width_mm=width_mm)


def to_yarn(old: Pattern, yarn: Yarn) -> NewSize:
    return made_over(old, yarn=yarn)


def ends(found: NewSize) -> list[int]:
    return [size.stripes.ends for size in found.sizes]


def test_to_a_count_of_ends() -> None:
    old = dressed(ROW["T08"].stripes)
    found = to_ends(old, 35)
    assert found.old == old
    assert (found.wanted_ends, found.ends, found.old_ends) == (35, 35, 31)
    assert found.chosen.stripes.ends == 35
    assert ends(found) == [31, 33, 35, 37, 39]
    assert (found.changed_yarns, found.diameters_mm) == ((), None)
    assert found.pattern.warp == tuple(
        Stripe(yarn, count)
        for yarn, count in zip(("Re", "Wh", "Bu", "Wh", "Bu", "Wh", "Re"), (3, 6, 3, 11, 3, 6, 3), strict=True)
    )


def test_the_width_decides_between_two_counts_as_near() -> None:
    """20.4 ends wide at 50 to the inch: 20 ends are wanted, the rails may have 19 or 21, and 21 are nearer."""
    rails = dressed(ROW["T03"].stripes)
    found = to_width(rails, Fraction(204, 10) / 50 * MM_PER_INCH)
    assert (found.ends, found.wanted_ends) == (21, 21)
    assert ends(found) == [17, 19, 21, 23, 25]
    assert to_width(rails, Fraction(196, 10) / 50 * MM_PER_INCH).ends == 19
    assert to_ends(rails, 20).ends == 19  # of two as near the narrower


@pytest.mark.parametrize("wanted", [1, 400])
def test_the_fewest_and_the_most_ends_may_be_asked_for(wanted: int) -> None:
    assert to_ends(dressed("8 Wh"), wanted).ends == max(wanted, 2)  # a stripe never becomes a dot


@pytest.mark.parametrize(("wanted", "told"), [(0, "0"), (401, "401"), (1234, "1,234")])
def test_fewer_and_more_are_refused(wanted: int, told: str) -> None:
    with pytest.raises(Refusal) as refused:
        to_ends(dressed("8 Wh"), wanted)
    assert refused.value.path == ("warp",)
    assert str(refused.value) == f"{told} ends are asked for; 400 is the most. Ask for fewer."


def test_what_belongs_to_the_old_size_stays_there() -> None:
    old = dressed(
        "2 Bu 9 Wh",
        mirror="last stripe",
        stated_ends=13,
        notes=Notes(student=("Count nine white ends.",)),
        changes=(Change("2", "2026-11-20", "Wider."),),
        version="2",
        date="2026-11-20",
        about="Two rails.",
        credit="Winnet Orrick",
    )
    made = to_ends(old, 17).pattern
    assert (made.mirror, made.stated_ends, made.notes, made.changes) == (None, 17, Notes(), ())
    assert (made.version, made.date, made.width_mm, made.measured) == ("1", "", None, ())
    assert (made.about, made.credit) == ("Two rails.", "Winnet Orrick")


def test_a_figure_stays_as_long_as_it_finds_its_ends() -> None:
    rows = (PickupRow("up"), PickupRow("down"))
    posts, rails = Pickup("Re", rows), Pickup("Bu", rows)
    assert to_ends(dressed("7 Wh 1 Re 7 Wh", pickup=posts), 21).pattern.pickup == posts  # single ends stay single
    assert to_ends(dressed("2 Bu 9 Wh 2 Bu", pickup=rails), 39).pattern.pickup is None
    assert to_ends(dressed("2 Bu 9 Wh 2 Bu"), 39).pattern.pickup is None


def test_what_was_measured_becomes_the_sample_of_its_yarns() -> None:
    """31 ends in 15 mm are 31 / 15 * 25.4 = 52.49 to the inch, 52.5 to the tenth; the weft yarn was not measured."""
    old = dressed(ROW["T08"].stripes, width_mm=Fraction(15), picks_per_inch=Fraction(18), weft="Gr")
    old = replace(old, yarns=(*old.yarns, Yarn("Gr", "linen")))
    found = to_ends(old, 35)
    assert [yarn.ends_per_inch for yarn in found.pattern.yarns] == [Fraction("52.5")] * 3 + [None]
    assert (found.old_width.basis, found.chosen.width.basis) == ("measured", "sample")
    assert found.pattern.picks_per_inch == 18
    assert found.chosen.width.likely_mm == 35 * MM_PER_INCH / Fraction("52.5")


def test_a_measured_tape_of_yarns_that_tell_nothing_gives_them_its_ends_per_inch() -> None:
    found = to_ends(dressed(ROW["T08"].stripes, None, width_mm=Fraction(15)), 35)
    assert {yarn.ends_per_inch for yarn in found.pattern.yarns} == {Fraction("52.5")}


def test_a_recorded_width_is_a_measurement_as_well() -> None:
    records = (Measurement("2026-10-03", width_mm=Fraction(15), picks_per_inch=Fraction(14)),)
    found = to_ends(dressed(ROW["T08"].stripes, measured=records), 35)
    assert {yarn.ends_per_inch for yarn in found.pattern.yarns} == {Fraction("52.5")}
    assert found.pattern.picks_per_inch == 14
    assert found.chosen.width.basis == "sample"


def test_recorded_picks_go_over_without_a_width() -> None:
    records = (Measurement("2026-10-03", picks_per_inch=Fraction(14)),)
    made = to_ends(dressed("8 Wh", measured=records, picks_per_inch=Fraction(18)), 12).pattern
    assert (made.picks_per_inch, made.measured) == (Fraction(14), ())
    assert to_ends(dressed("8 Wh", picks_per_inch=Fraction(18)), 12).pattern.picks_per_inch == 18


def test_into_another_yarn_at_the_same_width() -> None:
    """20/2 linen is 3000 yards to the pound and 8/2 cotton 3360, so an end is sqrt(3000 / 3360) = 0.945 as thick.

    31 ends become 31 / 0.945 = 32.8, so 33. Nothing measured on the old tape goes over.
    """
    linen = dressed(
        ROW["T08"].stripes,
        None,
        width_mm=Fraction(15),
        measured=(Measurement("2026-10-03", width_mm=Fraction(15)),),
        picks_per_inch=Fraction(18),
        second_yarns=(SecondYarn("In wool", ()),),
    )
    linen = replace(linen, yarns=tuple(replace(yarn, count="20/2", colour="#2F4A7D") for yarn in linen.yarns))
    found = to_yarn(linen, COTTON)
    assert (found.keeps_width, found.wanted_ends, found.ends) == (True, 33, 33)
    assert found.changed_yarns == ("Re", "Wh", "Bu")
    assert [(yarn.name, yarn.fibre, yarn.count, yarn.colour) for yarn in found.pattern.yarns] == [
        (name, "cotton", "8/2", "#2F4A7D") for name in ("Re", "Wh", "Bu")
    ]
    assert found.diameters_mm is not None
    before, after = found.diameters_mm
    assert float(after / before) == pytest.approx(0.9449, abs=0.0001)
    made = found.pattern
    assert (made.width_mm, made.measured, made.picks_per_inch, made.second_yarns) == (None, (), None, ())
    assert {size.width.basis for size in found.sizes} == {"count"}
    recorded = replace(linen, width_mm=None)
    assert {size.width.basis for size in to_yarn(recorded, COTTON).sizes} == {"count"}


def test_a_yarn_that_must_lie_in_slots_still_must_and_a_thick_one_stays() -> None:
    made = dressed("7 Wh 1 Re 7 Wh", None)
    white, red = (replace(yarn, count="20/2", slots_only=True) for yarn in made.yarns)
    found = to_yarn(replace(made, yarns=(white, replace(red, count="12/2"))), COTTON)
    assert found.changed_yarns == ("Wh",)
    assert [(yarn.count, yarn.slots_only) for yarn in found.pattern.yarns] == [("8/2", True), ("12/2", True)]


def test_a_yarn_whose_thickness_nothing_tells_is_refused() -> None:
    with pytest.raises(Refusal) as refused:
        to_yarn(dressed("8 Wh"), Yarn("new", "cotton"))
    assert refused.value.path == ("yarns", "Wh")
    assert str(refused.value) == "Nothing tells how thick this yarn is. Give its count or its label."


def test_single_ends_in_turn_are_one_item_of_the_file() -> None:
    runs = (("Bu", 4), ("Wh", 1), ("Bu", 1), ("Wh", 1), ("Bu", 1), ("Wh", 3))
    assert warp_items(runs) == (Stripe("Bu", 4), Alternation(("Wh", "Bu"), 4), Stripe("Wh", 3))
