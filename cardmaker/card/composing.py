"""The card: a plan and a layout become one page of marks."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from typing import TYPE_CHECKING, Final, TypeGuard

from cardmaker.card.facts import FACTS
from cardmaker.card.fitting import DoesNotFit, Fitted, Placed, fit
from cardmaker.card.margin_marks import NotchPlace, fold_marks, notch_panel, notch_place, punch_marks
from cardmaker.card.name_head import HOLE_ROOM
from cardmaker.card.panels import PANELS, READING_ORDER, RECORD_PANELS, REST
from cardmaker.card.sheet import NO_CHOOSERS, NO_OWNER, CardOwner, Choosers, Panel, Sheet, tightened
from cardmaker.layout.stacking import draw_stack
from cardmaker.layout.yarn_inks import Hatches, card_inks
from cardmaker.model.card_layout import CardLayout, PanelPlace, Paper, Rows, TypeSizes
from cardmaker.model.marks import Box, Group, Mark, Page, Ruler
from cardmaker.model.plan import Plan
from cardmaker.model.problems import KeyPath, Refusal
from cardmaker.model.record_class import record, replace
from cardmaker.model.viewpoint import FROM_SEAT
from cardmaker.reckoning.stripes.segments import hand_counted
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.wording import shed_words, title_words
from cardmaker.wording.formatters import Units
from cardmaker.wording.phrases import did_you_mean

if TYPE_CHECKING:
    from cardmaker.card.card_back import BackPanels
    from cardmaker.wording.change_words import Replaced

BESIDE_RIBBON: Final = 3.5  # mm from the ribbon's column to the panels
TIGHTER: Final = (1.0, 0.95, 0.9, 0.85)  # how far pictures and gaps give way before a card is refused
TIGHT_TYPE: Final = 0.85  # of the type, as soon as they do: so a layout has two sizes of each kind, and no more
CLOSE_WORDS: Final = 0.55  # of the space over words, on a card that is told in fewer of them and is still too full
MUCH_TOO_FULL: Final = 1.10  # of the height that there is: more than type and pictures are likely to give at first
FAR_TOO_FULL: Final = 1.16  # of it: only the closest form of the panels gives so much; 1.15 was given by another
CLOSE_ENOUGH: Final = 0.83  # of the height: begun as close and as full, hardly a card fits in a roomier form
FEWEST_WORDS: Final = 1.06  # of it, in the closest form: 1.05 is the most that fewer words alone were known to give
A_LITTLE: Final = 0.93  # how far they give way before a panel is left out
BEGIN: Final = {"wide": (), "closer": (A_LITTLE,), "close": TIGHTER[-1:]}  # what is tried before the roomiest form


@record
class Composed:
    """The page, the facts that it tells, and those for which a part found no room; and the page behind it, if asked."""

    page: Page
    printed: frozenset[str]
    lacking: tuple[str, ...]  # on a part of the card; another part may tell it
    sizes: TypeSizes  # in which it is set
    back: Composed | None = None

    @property
    def left_out(self) -> tuple[str, ...]:
        """The facts that found no room anywhere on the card; with a back, those that even there did not."""
        lost = tuple(dict.fromkeys(fact for fact in self.lacking if fact not in self.on_paper))
        return lost if self.back is None else tuple(dict.fromkeys((*lost, *self.back.lacking)))

    @property
    def on_paper(self) -> frozenset[str]:
        """The facts that are told in front or behind."""
        return self.printed | (self.back.printed if self.back else frozenset())


@record
class _Side:
    """One side of a card: its sheet, its panels placed, and what stands beside them."""

    sheet: Sheet
    fitted: Fitted
    ribbon: Group | None
    notch: NotchPlace | None


@record
class _Room:
    """What may stand on a side, and where: the rows for each of its areas, and the panels that they name."""

    areas: Sequence[Box]
    rows: Sequence[Rows]  # for each area
    panels: Mapping[str, Panel]


def compose_card(
    plan: Plan,
    layout: CardLayout,
    paper: Paper,
    ruler: Ruler,
    units: Units | None = None,
    replaces: Replaced | None = None,
    owner: CardOwner = NO_OWNER,
    hatches: Hatches | None = None,
    *,
    with_back: bool = False,
    said: tuple[str, ...] = (),
    choosers: Choosers = NO_CHOOSERS,
) -> Composed:
    """One page, always: what does not fit is left out by priority. Raises Refusal when the essential does not fit.

    It is drawn for the view of its plan. A card that ``replaces`` another says so under its name, whatever the layout.
    Of a binder or a class it takes the ``hatches`` that were settled for all of its patterns. Its back, when asked for,
    has what found no room in front; it changes nothing of the front.
    """
    inks, segments = card_inks(plan.pattern, hatches), hand_counted(plan.runs)
    sheet = Sheet(
        plan, layout, paper, ruler, units or layout.units, inks, segments, layout.type_sizes,
        plan_as_seen(plan, FROM_SEAT), replaces, owner, said, choosers,
    )  # fmt: skip
    front = _side(sheet, _rows_in_front(sheet), PANELS)
    composed = _composed(front)
    if not with_back or not layout.back:
        return composed
    from cardmaker.card.card_back import BackPanels

    behind = replace(sheet, layout=layout.as_back(paper), replaces=None, is_back=True)
    panels = BackPanels(PANELS, layout, front.fitted)
    other = _behind(behind, layout, panels)
    back = _composed(other)
    return replace(composed, back=replace(back, lacking=(*back.lacking, *panels.nowhere(other.sheet, other.fitted))))


def _behind(sheet: Sheet, layout: CardLayout, panels: BackPanels) -> _Side:
    """The back with all that belongs there, drawn closer rather than without a part of it, and at last with the ribbon
    only as a strip; else with what fits."""
    rows, essential = panels.all_essential()
    no_ribbon = replace(sheet, layout=replace(sheet.layout, ribbon=False))
    for trial in (sheet, no_ribbon) if sheet.layout.ribbon else (sheet,):
        with suppress(Refusal):
            return _side(trial, [rows], essential, _fitted)
    return _side(sheet, [_simplest(layout.back)], panels.by_name())


def _rows_in_front(sheet: Sheet) -> list[Rows]:
    layout = sheet.layout
    rows = layout.rows if sheet.replaces is None else _with_changes(layout.rows)
    return [rows, *filter(None, [layout.other_half])]


def _side(
    sheet: Sheet,
    rows: Sequence[Rows],
    panels: Mapping[str, Panel],
    fitting: Callable[[Sheet, _Room], tuple[Sheet, Fitted]] | None = None,
) -> _Side:
    """A side with its panels placed."""
    areas = _areas(sheet.layout, sheet.paper)
    ribbon, notch = None, None
    if sheet.layout.ribbon:  # of a card to fold it stands in the half that is shown
        ribbon, notch = _ribbon_with_notch(sheet, areas[-1])
        areas[-1] = areas[-1].inset(left=ribbon.box.width + BESIDE_RIBBON)
    else:
        notch = notch_place(sheet, None)
    sheet, fitted = (fitting or _fitted_or_told_why)(sheet, _Room(areas, rows, panels))
    return _Side(sheet, fitted, ribbon, notch)


def _ribbon_with_notch(sheet: Sheet, area: Box) -> tuple[Group, NotchPlace | None]:
    """The ribbon in its column at the left edge of ``area``, and where the notch comes, if there is one."""
    from cardmaker.card.panels.ribbon_panel import above_notch, draw_ribbon, ribbon_column

    column = ribbon_column(sheet, area)
    notch = notch_place(sheet, column)
    hole = HOLE_ROOM if sheet.is_back and sheet.layout.punch == "corner" else 0.0
    tape = above_notch(column, notch).inset(top=hole)
    return Group("panel", "ribbon", tape, draw_ribbon(sheet, tape)), notch


def _composed(side: _Side) -> Composed:
    """The page of a side, with what it tells."""
    sheet, fitted, paper = side.sheet, side.fitted, side.sheet.paper
    groups = [*filter(None, [side.ribbon]), *(_panel_group(placed) for placed in fitted.placed)]
    if side.notch:
        groups.append(notch_panel(sheet, side.notch))
    signs = [] if sheet.is_back else _signs_in_margins(sheet.layout, paper)
    title = title_words.card_title(sheet.plan.pattern)
    page = Page(paper.width_mm, paper.height_mm, (*_in_reading_order(groups), *signs), title)
    printed = {fact for fact, there in (("face", side.ribbon), ("notch", side.notch)) if there}
    printed = printed.union(*(placed.told for placed in fitted.placed))
    lacking = [fact for left_out in fitted.left_out for fact in left_out.facts]
    lacking += [fact for placed in fitted.placed for fact in placed.lacks]
    return Composed(page, frozenset(printed), tuple(lacking), sheet.sizes)


def _signs_in_margins(layout: CardLayout, paper: Paper) -> list[Group]:
    """Where holes and folds come, which nobody needs to hear."""
    whole = Box(0.0, 0.0, paper.width_mm, paper.height_mm)
    signs = {"punch": punch_marks(layout, paper), "fold": fold_marks(layout, paper)}
    return [Group("artefact", name, whole, tuple(marks)) for name, marks in signs.items() if marks]


def _areas(layout: CardLayout, paper: Paper) -> list[Box]:
    """Where panels may stand: within the margins, or of a card to fold in each half, as far from the fold."""
    box = layout.printable(paper)
    if not layout.other_half:
        return [box]
    fold = paper.width_mm / 2
    left = box.inset(right=box.right - (fold - layout.margin_mm))
    return [left, box.inset(left=fold + layout.margin_mm - box.left)]


def face_repeat(plan: Plan, hatches: Hatches | None = None) -> tuple[Box, tuple[Mark, ...], str]:
    """One repeat of the tape's face at life size, from the top left corner: its box, its marks, and what it shows."""
    from cardmaker.layout.woven_face import Cloth, pick_height, picks_drawn, repeat_of

    plan = plan_as_seen(plan, FROM_SEAT)
    repeat = repeat_of(plan)
    box = Box(0.0, 0.0, float(plan.width.likely_mm), pick_height(plan) * len(repeat))
    marks = picks_drawn(Cloth(plan, card_inks(plan.pattern, hatches)), [pick.raised for pick in repeat], box)
    return box, tuple(marks), shed_words.sheds_alt_text(plan)


