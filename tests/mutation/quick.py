"""Try mutants that mutmut has made, in one session of pytest that has read all tests once: several times as quick.

Why: mutmut begins pytest anew for every mutant, which takes longer than most of our tests. Here the session forks for
every mutant, and the copy asks the tests that come through the changed function, the module's own first and the
quickest first, until one fails. Only what survives its module's own tests and those against published figures costs
more. A mutant that survived all of them in ``PATIENCE_SECONDS`` has survived.

    python -m tests.mutation.quick routes clearance       # what is not known of these modules, or of all
    python -m tests.mutation.quick --again routes    # what survived, once more
"""

from __future__ import annotations

import gc
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Final

import pytest
from _pytest.runner import runtestprotocol

from tests.helpers.places import ROOT
from tests.mutation.run import MODULES, OUTCOMES, OWN_TESTS, PUBLISHED, TESTS, WORK, notes_of

CHILDREN: Final = 2
PATIENCE_SECONDS: Final = 8
SURVIVED, KILLED, TIMEOUT = 0, 1, 36  # as mutmut notes them
PLACE: Final = WORK / "mutants"


def main() -> None:
    again, modules = "--again" in sys.argv, [each for each in sys.argv[1:] if each != "--again"] or list(MODULES)
    shutil.copytree(ROOT / "tests", PLACE / "tests", dirs_exist_ok=True)
    wanted = {"QUICK_MODULES": " ".join(modules), "QUICK_AGAIN": "yes" if again else "", "MUTANT_UNDER_TEST": ""}
    plugins = ("tests.mutation.profile", "tests.mutation.quick", "no:cacheprovider")
    options = [word for plugin in plugins for word in ("-p", plugin)]
    command = [
        "nice",
        "-n",
        "4",
        sys.executable,
        "-m",
        "pytest",
        "--rootdir=.",
        "--assert=plain",
        "--tb=native",
        *options,
        *TESTS,
    ]
    subprocess.run(command, cwd=PLACE, check=True, env={**os.environ, **wanted})


def pytest_runtestloop(session: pytest.Session) -> bool:
    """In place of running the tests: each mutant in a fork of this session."""
    stats = json.loads(Path("mutmut-stats.json").read_text("utf-8"))
    again = bool(os.environ["QUICK_AGAIN"])
    at_work: dict[int, tuple[str, str]] = {}
    gc.disable()
    gc.freeze()  # so that a copy shares what has been read
    for module in os.environ["QUICK_MODULES"].split():
        for mutant in list(_wanted(module, again)):
            if len(at_work) == CHILDREN:
                _note_one(at_work)
            tests = _tests_of(mutant, module, session.items, stats, again=again)
            pid = os.fork()
            if not pid:
                _try(mutant, tests)
            at_work[pid] = module, mutant
    while at_work:
        _note_one(at_work)
    return True


def _wanted(module: str, again: bool) -> Iterator[str]:
    for mutant, code in _notes(module)["exit_code_by_key"].items():
        outcome = "not tried" if code is None else OUTCOMES.get(code, "not tried")
        if outcome == ("survived" if again else "not tried"):
            yield mutant


def _tests_of(
    mutant: str, module: str, items: Sequence[pytest.Item], stats: Mapping[str, Mapping[str, list[str]]], *, again: bool
) -> list[tuple[pytest.Item, float]]:
    """The tests that come through the changed function, quickest first, each with its usual seconds.

    Those of the module itself and of published figures come first; a first round asks no others.
    """
    names = set(stats["tests_by_mangled_function_name"].get(mutant.rpartition("__mutmut_")[0], ()))
    seconds: Mapping[str, float] = stats["duration_by_test"]  # type: ignore[assignment]
    likely = (f"{OWN_TESTS}{module}", PUBLISHED)
    found = [
        (not item.nodeid.startswith(likely), seconds.get(item.nodeid, 0.0), place)
        for place, item in enumerate(items)
        if item.nodeid in names
        or (item.nodeid not in seconds and item.nodeid.startswith(likely))  # new ones of its own
    ]
    return [(items[place], usual) for is_other, usual, place in sorted(found) if again or not is_other]


def _try(mutant: str, tests: Sequence[tuple[pytest.Item, float]]) -> None:
    """Never returns: its exit status is the outcome."""
    quiet = os.open(os.devnull, os.O_WRONLY)
    os.dup2(quiet, 1)
    os.dup2(quiet, 2)
    os.environ["MUTANT_UNDER_TEST"] = mutant
    signal.signal(signal.SIGALRM, lambda *_: os._exit(TIMEOUT))
    stop = time.monotonic() + PATIENCE_SECONDS
    try:
        for item, usual in tests:
            signal.setitimer(signal.ITIMER_REAL, 30 + 20 * usual)
            if any(report.failed for report in runtestprotocol(item, log=False)):
                os._exit(KILLED)
            if time.monotonic() > stop:
                break
        os._exit(SURVIVED)
    finally:  # pytest itself was stopped
        os._exit(KILLED)


def _note_one(at_work: dict[int, tuple[str, str]]) -> None:
    pid, status = os.wait()
    module, mutant = at_work.pop(pid)
    notes = _notes(module)
    notes["exit_code_by_key"][mutant] = os.waitstatus_to_exitcode(status)
    notes_of(module).write_text(json.dumps(notes, indent=4), "utf-8")


def _notes(module: str) -> dict[str, dict[str, int | None]]:
    return json.loads(notes_of(module).read_text("utf-8"))  # type: ignore[no-any-return]  # pytest runs in PLACE


if __name__ == "__main__":
    main()
