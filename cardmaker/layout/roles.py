"""What marks are, for whoever has the page read aloud: names, headings, paragraphs, and drawings with their words.

Within a panel every word stands in one of these groups; marks beside them, rules and boxes to tick, are decoration.
"""

from __future__ import annotations

from collections.abc import Iterable

from cardmaker.model.marks import Box, Group, Mark, Role, Words


def words_group(role: Role, room: Box, *words: Words, alt: str = "") -> Group:
    """Words that are one thing: a name, a heading, a cell. ``alt`` says them in full where they are set cut short."""
    return Group(role, "", room, words, alt)


def figure(name: str, room: Box, marks: Iterable[Mark], alt: str) -> Group:
    """A drawing; ``alt`` says in words all that it shows, and stands for the words drawn inside it as well."""
    return Group("figure", name, room, tuple(marks), alt)
