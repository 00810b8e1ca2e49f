"""Every card that can be made: one page, nothing over anything else, and the same words when it is read back.

The laws are held on the marks (every demonstration pattern on every loom that holds it, on both papers), so they do
not mind when a panel moves; what was painted is read by libraries that did not write it.
"""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import cache
from io import BytesIO
from itertools import accumulate
from pathlib import Path as File
from typing import Any

import pdfplumber
import pikepdf
import pypdfium2
import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.jobs import card_making, loading, plan_making
from cardmaker.layout.ink import ACCENT
from cardmaker.model.card_layout import Paper
from cardmaker.model.loom import Mark as Marked
from cardmaker.model.marks import Box, Dot, Face, Group, Line, Mark, Path, Rectangle, Words
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Plan
from cardmaker.model.problems import ProblemsFound, Refusal
from cardmaker.reading.pattern_file import parse_pattern
from tests.helpers.card_faults import (
    OVERSHOOT_MM,
    all_words,
    astray,
    collisions,
    cut_off,
    faults,
    fused,
    grown,
    missing_essentials,
    overlapping_panels,
    panels,
    struck,
    too_small,
)
from tests.helpers.catalogue_table import rows
from tests.helpers.places import ROOT
from tests.helpers.record_cards import (
    CAPACITY,
    CASES,
    LOOMS,
    PAPERS,
    RULER,
    Case,
    bench,
    card,
    layout,
    paper_named,
    plan,
    printed,
)
from tests.helpers.shipped import LAYOUTS as ALL_LAYOUTS

BINDING_MM = 25.0  # kept clear at the left for the rings
POINT = 25.4 / 72
every_card = pytest.mark.parametrize("case", CASES, ids="-on-".join)
READ_BACK: list[Case] = [
    ("bare-thread", "small-box", "letter"),
    ("two-rails", "small-box", "a4"),
    ("three-paths", "middle-box", "letter"),
    ("three-paths", "broad-paddle", "a4"),
    ("off-side", "small-box", "letter"),
    ("open-ladder", "small-box", "letter"),
    ("pavement", "middle-box", "letter"),
    ("cord-edge", "small-box", "a4"),
    ("five-posts", "middle-box", "letter"),
    ("threes", "middle-box", "letter"),
    ("treadle-ladder", "treadle-pair", "letter"),
    ("long-sixty", "treadle-pair", "letter"),
    ("fair-day", "treadle-pair", "a4"),
]

READ_TWICE = [READ_BACK[0], READ_BACK[2], READ_BACK[5]]

# By hand from the catalogue: the counts of the order from the left, a stretch of single ends in turn as one; and the
# tens inside stripes of more than ten ends that are checkpoints as well.
STRIPES: dict[str, tuple[list[int], list[int]]] = {
    "bare-thread": ([8], []),
    "two-rails": ([2, 9, 2], []),
    "three-paths": ([3, 5, 3, 9, 3, 5, 3], []),
    "off-side": ([11, 6, 4, 1], []),
    "open-ladder": ([14], [10]),
    "pavement": ([7, 2, 6, 2, 6, 2, 7], []),
    "cord-edge": ([1, 20, 1], [10]),
    "five-posts": ([3, 4, 1, 3, 1, 3, 1, 3, 1, 3, 1, 4, 3], []),
    "threes": ([27], [10, 20]),
    "treadle-ladder": ([6, 4, 19, 5, 6], [20]),
    "long-sixty": ([4, 8, 2, 8, 2, 12, 2, 8, 2, 8, 4], [30]),
    "fair-day": ([4, 4, 4, 4, 6, 4, 6, 4, 4, 4, 4], []),
}


@cache
def page_text(case: Case) -> Any:
    """The text of the printed page as pdfium reads it, which is quick; pdfplumber reads only some of them again."""
    document = pypdfium2.PdfDocument(printed(case))
    assert len(document) == 1
    return document[0].get_textpage()


@cache
def read_back(case: Case) -> str:
    """The words of the printed page, one space between them."""
    return " ".join(page_text(case).get_text_bounded().split())


@cache
def read_by_another(case: Case) -> list[dict[str, Any]]:
    """The words of the printed page with their places, as pdfplumber reads them."""
    with pdfplumber.open(BytesIO(printed(case))) as document:
        assert len(document.pages) == 1
        return document.pages[0].extract_words(x_tolerance=1.5)


def words_of(pdf: bytes) -> str:
    return " ".join(pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_bounded().split())


# The laws


