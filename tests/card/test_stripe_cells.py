"""The stripes as cells: their counts against a second count, their widths against their ends, their figures in grey."""

from __future__ import annotations

from itertools import combinations, pairwise
from typing import NamedTuple

import pytest
import yaml

from cardmaker.card.composing import compose_card
from cardmaker.model.marks import Box, Face, Group, Line, Page, Path, Rectangle, Words
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import replace
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reading.loom_file import parse_loom
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.threading.mirror import plan_as_seen
from tests.helpers.bracketed_counts import hand_counts
from tests.helpers.card_faults import extent, gap_mm, ink_box, leaves, panels
from tests.helpers.ground import ground_of, low_contrasts
from tests.helpers.record_cards import RULER
from tests.helpers.recount import read
from tests.helpers.shipped import PATTERNS, pattern_file, plan_of, shipped_layout

WITH_STRIPES = ["field", "field-folded", "six-numbers"]
BESIDE_MM = 0.6  # that figures keep from the edge of their cell


class StripeCell(NamedTuple):
    """A cell as it is drawn: its box, its count and its letters."""

    box: Box
    number: Words
    letters: Words
    below: Words | None  # that they are in turn, where it stands under them

    @property
    def words(self) -> list[Words]:
        return [word for word in (self.number, self.letters, self.below) if word]


def page_of(plan: Plan, stem: str) -> tuple[Page, list[Group]]:
    layout = shipped_layout(stem)
    composed = compose_card(plan, layout, layout.papers[0], RULER)
    return composed.page, panels(composed)


def cells_in(groups: list[Group]) -> list[StripeCell]:
    """In the order in which they are drawn, which is that of the ends."""
    (figure,) = (mark for group in groups for mark in group.marks if isinstance(mark, Group) and mark.name == "stripes")
    marks = list(leaves([figure]))
    frames = [mark.box for mark in marks if isinstance(mark, Rectangle) and mark.stroke and not mark.fill]
    high = max(frame.height for frame in frames)
    words = [mark for mark in marks if isinstance(mark, Words)]
    found = []
    for frame in (frame for frame in frames if frame.height > high / 2):
        inside = [word for word in words if frame.holds(Box(word.x, word.y, 0, 0), 0.01)]
        (number,) = (word for word in inside if word.face is Face.SANS_BOLD)
        letters, *below = sorted((word for word in inside if word.face is Face.SANS_SEMIBOLD), key=lambda word: word.y)
        assert [word.text for word in below] in ([], ["in turn"])
        found.append(StripeCell(frame, number, letters, next(iter(below), None)))
    assert len(words) == sum(len(cell.words) for cell in found)
    return found


@pytest.mark.parametrize("left_hand", [False, True])
@pytest.mark.parametrize("stem", WITH_STRIPES)
def test_the_counts_are_those_of_a_second_count(stem: str, left_hand: bool) -> None:
    for pattern in PATTERNS:
        plan = plan_as_seen(plan_of(pattern), Viewpoint(left_hand))
        cells = cells_in(page_of(plan, stem)[1])
        wanted = hand_counts(read(pattern_file(pattern)))
        wanted = wanted[::-1] if left_hand else wanted
        assert [cell.number.text for cell in cells] == [str(count.ends) for count in wanted], pattern
        letters = [set(cell.letters.text.removesuffix(" in turn").split("/")) for cell in cells]
        assert letters == [{plan.letters(yarn) for yarn in count.yarns} for count in wanted], pattern


@pytest.mark.parametrize("stem", WITH_STRIPES)
def test_they_lie_as_the_tape_lies_before_her(stem: str) -> None:
    """End 1 of a left hand is at the right."""
    for left_hand in (False, True):
        cells = cells_in(page_of(plan_as_seen(plan_of("half-and-half"), Viewpoint(left_hand)), stem)[1])
        first_row = [cell.box.left for cell in cells if cell.box.top == cells[0].box.top]
        assert first_row == sorted(first_row, reverse=left_hand)


