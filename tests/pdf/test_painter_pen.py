"""The operators that marks become, worked out by hand on a page 100 mm high (283.465 pt; 1 mm is 2.834646 pt)."""

from __future__ import annotations

import re
from math import ulp

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.model.marks import Box, Dot, Face, Group, Line, Mark, Path, Rectangle, Stamp, Step, Words
from cardmaker.pdf.character_codes import text_placeholder, usual
from cardmaker.pdf.operands import POINTS_PER_MM, Colours, Numbers, compact
from cardmaker.pdf.page_resources import PageResources, content_of
from cardmaker.pdf.pen import Pen

TOP = 100 * POINTS_PER_MM


def operators(*marks: Mark) -> list[str]:
    pen = Pen(Numbers(), Numbers(TOP, -POINTS_PER_MM), PageResources())
    pen.draw(marks)
    return pen.finished().split("\n")


def test_a_line_is_flipped_and_in_points() -> None:
    # x: 10 mm = 28.346, 110 mm = 311.811; y: 100 - 25 = 75 mm = 212.598
    assert operators(Line(10, 25, 110, 25, 1)) == [
        "0 G", "2.835 w", "[] 0 d", "0 J 0 j", "28.346 212.598 m 311.811 212.598 l", "S",
    ]  # fmt: skip


def test_what_is_set_is_not_set_again() -> None:
    lines = [Line(0, mm, 10, mm, 1, "#ff0000") for mm in range(3)]
    written = operators(*lines, Line(0, 5, 10, 5, 1, "#ff0000", (2, 1)), Line(0, 6, 10, 6, 2, "#ff0000", (2, 1), True))
    assert written.count("1 0 0 RG") == 1
    assert written[4:8] == [f"0 {text} m 28.346 {text} l" for text in ("283.465", "280.63", "277.795")] + ["S"]
    assert written[8:] == [
        "[5.669 2.835] 0 d", "0 269.291 m 28.346 269.291 l", "S",
        "5.669 w", "1 J 1 j", "0 266.457 m 28.346 266.457 l", "S",
    ]  # fmt: skip


def test_every_fill_is_painted_by_itself() -> None:
    plain = [Rectangle(Box(mm, 0, 10, 10), "#a5322b") for mm in (0, 5)]
    assert operators(*plain) == [
        "0.647 0.196 0.169 rg", "0 255.118 28.346 28.346 re f", "14.173 255.118 28.346 28.346 re f",
    ]  # fmt: skip
    outlined = operators(
        Line(0, 0, 1, 1, 1), Rectangle(Box(0, 0, 10, 10), "#000000", "#000000", 1), Line(0, 0, 1, 1, 1)
    )
    assert outlined[4:] == [
        "0 283.465 m 2.835 280.63 l", "S", "0 g", "0 255.118 28.346 28.346 re B", "0 283.465 m 2.835 280.63 l", "S",
    ]  # fmt: skip


def test_a_dot_is_four_quarter_circles() -> None:
    # middle 141.7323, radius 28.3465, handles 0.55228 of it: 15.6553 from the middle
    assert operators(Dot(50, 50, 10, "#000000"))[1] == (
        "141.732 113.386 m 157.388 113.386 170.079 126.077 170.079 141.732 c "
        "170.079 157.388 157.388 170.079 141.732 170.079 c 126.077 170.079 113.386 157.388 113.386 141.732 c "
        "113.386 126.077 126.077 113.386 141.732 113.386 c h f"
    )


def test_a_rounded_box_has_straight_sides_between_its_corners() -> None:
    outline = operators(Rectangle(Box(10, 20, 40, 30), "#000000", radius=5))[1]
    assert re.sub(r"[-\d. ]", "", outline) == "mlclclclchf"
    assert operators(Rectangle(Box(10, 20, 40, 30), "#000000", radius=99))[1].count("l") == 2  # its ends are half round


def test_nothing_to_draw_writes_nothing() -> None:
    nothing = (
        Rectangle(Box(0, 0, 1, 1)), Dot(1, 1, 1), Path((), "#000000"), Path((("move", 1, 1),)),
        Words(1, 1, "", Face.SANS, 9), Stamp((), 5, 1, 1, Box(0, 0, 1, 1)),
        Stamp((Dot(1, 1, 1),), 0, 1, 1, Box(0, 0, 1, 1)),
        Group("panel", "empty", Box(0, 0, 1, 1), ()),
    )  # fmt: skip
    assert operators(*nothing) == [""]


def test_words_stay_in_one_text_object_and_change_only_what_differs() -> None:
    written = operators(
        Words(10, 25, "ab", Face.SANS, 9), Words(10, 30, "c", Face.SANS, 9),
        Words(10, 35, "d", Face.SANS, 12, "#ff0000"), Words(10, 25, "e", Face.SANS, 12, "#ff0000", turned=90),
    )  # fmt: skip
    assert written == [
        "0 g", "BT", "/F1+0 9 Tf", f"1 0 0 1 28.346 212.598 Tm <{usual('ab')}> Tj",
        f"1 0 0 1 28.346 198.425 Tm <{usual('c')}> Tj", "1 0 0 rg", "/F1+0 12 Tf",
        f"1 0 0 1 28.346 184.252 Tm <{usual('d')}> Tj", f"0 1 -1 0 28.346 212.598 Tm <{usual('e')}> Tj", "ET",
    ]  # fmt: skip


def test_a_text_with_an_unusual_character_waits_for_the_document() -> None:
    assert operators(Words(10, 25, "дa", Face.SANS, 9))[-2] == (
        f"1 0 0 1 28.346 212.598 Tm {text_placeholder(Face.SANS, '9', 'дa')}"
    )


