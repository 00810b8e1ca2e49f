"""The bench card: every end and the press gauge always, nothing that stands on a peg, every step with its yarn."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from itertools import pairwise
from math import hypot
from typing import cast

import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.jobs import loading, plan_making
from cardmaker.layout.ink import ACCENT, BLACK, FAINT, RULE, WHITE
from cardmaker.model.card_layout import PanelPlace, Paper
from cardmaker.model.loom import Side
from cardmaker.model.marks import Box, Dot, Group, Path, Rectangle, Words
from cardmaker.model.pattern import Pattern, Stripe, Yarn
from cardmaker.model.plan import Plan
from cardmaker.model.problems import ProblemsFound
from cardmaker.model.record_class import replace
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.threading.placement import space_label
from cardmaker.reckoning.winding.walk import ticked_totals, walk_of
from cardmaker.wording import beam_words, heddle_words, peg_words, rescue_words, winding_words, yarn_words
from cardmaker.wording.formatters import small_length
from cardmaker.wording.rescue_words import YARN_ENDS
from tests.helpers.card_faults import all_words, collisions, grown, ink_box, leaves, panels
from tests.helpers.paper_tools import RULER
from tests.helpers.places import ROOT, shipped_in
from tests.helpers.screen_reader_text import text_read_aloud
from tests.helpers.second_calculator import read_tree
from tests.helpers.second_hours import hours_of
from tests.helpers.shipped import shipped_layout, shipped_loom

PATTERNS = [path.stem for path in shipped_in("patterns")]
PEGS = [path.stem for path in shipped_in("layouts/pegs")]
ALWAYS = {"room", "route", "steps", "cross", "beam", "press", "rescue", "cautions"}
LAYOUT = shipped_layout("bench")


@cache
def plan_on(pattern: str, pegs: str | None = None, *, left_hand: bool = False, behind: bool = False) -> Plan:
    setup = plan_making.load_plan_setup_for(LAYOUT, None, None, pegs)
    hand = replace(setup, hand="left" if left_hand else "right", side="behind" if behind else None)
    return plan_making.plan_for(loading.load_pattern(ROOT / "patterns" / f"{pattern}.yaml"), hand)


def plan_of_warp(*stripes: tuple[int, str]) -> Plan:
    """On a loom wide enough for anything, wound round the table."""
    colours = {"white": "#f4efe3", "blue": "#2c4a7c", "red": "#9c2b2b", "green": "#4b6b34"}
    yarns = tuple(Yarn(name, "linen", "20/2", colour=colour) for name, colour in colours.items())
    warp = tuple(Stripe(yarn, ends) for ends, yarn in stripes)
    wide = replace(shipped_loom("middle-box"), slots=60, holes=61)
    (table,) = (pegs for pegs in loading.load_pegs() if pegs.stem == "round-the-table")
    return make_plan(Pattern("Trial", "trial", yarns, warp), wide, pegs=(table,))


def card(plan: Plan, paper: Paper = LAYOUT.papers[0]) -> Composed:
    return compose_card(plan, LAYOUT, paper, RULER)


def panel(of: Composed, name: str) -> Group:
    return next(group for group in panels(of) if group.name == name)


def figure(group: Group, name: str) -> Group:
    return next(each for each in groups(group) if each.role == "figure" and each.name == name)


def groups_of(of: Composed) -> Iterator[Group]:
    return (each for group in panels(of) for each in groups(group))


def groups(group: Group) -> Iterator[Group]:
    for mark in group.marks:
        if isinstance(mark, Group):
            yield mark
            yield from groups(mark)


def between(one: tuple[float, float], other: tuple[float, float]) -> Iterator[tuple[float, float]]:
    """Points on a straight line, both ends among them, a quarter of a millimetre apart at the most."""
    pieces = int(4 * hypot(other[0] - one[0], other[1] - one[1])) + 1
    for piece in range(pieces + 1):
        yield tuple(a + (b - a) * piece / pieces for a, b in zip(one, other, strict=True))  # type: ignore[misc]


def box_of(words: Words) -> Box:
    wide = RULER.width_mm(words.text, words.face, words.size)
    left = words.x - {"left": 0.0, "middle": wide / 2, "right": wide}[words.align]
    return Box(left, words.y - words.size * 0.233, wide, words.size * 0.233)


def overlap(one: Box, other: Box) -> bool:
    return (
        one.left < other.right - 0.01
        and other.left < one.right - 0.01
        and one.top < other.bottom - 0.01
        and other.top < one.bottom - 0.01
    )


# What is always there


@pytest.mark.parametrize("pegs", [None, *PEGS])
@pytest.mark.parametrize("paper", LAYOUT.papers, ids=lambda paper: paper.name)
def test_rescue_and_gauge_are_always_on_the_front(paper: Paper, pegs: str | None) -> None:
    """For either hand; and with every set of pegs that the warp can be wound on, for the two in turn."""
    lacking, made = {}, 0
    for number, pattern in enumerate(PATTERNS):
        for left_hand in (False, True) if pegs is None else (bool(number % 2),):
            try:
                plan = plan_on(pattern, pegs, left_hand=left_hand)
            except ProblemsFound:  # these pegs cannot give that length
                continue
            made += 1
            if missing := ALWAYS - card(plan, paper).printed:
                lacking[pattern] = missing
    assert lacking == {}
    assert made >= (54 if pegs is None else 1 if pegs == "two-pegs" else 20)  # two pegs are for short warps


@pytest.mark.parametrize("left_hand", [False, True])
def test_the_card_is_heard_in_the_order_of_the_hands(left_hand: bool) -> None:
    heard = text_read_aloud(card(plan_on("three-paths", left_hand=left_hand)).page)
    said = ["1. Wind", winding_words.STEPS, "2. Thread", "The beam", "How tight", "3. Weave", rescue_words.RESCUE]
    places = [heard.index(each) for each in said]
    assert places == sorted(places)


@pytest.mark.parametrize("pattern", PATTERNS)
def test_every_card_has_the_three_steps_with_what_is_done(pattern: str) -> None:
    """Where end 1 goes and what stays empty; how full the shuttle is and how long it takes: on the fullest card too."""
    plan = plan_on(pattern)
    for left_hand in (False, True):
        made = card(plan_on(pattern, left_hand=left_hand))
        heard = text_read_aloud(made.page).replace("\N{NO-BREAK SPACE}", " ")
        assert [step for step in ("1. Wind", "2. Thread", "3. Weave") if step in heard] == [
            "1. Wind",
            "2. Thread",
            "3. Weave",
        ]
        assert heddle_words.first_line(plan_on(pattern, left_hand=left_hand)) in heard
        assert heddle_words.empty_line(plan_on(pattern, left_hand=left_hand)).lower() in heard.lower()
        assert {"wraps", "hours"} <= made.printed
    assert plan.shuttle is not None
    assert plan.pace is not None


@pytest.mark.parametrize("pattern", PATTERNS)
def test_wherever_hours_stand_their_sum_stands_too(pattern: str) -> None:
    """The minutes of weaving, and of all steps, as a second calculator has them; rows picked up by hand are slower."""
    plan = plan_on(pattern)
    files = (ROOT / "patterns" / f"{pattern}.yaml", ROOT / "layouts" / "looms" / f"{plan.loom.stem}.yaml")
    read, loom = (read_tree(file.read_text("utf-8")) for file in files)
    hours = hours_of(read, loom, plan.ends, plan.weft.picks)
    assert hours is not None
    heard = " ".join(text_read_aloud(card(plan).page).replace("\N{NO-BREAK SPACE}", " ").split())
    time = r"(\d+ h \d+ min|\d+ h|\d+ min)"
    (weaving,) = re.findall(rf"{time} of weaving", heard)
    (all_steps,) = re.findall(rf"{time} in all", heard)
    assert [minutes_in(weaving), minutes_in(all_steps)] == [hours["minutes"], hours["needed_minutes"]]
    told = re.search(r"(\d+) picked up at .+? a minute, a guess", heard)
    assert (int(told[1]) if told else 0) == hours["picked_rows"]


def minutes_in(printed: str) -> int:
    """``2 h 4 min``."""
    return sum(int(number) * (60 if unit == "h" else 1) for number, unit in re.findall(r"(\d+) (h|min)", printed))


@pytest.mark.parametrize(
    ("pattern", "pair"), [("penned-ladder", (5, 6)), ("treadle-ladder", None), ("half-and-half", (3, 4))]
)
def test_the_number_of_an_end_decides_its_side_of_the_cross(pattern: str, pair: tuple[int, int] | None) -> None:
    """Two ends in turn that are wound the same way: the card names the first such pair; by the strokes it is one."""
    plan = plan_on(pattern)
    strokes = walk_of(plan.runs, plan.winding.method).strokes
    first = next(at for at in range(1, len(strokes)) if strokes[at - 1].start is strokes[at].start)
    heard = text_read_aloud(card(plan).page)
    assert pair in (None, (first, first + 1))
    start, stop = strokes[first].start, strokes[first].stop
    assert f"not the way you walk: {first} and {first + 1} both go {start} to {stop}" in heard
    assert f"{first} like {1 if first % 2 else 2}, {first + 1} like {2 if first % 2 else 1}." in heard


def test_where_the_way_and_the_number_agree_nothing_is_said_of_it() -> None:
    assert "The end’s number" not in text_read_aloud(card(plan_on("fair-day")).page)


def test_rescue_warns_of_hooks_and_says_what_to_do_where_the_yarn_ends() -> None:
    """The second on a crowded card only where a line of its own finds room, and else behind it."""
    behind = set()
    for pattern in PATTERNS:
        both = compose_card(plan_on(pattern), LAYOUT, LAYOUT.papers[0], RULER, with_back=True)
        front, back = (" ".join(text_read_aloud(side.page).split()) if side else "" for side in (both, both.back))
        assert "ooks are sharp" in front, pattern
        assert YARN_ENDS in f"{front} {back}", pattern
        behind |= set() if YARN_ENDS in front else {pattern}
    assert {"fair-day"} <= behind <= set(PATTERNS) - {"three-paths", "two-rails"}


@pytest.mark.parametrize("pattern", ["five-posts", "long-sixty", "off-side", "hop-and-stride", "treadle-ladder"])
def test_what_to_do_between_two_pieces_is_told(pattern: str) -> None:
    """Of mixed pieces too, and on the most crowded card, where every end is drawn as well."""
    made = card(plan_on(pattern))
    heard = " ".join(text_read_aloud(made.page).split())
    assert (
        re.search("two picks of another colour(; cut the tape there| and cut between them)\\.", heard)
        or "cut in its middle" in heard
    )
    assert "rescue" in made.printed


@pytest.mark.parametrize("pattern", PATTERNS)
def test_the_table_of_pieces_begins_with_all_of_them(pattern: str) -> None:
    """Of twelve bookmarks too, of which only the last few have a row of their own."""
    plan = plan_on(pattern)
    assert plan.beam is not None
    rows = beam_words.turns_left(plan.beam)
    counts = [left.pieces for left in plan.beam.tape_left if left.turns == int(left.turns) and any(left.pieces)]
    if counts:
        assert rows[0].pieces == max(counts)
        assert not any(rows[-1].pieces)


@pytest.mark.parametrize("pattern", ["off-side", "grey-trap", "pavement", "stair", "three-sparks"])
def test_a_table_that_leaves_rows_out_says_so(pattern: str) -> None:
    """Between all pieces and the last three of them: whoever has 18 turns left looks for her row."""
    told = [words.text for words in all_words(panel(card(plan_on(pattern)), "turns").marks)]
    at = told.index("rows left out")
    assert told[at - 1] == "…"
    assert [text for text in told[at:] if "×" in text] == [
        f"{count}\N{NO-BREAK SPACE}×\N{NO-BREAK SPACE}bookmark" for count in (3, 2, 1)
    ]


@pytest.mark.parametrize("pattern", ["broad-wick", "cord-edge", "five-posts", "long-sixty", "three-paths"])
def test_a_whole_table_says_of_no_row_that_it_is_left_out(pattern: str) -> None:
    assert not {"…", "rows left out"} & {
        words.text for words in all_words(panel(card(plan_on(pattern)), "turns").marks)
    }


@pytest.mark.parametrize("left_hand", [False, True])
@pytest.mark.parametrize("pattern", PATTERNS)
def test_how_close_it_is_beaten_stands_at_the_step_of_weaving(pattern: str, left_hand: bool) -> None:
    plan = plan_on(pattern, left_hand=left_hand)
    told = " ".join(words.text for words in all_words(panel(card(plan), "weaving").marks))
    assert re.findall(r"(\d+) picks to the inch", told.replace("\N{NO-BREAK SPACE}", " ")) == [
        f"{round(plan.weft.picks_per_inch)}"
    ]


@pytest.mark.parametrize("pattern", PATTERNS)
def test_words_under_a_step_keep_clear_of_its_disc(pattern: str) -> None:
    """Of the 9 points under the heading: by as much as lines of words do."""
    for name in ("threading", "weaving"):
        group = panel(card(plan_on(pattern)), name)
        (disc,) = (mark for mark in group.marks if isinstance(mark, Dot))
        heading = max(words.y for words in all_words(group.marks) if words.y < disc.y + disc.radius)
        below = [words.y for words in all_words(group.marks) if words.y > heading + 0.1]
        if below:
            assert min(below) - 0.66 * 9 * 0.3528 - (disc.y + disc.radius) >= 1.0


@pytest.mark.parametrize("pattern", PATTERNS)
def test_every_card_says_whether_a_class_holds_it(pattern: str) -> None:
    """Every loom at hand tells how long a class is, so every card gives a verdict beside the sum of hours."""
    heard = " ".join(text_read_aloud(card(plan_on(pattern)).page).split())
    assert re.search(r"in all, (within|tight for|longer than) (a|one) class of 3 h", heard)


@pytest.mark.parametrize("pattern", ["penned-ladder", "fair-day", "wick", "long-sixty"])
def test_the_thread_is_drawn_clear_of_the_pegs(pattern: str) -> None:
    """So that the side on which it passes each is to be seen: no point of it lies on a peg that it goes round."""
    plan = plan_on(pattern, "yard-board")
    drawn = figure(panel(card(plan), "room"), "pegs").marks
    dots = [mark for mark in drawn if isinstance(mark, Dot)][-len(set(plan.pegs.route)) :] if plan.pegs else []
    ways = [mark for mark in drawn if isinstance(mark, Path) and not mark.fill and mark.stroke != FAINT]
    points = [(step[1], step[2]) for way in ways for step in way.steps if len(step) == 3]
    assert len(dots) > 3
    assert len(ways) >= 3  # back, the casing of the way out, and the way out
    assert min(hypot(dot.x - x, dot.y - y) - dot.radius for dot in dots for x, y in points) > 0.1


def test_the_distances_and_the_way_round_the_pegs_add_up() -> None:
    plan = plan_on("five-posts")
    assert plan.pegs is not None
    apart = [apart for _, apart in peg_words.route_stops(plan.pegs, "metric") if apart]
    total = sum(int(text.removesuffix(" mm")) for text in [*apart, peg_words.round_the_pegs(plan.pegs, "metric")[2:]])
    assert abs(total - plan.pegs.length_mm) < len(apart)
    assert "round the pegs" in text_read_aloud(card(plan).page)


def test_a_total_on_the_way_has_a_box_of_its_own() -> None:
    """The 15 ends in turn of this tape are ticked at 10 as well, as on the cards that are held beside this one."""
    plan = plan_on("penned-ladder")
    steps = panel(card(plan), "steps")
    table = next(each for each in groups(steps) if each.name == "steps")
    walk = walk_of(plan.runs, plan.winding.method)
    ticked = sorted(ticked_totals(walk, plan.winding.method).values())
    rows = [row for row in groups(table) if row.role == "row" and row.marks and isinstance(row.marks[0], Group)][1:]
    assert [int(total) for row in rows for total in texts_of(row)[3].split()] == ticked == [4, 10, 19, 23]
    boxes = [mark for mark in table.marks if isinstance(mark, Rectangle) and mark.fill == WHITE and mark.box.width < 4]
    assert len([box for box in boxes if abs(box.box.left - table.box.left) < 0.01]) == len(ticked)


def test_a_long_stripe_is_a_step_for_every_box() -> None:
    """12 white after 24 ends, ticked at 30 as well: no row can be read as 24 and 12 making 30."""
    for pattern, rows in {
        "long-sixty": ["ends 6 of 12; yarn white; to to home; total 30 go on",
                       "ends 6 of 12; yarn white; to to home; total 36"],
        "cord-edge": ["ends 9 of 20; yarn white; from and to far to home; total 10; then go on",
                      "ends 11 of 20; yarn white; from and to home to far; total 21; then join next"],
        "half-and-half": ["ends 8 of 12; yarn white and blue in turn; from and to the white ball from home and the "
                          "blue ball from home, walking empty to each; total 10; then go on"],
    }.items():  # fmt: skip
        heard = text_read_aloud(card(plan_on(pattern)).page).splitlines()
        assert [row for row in heard if row in rows] == rows


def test_beside_the_cross_it_is_told_which_side_is_whose() -> None:
    """From home the way out runs below A, as on the board; the way back is the dashed one, with its arrow turned."""
    made = card(plan_on("three-paths"))
    assert "Odd ends: below A, above B. Even ends: above A, below B." in text_read_aloud(made.page)
    heads = [
        mark for mark in figure(panel(made, "room"), "cross").marks if isinstance(mark, Path) and mark.fill == BLACK
    ]
    points = [[cast("tuple[str, float, float]", step)[1:] for step in mark.steps[:2]] for mark in heads]
    tips = [(tip[0] > wing[0], tip[1]) for tip, wing in points]  # to the right; how far down
    assert sorted(tips, key=lambda tip: tip[1]) == [(True, min(y for _, y in tips)), (False, max(y for _, y in tips))]


@pytest.mark.parametrize("pattern", PATTERNS)
def test_where_balls_wait_the_cross_shows_no_way_to_walk(pattern: str) -> None:
    """There two ends, one odd and one even, may both be walked out: the figure says their sides and nothing else."""
    plan = plan_on(pattern)
    made = card(plan)
    cross = next(each for each in groups(panel(made, "room")) if each.role == "figure")
    assert plan.pegs is not None
    if plan.pegs.kind != "span":
        cross = figure(panel(made, "room"), "cross")
    heads = [mark for mark in leaves(cross.marks) if isinstance(mark, Path) and mark.fill == BLACK]
    assert len(heads) == (0 if plan.winding.method == "carry" else 2)
    heard = " ".join(text_read_aloud(made.page).split())
    any_way = "below B, whichever way you walk." in heard or "not the way you walk" in heard
    assert any_way is (plan.winding.method == "carry")


def test_what_more_yarn_the_pegs_take_is_told() -> None:
    """44 white of 3.75 m round the table are 165.02 m; 44 and a spare one of the 3.6 m asked for are 162 m."""
    told = "White: 169 m on these pegs, 7 m more."  # the sentence before says: than on other cards
    plan = plan_on("long-sixty", "round-the-table")
    assert yarn_words.more_on_pegs(plan, "metric", brief=True) == told
    assert yarn_words.more_on_pegs(plan, "metric") == told.replace("more.", "more than the record says.")
    assert told in " ".join(text_read_aloud(card(plan).page).split())
    assert yarn_words.more_on_pegs(plan_on("three-paths", "yard-board"), "metric") == ""


def test_no_pair_of_ends_is_likened_to_itself() -> None:
    told = {pattern: winding_words.number_decides(plan_on(pattern), ("A", "B")) for pattern in PATTERNS}
    assert told["pavement"].endswith(" 3 like 1, 4 like 2.")
    for sentence in filter(None, told.values()):
        pairs = re.findall(r"(\d+) like (\d+)", sentence)
        assert pairs
        assert all(int(end) > int(like) and int(end) % 2 == int(like) % 2 for end, like in pairs)


def crossings(one: Path, other: Path) -> list[tuple[float, float]]:
    """Where two lines drawn from point to point cross each other."""
    found = []
    for a, b in stretches(one):
        for c, d in stretches(other):
            (ax, ay), (bx, by), (cx, cy), (dx, dy) = a, b, c, d
            turn = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
            if abs(turn) < 1e-9:
                continue
            along = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / turn
            across = ((cx - ax) * (by - ay) - (cy - ay) * (bx - ax)) / turn
            if 0 <= along <= 1 and 0 <= across <= 1:
                found.append((ax + along * (bx - ax), ay + along * (by - ay)))
    return found


def stretches(way: Path) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    points = [cast("tuple[str, float, float]", step) for step in way.steps if len(step) == 3]
    return (((a[1], a[2]), (b[1], b[2])) for a, b in pairwise(points) if b[0] == "line")


@pytest.mark.parametrize(
    ("pattern", "pegs"), [*((pattern, None) for pattern in PATTERNS), ("long-sixty", "metre-board")]
)
def test_the_way_back_crosses_the_way_out_once(pattern: str, pegs: str | None) -> None:
    """Between A and B, so that nobody looks for a cross elsewhere: from there on it is said to go the same way."""
    plan = plan_on(pattern, pegs)
    assert plan.pegs is not None
    if plan.pegs.kind == "span":  # its view is the cross
        return
    drawn = figure(panel(card(plan), "room"), "pegs").marks
    ways = [mark for mark in drawn if isinstance(mark, Path) and not mark.fill and mark.stroke == BLACK]
    (back,), (out,) = ([way for way in ways if bool(way.dash) is is_dashed] for is_dashed in (True, False))
    named = {mark.text: mark.x for mark in drawn if isinstance(mark, Words)}
    ((x, _),) = crossings(out, back)
    assert named["A"] < x < named["B"]
    _, _, below_a = cast("tuple[str, float, float]", out.steps[0])
    assert below_a - min(step[2] for step in out.steps if len(step) == 3) > 1.5  # above B it is on their other side
    assert "out; back the same" in {word.text for word in all_words(panel(card(plan), "room").marks)}
    (said,) = (mark for mark in drawn if isinstance(mark, Words) and mark.text in peg_words.SAME_WAY)
    assert said.x > named["B"]
    near = grown(ink_box(said), out.width / 2 + 0.2)  # the letters themselves stand 0.2 mm from the edge of the line
    heads = [mark for mark in drawn if isinstance(mark, Path) and mark.fill == BLACK]
    assert heads
    passed = [point for path in (out, *heads) for one, other in stretches(path) for point in between(one, other)]
    assert not [(x, y) for x, y in passed if near.left <= x <= near.right and near.top <= y <= near.bottom]


@pytest.mark.parametrize("pattern", PATTERNS)
def test_no_empty_peg_lies_under_another(pattern: str) -> None:
    plan = plan_on(pattern)
    assert plan.pegs is not None
    if plan.pegs.kind == "span":
        return
    dots = [mark for mark in figure(panel(card(plan), "room"), "pegs").marks if isinstance(mark, Dot)]
    for one, other in pairwise(sorted(dots, key=lambda dot: (round(dot.x, 3), dot.y))):
        assert abs(one.x - other.x) > 0.01 or other.y - one.y > one.radius + other.radius + 0.3


@pytest.mark.parametrize("pattern", ["fair-day", "cord-edge", "long-sixty", "treadle-ladder"])
def test_no_leg_comes_near_the_torn_edge(pattern: str) -> None:
    """The waves of the board's lower edge lie below every point of the thread, and it bends by 1.1 mm at the most."""
    drawn = figure(panel(card(plan_on(pattern)), "room"), "pegs").marks
    (edge,) = [mark for mark in drawn if isinstance(mark, Path) and mark.stroke == FAINT and len(mark.steps) > 5]
    waves = [step for step in edge.steps if step[0] == "curve"]
    highest = min(y for step in waves for y in (step[2], step[4], step[6]))
    ways = [mark for mark in drawn if isinstance(mark, Path) and not mark.fill and mark.stroke == BLACK]
    assert len(ways) == 2
    lowest = max(step[2] for way in ways for step in way.steps if len(step) == 3)
    assert highest - lowest > 0.3


