"""Stripes as people type them: on one line, on many, or as a table that a spreadsheet has saved.

Whatever could be meant in two ways is refused with the way that was probably meant: a stripe that is read wrongly is a
wrong count on a card.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from cardmaker.model.pattern import MOST_ENDS
from cardmaker.reading.nodes import as_name
from cardmaker.reading.stripe_lines import stripe_sentence
from cardmaker.reading.value_words import FILLERS, quoted

_BETWEEN: Final = re.compile(r"[,;+/|\n]|\s[-–—]\s|[.:]\s+(?=[0-9])|(?<=\s)(?:and|&)\s+(?=[0-9])")
_BULLET: Final = re.compile(r"^[ \t]*[-•*·–][ \t]+", re.MULTILINE)
_NOTE: Final = re.compile(r"^[ \t]*#.*$", re.MULTILINE)
_COUNT: Final = re.compile(r"0*[1-9][0-9]{0,8}")
_SUM: Final = re.compile(r"(?:total|sum|in all|=)\s*[:=]?\s*([0-9]{1,9})(?:\s+ends?)?|([0-9]{1,9})\s+(?:in all|total)")
_CELL_COUNT: Final = re.compile(r"([0-9]{1,9})(?:[.,]0{1,2})?")  # a spreadsheet may write 9.00
_LONGEST_ADVICE: Final = 80  # letters of what was probably meant
_DELIMITERS: Final = ("\t", ";", ",")
_COUNT_HEADS: Final = frozenset(("count", "counts", "ends", "number", "threads", "how many", "number of ends", "warp"))
_NAME_HEADS: Final = frozenset(("colour", "color", "colours", "colors", "yarn", "yarns", "name", "thread"))
_SUM_HEADS: Final = frozenset(("total", "sum", "in all", "ends in all", "total ends", "all"))

Stripes = list[tuple[int, str]]


class _Table(NamedTuple):
    """Rows of cells with the number of the line that each stands in; the places of the count and of the name."""

    rows: Sequence[tuple[int, Sequence[str]]]
    count_at: int
    name_at: int


def stripes_of_text(text: str) -> Stripes:
    """The stripes of ``2 blue, 9 white, 2 blue``, in any of the ways in which it is typed; a table as well.

    Between stripes stand commas, semicolons, new lines, ``/``, ``+``, ``and`` or nothing but spaces. A count and a name
    in cells of their own are a table. Raises ValueError with a sentence.
    """
    plain = _NOTE.sub("", text.replace("\r\n", "\n").replace("\r", "\n"))
    table = _table(plain)
    stripes = _stripes_of_table(table) if table else _stripes_of_words(_BULLET.sub("", plain))
    _refuse_capitals([name for _, name in stripes])
    return stripes


def _refuse_capitals(names: Sequence[str]) -> None:
    """Two spellings of one name would be two yarns. Raises ValueError."""
    first: dict[str, str] = {}
    for name in names:
        if first.setdefault(name.casefold(), name) != name:
            known = first[name.casefold()]
            raise ValueError(f"{quoted(known)} and {quoted(name)} differ in capitals alone. Write one of them.")


# Words


def _stripes_of_words(text: str) -> Stripes:
    stripes: Stripes = []
    for part in _parts(text):
        if total := _SUM.fullmatch(part.casefold()):
            _check_sum(stripes, int(total[1] or total[2]))
        else:
            stripes += _stripes_of_part(part)
    if not stripes:
        raise ValueError(_sentence(""))
    return stripes


def _parts(text: str) -> Iterator[str]:
    """What stands between two separators. Only a line may be empty: two commas have lost a stripe between them."""
    for line in text.split("\n"):
        parts = [part.strip() for part in _BETWEEN.split(line)]
        if parts != [""]:
            yield from parts[:-1] if len(parts) > 1 and not parts[-1] and "\n" in text.strip() else parts


def _stripes_of_part(part: str) -> Stripes:
    """``2 blue``, or several with spaces alone between them: every number begins a stripe."""
    words = part.split()
    starts = [place for place, word in enumerate(words) if _COUNT.fullmatch(word)]
    if not starts or starts[0] > 0:
        raise ValueError(_sentence(part))
    groups = [words[start:stop] for start, stop in zip(starts, [*starts[1:], len(words)], strict=True)]
    if bare := next((group[0] for group in groups[1:] if len(group) == 1), ""):
        message = f"{quoted(part)} has a figure that no yarn follows: {bare}. A figure begins the next stripe."
        raise ValueError(f"{message} Write its yarn, or name the yarn with letters alone.")
    return [_stripe(group) for group in groups]


def _stripe(words: Sequence[str]) -> tuple[int, str]:
    name = list(words[1:])
    while len(name) > 1 and name[0].casefold() in FILLERS:
        del name[0]
    if not name:
        raise ValueError(_sentence(words[0]))
    if odd := next((word for word in name if re.search(r"[0-9]", word)), ""):
        raise ValueError(_figure_in_name(words, odd))
    return int(words[0]), as_name(" ".join(name))


def _figure_in_name(words: Sequence[str], odd: str) -> str:
    """``2 blue9 white``: a figure inside a name is most likely the next stripe's count."""
    whole = " ".join(words)
    message = f"{quoted(whole)} has a figure inside the name of a yarn."
    rest = words[words.index(odd) + 1 :]
    if found := re.fullmatch(r"([^\W\d_]+)([1-9][0-9]*)", odd):
        meant = " ".join([*words[: words.index(odd)], found[1]])
        following = f"{found[2]} {' '.join(rest)}".strip() if rest else ""
        if following and len(meant) + len(following) <= _LONGEST_ADVICE:
            return f"{message} If you mean two stripes, write {meant}, {following}."
    return f"{message} Write the name with letters alone; its shade or number goes into the file, as in shade: 321."


