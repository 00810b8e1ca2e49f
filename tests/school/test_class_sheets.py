"""The sheets of a class on paper, read back by pdfplumber, which did not write them. Lengths in mm."""

import json
import re
from pathlib import Path

import pytest

from cardmaker.jobs import class_making, class_planning, loading
from cardmaker.layout.transforms import shifted
from cardmaker.model.marks import Box, Dot, Face, Group, Line, Mark, Page, Rectangle, Stamp, Words
from cardmaker.model.marks import Path as Outline
from cardmaker.school.handout_sheets import HALF, WHOLE, Size
from cardmaker.wording import trouble_words
from tests.helpers.class_tools import MM, SUPPER, Said, lines, planned, printed, run, sheets
from tests.helpers.paper_tools import overlap
from tests.helpers.screen_reader_text import NOT_READ_ALOUD

pytestmark = pytest.mark.usefixtures("empty_folder")


# Handouts


@pytest.mark.parametrize(("paper", "size"), [("letter", (279.4, 215.9)), ("a4", (297.0, 210.0))])
def test_two_half_sheets_lie_on_one(paper: Size, size: tuple[float, float]) -> None:
    pages = printed(SUPPER, "handouts", paper).pages
    half = [page for page in pages if page.width > page.height]
    whole = [page for page in pages if page.width < page.height]
    assert len(half) == 5  # ten cards in usual print
    assert len(whole) == 1  # Dovie's
    assert all((page.width * MM, page.height * MM) == pytest.approx(size, abs=0.01) for page in half)
    assert (whole[0].width * MM, whole[0].height * MM) == pytest.approx(size[::-1], abs=0.01)


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_nothing_is_printed_on_the_cut_but_its_marks(paper: Size) -> None:
    """9 mm on either side of the cut are clear: the margins of the two cards; only the marks, in 8 mm of the edge."""
    for page in printed(SUPPER, "handouts", paper).pages[:5]:
        middle = page.width / 2
        near = [
            (thing["top"] * MM, thing["bottom"] * MM)
            for thing in page.chars + page.lines + page.rects + page.curves
            if thing["x0"] < middle + 8.5 / MM and thing["x1"] > middle - 8.5 / MM
        ]
        height = page.height * MM
        assert len(near) == 2
        assert all(bottom <= 8.01 or top >= height - 8.01 for top, bottom in near)


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_halves_are_halves(paper: Size) -> None:
    """5 1/2 x 8 1/2 in is half of Letter; A5 is 148 x 210 mm (ISO 216), and two leave 1 mm of A4."""
    half, whole = HALF[paper], WHOLE[paper]
    assert half.height_mm == pytest.approx(whole.width_mm)
    assert 0 <= whole.height_mm - 2 * half.width_mm <= 1


@pytest.mark.parametrize(("paper", "lefts"), [("letter", (9.0, 148.7)), ("a4", (9.25, 157.75))])
def test_each_card_stands_in_its_own_half(paper: Size, lefts: tuple[float, float]) -> None:
    """The ribbon begins 9 mm, the margin, from the left of each half; two A5 cards have 1/4 mm on either side.

    279.4 / 2 + 9 = 148.7; (297 / 2 - 148) / 2 = 0.25, and 297 / 2 + 0.25 + 9 = 157.75.
    """
    for page in sheets(SUPPER, paper).pages["handouts"][:5]:
        ribbons = [mark.box.left for mark in page.marks if isinstance(mark, Group) and mark.name == "ribbon"]
        assert ribbons == pytest.approx(lefts)


def test_the_type_of_a_handout_is_not_scaled() -> None:
    """Body 11 pt and nothing under it, as the layout says: half a page is laid out at its own size."""
    sizes = {
        round(char["size"], 2)
        for page in printed(SUPPER, "handouts").pages[:5]
        for char in page.chars
        if char["upright"]
    }
    assert min(sizes) == 11.0
    sentences = [
        char["size"]
        for page in printed(SUPPER, "handouts").pages[:1]
        for char in page.chars
        if char["text"].isalpha() and char["upright"]
    ]
    assert min(sentences) >= 11 - 1e-6  # as read back from the file


