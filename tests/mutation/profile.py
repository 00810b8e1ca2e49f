"""A plugin for pytest, for the trying of mutants: few and always the same examples, and the likeliest test first.

A mutant must not live or die by chance, so hypothesis draws the same examples each time. A law that fails is not made
small: that it fails is all that is asked here. What has been reckoned is forgotten before each test: mutmut tries
mutants in copies of a process that has run all tests once, and an answer out of a cache is not asked of the mutant.
"""

from __future__ import annotations

import json
import os
import sys
from functools import _lru_cache_wrapper
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, settings

from tests.mutation.run import OWN_TESTS, PUBLISHED, module_of

sys.setrecursionlimit(4 * sys.getrecursionlimit())  # each function is called through two more of mutmut's

settings.register_profile(
    "mutation",
    database=None,
    deadline=None,
    derandomize=True,
    max_examples=30,
    phases=(Phase.explicit, Phase.generate),
    suppress_health_check=(HealthCheck.too_slow,),
)
settings.load_profile("mutation")


def pytest_configure(config: pytest.Config) -> None:
    """Of the tests that mutmut names, put the module's own first and quick ones before slow ones.

    On a first round no others are tried, but for those against published figures, unless there are none of its own.
    """
    module = module_of(os.environ.get("MUTANT_UNDER_TEST", ""))
    named = [test for test in config.args if "::" in test]
    if not module or not named:
        return
    own = {test for test in named if test.startswith(f"{OWN_TESTS}{module}")}
    seconds = json.loads(Path("mutmut-stats.json").read_text("utf-8"))["duration_by_test"]
    order = sorted(named, key=lambda test: (test not in own, seconds.get(test, 0.0)))
    if own and os.environ.get("FIRST_ROUND"):
        order = [test for test in order if test in own or test.startswith(PUBLISHED)]
    config.args[:] = order


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup() -> None:
    """Empties the caches of the reckoning, and those in which tests keep what they have asked it."""
    for name, module in list(sys.modules.items()):
        if name.startswith(("cardmaker.reckoning", "tests.")):
            for value in list(vars(module).values()):
                if isinstance(value, _lru_cache_wrapper):
                    value.cache_clear()
