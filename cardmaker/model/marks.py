"""Marks on a page: the waist of the program. Millimetres from the top left, sizes of type in points.

Everything before a page is pure and tested by arithmetic; the painter only obeys.
"""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING, Literal, NamedTuple, Protocol

from cardmaker.model.record_class import record

if TYPE_CHECKING:  # few pages have one
    from cardmaker.model.photograph import Photograph

Colour = str  # "#rrggbb"


class Face(StrEnum):
    """The faces that a card is set in."""

    SANS = "sans"
    SANS_SEMIBOLD = "sans semibold"
    SANS_BOLD = "sans bold"
    SERIF = "serif"
    SERIF_SEMIBOLD = "serif semibold"


class Ruler(Protocol):
    """Sizes of set type in millimetres, for a size in points. Hashable, so that what was measured can be kept."""

    def __hash__(self) -> int: ...

    def width_mm(self, text: str, face: Face, size_pt: float) -> float:
        """How far ``text`` runs on its baseline."""
        ...


class Box(NamedTuple):
    """A rectangle on the page."""

    left: float
    top: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.left + self.width

    @property
    def bottom(self) -> float:
        return self.top + self.height

    @property
    def middle(self) -> float:
        return self.left + self.width / 2

    def inset(self, left: float = 0, top: float = 0, right: float = 0, bottom: float = 0) -> Box:
        """The box with its sides moved inwards."""
        return Box(self.left + left, self.top + top, self.width - left - right, self.height - top - bottom)

    def holds(self, other: Box, slack: float = 1e-6) -> bool:
        """Whether ``other`` lies wholly inside."""
        return (
            self.left <= other.left + slack
            and self.top <= other.top + slack
            and other.right <= self.right + slack
            and other.bottom <= self.bottom + slack
        )


class Line(NamedTuple):
    """A straight stroke; ``dash`` alternates on and off in mm."""

    x1: float
    y1: float
    x2: float
    y2: float
    width: float
    colour: Colour = "#000000"
    dash: tuple[float, ...] = ()
    round_ends: bool = False


class Rectangle(NamedTuple):
    """A filled or outlined rectangle, its outline centred on the edge; ``radius`` rounds the corners."""

    box: Box
    fill: Colour | None = None
    stroke: Colour | None = None
    width: float = 0
    radius: float = 0
    dash: tuple[float, ...] = ()


class Dot(NamedTuple):
    """A filled or outlined circle."""

    x: float
    y: float
    radius: float
    fill: Colour | None = None
    stroke: Colour | None = None
    width: float = 0


Step = (
    tuple[Literal["move", "line"], float, float]
    | tuple[Literal["curve"], float, float, float, float, float, float]
    | tuple[Literal["close"]]
)


class Path(NamedTuple):
    """Any outline: steps ``("move", x, y)``, ``("line", x, y)``, ``("curve", x1, y1, x2, y2, x, y)``, ``("close",)``.

    One path may hold many separate figures; all are filled and stroked alike (non-zero winding rule).
    """

    steps: tuple[Step, ...]
    fill: Colour | None = None
    stroke: Colour | None = None
    width: float = 0
    dash: tuple[float, ...] = ()
    round_ends: bool = False


class Words(NamedTuple):
    """One line of text on its baseline; ``x`` is the left end, the middle or the right end as ``align`` says.

    ``turned`` is the angle in degrees, anticlockwise, about the point (0 or 90).
    """

    x: float
    y: float
    text: str
    face: Face
    size: float  # points
    colour: Colour = "#000000"
    align: Literal["left", "middle", "right"] = "left"
    turned: Literal[0, 90] = 0


@record
class Stamp:
    """The same marks again and again: ``count`` copies, each ``dx``, ``dy`` mm further on, cut off at ``clip``.

    The tape's face repeats every two picks; drawing one repeat and stamping it keeps a card small.
    """

    marks: tuple[Mark, ...]
    count: int
    dx: float
    dy: float
    clip: Box


@record
class PlacedPhotograph:
    """A photograph that fills a box of its own shape."""

    box: Box
    photograph: Photograph


Role = Literal[
    "title", "panel", "heading", "paragraph", "table", "row", "cell", "header cell", "figure", "span",
    "artefact", "running head", "running foot",
]  # fmt: skip


@record
class Group:
    """Marks that belong together: ``role`` says as what, ``alt`` says in words what a drawing shows.

    ``box`` is the room it was given; nothing in it may lie outside. Panels are groups with the role ``panel``. A
    ``span`` is a part of a link that is said otherwise than it is set. What is only seen is an ``artefact``, or a
    ``running head`` or ``running foot`` that stands on page after page.
    """

    role: Role
    name: str
    box: Box
    marks: tuple[Mark, ...]
    alt: str = ""


@record
class Again:
    """Marks that are on another page of the same document as well, stamped downwards from the top left of ``clip``.

    ``name`` is what the drawing of that page calls them; ``scale`` makes them smaller.
    """

    name: str
    copies: int
    step_mm: float
    clip: Box
    scale: float = 1.0


@record
class Link:
    """Marks that lead to another page of the same document when they are clicked: the one whose anchor is ``target``.

    ``alt`` says where it leads, for whoever cannot see the marks.
    """

    box: Box
    target: str
    marks: tuple[Mark, ...]
    alt: str = ""


@record
class FormField:
    """A field of a form: on a screen something is written or ticked in its box, on paper nothing is drawn for it.

    ``name`` is its own in the document; ``alt`` says what belongs in it. No more than ``most`` letters go into a line.
    """

    box: Box
    name: str
    alt: str
    kind: Literal["line", "tick"] = "line"
    most: int = 0
    align: Literal["left", "middle"] = "left"


Mark = Line | Rectangle | Dot | Path | Words | Stamp | Again | PlacedPhotograph | FormField | Group | Link


@record
class Bookmark:
    """A line of the document's outline; ``level`` 0 is the outermost, and no level is skipped on the way in."""

    title: str
    level: int = 0


@record
class Page:
    """One sheet and everything on it. ``anchor`` is the name that links lead to, ``label`` what viewers call it."""

    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]
    title: str = ""
    language: str = "en"
    anchor: str = ""
    label: str = ""
    bookmarks: tuple[Bookmark, ...] = ()