def test_a_row_of_ends_in_turn_tells_where_it_begins_and_what_then() -> None:
    heard = text_read_aloud(card(plan_on("half-and-half")).page)
    texts = [word.text for word in all_words(panel(card(plan_on("half-and-half")), "steps").marks)]
    assert "ends Bu; Wh waits at home" in texts
    assert "tie off Bu" in texts
    assert "the blue ball is tied off at home" in heard


def rows_of_steps(of: Composed) -> list[tuple[int, list[str], list[str], str]]:
    """Of every step: its ends, the letters that it names, the fills of its swatch from the left, its note."""
    table = next(each for each in groups(panel(of, "steps")) if each.name == "steps")
    marks = list(leaves(table.marks))
    words = [mark for mark in marks if isinstance(mark, Words)]
    fills = [mark for mark in marks if isinstance(mark, Rectangle) and mark.fill and mark.box.width <= 4.01]
    found = []
    for row in [each for each in groups(table) if each.role == "row"]:
        cells = [mark for mark in row.marks if isinstance(mark, Group)]
        if "ends" in texts_of(row):  # the heads
            continue
        count, name = (next(mark for mark in cell.marks if isinstance(mark, Words)) for cell in cells[:2])
        letters = re.split("/|, then ", name.text.removesuffix(" in turn").split("\u2009")[0])
        beside = [
            mark for mark in fills if 0 < name.x - mark.box.right < 4 and mark.box.top < name.y < mark.box.bottom + 1
        ]
        swatch = [str(mark.fill) for mark in sorted(beside, key=lambda mark: mark.box.left)]
        under = (word.text for word in words if abs(word.x - name.x) < 0.01 and 0 < word.y - name.y < 4.2 and
                 re.match("begins|ends|.* wait|waiting", word.text))  # fmt: skip
        found.append((int(count.text), letters, swatch, next(under, "")))
    return found