def test_steps_of_a_path() -> None:
    steps: tuple[Step, ...] = (("move", 0, 0), ("line", 10, 0), ("curve", 20, 0, 20, 10, 10, 10), ("close",))
    outline = "0 283.465 m 28.346 283.465 l 56.693 283.465 56.693 255.118 28.346 255.118 c h"
    assert operators(Path(steps, "#808080")) == ["0.502 g", f"{outline} f"]
    assert operators(Path(steps, None, "#808080", 1))[4:] == [outline, "S"]


def test_repeats_are_drawn_once_and_placed_without_drift() -> None:
    stamp = Stamp((Rectangle(Box(10, 10, 1, 1), "#000000"),), 1000, 0, 0.0333333333, Box(10, 10, 10, 80))
    resources = PageResources()
    pen = Pen(Numbers(), Numbers(TOP, -POINTS_PER_MM), resources)
    pen.draw((stamp,))
    written = pen.finished().split("\n")
    ((name, form),) = resources.forms.items()
    assert form.content == content_of("0 g\n0 -2.835 2.835 2.835 re f")  # 1 mm, from the form's own corner downwards
    assert resources.used == (name,)
    assert written[0] == "q 28.346 28.346 28.346 226.772 re W n"
    assert written[1] == f"q 1 0 0 1 28.346 255.118 cm /{name} Do Q"
    assert len(written) == 1 + 1000 + 1
    last = float(written[-2].split()[6])
    assert last == pytest.approx((90 - 999 * 0.0333333333) * POINTS_PER_MM, abs=0.00051)


def test_a_single_repeat_is_drawn_where_it_stands_and_leaves_nothing_set() -> None:
    black = Rectangle(Box(0, 0, 10, 10), "#000000")
    red = Rectangle(Box(0, 0, 10, 10), "#ff0000")
    written = operators(black, Stamp((red,), 1, 0, 5, Box(0, 0, 5, 5)), black, red)
    square = "0 255.118 28.346 28.346 re f"
    assert written == [
        "0 g", square, "q 0 269.291 14.173 14.173 re W n", "1 0 0 rg", square, "Q", square, "1 0 0 rg", square,
    ]  # fmt: skip


def test_a_group_keeps_its_marks_together() -> None:
    line = Line(0, 0, 10, 10, 1)
    assert operators(line, Group("panel", "one", Box(0, 0, 10, 10), (line, line)), line).count("S") == 3


@pytest.mark.parametrize("colour", ["red", "#f00", "#rrggbb", "#aabbccdd", "aabbcc", "", "#aabbcc\n", "#１２３４５６"])
def test_only_six_hexadecimal_figures_are_a_colour(colour: str) -> None:
    with pytest.raises(ValueError, match="is not a colour"):
        Colours("g", "rg")[colour]
    with pytest.raises(ValueError, match="is not a colour"):
        operators(Line(0, 0, 1, 1, 1, colour))


def test_greys_are_grey_and_colours_keep_their_value() -> None:
    assert Colours("g", "rg")["#000000"] == "0 g"
    assert Colours("G", "RG")["#FFffFF"] == "1 G"
    assert Colours("g", "rg")["#a5322b"] == "0.647 0.196 0.169 rg"


@pytest.mark.parametrize(
    "mark",
    [
        Line(0, 0, 1, 1, 0),
        Line(0, 0, 1, 1, -1),
        Line(0, 0, 1, 1, 1, dash=(0, 0)),
        Line(0, 0, 1, 1, 1, dash=(2, -1)),
        Line(0, 0, float("nan"), 1, 1),
        Line(0, 0, float("inf"), 1, 1),
        Line(0, 0, 1, 1, float("nan")),
        Rectangle(Box(0, 0, -1, 1), "#000000"),
        Rectangle(Box(0, 0, 1, 1), stroke="#000000"),
        Dot(0, 0, -1, "#000000"),
        Dot(0, 0, 1, None, "#000000"),
        Path((("line", 1, 1),), "#000000"),
        Path((("move", 1, 1), ("hop", 2, 2)), "#000000"),  # type: ignore[arg-type]
    ],
)
def test_what_cannot_be_drawn_is_refused(mark: Mark) -> None:
    with pytest.raises(ValueError, match=r"cannot be drawn|no place on a page|begins with a move|no step of a path"):
        operators(mark)


@given(st.floats(-1e12, 1e12))
def test_numbers_are_plain_and_near(value: float) -> None:
    text = compact(value)
    assert re.fullmatch(r"-?(0|[1-9]\d*)(\.\d{0,2}[1-9])?", text)
    assert text != "-0"
    assert float(text) == pytest.approx(value, abs=0.000501 + ulp(value))  # of large numbers floats are no nearer


@given(st.lists(st.floats(-1000, 1000), max_size=20), st.floats(-1000, 1000))
def test_a_number_is_written_alike_whatever_came_before(before: list[float], value: float) -> None:
    used = Numbers(TOP, -POINTS_PER_MM)
    for other in before:
        used[other]
    assert used[value] == Numbers(TOP, -POINTS_PER_MM)[value]


def test_the_cache_of_numbers_stays_small(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("cardmaker.pdf.operands._MOST_NUMBERS", 10)
    numbers = Numbers()
    written = [numbers[mm / 8] for mm in range(100)]
    assert len(numbers) <= 10
    assert written == [Numbers()[mm / 8] for mm in range(100)]
