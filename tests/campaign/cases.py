"""The cards of the campaign. A case is a few words from which its card can be made again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import product
from random import Random
from typing import Final, Literal, NamedTuple

import yaml

from cardmaker.model.pattern import LONGEST_TITLE
from tests.helpers.recount import board, lay_ends, read
from tests.helpers.rows_by_chance import rows_by_chance
from tests.helpers.shipped import LAYOUTS, LOOMS, PATTERNS, loom_file, pattern_file, shipped_layout

Kind = Literal["shipped", "ends", "title", "texts", "own"]
Units = Literal["metric", "us"]
UNITS: Final[tuple[Units, ...]] = ("metric", "us")
MOST_ENDS: Final = 119
PAPERS: Final = ("letter", "a4", "half-letter", "a5", "4x6", "a6", "3x5")
WARPS: Final = ("plain", "stripes", "turns", "singles", "edges", "mixed")
TITLE_STYLES: Final = ("words", "one word", "wide")
COLOURS: Final = {
    "white": "#F4F0E4", "blue": "#2F4A7D", "red": "#9C2F2B", "green": "#4F6B3F", "yellow": "#C9A24A",
    "black": "#2A2725", "brown": "#7A5230", "grey": "#8A8A86",
}  # fmt: skip
FIBRES: Final = (
    "fibre: linen, count: 20/2, ends_per_inch: 49.3",
    "fibre: linen, count: 20/2, ends_per_inch: 49.3",
    "fibre: cotton, count: 8/2",
    "fibre: wool, ends_per_inch: 14",
    "fibre: linen, ends_per_inch: 90",
)
WORDS: Final = (
    "The gypsy's quay jetty flag by Hythe pier, long yellow quilts; a plain rope walk at dusk (copied twice), "
    "where every jug was filled by eight quiet hands and nobody kept the tally but one. "
)


class Case(NamedTuple):
    """A card: what is made, on which paper and loom, and for whom."""

    kind: Kind
    pattern: str
    layout: str
    paper: str
    loom: str
    units: Units = "metric"
    left_hand: bool = False
    behind: bool = False

    @property
    def key(self) -> str:
        """The case on one line, as ``--show`` takes it."""
        return "|".join(map(str, self))


def case_of(key: str) -> Case:
    kind, pattern, layout, paper, loom, units, left, behind = key.split("|")
    return Case(kind, pattern, layout, paper, loom, units, left == "True", behind == "True")  # type: ignore[arg-type]


def all_cases(seed: int) -> Iterator[Case]:
    """All of them, those of one plan together."""
    yield from shipped_cases()
    yield from ends_cases(seed)
    yield from title_cases()
    yield from texts_cases(seed)
    yield from own_cases(seed)


def sample(seed: int, many: int) -> list[Case]:
    """Some of them by chance, a few of every kind; always the hardest."""
    chance = Random(seed)
    by_kind = [list(shipped_cases()), list(ends_cases(seed)), list(title_cases()), list(texts_cases(seed))]
    by_kind.append(list(own_cases(seed)))
    shares = (0.4, 0.25, 0.1, 0.1, 0.15)
    return [
        case for cases, share in zip(by_kind, shares, strict=True) for case in chance.sample(cases, round(many * share))
    ]


# Shipped patterns


def shipped_cases() -> Iterator[Case]:
    """Every layout, paper, units, hand and view of every pattern on every loom that holds it."""
    for pattern, loom in on_looms():
        for units, left, behind in product(UNITS, (False, True), (False, True)):
            for layout, paper in papers():
                yield Case("shipped", pattern, layout, paper, loom, units, left, behind)


@cache
def on_looms() -> tuple[tuple[str, str], ...]:
    return tuple((pattern, loom) for pattern in PATTERNS for loom in LOOMS if _holds(loom, pattern))


def _holds(loom: str, pattern: str) -> bool:
    """Two heddles hold no end that must lie in slots, for a hole of one is a slot of the other."""
    heddle, tree = board(read(loom_file(loom))), read(pattern_file(pattern))
    is_bound = any("spaces" in yarn for yarn in tree["yarns"].values())
    return len(lay_ends(tree)) <= heddle.holds() and not (is_bound and heddle.back is not None)


@cache
def papers() -> tuple[tuple[str, str], ...]:
    return tuple((layout, paper.name) for layout in LAYOUTS for paper in shipped_layout(layout).papers)


# Warps of any number of ends


def ends_cases(seed: int) -> Iterator[Case]:
    """Warps of 1 to 119 ends of every sort, on a loom of their own that just holds them or has some spaces more."""
    for ends, warp in product(range(1, MOST_ENDS + 1), WARPS):
        chance = Random(f"{seed} {ends} {warp}")
        heddles = "two" if ends > 1 and chance.random() < 0.3 else "one"
        loom = f"{heddles}:{ends + chance.choice([0, 0, 1, 2, 7])}"
        units = chance.choice(UNITS)
        left, behind = chance.random() < 0.3, chance.random() < 0.2
        for layout in LAYOUTS:
            paper = chance.choice(shipped_layout(layout).papers).name
            yield Case("ends", f"{ends}:{warp}:{seed}", layout, paper, loom, units, left, behind)


def warp_text(ends: int, warp: str, seed: int) -> str:
    chance = Random(f"{seed} {ends} {warp}")
    yarns = chance.sample(sorted(COLOURS), 1 if warp == "plain" else chance.randint(2, 6))
    order = laid(chance, ends, warp, yarns)
    used = sorted(set(order))
    fibre = chance.choice(FIBRES)
    lines = "".join(f"  {yarn}: {{{fibre}, colour: '{COLOURS[yarn]}'}}\n" for yarn in used)
    stripes = "".join(f"  - {count} {yarn}\n" for yarn, count in _runs(order))
    return (
        f"title: Warp {ends}\ncode: W{ends}\nyarns:\n{lines}warp:\n{stripes}"
        "length: {finished: 72 in, take_up: 12 %, shrinkage: 3 %}\n"
        "notes: {student: [Count once more.], visitor: [Ask what it is for.]}\n"
    )


def laid(chance: Random, ends: int, warp: str, yarns: Sequence[str]) -> list[str]:
    """The yarn of every end."""
    match warp:
        case "plain":
            return [yarns[0]] * ends
        case "turns":
            return [yarns[at % len(yarns)] for at in range(ends)]
        case "singles":
            return [chance.choice(yarns) for _ in range(ends)]
        case "edges":
            return [yarns[0] if at in (0, ends - 1) else yarns[1] for at in range(ends)]
    order: list[str] = []
    while len(order) < ends:
        if warp == "mixed" and chance.random() < 0.4:
            turns = chance.sample(yarns, chance.randint(2, min(3, len(yarns))))
            order += [turns[at % len(turns)] for at in range(chance.randint(4, 21))]
        else:
            order += [chance.choice(yarns)] * chance.choice([1, 1, 2, 3, 4, 5, 9, 12, 20])
    return order[:ends]


def _runs(order: Sequence[str]) -> list[tuple[str, int]]:
    runs: list[tuple[str, int]] = []
    for yarn in order:
        if runs and runs[-1][0] == yarn:
            runs[-1] = (yarn, runs[-1][1] + 1)
        else:
            runs.append((yarn, 1))
    return runs


def loom_text(loom: str) -> str:
    """``one:24`` is a heddle of 24 spaces, ``two:24`` a pair of them that holds 24 ends."""
    heddles, _, holds = loom.partition(":")
    spaces = max(3, int(holds) + (heddles == "two"))
    sides = "{left_foot: left, right_foot: right}" if heddles == "two" else "{down: left, up: right}"
    outer = "outer: slot\n" if spaces % 2 == 0 else ""
    return (
        f"title: Own loom\nkind: {heddles} heddle{'s' * (heddles == 'two')}\nslots: {-(-spaces // 2)}\n"
        f"holes: {spaces // 2}\n{outer}mark: counted as zero\nwaste: 20 in\nshuttle: {sides}\nshuttle_length: 6 in\n"
        "beam: {diameter: 1 1/4 in, held_by: stick, stops_per_turn: 4}\n"
        "packing: {thickness: 2 mm, width: 15 mm, every_turns: 3}\npress: {span: 40 cm, free_length: 60 cm}\n"
        "pace: {winding: 20, threading: 30, picks_per_minute: 12, fixed_minutes: 40}\n"
        + ("back_heddle: same\n" if heddles == "two" else "")
    )


# Titles and texts of any length


def title_cases() -> Iterator[Case]:
    """A title of every length that a file may have; a few lengths of every style on every layout and paper."""
    for length, style in product(range(1, LONGEST_TITLE + 1), TITLE_STYLES):
        layouts = papers() if length % 20 == 0 else [papers()[(length * 7 + len(style)) % len(papers())]]
        for layout, paper in layouts:
            yield Case("title", f"{length}:{style}", layout, paper, "middle-box")


def line_of(length: int, style: str) -> str:
    if style == "wide":
        return "W" * length
    text = WORDS * (length // len(WORDS) + 1)
    text = text.replace(" ", "").replace("(", "").replace(")", "") * 2 if style == "one word" else text
    line = text[:length].strip(" ,;.(")
    return line + "y" * (length - len(line))


def texts_cases(seed: int) -> Iterator[Case]:
    """Every text of a pattern and of its loom as long as ever allowed, or of any length."""
    for length, style in product((5, 20, 40, 60, 80, 100, 130, 160, 200), TITLE_STYLES):
        chance = Random(f"{seed} {length} {style}")
        for layout, paper in papers():
            yield Case("texts", f"{length}:{style}:{chance.randint(0, 9)}", layout, paper, "long")


def titled_text(length: int, style: str) -> str:
    return _tree_text({"title": line_of(length, style)})


def all_texts_text(length: int, style: str) -> str:
    line, mark = line_of(length, style), line_of(min(length, 40), style)
    return _tree_text(
        {
            "title": line, "code": mark, "version": mark, "date": mark, "for": [line, line], "about": line,
            "source": {
                "grade": "B", "what": line, "holder": line, "object_number": line, "place": line, "period": line,
                "counted_by": line, "counted_when": line, "counted_how": line, "certainty": line,
                "differences": [line, line], "references": [line],
            },
            "notes": {"student": [line, line], "teacher": [line], "visitor": [line]},
            "changes": [{"version": mark, "date": mark, "what": line}],
            "credit": line, "marked_as": line,
        },
        shade=line,
    )  # fmt: skip


def _tree_text(more: dict[str, object], shade: str = "Plain") -> str:
    yarns = {
        name: {"fibre": "linen", "count": "20/2", "ends_per_inch": 49.3, "colour": COLOURS[name], "shade": shade}
        for name in ("red", "white", "blue")
    }
    tree = {"yarns": yarns, "warp": ["3 red", "5 white", "3 blue", "9 white", "3 blue", "5 white", "3 red"]}
    return yaml.safe_dump({**more, **tree}, sort_keys=False, allow_unicode=True, width=10_000)


# Layouts of one's own


def own_cases(seed: int) -> Iterator[Case]:
    """Rows of any panels on every paper, for hard patterns and easy ones."""
    for number, paper in product(range(60), PAPERS):
        chance = Random(f"{seed} {number} {paper}")
        pattern, loom = chance.choice(on_looms())
        units = chance.choice(UNITS)
        left, behind = chance.random() < 0.3, chance.random() < 0.2
        yield Case("own", pattern, f"{number}:{paper}:{seed}", paper, loom, units, left, behind)


def layout_text(number: int, paper: str, seed: int) -> str:
    chance = Random(f"{seed} {number} {paper} rows")
    smallest = chance.choice([7, 8, 9, 10, 11, 14])
    sizes = sorted(smallest + chance.choice([0, 0, 1, 1, 2, 4]) for _ in range(3))
    type_ = {
        "title": smallest + chance.randint(4, 16), "count": sizes[2] + chance.randint(0, 8), "heading": sizes[2],
        "body": sizes[1], "small": sizes[0], "smallest": smallest,
    }  # fmt: skip
    tree = {
        "title": "Own", "papers": [paper], "margin": f"{chance.choice([5, 6, 8, 10, 12])} mm",
        "binding": {"width": f"{chance.choice([6, 12, 20])} mm", "side": chance.choice(["left", "right", "none"])},
        "units": "metric", "ribbon": chance.choice(["yes", "no"]), "words": chance.choice(["full", "brief"]),
        "type": type_, "rows": list(rows_by_chance(chance)),
    }  # fmt: skip
    return yaml.safe_dump(tree, sort_keys=False)
