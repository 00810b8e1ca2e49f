"""The few words that stand in the pictures of dressing. None names a side: a mirrored picture keeps them."""

from __future__ import annotations

from typing import Final

FINGERTIPS: Final = "on the fingertips"
