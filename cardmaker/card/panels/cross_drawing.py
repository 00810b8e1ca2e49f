"""The cross large enough to read: round pegs of its own, or half-way between two posts; and the whole of a span."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import cos, pi, sin
from typing import TYPE_CHECKING, Final

from cardmaker.card.panels.small_cross import crossing_ways
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import ACCENT, BLACK, FAINT, HAIRLINE, OUTLINE, RULE, WHITE
from cardmaker.layout.type_setting import cap_height, figure, tail_depth
from cardmaker.model.marks import Box, Dot, Face, Line, Mark, Path, Step, Words
from cardmaker.wording import peg_words
from cardmaker.wording.formatters import small_length
from cardmaker.wording.winding_words import FAR, HOME

if TYPE_CHECKING:
    from cardmaker.model.peg_plan import PegPlan

CROSS: Final = 12.6  # the height of the drawing
PEG: Final = 1.9  # the radius of a peg in it
CLEAR: Final = PEG + 0.55  # from a peg's middle to the thread that passes it
ABOVE_PEG: Final = PEG + 2.0  # from a peg's middle to the baseline of its name
OFF_WAY: Final = 1.3  # mm from a thread to the name of its way over or under it, and more where tails ask for it
AFTER_WAY: Final = 1.2  # from the end of a thread to its name
AFTER_LAST_PEG: Final = 2.6  # steps from home to the ends of the threads past two cross pegs
DIMENSION: Final = 4.6  # the height of a line with its length above it
BREAK_AT: Final = 0.78  # where a span is broken, as a share of its long stretch
BREAK: Final = 1.6  # the width of the gap, mm
ARC_PIECES: Final = 12
ARROW: Final = 1.9  # mm long

Posts = Sequence[tuple[str, float]]


def passes_above(pegs: PegPlan) -> list[bool]:
    """Past which of the cross pegs the way out, drawn from left to right, runs above: such a peg lies on its right.

    The way back passes on the other side and walks the other way, so the peg lies on the same hand (a drawing): it
    does not matter which of the two ways touches it.
    """
    from cardmaker.model.peg_plan import Bend

    bends = {peg.name: peg.bend for peg in reversed(pegs.round_trip.passed)}
    return [bends.get(name) is Bend.RIGHT for name in pegs.cross]


def cross_figure(sheet: Sheet, pegs: PegPlan, box: Box) -> Mark:
    """The cross by itself, not to scale, at the top of ``box``."""
    picture = Box(box.left, box.top, box.width, own_cross_height(sheet))
    above = passes_above(pegs)
    place = picture.inset(top=_name_over_top(sheet))
    marks = _pegged(sheet, pegs, place, above) if pegs.cross else _figure_of_eight(sheet, pegs, place)
    return figure("cross", picture, marks, peg_words.cross_alt_text(pegs, above))


def own_cross_height(sheet: Sheet) -> float:
    """How high :func:`cross_figure` is, in mm: higher where the names of its pegs are large."""
    return CROSS + _name_over_top(sheet)


def _name_over_top(sheet: Sheet) -> float:
    """How far the names of pegs in large type reach over the usual height."""
    return max(0.0, cap_height(sheet.sizes.small) - (CROSS / 2 - ABOVE_PEG))


def span_height(sheet: Sheet, pegs: PegPlan) -> float:
    """The height of a span: its length, names, posts, and the ends by name."""
    return DIMENSION + _names_height(sheet) + 2 * (CLEAR + 1.4 + cap_height(sheet.sizes.small))


def draw_span(sheet: Sheet, pegs: PegPlan, box: Box) -> list[Mark]:
    """The whole span, not to scale: its posts, the cross, a break in the long stretch, the turn; above it the length to
    set, and the others in the list."""
    y = box.top + DIMENSION + _names_height(sheet) + CLEAR
    left, right = box.left + _half_name(sheet) + 0.5, box.right - max(CLEAR, _half_name(sheet)) - 0.5
    step = (right - left) / (len(pegs.cross) + 1.6)
    posts = [(name, left + step * number) for number, name in enumerate((pegs.home, *pegs.cross))]
    posts.append((pegs.far, right))
    marks = [*_span_ways(pegs, posts, y), *_break(posts, y)]
    for name, x in posts:
        marks += _peg(sheet, pegs, name, x, y)
    above = passes_above(pegs)
    x = left + 0.55 * step if not pegs.cross else (posts[-2][1] + right) / 2 - 2.5
    marks += _way_names(sheet, x, y, above[-1] if above else _leaves_above(pegs))
    if pegs.cross:
        marks += _directions(sheet, x, y, above[-1])
    length = small_length(pegs.dimensions[-1].centres_mm, sheet.units)
    return [*marks, *dimension_line(sheet, length, left, right, box.top + DIMENSION / 2)]


def _half_name(sheet: Sheet) -> float:
    return sheet.wide(HOME, Face.SANS_SEMIBOLD, sheet.sizes.small) / 2


def _names_height(sheet: Sheet) -> float:
    return cap_height(sheet.sizes.small) + ABOVE_PEG - CLEAR + 1.2


def dimension_line(sheet: Sheet, text: str, left: float, right: float, y: float) -> Iterable[Mark]:
    """A length as a carpenter draws it, its figures in the middle of the line; nothing where they are too wide."""
    size = sheet.sizes.smallest
    half = sheet.wide(text, Face.SANS, size) / 2 + 1.0
    middle = (left + right) / 2
    if 2 * half + 3.0 > right - left:
        return
    for start, stop in ((left, middle - half), (middle + half, right)):
        yield Line(start, y, stop, y, HAIRLINE, FAINT)
    for x in (left, right):
        yield Line(x, y - 1.1, x, y + 1.1, RULE)
    yield Words(middle, y + cap_height(size) / 2, text, Face.SANS, size, align="middle")


def _pegged(sheet: Sheet, pegs: PegPlan, box: Box, above: Sequence[bool]) -> Iterable[Mark]:
    """The passes from home on past the cross pegs, past which the way out runs ``above`` or below, and where they
    cross."""
    y, ways_width = box.top + CROSS / 2, _way_names_width(sheet)
    left, right = box.left + _half_name(sheet), box.right - ways_width - AFTER_WAY
    step = (right - left) / (len(above) - len(peg_words.ANY_CROSS) + AFTER_LAST_PEG)
    posts = [(name, left + step * number) for number, name in enumerate((pegs.home, *pegs.cross))]
    ways = [(*_pass(posts, sides, y), ("line", right, y + _side(sides[-1]))) for sides in (above, _others(above))]
    yield from crossing_ways(*ways)
    yield from _directions(sheet, right - ARROW, y, above[-1])
    for name, x in posts:
        yield from _peg(sheet, pegs, name, x, y)
    for text, is_above in ((peg_words.OUT, above[-1]), (peg_words.BACK, not above[-1])):
        baseline = y + _side(is_above) + cap_height(sheet.sizes.small) / 2
        yield Words(right + AFTER_WAY, baseline, text, Face.SANS, sheet.sizes.small)


def _way_names_width(sheet: Sheet) -> float:
    return max(sheet.wide(text, Face.SANS, sheet.sizes.small) for text in (peg_words.OUT, peg_words.BACK))


def _directions(sheet: Sheet, at: float, y: float, out_is_above: bool) -> Iterable[Mark]:
    """On either way where its ends walk to: out to the right, back to the left. None where balls wait: there an end of
    either kind may be walked out or back."""
    if sheet.plan.winding.method == "carry":
        return
    for is_above in (True, False):
        tip, line = at + (ARROW / 2 if is_above is out_is_above else -ARROW / 2), y + _side(is_above)
        wing = tip - ARROW if is_above is out_is_above else tip + ARROW
        corners = ((tip, line), (wing, line - ARROW * 0.42), (wing, line + ARROW * 0.42))
        yield Path((("move", *corners[0]), *(("line", *corner) for corner in corners[1:]), ("close",)), fill=BLACK)


def _others(above: Sequence[bool]) -> list[bool]:
    return [not side for side in above]


def _side(is_above: bool) -> float:
    return -CLEAR if is_above else CLEAR


def _peg(sheet: Sheet, pegs: PegPlan, name: str, x: float, y: float) -> Iterable[Mark]:
    """A peg with its name: home full, far and home in the accent."""
    name = peg_words.peg_name(name, pegs)
    outline = ACCENT if name in (HOME, FAR) else BLACK
    yield Dot(x, y, PEG, ACCENT if name == HOME else WHITE, outline, OUTLINE)
    yield Words(x, y - ABOVE_PEG, name, Face.SANS_SEMIBOLD, sheet.sizes.small, outline, "middle")


def _way_names(sheet: Sheet, x: float, y: float, out_is_above: bool) -> Iterable[Mark]:
    """Above the upper of the two, clear of it with its tails, and below the lower."""
    size = sheet.sizes.small
    over = max(OFF_WAY, tail_depth(size) + 0.3)
    for text, is_above in ((peg_words.OUT, out_is_above), (peg_words.BACK, not out_is_above)):
        baseline = y - CLEAR - over if is_above else y + CLEAR + OFF_WAY + cap_height(size)
        yield Words(x, baseline, text, Face.SANS, size, align="middle")


def _pass(posts: Posts, above: Sequence[bool], y: float) -> tuple[Step, ...]:
    """One pass from home on: straight past each peg, a slope where it changes sides."""
    heights = [y + _side(side) for side in above]
    steps: list[Step] = [("move", posts[0][1], heights[0])]
    for (_, x), height in zip(posts[1:], heights, strict=False):
        steps += [("line", x - 1.2, height), ("line", x + 1.2, height)]
    return tuple(steps)


def _figure_of_eight(sheet: Sheet, pegs: PegPlan, box: Box) -> Iterable[Mark]:
    """Two posts with no pegs between: the way out and the way back cross half-way."""
    y = box.top + CROSS / 2
    posts = [(pegs.home, box.left + box.width * 0.14), (pegs.far, box.left + box.width * 0.86)]
    yield from crossing_ways(*_eight(pegs, posts, y))
    for name, x in posts:
        yield from _peg(sheet, pegs, name, x, y)
    yield from _way_names(sheet, box.left + box.width * 0.32, y, _leaves_above(pegs))


def _eight(pegs: PegPlan, posts: Posts, y: float) -> tuple[tuple[Step, ...], tuple[Step, ...]]:
    (_, home), (_, far) = posts
    slope = _side(_leaves_above(pegs))
    out: tuple[Step, ...] = (("move", home, y + slope), ("line", far, y - slope))
    return out, (("move", home, y - slope), ("line", far, y + slope))


def _span_ways(pegs: PegPlan, posts: Posts, y: float) -> Iterable[Mark]:
    """Out and back, and round the far post."""
    far = posts[-1][1]
    above = passes_above(pegs)
    if above:
        out, back = (
            (*_pass(posts, sides, y), ("line", far, y + _side(sides[-1]))) for sides in (above, _others(above))
        )
        arrives = _side(above[-1])
    else:
        out, back = _eight(pegs, posts, y)
        arrives = -_side(_leaves_above(pegs))
    yield from crossing_ways((*out, *_turn(far, y, arrives)), back)


def _turn(x: float, y: float, arrives: float) -> list[Step]:
    """Half round the far post, from the side on which the way out comes to the other one."""
    angles = (pi / 2 - pi * piece / ARC_PIECES for piece in range(1, ARC_PIECES + 1))
    return [("line", x + CLEAR * cos(angle), y + arrives * sin(angle)) for angle in angles]


def _break(posts: Posts, y: float) -> Iterable[Mark]:
    """Two slanting strokes across the thread and nothing between them: the stretch is longer than it is drawn."""
    start, stop = posts[-2][1], posts[-1][1]
    x, high = start + (stop - start) * BREAK_AT, CLEAR + 1.4
    left, right = x - BREAK / 2, x + BREAK / 2
    lean = 0.6
    corners = ((left - lean, y + high), (left + lean, y - high), (right + lean, y - high), (right - lean, y + high))
    yield Path((("move", *corners[0]), *(("line", *corner) for corner in corners[1:]), ("close",)), fill=WHITE)
    for low, up in ((corners[0], corners[1]), (corners[3], corners[2])):
        yield Line(*low, *up, RULE)


def _leaves_above(pegs: PegPlan) -> bool:
    """Whether the way out leaves home on the side that is drawn above; y grows downwards."""
    return pegs.round_trip.legs[0].start[1] < pegs.round_trip.passed[0].y_mm
