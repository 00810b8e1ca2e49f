"""The student's cards: what is on the front of every one, in the order of the hands, and what gives way first."""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise
from math import atan2, hypot, sin

import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.card.sheet import CardOwner
from cardmaker.layout.ink import BLACK, WHITE
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.card_layout import Paper
from cardmaker.model.marks import Box, Dot, Face, Group, Path, Rectangle
from cardmaker.model.record_class import replace
from cardmaker.model.school_class import Kit
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.reckoning.winding.walk import walk_of
from cardmaker.school.handout_sheets import compose_handout
from cardmaker.wording import peg_words, student_words, trouble_words
from tests.helpers.card_faults import all_words, leaves, panels
from tests.helpers.paper_tools import RULER
from tests.helpers.shipped import PATTERNS, plan_for_layout
from tests.helpers.shipped import shipped_layout as layout

HANDOUTS = [(stem, on) for stem in ("handout", "handout-large") for on in layout(stem).papers]
each_handout = pytest.mark.parametrize(("stem", "on"), HANDOUTS, ids=[f"{stem}-{on.name}" for stem, on in HANDOUTS])
each_pattern = pytest.mark.parametrize("pattern", PATTERNS)
each_hand = pytest.mark.parametrize("left_hand", [False, True], ids=["right", "left"])

# Hand written: name line, three steps, closing checks, legend, wraps, and what to do in two troubles.
ALWAYS = {
    "title", "code", "ends", "width", "loom", "warp", "name line", "legend", "weft", "wraps", "face", "stripes", "walk",
    "finish", "cross reminder", "board", "first space", "view", "checks", "shed", "begin",
    "trouble",
}  # fmt: skip


@cache
def card(pattern: str, stem: str, on: Paper, left_hand: bool = False) -> Composed:
    return compose_card(plan_as_seen(plan_for_layout(pattern, stem), Viewpoint(left_hand)), layout(stem), on, RULER)


def words_in(group: Group) -> str:
    return " ".join(word.text.replace("\N{NO-BREAK SPACE}", " ") for word in all_words([group]))


def panel(composed: Composed, name: str) -> Group:
    """The panel, or the one that stands for it on a card too full for all that it tells."""
    return next(group for group in panels(composed) if group.name.removesuffix("-first") == name)


@each_handout
@each_hand
@each_pattern
def test_every_student_has_the_whole_list(stem: str, on: Paper, left_hand: bool, pattern: str) -> None:
    composed = card(pattern, stem, on, left_hand)
    # Of a figure, where its rows stand; of a thick end, that it may stick; of more yarns than one, what a change asks.
    assert set(layout(stem).facts.front) == {*ALWAYS, "pickup card", "thick ends", "change"}
    # On the usual loom also what the first space must not be, and what is woven, and how long: pieces or a length.
    assert "miscount" in composed.printed
    pieces = bool(plan_for_layout(pattern, stem).lengths.pieces_come)
    told = {"length to weave", "pieces on the loom"} & composed.printed
    assert told == {"pieces on the loom" if pieces else "length to weave"}
    assert ("pickup card" in composed.printed) == (pattern == "five-posts")
    assert ("thick ends" in composed.printed) == (pattern in ("cord-edge", "three-sparks"))
    assert composed.printed >= ALWAYS
    text = " ".join(words_in(group) for group in panels(composed))
    for step in ("1 Wind", "2 Thread", "3 Weave"):
        assert step in text
    troubles = [question for question, _ in trouble_words.trouble(is_fuzzy=True, brief=True) if question in text]
    assert len(troubles) >= 2


# By the way in which a warp of several yarns is wound.
AT_A_CHANGE = {
    "order": r"(At a change: cut, knot the next colour on at the post|(New colour|Change): cut, knot on at the post)\.",
    "carry": r"balls (start at|begin at|from) home.*[Dd]ot = ball waits, dotted = walk empty.* off when done\.",
    "bundle": r"take the ends up in threading order\.",
}


