"""Letters that the type lacks: of a card or a class's sheet once it is drawn, of a binder before any card is drawn."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cardmaker.model.binder_contents import Binder, Entry
from cardmaker.model.loom import Loom
from cardmaker.model.marks import Face
from cardmaker.model.problems import KeyPath, Places, Problem, Refusal, problem_from
from cardmaker.model.record_class import replace
from cardmaker.pdf.fonts import character_name, lacks

TEXT, HEADING = Face.SANS, Face.SERIF_SEMIBOLD  # the semibold of the text has the same letters (read from the fonts)
_REMEDY = "Write it in other characters."


def unprintable(sign: str, places: Places, path: KeyPath, sheet: str) -> Problem:
    """A sign that the type of ``sheet`` (``The card's``) lacks."""
    return problem_from(Refusal(path, f"{sheet} typeface has no {with_name(sign)}.", _REMEDY), places)


def with_name(sign: str) -> str:
    """A sign and its name; one without a shape is its name only."""
    return f"'{sign}' ({character_name(sign)})" if sign.isprintable() else character_name(sign)


def _problems(places: Places, texts: Iterable[tuple[KeyPath, str, Face]]) -> tuple[Problem, ...]:
    return tuple(
        unprintable(sign, places, path, "The binder's") for path, text, face in texts for sign in lacks(text, face)
    )


def entry_problems(entry: Entry, places: Places, *, uses_are_headings: bool) -> tuple[Problem, ...]:
    """What contents and indexes cannot tell of a card, though the card itself may not say it."""
    uses: Face = HEADING if uses_are_headings else TEXT
    texts: list[tuple[KeyPath, str, Face]] = [(("title",), entry.title, TEXT), (("code",), entry.code, TEXT)]
    texts.append((("about",), " ".join(entry.about.split()), TEXT))  # on the back of the card
    texts += [(("for", index), purpose, uses) for index, purpose in enumerate(entry.purposes)]
    return _problems(places, [*texts, *((("yarns",), colour, TEXT) for colour in entry.colours)])


def binder_problems(binder: Binder) -> tuple[Problem, ...]:
    """What a binder file says that cannot be set."""
    texts: list[tuple[KeyPath, str, Face]] = [
        (("title",), binder.title, HEADING),
        (("about",), " ".join(binder.about.split()), TEXT),
        (("credit",), binder.credit, TEXT),
        (("marked_as",), binder.marked_as, TEXT),
    ]
    for number, section in enumerate(binder.sections):
        texts += [
            (("sections", number, "title"), section.title, HEADING),
            (("sections", number, "text"), " ".join(section.text.split()), TEXT),
        ]
    return _problems(binder.places, texts)


def loom_problems(looms: Iterable[Loom]) -> tuple[Problem, ...]:
    """What the list of looms cannot tell."""
    return tuple(problem for loom in looms for problem in _problems(loom.places, [(("title",), loom.title, TEXT)]))


def in_available_letters(problems: Sequence[Problem]) -> tuple[Problem, ...]:
    """The problems with a question mark for every sign that cannot be set: that of which they tell, perhaps."""
    return tuple(
        replace(
            problem,
            file=_settable(problem.file, HEADING),
            where=_settable(problem.where, TEXT),
            message=_settable(problem.message, TEXT),
            remedy=_settable(problem.remedy, TEXT),
        )
        for problem in problems
    )


def _settable(text: str, face: Face) -> str:
    missing = set(lacks(text, face))
    return "".join("?" if sign in missing else sign for sign in text) if missing else text
