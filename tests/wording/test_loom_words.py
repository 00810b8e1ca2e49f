"""The loom's sentences."""

from __future__ import annotations

from dataclasses import replace

from cardmaker.card.composing import compose_card
from cardmaker.model.marks import Group
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.wording.loom_words import marks_of_files
from tests.helpers.screen_reader_text import text_read_aloud
from tests.helpers.shipped import paper_of, plan_of, shipped_layout


def test_a_loom_s_own_mark_stands_by_its_name_once() -> None:
    plan = plan_of("two-rails")
    assert plan.loom.marked_as == plan.pattern.marked_as == "sample data, invented"
    assert marks_of_files(plan) == ""
    owned = replace(plan, pattern=replace(plan.pattern, marked_as=""))
    assert marks_of_files(owned) == "Small box: sample data, invented"
    assert marks_of_files(replace(owned, loom=replace(plan.loom, marked_as=""))) == ""


def test_the_mark_of_a_loom_is_on_record_and_bench() -> None:
    plan = plan_of("two-rails")
    own = replace(plan, pattern=replace(plan.pattern, marked_as=""))
    for layout in ("record", "bench"):
        page = compose_card(own, shipped_layout(layout), paper_of(layout), TypeRuler()).page
        assert any(isinstance(mark, Group) for mark in page.marks)
        assert "Small box: sample data, invented." in " ".join(text_read_aloud(page).split())
