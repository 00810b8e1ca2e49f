"""Holds every case here to a source beside its figures."""

from __future__ import annotations

import pytest

from tests.helpers.published_sources import source_fault


def pytest_runtest_setup(item: pytest.Item) -> None:
    """Marks of a whole module do not count: each test, or each of its cases, says it itself."""
    if fault := source_fault(item.own_markers):
        pytest.fail(fault, pytrace=False)
