"""What can be wrong with where the marks of a card stand, each fault as a sentence; how far a mark's ink reaches."""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import combinations, pairwise
from math import hypot, sqrt

from PIL import ImageFont

from cardmaker.card.composing import Composed
from cardmaker.model.card_layout import CardLayout, Paper
from cardmaker.model.marks import (
    Again,
    Box,
    Dot,
    Face,
    FormField,
    Group,
    Line,
    Link,
    Mark,
    Path,
    PlacedPhotograph,
    Rectangle,
    Stamp,
    Words,
)
from cardmaker.pdf.fonts import face_path
from tests.helpers.paper_tools import MM_PER_POINT as POINT
from tests.helpers.paper_tools import overlap
from tests.helpers.record_cards import RULER
from tests.helpers.type_heights import cap_height_mm, descent_mm

FIGURES_APART_MM = 0.5
ROUNDING = 1 - 1e-9  # of a size that was reckoned from millimetres
GRAZED_MM = 0.2  # of the room of letters: what touches no more of it touches no letter
SHARED = 1e-6  # mm: less than this is an edge in common
PRINTERS_REACH_MM = 4.2  # a sixth of an inch (common practice, no source)
EDGE_MM = 0.3  # half of the heaviest stroke and a little: a stroke may stand on the very edge
OVERSHOOT_MM = 1.2  # how far a stroke may stand out of its own panel's box; the disc of a step in 16 pt does by 1.12


def panels(composed: Composed) -> list[Group]:
    """What stands within the margins; the notch, which may stand outside, has laws of its own."""
    groups = [mark for mark in composed.page.marks if isinstance(mark, Group)]
    return [group for group in groups if group.role == "panel" and group.name != "notch"]


# How far a mark reaches


def extent(mark: Mark) -> Box | None:
    """The box that a mark's ink fills, strokes with half their width; None for what draws nothing."""
    match mark:
        case Group() | Link():
            return around(extent(inner) for inner in mark.marks)
        case Stamp() | Again():
            return mark.clip  # it shows nowhere else
        case PlacedPhotograph() | FormField():
            return mark.box
        case Words():
            return letters_box(mark, descent_mm(mark.face, mark.size))
        case Line():
            return _line(mark)
        case Rectangle():
            return grown(mark.box, mark.width / 2 if mark.stroke else 0)
        case Dot():
            reach = mark.radius + (mark.width / 2 if mark.stroke else 0)
            return Box(mark.x - reach, mark.y - reach, 2 * reach, 2 * reach)
        case Path():
            box = _path(mark)
            return box and grown(box, mark.width / 2 if mark.stroke else 0)


def around(boxes: Iterable[Box | None]) -> Box | None:
    found = [box for box in boxes if box is not None]
    if not found:
        return None
    return _box(
        min(box.left for box in found),
        min(box.top for box in found),
        max(box.right for box in found),
        max(box.bottom for box in found),
    )


def letters_box(words: Words, below: float = 0.0) -> Box:
    """From the height of the capitals to ``below`` mm under the baseline, turned as the words are."""
    width = RULER.width_mm(words.text, words.face, words.size)
    before = {"left": 0.0, "middle": width / 2, "right": width}[words.align]
    high = cap_height_mm(words.face, words.size)
    if words.turned:  # anticlockwise: what ran to the right runs upwards, what stood above stands to the left
        return Box(words.x - high, words.y - (width - before), high + below, width)
    return Box(words.x - before, words.y - high, width, high + below)


@cache
def _ink_of(text: str, face: Face) -> tuple[float, float, float, float]:
    """What letters set at the left end of a line fill, in shares of their size: left, top, right, bottom."""
    left, top, right, bottom = _type(face).getbbox(text, anchor="ls")
    return left / 1000, top / 1000, right / 1000, bottom / 1000


@cache
def _type(face: Face) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(str(face_path(face)), 1000, layout_engine=ImageFont.Layout.BASIC)


def ink_box(words: Words) -> Box:
    """What letters fill themselves, tails and accents with them, and no room beside them; measured by another library
    than sets them."""
    size = words.size * POINT
    left, top, right, bottom = (share * size for share in _ink_of(words.text, words.face))
    width = RULER.width_mm(words.text, words.face, words.size)
    before = {"left": 0.0, "middle": width / 2, "right": width}[words.align]
    if words.turned:
        return _box(words.x + top, words.y + before - right, words.x + bottom, words.y + before - left)
    return _box(words.x - before + left, words.y + top, words.x - before + right, words.y + bottom)


