"""The inputs: sound files and the commands that print them, each made from the seed and its own number alone."""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Any, Final, NamedTuple

from tests.fuzz.drawn.letters import Scribe, tree_text
from tests.fuzz.drawn.sound_files import (
    LINE,
    SHEETS,
    Tape,
    binder_tree,
    class_tree,
    event_tree,
    layout_tree,
    loom_tree,
    sheet_tree,
)
from tests.fuzz.drawn.sound_patterns import MOST_ENDS, pattern_tree, some_ends
from tests.helpers.shipped import LAYOUTS, shipped_layout

Command = list[str]
OWN: Final = "own"  # the stem of a loom and of a layout of one's own
FEW_ENDS: Final = 31
CARDS_OF_ONE: Final = 4  # cards of one pattern


class Job(NamedTuple):
    """Files by their places, the commands that must print them, and the texts that the commands give."""

    number: int
    kind: str
    files: dict[str, bytes]
    commands: tuple[Command, ...]

    def tree(self, stem: str) -> bytes:
        """The file of a pattern."""
        return self.files[f"patterns/{stem}.yaml"]


class _Desk:
    """The files of one input as they are written."""

    def __init__(self, chance: Random) -> None:
        self.chance, self.scribe = chance, Scribe(chance)
        self.files: dict[str, bytes] = {}
        self.heddles = 2 if chance.random() < 0.3 else 1

    def put(self, folder: str, stem: str, tree: dict[str, Any]) -> str:
        self.files[f"{folder}/{stem}.yaml"] = tree_text(tree)
        return stem

    def tapes(self, many: int, most: int = MOST_ENDS) -> list[Tape]:
        """So many tapes; where they stand together all are calm in three of four inputs, else nearly all are told to
        be too much for a small card."""
        is_calm = many > 1 and self.chance.random() < 0.75
        tapes = []
        for number in range(1, many + 1):
            ends = some_ends(self.chance, min(most, FEW_ENDS) if is_calm else most)
            tree = pattern_tree(self.scribe, ends, heddles=self.heddles, is_calm=is_calm)
            if number > 1:
                tree["title"] = f"{tree['title'][:74]} {number}"
            tapes.append(Tape(self.put("patterns", f"tape-{number}", tree), tree, ends))
        return tapes

    def loom(self, tapes: list[Tape], stem: str = OWN) -> str:
        """A loom that holds all tapes, and may be shifted under those with ends that belong in slots."""
        holds = max(each.ends + ("pickup" in each.tree) for each in tapes)
        return self.put("layouts/looms", stem, loom_tree(self.scribe, holds, heddles=self.heddles))

    def view(self) -> Command:
        chance, found = self.chance, []
        if chance.random() < 0.35:
            found += ["--hand", chance.choice(("left", "right"))]
        if chance.random() < 0.25:
            found += ["--from", chance.choice(("front", "behind", "loom"))]
        return [*found, *self.units()]

    def units(self) -> Command:
        return ["--units", self.chance.choice(("us", "metric"))] if self.chance.random() < 0.5 else []

    def whole_sheet(self) -> Command:
        return ["--paper", self.chance.choice(("letter", "a4"))] if self.chance.random() < 0.5 else []


def _cards(desk: _Desk) -> list[Command]:
    """Cards of one pattern on layouts of ours and of one's own."""
    chance = desk.chance
    tapes = desk.tapes(1)
    loom, view, commands = desk.loom(tapes), desk.view(), []
    fitting = [each for each in LAYOUTS if "pickup" in tapes[0].tree or shipped_layout(each).needs != "pick-up"]
    for layout in chance.sample(fitting, CARDS_OF_ONE):
        paper = chance.choice(shipped_layout(layout).papers).name
        back = ["--back"] if shipped_layout(layout).back and chance.random() < 0.5 else []
        commands.append(["card", "tape-1", "--layout", layout, "--paper", paper, "--loom", loom, *back, *view])
    if chance.random() < 0.3:
        commands.append(
            ["card", "tape-1", "--layout", "any-loom", "--paper", chance.choice(("letter", "a4")), "--loom", "any"]
        )
    return commands


def _own_layouts(desk: _Desk) -> list[Command]:
    """Cards of one pattern on layouts of one's own: any panels, any paper."""
    tapes = desk.tapes(1)
    loom, view, commands = desk.loom(tapes), desk.view(), []
    for number in range(1, CARDS_OF_ONE + 1):
        tree = layout_tree(desk.chance)
        layout = desk.put("layouts/cards", f"own-{number}", tree)
        back = ["--back"] if "back" in tree and desk.chance.random() < 0.5 else []
        commands.append(["card", "tape-1", "--layout", layout, "--loom", loom, *back, *view])
    return commands


