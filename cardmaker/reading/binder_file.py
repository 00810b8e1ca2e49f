"""A binder file: from its text to a :class:`Binder`, or to every problem in it."""

from __future__ import annotations

from typing import Any

from cardmaker.model.binder_contents import Binder, Section
from cardmaker.model.printers_quotes import with_curly_quotes
from cardmaker.reading.fields import FieldReader, parsed


def parse_binder(text: bytes, file: str, stem: str) -> Binder:
    """The binder that the text of a file describes. Raises ProblemsFound."""
    return parsed(text, file, "binder", lambda top: _binder(top, stem))


def _binder(top: FieldReader, stem: str) -> Binder:
    return Binder(
        title=top.line("title"),
        stem=stem,
        about=with_curly_quotes(top.text("about")),
        credit=top.line("credit"),
        marked_as=top.line("marked_as"),
        layout=top.line("layout"),
        paper=top.line("paper"),
        loom=top.line("loom"),
        units=top.choice("units"),
        duplex=top.choice("duplex", "no") == "yes",
        sections=_sections(top),
        places=top.problems.places,
    )


def _sections(top: FieldReader) -> tuple[Section, ...]:
    sections = top.groups("sections", _section)
    for index, section in enumerate(sections):  # two of one name could not be told apart in the contents
        if section.title and section.title in (earlier.title for earlier in sections[:index]):
            message = f"section {section.title!r} is there already."
            top.report(("sections", index, "title"), message, "Choose another name.")
    return sections


def _section(part: FieldReader) -> Section:
    text, patterns = with_curly_quotes(part.text("text")), _patterns(part)
    if not text and not patterns and not part.is_wrong():
        part.report(None, "this section has neither text nor patterns.", "Give it one of them, or take it out.")
    return Section(part.line("title"), text, patterns, part.line("loom"))


def _patterns(part: FieldReader) -> tuple[str, ...]:
    names: list[Any] = part.values.get("patterns") or []
    return tuple(str(name).strip() for name in names if isinstance(name, str) and name.strip())
