"""The handouts: each student's card with her name on it, two half sheets side by side, a large one by itself."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final, Literal

from cardmaker.card.composing import Composed, compose_card
from cardmaker.card.sheet import CardOwner
from cardmaker.layout.ink import BLACK, HAIRLINE
from cardmaker.layout.transforms import shifted
from cardmaker.layout.yarn_inks import Hatches
from cardmaker.model.card_layout import CardLayout, PanelPlace, Paper
from cardmaker.model.marks import Box, Group, Line, Page, Ruler
from cardmaker.model.plan import Plan
from cardmaker.model.problems import Refusal
from cardmaker.model.record_class import replace
from cardmaker.model.school_class import Kit
from cardmaker.model.units import MM_PER_INCH
from cardmaker.reckoning.threading.mirror import plan_as_seen, weavers_view
from cardmaker.school import class_words

Size = Literal["letter", "a4"]

LETTER: Final = Paper("letter", float(MM_PER_INCH * 17 / 2), float(MM_PER_INCH * 11))
A4: Final = Paper("a4", 210.0, 297.0)
WHOLE: Final[dict[Size, Paper]] = {"letter": LETTER, "a4": A4}
# Half of a sheet, cut across: 5 1/2 x 8 1/2 in; A5 (ISO 216), of which two leave 1 mm of an A4 sheet between them.
HALF: Final[dict[Size, Paper]] = {
    "letter": Paper("half-letter", LETTER.height_mm / 2, LETTER.width_mm),
    "a4": Paper("a5", 148.0, 210.0),
}
WALK, WOUND, BOARD, THREADED, FACE, SHUTTLE = "walk", "wound", "board", "threaded", "face", "shuttle"  # panels
_OF_WOUND: Final = {WALK: WOUND, "dressing": "dressing-wound"}
_OF_THREADED: Final = {BOARD: THREADED, "dressing": "dressing-threaded"}
FACE_PRIORITY: Final = 1
BEFORE_FACE: Final = frozenset({"wraps"})  # what a student asks for sooner than what each shed shows
_MARK: Final = (4.0, 8.0)  # mm from the edge of the sheet: where cut marks begin and end, in the cards' own margins


def for_class(
    layout: CardLayout, *, wound_beforehand: bool = False, threaded_beforehand: bool = False, with_face: bool = True
) -> CardLayout:
    """The layout with one line to tick for what was done beforehand, winding or threading; what the tape shows in each
    shed has the room, but never that of the board."""
    rows = list(layout.rows)
    lines = (_OF_WOUND if wound_beforehand else {}) | (_OF_THREADED if threaded_beforehand else {})
    rows = [tuple(_done(place, lines) for place in row) for row in rows]
    if with_face and (wound_beforehand or threaded_beforehand):
        rows = [tuple(_kept(place) if place.panel == BOARD else place for place in row) for row in rows]
        woven = next((number for number, row in enumerate(rows) if any(each.panel == SHUTTLE for each in row)), None)
        if woven is not None:
            rows.insert(woven + 1, (PanelPlace(FACE, 12, FACE_PRIORITY, essential=True),))
    return replace(layout, rows=tuple(rows))


def _kept(place: PanelPlace) -> PanelPlace:
    return replace(place, instead="")


def _done(place: PanelPlace, done: Mapping[str, str]) -> PanelPlace:
    """One line to tick instead of the panel of a step, or the drawn steps that are left."""
    return replace(place, panel=done[place.panel], instead="") if place.panel in done else place


def compose_handout(
    kit: Kit,
    layout: CardLayout,
    paper: Paper,
    ruler: Ruler,
    units: Literal["metric", "us"],
    hatches: Hatches | None = None,
    *,
    wound_beforehand: bool = False,
    threaded_beforehand: bool = False,
    with_back: bool = False,
) -> Composed:
    """One student's card, its yarns hatched as in the whole class. Raises Refusal when the essential does not fit."""
    student = kit.student
    owner = CardOwner(student.name if student else "", class_words.kit_and_hand(kit))
    own = student.units if student else None

    def composed(*, with_face: bool) -> Composed:
        of_class = for_class(
            layout, wound_beforehand=wound_beforehand, threaded_beforehand=threaded_beforehand, with_face=with_face
        )
        return compose_card(
            student_plan(kit), of_class, paper, ruler, own or units, owner=owner, hatches=hatches, with_back=with_back
        )

    if not wound_beforehand and not threaded_beforehand:
        return composed(with_face=False)
    try:
        with_face = composed(with_face=True)
    except Refusal:  # of a wide warp there is no room for the face
        return composed(with_face=False)
    return composed(with_face=False) if BEFORE_FACE & {*with_face.left_out} else with_face


def student_plan(kit: Kit) -> Plan:
    """The plan as this kit's weaver sees it."""
    return plan_as_seen(kit.plan, weavers_view(kit.plan.loom, left_hand=kit.left_hand))


def two_up(cards: Sequence[Page], size: Size) -> tuple[Page, ...]:
    """Two half sheets side by side on a sheet that lies on its long side, to be cut through the middle."""
    return tuple(_sheet(cards[index : index + 2], size) for index in range(0, len(cards), 2))


def with_backs(cards: Sequence[Composed], size: Size) -> tuple[Page, ...]:
    """The same sheets, each with the backs of its two cards on the page behind it.

    The sheet lies on its long side, and is turned over that: so what is left in front is left behind it.
    """
    fronts = two_up([card.page for card in cards], size)
    backs = two_up([(card.back or card).page for card in cards], size)
    return tuple(page for pair in zip(fronts, backs, strict=True) for page in pair)


def _sheet(cards: Sequence[Page], size: Size) -> Page:
    whole, half = WHOLE[size], HALF[size]
    width, height = whole.height_mm, whole.width_mm
    middle = width / 2
    aside = (middle - half.width_mm) / 2
    marks = [
        mark for card, left in zip(cards, (aside, middle + aside), strict=False) for mark in shifted(card.marks, left)
    ]
    start, stop = _MARK
    cuts = tuple(
        Line(middle, y1, middle, y2, HAIRLINE, BLACK) for y1, y2 in ((start, stop), (height - stop, height - start))
    )
    title = "; ".join(card.title for card in cards)
    return Page(width, height, (*marks, Group("artefact", "cut marks", Box(0, 0, width, height), cuts)), title)
