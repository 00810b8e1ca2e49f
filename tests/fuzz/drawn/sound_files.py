"""Looms, layouts, sheets, classes, events and binders that are sound, with all that they may say at its limits."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from random import Random
from typing import Any, Final

import yaml

from tests.fuzz.drawn.letters import Scribe, different
from tests.fuzz.drawn.sound_patterns import PRICES
from tests.helpers.places import ROOT
from tests.helpers.rows_by_chance import rows_by_chance

LINE, TEXT, MARK, TITLE = 200, 4000, 40, 80
PAPERS: Final = ("letter", "a4", "half-letter", "a5", "4x6", "a6", "3x5")
ACTS: Final = ("keepers", "cross", "thread", "tie on", "wind on", "front tie", "tie the loom", "shuttle", "first pick")
SHEETS: Final = ("reference", "choose")
MADE_OVER: Final = (
    "bench", "dressing", "dressing-brief", "field", "handout", "handout-large", "record", "six-numbers", "visitor",
)  # fmt: skip
"""Shipped layouts that own ones are made of, with another paper, margin and type."""


# Looms


def loom_tree(scribe: Scribe, holds: int, *, heddles: int) -> dict[str, Any]:
    """A loom of one heddle or two that holds so many ends, or some more."""
    chance = scribe.chance
    spaces = max(3, holds + chance.choice((0, 0, 1, 2, 7, 30)) + (heddles == 2))
    slots, holes = -(-spaces // 2), spaces // 2
    if slots != holes and chance.random() < 0.4:
        slots, holes = holes, slots
    tree: dict[str, Any] = {
        "title": scribe.line(TITLE), "kind": "two heddles" if heddles == 2 else "one heddle", "slots": slots,
        "holes": holes, "mark": chance.choice(("counted as zero", "counted as one")),
    }  # fmt: skip
    if slots == holes:
        tree["outer"] = chance.choice(("slot", "hole"))
    sides = dict(zip(("left_foot", "right_foot") if heddles == 2 else ("down", "up"), _sides(chance), strict=True))
    if heddles == 2:
        tree["back_heddle"] = chance.choice(("same", "same", "opposite"))
        if chance.random() < 0.5:
            moves = chance.choice((("front up", "front down"), ("back up", "back down"), ("back down", "front down")))
            tree["tie_up"] = dict(zip(("left_foot", "right_foot"), moves, strict=True))
    if chance.random() < 0.7:
        tree["shuttle"] = sides
    return tree | _parts_of_loom(scribe)


def _sides(chance: Random) -> tuple[str, str]:
    return chance.choice((("left", "right"), ("right", "left")))


def _parts_of_loom(scribe: Scribe) -> dict[str, Any]:
    chance = scribe.chance
    press: dict[str, Any] = {"span": "40 cm", "free_length": "60 cm"}
    if chance.random() < 0.3:
        press["weight"] = chance.choice(("50 g", "200 g"))
    beam = {
        "diameter": chance.choice(("1 1/4 in", "5 mm", "60 cm")), "held_by": chance.choice(("stick", "ratchet")),
        "stops_per_turn": chance.choice((1, 4, 10, 200)),
    }  # fmt: skip
    packing = {"thickness": "2 mm", "width": "15 mm", "every_turns": chance.choice((1, 3, 100))}
    pace: dict[str, Any] = {
        "winding": chance.choice((0, 20, 3600)), "threading": 30, "picks_per_minute": chance.choice((0.25, 12, 300)),
        "fixed_minutes": 40,
    }  # fmt: skip
    if chance.random() < 0.5:
        pace["session_minutes"] = chance.choice((1, 180, 10000))
    waste = chance.choice(("20 in", "1 mm", "3 m", {"front": "7 in", "back": "13 in"}))
    parts = {
        "beam": beam, "packing": packing, "waste": waste, "press": press, "pace": pace, "hole_size": "2 mm",
        "weaving_zone": {"from": "2 in", "to": "6 in"}, "shuttle_length": chance.choice(("6 in", "2 cm", "1 m")),
        "shuttle_holds": chance.choice((1, 22, 1000)), "dressing": chance.choice(("thread first", "beam first")),
        "cloth_beam": chance.choice(("yes", "no")), "shuttle_kind": chance.choice(("flat", "netting")),
        "threads_from": chance.choice(("front", "back")), "marked_as": scribe.line(LINE),
        "own_words": {act: scribe.line(TITLE) for act in chance.sample(ACTS, chance.choice((1, 1, 3, len(ACTS))))},
    }  # fmt: skip
    often = {"own_words": 0.12, "marked_as": 0.3}
    return {key: part for key, part in parts.items() if chance.random() < often.get(key, 0.8)}


# Layouts of one's own


def own_paper(chance: Random) -> Any:
    """A paper by its name, or one of a size of one's own."""
    if chance.random() < 0.5:
        return chance.choice(PAPERS)
    return {
        "name": chance.choice(("my own", "a card of mine", "shelf")), "width": f"{chance.randint(90, 300)} mm",
        "height": f"{chance.randint(110, 420)} mm",
    }  # fmt: skip


