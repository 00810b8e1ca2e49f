"""A binder's first page: its name, what it is, a band of its tapes, and whose it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from cardmaker.binder import binder_words
from cardmaker.binder.page_numbers import Text, unnumbered
from cardmaker.binder.tape_cells import stamped
from cardmaker.layout.ink import HEAVY, SOFT
from cardmaker.layout.pages.blocks import Paragraph
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.page_flow import Running
from cardmaker.layout.type_setting import Headline, SetLine, Span, cap_height, headline, set_lines, text_height
from cardmaker.model.binder_contents import Binder, Entry
from cardmaker.model.marks import Box, Group, Line, Mark, Page
from cardmaker.wording import phrases, title_words

NAME_SIZE: Final = 40.0  # points, or less for a long name
BAND_TOP, BAND_SHARE = 0.42, 0.4  # of the page's height: where the band of tapes begins, and how high it is
BETWEEN_TAPES, MOST_BETWEEN = 3.0, 14.0
NAME_TOP: Final = 0.16  # of the page's height: where the name stands, if it leaves room for the rest
ABOVE_RULE, BELOW_RULE, ABOVE_CREDIT = 6.0, 5.0, 4.0
ABOVE_BAND: Final = 8.0
MOST_NAME: Final = 0.35  # of the page's height, before it is set smaller
MOST_CREDIT: Final = 0.15  # of the page's height, before it is set in the smallest type
LEAST_BAND: Final = 25.0
BETWEEN_PARAGRAPHS: Final = 1.6
LEAST_TAPE: Final = 2.0  # mm: the narrowest that is worth its place in the band
_WHAT_IT_IS: Final = "about"


def title_page(binder: Binder, entries: Sequence[Entry], leaf: Leaf) -> Page:
    """The binder's name, what it is, a band of its tapes at life size, and whose it is.

    What it is stands on a page of its own where that is so much that it would not fit: :func:`about_page`.
    """
    area = leaf.printable
    name = _name(binder, leaf)
    credit = _credit(binder, leaf)
    foot = credit[0].box.top if credit else area.bottom
    first = _first_baseline(name, entries, leaf, foot)
    last = first + name.height_mm - cap_height(name.size)
    box = Box(area.left, first - cap_height(name.size) - 2, area.width, name.height_mm + 5)
    rule = last + ABOVE_RULE
    groups = [
        Group("title", binder.title, box, tuple(set_lines(name.lines, area.left, first, name.size, leaf.ruler))),
        Group("artefact", "rule", box, (Line(area.left, rule, area.right, rule, HEAVY),)),
    ]
    about, below = _about(binder, entries, leaf, Box(area.left, rule, area.width, foot - ABOVE_CREDIT - rule))
    band = max(area.top + BAND_TOP * area.height, below + ABOVE_BAND)
    hanging = min(BAND_SHARE * area.height, foot - ABOVE_BAND - band)
    groups += [*about, *_band(entries, Box(area.left, band, area.width, hanging)), *credit]
    paper = leaf.paper
    panel = Group("panel", binder.title, area, tuple(groups))
    return Page(paper.width_mm, paper.height_mm, (panel,), binder.title)


def _name(binder: Binder, leaf: Leaf) -> Headline:
    """The name; in a smaller size where it would take too much of a small page."""
    area, sizes = leaf.printable, leaf.sizes
    for smallest in (sizes.count, sizes.heading, sizes.body):
        name = headline(binder.title, NAME_SIZE, smallest, area.width, leaf.ruler)
        if name.height_mm <= MOST_NAME * area.height:
            break
    return name


def about_page(binder: Binder, entries: Sequence[Entry], leaf: Leaf) -> Text | None:
    """What the binder is, where that does not fit the title page."""
    page = title_page(binder, entries, leaf)
    if any(isinstance(mark, Group) and _tells_about(mark) for mark in page.marks):
        return None
    paragraphs = [Paragraph((Span(text),)) for text in phrases.text_paragraphs(binder.about)]
    return Text(paragraphs, Running(binder_words.ABOUT, number=unnumbered)) if paragraphs else None


def _tells_about(panel: Group) -> bool:
    return any(isinstance(mark, Group) and mark.name == _WHAT_IT_IS for mark in panel.marks)


def _first_baseline(name: Headline, entries: Sequence[Entry], leaf: Leaf, foot: float) -> float:
    """Where the name begins: some way down the page, or as high as it must."""
    area, size = leaf.printable, leaf.sizes.smallest
    count = text_height(len(_count_lines(entries, leaf, size, area.width)), size)
    least = name.height_mm + ABOVE_RULE + BELOW_RULE + count + ABOVE_CREDIT
    down = max(0.0, min(NAME_TOP * area.height - cap_height(name.size), foot - area.top - least))
    return area.top + down + cap_height(name.size)


def _count_lines(entries: Sequence[Entry], leaf: Leaf, size: float, width: float) -> list[SetLine]:
    return leaf.lines([Span(f"{binder_words.card_count(entries)}.", colour=SOFT)], size, width)


def _about(binder: Binder, entries: Sequence[Entry], leaf: Leaf, room: Box) -> tuple[list[Group], float]:
    """What the binder is, in paragraphs, the last with the number of its cards, and where they end: in smaller type and
    longer lines where it is much; only the number of cards, where it finds no room at all."""
    count = f"{binder_words.card_count(entries)}."
    *paragraphs, last = phrases.text_paragraphs(binder.about) or [""]
    texts = [*paragraphs, f"{last} {count}".strip()]
    sizes = leaf.sizes
    for size, share in ((sizes.heading, 0.8), (sizes.body, 0.8), (sizes.body, 1.0), (sizes.smallest, 1.0)):
        lines = [leaf.lines([Span(text, colour=SOFT)], size, room.width * share) for text in texts]
        if _about_height(lines, size) + BELOW_RULE <= room.height:
            return _set_about(lines, _WHAT_IT_IS, room, size, leaf)
    return _set_about([_count_lines(entries, leaf, sizes.smallest, room.width)], "count", room, sizes.smallest, leaf)


def _about_height(paragraphs: Sequence[list[SetLine]], size: float) -> float:
    return sum(text_height(len(each), size) for each in paragraphs) + (len(paragraphs) - 1) * BETWEEN_PARAGRAPHS


def _set_about(
    paragraphs: Sequence[list[SetLine]], name: str, room: Box, size: float, leaf: Leaf
) -> tuple[list[Group], float]:
    groups = []
    y = room.top + BELOW_RULE
    for lines in paragraphs:
        box = Box(room.left, y, room.width, text_height(len(lines), size))
        words = set_lines(lines, room.left, y + cap_height(size), size, leaf.ruler)
        groups.append(Group("paragraph", name, box, tuple(words)))
        y = box.bottom + BETWEEN_PARAGRAPHS
    return groups, y - BETWEEN_PARAGRAPHS


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
    area = leaf.printable
    for size in (leaf.sizes.body, leaf.sizes.smallest):
        lines = leaf.lines([Span(text) for text in (binder.credit,) if text], size, area.width)
        lines += leaf.lines([Span(binder.marked_as, colour=SOFT)] if binder.marked_as else [], size, area.width)
        if text_height(len(lines), size) <= MOST_CREDIT * area.height:
            break
    if not lines:
        return []
    high = text_height(len(lines), size)
    box = Box(area.left, area.bottom - high, area.width, high)
    words = set_lines(lines, area.left, box.top + cap_height(size), size, leaf.ruler)
    return [Group("paragraph", "credit", box, tuple(words))]
