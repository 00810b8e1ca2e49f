"""A plugin for pytest that makes hypothesis quick and always the same, as a mutant must not live or die by chance.

A law that fails is not made small: that it fails is all that is asked here.
"""

from __future__ import annotations

import sys

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