def layout_tree(chance: Random) -> dict[str, Any]:
    """A layout of rows of any panels, or one of ours with another paper, margin and type."""
    if chance.random() < 0.5:
        return _made_over(chance)
    smallest = chance.choice((7, 8, 9, 10, 11, 14))
    sizes = sorted(smallest + chance.choice((0, 0, 1, 1, 2, 4)) for _ in range(3))
    return {
        "title": "Own", "papers": [own_paper(chance)], "margin": f"{chance.choice((6, 8, 10, 12))} mm",
        "binding": {"width": f"{chance.choice((6, 12, 20))} mm", "side": chance.choice(("left", "right", "none"))},
        "units": chance.choice(("metric", "us")), "ribbon": chance.choice(("yes", "no")), "kind": "record",
        "words": chance.choice(("full", "brief")),
        "type": {
            "title": smallest + chance.randint(4, 16), "count": sizes[2] + chance.randint(0, 8), "heading": sizes[2],
            "body": sizes[1], "small": sizes[0], "smallest": smallest,
        },
        "rows": list(rows_by_chance(chance)),
    }  # fmt: skip


@cache
def _shipped_tree(folder: str, stem: str) -> dict[str, Any]:
    text = (ROOT / "layouts" / folder / f"{stem}.yaml").read_text("utf-8")
    tree: dict[str, Any] = _with_numbers(yaml.load(text, Loader=yaml.BaseLoader))
    return tree


