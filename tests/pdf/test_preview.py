"""The preview is the page as a picture, and says what to install when it cannot be made."""

from __future__ import annotations

import sys
from io import BytesIO

import pytest
from PIL import Image

from cardmaker.model.marks import Box, Page, Rectangle
from cardmaker.pdf.preview import preview_png
from tests.helpers.painted import paint

PAGES = [
    Page(127, 76.2, (Rectangle(Box(25.4, 25.4, 50.8, 12.7), "#a5322b"),)),
    Page(76.2, 127, (Rectangle(Box(0, 0, 76.2, 127), "#20304f"),)),
]
PDF = paint(PAGES, title="Preview")


def test_a_page_is_pictured_at_its_size() -> None:
    picture = Image.open(BytesIO(preview_png(PDF, dpi=100)))
    assert (picture.format, picture.size) == ("PNG", (500, 300))
    assert picture.info["dpi"] == pytest.approx((100, 100), abs=0.1)
    assert picture.getpixel((150, 125)) == (0xA5, 0x32, 0x2B)
    assert picture.getpixel((95, 125)) == (255, 255, 255)
    assert picture.getpixel((305, 125)) == (255, 255, 255)


def test_another_page() -> None:
    picture = Image.open(BytesIO(preview_png(PDF, page=1)))
    assert picture.size == (450, 750)
    assert picture.getpixel((200, 400)) == (0x20, 0x30, 0x4F)


def test_the_same_picture_every_time() -> None:
    assert preview_png(PDF) == preview_png(PDF)


def test_without_the_package_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pypdfium2", None)
    with pytest.raises(ModuleNotFoundError, match="pip install pypdfium2"):
        preview_png(PDF)
