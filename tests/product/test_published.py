"""No figure among the published ones without its source: the check that holds them can itself fail."""

from __future__ import annotations

import pytest

from tests.helpers.published_sources import D1907, TAYLOR, WEAVERS, WORKS, Work, source, source_fault


def test_a_case_with_a_source_is_sound() -> None:
    for mark in (source(TAYLOR, "p.309"), source(TAYLOR, "ch. XII: 16's"), source(D1907, "scope: yarns")):
        assert source_fault([mark.mark]) == ""


@pytest.mark.parametrize(
    ("marks", "fault"),
    [
        ([], "no source: say where"),
        ([pytest.mark.skipif(False, reason="none").mark], "no source: say where"),
        ([source(TAYLOR, "").mark], "Taylor needs a place"),
        ([source(TAYLOR, "somewhere").mark], "Taylor needs a place"),
        ([source(WEAVERS, "a band").mark], "a weaver needs a place"),
        ([source(Work("nobody", "nobody's book", "none"), "p.1").mark], "is no known source"),
        ([source(TAYLOR, "p.309").mark, source(TAYLOR, " ").mark], "Taylor needs a place"),
    ],
)
def test_a_case_without_its_source_is_found(marks: list[pytest.Mark], fault: str) -> None:
    assert fault in source_fault(marks)


def test_every_work_says_what_its_word_is_worth() -> None:
    assert len({work.short for work in WORKS}) == len(WORKS)
    assert all(work.full and work.standing for work in WORKS)
