"""What is said of a file that was named and is not there."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.wording.phrases import did_you_mean

_NAMES: Final = {"pegs": "place to wind"}  # of kinds that are called otherwise
_MOST_NAMED: Final = 40


def not_found(kind: str, name: str, known: Sequence[str], folder: str, elsewhere: str) -> str:
    """That no file of a kind has the name, where it was looked for, and where one of that name lies instead."""
    there_is_none = f"There is no {_NAMES.get(kind, kind)} named '{name}'."
    if elsewhere:
        return f"{there_is_none} It was looked for in {folder}; {elsewhere} lies elsewhere: name it by that path."
    named = ", ".join(known[:_MOST_NAMED]) + (" …" if len(known) > _MOST_NAMED else "")
    looked = f"Looked in {folder} and what is shipped: {named or 'none'}."
    return f"{there_is_none} {did_you_mean(name, known, looked)}"
