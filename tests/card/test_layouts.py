"""Every card layout with every pattern on every loom that holds it, for either hand: what each page must have.

The whole product is composed; files are made of every pattern on the smallest loom that holds it.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cache
from math import ceil, hypot
from pathlib import Path

import pypdfium2
import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import card_making, loading
from cardmaker.layout.woven_face import pick_height
from cardmaker.model.card_layout import CardLayout, PanelPlace, Paper
from cardmaker.model.marks import Box, Group, Line, Mark, Rectangle, Stamp, Words
from cardmaker.model.plan import Plan
from cardmaker.model.problems import Refusal
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.wording.formatters import Units
from cardmaker.wording.heddle_words import thick_ends_first
from tests.helpers.card_faults import all_words, extent, leaves, missing_essentials, panels, too_small
from tests.helpers.paper_tools import RULER, composed
from tests.helpers.places import shipped_in
from tests.helpers.record_cards import CASES
from tests.helpers.samples import EVERY_CASE, part_of
from tests.helpers.shipped import SLIPS
from tests.helpers.shipped import paper_of as paper
from tests.helpers.shipped import plan_of as plan
from tests.helpers.shipped import shipped_layout as layout

LAYOUTS = (
    "record", "bench", "handout", "handout-large", "field", "field-folded", "six-numbers", "visitor", "pick-up",
    "dressing", "dressing-brief", "handout-wind", "handout-dress", "handout-weave",
)  # fmt: skip
ON_LOOMS = [(pattern, loom) for pattern, loom, on in CASES if on == "letter"]
PATTERNS = list(dict.fromkeys(pattern for pattern, _ in ON_LOOMS))
EDGE_MM = 0.3  # half of the heaviest stroke may stand over the line

each_layout = pytest.mark.parametrize("stem", LAYOUTS)
each_hand = pytest.mark.parametrize("hand", ["right", "left"])


@cache
def faults(stem: str, hand: str) -> dict[str, list[str]]:
    """What is wrong with all cards of a layout for one hand, by the law that it breaks. Composed once for all laws."""
    of, found = layout(stem), defaultdict[str, list[str]](list)
    for pattern, loom, on in sheets(of, hand):
        name, wanted = f"{pattern} on {loom}, {on.name}", plan(pattern, loom)
        try:
            card = composed(wanted, stem, on, left_hand=hand == "left")
        except Refusal as refusal:
            found["refused"].append(f"{name}: {refusal}")
            continue
        if (card.page.width_mm, card.page.height_mm) != (on.width_mm, on.height_mm):
            found["size"].append(name)
        found["essential"] += [f"{name}: no {panel}" for panel in missing(card, of, wanted)]
        found["type"] += [f"{name}: {small}" for small in too_small(panels(card), of.type_sizes.smallest)]
        found["margins"] += [f"{name}: {far}" for far in beyond(card, of, on)]
        found["holes"] += [f"{name}: {panel}" for panel in punched(inks(card), [*us_three(on), *iso_two(on)])]
        found["corner"] += [f"{name}: {panel}" for panel in punched(inks(card), [(on.width_mm - 6, 6, 3.0)])]
    return found


def sheets(of: CardLayout, hand: str) -> Iterator[tuple[str, str, Paper]]:
    """Every pattern on every loom that holds it. A small card is tried on all of its papers, which are soon full; a
    large one on its papers in turn, with the left hand on the one that the right hand did not have; the left hand on
    every second of the larger looms."""
    smallest = dict(reversed(ON_LOOMS))  # of each pattern, the first
    for number, (pattern, loom) in enumerate(ON_LOOMS):
        if hand == "left" and number % 2 and smallest[pattern] != loom and not EVERY_CASE:
            continue
        if max(paper.height_mm for paper in of.papers) < 160:
            yield from ((pattern, loom, on) for on in of.papers)
        else:
            yield pattern, loom, of.papers[(number + (hand == "left")) % len(of.papers)]


# One page with all that is essential


def test_the_layouts_are_all_there_are() -> None:
    assert {path.stem for path in shipped_in("layouts/cards")} == {*LAYOUTS, *SLIPS}
    assert len(PATTERNS) == 27
    assert len(ON_LOOMS) == 10 + 23 + 25 + 25


@each_hand
@each_layout
def test_every_card_can_be_made(stem: str, hand: str) -> None:
    assert faults(stem, hand)["refused"] == []
    assert faults(stem, hand)["size"] == []


@each_hand
@each_layout
def test_every_page_has_all_that_is_essential(stem: str, hand: str) -> None:
    assert faults(stem, hand)["essential"] == []


def missing(card: Composed, of: CardLayout, wanted: Plan) -> set[str]:
    """The essential panels that are not there, and panels that are there but empty. Notes, changes, thick ends, pieces
    and a figure may be missing from the card of a plan that has none; what the heddle's words say is not said twice."""
    found = missing_essentials(card, of)
    if not any(note.kind != "caution" and note.about not in ("loom", "shift") for note in wanted.notes):
        found -= {"notes"}
    if not wanted.lengths.pieces_come:
        found -= {"pieces"}
    if not wanted.pattern.changes:
        found -= {"changes"}
    if not thick_ends_first(wanted, "metric"):
        found -= {"thick-ends"}
    if wanted.pickup is None:
        found -= {"pickup", "pickup-line"}
    if not wanted.pattern.changes:
        found -= {"changes"}
    if not thick_ends_first(wanted, "metric"):
        found -= {"thick-ends"}
    empty = {group.name for group in panels(card) if not any(leaves(group.marks))}
    if wanted.placement.back:  # the layouts list the last turns among what there may be room for
        empty -= {*(["ticks-if-room"] if of.other_half else [])}
    return found | empty


