"""What visitors ask, and answers that come from the source and the visitors' notes of a pattern's file alone.

Where the file says nothing there is no answer, and the page says that there is none: nobody makes one up.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from cardmaker.model.pattern import Source
from cardmaker.model.plan import Plan
from cardmaker.wording import source_words, student_words
from cardmaker.wording.phrases import capitalised, sentence

IS_OLD: Final = "Is it an old pattern?"
WHERE: Final = "Where is the old one?"
HOW_OLD: Final = "How old is it?"
WHOSE: Final = "Who made it, and where?"
HOW_KNOWN: Final = "How do you know, and how surely?"
COLOURS: Final = "Were these its colours?"
MADE_OF: Final = "What was it made of?"
CHANGED: Final = "What have you changed?"
TO_SEE: Final = "What is there to see?"
NOT_RECORDED: Final = "No source recorded: say so, and claim nothing."
ASK_THEM: Final = "Ask them:"


def answers_to_visitors(plan: Plan) -> list[tuple[str, str]]:
    """Questions with their answers, always in this order; of what the file does not say there is none."""
    source, notes = plan.pattern.source, student_words.visitor_notes(plan)
    told = [(IS_OLD, NOT_RECORDED)] if source is None else list(_of_source(source))
    return [*told, *([(TO_SEE, " ".join(notes))] if notes else [])]


def _of_source(source: Source) -> Iterator[tuple[str, str]]:
    yield IS_OLD, f"{source_words.source_sentence(source)} {source_words.grade(source.grade)}."
    answers = (
        (
            WHERE,
            _joined(
                source.holder,
                source.object_number and f"number {source.object_number}",
                source.attached_to and f"on {source.attached_to}",
            ),
        ),
        (HOW_OLD, _joined(source.period)),
        (WHOSE, _joined(source.attributed, source.place)),
        (HOW_KNOWN, _how_known(source)),
        (COLOURS, _colours(source)),
        (MADE_OF, _joined(source.fibre, source.twist and f"twist: {source.twist}")),
        (CHANGED, _joined(*source.differences)),
    )
    yield from ((question, answer) for question, answer in answers if answer)


def _how_known(source: Source) -> str:
    counted = source.counted_by and f"counted by {source.counted_by}"
    return _joined(counted, source.counted_how, source.certainty, *source.references)


def _colours(source: Source) -> str:
    """As they are seen today; and what somebody believes that they were, which is a guess and says so."""
    today = _joined(source.colour_today and f"today {source.colour_today}")
    then = _joined(source.colour_then and f"a guess: once {source.colour_then}", source.colour_reason)
    return " ".join(part for part in (today, then) if part)


def _joined(*parts: str) -> str:
    """One sentence of what is recorded; empty where nothing is."""
    told = "; ".join(part for part in parts if part)
    return capitalised(sentence(told)) if told else ""
