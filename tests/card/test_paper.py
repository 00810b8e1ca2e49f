"""Life size on paper: the bars, the tape and the margins of printed cards, measured in pixels and in vectors.

A pixel column is crossed by the ticks of a bar; the centres of gravity of its dark runs lie on a straight line. The
same measure must tell a page that was printed at 97 %.
"""

from __future__ import annotations

import re
from io import BytesIO

import numpy as np
import pdfplumber
import pikepdf
import pypdfium2
import pytest

from cardmaker.card.composing import Composed
from cardmaker.jobs import card_making, loading, paper_lookup
from cardmaker.model.marks import Box, Group
from tests.helpers.paper_tools import (
    MM_PER_INCH,
    MM_PER_POINT,
    Bar,
    Grey,
    bar_of,
    bars_in_picture,
    bars_of,
    composed,
    dark_runs,
    inked,
    off_size,
    picture,
    printed,
    scaled,
)
from tests.helpers.places import ROOT
from tests.helpers.shipped import LAYOUTS
from tests.helpers.shipped import paper_of as paper
from tests.helpers.shipped import plan_of as plan
from tests.helpers.shipped import shipped_layout as layout

DPI = 600
WITHIN_MM = 0.1
# Tape of 31 ends at 49.3 ends to the inch: 31 / 49.3 in = 15.972 mm.
THREE_PATHS_MM = 31 / 49.3 * 25.4

# Layout, paper, and the bars that find room beside the ribbon: 100 mm in millimetres, 4 in in eighths.
RECORDS = [("record", "letter", [100.0, 101.6]), ("record", "a4", [100.0, 101.6])]
OTHERS = [
    ("handout", "half-letter", [100.0]),
    ("handout", "a5", [100.0]),
    ("handout-large", "letter", [100.0]),  # below it stands that it is sample data, which no other panel says
    ("visitor", "4x6", [100.0]),
    ("visitor", "a6", [100.0]),
]
each_card = pytest.mark.parametrize(
    ("stem", "on", "wanted_mm"), RECORDS + OTHERS, ids=[f"{stem}-{on}" for stem, on, _ in RECORDS + OTHERS]
)


def ribbon_left(stem: str, on: str) -> float:
    return layout(stem).printable(paper(stem, on)).left


def measured(pdf: bytes, stem: str, on: str, factor: float = 1.0) -> list[Bar]:
    """The bars beside the ribbon of a page that was printed at ``factor`` about its middle."""
    sheet, area = paper(stem, on), layout(stem).printable(paper(stem, on))
    middle, level = sheet.width_mm / 2, sheet.height_mm / 2
    right = ribbon_left(stem, on) + THREE_PATHS_MM + 0.3
    below = 22.0 if stem == "visitor" else layout(stem).sample_mm + 1  # the notch's words, a frame: no ticks
    window = level + (area.bottom - below - level) * factor
    above = picture(pdf, DPI)[: round(window * DPI / MM_PER_INCH)]
    return bars_in_picture(above, DPI, middle + (right - middle) * factor)


# The bars


@each_card
def test_the_bars_are_as_long_as_they_say(stem: str, on: str, wanted_mm: list[float]) -> None:
    bars = measured(printed("three-paths", stem, on), stem, on)
    assert [bar.ticks for bar in bars] == [101, 33][: len(wanted_mm)]  # every millimetre, every eighth of an inch
    assert off_size(bars, wanted_mm, WITHIN_MM) == []
    assert max(bar.worst_mm for bar in bars) < 0.03  # each tick where it belongs, to less than a pixel


@each_card
def test_a_page_printed_at_97_percent_is_found_out(stem: str, on: str, wanted_mm: list[float]) -> None:
    bars = measured(scaled(printed("three-paths", stem, on), 0.97), stem, on, 0.97)
    assert [bar.length_mm for bar in bars] == pytest.approx([0.97 * wanted for wanted in wanted_mm], abs=WITHIN_MM)
    assert len(off_size(bars, wanted_mm, WITHIN_MM)) == len(wanted_mm)


@pytest.mark.parametrize(("stem", "on", "wanted_mm"), [*RECORDS, ("visitor", "4x6", [100.0])])
def test_the_bars_in_vectors(stem: str, on: str, wanted_mm: list[float]) -> None:
    ticks = vector_ticks(printed("three-paths", stem, on), ribbon_left(stem, on) + THREE_PATHS_MM)
    bars = bars_of(ticks)
    assert [bar.ticks for bar in bars] == [101, 33][: len(wanted_mm)]
    assert off_size(bars, wanted_mm, 0.01) == []
    assert max(bar.worst_mm for bar in bars) < 0.005