def test_an_essential_panel_that_is_not_there_is_found() -> None:
    of, wanted = layout("field"), plan("three-paths")
    card = composed(wanted, "field")
    assert missing(card, of, wanted) == set()
    more = replace(of, rows=(*of.rows, (PanelPlace("board", 12, 1, essential=True),)))
    assert missing(card, more, wanted) == {"board"}


@each_hand
@each_layout
def test_no_type_is_smaller_than_the_smallest(stem: str, hand: str) -> None:
    assert faults(stem, hand)["type"] == []


@each_hand
@each_layout
def test_every_file_has_one_page(stem: str, hand: str) -> None:
    for pattern in part_of(PATTERNS, 3, f"{stem} {hand}"):
        seen = plan_as_seen(plan(pattern), Viewpoint(hand == "left"))
        card = card_making.make_card(seen, layout(stem), paper(stem), None)
        assert len(pypdfium2.PdfDocument(card.pdf)) == 1


# Margins, rings and holes


def inks(card: Composed) -> Iterator[tuple[str, Mark, Box]]:
    """Everything that leaves ink, with its panel; a white plate behind words, or a white line, leaves none."""
    for group in panels(card):
        for mark in leaves(group.marks):
            if isinstance(mark, Rectangle) and mark.fill == "#ffffff" and not mark.stroke:
                continue
            if isinstance(mark, Line) and mark.colour == "#ffffff":
                continue
            if (box := extent(mark)) is not None:
                yield group.name, mark, box


def beyond(card: Composed, of: CardLayout, on: Paper) -> list[str]:
    """What reaches into the margins or the binding side."""
    page = of.printable(on).inset(-EDGE_MM, -EDGE_MM, -EDGE_MM, -EDGE_MM)
    return [f"{name}: {said(mark)}" for name, mark, box in inks(card) if not page.holds(box)]


def said(mark: Mark) -> str:
    return f"'{mark.text}'" if isinstance(mark, Words) else type(mark).__name__


@each_hand
@each_layout
def test_margins_and_the_binding_side_stay_empty(stem: str, hand: str) -> None:
    assert faults(stem, hand)["margins"] == []


