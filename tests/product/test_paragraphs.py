"""Text of several lines: every line that a file keeps is a paragraph, on cards and sheets as in a terminal."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final

import pytest

from cardmaker.card.composing import compose_card
from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import class_making, class_planning, loading
from cardmaker.jobs.binder_making import BinderRequest, make_binder
from cardmaker.layout.type_setting import Span, wrapped
from cardmaker.model.card_layout import CardLayout, PanelPlace
from cardmaker.model.marks import Face, Page
from cardmaker.model.pattern import Pattern
from cardmaker.model.record_class import replace
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reckoning.planning import make_plan
from tests.helpers.binder_tools import plumbed
from tests.helpers.card_faults import all_words
from tests.helpers.paper_tools import RULER
from tests.helpers.places import ROOT
from tests.helpers.shipped import LAYOUTS, shipped_layout, shipped_loom

PROSE: Final = "|\n{indent}  Alpha one.\n{indent}\n{indent}  Omega two. \n{indent}\n"
READ: Final = "Alpha one.\nOmega two."


def prose(indent: str = "") -> str:
    return PROSE.format(indent=indent)


PATTERN: Final = f"""
title: Some
version: 2
about: {prose()}
yarns:
  white: {{fibre: linen, count: 20/2, ends_per_inch: 20, colour: "#f4f0e4"}}
  red: {{fibre: linen, count: 20/2, ends_per_inch: 20, colour: "#9c2f2b"}}
warp: [4 white, 5 red, 4 white]
length: {{warp: 3 yd}}
credit: {prose()}
notes:
  student: {prose("  ")}
  teacher:
    - {prose("    ")}
  visitor: {prose("  ")}
changes:
  - version: 1
    date: 2026-01-01
    what: {prose("    ")}
  - version: 2
    date: 2026-02-02
    what: {prose("    ")}
source:
  grade: A
  what: a tape
  holder: the loft
  object_number: 1
  differences:
    - {prose("    ")}
  references: {prose("  ")}
measured:
  - date: 2026-01-01
    warp: 3 yd
    tape: 80 in
    note: {prose("    ")}
"""
CLASS: Final = f"""
title: A day
session: 3 h
about: {prose()}
students:
  - {{name: Ann, loom: small-box, pattern: "PATH"}}
notes:
  - {prose("  ")}
"""
BINDER: Final = f"""
title: A book
about: {prose()}
sections:
  - title: First
    text: {prose("    ")}
    patterns: ["PATH"]