def test_the_cases_are_all_that_fit() -> None:
    """23, 33, 47 and 60 ends hold 10, 23, 25 and 25 of the 27 (two of them refuse two heddles); on two papers."""
    held = {loom: len({case[0] for case in CASES if case[1] == loom}) for loom in LOOMS}
    assert held == {"small-box": 10, "middle-box": 23, "broad-paddle": 25, "treadle-pair": 25}
    assert len(CASES) == 2 * (10 + 23 + 25 + 25)


@every_card
def test_nothing_lies_over_anything_else(case: Case) -> None:
    assert faults(card(case), layout(), paper_named(case[2])) == []


@every_card
def test_one_page_of_the_right_size_with_all_that_is_essential(case: Case) -> None:
    composed = card(case)
    assert (composed.page.width_mm, composed.page.height_mm) == PAPERS[case[2]]
    names = [group.name for group in panels(composed)]
    beside = [mark.name for mark in composed.page.marks if isinstance(mark, Group) and mark.name not in names]
    assert len(names) == len(set(names))  # each panel once
    assert (len(names) + 2, beside) == (len(composed.page.marks), ["notch", "punch"])  # and nothing beside the panels
    of_some = {"notes", "source", "pickup-line"}  # which have nothing to say for some patterns
    unchanged = set() if plan(*case[:2]).pattern.changes else {"changes"}
    assert missing_essentials(composed, layout()) <= of_some | unchanged
    assert {"ribbon", "title", "walk", "board", "face", "yarn", "lengths", "foot"} <= set(names)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_binding_side_is_kept_clear(paper: str) -> None:
    """The first law holds every mark to this box."""
    assert layout().printable(paper_named(paper)).left == BINDING_MM


@every_card
def test_pictures_are_told_in_words(case: Case) -> None:
    """What is told is held by tests/wording/test_alt_texts.py and tests/product/test_recount_by_ear.py."""
    told = {
        panel.name: [mark.alt for mark in panel.marks if isinstance(mark, Group) and mark.role == "figure"]
        for panel in panels(card(case))
    }
    pictures = {"ribbon", "order", "board", "walk", "face", "shuttle", "next", "yarn"} & set(told)
    assert all(told[name] and all(told[name]) for name in pictures)
    assert all(len(told[name]) == 1 for name in pictures - {"walk"})
    assert len(told.get("walk", ())) <= 2  # beside it the cross
    ends = plan(*case[:2]).ends
    if "order" in told:
        assert told["order"][0].startswith(f"{ends} ends from the left edge as you sit: ")


# The other card layouts, each pattern on the smallest loom that holds it and a few on two heddles, papers in turn


LAYOUTS = sorted({*ALL_LAYOUTS} - {"record"})


@pytest.mark.parametrize("stem", LAYOUTS)
def test_every_layout_keeps_the_laws(stem: str) -> None:
    of = loading.load_layout(ROOT / "layouts" / "cards" / f"{stem}.yaml")
    found = []
    for number, (pattern, loom) in enumerate(sample()):
        paper = of.papers[number % len(of.papers)]
        on = plan_making.load_plan_setup(
            str(ROOT / "layouts" / "looms" / f"{loom}.yaml"), None, any_pegs=plan_making.shows_pegs(of)
        )
        there = plan_making.plan_for(loading.load_pattern(ROOT / "patterns" / f"{pattern}.yaml"), on)
        composed = compose_card(there, of, paper, RULER)
        assert (composed.page.width_mm, composed.page.height_mm) == (paper.width_mm, paper.height_mm)
        found += [(pattern, loom, paper.name, fault) for fault in faults(composed, of, paper)]
    assert found == []


def sample() -> Iterator[tuple[str, str]]:
    for row in rows():
        yield row.stem, next(loom for loom in LOOMS if row.ends <= CAPACITY[loom])
    yield from (("bare-thread", "treadle-pair"), ("treadle-ladder", "treadle-pair"), ("nine", "treadle-pair"))


# The laws can fail


def panel(*marks: Mark) -> Group:
    return Group("panel", "one", Box(25, 12, 100, 50), marks)


def empty_panel(box: Box) -> Group:
    return Group("panel", "two", box, ())


def words(x: float, y: float, text: str = "Wide", size: float = 10, turned: bool = False) -> Words:
    return Words(x, y, text, Face.SANS, size, turned=90 if turned else 0)


PAGE = Box(25, 12, 178.9, 255.4)


def astray_from_page(groups: Sequence[Group]) -> list[str]:
    return astray(groups, PAGE)