def _fitted_or_told_why(sheet: Sheet, room: _Room) -> tuple[Sheet, Fitted]:
    """The panels placed; where they are too many because one text is too long, that is what is refused."""
    try:
        return _fitted(sheet, room)
    except Refusal as refusal:
        from cardmaker.card.longest_text import too_long_text

        raise too_long_text(sheet, lambda shorter: _fits(shorter, room)) or refusal from None


def _fits(sheet: Sheet, room: _Room) -> bool:
    try:
        _fitted(sheet, room)
    except Refusal:
        return False
    return True


def _fitted(sheet: Sheet, room: _Room) -> tuple[Sheet, Fitted]:
    """The panels placed, in type as large as the page allows; then with simpler panels instead of the large ones.

    Type never goes below the layout's smallest. The least wanted panel that has a simpler one gives way first. A little
    smaller type is better than a panel that is left out.
    """
    begin = BEGIN[sheet.layout.drawn]
    while True:
        too_full: frozenset[float] = frozenset()
        for number, factor in enumerate((*begin, *TIGHTER)):
            if factor in too_full:
                continue
            trial = _tightened(sheet, factor)
            try:
                fitted = _fit_all(trial, room, factor)
            except DoesNotFit as error:
                needed = str(error)
                if trial.is_crowded and (terse := _terse(trial, room, factor, error.share)):
                    return min(terse, key=lambda each: _wanted_most(each[1]))
                too_full |= _too_full_too(sheet, room, factor, error.share)
                continue
            if number < len(begin) and fitted.needed < CLOSE_ENOUGH:
                continue  # there is room to spare: a roomier form may fit
            if factor > A_LITTLE and fitted.left_out:
                closer = _tightened(sheet, A_LITTLE)
                with suppress(DoesNotFit):  # a name may break into more lines in smaller type, of which it allows more
                    other = _fit_all(closer, room, A_LITTLE)
                    if len(other.left_out) < len(fitted.left_out):
                        return closer, other
            if fitted.placed or not fitted.left_out:
                return _in_fewer_words(trial, room, factor, fitted)
            needed = "has room for none of its panels"
        if (simpler := _simpler(room.rows)) is None:
            break
        room = replace(room, rows=simpler)
    message = f"{sheet.plan.ends} ends do not fit on {sheet.paper.name}: the card {needed}."
    raise Refusal(("warp",), message, "Choose a larger paper or another layout.")


