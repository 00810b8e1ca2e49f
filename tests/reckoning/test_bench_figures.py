"""The bench's answers in the plan: figures worked by hand for Three Paths on the Middle box, and what is left out."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import pi

import pytest

from cardmaker.model.loom import Loom, Side, Space
from cardmaker.model.pattern import Pattern, Pickup, PickupRow, Stripe, Yarn
from cardmaker.model.peg_plan import Pegs
from cardmaker.model.plan import Plan
from cardmaker.model.problems import Refusal
from cardmaker.model.units import MM_PER_INCH, MM_PER_YARD
from cardmaker.reading.read_file import read_loom, read_pegs
from cardmaker.reckoning.amounts.yarn_thickness import thickness_mm, yarn_diameters
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.winding.setting_pegs import choose_pegs
from cardmaker.wording import note_words
from cardmaker.wording.note_words import BENCH_NOTES
from tests.helpers.pattern_files import read_pattern
from tests.helpers.places import ROOT, shipped_in

T08 = read_pattern(ROOT / "patterns" / "three-paths.yaml")
MIDDLE_BOX = read_loom(ROOT / "layouts" / "looms" / "middle-box.yaml")
PLACES = {path.stem: read_pegs(path) for path in shipped_in("layouts/pegs")}
ALL_PLACES = tuple(PLACES.values())


def plan(pattern: Pattern = T08, loom: Loom = MIDDLE_BOX, **more: object) -> Plan:
    return make_plan(pattern, loom, **more)  # type: ignore[arg-type]


def kinds(found: Plan, key: str) -> list[str]:
    return [note.kind for note in found.notes if note.key == key]


def said(found: Plan, key: str) -> str:
    return next(note_words.note_sentence(note, "metric") for note in found.notes if note.key == key)


# Three Paths on the Middle box. 20/2 linen is 300 * 20 / 2 = 3000 yards a pound: 0.9 * sqrt(3000) = 49.2950 ends side
# by side in an inch, so an end is 25.4 / 49.2950 = 0.515265 mm. 108 in are wound and 20 in of them wasted.


def test_the_warp_on_its_beam() -> None:
    """31 * 0.515265 = 15.973 mm of ends on 31 / 49.3 in = 15.972 mm: heaped 31 pi d^2 / (4 w 0.8) = 0.506, so one end.

    A turn builds up 0.515265 + 2 / 3 = 1.181932 mm, and
    (-31.75 + sqrt(31.75^2 + 4 * 1.181932 * 2743.2 / pi)) / (2 * 1.181932) = (-31.75 + 71.668) / 2.363864 = 16.887.
    """
    beam = plan().beam
    assert beam is not None
    assert beam.build_up_mm == pytest.approx(1.181932, abs=1e-5)
    assert beam.turns == pytest.approx(16.887, abs=1e-3)
    assert beam.final_diameter_mm == pytest.approx(71.668, abs=1e-2)
    assert beam.stick_turns == (0, 3, 6, 9, 12, 15)
    assert beam.sticks == 12


def test_the_tape_left_by_turns() -> None:
    """Full: (108 - 20) in * 0.88 * 0.97 = 75.117 in, as promised. Ten turns hold pi * 10 * (31.75 + 11.81932) =
    1368.77 mm of warp. Of the waste of 508 mm a third lies in front of the first pick, so that they give
    (1368.77 - 338.67) * 0.88 * 0.97 = 879.30 mm. Four hold 458.4 mm, 102.21 mm of tape; three 329.2 mm: only waste."""
    found = plan()
    assert found.beam is not None
    left = {row.turns: row.tape_mm for row in found.beam.tape_left}
    assert left[found.beam.turns] == pytest.approx(75.1168 * 25.4, abs=1e-2)
    assert left[found.beam.turns] == pytest.approx(float(found.lengths.tape_from_warp_mm), abs=1e-6)
    assert left[10] == pytest.approx(879.30, abs=0.02)
    assert left[4] == pytest.approx((458.4 - 338.67) * 0.88 * 0.97, abs=0.1)
    assert left[3] == 0


def test_the_pull_and_the_press() -> None:
    """3000 yd/lb are 6047.7 m/kg, 165.352 tex. At 0.5 cN/tex an end pulls 0.82676 N, 31 of them 25.6296 N, like
    2.6135 kg. 120 g press with 1.17680 N. At a dip of 4.042 mm the yarn, 60 cm of 500 * 51.2592 = 25630 N of stiffness,
    is 2 * 4.042^2 / 400 = 0.0817 mm longer and pulls 3.489 N more: 4 * (25.6296 + 3.489) * 4.042 / 400 = 1.177 N."""
    pull = plan().tension
    assert pull is not None
    assert pull.working.newtons_per_end == pytest.approx(0.82676, abs=1e-5)
    assert [each.newtons for each in pull.pulls] == pytest.approx([15.3778, 25.6296, 51.2592], abs=1e-3)
    assert pull.kilograms == pytest.approx(2.6135, abs=1e-3)
    assert pull.gauge is not None
    assert {mark.pull.name: mark.likely_mm for mark in pull.gauge.marks}["working"] == pytest.approx(4.042, abs=1e-3)
    assert (pull.gauge.weight_g, pull.gauge.span_mm) == (Fraction(120), Fraction(400))


def test_the_shuttle() -> None:
    """16.4333 picks an inch on (108 - 20) * 0.88 = 77.44 in are 1272 picks. One takes 15.9716 * 1.02 + 0.570796 *
    25.4 / 16.4333 = 17.1733 mm; all 21844 mm, with a tenth and 300 mm for joins 24329 mm. 12 in a wrap: 79.8, so 80,
    and with 22 at most on the shuttle 4 fills of 20."""
    shuttle = plan().shuttle
    assert shuttle is not None
    assert (shuttle.wraps, shuttle.fills, shuttle.wraps_per_fill) == (80, 4, 20)
    assert shuttle.per_wrap_mm == pytest.approx(304.8)


def test_a_shuttle_that_does_not_say_what_it_holds_is_filled_once() -> None:
    shuttle = plan(loom=replace(MIDDLE_BOX, shuttle_holds=None)).shuttle
    assert shuttle is not None
    assert (shuttle.wraps, shuttle.fills) == (80, 1)


def test_the_hours() -> None:
    """1272 picks at 12 a minute are 106 min; 31 * 20 s = 10.33 to wind, 31 * 30 s = 15.5 to thread, 40 for the rest:
    106 + 11 + 16 + 40 = 173 of 180. The other way: 113 min * 12 = 1356 picks at 16.4333 an inch are 82.515 in; over
    0.88 and with 20 in of waste 113.768.
    """
    pace = plan().pace
    assert pace is not None
    assert pace.session is not None
    assert pace.pace.minutes == 106
    assert pace.session.needed_minutes == 173
    assert pace.session.spare_minutes == 7
    assert pace.session.sensible_warp_mm == pytest.approx(113.768 * 25.4, abs=0.1)


def test_a_weaver_who_tells_no_session_gets_the_hours_alone() -> None:
    assert MIDDLE_BOX.pace is not None
    hours = plan(loom=replace(MIDDLE_BOX, pace=replace(MIDDLE_BOX.pace, session_minutes=None))).pace
    assert hours is not None
    assert (hours.pace.minutes, hours.session) == (106, None)


def test_rescue() -> None:
    """The warp lies from L15, a slot, so even ends lie in holes. End 29 is the third from the right. To mend a space
    skipped before end 16, ends 16 to 31 are threaded again. A new end: 108 + 12 in; when half is woven 108 - 44 + 12.
    """
    rescue = plan().rescue
    assert rescue is not None
    place = rescue.ends[28]
    assert (place.end_number, place.yarn, place.kind, place.nearer, place.count) == (
        29,
        "red",
        Space.SLOT,
        Side.RIGHT,
        3,
    )
    assert rescue.ends[1].kind is Space.HOLE
    assert (rescue.rethreading[15].side, rescue.rethreading[15].ends) == (Side.RIGHT, 16)
    assert [piece.length_mm / MM_PER_INCH for piece in rescue.replacements] == [120, 98, 76, 54]


def test_the_yard_board() -> None:
    """Centres: 6 + 6 + 24 + 2 sqrt(36^2 + 3^2) = 108.2497 in = 2749.54 mm. Half a turn each at R1 and L1, a quarter
    each for the far peg and home: three half turns of pi * (9.525 + 0.2576) mm make some 92.2 mm more."""
    found = plan(pegs=ALL_PLACES)
    pegs = found.pegs
    assert pegs is not None
    assert (pegs.title, pegs.route) == ("Yard board", ("H", "A", "B", "R1", "L1", "R2"))
    assert float(pegs.centres_mm) == pytest.approx(2749.54, abs=0.01)
    assert float(pegs.length_mm) == pytest.approx(2749.54 + 3 * pi * 9.7826, abs=1.5)
    assert pegs.wanted_mm == found.lengths.wind_mm == 3 * MM_PER_YARD
    assert pegs.spare_mm == pegs.length_mm - 3 * MM_PER_YARD
    assert float(pegs.stack_mm) == pytest.approx(31 * 0.515265, abs=1e-4)
    assert float(pegs.walking_mm) == pytest.approx(31 * float(pegs.length_mm))


def test_pegs_do_not_change_what_was_asked_for_but_all_that_is_wound() -> None:
    """31 ends and three spare ones of what the board gives, and new ends as long as it and a foot."""
    without, with_pegs = plan(), plan(pegs=(PLACES["metre-board"],), pegs_required=True)
    assert with_pegs.pegs is not None
    assert with_pegs.pegs.length_mm > without.lengths.wind_mm + 300
    assert with_pegs.lengths.wind_mm == with_pegs.pegs.wanted_mm == without.lengths.wind_mm
    assert with_pegs.lengths.wound_mm == with_pegs.pegs.length_mm
    assert sum(amount.warp_mm for amount in with_pegs.amounts) == 34 * with_pegs.pegs.length_mm
    assert with_pegs.rescue is not None
    assert with_pegs.rescue.replacements[0].length_mm == with_pegs.pegs.length_mm + 12 * MM_PER_INCH
    given_warp = plan(warp_mm=3 * MM_PER_YARD, pegs=(PLACES["metre-board"],))
    assert given_warp.lengths.tape_from_warp_mm == without.lengths.tape_from_warp_mm
    assert given_warp.amounts == tuple(
        replace(amount, weft_mm=weft.weft_mm, grams=given_amount.grams)
        for amount, weft, given_amount in zip(
            with_pegs.amounts, plan(warp_mm=3 * MM_PER_YARD).amounts, given_warp.amounts, strict=True
        )
    )


@pytest.mark.parametrize("inches", range(45, 420, 15))
def test_the_place_chosen_is_the_best_of_all(inches: int) -> None:
    """Spans are reckoned only where they may win; that must not change who wins."""
    found = plan(warp_mm=inches * MM_PER_INCH, pegs=ALL_PLACES)
    yarn = thickness_mm(T08.yarn("red"))
    assert yarn is not None
    try:
        best = choose_pegs(ALL_PLACES, inches * MM_PER_INCH, 31, yarn)
    except Refusal:
        assert found.pegs is None
    else:
        assert found.pegs == best


# what the files do not tell


def test_nobody_asks_for_pegs() -> None:
    assert plan().pegs is None


@pytest.mark.parametrize(
    ("field", "answers"),
    [("beam", ["beam"]), ("shuttle_length_mm", ["shuttle"]), ("pace", ["pace"])],
)
def test_what_the_loom_does_not_tell_is_left_out(field: str, answers: list[str]) -> None:
    found = plan(loom=replace(MIDDLE_BOX, **{field: None}))  # type: ignore[arg-type]
    names = ("beam", "shuttle", "pace", "tension", "rescue")
    assert [name for name in names if getattr(found, name) is None] == answers


def test_without_a_press_there_is_a_pull_and_no_dip() -> None:
    pull = plan(loom=replace(MIDDLE_BOX, press=None)).tension
    assert pull is not None
    assert (len(pull.pulls), pull.gauge) == (3, None)


def test_a_yarn_that_nothing_weighs_has_no_pull() -> None:
    wrapped = Yarn("wool", "wool", wraps_per_inch=Fraction(20))
    found = plan(Pattern("Wrapped", "wrapped", (wrapped,), (Stripe("wool", 15),)))
    assert found.tension is None
    assert found.beam is not None


def test_one_yarn_of_unknown_thickness_leaves_the_beam_out() -> None:
    known, unknown = Yarn("linen", "linen", "20/2"), Yarn("wool", "wool")
    pattern = Pattern("Two", "two", (known, unknown), (Stripe("linen", 9), Stripe("wool", 1)), width_mm=Fraction(10))
    assert yarn_diameters(pattern, ("linen", "wool")) is None
    assert yarn_diameters(pattern, ("linen",)) == {"linen": thickness_mm(known)}
    assert plan(pattern).beam is None


def test_thickness_goes_back_the_way_of_the_width() -> None:
    """20 wraps lie at a likely 30 ends an inch, and those are 1.2 times the diameters: 25 in an inch, 1.016 mm."""
    assert thickness_mm(Yarn("wool", "wool", wraps_per_inch=Fraction(20))) == Fraction(254, 10) / 25
    assert thickness_mm(Yarn("wool", "wool")) is None


def test_ends_of_two_thicknesses_fill_the_room_that_they_take() -> None:
    """9 ends of 0.5 and 1 of 2 mm: the root of (9 * 0.25 + 4) / 10 is 0.790569 mm, one layer on a wide tape."""
    thin = Yarn("thin", "wool", ends_per_inch=Fraction(1524, 10) / Fraction(5, 2))  # 25.4 * 1.2 / 0.5 = 60.96
    thick = Yarn("thick", "wool", ends_per_inch=Fraction(1524, 100))  # 25.4 * 1.2 / 2 = 15.24
    pattern = Pattern("Two", "two", (thin, thick), (Stripe("thin", 9), Stripe("thick", 1)), width_mm=Fraction(30))
    beam = plan(pattern).beam
    assert beam is not None
    assert beam.warp_layer_mm == pytest.approx(0.790569, abs=1e-5)


# pegs that were asked for


def test_pegs_that_were_asked_for_must_do() -> None:
    two_pegs = (PLACES["two-pegs"],)
    assert plan(pegs=two_pegs).pegs is None
    with pytest.raises(Refusal, match="its longest gives"):
        plan(pegs=two_pegs, pegs_required=True)


def test_pegs_that_were_asked_for_are_taken_even_where_others_are_better() -> None:
    chairs = plan(pegs=(PLACES["two-chairs"],), pegs_required=True).pegs
    assert chairs is not None
    assert chairs.title == "Two chairs"
    assert not chairs.spare_mm


def test_one_place_gives_its_own_reason_and_its_own_remedy() -> None:
    with pytest.raises(Refusal) as refused:
        plan(pegs=(PLACES["two-pegs"],), pegs_required=True)
    assert refused.value.remedy == "Choose a length between, or other pegs."
    assert refused.value.message.startswith("Two pegs cannot be set for a warp of 2743 mm")


def test_of_two_places_the_better_is_taken() -> None:
    """For 3 yd the yard board spares 97 mm and the metre board 358, whichever is named first."""
    two = PLACES["metre-board"], PLACES["yard-board"]
    for places in (two, two[::-1]):
        found = plan(pegs=places).pegs
        assert found is not None
        assert found.title == "Yard board"


def test_without_a_place_there_is_none_even_when_it_was_asked_for() -> None:
    assert plan(pegs=(), pegs_required=True).pegs is None


# pick-up


def test_the_pick_up_is_worked_out() -> None:
    five_posts = read_pattern(ROOT / "patterns" / "five-posts.yaml")
    pickup = plan(five_posts).pickup
    assert pickup is not None
    assert pickup.pattern_ends == (8, 12, 16, 20, 24)
    assert len(pickup.rows) == 8


def _picked(rows: tuple[PickupRow, ...]) -> Pattern:
    yarns = Yarn("white", "linen", "20/2"), Yarn("red", "linen", "20/2", slots_only=True)
    warp = Stripe("white", 7), Stripe("red", 1), Stripe("white", 7)
    return Pattern("Picked", "picked", yarns, warp, pickup=Pickup("red", rows))


def test_a_long_float_is_told() -> None:
    """Up, then lifted in three down rows and up between them: seven rows on the face, dropped by the last row."""
    lifted = PickupRow("up"), PickupRow("down", (1,))
    found = plan(_picked((*lifted * 3, PickupRow("up"), PickupRow("down"))))
    assert kinds(found, "long_float") == ["warning"]
    assert said(found, "long_float") == "Pattern end 1 floats over 7 picks: past 5 it catches and pulls."
    assert kinds(plan(_picked((*lifted * 2, PickupRow("up"), PickupRow("down")))), "long_float") == []


def test_a_pick_up_that_cannot_be_worked_is_refused() -> None:
    with pytest.raises(Refusal, match="there is no pattern end 4"):
        plan(_picked((PickupRow("up"), PickupRow("down", (4,)))))


# notes


def test_yarn_and_holes() -> None:
    """8 cotton of 2 plies would be 0.49 mm. Cotton of 400 yards a pound is 25.4 / (0.9 * 20) = 1.41 mm: through 2 mm it
    goes, a join of twice that does not. Of 100 yards a pound it is 2.82 mm and does not go at all."""

    def warp_of(yards_per_pound: int, loom: Loom = MIDDLE_BOX) -> Plan:
        yarn = Yarn("rug", "cotton", yards_per_pound=Fraction(yards_per_pound))
        return plan(Pattern("Rug", "rug", (yarn,), (Stripe("rug", 9),)), loom)

    assert said(warp_of(400), "knot_sticks") == (
        "The rug yarn, about 1.4 mm (0.06 in) thick, passes a hole of 2 mm (0.08 in), but no join in it will."
    )
    assert said(warp_of(100), "end_sticks") == (
        "The rug yarn, about 2.8 mm (0.11 in) thick, does not pass a hole of 2 mm (0.08 in): change yarn or loom."
    )
    assert kinds(warp_of(400), "end_sticks") == kinds(warp_of(100), "knot_sticks") == []
    assert not {"knot_sticks", "end_sticks"} & {
        note.key for note in warp_of(100, replace(MIDDLE_BOX, hole_size_mm=None)).notes
    }
    assert not {"knot_sticks", "end_sticks"} & {note.key for note in plan().notes}


def test_ends_that_heap_up_at_the_cross() -> None:
    """31 ends of 0.515 mm are 16.0 mm in one layer."""
    low = replace(PLACES["yard-board"], height_mm=Fraction(12))
    found = plan(pegs=(low,))
    assert kinds(found, "stack_too_high") == ["warning"]
    assert said(found, "stack_too_high").startswith(
        "31 ends stand 16 mm (⅝ in) high in one layer, and the pegs 12 mm (½ in):"
    )
    assert kinds(plan(pegs=(PLACES["yard-board"],)), "stack_too_high") == []


def _route_of(inches: int, pegs: Pegs) -> Plan:
    return plan(warp_mm=inches * MM_PER_INCH, pegs=(pegs,), pegs_required=True)


def test_a_longer_way_round_takes_more_yarn() -> None:
    """100 in asked for and 2841.03 mm given: 301 mm an end, 31 of them 9.3 m."""
    found = _route_of(100, PLACES["yard-board"])
    assert said(found, "longer_route") == (
        "Yard board makes every end 30 cm (12 in) longer than asked: 10 m (11 yd) of yarn, counted in here."
    )
    assert kinds(_route_of(108, PLACES["yard-board"]), "longer_route") == []


def test_cautions() -> None:
    found = plan()
    assert said(found, "pull") == (
        "The warp pulls with about 26 N (2.6 kg) at rest, more when you lean: tie the loom to what cannot tip."
    )
    assert [note.key for note in found.notes if note.kind == "caution"] == ["children", "pull", "estimates"]


def test_a_line_to_trip_over_only_where_there_is_one() -> None:
    assert kinds(_route_of(108, PLACES["two-chairs"]), "across_a_room") == ["caution"]
    assert kinds(_route_of(108, PLACES["yard-board"]), "across_a_room") == []


def test_every_note_of_the_bench_is_two_lines_at_most() -> None:
    """A line of a card holds some 80 signs."""
    assert all(len(sentence) <= 160 for sentence in BENCH_NOTES.values())
    assert not BENCH_NOTES.keys() & note_words._NOTES.keys()
