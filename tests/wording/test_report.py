"""The plan told as text and as JSON: every key that programs rely on, and the bench in a few plain lines."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest

from cardmaker.model.loom import Press
from cardmaker.model.pattern import Measurement, Pattern, Stripe
from cardmaker.model.plan import Plan
from cardmaker.model.units import MM_PER_INCH, MM_PER_YARD
from cardmaker.reading.loom_file import parse_loom
from cardmaker.reading.read_file import read_loom, read_pegs
from cardmaker.reckoning.planning import make_plan
from cardmaker.wording.beam_words import turns_left
from cardmaker.wording.formatters import duration
from cardmaker.wording.length_words import LearnedFigure, from_tape, length_sum
from cardmaker.wording.plan_json import plan_as_json
from cardmaker.wording.report import bench_sections, plan_text
from tests.helpers.pattern_files import read_pattern
from tests.helpers.places import ROOT, shipped_in
from tests.helpers.shipped import shipped_loom, shipped_pattern

T08 = read_pattern(ROOT / "patterns" / "three-paths.yaml")
FIVE_POSTS = read_pattern(ROOT / "patterns" / "five-posts.yaml")
NO_BREAK = "\N{NO-BREAK SPACE}"
MIDDLE_BOX = read_loom(ROOT / "layouts" / "looms" / "middle-box.yaml")
assert MIDDLE_BOX.pace is not None
PACE = MIDDLE_BOX.pace
PEGS = {path.stem: read_pegs(path) for path in shipped_in("layouts/pegs")}

KEYS = {
    "title", "code", "ends", "same_both_ways", "colours", "stripes", "view", "placement", "ends_list", "sheds",
    "treadles", "next_shed", "next_shed_is_guess", "winding",
    "pegs", "lengths", "width", "yarn", "weft", "beam", "tension", "shuttle", "rescue", "pickup", "pace", "learned",
    "notes", "pieces", "pieces_spare_mm", "second_yarns",
}  # fmt: skip


def plan_on_pegs(pattern: Pattern = T08, pegs: str = "yard-board") -> Plan:
    return make_plan(pattern, MIDDLE_BOX, pegs=(PEGS[pegs],), pegs_required=True)


def parsed_json(plan: Plan) -> dict[str, Any]:
    """As a program gets it: through JSON and back."""
    read: dict[str, Any] = json.loads(json.dumps(plan_as_json(plan)))
    return read


def section(plan: Plan, heading: str) -> list[str]:
    """The lines under a heading of the text; those that were broken are whole again."""
    for block in plan_text(plan, "metric").split("\n\n"):
        first, *lines = block.rstrip("\n").split("\n")
        if first == heading:
            return "\n".join(line.removeprefix("  ") for line in lines).replace("\n  ", " ").split("\n")
    return []


# JSON


def test_every_key_is_there() -> None:
    assert parsed_json(plan_on_pegs()).keys() == KEYS


def test_pegs_in_json() -> None:
    pegs = parsed_json(plan_on_pegs())["pegs"]
    assert pegs.keys() == {
        "title", "kind", "route", "cross", "skipped", "length_mm", "wanted_mm", "spare_mm", "distance_mm", "centres_mm",
        "dimensions", "guide_string_mm", "walking_m", "stack_mm", "stack_limit_mm", "pile_up_mm",
    }  # fmt: skip
    assert pegs["title"] == "Yard board"
    assert pegs["route"] == ["H", "A", "B", "R1", "L1", "R2"]
    assert pegs["wanted_mm"] == 2743.2
    assert pegs["spare_mm"] == pytest.approx(pegs["length_mm"] - 2743.2, abs=1e-3)
    assert pegs["walking_m"] == pytest.approx(31 * pegs["length_mm"] / 1000, abs=1e-3)
    assert pegs["dimensions"][2] == {"from": "B", "to": "R1", "centres_mm": 609.6, "clear_mm": 590.55}
    assert pegs["distance_mm"] is None


def test_a_span_tells_its_distance() -> None:
    pegs = parsed_json(plan_on_pegs(pegs="two-chairs"))["pegs"]
    assert (pegs["spare_mm"], pegs["length_mm"]) == (0, 2743.2)
    assert 2600 < pegs["distance_mm"] < 2743.2


def test_beam_in_json() -> None:
    """Worked by hand in the tests of the bench."""
    beam = parsed_json(plan_on_pegs(pegs="two-chairs"))["beam"]
    assert beam.keys() >= {"turns", "final_diameter_mm", "sticks", "stick_turns", "tape_left"}
    assert (beam["turns"], beam["sticks"], beam["stick_turns"]) == (16.887, 12, [0, 3, 6, 9, 12, 15])
    assert beam["final_diameter_mm"] == pytest.approx(71.668, abs=1e-2)
    assert beam["tape_left"][0] == {
        "turns": 16.887,
        "tape_mm": parsed_json(plan_on_pegs(pegs="two-chairs"))["lengths"]["tape_from_warp_mm"],
        "pieces": [],
    }
    assert [row["turns"] for row in beam["tape_left"][1:]] == list(range(16, -1, -1))
    assert all(type(row["turns"]) is int for row in beam["tape_left"][1:])


def test_tension_in_json() -> None:
    tension = parsed_json(plan_on_pegs())["tension"]
    assert tension["per_end_n"] == 0.827
    assert tension["total_n"] == pytest.approx(25.6296, abs=1e-3)
    assert tension["level_cn_per_tex"] == 0.5
    assert (tension["weight_n"], tension["weight_g"], tension["span_mm"]) == (1.177, 120, 400)
    assert (tension["loom_weight_g"], tension["loom_weight_is"], tension["fitting_weight_g"]) == (None, None, 120)
    assert tension["free_mm"] == {"from": 600, "to": 600}
    assert tension["stiffness_cn_per_tex"] == {"from": 250, "likely": 500, "to": 1000, "basis": "from memory"}
    assert (tension["standard"], tension["fibre"]) == (None, "linen")
    assert tension["sag_mm"] == {"low": 5.431, "working": 4.042, "high": 2.249}
    assert tension["sag_range_mm"]["working"] == [3.729, 4.269]
    assert [level["name"] for level in tension["levels"]] == ["low", "working", "high"]


def test_tension_without_a_press_and_with_one_too_heavy() -> None:
    bare = parsed_json(make_plan(T08, replace(MIDDLE_BOX, press=None)))["tension"]
    assert (bare["weight_g"], bare["weight_n"], bare["span_mm"], bare["sag_mm"]) == (None, None, None, None)
    heavy = make_plan(T08, replace(MIDDLE_BOX, press=Press(Fraction(400), Fraction(5000), Fraction(600))))
    tension = parsed_json(heavy)["tension"]
    assert (tension["weight_g"], tension["loom_weight_g"], tension["loom_weight_is"]) == (120, 5000, "too heavy")
    assert "The loom’s 5000 g is too heavy for this warp: 120 g suits it." in section(heavy, "How tight")


def test_a_press_that_tells_nothing_prints_no_mark() -> None:
    """On 20 cm of linen that may be of 250 or 1,000 cN/tex the ranges of right and slack overlap."""
    short = make_plan(T08, replace(MIDDLE_BOX, press=Press(Fraction(200))))
    assert parsed_json(short)["tension"]["sag_mm"] == {"low": None, "working": None, "high": None}
    told = " ".join(section(short, "How tight"))
    assert "not known well enough to tell right from slack by a dip" in told
    assert "too slack 4" not in told


def test_the_report_tells_of_no_gauge_that_a_terminal_lacks() -> None:
    told = " ".join(section(plan_on_pegs(), "How tight"))
    assert "and measure how far it comes down: too tight 2.2 mm or less; right 3.7 to 4.3 mm; too slack 4.7 mm" in told
    assert "upper line" not in told
    assert "51 N too tight: by common practice" in told
    assert "26 N on the whole warp at rest" in told


def test_a_warp_that_wove_well_is_told_as_measured() -> None:
    """What the card gives to be written into the loom's file, once it is there, is what the next card reckons with."""
    line = section(plan_on_pegs(), "How tight")[-1]
    assert line == ("measured: {press: {weight: 120 g, span: 40 cm, dip: ____ mm, ends: 31, tex: 165.4, fibre: linen}}")
    text = (ROOT / "layouts" / "looms" / "middle-box.yaml").read_text("utf-8") + line.replace("____", "4.6")
    loom = parse_loom(text.encode(), "mine.yaml", "mine")
    told = " ".join(section(make_plan(T08, loom), "How tight"))
    assert "Measured: 120 g dipped 31 ends that wove well by 4.6 mm." in told
    assert "So right is 0.41 cN/tex (0.32 to 0.45), not the usual 0.5." in told
    assert "right 4.6 mm" in told
    assert "as tight as the warp that wove well on this loom" in told
    assert "measured: {press" not in told


