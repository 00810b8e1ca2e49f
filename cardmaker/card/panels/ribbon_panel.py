"""The ribbon: the tape itself at life size down the whole card, pick by pick, with the scale beside it.

At most 18 mm wide, so that a wide tape never starves the rest of the card: of one that is the same from both edges the
left half is drawn, cut at its middle; another is drawn smaller, and lies at life size across the page where it fits.
"""

from __future__ import annotations

from typing import Final

from cardmaker.card.margin_marks import NotchPlace
from cardmaker.card.panels.scale_drawing import BAR_FOOT, BAR_MM, ScaleBar, scale_bars, scale_room
from cardmaker.card.parts import picture_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.ink import BLACK, FAINT, HAIRLINE, OUTLINE, RULE, SOFT
from cardmaker.layout.lettering import hatched_cell
from cardmaker.layout.stacking import NO_ROOM, HeightRange, Part
from cardmaker.layout.type_setting import SetLine, Span, cap_height, figure, tail_depth, text_height, words_group
from cardmaker.layout.woven_face import LEAST_OUTLINED, edges_across, in_whole_picks, stamped_face
from cardmaker.model.marks import Box, Face, Group, Line, Mark, Rectangle, Stamp, Words
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import record, replace
from cardmaker.wording import ribbon_words

SIGN_PANEL: Final = "visitor"
RIBBON_MOST: Final = 18.0  # mm
BAND: Final = 4.0  # mm of flat, hatched stripes over the picks: in these a grey copy tells the yarns
BELOW_CAPTION: Final = 1.2  # mm from the tails of what is said of a tape to its head
BESIDE_CUT: Final = 0.8  # mm of white paper from half a tape to the line of its middle
BEYOND_CUT: Final = 0.8  # mm that this line is longer than the tape at its head; at its foot may be the margin
ABOVE_BAR: Final = 4.0  # mm from a tape that is drawn smaller to the bar below it
BEFORE_BAR: Final = 1.4  # mm from what that bar is for to its line
LEAST_SHARE: Final = 0.4  # of the column that such a tape keeps
ABOVE_NOTCH: Final = 0.6  # mm
SAMPLE_GAP: Final = 1.5  # mm from the ribbon's end to the window for a sample
MIDDLE_DASHES: Final = (3.0, 0.8, 0.6, 0.8)  # mm: the chain line of a middle
CLEAR: Final = 4.0  # mm from the last bar to the mark of sample data
FINE_RUN: Final = 1.5  # mm: stripes of the band that are narrower have no outline, or all of it were outlines
BEAR_MARK: Final = frozenset({"foot", "cautions"})  # the panels that say that it is sample data
STRIP: Final = HeightRange(8.0, 14.0)  # mm of picks that a strip across the page shows
BESIDE_STRIP, STRIP_WORDS = 4.0, 30.0  # mm from the strip to its words, and the least room that these take


@record
class RibbonCut:
    """How a tape is drawn as a ribbon: how wide in mm, how large, and whether it is cut at its middle."""

    width: float
    scale: float = 1.0
    is_half: bool = False

    @property
    def is_whole(self) -> bool:
        """Whether all of it is there at life size."""
        return self.scale == 1 and not self.is_half


def ribbon_cut(plan: Plan, *, is_sign: bool = False) -> RibbonCut:
    """Whole at life size up to 18 mm, else the left half of a tape that is the same from both edges, else smaller; as a
    sign for whoever has never seen the tape, always all of it."""
    likely = float(plan.width.likely_mm)
    if likely <= RIBBON_MOST:
        return RibbonCut(likely)
    mirrors = plan.same_both_ways and (plan.pickup is None or plan.pickup.same_both_ways)
    if mirrors and likely / 2 <= RIBBON_MOST and not is_sign:
        return RibbonCut(likely / 2, is_half=True)
    return RibbonCut(RIBBON_MOST, RIBBON_MOST / likely)


def _cut_of(sheet: Sheet) -> RibbonCut:
    return ribbon_cut(sheet.face_plan, is_sign=_is_sign(sheet))