@pytest.mark.parametrize(
    ("stem", "margin_mm", "binding_mm"),
    [
        ("record", 12, 25),  # Letter and A4: 12 mm all round, 25 mm on the binding side
        ("bench", 12, 25),
        ("handout", 9, 0),  # half-letter and A5: 9 mm all round, not punched
        ("handout-large", 12, 0),
        ("field", 6, 0),  # index cards: 6 mm, the least that a printer reaches
        ("six-numbers", 6, 0),
    ],
)
def test_the_margins_are_those_of_the_paper(stem: str, margin_mm: float, binding_mm: float) -> None:
    of = layout(stem)
    assert (of.margin_mm, of.binding_mm) == (margin_mm, binding_mm)
    for on in of.papers:
        page = of.printable(on)
        assert page.left == max(margin_mm, binding_mm)
        assert on.width_mm - page.right == margin_mm
        assert page.top == pytest.approx(on.height_mm - page.bottom)
        if on.name == "a4":  # as much of its height as comes whole out of a sheet of Letter: 279.4 - 2 * 6.5 = 266.4
            assert page.height == pytest.approx(266.4)
        else:
            assert page.top == margin_mm


Hole = tuple[float, float, float]  # middle from the left and the top, radius


def us_three(on: Paper) -> list[Hole]:
    """Centres 108 mm (4 1/4 in) apart, the middle one at half the height. How far from the edge differs from punch to
    punch: 8 mm holes up to 20 mm from the edge are tried."""
    return [(x, on.height_mm / 2 + y, 4.0) for x in (9.5, 12.7, 20.0) for y in (-108, 0, 108)]


def iso_two(on: Paper) -> list[Hole]:
    """ISO 838 (from memory): two holes of 6 mm, centres 80 mm apart and 12 mm from the edge."""
    return [(12.0, on.height_mm / 2 + y, 3.0) for y in (-40, 40)]


def punched(found: Iterable[tuple[str, Mark, Box]], holes: Iterable[Hole]) -> set[str]:
    """The panels that a punch goes through."""
    holes = list(holes)
    return {name for name, _, box in found if any(_through(box, hole) for hole in holes)}


def _through(box: Box, hole: Hole) -> bool:
    x, y, radius = hole
    return hypot(max(box.left - x, 0, x - box.right), max(box.top - y, 0, y - box.bottom)) < radius


@each_hand
@pytest.mark.parametrize("stem", ["record", "bench"])
def test_a_punch_goes_through_no_word(stem: str, hand: str) -> None:
    """Neither a US punch nor an ISO one, on either paper."""
    assert faults(stem, hand)["holes"] == []


def test_a_punch_through_the_other_side_is_found() -> None:
    """The tests of holes can fail: on the right there is something to punch through."""
    on, card = paper("record", "letter"), composed(plan("three-paths"), "record")
    assert punched(inks(card), [(on.width_mm - x, y, radius) for x, y, radius in us_three(on)])
    assert punched(inks(card), [(on.width_mm - x - 3, y, radius) for x, y, radius in iso_two(on)])
    assert beyond(card, replace(layout("record"), binding_mm=26.0), on)


@each_hand
def test_a_field_card_has_a_corner_to_hang_it_by(hand: str) -> None:
    """Its file says ``punch: corner``: 6 mm wide, its middle in the upper corner of the margins on the right."""
    assert faults("field", hand)["corner"] == []


def test_the_corner_is_punched_where_its_cross_stands() -> None:
    for on in layout("field").papers:
        groups = [mark for mark in composed(plan("three-paths"), "field", on).page.marks if isinstance(mark, Group)]
        arms = [line for group in groups if group.name == "punch" for line in group.marks if isinstance(line, Line)]
        crosses = [((line.x1 + line.x2) / 2, (line.y1 + line.y2) / 2) for line in arms]
        assert crosses == [pytest.approx((on.width_mm - 6, 6))] * 2


# The left hand


@pytest.mark.parametrize("stem", ["record", "handout", "handout-large", "visitor"])
def test_the_tape_is_the_same_for_either_hand(stem: str) -> None:
    """Off Side differs from edge to edge: its tape must not be mirrored with the drawing."""
    for pattern in ("off-side", "half-and-half", "treadle-ladder", "three-paths"):
        right, left = (
            {group.name: group for group in panels(composed(plan(pattern), stem, left_hand=hand))}
            for hand in (False, True)
        )
        assert right["ribbon"] == left["ribbon"]


