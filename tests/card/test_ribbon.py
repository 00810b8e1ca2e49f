"""The ribbon in its column, the notch that gauges the tape, and the marks for holes and folds."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import pairwise
from typing import Literal

import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.card.margin_marks import LEAST_CUT, fold_marks, punch_marks
from cardmaker.card.panels.ribbon_panel import BAND, RIBBON_MOST, ribbon_cut
from cardmaker.layout.type_setting import cap_height
from cardmaker.layout.woven_face import pick_height
from cardmaker.model.card_layout import BindingSide, CardLayout, Paper
from cardmaker.model.marks import Box, Group, Line, Path, Rectangle, Stamp, Words
from cardmaker.model.plan import Plan
from cardmaker.model.problems import Refusal
from cardmaker.model.record_class import replace
from cardmaker.wording import ribbon_words
from cardmaker.wording.phrases import NO_BREAK
from cardmaker.wording.title_words import likely_width
from tests.helpers.card_faults import all_words, extent, leaves, panels, struck, too_small
from tests.helpers.paper_tools import RULER, composed, overlap
from tests.helpers.shipped import PATTERNS
from tests.helpers.shipped import paper_of as paper
from tests.helpers.shipped import plan_of as plan
from tests.helpers.shipped import shipped_layout as layout

SIGN = "visitor"  # which shows all of a tape to whoever has never seen one
WITH_RIBBON = [(stem, on) for stem in ("record", "handout", "handout-large", "visitor") for on in layout(stem).papers]
each_ribbon = pytest.mark.parametrize(("stem", "on"), WITH_RIBBON, ids=[f"{s}-{on.name}" for s, on in WITH_RIBBON])
SAID = [(stem, on) for stem, on in WITH_RIBBON if stem != SIGN]  # whose ribbon is a sign: it says so in words
each_said = pytest.mark.parametrize(("stem", "on"), SAID, ids=[f"{s}-{on.name}" for s, on in SAID])
WITH_NOTCH = [(stem, on) for stem, on in WITH_RIBBON if layout(stem).notch]
each_notch = pytest.mark.parametrize(("stem", "on"), WITH_NOTCH, ids=[f"{s}-{on.name}" for s, on in WITH_NOTCH])


def as_wide(of: Plan, mm: float) -> Plan:
    """The same tape of another yarn."""
    likely = Fraction(mm)
    return replace(of, width=replace(of.width, likely_mm=likely, low_mm=likely * 7 / 8, high_mm=likely * 9 / 8))


def ribbon(card: Composed) -> Group:
    return next(group for group in panels(card) if group.name == "ribbon")


def notch(card: Composed) -> Group | None:
    """The drawing of the notch, out of its panel."""
    found = [mark for mark in card.page.marks if isinstance(mark, Group) and mark.name == "notch"]
    return next((mark for panel in found for mark in panel.marks if isinstance(mark, Group)), None)


def woven(group: Group) -> Stamp:
    return next(mark for mark in leaves(group.marks) if isinstance(mark, Stamp))


# The ribbon


@pytest.mark.parametrize(
    ("mm", "wanted"),
    [(3, (3, 1, False)), (18, (18, 1, False)), (18.5, (9.25, 1, True)), (36, (18, 1, True)), (40, (18, 0.45, False))],
)
def test_a_tape_that_is_the_same_from_both_edges_is_cut_before_it_is_made_smaller(
    mm: float, wanted: tuple[float, float, bool]
) -> None:
    cut = ribbon_cut(as_wide(plan("three-paths"), mm))
    assert (cut.width, cut.scale, cut.is_half) == pytest.approx(wanted)


@pytest.mark.parametrize("pattern", ["off-side", "three-paths"])
def test_a_tape_with_two_unlike_halves_is_never_cut(pattern: str) -> None:
    """Off Side differs from edge to edge; Three Paths with a figure that does."""
    of = as_wide(plan(pattern), 24)
    if pattern == "three-paths":
        with_figure = plan("five-posts").pickup
        assert with_figure
        of = replace(of, pickup=replace(with_figure, same_both_ways=False))
    assert ribbon_cut(of).scale == pytest.approx(18 / 24)
    assert not ribbon_cut(of).is_half


@each_ribbon
def test_no_ribbon_is_wider_than_18_mm(stem: str, on: Paper) -> None:
    of = plan("three-paths")
    lefts = set()
    for mm in (3, 8, 16, 18, 25, 36, 61, 120):
        card = composed(as_wide(of, mm), stem, on)
        clip = woven(ribbon(card)).clip
        is_cut = mm in (25, 36) and stem != SIGN  # which shows all of the tape
        assert clip.width == pytest.approx(mm / 2 if is_cut else min(mm, 18))
        lefts.add(round(min(group.box.left for group in panels(card) if group.name != "ribbon"), 6))
    assert len(lefts) == 1  # texts begin at one edge, whatever the tape


@each_ribbon
@pytest.mark.parametrize("mm", [3, 16, 25, 61])
def test_a_ribbon_begins_and_ends_at_a_whole_pick(stem: str, on: Paper, mm: float) -> None:
    """Half a pick at its edge would seem to be a narrower one; the line of a middle ends where the picks do."""
    of = as_wide(plan("three-paths"), mm)
    drawn, scale = ribbon(composed(of, stem, on)), 18 / 61 if mm == 61 else 1.0
    scale = scale if mm != 25 or stem != SIGN else 18 / 25
    face = woven(drawn)
    picks = face.clip.height / (pick_height(of) * scale)
    assert picks == pytest.approx(round(picks), abs=1e-6)
    chained = [mark for mark in leaves(drawn.marks) if isinstance(mark, Line) and len(mark.dash) == 4]
    assert [line.y2 for line in chained] == pytest.approx([face.clip.bottom] * len(chained))


@each_said
def test_what_is_cut_or_made_smaller_says_so(stem: str, on: Paper) -> None:
    def said(of: Plan) -> tuple[str, str]:
        group = ribbon(composed(of, stem, on))
        (drawn,) = [mark for mark in group.marks if isinstance(mark, Group) and mark.role == "figure"]
        return " ".join(word.text for word in all_words(group.marks)), drawn.alt

    whole, half, smaller = (said(as_wide(plan(name), mm)) for name, mm in WIDE_AND_NARROW)
    assert "half" not in whole[0]
    assert "at life size" in whole[1]
    if stem == SIGN:
        for wide, drawn in (half, smaller):
            assert wide == ""
            assert "drawn at 75 percent" in drawn
        text = " ".join(word.text for word in all_words(composed(as_wide(plan("off-side"), 24), stem, on).page.marks))
        assert "about 24 mm, drawn smaller." in text.replace(NO_BREAK, " ")
        return
    assert "left half" in half[0]
    assert "cut at the middle" in half[1]
    assert "drawn at 75\N{NO-BREAK SPACE}%" in smaller[0]
    assert "drawn at 75 percent" in smaller[1]
    assert "Below it, for checking the print, a bar of" in smaller[1]
    assert not any("gauge" in text for text in (*half, *smaller))


@each_said
def test_what_is_said_of_a_tape_stands_over_it_and_the_scale_begins_where_it_does(stem: str, on: Paper) -> None:
    """A whole tape begins with its column. Beside one that is drawn smaller stands no scale, which would mislead."""
    for name, mm in WIDE_AND_NARROW:
        of = as_wide(plan(name), mm)
        card = composed(of, stem, on)
        group = ribbon(card)
        tape = woven(group).clip
        said = [word for word in all_words(group.marks) if re.match(r"left half|drawn at$|\d+\s%$", word.text)]
        assert len(said) == (0 if mm == 16 else 1 if ribbon_cut(of).is_half else 2)
        size = layout(stem).type_sizes.smallest
        title = min(panel.box.left for panel in panels(card) if panel.name != "ribbon")
        assert all(word.x + RULER.width_mm(word.text, word.face, size) < title - 4 for word in said)
        head = tape.top - BAND
        assert head == pytest.approx(group.box.top, abs=0.2) if mm == 16 else head > group.box.top + 3
        for word in said:
            assert not word.turned
            assert word.y - word.size * 0.233 > group.box.top - 0.01
            assert word.y + word.size * 0.09 < head
        upright = [line for line in leaves(group.marks) if isinstance(line, Line) and line.x1 == line.x2]
        (bar, *_) = sorted((line for line in upright if not line.dash), key=lambda line: line.y1)
        if ribbon_cut(of).scale < 1:
            assert bar.y1 > tape.bottom + 2
            assert bar.x1 == pytest.approx(tape.left + RIBBON_MOST + 1)  # not flush with what it does not measure
            assert "for checking the print" in [word.text for word in all_words(group.marks)]
            assert bar.y2 - bar.y1 in (pytest.approx(100), pytest.approx(50))
        else:
            assert bar.y1 == pytest.approx(head, abs=0.2)


def test_stripes_of_one_end_over_the_picks_are_no_block_of_outlines() -> None:
    group = ribbon(composed(plan("half-and-half"), "record"))
    top = group.box.top
    band = [mark for mark in leaves(group.marks) if isinstance(mark, Rectangle) and mark.box.bottom <= top + BAND + 0.1]
    outlined = [mark.box.width for mark in band if mark.stroke]
    assert min(outlined) > 1
    assert any(mark.fill and mark.box.width < 1.2 for mark in band)


WIDE_AND_NARROW = (("three-paths", 16), ("three-paths", 24), ("off-side", 24))


def test_the_middle_of_half_a_tape_is_marked() -> None:
    """A chain line at the cut, from the head of the tape to its foot."""
    group = ribbon(composed(as_wide(plan("three-paths"), 24), "record"))
    tape = woven(group).clip
    (middle,) = [line for line in leaves(group.marks) if isinstance(line, Line) and line.dash]
    assert middle.x1 == middle.x2 == pytest.approx(tape.left + 12.8)  # white paper between
    assert middle.y1 < tape.top - BAND
    assert middle.y2 == pytest.approx(tape.bottom)  # which may be the margin


@pytest.mark.parametrize("pattern", ["three-paths", "grey-trap", "fair-day", "treadle-ladder", "bare-thread"])
def test_the_stripes_over_the_picks_lie_over_their_ends(pattern: str) -> None:
    of, group = plan(pattern), ribbon(composed(plan(pattern), "record"))
    tape = woven(group).clip
    fills = [mark for mark in leaves(group.marks) if isinstance(mark, Rectangle) and mark.fill]
    end = tape.width / of.ends * (2 if ribbon_cut(of).is_half else 1)
    wanted = [tape.left + (run.first_end - 1) * end for run in of.runs]
    wanted = [left for left in wanted if left < tape.right - 1e-6]
    assert [mark.box.left for mark in fills] == pytest.approx(wanted, abs=0.2)
    assert fills[-1].box.right == pytest.approx(tape.right, abs=0.2)
    assert all(mark.box.bottom <= tape.top + 1e-6 for mark in fills)
    inks = {mark.fill for mark in fills}
    assert len(inks) == len({of.pattern.yarn(run.yarn).colour for run in of.runs})


def test_ends_too_narrow_for_a_line_round_each_have_one_round_them_all() -> None:
    """31 ends in 16 mm are half a millimetre each; 60 ends in 12 mm a fifth."""
    for of, is_outlined in ((plan("three-paths"), True), (as_wide(plan("long-sixty"), 12), False)):
        group = ribbon(composed(of, "record"))
        floats = [mark for mark in woven(group).marks if isinstance(mark, Path) and mark.fill]
        assert floats
        assert all(bool(mark.stroke) == is_outlined for mark in floats)
        rectangles = [mark for mark in leaves(group.marks) if isinstance(mark, Rectangle) and not mark.fill]
        around = [mark for mark in rectangles if not mark.dash and mark.box.height > 50]
        assert len(around) == (0 if is_outlined else 1)


def test_the_sample_window_is_wide_enough_for_a_narrow_tape() -> None:
    for mm in (3, 16, 24):
        group = ribbon(composed(as_wide(plan("three-paths"), mm), "record"))
        (frame,) = [mark for mark in leaves(group.marks) if isinstance(mark, Rectangle) and mark.dash]
        assert (frame.box.width, frame.box.height) == pytest.approx((RIBBON_MOST, 30))
        inside = [word.text for word in all_words(group.marks) if frame.box.top < word.y < frame.box.bottom]
        assert " ".join(inside) == ribbon_words.SAMPLE  # nothing else stands in or beside it
        assert "sample" not in ribbon_words.SAMPLE


def test_a_tape_too_wide_for_half_lies_across_the_page() -> None:
    """At life size, edge to edge, where there is room."""
    of, on = layout("handout-large"), paper("handout-large", "letter")
    assert "strip" in of.panels
    roomy = replace(of, rows=tuple(row for row in of.rows if row[0].panel in ("name", "strip")))
    card = compose(roomy, on, as_wide(plan("off-side"), 61))
    (strip,) = [group for group in panels(card) if group.name == "strip"]
    assert woven(strip).clip.width == pytest.approx(61)
    assert ribbon_words.WHOLE_WIDTH in " ".join(word.text for word in all_words([strip])).replace(NO_BREAK, " ")
    for narrow in (plan("off-side"), as_wide(plan("three-paths"), 24)):
        assert not any(group.name == "strip" for group in panels(compose(roomy, on, narrow)))


# The notch


@each_notch
@pytest.mark.parametrize("pattern", PATTERNS)
def test_the_notch_is_as_wide_as_the_tape_and_clear_of_everything(stem: str, on: Paper, pattern: str) -> None:
    of = plan(pattern)
    card = composed_or_named(of, stem, on)
    group = notch(card)
    assert group
    assert notch_faults(group, card, of, stem, on) == []
    assert "notch" in card.printed


def composed_or_named(of: Plan, stem: str, on: Paper) -> Composed:
    """The card, or its first row alone where a small one holds no more: the notch takes its place before all else."""
    try:
        return composed(of, stem, on)
    except Refusal:
        return compose(replace(layout(stem), rows=layout(stem).rows[:1]), on, of)


@each_notch
@pytest.mark.parametrize("mm", [1.5, 3, 5.9, 6, 36, 60])
def test_a_notch_for_a_very_narrow_or_a_wide_tape(stem: str, on: Paper, mm: float) -> None:
    of = as_wide(plan("three-paths"), mm)
    card = composed(of, stem, on)
    group = notch(card)
    assert group
    assert notch_faults(group, card, of, stem, on) == []


def notch_faults(group: Group, card: Composed, of: Plan, stem: str, on: Paper) -> list[str]:
    """Its lines and marks where they belong, its words whole and in the layout's type, nothing of it over others."""
    lines = [line for line in group.marks if isinstance(line, Line)]
    if of.width.likely_mm < LEAST_CUT:
        return [*line_faults(lines, of), *word_faults(group, of, stem), *reach_faults(group, card, stem, on)]
    cut = [line for line in lines if line.dash and line.y1 == line.y2]
    limits = sorted(line.y1 for line in lines if not line.dash)
    found = []
    tops = sorted(line.y1 for line in cut)
    wide = [float(each) for each in (of.width.low_mm, of.width.likely_mm, of.width.high_mm)]
    if tops[1] - tops[0] != pytest.approx(wide[1], abs=1e-6):
        found.append("not as wide as the tape")
    if [limits[2] - limits[1], limits[3] - limits[0]] != pytest.approx([wide[0], wide[2]], abs=1e-6):
        found.append("limits are off")
    return found + word_faults(group, of, stem) + reach_faults(group, card, stem, on)