def _sentence(part: str) -> str:
    """What is wrong with a stripe, as a pattern file is told it, with an example always."""
    message, remedy = stripe_sentence(part)
    if part.strip() and "is not a stripe" not in message:
        message = f"{quoted(part)} is not a stripe: it {message.removeprefix(quoted(part)).strip()}"
    return f"{message} {remedy}".strip()


def _check_sum(stripes: Stripes, stated: int) -> None:
    total = sum(count for count, _ in stripes)
    if total != stated:
        raise ValueError(f"The total says {stated:,}, and the stripes before it add up to {total:,}. Count again.")


# Tables


def _table(text: str) -> _Table | None:
    """The text as a table, if some delimiter puts counts and names into cells of their own; else None.

    Raises ValueError for a table in which the two columns cannot be told.
    """
    import csv

    if len(text) > 1 and "\n" not in text.strip() and not any(each in text for each in "\t;"):
        return None  # one line with commas alone is a sentence
    for delimiter in _DELIMITERS:
        if delimiter not in text:
            continue
        reader = csv.reader(text.split("\n"), delimiter=delimiter)
        try:
            rows = [(reader.line_num, [as_name(cell) for cell in row]) for row in reader]
        except csv.Error:
            continue
        rows = [(line, cells) for line, cells in rows if any(cells)]
        if any(_is_row(cells) for _, cells in rows):
            return _with_columns(rows)
    return None


def _is_row(cells: Sequence[str]) -> bool:
    """Whether one cell is a count alone and another one has letters and no count: a stripe in two cells."""
    counts = [cell for cell in cells if _CELL_COUNT.fullmatch(cell)]
    names = [cell for cell in cells if cell and cell[0].isalpha()]
    return bool(counts) and bool(names)


def _with_columns(rows: Sequence[tuple[int, Sequence[str]]]) -> _Table:
    head = [cell.casefold() for cell in rows[0][1]]
    counts = [place for place, cell in enumerate(head) if cell in _COUNT_HEADS]
    names = [place for place, cell in enumerate(head) if cell in _NAME_HEADS]
    if len(counts) == len(names) == 1:
        return _Table(rows[1:], counts[0], names[0])
    body = rows[1:] if {*head} & (_COUNT_HEADS | _NAME_HEADS) and not any(map(_CELL_COUNT.fullmatch, head)) else rows
    told = [cells for _, cells in body if not _is_sum(cells)]
    width = max(map(len, told), default=0)
    columns = [[cells[place] if place < len(cells) else "" for cells in told] for place in range(width)]
    filled = [(place, [cell for cell in column if cell]) for place, column in enumerate(columns) if any(column)]
    counts = [place for place, column in filled if 2 * sum(map(_is_count, column)) >= len(column)]
    names = [place for place, _ in filled if place not in counts]
    if len(counts) == len(names) == 1:
        return _Table(body, counts[0], names[0])
    raise ValueError(
        "This table has more columns than a count and a colour. Let its first line name the two: count, colour."
    )


def _stripes_of_table(table: _Table) -> Stripes:
    stripes: Stripes = []
    for line, cells in table.rows:
        count, name = (cells[place] if place < len(cells) else "" for place in (table.count_at, table.name_at))
        number = _CELL_COUNT.fullmatch(count)
        if _is_sum(cells):
            _check_sum(stripes, _sum_of_row(line, cells))
        elif not number or not int(number[1]):
            raise ValueError(f"Line {line}: {quoted(count)} is no whole number of ends from 1 to {MOST_ENDS}.")
        elif not name[:1].isalpha():
            raise ValueError(f"Line {line}: {quoted(name)} is no name of a yarn. Begin it with a letter.")
        else:
            stripes.append((int(number[1]), name))
    if not stripes:  # a header, or a total, and no more
        raise ValueError("There is no stripe in this table. Write a count and a colour in each line, as in 9,white.")
    return stripes


def _is_count(cell: str) -> bool:
    return _CELL_COUNT.fullmatch(cell) is not None


def _is_sum(cells: Sequence[str]) -> bool:
    """Whether a row is the total under the table, as spreadsheets have it."""
    return any(cell.casefold().rstrip(":") in _SUM_HEADS for cell in cells)


def _sum_of_row(line: int, cells: Sequence[str]) -> int:
    counts = [found[1] for cell in cells if (found := _CELL_COUNT.fullmatch(cell))]
    if len(counts) != 1:
        raise ValueError(f"Line {line} is called a total and has not one number. Write it as in total,13.")
    return int(counts[0])
