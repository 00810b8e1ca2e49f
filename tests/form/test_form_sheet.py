"""The recording form on paper: room to write by hand, nothing over anything else, and a field for every line."""

from __future__ import annotations

import json
from functools import cache
from itertools import combinations, pairwise

import pytest

from cardmaker.form.form_sheet import BINDING, LEAST_ROW, MARGIN, compose_form
from cardmaker.model import tape_form
from cardmaker.model.card_layout import Paper
from cardmaker.model.marks import Box, FormField, Group, Line, Page, Rectangle, Words
from cardmaker.school.handout_sheets import WHOLE, Size
from cardmaker.wording.formatters import Units
from tests.helpers.card_faults import all_words, extent, leaves, letters_box
from tests.helpers.paper_tools import overlap
from tests.helpers.places import ROOT
from tests.helpers.record_cards import RULER

SHEETS: tuple[tuple[Size, Units], ...] = (("letter", "us"), ("a4", "metric"), ("letter", "metric"), ("a4", "us"))
HAND_MM = 7.0  # the least height of a line to write on


@cache
def page(size: Size, units: Units) -> Page:
    return compose_form(WHOLE[size], RULER, units)


def fields(sheet: Page) -> list[FormField]:
    return [mark for mark in leaves(sheet.marks) if isinstance(mark, FormField)]


def tables(sheet: Page) -> list[Group]:
    groups = [mark for mark in sheet.marks if isinstance(mark, Group)]
    inner = [mark for group in groups for mark in group.marks if isinstance(mark, Group)]
    return [group for group in (*groups, *inner) if group.role == "table"]


@pytest.fixture(params=SHEETS, ids=lambda sheet: "-".join(sheet))
def sheet(request: pytest.FixtureRequest) -> Page:
    size, units = request.param
    return page(size, units)


def test_every_field_is_there_once(sheet: Page) -> None:
    names = [field.name for field in fields(sheet)]
    assert len(names) == len(set(names))
    stripes = [name for name in names if name.startswith("stripe_")]
    assert {*names} - {*stripes} == {*tape_form.FIXED_FIELDS}
    count = len(stripes) // 2
    assert count >= tape_form.LEAST_STRIPES
    wanted = [tape_form.stripe_field(number, cell) for number in range(1, count + 1) for cell in ("ends", "colour")]
    assert stripes == wanted  # read, and walked through, row by row


def test_how_many_stripes_find_room() -> None:
    """Three columns: of twelve rows on Letter, of fifteen on A4."""
    found = {size: sum(field.name.endswith("_ends") for field in fields(page(size, "us"))) for size in WHOLE}
    assert found == {"letter": 36, "a4": 45}


def test_fields_come_in_the_order_of_the_form(sheet: Page) -> None:
    names = [field.name for field in fields(sheet)]
    assert names == sorted(names, key=tape_form.form_order)


def test_every_line_has_room_for_handwriting(sheet: Page) -> None:
    """In a table from rule to rule; else from a rule up to whatever stands above it."""
    for table in tables(sheet):
        row_boxes = [mark.box for mark in table.marks if isinstance(mark, Group) and mark.name != "head"]
        assert min(box.height for box in row_boxes) >= HAND_MM - 1e-6
        tops = sorted({round(line.y1, 3) for line in table.marks if isinstance(line, Line) and line.y1 == line.y2})
        assert min(below - above for above, below in pairwise(tops)) >= HAND_MM - 0.01
    level = [mark for mark in leaves(sheet.marks) if isinstance(mark, Line) and mark.y1 == mark.y2]
    letters = [letters_box(words) for words in all_words(sheet.marks)]
    for field in (each for each in fields(sheet) if each.kind == "line" and each.name != tape_form.TOTAL):
        rule = min(line.y1 for line in level if line.x1 <= field.box.middle <= line.x2 and line.y1 >= field.box.bottom)
        room = Box(field.box.left, rule - HAND_MM + 0.3, field.box.width, HAND_MM - 0.4)
        assert not [box for box in letters if overlap(room, box)], field.name
        crossing = [
            line for line in level if room.top < line.y1 < room.bottom and line.x1 < room.right and line.x2 > room.left
        ]
        assert not crossing, field.name


def test_boxes_to_tick_are_large_enough_for_a_pencil(sheet: Page) -> None:
    boxes = [mark.box for mark in leaves(sheet.marks) if isinstance(mark, Rectangle)]
    assert len(boxes) == len(tape_form.GRADES) + len(tape_form.MIRRORS) + 1
    assert min(min(box.width, box.height) for box in boxes) >= 4.0
    for field in (each for each in fields(sheet) if each.kind == "tick"):
        assert any(box.holds(field.box) for box in boxes), field.name


def test_all_lies_within_the_margins(sheet: Page) -> None:
    room = Box(BINDING, MARGIN, sheet.width_mm - BINDING - MARGIN, sheet.height_mm - 2 * MARGIN).inset(*[-0.3] * 4)
    for mark in leaves(sheet.marks):
        box = extent(mark)
        assert box is None or room.holds(box), mark


def test_nothing_lies_over_a_field_or_another_word(sheet: Page) -> None:
    everything = fields(sheet)
    letters = [(words.text, letters_box(words)) for words in all_words(sheet.marks)]
    assert not [(one.name, two.name) for one, two in combinations(everything, 2) if overlap(one.box, two.box)]
    assert not [(field.name, text) for field in everything for text, box in letters if overlap(field.box, box)]
    assert not [(one, two) for (one, box), (two, other) in combinations(letters, 2) if overlap(box, other)]


def test_no_type_is_smaller_than_nine_points(sheet: Page) -> None:
    assert min(words.size for words in all_words(sheet.marks)) >= 9


def test_every_field_says_what_belongs_in_it(sheet: Page) -> None:
    told = [field.alt for field in fields(sheet)]
    assert all(told)
    assert len(set(told)) == len(told)


def test_examples_of_lengths_are_in_her_units() -> None:
    def length(units: Units) -> list[str]:
        shown = [words.text for words in all_words(page("a4", units).marks)]
        heard = [field.alt for field in fields(page("a4", units)) if field.name == tape_form.LENGTH]
        return [text for text in (*shown, *heard) if "as in 2 " in text]

    assert [text[-4:] for text in length("us")] == ["2 yd", "2 yd"]
    assert [text[-3:] for text in length("metric")] == ["2 m", "2 m"]


def test_every_field_is_a_key_of_a_pattern() -> None:
    """The loom alone is none: it is an option of the commands."""
    schema = json.loads((ROOT / "cardmaker" / "schemas" / "pattern.json").read_text("utf-8"))["properties"]
    assert {*tape_form.SOURCE} < {*schema["source"]["properties"]}
    assert set(schema["source"]["properties"]["grade"]["enum"]) == {*tape_form.GRADES}
    assert {*tape_form.MIRRORS.values()} == {*schema["mirror"]["enum"]}
    assert {"title", "code", "ends", "weft", "length", "warp", "yarns", "notes"} < {*schema}
    for field in tape_form.FIXED_FIELDS:
        assert tape_form.longest(field) > 0


def test_a_paper_that_is_too_small_is_refused() -> None:
    with pytest.raises(ValueError, match="a form needs"):
        compose_form(Paper("a5", 148.0, 210.0), RULER, "us")


def test_the_least_row_is_one_to_write_on() -> None:
    assert LEAST_ROW >= HAND_MM


def test_words_are_found() -> None:
    """The tests above look at something."""
    sheet = page("a4", "us")
    assert "Ends in all" in [words.text for words in all_words(sheet.marks) if isinstance(words, Words)]
    assert len(tables(sheet)) == 4