def _too_full_too(sheet: Sheet, room: _Room, factor: float, share: float) -> frozenset[float]:
    """The forms that cannot fit where this one is fuller than the page by ``share``, and need not be tried.

    All that are roomier; and of the two in which pictures alone become smaller, in the same type, the first where the
    second is too full.
    """
    if factor != TIGHTER[0] or share <= MUCH_TOO_FULL:
        return frozenset(each for each in TIGHTER if each >= factor)
    if share <= FAR_TOO_FULL:
        with suppress(DoesNotFit):
            _fit_all(_tightened(sheet, TIGHTER[2]), room, TIGHTER[2])
            return frozenset()
    return frozenset(TIGHTER[1:3])


def _in_fewer_words(sheet: Sheet, room: _Room, factor: float, fitted: Fitted) -> tuple[Sheet, Fitted]:
    """A crowded card as it is; told in fewer words, and these closer together, where it then has more of what comes
    before all that may be left out."""
    found = [(sheet, fitted)]
    if sheet.is_crowded and _wanted_most(fitted):
        found += _terse(sheet, room, factor, fitted.needed)
    return min(found, key=lambda each: _wanted_most(each[1]))


def _terse(sheet: Sheet, room: _Room, factor: float, needed: float) -> list[tuple[Sheet, Fitted]]:
    """The crowded card in fewer words, with these closer together, and in the fewest; each only where it fits. One that
    ``needed`` so much more than there is that only the fewest words could give it is told in these alone."""
    found = []
    ways = ((1.0, False), (CLOSE_WORDS, False), (CLOSE_WORDS, True))
    for close, is_tersest in ways if needed < FEWEST_WORDS else ways[-1:]:
        terse = replace(sheet, is_terse=True, is_tersest=is_tersest, over_words=close)
        with suppress(DoesNotFit):
            found.append((terse, _fit_all(terse, room, factor)))
            if not _wanted_most(found[-1][1]):
                break  # fewer words have nothing more to give
    return found


