"""The card by fpdf2: its plain calls where they can, its paths where they must.

It takes the fonts apart anew for every document: it has no way to keep them, since writing one changes them.
"""

from __future__ import annotations

from typing import Any, Final

from cardmaker.model.marks import Dot, Face, Line, Page, Path, Rectangle, Stamp, Words
from cardmaker.pdf.fonts import face_path
from tests.benchmarks.peers.marks import Plain, copies, drawn

NAMES: Final = {face: face.replace(" ", "-") for face in Face}
Prepared = tuple[float, float, list[tuple[tuple[float, float, float, float] | None, list[Plain]]]]


def prepared(page: Page) -> Prepared:
    """The marks in runs, each with what cuts it off, stamps written out."""
    runs: list[tuple[tuple[float, float, float, float] | None, list[Plain]]] = [(None, [])]
    for mark in drawn(page):
        if isinstance(mark, Stamp):
            runs += [(tuple(mark.clip), list(copies(mark))), (None, [])]  # type: ignore[list-item]  # a box is four
        else:
            runs[-1][1].append(mark)
    return page.width_mm, page.height_mm, runs


def made(card: Prepared) -> bytes:
    """One PDF."""
    from fpdf import FPDF

    width, height, runs = card
    pdf: Any = FPDF(unit="mm", format=(width, height))
    pdf.set_auto_page_break(False)
    faces = {mark.face for _, marks in runs for mark in marks if isinstance(mark, Words)}
    for face in sorted(faces):
        pdf.add_font(NAMES[face], fname=face_path(face))
    pdf.add_page()
    for clip, marks in runs:
        if clip is None:
            _draw(pdf, marks)
        else:
            with pdf.local_context(), pdf.rect_clip(*clip):
                _draw(pdf, marks)
    return bytes(pdf.output())


def _draw(pdf: Any, marks: list[Plain]) -> None:
    for mark in marks:
        match mark:
            case Words():
                _words(pdf, mark)
            case Line() if not mark.round_ends:
                _settings(pdf, None, mark.colour, mark.width, mark.dash)
                pdf.line(mark.x1, mark.y1, mark.x2, mark.y2)
            case Rectangle() if mark.fill or mark.stroke:
                style = _settings(pdf, mark.fill, mark.stroke, mark.width, mark.dash)
                box = mark.box
                pdf.rect(*box, style=style, round_corners=bool(mark.radius), corner_radius=mark.radius)
            case Dot() if mark.fill or mark.stroke:
                style = _settings(pdf, mark.fill, mark.stroke, mark.width, ())
                pdf.circle(mark.x, mark.y, mark.radius, style=style)
            case Line():
                steps = (("move", mark.x1, mark.y1), ("line", mark.x2, mark.y2))
                _path(pdf, Path(steps, None, mark.colour, mark.width, mark.dash, True))  # type: ignore[arg-type]
            case Path():
                _path(pdf, mark)


def _settings(pdf: Any, fill: str | None, stroke: str | None, width: float, dash: tuple[float, ...]) -> str:
    """Colours and pen; fpdf2 itself writes only what changes. Returns how the shape is painted."""
    if fill:
        pdf.set_fill_color(fill)
    if stroke:
        pdf.set_draw_color(stroke)
        pdf.set_line_width(width)
        pdf.set_dash_pattern(dash[0] if dash else 0, dash[-1] if dash else 0)
    return ("D" if stroke else "") + ("F" if fill else "")


def _words(pdf: Any, mark: Words) -> None:
    pdf.set_font(NAMES[mark.face], size=mark.size)
    pdf.set_text_color(mark.colour)
    if mark.turned:
        with pdf.rotation(mark.turned, mark.x, mark.y):
            pdf.text(mark.x, mark.y, mark.text)
    else:
        pdf.text(mark.x, mark.y, mark.text)


def _path(pdf: Any, mark: Path) -> None:
    first = mark.steps[0]
    with pdf.new_path(first[1], first[2]) as path:  # type: ignore[misc]  # a path begins by a move
        style = path.style
        style.auto_close = False
        style.fill_color, style.stroke_color = mark.fill, mark.stroke
        style.intersection_rule = "nonzero"
        style.stroke_width = mark.width
        style.stroke_dash_pattern = mark.dash or None
        style.stroke_cap_style = "round" if mark.round_ends else "butt"
        style.stroke_join_style = "round" if mark.round_ends else "miter"
        for step in mark.steps[1:]:
            match step[0]:
                case "move":
                    path.move_to(*step[1:])
                case "line":
                    path.line_to(*step[1:])
                case "curve":
                    path.curve_to(*step[1:])
                case _:
                    path.close()
