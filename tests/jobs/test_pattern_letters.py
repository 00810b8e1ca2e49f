"""Letters that the cards' type lacks are told by ``check``, at the key of the text that holds them."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs.checking import problems_of_file
from cardmaker.model.marks import Face
from cardmaker.pdf.fonts import lacks
from tests.helpers.places import ROOT

Said = pytest.CaptureFixture[str]

FILE = """\
title: Gate Band
code: T1
about: Blue edges
yarns:
  blue: {fibre: cotton, count: 8/2}
  white: {fibre: cotton, count: 8/2}
warp: [3 blue, 9 white, 3 blue]
"""

pytestmark = pytest.mark.usefixtures("empty_folder")


def told(text: str) -> list[str]:
    file = Path("gate-band.yaml")
    file.write_text(text, "utf-8")
    return [str(problem).removeprefix("gate-band.yaml:") for problem in problems_of_file(file)]


def card_says(capsys: Said) -> str:
    assert run_command_line(["card", "./gate-band.yaml", "--loom", "small-box", "--out", "x.pdf"]) == 1
    return capsys.readouterr().err


@pytest.mark.parametrize(("name", "capital"), [("ɒ", "Ɒ"), ("ϗ", "Ϗ"), ("ϙ", "Ϙ")])
def test_a_yarn_whose_capital_is_missing(name: str, capital: str, capsys: Said) -> None:
    assert lacks(capital, Face.SANS)
    (line,) = told(FILE.replace("blue: {", f"{name}: {{").replace("3 blue", f"3 {name}"))
    assert line.startswith(f"5:3: yarns.{name}: The card's typeface has no '{capital}' (")
    assert line.endswith("), which stands for this yarn on it. Give the yarn another name.")
    assert card_says(capsys).startswith("gate-band.yaml:")


@pytest.mark.parametrize(
    ("old", "new", "place"),
    [("Gate Band", "Gate 中", "1:1: title"), ("T1", "T中", "2:1: code"), ("T1", r'"T\u4e2d"', "2:1: code")],
)
def test_what_every_card_has_is_a_problem_and_a_card_names_the_same_place(
    old: str, new: str, place: str, capsys: Said
) -> None:
    line = f"{place}: The card's typeface has no '中' (CJK UNIFIED IDEOGRAPH-4E2D). Write it in other characters."
    assert told(FILE.replace(old, new)) == [line]
    assert card_says(capsys) == f"gate-band.yaml:{line}\n"


def test_what_a_card_may_do_without_is_a_note() -> None:
    assert told(FILE.replace("edges", "中")) == [
        "3:1: note: about: The card's typeface has no '中' (CJK UNIFIED IDEOGRAPH-4E2D): "
        "a card that tells this cannot be made. Write it in other characters."
    ]


def test_letters_that_there_are_say_nothing() -> None:
    assert told(FILE.replace("edges", "édges, œuvre – 2½ ×")) == []
    for path in sorted((ROOT / "patterns").glob("[a-f]*.yaml")):
        assert not any("typeface" in str(problem) for problem in problems_of_file(path))
