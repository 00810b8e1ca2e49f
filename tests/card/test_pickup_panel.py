"""The pick-up card: pattern ends named over the picture, row numbers beside it, and tapes that have no such card."""

from __future__ import annotations

import re
from pathlib import Path as FilePath

import pytest

from cardmaker.card.composing import compose_card
from cardmaker.cli.command_line import run_command_line
from cardmaker.layout.ink import ACCENT, BLACK
from cardmaker.model.marks import Group, Path, Rectangle
from tests.helpers.card_faults import all_words, leaves, panels
from tests.helpers.record_cards import RULER
from tests.helpers.shipped import pattern_file, plan_for_layout, shipped_layout


def figure_panel(pattern: str) -> Group:
    layout = shipped_layout("pick-up")
    composed = compose_card(plan_for_layout(pattern, "pick-up"), layout, layout.papers[0], RULER)
    return next(group for group in panels(composed) if group.name == "pickup")


def floats_of(panel: Group) -> Group:
    return next(mark for mark in panel.marks if isinstance(mark, Group) and mark.name == "floats")


def test_each_pattern_end_is_named_over_its_own_column() -> None:
    """Five Posts: ends 8, 12, 16, 20 and 24 of 31; the cords of the figure are drawn a little wider than the others."""
    floats = floats_of(figure_panel("five-posts"))
    names = [words for words in all_words([floats]) if re.fullmatch(r"P\d", words.text)]
    assert [words.text for words in names] == ["P1", "P2", "P3", "P4", "P5"]
    for words, end in zip(names, (8, 12, 16, 20, 24), strict=True):
        assert abs(words.x - floats.box.left - (end - 0.5) * floats.box.width / 31) < 0.2 * floats.box.width / 31
        assert words.y < floats.box.top


def test_each_pick_has_its_number_level_with_the_row_of_the_table() -> None:
    panel = figure_panel("five-posts")
    beside = {words.text: words for words in all_words([floats_of(panel)]) if words.text.isdigit()}
    in_table = {words.text: words for words in all_words([panel]) if words.text.isdigit() and words.size == 12}
    assert list(beside) == [str(number) for number in range(1, 9)]
    for number, words in beside.items():
        assert words.y == pytest.approx(in_table[number].y, abs=0.05)
        assert words.x < floats_of(panel).box.left


def test_the_rows_say_where_to_start_and_what_follows_the_last() -> None:
    """Nobody may begin at the top, with row 8: below row 1 stands where to start, over row 8 what comes after it."""
    panel = figure_panel("five-posts")
    (start,) = [words for words in all_words([panel]) if words.text.startswith("Start here")]
    (again,) = [
        words
        for words in all_words([panel])
        if words.text.replace("\N{NO-BREAK SPACE}", " ") == "after row 8: row 1 again"
    ]
    rows = {words.text: words for words in all_words([panel]) if words.text.isdigit() and words.size == 12}
    assert 0 < start.y - rows["1"].y < 8
    assert again.y < rows["8"].y < rows["1"].y
    assert (start.colour, again.colour) == (ACCENT, BLACK)
    (arrow,) = [mark for mark in panel.marks if isinstance(mark, Path)]
    assert arrow.fill == ACCENT
    assert "open the shed, then by hand." in words_of(panel)


def test_every_row_has_a_box_to_tick() -> None:
    boxes = [mark for mark in leaves(figure_panel("five-posts").marks) if isinstance(mark, Rectangle) and mark.radius]
    assert len({round(mark.box.top, 2) for mark in boxes}) == 8


def test_the_steps_of_the_card_have_their_names() -> None:
    layout = shipped_layout("pick-up")
    composed = compose_card(plan_for_layout("five-posts", "pick-up"), layout, layout.papers[0], RULER)
    text = " ".join(words_of(group) for group in panels(composed))
    assert "2 Thread End 1, from 0 (the mark), as you sit:" in text
    assert "3 Weave begin: lift the warp UP" in text
    assert ("Tug the weft" in text) == ("last shed" in composed.printed) != ("last shed" in composed.left_out)


def words_of(group: Group) -> str:
    return " ".join(words.text.replace("\N{NO-BREAK SPACE}", " ") for words in all_words([group]))


def test_no_pattern_end_is_named_by_a_bare_number() -> None:
    text = " ".join(words.text.replace("\N{NO-BREAK SPACE}", " ") for words in all_words([figure_panel("five-posts")]))
    assert "lift P2 and P4" in text
    assert "P1 is the first red cord from the left as you sit, end 8; P2 is end 12, " in text
    assert not re.search(r"(?:lift|drop) \d", text)


def test_a_tape_without_a_figure_has_no_such_card(tmp_path: FilePath, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "out"
    status = run_command_line(["card", str(pattern_file("wick")), "--layout", "pick-up", "--out", str(out)])
    assert status == 1
    assert "Wick: nothing is picked up by hand in it. Use another card" in capsys.readouterr().err
    assert not list(out.glob("*.pdf"))


def test_among_several_it_is_passed_over_with_a_note(tmp_path: FilePath, capsys: pytest.CaptureFixture[str]) -> None:
    files = [str(pattern_file(stem)) for stem in ("wick", "five-posts")]
    assert run_command_line(["card", *files, "--layout", "pick-up", "--out", str(tmp_path / "out")]) == 0
    assert "note: title: Wick: nothing is picked up" in capsys.readouterr().err
    assert [path.name for path in (tmp_path / "out").glob("*.pdf")] == ["five-posts-pick-up.pdf"]
