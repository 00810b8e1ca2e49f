"""The walk: strokes under their counts, totals to tick at their posts, one line that says where winding finishes."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from itertools import combinations, pairwise
from typing import NamedTuple

import pytest

from cardmaker.card.composing import compose_card
from cardmaker.card.panels.order_panel import ORDER
from cardmaker.card.panels.winding_ticks_panel import TICKS, WALK_IN_TOTALS
from cardmaker.card.panels.winding_walk_panel import WALK, finish_parts
from cardmaker.card.sheet import Panel
from cardmaker.layout.ink import ACCENT, BLACK, HAIRLINE, WHITE
from cardmaker.layout.stacking import draw_stack, stack_heights
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.loom import Mark as LoomMark
from cardmaker.model.loom import Space
from cardmaker.model.marks import Box, Dot, Face, Group, Line, Mark, Path, Rectangle, Words
from cardmaker.model.plan import Plan, Post
from cardmaker.model.record_class import replace
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.stripes.segments import hand_counted
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.reckoning.winding.walk import boxed_totals, walk_of
from cardmaker.wording import peg_words, walk_words
from tests.helpers.card_faults import all_words, extent, gap_mm, leaves, panels
from tests.helpers.record_cards import RULER
from tests.helpers.screen_reader_text import text_read_aloud
from tests.helpers.sheets import sheet_of
from tests.helpers.shipped import PATTERNS, paper_of, plan_for_layout, plan_of, shipped_layout
from tests.helpers.warps import any_loom

WIDTHS = {"handout": 94.0, "handout-large": 150.0, "record": 148.0, "field": 76.0}
COLOURS = {"red": "#9c2f2b", "white": "#f4f0e4", "blue": "#2f4a7d", "green": "#3f7a3f"}


class Drawn(NamedTuple):
    """A panel's marks in a box that begins at the left edge, and how wide it is."""

    marks: list[Mark]
    width: float

    @property
    def words(self) -> list[Words]:
        return list(all_words(self.marks))

    def text(self) -> str:
        return " ".join(words.text for words in self.words).replace("\N{NO-BREAK SPACE}", " ")


def drawn(plan: Plan, layout: str, panel: Panel = WALK, *, share: float = 1.0, optional: bool = False) -> Drawn:
    sheet = replace(sheet_of(plan, layout), picture_share=share)
    parts = [part for part in panel.parts(sheet, WIDTHS[layout]) if optional or not part.priority]
    height = stack_heights(parts).least
    return Drawn(draw_stack(parts, Box(0.0, 0.0, WIDTHS[layout], height)), WIDTHS[layout])


@cache
def tape(*stripes: str) -> Plan:
    yarns = "".join(
        f'  {name}: {{fibre: linen, count: 20/2, colour: "{colour}"}}\n'
        for name, colour in COLOURS.items()
        if any(stripe.endswith(name) for stripe in stripes)
    )
    text = f"title: Trial\nyarns:\n{yarns}warp: [{', '.join(stripes)}]\nlength: {{finished: 1 m}}\n"
    return make_plan(parse_pattern(text.encode(), "trial.yaml", "trial"), any_loom(131, Space.SLOT, LoomMark.ZERO))


def strokes(found: Drawn) -> list[Line]:
    """One line for each stroke: its core in the yarn's colour, which is thinner than its black casing."""
    cased = [mark for mark in leaves(found.marks) if isinstance(mark, Line) and mark.round_ends]
    return cased[1::2]


@pytest.mark.parametrize(("pattern", "cord"), [("cord-edge", "brown cord"), ("three-sparks", "red cord")])
@pytest.mark.parametrize("layout", ["record", "handout"])
def test_a_thick_yarn_has_thicker_strokes(layout: str, pattern: str, cord: str) -> None:
    """With its edges 49.3 / 38.2 times as thick as a white end: as many fewer of it lie in an inch. No stroke comes as
    near as 0.05 mm to the boxes that stand 1.05 mm beyond the posts."""
    plan = plan_of(pattern)
    inks = sheet_of(plan, layout).inks
    found = drawn(plan, layout)
    cased = [mark for mark in leaves(found.marks) if isinstance(mark, Line) and mark.round_ends]
    wide = {core.colour: edge.width for edge, core in zip(cased[::2], cased[1::2], strict=True)}
    assert wide[inks[cord].fill] / wide[inks["white"].fill] == pytest.approx(49.3 / 38.2)
    assert max(wide.values()) / 2 <= 1.0


