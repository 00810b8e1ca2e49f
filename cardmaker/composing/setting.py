"""Setting type: wrapping spans of words into lines and placing them, by the widths that the ruler tells."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from typing import Final, NamedTuple

from cardmaker.composing.ink import BLACK, LEADING, POINT
from cardmaker.nouns.marks import Colour, Face, Words
from cardmaker.nouns.ruler import Ruler

NO_BREAK: Final = "\N{NO-BREAK SPACE}"
_FRACTIONS: Final = frozenset("¼½¾⅛⅜⅝⅞₀₁₂₃₄₅₆₇₈₉")


class Span(NamedTuple):
    """Some words in one face."""

    text: str
    face: Face = Face.SANS
    colour: Colour = BLACK


Line = tuple[Span, ...]


def leading(size: float) -> float:
    """From baseline to baseline, in mm."""
    return size * POINT * LEADING


def wrapped(spans: Iterable[Span], size: float, width: float, ruler: Ruler) -> list[Line]:
    """The spans broken into lines no wider than ``width`` at spaces; a word too long for a line is broken within."""
    return list(_wrapped(tuple(spans), size, width, ruler))


@lru_cache(maxsize=1024)  # every panel asks twice: when it tells its room, and when it draws
def _wrapped(spans: tuple[Span, ...], size: float, width: float, ruler: Ruler) -> tuple[Line, ...]:
    lines: list[Line] = []
    line: list[Span] = []
    used = 0.0
    for span in spans:
        space = ruler.width_mm(" ", span.face, size)
        for word in _pieces(span, size, width, ruler):
            wide = ruler.width_mm(word.text, span.face, size)
            gap = space if line else 0.0
            if line and used + gap + wide > width + 1e-6:
                lines.append(_joined([*line[:-1], line[-1]._replace(text=line[-1].text.rstrip(f"{NO_BREAK}·"))]))
                line, used, gap = [], 0.0, 0.0
            line.append(word)
            used += gap + wide
    if line:
        lines.append(_joined(line))
    return tuple(lines)


_UNITS: Final = frozenset(
    {"mm", "cm", "m", "in", "yd", "g", "kg", "N", "h", "min", "%", "ends", "empty", "hole", "slot"}
)
_BEFORE_NOUNS: Final = frozenset({"a", "no.", "end"})


def _tied(words: Iterable[str]) -> Iterator[str]:
    """The words with those tied by a no-break space that must not part: a number and its unit, ``a slot``, a dot."""
    kept = ""
    for word in words:
        bare = word.strip("().,;:")
        numbered = kept[-1:].isdigit() or kept[-1:] in _FRACTIONS
        tied = word == "·" or (bare in _UNITS and (numbered or kept == "a")) or (kept in _BEFORE_NOUNS and kept != "a")
        if kept and tied:
            kept = f"{kept}{NO_BREAK}{word}"
            continue
        if kept:
            yield kept
        kept = word
    if kept:
        yield kept


def unparted(text: str) -> list[str]:
    """The pieces of a text that setting keeps on one line each: words, and a number with its unit."""
    return list(_tied(part for part in text.split(" ") if part))


def _pieces(span: Span, size: float, width: float, ruler: Ruler) -> Iterable[Span]:
    for word in _tied(part for part in span.text.split(" ") if part):
        while word and ruler.width_mm(word, span.face, size) > width and len(word) > 1:
            fits = len(word) - 1
            while fits > 1 and ruler.width_mm(word[:fits], span.face, size) > width:
                fits -= 1
            yield Span(word[:fits], span.face, span.colour)
            word = word[fits:]
        if word:
            yield Span(word, span.face, span.colour)


def _joined(words: Sequence[Span]) -> Line:
    """Neighbours in the same face become one span again."""
    line: list[Span] = []
    for word in words:
        if line and (line[-1].face, line[-1].colour) == (word.face, word.colour):
            line[-1] = Span(f"{line[-1].text} {word.text}", word.face, word.colour)
        else:
            line.append(word)
    return tuple(line)


def set_lines(lines: Iterable[Line], x: float, first_baseline: float, size: float, ruler: Ruler) -> list[Words]:
    """The lines as marks, ranged left at ``x``, the first on ``first_baseline``."""
    marks: list[Words] = []
    for number, line in enumerate(lines):
        at, y = x, first_baseline + number * leading(size)
        for span in line:
            marks.append(Words(at, y, span.text, span.face, size, span.colour))
            at += ruler.width_mm(f"{span.text} ", span.face, size)
    return marks


def shortened(text: str, face: Face, size: float, width: float, ruler: Ruler, smallest: float) -> float:
    """The size, from ``size`` down to ``smallest`` in half points, at which the text fits the width."""
    while size > smallest and ruler.width_mm(text, face, size) > width:
        size -= 0.5
    return size
