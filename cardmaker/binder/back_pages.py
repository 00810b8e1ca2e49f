"""A binder's back: what holds for every card, once; and what could not be made."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Final

from cardmaker.binder import binder_words
from cardmaker.binder.page_numbers import Text, unnumbered
from cardmaker.layout.pages.blocks import Block, Gap, Heading, KeepTogether, Paragraph
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.page_flow import Running
from cardmaker.layout.table_setting import Column, Row, Table
from cardmaker.layout.type_setting import Span
from cardmaker.model.loom import Loom
from cardmaker.model.marks import Face
from cardmaker.model.problems import Problem
from cardmaker.wording import loom_words

_SPARE: Final = (0, 1, 1, 1, 0, 2)  # on small paper a loom is its name and how many ends it holds


def glossary_and_looms(looms: Sequence[Loom], leaf: Leaf) -> Text:
    """The looms, the words, and the cautions."""
    rows = tuple(_loom_row(loom) for loom in sorted(looms, key=lambda loom: (loom.capacity, loom.title)))
    columns = tuple(
        Column(head, "right" if 2 <= place < 5 else "left", grows=place == 5, spare=_SPARE[place])
        for place, head in enumerate(binder_words.LOOM_HEADS)
    )
    blocks: list[Block] = [Heading(binder_words.LOOMS), Table(binder_words.LOOMS, columns, rows)] if rows else []
    blocks += [Gap(3.0), Heading(binder_words.GLOSSARY)]
    blocks += [Paragraph((Span(word, Face.SANS_SEMIBOLD), Span(meaning))) for word, meaning in binder_words.WORDS]
    cautions = tuple(Paragraph((Span(caution),), mark="dot") for caution in binder_words.SAFETY)
    blocks += [Gap(3.0), KeepTogether((Heading(binder_words.CAUTIONS), *cautions))]
    return Text(blocks, Running(binder_words.BACK, number=unnumbered))


def _loom_row(loom: Loom) -> Row:
    return Row((
        loom.title, binder_words.heddle_kinds(loom), str(loom.slots), str(loom.holes), str(loom.capacity),
        loom_words.marked_middle(loom),
    ))  # fmt: skip


def not_made_pages(problems: Sequence[Problem], leaf: Leaf) -> Text:
    """Every file that could not be made into a card, with all of its problems."""
    blocks: list[Block] = []
    for file, of_file in groupby(problems, key=lambda problem: problem.file):
        lines = [Paragraph((Span(binder_words.problem_line(problem)),), "small", "dot") for problem in of_file]
        blocks += [Heading(binder_words.file_name(file)), *lines]
    return Text(blocks, Running(binder_words.NOT_MADE, binder_words.NOT_MADE_ASIDE, number=unnumbered))