@pytest.mark.parametrize("pattern", ["off-side", "half-and-half", "stair", "treadle-ladder", "five-posts"])
def test_the_face_is_the_same_for_either_hand(pattern: str) -> None:
    """The face may stand a little higher or lower on the other card, and show a pick more; the picks are the same."""
    of = plan(pattern)
    right, left = (woven(panel(composed(of, "record", left_hand=hand), "face"), of) for hand in (False, True))
    both = min(len(right), len(left))
    assert both >= 2
    assert right[:both] == left[:both]


def test_a_face_that_is_turned_over_would_be_found() -> None:
    of = plan("off-side")
    turned = replace(of, end_yarns=of.end_yarns[::-1])
    right, wrong = (woven(panel(composed(each, "record"), "face"), of) for each in (of, turned))
    assert right != wrong


def woven(face: Group, of: Plan) -> list[list[tuple[str, str, tuple[float, ...]]]]:
    """The picks from the first, the lowest one, upwards: what is drawn, in which colour, and where in its pick.

    Hatching is left out: its lines keep step over the whole page, wherever the face stands."""
    (stamp,) = (mark for mark in leaves(face.marks) if isinstance(mark, Stamp))
    pick = pick_height(of) * stamp.clip.width / float(of.width.likely_mm)
    unit: dict[int, list[tuple[str, str, tuple[float, ...]]]] = {}
    for mark in leaves(stamp.marks):
        fill, box = getattr(mark, "fill", None), extent(mark)
        if fill is None or box is None:
            continue
        row = int((box.top + box.height / 2 - stamp.clip.top) / pick)
        sides = (box.left - stamp.clip.left, box.top - stamp.clip.top - row * pick, box.width, box.height)
        unit.setdefault(row, []).append((type(mark).__name__, fill, tuple(round(side, 6) for side in sides)))
    shown = ceil(stamp.clip.height / pick - 1e-6)
    return [unit[(shown - 1 - number) % len(unit)] for number in range(shown)]


def panel(card: Composed, name: str) -> Group:
    return next(group for group in panels(card) if group.name == name)


def test_the_order_is_begun_at_the_other_edge() -> None:
    """11 white, 6 blue, 4 white, 1 red: the left hand begins with the red one, drawn at the right."""
    of = plan("off-side")
    right, left = (counts_from_left(composed(of, "record", left_hand=hand)) for hand in (False, True))
    assert right == ["11", "6", "4", "1"]
    assert left == right  # the drawing is mirrored with the order, so the tape lies the same way
    first = [next(totals_of(composed(of, "record", left_hand=hand))) for hand in (False, True)]
    assert first == ["11", "1"]


def counts_from_left(card: Composed) -> list[str]:
    order = panel(card, "walk")
    size = max(words.size for words in all_words(order.marks) if words.text.isdigit())
    found = [words for words in all_words(order.marks) if words.text.isdigit() and words.size == size]
    return [words.text for words in sorted(found, key=lambda words: words.x)]


def totals_of(card: Composed) -> Iterator[str]:
    """The running totals in the order in which they grow: beside their boxes, not over the strokes."""
    walk = panel(card, "walk")
    found = {words.text for words in all_words(walk.marks) if words.text.isdigit() and words.align != "middle"}
    return iter(sorted(found, key=int))


# Units


def sentences(card: Composed) -> str:
    """All words, panel by panel; the yarn table is left out, which has a column for each system."""
    told = (words for group in panels(card) if group.name != "yarn" for words in all_words(group.marks))
    return " ".join(words.text for words in told).replace("\xa0", " ")


FRACTION = "(?:[¼½¾⅛⅜⅝⅞]|[⁰¹²³⁴⁵⁶⁷⁸⁹]+⁄[₀₁₂₃₄₅₆₇₈₉]+)"
NUMBER = rf"(?:\d+(?:\.\d+)?(?: {FRACTION})?|{FRACTION})"
METRIC, IMPERIAL = rf"({NUMBER}) (mm|cm|m)", rf"({NUMBER}) (in|yd)"


