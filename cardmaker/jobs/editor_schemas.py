"""Schemas where an editor finds them: every new file has a line that names one, in a folder of hers that moves with it.

Why not the program's own folder: its path holds the name of whoever uses the computer, which then is carried in every
PDF, and it is another one after the next update. Why not an address on the internet: there is none at most looms.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from cardmaker.files import write_many
from cardmaker.jobs.file_lookup import own_folder
from cardmaker.reading.quick_check import schema_of
from cardmaker.reading.read_file import kind_of_file

FOLDER: Final = ".schemas"
_LINE: Final = "# yaml-language-server: $schema="  # as the YAML language server of most editors reads it
_NAMES: Final = {"card layout": "card", "sheet": "card"}  # of schemas that are not called as their kind


def with_schema_line(path: Path, text: str) -> str:
    """The text of a new file with the line at its head."""
    return f"{_line(path, text.encode())}\n{text}"


def schema_line_of(text: str) -> str:
    """The line of a file that names its schema, wherever that lies; empty where there is none."""
    return next((line.rstrip() for line in text.splitlines() if line.startswith(_LINE)), "")


def write_new(files: Mapping[Path, bytes], base: Path | None = None, *, may_replace: bool = False) -> None:
    """Writes files, and the schemas that they name below ``base`` (her own folder) or beside themselves, all or none;
    none in the place of another, unless they ``may_replace`` it.

    Raises CannotWrite.
    """
    schemas: dict[Path, bytes] = {}
    for path, data in files.items():
        line = _line(path, data, base)
        if line and line.encode() in data.splitlines():
            name = _schema_name(data)
            file, schema = _schema_folder(path, base) / f"{name}.json", schema_for_editors(name)
            if not file.is_file() or file.read_bytes() != schema:
                schemas[file] = schema
    write_many({**schemas, **files}, new=() if may_replace else files.keys())


def schema_for_editors(name: str) -> bytes:
    """The schema as text. Our reader takes every value as it is typed, an editor ``version: 1`` as a number."""
    return json.dumps(_with_numbers(schema_of(name)), ensure_ascii=False, indent=2).encode() + b"\n"


def _with_numbers(part: Any) -> Any:
    if isinstance(part, list):
        return [_with_numbers(each) for each in part]
    if not isinstance(part, dict):
        return part
    with_numbers = {key: _with_numbers(value) for key, value in part.items()}
    if part.get("type") == "string" and "enum" not in part:
        with_numbers["type"] = ["string", "number"]
    return with_numbers


def _line(path: Path, data: bytes, base: Path | None = None) -> str:
    """The line for a file at a place; empty for one of no kind."""
    if not (name := _schema_name(data)):
        return ""
    way = os.path.relpath(os.path.realpath(_schema_folder(path, base)), os.path.realpath(path.parent))
    return f"{_LINE}{Path(way).as_posix()}/{name}.json"


def _schema_name(data: bytes) -> str:
    kind = kind_of_file(data)
    return _NAMES.get(kind, kind) if kind else ""


def _schema_folder(path: Path, base: Path | None) -> Path:
    """The folder of the schemas for a file at a place."""
    base = own_folder() if base is None else base
    is_below = Path(os.path.realpath(path)).is_relative_to(os.path.realpath(base))
    return (base if is_below else path.parent) / FOLDER
