"""A class in which students choose: what they choose from, before, between and after; read back from its files."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any, Final

import pdfplumber
import pytest

from cardmaker.jobs import checking, class_planning, loading
from cardmaker.jobs.class_choosing import MOST_NAMES, choosing_pages
from cardmaker.layout.yarn_inks import settled_hatches
from cardmaker.model.marks import Group
from tests.helpers.accessible import faults as accessibility_faults
from tests.helpers.card_faults import all_words, astray, overlapping_panels
from tests.helpers.class_tools import Said, run
from tests.helpers.places import ROOT
from tests.helpers.tape_cells import cells_of, faults_of

pytestmark = pytest.mark.usefixtures("empty_folder")

OPEN: Final = """\
title: Two Evenings
session: 2 h 30 min
winding: beforehand
warp: 3 yd
choose_from: [two-rails, wick, three-paths]
students:
  - {name: Ansel, loom: small-box}
  - {name: Dovie, loom: small-box, large_print: yes}
  - {name: Emlyn, loom: small-box}
  - {name: Isolde, loom: middle-box}
"""
SOME: Final = OPEN.replace("Dovie, loom: small-box", "Dovie, loom: small-box, pattern: wick")
ALL: Final = re.sub(r"(Ansel|Emlyn|Isolde), (loom: [a-z-]+)", r"\1, \2, pattern: two-rails", SOME)


def written(text: str, name: str = "evenings") -> str:
    Path(f"{name}.yaml").write_text(text, "utf-8")
    return f"{name}.yaml"


def words_of(page: Any) -> str:
    return " ".join((page.extract_text() or "").replace("\N{NO-BREAK SPACE}", " ").split())


def pages_of(path: str) -> list[str]:
    with pdfplumber.open(path) as pdf:
        return [words_of(page) for page in pdf.pages]


def cells_in(path: str) -> list[str]:
    """What stands in the left cells and then in the right ones of each page."""
    with pdfplumber.open(path) as pdf:
        return [
            " ".join(words_of(page.crop((left, 0, left + page.width / 2, page.height))) for left in (0, page.width / 2))
            for page in pdf.pages
        ]


def told(text: str) -> list[str]:
    path = Path(written(text, "wrong"))
    return [str(problem).removeprefix(f"{path}:") for problem in checking.problems_of_file(path)]


# Before anybody has chosen


def test_a_page_for_each_loom_and_nothing_else_until_somebody_has_chosen(capsys: Said) -> None:
    status, out, err = run(capsys, "class", written(OPEN))
    assert (status, err) == (0, "")
    assert out.splitlines() == [
        "out/evenings-choose.pdf  (2 pages)",
        "The page for Small box leaves out what does not go on it: Three Paths.",
        "Nobody has chosen yet. Next: let each tick one tape, write what is chosen behind each name, as in "
        "pattern: two-rails, then run: cardmaker class evenings.yaml",
    ]
    assert [path.name for path in Path("out").iterdir()] == ["evenings-choose.pdf"]
    small, middle = pages_of("out/evenings-choose.pdf")
    assert "for those at Small box" in small
    assert "Three Paths" not in small
    assert small.count("Tick your name:") == 2
    assert all(small.count(name) == 2 for name in ("Ansel", "Dovie", "Emlyn"))
    assert "Isolde" not in small
    assert middle.count("Isolde") == middle.count("Tick your name:") == 3
    assert "Ansel" not in middle


def test_times_are_those_that_the_teacher_s_sheet_tells(capsys: Said) -> None:
    """What is done beforehand is left out; by how much it is longer than the session is their difference."""
    run(capsys, "class", written(OPEN))
    run(capsys, "class", written(ALL, "all"))
    small, _ = cells_in("out/evenings-choose.pdf")
    teacher = pages_of("out/all-teacher.pdf")[0]
    for title in ("Two Rails", "Wick"):
        hours, minutes = re.findall(rf"{title} on Small box: .*?; (\d) h (\d+) min in all", teacher)[0]
        over = int(hours) * 60 + int(minutes) - 150
        assert 0 < over < 60
        assert f"About {hours} h {minutes} min in class, {over} min longer than it lasts." in small
    assert "beginners take much longer" in pages_of("out/evenings-choose.pdf")[0]


def test_without_a_session_or_a_pace_no_more_is_told_than_is_known(capsys: Said) -> None:
    run(capsys, "class", written(OPEN.replace("session: 2 h 30 min\n", "")))
    small, _ = cells_in("out/evenings-choose.pdf")
    assert "min in class." in small
    assert "longer than it lasts" not in small
    run(capsys, "class", written(OPEN.replace("small-box", "{slots: 12, holes: 11}"), "bare"))
    bare, _ = pages_of("out/bare-choose.pdf")
    assert "in class" not in bare
    assert "pace" not in bare


def test_its_pages_are_accessible_and_carry_the_class_file(capsys: Said) -> None:
    path = written(OPEN)
    run(capsys, "class", path)
    assert not list(accessibility_faults(Path("out/evenings-choose.pdf").read_bytes()))
    assert run(capsys, "restore", "out/evenings-choose.pdf", "--out", "back")[0] == 0
    assert Path("back/layouts/classes/evenings.yaml").read_text("utf-8") == OPEN
    assert {each.stem for each in Path("back/patterns").iterdir()} == {"two-rails", "wick", "three-paths"}


# When some have, and when all have


def test_kits_of_those_who_have_and_the_names_of_the_others(capsys: Said) -> None:
    status, out, _ = run(capsys, "class", written(SOME))
    assert status == 0
    lines = [line for line in out.splitlines() if not line.startswith(" ")]
    assert [line.split()[0] for line in lines[:5]] == [
        f"out/evenings-{kind}.pdf" for kind in ("choose", "handouts", "tags", "teacher", "shopping")
    ]
    names = "Ansel, Emlyn and Isolde have not chosen yet"
    assert lines[-1] == (
        f"{names}: nothing is made for them. Write a pattern behind each of these names, then run: "
        "cardmaker class evenings.yaml"
    )
    for kind in ("teacher", "shopping"):
        assert f"{names}. No figure on this sheet counts them." in pages_of(f"out/evenings-{kind}.pdf")[0]
    small = cells_in("out/evenings-choose.pdf")[0]
    assert small.count("Chosen by Dovie.") == 1
    assert small.count("Dovie") == 1
    assert small.index("Wick") < small.index("Chosen by Dovie.")
    assert small.count("Ansel") == small.count("Emlyn") == 2


def test_a_kit_keeps_its_number_when_others_choose_later() -> None:
    some, every = (class_planning.plan_class(loading.load_class(Path(written(text)))) for text in (SOME, ALL))
    numbers = {kit.student.name: kit.number for kit in every.students if kit.student}
    assert numbers == {"Ansel": 1, "Dovie": 2, "Emlyn": 3, "Isolde": 4}
    assert [(kit.student.name, kit.number) for kit in some.students if kit.student] == [("Dovie", 2)]


def test_spare_kits_are_numbered_after_all_students() -> None:
    spares = "spares: [{count: 2, loom: small-box, pattern: wick}, {count: 1, loom: small-box, pattern: two-rails}]\n"
    plan = class_planning.plan_class(loading.load_class(Path(written(SOME + spares))))
    assert [kit.number for kit in plan.kits] == [2, 5, 6, 7]


def test_when_all_have_chosen_the_sheets_are_those_of_a_class_without_a_choice(capsys: Said) -> None:
    _, out, _ = run(capsys, "class", written(ALL))
    assert "choose" not in out
    run(capsys, "class", written(re.sub("choose_from: .*\n", "", ALL), "plain"))
    for kind in ("handouts", "tags", "teacher", "shopping"):
        assert pages_of(f"out/evenings-{kind}.pdf") == pages_of(f"out/plain-{kind}.pdf")
    assert "not chosen" not in pages_of("out/evenings-teacher.pdf")[0]


def test_what_is_given_away_has_no_names_in_it(capsys: Said) -> None:
    """The class file goes with the page to choose from, which is the teacher's own, and not with handouts."""
    run(capsys, "class", written(SOME))
    for kind in ("handouts", "tags"):
        assert run(capsys, "restore", f"out/evenings-{kind}.pdf", "--out", f"back-{kind}")[0] == 0
        assert not Path(f"back-{kind}/layouts/classes").exists()


