"""Looms: how many spaces one has, and how the pattern sits on another."""

from __future__ import annotations

from typing import Final

from cardmaker.model.loom import Heddles, Loom
from cardmaker.model.plan import OtherLoom
from cardmaker.wording.phrases import a_space

LOOMS: Final = "On your other looms"


def heddle_spaces(loom: Loom) -> str:
    if loom.heddles is Heddles.TWO:
        return f"2 × {loom.spaces} spaces"
    return f"{loom.slots} slots and {loom.holes} holes"


def on_other_loom(other: OtherLoom) -> str:
    """How the pattern sits on another loom, or why it does not."""
    placement = other.placement
    if placement is None:
        return f"{other.why_not}."
    return (
        f"{other.first_label}, {a_space(placement.first_kind)}, to {other.last_label}; "
        f"empty {placement.empty_left} + {placement.empty_right}."
    )
