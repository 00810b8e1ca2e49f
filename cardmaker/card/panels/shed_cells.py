"""The two frames of the sheds: in each the pictogram of one, and in words where the weft hangs and what opens it."""

from __future__ import annotations

from functools import partial
from typing import Literal

from cardmaker.card.panels.shed_drawing import HIGH, WIDE, pictogram
from cardmaker.card.parts import picture_part
from cardmaker.card.sheet import Sheet
from cardmaker.layout.ink import BLACK, OUTLINE, WHITE
from cardmaker.layout.stacking import NO_ROOM, HeightRange, Part
from cardmaker.layout.type_setting import cap_height, tail_depth
from cardmaker.model.loom import Side
from cardmaker.model.marks import Box, Face, Mark, Rectangle, Words
from cardmaker.model.record_class import record
from cardmaker.wording import shed_words
from cardmaker.wording.shed_words import NextShed

GAP = 3.0  # between the cells
PAD = 1.8  # inside their frames
BESIDE_WORDS = 0.9  # inside them, where words are wide
ABOVE_CAPTION = 1.9
BESIDE_PICTURE = 2.5
RADIUS = 1.2
LEAST_SCALE, MOST_SCALE = 0.5, 1.75  # of the pictogram: never so small that its ends run together
USUAL_SCALE = 0.95  # before anything that may be left out finds room
LARGE_SCALE = 1.3  # the same beside the words of a wide cell
LEAST_SHARE = 0.58  # of it on a crowded card: what the hands look at gives way last
AIR = 0.7  # from words to the frame, more than the usual: else they are set in two lines where there is room
FRAME = OUTLINE * 1.4
ONE_LINE, TWO_LINES, CLOSE_LINES = (
    1.3,
    1.5,
    1.15,
)  # the words of a cell, in sizes of a sentence: the picture stays the larger


@record
class _Caption:
    """How both cells are lettered: in one line below the picture, in two lines, or beside it."""

    place: Literal["one line", "two lines", "beside"]
    side_size: float
    shed_size: float
    width: float  # of the words
    shed_face: Face = Face.SANS_BOLD


def _caption(sheet: Sheet, width: float) -> _Caption | None:
    """The largest lettering that the cells hold; None when they are too narrow for any. It always tells the side: that
    is the condition on which the shed depends."""
    inner, sizes = _inner(width), sheet.sizes
    is_full = sheet.is_terse and "trouble" in sheet.layout.panels
    is_full = is_full or bool({"six", "six-if-room"} & sheet.layout.panels)  # whose words need the height
    scale = LEAST_SCALE if is_full else USUAL_SCALE if _lies_on_long_side(sheet) else LARGE_SCALE
    beside = inner - WIDE * scale - BESIDE_PICTURE
    if _two_lines_width(sheet, sizes.body, sizes.body) <= beside:
        return _in_two_lines(sheet, "beside", beside)
    room = inner + 2 * (PAD - BESIDE_WORDS)
    may_be_tight = sheet.is_crowded and _closes_up(sheet)
    size = min(sizes.count, sizes.body * (1.0 if sheet.is_crowded else ONE_LINE))
    while size > sizes.body and _one_line_width(sheet, size) > inner:
        size = max(sizes.body, size - 0.5)
    if (wide := _one_line_width(sheet, size)) <= (room if may_be_tight else inner - _air(sheet)):
        return _Caption("one line", size, size, wide)
    tries = [_in_two_lines(sheet, "two lines", room, face) for face in (Face.SANS_BOLD, Face.SANS_SEMIBOLD)]
    return next((caption for caption in tries if caption.width <= room), None)


def _air(sheet: Sheet) -> float:
    """What words in one line keep from the frame, more than the usual, on a small card, in mm."""
    return 2 * AIR if sheet.brief else 0.0


def _closes_up(sheet: Sheet) -> bool:
    """Whether words may stand close to the frame: of a small card, only where it has much to tell."""
    if not sheet.brief:
        return True
    from cardmaker.card.panels.winding_sentence import has_much_to_tell  # which few cards need

    return has_much_to_tell(sheet)


