"""The cells of a page of tapes, and what is wrong with them by the laws that cards keep."""

from __future__ import annotations

from collections.abc import Iterator

from cardmaker.model.marks import Box, Group, Page
from tests.helpers.card_faults import astray, collisions, cut_off, fused, overlapping_panels, struck, too_small


def cells_of(page: Page) -> list[Group]:
    return [mark for mark in page.marks if isinstance(mark, Group) and mark.role == "panel"]


def faults_of(page: Page, printable: Box, smallest: float) -> Iterator[str]:
    cells = cells_of(page)
    yield from overlapping_panels(cells)
    yield from astray(cells, printable)
    for cell in cells:
        inside = [mark for mark in cell.marks if isinstance(mark, Group)]
        found = [
            *overlapping_panels(inside), *astray(inside, cell.box), *collisions(inside), *fused(inside),
            *cut_off(inside), *struck(inside), *too_small(inside, smallest),
        ]  # fmt: skip
        yield from (f"{cell.name}: {fault}" for fault in found)