def letter_boxes(words: Words) -> list[Box]:
    """What each of the letters fills itself; pairs are not kerned."""
    whole = words._replace(align="left", turned=0)
    shift = RULER.width_mm(words.text, words.face, words.size) * {"left": 0.0, "middle": 0.5, "right": 1.0}[words.align]
    boxes = []
    for at, letter in enumerate(words.text):
        pen = RULER.width_mm(words.text[:at], words.face, words.size) - shift
        place = (words.x, words.y - pen) if words.turned else (words.x + pen, words.y)
        if letter.strip():
            boxes.append(ink_box(whole._replace(x=place[0], y=place[1], text=letter, turned=words.turned)))
    return boxes


def letters_gap_mm(one: Words, two: Words) -> float:
    """How far the letters of one are from those of the other: a tail at one end is not over a capital at the other."""
    return min(
        (gap_mm(box, beside) for box in letter_boxes(one) for beside in letter_boxes(two)),
        default=gap_mm(ink_box(one), ink_box(two)),
    )


def gap_mm(one: Box, two: Box) -> float:
    """How far two boxes are apart; less than nothing when they share room."""
    aside = max(one.left - two.right, two.left - one.right)
    down = max(one.top - two.bottom, two.top - one.bottom)
    return hypot(aside, down) if aside > 0 and down > 0 else max(aside, down)


def _box(left: float, top: float, right: float, bottom: float) -> Box:
    return Box(left, top, right - left, bottom - top)


def grown(box: Box, by: float) -> Box:
    return box.inset(-by, -by, -by, -by)


def _line(line: Line) -> Box:
    """A stroke reaches half its width across its direction, and along it too when its ends are round."""
    left, right = sorted((line.x1, line.x2))
    top, bottom = sorted((line.y1, line.y2))
    length, half = hypot(right - left, bottom - top), line.width / 2
    aside, down = (half, half) if line.round_ends or not length else (
        half * (bottom - top) / length,
        half * (right - left) / length,
    )  # fmt: skip
    return _box(left - aside, top - down, right + aside, bottom + down)


def _path(path: Path) -> Box | None:
    xs: list[float] = []
    ys: list[float] = []
    x = y = 0.0
    for step in path.steps:
        if step[0] == "curve":
            xs += [step[5], *_bulges(x, step[1], step[3], step[5])]
            ys += [step[6], *_bulges(y, step[2], step[4], step[6])]
            x, y = step[5], step[6]
        elif step[0] != "close":
            x, y = step[1], step[2]
            xs.append(x)
            ys.append(y)
    return _box(min(xs), min(ys), max(xs), max(ys)) if xs else None


def _bulges(a: float, b: float, c: float, d: float) -> Iterator[float]:
    """The outermost values of a Bézier curve between its ends: where its derivative, a quadratic, is nought."""
    square, middle, constant = -a + 3 * b - 3 * c + d, 2 * (a - 2 * b + c), b - a
    roots: list[float] = []
    if abs(square) < 1e-12:
        roots = [-constant / middle] if abs(middle) > 1e-12 else []
    elif (under := middle * middle - 4 * square * constant) >= 0:
        roots = [(-middle + sign * sqrt(under)) / (2 * square) for sign in (1, -1)]
    for t in roots:
        if 0 < t < 1:
            yield a * (1 - t) ** 3 + 3 * b * t * (1 - t) ** 2 + 3 * c * t * t * (1 - t) + d * t**3


def leaves(marks: Iterable[Mark]) -> Iterator[Mark]:
    """Every mark that draws, out of its groups and links; a stamp is one mark."""
    for mark in marks:
        if isinstance(mark, Group | Link):
            yield from leaves(mark.marks)
        else:
            yield mark


def all_words(marks: Iterable[Mark]) -> Iterator[Words]:
    for mark in leaves(marks):
        if isinstance(mark, Words):
            yield mark
        elif isinstance(mark, Stamp):
            yield from all_words(mark.marks)


# The faults, each as a sentence; no fault is an empty list


def overlapping_panels(groups: Sequence[Group]) -> list[str]:
    return [f"{one.name} over {two.name}" for one, two in combinations(groups, 2) if overlap(one.box, two.box)]


