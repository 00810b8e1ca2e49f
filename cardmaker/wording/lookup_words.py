"""What is said of a file that was named and is not there."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.wording.phrases import did_you_mean, listed

_NAMES: Final = {"pegs": "place to wind"}  # of kinds that are called otherwise
_MOST_NAMED: Final = 40
_MOST_NEXT: Final = 5
_WIDE: Final = 26


def not_found(kind: str, name: str, known: Sequence[str], folder: str, elsewhere: str) -> str:
    """That no file of a kind has the name, where it was looked for, and where one of that name lies instead."""
    there_is_none = f"There is no {_NAMES.get(kind, kind)} named '{name}'."
    if elsewhere:
        return f"{there_is_none} It was looked for in {folder}; {elsewhere} lies elsewhere: name it by that path."
    named = ", ".join(known[:_MOST_NAMED]) + (" …" if len(known) > _MOST_NAMED else "")
    looked = f"Looked in {folder} and what is shipped: {named or 'none'}."
    return f"{there_is_none} {did_you_mean(name, known, looked)}"


def is_folder(kind: str, name: str) -> str:
    """That a folder was named where a file is wanted."""
    told = f"'{name}' is a folder. Name a {_NAMES.get(kind, kind)} in it"
    return f"{told}, or put all of them into one PDF: cardmaker binder {name}" if kind == "pattern" else f"{told}."


def of_other_kind(kind: str, name: str, other: str, known: Sequence[str]) -> str:
    """That the name is one of another kind, and how that kind is named."""
    wanted = _NAMES.get(kind, kind)
    how = {"loom": f"--loom {name}", "pegs": f"--pegs {name}", "layout": f"--layout {name}"}.get(other, "")
    behind = f" with {how} behind it" if how and kind == "pattern" else ""
    one_of = f"Write {listed(known, 'or')}." if 0 < len(known) <= _MOST_NEXT else f"Name a {wanted}{behind}."
    near = did_you_mean(name, known, one_of)
    return f"'{name}' is a {_NAMES.get(other, other)}, and a {wanted} is wanted here. {near}"


def next_steps(patterns: Sequence[str], *, is_begun: bool) -> list[str]:
    """What somebody may want to do next who names no command; ``patterns`` are the stems of her own."""
    return [
        "cardmaker makes one-page cards of patterns for narrow tape.",
        *(
            []
            if is_begun
            else _table([("begin", "say which loom, units and paper you have, and make a first pattern")])
        ),
        *_table(_card_steps(patterns)),
        *_table(
            [
                ("new --ask", "make another pattern, asked one question at a time"),
                ("list", "see the patterns, looms and layouts at hand"),
                ("--help", "see every command; and COMMAND --help its options"),
            ]
        ),
    ]


def _card_steps(patterns: Sequence[str]) -> list[tuple[str, str]]:
    if not patterns:
        return []
    others = [f"; and so for {listed([*patterns[1:_MOST_NEXT]])}"] if len(patterns) > 1 else []
    more = [f", and {len(patterns) - _MOST_NEXT} more"] if len(patterns) > _MOST_NEXT else []
    measured = ("measured PATTERN", "once a tape is off the loom, keep what it taught")
    return [(f"card {patterns[0]}", f"make the card of it{''.join(others + more)}"), measured]


def _table(steps: Sequence[tuple[str, str]]) -> list[str]:
    return [f"  {f'cardmaker {command}':<{_WIDE}}  {what}" for command, what in steps]


def no_command(name: str, known: Sequence[str]) -> str:
    """That there is no such command, and which was probably meant."""
    if name in ("help", "version"):
        return f"There is no command '{name}'. Write cardmaker --{name}."
    return f"There is no command '{name}'. {did_you_mean(name.casefold(), known, f'There are {listed(known)}.')}"


def no_option(command: str, name: str, known: Sequence[str]) -> str:
    """That a command has no such option, and which was probably meant."""
    asked = name.split("=")[0]
    long = {option.removeprefix("--"): option for option in sorted(known) if option.startswith("--")}
    bare = asked.strip("-").casefold()
    meant = [each for each in long if each.startswith(bare)] if len(bare) == 1 else []
    if meant:
        otherwise = f"Did you mean {listed([long[each] for each in meant], 'or')}?"
    else:
        otherwise = f"It has {listed(list(long.values()))}."
    near = did_you_mean(bare, long, "")
    return f"'{command}' has no option {asked}. {near.replace('mean ', 'mean --') or otherwise}"
