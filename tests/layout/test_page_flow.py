"""Running text and tables over pages: where they are parted, what stands again, and that figures are never cut.

Lengths in mm. The ruler here gives every sign half its size in width, so that the sums can be done by hand: at 10 pt a
sign is 10 / 2 * 25.4 / 72 = 1.764 mm wide.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardmaker.layout.pages.blocks import (
    Block,
    Break,
    Gap,
    Heading,
    KeepTogether,
    Paragraph,
    Picture,
)
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.page_flow import Running, flow, head_height, pages_needed, settled_leaf
from cardmaker.layout.table_setting import Column, Row, Table, TooWide
from cardmaker.layout.type_setting import Span
from cardmaker.model.card_layout import Paper, TypeSizes
from cardmaker.model.marks import Box, Face, Group, Line, Link, Mark, Page, Rectangle, Words
from cardmaker.pdf.fonts import TypeRuler

SIGN_MM = 10 / 2 * 25.4 / 72


@dataclass(frozen=True)
class PlainRuler:
    def width_mm(self, text: str, face: Face, size_pt: float) -> float:
        return len(text) * size_pt / 2 * 25.4 / 72


TENS = TypeSizes(20, 16, 10, 10, 10, 8)


def leaf(width: float = 100, height: float = 100) -> Leaf:
    """100 mm square with 10 mm kept clear all round, unless said otherwise: 80 mm for words."""
    return Leaf(Paper("test", width, height), PlainRuler(), TENS, 10, 10)


def said(text: str, **how: str) -> Paragraph:
    return Paragraph((Span(text),), **how)  # type: ignore[arg-type]


def groups(marks: Iterable[Mark], role: str) -> Iterator[Group]:
    for mark in marks:
        if isinstance(mark, Group):
            if mark.role == role:
                yield mark
            yield from groups(mark.marks, role)


def words(marks: Iterable[Mark]) -> Iterator[Words]:
    for mark in marks:
        if isinstance(mark, Words):
            yield mark
        elif isinstance(mark, Group | Link):
            yield from words(mark.marks)


def texts(page: Page, role: str = "") -> list[str]:
    if not role:
        return [each.text for each in words(page.marks)]
    return [" ".join(each.text for each in words(group.marks)) for group in groups(page.marks, role)]


def rows(page: Page) -> list[list[str]]:
    return [
        [" ".join(each.text for each in words(cell.marks)) for cell in row.marks if isinstance(cell, Group)]
        for row in groups(page.marks, "row")
    ]


# Parting


def test_no_blocks_are_one_empty_page() -> None:
    (page,) = flow([], leaf())
    assert texts(page) == []
    assert (page.width_mm, page.height_mm) == (100, 100)


def test_a_line_that_fits_stays_whole_and_one_more_sign_wraps_it() -> None:
    # 80 mm hold 80 / 1.764 = 45.35 signs
    fits, wraps = "a" * 22 + " " + "b" * 22, "a" * 22 + " " + "b" * 23
    assert texts(flow([said(fits)], leaf())[0]) == [fits]
    assert texts(flow([said(wraps)], leaf())[0]) == ["a" * 22, "b" * 23]


def test_a_paragraph_is_parted_with_two_lines_on_either_side() -> None:
    # A line is 10 * 0.3528 * 1.24 = 4.374 mm, the first (0.66 + 0.25) * 3.528 = 3.210 mm, and the foot takes
    # 3 + 8 * 0.3528 = 5.82 of the 80 mm: 17 lines fit, 3.210 + 16 * 4.374 = 73.20 of 74.18 mm; 18 are 77.57 mm.
    word = "x" * 40
    first, second = flow([said(" ".join([word] * 18))], leaf())
    assert len(texts(first, "paragraph")[0].split()) == 16
    assert len(texts(second, "paragraph")[0].split()) == 2
    (only,) = flow([said(" ".join([word] * 17))], leaf())
    assert len(texts(only, "paragraph")[0].split()) == 17


def test_a_heading_goes_over_with_what_it_heads() -> None:
    first, second = flow([said(" ".join(["x" * 40] * 14)), Heading("Below"), said("words")], leaf())
    assert texts(first, "heading") == []
    assert texts(second, "heading") == ["Below"]
    assert texts(second, "paragraph") == ["words"]


def test_blocks_are_kept_together_and_a_break_begins_a_page() -> None:
    long = said(" ".join(["x" * 40] * 13))
    pair = (said("one " * 20), said("two " * 20))
    assert [texts(page, "paragraph")[-1][:3] for page in flow([long, *pair], leaf())] == ["one", "two"]
    first, second = flow([long, KeepTogether(pair)], leaf())
    assert [text[:3] for text in texts(second, "paragraph")] == ["one", "two"]
    assert len(texts(first, "paragraph")) == 1
    assert [texts(page) for page in flow([said("a"), Break(), said("b")], leaf())] == [["a", "1 of 2"], ["b", "2 of 2"]]


def test_what_is_kept_together_but_longer_than_a_page_is_parted() -> None:
    pages = flow([KeepTogether(tuple(said(f"{number}") for number in range(40)))], leaf())
    assert len(pages) > 1
    assert [text for page in pages for text in texts(page, "paragraph")] == [f"{number}" for number in range(40)]


def test_a_gap_moves_what_follows_down_but_not_at_the_top_of_a_page() -> None:
    def top(page: Page) -> float:
        return next(groups(page.marks, "paragraph")).box.top

    (plain,) = flow([said("a")], leaf())
    (moved,) = flow([Gap(7), said("a")], leaf())
    assert top(plain) == top(moved) == 10
    (page,) = flow([said("a"), said("b")], leaf())
    (apart,) = flow([said("a"), Gap(7), said("b")], leaf())
    tops = [[group.box.top for group in groups(each.marks, "paragraph")] for each in (page, apart)]
    assert tops[1][1] - tops[0][1] == pytest.approx(7)


def test_a_picture_gets_the_page_s_width_and_its_own_height() -> None:
    seen: list[Box] = []

    def draw(box: Box) -> tuple[Mark, ...]:
        seen.append(box)
        return (Rectangle(box, "#000000"),)

    (page,) = flow([Picture("bar", 12, draw, "A bar.")], leaf())
    assert seen == [Box(10, 10, 80, 12)]
    assert next(groups(page.marks, "figure")).alt == "A bar."


# Tables


def table(count: int, width: int = 3) -> Table:
    made = tuple(Row((f"name {number}", "7" * width)) for number in range(count))
    return Table("who", (Column("Name"), Column("Ends", "right")), made)


def test_a_table_s_head_stands_again_on_every_page() -> None:
    pages = flow([table(40)], leaf())
    assert len(pages) >= 3
    assert [rows(page)[0] for page in pages] == [["Name", "Ends"]] * len(pages)
    assert [row[0] for page in pages for row in rows(page)[1:]] == [f"name {number}" for number in range(40)]
    assert all(len(rows(page)) > 2 for page in pages)  # never a single row


def test_figures_end_at_one_edge_and_words_begin_at_one() -> None:
    (page,) = flow([Table("t", (Column("A"), Column("B", "right")), (Row(("x", "7")), Row(("yy", "1 234"))))], leaf())
    cells = list(groups(page.marks, "cell"))
    marks = [next(words(cell.marks)) for cell in cells]
    assert marks[0].x == marks[2].x == 10
    assert marks[1].x == marks[3].x
    assert marks[1].align == "right"


def test_words_wrap_in_a_full_table_and_figures_never_do() -> None:
    # 80 mm: the figures take 20 * 1.764 = 35.3 mm and the gap 4, so the words have 40.7 mm, 23 signs.
    full = Table("t", (Column("A"), Column("B", "right")), (Row(("word " * 12, "9" * 20)),))
    (page,) = flow([full], leaf())
    cells = list(groups(page.marks, "cell"))
    assert [each.text for each in words(cells[0].marks)] == ["word word word word"] * 3
    assert [each.text for each in words(cells[1].marks)] == ["9" * 20]


def test_a_table_gets_smaller_type_before_it_is_refused() -> None:
    # Two columns of 24 figures: at 10 pt 84.7 mm, at 9 pt 76.2 mm and a gap of 2.
    def of(signs: int) -> Table:
        return Table("t", (Column("A", "right"), Column("B", "right")), (Row(("9" * signs, "9" * signs)),))

    (page,) = flow([of(24)], leaf())
    assert {each.size for each in words(groups_marks(page, "cell"))} == {9}
    with pytest.raises(TooWide, match="the table 't' is wider than 80 mm"):
        flow([of(30)], leaf())


def groups_marks(page: Page, role: str) -> list[Mark]:
    return [mark for group in groups(page.marks, role) for mark in group.marks]


def test_the_column_that_grows_takes_what_is_left() -> None:
    columns = (Column("A", grows=True), Column("B", "right"))
    (page,) = flow([Table("t", columns, (Row(("x", "7")),))], leaf())
    figure = [each for each in words(page.marks) if each.text == "7"]
    assert figure[0].x == pytest.approx(90)


def test_a_total_stands_under_a_rule() -> None:
    def rules(strong: bool) -> int:
        (page,) = flow([Table("t", (Column("A"),), (Row(("x",)), Row(("sum",), strong=strong)))], leaf())
        return sum(isinstance(mark, Line) for group in groups(page.marks, "table") for mark in group.marks)

    assert rules(True) == rules(False) + 1


def test_a_row_that_leads_somewhere_is_links_in_its_cells() -> None:
    rows = (Row(("x", "7"), target="t08"), Row(("", "8"), target="t09", told="y, page 8"))
    (page,) = flow([Table("t", (Column("A"), Column("B", "right")), rows)], leaf())
    links = [mark for mark in groups_marks(page, "cell") if isinstance(mark, Link)]
    assert [(link.target, link.alt) for link in links] == [("t08", "x"), ("t08", "x"), ("t09", "y, page 8")]


# Heads and feet


def test_the_name_stands_on_every_page_with_its_number() -> None:
    running = Running("A Yard by Supper", "for the teacher", "invented")
    pages = flow([table(30)], leaf(), running)
    for number, page in enumerate(pages, start=1):
        assert {"A Yard by Supper", "for the teacher", "invented", f"{number} of {len(pages)}"} <= set(texts(page))
    assert [bool(list(groups(page.marks, "title"))) for page in pages] == [True, *[False] * (len(pages) - 1)]
    body = next(groups(pages[1].marks, "table")).box
    assert body.top == pytest.approx(10 + head_height(leaf(), running))


def test_a_single_page_has_no_number() -> None:
    (page,) = flow([said("a")], leaf(), Running("Name"))
    assert texts(page) == ["Name", "a"]


def name_of(page: Page) -> Group:
    return next(groups(page.marks, "title"))


def test_a_name_is_set_smaller_and_then_on_more_lines() -> None:
    """80 mm less 5 and the 8 signs of '99 of 99' at 10 pt, 14.11 mm, are 60.89 mm for the name, first at 20 pt."""
    sizes = []
    for count in (17, 21, 40, 60):
        title = ("abcd " * 50)[:count].strip()
        (page,) = flow([said("a")], leaf(), Running(title))
        lines = list(words(name_of(page).marks))
        assert " ".join(line.text for line in lines) == title
        assert all(len(line.text) * line.size / 2 * 25.4 / 72 <= 60.89 for line in lines)
        sizes.append((len(lines), lines[0].size))
    # 17 signs in 20 pt are 60.0 mm; 20 in 16 pt 56.4 mm; 19, the longer of two lines, in 18 pt 60.3 mm
    assert sizes == [(1, 20), (1, 16), (2, 18), (2, 11.5)]


@pytest.mark.parametrize("count", range(20, 201, 20))
def test_a_name_of_any_length_pushes_what_is_below_it_down(count: int) -> None:
    title = ("Grandmother Hathersage’s box loom, of the year of the great frost, " * 4)[:count].strip()
    on = Leaf(Paper("a6", 105, 148), TypeRuler(), margin_mm=8, binding_mm=12)
    (page,) = flow([said("below")], on, Running(title, "aside"))
    lines = [mark for mark in words(name_of(page).marks) if mark.text != "aside"]
    (aside,) = [mark for mark in words(page.marks) if mark.text == "aside"]
    (below,) = [mark for mark in words(page.marks) if mark.text == "below"]
    assert " ".join(line.text for line in lines) == title
    assert all(mark.x + on.wide(mark.text, mark.face, mark.size) <= on.printable.right for mark in lines)
    assert on.printable.top < lines[0].y
    assert lines[-1].y < aside.y - 3 < below.y - 6


def test_the_lines_of_a_name_are_about_as_long_as_each_other() -> None:
    (page,) = flow([said("a")], leaf(), Running("abcd abcd abcd abcd abcd abcd abc"))
    lengths = [len(line.text) for line in words(name_of(page).marks)]
    assert len(lengths) == 2
    assert max(lengths) - min(lengths) <= 5


# What stays together


def kept_on_first(*blocks: Block, filled: int) -> int:
    """How many paragraphs of ``blocks`` stand on the first page, under ``filled`` lines."""
    first = flow([said(" ".join(["x" * 40] * filled)), *blocks], leaf())[0]
    return len(texts(first, "paragraph")) - 1


def test_no_series_is_parted_after_its_first_item_or_a_list_before_its_last() -> None:
    # A line is 4.374 mm, a paragraph of one 3.210 mm with 2 mm above, a heading of 10 pt 2.328 + 1.6 with 5 mm above
    items = tuple(said(str(number), mark="dot") for number in range(4))
    heading = Heading("What to watch for")
    # filled lines leave 74.18 - (3.210 + 4.374 * (n - 1)) mm; heading and one item take 14.14, each further one 5.21
    assert [kept_on_first(heading, *items, filled=n) for n in (9, 10, 11, 12, 13, 14)] == [4, 4, 2, 2, 0, 0]
    plain = tuple(said(str(number)) for number in range(4))
    assert [kept_on_first(heading, *plain, filled=n) for n in (9, 10, 11, 12, 13, 14)] == [4, 4, 3, 2, 0, 0]


def test_the_columns_of_the_last_page_are_about_as_long_as_each_other() -> None:
    """30 paragraphs of 5.21 mm with their air, 14 of which fit 74.18 mm: on one page three columns of ten."""
    on = dataclasses.replace(leaf(width=260), columns=3)
    (page,) = flow([said(f"number {number}") for number in range(30)], on)
    tops = [group.box.top for group in groups(page.marks, "paragraph")]
    columns = [len(list(of)) for _, of in groupby(groups(page.marks, "paragraph"), lambda group: group.box.left)]
    assert columns == [10, 10, 10]
    assert min(tops) == 10
    first, last = flow([said(f"number {number}") for number in range(42 + 9)], on)
    assert len(list(groups(first.marks, "paragraph"))) == 42
    assert [len(list(of)) for _, of in groupby(groups(last.marks, "paragraph"), lambda group: group.box.left)] == [
        3
    ] * 3


def test_no_short_word_stands_alone_in_the_last_line() -> None:
    """80 mm hold 45 signs: *off.* would follow alone, so the word before it goes with it."""
    text = "a" * 22 + " " + "woven" * 4 + "ab off."
    assert [len(line) for line in texts(flow([said(text)], leaf())[0])] == [22, 27]
    longer = "a" * 22 + " " + "b" * 22 + " beginning anew"
    assert [len(line) for line in texts(flow([said(longer)], leaf())[0])] == [45, 14]


# Tightened


def test_a_nearly_empty_last_page_is_saved_by_less_air() -> None:
    """A row is 2.328 + 0.882 + 2 mm, the head 3.91: 13 rows fit 74.18 mm, and two more with 1.2 mm of air."""
    blocks = [table(15)]
    assert pages_needed(blocks, leaf()) == 2
    settled = settled_leaf(blocks, leaf())
    assert pages_needed(blocks, settled) == 1
    assert settled.air < 1
    assert settled.sizes == leaf().sizes
    assert settled_leaf([table(22)], leaf()) == leaf()  # half a page is worth its paper
    assert pages_needed([table(22)], settled_leaf([table(22)], leaf(), on_one_page=True, most_columns=2)) == 1


@pytest.mark.parametrize("rows_", range(1, 60))
def test_tightened_type_is_never_under_the_smallest(rows_: int) -> None:
    settled = settled_leaf([table(rows_)], leaf(), on_one_page=True, most_columns=2)
    assert min(settled.sizes.body, settled.sizes.small, settled.sizes.smallest) >= leaf().sizes.smallest
    assert settled.air > 0.4


# Laws

_TEXT = st.text("abc ", min_size=1, max_size=300).filter(lambda text: bool(text.strip()))
_BLOCKS = st.lists(
    st.one_of(
        st.builds(lambda text: Heading(text[:60]), _TEXT),
        st.builds(
            lambda text, mark: Paragraph((Span(text),), mark=mark), _TEXT, st.sampled_from(["none", "tick", "dot"])
        ),
        st.builds(Gap, st.floats(0, 60)),
        st.builds(
            lambda cells: Table(
                "t", (Column("Words"), Column("Figures", "right")), tuple(Row((text, "1234")) for text in cells)
            ),
            st.lists(_TEXT, min_size=1, max_size=12),
        ),
    ),
    max_size=8,
)


@settings(max_examples=60, deadline=None)
@given(_BLOCKS)
def test_nothing_leaves_the_margins_or_is_lost(blocks: list[Block]) -> None:
    on = Leaf(Paper("a6", 105, 148), TypeRuler(), margin_mm=8, binding_mm=12)
    pages = flow(blocks, on, Running("Name", foot="foot"))
    told = "".join("".join(texts(page, role)) for page in pages for role in ("heading", "paragraph", "cell"))
    given_ = "".join(_given(blocks))
    assert sorted(told.replace(" ", "")) == sorted(given_.replace(" ", ""))
    for page in pages:
        for group in groups(page.marks, "panel"):
            assert all(on.printable.holds(mark.box) for mark in group.marks if isinstance(mark, Group))
        for mark in words(page.marks):
            left = mark.x - (on.wide(mark.text, mark.face, mark.size) if mark.align == "right" else 0)
            assert on.printable.left - 1e-6 <= left
            assert mark.y <= on.printable.bottom


def _given(blocks: Iterable[Block]) -> Iterator[str]:
    for block in blocks:
        if isinstance(block, Heading):
            yield block.text
        elif isinstance(block, Paragraph):
            yield from (span.text for span in block.spans)
        elif isinstance(block, Table):
            for row in block.rows:
                yield from row.cells