def _is_sign(sheet: Sheet) -> bool:
    """Whether visitors look at it: they are told in words how wide it is and how wide it is drawn."""
    return SIGN_PANEL in sheet.layout.panels


def drawn_scale(sheet: Sheet) -> float:
    """How large the ribbon is drawn, in times of life size."""
    return _cut_of(sheet).scale if sheet.layout.ribbon else 1.0


def ribbon_column(sheet: Sheet, area: Box) -> Box:
    """The ribbon's column in the area of a card: as wide on every card of a layout, so that texts begin at one edge."""
    return Box(area.left, area.top, RIBBON_MOST + scale_room(sheet), area.height)


def above_notch(column: Box, notch: NotchPlace | None) -> Box:
    """What a notch at the foot of the ribbon's column leaves of it."""
    return column.inset(bottom=notch.column.height + ABOVE_NOTCH) if notch and notch.column else column


def draw_ribbon(sheet: Sheet, box: Box) -> tuple[Mark, ...]:
    """The tape from the top of ``box`` to its foot, millimetres beside its first half and inches beside the second."""
    cut, tape = _cut_of(sheet), _tape(sheet, box)
    bars = _bars(sheet, tape, box)
    marks: list[Mark] = [*_caption(sheet, box), *_band(sheet, tape), *_picks(sheet, tape)]
    marks += [mark for bar in bars for mark in bar.marks]
    if cut.scale < 1 and bars:
        marks.append(_use_of_bar(sheet, bars[0]))
    if sheet.layout.sample_mm:
        marks += _sample_window(sheet, box)
    alt_text = ribbon_words.ribbon_alt_text(
        sheet.face_plan, sheet.units, [bar.in_words for bar in bars],
        is_half=cut.is_half, scale=cut.scale, has_window=bool(sheet.layout.sample_mm),
    )  # fmt: skip
    drawn = figure("ribbon", box, marks, alt_text)
    if not _has_room_for_mark(sheet, box, bars):
        return (drawn,)
    return drawn, _mark_of_sample_data(sheet, box)


def _tape(sheet: Sheet, box: Box) -> Box:
    """Where the tape lies: from the top of its box, where the title begins too, or below what is said of it; over the
    window for a sample, and down to its last whole pick. One that is drawn smaller leaves room for a bar below it: a
    true one beside it would mislead.
    """
    cut = _cut_of(sheet)
    inner = box.inset(top=_caption_height(sheet), bottom=_window_height(sheet))
    bar = _bar_below(inner) if cut.scale < 1 and not _is_sign(sheet) else 0.0
    over = BAND + HAIRLINE
    woven = Box(inner.left, inner.top + over, cut.width, inner.height - bar - over)
    return in_whole_picks(sheet.face_plan, woven, cut.scale).inset(top=-over)


def _window_height(sheet: Sheet) -> float:
    window = sheet.layout.sample_mm
    return window + SAMPLE_GAP if window else 0.0


def _bar_below(inner: Box) -> float:
    """The height for the longest bar that leaves enough to the tape; none where even the shortest does not."""
    heights = (length + ABOVE_BAR + BAR_FOOT for length in BAR_MM)
    return next((high for high in heights if inner.height - high >= LEAST_SHARE * inner.height), 0.0)


def _caption_words(sheet: Sheet) -> str:
    """What is said beside a ribbon that is not the whole tape at life size."""
    cut = _cut_of(sheet)
    if cut.is_whole or _is_sign(sheet):
        return ""
    return ribbon_words.HALF if cut.is_half else ribbon_words.drawn_at(cut.scale)


def _caption_lines(sheet: Sheet) -> list[SetLine]:
    """How small a tape is drawn on two lines, or it would run into the title beside it."""
    text, size, width = _caption_words(sheet), sheet.sizes.smallest, RIBBON_MOST + scale_room(sheet)
    if _cut_of(sheet).scale < 1:
        width = max(sheet.wide(words, Face.SANS_SEMIBOLD, size) for words in text.rsplit(" ", 1)) + 0.1
    return sheet.lines([Span(text, Face.SANS_SEMIBOLD)], size, width) if text else []


