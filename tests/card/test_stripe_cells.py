"""The stripes as cells: their counts against a second count, their widths against their ends, their figures in grey."""

from __future__ import annotations

from collections import Counter
from itertools import combinations, pairwise
from typing import NamedTuple

import pytest

from cardmaker.card.composing import compose_card
from cardmaker.layout.ink import OUTLINE
from cardmaker.layout.type_setting import cap_height
from cardmaker.model.marks import Box, Face, Group, Line, Page, Path, Rectangle, Words
from cardmaker.model.plan import Plan
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
BESIDE_MM = 0.35  # that figures keep from the edge of their cell


class StripeCell(NamedTuple):
    """A stripe as it is drawn: its box, its count and its letters, and the leader to them where they stand under it."""

    box: Box
    number: Words
    letters: Words
    leader: Line | None

    @property
    def words(self) -> list[Words]:
        return [self.number, self.letters]

    @property
    def is_in_line(self) -> bool:
        """Whether the letters stand after their count, and not under it."""
        return self.number.y == self.letters.y

    @property
    def left(self) -> float:
        """Where its words begin."""
        return min(ink_box(word).left for word in self.words)

    @property
    def right(self) -> float:
        return max(ink_box(word).right for word in self.words)


def page_of(plan: Plan, stem: str, paper: int = 0) -> tuple[Page, list[Group]]:
    layout = shipped_layout(stem)
    composed = compose_card(plan, layout, layout.papers[paper], RULER)
    return composed.page, panels(composed)


def drawing_in(groups: list[Group]) -> Group:
    (figure,) = (mark for group in groups for mark in group.marks if isinstance(mark, Group) and mark.name == "stripes")
    return figure


def cells_in(groups: list[Group]) -> list[StripeCell]:
    """In the order in which they are drawn, which is that of the ends: every count is followed by its letters, which
    stand in their cell, or hang on its leader."""
    marks = list(leaves([drawing_in(groups)]))
    frames = [mark.box for mark in marks if isinstance(mark, Rectangle) and mark.stroke and mark.width == OUTLINE]
    words = [mark for mark in marks if isinstance(mark, Words)]
    lines = [mark for mark in marks if isinstance(mark, Line)]
    assert len(words) == 2 * len(frames)
    found: list[StripeCell] = []
    for frame, number, letters in zip(frames, words[::2], words[1::2], strict=True):
        leader = next((line for line in lines if _hangs(line, frame)), None)
        cell = StripeCell(frame, number, letters, leader)
        assert (number.face, letters.face) == (Face.SANS_BOLD, Face.SANS_SEMIBOLD)
        if cell.is_in_line:  # the count first, in whatever way the drawing is turned
            space = ink_box(letters).left - ink_box(number).right
            assert 0.4 < space < 2.5, (number.text, letters.text)
        else:
            assert number.x == letters.x
        if leader is None:
            assert all(frame.holds(ink_box(word), 0.01) for word in cell.words)
        else:
            assert cell.left - 0.01 <= leader.x2 <= cell.right + 0.01
            assert 0 < number.y - cap_height(number.size) - leader.y2 < 1
        found.append(cell)
    return found


def _hangs(line: Line, frame: Box) -> bool:
    """Whether it goes down from the middle of the foot of a stripe."""
    at = line.x1 == pytest.approx(frame.middle) and line.y1 == pytest.approx(frame.bottom)
    return at and line.y2 > line.y1 + 0.4


def rows_in(cells: list[StripeCell]) -> list[list[StripeCell]]:
    return [[cell for cell in cells if cell.box.top == top] for top in sorted({cell.box.top for cell in cells})]


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
            for words in cell.words:
                if cell.leader is None:
                    assert cell.box.inset(BESIDE_MM, 0.3, BESIDE_MM, 0.3).holds(ink_box(words)), (pattern, words.text)
                else:
                    assert ink_box(words).top > cell.box.bottom + 0.5, (pattern, words.text)
        inks = [ink_box(words) for cell in cells for words in cell.words]
        assert all(gap_mm(one, other) >= 0.5 for one, other in combinations(inks, 2)), pattern
        for cell, other in pairwise(cell for cell in cells if cell.leader):
            beside = [cell.number.x, other.number.x]
            assert beside == sorted(beside) or other.box.top > cell.box.top, pattern  # in the order of the tape


