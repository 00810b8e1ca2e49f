"""What is imported only when it is touched is not loaded by a card, and is whole for whoever touches it afterwards."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.helpers.places import ROOT

CARD = """
import sys
from cardmaker.cli.command_line import run_command_line as main
assert main(["card", "three-paths", "--out", sys.argv[1]]) == 0
loaded = "PIL.ImageMode" in sys.modules or "PIL.ExifTags" in sys.modules
"""
AFTERWARDS = """
import PIL.Image
from PIL import Image
from reportlab.lib.utils import ImageReader
assert PIL.Image is Image
assert Image.new("L", (3, 2)).size == (3, 2)
assert ImageReader(Image.new("L", (3, 2))).getSize() == (3, 2)
"""


def run(code: str, out: Path) -> str:
    done = subprocess.run(
        [sys.executable, "-c", code, str(out)], cwd=out.parent, env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert not done.returncode, done.stderr
    return done.stdout.splitlines()[-1]


def test_a_card_does_not_load_pillow(tmp_path: Path) -> None:
    assert run(f"{CARD}print(loaded)", tmp_path / "card.pdf") == "False"


@pytest.mark.parametrize(
    "name", ["dataclasses", "difflib", "email", "http", "jsonschema", "pypdf", "segno", "ssl", "xml"]
)
def test_a_card_does_not_load_what_it_does_not_need(name: str, tmp_path: Path) -> None:
    """Each of these takes a fiftieth of a cold start or more; one import at the top of a module brings it back."""
    assert run(f"{CARD}print({name!r} in sys.modules)", tmp_path / "card.pdf") == "False"


def test_pillow_is_whole_for_whoever_touches_it_after_a_card(tmp_path: Path) -> None:
    assert run(f"{CARD}{AFTERWARDS}print('whole')", tmp_path / "card.pdf") == "whole"


def test_pillow_stays_as_it_is_where_it_was_loaded_before(tmp_path: Path) -> None:
    before = "from PIL import Image\nkept = Image.Image\n"
    assert run(f"{before}{CARD}print(Image.Image is kept)", tmp_path / "card.pdf") == "True"