@each_handout
@each_hand
@each_pattern
def test_what_to_do_where_the_yarn_changes_is_told_where_it_does(
    stem: str, on: Paper, left_hand: bool, pattern: str
) -> None:
    plan, composed = plan_for_layout(pattern, stem), card(pattern, stem, on, left_hand)
    changes = sum(one != next_one for one, next_one in pairwise(plan.end_yarns))
    text = next(words_in(group) for group in panels(composed) if group.name in ("walk", "walk-in-totals"))
    said = {way for way, words in AT_A_CHANGE.items() if re.search(words, text)}
    assert said == ({plan.winding.method} if changes else set())
    assert ("change" in composed.printed) == bool(changes)


@each_handout
@each_hand
@each_pattern
def test_the_cross_is_drawn_beside_the_walk(stem: str, on: Paper, left_hand: bool, pattern: str) -> None:
    """Of two threads between two pegs the black one is that of odd ends, the hollow one that of even ones; each ends
    beside the numbers of its ends, and begins close to the name of the picture and to home. The words beside it tell
    it no more."""
    walk = next(group for group in panels(card(pattern, stem, on, left_hand)) if group.name.startswith("walk"))
    (cross,) = [mark for mark in walk.marks if isinstance(mark, Group) and mark.name == "cross"]
    assert words_in(walk).count(peg_words.THE_CROSS) == 1
    named = {word.text: word for word in all_words([cross])}
    names = next(each for each in NAMED_ENDS if set(each) <= set(named))
    assert set(named) == {"Cross:", "home", "A", "B", *names}
    odd, even = threads_of(cross)
    for thread, name in zip((odd, even), names, strict=True):
        (x, y), word = places(thread)[-1], named[name]
        assert 0.8 < word.x - x < 1.5
        assert abs(word.y - cap_height(word.size) / 2 - y) < 1.0
    for word, thread in ((named["Cross:"], even), (named["home"], odd)):
        assert 0.8 < places(thread)[0][0] - word.x < 1.5
        assert abs(word.y - cap_height(word.size) / 2 - places(thread)[0][1]) < 1.0
    for peg, sides in (("A", (1, -1)), ("B", (-1, 1))):
        (disc,) = [dot for dot in leaves(cross.marks) if isinstance(dot, Dot) and dot.x == named[peg].x]
        assert cap_height(named[peg].size) / 2 < 0.7 * disc.radius
        for thread, side in zip((odd, even), sides, strict=True):
            x, y = min(places(thread), key=lambda place: abs(place[0] - disc.x))
            assert abs(x - disc.x) < disc.radius
            assert (y - disc.y) * side > disc.radius + thread.width / 2


NAMED_ENDS = [("ends 1, 3, 5 …", "ends 2, 4, 6 …"), ("1, 3, 5 …", "2, 4, 6 …"), ("1, 3 …", "2, 4 …")]
# There the numbers beside the picture tell it alone: a sentence would cost what is to be woven, or a third trouble.
ENDS_NAMED_ALONE = {
    ("five-posts", "a5"), ("framed-pavement", "a5"),
    ("hop-and-stride", "a5"), ("pavement", "a5"), ("threes", "a5"),
}  # fmt: skip


@each_handout
def test_both_threads_are_seen_where_they_cross(stem: str, on: Paper) -> None:
    """Neither is dashed, and of the lower one more is seen between the pegs than the upper one hides."""
    for pattern in PATTERNS:
        walk = next(group for group in panels(card(pattern, stem, on)) if group.name.startswith("walk"))
        (cross,) = [mark for mark in walk.marks if isinstance(mark, Group) and mark.name == "cross"]
        odd, even = threads_of(cross)
        casing = max(path.width for path in leaves(cross.marks) if isinstance(path, Path) and path.stroke == WHITE)
        (left, top), (right, bottom) = places(even)[1:3]
        long = hypot(right - left, bottom - top)
        across = 2 * atan2(bottom - top, right - left)  # the angle between the two
        assert long - casing / sin(across) > 2 * casing / sin(across)
        assert places(odd)[1][1] == bottom
        assert not [mark for mark in leaves(cross.marks) if isinstance(mark, Path) and mark.dash]


