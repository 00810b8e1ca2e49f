"""The kinds of files, a row each: where sound ones lie, which schema makes more, and what is then done with them."""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import cache
from pathlib import Path
from random import Random
from typing import Any, Final, NamedTuple

import yaml

from tests.fuzz import shapes
from tests.helpers.places import ROOT, shipped_in

CASES: Final = ROOT / "tests" / "cases"
Command = list[str]


class Kind(NamedTuple):
    """One kind of file. ``commands`` gives what is run on a file that checks clean, beside other files that did."""

    name: str
    folder: str  # under the root, and under a user's own folder
    schema: str
    commands: Callable[[str, dict[str, list[str]], Random], list[Command]]
    names: tuple[str, ...] = shapes.YARN_NAMES
    sample: bytes = b""  # a sound file, where none is shipped


def _with_pattern(path: str, others: dict[str, list[str]], chance: Random) -> list[Command]:
    card = ["card", path, "--out", "out", "--layout", chance.choice(others["card"])]
    for option, words in (("--hand", ("left",)), ("--units", ("us",)), ("--from", ("behind",)), ("--warp", _WARPS)):
        if chance.random() < 0.2:
            card += [option, chance.choice(words)]
    plan = ["plan", path, "--json"]
    if chance.random() < 0.5:
        loom = chance.choice(others["loom"])
        card += ["--loom", loom]
        plan += ["--loom", loom]
    if chance.random() < 0.3:
        pegs = chance.choice(others["pegs"])
        card += ["--pegs", pegs]
        plan += ["--pegs", pegs]
    found = [plan, card]
    if chance.random() < 0.15:
        wish = chance.choice((["--ends", str(chance.randint(1, 60))], ["--width", "12 mm"], ["--yarn", "cotton 8/2"]))
        found.append(["resize", path, *wish])
    if chance.random() < 0.15:
        found.append(["plan", path])
    return found


def _with_loom(path: str, others: dict[str, list[str]], chance: Random) -> list[Command]:
    pattern = chance.choice(others["pattern"])
    return [
        ["plan", pattern, "--loom", path, "--json"],
        ["card", pattern, "--loom", path, "--out", "out", "--layout", chance.choice(others["card"])],
    ]


def _with_yarn(path: str, others: dict[str, list[str]], chance: Random) -> list[Command]:
    return [["check", path]]


def _with_pegs(path: str, others: dict[str, list[str]], chance: Random) -> list[Command]:
    pattern = chance.choice(others["pattern"])
    return [
        ["plan", pattern, "--pegs", path, "--json"],
        ["card", pattern, "--pegs", path, "--out", "out", "--layout", "bench"],
    ]


def _with_card(path: str, others: dict[str, list[str]], chance: Random) -> list[Command]:
    return [["card", chance.choice(others["pattern"]), "--layout", path, "--out", "out"]]


def _with_binder(path: str, others: dict[str, list[str]], chance: Random) -> list[Command]:
    """Small binders only: a card takes as long in a binder as alone, and a binder may hold thousands."""
    if Path(path).stat().st_size > _SMALL_BINDER:
        return []
    return [["binder", path, "--out", "out/binder.pdf", "--jobs", "1", "--quiet"]]


def _with_class(path: str, others: dict[str, list[str]], chance: Random) -> list[Command]:
    """Small classes only, as with binders."""
    if Path(path).stat().st_size > _SMALL_CLASS:
        return []
    return [["class", path, "--out", "out", "--quiet", *chance.choice(([], [], ["--one"], ["--paper", "a4"]))]]


def _with_event(path: str, others: dict[str, list[str]], chance: Random) -> list[Command]:
    """Small events only, as with binders."""
    if Path(path).stat().st_size > _SMALL_CLASS:
        return []
    return [["event", path, "--out", "out", "--quiet", *chance.choice(([], ["--paper", "a4"]))]]


_SMALL_CLASS: Final = 1000
_SMALL_BINDER: Final = 600  # bytes
_BINDER: Final = b"""\
title: The Ropeloft Book
about: Tapes for the box loom.
layout: six-numbers
units: us
sections:
  - {title: First tapes, text: Wind these first., patterns: [two-rails, wick]}
  - {title: Later, patterns: [five-posts]}
"""
_WARPS: Final = ("3 yd", "1 mm", "1000 m", "0.000000001 mm", "0.5 m")

KINDS: Final = (
    Kind("pattern", "patterns", "pattern", _with_pattern),
    Kind("yarn", "layouts/yarns", "yarn", _with_yarn),
    Kind("loom", "layouts/looms", "loom", _with_loom),
    Kind("pegs", "layouts/pegs", "pegs", _with_pegs, shapes.PEG_NAMES),
    Kind("card", "layouts/cards", "card", _with_card),
    Kind("class", "layouts/classes", "class", _with_class, ("two-rails", "small-box", "wick", "middle-box", "Ansel")),
    Kind("event", "layouts/events", "event", _with_event, ("three-paths", "middle-box", "wick")),
    Kind("binder", "binders", "binder", _with_binder, ("two-rails", "wick", "threes", "five-posts"), _BINDER),
)
PDF: Final = Kind("pdf", "cards", "", lambda path, others, chance: [])  # not by a schema: see documents.py


@cache
def schema_of(kind: Kind) -> dict[str, Any]:
    """The schema of a kind, as the program reads it."""
    schema: dict[str, Any] = json.loads((ROOT / "cardmaker" / "schemas" / f"{kind.schema}.json").read_text("utf-8"))
    return schema


@cache
def shipped(kind: Kind) -> tuple[Path, ...]:
    """The files of a kind that come with the program."""
    return shipped_in(kind.folder)


@cache
def sound(kind: Kind) -> tuple[bytes, ...]:
    """Sound files of a kind, as bytes."""
    return tuple(path.read_bytes() for path in shipped(kind)) or (kind.sample,)


@cache
def corpus(kind: Kind) -> tuple[bytes, ...]:
    """Sound and faulty files of a kind, as bytes."""
    cases = sorted(path for path in CASES.rglob("*.yaml") if kind.schema in path.stem.split("-"))
    return (*sound(kind), *(path.read_bytes() for path in cases))


@cache
def trees(kind: Kind) -> tuple[str, ...]:
    """Sound files of a kind as JSON, every scalar as typed; as text, so that each use has its own."""
    found = []
    for text in corpus(kind):
        try:
            tree = yaml.load(text, Loader=getattr(yaml, "CBaseLoader", yaml.BaseLoader))
        except (yaml.YAMLError, UnicodeDecodeError):
            continue
        if isinstance(tree, dict) and all(isinstance(key, str) for key in tree):
            found.append(json.dumps(tree))
    return tuple(found)
