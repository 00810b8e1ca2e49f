"""What the schema has against a file, in plain words with the remedy.

The full validator is imported here and only when the quick check is not sure; its own English is never shown.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import TYPE_CHECKING, Any, Final

from cardmaker.model.named_colours import named_colour
from cardmaker.model.problems import KeyPath
from cardmaker.model.record_class import record
from cardmaker.reading.quantity_words import QUANTITY_SENTENCES, number_sentence, parted_number
from cardmaker.reading.quick_check import Schema, branch_for, followed, is_number, schema_of
from cardmaker.reading.value_words import Sentence, closest_names, decimal_text, listed_choices, overlong_text, quoted
from cardmaker.reading.word_meant import CHOSEN_LATER, closest_word, glued_key, other_names

if TYPE_CHECKING:
    from jsonschema import Draft202012Validator
    from jsonschema.exceptions import ValidationError

_LONGEST_LISTED: Final = 80  # signs of a list that a remedy repeats
_ON_ONE_LINE: Final = "Write it on one line."  # as the schemas say
_KINDS: Final = {
    "string": "text",
    "integer": "a whole number",
    "number": "a number",
    "array": "a list",
    "object": "a group of keys with values",
}


@record
class SchemaError:
    """One thing that the schema does not allow. ``at_key`` points at the key rather than at its value.

    ``missing`` names a key that is not there: then ``path`` is its parent, and the parent stays as it is.
    """

    path: KeyPath
    message: str
    remedy: str
    at_key: bool = False
    missing: bool = False
    nothing: bool = False  # a key with nothing after it
    meant: str = ""  # the key that is missing, or that an unknown key was probably meant to be


def schema_errors(instance: Any, kind: str, sentences: Mapping[str, Callable[[str], Sentence]]) -> list[SchemaError]:
    """Everything in ``instance`` that the schema of its kind does not allow.

    ``sentences`` gives better words for a text that does not fit, by the title of what is wanted there.
    """
    writer = _ErrorWriter(schema_of(kind), {**QUANTITY_SENTENCES, **sentences})
    errors = [error for raw in _validator(kind).iter_errors(instance) for error in writer.errors(raw)]
    misspelt = {(each.path[:-1], each.meant) for each in errors if each.meant and not each.missing}
    values = {each.path: each for each in reversed(errors) if not each.missing}  # of several for one value, the first
    missing = [each for each in errors if each.missing and (each.path, each.meant) not in misspelt]
    return [*values.values(), *missing]


@cache
def _validator(kind: str) -> Draft202012Validator:
    from jsonschema import Draft202012Validator

    return Draft202012Validator(schema_of(kind))


@record
class _ErrorWriter:
    root: Schema
    sentences: Mapping[str, Callable[[str], Sentence]]

    def errors(self, error: ValidationError) -> Iterator[SchemaError]:
        path: KeyPath = tuple(error.absolute_path)
        schema: Any = error.schema
        instance: Any = error.instance
        if error.validator == "anyOf":
            yield from self._branches(error, path)
        elif instance is None:
            yield _nothing(path, schema)
        elif path == ("ends",) and isinstance(instance, list) and "warp" in self.root["properties"]:
            yield SchemaError(
                path, "this is a list, and ends is a number.", "Write warp: before the stripes.", meant="warp"
            )
        elif error.validator == "additionalProperties":
            yield from _unknown(instance, schema, path)
        elif error.validator == "required":
            yield from self._missing(error, path)
        elif error.validator in ("pattern", "type") and isinstance(instance, str) and _title(schema) in self.sentences:
            yield SchemaError(path, *self.sentences[_title(schema)](instance))
        else:
            yield SchemaError(path, *_sentence(str(error.validator), instance, schema))

    def _branches(self, error: ValidationError, path: KeyPath) -> Iterator[SchemaError]:
        """The errors of the branch that was meant; one sentence when no branch can have been."""
        schema: Any = error.schema
        value = error.instance
        meant = branch_for(_kind_of(value), value if isinstance(value, dict) else (), schema["anyOf"], self.root)
        known = meant and (not isinstance(value, dict) or set(value) & set(meant["properties"]))
        if value is None:
            yield _nothing(path, schema)
            return
        if isinstance(value, dict) and (pair := _single_pair(value)) and "a stripe" in self.sentences:
            yield SchemaError(path, *self.sentences["a stripe"](pair))
            return
        if not known:
            yield SchemaError(path, f"{_described(value)} is not {schema['title']}.", schema["$comment"])
            return
        for inner in error.context or ():
            if followed(schema["anyOf"][inner.schema_path[0]], self.root) is meant:
                yield from self.errors(inner)

    def _missing(self, error: ValidationError, path: KeyPath) -> Iterator[SchemaError]:
        """One error for each missing key. The validator tells of one missing key at a time."""
        wanted: Any = error.validator_value
        key = next(key for key in wanted if error.message.startswith(repr(key)))
        schema: Any = error.schema
        inner = schema["properties"][key]
        example = _example({**followed(inner, self.root), **inner}, key)
        yield SchemaError(
            path, f"'{key}' is missing.", example or f"Add {key}: to it.", at_key=True, missing=True, meant=key
        )


def _single_pair(value: Mapping[str, Any]) -> str:
    """``9: white`` and ``white: 9``, which YAML takes for a key with its value; else an empty text."""
    key, text = next(iter(value.items())) if len(value) == 1 else ("", None)
    counts = [word for word in (key, text) if isinstance(word, str) and word.isascii() and word.isdecimal()]
    return f"{key}: {text}" if isinstance(text, str) and len(counts) == 1 else ""


def _title(schema: Schema) -> str:
    return str(schema.get("title", ""))


def _nothing(path: KeyPath, schema: Schema) -> SchemaError:
    of_number = schema.get("type") in ("integer", "number")  # whose comment is the reason of its limits
    comment = str(schema.get("$comment", "")).replace(_ON_ONE_LINE, "Write it after the colon, on the same line.")
    remedy = (not of_number and comment) or _example(schema) or "Write it, or take the line out."
    return SchemaError(path, "nothing is written here.", remedy, at_key=True, nothing=True)


def _unknown(value: Mapping[str, Any], schema: Schema, path: KeyPath) -> Iterator[SchemaError]:
    known = list(schema["properties"])
    before = ""
    for key in value:
        if before and value[key] is None and (whole := parted_number(value[before], key)):
            yield SchemaError((*path, before), *whole)
        elif key not in schema["properties"]:
            message, remedy, meant = _of_unknown_key(key, value[key], known)
            yield SchemaError((*path, key), message, remedy, at_key=True, meant=meant)
        before = key


def _of_unknown_key(key: str, value: Any, known: list[str]) -> tuple[str, str, str]:
    """What is wrong with a key, what to write, and the key that was meant, if that can be told."""
    if value is None and (glued := glued_key(key, known)):
        return *glued[1:], glued[0]
    if "yarns" in known and isinstance(value, dict) and "fibre" in value:
        return f"{quoted(key)} stands beside yarns: and not under it.", "Move this line in by two spaces.", ""
    message = f"{quoted(key)} is not a key that is known here."
    near = closest_names(key, known) or next((word for word in other_names(key) if word in known), "")
    if near == "colour" and isinstance(value, str) and (sign := named_colour(value)):
        return message, f'Write colour: "{sign.lower()}" for such a colour.', near
    if "warp" in known and key in CHOSEN_LATER:
        return message, f"A pattern is for any {CHOSEN_LATER[key]}: name it with --{key} when you make the card.", ""
    return message, f"Did you mean '{near}'?" if near else f"Known keys are {listed_choices(known)}.", near


def _sentence(validator: str, value: Any, schema: Schema) -> Sentence:
    """What stands there and what to write instead, for the checks that concern one value."""
    if validator == "enum":
        return _not_one_of(value, schema["enum"], schema.get("$comment", ""))
    if validator in ("minimum", "maximum", "exclusiveMinimum"):
        return f"{quoted(value)} is too {'large' if validator == 'maximum' else 'small'}.", _range_and_why(schema)
    if validator in ("minItems", "minProperties"):
        least = schema[validator]
        return f"there {'is nothing' if not value else 'are too few'} in here.", f"Write at least {least}."
    if validator in ("maxItems", "maxProperties"):
        return f"there are {len(value):,} in here, too many.", f"Write {schema[validator]:,} at most."
    if validator == "maxLength":
        return overlong_text(value, schema[validator])
    if validator == "type" and schema["type"] in ("integer", "number") and isinstance(value, str):
        return _not_a_number(value, schema)
    if validator == "type" and schema["type"] in ("integer", "number"):
        return f"{_described(value)} is not {_KINDS[schema['type']]}.", _range(schema)
    if isinstance(value, (dict, list)) and schema.get("type") == "string":
        wanted = schema.get("title", _KINDS["string"])
        return f"{_described(value)} is not {wanted}.", "Put the text in quotes, or take the brackets and dashes out."
    if schema.get("type") == "array" and isinstance(value, str) and (listed := _listed(value, schema)):
        return f"{quoted(value)} is not {schema.get('title', _KINDS['array'])}.", listed
    stated = _described(value) if value != "" else "an empty text"
    return f"{stated} is not {schema.get('title', _KINDS[schema.get('type', 'string')])}.", _remedy(schema)


def _listed(value: str, schema: Schema) -> str:
    """What to write for words between commas where a list is wanted; empty where its items are no words."""
    plain = re.fullmatch(r"[\w .'-]+(?:,[\w .'-]+)*", value)
    is_of_words = str(schema.get("$comment", "")).startswith("Write it as [")
    is_enough = value.count(",") + 1 >= schema.get("minItems", 0)
    fits = plain and is_of_words and is_enough and len(value) < _LONGEST_LISTED
    return f"Write it as [{value.strip()}]." if fits else ""


def _not_one_of(value: Any, words: list[str], comment: str) -> Sentence:
    if len(words) == 1:
        return f"{_described(value)} is not '{words[0]}'.", f"Write {words[0]}, or take the line out."
    near = closest_word(value, words) if isinstance(value, str) else ""
    return (
        f"{_described(value)} is not one of {', '.join(words)}.",
        f"Did you mean '{near}'?" if near else comment or "Write one of them.",
    )


def _not_a_number(value: str, schema: Schema) -> Sentence:
    kind = "a plain whole number" if schema["type"] == "integer" else "a plain number"
    if is_number(value, schema["type"]):
        return f"{quoted(value)} in quotes is text, not {kind}.", "Leave the quotes out."
    meant = number_sentence(value, whole=schema["type"] == "integer")
    return f"{quoted(value)} is not {kind}.", meant or _range(schema)


def _range_and_why(schema: Schema) -> str:
    return f"{_range(schema)} {schema.get('$comment', '')}".rstrip()


def _range(schema: Schema) -> str:
    kind = "a whole number" if schema["type"] == "integer" else "a number"
    if "exclusiveMinimum" in schema:
        return (
            f"Write {kind} over {decimal_text(schema['exclusiveMinimum'])} and up to {decimal_text(schema['maximum'])}."
        )
    return f"Write {kind} from {decimal_text(schema['minimum'])} to {decimal_text(schema['maximum'])}."


def _remedy(schema: Schema) -> str:
    return schema.get("$comment") or _example(schema) or f"Write {_KINDS[schema.get('type', 'string')]}."


def _example(schema: Schema, key: str = "") -> str:
    """``Write it as in title: Three Paths.``, from the schema's own example."""
    if not schema.get("examples"):
        return ""
    before = f"{key}: " if key else ""
    return f"Write it as in {before}{_as_yaml(schema['examples'][0])}."


def _as_yaml(value: Any) -> str:
    """A value as a person writes it on one line."""
    if isinstance(value, list):
        return f"[{', '.join(map(_as_yaml, value))}]"
    if isinstance(value, dict):
        return f"{{{', '.join(f'{key}: {_as_yaml(inner)}' for key, inner in value.items())}}}"
    return f'"{value}"' if str(value).startswith("#") else str(value)


def _kind_of(value: Any) -> str:
    if isinstance(value, dict):
        return "object"
    return "array" if isinstance(value, list) else "string"


def _described(value: Any) -> str:
    if isinstance(value, dict):
        return "a group of keys"
    return "a list" if isinstance(value, list) else quoted(value)
