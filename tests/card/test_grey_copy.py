"""A copy of a copy: what is left of a card when a grey copier has taken its colours twice.

Two readers that know nothing of the card read it back. One only compares: each count and each pair of letters with all
that could stand there, drawn anew from the typeface. The other is a model for reading text in pictures, which is asked
only when it is installed (``pip install '.[ocr]'``: some 290 MB, so it is an extra of its own).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import import_module
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFont

from cardmaker.card.composing import compose_card
from cardmaker.jobs import card_making
from cardmaker.layout.yarn_inks import card_inks
from cardmaker.model.card_layout import CardLayout, PanelPlace
from cardmaker.model.marks import Box, Face, Group, Path, Rectangle, Stamp, Words
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import replace
from cardmaker.pdf.fonts import face_path
from cardmaker.reckoning.stripes.colour_clash import lightness
from tests.helpers.card_faults import all_words, leaves, letters_box, panels
from tests.helpers.paper_tools import (
    MM_PER_INCH,
    MM_PER_POINT,
    WORN_BLUR_MM,
    Grey,
    composed,
    copied,
    cut_out,
    picture,
)
from tests.helpers.record_cards import CASES, RULER
from tests.helpers.shipped import paper_of as paper
from tests.helpers.shipped import plan_for_layout, shipped_layout
from tests.helpers.shipped import plan_of as plan

DPI = 300
PATTERNS = ["three-paths", "grey-trap", "fair-day"]
PIXEL = MM_PER_INCH / DPI

# By hand from the catalogue: the letters and counts of the order from the left.
ORDER = {
    "three-paths": "3 Re 5 Wh 3 Bu 9 Wh 3 Bu 5 Wh 3 Re",
    "grey-trap": "6 Re 6 Gr 6 Re 6 Gr",
    "fair-day": "4 Bu 4 Ye 4 Re 4 Wh 6 Gr 4 Bk 6 Gr 4 Wh 4 Re 4 Ye 4 Bu",
}
TITLES = {"three-paths": ("Three Paths", 31), "grey-trap": ("Grey Trap", 24), "fair-day": ("Fair Day", 48)}
LETTERS = """
    Bk Bl Bn Br Bu Co Cr Gd Gn Gr Gy Na Or Pi Pk Pu Rd Re Ru Ta Te Vi Wh Wi Ye
