"""Which file a name means: a path, or the stem of a file at hand, the user's own before those that are shipped."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final, Literal

Kind = Literal["pattern", "loom", "pegs", "layout", "class", "binder"]

FOLDERS: Final[dict[Kind, str]] = {
    "pattern": "patterns",
    "loom": "layouts/looms",
    "pegs": "layouts/pegs",
    "layout": "layouts/cards",
    "class": "layouts/classes",
    "binder": "layouts/binders",
}
ENDINGS: Final = (".yaml", ".yml")


class WrongUsage(Exception):
    """What was asked for does not exist or does not go together."""


def shipped() -> Path:
    """Where the patterns and layouts lie that came with the program: in the wheel, or beside a checkout."""
    package = Path(__file__).parents[1]
    inside = package / "shipped"
    return inside if inside.is_dir() else package.parent


def at_hand(kind: Kind) -> dict[str, Path]:
    """Every file of a kind by its stem: those shipped, and the user's own, which win."""
    files: dict[str, Path] = {}
    for root in (shipped(), Path()):
        inside = _inside(root / FOLDERS[kind])
        for ending in ENDINGS:
            files |= {path.stem: path for path in inside if path.name.endswith(ending)}
    return dict(sorted(files.items()))


def _inside(folder: Path) -> list[Path]:
    """What lies in a folder; nothing where there is none, or none that may be looked into."""
    try:
        return [folder / name for name in sorted(os.listdir(folder))]
    except OSError:
        return []


def find(kind: Kind, name: str) -> Path:
    """The file that a name means: a path, or the stem of a file at hand. Raises WrongUsage."""
    path = Path(name)
    if path.suffix in ENDINGS or path.exists() or len(path.parts) > 1:
        return path
    known = at_hand(kind)
    if name in known:
        return known[name]
    from cardmaker.wording.phrases import did_you_mean

    hint = did_you_mean(name, known, f"At hand: {', '.join(known) or 'none'}.")
    wanted = "place to wind" if kind == "pegs" else kind
    raise WrongUsage(f"There is no {wanted} named '{name}'. {hint}")


def yaml_file(path: Path, name: str) -> Path:
    """The path again, if a file may ask for it by this name. Raises WrongUsage.

    Why: a binder or class file may come from anybody; it opens .yaml files and nothing else of this computer.
    """
    if path.suffix not in ENDINGS:
        raise WrongUsage(f"'{name}' is no .yaml file. Name it by its file's stem, or by a path to one.")
    return path