def line_faults(lines: list[Line], of: Plan) -> list[str]:
    """A narrow tape has one upright line as long as it is wide, nothing dashed, and a bar across either end."""
    upright = [line for line in lines if line.x1 == line.x2]
    bars = [line.y1 for line in lines if line.y1 == line.y2]
    if any(line.dash for line in lines) or len(upright) != 1 or len(bars) != 2:
        return ["no line alone"]
    (one,) = upright
    is_true = one.y2 - one.y1 == pytest.approx(float(of.width.likely_mm), abs=1e-6) and bars == [one.y1, one.y2]
    return [] if is_true else ["not as long as the tape is wide"]


def word_faults(group: Group, of: Plan, stem: str) -> list[str]:
    words = " ".join(word.text for word in all_words([group]))
    wide = likely_width(of.width, "metric", alone=True)
    if of.width.likely_mm < LEAST_CUT:
        uses = [f"as wide: {wide}", f"gauge, {wide}: lay the tape across the line"]
    else:
        uses = [f"cut out: {wide}", f"gauge, {wide}: cut out the dashed part, lay it on the tape"]
    found = [] if any(use in words for use in uses) else [f"its words are {words}"]
    return [*found, *too_small([group], layout(stem).type_sizes.smallest), *struck([group])]


def reach_faults(group: Group, card: Composed, stem: str, on: Paper) -> list[str]:
    boxes = [box for mark in leaves(group.marks) if (box := extent(mark))]
    page = Box(0, 0, on.width_mm, on.height_mm).inset(6.4, 6.4, 6.4, 6.4)
    found = [f"{box} leaves the page" for box in boxes if not page.holds(box)]
    found += [f"{box} leaves its box" for box in boxes if not group.box.inset(-0.3, -0.3, -0.3, -0.3).holds(box)]
    holes = [extent(mark) for mark in punch_marks(layout(stem), on)]
    others = [box for panel in panels(card) for mark in leaves(panel.marks) if (box := extent(mark))]
    for box in boxes:
        found += [f"{box} over {other}" for other in (*others, *holes) if other and overlap(box, other)]
    return found


