"""The counts and letters over the brackets of a composed card, found in its marks alone; and what they ought to be.

A bracket is a bar with an arm at either end. What it brackets is found by where it stands or by the line that leads
down to it, not by how the program made it; what the counts should be is counted here once more, end by end, from the
pattern's file.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby, pairwise
from typing import Any, Final, NamedTuple

from cardmaker.model.marks import Box, Face, Group, Line, Mark, Path, Words
from tests.helpers.card_faults import extent, grown, ink_box, leaves, letters_box, letters_gap_mm
from tests.helpers.paper_tools import overlap
from tests.helpers.recount import lay_ends
from tests.helpers.second_calculator import method_of

APART_MM: Final = 0.5  # what else is printed keeps this far from a count and from letters
OVER_BAR_MM, UNDER_LETTERS_MM = 0.6, 2.5  # how near to its bracket a line leads down, and how near to letters it begins
EDGE_MM: Final = 0.2  # half of a bracket's stroke, and a little
FEWEST_IN_TURN, MOST_YARNS_IN_TURN = 4, 6
IN_TURN: Final = " in turn"
REST_OF: Final = "rest of "


class Bracketed(NamedTuple):
    """A bracket, the count that stands over it and its letters, if they were found.

    It has an arm where its stripe begins and where it ends; one that goes on in another row is open there, and its rest
    has its count in its letters.
    """

    panel: str
    bar: Box
    figure: Words | None
    letters: Words | None
    begins: bool = True  # on the left
    ends: bool = True
    in_turn: bool = False  # whether that is said: behind the letters or below them, or of all joined ones in the legend

    @property
    def is_rest(self) -> bool:
        return not (self.begins and self.ends) and bool(self.letters and self.letters.text.startswith(REST_OF))


# What stands there


def bracketed(panels: Iterable[Group]) -> list[Bracketed]:
    """Every bracket of a card, row after row and from the left, panel by panel."""
    panels = list(panels)
    is_explained = any(group.name == "legend" and _explains_turns(group) for group in panels)
    return [each for group in panels for each in _of_panel(group, is_explained=is_explained)]


def _explains_turns(legend: Group) -> bool:
    """Whether it says of two pairs of letters with a stroke between that their yarns are in turn."""
    texts = (mark.text.replace("\N{NO-BREAK SPACE}", " ") for mark in leaves(legend.marks) if isinstance(mark, Words))
    return any(re.match(r"\w\w(/\w\w)+ = in turn\b", text) for text in texts)


def _of_panel(group: Group, *, is_explained: bool) -> Iterator[Bracketed]:
    marks = list(leaves(group.marks))
    heads = [box for mark in marks if isinstance(mark, Path) and mark.fill and (box := extent(mark)) is not None]
    bars = [bar for mark in marks if (bar := _bar(mark)) is not None and not _is_arrow(bar, heads)]
    words = _under_the_heading([mark for mark in marks if isinstance(mark, Words) and not mark.turned])
    ways = [way for mark in marks if (way := _way_down(mark)) is not None]
    above = group.box.top
    for row in _rows(bars):
        over = [each for each in words if above < each.y <= row[0].box.top]
        above = row[0].box.bottom
        counts = [each for each in over if each.face is Face.SANS_BOLD and each.text.isdigit()]
        letters = [each for each in over if each.face is Face.SANS_SEMIBOLD and not each.text[:1].isdigit()]
        led = {at: each for at, bar in enumerate(row) if (each := _led_from(bar.box, ways, letters)) is not None}
        elsewhere = {id(each) for each in led.values()}
        at_hand = [each for each in letters if id(each) not in elsewhere]
        for at, bar in enumerate(row):
            named = led.get(at) or _over(bar.box, at_hand)
            turn = named is not None and (_says_in_turn(named, over) or (is_explained and "/" in named.text))
            found = Bracketed(group.name, bar.box, None, named, bar.left_arm, bar.right_arm, turn)
            yield found if found.is_rest else found._replace(figure=_over(bar.box, counts))


def _under_the_heading(words: Sequence[Words]) -> list[Words]:
    """All but the heading, which alone is set in a serif face, and what is told beside it on its line."""
    headings = {each.y for each in words if each.face in (Face.SERIF, Face.SERIF_SEMIBOLD)}
    return [each for each in words if each.y not in headings]


def _is_arrow(bar: _Bar, heads: Sequence[Box]) -> bool:
    """Whether the one arm of a bar ends in the head of an arrow, which leads from one row to the next."""
    if bar.left_arm == bar.right_arm:
        return False
    tip = Box(bar.box.left if bar.left_arm else bar.box.right, bar.box.bottom, 0, 0)
    return any(grown(head, EDGE_MM).holds(tip) for head in heads)


def _says_in_turn(letters: Words, words: Iterable[Words]) -> bool:
    below = (each for each in words if each.text == IN_TURN.strip() and abs(each.x - letters.x) < 0.01)
    return letters.text.endswith(IN_TURN) or any(0 < each.y - letters.y < 2 * letters.size * 0.3528 for each in below)


class _Bar(NamedTuple):
    box: Box
    left_arm: bool
    right_arm: bool


def _bar(mark: Mark) -> _Bar | None:
    """A level bar, with an arm down at one end, at both, or, of a stripe that only passes through a row, at none."""
    if not isinstance(mark, Path) or {step[0] for step in mark.steps[1:]} != {"line"} or mark.fill:
        return None
    points = [(step[1], step[2]) for step in mark.steps if len(step) == 3]
    top = min(y for _, y in points)
    level = [x for x, y in points if y == top]
    arms = [x for x, y in points if y > top]
    if len(level) != 2 or len(points) > 4 or not set(arms) <= set(level) or len(set(arms)) < len(arms):
        return None
    box = Box(min(level), top, max(level) - min(level), max(y for _, y in points) - top)
    return _Bar(box, box.left in arms, max(level) in arms)


def _rows(bars: Sequence[_Bar]) -> list[list[_Bar]]:
    """The bars of each row from the left. One without arms is a bracket only where another is open towards it; else it
    is a line of a hatching."""
    if not any(bar.left_arm != bar.right_arm for bar in bars):
        bars = [bar for bar in bars if bar.left_arm]
    ordered = sorted(bars, key=lambda bar: (round(bar.box.top, 3), bar.box.left))
    return [list(row) for _, row in groupby(ordered, key=lambda bar: round(bar.box.top, 3))]


def _over(bar: Box, words: Sequence[Words]) -> Words | None:
    """Of the words over the middle of a bar the lowest that do not reach beyond it; else those whose middle is
    nearest."""
    found = [(each, box) for each in words if (box := letters_box(each)).left <= bar.middle <= box.right]
    inside = [each for each, box in found if _inside(box, bar)]
    if inside:
        return max(inside, key=lambda each: each.y)
    return min(found, key=lambda pair: abs(pair[1].middle - bar.middle), default=(None,))[0]


class _Way(NamedTuple):
    """A line that leads down, from its upper end to its lower one."""

    head: tuple[float, float]
    foot: tuple[float, float]


def _way_down(mark: Mark) -> _Way | None:
    """A line, or one that turns: it has no width and is never filled."""
    if isinstance(mark, Line):
        points = [(mark.x1, mark.y1), (mark.x2, mark.y2)]
    elif isinstance(mark, Path) and mark.stroke and not mark.fill and all(len(step) == 3 for step in mark.steps):
        points = [(step[1], step[2]) for step in mark.steps if len(step) == 3]
    else:
        return None
    ends = sorted((points[0], points[-1]), key=lambda point: point[1])
    return _Way(ends[0], ends[1]) if ends[0][1] < ends[1][1] else None


def _led_from(bar: Box, ways: Iterable[_Way], letters: Sequence[Words]) -> Words | None:
    """The letters from which a line leads down to a bracket, whatever stands between."""
    for head, foot in ways:
        if not (bar.left - EDGE_MM <= foot[0] <= bar.right + EDGE_MM and 0 < bar.top - foot[1] < OVER_BAR_MM):
            continue
        over = [each for each in letters if 0 < head[1] - each.y < UNDER_LETTERS_MM]
        found = [each for each in over if (box := letters_box(each)).left <= head[0] <= box.right]
        if found:
            return max(found, key=lambda each: each.y)
    return None


def _inside(box: Box, bar: Box) -> bool:
    """Whether a figure is no wider than its bracket."""
    return bar.left - EDGE_MM <= box.left and box.right <= bar.right + EDGE_MM


# What is wrong with them


def bracket_faults(panels: Sequence[Group]) -> list[str]:
    """Brackets without a count or letters, figures outside their columns, and what stands too near to a figure."""
    found = bracketed(panels)
    faults = [fault for each in found for fault in (*_unlabelled(each), *_outside(each, panels))]
    return [*faults, *_shared(found), *_crowded(found, panels)]


def _unlabelled(each: Bracketed) -> Iterator[str]:
    where = f"{each.panel}: a bracket at {each.bar.left:.1f}, {each.bar.top:.1f} mm"
    if each.figure is None and not each.is_rest:
        yield f"{where} has no count"
    if each.letters is None:
        yield f"{where} has no letters"


def _outside(each: Bracketed, panels: Sequence[Group]) -> Iterator[str]:
    """A count that is wider than its columns stands over them with a leader; letters that are, under it."""
    if each.figure is None:
        return
    if not _inside(ink_box(each.figure), each.bar) and not _led(each, panels):
        yield f"{each.panel}: the count {each.figure.text} is wider than its bracket and has no leader"


def _led(each: Bracketed, panels: Sequence[Group]) -> bool:
    """Whether a short upright under the count stands over the middle of its bracket."""
    assert each.figure is not None
    return any(
        isinstance(mark, Line)
        and mark.x1 == mark.x2
        and abs(mark.x1 - each.bar.middle) < 0.05
        and 0 < min(mark.y1, mark.y2) - each.figure.y < 1.5
        for group in panels
        if group.name == each.panel
        for mark in leaves(group.marks)
    )


def _shared(found: Sequence[Bracketed]) -> Iterator[str]:
    """One count for two brackets is one too few; nothing else would tell which of them it counts."""
    for one, two in pairwise(found):
        for a, b in ((one.figure, two.figure), (one.letters, two.letters)):
            if a is not None and a is b:
                yield f"{one.panel}: '{a.text}' stands over two brackets"


def _crowded(found: Sequence[Bracketed], panels: Sequence[Group]) -> list[str]:
    """What else is printed and comes near to a count or to letters, each pair once."""
    words = [(mark, ink_box(mark)) for group in panels for mark in leaves(group.marks) if isinstance(mark, Words)]
    figures = [(each.panel, mark) for each in found for mark in (each.figure, each.letters) if mark is not None]
    near: dict[frozenset[int], str] = {}
    for panel, figure in figures:
        box = grown(ink_box(figure), APART_MM)
        for other, beside in words:
            if other is not figure and overlap(box, beside) and (gap := letters_gap_mm(figure, other)) < APART_MM:
                told = f"{panel}: '{other.text}' stands {gap:.2f} mm from '{figure.text}'"
                near.setdefault(frozenset((id(figure), id(other))), told)
    return list(near.values())


# What they ought to be


class HandCount(NamedTuple):
    """Ends that are counted in one go, and the yarns that they take in turn."""

    ends: int
    yarns: tuple[str, ...]


def hand_counts(pattern: dict[str, Any], *, left_hand: bool = False, behind: bool = False) -> list[HandCount]:
    """The stripes in the order of the work, four or more single ends in strict turn as one; counted end by end.

    A left hand begins at the tape's right edge, and so does whoever threads from behind; who does both, at the left.
    """
    ends = lay_ends(pattern)[:: -1 if left_hand != behind else 1]
    counts: list[HandCount] = []
    start = 0
    while start < len(ends):
        stop = max(_same(ends, start), _in_turn(ends, start))
        counts.append(HandCount(stop - start, tuple(dict.fromkeys(ends[start:stop]))))
        start = stop
    return counts


def walk_counts(pattern: dict[str, Any], *, left_hand: bool = False, behind: bool = False) -> list[HandCount]:
    """What is wound in one go: the stripes, or where bundles are wound all ends of one yarn."""
    ends = lay_ends(pattern)[:: -1 if left_hand != behind else 1]
    if method_of(ends) == "bundle":
        return [HandCount(ends.count(yarn), (yarn,)) for yarn in dict.fromkeys(ends)]
    return hand_counts(pattern, left_hand=left_hand, behind=behind)


def _same(ends: Sequence[str], start: int) -> int:
    """Where the stripe that begins at ``start`` stops."""
    stop = start
    while stop < len(ends) and ends[stop] == ends[start]:
        stop += 1
    return stop


def _in_turn(ends: Sequence[str], start: int) -> int:
    """Where single ends in strict turn from ``start`` on stop; at ``start`` itself where there are none."""
    single = [_is_single(ends, at) for at in range(len(ends))]
    reached = start
    for yarns in range(2, MOST_YARNS_IN_TURN + 1):
        if len(set(ends[start : start + yarns])) < yarns:
            break
        stop = start
        while stop < len(ends) and single[stop] and (stop - start < yarns or ends[stop] == ends[stop - yarns]):
            stop += 1
        if stop - start > yarns and stop - start >= FEWEST_IN_TURN:
            reached = max(reached, stop)
    return reached


def _is_single(ends: Sequence[str], at: int) -> bool:
    return ends[at] not in (*ends[max(0, at - 1) : at], *ends[at + 1 : at + 2])


def counted_wrong(found: Sequence[Bracketed], wanted: Sequence[HandCount]) -> list[str]:
    """How the brackets of one panel differ from the counts that they should bear, in count or in yarns."""
    found, faults = _joined(found)
    if len(found) != len(wanted):
        return [*faults, f"{len(found)} brackets for {len(wanted)} counts"]
    names: dict[str, str] = {}
    for each, count in zip(found, wanted, strict=True):
        if each.figure is None or each.figure.text != str(count.ends):
            faults.append(f"{each.figure and each.figure.text} for {count.ends}")
        letters = each.letters.text.removesuffix(IN_TURN).split("/") if each.letters else []
        if [names.setdefault(yarn, pair) for yarn, pair in zip(count.yarns, letters, strict=False)] != letters:
            faults.append(f"{letters} for {count.yarns}")
        if each.in_turn != (len(count.yarns) > 1):
            faults.append(f"{letters} says {'' if each.in_turn else 'not '}that they are in turn")
        if len(letters) != len(count.yarns):
            faults.append(f"{len(letters)} letters for {count.yarns}")
    return faults + ([f"letters of two yarns are alike: {names}"] if len(set(names.values())) < len(names) else [])


def _joined(found: Sequence[Bracketed]) -> tuple[list[Bracketed], list[str]]:
    """The brackets without those that only go on; each of these must come after one that is open, and name its count
    and its letters once more, from its own first end on."""
    chains: list[list[Bracketed]] = []
    faults: list[str] = []
    is_open = False
    for each in found:
        if each.begins == is_open:
            faults.append(f"a bracket at {each.bar.left:.1f}, {each.bar.top:.1f} mm goes on from none, or none from it")
        if each.is_rest and chains:
            chains[-1].append(each)
        else:
            chains.append([each])
        is_open = not each.ends
    return [chain[0] for chain in chains], [*faults, *(fault for chain in chains for fault in _rests_wrong(chain))]


def _rests_wrong(parts: Sequence[Bracketed]) -> Iterator[str]:
    """Of the parts of one stripe: how many ends come before a rest is measured by the widths of the brackets."""
    count = int(parts[0].figure.text) if parts[0].figure else 0
    letters = parts[0].letters.text.removesuffix(IN_TURN).split("/") if parts[0].letters else [""]
    pitch = sum(part.bar.width for part in parts) / max(1, count)
    for at, rest in enumerate(parts[1:], start=1):
        begun = round(sum(part.bar.width for part in parts[:at]) / pitch) % len(letters) if pitch else 0
        wanted = f"{REST_OF}{count or ''} {'/'.join(letters[begun:] + letters[:begun])}"
        told = rest.letters.text.removesuffix(IN_TURN) if rest.letters else ""
        if told != wanted:
            yield f"'{told}' for '{wanted}'"


def in_order_of_work(found: Sequence[Bracketed], *, left_hand: bool = False) -> list[Bracketed]:
    """The brackets of one panel row after row, from the left; for a left hand the picture is mirrored."""
    rows = [sorted(row, key=lambda each: each.bar.left) for _, row in groupby(found, key=lambda each: each.bar.top)]
    if not left_hand:
        return [each for row in rows for each in row]
    return [each._replace(begins=each.ends, ends=each.begins) for row in rows for each in reversed(row)]
