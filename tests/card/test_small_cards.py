"""The small cards: what stands where on the field card and on its back, and what they say of winding."""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise

import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.jobs.plan_making import load_plan_setup, plan_for
from cardmaker.layout.ink import ACCENT, BLACK, WHITE
from cardmaker.layout.type_setting import cap_height, leading, tail_depth
from cardmaker.model.marks import Dot, Group, Rectangle, Words
from cardmaker.model.plan import Plan, Post
from cardmaker.model.record_class import replace
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.reckoning.winding.walk import boxed_totals, walk_of
from cardmaker.wording import heddle_words
from tests.helpers.card_faults import all_words, leaves, panels
from tests.helpers.record_cards import RULER
from tests.helpers.shipped import PATTERNS, plan_for_layout, shipped_layout, shipped_pattern


@cache
def made(pattern: str, stem: str, *, left_hand: bool = False, paper: int = 0) -> tuple[Plan, Composed]:
    layout = shipped_layout(stem)
    plan = plan_as_seen(plan_for_layout(pattern, stem), Viewpoint(left_hand))
    return plan, compose_card(plan, layout, layout.papers[paper], RULER)


def words_of(composed: Composed, panel: str) -> list[Words]:
    (group,) = (group for group in panels(composed) if group.name in (panel, f"{panel}-if-room"))
    return list(all_words(group.marks))


def sorted_marks(marks: list[Rectangle]) -> list[Rectangle]:
    return sorted(marks, key=lambda mark: (round(mark.box.top, 2), mark.box.left))


def text_of(composed: Composed, panel: str) -> str:
    return " ".join(word.text for word in words_of(composed, panel)).replace("\N{NO-BREAK SPACE}", " ")


def test_winding_stands_under_the_stripes_and_above_the_heddle() -> None:
    for stem in ("field", "field-folded"):
        tops = {group.name: group.box.top for group in panels(made("fair-day", stem)[1])}
        assert tops["counts"] < tops["ticks"] < tops["first"] < tops["next"]


@pytest.mark.parametrize("stem", ["field", "field-folded"])
@pytest.mark.parametrize("left_hand", [False, True])
@pytest.mark.parametrize("paper", [0, 1])
def test_the_boxes_have_their_key_on_every_card(stem: str, left_hand: bool, paper: int) -> None:
    """Where one is underlined, words without a box say that it is at far, behind the last box or in the line over the
    first: a box would be one to tick too many, and
    would read as the post where winding ends. That is told in a sentence, and is right."""
    for pattern in PATTERNS:
        plan, composed = made(pattern, stem, left_hand=left_hand, paper=paper)
        assert "underlined" in composed.printed
        walk = walk_of(plan.runs, plan.winding.method)
        (group,) = (group for group in panels(composed) if group.name == "ticks")
        bars = [mark for mark in leaves([group]) if isinstance(mark, Rectangle) and 0 < mark.box.height < 1]
        text = text_of(composed, "ticks")
        assert len(re.findall(r"[Uu]nderlined = far", text)) == bool(bars), pattern
        behind = [word for word in all_words(group.marks) if word.text == "underlined = far"]
        last = max(word.y for word in all_words(group.marks))
        assert all(word.y == last and word.colour == BLACK for word in behind), pattern
        boxes = [mark for mark in leaves([group]) if isinstance(mark, Rectangle) and mark.box.height > 1]
        assert len(boxes) == len(boxed_totals(walk, plan.winding.method)), pattern
        finish = [] if plan.winding.method == "bundle" else [str(walk.finish)]
        assert re.findall(r"Finish at (home|far)\.", text) == finish, pattern
        assert "from home" in text, pattern
        if plan.winding.method != "bundle":
            totals = [word.text for word in all_words(group.marks) if word.text.isdigit() and word.colour != WHITE]
            far = [total for total in totals if walk.stop_of(int(total)) is Post.FAR]
            assert len(bars) == len(far), pattern
            numbers = [word for word in all_words(group.marks) if word.colour == ACCENT]
            for bar, number in zip(sorted_marks(bars), sorted(numbers, key=lambda word: (word.y, word.x)), strict=True):
                end = number.x + RULER.width_mm(number.text, number.face, number.size)
                assert bar.box.left < number.x
                assert bar.box.right == pytest.approx(end, abs=0.01)  # under the box and under its number