def _wanted_most(fitted: Fitted) -> list[int]:
    """How far before all that may be left out come the parts that found no room, the most wanted first: the least of
    two such lists lacks what is wanted least, however many they are."""
    wanted = [-part.priority for placed in fitted.placed for part in placed.hidden if part.priority < 0]
    return sorted(wanted, reverse=True)


def _tightened(sheet: Sheet, factor: float) -> Sheet:
    sizes = tightened(sheet.layout.type_sizes, 1.0 if factor == 1 else TIGHT_TYPE)
    return replace(sheet, sizes=sizes, picture_share=1 - (1 - factor) * 3)


def _fit_all(sheet: Sheet, room: _Room, factor: float) -> Fitted:
    places = zip(room.rows, room.areas, strict=True)
    return _joined([fit(sheet, rows, room.panels, box, factor) for rows, box in places])


def _joined(halves: Sequence[Fitted]) -> Fitted:
    placed = tuple(placed for half in halves for placed in half.placed)
    left_out = tuple(left_out for half in halves for left_out in half.left_out)
    return Fitted(placed, left_out, max(half.needed for half in halves))


def _with_changes(rows: Rows) -> Rows:
    """The rows with what the card replaces under the first one, unless the layout has a place for it."""
    if any(place.panel == "changed" for row in rows for place in row):
        return rows
    return (*rows[:1], (PanelPlace("changed", rows[0][0].columns, 1, True),), *rows[1:])


