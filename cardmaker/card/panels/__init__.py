"""The panels: a module is named for what it shows. A panel is loaded when a layout names it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from importlib import import_module
from typing import Final

from cardmaker.card.sheet import Panel

_HOMES: Final = {
    "title": "record_title_panel:TITLE",
    "changed": "changes_panels:CHANGED",
    "strip": "ribbon_panel:STRIP_PANEL",
    "order": "order_panel:ORDER",
    "board": "heddle_panel:BOARD",
    "walk": "winding_walk_panel:WALK",
    "face": "woven_face_panel:FACE",
    "weave": "shuttle_panel:WEAVE_HEADING",
    "shuttle": "shuttle_panel:SHUTTLE",
    "shuttle-first": "shuttle_panel:SHUTTLE_FIRST",
    "yarn": "yarn_panel:YARN",
    "lengths": "lengths_panel:LENGTHS",
    "pieces": "lengths_panel:PIECES",
    "pieces-line": "lengths_panel:PIECES_LINE",
    "source": "source_panel:SOURCE",
    "notes": "notes_panels:NOTES",
    "thick-ends": "notes_panels:THICK_ENDS",
    "changes": "changes_panels:CHANGES",
    "looms": "looms_panel:LOOMS",
    "results": "result_blanks_panel:RESULTS",
    "results-table": "result_blanks_panel:RESULTS_TABLE",
    "second-yarns": "second_yarns_panel:SECOND_YARNS",
    "rest-and-code": "rest_panels:REST_AND_CODE",
    "rest-code-and-sample": "rest_panels:REST_CODE_AND_SAMPLE",
    "photograph": "photograph_panel:PHOTOGRAPH",
    "sample": "sample_panel:SAMPLE",
    "foot": "foot_panels:FOOT",
    "name": "title_panels:NAME",
    "head": "small_card_panels:HEAD",
    "woven-size": "small_card_panels:WOVEN_SIZE",
    "woven-size-in-brief": "small_card_panels:WOVEN_SIZE_IN_BRIEF",
    "back-name": "title_panels:BACK_NAME",
    "plain-name": "title_panels:PLAIN_NAME",
    "cautions": "foot_panels:CAUTIONS",
    "room": "pegs_panel:ROOM",
    "steps": "winding_steps_panel:STEPS",
    "turns": "beam_panel:TURNS",
    "press": "press_gauge_panel:PRESS",
    "weaving": "pace_panel:PACE",
    "rescue": "rescue_panel:RESCUE",
    "new-end": "rescue_panel:NEW_END",
    "every-end": "every_end_panel:EVERY_END",
    "stripe-ends": "stripe_ends_panel:STRIPE_ENDS",
    "any-heddle": "any_heddle_panel:ANY_HEDDLE",
    "any-sheds": "any_heddle_panel:ANY_SHEDS",
    "lost-end": "lost_end_panel:LOST_END",
    "lost-end-board": "lost_end_panel:LOST_END_BOARD",
    "lost-end-steps": "lost_end_panel:LOST_END_STEPS",
    "pickup": "pickup_panel:PICKUP",
    "pickup-line": "pickup_line_panel:PICKUP_LINE",
    "counts": "stripe_counts_panels:COUNTS",
    "counts-under-band": "stripe_counts_panels:COUNTS_UNDER_BAND",
    "first": "first_space_panel:FIRST",
    "checks": "first_space_panel:CHECKS",
    "next": "shuttle_panel:NEXT",
    "ticks": "winding_ticks_panel:TICKS",
    "ticks-if-room": "winding_ticks_panel:TICKS_IF_ROOM",
    "walk-in-totals": "winding_ticks_panel:WALK_IN_TOTALS",
    "six": "six_numbers_panel:SIX",
    "six-if-room": "six_numbers_panel:SIX_IF_ROOM",
    "trouble": "trouble_panel:TROUBLE",
    "legend": "legend_panel:LEGEND",
    "wound": "student_panels:WOUND",
    "threading": "threading_line_panel:THREADING",
    "threaded": "student_panels:THREADED",
    "student": "student_panels:STUDENT",
    "named": "student_panels:NAMED",
    "width": "title_panels:WIDTH",
    "source-lines": "source_panel:SOURCE_LINES",
    "history": "source_panel:HISTORY",
    "visitor": "visitor_panels:VISITOR",
    "known": "visitor_panels:KNOWN",
    "question": "visitor_panels:QUESTION",
    "file-code": "file_code_panel:FILE_CODE",
    "slip-wind": "dressing_panel:SLIP_WIND",
    "slip-dress": "dressing_panel:SLIP_DRESS",
    "dress-steps": "dressing_panel:DRESS_STEPS",
    "slip-weave": "dressing_panel:SLIP_WEAVE",
    "lifting": "slip_panels:LIFTING",
    "stuck-winding": "slip_panels:STUCK_WINDING",
    "stuck-dressing": "slip_panels:STUCK_DRESSING",
    "then-dress": "slip_panels:THEN_DRESS",
    "then-weave": "slip_panels:THEN_WEAVE",
    "last-slip": "slip_panels:LAST_SLIP",
    "dressing": "dressing_panel:DRESSING",
    "dressing-wound": "dressing_panel:DRESSING_WOUND",
    "dressing-threaded": "dressing_panel:DRESSING_THREADED",
    "tape-name": "tape_panels:TAPE_NAME",
    "tape-size": "tape_panels:TAPE_SIZE",
    "tape-steps": "tape_panels:TAPE_STEPS",
    "tape-purpose": "tape_panels:TAPE_PURPOSE",
    "tape-said": "tape_panels:TAPE_SAID",
    "tape-choosers": "tape_panels:TAPE_CHOOSERS",
    "tape-history": "tape_panels:TAPE_HISTORY",
}

# What may stand on a record only: the file holds notes for the teacher, which no student should be given.
RECORD_PANELS: Final = frozenset({"file-code", "rest-and-code", "rest-code-and-sample"})

REST: Final = "more"  # on a back: all that found no room in front of panels that have no place of their own there

# How a card is read aloud: name, stripes, winding, heddle, weaving; then what is looked up.
READING_ORDER: Final = (
    "title", "name", "plain-name", "back-name", "head", "tape-name", "tape-size", "tape-purpose", "tape-said",
    "tape-choosers",
    "changed", "named", "legend",
    "lost-end", "lost-end-board", "lost-end-steps", "order", "counts", "counts-under-band", "six", "six-if-room",
    "tape-steps", "tape-history",
    "lengths", "pieces", "pieces-line", "room", "wound", "walk", "walk-in-totals", "ticks", "ticks-if-room",
    "steps", "lifting", "slip-wind", "stuck-winding", "then-dress", "dressing", "dressing-wound", "dressing-threaded",
    "board", "any-heddle", "threading", "threaded", "first", "checks", "thick-ends", "slip-dress", "dress-steps",
    "stuck-dressing", "then-weave", "turns", "press",
    "weave", "any-sheds", "shuttle", "shuttle-first", "next", "slip-weave", "face", "pickup", "pickup-line", "weaving",
    "woven-size", "woven-size-in-brief", "ribbon", "strip", "notch",
    "yarn", "second-yarns", "notes", "student", "rescue", "new-end", "every-end", "stripe-ends", "trouble", "last-slip",
    "looms", "width", "source", "source-lines", "photograph", "history", "changes", "visitor", "known", "question",
    "more", "rest-and-code", "rest-code-and-sample", "results", "results-table", "sample", "file-code",
    "cautions", "foot",
)  # fmt: skip


@cache
def _panel(name: str) -> Panel:
    module, _, panel = _HOMES[name].partition(":")
    loaded: Panel = getattr(import_module(f"cardmaker.card.panels.{module}"), panel)
    return loaded


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