def test_walks_without_a_thread_are_counted_and_named() -> None:
    for pattern, said in {
        "five-posts": "Wind 3.4 m, 3 balls from home: 31 times across, 7 empty walks. Finish at home.",
        "framed-pavement": "Wind 3.5 m, 2 balls from home: 37 times across, 13 empty walks. Finish at home.",
        "fair-day": "Wind 2.9 m from home, 48 times across. Finish at home.",
        "threes": "3 balls from home: 27 times across, 18 empty walks to the next ball. Finish at far.",
        "wick": "Wind 2.3 m from home, 15 times across. Finish at far.",
    }.items():
        assert said in text_of(made(pattern, "field")[1], "ticks"), pattern
    for pattern in PATTERNS:
        plan, composed = made(pattern, "field")
        empty = walk_of(plan.runs, plan.winding.method).empty_walks
        found = re.findall(r"(\d+) empty walk", text_of(composed, "ticks"))
        assert [int(number) for number in found] == ([empty] if empty else []), pattern


@pytest.mark.parametrize("left_hand", [False, True])
@pytest.mark.parametrize("stem", ["field", "field-folded", "six-numbers"])
def test_the_weft_is_named_after_the_letters(stem: str, left_hand: bool) -> None:
    """On a small card too the shuttle is filled by what it says, not by a guess."""
    for pattern in PATTERNS:
        plan, composed = made(pattern, stem, left_hand=left_hand)
        text = text_of(composed, "six" if stem == "six-numbers" else "counts")
        found = re.search(r"\. Weft ([^.]+)\.", text)
        assert found, pattern
        assert found[1] in (plan.weft.yarn, plan.letters(plan.weft.yarn)), pattern


def discs(composed: Composed) -> list[Dot]:
    """The black discs of the steps, from the top down."""
    small = ("ticks", "first", "next")
    groups = [group for group in panels(composed) if group.name in small]
    found = [mark for mark in leaves(groups) if isinstance(mark, Dot) and mark.fill == BLACK and mark.radius > 2]
    return sorted(found, key=lambda dot: dot.y)


@pytest.mark.parametrize("stem", ["field", "field-folded"])
@pytest.mark.parametrize("left_hand", [False, True])
def test_the_three_steps_are_numbered_at_one_edge(stem: str, left_hand: bool) -> None:
    for pattern in PATTERNS:
        composed = made(pattern, stem, left_hand=left_hand)[1]
        dots = discs(composed)
        assert len(dots) == 3, pattern
        assert len({round(dot.x, 2) for dot in dots}) == 1
        words = [word for group in panels(composed) for word in all_words(group.marks) if word.colour == WHITE]
        inside = [
            [word.text for word in words if abs(word.x - dot.x) < 0.1 and abs(word.y - dot.y) < 3] for dot in dots
        ]
        assert inside == [["1"], ["2"], ["3"]], pattern


FULLEST = {"fair-day", "five-posts", "framed-pavement", "hop-and-stride", "pavement"}


@pytest.mark.parametrize("stem", ["field", "field-folded"])
def test_steps_stand_farther_apart_than_the_lines_within_them(stem: str) -> None:
    """From the foot of one step to the disc of the next there is more air than between two lines. Least on the fullest
    cards: those of two heddles and eleven stripes, of thirteen stripes, and of stripes in turn and walks without a
    thread."""
    for pattern in PATTERNS:
        more = 0.1 if pattern in FULLEST else 0.2 if stem == "field-folded" else 0.6
        composed = made(pattern, stem)[1]
        groups = {group.name: group for group in panels(composed)}
        for dot, before in zip(discs(composed), ("counts", "ticks", "first"), strict=True):
            last = max(word.y for word in all_words(groups[before].marks))
            size = 14.0
            capitals = dot.y - cap_height(size) / 2
            assert capitals - last > leading(size) - cap_height(size) + more, (pattern, before)


