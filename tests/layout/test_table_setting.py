"""Tables as cards and sheets set them: what wraps, what never does, and tables that are read upward.

The ruler here gives every sign 1 mm at 10 points, so that widths can be reckoned by hand.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import pytest

from cardmaker.layout.table_setting import (
    Column,
    Row,
    SetTable,
    Table,
    TableAir,
    TooWide,
    draw_table,
    row_boxes,
    set_table,
    table_height,
    unwrapped_width,
)
from cardmaker.layout.type_setting import cap_height, leading
from cardmaker.model.marks import Box, Group, Mark, Words
from tests.helpers.even_space import EvenSpace

AIR = TableAir(gap=2.0, least_gap=2.0, above=1.0, below=0.5)
NAMES = ("green linen thread", "white", "red")


SPACE = EvenSpace(10, 8)  # 10 points for all but the smallest type
TABLE = Table(
    "yarns",
    (Column("", strong=True, head_alt="letters"), Column("yarn"), Column("of all", "right")),
    tuple(Row((name[:2], name, str(number))) for name, number in zip(NAMES, (12345, 66, 3), strict=True)),
)
WHOLE = 2 + 18 + 6 + 2 * 2.0  # letters, the longest name, the last head, and two gaps


def groups(marks: Iterable[Mark], role: str) -> Iterator[Group]:
    for mark in marks:
        if isinstance(mark, Group):
            if mark.role == role:
                yield mark
            yield from groups(mark.marks, role)


def words_of(group: Group) -> list[Words]:
    return [mark for mark in group.marks if isinstance(mark, Words)]


def cells(table: SetTable, *, upward: bool = False) -> list[list[Words]]:
    """The words of each cell of the rows, in the order in which they are read."""
    return [words_of(cell) for cell in groups(draw_table(table, Box(0, 0, 100, 0), upward=upward), "cell")]


def test_nothing_wraps_at_the_width_that_it_wants() -> None:
    assert unwrapped_width(TABLE, SPACE, 2.0) == pytest.approx(WHOLE)
    table = set_table(TABLE, SPACE, WHOLE, AIR)
    assert [[word.text for word in cell] for cell in cells(table)][1::3] == [[name] for name in NAMES]
    assert table.width == pytest.approx(WHOLE)


def test_a_name_wraps_where_it_finds_no_room_and_is_never_cut() -> None:
    """A millimetre less: the head has two lines first; less than the figures leave, and the longest name has two."""
    head = set_table(TABLE, SPACE, WHOLE - 1, AIR)
    assert [len(cell) for cell in cells(head)] == [1] * 9
    heads = [
        [word.text for word in words_of(cell)] for cell in groups(draw_table(head, Box(0, 0, 100, 0)), "header cell")
    ]
    assert heads == [[""], ["yarn"], ["of", "all"]]
    table = set_table(TABLE, SPACE, WHOLE - 4, AIR)
    assert [word.text for word in cells(table)[1]] == ["green linen", "thread"]
    assert {word.size for cell in cells(table) for word in cell} == {10}
    assert table_height(table) - table_height(head) == pytest.approx(leading(10))


def test_figures_are_one_line_in_smaller_type_or_refused() -> None:
    figures = Table("figures", (Column("", "right"), Column("", "right")), (Row(("1 234 567", "89 012")),))
    assert set_table(figures, SPACE, 17, AIR).size == 10
    small = set_table(figures, SPACE, 15, AIR)
    assert small.size == pytest.approx(8.5)  # 15 signs and 2 mm
    assert [[word.text for word in cell] for cell in cells(small)] == [["1 234 567"], ["89 012"]]
    with pytest.raises(TooWide):
        set_table(figures, SPACE, 13.9, AIR)


def test_a_blank_head_says_what_it_heads() -> None:
    heads = groups(draw_table(set_table(TABLE, SPACE, WHOLE, AIR), Box(0, 0, 100, 0)), "header cell")
    assert [head.alt for head in heads] == ["letters", "", ""]


@pytest.mark.parametrize("width", [WHOLE, WHOLE - 4])
def test_upward_the_first_row_stands_at_the_foot_and_is_read_first(width: float) -> None:
    table, box = set_table(TABLE, SPACE, width, AIR), Box(5, 7, 100, 0)
    down, up = row_boxes(table, box), row_boxes(table, box, upward=True)
    assert [place.height for place in down] == [place.height for place in up]
    assert [place.top for place in down] == sorted(place.top for place in down)
    assert [place.top for place in up] == sorted((place.top for place in up), reverse=True)
    assert down[-1].bottom == pytest.approx(up[0].bottom) == pytest.approx(7 + table_height(table))
    for first, second in zip(up[1:], up[:-1], strict=True):
        assert first.bottom == pytest.approx(second.top)
    names = [cell[0] for cell in cells(table, upward=True)[1::3]]
    assert [name.text for name in names] == ["green linen thread" if width == WHOLE else "green linen", "white", "red"]
    for name, place in zip(names, row_boxes(table, Box(0, 0, 100, 0), upward=True), strict=True):
        assert name.y == pytest.approx(place.top + AIR.above + cap_height(10))
