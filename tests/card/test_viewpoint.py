"""Every sheet that names a side says from where: as the weaver sits, or from behind the heddle.

That left and right change places for whoever looks from behind needs no source.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

import pytest

from cardmaker.card.composing import compose_card
from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import class_making, class_planning, loading
from cardmaker.model.card_layout import Paper
from cardmaker.model.marks import Box, Group, Mark, Page, Words
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.reckoning.threading.mirror import plan_as_seen
from tests.helpers.samples import part_of
from tests.helpers.screen_reader_text import text_read_aloud
from tests.helpers.shipped import LAYOUTS, PATTERNS, paper_of, plan_of, shipped_layout

RULER = TypeRuler()
VIEWS = {
    "right": Viewpoint(),
    "left": Viewpoint(left_hand=True),
    "behind": Viewpoint(from_behind=True),
    "left-behind": Viewpoint(left_hand=True, from_behind=True),
}
WITH_SIDES = [stem for stem in LAYOUTS if stem != "visitor"]  # which names no side and no space
FROM_SEAT = re.compile(r"\bas you sit\b|\b[Ss]een from your seat\b")
FROM_BEHIND = re.compile(r"\b[Ff]rom behind\b")
# what is named as the weaver sits, on a card that is seen from behind else: the shuttle, and the face of the tape
SHUTTLE = re.compile(r"weft at (?:left|right):|weft hangs")
SHUTTLE_FROM_SEAT = re.compile(r"[Bb]egin as you sit:|weft hangs, as you sit: next shed")
FACE = re.compile(r"(?<!As you sit: )(?:Warp DOWN, on top: |Both sheds show the same: )")
OTHER_LOOMS = re.compile(r"On your other looms(?!, from behind\b)")

SLOTS_AND_HOLES = """\
title: Seventeen
kind: one heddle
slots: 17
holes: 16
mark: counted as one
waste: 18 in
"""
A = """\
title: Reproducer
yarns:
  red: {fibre: linen, count: 20/2}
  white: {fibre: linen, count: 20/2}
  green: {fibre: linen, count: 20/2}
  blue: {fibre: linen, count: 20/2}
