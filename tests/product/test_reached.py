"""Nothing in the package that no command reaches: the calls are walked from the commands, exceptions have a reason."""

from __future__ import annotations

import ast
import re
from typing import Final

import pytest

from tests.helpers.places import ROOT
from tests.helpers.reached import modules_below, unreached

TEXTS: Final = modules_below(ROOT / "cardmaker")
COMMANDS: Final = [
    f"cardmaker.cli.commands.{node.name}"
    for node in ast.parse(TEXTS["cardmaker/cli/commands.py"]).body
    if isinstance(node, ast.FunctionDef) and node.name.startswith("run_")
]
STARTS: Final = ["cardmaker.__main__.main", *COMMANDS]

# Not reached by name, and the reason why each stays
EXCEPTIONS: Final = {
    "cardmaker.cli.usage_parser.UsageParser.error": "argparse calls it, for words of our own",
    "cardmaker.cli.usage_parser.UsageParser._check_value": "argparse calls it, for words of our own",
    "cardmaker.cli.usage_parser.UsageParser.parse_known_args": "argparse calls it, for words of our own",
    "cardmaker.cli.usage_parser.UsageParser._get_values": "argparse calls it, for words of our own",
    "cardmaker.cli.usage_parser.UsageParser._get_value": "argparse calls it, for choices in any case",
    "cardmaker.pdf.font_subsets._Face.extractInfo": "ReportLab calls it as it opens a font file",
    "cardmaker.pdf.reportlab_parts.MEMBERS": "the list of insides, for the test that an upgrade asks",
}


def test_there_are_commands_to_start_from() -> None:
    assert {"cardmaker.cli.commands.run_card", "cardmaker.cli.commands.run_list"} <= set(COMMANDS)


def test_every_exception_is_there_and_no_command_reaches_it() -> None:
    assert set(EXCEPTIONS) - set(unreached(TEXTS, STARTS)) == set()


def test_all_else_is_reached() -> None:
    assert unreached(TEXTS, [*STARTS, *EXCEPTIONS]) == []


# Fields that are filled must be read


def fields_of(text: str) -> list[str]:
    """The fields of every record and named tuple."""
    classes = [node for node in ast.walk(ast.parse(text)) if isinstance(node, ast.ClassDef)]
    filled = [
        node
        for node in classes
        if any(ast.unparse(each).startswith("record") for each in node.decorator_list)
        or any(ast.unparse(each).endswith("NamedTuple") for each in node.bases)
    ]
    return [part.target.id for each in filled for part in each.body if _is_field(part)]  # type: ignore[attr-defined]


def _is_field(part: ast.stmt) -> bool:
    return isinstance(part, ast.AnnAssign) and isinstance(part.target, ast.Name)


def asked_for(text: str, *, by_name: bool = False) -> set[str]:
    """Every attribute that is read, of whatever; ``by_name`` also those that a table of names asks for."""
    nodes = list(ast.walk(ast.parse(text)))
    read = {node.attr for node in nodes if isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Load)}
    if by_name:
        texts = [node.value for node in nodes if isinstance(node, ast.Constant) and isinstance(node.value, str)]
        read |= {part for each in texts if re.fullmatch(r"[\w.]+", each) for part in each.split(".")}
    return read


def test_every_field_that_is_filled_is_read() -> None:
    """By its name alone, so a name that two records share may hide one of them."""
    read = {name for path, text in TEXTS.items() for name in asked_for(text, by_name=path.endswith("plan_json.py"))}
    unread = {f"{path}: {name}" for path, text in TEXTS.items() for name in fields_of(text) if name not in read}
    assert sorted(unread) == []


def test_an_unread_field_is_found() -> None:
    text = "@record\nclass A:\n x: int\n y: int = 2\nclass B(NamedTuple):\n z: int\nclass C:\n w: int\na.x = 1\na.y"
    assert fields_of(text) == ["x", "y", "z"]
    assert set(fields_of(text)) - asked_for(text) == {"x", "z"}
    assert asked_for("rows = ('a.b', 'c d')", by_name=True) == {"a", "b"}


# The walk can find what is dead: small packages, begun at ``p.a.main``


