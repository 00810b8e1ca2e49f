"""What a card may print for the figures of the second calculator, read from the text of a finished PDF.

Each check looks for its words; where a layout left them out there is nothing to check, and the caller counts how often
each has found something, so that none can pass by never looking.
"""

from __future__ import annotations

from collections import Counter

from tests.helpers.second_print_amounts import (
    beam,
    lengths,
    new_ends,
    on_pegs,
    one_piece,
    pieces,
    to_weave,
    weft,
    yarn_table,
)
from tests.helpers.second_print_looms import other_looms
from tests.helpers.second_print_numbers import Card
from tests.helpers.second_print_threads import heddle, sheds, steps, title, winding


def faults(card: Card) -> tuple[list[str], Counter[str]]:
    """Everything that is printed otherwise than our figures say, and how often each thing was looked at."""
    looks = (
        *(heddle, other_looms, winding, steps, sheds, title, lengths, on_pegs),
        *(pieces, one_piece, to_weave, yarn_table, weft, beam, new_ends),
    )
    all_of_them = [fault for look in looks for fault in look(card)]
    return [f"{about}: {wrong}" for about, wrong in all_of_them if wrong], Counter(about for about, _ in all_of_them)
