"""What found no room in front and has no place of its own on the back: made for each card by ``card_back``."""

from __future__ import annotations

from typing import Final

from cardmaker.card.sheet import Panel

REST: Final = Panel("rest", lambda sheet, width: (), applies=lambda sheet: False)
