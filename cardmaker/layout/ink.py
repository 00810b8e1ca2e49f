"""Line widths, greys and gaps: every thickness on a card has a name here. Millimetres."""

from __future__ import annotations

from typing import Final

POINT: Final = 25.4 / 72

BLACK: Final = "#000000"
WHITE: Final = "#ffffff"
SOFT: Final = "#4d4d4d"  # 70 % black: the lightest that words are set in, so that a copier keeps them
FAINT: Final = "#666666"  # 60 % black: guide lines only
ACCENT: Final = "#6f1148"  # one accent, for "start here" and "far" only; dark enough for a copier

HAIRLINE: Final = 0.4 * POINT
RULE: Final = 0.6 * POINT
OUTLINE: Final = 0.75 * POINT
HEAVY: Final = 1.5 * POINT

COLUMNS: Final = 12
GUTTER: Final = 5.0
HEADING_GAP: Final = 1.6  # from a heading's baseline to what it heads
LEADING: Final = 1.24  # of the type size
