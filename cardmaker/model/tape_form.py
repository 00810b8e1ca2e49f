"""The recording form: its fields by name, what each may hold, and the tape that a filled one describes.

Drawing, reading and wording name the same fields, so their names stand here. Each field is a key of a pattern file, but
for the loom, which is an option of the commands.
"""

from __future__ import annotations

from typing import Final, Literal, NamedTuple

from cardmaker.model.pattern import LONGEST_CODE, LONGEST_TITLE, LONGEST_YARN_NAME, Fibre, Mirror, WarpItem

LONGEST_LINE: Final = 200  # letters of one fact, as the schema has it
LONGEST_SHADE: Final = 60
LONGEST_LENGTH: Final = 40
LONGEST_COUNT: Final = 12  # letters of a number of ends, with a word or a doubt beside it, which is told then
YARNS: Final = 5  # lines for yarns
NOTES: Final = 2  # lines for notes
LEAST_STRIPES: Final = 24  # lines for stripes, on any paper
MOST_STRIPES: Final = 99
GRADES: Final = ("A", "B", "C", "D", "E", "F")

TITLE, CODE, LOOM, LENGTH, WEFT, TOTAL = "title", "code", "loom", "length", "weft", "total"
SOURCE: Final = (  # keys of a pattern's source: the object, then its count
    "what", "attached_to", "holder", "object_number", "place", "period",
    "counted_by", "counted_when", "counted_how", "certainty", "fibre",
)  # fmt: skip
MIRRORS: Final[dict[str, Mirror]] = {"mirror_last": "last stripe", "mirror_whole": "whole"}
Cell = Literal["ends", "colour"]


def grade_field(letter: str) -> str:
    return f"grade_{letter.lower()}"


def stripe_field(number: int, cell: Cell) -> str:
    """The field of a stripe, by its number from 1."""
    return f"stripe_{number:02d}_{cell}"


def yarn_field(number: int, cell: Literal["colour", "yarn", "shade"]) -> str:
    """The field of a yarn, by the number of its line from 1."""
    return f"yarn_{number}_{cell}"


def note_field(number: int) -> str:
    return f"notes_{number}"


def longest(field: str) -> int:
    """How many letters a field holds."""
    if field == TOTAL or field.endswith("_ends"):
        return LONGEST_COUNT
    if field.startswith("yarn_"):
        return LONGEST_SHADE if field.endswith("_shade") else LONGEST_LENGTH
    if field.startswith("stripe_"):
        return LONGEST_LINE
    known = {TITLE: LONGEST_TITLE, CODE: LONGEST_CODE, LENGTH: LONGEST_LENGTH, WEFT: LONGEST_YARN_NAME}
    return known.get(field, LONGEST_LINE)


FIXED_FIELDS: Final = (
    TITLE, CODE, *SOURCE[:6], *map(grade_field, GRADES), *MIRRORS, TOTAL,
    *(yarn_field(number, cell) for number in range(1, YARNS + 1) for cell in ("colour", "yarn", "shade")),
    *SOURCE[6:], LOOM, LENGTH, WEFT, *map(note_field, range(1, NOTES + 1)),
)  # fmt: skip


_FIELDS_OF_KEYS: Final = {
    "length": LENGTH, "ends": TOTAL, "notes": note_field(1), "yarns": yarn_field(1, "yarn"),
    "warp": stripe_field(1, "colour"),
}  # fmt: skip
_ORDER: Final = {field: number for number, field in enumerate(FIXED_FIELDS)}


def field_of_key(where: str) -> str:
    """The field that a value of the pattern was written in, by its key in words, as near as can be told."""
    first, _, rest = where.replace(" ", ".").partition(".")
    if first == "source":
        return rest if rest in SOURCE else grade_field(GRADES[0])
    return first if first in (TITLE, CODE, WEFT) else _FIELDS_OF_KEYS.get(first, TITLE)


def form_order(field: str) -> tuple[int, int]:
    """Where a field comes in the order of the form; what is about the whole of it comes first."""
    if field.startswith("stripe_"):
        _, number, cell = field.split("_")
        return _ORDER[grade_field(GRADES[-1])], 2 * int(number) + (cell == "colour")
    return _ORDER.get(field, -1), 0


class FieldProblem(NamedTuple):
    """What is wrong with what a field holds; a doubt is not wrong, and somebody should know of it."""

    field: str
    message: str
    remedy: str = ""
    is_doubt: bool = False


class RecordedYarn(NamedTuple):
    """A yarn as the form names it; ``is_assumed`` when nobody said fibre and count."""

    name: str
    fibre: Fibre
    label_count: str
    system: str = ""
    shade: str = ""
    is_assumed: bool = False


class RecordedTape(NamedTuple):
    """What a filled form says. ``source`` are keys with their texts, empty without a grade; ``ends`` is None where
    nobody counted the whole."""

    title: str
    stripes: tuple[WarpItem, ...]
    yarns: tuple[RecordedYarn, ...]
    mirror: Mirror | None = None
    ends: int | None = None
    code: str = ""
    weft: str = ""
    finished: str = ""
    loom: str = ""
    source: tuple[tuple[str, str], ...] = ()
    notes: str = ""