warp: [2 red, 3 white, 1 green, 9 white, 1 green, 3 white, 2 red, 1 blue]
length: {finished: 1 m}
"""


def words(marks: Iterable[Mark]) -> Iterator[Words]:
    for mark in marks:
        if isinstance(mark, Words):
            yield mark
        elif isinstance(mark, Group):
            yield from words(mark.marks)


def printed(page: Page) -> str:
    """Every word that stands on the paper, one space between any two."""
    return " ".join(" ".join(word.text for word in words(page.marks)).split())


@cache
def page(pattern: str, layout: str, paper: Paper, view: str) -> Page:
    return compose_card(plan_as_seen(plan_of(pattern), VIEWS[view]), shipped_layout(layout), paper, RULER).page


def unsaid(text: str, view: Viewpoint) -> list[str]:
    """What a card of this view does not say of the sides on it; nothing when it says all."""
    faults = []
    if view.from_behind:
        if not FROM_BEHIND.search(text):
            faults.append("not that it is seen from behind")
        if SHUTTLE.search(text) and not SHUTTLE_FROM_SEAT.search(text):
            faults.append("not that the shuttle is as she sits")
        if FACE.search(text):
            faults.append("not that the tape is as she sits")
        if OTHER_LOOMS.search(text):
            faults.append("not that the other looms are seen from behind as well")
    else:
        if not FROM_SEAT.search(text):
            faults.append("not that it is seen from the seat")
        if FROM_BEHIND.search(text):
            faults.append("that it is seen from behind")
    return faults


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("layout", WITH_SIDES)
def test_every_card_says_from_where(layout: str, view: str) -> None:
    for paper in shipped_layout(layout).papers:
        for pattern in part_of(PATTERNS, 2, f"{layout} {paper.name} {view}"):
            text = printed(page(pattern, layout, paper, view))
            assert unsaid(text, VIEWS[view]) == [], (pattern, paper.name, text)


def test_a_card_that_says_nothing_would_be_noticed() -> None:
    text = "end 1: L6, a hole weft at right: DOWN Warp DOWN, on top: 3 Re On your other looms Toy: L6, a hole, to R6"
    assert len(unsaid(text, VIEWS["right"])) == 1
    assert len(unsaid(text, VIEWS["behind"])) == 4
    assert unsaid(f"{text}, as you sit", VIEWS["right"]) == []


def test_the_other_looms_are_on_some_of_these_cards() -> None:
    """Else the test above would not have looked at them."""
    wide = shipped_layout("record").papers[1]
    assert any("On your other looms" in printed(page(pattern, "record", wide, "behind")) for pattern in PATTERNS)


@pytest.mark.parametrize("view", VIEWS)
def test_of_two_heddles_it_says_which_is_the_nearer(view: str) -> None:
    """Front and back are the loom's; behind it the back one is before one's eyes."""
    text = printed(page("long-sixty", "record", paper_of("record"), view))
    assert ("The back heddle, drawn above, is the one nearer to you." in text) == VIEWS[view].from_behind


@pytest.mark.parametrize("view", ["behind", "left-behind"])
@pytest.mark.parametrize("layout", WITH_SIDES)
def test_so_it_does_to_whoever_listens(layout: str, view: str) -> None:
    for pattern in PATTERNS:
        text = text_read_aloud(page(pattern, layout, paper_of(layout), view))
        assert FROM_BEHIND.search(text), pattern
        assert not re.search(r"The weft is [^.]+\. Weft on", text), pattern  # without a word on whose left that is
        for told in re.findall(r"(?:woven face, picks in turn|tape at life size), from ([^.:]+)", text):
            assert told == "the left edge as you sit"


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("layout", WITH_SIDES)
def test_what_is_said_stays_on_its_panel_and_off_its_neighbours(layout: str, view: str) -> None:
    """The words beside the heading of the heddle: within the panel, and over no word of the heading or the flags."""
    for paper in shipped_layout(layout).papers:
        for pattern in PATTERNS:
            for panel in page(pattern, layout, paper, view).marks:
                if isinstance(panel, Group) and panel.name in ("board", "shuttle", "face", "steps"):
                    assert_apart(panel, pattern)


def assert_apart(panel: Group, pattern: str) -> None:
    upright = [(word.text, box_of(word)) for word in words(panel.marks) if not word.turned]
    heads = [
        (text, box)
        for text, box in upright
        if FROM_SEAT.search(text) or FROM_BEHIND.search(text) or box.top < panel.box.top + 1
    ]
    for text, box in heads:
        assert box.left > panel.box.left - 0.01, (pattern, text)
        assert box.right < panel.box.right + 0.01, (pattern, text)
        for other, place in upright:
            apart = box.right <= place.left or place.right <= box.left or box.bottom <= place.top
            assert other == text or apart or place.bottom <= box.top, (pattern, text, other)


def box_of(word: Words) -> Box:
    wide, high = RULER.width_mm(word.text, word.face, word.size), word.size * 25.4 / 72 * 0.6
    left = word.x - wide * {"left": 0.0, "middle": 0.5, "right": 1.0}[word.align]
    return Box(left, word.y - high, wide, high)


# one warp that lies half a space off the middle: from behind its first space is another one, and of the other kind


def write_bench(folder: Path, *, threads_from: str = "front") -> tuple[Path, Path]:
    loom, pattern = folder / "seventeen.yaml", folder / "a.yaml"
    loom.write_text(f"{SLOTS_AND_HOLES}threads_from: {threads_from}\n")
    pattern.write_text(A)
    return pattern, loom


def plan_json(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, object]:
    assert run_command_line(["plan", *arguments, "--json"]) == 0
    told: dict[str, object] = json.loads(capsys.readouterr().out)
    return told


@pytest.mark.parametrize(
    ("options", "view", "first", "last", "empty"),
    [
        # 22 ends on 33 spaces, a slot at each edge, and the middle, 17, is a slot and is one: say 1 to 11 to the left
        # of it and thread 7 to 28. Space 7 is L11, a slot; space 28, the twelfth from 17 on, is R12, a hole.
        ([], ("front", "right"), ("L11", "slot"), ("R12", "hole"), (6, 5)),
        (["--hand", "left"], ("front", "left"), ("R12", "hole"), ("L11", "slot"), (6, 5)),
        (["--from", "behind"], ("behind", "right"), ("L12", "hole"), ("R11", "slot"), (5, 6)),
        (["--from", "behind", "--hand", "left"], ("behind", "left"), ("R11", "slot"), ("L12", "hole"), (5, 6)),
    ],
    ids=["seat", "left", "behind", "left-behind"],
)
def test_the_plan_is_told_from_there(
    options: list[str],
    view: tuple[str, str],
    first: tuple[str, str],
    last: tuple[str, str],
    empty: tuple[int, int],
    empty_folder: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    pattern, loom = write_bench(empty_folder)
    told = plan_json(capsys, str(pattern), "--loom", str(loom), *options)
    place = told["placement"]
    assert isinstance(place, dict)
    assert told["view"] == {"from": view[0], "hand": view[1]}
    assert (place["first_label"], place["first_kind"]) == first
    assert (place["last_label"], place["last_kind"]) == last
    assert (place["empty_left"], place["empty_right"]) == empty
    assert place["half_space"] == ("right" if view[0] == "front" else "left")
    run_command_line(["plan", str(pattern), "--loom", str(loom), *options])
    text = capsys.readouterr().out.replace("\N{NO-BREAK SPACE}", " ")
    assert f"end 1: {first[0]}, a {first[1]}; end 22: {last[0]}, a {last[1]}" in text
    assert ("Seen from behind the heddle." in text) == (view[0] == "behind")
    assert ("Seen from your seat." in text) == (view[0] == "front")
    # where she weaves it is the same for both sides of the heddle
    side = "RIGHT" if view[1] == "right" else "LEFT"
    assert f"Weft on the {side}, next: DOWN." in text
    assert (f"As you sit: Weft on the {side}" in text) == (view[0] == "behind")


def test_a_loom_that_is_threaded_from_behind_is_told_so_unasked(
    empty_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pattern, loom = write_bench(empty_folder, threads_from="back")
    assert plan_json(capsys, str(pattern), "--loom", str(loom))["view"] == {"from": "behind", "hand": "right"}
    asked = plan_json(capsys, str(pattern), "--loom", str(loom), "--from", "front")
    assert asked["view"] == {"from": "front", "hand": "right"}
    out = str(empty_folder / "out")
    assert run_command_line(["card", str(pattern), "--loom", str(loom), "--layout", "six-numbers", "--out", out]) == 0
    assert "threaded from behind" in capsys.readouterr().out


def test_the_first_space_of_a_small_card_says_from_where(
    empty_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """L11, a slot, and L12, a hole: both are right, each from its own side."""
    pattern, loom = write_bench(empty_folder)
    for side, wanted in (
        ("front", "as you sit, on Seventeen: L11, a slot"),
        ("behind", "from behind, on Seventeen: L12, a hole"),
    ):
        out = empty_folder / f"{side}.pdf"
        arguments = ["card", str(pattern), "--loom", str(loom), "--layout", "six-numbers", "--from", side]
        assert run_command_line([*arguments, "--out", str(out)]) == 0
        assert f"End 1, from 1 {wanted}" in text_of(out)
    capsys.readouterr()


def text_of(pdf: Path) -> str:
    import pypdfium2

    return " ".join(
        " ".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf.read_bytes())).split()
    )


# a class with a loom that is threaded from behind


@pytest.fixture
def mixed_class(empty_folder: Path) -> class_making.ClassSheets:
    pattern, loom = write_bench(empty_folder, threads_from="back")
    path = empty_folder / "mixed.yaml"
    path.write_text(
        "title: Mixed\nstudents:\n"
        f"  - {{name: Ansel, loom: {loom.name}, pattern: {pattern.name}}}\n"
        f"  - {{name: Hesper, loom: {loom.name}, pattern: {pattern.name}, hand: left}}\n"
        f"  - {{name: Dovie, loom: middle-box, pattern: {pattern.name}}}\n"
    )
    return class_making.class_sheets(class_planning.plan_class(loading.load_class(path)), quiet=True)


def test_tags_handouts_and_the_teacher_s_sheet_say_from_where(mixed_class: class_making.ClassSheets) -> None:
    tags, teacher = (" ".join(map(printed, mixed_class.pages[kind])) for kind in ("tags", "teacher"))
    assert "first space L12, a hole, from behind" in tags
    assert "first space R11, a slot, from behind" in tags
    assert re.search(r"first space L11, a \w+, as you sit", tags)
    assert "L12, a hole, from behind 5 6" in teacher
    assert "R11, a slot, from behind 5 6" in teacher
    assert re.search(r"L11, a \w+ \d+ \d+", teacher)
    assert "Left and right are named as the student sits; from behind where it says so." in teacher
    assert "Reproducer on Seventeen, from behind:" in teacher
    (both,) = mixed_class.pages["handouts"][:1]
    assert "End 1: say 1 on the mark and count to 12 left, holes and slots alike: a hole." in printed(both).replace(
        "\xa0", " "
    )
    assert len(FROM_BEHIND.findall(printed(both))) >= 2
