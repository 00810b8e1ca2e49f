"""Laws that hold for every pattern on every loom, tried on generated ones; a finished card is read back from its PDF.

The second count is ``tests/helpers/recount.py``, which knows nothing of the program. Few examples each: a card takes
a while.
"""

from __future__ import annotations

import contextlib
import io
import json
import re
from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final, NamedTuple

import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cardmaker.cli.command_line import run_command_line
from cardmaker.model.marks import Line
from tests.helpers.recount import Seat, Told, board, lay_ends, stripes, thread
from tests.helpers.recount_checks import (
    check_back_heddle,
    check_board,
    check_counts,
    check_counts_over,
    check_face,
    check_lengths,
    check_order,
    check_walk,
    check_winding,
    check_words,
    drawn,
    panel,
    read_quickly,
)

YARNS: Final = {"red": "#9c2f2b", "white": "#f4f0e4", "blue": "#2f4a7d", "green": "#6f8b52"}
MOST_ENDS: Final = 30
SEATS: Final = [Seat(hand, behind) for hand in ("right", "left") for behind in (False, True)]
FEW = settings(
    max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)
MANY = settings(FEW, max_examples=100)
Tree = dict[str, Any]


# Patterns and looms


@st.composite
def items(draw: st.DrawFn, depth: int = 0) -> Any:
    name = st.sampled_from(sorted(YARNS))
    kinds = ["stripe", "stripe", "alternate"] if depth else ["stripe", "stripe", "alternate", "repeat"]
    kind = draw(st.sampled_from(kinds))
    if kind == "alternate":
        names = draw(st.lists(name, min_size=2, max_size=3))
        return {"alternate": names, "ends": str(draw(st.integers(2, 9)))}
    if kind == "repeat":
        return {
            "repeat": str(draw(st.integers(1, 3))),
            "stripes": draw(st.lists(items(depth=1), min_size=1, max_size=2)),
        }
    return f"{draw(st.integers(1, 6))} {draw(name)}"


@st.composite
def patterns(draw: st.DrawFn) -> Tree:
    """A pattern of up to thirty ends, with every yarn that its stripes name."""
    warp = draw(st.lists(items(), min_size=1, max_size=5))
    mirror = draw(st.sampled_from([None, None, "last stripe", "whole"]))
    tree: Tree = {"title": "Law", "warp": warp, **({"mirror": mirror} if mirror else {})}
    ends = lay_ends(tree)
    while len(ends) > MOST_ENDS and len(tree["warp"]) > 1:
        tree["warp"].pop()
        ends = lay_ends(tree)
    yarns = {
        name: {"fibre": "linen", "count": "20/2", "ends_per_inch": "49.3", "colour": colour}
        for name, colour in YARNS.items()
        if name in json.dumps(tree["warp"])
    }
    return {
        **tree, "yarns": yarns, "weft": ends[0], "picks_per_inch": "15",
        "length": {"finished": draw(st.sampled_from(["1 m", "60 in", "72 in"])), "take_up": "10 %", "shrinkage": "4 %"},
    }  # fmt: skip


@st.composite
def looms(draw: st.DrawFn) -> Tree:
    """One heddle or two, of 9 to 61 spaces, marked in any way."""
    slots = draw(st.integers(5, 30))
    holes = slots + draw(st.sampled_from([-1, 0, 1]))
    two = draw(st.booleans()) and draw(st.booleans())
    loom: Tree = {
        "title": "Law loom", "kind": "two heddles" if two else "one heddle", "slots": str(slots), "holes": str(holes),
        "mark": draw(st.sampled_from(["counted as one", "counted as zero"])), "waste": "18 in",
        "shuttle": {"left_foot": "right", "right_foot": "left"} if two else {"down": "right", "up": "left"},
        "shuttle_length": "5 in", "shuttle_holds": "20",
    }  # fmt: skip
    if slots == holes:
        loom["outer"] = draw(st.sampled_from(["slot", "hole"]))
    if two:
        loom["back_heddle"] = draw(st.sampled_from(["same", "opposite"]))
    return loom


