"""The small cards: what stands where on the field card and on its back, and what they say of winding."""

from __future__ import annotations

import re
from functools import cache

import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.model.marks import Rectangle, Words
from cardmaker.model.plan import Plan, Post
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.reckoning.winding.walk import ticked_totals, walk_of
from tests.helpers.card_faults import all_words, leaves, panels
from tests.helpers.record_cards import RULER
from tests.helpers.shipped import PATTERNS, plan_for_layout, shipped_layout

EASY = ("bare-thread", "grey-trap", "half-and-half", "three-paths", "wick", "nine", "two-rails")


@cache
def made(pattern: str, stem: str, *, left_hand: bool = False, paper: int = 0) -> tuple[Plan, Composed]:
    layout = shipped_layout(stem)
    plan = plan_as_seen(plan_for_layout(pattern, stem), Viewpoint(left_hand))
    return plan, compose_card(plan, layout, layout.papers[paper], RULER)


def words_of(composed: Composed, panel: str) -> list[Words]:
    (group,) = (group for group in panels(composed) if group.name == panel)
    return list(all_words(group.marks))


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
    """Where one is underlined, words without a box say that it is at far: a box would be one to tick too many, and
    would read as the post where winding ends. That is told in a sentence, and is right."""
    for pattern in PATTERNS:
        plan, composed = made(pattern, stem, left_hand=left_hand, paper=paper)
        assert "underlined" in composed.printed
        walk = walk_of(plan.runs, plan.winding.method)
        (group,) = (group for group in panels(composed) if group.name == "ticks")
        bars = [mark for mark in leaves([group]) if isinstance(mark, Rectangle) and 0 < mark.box.height < 1]
        words = [word.text for word in all_words(group.marks)]
        text = text_of(composed, "ticks")
        assert ("underlined: at far" in words) == bool(bars), pattern
        boxes = [mark for mark in leaves([group]) if isinstance(mark, Rectangle) and mark.box.height > 1]
        assert len(boxes) == len(ticked_totals(walk, plan.winding.method)), pattern
        finish = [] if plan.winding.method == "bundle" else [str(walk.finish)]
        assert re.findall(r"Finish at (home|far)\.", text) == finish, pattern
        if plan.winding.method != "bundle":
            far = [word for word in words if word.isdigit() and walk.stop_of(int(word)) is Post.FAR]
            assert len(bars) == len(far), pattern


def test_walks_without_a_thread_are_counted_and_named() -> None:
    for pattern, said in {
        "five-posts": "Wind 3.4 m, 3 balls from home: 31 times across, 7 empty walks. Finish at home.",
        "hop-and-stride": "Wind 2.6 m, 2 balls from home, 12 empty walks. Finish at far.",
        "wick": "Wind 2.3 m from home: 15 times across. Finish at far.",
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
        found = re.search(r"\. Weft ([^.]+)\.|, weft (\w+)", text)
        assert found, pattern
        assert found[1] == plan.weft.yarn or found[2] == plan.letters(plan.weft.yarn), pattern


def test_blocks_of_easy_cards_stand_at_the_same_heights() -> None:
    grids = set()
    for pattern in EASY:
        grid = {group.name: round(group.box.top, 1) for group in panels(made(pattern, "field")[1])}
        grids.add(tuple(grid[name] for name in ("head", "counts", "ticks", "first", "next")))
    assert len(grids) == 1, grids


def test_the_version_has_one_form() -> None:
    for stem in ("field", "field-folded", "six-numbers"):
        for pattern in PATTERNS:
            text = " ".join(word.text for word in all_words(made(pattern, stem)[1].page.marks))
            assert re.search(r"·  v\d", text), pattern
            assert not re.search(r"version \d", text), pattern


def test_how_the_last_turns_are_told() -> None:
    assert text_of(made("wick", "field")[1], "last-turns") == "4 turns left on the beam: at least 2 cm."
    assert text_of(made("grey-trap", "field")[1], "last-turns") == "6 turns left on the beam: 1 × bookmark."


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
        assert told.count("from mark ") == 1, pattern
        is_beside = any(re.fullmatch(r"from mark \d", word.text) for word in words)
        assert is_beside or re.search(r"end 1 from mark \d, ", told), pattern


def test_six_numbers_tells_how_to_begin_at_the_right_edge() -> None:
    rights = set()
    for pattern in PATTERNS:
        (begin,) = (word for word in words_of(made(pattern, "six-numbers")[1], "six") if word.text.startswith("begin"))
        line = [word for word in words_of(made(pattern, "six-numbers")[1], "six") if word.y == begin.y]
        rights.add(round(max(word.x + RULER.width_mm(word.text, word.face, word.size) for word in line), 1))
    assert max(rights) - min(rights) < 0.3, rights


def test_a_visitor_reads_at_the_same_heights_on_every_card() -> None:
    heights, sizes = set(), set()
    for pattern in PATTERNS:
        plan, composed = made(pattern, "visitor")
        words = words_of(composed, "visitor")
        number = next(word for word in words if word.text == str(plan.ends))
        heights.add(round(number.y, 1))
        sizes.add(words[0].size)
        assert words[0].text == plan.pattern.title  # on one line
    assert len(heights) == len(sizes) == 1


def test_the_width_stands_on_a_line_of_its_own_for_a_visitor() -> None:
    for pattern in PATTERNS:
        words = words_of(made(pattern, "visitor")[1], "visitor")
        (about,) = (word for word in words if word.text.startswith("about"))
        line = [word.text for word in words if word.y == about.y]
        assert re.fullmatch(r"about [\d.]+ mm wide\.", " ".join(line).replace("\N{NO-BREAK SPACE}", " ")), pattern
