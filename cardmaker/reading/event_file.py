"""An event file: from its text to an :class:`Event`, or to every problem in it."""

from __future__ import annotations

from fractions import Fraction

from cardmaker.model.event import SHOWN, Event
from cardmaker.model.printers_quotes import with_curly_quotes
from cardmaker.reading.fields import FieldReader, parsed
from cardmaker.reading.pattern_lists import pattern_names
from cardmaker.reading.value_words import quoted


def parse_event(text: bytes, file: str, stem: str) -> Event:
    """The event that the text of a file describes. Raises ProblemsFound."""
    return parsed(text, file, "event", lambda top: _event(top, stem))


def _event(top: FieldReader, stem: str) -> Event:
    patterns, on_loom = pattern_names(top, "patterns"), top.line("on_loom")
    if on_loom and patterns and on_loom not in patterns and not top.is_wrong("patterns"):
        top.report("on_loom", f"{quoted(on_loom)} is none of the patterns.", f"Write one of them, as in {patterns[0]}.")
    return Event(
        title=top.line("title"),
        stem=stem,
        patterns=patterns,
        loom=top.line("loom"),
        minutes=top.minutes("hours") or Fraction(0),
        on_loom=on_loom,
        shown=tuple(top.choice("shown") or SHOWN),
        date=top.line("date"),
        ground=top.line("ground"),
        by=top.line("by"),
        left_hand=top.choice("hand") == "left",
        paper=top.choice("paper"),
        units=top.choice("units"),
        notes=tuple(map(with_curly_quotes, top.texts("notes"))),
        about=with_curly_quotes(top.text("about")),
        marked_as=top.line("marked_as"),
        places=top.problems.places,
    )
