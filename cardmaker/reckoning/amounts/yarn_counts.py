"""How thick a yarn is, from its label or its count: metres in a kilogram, yards in a pound, tex.

A count is a name in a system (20/2 linen, 8/2 cotton, 28/2 metric); the label's own yards or metres are the truth and
win over it, for a real 16/2 linen may run 12 % longer than its number says. What could be read two ways is refused.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from cardmaker.model.pattern import OWN_SYSTEM, CountSystem, Pattern, Yarn
from cardmaker.model.problems import KeyPath, Refusal
from cardmaker.model.units import GRAMS_PER_POUND, MM_PER_YARD

METRES_PER_KG_PER_YARD_PER_POUND: Final = MM_PER_YARD / GRAMS_PER_POUND  # mm/yd over g/lb is m/kg over yd/lb
YARDS_IN_A_HANK: Final[dict[CountSystem, int]] = {"cotton": 840, "linen": 300, "worsted": 560, "woollen run": 1600}
"""Yards that weigh a pound at number 1. Cotton, linen, worsted: Taylor 1909 p.307; run: Dooley 1914 ch. V; all in
ASTM D2260."""
DENIER_METRES: Final = 9000  # grams in 9000 m: ASTM D2260
COARSEST_METRES_PER_KG: Final = 100  # 10,000 tex, a rope as thick as a pencil; from memory
FINEST_METRES_PER_KG: Final = 1_000_000  # 1 tex, finer than silk reeled from a few cocoons; from memory
LABELS_MAY_DIFFER: Final = Fraction(2, 100)  # two rounded label figures; common practice, no source

_FIGURE: Final = r"(\d{1,6}(?:\.\d{1,6})?)"
_ONE: Final = rf"\s*{_FIGURE}\s*"  # these are compiled when a count is asked for
_SIZE_AND_PLY: Final = rf"\s*{_FIGURE}\s*/\s*{_FIGURE}\s*"
_TIMES_PLIES: Final = rf"\s*{_FIGURE}\s*[x×*]\s*(\d{{1,2}})\s*"
_PLY_WORDS: Final = frozenset(("x", "ply", "plies"))
_WORDS_OF_SYSTEM: Final[dict[CountSystem, frozenset[str]]] = {
    "linen": frozenset(("linen", "flax", "lea", "leas", "nel")), "cotton": frozenset(("cotton", "nec", "ecc")),
    "worsted": frozenset(("worsted", "nek")), "metric": frozenset(("metric", "nm")), "tex": frozenset(("tex",)),
}  # fmt: skip
"""Words and short forms that labels put beside a count, from memory; Ne alone is left out: several systems use it."""
_OR_THE_LABEL: Final = "give yards_per_pound or metres_per_kg from the label"
_GIVE_THE_LABEL: Final = _OR_THE_LABEL.capitalize() + "."


def metres_per_kg(yarn: Yarn, contraction: Fraction = Fraction(0)) -> Fraction | None:
    """Metres that weigh a kilogram: the label's, else by the count, else by a package that tells both its figures.

    ``contraction`` is the share of length that plying takes (2 to 5 % in practice); the trade leaves it out unless it
    says so (Taylor 1909 pp.308-310, Brooks 1892 p.145), and it never touches a label's figure. None when nothing tells.
    Raises Refusal for a count that cannot be read (``count_refusals`` collects them all).
    """
    if yarn.metres_per_kg or yarn.yards_per_pound:
        return _of_label(yarn)
    if yarn.count:
        size, plies = _size_and_plies(yarn, _system(yarn))
        return metres_per_kg_of(_system(yarn), size, plies, contraction)
    if yarn.package and yarn.package.length_mm and yarn.package.weight_g:
        return yarn.package.length_mm / yarn.package.weight_g
    return None


def yards_per_pound(yarn: Yarn) -> Fraction | None:
    """Yards that weigh a pound, or None when nothing tells."""
    metres = metres_per_kg(yarn)
    return None if metres is None else metres / METRES_PER_KG_PER_YARD_PER_POUND


def tex(yarn: Yarn) -> Fraction | None:
    """Grams that a kilometre weighs (ISO 1144), or None when nothing tells."""
    metres = metres_per_kg(yarn)
    return None if metres is None else 1_000_000 / metres


def metres_per_kg_of(
    system: CountSystem, number: Fraction, plies: int = 1, contraction: Fraction = Fraction(0)
) -> Fraction:
    """Metres per kilogram of ``plies`` yarns of that number twisted together (factors: ASTM D2260, Table 1).

    Numbers of length for a weight go down with the plies, tex and denier go up.
    """
    if system in YARDS_IN_A_HANK:
        single = number * YARDS_IN_A_HANK[system] * METRES_PER_KG_PER_YARD_PER_POUND
    elif system == "metric":
        single = number * 1000
    else:
        single = 1000 * (DENIER_METRES if system == "denier" else 1000) / number
    return resultant([single] * plies, contraction if plies > 1 else Fraction(0))


def resultant(numbers: Sequence[Fraction], contraction: Fraction = Fraction(0)) -> Fraction:
    """The number of several yarns twisted together, for any number of length per weight.

    1/N = sum of 1/n, times (1 - contraction): Taylor 1909 p.309, Brooks 1892 p.145.
    """
    return (1 - contraction) / sum((1 / number for number in numbers), Fraction(0))


def count_refusals(pattern: Pattern) -> tuple[Refusal, ...]:
    """Every yarn of the pattern, second yarns too, whose count cannot be read, each with its key."""
    return tuple(_refusals(pattern))


def _refusals(pattern: Pattern) -> Iterator[Refusal]:
    lists: list[tuple[KeyPath, tuple[Yarn, ...]]] = [(("yarns",), pattern.yarns)]
    for index, second in enumerate(pattern.second_yarns):
        lists.append((("second_yarns", index, "yarns"), second.yarns))
    for path, yarns in lists:
        for yarn in yarns:
            if refusal := count_refusal(yarn):
                yield Refusal(path + refusal.path[1:], refusal.message, refusal.remedy)


def count_refusal(yarn: Yarn) -> Refusal | None:
    """Why the count of a yarn, its label or its package cannot be right; None when it can."""
    try:
        metres = metres_per_kg(yarn)
    except Refusal as refusal:
        return refusal
    if metres is None or COARSEST_METRES_PER_KG <= metres <= FINEST_METRES_PER_KG:
        return None
    key = next((key for key in ("yards_per_pound", "metres_per_kg", "count") if getattr(yarn, key)), "package")
    what = f"Count {yarn.count}" if key == "count" else "This package" if key == "package" else "This yarn"
    grams = float(1_000_000 / metres)
    weight = f"{grams:,.0f} g a kilometre" if grams >= 10 else f"{grams:.2g} g a kilometre"
    bound = "10,000 g, a rope, is the most" if metres < COARSEST_METRES_PER_KG else "1 g, a reeled silk, is the least"
    remedy = (
        "Check length and weight, with their units."
        if key == "package"
        else f"Check it and its system, or {_OR_THE_LABEL}."
    )
    return Refusal(("yarns", yarn.name, key), f"{what} would weigh {weight}; {bound}.", remedy)


def _of_label(yarn: Yarn) -> Fraction:
    by_yards = (yarn.yards_per_pound or Fraction(0)) * METRES_PER_KG_PER_YARD_PER_POUND
    if not yarn.metres_per_kg:
        return by_yards
    if by_yards and abs(by_yards / yarn.metres_per_kg - 1) > LABELS_MAY_DIFFER:
        raise Refusal(
            ("yarns", yarn.name, "yards_per_pound"),
            f"{_plain(yarn.yards_per_pound)} yards per pound are {round(by_yards)} metres per kg, "
            f"but metres_per_kg says {_plain(yarn.metres_per_kg)}.",
            "Keep the one that the label says.",
        )
    return yarn.metres_per_kg


def _system(yarn: Yarn) -> CountSystem:
    """The system as stated; linen and cotton imply their own. Nothing else is guessed from a number."""
    if yarn.system:
        return yarn.system
    if own := OWN_SYSTEM.get(yarn.fibre):
        return own
    raise Refusal(
        ("yarns", yarn.name, "system"),
        f"Count {yarn.count} of {yarn.fibre} yarn does not say which system it is in.",
        f"Say system: linen, cotton, worsted, woollen run, metric, tex or denier, or {_OR_THE_LABEL}.",
    )


def _size_and_plies(yarn: Yarn, system: CountSystem) -> tuple[Fraction, int]:
    """The figures of ``count`` as the system orders them. Raises Refusal where they could be read two ways."""
    shape, example = (_TIMES_PLIES, "74 x 2") if system in ("tex", "denier") else (_SIZE_AND_PLY, "20/2")
    if number := re.fullmatch(_ONE, yarn.count, re.ASCII):
        figures = (Fraction(number[1]), Fraction(1))
    elif number_and_ply := re.fullmatch(shape, yarn.count, re.ASCII):
        figures = (Fraction(number_and_ply[1]), Fraction(number_and_ply[2]))
    else:
        if meant := _count_meant(yarn.count, system):
            raise _unread(yarn, f"Count '{yarn.count}' cannot be read.", meant)
        message = f"Count '{yarn.count}' is not a {system} count."
        raise _unread(yarn, message, f"Write a number, or {example}, or {_OR_THE_LABEL}.")
    if 0 in figures:
        raise _unread(yarn, f"Count {yarn.count} has a nought in it.", _GIVE_THE_LABEL)
    if number or system in ("tex", "denier"):
        return figures[0], int(figures[1])
    if yarn.fibre == "silk" and system == "cotton":
        raise _unread(
            yarn,
            f"Count {yarn.count} of silk may be the number before or after twisting.",
            f"Write the number of the finished yarn alone, or {_OR_THE_LABEL}.",
        )
    size, ply = _cotton_order(yarn, *figures) if system in ("linen", "cotton") else _either_order(yarn, *figures)
    if ply.denominator != 1:
        raise _unread(yarn, f"Count {yarn.count} has no whole number of plies.", _GIVE_THE_LABEL)
    return size, int(ply)


def _count_meant(text: str, system: CountSystem) -> str:
    """What to write for a count with a word beside its figures, or with another sign between them; empty where a word
    may mean another system than is read here."""
    apart = r"[x×*]" if system in ("tex", "denier") else r"[/\\:.|x×-]|\s+"
    found = re.fullmatch(rf"\D*?(\d{{1,5}})\s*(?:{apart})\s*(\d{{1,2}})(?!\d)\D*", text, re.ASCII)
    if not found or text.lstrip().startswith("-"):
        return ""
    figures = f"{found[1]} x {found[2]}" if system in ("tex", "denier") else f"{found[1]}/{found[2]}"
    words = {word for word in re.findall(r"[a-z]+", text.casefold()) if word not in _PLY_WORDS}
    if words <= _WORDS_OF_SYSTEM.get(system, frozenset()):
        return f"Write {figures}, the figures alone."
    named = [other for other, its_words in _WORDS_OF_SYSTEM.items() if words <= its_words]
    return f"Write {figures}, and system: {named[0]} beside it." if named else ""


def _cotton_order(yarn: Yarn, first: Fraction, second: Fraction) -> tuple[Fraction, Fraction]:
    """Size before ply, as linen and cotton are labelled here; the other way round (Taylor 1909 p.308: 2/40's) is asked
    about, never turned silently."""
    if first < second:
        raise _unread(
            yarn,
            f"Count {yarn.count} has its smaller figure first; in linen and cotton the size stands before the plies.",
            f"Write {_plain(second)}/{_plain(first)} if that is meant, or {_OR_THE_LABEL}.",
        )
    return first, second


def _either_order(yarn: Yarn, first: Fraction, second: Fraction) -> tuple[Fraction, Fraction]:
    """Worsted, woollen and metric counts are written both ways (2/28 and 28/2): read where only one makes a yarn, that
    is where one figure is 4 or less and the other at least twice it. Common practice, no source."""
    ply, size = sorted((first, second))
    if ply != size and (ply > 4 or size < 2 * ply):
        raise _unread(
            yarn,
            f"Count {yarn.count} may be {_plain(first)} plies or {_plain(second)} plies.",
            _GIVE_THE_LABEL,
        )
    return size, ply


def _unread(yarn: Yarn, message: str, remedy: str) -> Refusal:
    return Refusal(("yarns", yarn.name, "count"), message, remedy)


def _plain(number: Fraction | None) -> str:
    """The number as a person types it: 8, 1.5."""
    return f"{float(number or 0):.10g}"