def in_turn_trials() -> Iterator[Plan]:
    """Of two and of three yarns in turn, ticked on the way after an even and an odd number of ends of the run, in the
    middle of a turn and at the end of one."""
    for colours in (("white", "blue"), ("white", "blue", "red")):
        for before in (0, 2, 3, 4, 5):
            for ends in (12, 13, 17, 23, 24, 35):
                turn = [(1, colours[at % len(colours)]) for at in range(ends)]
                start = [(before, "green")] if before else []
                yield plan_of_warp(*start, *turn, (3, "green"))


def seen_plans() -> Iterator[Plan]:
    for pattern in PATTERNS:
        plan = plan_on(pattern)
        yield plan
        if any(stretch.in_turn for stretch in walk_of(plan.runs, plan.winding.method).stretches):
            yield plan_on(pattern, left_hand=True)
            yield plan_on(pattern, behind=True)


def steps_named_wrong(plan: Plan) -> list[str]:
    """The rows that do not name their own ends, or say of others how they begin and end."""
    made, faults = card(plan), []
    ends = [plan.letters(end) for end in plan.end_yarns]
    if plan.winding.method == "bundle":
        ends = [letters for alone in dict.fromkeys(ends) for letters in ends if letters == alone]
    fills = {plan.letters(yarn.name): yarn.colour.lower() for yarn in plan.pattern.yarns
             if yarn.colour and yarn.name in plan.end_yarns}  # fmt: skip
    at = 0
    for count, names, swatch, note in rows_of_steps(made):
        own, at = ends[at : at + count], at + count
        where = f"{count} ends to {at}: {own}"
        if [names[place % len(names)] for place in range(count)] != own:
            faults.append(f"{where} named {names}")
        if len(names) > 1 and [fill.lower() for fill in swatch] != [fills[name] for name in names]:
            faults.append(f"{where} have the swatch {swatch}")
        for verb, end in (("begins", own[0]), ("ends", own[-1])):
            told = re.search(rf"{verb}(?: and ends)? (\w+)", note)
            if told and told[1] != end:
                faults.append(f"{where} are said to {verb} {told[1]}")
    return faults if at == plan.ends else [*faults, f"{at} ends of {plan.ends}"]