def _caption_height(sheet: Sheet) -> float:
    lines = _caption_lines(sheet)
    return text_height(len(lines), sheet.sizes.smallest) + BELOW_CAPTION if lines else 0.0


def _caption(sheet: Sheet, box: Box) -> list[Words]:
    """Over the tape, its capitals level with the title's box: the scale beside the tape begins where the tape does."""
    size = sheet.sizes.smallest
    return sheet.set(_caption_lines(sheet), box.left, box.top + cap_height(size), size)


def _bars(sheet: Sheet, tape: Box, box: Box) -> list[ScaleBar]:
    """Beside the tape from its head down, clear of the line at which it is cut; of a smaller one below it and at the
    column's other side, where nobody measures the tape with it, unless it is a sign."""
    cut = _cut_of(sheet)
    if _is_sign(sheet) and not cut.is_whole:
        return []
    if cut.scale < 1:
        below = Box(box.left + RIBBON_MOST, tape.bottom + ABOVE_BAR, 0.0, 0.0)
        return scale_bars(sheet, below._replace(height=box.bottom - _window_height(sheet) - below.top), box.right)
    beside = tape.inset(right=-BESIDE_CUT if cut.is_half else 0.0)
    over_mark = scale_bars(sheet, beside.inset(bottom=_mark_length(sheet)), box.right)
    return over_mark or scale_bars(sheet, beside, box.right)


def _use_of_bar(sheet: Sheet, bar: ScaleBar) -> Words:
    """Upwards before the middle of the bar below a tape that is drawn smaller: what it is there for."""
    size, middle = sheet.sizes.smallest, (bar.top + bar.bottom) / 2
    upright = next(mark.x1 for mark in bar.marks if isinstance(mark, Line))
    text = ribbon_words.CHECKS_PRINT
    below = middle + sheet.wide(text, Face.SANS, size) / 2
    return Words(upright - BEFORE_BAR, below, text, Face.SANS, size, SOFT, turned=90)


def _mark_length(sheet: Sheet) -> float:
    """What the mark of sample data takes of the height beside the tape; nothing where another panel bears it, and on
    a sign."""
    text = sheet.face_plan.pattern.marked_as
    if not text or _is_sign(sheet) or BEAR_MARK & sheet.layout.panels:
        return 0.0
    return CLEAR + sheet.wide(text, Face.SANS, sheet.sizes.smallest)


def _band(sheet: Sheet, tape: Box) -> list[Mark]:
    """The stripes as flat bands with their yarns' hatching, over the picks: the tape's edges legible in grey."""
    plan = sheet.face_plan
    edges = edges_across(plan, tape._replace(width=float(plan.width.likely_mm) * _cut_of(sheet).scale))
    marks: list[Mark] = []
    for run in plan.runs:
        left = edges[run.first_end - 1]
        cell = Box(left, tape.top, min(tape.right, edges[run.total]) - left, BAND)
        if cell.width > 0:
            marks += _stripe(sheet, run.yarn, cell)
    around = HAIRLINE / 2
    frame = Box(tape.left, tape.top, tape.width, BAND).inset(around, around, around, around)
    return [*marks, Rectangle(frame, stroke=BLACK, width=HAIRLINE)]


def _stripe(sheet: Sheet, yarn: str, cell: Box) -> list[Mark]:
    """The yarn's colour and hatching; outlined where the outline leaves something to see."""
    outline = OUTLINE if cell.width > FINE_RUN else 0.0
    inner = cell.inset(outline / 2, outline / 2, outline / 2, outline / 2)
    return hatched_cell(inner, sheet.inks[yarn], outline=outline)


def _picks(sheet: Sheet, tape: Box) -> list[Mark]:
    """The woven face under the band; of half a tape as much as lies left of its middle, and the line of the middle."""
    cut = _cut_of(sheet)
    woven = tape.inset(top=BAND + HAIRLINE)
    if not cut.is_half:
        return [*stamped_face(sheet, woven, cut.scale), *_edges(sheet, woven)]
    whole = Box(woven.left, woven.top, 2 * woven.width, woven.height)
    face = [
        replace(mark, clip=woven) if isinstance(mark, Stamp) else mark for mark in stamped_face(sheet, whole, cut.scale)
    ]
    x = tape.right + BESIDE_CUT
    return [*face, Line(x, tape.top - BEYOND_CUT, x, tape.bottom, RULE, BLACK, MIDDLE_DASHES)]


