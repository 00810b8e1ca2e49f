"""What found no room on which of several tapes, a line for what the same of them lack."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cardmaker.card.facts import facts_in_words
from cardmaker.wording import tape_words


def lines_by_facts(lacking: Iterable[tuple[str, Sequence[str]]]) -> tuple[str, ...]:
    """Each line names the facts, and behind them the titles of the tapes that lack them; what lacks nothing is left
    out. Each tape is given by its title, with its facts."""
    by_facts: dict[str, list[str]] = {}
    for title, facts in lacking:
        if facts:
            by_facts.setdefault(", ".join(facts_in_words(facts)), []).append(title)
    return tuple(tape_words.without(titles, facts) for facts, titles in by_facts.items())
