"""What is printed for an event: read back from its files, against the plan and against what the files record."""

from __future__ import annotations

import re
from fractions import Fraction
from math import ceil, floor
from pathlib import Path
from typing import Final, Literal

import pdfplumber
import pytest

from cardmaker.events import event_words
from cardmaker.events.day_pages import compose_day
from cardmaker.events.label_sheets import GRIDS, compose_labels
from cardmaker.events.visitor_answers import answers_to_visitors
from cardmaker.jobs import checking, loading
from cardmaker.jobs.event_making import event_prints, load_event_setup, plan_event
from cardmaker.layout.cut_sheets import MARGIN
from cardmaker.layout.yarn_inks import settled_hatches
from cardmaker.model.event import EventPlan
from cardmaker.model.marks import Box, Group, Page
from cardmaker.model.problems import ProblemsFound
from cardmaker.model.record_class import replace
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.wording import source_words
from cardmaker.wording.formatters import duration, tape_length
from tests.helpers.accessible import faults as accessibility_faults
from tests.helpers.card_faults import astray, collisions, cut_off, fused, overlapping_panels, struck, too_small
from tests.helpers.class_tools import MM, Said, run
from tests.helpers.places import ROOT
from tests.helpers.shipped import PATTERN_FILES

pytestmark = pytest.mark.usefixtures("empty_folder")

QUAY: Final = ROOT / "layouts" / "events" / "lantern-quay-days.yaml"
RULER: Final = TypeRuler()
SIZES: Final[tuple[Literal["letter", "a4"], ...]] = ("letter", "a4")
FIXED_TEXT: Final = """\
title: Gate Day
hours: {hours}
loom: {loom}
patterns: [{patterns}]
units: metric
"""


def event_file(tmp_path: Path, patterns: str, hours: str = "5 h", loom: str = "middle-box", more: str = "") -> Path:
    path = tmp_path / "gate-day.yaml"
    path.write_text(FIXED_TEXT.format(hours=hours, loom=loom, patterns=patterns) + more, "utf-8")
    return path


def planned(path: Path) -> EventPlan:
    event = loading.load_event(path)
    return plan_event(event, load_event_setup(event))


def words_in(path: Path) -> str:
    with pdfplumber.open(path) as pdf:
        return " ".join(" ".join((page.extract_text() or "").split()) for page in pdf.pages)


# The command


def test_a_file_for_each_kind_of_print(capsys: Said, empty_folder: Path) -> None:
    status, out, err = run(capsys, "event", "lantern-quay-days", "--out", "day")
    assert (status, err) == (0, "")
    assert [line for line in out.splitlines() if not line.startswith(" ")] == [
        "day/lantern-quay-days-day.pdf  (2 pages)",
        "day/lantern-quay-days-sheet.pdf  (1 page)",
        "day/lantern-quay-days-cards.pdf  (8 pages)",
        "day/lantern-quay-days-labels.pdf  (1 page)",
    ]
    files = sorted((empty_folder / "day").iterdir())
    assert len(files) == 4
    for file in files:
        assert not list(accessibility_faults(file.read_bytes()))


def test_its_field_cards_are_those_of_the_command_for_cards(capsys: Said, empty_folder: Path) -> None:
    """The same words on both sides, though they are planned with all that the day asks for."""
    assert run(capsys, "event", "lantern-quay-days")[0] == 0
    names = loading.load_event(QUAY).patterns
    alone = ["--layout", "field", "--back", "--loom", "middle-box", "--units", "us", "--paper", "4x6", "--out", "alone"]
    assert run(capsys, "card", *names, *alone)[0] == 0
    apart = " ".join(words_in(empty_folder / "alone" / f"{name}-field.pdf") for name in names)
    assert words_in(empty_folder / "out" / "lantern-quay-days-cards.pdf") == apart


def test_one_file_is_refused(capsys: Said) -> None:
    assert run(capsys, "event", "lantern-quay-days", "--out", "all.pdf")[::2] == (
        2,
        "cardmaker: all.pdf is one file, but an event makes 4: name a folder.\n",
    )


def test_it_is_listed_and_checked(capsys: Said) -> None:
    assert "  lantern-quay-days  Lantern Quay Days, 4 tapes" in run(capsys, "list", "events")[1].splitlines()
    assert not checking.problems_of_file(QUAY)


