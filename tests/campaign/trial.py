"""One case: its card composed, and everything that is wrong with it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cache, lru_cache
from io import BytesIO
from typing import Any, Final, NamedTuple

import pdfplumber
import yaml

from cardmaker.card.composing import Composed, compose_card
from cardmaker.jobs import card_making, loading, paper_lookup, plan_making
from cardmaker.model.card_layout import CardLayout, Paper
from cardmaker.model.loom import Loom
from cardmaker.model.marks import Box, Group, Words
from cardmaker.model.pattern import Pattern
from cardmaker.model.plan import Plan
from cardmaker.model.problems import ProblemsFound, Refusal
from cardmaker.model.record_class import replace
from cardmaker.reading.card_file import parse_card_layout
from cardmaker.reading.loom_file import parse_loom
from cardmaker.reading.pattern_file import parse_pattern
from tests.campaign.cases import Case, all_texts_text, layout_text, line_of, loom_text, titled_text, warp_text
from tests.helpers.bracketed_counts import (
    bracket_faults,
    bracketed,
    counted_wrong,
    hand_counts,
    in_order_of_work,
    walk_counts,
)
from tests.helpers.card_faults import all_words, faults_by_law, panels
from tests.helpers.ground import ground_of, low_contrasts
from tests.helpers.paper_tools import MM_PER_POINT, RULER
from tests.helpers.shipped import pattern_file, shipped_layout, shipped_loom, shipped_pattern

TOLD: Final = "told"  # not a fault: the file is refused where it is read, or a layout of one's own has too much in it
EDGE_MM: Final = 0.3
SMALL_PAPERS: Final = ("half-letter", "a5", "4x6", "a6", "3x5")
MOST_STRIPES_ON_SMALL: Final = 24  # a warp of these or fewer must find a place
MOST_ENDS_ON_SMALL: Final = 72  # and one of no more ends
MOST_STEPS_ON_BENCH: Final = 40  # of the winding list, on a whole sheet


class Fault(NamedTuple):
    """The law that a card breaks, and how."""

    law: str
    what: str


def faults_of(case: Case, *, on_paper: bool = False) -> list[Fault]:
    """What is wrong with the card of a case; ``on_paper`` draws it as well, and reads it back."""
    try:
        composed = composed_case(case)
    except ProblemsFound as error:
        return [_told(case, " ".join(str(error).split()))]
    except Refusal as refusal:
        return [_refused(case, refusal)]
    except Exception as error:  # whatever it is, it is a fault
        return [Fault("crash", f"{type(error).__name__}: {error}"[:200])]
    found = [*laws_broken(composed, layout_of_case(case), paper_of_case(case)), *_counts(case, composed)]
    return [*found, *read_back_faults(case, composed), *_contrasts(composed)] if on_paper else found


def composed_case(case: Case) -> Composed:
    """The card of a case. Raises ProblemsFound and Refusal."""
    return compose_card(plan_of_case(case), layout_of_case(case), paper_of_case(case), RULER, case.units)


def _told(case: Case, message: str) -> Fault:
    return Fault(TOLD if case.kind in ("title", "texts") else "refused", message[:200])


def _refused(case: Case, refusal: Refusal) -> Fault:
    """Texts that are too long are told at their key, with how much of them fits; and a small card tells plainly that it
    does not hold a warp of very many stripes."""
    told = case.kind == "own" or "letters" in refusal.message or _has_too_many_stripes(case, refusal)
    return Fault(TOLD if told else "refused", str(refusal)[:200])


def _has_too_many_stripes(case: Case, refusal: Refusal) -> bool:
    """Whether a warp whose ends follow no order is too much for a small paper: each stripe needs a cell of its own in
    type of the layout's smallest size, and more of them than these do not go onto it. The refusal names the ends, the
    paper, and what to choose instead."""
    if case.kind != "ends":
        return False
    stripes = len(hand_counts(tree_of_case(case), left_hand=case.left_hand, behind=case.behind))
    is_much = (
        stripes > MOST_STEPS_ON_BENCH
        if case.layout == "bench"
        else case.paper in SMALL_PAPERS
        and (stripes > MOST_STRIPES_ON_SMALL or int(case.pattern.split(":")[0]) > MOST_ENDS_ON_SMALL)
    )
    plainly = rf"\d+ ends do not fit on {case.paper}: .* Choose a larger paper or another layout\."
    is_plain = re.fullmatch(plainly, str(refusal)) is not None
    return is_much and is_plain


def laws_broken(composed: Composed, layout: CardLayout, paper: Paper) -> Iterator[Fault]:
    for law, found in faults_by_law(composed, layout, paper).items():
        yield from (Fault(law, what) for what in found)
    yield from (Fault("bracket", what) for what in bracket_faults(panels(composed)))


def _counts(case: Case, composed: Composed) -> Iterator[Fault]:
    """Where a panel has brackets they must bear the stripes of the file."""
    tree = tree_of_case(case)
    found = bracketed(panels(composed))
    for panel in dict.fromkeys(each.panel for each in found):
        mine = [each for each in found if each.panel == panel]
        ordered = in_order_of_work(mine, left_hand=case.left_hand)
        counts = walk_counts if panel == "walk" else hand_counts
        wanted = counts(tree, left_hand=case.left_hand, behind=case.behind)
        yield from (Fault("count", f"{panel}: {what}") for what in counted_wrong(ordered, wanted))


def read_back_faults(case: Case, composed: Composed) -> Iterator[Fault]:
    """The file read back by a library that did not write it: one page, every letter, none small, none in a margin."""
    layout, paper = layout_of_case(case), paper_of_case(case)
    try:
        pdf = card_making.make_card(plan_of_case(case), layout, paper, case.units).pdf
    except ProblemsFound as error:
        yield Fault("refused", str(error)[:200])
        return
    with pdfplumber.open(BytesIO(pdf)) as document:
        if len(document.pages) != 1:
            yield Fault("pages", f"{len(document.pages)} pages")
        chars = document.pages[0].chars
    ours = _letters(each.text for each in _words_of(composed))
    theirs = _letters(char["text"] for char in chars)
    if ours != theirs:
        yield Fault("read back", f"not drawn {dict(ours - theirs)}, not composed {dict(theirs - ours)}"[:200])
    beside = [mark.box for mark in composed.page.marks if isinstance(mark, Group) and mark not in panels(composed)]
    yield from _misplaced(chars, layout, paper, beside)


def _words_of(composed: Composed) -> list[Words]:
    return list(all_words(composed.page.marks))


def _letters(texts: Iterable[str]) -> Counter[str]:
    return Counter("".join("".join(texts).split()))


def _misplaced(
    chars: Sequence[dict[str, Any]], layout: CardLayout, paper: Paper, in_margins: Sequence[Box]
) -> Iterator[Fault]:
    area, smallest = layout.printable(paper), layout.type_sizes.smallest
    for char in chars:
        if char["upright"] and char["size"] < smallest - 0.01:
            yield Fault("read back", f"'{char['text']}' in {char['size']:.2f} pt")
        left, right, top, bottom = (char[side] * MM_PER_POINT for side in ("x0", "x1", "top", "bottom"))
        middle = Box((left + right) / 2, (top + bottom) / 2, 0, 0)
        stands = area.left - EDGE_MM <= left <= right <= area.right + EDGE_MM
        if char["text"].strip() and not stands and not any(box.holds(middle) for box in in_margins):
            yield Fault("read back", f"'{char['text']}' in the margin")


def _contrasts(composed: Composed) -> Iterator[Fault]:
    """Words that what lies under them hides on a grey copy."""
    yield from (Fault("contrast", what) for what in low_contrasts(ground_of(composed.page), _words_of(composed)))


# What a case is made of


@lru_cache(maxsize=64)
def plan_of_case(case: Case) -> Plan:
    return _plan(case.kind, case.pattern, case.loom, case.units, case.left_hand, case.behind)


@lru_cache(maxsize=8)
def _plan(kind: str, pattern: str, loom: str, units: Any, left: bool, behind: bool) -> Plan:
    of = _pattern(kind, pattern)
    chosen = _loom(kind, loom, pattern)
    looms = plan_making.with_loom(_shipped_looms(), chosen)
    setup = plan_making.PlanSetup(looms, chosen, None, _pegs(), units=units)
    return plan_making.plan_for(of, replace(setup, hand="left" if left else "right", side="behind" if behind else None))


@cache
def _shipped_looms() -> tuple[Loom, ...]:
    return loading.load_looms()


@cache
def _pegs() -> Any:
    return loading.load_pegs()


def _pattern(kind: str, pattern: str) -> Pattern:
    if kind in ("shipped", "own"):
        return shipped_pattern(pattern)
    text = pattern_text(kind, pattern)
    text = _as_long_as_allowed(text, parse_pattern) if kind == "texts" else text
    return parse_pattern(text.encode(), "made.yaml", "made")


def _as_long_as_allowed(text: str, parse: Callable[[bytes, str, str], object]) -> str:
    """The file with every text that is told to be too long cut to the length that is told."""
    tree = yaml.safe_load(text)
    try:
        parse(text.encode(), "made.yaml", "made")
    except ProblemsFound as error:
        for problem in error.problems:
            if most := re.match(r"Write ([\d,]+) at most", problem.remedy):
                _cut(tree, problem.where, int(most[1].replace(",", "")))
    return yaml.safe_dump(tree, sort_keys=False, allow_unicode=True, width=10_000)


def _cut(tree: Any, path: str, most: int) -> None:
    """The text at ``source.differences item 2`` cut to ``most`` signs."""
    keys = [int(key[5:]) - 1 if key.startswith("item ") else key for key in re.findall(r"item \d+|[^. ]+", path)]
    for key in keys[:-1]:
        tree = tree[key]
    tree[keys[-1]] = tree[keys[-1]][:most].strip() or "x"


@lru_cache(maxsize=8)
def pattern_text(kind: str, pattern: str) -> str:
    """The file of a case's pattern."""
    if kind in ("shipped", "own"):
        return pattern_file(pattern).read_text("utf-8")
    first, style, *seed = pattern.split(":")
    if kind == "ends":
        return warp_text(int(first), style, int(seed[0]))
    return (titled_text if kind == "title" else all_texts_text)(int(first), style)


def _loom(kind: str, loom: str, pattern: str) -> Loom:
    if kind == "ends":
        return parse_loom(loom_text(loom).encode(), "own-loom.yaml", "own-loom")
    if kind == "texts":
        length, style, _ = pattern.split(":")
        text = loom_text("one:33").replace("Own loom", f'"{line_of(int(length), style)}"')
        return parse_loom(_as_long_as_allowed(text, parse_loom).encode(), "own-loom.yaml", "own-loom")
    return shipped_loom(loom)


def tree_of_case(case: Case) -> dict[str, Any]:
    """The pattern's file as plain texts, for whoever counts again."""
    tree: dict[str, Any] = yaml.load(pattern_text(case.kind, case.pattern), Loader=yaml.BaseLoader)
    return tree


def layout_of_case(case: Case) -> CardLayout:
    return _own_layout(case.layout) if case.kind == "own" else shipped_layout(case.layout)


@lru_cache(maxsize=8)
def _own_layout(layout: str) -> CardLayout:
    number, paper, seed = layout.split(":")
    return parse_card_layout(layout_text(int(number), paper, int(seed)).encode(), "own.yaml", "own")


def paper_of_case(case: Case) -> Paper:
    return paper_lookup.paper_of(layout_of_case(case), case.paper)