def _class(desk: _Desk) -> list[Command]:
    tapes = desk.tapes(desk.chance.choice((1, 1, 2, 2, 3, 5)), 60)
    looms = [desk.loom(tapes, f"loom-{number}") for number in range(1, desk.chance.choice((1, 1, 2)) + 1)]
    desk.put("layouts/classes", "evening", class_tree(desk.scribe, tapes, looms))
    options = [each for each in ("--backs", "--stages", "--one") if desk.chance.random() < 0.3]
    return [["class", "evening", *options, *desk.units(), *desk.whole_sheet()]]


def _event(desk: _Desk) -> list[Command]:
    """A day with tapes that a small card holds, in most inputs: one that it does not hold keeps all from being made."""
    if desk.chance.random() < 0.8:
        desk.scribe.temper = "plain"
    tapes = desk.tapes(desk.chance.choice((1, 2, 3, 4, 5, 6, 9, desk.chance.randint(1, 24))), 40)
    desk.put("layouts/events", "day", event_tree(desk.scribe, tapes, desk.loom(tapes)))
    return [["event", "day", *desk.units(), *desk.whole_sheet()]]


def _sheet(desk: _Desk) -> list[Command]:
    """Two to twelve tapes on a page of ours or with cells of one's own."""
    tapes = desk.tapes(desk.chance.randint(2, 12))
    loom = desk.loom(tapes)
    commands = []
    for number in range(2):
        if desk.chance.random() < 0.5:
            stem = desk.put("layouts/sheets", f"own-{number}", sheet_tree(desk.chance))
            paper = []
        else:
            stem, paper = (
                desk.chance.choice(SHEETS),
                ["--paper", desk.chance.choice(("letter", "a4", "half-letter", "a5"))],
            )
        title = ["--title", desk.scribe.line(LINE)] if desk.scribe.some(0.3) else []
        stems = [each.stem for each in tapes]
        commands.append(["sheet", *stems, "--to", stem, "--loom", loom, *paper, *title, *desk.view()])
    return commands


def _choose(desk: _Desk) -> list[Command]:
    tapes = desk.tapes(desk.chance.randint(2, 12))
    loom, chance = desk.loom(tapes), desk.chance
    wishes: Command = (
        ["--yarn", chance.choice(("40 g white linen 20/2", "5 g red cotton 8/2", "2 kg blue cotton 8/2"))]
        if chance.random() < 0.2
        else []
    )
    paper = ["--paper", chance.choice(("letter", "a4", "half-letter", "a5"))]
    title = ["--title", desk.scribe.line(LINE)] if desk.scribe.some(0.3) else []
    return [["choose", *(each.stem for each in tapes), "--loom", loom, *wishes, *paper, *title, *desk.view()]]


def _binder(desk: _Desk) -> list[Command]:
    chance = desk.chance
    tapes = desk.tapes(chance.choice((1, 2, 3, 4, 6, 9, 12)), 60)
    desk.loom(tapes)
    layout = chance.choice(("record", "record", "bench", "handout-large", "dressing", "visitor", "handout"))
    desk.put("layouts/binders", "book", binder_tree(desk.scribe, tapes, layout))
    named: Command = ["layouts/binders/book.yaml"]
    if chance.random() < 0.3:
        named = ["patterns", "--by", chance.choice(("use", "width", "ends", "grade")), "--layout", layout]
    duplex = ["--duplex"] if chance.random() < 0.3 else []
    return [["binder", *named, *duplex, "--jobs", "1", *desk.view()]]


KINDS: Final[dict[str, Callable[[_Desk], list[Command]]]] = {
    "card": _cards, "own": _own_layouts, "class": _class, "event": _event, "sheet": _sheet, "choose": _choose,
    "binder": _binder,
}  # fmt: skip
SHARES: Final = ("card",) * 8 + ("own",) * 4 + ("class",) * 2 + ("event",) * 2 + ("sheet",) * 2 + ("choose", "binder")


def make_job(seed: int, number: int, kinds: tuple[str, ...] = ()) -> Job:
    """The input of this number; only of ``kinds``, where some are named."""
    chance = Random(f"drawn {seed} {number}")
    kind = chance.choice([each for each in SHARES if not kinds or each in kinds])
    desk = _Desk(chance)
    commands = KINDS[kind](desk)
    return Job(number, kind, desk.files, tuple([*each, "--quiet"] for each in commands))
