"""The few words that stand in the pictures of dressing. None names a side: a mirrored picture keeps them."""

from __future__ import annotations

from typing import Final

ON_FINGERTIPS: Final = "on the fingertips"
FINGERTIPS: Final = "fingertips"  # where there is less room
BEAM: Final = "beam"
HEDDLE: Final = "heddle"
CLOTH_BEAM: Final = "cloth beam"
