"""The counts over the brackets of board and walk: right, inside their brackets, alone, and read in a grey copy.

What they should be is counted from the pattern's file; where they stand is found in the marks; that they can be read is
proved by reading them from a picture that was copied twice.
"""

from __future__ import annotations

from functools import cache

import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Page, Path, Rectangle, Words
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.threading.mirror import plan_as_seen
from tests.helpers.bracketed_counts import (
    Bracketed,
    HandCount,
    bracket_faults,
    bracketed,
    counted_wrong,
    hand_counts,
    in_order_of_work,
    walk_counts,
)
from tests.helpers.card_faults import letters_box, panels
from tests.helpers.figure_reader import copy_of_a_copy, read_figure
from tests.helpers.ground import ground_of, low_contrasts
from tests.helpers.paper_tools import RULER, Grey, printed
from tests.helpers.recount import read
from tests.helpers.samples import part_of
from tests.helpers.shipped import LAYOUTS, PATTERNS, paper_of, pattern_file, plan_for_layout, shipped_layout

READ = ["grey-trap", "three-paths", "fair-day", "penned-ladder"]
HEADED = ["board", "walk"]

Seat = tuple[bool, bool]  # for a left hand, threaded from behind
SEATS: list[Seat] = [(False, False), (True, False), (False, True), (True, True)]

each_read = pytest.mark.parametrize("pattern", READ)
each_layout = pytest.mark.parametrize("layout", ["record", "handout", "handout-large"])
each_panel = pytest.mark.parametrize("panel", HEADED)


@cache
def card(pattern: str, layout: str, seat: Seat = (False, False)) -> Composed:
    seen = plan_as_seen(plan_for_layout(pattern, layout), Viewpoint(*seat))
    return compose_card(seen, shipped_layout(layout), paper_of(layout), RULER)


def brackets(pattern: str, layout: str, panel: str, seat: Seat = (False, False)) -> list[Bracketed]:
    found = [each for each in bracketed(panels(card(pattern, layout, seat))) if each.panel == panel]
    return in_order_of_work(found, left_hand=seat[0])


@cache
def wanted(pattern: str, seat: Seat = (False, False), panel: str = "board") -> list[HandCount]:
    counts = walk_counts if panel == "walk" else hand_counts
    return counts(read(pattern_file(pattern)), left_hand=seat[0], behind=seat[1])


# By hand: what the second count says of the hard ones


@pytest.mark.parametrize(
    ("pattern", "counts"),
    [
        ("grey-trap", [6, 6, 6, 6]),
        ("three-paths", [3, 5, 3, 9, 3, 5, 3]),
        ("fair-day", [4, 4, 4, 4, 6, 4, 6, 4, 4, 4, 4]),
        ("penned-ladder", [4, 15, 4]),
        ("treadle-ladder", [6, 4, 19, 5, 6]),
        ("threes", [27]),
        ("cord-edge", [1, 20, 1]),
        ("five-posts", [3, 4, 1, 3, 1, 3, 1, 3, 1, 3, 1, 4, 3]),
    ],
)
def test_the_second_count_is_that_of_a_hand(pattern: str, counts: list[int]) -> None:
    assert [count.ends for count in wanted(pattern)] == counts


# Right


@pytest.mark.parametrize("seat", SEATS)
@each_panel
@each_layout
def test_every_stripe_has_its_count_and_letters(layout: str, panel: str, seat: Seat) -> None:
    """Over all patterns, whoever the card is for; on a record on every card, elsewhere wherever the drawing stands."""
    wrong = {
        pattern: counted_wrong(brackets(pattern, layout, panel, seat), wanted(pattern, seat, panel))
        for pattern in PATTERNS
        if layout == "record" or panel in {group.name for group in panels(card(pattern, layout, seat))}
    }
    assert len(wrong) >= 22
    assert {pattern: told for pattern, told in wrong.items() if told} == {}


# In their places


@pytest.mark.parametrize("seat", SEATS)
@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_figure_is_inside_its_bracket_and_alone(layout: str, seat: Seat) -> None:
    some = PATTERNS if seat == SEATS[0] else part_of(PATTERNS, 2, f"{layout} {seat}")
    faults = {pattern: bracket_faults(panels(card(pattern, layout, seat))) for pattern in some}
    assert {pattern: told for pattern, told in faults.items() if told} == {}


@each_layout
def test_every_figure_stands_out_in_grey(layout: str) -> None:
    faults = {}
    for pattern in READ:
        page = card(pattern, layout).page
        found = bracketed(panels(card(pattern, layout)))
        figures = [words for each in found for words in (each.figure, each.letters) if words is not None]
        assert len(figures) == 2 * len(HEADED) * len(wanted(pattern))
        faults[pattern] = low_contrasts(ground_of(page), figures)
    assert {pattern: told for pattern, told in faults.items() if told} == {}


# Read


@cache
def copied_twice(pattern: str, layout: str) -> Grey:
    return copy_of_a_copy(printed(pattern, layout))


@each_panel
@each_layout
@each_read
def test_the_counts_are_read_in_a_copy_of_a_copy(pattern: str, layout: str, panel: str) -> None:
    places = [letters_box(each.figure) for each in brackets(pattern, layout, panel) if each.figure is not None]
    told = [read_figure(copied_twice(pattern, layout), place) for place in places]
    assert told == [count.ends for count in wanted(pattern)]


def test_what_is_read_is_what_is_there() -> None:
    """On the copy of another pattern's card the same places say something else, or nothing."""
    places = [letters_box(each.figure) for each in brackets("fair-day", "record", "walk") if each.figure is not None]
    told = [read_figure(copied_twice("three-paths", "record"), place) for place in places]
    assert told != [count.ends for count in wanted("fair-day")]