def ticks(found: Drawn) -> list[tuple[Box, Words]]:
    """The boxes to tick, each with the total that stands in it, or else nearest at its right."""
    squares = [mark.box for mark in leaves(found.marks) if isinstance(mark, Rectangle) and mark.radius and mark.stroke]
    totals = [words for words in found.words if words.face is Face.SANS_BOLD and words.text.isdigit()]
    pairs = []
    for box in squares:
        beside = [words for words in totals if box.top < words.y <= box.bottom + 0.01 and words.align != "middle"]
        pairs += [(box, words) for words in sorted(beside, key=lambda words: gap_at_right(box, words))[:1]]
    return pairs


def gap_at_right(box: Box, words: Words) -> float:
    """From a box to words that stand in it, or at its right, in mm; words before it are no words of it."""
    return float("inf") if words.x < box.left else max(0.0, words.x - box.right)


def right_of(words: Words) -> float:
    return words.x + RULER.width_mm(words.text, words.face, words.size)


def bars(found: Drawn) -> list[Box]:
    walk = [mark for mark in found.marks if not (isinstance(mark, Group) and mark.name == "cross")]
    boxes = [extent(mark) for mark in leaves(walk) if isinstance(mark, Path) and not mark.fill and len(mark.steps) <= 4]
    return [box for box in boxes if box is not None]


def posts(found: Drawn) -> tuple[Words, Words]:
    home = next(words for words in found.words if words.text == "home")
    return home, next(words for words in found.words if words.text == "far")


# In order


def test_the_walk_of_the_worked_example() -> None:
    """3 red 5 white 3 blue 9 white and back: strokes of three colours, ticked at every change, odd ones at far."""
    found = drawn(plan_of("three-paths", units="metric"), "record")
    lines = strokes(found)
    assert len(lines) == 31
    assert [line.colour.lower() for line in lines[:4]] == ["#9c2f2b"] * 3 + ["#f4f0e4"]
    for one, other in pairwise(lines):  # one thread, on and on
        assert (other.x1, other.y1) == pytest.approx((one.x2, one.y2))
    told = {int(words.text): words.colour for _, words in ticks(found)}
    assert told == {3: ACCENT, 8: BLACK, 11: ACCENT, 20: BLACK, 23: ACCENT, 28: BLACK, 31: ACCENT}
    assert "31 ends = 31 times across: 15 there and back, and 1 more. You finish at the far post." in found.text()


def test_a_box_stands_where_its_stroke_ends_outside_its_post() -> None:
    found = drawn(plan_of("three-paths", units="metric"), "record")
    lines = strokes(found)
    for box, words in ticks(found)[:]:
        line = lines[int(words.text) - 1]
        assert (box.top > line.y2) if int(words.text) % 2 else (box.bottom < line.y2)
        assert box.middle == pytest.approx(line.x2)
        assert box.left + 0.5 < words.x < right_of(words) < box.right - 0.5


STEMMED = [("long-sixty", "handout"), ("fair-day", "handout"), ("twin-rails", "handout"), ("three-sparks", "record")]


@pytest.mark.parametrize(("pattern", "layout"), STEMMED)
def test_every_box_is_joined_to_the_end_of_its_stroke_by_a_whole_line(pattern: str, layout: str) -> None:
    """On an upper line too; a box that moves aside a little still stands over the end, and no total on a stem."""
    found = drawn(plan_of(pattern, units="metric"), layout)
    lines = strokes(found)
    stems = [mark for mark in leaves(found.marks) if isinstance(mark, Line) and mark.width == HAIRLINE]
    stems = [stem for stem in stems if stem.x1 == stem.x2 and not stem.dash]
    for box, words in ticks(found):
        line = lines[int(words.text) - 1]
        edge = box.bottom if box.bottom < line.y2 else box.top
        (stem,) = (
            stem
            for stem in stems
            if (stem.y1, stem.y2) == pytest.approx((line.y2, edge)) and stem.x1 == pytest.approx(line.x2)
        )
        assert box.left + 0.5 <= stem.x1 <= box.right - 0.5
    for _, words in ticks(found):
        over = [stem for stem in stems if words.x - 0.4 < stem.x1 < right_of(words) + 0.4]
        assert not [stem for stem in over if min(stem.y1, stem.y2) < words.y - 0.1 < max(stem.y1, stem.y2)]


