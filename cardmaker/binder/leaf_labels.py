"""The numbers in the corners of a binder that grows: what stays keeps its own, what comes between gets letters.

Numbers stand in the order in which a dictionary has them: 12, 12a, 12aa, 12b, 13. Right after 12, where 12a is taken
already, stands 12.1, as in decimals; so there is a place between any two.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Sequence
from itertools import islice, product
from string import ascii_lowercase
from typing import Final, NamedTuple

_LABEL: Final = re.compile(r"(0|[1-9][0-9]{0,6})(?:\.?([0-9a-z]{0,40}))?")
_NEXT: Final = dict(zip("0123456789abcdefghijklmnopqrstuvwxy", "123456789abcdefghijklmnopqrstuvwxyz", strict=True))
_BEFORE_ALL: Final = "0"
_LETTERS: Final = len(ascii_lowercase)

LabelParts = tuple[int, str]


def label_parts(label: str) -> LabelParts:
    """What labels are ordered by: a number, and what stands behind it. Raises ValueError for what is no label."""
    match = _LABEL.fullmatch(label)
    parts = (int(match[1]), match[2] or "") if match else (0, "")
    if written(parts) != label or parts[1].endswith("0"):
        raise ValueError(f"{label!a} is no number of a page")
    return parts


def written(parts: LabelParts) -> str:
    """The label: a figure behind the number is parted from it by a point."""
    number, behind = parts
    return f"{number}.{behind}" if behind[:1].isdecimal() else f"{number}{behind}"


def plain_labels(count: int, first: int = 1) -> list[str]:
    """1, 2, 3 and so on."""
    return [str(number) for number in range(first, first + count)]


def labels_between(before: str | None, after: str | None, count: int, taken: Collection[str]) -> list[str]:
    """``count`` labels that stand after ``before`` and before ``after``, in order, none of those ``taken``.

    Where nothing follows they are whole numbers above all that are taken. Many get letters of one length, such as 12aa
    to 12dv: one after the other they would grow longer and longer.
    """
    last, others = label_parts(before or _BEFORE_ALL), [label_parts(label) for label in taken]
    if after is None:
        return plain_labels(count, 1 + max(last[0], *(number for number, _ in others), 0))
    limit = label_parts(after)
    count_with_taken = count + sum(last < other < limit for other in others)
    every = _one_by_one(last, limit) if count_with_taken <= _LETTERS else _of_one_length(last, limit, count_with_taken)
    free = (label for label in map(written, every) if label not in taken)
    return list(islice(free, count))


def _one_by_one(last: LabelParts, limit: LabelParts) -> Iterator[LabelParts]:
    while True:
        last = _next_before(last, limit)
        yield last


def _next_before(last: LabelParts, limit: LabelParts) -> LabelParts:
    """The next after ``last``, the shortest that reads on from it and still stands before ``limit``."""
    number, behind = last
    if behind and behind[-1] in _NEXT and (number, behind[:-1] + _NEXT[behind[-1]]) < limit:
        return number, behind[:-1] + _NEXT[behind[-1]]
    zeros = ""
    for letter in ("a", "1"):
        if (number, f"{behind}{letter}") < limit:
            return number, f"{behind}{letter}"
    while (number, f"{behind}{zeros}1") >= limit:
        zeros += "0"
    return number, f"{behind}{zeros}1"


def _of_one_length(last: LabelParts, limit: LabelParts, count: int) -> Iterator[LabelParts]:
    """At least ``count`` of them, with as many letters each as that takes."""
    while (last[0], f"{last[1]}zzzzz") >= limit:  # until all that read on from it stand before the limit
        last = _next_before(last, limit)
    length = 1
    while _LETTERS**length < count:
        length += 1
    number, behind = last
    return ((number, behind + "".join(letters)) for letters in product(ascii_lowercase, repeat=length))


def heaviest_rising(values: Sequence[int], weights: Sequence[int]) -> list[int]:
    """The places of those ``values`` that rise from one to the next and weigh most together.

    A tree of prefix maxima (Fenwick 1994, from memory): a binder has thousands of leaves.
    """
    size = max(values, default=-1) + 1
    best: list[_Chain] = [_NO_CHAIN] * (size + 1)
    before: list[int] = []
    for place, value in enumerate(values):
        longest = _best_below(best, value)
        before.append(longest.end)
        longer, at = _Chain(longest.weight + weights[place], place), value + 1
        while at <= size:
            best[at] = max(best[at], longer)
            at += at & -at
    end, chain = _best_below(best, size).end, []
    while end >= 0:
        chain.append(end)
        end = before[end]
    return chain[::-1]


class _Chain(NamedTuple):
    weight: int
    end: int  # the place of its last


_NO_CHAIN: Final = _Chain(0, -1)


def _best_below(best: Sequence[_Chain], value: int) -> _Chain:
    found = _NO_CHAIN
    while value > 0:
        found = max(found, best[value])
        value &= value - 1
    return found
