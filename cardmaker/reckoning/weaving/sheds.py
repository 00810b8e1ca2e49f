"""What shows in each shed: the raised ends, and the stripes that they make.

In warp-faced plain weave only the raised ends show, each about two ends wide; the others show on the back. Common
practice, checked by simulation; no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from cardmaker.model.loom import Space
from cardmaker.model.plan import Placement, Sheds


def both_sheds(placement: Placement) -> Sheds:
    """The raised ends of each shed, as end numbers from the left.

    Pressed down, the slot ends go down and the hole ends stay on top; lifted up, the slot ends are on top. On two
    heddles down raises the hole ends of the front one, and up the others, which are the hole ends of the back one.
    """
    kinds = tuple(enumerate(placement.kinds, start=1))
    return Sheds(
        down=tuple(end_number for end_number, kind in kinds if kind is Space.HOLE),
        up=tuple(end_number for end_number, kind in kinds if kind is Space.SLOT),
    )


def raised_runs(raised: Sequence[int], yarns: Sequence[str]) -> tuple[tuple[str, int], ...]:
    """The raised ends of one shed as stripes of one yarn each, left to right: two blue, eight white, two blue."""
    shown = (yarns[end_number - 1] for end_number in sorted(raised))
    return tuple((yarn, len(tuple(neighbours))) for yarn, neighbours in groupby(shown))
