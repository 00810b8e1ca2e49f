"""Front and back of a card lie on one leaf: in a duplex binder, of a card by itself, and two to a sheet of a class."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import Any, Final

import pdfplumber
import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs.binder_making import BinderRequest, make_binder
from cardmaker.jobs.leaf_lists import leaf_list_in
from tests.helpers.shelves import differences, printed_leaves, worked_through
from tests.helpers.shipped import pattern_file, shipped_layout, shipped_pattern

MM: Final = 25.4 / 72
MARGIN, BINDING = 12.0, 25.0  # mm, of a record
SHEETS: Final = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
TAPES: Final = ("nine", "off-side", "two-rails")
CLASS: Final = """title: An hour
students:
"""
pytestmark = pytest.mark.usefixtures("empty_folder")


def head(page: Any) -> tuple[str, str]:
    """The first line of a page: the name, and what stands at its right end."""
    words = page.extract_words(extra_attrs=["size"])
    if not any(word["top"] * MM < 25 for word in words):
        return "", ""
    size = max(word["size"] for word in words if word["top"] * MM < 25)
    name = [word for word in words if word["size"] == size and word["top"] * MM < 25]
    line = [word["text"] for word in words if abs(word["bottom"] - name[0]["bottom"]) < size / 2 and word not in name]
    return " ".join(word["text"] for word in name), " ".join(line)


def sides_of_text(page: Any) -> tuple[float, float]:
    """How far the words of a page keep from its left and right edge, in mm, the page's number left aside."""
    words = [word for word in page.extract_words() if word["bottom"] < page.height - MARGIN / MM + 3]
    return min(word["x0"] for word in words) * MM, float(page.width - max(word["x1"] for word in words)) * MM


@pytest.mark.parametrize("paper", list(SHEETS))
@pytest.mark.parametrize("count", [1, 3])
def test_a_leaf_of_a_duplex_binder_is_a_card_with_its_back(paper: str, count: int) -> None:
    """Pages 1 and 2 are one leaf, 3 and 4 the next; the binding is left in front and right behind."""
    names = TAPES[:count]
    made = make_binder(BinderRequest(names, layout="record", paper=paper, duplex=True, quiet=True))
    with pdfplumber.open(BytesIO(made.pdf)) as pdf:
        assert len(pdf.pages) % 2 == 0
        assert {(round(page.width * MM, 1), round(page.height * MM, 1)) for page in pdf.pages} == {SHEETS[paper]}
        heads = [head(page) for page in pdf.pages]
        for pattern in map(shipped_pattern, names):
            number = f"{pattern.code} · version {pattern.version} · {pattern.date}"
            at = heads.index((pattern.title, number))
            assert at % 2 == 0, "a front is a right-hand page"
            front, back = pdf.pages[at : at + 2]
            assert head(front)[0] == head(back)[0] == pattern.title
            assert head(back)[1] == f"{pattern.code} · version {pattern.version} · back"
            assert sides_of_text(front)[0] >= BINDING - 0.5
            left, right = sides_of_text(back)
            assert left == pytest.approx(MARGIN, abs=0.6)
            assert right >= BINDING - 0.5


@pytest.mark.parametrize(("layout", "paper"), [("record", "letter"), ("record", "a4"), ("handout-large", "a4")])
@pytest.mark.parametrize("stem", TAPES[:2])
def test_a_card_with_its_back_is_one_sheet(layout: str, paper: str, stem: str, tmp_path: Path) -> None:
    out = tmp_path / "card.pdf"
    asked = ["card", stem, "--layout", layout, "--paper", paper, "--back", "--out", str(out), "--quiet"]
    assert run_command_line(asked) == 0
    with pdfplumber.open(out) as pdf:
        front, back = pdf.pages
        assert (front.width, front.height) == (back.width, back.height)
        assert head(front)[0] == head(back)[0] == shipped_pattern(stem).title
        assert head(back)[1].endswith("back")
        bound = shipped_layout(layout).binding_side != "none"
        assert sides_of_text(back)[1] >= (BINDING if bound else MARGIN) - 0.5


def test_a_hole_in_the_corner_goes_through_nothing_on_the_other_side(tmp_path: Path) -> None:
    """It is right in front, so left behind: there the name begins farther in."""
    out = tmp_path / "card.pdf"
    assert run_command_line(["card", "three-paths", "--layout", "field", "--back", "--out", str(out), "--quiet"]) == 0
    of = shipped_layout("field")
    with pdfplumber.open(out) as pdf:
        back = pdf.pages[1]
        words = [word for word in back.extract_words() if word["top"] * MM < of.margin_mm + 4]
        assert min(word["x0"] for word in words) * MM >= of.margin_mm + 4
        assert not [rect for rect in back.rects if rect["x0"] * MM < of.margin_mm + 3 and rect["top"] * MM < 9]


