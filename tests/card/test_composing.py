"""What every panel stands on: measures in words, lines of type, panels on a page, hatching, sentences."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from string import Formatter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardmaker.card.fitting import CLEAR_GAP, GUTTER, HEADED_GAP, LEAST_GAP, MOST_GAP, DoesNotFit, Fitted, LeftOut, fit
from cardmaker.card.sheet import Panel, Sheet, tightened
from cardmaker.layout.ink import Ink, hatching
from cardmaker.layout.stacking import HeightRange, Part, draw_stack, exactly, stack_heights
from cardmaker.layout.type_setting import SetLine, Span, fitting_size, leading, set_lines, wrapped
from cardmaker.model.card_layout import PanelPlace, TypeSizes
from cardmaker.model.marks import Box, Face
from cardmaker.model.marks import Path as Outline
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.reckoning.stripes.colour_clash import lightness
from cardmaker.wording import formatters, note_words, phrases, title_words
from cardmaker.wording.note_words import BENCH_NOTES
from tests.helpers.card_faults import extent
from tests.helpers.places import ROOT
from tests.helpers.record_cards import RULER, card, layout, paper_named, plan

INCH = Fraction(254, 10)


# Measures: rounded once, here


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (Fraction(3), "3"),
        (Fraction(5, 8), "⅝"),
        (Fraction(9, 4), "2\N{NO-BREAK SPACE}¼"),
        (Fraction(7, 16), "⁷⁄₁₆"),
        (Fraction(27, 16), "1\N{NO-BREAK SPACE}¹¹⁄₁₆"),
        (Fraction(0), "0"),
    ],
)
def test_mixed_numbers(value: Fraction, said: str) -> None:
    assert formatters.mixed(value) == said


@pytest.mark.parametrize(
    ("value", "places", "said"),
    [
        (Fraction(5, 2), 0, "3"),
        (Fraction(245, 100), 1, "2.5"),
        (Fraction(274, 100), 2, "2.74"),
        (Fraction(160, 10), 2, "16"),
        (Fraction(100), 0, "100"),
        (Fraction(199, 100), 1, "2"),
    ],
)
def test_decimals_round_half_up_and_drop_their_noughts(value: Fraction, places: int, said: str) -> None:
    assert formatters.decimal(value, places) == said


def test_lengths_in_both_systems() -> None:
    """72 in are 182.88 cm; 3 yd are 2.7432 m; 16.0 mm are 0.63 in, which is 10/16."""
    assert formatters.tape_length(72 * INCH, "metric") == "183 cm (72 in)"
    assert formatters.tape_length(72 * INCH, "us") == "72 in (183 cm)"
    assert formatters.warp_length(108 * INCH, "metric") == "2.74 m (3 yd)"
    assert formatters.small_length(Fraction(16), "metric") == "16 mm (⅝ in)"
    assert formatters.small_length(Fraction(41, 10), "metric") == "4.1 mm (³⁄₁₆ in)"
    assert formatters.in_yards(Fraction(1000)) == "1.09 yd"


def test_a_width_is_never_nought() -> None:
    assert formatters.in_sixteenths(Fraction(1, 10)) == "¹⁄₁₆ in"


def test_what_must_suffice_is_rounded_up() -> None:
    assert (formatters.metres_up(Fraction(54_001)), formatters.metres_up(Fraction(54_000))) == ("55", "54")
    assert formatters.yards_up(Fraction(9145)) == "11"
    assert (formatters.grams_up(Fraction(719, 100)), formatters.grams_up(Fraction(101, 10))) == ("7.2", "11")
    assert formatters.grams_up(None) == "–"


@given(st.fractions(0, 10_000))
def test_no_length_is_told_two_ways_that_differ(length: Fraction) -> None:
    """The centimetres of a tape are within half of one, its inches within half of one."""
    said = formatters.tape_length(length, "metric")
    found = re.fullmatch(r"(\d+) cm \((?:(\d+)\N{NO-BREAK SPACE}?)?(½)? ?in\)", said)
    assert found
    assert abs(int(found[1]) * 10 - length) <= 5
    assert abs((int(found[2] or 0) + (Fraction(1, 2) if found[3] else 0)) * INCH - length) <= INCH / 2


# Lines of type


class FixedRuler(TypeRuler):
    """Every letter is 1 mm wide at 10 points, so that lines can be counted by hand."""

    def width_mm(self, text: str, face: Face, size_pt: float) -> float:
        return len(text) * size_pt / 10


def lines_of(text: str, width: float) -> list[str]:
    return ["".join(span.text for span in line) for line in wrapped([Span(text)], 10, width, FixedRuler())]


@pytest.mark.parametrize(
    ("text", "width", "lines"),
    [
        ("one two three", 7, ["one two", "three"]),
        ("one two three", 6.9, ["one", "two", "three"]),
        ("one two three", 13, ["one two three"]),
        ("a incomprehensible b", 6, ["a", "incomp", "rehens", "ible b"]),
        ("  spaces   shrink ", 20, ["spaces shrink"]),
        ("", 5, []),
    ],
)
def test_lines_break_at_spaces(text: str, width: float, lines: list[str]) -> None:
    assert lines_of(text, width) == lines


@given(st.text("ab c", max_size=60), st.integers(3, 30))
def test_no_line_is_too_wide_and_no_letter_is_lost(text: str, width: int) -> None:
    lines = lines_of(text, width)
    assert all(len(line) <= width for line in lines)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")


def test_a_face_ends_where_its_span_ends() -> None:
    spans = [Span("bold now", Face.SANS_BOLD), Span("plain words again")]
    lines = wrapped(spans, 10, 14, FixedRuler())
    assert lines == [
        (Span("bold now", Face.SANS_BOLD), Span("plain")),
        (Span("words again"),),
    ]


def test_lines_are_set_a_leading_apart_and_words_a_space_apart() -> None:
    lines: list[SetLine] = [(Span("bold", Face.SANS_BOLD), Span("plain")), (Span("next"),)]
    bold, plain, below = set_lines(lines, 5, 20, 10, FixedRuler())
    assert (bold.x, plain.x, below.x) == (5, 10, 5)  # four letters and a space of 1 mm each
    assert (bold.y, plain.y, below.y) == (20, 20, 20 + leading(10))


def test_a_size_gives_way_down_to_the_smallest() -> None:
    assert fitting_size("ten letter", Face.SANS, 20, 12.5, FixedRuler(), 9) == 12.5
    assert fitting_size("ten letter", Face.SANS, 20, 1, FixedRuler(), 9) == 9
    assert fitting_size("ten letter", Face.SANS, 8, 100, FixedRuler(), 9) == 8


def test_tightened_type_stays_above_the_smallest() -> None:
    sizes = tightened(TypeSizes(24, 15, 12, 10, 9, 9), 0.85)
    assert sizes == TypeSizes(20.25, 12.75, 10, 9, 9, 9)  # 20.4, 12.75, 10.2, 8.5, 7.65


# Panels on a page


def any_sheet() -> Sheet:
    of = layout()
    tape = plan("two-rails", "small-box")
    return Sheet(tape, of, paper_named("letter"), RULER, "metric", {}, (), of.type_sizes, tape)


def fake(name: str, least: float, most: float | None = None, applies: bool = True, sinks: bool = False) -> Panel:
    part = Part(HeightRange(least, most or least), lambda box: (), facts=(name,))
    return Panel(name, lambda sheet, width: (part,), lambda sheet: applies, sinks)


def fitted(
    panels: Sequence[Panel], rows: Sequence[Sequence[tuple[str, int, int, bool]]], height: float, width: float = 120
) -> Fitted:
    places = [
        [PanelPlace(name, columns, priority, essential) for name, columns, priority, essential in row] for row in rows
    ]
    return fit(any_sheet(), places, {panel.name: panel for panel in panels}, Box(10, 20, width, height))


def test_rows_stand_a_gap_apart_and_share_what_is_left() -> None:
    """10 + 20 mm and a clear gap leave some 17 of 50; the wishes come to 10 + 0, so 7 widen the gap: to 8, no more."""
    found = fitted([fake("a", 10, 20), fake("b", 20)], [[("a", 12, 1, True)], [("b", 12, 1, True)]], 50)
    a, b = (placed.box for placed in found.placed)
    assert (a, found.left_out) == (Box(10, 20, 120, 20), ())
    assert b.top == pytest.approx(20 + 20 + MOST_GAP)
    assert b.height == 20


def test_gaps_between_sections_are_clear_before_a_picture_grows() -> None:
    """30 mm and a gap of 2.4: the first millimetres to spare widen the gap, and what is more than these makes the
    picture grow."""
    rows = [[("a", 12, 1, True)], [("b", 12, 1, True)]]
    clear = CLEAR_GAP - LEAST_GAP
    for spare, gap, height in ((0.0, LEAST_GAP, 10.0), (clear, CLEAR_GAP, 10.0), (clear + 5, CLEAR_GAP, 15.0)):
        found = fitted([fake("a", 10, 20), fake("b", 20)], rows, 30 + LEAST_GAP + spare)
        a, b = (placed.box for placed in found.placed)
        assert (b.top - a.bottom, a.height) == pytest.approx((gap, height))


def test_a_part_for_which_there_may_be_room_leaves_the_gaps_clear() -> None:
    def part(height: float, priority: int = 0) -> Part:
        return Part(exactly(height), lambda box: [], facts=(f"{height} {priority}",), priority=priority)

    parted = Panel("a", lambda sheet, width: [part(20), part(5, 1)])
    rows = [[("a", 12, 1, True)], [("b", 12, 1, True)]]
    assert fitted([parted, fake("b", 30)], rows, 55 + CLEAR_GAP).placed[0].lacks == ()
    assert fitted([parted, fake("b", 30)], rows, 55 + CLEAR_GAP - 0.01).placed[0].lacks == ("5 1",)


def test_a_heading_keeps_its_own_space_to_the_row_below_it() -> None:
    heading = Panel("a", lambda sheet, width: (Part(exactly(5), lambda box: ()),), heads_below=True)
    rows = [[("a", 12, 1, True)], [("b", 12, 1, True)], [("c", 12, 1, True)]]
    found = fitted([heading, fake("b", 10), fake("c", 10)], rows, 80)
    a, b, c = (placed.box for placed in found.placed)
    assert b.top == pytest.approx(a.bottom + HEADED_GAP)
    assert c.top == pytest.approx(b.bottom + MOST_GAP)


def test_the_last_row_may_sink_to_the_foot() -> None:
    found = fitted([fake("a", 10), fake("b", 5, sinks=True)], [[("a", 12, 1, True)], [("b", 12, 1, True)]], 90)
    assert found.placed[-1].box.bottom == pytest.approx(20 + 90)


def test_neighbours_share_the_columns() -> None:
    """120 mm less one gutter of 5 is 115: eight and four twelfths of it."""
    found = fitted([fake("a", 10), fake("b", 5)], [[("a", 8, 1, True), ("b", 4, 1, True)]], 50)
    a, b = (placed.box for placed in found.placed)
    assert [a.left, a.width] == pytest.approx([10, 115 * 8 / 12])
    assert [b.left, b.width] == pytest.approx([a.right + GUTTER, 115 * 4 / 12])
    assert a.height == b.height == 10


def test_a_missing_neighbours_columns_are_taken_over() -> None:
    found = fitted([fake("a", 10), fake("b", 5, applies=False)], [[("a", 8, 1, True), ("b", 4, 1, True)]], 50)
    assert [placed.box.width for placed in found.placed] == [120]
    assert found.left_out == ()


def test_the_least_wanted_is_left_out() -> None:
    panels = [fake("kept", 30), fake("wanted", 30), fake("unwanted", 30)]
    rows = [[("unwanted", 12, 9, False)], [("kept", 12, 5, True)], [("wanted", 12, 2, False)]]
    found = fitted(panels, rows, 30 + LEAST_GAP + 30)
    assert [placed.panel.name for placed in found.placed] == ["kept", "wanted"]
    unwanted = (LeftOut("unwanted", ("unwanted",)),)
    assert found.left_out == unwanted
    assert fitted(panels, rows, 3 * 30 + 2 * LEAST_GAP).left_out == ()
    assert fitted(panels, rows, 3 * 30 + 2 * LEAST_GAP - 0.01).left_out == unwanted


def test_optional_parts_find_a_place_after_all_panels() -> None:
    """20 + 30 mm and a gap leave room for one of three parts of 5 mm: for the most wanted, wherever it stands."""

    def part(height: float, priority: int = 0) -> Part:
        return Part(exactly(height), lambda box: [], facts=(f"{height} {priority}",), priority=priority)

    parted = Panel("a", lambda sheet, width: [part(20), part(6, 3), part(5, 1), part(5, 2)])
    found = fitted([parted, fake("b", 30)], [[("a", 12, 1, True)], [("b", 12, 9, False)]], 58 + LEAST_GAP)
    a, b = found.placed
    assert [shown.facts[0] for shown in a.parts] == ["20 0", "5 1"]
    assert a.lacks == ("6 3", "5 2")
    assert (a.box.height, b.box.height) == (25, 30)


def test_parts_below_nought_come_before_all_that_may_be_left_out() -> None:
    def part(height: float, priority: int = 0) -> Part:
        return Part(exactly(height), lambda box: [], facts=(f"{height} {priority}",), priority=priority)

    parted = Panel("a", lambda sheet, width: [part(20), part(6, -1), part(5, 1), part(50, -2)])
    rows = [[("a", 12, 1, True)], [("b", 12, 1, False)]]
    for height, shown in ((26, ["20 0", "6 -1"]), (56 + LEAST_GAP, ["20 0", "6 -1"]), (75, ["20 0", "50 -2", "5 1"])):
        found = fitted([parted, fake("b", 30)], rows, height)
        assert sorted(each.facts[0] for each in found.placed[0].parts) == sorted(shown)
        assert [each.panel for each in found.left_out] == ([] if height == 56 + LEAST_GAP else ["b"])


def test_a_stack_shares_spare_height_among_parts_that_can_use_it() -> None:
    drawn: list[Box] = []

    def part(least: float, most: float, above: float = 0.0) -> Part:
        return Part(HeightRange(least, most), lambda box: drawn.append(box) or [], above)  # type: ignore[func-returns-value]

    parts = [part(5, 5, above=9), part(10, 30, above=2), part(10, 20)]
    assert stack_heights(parts) == HeightRange(27, 57)
    draw_stack(parts, Box(1, 2, 50, 42))
    assert drawn == [Box(1, 2, 50, 5), Box(1, 9, 50, 20), Box(1, 29, 50, 15)]


def test_what_is_essential_is_never_left_out() -> None:
    rows = [[("a", 12, 9, True)], [("b", 12, 9, True)]]
    with pytest.raises(DoesNotFit, match="needs 63 mm of height, has 62 mm"):
        fitted([fake("a", 30), fake("b", 30)], rows, 62)


@settings(max_examples=150)
@given(
    st.lists(st.tuples(st.floats(3, 60), st.floats(0, 40), st.integers(1, 9), st.booleans()), min_size=1, max_size=9),
    st.floats(50, 400),
)
def test_placed_panels_stay_apart_and_in_the_box(wishes: list[tuple[float, float, int, bool]], height: float) -> None:
    panels = [fake(f"p{number}", least, least + more) for number, (least, more, *_) in enumerate(wishes)]
    rows = [[(f"p{number}", 12, priority, must)] for number, (_, _, priority, must) in enumerate(wishes)]
    try:
        found = fitted(panels, rows, height)
    except DoesNotFit:
        assert sum(least for least, _, _, must in wishes if must) > height - LEAST_GAP * len(wishes)
        return
    boxes = [placed.box for placed in found.placed]
    assert all(Box(10, 20, 120, height).holds(box) for box in boxes)
    assert all(above.bottom + LEAST_GAP <= below.top + 1e-6 for above, below in pairwise(boxes))
    left_out = {each.panel for each in found.left_out}
    assert {placed.panel.name for placed in found.placed} | left_out == {panel.name for panel in panels}
    assert not {f"p{number}" for number, (*_, must) in enumerate(wishes) if must} & left_out


# Colour and hatching


def test_lightness_of_greys() -> None:
    """Black is 0, white 100, and the grey of half the light, #bcbcbc, is 76 (CIE 15: 116 × 0.5^(1/3) - 16)."""
    assert lightness("#000000") == 0
    assert lightness("#ffffff") == pytest.approx(100, abs=0.01)
    assert lightness("#bcbcbc") == pytest.approx(116 * 0.5 ** (1 / 3) - 16, abs=0.3)