def threads_of(cross: Group) -> tuple[Path, Path]:
    """That of odd ends, which lies over that of even ones, whose middle is white."""
    even, hollow, _, odd = [mark for mark in leaves(cross.marks) if isinstance(mark, Path)]
    assert (even.stroke, hollow.stroke, odd.stroke) == (BLACK, WHITE, BLACK)
    assert even.steps == hollow.steps
    assert hollow.width > 0.4
    assert even.width - hollow.width > 0.4
    return odd, even


def places(thread: Path) -> list[tuple[float, float]]:
    return [(step[1], step[2]) for step in thread.steps if step[0] in ("move", "line")]


@each_handout
@each_hand
@each_pattern
def test_where_balls_wait_the_number_of_an_end_decides(stem: str, on: Paper, left_hand: bool, pattern: str) -> None:
    """Where two ends in turn go the same way, two of them are likened to ends whose numbers are as odd or even."""
    composed = card(pattern, stem, on, left_hand)
    plan = plan_as_seen(plan_for_layout(pattern, stem), Viewpoint(left_hand))
    text = next(words_in(group) for group in panels(composed) if group.name.startswith("walk"))
    strokes = walk_of(plan.runs, plan.winding.method).strokes if plan.winding.method != "bundle" else ()
    same_way = [number for number, (one, other) in enumerate(pairwise(strokes), 1) if one.start is other.start]
    found = re.search(r"(?:At the cross|not the way you walk:) (\d+) like ([12]), (\d+) like ([12])\.", text)
    assert bool(found) == (bool(same_way) and (pattern, on.name) not in ENDS_NAMED_ALONE)
    if found:
        first, like, second, alike = map(int, found.groups())
        assert (first, second) == (next(each for each in same_way if each > 2), first + 1)
        assert (first % 2, second % 2) == (like % 2, alike % 2)


def test_the_words_beside_the_cross_keep_clear_of_it() -> None:
    for stem, on in HANDOUTS:
        for pattern in PATTERNS:
            walk = next(group for group in panels(card(pattern, stem, on)) if group.name.startswith("walk"))
            (cross,) = [mark for mark in walk.marks if isinstance(mark, Group) and mark.name == "cross"]
            left, first = label_and_pegs(cross)
            said = [mark for mark in walk.marks if isinstance(mark, Group) and mark.role == "paragraph"]
            for word in all_words(said):
                if cross.box.top < word.y < cross.box.bottom:
                    edge = left if word.y - cap_height(word.size) < cross.box.top + 0.5 else first
                    assert word.x + RULER.width_mm(word.text, word.face, word.size) < edge - 0.9


def label_and_pegs(cross: Group) -> tuple[float, float]:
    """Where the name of the picture begins, and where home does."""
    (label,) = [word for word in all_words([cross]) if word.text == peg_words.THE_CROSS]
    (home,) = [word for word in all_words([cross]) if word.text == "home"]
    first, second = (word.x - RULER.width_mm(word.text, word.face, word.size) for word in (label, home))
    return first, second


@each_handout
@each_hand
@each_pattern
def test_a_key_says_which_opening_is_a_hole(stem: str, on: Paper, left_hand: bool, pattern: str) -> None:
    """In the line of the heading over the board, a round sign before the one word and a tall one before the other."""
    board = panel(card(pattern, stem, on, left_hand), "board")
    (key,) = [mark for mark in board.marks if isinstance(mark, Group) and mark.name == "key"]
    named = {word.text: word for word in all_words([key])}
    assert list(named) == ["hole", "slot"]
    (hole,) = [mark for mark in key.marks if isinstance(mark, Dot)]
    (slot,) = [mark for mark in key.marks if isinstance(mark, Rectangle)]
    assert 0.8 < named["hole"].x - hole.x - hole.radius < 1.5
    assert 0.8 < named["slot"].x - slot.box.right < 1.5
    assert slot.box.height > 2 * slot.box.width
    (heading,) = [word for word in all_words([board]) if word.text == "Thread"]
    assert {word.y for word in named.values()} == {heading.y}
    assert "hole" in key.alt
    assert "slot" in key.alt