def _lies_on_long_side(sheet: Sheet) -> bool:
    return sheet.paper.width_mm > sheet.paper.height_mm


def _in_two_lines(
    sheet: Sheet, place: Literal["two lines", "beside"], room: float, face: Face = Face.SANS_BOLD
) -> _Caption:
    side = sheet.sizes.body
    big = (
        side
        if sheet.is_crowded and place == "two lines"
        else min(max(side, sheet.sizes.count), side * (CLOSE_LINES if sheet.is_crowded and sheet.brief else TWO_LINES))
    )
    while big > side and _two_lines_width(sheet, side, big, face) > room:
        big = max(side, big - 0.5)
    while side > sheet.sizes.smallest and _two_lines_width(sheet, side, big, face) > room:
        side = big = max(sheet.sizes.smallest, side - 0.5)
    return _Caption(place, side, big, _two_lines_width(sheet, side, big, face), face)


def _inner(width: float) -> float:
    return (width - GAP) / 2 - 2 * PAD


def _pad(sheet: Sheet) -> float:
    """Over and under what stands in a frame."""
    return PAD * (0.5 if sheet.is_closest else 0.7 if sheet.is_crowded else 1.0)


def _above_caption(sheet: Sheet) -> float:
    return ABOVE_CAPTION * (0.5 if sheet.is_closest else 0.65 if sheet.is_crowded else 1.0)


def _words(sheet: Sheet, rule: NextShed) -> tuple[str, str]:
    return f"{shed_words.weft_side(rule.hangs, sheet.plan.loom)}:", rule.opens.in_capitals


def _rules(sheet: Sheet) -> tuple[NextShed, NextShed]:
    return shed_words.sheds_in_turn(sheet.plan)


def _one_line_width(sheet: Sheet, size: float) -> float:
    return max(sum(_widths(sheet, rule, size, size)) + _space(sheet, size) for rule in _rules(sheet))


def _two_lines_width(sheet: Sheet, side_size: float, shed_size: float, face: Face = Face.SANS_BOLD) -> float:
    return max(max(_widths(sheet, rule, side_size, shed_size, face)) for rule in _rules(sheet))


def _widths(
    sheet: Sheet, rule: NextShed, side_size: float, shed_size: float, face: Face = Face.SANS_BOLD
) -> tuple[float, float]:
    side, shed = _words(sheet, rule)
    return sheet.wide(side, Face.SANS, side_size), sheet.wide(shed, face, shed_size)


def _space(sheet: Sheet, size: float) -> float:
    return sheet.wide(" ", Face.SANS, size)


def _caption_height(caption: _Caption) -> float:
    """From the top of its first capitals to its last baseline, and what hangs below it of *right*."""
    first = cap_height(caption.side_size)
    return first + (tail_depth(caption.side_size) * 0.6 if caption.place == "one line" else _line_step(caption))


def _line_step(caption: _Caption) -> float:
    """From the line that tells the side to the one that tells the shed."""
    return cap_height(caption.shed_size) + 1.1 + tail_depth(caption.side_size) * 0.6


def _cells_heights(sheet: Sheet, width: float) -> HeightRange:
    caption = _caption(sheet, width)
    widest = _picture_width(caption, width) / WIDE if caption else 0.0
    if caption is None or widest < LEAST_SCALE:
        return NO_ROOM
    usual = min(widest, LARGE_SCALE if caption.place == "beside" and not _lies_on_long_side(sheet) else USUAL_SCALE)
    least = max(LEAST_SCALE, usual * max(LEAST_SHARE, sheet.picture_share))
    return HeightRange(*(_cell_height(sheet, caption, scale) for scale in (least, max(least, min(widest, MOST_SCALE)))))


def _picture_width(caption: _Caption, width: float) -> float:
    return _inner(width) - (caption.width + BESIDE_PICTURE if caption.place == "beside" else 0.0)


