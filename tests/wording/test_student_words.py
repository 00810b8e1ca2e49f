"""What the small cards say to students and visitors: no more than is known."""

from __future__ import annotations

import re
from collections import Counter
from itertools import groupby, pairwise

import pytest

from cardmaker.model.pattern import Source
from cardmaker.model.record_class import replace
from cardmaker.wording.student_words import (
    BARS,
    GUESS,
    HIDDEN_WEFT,
    KNOW,
    MIDDLE,
    NEW_HERE,
    NOT_KNOWN,
    PICKED_UP,
    SHOWN_WEFT,
    SURE,
    UNLIKE_EDGES,
    in_plain_words,
    known,
    threads_by_colour,
    visitor_notes,
    visitor_question,
)
from cardmaker.wording.winding_words import tick_box_note
from tests.helpers.shipped import PATTERNS, plan_of

TWIN = Source("A", what="a loose tape", certainty="ends and colours certain", colour_reason="the inside is darker")


def rows(source: Source | None) -> dict[str, str]:
    return dict(known(source))


def test_nothing_is_said_to_be_known_but_what_the_file_tells() -> None:
    """Of a design of one's own, of a manner and of a tape without a source there is nothing to know."""
    assert rows(Source("F", what="made for the fair")) == {NEW_HERE: "A new design: made for the fair."}
    assert rows(None) == {NOT_KNOWN: "where it comes from."}
    for stem in PATTERNS:
        source = plan_of(stem).pattern.source
        told = rows(source)
        assert (KNOW in told) == (source is not None and source.grade in "ABCD"), stem
        assert KNOW not in told or not source or source.what[:12].lower() in told[KNOW].lower(), stem


def test_a_tape_that_was_never_seen_is_guessed() -> None:
    """What is known of it are the words or the picture that it is made from; a manner is no more than a guess."""
    guess = "how it was woven, and its colours."
    assert rows(Source("E", what="wide straps")) == {GUESS: "In the manner of wide straps."}
    assert rows(Source("C", what="a list")) == {KNOW: "Only words: a list.", GUESS: guess}
    assert rows(Source("D", what="an inn sign")) == {KNOW: "Only a picture: an inn sign.", GUESS: guess}
    told = rows(Source("E", what="wide straps", colour_then="red and white"))
    assert told[GUESS] == "In the manner of wide straps. The colours, red and white."
    assert rows(Source("D", what="a sign", colour_then="red"))[GUESS] == "how it was woven. The colours, red."
    sure = rows(Source("D", what="an inn sign", certainty="five lines certain"))
    assert sure == {KNOW: "Only a picture: an inn sign.", SURE: "five lines certain."}


def test_what_was_copied_is_named_as_a_thing() -> None:
    assert rows(TWIN)[KNOW] == "a loose tape, seen and copied."
    assert rows(Source("B", what="a tie", photograph="in a box"))[KNOW] == "from a photograph of a tie."
    assert rows(Source("B", what="a tie"))[KNOW] == "from a photograph or record of a tie."


def test_the_labels_stand_in_one_order() -> None:
    order = [KNOW, SURE, GUESS, NOT_KNOWN, NEW_HERE]
    for stem in PATTERNS:
        labels = [label for label, _ in known(plan_of(stem).pattern.source)]
        assert labels == sorted(set(labels), key=order.index), stem


def test_visitors_are_told_of_threads() -> None:
    for stem in PATTERNS:
        plan = plan_of(stem)
        texts = [text for label, text in known(plan.pattern.source) if label in (SURE, NEW_HERE)]
        assert not [text for text in texts if re.search(r"\bends\b(?! of a cone)", text)], stem


def test_the_threads_of_each_colour_make_all_of_them() -> None:
    for stem in PATTERNS:
        plan = plan_of(stem)
        counts = [int(count) for count in re.findall(r"\d+", threads_by_colour(plan))]
        assert sum(counts) == plan.ends or threads_by_colour(plan) == f"All of them {plan.end_yarns[0]}.", stem


def test_a_yarn_of_more_than_one_word_is_counted_as_a_stuff() -> None:
    assert threads_by_colour(plan_of("cord-edge")) == "2\N{NO-BREAK SPACE}of brown cord and 20\N{NO-BREAK SPACE}white."


@pytest.mark.parametrize("grade", list("ABCDE"))
def test_how_sure_the_count_is_stands_among_neither_knowledge_nor_guesses(grade: str) -> None:
    """It is free text of both: *ends certain; colours as they are today*. Under *guess* it said what nobody meant."""
    told = rows(replace(TWIN, grade=grade))  # type: ignore[arg-type]
    assert told[SURE] == "ends and colours certain."
    assert not any("certain" in text for label, text in told.items() if label != SURE)


def test_colours_that_are_believed_are_a_guess_with_its_reason() -> None:
    assert rows(TWIN)[GUESS] == "what colours it had once (the inside is darker)."
    assert rows(replace(TWIN, colour_reason="", colour_then="brown"))[GUESS] == "the colours, brown."


