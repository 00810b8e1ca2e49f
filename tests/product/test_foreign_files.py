"""What somebody keeps in the folders of a checkout fails no test: a telling few of them, in a copy with such files."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Final

import pytest

from tests.helpers.foreign_files import FOREIGN_FILES, write_foreign_files
from tests.helpers.places import ROOT

COPIED: Final = ("cardmaker", "tests", "patterns", "layouts", ".ci")
TELLING: Final = (
    "tests/product/test_catalogue.py",  # the shipped lists, file by file
    "tests/pdf/test_lazy_import.py",  # cards in processes of their own
    "tests/reckoning/test_planning.py",  # the smallest loom at hand
    "tests/jobs/test_own_folder.py",
    "tests/cli/test_viewer.py",  # a card, a binder and a class by the command
)


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("copy")
    unwanted = shutil.ignore_patterns("__pycache__")
    for name in COPIED:
        shutil.copytree(ROOT / name, folder / name, ignore=unwanted)
    for path in ROOT.glob("*.*"):
        if path.is_file():
            shutil.copy(path, folder)
    write_foreign_files(folder)
    return folder


def tried(copy: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *arguments]
    env = os.environ | {"PYTHONPATH": str(copy)}
    return subprocess.run(command, cwd=copy, env=env, capture_output=True, text=True, check=False)


def test_there_are_as_many_as_somebody_may_have() -> None:
    kinds = [name.rpartition("/")[0] for name in FOREIGN_FILES if "broken" not in name]
    assert (kinds.count("patterns"), kinds.count("layouts/looms")) == (12, 3)


def test_every_test_is_still_collected(copy: Path) -> None:
    done = tried(copy, "--collect-only")
    assert done.returncode == 0, done.stdout[-3000:]
    assert not [name for name in ("kitchen-box]", "one-colour]", "same-code]") if name in done.stdout]


def test_a_telling_few_pass(copy: Path) -> None:
    done = tried(copy, *TELLING)
    assert done.returncode == 0, done.stdout[-3000:]
