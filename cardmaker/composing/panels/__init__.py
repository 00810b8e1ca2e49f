"""One module per panel: each is named for what it shows. A panel is loaded when a layout names it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from importlib import import_module
from typing import Final

from cardmaker.composing.sheet import Panel

_HOMES: Final = {
    "title": "title:TITLE",
    "changed": "changed:CHANGED",
    "order": "order:ORDER",
    "board": "board:BOARD",
    "walk": "walk:WALK",
    "face": "face:FACE",
    "shuttle": "shuttle:SHUTTLE",
    "yarn": "yarn:YARN",
    "lengths": "words:LENGTHS",
    "source": "words:SOURCE",
    "notes": "words:NOTES",
    "changes": "words:CHANGES",
    "looms": "words:LOOMS",
    "results": "results:RESULTS",
    "foot": "words:FOOT",
    "name": "title:NAME",
    "plain-name": "title:PLAIN_NAME",
    "visitor-name": "title:VISITOR_NAME",
    "cautions": "words:CAUTIONS",
    "room": "room:ROOM",
    "steps": "steps:STEPS",
    "turns": "turns:TURNS",
    "press": "press:PRESS",
    "weaving": "words:WEAVING",
    "rescue": "rescue:RESCUE",
    "pickup": "pickup:PICKUP",
    "counts": "event:COUNTS",
    "stripes": "event:STRIPES",
    "first": "event:FIRST",
    "next": "event:NEXT",
    "ticks": "event:TICKS",
    "six": "event:SIX",
    "trouble": "people:TROUBLE",
    "student": "people:STUDENT",
    "named": "people:NAMED",
    "history": "people:HISTORY",
    "tag": "people:TAG",
    "visitor": "people:VISITOR",
    "known": "people:KNOWN",
    "trips": "people:TRIPS",
}


# How a card is read aloud: name, stripes, winding, heddle, weaving; then what is looked up.
READING_ORDER: Final = (
    "title", "name", "plain-name", "changed",
    "order", "counts", "stripes", "six",
    "lengths", "trips", "room", "walk", "ticks", "steps",
    "board", "first",
    "shuttle", "next", "face", "pickup", "weaving", "ribbon",
    "yarn", "turns", "press", "notes", "student", "rescue", "trouble", "looms",
    "source", "history", "changes", "visitor-name", "visitor", "known",
    "results", "named", "tag", "cautions", "foot",
)  # fmt: skip


@cache
def _panel(name: str) -> Panel:
    module, _, panel = _HOMES[name].partition(":")
    found: Panel = getattr(import_module(f"cardmaker.composing.panels.{module}"), panel)
    return found


class _Panels(Mapping[str, Panel]):
    """Every panel by its name: the module it lives in is loaded at the first look."""

    def __getitem__(self, name: str) -> Panel:
        return _panel(name)

    def __contains__(self, name: object) -> bool:
        return name in _HOMES

    def __iter__(self) -> Iterator[str]:
        return iter(_HOMES)

    def __len__(self) -> int:
        return len(_HOMES)


PANELS: Final = _Panels()