@pytest.mark.parametrize(
    ("text", "dead"),
    [
        ("def main(): live()\ndef live(): ...\ndef dead(): ...", ["dead"]),
        ("def main(): return LIVE\nLIVE = live()\ndef live(): ...\nDEAD = 2\nDEAD_TOO: int = 3", ["DEAD", "DEAD_TOO"]),
        ("def main(): ...\ndef dead(): return too()\ndef too(): return dead()", ["dead", "too"]),
        ("def main(kind: Kind) -> Answer: ...\nKind = Answer = int", []),
        ("@wrap\ndef main(x=LIVE): ...\ndef wrap(): ...\nLIVE = 1", []),
        ("def main(): ...\nprint(live())\nif live: too()\ndef live(): ...\ndef too(): ...\n__version__ = '1'", []),
        ("def main(): return live()\nif main:\n def live(): ...\nelse:\n def live(): ...\n DEAD = 1", ["DEAD"]),
    ],
)
def test_functions_and_constants(text: str, dead: list[str]) -> None:
    assert dead_in(text) == dead


@pytest.mark.parametrize(
    ("text", "dead"),
    [
        ("def main(): Live().called()\nclass Live:\n def called(self): ...\n def dead(self): ...", ["Live.dead"]),
        ("def main(): Live()\nclass Live:\n def __len__(self): return live()\ndef live(): ...", []),
        ("def main(): Live()\nclass Live(Base):\n a: Kind\n to = go()\nclass Base: ...\nKind = int\ndef go(): ...", []),
        ("def main(x): x.shown\nclass Dead:\n def shown(self): ...", ["Dead", "Dead.shown"]),
        ("def main(): Live().x\nclass Live:\n @property\n def x(self): ...\n @property\n def y(self): ...", ["Live.y"]),
        ("def main(): Live().x = 1\nclass Live:\n def x(self): ...", ["Live.x"]),
        ("def main(): getattr(Live(), 'x')\nclass Live:\n def x(self): self.y()\n def y(self): ...", []),
    ],
)  # fmt: skip
def test_classes(text: str, dead: list[str]) -> None:
    assert dead_in(text) == dead


@pytest.mark.parametrize(
    "text",
    [
        "def main(name): return name",
        "def main(): return [name for name in 'ab']",
        "def main():\n for name in 'ab': print(name)",
        "def main(): return lambda name: name",
        "def main():\n def inner(name): return name\n return inner",
        "def main():\n try: ...\n except OSError as name: print(name)",
        "def main():\n from elsewhere import name\n return name",
        "def main(x): return x.name",
    ],
)
def test_a_name_of_a_function_is_not_that_of_its_module(text: str) -> None:
    assert dead_in(f"{text}\ndef name(): ...") == ["name"]


OTHER: Final = "def live(): ...\ndef dead(): ...\nclass Live:\n def called(self): ..."


@pytest.mark.parametrize(
    ("text", "dead"),
    [
        ("from p.b import live\ndef main(): live()", ["dead", "Live", "Live.called"]),
        ("from .b import live as other\ndef main(): other()", ["dead", "Live", "Live.called"]),
        ("def main():\n from p.b import Live\n Live().called()", ["live", "dead"]),
        ("from p import b\ndef main(): b.live()", ["dead", "Live", "Live.called"]),
        ("from . import b\ndef main(): b.Live.called", ["live", "dead"]),
        ("import p.b\ndef main(): p.b.live()", ["dead", "Live", "Live.called"]),
        ("import p.b as other\ndef main(): other.live()", ["dead", "Live", "Live.called"]),
        ("from p import live\ndef main(): live()", ["dead", "Live", "Live.called"]),  # which the package passes on
        ("from p.b import live\ndef main(): ...", ["live", "dead", "Live", "Live.called"]),  # imported, not used
        ("def main(): import_module(f'p.{1}')\nHOMES = {1: 'b:live'}", ["HOMES", "dead", "Live", "Live.called"]),
    ],
)
def test_across_modules(text: str, dead: list[str]) -> None:
    texts = {"p/__init__.py": "from p.b import live", "p/a.py": text, "p/b.py": OTHER}
    names = [name.removeprefix("p.a.").removeprefix("p.b.") for name in unreached(texts, ["p.a.main"])]
    assert names == dead


def test_a_module_that_nothing_imports() -> None:
    texts = {"p/__init__.py": "", "p/a.py": "def main():\n import p.c", "p/b.py": "import p.a", "p/c.py": "x.y = 1"}
    assert unreached(texts, ["p.a.main"]) == ["p.b"]


def test_a_start_that_does_not_exist() -> None:
    with pytest.raises(KeyError):
        unreached({"p/a.py": "def main(): ..."}, ["p.a.run"])


def dead_in(text: str) -> list[str]:
    return [name.removeprefix("p.a.") for name in unreached({"p/__init__.py": "", "p/a.py": text}, ["p.a.main"])]
