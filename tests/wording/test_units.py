"""The units asked for stand first, in every sentence, table and sheet; what is wound is wound in them."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Final

import pytest

from cardmaker.binder.arranging import arranged
from cardmaker.binder.binder_words import faces_aside
from cardmaker.jobs import plan_making
from cardmaker.jobs.class_planning import plan_class
from cardmaker.jobs.loading import load_class
from cardmaker.model.binder_contents import Entry, TapeFace
from cardmaker.model.marks import Group, Link, Mark, Words
from cardmaker.model.pattern import Yarn
from cardmaker.model.plan import Note, Plan
from cardmaker.model.record_class import replace
from cardmaker.model.units import MM_PER_YARD, QUARTER_YARD, TENTH_METRE, rounded_up, wind_step
from cardmaker.reckoning.planning import make_plan
from cardmaker.wording.formatters import Units, thickness, width_range
from cardmaker.wording.note_words import note_sentence
from cardmaker.wording.plan_json import plan_as_json
from cardmaker.wording.report import plan_text
from cardmaker.wording.yarn_words import yarn_kind, yarn_kinds
from tests.helpers.class_tools import SUPPER, Said, run
from tests.helpers.paper_tools import composed
from tests.helpers.shipped import LAYOUTS, PATTERNS, equipment, plan_for_layout, plan_of, shipped_loom, shipped_pattern

BOTH: Final[tuple[Units, ...]] = ("metric", "us")
Values = dict[str, str | int | Fraction]
IN_ONE_UNIT: Final = {
    "field",
    "field-folded",
}  # read at arm's length at dusk: a second number beside each is one too many
FIRST: Final = {"metric": r"mm|cm|m", "us": r"in|yd"}
PAIR: Final = re.compile(
    r"(?<=[\d⁄₀-₉¼½¾⅛⅜⅝⅞])[ \N{NO-BREAK SPACE}](mm|cm|m|in|yd)[ \N{NO-BREAK SPACE}]\([^)]*?(mm|cm|m|in|yd)\)"
)


def planned(pattern: str, units: Units) -> Plan:
    return plan_making.plan_for(shipped_pattern(pattern), replace(equipment(), units=units))


def words_of(marks: Sequence[Mark]) -> Iterator[str]:
    for mark in marks:
        if isinstance(mark, Words):
            yield mark.text
        elif isinstance(mark, Group | Link):
            yield from words_of(mark.marks)


def tables_of(marks: Sequence[Mark]) -> Iterator[list[list[str]]]:
    """Every table as rows of cells."""
    for mark in marks:
        if isinstance(mark, Group) and mark.role == "table":
            rows = (row for row in mark.marks if isinstance(row, Group))
            yield [[" ".join(words_of((cell,))) for cell in row.marks] for row in rows]
        elif isinstance(mark, Group | Link):
            yield from tables_of(mark.marks)


# What is wound


def test_a_warp_is_rounded_up_to_the_step_of_its_units() -> None:
    """2,651 mm are 2.899 yd: three yards in quarters, 2.7 m in tenths. Never down, and an even one stays."""
    assert (wind_step("us"), wind_step("metric")) == (QUARTER_YARD, TENTH_METRE)
    assert (Fraction("228.6"), Fraction(100)) == (QUARTER_YARD, TENTH_METRE)
    assert rounded_up(Fraction(2651), wind_step("us")) == 3 * MM_PER_YARD
    assert rounded_up(Fraction(2651), wind_step("metric")) == 2700
    assert rounded_up(Fraction(2700), TENTH_METRE) == 2700
    assert rounded_up(Fraction("2700.001"), TENTH_METRE) == 2800
    assert rounded_up(Fraction("2.26") * MM_PER_YARD, QUARTER_YARD) == Fraction("2.5") * MM_PER_YARD


@pytest.mark.parametrize("pattern", PATTERNS)
def test_a_metric_weaver_winds_tenths_of_a_metre_and_a_us_one_quarter_yards(pattern: str) -> None:
    if shipped_pattern(pattern).length.warp_mm is not None:
        pytest.skip("its warp is given, so it is wound as it is")
    for units in BOTH:
        lengths = planned(pattern, units).lengths
        step = TENTH_METRE if units == "metric" else QUARTER_YARD
        assert (lengths.wind_mm / step).denominator == 1
        assert lengths.warp_mm <= lengths.wind_mm < lengths.warp_mm + step


def test_a_warp_that_is_given_is_wound_as_it_is() -> None:
    pattern, loom = shipped_pattern("two-rails"), shipped_loom("small-box")
    for step in (QUARTER_YARD, TENTH_METRE):
        assert make_plan(pattern, loom, warp_mm=Fraction(2345), wind_step=step).lengths.wind_mm == 2345


def test_every_command_winds_in_its_units(capsys: Said, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Text and JSON; a card in the units of its layout unless others are asked for."""
    for units, wind in (("metric", "Wind 2.7 m (2.95 yd)"), ("us", "Wind 3 yd (2.74 m)")):
        assert wind in run(capsys, "plan", "three-paths", "--units", units)[1]
        made = json.loads(run(capsys, "plan", "three-paths", "--units", units, "--json")[1])
        assert made["lengths"]["wind_mm"] == (2700 if units == "metric" else 2743.2)
    assert "Wind 2.7 m" in run(capsys, "plan", "three-paths")[1]


