"""Any text of a file stands on every card within its margins, or is refused at its key with how much of it fits."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache
from typing import Any, Final, NamedTuple

import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.card.sheet import NO_OWNER, CardOwner
from cardmaker.jobs import plan_making
from cardmaker.model.card_layout import CardLayout, Paper
from cardmaker.model.loom import Loom
from cardmaker.model.marks import Group
from cardmaker.model.pattern import (
    LONGEST_CODE,
    LONGEST_TITLE,
    LONGEST_USE,
    LONGEST_YARN_NAME,
    Alternation,
    Pattern,
    Repeat,
    Stripe,
    WarpItem,
)
from cardmaker.model.plan import Plan
from cardmaker.model.problems import Refusal
from cardmaker.model.record_class import replace
from cardmaker.reading.quick_check import schema_of
from tests.helpers.card_faults import all_words, faults, panels
from tests.helpers.paper_tools import RULER
from tests.helpers.samples import part_of
from tests.helpers.shipped import LAYOUTS, shipped_layout, shipped_pattern

PATTERNS: Final = ("three-paths", "nine")
WORDS: Final = (
    "Grandmother Hathersage's box loom with the two long rails and a spare beam, 1990, mended twice and kept by her "
    "niece in the loft above the old ropewalk by the quay, where it still stands and is used every autumn. "
)
Changed = tuple[Pattern, Loom, CardOwner]


def words(letters: int) -> str:
    """So many letters of ordinary words."""
    text = (WORDS * (letters // len(WORDS) + 1))[:letters]
    return f"{text[:-1]}x" if text.endswith(" ") else text


def one_word(letters: int) -> str:
    """So many of the widest letters, without a space to break at."""
    return ("Wm" * letters)[:letters]


class Text(NamedTuple):
    """A text of a file: the most letters that it may have, and what puts it there."""

    most: int
    put: Callable[[Pattern, Loom, str], Changed]
    in_one_word: bool = True


def in_pattern(key: str) -> Callable[[Pattern, Loom, str], Changed]:
    def put(pattern: Pattern, loom: Loom, text: str) -> Changed:
        changed: dict[str, Any] = {key: text}
        return replace(pattern, **changed), loom, NO_OWNER

    return put


def all_numbers(pattern: Pattern, loom: Loom, text: str) -> Changed:
    return replace(pattern, code=text, version=text[:12], date=text[:24]), loom, NO_OWNER


def uses(pattern: Pattern, loom: Loom, text: str) -> Changed:
    return replace(pattern, purposes=(text, "a tie")), loom, NO_OWNER


def notes(pattern: Pattern, loom: Loom, text: str) -> Changed:
    return replace(pattern, notes=replace(pattern.notes, student=(text,), visitor=(text,))), loom, NO_OWNER


def labels(pattern: Pattern, loom: Loom, text: str) -> Changed:
    return replace(pattern, yarns=tuple(replace(yarn, shade=text, dye=text) for yarn in pattern.yarns)), loom, NO_OWNER


def loom_title(pattern: Pattern, loom: Loom, text: str) -> Changed:
    return pattern, replace(loom, title=text), NO_OWNER


def owner(pattern: Pattern, loom: Loom, text: str) -> Changed:
    return pattern, loom, CardOwner(text, "left hand")


def yarn_names(pattern: Pattern, loom: Loom, text: str) -> Changed:
    """All yarns with names of that length, which differ in their last letter."""
    names = {yarn.name: f"{text[:-1]}{'ABCDEFG'[at]}" for at, yarn in enumerate(pattern.yarns)}

    def renamed(item: WarpItem) -> WarpItem:
        if isinstance(item, Repeat):
            return replace(item, stripes=tuple(map(renamed, item.stripes)))
        if isinstance(item, Alternation):
            return replace(item, yarns=tuple(names[yarn] for yarn in item.yarns))
        return Stripe(names[item.yarn], item.ends)

    yarns = tuple(replace(yarn, name=names[yarn.name]) for yarn in pattern.yarns)
    warp = tuple(map(renamed, pattern.warp))
    return replace(pattern, yarns=yarns, warp=warp, weft=names.get(pattern.weft, "")), loom, NO_OWNER


TEXTS: Final = {
    "title": Text(LONGEST_TITLE, in_pattern("title")),
    "code": Text(LONGEST_CODE, in_pattern("code")),
    "code, version and date": Text(LONGEST_CODE, all_numbers),
    "title of the loom": Text(LONGEST_TITLE, loom_title),
    "student": Text(40, owner),
    "names of yarns": Text(LONGEST_YARN_NAME, yarn_names, in_one_word=False),
    "use": Text(LONGEST_USE, uses),
    "shade and dye": Text(LONGEST_USE, labels, in_one_word=False),
    "mark": Text(200, in_pattern("marked_as"), in_one_word=False),
    "credit": Text(1000, in_pattern("credit"), in_one_word=False),
    "description": Text(4000, in_pattern("about"), in_one_word=False),
    "notes": Text(4000, notes, in_one_word=False),
}


def test_the_lengths_are_those_that_files_may_have() -> None:
    pattern = schema_of("pattern")
    most = {key: pattern["$defs"][name]["maxLength"] for key, name in (("title", "title"), ("description", "text"))}
    assert most == {key: TEXTS[key].most for key in most}
    assert schema_of("class")["$defs"]["mark"]["maxLength"] == TEXTS["student"].most


@cache
def setup(layout: str) -> plan_making.PlanSetup:
    return plan_making.load_plan_setup_for(shipped_layout(layout), None)


def plan_of(pattern: Pattern, loom: Loom | None, layout: str) -> Plan:
    at_hand = setup(layout)
    if loom is not None:
        at_hand = replace(at_hand, loom=loom, looms=plan_making.with_loom(at_hand.looms, loom))
    return plan_making.plan_for(pattern, at_hand)


@cache
def plain(stem: str, layout: str) -> Plan:
    return plan_of(shipped_pattern(stem), None, layout)


def lengths_of(text: Text) -> Iterator[str]:
    """The longest, one half as long, and one of a third, of ordinary words and of one word without a space."""
    for letters in (text.most, text.most // 2, text.most // 3):
        yield words(letters)
        if text.in_one_word:
            yield one_word(letters)


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("name", TEXTS)
def test_every_text_has_its_place_or_is_refused_at_its_key(name: str, layout: str) -> None:
    text, of = TEXTS[name], shipped_layout(layout)
    wrong: list[object] = []
    printed = 0
    stems = part_of(PATTERNS, 3, f"{name} {layout}")
    for stem in stems:
        home = plain(stem, layout)
        for said in lengths_of(text):
            pattern, loom, whose = text.put(home.pattern, home.loom, said)
            plan = plan_of(pattern, loom, layout)
            for paper in of.papers:
                found = card_or_refusal(plan, of, paper, whose)
                if isinstance(found, Refusal):
                    if found.path == ("warp",) and "title of the loom" not in found.message:
                        wrong.append((stem, paper.name, len(said), found.message))
                    assert re.search(r"\d+ fit\.|together too many", found.message), found.message
                else:
                    printed += 1
                    wrong += [(stem, paper.name, len(said), fault) for fault in faults(found, of, paper)]
                    wrong += [(stem, paper.name, len(said), word) for word in broken_words(found, said)]
    assert not wrong
    assert printed >= len(stems) * len(of.papers)  # the shortest of them on every card


def broken_words(card: Composed, said: str) -> list[str]:
    """The beginnings of long words of the text that stand on the card without their ends."""
    printed = {part for each in all_words(card.page.marks) for part in re.split(r"[ \xa0]", each.text)}
    long = {word for word in said.split() if 8 <= len(word) <= 12}
    return sorted(part for part in printed - {*said.split()} for word in long if part[2:] and word.startswith(part))


def card_or_refusal(plan: Plan, of: CardLayout, paper: Paper, whose: CardOwner) -> Composed | Refusal:
    try:
        return compose_card(plan, of, paper, RULER, owner=whose)
    except Refusal as refusal:
        return refusal


@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_title_of_forty_letters_fits_every_card_and_is_not_cut(layout: str) -> None:
    """As long as titles of real looms and patterns are; in ordinary words, on every paper."""
    of, title = shipped_layout(layout), words(33)
    for paper in of.papers:
        pattern = replace(shipped_pattern("nine"), title=title)
        card = compose_card(plan_of(pattern, None, layout), of, paper, RULER)
        heads = [each for group in panels(card) for each in group.marks if isinstance(each, Group)]
        said = [" ".join(words.text for words in all_words(head.marks)) for head in heads if head.role == "title"]
        assert said == [title]
