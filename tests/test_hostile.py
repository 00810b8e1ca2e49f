"""What hostile files and hostile words once broke, a test each; ``tests/fuzz`` found them."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pdfplumber
import pytest

from cardmaker.cli import main

LINEN = "{fibre: linen, count: 20/2}"


@pytest.fixture(autouse=True)
def _own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def words_of(card: Path) -> str:
    with pdfplumber.open(card) as book:
        return " ".join(word["text"] for word in book.pages[0].extract_words(use_text_flow=True))


def run(*arguments: str) -> int:
    """A command's exit status; argparse leaves by SystemExit."""
    try:
        return main(arguments)
    except SystemExit as end:
        return int(end.code or 0)


def write(name: str, lines: Iterable[str]) -> str:
    Path(name).write_text("\n".join(lines) + "\n", encoding="utf-8")
    return name


# Two posts without cross pegs


def test_two_pegs_are_told_and_drawn_as_a_figure_of_eight(tmp_path: Path) -> None:
    write("short.yaml", ["title: Short", f"yarns: {{white: {LINEN}}}", "warp: [9 white]", "length: {warp: 1 m}"])
    assert run("card", "short.yaml", "--layout", "bench", "--pegs", "two-pegs") == 0
    text = words_of(tmp_path / "out" / "short-bench.pdf")
    assert "a figure of eight" in text
    assert "half-way between the posts" in text
    assert "cross pegs" not in text
