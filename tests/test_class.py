"""A class: its kits, its shopping to the gram, its sheets on paper, and what is said when something is wrong.

Figures are worked by hand or recomputed from ``plan --json``; pages are read back by pdfplumber, which did not write
them. Lengths on paper in mm.
"""

from __future__ import annotations

import json
import re
from fractions import Fraction
from functools import cache
from io import BytesIO
from math import ceil
from pathlib import Path
from typing import Any, Final

import pdfplumber
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker import classroom, looking, workshop
from cardmaker.cli import main
from cardmaker.composing.school.handouts import HALF, WHOLE, Size
from cardmaker.composing.shifting import shifted
from cardmaker.geometry import Box
from cardmaker.nouns.marks import NOT_TOLD, Dot, Face, Group, Line, Mark, Page, Rectangle, Stamp, Words
from cardmaker.nouns.marks import Path as Outline
from cardmaker.nouns.pattern import Package, Yarn
from cardmaker.nouns.plan import Plan
from cardmaker.nouns.school_class import ClassPlan, Purchase
from cardmaker.problems import ProblemsFound
from cardmaker.reckoning.class_time import kit_time
from cardmaker.reckoning.shopping import is_same_yarn, shopping

ROOT: Final = Path(__file__).parent.parent
SUPPER: Final = ROOT / "layouts" / "classes" / "a-yard-by-supper.yaml"
ELEVEN: Final = ROOT / "tests" / "cases" / "classes" / "eleven-of-three-paths.yaml"
MM: Final = 25.4 / 72
YARD: Final = Fraction("914.4")

Said = pytest.CaptureFixture[str]


@pytest.fixture(autouse=True)
def empty_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(capsys: Said, *arguments: str) -> tuple[int, str, str]:
    status = main(arguments)
    out, err = capsys.readouterr()
    return status, out, err


@cache
def planned(path: Path) -> ClassPlan:
    return classroom.plan_class(classroom.load_class(path))


@cache
def sheets(path: Path, paper: Size | None = None) -> classroom.ClassSheets:
    return classroom.class_sheets(planned(path), classroom.Wishes(paper))


@cache
def printed(path: Path, kind: classroom.SheetKind, paper: Size | None = None) -> Any:
    return pdfplumber.open(BytesIO(classroom.painted(planned(path), sheets(path, paper), (kind,))))


def lines(path: Path, kind: classroom.SheetKind) -> list[str]:
    return [line for page in printed(path, kind).pages for line in page.extract_text().splitlines()]


def bought(path: Path) -> tuple[Purchase, ...]:
    plan = planned(path)
    own = plan.school_class
    return shopping([kit.plan for kit in plan.kits], own.extra, own.spare_ends, own.packages)


# Kits


def test_the_demonstration_has_nine_places_and_two_spares() -> None:
    plan = planned(SUPPER)
    assert [kit.number for kit in plan.kits] == list(range(1, 12))
    assert (len(plan.students), len(plan.spares)) == (9, 2)
    held = [(kit.plan.pattern.code, kit.plan.loom.title) for kit in plan.students]
    assert held == [("T03", "Small box")] * 6 + [("T08", "Middle box")] * 3
    assert {kit.plan.lengths.wind_mm for kit in plan.kits} == {3 * YARD}


def test_one_pattern_on_one_loom_is_reckoned_once() -> None:
    assert len(planned(SUPPER).plans) == 2


# Shopping


def test_shopping_to_the_gram() -> None:
    """Nine students and two spares, 3 yd, 5 % extra, no spare ends; linen 20/2 has 300 * 20 / 2 = 3,000 yd to the pound
    and a pound 453.59237 g (ASTM D2260, table 1).

    red and blue: 6 ends * 3 yd * 11 * 1.05 = 207.9 yd = 190.1 m = 31.43 g
    white: 19 ends * 3 yd * 11 * 1.05 = 658.35 yd = 601.995 m = 99.54 g
    """
    found = {each.yarn.name: each for each in bought(ELEVEN)}
    assert found["red"].warp.length_mm == found["blue"].warp.length_mm == Fraction("207.9") * YARD
    assert found["white"].warp.length_mm == Fraction("658.35") * YARD
    assert found["white"].warp.grams == Fraction("658.35") / 3000 * Fraction("453.59237")
    table = [line for line in lines(ELEVEN, "shopping") if re.search(r"(^| )(warp|weft) \d+ \d+ \d+$", line)]
    assert table[0] == "red linen 20/2, Brick warp 208 191 32"
    assert table[1].startswith("weft ")
    assert table[2] == "white linen 20/2, Bleached 1 warp 659 602 100"
    assert table[3] == "blue linen 20/2, Tide Blue warp 208 191 32"
    assert len(table) == 4  # the weft, red as the edges, is a line of its own


