"""The quick check: what it is sure of, the full validator allows; and it is sure of every good file."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from cardmaker.jobs.file_lookup import shipped_names
from cardmaker.model.problems import ProblemsFound
from cardmaker.reading.nodes import tree_of
from cardmaker.reading.quick_check import certainly_valid, coerced, followed, is_number, schema_of
from tests.helpers.places import CASES, ROOT

KINDS: Final = ("pattern", "loom", "pegs", "card", "class", "event", "binder")
GOOD: Final = sorted((CASES / "good").glob("reading-*.yaml"))
SHIPPED: Final = sorted(ROOT / name for name in shipped_names())
KIND_OF_FOLDER: Final = {
    **{f"{kind}s": kind for kind in ("pattern", "yarn", "loom", "card", "event", "binder")},
    "classes": "class",
    "pegs": "pegs",
    "sheets": "card",
}
BAD: Final = sorted((CASES / "bad").glob("*.yaml"))
ANYTHING: Final = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-3, 12000),
    st.floats(allow_nan=False),
    st.fractions(-1, 600),
    st.sampled_from(
        ["", " ", "9 white", "36 in", "12 %", "#a5322b", "#a5322b\n", "board", "yes", "letter", "A", "x\ny"]
    ),
    st.text(max_size=8),
    st.just("x" * 5000),
    st.just([]),
    st.just({}),
    st.just(["9 white"]),
    st.just({"x": 1}),
)


@cache
def validator(kind: str) -> Draft202012Validator:
    return Draft202012Validator(schema_of(kind))


@pytest.mark.parametrize("path", [*GOOD, *SHIPPED], ids=lambda path: path.stem)
def test_every_good_file_is_certainly_valid(path: Path) -> None:
    kind = next((kind for kind in KINDS if f"-{kind}-" in path.stem), KIND_OF_FOLDER.get(path.parent.name, ""))
    root = schema_of(kind)
    values = coerced(tree_of(path.read_text("utf-8"), path.name).root, root, root)
    assert certainly_valid(values, root, root)
    assert list(validator(kind).iter_errors(values)) == []


def fitting(schema: Any, root: Any) -> st.SearchStrategy[Any]:
    """Values that fit a schema, but for a slip here and there."""
    schema = followed(schema, root)
    return st.integers(0, 19).flatmap(lambda roll: ANYTHING if roll == 0 else _exactly(schema, root))


def _exactly(schema: Any, root: Any) -> st.SearchStrategy[Any]:
    if "anyOf" in schema:
        return st.sampled_from(schema["anyOf"]).flatmap(lambda branch: fitting(branch, root))
    if "enum" in schema:
        return st.sampled_from(schema["enum"])
    made: dict[str, Callable[[], st.SearchStrategy[Any]]] = {
        "string": lambda: _text(schema),
        "integer": lambda: st.integers(schema["minimum"] - 1, schema["maximum"] + 1),
        "number": lambda: st.fractions(schema.get("minimum", 0), schema["maximum"], max_denominator=100),
        "array": lambda: st.lists(fitting(schema["items"], root), max_size=4),
        "object": lambda: _keys(schema, root),
    }
    return made[schema["type"]]()


def _text(schema: Any) -> st.SearchStrategy[str]:
    likely = ["9 white", "36 in", "2½ yd", "12 %", "3 oz", "#a5322b", "A", "white", "\n", "two\nlines", "1 x\n", ""]
    return st.one_of(st.sampled_from(likely), st.text(max_size=schema.get("maxLength", 9) % 50))


def _keys(schema: Any, root: Any) -> st.SearchStrategy[dict[str, Any]]:
    inner = schema.get("properties", {})
    if not inner:
        return st.dictionaries(st.sampled_from(["white", "blue"]), fitting(schema["additionalProperties"], root))
    must = {key: fitting(inner[key], root) for key in schema.get("required", ())}
    may = {key: fitting(inner[key], root) for key in list(inner)[:8] if key not in must}
    return st.fixed_dictionaries(must, optional=may)


@settings(max_examples=120, deadline=None)
@given(data=st.data(), kind=st.sampled_from(KINDS))
def test_what_it_is_sure_of_the_full_validator_allows(data: st.DataObject, kind: str) -> None:
    root = schema_of(kind)
    part = data.draw(st.sampled_from([*root["properties"].values(), *root["$defs"].values()]))
    value = data.draw(fitting(part, root))
    allowed = Draft202012Validator({**part, "$defs": root["$defs"]}).is_valid(value)
    if certainly_valid(value, part, root):
        assert allowed
    elif allowed:  # it may be unsure, but only of what no file of ours can hold
        assert _holds_foreign_number(value)


def _holds_foreign_number(value: Any) -> bool:
    """Whether a boolean or a float is in there: our reader never makes one."""
    if isinstance(value, dict):
        return any(map(_holds_foreign_number, value.values()))
    return any(map(_holds_foreign_number, value)) if isinstance(value, list) else isinstance(value, (bool, float))


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_no_bad_file_is_certainly_valid_when_the_validator_refuses_it(path: Path) -> None:
    kind = path.stem.split("-")[0]
    root = schema_of(kind)
    try:
        values = coerced(tree_of(path.read_text("utf-8"), path.name).root, root, root)
    except ProblemsFound:
        pytest.skip("this file cannot be taken apart at all")
    assert certainly_valid(values, root, root) == validator(kind).is_valid(values)


@pytest.mark.parametrize("value", [True, 1.0, None, "1", [1], 0, 401, Fraction(1, 2)])
def test_it_can_say_no(value: object) -> None:
    root = schema_of("pattern")
    assert not certainly_valid(value, root["properties"]["ends"], root)


@pytest.mark.parametrize("text", ["0", "7", "31", "999999999", "-3"])
def test_whole_numbers(text: str) -> None:
    assert is_number(text, "integer")
    assert is_number(text, "number")


@pytest.mark.parametrize(
    "text",
    [
        "",
        " 1",
        "1 ",
        "+1",
        "01",
        "1_000",
        "1,000",
        "0x10",
        "0o7",
        "1e4",
        "1e400",
        "NaN",
        ".nan",
        "inf",
        "-.inf",
        "1.",
        ".5",
        "1234567890",
        "1:30",
        "١٢",
        "½",
        "1\n",
        "--1",
        "1.0000000001",
    ],
)
def test_what_is_no_number(text: str) -> None:
    assert not is_number(text, "integer")
    assert not is_number(text, "number")


@given(st.fractions(0, 10**9 - 1).map(lambda value: round(value, 3)))
def test_decimals_are_read_exactly(value: Fraction) -> None:
    text = f"{int(value)}.{int(value * 1000) % 1000:03}"
    root = schema_of("pattern")
    node = tree_of(f"picks_per_inch: {text}\n", "a.yaml").root
    assert coerced(node, root, root) == {"picks_per_inch": value}
