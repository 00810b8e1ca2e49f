"""Where things lie in a checkout."""

from __future__ import annotations

import atexit
import shutil
from functools import cache
from pathlib import Path
from tempfile import mkdtemp
from typing import Final

from cardmaker.jobs.file_lookup import shipped_names

ROOT: Final = Path(__file__).resolve().parents[2]
CASES: Final = ROOT / "tests" / "cases"


def shipped_in(folder: str) -> tuple[Path, ...]:
    """The files of a folder that ship, in the order of their names: whatever else lies there is somebody's own."""
    return tuple(ROOT / name for name in sorted(shipped_names()) if str(Path(name).parent) == folder)


@cache
def shipped_alone() -> Path:
    """A folder with what ships and nothing else, laid out as in a checkout; of this process alone."""
    folder = Path(mkdtemp(prefix="shipped-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    for name in shipped_names():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / name, folder / name)
    return folder
