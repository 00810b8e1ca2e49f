"""A sample of sound but extreme files, drawn and looked at; and that the laws notice what they are for."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardmaker.model.marks import Box, Face, Group, Page, Words
from cardmaker.model.record_class import replace
from tests.fuzz.drawn.__main__ import report, run
from tests.fuzz.drawn.catching import caught_pages
from tests.fuzz.drawn.drawn_trial import DrawnTrial, called, letters_of, write_files
from tests.fuzz.drawn.jobs import KINDS, Job, make_job
from tests.fuzz.drawn.page_laws import page_faults
from tests.fuzz.drawn.read_back import file_faults

SEED = 3
SAMPLE: dict[str, range] = {
    "card": range(9), "own": range(6), "class": range(3, 6), "event": range(11, 14), "sheet": range(3),
    "choose": range(6), "binder": range(3, 6),
}  # fmt: skip
# Some of what runs by hand find and what is left: warps of singles that fill a small card, tall accents in close lines.
KNOWN: dict[tuple[str, int], str] = {
    ("card", 12): "so many single ends that neither all counts nor all letters find a way to their brackets",
    ("binder", 8): "two marks over a capital touch the tails of the line above in an index that is set close",
}


@pytest.fixture
def trial(tmp_path: Path) -> Iterator[DrawnTrial]:
    before = Path.cwd()
    os.chdir(tmp_path)
    yield DrawnTrial(tmp_path)
    os.chdir(before)


@pytest.mark.parametrize("kind", KINDS)
def test_a_sample_breaks_no_law(kind: str, trial: DrawnTrial) -> None:
    pages = 0
    for number in SAMPLE[kind]:
        tried = trial.tried(make_job(SEED, number, (kind,)), read_back=number == SAMPLE[kind][-1])
        assert tried.broken == [], f"python -m tests.fuzz.drawn --seed {SEED} --kinds {kind} --show {number}"
        pages += tried.pages
    assert pages


@pytest.mark.parametrize(
    "known", [pytest.param(each, marks=pytest.mark.xfail(strict=True, reason=KNOWN[each])) for each in KNOWN]
)
def test_what_is_known_to_be_left(known: tuple[str, int], trial: DrawnTrial) -> None:
    kind, number = known
    assert trial.tried(make_job(SEED, number, (kind,))).broken == []


def test_the_same_number_is_the_same_input() -> None:
    assert [make_job(7, number) for number in range(20)] == [make_job(7, number) for number in range(20)]
    assert make_job(7, 1).files != make_job(8, 1).files


def test_a_run_goes_on_where_another_ended() -> None:
    """Two runs of half the inputs come to what one run of all comes to, and the report tells how many there were."""
    whole, first, second = (run(SEED, start, many, ("choose",)) for start, many in ((0, 2), (0, 1), (1, 1)))
    assert whole["counts"] == first["counts"] + second["counts"]
    assert whole["pages"] == first["pages"] + second["pages"]
    assert next(report(whole)).startswith("inputs    2, ")


# The laws can be broken


PANEL = Group("panel", "one", Box(10, 10, 80, 30), (Words(12, 20, "walk", Face.SANS, 10.0),))
PAGE = Page(100.0, 100.0, (PANEL,))


def moved(text: str, x: float, y: float, size: float = 10.0) -> Page:
    """The page with some more words in its panel."""
    more = Words(x, y, text, Face.SANS, size)
    return replace(PAGE, marks=(replace(PANEL, marks=(*PANEL.marks, more)),))


@pytest.mark.parametrize(
    ("page", "laws"),
    [
        (PAGE, set()),
        (moved("rope", 14, 20.5), {"over"}),
        (moved("rope", 12, 30, 8.5), {"small"}),
        (moved("rope", 1, 20), {"edge", "astray"}),
        (moved("rope", 60, 70), {"astray"}),
        (moved("a long ro…", 12, 30), {"cut"}),
        (replace(PAGE, marks=(*PAGE.marks, replace(PANEL, name="two"))), {"panels", "over"}),
    ],
)
def test_a_page_is_held_to_its_laws(page: Page, laws: set[str]) -> None:
    assert {law for law, _ in page_faults(page)} == laws


def test_a_letter_that_is_lost_is_found_and_so_is_another_file(trial: DrawnTrial) -> None:
    """The file is read back against a page with one word more, and against a pattern file that has changed since."""
    job = next(job for job in (make_job(SEED, number, ("choose",)) for number in range(9)) if _prints(job, trial))
    write_files(job, trial.folder)
    command = [*job.commands[0], "--out", "out"]
    with caught_pages() as catch:
        assert called(command).status == 0
    pages = catch.documents[0]
    assert called(command).status == 0
    path = next(Path("out").glob("*.pdf"))
    assert list(file_faults(path, pages, job, called)) == []
    more = replace(pages[0], marks=(*pages[0].marks, Words(50, 50, "Zz", Face.SANS, 10.0)))
    assert letters_of(more) - letters_of(pages[0]) == {"Z": 1, "z": 1}
    assert [fault.law for fault in file_faults(path, [more, *pages[1:]], job, called)] == ["read back"]
    other = job._replace(files=job.files | {"patterns/tape-1.yaml": b"title: Another\n"})
    assert "restored" in {fault.law for fault in file_faults(path, pages, other, called)}


def _prints(job: Job, trial: DrawnTrial) -> bool:
    tried = trial.tried(job)
    return tried.ended == "printed" and not tried.broken