def test_every_row_names_its_own_ends_in_their_order() -> None:
    """A part of ends in turn that begins in the middle of a turn begins with another yarn than the whole."""
    assert [fault for plan in seen_plans() for fault in steps_named_wrong(plan)] == []
    trials = list(in_turn_trials())
    split = [plan for plan in trials if any(" of " in text for text in step_texts(plan))]
    assert len(split) > len(trials) / 2
    assert [fault for plan in split for fault in steps_named_wrong(plan)] == []


def step_texts(plan: Plan) -> list[str]:
    return text_read_aloud(card(plan).page).splitlines()


def test_two_ends_of_a_part_are_named_one_after_the_other() -> None:
    """The last two of 13 ends in turn that begin with green are white, then green: they begin with no green."""
    texts = [word.text for word in all_words(panel(card(plan_on("hop-and-stride")), "steps").marks)]
    assert [text for text in texts if "Wh, then Gr" in text] == ["Wh, then Gr"]
    assert "begins and ends Gr; Gr Wh wait at home" not in texts
    threes = [word.text for word in all_words(panel(card(plan_on("threes")), "steps").marks)]
    named = [text.removesuffix(" in turn") for text in threes if text.endswith(" in turn")]
    assert named == ["Wh/Bu/Re", "Bu/Re/Wh", "Re/Wh/Bu"]
    assert "ends Re" in threes


