"""The card by WeasyPrint: one drawing in SVG that fills the page, its words among it; fonts and style sheet are kept.

Words as paragraphs of HTML take a little longer. It takes letters out of fonts by harfbuzz-subset where the system has
that library, and more slowly by fontTools where not.
"""

from __future__ import annotations

from functools import cache
from html import escape
from typing import Any

from cardmaker.model.marks import Dot, Face, Line, Mark, Page, Path, Rectangle, Stamp, Words
from cardmaker.pdf.fonts import face_path
from tests.benchmarks.peers.marks import drawn

MM = 25.4 / 72  # of a point


@cache
def kept() -> tuple[Any, Any]:
    """The fonts and the style sheet, read once."""
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration

    fonts = FontConfiguration()
    faces = "".join(
        f"@font-face {{ font-family: {_name(face)}; src: url({face_path(face).as_uri()}) }}" for face in Face
    )
    style = "@page { size: 215.9mm 279.4mm; margin: 0 } svg { display: block }"
    return fonts, CSS(string=faces + style, font_config=fonts)


def prepared(page: Page) -> str:
    """The card as a page of HTML."""
    width, height = page.width_mm, page.height_mm
    shapes = "".join(_told(mark, number) for number, mark in enumerate(drawn(page)))
    size = f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}"'
    return f'<html><body style="margin: 0"><svg xmlns="http://www.w3.org/2000/svg" {size}>{shapes}</svg></body></html>'


def made(source: str, *, whole_fonts: bool = False) -> bytes:
    """One PDF, with the letters that it needs or with whole fonts, which is quicker and makes a larger file."""
    from weasyprint import HTML

    fonts, style = kept()
    pdf: bytes = HTML(string=source).write_pdf(stylesheets=[style], font_config=fonts, full_fonts=whole_fonts)
    return pdf


def _name(face: Face) -> str:
    return f"card-{face}".replace(" ", "-")


def _told(mark: Mark, number: int = 0) -> str:
    match mark:
        case Words():
            turned = f' transform="rotate(-90 {mark.x:.4f} {mark.y:.4f})"' if mark.turned else ""
            look = f'font-family="{_name(mark.face)}" font-size="{mark.size * MM:.4f}" fill="{mark.colour}"'
            return f'<text x="{mark.x:.4f}" y="{mark.y:.4f}" {look}{turned}>{escape(mark.text)}</text>'
        case Line():
            look = _look(None, mark.colour, mark.width, mark.dash, mark.round_ends)
            return f'<line x1="{mark.x1:.4f}" y1="{mark.y1:.4f}" x2="{mark.x2:.4f}" y2="{mark.y2:.4f}" {look}/>'
        case Rectangle():
            box = mark.box
            look = _look(mark.fill, mark.stroke, mark.width, mark.dash)
            place = f'x="{box.left:.4f}" y="{box.top:.4f}" width="{box.width:.4f}" height="{box.height:.4f}"'
            return f'<rect {place} rx="{mark.radius}" {look}/>'
        case Dot():
            look = _look(mark.fill, mark.stroke, mark.width)
            return f'<circle cx="{mark.x:.4f}" cy="{mark.y:.4f}" r="{mark.radius}" {look}/>'
        case Path():
            letters = {"move": "M", "line": "L", "curve": "C", "close": "Z"}
            steps = "".join(letters[step[0]] + " ".join(f"{value:.4f}" for value in step[1:]) for step in mark.steps)
            return f'<path d="{steps}" {_look(mark.fill, mark.stroke, mark.width, mark.dash, mark.round_ends)}/>'
        case Stamp():
            return _stamp(mark, number)
        case _:
            raise TypeError(f"a card has no {type(mark).__name__}")


def _stamp(mark: Stamp, number: int) -> str:
    """One repeat, used again and again within what cuts it off."""
    clip = mark.clip
    corner = f'x="{clip.left}" y="{clip.top}" width="{clip.width}" height="{clip.height}"'
    inside = "".join(map(_told, mark.marks))
    used = "".join(f'<use href="#r{number}" x="{n * mark.dx:.4f}" y="{n * mark.dy:.4f}"/>' for n in range(mark.count))
    return (
        f'<defs><clipPath id="c{number}"><rect {corner}/></clipPath><g id="r{number}">{inside}</g></defs>'
        f'<g clip-path="url(#c{number})">{used}</g>'
    )


def _look(
    fill: str | None, stroke: str | None, width: float, dash: tuple[float, ...] = (), round_ends: bool = False
) -> str:
    told = f'fill="{fill or "none"}"'
    if stroke:
        told += f' stroke="{stroke}" stroke-width="{width}"'
        told += f' stroke-dasharray="{" ".join(map(str, dash))}"' if dash else ""
        told += ' stroke-linecap="round" stroke-linejoin="round"' if round_ends else ""
    return told
