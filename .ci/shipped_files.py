"""What goes into the wheel beside the program: the files that ``cardmaker/shipped_files.txt`` names, and no others.

So a pattern or loom of somebody's own that lies in a checkout is not installed as shipped.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class ShippedFiles(BuildHookInterface):
    """Adds them under ``cardmaker/shipped``; an editable install runs from the checkout as it lies."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Called by the build before the files are packed."""
        if version == "editable":
            return
        root = Path(self.root)
        for name in (root / "cardmaker/shipped_files.txt").read_text("utf-8").split():
            build_data["force_include"][str(root / name)] = f"cardmaker/shipped/{name}"
