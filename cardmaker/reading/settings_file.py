"""A settings file: from its text to :class:`Settings`, or to every problem in it."""

from __future__ import annotations

from cardmaker.model.settings import Settings
from cardmaker.reading.fields import FieldReader, parsed


def parse_settings(text: bytes, file: str) -> Settings:
    """The settings that the text of a file describes. Raises ProblemsFound."""
    return parsed(text, file, "settings", _settings)


def _settings(top: FieldReader) -> Settings:
    return Settings(
        loom=top.line("loom"),
        looms=top.texts("looms"),
        pegs=top.texts("pegs"),
        units=top.choice("units"),
        paper=top.line("paper"),
        hand=top.choice("hand", "right"),
        side=top.choice("from"),
        layouts=top.texts("layout"),
        out=top.line("out"),
        places=top.problems.places,
    )
