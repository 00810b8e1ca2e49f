"""Pattern files that are sound, of 1 to 120 ends, with texts, densities, lengths and figures at their limits."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from typing import Any, Final

from cardmaker.model.pattern import LONGEST_CODE, LONGEST_TITLE, LONGEST_USE, LONGEST_YARN_NAME
from tests.fuzz.drawn.letters import Scribe, different

MOST_ENDS: Final = 120
FIBRES: Final = ("linen", "cotton", "cottolin", "wool", "silk", "hemp", "other")
PLAIN_YARNS: Final = ("white", "blue", "red", "green", "yellow", "black", "brown", "grey")
COLOURS: Final = ("#F4F0E4", "#2F4A7D", "#9C2F2B", "#4F6B3F", "#C9A24A", "#2A2725", "#7A5230", "#8A8A86")
CALM: Final = ("plain", "broad", "broad", "broad", "edges")
SORTS: Final = ("plain", "stripes", "turns", "singles", "edges", "mixed")
PARTS_OF_SOURCE: Final = (
    "what", "holder", "object_number", "attached_to", "place", "period", "attributed", "counted_by", "counted_when",
    "counted_how", "certainty", "fibre", "twist", "colour_today", "colour_then", "colour_reason",
)  # fmt: skip
PRICES: Final = ("$7.40", "6 crowns", "1,000,000 crowns of the realm", "£0.05")
WIDEST_MM, CALM_MM = 300.0, 40.0  # of a tape; of one that stands in a cell beside others
LINE, TEXT, SHORT = 200, 4000, 60


def some_ends(chance: Random, most: int = MOST_ENDS) -> int:
    """How many ends: every number, those of a narrow tape more often."""
    usual = [chance.randint(4, 40) for _ in range(3)]
    return min(most, chance.choice((1, 2, 3, MOST_ENDS, chance.randint(1, MOST_ENDS), *usual, chance.randint(5, 80))))


def pattern_tree(scribe: Scribe, ends: int, *, heddles: int, is_calm: bool = False) -> dict[str, Any]:
    """A pattern of so many ends as the keys of its file; one heddle can have ends that are picked up.

    Of a calm one the stripes are few."""
    chance = scribe.chance
    names = _names(scribe, ends)
    is_picked = heddles == 1 and ends % 4 == 3 and ends > 6 and len(names) > 1 and chance.random() < 0.6
    tree: dict[str, Any] = {"title": scribe.line(LONGEST_TITLE)}
    for key, most in (("code", LONGEST_CODE), ("version", 12), ("date", 24)):
        if scribe.some(0.5):
            tree[key] = scribe.line(most)
    if scribe.some(0.4):
        tree["for"] = different(scribe, LONGEST_USE, chance.choice((1, 1, 2, 3, 20)))
    if scribe.some(0.5):
        tree["about"] = scribe.text(TEXT)
    warp, mirror = (
        (_posts(chance, ends, names), "") if is_picked else _warp(chance, ends, names, CALM if is_calm else SORTS)
    )
    used = _yarns_in(warp)
    thick = chance.choice(_densities(ends, CALM_MM if is_calm else WIDEST_MM))
    tree["yarns"] = {name: _yarn(scribe, thick, number) for number, name in enumerate(names) if name in used}
    tree["warp"] = warp
    if mirror:
        tree["mirror"] = mirror
    if chance.random() < 0.6:
        tree["weft"] = chance.choice(list(tree["yarns"]))
    tree["length"] = _length(scribe)
    if chance.random() < 0.15:
        tree["picks_per_inch"] = chance.choice((1, 7.5, 16, 40, 150))
    if is_picked:
        _pick_up(tree, chance, names[0], (ends - 3) // 4)
    _texts(tree, scribe, ends)
    return tree


def _names(scribe: Scribe, ends: int) -> list[str]:
    chance = scribe.chance
    many = min(ends, chance.choice((1, 2, 2, 3, 3, 4, 6)))
    if scribe.temper == "plain" or chance.random() < 0.5:
        return chance.sample(PLAIN_YARNS, many)
    # What reads as a count, a key or a note in a stripe is refused where it is read: names here begin with a letter.
    lines = different(scribe, LONGEST_YARN_NAME - 1, many)
    return [f"y{line}" if not line[0].isalpha() else line for line in lines]


def _densities(ends: int, widest_mm: float) -> Sequence[float]:
    """Ends per inch at which so many ends are no wider than this."""
    found = [each for each in (3, 8, 14, 30, 49.3, 49.3, 49.3, 90, 150, 300) if 0.6 <= ends / each * 25.4 <= widest_mm]
    return found or (49.3,)


def _yarn(scribe: Scribe, thick: float, number: int) -> dict[str, Any]:
    chance = scribe.chance
    fibre = chance.choice(FIBRES)
    yarn: dict[str, Any] = {"fibre": fibre, "ends_per_inch": thick if chance.random() < 0.8 else max(3, thick / 2)}
    if chance.random() < 0.6:
        yarn |= {
            "fibre": chance.choice(("linen", "cotton")),
            "count": chance.choice(("20/2", "8/2", "12/3", "5/2", "40")),
        }
    if chance.random() < 0.9:
        yarn["colour"] = (
            COLOURS[number % len(COLOURS)] if chance.random() < 0.7 else f"#{chance.randrange(1 << 24):06x}"
        )
    for key, most in (("shade", SHORT), ("lot", 40), ("dye", SHORT)):
        if scribe.some(0.3):
            yarn[key] = scribe.line(most)
    if scribe.some(0.05):
        yarn["dye_evidence"] = scribe.line(LINE)
    if chance.random() < 0.3:
        yarn["package"] = {"weight": chance.choice(("50 g", "1 g", "100 kg")), "price": chance.choice(PRICES)}
    return yarn


def _warp(chance: Random, ends: int, names: Sequence[str], sorts: Sequence[str]) -> tuple[list[Any], str]:
    """The stripes of a file that come to so many ends, with turns, repeats and mirrors, and how they are mirrored."""
    if ends >= 6 and chance.random() < 0.2:
        if ends % 2:
            middle = chance.choice([each for each in (1, 3, 5, ends) if each <= ends])
            half, _ = _warp_items(chance, (ends - middle) // 2, names, sorts)
            return [*half, f"{middle} {chance.choice(names)}"], "last stripe"
        return _warp_items(chance, ends // 2, names, sorts)[0], "whole"
    return _warp_items(chance, ends, names, sorts)


def _warp_items(chance: Random, ends: int, names: Sequence[str], sorts: Sequence[str]) -> tuple[list[Any], str]:
    items: list[Any] = []
    sort, left, turn = chance.choice(sorts), ends, 0
    while left:
        count, name = _run(chance, sort, left, ends), names[turn % len(names)]
        if sort in ("turns", "mixed") and len(names) > 1 and left > 2 and chance.random() < 0.6:
            count = min(left, chance.randint(3, 60))
            items.append({"alternate": chance.sample(list(names), chance.randint(2, len(names))), "ends": count})
        elif sort == "mixed" and left > 9 and chance.random() < 0.4:
            times = chance.randint(2, left // 4)
            items.append({"repeat": times, "stripes": [f"3 {name}", f"1 {chance.choice(names)}"]})
            count = 4 * times
        else:
            items.append(f"{count} {chance.choice(names) if sort == 'singles' else name}")
        left, turn = left - count, turn + 1
    return items, ""


def _run(chance: Random, sort: str, left: int, ends: int) -> int:
    if sort == "plain":
        return left
    if sort == "edges":
        return 1 if left in (1, ends) else left - 1
    if sort == "broad":
        return min(left, chance.choice((2, 3, 5, 9, 12)))
    return 1 if sort in ("singles", "turns") else min(left, chance.choice((1, 1, 2, 3, 4, 5, 9, 12, 20)))


def _yarns_in(items: Sequence[Any]) -> set[str]:
    found: set[str] = set()
    for item in items:
        if isinstance(item, str):
            found.add(item.split(" ", 1)[1])
        else:
            found |= set(item["alternate"]) if "alternate" in item else _yarns_in(item["stripes"])
    return found


def _length(scribe: Scribe) -> dict[str, Any]:
    chance = scribe.chance
    found: dict[str, Any] = {}
    what = chance.randrange(5)
    if what < 2:
        found["finished"] = chance.choice(("1 cm", "72 in", "72 in", "2 m", "25 yd", "200 m"))
    elif what == 2:
        found["warp"] = chance.choice(("4 yd", "5 m", "300 m"))
    elif what == 3:
        found["pieces"] = [_piece(scribe) for _ in range(chance.choice((1, 1, 2, 3, 3, 12)))]
    for key, shares in (("take_up", ("0 %", "12 %", "50 %")), ("shrinkage", ("0 %", "3 %", "50 %"))):
        if chance.random() < 0.6:
            found[key] = chance.choice((shares[1], shares[1], *shares))
    if chance.random() < 0.2:
        found["spare_ends"] = chance.choice((0, 1, 2, 100))
    return found


def _piece(scribe: Scribe) -> dict[str, Any]:
    chance = scribe.chance
    piece: dict[str, Any] = {
        "for": scribe.line(SHORT),
        "length": chance.choice(("9 in", "20 cm", "1 yd", "1 cm", "3 m")),
    }
    if chance.random() < 0.5:
        piece["count"] = chance.choice((1, 2, 12, 30))
    if chance.random() < 0.4:
        piece["fringe"] = chance.choice(("1 in", "2 cm", "1 mm", "30 cm"))
    return piece


def _posts(chance: Random, ends: int, names: Sequence[str]) -> list[Any]:
    """Single ends of the first yarn, with three others between them and at both edges: all of them lie in slots."""
    return [
        f"3 {names[1]}",
        *(f"{count} {name}" for _ in range((ends - 3) // 4) for count, name in _post(chance, names)),
    ]


def _post(chance: Random, names: Sequence[str]) -> Sequence[tuple[int, str]]:
    return ((1, names[0]), (3, chance.choice(names[1:])))


def _pick_up(tree: dict[str, Any], chance: Random, yarn: str, many: int) -> None:
    """A figure of the ends of one yarn; some row of each shed is plain, so that the weft holds every end."""
    rows: list[dict[str, Any]] = []
    for shed, act in (("down", "lift"), ("up", "drop")) * chance.choice((1, 2, 3, 4, 10, 20)):
        rows.append({"shed": shed})
        if len(rows) > 2 and chance.random() < 0.6:
            rows[-1][act] = sorted(chance.sample(range(1, many + 1), chance.randint(1, many)))
    tree["yarns"][yarn]["spaces"] = "slots"  # so that all of them rise and sink together
    tree["pickup"] = {"pattern_yarn": yarn, "rows": rows}


def _texts(tree: dict[str, Any], scribe: Scribe, ends: int) -> None:
    chance = scribe.chance
    if chance.random() < 0.5:
        source: dict[str, Any] = {"grade": chance.choice("ABCDEF")}
        source |= {key: scribe.line(LINE) for key in PARTS_OF_SOURCE if scribe.some(0.4)}
        for key in ("differences", "references"):
            if scribe.some(0.2):
                source[key] = [scribe.line(LINE) for _ in range(chance.choice((1, 2, 3, 8)))]
        tree["source"] = source
    notes = {
        whose: [scribe.text(TEXT) for _ in range(chance.choice((1, 1, 2, 3)))]
        for whose in ("student", "teacher", "visitor")
        if scribe.some(0.4)
    }
    if notes:
        tree["notes"] = notes
    if scribe.some(0.2):
        changes = [
            {"version": scribe.line(12), "date": scribe.line(24), "what": scribe.text(TEXT)}
            for _ in range(chance.choice((1, 1, 2, 8)))
        ]
        tree["changes"] = changes
    if scribe.some(0.3):
        tree["credit"] = scribe.text(TEXT)
    if scribe.some(0.3):
        tree["marked_as"] = scribe.line(LINE)
    if scribe.some(0.05):
        wide = f"{max(1, ends // 2)} mm"
        tree["measured"] = [
            {"date": scribe.line(24), "tape": "1 m", "warp": "10 m", "width": wide, "note": scribe.line(LINE)}
            for _ in range(chance.choice((1, 2, 6)))
        ]