def under_nine(groups: Sequence[Group]) -> list[str]:
    return too_small(groups, 9)


STEM = Path((("move", 32, 20), ("line", 32, 40)), stroke="#000000", width=0.2)
PLATE, HALF_A_PLATE = (Rectangle(Box(29, 26, wide, 6), "#ffffff") for wide in (12, 2.5))
BULGE = Path((("move", 30, 60), ("curve", 40, 66, 40, 66, 50, 60)), stroke="#000000", width=0.1)  # down to 64.5


@pytest.mark.parametrize(
    ("find", "groups", "told"),
    [
        (overlapping_panels, [panel(), empty_panel(Box(80, 61.9, 9, 9))], "one over two"),
        (overlapping_panels, [panel(), empty_panel(Box(80, 62, 9, 9))], None),
        (astray_from_page, [panel(Line(25, 30, 23, 30, 1))], "one: Line leaves the page by 1.70"),
        (astray_from_page, [panel(Line(50, 30, 50, 62.5, 1, round_ends=True))], None),
        (astray_from_page, [panel(Line(50, 30, 50, 62.8, 1, round_ends=True))], "one: Line leaves its panel by 1.30"),
        (astray_from_page, [panel(Dot(80, 61.5, 1)), empty_panel(Box(25, 62.4, 90, 9))], "one: Dot lies in two"),
        (astray_from_page, [panel(BULGE)], "one: Path leaves its panel by 2.55"),
        (astray_from_page, [panel(words(122, 30))], "one: 'Wide' leaves its panel by"),
        (astray_from_page, [panel(words(122, 30, turned=True))], None),
        (astray_from_page, [panel(words(122, 16, turned=True))], "one: 'Wide' leaves the page"),
        (collisions, [panel(words(30, 30), words(33, 31))], "'Wide' over 'Wide'"),
        (collisions, [panel(words(30, 30), words(30, 33))], None),
        (collisions, [panel(words(30, 30), words(31, 31, turned=True))], "'Wide' over 'Wide'"),
        (under_nine, [panel(words(30, 30, size=8.75))], "'Wide' in 8.75 pt"),
        (struck, [panel(words(30, 30), Line(32, 20, 32, 40, 0.2))], "one: a line through 'Wide'"),
        (struck, [panel(words(30, 30), Line(30, 31, 40, 31, 0.2))], None),
        (struck, [panel(words(30, 30, "Wry"), Line(30, 30.6, 40, 30.6, 0.2))], "one: a line through 'Wry'"),  # its tail
        (struck, [panel(words(30, 30), Line(29, 31, 40, 26, 0.2))], "one: a line through 'Wide'"),
        (struck, [panel(words(30, 30), Rectangle(Box(33, 25, 9, 9), stroke="#000000"))], "one: a line through 'Wide'"),
        (struck, [panel(words(30, 30), STEM)], "one: a line through 'Wide'"),
        (struck, [panel(STEM, PLATE, words(30, 30))], None),
        (struck, [panel(PLATE, STEM, words(30, 30))], "one: a line through 'Wide'"),
        (struck, [panel(STEM, HALF_A_PLATE, words(30, 30))], "one: a line through 'Wide'"),
        (fused, [panel(words(30, 30, "36"), words(33.9, 30, "38"))], "'36' and '38' 0."),
        (fused, [panel(words(30, 30, "36"), words(34.6, 30, "38"))], None),
        (fused, [panel(words(30, 30, "36"), words(33.9, 33.5, "38"))], None),
        (fused, [panel(words(30, 30, "1 m"), words(33.9, 30, "38"))], None),
        (cut_off, [panel(words(30, 30, "Grandmother’s b…"))], "'Grandmother’s b…' is cut"),
        (cut_off, [panel(words(30, 30, "1, 3, 5 …"))], None),
    ],
)
def test_the_laws_can_fail(find: Callable[[list[Group]], list[str]], groups: list[Group], told: str | None) -> None:
    found = find(groups)
    assert (found == []) if told is None else any(fault.startswith(told) for fault in found)


# Read back from paper


read_back_cards = pytest.mark.parametrize("case", READ_BACK, ids="-on-".join)


@read_back_cards
def test_the_printed_file_has_no_faults(case: Case) -> None:
    with pikepdf.open(BytesIO(printed(case))) as document:
        assert document.check_pdf_syntax() == []
        assert len(document.pages) == 1
        width, height = (float(value) * POINT for value in list(document.pages[0].mediabox)[2:])
    assert (width, height) == pytest.approx(PAPERS[case[2]], abs=0.01)


