"""The settings file of a folder that is begun."""

from __future__ import annotations

from typing import NamedTuple


class SettingsRequest(NamedTuple):
    """What holds for all that is made in the folder."""

    loom: str
    units: str
    paper: str
    hand: str


def requested_settings_text(request: SettingsRequest) -> str:
    """The text of a settings file that checks clean as it stands."""
    return f"""\
# What holds for all that is made in this folder. What a command names comes before it.
# Lines that begin with # are notes to you: change or delete them.
{f"loom: {request.loom}":<22} # in layouts/looms/; where it does not hold a pattern, another of your looms is taken
{f"units: {request.units}":<22} # which stand first: metric or us
{f"paper: {request.paper}":<22} # letter or a4, where a card comes on both
{f"hand: {request.hand}":<22} # right or left
# from: behind         # when you thread the heddle from behind
# layout: handout      # the card that is made unless you name another
# pegs: kitchen-chairs # where you wind, once you have described it in layouts/pegs/
# out: cards           # the folder for finished PDFs
"""
