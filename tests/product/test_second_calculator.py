"""A second calculator, written from the manual alone, against the program: every figure of the plan, and of the paper.

The figures are those of ``tests/helpers/second_calculator.py``, the files those of
``tests/helpers/second_generator.py``, what may be printed for them is in ``tests/helpers/second_print.py``.
"""

from __future__ import annotations

import contextlib
import io
import json
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any, Final, NamedTuple

import pypdfium2
import pytest

from cardmaker.cli.command_line import run_command_line
from tests.helpers.second_calculator import read_tree, second_plan
from tests.helpers.second_generator import Combination, combination
from tests.helpers.second_print import card_of, faults
from tests.helpers.second_sizes import Refused

COMBINATIONS: Final = 240
SPAN: Final = "{title: Long span, kind: span, diameter: 1 in, height: 6 in, shortest: 5 cm, longest: 60 m}\n"
HALF_A_DIGIT: Final = 0.00051  # the JSON's lengths are rounded to 0.001
WITH_A_THREAD: Final = 0.003  # and so is the way round the pegs, where that is measured and not reckoned


class Answer(NamedTuple):
    """What a command said: its status and both streams."""

    status: int
    out: str
    problems: str


def run(*arguments: str) -> Answer:
    out, problems = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(problems):
        status = run_command_line(arguments)
    return Answer(status, out.getvalue(), problems.getvalue())


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A folder to work in, with a span that can be set for any warp, which no board can."""
    folder = tmp_path_factory.mktemp("second")
    (folder / "span.yaml").write_text(SPAN)
    with contextlib.chdir(folder):
        yield folder


def typed(folder: Path, case: Combination) -> list[str]:
    """What one types to ask for it, once its files are there."""
    (folder / "pattern.yaml").write_text(case.pattern)
    (folder / "loom.yaml").write_text(case.loom)
    pegs = ["--pegs", "span.yaml"] if case.span else []
    return ["pattern.yaml", "--loom", "loom.yaml", *pegs, *(["--warp", case.warp] if case.warp else [])]


def both(folder: Path, case: Combination) -> tuple[dict[str, Any] | None, dict[str, Any] | None]:
    """The program's plan and ours; None where the files are refused."""
    answer = run("plan", "--json", *typed(folder, case))
    plan = json.loads(answer.out) if answer.status == 0 else None
    thread = Fraction(str(plan["lengths"]["wound_mm"])) if plan and not case.span else None
    try:
        return plan, second_plan(case.pattern, case.loom, case.warp, thread)
    except Refused:
        return plan, None


def differences(ours: Any, theirs: Any, near: float, where: str = "") -> Iterator[str]:
    """Every figure of ours that is not theirs, with its place."""
    if isinstance(ours, dict) and isinstance(theirs, dict):
        for key, value in ours.items():
            yield from differences(value, theirs.get(key, "is missing"), near, f"{where}.{key}")
    elif isinstance(ours, list) and isinstance(theirs, list) and len(ours) == len(theirs):
        for index, (one, other) in enumerate(zip(ours, theirs, strict=True)):
            yield from differences(one, other, near, f"{where}[{index}]")
    elif isinstance(ours, float | Fraction) and isinstance(theirs, int | float):
        if abs(float(ours) - theirs) > near:
            yield f"{where}: {float(ours):.4f}, but the program says {theirs}"
    elif ours != theirs:
        yield f"{where}: {ours}, but the program says {theirs}"


@pytest.mark.parametrize("number", range(COMBINATIONS))
def test_every_figure_of_the_plan_is_ours(number: int, folder: Path) -> None:
    case = combination(number)
    theirs, ours = both(folder, case)
    assert (theirs is None) == (ours is None), "one of the two refuses these files"
    if theirs is not None:
        assert list(differences(ours, theirs, HALF_A_DIGIT if case.span else WITH_A_THREAD)) == []


# In print

LAYOUTS: Final = ("record", "bench", "handout")
CARDS: Final = 90


def printed(folder: Path, case: Combination, layout: str, plan: dict[str, Any]) -> str:
    """The text of the card as another library reads it from the PDF; wound on the pegs of the plan."""
    pegs = [] if case.span else ["--pegs", plan["pegs"]["title"].lower().replace(" ", "-")]
    answer = run("card", "--layout", layout, "--out", "card.pdf", *typed(folder, case), *pegs)
    assert answer.status == 0, answer.problems
    document = pypdfium2.PdfDocument(folder / "card.pdf")
    try:
        text: str = document[0].get_textpage().get_text_range()
    finally:
        document.close()
    return text


@pytest.fixture(scope="module")
def looked_at() -> Counter[str]:
    """How often each thing was found in print, over all cards."""
    return Counter()


@pytest.mark.parametrize("number", range(CARDS))
def test_every_figure_on_paper_is_ours(number: int, folder: Path, looked_at: Counter[str]) -> None:
    case = combination(number)
    theirs, ours = both(folder, case)
    if theirs is None or ours is None:
        return
    text = printed(folder, case, LAYOUTS[number % len(LAYOUTS)], theirs)
    letters = {colour["yarn"]: colour["letters"] for colour in theirs["colours"]}
    wrong, looks = faults(card_of(text, ours, read_tree(case.loom), letters))
    looked_at.update(looks)
    assert wrong == []
