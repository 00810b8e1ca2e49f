"""The sheets of a class before they are drawn: titles of every allowed length, colours on tags, names on bars.

Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest
import yaml

from cardmaker.jobs import class_planning, loading
from cardmaker.layout.cut_sheets import MARGIN
from cardmaker.layout.ink import HAIRLINE
from cardmaker.layout.pages.leaf import SHEET_SIZES, Leaf
from cardmaker.layout.type_setting import cap_height
from cardmaker.layout.yarn_inks import card_inks, settled_hatches
from cardmaker.model.marks import Box, Group, Line, Mark, Page, Rectangle, Words
from cardmaker.model.pattern import LONGEST_CODE, LONGEST_TITLE
from cardmaker.school.handout_sheets import WHOLE, Size
from cardmaker.school.shopping_sheet import compose_shopping
from cardmaker.school.tag_sheets import compose_tags
from cardmaker.school.teacher_sheet import compose_teacher
from cardmaker.school.time_bars_drawing import Bar, time_bars
from tests.helpers.class_tools import SUPPER, bought, planned, sheets
from tests.helpers.long_texts import LONGEST_LINE, LONGEST_MARK, all_leaves, line_of, misplaced
from tests.helpers.paper_tools import RULER
from tests.helpers.places import ROOT

pytestmark = pytest.mark.usefixtures("empty_folder")
PAPERS = pytest.mark.parametrize("paper", ["letter", "a4"])


def leaf(paper: Size) -> Leaf:
    return Leaf(WHOLE[paper], RULER)


def printable(kind: str, paper: Size) -> Box:
    sheet = WHOLE[paper]
    if kind == "tags":
        return Box(MARGIN, MARGIN, sheet.width_mm - 2 * MARGIN, sheet.height_mm - 2 * MARGIN)
    return leaf(paper).printable


def texts(pages: Sequence[Page]) -> str:
    return " ".join(mark.text for page in pages for mark in all_leaves(page.marks) if isinstance(mark, Words))


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def written_class(folder: Path, length: int, *, in_one: bool, students: int = 3) -> Path:
    """A class whose every text is so long, with a pattern and a loom of its own."""
    text, mark = line_of(length, in_one=in_one), line_of(min(length, LONGEST_MARK - 2), in_one=in_one)
    pattern = yaml.safe_load((ROOT / "patterns" / "two-rails.yaml").read_text("utf-8"))
    pattern |= {"title": text[:LONGEST_TITLE].strip(), "code": mark[:LONGEST_CODE].strip()}
    pattern["notes"] = {"teacher": [text, text]}
    loom = yaml.safe_load((ROOT / "layouts" / "looms" / "small-box.yaml").read_text("utf-8")) | {
        "title": text[:LONGEST_TITLE].strip()
    }
    own = {
        "title": text,
        "teacher": text,
        "date": mark,
        "place": text,
        "session": "2 h",
        "marked_as": text,
        "notes": [text],
        "packages": {"white": {"weight": "50 g", "price": f"6 {mark[:30].replace(' ', '')}".rstrip(",’")}},
        "students": [
            {"name": f"{mark}{number:02}", "loom": "long.yaml", "pattern": "wordy.yaml"} for number in range(students)
        ],
    }
    (folder / "wordy.yaml").write_text(yaml.safe_dump(pattern, allow_unicode=True), "utf-8")
    (folder / "long.yaml").write_text(yaml.safe_dump(loom, allow_unicode=True), "utf-8")
    path = folder / "class.yaml"
    path.write_text(yaml.safe_dump(own, allow_unicode=True), "utf-8")
    return path


def own_sheets(path: Path, paper: Size) -> dict[str, tuple[Page, ...]]:
    """All but the handouts, which are cards."""
    plan = class_planning.plan_class(loading.load_class(path))
    hatches = settled_hatches(kit.plan.pattern for kit in plan.kits)
    return {
        "tags": compose_tags(plan.school_class, plan.kits, paper, RULER, "us", hatches),
        "teacher": compose_teacher(plan, paper, RULER, "us"),
        "shopping": compose_shopping(plan, bought(path), paper, RULER, "us"),
    }


@PAPERS
@pytest.mark.parametrize("in_one", [False, True], ids=["words", "one word"])
@pytest.mark.parametrize("length", [1, *range(16, LONGEST_LINE, 23), 48, LONGEST_LINE])
def test_no_text_leaves_the_margins_or_another_text_s_way(
    length: int, in_one: bool, paper: Size, empty_folder: Path
) -> None:
    path = written_class(empty_folder, length, in_one=in_one)
    for kind, pages in own_sheets(path, paper).items():
        faults = [fault for page in pages for fault in misplaced(page, printable(kind, paper), SHEET_SIZES.smallest)]
        assert faults == [], kind
        told = texts(pages).replace(" ", "")
        assert line_of(length, in_one=in_one).replace(" ", "") in told
        assert ("min in all" in plain(texts(pages))) == (kind == "teacher")


def test_the_total_time_stands_after_a_title_of_any_length(empty_folder: Path) -> None:
    for length in (48, LONGEST_LINE):
        pages = own_sheets(written_class(empty_folder, length, in_one=False), "letter")["teacher"]
        assert "min in all" in plain(texts(pages))


# Tags


def tags(paper: Size) -> list[Group]:
    return [
        mark
        for page in sheets(SUPPER, paper).pages["tags"]
        for mark in page.marks
        if isinstance(mark, Group) and mark.role == "panel"
    ]


@PAPERS
def test_a_tag_shows_its_stripes_in_the_yarns_colours_with_letters_and_counts(paper: Size) -> None:
    plan = planned(SUPPER)
    hatches = settled_hatches(kit.plan.pattern for kit in plan.kits)
    for kit, tag in zip(plan.kits, tags(paper), strict=True):
        (stripes,) = [mark for mark in tag.marks if isinstance(mark, Group) and mark.name == "stripes"]
        inks = card_inks(kit.plan.pattern, hatches)
        fills = [mark for mark in stripes.marks if isinstance(mark, Rectangle) and mark.fill and mark.box.height == 5]
        runs = kit.plan.runs
        assert [cell.fill for cell in fills] == [inks[run.yarn].fill for run in runs]
        for cell, run in zip(fills, runs, strict=True):
            assert cell.box.width == pytest.approx(stripes.box.width * run.ends / kit.plan.ends)
            label = f"{kit.plan.letters(run.yarn)} {run.ends}"
            (words,) = [
                mark
                for mark in stripes.marks
                if isinstance(mark, Words) and cell.box.left < mark.x < cell.box.right and mark.text
            ]
            assert words.text == label
            wide = RULER.width_mm(label, words.face, words.size)
            assert cell.box.left < words.x - wide / 2
            assert words.x + wide / 2 < cell.box.right
        assert stripes.alt.startswith("The stripes from the ")


@PAPERS
def test_every_yarn_of_a_tag_stands_beside_its_swatch(paper: Size) -> None:
    for kit, tag in zip(planned(SUPPER).kits, tags(paper), strict=True):
        loose = [mark for mark in tag.marks if isinstance(mark, Rectangle) and mark.fill]
        said = [mark for mark in all_leaves(tag.marks) if isinstance(mark, Words)]
        for colour in kit.plan.colours:
            fill = kit.plan.pattern.yarn(colour.yarn).colour
            (words,) = [each for each in said if plain(each.text).startswith(f"{colour.letters} {colour.yarn}")]
            (swatch,) = [each for each in loose if each.fill == fill]
            assert swatch.box.top < words.y < swatch.box.bottom + 0.5
            assert 0 < words.x - swatch.box.right < 2


def test_ten_tags_stand_on_a_sheet() -> None:
    for paper in ("letter", "a4"):
        pages = sheets(SUPPER, paper).pages["tags"]
        tags = [[mark for mark in page.marks if isinstance(mark, Group) and mark.role == "panel"] for page in pages]
        assert [len(each) for each in tags] == [10, 1]


@pytest.mark.parametrize("stem", ["grey-trap", "half-and-half", "long-sixty", "penned-ladder", "bare-thread"])
def test_tags_of_many_stripes_keep_their_letters_inside(stem: str, empty_folder: Path) -> None:
    path = empty_folder / "one.yaml"
    loom = "treadle-pair" if stem == "long-sixty" else "broad-paddle"
    path.write_text(f"title: One\nstudents:\n  - {{name: Ansel, loom: {loom}, pattern: {stem}}}\n")
    pages = own_sheets(path, "letter")["tags"]
    assert [fault for page in pages for fault in misplaced(page, printable("tags", "letter"), 9)] == []


# Shopping


def test_there_is_a_box_to_tick_for_every_yarn_to_buy_and_none_for_the_total() -> None:
    (page,) = sheets(SUPPER).pages["shopping"]
    squares = [mark.box for mark in all_leaves(page.marks) if isinstance(mark, Rectangle)]
    words = [mark for mark in all_leaves(page.marks) if isinstance(mark, Words)]
    heading = next(mark.y for mark in words if mark.text == "What to buy" and mark.size == SHEET_SIZES.heading)
    for yarn in ("blue", "white", "red"):
        (name,) = [mark for mark in words if mark.text == yarn and mark.y > heading]
        middle = name.y - cap_height(name.size) / 2
        (square,) = [box for box in squares if abs((box.top + box.bottom) / 2 - middle) < 0.1]
        assert square.right < name.x - 1
        assert square.width == square.height > 2
    assert len(squares) == 3


def test_nothing_stands_empty_where_no_package_is_known(empty_folder: Path) -> None:
    path = empty_folder / "one.yaml"
    path.write_text("title: One\nstudents:\n  - {name: Ansel, loom: small-box, pattern: wick}\n")
    said = plain(texts(own_sheets(path, "letter")["shopping"]))
    assert "left over" not in said
    assert "Nothing tells how" in said
    assert "left over" in plain(texts(sheets(SUPPER).pages["shopping"]))


# The teacher's sheet


def test_the_bars_of_many_patterns_begin_on_the_first_page(empty_folder: Path) -> None:
    """They are parted between bars, so that half a page is not left empty for want of room for all of them."""
    stems = ["grey-trap", "penned-ladder", "three-paths", "five-posts", "off-side", "wick", "half-and-half", "stair"]
    stems += ["nine", "open-ladder", "pavement"]
    path = empty_folder / "many.yaml"
    lines = [f"  - {{name: S{number}, loom: broad-paddle, pattern: {stem}}}\n" for number, stem in enumerate(stems)]
    path.write_text("title: Many\nsession: 2 h\nstudents:\n" + "".join(lines))
    first, second, *_ = own_sheets(path, "letter")["teacher"]
    assert "Does it fit?" in texts([first])
    assert 2 <= plain(texts([first])).count("min in all") < len(stems)
    assert plain(texts([first, second])).count("min in all") == len(stems)


def test_what_to_watch_for_stands_together() -> None:
    """Its first item is never alone at the foot of a page."""
    for paper in ("letter", "a4"):
        for page in sheets(SUPPER, paper).pages["teacher"]:
            said = plain(texts([page]))
            assert ("What to watch for" in said) == ("Two Rails on Small box: 13 ends" in said)
            assert ("Two Rails on Small box: 13" in said) == ("Three Paths on Middle box: 31" in said)


STEPS = ("wind", "thread", "dress", "weave")


@pytest.mark.parametrize("minutes", [(0, 7, 45, 121), (0, 16, 40, 106), (1, 1, 1, 400), (2, 2, 170, 1), (300, 1, 1, 1)])
@pytest.mark.parametrize("session", [60, 165, 400])
def test_every_step_of_every_bar_is_named(minutes: tuple[int, ...], session: int) -> None:
    """Inside its step or below it, never on the end of the session, another name or the next label."""
    bars = [Bar("one", STEPS, minutes), Bar("two", STEPS, (0, 16, 40, 106))]
    on = leaf("letter")
    box = on.printable._replace(height=0.0)
    marks: list[Mark] = []
    for picture in time_bars(bars, session, "session", on):
        box = box._replace(top=box.bottom, height=picture.height_mm)
        marks += picture.draw(box)
    page = Page(WHOLE["letter"].width_mm, WHOLE["letter"].height_mm, tuple(marks))
    assert misplaced(page, on.printable._replace(height=box.bottom - on.printable.top), SHEET_SIZES.smallest) == []
    named = [mark.text for mark in marks if isinstance(mark, Words) and mark.text in STEPS]
    assert sorted(named) == sorted(name for bar in bars for name, of in zip(STEPS, bar.minutes, strict=True) if of)
    uprights = [mark for mark in marks if isinstance(mark, Line) and mark.x1 == mark.x2 and mark.width > HAIRLINE]
    for words in (mark for mark in marks if isinstance(mark, Words) and mark.text in STEPS):
        wide = RULER.width_mm(words.text, words.face, words.size)
        for line in uprights:
            crosses = line.y1 < words.y and words.y - 2 < line.y2
            assert not (crosses and words.x - wide / 2 < line.x1 < words.x + wide / 2)
