"""From where a side is named: from the weaver's seat, or from behind the heddle."""

from __future__ import annotations

from typing import Final

from cardmaker.model.loom import Heddles, Loom
from cardmaker.model.viewpoint import Viewpoint

AS_YOU_SIT: Final = "as you sit"
FROM_BEHIND: Final = "from behind"


def seen_from(loom: Loom, *, brief: bool = False) -> str:
    """From where left and right are named on this loom: a sentence, or, ``brief``, a few words beside a place."""
    if not loom.view.from_behind:
        return AS_YOU_SIT if brief else "Seen from your seat."
    behind = f"the heddle{'s' if loom.heddles is Heddles.TWO else ''}"
    return FROM_BEHIND if brief else f"Seen {FROM_BEHIND} {behind}."


def view_beside_heading(loom: Loom) -> str:
    """The same beside a heading: ``seen from your seat``."""
    sentence = seen_from(loom)
    return f"{sentence[:1].lower()}{sentence[1:]}".removesuffix(".")


def seen_if_behind(loom: Loom) -> str:
    """The sentence once more, where not all is seen from the seat; else nothing."""
    return seen_from(loom) if loom.view.from_behind else ""


def nearer_heddle(loom: Loom) -> str:
    """Of two heddles the back one stands nearer to whoever is behind them; nothing for the others."""
    return (
        "The back heddle, drawn above, is the one nearer to you." if loom.view.from_behind and loom.back_heddle else ""
    )


def but_from_seat(view: Viewpoint) -> str:
    """To add to what is named from the seat where all else is seen from behind: the shuttle, and the tape itself."""
    return AS_YOU_SIT if view.from_behind else ""


def edge_of_end_1(view: Viewpoint, *, brief: bool = False) -> str:
    """The tape's edge where end 1 is, as the weaver sits: the one name of it that holds for every view."""
    return f"the {'right' if view.from_other_edge else 'left'}{'' if brief else ' edge'} {AS_YOU_SIT}"
