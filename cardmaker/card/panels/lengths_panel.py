"""Where the length goes: the warp as one bar from end to end, what it gives, and the sum that leads there."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import accumulate, pairwise
from typing import Final

from cardmaker.card.paragraphs import Paragraph
from cardmaker.card.parts import columns_part, picture_part, quarters, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.ink import BLACK, HAIRLINE, OUTLINE, SOFT, WHITE
from cardmaker.layout.spreading import spread
from cardmaker.layout.stacking import NO_ROOM, Part, exactly
from cardmaker.layout.type_setting import Span, cap_height, tail_depth, words_group
from cardmaker.model.marks import Box, Colour, Face, Line, Mark, Rectangle, Words
from cardmaker.model.record_class import record, replace
from cardmaker.reckoning.amounts.warp_shares import length_shares
from cardmaker.wording import length_words, phrases, piece_words

TINTS: Final[dict[str, Colour]] = {
    "finished": WHITE, "washing": "#e8e8e8", "take-up": "#d2d2d2", "fringes": "#f4f4f4", "spare": "#e8e8e8",
    "waste": "#bdbdbd",
}  # fmt: skip
PADDING: Final = 1.0  # mm between a label and the ends of its part
BAR_ABOVE_CAPS: Final = 3.4  # mm that the bar is higher than its labels
BELOW_BAR: Final = 2.0  # mm from the bar to the labels that find no room in it
OFF_LABEL: Final = 0.6  # mm from the end of a leader to the label below it
INTO_LABEL: Final = 1.5  # mm from the end of a label to where its leader may come down
FIRST_BEND, BETWEEN_BENDS = 0.9, 0.85  # mm from the bar to the first bend of leaders, and from one to the next
BESIDE_BAR: Final = 4.0  # mm from the heading to the bar
BETWEEN_LABELS: Final = 4.0  # mm


@record
class _Label:
    """What stands in a part of the bar, or below it."""

    text: str
    left: float
    right: float
    tint: Colour
    below_at: float | None  # where it begins, if below

    @property
    def middle(self) -> float:
        return (self.left + self.right) / 2


def _labels(sheet: Sheet, width: float) -> list[_Label]:
    """The labels, each with its unit; where those below the bar do not find room so, the first one alone has it."""
    with_units = _labels_set(sheet, width, with_unit=True)
    return with_units if _below_fit(sheet, with_units, width) else _labels_set(sheet, width, with_unit=False)


def _foot(sheet: Sheet, label: _Label) -> float:
    """Where the leader comes down on a label below the bar: under its part, or as near to that as the label is."""
    left = (label.below_at or 0.0) + INTO_LABEL
    right = left + sheet.wide(label.text, Face.SANS, sheet.sizes.small) - 2 * INTO_LABEL
    return min(max(label.middle, left), max(left, right))


def _bends(sheet: Sheet, labels: Sequence[_Label]) -> dict[_Label, int]:
    """In which row below the bar each leader that must go aside does so, so that none crosses another: of those that
    go left the first nearest to the bar, of those that go right the last."""
    below = [label for label in labels if label.below_at is not None]
    left = [label for label in below if _foot(sheet, label) < label.middle - 0.01]
    right = [label for label in below if _foot(sheet, label) > label.middle + 0.01]
    return dict(zip(left, range(len(left)), strict=True)) | dict(zip(reversed(right), range(len(right)), strict=True))


def _below_bar(sheet: Sheet, labels: Sequence[_Label]) -> float:
    """From the bar to the labels below it, with room for the bends of their leaders."""
    rows = max(_bends(sheet, labels).values(), default=-1) + 1
    return BELOW_BAR if rows < 1 else max(BELOW_BAR, FIRST_BEND + (rows - 1) * BETWEEN_BENDS + 0.7 + OFF_LABEL)


def _labels_set(sheet: Sheet, width: float, *, with_unit: bool) -> list[_Label]:
    """The labels of the parts in order; those below keep apart from each other and within the bar."""
    lengths, size = sheet.plan.lengths, sheet.sizes.small
    shares = length_shares(lengths)
    whole = sum(share.mm for share in shares)
    edges = accumulate((float(share.mm / whole) * width for share in shares), initial=0.0)
    labels = [
        _Label(text, left, right, TINTS[share.name], None)
        for share, text, (left, right) in zip(
            shares,
            length_words.share_labels(lengths, sheet.units, with_unit=with_unit),
            pairwise(edges),
            strict=True,
        )
    ]
    wide = {label: sheet.wide(label.text, Face.SANS, size) for label in labels}
    below = [label for label in labels if label.text and wide[label] + 2 * PADDING > label.right - label.left]
    widths = [wide[label] for label in below]
    gaps = [BETWEEN_LABELS] * max(0, len(below) - 1)
    middles = spread([label.middle for label in below], widths, gaps, width)
    starts = {label: middle - wide[label] / 2 for label, middle in zip(below, middles, strict=True)}
    return [replace(label, below_at=starts.get(label)) for label in labels]


def _below_fit(sheet: Sheet, labels: Sequence[_Label], width: float) -> bool:
    """Whether the labels below the bar find room beside each other."""
    wide = [sheet.wide(label.text, Face.SANS, sheet.sizes.small) for label in labels if label.below_at is not None]
    return sum(wide) + BETWEEN_LABELS * max(0, len(wide) - 1) <= width


def _bar_height(sheet: Sheet) -> float:
    return cap_height(sheet.sizes.small) + BAR_ABOVE_CAPS


def _picture(sheet: Sheet, width: float) -> Part:
    labels, size = _labels(sheet, width), sheet.sizes.small
    below = (
        _below_bar(sheet, labels) + cap_height(size) + tail_depth(size)
    )  # also for the whole length, which stands on that line
    alt_text = partial(length_words.shares_alt_text, sheet.plan.lengths, sheet.units)
    fits = width > 0 and _below_fit(sheet, labels, width)
    heights = exactly(_bar_height(sheet) + below) if fits else NO_ROOM
    return picture_part(
        "lengths", heights, lambda box: _draw_bar(sheet, labels, box), alt_text, above=0.0, facts=("lengths",)
    )


def _draw_bar(sheet: Sheet, labels: Sequence[_Label], box: Box) -> list[Mark]:
    size, high = sheet.sizes.small, _bar_height(sheet)
    marks: list[Mark] = []
    bends, space = _bends(sheet, labels), _below_bar(sheet, labels)
    for label in labels:
        part = Box(box.left + label.left, box.top, label.right - label.left, high)
        marks.append(Rectangle(part, label.tint, BLACK, OUTLINE))
        if not label.text:
            continue
        if label.below_at is None:
            y = part.top + (high + cap_height(size)) / 2
            marks.append(Words(part.middle, y, label.text, Face.SANS, size, align="middle"))
        else:
            y = part.bottom + space + cap_height(size)
            marks.append(Words(box.left + label.below_at, y, label.text, Face.SANS, size))
            marks += _leader(part, box.left + _foot(sheet, label), part.bottom + space - OFF_LABEL, bends.get(label))
    return marks


def _leader(part: Box, foot: float, stop: float, bend: int | None) -> list[Mark]:
    """From the middle of a part down to its label; aside in its own row where that is not below it."""
    if bend is None:
        return [Line(part.middle, part.bottom, part.middle, stop, HAIRLINE)]
    at = part.bottom + FIRST_BEND + bend * BETWEEN_BENDS
    corners = ((part.middle, part.bottom), (part.middle, at), (foot, at), (foot, stop))
    return [Line(*one, *other, HAIRLINE) for one, other in pairwise(corners)]


def _sum(sheet: Sheet) -> Paragraph:
    """What is asked for and the sum for the long case, what to wind and what comes of it, and what it rests on."""
    lengths, units = sheet.plan.lengths, sheet.units
    before = [Span(line) for line in length_words.length_sum(sheet.plan, units)]
    wind = Span(f"{length_words.wind_on_pegs(lengths, units)},", Face.SANS_SEMIBOLD)
    gives, basis = Span(f"which {length_words.gives(lengths, units)}."), length_words.length_basis(lengths)
    return [*before, wind, gives, *([Span(basis)] if basis else [])]


def _parts(sheet: Sheet, width: float) -> list[Part]:
    """The heading stands left of the bar, with the whole length below it."""
    lengths, small = sheet.plan.lengths, sheet.sizes.small
    margin = _margin(sheet, width)
    below = _below_bar(sheet, _labels(sheet, width - margin))
    heading = Part(exactly(_bar_height(sheet)), lambda box: _heading(sheet, box, below))
    parts = [columns_part([(0.0, margin, heading), (margin, width - margin, _picture(sheet, width - margin))])]
    if pieces := piece_words.pieces_in_brief(lengths, sheet.units):
        told = _with_what_lies_between(sheet, [Span(pieces)], width)
        parts.append(words_part(sheet, width, [told], small, above=1.2, facts=("pieces", "between pieces")))
    if tapes := length_words.lengths_from_tapes(sheet.plan):  # few have it, so it is in no list of what a card tells
        parts.append(words_part(sheet, width, [[Span(tapes)]], small, above=1.2, priority=-1))
    return [*parts, words_part(sheet, width, [_sum(sheet)], small, above=1.0, facts=("sum",), priority=12)]


def _with_what_lies_between(sheet: Sheet, told: Paragraph, width: float) -> Paragraph:
    """What is told of pieces with what to do between two of them, in fewer words where that saves a line."""
    tries = []
    for brief in (False, True):
        between = piece_words.where_to_cut_in_brief(sheet.plan.lengths, sheet.units, brief=brief)
        tries.append([*told, *([Span(phrases.capitalised(between))] if between else [])])
    return min(tries, key=lambda spans: len(sheet.lines(spans, sheet.sizes.small, width)))


def _margin(sheet: Sheet, width: float) -> float:
    """Where the bar begins: at the second quarter of the width."""
    heading = sheet.wide(length_words.LENGTHS, Face.SERIF_SEMIBOLD, sheet.sizes.heading)
    needed = max(heading, sheet.wide(_whole(sheet), Face.SANS, sheet.sizes.small)) + BESIDE_BAR
    return max(needed, quarters(width)[0][1])


def _whole(sheet: Sheet) -> str:
    return length_words.whole_warp(sheet.plan.lengths, sheet.units)


def _heading(sheet: Sheet, box: Box, below_bar: float) -> list[Mark]:
    cap, small = cap_height(sheet.sizes.heading), sheet.sizes.small
    y = box.top + (box.height + cap) / 2
    heading = Words(box.left, y, length_words.LENGTHS, Face.SERIF_SEMIBOLD, sheet.sizes.heading)
    below = Words(box.left, box.bottom + below_bar + cap_height(small), _whole(sheet), Face.SANS, small, SOFT)
    return [words_group("heading", box, heading), words_group("paragraph", box, below)]


def _pieces(sheet: Sheet, width: float) -> Sequence[Part]:
    """One paragraph that begins with its heading in bold."""
    lines = piece_words.piece_lines(sheet.plan.lengths, sheet.units)
    words = [Span(f"{piece_words.PIECES}:", Face.SANS_SEMIBOLD), *(Span(line) for line in lines)]
    return (words_part(sheet, width, [words], sheet.sizes.body, facts=("pieces", "pieces on the loom")),)


LENGTHS = Panel("lengths", _parts)


def _pieces_line(sheet: Sheet, width: float) -> Sequence[Part]:
    """How long each is on the loom and what to do between two, where there is no room for more."""
    lengths, units = sheet.plan.lengths, sheet.units
    pieces = piece_words.pieces_in_brief(lengths, units, alone=True)
    named = [Span(f"{piece_words.PIECES}:", Face.SANS_SEMIBOLD), *([Span(pieces)] if pieces else [])]
    words = _with_what_lies_between(sheet, named, width)
    return (words_part(sheet, width, [words], sheet.sizes.small, facts=("pieces", "pieces on the loom")),)


PIECES_LINE = Panel("pieces-line", _pieces_line, applies=lambda sheet: bool(sheet.plan.lengths.pieces_come))
PIECES = Panel("pieces", _pieces, applies=lambda sheet: bool(sheet.plan.lengths.pieces))