@pytest.mark.parametrize("paper", list(SHEETS))
@pytest.mark.parametrize("count", [1, 4])
def test_the_backs_of_a_class_lie_behind_their_handouts(paper: str, count: int, tmp_path: Path) -> None:
    """The sheet lies on its long side and is turned over that: what is left in front is left behind it, upright."""
    students = [(f"Student {letter}", TAPES[at % 3]) for at, letter in enumerate("ABCD"[:count])]
    rows = [f"  - {{name: {name}, pattern: {tape}, loom: middle-box}}" for name, tape in students]
    file = tmp_path / "hour.yaml"
    file.write_text(CLASS + "\n".join(rows) + "\n", "utf-8")
    out = tmp_path / "out"
    assert run_command_line(["class", str(file), "--backs", "--paper", paper, "--out", str(out), "--quiet"]) == 0
    with pdfplumber.open(out / "hour-handouts.pdf") as pdf:
        assert len(pdf.pages) == 2 * -(-count // 2)
        for sheet in range(len(pdf.pages) // 2):
            front, back = pdf.pages[2 * sheet : 2 * sheet + 2]
            assert (round(front.height * MM, 1), round(front.width * MM, 1)) == SHEETS[paper]
            assert (front.width, front.height) == (back.width, back.height)
            for place in (0, 1):
                here, behind = (half_of(page, place) for page in (front, back))
                if 2 * sheet + place == count:
                    assert [*here.extract_words(), *behind.extract_words()] == []
                    continue
                name, tape = students[2 * sheet + place]
                assert head(here)[0] == head(behind)[0] == shipped_pattern(tape).title
                assert name in here.extract_text()
                assert head(behind)[1].endswith("back")
            names = [char for page in (front, back) for char in page.chars if char["size"] > 18]
            assert names
            assert all(char["upright"] and char["matrix"][0] > 0 for char in names)


def half_of(page: Any, place: int) -> Any:
    """The left half of a sheet (0) or the right one (1)."""
    return page.crop((page.width / 2 * place, 0, page.width / 2 * (place + 1), page.height))


# A binder that grows


def test_a_leaf_whose_back_alone_changed_is_printed_anew() -> None:
    """A remark in its file is in the code, which stands behind; the front is as it was, and keeps its number."""
    own = Path("own")
    own.mkdir()
    for stem in TAPES:
        (own / f"{stem}.yaml").write_bytes(pattern_file(stem).read_bytes())
    asked: dict[str, Any] = {"layout": "record", "duplex": True, "quiet": True}
    old = make_binder(BinderRequest(("own",), **asked))
    Path("old.pdf").write_bytes(old.pdf)
    with (own / "off-side.yaml").open("a", encoding="utf-8") as file:
        file.write("# seen by nobody but whoever opens the file\n")
    grown = make_binder(BinderRequest(("own",), since=Path("old.pdf"), **asked))
    Path("grown.pdf").write_bytes(grown.pdf)
    (before,), (after,) = (
        [leaf for leaf in leaf_list_in(Path(name)).leaves if leaf.stem == "off-side"]
        for name in ("old.pdf", "grown.pdf")
    )
    assert before.labels == after.labels
    assert before.prints[0] == after.prints[0]
    assert before.prints[1] != after.prints[1]
    printed = printed_leaves(grown.pdf, duplex=True)
    assert [leaf.label for leaf in printed.leaves] == ["/".join(after.labels)]
    whole = printed_leaves(make_binder(BinderRequest(("own",), **asked)).pdf, duplex=True).leaves
    shelf = printed_leaves(old.pdf, duplex=True).leaves
    assert differences(shelf, whole) != []
    assert differences(worked_through(shelf, printed), whole) == []


def test_a_binder_of_one_side_does_not_print_what_only_a_back_would_show() -> None:
    own = Path("nine.yaml")
    own.write_bytes(pattern_file("nine").read_bytes())
    asked: dict[str, Any] = {"layout": "record", "quiet": True}
    Path("old.pdf").write_bytes(make_binder(BinderRequest((str(own),), **asked)).pdf)
    with own.open("a", encoding="utf-8") as file:
        file.write("# a remark\n")
    assert make_binder(BinderRequest((str(own),), since=Path("old.pdf"), **asked)).pdf == b""
