"""A class in stages: which slips there are, whose, on which sheets, and what each kit then holds."""

from pathlib import Path

import pytest

from cardmaker.card.facts import FACTS
from cardmaker.jobs import class_making
from cardmaker.school import class_words, kit_words
from cardmaker.school.handout_sheets import Size
from cardmaker.school.handout_slips import slips_needed
from cardmaker.wording import stage_words
from tests.helpers.card_faults import all_words
from tests.helpers.class_tools import MM, Said, planned, printed, run, sheets, texts

pytestmark = pytest.mark.usefixtures("empty_folder")

STUDENTS = """  - {name: Ansel, loom: small-box, pattern: two-rails}
  - {name: Bettris, loom: small-box, pattern: two-rails, hand: left}
  - {name: Corvin, loom: treadle-pair, pattern: fair-day}
  - {name: Dovie, loom: middle-box, pattern: three-paths, large_print: yes}
  - {name: Emlyn, loom: treadle-pair, pattern: fair-day, large_print: yes}
"""
DONE = {"": "", "wound": "winding: beforehand\n", "threaded": "threading: beforehand\n"}


def class_of(folder: Path, more: str = "", students: str = STUDENTS) -> Path:
    path = folder / f"staged-{len([*folder.iterdir()])}.yaml"  # what is printed of a path is kept
    path.write_text(f"title: Staged\nsession: 3 h\n{more}students:\n{students}", encoding="utf-8")
    return path


def said(path: Path, kind: class_making.SheetKind, paper: Size | None = None) -> list[str]:
    """Each page's words, in a row."""
    return [" ".join(text.replace("\N{NO-BREAK SPACE}", " ").split()) for text in texts(path, kind, paper)]


def test_what_is_done_needs_no_slip() -> None:
    assert slips_needed(frozenset()) == ("wind", "dress", "weave")
    assert slips_needed({"wound"}) == ("dress", "weave")
    assert slips_needed({"wound", "threaded"}) == ("weave",)


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("done", DONE)
def test_each_student_gets_each_slip_once(done: str, paper: Size, empty_folder: Path) -> None:
    """All of one stage, then the next: the halves in pairs, then the large ones, of which the second may be two."""
    path = class_of(empty_folder, f"stages: yes\n{DONE[done]}")
    pages = said(path, "handouts", paper)
    ends = [stage_words.NEXT_AFTER_WINDING, stage_words.NEXT_AFTER_DRESSING, stage_words.NO_NEXT]
    ends = ends[{"": 0, "wound": 1, "threaded": 2}[done] :]
    whole = " ".join(pages)
    assert [whole.count(each) for each in ends] == [5] * len(ends)
    assert [whole.index(each) for each in ends] == sorted(whole.index(each) for each in ends)
    assert whole.count("Name Ansel kit 1 · right hand") == whole.count("Name Bettris kit 2 · left hand") == len(ends)
    of_dovie = whole.count("Name Dovie kit 3 · right hand") + whole.count("Name Dovie kit 4 · right hand")
    assert of_dovie - len(ends) in ((0,) if done == "threaded" else (0, 1))


@pytest.mark.parametrize("done", DONE)
def test_type_is_as_large_as_a_handouts(done: str, empty_folder: Path) -> None:
    """Half sheets lie on their long side: 9 pt beside drawn steps, else 10 and 11; whole ones stand: 16 pt."""
    path = class_of(empty_folder, f"stages: yes\n{DONE[done]}")
    for page in printed(path, "handouts", "letter").pages:
        smallest = min(round(char["size"], 2) for char in page.chars if char["upright"])
        is_large = page.height > page.width
        assert smallest >= (16 if is_large else 9)
        assert round(max(page.width, page.height) * MM, 1) == 279.4


