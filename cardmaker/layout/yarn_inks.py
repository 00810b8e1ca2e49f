"""Which hatching each yarn has: the same for one yarn wherever it stands, and no two alike on one card.

A yarn is its name and its colour. It has a hatching of its own, which goes with its colour, on every card by itself;
where two yarns of one card would share it, the darker one takes another. A binder or a class settles this once for
all its patterns, so that a yarn which had to give way on one card gives way on all.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from cardmaker.layout.ink import HATCHINGS, UNSTATED, Ink, ink_of
from cardmaker.model.marks import Colour
from cardmaker.model.pattern import Alternation, Pattern, Repeat, WarpItem
from cardmaker.reckoning.stripes.colour_clash import lightness

YarnKey = tuple[str, Colour]  # its name, and its colour or nothing
Hatches = Mapping[YarnKey, int]  # the place of each yarn's hatching in HATCHINGS
_Companions = Mapping[YarnKey, set[YarnKey]]  # with which yarns one stands on a card

LIGHT: Final = 75.0  # L*: lighter yarns prefer no hatching
_PLAIN: Final = 30  # of 255, between the strongest and the weakest part of a colour: less is a grey
_NONE, _LEVEL, _RISING, _FALLING, _CROSSED, _CLOSE, _CLOSE_CROSSED = range(len(HATCHINGS))
_OF_HUES: Final = (  # up to which hue, in degrees, which hatching
    (15, _RISING),  # red
    (40, _CROSSED),  # brown
    (75, _CLOSE),  # yellow
    (170, _LEVEL),  # green
    (265, _FALLING),  # blue
    (335, _CLOSE_CROSSED),  # violet
    (360, _RISING),  # red
)
_OTHERS: Final = (_RISING, _FALLING, _LEVEL, _CROSSED, _CLOSE, _CLOSE_CROSSED, _NONE)  # where one's own is taken


def card_inks(pattern: Pattern, hatches: Hatches | None = None) -> dict[str, Ink]:
    """The ink of every yarn of a pattern: as a binder or a class has settled it, or by itself."""
    keys = _keys(pattern)
    numbers = _told_apart(keys, hatches or {})
    return {key[0]: ink_of(key[1], numbers[key]) for key in keys}


def settled_hatches(patterns: Iterable[Pattern]) -> dict[YarnKey, int]:
    """The hatching of every yarn of all the patterns, whatever their order.

    Yarns that stand on one card take different ones, first come first served: the lightest first, as on a single card.
    Where that does not come out, those are first whose companions leave them the least choice. In a knot that neither
    undoes two companions share one, and their card tells them apart by itself.
    """
    cards = {tuple(sorted(_keys(pattern))) for pattern in patterns}
    companions: dict[YarnKey, set[YarnKey]] = {}
    for card in cards:
        for key in card:
            companions.setdefault(key, set()).update(set(card) - {key})
    hatches = _lightest_before(companions)
    if not (clashes := _clashes(hatches, companions)):
        return hatches
    others = _least_choice_before(companions)
    return others if _clashes(others, companions) < clashes else hatches


def _lightest_before(companions: _Companions) -> dict[YarnKey, int]:
    found: dict[YarnKey, int] = {}
    for key in sorted(companions, key=_lightest_first):
        found[key] = _best_liked(key, [found[other] for other in companions[key] if other in found])
    return found


def _least_choice_before(companions: _Companions) -> dict[YarnKey, int]:
    """Always the yarn next whose companions have the most different hatchings (Brélaz 1979: from memory)."""
    found: dict[YarnKey, int] = {}
    taken: dict[YarnKey, set[int]] = {key: set() for key in sorted(companions, key=_lightest_first)}
    while taken:
        key = max(taken, key=lambda key: (len(taken[key]), len(companions[key])))  # of equals the first: the lightest
        found[key] = _best_liked(key, [found[other] for other in companions[key] if other in found])
        del taken[key]
        for other in companions[key] & taken.keys():
            taken[other].add(found[key])
    return found


def _best_liked(key: YarnKey, taken: Sequence[int]) -> int:
    """Of the hatchings that are taken the least, which is not at all as a rule, the one that goes best with a yarn."""
    return min(_liked(key[1]), key=taken.count)


def _clashes(hatches: Hatches, companions: _Companions) -> int:
    return sum(hatches[key] == hatches[other] for key, others in companions.items() for other in others)


def _keys(pattern: Pattern) -> list[YarnKey]:
    """The yarns that are on the card: those of the stripes, and the weft."""
    used = {pattern.weft, *_yarns_of(pattern.warp)}
    return [(yarn.name, yarn.colour) for yarn in pattern.yarns if yarn.name in used]


def _yarns_of(items: Iterable[WarpItem]) -> Iterator[str]:
    for item in items:
        if isinstance(item, Repeat):
            yield from _yarns_of(item.stripes)
        else:
            yield from item.yarns if isinstance(item, Alternation) else (item.yarn,)


def _told_apart(keys: Sequence[YarnKey], hatches: Hatches) -> dict[YarnKey, int]:
    """The hatchings of one card: as settled, but never two alike while there are enough for all."""
    in_order = sorted(keys, key=_lightest_first)
    found: dict[YarnKey, int] = {}
    for key in in_order:
        if key in hatches and hatches[key] not in found.values():
            found[key] = hatches[key]
    for key in in_order:
        if key not in found:
            found[key] = min(
                _liked(key[1]), key=[*found.values()].count
            )  # the best liked of those that are least there
    return found


def _lightest_first(key: YarnKey) -> tuple[float, YarnKey]:
    return -lightness(key[1] or UNSTATED), key


def _liked(colour: Colour) -> tuple[int, ...]:
    """All hatchings, the one that goes with the colour first."""
    own = _own(colour or UNSTATED)
    return (own, *(number for number in _OTHERS if number != own))


def _own(colour: Colour) -> int:
    """None for what is light; the closest for black and grey; else by the hue (0 red, 120 green, 240 blue)."""
    if lightness(colour) > LIGHT:
        return _NONE
    red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    most, span = max(red, green, blue), max(red, green, blue) - min(red, green, blue)
    if span < _PLAIN:
        return _CLOSE_CROSSED
    if most == red:
        hue = 60 * ((green - blue) / span) % 360
    elif most == green:
        hue = 60 * ((blue - red) / span + 2)
    else:
        hue = 60 * ((red - green) / span + 4)
    return next(number for limit, number in _OF_HUES if hue <= limit)
