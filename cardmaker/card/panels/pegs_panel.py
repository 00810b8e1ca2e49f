"""The pegs from above, to scale, one thread through all of them, and the cross large enough to read."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import cos, hypot, pi, sin

from cardmaker.card.panels.cross_drawing import BACK_DASH, cross_height, draw_cross
from cardmaker.card.paragraphs import Paragraph, paragraph, paragraph_height
from cardmaker.card.sheet import Drawing, Sheet, headed, heading_height, planned, whole_panel
from cardmaker.layout.ink import ACCENT, BLACK, FAINT, HEAVY, OUTLINE, RULE, SOFT, WHITE
from cardmaker.layout.stacking import HeightRange
from cardmaker.layout.type_setting import Span, cap_height, figure
from cardmaker.model.marks import Box, Dot, Face, Mark, Path, Rectangle, Step, Words
from cardmaker.model.peg_plan import Arc, Leg, PegPlan
from cardmaker.model.record_class import record
from cardmaker.wording import peg_words
from cardmaker.wording.formatters import small_length

LEAST_VIEW, MOST_VIEW = 56.0, 84.0
NARROW = 120.0  # panels narrower than this stand their parts below each other
COLUMN_SHARE = 0.38  # else the cross and the words take this share of the width
ABOVE_WORDS = 2.4
FINEST_ARC = pi / 12  # an arc is drawn in pieces no longer than this


@record
class _Ground:
    """Where the room's millimetres fall on paper."""

    left: float
    top: float
    scale: float
    x0: float
    y0: float

    def at(self, x: float, y: float) -> tuple[float, float]:
        return self.left + (x - self.x0) * self.scale, self.top + (y - self.y0) * self.scale


def _extent(pegs: PegPlan) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of all there is to see, in the room's millimetres."""
    radius = float(pegs.diameter_mm) / 2
    xs = [float(peg.x_mm) for peg in pegs.pegs]
    ys = [float(peg.y_mm) for peg in pegs.pegs]
    left, top, right, bottom = min(xs) - radius, min(ys) - radius, max(xs) + radius, max(ys) + radius
    if pegs.surface_mm is not None:
        left, top = min(left, 0.0), min(top, 0.0)
        right, bottom = max(right, float(pegs.surface_mm[0])), max(bottom, float(pegs.surface_mm[1]))
    return left, top, right, bottom


def _ground(extent: tuple[float, float, float, float], box: Box) -> _Ground:
    left, top, right, bottom = extent
    scale = min(box.width / max(1.0, right - left), box.height / max(1.0, bottom - top))
    wide, high = (right - left) * scale, (bottom - top) * scale
    return _Ground(box.left + (box.width - wide) / 2, box.top + (box.height - high) / 2, scale, left, top)


def _words(sheet: Sheet) -> Paragraph:
    pegs = planned(sheet.plan.pegs)
    return [
        Span(peg_words.route_in_words(pegs), Face.SANS_SEMIBOLD),
        Span(peg_words.thread_length(pegs, sheet.units)),
        Span(peg_words.guide(pegs, sheet.units)),
        Span(peg_words.walking_length(pegs, sheet.plan.ends, sheet.units)),
        Span(peg_words.stack(pegs, sheet.units)),
    ]


def _column_width(width: float) -> float:
    """The width of the column beside the view: the cross and the words; all of it where the panel is narrow."""
    return width if width < NARROW else width * COLUMN_SHARE


def _words_height(sheet: Sheet, width: float) -> float:
    return ABOVE_WORDS + paragraph_height(sheet, _words(sheet), sheet.sizes.body, _column_width(width))


def _heights(sheet: Sheet, width: float) -> HeightRange:
    column = cross_height(sheet, planned(sheet.plan.pegs), _column_width(width)) + _words_height(sheet, width)
    if width < NARROW:
        fixed = heading_height(sheet) + column
        return HeightRange(fixed + LEAST_VIEW * sheet.picture_share, fixed + MOST_VIEW)
    least = max(column, LEAST_VIEW * sheet.picture_share)
    return HeightRange(heading_height(sheet) + least, heading_height(sheet) + max(least, MOST_VIEW))


