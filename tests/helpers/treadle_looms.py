"""The shipped loom with two heddles, with any tie-up and any habit of the shuttle, or without."""

from __future__ import annotations

from cardmaker.model.loom import Loom
from cardmaker.reading.loom_file import parse_loom
from tests.helpers.shipped import loom_file

SHUTTLE = "shuttle: {left_foot: left, right_foot: right}"
TIE_UPS = {
    "left_foot: back down, right_foot: front down": "left",
    "left_foot: front up, right_foot: back up": "left",
    "left_foot: front down, right_foot: front up": "right",
    "left_foot: back up, right_foot: back down": "right",
}


def treadles(tie_up: str = "", shuttle: str = SHUTTLE) -> Loom:
    """The shipped pair with another tie-up, or without one."""
    lines = loom_file("treadle-pair").read_text("utf-8").splitlines()
    kept = [line for line in lines if not line.startswith(("tie_up:", "shuttle:"))]
    added = [f"tie_up: {{{tie_up}}}"] if tie_up else []
    return parse_loom("\n".join([*kept, *added, shuttle]).encode(), "trial.yaml", "trial")