def test_shuttle_in_json() -> None:
    shuttle = parsed_json(plan_on_pegs(pegs="two-chairs"))["shuttle"]
    assert {key: shuttle[key] for key in ("wraps", "fills", "wraps_per_fill", "holds")} == {
        "wraps": 80, "fills": 4, "wraps_per_fill": 20, "holds": 22,
    }  # fmt: skip
    assert shuttle["weft_m"] == pytest.approx(24.329, abs=1e-3)


def test_rescue_in_json() -> None:
    rescue = parsed_json(plan_on_pegs(pegs="two-chairs"))["rescue"]
    assert rescue["ends"][28] == {
        "number": 29, "yarn": "red", "kind": "slot", "space": 30, "nearer": "right", "count": 3,
        "rethread": {"side": "right", "ends": 3},
    }  # fmt: skip
    assert rescue["ends"][1]["rethread"] == {"side": "right", "ends": 30}
    assert rescue["ends"][0]["rethread"] is None  # no space is skipped before the first end: it has no neighbour there
    assert rescue["replacements"][2] == {"woven": 0.5, "length_mm": 1930.4}


def test_pace_in_json() -> None:
    pace = parsed_json(plan_on_pegs(pegs="two-chairs"))["pace"]
    assert (pace["picks"], pace["minutes"]) == (1272, 106)
    assert pace["session"]["fits"] is True
    assert pace["needed_minutes"] == pace["session"]["needed_minutes"] == 106 + 11 + 16 + 40
    assert (pace["picked_rows"], pace["picked_rows_per_minute"], pace["picked_is_guess"]) == (0, None, False)