@pytest.mark.parametrize("pattern", PATTERNS)
def test_one_tape_is_ticked_alike_on_every_layout(pattern: str) -> None:
    plan = plan_of(pattern, units="metric")
    told = {
        tuple(sorted(int(w.text) for _, w in ticks(drawn(plan, each))))
        for each in ("record", "handout", "handout-large")
    }
    told.add(tuple(sorted(int(words.text) for _, words in ticks(drawn(plan, "field", TICKS)))))
    walk, method = walk_of(plan.runs, plan.winding.method), plan.winding.method
    assert told == {tuple(boxed_totals(walk, method))}
    stripes = {stretch.last_end for stretch in walk.stretches}
    for each in ("record", "handout", "handout-large"):
        light = {int(words.text) for words in drawn(plan, each).words if is_rest(words)}
        assert light == walk.totals.keys() - stripes  # where nothing changes stands no box, but the count


def is_rest(words: Words) -> bool:
    """Whether words are a total at which nothing changes."""
    return words.text.isdigit() and words.face is Face.SANS and words.align != "middle"


@pytest.mark.parametrize(
    ("pattern", "aside"),
    [
        ("half-and-half", "tick each boxed total"),
        ("treadle-ladder", "tick each boxed total"),
        ("three-paths", "tick each boxed total"),
        ("cord-edge", "tick each boxed total"),
    ],
)
def test_a_tick_inside_a_stripe_is_told(pattern: str, aside: str) -> None:
    assert f"start at home; {aside} " in drawn(plan_of(pattern, units="metric"), "record").text()
    assert "10" in drawn(plan_of("half-and-half", units="metric"), "handout").text().split("Wind ")[1].split(" ends")[0]


@pytest.mark.parametrize("pattern", ["threes", "peep-edge"])
def test_of_one_stripe_only_the_last_total_is_a_box_and_none_is_told_to_tick(pattern: str) -> None:
    found = drawn(plan_of(pattern, units="metric"), "record")
    assert len(ticks(found)) == 1
    assert "tick" not in found.text()


def test_boxes_stand_clear_of_the_balls_that_wait() -> None:
    for pattern in ("half-and-half", "five-posts", "hop-and-stride"):
        for layout in ("record", "handout"):
            found = drawn(plan_of(pattern, units="metric"), layout)
            balls = [mark for mark in leaves(found.marks) if isinstance(mark, Dot) and mark.stroke]
            assert balls
            for box, _ in ticks(found):
                assert all(
                    box.top - ball.y >= ball.radius + 1 or ball.y - box.bottom >= ball.radius + 1 for ball in balls
                )


@pytest.mark.parametrize("layout", ["record", "handout", "handout-large"])
@pytest.mark.parametrize("pattern", PATTERNS)
def test_brackets_stand_over_the_strokes_that_they_count(pattern: str, layout: str) -> None:
    plan = plan_of(pattern, units="metric")
    found = drawn(plan, layout)
    segments, lines = walk_of(plan.runs, plan.winding.method).stretches, strokes(found)
    if len(lines) < plan.ends or len(bars(found)) != len(segments):
        return  # with a break, or over two rows
    for bar, segment in zip(sorted(bars(found), key=lambda bar: (bar.top, bar.left)), segments, strict=True):
        first, last = lines[segment.first_end - 1], lines[segment.last_end - 1]
        assert bar.left == pytest.approx(first.x1, abs=0.5)
        assert bar.right == pytest.approx(last.x2, abs=0.5)


@pytest.mark.parametrize("layout", ["record", "handout", "handout-large"])
@pytest.mark.parametrize("pattern", PATTERNS)
@pytest.mark.parametrize("share", [1.0, 0.55])
def test_boxes_to_tick_never_meet_and_stay_in_the_panel(pattern: str, layout: str, share: float) -> None:
    found = drawn(plan_of(pattern, units="metric"), layout, share=share)
    whole = []
    for box, _ in ticks(found):
        assert box.left >= -0.01
        assert box.right <= found.width + 0.01
        whole.append(box)
    assert whole
    assert all(gap_mm(one, other) >= 0.9 for one, other in combinations(whole, 2))


def test_names_of_the_posts_take_the_same_column_on_every_card_of_a_layout() -> None:
    for layout in ("record", "handout"):
        starts = {round(min(line.x1 for line in strokes(drawn(plan_of(each), layout))), 3) for each in PATTERNS}
        assert len(starts) == 1
        assert starts.pop() < 16  # mm: what is left is the walk's


def test_every_total_is_ticked_in_a_few_lines_or_else_the_tens() -> None:
    """Eleven stripes of 48 ends, all changed at home, find room on a crowded handout; seventeen stripes are too many on
    any card."""
    crowded = drawn(plan_of("fair-day", units="metric"), "handout", share=0.55)
    assert sorted(int(words.text) for _, words in ticks(crowded)) == [4, 8, 12, 16, 22, 26, 32, 36, 40, 44, 48]
    many = drawn(tape(*["2 red", "2 white"] * 8, "25 red"), "handout", share=0.55)
    assert sorted(int(words.text) for _, words in ticks(many)) == [10, 20, 30, 40, 50, 57]
    assert "1 Wind start at home; tick each boxed total" in many.text()
    assert "stripe" not in many.text()


