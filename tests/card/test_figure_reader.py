"""The reader of counts in pictures reads what is printed, and says nothing where a weaver could be mistaken.

What it reads, it must have seen: every proof prints numbers by chance, with the project's own marks, and lets the
picture be copied twice.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from typing import Final, NamedTuple

import numpy as np
import pytest

from cardmaker.layout.ink import HAIRLINE, Ink, hatching, ink_of
from cardmaker.model.marks import Box, Dot, Face, Line, Mark, Page, Rectangle, Words
from cardmaker.model.record_class import replace
from cardmaker.reckoning.stripes.colour_clash import lightness
from tests.helpers.card_faults import grown, letters_box
from tests.helpers.figure_reader import AROUND_MM, FACES, copy_of_a_copy, read_figure
from tests.helpers.painted import paint
from tests.helpers.paper_tools import Grey

WIDE, HIGH = 215.9, 279.4
SIZES: Final = (9, 9.25, 10, 10.5, 11, 12, 14, 15, 18, 20, 24, 28)
DARK_AND_LIGHT: Final = ("#9c2f2b", "#2f4a7d", "#4f6b3f", "#222222", "#f4f0e4", "#dec57e", "#ffffff")
GREEN: Final = "#6f8b52"  # the copier takes it for toner, and black figures stand on it


class Cell(NamedTuple):
    """A number with the marks under it and over it."""

    figure: Words
    under: tuple[Mark, ...] = ()
    over: tuple[Mark, ...] = ()


def numbers(seed: int, many: int) -> Iterator[Words]:
    """Numbers of one to three digits by chance, in rows down the page."""
    chance = random.Random(seed)
    x, y = 14.0, 24.0
    for _ in range(many):
        if x > WIDE - 40:
            x, y = 14 + chance.random(), y + 16 + chance.random()
        text, face, size = str(chance.randint(0, 199)), chance.choice(FACES), chance.choice(SIZES)
        yield Words(x, y, text, face, size)
        x += letters_box(Words(x, y, text, face, size)).width + 6 + chance.random()


def printed(cells: Sequence[Cell]) -> Grey:
    marks = [mark for cell in cells for mark in (*cell.under, cell.figure, *cell.over)]
    return copy_of_a_copy(paint([Page(WIDE, HIGH, tuple(marks), "Figures")], title="Figures"))


def read(cells: Sequence[Cell]) -> list[int | None]:
    sheet = printed(cells)
    return [read_figure(sheet, letters_box(cell.figure)) for cell in cells]


# It reads what is there


@pytest.mark.parametrize("seed", [1, 2])
def test_numbers_on_white_are_read(seed: int) -> None:
    cells = [Cell(words) for words in numbers(seed, 80)]
    assert read(cells) == [int(cell.figure.text) for cell in cells]


@pytest.mark.parametrize("size", [9, 14, 28])
@pytest.mark.parametrize("face", FACES)
def test_every_number_of_a_warp_is_read(face: Face, size: float) -> None:
    """No two numbers look alike to it. By tens and in single steps, three digits with every last one."""
    wanted = [*range(10), *range(10, 100, 7), *range(100, 200, 11)]
    cells = [
        Cell(Words(14 + at % 9 * 22, 24 + at // 9 * 20, str(number), face, size)) for at, number in enumerate(wanted)
    ]
    assert read(cells) == wanted


def inks() -> dict[str, Ink]:
    """All seven hatchings, the closest on the darkest."""
    by_lightness = sorted(DARK_AND_LIGHT, key=lightness, reverse=True)
    return {colour: ink_of(colour, number) for number, colour in enumerate(by_lightness)}


def on_yarn(words: Words, ink: Ink, *, plate: bool = True) -> Cell:
    """In the yarn's cell, hatched, on a plate of its colour that keeps the hatching off."""
    cell, keep = grown(letters_box(words), 2.0), grown(letters_box(words), 0.5)
    under: list[Mark] = [Rectangle(cell, fill=ink.fill), *hatching(cell, ink, HAIRLINE)]
    under += [Rectangle(keep, fill=ink.fill)] if plate else []
    return Cell(words._replace(colour=ink.on), (*under, Rectangle(cell, stroke="#000000", width=0.25)))


def test_numbers_on_hatched_yarns_are_read_from_their_plates() -> None:
    chance = random.Random(3)
    cells = [on_yarn(words, chance.choice(list(inks().values()))) for words in numbers(3, 70)]
    assert read(cells) == [int(cell.figure.text) for cell in cells]


