"""A list of patterns in a file: their names, none twice."""

from __future__ import annotations

from cardmaker.reading.fields import FieldReader
from cardmaker.reading.value_words import quoted


def pattern_names(top: FieldReader, key: str) -> tuple[str, ...]:
    """The names under a key as typed; one that is there already is a problem at its own place."""
    values = top.values.get(key) or []
    names = tuple(str(name).strip() for name in values if isinstance(name, str))
    for index, name in enumerate(names):
        if name in names[:index]:
            top.report((key, index), f"{quoted(name)} is there already.", "Take it out.")
    return names