def test_metres_come_first_by_one_switch(capsys: Said) -> None:
    assert run(capsys, "class", str(ELEVEN), "--units", "metric")[0] == 0
    with pdfplumber.open("out/eleven-of-three-paths-shopping.pdf") as pdf:
        text = pdf.pages[0].extract_text()
    assert "red linen 20/2, Brick warp 191 208 32" in text
    assert "white linen 20/2, Bleached 1 warp 602 659 100" in text


def test_multiplied_first_and_rounded_once() -> None:
    """Rounded for each kit, red would be 19 yd * 11 = 209 yd; rounded before the 5 %, 198 * 1.05 = 207.9 all the same,
    but from whole yards of each kit's 18.9: 209. The sheet says 208."""
    assert "208" in next(line for line in lines(ELEVEN, "shopping") if line.startswith("red linen"))
    assert not any("209" in line for line in lines(ELEVEN, "shopping"))


def test_the_sum_is_that_of_the_students_own_plans(capsys: Said) -> None:
    """Every kit by itself through ``plan --json``, added up by the name of the yarn, and 5 % more.

    What is printed there is rounded to a millimetre and a tenth of a gram, so eleven kits may differ by half of that
    each.
    """
    kits = [("two-rails", "small-box")] * 7 + [("three-paths", "middle-box")] * 4
    sums: dict[str, list[float]] = {}
    for pattern, loom in kits:
        _, out, _ = run(capsys, "plan", pattern, "--loom", loom, "--warp", "3 yd", "--json")
        for each in json.loads(out)["yarn"]:
            so_far = sums.setdefault(each["yarn"], [0.0, 0.0, 0.0])
            for index, key in enumerate(("warp_m", "weft_m", "grams")):
                so_far[index] += each[key] * 1.05
    found = {each.yarn.name: each for each in bought(SUPPER)}
    assert found.keys() == sums.keys()
    for name, (warp, weft, grams) in sums.items():
        assert float(found[name].warp.length_mm) / 1000 == pytest.approx(warp, abs=0.006)
        assert float(found[name].weft.length_mm) / 1000 == pytest.approx(weft, abs=0.006)
        assert float(found[name].total.grams or 0) == pytest.approx(grams, abs=0.6)


def test_a_kit_more_or_less_changes_the_sum() -> None:
    """That the check above can fail."""
    plans = [kit.plan for kit in planned(SUPPER).kits]
    assert shopping(plans[1:])[0].warp.length_mm < shopping(plans)[0].warp.length_mm


def test_the_demonstration_s_warp_by_hand() -> None:
    """7 kits of T03: (4 + 1) blue and (9 + 1) white; 4 kits of T08: (6 + 1) red and blue, (19 + 1) white; each 3 yd.

    blue (7 * 5 + 4 * 7) * 3 * 1.05 = 198.45; white (7 * 10 + 4 * 20) * 3 * 1.05 = 472.5; red 4 * 7 * 3 * 1.05 = 88.2
    """
    found = {each.yarn.name: each.warp.length_mm / YARD for each in bought(SUPPER)}
    assert found == {"blue": Fraction("198.45"), "white": Fraction("472.5"), "red": Fraction("88.2")}
    text = lines(SUPPER, "shopping")
    assert "blue linen 20/2, Tide Blue warp 199 182 31" in text
    assert "white linen 20/2, Bleached 1 warp 473 433 72" in text
    assert "red linen 20/2, Brick warp 89 81 14" in text


