"""``cardmaker new --kind loom`` and ``--kind class``: what is asked, drawn back and written."""

from __future__ import annotations

import io
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import checking
from cardmaker.model.loom import Heddles, Loom, Mark, Space
from cardmaker.reading.read_file import read_class, read_loom
from cardmaker.reckoning.threading.placement import place
from cardmaker.wording.loom_question_words import MOST_DRAWN, drawn_heddle

Said = pytest.CaptureFixture[str]

pytestmark = pytest.mark.usefixtures("empty_folder")

# title, heddles, slots, holes, mark, shuttle, hole size, waste, so it is
LOOM = ("Kitchen box", "", "4", "3", "one", "left", "", "", "")
CLASS = ("Ribbon Day", "", "Ann, Ben", "small-box", "two-rails", "", "", "")


def answered(answers: Sequence[str], monkeypatch: pytest.MonkeyPatch, *arguments: str) -> int:
    monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{answer}\n" for answer in answers)))
    return run_command_line(["new", *arguments])


def test_a_loom_is_drawn_back(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    assert answered((*LOOM, ""), monkeypatch, "--kind", "loom") == 0
    told = capsys.readouterr().out
    assert (
        """\
Kitchen box, as you sit before it: 4 slots (|) and 3 holes (o), 7 spaces in all.
  | o | o | o |
        ^ the mark: a hole, counted as one
  From the mark you count 4 to the left edge, a slot, and 4 to the right edge, a slot. It holds 7 ends at most.
"""
        in told
    )
    loom = read_loom(Path("layouts/looms/kitchen-box.yaml"))
    assert (loom.slots, loom.holes, loom.mark, loom.outer) == (4, 3, Mark.ONE, Space.SLOT)
    assert checking.problems_of_file(Path("layouts/looms/kitchen-box.yaml")) == []
    assert told.rstrip().endswith("Next: make a card for it, with cardmaker card PATTERN --loom kitchen-box")


def test_no_counts_again_and_offers_what_was_said(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    answers = (*LOOM[:8], "no", "", "", "5", "4", "", "", "", "", "y", "y")
    assert answered(answers, monkeypatch, "--kind", "loom") == 0
    assert "Enter alone: 4" in capsys.readouterr().out
    assert read_loom(Path("layouts/looms/kitchen-box.yaml")).spaces == 9


WRONG = [
    (2, "many", "'many' is no count. Write a whole number from 1 to 2,000, as in 22."),
    (2, "0", "'0' is no count."),
    (2, "2001", "'2001' is no count."),
    (3, "6", "4 slots and 6 holes cannot take turns: they may differ by one at most."),
    (3, "", "This needs an answer; ? explains."),
    (4, "counted", "'counted' may be counted as zero or counted as one. Write more letters, or the number."),
    (6, "2", "'2' needs a unit"),
    (6, "9 cm", "'9 cm' is too much: 30 mm is the most"),
    (7, "9 m", "'9 m' is too much: 3 m is the most"),
]


@pytest.mark.parametrize(("number", "wrong", "reason"), WRONG)
def test_what_is_asked_again(
    number: int, wrong: str, reason: str, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    answers = [*LOOM, ""]
    answers.insert(number, wrong)
    assert answered(answers, monkeypatch, "--kind", "loom") == 0
    assert reason in capsys.readouterr().out


@pytest.mark.parametrize("spaces", [*range(2, 82), 300])
@pytest.mark.parametrize("outer", [Space.SLOT, Space.HOLE])
def test_the_mark_stands_under_the_middle(spaces: int, outer: Space) -> None:
    """As many signs on either side of it; the sign over it is that of the middle space."""
    more, fewer = (spaces + 1) // 2, spaces // 2
    slots, holes = (more, fewer) if outer is Space.SLOT else (fewer, more)
    loom = Loom("Any", "any", Heddles.ONE, slots, holes, outer)
    _, row, pointer, _ = drawn_heddle(loom)
    at = pointer.index("^")
    left, right = row[2:at].replace(" ", ""), row[at + 1 :].replace(" ", "")
    assert len(left) == len(right)
    assert len(row) <= MOST_DRAWN + 4
    if spaces <= MOST_DRAWN:
        assert len(left) == spaces // 2
        kinds = {"|": Space.SLOT, "o": Space.HOLE}
        drawn = [kinds[sign] for sign in row.replace(" ", "")]
        assert drawn == [*place(("a",) * spaces, loom).kinds]
    if loom.middle_space is None:
        assert row[at] == " "
    else:
        assert row[at] == {Space.SLOT: "|", Space.HOLE: "o"}[loom.kind_of(loom.middle_space)]


# Classes


def test_a_class(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    assert answered(CLASS, monkeypatch, "--kind", "class") == 0
    made = read_class(Path("layouts/classes/ribbon-day.yaml"))
    assert [(each.name, each.loom, each.pattern) for each in made.students] == [
        ("Ann", "small-box", "two-rails"), ("Ben", "small-box", "two-rails"),
    ]  # fmt: skip
    said = capsys.readouterr().out
    assert said.rstrip().endswith("Next: look at it, change what you like, then run: cardmaker class ribbon-day")
    assert "long-sixty" not in said  # which the loom does not hold
    assert run_command_line(["class", "ribbon-day"]) == 0


def test_so_many_students(monkeypatch: pytest.MonkeyPatch) -> None:
    assert answered(("", "", "3", *CLASS[3:]), monkeypatch, "--kind", "class") == 0
    made = read_class(Path("layouts/classes/first-class.yaml"))
    assert [each.name for each in made.students] == ["Student 1", "Student 2", "Student 3"]


@pytest.mark.parametrize(
    ("number", "wrong", "reason"),
    [
        (2, "Ann, ann", "There are two students named 'Ann'. Add something that tells them apart."),
        (2, "61", "A class has 1 to 60 students."),
        (2, "0", "A class has 1 to 60 students."),
        (3, "no-such", "none of these"),
        (5, "3", "'3' needs a unit"),
        (6, "soon", "soon"),
    ],
)
def test_what_is_asked_again_of_a_class(
    number: int, wrong: str, reason: str, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    answers = [*CLASS]
    answers.insert(number, wrong)
    assert answered(answers, monkeypatch, "--kind", "class") == 0
    assert reason in capsys.readouterr().out


@pytest.mark.parametrize("kind", ["loom", "class"])
def test_stripes_belong_to_a_pattern(kind: str, capsys: Said) -> None:
    assert run_command_line(["new", "--kind", kind, "--stripes", "9 white"]) == 2
    assert capsys.readouterr().err == f"cardmaker: --stripes belongs to a pattern: a {kind} is asked for.\n"
