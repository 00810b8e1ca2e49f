"""The headings of a card's back: what found no room in front stands there under the name of what it belongs to."""

from __future__ import annotations

from typing import Final

from cardmaker.wording import change_words, loom_words, note_words, piece_words, rescue_words, student_words
from cardmaker.wording.phrases import capitalised

MORE_OF: Final = {
    "walk": "More on winding",
    "walk-in-totals": "More on winding",
    "steps": "More on winding",
    "ticks": "More on winding",
    "room": "More on the pegs",
    "board": "More on threading",
    "threading": "More on threading",
    "first": "More on threading",
    "turns": "More on the beam",
    "press": "More on the pull",
    "weave": "More on weaving",
    "shuttle": "More on weaving",
    "shuttle-first": "More on weaving",
    "next": "More on weaving",
    "pickup": "More on the figure",
    "lengths": "More on the lengths",
    "pieces": piece_words.PIECES,
    "pieces-line": piece_words.PIECES,
    "trouble": rescue_words.TROUBLE,
    "student": student_words.FOR_STUDENT,
    "source": "More of where it comes from",
    "source-lines": "More of where it comes from",
    "changes": change_words.CHANGES,
    "rescue": rescue_words.RESCUE,
    "stripe-ends": rescue_words.RESCUE,
    "new-end": rescue_words.RESCUE,
    "notes": note_words.NOTES,
    "looms": "Why this loom",
    "title": "What it is",
    "last-turns-if-room": "How much is still to come",
}


_WHOLE: Final = {
    "looms": loom_words.LOOMS,
    "changes": change_words.CHANGES,
    "student": student_words.FOR_STUDENT,
    "results": "",
}


def heading_of_rest(panel: str) -> str:
    """The heading over what found no room in front of a panel; none over what needs none."""
    return MORE_OF.get(panel, "")


def lead_of_rest(panel: str) -> str:
    """The same before the words themselves: ``Winding:``; nothing before what needs none."""
    heading = heading_of_rest(panel)
    return f"{capitalised(heading.removeprefix('More on '))}:" if heading else ""


def lead_of_whole(panel: str) -> str:
    """The same of a panel that does not stand in front at all: ``On your other looms:``; nothing where its own words
    say it."""
    heading = _WHOLE.get(panel, "")
    return f"{heading}:" if heading else ""
