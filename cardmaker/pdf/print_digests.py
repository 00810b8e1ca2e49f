"""A digest of all that a page prints: of two pages with the same one, one may stand for the other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from hashlib import sha256
from typing import Final

from cardmaker.model.marks import Face
from cardmaker.pdf.draft import Draft
from cardmaker.pdf.fonts import face_path
from cardmaker.pdf.page_resources import Form

_WAY: Final = b"1"  # in which it is made: another number where the same content comes to print otherwise


def print_digest(draft: Draft) -> str:
    """SHA-256 of the paper's size, everything drawn on it, and the outlines of the type.

    Where a link leads and what is read aloud is not printed. How the page is divided for that is in its content, so a
    page may have another digest and print the same; never the other way round.
    """
    every = sha256(b"%b %r %r %d " % (_WAY, draft.width, draft.height, len(draft.contents)) + _type_digest())
    for content in draft.contents:
        every.update(content.digest)
    for part in _forms(draft, draft.used):
        every.update(part)
    return every.hexdigest()


def _forms(draft: Draft, names: Iterable[str]) -> Iterator[bytes]:
    """Forms by their names, with those inside them."""
    for name in sorted(names):
        form: Form = draft.forms[name]
        yield name.encode() + form.content.digest
        yield from _forms(draft, form.inner)


@cache
def _type_digest() -> bytes:
    """Of the files of all faces: another edition of them prints other letters."""
    return sha256(b"".join(sha256(face_path(face).read_bytes()).digest() for face in Face)).digest()
