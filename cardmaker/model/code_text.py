"""The text in a printed code: a pattern file after a line with its name and a check; plain, or compressed.

The line is a remark in YAML, so that what a phone shows is itself a pattern file. Compressed, line and file are packed
by zlib (RFC 1950) and written in Base45 (RFC 9285), since many phones pass on text and nothing else: whoever has that
text and both standards gets the file back without this program.
"""

from __future__ import annotations

import re
import zlib
from typing import Final
from zlib import error as NotPacked

from cardmaker.model.carried_file import LARGEST_FILE, Carried, is_plain_name

_DIGITS: Final = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"  # of Base45, which are also a QR code's letters
_VALUES: Final = {digit: value for value, digit in enumerate(_DIGITS.encode())}
_PACKED: Final = b"CARDMAKER:ZLIB:BASE45:"
_LINE: Final = re.compile(rb"# cardmaker file ([^\n]+) ([0-9a-f]{8})\n")
_BYTE_ORDER_MARK: Final = b"\xef\xbb\xbf"


class ForeignCode(ValueError):
    """A code that another program wrote."""


class DamagedCode(ValueError):
    """A code of ours, whose file is not what was printed."""


def plain_text(file: Carried) -> bytes | None:
    """The file as anything that reads codes can show it; None where its bytes are not plain text (UTF-8)."""
    try:
        file.data.decode("utf-8")
    except UnicodeDecodeError:
        return None
    return None if file.data.startswith(_BYTE_ORDER_MARK) else _with_line(file)


def packed_text(file: Carried) -> bytes:
    """The file in fewer modules, for this program or for whoever has the two standards."""
    return _PACKED + _base45(zlib.compress(_with_line(file), 9))


def file_in(text: bytes) -> Carried:
    """The file that a code's text holds, byte for byte. Raises ForeignCode, DamagedCode."""
    if text.startswith(_PACKED):
        text = _unpacked(text.removeprefix(_PACKED))
    elif not _LINE.match(text):
        raise ForeignCode
    line = _LINE.match(text)
    if not line:
        raise DamagedCode
    data, name = text[line.end() :], line[1].decode(errors="replace")
    if not is_plain_name(name) or line[2] != _check(name, data):
        raise DamagedCode
    return Carried(name, data)


def _with_line(file: Carried) -> bytes:
    return b"# cardmaker file %b %b\n%b" % (file.name.encode(), _check(file.name, file.data), file.data)


def _check(name: str, data: bytes) -> bytes:
    """CRC-32 of name and file (as in ISO 3309): a reader that mends a smeared code may mend it wrongly."""
    return b"%08x" % zlib.crc32(data, zlib.crc32(name.encode(errors="replace")))


def _unpacked(digits: bytes) -> bytes:
    packed = _from_base45(digits)
    unpacking = zlib.decompressobj()
    try:
        text = unpacking.decompress(packed, LARGEST_FILE + 1)
    except NotPacked:
        raise DamagedCode from None
    if not unpacking.eof or len(text) > LARGEST_FILE:
        raise DamagedCode
    return text


def _base45(data: bytes) -> bytes:
    """Two bytes are three digits, a last one is two, the lowest digit first (RFC 9285, section 4)."""
    digits = bytearray()
    for at in range(0, len(data), 2):
        value = int.from_bytes(data[at : at + 2], "big")
        for _ in range(len(data[at : at + 2]) + 1):
            value, digit = divmod(value, len(_DIGITS))
            digits.append(ord(_DIGITS[digit]))
    return bytes(digits)


def _from_base45(digits: bytes) -> bytes:
    data = bytearray()
    for at in range(0, len(digits), 3):
        group = digits[at : at + 3]
        try:
            value = sum(_VALUES[digit] * len(_DIGITS) ** place for place, digit in enumerate(group))
            data += value.to_bytes(len(group) - 1, "big")
        except (KeyError, OverflowError):
            raise DamagedCode from None
    return bytes(data)