@pytest.mark.parametrize("stem", ["field", "field-folded"])
def test_rows_of_boxes_stand_as_far_apart_as_from_the_sentence(stem: str) -> None:
    for pattern in PATTERNS:
        beside = [
            mark
            for mark in ticks_of(made(pattern, stem)[1]).marks
            if not (isinstance(mark, Group) and mark.name == "cross")
        ]
        ys = sorted({round(word.y, 2) for word in all_words(beside)})
        steps = [after - before for before, after in pairwise(ys)]
        lines = 1 + len([step for step in steps if step < steps[-1] - 0.3])  # of the sentence, over the boxes
        assert max(steps[lines - 1 :]) - min(steps[lines - 1 :]) < 0.45, (pattern, steps)
        assert max(steps[: lines - 1], default=0) - min(steps[: lines - 1], default=0) < 0.05, (pattern, steps)


@pytest.mark.parametrize("stem", ["field", "field-folded"])
@pytest.mark.parametrize("left_hand", [False, True])
@pytest.mark.parametrize("paper", [0, 1])
def test_every_working_card_has_its_date(stem: str, left_hand: bool, paper: int) -> None:
    """It tells an old card from a new one."""
    for pattern in PATTERNS:
        plan, composed = made(pattern, stem, left_hand=left_hand, paper=paper)
        assert plan.pattern.date in text_of(composed, "head"), pattern
        assert "walk" not in text_of(composed, "head"), pattern
        words = words_of(composed, "head")
        (date,) = (word for word in words if word.text == plan.pattern.date)
        (number,) = (word for word in words if plan.pattern.code in word.text)
        if number.align == "right" == date.align:  # both at one edge
            assert number.x == pytest.approx(date.x), pattern


WOVEN = {
    "three-paths": "About 193 cm, 16 mm wide, 16 picks/in.",
    "fair-day": "About 197 cm, 25 mm wide, 15 picks/in.",
    "stair": "Weave 8 bookmarks of 23.5 cm, 5.1 cm bare between, 14 mm wide, about 16 picks/in.",
    "three-sparks": "Weave 12 bookmarks of 20.5 cm, 4 cm bare between, 13 mm wide, about 15 picks/in.",
    "cord-edge": "4 × 57.5 cm, two picks of another colour between, 12 mm wide, about 14 picks/in.",
    "hop-and-stride": "1 × 70 cm and 1 × 103 cm, 2 marker picks between, 16 mm wide, about 18 picks/in.",
    "long-sixty": "1 × 116.5 cm and 2 × 63.5 cm, 2 marker picks between, 31 mm wide, 14 picks/in.",
}


@pytest.mark.parametrize("pattern", WOVEN)
def test_a_card_tells_how_much_is_woven_and_what_lies_between(pattern: str) -> None:
    """In the fullest words of the fewest lines, and in whole figures that a ruler and a pick count can check."""
    assert text_of(made(pattern, "field")[1], "woven-size").partition("/in.")[0] + "/in." == WOVEN[pattern]


@pytest.mark.parametrize("stem", ["field", "field-folded"])
@pytest.mark.parametrize("left_hand", [False, True])
@pytest.mark.parametrize("paper", [0, 1])
def test_what_is_woven_stands_on_every_card_before_the_last_turns(stem: str, left_hand: bool, paper: int) -> None:
    """How many turns are left is told by the card of the bench; where it has room, by this one too, and last."""
    told = 0
    for pattern in PATTERNS:
        plan, composed = made(pattern, stem, left_hand=left_hand, paper=paper)
        text = text_of(composed, "woven-size")
        for piece in plan.lengths.pieces:
            assert re.search(rf"\b{piece.come} (×|{piece.purpose}s? of)", text), (pattern, text)
        turns = r"( \d+ turns? left on the beam: [^.]+\.)?"
        found = re.search(rf"[\d.]+ mm wide, (about )?\d+ picks/in\.{turns}$", text)
        assert found, (pattern, text)
        assert bool(found[2]) == ("turns left" in composed.printed), pattern
        told += bool(found[2])
        places = {group.name: group.box for group in panels(composed)}
        assert places["next"].bottom < places["woven-size"].top, pattern
        assert "turns left" in (*composed.printed, *composed.left_out) or plan.beam is None, pattern
    assert told > 4