def test_rows_picked_up_by_hand_in_json() -> None:
    """Four rows of eight lift or drop something: half of 1484 picks."""
    pace = parsed_json(plan_on_pegs(FIVE_POSTS))["pace"]
    assert (pace["picks"], pace["picked_rows"], pace["picked_rows_per_minute"]) == (1484, 742, 3)
    assert (pace["picked_is_guess"], pace["minutes"], pace["needed_minutes"]) == (True, 310, 310 + 11 + 16 + 40)


def test_pickup_in_json() -> None:
    pickup = parsed_json(plan_on_pegs(FIVE_POSTS))["pickup"]
    assert (pickup["pattern_yarn"], pickup["pattern_ends"]) == ("red cord", [8, 12, 16, 20, 24])
    assert len(pickup["rows"]) == 8
    assert (pickup["rows"][3]["shed"], pickup["rows"][3]["lifted"], pickup["rows"][3]["dropped"]) == (
        "down",
        [12, 20],
        [],
    )
    assert max(each["rows"] for each in pickup["floats"]) == 5
    assert parsed_json(plan_on_pegs())["pickup"] is None


def test_what_is_not_known_is_null() -> None:
    bare = replace(MIDDLE_BOX, beam=None, shuttle_length_mm=None, pace=None)
    read = parsed_json(make_plan(T08, bare))
    assert [key for key in sorted(read) if read[key] is None] == [
        "beam",
        "learned",
        "pace",
        "pegs",
        "pickup",
        "shuttle",
        "treadles",
    ]
    text = plan_text(make_plan(T08, bare), "metric")
    assert not any(f"\n{heading}\n" in text for heading in ("The beam", "Shuttle and pace", "The room"))


# text


def test_the_bench_follows_the_yarn() -> None:
    text = plan_text(plan_on_pegs(FIVE_POSTS), "metric")
    headings = [
        "Yarn for one warp", "The room", "The beam", "How tight", "Shuttle and pace",
        "When an end breaks or a space was skipped", "Pick-up", "Take care",
    ]  # fmt: skip
    places = [text.index(f"\n{heading}\n") for heading in headings]
    assert places == sorted(places)


SKIPPED = (
    "Two neighbours move together? A space was skipped there: thread again, from it to the edge threaded last. "
    "30 ends at most."
)


