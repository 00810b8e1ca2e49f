"""A plugin for pytest, for the trying of mutants: few and always the same examples, and the likeliest test first.

A mutant must not live or die by chance, so hypothesis draws the same examples each time. A law that fails is not made
small: that it fails is all that is asked here.
"""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, settings

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
    module = os.environ.get("MUTANT_UNDER_TEST", "").removeprefix("cardmaker.reckoning.").split(".")[0]
    named = [test for test in config.args if "::" in test]
    if not module or not named:
        return
    own = {test for test in named if test.startswith(f"tests/test_{module}")}
    seconds = json.loads(Path("mutmut-stats.json").read_text("utf-8"))["duration_by_test"]
    asked = sorted(named, key=lambda test: (test not in own, seconds.get(test, 0.0)))
    if own and os.environ.get("FIRST_ROUND"):
        asked = [test for test in asked if test in own or test.startswith("tests/published")]
    config.args[:] = asked