@each_handout
@each_pattern
def test_the_parts_stand_in_the_order_of_the_hands(stem: str, on: Paper, pattern: str) -> None:
    composed = card(pattern, stem, on)
    tops = [(group.box.top, group.name) for group in panels(composed) if group.name != "ribbon"]
    names = [name.replace("walk-in-totals", "walk").removesuffix("-first") for _, name in sorted(tops)]
    names = [name for name in names if name not in ("pickup-line", "thick-ends")]
    assert names[:7] == ["name", "named", "legend", "walk", "board", "shuttle", "trouble"]


@each_handout
@each_pattern
def test_a_handout_has_its_full_margins_and_no_binding(stem: str, on: Paper, pattern: str) -> None:
    of = layout(stem)
    assert (of.margin_mm, of.binding_side, of.punch) == (9 if stem == "handout" else 12, "none", "none")
    assert min(group.box.left for group in panels(card(pattern, stem, on))) == of.margin_mm


@each_handout
def test_the_legend_names_every_yarn_beside_its_swatch(stem: str, on: Paper) -> None:
    composed = card("fair-day", stem, on)
    of, legend = plan_for_layout("fair-day", stem), panel(composed, "legend")
    text = words_in(legend)
    for colour in of.colours:
        assert f"{colour.letters} {colour.yarn}" in text
    assert f"Weft: {of.weft.yarn}." in text
    (weft,) = (word for word in all_words([legend]) if word.text == "Weft:")
    assert all(word.y < weft.y for word in all_words([legend]) if word.text in {each.letters for each in of.colours})
    swatches = [mark for mark in leaves(legend.marks) if isinstance(mark, Rectangle) and mark.fill]
    assert [mark.fill for mark in swatches] == [panel_ink(composed, colour.letters) for colour in of.colours]


def panel_ink(composed: Composed, letters: str) -> str:
    """The fill of the swatch left of the letters."""
    legend = panel(composed, "legend")
    (word,) = [word for word in all_words([legend]) if word.text == letters]
    swatches = [mark for mark in leaves(legend.marks) if isinstance(mark, Rectangle) and mark.fill]
    beside = [
        mark for mark in swatches if 0 < word.x - mark.box.right < 2 and mark.box.top < word.y < mark.box.bottom + 1
    ]
    assert len(beside) == 1
    return str(beside[0].fill)


def test_how_full_to_wind_the_shuttle_comes_before_anything_that_may_be_left_out() -> None:
    """On a sheet with room for one line more than the essential it is that line."""
    told = 0
    for stem, on in HANDOUTS:
        for pattern in PATTERNS:
            composed = card(pattern, stem, on)
            if {"pieces", "history", "student"} & composed.printed:
                assert "wraps" in composed.printed or "wraps" in composed.left_out
            told += "wraps" in composed.printed
    assert told >= 54  # of 108


def test_a_name_that_is_known_stands_in_place_of_the_blank_line() -> None:
    on = layout("handout").papers[0]
    of = plan_for_layout("three-paths", "handout")
    names = ("Ansel", "Wilhelmina Ottoline Featherstonehaugh-Cholmondeley of Brackwater Hythe")
    for name in names:
        composed = compose_card(of, layout("handout"), on, RULER, owner=CardOwner(name, "left hand"))
        text = words_in(panel(composed, "named"))
        assert name in text.replace("Name ", "", 1)
        assert "left hand" in text
        assert student_words.DATE_LINE not in text


@each_handout
@each_pattern
def test_the_troubles_always_stand_under_their_heading(stem: str, on: Paper, pattern: str) -> None:
    text = words_in(panel(card(pattern, stem, on), "trouble"))
    assert text.startswith(trouble_words.TROUBLE)
    assert text.count("?") >= 2


NAMES = {"sack tie": "sack ties", "apron tie": "apron ties", "shoe tie": "shoe ties", "hat band": "hat bands"}


