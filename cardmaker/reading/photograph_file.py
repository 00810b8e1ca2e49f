"""A photograph's file: its size and its picture, taken out of a JPEG or a PNG without a library for pictures.

A document takes both as they are (ISO 32000-1:2008, 7.4.4 and 7.4.8), so that nothing is decoded but to see that it is
whole. What a camera noted in the file, such as where it stood, is left behind.
"""

from __future__ import annotations

import zlib
from pathlib import Path
from struct import unpack
from typing import Final, Literal
from zlib import error as NotDeflated

from cardmaker.model.photograph import LARGEST_PHOTOGRAPH, MOST_PIXELS, Photograph, Turn
from cardmaker.model.record_class import record

_PNG_MARK: Final = b"\x89PNG\r\n\x1a\n"
_CHANNELS: Final = {0: 1, 2: 3, 3: 1}  # by the PNG's colour type; 4 and 6 have parts that can be seen through
_FRAMES: Final = (0xC0, 0xC1, 0xC2)  # markers of JPEGs that documents may hold: baseline, extended, progressive
_ALONE: Final = frozenset({0x01, *range(0xD0, 0xD8)})  # markers without a length
_SCAN, _EXIF, _COLOURS = 0xDA, 0xE1, 0xEE
_TURNS: Final[dict[int, Turn]] = {1: 0, 3: 180, 6: 90, 8: 270}  # EXIF 2.3, tag 0x0112; the others are mirrored
_SAVE_AGAIN: Final = "Open it in a program for pictures and save it as a JPEG of everyday kind."


class NotPrintable(ValueError):
    """A photograph that cannot be printed: what it is, and what to do about it."""

    def __init__(self, what: str, remedy: str) -> None:
        super().__init__(what)
        self.remedy = remedy


def read_photograph(path: Path) -> Photograph:
    """The photograph in a file. Raises NotPrintable."""
    try:
        if path.is_file():
            with path.open("rb") as file:
                return photograph_of(file.read(LARGEST_PHOTOGRAPH + 1), path.name)
    except OSError as error:
        raise NotPrintable(f"cannot be read: {error.strerror}", "See that it may be read.") from None
    raise NotPrintable(
        f"is not there: {path} is no file", "Put it beside the pattern file, or write may_print_photograph: no."
    )


def photograph_of(raw: bytes, name: str) -> Photograph:
    """The photograph in the bytes of a file. Raises NotPrintable."""
    if len(raw) > LARGEST_PHOTOGRAPH:
        most = LARGEST_PHOTOGRAPH // (1024 * 1024)
        raise NotPrintable(f"is larger than {most} MB", "Save it smaller: 1,500 dots across are enough.")
    if raw.startswith(_PNG_MARK):
        picture = _png(raw, name)
    elif raw.startswith(b"\xff\xd8"):
        picture = _jpeg(raw, name)
    else:
        raise NotPrintable("is neither a JPEG nor a PNG, whatever its name says", _SAVE_AGAIN)
    if not 0 < picture.wide * picture.high <= MOST_PIXELS:
        raise NotPrintable(f"has {picture.wide} by {picture.high} dots", "Save it smaller: 1,500 across are enough.")
    return picture


def _torn() -> NotPrintable:
    return NotPrintable("is torn: a part of it is missing", "Take the file from where it came once more.")


# JPEG (ITU-T T.81, annex B)


@record
class _Segment:
    marker: int
    whole: bytes  # with marker and length

    @property
    def inside(self) -> bytes:
        return self.whole[4:]


def _jpeg(raw: bytes, name: str) -> Photograph:
    """Segments that say how the picture is to be decoded are kept, with the mark of colours (APP14); others go."""
    segments, scan = _segments(raw)
    frame = next((each for each in segments if each.marker in _FRAMES), None)
    end = raw.rfind(b"\xff\xd9")
    if end < scan:
        raise _torn()
    if frame is None or len(frame.inside) < 6:
        raise NotPrintable("is a JPEG of a rare kind", _SAVE_AGAIN)
    bits, high, wide, channels = unpack(">BHHB", frame.inside[:6])
    if bits != 8 or channels not in (1, 3):
        raise NotPrintable("is a JPEG with colours for a printing press", _SAVE_AGAIN)
    kept = [each.whole for each in segments if not 0xE0 <= each.marker <= 0xEF or each.marker in (0xE0, _COLOURS)]
    kept = [whole for whole in kept if whole[1] != 0xFE]  # remarks
    data = b"\xff\xd8" + b"".join(kept) + raw[scan : end + 2]
    return Photograph(name, "jpeg", data, wide, high, channels, turned=_turn_of(segments))