def _draw(sheet: Sheet, box: Box) -> Drawing:
    pegs = planned(sheet.plan.pegs)
    marks, body = headed(sheet, box, peg_words.ROOM, peg_words.drawn_from(pegs))
    beside = _column_width(box.width)
    words, cross = _words_height(sheet, box.width), cross_height(sheet, pegs, beside)
    if box.width < NARROW:
        view = Box(body.left, body.top, body.width, body.height - words - cross)
        column = Box(body.left, view.bottom, body.width, words + cross)
    else:
        view = Box(body.left, body.top, body.width - beside - 6, body.height)
        column = Box(body.right - beside, body.top, beside, body.height)
    marks.append(figure("pegs", view, _view(sheet, pegs, view), peg_words.pegs_alt_text(pegs, sheet.units)))
    marks += draw_cross(sheet, pegs, Box(column.left, column.top, column.width, cross))
    marks += paragraph(sheet, _words(sheet), sheet.sizes.body, column.inset(top=cross + ABOVE_WORDS))
    return Drawing(tuple(marks))


def _view(sheet: Sheet, pegs: PegPlan, box: Box) -> list[Mark]:
    """The whole board or room, with the distances to measure along the way."""
    aside = sheet.wide("home", Face.SANS_BOLD, sheet.sizes.smallest) + 3
    ground = _ground(_extent(pegs), box.inset(aside, 6, aside, 4))
    marks: list[Mark] = []
    if pegs.surface_mm is not None:
        x, y = ground.at(0, 0)
        width, depth = (float(side) * ground.scale for side in pegs.surface_mm)
        marks.append(Rectangle(Box(x, y, width, depth), WHITE, FAINT, RULE, 1.5))
    marks += _threads(pegs, ground)
    marks += _pegs(sheet, pegs, ground)
    return [*marks, *_distances(sheet, pegs, ground)]


def _threads(pegs: PegPlan, ground: _Ground) -> Iterable[Mark]:
    """The way out as a full line with arrows, the way back dashed; whichever lies on top is cased in white."""
    out_legs, out_arcs = pegs.way_out
    turn = pegs.round_trip.arcs[pegs.turning]
    out, back = _steps(out_legs, (*out_arcs, turn), ground), _steps(*pegs.way_back, ground)
    yield Path(back, stroke=BLACK, width=OUTLINE, dash=BACK_DASH)
    yield Path(out, stroke=WHITE, width=OUTLINE * 3.2)
    yield Path(out, stroke=BLACK, width=OUTLINE * 1.3)
    for leg in out_legs:
        yield from _arrow(leg, ground)


def _steps(legs: Sequence[Leg], arcs: Sequence[Arc], ground: _Ground) -> tuple[Step, ...]:
    """Leg, arc, leg, arc, ... as one line."""
    steps: list[Step] = []
    for number, leg in enumerate(legs):
        steps += [("move", *ground.at(*leg.start)), ("line", *ground.at(*leg.stop))]
        if number < len(arcs):
            steps += _arc(arcs[number], ground)
    return tuple(steps)


def _arc(arc: Arc, ground: _Ground) -> list[Step]:
    pieces = max(1, int(abs(arc.sweep) / FINEST_ARC) + 1)
    steps: list[Step] = [("move", *ground.at(*arc.start))]
    for piece in range(1, pieces + 1):
        angle = arc.start_angle + arc.sweep * piece / pieces
        x, y = arc.peg.x_mm + arc.peg.radius_mm * cos(angle), arc.peg.y_mm + arc.peg.radius_mm * sin(angle)
        steps.append(("line", *ground.at(x, y)))
    return steps


