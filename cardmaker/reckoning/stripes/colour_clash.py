"""Which neighbours look too much alike: by daylight, in a grey copy, or to a colour-blind eye.

Differences are CIEDE2000, and colour blindness is simulated, by the library coloraide. It is loaded only when two
neighbours are about equally light: what differs in lightness stays apart in grey and to every eye.
"""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from typing import Final

from cardmaker.model.marks import Colour
from cardmaker.model.plan import Note, Plan

EQUALLY_LIGHT: Final = 25.0  # L*: a larger difference needs no closer look (a limit of ours)
TOO_CLOSE: Final = 12.0  # CIEDE2000 (a limit of ours; 2 to 3 is just seen side by side: from memory)
_WAYS: Final = (
    ("grayscale", "in a grey copy"),
    ("deutan", "to a red-green blind eye"),
    ("protan", "to a red-green blind eye"),
)


def colour_clash_notes(plan: Plan) -> tuple[Note, ...]:
    """A warning for every two neighbouring yarns that are too close, saying to whom."""
    pairs = {tuple(sorted((before.yarn, after.yarn))): None for before, after in pairwise(plan.runs)}
    notes = []
    for yarn, neighbour in pairs:
        colours = (plan.pattern.yarn(yarn).colour, plan.pattern.yarn(neighbour).colour)
        if not all(colours) or abs(lightness(colours[0]) - lightness(colours[1])) >= EQUALLY_LIGHT:
            continue
        if ways := ways_alike(*colours):
            to_whom = " and ".join(ways)
            notes.append(Note("warning", "colour", "alike", {"one": yarn, "other": neighbour, "ways": to_whom}))
    return tuple(notes)


@cache
def ways_alike(colour: str, neighbour: str) -> tuple[str, ...]:
    """To whom, or how, two colours (``#rrggbb``) are too close; each way once."""
    from coloraide import Color

    first, second = Color(colour), Color(neighbour)
    ways = ["even by daylight"] if first.delta_e(second, method="2000") < TOO_CLOSE else []
    for name, way in _WAYS:
        filtered = [shade.clone().filter(name) for shade in (first, second)]
        if filtered[0].delta_e(filtered[1], method="2000") < TOO_CLOSE and way not in ways:
            ways.append(way)
    return tuple(ways)


def lightness(colour: Colour) -> float:
    """CIE lightness L* (0 black to 100 white) of an sRGB colour (IEC 61966-2-1 and CIE 15: from memory)."""
    luminance = relative_luminance(colour)
    return 116 * luminance ** (1 / 3) - 16 if luminance > 0.008856 else 903.3 * luminance


def relative_luminance(colour: Colour) -> float:
    """The share of white's light that an sRGB colour gives, 0 to 1 (IEC 61966-2-1; WCAG 2.2: from memory)."""
    red, green, blue = (_linear(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
