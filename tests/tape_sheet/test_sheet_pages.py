"""Every shipped tape on every sheet, paper, hand and loom: cells that keep the laws of cards, tapes at life size, and
the first space of each where an independent count puts it."""

from __future__ import annotations

import re
from functools import cache
from itertools import zip_longest
from pathlib import Path
from typing import Final, Literal

import pypdfium2
import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import loading
from cardmaker.jobs.plan_making import load_plan_setup, plan_for
from cardmaker.jobs.sheet_making import SheetRequest, ToldTape, load_sheet_setup, make_sheet, plans_of
from cardmaker.layout.yarn_inks import settled_hatches
from cardmaker.model.marks import Box, Group, Stamp, Words
from cardmaker.model.plan import Plan
from cardmaker.model.problems import ProblemsFound
from cardmaker.model.record_class import replace
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.tape_sheet.sheet_pages import SheetPages, Tape, compose_tape_sheet
from tests.helpers.accessible import faults as accessibility_faults
from tests.helpers.card_faults import all_words, astray, leaves, overlapping_panels
from tests.helpers.places import ROOT, shipped_alone, shipped_in
from tests.helpers.recount import Seat, Told, read, thread
from tests.helpers.shipped import PATTERN_FILES
from tests.helpers.tape_cells import cells_of, faults_of

RULER: Final = TypeRuler()
SHEETS: Final = [path.stem for path in shipped_in("layouts/sheets")]
PAPERS: Final = ("letter", "a4", "half-letter", "a5")
Hand = Literal["right", "left"]
Side = Literal["front", "behind"]


@cache
def plans(hand: Hand = "right", loom: str | None = None, side: Side | None = None) -> tuple[Plan, ...]:
    """Of every shipped pattern that the loom holds."""
    setup = replace(load_plan_setup(loom, None), hand=hand, side=side)
    found = []
    for path in PATTERN_FILES:
        try:
            found.append(plan_for(loading.load_pattern(path), setup))
        except ProblemsFound:
            assert loom is not None
    return tuple(found)


def composed(sheet: str, paper: str, of: tuple[Plan, ...], said: tuple[str, ...] = ()) -> tuple[SheetPages, Box]:
    layout = loading.load_sheet(ROOT / "layouts" / "sheets" / f"{sheet}.yaml")
    (on,) = (each for each in layout.papers if each.name == paper)
    hatches = settled_hatches(plan.pattern for plan in of)
    pages = compose_tape_sheet([Tape(plan, said) for plan in of], layout, on, RULER, "metric", hatches)
    return pages, layout.printable(on)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize(
    ("hand", "loom", "side"), [("right", None, None), ("left", None, "behind"), ("right", "treadle-pair", None)]
)
def test_no_cell_breaks_a_law_and_none_lacks_what_belongs_to_it(
    sheet: str, paper: str, hand: Hand, loom: str | None, side: Side | None
) -> None:
    of = plans(hand, loom, side)
    pages, printable = composed(sheet, paper, of)
    smallest = loading.load_sheet(ROOT / "layouts" / "sheets" / f"{sheet}.yaml").type_sizes.smallest
    assert [fault for page in pages.pages for fault in faults_of(page, printable, smallest)] == []
    front = set(loading.load_sheet(ROOT / "layouts" / "sheets" / f"{sheet}.yaml").facts.front)
    assert [(title, front & {*facts}) for title, facts in pages.left_out if front & {*facts}] == []
    cells = [cell for page in pages.pages for cell in cells_of(page)]
    assert len(cells) == len(of)
    assert len({(round(cell.box.width, 6), round(cell.box.height, 6)) for cell in cells}) == 1


@pytest.mark.parametrize("sheet", SHEETS)
def test_every_tape_is_drawn_at_life_size(sheet: str) -> None:
    """As wide as the plan says that it will be, to a tenth of a millimetre, on the page and in the PDF."""
    of = plans()
    pages, _ = composed(sheet, "letter", of)
    cells = [cell for page in pages.pages for cell in cells_of(page)]
    for plan, cell in zip(of, cells, strict=True):
        (tape,) = (mark for mark in cell.marks if isinstance(mark, Group) and mark.name == "tape")
        (stamp,) = (mark for mark in leaves([tape]) if isinstance(mark, Stamp))
        assert stamp.clip.width == pytest.approx(float(plan.width.likely_mm), abs=0.05)
        pick = 25.4 / float(plan.weft.picks_per_inch)
        assert stamp.dy % pick == pytest.approx(0, abs=0.01) or -(stamp.dy % pick) + pick == pytest.approx(0, abs=0.01)


@pytest.mark.parametrize(("hand", "side"), [("right", None), ("left", None), ("right", "behind")])
@pytest.mark.parametrize("loom", [None, "broad-paddle", "treadle-pair"])
def test_the_first_space_of_each_is_read_back(hand: Hand, side: Side | None, loom: str | None, tmp_path: Path) -> None:
    """From the PDF, by another library, against a count along the loom that asks nothing of the plan but its ends."""
    options = ["--hand", hand, *(["--from", side] if side else []), *(["--loom", loom] if loom else [])]
    of = plans(hand, loom, side)
    names = [str(ROOT / "patterns" / f"{plan.pattern.stem}.yaml") for plan in of]
    out = tmp_path / "sheet.pdf"
    assert run_command_line(["sheet", *names, *options, "--out", str(out), "--quiet"]) == 0
    first = re.compile(r"end 1: (front )?([LR]\d+|0), a (slot|hole)")
    found: list[tuple[str, str, str]] = []
    for page in pypdfium2.PdfDocument(out.read_bytes()):
        left, right = (first.findall(words) for words in _columns(page))
        found += [each for row in zip_longest(left, right) for each in row if each]
    assert len(found) == len(of)
    for plan, (_, space, kind) in zip(of, found, strict=True):
        assert (space, kind) == _counted(plan, hand, side), plan.pattern.title