@pytest.mark.parametrize(
    ("pattern", "name", "is_alone"),
    [
        ("fair-day", "The broad paddle of the upper floor", False),
        ("wick", "The broad paddle of the upper floor in Lantern Quay, by the door", True),
    ],
)
def test_a_long_name_of_a_loom_leaves_the_date_room(pattern: str, name: str, is_alone: bool) -> None:
    """Well behind its last line or, where that is full, on a line by itself."""
    plan = plan_for_layout(pattern, "field")
    layout = shipped_layout("field")
    composed = compose_card(replace(plan, loom=replace(plan.loom, title=name)), layout, layout.papers[0], RULER)
    words = words_of(composed, "head")
    (date,) = (word for word in words if word.text == plan.pattern.date)
    assert date.y > next(word.y for word in words if word.text.startswith("The broad")) + 1
    beside = [word for word in words if abs(word.y - date.y) < 1 and word is not date]
    assert is_alone == (not beside)
    left = date.x - RULER.width_mm(date.text, date.face, date.size) * (date.align == "right")
    assert all(word.x + RULER.width_mm(word.text, word.face, word.size) < left - 4 for word in beside)


@pytest.mark.parametrize("stem", ["field", "field-folded"])
@pytest.mark.parametrize("left_hand", [False, True])
def test_what_end_1_is_counted_from_stands_over_its_place(stem: str, left_hand: bool) -> None:
    """Or before it, on one line, on a card that has much to tell; larger than the words in either case."""
    before = 0
    for pattern in PATTERNS:
        plan, composed = made(pattern, stem, left_hand=left_hand)
        words = words_of(composed, "first")
        text = text_of(composed, "first")
        both = "both from 0 (mark)" if plan.placement.back else "from 0 (the mark)"
        place = heddle_words.first_place(plan)
        counted = next(word for word in words if word.text.startswith("End"))
        places = [word for word in words if word.colour == ACCENT]
        assert places
        assert all(place.size > counted.size for place in places), pattern
        if places[0].y == pytest.approx(counted.y):
            before += 1
            assert f"2 End 1, from 0, as you sit: {place}" in text, (pattern, text)
            continue
        assert re.search(f"2 End 1, {re.escape(both)}, as you sit: {place.replace('; ', ';? ')}", text), (pattern, text)
        assert all(place.y > counted.y for place in places), pattern
    assert before < 0.6 * len(PATTERNS)


def test_what_joined_letters_mean_is_told_once() -> None:
    """In the cell that has room for it, or else with the letters; never left to be guessed."""
    for stem in ("field", "field-folded", "six-numbers"):
        for pattern in PATTERNS:
            text = text_of(made(pattern, stem)[1], "six" if stem == "six-numbers" else "counts")
            joined = re.findall(r"[A-Z]\w/[A-Z]\w\b", text)
            told = len(re.findall(r"(?:\w\w/)+\w\w in turn", text)), len(re.findall(r", / = in turn\.", text))
            assert (
                told in ((len(joined) - text.count("Wh/Bu/Re"), 0), (len(joined), 0), (0, 1))
                if joined
                else not any(told)
            ), (pattern, stem, text)
    assert "/ = in turn" in text_of(made("framed-pavement", "field")[1], "counts")
    assert "15 Wh/Bu in turn" in text_of(made("penned-ladder", "field")[1], "counts")