@each_handout
@each_pattern
def test_which_pieces_and_how_long_each_is_woven_stands_with_the_weaving(stem: str, on: Paper, pattern: str) -> None:
    plan, composed = plan_for_layout(pattern, stem), card(pattern, stem, on)
    coming = [piece for piece in plan.lengths.pieces if piece.come]
    is_told = "pieces on the loom" in composed.printed
    assert is_told == bool(coming)
    text = words_in(panel(composed, "shuttle"))
    for piece in coming if is_told else ():
        many = (
            f"{piece.come} {NAMES.get(piece.purpose, f'{piece.purpose}s')}" if piece.come > 1 else f"1 {piece.purpose}"
        )
        each = " each" if piece.come > 1 else ""
        assert f"{many}, {round(float(piece.on_loom_mm) / 5) / 2:g} cm{each}" in text
        own, two = (f"{float(piece.fringe_mm) * n / 10:.1f}".removesuffix(".0") for n in (1, 2))
        bare = f", {two} cm bare between two" if piece.come > 1 else f", {own} cm bare at either end"
        assert not piece.fringe_mm or bare in text


@each_handout
@each_hand
@each_pattern
def test_how_long_and_how_wide_is_told_of_a_tape_without_pieces(
    stem: str, on: Paper, left_hand: bool, pattern: str
) -> None:
    plan, composed = plan_for_layout(pattern, stem), card(pattern, stem, on, left_hand)
    if not plan.lengths.pieces_come:
        long = f"Weave about {round(float(plan.lengths.woven_mm) / 10)} cm, "
        assert long in words_in(panel(composed, "shuttle"))


@each_handout
@each_hand
@each_pattern
def test_every_student_reads_how_wide_the_tape_is_and_how_much_to_wind(
    stem: str, on: Paper, left_hand: bool, pattern: str
) -> None:
    """In one line under the name, in both systems of units where they find room."""
    plan, head = plan_for_layout(pattern, stem), panel(card(pattern, stem, on, left_hand), "name")
    told = [word for word in all_words([head]) if word.text.startswith(f"{plan.ends}\N{NO-BREAK SPACE}end")]
    (line,) = {word.y for word in told}
    text = " ".join(word.text.replace("\N{NO-BREAK SPACE}", " ") for word in all_words([head]) if word.y == line)
    metres = f"{float(plan.lengths.wind_mm) / 1000:.2f}".rstrip("0").rstrip(".")
    likely = float(plan.width.likely_mm)
    wide = f"{round(likely * 2) / 2:g}" if likely < 10 else f"{round(likely)}"
    wide = f"{round(likely, 1):g}" if plan.width.basis == "measured" else wide
    assert re.fullmatch(
        rf"{plan.ends} ends · {wide} mm wide · {plan.loom.title} · Wind {metres} m( \([\d.]+ yd\))?", text
    )


# Half sheets that are too full for a third line, or with two boards for air besides.
NO_ROOM_FOR_THREE = {
    ("fair-day", "half-letter"), ("fair-day", "a5"), ("long-sixty", "half-letter"),
    ("long-sixty", "a5"),
}  # fmt: skip


@each_handout
@each_hand
@each_pattern
def test_the_same_troubles_stand_first_on_every_card(stem: str, on: Paper, left_hand: bool, pattern: str) -> None:
    """Loops, which a beginner meets first, and the skipped space; then the crossed ends, but on cards that are full."""
    text = words_in(panel(card(pattern, stem, on, left_hand), "trouble"))
    first = f"{trouble_words.TROUBLE} Loops at an edge? Change, beat, then pull in. Two move as one? "
    assert text.startswith(first)
    is_told = "Shed narrow in one place? Two ends cross: swap them." in text
    assert is_told == ((pattern, on.name) not in NO_ROOM_FOR_THREE)


@each_handout
@each_pattern
def test_what_the_hand_does_first_is_told_on_every_card(stem: str, on: Paper, pattern: str) -> None:
    plan = plan_for_layout(pattern, stem)
    if plan.placement.back is None:
        text = words_in(panel(card(pattern, stem, on), "shuttle"))
        assert ("begin: press the warp DOWN" in text) != ("begin: lift the warp UP" in text)