class Files(NamedTuple):
    """A pattern and a loom as files in a folder of their own."""

    folder: Path
    pattern: Path
    loom: Path

    def run(self, *arguments: str) -> tuple[int, str, str]:
        out, err = io.StringIO(), io.StringIO()
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            status = run_command_line(arguments)
        return status, out.getvalue(), err.getvalue()

    def plan(self) -> Tree | None:
        status, out, _ = self.run("plan", str(self.pattern), "--loom", str(self.loom), "--json")
        return json.loads(out) if status == 0 else None

    def card(self, layout: str, seat: Seat = SEATS[0], units: str = "metric") -> str:
        """The words of the finished page, read back by another library."""
        side = "behind" if seat.behind else "front"
        target = self.folder / "card.pdf"
        arguments = ["card", str(self.pattern), "--loom", str(self.loom), "--layout", layout, "--units", units]
        status, _, err = self.run(*arguments, "--hand", seat.hand, "--from", side, "--out", str(target))
        assert status == 0, err
        return read_quickly(target.read_bytes())


@contextmanager
def written(pattern: Tree, loom: Tree) -> Iterator[Files]:
    with TemporaryDirectory() as place:
        files = Files(Path(place), Path(place, "law.yaml"), Path(place, "law-loom.yaml"))
        for path, tree in ((files.pattern, pattern), (files.loom, loom)):
            text = yaml.dump(tree, Dumper=_Plain, allow_unicode=True, sort_keys=False)
            path.write_text(text, encoding="utf-8")
        yield files


class _Plain(yaml.SafeDumper):
    """Every text as it is, so that figures stay figures; colours are quoted because of their #."""


def _as_typed(dumper: yaml.SafeDumper, text: str) -> yaml.ScalarNode:
    return dumper.represent_scalar("tag:yaml.org,2002:str", text, style='"' if "#" in text or "%" in text else None)


_Plain.add_representer(str, _as_typed)
_Plain.ignore_aliases = lambda self, data: True  # type: ignore[method-assign]
_Plain.yaml_implicit_resolvers = {}


# Every count a second time


@MANY
@given(patterns(), looms())
def test_every_count_of_the_plan_is_the_second_count(pattern: Tree, loom: Tree) -> None:
    threading = thread(pattern, loom)
    with written(pattern, loom) as files:
        plan = files.plan()
    assert (plan is None) == (threading is None)
    if plan is not None and threading is not None:
        check_counts(threading, plan)
        check_back_heddle(threading, plan)
        check_winding(threading, plan)
        check_lengths(plan, pattern, loom)


@FEW
@given(
    patterns(), looms(), st.sampled_from(["record", "handout", "field", "six-numbers", "bench"]), st.sampled_from(SEATS)
)
def test_every_count_on_the_finished_card_is_the_second_count(
    pattern: Tree, loom: Tree, layout: str, seat: Seat
) -> None:
    threading = thread(pattern, loom)
    if threading is None:
        return
    with written(pattern, loom) as files:
        plan = files.plan()
        assert plan is not None
        letters = {colour["yarn"]: colour["letters"] for colour in plan["colours"]}
        check_words(files.card(layout, seat), Told(seat, threading), letters, loom, layout)


@FEW
@given(patterns(), looms(), st.sampled_from(SEATS))
def test_every_drawing_shows_the_second_count(pattern: Tree, loom: Tree, seat: Seat) -> None:
    threading = thread(pattern, loom)
    if threading is None:
        return
    told = Told(seat, threading)
    with written(pattern, loom) as files:
        composed, method = drawn(files.folder, "law", "law-loom", seat)
        order = panel(drawn(files.folder, "law", "law-loom", seat, "order")[0], "order")
    panels = {mark.name for mark in composed.page.marks}  # type: ignore[union-attr]
    check_order(order, told, YARNS)
    if "board" in panels:
        check_counts_over(panel(composed, "board"), told)
        check_board(panel(composed, "board"), told, YARNS)
    if "walk" in panels:
        check_walk(panel(composed, "walk"), told, YARNS, method)
    if "face" in panels:
        check_face(panel(composed, "face"), told, YARNS)


# Turning the warp round


def reversed_warp(pattern: Tree) -> Tree:
    """The same tape from the other edge, its stripes written out one by one."""
    runs = stripes(lay_ends(pattern)[::-1])
    return {**{key: value for key, value in pattern.items() if key != "mirror"}, "warp": [f"{n} {y}" for y, n in runs]}


