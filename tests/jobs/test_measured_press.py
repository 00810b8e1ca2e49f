"""A loom's file with a warp that wove well: refused wherever it is asked for, when no warp can have been woven so."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardmaker.cli.command_line import run_command_line
from tests.helpers.places import ROOT

HEAD = "title: Mine\nkind: one heddle\nslots: 17\nholes: 16\npress: {span: 40 cm, free_length: 60 cm}\n"
SLACK = "{weight: 200 g, span: 40 cm, dip: 13 mm, ends: 13, tex: 165.4, fibre: linen}"
HARD = "{weight: 500 g, span: 40 cm, dip: 1 mm, ends: 13, tex: 16.54, fibre: linen}"
SOUND = "{weight: 50 g, span: 40 cm, dip: 4.6 mm, ends: 13, tex: 165.4, fibre: linen}"
PATTERN = str(ROOT / "patterns" / "two-rails.yaml")

pytestmark = pytest.mark.usefixtures("empty_folder")


def loom_file(measured: str) -> str:
    path = Path("mine.yaml").absolute()
    path.write_text(f"{HEAD}measured: {{press: {measured}}}\n")
    return str(path)


@pytest.mark.parametrize("command", ["check", "plan", "card"])
@pytest.mark.parametrize(
    ("measured", "told"),
    [
        (SLACK, "A warp that this weight dips so far has next to no pull of its own"),
        (HARD, "A warp of 13 ends that this weight dips so little is pulled at a quarter or more of what its yarn"),
    ],
)
def test_what_no_warp_can_be_is_refused_at_the_dip(
    command: str, measured: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    path = loom_file(measured)
    arguments = [command, path] if command == "check" else [command, PATTERN, "--loom", path]
    assert run_command_line(arguments) == 1
    told_of = capsys.readouterr()
    column = len("measured: {press: ") + measured.index("dip: ") + 1
    assert f"mine.yaml:6:{column}: measured.press.dip: {told}" in told_of.err + told_of.out


def test_a_sound_one_is_reckoned_with(capsys: pytest.CaptureFixture[str]) -> None:
    path = loom_file(SOUND)
    assert run_command_line(["check", path]) == 0
    assert run_command_line(["plan", PATTERN, "--loom", path]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "Measured: 50 g dipped 13 ends that wove well by 4.6 mm." in told
    assert "right 4.6 mm" in told
