"""The rooms: imports only point down. What each module imports is read from its text, inside functions as well."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

from tests.helpers.places import ROOT
from tests.helpers.rooms import SEES

MODULES: Final = sorted((ROOT / "cardmaker").rglob("*.py"))

ONLY_IN: Final = {
    "yaml": "reading",
    "jsonschema": "reading",
    "referencing": "reading",
    "reportlab": "pdf",
    "pypdf": "pdf",
    "pypdfium2": "pdf",
}
MOVING: Final = {"time", "datetime", "random", "secrets", "uuid", "locale", "calendar", "getpass", "platform", "socket"}
MOVING_IN_OS: Final = {"environ", "environb", "getenv", "urandom", "getcwd", "getlogin"}
MAY_MOVE: Final = {"files", "pdf", "jobs", "cli", "__main__"}


# The rules: each takes the text of a module and where it lies, and tells what is wrong


def faults(text: str, path: str) -> list[str]:
    """All faults of one module, named by its path below the package, such as ``reading/nodes.py``."""
    part = part_of(path)
    found = [] if part in SEES or path == "__init__.py" else [f"{path}: in no room"]
    if path.rsplit("/", 1)[-1] == "threading.py":
        found.append(f"{path}: the standard library has a module of that name")
    tree = ast.parse(text)
    for name in imported(tree, path):
        found += [f"{path}: {fault}" for fault in import_faults(part, name)]
    if part not in MAY_MOVE:
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
    if top in MOVING and part not in MAY_MOVE:
        yield f"{top} where nothing moves"
    if top != "cardmaker" or not below:
        return
    other = below[0]
    if other in SEES and other != part and other not in SEES.get(part, set()):
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


def test_every_room_has_something_in_it_and_nothing_lies_loose() -> None:
    parts = {part_of(path.relative_to(ROOT / "cardmaker").as_posix()) for path in MODULES}
    assert parts - {"__init__"} == set(SEES)


def test_no_room_sees_one_above_it() -> None:
    floors = list(SEES)
    assert all(floors.index(below) < floors.index(room) for room, seen in SEES.items() for below in seen)


def test_every_folder_of_modules_is_a_package() -> None:
    assert all((path.parent / "__init__.py").exists() for path in MODULES)


# Every rule can fail


@pytest.mark.parametrize(
    ("path", "text", "fault"),
    [
        ("model/units.py", "from cardmaker.reckoning import planning", "model/units.py: sees reckoning"),
        ("model/problems.py", "from ..reading import read_file", "model/problems.py: sees reading"),
        ("model/loom.py", "from ..card import composing", "model/loom.py: sees card"),
        ("reading/fields.py", "import cardmaker.reckoning.weaving.sheds", "reading/fields.py: sees reckoning"),
        ("reading/fields.py", "from cardmaker import reckoning", "reading/fields.py: sees reckoning"),
        ("reckoning/on_loom/a.py", "from cardmaker.reading.read_file import b", "reckoning/on_loom/a.py: sees reading"),
        ("card/composing.py", "from cardmaker.reading.read_file import read_loom", "card/composing.py: sees reading"),
        ("card/panels/order_panel.py", "from ...pdf.fonts import a", "card/panels/order_panel.py: sees pdf"),
        ("wording/report.py", "from cardmaker.layout import ink", "wording/report.py: sees layout"),
        ("pdf/pen.py", "from cardmaker import jobs", "pdf/pen.py: sees jobs"),
        ("pdf/pen.py", "from cardmaker.cli.command_line import run_command_line", "pdf/pen.py: sees cli"),
        ("jobs/parallel.py", "import yaml", "jobs/parallel.py: yaml is imported only in reading"),
        ("model/plan.py", "import jsonschema.validators", "model/plan.py: jsonschema is imported only in reading"),
        ("layout/ink.py", "from reportlab import rl_config", "layout/ink.py: reportlab is imported only in pdf"),
        ("cli/commands.py", "from pypdf import PdfReader", "cli/commands.py: pypdf is imported only in pdf"),
        ("card/composing.py", "import datetime", "card/composing.py: datetime where nothing moves"),
        ("reading/fields.py", "from time import time", "reading/fields.py: time where nothing moves"),
        ("reckoning/planning.py", "import random", "reckoning/planning.py: random where nothing moves"),
        ("wording/measures.py", "import locale as place", "wording/measures.py: locale where nothing moves"),
        ("reading/fields.py", "import os\nos.environ['LANG']", "reading/fields.py: os.environ"),
        ("reckoning/planning.py", "from os import getenv", "reckoning/planning.py: os.getenv"),
        ("reckoning/threading.py", "", "reckoning/threading.py: the standard library has a module of that name"),
        ("helpers.py", "", "helpers.py: in no room"),
        ("card/a.py", "def late() -> None:\n    from cardmaker.pdf.painter import paint", "card/a.py: sees pdf"),
        ("card/a.py", "import importlib\nimportlib.import_module('cardmaker.pdf.painter')", "card/a.py: sees pdf"),
        (
            "card/a.py",
            "from importlib import import_module\nimport_module(f'cardmaker.pdf.{name}')",
            "card/a.py: sees pdf",
        ),
        ("card/a.py", "__import__(f'{anything}')", "card/a.py: sees cli"),
        ("reckoning/planning.py", "__import__('random')", "reckoning/planning.py: random where nothing moves"),
    ],
)  # fmt: skip
def test_each_rule_can_fail(path: str, text: str, fault: str) -> None:
    assert faults(text, path) == [fault]


@pytest.mark.parametrize(
    ("path", "text"),
    [
        (
            "reading/fields.py",
            "import yaml\nfrom cardmaker.model.loom import Loom\nfrom .nodes import tree_of",
        ),
        ("card/a.py", "from cardmaker.reckoning.weaving.sheds import raised_runs\nfrom cardmaker import model"),
        ("pdf/painter.py", "import os\nimport time\nfrom reportlab import rl_config\nos.urandom(4)"),
        ("jobs/carrying.py", "from cardmaker.pdf.painter import paint\nfrom cardmaker import reading, card"),
        ("cli/arguments.py", "from cardmaker import __version__, jobs\nimport os"),
        ("reckoning/on_loom/beam.py", "from math import pi\nfrom .tension import stack_n"),
    ],
)
def test_what_is_allowed_is_let_be(path: str, text: str) -> None:
    assert faults(text, path) == []