@MANY
@given(patterns(), looms())
def test_turning_the_warp_round_turns_the_ends_and_nothing_else(pattern: Tree, loom: Tree) -> None:
    with written(pattern, loom) as files:
        plan = files.plan()
    with written(reversed_warp(pattern), loom) as files:
        turned = files.plan()
    assert (plan is None) == (turned is None)
    if plan is None or turned is None:
        return
    assert [end["yarn"] for end in turned["ends_list"]] == [end["yarn"] for end in plan["ends_list"]][::-1]
    assert [{**end, "yarn": ""} for end in turned["ends_list"]] == [{**end, "yarn": ""} for end in plan["ends_list"]]
    assert [(run["yarn"], run["ends"]) for run in turned["stripes"]] == [
        (run["yarn"], run["ends"]) for run in plan["stripes"]
    ][::-1]
    for key in ("ends", "same_both_ways", "placement", "lengths", "width", "weft", "beam", "shuttle"):
        assert turned[key] == plan[key], key
    amounts = [{yarn["yarn"]: yarn for yarn in each["yarn"]} for each in (plan, turned)]
    assert amounts[0] == amounts[1]


@FEW
@given(patterns(), st.integers(5, 30), st.sampled_from([-1, 1]))
def test_a_mirrored_file_gives_a_mirrored_card(pattern: Tree, slots: int, more: int) -> None:
    """On a heddle with a middle space and for an odd number of ends, all that is drawn of the ends is mirrored."""
    loom = {
        "title": "Law loom",
        "kind": "one heddle",
        "slots": str(slots),
        "holes": str(slots + more),
        "waste": "18 in",
    }
    ends = lay_ends(pattern)
    if len(ends) % 2 == 0 or len(ends) > board(loom).holds():
        return
    cards = []
    for each in (pattern, reversed_warp(pattern)):
        with written(each, loom) as files:
            cards.append(drawn(files.folder, "law", "law-loom", SEATS[0])[0])
    here, there = (_coloured(panel(card, "board")) for card in cards)
    assert len(here) == len(ends) or not here
    assert here == there[::-1]


def _coloured(marks: list[Any]) -> list[str]:
    """The colours of the ends of the board from left to right; nothing where it is broken into rows."""
    inks = YARNS.values()
    threads = [mark for mark in marks if isinstance(mark, Line) and mark.colour in inks and mark.round_ends]
    if len({round(mark.y1, 2) for mark in threads}) > 1:
        return []
    return [mark.colour for mark in sorted(threads, key=lambda line: line.x1)]


@MANY
@given(patterns(), looms(), st.sampled_from(sorted(YARNS)))
def test_two_ends_more_at_both_edges_move_no_end(pattern: Tree, loom: Tree, yarn: str) -> None:
    """Each old end keeps its space, and so its hole or slot: counting stops two further out on the left."""
    wider = {
        **{key: value for key, value in pattern.items() if key != "mirror"},
        "warp": [f"2 {yarn}", *(f"{n} {y}" for y, n in stripes(lay_ends(pattern))), f"2 {yarn}"],
        "yarns": {**pattern["yarns"], yarn: {"fibre": "linen", "count": "20/2", "colour": YARNS[yarn]}},
    }
    with written(pattern, loom) as files:
        plan = files.plan()
    with written(wider, loom) as files:
        more = files.plan()
    if more is None:
        assert len(lay_ends(wider)) > board(loom).holds()
        return
    assert plan is not None
    kept = more["ends_list"][2:-2]
    assert [(end["yarn"], end["space"], end["kind"]) for end in kept] == [
        (end["yarn"], end["space"], end["kind"]) for end in plan["ends_list"]
    ]


# Metric and US

NUMBER: Final = r"(?:\d+(?:\.\d+)?(?: [¼½¾⅛⅜⅝⅞]| [⁰¹²³⁴⁵⁶⁷⁸⁹]+⁄[₀₁₂₃₄₅₆₇₈₉]+)?|[¼½¾⅛⅜⅝⅞]|[⁰¹²³⁴⁵⁶⁷⁸⁹]+⁄[₀₁₂₃₄₅₆₇₈₉]+)"
PAIR: Final = re.compile(rf"({NUMBER}) (mm|cm|m|in|yd) \(({NUMBER}) (mm|cm|m|in|yd)\)")
READY: Final = dict(zip("¼½¾⅛⅜⅝⅞", map(Fraction, ("1/4", "1/2", "3/4", "1/8", "3/8", "5/8", "7/8")), strict=True))
PLAIN: Final = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁄₀₁₂₃₄₅₆₇₈₉", "0123456789/0123456789")
MM: Final = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "yd": Fraction(9144, 10),
}