def test_the_version_has_one_form() -> None:
    for stem in ("field", "field-folded", "six-numbers"):
        for pattern in PATTERNS:
            text = " ".join(word.text for word in all_words(made(pattern, stem)[1].page.marks))
            assert re.search(r"·  v\d", text), pattern
            assert not re.search(r"version \d", text), pattern


def test_of_the_bench_a_card_of_last_turns_asks_the_beam_alone() -> None:
    for pattern in ("wick", "grey-trap"):
        plan = plan_for_layout(pattern, "field")
        whole = plan_for(shipped_pattern(pattern), load_plan_setup(None, None, units="metric"))
        assert plan.beam is not None
        assert plan.beam == whole.beam
        assert whole.tension is not None
        assert (plan.tension, plan.rescue, plan.pace) == (None, None, None)


def test_how_the_last_turns_are_told() -> None:
    for pattern, told in {
        "wick": "4 turns left on the beam: at least 2 cm.",
        "grey-trap": "6 turns left on the beam: 1 × bookmark.",
    }.items():
        assert text_of(made(pattern, "field")[1], "woven-size").endswith(f" picks/in. {told}")


def test_six_numbers_has_its_figures_on_one_line() -> None:
    for pattern in PATTERNS:
        plan, composed = made(pattern, "six-numbers")
        words = words_of(composed, "six")
        ends = next(word for word in words if word.text == str(plan.ends))
        wind = next(word for word in words if re.fullmatch(r"[\d.]+ m", word.text))
        assert ends.y == wind.y, pattern
        first = [word for word in words if re.search(r"[LR]\d+, a (slot|hole)", word.text)]
        assert {word.y for word in first} == {ends.y}, pattern
        told = text_of(composed, "six")
        assert f" End 1, from 0 as you sit, on {plan.loom.title}: " in told, pattern


def test_six_numbers_tells_how_to_begin_on_a_line_of_its_own() -> None:
    """At the left edge, in one size on every card."""
    lefts = set()
    for pattern in PATTERNS:
        words = words_of(made(pattern, "six-numbers")[1], "six")
        (begin,) = (word for word in words if word.text.startswith("Begin"))
        assert [word for word in words if word.y == begin.y] == [begin], pattern
        lefts.add((round(begin.x, 2), begin.size))
    assert len(lefts) == 1, lefts


@pytest.mark.parametrize("left_hand", [False, True])
@pytest.mark.parametrize("stem", ["field", "field-folded", "six-numbers"])
def test_a_figure_that_another_card_has_is_told_of(stem: str, left_hand: bool) -> None:
    """Stripes alone would be another tape."""
    for pattern in PATTERNS:
        plan, composed = made(pattern, stem, left_hand=left_hand)
        text = text_of(composed, "six" if stem == "six-numbers" else "counts")
        assert bool(re.search(r"Figure: (see the )?pick-up card\.", text)) == (plan.pickup is not None), pattern
        assert ("pickup card" in composed.printed) == (plan.pickup is not None), pattern


def test_the_boxes_are_explained_where_there_is_room() -> None:
    """On easy tapes; where the words find no room the command says so."""
    for pattern in PATTERNS:
        for stem in ("field", "field-folded"):
            composed = made(pattern, stem)[1]
            assert ("Tick each" in text_of(composed, "ticks")) == ("tick" in composed.printed), (pattern, stem)
    for pattern in ("wick", "nine", "two-rails", "three-paths"):
        assert "Tick each" in text_of(made(pattern, "field")[1], "ticks"), pattern


def test_a_colour_of_two_words_is_not_parted_from_its_letters() -> None:
    for pattern in ("three-sparks", "five-posts", "cord-edge"):
        plan, composed = made(pattern, "field")
        lines = [word.text for word in words_of(composed, "counts")]
        for colour in plan.colours:
            told = f"{colour.letters} {colour.yarn}"
            assert any(told in line.replace("\N{NO-BREAK SPACE}", " ") for line in lines), (pattern, told)