@pytest.mark.parametrize("stem", WITH_STRIPES)
def test_figures_lie_inside_their_cells_and_off_one_another(stem: str) -> None:
    for pattern in PATTERNS:
        cells = cells_in(page_of(plan_of(pattern), stem)[1])
        for cell in cells:
            beside = 0.4 if plan_of(pattern).pickup else BESIDE_MM  # a line of words more, and a row of cells less
            room = cell.box.inset(beside, 0.3, beside, 0.3)
            for words in cell.words:
                assert room.holds(ink_box(words)), (pattern, words.text)
        inks = [ink_box(words) for cell in cells for words in cell.words]
        assert all(gap_mm(one, other) >= 0.5 for one, other in combinations(inks, 2)), pattern


@pytest.mark.parametrize("stem", WITH_STRIPES)
def test_cells_that_are_wider_than_their_figures_are_as_wide_as_their_ends(stem: str) -> None:
    for pattern in PATTERNS:
        cells = cells_in(page_of(plan_of(pattern), stem)[1])
        for top in {cell.box.top for cell in cells}:  # each row fills the width
            row = [cell for cell in cells if cell.box.top == top]
            narrowest = min(cell.box.width / int(cell.number.text) for cell in row)
            for cell in row:
                equal = [other for other in cells if other.number.text == cell.number.text]  # these are equally wide
                figures = max(ink_box(words).width for other in equal for words in other.words)
                wide = cell.box.width / int(cell.number.text) > narrowest + 0.01
                assert not wide or cell.box.width < figures + 3.5, (pattern, cell.number.text)


@pytest.mark.parametrize("stem", WITH_STRIPES)
def test_rows_fill_the_width(stem: str) -> None:
    """The last to the right edge, those before it to their arrows: no row ends short of the others."""
    for pattern in PATTERNS:
        cells = cells_in(groups := page_of(plan_of(pattern), stem)[1])
        (drawn,) = (
            mark for group in groups for mark in group.marks if isinstance(mark, Group) and mark.name == "stripes"
        )
        last = max(cell.box.top for cell in cells)
        for top in {cell.box.top for cell in cells}:
            right = max(cell.box.right for cell in cells if cell.box.top == top)
            short = 0.0 if top == last else 3.4
            assert right == pytest.approx(drawn.box.right - short), pattern


@pytest.mark.parametrize("pattern", ["grey-trap", "fair-day", "penned-ladder", "three-paths", "framed-pavement"])
@pytest.mark.parametrize("stem", WITH_STRIPES)
def test_they_are_read_in_a_grey_copy(stem: str, pattern: str) -> None:
    page, groups = page_of(plan_of(pattern), stem)
    words = [words for cell in cells_in(groups) for words in cell.words]
    assert low_contrasts(ground_of(page), words) == []


@pytest.mark.parametrize("stripes", [[1], [2], [1, 1, 1], [3, 40, 3, 30, 3], [5, 100, 14], [1, 2] * 8])
def test_any_number_of_ends_has_cells(stripes: list[int]) -> None:
    """From 1 to 119 ends; as many rows as they need, each with its own counts."""
    yarns = "yarns:\n  red: {fibre: linen, count: 20/2, ends_per_inch: 50, colour: '#a02c2c'}\n"
    yarns += "  white: {fibre: linen, count: 20/2, ends_per_inch: 50, colour: '#f4f0e4'}\n"
    warp = "".join(f"  - {ends} {('red', 'white')[at % 2]}\n" for at, ends in enumerate(stripes))
    file = f"title: Trial\n{yarns}warp:\n{warp}length: {{finished: 1 m}}\nweft: red\n"
    loom = parse_loom(b"title: Wide\nkind: one heddle\nslots: 60\nholes: 60\nouter: slot\n", "wide.yaml", "wide")
    plan = make_plan(parse_pattern(file.encode(), "trial.yaml", "trial"), loom)
    cells = cells_in(page_of(plan, "six-numbers")[1])
    counted = [cell.number.text for cell in cells]
    assert counted == [str(count.ends) for count in hand_counts({"warp": yaml.load(warp, Loader=yaml.BaseLoader)})]
    assert sum(map(int, counted)) == sum(stripes)


def bands_in(groups: list[Group]) -> list[tuple[StripeCell, list[Rectangle]]]:
    """The cells, each with the slivers of its band from the left."""
    (figure,) = (mark for group in groups for mark in group.marks if isinstance(mark, Group) and mark.name == "stripes")
    fills = [mark for mark in leaves([figure]) if isinstance(mark, Rectangle) and mark.fill and not mark.stroke]
    found = []
    for cell in cells_in(groups):
        low = [fill for fill in fills if cell.box.holds(fill.box, 0.01) and fill.box.height < cell.box.height / 2]
        found.append((cell, sorted(low, key=lambda fill: fill.box.left)))
    return found


