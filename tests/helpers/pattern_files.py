"""Pattern files that tests take as sound."""

from __future__ import annotations

from pathlib import Path

from cardmaker.model.pattern import Pattern
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reading.source_text import file_bytes


def read_pattern(path: Path) -> Pattern:
    """The pattern in a file. Raises ProblemsFound."""
    return parse_pattern(file_bytes(path), str(path), path.stem)
