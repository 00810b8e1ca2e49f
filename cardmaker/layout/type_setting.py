"""Setting type: spans of words wrapped into lines and placed, and groups that say what marks are to a listener."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Final, NamedTuple, Protocol, TypeVar

from cardmaker.layout.ink import BLACK, POINT
from cardmaker.model.marks import Box, Colour, Face, Group, Mark, Role, Ruler, Words
from cardmaker.model.record_class import record

if TYPE_CHECKING:
    from cardmaker.model.card_layout import TypeSizes

LEADING: Final = 1.24  # of the type size
NO_BREAK: Final = "\N{NO-BREAK SPACE}"
SHORT_LINE: Final = 6  # letters: too few for the last line of a paragraph
LEAST_LEFT: Final = 0.45  # of the line before, which gives it words
SHORT_OF_LONG: Final = 12  # where lines are long: no more than a third of the line before
NEW_PARAGRAPH: Final = "\n"  # between the paragraphs of a text
_Thing = TypeVar("_Thing")
_FRACTIONS: Final = frozenset("¼½¾⅛⅜⅝⅞₀₁₂₃₄₅₆₇₈₉")


class Span(NamedTuple):
    """Some words in one face."""

    text: str
    face: Face = Face.SANS
    colour: Colour = BLACK


SetLine = tuple[Span, ...]


class TypeSpace(Protocol):
    """What type is set with, on a card or on a page of several: sizes in points, widths in mm."""

    @property
    def ruler(self) -> Ruler: ...

    @property
    def sizes(self) -> TypeSizes: ...

    def wide(self, text: str, face: Face, size: float) -> float:
        """The width of one line of text."""

    def lines(self, spans: Iterable[Span], size: float, width: float) -> list[SetLine]:
        """The spans wrapped to a width."""


class _Run(NamedTuple):
    """Words of one line in one face."""

    face: Face
    colour: Colour
    words: list[str]


def leading(size: float) -> float:
    """From baseline to baseline, in mm."""
    return size * POINT * LEADING


def cap_height(size: float) -> float:
    """The height of a capital of the sans, in mm (660 of 1000 units: read from the font)."""
    return 0.66 * size * POINT


def tail_depth(size: float) -> float:
    """How far tails hang below the baseline, in mm (250 of 1000 units: read from the font)."""
    return 0.25 * size * POINT


def text_height(lines: int, size: float) -> float:
    """The height of so many lines, from the top of the capitals to below the last tail."""
    return (lines - 1) * leading(size) + cap_height(size) + tail_depth(size) if lines else 0.0


def side_by_side(
    things: Iterable[_Thing], width_of: Callable[[_Thing], float], gap: float, width: float
) -> list[list[_Thing]]:
    """The things in lines, each as wide as ``width_of`` says, as many side by side as find room in ``width`` mm."""
    lines: list[list[_Thing]] = [[]]
    used = 0.0
    for thing in things:
        wide = width_of(thing)
        if lines[-1] and used + gap + wide > width:
            lines.append([])
            used = 0.0
        used += wide + (gap if lines[-1] else 0.0)
        lines[-1].append(thing)
    return lines


def wrapped(spans: Iterable[Span], size: float, width: float, ruler: Ruler, indent: float = 0.0) -> list[SetLine]:
    """The spans broken into lines no wider than ``width`` at spaces; a word too long for a line is broken within. The
    first line is shorter by ``indent``, which must leave room for its first word.

    A text that comes from a file may be of several paragraphs: each begins on a line of its own. None ends in a line of
    one short word where a word of the line before can join it.
    """
    return list(wrapped_spans(tuple(spans), size, width, ruler, indent))


@lru_cache(maxsize=1024)  # every panel asks twice: when it tells its heights, and when it draws
def wrapped_spans(
    spans: tuple[Span, ...], size: float, width: float, ruler: Ruler, indent: float = 0.0
) -> tuple[SetLine, ...]:
    """The spans in lines, each word measured once."""
    lines: list[list[_Run]] = [[]]
    first, used = 0, indent  # the first line of the paragraph, and how much of the last line is taken
    for span in spans:
        space = ruler.width_mm(" ", span.face, size)
        words: list[str] | None = None  # of this span in the last line
        for word, wide in _pieces(span, size, width, ruler):
            if word == NEW_PARAGRAPH:
                _keep_company(lines[first:], width - used, size, ruler)
                if lines[-1]:
                    lines.append([])
                first, used, words = len(lines) - 1, 0.0, None
                continue
            if lines[-1] and used + space + wide > width + 1e-6:
                lines.append([])
                words = None
            line = lines[-1]
            used = used + space + wide if line else wide + (indent if len(lines) == 1 else 0.0)
            if words is None:
                if not line or line[-1][:2] != span[1:]:
                    line.append(_Run(span.face, span.colour, []))
                words = line[-1].words
            words.append(word)
    _keep_company(lines[first:], width - used, size, ruler)
    set_whole = [line for line in lines if line]
    return (*(_broken(line) for line in set_whole[:-1]), *(_joined(line) for line in set_whole[-1:]))


def _keep_company(lines: Sequence[list[_Run]], room: float, size: float, ruler: Ruler) -> None:
    """Words of the last line but one join a last line that is too short, while they find ``room`` and leave enough."""
    if len(lines) < 2:
        return
    full = _letters(lines[-2])
    short = short_line(full)
    while lines[-1] and _letters(lines[-1]) <= short:
        before, line = lines[-2:]
        run = before[-1]
        word = run.words[-1]
        room -= ruler.width_mm(f"{word} ", run.face, size)
        left = _letters(before) - len(word) - 1
        if room < 0 or left <= short or left < full * LEAST_LEFT:
            return
        run.words.pop()
        if not run.words:
            before.pop()
        if line[0][:2] == run[:2]:
            line[0].words.insert(0, word)
        else:
            line.insert(0, run._replace(words=[word]))


def short_line(before: int) -> int:
    """How many letters are too few for a last line after one of so many."""
    return max(SHORT_LINE, min(SHORT_OF_LONG, before // 3))


def _letters(line: Iterable[_Run]) -> int:
    return sum(len(word) + 1 for run in line for word in run.words) - 1


def _broken(line: list[_Run]) -> SetLine:
    """A line that goes on in the next: a dot between two statements is not left hanging at its end."""
    last = line[-1].words
    last[-1] = last[-1].rstrip(f"{NO_BREAK}·")
    return _joined(line)


def _joined(line: Iterable[_Run]) -> SetLine:
    return tuple([Span(" ".join(run.words), run.face, run.colour) for run in line])


_UNITS: Final = frozenset(
    {"mm", "cm", "m", "in", "yd", "g", "kg", "N", "h", "min", "%", "ends", "empty", "hole", "slot"}
)
_BEFORE_NOUNS: Final = frozenset({"a", "no.", "end", "End"})
_SIGNS: Final = frozenset("+×")  # of a sum: they part from neither of its numbers
_AFTER_NUMBERS: Final = frozenset({"and", "or", "to", "by", "for", "at", "on", "with", "then", "the", "is", "of"})
_PHRASES: Final = frozenset({("life", "size"), ("in", "turn")})


def _tied(words: Iterable[str]) -> Iterator[str]:
    """The words with those tied by a no-break space that must not part: a number and its unit, a count and the letters
    of its yarn, ``12 + 13``, ``5 × life size``, ``a slot``, a dot.
    """
    kept = ""
    for word in words:
        if kept and _stay_together(kept, word):
            kept = f"{kept}{NO_BREAK}{word}"
            continue
        if kept:
            yield kept
        kept = word
    if kept:
        yield kept


@lru_cache(maxsize=1024)  # a text is set in several sizes and widths before one of them fits
def unparted(text: str) -> tuple[str, ...]:
    """The pieces of a text that setting keeps on one line each: words, and a number with its unit."""
    return tuple(_tied(part for part in text.replace(NEW_PARAGRAPH, " ").split(" ") if part))


def _stay_together(before: str, word: str) -> bool:
    before, bare = before[before.rfind(NO_BREAK) + 1 :], word.strip("().,:;")
    if bare.isdigit() and word[:1] == "(":
        return True  # the mark (0)
    if word == "·" or word in _SIGNS or before in _SIGNS or (before in _BEFORE_NOUNS and before != "a"):
        return True
    if _are_letters(bare) and (before.lstrip("(").isdigit() or _are_letters(before)):
        return True
    if before.isdigit() and word[:1].isalpha() and word.islower() and bare not in _AFTER_NUMBERS:
        return True  # a number and what it counts
    counts = before == "a" or before[-1:].isdigit() or before[-1:] in _FRACTIONS
    return (counts and bare in _UNITS) or (before, bare) in _PHRASES


def _are_letters(word: str) -> bool:
    """Whether it looks like the letters of a yarn: ``Wh``."""
    return len(word) == 2 and word[0].isupper() and word[1].islower()


def _pieces(span: Span, size: float, width: float, ruler: Ruler) -> Iterator[tuple[str, float]]:
    """The words of a span with their widths; of a word that is too long for a line, as much as fits each time."""
    first, *more = span.text.split(NEW_PARAGRAPH)
    yield from _pieces_of_paragraph(first, span.face, size, width, ruler)
    for text in more:
        yield NEW_PARAGRAPH, 0.0
        yield from _pieces_of_paragraph(text, span.face, size, width, ruler)


def _pieces_of_paragraph(text: str, face: Face, size: float, width: float, ruler: Ruler) -> Iterator[tuple[str, float]]:
    for word in unparted(text):
        wide = ruler.width_mm(word, face, size)
        while wide > width and len(word) > 1:
            fits = _letters_that_fit(word, face, size, width, ruler)
            tied = word.rfind(NO_BREAK, 1, fits + 1)  # words that would rather not part do before one is broken
            first, word = (word[:tied], word[tied + 1 :]) if tied > 0 else (word[:fits], word[fits:])
            yield first, ruler.width_mm(first, face, size)
            wide = ruler.width_mm(word, face, size)
        yield word, wide


def _letters_that_fit(word: str, face: Face, size: float, width: float, ruler: Ruler) -> int:
    """How many letters of a word fit, at least one and not all: sought by halving."""
    return 1 + bisect_right(range(2, len(word)), width, key=lambda count: ruler.width_mm(word[:count], face, size))


def set_lines(lines: Iterable[SetLine], x: float, first_baseline: float, size: float, ruler: Ruler) -> list[Words]:
    """The lines as marks, ranged left at ``x``, the first on ``first_baseline``."""
    marks: list[Words] = []
    for number, line in enumerate(lines):
        at, y = x, first_baseline + number * leading(size)
        for span in line:
            marks.append(Words(at, y, span.text, span.face, size, span.colour))
            at += ruler.width_mm(f"{span.text} ", span.face, size)
    return marks


def fitting_size(text: str, face: Face, size: float, width: float, ruler: Ruler, smallest: float) -> float:
    """The size, from ``size`` down to ``smallest`` in half points, at which the text fits the width."""
    while size > smallest and ruler.width_mm(text, face, size) > width:
        size = max(smallest, size - 0.5)
    return size


@record
class Headline:
    """A title in lines of one size."""

    lines: tuple[SetLine, ...]
    size: float

    @property
    def height_mm(self) -> float:
        """From the top of its capitals to its last baseline."""
        return cap_height(self.size) + (len(self.lines) - 1) * leading(self.size)


_SHARES: Final = ((1, 0.7), (2, 0.55), (3, 0.5))  # in so many lines, a title keeps so much of its full size


def headline(text: str, size: float, smallest: float, width: float, ruler: Ruler) -> Headline:
    """A title of any length as large as its lines allow: on one line, on two, on three, and then in as many as it takes
    in the smallest size. Its lines are about as long as each other, so that no word stands alone.
    """
    span = (Span(text, Face.SERIF_SEMIBOLD),)
    for most, share in _SHARES:
        tried = size
        while tried >= max(smallest, share * size):
            if len(wrapped(span, tried, width, ruler)) <= most and _whole_words(text, tried, width, ruler):
                return Headline(_balanced(span, tried, width, ruler), tried)
            tried -= 0.5
    return Headline(_balanced(span, smallest, width, ruler), smallest)


def _whole_words(text: str, size: float, width: float, ruler: Ruler) -> bool:
    return all(ruler.width_mm(word, Face.SERIF_SEMIBOLD, size) <= width for word in unparted(text))


def _balanced(spans: tuple[Span, ...], size: float, width: float, ruler: Ruler) -> tuple[SetLine, ...]:
    """The spans in as few lines as ``width`` allows, in the least width that does: sought by halving."""
    full = wrapped_spans(spans, size, width, ruler)
    if len(full) < 2:
        return full
    longest = max(ruler.width_mm(word, span.face, size) for span in spans for word in unparted(span.text))
    low, high = min(width, max(longest, width / len(full))), width
    if len(wrapped_spans(spans, size, low, ruler)) == len(full):
        return wrapped_spans(spans, size, low, ruler)
    for _ in range(8):
        tried = (low + high) / 2
        if len(wrapped_spans(spans, size, tried, ruler)) > len(full):
            low = tried
        else:
            high = tried
    return wrapped_spans(spans, size, high, ruler)


@record
class FittedLines:
    """A text in lines, and the size at which they fit."""

    size: float
    lines: tuple[SetLine, ...]


def fitted_lines(
    text: str, face: Face, size: float, smallest: float, width: float, most_lines: int, ruler: Ruler
) -> FittedLines:
    """The text in as few lines as hold it, in type as large as possible: from ``size`` down in half points.

    Nothing is ever cut off: what does not fit ``most_lines`` in the smallest type takes more of them, and only there is
    a word broken that is wider than a line. The lines are about equally long, so that no word hangs alone in the last.
    """
    spans = (Span(text, face),)
    longest = max(unparted(text), key=lambda word: ruler.width_mm(word, face, size), default="")
    while size > smallest:
        fits = ruler.width_mm(longest, face, size) <= width
        if fits and len(wrapped_spans(spans, size, width, ruler)) <= most_lines:
            break
        size = max(smallest, size - 0.5)
    return FittedLines(size, _balanced(spans, size, width, ruler))


def words_group(role: Role, box: Box, *words: Words, alt: str = "") -> Group:
    """Words that are one thing: a name, a heading, a cell. ``alt`` says them in full where they are set cut short."""
    return Group(role, "", box, words, alt)


def figure(name: str, box: Box, marks: Iterable[Mark], alt: str) -> Group:
    """A drawing; ``alt`` says in words all that it shows, and stands for the words drawn inside it as well."""
    return Group("figure", name, box, tuple(marks), alt)
