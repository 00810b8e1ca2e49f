"""What stays on one line: a count and its colour, a sum, a number and what it counts."""

from __future__ import annotations

import pytest

from cardmaker.layout.type_setting import NO_BREAK, unparted


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        ("up: 1 Bu, 7 Wh and 5 Rc, all", ["up:", "1_Bu,", "7_Wh", "and", "5_Rc,", "all"]),
        ("13 Gr Wh in turn", ["13_Gr_Wh", "in_turn"]),
        ("of 12 + 13.", ["of", "12_+_13."]),
        ("(3.9 × life size)", ["(3.9_×_life_size)"]),
        ("for 2 × bookmark and 2 × garter", ["for", "2_×_bookmark", "and", "2_×_garter"]),
        ("in all. 1 spare end", ["in", "all.", "1_spare", "end"]),
        ("from the mark (0) count 24 to the left", ["from", "the", "mark_(0)", "count", "24", "to", "the", "left"]),
        ("2 and 3 picks", ["2", "and", "3_picks"]),
        ("Of all Wh", ["Of", "all", "Wh"]),
    ],
)
def test_what_belongs_together_is_never_parted(text: str, pieces: list[str]) -> None:
    assert [piece.replace(NO_BREAK, "_") for piece in unparted(text)] == pieces
