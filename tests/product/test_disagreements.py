"""Where the program once did not do what the manual says, or said two things at once; the second calculator saw it."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import pytest

from tests.helpers.second_answers import both, card_text, folder_to_work_in, run, typed
from tests.helpers.second_generator import combination

LOOM: Final = "title: Own box\nkind: one heddle\nslots: 31\nholes: 30\n"
ONE_YARN: Final = "title: Record\nyarns: {a: {fibre: linen, count: 20/2}}\nwarp: [15 a]\n"
WOVEN_PLAIN: Final = "measured: [{date: 2026-11-20, warp: 3 yd, tape: 72 in, leftover: 40 cm}]\n"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    with folder_to_work_in(tmp_path_factory.mktemp("disagreements")) as folder:
        yield folder


def told(folder: Path, pattern: str, *options: str, loom: str = LOOM) -> Any:
    """The program's plan on a long span."""
    (folder / "pattern.yaml").write_text(pattern)
    (folder / "loom.yaml").write_text(loom)
    answer = run("plan", "--json", "pattern.yaml", "--loom", "loom.yaml", "--pegs", "span.yaml", *options)
    return json.loads(answer.out)


def test_the_fibre_of_most_ends_shrinks(folder: Path) -> None:
    """9 ends of wool and 11 of cotton: "a range by the fibre of most ends", so 5 to 12 %."""
    cottons = "b: {fibre: cotton, count: 8/2}, c: {fibre: cotton, count: 10}"
    yarns = f"{{a: {{fibre: wool, count: 12/2, system: worsted}}, {cottons}}}"
    plan = told(folder, f"title: Mixed\nyarns: {yarns}\nwarp: [7 b, 9 a, 4 c]\n")
    assert plan["lengths"]["shrinkage_range"] == [0.05, 0.12]


def test_the_width_of_a_tape_that_came_off_counts(folder: Path) -> None:
    """ "Type in what you measured and the next card reckons with it: your own take-up, width and picks." """
    record = "measured: [{date: 2026-11-20, width: 9 mm}]"
    plan = told(
        folder, f"title: Wide\nyarns: {{a: {{fibre: linen, count: 20/2}}}}\nwarp: [9 a]\nwidth: 12 mm\n{record}\n"
    )
    assert plan["width"]["likely_mm"] == 9


def test_an_earlier_tape_needs_not_have_been_the_pieces_of_now(folder: Path) -> None:
    """72 in came off; all pieces together are 60 in, so they were not cut from it: 21.95 % was taken up, not 0.3 %."""
    pieces = "{for: bag tie, length: 20 cm, count: 3, fringe: 3 in}, {for: garter, length: 1 yd, fringe: 1 in}"
    plan = told(folder, f"{ONE_YARN}length: {{pieces: [{pieces}], shrinkage: 0 %}}\n{WOVEN_PLAIN}")
    assert plan["lengths"]["take_up"] == pytest.approx(1 - 1828.8 / (2743.2 - 400), abs=0.001)


def test_at_least_is_never_more_than_there_is(folder: Path) -> None:
    for number in range(40):
        case = combination(number)
        _, ours = both(folder, case)
        if ours:
            said = " ".join(run("plan", *typed(folder, case)).out.split())
            for centimetres in re.findall(r"at least (\d+) cm", said):
                assert int(centimetres) * 10 <= ours["lengths"]["tape_at_least_mm"]


def test_a_record_card_reckons_as_the_plan_does_on_pegs_that_are_named(folder: Path) -> None:
    """Asked alike: the yarn to buy hangs on it. Without a name the record shows no pegs."""
    plan = json.loads(run("plan", "--json", "three-paths", "--pegs", "metre-board").out)
    run("card", "three-paths", "--pegs", "metre-board", "--out", "card.pdf")
    assert f"{plan['weft']['picks']} picks" in " ".join(card_text(folder).split())


def test_every_row_of_the_turns_has_the_same_columns(folder: Path) -> None:
    """One row says [0] and the next []; either may be right, but not both."""
    beam = "beam: {diameter: 1 in, held_by: stick, stops_per_turn: 4}\n"
    pieces = "length: {pieces: [{for: garter, length: 2 yd}]}\n"
    plan = told(folder, ONE_YARN + pieces, "--warp", "1.5 m", loom=LOOM + beam)
    assert len({len(row["pieces"]) for row in plan["beam"]["tape_left"]}) == 1


def test_no_tape_is_called_nought_while_there_is_some(folder: Path) -> None:
    """*3 turns left: 1 cm (0 in)*; where there is none, the same column says *none*."""
    for number in range(60):
        said = run("plan", *typed(folder, combination(number))).out
        assert not re.search(r"^ +\d+  .*\b0 (?:in|cm)\b", said, re.MULTILINE)
