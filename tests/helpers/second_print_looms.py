"""How a warp sits on the other looms at hand, as a record tells it, held against the second calculator."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from tests.helpers.second_calculator import read_tree
from tests.helpers.second_heddle import placement_of, places_of
from tests.helpers.second_print_numbers import Card, Fault, empties, same
from tests.helpers.second_sizes import Refused, Tree
from tests.helpers.shipped import LOOM_FILES

HEADING: Final = "On your other looms"


def told_of_other_looms(card: Card) -> str:
    """All that may stand under the heading, loom by loom; nothing where the card has no such heading."""
    if HEADING not in card.text:
        return ""
    behind = ", from behind" if card.view.behind else ""
    looms = [read_tree(path.read_text()) for path in LOOM_FILES]
    told = " ".join(f"{loom['title']}: {on_loom(card, loom)}." for loom in looms)
    return f"{HEADING}{behind} {told}"


def on_loom(card: Card, loom: Tree) -> str:
    """First and last space and what stays empty on one of them, or how many ends it holds; of two heddles the front."""
    try:
        places = places_of(card.pattern, loom, card.ends)
    except Refused:
        two_alike = loom["kind"] == "two heddles" and loom["back_heddle"] == "same"
        most = int(loom["slots"]) + int(loom["holes"]) - two_alike
        return f"too small: {most} ends at most" if len(card.ends) > most else "thick ends would lie in holes"
    place = placement_of(loom, places, card.view)
    front = "front " if loom["kind"] == "two heddles" else ""
    return (
        f"{front}{place['first_label']}, a {place['first_kind']}, to {place['last_label']}; {empties(place, card.view)}"
    )


def other_looms(card: Card) -> Iterator[Fault]:
    """Every loom that ships, in turn: nothing of them left out or told otherwise."""
    ours = told_of_other_looms(card)
    if ours:
        start = card.text.index(HEADING)
        yield same("other looms", card.text[start : start + len(ours)], ours)
