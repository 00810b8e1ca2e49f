"""The comparison that shows a move of the code to be safe: each thing that it must notice, changed once."""

from __future__ import annotations

import sys
from functools import cache
from pathlib import Path

import pytest

from cardmaker.jobs import card_making, plan_making
from cardmaker.model.marks import Bookmark, Box, Face, Group, Line, Link, Mark, Page, Stamp, Words
from cardmaker.reading.pattern_file import parse_pattern
from tests.compare.__main__ import main
from tests.compare.differ import Change, Difference, differences
from tests.helpers.painted import paint
from tests.helpers.shipped import equipment, paper_of, pattern_file, shipped_layout

FIVE_POSTS = pattern_file("five-posts").read_text("utf-8")
CARD = "cards/five-posts.pdf"
PANEL = Box(10, 10, 80, 80)


@cache
def card(pattern: str) -> bytes:
    """The card of a pattern that is told as text."""
    plan = plan_making.plan_for(parse_pattern(pattern.encode(), "five-posts.yaml", "five-posts"), equipment())
    return card_making.make_card(plan, shipped_layout("field"), paper_of("field"), None).pdf


def page(*marks: Mark, alt: str = "", bookmark: str = "Posts") -> bytes:
    """A page with one panel; with an alternative text there is one drawing in it."""
    panel = Group("panel", "posts", PANEL, (Group("figure", "posts", PANEL, marks, alt),) if alt else marks)
    return paint([Page(100, 100, (panel,), bookmarks=(Bookmark(bookmark),), anchor="posts")], title="Posts")


def words(text: str, x: float = 20, size: float = 9, colour: str = "#000000") -> Words:
    return Words(x, 20, text, Face.SANS, size, colour)


def keep(folder: Path, **files: bytes | str) -> Path:
    """A kept folder with these files: ``card`` is a card, ``terminal`` what was printed."""
    for name, contents in files.items():
        path = folder / (CARD if name == "card" else f"terminal/{name}.txt")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(contents if isinstance(contents, bytes) else contents.encode())
    return folder


def compared(folder: Path, before: bytes, after: bytes) -> Difference:
    """What differs between a card before and after."""
    (difference,) = differences(keep(folder / "before", card=before), keep(folder / "after", card=after))
    assert difference.name == CARD
    return difference


def shown(folder: Path, monkeypatch: pytest.MonkeyPatch) -> int:
    """The status of the command that tells what differs."""
    monkeypatch.setattr(sys, "argv", ["compare", "show", str(folder / "before"), str(folder / "after")])
    return main()


# Cards


def test_what_is_the_same_does_not_differ(tmp_path: Path) -> None:
    before, after = (keep(tmp_path / time, card=card(FIVE_POSTS), plan="31 ends\n") for time in ("before", "after"))
    assert differences(before, after) == []


def test_a_changed_word_is_told_and_is_no_mark(tmp_path: Path) -> None:
    """The card carries its pattern, which has changed as well."""
    difference = compared(tmp_path, card(FIVE_POSTS), card(FIVE_POSTS.replace("Five Posts", "Nine Posts")))
    line = "{} Posts T21 · v1".format  # the title and what stands beside it are one line; the date stands below
    assert Change("drawn", line("Five"), line("Nine")) in difference.changes
    assert difference.parts == ("carried files",)


def test_a_changed_colour_is_a_mark_and_no_word(tmp_path: Path) -> None:
    difference = compared(tmp_path, card(FIVE_POSTS), card(FIVE_POSTS.replace("#2F4A7D", "#2F4A7E")))
    assert difference.changes == ()
    assert difference.parts == ("carried files", "marks")


# Pages of a few marks


LINE = Line(20, 30, 40, 30, 0.5)
STAMPED = Box(20, 40, 40, 40)


