"""A pattern file from a filled recording form: all that the form says, and a comment for what it leaves open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from cardmaker.editing.new_pattern import USUAL_LENGTH
from cardmaker.editing.yaml_text import yaml_keys, yaml_lines, yaml_list, yaml_string
from cardmaker.model.named_colours import named_colour
from cardmaker.model.pattern import Alternation, Stripe, WarpItem
from cardmaker.model.problems import on_one_line
from cardmaker.model.tape_form import RecordedTape, RecordedYarn
from cardmaker.reckoning.stripes.stripe_counts import counted_ends
from cardmaker.wording.formatters import Units

_MIRROR_REMARKS: Final = {
    "last stripe": "then back to the other edge; the last stripe is the middle",
    "whole": "then the whole list again, backwards",
}


def recorded_pattern_text(tape: RecordedTape, doubts: Sequence[str], form: str, units: Units) -> str:
    """The text of the file. ``doubts`` stand at its head, so that they are not forgotten; ``form`` is its name."""
    return "\n".join(_lines(tape, doubts, form, units)) + "\n"


def _lines(tape: RecordedTape, doubts: Sequence[str], form: str, units: Units) -> Iterator[str]:
    yield f"# Read from the form {on_one_line(form)}. Lines that begin with # are notes to you: change or delete them."
    if doubts:
        yield "# To look at:"
        yield from (f"#   {on_one_line(doubt)}" for doubt in doubts)
    yield f"title: {yaml_string(tape.title)}"
    yield "version: 1"
    yield from yaml_lines([("code", _text(tape.code))])
    yield ""
    yield "yarns:"
    yield from (f"  {yaml_string(yarn.name)}: {_yarn(yarn)}" for yarn in tape.yarns)
    yield ""
    edge = "left edge to the middle" if tape.mirror else "left edge to the right edge"
    yield f"# The stripes from the {edge}, as they lay before whoever counted them."
    yield "warp:"
    yield from (f"  - {_item(item)}" for item in tape.stripes)
    if tape.mirror:
        yield f"mirror: {tape.mirror}  # {_MIRROR_REMARKS[tape.mirror]}"
    yield from _ends(tape)
    yield from yaml_lines([("weft", _text(tape.weft))])
    if tape.loom:
        yield f"# For the loom {on_one_line(tape.loom)}."
    yield ""
    yield "# How much tape you want when it is woven and washed."
    yield "length:"
    yield f"  finished: {yaml_string(tape.finished) if tape.finished else USUAL_LENGTH[units]}"
    if tape.source:
        yield ""
        yield "source:"
        yield from yaml_lines(((key, _text(text)) for key, text in tape.source), "  ")
    if tape.notes:
        yield ""
        yield "notes:"
        yield f"  teacher: {yaml_string(tape.notes)}"


def _ends(tape: RecordedTape) -> Iterable[str]:
    """What the whole was counted as: a check on the stripes, which their own sum would not be."""
    if tape.ends is not None:
        return [f"ends: {tape.ends}  # a check on the counting"]
    return [f"# ends: {counted_ends(tape.stripes, tape.mirror)}  # the sum; without # once the whole tape is counted"]


def _item(item: WarpItem) -> str:
    match item:
        case Stripe(yarn, ends):
            return yaml_string(f"{ends} {yarn}")
        case Alternation(yarns, ends):
            return yaml_keys([("alternate", yaml_list(yarns)), ("ends", str(ends))])
    raise TypeError("a form has no repeats")


def _yarn(yarn: RecordedYarn) -> str:
    count, shade, colour = (_text(text) for text in (yarn.label_count, yarn.shade, named_colour(yarn.name)))
    return yaml_keys(
        [("fibre", yarn.fibre), ("count", count), ("system", yarn.system), ("shade", shade), ("colour", colour)]
    )


def _text(text: str) -> str:
    return yaml_string(text) if text else ""
