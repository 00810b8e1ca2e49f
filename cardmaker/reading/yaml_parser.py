"""PyYAML, loaded without what only its parser in Python needs; everything else takes it from here.

Why: as it loads, PyYAML compiles a dozen patterns. One is of every sign that can be printed, which alone takes a
thirteenth of a cold start. Only its parser in Python asks them; ours is the parser in C, which has a check of its own.
No issue is known to us. This goes when PyYAML compiles them late, or the standard library compiles such a pattern
quickly.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, Final

_COMPILE: Final = re.compile


class CompiledWhenUsed:
    """A pattern that is compiled at the first look at anything of it, and answers like any other."""

    __slots__ = ("_flags", "_pattern")

    def __init__(self, pattern: str, flags: int = 0) -> None:
        self._pattern, self._flags = pattern, flags

    def __getattr__(self, name: str) -> Any:
        return getattr(_COMPILE(self._pattern, self._flags), name)


@contextmanager
def patterns_when_used() -> Iterator[None]:
    """While modules load, ``re.compile`` puts the work off."""
    vars(re)["compile"] = CompiledWhenUsed
    try:
        yield
    finally:
        vars(re)["compile"] = _COMPILE


with patterns_when_used():
    import yaml as yaml