@pytest.mark.parametrize("left_hand", [False, True])
@pytest.mark.parametrize("paper", [0, 1])
@pytest.mark.parametrize("stem", WITH_STRIPES)
def test_what_hangs_from_a_stripe_hangs_straight_under_it(stem: str, left_hand: bool, paper: int) -> None:
    """Its count and its letters as one label, in one line or two of them, every leader straight down to its own and
    past all others: so that nobody takes a number for its neighbour's."""
    hung = 0
    for pattern in PATTERNS:
        plan = plan_as_seen(plan_of(pattern), Viewpoint(left_hand))
        labels = [cell for cell in cells_in(page_of(plan, stem, paper)[1]) if cell.leader]
        hung += len(labels)
        assert len({cell.number.y for cell in labels}) <= 2, pattern
        for cell in labels:
            assert cell.is_in_line, pattern
            assert cell.leader
            assert cell.leader.x1 == cell.leader.x2, pattern
            for other in labels:
                if other is not cell and other.number.y < cell.number.y:
                    passes = other.left - cell.leader.x2, cell.leader.x2 - other.right
                    assert max(passes) > 0.3, (pattern, cell.letters.text)
    assert hung


@pytest.mark.parametrize("left_hand", [False, True])
@pytest.mark.parametrize("paper", [0, 1])
@pytest.mark.parametrize("stem", WITH_STRIPES)
def test_stripes_are_as_wide_as_their_ends(stem: str, left_hand: bool, paper: int) -> None:
    """To a tenth of a millimetre, all of them on a card, so that the band is read as the tape is."""
    for pattern in PATTERNS:
        plan = plan_as_seen(plan_of(pattern), Viewpoint(left_hand))
        assert_true_widths(cells_in(page_of(plan, stem, paper)[1]))


def assert_true_widths(cells: list[StripeCell]) -> None:
    """So many millimetres for every end, and side by side without a gap."""
    pitch = max(cell.box.width / int(cell.number.text) for cell in cells)
    for cell in cells:
        assert cell.box.width == pytest.approx(pitch * int(cell.number.text), abs=0.1)
    for row in rows_in(cells):
        boxes = sorted((cell.box for cell in row), key=lambda box: box.left)
        assert all(one.right == pytest.approx(other.left) for one, other in pairwise(boxes))


@pytest.mark.parametrize("stem", WITH_STRIPES)
def test_figures_stand_in_their_cells_wherever_they_can(stem: str) -> None:
    """And under a stripe only where neither one over the other nor in one line they have room in it."""
    seen = Counter[bool]()
    for pattern in PATTERNS:
        for cell in cells_in(page_of(plan_of(pattern), stem)[1]):
            seen[bool(cell.leader)] += 1
            widths = [RULER.width_mm(word.text, word.face, word.size) for word in cell.words]
            if cell.leader:
                assert max(widths) + 2 * BESIDE_MM > cell.box.width, (pattern, cell.number.text, cell.letters.text)
    assert seen[False] > 2.5 * seen[True] > 0


@pytest.mark.parametrize("pattern", ["fair-day", "cord-edge", "wick", "off-side", "three-paths", "five-posts"])
def test_a_tape_has_one_form_on_all_small_cards(pattern: str) -> None:
    """Cells with figures, and labels under the same stripes or, where a card is wider, under fewer."""
    forms = [cells_in(page_of(plan_of(pattern), stem)[1]) for stem in WITH_STRIPES]
    assert all(any(not cell.leader for cell in cells) for cells in forms)
    narrow = {each.number.text for cells in forms for each in cells if each.leader}
    assert all(int(number) <= 1 for number in narrow), narrow
    if pattern in ("fair-day", "three-paths"):
        assert not narrow


@pytest.mark.parametrize("stem", WITH_STRIPES)
def test_the_longest_row_fills_the_width(stem: str) -> None:
    """A single one to the right edge, of several that with most ends to their arrows; figures keep to the same."""
    for pattern in PATTERNS:
        groups = page_of(plan_of(pattern), stem)[1]
        cells, drawn = cells_in(groups), drawing_in(groups)
        rows = rows_in(cells)
        assert min(cell.box.left for cell in cells) == pytest.approx(drawn.box.left), pattern
        right = max(cell.box.right for cell in cells)
        assert right == pytest.approx(drawn.box.right - (3.4 if len(rows) > 1 else 0.0)), pattern
        assert all(drawn.box.holds(ink_box(words), 0.01) for cell in cells for words in cell.words), pattern


@pytest.mark.parametrize("pattern", ["grey-trap", "fair-day", "penned-ladder", "three-paths", "framed-pavement"])
@pytest.mark.parametrize("stem", WITH_STRIPES)
def test_they_are_read_in_a_grey_copy(stem: str, pattern: str) -> None:
    page, groups = page_of(plan_of(pattern), stem)
    words = [words for cell in cells_in(groups) for words in cell.words]
    assert low_contrasts(ground_of(page), words) == []


