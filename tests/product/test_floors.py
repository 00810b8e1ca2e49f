"""The floors: imports only point down. What each module imports is read from its text, inside functions as well."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

from tests.helpers.places import ROOT

MODULES: Final = sorted((ROOT / "cardmaker").rglob("*.py"))

# Every part of the package with its floor. A part sees the floors below it, and itself.
FLOORS: Final = {
    "problems": 0,
    "units": 0,
    "money": 0,
    "geometry": 0,
    "noun": 0,
    "nouns": 1,
    "reading": 2,
    "reckoning": 2,
    "composing": 3,
    "writing": 4,
    "workshop": 5,
    "giving_back": 5,
    "bindery": 5,
    "card_making": 5,
    "binder_paths": 5,
    "binder_letters": 5,
    "progress": 5,
    "many": 5,
    "classroom": 5,
    "asking": 5,
    "arguments": 5,
    "commands": 5,
    "looking": 5,
    "cli": 5,
    "streams": 5,
    "__main__": 5,
}
UNSEEN: Final = {  # lower, or level, and yet out of sight
    "reading": {"reckoning"},
    "reckoning": {"reading"},
    "composing": {"reading", "writing"},
}
ONLY_IN: Final = {
    "yaml": "reading",
    "jsonschema": "reading",
    "referencing": "reading",
    "reportlab": "writing",
    "pypdf": "writing",
    "pypdfium2": "writing",
}
MOVING: Final = {"time", "datetime", "random", "secrets", "uuid", "locale", "calendar", "getpass", "platform", "socket"}
MOVING_IN_OS: Final = {"environ", "environb", "getenv", "urandom", "getcwd", "getlogin"}
LOWEST_THAT_MAY_MOVE: Final = 4


# The rules: each takes the text of a module and where it lies, and tells what is wrong


def faults(text: str, path: str) -> list[str]:
    """All faults of one module, named by its path below the package, such as ``reading/nodes.py``."""
    part = part_of(path)
    found = [] if path.count("/") or part in FLOORS or path == "__init__.py" else [f"{path}: on no floor"]
    if path.rsplit("/", 1)[-1] == "threading.py":
        found.append(f"{path}: the standard library has a module of that name")
    tree = ast.parse(text)
    for name in imported(tree, path):
        found += [f"{path}: {fault}" for fault in import_faults(part, name)]
    if FLOORS.get(part, 0) < LOWEST_THAT_MAY_MOVE:
        found += [f"{path}: os.{name}" for name in sorted(asked_of_os(tree))]
    return found


def part_of(path: str) -> str:
    """The folder or the module directly below the package."""
    return path.split("/")[0].removesuffix(".py")


def import_faults(part: str, name: str) -> Iterator[str]:
    top, *below = name.split(".")
    home = ONLY_IN.get(top)
    if home and home != part:
        yield f"{top} is imported only in {home}"
    if top in MOVING and FLOORS.get(part, 0) < LOWEST_THAT_MAY_MOVE:
        yield f"{top} below floor {LOWEST_THAT_MAY_MOVE}"
    if top != "cardmaker" or not below:
        return
    other = below[0]
    if other not in FLOORS or other == part:
        return
    if FLOORS[other] > FLOORS.get(part, 0):
        yield f"sees {other}, which is above"
    elif other in UNSEEN.get(part, set()):
        yield f"sees {other}"


def imported(tree: ast.Module, path: str) -> Iterator[str]:
    """Every module that is imported anywhere in the text, by its full name."""
    package = ["cardmaker", *path.split("/")[:-1]]
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = [*package[: len(package) - node.level + 1]] if node.level else []
            base += node.module.split(".") if node.module else []
            yield from (".".join([*base, alias.name]) for alias in node.names)
        elif isinstance(node, ast.Call) and called(node.func) in ("__import__", "import_module"):
            first = node.args[0] if node.args else None
            if isinstance(first, ast.JoinedStr) and isinstance(first.values[0], ast.Constant):
                first = ast.Constant(str(first.values[0].value).rstrip("."))  # a module of a package that is named
            yield (
                str(first.value) if isinstance(first, ast.Constant) else "cardmaker.cli.command_line"
            )  # unknown: suspect the most


def called(function: ast.expr) -> str:
    if isinstance(function, ast.Attribute):
        return function.attr
    return function.id if isinstance(function, ast.Name) else ""


def asked_of_os(tree: ast.Module) -> set[str]:
    """What is asked of the system's surroundings: ``os.environ``, ``from os import getenv``, ``os.urandom``."""
    names: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and node.attr in MOVING_IN_OS:
            names.add(node.attr)
        elif isinstance(node, ast.ImportFrom) and node.module == "os":
            names |= {alias.name for alias in node.names} & MOVING_IN_OS
    return names