def test_a_student_with_units_of_her_own_winds_in_them() -> None:
    """The class is in yards and gives its warps; without one, Fenna's is in tenths of a metre and the others' not."""
    given = load_class(SUPPER)
    assert len({kit.plan.lengths.wind_mm for kit in plan_class(given).kits}) == 1
    kits = plan_class(replace(given, warp_mm=None)).students
    steps = {kit.student.name: kit.plan.lengths.wind_mm for kit in kits if kit.student}
    assert (steps["Fenna"] / TENTH_METRE).denominator == 1
    assert all((wind / QUARTER_YARD).denominator == 1 for name, wind in steps.items() if name != "Fenna")


# What stands first


@pytest.mark.parametrize("units", BOTH)
@pytest.mark.parametrize("pattern", PATTERNS)
def test_in_the_text_of_a_plan_the_unit_asked_for_leads(pattern: str, units: Units) -> None:
    pairs = PAIR.findall(plan_text(planned(pattern, units), units))
    assert len(pairs) > 15
    assert all(re.fullmatch(FIRST[units], first) and not re.fullmatch(FIRST[units], then) for first, then in pairs)


@pytest.mark.parametrize("layout", LAYOUTS)
def test_on_every_card_the_unit_asked_for_leads(layout: str) -> None:
    for units in BOTH:
        page = composed(plan_of("two-rails"), layout, units=units).page
        words = " ".join(words_of(page.marks)).replace("\N{NO-BREAK SPACE}", " ")
        pairs = PAIR.findall(words)
        if layout in (*IN_ONE_UNIT, "handout"):
            begin = "· Wind" if layout == "handout" else r"\bWind"
            assert re.findall(rf"{begin} [^(]*?\b(mm|cm|m|in|yd)\b", words) == ["m" if units == "metric" else "yd"]
        if layout in IN_ONE_UNIT:
            assert not pairs
            told = re.findall(r"(?<=[\d⁄₀-₉¼½¾⅛⅜⅝⅞]) (mm|cm|m|in|yd)\b", re.sub(r"\b(?:100|50) mm\b", "", words))
            assert len(told) >= 2
            assert all(re.fullmatch(FIRST[units], unit) for unit in told), told
            continue
        assert pairs or layout in ("visitor", "handout")  # the width in one system, and in a short line what to wind
        assert layout != "visitor" or f"about {'6.6 mm' if units == 'metric' else '¼ in'} wide" in words
        assert all(re.fullmatch(FIRST[units], first) for first, _ in pairs)


@pytest.mark.parametrize("units", BOTH)
def test_notes_follow_the_units_too(units: Units) -> None:
    """Half a millimetre is no sixteenth of an inch: a yarn and a hole are told in hundredths."""
    values: Values = {"yarn": "rug", "across": Fraction("0.5"), "hole": Fraction(2)}
    thick = note_sentence(Note("warning", "yarn", "knot_sticks", values), units)
    stack: Values = {"ends": 31, "stack": Fraction(16), "peg": Fraction(12)}
    high = note_sentence(Note("warning", "pegs", "stack_too_high", stack), units)
    longer: Values = {"pegs": "Board", "spare": Fraction(100), "more": Fraction(3100)}
    route = note_sentence(Note("advice", "pegs", "longer_route", longer), units)
    if units == "metric":
        assert "about 0.5 mm (0.02 in) thick, passes a hole of 2 mm (0.08 in)" in thick
        assert "stand 16 mm (⅝ in) high in one layer, and the pegs 12 mm (½ in)" in high
        assert "longer than asked: 4 m (4 yd) of yarn" in route
    else:
        assert "about 0.02 in (0.5 mm) thick, passes a hole of 0.08 in (2 mm)" in thick
        assert "stand ⅝ in (16 mm) high in one layer, and the pegs ½ in (12 mm)" in high
        assert "longer than asked: 4 yd (4 m) of yarn" in route


