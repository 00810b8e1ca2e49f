"""The file in a printed code, from a scan or a photograph. Needs the optional packages zxing-cpp and pillow."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from io import BytesIO
from typing import TYPE_CHECKING, Final

from cardmaker.model.carried_file import Carried
from cardmaker.model.code_text import DamagedCode, ForeignCode, file_in
from cardmaker.pdf.attachments import CannotRestore

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_PIXELS: Final = 64_000_000  # nearly A3 at 600 dpi: in colours a quarter of a gigabyte
_KINDS: Final = ("PNG", "JPEG")
_NOT_THERE: Final = (
    "there is no code on it, or it is not sharp enough: scan the page at 300 or 600 dpi, with all of the code on it"
)
_DAMAGED: Final = (
    "the code on it is damaged, or not sharp enough, so its file cannot be sure: clean it, lay it flat, and scan it "
    "once more at 600 dpi"
)
_LARGE: Final = "it has more than 64 million pixels: scan at 300 or 600 dpi"


def file_in_picture(data: bytes) -> Carried:
    """The file in the one code on a picture, byte for byte.

    Raises CannotRestore, and ModuleNotFoundError, naming what to install, without the optional packages.
    """
    try:
        texts = _texts_of_codes(_grey(data))
    except ModuleNotFoundError as missing:
        message = "reading a picture needs two more packages: pip install zxing-cpp pillow"
        raise ModuleNotFoundError(message, name=missing.name) from missing
    if len(texts) > 1:
        raise CannotRestore(f"there are {len(texts)} codes on it: cut the picture down to one of them")
    try:
        return file_in(texts[0])
    except ForeignCode:
        raise CannotRestore("the code on it was not made by cardmaker") from None
    except DamagedCode:
        raise CannotRestore(_DAMAGED) from None


def _grey(data: bytes) -> Image:
    """The picture in greys, on white where it is clear. Raises CannotRestore."""
    from PIL import Image

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # remarks on a picture that is not sound are not ours to print
            picture = Image.open(BytesIO(data), formats=_KINDS)
            if picture.width * picture.height > MOST_PIXELS:
                raise CannotRestore(_LARGE)
            return _on_white(picture)
    except CannotRestore:
        raise
    except Image.DecompressionBombError:
        raise CannotRestore(_LARGE) from None
    except Exception as error:  # whatever a library trips over in a file that is not sound
        raise CannotRestore(f"it is not a sound picture ({type(error).__name__})") from None


def _on_white(picture: Image) -> Image:
    from PIL import Image

    if picture.mode.startswith("I"):  # 16 bits of grey, which are not scaled but cut off where they become eight
        return picture.point(lambda value: value / 256).convert("L")
    if picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info:
        white = Image.new("RGBA", picture.size, "white")
        white.alpha_composite(picture.convert("RGBA"))
        picture = white
    return picture.convert("L")


def _texts_of_codes(picture: Image) -> list[bytes]:
    """What every QR code on it says, with at least one that could be read. Raises CannotRestore."""
    from zxingcpp import BarcodeFormat, BarcodeFormats, read_barcodes

    is_damaged = False
    for attempt in _attempts(picture):
        codes = read_barcodes(attempt, formats=BarcodeFormats(BarcodeFormat.QRCode), return_errors=True)
        if whole := [code.bytes for code in codes if code.valid]:
            return whole
        is_damaged = is_damaged or bool(codes)
    raise CannotRestore(_DAMAGED if is_damaged else _NOT_THERE)


def _attempts(picture: Image) -> Iterator[Image]:
    """The picture as it is, then smoothed: of a page with many specks only that may be read."""
    from PIL.ImageFilter import GaussianBlur

    yield picture
    yield picture.filter(GaussianBlur(1))
