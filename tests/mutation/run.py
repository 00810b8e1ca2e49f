"""Change the reckoning in small ways, thousands of times, and see whether a test notices each time. Run by hand.

mutmut does the changing and the trying, among copies of all files in ``build/mutation``; what is known stays there.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
from collections import Counter
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final

from tests.helpers.places import ROOT

WORK: Final = ROOT / "build" / "mutation"
RECKONING: Final = Path("cardmaker") / "reckoning"
MUTMUT: Final = (sys.executable, "-m", "mutmut")
MODULES: Final = {path.stem: path.relative_to(ROOT) for path in sorted((ROOT / RECKONING).rglob("[!_]*.py"))}

# The tests that ask the reckoning and draw nothing, so that a mutant costs about a second. The last speak of figures
# in books: with those of the mutant's own module they are the first that it is tried by.
OWN_TESTS: Final = "tests/reckoning/test_"
PUBLISHED: Final = "tests/published"
TESTS: Final = (
    "tests/reckoning",
    "tests/jobs/test_resize_command.py",
    "tests/product/test_catalogue.py",
    "tests/wording/test_report.py",
    PUBLISHED,
)
OUTCOMES: Final = {
    **{0: "survived", 5: "survived", 33: "survived"},  # 5 and 33: no test came near it
    **{1: "killed", 3: "killed", -11: "killed"},  # -11: endless recursion
    **{24: "timeout", -24: "timeout", 36: "timeout", 152: "timeout", 255: "timeout"},
}


def main() -> None:
    asked = _arguments()
    if not asked.known:
        _copy()
        anew = [f"{dotted(module)}.*" for module in asked.modules]
        wanted = _survivors_of(asked.modules) if asked.again else anew
        _mutmut("run", "--max-children", str(asked.children), *wanted, first_round=not asked.again)
    modules = asked.modules or tuple(MODULES)
    for line in _table(modules):
        print(line)
    for module in modules:
        for mutant in _survivors(module):
            shown = subprocess.run([*MUTMUT, "show", mutant], cwd=WORK, capture_output=True, text=True, check=True)
            print(f"\n{shown.stdout}")


def dotted(module: str) -> str:
    """``walk`` as mutmut names it: ``cardmaker.reckoning.winding.walk``."""
    return ".".join(MODULES[module].with_suffix("").parts)


def notes_of(module: str) -> Path:
    """Where mutmut notes what became of a module's mutants, seen from its folder of mutants."""
    return MODULES[module].with_suffix(".py.meta")


def module_of(mutant: str) -> str:
    """The bare name of a mutant's module: ``walk`` of ``cardmaker.reckoning.winding.walk.x_strokes__mutmut_3``."""
    return mutant.rpartition(".")[0].rpartition(".")[2]


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument(
        "modules", nargs="*", choices=[*MODULES, []], metavar="module",
        help="modules by their bare names, to try from the start; if left out, all that is not known",
    )  # fmt: skip
    parser.add_argument("--again", action="store_true", help="try those that survived once more, by all tests")
    parser.add_argument("--known", action="store_true", help="tell what is known, and try nothing")
    parser.add_argument("--children", type=int, default=2, help="how many are tried side by side")
    return parser.parse_args()


def _copy() -> None:
    """The checkout as it is now, beside mutmut's notes. Tests are copied anew, since a file may have gone."""
    for old in (WORK / "tests", WORK / "mutants" / "tests"):
        shutil.rmtree(old, ignore_errors=True)
    for folder in ("cardmaker", "layouts", "patterns", "tests"):
        shutil.copytree(ROOT / folder, WORK / folder, dirs_exist_ok=True)
    listed = {
        "source_paths": ["cardmaker"],
        "only_mutate": [f"{RECKONING}/*.py"],  # the star stands for folders as well
        "also_copy": ["layouts", "patterns"],
        "pytest_add_cli_args": ["-p", "tests.mutation.profile", "-p", "no:cacheprovider"],
        "pytest_add_cli_args_test_selection": TESTS,
    }
    lines = [f"{key} =\n" + "".join(f"    {value}\n" for value in values) for key, values in listed.items()]
    (WORK / "setup.cfg").write_text(
        "[mutmut]\n" + "".join(lines) + "timeout_multiplier = 2\ntimeout_constant = 15\n", "utf-8"
    )


def _survivors_of(modules: Sequence[str]) -> list[str]:
    return [mutant for module in modules or MODULES for mutant in _survivors(module)] or sys.exit("None survived.")


def _mutmut(*arguments: str, first_round: bool) -> None:
    """At low priority, as it takes long and nobody waits for it."""
    surroundings = {**os.environ, "FIRST_ROUND": "yes" if first_round else ""}
    subprocess.run(["nice", "-n", "10", *MUTMUT, *arguments], cwd=WORK, check=True, env=surroundings)


def _outcomes(module: str) -> Mapping[str, str]:
    """Each mutant of a module by its name, and what became of it."""
    notes = json.loads((WORK / "mutants" / notes_of(module)).read_text("utf-8"))
    return {mutant: OUTCOMES.get(code, "not tried") for mutant, code in notes["exit_code_by_key"].items()}


def _survivors(module: str) -> list[str]:
    return [mutant for mutant, outcome in _outcomes(module).items() if outcome == "survived"]


def _table(modules: Sequence[str]) -> list[str]:
    """Counts by module, as a table of Markdown. The share is of those tried; one that never ends counts as noticed."""
    heads = ("module", "mutants", "killed", "timeout", "survived", "not tried", "share")
    lines = ["| " + " | ".join(heads) + " |", "|---" + "|--:" * (len(heads) - 1) + "|"]
    counts = {module: Counter(_outcomes(module).values()) for module in modules}
    for module, count in [*counts.items(), ("all", sum(counts.values(), Counter()))]:
        found = count["killed"] + count["timeout"]
        share = f"{100 * found / max(found + count['survived'], 1):.1f} %"
        cells = (module, count.total(), *(count[outcome] for outcome in heads[2:-1]), share)
        lines.append("| " + " | ".join(map(str, cells)) + " |")
    return lines


if __name__ == "__main__":
    main()
