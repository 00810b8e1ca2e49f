"""The pages of dressing: every pattern on every loom that holds it, for both hands and both views; what stands where,
how it is read aloud, and what changes with the loom."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import product

import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.card.panels.dressing_panel import EVEN
from cardmaker.layout.type_setting import Span, wrapped
from cardmaker.model.card_layout import CardLayout, Paper
from cardmaker.model.dressing_acts import Act
from cardmaker.model.loom import Loom
from cardmaker.model.marks import Box, Face, Group, Words
from cardmaker.model.plan import Plan
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reading.quick_check import schema_of
from cardmaker.reckoning.on_loom.dressing_steps import acts_in_order
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.school.handout_sheets import for_class
from cardmaker.wording.dressing_alt_texts import act_alt_text, heading_in_words, quietly
from cardmaker.wording.dressing_words import words_of_act
from cardmaker.wording.trouble_words import TROUBLE, TROUBLES
from tests.helpers.card_faults import all_words, extent, faults, leaves, panels
from tests.helpers.paper_tools import RULER
from tests.helpers.record_cards import CASES
from tests.helpers.samples import part_of
from tests.helpers.screen_reader_text import text_read_aloud
from tests.helpers.shipped import loom_file, paper_of, plan_for_layout, shipped_layout

BOTH = ("dressing", "dressing-brief")
ON_LOOMS = [(pattern, loom) for pattern, loom, on in CASES if on == "letter"]
VIEWS = [Viewpoint(left, behind) for left, behind in product((False, True), repeat=2)]


@cache
def plan(pattern: str, loom: str | None = None) -> Plan:
    return plan_for_layout(pattern, "dressing", loom=loom and str(loom_file(loom)))


def with_loom(of: Plan, **keys: object) -> Plan:
    return replace(of, loom=replace(of.loom, **keys))  # type: ignore[arg-type]


def made(of: Plan, stem: str = "dressing", on: Paper | None = None, layout: CardLayout | None = None) -> Composed:
    return compose_card(of, layout or shipped_layout(stem), on or paper_of(stem), RULER)


def figures(card: Composed) -> list[Group]:
    return [mark for panel in panels(card) for mark in panel.marks if isinstance(mark, Group) and mark.role == "figure"]


def headings(card: Composed) -> list[str]:
    (panel,) = (group for group in panels(card) if group.name.startswith("dressing"))
    found = [mark for mark in panel.marks if isinstance(mark, Group) and mark.role == "heading"]
    return [mark.alt for mark in found if mark.alt]


def lines_of(heading: Group) -> list[tuple[str, Box]]:
    """Its lines of words, from the top, without its number."""
    rows: dict[float, list[Words]] = {}
    for mark in heading.marks:
        if isinstance(mark, Words) and not mark.text.isdigit():
            rows.setdefault(round(mark.y, 3), []).append(mark)
    boxes = [
        (" ".join(words.text for words in row), [extent(words) for words in row]) for _, row in sorted(rows.items())
    ]
    return [(text, max((box for box in found if box), key=lambda box: box.right)) for text, found in boxes]


# Every page


@pytest.mark.parametrize("view", VIEWS, ids=lambda view: f"{view.hand}, {view.side}")
@pytest.mark.parametrize("stem", BOTH)
def test_every_page_can_be_made_and_nothing_lies_over_anything(stem: str, view: Viewpoint) -> None:
    """On both papers in turn; and the way of dressing and the front tie go round as well. From the seat of a right
    hand all of them, else every second one."""
    of, wrong = shipped_layout(stem), []
    ways = list(product((False, True), repeat=2))
    cases = list(enumerate(ON_LOOMS))
    for number, (pattern, loom) in cases if view == VIEWS[0] else part_of(cases, 2, f"{stem} {view}"):
        on = of.papers[number % len(of.papers)]
        beam_first, cloth_beam = ways[number // 2 % len(ways)]
        seen = with_loom(plan_as_seen(plan(pattern, loom), view), beam_first=beam_first, cloth_beam=cloth_beam)
        wrong += [f"{pattern} on {loom}, {on.name}: {fault}" for fault in faults(made(seen, stem, on), of, on)]
    assert len(ON_LOOMS) == 83
    assert wrong == []


@pytest.mark.parametrize("stem", BOTH)
@pytest.mark.parametrize(("pattern", "loom"), [("three-paths", "middle-box"), ("fair-day", "treadle-pair")])
def test_every_step_has_its_picture_its_line_and_its_numbers_in_order(stem: str, pattern: str, loom: str) -> None:
    for view, beam_first in product(VIEWS, (False, True)):
        seen = with_loom(plan_as_seen(plan(pattern, loom), view), beam_first=beam_first)
        card, brief = made(seen, stem), stem == "dressing-brief"
        acts = acts_in_order(seen.loom, is_brief=brief)
        assert [figure.name for figure in figures(card)] == [act.value for act in acts]
        told = text_read_aloud(card.page).replace("\N{NO-BREAK SPACE}", " ").split("\n")
        wanted = []
        for number, act in enumerate(acts, start=1):
            words = words_of_act(act, seen, "metric", brief=brief)
            wanted += [heading_in_words(number, words.do), act_alt_text(act, seen)]
            wanted.append(quietly(words.numbers if brief else f"{words.numbers} {words.how}".strip()))
        wanted = [line.replace("\N{NO-BREAK SPACE}", " ") for line in wanted if line]
        assert [line for line in told if line in wanted] == wanted


@pytest.mark.parametrize("stem", BOTH)
def test_the_command_reckons_what_the_page_tells(stem: str) -> None:
    """Beam, pull and shuttle are reckoned only for the layouts that show them."""
    told = text_read_aloud(made(plan_for_layout("three-paths", stem), stem).page).replace("\N{NO-BREAK SPACE}", " ")
    for figure in ("About 17 turns.", "26 N (2.6 kg)", "Stop with 25 cm", "Pull on to 15 cm, weave to 5 cm. A move:"):
        assert figure in told


def test_the_numbers_of_steps_are_those_of_the_page() -> None:
    assert [line.split(".")[0] for line in headings(made(plan("three-paths")))] == [str(n) for n in range(1, 12)]
    assert [line.split(".")[0] for line in headings(made(plan("fair-day")))] == [str(n) for n in range(1, 13)]
    for pattern in ("three-paths", "fair-day"):
        assert len(headings(made(plan(pattern), "dressing-brief"))) == 9


def test_pictures_are_as_large_as_they_are_legible() -> None:
    """45 by 35 mm on a whole page; on half a page no smaller than 38 mm."""
    for stem, least in (("dressing", 44.9), ("dressing-brief", 38.0)):
        for on in shipped_layout(stem).papers:
            for figure in figures(made(plan("three-paths"), stem, on)):
                assert figure.box.width >= least
                assert figure.box.height == pytest.approx(figure.box.width * 35 / 45)


@pytest.mark.parametrize("stem", BOTH)
def test_words_in_pictures_are_no_smaller_than_others(stem: str) -> None:
    found = [words for figure in figures(made(plan("fair-day"), stem)) for words in all_words(figure.marks)]
    assert found
    assert min(words.size for words in found) >= 9 - 1e-9


def test_no_picture_reaches_out_of_its_frame() -> None:
    """But for half of a stroke that runs on: what is drawn last, the frame, cuts it off for the eye."""
    for pattern, beam_first, cloth_beam in product(("three-paths", "fair-day"), (False, True), (False, True)):
        card = made(with_loom(plan(pattern), beam_first=beam_first, cloth_beam=cloth_beam))
        for figure in figures(card):
            room = figure.box.inset(-0.8, -0.8, -0.8, -0.8)  # an end is taken to be round
            boxes = [box for mark in leaves(figure.marks) if (box := extent(mark)) is not None]
            assert all(room.holds(box) for box in boxes), figure.name


# Hands


def test_a_left_hand_has_the_mirror_image_with_words_to_read() -> None:
    """Of winding on, which has no side of its own: every stroke is where its mirror image was, every word upright."""
    right = made(plan("two-rails"))
    left = made(plan_as_seen(plan("two-rails"), Viewpoint(left_hand=True)))
    (one,), (other,) = ([each for each in figures(card) if each.name == Act.WIND_ON] for card in (right, left))
    assert spots(one) == sorted((round(one.box.width - right, 3), top) for right, top in spots(other, from_right=True))
    read = [[words.text for words in all_words(figure.marks)] for figure in (one, other)]
    assert read[0] == read[1] == ["1", "2", "3"] or sorted(read[0]) == sorted(read[1])


def spots(figure: Group, *, from_right: bool = False) -> list[tuple[float, float]]:
    """The left edge, or the right one, of every mark that is no word, and its top, in the picture."""
    boxes = [box for mark in leaves(figure.marks) if not isinstance(mark, Words) and (box := extent(mark)) is not None]
    found = [(edge(box, figure.box, from_right=from_right), round(box.top - figure.box.top, 3)) for box in boxes]
    return sorted(found)


def edge(box: Box, room: Box, *, from_right: bool) -> float:
    return round((box.right if from_right else box.left) - room.left, 3)


# What was done beforehand


def panel_names(layout: CardLayout) -> set[str]:
    return {place.panel for row in layout.rows for place in row}


def test_a_wound_warp_is_not_wound_again() -> None:
    layout = for_class(shipped_layout("dressing"), wound_beforehand=True, with_face=False)
    assert panel_names(layout) == {"name", "dressing-wound", "cautions"}
    told = text_read_aloud(made(plan("wick"), layout=layout).page)
    assert "1. Find the keepers, and the bright thread beside end 1." in told
    assert "Wind " not in told
    assert "scissors cut" not in told


def test_a_threaded_loom_begins_in_front() -> None:
    layout = for_class(shipped_layout("dressing"), wound_beforehand=True, threaded_beforehand=True, with_face=False)
    card = made(plan("wick"), layout=layout)
    assert [figure.name for figure in figures(card)] == [
        "front tie", "tie the loom", "shuttle", "first pick", "move on", "finish",
    ]  # fmt: skip
    assert headings(card)[0] == "1. Cut the far loops, comb level, one knot: hold it."
    assert {"first space", "view", "checks"} & card.printed == set()


# The loom's own


@pytest.mark.parametrize("pattern", ["three-paths", "fair-day", "cord-edge"])
@pytest.mark.parametrize("stem", BOTH)
def test_her_own_words_are_on_the_page_whole_and_with_the_numbers(stem: str, pattern: str) -> None:
    """As long as they may be, for every step at once, on every paper."""
    longest = "Brown paper all the way, no sticks; whoever turns counts aloud, and nobody else."
    assert len(longest) == schema_of("loom")["$defs"]["own_words"]["maxLength"]
    own = with_loom(plan(pattern), own_words=tuple((act, longest) for act in Act))
    of = shipped_layout(stem)
    for on in of.papers:
        card = made(own, stem, on)
        assert faults(card, of, on) == []
        assert {line.partition(". ")[2] for line in headings(card)} == {longest}
        told = text_read_aloud(card.page).replace("\N{NO-BREAK SPACE}", " ")
        assert words_of_act(Act.WIND_ON, own, "metric", brief=stem != "dressing").numbers in told


def test_a_loom_that_tells_the_least_has_a_page_too() -> None:
    bare = replace(
        plan("wick"),
        loom=bare_loom(plan("wick").loom), beam=None, tension=None, shuttle=None, pace=None,
    )  # fmt: skip
    for stem, view in product(BOTH, VIEWS):
        of, on = shipped_layout(stem), paper_of(stem)
        assert faults(made(plan_as_seen(bare, view), stem), of, on) == []


def bare_loom(loom: Loom) -> Loom:
    return replace(loom, beam=None, packing=None, weaving_zone_mm=None, shuttle_length_mm=None, shuttle_stated=False)


@pytest.mark.parametrize(("pattern", "loom"), [each for each in ON_LOOMS if each[0] in ("nine", "fair-day", "stair")])
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_every_page_has_lines_of_trouble(pattern: str, loom: str, paper: str) -> None:
    """In the place that is free beside the pictures, or below them where none is."""
    aloud = text_read_aloud(made(plan(pattern, loom), on=paper_of("dressing", paper)).page)
    lines = aloud[aloud.index(TROUBLE) :].splitlines()
    assert len([line for line in lines[1:] if "? " in line]) >= 2


def test_a_page_in_brief_has_no_line_of_trouble_without_its_heading() -> None:
    """The first lines stand with their heading, or none does: on Fair Day's page single lines would find room."""
    seen = set()
    for pattern, loom in ON_LOOMS:
        aloud = text_read_aloud(made(plan(pattern, loom), "dressing-brief").page)
        lines = [row.question for row in TROUBLES.values() if f"\n{row.question} " in aloud]
        assert (TROUBLE in aloud) or lines == [], f"{pattern} on {loom}"
        seen.add(bool(lines))
    assert False in seen


