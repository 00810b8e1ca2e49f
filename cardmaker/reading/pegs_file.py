"""A pegs file: from its text to :class:`Pegs`, or to every problem in it."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, Final

from cardmaker.model.peg_plan import Peg, Pegs
from cardmaker.model.problems import KeyPath
from cardmaker.reading import limits
from cardmaker.reading.fields import FieldReader, doubled_names, parsed
from cardmaker.reading.nodes import as_name
from cardmaker.reading.value_words import quoted

_NEEDED: Final = ("pegs", "diameter", "home", "cross", "order")
_EXAMPLES: Final = {
    "pegs": "Add pegs: with one {name: A, x: 50 mm, y: 120 mm} for each.",
    "diameter": "Add it as in diameter: 20 mm.",
    "home": "Add the peg that winding starts from, as in home: A.",
    "cross": "Add the pegs of the cross, as in cross: [B, C].",
    "order": "Add the order in which the thread visits the others, as in order: [D, E].",
    "shortest": "Add it as in shortest: 1 yd.",
    "longest": "Add it as in longest: 4 yd.",
}


def parse_pegs(text: bytes, file: str, stem: str) -> Pegs:
    """The place to wind a warp that the text of a file describes. Raises ProblemsFound."""
    return parsed(text, file, "pegs", lambda top: _pegs(top, stem))


def _pegs(top: FieldReader, stem: str) -> Pegs:
    kind = top.choice("kind", "")
    places = top.groups("pegs", _peg)
    diameter = top.length("diameter", limit=limits.PEG)
    _check_kind(top, kind)
    if kind != "span":
        _check_names(top, places)
        _check_distances(top, places, diameter)
    return Pegs(
        title=top.line("title"),
        stem=stem,
        kind=kind or "board",
        pegs=places,
        diameter_mm=diameter or Fraction(0),
        height_mm=top.length("height", limit=limits.PEG_HEIGHT),
        home=top.name("home"),
        cross=top.names("cross"),
        order=top.names("order"),
        shortest_mm=top.length("shortest", limit=limits.SPAN),
        longest_mm=_longest(top),
        surface_mm=_surface(top, places),
        about=top.text("about"),
        marked_as=top.line("marked_as"),
        places=top.problems.places,
    )


def _peg(part: FieldReader) -> Peg:
    x, y = (part.length(key, or_nought=True, limit=limits.PEG_PLACE) for key in ("x", "y"))
    return Peg(part.name("name"), x or Fraction(0), y or Fraction(0))


def _check_kind(top: FieldReader, kind: str) -> None:
    """A board or table has pegs; a span has a shortest and a longest distance; neither has the other's."""
    if not kind:
        return
    needed, others = (("shortest", "longest"), ("pegs", "home", "cross", "order")) if kind == "span" else (
        _NEEDED, ("shortest", "longest"))  # fmt: skip
    for key in needed:
        if key not in top.values and not top.is_wrong(key):
            top.report("kind", f"a {kind} needs '{key}'.", _EXAMPLES[key])
    for key in others:
        if key in top.values:
            top.report(key, f"a {kind} has no '{key}'.", "Take it out, or change the kind.", at_key=True)


def _check_names(top: FieldReader, pegs: tuple[Peg, ...]) -> None:
    """Every peg has a name of its own, and home, cross and order name pegs that exist."""
    for part, name, earlier in doubled_names(top.parts("pegs")):
        part.report("name", f"there are two pegs named {quoted(name)}.", f"The other is peg {earlier} of the list.")
    if not pegs:
        return
    named: list[tuple[KeyPath, Any]] = [(("home",), top.values.get("home"))]
    for key in ("cross", "order"):
        named += [((key, index), value) for index, value in enumerate(top.values.get(key) or ())]
    known = dict.fromkeys(peg.name for peg in pegs if peg.name)
    for path, value in named:
        if value is not None:
            top.check_name(path, as_name(str(value)), "pegs", known)
    _check_cross(top)


def _check_cross(top: FieldReader) -> None:
    """The thread starts at home and then passes two different pegs: otherwise there is no cross."""
    passed = [top.name("home")]
    for index, name in enumerate(top.names("cross")):
        if name in passed:
            what = "home" if name == passed[0] else "already in the cross"
            top.report(("cross", index), f"{quoted(name)} is {what}.", "The cross is made on pegs of its own.")
        passed.append(name)


def _check_distances(top: FieldReader, pegs: tuple[Peg, ...], diameter: Fraction | None) -> None:
    """No two pegs may stand in one another: their centres are at least a diameter apart."""
    if not diameter or top.is_wrong("pegs"):
        return
    for index, peg in enumerate(pegs):
        for other in pegs[:index]:
            if (peg.x_mm - other.x_mm) ** 2 + (peg.y_mm - other.y_mm) ** 2 < diameter**2:
                message = f"peg {quoted(peg.name)} stands closer to {quoted(other.name)} than a peg is wide."
                top.report(("pegs", index), message, "Check x and y of both, and the diameter.")


def _longest(top: FieldReader) -> Fraction | None:
    shortest, longest = top.values.get("shortest"), top.length("longest", limit=limits.SPAN)
    if shortest is None or longest is None or top.is_wrong("shortest"):
        return longest
    least = top.length("shortest")
    if least is not None and least >= longest:
        top.report(
            "longest", "the longest distance is not more than the shortest.", "Write the longer of the two here."
        )
    return longest


def _surface(top: FieldReader, pegs: tuple[Peg, ...]) -> tuple[Fraction, Fraction] | None:
    part = top.part("surface")
    if part is None:
        return None
    width, depth = (part.length(key, limit=limits.SURFACE) for key in ("width", "depth"))
    if width is None or depth is None:
        return None
    for index, peg in enumerate(pegs):
        if peg.x_mm > width or peg.y_mm > depth:
            top.report(("pegs", index), f"peg {quoted(peg.name)} stands off the surface.", "Check its x and y.")
    return width, depth
