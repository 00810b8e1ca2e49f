"""The head of a small card, or of one that has another beside it: name, code, version and date, and the first facts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.name_head import ABOVE_RULE, back_name_part, name_part, rule_part
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import run_in_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import Part
from cardmaker.layout.type_setting import NO_BREAK, Span
from cardmaker.model.marks import Face
from cardmaker.wording import heddle_words, length_words, phrases, title_words

ABOVE_FACTS: Final = 2.2  # mm from the rule to the facts
CLOSE_NAME: Final = 0.6  # of the space over them and over the rule, on a crowded card for the bench
WINDING_PANELS: Final = frozenset({"room", "steps"})
FIRST_SPACE_PANELS: Final = frozenset({"board", "threading", "threaded", "first"})


def _name_facts(sheet: Sheet, width: float) -> Paragraph:
    """The figures in strong letters, dots between them; a student's card, which has the width of the tape besides,
    tells the length to wind in one system of units where the line is too short for both."""
    before, after = _figures(sheet)
    tries = [_dotted([*before, f"{wind}{_on_pegs(sheet)}", *after]) for wind in _lengths_to_wind(sheet)]
    return min(tries, key=lambda spans: len(sheet.lines(spans, sheet.sizes.body, width)))


def _figures(sheet: Sheet) -> tuple[list[str], list[str]]:
    """What is told before the length to wind, and what after it."""
    plan = sheet.plan
    wide = [length_words.wide(plan, sheet.units)] if _is_for_student(sheet) else []
    first = [heddle_words.first_line(plan)] if _names_first_space(sheet) else []
    return [phrases.end_count(plan.ends), *wide, plan.loom.title], first


def _lengths_to_wind(sheet: Sheet) -> list[str]:
    say = length_words.warp_wound if sheet.is_wound else length_words.wind
    alone = (False, True) if _is_for_student(sheet) else (False,)
    return [say(sheet.plan.lengths, sheet.units, alone=each) for each in alone]


def _dotted(facts: Sequence[str]) -> Paragraph:
    last = len(facts) - 1
    return [
        Span(NO_BREAK.join(fact.split(" ")) + ("  ·" if at < last else ""), Face.SANS_BOLD)
        for at, fact in enumerate(facts)
    ]


def _is_for_student(sheet: Sheet) -> bool:
    return "trouble" in sheet.layout.panels


def _names_first_space(sheet: Sheet) -> bool:
    """On a card for winding and dressing that has no step of threading: where end 1 goes is still looked for there."""
    panels = sheet.layout.panels
    return bool(WINDING_PANELS & panels) and not FIRST_SPACE_PANELS & panels


def _on_pegs(sheet: Sheet) -> str:
    """Where to wind, on a layout that shows the room: its figures are those of one place."""
    pegs = sheet.plan.pegs
    return f" on {pegs.title}" if pegs is not None and "room" in sheet.layout.panels else ""


def _plain_name_parts(sheet: Sheet, width: float) -> list[Part]:
    return [name_part(sheet, width), rule_part(sheet)]


def _name_parts(sheet: Sheet, width: float) -> list[Part]:
    told = ["ends", "loom", "warp"]
    told += ["width"] if _is_for_student(sheet) else []
    told += ["first space"] if _names_first_space(sheet) else []
    close = CLOSE_NAME if sheet.is_crowded and not sheet.brief else 1.0
    above, words = ABOVE_FACTS * close, [_name_facts(sheet, width)]
    facts = words_part(sheet, width, words, sheet.sizes.body, above=above, facts=tuple(told))
    return [name_part(sheet, width), rule_part(sheet, above=ABOVE_RULE * close), facts]


def _back_name_parts(sheet: Sheet, width: float) -> list[Part]:
    return [back_name_part(sheet, width), rule_part(sheet)]


def _width_parts(sheet: Sheet, width: float) -> list[Part]:
    plan, units = sheet.plan, sheet.units
    basis = title_words.width_basis(plan.width, units, length_words.from_tape(plan, "width"))
    words = [Span(f"{phrases.capitalised(title_words.width_fact(plan.width, units))}: {basis}.")]
    return run_in_part(sheet, width, title_words.HOW_WIDE, words, facts=("width",))


WIDTH: Final = Panel("width", _width_parts)
BACK_NAME: Final = Panel("back-name", _back_name_parts)
NAME: Final = Panel("name", _name_parts)
PLAIN_NAME: Final = Panel("plain-name", _plain_name_parts)