def test_the_bench_in_words() -> None:
    found = plan_on_pegs()
    assert section(found, "The room") == [
        "Yard board. Out: home, A, B, R1, L1, far (R2). Then back the same way. "
        "Left empty: L2, R3, L3, R4, L4, R5 and L5.",
        "One end is 2.84 m (3.11 yd) round the pegs, 10 cm (4 in) more than the 2.74 m (3 yd) that are wanted.",
        "31 times that is 88 m (96 yd) of thread to walk.",
    ]
    found = plan_on_pegs(pegs="two-chairs")  # just three yards
    assert section(found, "The beam") == [
        f"The warp goes about 17 times round the beam, 72 mm (2{NO_BREAK}¹³⁄₁₆ in) across when it is full.",
        "12 sticks in all, 2 mm (¹⁄₁₆ in) by 15 mm (⁹⁄₁₆ in): 2 at the knot, then 2 after turns 3, 6, 9, 12 and 15.",
        f"One turn to the next stick hole lets off about 56 mm (2{NO_BREAK}³⁄₁₆ in) at first "
        f"and 31 mm (1{NO_BREAK}³⁄₁₆ in) at the end. A move takes 2 or 3 of these: about 22 moves in all.",
        "Keep the packing wider than the warp: an edge that slips off a pair of sticks while you wind on comes off "
        "tight, up to 13 mm (½ in) too short at every turn; one that slips later is slack by as much.",
        f"turns left  tape to come, at least {'15':>8}  170 cm (66 in) {'10':>8}  87 cm (34 in) "
        f"{'5':>8}  21 cm (8 in) {'4':>8}  10 cm (4 in) {'3':>8}  none",
    ]
    assert section(found, "How tight") == [
        "About 0.8 N on each end, 26 N on the whole warp at rest, the weight of 2.6 kg. The loom, the table and you "
        "feel all of it.",
        "Right is 0.5 cN/tex, the middle of the range in which a standard (ASTM D1907) tensions yarn to measure it. "
        "15 N on the whole warp is too slack and 51 N too tight: by common practice, three fifths of right and twice "
        "as much.",
        "Hang 120 g in the middle of a clear 40 cm (16 in) and measure how far it comes down: too tight 2.2 mm or "
        "less; right 3.7 to 4.3 mm; too slack 4.7 mm or more.",
        "Estimated from memory is how stiff the yarn is, 250 to 1,000 cN/tex; 60 cm (24 in) of warp are free to "
        "stretch. The weight itself tightens a stiff warp, which then dips less and can look tighter than it is: so "
        "the weight is light.",
        "Better: mark the dip of a warp that wove well, and write into the loom’s file:",
        "measured: {press: {weight: 120 g, span: 40 cm, dip: ____ mm, ends: 31, tex: 165.4, fibre: linen}}",
    ]
    assert section(found, "Shuttle and pace") == [
        "Weft 24.33 m (26.61 yd): 80 wraps of this shuttle, 4 fills of 20.",
        "1272 picks at 12 a minute: about 1 h 46 min of weaving. Winding 11 min, threading 16 min, the rest of "
        "dressing 40 min: 2 h 53 min in all, tight for one class of 3 h. About 7 min to spare.",
    ]
    assert section(found, "When an end breaks or a space was skipped") == [
        SKIPPED,
        f"A{NO_BREAK}new end is 305 cm (120 in) with nothing woven, 249 cm (98 in) with a quarter, "
        "193 cm (76 in) with half and 137 cm (54 in) with three quarters. "
        "A blunt needle draws it through (hooks are sharp); pin it below the last pick, hang a small weight behind.",
    ]


def test_a_span_and_a_session_that_is_too_short() -> None:
    found = plan_on_pegs(FIVE_POSTS, "two-chairs")
    assert section(found, "The room")[1] == (
        f"Set the posts 3385 mm (133{NO_BREAK}¼ in) apart from middle to middle: "
        f"one end is 3.43 m (3{NO_BREAK}¾ yd) round the pegs, as wanted."
    )
    assert section(found, "Shuttle and pace")[1] == (
        "1484 picks, 742 plain at 12 a minute and 742 picked up at 3 a minute, a guess: about 5 h 10 min of weaving. "
        "Winding 11 min, threading 16 min, the rest of dressing 40 min: 6 h 17 min in all, longer than one class of "
        "3 h. It is about 3 h 17 min too long; a warp of 1.5 m (1.64 yd) would just be woven off."
    )


def test_who_has_timed_her_picked_up_rows_is_not_told_of_a_guess() -> None:
    """742 at 12 a minute and 742 at 7 are 61.8 + 106 minutes: 168."""
    timed = replace(MIDDLE_BOX, pace=replace(PACE, picked_rows_per_minute=Fraction(7)))
    assert section(make_plan(FIVE_POSTS, timed), "Shuttle and pace")[1].startswith(
        "1484 picks, 742 plain at 12 a minute and 742 picked up at 7 a minute: about 2 h 48 min of weaving. "
    )