def test_packages_left_over_and_cost() -> None:
    """One of blue at $7.40, two of white at $6.80, two of red at $4.10: 7.40 + 13.60 + 8.20 = 29.20.

    50 g of linen 20/2 are 50 / 453.59237 * 3000 = 330.69 yd, so white's 472.5 need two and leave 188.89.
    """
    found = {each.yarn.name: each for each in bought(SUPPER)}
    white = found["white"].packages
    assert white is not None
    assert white.count == 2
    assert white.left_mm is not None
    assert float(white.left_mm / YARD) == pytest.approx(2 * 50 / 453.59237 * 3000 - 472.5)
    red = found["red"].packages
    assert red is not None
    assert (red.count, red.left_mm) == (2, 300_000 - found["red"].total.length_mm)
    text = lines(SUPPER, "shopping")
    assert any(re.fullmatch(r"white 473 433 72 2 50 g 188 yd \$6\.80 \$13\.60", line) for line in text)
    assert "Total $29.20" in text


def one(pattern: str, **packages: str) -> tuple[Purchase, ...]:
    plan = plan_of(pattern)
    told = {name: Package(None, Fraction(50), price) for name, price in packages.items()}
    return shopping([plan], packages=told)


@cache
def plan_of(pattern: str) -> Plan:
    text = {
        "red and white": "  red: {fibre: linen, count: 20/2, colour: '#9C2F2B'}\n"
        "  white: {fibre: linen, count: 20/2, colour: '#F4F0E4'}\nwarp: [3 red, 5 white]\nweft: red",
        "crimson": "  crimson: {fibre: linen, count: 20/2, colour: '#9C2F2B', shade: Brick}\nwarp: [4 crimson]",
        "cotton red": "  red: {fibre: cotton, count: 20/2, colour: '#9C2F2B'}\nwarp: [4 red]",
        "other red": "  red: {fibre: linen, count: 20/2, colour: '#9C2F2C'}\nwarp: [4 red]",
    }[pattern]
    from cardmaker.reading.pattern_file import parse_pattern

    made = parse_pattern(f"title: {pattern}\nyarns:\n{text}\n".encode(), "made.yaml", "made")
    return workshop.plan_for(made, workshop.make_bench("small-box", Fraction(3000)))


def test_one_yarn_under_two_names_is_one_line() -> None:
    both = shopping([plan_of("red and white"), plan_of("crimson")])
    assert [each.yarn.name for each in both] == ["red", "white"]
    assert both[0].yarn.shade == "Brick"
    # 3 + 1 and 4 + 1 ends of 3 m
    assert both[0].warp.length_mm == 9 * 3000


@pytest.mark.parametrize("other", ["cotton red", "other red"])
def test_two_yarns_of_one_name_are_told_apart(other: str) -> None:
    found = shopping([plan_of("red and white"), plan_of(other)])
    assert [(each.yarn.name, each.told_apart) for each in found] == [("red", True), ("white", False), ("red", True)]


def test_what_makes_two_yarns_one() -> None:
    red = Yarn("red", "linen", "20/2", colour="#9c2f2b")
    assert is_same_yarn(red, Yarn("crimson", "linen", "20/2", colour="#9c2f2b", shade="Brick"))
    assert not is_same_yarn(
        Yarn("red", "linen", "20/2", colour="#9c2f2b", shade="Rust"),
        Yarn("red", "linen", "20/2", colour="#9c2f2b", shade="Brick"),
    )
    assert not is_same_yarn(red, Yarn("red", "linen", "16/2", colour="#9c2f2b"))
    assert not is_same_yarn(Yarn("red", "linen", "20/2"), Yarn("blue", "linen", "20/2"))
    assert is_same_yarn(Yarn("red", "linen", "20/2"), Yarn("red", "linen", "20/2"))


def test_a_package_is_found_under_any_name_of_its_yarn() -> None:
    told = {"crimson": Package(Fraction(100_000), None, "6 crowns")}
    red, _ = shopping([plan_of("red and white"), plan_of("crimson")], packages=told)
    assert red.packages is not None
    assert str(red.packages.cost) == "6 crowns"


