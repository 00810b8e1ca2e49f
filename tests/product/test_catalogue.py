"""The demonstration files against the catalogue's table: what anybody sees first must be right."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import fields, is_dataclass
from itertools import pairwise
from pathlib import Path

import pytest

from cardmaker.model.loom import Space
from cardmaker.model.plan import Post
from cardmaker.model.problems import Refusal
from cardmaker.reckoning.stripes.stripe_counts import end_yarns, is_same_both_ways, runs
from cardmaker.reckoning.threading.placement import place, slots_only_ends, space_label, thick_ends_in_holes
from cardmaker.reckoning.weaving.pickup import pickup_plan
from cardmaker.reckoning.weaving.sheds import both_sheds
from cardmaker.reckoning.winding.winding_methods import plan_winding
from tests.helpers.catalogue_table import Row, rows
from tests.helpers.places import ROOT
from tests.helpers.shipped import LOOM_FILES, PATTERN_FILES
from tests.helpers.shipped import shipped_loom as loom
from tests.helpers.shipped import shipped_pattern as pattern

LOOMS = ("small-box", "middle-box", "broad-paddle", "treadle-pair")
BOXES = LOOMS[:3]

every_row = pytest.mark.parametrize("row", rows(), ids=lambda row: row.stem)
every_file = pytest.mark.parametrize("path", PATTERN_FILES + LOOM_FILES, ids=lambda path: path.stem)
every_pattern_file = pytest.mark.parametrize("path", PATTERN_FILES, ids=lambda path: path.stem)


def placed_labels(pattern_stem: str, loom_stem: str) -> tuple[str, str, int, int]:
    """First and last space as the weaver says them, and the empty spaces left and right."""
    of, on = pattern(pattern_stem), loom(loom_stem)
    yarns = end_yarns(of)
    found = place(yarns, on, slots_only_ends(of, yarns))
    ends = (found.first_space, found.last_space)
    first, last = (f"{space_label(space, on)}, a {on.kind_of(space)}" for space in ends)
    return first, last, found.empty_left, found.empty_right


# Names of files and of patterns


def test_the_catalogue_is_whole() -> None:
    assert [path.stem for path in PATTERN_FILES] == sorted(row.stem for row in rows())
    assert [path.stem for path in LOOM_FILES] == sorted(LOOMS)


def test_every_code_is_used_once() -> None:
    assert sorted(pattern(path.stem).code for path in PATTERN_FILES) == [f"T{number:02}" for number in range(1, 28)]


@every_row
def test_title_and_code(row: Row) -> None:
    assert (pattern(row.stem).code, pattern(row.stem).title, pattern(row.stem).stem) == (row.code, row.title, row.stem)


@pytest.mark.parametrize("stem", LOOMS)
def test_a_loom_is_filed_under_its_title(stem: str) -> None:
    assert loom(stem).title.lower().replace(" ", "-") == stem == loom(stem).stem


# The table


@every_row
def test_every_end(row: Row) -> None:
    assert end_yarns(pattern(row.stem)) == row.end_yarns


@every_row
def test_counts_and_totals(row: Row) -> None:
    yarns = end_yarns(pattern(row.stem))
    assert len(yarns) == row.ends == pattern(row.stem).stated_ends
    assert Counter(yarns) == row.totals


@every_row
def test_same_both_ways(row: Row) -> None:
    assert is_same_both_ways(end_yarns(pattern(row.stem))) is row.same_both_ways


@every_row
def test_changes_and_finish(row: Row) -> None:
    wound = plan_winding(runs(end_yarns(pattern(row.stem))))
    assert (wound.changes, wound.far_changes, wound.finish) == (row.changes, row.far_changes, Post(row.finish))


@pytest.mark.parametrize("loom_stem", LOOMS)
@every_row
def test_holes_and_slots_by_yarn(row: Row, loom_stem: str) -> None:
    of, on = pattern(row.stem), loom(loom_stem)
    yarns = end_yarns(of)
    slots_only = slots_only_ends(of, yarns)
    if row.ends > on.capacity or (slots_only and loom_stem == "treadle-pair"):
        with pytest.raises(Refusal):
            place(yarns, on, slots_only)
        return
    kinds = place(yarns, on, slots_only).kinds
    odd_ends, even_ends = kinds[0], kinds[0].opposite
    assert all(kind is not following for kind, following in pairwise(kinds))
    by_kind = {kind: Counter(yarn for yarn, of in zip(yarns, kinds, strict=True) if of is kind) for kind in Space}
    assert by_kind == {odd_ends: row.odd_ends, even_ends: row.even_ends}


# Which pattern fits which loom, and where it starts


@pytest.mark.parametrize(
    ("stem", "slots", "holes", "middle_kind", "capacity"),
    [
        ("small-box", 12, 11, Space.HOLE, 23),
        ("middle-box", 16, 17, Space.HOLE, 33),
        ("broad-paddle", 24, 23, Space.HOLE, 47),
        ("treadle-pair", 31, 30, Space.SLOT, 60),
    ],
)
def test_the_heddles(stem: str, slots: int, holes: int, middle_kind: Space, capacity: int) -> None:
    on = loom(stem)
    assert (on.slots, on.holes, on.capacity) == (slots, holes, capacity)
    assert on.middle_space is not None
    assert on.kind_of(on.middle_space) is middle_kind


@pytest.mark.parametrize(
    ("pattern_stem", "loom_stem", "first", "last", "empty_left", "empty_right"),
    [
        ("two-rails", "small-box", "L6, a hole", "R6, a hole", 5, 5),
        ("two-rails", "middle-box", "L6, a hole", "R6, a hole", 10, 10),
        ("two-rails", "broad-paddle", "L6, a hole", "R6, a hole", 17, 17),
        ("off-side", "small-box", "L11, a slot", "R10, a hole", 0, 1),
        ("off-side", "middle-box", "L11, a slot", "R10, a hole", 5, 6),
        ("off-side", "broad-paddle", "L11, a slot", "R10, a hole", 12, 13),
        ("three-paths", "middle-box", "L15, a slot", "R15, a slot", 1, 1),
        ("three-paths", "broad-paddle", "L15, a slot", "R15, a slot", 8, 8),
        ("five-posts", "middle-box", "L14, a hole", "R16, a hole", 2, 0),
        ("five-posts", "broad-paddle", "L14, a hole", "R16, a hole", 9, 7),
    ],
)
def test_first_and_last_space(
    pattern_stem: str, loom_stem: str, first: str, last: str, empty_left: int, empty_right: int
) -> None:
    assert placed_labels(pattern_stem, loom_stem) == (first, last, empty_left, empty_right)


@pytest.mark.parametrize(
    ("pattern_stem", "loom_stem"),
    [("three-paths", "small-box"), ("five-posts", "small-box"), ("fair-day", "broad-paddle")]
    + [("long-sixty", stem) for stem in BOXES],
)
def test_too_wide_for_the_loom(pattern_stem: str, loom_stem: str) -> None:
    with pytest.raises(Refusal):
        placed_labels(pattern_stem, loom_stem)


def test_long_sixty_fills_the_treadle_pair() -> None:
    on = loom("treadle-pair")
    found = place(end_yarns(pattern("long-sixty")), on)
    assert found.ends == on.capacity
    assert found.back is not None
    assert (found.empty_left, found.empty_right, abs(found.back.offset)) == (0, 1, 1)


@pytest.mark.parametrize("loom_stem", BOXES)
def test_the_middle_end_of_wick_is_red_and_in_the_middle_space(loom_stem: str) -> None:
    on = loom(loom_stem)
    yarns = end_yarns(pattern("wick"))
    found = place(yarns, on)
    assert found.middle_end is not None
    assert yarns[found.middle_end - 1] == "red"
    assert space_label(found.space_of(found.middle_end), on) == "the middle"


# The thick ends


@pytest.mark.parametrize("stem", ["raised-ribs", "five-posts"])
@pytest.mark.parametrize("loom_stem", ["middle-box", "broad-paddle"])
def test_bound_cords_stand_in_slots_after_one_shift(stem: str, loom_stem: str) -> None:
    yarns = end_yarns(pattern(stem))
    bound = slots_only_ends(pattern(stem), yarns)
    found = place(yarns, loom(loom_stem), bound)
    assert len(bound) == {"raised-ribs": 3, "five-posts": 5}[stem]
    assert {found.kinds[end_number - 1] for end_number in bound} == {Space.SLOT}
    assert abs(found.shifted) == 1


def cords(stem: str) -> list[int]:
    return [number for number, yarn in enumerate(end_yarns(pattern(stem)), start=1) if yarn.endswith("cord")]


@pytest.mark.parametrize("stem", ["cord-edge", "three-sparks"])
def test_the_traps_leave_thick_ends_in_holes(stem: str) -> None:
    on = loom("broad-paddle")
    yarns = end_yarns(pattern(stem))
    assert not slots_only_ends(pattern(stem), yarns)
    found = thick_ends_in_holes(yarns, cords(stem), place(yarns, on), on)
    assert found is not None
    assert found.in_holes
    assert not found.shift_helps


def test_cord_edge_would_do_with_21_or_23_ends() -> None:
    on = loom("broad-paddle")
    yarns = end_yarns(pattern("cord-edge"))
    found = thick_ends_in_holes(yarns, cords("cord-edge"), place(yarns, on), on)
    assert found is not None
    assert found.counts.both == (21, 23)


def test_five_posts_floats() -> None:
    """Posts P1 to P5 are ends 8, 12, 16, 20, 24; P3 floats over rows 1 to 3, P2 and P4 over rows 3 to 7."""
    of = pattern("five-posts")
    yarns = end_yarns(of)
    assert of.pickup is not None
    raised = both_sheds(place(yarns, loom("broad-paddle"), slots_only_ends(of, yarns)))
    picked = pickup_plan(of.pickup, yarns, raised)
    assert picked.pattern_ends == (8, 12, 16, 20, 24)
    posts_up = [
        tuple(post for post, end in enumerate(picked.pattern_ends, start=1) if end in row.raised) for row in picked.rows
    ]
    assert posts_up == [(1, 2, 3, 4, 5), (3,), (1, 2, 3, 4, 5), (2, 4), (1, 2, 4, 5), (2, 4), (1, 2, 3, 4, 5), ()]
    on_the_face = {(stay.pattern_end, stay.first_row, stay.rows) for stay in picked.floats if stay.side == "face"}
    assert {(3, 1, 3), (2, 3, 5), (4, 3, 5)} <= on_the_face
    assert max(rows for _, _, rows in on_the_face) == 5


# The files as a person reads them


@every_file
def test_a_file_begins_with_the_way_to_its_schema(path: Path) -> None:
    first_line = path.read_text(encoding="utf-8").split("\n", 1)[0]
    found = re.fullmatch(r"# yaml-language-server: \$schema=(\S+)", first_line)
    assert found
    kind = "pattern" if path in PATTERN_FILES else "loom"
    assert (path.parent / found[1]).resolve() == ROOT / "cardmaker" / "schemas" / f"{kind}.json"
    assert (path.parent / found[1]).is_file()


@every_file
def test_a_file_is_short_and_plain(path: Path) -> None:
    lines = path.read_text(encoding="utf-8").split("\n")
    assert lines[-1] == "" != lines[-2]
    assert len(lines) < 120
    assert max(map(len, lines)) <= 100
    assert not any("\t" in line or line != line.rstrip() for line in lines)


@every_file
def test_a_file_says_that_it_is_invented(path: Path) -> None:
    read = pattern(path.stem) if path in PATTERN_FILES else loom(path.stem)
    assert read.marked_as == "sample data, invented"


@every_pattern_file
def test_colours_are_quoted_and_distinct(path: Path) -> None:
    written = re.findall(r"colour: *([^\s,}]+)", path.read_text(encoding="utf-8"))
    assert written
    assert all(re.fullmatch(r'"#[0-9A-F]{6}"', colour) for colour in written)
    colours = [yarn.colour for yarn in pattern(path.stem).yarns]
    assert len(set(colours)) == len(colours)


def test_a_dye_is_claimed_once_and_shown() -> None:
    dyed = [yarn for path in PATTERN_FILES for yarn in pattern(path.stem).yarns if yarn.dye]
    assert [yarn.name for yarn in dyed] == ["blue"]
    assert all(yarn.dye_evidence for yarn in dyed)


def lightness(colour: str) -> float:
    """CIE L* of an sRGB colour (IEC 61966-2-1 for the curve, CIE 15 for L*), from 0 to 100."""
    channels = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in channels]
    y = sum(weight * part for weight, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))
    return 116 * float(y ** (1 / 3)) - 16


def test_grey_trap_is_a_trap_and_no_other_neighbours_are() -> None:
    """Red and green within one step of L*; every other pair of neighbouring stripes at least ten apart."""
    for path in PATTERN_FILES:
        of = pattern(path.stem)
        colour = {yarn.name: yarn.colour for yarn in of.yarns}
        neighbours = {frozenset(pair) for pair in pairwise(run.yarn for run in runs(end_yarns(of)))}
        gaps = [abs(lightness(colour[one]) - lightness(colour[other])) for one, other in neighbours]
        if path.stem == "grey-trap":
            assert max(gaps) < 1
        else:
            assert min(gaps, default=100) > 10, path.stem


def test_every_grade_is_there_and_many_have_no_source() -> None:
    sources = [pattern(path.stem).source for path in PATTERN_FILES]
    grades = Counter(source.grade for source in sources if source)
    assert set(grades) == set("ABCDEF")
    assert grades["A"] == grades["B"] == 1
    assert sources.count(None) >= 8


def test_only_two_rails_has_been_measured() -> None:
    """So that the worked example stays with the figures of its own file."""
    assert [path.stem for path in PATTERN_FILES if pattern(path.stem).measured] == ["two-rails"]


def test_text_stays_as_typed() -> None:
    three_paths, two_rails = pattern("three-paths"), pattern("two-rails")
    assert three_paths.source is not None
    assert two_rails.source is not None
    assert three_paths.source.object_number == "0000.10"
    assert three_paths.source.may_print_photograph == "no"
    assert two_rails.source.object_number == "0012"
    assert [yarn.shade for yarn in three_paths.second_yarns[0].yarns] == ["0812", "N", "0827"]
    assert (three_paths.version, three_paths.date) == ("2", "2026-11-20")


# Nobody real

WORLD = {
    "Brackwater", "Hythe", "Old", "Ropeloft", "Winnet", "Orrick", "Jory", "Tamble", "Yard", "Supper",
    "Lantern", "Quay", "Days", "Custom", "House", "Collection", "The", "Book",
}  # fmt: skip
MONTHS = {"February", "March", "May", "June", "August"}
PATTERN_WORDS = {word for row in rows() for word in row.title.split()}
NAME = re.compile(r"(?<![.?!:\"] )(?<!^)(?<!\")\b[A-Z][a-z]+", re.MULTILINE)


def texts(thing: object) -> list[str]:
    """Every text of a record that a card could print, but shades, which are names of colours."""
    if isinstance(thing, str):
        return [thing]
    if isinstance(thing, tuple):
        return [text for item in thing for text in texts(item)]
    if not is_dataclass(thing):
        return []
    kept = [field.name for field in fields(thing) if field.name not in ("places", "shade", "title", "stem")]
    return [text for name in kept for text in texts(getattr(thing, name))]


@every_pattern_file
def test_names_belong_to_the_invented_world(path: Path) -> None:
    names = {name for text in texts(pattern(path.stem)) for name in NAME.findall(text)}
    assert names <= WORLD | MONTHS | PATTERN_WORDS


@every_pattern_file
def test_a_source_says_that_it_is_invented(path: Path) -> None:
    source = pattern(path.stem).source
    if source is None:
        return
    assert source.counted_by in ("", "Winnet Orrick", "Jory Tamble")
    for stated in (source.holder, source.place, *source.references):
        assert stated == "" or "(invented)" in stated
