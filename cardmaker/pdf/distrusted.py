"""Any PDF that somebody hands in: torn, locked, or made to harm. The only module that loads pypdf.

Three limits hold together, so that no document takes a machine for itself: how much the library may unpack of one
stream, how far it may look for the end of the file, and how long it may work, where the system has such a clock.
"""

from __future__ import annotations

import signal
import threading
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from types import FrameType
from typing import Any, Final, TypeVar

MOST_SECONDS: Final = 10.0  # of work: a binder of a thousand cards takes a few
MOST_UNPACKED: Final = 4 * 1024 * 1024  # bytes of a stream that the library reads for itself: where objects lie
_END_WITHIN: Final = 64 * 1024  # bytes at the end of a file: other programs leave a few behind its mark
_KNOTTED: Final = "it is not a sound PDF: it is knotted into itself"

T = TypeVar("T")


class CannotReadPdf(ValueError):
    """A document gives nothing back; the message is one line that says why, without the document's name."""


class _TooLong(BaseException):
    """The clock has run out. No library catches it among its own errors."""


def read_distrusted(data: bytes, read: Callable[[Any], T]) -> T:
    """What ``read`` makes of pypdf's reader of a document. Whatever the library stumbles over is one refusal.

    Raises CannotReadPdf.
    """
    if b"%%EOF" not in data[-_END_WITHIN:]:
        raise CannotReadPdf("it is torn: its end is missing")
    try:
        with _limited_work(), _limited_unpacking():
            return read(_reader(data))
    except CannotReadPdf:
        raise
    except _TooLong:
        raise CannotReadPdf("it takes longer to read than any card or binder") from None
    except (MemoryError, RecursionError):
        raise CannotReadPdf(_KNOTTED) from None
    except Exception as error:  # whatever a library trips over in a file that is not sound
        raise CannotReadPdf(f"it is not a sound PDF ({type(error).__name__})") from None


@contextmanager
def _limited_work() -> Iterator[None]:
    """A clock of this process's own work, whatever else the machine does; beside the main thread, and on a system
    without such a clock, the other limits hold alone."""
    if not hasattr(signal, "setitimer") or threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGVTALRM, _ran_out)
    signal.setitimer(signal.ITIMER_VIRTUAL, MOST_SECONDS, 1.0)  # and again, should the first be lost
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)


def _limited_unpacking() -> AbstractContextManager[object]:
    """The library's own limits, lowered while it reads: what it unpacks of one stream, and of one after another."""
    from pypdf import apply_configuration

    return apply_configuration(
        zlib_maximum_output_length=MOST_UNPACKED,
        lzw_maximum_output_length=MOST_UNPACKED,
        run_length_maximum_output_length=MOST_UNPACKED,
        stream_decoding_work_maximum_length=4 * MOST_UNPACKED,
    )


def _ran_out(_number: int, _frame: FrameType | None) -> None:
    raise _TooLong


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
