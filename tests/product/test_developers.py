"""The page for contributors is complete: every room, library and benchmark, and no module that is not there."""

from __future__ import annotations

import re
import tomllib

from tests.helpers.places import ROOT
from tests.helpers.rooms import SEES

TEXT = (ROOT / "DEVELOPERS.md").read_text("utf-8")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]


def rows(title: str) -> list[list[str]]:
    """The cells of the table below a heading, without its head."""
    section = TEXT.split(f"\n## {title}\n")[1].split("\n## ")[0]
    lines = [line for line in section.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines[2:]]


def test_every_room_is_told_with_what_it_sees() -> None:
    told = {row[0].strip("`/"): set(re.findall(r"`([\w/]+)`", row[2])) for row in rows("The rooms")}
    assert told == SEES


def _names(requirements: list[str]) -> set[str]:
    return {re.split(r"[\[<>=!~; ]", each)[0].lower() for each in requirements} - {"cardmaker"}


def test_every_library_is_explained() -> None:
    told = " ".join(row[0].lower() for row in rows("The libraries, and why"))
    wanted = _names(PROJECT["dependencies"]).union(*map(_names, PROJECT["optional-dependencies"].values()))
    assert not {name for name in wanted if name not in told and not name.startswith("types-")}


def test_every_benchmark_is_told() -> None:
    told = set(re.findall(r"python -m tests\.benchmarks\.(\w+)", TEXT))
    folder = ROOT / "tests" / "benchmarks"
    runs = {path.stem for path in folder.glob("*.py") if "__main__" in path.read_text("utf-8")}
    assert told == runs | {path.parent.name for path in folder.glob("*/__main__.py")}


def test_every_module_that_is_named_is_there() -> None:
    places = [ROOT, ROOT / "cardmaker"]
    named = {name for name in re.findall(r"`([\w/.]+\.py)`", TEXT) if "/" in name}
    assert named
    assert not [name for name in named if not any((place / name).is_file() for place in places)]