def astray(groups: Sequence[Group], page: Box) -> list[str]:
    """Marks off the printable part of the page, out of their panel's box, or in the box of another panel."""
    faults = []
    page = grown(page, EDGE_MM)
    for group in groups:
        room = grown(group.box, OVERSHOOT_MM)
        for mark in leaves(group.marks):
            box = extent(mark)
            if box is None or (group.box.holds(box) and page.holds(box)):
                continue
            if not page.holds(box):
                faults.append(f"{group.name}: {_said(mark)} leaves the page by {_beyond(box, page):.2f} mm")
            if not room.holds(box):
                faults.append(f"{group.name}: {_said(mark)} leaves its panel by {_beyond(box, group.box):.2f} mm")
            faults += [
                f"{group.name}: {_said(mark)} lies in {other.name}"
                for other in groups
                if other is not group and overlap(box, other.box)
            ]
    return faults


def in_the_way(composed: Composed, groups: Sequence[Group], paper: Paper) -> list[str]:
    """What stands in the margins, such as the notch and the marks of holes, over what stands within them, or so near
    to the edge that no home printer reaches it."""
    page = Box(0, 0, paper.width_mm, paper.height_mm).inset(*[PRINTERS_REACH_MM - EDGE_MM] * 4)
    inks = [(group.name, _said(mark), box) for group in groups for mark in leaves(group.marks) if (box := extent(mark))]
    faults = []
    for group in composed.page.marks:
        if not isinstance(group, Group) or group in groups:
            continue
        for mark in leaves(group.marks):
            box = ink_box(mark) if isinstance(mark, Words) else extent(mark)
            if box is None:
                continue
            if not page.holds(box):
                faults.append(f"{group.name}: {_said(mark)} leaves what printers reach by {_beyond(box, page):.2f} mm")
            faults += [
                f"{group.name}: {_said(mark)} over {what} of {name}"
                for name, what, beside in inks
                if overlap(box, beside)
            ]
    return faults


def collisions(groups: Sequence[Group]) -> list[str]:
    """Words over other words, anywhere on the page, by what their letters fill."""
    found = [(words, ink_box(words)) for group in groups for words in all_words(group.marks)]
    found.sort(key=lambda pair: pair[1].top)
    faults = []
    for at, (one, box) in enumerate(found):
        for two, beside in found[at + 1 :]:
            if beside.top >= box.bottom:
                break
            if overlap(box, beside, slack=0.02) and letters_gap_mm(one, two) < -0.02:
                faults.append(f"'{one.text}' over '{two.text}'")
    return faults


def fused(groups: Sequence[Group]) -> list[str]:
    """Figures that come so near to other figures in their line that the two are read as one number."""
    found = [(words, ink_box(words)) for group in groups for words in all_words(group.marks) if not words.turned]
    ending = [pair for pair in found if pair[0].text[-1:].isdigit()]
    beginning = sorted((pair for pair in found if pair[0].text[:1].isdigit()), key=lambda pair: pair[1].left)
    lefts = [box.left for _, box in beginning]
    faults = []
    for one, box in ending:
        near = slice(bisect_left(lefts, box.left), bisect_left(lefts, box.right + FIGURES_APART_MM))
        faults += [
            f"'{one.text}' and '{two.text}' {beside.left - box.right:.2f} mm apart"
            for two, beside in beginning[near]
            if two is not one and beside.top < box.bottom - 0.3 and box.top < beside.bottom - 0.3
        ]
    return faults


def cut_off(groups: Sequence[Group]) -> list[str]:
    """Words of which a part was left out; ``1, 3, 5 …`` is a row that goes on, and a lone ``…`` stands for rows."""
    words = (words.text for group in groups for words in all_words(group.marks))
    return [f"'{text}' is cut" for text in words if re.search(r"\S…|^….", text)]


def too_small(groups: Sequence[Group], smallest: float) -> list[str]:
    return [
        f"'{words.text}' in {words.size} pt"
        for group in groups
        for words in all_words(group.marks)
        if words.size < ROUNDING * smallest
    ]


def struck(groups: Sequence[Group]) -> list[str]:
    """Words with a stroke of their own panel drawn through them, and not hidden by a plate under the words."""
    return [f"{group.name}: a line through '{text}'" for group in groups for text in _struck_in(group)]


