"""The painter's hand: marks become the operators of one PDF content stream. It knows no PDF library.

Operators, their operands and what they leave set are those of ISO 32000-1:2008, tables 51 to 74 and 107 to 109.
Here alone millimetres from the top left become points from the bottom left.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from math import isfinite
from re import compile as pattern
from typing import Final, Protocol

from cardmaker.model.marks import Again, Box, Colour, Dot, Face, Group, Line, Link, Mark, Path, Rectangle, Stamp, Words
from cardmaker.pdf.codes import FONT_NAMES, usual
from cardmaker.pdf.fonts import text_width
from cardmaker.pdf.placeholders import text_placeholder
from cardmaker.pdf.tree import ARTEFACTS, CELLS, HOLDERS, LINK, TAGS, Element

POINTS_PER_MM: Final = 72 / 25.4
ARC: Final = 0.5522847498  # 4/3 (√2 - 1): how far a quarter circle's handles reach; from memory
_COLOUR: Final = pattern(r"#[0-9a-fA-F]{6}")
_MOST_NUMBERS: Final = 8_000  # then a cache starts anew, so that a long binder stays small

_StrokeStyle = tuple[Colour, float, tuple[float, ...], bool]  # colour, width, dash, round ends
_UNKNOWN: Final = (None, None, None, None)  # a form begins with whatever was set where it is placed


class PageResources(Protocol):
    """What the pen must ask for: which characters can be set, repeats that are drawn once, and links."""

    def checked(self, text: str, face: Face) -> str:
        """The text as it is set; what its face lacks is noted."""
        ...

    def repeat(self, marks: tuple[Mark, ...], left: float, top: float) -> str:
        """The name of a form that draws ``marks`` with (``left``, ``top``) as its origin."""
        ...

    def again(self, name: str) -> str:
        """The name of a form that another page has drawn."""
        ...

    def link(self, corners: tuple[float, float, float, float], target: str, told: str) -> int:
        """The number of a link at a place in points."""
        ...


def compact(points: float) -> str:
    """A number with up to three decimals, never with an exponent: a third of a micrometre is the grain of the page."""
    if not isfinite(points):
        raise ValueError(f"{points} is no place on a page")
    text = f"{points:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


class Numbers(dict[float, str]):
    """Millimetres as they are written in points: ``start`` plus so many ``per_mm``, each worked out once.

    Equal numbers are written alike whatever came before, so the cache cannot change a page.
    """

    __slots__ = ("per_mm", "start")

    def __init__(self, start: float = 0, per_mm: float = POINTS_PER_MM) -> None:
        self.start, self.per_mm = start, per_mm

    def __missing__(self, mm: float) -> str:
        if len(self) >= _MOST_NUMBERS:
            self.clear()
        text = self[mm] = compact(self.start + self.per_mm * mm)
        return text


def colour_operands(colour: Colour, grey: str, coloured: str) -> str:
    """The operator that sets ``#rrggbb``: ``grey`` with one operand or ``coloured`` with three.

    Greys are written as greys, so that a printer sets black type with black toner alone.
    """
    if not _COLOUR.fullmatch(colour):
        raise ValueError(f"'{colour}' is not a colour: write #rrggbb")
    red, green, blue = (compact(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return f"{red} {grey}" if red == green == blue else f"{red} {green} {blue} {coloured}"


class Colours(dict[Colour, str]):
    """Colours as the operator that sets them, each parsed once."""

    def __init__(self, grey: str, coloured: str) -> None:
        self.grey, self.coloured = grey, coloured

    def __missing__(self, colour: Colour) -> str:
        text = self[colour] = colour_operands(colour, self.grey, self.coloured)
        return text


_FILLS: Final = Colours("g", "rg")
_STROKES: Final = Colours("G", "RG")
_LENGTHS: Final = Numbers()


class Pen:
    """Draws on one page or one form; what is set stays set, and what is set already is not set again.

    ``x`` and ``y`` say where a place lies. Strokes that look alike and follow each other share one painting operator,
    words share one text object; ``pending`` is the operator that ends it (``S``, ``ET``), written by :meth:`flush`.
    With ``tagged`` every mark is either part of an element of ``tree`` or marked as decoration.
    """

    def __init__(self, x: Numbers, y: Numbers, shop: PageResources, *, tagged: bool = False, marked: int = 0) -> None:
        self.x, self.y, self.shop = x, y, shop
        self.code: list[str] = []
        self.pending = ""
        self.fill: Colour | None = None
        self.stroke: _StrokeStyle | tuple[None, None, None, None] = _UNKNOWN
        self.font: tuple[Face, float] | None = None
        self.tree: list[int | Element] = []  # of the element that is drawn just now, its kids
        self.tagging = tagged
        self.marked = marked  # stretches of marked content so far
        self._draw: dict[type, Callable[..., None]] = {
            Line: self.line, Rectangle: self.rectangle, Dot: self.dot, Path: self.path,
            Words: self.words, Stamp: self.stamp, Again: self.again, Group: self.group, Link: self.link,
        }  # fmt: skip

    def draw(self, marks: Iterable[Mark]) -> None:
        """All of ``marks``, each over the ones before."""
        if self.tagging:
            self._stretches(marks, "")
            return
        draw = self._draw
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
            self.code.append(_FILLS[colour])
            self.fill = colour

    def _set_stroke(self, style: _StrokeStyle) -> None:
        """Colour, width, dash and round ends of what is stroked next; corners are round when ends are."""
        if style == self.stroke:
            return
        self.flush()
        now, self.stroke, append = self.stroke, style, self.code.append
        colour, width, dash, rounded = style
        if colour != now[0]:
            append(_STROKES[colour])
        if width != now[1]:
            append(f"{_LENGTHS[width]} w")
        if dash != now[2]:
            append(f"[{' '.join([_LENGTHS[part] for part in dash])}] 0 d")
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
        outline = self._rounded(box, min(mark.radius, width / 2, height / 2)) if mark.radius else self._box(box)
        self._paint(outline, fill, None if stroke is None else (stroke, mark.width, mark.dash, False))

    def dot(self, mark: Dot) -> None:
        if mark.fill is None and mark.stroke is None:
            return
        radius = mark.radius
        if radius < 0:
            raise ValueError(f"a dot of radius {radius} mm cannot be drawn")
        outline = self._rounded(Box(mark.x - radius, mark.y - radius, 2 * radius, 2 * radius), radius)
        self._paint(outline, mark.fill, None if mark.stroke is None else (mark.stroke, mark.width, (), False))

    def path(self, mark: Path) -> None:
        if not mark.steps or (mark.fill is None and mark.stroke is None):
            return
        if mark.steps[0][0] != "move":
            raise ValueError("a path begins with a move")
        x, y, parts = self.x, self.y, []
        for step in mark.steps:
            match step:
                case ("line", to_x, to_y):
                    parts.append(f"{x[to_x]} {y[to_y]} l")
                case ("move", to_x, to_y):
                    parts.append(f"{x[to_x]} {y[to_y]} m")
                case ("curve", x1, y1, x2, y2, to_x, to_y):
                    parts.append(f"{x[x1]} {y[y1]} {x[x2]} {y[y2]} {x[to_x]} {y[to_y]} c")
                case ("close",):
                    parts.append("h")
                case _:
                    raise ValueError(f"{step} is no step of a path")
        style = None if mark.stroke is None else (mark.stroke, mark.width, mark.dash, mark.round_ends)
        self._paint(" ".join(parts), mark.fill, style)

    def words(self, mark: Words) -> None:
        if not mark.text:
            return
        self._set_fill(mark.colour)
        code = self.code
        if self.pending != "ET":
            self.flush()
            code.append("BT")
            self.pending = "ET"
        font, size = (mark.face, mark.size), compact(mark.size)
        if font != self.font:
            code.append(f"/{FONT_NAMES[mark.face]}+0 {size} Tf")
            self.font = font
        x, y = mark.x, mark.y
        back = _SHARE_LEFT_OF[mark.align] and _SHARE_LEFT_OF[mark.align] * _width_mm(mark)
        if mark.turned:
            place = f"0 1 -1 0 {self.x[x]} {self.y[y + back]} Tm"
        else:
            place = f"1 0 0 1 {self.x[x - back]} {self.y[y]} Tm"
        text = self.shop.checked(mark.text, mark.face)
        codes = usual(text)
        code.append(f"{place} <{codes}> Tj" if codes else f"{place} {text_placeholder(mark.face, size, text)}")

    def stamp(self, mark: Stamp) -> None:
        """One repeat is drawn once, as a form, and placed at every step; a single one is drawn where it stands."""
        if mark.count < 1 or not mark.marks:
            return
        self.flush()
        self.code.append(f"q {self._box(mark.clip)} W n")
        if mark.count == 1:
            kept = self.fill, self.stroke, self.font, self.tagging
            self.tagging = False
            self.draw(mark.marks)
            self.flush()
            self.fill, self.stroke, self.font, self.tagging = kept
        else:
            self._place(mark, mark.clip.left, mark.clip.top)
        self.code.append("Q")

    def _place(self, mark: Stamp, left: float, top: float) -> None:
        name = self.shop.repeat(mark.marks, left, top)
        across, down = self.x.start + POINTS_PER_MM * left, self.y.start - POINTS_PER_MM * top
        for copy in range(mark.count):
            x, y = across + POINTS_PER_MM * copy * mark.dx, down - POINTS_PER_MM * copy * mark.dy
            self.code.append(f"q 1 0 0 1 {compact(x)} {compact(y)} cm {name} Do Q")

    def again(self, mark: Again) -> None:
        """A form of another page, placed as a stamp is."""
        if mark.copies < 1:
            return
        self.flush()
        name, clip, scale = self.shop.again(mark.name), mark.clip, compact(mark.scale)
        self.code.append(f"q {self._box(clip)} W n")
        across, down = self.x.start + POINTS_PER_MM * clip.left, self.y.start - POINTS_PER_MM * clip.top
        for copy in range(mark.copies):
            y = down - POINTS_PER_MM * copy * mark.step_mm
            self.code.append(f"q {scale} 0 0 {scale} {compact(across)} {compact(y)} cm {name} Do Q")
        self.code.append("Q")

    def group(self, mark: Group) -> None:
        """A group's marks stand by themselves in the stream; where marks are tagged, as an element of their own."""
        self.flush()
        if not self.tagging:
            self.draw(mark.marks)
            self.flush()
        elif mark.role in ARTEFACTS:
            self.code.append(ARTEFACTS[mark.role])
            self._within(mark)
            self._end_stretch()
        else:
            tag = TAGS[mark.role]
            corners = self._corners(mark.box) if mark.role == "figure" else None
            self._element(Element(tag, mark.alt, corners, []), mark.marks, "" if mark.role in HOLDERS else tag)

    def link(self, mark: Link) -> None:
        """Marks that lead elsewhere; in a form, which cannot, they are drawn and no more."""
        self.flush()
        if not self.tagging:
            self.draw(mark.marks)
            return
        number = self.shop.link(self._corners(mark.box), mark.target, mark.alt)
        self._element(Element(LINK, mark.alt, None, [], number), mark.marks, LINK)

    # Tags

    def _element(self, element: Element, marks: Iterable[Mark], tag: str) -> None:
        """Draws the marks as the element's; one that comes out empty is none, unless it is a cell or a link.

        What is said for a link stands for it only when nothing in it can be read.
        """
        around, self.tree = self.tree, element.kids
        self._stretches(marks, tag)
        self.tree = around
        if element.link >= 0 and element.kids:
            element = element._replace(alt="")
        if element.kids or element.link >= 0 or tag in CELLS:
            around.append(element)

    def _stretches(self, marks: Iterable[Mark], tag: str) -> None:
        """Marks between groups and links, as stretches of content marked with ``tag``; without one, as decoration.

        A group within marked content belongs to it: a drawing's parts are not elements of their own. But what is never
        told stays untold, and a link may hold a drawing, or a part that is said otherwise.
        """
        draw, marking = self._draw, False
        for mark in marks:
            kind = type(mark)
            apart = kind is Link or (kind is Group and (not tag or _stands_apart(mark, tag)))  # type: ignore[arg-type]
            if apart:
                if marking:
                    self._end_stretch()
                marking = False
            elif not marking:
                self._begin_stretch(tag)
                marking = True
            if kind is Group and not apart:
                self._within(mark)  # type: ignore[arg-type]
            else:
                draw[kind](mark)
        if marking:
            self._end_stretch()

    def _within(self, group: Group) -> None:
        self.flush()
        self.tagging = False
        self.draw(group.marks)
        self.tagging = True
        self.flush()

    def _begin_stretch(self, tag: str) -> None:
        self.flush()
        if not tag:
            self.code.append("/Artifact BMC")
            return
        self.code.append(f"/{tag} <</MCID {self.marked}>> BDC")
        self.tree.append(self.marked)
        self.marked += 1

    def _end_stretch(self) -> None:
        self.flush()
        self.code.append("EMC")

    def _corners(self, box: Box) -> tuple[float, float, float, float]:
        """Left, bottom, right and top in points, to the hundredth."""
        left, right = (round(self.x.start + self.x.per_mm * mm, 2) for mm in (box.left, box.right))
        bottom, top = (round(self.y.start + self.y.per_mm * mm, 2) for mm in (box.bottom, box.top))
        return left, bottom, right, top

    # Outlines

    def _box(self, box: Box) -> str:
        return f"{self.x[box.left]} {self.y[box.bottom]} {_LENGTHS[box.width]} {_LENGTHS[box.height]} re"

    def _rounded(self, box: Box, radius: float) -> str:
        """A box with quarter circles at its corners; a dot is all corners."""
        x, y, reach = self.x, self.y, radius * (1 - ARC)
        left, l_handle, l_end = x[box.left], x[box.left + reach], x[box.left + radius]
        right, r_handle, r_end = x[box.right], x[box.right - reach], x[box.right - radius]
        top, t_handle, t_end = y[box.top], y[box.top + reach], y[box.top + radius]
        bottom, b_handle, b_end = y[box.bottom], y[box.bottom - reach], y[box.bottom - radius]
        level = "" if l_end == r_end else f"{r_end} {bottom} l "
        upright = "" if t_end == b_end else f"{right} {t_end} l "
        level_back = level and f"{l_end} {top} l "
        upright_back = upright and f"{left} {b_end} l "
        return (
            f"{l_end} {bottom} m {level}{r_handle} {bottom} {right} {b_handle} {right} {b_end} c "
            f"{upright}{right} {t_handle} {r_handle} {top} {r_end} {top} c "
            f"{level_back}{l_handle} {top} {left} {t_handle} {left} {t_end} c "
            f"{upright_back}{left} {b_handle} {l_handle} {bottom} {l_end} {bottom} c h"
        )


def _stands_apart(group: Group, tag: str) -> bool:
    return group.role in ARTEFACTS or (tag == LINK and group.role in ("figure", "span"))


_SHARE_LEFT_OF: Final = {"left": 0.0, "middle": 0.5, "right": 1.0}


def _width_mm(mark: Words) -> float:
    return text_width(mark.text, mark.face) * mark.size / (1000 * POINTS_PER_MM)
