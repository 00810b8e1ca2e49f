"""How long a tape is, in words: what two cards of one warp say agrees."""

from __future__ import annotations

import re

import pytest

from cardmaker.wording import length_words
from tests.helpers.shipped import PATTERNS, plan_for_layout


@pytest.mark.parametrize("pattern", PATTERNS)
def test_a_student_weaves_what_the_record_has_as_finished_and_lost_in_the_wash(pattern: str) -> None:
    """Of a tape without pieces: 187 finished and 6 lost in the wash are 193 to weave; in whole centimetres each."""
    plan = plan_for_layout(pattern, "handout")
    if plan.lengths.pieces_come:
        return
    tries = [re.match(r"Weave about (\d+) cm, ", each) for each in length_words.weave_so_wide(plan, "metric")]
    told = tries[0]
    assert told is not None
    assert {each and each[1] for each in tries} == {told[1]}
    labels = length_words.share_labels(plan.lengths, "metric")
    parts = [int(re.findall(r"\d+", label)[0]) for label in labels if label.startswith(("finished", "wash"))]
    assert int(told[1]) == pytest.approx(sum(parts), abs=1)
