"""A binder's first page: its name, what it is, a band of its tapes, and whose it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from cardmaker.binder import binder_words
from cardmaker.binder.tape_cells import stamped
from cardmaker.layout.ink import HEAVY, SOFT
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.type_setting import Span, cap_height, headline, leading, set_lines, tail_depth
from cardmaker.model.binder_contents import Binder, Entry
from cardmaker.model.marks import Box, Group, Line, Mark, Page
from cardmaker.wording import phrases, title_words

NAME_SIZE: Final = 40.0  # points, or less for a long name
BAND_TOP, BAND_SHARE = 0.42, 0.4  # of the page's height: where the band of tapes begins, and how high it is
BETWEEN_TAPES, MOST_BETWEEN = 3.0, 14.0
ABOVE_BAND: Final = 8.0
LEAST_BAND: Final = 25.0
BETWEEN_PARAGRAPHS: Final = 1.6
LEAST_TAPE: Final = 2.0  # mm: the narrowest that is worth its place in the band


def title_page(binder: Binder, entries: Sequence[Entry], leaf: Leaf) -> Page:
    """The binder's name, what it is, a band of its tapes at life size, and whose it is."""
    area, sizes = leaf.printable, leaf.sizes
    name = headline(binder.title, NAME_SIZE, sizes.count, area.width, leaf.ruler)
    first = area.top + 0.16 * area.height
    last = first + name.height_mm - cap_height(name.size)
    box = Box(area.left, first - cap_height(name.size) - 2, area.width, name.height_mm + 5)
    title = set_lines(name.lines, area.left, first, name.size, leaf.ruler)
    rule = last + 6.0
    groups = [
        Group("title", binder.title, box, tuple(title)),
        Group("artefact", "rule", box, (Line(area.left, rule, area.right, rule, HEAVY),)),
    ]
    credit = _credit(binder, leaf)
    foot = credit[0].box.top if credit else area.bottom
    about, below = _about(binder, entries, leaf, Box(area.left, rule, area.width, foot - 2.0 - rule))
    band = max(area.top + BAND_TOP * area.height, below + ABOVE_BAND)
    hanging = min(BAND_SHARE * area.height, foot - ABOVE_BAND - band)
    groups += [*about, *_band(entries, Box(area.left, band, area.width, hanging)), *credit]
    paper = leaf.paper
    panel = Group("panel", binder.title, area, tuple(groups))
    return Page(paper.width_mm, paper.height_mm, (panel,), binder.title)


def _about(binder: Binder, entries: Sequence[Entry], leaf: Leaf, room: Box) -> tuple[list[Group], float]:
    """What the binder is, in paragraphs, the last with the number of its cards, and where they end; in smaller type
    and longer lines where it is so much that it would not fit."""
    count = f"{binder_words.card_count(entries)}."
    *paragraphs, last = phrases.text_paragraphs(binder.about) or [""]
    texts = [*paragraphs, f"{last} {count}".strip()]
    sizes = leaf.sizes
    for size, share in ((sizes.heading, 0.8), (sizes.body, 0.8), (sizes.body, 1.0), (sizes.smallest, 1.0)):
        lines = [leaf.lines([Span(text, colour=SOFT)], size, room.width * share) for text in texts]
        high = sum(len(each) for each in lines) * leading(size) + len(lines) * BETWEEN_PARAGRAPHS
        if high + 3.0 <= room.height:
            break
    groups = []
    y = room.top + 3.0
    for each in lines:
        box = Box(room.left, y, room.width, len(each) * leading(size) + tail_depth(size))
        words = set_lines(each, room.left, y + leading(size), size, leaf.ruler)
        groups.append(Group("paragraph", "about", box, tuple(words)))
        y = box.bottom + BETWEEN_PARAGRAPHS
    return groups, y


def _band(entries: Sequence[Entry], box: Box) -> Iterator[Group]:
    """As many tapes as the width holds, taken evenly from the whole binder, side by side as they would hang."""
    chosen, marks = hung(entries, box) if box.height >= LEAST_BAND else ([], ())
    if chosen:
        yield Group("figure", "tapes", box, marks, ", ".join(title_words.card_title(entry) for entry in chosen))


def hung(entries: Sequence[Entry], box: Box) -> tuple[list[Entry], tuple[Mark, ...]]:
    """As many tapes as ``box`` holds, taken evenly from all, side by side, and which they are."""
    chosen = _chosen(entries, box.width)
    marks: list[Mark] = []
    left, spare = box.left, box.width - sum(entry.face.width_mm for entry in chosen)
    gap = min(MOST_BETWEEN, spare / (len(chosen) - 1)) if len(chosen) > 1 else 0.0
    for entry in chosen:
        marks.append(stamped(entry.face, Box(left, box.top, entry.face.width_mm, box.height), entry.face.width_mm))
        left += entry.face.width_mm + gap
    return chosen, tuple(marks)


def _chosen(entries: Sequence[Entry], width: float) -> list[Entry]:
    """The most entries, at even steps through the list, whose tapes fit side by side."""
    wide = [entry for entry in entries if entry.face.width_mm >= LEAST_TAPE]
    for count in range(min(len(wide), int(width / (LEAST_TAPE + BETWEEN_TAPES))), 0, -1):
        chosen = [wide[index * len(wide) // count] for index in range(count)]
        if sum(entry.face.width_mm + BETWEEN_TAPES for entry in chosen) - BETWEEN_TAPES <= width:
            return chosen
    return []


def _credit(binder: Binder, leaf: Leaf) -> list[Group]:
    area, size = leaf.printable, leaf.sizes.body
    lines = leaf.lines([Span(text) for text in (binder.credit,) if text], size, area.width)
    lines += leaf.lines([Span(binder.marked_as, colour=SOFT)] if binder.marked_as else [], size, area.width)
    if not lines:
        return []
    first = area.bottom - (len(lines) - 1) * leading(size) - 1
    box = Box(area.left, first - leading(size), area.width, area.bottom - first + leading(size))
    return [Group("paragraph", "credit", box, tuple(set_lines(lines, area.left, first, size, leaf.ruler)))]
