"""A path where no file lies: which of those beside it was meant."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final

from cardmaker.reading.value_words import closest_names

_USUAL: Final = "Check the name and the folder."
_MOST_LOOKED_AT: Final = 5000


def name_meant(path: Path) -> str:
    """What to write for a path that leads nowhere: another ending, quotes around spaces, or the nearest name."""
    try:
        names = sorted(os.listdir(path.parent))[:_MOST_LOOKED_AT]
    except OSError:
        return f"There is no folder {path.parent} either." if not path.parent.exists() else _USUAL
    if spaced := [name for name in names if name.startswith(f"{path.name} ") or name.endswith(f" {path.name}")]:
        return f'Did you mean "{path.parent / spaced[0]}"? A name with spaces in it stands in quotes.'
    endings = (f"{path.name}.yaml", f"{path.stem}.yaml", f"{path.stem}.yml")
    if other := [name for name in names if name in endings]:
        return f"Did you mean {path.parent / other[0]}?"
    stems = {name.rpartition(".")[0]: name for name in names if name.endswith((".yaml", ".yml"))}
    near = closest_names(path.stem, stems)
    return f"Did you mean {path.parent / stems[near]}?" if near else _USUAL