def test_a_wide_warp_of_many_stripes_is_not_refused() -> None:
    """119 ends: the beam and its table stay; where not all ends find room it says what to do, and it is told."""
    colours = ("white", "blue", "red", "green")
    plan = plan_of_warp(*[(1 + at % 3, colours[at % 4]) for at in range(59)], (2, "white"))
    made = card(plan)
    assert plan.ends == 119
    assert {"beam", "press", "room", "steps"} <= made.printed
    assert ("rescue" in made.printed) != ("rescue" in made.left_out)
    assert made.printed & {"rescue", "rescue in brief"}


# Every end


def ends_drawn(of: Composed) -> list[tuple[int, str, str, bool]]:
    """Of every end in the drawing: its number, its colour, the name of its space, and whether its cell lies low."""
    drawn = figure(panel(of, "rescue"), "ends")
    cells = [mark for mark in drawn.marks if isinstance(mark, Rectangle) and mark.fill]
    words = [mark for mark in drawn.marks if isinstance(mark, Words)]
    low = max(cell.box.top for cell in cells if abs(cell.box.top - cells[0].box.top) < 3)
    found = []
    for cell in cells:
        over = [mark for mark in words if abs(mark.x - cell.box.middle) < 0.01]
        number = max((mark for mark in over if mark.text.isdigit() and mark.y < cell.box.top), key=lambda mark: mark.y)
        space = min((mark for mark in over if mark.y > cell.box.bottom), key=lambda mark: mark.y)
        found.append((int(number.text), str(cell.fill), space.text, abs(cell.box.top - low) < 0.01))
    return found


