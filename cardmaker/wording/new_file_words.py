"""What is said of a file that was written anew: what was understood of it, and what nobody said and was assumed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.wording.phrases import end_count, listed, plural

_MOST_STRIPES: Final = 60


def stripes_understood(stripes: Sequence[tuple[int, str]], same_both_ways: bool) -> str:
    """``13 ends in 3 stripes: 2 blue, 9 white, 2 blue; the same from both edges.``"""
    named = [f"{count} {name}" for count, name in stripes]
    if len(named) > _MOST_STRIPES:
        named = [*named[: _MOST_STRIPES - 1], "…", named[-1]]
    ends = end_count(sum(count for count, _ in stripes))
    alike = "the same from both edges" if same_both_ways else "not the same from both edges"
    return f"{ends} in {plural(len(stripes), 'stripe')}: {', '.join(named)}; {alike}."


def assumed(yarns: Sequence[tuple[str, str, str]], finished: str, *, stripes_too: bool) -> list[str]:
    """All that a new file says and nobody has said; ``yarns`` are names, kinds and colours, these perhaps empty."""
    kinds = dict.fromkeys(kind for _, kind, _ in yarns)
    of_kinds = [f"  {listed([name for name, each, _ in yarns if each == kind])} of {kind}" for kind in kinds]
    return [
        _ASSUMED,
        *(["  the stripes"] if stripes_too else []),
        *of_kinds,
        *_colours([(name, colour) for name, _, colour in yarns]),
        f"  {finished} of tape, woven and washed",
    ]


def colours_assumed(yarns: Sequence[tuple[str, str]]) -> list[str]:
    """The colours of yarns that are printed as their names say, where nobody has said more."""
    return [_ASSUMED, *_colours(yarns)]


_ASSUMED: Final = "Assumed, for you to change in the file:"


def _colours(yarns: Sequence[tuple[str, str]]) -> list[str]:
    coloured = [f"{name} {colour}" for name, colour in yarns if colour]
    bare = [name for name, colour in yarns if not colour]
    return [
        *([f"  printed in {', '.join(coloured)}"] if coloured else []),
        *([f"  no colour for {listed(bare)}"] if bare else []),
    ]
