"""A printer's quotes and apostrophes in the prose of a pattern. A file keeps the signs that somebody typed: they turn
only where a plan is made of it, so that what is written into a file again is as it was.
"""

from __future__ import annotations

from typing import Any, Final

from cardmaker.model.pattern import Notes, Pattern, Source
from cardmaker.model.record_class import replace

_OPENS: Final = "([{\N{EN DASH}\N{EM DASH}\N{LEFT DOUBLE QUOTATION MARK}\N{LEFT SINGLE QUOTATION MARK}"
_QUOTES: Final = {'"': "\N{LEFT DOUBLE QUOTATION MARK}\N{RIGHT DOUBLE QUOTATION MARK}",
                  "'": "\N{LEFT SINGLE QUOTATION MARK}\N{RIGHT SINGLE QUOTATION MARK}"}  # fmt: skip


def with_curly_quotes(text: str) -> str:
    """A text with a printer's quotes and apostrophes in place of a typewriter's: ``a sailmaker’s “white tape”``.

    A sign opens where a word begins and the same sign is still to come; a single one that opens nothing is an
    apostrophe. After a figure it stays, unless it closes: it may be feet or inches.
    """
    if '"' not in text and "'" not in text:
        return text
    signs: list[str] = []
    is_open = {'"': False, "'": False}
    for at, sign in enumerate(text):
        signs.append(_curly(text, at, is_open) if sign in _QUOTES else sign)
    return "".join(signs)


def _curly(text: str, at: int, is_open: dict[str, bool]) -> str:
    sign, before = text[at], text[at - 1] if at else " "
    opening, closing = _QUOTES[sign][0], _QUOTES[sign][1]
    if not is_open[sign] and (before.isspace() or before in _OPENS or before in _QUOTES) and _closes_later(text, at):
        is_open[sign] = True
        return opening
    if before.isdigit() and not is_open[sign]:
        return sign
    if sign == "'" and text[at + 1 : at + 2].isalnum():
        return closing  # an apostrophe, within a quotation too
    is_open[sign] = False
    return closing if sign == "'" or not before.isspace() else sign


def _closes_later(text: str, at: int) -> bool:
    """Whether the sign comes again at the end of a word."""
    sign, after = text[at], text[at + 1 :]
    return any(
        each == sign and not after[place - 1].isspace() and not after[place + 1 : place + 2].isalnum()
        for place, each in enumerate(after)
        if place
    )


def pattern_in_print(pattern: Pattern) -> Pattern:
    """The pattern with a printer's quotes in what is printed of it as prose. Titles, codes and the names of yarns and
    looms stay as typed: they are compared and looked up."""
    source = pattern.source
    prose = _in_print(pattern, ("about", "credit", "purposes")) | {
        "notes": replace(pattern.notes, **_in_print(pattern.notes, Notes.__match_args__)),
        "source": replace(source, **_in_print(source, Source.__match_args__)) if source else None,
        "changes": tuple([replace(change, **_in_print(change, ("what",))) for change in pattern.changes]),
        "measured": tuple([replace(record, **_in_print(record, ("note",))) for record in pattern.measured]),
    }
    return replace(pattern, **prose)


def _in_print(noun: Any, fields: tuple[str, ...]) -> dict[str, Any]:
    """The values of some fields that are a text or several."""
    values = {field: getattr(noun, field) for field in fields}
    return {
        field: with_curly_quotes(value) if isinstance(value, str) else tuple(map(with_curly_quotes, value))
        for field, value in values.items()
    }
