"""The schemas themselves: valid, described throughout, and written only with what the quick check knows."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import fields
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

import pytest
from jsonschema import Draft202012Validator

from cardmaker import reading
from cardmaker.model.pattern import (
    LEAST_ENDS_PER_INCH,
    LONGEST_CODE,
    LONGEST_TITLE,
    LONGEST_USE,
    MOST_ENDS,
    MOST_ENDS_PER_INCH,
    Source,
)
from cardmaker.reading.quick_check import schema_of

FOLDER: Final = Path(reading.__file__).parent.parent / "schemas"
ANNOTATIONS: Final = frozenset({"$schema", "$id", "$defs", "$comment", "title", "description", "examples"})
CHECKED: Final = frozenset({
    "$ref", "type", "enum", "anyOf", "properties", "required", "additionalProperties", "minProperties", "maxProperties",
    "items", "minItems", "maxItems", "minLength", "maxLength", "pattern", "minimum", "maximum", "exclusiveMinimum",
})  # fmt: skip
KINDS: Final = sorted(path.stem for path in FOLDER.glob("*.json"))


def subschemas(schema: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """The schema and every schema in it; a property may be called ``type`` or ``title`` and is then no keyword."""
    yield schema
    for key in ("properties", "$defs"):
        for inner in schema.get(key, {}).values():
            yield from subschemas(inner)
    for inner in schema.get("anyOf", ()):
        yield from subschemas(inner)
    for key in ("items", "additionalProperties"):
        if isinstance(schema.get(key), dict):
            yield from subschemas(schema[key])


def test_there_is_one_schema_for_each_kind_of_file() -> None:
    assert KINDS == ["binder", "card", "class", "event", "loom", "pattern", "pegs", "settings", "yarn"]


@pytest.mark.parametrize("kind", KINDS)
def test_schema_is_valid_itself(kind: str) -> None:
    schema = json.loads((FOLDER / f"{kind}.json").read_text("utf-8"))
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(schema)
    assert schema["$id"] == f"urn:cardmaker:schema:{kind}"  # a name, and nothing to be fetched
    assert schema_of(kind) == schema


@pytest.mark.parametrize("kind", KINDS)
def test_every_key_is_described(kind: str) -> None:
    for schema in subschemas(schema_of(kind)):
        for name, inner in schema.get("properties", {}).items():
            assert re.fullmatch(r"[A-Z0-9].*\.", inner.get("description", "")), f"{kind}: {name}"
        if isinstance(schema.get("items"), dict):
            assert schema["items"].get("description"), f"{kind}: an item of {schema.get('description')}"


@pytest.mark.parametrize("kind", KINDS)
def test_no_keyword_that_the_quick_check_does_not_know(kind: str) -> None:
    for schema in subschemas(schema_of(kind)):
        assert schema.keys() <= ANNOTATIONS | CHECKED
        assert isinstance(schema.get("type", ""), str)
        if "$ref" in schema:
            assert schema.keys() <= {"$ref", "description", "examples"}
            assert schema["$ref"].removeprefix("#/$defs/") in schema_of(kind)["$defs"]


@pytest.mark.parametrize("kind", KINDS)
def test_unknown_keys_are_refused_everywhere(kind: str) -> None:
    for schema in subschemas(schema_of(kind)):
        if schema.get("type") == "object":
            named = schema.get("properties")
            assert (
                schema["additionalProperties"] is False if named else isinstance(schema["additionalProperties"], dict)
            )
            assert set(schema.get("required", ())) <= set(named or ())


@pytest.mark.parametrize("kind", KINDS)
def test_numbers_lists_and_texts_have_limits(kind: str) -> None:
    for schema in subschemas(schema_of(kind)):
        if schema.get("type") in ("integer", "number"):
            assert "maximum" in schema
            assert ("minimum" in schema) != ("exclusiveMinimum" in schema)
        if schema.get("type") == "array":
            assert "maxItems" in schema
        if schema.get("type") == "string":
            assert "maxLength" in schema or "enum" in schema or schema["pattern"].endswith("{6}$")


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_refused_can_be_said_with_a_remedy(kind: str) -> None:
    for schema in subschemas(schema_of(kind)):
        if "anyOf" in schema or ("pattern" in schema):
            assert schema["title"]
            assert schema["$comment"].endswith(".")
        for name in schema.get("required", ()):
            inner = schema["properties"][name]
            target = schema_of(kind)["$defs"][inner["$ref"].removeprefix("#/$defs/")] if "$ref" in inner else inner
            assert "examples" in inner or "examples" in target, f"{kind}: {name}"


@pytest.mark.parametrize("kind", KINDS)
def test_examples_are_what_they_are_examples_of(kind: str) -> None:
    root = schema_of(kind)
    for schema in subschemas(root):
        for example in schema.get("examples", ()):
            assert Draft202012Validator({**schema, "$defs": root["$defs"]}).is_valid(example), example


def test_source_has_the_fields_of_its_record() -> None:
    named = schema_of("pattern")["properties"]["source"]["properties"]
    assert list(named) == [field.name for field in fields(Source)]


@pytest.mark.parametrize("kind", KINDS)
def test_shared_definitions_do_not_drift_apart(kind: str) -> None:
    ours = schema_of("pattern")["$defs"]
    for name, schema in schema_of(kind)["$defs"].items():
        if name in ours:
            assert schema == ours[name]


def test_all_counts_of_ends_have_one_limit() -> None:
    """Wherever a pattern tells of ends: how many, which, and how often at least one of them is repeated."""
    schema = schema_of("pattern")
    _, alternation, repeat = schema["$defs"]["item"]["anyOf"]
    counts = [schema["properties"]["ends"], alternation["properties"]["ends"], repeat["properties"]["repeat"]]
    pattern_ends = schema["$defs"]["pattern_ends"]
    assert [count["maximum"] for count in (*counts, pattern_ends["items"])] == [MOST_ENDS] * 4
    assert pattern_ends["maxItems"] == MOST_ENDS


def test_names_have_the_limits_of_what_writes_them() -> None:
    pattern = schema_of("pattern")["$defs"]
    longest = {name: pattern[name]["maxLength"] for name in ("title", "code", "few_words")}
    assert longest == {"title": LONGEST_TITLE, "code": LONGEST_CODE, "few_words": LONGEST_USE}
    assert {schema_of(kind)["$defs"]["title"]["maxLength"] for kind in ("loom", "pegs")} == {LONGEST_TITLE}


def test_ends_per_inch_have_the_limits_of_a_measured_width() -> None:
    ends = schema_of("pattern")["$defs"]["ends"]
    assert (ends["minimum"], ends["maximum"]) == (LEAST_ENDS_PER_INCH, MOST_ENDS_PER_INCH)


@pytest.mark.parametrize("kind", KINDS)
def test_limits_are_numbers_that_a_float_holds_exactly(kind: str) -> None:
    """The quick check compares fractions and jsonschema floats: at 0.1 they would not agree."""
    for schema in subschemas(schema_of(kind)):
        for key in ("minimum", "maximum", "exclusiveMinimum"):
            limit = schema.get(key, 0)
            assert Fraction(str(limit)) == Fraction(limit)


def test_spare_ends_of_a_class_have_the_limit_of_a_pattern() -> None:
    of_pattern = schema_of("pattern")["$defs"]["wanted_length"]["properties"]["spare_ends"]
    assert schema_of("class")["properties"]["spare_ends"]["maximum"] == of_pattern["maximum"]
