"""How a card is cut: papers, margins, type sizes, and which panels stand where."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from cardmaker.model.problems import NOWHERE, Places
from cardmaker.model.record_class import record, replace, uncompared

if TYPE_CHECKING:
    from cardmaker.model.marks import Box

BindingSide = Literal["left", "right", "none"]
LETTER_WIDTH, LETTER_HEIGHT, A4_HEIGHT = 215.9, 279.4, 297.0
PRINTERS_REACH = 6.0  # mm: home printers print no nearer to an edge (common practice, no source)
MOST_HIGH_ON_LETTER = LETTER_HEIGHT - 2 * (PRINTERS_REACH + 0.5)  # strokes and tails stand a little over the margins


@record
class Paper:
    """One sheet, upright, in millimetres."""

    name: str
    width_mm: float
    height_mm: float

    def inside_margins(self, margin_mm: float, binding_mm: float, binding_side: BindingSide) -> Box:
        """What is left of the sheet where ``binding_mm`` is kept clear on the binding side and the margin elsewhere."""
        from cardmaker.model.marks import Box

        left, right = (binding_mm if binding_side == side else margin_mm for side in ("left", "right"))
        return Box(left, margin_mm, self.width_mm - left - right, self.height_mm - 2 * margin_mm)


@record
class TypeSizes:
    """Sizes in points. Nothing on the card is set smaller than ``smallest``."""

    title: float
    count: float  # the counts that the weaver works from
    heading: float
    body: float
    small: float
    smallest: float


@record
class PanelPlace:
    """One panel in a row: how many of the row's twelve columns it takes, and how soon it is left out.

    The highest ``priority`` number is left out first; an ``essential`` panel never is.
    """

    panel: str
    columns: int
    priority: int
    essential: bool = False
    instead: str = ""  # a simpler panel that stands in its place on a page too small for it


Rows = tuple[tuple[PanelPlace, ...], ...]


@record
class FactLists:
    """What belongs to a card: facts that stand on its front always, there where there is room, and on its back."""

    front: tuple[str, ...] = ()
    room: tuple[str, ...] = ()
    back: tuple[str, ...] = ()


@record
class CellSize:
    """What a tape takes of a sheet on which several stand, at least, in millimetres."""

    width_mm: float
    height_mm: float


@record
class CardLayout:
    """A card layout file, read and checked."""

    title: str
    stem: str
    papers: tuple[Paper, ...]
    margin_mm: float
    binding_mm: float
    binding_side: BindingSide
    units: Literal["metric", "us"]
    type_sizes: TypeSizes
    rows: Rows
    other_half: Rows = ()  # of a card to fold: what stands right of the fold
    back: Rows = ()  # of a card that is printed on both sides: what stands on the other one
    facts: FactLists = FactLists()
    ribbon: bool = True  # the tape at life size along the inner edge
    ribbon_on_back: bool = False  # the same on the back, of a card that has it not in front
    notch: bool = False  # a notch to cut out of the outer edge, as wide as the tape
    sample_mm: float = 0  # the height of the window for a woven sample, where the ribbon stops
    words: Literal["full", "brief"] = "full"  # brief: only what is needed at the loom
    drawn: Literal["wide", "closer", "close"] = (
        "wide"  # the form that is tried first; a roomier one where it leaves room
    )
    done: frozenset[Literal["wound", "threaded"]] = frozenset()  # beforehand, of a card that is one of several
    needs: Literal["nothing", "pick-up", "end", "no loom"] = "nothing"  # or there is no such card
    punch: Literal["none", "us three", "iso two", "iso four", "corner"] = "none"
    kind: Literal["record", "sheet"] = "sheet"  # kept by whoever has the pattern file, or given away
    cells: CellSize | None = None  # of a sheet: its rows are those of one tape's cell
    about: str = ""
    places: Places = uncompared(default=NOWHERE)

    @property
    def panels(self) -> frozenset[str]:
        """The names of all panels that may stand on the card."""
        places = [place for row in (*self.rows, *self.other_half) for place in row]
        return frozenset([place.panel for place in places] + [place.instead for place in places if place.instead])

    def as_back(self, paper: Paper) -> CardLayout:
        """The layout of the back: the sheet turned over its long edge, so on an upright one what was left is right.

        Its ``panels`` are those of both sides: what stands in front decides how a thing is told behind it.
        """
        other: dict[BindingSide, BindingSide] = {"left": "right", "right": "left", "none": "none"}
        is_upright = paper.height_mm >= paper.width_mm
        return replace(
            self,
            rows=(*self.rows, *self.other_half, *self.back),
            other_half=(),
            back=(),
            binding_side=other[self.binding_side] if is_upright else self.binding_side,
            ribbon=self.ribbon_on_back,
            notch=False,
            sample_mm=0,
        )

    def printable(self, paper: Paper) -> Box:
        """What margins and binding side leave of a paper; of A4 as much as comes whole out of a sheet of Letter too."""
        box = paper.inside_margins(self.margin_mm, self.binding_mm, self.binding_side)
        spare = box.height - MOST_HIGH_ON_LETTER
        if paper.width_mm > LETTER_WIDTH or not LETTER_HEIGHT < paper.height_mm <= A4_HEIGHT or spare <= 0:
            return box
        return box.inset(top=spare / 2, bottom=spare / 2)
