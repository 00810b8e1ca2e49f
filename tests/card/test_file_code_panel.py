"""The panel with the code: its size, the white about it, its words; and that it stands on a record only."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import loading, plan_making
from cardmaker.layout.qr_code import file_code
from cardmaker.model.card_layout import CardLayout
from cardmaker.model.carried_file import Carried
from cardmaker.model.marks import Box, Group
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.wording import file_code_words
from tests.helpers.card_faults import all_words, astray, collisions, extent, leaves, overlapping_panels, panels
from tests.helpers.places import ROOT
from tests.helpers.scans import KEEPSAKE, card_with_code, code_box
from tests.helpers.screen_reader_text import text_read_aloud
from tests.helpers.shipped import LAYOUT_FILES, PATTERN_FILES, shipped_layout

NINE, LONGEST = (ROOT / "patterns" / f"{stem}.yaml" for stem in ("nine", "three-paths"))
PLACE = "{panel: file-code, columns: 12, priority: 1, essential: yes}"  # in the file of our own
SUPPER = ROOT / "layouts" / "classes" / "a-yard-by-supper.yaml"


def panel(composed: Composed) -> Group:
    (group,) = (group for group in panels(composed) if group.name == "file-code")
    return group


def words_of(group: Group) -> str:
    return " ".join(words.text for words in all_words(group.marks))


def own(tmp_path: Path, *changes: tuple[str, str], stem: str = "own") -> Path:
    text = KEEPSAKE.read_text("utf-8")
    for was, becomes in changes:
        assert was in text
        text = text.replace(was, becomes)
    path = tmp_path / f"{stem}.yaml"
    path.write_text(text, "utf-8")
    return path


def composed_with(layout: CardLayout, pattern: Path) -> Composed:
    plan = plan_making.plan_for(loading.load_pattern(pattern), plan_making.load_plan_setup_for(layout, None))
    return compose_card(plan, layout, layout.papers[0], TypeRuler())


# What is on the card


@pytest.mark.parametrize("path", PATTERN_FILES, ids=lambda path: path.stem)
def test_the_code_is_as_large_as_can_be_read_and_says_its_form(path: Path) -> None:
    _, composed = card_with_code(path)
    code, words = code_box(composed), words_of(panel(composed))
    assert code.width == pytest.approx(code.height)
    assert code.width / _modules(path) >= 0.35
    assert code.width <= 60 + 1e-6
    assert ("compressed" in words, "as plain text" in words) == (path == LONGEST, path != LONGEST)
    assert words.startswith(file_code_words.HEADING)
    assert words.endswith(f"Then run: {file_code_words.FROM_PAPER}")
    assert "file code" in composed.printed


@pytest.mark.parametrize("columns", [12, 6])
def test_four_modules_about_the_code_are_white(columns: int, tmp_path: Path) -> None:
    """Its neighbours are as near as they may be: words on its left or over it, a panel on its right and one above."""
    beside = ", {panel: yarn, columns: 6, priority: 1}" if columns == 6 else ""
    place = PLACE.replace("12", str(columns)) + beside
    layout = loading.load_layout(own(tmp_path, (PLACE, place), ("panel: results", "panel: lengths")))
    for pattern in (NINE, LONGEST):
        composed = composed_with(layout, pattern)
        code = code_box(composed)
        module = code.width / _modules(pattern)
        white = Box(code.left - 4 * module, code.top - 4 * module, code.width + 8 * module, code.height + 8 * module)
        for mark in leaves(composed.page.marks):
            box = extent(mark)
            if box and not _same(box, code):
                assert not _meet(box, white), mark
        assert overlapping_panels(panels(composed)) == []
        assert collisions(panels(composed)) == []
        assert astray(panels(composed), layout.printable(layout.papers[0])) == []


def _modules(pattern: Path) -> int:
    code = file_code(Carried(pattern.name, pattern.read_bytes()))
    assert code
    return code.modules


def _same(one: Box, two: Box) -> bool:
    return all(abs(a - b) < 1e-6 for a, b in zip(one, two, strict=True))


def _meet(one: Box, two: Box) -> bool:
    return (
        one.left < two.right - 1e-6
        and two.left < one.right - 1e-6
        and one.top < two.bottom - 1e-6
        and two.top < one.bottom - 1e-6
    )


def test_the_code_stands_in_line_with_the_right_margin() -> None:
    _, composed = card_with_code(NINE)
    assert code_box(composed).right == pytest.approx(215.9 - 12)


def test_whoever_hears_the_card_is_told_of_the_code() -> None:
    _, composed = card_with_code(LONGEST)
    heard = text_read_aloud(composed.page)
    assert "A square QR code, which holds the whole pattern file compressed." in heard


def test_a_file_that_is_too_large_gets_a_sentence_and_no_code(tmp_path: Path) -> None:
    large = tmp_path / "large.yaml"
    remarks = "".join(f"# {number * 7919**3}\n" for number in range(900))
    large.write_bytes(NINE.read_bytes() + remarks.encode())
    composed = composed_with(loading.load_layout(KEEPSAKE), large)
    assert words_of(panel(composed)) == f"{file_code_words.HEADING} {file_code_words.TOO_LARGE}"
    assert not [mark for mark in panel(composed).marks if isinstance(mark, Group) and mark.role == "figure"]


def test_in_a_narrow_panel_the_words_stand_over_the_code(tmp_path: Path) -> None:
    beside = "{panel: lengths, columns: 6, priority: 3}"
    layout = loading.load_layout(own(tmp_path, (PLACE, f"{PLACE.replace('12', '6')}, {beside}")))
    composed = composed_with(layout, LONGEST)
    words = [extent(words) for words in all_words(panel(composed).marks)]
    assert words
    assert code_box(composed).left == pytest.approx(panel(composed).box.left)
    assert all(box and box.bottom < code_box(composed).top for box in words)


def test_a_panel_too_narrow_for_the_code_is_left_out(tmp_path: Path) -> None:
    place = "{panel: file-code, columns: 3, priority: 1}, {panel: lengths, columns: 9, priority: 3, essential: yes}"
    assert "file code" in composed_with(loading.load_layout(own(tmp_path, (PLACE, place))), LONGEST).left_out


# Where it may stand


def test_only_the_record_of_the_shipped_cards_may_hold_the_file() -> None:
    assert [path.stem for path in LAYOUT_FILES if shipped_layout(path.stem).kind == "record"] == ["record"]


@pytest.mark.parametrize("change", [("kind: record\n", ""), ("kind: record", "kind: sheet")])
def test_a_sheet_to_give_away_may_not_hold_it(
    change: tuple[str, str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    layout = own(tmp_path, change)
    out = tmp_path / "out"
    assert run_command_line(["card", str(NINE), "--layout", str(layout), "--out", str(out)]) == 1
    said = capsys.readouterr().err
    assert "rows item 3 item 1.panel: 'file-code' holds the pattern file with its notes" in said
    assert run_command_line(["check", str(layout)]) == 1
    assert not out.exists()


def test_not_even_in_place_of_another_panel(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    instead = "{panel: order, columns: 12, priority: 1, instead: file-code}"
    layout = own(tmp_path, ("kind: record\n", ""), (PLACE, instead))
    assert run_command_line(["check", str(layout)]) == 1
    assert "rows item 3 item 1.instead: 'file-code' holds" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["handout", "handout-large"])
def test_no_sheet_of_a_class_is_made_by_the_layout_of_a_record(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whoever has a layout of her own for handouts may not give students the notes."""
    cards = tmp_path / "layouts" / "cards"
    cards.mkdir(parents=True)
    own(cards, stem=name)
    monkeypatch.chdir(tmp_path)
    assert run_command_line(["class", str(SUPPER), "--out", "out"]) == 1
    said = capsys.readouterr().err
    assert f"{name}.yaml:6:1: kind: the sheets of a class are given away, so their layout cannot be a record." in said
    assert not (tmp_path / "out").exists()