@each_notch
def test_a_notch_too_small_is_found(stem: str, on: Paper) -> None:
    of = plan("three-paths")
    card = composed(of, stem, on)
    group = notch(card)
    assert group
    assert notch_faults(group, card, as_wide(of, 15), stem, on)
    shifted = replace(group, marks=(*group.marks, Words(on.width_mm / 2, on.height_mm / 2, "here", *WORD_IN_TITLE)))
    assert reach_faults(shifted, card, stem, on)


WORD_IN_TITLE = (next(iter(all_words(composed(plan("three-paths"), "record").page.marks))).face, 9.0)


def test_the_notch_is_on_the_edge_away_from_the_binding() -> None:
    of, on = layout("record"), paper("record", "letter")
    edges: tuple[tuple[BindingSide, float], ...] = (("left", on.width_mm), ("right", 0.0))
    for side, edge in edges:
        group = notch(compose(replace(of, binding_side=side), on))
        assert group
        nearest = min(abs(edge - x) for line in group.marks if isinstance(line, Line) for x in (line.x1, line.x2))
        assert nearest == pytest.approx(6.7)


def compose(of: CardLayout, on: Paper, wanted: Plan | None = None) -> Composed:
    return compose_card(wanted or plan("three-paths"), of, on, RULER)


def test_a_layout_without_a_notch_or_without_room_has_none() -> None:
    of, on = layout("record"), paper("record", "letter")
    assert notch(compose(replace(of, notch=False), on)) is None
    bound = replace(layout("visitor"), binding_side="left", binding_mm=10.0)  # neither in 6 mm nor at the binding
    assert notch(compose(bound, paper("visitor", "a6"))) is None


