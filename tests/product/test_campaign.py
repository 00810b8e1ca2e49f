"""A sample of the campaign of cards: no law of a page is broken, whatever is asked for; and that a breach is found."""

from __future__ import annotations

from functools import cache
from typing import Final

import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.model.marks import Group
from cardmaker.model.pattern import LONGEST_TITLE
from cardmaker.model.record_class import replace
from cardmaker.reading.card_file import parse_card_layout
from tests.campaign.cases import (
    MOST_ENDS,
    PAPERS,
    TITLE_STYLES,
    Case,
    all_cases,
    case_of,
    line_of,
    on_looms,
    sample,
)
from tests.campaign.trial import Fault, composed_case, faults_of, laws_broken, read_back_faults
from tests.helpers.card_faults import all_words, faults_by_law, leaves, panels
from tests.helpers.record_cards import CASES, RULER
from tests.helpers.shipped import paper_of, plan_of, shipped_layout

SEED: Final = 20261130
MANY: Final = 300
ON_PAPER_EVERY: Final = 20
LAWS: Final = (
    "panels", "astray", "over", "fused", "cut", "small", "struck", "margin", "bracket", "count", "refused", "crash",
    "pages", "read back", "contrast",
)  # fmt: skip


@cache
def found() -> dict[str, list[str]]:
    """Of every law the cards that break it, each with its case."""
    broken: dict[str, list[str]] = {}
    for number, case in enumerate(sample(SEED, MANY)):
        for fault in faults_of(case, on_paper=number % ON_PAPER_EVERY == 0):
            broken.setdefault(fault.law, []).append(f"{case.key}: {fault.what}")
    return broken


@pytest.mark.parametrize("law", LAWS)
def test_no_card_breaks_a_law(law: str) -> None:
    assert found().get(law, []) == []


def test_no_other_law_is_broken() -> None:
    assert set(found()) <= {*LAWS, "told"}


HARD: Final = (
    "ends|64:turns:1|record|a4|two:64|metric|False|False",  # three picks, lower than their names
    "ends|78:mixed:1|record|a4|one:79|metric|False|False",  # two, in a face that is lower than both names
    "ends|112:stripes:20261130|bench|letter|two:112|us|False|False",  # 18 stripes, ticked at tens; the last ends at one
    "ends|31:stripes:20261130|handout|half-letter|two:31|us|False|False",  # a wide bracket with letters moved far aside
    "ends|60:singles:7|record|a4|one:60|metric|True|False",  # a stroke between letters right over those of "in turn"
    "ends|70:singles:20261130|bench|a4|two:77|us|False|False",  # 28 steps in one column, the checks beside them
    "ends|70:singles:20261130|bench|letter|two:77|us|False|False",  # in two: the way of balls in turn on its own line
)


@pytest.mark.parametrize("key", HARD)
def test_a_hard_card_breaks_no_law(key: str) -> None:
    assert faults_of(case_of(key), on_paper=True) == []


# Layouts drawn by chance that once were hard, written down: what is drawn changes with every panel that is added.
HARD_LAYOUTS: Final = {
    "the turns left beside a beam in a narrow panel": (
        "four-drips", "treadle-pair", "a5", "turns", 10,
        "[{panel: turns, columns: 4, priority: 1, essential: yes}, {panel: name, columns: 8, priority: 1}]",
    ),
    "the names of pegs in large type, at the very top": (
        "four-drips", "middle-box", "a4", "room", 16, "[{panel: room, columns: 12, priority: 1, essential: yes}]",
    ),
    "a heading of troubles in two lines": (
        "raised-ribs", "middle-box", "a4", "trouble", 14,
        "[{panel: trouble, columns: 4, priority: 1, essential: yes}, {panel: legend, columns: 8, priority: 2}]",
    ),
}  # fmt: skip


@pytest.mark.parametrize("hard", HARD_LAYOUTS)
def test_a_hard_layout_breaks_no_law(hard: str) -> None:
    pattern, loom, paper, panel, size, row = HARD_LAYOUTS[hard]
    small = f"body: {size}, small: {size}, smallest: {size}"
    sizes = f"{{title: {size + 6}, count: {size + 4}, heading: {size + 4}, {small}}}"
    text = f"title: Own\npapers: [{paper}]\nmargin: 8 mm\nribbon: no\ntype: {sizes}\nrows:\n  - {row}\n"
    cut = parse_card_layout(text.encode(), "own.yaml", "own")
    composed = compose_card(plan_of(pattern, loom, "two-chairs"), cut, cut.papers[0], RULER)
    assert panel in {group.name for group in panels(composed)}
    assert list(laws_broken(composed, cut, cut.papers[0])) == []


