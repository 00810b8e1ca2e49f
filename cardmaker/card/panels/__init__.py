"""One module per panel: each is named for what it shows. A panel is loaded when a layout names it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from importlib import import_module
from typing import Final

from cardmaker.card.sheet import Panel

_HOMES: Final = {
    "title": "title_panels:TITLE",
    "changed": "changed_panel:CHANGED",
    "order": "order_panel:ORDER",
    "board": "board_panel:BOARD",
    "walk": "walk_panel:WALK",
    "face": "face_panel:FACE",
    "shuttle": "shuttle_panel:SHUTTLE",
    "yarn": "yarn_panel:YARN",
    "lengths": "word_panels:LENGTHS",
    "source": "word_panels:SOURCE",
    "notes": "word_panels:NOTES",
    "changes": "word_panels:CHANGES",
    "looms": "word_panels:LOOMS",
    "results": "results_panel:RESULTS",
    "foot": "word_panels:FOOT",
    "name": "title_panels:NAME",
    "plain-name": "title_panels:PLAIN_NAME",
    "visitor-name": "title_panels:VISITOR_NAME",
    "cautions": "word_panels:CAUTIONS",
    "room": "room_panel:ROOM",
    "steps": "steps_panel:STEPS",
    "turns": "turns_panel:TURNS",
    "press": "press_panel:PRESS",
    "weaving": "word_panels:WEAVING",
    "rescue": "rescue_panel:RESCUE",
    "pickup": "pickup_panel:PICKUP",
    "counts": "event_panels:COUNTS",
    "stripes": "event_panels:STRIPES",
    "first": "event_panels:FIRST",
    "next": "event_panels:NEXT",
    "ticks": "event_panels:TICKS",
    "six": "event_panels:SIX",
    "trouble": "people_panels:TROUBLE",
    "student": "people_panels:STUDENT",
    "named": "people_panels:NAMED",
    "history": "people_panels:HISTORY",
    "tag": "people_panels:TAG",
    "visitor": "people_panels:VISITOR",
    "known": "people_panels:KNOWN",
    "trips": "people_panels:TRIPS",
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
    found: Panel = getattr(import_module(f"cardmaker.card.panels.{module}"), panel)
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