# Holes and folds


def crosses(of: CardLayout, on: Paper) -> list[tuple[float, float]]:
    """The middle of every cross, and that it is one: two short strokes that halve each other."""
    lines = [mark for mark in punch_marks(of, on) if isinstance(mark, Line)]
    found = []
    for level, upright in zip(lines[::2], lines[1::2], strict=True):
        assert level.x2 - level.x1 == pytest.approx(upright.y2 - upright.y1)
        found.append(((level.x1 + level.x2) / 2, (upright.y1 + upright.y2) / 2))
        assert found[-1] == pytest.approx((upright.x1, level.y1))
    return found


@pytest.mark.parametrize(
    ("punch", "from_edge", "apart", "holes"),
    [("us three", 12.7, 107.95, 3), ("iso two", 12, 80, 2), ("iso four", 12, 80, 4)],
)
@pytest.mark.parametrize("side", ["left", "right"])
def test_crosses_stand_where_holes_are_punched(
    punch: Literal["us three", "iso two", "iso four"], from_edge: float, apart: float, holes: int, side: BindingSide
) -> None:
    """US: 4 1/4 in apart; ISO 838: 80 mm apart and 12 mm from the edge; all about the middle of the height."""
    on = paper("record", "a4")
    found = crosses(replace(layout("record"), punch=punch, binding_side=side), on)
    assert len(found) == holes
    edge = 0.0 if side == "left" else on.width_mm
    assert all(abs(x - edge) == pytest.approx(from_edge) for x, _ in found)
    assert [two[1] - one[1] for one, two in pairwise(found)] == pytest.approx([apart] * (holes - 1))
    assert sum(y for _, y in found) / holes == pytest.approx(on.height_mm / 2)