def test_a_price_that_is_none_costs_nothing_known() -> None:
    red, white = one("red and white", red="ask Jory", white="6 crowns")
    assert red.packages is not None
    assert red.packages.cost is None
    assert white.packages is not None
    assert str(white.packages.cost) == "6 crowns"


@given(st.fractions(1, 10**7), st.fractions(1, 10**6))
def test_packages_are_enough_and_never_one_too_many(spare_mm: Fraction, holds: Fraction) -> None:
    (found, *_) = shopping([plan_of("red and white")], extra=spare_mm / 10**7, packages={"red": Package(holds)})
    packages = found.packages
    assert packages is not None
    assert packages.count * holds >= found.total.length_mm
    assert (packages.count - 1) * holds < found.total.length_mm


def test_several_currencies_are_never_added(empty_folder: Path) -> None:
    text = SUPPER.read_text("utf-8").replace("price: $6.80", "price: 6 crowns")
    text = text.replace("red:   {length: 150 m, price: $4.10}", "red:   {length: 150 m}")
    path = empty_folder / "mixed.yaml"
    path.write_text(text, "utf-8")
    told = lines(path, "shopping")
    assert [line for line in told if line.startswith("Total")] == ["Total $7.40", "Total 12 crowns"]
    assert "Different currencies are not added together." in told
    assert "Without a price, and not in the total: red." in told


# Time


def test_who_is_not_done_and_which_warp_would_be() -> None:
    """Two Rails at the pace of the small box: 13 ends * 30 s = 6.5 min, dressing 45 min; the weaving at 10 picks a
    minute. What fits: 165 - 6.5 - 45 = 113.5 min, 1135 picks, at 16 to the inch 70.9 in = 180 cm."""
    kit = planned(SUPPER).kits[0]
    assert planned(SUPPER).school_class.session_minutes == 165
    time = kit_time(kit.plan, Fraction(165), wound_beforehand=True)
    assert time is not None
    assert time.steps[:3] == (0, 7, 45)
    assert time.weave == ceil(Fraction(kit.plan.weft.picks, 10))
    assert not time.fits
    assert float(time.tape_mm) == pytest.approx(1135 / 16 * 25.4)
    assert time.warp_mm is not None
    assert time.warp_mm < 3 * YARD
    told = " ".join(lines(SUPPER, "teacher"))
    assert "Ansel, Bettris, Corvin, Dovie, Emlyn and Fenna: not done, by 8 min. About 71 in (180 cm) gets woven" in told
    assert "a warp of 2 ¾ yd (2.51 m) would just be woven off" in told
    assert "Garrick, Hesper and Isolde: done with 3 min to spare." in told


def test_a_warp_that_is_said_to_fit_fits() -> None:
    """The warp of the sentence, reckoned again as the class's own, is done in the session."""
    pattern = workshop.load_pattern(ROOT / "patterns" / "two-rails.yaml")
    plan = workshop.plan_for(pattern, workshop.make_bench("small-box", Fraction(11, 4) * YARD))
    time = kit_time(plan, Fraction(165), wound_beforehand=True)
    assert time is not None
    assert time.needed <= 166  # every step is rounded up to a whole minute


