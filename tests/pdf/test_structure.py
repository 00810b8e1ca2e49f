"""The tags of finished files, read back from them alone, and a card heard from its PDF as a screen reader would.

The rules are in ``tests/helpers/accessible.py``. A second opinion on all of them and more: the PDF/UA-1 rules of
page-validation, a checker by other hands.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, partial
from io import BytesIO
from pathlib import Path
from typing import Any

import page as page_validation
import pikepdf
import pytest

from cardmaker.binder.assembling import Assembled, BinderSide, Parts, assemble
from cardmaker.card.composing import compose_card
from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import binder_making, card_making, class_making, class_planning, loading, plan_making
from cardmaker.jobs.binding import CARD_PAGE
from cardmaker.model.marks import Box, Face, Group, Link, Page, Words
from cardmaker.model.record_class import replace
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.threading.mirror import plan_as_seen
from tests.helpers.accessible import faults
from tests.helpers.painted import paint
from tests.helpers.places import ROOT, shipped_alone
from tests.helpers.recount import Seat
from tests.helpers.recount_by_ear import (
    LOOMS,
    PATTERNS,
    RULER,
    SEATS,
    Listener,
    counted,
    hear_length,
    hear_order,
    hear_threading,
    hear_weaving,
    hear_winding,
    plan,
    shipped,
)
from tests.helpers.screen_reader_text import text_read_aloud
from tests.helpers.tagged import read_aloud, structure_of, walk

BAD = ROOT / "tests" / "cases" / "bad" / "pattern-alias-as-key.yaml"
LAYOUTS = ("record", "bench", "handout", "handout-large", "field", "field-folded", "six-numbers")


def faults_by_others(pdf: bytes) -> list[str]:
    report = page_validation.validate_pdf_bytes(pdf, profile="ua1")
    assert report.rules.total > 100
    return [f"{each.rule_id}: {each.message}" for each in report.failures]


# The files


@cache
def card(pattern: str, layout: str, seat: Seat = SEATS[0], loom: Path | None = None) -> bytes:
    of = loading.load_layout(ROOT / "layouts" / "cards" / f"{layout}.yaml")
    seen = Viewpoint(seat.hand == "left", seat.behind)
    told = plan_as_seen(plan(shipped(pattern), loom or smallest(pattern)), seen)
    return card_making.make_card(told, of, of.papers[0], None).pdf


def page_of(pattern: str, layout: str, seat: Seat = SEATS[0], loom: Path | None = None) -> Page:
    of = loading.load_layout(ROOT / "layouts" / "cards" / f"{layout}.yaml")
    seen = Viewpoint(seat.hand == "left", seat.behind)
    told = plan_as_seen(plan(shipped(pattern), loom or smallest(pattern)), seen)
    return compose_card(told, of, of.papers[0], RULER).page


@cache
def smallest(pattern: str) -> Path:
    return next(counted(shipped(pattern)))[0]


@cache
def class_sheets() -> tuple[bytes, tuple[Page, ...]]:
    """One file of all sheets of the class that ships, and the pages that are in it."""
    wanted = class_planning.plan_class(loading.load_class(ROOT / "layouts" / "classes" / "a-yard-by-supper.yaml"))
    sheets = class_making.class_sheets(wanted, quiet=True)
    kinds = list(sheets.pages)
    return class_making.class_pdf(wanted, sheets, kinds), tuple(page for kind in kinds for page in sheets.pages[kind])


@cache
def binder() -> tuple[bytes, tuple[BinderSide, ...]]:
    """A binder of all patterns, and one that cannot be made, for both sides of the paper; and its sides."""
    kept: list[BinderSide] = []

    def keeping(parts: Parts) -> Assembled:
        assembled = assemble(parts)
        kept.extend(assembled.sides)
        return assembled

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("cardmaker.jobs.binding.assemble", keeping)
        asked = binder_making.BinderRequest(
            (str(shipped_alone() / "patterns"), str(BAD)), by="grade", duplex=True, quiet=True, jobs=1
        )
        return binder_making.make_binder(asked).pdf, tuple(kept)


# They are what the standard asks for


@pytest.mark.parametrize("pattern", PATTERNS)
def test_a_card_is_accessible(pattern: str) -> None:
    """Every pattern, each for the next weaver and on the next layout: all come up in turn."""
    turn = PATTERNS.index(pattern)
    pdf = card(pattern, LAYOUTS[turn % len(LAYOUTS)], SEATS[turn % len(SEATS)])
    assert faults(pdf) == []
    assert faults_by_others(pdf) == []
    assert faults_by_others(card(pattern, "record")) == []


@pytest.mark.parametrize("layout", LAYOUTS)
def test_so_is_one_for_two_heddles_and_a_left_hand(layout: str) -> None:
    pdf = card("treadle-ladder", layout, Seat("left", behind=False), LOOMS[-1])
    assert faults(pdf) == []
    assert faults_by_others(pdf) == []


@pytest.mark.parametrize("options", ["three-paths --end 17", "fair-day --end 3 --hand left --from behind"])
def test_so_is_a_slip_of_one_end(options: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    slip = tmp_path / "slip.pdf"
    assert run_command_line(["rescue", *options.split(), "--out", str(slip)]) == 0
    assert capsys.readouterr().out.startswith(str(slip))
    assert faults(slip.read_bytes()) == []
    assert faults_by_others(slip.read_bytes()) == []


def test_so_are_the_sheets_of_a_class() -> None:
    pdf, _ = class_sheets()
    assert faults(pdf) == []
    assert faults_by_others(pdf) == []


@pytest.mark.parametrize("options", [(), ("--stages",), ("--paper", "a4", "--backs")])
def test_so_is_each_of_their_files(options: tuple[str, ...], tmp_path: Path) -> None:
    """A file that holds one kind of sheet begins with a heading that is no part of another."""
    assert run_command_line(["class", "a-yard-by-supper", "--out", str(tmp_path), "--quiet", *options]) == 0
    files = sorted(tmp_path.rglob("*.pdf"))
    assert len(files) > 3
    for file in files:
        assert b"pdfuaid:part" in file.read_bytes()
        assert (file.name, faults(file.read_bytes())) == (file.name, [])
        assert (file.name, faults_by_others(file.read_bytes())) == (file.name, [])


def test_so_is_a_card_of_her_own_layout_without_a_title(tmp_path: Path) -> None:
    layout = tmp_path / "untitled.yaml"
    shipped = (ROOT / "layouts" / "cards" / "record.yaml").read_text()
    rows = "  - [{panel: title, columns: 12, priority: 1, essential: yes}]\n"
    assert rows in shipped
    layout.write_text(shipped.replace(rows, ""))
    out = tmp_path / "card.pdf"
    assert run_command_line(["card", "three-paths", "--layout", str(layout), "--out", str(out), "--quiet"]) == 0
    assert faults(out.read_bytes()) == []
    assert faults_by_others(out.read_bytes()) == []


def test_so_is_the_form_for_an_old_tape(tmp_path: Path) -> None:
    assert run_command_line(["form", "--out", str(tmp_path / "form.pdf"), "--quiet"]) == 0
    assert faults((tmp_path / "form.pdf").read_bytes()) == []
    assert faults_by_others((tmp_path / "form.pdf").read_bytes()) == []


def test_so_is_what_is_printed_of_a_binder_that_grows(tmp_path: Path) -> None:
    """Its links to leaves that are not printed have become words."""
    asked = binder_making.BinderRequest(
        (str(shipped_alone() / "patterns"),), by="use", layout="six-numbers", quiet=True
    )
    old = tmp_path / "old.pdf"
    old.write_bytes(binder_making.make_binder(asked).pdf)
    pdf = binder_making.make_binder(asked._replace(since=old, title="Another")).pdf
    assert pdf
    few = asked._replace(patterns=(str(ROOT / "patterns" / "wick.yaml"), str(ROOT / "patterns" / "nine.yaml")))
    for grown in (pdf, binder_making.make_binder(few._replace(since=old)).pdf):
        assert faults(grown) == []
        assert faults_by_others(grown) == []


def test_so_is_a_binder() -> None:
    pdf, _ = binder()
    assert faults(pdf) == []
    assert faults_by_others(pdf) == []


def test_a_file_of_several_sheets_has_bookmarks() -> None:
    """ISO 14289-1, 7.17: what is long is found by an outline; a card, of one page, needs none."""
    for pdf, wanted in ((binder()[0], True), (class_sheets()[0], True), (card("three-paths", "record"), False)):
        with pikepdf.open(BytesIO(pdf)) as file:
            assert ("/Outlines" in file.Root) == wanted


# The rules find what is wrong


def altered(pdf: bytes, change: Callable[[pikepdf.Pdf], None]) -> bytes:
    with pikepdf.open(BytesIO(pdf)) as file:
        change(file)
        out = BytesIO()
        file.save(out)
    return out.getvalue()


def first(file: pikepdf.Pdf, tag: str) -> Any:
    return next(element.entry for element in walk(structure_of(file)) if element.tag == tag)


def without(name: str, tag: str = "") -> Callable[[pikepdf.Pdf], None]:
    def change(file: pikepdf.Pdf) -> None:
        thing = first(file, tag) if tag else file.Root
        assert name in thing
        del thing[name]

    return change


def page_without(name: str) -> Callable[[pikepdf.Pdf], None]:
    def change(file: pikepdf.Pdf) -> None:
        del file.pages[0].obj[name]

    return change


def with_content(code: bytes) -> Callable[[pikepdf.Pdf], None]:
    return lambda file: file.pages[0].contents_add(code)


def swapped(file: pikepdf.Pdf) -> None:
    """The first two parents in the way back from the first page."""
    back = file.Root.StructTreeRoot.ParentTree.Nums[1]
    back[0], back[1] = back[1], back[0]


def another(tag: str, of: str) -> Callable[[pikepdf.Pdf], None]:
    def change(file: pikepdf.Pdf) -> None:
        first(file, of).S = pikepdf.Name(tag)

    return change


def last_cell_gone(file: pikepdf.Pdf) -> None:
    row = first(file, "/TR")
    row.K = pikepdf.Array(list(row.K)[:-1])


def empty_code(file: pikepdf.Pdf) -> None:
    font = file.pages[0].Resources.Font["/F1+0"]
    table = font.ToUnicode.read_bytes()
    font.ToUnicode.write(table.replace(b"<20> <0020>", b"<20> <0000>"))


WRONG = {
    "is neither tagged nor artefact": with_content(b"0 0 10 10 re f"),
    "within /P": with_content(b"/P <</MCID 9999>> BDC /Artifact BMC EMC EMC"),
    "content is not numbered in reading order": with_content(b"/P <</MCID 9999>> BDC EMC"),
    "other content than the page": with_content(b"/P <</MCID 9999>> BDC EMC"),
    "with the number None": with_content(b"/P BMC EMC"),
    "is an artefact, but not said to run": with_content(b"/Artifact BMC BT /F1+0 9 Tf <22> Tj ET EMC"),
    "stands for nothing": with_content(b"/Artifact BMC BT /F1+0 9 Tf <00> Tj ET EMC"),
    "leads back from 0 of": page_without("/StructParents"),
    "the keyboard walks in another order": page_without("/Tabs"),
    "or leads back to another": swapped,
    "is marked otherwise than its element": another("/H2", of="/P"),
    "/Span in /Sect": another("/Span", of="/P"),
    "a heading of level 2 after one of 0": another("/H2", of="/H1"),
    "is empty": without("/K", "/P"),
    "names another parent": lambda file: first(file, "/P").update({"/P": file.Root.StructTreeRoot}),
    "a table with rows of": last_cell_gone,
    "a head without scope": without("/A", "/TH"),
    "a figure without words": without("/Alt", "/Figure"),
    "a figure at 0.0": without("/A", "/Figure"),
    "stands for no character": empty_code,
    "not marked as tagged": without("/MarkInfo"),
    "viewers are not asked": without("/ViewerPreferences"),
    "no language": without("/Lang"),
    "no title, or two": lambda file: file.docinfo.update({"/Title": "Another"}),
}
WRONG_LINKS = {
    "an element /Link without its annotation": lambda link: link.__delitem__("/K"),
    "annotations in /P": lambda link: setattr(link, "S", pikepdf.Name("/P")),
}


@pytest.mark.parametrize("told", WRONG)
def test_a_fault_in_the_tags_is_found(told: str) -> None:
    """The bench card has a table. That a file without faults has none is held above."""
    pdf = card("three-paths", "bench")
    assert any(told in fault for fault in faults(altered(pdf, WRONG[told])))


def test_a_fault_in_a_link_is_found() -> None:
    box = Box(20, 20, 60, 10)
    link = Link(box, "here", (Words(20, 28, "Contents", Face.SANS, 10),), "To the contents, page 1")
    groups = (
        Group("title", "A", box, (Words(20, 15, "A binder", Face.SANS, 10),)),
        Group("paragraph", "", box, (link,)),
    )
    pdf = paint([Page(200, 200, groups, "A", anchor="here")], title="A")
    assert faults(pdf) == []

    def silent(file: pikepdf.Pdf) -> None:
        del file.pages[0].Annots[0].Contents

    assert any("does not say where it leads" in fault for fault in faults(altered(pdf, silent)))
    for told, change in WRONG_LINKS.items():
        wrong = altered(pdf, partial(on_first_link, change))
        assert any(told in fault for fault in faults(wrong))


def on_first_link(change: Callable[[Any], None], file: pikepdf.Pdf) -> None:
    change(first(file, "/Link"))


# Heard from the file


def heard(pdf: bytes) -> str:
    with pikepdf.open(BytesIO(pdf)) as file:
        return "\n".join(read_aloud(file))


@pytest.mark.parametrize("pattern", PATTERNS)
def test_a_card_is_heard_from_its_file_as_it_was_composed_and_is_enough_to_wind_thread_and_weave(pattern: str) -> None:
    """Counted a second time from the pattern's file: the words come from the PDF alone, by its tags and fonts."""
    seats = list(counted(shipped(pattern)))
    turn = PATTERNS.index(pattern) % len(SEATS)
    for loom, told, pattern_text, loom_text in (seats[turn], seats[turn - len(SEATS)]):
        text = heard(card(pattern, "record", told.seat, loom))
        assert text == text_read_aloud(page_of(pattern, "record", told.seat, loom))
        ear = Listener(text)
        assert ear.hear(r"^(.+)$")[1] == pattern_text["title"]
        hear_order(ear, told)
        hear_length(ear, pattern_text, loom_text)
        hear_winding(ear, told)
        hear_threading(ear, told)
        hear_weaving(ear, told, pattern_text, loom_text)


