"""A page of a PDF as a picture, for the screen. Needs the optional package pypdfium2."""

from __future__ import annotations

from io import BytesIO


def preview_png(pdf: bytes, page: int = 0, dpi: int = 150) -> bytes:
    """Page ``page`` (from 0) of ``pdf`` as a PNG picture on white.

    Raises ModuleNotFoundError, naming what to install, without the optional package.
    """
    try:
        import PIL
        from pypdfium2 import PdfDocument
    except ModuleNotFoundError as missing:
        needed = "a preview needs two more packages: pip install pypdfium2 pillow"
        raise ModuleNotFoundError(needed, name=missing.name) from missing
    del PIL  # only asked whether it is there: the renderer hands its picture over to it
    document = PdfDocument(pdf)
    try:
        scale = dpi / 72 * (1 - 1e-9)  # whole pixels are rounded up: no white edge for the sake of a float
        picture = document[page].render(scale=scale).to_pil()
    finally:
        document.close()
    png = BytesIO()
    picture.save(png, "PNG", dpi=(dpi, dpi))
    return png.getvalue()