def test_no_cross_stands_where_something_is_printed() -> None:
    of, on = layout("record"), paper("record", "letter")
    assert crosses(replace(of, binding_mm=12.0), on) == []
    assert crosses(replace(of, binding_side="none"), on) == []
    assert crosses(replace(of, punch="none"), on) == []
    assert crosses(of, Paper("low", 150.0, 200.0)) == []  # a sheet lower than the row of holes


def test_the_corner_of_a_small_card_is_marked() -> None:
    """Where the margins meet; no type stands within the widest hole, 4 mm from there, nor level with its cross."""
    on, inside = paper("field", "4x6"), layout("field").margin_mm
    assert crosses(layout("field"), on) == [pytest.approx((on.width_mm - inside, inside))]
    marks = composed(plan("wick"), "field").page.marks
    assert any(isinstance(mark, Group) and mark.name == "punch" for mark in marks)
    for pattern in PATTERNS:
        for word in all_words(composed(plan(pattern), "field").page.marks):
            box, capitals = extent(word), word.y - cap_height(word.size)
            assert box
            assert box.right <= on.width_mm - inside - 4 or capitals > inside + 4, (pattern, word.text)
            middle = (capitals + word.y) / 2
            assert box.right < on.width_mm - inside - 10 or middle > inside + 1.5, (pattern, word.text)


def test_a_card_of_two_halves_is_marked_where_it_is_folded() -> None:
    on = paper("field-folded", "half-letter")
    of = layout("field-folded")
    folded = of if of.other_half else replace(of, other_half=of.rows)
    marks = fold_marks(folded, on)
    assert {mark.x1 for mark in marks if isinstance(mark, Line)} == {on.width_mm / 2}
    boxes = [extent(mark) for mark in marks]
    assert len(boxes) == 2
    for box in boxes:
        assert box
        assert box.top >= 4.2
        assert on.height_mm - box.bottom >= 4.2
        assert box.bottom <= of.margin_mm + 1e-6 or box.top >= on.height_mm - of.margin_mm - 1e-6
    assert fold_marks(layout("field"), paper("field", "4x6")) == []