# The campaign is what it says


def test_the_campaign_leaves_nothing_out() -> None:
    cases = list(all_cases(SEED))
    assert set(on_looms()) == {case[:2] for case in CASES}
    shipped = [case for case in cases if case.kind == "shipped"]
    assert (
        len(shipped)
        == len(set(shipped))
        == len(CASES)
        // 2
        * 2
        * 2
        * 2
        * sum(len(shipped_layout(layout).papers) for layout in {case.layout for case in shipped})
    )
    ends = {int(case.pattern.split(":")[0]) for case in cases if case.kind == "ends"}
    assert ends == set(range(1, MOST_ENDS + 1))
    titles = {case.pattern for case in cases if case.kind == "title"}
    assert titles == {f"{length}:{style}" for length in range(1, LONGEST_TITLE + 1) for style in TITLE_STYLES}
    assert {case.paper for case in cases if case.kind == "own"} == set(PAPERS)


def test_a_line_is_as_long_as_it_should_be() -> None:
    for style in TITLE_STYLES:
        assert [len(line_of(length, style)) for length in range(1, 201)] == list(range(1, 201))
    assert " " not in line_of(200, "one word")


def test_a_case_is_known_by_its_line() -> None:
    for case in sample(SEED, 50):
        assert case_of(case.key) == case


# It can fail


CASE: Final = Case("shipped", "three-paths", "record", "letter", "middle-box")


def laws_of(composed: Composed) -> set[str]:
    return {fault.law for fault in laws_broken(composed, shipped_layout("record"), paper_of("record"))}


def doctored(composed: Composed, group: Group) -> Composed:
    """The card with one panel more, or with another in its stead."""
    marks = [mark for mark in composed.page.marks if not (isinstance(mark, Group) and mark.name == group.name)]
    return replace(composed, page=replace(composed.page, marks=(*marks, group)))


def test_a_word_moved_over_another_is_found() -> None:
    composed = composed_case(CASE)
    title = next(group for group in panels(composed) if group.name == "title")
    first, second, *_ = all_words(title.marks)
    over = second._replace(x=first.x, y=first.y, align=first.align)
    assert "over" in laws_of(doctored(composed, replace(title, marks=(*leaves(title.marks), over))))


def test_a_word_that_is_not_drawn_is_found() -> None:
    """A panel that the file lacks is missed when the file is read back."""
    composed = composed_case(CASE)
    title = next(group for group in panels(composed) if group.name == "title")
    more = replace(title, marks=(*title.marks, next(all_words(title.marks))))
    told = list(read_back_faults(CASE, doctored(composed, more)))
    assert [fault.law for fault in told] == ["read back"]
    assert list(read_back_faults(CASE, composed)) == []


def test_a_card_that_cannot_be_made_is_a_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    """A warp of more steps than one page has lines for, where so many ought to find a place."""
    monkeypatch.setattr("tests.campaign.trial.MOST_STEPS_ON_BENCH", 300)
    case = Case("ends", "300:singles:1", "bench", "letter", "one:300")
    assert [fault.law for fault in faults_of(case)] == ["refused"]


def test_the_laws_have_the_names_of_this_list() -> None:
    named = set(faults_by_law(composed_case(CASE), shipped_layout("record"), paper_of("record")))
    assert named <= set(LAWS)
    assert Fault("panels", "") != Fault("over", "")


def test_only_very_many_stripes_on_a_small_paper_may_be_refused() -> None:
    """On a whole sheet only the bench's list of more than 40 steps; and not a warp of few stripes and ends, however
    small the paper."""
    assert laws_of_case(Case("ends", "75:singles:20261130", "field", "a6", "one:75")) == {"told"}
    assert laws_of_case(Case("ends", "73:singles:20261130", "bench", "a4", "two:75")) == {"told"}
    assert laws_of_case(Case("ends", "25:singles:3", "six-numbers", "3x5", "one:32")) <= {"refused"}


def laws_of_case(case: Case) -> set[str]:
    return {fault.law for fault in faults_of(case)}
