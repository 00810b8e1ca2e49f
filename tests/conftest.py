"""What tests of any room may ask for, and where they run."""

from __future__ import annotations

import atexit
import os
import shutil
from pathlib import Path
from tempfile import mkdtemp

import pytest


@pytest.hookimpl(tryfirst=True)
def pytest_collection(session: pytest.Session) -> None:
    """Tests run in an empty folder. In the checkout, what somebody keeps there would be hers: her looms would be
    chosen, and her settings would hold. The process that only hands tests to others stays, for they begin there."""
    if not session.config.pluginmanager.hasplugin("dsession"):
        folder = mkdtemp(prefix="nobodys-")
        atexit.register(shutil.rmtree, folder, ignore_errors=True)
        os.chdir(folder)


@pytest.fixture
def empty_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of its own with nothing in it, to work in; its terminal is a hundred letters wide."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "100")
    return tmp_path