def test_winding_takes_time_when_it_is_done_in_class() -> None:
    plan = planned(SUPPER).kits[0].plan
    time = kit_time(plan, Fraction(165))
    assert time is not None
    assert time.wind == 5  # 13 ends * 20 s = 4 min 20 s


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
    """10 mm on either side of the cut are clear: the margins of the two cards; only the marks, in 8 mm of the edge."""
    for page in printed(SUPPER, "handouts", paper).pages[:5]:
        middle = page.width / 2
        near = [
            (thing["top"] * MM, thing["bottom"] * MM)
            for thing in page.chars + page.lines + page.rects + page.curves
            if thing["x0"] < middle + 9.5 / MM and thing["x1"] > middle - 9.5 / MM
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


@pytest.mark.parametrize(("paper", "lefts"), [("letter", (20.0, 159.7)), ("a4", (20.25, 168.75))])
def test_each_card_stands_in_its_own_half(paper: Size, lefts: tuple[float, float]) -> None:
    """The ribbon begins 20 mm, the binding side, from the left of each half; two A5 cards have 1/4 mm on either side.

    279.4 / 2 + 20 = 159.7; (297 / 2 - 148) / 2 = 0.25, and 297 / 2 + 0.25 + 20 = 168.75.
    """
    for page in sheets(SUPPER, paper).pages["handouts"][:5]:
        ribbons = [mark.box.left for mark in page.marks if isinstance(mark, Group) and mark.name == "ribbon"]
        assert ribbons == pytest.approx(lefts)


def test_the_type_of_a_handout_is_not_scaled() -> None:
    """Body 12 pt and nothing under 11, as the layout says: half a page is laid out at its own size."""
    sizes = {round(char["size"], 2) for page in printed(SUPPER, "handouts").pages[:5] for char in page.chars}
    assert min(sizes) >= 9  # numbers of the scale and the heddle
    assert {11.0, 12.0} & sizes
    sentences = [
        char["size"] for page in printed(SUPPER, "handouts").pages[:1] for char in page.chars if char["text"].isalpha()
    ]
    assert min(sentences) >= 9


def test_each_handout_has_its_name_hand_and_loom() -> None:
    whole = "\n".join(lines(SUPPER, "handouts"))
    for kit in planned(SUPPER).students:
        assert kit.student is not None
        assert re.search(rf"Name {kit.student.name}\b", whole)
    assert whole.count("left hand") - whole.count("For a left hand") == 2
    assert whole.count("right hand") == 7
    first = printed(SUPPER, "handouts").pages[0].extract_text()
    assert "Name Ansel right hand Name Bettris left hand" in first
    assert first.count("13 ends · Small box") == 2


def test_a_spare_handout_has_a_line_for_a_name() -> None:
    text = printed(SUPPER, "handouts").pages[4].extract_text()
    assert "Name Date Name Date" in text


def test_large_print_is_large() -> None:
    page = printed(SUPPER, "handouts").pages[5]
    assert "Name Dovie right hand" in page.extract_text()
    assert (
        min(char["size"] for char in page.chars if char["text"].isalpha() and char["upright"]) >= 13.5
    )  # 16 pt, 85 % at the least


def test_a_left_hand_s_handout_is_turned() -> None:
    text = printed(SUPPER, "handouts").pages[0].extract_text()
    assert "end 1: L6, a hole" in text  # Ansel's
    assert "end 1: R6, a hole" in text  # Bettris's


# Tags


def test_every_kit_has_a_tag() -> None:
    (page,) = printed(SUPPER, "tags").pages
    text = page.extract_text()
    assert [f"kit {number}" in text for number in range(1, 12)] == [True] * 11
    assert text.count("31 ends · 3 yd (2.74 m)") == 4
    assert text.count("Small box · first space L6, a hole") == 6
    assert text.count("Small box · first space R6, a hole") == 1
    assert text.count("Bu blue 4, Wh white 9. All linen 20/2.") == 7
    assert text.count("A Yard by Supper · Saturday, 21 November") == 11


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_cut_marks_stand_outside_the_tags(paper: Size) -> None:
    (page,) = sheets(SUPPER, paper).pages["tags"]
    tags = [mark.box for mark in page.marks if isinstance(mark, Group) and mark.role == "panel"]
    (cuts,) = [mark for mark in page.marks if isinstance(mark, Group) and mark.role == "artefact"]
    assert len(tags) == 11
    for line in cuts.marks:
        assert isinstance(line, Line)
        box = Box(min(line.x1, line.x2), min(line.y1, line.y2), abs(line.x1 - line.x2), abs(line.y1 - line.y2))
        assert not any(box.overlaps(tag, slack=-1.0) for tag in tags)
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
    assert "end 1: R1, a slot" in hers
    assert re.search(r"10 empty\s+right,\s+9 empty\s+left", hers)


def test_the_tools_are_counted() -> None:
    """11 kits: 22 keeper sticks, 11 parking sticks. 9 students: a pair of scissors between two is 5, a tape measure
    between three is 3."""
    told = lines(SUPPER, "teacher")
    assert "22 keeper sticks, two to a kit, and 22 bands for their ends" in told
    assert "11 parking sticks, one to a kit" in told
    assert "9 blunt needles or threading hooks" in told
    assert "5 pairs of scissors, one between two" in told
    assert "3 tape measures, one between three" in told


def test_the_packing_sticks_are_those_of_the_plans(capsys: Said) -> None:
    counts = {}
    for pattern, loom in (("two-rails", "small-box"), ("three-paths", "middle-box")):
        _, out, _ = run(capsys, "plan", pattern, "--loom", loom, "--warp", "3 yd", "--json")
        counts[pattern] = json.loads(out)["beam"]["sticks"]
    wanted = 6 * counts["two-rails"] + 3 * counts["three-paths"]
    assert f"{wanted} packing sticks, as the beams and warps of all students need them" in lines(SUPPER, "teacher")


def test_what_to_watch_for() -> None:
    told = " ".join(lines(SUPPER, "teacher"))
    assert "Changes at the far peg after 3, 11 and 23." in told
    assert "Change at the far peg after 11." in told
    assert re.search("Left hands: ?Bettris and Hesper\\.", told)
    assert "The changes at 3, 11 and 23 fall at the far peg. Somebody will walk home first." in told  # the pattern's
    assert "Wind all eleven kits on Friday." in told  # the class's
    assert "The venue’s own rules come first" in told
    assert "A warp across a room is a line to trip over" in told
    assert "No neck, hood or chin cords on young children’s clothes" in told


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
def test_every_word_lies_within_the_margins(kind: classroom.SheetKind, paper: Size) -> None:
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
            assert {mark.role for mark in page.marks if isinstance(mark, Group)} <= {"panel", *NOT_TOLD}


def test_the_same_class_gives_the_same_bytes() -> None:
    plan = planned(SUPPER)
    again = classroom.plan_class(classroom.load_class(SUPPER))
    made = [
        classroom.painted(each, classroom.class_sheets(each, classroom.Wishes()), ("tags",)) for each in (plan, again)
    ]
    assert made[0] == made[1]


# The command


def test_a_file_for_each_kind_of_sheet(capsys: Said, empty_folder: Path) -> None:
    status, out, err = run(capsys, "class", "a-yard-by-supper", "--out", "supper")
    assert (status, err) == (0, "")
    assert [line for line in out.splitlines() if not line.startswith(" ")] == [
        "supper/a-yard-by-supper-handouts.pdf  (6 pages)",
        "supper/a-yard-by-supper-tags.pdf  (1 page)",
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
        assert len(pdf.pages) == 6 + 1 + 2 + 1
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
    return [str(problem).removeprefix(f"{path}:") for problem in looking.check(path)]


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
        "6:3: packages.bleu: no pattern of this class has a yarn 'bleu'. Did you mean 'blue'?"
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
    problems = [str(problem) for problem in looking.check(path)]
    assert len(problems) == 1
    assert problems[0].startswith("odd.yaml:5:")


def test_another_kind_of_file_is_told_as_such(capsys: Said) -> None:
    status, _, err = run(capsys, "class", str(ROOT / "patterns" / "two-rails.yaml"))
    assert status == 1
    assert err.endswith("This is a pattern file. A class file is wanted here.\n")
    status, _, err = run(capsys, "card", str(SUPPER))
    assert status == 1
    assert err.endswith("This is a class file. A pattern file is wanted here.\n")


def test_a_name_that_the_type_lacks_is_told_at_its_student(empty_folder: Path) -> None:
    path = empty_folder / "wrong.yaml"
    text = "title: Wrong\nstudents:\n  - {name: Ansel, loom: small-box, pattern: two-rails}\n"
    path.write_text(text + "  - {name: 北, loom: small-box, pattern: two-rails}\n", encoding="utf-8")
    plan = classroom.plan_class(classroom.load_class(path))
    with pytest.raises(ProblemsFound, match=r"wrong\.yaml:4:6: students item 2\.name: .*typeface has no '北'"):
        classroom.painted(plan, classroom.class_sheets(plan, classroom.Wishes()), ("handouts",))


def test_classes_are_listed(capsys: Said) -> None:
    _, out, _ = run(capsys, "list")
    assert "\nclasses\n  a-yard-by-supper   A Yard by Supper, 9 students, 2 spare kits\n" in out


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
