"""The pages that a command composes, caught before they are drawn: by far the most of the time goes into drawing.

While pages are caught, nothing is drawn and every file that is written is a line with the number of its document; all
else is done as ever. Cards are caught as they are composed, too, with the layout and the paper that they are held to.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from functools import cache
from pathlib import Path
from typing import Any, Final, NamedTuple
from unittest.mock import patch

from cardmaker.card import composing
from cardmaker.card.composing import Composed
from cardmaker.cli import arguments, command_line
from cardmaker.jobs import binder_growing, binder_making, binding, loading, parallel, plan_making
from cardmaker.model.card_layout import CardLayout, Paper
from cardmaker.model.marks import Mark, Page
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import replace
from cardmaker.pdf import draft, painter
from cardmaker.pdf.draft import Draft
from cardmaker.pdf.fonts import lacks
from cardmaker.reading import read_file
from cardmaker.school import handout_sheets, handout_slips
from cardmaker.tape_sheet import sheet_pages
from tests.helpers.card_faults import all_words
from tests.helpers.places import ROOT

DOCUMENT: Final = "%PDF-1.7 caught "


class Cut(NamedTuple):
    """A card as it was composed: of which plan, by which layout, on which paper."""

    plan: Plan
    layout: CardLayout
    paper: Paper
    composed: Composed
    in_cell: bool


class Catch:
    """What was caught while one command ran: the pages of every document, and every card that was composed."""

    def __init__(self) -> None:
        self.drawn: list[Page] = []
        self.documents: list[list[Page]] = []
        self.cuts: list[Cut] = []

    def caught(self, page: Page) -> Draft:
        """A draft of nothing that knows which page it is of."""
        self.drawn.append(page)
        number = str(len(self.drawn) - 1)
        width, height = page.width_mm, page.height_mm
        blank = Draft(width, height, page.title, number, page.anchor, page.label, page.bookmarks, {}, {})
        words = [words for words in all_words(page.marks) if not words.text.isascii()]
        missing = tuple((sign, words.face) for words in words for sign in lacks(words.text, words.face))
        return replace(blank, missing=missing) if missing else blank

    def page_of(self, drawn: Draft) -> Page:
        """The page of such a draft."""
        return self.drawn[int(drawn.language)]

    def with_marks(self, drawn: Draft, marks: Sequence[Mark]) -> Draft:
        """The draft with more marks on its page."""
        if not marks:
            return drawn
        page = self.page_of(drawn)
        self.drawn.append(replace(page, marks=(*page.marks, *marks)))
        return replace(drawn, language=str(len(self.drawn) - 1))

    def painted(self, drafts: Iterable[Draft], about: object, carried: Iterable[object] = ()) -> bytes:
        """Instead of a PDF the number of its document."""
        self.documents.append([self.page_of(each) for each in drafts])
        list(carried)
        return f"{DOCUMENT}{len(self.documents) - 1}\n%%EOF\n".encode()


def document_number(file: Path) -> int:
    """The number of the document that was written into a file."""
    return int(file.read_text("ascii").split("\n", 1)[0].removeprefix(DOCUMENT))


_compose: Final = composing.compose_card
_PLACES: Final = (composing, handout_sheets, handout_slips, sheet_pages)


@contextmanager
def caught_pages() -> Iterator[Catch]:
    """All pages of the commands that run meanwhile."""
    catch = Catch()

    def compose(plan: Plan, layout: CardLayout, paper: Paper, *rest: Any, **options: Any) -> Composed:
        composed = _compose(plan, layout, paper, *rest, **options)
        catch.cuts.append(Cut(plan, layout, paper, composed, paper.name == "a cell"))
        return composed

    with ExitStack() as patches:
        for module in _PLACES:
            patches.enter_context(patch.object(module, "compose_card", compose))
        for module in (draft, binding, binder_growing):
            patches.enter_context(patch.object(module, "draft_of", catch.caught))
        for module in (painter, binding):
            patches.enter_context(patch.object(module, "paint_drafts", catch.painted))
        patches.enter_context(patch.object(binding, "with_marks", catch.with_marks))
        for module in (binder_making, binder_growing):
            patches.enter_context(patch.object(module, "print_digest", lambda _: "0" * 64))
        yield catch


@contextmanager
def one_process() -> Iterator[None]:
    """All in this process; shipped files are read once, and the parser of the command line is made once."""
    with ExitStack() as patches:
        patches.enter_context(patch.object(parallel, "FEWEST", 10**9))
        patches.enter_context(patch.object(command_line, "command_parser", cache(arguments.command_parser)))
        patches.enter_context(patch.object(read_file, "read_loom", _kept(read_file.read_loom)))
        patches.enter_context(patch.object(loading, "load_layout", _kept(loading.load_layout)))
        patches.enter_context(patch.object(read_file, "read_pegs", _kept(read_file.read_pegs)))
        patches.enter_context(patch.object(plan_making, "read_pegs", _kept(read_file.read_pegs)))
        yield


def _kept(read: Any) -> Any:
    """Reads a shipped file once, and every other each time."""
    once = cache(read)

    def reading(path: Path) -> Any:
        return once(path) if path.is_absolute() and path.is_relative_to(ROOT) else read(path)

    return reading