# Held


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_imports_point_down(path: Path) -> None:
    assert faults(path.read_text("utf-8"), path.relative_to(ROOT / "cardmaker").as_posix()) == []


def test_there_is_something_on_every_floor() -> None:
    parts = {part_of(path.relative_to(ROOT / "cardmaker").as_posix()) for path in MODULES}
    assert parts - {"__init__"} == set(FLOORS)


def test_every_folder_of_modules_is_a_package() -> None:
    assert all((path.parent / "__init__.py").exists() for path in MODULES)


# Every rule can fail


@pytest.mark.parametrize(
    ("path", "text", "fault"),
    [
        ("units.py", "from cardmaker.model.loom import Loom", "units.py: sees nouns, which is above"),
        ("problems.py", "from .reading import files", "problems.py: sees reading, which is above"),
        ("nouns/loom.py", "from cardmaker.reckoning import sheds", "nouns/loom.py: sees reckoning, which is above"),
        ("nouns/loom.py", "from ..composing import card", "nouns/loom.py: sees composing, which is above"),
        ("reading/files.py", "import cardmaker.reckoning.weaving.sheds", "reading/files.py: sees reckoning"),
        ("reading/files.py", "from cardmaker import reckoning", "reading/files.py: sees reckoning"),
        ("reckoning/sheds.py", "from cardmaker.reading.read_file import read_loom", "reckoning/sheds.py: sees reading"),
        ("composing/card.py", "from cardmaker.reading.read_file import read_loom", "composing/card.py: sees reading"),
        (
            "composing/panels/order.py",
            "from ...writing.fonts import TypeRuler",
            "composing/panels/order.py: sees writing, which is above",
        ),
        ("writing/pen.py", "from cardmaker import workshop", "writing/pen.py: sees workshop, which is above"),
        ("writing/pen.py", "from cardmaker.cli.command_line import main", "writing/pen.py: sees cli, which is above"),
        ("workshop.py", "import yaml", "workshop.py: yaml is imported only in reading"),
        ("nouns/plan.py", "import jsonschema.validators", "nouns/plan.py: jsonschema is imported only in reading"),
        (
            "composing/setting.py",
            "from reportlab.pdfbase import pdfmetrics",
            "composing/setting.py: reportlab is imported only in writing",
        ),
        ("cli.py", "from pypdf import PdfReader", "cli.py: pypdf is imported only in writing"),
        ("composing/card.py", "import datetime", "composing/card.py: datetime below floor 4"),
        ("reading/files.py", "from time import time", "reading/files.py: time below floor 4"),
        ("reckoning/beam.py", "import random", "reckoning/beam.py: random below floor 4"),
        ("composing/measures.py", "import locale as place", "composing/measures.py: locale below floor 4"),
        ("reading/files.py", "import os\nos.environ['LANG']", "reading/files.py: os.environ"),
        ("reckoning/beam.py", "from os import getenv", "reckoning/beam.py: os.getenv"),
        ("reckoning/threading.py", "", "reckoning/threading.py: the standard library has a module of that name"),
        ("helpers.py", "", "helpers.py: on no floor"),
        (
            "composing/card.py",
            "def late() -> None:\n    from cardmaker.pdf.painter import paint",
            "composing/card.py: sees writing, which is above",
        ),
        (
            "composing/card.py",
            "import importlib\nimportlib.import_module('cardmaker.pdf.painter')",
            "composing/card.py: sees writing, which is above",
        ),
        (
            "composing/card.py",
            "from importlib import import_module\nimport_module(f'cardmaker.pdf.{name}')",
            "composing/card.py: sees writing, which is above",
        ),
        ("composing/card.py", "__import__(f'{anything}')", "composing/card.py: sees cli, which is above"),
        ("reckoning/beam.py", "__import__('random')", "reckoning/beam.py: random below floor 4"),
    ],
)  # fmt: skip
def test_each_rule_can_fail(path: str, text: str, fault: str) -> None:
    assert faults(text, path) == [fault]


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("reading/files.py", "import yaml\nfrom cardmaker.model.loom import Loom\nfrom cardmaker.reading import nodes"),
        (
            "composing/card.py",
            "from cardmaker.reckoning.weaving.sheds import raised_runs\nfrom cardmaker import geometry",
        ),
        ("writing/files.py", "import os\nimport time\nfrom reportlab import rl_config\nos.urandom(4)"),
        ("workshop.py", "from cardmaker.pdf.painter import paint\nfrom cardmaker import reading, composing"),
        ("cli.py", "from cardmaker import __version__, workshop\nimport os"),
        ("reckoning/beam.py", "from math import pi\nfrom .allowances import waste"),
    ],
)
def test_what_is_allowed_is_let_be(path: str, text: str) -> None:
    assert faults(text, path) == []
