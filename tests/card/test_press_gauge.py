"""The gauge on a bench card, measured on the page: it is cut out and held against a warp."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest

from cardmaker.card.composing import compose_card
from cardmaker.layout.ink import BLACK
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.loom import Loom, MeasuredPress, Press
from cardmaker.model.marks import Face, Group, Line, Mark, Path, Rectangle, Words
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.reckoning.planning import make_plan
from cardmaker.wording.formatters import Units
from tests.helpers.pattern_files import read_pattern
from tests.helpers.places import ROOT, shipped_in
from tests.helpers.shipped import plan_of, shipped_layout, shipped_loom

PATTERN = read_pattern(ROOT / "patterns" / "two-rails.yaml")
SMALL_BOX = shipped_loom("small-box")
RULER = TypeRuler()


def figures(marks: tuple[Mark, ...]) -> Iterator[Group]:
    for mark in marks:
        if isinstance(mark, Group):
            if mark.role == "figure":
                yield mark
            yield from figures(mark.marks)


def gauge_on(loom: Loom, units: Units = "metric") -> Group:
    layout = shipped_layout("bench")
    card = compose_card(make_plan(PATTERN, loom), replace(layout, units=units), layout.papers[0], RULER)
    (gauge,) = (each for each in figures(card.page.marks) if each.alt.startswith("A gauge to cut out"))
    return gauge


def words_in(gauge: Group) -> list[str]:
    return [mark.text for mark in gauge.marks if isinstance(mark, Words)]


def bars(gauge: Group) -> list[tuple[float, float, bool]]:
    """How far below the warp at rest each bar begins and ends, and whether it is the bold one."""
    rest = min(mark.y1 for mark in gauge.marks if isinstance(mark, Line) and mark.y1 == mark.y2)
    drawn = [mark for mark in gauge.marks if isinstance(mark, Rectangle) and not mark.dash]
    lines = [mark for mark in gauge.marks if isinstance(mark, Line) and mark.x1 == gauge.box.left and mark.y1 > rest]
    found = [(bar.box.top - rest, bar.box.bottom - rest, bar.fill == BLACK) for bar in drawn]
    return sorted([*found, *((line.y1 - rest, line.y1 - rest, False) for line in lines)])


def test_the_bars_stand_at_true_scale_from_the_line_at_rest() -> None:
    """50 g on 13 ends of 20/2 linen, 40 cm of 60 cm: the ranges that ``tests/reckoning`` holds against another hand."""
    tight, right, slack = bars(gauge_on(SMALL_BOX))
    assert right[:2] == pytest.approx((3.71, 4.25), abs=0.01)
    assert (tight[0] + tight[1]) / 2 == pytest.approx(2.22, abs=0.01)
    assert slack[:2] == pytest.approx((4.71, 6.06), abs=0.01)
    assert [bar[2] for bar in (tight, right, slack)] == [False, True, False]


@pytest.mark.parametrize("pattern", ["two-rails", "long-sixty", "wick", "five-posts"])
def test_right_is_the_heaviest_ink_of_the_gauge(pattern: str) -> None:
    """Black and long; the other two are hairlines: on a grey copy too nobody takes slack for right."""
    layout = shipped_layout("bench")
    card = compose_card(plan_of(pattern), layout, layout.papers[0], RULER)
    (gauge,) = (each for each in figures(card.page.marks) if each.alt.startswith("A gauge to cut out"))
    filled = [mark for mark in gauge.marks if isinstance(mark, Rectangle | Path) and mark.fill]
    assert {mark.fill for mark in filled} == {BLACK}
    (bar,) = filled
    assert isinstance(bar, Rectangle)
    others = [mark for mark in gauge.marks if isinstance(mark, Rectangle) and not mark.fill and not mark.dash]
    assert all(mark.width < 0.2 and mark.box.width < bar.box.width for mark in others)
    inked = [mark.width * 2 * (mark.box.width + mark.box.height) for mark in others]
    assert bar.box.width * bar.box.height > 1.1 * max(inked)
    strong = [mark.text for mark in gauge.marks if isinstance(mark, Words) and mark.face is Face.SANS_BOLD]
    assert len(strong) == 1
    assert strong[0].startswith("right ")


@pytest.mark.parametrize("pattern", [path.stem for path in shipped_in("patterns")])
def test_each_bar_is_the_range_that_its_label_says(pattern: str) -> None:
    """It is cut out and measured with: to the tenth of a millimetre that is printed, right from its least to its most,
    too tight up to its most, too slack from its least on (these are told down to a tenth)."""
    layout = replace(shipped_layout("bench"), units="metric")
    card = compose_card(plan_of(pattern), layout, layout.papers[0], RULER)
    (gauge,) = (each for each in figures(card.page.marks) if each.alt.startswith("A gauge to cut out"))
    tight, right, slack = bars(gauge)
    limits = {
        name: [float(limit) for limit in re.findall(r"\d+\.\d", label)]
        for label in words_in(gauge)
        for name in ("too tight", "right", "too slack")
        if label.startswith(name)
    }
    assert right[:2] == pytest.approx(tuple(limits["right"]), abs=0.051)
    assert (tight[1], slack[0]) == pytest.approx(
        (limits["too tight"][0], limits["too slack"][0]), abs=0.1
    )  # told to be safe
    assert right[2]


@pytest.mark.parametrize("units", ["metric", "us"])
def test_labels_stand_apart_and_inside(units: Units) -> None:
    gauge = gauge_on(SMALL_BOX, units)
    words = [mark for mark in gauge.marks if isinstance(mark, Words)]
    for mark in words:
        wide = RULER.width_mm(mark.text, mark.face, mark.size)
        left = mark.x - (wide if mark.align == "right" else 0.0)
        assert gauge.box.left < left
        assert left + wide < gauge.box.right
        assert gauge.box.top < mark.y < gauge.box.bottom
    labels = sorted(mark.y for mark in words[2:5])
    assert min(below - above for above, below in pairwise(labels)) > 3
    told = ["too tight 2.2 mm or less", "right 3.7 to 4.2 mm", "too slack 4.7 mm or more"]
    us = ["too tight 0.09 in or less", "right 0.15 to 0.17 in", "too slack 0.19 in or more"]
    assert words_in(gauge)[2:] == [*(told if units == "metric" else us), "0", "5 mm"]


def test_a_blank_scale_in_millimetres_waits_for_the_warp_that_wove_well() -> None:
    gauge = gauge_on(SMALL_BOX)
    ticks = [mark for mark in gauge.marks if isinstance(mark, Line) and mark.x2 == gauge.box.right]
    rest = next(mark for mark in gauge.marks if isinstance(mark, Line)).y1
    assert [tick.y1 - rest for tick in ticks] == pytest.approx(list(range(len(ticks))))
    told = [mark for mark in gauge.marks if isinstance(mark, Words) and mark.text in ("0", "5 mm")]
    middles = [mark.y - cap_height(mark.size) / 2 - rest for mark in told]
    assert middles == pytest.approx([0, 5])
    assert len(ticks) >= 8
    assert "mark where it wove well" in words_in(gauge)
    assert gauge.alt.endswith("A blank scale in millimetres to mark the dip of a warp that wove well.")


def test_what_cannot_be_told_apart_gets_no_mark() -> None:
    gauge = gauge_on(replace(SMALL_BOX, press=Press(Fraction(200))))
    assert bars(gauge) == []
    assert words_in(gauge) == ["warp at rest", "mark where it wove well", "0", "5 mm"]


def test_her_own_warp_moves_the_bold_mark() -> None:
    measured = MeasuredPress(Fraction(50), Fraction(400), Fraction("4.6"), 13, Fraction("165.352"), "linen")
    gauge = gauge_on(replace(SMALL_BOX, measured_press=measured))
    (top, bottom) = next(bar[:2] for bar in bars(gauge) if bar[2])
    assert (top + bottom) / 2 == pytest.approx(4.6, abs=0.01)
    assert bottom - top == pytest.approx(0.2)  # no range: within what the label rounds away
    assert "right 4.6 mm" in words_in(gauge)


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("pattern", ["two-rails", "long-sixty", "fair-day", "bare-thread", "three-paths"])
def test_no_line_of_the_scale_comes_near_a_label(pattern: str, units: Units) -> None:
    layout = shipped_layout("bench")
    card = compose_card(plan_of(pattern), replace(layout, units=units), layout.papers[0], RULER)
    (gauge,) = (each for each in figures(card.page.marks) if each.alt.startswith("A gauge to cut out"))
    words = [mark for mark in gauge.marks if isinstance(mark, Words)][2:5]
    scale = [mark for mark in gauge.marks if isinstance(mark, Words)][5:]
    ticks = [mark for mark in gauge.marks if isinstance(mark, Line) and mark.x2 == gauge.box.right]
    assert len(words) == 3
    for label in words:
        for figure in scale:
            left = figure.x - RULER.width_mm(figure.text, figure.face, figure.size)
            beside = label.x + RULER.width_mm(label.text, label.face, label.size) + 0.4 < left
            assert beside or abs(label.y - figure.y) > cap_height(label.size) + 0.4
    furthest = max(mark.x + RULER.width_mm(mark.text, mark.face, mark.size) for mark in words)
    assert furthest + 1 < min(tick.x1 for tick in ticks)
