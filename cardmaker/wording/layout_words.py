"""What is said of several card layouts that are asked for at once."""

from __future__ import annotations

from collections.abc import Sequence

from cardmaker.wording.phrases import listed, plural


def wrong_list_of_layouts(asked: str, names: Sequence[str]) -> str:
    """What is wrong with names between commas; nothing where they are right."""
    if not all(names):
        return f"'{asked}' has a comma with no card layout beside it. Write the names as in handout,record."
    twice = next((name for name in names if names.count(name) > 1), "")
    return f"'{asked}' names {twice} twice. Name each card layout once." if twice else ""


def one_layout_of_binder(names: Sequence[str]) -> str:
    """That a binder's cards are all of one kind."""
    remedy = "such as --layout record" if len(names) == 1 else f"{listed(names, 'or')}"
    return f"The cards of a binder are all of one layout: name one, {remedy}."


def no_such_paper(name: str, papers: Sequence[str]) -> str:
    """That none of several layouts comes on a paper."""
    return f"None of these card layouts has a paper '{name}'; they have {', '.join(dict.fromkeys(papers))}."


def one_file(what: str, one: str, other: str) -> str:
    """That two of what is to be made would be one file, here or on another system."""
    both = one if one == other else f"{one} and {other}, and many systems take them for one name"
    return f"Two of the {what} would be written to {both}: give them different file names."


def none_written(cards: int) -> str:
    """That a problem with one of several cards of a pattern kept all of them from being written."""
    return f"none of its {cards} cards is written, so that old and new ones do not lie side by side."


def write_the_others(layouts: Sequence[str]) -> str:
    """What to type for the cards that could be made; nothing where there are none."""
    return f"Those without a problem are made by --layout {','.join(layouts)}." if layouts else ""


def cards_written(cards: int, patterns: int) -> str:
    """What was made in all."""
    return f"{plural(cards, 'card')} of {plural(patterns, 'pattern')}."
