"""``cardmaker class``: which files it writes, and what is said when something is wrong."""

from pathlib import Path
from typing import Final

import pdfplumber
import pytest

from cardmaker.jobs import checking, class_making, class_planning, loading
from cardmaker.model.problems import ProblemsFound
from tests.helpers.class_tools import MM, SUPPER, Said, run
from tests.helpers.places import ROOT

pytestmark = pytest.mark.usefixtures("empty_folder")


# The command


def test_a_file_for_each_kind_of_sheet(capsys: Said, empty_folder: Path) -> None:
    status, out, err = run(capsys, "class", "a-yard-by-supper", "--out", "supper")
    assert (status, err) == (0, "")
    assert [line for line in out.splitlines() if not line.startswith(" ")] == [
        "supper/a-yard-by-supper-handouts.pdf  (6 pages)",
        "supper/a-yard-by-supper-tags.pdf  (2 pages)",
        "supper/a-yard-by-supper-teacher.pdf  (2 pages)",
        "supper/a-yard-by-supper-shopping.pdf  (1 page)",
    ]
    assert sorted(path.name for path in (empty_folder / "supper").iterdir()) == [
        f"a-yard-by-supper-{kind}.pdf" for kind in ("handouts", "shopping", "tags", "teacher")
    ]


def test_all_in_one_file(capsys: Said, empty_folder: Path) -> None:
    assert run(capsys, "class", "a-yard-by-supper", "--one", "--paper", "a4")[0] == 0
    (path,) = (empty_folder / "out").iterdir()
    assert path.name == "a-yard-by-supper-class.pdf"
    with pdfplumber.open(path) as pdf:
        assert len(pdf.pages) == 6 + 2 + 2 + 1
        assert {round(max(page.width, page.height) * MM) for page in pdf.pages} == {297}
    assert run(capsys, "class", "a-yard-by-supper", "--one", "--out", "all.pdf")[0] == 0
    assert (empty_folder / "all.pdf").exists()
    status, _, err = run(capsys, "class", "a-yard-by-supper", "--out", "all.pdf")
    assert (status, err) == (
        2,
        "cardmaker: all.pdf is one file, but a class makes four: name a folder, or say --one.\n",
    )


# What is wrong


def told(text: str, folder: Path) -> list[str]:
    path = folder / "wrong.yaml"
    path.write_text(text, encoding="utf-8")
    return [str(problem).removeprefix(f"{path}:") for problem in checking.problems_of_file(path)]


WRONG: Final = """title: Wrong
warp: 3 yd
students:
  - {name: Ansel, loom: small-box, pattern: two-rails}
  - {name: Garrick, loom: small-box, pattern: three-paths}
  - {name: Hesper, loom: small-bx, pattern: three-pathes}
spares: {count: 1, loom: small-box, pattern: three-paths}
"""


def test_a_pattern_that_does_not_fit_is_told_at_the_student_s_line(empty_folder: Path) -> None:
    numbers = (
        "31 ends; Small box has 12 slots and 11 holes, 23 spaces in all. The nearest count that fits and stays odd is "
        "23; it can stay the same from both edges. Middle box holds it as it is."
    )
    assert told(WRONG, empty_folder) == [
        f"5:21: students item 2.loom: Three Paths for Garrick: {numbers}",
        "6:20: students item 3.loom: There is no loom named 'small-bx'. Did you mean small-box?",
        "6:36: students item 3.pattern: There is no pattern named 'three-pathes'. Did you mean three-paths?",
        f"7:20: spares.loom: Three Paths for the spare kits: {numbers}",
    ]


def test_nothing_is_written_when_anything_is_wrong(capsys: Said, empty_folder: Path) -> None:
    (empty_folder / "wrong.yaml").write_text(WRONG)
    status, out, err = run(capsys, "class", "wrong.yaml")
    assert (status, out) == (1, "")
    assert len(err.splitlines()) == 4
    assert [path.name for path in empty_folder.iterdir()] == ["wrong.yaml"]


def test_a_warp_too_short_is_told_at_the_warp(empty_folder: Path) -> None:
    text = WRONG.replace("3 yd", "10 in").split("  - {name: Garrick")[0]
    (problem,) = told(text, empty_folder)
    assert problem.startswith("2:1: warp: Two Rails for Ansel: A warp of ")
    assert "leaves nothing to weave" in problem


def test_a_package_of_no_yarn_is_told(empty_folder: Path) -> None:
    text = WRONG.split("  - {name: Garrick")[0] + "packages:\n  bleu: {weight: 50 g}\n"
    assert told(text, empty_folder) == [
        "6:3: packages.bleu: no pattern of this class has a yarn 'bleu'. Did you mean blue?"
    ]


def test_a_pattern_with_problems_is_told_once_with_its_own_lines(empty_folder: Path) -> None:
    (empty_folder / "odd.yaml").write_text(
        "title: Odd\nyarns:\n  red: {fibre: cotton, count: 8/2}\nwarp: [3 red]\nends: 4\n"
    )
    path = empty_folder / "wrong.yaml"
    path.write_text(
        "title: Wrong\nstudents:\n  - {name: Ansel, loom: small-box, pattern: odd.yaml}\n"
        "  - {name: Dovie, loom: small-box, pattern: odd.yaml}\n"
    )
    problems = [str(problem) for problem in checking.problems_of_file(path)]
    assert len(problems) == 1
    assert problems[0].startswith("odd.yaml:5:")


def test_another_kind_of_file_is_told_as_such(capsys: Said) -> None:
    status, _, err = run(capsys, "class", str(ROOT / "patterns" / "two-rails.yaml"))
    assert status == 1
    assert err.endswith("This is a pattern file. A class file is wanted here.\n")
    status, _, err = run(capsys, "card", str(SUPPER))
    assert status == 1
    assert err.endswith("This is a class file. A pattern file is wanted here; a class is made with: cardmaker class.\n")


def test_a_name_that_the_type_lacks_is_told_at_its_student(empty_folder: Path) -> None:
    path = empty_folder / "wrong.yaml"
    text = "title: Wrong\nstudents:\n  - {name: Ansel, loom: small-box, pattern: two-rails}\n"
    path.write_text(text + "  - {name: 北, loom: small-box, pattern: two-rails}\n", encoding="utf-8")
    plan = class_planning.plan_class(loading.load_class(path))
    with pytest.raises(ProblemsFound, match=r"wrong\.yaml:4:6: students item 2\.name: .*typeface has no '北'"):
        class_making.class_pdf(plan, class_making.class_sheets(plan), ("handouts",))


def test_classes_are_listed(capsys: Said) -> None:
    _, out, _ = run(capsys, "list")
    assert "\nclasses\n  a-yard-by-supper   A Yard by Supper, 9 students, 2 spare kits\n" in out