def pairs(text: str, first: str, second: str) -> Counter[tuple[str, ...]]:
    """The quantities told in both systems, the one named first first."""
    return Counter(re.findall(rf"{first} \({second}\)", text))


@pytest.mark.parametrize(
    ("pattern", "stem"),
    [("three-paths", "record"), ("fair-day", "record"), ("five-posts", "record"), ("three-paths", "bench"),
     ("two-rails", "handout"), ("two-rails", "handout-large"), ("two-rails", "six-numbers")],
)  # fmt: skip
def test_either_system_may_come_first_and_both_are_there(pattern: str, stem: str) -> None:
    metric, us = (sentences(in_units(pattern, stem, units)) for units in ("metric", "us"))
    metric_first, us_first = pairs(metric, METRIC, IMPERIAL), pairs(us, IMPERIAL, METRIC)
    assert sum(metric_first.values()) >= 1
    assert Counter((a, b, c, d) for c, d, a, b in us_first.elements()) == metric_first
    assert not pairs(metric, IMPERIAL, METRIC)
    assert not pairs(us, METRIC, IMPERIAL)


def in_units(pattern: str, stem: str, units: Units) -> Composed:
    """On the largest of its papers, so that nothing is left out in one system only."""
    on = max(layout(stem).papers, key=lambda paper: paper.width_mm * paper.height_mm)
    return composed(plan(pattern), stem, on, units=units)


def test_three_paths_in_inches_first() -> None:
    """Worked by hand: 31 / 49.3 in = 0.629 in, nearest sixteenth 10/16; 3 yd = 2.743 m, and of the 2.841 m that the
    pegs give 20 in are waste, of the rest 12 % is taken up and 3 % lost in washing: 1.991 m, which is 78.4 in.
    """
    text = sentences(in_units("three-paths", "record", "us"))
    for told in ("⅝ in (16 mm)", "to wind for about 78 in", "3 yd (2.74 m)"):
        assert told in text
    counts = [re.findall(r"\b\d+ ends\b", sentences(in_units("three-paths", "record", units))) for units in BOTH]
    assert counts[0] == counts[1]


BOTH: tuple[Units, Units] = ("metric", "us")


@pytest.mark.parametrize(
    "stem",
    [
        "record",
        "bench",
        "handout",
        "six-numbers",
    ],
)
def test_no_length_is_metric_only_where_inches_come_first(stem: str) -> None:
    """What is in brackets follows its inches; the bar is a bar of 100 mm in any language, and the blank scale of the
    gauge, from which a dip is written into the loom's file, is in millimetres."""
    source = plan("three-paths").pattern.source
    typed = source.certainty if source else ""  # as the file has it
    text = sentences(in_units("three-paths", stem, "us")).replace("100 mm", "").replace(typed, "")
    alone = re.findall(rf"(?<![\d.(]){NUMBER} (?:mm|cm|m)\b", text)
    if stem == "bench":
        alone.remove("5 mm")
    assert [length for length in alone if f"({length})" not in text] == []


# A layout of one's own


OWN = """\
title: Pocket
papers: [{name: pocket, width: 120 mm, height: 170 mm}]
margin: 8 mm
binding: {width: 14 mm, side: right}
ribbon: no
type: {title: 18, count: 16, heading: 11, body: 10, small: 9.5, smallest: 9.5}
rows:
  - [{panel: name, columns: 12, priority: 1, essential: yes}]
  - [{panel: counts, columns: 12, priority: 2, essential: yes}]
  - [{panel: first, columns: 12, priority: 3, essential: yes}]
  - [{panel: lengths, columns: 6, priority: 5}, {panel: weaving, columns: 6, priority: 4}]
"""


def own_file(folder: Path, text: str) -> Path:
    path = folder / "pocket.yaml"
    path.write_text(text, "utf-8")
    return path


