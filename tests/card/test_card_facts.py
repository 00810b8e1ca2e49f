"""What belongs to a card stands on it: finished cards of all shipped patterns against the lists of their layouts."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from functools import cache

import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.card.facts import ALWAYS_ON, FACTS
from cardmaker.jobs.loading import load_sheet
from cardmaker.model.card_layout import CardLayout
from cardmaker.model.plan import Plan
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.reckoning.stripes.colour_clash import colour_clash_notes
from cardmaker.reckoning.threading.mirror import plan_as_seen, weavers_view
from cardmaker.reckoning.threading.placement import space_label
from cardmaker.wording import (
    formatters,
    heddle_words,
    length_words,
    loom_words,
    rescue_words,
    student_words,
    title_words,
    trouble_words,
)
from tests.helpers.card_facts import APPLIES
from tests.helpers.card_faults import all_words
from tests.helpers.places import shipped_in
from tests.helpers.shipped import LAYOUTS, SLIPS, plan_for_layout, shipped_layout

PATTERNS = [path.stem for path in shipped_in("patterns")]

PICKUP = {"pickup", "pickup card"}


@cache
def made(pattern: str, layout: str, *, left_hand: bool = False) -> tuple[Plan, CardLayout, Composed]:
    of = shipped_layout(layout)
    plan = plan_for_layout(pattern, layout)
    if left_hand:
        plan = plan_as_seen(plan, weavers_view(plan.loom, left_hand=True))
    return plan, of, compose_card(plan, of, of.papers[0], TypeRuler())


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("left_hand", [False, True])
def test_what_always_belongs_to_a_card_is_on_its_front(layout: str, left_hand: bool) -> None:
    lacking = {}
    for pattern in PATTERNS:
        plan, of, composed = made(pattern, layout, left_hand=left_hand)
        wanted = [fact for fact in of.facts.front if fact not in APPLIES or APPLIES[fact](plan)]
        if missing := [fact for fact in wanted if fact not in composed.printed]:
            lacking[pattern] = missing
    assert lacking == {}


@pytest.mark.parametrize("layout", LAYOUTS)
def test_what_found_no_room_is_told(layout: str) -> None:
    for pattern in PATTERNS:
        plan, of, composed = made(pattern, layout)
        wanted = [fact for fact in of.facts.room if fact in APPLIES and APPLIES[fact](plan)]
        told = composed.printed | set(composed.left_out)
        if composed.printed & PICKUP:  # the rows stand on the card, or the line that leads to them
            told |= PICKUP
        assert set(wanted) <= told, pattern


def test_a_record_has_results_and_other_looms_nearly_always() -> None:
    lacking = Counter(
        fact for pattern in PATTERNS for fact in made(pattern, "record")[2].left_out if fact in ("results", "looms")
    )
    assert all(count <= 3 for count in lacking.values()), lacking


# What every list names


@pytest.mark.parametrize("layout", [*LAYOUTS, *SLIPS])
def test_a_list_names_no_fact_twice(layout: str) -> None:
    facts = shipped_layout(layout).facts
    names = [*facts.front, *facts.room, *facts.back]
    assert len(names) == len(set(names))
    assert set(names) <= set(FACTS)


def test_every_fact_belongs_to_some_card() -> None:
    of_replaced = {"replaced"}  # stands on a card when it is asked for
    sheets = [load_sheet(path).facts for path in shipped_in("layouts/sheets")]
    lists = [*(shipped_layout(layout).facts for layout in (*LAYOUTS, *SLIPS)), *sheets]
    listed = {fact for facts in lists for fact in (*facts.front, *facts.room, *facts.back)}
    assert set(FACTS) - of_replaced - listed == set()


def test_the_card_that_is_named_for_a_fact_always_has_it() -> None:
    for fact, layout in ALWAYS_ON.items():
        assert fact in shipped_layout(layout).facts.front, f"{fact} on {layout}"


@pytest.mark.parametrize("layout", LAYOUTS)
def test_what_is_on_a_card_is_in_its_lists(layout: str) -> None:
    facts = shipped_layout(layout).facts
    printed = {fact for pattern in PATTERNS for fact in made(pattern, layout)[2].printed}
    assert printed <= {*facts.front, *facts.room}


# That a fact is printed where it is said to be: its words, read from the page


def _words(composed: Composed) -> str:
    return re.sub(
        r"\s+", " ", " ".join(words.text for words in all_words(composed.page.marks)).replace("\N{NO-BREAK SPACE}", " ")
    )


EVIDENCE: dict[str, Callable[[Plan], list[str]]] = {
    "title": lambda plan: [plan.pattern.title],
    "ends": lambda plan: [f"{plan.ends}"],
    "first space": lambda plan: [space_label(plan.placement.first_space, plan.loom)],
    "results": lambda plan: [length_words.RESULTS, *length_words.RESULT_BLANKS],
    "looms": lambda plan: [loom_words.LOOMS, *(other.title for other in plan.other_looms)],
    "rescue": lambda plan: [rescue_words.RESCUE],
    "warp": lambda plan: [formatters.warp_length(plan.lengths.wind_mm, "metric").split(" (")[0]],
    "name line": lambda plan: [student_words.NAME_LINE],
    "closeness": lambda plan: [length_words.closeness(plan)],
    "thick ends": lambda plan: heddle_words.thick_ends_first(plan, "metric"),
    "legend": lambda plan: [colour.yarn for colour in plan.colours],
}

# The same where a small card tells it in a line of its own, every figure by itself.
IN_A_LINE: dict[str, Callable[[Plan], list[str]]] = {
    "closeness": lambda plan: [f" {formatters.decimal(plan.weft.picks_per_inch, 0)}/in."],
    "length to weave": lambda plan: [f"bout {formatters.tape_length_alone(plan.lengths.woven_mm, 'metric')}, "],
    "width": lambda plan: [f"{title_words.likely_width(plan.width, 'metric', alone=True)}"],
    "pieces on the loom": lambda plan: [
        formatters.woven_length(piece.on_loom_mm, "metric", alone=True) for piece in plan.lengths.pieces if piece.come
    ],
    "between pieces": lambda plan: ["picks" if plan.lengths.pieces[-1].fringe_mm == 0 else "bare"],
}
WITH_A_LINE = ("field", "field-folded", "six-numbers")


@pytest.mark.parametrize("layout", LAYOUTS)
def test_the_words_of_a_fact_are_on_the_page(layout: str) -> None:
    evidence = {**EVIDENCE, **(IN_A_LINE if layout in WITH_A_LINE else {})}
    for pattern in PATTERNS:
        plan, _, composed = made(pattern, layout)
        words = _words(composed).replace(" picks/in.", "/in.")
        for fact in composed.printed & set(evidence):
            assert [each for each in evidence[fact](plan) if each not in words] == [], f"{pattern}: {fact}"


@pytest.mark.parametrize("pattern", PATTERNS)
def test_a_handout_has_two_kinds_of_trouble_at_least(pattern: str) -> None:
    words = _words(made(pattern, "handout")[2])
    questions = {question for fuzzy in (False, True) for question, _ in trouble_words.trouble(fuzzy, brief=True)}
    assert sum(question in words for question in questions) >= 2


WITH_WARNING = ("handout", "handout-large", "any-loom", "handout-wind", "handout-dress", "handout-weave", "bench")


@pytest.mark.parametrize("layout", WITH_WARNING)
def test_yarns_that_look_alike_are_warned_of_where_they_are_told_apart(layout: str) -> None:
    """Every two neighbours of the warp that the record warns of are named on the cards for the hands: in front, or
    where there is no room for it, behind."""
    assert [pattern for pattern in PATTERNS if colour_clash_notes(made(pattern, "record")[0])]
    for pattern in PATTERNS:
        plan, of = plan_for_layout(pattern, layout), shipped_layout(layout)
        front = compose_card(plan, of, of.papers[0], TypeRuler(), with_back=bool(of.back))
        sides = [side for side in (front, front.back) if side]
        text = " ".join(word.text for side in sides for word in all_words(side.page.marks)).replace("\xa0", " ")
        pairs = [(str(note.values["one"]), str(note.values["other"])) for note in colour_clash_notes(plan)]
        assert len(re.findall("look alike", text)) == len(pairs), pattern
        for one, other in pairs:
            assert re.search(rf"{one} and {other} look alike", text, re.IGNORECASE)
            assert any("alike" in side.printed for side in sides)