# The checks can fail


def bracket(left: float, right: float, top: float = 20) -> Path:
    return Path(
        (("move", left, top + 1.3), ("line", left, top), ("line", right, top), ("line", right, top + 1.3)),
        stroke="#000000",
        width=0.25,
    )


def count(x: float, text: str, y: float = 14, size: float = 15) -> Words:
    return Words(x, y, text, Face.SANS_BOLD, size, align="middle")


def letters(x: float, text: str, y: float = 18.4) -> Words:
    return Words(x, y, text, Face.SANS_SEMIBOLD, 9, align="middle")


def row(*more: Mark) -> list[Group]:
    """Two stripes of 4 and 12 ends, and what else is drawn."""
    sound = (bracket(20, 30), bracket(30.5, 60), count(25, "4"), letters(25, "Bu"), count(45, "12"), letters(45, "Wh"))
    return [Group("panel", "walk", Box(10, 5, 100, 40), (*sound, *more))]


SOUND = [HandCount(4, ("blue",)), HandCount(12, ("white",))]


def test_a_sound_row_has_no_faults() -> None:
    assert bracket_faults(row()) == []
    assert counted_wrong(bracketed(row()), SOUND) == []


def test_what_is_told_beside_the_heading_is_no_letters() -> None:
    """Not even where its middle is nearer to a bracket's than that of letters wider than the bracket."""
    heading = Words(20, 9, "Wind", Face.SERIF_SEMIBOLD, 11)
    narrow = (bracket(62, 64), count(63, "2", y=14.6, size=9), letters(63.5, "Wh"))
    aside = Words(63, 9, "both balls start at home", Face.SANS_SEMIBOLD, 11, align="middle")
    assert counted_wrong(bracketed(row(*narrow, heading, aside)), [*SOUND, HandCount(2, ("white",))]) == []
    assert counted_wrong(bracketed(row(*narrow[:2], heading, aside)), [*SOUND, HandCount(2, ("white",))]) != []


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (bracket(62, 70), "walk: a bracket at 62.0, 20.0 mm has no count"),
        (count(27.6, "7"), "walk: '7' stands "),
        (letters(29.0, "Wh"), "walk: 'Wh' stands "),
        (Words(24, 11.0, "home", Face.SANS, 9), "walk: 'home' stands "),
    ],
)
def test_a_faulty_row_is_told(more: Mark, told: str) -> None:
    assert any(fault.startswith(told) for fault in bracket_faults(row(more)))


def test_a_count_wider_than_its_bracket_needs_a_leader() -> None:
    narrow = (bracket(62, 64), count(63, "11", y=8), letters(63, "Re"))
    assert "walk: the count 11 is wider than its bracket and has no leader" in bracket_faults(row(*narrow))
    assert bracket_faults(row(*narrow, Line(63, 8.4, 63, 9.3, 0.14))) == []


def test_a_stripe_may_go_on_in_the_next_row() -> None:
    """Its bracket is open where the row ends, and where it goes on, with its count told once more."""

    def in_two_rows(rest: str) -> list[Bracketed]:
        opened = Path((("move", 62, 21.3), ("line", 62, 20), ("line", 80, 20)), stroke="#000000", width=0.25)
        closed = Path((("move", 20, 40), ("line", 35, 40), ("line", 35, 41.3)), stroke="#000000", width=0.25)
        return bracketed(row(opened, count(71, "20"), letters(71, "Re"), closed, letters(27, rest, y=38.4)))

    three = [*SOUND, HandCount(20, ("red",))]
    assert counted_wrong(in_two_rows("rest of 20 Re"), three) == []
    assert counted_wrong(in_two_rows("rest of 30 Re"), three) == ["'rest of 30 Re' for 'rest of 20 Re'"]
    assert counted_wrong(in_two_rows("rest of 20 Re")[:-2], SOUND[:2]) == []
    assert counted_wrong([*in_two_rows("rest of 20 Re")[:2], in_two_rows("rest of 20 Re")[3]], SOUND) != []


def test_a_wrong_count_or_letters_are_told() -> None:
    assert counted_wrong(bracketed(row()), [HandCount(4, ("blue",)), HandCount(13, ("white",))]) == ["12 for 13"]
    assert counted_wrong(bracketed(row()), [HandCount(4, ("blue",))]) == ["2 brackets for 1 counts"]
    assert counted_wrong(bracketed(row()), [SOUND[0], HandCount(12, ("blue",))]) == ["['Wh'] for ('blue',)"]


def test_ends_in_turn_must_be_said_to_be_so() -> None:
    turn, pair = Words(75, 18.4, "in turn", Face.SANS, 9, align="middle"), letters(75, "Bu/Wh", 14.6)
    both = (bracket(62, 88), count(75, "6", 10.5), pair)
    three = [*SOUND, HandCount(6, ("blue", "white"))]
    assert counted_wrong(bracketed(row(*both, turn)), three) == []
    assert counted_wrong(bracketed(row(*both)), three) == ["['Bu', 'Wh'] says not that they are in turn"]


def test_figures_on_dark_or_hatched_ground_are_told() -> None:
    def lost(*under: Mark) -> list[str]:
        figure = count(25, "4")
        page = Page(80, 60, (*under, figure), "Ground")
        return low_contrasts(ground_of(page), [figure])

    assert lost() == []
    assert lost(Rectangle(Box(20, 5, 10, 12), fill="#c9a24a")) == []
    assert lost(Rectangle(Box(20, 5, 10, 12), fill="#7d6a3c")) != []
    assert lost(*(Line(20, 5 + at, 30, 5 + at, 0.25) for at in range(12))) != []