def test_where_stripes_and_tens_are_too_many_the_stripes_are_ticked() -> None:
    plan = tape(*["12 red", "11 white"] * 5)  # ten stripes, and a ten in each but one: 19
    found = drawn(plan, "record")
    assert sorted(int(words.text) for _, words in ticks(found)) == [12, 23, 35, 46, 58, 69, 81, 92, 104, 115]
    assert "start at home; tick each boxed total " in found.text()


def test_a_ten_near_the_last_total_is_not_ticked() -> None:
    assert walk_of(tape("31 white", "1 red").runs, "order").tens == {10: 10, 20: 20, 30: 30, 32: 32}
    assert walk_of(tape("30 white", "1 red").runs, "order").tens == {10: 10, 20: 20, 31: 31}


def test_a_crowded_card_ticks_as_every_other_card_does() -> None:
    """Thirteen stripes, changed at both posts, take a line of boxes outside each."""
    plan = plan_of("five-posts", units="metric")
    crowded = drawn(plan, "handout", share=0.55)
    for walk in (drawn(plan, "handout"), crowded):
        assert sorted(int(words.text) for _, words in ticks(walk)) == [3, 7, 8, 11, 12, 15, 16, 19, 20, 23, 24, 28, 31]
    assert "all 3 balls from home; tick each boxed total" in crowded.text()


@pytest.mark.parametrize("pattern", PATTERNS)
def test_all_cards_of_a_tape_tick_the_same_totals(pattern: str) -> None:
    """Or a class that winds by one card and a teacher who calls out from another lose each other."""
    totals = {
        (stem, paper.name): sorted(
            int(words.text)
            for panel in panels(compose_card(plan_for_layout(pattern, stem), shipped_layout(stem), paper, RULER))
            if panel.name in ("walk", "ticks")
            for words in all_words([panel])
            if words.text.isdigit()
            and words.align != "middle"
            and words.size <= shipped_layout(stem).type_sizes.body
            and words.colour != WHITE
            and not is_rest(words)
        )
        for stem in ("record", "handout", "handout-large", "field")
        for paper in shipped_layout(stem).papers
    }
    assert min(map(len, totals.values())) > 0
    assert len({tuple(each) for each in totals.values()}) == 1, totals


@pytest.mark.parametrize("paper", ["half-letter", "a5"])
@pytest.mark.parametrize("pattern", ["fair-day", "long-sixty", "five-posts", "framed-pavement"])
def test_hard_tapes_keep_their_walk_on_the_half_sheet(pattern: str, paper: str) -> None:
    layout = shipped_layout("handout")
    composed = compose_card(plan_for_layout(pattern, "handout"), layout, paper_of("handout", paper), RULER)
    assert "walk" in {group.name for group in panels(composed)}


# Wide ones


def test_long_stripes_of_a_wide_warp_are_drawn_with_a_break_on_a_small_card() -> None:
    plan = tape("4 red", "20 white", "3 blue", "25 white", "3 blue", "20 white", "4 red")
    found = drawn(plan, "handout")
    lines = strokes(found)
    assert len(lines) == 4 + 6 + 3 + 7 + 3 + 6 + 4
    assert len(bars(found)) == 7  # in one row
    dots = [mark for mark in leaves(found.marks) if isinstance(mark, Dot) and mark.radius < 0.5]
    assert len(dots) == 3 * 3
    counts = [words.text for words in found.words if words.face is Face.SANS_BOLD and words.align == "middle"]
    assert counts == ["1", "4", "20", "3", "25", "3", "20", "4"]  # the step, then the stripes
    assert all(one.y2 == other.y1 for one, other in pairwise(lines))  # an even number is left out
    assert lines[1].x1 - lines[0].x1 >= 1.28
    assert "The dots are 46 ends not drawn." in found.text()  # 79 - 33
    assert "not drawn" not in drawn(plan_of("long-sixty"), "handout").text()
    totals = [4, 24, 27, 52, 55, 75, 79]
    assert sorted(int(words.text) for _, words in ticks(found)) == totals


def test_a_record_has_room_for_every_stroke() -> None:
    plan = tape("60 white", "3 red", "56 white")
    assert len(strokes(drawn(plan, "record"))) == 119