@pytest.mark.parametrize(
    ("patterns", "loom", "where", "told"),
    [
        ("wick, wik", "middle-box", "4:18", "There is no pattern named 'wik'"),
        ("wick", "midle-box", "3:1", "There is no loom named 'midle-box'"),
        ("wick", "any", "3:1", "an event is woven on one loom"),
        ("wick", "notes.txt/loom", "3:1", "is no .yaml file"),
    ],
)
def test_what_is_not_there_is_told_at_its_line(
    patterns: str, loom: str, where: str, told: str, tmp_path: Path, capsys: Said
) -> None:
    path = event_file(tmp_path, patterns, loom=loom)
    status, _, err = run(capsys, "event", str(path))
    assert status != 0
    assert f"{path}:{where}:" in err
    assert told in err
    assert [str(each) for each in checking.problems_of_file(path)] == err.splitlines()


def test_a_tape_that_the_loom_does_not_hold_is_told_and_nothing_is_printed(
    tmp_path: Path, empty_folder: Path, capsys: Said
) -> None:
    status, _, err = run(capsys, "event", str(event_file(tmp_path, "wick, long-sixty, three-paths", loom="small-box")))
    assert status != 0
    assert "long-sixty.yaml" in err
    assert "three-paths.yaml" in err
    assert not (empty_folder / "out").exists()


def test_another_kind_of_file_is_called_what_it_is(capsys: Said) -> None:
    other = str(ROOT / "layouts" / "classes" / "a-yard-by-supper.yaml")
    assert "This is a class file. An event file is wanted here" in run(capsys, "event", other)[2]
    assert "This is an event file." in run(capsys, "class", str(QUAY))[2]


# What the hours hold


@pytest.mark.parametrize("shown", ["[weaving]", "[threading, weaving]", "[winding, weaving]"])
@pytest.mark.parametrize("hours", ["1 h", "2 h 10 min", "9 h"])
def test_what_the_hours_hold_is_what_a_second_count_says(hours: str, shown: str, tmp_path: Path) -> None:
    """From the loom's own paces: seconds for an end, minutes that are fixed, picks in a minute."""
    path = event_file(tmp_path, "three-paths, two-rails, wick", hours, more=f"shown: {shown}\n")
    plan = planned(path)
    minutes = int(plan.event.minutes)
    for held in plan.tapes:
        pace, seen, time = held.plan.loom.pace, held.plan, held.time
        assert pace is not None
        assert time is not None
        winding = ceil(seen.ends * Fraction(pace.winding_seconds) / 60) if "winding" in shown else 0
        threads = "winding" in shown or "threading" in shown
        threading = ceil(seen.ends * Fraction(pace.threading_seconds) / 60) if threads else 0
        before = winding + threading + ceil(pace.fixed_minutes)
        weaving = ceil(Fraction(seen.weft.picks) / Fraction(pace.picks_per_minute))
        left = minutes - before
        cells = event_words.cells_of_hours(held, "metric")
        assert cells[1:5] == (
            str(seen.ends),
            duration(before),
            duration(left) if left > 0 else "none",
            duration(weaving),
        )
        if left >= weaving:
            assert cells[5] == f"all, {tape_length(seen.lengths.woven_mm, 'metric')}"
        elif left > 0:
            picks = floor(left * Fraction(pace.picks_per_minute))
            woven = picks / Fraction(seen.weft.picks_per_inch) * Fraction(254, 10)
            assert cells[5] == tape_length(woven, "metric")
            assert woven < seen.lengths.woven_mm
        else:
            assert cells[5] == "none"


def test_the_tape_on_the_loom_is_told_first(tmp_path: Path) -> None:
    plan = planned(event_file(tmp_path, "three-paths, wick", more="on_loom: wick\n"))
    assert plan.on_loom.plan.pattern.stem == "wick"
    assert planned(event_file(tmp_path, "three-paths, wick")).on_loom.plan.pattern.stem == "three-paths"


def test_a_second_warp_is_advised_only_where_there_is_time_for_it(tmp_path: Path) -> None:
    told = {}
    for hours in ("1 h", "5 h", "9 h"):
        plan = planned(event_file(tmp_path, "three-paths", hours))
        told[hours] = event_words.hours_sentence(plan.event, plan.on_loom, "metric")
        time = plan.on_loom.time
        assert time is not None
        assert ("second warp" in told[hours]) == (time.spare_minutes >= time.needed_minutes)
    assert "second warp" in told["9 h"]
    assert "The whole warp gets woven off" not in told["1 h"]


def test_a_loom_without_a_pace_gets_no_hours(tmp_path: Path) -> None:
    plan = planned(event_file(tmp_path, "wick"))
    unknown = replace(plan.on_loom, time=None)
    told = event_words.hours_sentence(plan.event, unknown, "metric")
    assert told.startswith("No pace is told in the file of Middle box")
    pages = compose_day(
        replace(plan, tapes=(unknown,), on_loom=unknown), "a4", RULER, "metric", sheets=1, cards=1, labels=1
    )
    assert pages


# What visitors ask