@read_back_cards
def test_the_printed_counts_are_the_plans(case: Case) -> None:
    of, said = plan(*case[:2]), read_back(case)
    assert said.startswith(of.pattern.title) or of.pattern.title in said
    assert f"{of.ends} end" in said
    placement = of.placement
    front = "" if placement.back is None else "front "  # of two heddles the front one
    assert re.search(rf"last end in {front}{label(placement.last_space, of)}, (a {placement.last_kind}|back)", said)
    left, right = placement.empty_left, placement.empty_right
    none = "none empty|" if left == right == 0 else ""
    assert re.search(rf"{none}empty: (?:{front})?{left} left, {right} right", said)
    assert re.search(rf"(filled: {front}|{front or '-'}: ?){placement.holes} holes?, {placement.slots} slots?", said)


@read_back_cards
def test_the_first_space_is_flagged_and_told(case: Case) -> None:
    of, said = plan(*case[:2]), read_back(case)
    placement = of.placement
    assert re.search(counted_out(of), said)
    board = next(group for group in panels(card(case)) if group.name == "board")
    flagged = [mark.text for mark in all_words(board.marks) if mark.colour == ACCENT]
    back = [] if placement.back is None else [placement.back.first_space]  # its board stands above the other
    assert flagged == [label(space, of) for space in (*back, placement.first_space)]


def counted_out(of: Plan) -> str:
    """How the first space is told, with its count; of two heddles on each, in two rows on a small card."""
    front, kind, back = label(of.placement.first_space, of)[1:], of.placement.first_kind, of.placement.back
    alike = "holes and slots alike"
    if back is None:
        return rf"End 1: count {front} left of the mark \(0\), {alike}: a {kind}\."
    behind, other = label(back.first_space, of)[1:], kind.opposite
    each = [
        rf"{where}: count {count} left of its (?:mark \(0\)|0), {alike}: a {what}\."
        for where, count, what in (("Front", front, kind), ("Back", behind, other))
    ]
    both = rf"Front: count {front} left of its 0: a {kind}\. Back: count {behind} left of its 0: a {other}\."
    return rf"{' '.join(each)}|{both}"


@read_back_cards
def test_every_stripe_and_total_is_printed(case: Case) -> None:
    printed_numbers = Counter(digits_in("walk", case))
    assert any(not Counter(numbers) - printed_numbers for numbers in walk_numbers(case[0]))


def walk_numbers(pattern: str) -> list[list[int]]:
    """Every count and every total; or, on a crowded card, the tens instead of the totals, and the last."""
    counts = STRIPES[pattern][0]
    return [[*counts, *totals] for totals in ticked(pattern)]


def ticked(pattern: str) -> list[list[int]]:
    counts, tens = STRIPES[pattern]
    ends = sum(counts)
    return [sorted({*accumulate(counts), *tens}), [*range(10, ends - 2, 10), ends]]


@read_back_cards
def test_a_pattern_that_differs_is_told_from_the_other_edge_too(case: Case) -> None:
    counts, _ = STRIPES[case[0]]
    found = re.search(r"From the other edge: (.+?)\.", read_back(case))
    row = next(row for row in rows() if row.stem == case[0])
    assert found is None or not row.same_both_ways  # the least wanted part of the walk: where there is room
    if found:
        assert [int(number) for number in re.findall(r"\d+", found[1])] == counts[::-1]


@read_back_cards
def test_every_checkpoint_stands_at_its_post(case: Case) -> None:
    """The totals of the walk: odd ones at the far post, which lies lower; the plan's own trips in words below."""
    counts, _ = STRIPES[case[0]]
    walk = next(group for group in panels(card(case)) if group.name == "walk")
    told = (mark for mark in all_words(walk.marks) if mark.text.isdigit() and mark.align != "middle")  # no counts
    boxes = {int(mark.text): mark.y for mark in told}
    assert not Counter(list(boxes)) - Counter(digits_in("walk", case))
    assert sorted(boxes) in ticked(case[0])
    if plan(*case[:2]).winding.method == "order" and sum(counts) <= 40:  # one row of strokes
        assert all(boxes[even] < boxes[odd] for even in boxes for odd in boxes if even % 2 < odd % 2)


def digits_in(name: str, case: Case) -> list[int]:
    """The whole numbers that stand in one panel of the printed page."""
    box = panel_box(name, case)
    high = PAPERS[case[2]][1]
    sides = (box.left, high - box.bottom, box.right, high - box.top)
    found = page_text(case).get_text_bounded(*(side / POINT for side in sides))
    return sorted(int(text) for text in found.split() if text.isdigit())


