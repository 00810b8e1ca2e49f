"""``card --loom any``: the card for a loom that nobody knows, what it does not go with, and how it is made again."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.pdf.attachments import held_in

Said = pytest.CaptureFixture[str]
pytestmark = pytest.mark.usefixtures("empty_folder")


def run(said: Said, *arguments: str) -> tuple[int, str, str]:
    said.readouterr()
    try:
        status = run_command_line(arguments)
    except SystemExit as left:
        status = int(left.code or 0)
    out, err = said.readouterr()
    return status, out, err


def test_it_is_a_card_of_its_own_that_carries_no_loom(capsys: Said) -> None:
    assert run(capsys, "card", "three-paths", "--loom", "any")[0] == 0
    held = held_in(Path("out/three-paths-any-loom.pdf"))
    assert [file.name for file in held.files] == ["any-loom.yaml", "three-paths.yaml"]


def test_its_layout_needs_no_loom(capsys: Said) -> None:
    run(capsys, "card", "three-paths", "--loom", "any", "--out", "one.pdf")
    run(capsys, "card", "three-paths", "--layout", "any-loom", "--out", "other.pdf")
    assert Path("one.pdf").read_bytes() == Path("other.pdf").read_bytes()


def test_the_settings_loom_and_layout_are_left_out_of_it(capsys: Said) -> None:
    run(capsys, "card", "three-paths", "--loom", "any", "--out", "one.pdf")
    Path("cardmaker.yaml").write_text("loom: small-box\nlayout: handout\n", "utf-8")
    run(capsys, "card", "three-paths", "--loom", "any", "--out", "other.pdf")
    assert Path("one.pdf").read_bytes() == Path("other.pdf").read_bytes()


@pytest.mark.parametrize("hand", ["left", "right"])
def test_what_it_carries_makes_it_again(hand: str, capsys: Said) -> None:
    run(capsys, "card", "half-and-half", "--loom", "any", "--hand", hand, "--from", "behind", "--warp", "3 yd")
    (made,) = Path("out").glob("*.pdf")
    pdf = made.read_bytes()
    status, out, _ = run(capsys, "restore", str(made), "--out", "back")
    (command,) = re.findall(r"^The same again: cardmaker (.*)$", out, re.MULTILINE)
    words = shlex.split(command)
    assert (status, run(capsys, *words)[0]) == (0, 0)
    assert Path(words[-1]).read_bytes() == pdf


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (
            ("card", "three-paths", "--loom", "any", "--layout", "handout"),
            "Handout is for one loom. What holds on every loom is on the card any-loom: leave --layout out.",
        ),
        (
            ("binder", "three-paths", "--loom", "any"),
            "Record is for one loom. What holds on every loom is on the card any-loom: leave --layout out.",
        ),
        (
            ("card", "three-paths", "--loom", "small-box", "--layout", "any-loom"),
            "Any loom is for a loom that nobody knows: leave --loom out, or name another layout.",
        ),
        (
            ("plan", "three-paths", "--loom", "any"),
            "A plan is of one loom. What holds on every loom is a card: cardmaker card three-paths --loom any",
        ),
    ],
)
def test_what_it_does_not_go_with(arguments: tuple[str, ...], message: str, capsys: Said) -> None:
    status, _, err = run(capsys, *arguments)
    assert status == 2
    assert message in " ".join(err.split())
