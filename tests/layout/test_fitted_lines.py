"""A text fits its place in lines, in smaller type, in more lines; it is never cut."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.layout.type_setting import NO_BREAK, FittedLines, Span, fitted_lines, wrapped
from cardmaker.model.marks import Face
from tests.helpers.paper_tools import RULER

SERIF = Face.SERIF_SEMIBOLD
TITLE = "Grandmother Hathersage's box loom with the two long rails, 1990"


def fitted(text: str, width: float, most: int = 2) -> FittedLines:
    return fitted_lines(text, SERIF, 20, 9, width, most, RULER)


def texts(found: FittedLines) -> list[str]:
    return ["".join(span.text for span in line) for line in found.lines]


def test_what_fits_one_line_stands_on_one_in_the_largest_type() -> None:
    assert fitted("Nine", 60) == FittedLines(20, fitted("Nine", 60).lines)
    assert texts(fitted("Nine", 60)) == ["Nine"]


def test_a_longer_text_takes_the_lines_that_it_may_before_the_type_gets_smaller() -> None:
    """One line of it is 200 mm wide at 20 points."""
    whole = RULER.width_mm(TITLE, SERIF, 20)
    assert fitted(TITLE, whole * 0.6).size == 20
    assert len(fitted(TITLE, whole * 0.6).lines) == 2
    smaller = fitted(TITLE, whole * 0.4)
    assert 9 < smaller.size < 20
    assert len(smaller.lines) == 2
    larger = fitted_lines(TITLE, SERIF, smaller.size + 0.5, smaller.size + 0.5, whole * 0.4, 2, RULER)
    assert len(larger.lines) > 2  # it is the largest type that fits


def test_lines_are_about_equally_long() -> None:
    whole = RULER.width_mm(TITLE, SERIF, 20)
    first, second = (RULER.width_mm(text, SERIF, 20) for text in texts(fitted(TITLE, whole * 0.8)))
    assert max(first, second) < whole * 0.62


def test_in_the_smallest_type_it_takes_more_lines_and_is_not_cut() -> None:
    found = fitted(TITLE, 30)
    assert found.size == 9
    assert len(found.lines) > 2
    assert " ".join(texts(found)) == TITLE


def test_no_word_is_broken_while_smaller_type_keeps_it_whole() -> None:
    long = "Hathersagesgrandmother loom"
    wide = RULER.width_mm("Hathersagesgrandmother", SERIF, 14)
    found = fitted(long, wide + 0.1)
    assert found.size == 14
    assert texts(found) == ["Hathersagesgrandmother", "loom"]


@pytest.mark.parametrize("most", [1, 2, 3])
@given(st.text("abc WM.g1 ", min_size=1, max_size=80).filter(str.strip), st.floats(8, 120))
def test_nothing_is_lost_or_wider_than_its_place(most: int, text: str, width: float) -> None:
    found = fitted(text, width, most)
    assert 9 <= found.size <= 20
    assert "".join(texts(found)).replace(" ", "").replace("\xa0", "") == text.replace(" ", "")
    assert all(RULER.width_mm(line, SERIF, found.size) <= width + 1e-6 for line in texts(found))
    if found.size > 9:
        assert len(found.lines) <= most


def test_words_that_are_tied_part_before_one_of_them_is_broken() -> None:
    """As the name of a loom is tied among the facts of a card."""
    tied = NO_BREAK.join(TITLE.split(" "))
    lines = ["".join(span.text for span in line) for line in wrapped([Span(tied, SERIF)], 20, 70, RULER)]
    assert len(lines) == 4
    assert " ".join(lines).replace(NO_BREAK, " ") == TITLE


def test_a_word_alone_that_is_wider_than_a_line_is_broken_within() -> None:
    tied = f"12{NO_BREAK}{'W' * 40}{NO_BREAK}mm"
    lines = ["".join(span.text for span in line) for line in wrapped([Span(tied, SERIF)], 20, 70, RULER)]
    assert lines[0] == "12"
    assert "".join(lines).replace(NO_BREAK, "") == f"12{'W' * 40}mm"
    assert all(RULER.width_mm(line, SERIF, 20) <= 70 for line in lines)
