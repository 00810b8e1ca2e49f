"""How to set the pegs in a room: boards, tables and spans, the demonstration places among them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import asin, pi, sqrt

import pytest

from cardmaker.model.peg_plan import Peg, PegPlan, Pegs
from cardmaker.model.problems import Refusal
from cardmaker.model.units import MM_PER_YARD
from cardmaker.reading.pegs_file import parse_pegs
from cardmaker.reckoning.winding.routes import nearest_routes
from cardmaker.reckoning.winding.setting_pegs import choose_pegs, plan_pegs
from tests.helpers.boards import board, zigzag
from tests.helpers.places import shipped_in

YARN = Fraction(2, 5)
FILES = shipped_in("layouts/pegs")


def place(stem: str) -> Pegs:
    (file,) = [file for file in FILES if file.stem == stem]
    return parse_pegs(file.read_bytes(), file.name, file.stem)


def plan(stem: str, yards: float, ends: int = 31) -> PegPlan:
    return plan_pegs(place(stem), Fraction(yards) * MM_PER_YARD, ends, YARN)


def test_every_demonstration_place_is_named_by_its_title_and_marked() -> None:
    assert len(FILES) == 6
    for file in FILES:
        pegs = parse_pegs(file.read_bytes(), file.name, file.stem)
        assert pegs.title.lower().replace(" ", "-") == file.stem
        assert pegs.marked_as == "sample data, invented"


@pytest.mark.parametrize("stem", ["yard-board", "metre-board", "round-the-table"])
def test_every_peg_of_a_demonstration_board_can_be_the_far_one(stem: str) -> None:
    pegs = place(stem)
    radius = float(pegs.diameter_mm + YARN) / 2
    fars = set()
    wanted = 1.0
    while (route := nearest_routes(pegs, wanted, radius)[1]) is not None:
        fars.add(route.visited[-1])
        wanted = route.length_mm + 0.01
    assert fars == set(pegs.order)


def test_three_yards_on_the_yard_board() -> None:
    """Three crossings: 36 in, then twice sqrt(36^2 + 3^2) = 36.1248, 108.25 in from centre to centre.

    Round the real pegs it is some 3 % more, as on any such board.
    """
    found = plan("yard-board", 3)
    assert found.route == ("H", "A", "B", "R1", "L1", "R2")
    assert (found.home, found.far, found.skipped) == ("H", "R2", ())
    assert float(found.centres_mm) == pytest.approx(25.4 * (36 + 2 * sqrt(36**2 + 3**2)), abs=1e-5)
    assert found.centres_mm * Fraction(103, 100) < found.length_mm < found.centres_mm * Fraction(104, 100)
    assert found.spare_mm == found.length_mm - 3 * MM_PER_YARD
    assert (found.length_mm * 1_000_000).denominator == 1  # rounded to the millionth of a millimetre
    assert found.walking_mm == 31 * found.length_mm
    assert found.guide_string_mm == 3 * MM_PER_YARD
    assert found.distance_mm is None


def test_three_sides_of_the_table_are_174_in_between_centres() -> None:
    found = plan_pegs(place("round-the-table"), Fraction(4500), 31, YARN)
    assert found.route == ("H", "A", "B", "NE", "E", "SE", "S", "SW")
    assert found.centres_mm == 174 * Fraction(254, 10)
    sides = [each.centres_mm / Fraction(254, 10) for each in found.dimensions]
    assert sides == [6, 6, 60, 15, 15, 36, 36]
    assert found.dimensions[0].clear_mm == 5 * Fraction(254, 10)
    assert found.surface_mm == (72 * Fraction(254, 10), 30 * Fraction(254, 10))


def test_a_shortcut_names_the_pegs_it_passes_by() -> None:
    found = plan_pegs(place("yard-board"), Fraction(9, 2) * MM_PER_YARD, 31, YARN)
    assert found.route == ("H", "A", "B", "R1", "R4", "L4", "R5", "L5")
    assert found.skipped == ("L1", "R2", "L2", "R3", "L3")


def test_three_yards_between_chairs() -> None:
    """31 ends of 3 yd are 93 yd of walking; the posts stand nearer than 3 yd by the thread round them.

    r = 12.9: half of a half turn at each post, pi r in all; the cross pegs are 100 mm apart, their inner tangent is
    sqrt(100^2 - 25.8^2) = 96.6147, and each takes an arc of asin(0.258) on 12.9 mm.
    """
    found = plan("two-chairs", 3)
    assert found.walking_mm == 93 * MM_PER_YARD
    assert found.spare_mm == 0
    assert found.distance_mm is not None
    more = 12.9 * (pi + 2 * asin(0.258)) - (100 - sqrt(100**2 - 25.8**2))
    assert float(found.distance_mm) == pytest.approx(3 * 914.4 - more, abs=2e-6)
    assert found.route == ("home", "A", "B", "far")
    assert [f"{each.start.name}-{each.stop.name}" for each in found.dimensions] == ["home-A", "A-B", "home-far"]
    assert found.dimensions[-1].clear_mm == found.distance_mm - Fraction(254, 10)
    assert found.round_trip.length_mm / 2 == pytest.approx(3 * 914.4, abs=1e-6)
    assert (found.turning, found.skipped) == (3, ())
    assert [peg.x_mm for peg in found.pegs[:3]] == [0, 100, 200]
    assert [peg.y_mm for peg in found.pegs] == [0] * 4


def test_two_pegs_are_wound_in_a_figure_of_eight() -> None:
    """Half of a crossed belt: sqrt(d^2 - 4 r^2) + r (pi + 2 asin(2 r / d)) with r = 9.725 gives 900 mm."""
    found = plan_pegs(place("two-pegs"), Fraction(900), 13, YARN)
    assert found.distance_mm is not None
    r, d = 9.725, float(found.distance_mm)
    assert sqrt(d**2 - 4 * r**2) + r * (pi + 2 * asin(2 * r / d)) == pytest.approx(900, abs=1e-6)
    assert (found.route, found.cross) == (("home", "far"), ())
    assert [peg.name for peg in found.round_trip.passed] == ["home", "far"]
    assert found.turning == 1


def test_a_span_whose_file_places_its_pegs_keeps_them() -> None:
    pegs = tuple(Peg(name, Fraction(x), Fraction(7)) for name, x in (("H", 20), ("A", 90), ("B", 160), ("F", 0)))
    span = Pegs("S", "s", "span", pegs, Fraction(18), None, "H", ("A", "B"), ("F",), Fraction(1000), Fraction(5000))
    found = plan_pegs(span, Fraction(2000), 10, YARN)
    assert found.pegs[:3] == pegs[:3]
    assert found.distance_mm == found.pegs[-1].x_mm - 20
    assert (found.far, found.stack_limit_mm, found.stack_is_too_high) == ("F", None, False)
    assert found.pile_up_mm[0] == 0  # nothing tells how high the ends may stand, so they are taken to be well spread
    assert found.diameter_mm == 18


@pytest.mark.parametrize(("yards", "words"), [(0.9, "its shortest gives 958 mm"), (6, "its longest gives 4616 mm")])
def test_a_span_refuses_what_lies_outside_its_distances(yards: float, words: str) -> None:
    with pytest.raises(Refusal, match=words) as refused:
        plan("two-chairs", yards)
    assert refused.value.path == ("length",)
    assert refused.value.remedy == "Choose a length between, or other pegs."
    assert refused.value.message.startswith(f"Two chairs cannot be set for a warp of {yards * 914.4:.0f} mm (")
    assert refused.value.message.endswith(", its distances run from 914 mm (36.0 in) to 4572 mm (180.0 in).")


def test_a_span_may_be_set_to_its_very_longest_and_shortest() -> None:
    chairs = place("two-chairs")
    found = plan("two-chairs", 3)
    for edge in (replace(chairs, longest_mm=found.distance_mm), replace(chairs, shortest_mm=found.distance_mm)):
        again = plan_pegs(edge, 3 * MM_PER_YARD, 31, YARN)
        assert again.distance_mm == pytest.approx(found.distance_mm, abs=2e-6)
        assert again.length_mm == 3 * MM_PER_YARD


def test_a_span_has_its_cross_where_there_is_room_for_three_steps() -> None:
    """Posts of 20 mm: the cross stands 100 and 200 mm from home, so the far post must be 300 mm away."""
    span = Pegs("S", "s", "span", (), Fraction(20), None, "", (), (), Fraction(300), Fraction(5000))
    assert plan_pegs(span, Fraction(900), 10, YARN).cross == ("A", "B")
    assert plan_pegs(replace(span, shortest_mm=Fraction(299)), Fraction(900), 10, YARN).cross == ()
    thick = replace(span, diameter_mm=Fraction(50), shortest_mm=Fraction(450))  # three times 50 mm is more than a hand
    assert [peg.x_mm for peg in plan_pegs(thick, Fraction(900), 10, YARN).pegs[:3]] == [0, 150, 300]


def test_a_span_that_does_not_say_its_distances_is_refused() -> None:
    for missing in ({"shortest_mm": None}, {"longest_mm": None}):
        with pytest.raises(Refusal) as refused:
            plan_pegs(replace(place("two-chairs"), **missing), Fraction(3000), 10, YARN)  # type: ignore[arg-type]
        assert refused.value.path == ("longest",)
        assert str(refused.value) == "Two chairs does not say its shortest and longest distance. Add them."


def test_a_board_refuses_more_than_its_longest_route() -> None:
    with pytest.raises(Refusal) as refused:
        plan("yard-board", 14)
    assert refused.value.path == ("length",)
    assert refused.value.message == (
        "Yard board has no route for a warp of 12802 mm (504.0 in); the nearest below is 9467 mm (372.7 in)."
    )
    assert refused.value.remedy == "Wind one of these, or choose other pegs."


def test_with_a_limit_to_the_spare_both_neighbours_are_told() -> None:
    wanted = Fraction(29, 10) * MM_PER_YARD
    with pytest.raises(Refusal) as refused:
        plan_pegs(place("yard-board"), wanted, 31, YARN, most_spare_mm=Fraction(50))
    below, above = nearest_routes(
        place("yard-board"), float(wanted), float(Fraction(3, 4) * Fraction(254, 10) + YARN) / 2
    )
    assert below is not None
    assert above is not None
    inches = [f"{route.length_mm:.0f} mm ({route.length_mm / 25.4:.1f} in)" for route in (below, above)]
    assert refused.value.message == (
        "Yard board has no route for a warp of 2652 mm (104.4 in); "
        f"the nearest below is {inches[0]}, the nearest above is {inches[1]}."
    )
    assert below.length_mm < wanted < above.length_mm
    assert plan_pegs(place("yard-board"), wanted, 31, YARN, most_spare_mm=Fraction(190)).far == "R2"


def test_pegs_that_stand_too_near_are_refused() -> None:
    pegs = board({"H": (0, 0), "A": (100, 0), "B": (119, 0), "R": (600, 0)})
    with pytest.raises(Refusal) as refused:
        plan_pegs(pegs, Fraction(500), 10, YARN)
    assert refused.value.path == ("pegs",)
    assert str(refused.value) == (
        "Test board: A and B stand so near that no thread passes between them. "
        "Set them further apart, or check their places and the diameter."
    )


def test_pegs_just_far_enough_apart_for_the_yarn() -> None:
    """Pegs of 19 mm, 20 mm from centre to centre: a yarn of 0.9 mm passes between them, one of 1 mm does not."""
    pegs = board({"H": (0, 0), "A": (100, 0), "B": (200, 0), "R": (600, 12), "L": (616, 0)})
    assert plan_pegs(pegs, Fraction(500), 10, Fraction(9, 10)).far in ("R", "L")
    with pytest.raises(Refusal, match="R and L stand so near"):
        plan_pegs(pegs, Fraction(500), 10, Fraction(1))


def test_a_peg_with_two_tasks_is_refused() -> None:
    with pytest.raises(Refusal) as refused:
        plan_pegs(replace(zigzag(6), order=("R1", "L1", "R1")), Fraction(500), 10, YARN)
    assert refused.value.path == ("order",)
    assert str(refused.value) == "Test board: the thread comes to R1 twice. Name each peg once."


def test_a_board_on_which_nothing_can_be_wound_says_so() -> None:
    pegs = board({"H": (0, 0), "A": (100, 0), "B": (200, 0), "R": (-300, 8)})
    with pytest.raises(Refusal) as refused:
        plan_pegs(pegs, Fraction(500), 10, YARN)
    assert refused.value.path == ("pegs",)
    assert str(refused.value) == (
        "Test board has no route for a warp of 500 mm (19.7 in), nor any other that can be wound. "
        "Check where its pegs stand."
    )


def test_a_stack_higher_than_the_peg_piles_up() -> None:
    """300 ends of 0.4 mm stand 120 mm high on a peg of 100 mm: two layers, the upper one 0.4 mm further out.

    Spread, its ends are longer by 0.4 mm for every radian; heaped on the 299 others by 299 times as much.
    """
    found = plan_pegs(zigzag(6), Fraction(2000), 300, YARN)
    assert found.stack_mm == 120
    assert found.stack_limit_mm == 100
    assert found.stack_is_too_high
    spread, heaped = found.pile_up_mm
    assert float(spread) == pytest.approx(0.4 * found.round_trip.wrap / 2, abs=1e-6)
    assert heaped / 299 == pytest.approx(spread, abs=1e-6)
    assert set(plan_pegs(zigzag(6), Fraction(2000), 1, YARN).pile_up_mm) == {Fraction(0)}
    few = plan_pegs(zigzag(6), Fraction(2000), 250, YARN)
    assert few.pile_up_mm[0] == 0
    assert not few.stack_is_too_high


def test_the_way_out_and_the_way_back_are_the_round_trip() -> None:
    found = plan("yard-board", 3)
    turn, trip = found.turning, found.round_trip
    assert len(trip.legs[:turn]) == len(trip.legs[turn:]) == 5
    assert [arc.peg.name for arc in trip.arcs[1:turn]] == ["A", "B", "R1", "L1"]
    assert [arc.peg.name for arc in trip.arcs[turn + 1 :]] == ["L1", "R1", "B", "A"]
    assert not found.has_false_cross


def test_the_best_of_several_places() -> None:
    """A board within a tenth goes before a span, the span before a board that wastes more, full pegs last."""
    yard, metre, chairs = place("yard-board"), place("metre-board"), place("two-chairs")
    wanted = 3 * MM_PER_YARD  # the yard board spares 97 mm, the metre board 358
    assert choose_pegs([metre, chairs, yard], wanted, 31, YARN).title == "Yard board"
    assert choose_pegs([metre, chairs], wanted, 31, YARN).title == "Two chairs"
    assert choose_pegs([metre], wanted, 31, YARN).title == "Metre board"
    assert choose_pegs([replace(yard, height_mm=Fraction(12)), metre], wanted, 31, YARN).title == "Metre board"
    assert choose_pegs([yard, chairs], 12 * MM_PER_YARD / 2, 31, YARN).title == "Yard board"


def test_a_board_may_waste_a_tenth_before_a_span_is_better() -> None:
    metre, chairs = place("metre-board"), place("two-chairs")
    given = plan("metre-board", 3).length_mm
    assert choose_pegs([chairs, metre], given / Fraction(1095, 1000), 31, YARN).title == "Metre board"
    assert choose_pegs([chairs, metre], given / Fraction(1105, 1000), 31, YARN).title == "Two chairs"


def test_nowhere_to_wind_gives_every_reason() -> None:
    with pytest.raises(Refusal) as refused:
        choose_pegs([place("yard-board"), place("two-chairs")], 14 * MM_PER_YARD, 31, YARN)
    assert "Yard board has no route" in refused.value.message
    assert "Two chairs cannot be set" in refused.value.message
    assert refused.value.path == ("length",)
    assert refused.value.remedy == "Choose another length, or add a pegs file."
    assert ". Two chairs" in refused.value.message
    with pytest.raises(Refusal, match=r"^There is nowhere to wind\. Choose another length, or add a pegs file\.$"):
        choose_pegs([], 14 * MM_PER_YARD, 31, YARN)


def test_a_limit_to_the_spare_and_a_tenth_of_waste_may_be_used_up() -> None:
    metre, chairs = place("metre-board"), place("two-chairs")
    found = plan("metre-board", 3)
    assert plan_pegs(metre, 3 * MM_PER_YARD, 31, YARN, most_spare_mm=found.spare_mm) == found
    with pytest.raises(Refusal):
        plan_pegs(metre, 3 * MM_PER_YARD, 31, YARN, most_spare_mm=found.spare_mm - Fraction(1, 1000))
    just = choose_pegs([chairs, metre], found.length_mm * 10 / 11, 31, YARN)  # a tenth of ten elevenths is one eleventh
    assert (just.title, just.spare_mm) == ("Metre board", just.wanted_mm / 10)


def test_the_distance_of_level_pegs_is_exact_and_the_room_between_them_too() -> None:
    """Thirds of a millimetre stay thirds; 19 mm pegs, 58 / 3 mm from centre to centre, leave a third between them."""
    pegs = board({"H": (0, 0), "A": (100, 0), "B": (200, 0), "R": (600, 0)})
    near = replace(pegs.pegs[1], x_mm=Fraction(58, 3))
    level = replace(pegs, pegs=(pegs.pegs[0], near, *pegs.pegs[2:]))
    first = plan_pegs(level, Fraction(500), 10, Fraction(1, 5)).dimensions[0]
    assert (first.centres_mm, first.clear_mm) == (Fraction(58, 3), Fraction(1, 3))
    upright = replace(pegs, pegs=tuple(replace(peg, x_mm=peg.y_mm, y_mm=peg.x_mm) for peg in level.pegs))
    assert plan_pegs(upright, Fraction(500), 10, Fraction(1, 5)).dimensions[0].clear_mm == Fraction(1, 3)


def span_with(*places: tuple[str, int]) -> Pegs:
    """A span whose pegs of 18 mm all stand at y = 7."""
    pegs = tuple(Peg(name, Fraction(x), Fraction(7)) for name, x in places)
    return Pegs("S", "s", "span", pegs, Fraction(18), None, "H", ("A", "B"), ("F",), Fraction(1000), Fraction(5000))


def test_where_the_far_post_of_a_span_stood_before_does_not_matter() -> None:
    on_home = plan_pegs(span_with(("H", 20), ("A", 90), ("B", 160), ("F", 20)), Fraction(2000), 10, YARN)
    elsewhere = plan_pegs(span_with(("H", 20), ("A", 90), ("B", 160), ("F", 4000)), Fraction(2000), 10, YARN)
    assert on_home == elsewhere


def test_a_span_whose_cross_stands_behind_home_is_refused() -> None:
    """A stands 10 mm higher than the others, so on its way back from B to the far post the thread would run over it."""
    span = span_with(("H", 500), ("A", 400), ("B", 300), ("F", 900))
    askew = tuple(replace(peg, y_mm=Fraction(-3)) if peg.name == "A" else peg for peg in span.pegs)
    with pytest.raises(Refusal) as refused:
        plan_pegs(replace(span, pegs=askew), Fraction(2000), 10, YARN)
    assert refused.value.path == ("pegs",)
    assert (refused.value.message, refused.value.remedy) == (
        "S: no thread winds round these pegs.",
        "Set the cross in line with home.",
    )


def test_pegs_stand_too_near_wherever_on_the_board() -> None:
    pegs = board({"H": (0, 100), "A": (100, 100), "B": (119, 100), "R": (600, 100)})
    with pytest.raises(Refusal, match="A and B stand so near"):
        plan_pegs(pegs, Fraction(500), 10, YARN)
