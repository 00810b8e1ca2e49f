"""Notes: on paper they speak to a weaver, in a terminal to whoever has the file at hand."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from cardmaker.card.composing import compose_card
from cardmaker.model.loom import Space
from cardmaker.model.plan import Note
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.wording import note_words
from cardmaker.wording.heddle_words import name_on_board
from cardmaker.wording.note_words import note_sentence, thick_end_sentences
from cardmaker.wording.report import plan_text
from tests.helpers.paper_tools import RULER
from tests.helpers.screen_reader_text import text_read_aloud
from tests.helpers.shipped import plan_for_layout, shipped_layout

OF_FILES = re.compile(r"\bfile\b|\w_\w|\w: (?:slots|left|front)|spell|`|\bkey\b")


def test_no_note_on_paper_speaks_of_a_file() -> None:
    """That the search finds such words is seen in the sentences for the terminal."""
    on_paper = {**note_words._NOTES, **note_words.BENCH_NOTES, **note_words._IN_BRIEF}
    bare = {key: re.sub(r"\{\w+\}", "x", text) for key, text in on_paper.items()}
    assert {key: text for key, text in bare.items() if OF_FILES.search(text)} == {}
    assert all(OF_FILES.search(text) for text in note_words._OF_FILE.values())
    assert set(note_words._OF_FILE) <= set(on_paper)


def test_the_terminal_says_what_to_write_and_the_card_does_not() -> None:
    plan = plan_for_layout("cord-edge", "record")
    (note,) = [note for note in plan.notes if note.about == "placement"]
    assert "say spaces: slots in the file" in plan_text(plan, "metric")
    assert note_sentence(note, "metric") == (
        "1 of the 2 thick brown cord ends lies in a hole, where it may stick: pull it through before the rest is "
        "threaded. With 21 or 23 ends in all, an odd number of them between each two thick ones, every thick one can "
        "lie in a slot."
    )


@pytest.mark.parametrize(
    ("count", "of", "told"),
    [
        (1, 1, "The thick cord end lies in a hole, where it may stick: pull it"),
        (2, 2, "Both thick cord ends lie in a hole, where they may stick: pull them"),
        (5, 5, "All 5 thick cord ends lie in a hole, where they may stick: pull them"),
        (2, 5, "2 of the 5 thick cord ends lie in a hole, where they may stick: pull them"),
    ],
)
def test_thick_ends_are_counted_as_one_says_it(count: int, of: int, told: str) -> None:
    values: dict[str, str | int | Fraction] = {"count": count, "of": of, "yarn": "cord"}
    note = Note("warning", "placement", "thick_in_hole", values)
    assert note_sentence(note, "metric") == f"{told} through before the rest is threaded."
    names = [f"L{number}" for number in range(count, 0, -1)]
    holes = {1: "end at L1, a hole, before", 2: "ends at L2 and L1, holes, before", 5: "ends in holes before"}[count]
    it = "it" if count == 1 else "they"
    assert thick_end_sentences([note], "metric", {"cord": names}.__getitem__) == [
        f"Thread the cord {holes} all others: {it} may stick."
    ]
    no_weight = Note("advice", "yarn", "no_weight", {"yarn": "cord"})
    assert thick_end_sentences([no_weight], "metric", {"cord": names}.__getitem__) == []


@pytest.mark.parametrize("layout", ["handout", "handout-large", "bench"])
@pytest.mark.parametrize("left_hand", [False, True])
def test_a_thick_end_that_may_stick_is_named_by_its_hole(layout: str, left_hand: bool) -> None:
    """The cord at one edge of 22 ends in a small box, and the middle one of three, where the mark is."""
    for pattern, hole in (("cord-edge", "R10"), ("three-sparks", "0")):  # from either edge
        plan = plan_as_seen(plan_for_layout(pattern, layout), Viewpoint(left_hand))
        drawn = compose_card(plan, shipped_layout(layout), shipped_layout(layout).papers[0], RULER)
        yarn = next(yarn for yarn in plan.end_yarns if "cord" in yarn)
        held = [
            plan.placement.space_of(number)
            for number, kind in enumerate(plan.placement.kinds, 1)
            if kind is Space.HOLE and plan.end_yarns[number - 1] == yarn
        ]
        (name,) = [name_on_board(space, plan.loom) for space in held]
        assert name == hole
        told = " ".join(text_read_aloud(drawn.page).split())
        assert f"Thread the {yarn} end at {name}, a hole, before all others: it may stick." in told
