"""A card read aloud: every word has its place in the structure, every drawing its words, and all comes in order.

What makes a page readable by ear (one title, headings, tables with heads, drawings with words, a reading order of
meaning) is asked by ISO 14289-1:2014 (PDF/UA-1), clause 7: from memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from io import BytesIO

import pikepdf
import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.card.panels import PANELS, READING_ORDER, REST
from cardmaker.card.panels.cross_drawing import passes_above
from cardmaker.jobs import card_making
from cardmaker.model.card_layout import PanelPlace
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Page, Words
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.wording.units_in_words import with_units_in_words
from tests.helpers.screen_reader_text import text_read_aloud
from tests.helpers.shipped import LAYOUTS, PATTERNS, shipped_layout
from tests.helpers.shipped import plan_of as plan

RULER = TypeRuler()
SEATS = {"right": Viewpoint(), "left": Viewpoint(left_hand=True), "behind": Viewpoint(from_behind=True)}
LEAVES = {"title", "heading", "paragraph", "cell", "header cell", "figure"}
HOLDERS = {"panel", "table", "row"}
MUMBLED = re.compile(r"[×·…⁄¼½¾⅛⅜⅝⅞=+§#\u00a0]|\d (?:mm|cm|m|yd|kg|g)\b|\b[LR]\d")
BOX = Box(0, 0, 10, 10)
WORD = Words(0, 0, "a word", Face.SANS, 9)


def cards(stem: str, pattern: str) -> Iterator[Composed]:
    """The card on every paper of its layout; on the first also for a left hand and from behind."""
    layout = shipped_layout(stem)
    for paper in layout.papers:
        seats = SEATS.values() if paper == layout.papers[0] else (Viewpoint(),)
        for seen in seats:
            yield compose_card(plan_as_seen(plan(pattern), seen), layout, paper, RULER)


def groups(marks: Iterable[Mark]) -> Iterator[Group]:
    for mark in marks:
        if isinstance(mark, Group):
            yield mark
            yield from groups(mark.marks)


# The faults of a page's structure, each as a sentence; no fault is an empty list


def faults(page: Page) -> list[str]:
    """Everything by which a page could not be read aloud whole."""
    found = [f"{type(mark).__name__} beside the panels" for mark in page.marks if not _is(mark, "panel", "artefact")]
    for panel in page.marks:
        found += [f"{panel.name}: {fault}" for fault in _structure(panel)] if isinstance(panel, Group) else []
    titles = [group for group in groups(page.marks) if group.role == "title"]
    return found if len(titles) == 1 else [*found, f"{len(titles)} titles"]


def _is(mark: Mark, *roles: str) -> bool:
    return isinstance(mark, Group) and mark.role in roles


def _structure(group: Group) -> Iterator[str]:
    if group.role == "panel" and group.alt:
        yield "the panel's own words would be said instead of what is in it"
    for mark in group.marks:
        if isinstance(mark, Words) and group.role in HOLDERS:
            yield f"'{mark.text}' is in no leaf"
        if _is(mark, *HOLDERS, *LEAVES) and group.role in LEAVES:
            yield f"a group within a {group.role}"
        if _is(mark, "panel") or (_is(mark, "row") and group.role != "table"):
            yield f"a {getattr(mark, 'role', '')} within a {group.role}"
        if isinstance(mark, Group):
            yield from _structure(mark)
    if group.role == "figure":
        yield from _drawing(group)
    elif group.role in LEAVES and not any(isinstance(mark, Words) for mark in group.marks):
        yield f"a {group.role} without words"
    elif group.role == "table":
        yield from _table(group)


def _drawing(figure: Group) -> Iterator[str]:
    if not figure.marks:
        yield "a figure that shows nothing"
    if not figure.alt.strip().endswith("."):
        yield f"{figure.name} is not told in a sentence: '{figure.alt}'"
    if figure.name != "pegs" and (mumbled := MUMBLED.search(figure.alt)):
        yield f"'{mumbled[0]}' in the words of {figure.name}"


def _table(table: Group) -> Iterator[str]:
    rows = [mark for mark in table.marks if isinstance(mark, Group)]
    roles = [[cell.role for cell in row.marks if isinstance(cell, Group)] for row in rows]
    if not roles or set(roles[0]) != {"header cell"}:
        yield "a table without heads"
    if len({len(row) for row in roles}) != 1 or any(set(row) != {"cell"} for row in roles[1:]):
        yield "a row that does not match the heads"
    heads = [text_read_aloud(Page(1, 1, (cell,))) for cell in rows[0].marks if isinstance(cell, Group)]
    if not all(heads):
        yield "a head that says nothing"


@pytest.mark.parametrize("stem", LAYOUTS)
def test_every_card_can_be_read_aloud_in_order_with_its_yarns_in_full(stem: str) -> None:
    """The two letters of a yarn help an eye; an ear is given its name."""
    for pattern in PATTERNS:
        codes = [colour.letters for colour in plan(pattern).colours]
        for composed in cards(stem, pattern):
            assert faults(composed.page) == [], (pattern, stem)
            for figure in groups(composed.page.marks):
                if figure.role == "figure":
                    assert not [code for code in codes if re.search(rf"\b{code}\b", figure.alt)], figure.alt
            names = [mark.name for mark in composed.page.marks if isinstance(mark, Group) and mark.role == "panel"]
            assert names == sorted(names, key=READING_ORDER.index)


@pytest.mark.parametrize("stem", ["record", "bench", "handout"])
def test_cards_of_two_heddles_can_be_read_aloud(stem: str) -> None:
    layout = shipped_layout(stem)
    for pattern in ("bare-thread", "treadle-ladder", "nine"):
        for seen in SEATS.values():
            composed = compose_card(plan_as_seen(plan(pattern, "treadle-pair"), seen), layout, layout.papers[0], RULER)
            assert faults(composed.page) == []


def panel_of(*marks: Mark, alt: str = "") -> Page:
    """A page with a title and one panel of ``marks``."""
    title = Group("panel", "title", BOX, (Group("title", "", BOX, (WORD,)),))
    return Page(10, 10, (title, Group("panel", "order", BOX, marks, alt)))


def _table_of(*rows: tuple[str, ...]) -> Group:
    def cells(role: str, texts: tuple[str, ...]) -> tuple[Group, ...]:
        of: dict[str, Group] = {"head": Group("header cell", "", BOX, ()), "cell": Group("cell", "", BOX, ())}
        return tuple(replace(of[role], marks=(WORD._replace(text=text),)) for text in texts)

    head, *others = rows
    body = (Group("row", "", BOX, cells("cell", row)) for row in others)
    return Group("table", "", BOX, (Group("row", "", BOX, cells("head", head)), *body))


FAULTY = {
    "a word in no leaf": panel_of(WORD),
    "a word in a row": panel_of(Group("table", "", BOX, (Group("row", "", BOX, (WORD,)),))),
    "a drawing without words": panel_of(Group("figure", "", BOX, (WORD,))),
    "an empty drawing": panel_of(Group("figure", "", BOX, (), "Nothing.")),
    "a sign": panel_of(Group("figure", "", BOX, (WORD,), "2 × 3.")),
    "a unit cut short": panel_of(Group("figure", "", BOX, (WORD,), "About 3 mm.")),
    "a space cut short": panel_of(Group("figure", "", BOX, (WORD,), "End 1 in L6.")),
    "words of the panel itself": panel_of(alt="All of it."),
    "a group in a leaf": panel_of(Group("paragraph", "", BOX, (Group("heading", "", BOX, (WORD,)),))),
    "an empty paragraph": panel_of(Group("paragraph", "", BOX, ())),
    "a table without heads": panel_of(
        replace(_table_of(("a", "b")), marks=_table_of(("a", "b"), ("1", "2")).marks[1:])
    ),
    "a short row": panel_of(_table_of(("a", "b"), ("1",))),
    "a blank head": panel_of(_table_of(("a", ""), ("1", "2"))),
    "a second title": panel_of(Group("title", "", BOX, (WORD,))),
    "no title": Page(10, 10, (Group("panel", "order", BOX, ()),)),
    "words beside the panels": replace(panel_of(), marks=(*panel_of().marks, WORD)),
}


@pytest.mark.parametrize("name", FAULTY)
def test_the_laws_can_fail(name: str) -> None:
    assert faults(FAULTY[name]) != []


def test_a_sound_page_has_no_fault() -> None:
    rule = Line(0, 0, 1, 0, 0.1)
    whole = Group("figure", "", BOX, (WORD, rule), "Three stripes.")
    assert faults(panel_of(Group("heading", "", BOX, (WORD,)), rule, whole, _table_of(("a", "b"), ("1", "")))) == []


# The order of reading


def test_every_panel_has_its_place_in_the_reading_order() -> None:
    assert sorted(READING_ORDER) == sorted([*PANELS, REST, "ribbon", "notch"])


def test_winding_comes_before_threading_and_threading_before_weaving() -> None:
    """Hand written: the order in which a warp is made, whatever the page looks like."""
    made = ["title", "order", "lengths", "room", "walk", "steps", "board", "turns", "press"]
    made += ["shuttle", "yarn", "notes", "rescue", "source", "results", "cautions", "foot"]
    assert [name for name in READING_ORDER if name in made] == made


@pytest.mark.parametrize("stem", LAYOUTS)
def test_a_simpler_panel_is_read_where_the_one_that_it_stands_for_is(stem: str) -> None:
    """Not after a later step: on its page it stands in the place of the other."""
    layout = shipped_layout(stem)
    for rows in (layout.rows, layout.back, layout.other_half):
        for place in (place for row in rows for place in row if place.instead):
            between = sorted(READING_ORDER.index(name) for name in (place.panel, place.instead))
            others = {each.panel for row in rows for each in row} - {place.panel}
            assert not others.intersection(READING_ORDER[slice(*between)])


def test_a_layout_that_tells_the_name_twice_has_one_title() -> None:
    layout = shipped_layout("field-folded")
    page = compose_card(plan("nine"), layout, layout.papers[0], RULER).page
    told = [group.role for group in groups(page.marks) if text_read_aloud(Page(1, 1, (group,))) == "Nine"]
    assert [role for role in told if role != "panel"] == ["title", "heading"]


def test_a_name_alone_on_a_card_is_its_title() -> None:
    layout = shipped_layout("handout")
    alone = replace(layout, rows=((PanelPlace("visitor", 12, 1, essential=True),),))
    page = compose_card(plan("nine"), alone, layout.papers[0], RULER).page
    assert [group.name for group in page.marks if isinstance(group, Group)] == ["ribbon", "visitor"]
    assert faults(page) == []


# What is said


def test_a_name_cut_short_is_told_whole() -> None:
    """On paper it ends in an ellipsis."""
    long = "A Tape with a Name so Long that no Card of this Size can hold it on one Line, even small " * 2
    wanted = plan("nine")
    named = replace(wanted, pattern=replace(wanted.pattern, title=long.strip()))
    layout = shipped_layout("field")
    page = compose_card(named, layout, layout.papers[0], RULER).page
    assert text_read_aloud(page).splitlines()[0] == long.strip()


def test_tables_are_told_row_by_row_with_their_heads() -> None:
    table = _table_of(("ends", "yarn", "then"), ("3", "red", ""), ("5", "white", "tie off"))
    page = Page(10, 10, (Group("panel", "steps", BOX, (table,)),))
    assert text_read_aloud(page) == "ends 3; yarn red\nends 5; yarn white; then tie off"


def test_decoration_is_not_told() -> None:
    page = panel_of(WORD, Group("artefact", "", BOX, (WORD,)), Group("paragraph", "", BOX, (WORD, WORD)))
    assert text_read_aloud(page) == "a word\na word a word"


def test_lengths_are_spelt_out() -> None:
    """By hand."""
    assert with_units_in_words("16 mm (⅝ in)") == "16 millimetres (5 eighths of an inch)"
    assert with_units_in_words("1 \u00a0in".replace(" ", "", 1)) == "1 inch"
    assert with_units_in_words("2\u00a0¼ yd (2.06 m)") == "2 and a quarter yards (2.06 metres)"
    assert with_units_in_words("½ in (13 mm) and 1\u00a0⁵⁄₁₆ in (33 mm)") == (
        "half an inch (13 millimetres) and 1 and 5 sixteenths inches (33 millimetres)"
    )
    assert with_units_in_words("1 m (1.09 yd), 1.5 kg, ¹⁄₁₆ in (2 mm)") == (
        "1 metre (1.09 yards), 1.5 kilograms, a sixteenth of an inch (2 millimetres)"
    )
    assert with_units_in_words("4 sticks in all, 2 in holes and 3 m") == "4 sticks in all, 2 in holes and 3 metres"
    assert with_units_in_words("mm, no cm and no in") == "mm, no cm and no in"
    assert with_units_in_words("³⁄₁₆ in (5 mm)") == "3 sixteenths of an inch (5 millimetres)"


# In the file


def told_in_file(pdf: bytes) -> list[tuple[str, str]]:
    """(Tag, alternative text) of every title and of whatever has such a text, in the order of the structure tree."""

    def elements(node: pikepdf.Object) -> Iterator[tuple[str, str]]:
        if isinstance(node, pikepdf.Array):
            for kid in node:
                yield from elements(kid)
        elif isinstance(node, pikepdf.Dictionary):
            if "/Alt" in node or node.get("/S") == "/H1":
                yield str(node.S), str(node.get("/Alt", ""))
            yield from elements(node.get("/K", pikepdf.Array()))

    with pikepdf.open(BytesIO(pdf)) as document:
        return list(elements(document.Root.StructTreeRoot))


@pytest.mark.parametrize(
    ("pattern", "stem"), [("three-paths", "record"), ("penned-ladder", "bench"), ("nine", "field-folded")]
)
def test_the_file_tells_what_the_page_tells_in_its_order(pattern: str, stem: str) -> None:
    """The structure tree, read by a library that did not write it."""
    layout = shipped_layout(stem)
    tags = {
        "title": "/H1",
        "heading": "/H2",
        "paragraph": "/P",
        "figure": "/Figure",
        "header cell": "/TH",
        "cell": "/TD",
    }
    page = compose_card(plan(pattern), layout, layout.papers[0], RULER).page
    wanted = [(tags[each.role], each.alt) for each in groups(page.marks) if each.alt or each.role == "title"]
    assert told_in_file(card_making.make_card(plan(pattern), layout, layout.papers[0], None).pdf) == wanted
    assert [tag for tag, _ in wanted].count("/H1") == 1


# The pegs, by ear


def test_the_pegs_are_told_in_order_with_their_distances() -> None:
    """Distances from the board's own file: home and the cross pegs 6 in apart, the next 24 in on."""
    text = _told("bench", "penned-ladder", "pegs")
    stops = ["home to A 152 millimetres (6 inches)", "A to B 152 millimetres (6 inches)"]
    stops += ["B to R1 610 millimetres (24 inches)", "Left empty: L2, R3, L3, R4, L4, R5 and L5."]
    places = [text.index(stop) for stop in stops]
    assert places == sorted(places)


