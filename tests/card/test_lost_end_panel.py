"""The slip of one end: the laws of cards on every loom, hand, side and paper; its picture shows the end it names."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache

import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.layout.ink import ACCENT
from cardmaker.model.card_layout import Paper
from cardmaker.model.marks import Dot, Face, Group, Mark, Path, Rectangle, Words
from cardmaker.model.plan import Plan
from cardmaker.model.problems import ProblemsFound, Refusal
from cardmaker.model.record_class import replace
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.reckoning.weaving.lost_ends import lost_end
from cardmaker.wording.heddle_words import name_on_board
from tests.helpers.card_faults import all_words, faults, panels
from tests.helpers.paper_tools import RULER
from tests.helpers.screen_reader_text import text_read_aloud
from tests.helpers.shipped import PATTERNS, plan_of, shipped_layout, shipped_loom, shipped_pattern
from tests.helpers.warps import one_heddle, pattern

SLIP = shipped_layout("rescue")
VIEWS = [Viewpoint(left, behind) for left in (False, True) for behind in (False, True)]
each_view = pytest.mark.parametrize("view", VIEWS, ids=["right", "right-behind", "left", "left-behind"])
each_pattern = pytest.mark.parametrize("name", PATTERNS)


def chosen(plan: Plan, number: int, turns: Fraction | None = None) -> Plan:
    assert plan.rescue is not None
    return replace(plan, lost_end=lost_end(number, plan, plan.rescue, Fraction(3, 7), turns))


@cache
def slip(name: str, loom: str | None, view: Viewpoint, number: int, paper: Paper = SLIP.papers[0]) -> Composed:
    return compose_card(chosen(plan_as_seen(plan_of(name, loom), view), number), SLIP, paper, RULER)


def looms_of(name: str) -> Iterator[str | None]:
    """The smallest loom, and two heddles where they hold it."""
    yield None
    try:
        plan_of(name, "treadle-pair")
    except ProblemsFound:
        return
    yield "treadle-pair"


# The laws of all cards


@each_view
@each_pattern
def test_a_slip_keeps_the_laws_of_cards(name: str, view: Viewpoint) -> None:
    found = []
    for loom in looms_of(name):
        ends = plan_of(name, loom).ends
        for index, number in enumerate(sorted({1, ends // 2 + 1, ends})):
            paper = SLIP.papers[index % 2]
            card = slip(name, loom, view, number, paper)
            assert (card.page.width_mm, card.page.height_mm) == (paper.width_mm, paper.height_mm)
            assert card.printed == {*SLIP.facts.front}
            assert card.lacking == ()
            found += [(loom, number, paper.name, fault) for fault in faults(card, SLIP, paper)]
    assert found == []


@pytest.mark.parametrize("ends", [1, 2, 79, 119])
def test_few_ends_and_very_many(ends: int) -> None:
    made = pattern(f"{ends} Wh")
    made = replace(made, yarns=tuple(replace(yarn, ends_per_inch=Fraction(48)) for yarn in made.yarns))
    plan = make_plan(made, one_heddle(60, 59, title="Sixty slots"))
    for number in {1, ends}:
        for view in VIEWS:
            card = compose_card(chosen(plan_as_seen(plan, view), number), SLIP, SLIP.papers[0], RULER)
            assert faults(card, SLIP, SLIP.papers[0]) == []


@pytest.mark.parametrize("letters", [40, 120, 200])
def test_a_long_name_fits_or_is_refused_at_its_key(letters: int) -> None:
    """Of the pattern, and of the loom, which heads the picture."""
    name = ("Grandmother Hathersage " * 10)[:letters].strip()
    pair, box = shipped_pattern("nine"), shipped_loom("small-box")
    for made, loom, path in (
        (replace(pair, title=name), box, ("title",)),
        (pair, replace(box, title=name), ("warp",)),
    ):
        found = slip_or_refusal(chosen(make_plan(made, loom), 2))
        if isinstance(found, Refusal):
            assert letters > 40
            assert found.path == path
            assert "fit" in found.message
        else:
            assert faults(found, SLIP, SLIP.papers[0]) == []


def slip_or_refusal(plan: Plan) -> Composed | Refusal:
    try:
        return compose_card(plan, SLIP, SLIP.papers[0], RULER)
    except Refusal as refusal:
        return refusal


# What it says and shows


def panel(card: Composed, name: str) -> Group:
    return next(group for group in panels(card) if group.name == name)


def words(marks: tuple[Mark, ...]) -> str:
    return " ".join(each.text for each in all_words(marks)).replace("\N{NO-BREAK SPACE}", " ")


def test_the_figures_are_large_and_named() -> None:
    plan = chosen(plan_of("three-paths"), 17)
    card = compose_card(plan, SLIP, SLIP.papers[0], RULER, "metric")
    text = words(panel(card, "lost-end").marks)
    for told in (
        "End 17 of 31: white (Wh)",
        "from the right 15 17 from the left",
        "its space R1 a slot",
        "new end 215 cm",
    ):
        assert told in text
    figures = [each for each in all_words(panel(card, "lost-end").marks) if each.text in ("15", "R1", "215 cm")]
    assert [each.size for each in figures] == [28, 28, 28]
    assert {each.colour for each in figures if each.text == "R1"} == {ACCENT}
    steps = words(panel(card, "lost-end-steps").marks)
    for told in (
        "2 Cut 215 cm (84 in) of white.",
        "3 Thread it: R1, a slot.",
        "4 Pin it below the last pick.",
        "5 Hang a small weight behind.",
        "Hooks are sharp; a loaded beam spins back; local rules first.",
    ):
        assert told in steps


def test_us_units_stand_first_when_they_are_asked_for() -> None:
    card = compose_card(chosen(plan_of("three-paths"), 17), SLIP, SLIP.papers[0], RULER, "us")
    text = words(panel(card, "lost-end").marks)
    assert "new end 84 in (215 cm), with" in text


def figure_of(card: Composed) -> Group:
    marks = panel(card, "lost-end-board").marks
    return next(mark for mark in marks if isinstance(mark, Group) and mark.role == "figure")


@each_view
@each_pattern
def test_the_ring_the_flag_and_the_names_are_those_of_its_space(name: str, view: Viewpoint) -> None:
    """Over each other, between the letters of its neighbours; on two heddles a ring on either board."""
    for loom in looms_of(name):
        plan = plan_as_seen(plan_of(name, loom), view)
        back = plan.placement.back
        for number in (1, (plan.ends + 1) // 2, plan.ends):
            picture = figure_of(slip(name, loom, view, number))
            rings = [mark for mark in picture.marks if isinstance(mark, Dot | Rectangle) and mark.stroke == ACCENT]
            assert len(rings) == (1 if back is None else 2)
            flag = next(mark for mark in picture.marks if isinstance(mark, Path) and mark.fill == ACCENT)
            _, tip, _ = next(step for step in flag.steps if step[0] == "move")
            xs = [ring.x if isinstance(ring, Dot) else ring.box.middle for ring in rings]
            assert xs == pytest.approx([tip] * len(rings))
            named = [mark for mark in picture.marks if isinstance(mark, Words) and mark.colour == ACCENT]
            space = plan.placement.space_of(number)
            spaces = [space] if back is None else [space + back.offset, space]
            texts = [*(name_on_board(each, plan.loom) for each in spaces), plan.letters(plan.end_yarns[number - 1])]
            assert sorted(each.text for each in named) == sorted(texts)
            assert [each.x for each in named] == pytest.approx([tip] * len(named))
            assert all(each.face is Face.SANS_BOLD for each in named)
            kinds = ["hole" if isinstance(ring, Dot) else "slot" for ring in rings]
            kind = plan.placement.kinds[number - 1]
            assert kinds == ([kind] if back is None else [kind.opposite, kind])


@each_view
def test_what_is_drawn_beside_it_is_what_lies_there(view: Viewpoint) -> None:
    plan = plan_as_seen(plan_of("off-side"), view)
    for number in range(1, plan.ends + 1):
        picture = figure_of(slip("off-side", None, view, number))
        codes = {plan.letters(yarn) for yarn in plan.end_yarns}
        drawn = sorted((mark.x, mark.text) for mark in picture.marks if isinstance(mark, Words) and mark.text in codes)
        across = [plan.letters(yarn) for yarn in (plan.end_yarns[::-1] if view.left_hand else plan.end_yarns)]
        at = plan.ends - number if view.left_hand else number - 1
        assert [text for _, text in drawn] == across[max(0, at - 4) : at + 5]


@each_view
def test_it_is_told_as_it_is_drawn(view: Viewpoint) -> None:
    """Sides, heddles and counts; whoever threads from behind meets the back heddle first."""
    aloud = text_read_aloud(slip("fair-day", None, view, 10).page)
    seat = "from behind" if view.from_behind else "as you sit"
    assert f"The heddle round it, {seat}: the end goes in front " in aloud
    assert "On its left: red in front " in aloud
    near, far = ("right", "left") if view.left_hand else ("left", "right")
    assert f"10 from the {near} edge, 39 from the {far}." in aloud
    assert ("seen from behind the heddles" in aloud) == view.from_behind
    assert ("Back first." in aloud, "Front first." in aloud) == (view.from_behind, not view.from_behind)


@each_view
def test_the_arrow_points_at_the_end_in_the_whole_warp(view: Viewpoint) -> None:
    plan = plan_as_seen(plan_of("off-side"), view)
    shown = 0
    for number in range(1, plan.ends + 1):
        marks = panel(slip("off-side", None, view, number), "lost-end").marks
        for picture in (mark for mark in marks if isinstance(mark, Group) and mark.name == "warp"):
            arrow = next(mark for mark in picture.marks if isinstance(mark, Path) and mark.fill == ACCENT)
            _, tip, _ = next(step for step in arrow.steps if step[0] == "move")
            at = plan.ends - number if view.left_hand else number - 1
            assert (tip - picture.box.left) / picture.box.width == pytest.approx((at + 0.5) / plan.ends)
            shown += 1
    assert shown == plan.ends  # one heddle has the room


@pytest.mark.parametrize(
    ("number", "told"),
    [
        (1, "It is the edge end: white on its right alone."),
        (2, "White on either side."),
        (11, "White on its left, blue on its right."),
        (22, "It is the edge end: white on its left alone."),
    ],
)
def test_what_lies_beside_it_in_brief(number: int, told: str) -> None:
    assert told in words(panel(slip("off-side", None, Viewpoint(), number), "lost-end-board").marks)


def test_a_thick_end_in_a_hole_takes_no_knot() -> None:
    assert "It may stick; no knot." in words(panel(slip("three-sparks", None, Viewpoint(), 13), "lost-end-steps").marks)
    assert "may stick" not in words(panel(slip("three-sparks", None, Viewpoint(), 12), "lost-end-steps").marks)


def test_without_an_end_its_panels_are_empty() -> None:
    card = compose_card(plan_of("nine"), SLIP, SLIP.papers[0], RULER)
    assert [group.name for group in panels(card)] == ["plain-name"]
