"""From where a side is named. One value, which the plan carries; every sentence, drawing and sheet asks it."""

from __future__ import annotations

from typing import Final, Literal

from cardmaker.model.record_class import record


@record
class Viewpoint:
    """From which side of the heddle left and right are named, and for which hand ends are counted.

    Behind the heddle left and right change places. A right hand calls the leftmost end that it sees end 1, a left hand
    the rightmost; a left hand is drawn a mirror image, so that end 1 stands on its right.
    """

    left_hand: bool = False
    from_behind: bool = False

    @property
    def from_other_edge(self) -> bool:
        """Whether end 1 is the end at the tape's right edge, as the weaver sits."""
        return self.left_hand != self.from_behind

    @property
    def hand(self) -> Literal["right", "left"]:
        return "left" if self.left_hand else "right"

    @property
    def side(self) -> Literal["front", "behind"]:
        """Of the heddle; as the command's ``--from`` says it."""
        return "behind" if self.from_behind else "front"


FROM_SEAT: Final = Viewpoint()  # a right hand before the heddle: as pattern and loom files name sides