def _columns(page: pypdfium2.PdfPage) -> list[str]:
    """The words of the cells on the left, from the top down, and of those on the right."""
    width, height = page.get_size()
    words = page.get_textpage()
    halves = ((0, width / 2), (width / 2, width))
    return [" ".join(words.get_text_bounded(left, 0, right, height).split()) for left, right in halves]


def _counted(plan: Plan, hand: Hand, side: Side | None) -> tuple[str, str]:
    """The space of end 1 as she names it, by the reckoning of the checks: from the files alone."""
    threading = thread(read(Path(plan.pattern.places.file)), read(Path(plan.loom.places.file)))
    assert threading is not None
    told = Told(Seat(hand, behind=side == "behind"), threading)
    first, _ = told.first_and_last()
    return told.label(first), told.kind(first)


def test_more_tapes_than_a_page_holds_go_on_about_evenly() -> None:
    pages, _ = composed("choose", "half-letter", plans()[:13])
    counts = [len(cells_of(page)) for page in pages.pages]
    assert sum(counts) == 13
    assert max(counts) - min(counts) <= 1


def test_type_is_of_one_size_in_all_cells() -> None:
    pages, _ = composed("reference", "letter", plans())
    names = {word.size for page in pages.pages for cell in cells_of(page) for word in _after_name(cell)}
    assert len(names) == 1


def _after_name(cell: Group) -> list[Words]:
    return [word for word in all_words(cell.marks) if re.match(r"\d+\s+ends?,", word.text)]


def test_what_is_said_of_a_tape_stands_in_its_cell() -> None:
    pages, _ = composed("choose", "letter", plans()[:4], ("Nothing is picked up; two colours change.",))
    for page in pages.pages:
        for cell in cells_of(page):
            text = " ".join(word.text for word in all_words(cell.marks))
            assert "Nothing is picked up; two colours change." in text


@pytest.mark.parametrize("sheet", SHEETS)
def test_it_is_accessible_and_carries_what_it_was_made_from(sheet: str, tmp_path: Path) -> None:
    setup = load_sheet_setup(SheetRequest((), to=str(shipped_alone() / "layouts" / "sheets" / f"{sheet}.yaml")))
    paths = [shipped_alone() / "patterns" / f"{stem}.yaml" for stem in ("three-paths", "fair-day", "wick")]
    made = make_sheet([ToldTape(plan) for plan in plans_of(paths, setup.plans)], setup)
    assert accessibility_faults(made.pdf) == []
    sheet_file = tmp_path / "sheet.pdf"
    sheet_file.write_bytes(made.pdf)
    out = tmp_path / "back"
    assert run_command_line(["restore", str(sheet_file), "--out", str(out), "--quiet"]) == 0
    for path in paths:
        assert (out / "patterns" / path.name).read_bytes() == path.read_bytes()
    assert (out / "layouts" / "sheets" / f"{sheet}.yaml").is_file()


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("sheet", SHEETS)
def test_the_longest_title_that_a_file_may_have_stands_whole(sheet: str, paper: str) -> None:
    title = "Grandmother Hathersage " * 3 + "and Widdershi"
    assert len(title) == 82
    title = title[:80]
    (wide,) = (plan for plan in plans() if plan.pattern.stem == "long-sixty")
    long = replace(wide, pattern=replace(wide.pattern, title=title))
    pages, printable = composed(sheet, paper, (long, *plans()[:3]))
    assert [fault for page in pages.pages for fault in faults_of(page, printable, 9)] == []
    (cell,) = (each for page in pages.pages for each in cells_of(page) if title[:20] in each.name)
    assert title in " ".join(word.text for word in all_words(cell.marks))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("title", ["Tapes for the quay on Saturday, " * 6, "x" * 200], ids=["words", "one word"])
def test_a_long_title_stays_on_the_paper_and_off_the_cells(title: str, paper: str) -> None:
    layout = replace(loading.load_sheet(ROOT / "layouts" / "sheets" / "choose.yaml"), title=title[:200].strip())
    (on,) = (each for each in layout.papers if each.name == paper)
    of = plans()[:3]
    pages = compose_tape_sheet(
        [Tape(plan) for plan in of], layout, on, RULER, "metric", settled_hatches(plan.pattern for plan in of)
    )
    for page in pages.pages:
        groups = [mark for mark in page.marks if isinstance(mark, Group) and mark.role != "artefact"]
        assert astray(groups, layout.printable(on)) == []
        assert overlapping_panels(groups) == []
        told = "".join(word.text for word in all_words([group for group in groups if group.role == "title"]))
        assert told.replace(" ", "") == layout.title.replace(" ", "")


def test_a_title_of_more_letters_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert run_command_line(["sheet", str(PATTERN_FILES[0]), "--title", "x" * 201]) == 2
    assert capsys.readouterr().err == "cardmaker: The title has 201 letters. Write 200 at most.\n"


def test_a_tape_that_no_cell_holds_is_told_at_its_own_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """60 ends at 15 to the inch are 4 in, 102 mm; two cells stand side by side on a sheet of 216 mm."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "wide.yaml").write_text(
        "title: Sixty Thick\nyarns:\n  white: {fibre: wool, ends_per_inch: 15}\nwarp: [60 white]\n", "utf-8"
    )
    for sheet in SHEETS:
        assert run_command_line(["sheet", str(ROOT / "patterns" / "wick.yaml"), "wide.yaml", "--to", sheet]) == 1
        told = capsys.readouterr().err
        assert told.startswith("wide.yaml:4:1: warp: Sixty Thick: 60 ends do not fit on a cell: ")
    assert not (tmp_path / "out").exists()
