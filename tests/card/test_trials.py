"""How often a card is fitted before it fits: a trial that must fail is not made, and no card comes out otherwise."""

from __future__ import annotations

from math import inf

import pytest

from cardmaker.card import composing
from cardmaker.card.composing import Composed, compose_card
from cardmaker.card.fitting import Fitted, fit
from cardmaker.card.sheet import Sheet
from cardmaker.model.record_class import replace
from tests.helpers.places import shipped_in
from tests.helpers.record_cards import RULER
from tests.helpers.shipped import paper_of, plan_for_layout, shipped_layout

PATTERNS = [path.stem for path in shipped_in("patterns")]


def _composed(stem: str, layout: str) -> Composed:
    return compose_card(plan_for_layout(stem, layout), shipped_layout(layout), paper_of(layout), RULER)


@pytest.mark.parametrize("layout", ["handout", "handout-large", "field", "six-numbers", "bench", "record"])
def test_what_is_not_tried_would_not_have_fitted(layout: str, monkeypatch: pytest.MonkeyPatch) -> None:
    cards = [_composed(stem, layout) for stem in PATTERNS]
    monkeypatch.setattr(composing, "MUCH_TOO_FULL", inf)
    monkeypatch.setattr(composing, "FEWEST_WORDS", inf)
    assert cards == [_composed(stem, layout) for stem in PATTERNS]


@pytest.mark.parametrize(
    "layout", ["handout", "handout-large", "field", "field-folded", "six-numbers", "record", "bench"]
)
def test_begun_close_no_card_tells_less(layout: str) -> None:
    begun_wide = replace(shipped_layout(layout), drawn="wide")
    for stem in PATTERNS:
        plan = plan_for_layout(stem, layout)
        wide = compose_card(plan, begun_wide, paper_of(layout), RULER)
        assert _composed(stem, layout).printed >= wide.printed, stem


def _shares(monkeypatch: pytest.MonkeyPatch, stem: str, layout: str) -> list[float]:
    """What is left of the least heights of pictures in each trial."""
    shares: list[float] = []

    def counted(sheet: Sheet, *others: object) -> Fitted:
        shares.append(round(sheet.picture_share, 2))
        return fit(sheet, *others)  # type: ignore[arg-type]

    monkeypatch.setattr(composing, "fit", counted)
    _composed(stem, layout)
    return shares


@pytest.mark.parametrize("layout", ["handout", "bench"])
def test_a_full_card_is_fitted_once(layout: str, monkeypatch: pytest.MonkeyPatch) -> None:
    assert _shares(monkeypatch, "three-paths", layout) == [0.55]