def warp_of(stripes: list[int]) -> list[str]:
    return [f"{ends} {('red', 'white')[at % 2]}" for at, ends in enumerate(stripes)]


def plan_of_stripes(stripes: list[int]) -> Plan:
    """Of two colours by turns, on a loom of 60 slots."""
    yarns = "yarns:\n  red: {fibre: linen, count: 20/2, ends_per_inch: 50, colour: '#a02c2c'}\n"
    yarns += "  white: {fibre: linen, count: 20/2, ends_per_inch: 50, colour: '#f4f0e4'}\n"
    warp = "".join(f"  - {stripe}\n" for stripe in warp_of(stripes))
    file = f"title: Trial\n{yarns}warp:\n{warp}length: {{finished: 1 m}}\nweft: red\n"
    loom = parse_loom(b"title: Wide\nkind: one heddle\nslots: 60\nholes: 60\nouter: slot\n", "wide.yaml", "wide")
    return make_plan(parse_pattern(file.encode(), "trial.yaml", "trial"), loom)


@pytest.mark.parametrize("stripes", [[1], [2], [1, 1, 1], [3, 40, 3, 30, 3], [5, 100, 14], [1, 2] * 8, [2, 1] * 9])
@pytest.mark.parametrize("stem", ["six-numbers", "field"])
def test_any_number_of_ends_has_cells(stem: str, stripes: list[int]) -> None:
    """From 1 to 119 ends; as many rows as they need, each with its own counts, all in one measure."""
    plan = plan_of_stripes(stripes)
    cells = cells_in(page_of(plan, stem)[1])
    assert_true_widths(cells)
    counted = [cell.number.text for cell in cells]
    assert counted == [str(count.ends) for count in hand_counts({"warp": warp_of(stripes)})]
    assert sum(map(int, counted)) == sum(stripes)


def bands_in(groups: list[Group]) -> list[tuple[StripeCell, list[Rectangle]]]:
    """The cells, each with the slivers of its band from the left."""
    marks = [mark for mark in leaves([drawing_in(groups)]) if isinstance(mark, Rectangle)]
    outlined = [mark.box for mark in marks if mark.stroke and mark.width < OUTLINE]
    fills = [mark for mark in marks if mark.fill and not mark.stroke and mark.box in outlined]
    found = []
    for cell in cells_in(groups):
        low = [fill for fill in fills if cell.box.holds(fill.box, 0.01)]
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
    """It has a band of its own over them, or a cell: the lattice of brown, the slopes of red."""
    for pattern in ("fair-day", "five-bars-up", "cord-edge", "grey-trap"):
        groups = page_of(plan_of(pattern), stem)[1]
        leaders = [cell.leader for cell in cells_in(groups)]
        lines = [
            mark for mark in leaves([drawing_in(groups)]) if isinstance(mark, (Line, Path)) and mark not in leaders
        ]
        hatches = [box for mark in lines if (box := extent(mark))]
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


def test_every_stripe_can_be_seen_on_the_fullest_card() -> None:
    """As a cell that holds its figures, and from a label as a field of its yarn; where all hang under a band, which has
    its colours alone, as a band that is no lower than on other cards of so little room."""
    for pattern in PATTERNS:
        cells = cells_in(page_of(plan_of(pattern), "field")[1])
        assert min(cell.box.height for cell in cells) >= 6.0, pattern
    assert cells_in(page_of(plan_of_stripes([2, 1] * 12), "field")[1])[0].box.height >= 1.8


@pytest.mark.parametrize("stem", WITH_STRIPES)
def test_a_count_is_larger_than_its_letters(stem: str) -> None:
    for pattern in PATTERNS:
        for cell in cells_in(page_of(plan_of(pattern), stem)[1]):
            assert cell.number.size > cell.letters.size, pattern


def test_a_row_that_goes_on_below_says_so() -> None:
    """By an arrow right of its last cell."""
    groups = page_of(plan_of_stripes([2, 1] * 12), "field")[1]
    cells = cells_in(groups)
    first_row = [cell.box for cell in cells if cell.box.top == cells[0].box.top]
    assert len(first_row) < len(cells)
    right = max(box.right for box in first_row)
    beside = [mark for mark in leaves([drawing_in(groups)]) if (box := extent(mark)) and box.left >= right]
    arrow = [mark for mark in beside if not isinstance(mark, Words)]
    assert sorted(type(mark).__name__ for mark in arrow) == ["Line", "Line", "Path"]  # its shaft, bent, and its head