def test_each_handout_has_its_name_hand_and_loom() -> None:
    whole = "\n".join(lines(SUPPER, "handouts"))
    for kit in planned(SUPPER).students:
        assert kit.student is not None
        hand = "left" if kit.left_hand else "right"
        assert re.search(rf"Name {kit.student.name} kit {kit.number} · {hand} hand", whole)
    assert whole.count("left hand") - whole.count("For a left hand") == 2
    assert whole.count("right hand") == 7
    first = printed(SUPPER, "handouts").pages[0].extract_text()
    assert first.index("Name Ansel kit 1") < first.index("Name Bettris kit 2")
    assert first.count("13 ends · ¼ in wide · Small box · warp 3 yd (2.74 m)") == 2


def test_a_spare_handout_has_a_line_for_a_name() -> None:
    text = printed(SUPPER, "handouts").pages[4].extract_text()
    assert re.findall(r"Name Date (kit \d+)", text) == ["kit 10", "kit 11"]


def class_of(folder: Path, students: str, more: str = "") -> Path:
    path = folder / f"few-{len([*folder.iterdir()])}.yaml"  # what is printed of a path is kept
    path.write_text(f"title: Few\nteacher: Winnet Orrick\n{more}students:\n{students}", encoding="utf-8")
    return path


@pytest.mark.parametrize("large", ["yes", "no"])
@pytest.mark.parametrize("winding", ["beforehand", "in class"])
def test_winding_is_asked_for_only_where_it_is_not_done(winding: str, large: str, empty_folder: Path) -> None:
    """No tick to go back to, no *Wind*; the line to tick says where the ends come from."""
    student = f"  - {{name: Ansel, loom: small-box, pattern: two-rails, large_print: {large}}}\n"
    path = class_of(empty_folder, student, f"winding: {winding}\n")
    said = " ".join(printed(path, "handouts").pages[0].extract_text().replace("\N{NO-BREAK SPACE}", " ").split())
    asked = ("Wind 2.4 m", "start at home")
    done = ["warp 2.4 m", "take them in turn from the cross"]
    troubles = dict(trouble_words.trouble(is_fuzzy=False, brief=True, is_wound=winding == "beforehand"))
    assert ("heddle" in troubles["One end over?"]) == (winding == "beforehand")
    assert [each in said for each in asked] == [winding == "in class"] * 2
    assert winding == "in class" or "tick." not in said
    assert [each in said for each in done] == [winding == "beforehand"] * len(done)


def test_notes_about_winding_are_left_out_where_it_is_done(empty_folder: Path) -> None:
    """What the file marks so, and nothing else; the mark is never printed."""
    (empty_folder / "noted.yaml").write_text(
        "title: Noted\nyarns:\n  red: {fibre: linen, count: 20/2}\nwarp: [8 red]\n"
        "notes:\n  student:\n    - 'Winding: walk slowly.'\n    - Winding up is the best of it.\n"
    )
    said = {}
    for winding in ("beforehand", "in class"):
        student = "  - {name: Ansel, loom: small-box, pattern: noted.yaml, large_print: yes}\n"
        path = class_of(empty_folder, student, f"winding: {winding}\n")
        said[winding] = printed(path, "handouts").pages[0].extract_text()
    assert "alk slowly" not in said["beforehand"]
    assert "Winding up is the best of it." in said["beforehand"]
    assert not any("Winding:" in each for each in said.values())


def test_a_warp_in_bundles_is_taken_from_as_many_crosses(empty_folder: Path) -> None:
    yarns = "".join(f"  {yarn}: {{fibre: linen, count: 20/2}}\n" for yarn in ("white", "blue", "red", "green"))
    (empty_folder / "turns.yaml").write_text(
        f"title: Turns\nyarns:\n{yarns}warp: [{{repeat: 3, stripes: [1 white, 2 blue, 1 red, 1 green]}}]\n"
    )
    student = "  - {name: Ansel, loom: small-box, pattern: turns.yaml}\n"
    said = printed(class_of(empty_folder, student, "winding: beforehand\n"), "handouts").pages[0].extract_text()
    assert "wound: 15 ends in 4 bundles" in said
    assert "Each end comes next from its own bundle’s cross." in said
    assert "from the cross" not in said


