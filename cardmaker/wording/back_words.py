"""The headings of a card's back: what found no room in front stands there under the name of what it belongs to."""

from __future__ import annotations

from typing import Final

from cardmaker.wording import (
    change_words,
    loom_words,
    note_words,
    piece_words,
    rescue_words,
    stage_words,
    student_words,
    trouble_words,
)

_MORE, _FOR_WEAVER = "More to know", "For the weaver"
_WINDING, _THREADING, _WEAVING = "Winding:", "Threading:", "Weaving:"
_THREADED: Final = "The heddle, threaded"
_SUBJECTS: Final = {
    "walk": _WINDING,
    "walk-in-totals": _WINDING,
    "wound": _WINDING,
    "ticks": _WINDING,
    "steps": _WINDING,
    "room": "Pegs:",
    "board": _THREADING,
    "threading": _THREADING,
    "first": _THREADING,
    "turns": "Beam:",
    "press": "Pull:",
    "weave": _WEAVING,
    "shuttle": _WEAVING,
    "shuttle-first": _WEAVING,
    "next": _WEAVING,
    "pickup": "Figure:",
    "lengths": "Lengths:",
    "looms": "Loom:",
    "changes": f"{change_words.CHANGES}:",
    "title": "The tape:",
}
_HEADINGS: Final = {
    "board": _THREADED,
    "pieces": piece_words.PIECES,
    "pieces-line": piece_words.PIECES,
    "trouble": trouble_words.TROUBLE,
    "stuck-winding": stage_words.STUCK,
    "slip-dress": stage_words.STUCK,
    "slip-weave": stage_words.STUCK,
    "student": student_words.FOR_STUDENT,
    "source": "More of where it comes from",
    "source-lines": "More of where it comes from",
    "changes": change_words.CHANGES,
    "rescue": rescue_words.RESCUE,
    "new-end": rescue_words.RESCUE,
    "stripe-ends": rescue_words.RESCUE,
    "notes": note_words.NOTES,
}
_WHOLE: Final = {
    "looms": f"{loom_words.LOOMS}:",
    "changes": f"{change_words.CHANGES}:",
    "student": f"{student_words.TO_STUDENTS}:",
}


def subject(panel: str) -> str:
    """What sentences are about that found no room in a panel in front, before them in a paragraph with others."""
    return _SUBJECTS.get(panel, "")


def heading_of_rest(panel: str) -> str:
    """The heading over what found no room in front of a panel; none over what needs none."""
    return _HEADINGS.get(panel, "")


def heading_of_whole(panel: str) -> str:
    """Before the sentences of a panel that does not stand in front at all; nothing where its own words say it."""
    return _WHOLE.get(panel, "")


def rest_heading(*, is_sign: bool) -> str:
    """The heading over what found no room in front of several panels; on a sign it is not for whoever reads that."""
    return _FOR_WEAVER if is_sign else _MORE
