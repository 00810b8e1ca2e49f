"""The pick-up card: pattern ends named over the picture, row numbers beside it, and tapes that have no such card."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cardmaker.card.composing import compose_card
from cardmaker.cli.command_line import run_command_line
from cardmaker.model.marks import Group
from tests.helpers.card_faults import all_words, panels
from tests.helpers.record_cards import RULER
from tests.helpers.shipped import pattern_file, plan_for_layout, shipped_layout


def figure_panel(pattern: str) -> Group:
    layout = shipped_layout("pick-up")
    composed = compose_card(plan_for_layout(pattern, "pick-up"), layout, layout.papers[0], RULER)
    return next(group for group in panels(composed) if group.name == "pickup")


def floats_of(panel: Group) -> Group:
    return next(mark for mark in panel.marks if isinstance(mark, Group) and mark.name == "floats")


def test_each_pattern_end_is_named_over_its_own_column() -> None:
    """Five Posts: ends 8, 12, 16, 20 and 24 of 31."""
    floats = floats_of(figure_panel("five-posts"))
    names = [words for words in all_words([floats]) if re.fullmatch(r"P\d", words.text)]
    assert [words.text for words in names] == ["P1", "P2", "P3", "P4", "P5"]
    for words, end in zip(names, (8, 12, 16, 20, 24), strict=True):
        assert words.x == pytest.approx(floats.box.left + (end - 0.5) * floats.box.width / 31)
        assert words.y < floats.box.top


def test_each_pick_has_its_number_level_with_the_row_of_the_table() -> None:
    panel = figure_panel("five-posts")
    beside = {words.text: words for words in all_words([floats_of(panel)]) if words.text.isdigit()}
    in_table = {words.text: words for words in all_words([panel]) if words.text.isdigit() and words.size == 12}
    assert list(beside) == [str(number) for number in range(1, 9)]
    for number, words in beside.items():
        assert words.y == pytest.approx(in_table[number].y, abs=0.05)
        assert words.x < floats_of(panel).box.left


def test_no_pattern_end_is_named_by_a_bare_number() -> None:
    text = " ".join(words.text.replace("\N{NO-BREAK SPACE}", " ") for words in all_words([figure_panel("five-posts")]))
    assert "lift P2 and P4" in text
    assert "P1 is end 8" in text
    assert not re.search(r"(?:lift|drop) \d", text)


def test_a_tape_without_a_figure_has_no_such_card(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "out"
    status = run_command_line(["card", str(pattern_file("wick")), "--layout", "pick-up", "--out", str(out)])
    assert status == 1
    assert "Wick: nothing is picked up by hand in it. Use another card" in capsys.readouterr().err
    assert not list(out.glob("*.pdf"))


def test_among_several_it_is_passed_over_with_a_note(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    files = [str(pattern_file(stem)) for stem in ("wick", "five-posts")]
    assert run_command_line(["card", *files, "--layout", "pick-up", "--out", str(tmp_path / "out")]) == 0
    assert "note: title: Wick: nothing is picked up" in capsys.readouterr().err
    assert [path.name for path in (tmp_path / "out").glob("*.pdf")] == ["five-posts-pick-up.pdf"]