def _cell_height(sheet: Sheet, caption: _Caption, scale: float) -> float:
    if caption.place == "beside":
        return 2 * _pad(sheet) + max(HIGH * scale, _caption_height(caption))
    return 2 * _pad(sheet) + HIGH * scale + _above_caption(sheet) + _caption_height(caption)


def _cells(sheet: Sheet, box: Box) -> list[Mark]:
    marks: list[Mark] = []
    caption = _caption(sheet, box.width)
    assert caption is not None  # its height says that it has no room
    caption = _with_more_air(sheet, caption, box)
    half = (box.width - GAP) / 2
    for number, rule in enumerate(_rules(sheet)):
        cell = Box(box.left + number * (half + GAP), box.top, half, box.height)
        marks += _cell(sheet, cell, caption, rule)
    return marks


def _with_more_air(sheet: Sheet, caption: _Caption, box: Box) -> _Caption:
    """Words that nearly touch the frame in two lines, where height is left for them beside the least picture."""
    if caption.place != "one line" or caption.width <= _inner(box.width) - 2 * AIR:
        return caption
    other = _in_two_lines(sheet, "two lines", _inner(box.width))
    least = _cells_heights(sheet, box.width).least + _caption_height(other) - _caption_height(caption)
    return other if other.width <= _inner(box.width) and box.height >= least - 1e-6 else caption


def _cell(sheet: Sheet, cell: Box, caption: _Caption, rule: NextShed) -> list[Mark]:
    below = caption.place != "beside"
    spare = max(0.0, cell.height - _cell_height(sheet, caption, USUAL_SCALE * LEAST_SHARE)) if below else 0.0
    pad, above = (
        min(most, crowded + spare / 4) for crowded, most in ((_pad(sheet), PAD), (_above_caption(sheet), ABOVE_CAPTION))
    )
    inner = cell.inset(PAD, pad, PAD, pad)
    words_high = _caption_height(caption)
    if below:
        picture = inner._replace(height=inner.height - words_high - above)
        middle, top = inner.middle, inner.bottom - words_high
    else:
        wide = min(WIDE * inner.height / HIGH, inner.width - caption.width - BESIDE_PICTURE)
        picture = inner._replace(width=wide)
        middle, top = (picture.right + inner.right) / 2, inner.top + (inner.height - words_high) / 2
    shown = Side.LEFT if shed_words.weft_side(rule.hangs, sheet.plan.loom).endswith(Side.LEFT) else Side.RIGHT
    frame = Rectangle(cell.inset(FRAME / 2, FRAME / 2, FRAME / 2, FRAME / 2), WHITE, BLACK, FRAME, RADIUS)
    drawn = pictogram(picture, shown, rule.opens, sheet.plan.loom.shuttle_kind)
    return [frame, *drawn, *_lettering(sheet, caption, rule, middle, top)]


def _lettering(sheet: Sheet, caption: _Caption, rule: NextShed, middle: float, top: float) -> list[Mark]:
    side, shed = _words(sheet, rule)
    first = top + cap_height(caption.side_size)
    if caption.place == "one line":
        side_width, shed_width = _widths(sheet, rule, caption.side_size, caption.shed_size)
        left = middle - (side_width + shed_width + _space(sheet, caption.side_size)) / 2
        right = left + side_width + _space(sheet, caption.side_size)
        return [
            Words(left, first, side, Face.SANS, caption.side_size),
            Words(right, first, shed, Face.SANS_BOLD, caption.shed_size),
        ]
    return [
        Words(middle, first, side, Face.SANS, caption.side_size, align="middle"),
        Words(middle, first + _line_step(caption), shed, caption.shed_face, caption.shed_size, align="middle"),
    ]


def shed_cells_part(sheet: Sheet, width: float) -> Part:
    """Both frames as one drawing, told in full."""
    alt = partial(shed_words.next_shed_alt_text, sheet.plan)
    heights = _cells_heights(sheet, width)
    above = 0.4 if sheet.is_closest else 0.8 if sheet.is_crowded else 1.6
    return picture_part("shuttle", heights, lambda box: _cells(sheet, box), alt, above=above, facts=("shed",))
