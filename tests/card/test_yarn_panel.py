"""The table of yarn: names stand whole, and the words beside it or below it, whichever is lower."""

from __future__ import annotations

import re
from functools import cache
from typing import Final

from cardmaker.card.composing import compose_card
from cardmaker.jobs import plan_making
from cardmaker.model.marks import Group
from cardmaker.reading.pattern_file import parse_pattern
from tests.helpers.card_faults import all_words, panels
from tests.helpers.places import ROOT
from tests.helpers.record_cards import RULER, bench, layout, paper_named

LONG: Final = {"red": "madder red of the second year", "white": "white from the walled garden"}


@cache
def yarn_panel(*, long_names: bool) -> Group:
    text = (ROOT / "patterns" / "three-paths.yaml").read_text("utf-8")
    for name, long in LONG.items() if long_names else ():
        text = re.sub(rf"\b{name}\b", long, text)
    plan = plan_making.plan_for(parse_pattern(text.encode(), "own.yaml", "own"), bench("middle-box"))
    card = compose_card(plan, layout(), paper_named("letter"), RULER)
    (panel,) = (group for group in panels(card) if group.name == "yarn")
    return panel


def part(panel: Group, role: str) -> Group:
    """The table, or the words about it, which come last."""
    return [mark for mark in panel.marks if isinstance(mark, Group) and mark.role == role][-1]


def test_short_words_stand_beside_the_table_and_long_ones_below_it() -> None:
    short, long = yarn_panel(long_names=False), yarn_panel(long_names=True)
    assert part(short, "paragraph").box.left > part(short, "table").box.right
    assert part(short, "paragraph").box.top < part(short, "table").box.bottom
    assert part(long, "paragraph").box.top > part(long, "table").box.bottom


def test_long_names_are_whole_in_the_table() -> None:
    said = [
        word.text.replace("\N{NO-BREAK SPACE}", " ")
        for word in all_words(part(yarn_panel(long_names=True), "table").marks)
    ]
    for name in LONG.values():
        assert any(each.startswith(name) for each in said), said
    assert not any("…" in each for each in said)
