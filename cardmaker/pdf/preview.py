"""A page of a PDF as a picture, for the screen. Needs the optional package pypdfium2."""

from __future__ import annotations

from io import BytesIO


def preview_png(pdf: bytes, page: int = 0, dpi: int = 150) -> bytes:
    """Page ``page`` (from 0) of ``pdf`` as a PNG picture on white.

    Raises ModuleNotFoundError, naming what to install, without the optional package.
    """
    try:
        from pypdfium2 import PdfDocument
    except ModuleNotFoundError as missing:
        raise _needs(missing) from missing
    document = PdfDocument(pdf)
    try:
        scale = dpi / 72 * (1 - 1e-9)  # whole pixels are rounded up: no white edge for the sake of a float
        picture = document[page].render(scale=scale).to_pil()  # this is what takes Pillow
    except ModuleNotFoundError as missing:
        raise _needs(missing) from missing
    finally:
        document.close()
    png = BytesIO()
    picture.save(png, "PNG", dpi=(dpi, dpi))
    return png.getvalue()


def _needs(missing: ModuleNotFoundError) -> ModuleNotFoundError:
    return ModuleNotFoundError("a preview needs two more packages: pip install pypdfium2 pillow", name=missing.name)
