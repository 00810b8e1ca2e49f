"""PyYAML without the patterns of its parser in Python: none compiled as it loads, all of them there when asked."""

import re
import subprocess
import sys

import pytest
import yaml

from cardmaker.reading.yaml_parser import CompiledWhenUsed, patterns_when_used
from tests.helpers.places import ROOT

COMPILED = """
from re import _compiler
compiled, whole = [], _compiler.compile
_compiler.compile = lambda pattern, flags=0: (compiled.append(str(pattern)), whole(pattern, flags))[1]
{load}
print(any("\\U0010ffff" in pattern for pattern in compiled))
"""
OTHERS = """
import re
at_once = re.compile
import cardmaker.reading.yaml_parser
import yaml
assert re.compile is at_once
try:
    yaml.load("a: \\x07", yaml.SafeLoader)
except yaml.reader.ReaderError as error:
    print(error.reason)
print(yaml.load("[no, 12, 1.5, 2026-12-01, ~, '3']", yaml.SafeLoader))
"""


def answer(script: str) -> str:
    command = [sys.executable, "-c", script]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout


def test_a_card_does_not_wait_for_the_pattern_of_all_signs() -> None:
    read = "from cardmaker.reading.nodes import tree_of\nassert tree_of('title: A', 'a.yaml').root.values"
    assert answer(COMPILED.format(load="import yaml")) == "True\n", "it is compiled late now: the module can go"
    assert answer(COMPILED.format(load=read)) == "False\n"


def test_whoever_else_uses_the_parser_in_python_finds_it_as_it_was() -> None:
    assert answer(OTHERS).splitlines() == [
        "special characters are not allowed",
        "[False, 12, 1.5, datetime.date(2026, 12, 1), None, '3']",
    ]


def test_a_late_pattern_answers_like_any_other() -> None:
    with patterns_when_used():
        late = re.compile("(B)c", re.IGNORECASE)
        assert isinstance(late, CompiledWhenUsed)
        assert late.search("abc")  # even so early
    found = late.match("bC")
    assert found is not None
    assert (found[1], late.sub("-", "xbcy"), late.groups) == ("b", "x-y", 1)
    assert isinstance(re.compile("(B)c"), re.Pattern)


def test_patterns_are_compiled_at_once_again_when_a_module_does_not_load() -> None:
    with pytest.raises(ModuleNotFoundError), patterns_when_used():
        raise ModuleNotFoundError
    assert isinstance(re.compile("d"), re.Pattern)
    assert yaml.safe_load("a: 1") == {"a": 1}