def test_nothing_asks_for_what_was_done(empty_folder: Path) -> None:
    """No *Wind 2.4 m* and no walk of a wound warp; no board and no cross of a threaded loom, but her line to tick."""
    asked = {done: " ".join(said(class_of(empty_folder, f"stages: yes\n{DONE[done]}"), "handouts")) for done in DONE}
    assert [each.count("Wind 2.4 m") > 0 for each in asked.values()] == [True, False, False]
    assert [each.count("start at home") > 0 for each in asked.values()] == [True, False, False]
    assert [each.count("take them in turn from the cross") > 0 for each in asked.values()] == [False, True, False]
    assert [each.count("Where is end 1?") > 0 for each in asked.values()] == [False, True, False]
    assert [each.count("First finger by the cut") > 0 for each in asked.values()] == [True, True, False]
    assert [each.count("threaded: end 1 in L6") > 0 for each in asked.values()] == [False, False, True]


def test_the_option_asks_for_slips_as_the_file_does(capsys: Said, empty_folder: Path) -> None:
    path = class_of(empty_folder)
    status, out, err = run(capsys, "class", str(path), "--stages", "--out", "slips")
    assert (status, err) == (0, "")
    assert f"{path.stem}-handouts.pdf  (" in out
    in_file = said(class_of(empty_folder, "stages: yes\n"), "handouts")
    assert f"{path.stem}-handouts.pdf  ({len(in_file)} pages)" in out
    assert len(in_file) > len(said(path, "handouts"))
    lacking = [line for line in out.splitlines() if "no room for" in line and FACTS["more stuck"] in line]
    assert all(line.count("Ansel") <= 1 for line in lacking)


def test_backs_lie_behind_slips(empty_folder: Path) -> None:
    """Every second page is a back; what found no room in front of Ansel's slip to weave by stands behind it."""
    path = class_of(empty_folder, "stages: yes\n", "  - {name: Ansel, loom: small-box, pattern: two-rails}\n")
    made = class_making.class_sheets(planned(path), "letter", backs=True, quiet=True)
    assert len(made.pages["handouts"]) == 6
    assert not any(FACTS["more stuck"] in line for line in made.left_out)


# What each kit holds


def test_a_kit_holds_what_is_left_to_do(empty_folder: Path) -> None:
    plan = planned(class_of(empty_folder)).kits[0].plan
    assert plan.beam is not None
    assert plan.beam.sticks == 12
    assert kit_words.kit_holds(plan, frozenset()) == (
        "Blue and white yarn for warp and weft, 2 keepers, 2 bands, a parking stick and a bright thread. "
        "12 packing sticks at its loom."
    )
    assert kit_words.kit_holds(plan, {"wound"}) == (
        "The warp on its stick, 13 ends, 2 keepers banded in its cross, a bright thread beside end 1 and the blue "
        "weft. 12 packing sticks at its loom."
    )
    assert kit_words.kit_holds(plan, {"wound", "threaded"}) == (
        "The loom, threaded with 13 ends, the warp on its beam and the blue weft. 12 packing sticks in the roll."
    )


@pytest.mark.parametrize("done", DONE)
def test_every_sheet_tells_what_is_done(done: str, empty_folder: Path) -> None:
    path = class_of(empty_folder, f"stages: yes\n{DONE[done]}", STUDENTS.replace(", large_print: yes", ""))
    plan = planned(path)
    teacher, shopping = (" ".join(said(path, kind)) for kind in ("teacher", "shopping"))
    of_tags = [words.text for page in sheets(path).pages["tags"] for words in all_words(page.marks)]
    tags = " ".join(" ".join(of_tags).replace("\N{NO-BREAK SPACE}", " ").split())
    finished = plan.school_class.done
    for each in plan.plans:
        assert class_words.kits_of(sum(kit.plan is each for kit in plan.kits), each) in teacher
        assert kit_words.kit_holds(each, finished) in teacher
        assert kit_words.kit_holds(each, finished, brief=True) in tags
    assert ("keeper sticks" in teacher) == ("blunt needle" in teacher) == (done != "threaded")
    assert ("they are in the kits" in teacher) == (done == "wound")
    assert class_words.steps_key(plan.school_class) in teacher
    told = class_words.done_beforehand(plan.school_class)
    assert bool(told) == bool(done)
    assert told in teacher
    assert f"{told[:1].upper()}{told[1:]}" in shopping
    assert class_words.COMFORT in teacher
