"""What the project file promises: every library that is used, none that is not, and everything that ships."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterable, Iterator
from importlib.metadata import packages_distributions

import pytest

import cardmaker
from cardmaker.jobs import file_lookup
from cardmaker.jobs.binder_files import pattern_paths
from cardmaker.model.marks import Face
from cardmaker.pdf.fonts import face_path
from tests.helpers.places import ROOT
from tests.helpers.readme import PAGES

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
PREVIEW, SCAN, PICTURES = "pypdfium2", "zxing-cpp", "pillow"  # asked for only when they are wanted
COMPLETION = "argcomplete"  # likewise
EVERY_CORE = "pytest-xdist"  # loaded by pytest, not imported


def names(requirements: Iterable[str]) -> set[str]:
    """The distributions that requirements name, as the index spells them."""
    return {plain(re.split(r"[\[<>=!~; ]", requirement)[0]) for requirement in requirements}


def plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def used(folder: str) -> set[str]:
    """The distributions whose modules are imported anywhere under a folder."""
    known = packages_distributions()
    found = set()
    for path in (ROOT / folder).rglob("*.py"):
        for module in imported(ast.parse(path.read_text("utf-8"))):
            if module not in sys.stdlib_module_names and module not in ("cardmaker", "tests", "__future__"):
                found.add(plain(known.get(module, [module])[0]))
    return found


def imported(tree: ast.Module) -> Iterator[str]:
    """The first part of the name of each module that is imported by its full name."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name.split(".")[0] for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module.split(".")[0]


RUNTIME = names(PROJECT["project"]["dependencies"])
EXTRAS = {extra: names(wanted) for extra, wanted in PROJECT["project"]["optional-dependencies"].items()}


def test_the_libraries_of_the_program_are_those_it_uses() -> None:
    fonts = {plain(face_path(face).parts[-3]) for face in Face}  # found by name, not imported
    assert (used("cardmaker") - {PREVIEW, SCAN, PICTURES, COMPLETION}) | fonts == RUNTIME


def test_the_libraries_of_the_tests_are_those_they_use() -> None:
    peers = used("tests/benchmarks/peers") - EXTRAS["test"] - RUNTIME
    assert used("tests") - peers | {PREVIEW, EVERY_CORE, COMPLETION} == EXTRAS["test"] | (used("tests") & RUNTIME)


def test_the_command_of_the_tests_uses_every_core() -> None:
    readme = (ROOT / "README.md").read_text("utf-8")
    assert EVERY_CORE in EXTRAS["test"]
    assert "pytest -n auto" in readme


def test_the_libraries_that_ours_is_measured_against_are_used_there_alone() -> None:
    known = {"fpdf": "fpdf2"}  # by the name that is imported, where they are not installed
    inside = {known.get(name, name) for name in used("tests/benchmarks/peers")}
    assert EXTRAS["peers"] - {"cardmaker"} == inside - EXTRAS["test"] - RUNTIME


def test_a_preview_asks_for_what_it_uses() -> None:
    assert EXTRAS["preview"] == {PREVIEW, PICTURES}
    assert EXTRAS["preview"] <= EXTRAS["test"]


def test_reading_a_scan_asks_for_what_it_uses() -> None:
    assert EXTRAS["scan"] == {SCAN, PICTURES}
    assert EXTRAS["scan"] <= EXTRAS["test"]


def test_completion_asks_for_what_it_uses() -> None:
    assert EXTRAS["completion"] == {COMPLETION}


@pytest.mark.parametrize("requirement", PROJECT["project"]["dependencies"])
def test_every_library_has_a_lowest_and_a_highest_version(requirement: str) -> None:
    assert re.fullmatch(r"[a-z0-9-]+>=[\d.]+,<\d+", requirement)


def test_it_says_that_it_is_typed() -> None:
    """PEP 561: without the mark, whoever uses the package is told of no type in it."""
    assert (ROOT / "cardmaker/py.typed").read_bytes() == b""
    assert PROJECT["tool"]["hatch"]["build"]["targets"]["wheel"]["packages"] == ["cardmaker"]
    assert "Typing :: Typed" in PROJECT["project"]["classifiers"]


