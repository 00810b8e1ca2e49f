"""What no schema can say, put right in a grown file, so that many of them are sound and reach the reckoning.

Each repairs only what has the right shape; hostile values stay as they are.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Any, Final

from tests.fuzz.shapes import LENGTHS, PEG_NAMES
from tests.fuzz.yaml_out import Raw

Tree = dict[str, Any]


def sensible_pattern(tree: Tree, chance: Random) -> None:
    """Stripes of yarns that there are, a count that may be wrong in one of ten, one way to say how long."""
    yarns = tree.get("yarns")
    if not isinstance(yarns, dict) or not yarns:
        return
    names = list(yarns)
    for yarn in yarns.values():
        _thick(yarn)
    for key in ("ends", "mirror"):
        if chance.random() < 0.7:
            tree.pop(key, None)
    _known(tree, "weft", names, chance)
    _known(tree.get("pickup"), "pattern_yarn", names, chance)
    _stripes(tree.get("warp"), names, chance)
    wish = tree.get("length")
    if isinstance(wish, dict):
        keep = chance.choice(("finished", "pieces", "warp"))
        for key in ("finished", "pieces", "warp"):
            if key != keep:
                wish.pop(key, None)
    for second in tree.get("second_yarns") or ():
        if isinstance(second, dict) and isinstance(second.get("yarns"), dict):
            second["yarns"] = {chance.choice(names): _thick(yarn) for yarn in second["yarns"].values()}
    rows = tree["pickup"].get("rows") if isinstance(tree.get("pickup"), dict) else None
    for row in rows if isinstance(rows, list) else ():
        if isinstance(row, dict) and "lift" in row:
            row.pop("drop", None)


def _thick(yarn: Any) -> Any:
    if isinstance(yarn, dict):
        yarn.setdefault("count", "20/2")
        if "fibre" in yarn:
            yarn["system"] = "cotton"
        if "yards_per_pound" in yarn:
            yarn.pop("metres_per_kg", None)
    return yarn


def _known(part: Any, key: str, names: list[str], chance: Random) -> None:
    if isinstance(part, dict) and key in part and isinstance(part[key], str) and part[key] not in names:
        part[key] = chance.choice(names)


def _stripes(items: Any, names: list[str], chance: Random) -> None:
    for index, item in enumerate(items if isinstance(items, list) else ()):
        if isinstance(item, str) and not isinstance(item, Raw) and item[:1].isdigit():
            items[index] = f"{item.split()[0]} {chance.choice(names)}"
        elif isinstance(item, dict):
            if isinstance(item.get("alternate"), list):
                item["alternate"] = [chance.choice(names) for _ in item["alternate"]]
            if "repeat" in item and chance.random() < 0.9:
                item["repeat"] = Raw(str(chance.randint(1, 5)))
            if "alternate" in item and chance.random() < 0.9:
                item["ends"] = Raw(str(chance.randint(1, 20)))
            _stripes(item.get("stripes"), names, chance)


def sensible_loom(tree: Tree, chance: Random) -> None:
    """Slots and holes that alternate, and the keys of one heddle or of two."""
    two = tree.get("kind") == "two heddles"
    if two:
        tree.setdefault("back_heddle", chance.choice(("same", "opposite")))
    else:
        tree.pop("back_heddle", None)
    if not two:
        tree.pop("tie_up", None)
    elif "tie_up" in tree:
        front = chance.choice((("front up", "front down"), ("back up", "back down"), ("back down", "front down")))
        tree["tie_up"] = dict(zip(("left_foot", "right_foot"), front, strict=True))
    if "shuttle" in tree:
        keys = ("left_foot", "right_foot") if two else ("down", "up")
        tree["shuttle"] = dict(zip(keys, chance.choice((("left", "right"), ("right", "left"))), strict=True))
    if str(tree.get("slots")).isdigit() and len(str(tree["slots"])) < 9:
        holes = max(1, int(str(tree["slots"])) + chance.choice((-1, 0, 1)))
        tree["holes"] = Raw(str(holes))
        tree.pop("outer", None)
        if holes == int(str(tree["slots"])):
            tree["outer"] = chance.choice(("slot", "hole"))
    if isinstance(tree.get("weaving_zone"), dict) and chance.random() < 0.8:
        tree["weaving_zone"] = {"from": "1 in", "to": chance.choice(("6 in", "1000 m", "25.5 mm"))}


def sensible_pegs(tree: Tree, chance: Random) -> None:
    """Pegs on a grid, more or less; a cross of pegs of its own; a span with its two distances and nothing else."""
    if tree.get("kind") == "span":
        tree.update(shortest=chance.choice(LENGTHS), longest=chance.choice(("4 m", "1000 m", "100 yd")))
        for key in ("pegs", "home", "cross", "order"):
            tree.pop(key, None)
        return
    for key in ("shortest", "longest"):
        tree.pop(key, None)
    names = PEG_NAMES[: chance.randint(4, len(PEG_NAMES))]
    step = chance.choice((1, 20, 150, 999, 50_000))
    tree["pegs"] = [
        {"name": name, "x": f"{(index % 3) * step + chance.randint(0, step // 4)} mm", "y": f"{index // 3 * step} mm"}
        for index, name in enumerate(names)
    ]
    tree.setdefault("diameter", chance.choice(("20 mm", "0.000000001 mm", f"{step / 2} mm")))
    tree.update(home=names[0], cross=list(names[1:3]), order=list(names[3:]))
    if chance.random() < 0.8:
        tree.pop("surface", None)


def sensible_card(tree: Tree, chance: Random) -> None:
    """Papers of a size, margins that leave something, rows of twelve columns."""
    if isinstance(tree.get("papers"), list) and chance.random() < 0.8:
        tree["papers"] = chance.sample(["letter", "a4", "a5", "half-letter", "4x6", "a6", "3x5"], 2)
    if chance.random() < 0.8:
        tree["margin"] = chance.choice(("0 mm", "5 mm", "12 mm", "30 mm"))
        tree.pop("binding", None)
    if isinstance(tree.get("type"), dict) and chance.random() < 0.7:
        tree["type"]["smallest"] = Raw("4")
    if isinstance(rows := tree.get("rows"), list):
        tree["rows"] = [_row(row, chance) for row in rows]


def _row(row: Any, chance: Random) -> Any:
    if not isinstance(row, list) or not row:
        return row
    kept = row[: chance.choice((1, 1, 2, 3))]
    for panel in kept:
        if isinstance(panel, dict) and "columns" in panel:
            panel["columns"] = Raw(str(12 // len(kept)))
    return kept


def sensible_binder(tree: Tree, chance: Random) -> None:
    """The layout and loom that are at hand, and few cards."""
    for key, words in (("layout", ("six-numbers", "field")), ("loom", ("broad-paddle",)), ("paper", ("",))):
        if key in tree:
            tree[key] = chance.choice(words)
    tree.pop("paper", None)
    for section in tree.get("sections") or ():
        if isinstance(section, dict) and isinstance(section.get("patterns"), list):
            section["patterns"] = section["patterns"][:2]


def sensible_class(tree: Tree, chance: Random) -> None:
    """Few students, no two of a name, each with a pattern and a loom that are at hand."""
    students = tree.get("students")
    if isinstance(students, list):
        tree["students"] = students = students[:3]
    for number, student in enumerate(students if isinstance(students, list) else ()):
        if isinstance(student, dict):
            hostile = chance.random() < 0.3
            student["name"] = student.get("name", "x") if hostile else f"Ansel {number}"
            student.update(
                loom=chance.choice(("small-box", "broad-paddle")), pattern=chance.choice(("wick", "two-rails"))
            )
    spares = tree.get("spares")
    for spare in spares[:2] if isinstance(spares, list) else (spares,):
        if isinstance(spare, dict):
            spare.update(loom="small-box", pattern="wick", count=Raw(str(chance.randint(1, 3))))
    if isinstance(spares, list):
        tree["spares"] = spares[:2]
    if isinstance(tree.get("session"), str):
        tree["session"] = chance.choice(("3 h", "90 min", "0 h", "1 min", "999999 h"))


SENSE: Final[dict[str, Callable[[Tree, Random], None]]] = {
    "pattern": sensible_pattern, "loom": sensible_loom, "pegs": sensible_pegs, "card": sensible_card,
    "binder": sensible_binder,
    "class": sensible_class,
}  # fmt: skip
