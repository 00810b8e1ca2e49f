"""The back of a record: every end to look up, the second yarn, results, what is left over, the code and a sample."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import pairwise

import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.jobs import loading, plan_making
from cardmaker.model.card_layout import CardLayout
from cardmaker.model.loom import Space
from cardmaker.model.marks import Box, Group, Line, Mark, Rectangle, Words
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import replace
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.reading.loom_file import parse_loom
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reckoning.threading.placement import space_label
from cardmaker.wording import length_words, second_yarn_words
from tests.campaign.cases import loom_text, warp_text
from tests.helpers.card_faults import all_words, faults, leaves, panels
from tests.helpers.screen_reader_text import text_read_aloud
from tests.helpers.shipped import PATTERNS, pattern_file, shipped_layout, shipped_pattern

VIEWS = [("right", "front"), ("left", "front"), ("right", "behind"), ("left", "behind")]
SAMPLED = PATTERNS


def record() -> CardLayout:
    return shipped_layout("record")


@cache
def setup(hand: str = "right", side: str = "front") -> plan_making.PlanSetup:
    behind = record().as_back(record().papers[0])
    return replace(plan_making.load_plan_setup_for(behind, None), hand=hand, side=side)  # type: ignore[arg-type]


@cache
def card(stem: str, paper: int = 0, hand: str = "right", side: str = "front") -> tuple[Plan, Composed]:
    plan = plan_making.plan_for(shipped_pattern(stem), setup(hand, side))
    return plan, compose_card(plan, record(), record().papers[paper], TypeRuler(), with_back=True)


def back(stem: str, paper: int = 0) -> Composed:
    composed = card(stem, paper)[1].back
    assert composed is not None
    return composed


def panel(composed: Composed, name: str) -> Group:
    (found,) = (group for group in panels(composed) if group.name == name)
    return found


def groups(marks: tuple[Mark, ...], role: str) -> Iterator[Group]:
    for mark in marks:
        if isinstance(mark, Group):
            if mark.role == role:
                yield mark
            yield from groups(mark.marks, role)


def printed(group: Group) -> str:
    """All words in a group, with plain spaces between them."""
    return " ".join(" ".join(words.text for words in all_words(group.marks)).split())


def cells(group: Group) -> list[list[str]]:
    """The rows of all tables in a group, heads left aside, each cell as it is read."""
    rows = [row for table in groups(group.marks, "table") for row in groups(table.marks, "row") if row.name != "head"]
    return [
        [" ".join(words.text for words in all_words(cell.marks)) for cell in groups(row.marks, "cell")] for row in rows
    ]


def of_own(ends: int, warp: str, loom: str) -> tuple[Plan, Composed]:
    pattern = parse_pattern(warp_text(ends, warp, 7).encode(), "own.yaml", "own")
    own = parse_loom(loom_text(loom).encode(), "loom.yaml", "loom")
    plan = plan_making.plan_for(pattern, plan_making.PlanSetup((own,), own, units="metric"))
    composed = compose_card(plan, record(), record().papers[0], TypeRuler(), with_back=True).back
    assert composed is not None
    return plan, composed


# Every end


@pytest.mark.parametrize(("hand", "side"), VIEWS)
@pytest.mark.parametrize("stem", ["three-paths", "off-side", "two-rails", "long-sixty", "bare-thread"])
def test_every_end_is_told_once_with_its_yarn_its_space_and_its_count(stem: str, hand: str, side: str) -> None:
    """Reckoned once more: the space from the first one on, its kind in turns, the count from either edge."""
    plan, composed = card(stem, 0, hand, side)
    assert composed.back
    placement, rows = plan.placement, cells(panel(composed.back, "every-end"))
    assert [int(row[0]) for row in rows] == list(range(1, plan.ends + 1))
    first, second = list(Space), list(Space)[::-1]
    kinds = first if placement.first_kind is first[0] else second
    for number, row in enumerate(rows, start=1):
        space = placement.first_space + number - 1
        name = "mark" if space == plan.loom.middle_space else space_label(space, plan.loom)
        assert row[1:3] == [plan.letters(plan.end_yarns[number - 1]), f"{name}, {kinds[(number - 1) % 2]}"]
        assert row[3:] == ([str(plan.ends + 1 - number)] if number > (plan.ends + 1) // 2 else [])


@pytest.mark.parametrize(
    ("hand", "side", "first", "last"), [(*VIEWS[0], "left", "right"), (*VIEWS[1], "right", "left")]
)
def test_the_edges_are_called_as_they_are_seen(hand: str, side: str, first: str, last: str) -> None:
    composed = card("three-paths", 0, hand, side)[1].back
    assert composed
    words = printed(panel(composed, "every-end"))
    assert f"Ends 1 to 16 count from the {first} edge, 17 to 31 from the {last} one." in words
    heads = [head.name for head in groups(panel(composed, "every-end").marks, "header cell")]
    assert {head for head in heads if head.startswith("from")} == {f"from {last}"}


def test_from_behind_it_says_so() -> None:
    composed = card("off-side", 0, "right", "behind")[1].back
    assert composed
    assert "Seen from behind the heddle." in printed(panel(composed, "every-end"))


def test_a_cell_beside_each_end_has_its_yarn_and_its_rows_are_level() -> None:
    group = panel(back("three-paths"), "every-end")
    swatches = [fig for fig in groups(group.marks, "figure") if fig.name == "swatches"]
    assert "red" in swatches[0].alt
    fills = [mark.fill for fig in swatches for mark in fig.marks if isinstance(mark, Rectangle) and mark.fill]
    plan = card("three-paths")[0]
    assert fills == [plan.pattern.yarn(yarn).colour for yarn in plan.end_yarns]
    tables = list(groups(group.marks, "table"))
    rows = [[row.box.top for row in groups(table.marks, "row") if row.name != "head"] for table in tables]
    for column in rows[1:]:
        assert column == pytest.approx(rows[0][: len(column)])
    first = [mark.box for mark in swatches[0].marks if isinstance(mark, Rectangle) and mark.fill]
    beside = [row.box for row in groups(tables[0].marks, "row") if row.name != "head"]
    for swatch, row in zip(first, beside, strict=True):
        assert row.top <= swatch.top + swatch.height / 2 <= row.bottom


@pytest.mark.parametrize("warp", ["plain", "turns", "singles", "mixed"])
@pytest.mark.parametrize("loom", ["one:120", "two:121"])
def test_there_is_room_for_119_ends(warp: str, loom: str) -> None:
    plan, composed = of_own(119, warp, loom)
    rows = cells(panel(composed, "every-end"))
    assert [row[0] for row in rows] == [str(number) for number in range(1, 120)]
    assert [row[1] for row in rows] == [plan.letters(yarn) for yarn in plan.end_yarns]
    assert faults(composed, record().as_back(record().papers[0]), record().papers[0]) == []


@pytest.mark.parametrize(("ends", "loom"), [(1, "one:3"), (2, "two:4"), (3, "one:4"), (17, "two:20")])
def test_there_is_one_of_few_ends(ends: int, loom: str) -> None:
    _, composed = of_own(ends, "mixed", loom)
    assert [int(row[0]) for row in cells(panel(composed, "every-end"))] == list(range(1, ends + 1))
    assert faults(composed, record().as_back(record().papers[0]), record().papers[0]) == []


# The second yarn


def test_the_second_yarn_stands_beside_the_first_each_reckoned_by_itself() -> None:
    plan, composed = card("three-paths")
    assert composed.back
    rows = cells(panel(composed.back, "second-yarns"))
    told = second_yarn_words.comparisons(plan, plan.second, "metric")
    assert [[" ".join(cell.split()) for cell in row] for row in rows] == [
        [row.label, *(" ".join(cell.split()) for cell in row.of_each)] for row in told
    ]
    alone = plan_making.plan_for(_in_cotton(), setup())
    other = plan.second[0].plan
    assert other is not None
    assert (other.lengths, other.width, other.weft, other.amounts) == (
        alone.lengths, alone.width, alone.weft, alone.amounts,
    )  # fmt: skip


def _in_cotton() -> Pattern:
    """Three Paths as somebody would write it who had never woven it in linen."""
    text = pattern_file("three-paths").read_text("utf-8")
    for linen in ("fibre: linen\n    count: 20/2\n    ends_per_inch: 49.3",):
        text = text.replace(linen, "fibre: cotton\n    count: 5/2")
    for stated in ("  take_up: 12 %     # what the warp loses by going over and under\n", "  shrinkage: 3 %    #"):
        assert stated in text
        text = text.replace(stated, "  #" if stated.endswith("#") else "")
    return parse_pattern(text.encode(), "cotton.yaml", "cotton")


def test_a_tape_of_one_yarn_has_no_such_table() -> None:
    assert all(group.name != "second-yarns" for group in panels(back("nine")))
    assert card("nine")[0].second == ()


# To fill in, to sew on


def test_five_tapes_can_be_written_down_under_the_names_of_the_keys() -> None:
    group = panel(back("nine"), "results-table")
    heads = [words.text for words in all_words(group.marks) if words.text in length_words.RESULT_BLANKS]
    assert heads == list(length_words.RESULT_BLANKS)
    lines = [mark for mark in leaves(group.marks) if isinstance(mark, Line) and mark.y1 == mark.y2]
    tops = sorted(line.y1 for line in lines)
    assert len(tops) == 6  # under the heads, and under each tape
    assert {line.x2 - line.x1 for line in lines} == {group.box.width}
    assert min(below - above for above, below in pairwise(tops)) >= 5.2


@pytest.mark.parametrize("stem", SAMPLED)
def test_there_is_a_place_for_a_sample(stem: str) -> None:
    (frame,) = (figure for figure in groups(back(stem).page.marks, "figure") if figure.name == "sample")
    (place,) = (mark.box for mark in frame.marks if isinstance(mark, Rectangle))
    assert (place.width, place.height) == (80, 60)
    assert not any(isinstance(mark, Words) and not _within(mark, place) for mark in frame.marks)


def _within(words: Words, box: Box) -> bool:
    return box.left < words.x < box.right and box.top < words.y < box.bottom


# What is left over


@pytest.mark.parametrize("paper", [0, 1])
@pytest.mark.parametrize("stem", PATTERNS)
def test_all_that_found_no_room_in_front_stands_behind(stem: str, paper: int) -> None:
    composed = card(stem, paper)[1]
    assert composed.left_out == ()
    assert faults(back(stem, paper), record().as_back(record().papers[paper]), record().papers[paper]) == []


def test_the_rest_of_the_source_stands_first() -> None:
    composed = back("three-paths")
    (first, second, *_) = sorted(panels(composed), key=lambda group: group.box.top)
    assert (first.name, second.name) == ("back-name", "source")
    words = printed(second)
    assert words.startswith("More of where it comes from Held by: Hythe Custom House Collection (invented).")
    assert words.endswith("Hythe Custom House Collection, list of small goods, page 10 (invented).")
    assert "Grade" not in words  # which the front tells


def test_no_sentence_stands_on_both_sides() -> None:
    """But for the name, and for what heads columns, labels and parts of drawings."""
    for stem in PATTERNS:
        composed = card(stem)[1]
        assert composed.back
        front, behind = (_sentences(side) for side in (composed, composed.back))
        assert front & behind == set(), stem


def _sentences(composed: Composed) -> set[str]:
    paragraphs = (
        " ".join(word.text for word in all_words(each.marks)) for each in groups(composed.page.marks, "paragraph")
    )
    return {f"{each.strip()}." for text in paragraphs for each in text.split(". ") if len(each.split()) > 4}


def test_it_is_heard_after_its_name() -> None:
    heard = text_read_aloud(back("three-paths").page)
    for words in ("In another yarn", "When an end breaks", "Winding: ", "To a student: ", "A square QR code"):
        assert words in heard


@pytest.mark.parametrize("name", ["rest-and-code", "rest-code-and-sample"])
def test_what_holds_the_file_is_for_a_record_only(name: str, tmp_path) -> None:  # type: ignore[no-untyped-def]
    text = (pattern_file("nine").parent.parent / "layouts" / "cards" / "handout.yaml").read_text("utf-8")
    own = tmp_path / "own.yaml"
    own.write_text(
        text.replace("{panel: trouble, columns: 12, priority: 2}", f"{{panel: {name}, columns: 12, priority: 2}}", 1)
    )
    with pytest.raises(Exception, match="it is for a record only"):
        loading.load_layout(own)