def panel_box(name: str, case: Case) -> Box:
    return grown(next(group.box for group in panels(card(case)) if group.name == name), OVERSHOOT_MM)


@pytest.mark.parametrize("case", READ_TWICE, ids="-on-".join)
def test_two_readers_find_the_same_words(case: Case) -> None:
    level = [word["text"] for word in read_by_another(case) if word["upright"]]
    mine = page_text(case).get_text_bounded().split()
    assert Counter("".join(level)) - Counter("".join(mine)) == Counter()
    assert len(level) > 200


@pytest.mark.parametrize("case", READ_TWICE, ids="-on-".join)
def test_the_other_reader_finds_the_same_counts(case: Case) -> None:
    box = panel_box("walk", case)
    numbers = [
        int(word["text"])
        for word in read_by_another(case)
        if word["text"].isdigit()
        and box.left <= word["x0"] * POINT
        and word["x1"] * POINT <= box.right
        and box.top <= word["top"] * POINT + 1
        and word["bottom"] * POINT - 1 <= box.bottom
    ]
    assert any(not Counter(wanted) - Counter(numbers) for wanted in walk_numbers(case[0]))


def label(space: int, of: Plan) -> str:
    """A space as this weaver says it, worked out apart from the program: the demonstration looms count from 0."""
    assert of.loom.mark is Marked.ZERO
    aside = space - (of.loom.slots + of.loom.holes + 1) // 2
    return f"L{-aside}" if aside < 0 else f"R{aside}" if aside else "0"


# The same bytes


def test_two_runs_paint_the_same_bytes() -> None:
    for case in READ_BACK[:4]:
        pattern, loom, paper = case
        again = card_making.make_card(
            plan_making.plan_for(loading.load_pattern(ROOT / "patterns" / f"{pattern}.yaml"), bench(loom)),
            layout(),
            paper_named(paper),
            None,
        )
        assert again.pdf == printed(case)


def test_another_process_with_another_hash_seed_paints_the_same_bytes(tmp_path: File) -> None:
    wanted: list[Case] = [("threes", "middle-box", "letter"), ("five-posts", "middle-box", "letter")]
    stems = [case[0] for case in wanted]
    command = [sys.executable, "-m", "cardmaker", "card", *stems, "--loom", "middle-box", "--out"]
    surroundings = {"here": {"PYTHONHASHSEED": "1"}, "there": {"PYTHONHASHSEED": "4711", "TZ": "Pacific/Auckland"}}
    for name, changed in surroundings.items():
        env = os.environ | changed | {"LC_ALL": "C", "PYTHONPATH": str(ROOT)}
        subprocess.run([*command, str(tmp_path / name)], cwd=tmp_path, env=env, check=True, capture_output=True)
    for case in wanted:
        here, there = ((tmp_path / name / f"{case[0]}-record.pdf").read_bytes() for name in surroundings)
        assert hashlib.sha256(there).hexdigest() == hashlib.sha256(here).hexdigest()


# Patterns that nobody would think of


def odd_pattern(warp: Sequence[str], *, title: str = "Odd One", **more: str) -> Pattern:
    names = list(dict.fromkeys(stripe.split(" ", 1)[1] for stripe in warp))
    yarns = "".join(f'  "{name}": {{fibre: cotton, count: 8/2}}\n' for name in names)
    items = "".join(f'  - "{stripe}"\n' for stripe in warp)
    rest = "".join(f"{key}: {value}\n" for key, value in more.items())
    quoted = title.replace('"', '\\"')
    return parse_pattern(f'title: "{quoted}"\nyarns:\n{yarns}warp:\n{items}{rest}'.encode(), "odd.yaml", "odd")