def _told(stem: str, pattern: str, figure: str) -> str:
    layout = shipped_layout(stem)
    page = compose_card(plan(pattern), layout, layout.papers[0], RULER).page
    return next(group.alt for group in groups(page.marks) if group.name == figure)


def test_a_peg_lies_on_the_same_side_of_the_thread_out_and_back_at_the_cross() -> None:
    """A cross is made by passing a peg on its other side while walking the other way: on the same hand (a drawing)."""
    told = _told("bench", "penned-ladder", "pegs")
    sides = re.findall(r"\b([AB]) on its (left|right)", told)
    assert sorted(sides) == [("A", "left"), ("A", "left"), ("B", "right"), ("B", "right")]


def test_a_cross_peg_touched_on_one_way_only_is_drawn_on_the_same_side() -> None:
    pegs = plan("penned-ladder").pegs
    assert pegs is not None
    passed, turning = pegs.round_trip.passed, pegs.turning
    for name in pegs.cross:
        sides = set()
        for way in (range(turning), range(turning, len(passed))):
            left = [peg for index, peg in enumerate(passed) if not (peg.name == name and index in way)]
            dropped = sum(1 for index in range(turning) if passed[index].name == name and index in way)
            trip = replace(pegs.round_trip, passed=tuple(left))
            shown = replace(pegs, round_trip=trip, turning=turning - dropped)
            sides.add(passes_above(shown)[pegs.cross.index(name)])
        assert len(sides) == 1


def test_the_roll_tells_turns_and_sticks() -> None:
    wanted = plan("penned-ladder")
    assert wanted.beam is not None
    told = _told("bench", "penned-ladder", "roll")
    turns = int(Fraction(wanted.beam.turns) + Fraction(1, 2))
    assert f"goes about {turns} times round the beam" in told
    assert f"{wanted.beam.sticks} sticks in all" in told
