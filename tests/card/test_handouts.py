"""The student's cards: what is on the front of every one, in the order of the hands, and what gives way first."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from itertools import cycle, pairwise
from math import atan2, hypot, sin
from typing import NamedTuple

import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.card.sheet import CardOwner
from cardmaker.layout.ink import BLACK, WHITE
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.card_layout import Paper
from cardmaker.model.marks import Box, Dot, Face, Group, Line, Path, Rectangle
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import replace
from cardmaker.model.school_class import Kit
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.reckoning.winding.walk import walk_of
from cardmaker.school.handout_sheets import compose_handout
from cardmaker.wording import peg_words, student_words, trouble_words
from tests.helpers.bracketed_counts import bracketed
from tests.helpers.card_faults import all_words, leaves, panels
from tests.helpers.paper_tools import RULER
from tests.helpers.shipped import PATTERNS, plan_for_layout
from tests.helpers.shipped import shipped_layout as layout

HANDOUTS = [(stem, on) for stem in ("handout", "handout-large") for on in layout(stem).papers]

# Hand written: name line, three steps, closing checks, legend, wraps, and what to do in two troubles.
ALWAYS = {
    "title", "code", "ends", "width", "loom", "warp", "name line", "legend", "weft", "wraps", "face", "stripes", "walk",
    "finish", "cross reminder", "board", "first space", "view", "checks", "shed", "begin", "closeness",
    "trouble",
}  # fmt: skip


class Handout(NamedTuple):
    """One card: which tape, on which sheet, for which hand."""

    pattern: str
    stem: str
    on: Paper
    left_hand: bool = False

    @property
    def plan(self) -> Plan:
        return plan_as_seen(plan_for_layout(self.pattern, self.stem), Viewpoint(self.left_hand))

    @property
    def composed(self) -> Composed:
        return card(self)

    @property
    def panels(self) -> list[Group]:
        return panels(self.composed)

    def panel(self, name: str) -> Group:
        return panel(self.composed, name)

    def text(self, name: str) -> str:
        return words_in(self.panel(name))

    @property
    def walk(self) -> Group:
        """The panel of winding, whichever stands for it."""
        return next(group for group in self.panels if group.name in ("walk", "walk-in-totals"))

    @property
    def cross(self) -> Group:
        (cross,) = [mark for mark in self.walk.marks if isinstance(mark, Group) and mark.name == "cross"]
        return cross


@cache
def card(of: Handout) -> Composed:
    return compose_card(of.plan, layout(of.stem), of.on, RULER)


LAWS: list[Callable[[Handout], None]] = []


def law(holds: Callable[[Handout], None]) -> Callable[[Handout], None]:
    """What every card of every tape keeps: on all sheets, for both hands."""
    LAWS.append(holds)
    return holds


@pytest.mark.parametrize("pattern", PATTERNS)
def test_every_card_of_a_tape_keeps_the_laws(pattern: str) -> None:
    """All laws in one test for a tape, so that each of its cards is made once, whoever runs the others."""
    for stem, on in HANDOUTS:
        for left_hand in (False, True):
            of = Handout(pattern, stem, on, left_hand)
            for holds in LAWS:
                try:
                    holds(of)
                except AssertionError as error:
                    error.add_note(
                        f"{holds.__name__}: {pattern}, {stem} on {on.name}, {'left' if left_hand else 'right'}"
                    )
                    raise


def test_a_law_that_is_broken_is_named_with_its_card(monkeypatch: pytest.MonkeyPatch) -> None:
    def nothing_is_printed(of: Handout) -> None:
        assert not of.composed.printed

    monkeypatch.setitem(globals(), "LAWS", [*LAWS, nothing_is_printed])
    with pytest.raises(AssertionError) as broken:
        test_every_card_of_a_tape_keeps_the_laws("wick")
    assert broken.value.__notes__ == ["nothing_is_printed: wick, handout on half-letter, right"]
    assert len(LAWS) > 20


def words_in(group: Group) -> str:
    return " ".join(word.text.replace("\N{NO-BREAK SPACE}", " ") for word in all_words([group]))


def panel(composed: Composed, name: str) -> Group:
    """The panel, or the one that stands for it on a card too full for all that it tells."""
    return next(group for group in panels(composed) if group.name.removesuffix("-first") == name)


@law
def every_student_has_the_whole_list(of: Handout) -> None:
    printed, pieces = of.composed.printed, of.plan.lengths.pieces_come
    applies = {
        "pickup card": of.pattern == "five-posts",
        "thick ends": of.pattern in ("cord-edge", "three-sparks"),
        "change": of.pattern not in ("bare-thread", "peep-edge"),
        "cross number": of.plan.winding.method == "carry",
        "pieces on the loom": pieces > 0,
        "length to weave": not pieces,
        "between pieces": pieces > 1,
    }
    facts = layout(of.stem).facts
    on_any_loom = {"closeness", "pieces on the loom", "length to weave", "between pieces"}  # as room is there
    assert on_any_loom <= {*facts.room}
    assert {*facts.front} | on_any_loom == {*ALWAYS, *applies}
    assert printed & {*applies} == {fact for fact, is_told in applies.items() if is_told}
    assert "miscount" in printed  # on the usual loom
    assert printed >= ALWAYS
    text = " ".join(words_in(group) for group in of.panels)
    for step in ("1 Wind", "2 Thread", "3 Weave"):
        assert step in text
    troubles = [question for question, _ in trouble_words.trouble(is_fuzzy=True, brief=True) if question in text]
    assert len(troubles) >= 2


# By the way in which a warp of several yarns is wound.
AT_A_CHANGE = {
    "order": r"(At a change: cut, knot the next colour on at the post|(New colour|Change): cut, knot on at the post)\.",
    "carry": r"balls (start at|begin at|from) home.* empty walks? \(dotted\)\..*[Dd]ot = ball waits.* off when done\.",
    "bundle": r"take the ends up in threading order\.",
}


@law
def what_to_do_where_the_yarn_changes_is_told_where_it_does(of: Handout) -> None:
    changes = sum(one != next_one for one, next_one in pairwise(of.plan.end_yarns))
    text = words_in(of.walk)
    said = {way for way, words in AT_A_CHANGE.items() if re.search(words, text)}
    assert said == ({of.plan.winding.method} if changes else set())
    assert ("change" in of.composed.printed) == bool(changes)


@law
def the_cross_is_drawn_beside_the_walk(of: Handout) -> None:
    """Of two threads between two pegs the black one is that of odd ends, the hollow one that of even ones; each ends
    beside the numbers of its ends, and begins close to the name of the picture and to home. The words beside it tell
    it no more."""
    cross = of.cross
    assert words_in(of.walk).count(peg_words.THE_CROSS) == 1
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


# That these are ends is said: a bare number beside a thread might be anything.
NAMED_ENDS = [("ends 1, 3, 5 …", "ends 2, 4, 6 …"), ("ends 1, 3 …", "ends 2, 4 …")]


@law
def both_threads_are_seen_where_they_cross(of: Handout) -> None:
    """Neither is dashed, and of the lower one more is seen between the pegs than the upper one hides."""
    cross = of.cross
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


@law
def where_balls_wait_the_number_of_an_end_decides(of: Handout) -> None:
    """Where two ends in turn go the same way, one sentence says that odd ends cross alike and even ends alike, and that
    the way of walking does not decide."""
    plan = of.plan
    strokes = walk_of(plan.runs, plan.winding.method).strokes if plan.winding.method != "bundle" else ()
    is_mistaken = any(one.start is other.start for one, other in pairwise(strokes))
    pass_alike = r"Odd ends (?:pass A and B as|cross like)(?: end)? 1(?: does)?, even(?: ends as| like)(?: end)? 2, "
    assert bool(re.search(rf"{pass_alike}whichever way you walk\.", words_in(of.walk))) == is_mistaken


@law
def the_words_beside_the_cross_keep_clear_of_it(of: Handout) -> None:
    cross = of.cross
    left, first = label_and_pegs(cross)
    said = [mark for mark in of.walk.marks if isinstance(mark, Group) and mark.role == "paragraph"]
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


@law
def a_key_says_which_opening_is_a_hole(of: Handout) -> None:
    """In the line of the heading over the board, a round sign before the one word and a tall one before the other."""
    board = of.panel("board")
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


@law
def the_parts_stand_in_the_order_of_the_hands(of: Handout) -> None:
    tops = [(group.box.top, group.name) for group in of.panels if group.name != "ribbon"]
    names = [name.replace("walk-in-totals", "walk").removesuffix("-first") for _, name in sorted(tops)]
    names = [name for name in names if name not in ("pickup-line", "thick-ends")]
    assert names[:7] == ["name", "named", "legend", "walk", "board", "shuttle", "trouble"]


@law
def a_handout_has_its_full_margins_and_no_binding(of: Handout) -> None:
    sheet = layout(of.stem)
    assert (sheet.margin_mm, sheet.binding_side, sheet.punch) == (9 if of.stem == "handout" else 12, "none", "none")
    assert min(group.box.left for group in of.panels) == sheet.margin_mm


@pytest.mark.parametrize(("stem", "on"), HANDOUTS, ids=[f"{stem}-{on.name}" for stem, on in HANDOUTS])
def test_the_legend_names_every_yarn_beside_its_swatch(stem: str, on: Paper) -> None:
    composed = card(Handout("fair-day", stem, on))
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


@law
def how_full_to_wind_the_shuttle_comes_before_anything_that_may_be_left_out(of: Handout) -> None:
    assert re.search(r"(\d+ (times|fills)|once|1 fill)\b.* wraps", of.text("legend"))


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


@law
def the_troubles_always_stand_under_their_heading(of: Handout) -> None:
    text = of.text("trouble")
    assert text.startswith(trouble_words.TROUBLE)
    assert text.count("?") >= 2


NAMES = {"sack tie": "sack ties", "apron tie": "apron ties", "shoe tie": "shoe ties", "hat band": "hat bands"}


@law
def which_pieces_and_how_long_each_is_woven_stands_with_the_weaving(of: Handout) -> None:
    coming = [piece for piece in of.plan.lengths.pieces if piece.come]
    text = of.text("shuttle")
    for piece in coming:
        many = (
            f"{piece.come} {NAMES.get(piece.purpose, f'{piece.purpose}s')}" if piece.come > 1 else f"1 {piece.purpose}"
        )
        each = " each" if piece.come > 1 else ""
        assert f"{many}, {round(float(piece.on_loom_mm) / 5) / 2:g} cm{each}" in text
        own, two = (f"{float(piece.fringe_mm) * n / 10:.1f}".removesuffix(".0") for n in (1, 2))
        between = rf", {two} cm bare between( two)? \(cut halfway\), {own} cm at (either end|the ends)\."
        single = rf", {own} cm bare at either end\."
        assert not piece.fringe_mm or re.search(between if piece.come > 1 else single, text)
    row = [piece.fringe_mm for piece in coming for _ in range(piece.come)]
    is_cut = any(one == two == 0 for one, two in pairwise(row))
    cut = re.search(r"Between( two| garters)?: (two|2) picks of another colour; cut (the tape )?there\.", text)
    assert bool(cut) == is_cut
    assert not (cut and any(row)) or of.pattern == "five-posts"


@law
def how_long_and_how_wide_is_told_of_a_tape_without_pieces(of: Handout) -> None:
    if not of.plan.lengths.pieces_come:
        assert f"Weave about {round(float(of.plan.lengths.woven_mm) / 10)} cm, " in of.text("shuttle")


@law
def how_close_it_is_beaten_is_told_with_the_weaving(of: Handout) -> None:
    """About, unless somebody has measured it."""
    weft = of.plan.weft
    about = "" if weft.basis == "measured" else "about "
    assert of.text("shuttle").count(f"{about}{round(float(weft.picks_per_inch))} picks to the inch") == 1


@law
def the_names_of_the_posts_stand_well_apart(of: Handout) -> None:
    """So that the zigzag is as high as two lines of words at the least."""
    home, far = (next(word for word in all_words([of.walk]) if word.text == name) for name in ("home", "far"))
    assert far.y - home.y >= 2.3 * cap_height(far.size)


@law
def no_gap_without_a_leader_lies_between_letters_and_their_bracket(of: Handout) -> None:
    """Letters of one line stand close over their brackets; where narrow stripes have theirs in a second one, a line
    leads down from each of the first."""
    for group in (of.walk, of.panel("board")):
        lines = [mark for mark in leaves(group.marks) if isinstance(mark, Line)]
        for each in bracketed([group]):
            assert each.letters is not None
            gap = each.bar.top - each.letters.y
            x = each.letters.x
            led = any(line.y1 > each.letters.y and line.y2 < each.bar.top and abs(line.x1 - x) < 0.01 for line in lines)
            assert gap < 0.7 * cap_height(each.letters.size) or led or "in turn" in words_in(group)


@law
def every_student_reads_how_wide_the_tape_is_and_how_much_to_wind(of: Handout) -> None:
    """In one line under the name, in both systems of units where they find room."""
    plan, head = of.plan, of.panel("name")
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


@law
def the_same_troubles_stand_first_on_every_card(of: Handout) -> None:
    """Loops, which a beginner meets first, and the skipped space; then the crossed ends."""
    text = of.text("trouble")
    assert text.startswith(f"{trouble_words.TROUBLE} Loops at an edge? Change, beat, then pull in. Two move as one? ")
    is_fullest = of.pattern in ("five-posts", "long-sixty") and of.on.name == "a5"
    assert is_fullest or "Shed narrow in one place? Two ends cross: swap them." in text


@law
def what_the_hand_does_first_is_told_on_every_card(of: Handout) -> None:
    if of.plan.placement.back is None:
        text = of.text("shuttle")
        assert ("begin: press the warp DOWN" in text) != ("begin: lift the warp UP" in text)


@law
def where_a_tape_comes_from_is_never_said_without_its_label(of: Handout) -> None:
    for group in of.panels:
        if group.name == "history":
            assert words_in(group).startswith("Where it comes from: ")
            assert "No source recorded" not in words_in(group)


def test_some_cards_say_where_their_tape_comes_from() -> None:
    (stem, on), *_ = HANDOUTS[2:]
    assert sum("history" in card(Handout(pattern, stem, on)).printed for pattern in PATTERNS) > 3


@law
def how_to_begin_stands_on_the_line_of_its_heading(of: Handout) -> None:
    """A line of its own would take that of the wraps."""
    assert begins_on_heading(of.composed)


def test_seen_from_behind_it_does_so_too() -> None:
    """Tape after tape on all sheets in turn."""
    for pattern, (stem, on) in zip(PATTERNS, cycle(HANDOUTS), strict=False):
        plan = plan_as_seen(plan_for_layout(pattern, stem), Viewpoint(from_behind=True))
        assert begins_on_heading(compose_card(plan, layout(stem), on, RULER)), pattern


def begins_on_heading(made: Composed) -> bool:
    words = list(all_words([panel(made, "shuttle")]))
    (heading,) = (each for each in words if each.text == "Weave")
    (begin,) = (each for each in words if each.text.startswith("begin"))
    return begin.y == pytest.approx(heading.y)


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
        composed = card(Handout("three-paths", stem, on))
        box: Box = panel(composed, "named").box
        assert box.height >= 4.4
        assert box.bottom - max(word.y for word in all_words([panel(composed, "name")])) >= 6.5


def test_without_a_shuttle_nothing_is_said_of_wraps() -> None:
    on = layout("handout").papers[0]
    plan = replace(plan_for_layout("three-paths", "handout"), shuttle=None)
    composed = compose_card(plan, layout("handout"), on, RULER)
    assert "wraps" not in composed.printed | set(composed.left_out)