def test_a_layout_of_ones_own_by_its_path(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = own_file(tmp_path, OWN)
    assert run_command_line(["card", "three-paths", "--layout", str(path), "--out", str(tmp_path)]) == 0
    assert "(Middle box, pocket)" in capsys.readouterr().out
    document = pypdfium2.PdfDocument(tmp_path / "three-paths-pocket.pdf")
    assert len(document) == 1
    assert document[0].get_size() == pytest.approx((120 * 72 / 25.4, 170 * 72 / 25.4), abs=0.01)
    text = document[0].get_textpage().get_text_bounded()
    assert "Three Paths" in text
    assert "L15, a slot" in text


def test_a_layout_of_ones_own_keeps_its_margins_and_rows(tmp_path: Path) -> None:
    of = loading.load_layout(own_file(tmp_path, OWN))
    for pattern in PATTERNS:
        card = compose_card(plan(pattern), of, of.papers[0], RULER)
        assert beyond(card, of, of.papers[0]) == []
        assert too_small(panels(card), 9.5) == []
        names = [group.name for group in sorted(panels(card), key=lambda group: (group.box.top, group.box.left))]
        assert names[:3] == ["name", "counts", "first"]
        assert set(names[3:]) <= {"lengths", "weaving"}
        assert "lengths" in {*names, *card.left_out}
        assert "weaving" in names or {"wraps", "hours"} <= set(card.left_out)
        assert all(box.right <= 120 - 14 + EDGE_MM for _, _, box in inks(card))  # bound at the right


@pytest.mark.parametrize(
    ("was", "becomes", "told"),
    [
        (
            "{panel: counts, columns: 12, priority: 2",
            "{panel: count, columns: 12, priority: 2",
            "9:7: rows item 2 item 1.panel: 'count' is not a panel. Did you mean counts?",
        ),
        (
            "{panel: lengths, columns: 6, ",
            "{panel: lengths, columns: 7, ",
            "11:5: rows item 4: the panels of this row take 13 columns. A row has 12.",
        ),
        (
            "body: 10,",
            "body: 9,",
            "6:49: type.body: 9 points are less than the smallest size, 9.5. "
            "Write 9.5 or more, or make 'smallest' smaller.",
        ),
        (
            "papers: [{name: pocket, width: 120 mm, height: 170 mm}]",
            "papers: [leter]",
            "2:10: papers item 1: 'leter' is not one of letter, a4, half-letter, a5, 4x6, a6, 3x5. "
            "Did you mean 'letter'?",
        ),
        (
            "margin: 8 mm",
            "margin: 60 mm",
            "3:1: margin: nothing is left of 'pocket' between the margins. Make them smaller.",
        ),
        (
            "binding: {width: 14 mm, ",
            "binding: {width: 115 mm, ",
            "4:1: binding: nothing is left of 'pocket' between the margins. Make them smaller.",
        ),
    ],
)  # fmt: skip
def test_a_wrong_layout_is_refused_at_its_line_and_column(
    was: str, becomes: str, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert OWN.count(was) == 1
    path = own_file(tmp_path, OWN.replace(was, becomes))
    assert run_command_line(["card", "three-paths", "--layout", str(path), "--out", str(tmp_path)]) == 1
    assert capsys.readouterr().err == f"{path}:{told}\n"
    assert not list(tmp_path.glob("*.pdf"))


@pytest.mark.parametrize("rows", ["", "rows: []\n"])
def test_a_layout_without_rows_is_refused(rows: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = own_file(tmp_path, OWN[: OWN.index("rows:")] + rows)
    assert run_command_line(["card", "three-paths", "--layout", str(path), "--out", str(tmp_path)]) == 1
    assert re.match(rf"{re.escape(str(path))}:\d+:\d+: .*rows", capsys.readouterr().err)


def test_a_paper_too_small_for_the_essential_is_refused_by_its_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = own_file(tmp_path, OWN.replace("width: 120 mm, height: 170 mm", "width: 60 mm, height: 50 mm"))
    assert run_command_line(["card", "fair-day", "--layout", str(path), "--out", str(tmp_path)]) == 1
    told = capsys.readouterr().err
    assert re.search(r"48 ends do not fit on pocket: the card needs \d+ mm of height, has 34 mm", told)
    assert "Choose a larger paper or another layout." in told
