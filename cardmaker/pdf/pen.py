"""The painter's hand: marks become the operators of one PDF content stream. It knows no PDF library.

Operators and what they leave set are those of ISO 32000-1:2008, tables 51 to 74 and 107 to 109.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final

from cardmaker.model.marks import (
    Again,
    Box,
    Colour,
    Dot,
    Face,
    Group,
    Line,
    Link,
    Mark,
    Path,
    PlacedPhotograph,
    Rectangle,
    Stamp,
    Words,
)
from cardmaker.pdf.character_codes import FONT_NAMES, text_placeholder, usual
from cardmaker.pdf.fonts import text_width
from cardmaker.pdf.operands import (
    FILLS,
    LENGTHS,
    POINTS_PER_MM,
    STROKES,
    Numbers,
    box_outline,
    compact,
    path_outline,
    rounded_outline,
)
from cardmaker.pdf.page_resources import PageResources

_StrokeStyle = tuple[Colour, float, tuple[float, ...], bool]  # colour, width, dash, round ends
_UNKNOWN: Final = (None, None, None, None)  # a form begins with whatever was set where it is placed
_SIZES: Final = Numbers(per_mm=1)  # of type, which are in points already
_SHARE_LEFT_OF: Final = {"left": 0.0, "middle": 0.5, "right": 1.0}  # how much of a text stands left of its place


class Pen:
    """Draws on one page or one form; what is set stays set, and what is set already is not set again.

    ``x`` and ``y`` say where a place lies. Strokes that look alike and follow each other share one painting operator,
    words share one text object; ``pending`` is the operator that ends it (``S``, ``ET``), written by :meth:`flush`.
    """

    def __init__(self, x: Numbers, y: Numbers, resources: PageResources) -> None:
        self.x, self.y, self.resources = x, y, resources
        self.code: list[str] = []
        self.pending = ""
        self.fill: Colour | None = None
        self.stroke: _StrokeStyle | tuple[None, None, None, None] = _UNKNOWN
        self.font: tuple[Face, float] | None = None
        self.draw_one: Final[dict[type, Callable[..., None]]] = {
            Line: self.line, Rectangle: self.rectangle, Dot: self.dot, Path: self.path,
            Words: self.words, Stamp: self.stamp, Again: self.again, PlacedPhotograph: self.photograph,
            Group: self.group, Link: self.group,
        }  # fmt: skip

    def draw(self, marks: Iterable[Mark]) -> None:
        """All of ``marks``, each over the ones before."""
        draw = self.draw_one
        for mark in marks:
            draw[type(mark)](mark)

    def finished(self) -> str:
        """The whole stream."""
        self.flush()
        return "\n".join(self.code)

    def flush(self) -> None:
        """Paint what was outlined, or end the text: after it anything may be written."""
        if self.pending:
            self.code.append(self.pending)
            self.pending = ""

    # Looks

    def _set_fill(self, colour: Colour) -> None:
        if colour != self.fill:
            if self.pending != "ET":
                self.flush()
            self.code.append(FILLS[colour])
            self.fill = colour

    def _set_stroke(self, style: _StrokeStyle) -> None:
        """Colour, width, dash and round ends of what is stroked next; corners are round when ends are."""
        if style == self.stroke:
            return
        self.flush()
        now, self.stroke, append = self.stroke, style, self.code.append
        colour, width, dash, rounded = style
        if colour != now[0]:
            append(STROKES[colour])
        if width != now[1]:
            append(f"{LENGTHS[width]} w")
        if dash != now[2]:
            append(f"[{' '.join([LENGTHS[part] for part in dash])}] 0 d")
        if rounded != now[3]:
            append("1 J 1 j" if rounded else "0 J 0 j")
        if not width > 0 or (dash and not (min(dash) >= 0 and sum(dash) > 0)):
            raise ValueError(f"a stroke of {width} mm dashed {dash} cannot be drawn: widths and dashes are above 0")

    def _paint(self, outline: str, fill: Colour | None, stroke: _StrokeStyle | None) -> None:
        """Fill, stroke or both. Only outlines stroked alike share an operator.

        Fills do not: what overlaps would have to run the same way round, and viewers draw a lone rectangle with
        crisper edges than many in one path.
        """
        if fill is not None:
            self._set_fill(fill)
        if stroke is not None:
            self._set_stroke(stroke)
        if self.pending != "S" or fill is not None:
            self.flush()
        if fill is None:
            self.code.append(outline)
            self.pending = "S"
        else:
            self.code.append(f"{outline} f" if stroke is None else f"{outline} B")

    # Marks

    def line(self, mark: Line) -> None:
        style = (mark.colour, mark.width, mark.dash, mark.round_ends)
        if style != self.stroke:
            self._set_stroke(style)
        if self.pending != "S":
            self.flush()
            self.pending = "S"
        x, y = self.x, self.y
        self.code.append(f"{x[mark.x1]} {y[mark.y1]} m {x[mark.x2]} {y[mark.y2]} l")

    def rectangle(self, mark: Rectangle) -> None:
        fill, stroke, box = mark.fill, mark.stroke, mark.box
        if fill is None and stroke is None:
            return
        width, height = box.width, box.height
        if width < 0 or height < 0:
            raise ValueError(f"a rectangle of {width} by {height} mm cannot be drawn")
        if mark.radius:
            outline = rounded_outline(box, min(mark.radius, width / 2, height / 2), self.x, self.y)
        else:
            outline = box_outline(box, self.x, self.y)
        self._paint(outline, fill, None if stroke is None else (stroke, mark.width, mark.dash, False))

    def dot(self, mark: Dot) -> None:
        if mark.fill is None and mark.stroke is None:
            return
        radius = mark.radius
        if radius < 0:
            raise ValueError(f"a dot of radius {radius} mm cannot be drawn")
        outline = rounded_outline(Box(mark.x - radius, mark.y - radius, 2 * radius, 2 * radius), radius, self.x, self.y)
        self._paint(outline, mark.fill, None if mark.stroke is None else (mark.stroke, mark.width, (), False))

    def path(self, mark: Path) -> None:
        if not mark.steps or (mark.fill is None and mark.stroke is None):
            return
        if mark.steps[0][0] != "move":
            raise ValueError("a path begins with a move")
        style = None if mark.stroke is None else (mark.stroke, mark.width, mark.dash, mark.round_ends)
        self._paint(path_outline(mark.steps, self.x, self.y), mark.fill, style)

    def words(self, mark: Words) -> None:
        if not mark.text:
            return
        self._set_fill(mark.colour)
        code = self.code
        if self.pending != "ET":
            self.flush()
            code.append("BT")
            self.pending = "ET"
        font, size = (mark.face, mark.size), _SIZES[mark.size]
        if font != self.font:
            code.append(f"/{FONT_NAMES[mark.face]}+0 {size} Tf")
            self.font = font
        x, y = mark.x, mark.y
        back = _SHARE_LEFT_OF[mark.align] and _SHARE_LEFT_OF[mark.align] * _width_mm(mark)
        if mark.turned:
            place = f"0 1 -1 0 {self.x[x]} {self.y[y + back]} Tm"
        else:
            place = f"1 0 0 1 {self.x[x - back]} {self.y[y]} Tm"
        text = self.resources.checked(mark.text, mark.face)
        codes = usual(text)
        code.append(f"{place} <{codes}> Tj" if codes else f"{place} {text_placeholder(mark.face, size, text)}")

    def stamp(self, mark: Stamp) -> None:
        """One repeat is drawn once, as a form, and placed at every step; a single one is drawn where it stands."""
        if mark.count < 1 or not mark.marks:
            return
        clip = mark.clip
        if mark.count > 1:
            self._place(self.repeat(mark.marks, clip.left, clip.top), clip, mark.count, mark.dx, mark.dy)
            return
        kept = self.fill, self.stroke, self.font
        self._begin_clip(clip)
        self.group(mark)
        self.code.append("Q")
        self.fill, self.stroke, self.font = kept

    def again(self, mark: Again) -> None:
        """A form of another page, placed as a stamp is."""
        if mark.copies > 0:
            self._place(self.resources.again(mark.name), mark.clip, mark.copies, 0, mark.step_mm, compact(mark.scale))

    def group(self, mark: Group | Link | Stamp) -> None:
        """Its marks stand by themselves in the stream. A link in a form, which cannot lead anywhere, is no more."""
        self.flush()
        self.draw(mark.marks)
        self.flush()

    def photograph(self, mark: PlacedPhotograph) -> None:
        """The photograph fills its box, turned as it is seen: a picture is a square of one by one, from its lower left
        corner (ISO 32000-1:2008, 8.9.5.1)."""
        self.flush()
        left, bottom = self.x.points(mark.box.left), self.y.points(mark.box.bottom)
        right, top = self.x.points(mark.box.right), self.y.points(mark.box.top)
        wide, high = right - left, top - bottom
        ways = {
            0: (wide, 0.0, 0.0, high, left, bottom),
            90: (0.0, -high, wide, 0.0, left, top),
            180: (-wide, 0.0, 0.0, -high, right, top),
            270: (0.0, high, -wide, 0.0, right, bottom),
        }
        way = " ".join(compact(number) for number in ways[mark.photograph.turned])
        self.code.append(f"q {way} cm {self.resources.photograph(mark.photograph)} Do Q")

    # Repeats

    def repeat(self, marks: tuple[Mark, ...], left: float, top: float) -> str:
        """The name of a form that draws ``marks`` with (``left``, ``top``) as its origin."""
        self.resources.begin_form()
        pen = Pen(Numbers(-left * POINTS_PER_MM), Numbers(top * POINTS_PER_MM, -POINTS_PER_MM), self.resources)
        pen.draw(marks)
        return self.resources.end_form(pen.finished())

    def _place(self, form: str, clip: Box, copies: int, dx: float, dy: float, scale: str = "1") -> None:
        """A form from the clip's top left on, so many times, each a step further and without drift."""
        self._begin_clip(clip)
        left, top = self.x.points(clip.left), self.y.points(clip.top)
        for copy in range(copies):
            x, y = left + POINTS_PER_MM * copy * dx, top - POINTS_PER_MM * copy * dy
            self.code.append(f"q {scale} 0 0 {scale} {compact(x)} {compact(y)} cm {form} Do Q")
        self.code.append("Q")

    def _begin_clip(self, clip: Box) -> None:
        self.flush()
        self.code.append(f"q {box_outline(clip, self.x, self.y)} W n")


def _width_mm(mark: Words) -> float:
    return text_width(mark.text, mark.face) * mark.size / (1000 * POINTS_PER_MM)
