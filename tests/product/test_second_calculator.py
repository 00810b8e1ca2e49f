"""A second calculator, written from the manual alone, against the program: every figure of the plan, and of the paper.

The figures are those of ``tests/helpers/second_calculator.py``, the files those of
``tests/helpers/second_generator.py``, what may be printed for them is in ``tests/helpers/second_print.py``.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final
from unicodedata import normalize

import pytest

from tests.helpers.places import ROOT
from tests.helpers.second_answers import both, differences, folder_to_work_in, printed, run, typed
from tests.helpers.second_calculator import read_tree, second_plan
from tests.helpers.second_generator import Combination, combination
from tests.helpers.second_print import faults
from tests.helpers.second_print_numbers import card_of
from tests.helpers.second_sizes import Refused
from tests.helpers.shipped import LOOM_FILES, PATTERN_FILES

COMBINATIONS: Final = 240
HALF_A_DIGIT: Final = 0.00051  # the JSON's lengths are rounded to 0.001
WITH_A_THREAD: Final = 0.003  # and so is the way round the pegs, where that is measured and not reckoned


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    with folder_to_work_in(tmp_path_factory.mktemp("second")) as folder:
        yield folder


@pytest.mark.parametrize("number", range(COMBINATIONS))
def test_every_figure_of_the_plan_is_ours(number: int, folder: Path) -> None:
    case = combination(number)
    theirs, ours = both(folder, case)
    assert (theirs is None) == (ours is None), "one of the two refuses these files"
    if theirs is not None:
        assert list(differences(ours, theirs, HALF_A_DIGIT if case.span else WITH_A_THREAD)) == []
        lengths = theirs["lengths"]
        assert lengths["wound_mm"] == theirs["pegs"]["length_mm"] >= lengths["wind_mm"] - HALF_A_DIGIT


@pytest.mark.parametrize("loom", LOOM_FILES, ids=lambda path: path.stem)
@pytest.mark.parametrize("pattern", PATTERN_FILES, ids=lambda path: path.stem)
def test_every_figure_of_what_ships_is_ours(pattern: Path, loom: Path, folder: Path) -> None:
    case = Combination(0, pattern.read_text(), loom.read_text(), None, True)
    theirs, ours = both(folder, case)
    assert (theirs is None) == (ours is None), "one of the two refuses these files"
    assert list(differences(ours, theirs, HALF_A_DIGIT)) == []


# In print

LAYOUTS: Final = ("record", "bench", "handout")
CARDS: Final = 90
THREADING: Final = {"filled", "empty"}
ALWAYS_TOLD: Final = {  # what no card of a layout is without, however it words it
    "record": {
        *("what to wind", "count to", "parts of what is wound", "weft and picks", "picks to the inch", *THREADING),
        *("yarn row", "warp of a yarn", "weft of a yarn", "all of a yarn", "in the other unit", "grams"),
        *("ends", "width", "width from", "width to"),
    },
    "bench": {
        *("what to wind", "round the pegs", "all steps", "step to", "count at the cross", "first space", "empty"),
        "a new end",
    },
    "handout": {"what to wind", *THREADING},
}
# These come up on many cards. A reader that no longer finds its words must not drop out unseen.
FOUND_ON_MANY: Final = {
    *("a new end", "what to wind", "tape to come", "no tape to come", "pieces to come", "a row of the beam", "turns"),
    *("go on within a stripe", "step from", "step to", "all steps", "joins in the list", "joins spared", "balls"),
    *("times across", "count at the cross", "round the pegs", "times to walk", "thread to walk", "sticks"),
    *("ends", "width", "width from", "width to", "sheds", "weft and picks", "picks to the inch", "first space"),
    *("count to", "count on both", "filled", "empty", "empty behind", "last end", "last end in brief"),
    *("a piece", "a piece on the loom", "a piece washed", "warp of a piece", "a fringe", "pieces to wind for"),
    *("to weave", "a piece to weave", "bare to weave", "tape to weave", "width to weave", "picks to weave"),
    *("yarn row", "warp of a yarn", "weft of a yarn", "all of a yarn", "in the other unit", "grams", "other looms"),
    *("parts of what is wound", "parts that add up", "part finished", "part waste", "tape about", "tape at least"),
    *("to spare", "bare before the first", "bare after the last"),
}


@pytest.fixture(scope="module")
def looked_at() -> Counter[str]:
    """How often each thing was found in print, over all cards."""
    return Counter()


@pytest.mark.parametrize("number", range(CARDS))
def test_every_figure_on_paper_is_ours(number: int, folder: Path, looked_at: Counter[str]) -> None:
    case = combination(number)
    theirs, ours = both(folder, case)
    if theirs is None or ours is None:
        return
    text = printed(folder, case, LAYOUTS[number % len(LAYOUTS)], theirs)
    letters = {colour["yarn"]: colour["letters"] for colour in theirs["colours"]}
    wrong, looks = faults(card_of(text, ours, case, letters))
    looked_at.update(looks)
    looked_at["a card"] += 1
    assert wrong == []
    assert looks.keys() >= ALWAYS_TOLD[LAYOUTS[number % len(LAYOUTS)]], "a figure that is always told was not read"


def test_nothing_passes_by_never_being_looked_at(looked_at: Counter[str]) -> None:
    """Every check has found its words on many cards. Runs after the cards; alone it has nothing to say."""
    if looked_at["a card"] > 70:
        assert {about: looked_at[about] for about in FOUND_ON_MANY if looked_at[about] < 3} == {}
        seldom = {about for about, times in looked_at.items() if times < 3}
        # Most cards count straight to the first space; the other edge and the middle end are told where there is room,
        # and so is what is filled of the back heddle, which has a hole where the front one has a slot.
        told_where_there_is_room = {"from the other edge", "middle end", "filled behind"}
        assert seldom <= {"further", "bundles", "bundle step"} | told_where_there_is_room


@pytest.mark.parametrize(("about", "number"), [("middle end", 8), ("filled behind", 2), ("from the other edge", 83)])
def test_what_is_told_where_there_is_room_is_read_too(about: str, number: int, folder: Path) -> None:
    """The records of these files have the room, and the figure that they tell is ours."""
    case = combination(number)
    theirs, ours = both(folder, case)
    assert theirs is not None
    assert ours is not None
    letters = {colour["yarn"]: colour["letters"] for colour in theirs["colours"]}
    wrong, looks = faults(card_of(printed(folder, case, "record", theirs), ours, case, letters))
    assert wrong == []
    assert looks[about] > 0


def test_a_wrong_figure_is_noticed(folder: Path) -> None:
    """One figure changed, in the plan or on paper, does not pass."""
    case = combination(0)
    theirs, ours = both(folder, case)
    assert theirs is not None
    assert ours is not None
    changed = json.loads(json.dumps(theirs))
    changed["lengths"]["warp_mm"] += 1
    changed["winding"]["changes"] += 1
    assert len(list(differences(ours, changed, WITH_A_THREAD))) == 2
    letters = {colour["yarn"]: colour["letters"] for colour in theirs["colours"]}
    wrong = []
    for layout, right in (("handout", "Wind "), ("record", "(0) count "), ("record", "count to ")):
        text = printed(folder, case, layout, theirs).replace(right, f"{right}1")
        wrong += faults(card_of(text, ours, case, letters))[0]
    assert {line.partition(":")[0] for line in wrong} >= {"what to wind", "count to"}


@pytest.mark.parametrize(
    ("number", "layout", "right", "wrong", "about"),
    [
        (6, "record", "Middle box: too small: 33", "Middle box: too small: 34", "other looms"),
        (12, "record", "empty: 3 left, 4 right", "empty: 4 left, 3 right", "other looms"),
        (6, "record", "empty: 6 left", "empty: 7 left", "empty"),
        (6, "record", "on top: 17 Bn", "on top: 18 Bn", "sheds"),
        (16, "bench", "15 turns 44 in", "15 turns 45 in", "tape to come"),
        (43, "bench", "6 turns 1 ×", "6 turns 2 ×", "pieces to come"),
        (
            1,
            "bench",
            "of 23 Bn brown home to home 20 go on",
            "of 23 Bn brown home to home 20",
            "go on within a stripe",
        ),
        (49, "bench", "1 Re to far 41", "1 Re to home 41", "step to"),
        (1, "bench", "that is 16 m", "that is 17 m", "thread to walk"),
        (17, "bench", "Brown: 218 m on", "Brown: 219 m on", "yarn on these pegs"),
        (17, "bench", "5 m more than the record", "6 m more than the record", "more than the record"),
        (192, "bench", "2 Ye yellow home", "3 Ye yellow home", "bundle"),
        (192, "bench", "10 green, 4 brown", "10 green, 5 brown", "count every bundle"),
        (10, "bench", "back 1 and 0", "back 0 and 1", "empty behind"),
        (14, "handout", "bookmark, 25 1⁄2 in", "bookmark, 25 1⁄4 in", "a piece to weave"),
        (11, "handout", "Weave about 43 in", "Weave about 42 in", "tape to weave"),
    ],
)
def test_a_wrong_figure_on_paper_is_noticed(
    number: int, layout: str, right: str, wrong: str, about: str, folder: Path
) -> None:
    case = combination(number)
    theirs, ours = both(folder, case)
    assert theirs is not None
    assert ours is not None
    letters = {colour["yarn"]: colour["letters"] for colour in theirs["colours"]}
    text = "\n".join(normalize("NFKC", line) for line in printed(folder, case, layout, theirs).splitlines())
    pattern = re.escape(right).replace(r"\ ", r"\s+")
    assert re.search(pattern, text), "the card has other words"
    changed = re.sub(pattern, wrong, text, count=1)
    assert about in {line.partition(":")[0] for line in faults(card_of(changed, ours, case, letters))[0]}


def test_the_combinations_are_of_every_sort(folder: Path) -> None:
    """What the generator is for does come up: each sort three times or more, and few files are refused."""
    sorts: Counter[str] = Counter()
    for number in range(COMBINATIONS):
        case = combination(number)
        try:
            sorts.update(sorts_of(case, second_plan(case.pattern, case.loom, case.warp)))
        except Refused:
            sorts["refused"] += 1
    assert {sort: times for sort, times in sorts.items() if times < 3} == {}
    assert set(sorts) == SORTS
    assert sorts["refused"] < COMBINATIONS / 4


SORTS: Final = {
    *("refused", "counted as one", "counted as zero", "even spaces", "odd spaces", "two the same", "two opposite"),
    *("back to the right", "shifted 1", "shifted -1", "order", "carry", "bundle", "mirrored", "weft of its own"),
    *(
        "finished",
        "all pieces",
        "some pieces",
        "no piece",
        "fringes",
        "three kinds",
        "warp given",
        "--warp",
        "measured",
    ),
    *("waste in parts", "take-up told", "take-up a range", "no weight", "a width", "a board", "edges alike"),
    *("from behind", "left hand", "left hand from behind", "yards first"),
}


def sorts_of(case: Combination, plan: dict[str, Any]) -> Iterator[str]:
    """What there is about a combination that a figure hangs on."""
    pattern, loom = read_tree(case.pattern), read_tree(case.loom)
    place, kinds, length = plan["placement"], plan["pieces"], pattern.get("length", {})
    if loom["kind"] == "two heddles":
        yield f"two {'the same' if loom['back_heddle'] == 'same' else 'opposite'}"
        yield from ["back to the right"] if place["back_heddle"]["offset"] == 1 else []
    yield loom.get("mark", "counted as zero")
    yield "odd spaces" if place["spaces"] % 2 else "even spaces"
    yield from [f"shifted {place['shifted']}"] if place["shifted"] else []
    yield plan["winding"]["method"]
    yield from (key for key in ("finished", "measured") if key in {**pattern, **length})
    if kinds:
        come = sum(kind["come"] for kind in kinds)
        wanted = sum(kind["wanted"] for kind in kinds)
        yield "all pieces" if come == wanted else "some pieces" if come else "no piece"
        yield from ["fringes"] if any(kind["fringe_mm"] for kind in kinds) else []
        yield from ["three kinds"] if len(kinds) == 3 else []
    told = {
        "mirrored": "mirror" in pattern,
        "weft of its own": pattern.get("weft") == "thin",
        "warp given": "warp" in length,
        "--warp": case.warp is not None,
        "waste in parts": isinstance(loom.get("waste"), dict),
        "take-up told": "take_up" in length,
        "take-up a range": len(set(plan["lengths"]["take_up_range"])) == 2,
        "no weight": any(line["grams"] is None for line in plan["yarn"]),
        "a width": "width" in pattern,
        "a board": not case.span,
        "edges alike": plan["same_both_ways"],
        "from behind": case.view == (True, False),
        "left hand": case.view == (False, True),
        "left hand from behind": case.view == (True, True),
        "yards first": case.units == "us",
    }
    yield from (sort for sort, is_so in told.items() if is_so)


# Twelve bookmarks with fringes, from whatever warp there is

BOOKMARKS: Final = """\
title: Twelve bookmarks
yarns: {blue: {fibre: linen, count: 20/2}, white: {fibre: linen, count: 20/2}}
warp: [2 blue, 9 white, 2 blue]
length:
  pieces: [{for: bookmark, length: 8 in, count: 12, fringe: 3 in}]
  take_up: 12 %
  shrinkage: 3 %