def test_whoever_adds_up_the_printed_minutes_finds_what_is_printed() -> None:
    """The steps of the sentence, added up, decide; also where the exact minutes would just fit.

    31 ends at 20 s to wind and 30 s to thread, 40 min, 1272 picks at 12 a minute: 171.83 exactly, 173 as printed.
    """
    verdicts = ((172, "longer than"), (173, "tight for"), (174, "tight for"), (216, "tight for"), (217, "within"))
    for minutes, verdict in verdicts:  # a quarter of 173 to spare is 217
        loom = replace(MIDDLE_BOX, pace=replace(PACE, session_minutes=Fraction(minutes)))
        sentence = section(make_plan(T08, loom), "Shuttle and pace")[1]
        steps = re.search(
            r"about 1 h (\d+) min of weaving\. Winding (\d+) min, threading (\d+) min, .* dressing (\d+) min:", sentence
        )
        assert steps is not None
        assert 60 + sum(map(int, steps.groups())) == 173
        assert f": 2 h 53 min in all, {verdict} one class of {minutes // 60} h {minutes % 60} min. " in sentence
        assert ("Nothing to spare." in sentence) == (minutes == 173)


def test_a_pace_that_is_not_whole_is_told_to_a_tenth() -> None:
    """1272 picks at 7.5 a minute are 169.6 minutes: 2 h 50 min. The sum stands there without a session too."""
    slow = replace(MIDDLE_BOX, pace=replace(PACE, picks_per_minute=Fraction(15, 2), session_minutes=None))
    assert (
        section(make_plan(T08, slow), "Shuttle and pace")[1]
        == "1272 picks at 7.5 a minute: about 2 h 50 min of weaving. Winding 11 min, threading 16 min, the rest of "
        "dressing 40 min: 3 h 57 min in all."
    )


def test_pattern_ends_stay_where_they_were_planned() -> None:
    """Whatever the pattern, the ends after the skipped space are threaded over: so ends that must lie in slots do, and
    the closing count agrees. A lone end has no neighbour."""
    heading = "When an end breaks or a space was skipped"
    assert section(plan_on_pegs(FIVE_POSTS), heading)[0] == SKIPPED
    lone = make_plan(replace(T08, warp=(Stripe("red", 1),), stated_ends=None), MIDDLE_BOX)
    assert lone.ends == 1
    assert section(lone, heading)[0].startswith(f"A{NO_BREAK}new end is ")


def test_pick_up_row_by_row() -> None:
    assert section(plan_on_pegs(FIVE_POSTS), "Pick-up")[:6] == [
        " 1 warp UP: nothing",
        " 2 warp DOWN: lift P3",
        " 3 warp UP: nothing",
        " 4 warp DOWN: lift P2 and P4",
        " 5 warp UP: drop P3",
        " 6 warp DOWN: lift P2 and P4",
    ]
    below = [line.replace("\u00a0", " ") for line in section(plan_on_pegs(FIVE_POSTS), "Pick-up")[8:]]
    assert below == [
        "After row 8: row 1 again. P1 is the first red cord from the left as you sit, end 8; P2 is end 12, "
        "P3 is end 16, P4 is end 20, P5 is end 24.",
        "The longest float of a pattern end runs over 5 picks.",
    ]


def test_lines_stay_short() -> None:
    lines = [line for lines in bench_sections(plan_on_pegs(FIVE_POSTS), "us") for line in lines]
    assert len(lines) > 20
    assert max(map(len, lines)) <= 120


def test_the_turns_left_lie_closer_towards_the_end() -> None:
    """A long warp has some fifty turns; six of them are told, the fewest that give tape among them."""
    beam = make_plan(T08, MIDDLE_BOX, warp_mm=20 * MM_PER_YARD).beam
    assert beam is not None
    rows = turns_left(beam)
    turns = [int(row.turns) for row in rows]
    steps = [before - after for before, after in pairwise(turns)]
    assert len(turns) == 6
    assert steps == sorted(steps, reverse=True)
    assert turns[-2] == min(row.turns for row in beam.tape_left if row.tape_mm > 0)
    assert [row.tape_mm > 0 for row in rows] == [True] * 5 + [False]


@pytest.mark.parametrize(
    ("minutes", "words"),
    [(0.2, "0 min"), (0.5, "1 min"), (8.17, "8 min"), (59.5, "1 h"), (60, "1 h"), (106, "1 h 46 min"), (180, "3 h")],
)
def test_durations(minutes: float, words: str) -> None:
    assert duration(minutes) == words


# what was learned


def _woven(*records: Measurement) -> Pattern:
    return replace(T08, measured=records)


