"""What holds for all that is made in a folder: the user's own loom, units, paper, hand."""

from __future__ import annotations

from typing import Literal

from cardmaker.model.problems import NOWHERE, Places
from cardmaker.model.record_class import record, uncompared


@record
class Settings:
    """A settings file. What it leaves out is as if there were none; what a command names comes before it."""

    loom: str = ""  # names as typed: stems or paths
    looms: tuple[str, ...] = ()
    pegs: tuple[str, ...] = ()
    units: Literal["metric", "us"] | None = None
    paper: str = ""
    hand: Literal["right", "left"] = "right"
    side: Literal["front", "behind"] | None = None
    layouts: tuple[str, ...] = ()  # each text one name, or several between commas
    out: str = ""
    places: Places = uncompared(default=NOWHERE)