def test_a_stripe_longer_than_a_row_goes_on_in_the_next() -> None:
    found = drawn(tape("119 white"), "record")
    assert len(strokes(found)) == 119
    assert len({bar.top for bar in bars(found)}) == 2
    texts = [words.text for words in found.words]
    assert texts.count("119") == 2  # over the first row, and at the last box
    assert "rest of 119 Wh" in texts


@pytest.mark.parametrize("ends", [1, 2, 3])
def test_the_narrowest_walk_is_a_walk(ends: int) -> None:
    plan = tape(*(f"1 {name}" for name in ("red", "white", "red")[:ends]))
    for layout in ("record", "handout"):
        found = drawn(plan, layout)
        assert len(strokes(found)) == ends
        assert [words.text for _, words in ticks(found)][-1] == str(ends)


# Balls and bundles


def test_balls_that_are_carried_have_strokes_apart_and_dotted_walks_between() -> None:
    plan = plan_of("penned-ladder", units="metric")
    walk = walk_of(plan.runs, "carry")
    for layout in ("record", "handout"):
        found = drawn(plan, layout)
        dotted = [mark for mark in leaves(found.marks) if isinstance(mark, Line) and mark.dash == (0.5, 0.6)]
        assert len(dotted) == walk.empty_walks == 8
        lines = strokes(found)
        before = [at for at in range(2, 24) if walk.walks_empty_before(at)]
        for mark, at in zip(dotted, before, strict=True):  # from where one stroke stops to where the next one starts
            assert (mark.x1, mark.y1) == pytest.approx((lines[at - 2].x2, lines[at - 2].y2))
            assert (mark.x2, mark.y2) == pytest.approx((lines[at - 1].x1, lines[at - 1].y1))
            assert mark.x2 - mark.x1 > 0.4 * (lines[0].x2 - lines[0].x1)  # room of its own between the strands
        assert {mark.width for mark in dotted} == {0.5}  # dots, not dashes
        assert ("Walk empty (dotted) to the next" in found.text()) == (layout == "record")
        key = "8 empty walks (dotted). Finish at far. Dot = ball waits." in found.text()
        assert key == (layout == "handout")
        home, far = posts(found)
        starts = [Post.HOME if line.y1 < line.y2 else Post.FAR for line in strokes(found)]
        assert starts == [stroke.start for stroke in walk.strokes]
        assert home.y < far.y


def test_without_a_picture_nothing_is_dotted() -> None:
    said = drawn(plan_of("penned-ladder", units="metric"), "handout", WALK_IN_TOTALS).text()
    assert "Walk empty to the next ball; tie off when done." in said
    assert "dotted" not in said


def test_bundles_are_bracketed_as_they_are_wound() -> None:
    plan = tape(*["2 red", "1 white", "1 blue", "3 green"] * 5)
    assert plan.winding.method == "bundle"
    found = drawn(plan, "record")
    counts = [words.text for words in found.words if words.face is Face.SANS_BOLD and words.align == "middle"]
    assert counts[1:] == ["10", "5", "5", "15"]
    assert "tick after every bundle" in found.text()
    facts = {fact for part in WALK.parts(sheet_of(plan, "record"), 148.0) for fact in part.facts}
    assert "stripes" not in facts  # their order stands elsewhere


# Words


@pytest.mark.parametrize("pattern", PATTERNS)
def test_one_bold_line_stands_under_the_walk_of_a_small_card(pattern: str) -> None:
    """It takes two lines beside the cross where one would not hold it; of balls, which also tells how often she walks
    without a thread, at most three."""
    plan = plan_of(pattern, units="metric")
    found = drawn(plan, "handout")
    bold = [words for words in found.words if words.face is Face.SANS_SEMIBOLD and words.y > cross_of(found).box.top]
    told = [words for words in bold if words.x == 0.0]
    empty = walk_of(plan.runs, "carry").empty_walks if plan.winding.method == "carry" else 0
    how = rf",.{empty}.empty walks? \(dotted\)" if empty else "(, one for every end)?"
    shortest = walk_words.trips_in_a_line(plan)[-1]
    has_room = RULER.width_mm(shortest, Face.SANS_SEMIBOLD, told[0].size) < cross_of(found).box.left - 2.4
    assert len(told) in ((2, 3) if empty else (1,) if has_room else (2,))
    line = " ".join(words.text for words in told)
    assert re.fullmatch(rf"{plan.ends}.times.across{how}\. Finish.at.(home|far)\.", line)


def cross_of(found: Drawn) -> Group:
    (cross,) = [mark for mark in found.marks if isinstance(mark, Group) and mark.name == "cross"]
    return cross