# What is wrong


def test_a_pattern_that_no_loom_holds_is_told_at_its_own_place() -> None:
    assert told(OPEN.replace("wick, three", "long-sixty, three")) == [
        "5:26: choose_from item 2: Long Sixty: 60 ends; Middle box has 16 slots and 17 holes, 33 spaces in all. The "
        "nearest count that fits is 33; it can stay the same from both edges. Treadle pair holds it as it is."
    ]


def test_a_name_that_is_none_and_one_that_is_there_twice() -> None:
    assert told(OPEN.replace("[two-rails, wick", "[two-rails, wik")) == [
        "5:26: choose_from item 2: There is no pattern named 'wik'. Did you mean wick?"
    ]
    assert told(OPEN.replace("[two-rails, wick", "[wick, wick")) == [
        "5:21: choose_from item 2: 'wick' is there already. Take it out."
    ]
    assert told(OPEN.replace("[two-rails, wick, three-paths]", "[wick]"))[0].startswith("5:14: choose_from: there are")


def test_a_loom_that_holds_none_of_them_is_told_at_the_first_who_sits_there() -> None:
    assert told(OPEN.replace("[two-rails, wick, three-paths]", "[three-paths, stair]")) == [
        "7:19: students item 1.loom: no pattern to choose from goes on Small box. Three Paths: 31 ends; Small box has "
        "12 slots and 11 holes, 23 spaces in all. Add one that does under choose_from, or write another loom."
    ]


