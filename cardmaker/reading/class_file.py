"""A class file: from its text to a :class:`SchoolClass`, or to every problem in it."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from cardmaker.model.loom import Loom
from cardmaker.model.money import parse_money
from cardmaker.model.pattern import Package
from cardmaker.model.printers_quotes import with_curly_quotes
from cardmaker.model.school_class import SchoolClass, Spares, Student
from cardmaker.reading import limits
from cardmaker.reading.fields import FieldReader, doubled_names, parsed
from cardmaker.reading.loom_file import loom_in_place
from cardmaker.reading.nodes import as_name
from cardmaker.reading.pattern_lists import pattern_names
from cardmaker.reading.quick_check import schema_of
from cardmaker.reading.value_words import quoted

_NO_PATTERN: Final = (
    "Write it as in pattern: two-rails; or let students choose, with choose_from: [two-rails, wick] above students."
)


def parse_class(text: bytes, file: str, stem: str) -> SchoolClass:
    """The class that the text of a file describes. Raises ProblemsFound."""
    return parsed(text, file, "class", lambda top: _class(top, stem))


def _class(top: FieldReader, stem: str) -> SchoolClass:
    _check_names(top.parts("students"))
    choose_from = pattern_names(top, "choose_from")
    if not choose_from and not top.is_wrong("choose_from"):
        _require_patterns(top.parts("students"))
    is_threaded = top.choice("threading") == "beforehand"
    return SchoolClass(
        title=top.line("title"),
        stem=stem,
        students=top.groups("students", _student),
        spares=_spares(top),
        choose_from=choose_from,
        teacher=top.line("teacher"),
        date=top.line("date"),
        place=top.line("place"),
        session_minutes=top.minutes("session"),
        wound_beforehand=is_threaded or top.choice("winding") == "beforehand",
        threaded_beforehand=is_threaded,
        in_stages=top.choice("stages") == "yes",
        warp_mm=top.length("warp", limit=limits.WARP),
        extra=top.share("extra") or Fraction(0),
        spare_ends=top.choice("spare_ends"),
        paper=top.choice("paper"),
        units=top.choice("units"),
        packages=_packages(top.part("packages")),
        notes=tuple(map(with_curly_quotes, top.texts("notes"))),
        about=with_curly_quotes(top.text("about")),
        marked_as=top.line("marked_as"),
        places=top.problems.places,
    )


def _require_patterns(students: list[FieldReader]) -> None:
    """Every student has a pattern where the class does not say what to choose from. A key that is none may have been
    meant for it."""
    known = schema_of("class")["properties"]["students"]["items"]["properties"].keys()
    for part in students:
        if "pattern" not in part.values and all(key in known for key in part.wrong_keys()):
            part.report(None, "'pattern' is missing.", _NO_PATTERN)


def _student(part: FieldReader) -> Student:
    return Student(
        name=part.name("name"),
        loom=_loom(part),
        pattern=part.line("pattern"),
        left_hand=part.choice("hand") == "left",
        large_print=part.choice("large_print") == "yes",
        units=part.choice("units"),
    )


def _loom(part: FieldReader) -> str | Loom:
    """The name of a loom's file, or the loom itself, called by its spaces unless it has a title."""
    spaces = part.part("loom")
    return part.line("loom") if spaces is None else loom_in_place(spaces)


def _check_names(students: list[FieldReader]) -> None:
    """No two students have one name: a handout and a kit must find their owner."""
    for part, name, earlier in doubled_names(students, str.casefold):
        remedy = f"The other is student {earlier}. Add something that tells them apart."
        part.report("name", f"there are two students named {quoted(name)}.", remedy)


def _spares(top: FieldReader) -> tuple[Spares, ...]:
    """One group or a list of groups."""
    only = top.part("spares")
    parts = top.parts("spares") if only is None else [only]
    return tuple(Spares(part.count("count"), _loom(part), part.line("pattern"), part.path) for part in parts)


def _packages(part: FieldReader | None) -> dict[str, Package]:
    if part is None:
        return {}
    inner = ((as_name(name), part.part(name)) for name in part.values)
    return {name: _package(each) for name, each in inner if each is not None}


def _package(part: FieldReader) -> Package:
    price = part.line("price")
    if price and not part.is_wrong("price"):
        try:
            parse_money(price)
        except ValueError:
            message = f"{quoted(price)} is not a price."
            part.report("price", message, "Write one number and its currency, as in $7.40 or 6 crowns.")
    if price and not {"length", "weight"} & part.values.keys() and not part.is_wrong():
        part.report("price", "nothing tells how much this price buys.", "Add it, as in weight: 50 g or length: 150 m.")
    length, weight = part.length("length", limit=limits.PACKAGE_LENGTH), part.weight("weight", limits.PACKAGE_WEIGHT)
    return Package(length, weight, price)
