"""Where things lie in a checkout."""

from __future__ import annotations

from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[2]
CASES: Final = ROOT / "tests" / "cases"
