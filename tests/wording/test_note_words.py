"""Notes: on paper they speak to a weaver, in a terminal to whoever has the file at hand."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from cardmaker.model.plan import Note
from cardmaker.wording import note_words
from cardmaker.wording.note_words import note_sentence, thick_end_sentences
from cardmaker.wording.report import plan_text
from tests.helpers.shipped import plan_for_layout

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
        "threaded. With 21 or 23 ends in all, every thick one can lie in a slot."
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
    ends = "end" if count == 1 else "ends"
    it = "it" if count == 1 else "them"
    assert thick_end_sentences([note], "metric") == [
        f"{count} thick cord {ends} in a hole may stick: pull {it} through before you thread the rest."
    ]
    assert thick_end_sentences([Note("advice", "yarn", "no_weight", {"yarn": "cord"})], "metric") == []