def _arrow(leg: Leg, ground: _Ground) -> Iterable[Mark]:
    """An arrow head a third along a leg that is long enough to carry one."""
    (x1, y1), (x2, y2) = ground.at(*leg.start), ground.at(*leg.stop)
    long = hypot(x2 - x1, y2 - y1)
    if long < 7:
        return
    ux, uy = (x2 - x1) / long, (y2 - y1) / long
    tip_x, tip_y = x1 + ux * long / 3, y1 + uy * long / 3
    size = 1.5
    back_x, back_y = tip_x - ux * size * 1.8, tip_y - uy * size * 1.8
    yield Path(
        (
            ("move", tip_x, tip_y), ("line", back_x - uy * size * 0.7, back_y + ux * size * 0.7),
            ("line", back_x + uy * size * 0.7, back_y - ux * size * 0.7), ("close",),
        ),
        fill=BLACK,
    )  # fmt: skip


def _pegs(sheet: Sheet, pegs: PegPlan, ground: _Ground) -> Iterable[Mark]:
    """Every peg; those on the way outlined in black, home and far named in words, the others by their own names."""
    radius = max(0.9, float(pegs.diameter_mm) / 2 * ground.scale)
    size, cap = sheet.sizes.smallest, cap_height(sheet.sizes.smallest)
    xs = [float(peg.x_mm) for peg in pegs.pegs]
    left, _, right, _ = _extent(pegs)  # names stand outside the board's own edges
    outside = ground.at(left, 0)[0] - 1.0, ground.at(right, 0)[0] + 1.0
    for peg in pegs.pegs:
        x, y = ground.at(float(peg.x_mm), float(peg.y_mm))
        on_way, accented = peg.name in pegs.route, peg.name in (pegs.home, pegs.far)
        colour = ACCENT if accented else BLACK if on_way else SOFT
        face = Face.SANS_BOLD if accented else Face.SANS
        yield Dot(x, y, radius, ACCENT if peg.name == pegs.home else WHITE, colour, HEAVY if accented else OUTLINE)
        name = peg_words.peg_name(peg.name, pegs)
        if float(peg.x_mm) == min(xs):
            yield Words(min(x - radius - 1.0, outside[0]), y + cap / 2, name, face, size, colour, "right")
        elif float(peg.x_mm) == max(xs):
            yield Words(max(x + radius + 1.0, outside[1]), y + cap / 2, name, face, size, colour)
        else:
            yield Words(x, _over(pegs, ground, y - radius - 1.6, cap), name, face, size, colour, "middle")


def _over(pegs: PegPlan, ground: _Ground, baseline: float, cap: float) -> float:
    """The baseline of a name over its peg: above the board's far edge where it would stand upon that line."""
    if pegs.surface_mm is None:
        return baseline
    edge = ground.at(0, 0)[1]
    return edge - 1.0 if baseline - cap - 1.0 < edge < baseline + 1.0 else baseline


def _distances(sheet: Sheet, pegs: PegPlan, ground: _Ground) -> Iterable[Mark]:
    """The distances to measure, each length once, beside its leg as a carpenter writes it."""
    size = sheet.sizes.smallest
    written: set[str] = set()
    for dimension in pegs.dimensions:
        x1, y1 = ground.at(float(dimension.start.x_mm), float(dimension.start.y_mm))
        x2, y2 = ground.at(float(dimension.stop.x_mm), float(dimension.stop.y_mm))
        text = small_length(dimension.centres_mm, sheet.units)
        wide = sheet.wide(text, Face.SANS, size)
        if text in written or hypot(x2 - x1, y2 - y1) < wide + 5:
            continue
        written.add(text)
        x, y = (x1 + x2) / 2 + (x2 - x1) * 0.14, (y1 + y2) / 2 + (y2 - y1) * 0.14
        cap = cap_height(size)
        if abs(x2 - x1) < abs(y2 - y1):  # an upright leg: the distance is written upwards
            yield Rectangle(Box(x - cap / 2 - 0.3, y - wide / 2 - 0.6, cap + 0.6, wide + 1.2), WHITE)
            yield Words(x + cap / 2, y + wide / 2, text, Face.SANS, size, turned=90)
        else:
            yield Rectangle(Box(x - wide / 2 - 0.6, y - cap / 2 - 0.3, wide + 1.2, cap + 0.6), WHITE)
            yield Words(x, y + cap / 2, text, Face.SANS, size, align="middle")


ROOM = whole_panel("room", _heights, _draw, lambda sheet: sheet.plan.pegs is not None)
