"""The plan told as text and as JSON: every key that programs rely on, and the bench in a few plain lines."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from cardmaker.wording.length_words import learned_from_tapes

from cardmaker.model.loom import Press
from cardmaker.model.pattern import Measurement, Pattern
from cardmaker.model.plan import Plan
from cardmaker.model.units import MM_PER_INCH, MM_PER_YARD
from cardmaker.reading.read_file import read_loom, read_pattern, read_pegs
from cardmaker.reckoning.planning import make_plan
from cardmaker.wording.beam_words import turns_left
from cardmaker.wording.plan_json import plan_json
from cardmaker.wording.report import bench_sections, plan_text
from cardmaker.wording.measures import duration
from tests.helpers.places import ROOT

T08 = read_pattern(ROOT / "patterns" / "three-paths.yaml")
FIVE_POSTS = read_pattern(ROOT / "patterns" / "five-posts.yaml")
MIDDLE_BOX = read_loom(ROOT / "layouts" / "looms" / "middle-box.yaml")
PEGS = {path.stem: read_pegs(path) for path in sorted((ROOT / "layouts" / "pegs").glob("*.yaml"))}

KEYS = {
    "title", "code", "ends", "same_both_ways", "colours", "stripes", "placement", "ends_list", "sheds", "winding",
    "pegs", "lengths", "width", "yarn", "weft", "beam", "tension", "shuttle", "rescue", "pickup", "pace", "learned",
    "notes",
}  # fmt: skip


def plan(pattern: Pattern = T08, pegs: str = "yard-board") -> Plan:
    return make_plan(pattern, MIDDLE_BOX, pegs=(PEGS[pegs],), pegs_were_asked_for=True)


def told(found: Plan) -> dict[str, Any]:
    """As a program gets it: through JSON and back."""
    read: dict[str, Any] = json.loads(json.dumps(plan_json(found)))
    return read


def section(found: Plan, heading: str) -> list[str]:
    """The lines under a heading of the text."""
    for block in plan_text(found, "metric").split("\n\n"):
        first, *lines = block.rstrip("\n").split("\n")
        if first == heading:
            return [line.removeprefix("  ") for line in lines]
    return []


# JSON


def test_every_key_is_there() -> None:
    assert told(plan()).keys() == KEYS


def test_pegs_in_json() -> None:
    pegs = told(plan())["pegs"]
    assert pegs.keys() == {
        "title", "kind", "route", "cross", "skipped", "length_mm", "wanted_mm", "spare_mm", "distance_mm", "dimensions",
        "guide_string_mm", "walking_m", "stack_mm", "stack_limit_mm", "pile_up_mm",
    }  # fmt: skip
    assert pegs["title"] == "Yard board"
    assert pegs["route"] == ["H", "A", "B", "R1", "L1", "R2"]
    assert pegs["wanted_mm"] == 2743.2
    assert pegs["spare_mm"] == pytest.approx(pegs["length_mm"] - 2743.2, abs=1e-3)
    assert pegs["walking_m"] == pytest.approx(31 * pegs["length_mm"] / 1000, abs=1e-3)
    assert pegs["dimensions"][2] == {"from": "B", "to": "R1", "centres_mm": 609.6, "clear_mm": 590.55}
    assert pegs["distance_mm"] is None


def test_a_span_tells_its_distance() -> None:
    pegs = told(plan(pegs="two-chairs"))["pegs"]
    assert (pegs["spare_mm"], pegs["length_mm"]) == (0, 2743.2)
    assert 2600 < pegs["distance_mm"] < 2743.2


def test_beam_in_json() -> None:
    """Worked by hand in the tests of the bench."""
    beam = told(plan())["beam"]
    assert beam.keys() >= {"turns", "final_diameter_mm", "sticks", "stick_turns", "tape_left"}
    assert (beam["turns"], beam["sticks"], beam["stick_turns"]) == (16.887, 12, [0, 3, 6, 9, 12, 15])
    assert beam["final_diameter_mm"] == pytest.approx(71.668, abs=1e-2)
    assert beam["tape_left"][0] == {"turns": 16.887, "tape_mm": told(plan())["lengths"]["tape_from_warp_mm"]}
    assert [row["turns"] for row in beam["tape_left"][1:]] == list(range(16, -1, -1))
    assert all(type(row["turns"]) is int for row in beam["tape_left"][1:])


def test_tension_in_json() -> None:
    tension = told(plan())["tension"]
    assert tension["per_end_n"] == 0.827
    assert tension["total_n"] == pytest.approx(25.6296, abs=1e-3)
    assert tension["level_cn_per_tex"] == 0.5
    assert (tension["weight_n"], tension["weight_g"], tension["span_mm"]) == (1.961, 200, 400)
    assert tension["sag_mm"].keys() == {"low", "working", "high"}
    assert tension["sag_mm"]["working"] == 7.658
    assert [level["name"] for level in tension["levels"]] == ["low", "working", "high"]


def test_tension_without_a_press_and_with_one_too_heavy() -> None:
    bare = told(make_plan(T08, replace(MIDDLE_BOX, press=None)))["tension"]
    assert (bare["weight_g"], bare["weight_n"], bare["span_mm"], bare["sag_mm"]) == (None, None, None, None)
    heavy = make_plan(T08, replace(MIDDLE_BOX, press=Press(Fraction(5000), Fraction(400))))
    assert told(heavy)["tension"]["sag_mm"] == {"low": None, "working": None, "high": None}
    assert section(heavy, "How tight")[1] == (
        "5000 g laid half-way along 40 cm (16 in) of warp is too much for it: take a lighter weight."
    )


def test_shuttle_in_json() -> None:
    shuttle = told(plan())["shuttle"]
    assert {key: shuttle[key] for key in ("wraps", "fills", "wraps_per_fill", "holds")} == {
        "wraps": 80, "fills": 4, "wraps_per_fill": 20, "holds": 22,
    }  # fmt: skip
    assert shuttle["weft_m"] == pytest.approx(24.329, abs=1e-3)


def test_rescue_in_json() -> None:
    rescue = told(plan())["rescue"]
    assert rescue["ends"][28] == {
        "number": 29, "yarn": "red", "kind": "slot", "space": 30, "nearer": "right", "count": 3,
        "rethread": {"side": "right", "ends": 3, "moves_warp": False},
    }  # fmt: skip
    assert rescue["replacements"][2] == {"woven": 0.5, "length_mm": 1930.4}


def test_pace_in_json() -> None:
    pace = told(plan())["pace"]
    assert (pace["picks"], pace["minutes"]) == (1272, 106)
    assert pace["session"]["fits"] is True
    assert pace["session"]["needed_minutes"] == 171.833


def test_pickup_in_json() -> None:
    pickup = told(plan(FIVE_POSTS))["pickup"]
    assert (pickup["pattern_yarn"], pickup["pattern_ends"]) == ("red cord", [8, 12, 16, 20, 24])
    assert len(pickup["rows"]) == 8
    assert (pickup["rows"][3]["shed"], pickup["rows"][3]["lifted"], pickup["rows"][3]["dropped"]) == (
        "down",
        [12, 20],
        [],
    )
    assert max(each["rows"] for each in pickup["floats"]) == 5
    assert told(plan())["pickup"] is None


def test_what_is_not_known_is_null() -> None:
    bare = replace(MIDDLE_BOX, beam=None, shuttle_length_mm=None, pace=None)
    read = told(make_plan(T08, bare))
    assert [key for key in sorted(read) if read[key] is None] == [
        "beam",
        "learned",
        "pace",
        "pegs",
        "pickup",
        "shuttle",
    ]
    text = plan_text(make_plan(T08, bare), "metric")
    assert not any(
        heading in text for heading in ("On the beam", "On the shuttle", "How long it takes", "Where to wind")
    )


# text


def test_the_bench_follows_the_yarn() -> None:
    text = plan_text(plan(FIVE_POSTS), "metric")
    headings = [
        "Yarn for one warp", "Where to wind", "On the beam", "How tight", "On the shuttle", "How long it takes",
        "If something goes wrong", "Pick-up", "Take care",
    ]  # fmt: skip
    places = [text.index(f"\n{heading}\n") for heading in headings]
    assert places == sorted(places)


def test_the_bench_in_words() -> None:
    found = plan()
    assert section(found, "Where to wind") == [
        "Yard board: out by H, A, B, R1, L1, R2, and back the same way.",
        "One end is 2.84 m (3.11 yd), 10 cm (4 in) more than asked. All of them are 88 m (96 yd) to walk.",
    ]
    assert section(found, "On the beam") == [
        "About 17 turns; the roll is 72 mm across when full.",
        "12 sticks: 2 at the knot, then 2 after turns 3, 6, 9, 12 and 15.",
        "One stop of the beam lets off 5.6 cm at first and 2.7 cm at the end; about 22 moves in all.",
        "Turns left 15, 13, 11, 9, 7, 5: tape still to come 156, 121, 89, 59, 32 and 7 cm.",
    ]
    assert section(found, "How tight") == [
        "About 26 N in all (2.6 kg), 0.83 N for one end; 15 N is slack and 51 N the most.",
        "200 g laid half-way along 40 cm (16 in) of warp dips it by 7.7 mm; 13 mm is slack, 3.8 mm is tight.",
    ]
    assert section(found, "On the shuttle") == ["24.33 m (26.61 yd) of red: 80 wraps in 4 fills of 20 at most."]
    assert section(found, "How long it takes") == [
        "1272 picks at 12 a minute: about 1 h 46 min of weaving.",
        "With winding 10 min, threading 16 min, the rest 40 min, it fits in 3 h, and leaves about 8 min.",
    ]
    assert section(found, "If something goes wrong") == [
        "A new end for a broken one is 305, 249, 193 and 137 cm long with nothing, ¼, ½ and ¾ woven.",
        "A space was skipped: thread over from there to the nearer edge, 15 ends at most.",
    ]


def test_a_span_and_a_session_that_is_too_short() -> None:
    found = plan(FIVE_POSTS, "two-chairs")
    first = section(found, "Where to wind")[0]
    assert first == "Two chairs: set the posts 3385 mm (133\N{NO-BREAK SPACE}¼ in) apart, from middle to middle."
    assert section(found, "How long it takes")[1:] == [
        "With winding 10 min, threading 16 min, the rest 40 min, it is about 12 min too long for 3 h.",
        "A warp of 3.1 m would be woven off in that time.",
    ]


def test_pattern_ends_stay_where_they_were_planned() -> None:
    """So everything to the right is threaded over, however much that is."""
    assert section(plan(FIVE_POSTS), "If something goes wrong")[1].endswith("to the right edge, 31 ends at most.")


def test_pick_up_row_by_row() -> None:
    assert section(plan(FIVE_POSTS), "Pick-up")[:6] == [
        "red cord ends 1 to 5: ends 8, 12, 16, 20 and 24 of the warp.",
        " 1 up",
        " 2 down lift 3",
        " 3 up",
        " 4 down lift 2 and 4",
        " 5 up   drop 3",
    ]


def test_lines_stay_short() -> None:
    lines = [line for lines in bench_sections(plan(FIVE_POSTS), "us") for line in lines]
    assert len(lines) > 20
    assert max(map(len, lines)) <= 120


def test_the_turns_left_table_is_thinned_evenly() -> None:
    """A long warp has some fifty turns; eight of them are told, the fewest that give tape among them."""
    beam = make_plan(T08, MIDDLE_BOX, warp_mm=20 * MM_PER_YARD).beam
    assert beam is not None
    turns = [int(row.turns) for row in turns_left(beam)]
    assert len(turns) <= 8
    assert len({before - after for before, after in pairwise(turns)}) == 1
    assert turns[-1] == min(row.turns for row in beam.tape_left if row.tape_mm > 0)


@pytest.mark.parametrize(
    ("minutes", "words"),
    [(0.2, "0 min"), (8.17, "8 min"), (59.5, "1 h"), (60, "1 h"), (106, "1 h 46 min"), (180, "3 h")],
)
def test_durations(minutes: float, words: str) -> None:
    assert duration(minutes) == words


# what was learned


def _woven(*records: Measurement) -> Pattern:
    return replace(T08, measured=records)


LANTERN_QUAY = Measurement(
    "2026-12-05", "Middle box", 3 * MM_PER_YARD, 71 * MM_PER_INCH, Fraction(15), picks_per_inch=Fraction(14)
)


def test_what_came_from_her_own_tape() -> None:
    """71 in from 108 with 20 wasted and 3 % shrunk: 1 - 73.196 / 88 = 16.82 % taken up; 15 mm wide."""
    found = plan(_woven(LANTERN_QUAY))
    assert learned_from_tapes(found) == "From your tape of 2026-12-05: take-up, width and picks per inch."
    assert f"  {learned_from_tapes(found)}\n" in plan_text(found, "metric")
    read = told(found)
    assert read["learned"] == {"dates": ["2026-12-05"], "figures": ["take-up", "width", "picks per inch"]}
    assert read["lengths"]["take_up"] == 0.168
    assert read["width"] == {"low_mm": 14.25, "likely_mm": 15, "high_mm": 15.75, "basis": "measured"}


def test_two_tapes_and_one_without_a_date() -> None:
    older = replace(LANTERN_QUAY, date="2026-09-05", leftover_mm=18 * MM_PER_INCH)
    newer = Measurement("2026-12-05", width_mm=Fraction(16))
    assert learned_from_tapes(plan(_woven(older, newer))) == (
        "From your tapes of 2026-12-05 and 2026-09-05: take-up, waste, width and picks per inch."
    )
    assert learned_from_tapes(plan(_woven(Measurement("", width_mm=Fraction(16))))) == "From an earlier tape: width."


def test_a_width_that_the_pattern_states_is_not_learned() -> None:
    assert (
        learned_from_tapes(
            plan(replace(_woven(Measurement("2026-12-05", width_mm=Fraction(16))), width_mm=Fraction(15)))
        )
        == ""
    )


def test_nothing_learned_is_not_told() -> None:
    assert learned_from_tapes(plan()) == ""
    assert "From your" not in plan_text(plan(), "metric")
    assert told(plan())["learned"] is None