def _with_numbers(value: Any) -> Any:
    """Numbers as such, which a file has without quotes."""
    if isinstance(value, dict):
        return {key: _with_numbers(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [_with_numbers(inner) for inner in value]
    return (
        float(value)
        if value.replace(".", "", 1).isdigit() and "." in value
        else int(value)
        if value.isdigit()
        else value
    )


def _made_over(chance: Random) -> dict[str, Any]:
    tree = dict(_shipped_tree("cards", chance.choice(MADE_OVER)))
    tree["papers"] = [own_paper(chance)]
    _other_type(tree, chance)
    tree["margin"] = f"{chance.choice((6, 8, 12, 15))} mm"
    tree["binding"] = {"width": f"{chance.choice((8, 20, 25))} mm", "side": chance.choice(("left", "right", "none"))}
    tree["ribbon"] = chance.choice(("yes", "no", "back")) if "back" in tree else chance.choice(("yes", "no"))
    tree.pop("sample", None)
    return tree


def _other_type(tree: dict[str, Any], chance: Random) -> None:
    share = chance.choice((0.8, 0.9, 1, 1, 1.1, 1.3))
    sizes = {key: round(float(size) * share, 1) for key, size in tree["type"].items()}
    tree["type"] = {key: max(size, sizes["smallest"]) for key, size in sizes.items()}


def sheet_tree(chance: Random) -> dict[str, Any]:
    """A sheet of ours with other cells, paper and type."""
    tree = dict(_shipped_tree("sheets", chance.choice(SHEETS)))
    tree["papers"] = [
        chance.choice(("letter", "a4", "half-letter", "a5", {"name": "x", "width": "280 mm", "height": "300 mm"}))
    ]
    tree["cells"] = {"width": f"{chance.randint(70, 130)} mm", "height": f"{chance.randint(30, 130)} mm"}
    _other_type(tree, chance)
    return tree


# Classes, events, binders


class Tape:
    """A pattern file of this input: its stem, its yarns, and how many ends it has."""

    def __init__(self, stem: str, tree: dict[str, Any], ends: int) -> None:
        self.stem, self.tree, self.ends = stem, tree, ends


def class_tree(scribe: Scribe, tapes: Sequence[Tape], looms: Sequence[str]) -> dict[str, Any]:
    """A class of 1 to 60 students; every loom holds every tape."""
    chance = scribe.chance
    many = chance.choice((1, 2, 3, 4, 5, 6, 7, 8, 9, 11, chance.randint(1, 30), chance.randint(1, 60), 60))
    tree: dict[str, Any] = {"title": scribe.line(LINE)}
    for key, most in (("teacher", LINE), ("date", MARK), ("place", LINE), ("marked_as", LINE)):
        if scribe.some(0.6):
            tree[key] = scribe.line(most)
    if chance.random() < 0.6:
        tree["session"] = chance.choice(("1 min", "3 h", "2 h 45 min", "90 min"))
    done = chance.choice(("", "", "winding", "threading"))
    if done:
        tree[done] = "beforehand"
    if chance.random() < 0.3:
        tree["stages"] = "yes"
    if chance.random() < 0.3:
        tree["warp"] = chance.choice(("4 yd", "5 m", "20 m"))
    if chance.random() < 0.3:
        tree |= {"extra": chance.choice(("0 %", "5 %", "50 %")), "spare_ends": chance.choice((0, 1, 100))}
    _common(tree, chance)
    tree["students"] = [_student(scribe, name, tapes, looms) for name in different(scribe, MARK, many)]
    if chance.random() < 0.4:
        tree["spares"] = [
            {"count": chance.choice((1, 2, 5)), "loom": chance.choice(looms), "pattern": chance.choice(tapes).stem}
            for _ in range(chance.choice((1, 2)))
        ]
    if chance.random() < 0.4:
        names = list(next(each for each in tapes if each.stem == tree["students"][0]["pattern"]).tree["yarns"])
        tree["packages"] = {name: {"weight": "50 g", "price": chance.choice(PRICES)} for name in names[:3]}
    _about(tree, scribe)
    return tree


def _student(scribe: Scribe, name: str, tapes: Sequence[Tape], looms: Sequence[str]) -> dict[str, Any]:
    chance = scribe.chance
    student: dict[str, Any] = {"name": name, "loom": chance.choice(looms), "pattern": chance.choice(tapes).stem}
    if chance.random() < 0.2:
        spaces = max(each.ends for each in tapes) // 2 + 2
        student["loom"] = {"slots": spaces, "holes": spaces - 1, "title": scribe.line(TITLE)}
    for key, words, often in (
        ("hand", ("right", "left"), 0.3),
        ("large_print", ("yes", "no"), 0.25),
        ("units", ("us", "metric"), 0.2),
    ):
        if chance.random() < often:
            student[key] = chance.choice(words)
    return student


def _common(tree: dict[str, Any], chance: Random) -> None:
    if chance.random() < 0.5:
        tree["paper"] = chance.choice(("letter", "a4"))
    if chance.random() < 0.5:
        tree["units"] = chance.choice(("metric", "us"))


def _about(tree: dict[str, Any], scribe: Scribe) -> None:
    if scribe.some(0.3):
        tree["about"] = scribe.text(TEXT)
    if scribe.some(0.4):
        tree["notes"] = [scribe.text(TEXT) for _ in range(scribe.chance.choice((1, 2, 3, 6)))]


def event_tree(scribe: Scribe, tapes: Sequence[Tape], loom: str) -> dict[str, Any]:
    """A day in public, with all its tapes."""
    chance = scribe.chance
    tree: dict[str, Any] = {
        "title": scribe.line(LINE), "hours": chance.choice(("5 h", "1 min", "90 min", "12 h")),
        "patterns": [each.stem for each in tapes], "loom": loom,
    }  # fmt: skip
    for key, most in (("date", MARK), ("ground", LINE), ("by", LINE), ("marked_as", LINE)):
        if scribe.some(0.6):
            tree[key] = scribe.line(most)
    if chance.random() < 0.5:
        tree["on_loom"] = chance.choice(tapes).stem
    if chance.random() < 0.5:
        tree["shown"] = chance.choice((["weaving"], ["threading", "weaving"], ["winding", "threading", "weaving"]))
    if chance.random() < 0.3:
        tree["hand"] = chance.choice(("left", "right"))
    _common(tree, chance)
    _about(tree, scribe)
    return tree


def binder_tree(scribe: Scribe, tapes: Sequence[Tape], layout: str) -> dict[str, Any]:
    """A binder of sections of one's own, with texts between them."""
    chance = scribe.chance
    tree: dict[str, Any] = {"title": scribe.line(LINE), "layout": layout}
    for key, most in (("credit", LINE), ("marked_as", LINE)):
        if scribe.some(0.5):
            tree[key] = scribe.line(most)
    if scribe.some(0.5):
        tree["about"] = scribe.text(TEXT)
    if chance.random() < 0.4:
        tree["duplex"] = chance.choice(("yes", "no"))
    if chance.random() < 0.4:
        tree["units"] = chance.choice(("metric", "us"))
    left, sections = [each.stem for each in tapes], []
    for title in different(scribe, LINE, chance.choice((1, 2, 3, 5, 12))):
        section: dict[str, Any] = {"title": title}
        if scribe.some(0.5):
            section["text"] = scribe.text(20000)
        if left and (many := chance.randint(0, len(left))):
            section["patterns"], left = left[:many], left[many:]
        elif "text" not in section:
            section["text"] = scribe.text(20000)
        sections.append(section)
    if left:
        sections.append({"title": "What is left", "patterns": left})
    tree["sections"] = sections
    return tree
