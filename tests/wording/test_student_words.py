"""What the small cards say to students and visitors: no more than is known."""

from __future__ import annotations

import pytest

from cardmaker.model.pattern import Source
from cardmaker.wording.student_words import GUESS, KNOW, known
from cardmaker.wording.winding_words import tick_boxes


@pytest.mark.parametrize("grade", ["E", "F"])
def test_without_an_old_tape_only_the_weaving_is_known(grade: str) -> None:
    """A style and a design of one's own are no knowledge of what was once made."""
    told = dict(known(Source(grade, what="wide straps with lined edges")))  # type: ignore[arg-type]
    assert told[KNOW] == "how it is woven, which you see here."


def test_a_style_is_told_among_the_guesses() -> None:
    told = dict(known(Source("E", what="wide straps")))
    assert told[GUESS] == "In the manner of wide straps. There is no single source."
    told = dict(known(Source("E", what="wide straps", certainty="width by eye")))
    assert told[GUESS] == "In the manner of wide straps. There is no single source. Width by eye."


def test_the_foot_of_a_box_is_told_where_there_is_one() -> None:
    assert tick_boxes(True) == "Tick as you wind; a box with a foot is at the far post."
    assert tick_boxes(False) == "Tick as you wind; every total is reached at home."