def vector_ticks(pdf: bytes, tape_right: float) -> list[float]:
    """Where the level strokes that begin within 2 mm after the tape stand, from the top, as pdfplumber reads them."""
    with pdfplumber.open(BytesIO(pdf)) as document:
        lines = document.pages[0].lines
    return sorted(
        line["top"] * MM_PER_POINT
        for line in lines
        if line["top"] * MM_PER_POINT < 240
        and line["height"] < 0.01
        and 0 < line["x0"] * MM_PER_POINT - tape_right < 2
        and line["width"] * MM_PER_POINT < 3
    )


def test_a_tick_out_of_its_place_is_found() -> None:
    places = [float(number) for number in range(101)]
    assert bar_of(places).worst_mm < 1e-9
    places[40] += 0.2
    assert 0.19 < bar_of(places).worst_mm < 0.2
    assert off_size([bar_of(places)], [100.0]) == []  # one tick does not make the bar too long


def test_bars_that_are_missing_or_too_many_are_told() -> None:
    bars = bars_of([*map(float, range(101)), *(120 + 3.175 * eighth for eighth in range(33))])
    assert off_size(bars, [100.0, 101.6]) == []
    assert off_size(bars, [100.0]) == ["2 bars, not 1"]
    assert off_size(bars, [100.0, 101.0]) == ["a bar of 101.0 mm measures 101.60 mm"]


def test_the_centre_of_a_run_is_its_centre_of_gravity() -> None:
    """A tick from 2.25 to 4.75 leaves three quarters of its ink in pixel 2, all in 3, three quarters in 4."""
    line: Grey = np.array([255, 255, 64, 0, 64, 255, 255], dtype=np.uint8)
    ((centre, run),) = dark_runs(line)
    assert centre == pytest.approx(3.5)
    assert run == 3


# The tape at life size


@pytest.mark.parametrize(("stem", "on"), [("record", "letter"), ("handout", "half-letter"), ("visitor", "4x6")])
def test_the_tape_is_as_wide_as_the_tape(stem: str, on: str) -> None:
    sheet = picture(printed("three-paths", stem, on), DPI)
    assert tape_width_mm(sheet, stem, on) == pytest.approx(THREE_PATHS_MM, abs=WITHIN_MM)
    smaller = picture(scaled(printed("three-paths", stem, on), 0.97), DPI)
    assert tape_width_mm(smaller, stem, on) == pytest.approx(0.97 * THREE_PATHS_MM, abs=WITHIN_MM)


def tape_width_mm(sheet: Grey, stem: str, on: str) -> float:
    """From the first to the last column that ink touches, in 20 mm of the tape; the bar's upright stands 1 mm off."""
    left = round((ribbon_left(stem, on) - 2) * DPI / MM_PER_INCH)
    top = round(40 * DPI / MM_PER_INCH)
    strip = sheet[top : top + round(20 * DPI / MM_PER_INCH), max(0, left) :]
    dark = np.flatnonzero((strip < 128).any(axis=0))
    ends = np.flatnonzero(np.diff(dark) > 0.4 * DPI / MM_PER_INCH)  # the first white gap is the end of the tape
    return float(dark[ends[0]] - dark[0] + 1) * MM_PER_INCH / DPI


def test_the_picks_are_as_high_as_the_picks() -> None:
    """Fair Day: 15 picks to the inch by its file, so the face repeats after 2 x 25.4 / 15 = 3.387 mm.

    Half of the tape is drawn; end 14 is a white one of it, and down its middle its neighbours meet in a dark line in
    every second pick.
    """
    width = float(plan("fair-day").width.likely_mm)
    x = ribbon_left("record", "letter") + width * 13.5 / 48
    column = picture(printed("fair-day", "record", "letter"), DPI)[:, round(x * DPI / MM_PER_INCH)]
    inside = column[round(25 * DPI / MM_PER_INCH) : round(230 * DPI / MM_PER_INCH)]
    long_runs = [centre for centre, run in dark_runs(inside, 128) if run > 0.8 * DPI / MM_PER_INCH]
    repeat = bar_of([centre * MM_PER_INCH / DPI for centre in long_runs])
    assert repeat.ticks > 55
    assert repeat.apart_mm == pytest.approx(2 * 25.4 / 15, abs=0.005)
    assert repeat.worst_mm < WITHIN_MM


