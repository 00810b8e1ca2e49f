"""A loom whose spaces stand in the class file itself: planned as one from a file, and named by its spaces."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs.class_planning import plan_class
from cardmaker.model.loom import Loom, Mark, Space
from cardmaker.model.problems import ProblemsFound
from cardmaker.reading.class_file import parse_class
from tests.helpers.class_tools import run

Said = pytest.CaptureFixture[str]
pytestmark = pytest.mark.usefixtures("empty_folder")

CLASS = """\
title: Saturday
students:
- {name: Ansel, loom: {slots: 12, holes: 11}, pattern: two-rails}
- {name: Bettris, loom: {title: Borrowed box, slots: 8, holes: 8, outer: hole, mark: counted as one}, pattern: wick}
- {name: Corvin, loom: small-box, pattern: two-rails}
spares: {count: 1, loom: {slots: 12, holes: 11}, pattern: two-rails}
"""


def loom_of(text: str) -> Loom:
    (student,) = parse_class(text.encode(), "saturday.yaml", "saturday").students
    assert isinstance(student.loom, Loom)
    return student.loom


def one_student(loom: str) -> str:
    return f"title: Saturday\nstudents:\n- {{name: Ansel, loom: {loom}, pattern: two-rails}}\n"


def test_it_is_a_loom_like_any_other() -> None:
    loom = loom_of(one_student("{slots: 8, holes: 8, outer: hole, mark: counted as one, title: Borrowed box}"))
    assert (loom.title, loom.spaces, loom.outer, loom.mark) == ("Borrowed box", 16, Space.HOLE, Mark.ONE)
    assert loom_of(one_student("{slots: 12, holes: 11}")).title == "12 slots and 11 holes"


def test_a_warp_lies_on_it_as_on_the_same_loom_of_a_file() -> None:
    """Small box has 12 slots and 11 holes as well."""
    kits = plan_class(parse_class(CLASS.encode(), "saturday.yaml", "saturday")).kits
    assert kits[0].plan.placement == kits[2].plan.placement == kits[3].plan.placement
    assert kits[0].plan is kits[3].plan
    assert kits[1].plan.loom.title == "Borrowed box"


def test_its_name_is_on_the_sheets_and_they_are_made_again(capsys: Said) -> None:
    Path("saturday.yaml").write_text(CLASS, "utf-8")
    assert run(capsys, "class", "saturday.yaml", "--out", "made")[0] == 0
    assert run_command_line(["restore", "made/saturday-teacher.pdf", "--out", "back"]) == 0
    (command,) = re.findall(r"^The same again: cardmaker (.*)$", capsys.readouterr().out, re.MULTILINE)
    assert run_command_line(shlex.split(command)) == 0
    again = Path(shlex.split(command)[-1])
    for made in Path("made").iterdir():
        assert (again / made.name).read_bytes() == made.read_bytes()


@pytest.mark.parametrize(
    ("loom", "place", "message"),
    [
        ("{slots: 12, holes: 9}", "3:42", "12 slots and 9 holes cannot alternate"),
        ("{slots: 8, holes: 8}", "3:41", "one side begins with a slot and the other with a hole"),
        ("{slot: 8, holes: 8}", "3:24", "Did you mean 'slots'?"),
        ("{slots: 8}", "3:17", "holes"),
        ("[12, 11]", "3:23", "or its spaces, as in {slots: 12, holes: 11}"),
    ],
)
def test_what_is_wrong_with_it_is_told_at_its_place(loom: str, place: str, message: str) -> None:
    with pytest.raises(ProblemsFound) as found:
        parse_class(one_student(loom).encode(), "saturday.yaml", "saturday")
    (problem,) = found.value.problems
    assert str(problem).startswith(f"saturday.yaml:{place}: ")
    assert message in str(problem)


def test_too_small_a_loom_and_one_of_nobody_are_refused_at_the_student(capsys: Said) -> None:
    Path("saturday.yaml").write_text(one_student("{slots: 4, holes: 5}"), "utf-8")
    status, _, err = run(capsys, "class", "saturday.yaml")
    assert status == 1
    assert "saturday.yaml:3:17: " in err
    Path("saturday.yaml").write_text(one_student("any"), "utf-8")
    status, _, err = run(capsys, "class", "saturday.yaml")
    assert status == 1
    assert "make this card apart: cardmaker card PATTERN --loom any" in " ".join(err.split())
