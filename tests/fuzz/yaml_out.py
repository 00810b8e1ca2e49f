"""From plain values to YAML in any of its dresses; our own, since no YAML writer writes what a reader should refuse."""

from __future__ import annotations

import json
import re
from random import Random
from typing import Any, Final

_PLAIN: Final = re.compile(r"[A-Za-z0-9.½¼][\w .,/%½¼-]*")
_BLOCK_DEEPEST: Final = 60


class Raw(str):
    """A text that is written as it is, whatever it does to the file."""

    __slots__ = ()


def yaml_text(value: Any, chance: Random) -> str:
    """The whole file."""
    if not isinstance(value, dict) or chance.random() < 0.03:
        return _flow(value, chance) + "\n"
    return _block(value, 0, chance) or "{}\n"


def _scalar(value: Any, chance: Random) -> str:
    text = str(value)
    if isinstance(value, Raw) or (_PLAIN.fullmatch(text) and text == text.strip() and chance.random() < 0.95):
        return text
    if "'" not in text and "\n" not in text and text.isprintable() and chance.random() < 0.3:
        return f"'{text}'"
    return json.dumps(text, ensure_ascii=chance.random() < 0.3)


def _flow(value: Any, chance: Random) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_scalar(key, chance)}: {_flow(inner, chance)}" for key, inner in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_flow(inner, chance) for inner in value) + "]"
    return "" if value is None else _scalar(value, chance)


def _block(value: Any, depth: int, chance: Random) -> str:
    pad = "  " * depth
    if not value or not isinstance(value, (dict, list)) or depth > _BLOCK_DEEPEST:
        return f"{pad}{_flow(value, chance)}\n"
    lines = []
    heads = [f"{_scalar(key, chance)}:" for key in value] if isinstance(value, dict) else ["-"] * len(value)
    inner = list(value.values()) if isinstance(value, dict) else value
    for head, item in zip(heads, inner, strict=True):
        if isinstance(item, (dict, list)) and item and chance.random() < 0.6:
            lines.append(f"{pad}{head}\n{_block(item, depth + 1, chance)}")
        else:
            lines.append(f"{pad}{head} {_flow(item, chance)}\n")
    return "".join(lines)
