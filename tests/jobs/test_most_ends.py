"""One limit for the ends of a tape, told the same way wherever a count comes from."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs.loading import pattern_with_problems
from cardmaker.model.pattern import MOST_ENDS

HEAD = "title: Wide\nyarns: {white: {fibre: linen, count: 20/2}, blue: {fibre: linen, count: 20/2}}\n"
ADD_UP = "the most. Check the numbers, and how often each repeat is worked."


@pytest.mark.parametrize(
    ("lines", "problem"),
    [
        ("warp: [11000 white]", "3:8: warp item 1: 11,000 ends are too many; 400 is the most. Check the number."),
        ("warp: [9000 white]", "3:8: warp item 1: 9,000 ends are too many; 400 is the most. Check the number."),
        ("warp: [401 white]", "3:8: warp item 1: 401 ends are too many; 400 is the most. Check the number."),
        ("warp: [400 white, 1 blue]", f"3:1: warp: The stripes add up to 401 ends; 400 is {ADD_UP}"),
        ("warp: [400 white]\nmirror: whole", f"3:1: warp: The stripes add up to 800 ends; 400 is {ADD_UP}"),
        ("warp: [{repeat: 400, stripes: [9 blue]}]", f"3:1: warp: The stripes add up to 3,600 ends; 400 is {ADD_UP}"),
        (
            "warp: [{alternate: [white, blue], ends: 401}]",
            "3:41: warp item 1.ends: '401' is too large. Write a whole number from 1 to 400.",
        ),
        ("warp: [9 white]\nends: 401", "4:7: ends: '401' is too large. Write a whole number from 1 to 400."),
    ],
)  # fmt: skip
def test_too_many_ends_are_told_once(lines: str, problem: str, tmp_path: Path) -> None:
    path = tmp_path / "wide.yaml"
    path.write_text(HEAD + lines + "\n")
    assert [str(each) for each in pattern_with_problems(path)[1]] == [f"{path}:{problem}"]


def test_as_many_as_the_limit_are_no_problem(tmp_path: Path) -> None:
    path = tmp_path / "wide.yaml"
    path.write_text(f"{HEAD}warp: [{MOST_ENDS} white]\nends: {MOST_ENDS}\n")
    assert pattern_with_problems(path)[1] == []


@pytest.mark.parametrize("ends", ["9000", "11000", "401", "99999999"])
def test_a_new_file_has_the_same_limit(
    ends: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run_command_line(["new", "wide", "--stripes", f"{ends} white"]) == 2
    assert f" add up to {int(ends):,} ends; 400 is {ADD_UP}" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