def test_how_full_the_shuttle_is_always_has_room(empty_folder: Path) -> None:
    """With sixty ends through two heddles too, where what each shed shows has what is left."""
    student = "  - {name: Ansel, loom: treadle-pair, pattern: long-sixty}\n"
    said = printed(class_of(empty_folder, student, "winding: beforehand\n"), "handouts").pages[0].extract_text()
    assert re.search("Fill the shuttle|Shuttle: 5 fills", said.replace("\N{NO-BREAK SPACE}", " "))
    assert "Both sheds show" in said


def test_large_print_is_large() -> None:
    page = printed(SUPPER, "handouts").pages[5]
    assert "Name Dovie kit 4 · right hand" in page.extract_text()
    assert (
        min(char["size"] for char in page.chars if char["text"].isalpha() and char["upright"]) >= 13.5
    )  # 16 pt, 85 % at the least


def test_a_left_hand_s_handout_is_turned() -> None:
    text = printed(SUPPER, "handouts").pages[0].extract_text()
    assert re.search(r"count\s6\sleft\sof\s0,\sholes\sand\sslots\salike:\sa\shole", text)  # Ansel's
    assert re.search(r"count\s6\sright\sof\s0,\sholes\sand\sslots\salike:\sa\shole", text)  # Bettris's


# Tags


def test_every_kit_has_a_tag() -> None:
    text = "\n".join(page.extract_text() for page in printed(SUPPER, "tags").pages)
    assert [f"kit {number}" in text for number in range(1, 12)] == [True] * 11
    assert text.count("31 ends · 3 yd (2.74 m)") == 4
    assert text.count("Small box · first space L6, a hole") == 6
    assert text.count("Small box · first space R6, a hole") == 1
    assert text.count("Bu blue 4 Wh white 9") == 7
    assert text.count("All linen 20/2.") == 11
    assert text.count("Bu 2 Wh 9 Bu 2") == 7  # on the stripes
    assert text.count("A Yard by Supper · Saturday, 21 November") == 11
    assert text.count("At its loom: 14 packing sticks.") == 7
    assert text.count("At its loom: 12 packing sticks.") == 4


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_cut_marks_stand_outside_the_tags(paper: Size) -> None:
    page, last = sheets(SUPPER, paper).pages["tags"]
    assert len([mark for mark in last.marks if isinstance(mark, Group) and mark.role == "panel"]) == 1
    tags = [mark.box for mark in page.marks if isinstance(mark, Group) and mark.role == "panel"]
    (cuts,) = [mark for mark in page.marks if isinstance(mark, Group) and mark.role == "artefact"]
    assert len(tags) == 10
    for line in cuts.marks:
        assert isinstance(line, Line)
        box = Box(min(line.x1, line.x2), min(line.y1, line.y2), abs(line.x1 - line.x2), abs(line.y1 - line.y2))
        assert not any(overlap(box, tag, slack=-1.0) for tag in tags)
    edges = {round(box.left, 3) for box in tags} | {round(box.right, 3) for box in tags}
    assert {round(line.x1, 3) for line in cuts.marks if isinstance(line, Line) and line.x1 == line.x2} == edges


def test_a_tag_that_says_much_gets_more_room(empty_folder: Path) -> None:
    yarns = [f"colour-of-a-very-long-name-{number}" for number in range(9)]
    text = "title: Many\nyarns:\n" + "".join(f"  {name}: {{fibre: linen, count: 20/2}}\n" for name in yarns)
    (empty_folder / "many.yaml").write_text(text + "warp: [" + ", ".join(f"1 {name}" for name in yarns) + "]\n")
    path = empty_folder / "wordy.yaml"
    path.write_text("title: Wordy\nstudents:\n  - {name: Ansel, loom: small-box, pattern: many.yaml}\n")
    (page,) = sheets(path).pages["tags"]
    said = "".join(lines(path, "tags")).replace(" ", "")
    assert all(name in said for name in yarns)
    for tag in (mark for mark in page.marks if isinstance(mark, Group) and mark.role == "panel"):
        assert max(words.y for words in _words(tag.marks)) < tag.box.bottom


def _words(marks: tuple[Mark, ...]) -> list[Words]:
    found: list[Words] = []
    for mark in marks:
        if isinstance(mark, Words):
            found.append(mark)
        elif isinstance(mark, Group):
            found += _words(mark.marks)
    return found


# The teacher's sheet


