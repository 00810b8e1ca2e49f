"""The three steps at the bench, in the order of the hands."""

from __future__ import annotations

from typing import Final

from cardmaker.model.record_class import record


@record
class BenchStep:
    """One of the steps: its number and what is done."""

    number: int
    name: str

    @property
    def in_words(self) -> str:
        """As it is read aloud."""
        return f"{self.number}. {self.name}"


WIND: Final = BenchStep(1, "Wind")
THREAD: Final = BenchStep(2, "Thread")
WEAVE: Final = BenchStep(3, "Weave")