LANTERN_QUAY = Measurement(
    "2026-12-05", "Middle box", 3 * MM_PER_YARD, 71 * MM_PER_INCH, Fraction(15), picks_per_inch=Fraction(14)
)


FIGURES: tuple[LearnedFigure, ...] = ("take-up", "waste", "width", "picks per inch")


def _tapes(plan: Plan) -> list[str]:
    return [from_tape(plan, figure) for figure in FIGURES]


def test_what_came_from_her_own_tape() -> None:
    """71 in from 108 with 20 wasted and 3 % shrunk: 1 - 73.196 / 88 = 16.82 % taken up; 15 mm wide."""
    plan = plan_on_pegs(_woven(LANTERN_QUAY))
    tape = "from your tape of 2026-12-05"
    assert _tapes(plan) == [tape, "", tape, tape]
    text = " ".join(plan_text(plan, "metric").split())
    assert f"; 14 to 16 mm, {tape} " in text
    assert f"with 16.8 % taken up ({tape}) and 51 cm (20 in) of waste, the warp" in text
    assert f"14 picks to the inch, {tape};" in text
    read = parsed_json(plan)
    assert read["learned"] == {
        "dates": ["2026-12-05"],
        "figures": ["take-up", "width", "picks per inch"],
        "date_of": {"take-up": "2026-12-05", "width": "2026-12-05", "picks per inch": "2026-12-05"},
        "measured_on": {},
    }
    assert read["lengths"]["take_up"] == 0.168
    assert read["width"] == {"low_mm": 14.25, "likely_mm": 15, "high_mm": 15.75, "basis": "measured"}


def test_each_figure_names_the_tape_that_it_comes_from() -> None:
    older = replace(LANTERN_QUAY, date="2026-09-05", leftover_mm=18 * MM_PER_INCH)
    newer = Measurement("2026-12-05", width_mm=Fraction(16))
    plan = plan_on_pegs(_woven(older, newer))
    old, new = "from your tape of 2026-09-05", "from your tape of 2026-12-05"
    assert _tapes(plan) == [old, old, new, old]
    text = " ".join(plan_text(plan, "metric").split())
    assert f"taken up and 46 cm (18 in) of waste (both {old}), the warp" in text
    assert _tapes(plan_on_pegs(_woven(Measurement("", width_mm=Fraction(16)))))[2] == "from an earlier tape"


def test_of_a_warp_that_is_given_what_was_measured_is_told_as_well() -> None:
    """There is no sum to tell it in, but the tape that comes of it rests on it."""
    plan, bare = (
        make_plan(made, shipped_loom("middle-box"), warp_mm=3 * MM_PER_YARD) for made in (_woven(LANTERN_QUAY), T08)
    )
    tape = "from your tape of 2026-12-05"
    assert length_sum(plan, "metric") == [f"With 16.8\N{NO-BREAK SPACE}% taken up ({tape}) and 51 cm (20 in) of waste."]
    assert length_sum(bare, "metric") == []


def test_a_width_that_came_off_the_loom_comes_before_one_that_is_stated() -> None:
    record = Measurement("2026-12-05", width_mm=Fraction(16))
    plan = plan_on_pegs(replace(_woven(record), width_mm=Fraction(15)))
    assert plan.width.likely_mm == 16
    assert _tapes(plan) == ["", "", "from your tape of 2026-12-05", ""]
    assert _tapes(plan_on_pegs(replace(T08, width_mm=Fraction(15)))) == [""] * 4


def test_nothing_learned_is_not_told() -> None:
    assert _tapes(plan_on_pegs()) == [""] * 4
    assert "from your tape" not in plan_text(plan_on_pegs(), "metric").casefold()
    assert parsed_json(plan_on_pegs())["learned"] is None


def test_what_a_session_lacks_is_the_sum_of_the_steps_as_printed() -> None:
    """2 h 42 min, 7, 11 and 45 min make 225, of 180; added before they are rounded they come to 46 too many."""
    plan = make_plan(shipped_pattern("off-side"), shipped_loom("small-box"))
    said = section(plan, "Shuttle and pace")[1]
    steps = re.search(
        r"about (\d+) h (\d+) min of weaving\. Winding (\d+) min, threading (\d+) min, .* (\d+) min: (\d+) h (\d+) min",
        said,
    )
    over = re.search(r"It is about (\d+) min too long", said)
    assert steps
    assert over
    hours, *minutes, all_hours, over_hours = map(int, steps.groups())
    assert 60 * hours + sum(minutes) == 60 * all_hours + over_hours == 180 + int(over[1])
