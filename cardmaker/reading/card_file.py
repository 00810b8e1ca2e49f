"""A card layout file: from its text to a :class:`CardLayout`, or to every problem in it."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import Any, Final

from cardmaker.model.card_layout import CardLayout, CellSize, FactLists, PanelPlace, Paper, Rows, TypeSizes
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reading.fields import FieldReader, parsed
from cardmaker.reading.value_words import decimal_text, quoted

COLUMNS: Final = 12
# ISO 216 for the A sizes; the American sizes are whole and half inches by definition of their names (common practice).
_PAPERS: Final = {
    "letter": (Fraction(17, 2) * MM_PER_INCH, 11 * MM_PER_INCH),
    "half-letter": (Fraction(11, 2) * MM_PER_INCH, Fraction(17, 2) * MM_PER_INCH),
    "4x6": (4 * MM_PER_INCH, 6 * MM_PER_INCH),
    "3x5": (3 * MM_PER_INCH, 5 * MM_PER_INCH),
    "a4": (Fraction(210), Fraction(297)),
    "a5": (Fraction(148), Fraction(210)),
    "a6": (Fraction(105), Fraction(148)),
}
_SIZES: Final = {"title": 22, "count": 16, "heading": 11, "body": 10.5, "small": 9.5, "smallest": 9}
_LEAST_PAPER_MM: Final = 50
_MOST_PAPER_MM: Final = 1200


@lru_cache(maxsize=32)  # a class asks for those of its handouts with every kit
def parse_card_layout(text: bytes, file: str, stem: str) -> CardLayout:
    """The card layout that the text of a file describes. Raises ProblemsFound."""
    return parsed(text, file, "card", lambda top: _layout(top, stem))


def _layout(top: FieldReader, stem: str) -> CardLayout:
    papers = _papers(top)
    margin = top.length("margin", or_nought=True) or Fraction(0)
    binding = top.part("binding")
    binding_mm = (binding.length("width", or_nought=True) if binding else None) or Fraction(0)
    _check_margins(top, papers, margin, binding_mm)
    return CardLayout(
        title=top.line("title"),
        stem=stem,
        papers=papers,
        margin_mm=float(margin),
        binding_mm=float(binding_mm),
        binding_side=binding.choice("side", "none") if binding else "none",
        units=top.choice("units", "metric"),
        type_sizes=_type_sizes(top.part("type")),
        rows=_rows(top, "rows"),
        other_half=_rows(top, "other_half"),
        back=_rows(top, "back"),
        facts=_facts(top.part("facts")),
        ribbon=top.choice("ribbon", "yes") == "yes",
        ribbon_on_back=top.choice("ribbon", "yes") == "back",
        notch=top.choice("notch", "no") == "yes",
        sample_mm=float(top.length("sample") or 0),
        words=top.choice("words", "full"),
        drawn=top.choice("drawn", "wide"),
        needs=top.choice("needs", "nothing"),
        punch=top.choice("punch", "none"),
        kind=top.choice("kind", "sheet"),
        cells=_cells(top.part("cells")),
        about=top.text("about"),
        places=top.problems.places,
    )


def _papers(top: FieldReader) -> tuple[Paper, ...]:
    papers = []
    for index, value in enumerate(top.values.get("papers") or ()):
        if isinstance(value, str):
            width, height = _PAPERS[value]
            papers.append(Paper(value, float(width), float(height)))
        elif isinstance(value, dict):
            papers.append(_own_paper(top.inner(("papers", index), value)))
        if value is not None and papers[-1].name in (paper.name for paper in papers[:-1]):
            top.report(("papers", index), f"{quoted(papers[-1].name)} is listed twice.", "Keep one of the two.")
    return tuple(papers)


def _own_paper(part: FieldReader) -> Paper:
    sizes = []
    for key in ("width", "height"):
        size = part.length(key)
        if size is not None and not _LEAST_PAPER_MM <= size <= _MOST_PAPER_MM:
            part.report(key, f"{quoted(part.values[key])} is no size for a card.", "Write 50 mm to 1200 mm.")
        sizes.append(float(size or _LEAST_PAPER_MM))
    return Paper(part.line("name"), *sizes)


def _check_margins(top: FieldReader, papers: tuple[Paper, ...], margin: Fraction, binding: Fraction) -> None:
    """Something must be left of every paper between the margins."""
    if top.is_wrong("papers"):
        return
    for paper in papers:
        if margin + max(margin, binding) >= paper.width_mm or 2 * margin >= paper.height_mm:
            key = "binding" if 2 * margin < min(paper.width_mm, paper.height_mm) else "margin"
            top.report(
                key, f"nothing is left of {quoted(paper.name)} between the margins.", "Make them smaller.", at_key=True
            )
            return


def _type_sizes(part: FieldReader | None) -> TypeSizes:
    """The sizes as stated, or those of a binder's page: 10-11 pt to read, counts 16, nothing under 9."""
    if part is None:
        return TypeSizes(**_SIZES)
    sizes: dict[str, float] = {key: float(part.choice(key, otherwise)) for key, otherwise in _SIZES.items()}
    for key in sizes:
        if key in part.values and "smallest" in part.values and sizes[key] < sizes["smallest"]:
            smallest = decimal_text(part.values["smallest"])
            message = f"{decimal_text(part.values[key])} points are less than the smallest size, {smallest}."
            part.report(key, message, f"Write {smallest} or more, or make 'smallest' smaller.")
    return TypeSizes(**sizes)


def _rows(top: FieldReader, key: str) -> Rows:
    rows_of_panels: dict[str, int] = {}
    rows = []
    for number, values in enumerate(top.values.get(key) or ()):
        if values is not None:
            rows.append(_row(values, (key, number), top, rows_of_panels))
    return tuple(rows)


def _row(
    values: list[Any], at: tuple[str, int], top: FieldReader, rows_of_panels: dict[str, int]
) -> tuple[PanelPlace, ...]:
    places = []
    for index, value in enumerate(values):
        if not isinstance(value, dict):
            continue
        part = top.inner((*at, index), value)
        place = PanelPlace(
            part.name("panel"),
            part.count("columns"),
            part.count("priority"),
            part.choice("essential") == "yes",
            part.line("instead"),
        )
        if place.panel in rows_of_panels:
            message = f"panel {quoted(place.panel)} stands in row {rows_of_panels[place.panel]} already."
            part.report("panel", message, "A card shows each panel once.")
        elif place.panel:
            rows_of_panels[place.panel] = at[1] + 1
        places.append(place)
    columns = sum(place.columns for place in places)
    if columns > COLUMNS and not top.is_wrong(at):
        top.report(at, f"the panels of this row take {columns} columns.", "A row has 12.")
    return tuple(places)


def _cells(part: FieldReader | None) -> CellSize | None:
    if part is None:
        return None
    return CellSize(float(part.length("width") or _LEAST_PAPER_MM), float(part.length("height") or _LEAST_PAPER_MM))


def _facts(part: FieldReader | None) -> FactLists:
    return FactLists(part.names("front"), part.names("room"), part.names("back")) if part else FactLists()
