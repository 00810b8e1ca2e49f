"""``cardmaker new --kind yarn``, and a yarn that has a file as an answer about a new pattern."""

from __future__ import annotations

import io
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest
import yaml

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import checking
from cardmaker.jobs.loading import load_pattern, load_yarn
from cardmaker.model.pattern import Package, Yarn

Said = pytest.CaptureFixture[str]

pytestmark = pytest.mark.usefixtures("empty_folder")

# title, kind, length for a weight, shade, lot, colour, weight, price, ends, write
YARN = ("Loft linen", "linen 20/2", "6,048 m/kg", "Bleached 1", "12", "cream", "50 g", "6 crowns", "45", "")


def answered(answers: Sequence[str], monkeypatch: pytest.MonkeyPatch, *arguments: str) -> int:
    monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{answer}\n" for answer in answers)))
    return run_command_line(["new", *arguments])


def test_a_yarn_is_written_as_it_was_answered(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    assert answered(YARN, monkeypatch, "--kind", "yarn") == 0
    assert load_yarn(Path("layouts/yarns/loft-linen.yaml")).yarn == Yarn(
        "loft-linen", "linen", "20/2", metres_per_kg=6048, ends_per_inch=45, colour="#efe6cc", shade="Bleached 1",  # type: ignore[arg-type]
        lot="12", package=Package(weight_g=50, price="6 crowns"),  # type: ignore[arg-type]
    )  # fmt: skip
    assert checking.problems_of_file(Path("layouts/yarns/loft-linen.yaml")) == []
    assert capsys.readouterr().out.endswith("Next: name it in a pattern, as in  blue: {yarn: loft-linen}\n")


def test_of_a_yarn_nothing_need_be_known_but_what_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    assert answered(("Wool", "wool 28/2 metric", *[""] * 8), monkeypatch, "--kind", "yarn") == 0
    assert load_yarn(Path("layouts/yarns/wool.yaml")).yarn == Yarn("wool", "wool", "28/2", "metric")
    told = yaml.load(Path("layouts/yarns/wool.yaml").read_text(), yaml.BaseLoader)
    assert [*told] == ["title", "fibre", "count", "system"]


@pytest.mark.parametrize(
    ("at", "wrong", "reason"),
    [
        (1, "sheep", "'sheep' is not a yarn. Write fibre and count"),
        (2, "9 m", "'9 m' is no length for a weight. Write yards to the pound or metres to the kilogram"),
        (2, "9 m/lb", "'9 m/lb' is no length for a weight."),
        (2, "9 m/kg", "'9' is too small. Write a number from 100 to"),
        (5, "blurple", "'blurple' is no colour that is known here."),
        (6, "50", "'50' needs a unit"),
        (6, "0.1 g", "'0.1 g' is too little: 1 g is the least"),
        (8, "many", "'many' is no count of ends. Write a number from 3 to 300, as in 45."),
    ],
)
def test_what_cannot_be_is_asked_again(
    at: int, wrong: str, reason: str, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    assert answered((*YARN[:at], wrong, *YARN[at:]), monkeypatch, "--kind", "yarn") == 0
    assert f"  {reason}" in capsys.readouterr().out.replace("\xa0", " ")


def test_no_file_is_written_over_another(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    answered(YARN, monkeypatch, "--kind", "yarn")
    assert answered((YARN[0], "Other linen", *YARN[1:]), monkeypatch, "--kind", "yarn") == 0
    assert "layouts/yarns/loft-linen.yaml is there already" in capsys.readouterr().out
    assert Path("layouts/yarns/other-linen.yaml").exists()


# title, uses, colours, yarn and colour of each, way, stripes, no more, length, loom, write
PATTERN = ("Gate Band", "", "blue, white", "loft-linen", "blue", "", "", "", "", "", "", "", "")


def test_a_new_pattern_may_name_a_yarn_that_has_a_file(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    """The white one has the colour of the file, the blue one its own."""
    answered(YARN, monkeypatch, "--kind", "yarn")
    assert answered(PATTERN, monkeypatch, "--ask") == 0
    text = Path("patterns/gate-band.yaml").read_text()
    assert '  blue: {yarn: loft-linen, colour: "#2F4A7D"}\n  white: {yarn: loft-linen}\n' in text
    blue, white = load_pattern(Path("patterns/gate-band.yaml")).yarns
    assert (blue.count, blue.colour, white.colour) == ("20/2", "#2f4a7d", "#efe6cc")


def test_two_yarns_of_one_file_and_one_colour_are_asked_for_again(
    monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    answered(YARN, monkeypatch, "--kind", "yarn")
    answers = (*PATTERN[:4], "", "", "", "grey", *PATTERN[7:])
    assert answered(answers, monkeypatch, "--ask") == 0
    assert "  blue is of loft-linen too, and of that colour" in capsys.readouterr().out
    assert [yarn.colour for yarn in load_pattern(Path("patterns/gate-band.yaml")).yarns] == ["#efe6cc", "#8a8a86"]
