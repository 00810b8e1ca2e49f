"""Letters on a yarn's colour read, in colour and in any grey copy, whatever the colour and the hatching."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.layout.ink import BLACK, HATCHINGS, WHITE, contrast, copied_grey, ink_of
from cardmaker.layout.lettering import PLATE_EDGE, cell_holds, lettered_cell, plate_under, words_box
from cardmaker.model.marks import Box, Face, Path, Rectangle, Words
from cardmaker.reckoning.stripes.colour_clash import relative_luminance
from tests.helpers.card_faults import letters_box
from tests.helpers.paper_tools import RULER

STEPS = [*range(0, 256, 15)]
CUBE = [f"#{red:02x}{green:02x}{blue:02x}" for red in STEPS for green in STEPS for blue in STEPS]
SANS = Face.SANS_BOLD


def grey_as_light(colour: str) -> str:
    """The grey of the same relative luminance: what a careful conversion makes of a colour."""
    light = relative_luminance(colour)
    part = 12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055
    return "#" + 3 * f"{round(255 * part):02x}"


def test_contrast_of_known_pairs() -> None:
    """21 at most; #767676 is the lightest grey that reads on white, #0000ff on white has 8.59 (WCAG 2.2)."""
    assert contrast(BLACK, WHITE) == pytest.approx(21)
    assert contrast("#767676", WHITE) == pytest.approx(4.54, abs=0.01)
    assert contrast("#0000ff", WHITE) == pytest.approx(8.59, abs=0.01)


def test_letters_read_on_every_colour_of_a_yarn() -> None:
    """As it is, in the grey of the same light, and in the grey that a plain copier makes of it: 4.5 at least."""
    for colour in CUBE:
        ink = ink_of(colour, 0)
        assert min(contrast(ink.on, ink.fill), contrast(ink.on, copied_grey(ink.fill))) >= 4.5, colour
        assert contrast(ink.on, grey_as_light(ink.fill)) > 4.45, colour  # greys in whole steps: one of them is 0.05


@given(st.integers(0, 2**24 - 1))
def test_letters_read_on_any_colour_between(number: int) -> None:
    ink = ink_of(f"#{number:06x}", 0)
    assert min(contrast(ink.on, ink.fill), contrast(ink.on, copied_grey(ink.fill))) >= 4.5


def test_a_yarn_has_its_own_colour_or_one_next_to_it() -> None:
    """What ships stays as it is. Pure red is much darker in a grey copy: black has 5.25 and 2.4, white 4.0 and 8.6."""
    for colour in ("#f4f0e4", "#9c2f2b", "#2f4a7d", "#6f8b52", "#2a2725", "#c9a24a"):
        assert ink_of(colour, 1).fill == colour
    assert contrast(BLACK, copied_grey("#ff0000")) < 2.5
    assert contrast(WHITE, "#ff0000") < 4.0
    assert (ink_of("#ff0000", 1).fill, ink_of("#ff0000", 1).on) == ("#e70000", WHITE)
    off = [distance(colour, ink_of(colour, 0).fill) for colour in CUBE]
    assert sum(each > 0 for each in off) < len(CUBE) / 10
    assert max(off) <= 32  # of 255


def distance(one: str, other: str) -> int:
    return max(abs(a - b) for a, b in zip(parts(one), parts(other), strict=True))


def parts(colour: str) -> list[int]:
    return [int(colour[at : at + 2], 16) for at in (1, 3, 5)]


@pytest.mark.parametrize("number", range(len(HATCHINGS)))
@pytest.mark.parametrize("text", ["27", "Wh", "Gy"])
def test_no_hatching_runs_through_what_stands_in_a_cell(number: int, text: str) -> None:
    box, ink = Box(10.3, 20.1, 14.0, 9.0), ink_of("#2f4a7d", number)
    marks = lettered_cell(box, text, ink, RULER, SANS, 12)
    (words,) = (mark for mark in marks if isinstance(mark, Words))
    at = marks.index(words)
    hatched = any(isinstance(mark, Path) for mark in marks)
    assert hatched == bool(ink.slopes)
    assert words.colour == WHITE
    if hatched:
        plate = marks[at - 1]
        assert isinstance(plate, Rectangle)
        assert plate.fill == ink.fill
        tail = 1.0 if text == "Gy" else 0.0
        assert plate.box.holds(letters_box(words, tail))
        assert box.holds(plate.box)
        assert all(isinstance(mark, Path | Rectangle) for mark in marks[:at])  # the hatching lies under the plate
    assert box.holds(letters_box(words))


def test_words_on_plain_yarn_need_no_plate() -> None:
    assert plate_under(Words(5, 5, "12", SANS, 10), ink_of("#f4f0e4", 0), RULER) == [Words(5, 5, "12", SANS, 10)]


@pytest.mark.parametrize("align", ["left", "middle", "right"])
@pytest.mark.parametrize("turned", [0, 90])
def test_the_plate_lies_under_its_words_however_they_stand(align: str, turned: int) -> None:
    words = Words(30, 40, "Rd", SANS, 10, align=align, turned=turned)  # type: ignore[arg-type]
    plate, inked = plate_under(words, ink_of("#9c2f2b", 2), RULER)
    assert isinstance(plate, Rectangle)
    assert inked == words._replace(colour=WHITE)
    assert plate.box.inset(PLATE_EDGE - 0.1, PLATE_EDGE - 0.1, PLATE_EDGE - 0.1, PLATE_EDGE - 0.1).holds(
        letters_box(words)
    )


def test_a_plate_ends_with_its_cell() -> None:
    cell = Box(0, 0, 4.0, 4.0)
    plate, _ = plate_under(Words(2.0, 3.0, "Rd", SANS, 9, align="middle"), ink_of("#9c2f2b", 2), RULER, cell)
    assert isinstance(plate, Rectangle)
    assert cell.holds(plate.box)


def test_a_cell_holds_what_fits_with_its_plate() -> None:
    words = Words(0, 0, "27", SANS, 12)
    wide, high = words_box(words, RULER)[2:]
    edge = 2 * PLATE_EDGE
    assert cell_holds(Box(0, 0, wide + edge, high + edge), "27", RULER, SANS, 12)
    assert not cell_holds(Box(0, 0, wide + edge - 0.01, high + edge), "27", RULER, SANS, 12)
    assert not cell_holds(Box(0, 0, wide + edge, high + edge - 0.01), "27", RULER, SANS, 12)
    assert not cell_holds(Box(0, 0, wide + edge, high + edge), "2g", RULER, SANS, 12)