# It cannot be led astray


def test_hatching_behind_a_number_is_not_read() -> None:
    """Without a plate, a close and unbroken one. Never is another number read for what stands there."""
    close = [replace(ink, slopes=(1, -1), spacing=1.2, dash=()) for ink in inks().values()]
    chance = random.Random(4)
    cells = [on_yarn(words, chance.choice(close), plate=False) for words in numbers(4, 60)]
    assert set(read(cells)) <= {None, *(int(cell.figure.text) for cell in cells)}
    assert read(cells).count(None) > 50


def test_black_on_what_the_copier_takes_for_black_is_not_read() -> None:
    ink = Ink(GREEN, "#000000", (), 0)
    assert set(read([on_yarn(words, ink) for words in numbers(5, 20)])) == {None}


def under_a_stroke(cell: Cell) -> Cell:
    box = letters_box(cell.figure)
    y = box.top + box.height / 2
    return replace_over(cell, Line(box.left - 2, y, box.right + 2, y, 0.3))


def crossed_out(cell: Cell) -> Cell:
    box = letters_box(cell.figure)
    return replace_over(cell, Line(box.left - 1, box.bottom + 1, box.right + 1, box.top - 1, 0.3))


def printed_over(cell: Cell) -> Cell:
    """By an 8 that stands a third of a digit aside."""
    words = cell.figure
    return replace_over(cell, words._replace(x=words.x + letters_box(words._replace(text="0")).width / 3, text="8"))


def pushed_into(cell: Cell) -> Cell:
    """Its neighbour touches it."""
    words = cell.figure
    wide = letters_box(words._replace(text="0")).width
    return replace_over(cell, words._replace(x=words.x + letters_box(words).width - wide * 0.12, text="0"))


def replace_over(cell: Cell, mark: Mark) -> Cell:
    return cell._replace(over=(*cell.over, mark))


@pytest.mark.parametrize("spoil", [under_a_stroke, crossed_out, printed_over, pushed_into])
def test_a_number_that_something_runs_through_is_not_read(spoil: Callable[[Cell], Cell]) -> None:
    cells = [spoil(Cell(words)) for words in numbers(6, 50)]
    told = read(cells)
    assert told.count(None) >= 45, told
    assert (
        sum(number is not None and number == int(cell.figure.text) for number, cell in zip(told, cells, strict=True))
        <= 1
    )


def blotted(cell: Cell, chance: random.Random, colour: str) -> Cell:
    """A blot, or a place where the toner came off, a third as high as the number and on its ink's room."""
    box = letters_box(cell.figure)
    x, y = box.left + box.width * chance.uniform(0.2, 0.8), box.top + box.height * chance.uniform(0.2, 0.8)
    return replace_over(cell, Dot(x, y, box.height / 4, fill=colour))


@pytest.mark.parametrize("colour", ["#000000", "#ffffff"])
def test_a_blotted_number_is_read_as_it_is_or_not_at_all(colour: str) -> None:
    """A blot can make an 8 of a 3, to anybody; of the others it may make none. Most say nothing any more."""
    chance = random.Random(7)
    cells = [blotted(Cell(words), chance, colour) for words in numbers(7, 80)]
    told = read(cells)
    wrong = [
        (cell.figure.text, number)
        for number, cell in zip(told, cells, strict=True)
        if number not in (None, int(cell.figure.text))
    ]
    assert len(wrong) <= 2, wrong
    assert told.count(None) > 40


def test_what_is_not_a_number_is_not_read() -> None:
    letters = ["Wh", "Bu", "Re", "Gr", "·", "Bk"] * 2
    words = [words._replace(text=text) for words, text in zip(numbers(8, len(letters)), letters, strict=True)]
    assert set(read([Cell(each) for each in words])) == {None}
    blank = np.full_like(printed([]), 255)
    assert read_figure(blank, Box(50, 50, 6, 4)) is None
    assert read_figure(blank, Box(0, 0, 6, 4)) is None


def test_a_place_that_is_not_the_numbers_own_says_nothing() -> None:
    """Half a number is no number: what runs out of the place is followed, and what goes on out of sight is refused."""
    cells = [Cell(words) for words in numbers(9, 40) if len(words.text) > 1]
    sheet = printed(cells)
    for cell in cells:
        box = letters_box(cell.figure)
        assert read_figure(sheet, Box(box.left, box.top + box.height / 2, box.width, box.height / 2)) is None
        assert read_figure(sheet, Box(box.left, box.top - 3 - AROUND_MM, box.width, 2)) is None
