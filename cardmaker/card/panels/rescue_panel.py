"""Rescue: every end counted from its nearer edge, for when one breaks; and what to do in other trouble."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.card.panels.rescue_strip import EndStrip, draw_strip, end_strip
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import columns_part, heading_part, words_part
from cardmaker.card.sheet import Panel, Sheet, planned
from cardmaker.layout.stacking import Part, exactly
from cardmaker.layout.type_setting import Span, figure, tail_depth
from cardmaker.model.marks import Box, Mark
from cardmaker.model.record_class import replace
from cardmaker.wording import rescue_words, trouble_words
from cardmaker.wording.view_words import seen_if_behind

BESIDE: Final = 6.0  # between the ends and words that find room beside them
LEAST_WORDS: Final = 55.0  # mm that the words need there
BRIEF: Final = ("rescue in brief",)  # what the words tell
MOST_TAILS: Final = 0.9  # mm that the line of small type hangs below the strip, whose labels have no tails


def _parts(sheet: Sheet, width: float) -> Sequence[Part]:
    strip = end_strip(sheet, width)
    heading = heading_part(sheet, width, rescue_words.RESCUE, rescue_words.from_nearer_edge(sheet.plan), instructs=True)
    beside = width - strip.width - BESIDE
    if strip.rows > 1 or beside < LEAST_WORDS:
        above = 1.8 if sheet.is_crowded else 2.3
        words = words_part(sheet, width, _words(sheet), sheet.sizes.small, above=above, facts=_told(sheet))
        return (heading, _ends(sheet, strip), words, *_where_yarn_ends(sheet, width))
    words = words_part(sheet, beside, _words(sheet), sheet.sizes.small, facts=_told(sheet))
    columns = columns_part([(0.0, strip.width, _ends(sheet, strip)), (width - beside, beside, words)])
    return (heading, columns, *_where_yarn_ends(sheet, width))


def _has_yarn_ends(sheet: Sheet) -> bool:
    """Whether the card lists what to wind, so that yarn may end on the way."""
    return "steps" in sheet.layout.panels


def _told(sheet: Sheet) -> tuple[str, ...]:
    return (*BRIEF, "yarn ends") if _has_yarn_ends(sheet) and not sheet.is_crowded else BRIEF


def _where_yarn_ends(sheet: Sheet, width: float) -> Sequence[Part]:
    """On a crowded card only where there is room: in a line of its own."""
    if not sheet.is_crowded or not _has_yarn_ends(sheet):
        return ()
    words: Paragraph = [Span(rescue_words.YARN_ENDS)]
    return (words_part(sheet, width, [words], sheet.sizes.small, above=0.9, facts=("yarn ends",), priority=5),)


def _in_brief(sheet: Sheet, width: float) -> Sequence[Part]:
    """Where there is no room for every end: what to do; the ends where there is."""
    strip = end_strip(sheet, width)
    words = words_part(sheet, width, _words(sheet), sheet.sizes.small, facts=_told(sheet))
    ends = replace(_ends(sheet, strip), above=1.6, priority=1)
    return (heading_part(sheet, width, rescue_words.RESCUE), words, ends, *_where_yarn_ends(sheet, width))


def _ends(sheet: Sheet, strip: EndStrip) -> Part:
    places = planned(sheet.plan.rescue).ends
    alt = rescue_words.rescue_alt_text(places, sheet.plan.loom)

    def draw(box: Box) -> list[Mark]:
        picture = Box(box.left, box.top, strip.width, strip.height)
        return [figure("ends", picture, sheet.as_mirrored(draw_strip(sheet, strip, picture), picture), alt)]

    tails = max(0.0, tail_depth(sheet.sizes.smallest) - MOST_TAILS)
    return Part(exactly(strip.height + tails), draw, 0.4, ("rescue",))


def _words(sheet: Sheet) -> list[Paragraph]:
    """From where it is seen, what a skipped space costs, how long a new end is; and, below the list of what to wind,
    what to do where its yarn ends."""
    rescue, brief = planned(sheet.plan.rescue), sheet.is_crowded
    texts = (
        seen_if_behind(sheet.plan.loom),
        trouble_words.skipped(rescue, brief=True),
        rescue_words.replacement(rescue.replacements, sheet.units, brief=brief),
        rescue_words.YARN_ENDS if _has_yarn_ends(sheet) and not brief else "",
    )
    return [[Span(text) for text in texts if text]]


RESCUE: Final = Panel("rescue", _parts, lambda sheet: sheet.plan.rescue is not None)
NEW_END: Final = Panel("new-end", _in_brief, lambda sheet: sheet.plan.rescue is not None)