@pytest.mark.parametrize("pattern", ["three-paths", "long-sixty", "five-posts", "bare-thread", "half-and-half"])
@pytest.mark.parametrize("left_hand", [False, True])
def test_every_end_is_drawn_with_its_count_and_its_space(pattern: str, left_hand: bool) -> None:
    plan = plan_on(pattern, left_hand=left_hand)
    assert plan.rescue is not None
    made = card(plan)
    places = list(plan.rescue.ends)
    drawn = ends_drawn(made)
    assert [count for count, *_ in drawn] == [place.count for place in places]
    names = [space_label(place.space, plan.loom).replace("the middle", "0") for place in places]
    assert [space for _, _, space, _ in drawn] == names
    kinds = {(place.kind, low) for place, (*_, low) in zip(places, drawn, strict=True) if place.end_number < 30}
    assert len(kinds) == min(2, len(places))  # holes on one level, slots on the other


@pytest.mark.parametrize(
    ("pattern", "told"),
    [
        ("fair-day", "nearer edge; back heddle: 1 space further left"),
        ("long-sixty", "nearer edge; back heddle: 1 space further right"),
        ("three-paths", "count each end from its nearer edge"),
    ],
)
def test_beside_the_table_stands_where_ends_lie_in_the_back_heddle(pattern: str, told: str) -> None:
    """End 1 in the front at L24 and behind at L25; at L30 and L29 where the front is full from its first space."""
    assert told in [words.text for words in all_words(panel(card(plan_on(pattern)), "rescue").marks)]


def test_counting_changes_to_the_other_edge_in_the_middle() -> None:
    plan = plan_on("three-paths")
    assert plan.rescue is not None
    assert [place.count for place in plan.rescue.ends] == [*range(1, 17), *range(15, 0, -1)]
    assert [place.nearer for place in plan.rescue.ends].count(Side.LEFT) == 16


@pytest.mark.parametrize("pattern", PATTERNS)
@pytest.mark.parametrize("name", ["rescue", "room", "turns", "press"])
def test_no_words_of_a_drawing_touch(pattern: str, name: str) -> None:
    for left_hand in (False, True):
        for paper in LAYOUT.papers:
            drawn = panel(card(plan_on(pattern, left_hand=left_hand), paper), name)
            boxes = [(word.text, box_of(word)) for word in all_words(drawn.marks)]
            for at, (text, box) in enumerate(boxes):
                assert drawn.box.holds(box, 0.3), (pattern, text)
                touching = [other for other, place in boxes[at + 1 :] if overlap(box, place)]
                assert touching == [], (pattern, text)