def test_a_pattern_that_is_none_of_them_is_a_note_and_is_made(capsys: Said) -> None:
    text = SOME.replace("pattern: wick", "pattern: broad-wick")
    note = (
        "8:36: note: students item 2.pattern: Broad Wick is none of those to choose from. It is made all the same; if "
        "it is a slip, write one of choose_from."
    )
    assert told(text) == [note]
    status, out, err = run(capsys, "class", written(text))
    assert (status, err) == (0, f"evenings.yaml:{note}\n")
    assert "out/evenings-handouts.pdf" in out
    assert "Broad Wick" in pages_of("out/evenings-tags.pdf")[0]


def test_a_pattern_may_be_named_by_a_path() -> None:
    wick = ROOT / "patterns" / "wick.yaml"
    assert told(SOME.replace("pattern: wick", f"pattern: {wick}").replace("rails, wick", f"rails, {wick}")) == []


def test_without_choose_from_every_student_must_have_a_pattern() -> None:
    assert told(re.sub("choose_from: .*\n", "", SOME)) == [
        f"{line}:5: students item {item}: 'pattern' is missing. Write it as in pattern: two-rails; or let students "
        "choose, with choose_from: [two-rails, wick] above students."
        for line, item in ((6, 1), (8, 3), (9, 4))
    ]


def test_a_key_that_was_meant_for_the_pattern_is_told_alone() -> None:
    text = re.sub("choose_from: .*\n", "", ALL).replace("pattern: wick", "patern: wick")
    assert told(text) == ["7:36: students item 2: 'patern' is not a key that is known here. Did you mean 'pattern'?"]


def test_a_warp_too_short_is_told_at_the_warp_for_every_tape() -> None:
    problems = told(OPEN.replace("3 yd", "10 in"))
    assert [problem.split(": A warp of")[0] for problem in problems] == [
        f"4:1: warp: {title}" for title in ("Two Rails", "Wick", "Three Paths")
    ]


# Many, and long names


@pytest.mark.parametrize("name", ["Student {}", "Wilhelmina-Theodora van den Ropeloft {}"])
@pytest.mark.parametrize("count", [1, 7, MOST_NAMES, MOST_NAMES + 1, 60])
def test_every_name_finds_room_once_beside_each_tape(count: int, name: str) -> None:
    lines = "".join(f"  - {{name: {name.format(number)}, loom: small-box}}\n" for number in range(1, count + 1))
    text = f"title: Many\nchoose_from: [two-rails, wick, broad-wick, nine]\nstudents:\n{lines}"
    plan = class_planning.plan_class(loading.load_class(Path(written(text))))
    made = choosing_pages(plan, "letter", "metric", settled_hatches(each.pattern for each in plan.offered))
    assert not [facts for _, facts in made.left_out if "choosers" in facts]
    paper = next(each for each in made.layout.papers if each.name == "letter")
    beside: dict[str, int] = {}
    for page in made.pages:
        smallest = made.layout.type_sizes.smallest
        assert list(faults_of(page, made.layout.printable(paper), smallest)) == []
        groups = [mark for mark in page.marks if isinstance(mark, Group) and mark.role != "artefact"]
        assert astray(groups, made.layout.printable(paper)) == []
        assert overlapping_panels(groups) == []
        for cell in cells_of(page):
            for each in _paragraphs(cell):
                if re.fullmatch(name.format(r"\d+"), each):
                    beside[each] = beside.get(each, 0) + 1
    assert beside == {name.format(number): 4 for number in range(1, count + 1)}


def _paragraphs(cell: Group) -> list[str]:
    groups = [mark for mark in _below(cell) if mark.role == "paragraph"]
    return [" ".join(word.text for word in all_words([group])) for group in groups]


def _below(group: Group) -> list[Group]:
    inner = [mark for mark in group.marks if isinstance(mark, Group)]
    return [each for mark in inner for each in (mark, *_below(mark))]


def test_a_loom_with_a_long_name_is_told_below_the_tapes(capsys: Said) -> None:
    title = "The borrowed box from the attic of the Old Ropeloft, with the cracked side rail"
    loom = f'{{title: "{title}", slots: 12, holes: 11}}'
    run(capsys, "class", written(OPEN.replace("small-box", loom)))
    assert f"For those at {title}." in pages_of("out/evenings-choose.pdf")[0]
