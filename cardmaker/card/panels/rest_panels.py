"""What found no room in front and has no place of its own on the back, about the code and the place for a sample.

``card_back`` makes them for each card, when it is known what stands in front; there they have nothing to say.
"""

from __future__ import annotations

from typing import Final

from cardmaker.card.sheet import Panel

REST_AND_CODE: Final = Panel("rest-and-code", lambda sheet, width: (), lambda sheet: False)
REST_CODE_AND_SAMPLE: Final = Panel("rest-code-and-sample", lambda sheet, width: (), lambda sheet: False)