def test_where_a_tape_comes_from_is_never_said_without_its_label() -> None:
    told = 0
    for stem, on in HANDOUTS:
        for pattern in PATTERNS:
            composed = card(pattern, stem, on)
            for group in panels(composed):
                if group.name == "history":
                    assert words_in(group).startswith("Where it comes from: ")
                    assert "No source recorded" not in words_in(group)
                    told += 1
    assert told > 5


@each_handout
@each_pattern
def test_how_to_begin_stands_on_the_line_of_its_heading(stem: str, on: Paper, pattern: str) -> None:
    """For either hand and seen from behind too: a line of its own would take that of the wraps."""
    plan = plan_for_layout(pattern, stem)
    for view in (plan.view, Viewpoint(left_hand=True), Viewpoint(from_behind=True)):
        made = compose_card(plan_as_seen(plan, view), layout(stem), on, RULER)
        words = list(all_words([panel(made, "shuttle")]))
        (heading,) = (each for each in words if each.text == "Weave")
        (begin,) = (each for each in words if each.text.startswith("begin"))
        assert begin.y == pytest.approx(heading.y)


def test_a_warp_wound_beforehand_gives_its_room_away() -> None:
    """One line to tick in place of the walk; what the tape shows and more than two troubles have the room."""
    on, faces = layout("handout").papers[0], 0
    for pattern in PATTERNS:
        of = plan_for_layout(pattern, "handout")
        wound = compose_handout(Kit(1, of), layout("handout"), on, RULER, "metric", wound_beforehand=True)
        names = {group.name for group in panels(wound)}
        assert {"wound", "board", "shuttle"} <= {name.removesuffix("-first") for name in names}
        faces += "face" in names
        assert "walk" not in names
        assert "1 Wind" in words_in(panel(wound, "wound"))
        if pattern in ("wick", "nine", "two-rails"):
            assert words_in(panel(wound, "trouble")).count("?") > 2
        assert wound.printed >= ALWAYS - {"cross reminder"}  # which is there already
    assert faces >= len(PATTERNS) - 3  # of a few there is no room for it, or it would take the place of the wraps


def test_the_brief_troubles_are_those_of_the_full_list() -> None:
    """One line for each, and damping for yarns that need it only."""
    full, brief = (trouble_words.trouble(is_fuzzy=False, brief=short) for short in (False, True))
    assert len(full) == len(brief) == 6
    for question, answer in brief:
        assert RULER.width_mm(f"{question} ", Face.SANS_SEMIBOLD, 11) + RULER.width_mm(answer, Face.SANS, 11) < 93
    assert sum("damp" in answer for _, answer in trouble_words.trouble(is_fuzzy=True, brief=True)) == 1
    assert not any("damp" in answer for _, answer in brief)


def test_the_first_parts_find_room_before_a_panel_that_may_be_left_out() -> None:
    """Where there is room for the wraps or for a line of history, not for both, it is the wraps."""
    of = layout("handout")
    base = of.papers[0]
    plan = plan_for_layout("two-rails", "handout")
    for height in range(200, 260):
        composed = compose_card(plan, of, Paper("own", base.width_mm, float(height)), RULER)
        if "wraps" in composed.printed:
            break
        assert not {"history", "student"} & composed.printed or "wraps" in composed.left_out
    assert "wraps" in composed.printed


def test_every_line_to_write_on_is_high_enough() -> None:
    """A hand writes in 6 mm: on a crowded card some of them lie between the panels, below the last baseline above."""
    for stem, on in HANDOUTS:
        composed = card("three-paths", stem, on)
        box: Box = panel(composed, "named").box
        assert box.height >= 4.4
        assert box.bottom - max(word.y for word in all_words([panel(composed, "name")])) >= 6.5


def test_without_a_shuttle_nothing_is_said_of_wraps() -> None:
    on = layout("handout").papers[0]
    plan = replace(plan_for_layout("three-paths", "handout"), shuttle=None)
    composed = compose_card(plan, layout("handout"), on, RULER)
    assert "wraps" not in composed.printed | set(composed.left_out)
