"""When something goes wrong: a broken end, a skipped space, a new end, and the lines of trouble."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cardmaker.model.loom import Heddles, Loom, Side
from cardmaker.model.plan import Plan
from cardmaker.wording.measures import Units, mixed, tape_length, tape_lengths
from cardmaker.wording.phrases import listed, plural

if TYPE_CHECKING:
    from cardmaker.model.bench import EndPlace


# rescue

RESCUE: Final = "When an end breaks or a space was skipped"


NEARER_EDGE: Final = "count each end from its nearer edge"


def replacement(lengths: Sequence[tuple[str, Fraction]], units: Units) -> str:
    """How long a new end must be, by how much is woven."""
    said = [f"{tape_length(length, units)} when {share} is woven" for share, length in lengths]
    return f"A new end is {listed(said)}. Pin it below the last pick; hang a small weight behind."


def share_woven(woven: Fraction) -> str:
    """How much is woven, in words."""
    return {Fraction(0): "nothing", Fraction(1, 4): "a quarter", Fraction(1, 2): "half"}.get(woven, "three quarters")


SKIPPED: Final = (
    "Two neighbours that move together: a space was skipped between them. "
    "Thread over again from there to the nearer edge."
)
RESCUE_IN_TERMINAL: Final = "If something goes wrong"


def rescue_lines(plan: Plan, units: Units) -> list[str]:
    """How long a new end must be, and what a skipped space costs."""
    found = plan.rescue
    if found is None:
        return []
    woven = listed(["nothing", *(mixed(each.woven) for each in found.replacements[1:])])
    pieces = tape_lengths([piece.length_mm for piece in found.replacements], units)
    most = max(found.rethreading, key=lambda each: each.ends)
    way = "to the right edge" if all(each.side == most.side for each in found.rethreading) else "to the nearer edge"
    return [
        f"A new end for a broken one is {pieces} long with {woven} woven.",
        f"A space was skipped: thread over from there {way}, {plural(most.ends, 'end')} at most.",
    ]


# when it goes wrong

TROUBLE: Final = "When it goes wrong"
TROUBLE_LINES: Final = (
    ("Two neighbours move together?", "A space was skipped there: thread again to the nearer edge."),
    ("One place will not open?", "Two ends are crossed: pull that pair out and swap."),
    ("One end or space left over?", "Look at its colour’s total; count it again at the last tick."),
    ("Loops at the edge?", "Pull the weft in after the shed is changed."),
    ("The shed sticks?", "Pluck it sideways; slide a finger behind the heddle."),
    ("An end broke?", "Count from the nearer edge; pin in a new one; no knot near the heddle."),
)


def trouble(is_fuzzy: bool) -> list[tuple[str, str]]:
    """Six lines; damping helps linen and wool only."""
    lines = list(TROUBLE_LINES)
    if is_fuzzy:
        question, answer = lines[4]
        lines[4] = (question, f"{answer[:-1]}; damp the yarn a little.")
    return lines


# rescue


def rescue_alt_text(places: Sequence[EndPlace], loom: Loom) -> str:
    """Every end counted from its nearer edge, the edge end first."""
    of = " Hole and slot are those of the front heddle." if loom.heddles is Heddles.TWO else ""
    told = []
    for edge in (Side.LEFT, Side.RIGHT):
        near = sorted((place for place in places if place.nearer is edge), key=lambda place: place.count)
        if near:
            each = "; ".join(f"{place.count} {place.yarn}, {place.kind}" for place in near)
            told.append(f"From the {edge} edge: {each}.")
    return f"{' '.join(told)}{of}"
