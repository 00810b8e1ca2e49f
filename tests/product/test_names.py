"""One thing, one name: no two public modules, classes or functions share one, and nothing lies loose."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator, Mapping
from pathlib import Path, PurePosixPath
from typing import Final

import pytest

from tests.helpers.places import ROOT
from tests.helpers.reached import modules_below

TEXTS: Final = modules_below(ROOT / "cardmaker")
NAMELESS: Final = {"__init__", "__main__"}
AT_THE_TOP: Final = {"__init__.py", "__main__.py", "files.py"}
TESTS: Final = sorted((ROOT / "tests").rglob("test_*.py"))


def used_twice(texts: Mapping[str, str]) -> dict[str, list[str]]:
    """The public names of modules, packages, classes and functions that are in more than one place, with the places.

    ``texts`` is by path, such as ``cardmaker/pdf/pen.py``. A name in two branches of an ``if`` is in one place.
    """
    places: dict[str, list[str]] = defaultdict(list)
    for folder in sorted({parent for path in texts for parent in PurePosixPath(path).parents}):
        places[folder.name].append(str(folder))
    for path, text in sorted(texts.items()):
        stem = PurePosixPath(path).stem
        for name in sorted({stem} - NAMELESS):
            places[name].append(path)
        for name in sorted(defined(text)):
            places[name].append(f"{path}:{name}")
    return {name: found for name, found in places.items() if len(found) > 1}


def defined(text: str) -> set[str]:
    """The public classes and functions of a module."""
    kinds = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)
    return {node.name for node in ast.parse(text).body if isinstance(node, kinds) and not node.name.startswith("_")}


def imported_tests(text: str) -> Iterator[str]:
    """The modules of tests, or what is in them, that a text imports anywhere."""
    for node in ast.walk(ast.parse(text)):
        names = [alias.name for alias in node.names] if isinstance(node, ast.Import | ast.ImportFrom) else []
        if isinstance(node, ast.ImportFrom):
            names = [f"{node.module}.{name}" if node.module else name for name in names]
        yield from (name for name in names if any(part.startswith("test_") for part in name.split(".")))


# Held


def test_no_name_is_used_twice() -> None:
    assert used_twice(TEXTS) == {}


def test_nothing_lies_loose_beside_the_rooms() -> None:
    assert {path.name for path in (ROOT / "cardmaker").glob("*.py")} == AT_THE_TOP


@pytest.mark.parametrize("path", TESTS, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_no_test_imports_another(path: Path) -> None:
    assert list(imported_tests(path.read_text("utf-8"))) == []


# Each can fail


@pytest.mark.parametrize(
    ("texts", "name", "places"),
    [
        ({"p/a.py": "", "p/q/a.py": ""}, "a", ["p/a.py", "p/q/a.py"]),
        ({"p/a.py": "", "p/a/b.py": ""}, "a", ["p/a", "p/a.py"]),
        ({"p/a.py": "def a(): ..."}, "a", ["p/a.py", "p/a.py:a"]),
        ({"p/a.py": "class Thing: ...", "p/b.py": "def Thing(): ..."}, "Thing", ["p/a.py:Thing", "p/b.py:Thing"]),
        ({"p/q/__init__.py": "", "p/a.py": "async def q(): ..."}, "q", ["p/q", "p/a.py:q"]),
    ],
)
def test_a_name_used_twice_is_found(texts: dict[str, str], name: str, places: list[str]) -> None:
    assert used_twice(texts) == {name: places}


def test_what_nobody_else_sees_may_share_a_name() -> None:
    private = "def _same(): ...\nclass _Own: ...\nSAME = 1\nclass {0}:\n def same(self): ..."
    texts = {f"p/{stem}.py": private.format(stem.upper()) for stem in ("a", "b")}
    assert used_twice(texts | {"p/__init__.py": "from p.a import A", "p/q/__init__.py": ""}) == {}


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("from tests.card.test_cards import CASES", "tests.card.test_cards.CASES"),
        ("from tests.card import test_cards", "tests.card.test_cards"),
        ("def late():\n import tests.card.test_cards", "tests.card.test_cards"),
        ("from .test_cards import CASES", "test_cards.CASES"),
        ("from . import test_cards", "test_cards"),
    ],
)
def test_a_test_that_imports_another_is_found(text: str, name: str) -> None:
    assert list(imported_tests(text)) == [name]
    assert list(imported_tests("from tests.helpers.places import ROOT\nimport pytest")) == []
