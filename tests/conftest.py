"""What tests of any room may ask for."""

from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture
def empty_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of its own with nothing in it, to work in; its terminal is a hundred letters wide."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "100")
    return tmp_path