def test_what_the_letters_mean_stands_as_far_below_the_stripes_on_every_card() -> None:
    gaps = set()
    for pattern in PATTERNS:
        (group,) = (group for group in panels(made(pattern, "field")[1]) if group.name == "counts")
        (stripes,) = (mark for mark in group.marks if isinstance(mark, Group) and mark.name == "stripes")
        foot = stripes.box.bottom
        first = min(word.y for word in all_words(group.marks) if word.y > foot)
        gaps.add(round(first - cap_height(14) - foot, 1))
    assert len(gaps) == 1, gaps


@pytest.mark.parametrize("stem", ["visitor", "field-folded"])
def test_what_a_visitor_reads_stands_evenly_down_the_card(stem: str) -> None:
    """The name, and the question at the foot, at one height on all cards; between them no hole but the same space over
    the number, over what is known, and over the question."""
    names, feet, sizes = set(), set(), set()
    for pattern in PATTERNS:
        plan, composed = made(pattern, stem)
        told = {name: words_of(composed, name) for name in ("visitor", "known", "question")}
        names.add(round(told["visitor"][0].y, 1))
        sizes.add(told["visitor"][0].size)
        feet.add(round(max(word.y for word in told["question"]), 1))
        assert told["visitor"][0].text == plan.pattern.title  # on one line
        at = next(at for at, word in enumerate(told["visitor"]) if word.text == str(plan.ends))
        parts = [told["visitor"][:at], told["visitor"][at:], told["known"], told["question"]]
        spaces = [
            min(word.y - cap_height(word.size) for word in lower)
            - max(word.y + tail_depth(word.size) for word in upper)
            for upper, lower in pairwise(parts)
        ]
        assert min(spaces) > 1.8, (pattern, spaces)
        assert max(spaces) - min(spaces) < 0.9, (pattern, spaces)
    assert len(names) == len(feet) == len(sizes) == 1, (names, feet, sizes)


def test_the_width_stands_on_a_line_of_its_own_for_a_visitor() -> None:
    for pattern in PATTERNS:
        words = words_of(made(pattern, "visitor")[1], "visitor")
        (about,) = (word for word in words if word.text.startswith("about"))
        line = [word.text for word in words if word.y == about.y]
        assert re.fullmatch(
            r"about [\d.]+ mm( wide|, drawn smaller)\.", " ".join(line).replace("\N{NO-BREAK SPACE}", " ")
        ), pattern


def test_lines_of_six_numbers_stand_apart_where_there_is_room() -> None:
    """The stripes off what stays empty, the legend off the stripes, and how to begin off the legend: none set solid."""
    for pattern in PATTERNS:
        (group,) = (group for group in panels(made(pattern, "six-numbers")[1]) if group.name.startswith("six"))
        (stripes,) = (mark for mark in group.marks if isinstance(mark, Group) and mark.name == "stripes")
        words = [word for word in all_words(group.marks) if word.y > stripes.box.bottom]
        legend, *others = sorted({round(word.y, 2) for word in words})
        size = words[0].size
        over = max(word.y + tail_depth(word.size) for word in all_words(group.marks) if word.y < stripes.box.top)
        assert stripes.box.top - over > 0.8, pattern
        assert legend - cap_height(size) - stripes.box.bottom > 0.6, pattern
        assert all(
            lower - upper - cap_height(size) - tail_depth(size) > 0.25 for upper, lower in pairwise([legend, *others])
        )


SIX_IN_WORDS = {
    "three-paths": "Wind 2.7 m from home, 31 times across. Finish at far. Cross: odd ends below A, above B; even ends "
    "above A, below B. About 193 cm, 16 mm wide, 16 picks/in.",
    "stair": "5.1 cm bare between, 14 mm wide",
    "framed-pavement": "2 balls from home: 37 times across, 13 empty walks",
}


