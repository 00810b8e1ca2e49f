"""Which code holds a file, and how it is drawn: read by a program that did not make it."""

from __future__ import annotations

import random

import numpy as np
import numpy.typing as npt
import pytest
from zxingcpp import BarcodeFormat, BarcodeFormats, read_barcodes

from cardmaker.layout.qr_code import MOST_MODULE_MM, FileCode, code_mark, file_code
from cardmaker.model.carried_file import Carried
from cardmaker.model.code_text import packed_text, plain_text
from cardmaker.model.marks import Box
from tests.helpers.shipped import PATTERN_FILES

MODULES = {version: 17 + 4 * version for version in range(1, 41)}  # ISO/IEC 18004, 6.3.1


def code_of(data: bytes) -> FileCode:
    code = file_code(Carried("a.yaml", data))
    assert code
    return code


def read(code: FileCode) -> list[bytes]:
    grey: npt.NDArray[np.uint8] = np.array([list(row) for row in code.rows], np.uint8)
    picture = np.pad(255 - 255 * np.kron(grey, np.ones((4, 4), np.uint8)), 16, constant_values=255)
    return [found.bytes for found in read_barcodes(picture, formats=BarcodeFormats(BarcodeFormat.QRCode))]


def dull(length: int) -> bytes:
    """Text of so many bytes that hardly gets smaller: small letters by chance."""
    chance = random.Random(5)
    return "".join(chance.choice("abcdefghijklmnopqrstuvwxyz0123456789\n: ") for _ in range(length)).encode()


@pytest.mark.parametrize(
    "data", [b"title: x\n", "title: Três – „Čaj“ 三\n".encode(), b"a: b\r\n", b"\x82\xa0\x82\xa2", b""]
)
def test_the_code_says_the_text_byte_for_byte(data: bytes) -> None:
    file, code = Carried("a.yaml", data), code_of(data)
    assert read(code) == [packed_text(file) if code.is_packed else plain_text(file)]


# 169 modules of 0.355 mm are the most; at the level L they hold 2699 bytes, or 3927 letters (ISO/IEC 18004, table 7,
# version 38, from memory)


def test_a_file_is_plain_as_long_as_one_code_holds_it_and_packed_when_it_does_not() -> None:
    line = len(plain_text(Carried("a.yaml", b"")) or b"")
    assert not code_of(dull(2699 - line)).is_packed
    assert code_of(dull(2699 - line)).modules == MODULES[38]
    assert code_of(b"#" * (2700 - line)).is_packed


def test_a_file_that_is_too_large_has_no_code() -> None:
    lengths = [length for length in range(2700, 4000, 20) if len(packed_text(Carried("a.yaml", dull(length)))) <= 3927]
    assert len(lengths) > 1
    assert code_of(dull(lengths[-1])).modules == MODULES[38]
    assert file_code(Carried("a.yaml", dull(lengths[-1] + 20))) is None


def test_a_small_file_mends_more_and_its_code_is_no_larger_than_need_be() -> None:
    code = code_of(b"title: x\n")
    assert code.modules <= MODULES[4]
    assert code.most_module_mm == MOST_MODULE_MM


def test_the_mark_covers_the_dark_modules_and_nothing_else() -> None:
    """Counted by the area of its figures and by points: each module's middle, and a hair inside its corners."""
    code = code_of((PATTERN_FILES[0]).read_bytes())
    module = 0.4
    square = Box(10.0, 20.0, code.modules * module, code.modules * module)
    mark = code_mark(code, square)
    assert (mark.stroke, mark.fill) == (None, "#000000")
    figures = [mark.steps[at : at + 5] for at in range(0, len(mark.steps), 5)]
    covered = np.zeros((code.modules, code.modules), int)
    for (_, left, top), (_, right, _), (_, _, bottom), *_ in figures:  # type: ignore[misc]
        columns = [(float(x) - square.left) / module for x in (left, right)]
        rows = [(float(y) - square.top) / module for y in (top, bottom)]
        assert np.allclose([*columns, *rows], np.round([*columns, *rows]), atol=1e-6)
        covered[round(rows[0]) : round(rows[1]), round(columns[0]) : round(columns[1])] += 1
    assert covered.tolist() == [list(row) for row in code.rows]
