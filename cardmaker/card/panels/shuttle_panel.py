"""The shuttle: where the weft hangs tells which shed comes next, and how often it is filled."""

from __future__ import annotations

from cardmaker.card.paragraphs import Paragraph, alt_text_panel, paragraph, paragraph_height, paragraphs_panel
from cardmaker.card.sheet import Drawing, Sheet, headed, heading_height, whole_panel
from cardmaker.layout.ink import BLACK, HAIRLINE, OUTLINE, WHITE
from cardmaker.layout.stacking import HeightRange
from cardmaker.layout.type_setting import Span, cap_height, figure, fitting_size, leading, tail_depth
from cardmaker.model.loom import Side
from cardmaker.model.marks import Box, Face, Line, Mark, Path, Rectangle, Words
from cardmaker.wording import shed_words, time_words

GAP = 4.0
LEAST_PICTURE, MOST_PICTURE = 13.0, 20.0
ABOVE_TUG = 2.4


def _words_height(sheet: Sheet) -> float:
    below = tail_depth(sheet.sizes.count) if sheet.brief else 0.0  # the last line's descenders
    return 2.2 + leading(sheet.sizes.body) + 1.4 + cap_height(sheet.sizes.count) + below


def _tug_height(sheet: Sheet, width: float) -> float:
    hints = _hints(sheet)
    return ABOVE_TUG + paragraph_height(sheet, hints, sheet.sizes.small, width) if hints else 0.0


def _hints(sheet: Sheet) -> Paragraph:
    """What stands below the rule: what the loom's file leaves open, and how to find the shed again."""
    hints = shed_words.next_shed_hints(sheet.plan.loom, brief=sheet.brief)
    return [Span(hint) for hint in (*hints, *([] if sheet.brief else [shed_words.TUG]))]


def _heights(sheet: Sheet, width: float) -> HeightRange:
    fixed = heading_height(sheet) + _words_height(sheet) + _tug_height(sheet, width)
    return HeightRange(fixed + LEAST_PICTURE * sheet.picture_share, fixed + MOST_PICTURE)


def _draw(sheet: Sheet, box: Box) -> Drawing:
    marks, body = headed(sheet, box, shed_words.shuttle_heading(sheet.plan.view))
    tug, words = _tug_height(sheet, box.width), _words_height(sheet)
    height = min(MOST_PICTURE, body.height - tug - words)
    half = (body.width - GAP) / 2
    drawn: list[Mark] = []
    for number, (side, shed) in enumerate(shed_words.hangs_and_next(sheet.plan.loom)):
        column = Box(body.left + number * (half + GAP), body.top, half, height)
        drawn += sheet.as_mirrored(_picture(column, side), column)
        drawn += _rule(sheet, column, side, shed)
    picture = Box(body.left, body.top, body.width, height + words)
    marks.append(figure("shuttle", picture, drawn, _alt_text(sheet)))
    if hints := _hints(sheet):
        marks += paragraph(sheet, hints, sheet.sizes.small, body.inset(top=height + words + ABOVE_TUG))
    return Drawing(tuple(marks))


def _alt_text(sheet: Sheet) -> str:
    return shed_words.next_shed_alt_text(sheet.plan)


def _rule_size(sheet: Sheet, width: float, shed: str) -> float:
    text = shed_words.next_shed(shed)
    return fitting_size(text, Face.SANS_BOLD, sheet.sizes.count, width - 0.3, sheet.ruler, sheet.sizes.smallest)


def _rule(sheet: Sheet, picture: Box, side: Side, shed: str) -> list[Mark]:
    """Two lines: where the weft hangs, what comes next; the second in the size of a count."""
    hangs, follows = shed_words.hanging(side, sheet.plan.loom), shed_words.next_shed(shed)
    big = min(
        _rule_size(sheet, picture.width, each) for _, each in shed_words.hangs_and_next(sheet.plan.loom)
    )  # the same for both
    baseline = picture.bottom + 2.2 + cap_height(sheet.sizes.body)
    return [
        Words(picture.left, baseline, hangs, Face.SANS, sheet.sizes.body),
        Words(picture.left, baseline + 2.6 + cap_height(sheet.sizes.count), follows, Face.SANS_BOLD, big),
    ]


