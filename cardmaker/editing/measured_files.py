"""What was measured, written into files that are there: a record more of a pattern or a yarn, the latest of a loom.

The text is edited in place; whoever writes it reads it again and takes it only if it says what was meant.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from cardmaker.editing.text_edits import TextEdits
from cardmaker.editing.yaml_text import yaml_keys
from cardmaker.model.problems import Places

_MEASURED = ("measured",)


def with_record(text: str, places: Places, values: Sequence[tuple[str, str]]) -> str:
    """The text with a record more at the end of its list. Raises NotEditable."""
    edits = _edits(text, places)
    if edits.has(_MEASURED):
        edits.append_item(_MEASURED, yaml_keys(values))
    else:
        edits.append_lines(["measured:", f"  - {yaml_keys(values)}"])
    return edits.edited()


def with_latest(text: str, places: Places, figures: Mapping[str, Sequence[tuple[str, str]]]) -> str:
    """The text with groups of keys under ``measured``, in the place of those of an earlier warp. Raises NotEditable."""
    edits = _edits(text, places)
    if not edits.has(_MEASURED):
        edits.append_lines(["measured:", *(f"  {name}: {yaml_keys(values)}" for name, values in figures.items())])
        return edits.edited()
    for name, values in figures.items():
        if not edits.has(("measured", name)):
            edits.add(("measured", name), yaml_keys(values))
            continue
        for key, value in values:
            path = ("measured", name, key)
            (edits.change if edits.has(path) else edits.add)(path, value)
    return edits.edited()


def _edits(text: str, places: Places) -> TextEdits:
    return TextEdits(text if text.endswith("\n") else f"{text}\n", places)


def bytes_as_before(text: str, raw: bytes) -> bytes:
    """The text as bytes, with the line ends and the byte order mark of the file that it is of."""
    mark = b"\xef\xbb\xbf" if raw.startswith(b"\xef\xbb\xbf") else b""
    return mark + (text.replace("\n", "\r\n") if b"\r\n" in raw else text).encode()
