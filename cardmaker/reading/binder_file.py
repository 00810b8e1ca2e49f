"""A binder file: from its text to a :class:`Binder`, or to every problem in it."""

from __future__ import annotations

from typing import Any

from cardmaker.model.binder_contents import Binder, Section
from cardmaker.reading.fields import FieldReader, finished, top_reader


def parse_binder(text: bytes, file: str, stem: str) -> Binder:
    """The binder that the text of a file describes. Raises ProblemsFound."""
    top = top_reader(text, file, "binder")
    binder = Binder(
        title=top.line("title"),
        stem=stem,
        about=top.text("about"),
        credit=top.line("credit"),
        marked_as=top.line("marked_as"),
        layout=top.line("layout"),
        paper=top.line("paper"),
        loom=top.line("loom"),
        units=top.choice("units"),
        duplex=top.choice("duplex", "no") == "yes",
        sections=_sections(top),
        places=top.findings.places,
    )
    finished(top)
    return binder


def _sections(top: FieldReader) -> tuple[Section, ...]:
    sections = []
    for index, values in enumerate(top.values.get("sections") or ()):
        if isinstance(values, dict):
            sections.append(_section(FieldReader(values, ("sections", index), top.findings)))
    _check_titles(top, sections)
    return tuple(sections)


def _section(part: FieldReader) -> Section:
    text, patterns = part.text("text"), _patterns(part)
    if not text and not patterns and not part.findings.is_wrong(*part.path):
        part.tell(None, "this section has neither text nor patterns.", "Give it one of them, or take it out.")
    return Section(part.line("title"), text, patterns)


def _patterns(part: FieldReader) -> tuple[str, ...]:
    names: list[Any] = part.values.get("patterns") or []
    return tuple(str(name).strip() for name in names if isinstance(name, str) and name.strip())


def _check_titles(top: FieldReader, sections: list[Section]) -> None:
    """Two sections of one name could not be told apart in the contents."""
    for index, section in enumerate(sections):
        if section.title and section.title in (other.title for other in sections[:index]):
            top.findings.tell(
                ("sections", index, "title"), f"section {section.title!r} is there already.", "Choose another name."
            )