def _edges(sheet: Sheet, woven: Box) -> list[Mark]:
    """A line round a tape whose ends are too narrow for one of their own: white is told from the paper."""
    if woven.width / sheet.face_plan.ends >= LEAST_OUTLINED:
        return []
    inner = woven.inset(HAIRLINE / 2, HAIRLINE / 2, HAIRLINE / 2, HAIRLINE / 2)
    return [Rectangle(inner, stroke=BLACK, width=HAIRLINE)]


def _mark_of_sample_data(sheet: Sheet, box: Box) -> Group:
    """Upwards beside the foot of the tape, over the window for a sample, where nobody reads it as its name."""
    size, foot = sheet.sizes.smallest, _tape(sheet, box).bottom
    words = Words(
        box.right - tail_depth(size) - 0.1, foot, sheet.face_plan.pattern.marked_as, Face.SANS, size, SOFT, turned=90
    )
    return words_group("paragraph", box.inset(left=RIBBON_MOST), words)


def _sample_window(sheet: Sheet, box: Box) -> list[Mark]:
    """Where a piece of the woven tape is sewn or stapled on, its name in the middle."""
    size, high = sheet.sizes.smallest, sheet.layout.sample_mm
    frame = Box(box.left, box.bottom - high, RIBBON_MOST, high)
    marks: list[Mark] = [Rectangle(frame, stroke=FAINT, width=RULE, dash=(1.6, 1.2))]
    lines = sheet.lines([Span(ribbon_words.SAMPLE, colour=SOFT)], size, RIBBON_MOST - 2)
    tall = text_height(len(lines), size)
    if tall > high - 1:
        return marks
    baseline = frame.top + (high - tall) / 2 + cap_height(size)
    words = sheet.set(lines, 0.0, baseline, size)
    return [*marks, *(word._replace(x=frame.middle, align="middle") for word in words)]


def _has_room_for_mark(sheet: Sheet, box: Box, bars: list[ScaleBar]) -> bool:
    if _is_sign(sheet):
        return False
    tape, needed = _tape(sheet, box), _mark_length(sheet)
    beside = [bar.bottom for bar in bars if bar.top < tape.bottom]
    return 0 < needed <= tape.bottom - max(beside, default=tape.top)


def _strip_parts(sheet: Sheet, width: float) -> list[Part]:
    wide = float(sheet.face_plan.width.likely_mm)
    heights = STRIP if wide <= width else NO_ROOM
    alt = ribbon_words.strip_alt_text(sheet.face_plan)
    return [picture_part("strip", heights, lambda box: _draw_strip(sheet, box, wide), alt, facts=("face",))]


def _draw_strip(sheet: Sheet, box: Box, wide: float) -> list[Mark]:
    """The whole width of the tape and some picks of it, with words beside it where they find room."""
    tape = Box(box.left, box.top, wide, box.height)
    size, words = sheet.sizes.small, box.inset(left=wide + BESIDE_STRIP)
    lines = sheet.lines([Span(ribbon_words.WHOLE_WIDTH, colour=SOFT)], size, max(words.width, 1.0))
    fits = words.width >= STRIP_WORDS and text_height(len(lines), size) <= box.height
    beside = sheet.set(lines, words.left, words.top + cap_height(size), size) if fits else []
    return [*stamped_face(sheet, tape, 1.0), *beside]


def _needs_strip(sheet: Sheet) -> bool:
    """Where the ribbon is drawn smaller; and on a back whose words need the room of its ribbon."""
    if sheet.is_back:
        return sheet.layout.ribbon_on_back and not sheet.layout.ribbon
    return sheet.layout.ribbon and _cut_of(sheet).scale < 1


STRIP_PANEL: Final = Panel("strip", _strip_parts, _needs_strip)