def _struck_in(group: Group) -> Iterator[str]:
    marks = list(leaves(group.marks))
    drawn = [
        (box.left, box.top, box.right, box.bottom, at, mark)
        for at, mark in enumerate(marks)
        if not isinstance(mark, Words) and (box := extent(mark))
    ]
    plates = [(at, mark.box) for at, mark in enumerate(marks) if isinstance(mark, Rectangle) and mark.fill]
    for number, words in enumerate(marks):
        if not isinstance(words, Words) or not words.text.strip():
            continue
        letters = grown(ink_box(words), -GRAZED_MM)
        left, top, right, bottom = (
            letters.left + SHARED,
            letters.top + SHARED,
            letters.right - SHARED,
            letters.bottom - SHARED,
        )
        for x1, y1, x2, y2, at, mark in drawn:  # thousands on a card: compared without a call
            if x1 >= right or x2 <= left or y1 >= bottom or y2 <= top:
                continue
            bare = _uncovered(letters, [box for plate, box in plates if at < plate < number])
            if any(_crosses(stroke, part) for stroke in _strokes(mark) for part in bare):
                yield words.text
                break


def _uncovered(box: Box, plates: Sequence[Box]) -> list[Box]:
    """What is left of a box when plates are laid on it; strips that are thinner than a stroke are nothing."""
    parts = [box]
    for plate in plates:
        parts = [part for each in parts for part in _beside(each, plate)]
    return parts


def _beside(box: Box, plate: Box) -> list[Box]:
    if not overlap(box, plate):
        return [box]
    top, bottom = max(box.top, plate.top), min(box.bottom, plate.bottom)
    parts = (
        _box(box.left, box.top, box.right, top),
        _box(box.left, bottom, box.right, box.bottom),
        _box(box.left, top, max(box.left, plate.left), bottom),
        _box(min(box.right, plate.right), top, box.right, bottom),
    )
    return [part for part in parts if min(part.width, part.height) > GRAZED_MM]


Stroke = tuple[float, float, float, float, float]  # from, to, and half of the width


def _strokes(mark: Mark) -> Iterator[Stroke]:
    """The straight strokes of a mark."""
    match mark:
        case Line():
            yield mark.x1, mark.y1, mark.x2, mark.y2, mark.width / 2
        case Rectangle() if mark.stroke:
            box, half = mark.box, mark.width / 2
            corners = [(box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom)]
            yield from ((*one, *two, half) for one, two in pairwise([*corners, corners[0]]))
        case Path() if mark.stroke:
            points = [step[1:3] if len(step) == 3 else None for step in mark.steps]
            for (step, one), two in zip(zip(mark.steps[1:], points, strict=False), points[1:], strict=True):
                if step[0] == "line" and one and two:
                    yield *one, *two, mark.width / 2


def _crosses(stroke: Stroke, box: Box) -> bool:
    """Whether a stroke runs through a box: what is left of it between the box's sides (Liang and Barsky, 1984)."""
    x1, y1, x2, y2, half = stroke
    box = grown(box, half)
    first, last = 0.0, 1.0
    for start, along, low, high in ((x1, x2 - x1, box.left, box.right), (y1, y2 - y1, box.top, box.bottom)):
        if not along:
            if not low < start < high:
                return False
            continue
        near, far = sorted(((low - start) / along, (high - start) / along))
        first, last = max(first, near), min(last, far)
    return first < last


def _beyond(box: Box, room: Box) -> float:
    return max(room.left - box.left, room.top - box.top, box.right - room.right, box.bottom - room.bottom)


def _said(mark: Mark) -> str:
    return f"'{mark.text}'" if isinstance(mark, Words) else type(mark).__name__


def faults_by_law(composed: Composed, of: CardLayout, paper: Paper) -> dict[str, list[str]]:
    """What is wrong with a card, under the law that it breaks."""
    groups = panels(composed)
    return {
        "panels": overlapping_panels(groups),
        "astray": astray(groups, of.printable(paper)),
        "over": collisions(groups),
        "fused": fused(groups),
        "cut": cut_off(groups),
        "small": too_small(groups, of.type_sizes.smallest),
        "struck": struck(groups),
        "margin": in_the_way(composed, groups, paper),
    }


def faults(composed: Composed, of: CardLayout, paper: Paper) -> list[str]:
    return [fault for found in faults_by_law(composed, of, paper).values() for fault in found]


def missing_essentials(composed: Composed, of: CardLayout) -> set[str]:
    """The essential panels that are neither on the card themselves nor as the simpler one that stands in for them."""
    there = {group.name for group in panels(composed)}
    essential = [place for row in of.rows for place in row if place.essential]
    assert not set(of.facts.front) & set(composed.left_out)
    return {place.panel for place in essential if not {place.panel, place.instead} & there}
