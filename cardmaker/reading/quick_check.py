"""From the tree to plain values, as the schema directs, and a quick check that spares a good file the slow one.

Why values first: text must stay as typed, and numbers are read only where the schema asks for them.

Why a quick check: jsonschema is the judge of every file, but importing it takes longer than all else together. The
check gives the same verdict on whatever our reader makes of a text (tests hold this over every case file, every file
that ships, and values generated from the schemas) and says nothing of its own: what it does not pass goes to
jsonschema, which alone finds the faults.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any, Final

from cardmaker.reading.nodes import Items, Node, Scalar

Schema = Mapping[str, Any]

_FOLDER: Final = Path(__file__).resolve().parent.parent / "schemas"
_INTEGER: Final = re.compile(r"-?(?:0|[1-9][0-9]{0,8})")
_NOT_ASCII: Final = re.compile(r"[^\x00-\x7f]")
_NUMBER: Final = re.compile(r"-?(?:0|[1-9][0-9]{0,8})(?:\.[0-9]{1,9})?")


@cache
def schema_of(kind: str) -> dict[str, Any]:
    """The schema of a kind of file (``pattern``, ``loom``, ``pegs``, ``card``, ``class``, ``binder``), read once."""
    schema: dict[str, Any] = json.loads((_FOLDER / f"{kind}.json").read_text("utf-8"))
    return schema


def followed(schema: Schema, root: Schema) -> Schema:
    """The schema that a ``$ref`` names (our schemas write nothing but remarks beside a ``$ref``)."""
    while "$ref" in schema:
        schema = root["$defs"][schema["$ref"].removeprefix("#/$defs/")]
    return schema


def branch_for(kind: str, keys: Iterable[str], branches: Iterable[Schema], root: Schema) -> Schema | None:
    """The branch of an ``anyOf`` that is meant: of the right kind, and with the most keys in common."""
    fitting = [branch for each in branches if (branch := followed(each, root)).get("type") == kind]
    return max(fitting, key=lambda branch: len(set(branch.get("properties", ())).intersection(keys)), default=None)


def coerced(node: Node, schema: Schema, root: Schema) -> Any:
    """The plain value of a node: text as typed, numbers where the schema wants them, None where nothing is written."""
    if "$ref" in schema:
        schema = followed(schema, root)
    if "anyOf" in schema:
        schema = branch_for(*_kind_and_keys(node), schema["anyOf"], root) or {}
    if isinstance(node, Scalar):
        return _coerced_scalar(node, schema.get("type"))
    if isinstance(node, Items):
        return [coerced(item, schema.get("items", {}), root) for item in node.items]
    inner, rest = schema.get("properties", {}), schema.get("additionalProperties") or {}
    return {key: coerced(value, inner.get(key, rest), root) for key, value in node.values.items()}


def _kind_and_keys(node: Node) -> tuple[str, Iterable[str]]:
    if isinstance(node, Scalar):
        return "string", ()
    return ("array", ()) if isinstance(node, Items) else ("object", node.values)


def is_number(text: str, wanted: str) -> bool:
    """Whether a text is a plain number: ASCII figures, no grouping, no exponent, not longer than any sum here needs."""
    return (_INTEGER if wanted == "integer" else _NUMBER).fullmatch(text) is not None


def _coerced_scalar(node: Scalar, wanted: str | None) -> str | int | Fraction | None:
    if not node.plain:
        return node.text
    if not node.text:
        return None
    if wanted in ("integer", "number") and is_number(node.text, wanted):
        return int(node.text) if wanted == "integer" else Fraction(node.text)
    return node.text


def certainly_valid(value: Any, schema: Schema, root: Schema) -> bool:
    """Whether the value is certainly what the schema allows; False means only that this check is not sure."""
    if "$ref" in schema:
        schema = followed(schema, root)
    if "anyOf" in schema and not any(certainly_valid(value, branch, root) for branch in schema["anyOf"]):
        return False
    if "enum" in schema and not (isinstance(value, str) and value in schema["enum"]):
        return False
    kind = schema.get("type")
    if kind == "string":
        return isinstance(value, str) and _fits_text(value, schema)
    if kind == "integer":
        return type(value) is int and _fits_number(value, schema)
    if kind == "number":
        return type(value) in (int, Fraction) and _fits_number(value, schema)
    if kind == "array":
        return isinstance(value, list) and _fits_list(value, schema, root)
    if kind == "object":
        return isinstance(value, dict) and _fits_keys(value, schema, root)
    return "anyOf" in schema


def _fits_text(value: str, schema: Schema) -> bool:
    length = len(value)
    return (
        schema.get("minLength", 0) <= length <= schema.get("maxLength", length)
        and ("pattern" not in schema or _matches(schema["pattern"], value))
    )  # fmt: skip


def _matches(pattern: str, value: str) -> bool:
    """Whether a text matches; one that is plain ASCII is tried with what the pattern allows in ASCII alone.

    Why: classes with fractions in them take a millisecond each to compile. Our patterns name other signs only among
    those that are allowed, so without them they allow less, never more.
    """
    return (value.isascii() and _in_ascii(pattern).search(value) is not None) or re.search(pattern, value) is not None


@cache
def _in_ascii(pattern: str) -> re.Pattern[str]:
    return re.compile(_NOT_ASCII.sub("", pattern))


def _fits_number(value: int | Fraction, schema: Schema) -> bool:
    above = schema.get("exclusiveMinimum")
    return schema.get("minimum", value) <= value <= schema.get("maximum", value) and (above is None or value > above)


def _fits_list(value: list[Any], schema: Schema, root: Schema) -> bool:
    length = len(value)
    if not schema.get("minItems", 0) <= length <= schema.get("maxItems", length):
        return False
    return all(certainly_valid(item, schema["items"], root) for item in value) if "items" in schema else True


def _fits_keys(value: dict[str, Any], schema: Schema, root: Schema) -> bool:
    size = len(value)
    if not schema.get("minProperties", 0) <= size <= schema.get("maxProperties", size):
        return False
    if any(key not in value for key in schema.get("required", ())):
        return False
    inner, rest = schema.get("properties", {}), schema.get("additionalProperties", False)
    for key, item in value.items():
        wanted = inner.get(key, rest)
        if not isinstance(wanted, dict) or not certainly_valid(item, wanted, root):
            return False
    return True
