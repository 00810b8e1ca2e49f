"""The slips of a handout in stages: what a student asks at each, read from the finished cards, fronts and backs."""

import re
from collections.abc import Callable, Iterable
from functools import cache

import pytest

from cardmaker.card.composing import compose_card
from cardmaker.model.dressing_acts import Act
from cardmaker.model.plan import Placement, Plan
from cardmaker.model.record_class import replace
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.reckoning.on_loom.dressing_steps import acts_in_order, acts_of_slip
from cardmaker.wording import (
    dressing_words,
    heddle_words,
    length_words,
    rescue_words,
    shed_words,
    stage_words,
    trouble_words,
)
from tests.helpers.card_faults import all_words
from tests.helpers.shipped import PATTERNS, plan_for_layout, shipped_layout

Answer = Callable[[Plan], Iterable[str]]


def plain(text: str) -> str:
    return re.sub(r"\s+", " ", text.replace("\N{NO-BREAK SPACE}", " "))


@cache
def printed(pattern: str, layout: str) -> str:
    """All words of a card and of its back, in a row."""
    of = shipped_layout(layout)
    card = compose_card(plan_for_layout(pattern, layout), of, of.papers[0], TypeRuler(), with_back=True)
    sides = (card, card.back) if card.back else (card,)
    return plain(" ".join(words.text for side in sides for words in all_words(side.page.marks)))


def act(which: Act, *fields: str) -> Answer:
    def answer(plan: Plan) -> list[str]:
        words = dressing_words.words_of_act(which, plan, "metric")
        return [getattr(words, field) for field in fields]

    return answer


def asked(question: str, lines: Callable[[Plan], list[stage_words.Line]]) -> Answer:
    """The answer to a question of a slip; nothing where this warp does not ask it."""
    return lambda plan: [f"{each} {answer}" for each, answer in lines(plan) if each == question]


def trouble(number: int) -> Answer:
    return lambda plan: [" ".join(trouble_words.line_of(number, plan))]


def new_end(plan: Plan) -> list[str]:
    assert plan.rescue is not None
    return [rescue_words.new_end_lengths(plan.rescue.replacements, "metric")]


def dress_lines(plan: Plan) -> list[stage_words.Line]:
    return stage_words.dress_lines(plan, is_wound=False)


def weave_lines(plan: Plan) -> list[stage_words.Line]:
    return stage_words.weave_lines(plan, "metric")


ANSWERS: dict[str, tuple[str, Answer]] = {
    "a knot in the cone": ("handout-wind", asked("A knot, or the yarn ends?", stage_words.wind_lines)),
    "how tight": ("handout-wind", asked("How tight?", stage_words.wind_lines)),
    "linen springs off": ("handout-wind", asked("The linen springs?", stage_words.wind_lines)),
    "two balls at once": ("handout-wind", asked("One and one in turn?", stage_words.wind_lines)),
    "which end goes through the heddle": ("dressing", lambda plan: [dressing_words.way_round(plan.loom)]),
    "the cross on the hand": ("handout-dress", act(Act.CROSS, "do")),
    "which end comes first": ("dressing", act(Act.CROSS, "numbers")),
    "mark first": ("handout-dress", asked("Lose your place?", dress_lines)),
    "seen from where": ("dressing", lambda plan: [heddle_words.first_place(plan)]),
    "a space is skipped": ("handout-dress", trouble(trouble_words.TWO_TOGETHER)),
    "ends are crossed": ("handout-dress", trouble(trouble_words.NARROW)),
    "look through both sheds": ("handout-dress", asked("All threaded?", dress_lines)),
    "one end over": ("handout-dress", trouble(trouble_words.ONE_OVER)),
    "a damaged space": ("handout-dress", asked("A damaged space?", dress_lines)),
    "what to pull with": ("handout-dress", asked("Hard to see?", dress_lines)),
    "tie to the beam": ("handout-dress", act(Act.TIE_ON, "do")),
    "wind on": ("handout-dress", act(Act.WIND_ON, "do")),
    "the front tie": ("handout-dress", act(Act.FRONT_TIE, "do")),
    "level": ("dressing", act(Act.FRONT_TIE, "how")),
    "tie the loom": ("handout-dress", act(Act.TIE_LOOM, "do")),
    "fill the shuttle": ("handout-weave", act(Act.SHUTTLE, "do")),
    "the first pick": ("handout-weave", act(Act.FIRST_PICK, "do")),
    "how close to beat": ("handout-weave", lambda plan: [f"Beat {length_words.closeness(plan, per_cm=True)}."]),
    "how close to beat, on the page": ("dressing", lambda plan: [f"Beat {length_words.closeness(plan, per_cm=True)}."]),
    "the first inches": ("dressing", act(Act.FIRST_PICK, "how")),
    "bars slant": ("handout-weave", asked("The bars slant?", weave_lines)),
    "the shed sticks": ("handout-weave", trouble(trouble_words.STICKS)),
    "one end is slack": ("handout-weave", trouble(trouble_words.SLACK_END)),
    "an end breaks": ("handout-weave", trouble(trouble_words.BREAKS)),
    "how long a new end is": ("bench", new_end),
    "an end frays": ("handout-weave", asked("An end frays?", weave_lines)),
    "join the weft": ("handout-weave", asked("Weft runs out?", weave_lines)),
    "unweave": ("handout-weave", asked("A mistake farther back?", weave_lines)),
    "which shed is next": ("handout-weave", lambda plan: [f"{shed_words.NOT_SURE} {shed_words.TUG_IT}"]),
    "advance": ("handout-weave", act(Act.MOVE_ON, "do")),
    "mark the edge": ("handout-weave", asked("How much is woven?", weave_lines)),
    "the end of the warp": ("dressing", act(Act.FINISH, "do", "numbers")),
    "finish the ends": ("handout-weave", asked("At the end of the tape?", weave_lines)),
    "wash and wind off": ("dressing", act(Act.FINISH, "how")),
}


