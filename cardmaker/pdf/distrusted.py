"""Any PDF that somebody hands in: torn, locked, or made to harm. The only module that loads pypdf."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

T = TypeVar("T")


class CannotReadPdf(ValueError):
    """A document gives nothing back; the message is one line that says why, without the document's name."""


def read_distrusted(data: bytes, read: Callable[[Any], T]) -> T:
    """What ``read`` makes of pypdf's reader of a document. Whatever the library stumbles over is one refusal.

    Raises CannotReadPdf.
    """
    try:
        return read(_reader(data))
    except CannotReadPdf:
        raise
    except (MemoryError, RecursionError):
        raise CannotReadPdf("it is not a sound PDF: it is knotted into itself") from None
    except Exception as error:  # whatever a library trips over in a file that is not sound
        raise CannotReadPdf(f"it is not a sound PDF ({type(error).__name__})") from None


def _reader(data: bytes) -> Any:
    import logging
    from io import BytesIO

    from pypdf import PdfReader

    logging.getLogger("pypdf").setLevel(logging.CRITICAL)  # its remarks on a torn file are not ours to print
    reader = PdfReader(BytesIO(data), strict=False)
    if reader.is_encrypted:
        raise CannotReadPdf("it is locked with a password")
    return reader


def whole(thing: Any) -> Any:
    """The object that a reference stands for."""
    return thing.get_object() if hasattr(thing, "get_object") else thing


def dictionary(thing: Any) -> Any:
    """The dictionary that something is, or an empty one."""
    thing = whole(thing)
    return thing if isinstance(thing, dict) else {}
