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


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the module's own tests first, the quickest before the others; on a first round, try no more than those.

    A function that no test of its own module asks is tried by all that do ask it.
    """
    module = os.environ.get("MUTANT_UNDER_TEST", "").removeprefix("cardmaker.reckoning.").split(".")[0]
    seconds = _seconds()
    own = {item.nodeid for item in items if item.path.stem.startswith(f"test_{module}")}
    if not module or not own:
        return
    items.sort(key=lambda item: (item.nodeid not in own, seconds.get(item.nodeid, 0.0)))
    if os.environ.get("FIRST_ROUND"):
        items[:] = [item for item in items if item.nodeid in own or item.path.parent.name == "published"]


def _seconds() -> dict[str, float]:
    """How long each test took when mutmut tried them all."""
    notes = Path("mutmut-stats.json")
    return json.loads(notes.read_text("utf-8"))["duration_by_test"] if notes.exists() else {}
