"""Tokens: what a page's content asks of the document that it will be part of, where it holds unusual characters.

A token stands between two control characters, which no text can hold, since they are refused before it is drawn.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from cardmaker.model.marks import Face

_BEGIN, _END = "\x01", "\x02"
_CUT: Final = re.compile(f"[{_BEGIN}{_END}]")
_LETTERS: Final = {face: letter for letter, face in zip("abcdefgh", Face, strict=False)}
FACES: Final = {letter: face for face, letter in _LETTERS.items()}


def text_placeholder(face: Face, size: str, text: str) -> str:
    """Asks for the operator that shows this text, the face being set at this size already."""
    return f"{_BEGIN}{_LETTERS[face]}{size} {text}{_END}"


def has_placeholders(content: str) -> bool:
    """Whether a content asks for anything."""
    return _BEGIN in content


def filled(content: str, answers: Mapping[str, str]) -> str:
    """``content`` with every token replaced by the answer to it."""
    pieces = _CUT.split(content)
    pieces[1::2] = [answers[asked] for asked in pieces[1::2]]
    return "".join(pieces)