def test_who_has_what() -> None:
    told = lines(SUPPER, "teacher")
    assert "1 Ansel right Small box Two Rails, T03 13 L6, a hole 5 5 far" in told
    assert "2 Bettris left Small box Two Rails, T03 13 R6, a hole 5 5 far" in told
    assert "4 Dovie right, large Small box Two Rails, T03 13 L6, a hole 5 5 far" in told
    assert "6 Fenna right, metric Small box Two Rails, T03 13 L6, a hole 5 5 far" in told
    assert "9 Isolde right Middle box Three Paths, T08 31 L15, a slot 1 1 far" in told
    assert "11 spare kit Middle box Three Paths, T08 31 L15, a slot 1 1 far" in told
    assert any(line.startswith("Who has what") and "6 × Small box, 3 × Middle box" in line for line in told)


def test_a_left_hand_s_tape_lies_where_any_other_lies(empty_folder: Path) -> None:
    """Four ends on 23 spaces, the marked one nought: a right hand says 1, 2 to the left and begins at L2, space 10, so
    that 9 are empty on the left and 10 on the right. The left hand begins at the other edge of the same tape, space 13,
    which is R1: the marked space is 12. Her handout and the teacher's sheet say the same."""
    (empty_folder / "four.yaml").write_text(
        "title: Four\nyarns:\n  red: {fibre: linen, count: 20/2}\n  blue: {fibre: linen, count: 20/2}\n"
        "warp: [3 red, 1 blue]\n"
    )
    path = empty_folder / "hands.yaml"
    path.write_text(
        "title: Hands\nstudents:\n  - {name: Ansel, loom: small-box, pattern: four.yaml}\n"
        "  - {name: Hesper, loom: small-box, pattern: four.yaml, hand: left}\n"
    )
    said = lines(path, "teacher")
    assert "1 Ansel right Small box Four 4 L2, a hole 9 10 home" in said
    assert "2 Hesper left Small box Four 4 R1, a slot 9 10 home" in said
    page = printed(path, "handouts").pages[0]
    hers = page.crop((page.width / 2, 0, page.width, page.height)).extract_text()
    assert re.search(r"count\s1\sright\sof\s0,\sholes\sand\sslots\salike:\sa\sslot", hers)
    assert re.search(r"empty:\s10\sright,\s9\sleft", hers)


def test_the_tools_are_counted() -> None:
    """11 kits: 22 keeper sticks, 11 parking sticks. 9 students: a pair of scissors between two is 5, a tape measure
    between three is 3."""
    told = lines(SUPPER, "teacher")
    assert "22 keeper sticks, two to a kit, and 22 bands for their ends (they are in the kits)" in told
    assert "11 parking sticks, one to a kit (they are in the kits)" in told
    assert "9 blunt needles or threading hooks" in told
    assert "18 pins, two to a student, for marking the first and the last space" in told
    assert "5 pairs of scissors, one between two" in told
    assert "3 tape measures, one between three" in told


def test_every_bundle_of_a_kit_wants_keepers_of_its_own(empty_folder: Path) -> None:
    """Two kits wound in order, and one of four colours by turns, which is wound as four bundles: 2 + 4 crosses, so 12
    sticks (common practice, no source)."""
    (empty_folder / "patterns").mkdir()
    yarns = "".join(f"  {yarn}: {{fibre: linen, count: 20/2}}\n" for yarn in ("white", "blue", "red", "green"))
    warp = "[{repeat: 3, stripes: [1 white, 2 blue, 1 red, 1 green]}]"
    text = f"title: By Turns\nyarns:\n{yarns}warp: {warp}\n"
    (empty_folder / "patterns" / "by-turns.yaml").write_text(text, encoding="utf-8")
    students = "".join(
        f"  - {{name: {name}, loom: small-box, pattern: {pattern}}}\n"
        for name, pattern in (("Ansel", "two-rails"), ("Bettris", "two-rails"), ("Dovie", "by-turns"))
    )
    path = empty_folder / "three.yaml"
    path.write_text(f"title: Three\nteacher: Winnet Orrick\nstudents:\n{students}", encoding="utf-8")
    assert "12 keeper sticks, two to a cross, and 12 bands for their ends" in lines(path, "teacher")


