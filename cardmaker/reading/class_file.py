"""A class file: from its text to a :class:`SchoolClass`, or to every problem in it."""

from __future__ import annotations

from fractions import Fraction

from cardmaker.model.money import parse_money
from cardmaker.model.pattern import Package
from cardmaker.model.school_class import SchoolClass, Spares, Student
from cardmaker.reading.fields import FieldReader, finished, top_reader
from cardmaker.reading.nodes import as_name
from cardmaker.reading.schema_check import quoted


def parse_class(text: bytes, file: str, stem: str) -> SchoolClass:
    """The class that the text of a file describes. Raises ProblemsFound."""
    top = top_reader(text, file, "class")
    school_class = _class(top, stem)
    finished(top)
    return school_class


def _class(top: FieldReader, stem: str) -> SchoolClass:
    students = top.parts("students")
    _check_names(students)
    return SchoolClass(
        title=top.line("title"),
        stem=stem,
        students=tuple(map(_student, students)),
        spares=_spares(top),
        teacher=top.line("teacher"),
        date=top.line("date"),
        place=top.line("place"),
        session_minutes=top.minutes("session"),
        wound_beforehand=top.choice("winding") == "beforehand",
        warp_mm=top.length("warp"),
        extra=top.share("extra") or Fraction(0),
        spare_ends=top.choice("spare_ends"),
        paper=top.choice("paper", "letter"),
        units=top.choice("units", "metric"),
        packages=_packages(top.part("packages")),
        notes=top.texts("notes"),
        about=top.text("about"),
        marked_as=top.line("marked_as"),
        places=top.findings.places,
    )


def _student(part: FieldReader) -> Student:
    return Student(
        name=part.name("name"),
        loom=part.line("loom"),
        pattern=part.line("pattern"),
        left_hand=part.choice("hand") == "left",
        large_print=part.choice("large_print") == "yes",
        units=part.choice("units"),
    )


def _check_names(students: list[FieldReader]) -> None:
    """No two students have one name: a handout and a kit must find their owner."""
    seen: dict[str, int] = {}
    for part in students:
        name = as_name(str(part.values.get("name") or ""))
        number = int(part.path[-1]) + 1
        if not name:
            continue
        if name.casefold() in seen:
            message = f"there are two students named {quoted(name)}."
            remedy = f"The other is student {seen[name.casefold()]}. Add something that tells them apart."
            part.tell("name", message, remedy)
        seen.setdefault(name.casefold(), number)


def _spares(top: FieldReader) -> tuple[Spares, ...]:
    """One group or a list of groups."""
    only = top.part("spares")
    parts = top.parts("spares") if only is None else [only]
    return tuple(Spares(part.count("count"), part.line("loom"), part.line("pattern"), part.path) for part in parts)


def _packages(part: FieldReader | None) -> dict[str, Package]:
    if part is None:
        return {}
    inner = ((as_name(name), part.part(name)) for name in part.values)
    return {name: _package(each) for name, each in inner if each is not None}


def _package(part: FieldReader) -> Package:
    price = part.line("price")
    if price and not part.findings.is_wrong(*part.path, "price"):
        try:
            parse_money(price)
        except ValueError:
            message = f"{quoted(price)} is not a price."
            part.tell("price", message, "Write one number and its currency, as in $7.40 or 6 crowns.")
    if price and not {"length", "weight"} & part.values.keys() and not part.findings.is_wrong(*part.path):
        part.tell("price", "nothing tells how much this price buys.", "Add it, as in weight: 50 g or length: 150 m.")
    return Package(part.length("length"), part.weight("weight"), price)