def test_where_end_1_goes_stands_in_the_line_of_threading_and_not_at_the_head() -> None:
    plan = plan_on("three-paths")
    head, line = (
        " ".join(word.text for word in all_words(panel(card(plan), name).marks)).replace("\N{NO-BREAK SPACE}", " ")
        for name in ("name", "threading")
    )
    assert "end 1" not in head
    in_order = "end 1: L15, a slot, as you sit; then every space in order to R15"
    assert line.startswith(f"2 Thread {in_order}; {heddle_words.empty_line(plan)}")
    told = text_read_aloud(card(plan_on("threes")).page).replace("\N{NO-BREAK SPACE}", " ")
    assert "Count 13 left of the mark (0), holes and slots alike." in told


# The room


@pytest.mark.parametrize("pegs", PEGS)
def test_no_word_stands_on_a_peg(pegs: str) -> None:
    for pattern in PATTERNS:
        try:
            plan = plan_on(pattern, pegs)
        except ProblemsFound:  # these pegs cannot give that length
            continue
        drawn = figure(panel(card(plan), "room"), "pegs")
        dots = [mark for mark in leaves(drawn.marks) if isinstance(mark, Dot)]
        assert dots
        for word in all_words(drawn.marks):
            for dot in dots:
                assert not overlap(box_of(word), around(dot)), (pattern, word.text)


def around(dot: Dot) -> Box:
    return Box(dot.x - dot.radius, dot.y - dot.radius, 2 * dot.radius, 2 * dot.radius)


@pytest.mark.parametrize("pegs", [pegs for pegs in PEGS if pegs != "two-pegs"])
def test_the_room_is_not_high(pegs: str) -> None:
    for pattern in ("two-rails", "long-sixty"):
        assert panel(card(plan_on(pattern, pegs)), "room").box.height <= 61


def test_the_route_is_a_list_of_pegs_in_order() -> None:
    plan = plan_on("five-posts")
    assert plan.pegs is not None
    heard = text_read_aloud(card(plan).page)
    told = [name for name, _ in peg_words.route_stops(plan.pegs, "metric")]
    assert told == ["home", "A", "B", "R1", "R3", "L3", "far (R4)"]
    rows = [f"number {number}; peg {name}" for number, name in enumerate(told, start=1)]
    places = [heard.index(row) for row in rows]
    assert places == sorted(places)
    assert "peg R3; from the peg before, middle to middle 300 mm" in heard


def test_the_list_of_a_board_gives_every_distance_of_the_plan() -> None:
    plan = plan_on("three-paths")
    assert plan.pegs is not None
    told = [apart for _, apart in peg_words.route_stops(plan.pegs, "metric")]
    assert told == ["", "152 mm", "152 mm", "610 mm", "918 mm", "918 mm"]
    assert len(told) == len(plan.pegs.dimensions) + 1


def test_a_span_has_one_picture_with_its_length_and_its_cross() -> None:
    plan = plan_on("two-rails", "two-chairs")
    assert plan.pegs is not None
    length = small_length(plan.pegs.dimensions[-1].centres_mm, "metric")
    room = panel(card(plan), "room")
    assert [each.name for each in groups(room) if each.role == "figure"] == ["pegs"]
    drawn = figure(room, "pegs")
    texts = [word.text for word in all_words(drawn.marks)]
    assert {"home", "A", "B", "far", length, peg_words.OUT, peg_words.BACK} <= set(texts)
    assert drawn.box.height < 30
    assert "The cross, home at its left" in drawn.alt


def test_home_and_far_are_drawn_last_and_empty_pegs_under_the_thread() -> None:
    """Of the board's pegs six are on the way; no other is drawn over the posts, nor as large."""
    plan = plan_on("wick")
    assert plan.pegs is not None
    drawn = figure(panel(card(plan), "room"), "pegs").marks
    dots = [(at, mark) for at, mark in enumerate(drawn) if isinstance(mark, Dot)]
    last_way = max(at for at, mark in enumerate(drawn) if isinstance(mark, Path) and not mark.fill)
    empty, met = ([dot for at, dot in dots if (at < last_way) is under] for under in (True, False))
    assert len(met) == len(set(plan.pegs.route))
    assert empty
    assert max(dot.radius for dot in empty) < min(dot.radius for dot in met)
    assert {dot.stroke for dot in met[-2:]} == {ACCENT}
    assert ACCENT not in {dot.stroke for dot in (*empty, *met[:-2])}


def test_a_board_takes_the_width_that_it_has() -> None:
    """Beside the cross the yard board fills two columns but for the names of the pegs, however low it is drawn."""
    drawn = figure(panel(card(plan_on("wick")), "room"), "pegs")
    (board,) = [mark for mark in drawn.marks if isinstance(mark, Path) and mark.width == RULE and len(mark.steps) == 5]
    xs = [step[1] for step in board.steps if len(step) == 3]
    assert max(xs) - min(xs) > 60


@pytest.mark.parametrize("pattern", ["wick", "framed-pavement", "three-paths", "raised-ribs"])
def test_panels_begin_at_three_edges(pattern: str) -> None:
    """Cross, checks, table and gauge begin at one edge; roll and weight at another."""
    made = card(plan_on(pattern))
    found = {each.name: each.box.left for each in groups_of(made) if each.name}
    left = {name: panel(made, name).box.left for name in ("room", "steps", "turns", "press")}
    assert len(set(left.values())) == 1
    right = {found["cross"], found["gauge"], first_check(made)}
    middle = {found["roll"], found["weight"]}
    assert max(right) - min(right) < 0.01
    assert max(middle) - min(middle) < 0.01
    assert left["room"] + 40 < min(middle) < min(right) - 36


