"""A yarn at hand as somebody types it: ``40 g red linen 20/2``."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final, Literal, get_args

from cardmaker.model.pattern import OWN_SYSTEM, CountSystem, Fibre, Yarn
from cardmaker.model.record_class import record
from cardmaker.model.units import MM_PER_YARD, length_mm, parse_number, weight_g
from cardmaker.reading.value_words import closest_names

_AMOUNT: Final = r"\s*([0-9¼½¾⅛⅜⅝⅞⅓⅔][0-9¼½¾⅛⅜⅝⅞⅓⅔./ -]*?\s*[A-Za-z]+)\.?\s+(.*\S)\s*"
_MEASURED: Final = r"(\d{1,6}(?:\.\d{1,4})?)\s*(m|yd)\s*(?:/|per|in)\s*100\s*g\b"
_COUNT: Final = r"\d{1,6}(?:\.\d{1,6})?(?:\s*[/x×]\s*\d{1,6})?"
_FIBRES: Final[tuple[Fibre, ...]] = get_args(Fibre)
_SYSTEMS: Final[tuple[CountSystem, ...]] = get_args(CountSystem)
Missing = Literal["its fibre", "its count, or what 100 g of it measure, as in 600 m/100 g", "its colour"]


@record
class TypedYarn:
    """What was typed: an amount, by weight or length, or neither, and the yarn's name, or all that describes it."""

    grams: Fraction | None
    length_mm: Fraction | None
    name: str


def amount_and_name(text: str) -> TypedYarn:
    """The amount before a yarn, and the rest, as it was typed. Raises ValueError for an amount of nothing."""
    found = re.fullmatch(_AMOUNT, text, re.DOTALL)
    if not found:
        return TypedYarn(None, None, text.strip())
    grams, length = _weight(found[1]), _length(found[1])
    if grams == 0 or length == 0:
        raise ValueError(f"'{text}' is nothing at all")
    return TypedYarn(grams, length, found[2]) if grams or length else TypedYarn(None, None, text.strip())


def described_yarn(text: str) -> tuple[Yarn, list[Missing]]:
    """The yarn of ``red linen 20/2`` or ``red wool 600 m/100 g``, named by its colour; and what it does not say."""
    rest, metres = _without_measured(text.replace(",", " "))
    count = re.search(rf"(?<!\S){_COUNT}(?!\S)", rest, re.ASCII)
    rest = rest.replace(count[0], " ", 1) if count else rest
    words = rest.casefold().split()
    fibre = next((each for each in _FIBRES if each in words), None)
    if fibre:
        words.remove(fibre)
    system = next((each for each in _SYSTEMS if f" {each} " in f" {' '.join(words)} "), None)
    if system and fibre:
        words = f" {' '.join(words)} ".replace(f" {system} ", " ", 1).split()
    missing: list[Missing] = [] if fibre else ["its fibre"]
    if not count and metres is None:
        missing.append("its count, or what 100 g of it measure, as in 600 m/100 g")
    if not words:
        missing.append("its colour")
    yarn = Yarn(
        " ".join(words), fibre or "other", re.sub(r"\s+", "", count[0]) if count else "",
        system if fibre else None, metres_per_kg=metres,
    )  # fmt: skip
    return yarn, missing


def fibre_meant(text: str) -> str:
    """The fibre that one of the words was probably meant for, or nothing."""
    words = [word for word in re.findall(r"[^\W\d_]{4,}", text.casefold()) if word not in OWN_SYSTEM]
    return next((near for word in words if (near := closest_names(word, _FIBRES))), "")


def _without_measured(text: str) -> tuple[str, Fraction | None]:
    found = re.search(_MEASURED, text, re.ASCII | re.IGNORECASE)
    if not found:
        return text, None
    metres = parse_number(found[1]) * (1 if found[2].casefold() == "m" else MM_PER_YARD / 1000)
    return text.replace(found[0], " ", 1), 10 * metres or None


def _weight(text: str) -> Fraction | None:
    try:
        return weight_g(text)
    except ValueError:
        return None


def _length(text: str) -> Fraction | None:
    try:
        return length_mm(text)
    except ValueError:
        return None
