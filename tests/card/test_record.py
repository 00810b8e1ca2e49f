"""The record: its words stand at four edges, its figures answer each question once."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import pytest
from shapely import LineString

from cardmaker.card.composing import TIGHT_TYPE, compose_card
from cardmaker.card.fitting import GUTTER
from cardmaker.card.parts import quarters, run_in_part
from cardmaker.card.sheet import tightened
from cardmaker.layout.type_setting import NO_BREAK, Span
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Page, Words
from cardmaker.wording import walk_words
from cardmaker.wording.length_words import for_warp_wound, length_sum, wind_and_get
from cardmaker.wording.shed_words import begin_words
from cardmaker.wording.title_words import uses
from tests.helpers.paper_tools import RULER, composed
from tests.helpers.sheets import sheet_of
from tests.helpers.shipped import PATTERNS, plan_for_layout, shipped_layout


def page(pattern: str, layout: str = "record") -> Page:
    shipped = shipped_layout(layout)
    return compose_card(plan_for_layout(pattern, layout), shipped, shipped.papers[0], RULER).page


def panel(pattern: str, name: str) -> Group:
    return next(mark for mark in page(pattern).marks if isinstance(mark, Group) and mark.name == name)


def words(marks: tuple[Mark, ...]) -> Iterator[Words]:
    for mark in marks:
        if isinstance(mark, Group):
            yield from words(mark.marks)
        elif isinstance(mark, Words):
            yield mark


def text(group: Group) -> str:
    return " ".join(each.text for each in words(group.marks)).replace(NO_BREAK, " ")


def edges(box: Box) -> list[float]:
    return [box.left + edge for edge in quarters(box.width)[0]]


def test_quarters_are_the_columns_of_rows() -> None:
    lefts, wide = quarters(100)
    assert lefts[2] == (100 - GUTTER) / 2 + GUTTER  # where the right one of two panels begins
    assert lefts[3] + wide == 100


@pytest.mark.parametrize("pattern", ["wick", "fair-day", "five-posts", "long-sixty"])
def test_the_facts_stand_at_the_four_edges_in_one_size(pattern: str) -> None:
    title = panel(pattern, "title")
    bold = [each for each in words(title.marks) if each.face.name == "SANS_BOLD"]
    assert [each.x for each in bold] == pytest.approx(edges(title.box))
    assert len({each.size for each in bold}) == 1


@pytest.mark.parametrize("pattern", ["wick", "three-paths"])
def test_yarn_note_and_bar_begin_at_the_same_edges(pattern: str) -> None:
    yarn, lengths = panel(pattern, "yarn"), panel(pattern, "lengths")
    assert min(each.x for each in words(yarn.marks) if each.text.startswith("All linen")) == pytest.approx(
        edges(yarn.box)[3]
    )
    bar = next(mark for mark in lengths.marks if isinstance(mark, Group) and mark.role == "figure")
    assert bar.box.left == pytest.approx(edges(lengths.box)[1])


@pytest.mark.parametrize("pattern", ["three-paths", "cord-edge", "five-posts"])
def test_the_facts_of_the_source_begin_at_two_edges(pattern: str) -> None:
    source = panel(pattern, "source")
    rows = [mark for mark in source.marks if isinstance(mark, Group) and mark.role == "paragraph"][1:]
    first, _, third, _ = edges(source.box)
    assert {round(row.box.left, 3) for row in rows} <= {round(first, 3), round(third, 3)}


@pytest.mark.parametrize("layout", ["record", "handout", "handout-large"])
def test_the_headings_of_a_layout_have_two_sizes_at_the_most(layout: str) -> None:
    """Whatever gives way on a crowded card: cards that lie side by side look alike."""
    groups = [mark for name in PATTERNS for mark in page(name, layout).marks if isinstance(mark, Group)]
    headings = [mark for group in groups for mark in group.marks if isinstance(mark, Group) and mark.role == "heading"]
    names = [each for heading in headings for each in words(heading.marks) if each.face is Face.SERIF_SEMIBOLD]
    assert len(names) > 3 * len(PATTERNS)
    sizes = shipped_layout(layout).type_sizes
    assert {each.size for each in names} <= {sizes.heading, tightened(sizes, TIGHT_TYPE).heading}


def test_the_sum_begins_with_what_is_asked_for_and_ends_with_what_rounding_gives() -> None:
    """Wick asks for 60 in: 152.4 / 0.97 = 157.1, (157.1 / 0.88) + 50.8 = 229.3 cm, wound as 230."""
    plan = plan_for_layout("wick", "record")
    assert " ".join(length_sum(plan, "metric")).replace(NO_BREAK, " ") == (
        "Asked for: 152 cm (60 in) finished. With 3 % lost in washing that is 157 cm (62 in) woven; with 12 % taken up "
        "and 51 cm (20 in) of waste, the warp is 229 cm (90 in), rounded up."
    )


def test_figures_for_longer_pegs_say_so() -> None:
    lengths = plan_for_layout("wick", "bench").lengths
    assert lengths.wound_mm - lengths.wind_mm > 10
    assert for_warp_wound(lengths, "metric") == "for 2.35 m of warp"
    assert for_warp_wound(plan_for_layout("wick", "record").lengths, "metric") == ""


def test_a_figure_begins_in_the_shed_of_its_first_row() -> None:
    plan = plan_for_layout("five-posts", "record")
    assert begin_words(plan) == "begin: lift the warp UP, throw right"
    assert text(panel("five-posts", "weave")).endswith("UP, throw right")
    sheds = [each.text for each in words(panel("five-posts", "face").marks) if each.text.endswith(("DOWN", "UP"))]
    assert set(sheds) == {"DOWN", "UP"}  # as they open, without numbers: these would be read as rows of the figure
    assert "Before the hand lifts or drops an end:" in text(panel("five-posts", "face"))
    plain = plan_for_layout("nine", "record")
    assert begin_words(plain) == "begin: press the warp DOWN, throw left"
    names = sorted(words(panel("nine", "face").marks), key=lambda word: -word.y)
    assert [each.text for each in names if each.text.endswith((" DOWN", " UP"))][:2] == [
        "1 DOWN",
        "2 UP",
    ]  # from the foot upward


def test_the_newest_version_is_told_once() -> None:
    whole = text(Group("panel", "page", Box(0, 0, 1, 1), page("three-paths").marks))
    assert whole.count("middle widened from 7 white to 9") == 1


# In one manner


@pytest.mark.parametrize("pattern", PATTERNS)
def test_every_section_has_a_heading_of_one_face_and_size_at_the_left(pattern: str) -> None:
    """Whether what it heads stands below it or goes on beside it."""
    on_page = [mark for mark in page(pattern).marks if isinstance(mark, Group)]
    heads = {}
    for name in ("walk", "board", "weave", "yarn", "lengths", "notes", "source", "results", "looms", "changes"):
        for group in (group for group in on_page if group.name == name):
            (heading, *_) = [mark for mark in group.marks if isinstance(mark, Group) and mark.role == "heading"]
            serif = [each for each in words(heading.marks) if each.face is Face.SERIF_SEMIBOLD]
            heads[name] = (serif[0].size, round(heading.box.left - group.box.left, 3))
    assert len(heads) >= 7
    assert len(set(heads.values())) == 1, heads


@pytest.mark.parametrize("pattern", PATTERNS)
def test_every_record_says_what_it_is_for_and_that_it_is_sample_data_in_one_place(pattern: str) -> None:
    plan = plan_for_layout(pattern, "record")
    assert uses(plan.pattern.purposes) in text(panel(pattern, "title"))
    assert plan.pattern.marked_as.lower() in text(panel(pattern, "foot")).lower()
    assert plan.pattern.marked_as not in text(panel(pattern, "ribbon"))


@pytest.mark.parametrize("pattern", PATTERNS)
def test_the_bar_names_its_unit_and_leaders_can_be_followed(pattern: str) -> None:
    """Each goes from its part straight down, or down, aside and down again, to its own label, and meets no other."""
    group = panel(pattern, "lengths")
    (bar,) = [mark for mark in group.marks if isinstance(mark, Group) and mark.role == "figure"]
    labels = [each for each in words(bar.marks) if each.align == "left"]
    leaders: list[list[Line]] = []
    for line in (mark for mark in bar.marks if isinstance(mark, Line)):
        if leaders and (leaders[-1][-1].x2, leaders[-1][-1].y2) == (line.x1, line.y1):
            leaders[-1].append(line)
        else:
            leaders.append([line])
    assert labels
    assert len(labels) == len(leaders)
    assert next(words(bar.marks)).text.endswith("cm")
    for label, leader in zip(labels, leaders, strict=True):
        wide = RULER.width_mm(label.text, label.face, label.size)
        assert len(leader) in (1, 3)
        assert all(line.x1 == line.x2 or line.y1 == line.y2 for line in leader)
        assert label.x + 1 <= leader[-1].x2 <= label.x + wide - 1
        assert leader[-1].y2 < label.y - label.size * 0.233
    drawn = [
        LineString([(line.x1, line.y1) for line in leader] + [(leader[-1].x2, leader[-1].y2)]) for leader in leaders
    ]
    assert all(one.distance(other) > 0.5 for one, other in combinations(drawn, 2))


def test_what_comes_of_a_warp_is_told_in_one_system() -> None:
    lengths = plan_for_layout("wick", "record").lengths
    assert wind_and_get(lengths, "metric") == "to wind for about 153 cm"
    assert wind_and_get(lengths, "us") == "to wind for about 60 in"


def test_a_paragraph_begins_beside_its_heading_and_goes_on_below_it() -> None:
    """Where not even its first word finds room there, it begins below."""
    group = panel("cord-edge", "notes")
    (heading,) = [mark for mark in group.marks if isinstance(mark, Group) and mark.role == "heading"]
    (said,) = [mark for mark in group.marks if isinstance(mark, Group) and mark.role == "paragraph"]
    (name,), (first, *more) = list(words(heading.marks)), list(words(said.marks))
    wide = RULER.width_mm(name.text, name.face, name.size)
    assert first.y == name.y
    assert first.x > name.x + wide + 3
    assert {each.x for each in more if each.y > first.y} >= {name.x}
    sheet = sheet_of(plan_for_layout("cord-edge", "record"), "record")
    beside, below = (run_in_part(sheet, width, "Take care", [Span("overlong" * 3)]) for width in (90.0, 40.0))
    assert (len(beside), len(below)) == (1, 2)


@pytest.mark.parametrize("left_hand", [False, True])
def test_every_record_tells_how_stripes_in_turn_begin_and_end(left_hand: bool) -> None:
    """Brackets say that two colours take turns, not with which of them: that is told before what may be left out."""
    found = 0
    for pattern in PATTERNS:
        plan = plan_for_layout(pattern, "record")
        turns = walk_words.turns_told(plan)
        card = composed(plan, "record", left_hand=left_hand)
        assert ("in turn" in card.printed) == bool(turns), pattern
        found += bool(turns)
    assert found > 5
