"""Every number that reckoning takes for granted, and every rule of the trade in words, says what it rests on.

A source is a book, a standard or a measurement; else it is *common practice, no source*, *from memory*, or a limit of
ours. It stands on the constant's line, above it, below it, or in the docstring of its function.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

from tests.helpers.places import ROOT

RESTS_ON: Final = re.compile(
    r"common practice|from memory|no source|\bours\b|own derivation|by definition|geometry"
    r"|ASTM|16 CFR|EN 14682|Taylor|Brooks|Dooley|Peirce|Wolfensberger|loom maker|weavers?\b"
)
WORDS_OF_THE_TRADE: Final = (
    "trouble_words._ROWS", "lost_end_words._how", "lost_end_words._how_in_brief",
    "rescue_words.replacement", "rescue_words.PUT_IN", "rescue_words.YARN_ENDS", "shed_words.TUG",
    "walk_words._AT_A_CHANGE",
    "winding_words.CROSS_SIDES", "winding_words.lifting_checks", "note_words.BENCH_NOTES", "note_words._NOTES",
    "peg_words.keeper_sticks", "peg_words.guide", "beam_words.sticks", "beam_words.slipped_edge",
    "class_words.STEPS_KEY", "class_words.tools", "class_words.VENUE_FIRST",
)  # fmt: skip


def statements(text: str) -> Iterator[tuple[str, str, ast.stmt]]:
    """Each constant and function of a module: its name, its lines with the comments and the text beside it, itself."""
    lines = text.splitlines()
    body = ast.parse(text).body
    for statement, after in zip(body, [*body[1:], None], strict=True):
        name = _name(statement)
        if not name:
            continue
        first, last = statement.lineno, statement.end_lineno or statement.lineno
        while first > 1 and lines[first - 2].startswith("#"):
            first -= 1
        if isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant):
            last = after.end_lineno or last
        shown = ast.get_docstring(statement) if isinstance(statement, ast.FunctionDef) else None
        yield name, shown if shown is not None else "\n".join(lines[first - 1 : last]), statement


def _name(statement: ast.stmt) -> str:
    if isinstance(statement, ast.FunctionDef):
        return statement.name
    if isinstance(statement, ast.AnnAssign) and isinstance(statement.target, ast.Name):
        return statement.target.id
    return ""


def is_number(statement: ast.stmt) -> bool:
    """A constant made of numbers alone."""
    if not isinstance(statement, ast.AnnAssign) or statement.value is None:
        return False
    values = [node.value for node in ast.walk(statement.value) if isinstance(node, ast.Constant)]
    return bool(values) and all(isinstance(value, int | float) for value in values)


def bare_numbers(text: str) -> list[str]:
    return [name for name, shown, of in statements(text) if is_number(of) and not RESTS_ON.search(shown)]


@pytest.mark.parametrize("path", sorted((ROOT / "cardmaker" / "reckoning").rglob("*.py")), ids=lambda path: path.stem)
def test_no_number_is_taken_for_granted(path: Path) -> None:
    assert bare_numbers(path.read_text("utf-8")) == []


@pytest.mark.parametrize("rule", WORDS_OF_THE_TRADE)
def test_a_rule_in_words_says_what_it_rests_on(rule: str) -> None:
    module, name = rule.split(".")
    (path,) = (ROOT / "cardmaker").rglob(f"{module}.py")
    (shown,) = (shown for each, shown, _ in statements(path.read_text("utf-8")) if each == name)
    assert RESTS_ON.search(shown)


def test_a_bare_number_is_found() -> None:
    text = "A: Final = 3\n# ours\nB: Final = (1, Fraction(2))\nC: Final = 2  # from memory\nD: Final = 1\n"
    text += "'no source'\nE: Final = 'x'"
    assert bare_numbers(text) == ["A"]