def _simpler(halves: Sequence[Rows]) -> list[Rows] | None:
    """The rows with the least wanted of the large panels replaced by its simpler one; None when there is none left."""
    large = [place for rows in halves for row in rows for place in row if place.instead]
    if not large:
        return None
    least = max(large, key=lambda place: place.priority)
    plain = replace(least, panel=least.instead, instead="")
    return [tuple(tuple(plain if place is least else place for place in row) for row in rows) for rows in halves]


def _simplest(rows: Rows) -> Rows:
    """The rows with the simpler panel wherever there is one: nothing is left out for the sake of a large one."""
    return tuple(tuple(replace(place, panel=place.instead or place.panel, instead="") for place in row) for row in rows)


def wrong_names(layout: CardLayout) -> tuple[Refusal, ...]:
    """A refusal for every panel and every fact of a layout that there is not, with the nearest that there is, and for
    every panel that its kind of card may not have."""
    return (
        *_unknown_panels("rows", layout.rows),
        *_unknown_panels("other_half", layout.other_half),
        *_unknown_panels("back", layout.back, REST),
        *_unknown_facts(layout),
        *_record_panels(layout),
    )


def _record_panels(layout: CardLayout) -> Iterator[Refusal]:
    """What may stand on a record only, on a card of another kind."""
    sides = (("rows", layout.rows), ("other_half", layout.other_half), ("back", layout.back))
    for key, rows in sides if layout.kind != "record" else ():
        for path, name in _named_panels(key, rows):
            if name in RECORD_PANELS:
                message = f"'{name}' holds the pattern file with its notes, so it is for a record only."
                yield Refusal(path, message, "Leave it out; or write 'kind: record', if the card is never given away.")


def _named_panels(key: str, rows: Rows) -> Iterator[tuple[KeyPath, str]]:
    """Every panel that rows name, with the path of its name."""
    for row_index, row in enumerate(rows):
        for index, place in enumerate(row):
            for name_key, name in (("panel", place.panel), ("instead", place.instead)):
                if name:
                    yield (key, row_index, index, name_key), name


def _unknown_panels(key: str, rows: Rows, *further: str) -> Iterator[Refusal]:
    names = [*PANELS, *further]
    for path, name in _named_panels(key, rows):
        if name not in names:
            remedy = did_you_mean(name, names, f"The panels are {', '.join(names)}.")
            yield Refusal(path, f"'{name}' is not a panel.", remedy)


def _unknown_facts(layout: CardLayout) -> Iterator[Refusal]:
    lists = {"front": layout.facts.front, "room": layout.facts.room, "back": layout.facts.back}
    for key, facts in lists.items():
        for index, fact in enumerate(facts):
            if fact not in FACTS:
                remedy = did_you_mean(fact, FACTS, f"The facts are {', '.join(FACTS)}.")
                yield Refusal(("facts", key, index), f"'{fact}' is not a fact.", remedy)


def _panel_group(placed: Placed) -> Group:
    return Group("panel", placed.panel.name, placed.box, tuple(draw_stack(placed.parts, placed.box)))


def _in_reading_order(groups: list[Group]) -> tuple[Mark, ...]:
    """The panels as they are read aloud: no panel lies over another, so they may be drawn in any order."""
    ordered = sorted(groups, key=lambda group: READING_ORDER.index(group.name))
    return tuple(_titled_once(ordered))


def _titled_once(panels: Iterable[Group]) -> Iterator[Group]:
    """A card has one title; the name said again, on a visitor's side, is a heading."""
    is_titled = False
    for panel in panels:
        if is_titled and any(_is_title(mark) for mark in panel.marks):
            marks = (replace(mark, role="heading") if _is_title(mark) else mark for mark in panel.marks)
            yield replace(panel, marks=tuple(marks))
        else:
            is_titled = is_titled or any(_is_title(mark) for mark in panel.marks)
            yield panel


def _is_title(mark: Mark) -> TypeGuard[Group]:
    return isinstance(mark, Group) and mark.role == "title"
