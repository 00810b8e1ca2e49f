"""What a card can tell, each fact by a name: the lists of a layout are made of these, and the command says them.

A part of a panel names the facts that it tells; small ones that the command would only list share their words. A layout
file lists which stand on the front always, which where there is room, and which belong on the back.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

FACTS: Final = {
    "title": "the name",
    "code": "code, version and date",
    "ends": "the number of ends",
    "stripes": "the counts of the stripes",
    "legend": "what the letters mean",
    "alike": "which yarns look alike",
    "width": "the width",
    "loom": "the loom",
    "warp": "the warp to wind",
    "use": "its use and description",
    "about": "its use and description",
    "face": "the tape itself",
    "notch": "the gauge for the width",
    "replaced": "which card it replaces",
    "walk": "where each colour changes",
    "in turn": "finer points of winding",
    "end 1 wound": "finer points of winding",
    "empty walks": "finer points of winding",
    "change": "what to do at a change of yarn",
    "yarn ends": "what to do where the yarn ends as she winds",
    "cross reminder": "that there is a cross",
    "other edge": "finer points of winding",
    "finish": "where winding finishes",
    "trips": "how often across",
    "first space": "where end 1 goes",
    "view": "from where the heddle is seen",
    "board": "the threaded heddle",
    "checks": "the closing counts",
    "thick ends": "that a thick end may stick in its hole",
    "empties": "how many spaces stay empty",
    "miscount": "finer points of threading",
    "moved": "finer points of threading",
    "middle end": "finer points of threading",
    "both heddles": "finer points of threading",
    "shed": "which shed comes next",
    "begin": "how to begin",
    "closeness": "how close it is beaten",
    "tick": "to tick each total",
    "underlined": "what the line under a box to tick means",
    "last shed": "how to find the shed again",
    "sheds": "what shows in each shed",
    "pickup": "the pick-up rows",
    "pickup card": "that the pick-up card has the rows",
    "wraps": "how full the shuttle is wound",
    "hours": "picks and hours",
    "said": "why it was chosen",
    "choosers": "whose it may be",
    "weft": "the weft",
    "yarn": "how much yarn",
    "yarn on pegs": "how much more yarn the pegs take",
    "lengths": "where the length goes",
    "sum": "the sum that leads to the warp",
    "pieces": "the pieces",
    "length to weave": "how long the tape is woven",
    "between pieces": "what lies between two pieces",
    "pieces on the loom": "how long each piece is on the loom",
    "honest": "how the tape may be spoken of",
    "source": "more facts of the source",
    "history": "a line of where it comes from",
    "notes": "warnings and advice",
    "cautions": "the cautions",
    "credit": "the small print",
    "version": "what the version changed",
    "versions": "the versions",
    "results": "blanks for what came off the loom",
    "results table": "a table for the results of five tapes",
    "second yarns": "the same tape in another yarn",
    "photograph": "the photograph",
    "sample": "a place for a woven sample",
    "looms": "her other looms",
    "why this loom": "why the card is for this loom",
    "name line": "a line for the student's name",
    "student": "the notes to the student",
    "trouble": "what to do when it goes wrong",
    "more trouble": "the rest of what to do when it goes wrong",
    "room": "the pegs in the room",
    "route": "the route round the pegs",
    "guide string": "the length round the pegs and its guide string",
    "stack": "finer points of winding",
    "steps": "the winding list",
    "cross": "the cross and the counts before lifting off",
    "cross rule": "finer points of winding",
    "cross number": "that the number of an end decides at the cross",
    "beam": "the beam and the turns left",
    "let-off": "finer points of the beam",
    "press": "how tight",
    "press basis": "finer points of the pull",
    "press standard": "finer points of the pull",
    "rescue": "every end from its nearer edge",
    "turns left": "how much tape is still to come",
    "visitor": "the words for a visitor",
    "threads": "how many threads, for a visitor",
    "visitor notes": "more words for a visitor",
    "known": "what is known and guessed",
    "new": "what is new here",
    "how sure": "how sure the count is",
    "question": "a question for a visitor",
    "rescue in brief": "a new end in place of a broken one",
    "lost end": "which end it is, and its space",
    "lost end beside": "what lies beside the end",
    "new end": "how a new end is put in",
    "careful": "the cautions",
    "file code": "the code that holds the pattern file",
    "dressing": "the drawn steps of dressing",
    "stuck": "what to do when she is stuck",
    "more stuck": "the rest of what to do when she is stuck",
    "next slip": "which slip comes next",
}


# The shipped layout that always has a fact on its front: where to look for what found no room elsewhere.
ALWAYS_ON: Final = {
    "rescue": "bench", "press": "bench", "beam": "bench", "steps": "bench", "cross": "bench", "cautions": "bench",
    "pickup": "pick-up",
    "width": "record", "yarn": "record", "lengths": "record", "honest": "record", "notes": "record", "face": "record",
    "credit": "record", "sheds": "record",
    "trouble": "handout", "legend": "handout", "checks": "handout", "name line": "handout", "walk": "handout",
    "known": "visitor", "visitor": "visitor", "question": "visitor",
    "trips": "field", "thick ends": "handout",
}  # fmt: skip


def facts_in_words(facts: Iterable[str], layout: str = "") -> list[str]:
    """The facts as the command tells them, each once; with the card that has them, if that is not this ``layout``'s."""
    return list(dict.fromkeys(f"{FACTS.get(fact, fact)}{_elsewhere(fact, layout)}" for fact in facts))


def _elsewhere(fact: str, layout: str) -> str:
    home = ALWAYS_ON.get(fact, "")
    return f" (on the {home} card)" if layout and home and home != layout else ""
