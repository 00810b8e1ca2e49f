"""The rooms of the package, from the lowest to the highest, and what each may see."""

from __future__ import annotations

from typing import Final

# Every room with the rooms below it that it may see. A room sees itself; the order is that of the floors.
SEES: Final[dict[str, set[str]]] = {
    "model": set(),
    "files": {"model"},
    "reading": {"model"},
    "reckoning": {"model"},
    "wording": {"model", "reckoning"},
    "editing": {"model", "reckoning", "wording"},
    "layout": {"model", "reckoning", "wording"},
    "card": {"model", "reckoning", "wording", "layout"},
    "binder": {"model", "reckoning", "wording", "layout"},
    "school": {"model", "reckoning", "wording", "layout", "card"},
    "tape_sheet": {"model", "reckoning", "wording", "layout", "card"},
    "events": {"model", "reckoning", "wording", "layout", "card", "school"},
    "form": {"model", "reckoning", "wording", "layout"},
    "pdf": {"model"},
    "jobs": {
        "model",
        "files",
        "reading",
        "reckoning",
        "wording",
        "editing",
        "layout",
        "card",
        "binder",
        "school",
        "tape_sheet",
        "events",
        "form",
        "pdf",
    },
    "cli": {"model", "files", "reading", "reckoning", "wording", "editing", "jobs"},
    "__main__": {"cli"},
}  # fmt: skip
