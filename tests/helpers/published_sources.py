"""Where published figures come from: every case in ``tests/published`` names one of these works, and the place in it.

A case without a source, from an unknown one, or from a book without its page or chapter fails before it runs
(``tests/published/conftest.py``). Sums of our own have no place there: they stand with the tests of their module.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any, Final, NamedTuple

import pytest


class Work(NamedTuple):
    """A source. ``place`` is the pattern that the place in it must have; ``standing`` is what its word is worth."""

    short: str
    full: str
    standing: str
    place: str = r"\S.*"


_READ: Final = "read in the source, and computed again"
_PAGE: Final = r"(pp?\.\d+(-\d+)?|ch\. [IVXL]+|Part IV)(\b.*)?"
_CLAUSE: Final = r"(Table|scope|footnote|examples)\b.*"

TAYLOR: Final = Work(
    "Taylor", "John T. Taylor, Cotton Weaving and Designing, 6th ed. 1909, ch. XII, pp.307-345", _READ, _PAGE
)
BROOKS: Final = Work("Brooks", "C. P. Brooks, Cotton Manufacturing, 3rd ed. 1892, ch. IX, pp.142-154", _READ, _PAGE)
WOLFENSBERGER: Final = Work(
    "Wolfensberger", "Arnold Wolfensberger, Theory of Silk Weaving, 2nd ed. 1921, pp.68-81", _READ, _PAGE
)
DOOLEY: Final = Work("Dooley", "William H. Dooley, Textiles, rev. ed. 1914", _READ, _PAGE)
DAVIS: Final = Work("Davis", "William Davis, Hosiery Manufacture, 1920 (the year from memory)", _READ, r"on \S.*")
ACST: Final = Work(
    "ACST",
    "C. P. Brooks (ed.), American Correspondence School of Textiles, Calculations, Part IV, 1898",
    "an excerpt, read and computed again",
    _PAGE,
)
D2260: Final = Work(
    "ASTM D2260", "ASTM D2260, tables for converting between yarn counts", "its abstract, computed again", _CLAUSE
)
D1907: Final = Work("ASTM D1907", "ASTM D1907/D1907M-12(2018), linear density by the skein method", _READ, _CLAUSE)
PEIRCE: Final = Work(
    "Peirce",
    "F. T. Peirce, The Geometry of Cloth Structure, J. Textile Inst. 28, 1937, T45",
    "not read: from pages of textile courses that quote it",
    r"T45 on .+",
)
WEAVERS: Final = Work(
    "a weaver", "hand weavers' own published measurements", "one person's word each, and no test method", r".+, \d{4}"
)
WEAVING_PAGES: Final = Work(
    "a weaving page", "pages of yarn shops, magazines and teachers for hand weavers", "trade custom, no authority"
)
PINT: Final = Work("pint", "pint, a library of units that knows nothing of us", "a reference library")
SHAPELY: Final = Work("shapely", "shapely, a library of plane geometry", "a reference library")
SCIPY: Final = Work("scipy", "scipy, numerical integration and optimisation", "a reference library")
HANDBOOK: Final = Work("a handbook", "the belt formulas of any handbook of machine elements", "from memory")

WORKS: Final = (
    TAYLOR, BROOKS, WOLFENSBERGER, DOOLEY, DAVIS, ACST, D2260, D1907, PEIRCE, WEAVERS, WEAVING_PAGES, PINT, SHAPELY,
    SCIPY, HANDBOOK,
)  # fmt: skip
MARK: Final = "published"


def source(work: Work, place: str) -> pytest.MarkDecorator:
    """Marks a whole test: all its figures come from this place."""
    return getattr(pytest.mark, MARK)(work, place)  # type: ignore[no-any-return]


def case(work: Work, place: str, *values: Any) -> Any:
    """One case of a parametrized test, with its source."""
    return pytest.param(*values, id=f"{work.short}, {place}", marks=source(work, place))


def source_fault(marks: Iterable[pytest.Mark]) -> str:
    """What is wrong with a case's own marks: no source, an unknown one, no place in it; nothing when all is well."""
    sources = [mark.args for mark in marks if mark.name == MARK]
    if not sources:
        return "no source: say where the figures come from, or move own sums to the tests of their module"
    for work, place in sources:
        if work not in WORKS:
            return f"{work} is no known source"
        if not re.fullmatch(work.place, place):
            return f"{work.short} needs a place such as {work.place}, not '{place}'"
    return ""
