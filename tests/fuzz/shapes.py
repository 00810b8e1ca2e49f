"""Files made by their schema: the right shapes with hostile values, wrong shapes, keys too many and too few.

A file is either grown from the schema alone, or a sound file is taken apart and some of its nodes are changed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass, field, replace
from random import Random
from typing import Any, Final

from tests.fuzz import hostile
from tests.fuzz.yaml_out import Raw

Schema = Mapping[str, Any]

LENGTHS: Final = ("1 in", "20 mm", "2 yd", "1.5 m", "40 cm", "12 mm", "36 in", "2 1/4 in", "90 mm", "300 mm", "3 ft")
WORDS: Final = ("Harbour Rails", "white tape", "Winnet Orrick", "2", "T31", "for a class", "2026-11-20", "bag tie")
YARN_NAMES: Final = ("white", "blue", "red", "sea green", "Ünï", "x", "white 2", "wh")
PEG_NAMES: Final = tuple("ABCDEFGH")
_DEEPEST: Final = 24


@dataclass(slots=True)
class Grower:
    """Grows values by a schema. ``wild`` is how often a value is hostile, from 0 to 1.

    ``names`` are words that other keys should use again: yarns for stripes, pegs for a cross, panels for rows.
    """

    root: Schema
    chance: Random
    wild: float
    names: Sequence[str] = YARN_NAMES
    panels: Sequence[str] = ()
    laid: set[str] = field(default_factory=set)

    def grown(self, schema: Schema, key: str = "", depth: int = 0) -> Any:
        """A value of this schema, or a hostile one."""
        schema = self._followed(schema)
        if self.chance.random() < self.wild * 0.5:
            return self.hostile(schema, key)
        if "anyOf" in schema:
            branches = schema["anyOf"] if depth < _DEEPEST else schema["anyOf"][:1]
            return self.grown(self.chance.choice(branches), key, depth + 1)
        kind = schema.get("type")
        if kind == "object":
            return self._keys(schema, key, depth)
        if kind == "array":
            return self._items(schema, key, depth)
        return self._scalar(schema, key)

    def hostile(self, schema: Schema, key: str) -> Any:
        """Another value, or another shape, than the schema wants."""
        what = self.chance.random()
        schema = self._followed(schema)
        if what < 0.8:
            text = hostile.value(self.chance, key, schema.get("title", ""), schema.get("type", ""))
            return Raw(text) if self.chance.random() < 0.1 else text
        shapes: tuple[Any, ...] = (
            None,
            [],
            {},
            [[]],
            [None],
            {"a": None},
            ["x"] * 3,
            {"": ""},
            [{}],
            {"x": ["1 white"]},
        )
        if what < 0.95:
            return self.chance.choice(shapes)
        return nested(self.chance)

    def _followed(self, schema: Schema) -> Schema:
        while "$ref" in schema:
            schema = self.root["$defs"][schema["$ref"].removeprefix("#/$defs/")]
        return schema

    def _keys(self, schema: Schema, key: str, depth: int) -> dict[str, Any]:
        inner: Schema = schema.get("properties", {})
        if not inner:  # names of the user's own: yarns, students
            names = self.chance.sample(list(self.names), self.chance.randint(1, min(4, len(self.names))))
            return {name: self.grown(schema["additionalProperties"], "", depth + 1) for name in names}
        needed = schema.get("required", ())
        keys = [name for name in inner if name in needed or self.chance.random() < 0.35]
        found = {name: self.grown(inner[name], name, depth + 1) for name in keys}
        if self.chance.random() < self.wild * 0.2:
            found[self.chance.choice(hostile.KEYS)] = self.grown(
                self.chance.choice(list(inner.values())), "", depth + 1
            )
        if found and self.chance.random() < self.wild * 0.2:
            del found[self.chance.choice(list(found))]
        return found

    def _items(self, schema: Schema, key: str, depth: int) -> list[Any]:
        least = schema.get("minItems", 0)
        most = min(schema.get("maxItems", 5), max(least, self.chance.choice((1, 2, 3, 5))))
        size = self.chance.randint(max(least, 1), max(most, 1))
        if self.chance.random() < self.wild * 0.1:
            size = self.chance.choice((0, schema.get("maxItems", 50), schema.get("maxItems", 50) + 1))
        calm = self if size < 60 else replace(self, wild=0.0)  # two thousand long texts would fill the memory
        return [calm.grown(schema["items"], key, depth + 1) for _ in range(min(size, 400 if depth else 2001))]

    def _scalar(self, schema: Schema, key: str) -> str:
        title, chance = schema.get("title", ""), self.chance
        if "enum" in schema:
            return str(chance.choice(schema["enum"]))
        if schema.get("type") in ("integer", "number"):
            return self._number(schema)
        made: dict[str, Callable[[], str]] = {
            "a length with its unit": lambda: chance.choice(LENGTHS),
            "a weight with its unit": lambda: chance.choice(("50 g", "4 oz", "1 lb")),
            "a percentage": lambda: f"{chance.randint(0, 40)} %",
            "a colour": lambda: f"#{chance.randrange(1 << 24):06x}",
            "a stripe": lambda: f"{chance.choice((1, 1, 2, 2, 3, 4, 5, 9, 14))} {chance.choice(self.names)}",
        }
        if title in made:
            return made[title]()
        if key in ("weft", "pattern_yarn", "alternate", "home", "cross", "order", "name", "patterns"):
            return chance.choice(self.names)
        if key == "panel" and self.panels:
            left = [panel for panel in self.panels if panel not in self.laid] or list(self.panels)
            self.laid.add(found := chance.choice(left))
            return found
        if key == "instead" and self.panels:
            return chance.choice(self.panels)
        return chance.choice(("20/2", "8/2", "5/2") if key == "count" else WORDS)

    def _number(self, schema: Schema) -> Raw:
        return Raw(self._figures(schema))

    def _figures(self, schema: Schema) -> str:
        least = schema.get("minimum", schema.get("exclusiveMinimum", 0))
        most = schema.get("maximum", 1_000_000)
        if self.chance.random() < self.wild * 0.3:
            return str(self.chance.choice((least, most, least - 1, most + 1)))
        usual = self.chance.choice((1, 2, 3, 4, 6, 7, 8, 9, 10, 11, 12, 14, 15, 16, 17, 20, 24, 40, 500, 3000))
        if schema["type"] == "number" and self.chance.random() < 0.2 and usual + 1 < most:
            return f"{usual}.{self.chance.randint(1, 9)}"
        return str(min(max(usual, least + ("exclusiveMinimum" in schema)), most))


def nested(chance: Random) -> Any:
    """Repeats in repeats, lists in lists, keys in keys; the repeats come to as many ends as there are atoms."""
    depth = chance.choice((2, 5, 9, 18, 19, 20, 21, 25, 60))
    times = chance.choice(("1", "2", "9", "1000"))
    kind = chance.randrange(3)
    found: Any = [f"{chance.choice((1, 9, 9999))} white"]
    for _ in range(depth):
        found = [{"repeat": times, "stripes": found}] if kind == 0 else [found] if kind == 1 else {"a": found}
    return found


def changed(tree: Any, schema: Schema, root: Schema, chance: Random, others: Sequence[Any]) -> Any:
    """A sound file with one to five of its nodes changed, each by what its schema says or by none."""
    grower = Grower(root, chance, 1.0, names=tuple(tree.get("yarns") or ()) or YARN_NAMES)
    for _ in range(chance.choice((1, 1, 1, 2, 3, 5))):
        nodes = list(_nodes(tree, schema, grower))
        if not nodes:
            return tree
        holder, key, wanted = chance.choice(nodes)
        _change(holder, key, wanted, grower, others)
    return tree


def _nodes(value: Any, schema: Schema, grower: Grower) -> Iterator[tuple[Any, Any, Schema]]:
    """Every place of a tree: what holds it, its key, and the schema that it should follow."""
    schema = grower._followed(schema)
    if isinstance(value, dict):
        if "anyOf" in schema:
            schema = max(
                map(grower._followed, schema["anyOf"]),
                key=lambda each: len(set(each.get("properties", ())) & set(value)),
            )
        inner, rest = schema.get("properties", {}), schema.get("additionalProperties") or {}
        for key, item in value.items():
            wanted = inner.get(key, rest)
            yield value, key, wanted
            yield from _nodes(item, wanted, grower)
    elif isinstance(value, list):
        wanted = schema.get("items", {})
        for index, item in enumerate(value):
            yield value, index, wanted
            yield from _nodes(item, wanted, grower)


def _change(holder: Any, key: Any, schema: Schema, grower: Grower, others: Sequence[Any]) -> None:
    chance, what = grower.chance, grower.chance.random()
    if what < 0.45:
        holder[key] = grower.hostile(schema, str(key))
    elif what < 0.6:
        holder[key] = Grower(grower.root, chance, 0.1, grower.names).grown(schema, str(key))
    elif what < 0.7:
        del holder[key]
    elif what < 0.78 and isinstance(holder, list):
        times = 1 if "many" in grower.laid else 400 if len(str(holder[key])) < 99 else 8
        grower.laid.add("many")  # once a file: doubled doubles would fill the memory
        holder[key:key] = [holder[key]] * chance.choice((1, 2, times))
    elif what < 0.84 and isinstance(holder, list):
        chance.shuffle(holder)
    elif what < 0.9 and isinstance(holder, dict):
        holder[chance.choice(hostile.KEYS)] = holder.pop(key)
    elif what < 0.95:
        holder[key] = deepcopy(chance.choice(list(chance.choice(others).values())))  # or a tree might hold itself
    else:
        holder[key] = nested(chance)