"""


def pattern() -> Pattern:
    return parse_pattern(PATTERN.encode(), "some.yaml", "some")


# What is read


def prose_keys(schema: Mapping[str, Any], node: Any = None, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """The paths of all texts of a schema, without the numbers of lists."""
    node = schema if node is None else node
    if str(node.get("$ref", "")).split("/")[-1] in ("text", "texts", "long"):
        yield path
    elif "$ref" in node:
        yield from prose_keys(schema, schema["$defs"][node["$ref"].split("/")[-1]], path)
    for key, value in node.get("properties", {}).items():
        yield from prose_keys(schema, value, (*path, key))
    if isinstance(node.get("items"), dict) and "item" not in str(node["items"].get("$ref")):  # stripes are not prose
        yield from prose_keys(schema, node["items"], path)


def filled(node: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """The paths of all prose of a file as PyYAML reads it."""
    if isinstance(node, dict):
        for key, value in node.items():
            yield from filled(value, (*path, str(key)))
    elif isinstance(node, list):
        for value in node:
            yield from filled(value, path)
    elif "Alpha" in str(node):
        yield path


@pytest.mark.parametrize(("kind", "text"), [("pattern", PATTERN), ("class", CLASS), ("binder", BINDER)])
def test_the_files_of_this_test_have_every_text_that_there_is(kind: str, text: str) -> None:
    import yaml

    schema = json.loads((ROOT / "cardmaker" / "schemas" / f"{kind}.json").read_text())
    assert set(filled(yaml.safe_load(text))) == set(prose_keys(schema))


def test_every_line_of_a_block_is_a_paragraph() -> None:
    read = pattern()
    assert read.source is not None
    assert {read.about, read.credit, *read.notes.student, *read.notes.teacher, *read.notes.visitor} == {READ}
    assert {change.what for change in read.changes} == {READ}
    assert {*read.source.differences, *read.source.references, *(each.note for each in read.measured)} == {READ}


@pytest.mark.parametrize(
    ("typed", "paragraphs"),
    [
        ("|\n  one\n  two\n", ["one", "two"]),
        (">\n  one\n  goes on\n\n  two\n", ["one goes on", "two"]),
        ("one\n  goes on\n\n  two", ["one goes on", "two"]),
        ('"one\\n\\n \\ntwo words"', ["one", "two words"]),
        ("|\n\n   one\n     two\n\n\n   three\n\n", ["one", "two", "three"]),
        ("one", ["one"]),
        ('" as  typed "', [" as  typed "]),
        ('"  "', []),
    ],
)
def test_what_counts_as_a_paragraph(typed: str, paragraphs: list[str]) -> None:
    text = PATTERN.replace(f"about: {prose()}", f"about: {typed}\n", 1)
    assert parse_pattern(text.encode(), "some.yaml", "some").about.splitlines() == paragraphs


# How it is set


def test_a_paragraph_begins_a_line() -> None:
    spans = [Span("one two\nthree"), Span("four\nfive six", Face.SANS_BOLD)]
    lines = wrapped(spans, 10, 200, RULER)
    assert [[span.text for span in line] for line in lines] == [["one two"], ["three", "four"], ["five six"]]


def test_a_paragraph_is_wrapped_like_any_text() -> None:
    text = "some words that take more than a single line"
    width = RULER.width_mm("some words that take", Face.SANS, 10)
    alone = wrapped([Span(text)], 10, width, RULER)
    assert len(alone) > 1
    assert wrapped([Span(f"{text}\n{text}")], 10, width, RULER) == alone * 2


# Where it is printed


def lines_of(page: Page) -> list[str]:
    return [words.text for words in all_words(page.marks)]


def assert_in_paragraphs(lines: list[str]) -> None:
    assert not [line for line in lines if "\n" in line]
    second = [line for line in lines if "Omega" in line]
    assert all(line.lstrip(" –·•").startswith("Omega") for line in second), second


def with_all_texts(layout: CardLayout) -> CardLayout:
    names = ("title", "changed", "student", "visitor", "known", "source", "history", "notes", "changes", "foot")
    return replace(layout, rows=tuple((PanelPlace(name, 12, 1, True),) for name in names))


@pytest.mark.parametrize("stem", LAYOUTS)
def test_every_layout_prints_texts_of_several_lines(stem: str) -> None:
    plan, layout = make_plan(pattern(), shipped_loom("small-box")), shipped_layout(stem)
    assert_in_paragraphs(lines_of(compose_card(plan, layout, layout.papers[0], RULER).page))


def test_every_panel_with_words_of_a_file_sets_them_as_paragraphs() -> None:
    layout = with_all_texts(shipped_layout("record"))
    plan = make_plan(pattern(), shipped_loom("small-box"))
    lines = lines_of(compose_card(plan, layout, layout.papers[0], RULER).page)
    assert_in_paragraphs(lines)
    assert sum("Omega two." in line for line in lines) >= 8


@pytest.fixture
def files(tmp_path: Path) -> dict[str, Path]:
    paths = {kind: tmp_path / f"{kind}.yaml" for kind in ("pattern", "class", "binder")}
    for text, path in zip((PATTERN, CLASS, BINDER), paths.values(), strict=True):
        path.write_text(text.replace("PATH", str(paths["pattern"])))
    return paths


def test_the_sheets_of_a_class_print_them(files: dict[str, Path]) -> None:
    plan = class_planning.plan_class(loading.load_class(files["class"]))
    sheets = class_making.class_sheets(plan, quiet=True)
    lines = [line for pages in sheets.pages.values() for page in pages for line in lines_of(page)]
    assert_in_paragraphs(lines)
    assert sum(line == "Omega two." for line in lines) >= 2  # the class's note and the pattern's
    assert class_making.class_pdf(plan, sheets, class_making.SHEETS)


def test_a_binder_prints_them(files: dict[str, Path]) -> None:
    binder = make_binder(BinderRequest([str(files["binder"])], quiet=True))
    assert binder.problems == ()
    lines = [line for page in plumbed(binder.pdf) for line in page.page.extract_text().splitlines()]
    assert sum(line.startswith("Omega two.") for line in lines) >= 3  # the title page, the section, the card


def test_a_terminal_and_json_tell_them(files: dict[str, Path], capsys: pytest.CaptureFixture[str]) -> None:
    path = str(files["pattern"])
    assert run_command_line(["check", *map(str, files.values())]) == 0
    capsys.readouterr()
    assert run_command_line(["plan", path]) == 0
    assert "\n  Alpha one.\n  Omega two.\n" in capsys.readouterr().out
    assert run_command_line(["plan", path, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["ends"] == 13


def test_a_file_that_resize_writes_keeps_the_paragraphs(
    files: dict[str, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "wider.yaml"
    assert run_command_line(["resize", str(files["pattern"]), "--ends", "17", "--out", str(out)]) == 0, capsys
    read = loading.load_pattern(out)
    assert read.about == read.credit == READ


@pytest.mark.parametrize("key", ["title", "code", "weft", "marked_as"])
def test_a_line_with_a_line_break_inside_is_refused_at_its_place(key: str) -> None:
    from cardmaker.model.problems import ProblemsFound

    text = PATTERN.replace("title: Some\n", "title: Some\n" if key != "title" else "", 1) + f'{key}: "one\\ntwo"\n'
    with pytest.raises(ProblemsFound) as found:
        parse_pattern(text.encode(), "some.yaml", "some")
    problem = found.value.problems[0]
    assert (problem.place.line, problem.where) == (text.count("\n"), key)
    assert "one line" in problem.remedy


def test_a_tab_in_a_text_is_a_space() -> None:
    """No typeface has a tab; YAML takes it inside a line."""
    text = PATTERN.replace("title: Some\n", "title: So\tme\n", 1).replace("Alpha one.", "Alpha\tone.")
    read = parse_pattern(text.encode(), "some.yaml", "some")
    assert (read.title, read.about) == ("So me", READ)
