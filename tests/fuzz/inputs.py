"""The inputs: each is made from the seed and its own number alone, so that any one of them can be made again."""

from __future__ import annotations

import json
from random import Random
from typing import Final, Literal, NamedTuple

from cardmaker.card.panels import PANELS
from tests.fuzz import documents, hostile, shapes, texts
from tests.fuzz.kinds import KINDS, PDF, Command, Kind, corpus, schema_of, sound, trees
from tests.fuzz.sense import SENSE
from tests.fuzz.yaml_out import yaml_text

Level = Literal["text", "change", "schema", "name", "pdf"]
_LEVELS: Final[tuple[Level, ...]] = ("text",) * 8 + ("change",) * 6 + ("schema",) * 5 + ("name",)
_PDFS: Final = 0.02  # of all inputs
_OF_A_PDF: Final[tuple[Command, ...]] = (
    ["restore", "fuzzed.pdf", "--out", "out"],
    ["card", "two-rails", "--supersedes", "fuzzed.pdf", "--out", "out"],
)
_NO_ARGUMENT: Final = "\x00\ud800"  # signs that no system hands to a program as an argument


class Input(NamedTuple):
    """One input: a file of a kind at a path, and for names the commands that use it."""

    number: int
    kind: Kind
    level: Level
    data: bytes
    path: str
    commands: tuple[Command, ...] = ()


def make_input(seed: int, number: int) -> Input:
    """The input of this number."""
    chance = Random(f"{seed} {number}")
    if chance.random() < _PDFS:
        return Input(number, PDF, "pdf", documents.hostile_pdf(chance), "fuzzed.pdf", _OF_A_PDF)
    kind, level = chance.choice(KINDS), chance.choice(_LEVELS)
    path = f"{kind.folder}/fuzzed.yaml"
    if level == "name":
        return _named(number, kind, chance)
    return Input(number, kind, level, _data(kind, level, chance), path)


def _data(kind: Kind, level: Level, chance: Random) -> bytes:
    if level == "text":
        whole = chance.choice(corpus(kind) if chance.random() < 0.5 else sound(kind))
        return texts.mutated(whole, chance, corpus(chance.choice(KINDS)))
    schema = schema_of(kind)
    if level == "change":
        tree = json.loads(chance.choice(trees(kind)))
        others = [json.loads(chance.choice(trees(chance.choice(KINDS))))]
        made = shapes.changed(tree, schema, schema, chance, others)
    else:
        wild = chance.choice((0.0, 0.0, 0.02, 0.1, 0.4))
        made = shapes.Grower(schema, chance, wild, kind.names, tuple(PANELS)).grown(schema)
        if isinstance(made, dict) and kind.name in SENSE and chance.random() < 0.8:
            SENSE[kind.name](made, chance)
    return yaml_text(made, chance).encode(errors="surrogatepass")


def _named(number: int, kind: Kind, chance: Random) -> Input:
    """A sound file under a hostile name, and hostile words wherever the command line takes words."""

    def word() -> str:
        return "".join(sign for sign in hostile.name(chance) if sign not in _NO_ARGUMENT)

    name, out = word(), word().lstrip("/~") or "."
    path = f"{kind.folder}/{name.replace('/', '-')}{chance.choice(('.yaml', '.yaml', '.yml', ''))}"
    stem = path.rpartition("/")[2].removesuffix(".yaml")
    made: list[Command] = [
        ["check", path],
        ["check", kind.folder],
        ["list"],
        ["card", path, "--out", "out"],
        ["card", stem, "--out", "out"],
        ["plan", path, "--json"],
        ["plan", stem],
        ["card", "two-rails", f"--{kind.name.replace('card', 'layout')}", path, "--out", "out"],
        ["class", path, "--out", out],
        ["binder", path, "--out", f"{out}.pdf", "--jobs", "1"],
        ["card", "two-rails", "--out", out],
        ["card", "two-rails", "wick", f"--out={out}.pdf"],
        ["card", "two-rails", f"--out={out}.pdf"],
        [
            "card",
            "two-rails",
            chance.choice(("--layout=", "--loom=", "--pegs=", "--paper=", "--hand=", "--from=")) + word(),
        ],
        ["card", "two-rails", f"--warp={chance.choice((hostile.length, hostile.text))(chance)}"],
        ["new", word(), "--out", out],
        ["new", word()],
        ["new", "Named", f"--stripes={chance.choice(('3 ', '', '2 a, 1 '))}{word()}", "--out", "out"],
        ["new", "Named", f"--stripes={hostile.text(chance)}", "--out", "out"],
        ["resize", "two-rails", f"--ends={hostile.number(chance)}"],
        ["resize", "two-rails", f"--width={hostile.length(chance)}"],
        [
            "resize",
            "two-rails",
            f"--yarn={chance.choice(('linen ', 'wool ', ''))}{hostile.value(chance, 'count', '', '')}",
        ],
        ["resize", "two-rails", "--ends=17", f"--out={out}.yaml"],
        [word(), word()],
    ]
    fit = [[sign_free(argument) for argument in command] for command in made]
    return Input(number, kind, "name", chance.choice(sound(kind)), path, tuple(chance.sample(fit, 3)))


def sign_free(argument: str) -> str:
    """An argument without the signs that no system hands over."""
    return "".join(sign for sign in argument if sign not in _NO_ARGUMENT and not "\ud800" <= sign < "\udc80")