@pytest.mark.parametrize(
    ("before", "after", "parts"),
    [
        pytest.param([LINE], [LINE._replace(x2=40.1)], ("marks",), id="a line is longer"),
        pytest.param([LINE], [LINE._replace(width=0.6)], ("marks",), id="a line is broader"),
        pytest.param(
            [LINE._replace(colour="#ff0000"), LINE._replace(y1=40, y2=40)],
            [LINE, LINE._replace(y1=40, y2=40, colour="#ff0000")],
            ("marks",),
            id="two colours changed places",
        ),
        pytest.param([words("post")], [words("post", x=21)], ("type",), id="a word moved"),
        pytest.param([words("post")], [words("post", size=8.5)], ("type",), id="a word is smaller"),
        pytest.param([words("post")], [words("posts", size=8.5)], ("type",), id="another word is smaller"),
        pytest.param([words("post")], [words("post", colour="#ff0000")], ("marks", "type"), id="a word is red"),
        pytest.param(
            [Stamp((LINE,), 2, 0, 5, STAMPED)], [Stamp((LINE,), 3, 0, 5, STAMPED)], ("marks",), id="a repeat more"
        ),
        pytest.param(
            [Stamp((LINE,), 2, 0, 5, STAMPED)],
            [Stamp((LINE._replace(width=0.6),), 2, 0, 5, STAMPED)],
            ("marks",),
            id="a mark inside a repeat",
        ),
        pytest.param(
            [Link(PANEL, "posts", (LINE,))],
            [Link(Box(10, 10, 80, 79), "posts", (LINE,))],
            ("links",),
            id="a link has less room",
        ),
        pytest.param(
            [Group("paragraph", "posts", PANEL, (words("post"),))],
            [Group("heading", "posts", PANEL, (words("post"),))],
            ("structure",),
            id="a paragraph is a heading",
        ),
    ],
)
def test_more_than_words(tmp_path: Path, before: list[Mark], after: list[Mark], parts: tuple[str, ...]) -> None:
    assert compared(tmp_path, page(*before), page(*after)).parts == parts


def test_a_word_inside_a_repeat_is_a_word(tmp_path: Path) -> None:
    """Though the form that holds it goes by another name."""
    before, after = (page(Stamp((words(text),), 2, 0, 30, PANEL)) for text in ("post", "pole"))
    assert compared(tmp_path, before, after) == Difference(CARD, (Change("drawn", "post post", "pole pole"),))


def test_a_character_beyond_latin_1_is_told(tmp_path: Path) -> None:
    difference = compared(tmp_path, page(words("3 ⅜ yd")), page(words("3 ⅝ yd")))
    assert difference == Difference(CARD, (Change("drawn", "3 ⅜ yd", "3 ⅝ yd"),))


def test_a_changed_alternative_text_is_told(tmp_path: Path) -> None:
    difference = compared(tmp_path, page(LINE, alt="Five posts. All red."), page(LINE, alt="Five posts. All blue."))
    assert difference == Difference(CARD, (Change("aloud", "All red.", "All blue."),))


def test_a_changed_bookmark_is_told(tmp_path: Path) -> None:
    difference = compared(tmp_path, page(LINE), page(LINE, bookmark="Poles"))
    assert difference == Difference(CARD, (Change("aloud", "Posts", "Poles"),))


# All else that is kept, and what the command says of it


def test_a_changed_line_of_the_terminal_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Sentences that differ in their numbers only are told once."""
    keep(tmp_path / "before", one="Wind 31 ends. Go home.\n", two="Wind 9 ends. Go home.\n")
    keep(tmp_path / "after", one="Wind 31 threads. Go home.\n", two="Wind 9 threads. Go home.\n")
    assert shown(tmp_path, monkeypatch) == 0
    assert capsys.readouterr().out.splitlines() == [
        "2 files kept, 2 differ, 0 of them in more than words",
        "",
        "printed, 2 times, such as in terminal/one.txt",
        "  - Wind 31 ends.",
        "  + Wind 31 threads.",
    ]


def test_a_missing_file_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    keep(tmp_path / "before", card=b"", plan="31 ends\n")
    keep(tmp_path / "after", plan="31 ends\n")
    assert shown(tmp_path, monkeypatch) == 1
    assert capsys.readouterr().out.splitlines() == [
        "2 files kept, 1 differ, 1 of them in more than words",
        f"  missing: {CARD}",
    ]