""".split()  # noqa: SIM905

each_pattern = pytest.mark.parametrize("pattern", PATTERNS)


@cache
def with_order() -> CardLayout:
    """A record card of the title and the order alone: the cells of which are the largest pieces of each yarn."""
    record = shipped_layout("record")
    return replace(record, rows=(record.rows[0], (PanelPlace("order", 12, 1, essential=True),)))


@lru_cache(maxsize=8)
def grey(pattern: str) -> Grey:
    return picture(card_making.make_card(of_record(pattern), with_order(), paper("record"), None).pdf, DPI)


def of_record(pattern: str) -> Plan:
    return plan_for_layout(pattern, "record")


@lru_cache(maxsize=8)
def copy_of_a_copy(pattern: str, blur_mm: float | None = None) -> Grey:
    sheet = grey(pattern)
    for _ in range(2):
        sheet = copied(sheet, DPI) if blur_mm is None else copied(sheet, DPI, blur_mm=blur_mm)
    return sheet


@cache
def panel(pattern: str, name: str) -> Group:
    return next(
        group
        for group in panels(compose_card(of_record(pattern), with_order(), paper("record"), RULER))
        if group.name == name
    )


def level_words(group: Group) -> list[Words]:
    return [words for words in all_words(group.marks) if not words.turned]


# The comparing reader


@cache
def drawn(text: str, face: Face, size: float) -> Grey:
    """The words in black on white, a margin of 2 pixels about their ink, at the resolution of the copies."""
    font = ImageFont.truetype(str(face_path(face)), size * MM_PER_POINT / PIXEL)
    left, top, right, bottom = (round(side) for side in font.getbbox(text))
    sheet = Image.new("L", (right - left + 4, bottom - top + 4), 255)
    ImageDraw.Draw(sheet).text((2 - left, 2 - top), text, font=font, fill=0)
    return np.asarray(sheet, dtype=np.uint8)


def trimmed(sheet: Grey) -> Grey:
    """The ink of a cut-out alone, with a margin of 2 pixels."""
    rows, columns = np.nonzero(sheet < 128)
    if not len(rows):
        return sheet
    part = sheet[rows.min() : rows.max() + 1, columns.min() : columns.max() + 1]
    return np.pad(part, 2, constant_values=255)


def likeness(one: Grey, two: Grey) -> float:
    """How alike two small pictures are, 1 for the same: their correlation, laid middle on middle and a pixel or two
    about it, on a field that holds both."""
    if one.min() == one.max():
        return 0.0  # nothing is there
    high, wide = (max(a, b) + 4 for a, b in zip(one.shape, two.shape, strict=True))
    first, second = centred(one, high, wide), centred(two, high, wide)
    shifts = [(down, aside) for down in (-2, -1, 0, 1, 2) for aside in (-2, -1, 0, 1, 2)]
    return max(float(np.corrcoef(first.ravel(), np.roll(second, shift, (0, 1)).ravel())[0, 1]) for shift in shifts)


def centred(sheet: Grey, high: int, wide: int) -> Grey:
    field = np.full((high, wide), 255, dtype=np.uint8)
    top, left = (high - sheet.shape[0]) // 2, (wide - sheet.shape[1]) // 2
    field[top : top + sheet.shape[0], left : left + sheet.shape[1]] = sheet
    return field


def looked_up(sheet: Grey, words: Words, choices: Sequence[str]) -> str:
    """The one of ``choices`` that looks most like what stands at the words' place; their text itself is not used."""
    reach = max(drawn(choice, words.face, words.size).shape[1] for choice in choices) * PIXEL
    box = letters_box(words)
    middle = box.left + box.width / 2
    around = Box(middle - reach / 2, box.top - 0.35, reach, box.height + 0.7)
    found = trimmed(cut_out(sheet, around, DPI))
    return max(choices, key=lambda choice: likeness(found, drawn(choice, words.face, words.size)))


def compared(sheet: Grey, pattern: str) -> str:
    """The order as the comparing reader reads it: count and letters of every stripe from the left, row after row."""
    group = panel(pattern, "order")
    largest = max(words.size for words in level_words(group) if words.text.isdigit())
    counts = [words for words in level_words(group) if words.size == largest and words.align == "middle"]
    found = []
    for words in sorted(counts, key=lambda words: (round(words.y), words.x)):
        letters = min(
            (other for other in level_words(group) if other.align == "middle" and other.y > words.y + 1),
            key=lambda other: (round(other.y - words.y), abs(other.x - words.x)),
        )
        count = looked_up(sheet, words, [str(number) for number in range(1, 61)])
        found.append(f"{count} {looked_up(sheet, letters, LETTERS)}")
    return " ".join(found)


@each_pattern
def test_every_stripe_is_still_told_from_all_others(pattern: str) -> None:
    assert compared(copy_of_a_copy(pattern), pattern) == ORDER[pattern]


@each_pattern
def test_a_worn_copier_leaves_counts_and_letters(pattern: str) -> None:
    assert compared(copy_of_a_copy(pattern, WORN_BLUR_MM), pattern) == ORDER[pattern]


