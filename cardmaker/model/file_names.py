"""Names of files as the least careful system compares them, so that files which are two here stay two everywhere."""

from __future__ import annotations

from unicodedata import normalize


def name_anywhere(name: str) -> str:
    """What two names share when some system takes them for one: they differ in capitals, or in whether an accent is
    part of its letter or follows it.

    A caseless match of canonically equivalent strings (The Unicode Standard 15.0, section 3.13, D145).
    """
    return normalize("NFD", normalize("NFD", name).casefold())
