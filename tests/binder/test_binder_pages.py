"""A binder's own pages before they are drawn: titles of every allowed length, and what stands together. Lengths in mm.

What is asked here of the marks is asked of a finished file, by readers that did not write it, in ``test_binder``.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

import pytest

from cardmaker.binder.arranging import SectionHeading
from cardmaker.binder.assembling import Parts, assemble
from cardmaker.binder.binder_words import SAMPLE
from cardmaker.binder.notes_page import LINE
from cardmaker.layout.pages.leaf import SHEET_SIZES, Leaf
from cardmaker.model.binder_contents import Binder, Entry, TapeFace
from cardmaker.model.card_layout import Paper
from cardmaker.model.marks import Again, Group, Line, Link, Page, Words
from cardmaker.wording.length_words import RESULT_BLANKS
from tests.helpers.long_texts import LONGEST_LINE, LONGEST_MARK, all_leaves, line_of, misplaced
from tests.helpers.paper_tools import RULER
from tests.helpers.shipped import shipped_loom

LETTER = Leaf(Paper("letter", 215.9, 279.4), RULER)
FIELD = Leaf(Paper("4 x 6 in", 101.6, 152.4), RULER, margin_mm=8, binding_mm=12)
LOOMS = tuple(map(shipped_loom, ("small-box", "middle-box", "treadle-pair")))
PAPERS = pytest.mark.parametrize("leaf", [LETTER, FIELD], ids=["letter", "field"])


def entry(
    number: int, title: str = "Wick", code: str = "", width: float = 12.0, uses: Sequence[str] = ("hat band",)
) -> Entry:
    face = TapeFace(f"face {number}", width, 3.0, "a tape")
    return Entry(
        anchor=f"card {number}",
        title=title,
        code=code or f"T{number:02}",
        ends=8 + number % 50,
        width_mm=Fraction(width),
        colours={"white": 4, "blue": 4},
        purposes=tuple(uses),
        grade="F",
        looms=("Small box", "Middle box"),
        loom="Small box",
        face=face,
    )


def pages(headings: Sequence[SectionHeading], leaf: Leaf = LETTER, **binder: str) -> list[Page]:
    """Every page but the cards."""
    made = Binder(binder.pop("title", "A book"), **binder)  # type: ignore[arg-type]
    sides = assemble(Parts(made, tuple(headings), LOOMS, (), leaf, "us")).sides
    return [side.page for side in sides if side.page is not None]


def named(found: Sequence[Page], title: str) -> list[Page]:
    return [page for page in found if page.title == title]


def texts(page: Page) -> list[str]:
    return [plain(mark.text) for mark in all_leaves(page.marks) if isinstance(mark, Words)]


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def said(page: Page) -> str:
    return " ".join(texts(page))


def faults(found: Sequence[Page], leaf: Leaf) -> list[str]:
    return [
        f"{page.title}: {fault}" for page in found for fault in misplaced(page, leaf.printable, SHEET_SIZES.smallest)
    ]


# Texts of every allowed length


@PAPERS
@pytest.mark.parametrize("in_one", [False, True], ids=["words", "one word"])
@pytest.mark.parametrize("length", [1, *range(16, LONGEST_LINE, 23), 48, LONGEST_LINE])
def test_no_text_leaves_the_margins_or_another_text_s_way(length: int, in_one: bool, leaf: Leaf) -> None:
    text, code = line_of(length, in_one=in_one), line_of(min(length, LONGEST_MARK), in_one=in_one)
    entries = (
        *(entry(number) for number in range(1, 4)),
        entry(4, text, code, uses=(text,)),
        entry(5, "Nine", width=2.5),
    )
    entries = (*entries, replace_looms(entry(6, "Loomed"), text), entry(7, "Broad", width=31.0))
    headings = [SectionHeading("Front", (), "How to use it."), SectionHeading(text, entries, text)]
    found = pages(headings, leaf, title=text, credit=text, marked_as=text, about=text)
    assert faults(found, leaf) == []
    for title in ("Contents", "Indexes", "All tapes at a glance", text):
        told = "".join(said(page) for page in named(found, title)).replace(" ", "")
        assert text.replace(" ", "") in told, title
        assert code.replace(" ", "") in told or title == "Contents", title


def replace_looms(one: Entry, title: str) -> Entry:
    return one._replace(looms=(title,), colours={title: 3})


@PAPERS
def test_the_longest_of_everything_at_once(leaf: Leaf) -> None:
    text = line_of(LONGEST_LINE)
    entries = tuple(
        entry(
            number,
            text,
            line_of(LONGEST_MARK - 2) + f"{number:02}",
            30,
            uses=[f"{text[:-2]}{use:02}" for use in range(20)],
        )
        for number in range(1, 8)
    )
    about = "\n".join(line_of(length) for length in (900, 50, 2900))
    found = pages(
        [SectionHeading(text, entries, about * 3)], leaf, title=text, credit=text, marked_as=text, about=about
    )
    assert faults(found, leaf) == []
    told = "".join(said(page) for page in found).replace("About this binder", "").replace(" ", "")
    assert about.replace("\n", "").replace(" ", "") in told


def test_what_a_binder_is_stands_in_paragraphs() -> None:
    found = pages([SectionHeading("", (entry(1),))], about="First.\nSecond.")
    (panel,) = found[0].marks
    assert isinstance(panel, Group)
    about = [mark for mark in panel.marks if isinstance(mark, Group) and mark.name == "about"]
    assert [[plain(mark.text) for mark in all_leaves(group.marks) if isinstance(mark, Words)] for group in about] == [
        ["First."],
        ["Second. 1 card, 9 ends."],
    ]
    assert about[1].box.top > about[0].box.bottom + 1


# Contents and the front


def section(title: str, *numbers: int) -> SectionHeading:
    return SectionHeading(title, tuple(entry(number) for number in numbers))


@pytest.mark.parametrize("count", [27, 40, 60, 90])
def test_contents_keep_to_one_page_where_they_can(count: int) -> None:
    headings = [section(f"Part {part}", *range(part, count, 5)) for part in range(5)]
    (contents,) = named(pages(headings), "Contents")
    assert said(contents).count("Wick") == count
    assert faults([contents], LETTER) == []


def test_many_cards_take_more_pages_in_type_of_full_size() -> None:
    contents = named(pages([section("All", *range(400))]), "Contents")
    assert len(contents) > 3
    sizes = {mark.size for mark in all_leaves(contents[0].marks) if isinstance(mark, Words) and mark.text == "Wick"}
    assert sizes == {SHEET_SIZES.body}


def test_the_text_at_the_front_shares_its_page_with_looms_words_and_cautions() -> None:
    front = SectionHeading("How to use this book", (), "Take the card out.")
    found = pages([front, section("First tapes", 1, 2)])
    (page,) = named(found, "How to use this book")
    for heading in ("Find a tape", "The looms at hand", "Words on the cards", "Before you begin"):
        assert heading in texts(page)
    assert named(found, "Looms, words, cautions") == []
    numbers = {title: 1 + found.index(named(found, title)[0]) for title in ("Contents",)}
    assert f"contents on page {numbers['Contents']}" in said(page)


def test_a_long_text_at_the_front_keeps_its_page_to_itself() -> None:
    front = SectionHeading("Foreword", (), "A long word. " * 300)
    found = pages([front, section("First tapes", 1, 2)])
    assert named(found, "Looms, words, cautions")
    assert all("Words on the cards" not in texts(page) for page in named(found, "Foreword"))


# Dividers


def tapes(page: Page) -> list[Again]:
    return [mark for mark in all_leaves(page.marks) if isinstance(mark, Again)]


def links(page: Page) -> list[Link]:
    def within(marks: Sequence[object]) -> list[Link]:
        found = []
        for mark in marks:
            if isinstance(mark, Link):
                found.append(mark)
            elif isinstance(mark, Group):
                found += within(mark.marks)
        return found

    return within(page.marks)


@pytest.mark.parametrize("count", [1, 2, 4, 5, 6, 8, 11, 15])
def test_every_tape_of_a_divider_hangs_at_life_size_over_its_name_and_facts(count: int) -> None:
    """Under each: its name, code and ends, its width, what it is for, and the page, none of them beside it."""
    entries = tuple(
        entry(number, f"Name{number}", width=5.0 + number, uses=(f"use {number}",)) for number in range(1, count + 1)
    )
    (page,) = named(pages([SectionHeading("Bands", entries)]), "Bands")
    assert len(tapes(page)) == len(links(page)) == count
    for one, link in zip(entries, links(page), strict=True):
        inside = [mark for mark in all_leaves(link.marks) if isinstance(mark, Words)]
        (tape,) = [mark for mark in all_leaves(link.marks) if isinstance(mark, Again)]
        told = plain(" ".join(mark.text for mark in inside))
        assert told.startswith(f"{one.title} {one.code} · {one.ends} ends ")
        assert f"Use {one.title[4:]}." in told
        assert f"({one.width_mm} mm)" in told
        assert tape.scale == 1
        assert tape.clip.width == pytest.approx(float(one.width_mm))
        assert tape.clip.height >= 25
        for mark in inside:
            assert mark.x == pytest.approx(tape.clip.left)
            assert mark.y > tape.clip.bottom + 2
    assert faults([page], LETTER) == []


def test_a_divider_of_many_tapes_shows_some_and_says_so() -> None:
    (page,) = named(pages([section("All", *range(200))]), "All")
    shown = len(links(page))
    assert 10 <= shown < 200
    assert f"{shown} of 200 cards are shown. All of them are listed in the contents." in said(page)


def test_a_tape_wider_than_the_page_says_that_it_is_drawn_smaller() -> None:
    wide = replace_width(entry(1), 120)
    (page,) = named(pages([SectionHeading("Wide", (wide,))], FIELD), "Wide")
    assert "drawn smaller" in said(page)
    (page,) = named(pages([SectionHeading("Wide", (wide,))], LETTER), "Wide")
    assert "drawn smaller" not in said(page)
    assert tapes(page)[0].clip.width == pytest.approx(120)


def replace_width(one: Entry, width: int) -> Entry:
    return one._replace(width_mm=Fraction(width), face=one.face._replace(width_mm=float(width)))


def test_a_section_tells_what_its_tapes_have_in_common() -> None:
    entries = (replace_width(entry(1), 8), replace_width(entry(7), 25))
    (page,) = named(pages([SectionHeading("Two", entries)]), "Two")
    assert "2 cards, 9 to 15 ends, ⁵⁄₁₆ in (8 mm) to 1 in (25 mm) wide" in said(page)


# Indexes


def test_the_first_key_of_an_index_is_not_left_alone_in_its_column() -> None:
    """Whatever stands above it: a heading keeps with its first two keys where the first has one line."""
    for count in range(20, 60):
        entries = tuple(entry(number, uses=(f"use {number:02}",)) for number in range(1, count))
        for page in named(pages([SectionHeading("", entries)]), "Indexes"):
            by_column: dict[float, list[Words]] = {}
            for mark in all_leaves(page.marks):
                if isinstance(mark, Words) and mark.align == "left":
                    by_column.setdefault(round((mark.x - LETTER.printable.left) // 62), []).append(mark)
            for marks in by_column.values():
                last = max(marks, key=lambda mark: mark.y)
                heads = [mark for mark in marks if mark.text == "By use"]
                assert all(last.y > head.y + 8 for head in heads), count


# The back of a card


def backs(made: Sequence[Entry], leaf: Leaf) -> list[Group]:
    headings = [SectionHeading("", tuple(made))]
    sides = assemble(Parts(Binder("A book", duplex=True), tuple(headings), LOOMS, (), leaf, "us")).sides
    groups = [mark for side in sides if side.page for mark in side.page.marks]
    return [mark for mark in groups if isinstance(mark, Group) and mark.name == "notes"]


@pytest.mark.parametrize(("leaf", "warps"), [(LETTER, 8), (FIELD, 0)], ids=["letter", "field"])
def test_the_back_of_a_card_is_ruled_for_what_came_off_the_loom(leaf: Leaf, warps: int) -> None:
    """Narrow paper has lines and no columns; nothing leaves the page, and no word lies on another."""
    (back,) = backs([entry(1)._replace(about="A plain tape")], leaf)
    words = [mark for mark in all_leaves([back]) if isinstance(mark, Words)]
    heads = [mark.text for mark in words if mark.text in RESULT_BLANKS]
    assert heads == (list(RESULT_BLANKS) if warps else [])
    assert "A plain tape." in " ".join(mark.text for mark in words)
    rules = [mark for mark in all_leaves([back]) if isinstance(mark, Line) and mark.y1 == mark.y2]
    below = sorted(line.y1 for line in rules)
    assert len(below) > warps
    assert all(lower - upper >= LINE - 0.01 for upper, lower in pairwise(below))
    assert all(back.box.left <= line.x1 < line.x2 <= back.box.right + 0.01 for line in rules)
    spans = [
        (mark.x, mark.x + leaf.wide(mark.text, mark.face, mark.size), mark.y) for mark in words if mark.text in heads
    ]
    assert all(right < left for (_, right, _), (left, _, _) in pairwise(spans))


def test_a_long_name_pushes_the_lines_down() -> None:
    (back,) = backs([entry(1, "A long name " * 14)], FIELD)
    lines = [mark for mark in all_leaves([back]) if isinstance(mark, Line)]
    words = [mark for mark in all_leaves([back]) if isinstance(mark, Words)]
    assert all(line.y1 > max(mark.y for mark in words if mark.text != SAMPLE) for line in lines)