def test_the_packing_sticks_are_those_of_the_plans(capsys: Said) -> None:
    counts = {}
    for pattern, loom in (("two-rails", "small-box"), ("three-paths", "middle-box")):
        _, out, _ = run(capsys, "plan", pattern, "--loom", loom, "--warp", "3 yd", "--json")
        counts[pattern] = json.loads(out)["beam"]["sticks"]
    rails, paths = counts["two-rails"], counts["three-paths"]
    total = f"{6 * rails + 3 * paths} packing sticks"
    shares = f"6 × {rails} for Two Rails on Small box, 3 × {paths} for Three Paths on Middle box"
    assert f"{total}: {shares}" in lines(SUPPER, "teacher")


def test_a_ribbon_that_is_not_the_whole_tape_is_no_gauge(empty_folder: Path) -> None:
    """Long Sixty is 31 mm wide, and a ribbon 18 mm at most; Two Rails is there whole."""
    assert "9 gauges (the ribbon on the handout will do)" in lines(SUPPER, "teacher")
    students = "".join(
        f"  - {{name: {name}, loom: {loom}, pattern: {pattern}}}\n"
        for name, loom, pattern in (("Ansel", "small-box", "two-rails"), ("Bettris", "treadle-pair", "long-sixty"))
    )
    said = " ".join(lines(class_of(empty_folder, students), "teacher"))
    assert "2 gauges (the ribbon on the handout will do, but not for Long Sixty: use the notch of the record)" in said


def test_winding_beforehand_is_timed_for_every_kit(empty_folder: Path) -> None:
    """At 20 s an end 13 ends take 4 min 20 s, which is 5 min, and 31 ends 10 min 20 s, 11 min: 7 and 4 kits."""
    assert "Winding 11 kits beforehand: 1 h 19 min (7 × 5 min + 4 × 11 min)." in lines(SUPPER, "teacher")
    student = "  - {name: Ansel, loom: small-box, pattern: two-rails}\n"
    assert "beforehand" not in " ".join(lines(class_of(empty_folder, student, "session: 2 h\n"), "teacher"))


def test_what_to_watch_for() -> None:
    told = " ".join(lines(SUPPER, "teacher"))
    assert "Changes at the far post after 3, 11 and 23." in told
    assert "Change at the far post after 11." in told
    assert re.search("Left hands: ?Bettris and Hesper\\.", told)
    assert "The changes at 3, 11 and 23 fall at the far peg. Somebody will walk home first." in told  # the pattern's
    assert "Wind all eleven kits on Friday." in told  # the class's
    assert "The venue’s own rules come first" in told
    assert "A warp across a room is a line to trip over" in told
    assert "Put no neck, hood or chin cords on young children’s clothes" in told


def test_a_long_class_goes_over_to_more_pages(empty_folder: Path) -> None:
    text = "title: Sixty\nstudents:\n"
    text += "".join(f"  - {{name: Student {number}, loom: small-box, pattern: two-rails}}\n" for number in range(1, 61))
    path = empty_folder / "sixty.yaml"
    path.write_text(text)
    pages = printed(path, "teacher").pages
    assert len(pages) >= 3
    for number, page in enumerate(pages, start=1):
        assert page.extract_text().splitlines()[:2] == ["Sixty", f"{number} of {len(pages)}"]
    heads = [page for page in pages if "first space" in page.extract_text()]
    assert len(heads) == 2  # the head of the table stands again
    names = re.findall(r"^\d+ (Student \d+) right", "\n".join(page.extract_text() for page in pages), re.MULTILINE)
    assert names == [f"Student {number}" for number in range(1, 61)]


# Everything on paper


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("kind", ["tags", "teacher", "shopping"])
def test_every_word_lies_within_the_margins(kind: class_making.SheetKind, paper: Size) -> None:
    for page in printed(SUPPER, kind, paper).pages:
        for char in page.chars:
            assert char["x0"] * MM > 14.9
            assert char["x1"] * MM < page.width * MM - 14.9
            assert char["bottom"] * MM < page.height * MM - 14


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_no_two_words_lie_on_one_another(paper: Size) -> None:
    for kind in ("tags", "teacher", "shopping"):
        for page in printed(SUPPER, kind, paper).pages:
            found = page.extract_words(x_tolerance=1)
            for index, one_word in enumerate(found):
                for other in found[index + 1 :]:
                    apart = (
                        one_word["x1"] <= other["x0"] + 0.3
                        or other["x1"] <= one_word["x0"] + 0.3
                        or one_word["bottom"] <= other["top"] + 3.5
                        or other["bottom"] <= one_word["top"] + 3.5
                    )
                    assert apart, (one_word["text"], other["text"])