def test_the_versions_of_python_are_those_it_asks_for() -> None:
    named = [each.removeprefix("Programming Language :: Python :: ") for each in PROJECT["project"]["classifiers"]]
    minors = [int(each.partition(".")[2]) for each in named if each.startswith("3.")]
    assert PROJECT["project"]["requires-python"] == f">=3.{minors[0]}"
    assert minors == [*range(minors[0], minors[-1] + 1)]
    assert minors[0] <= sys.version_info.minor


def test_the_version_is_that_of_the_package() -> None:
    assert PROJECT["project"]["dynamic"] == ["version"]
    assert PROJECT["tool"]["hatch"]["version"]["path"] == "cardmaker/__init__.py"
    assert re.fullmatch(r"\d+\.\d+\.\d+", cardmaker.__version__)


def test_the_program_starts_where_the_project_file_says() -> None:
    module, function = PROJECT["project"]["scripts"]["cardmaker"].split(":")
    code = f"import sys, {module}; sys.exit({module}.{function}(['--version']))"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60, check=True
    )
    assert done.stdout == f"cardmaker {cardmaker.__version__}\n"


def test_what_ships_lies_where_the_program_looks() -> None:
    names = file_lookup.shipped_names()
    assert all((ROOT / name).is_file() for name in names)
    for folder in file_lookup.FOLDERS.values():
        assert any(name.startswith(f"{folder}/") for name in names)


def test_every_file_of_ours_ships_and_nobody_elses() -> None:
    """What lies in a checkout beside them, and is not kept with it, is somebody's own."""
    tracked = subprocess.run(
        ["git", "ls-files", "patterns", "layouts"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    if tracked.returncode or not tracked.stdout:
        pytest.skip("not a checkout")
    assert sorted(name for name in tracked.stdout.split() if name.endswith(".yaml")) == [*file_lookup.shipped_names()]


def test_an_own_pattern_in_a_checkout_does_not_go_into_the_wheel() -> None:
    """The wheel has a list of its own, made by a hook; whole folders would take in what lies beside ours."""
    wheel = PROJECT["tool"]["hatch"]["build"]["targets"]["wheel"]
    assert "force-include" not in wheel
    hook = (ROOT / wheel["hooks"]["custom"]["path"]).read_text("utf-8")
    assert "cardmaker/shipped_files.txt" in hook


def test_the_pages_beside_them_are_no_files_of_ours(monkeypatch: pytest.MonkeyPatch) -> None:
    """The manual's pages lie in ``patterns`` and ``layouts``, and are neither shipped as files nor found by a name."""
    monkeypatch.chdir(ROOT)
    assert {page.parent.name for page in PAGES} > {"patterns", "layouts"}
    assert not [name for name in file_lookup.shipped_names() if name.endswith(".md")]
    for kind in file_lookup.FOLDERS:
        assert "README" not in file_lookup.files_by_stem(kind)
    assert {path.suffix for path in pattern_paths(["patterns"])} == {".yaml"}


def test_the_source_archive_has_all_that_the_tests_read() -> None:
    inside = set(PROJECT["tool"]["hatch"]["build"]["targets"]["sdist"]["only-include"])
    assert inside >= {".ci", ".pictures", "cardmaker", "layouts", "patterns", "tests"}
    assert all((ROOT / name).exists() for name in inside)


def test_nothing_else_lies_at_the_top() -> None:
    tracked = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if tracked.returncode:
        pytest.skip("not a checkout")
    tops = {name.split("/")[0] for name in tracked.stdout.splitlines()}
    plainly = {name for name in tops if not name.startswith(".")}
    allowed = {"README.md", "DEVELOPERS.md", "pyproject.toml", "cardmaker", "layouts", "patterns", "tests", "out"}
    assert plainly <= allowed