def _picture(box: Box, side: Side) -> list[Mark]:
    """The tape from above, woven below the fell and open above it, the weft running out to its shuttle."""
    tape = min(9.0, box.width * 0.26)
    middle = box.left + box.width * (0.36 if side is Side.RIGHT else 0.64)
    left, right = middle - tape / 2, middle + tape / 2
    fell = box.top + box.height * 0.48
    marks: list[Mark] = _warp(left, right, box.top, fell)
    marks += _cloth(left, right, fell, box.bottom)
    sign = 1 if side is Side.RIGHT else -1
    edge = right if side is Side.RIGHT else left
    stop = edge + sign * min(box.width * 0.20, 11.0)
    low = box.top + box.height * 0.80
    weft = Path(
        (("move", edge, fell + 0.7), ("curve", edge + sign * 6, fell + 0.4, stop, fell + 2, stop, low)),
        stroke=BLACK, width=OUTLINE * 1.5,
    )  # fmt: skip
    return [*marks, weft, *_shuttle(stop, low, box)]


def _warp(left: float, right: float, top: float, fell: float) -> list[Mark]:
    ends = 7
    step = (right - left) / (ends - 1)
    return [Line(left + n * step, top, left + n * step, fell, HAIRLINE * 1.4) for n in range(ends)]


def _cloth(left: float, right: float, fell: float, bottom: float) -> list[Mark]:
    marks: list[Mark] = [Rectangle(Box(left - 0.3, fell, right - left + 0.6, bottom - fell), WHITE, BLACK, OUTLINE)]
    picks = max(2, int((bottom - fell) / 1.5))
    step = (bottom - fell) / picks
    width = right - left
    for pick in range(picks):
        y = fell + pick * step
        if pick:
            marks.append(Line(left - 0.3, y, right + 0.3, y, HAIRLINE))
        for end in range(6):
            x = left + (end + (0.5 if pick % 2 else 0.0)) * width / 6
            if left < x < right:
                marks.append(Line(x, y, x, y + step, HAIRLINE))
    return marks


def _shuttle(x: float, y: float, box: Box) -> list[Mark]:
    """A flat stick shuttle lying beside the tape, notched at both ends."""
    long, half = min(13.0, box.width * 0.30), 1.35
    left = min(max(x - long / 2, box.left), box.right - long)
    right = left + long
    body = Path(
        (
            ("move", left + 0.4, y), ("line", left, y + half * 0.4), ("line", left + 1.4, y + half),
            ("line", left, y + half * 1.6), ("line", left + 0.4, y + half * 2), ("line", right - 0.4, y + half * 2),
            ("line", right, y + half * 1.6), ("line", right - 1.4, y + half), ("line", right, y + half * 0.4),
            ("line", right - 0.4, y), ("close",),
        ),
        fill=WHITE, stroke=BLACK, width=OUTLINE,
    )  # fmt: skip
    wraps: list[Mark] = [
        Line(left + 2.2 + n * 0.75, y + 0.1, left + 2.2 + n * 0.75, y + 2 * half - 0.1, OUTLINE * 1.3)
        for n in range(int((long - 4.4) / 0.75) + 1)
    ]
    return [body, *wraps]


def _next(sheet: Sheet) -> list[Paragraph]:
    """On a small card: the two rules in words alone."""
    loom = sheet.plan.loom
    rules = [
        [Span(f"{shed_words.hanging(side, loom)},"), Span(shed_words.next_shed(shed), Face.SANS_BOLD)]
        for side, shed in shed_words.hangs_and_next(loom)
    ]
    if seat := shed_words.hangs_from(loom.view):
        rules[0] = [Span(seat, Face.SANS_SEMIBOLD), *rules[0]]
    return [*rules, *([Span(hint)] for hint in shed_words.next_shed_hints(loom, brief=True))]


def _weaving(sheet: Sheet) -> list[Paragraph]:
    """Wraps and fills, picks and hours, as far as the loom's file tells."""
    plan = sheet.plan
    wraps = [time_words.wraps(plan.shuttle, plan.weft.buy_mm, sheet.units)] if plan.shuttle else []
    hours = [time_words.picks_and_hours(plan.pace, sheet.units, brief=True)] if plan.pace else []
    return [[Span(sentence)] for sentence in (*wraps, *hours)]


SHUTTLE = whole_panel("shuttle", _heights, _draw)
NEXT = alt_text_panel("next", _next, _alt_text)
WEAVING = paragraphs_panel(
    "weaving", _weaving, time_words.WEAVING, applies=lambda sheet: bool(sheet.plan.shuttle or sheet.plan.pace)
)
