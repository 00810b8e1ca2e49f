"""The yarns that are at hand, and how much of each: typed, or told by their files."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from pathlib import Path

from cardmaker.jobs import loading
from cardmaker.jobs.file_lookup import ENDINGS, WrongUsage, at_hand, files_by_stem, find
from cardmaker.model.drawer import YarnAtHand
from cardmaker.model.pattern import ShelfYarn, Yarn
from cardmaker.model.record_class import replace
from cardmaker.reading.drawer_text import TypedYarn, amount_and_name, described_yarn, fibre_meant
from cardmaker.reckoning.amounts.yarn_counts import count_refusal, metres_per_kg
from cardmaker.wording import drawer_words


def yarns_at_hand(typed: Sequence[str] | None, *, every: bool) -> tuple[YarnAtHand, ...]:
    """Those that are typed, and with ``every`` those whose files say how much there is. More of one is added up.

    Raises WrongUsage, ProblemsFound.
    """
    yarns = [_typed(text) for text in typed or ()]
    if every:
        named = {yarn.stem for yarn in yarns}
        on_shelf = [loading.load_yarn(path) for stem, path in at_hand("yarn").items() if stem not in named]
        yarns += [_of_file(shelf, TypedYarn(None, None, shelf.stem)) for shelf in on_shelf if shelf.at_hand_g]
        if not yarns:
            raise WrongUsage(drawer_words.EMPTY)
    return tuple(_added_up(yarns))


def _typed(text: str) -> YarnAtHand:
    try:
        amount = amount_and_name(text)
    except ValueError as error:
        raise WrongUsage(f"{error}.") from None
    if Path(amount.name).suffix in ENDINGS or amount.name in files_by_stem("yarn"):
        return _of_file(loading.load_yarn(find("yarn", amount.name)), amount)
    yarn, missing = described_yarn(amount.name)
    if amount.grams is None and amount.length_mm is None:
        raise WrongUsage(drawer_words.no_amount(text))
    if missing:
        meant = fibre_meant(amount.name) if "its fibre" in missing else ""
        raise WrongUsage(drawer_words.incomplete(text, missing, meant))
    if refusal := count_refusal(yarn):
        raise WrongUsage(f"{refusal.message} {refusal.remedy}")
    return _weighed(yarn, amount, amount.name, "")


def _of_file(shelf: ShelfYarn, amount: TypedYarn) -> YarnAtHand:
    """The yarn of a file, under its shade, with the amount that is typed before the one that it says."""
    if amount.grams is None and amount.length_mm is None:
        if shelf.at_hand_g is None:
            raise WrongUsage(drawer_words.no_amount_in_file(shelf.stem))
        amount = replace(amount, grams=shelf.at_hand_g)
    if metres_per_kg(shelf.yarn) is None:
        raise WrongUsage(drawer_words.unweighed(shelf.stem))
    return _weighed(replace(shelf.yarn, name=shelf.yarn.shade or shelf.title), amount, shelf.title, shelf.stem)


def _weighed(yarn: Yarn, amount: TypedYarn, told: str, stem: str) -> YarnAtHand:
    """By weight and by length: millimetres over metres in a kilogram are grams."""
    metres = metres_per_kg(yarn)
    assert metres is not None
    grams = amount.grams if amount.grams is not None else (amount.length_mm or Fraction(0)) / metres
    return YarnAtHand(told, yarn, grams * metres, grams, stem)


def _added_up(yarns: Iterable[YarnAtHand]) -> Iterable[YarnAtHand]:
    """Two balls of one yarn are one amount."""
    by_yarn: dict[tuple[str, str], YarnAtHand] = {}
    for each in yarns:
        key = each.told.casefold(), each.stem
        if before := by_yarn.get(key):
            each = replace(each, length_mm=before.length_mm + each.length_mm, grams=before.grams + each.grams)
        by_yarn[key] = each
    return by_yarn.values()