def test_the_pull_is_told_once() -> None:
    told = text_read_aloud(made(plan("three-paths")).page).replace("\N{NO-BREAK SPACE}", " ")
    assert told.count("The warp pulls with about") == 1
    assert "children" in told


def test_the_lines_of_a_heading_are_even_and_as_few_as_they_can_be() -> None:
    """No line is left with a word or two below a full one: a word of the longest line would make a later one longer."""
    seen = 0
    for pattern, loom in (("three-paths", None), ("fair-day", None), ("nine", "broad-paddle")):
        card = made(plan(pattern, loom))
        (panel,) = (group for group in panels(card) if group.name.startswith("dressing"))
        for heading in (mark for mark in panel.marks if isinstance(mark, Group) and mark.role == "heading"):
            lines = lines_of(heading)
            if len(lines) < 2 or not heading.alt:
                continue
            seen += 1
            text, said = " ".join(text for text, _ in lines), [box.right - heading.box.left for _, box in lines]
            [size] = {mark.size for mark in heading.marks if isinstance(mark, Words) and not mark.text.isdigit()}
            span, indent = [Span(text, Face.SANS_SEMIBOLD)], lines[0][1].left - heading.box.left
            assert len(wrapped(span, size, heading.box.width, RULER, indent)) == len(lines), text
            assert len(wrapped(span, size, max(said) - EVEN - 0.5, RULER, indent)) > len(lines), text
    assert seen > 20


def test_a_heading_that_could_break_badly_is_broken_evenly() -> None:
    card = made(plan("three-paths"))
    (panel,) = (group for group in panels(card) if group.name.startswith("dressing"))
    headings_ = [mark for mark in panel.marks if isinstance(mark, Group) and mark.role == "heading"]
    [lines] = [[line for line, _ in lines_of(mark)] for mark in headings_ if mark.alt and "pull it on" in mark.alt]
    assert lines == [
        "Last pick 5\N{NO-BREAK SPACE}cm from",
        "the heddle: close the shed,",
        "let\N{NO-BREAK SPACE}warp\N{NO-BREAK SPACE}off, pull it on.",
    ]
