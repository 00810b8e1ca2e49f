"""Somebody's own patterns, looms, settings and a broken file beside those that ship: no test looks at them.

All tests were run with them in the folders by hand; here the tests are collected so, which is where the lists of what
ships are read, and some that go through these lists are run.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from cardmaker.jobs.file_lookup import shipped_names
from tests.helpers.foreign_files import FOREIGN_FILES, write_foreign_files
from tests.helpers.places import ROOT, shipped_in

TELLING = (
    "tests/cli/test_cli.py::test_the_shipped_files_are_right",
    "tests/product/test_catalogue.py",
    "tests/jobs/test_own_folder.py",
    "tests/product/test_packaging.py",
)


@pytest.fixture(scope="module")
def checkout(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of what is under test, with foreign files in it."""
    folder = tmp_path_factory.mktemp("foreign") / "checkout"
    built = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["hatch"]["build"]
    for name in {"pyproject.toml", "README.md", *built["targets"]["sdist"]["only-include"]}:
        of = ROOT / name
        if of.is_dir():
            shutil.copytree(of, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(of, folder / name)
    write_foreign_files(folder)
    return folder


def run_in(checkout: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-n", "0", *arguments]
    return subprocess.run(command, cwd=checkout, capture_output=True, text=True, env=environment(checkout))


def environment(checkout: Path) -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": str(checkout)}


def test_none_of_them_ships() -> None:
    assert len([name for name in FOREIGN_FILES if name.startswith("patterns/")]) >= 13
    assert not {*FOREIGN_FILES} & {*shipped_names()}
    assert {path.name for path in shipped_in("patterns")} == {
        name.removeprefix("patterns/") for name in shipped_names() if name.startswith("patterns/")
    }


def test_all_tests_are_collected_beside_them_as_without(checkout: Path) -> None:
    done = run_in(checkout, "--collect-only")
    assert done.returncode == 0, done.stdout[-2000:] + done.stderr[-2000:]
    ids = [line for line in done.stdout.splitlines() if "::" in line]
    assert not [line for line in ids if "kitchen-box]" in line or "one-colour" in line or "little-board]" in line]


@pytest.mark.parametrize("test", TELLING)
def test_telling_ones_pass_beside_them(test: str, checkout: Path) -> None:
    done = run_in(checkout, test)
    assert done.returncode == 0, done.stdout[-3000:]
