"""Wrapping: no paragraph ends in one short word where the line before has a word to give, and nothing is lost.

The ruler here gives every sign 1 mm at 10 points, so that lines can be counted by hand.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.layout.type_setting import Span, short_line, wrapped
from cardmaker.model.marks import Face


class SignRuler:
    def width_mm(self, text: str, face: Face, size_pt: float) -> float:
        return len(text) * size_pt / 10


RULER = SignRuler()


def lines_of(text: str, width: float) -> list[str]:
    return [" ".join(span.text for span in line) for line in wrapped([Span(text)], 10, width, RULER)]


@pytest.mark.parametrize(
    ("text", "width", "lines"),
    [
        ("knot it over the post", 16, ["knot it over", "the post"]),  # not: knot it over the / post
        ("knot it over the beam once", 20, ["knot it over the", "beam once"]),
        ("pull through it by it", 15, ["pull through", "it by it"]),  # not: pull through it / by it
        ("tie a knot to it and go", 17, ["tie a knot to", "it and go"]),  # two short words are no better than one
        ("tie a knot to it and wait", 17, ["tie a knot to it", "and wait"]),
        ("somewhere something no", 19, ["somewhere", "something no"]),
        ("so something no", 12, ["so something", "no"]),  # one short word is left in either line
        ("whatever inseparable no", 13, ["whatever", "inseparable", "no"]),  # the two do not fit one line
        ("the foot of a line that is longer is ours", 36, ["the foot of a line that is", "longer is ours"]),
        ("whatever it is for\nsomething else again", 15, ["whatever", "it is for", "something", "else again"]),
    ],
)
def test_a_last_line_is_not_one_short_word(text: str, width: float, lines: list[str]) -> None:
    assert lines_of(text, width) == lines


def test_a_word_that_moves_keeps_its_face() -> None:
    spans = [Span("count the", Face.SANS), Span("holes", Face.SANS_BOLD), Span("now")]
    assert wrapped(spans, 10, 16, RULER) == [
        (Span("count the"),),
        (Span("holes", Face.SANS_BOLD), Span("now")),
    ]


def greedy(text: str, width: int) -> list[str]:
    """As many words on each line as find room; no word is wider than a line."""
    lines = [""]
    for word in text.split():
        together = f"{lines[-1]} {word}".strip()
        lines = [*lines[:-1], together] if len(together) <= width else [*lines, word]
    return [line for line in lines if line]


@given(st.lists(st.text("abc", min_size=1, max_size=8), max_size=12).map(" ".join), st.integers(8, 30))
def test_only_the_last_two_lines_change_and_only_for_a_short_one(text: str, width: int) -> None:
    lines, usual = lines_of(text, width), greedy(text, width)
    assert " ".join(lines) == text
    assert len(lines) == len(usual)
    assert lines[:-2] == usual[:-2]
    assert all(len(line) <= width for line in lines)
    if lines != usual:
        assert len(usual[-1]) <= short_line(len(usual[-2])) < len(lines[-2])
