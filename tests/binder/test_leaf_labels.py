"""The numbers of leaves that come between others: always a place, always in order, and short."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.binder.leaf_labels import heaviest_rising, label_parts, labels_between, plain_labels


@pytest.mark.parametrize(
    ("before", "after", "labels"),
    [
        ("12", "13", ["12a", "12b", "12c"]),
        ("12a", "13", ["12b", "12c", "12d"]),
        ("12a", "12b", ["12aa", "12ab", "12ac"]),
        ("12", "12a", ["12.1", "12.2", "12.3"]),
        ("12", "12.1", ["12.01", "12.02", "12.03"]),
        ("12z", "13", ["12za", "12zb", "12zc"]),
        ("12a", "12aa", ["12a1", "12a2", "12a3"]),
        ("12", None, ["13", "14", "15"]),
        ("12b", None, ["13", "14", "15"]),
        (None, "1", ["0a", "0b", "0c"]),
    ],
)
def test_what_comes_between_has_letters_and_before_letters_figures(
    before: str | None, after: str | None, labels: list[str]
) -> None:
    assert labels_between(before, after, 3, ()) == labels


def test_a_number_that_was_taken_out_is_not_given_again() -> None:
    assert labels_between("12", "13", 2, ("12", "12a", "13")) == ["12b", "12c"]
    assert labels_between("12", None, 2, ("12", "13", "14a")) == ["15", "16"]


def test_many_labels_stay_short() -> None:
    labels = labels_between("12", "13", 2000, ())
    assert labels[:2] == ["12aaa", "12aab"]
    assert len(set(labels)) == 2000
    assert max(map(len, labels)) == 5


@given(st.lists(st.tuples(st.integers(0, 200), st.integers(1, 40)), max_size=12), st.integers(1, 5))
def test_there_is_a_place_between_any_two_however_often_leaves_come(
    additions: list[tuple[int, int]], first: int
) -> None:
    labels = plain_labels(first)
    for place, count in additions:
        at = place % (len(labels) + 1)
        before, after = (labels[at - 1] if at else None), (labels[at] if at < len(labels) else None)
        labels[at:at] = labels_between(before, after, count, labels)
    parts = list(map(label_parts, labels))
    assert all(before < after for before, after in pairwise(parts))
    assert len(set(labels)) == first + sum(count for _, count in additions)


@pytest.mark.parametrize("label", ["", "a", "12.", "12.a", "12.10", "012", "-1", "12A", "12 a", "1" * 9, "12é"])
def test_what_is_no_label_is_refused(label: str) -> None:
    with pytest.raises(ValueError, match="is no number of a page"):
        label_parts(label)


@given(st.permutations(range(7)), st.lists(st.sampled_from((1, 20)), min_size=7, max_size=7))
def test_the_leaves_that_keep_their_order_weigh_as_much_as_any(values: list[int], weights: list[int]) -> None:
    """Held against every choice of some of seven."""
    chain = heaviest_rising(values, weights)
    assert all(values[before] < values[after] for before, after in pairwise(chain))
    choices = (some for count in range(8) for some in combinations(range(7), count))
    rising = [some for some in choices if all(values[a] < values[b] for a, b in pairwise(some))]
    assert sum(weights[at] for at in chain) == max(sum(weights[at] for at in some) for some in rising)


def test_nothing_rises_in_nothing() -> None:
    assert heaviest_rising([], []) == []
