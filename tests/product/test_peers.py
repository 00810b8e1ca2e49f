"""The benchmark against other ways to draw a card compares pictures: it must see when a card is not the same."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest

from cardmaker.jobs import file_lookup, loading, plan_making
from cardmaker.model.marks import Dot, Group, Line, Mark, Page, Path, Rectangle, Stamp, Words
from tests.benchmarks.bare import bare_reportlab
from tests.benchmarks.card import page_of
from tests.benchmarks.peers.marks import copies, drawn, moved
from tests.benchmarks.peers.pictures import difference
from tests.helpers.painted import paint


@pytest.fixture(scope="module")
def page() -> Page:
    path = file_lookup.find("pattern", "three-paths")
    return page_of(plan_making.plan_for(loading.load_pattern(path), plan_making.load_plan_setup(None, None)), "record")


def test_the_same_card_by_plain_calls_is_the_same(page: Page) -> None:
    assert difference(paint([page], title="card"), bare_reportlab([page])).is_small


def test_the_marks_that_others_are_given_make_the_same_card(page: Page) -> None:
    """Out of their groups, by their left ends, and stamps written out."""
    marks: list[Mark] = []
    for mark in drawn(page):
        marks += copies(mark) if isinstance(mark, Stamp) and mark.dy * mark.count <= mark.clip.height else [mark]
    assert not any(isinstance(mark, Group) for mark in marks)
    assert difference(paint([page], title="card"), paint([replace(page, marks=tuple(marks))], title="card")).is_small


@pytest.mark.parametrize("kind", [Line, Rectangle, Dot, Path, Words, Stamp])
def test_a_card_without_a_kind_of_mark_is_another(page: Page, kind: type) -> None:
    marks = tuple(mark for mark in drawn(page) if not isinstance(mark, kind))
    assert not difference(paint([page], title="card"), bare_reportlab([replace(page, marks=marks)])).is_small


@pytest.mark.parametrize(("right", "down"), [(1.0, 0.0), (0.0, 1.0)])
def test_a_card_that_is_elsewhere_is_another(page: Page, right: float, down: float) -> None:
    plain: Iterable[Mark] = (mark for mark in drawn(page) if not isinstance(mark, Stamp))
    marks = tuple(moved(mark, right, down) for mark in plain)
    assert not difference(paint([page], title="card"), bare_reportlab([replace(page, marks=marks)])).is_small
