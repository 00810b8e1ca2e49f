"""A binder's front: the title page, the contents, and the page before each section."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from cardmaker.binder import binder_words
from cardmaker.binder.arranging import SectionHeading
from cardmaker.binder.face_pages import stamped
from cardmaker.binder.page_numbers import Text, unnumbered
from cardmaker.layout.ink import HEAVY, SOFT
from cardmaker.layout.pages.blocks import Block, Column, Gap, Heading, Paragraph, Picture, Row, Table
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.page_flow import Running, pages_needed
from cardmaker.layout.type_setting import Span, cap_height, fitting_size, leading, set_lines
from cardmaker.model.binder_contents import Binder, Entry
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Page, Words
from cardmaker.wording import phrases, title_words
from cardmaker.wording.formatters import Units, small_length

NAME_SIZE: Final = 40.0  # points, or less for a long name
BAND_TOP, BAND_SHARE = 0.42, 0.4  # of the page's height: where the band of tapes begins, and how high it is
BETWEEN_TAPES, MOST_BETWEEN = 3.0, 14.0
HANGING: Final = 60.0  # mm: how far the tapes of a section hang on its first page
LEAST_TAPE: Final = 2.0  # mm: the narrowest that is worth its place in the band


def title_page(binder: Binder, entries: Sequence[Entry], leaf: Leaf) -> Page:
    """The binder's name, what it is, a band of its tapes at life size, and whose it is."""
    area, sizes = leaf.printable, leaf.sizes
    size = fitting_size(binder.title, Face.SERIF_SEMIBOLD, NAME_SIZE, area.width, leaf.ruler, sizes.heading)
    baseline = area.top + 0.16 * area.height
    box = Box(area.left, baseline - cap_height(size) - 2, area.width, cap_height(size) + 5)
    groups = [Group("title", binder.title, box, (Words(area.left, baseline, binder.title, Face.SERIF_SEMIBOLD, size),))]
    rule = baseline + 6.0
    groups.append(Group("artefact", "rule", box, (Line(area.left, rule, area.right, rule, HEAVY),)))
    spans = [
        Span(text, colour=SOFT) for text in (*binder.about.splitlines(), f"{binder_words.card_count(entries)}.") if text
    ]
    lines = leaf.lines(spans, sizes.heading, area.width * 0.8)[:8]
    below = Box(area.left, rule, area.width, 6 + len(lines) * leading(sizes.heading))
    words = set_lines(lines, area.left, rule + 3 + leading(sizes.heading), sizes.heading, leaf.ruler)
    groups.append(Group("paragraph", "about", below, tuple(words)))
    groups += [*_band(entries, area), *_credit(binder, leaf)]
    paper = leaf.paper
    panel = Group("panel", binder.title, area, tuple(groups))
    return Page(paper.width_mm, paper.height_mm, (panel,), binder.title)


def _band(entries: Sequence[Entry], area: Box) -> Iterator[Group]:
    """As many tapes as the width holds, taken evenly from the whole binder, side by side as they would hang."""
    box = Box(area.left, area.top + BAND_TOP * area.height, area.width, BAND_SHARE * area.height)
    chosen, marks = hung(entries, box)
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


def _credit(binder: Binder, leaf: Leaf) -> Iterator[Group]:
    area, size = leaf.printable, leaf.sizes.body
    lines = leaf.lines([Span(text) for text in (binder.credit,) if text], size, area.width)
    lines += leaf.lines([Span(binder.marked_as, colour=SOFT)] if binder.marked_as else [], size, area.width)
    if lines:
        first = area.bottom - (len(lines) - 1) * leading(size) - 1
        box = Box(area.left, first - leading(size), area.width, area.bottom - first + leading(size))
        yield Group("paragraph", "credit", box, tuple(set_lines(lines, area.left, first, size, leaf.ruler)))


def contents(
    headings: Sequence[SectionHeading],
    numbers: Mapping[str, int],
    backs: Sequence[tuple[str, str]],
    leaf: Leaf,
    units: Units,
) -> Text:
    """Every card under its section with its page, then what stands at the back (anchor and title)."""
    rows = [tuple(_row(each, numbers, units) for each in heading.entries) for heading in headings]
    columns = _in_line([row for each in rows for row in each], leaf)
    blocks: list[Block] = []
    for heading, own in zip(headings, rows, strict=True):
        if heading.title:
            blocks.append(Heading(heading.title, f"{binder_words.PAGE.lower()} {numbers[section_anchor(heading)]}"))
        if heading.entries:
            blocks.append(Table(heading.title, columns, own, ruled=True))
        blocks.append(Gap(2.0))
    at_the_back = tuple(
        Row((title, str(numbers[anchor])), anchor, binder_words.on_page(title, numbers[anchor]))
        for anchor, title in backs
    )
    blocks.append(
        Table(
            binder_words.INDEXES, (Column("", grows=True), Column(binder_words.PAGE, "right")), at_the_back, ruled=True
        )
    )
    return Text(blocks, Running(binder_words.CONTENTS, number=unnumbered))


def _in_line(rows: Sequence[Row], leaf: Leaf) -> tuple[Column, ...]:
    """The columns of every section's table, each with room for the widest figure of them all."""
    columns = []
    for index, head in enumerate(binder_words.CONTENTS_HEADS):
        if head == binder_words.NAME:
            columns.append(Column(head, grows=True))
            continue
        widest = max((row.cells[index] for row in rows), key=lambda text: leaf.wide(text, Face.SANS, 10), default="")
        columns.append(Column(head, "left" if head == binder_words.CODE else "right", holds=widest))
    return tuple(columns)


def _row(entry: Entry, numbers: Mapping[str, int], units: Units) -> Row:
    page = numbers[entry.anchor]
    cells = (entry.code, entry.title, str(entry.ends), small_length(entry.width_mm, units), str(page))
    return Row(cells, entry.anchor, binder_words.link_target(entry, page))


def section_anchor(heading: SectionHeading) -> str:
    return f"section {heading.title}"


def divider(heading: SectionHeading, numbers: Mapping[str, int], leaf: Leaf) -> Text:
    """The page before a section: its name, its text, and what is in it, or where to look when that is much."""
    blocks: list[Block] = [Paragraph((Span(text),)) for text in heading.text.splitlines()]
    if heading.entries:
        blocks.append(_hanging(heading))
        columns = (Column(binder_words.CODE), Column(binder_words.NAME, grows=True), Column(binder_words.PAGE, "right"))
        rows = tuple(_short_row(each, numbers[each.anchor]) for each in heading.entries)
        table = Table(heading.title, columns, rows, ruled=True)
        listed = pages_needed([table], leaf) == 1
        blocks += [Gap(5.0), table if listed else Paragraph((Span(binder_words.LISTED_IN_CONTENTS),))]
    aside = phrases.plural(len(heading.entries), "card") if heading.entries else ""
    return Text(blocks, Running(heading.title, aside, number=unnumbered))


def _short_row(entry: Entry, page: int) -> Row:
    return Row((entry.code, entry.title, str(page)), entry.anchor, binder_words.link_target(entry, page))


def _hanging(heading: SectionHeading) -> Picture:
    """The section's tapes at life size, as many as find room."""
    alt = ", ".join(title_words.card_title(entry) for entry in heading.entries[:40])
    return Picture("tapes", HANGING, lambda box: hung(heading.entries, box)[1], alt)
