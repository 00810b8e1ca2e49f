"""A loom file to start from: what was answered, and a comment for all else that a loom can tell."""

from __future__ import annotations

from typing import NamedTuple

from cardmaker.editing.yaml_text import yaml_string


class LoomRequest(NamedTuple):
    """What a new loom should be; empty texts are not known, or need not be said."""

    title: str
    two_heddles: bool
    slots: int
    holes: int
    outer: str = ""
    mark: str = ""
    back_heddle: str = ""
    hole_size: str = ""
    waste: str = ""
    shuttle: str = ""  # the side that it travels to first: in the down shed, or while the left foot is down

    @property
    def has_middle_space(self) -> bool:
        return (self.slots + self.holes) % 2 == 1


def requested_loom_text(request: LoomRequest) -> str:
    """The text of a loom file that checks clean as it stands."""
    return "\n".join([*_heddle(request), *_rest(request)]) + "\n"


def _heddle(request: LoomRequest) -> list[str]:
    spaces = request.slots + request.holes
    lines = [
        "# A loom for narrow tape. Lines that begin with # are notes to you: change or delete them.",
        f"title: {yaml_string(request.title)}",
        f"kind: {'two heddles' if request.two_heddles else 'one heddle'}",
        "",
        f"# The {spaces} spaces of {'one heddle' if request.two_heddles else 'the heddle'}, slots and holes in turn.",
        f"slots: {request.slots}",
        f"holes: {request.holes}",
    ]
    if request.outer:
        lines.append(f"outer: {request.outer:<16}# the leftmost space as you sit")
    if request.has_middle_space:
        lines.append(f"mark: {request.mark:<17}# what you say on the middle space, number {(spaces + 1) // 2}")
    else:
        lines.append("# The mark stands between the two middle spaces.")
    if request.back_heddle:
        lines.append(f"back_heddle: {request.back_heddle:<10}# or opposite: slots where the front one has holes")
    return [*lines, _known("hole_size", request.hole_size, "2 mm", "how wide a hole is, once you have measured it")]


def _rest(request: LoomRequest) -> list[str]:
    first, second = ("left_foot", "right_foot") if request.two_heddles else ("down", "up")
    other = {"left": "right", "right": "left"}
    shuttle = f"shuttle: {{{first}: {request.shuttle or 'left'}, {second}: {other[request.shuttle or 'left']}}}"
    flies = "the side that it travels to"
    tie_up = "# tie_up: {left_foot: front up, right_foot: back up}" if request.two_heddles else ""
    return [
        _known("waste", request.waste, "20 in", "warp that cannot be woven: knots, and the last stretch"),
        f"{shuttle}     # {flies}" if request.shuttle else f"# {shuttle}     # {flies}",
        "",
        "# What follows makes the cards tell more. Take the # away and put in what you measured.",
        "# beam: {diameter: 1 1/4 in, held_by: stick, stops_per_turn: 4}",
        "# packing: {thickness: 2 mm, width: 15 mm, every_turns: 3}",
        "# weaving_zone: {from: 2 in, to: 6 in}     # where weaving is good, from the heddle",
        *([tie_up] if tie_up else []),
        "# shuttle_length: 6 in",
        "# press: {span: 40 cm, free_length: 60 cm}",
        "# pace: {winding: 20, threading: 30, picks_per_minute: 12, fixed_minutes: 40}",
        "# threads_from: back",
    ]


def _known(key: str, value: str, example: str, comment: str) -> str:
    line = f"{key}: {value}" if value else f"# {key}: {example}"
    return f"{line:<22} # {comment}"
