"""The source: how a tape may be spoken of, and what is recorded of it."""

from __future__ import annotations

from typing import Final

from cardmaker.model.pattern import Pattern, Source
from cardmaker.wording.phrases import capitalised, sentence

SOURCE: Final = "Where it comes from"
NO_SOURCE: Final = "No source recorded"
_AFTER: Final = {
    "A": "After", "B": "After", "C": "Suggested by", "D": "Suggested by", "E": "In the manner of",
}  # fmt: skip
GRADES: Final = {
    "A": "A: copied, object seen",
    "B": "B: copied from a photograph or record",
    "C": "C: from a written description",
    "D": "D: from a picture",
    "E": "E: in the style of, no single source",
    "F": "F: own design, no claim",
}


def source_sentence(source: Source | None) -> str:
    """How the tape may be spoken of: never more than the grade allows."""
    if source is None:
        return f"{NO_SOURCE}."
    if source.grade == "F":
        return f"A new design: {source.what}." if source.what else "A new design."
    what = source.what or "a tape"
    return f"{_AFTER[source.grade]} {what}."


def grade(letter: str) -> str:
    """The grade of a source with what it stands for."""
    return f"Grade {GRADES[letter]}" if letter else NO_SOURCE


def guessed_colours(source: Source) -> str:
    """That the colours are what somebody believes was there, and why; empty where nobody does."""
    if source.colour_reason:
        return f"what colours it had once ({source.colour_reason})."
    return sentence(f"the colours, {source.colour_then}") if source.colour_then else ""


_FIRST_ASKED: Final = 5  # of the recorded fields: how far to believe it, where the object is


def source_facts_in_brief(source: Source) -> list[tuple[str, str]]:
    """The recorded fields that whoever weaves it asks for first; the record has the others."""
    return source_facts(source)[:_FIRST_ASKED]


def source_facts(source: Source) -> list[tuple[str, str]]:
    """The recorded fields with their labels, the most honest first: how far the tape may be believed, then what the
    object is and where it is, who counted, and the rest."""
    fields = [
        ("grade", GRADES[source.grade]),
        ("how sure", source.certainty),
        ("changed here", "; ".join(source.differences)),
        ("held by", source.holder),
        ("object", source.object_number),
        ("colour today", source.colour_today),
        ("colour then", source.colour_then),
        ("because", source.colour_reason),
        ("counted by", ", ".join(filter(None, (source.counted_by, source.counted_when, source.counted_how)))),
        ("attached to", source.attached_to),
        ("place", source.place),
        ("period", source.period),
        ("attributed", source.attributed),
        ("fibre", source.fibre),
        ("twist", source.twist),
        *_of_photograph(source),
        ("read", "; ".join(source.references)),
    ]
    return [(label, value) for label, value in fields if value]


def _of_photograph(source: Source) -> list[tuple[str, str]]:
    """Where one is kept; of one that is printed nothing more needs to be said."""
    if source.photograph:
        from cardmaker.model.photograph import photograph_to_print

        if photograph_to_print(source):
            return []
    return [("photograph", source.photograph), ("may be printed", source.may_print_photograph)]


PHOTOGRAPH: Final = "Photograph"


def photograph_caption(source: Source | None) -> str:
    """Beside a photograph: in whose name it may be printed, where the file says that."""
    from cardmaker.model.photograph import condition_of_print

    condition = condition_of_print(source) if source else ""
    return capitalised(sentence(condition)) if condition else ""


def photograph_alt_text(pattern: Pattern) -> str:
    return f"A photograph: {pattern.source.what if pattern.source and pattern.source.what else pattern.title}."