def value(text: str) -> Fraction:
    return sum((READY.get(part) or Fraction(part.translate(PLAIN)) for part in text.split()), Fraction(0))


def pairs(text: str) -> list[tuple[tuple[str, str], tuple[str, str]]]:
    """Every length that stands in both systems, the metric one first."""
    found = []
    for one, its, other, others in PAIR.findall(" ".join(text.split())):
        metric, us = ((one, its), (other, others)) if its.endswith("m") else ((other, others), (one, its))
        assert metric[1].endswith("m")
        assert us[1] in ("in", "yd")
        found.append((metric, us))
    return found


def tolerance_mm(metric: tuple[str, str], us: tuple[str, str]) -> Fraction:
    """Half of the last place of each, as ``measures.py`` says that they are rounded; yarn is rounded up to wholes."""
    inch, yard = MM["in"], MM["yd"]
    if metric[1] == "mm":
        return (Fraction(1, 2) if value(metric[0]) >= 10 else Fraction(1, 20)) + inch / 32
    if metric[1] == "cm":
        return 5 + (inch / 2 if value(us[0]) >= 10 else inch / 4)
    if "." in metric[0] or not us[0].isdigit():
        return 5 + yard / 200
    return 1000 + yard


def check_pairs(text: str) -> int:
    found = pairs(text)
    for metric, us in found:
        apart = abs(value(metric[0]) * MM[metric[1]] - value(us[0]) * MM[us[1]])
        least = us == ("¹⁄₁₆", "in")  # nothing thinner is ever told in inches
        assert apart <= tolerance_mm(metric, us) or least, (metric, us)
    return len(found)


@FEW
@given(patterns(), looms(), st.sampled_from(["record", "handout", "bench", "field"]))
def test_metric_and_us_say_the_same_on_a_card(pattern: Tree, loom: Tree, layout: str) -> None:
    if thread(pattern, loom) is None:
        return
    with written(pattern, loom) as files:
        metric, us = files.card(layout), files.card(layout, units="us")
    assert check_pairs(metric) > 0 or (layout in SMALL and in_one_system(metric, METRIC_UNITS, US_UNITS))
    assert check_pairs(us) > 0 or (layout in SMALL and in_one_system(us, US_UNITS, METRIC_UNITS))


METRIC_UNITS, US_UNITS = {"mm", "cm", "m"}, {"in", "yd"}
SMALL: Final = ("field", "handout")  # the second unit is in brackets where the line has the room


def in_one_system(text: str, asked: set[str], other: set[str]) -> bool:
    """Whether a small card tells lengths, and all of them in the units asked for: it has no room for both."""
    units = set(re.findall(r"[\d¼½¾⅛⅜⅝⅞₀-₉]\s?(mm|cm|m|in|yd)\b", text))
    return bool(units) and units <= asked and not units & other


@FEW
@given(patterns(), looms())
def test_the_other_units_first_changes_no_number(pattern: Tree, loom: Tree) -> None:
    """Every pair of the plan's words, in the same order, only turned round.

    The warp is given, since another would be rounded up in its own units.
    """
    if thread(pattern, loom) is None:
        return
    with written(pattern, loom) as files:
        told = [
            files.run("plan", str(files.pattern), "--loom", str(files.loom), "--warp", "4 m", "--units", units)[1]
            for units in ("metric", "us")
        ]
    assert pairs(told[0]) == pairs(told[1])
    assert len(pairs(told[0])) > 5
    assert check_pairs(told[0]) == check_pairs(told[1])


def test_a_pair_that_differs_is_noticed() -> None:
    assert check_pairs("16 mm (⅝ in), 2.74 m (3 yd), 2711 mm (106 ¾ in), 72 in (183 cm)") == 4
    for wrong in ("18 mm (⅝ in)", "2.76 m (3 yd)", "2711 mm (106 ½ in)", "73 in (183 cm)"):
        try:
            check_pairs(wrong)
        except AssertionError:
            continue
        raise AssertionError(f"{wrong} was not noticed")