TWELVE = ("white", "cream", "yellow", "orange", "red", "pink", "purple", "blue", "green", "brown", "grey", "black")
LONG_NAME = "heathery blue-green of no name"  # 30 letters, the most
ODD: dict[str, Pattern] = {
    "a title of 80 letters": odd_pattern(["2 red", "5 white", "2 red"], title=("Very Long Title " * 5)[:80]),
    "a title without a space": odd_pattern(["2 red", "5 white", "2 red"], title="W" * 80),
    "a yarn's name of 30 letters": odd_pattern([f"2 {LONG_NAME}", "9 white", f"2 {LONG_NAME}"]),
    "two such yarns in turn": odd_pattern([f"1 {LONG_NAME}", f"1 {LONG_NAME[::-1].strip()}"] * 6),
    "one end": odd_pattern(["1 red"]),
    "two ends": odd_pattern(["2 red"]),
    "two ends of two colours": odd_pattern(["1 red", "1 white"]),
    "47 ends of one colour": odd_pattern(["47 red"]),
    "60 ends of one colour": odd_pattern(["60 red"]),
    "12 yarns": odd_pattern([f"2 {yarn}" for yarn in TWELVE]),
    "12 yarns, an end of each": odd_pattern([f"1 {yarn}" for yarn in TWELVE]),
    "12 yarns, three ends of each": odd_pattern([f"3 {yarn}" for yarn in TWELVE]),
    "60 single ends of 12 yarns": odd_pattern([f"1 {yarn}" for yarn in TWELVE * 5]),
    "47 stripes of one end and no order": odd_pattern([f"1 {TWELVE[at * at % 12]}" for at in range(47)]),
    "60 picks to the inch": odd_pattern(["2 red", "9 white", "2 red"], picks_per_inch="60"),
    "4 picks to the inch": odd_pattern(["2 red", "9 white", "2 red"], picks_per_inch="4"),
    "60 mm wide": odd_pattern(["4 red", "40 white", "3 red"], width="60 mm"),
    "3 mm wide": odd_pattern(["4 red", "40 white", "3 red"], width="3 mm"),
    "a long way": odd_pattern(["2 red", "9 white", "2 red"], length="{finished: 40 m, take_up: 30 %}"),
    "a long story": odd_pattern(["2 red", "9 white", "2 red"], about="It is said that " * 20),
}


def odd_cards(pattern: Pattern) -> Iterator[tuple[Composed | None, Paper, str]]:
    """The pattern on the smallest and the largest loom, on both papers: the card, or what was said instead of one."""
    looms = bench("treadle-pair")
    for on in (replace(looms, loom=None), looms):
        plan_there = plan_making.plan_for(pattern, on)
        for paper in map(paper_named, PAPERS):
            try:
                yield compose_card(plan_there, layout(), paper, RULER), paper, ""
            except Refusal as refusal:
                yield None, paper, f"{refusal}"


@pytest.mark.parametrize("named", ODD)
def test_an_odd_pattern_gets_a_clean_card_or_a_plain_refusal(named: str) -> None:
    for composed, paper, refusal in odd_cards(ODD[named]):
        if composed is None:
            assert re.fullmatch(r"\d+ ends do not fit on \w+: .*\. Choose a larger paper or another layout\.", refusal)
        else:
            assert faults(composed, layout(), paper) == []


@pytest.mark.parametrize("named", ["one end", "two ends", "a title of 80 letters", "60 picks to the inch"])
def test_an_odd_card_is_one_printed_page(named: str) -> None:
    plan_there = plan_making.plan_for(ODD[named], replace(bench("treadle-pair"), loom=None))
    said = words_of(card_making.make_card(plan_there, layout(), paper_named("letter"), None).pdf)
    assert ODD[named].title[:30].strip() in said


@pytest.mark.parametrize(
    "title",
    [
        "<b>X</b> <img src=/etc/passwd> &amp;",
        "100 % (a) [b] {c} \\(d\\) %PDF",
        "Rüschen für Größe 38 – “neu”",
        "Тесьма",
        "[link](javascript:alert(1))",
    ],
)  # fmt: skip
def test_text_is_printed_as_typed(title: str) -> None:
    pattern = replace(odd_pattern(["2 red", "9 white", "2 red"]), title=title)
    made = card_making.make_card(
        plan_making.plan_for(pattern, bench("small-box")), layout(), paper_named("letter"), None
    )
    assert title in words_of(made.pdf)
    with pikepdf.open(BytesIO(made.pdf)) as document:
        assert title in str(document.docinfo["/Title"])
        assert "/Annots" not in document.pages[0]


@pytest.mark.parametrize("title", ["Band 織", "Tape \N{BLACK HEART SUIT}"])
def test_what_the_typeface_lacks_is_refused_by_name(title: str) -> None:
    pattern = replace(odd_pattern(["2 red", "9 white", "2 red"]), title=title)
    with pytest.raises(ProblemsFound) as found:
        card_making.make_card(plan_making.plan_for(pattern, bench("small-box")), layout(), paper_named("letter"), None)
    assert title[-1] in str(found.value)
    assert "typeface has no" in str(found.value)