def test_six_numbers_tells_how_it_is_wound_and_what_is_woven() -> None:
    """On every card of a sheet of A6, and on the index card but of the three fullest warps."""
    for paper in (0, 1):
        for pattern in PATTERNS:
            for left_hand in (False, True):
                _, composed = made(pattern, "six-numbers", left_hand=left_hand, paper=paper)
                told = {"trips", "finish", "cross reminder", "width", "closeness"} <= composed.printed
                assert told or (paper == 0 and pattern in ("fair-day", "five-posts", "long-sixty")), pattern
    for pattern, words in SIX_IN_WORDS.items():
        text = text_of(made(pattern, "six-numbers", paper=1)[1], "six")
        found = text.replace("Weave about", "About").replace(", about 16 picks", ", 16 picks")
        assert words in found, (pattern, text)


CROWDED = {
    "field": {"fair-day", "long-sixty"},
    "field-folded": {"fair-day", "long-sixty", "five-bars-up", "three-sparks"},
}

# The fullest, on some paper or for some hand: beside its picture they would lack something else.
CROSS_IN_WORDS = {
    "field": {"fair-day", "five-posts", "framed-pavement", "hop-and-stride", "long-sixty", "pavement"},
    "field-folded": {
        "fair-day",
        "five-posts",
        "framed-pavement",
        "half-and-half",
        "hop-and-stride",
        "long-sixty",
        "pavement",
        "treadle-ladder",
    },
}


def ticks_of(composed: Composed) -> Group:
    (group,) = (group for group in panels(composed) if group.name.startswith("ticks"))
    return group


def test_the_first_paper_of_a_field_card_always_shows_the_cross() -> None:
    """At A and B with home at its left and the numbers of its ends; no word of the sentence reaches into it."""
    for pattern in PATTERNS:
        (cross,) = (m for m in ticks_of(made(pattern, "field")[1]).marks if isinstance(m, Group) and m.name == "cross")
        told = [word.text for word in all_words([cross])]
        assert told[:3] + told[4:5] == ["A", "B", "Cross:", "home"], pattern
        assert told[3::2] == ["1, 3 …", "2, 4 …"], pattern
        lines = sorted(word.y for word in all_words([cross]) if word.text in ("Cross:", "home"))
        said = [mark for mark in ticks_of(made(pattern, "field")[1]).marks if mark is not cross]
        for word in all_words(said):
            for baseline, name in zip(lines, ("Cross:", "home"), strict=True):
                if abs(word.y - baseline) < 0.01:
                    (label,) = (each for each in all_words([cross]) if each.text == name)
                    left = label.x - RULER.width_mm(label.text, label.face, label.size)
                    assert word.x + RULER.width_mm(word.text, word.face, word.size) < left - 1.5, (pattern, word.text)


@pytest.mark.parametrize("stem", ["field", "field-folded"])
@pytest.mark.parametrize("left_hand", [False, True])
@pytest.mark.parametrize("paper", [0, 1])
def test_every_small_card_tells_the_cross_and_most_how_to_change_a_colour(
    stem: str, left_hand: bool, paper: int
) -> None:
    """Wound by it there is a cross to count. Balls wait, so that nothing is knotted; a card that closes up first."""
    for pattern in PATTERNS:
        plan, composed = made(pattern, stem, left_hand=left_hand, paper=paper)
        text = text_of(composed, "ticks")
        drawn = any(isinstance(mark, Group) and mark.name == "cross" for mark in ticks_of(composed).marks)
        in_words = re.search(r"Cross: odd (ends )?below A(, above B; even ends above A,| \(by home\), even)", text)
        assert drawn != bool(in_words), pattern
        assert drawn or pattern in CROSS_IN_WORDS[stem], pattern
        assert len(re.findall(r"Finish at (home|far)\.", text)) == 1, pattern
        assert "cross reminder" in composed.printed, pattern
        joins = plan.winding.method == "order" and plan.winding.changes > 0
        if pattern not in CROWDED[stem]:
            assert ("New colour: cut, knot on." in text) == joins, pattern