"""


@pytest.mark.parametrize(("warp", "come"), [("1.5 m", 2), ("2 m", 3), ("3 m", 6), ("5.26 m", 12), ("0.9 m", 1)])
def test_a_warp_gives_the_bookmarks_that_fit(warp: str, come: int, folder: Path) -> None:
    """One takes 8 in ÷ 0.97 ÷ 0.88 and twice 3 in, 390.5 mm, of what 508 mm of waste leave: our own sum."""
    case = Combination(0, BOOKMARKS, (ROOT / "layouts" / "looms" / "small-box.yaml").read_text(), warp, True)
    theirs, ours = both(folder, case)
    assert theirs is not None
    assert ours is not None
    assert [theirs["pieces"][0]["come"], ours["pieces"][0]["come"]] == [come, come]
    assert list(differences(ours, theirs, HALF_A_DIGIT)) == []
    said = run("plan", *typed(folder, case)).out
    for text in (said, *(printed(folder, case, layout, theirs) for layout in LAYOUTS)):
        assert not re.search(r"\b0 (mm|cm|m|in|yd)\b", text)
        assert layout_says_pieces(" ".join(text.split()), come)


def layout_says_pieces(text: str, come: int) -> bool:
    """Wherever bookmarks are counted it is these, or fewer as the turns run out."""
    counts = [int(count) for count in re.findall(r"(\d+)(?: of 12)? × bookmark", text)]
    return all(count <= come for count in counts) and (not counts or max(counts) == come)