@each_pattern
def test_the_total_is_still_told_from_all_others(pattern: str) -> None:
    total = TITLES[pattern][1]
    words = next(
        words for words in level_words(panel(pattern, "title")) if words.text == f"{total}\N{NO-BREAK SPACE}ends"
    )
    choices = [f"{number} ends" for number in range(total // 10 * 10, total // 10 * 10 + 10)]  # of one width
    assert looked_up(copy_of_a_copy(pattern), words, choices) == f"{total} ends"


def test_the_comparing_reader_reads_what_is_there() -> None:
    """On the sheet of another pattern it does not find what this one's card should say."""
    assert compared(copy_of_a_copy("fair-day"), "three-paths") != ORDER["three-paths"]
    blank: Grey = np.full_like(grey("three-paths"), 255)
    assert compared(blank, "three-paths") != ORDER["three-paths"]


# The reading model


@cache
def reader() -> Any:
    """The recogniser alone: where words stand is known, what they say is not. Skips when it is not installed."""
    try:
        return import_module("rapidocr_onnxruntime").RapidOCR()
    except ImportError as missing:  # the package, or a library of the system that its pictures need
        pytest.skip(f"no reading model: {missing}")


def read(sheet: Grey, words: Words) -> str:
    box = letters_box(words)
    room = Box(box.left - 0.8, box.top - 0.8, box.width + 1.6, box.height + 1.6)
    if words.size > 20:  # a title has descenders
        room = Box(room.left, room.top, room.width, room.height + 1.8)
    part = cut_out(sheet, room, DPI)
    found, _ = reader()(np.stack([part] * 3, axis=-1), use_det=False, use_cls=False)
    return str(found[0][0]).strip() if found else ""


@each_pattern
def test_title_and_total_are_read(pattern: str) -> None:
    title, total = TITLES[pattern]
    found = {read(copy_of_a_copy(pattern), words).replace(" ", "") for words in level_words(panel(pattern, "title"))}
    assert {title.replace(" ", ""), f"{total}ends"} <= found


@each_pattern
def test_every_stripe_is_read(pattern: str) -> None:
    """All the words of the order: counts, letters, running totals, and what the two levels are called."""
    words = level_words(panel(pattern, "order"))
    assert [read(copy_of_a_copy(pattern), each).replace(" ", "") for each in words] == [
        each.text.replace(" ", "").replace("\xa0", "") for each in words
    ]
    assert re.findall(r"\b[A-Z][a-z]\b", " ".join(each.text for each in words))


def test_the_reading_model_reads_what_is_there() -> None:
    words = next(
        words for words in level_words(panel("three-paths", "title")) if words.text == "31\N{NO-BREAK SPACE}ends"
    )
    assert read(copy_of_a_copy("fair-day"), words) != "31 ends"


# Hatching


@dataclass(frozen=True, slots=True)
class Texture:
    """How a stripe looks without colour: its mean grey, and how much it changes across, down, rising and falling."""

    grey: float
    across: float
    down: float
    slant: float

    def unlike(self, other: Texture) -> float:
        return max(
            abs(self.grey - other.grey) / 255,
            abs(self.across - other.across),
            abs(self.down - other.down),
            abs(self.slant - other.slant),
        )


def texture(cells: Sequence[Grey]) -> Texture:
    """Averages over the cells of a stripe; changes as a share of what a field of black and white pixels could have."""
    mean = float(np.mean([cell.mean() for cell in cells]))
    sums = np.zeros(3)
    for cell in cells:
        down, across = np.gradient(cell.astype(np.float64) / 255)
        sums += [(across**2).mean(), (down**2).mean(), (across * down).mean()]
    across_, down_, slant = np.sign(sums) * np.sqrt(np.abs(sums) / len(cells))
    return Texture(mean, float(across_), float(down_), float(slant))


def stripes(pattern: str, sheet: Grey) -> Iterator[tuple[str, Texture]]:
    """The letters of each stripe of the order and its texture, from the left, measured within the cells' outlines."""
    group = panel(pattern, "order")
    cells = [mark.box for mark in leaves(group.marks) if isinstance(mark, Rectangle) and mark.stroke and not mark.fill]
    at = 0
    for count, letters in zip(*[iter(ORDER[pattern].split())] * 2, strict=True):
        inner = [box.inset(0.35, 0.35, 0.35, 0.35) for box in cells[at : at + int(count)]]
        at += int(count)
        yield letters, texture([cut_out(sheet, box, DPI) for box in inner])
    assert at == len(cells)


SAME, OTHER = 0.06, 0.10


@each_pattern
def test_neighbours_differ_without_their_colours(pattern: str) -> None:
    found = list(stripes(pattern, grey(pattern)))
    for (letters, one), (beside, two) in pairwise(found):
        assert one.unlike(two) > OTHER, (letters, beside)


@each_pattern
def test_neighbours_differ_in_a_copy_of_a_copy(pattern: str) -> None:
    found = list(stripes(pattern, copy_of_a_copy(pattern)))
    for (letters, one), (beside, two) in pairwise(found):
        assert one.unlike(two) > OTHER, (letters, beside)


@each_pattern
def test_stripes_of_one_yarn_look_alike(pattern: str) -> None:
    """The measure of unlikeness can tell that nothing differs."""
    found = list(stripes(pattern, grey(pattern)))
    pairs = [(one, two) for letters, one in found for beside, two in found if letters == beside]
    assert max(one.unlike(two) for one, two in pairs) < SAME


def test_the_greys_of_grey_trap_alone_would_not_tell_its_stripes() -> None:
    """Its two yarns are within 2 of 100 in lightness: it is the hatching that tells them, not the grey."""
    red, green = (plan("grey-trap").pattern.yarn(name).colour for name in ("red", "green"))
    assert abs(lightness(red) - lightness(green)) < 2
    flat = dict(stripes("grey-trap", grey("grey-trap")))
    assert abs(flat["Re"].grey - flat["Gr"].grey) / 255 < OTHER / 2
    assert flat["Re"].unlike(flat["Gr"]) > OTHER


# Letters


@pytest.mark.parametrize(("pattern", "loom"), [case[:2] for case in CASES if case[2] == "letter"])
def test_no_two_yarns_of_a_card_have_the_same_letters(pattern: str, loom: str) -> None:
    of = plan(pattern, loom)
    letters = [colour.letters for colour in of.colours]
    assert len(set(letters)) == len(letters) == len({colour.yarn for colour in of.colours})
    table = next(group for group in panels(composed(of, "record")) if group.name == "yarn")
    said = {words.text for words in all_words(table.marks)}
    assert set(letters) <= said


# The ribbon


def ribbon_stripes(pattern: str, sheet: Grey) -> Iterator[Texture]:
    """The texture of each stripe of the ribbon, 30 mm of it at life size, a pixel or two within its edges."""
    ribbon = panel(pattern, "ribbon")
    face = next(mark for mark in leaves(ribbon.marks) if isinstance(mark, Stamp)).clip
    end = face.width / plan(pattern).ends
    for run in plan(pattern).runs:
        box = Box(face.left + (run.first_end - 1) * end, face.top + 5, run.ends * end, 30)
        yield texture([cut_out(sheet, box.inset(0.6, 0, 0.6, 0), DPI)])


@pytest.mark.parametrize("copier", [grey, copy_of_a_copy])
def test_stripes_of_one_grey_are_told_apart_on_the_ribbon(copier: Callable[[str], Grey]) -> None:
    found = list(ribbon_stripes("grey-trap", copier("grey-trap")))
    assert len(found) == 4
    for one, two in pairwise(found):
        assert abs(one.slant - two.slant) > 0.04
    assert abs(found[0].slant - found[2].slant) < 0.01
    assert abs(found[1].slant - found[3].slant) < 0.01


def test_a_yarn_bears_its_hatching_on_the_ribbon_too() -> None:
    """Also where greys would tell it from the next: whoever looks it up in the legend finds it by its strokes."""
    strokes = {
        name: [
            mark
            for stamp in leaves(panel(name, "ribbon").marks)
            if isinstance(stamp, Stamp)
            for mark in stamp.marks
            if isinstance(mark, Path) and mark.fill is None
        ]
        for name in ("grey-trap", "two-rails", "three-paths", "fair-day", "stair")
    }
    for name, paths in strokes.items():
        inks = card_inks(plan(name).pattern)
        hatched = {inks[yarn].on for yarn in plan(name).end_yarns if inks[yarn].slopes}
        assert hatched, name
        assert {mark.stroke for mark in paths} == hatched, name
        assert len(paths) == len({(yarn, shed) for shed in ("down", "up") for end in getattr(plan(name).sheds, shed)
                                  if inks[yarn := plan(name).end_yarns[end - 1]].slopes}), name  # fmt: skip