def test_where_nothing_is_guessed_no_guess_is_told_beside_how_sure_it_is() -> None:
    plain = Source("A", what="a loose tape")
    assert rows(plain)[NOT_KNOWN] == "all that the source does not say."
    assert {GUESS, NOT_KNOWN}.isdisjoint(rows(replace(plain, certainty="ends certain")))
    assert rows(None)[NOT_KNOWN] == "where it comes from."
    assert GUESS not in rows(plain)
    assert GUESS not in rows(None)


def test_the_bar_under_a_box_is_told_where_there_is_one() -> None:
    assert tick_box_note(True) == "underlined: at the far post"
    assert tick_box_note(False) == "all of them at home"


# A visitor's words


@pytest.mark.parametrize(
    ("uses", "told"),
    [
        (("garter",), "A tape for a garter,"),
        (("apron tie", "garter"), "A tape for an apron tie or a garter,"),
        (("shoe laces",), "A tape for shoe laces,"),
        (("a child's harness", "dress"), "A tape for a child's harness or a dress,"),
        ((), "A tape,"),
    ],
)
def test_what_a_tape_is_for_is_told_in_english(uses: tuple[str, ...], told: str) -> None:
    plan = plan_of("three-paths")
    plan = replace(plan, pattern=replace(plan.pattern, purposes=uses))
    said = [words.replace("\N{NO-BREAK SPACE}", " ") for words in in_plain_words(plan, "metric")]
    assert said == [told, "about 16 mm wide."]
    drawn = in_plain_words(plan, "metric", 0.5)[1].replace("\N{NO-BREAK SPACE}", " ")
    assert drawn == "about 16 mm, drawn smaller."


def test_the_question_is_the_file_s_own_or_one_that_holds_for_every_tape() -> None:
    plan = plan_of("three-paths")
    assert visitor_question(plan) == "Which thread goes from side to side, and why can you not see it?"
    assert visitor_notes(plan) == ["It is plain weaving. All of the pattern is in the order of the threads."]
    silent = replace(plan, pattern=replace(plan.pattern, notes=replace(plan.pattern.notes, visitor=())))
    assert visitor_question(silent) == MIDDLE
    assert "hardly" in visitor_question(plan_of("cord-edge"))  # its weft shows as dots at both edges
    assert visitor_notes(silent) == []


@pytest.mark.parametrize(
    ("pattern", "asked"),
    [("long-sixty", HIDDEN_WEFT), ("peep-edge", SHOWN_WEFT),
     ("nine", MIDDLE), ("wick", MIDDLE), ("off-side", UNLIKE_EDGES),
     ("half-and-half", BARS), ("penned-ladder", BARS), ("five-posts", PICKED_UP), ("broad-wick", HIDDEN_WEFT)],
)  # fmt: skip
def test_a_question_is_of_what_the_tape_shows(pattern: str, asked: str) -> None:
    assert visitor_question(plan_of(pattern)) == asked


def test_questions_hold_for_their_tapes() -> None:
    """Counted here again, from the ends alone."""
    for stem in PATTERNS:
        plan = plan_of(stem)
        ends, asked = plan.end_yarns, visitor_question(plan)
        if asked == HIDDEN_WEFT and not any("side to side" in note for note in plan.pattern.notes.visitor):
            assert {ends[0], ends[-1]} == {plan.weft.yarn}, stem
        if asked == SHOWN_WEFT:
            assert {ends[0], ends[-1]} != {plan.weft.yarn}, stem
        if asked == UNLIKE_EDGES:
            assert ends[0] != ends[-1], stem
        if asked == MIDDLE:
            assert len(ends) % 2, stem
            assert ends == ends[::-1], stem
        if asked == BARS:
            longest = max(
                len(list(group)) for turns, group in groupby(pairwise(ends), lambda pair: pair[0] != pair[1]) if turns
            )
            assert longest >= 5, stem
        assert (asked == PICKED_UP) <= (plan.pickup is not None), stem


def test_a_table_of_tapes_does_not_ask_one_question_over_and_over() -> None:
    asked = Counter(visitor_question(plan_of(stem)) for stem in PATTERNS)
    assert len(asked) >= 8
    assert max(asked.values()) <= len(PATTERNS) / 3, asked


def test_no_shipped_card_asks_for_the_number_that_it_prints() -> None:
    for stem in PATTERNS:
        assert not re.search(r"how many threads", visitor_question(plan_of(stem)), re.IGNORECASE), stem


def test_no_shipped_card_is_certain_of_colours_at_which_it_guesses() -> None:
    """A colour that is believed to have been another once is certain only as it is now."""
    looked_at = 0
    for stem in PATTERNS:
        told = rows(plan_of(stem).pattern.source)
        if "colours" in told.get(GUESS, "") and "colours" in told.get(SURE, ""):
            looked_at += 1
            assert "colours as they are now" in told[SURE], stem
    assert looked_at >= 2


def test_a_design_of_one_s_own_is_called_new_once() -> None:
    assert rows(Source("F", what="made for the fair"))[NEW_HERE] == "A new design: made for the fair."