@pytest.mark.parametrize("layout", ["handout", "handout-large"])
@pytest.mark.parametrize("share", [1.0, 0.55])
def test_the_cross_is_drawn_in_the_height_of_the_words(layout: str, share: float) -> None:
    """Two ways, one black and one hollow, which change sides between A and B, beside the first two lines of words."""
    for pattern in PATTERNS:
        found = drawn(plan_of(pattern, units="metric"), layout, share=share)
        pegs = {words.text: words for words in found.words if words.text in ("A", "B")}
        ways = [mark for mark in leaves([cross_of(found)]) if isinstance(mark, Path) and mark.stroke == BLACK]
        even, odd = ({step[1]: step[2] for step in way.steps if len(step) == 3} for way in ways)
        at = [(near(way, pegs["A"].x), near(way, pegs["B"].x)) for way in (odd, even)]
        assert (at[0][0] < at[1][0]) != (at[0][1] < at[1][1])
        drawn_words = all_words([cross_of(found)])
        baselines = sorted({words.y for words in drawn_words if words.text in ("Cross:", "home")})
        said = [words.y for words in found.words if words.x == 0.0 and words.y >= baselines[0]]
        assert len(baselines) == 2
        assert sorted(set(said))[:2] == pytest.approx(baselines[: len(set(said))])


def near(way: dict[float, float], x: float) -> float:
    return way[min(way, key=lambda each: abs(each - x))]


def test_a_crowded_card_tells_of_the_change_beside_the_finish() -> None:
    crowded = drawn(plan_of("three-paths", units="metric"), "handout", share=0.55).text()
    assert "31 times across. Finish at far. At a change: cut, knot the next colour on at the post." in crowded
    balls = drawn(plan_of("five-posts", units="metric"), "handout", share=0.55).text()
    assert "31 times across, 7 empty walks (dotted). Finish at home. Dot = ball waits." in balls


def test_where_the_heading_has_no_room_for_the_balls_they_are_told_below_it() -> None:
    """A warp that begins at the other edge says so first."""
    left = plan_as_seen(plan_of("half-and-half", units="metric"), Viewpoint(True, False))
    for layout in ("handout", "handout-large"):
        said = drawn(left, layout).text()
        assert said.count("balls") == 1
        assert re.search(r"(all 3 balls start at|balls from|All 3 balls begin at) home", said)


def test_the_cross_in_words_says_that_the_number_of_an_end_decides() -> None:
    """Where the picture finds no room; never one word of it alone at the end of a line."""
    for told in walk_words.cross_in_brief():
        assert "odd ends" in told
        assert "even" in told
        assert told.startswith("Cross:\N{NO-BREAK SPACE}odd ")
    sheet = sheet_of(plan_of("three-paths", units="metric"), "handout")
    said = Drawn(draw_stack(finish_parts(sheet, 40.0, drawn=True), Box(0.0, 0.0, 40.0, 60.0)), 40.0)
    assert "Cross: odd ends one side, even the other." in said.text()
    assert not [mark for mark in said.marks if isinstance(mark, Group) and mark.name == "cross"]


@pytest.mark.parametrize("paper", ["half-letter", "a5"])
@pytest.mark.parametrize("pattern", PATTERNS)
def test_every_student_reads_what_to_do_at_a_change_and_at_the_cross(pattern: str, paper: str) -> None:
    plan = plan_for_layout(pattern, "handout")
    composed = compose_card(plan, shipped_layout("handout"), paper_of("handout", paper), RULER)
    (walk,) = [group for group in panels(composed) if group.name == "walk"]
    text = " ".join(words.text for words in all_words([walk])).replace("\N{NO-BREAK SPACE}", " ")
    said = {words.text for words in all_words([walk])}
    assert "Cross:" in said
    assert any(set(names) <= said for names in peg_words.ODD_AND_EVEN)
    is_changed = ": cut, knot on at the post." in text or "At a change: cut, knot" in text
    assert is_changed == (plan.winding.method == "order" and plan.winding.changes > 0)
    assert ("ot = ball waits" in text) == (plan.winding.method == "carry")
    assert "start at home" in text or "from home" in text


