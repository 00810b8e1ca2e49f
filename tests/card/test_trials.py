"""How often a card is fitted before it fits: a trial that must fail is not made, and no card comes out otherwise."""

from __future__ import annotations

from math import inf

import pytest

from cardmaker.card import composing
from cardmaker.card.composing import Composed, compose_card
from cardmaker.card.fitting import Fitted, fit
from cardmaker.card.sheet import Sheet
from tests.helpers.places import shipped_in
from tests.helpers.record_cards import RULER
from tests.helpers.shipped import paper_of, plan_for_layout, shipped_layout

PATTERNS = [path.stem for path in shipped_in("patterns")]


def _composed(stem: str, layout: str) -> Composed:
    return compose_card(plan_for_layout(stem, layout), shipped_layout(layout), paper_of(layout), RULER)


@pytest.mark.parametrize("layout", ["handout", "handout-large", "field", "six-numbers", "bench"])
def test_what_is_not_tried_would_not_have_fitted(layout: str, monkeypatch: pytest.MonkeyPatch) -> None:
    cards = [_composed(stem, layout) for stem in PATTERNS]
    monkeypatch.setattr(composing, "MUCH_TOO_FULL", inf)
    assert cards == [_composed(stem, layout) for stem in PATTERNS]


def test_a_handout_that_is_much_too_full_is_fitted_three_times(monkeypatch: pytest.MonkeyPatch) -> None:
    shares: list[float] = []

    def counted(sheet: Sheet, *others: object) -> Fitted:
        shares.append(round(sheet.picture_share, 2))
        return fit(sheet, *others)  # type: ignore[arg-type]

    monkeypatch.setattr(composing, "fit", counted)
    _composed("three-paths", "handout")
    assert shares == [1.0, 0.7, 0.55]  # and not with 0.85 of the heights of pictures, since 0.7 are too much