def test_answers_come_from_the_file_alone() -> None:
    """Every piece of every answer is a text of the source or of the visitors' notes, but for words that say which."""
    event = loading.load_event(QUAY)
    setup = load_event_setup(event)
    ours = {"number", "on", "counted by", "today", "a guess: once", "twist:"}
    for path in PATTERN_FILES:
        pattern = loading.load_pattern(path)
        plan = replace(plan_event(event, setup).tapes[0].plan, pattern=pattern)
        source = pattern.source
        texts = [*pattern.notes.visitor]
        if source is not None:
            fields = {name: getattr(source, name) for name in source.__annotations__}
            texts += [each for value in fields.values() for each in ((value,) if isinstance(value, str) else value)]
            texts += [source_words.source_sentence(source), source_words.grade(source.grade)]
        told = " ".join(texts).casefold()
        answers = answers_to_visitors(plan)
        assert answers[0][0] == "Is it an old pattern?"
        for _, answer in answers:
            for piece in re.split(r"; |(?<=[.!?])\s+", answer):
                bare = piece.rstrip(".").casefold()
                for words in ours:
                    bare = bare.removeprefix(f"{words} ")
                assert bare in told or piece == "No source recorded: say so, and claim nothing."[: len(piece)]


def test_a_tape_without_a_source_claims_nothing(tmp_path: Path) -> None:
    (held,) = planned(event_file(tmp_path, "grey-trap")).tapes
    assert answers_to_visitors(held.plan) == [
        ("Is it an old pattern?", "No source recorded: say so, and claim nothing.")
    ]


def test_the_teachers_and_the_students_notes_are_never_told(capsys: Said, empty_folder: Path) -> None:
    assert run(capsys, "event", "lantern-quay-days")[0] == 0
    told = "".join(words_in(path) for path in (empty_folder / "out").iterdir())
    for held in planned(QUAY).tapes:
        for note in (*held.plan.pattern.notes.teacher, *held.plan.pattern.notes.student):
            assert note not in told
    assert "Jory fetches the awning at eight" in told


# What to pack


def test_counts_to_pack_are_those_of_what_was_made(capsys: Said, empty_folder: Path) -> None:
    assert run(capsys, "event", "lantern-quay-days")[0] == 0
    told = words_in(empty_folder / "out" / "lantern-quay-days-day.pdf")
    assert "4 field cards, 4 labels, the tapes on 1 page and these pages" in told
    assert "3 finished tapes to show: Two Rails, Stair and Wick" in told
    assert "5 clips" in told
    plan = planned(QUAY).on_loom.plan
    assert plan.beam is not None
    assert "31 ends, 2 keepers banded in its cross" in told
    assert f"{plan.beam.sticks} packing sticks" in told


@pytest.mark.parametrize(
    ("shown", "has", "has_not"),
    [
        ("[weaving]", "threaded with 31 ends", "needle"),
        ("[threading, weaving]", "The warp on its stick", "Pegs"),
        ("[winding, weaving]", "Pegs or posts for a warp of", "The warp on its stick"),
    ],
)
def test_tools_are_those_of_what_is_done_there(shown: str, has: str, has_not: str, tmp_path: Path) -> None:
    plan = planned(event_file(tmp_path, "three-paths, wick", more=f"shown: {shown}\n"))
    told = " ".join(words for _, words in event_words.things_to_pack(plan, "metric", sheets=1, cards=2, labels=2))
    assert has in told
    assert has_not not in told


def test_cautions_defer_to_the_ground_and_tell_of_a_warp_across_the_way_where_one_is_wound(tmp_path: Path) -> None:
    for shown in ("[weaving]", "[winding]"):
        plan = planned(event_file(tmp_path, "three-paths", more=f"shown: {shown}\n"))
        told = event_words.cautions_for_ground(plan.event, plan.on_loom.plan, "metric")
        assert told[0] == event_words.GROUND_FIRST
        assert any("a line to trip over" in each for each in told) == (shown == "[winding]")
        assert any("pulls with about" in each for each in told)


# The pages


def all_tapes(tmp_path: Path, units: Literal["metric", "us"]) -> EventPlan:
    """Of every shipped pattern, on whatever loom holds it: the labels do not know the loom."""
    event = loading.load_event(QUAY)
    setup = load_event_setup(event, units=units)
    plans = [planned_anywhere(path, setup) for path in PATTERN_FILES]
    first = plan_event(event, setup).tapes[0]
    tapes = tuple(replace(first, plan=plan) for plan in plans)
    return EventPlan(event, tapes, tapes[0])


def planned_anywhere(path: Path, setup):  # type: ignore[no-untyped-def]
    from cardmaker.jobs.plan_making import plan_for

    return plan_for(loading.load_pattern(path), replace(setup.plans, loom=None))


