"""The visitor's side: the name as a sign, the tape in plain words, how much is known of it, and one question."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from math import ceil
from typing import Final

from cardmaker.card.name_head import title_part
from cardmaker.card.panels.ribbon_panel import drawn_scale
from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import picture_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.stacking import HeightRange, Part, exactly
from cardmaker.layout.type_setting import Span, cap_height, tail_depth, text_height, words_group
from cardmaker.model.marks import Box, Face, Mark, Words
from cardmaker.model.pattern import Source
from cardmaker.model.record_class import replace
from cardmaker.wording import student_words
from cardmaker.wording.phrases import capitalised

BETWEEN_ROWS: Final = 2.6  # mm, over a label
MOST_BETWEEN_ROWS: Final = 20.0  # mm of spare height over it: a third of what stands over a section
BESIDE_NUMBER: Final = 3.0  # mm
LEAST_WIDTH: Final = 20.0  # mm of a line
LOST_AT_END: Final = 3.0  # mm of it that a space may be, which is not set there
MOST_APART: Final = 60.0  # mm of spare height over the number, what is known, and the question
BELOW_NAME: Final = 4.0  # mm
ABOVE_THREADS: Final = 2.8  # mm, about as panels stand apart where there is room
THREADS: Final = 1.6  # their number, in sizes of a count
NEWS, NOTES, SURE = 3, 4, 5  # what finds a place only where there is room, the first to the last


def _plain_words(sheet: Sheet, width: float) -> Sequence[Part]:
    """The name as a sign; what it is for, how wide; the number of threads very large; what the file tells a visitor.

    All of one panel, so that every card has them at the same heights.
    """
    return [title_part(sheet, width), _use_and_width(sheet, width), _threads(sheet), *_sentences(sheet, width)]


def _sentences(sheet: Sheet, width: float) -> list[Part]:
    """Under the number what the file tells a visitor; where it tells nothing, how many threads are of which colour."""
    size = sheet.sizes.body
    if not (notes := student_words.visitor_notes(sheet.plan)):
        words = [[Span(student_words.threads_by_colour(sheet.plan))]]
        return [_even_words(sheet, width, words, size, above=0.6, facts=("visitor notes",))]
    return [
        _even_words(sheet, width, [[Span(note)]], size, above=0.6, facts=("visitor notes",), priority=NOTES)
        for note in notes
    ]


def _apart(sheet: Sheet, part: Part, most: float = MOST_APART) -> Part:
    """With its share of the spare height over it, which is the same over the number, what is known and the question: so
    these stand evenly down the card, and the last at its foot."""
    if _is_close(sheet):
        return part
    high = part.heights.least
    lower = HeightRange(high, high + most)
    return replace(part, heights=lower, draw=lambda box: part.draw(box.inset(top=box.height - high)))


def _use_and_width(sheet: Sheet, width: float) -> Part:
    """Its use and, on a line of its own, how wide it is."""
    size = sheet.sizes.body
    use, wide = student_words.in_plain_words(sheet.plan, sheet.units, drawn_scale(sheet))
    lines = [sheet.lines([Span(words)], size, _even(sheet, [Span(words)], size, width)) for words in (use, wide)]
    high = text_height(len([*lines[0], *lines[1]]), size)

    def draw(box: Box) -> list[Mark]:
        words = sheet.set([*lines[0], *lines[1]], box.left, box.top + cap_height(size), size)
        return [words_group("paragraph", box._replace(height=high), *words)]

    return Part(exactly(high), draw, BELOW_NAME, ("visitor", "use", "width"))


def _threads(sheet: Sheet) -> Part:
    number, noun = student_words.threads(sheet.plan)
    size = sheet.sizes.count * (1.0 if _is_close(sheet) else THREADS)

    def draw(box: Box) -> list[Mark]:
        baseline = box.top + cap_height(size)
        beside = box.left + sheet.wide(number, Face.SANS_BOLD, size) + BESIDE_NUMBER
        return [
            Words(box.left, baseline, number, Face.SANS_BOLD, size),
            Words(beside, baseline, noun, Face.SANS, sheet.sizes.heading),
        ]

    height, above = exactly(cap_height(size) + tail_depth(size)), ABOVE_THREADS * (0.5 if _is_close(sheet) else 1.0)
    told = picture_part("threads", height, draw, f"{number} {noun}.", above=above, facts=("threads",))
    return _apart(sheet, told)


def _known(sheet: Sheet, width: float) -> Sequence[Part]:
    """Each under its label, always in the same order; or all as one paragraph. How sure the count is and what is new
    give way before what is known and guessed."""
    source = sheet.plan.pattern.source
    is_close = _is_close(sheet)
    rows = [(*_fact_of(label, source), label, text) for label, text in student_words.known(source, brief=is_close)]
    if is_close:
        spans = [span for _, _, label, text in rows for span in _labelled(label, text)]
        told = tuple(dict.fromkeys(fact for fact, *_ in rows))
        return [words_part(sheet, width, [spans], sheet.sizes.body, facts=told)]
    first, *others = [
        _even_words(
            sheet, width, [[span] for span in _labelled(label, text)], sheet.sizes.body, above=BETWEEN_ROWS,
            facts=(fact,), priority=priority,
        )
        for fact, priority, label, text in rows
    ]  # fmt: skip
    return [_apart(sheet, first), *(_apart(sheet, other, MOST_BETWEEN_ROWS) for other in others)]


def _is_close(sheet: Sheet) -> bool:
    """Whether what is known runs on: behind a card, where nothing may be left out and much is to be told."""
    return sheet.is_back and sheet.is_crowded


def _labelled(label: str, text: str) -> Paragraph:
    return [Span(label, Face.SANS_SEMIBOLD), Span(capitalised(text))]


def _fact_of(label: str, source: Source | None) -> tuple[str, int]:
    """Of what is told under a label the fact, and its priority; of a tape that is all new, that is what is known."""
    if label == student_words.SURE:
        return "how sure", SURE
    if label == student_words.NEW_HERE and (source is None or source.grade != "F"):
        return "new", NEWS
    return "known", 0


def _question(sheet: Sheet, width: float) -> Sequence[Part]:
    words = [Span(student_words.visitor_question(sheet.plan), Face.SERIF_SEMIBOLD)]
    return (_apart(sheet, _even_words(sheet, width, [words], sheet.sizes.heading, facts=("question",))),)


def _even_words(
    sheet: Sheet,
    width: float,
    paragraphs: Sequence[Paragraph],
    size: float,
    *,
    above: float = 0.0,
    facts: tuple[str, ...] = (),
    priority: int = 0,
) -> Part:
    """Paragraphs of lines about as long as each other, so that no word stands alone below."""
    even = max(_even(sheet, spans, size, width) for spans in paragraphs)
    part = words_part(sheet, even, paragraphs, size, above=above, facts=facts, priority=priority)
    return replace(part, draw=lambda box: part.draw(box._replace(width=even)))


def _even(sheet: Sheet, spans: Paragraph, size: float, width: float) -> float:
    """The least width, to a millimetre, in which they take no more lines than in ``width``. The narrower, the more
    lines, so it is found by halves."""
    lines = sheet.lines(spans, size, width)
    taken = sum(sheet.wide(span.text, span.face, size) for line in lines for span in line)
    least = max(LEAST_WIDTH, taken / len(lines) - LOST_AT_END) if lines else LEAST_WIDTH  # they take no less in so many
    less = range(1, max(1, ceil(width - least) + 1))
    most = len(lines) + 1
    return width - bisect_left(less, most, key=lambda narrower: len(sheet.lines(spans, size, width - narrower)))


VISITOR = Panel("visitor", _plain_words)
KNOWN = Panel("known", _known)
QUESTION = Panel("question", _question, sinks=True)
