"""The program asked for the plans and cards of combinations, to hold against the second calculator."""

from __future__ import annotations

import contextlib
import io
import json
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any, Final, NamedTuple

import pypdfium2

from cardmaker.cli.command_line import run_command_line
from tests.helpers.second_calculator import second_plan
from tests.helpers.second_generator import Combination
from tests.helpers.second_sizes import Refused

SPAN: Final = "{title: Long span, kind: span, diameter: 1 in, height: 6 in, shortest: 10 cm, longest: 60 m}\n"


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


@contextlib.contextmanager
def folder_to_work_in(folder: Path) -> Iterator[Path]:
    """A folder with a span that can be set for any warp, which no board can."""
    (folder / "span.yaml").write_text(SPAN)
    with contextlib.chdir(folder):
        yield folder


def typed(folder: Path, case: Combination) -> list[str]:
    """What one types to ask for it, once its files are there."""
    (folder / "pattern.yaml").write_text(case.pattern)
    (folder / "loom.yaml").write_text(case.loom)
    pegs = ["--pegs", "span.yaml"] if case.span else []
    warp = ["--warp", case.warp] if case.warp else []
    return ["pattern.yaml", "--loom", "loom.yaml", "--units", case.units, *case.options, *pegs, *warp]


def both(folder: Path, case: Combination) -> tuple[dict[str, Any] | None, dict[str, Any] | None]:
    """The program's plan and ours; None where the files are refused."""
    answer = run("plan", "--json", *typed(folder, case))
    plan = json.loads(answer.out) if answer.status == 0 else None
    thread = Fraction(str(plan["lengths"]["wound_mm"])) if plan and not case.span else None
    try:
        return plan, second_plan(case.pattern, case.loom, case.warp, thread, case.view, case.units)
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


def printed(folder: Path, case: Combination, layout: str, plan: dict[str, Any]) -> str:
    """The text of the card as another library reads it from the PDF; wound on the pegs of the plan."""
    pegs = [] if case.span else ["--pegs", plan["pegs"]["title"].lower().replace(" ", "-")]
    answer = run("card", "--layout", layout, "--out", "card.pdf", *typed(folder, case), *pegs)
    assert answer.status == 0, answer.problems
    return card_text(folder)


def card_text(folder: Path) -> str:
    """All that stands on the card made last."""
    document = pypdfium2.PdfDocument(folder / "card.pdf")
    try:
        text: str = document[0].get_textpage().get_text_range()
    finally:
        document.close()
    return text
