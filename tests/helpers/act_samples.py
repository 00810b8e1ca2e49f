"""One warp on one loom, for pictures of dressing that are drawn without a card round them."""

from __future__ import annotations

from typing import Any

from cardmaker.card.dressing.act_figures import ActFigures, Board
from cardmaker.model.loom import Space
from cardmaker.model.record_class import replace
from tests.helpers.record_cards import RULER

KINDS = tuple(Space.HOLE if space % 2 else Space.SLOT for space in range(1, 34))
BOARD = Board(KINDS, 2, 32, 17)

SAMPLE = ActFigures(
    ruler=RULER, type_size=9.0, ends=31, beam_first=False, from_behind=False,
    needle_comes_near=False, is_wound=False, front=BOARD, back=None,
    count="15", mark_says="0", counts_from_mark=True, held_by="stick", cloth_beam=False,
    stick_turns=(0, 3, 6), turns="9", shuttle="netting", opens_by="hand",
    first_shed="down", on_top=Space.HOLE, throw_to_left=True,
    zone=("2 in", "6 in"), zone_mm=(50.8, 152.4),
)  # fmt: skip


def act_sample(**changes: Any) -> ActFigures:
    """The sample with some of its figures changed."""
    return replace(SAMPLE, **changes)
