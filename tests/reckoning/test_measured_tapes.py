"""What the records of earlier tapes teach."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as some

from cardmaker.model.loom import Heddles, Loom, Space
from cardmaker.model.pattern import Measurement, Pattern, Piece, Stripe, WantedLength, Yarn
from cardmaker.model.problems import Refusal
from cardmaker.model.units import MM_PER_INCH, MM_PER_YARD
from cardmaker.reckoning.amounts.lengths import warp_lengths
from cardmaker.reckoning.amounts.measured_tapes import Learned, latest, learned_figures

INCH = MM_PER_INCH
LOOM = Loom("Middle box", "middle-box", Heddles.ONE, slots=16, holes=17, outer=Space.HOLE, waste_mm=20 * INCH)
RECORD = Measurement(
    "2026-10-03",
    loom="middle-box",
    warp_mm=3 * MM_PER_YARD,
    tape_mm=71 * INCH,
    width_mm=Fraction(15),
    picks_per_inch=Fraction(14),
)
TAPE = Pattern(
    "Three Paths",
    "three-paths",
    (Yarn("white", "linen", "20/2"),),
    (Stripe("white", 31),),
    length=WantedLength(finished_mm=72 * INCH, take_up=Fraction(12, 100), shrinkage=Fraction(3, 100)),
    measured=(RECORD,),
)


def taught(*records: Measurement, loom: Loom = LOOM) -> Learned:
    lesson = learned_figures(replace(TAPE, measured=records), loom, 31)
    assert lesson is not None
    return lesson


def test_the_next_card_learns_from_the_last_tape() -> None:
    lesson = taught(RECORD)
    assert lesson.dates[0] == "2026-10-03"
    assert lesson.take_up == pytest.approx(0.168, abs=0.0005)  # 1 - (71 / 0.97) / (108 - 20)
    assert lesson.ends_per_inch == pytest.approx(52.5, abs=0.05)  # 31 / (15 / 25.4)
    assert lesson.picks_per_inch == 14
    assert lesson.waste_mm is None
    found = warp_lengths(TAPE, LOOM, learned=lesson)
    assert (found.take_up, found.take_up_basis, found.waste_basis) == (lesson.take_up, "measured", "loom")


def test_a_leftover_is_the_true_waste() -> None:
    lesson = taught(replace(RECORD, leftover_mm=16 * INCH))
    assert lesson.take_up == 1 - Fraction(71 * 100, 97) / (108 - 16)
    found = warp_lengths(TAPE, LOOM, learned=lesson)
    assert (found.waste_mm, found.waste_basis) == (16 * INCH, "measured")


def test_each_figure_comes_from_the_latest_record_that_tells_it() -> None:
    later = Measurement("2026-11-07", picks_per_inch=Fraction(15))
    lesson = taught(later, RECORD)
    assert lesson.picks_per_inch == 15
    assert lesson.dates == ("2026-11-07", "2026-10-03")
    assert lesson.ends_per_inch == 31 * INCH / 15
    same_day = taught(replace(RECORD, picks_per_inch=Fraction(13)), RECORD)
    assert same_day.picks_per_inch == 14


def test_dates_that_do_not_sort_leave_the_order_of_the_file() -> None:
    first, second = (Measurement(date, picks_per_inch=Fraction(p)) for date, p in (("9 May", 12), ("10 April", 13)))
    assert taught(first, second).picks_per_inch == 13
    assert latest(replace(TAPE, measured=(first, second)), lambda record: record.picks_per_inch) == 13


def test_this_loom_teaches_before_another() -> None:
    elsewhere = replace(RECORD, date="2026-12-01", loom="Small box", width_mm=Fraction(16), leftover_mm=Fraction(90))
    lesson = taught(RECORD, elsewhere)
    assert lesson.ends_per_inch == 31 * INCH / 15
    assert lesson.dates == ("2026-10-03",)
    assert lesson.waste_mm is None  # another loom's waste is not this one's
    alone = taught(elsewhere)
    assert alone.ends_per_inch == 31 * INCH / 16
    assert alone.take_up == 1 - (71 * INCH * 100 / 97) / (108 * INCH - 90)
    without_leftover = taught(replace(elsewhere, leftover_mm=None))
    assert without_leftover.take_up is None


def test_a_loom_may_be_named_by_its_title() -> None:
    assert taught(replace(RECORD, loom="Middle Box")).take_up is not None


@pytest.mark.parametrize("record", [replace(RECORD, warp_mm=None), replace(RECORD, tape_mm=None)])
def test_a_warp_or_a_tape_alone_tells_no_take_up(record: Measurement) -> None:
    assert taught(record).take_up is None


def test_the_shortest_warp_teaches_too() -> None:
    """501 mm of warp with 500 left over: 1 mm was woven, and half a millimetre of tape is 0.5/0.97 of it."""
    lesson = taught(replace(RECORD, warp_mm=Fraction(501), leftover_mm=Fraction(500), tape_mm=Fraction(1, 2)))
    assert lesson.take_up == 1 - Fraction(50, 97)


def test_no_records_teach_nothing() -> None:
    assert learned_figures(replace(TAPE, measured=()), LOOM, 31) is None
    assert learned_figures(replace(TAPE, measured=(Measurement("2026-10-03", note="went well"),)), LOOM, 31) is None


@pytest.mark.parametrize(
    ("record", "remedy"),
    [
        (replace(RECORD, tape_mm=90 * INCH), "Add leftover: the warp that was not woven."),
        (replace(RECORD, warp_mm=20 * INCH), "Check the lengths."),  # no leftover makes it true
        (replace(RECORD, warp_mm=20 * INCH, tape_mm=Fraction(0)), "Add leftover: the warp that was not woven."),
        (
            replace(RECORD, tape_mm=90 * INCH, leftover_mm=20 * INCH),
            "Check the lengths.",
        ),
    ],
)
def test_more_tape_than_warp_is_refused_with_the_numbers(record: Measurement, remedy: str) -> None:
    with pytest.raises(Refusal) as refused:
        taught(Measurement("2026-01-01"), record)
    assert refused.value.path == ("measured", 1, "tape")
    assert "20.0 in of waste" in refused.value.message
    assert refused.value.remedy == remedy


shares = some.fractions(min_value=0, max_value="2/5", max_denominator=1000)
millimetres = some.fractions(min_value=1, max_value=20_000, max_denominator=100)


def test_fringes_are_those_of_the_pieces_that_came() -> None:
    """Two marks of 200 mm, with 100 mm of fringes each: 1000 - 100 of waste - 200 of fringes make 400 mm of tape."""
    wish = WantedLength(pieces=(Piece("mark", Fraction(200), 12, Fraction(50)),), shrinkage=Fraction(0))
    record = Measurement("2026-10-03", warp_mm=Fraction(1000), tape_mm=Fraction(400), leftover_mm=Fraction(100))
    lesson = learned_figures(replace(TAPE, length=wish, measured=(record,)), LOOM, 31)
    assert lesson is not None
    assert lesson.take_up == 1 - Fraction(400, 700)


@given(shares, shares, millimetres, millimetres)
def test_a_tape_that_came_out_as_reckoned_teaches_the_take_up_it_was_reckoned_with(
    take_up: Fraction, shrinkage: Fraction, tape: Fraction, fringe: Fraction
) -> None:
    wish = WantedLength(pieces=(Piece("tie", tape, 2, fringe),), take_up=take_up, shrinkage=shrinkage)
    pattern = replace(TAPE, length=wish, measured=())
    found = warp_lengths(pattern, LOOM)
    record = Measurement("2026-10-03", warp_mm=found.warp_mm, tape_mm=found.tape_from_warp_mm)
    lesson = learned_figures(replace(pattern, measured=(record,)), LOOM, 31)
    assert lesson is not None
    assert lesson.take_up == take_up


def test_the_remedy_is_one_that_can_help() -> None:
    """80 in of tape of 108 in: with 12 in of leftover and the fringes of the pieces is no room, without them
    there is; where the fringes are written, or nothing helps, a length is wrong."""
    wish = WantedLength(pieces=(Piece("mark", 10 * INCH, 8, 2 * INCH),), shrinkage=Fraction(0))
    record = replace(RECORD, warp_mm=108 * INCH, tape_mm=80 * INCH, leftover_mm=12 * INCH, loom="")
    for made, remedy in (
        (record, "Check the lengths, and write fringes: the warp that was left bare, 0 in if there was none."),
        (replace(record, fringes_mm=40 * INCH), "Check the lengths."),
        (replace(record, tape_mm=200 * INCH), "Check the lengths."),
    ):
        with pytest.raises(Refusal) as refused:
            learned_figures(replace(TAPE, length=wish, measured=(made,)), LOOM, 31)
        assert refused.value.remedy == remedy