COLOURS = ["#f4f0e4", "#d9b13b", "#cf8a8a", "#8a8a86", "#9c2f2b", "#2f4a7d", "#26242a"]


boxes = st.builds(Box, st.floats(0, 200), st.floats(0, 200), st.floats(0.5, 30), st.floats(0.5, 30))
hatches = st.sampled_from([((0,), 1.7), ((1,), 1.7), ((-1,), 1.25), ((1, -1), 1.9), ((0,), 0.85), ((1, -1), 1.2)])


@given(boxes, hatches)
def test_hatching_stays_in_its_cell(box: Box, look: tuple[tuple[int, ...], float]) -> None:
    for path in hatching(box, Ink("#000000", "#ffffff", *look), 0.1):
        reach = extent(path)
        assert reach is not None
        assert box.inset(-0.05, -0.05, -0.05, -0.05).holds(reach)


def test_hatching_keeps_step_from_cell_to_cell() -> None:
    """Two cells side by side: the level lines of one go on in the other."""
    ink = Ink("#000000", "#ffffff", (0,), 1.7)
    left, right = (next(iter(hatching(Box(x, 10.3, 5, 12), ink, 0.1))) for x in (20, 25))
    assert heights(left) == heights(right)
    assert len(heights(left)) == 7  # 11.9, 13.6 ... 22.1