# What a short bar leaves right


@each_card
def test_the_words_stay_at_97_percent(stem: str, on: str, wanted_mm: list[float]) -> None:
    whole, smaller = (
        words_of(pdf) for pdf in (printed("three-paths", stem, on), scaled(printed("three-paths", stem, on), 0.97))
    )
    assert smaller == whole
    assert len(whole) > 40
    text = " ".join(smaller)
    assert "Three Paths" in text
    if stem == "visitor":
        assert "31 threads" in text
        return
    assert re.search(r"\b31 ends\b", text)
    for total in (3, 8, 11, 20, 23, 28, 31):
        assert str(total) in smaller


def words_of(pdf: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(pdf)
    assert len(document) == 1
    found: list[str] = document[0].get_textpage().get_text_bounded().split()
    return found


@pytest.mark.parametrize("pattern", ["bare-thread", "three-paths", "fair-day", "long-sixty"])
@pytest.mark.parametrize("on", ["letter", "a4"])
def test_the_record_says_what_a_short_bar_means(pattern: str, on: str) -> None:
    """Not only that the pictures are off: above all that the counts are right."""
    said = " ".join(words_of(printed(pattern, "record", on)))
    assert "If the 100 mm bar is not 100 mm, the page was scaled; the counts are still right." in said


@pytest.mark.parametrize("stem", ["record", "bench", "handout", "handout-large", "field", "six-numbers"])
def test_the_viewer_is_asked_to_scale_nothing(stem: str) -> None:
    with pikepdf.open(BytesIO(printed("two-rails", stem))) as document:
        assert document.Root.ViewerPreferences.PrintScaling == pikepdf.Name("/None")


# The edges of the paper


@pytest.mark.parametrize("on", ["letter", "a4"])
@pytest.mark.parametrize("pattern", ["bare-thread", "three-paths", "fair-day"])
def test_nothing_is_printed_near_an_edge(pattern: str, on: str) -> None:
    """12 mm from every edge and 25 mm from the binding; half of the heaviest stroke, 0.2 mm, may stand over the line,
    and a pixel is 0.08 mm."""
    ink, sheet = inked(within_margins(pattern, on), 300), paper("record", on)
    assert ink.left >= 25 - 0.3
    assert min(ink.top, sheet.width_mm - ink.right, sheet.height_mm - ink.bottom) >= 12 - 0.3


def within_margins(pattern: str, on: str) -> Grey:
    """A record without what its margins hold, the crosses for holes and the notch: their places are left white, if
    nothing but these stands in them."""
    return without_marks(printed(pattern, "record", on), composed(plan(pattern), "record", paper("record", on)))


def without_marks(pdf: bytes, card: Composed) -> Grey:
    sheet, on = picture(pdf, 300).copy(), card.page
    for x, y in [(12.7, on.height_mm / 2 + down) for down in (-108, 0, 108)]:
        white_out(sheet, Box(x - 2, y - 2, 4, 4))
    notch = next(mark.box for mark in card.page.marks if isinstance(mark, Group) and mark.name == "notch")
    white_out(sheet, Box(on.width_mm - 11.9, notch.top - 0.3, 11.9 - 4.1, notch.height + 0.6))
    return sheet


def white_out(sheet: Grey, box: Box) -> None:
    left, top, right, bottom = (round(side * 300 / MM_PER_INCH) for side in (box.left, box.top, box.right, box.bottom))
    sheet[top:bottom, left:right] = 255


@pytest.mark.parametrize("on", ["letter", "a4"])
@pytest.mark.parametrize("pattern", ["bare-thread", "three-paths", "fair-day"])
def test_what_stands_in_the_margins_keeps_off_the_edges(pattern: str, on: str) -> None:
    """A quarter of an inch and a little: the crosses for the holes, the lines of the notch, and its words."""
    ink, sheet = inked(picture(printed(pattern, "record", on), 300), 300), paper("record", on)
    assert 6.5 <= sheet.width_mm - ink.right < 7
    assert ink.left == pytest.approx(12.7 - 1.5, abs=0.1)


SHEETS = [(stem, on.name) for stem in LAYOUTS for on in layout(stem).papers]


@pytest.mark.parametrize(("stem", "on"), SHEETS)
def test_the_ink_of_every_card_stays_within_its_margins(stem: str, on: str) -> None:
    """The margin of its file, or a quarter of an inch where that is wider (what printers leave white: common practice,
    no source): only crosses for holes, the notch with its words and the marks of a fold stand in a margin. Half of the
    heaviest stroke, 0.26 mm, may stand over the line, and a pixel is 0.17 mm."""
    sheet = paper(stem, on)
    ink = inked(picture(printed("three-paths", stem, on), 150), 150)
    clear = min(layout(stem).margin_mm, 25.4 / 4) - 0.45
    crossed = 4.2 if layout(stem).punch == "corner" else clear  # 1.5 mm beyond the corner of the margins, 6 mm from it
    folded = 4.3 if layout(stem).other_half else crossed  # 4.5 mm from the edges above and below
    assert ink.left >= clear
    assert sheet.height_mm - ink.bottom >= min(clear, folded)
    assert sheet.width_mm - ink.right >= crossed
    assert ink.top >= folded


PRINTERS_REACH_MM = 6.0  # home printers print no nearer to an edge (common practice, no source)


def clear_mm(ink: Box, made_for: tuple[float, float], on: tuple[float, float], aside: float, down: float) -> float:
    """How far the ink stays from the nearest edge of a sheet that is not the one it was made for; ``aside`` and
    ``down`` say where the page comes to lie: 0 at the left or the top, 1/2 in the middle, 1 at the right or below."""
    x, y = (on[0] - made_for[0]) * aside, (on[1] - made_for[1]) * down
    return min(ink.left + x, ink.top + y, on[0] - ink.right - x, on[1] - ink.bottom - y)


LETTER, A4 = (215.9, 279.4), (210.0, 297.0)
LAID = [(aside, down) for aside in (0, 0.5, 1) for down in (0, 0.5, 1)]


@pytest.mark.parametrize("pattern", ["three-paths", "fair-day"])
def test_a_letter_card_comes_whole_out_of_a4(pattern: str) -> None:
    """At full size, wherever the printer lays it; 9 mm of the right margin are left when it is centred."""
    ink = inked(within_margins(pattern, "letter"), 300)
    assert min(clear_mm(ink, LETTER, A4, aside, down) for aside, down in LAID) >= PRINTERS_REACH_MM - 0.15
    assert clear_mm(ink, LETTER, A4, 0.5, 0.5) == pytest.approx(9.05, abs=0.25)


@pytest.mark.parametrize("pattern", ["three-paths", "fair-day"])
@pytest.mark.parametrize("stem", ["record", "bench", "handout-large"])
def test_an_a4_card_comes_whole_out_of_letter(stem: str, pattern: str) -> None:
    ink = inked(picture(printed(pattern, stem, "a4"), 300), 300)
    assert clear_mm(ink, A4, LETTER, 0.5, 0.5) >= PRINTERS_REACH_MM


def test_an_a4_card_fitted_to_letter_comes_whole() -> None:
    """279.4 / 297 = 94 %: everything is on the sheet, smaller, and the bar tells by how much."""
    factor = LETTER[1] / A4[1]
    pdf = scaled(printed("three-paths", "record", "a4"), factor)
    ink = inked(picture(pdf, 300), 300)
    beside = (A4[0] - LETTER[0]) / 2, (A4[1] - LETTER[1]) / 2  # the middle of both sheets is the same
    on_letter = Box(ink.left - beside[0], ink.top - beside[1], ink.width, ink.height)
    assert min(on_letter.top, LETTER[1] - on_letter.bottom, LETTER[0] - on_letter.right) >= PRINTERS_REACH_MM
    bars = measured(pdf, "record", "a4", factor)
    assert off_size(bars, [94.07, 95.58], WITHIN_MM) == []


def test_one_page_suits_either_paper() -> None:
    """210 mm by 11 in lies within Letter and A4: the record on it keeps 12 mm clear of every edge of either."""
    record = loading.load_layout(ROOT / "layouts/cards/record.yaml")
    pdf = card_making.make_card(plan("three-paths"), record, paper_lookup.paper_of(record, "either"), None).pdf
    on = paper_lookup.paper_of(record, "either")
    ink = inked(without_marks(pdf, composed(plan("three-paths"), "record", on)), 300)
    for sheet in (LETTER, A4):
        assert clear_mm(ink, (210.0, 279.4), sheet, 0.5, 0.5) >= 12 - 0.3
