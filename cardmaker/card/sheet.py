"""What every panel draws with: the plan, the layout's sizes, the ruler, the inks."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from math import floor
from typing import TYPE_CHECKING, Final, TypeVar

from cardmaker.layout.ink import Ink
from cardmaker.layout.stacking import Part
from cardmaker.layout.transforms import mirrored
from cardmaker.layout.type_setting import SetLine, Span, set_lines, wrapped
from cardmaker.model.card_layout import CardLayout, Paper, TypeSizes
from cardmaker.model.marks import Box, Face, Mark, Ruler, Words
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import record, replace
from cardmaker.reckoning.stripes.segments import Segment
from cardmaker.wording.formatters import Units

if TYPE_CHECKING:
    from cardmaker.wording.change_words import Replaced

_Part = TypeVar("_Part")

CROWDED: Final = 0.6  # of the least heights of pictures


@record
class CardOwner:
    """Whose card it is, as it is printed on it; without a name there is a line to write one on. ``aside`` stands at the
    end of that line: which kit, which hand."""

    name: str = ""
    aside: str = ""


NO_OWNER: Final = CardOwner()


@record
class Choosers:
    """Who may tick a tape, who has chosen it already, and what is told of the time in the stead of all its steps'."""

    names: tuple[str, ...] = ()
    decided: tuple[str, ...] = ()
    time: str = ""


NO_CHOOSERS: Final = Choosers()


@record
class Sheet:
    """One card in the making. ``face_plan`` is the plan as the tape lies before the seat: it never changes sides."""

    plan: Plan
    layout: CardLayout
    paper: Paper
    ruler: Ruler
    units: Units
    inks: Mapping[str, Ink]
    segments: tuple[Segment, ...]
    sizes: TypeSizes
    face_plan: Plan
    replaces: Replaced | None = None  # the version that this card takes the place of
    owner: CardOwner = NO_OWNER
    said: tuple[str, ...] = ()  # what whoever asks for the card says of this tape
    choosers: Choosers = NO_CHOOSERS
    is_back: bool = False  # what stands here stands behind a front
    picture_share: float = 1.0  # what is left of the least heights of pictures on a crowded card
    is_terse: bool = False  # whether even so crowded a card lacks what it should tell, so that it does in fewer words
    is_tersest: bool = False  # whether these are still too many: what a picture tells as well it then tells alone
    over_words: float = 1.0  # what is left of the space over them

    @property
    def is_crowded(self) -> bool:
        """Whether so little is left of the heights of pictures that panels take their closest form."""
        return self.picture_share < CROWDED

    @property
    def is_closest(self) -> bool:
        """Whether a crowded small card has two heddles to tell of: there what stands in frames and cells closes up, so
        that its steps stand apart."""
        return self.is_crowded and self.brief and self.plan.placement.back is not None

    @property
    def is_wound(self) -> bool:
        """Whether somebody has wound the warp beforehand, so that nothing on the card may ask for it."""
        return bool({"wound", "dressing-wound", "dressing-threaded"} & self.layout.panels or self.layout.done)

    @property
    def is_threaded(self) -> bool:
        """Whether the loom comes threaded, with its warp on the beam."""
        return bool({"threaded", "dressing-threaded"} & self.layout.panels) or "threaded" in self.layout.done

    @property
    def brief(self) -> bool:
        """Whether the layout wants only the words that are needed at the loom."""
        return self.layout.words == "brief"

    def as_mirrored(self, marks: Iterable[Mark], box: Box) -> tuple[Mark, ...]:
        """The picture, mirrored in its box for a left hand."""
        return mirrored(marks, box) if self.plan.view.left_hand else tuple(marks)

    def ink_to_mirror(self, yarn: str) -> Ink:
        """The yarn's ink for a picture that :meth:`as_mirrored` turns: its slopes end up as the legend has them."""
        ink = self.inks[yarn]
        return replace(ink, slopes=tuple(-slope for slope in ink.slopes)) if self.plan.view.left_hand else ink

    def wide(self, text: str, face: Face, size: float) -> float:
        """The width of one line of text, in mm."""
        return self.ruler.width_mm(text, face, size)

    def lines(self, spans: Iterable[Span], size: float, width: float, indent: float = 0.0) -> list[SetLine]:
        """The spans wrapped to ``width`` mm, the first line shorter by ``indent``."""
        return wrapped(spans, size, width, self.ruler, indent)

    def set(self, lines: Iterable[SetLine], x: float, first_baseline: float, size: float) -> list[Words]:
        """The lines ranged left at ``x``."""
        return set_lines(lines, x, first_baseline, size, self.ruler)

    def letters(self, yarn: str) -> str:
        """The two-letter code of a yarn."""
        return self.plan.letters(yarn)


@record
class Panel:
    """A kind of panel: its parts at a width, from the top down, and whether it has anything to say.

    One that ``heads_below`` is the heading of the row below it, which begins no section of its own.
    """

    name: str
    parts: Callable[[Sheet, float], Sequence[Part]]
    applies: Callable[[Sheet], bool] = lambda sheet: True
    sinks: bool = False  # stands at the foot of the page when it is the last one
    heads_below: bool = False


def planned(part: _Part | None) -> _Part:
    """A part of the plan that not every plan has: its panel applies only where there is one."""
    if part is None:
        raise ValueError("the plan lacks what this panel shows")
    return part


def tightened(sizes: TypeSizes, factor: float) -> TypeSizes:
    """All sizes smaller by ``factor``, in quarter points, and none below the smallest."""

    def less(size: float) -> float:
        return max(sizes.smallest, floor(size * factor * 4) / 4)

    return TypeSizes(
        less(sizes.title), less(sizes.count), less(sizes.heading), less(sizes.body), less(sizes.small), sizes.smallest
    )