def test_every_sheet_is_a_panel_of_roles() -> None:
    for kind, pages in sheets(SUPPER).pages.items():
        for page in pages:
            assert all(isinstance(mark, Group) for mark in page.marks), kind
            assert {mark.role for mark in page.marks if isinstance(mark, Group)} <= {"panel", *NOT_READ_ALOUD}


def test_the_same_class_gives_the_same_bytes() -> None:
    plan = planned(SUPPER)
    again = class_planning.plan_class(loading.load_class(SUPPER))
    made = [class_making.class_pdf(each, class_making.class_sheets(each), ("tags",)) for each in (plan, again)]
    assert made[0] == made[1]


# Moving


def test_a_moved_page_is_the_same_page_elsewhere() -> None:
    """Every kind of mark, 10 mm to the right and 5 mm down."""
    box = Box(1, 2, 3, 4)
    marks: tuple[Mark, ...] = (
        Line(1, 2, 3, 4, 1),
        Dot(1, 2, 3),
        Rectangle(box),
        Outline((("move", 1, 2), ("curve", 1, 2, 3, 4, 5, 6), ("close",))),
        Words(1, 2, "a", Face.SANS, 10),
        Stamp((Dot(0, 0, 1),), 3, 1, 2, box),
    )
    moved_box = Box(11, 7, 3, 4)
    moved = shifted((Group("panel", "all", box, marks),), 10, 5)[0]
    assert isinstance(moved, Group)
    line, dot, rectangle, outline, words, stamp = moved.marks
    assert line == Line(11, 7, 13, 9, 1)
    assert dot == Dot(11, 7, 3)
    assert rectangle == Rectangle(moved_box)
    assert outline == Outline((("move", 11, 7), ("curve", 11, 7, 13, 9, 15, 11), ("close",)))
    assert isinstance(words, Words)
    assert (words.x, words.y) == (11, 7)
    assert stamp == Stamp((Dot(10, 5, 1),), 3, 1, 2, moved_box)
    assert moved.box == moved_box


def test_pages_are_pages() -> None:
    assert all(isinstance(page, Page) for pages in sheets(SUPPER).pages.values() for page in pages)


def test_changes_at_the_far_post_are_told_for_either_hand(empty_folder: Path) -> None:
    """3 red and 1 blue: from the left the yarn changes after 3, at the far post; from the right after 1, there too."""
    (empty_folder / "four.yaml").write_text(
        "title: Four\nyarns:\n  red: {fibre: linen, count: 20/2}\n  blue: {fibre: linen, count: 20/2}\n"
        "warp: [6 red, 3 blue]\n"
    )
    for hands, words in (
        (("right", "left"), "No change at the far post. By a left hand: change at the far post after 3."),
        (("left", "left"), "You finish at the far post. Change at the far post after 3."),
        (("right", "right"), "You finish at the far post. No change at the far post."),
    ):
        students = "".join(f"  - {{name: N{at}, loom: small-box, pattern: four.yaml, hand: {hand}}}\n"
                           for at, hand in enumerate(hands))  # fmt: skip
        path = empty_folder / f"{'-'.join(hands)}.yaml"
        path.write_text(f"title: Hands\nstudents:\n{students}")
        assert words in " ".join(lines(path, "teacher"))


def test_looms_threaded_beforehand_are_lines_to_tick(tmp_path: Path) -> None:
    """Then the warps are wound as well: neither the walk nor the board is drawn, and what each shed shows is."""
    path = tmp_path / "ready.yaml"
    students = "students:\n  - {name: Ansel, loom: small-box, pattern: two-rails}\n"
    path.write_text(f"title: Ready\nsession: 2 h\nthreading: beforehand\n{students}")
    said = printed(path, "handouts").pages[0].extract_text().replace("\N{NO-BREAK SPACE}", " ")
    assert "threaded: end 1 in L6, a hole, as you sit" in said
    assert "for end 1" not in said
    assert "the looms are threaded beforehand" in printed(path, "teacher").pages[0].extract_text()
