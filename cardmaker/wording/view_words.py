"""From where a side is named: from the weaver's seat, or from behind the heddle."""

from __future__ import annotations

from typing import Final

from cardmaker.model.loom import Heddles, Loom
from cardmaker.model.viewpoint import Viewpoint

FROM_SEAT_BRIEF: Final = "from your seat"
_FROM_BEHIND_BRIEF: Final = "from behind"


def seen_from(loom: Loom, *, brief: bool = False) -> str:
    """From where left and right are named on this loom: a sentence, or, ``brief``, a few words beside a place."""
    if not loom.view.from_behind:
        return FROM_SEAT_BRIEF if brief else f"Seen {FROM_SEAT_BRIEF}."
    if brief:
        return _FROM_BEHIND_BRIEF
    if loom.heddles is Heddles.TWO:
        return f"Seen {_FROM_BEHIND_BRIEF} the heddles: the back one is the nearer."
    return f"Seen {_FROM_BEHIND_BRIEF} the heddle."


def but_from_seat(view: Viewpoint) -> str:
    """To add to what is named from the seat where all else is seen from behind: the shuttle, and the tape itself."""
    return FROM_SEAT_BRIEF if view.from_behind else ""


def edge_of_end_1(view: Viewpoint, *, brief: bool = False) -> str:
    """The tape's edge where end 1 is, as the weaver sits: the one name of it that holds for every view."""
    return f"the {'right' if view.from_other_edge else 'left'}{'' if brief else ' edge'} as you sit"