@pytest.mark.parametrize("left_hand", [False, True])
@pytest.mark.parametrize("stem", WITH_STRIPES)
def test_yarns_in_turn_are_drawn_end_beside_end(stem: str, left_hand: bool) -> None:
    """As many slivers as ends, or at least all that can be told apart, and no two neighbours of one colour."""
    for pattern in ("half-and-half", "penned-ladder", "hop-and-stride", "framed-pavement", "treadle-ladder"):
        plan = plan_as_seen(plan_of(pattern), Viewpoint(left_hand))
        turns = 0
        for cell, slivers in bands_in(page_of(plan, stem)[1]):
            if len(cell.letters.text.removesuffix(" in turn").split("/")) == 1:
                assert slivers == []
                continue
            turns += 1
            assert len(slivers) == int(cell.number.text), pattern
            assert all(one.fill != other.fill for one, other in pairwise(slivers)), pattern
            assert slivers[0].box.left == pytest.approx(cell.box.left)
            assert slivers[-1].box.right == pytest.approx(cell.box.right)
        assert turns


@pytest.mark.parametrize("stem", WITH_STRIPES)
def test_hatching_keeps_off_the_figures(stem: str) -> None:
    """It has a band of its own over them: the lattice of brown, the slopes of red."""
    for pattern in ("fair-day", "five-bars-up", "cord-edge", "grey-trap"):
        groups = page_of(plan_of(pattern), stem)[1]
        (drawn,) = (
            mark for group in groups for mark in group.marks if isinstance(mark, Group) and mark.name == "stripes"
        )
        hatches = [box for mark in leaves([drawn]) if isinstance(mark, (Line, Path)) and (box := extent(mark))]
        assert len(hatches) > 1, pattern
        for cell in cells_in(groups):
            for words in cell.words:
                assert not any(gap_mm(hatch, ink_box(words)) < 0.4 for hatch in hatches), (pattern, words.text)


@pytest.mark.parametrize("stem", WITH_STRIPES)
def test_equal_counts_are_equally_wide(stem: str) -> None:
    cells = cells_in(page_of(plan_of("fair-day"), stem)[1])
    fours = [cell.box.width for cell in cells if cell.number.text == "4"]
    assert len(fours) == 9
    assert max(fours) - min(fours) < 0.01


def test_a_stripe_of_one_end_is_narrower_than_one_of_four() -> None:
    """Where figures make cells wider than their ends ask for, little stands beside these: the others stay in
    proportion to their ends, and no narrow cell is wider than its figures with 0.65 mm on either side."""
    cells = cells_in(page_of(plan_of("four-drips"), "field")[1])
    wide = {count: next(cell for cell in cells if cell.number.text == count) for count in ("1", "4", "5")}
    assert wide["5"].box.width / wide["4"].box.width == pytest.approx(5 / 4)
    assert wide["4"].box.width > 1.25 * wide["1"].box.width
    figures = max(RULER.width_mm(word.text, word.face, word.size) for word in wide["1"].words)
    assert wide["1"].box.width == pytest.approx(figures + 2 * 0.65)


@pytest.mark.parametrize("stem", WITH_STRIPES)
def test_a_count_is_larger_than_its_letters(stem: str) -> None:
    for pattern in PATTERNS:
        for cell in cells_in(page_of(plan_of(pattern), stem)[1]):
            assert cell.number.size > cell.letters.size, pattern


def test_a_row_that_goes_on_below_says_so() -> None:
    """By an arrow right of its last cell."""
    groups = page_of(replace(plan_of("five-posts"), pickup=None), "field")[1]
    cells = cells_in(groups)
    first_row = [cell.box for cell in cells if cell.box.top == cells[0].box.top]
    assert len(first_row) < len(cells)
    (drawn,) = (mark for group in groups for mark in group.marks if getattr(mark, "name", "") == "stripes")
    right = max(box.right for box in first_row)
    beside = [mark for mark in leaves([drawn]) if (box := extent(mark)) and box.left >= right]
    assert sorted(type(mark).__name__ for mark in beside) == ["Line", "Line", "Path"]  # its shaft, bent, and its head