def panels_of(page: Page) -> list[Group]:
    return [mark for mark in page.marks if isinstance(mark, Group) and mark.role != "artefact"]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("units", ["metric", "us"])
def test_labels_of_all_tapes_keep_the_laws_of_cards(
    units: Literal["metric", "us"], size: Literal["letter", "a4"], tmp_path: Path
) -> None:
    plan = all_tapes(tmp_path, units)
    hatches = settled_hatches(each.pattern for each in plan.plans)
    pages = compose_labels(plan.event, plan.plans, size, RULER, units, hatches)
    labels = [label for page in pages for label in panels_of(page)]
    assert [label.name.split(" (")[0] for label in labels] == [each.pattern.title for each in plan.plans]
    for page in pages:
        inside = Box(MARGIN, MARGIN, page.width_mm - 2 * MARGIN, page.height_mm - 2 * MARGIN)
        assert not [*overlapping_panels(panels_of(page)), *astray(panels_of(page), inside)]
    for label, each in zip(labels, plan.plans, strict=True):
        parts = [mark for mark in label.marks if isinstance(mark, Group)]
        assert not [
            *overlapping_panels(parts), *astray(parts, label.box), *collisions(parts), *fused(parts), *cut_off(parts),
            *struck(parts), *too_small(parts, 9),
        ]  # fmt: skip
        for tape in (part for part in parts if part.role == "figure"):
            assert abs(tape.box.width - float(each.width.likely_mm)) < 0.1
        assert any(part.role == "figure" for part in parts)


def test_a_label_says_no_more_than_the_grade_allows(capsys: Said, empty_folder: Path) -> None:
    assert run(capsys, "event", "lantern-quay-days")[0] == 0
    told = words_in(empty_folder / "out" / "lantern-quay-days-labels.pdf")
    for each in (
        "No source recorded.",
        "After a tape tie on",
        "A new design: drawn from",
        "Suggested by a line in a list",
    ):
        assert each in told


def test_the_longest_names_and_sources_still_stand_on_a_label(tmp_path: Path) -> None:
    plan = planned(QUAY)
    pattern = plan.tapes[0].plan.pattern
    assert pattern.source is not None
    long = replace(pattern, title="Wide " * 40, source=replace(pattern.source, what="an old tape of " * 14))
    plans = [replace(plan.tapes[0].plan, pattern=long), *(each.plan for each in plan.tapes[1:])]
    for size in SIZES:
        pages = compose_labels(plan.event, plans, size, RULER, "us", settled_hatches([long]))
        for label in (label for page in pages for label in panels_of(page)):
            parts = [mark for mark in label.marks if isinstance(mark, Group)]
            assert not [*overlapping_panels(parts), *astray(parts, label.box), *too_small(parts, 9)]
    assert GRIDS[0] == (2, 4)


def test_the_first_space_on_the_page_of_tapes_is_that_of_the_plan(capsys: Said, empty_folder: Path) -> None:
    assert run(capsys, "event", "lantern-quay-days")[0] == 0
    told = words_in(empty_folder / "out" / "lantern-quay-days-sheet.pdf")
    for first in ("L15, a slot", "L6, a hole", "L14, a hole", "L7, a slot"):
        assert f"end 1: {first}" in told


def test_the_same_event_gives_the_same_pages(tmp_path: Path) -> None:
    event = loading.load_event(QUAY)
    setup = load_event_setup(event)
    first, second = (event_prints(plan_event(event, setup), setup) for _ in range(2))
    assert first.left_out == second.left_out
    assert {kind: len(drafts) for kind, drafts in first.drafts.items()} == {
        "day": 2,
        "sheet": 1,
        "cards": 8,
        "labels": 1,
    }
    with pytest.raises(ProblemsFound):
        planned(event_file(tmp_path, "long-sixty", loom="small-box"))


def test_pages_are_as_large_as_asked(capsys: Said, empty_folder: Path) -> None:
    assert run(capsys, "event", "lantern-quay-days", "--paper", "a4", "--units", "metric")[0] == 0
    sizes = {}
    for kind in ("day", "sheet", "labels", "cards"):
        with pdfplumber.open(empty_folder / "out" / f"lantern-quay-days-{kind}.pdf") as pdf:
            sizes[kind] = {(round(page.width * MM), round(page.height * MM)) for page in pdf.pages}
    assert sizes["day"] == sizes["sheet"] == sizes["labels"] == {(210, 297)}
    event = loading.load_event(QUAY)
    woven = plan_event(event, load_event_setup(event, units="metric")).on_loom.plan.lengths.woven_mm
    told = tape_length(woven, "metric")
    assert told.index("cm") < told.index("in)")
    assert told in words_in(empty_folder / "out" / "lantern-quay-days-day.pdf")