@pytest.mark.parametrize("pattern", ["three-paths", "fair-day", "penned-ladder"])
@pytest.mark.parametrize("question", ANSWERS)
def test_a_default_card_answers(question: str, pattern: str) -> None:
    layout, answer = ANSWERS[question]
    words = printed(pattern, layout)
    assert [each for each in answer(plan_for_layout(pattern, layout)) if plain(each) not in words] == []


def test_what_only_some_warps_ask_is_told_of_those() -> None:
    """Bars slant and are wound by two balls at once; linen springs. The others have nothing of it."""
    of_bars = [ANSWERS[each][1] for each in ("bars slant", "two balls at once")]
    for pattern, asks in (("penned-ladder", 1), ("three-paths", 0), ("fair-day", 0)):
        assert [len([*answer(plan_for_layout(pattern, "handout-wind"))]) for answer in of_bars] == [asks, asks]
    linen = ANSWERS["linen springs off"][1]
    assert len([*linen(plan_for_layout("three-paths", "handout-wind"))]) == 1
    plan = plan_for_layout("three-paths", "handout-wind")
    cotton = replace(plan.pattern, yarns=tuple(replace(yarn, fibre="cotton") for yarn in plan.pattern.yarns))
    assert [*linen(replace(plan, pattern=cotton))] == []


@pytest.mark.parametrize("pattern", PATTERNS)
def test_every_slip_tells_which_is_next_and_no_other(pattern: str) -> None:
    ends = {
        "handout-wind": stage_words.NEXT_AFTER_WINDING,
        "handout-dress": stage_words.NEXT_AFTER_DRESSING,
        "handout-weave": stage_words.NO_NEXT,
    }
    for layout in ends:
        assert [each in printed(pattern, layout) for each in ends.values()] == [each == layout for each in ends]


def test_a_damaged_space_is_left_with_its_neighbour_where_two_are_to_spare() -> None:
    """Three Paths leaves 1 and 1 empty; moved one space to the left, 0 and 2; to the right, 2 and 0."""
    plan = plan_for_layout("three-paths", "handout-dress")

    def cure(first_space: int) -> str:
        placed: Placement = replace(plan.placement, first_space=first_space)
        ((_, told),) = stage_words.damaged_space(replace(plan, placement=placed))
        return told

    assert plan.placement.first_space == 2
    assert cure(2) == "This warp has no two spaces to spare: ask for another heddle."
    assert cure(1) == "Leave it and the next one empty; all that follow lie two spaces farther."
    assert cure(3) == "Leave it and the next one empty, and begin two spaces sooner."
    ((_, both),) = stage_words.damaged_space(plan_for_layout("fair-day", "handout-dress"))
    assert both == "Leave it and the next one empty in both heddles; all that follow lie two spaces farther."


def test_the_outer_spaces_are_marked_first() -> None:
    assert stage_words.mark_first(plan_for_layout("three-paths", "handout-dress")).startswith("Mark L15 and R15 first")
    one = plan_for_layout("three-paths", "handout-dress")
    alone = replace(one.placement, first_space=17, kinds=one.placement.kinds[:1])
    assert stage_words.mark_first(replace(one, placement=alone)).startswith("Mark 0 first")


@pytest.mark.parametrize("pattern", ["three-paths", "fair-day"])
@pytest.mark.parametrize("beam_first", [False, True])
def test_the_slips_draw_the_steps_of_dressing_in_their_order(pattern: str, beam_first: bool) -> None:
    """The board stands for the steps that only count; no step is on two slips; a threaded loom begins in front."""
    loom = replace(plan_for_layout(pattern, "handout-dress").loom, beam_first=beam_first)
    drawn = [each for slip in ("wind", "dress", "weave") for each in acts_of_slip(slip, loom)]
    on_board = {Act.THREAD, Act.TWO_HEDDLES, Act.FINISH}
    assert drawn == [each for each in acts_in_order(loom) if each not in on_board]
    assert acts_of_slip("weave", loom, is_threaded=True) == (Act.FRONT_TIE, Act.TIE_LOOM, Act.FIRST_PICK)