def first_check(of: Composed) -> float:
    words = all_words(panel(of, "steps").marks)
    return next(word.x for word in words if word.text == winding_words.BEFORE_LIFTING)


# The steps


def test_every_step_has_its_swatch_and_letters() -> None:
    plan = plan_on("three-paths")
    steps = panel(card(plan), "steps")
    fills = [
        str(mark.fill)
        for mark in leaves(steps.marks)
        if isinstance(mark, Rectangle) and mark.fill not in (None, "#ffffff")
    ]
    assert len(fills) == len(plan.runs)
    assert fills[0] == fills[-1] != fills[1]
    letters = [word.text for word in all_words(steps.marks) if word.text in ("Re", "Wh", "Bu")]
    assert letters == [plan.letters(run.yarn) for run in plan.runs]


def test_a_long_list_stands_in_columns_and_is_read_in_order() -> None:
    """22 stripes wound in order: the totals run down one column and on in the next."""
    plan = plan_of_warp(*[(2, ("white", "blue")[at % 2]) for at in range(8)], (3, "white"))
    long = plan_of_warp(*[(4, ("white", "blue")[at % 2]) for at in range(13)])
    for wanted in (plan, long):
        steps = panel(card(wanted), "steps")
        table = next(each for each in groups(steps) if each.name == "steps")
        rows = [row for row in groups(table) if row.role == "row" and row.marks and isinstance(row.marks[0], Group)]
        totals = [cells[3] for row in rows if (cells := texts_of(row))[0].isdigit()]
        assert totals == [str(run.total) for run in wanted.runs]


def texts_of(row: Group) -> list[str]:
    return [
        cell.alt or " ".join(word.text for word in all_words(cell.marks))
        for cell in row.marks
        if isinstance(cell, Group)
    ]


def test_names_that_the_list_leaves_out_stand_with_the_counts() -> None:
    heard = text_read_aloud(card(plan_on("five-posts")).page).replace("\N{NO-BREAK SPACE}", " ")
    assert "31 ends; 6 Bu blue, 20 Wh white, 5 Rc red cord." in heard


def test_a_count_is_never_torn_from_its_yarn() -> None:
    for check in winding_words.lifting_checks(31, [(5, "red cord"), (26, "white")], "order"):
        assert "5 red" not in check
        assert "26 white" not in check


# Beam and press


def test_the_figures_of_the_beam() -> None:
    plan = plan_on("three-paths")
    turns = panel(card(plan), "turns")
    texts = [word.text.replace("\N{NO-BREAK SPACE}", " ") for word in all_words(turns.marks)]
    assert {"17", "73 mm", "12", "15 turns", "170 cm (66 in)"} <= set(texts)


@pytest.mark.parametrize("paper", LAYOUT.papers, ids=lambda paper: paper.name)
def test_no_word_under_a_figure_is_cut(paper: Paper) -> None:
    """In the narrow column of A4 too."""
    for pattern in PATTERNS:
        texts = [word.text for word in all_words(panel(card(plan_on(pattern), paper), "turns").marks)]
        assert "sticks" in texts, pattern
        assert any("(about)" in text for text in texts), pattern


def test_the_sketch_names_weight_and_span() -> None:
    drawn = figure(panel(card(plan_on("three-paths")), "press"), "weight")
    assert [word.text for word in all_words(drawn.marks)] == ["40 cm (16 in) clear", "120 g"]
    assert drawn.alt == (
        "The warp from the side, lying over two bars, 40 centimetres (16 inches) clear between them; 120 grams hang "
        "from its middle and bend it down."
    )


def test_rows_of_the_strip_are_about_as_long() -> None:
    drawn = figure(panel(card(plan_on("long-sixty")), "rescue"), "ends")
    tops = sorted({round(mark.box.top, 2) for mark in drawn.marks if isinstance(mark, Rectangle) and mark.fill})
    rows = 1 + sum(1 for above, below in pairwise(tops) if below - above > 5)
    assert rows == 2


@pytest.mark.parametrize(("others", "heading"), [((), "Wind"), (("weave",), "1. Wind"), (("board",), "1. Wind")])
@pytest.mark.parametrize("winding", ["steps", "room"])
def test_winding_is_numbered_where_another_step_follows(winding: str, others: tuple[str, ...], heading: str) -> None:
    """A reader who sees a 1 looks for the 2."""
    rows = tuple((PanelPlace(name, 12, 1, essential=True),) for name in ("name", winding, *others))
    made = compose_card(plan_on("three-paths"), replace(LAYOUT, rows=rows), LAYOUT.papers[0], RULER)
    headings = [each.alt or next(all_words(each.marks)).text for each in groups_of(made) if each.role == "heading"]
    assert heading in headings
    assert winding_words.STEPS not in text_read_aloud(made.page)


@pytest.mark.parametrize("paper", LAYOUT.papers, ids=lambda paper: paper.name)
def test_a_way_round_more_than_nine_pegs_has_its_numbers_beside_their_names(paper: Paper) -> None:
    """Nine yards are 8229.6 mm; on the board of yards that is a way of twelve stops."""
    setup = plan_making.load_plan_setup_for(LAYOUT, None, Fraction(82296, 10), "yard-board")
    made = card(plan_making.plan_for(loading.load_pattern(ROOT / "patterns" / "three-paths.yaml"), setup), paper)
    room = panel(made, "room")
    assert "12" in {words.text for words in all_words(room.marks)}
    assert collisions([room]) == []