def heights(path: Outline) -> set[float]:
    return {round(step[2], 6) for step in path.steps if step[0] == "move"}


# Sentences


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        (phrases.end_count(1), "1 end"),
        (phrases.end_count(31), "31 ends"),
        (phrases.plural(1, "join"), "1 join"),
        (phrases.plural(0, "join"), "0 joins"),
        (phrases.plural(2, "leaf", "leaves"), "2 leaves"),
        (phrases.listed(["a"]), "a"),
        (phrases.listed(["a", "b", "c"]), "a, b and c"),
        (title_words.uses(["hat band", "garter"]), "Hat band, garter."),
        (title_words.uses([]), ""),
        (phrases.sentence("Done"), "Done."),
        (phrases.sentence("Really?"), "Really?"),
    ],
)
def test_small_words(said: str, expected: str) -> None:
    assert said == expected


def test_every_note_that_reckoning_makes_has_its_sentence() -> None:
    """The keys are read from the texts of reckoning, so that a new note without words is found before a card is."""
    sentences = note_words._NOTES | BENCH_NOTES
    made = set(notes_made())
    assert len(made) > 12
    for key, values in made:
        fields = {name for _, name, _, _ in Formatter().parse(sentences[key]) if name}
        assert values is None or fields <= set(values), key


def notes_made() -> Iterator[tuple[str, tuple[str, ...] | None]]:
    """(Key, names of the values) of every ``Note(kind, about, key, values)`` that is written with plain texts."""
    for path in sorted((ROOT / "cardmaker" / "reckoning").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Note":
                key, values = node.args[2], node.args[3]
                if not isinstance(key, ast.Constant):
                    continue
                if isinstance(values, ast.Dict):
                    names = [str(each.value) for each in values.keys if isinstance(each, ast.Constant)]
                    yield str(key.value), tuple(names)
                else:
                    yield str(key.value), None


def test_no_sentence_is_written_in_two_places() -> None:
    assert not set(note_words._NOTES) & set(BENCH_NOTES)


def test_a_page_is_titled_by_name_and_code() -> None:
    assert card(("three-paths", "middle-box", "letter")).page.title == "Three Paths (T08)"