@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_layout_is_heard_as_it_was_composed(layout: str) -> None:
    for pattern, seat in (("three-paths", SEATS[0]), ("penned-ladder", SEATS[2]), ("nine", SEATS[3])):
        assert heard(card(pattern, layout, seat)) == text_read_aloud(page_of(pattern, layout, seat))


def test_unusual_characters_are_heard() -> None:
    """They have codes in further fonts of their face, which are switched to in the middle of a word."""
    of = loading.load_layout(ROOT / "layouts" / "cards" / "record.yaml")
    wanted = plan(shipped("three-paths"), smallest("three-paths"))
    odd = replace(wanted, pattern=replace(wanted.pattern, title="Ωδή of Жук and ﬁne ½"))
    assert heard(card_making.make_card(odd, of, of.papers[0], None).pdf).splitlines()[0] == "Ωδή of Жук and ﬁne ½"


def test_the_sheets_of_a_class_are_heard_as_they_were_composed() -> None:
    pdf, pages = class_sheets()
    with pikepdf.open(BytesIO(pdf)) as file:
        assert read_aloud(file) == [text_read_aloud(page) for page in pages]


def test_a_binder_is_heard_side_by_side_as_it_was_composed() -> None:
    """Cards and their backs as they are alone, and after them the way back to the contents."""
    pdf, sides = binder()
    with pikepdf.open(BytesIO(pdf)) as file:
        heard_of = read_aloud(file)
    assert len(heard_of) == len(sides)
    for number, (side, text) in enumerate(zip(sides, heard_of, strict=True)):
        if side.page is not None:
            assert text == text_read_aloud(replace(side.page, marks=(*side.page.marks, *side.extra)))
        elif number % 7 == 0:
            assert side.entry is not None
            to_contents = text_read_aloud(Page(1, 1, side.extra))
            alone = card_alone(
                Path(side.entry.anchor.removeprefix(CARD_PAGE)).stem, side.entry.loom, is_back=side.is_back
            )
            assert text == f"{text_read_aloud(alone)}\n{to_contents}"
    assert {side.is_back for number, side in enumerate(sides) if side.page is None and number % 7 == 0} == {True, False}


def card_alone(pattern: str, loom: str, *, is_back: bool) -> Page:
    """As the command makes it where no loom is asked for, wound in the layout's own units, with its back."""
    layout = loading.load_layout(ROOT / "layouts" / "cards" / "record.yaml")
    setup = plan_making.load_plan_setup_for(layout.as_back(layout.papers[0]), None)
    made = plan_making.plan_for(loading.load_pattern(shipped(pattern)), setup)
    assert made.loom.title == loom
    front = compose_card(made, layout, layout.papers[0], RULER, with_back=True)
    assert front.back is not None
    return front.back.page if is_back else front.page