@pytest.mark.parametrize("layout", ["record", "handout", "handout-large"])
@pytest.mark.parametrize("pattern", PATTERNS)
@pytest.mark.parametrize("share", [1.0, 0.55])
def test_a_total_belongs_to_no_other_box(pattern: str, layout: str, share: float) -> None:
    """It stands within its own; any other box is well away. Where they need storeys, these take turns."""
    found = drawn(plan_of(pattern, units="metric"), layout, share=share)
    told = ticks(found)
    assert len({id(words) for _, words in told}) == len(told)
    for box, words in told:
        own = min(words.x - box.left, box.right - right_of(words), words.y - cap_of(words) - box.top)
        assert own > 0.4
        mine = Box(words.x, words.y - cap_of(words), right_of(words) - words.x, cap_of(words))
        assert all(gap_mm(mine, other) >= 2 * own for other, _ in told if other is not box)
    for is_far in (False, True):
        tops = [
            box.top
            for box, words in sorted(told, key=lambda each: int(each[1].text))
            if is_far == (words.colour == ACCENT)
        ]
        storeys = sorted(set(tops), reverse=not is_far)
        if len(bars(found)) == len({bar.top for bar in bars(found)}) or len({bar.top for bar in bars(found)}) > 1:
            continue  # over two rows each has storeys of its own
        assert [storeys.index(top) for top in tops] == [at % len(storeys) for at in range(len(tops))]
        assert len(storeys) <= 2


@pytest.mark.parametrize(
    ("pattern", "layout", "far"),
    [("framed-pavement", "handout", ["5", "13", "22", "24", "32"]), ("long-sixty", "handout-large", [])],
)
def test_boxes_stand_in_one_line_where_neighbours_can_share_in_moving_aside(
    pattern: str, layout: str, far: list[str]
) -> None:
    told = ticks(drawn(plan_of(pattern, units="metric"), layout))
    assert [words.text for _, words in told if words.colour == ACCENT] == far
    for colour in {words.colour for _, words in told}:
        assert len({box.top for box, words in told if words.colour == colour}) == 1


def cap_of(words: Words) -> float:
    return cap_height(words.size)


@pytest.mark.parametrize("pattern", PATTERNS)
def test_the_sentence_stands_clear_of_the_far_post(pattern: str) -> None:
    for layout in ("handout", "handout-large"):
        for share in (1.0, 0.55):
            found = drawn(plan_of(pattern, units="metric"), layout, share=share)
            first = next(
                words
                for words in found.words
                if "times\N{NO-BREAK SPACE}across" in words.text or "times across" in words.text
            )
            far = max(
                line.y1
                for line in leaves(found.marks)
                if isinstance(line, Line) and line.colour == ACCENT and line.y1 == line.y2
            )
            assert first.y - cap_height(first.size) - far >= 3.0


@pytest.mark.parametrize("pattern", PATTERNS)
def test_every_record_says_how_to_join_and_where_to_count(pattern: str) -> None:
    """On the front, on the fullest card too: there perhaps in fewer words. Balls wait, and one colour has no joins."""
    plan = plan_for_layout(pattern, "record")
    for paper in ("letter", "a4"):
        composed = compose_card(plan, shipped_layout("record"), paper_of("record", paper), RULER)
        heard = " ".join(text_read_aloud(composed.page).replace("\N{NO-BREAK SPACE}", " ").split())
        assert peg_words.CROSS_IN_GENERAL in heard
        assert "Count at the cross." in heard
        joins = plan.winding.method == "order" and plan.winding.changes > 0
        assert (
            bool(re.search(r"(At a change|New colour): cut, knot (the next colour )?on( at the post)?\.", heard))
            == joins
        )
        assert ("each waits where you leave it" in heard) == (plan.winding.method == "carry")


def test_where_to_join_is_said() -> None:
    plan = plan_of("three-paths", units="metric")
    changes = "At a change: cut, knot the next colour on at the post.", "New colour: cut, knot on at the post."
    for layout in ("record", "handout", "handout-large"):
        text = drawn(plan, layout).text()
        assert any(change in text for change in changes)
    for layout in ("handout", "handout-large"):
        assert "knot" not in drawn(plan_of("bare-thread"), layout).text()
        assert "knot" not in drawn(plan_of("penned-ladder"), layout).text()


def test_for_a_left_hand_the_walk_is_mirrored_and_says_where_it_begins() -> None:
    plan = plan_of("off-side", units="metric")
    right, left = drawn(plan, "record"), drawn(plan_as_seen(plan, Viewpoint(True, False)), "record")
    home, _ = posts(left)
    assert home.align == "right"
    assert home.x == pytest.approx(left.width)
    assert "Left hand: begin at the right edge" in left.text()
    assert "begin at" not in right.text()
    lines = strokes(left)
    assert all(one.x1 > one.x2 for one in lines)


def test_a_walk_too_narrow_to_draw_says_so() -> None:
    sheet = sheet_of(plan_of("three-paths"), "record")
    assert stack_heights(WALK.parts(sheet, 15.0)).least == float("inf")


# Totals alone