def test_json_tells_its_notes_in_the_units_asked_for() -> None:
    """Keys wear their unit and stay; sentences follow."""
    plan = make_plan(replace(shipped_pattern("two-rails"), length=type(shipped_pattern("wick").length)()),
                     shipped_loom("small-box"))  # fmt: skip
    metric, us = (
        next(note["text"] for note in plan_as_json(plan, units)["notes"] if note["about"] == "lengths")
        for units in ("metric", "us")
    )
    assert metric == "No length was asked for: the sums are for 180 cm (71 in) of tape."
    assert us == "No length was asked for: the sums are for 71 in (180 cm) of tape."


def test_a_range_narrower_than_a_sixteenth_says_something() -> None:
    """6.3 to 6.9 mm is a quarter of an inch at both ends."""
    assert width_range(Fraction("6.3"), Fraction("6.9"), "us") == "0.25 to 0.27 in"
    assert width_range(Fraction(14), Fraction(18), "us") == "⁹⁄₁₆ to ¹¹⁄₁₆ in"
    assert thickness(Fraction("0.515"), "metric") == "0.5 mm (0.02 in)"


def test_a_binder_by_width_and_its_faces_follow_the_units() -> None:
    face = TapeFace("f", 7.0, 3.0, "")
    entry = Entry("T1", "T", "T1", 13, Fraction(7), {}, (), "F", (), "Small box", face)
    assert [each.title for each in arranged([entry], "width", "metric")] == ["5 mm to under 10 mm wide"]
    assert [each.title for each in arranged([entry], "width", "us")] == [
        "³⁄₁₆ in (5 mm) to under ⅜ in (10 mm) wide"
    ]  # fmt: skip
    assert "wider than ¹⁵⁄₁₆ in (24 mm)" in faces_aside(some_are_smaller=True, widest_mm=24, units="us")
    assert "wider" not in faces_aside(some_are_smaller=False, widest_mm=24, units="us")


# Columns and labels


@pytest.mark.parametrize("units", BOTH)
@pytest.mark.parametrize("pattern", PATTERNS)
def test_every_length_and_weight_of_a_record_stands_under_its_unit(pattern: str, units: Units) -> None:
    """19 of the 27 had a warp and a weft column without one, and yards came instead of metres without a word."""
    unit, other = ("m", "yd") if units == "metric" else ("yd", "m")
    (yarn,) = (
        table
        for table in tables_of(composed(plan_for_layout(pattern, "record", units), "record", units=units).page.marks)
    )
    head, *rows = yarn
    assert head[1:5] == ["yarn", "ends", f"warp {unit}", f"weft {unit}"]
    assert head[5] in (f"all {unit}", unit)
    assert head[6:] == [other, "g"]
    assert all("…" not in row[1] for row in rows)


@pytest.mark.parametrize(
    ("yarn", "words"),
    [
        (Yarn("a", "wool", "28/2", "metric"), "wool 28/2 metric"),
        (Yarn("a", "silk", "60/2", "metric"), "silk 60/2 metric"),
        (Yarn("a", "cotton", "8/2"), "cotton 8/2"),
        (Yarn("a", "cotton", "8/2", "cotton"), "cotton 8/2"),
        (Yarn("a", "cotton", "34/2", "metric"), "cotton 34/2 metric"),
        (Yarn("a", "linen", "50", "tex"), "linen 50 tex"),
        (Yarn("a", "wool", yards_per_pound=Fraction(1800)), "wool"),
    ],
)
def test_a_count_is_told_with_its_system_unless_the_fibre_means_it(yarn: Yarn, words: str) -> None:
    assert yarn_kind(yarn) == words


def test_what_the_label_calls_the_colour_stands_on_the_card() -> None:
    yarns = [Yarn("red", "linen", "20/2", shade="Brick"), Yarn("white", "linen", "20/2")]
    assert yarn_kinds(yarns, with_shades=True) == "All linen 20/2: red Brick."
    mixed = [*yarns, Yarn("cord", "wool", "28/2", "metric", shade="Madder 4")]
    assert yarn_kinds(mixed, with_shades=True) == (
        "Red (Brick) and white linen 20/2, cord (Madder 4) wool 28/2 metric."
    )
    for pattern in ("three-paths", "five-posts", "long-sixty"):
        on_card = " ".join(words_of(composed(plan_of(pattern), "record").page.marks))
        named = [each.shade for each in shipped_pattern(pattern).yarns if each.shade]
        assert named
        assert all(shade in on_card for shade in named)
