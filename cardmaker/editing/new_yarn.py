"""A yarn file to start from: what was answered, and a comment for all else that it can tell."""

from __future__ import annotations

from typing import NamedTuple

from cardmaker.editing.yaml_text import yaml_keys, yaml_string


class NewYarnRequest(NamedTuple):
    """What a new yarn should be; empty texts are not known, or need not be said."""

    title: str
    fibre: str
    label_count: str = ""
    system: str = ""
    yards_per_pound: str = ""
    metres_per_kg: str = ""
    shade: str = ""
    lot: str = ""
    colour: str = ""
    weight: str = ""
    price: str = ""
    ends_per_inch: str = ""


def requested_yarn_text(request: NewYarnRequest) -> str:
    """The text of a yarn file that checks clean as it stands."""
    package = yaml_keys([("weight", request.weight), ("price", yaml_string(request.price) if request.price else "")])
    lines = [
        "# A yarn on your shelf. Lines that begin with # are notes to you: change or delete them.",
        f"title: {yaml_string(request.title)}",
        f"fibre: {request.fibre}",
        _known("count", request.label_count, "20/2", "as on the label"),
        *([f"system: {request.system}"] if request.system else []),
        _known(
            "yards_per_pound", request.yards_per_pound, "3000", "where the label tells it: it comes before the count"
        ),
        *([f"metres_per_kg: {request.metres_per_kg}"] if request.metres_per_kg else []),
        "",
        _known("shade", request.shade, "Bleached 1", "what the label calls the colour"),
        _known("lot", request.lot, "12", "look for the same one when you buy more"),
        _known("colour", request.colour, "#2F4A7D", "what is printed"),
        f"package: {package}" if package != "{}" else "# package: {weight: 50 g, price: 6 crowns}",
        "",
        _known("ends_per_inch", request.ends_per_inch, "45", "counted in a finished tape of it"),
        "# What tapes of it teach is written below by: cardmaker measured PATTERN",
    ]
    return "\n".join(lines) + "\n"


def _known(key: str, value: str, example: str, comment: str) -> str:
    line = f"{key}: {yaml_string(value)}" if value else f"# {key}: {yaml_string(example)}"
    return f"{line:<24} # {comment}"