def test_totals_at_the_far_post_are_underlined_and_it_is_said() -> None:
    found = drawn(plan_of("three-paths", units="metric"), "field", TICKS, optional=True)
    bars_under = [mark.box for mark in leaves(found.marks) if isinstance(mark, Rectangle) and mark.fill == ACCENT]
    far = [box for box, words in ticks(found) if words.colour == ACCENT]
    assert [words.text for _, words in ticks(found) if words.colour == ACCENT] == ["3", "11", "23", "31"]
    (key,) = [words for words in found.words if "nderlined" in words.text]  # and no bar of its own: one more to tick
    _, last = ticks(found)[-1]
    assert key.y == pytest.approx(last.y)  # behind the last total, on its line
    assert key.x >= right_of(last) + 2
    assert [bar.left for bar in bars_under] == [box.left for box in far]
    ends = [right_of(words) for _, words in ticks(found) if words.colour == ACCENT]  # box and total
    assert [bar.right for bar in bars_under] == pytest.approx(ends)
    assert all(bar.top > box.bottom for bar, box in zip(bars_under, far, strict=True))
    assert key.text == "underlined = far"
    assert "home" in drawn(plan_of("grey-trap", units="metric"), "field", TICKS, optional=True).text()


def test_totals_stand_in_even_columns() -> None:
    found = [box for box, _ in ticks(drawn(plan_of("five-posts", units="metric"), "field", TICKS))]
    rows = sorted({round(box.top, 3) for box in found})
    assert len(rows) > 1
    columns = {round(box.left, 3) for box in found}
    assert len(columns) == max(sum(round(box.top, 3) == row for box in found) for row in rows)


def test_very_many_changes_are_ticked_at_the_tens() -> None:
    plan = tape(*["2 red", "2 white"] * 20)
    assert [words.text for _, words in ticks(drawn(plan, "field", TICKS))] == [str(ten) for ten in range(10, 81, 10)]


def test_where_the_walk_finds_no_room_step_1_keeps_its_number_and_its_finish() -> None:
    said = drawn(plan_of("three-paths", units="metric"), "handout", WALK_IN_TOTALS).text()
    assert said.startswith("1 Wind")
    assert re.search(r"31 times across(, one for every end)?\. Finish at far\.", said)


# The order, where there is no board


@pytest.mark.parametrize("pattern", PATTERNS)
def test_the_order_has_a_cell_for_every_end_and_no_turned_letters(pattern: str) -> None:
    plan = plan_of(pattern, units="metric")
    for layout in ("record", "handout"):
        found = drawn(plan, layout, ORDER)
        cells = [mark for mark in leaves(found.marks) if isinstance(mark, Rectangle) and mark.stroke == BLACK]
        assert len(cells) == plan.ends
        assert {words.turned for words in found.words} == {0}
        counts = [words.text for words in found.words if words.face is Face.SANS_BOLD]
        assert counts == [str(segment.ends) for segment in hand_counted(plan.runs)]
        holes = [cell.box.top for cell in cells]
        kinds = [kind is Space.SLOT for kind in plan.placement.kinds]
        assert len(set(zip(rows_of(cells), kinds, holes, strict=True))) == 2 * len(set(rows_of(cells))) or plan.ends < 3


def rows_of(cells: Sequence[Rectangle]) -> list[int]:
    """The row that each cell lies in: a new one begins where cells go back to the left."""
    rows, row = [], 0
    for before, cell in zip([None, *cells], cells, strict=False):
        row += before is not None and cell.box.left < before.box.left
        rows.append(row)
    return rows


@pytest.mark.parametrize("left_hand", [False, True])
@pytest.mark.parametrize("pattern", PATTERNS)
def test_every_record_shows_the_cross(pattern: str, left_hand: bool) -> None:
    """At A and B, home at its left, with the numbers of the ends; and no words reach into it."""
    plan = plan_as_seen(plan_for_layout(pattern, "record"), Viewpoint(left_hand))
    composed = compose_card(plan, shipped_layout("record"), paper_of("record"), RULER)
    (walk,) = (group for group in panels(composed) if group.name == "walk")
    (cross,) = (mark for mark in walk.marks if isinstance(mark, Group) and mark.name == "cross")
    assert [words.text for words in all_words([cross])] == [
        "A", "B", "Cross:", "ends 1, 3, 5 …", "home", "ends 2, 4, 6 …",
    ]  # fmt: skip
    (said,) = (mark for mark in walk.marks if isinstance(mark, Group) and "Count" in str(mark.marks))
    for words in all_words([said]):
        if cross.box.top < words.y < cross.box.bottom:
            assert words.x + RULER.width_mm(words.text, words.face, words.size) < cross.box.left - 1.0
