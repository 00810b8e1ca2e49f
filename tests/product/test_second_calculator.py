"""A second calculator, written from the manual alone, against the program: every figure of the plan, and of the paper.

The figures are those of ``tests/helpers/second_calculator.py``, the files those of
``tests/helpers/second_generator.py``, what may be printed for them is in ``tests/helpers/second_print.py``.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

import pytest

from tests.helpers.places import ROOT
from tests.helpers.second_answers import both, folder_to_work_in, printed, run, typed
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


def differences(ours: Any, theirs: Any, near: float, where: str = "") -> Iterator[str]:
    """Every figure of ours that is not theirs, with its place."""
    if isinstance(ours, dict) and isinstance(theirs, dict):
        for key, value in ours.items():
            yield from differences(value, theirs.get(key, "is missing"), near, f"{where}.{key}")
    elif isinstance(ours, list) and isinstance(theirs, list) and len(ours) == len(theirs):
        for index, (one, other) in enumerate(zip(ours, theirs, strict=True)):
            yield from differences(one, other, near, f"{where}[{index}]")
    elif isinstance(ours, float | Fraction) and isinstance(theirs, int | float):
        if abs(float(ours) - theirs) > near:
            yield f"{where}: {float(ours):.4f}, but the program says {theirs}"
    elif ours != theirs:
        yield f"{where}: {ours}, but the program says {theirs}"


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


def test_nothing_passes_by_never_being_looked_at(looked_at: Counter[str]) -> None:
    """Every check has found its words on many cards. Runs after the cards; alone it has nothing to say."""
    if looked_at["a card"] > 70:
        seldom = {about: times for about, times in looked_at.items() if times < 3}
        # Most cards count straight to the first space; the other edge is told where there is room.
        told_seldom = {"then go", "further", "from the other edge"}
        assert len(looked_at) >= 50
        assert (
            not set(seldom) - told_seldom - {"bundles", "bundle step", "bare before the first", "bare after the last"}
        )


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