def _segments(raw: bytes) -> tuple[list[_Segment], int]:
    """The segments before the picture itself, and where that begins. Raises NotPrintable."""
    found: list[_Segment] = []
    at = 2
    while at + 4 <= len(raw):
        if raw[at] != 0xFF:
            break
        marker = raw[at + 1]
        if marker == 0xFF or marker in _ALONE:
            at += 1 if marker == 0xFF else 2
            continue
        if marker == _SCAN:
            return found, at
        (length,) = unpack(">H", raw[at + 2 : at + 4])
        found.append(_Segment(marker, raw[at : at + 2 + length]))
        at += 2 + max(2, length)
    raise _torn()


def _turn_of(segments: list[_Segment]) -> Turn:
    """How the camera was held. Raises NotPrintable for a picture that is stored mirrored."""
    held = next((_orientation(each.inside[6:]) for each in segments if _is_exif(each)), 1)
    if held not in _TURNS:
        raise NotPrintable("is stored as its own mirror image", _SAVE_AGAIN)
    return _TURNS[held]


def _is_exif(segment: _Segment) -> bool:
    return segment.marker == _EXIF and segment.inside.startswith(b"Exif\0\0")


def _orientation(tiff: bytes) -> int:
    """The value of tag 0x0112 in the first directory; 1 where it is not told or cannot be read."""
    order: Literal["<", ">"] = "<" if tiff[:2] == b"II" else ">"
    try:
        (start,) = unpack(f"{order}I", tiff[4:8])
        (count,) = unpack(f"{order}H", tiff[start : start + 2])
        for entry in range(count):
            at = start + 2 + 12 * entry
            tag, _, _, value = unpack(f"{order}HHIH", tiff[at : at + 10])
            if tag == 0x0112:
                return int(value)
    except Exception:
        return 1
    return 1


# PNG (ISO/IEC 15948:2004)


def _png(raw: bytes, name: str) -> Photograph:
    chunks = _chunks(raw)
    wide, high, bits, colours, _, _, interlaced = unpack(">IIBBBBB", chunks.get(b"IHDR", b"")[:13].ljust(13, b"\0"))
    if colours not in _CHANNELS or b"tRNS" in chunks:
        raise NotPrintable("has parts that can be seen through", _SAVE_AGAIN)
    if interlaced or bits not in (1, 2, 4, 8) or (colours == 3 and not chunks.get(b"PLTE")):
        raise NotPrintable("is a PNG of a rare kind", _SAVE_AGAIN)
    picture = Photograph(
        name, "png", chunks.get(b"IDAT", b""), wide, high, _CHANNELS[colours], bits,
        chunks[b"PLTE"] if colours == 3 else b"",
    )  # fmt: skip
    if 0 < wide * high <= MOST_PIXELS and not _is_whole(picture):
        raise _torn()
    return picture


def _chunks(raw: bytes) -> dict[bytes, bytes]:
    """The chunks by their names, those of the picture put together. Raises NotPrintable."""
    found: dict[bytes, bytes] = {}
    at = len(_PNG_MARK)
    while at + 12 <= len(raw):
        length, name = unpack(">I4s", raw[at : at + 8])
        inside = raw[at + 8 : at + 8 + length]
        if name == b"IEND":
            return found
        found[name] = found.get(name, b"") + inside if name == b"IDAT" else inside
        at += 12 + length
    raise _torn()


def _is_whole(picture: Photograph) -> bool:
    """Whether as many bytes come out as the picture has dots, with one more before each row."""
    row = 1 + (picture.wide * picture.channels * picture.bits + 7) // 8
    unpacking = zlib.decompressobj()
    try:
        return len(unpacking.decompress(picture.data, row * picture.high + 1)) == row * picture.high
    except NotDeflated:
        return False
