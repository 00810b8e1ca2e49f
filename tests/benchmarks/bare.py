"""The same marks drawn the plain way: ReportLab's canvas calls, a new colour and every setting for every mark.

What a careful programmer writes first, and the measure for our own painter. Repeats are drawn again each time.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from io import BytesIO
from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from cardmaker.model.marks import Dot, Face, Group, Line, Mark, Page, Path, Rectangle, Stamp, Words
from cardmaker.pdf.fonts import face_path

MM = 72 / 25.4


def bare_reportlab(pages: Sequence[Page], title: str = "") -> bytes:
    """The PDF of ``pages`` by plain canvas calls."""
    out = BytesIO()
    canvas = Canvas(out, invariant=1, pdfVersion=(1, 7), initialFontName=_font(Face.SANS), pageCompression=1)
    canvas.setTitle(title)
    for page in pages:
        canvas.setPageSize((page.width_mm * MM, page.height_mm * MM))
        _draw(canvas, page.marks, page.height_mm)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def forget_fonts() -> None:
    """Let the next page load its fonts again, as a new process would."""
    for name in [name for name in pdfmetrics._fonts if name.startswith("bare ")]:
        pdfmetrics._fonts[name].unregister()


def _font(face: Face) -> str:
    name = f"bare {face}"
    if name not in pdfmetrics._fonts:
        pdfmetrics.registerFont(TTFont(name, str(face_path(face))))
    return name


def _draw(canvas: Any, marks: Iterable[Mark], height: float) -> None:
    for mark in marks:
        match mark:
            case Group():
                _draw(canvas, mark.marks, height)
            case Stamp():
                _stamp(canvas, mark, height)
            case Line():
                _stroke(canvas, mark.colour, mark.width, mark.dash, mark.round_ends)
                canvas.line(mark.x1 * MM, (height - mark.y1) * MM, mark.x2 * MM, (height - mark.y2) * MM)
            case Rectangle():
                _rectangle(canvas, mark, height)
            case Dot():
                fill, stroke = _look(canvas, mark.fill, mark.stroke, mark.width)
                canvas.circle(mark.x * MM, (height - mark.y) * MM, mark.radius * MM, fill=fill, stroke=stroke)
            case Path():
                _path(canvas, mark, height)
            case Words():
                _words(canvas, mark, height)


def _stamp(canvas: Any, mark: Stamp, height: float) -> None:
    canvas.saveState()
    clip = canvas.beginPath()
    box = mark.clip
    clip.rect(box.left * MM, (height - box.bottom) * MM, box.width * MM, box.height * MM)
    canvas.clipPath(clip, stroke=0)
    for copy in range(mark.count):
        canvas.saveState()
        canvas.translate(copy * mark.dx * MM, -copy * mark.dy * MM)
        _draw(canvas, mark.marks, height)
        canvas.restoreState()
    canvas.restoreState()


def _stroke(canvas: Any, colour: str, width: float, dash: tuple[float, ...], round_ends: bool) -> None:
    canvas.setStrokeColor(HexColor(colour))
    canvas.setLineWidth(width * MM)
    canvas.setDash([part * MM for part in dash])
    canvas.setLineCap(1 if round_ends else 0)
    canvas.setLineJoin(1 if round_ends else 0)


def _look(
    canvas: Any,
    fill: str | None,
    stroke: str | None,
    width: float,
    dash: tuple[float, ...] = (),
    round_ends: bool = False,
) -> tuple[int, int]:
    if fill:
        canvas.setFillColor(HexColor(fill))
    if stroke:
        _stroke(canvas, stroke, width, dash, round_ends)
    return int(fill is not None), int(stroke is not None)


def _rectangle(canvas: Any, mark: Rectangle, height: float) -> None:
    fill, stroke = _look(canvas, mark.fill, mark.stroke, mark.width, mark.dash)
    box = mark.box
    left, bottom = box.left * MM, (height - box.bottom) * MM
    if mark.radius:
        canvas.roundRect(left, bottom, box.width * MM, box.height * MM, mark.radius * MM, fill=fill, stroke=stroke)
    else:
        canvas.rect(left, bottom, box.width * MM, box.height * MM, fill=fill, stroke=stroke)


def _path(canvas: Any, mark: Path, height: float) -> None:
    fill, stroke = _look(canvas, mark.fill, mark.stroke, mark.width, mark.dash, mark.round_ends)
    path = canvas.beginPath()
    for step in mark.steps:
        places = [(value if at % 2 == 0 else height - value) * MM for at, value in enumerate(step[1:])]
        {"move": path.moveTo, "line": path.lineTo, "curve": path.curveTo, "close": path.close}[step[0]](*places)
    canvas.drawPath(path, fill=fill, stroke=stroke, fillMode=1)


def _words(canvas: Any, mark: Words, height: float) -> None:
    canvas.setFillColor(HexColor(mark.colour))
    canvas.setFont(_font(mark.face), mark.size)
    draw = {"left": canvas.drawString, "middle": canvas.drawCentredString, "right": canvas.drawRightString}[mark.align]
    if not mark.turned:
        draw(mark.x * MM, (height - mark.y) * MM, mark.text)
        return
    canvas.saveState()
    canvas.translate(mark.x * MM, (height - mark.y) * MM)
    canvas.rotate(mark.turned)
    draw(0, 0, mark.text)
    canvas.restoreState()
