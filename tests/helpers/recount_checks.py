"""A plan, the words and the drawings of a card against the second count."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import cache
from itertools import pairwise
from operator import or_
from pathlib import Path as File
from typing import Any

import pypdfium2
import pytest

from cardmaker.card.composing import Composed, compose_card
from cardmaker.jobs import loading, plan_making
from cardmaker.model.card_layout import PanelPlace
from cardmaker.model.marks import Dot, Face, Group, Line, Mark, Path, Rectangle, Stamp, Words
from cardmaker.model.record_class import replace
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.reckoning.threading.mirror import plan_as_seen
from tests.helpers.places import ROOT
from tests.helpers.recount import (
    Seat,
    Threading,
    Told,
    balls,
    beam_length,
    empty_walks,
    grams_per_metre,
    next_sheds,
    posts,
    reckon_lengths,
    replacement,
    share,
    shed_names,
    stripes,
)

RULER = TypeRuler()
OTHER_KIND = {"hole": "slot", "slot": "hole"}
OTHER_SIDE = {"left": "right", "right": "left"}


@cache
def loom_file(folder: File, name: str) -> File:
    shipped = ROOT / "layouts" / "looms" / f"{name}.yaml"
    return shipped if shipped.exists() else folder / f"{name}.yaml"


@cache
def pattern_file(folder: File, name: str) -> File:
    shipped = ROOT / "patterns" / f"{name}.yaml"
    return shipped if shipped.exists() else folder / f"{name}.yaml"


# --- the plan --------------------------------------------------------------------------------------------------------


def check_counts(threading: Threading, plan: dict[str, Any]) -> None:
    """Ends, stripes, totals, places, kinds, sheds, colours: nothing here may be off by one."""
    told, placement, ends = Told(Seat(), threading), plan["placement"], list(threading.ends)
    assert plan["ends"] == len(ends)
    assert plan["same_both_ways"] == (ends == ends[::-1])
    assert [(run["yarn"], run["ends"], run["total"]) for run in plan["stripes"]] == [
        (yarn, count, total) for (yarn, count), total in zip(told.stripes(), told.totals(), strict=True)
    ]
    kinds = threading.kinds()
    mine = {
        "spaces": threading.heddle.spaces,
        "first_space": threading.first,
        "last_space": threading.last,
        "first_kind": kinds[0],
        "last_kind": kinds[-1],
        "first_label": told.label(threading.first),
        "last_label": told.label(threading.last),
        "empty_left": told.empties()["left"],
        "empty_right": told.empties()["right"],
        "holes": kinds.count("hole"),
        "slots": kinds.count("slot"),
        "half_space": told.leans(),
        "shifted": threading.shifted,
        "count_to": threading.heddle.said(threading.counted)[1],
        "first_count": threading.heddle.said(threading.first)[1],
        "middle_end": threading.middle_end(),
    }
    assert {key: placement[key] for key in mine} == mine
    assert [(end["number"], end["yarn"], end["space"], end["kind"]) for end in plan["ends_list"]] == [
        (number, *end) for number, end in enumerate(zip(ends, threading.spaces(), kinds, strict=True), start=1)
    ]
    for shed in ("down", "up"):
        assert plan["sheds"][shed] == threading.raised(shed)
    pairs = Counter(zip(ends, kinds, strict=True))
    for colour in plan["colours"]:
        yarn = colour["yarn"]
        assert (colour["in_holes"], colour["in_slots"]) == (pairs[yarn, "hole"], pairs[yarn, "slot"])


def check_back_heddle(threading: Threading, plan: dict[str, Any]) -> None:
    """Every end in a hole of one heddle and a slot of the other, and nobody off the board."""
    offset, told = threading.back_offset(), plan["placement"]["back_heddle"]
    if offset is None:
        assert told is None
        return
    assert told == {
        "offset": offset,
        "first_space": threading.first + offset,
        "last_space": threading.last + offset,
    }
    for end in plan["ends_list"]:
        space = end["space"] + offset
        assert 1 <= space <= threading.heddle.spaces
        assert (end["back_space"], end["back_kind"]) == (space, threading.back_kind(space))
        assert {end["kind"], end["back_kind"]} == {"hole", "slot"}


def check_winding(threading: Threading, plan: dict[str, Any]) -> None:
    """Trips, changes, posts; where each ball starts and waits."""
    runs, winding = stripes(threading.ends), plan["winding"]
    colours = len(set(threading.ends))
    assert (winding["trips"], winding["round_trips"]) == (len(threading.ends), len(threading.ends) // 2)
    assert (winding["changes"], winding["far_changes_in_order"]) == (len(runs) - 1, posts(runs)[:-1].count("far"))
    assert [run["stand_at_in_order"] for run in plan["stripes"]] == posts(runs)
    assert winding["far_changes"] == (winding["far_changes_in_order"] if winding["method"] == "order" else None)
    stands = {"order": posts(runs), "carry": [ball[3] for ball in balls(runs)], "bundle": [None] * len(runs)}
    assert [run["stand_at"] for run in plan["stripes"]] == stands[winding["method"]]
    assert winding["empty_walks"] == empty_walks(list(threading.ends), winding["method"])
    methods = winding["methods"]
    assert methods["order"]["joins"] == len(runs) - 1
    assert methods["bundle"]["bundles"] == methods["carry"]["balls"] == colours
    assert [(step["yarn"], step["ends"], step["from"], step["to"]) for step in methods["carry"]["starts"]] == balls(
        runs
    )
    if winding["method"] == "order":
        assert winding["finish"] == posts(runs)[-1]


def check_lengths(plan: dict[str, Any], pattern: dict[str, Any], loom: dict[str, Any]) -> None:
    """Both ways, in whole tenths of a metre (a plan is metric unless yards are asked for), and what each yarn takes;
    learned shares are taken as they are told."""
    told = plan["lengths"]
    take_up, shrinkage = (Fraction(str(told[f"{share}_range"][1])) for share in ("take_up", "shrinkage"))
    wish = pattern["length"]
    if told["take_up_basis"] == "pattern" and "take_up" in wish:
        assert share(wish["take_up"]) == take_up
    if "measured" in pattern:
        return  # its own records have taught this loom other figures
    mine = reckon_lengths(pattern, loom, take_up, shrinkage, Fraction(100))
    near = pytest.approx
    assert told["fringes_mm"] == near(float(mine.fringes), abs=0.001)
    assert told["waste_mm"] == near(float(mine.waste), abs=0.001)
    assert told["warp_mm"] == near(float(mine.warp), abs=0.001)
    assert told["wind_mm"] == near(float(mine.wind), abs=0.001)
    wound = Fraction(str(told["wound_mm"]))
    assert told["wound_mm"] >= told["wind_mm"] - 0.001
    assert told["wound_mm"] == (plan["pegs"] or {"length_mm": told["wind_mm"]})["length_mm"]
    woven_off = mine.wind if "warp" in wish else wound
    assert told["tape_at_least_mm"] == near(float(mine.tape(woven_off)), abs=0.01)
    if mine.finished is not None and mine.woven is not None:
        assert told["finished_mm"] == near(float(mine.finished), abs=0.001)
        assert told["on_loom_mm"] == near(float(mine.woven), abs=0.001)
        assert told["tape_at_least_mm"] >= told["finished_mm"]
    spare, ends = int(wish.get("spare_ends", "1")), Counter(end["yarn"] for end in plan["ends_list"])
    for yarn in plan["yarn"]:
        strands = ends[yarn["yarn"]] + spare if ends[yarn["yarn"]] else 0
        assert yarn["warp_m"] == near(strands * float(wound) / 1000, abs=0.001)
        assert yarn["total_m"] == near(yarn["warp_m"] + yarn["weft_m"], abs=0.002)
        assert yarn["grams"] == near(grams_per_metre(pattern["yarns"][yarn["yarn"]]) * yarn["total_m"], abs=0.002)
    for row in plan["rescue"]["replacements"]:
        assert row["length_mm"] == near(float(replacement(mine, wound, Fraction(str(row["woven"])))), abs=0.001)
    weft, width = plan["weft"], plan["width"]["likely_mm"]
    woven = (woven_off - mine.waste) * (1 - Fraction(str(told["take_up"])))
    if mine.pieces and mine.woven is not None:
        woven = mine.woven
    picks = int(Fraction(str(weft["picks_per_inch"])) * woven * 5 / 127)
    assert abs(weft["picks"] - picks) <= 1
    pick = width * 1.02 + (math.pi / 2 - 1) * 25.4 / weft["picks_per_inch"]
    assert sum(yarn["weft_m"] for yarn in plan["yarn"]) == near(weft["picks"] * pick / 1000 * 1.1 + 0.3, abs=0.05)


def check_beam_and_shuttle(plan: dict[str, Any], pattern: dict[str, Any], loom: dict[str, Any]) -> None:
    """Turns, sticks, the tape still to come; wraps and fills."""
    beam, lengths = plan["beam"], plan["lengths"]
    if beam:
        bare, build_up = beam["beam_diameter_mm"], beam["build_up_mm"]
        assert beam_length(beam["turns"], bare, build_up) == pytest.approx(lengths["wound_mm"], abs=2)
        shares = (Fraction(str(lengths[f"{share}_range"][1])) for share in ("take_up", "shrinkage"))
        mine = reckon_lengths(pattern, loom, *shares)
        whole = lengths["wind_mm" if "warp" in pattern["length"] else "wound_mm"] - lengths["waste_mm"]
        for row in beam["tape_left"]:
            left = beam_length(row["turns"], bare, build_up) - lengths["waste_back_mm"]
            tape = float(mine.still_to_come(Fraction(min(max(left, 0.0), whole))))
            if row is beam["tape_left"][0]:
                tape = lengths["tape_at_least_mm"]
            assert row["tape_mm"] == pytest.approx(tape, abs=3)
        every = int(loom["packing"]["every_turns"])
        turns = [turn for turn in range(int(beam["turns"]) + 1) if turn % every == 0]
        assert (beam["stick_turns"], beam["sticks"]) == (turns, 2 * len(turns))
    shuttle = plan["shuttle"]
    wraps = math.ceil(shuttle["weft_m"] * 1000 / shuttle["per_wrap_mm"] - 1e-6)
    fills = math.ceil(wraps / int(loom["shuttle_holds"]))
    assert (shuttle["wraps"], shuttle["fills"], shuttle["wraps_per_fill"]) == (wraps, fills, math.ceil(wraps / fills))


def check_rescue(plan: dict[str, Any]) -> None:
    """From which edge a lost end is nearer, and the how manieth it is from there."""
    ends = plan["ends"]
    for end in plan["rescue"]["ends"]:
        from_left, from_right = end["number"], ends + 1 - end["number"]
        assert (end["nearer"], end["count"]) == (
            ("left", from_left) if from_left <= from_right else ("right", from_right)
        )


# --- the words -------------------------------------------------------------------------------------------------------

NO_END = r"(the middle|[LR]\d+)"
KIND = r"an? (hole|slot)"
FINISH = (
    r"(\d+) ends? = (?:once|(\d+) times) across(?:: (\d+) there and back(, and 1 more)?)?\. "
    r"You finish at (home|the far post)"
)
COUNTED = (
    r"{board}: (?:(?:count )?(\d+) (left|right) of (?:(?:the|its) mark \(0\)|(?:its )?0)"
    r"|say 1 on (?:the|its) mark and count to (\d+) (left|right)), holes and slots alike: "
    r"(?:a )?(hole|slot)"
)


def check_threading_words(text: str, told: Told) -> int:
    """Flags, counting, step aside, closing count, middle, lean: each as printed against the second count."""
    ends, threading = told.ends(), told.threading
    first, last = told.first_and_last()
    offset, seen = threading.back_offset(), 0
    flags = re.finditer(rf"end (\d+): (?:front )?{NO_END}, {KIND}(?:; back {NO_END}, {KIND})?", text)
    for flag in flags:
        space = {1: first, len(ends): last}[int(flag[1])]
        assert (flag[2], flag[3]) == (told.label(space), told.kind(space))
        if offset is not None and flag[4]:
            back = space + offset
            assert (flag[4], flag[5]) == (told.label(back), threading.back_kind(back))
        seen += 1
    if found := re.search(COUNTED.format(board="(?:End 1|Front)"), text):
        side, said, kind = told.counted()
        assert side in (told.seat.begins, "middle") or len(ends) == 1  # a lone end may lie past the mark
        assert (found[2] or found[4], int(found[1] or found[3]), found[5]) == (
            told.seat.begins if side == "middle" else side,
            said,
            kind,
        )
        assert bool(found[3]) == is_one(threading)
        assert (offset is None) == ("Front: " not in text)
        seen += 1
    if found := re.search(COUNTED.format(board="Back"), text):
        assert offset is not None
        name, kind = told.label(first + offset), threading.back_kind(first + offset)
        assert (f"{(found[2] or found[4])[0].upper()}{found[1] or found[3]}", found[5]) == (name, kind)
        assert bool(found[3]) == is_one(threading)
        seen += 1
    for found in re.finditer(rf"(End 1|Front|Back): begin at (?:the|its) mark \((0|1)\): {KIND}", text):
        assert (found[1] == "End 1") == (offset is None)
        space = first if found[1] != "Back" else first + (offset or 0)
        kind = threading.back_kind(space) if found[1] == "Back" else told.kind(space)
        assert (told.label(space), kind) == ("the middle", found[3])
        assert (found[2] == "1") == is_one(threading)
        seen += 1
    for found in re.finditer(
        rf"End 1, from (0|1) (as you sit|from behind), on [^:]+: (?:front )?{NO_END}, {KIND}", text
    ):
        assert (found[1] == "1") == is_one(threading)
        assert (found[2] == "from behind") == told.seat.behind
        assert (found[3], found[4]) == (told.label(first), told.kind(first))
        seen += 1
    mark = r"(?:from (0|1) \(the mark\)|both from (0|1) \(mark\))"
    place = rf"(?:(front) )?{NO_END}, {KIND}(?:;? back {NO_END}, {KIND})?"
    steps = list(re.finditer(rf"End 1, {mark}, (as you sit|from behind): {place}", text))
    in_brief = len(re.findall(r"End 1, from [01] (?:as you sit|from behind), on ", text))
    assert len(steps) + in_brief == text.count("End 1, ")  # in no other words
    for found in steps:
        assert ((found[1] or found[2]) == "1") == is_one(threading)
        assert (found[3] == "from behind") == told.seat.behind
        assert (found[5], found[6]) == (told.label(first), told.kind(first))
        assert {bool(found[2]), bool(found[4]), bool(found[7])} == {offset is not None}
        if offset is not None:
            assert (found[7], found[8]) == (told.label(first + offset), threading.back_kind(first + offset))
        seen += 1
    if found := re.search(r"If (?:that|the front space) is a (hole|slot) you have miscounted", text):
        assert found[1] == OTHER_KIND[told.counted()[2]]
    if found := re.search(r"(hole|slot), not (?:a )?(hole|slot)", text):
        assert found.groups() == (told.counted()[2], OTHER_KIND[told.counted()[2]])
    if found := re.search(r"All is moved one space to the (left|right)", text):
        assert found[1] == told.step()
        seen += 1
    if found := re.search(
        r"(?:(front): |filled: (front )?)(\d+) holes?, (\d+) slots?(?:; back (\d+) and (\d+)|;)? (?:· )?"
        r"(?:none empty|(front )?empty: (front )?(\d+) (left|right), (\d+) (left|right)"
        r"(?:; back (\d+) and (\d+))?) (?:· )?"
        rf"last end in (front )?{NO_END}(?:, {KIND})?(?:[;,] back {NO_END}(?:, {KIND})?)?",
        text,
    ):
        kinds = threading.kinds()
        assert {bool(found[1] or found[2]), bool(found[15])} == {offset is not None}
        assert (int(found[3]), int(found[4])) == (kinds.count("hole"), kinds.count("slot"))
        assert empties_read(*found.group(9, 10, 11, 12)) == told.empties()
        assert (found[16], found[17]) in {(told.label(last), told.kind(last)), (told.label(last), None)}
        if offset is not None:
            behind, taken = last + offset, [space + offset for space in threading.spaces()]
            filled = [threading.back_kind(space) for space in taken]
            empty = [min(taken) - 1, threading.heddle.spaces - max(taken)][:: -1 if told.seat.turned else 1]
            assert found[18] == told.label(behind)
            assert found[19] in {threading.back_kind(behind), None}
            assert (found[5] is None) == bool(found[1])
            if found[5]:
                assert [int(found[5]), int(found[6])] == [filled.count("hole"), filled.count("slot")]
                assert [int(found[13]), int(found[14])] == empty
        seen += 1
    empties = r"(?:none empty|empty: (\d+) (left|right), (\d+) (left|right))"
    brief = rf"(?<!: )(?<!front )\b(\d+) holes?, (\d+) slots? last end in {NO_END} {empties}"
    if found := re.search(brief, text):
        kinds = threading.kinds()
        assert offset is None
        assert (int(found[1]), int(found[2])) == (kinds.count("hole"), kinds.count("slot"))
        assert found[3] == told.label(last)
        assert empties_read(*found.group(4, 5, 6, 7)) == told.empties()
        seen += 1
    if found := re.search(r"middle end, no\. (\d+) \(([^)]*)\), lies in (?:the (middle) space|([LR]\d+))", text):
        place = "the middle" if found[3] else found[4]
        assert (int(found[1]), found[2], place) == told.middle()
    if found := re.search(r"half a space to the (left|right)", text):
        assert found[1] == told.leans()
    if found := re.search(r"in the back heddle: (?:1 space further (left|right)|the same number)", text):
        assert offset is not None
        assert found[1] == (told.seat.seen("left" if offset < 0 else "right") if offset else None)
    if found := re.search(
        r"Front: count (\d+) (left|right) of its 0: a (hole|slot)(?:, not a (?:hole|slot))?\. "
        r"Back: count (\d+) (left|right) of its 0: a (hole|slot)\. Holes and slots alike\.",
        text,
    ):
        assert offset is not None
        seen_in_front, seen_behind = f"{found[2][0].upper()}{found[1]}", f"{found[5][0].upper()}{found[4]}"
        assert (seen_in_front, found[3]) == (told.label(first), told.kind(first))
        assert (seen_behind, found[6]) == (told.label(first + offset), threading.back_kind(first + offset))
        assert not is_one(threading)
        seen += 1
    if found := re.search(r"hrough both, (front|back) first", text):
        assert offset is not None
        assert found[1] == ("back" if told.seat.behind else "front")
    return seen


def empties_read(near_empty: str | None, near: str | None, far_empty: str | None, far: str | None) -> dict[str, int]:
    """How many spaces stay empty on each side; ``none empty`` is nought on both."""
    if near_empty is None or near is None or far_empty is None or far is None:
        return {"left": 0, "right": 0}
    return {near: int(near_empty), far: int(far_empty)}


def is_one(threading: Threading) -> bool:
    """Whether one is said on the mark; a mark between two spaces is nought."""
    return threading.heddle.middle is not None and threading.heddle.mark == "counted as one"


def check_winding_words(text: str, told: Told) -> None:
    """How often across, and in order the joins and where she finishes; the totals to tick."""
    runs, ends = told.stripes(), len(told.threading.ends)
    if found := re.search(FINISH, text):
        assert (int(found[1]), int(found[2] or 1), int(found[3] or 0)) == (ends, ends, ends // 2)
        assert bool(found[4]) == (ends % 2 == 1 and ends > 1)
        where = posts(runs)[-1] if "balls, one of each" not in text else balls(runs)[-1][3]
        assert found[5] == {"home": "home", "far": "the far post"}[where]
    if found := re.search(
        r"Wind in order, (left|right) edge first: (\d+) joins?, (\d+|all|none) of them at (home|the far)", text
    ):
        far = posts(runs)[:-1].count("far")
        at_home = len(runs) - 1 - far
        assert (found[1], int(found[2])) == (told.seat.begins, len(runs) - 1)
        here = far if found[4] == "the far" else at_home
        assert found[3] == ("all" if here == len(runs) - 1 and found[3] == "all" else str(here))


def check_shed_words(text: str, told: Told, letters: dict[str, str], loom: dict[str, Any]) -> None:
    """What is on top in each shed, from left to right at the seat; and which shed comes next."""
    for shed, name in shed_names(loom).items():
        raised = told.threading.raised(shed)
        words = ", ".join(f"{count} {letters[yarn]}" for yarn, count in stripes(raised))
        told_so = re.search(rf"\b(?i:{name}): ((?:\d+ [A-Z][a-z](?:, )?)+)(?! and)", text)
        if told_so and "mixed" not in text[told_so.start() : told_so.end() + 60]:
            assert told_so[1].rstrip(", ") == words
    name_of = {"DOWN": "down", "UP": "up", "LEFT FOOT": "left_foot", "RIGHT FOOT": "right_foot"}
    wanted = next_sheds(loom, told.seat.hand)
    feet = "DOWN|UP|LEFT FOOT|RIGHT FOOT"
    found = re.findall(rf"(?:Weft on the (LEFT|RIGHT), next:|weft at (left|right):) ({feet})", text)
    assert len(found) in (0, 2), text
    for in_capitals, side, shed in found:
        assert wanted[in_capitals.lower() or side] == name_of[shed]
    for shed, side in re.findall(rf"[Bb]egin ({feet}), (?:shuttle )?to the (left|right)", text):
        assert wanted[OTHER_SIDE[side]] == name_of[shed]
        assert shed != "UP"  # the first pick of one heddle goes through the shed that is pressed down


def check_six_numbers(text: str, told: Told, letters: dict[str, str]) -> None:
    """The stripes come after the number of ends in the file, as they are read aloud, wherever they stand on paper."""
    found = re.search(
        r"ends? (\d+) .+? warp to wind [^,]*? End 1, from ([01]),? "
        rf"{'from behind' if told.seat.behind else 'as you sit'}, on [^:]+: "
        rf"(?:front )?{NO_END}, {KIND}(?:;? back {NO_END}, {KIND})? "
        r"(?:none empty|(front )?empty: (\d+) (left|right), (\d+) (left|right)) ",
        text,
    )
    assert found, text
    first, _ = told.first_and_last()
    offset = told.threading.back_offset()
    assert int(found[1]) == len(told.threading.ends)
    assert (found[2] == "1") == is_one(told.threading)
    assert (found[3], found[4]) == (told.label(first), told.kind(first))
    assert bool(found[5]) == (offset is not None)
    if offset is not None:
        assert (found[5], found[6]) == (told.label(first + offset), told.threading.back_kind(first + offset))
    assert bool(found[7]) == (offset is not None)
    assert empties_read(*found.group(8, 9, 10, 11)) == told.empties()
    if "in turn" not in text:
        assert f" {' '.join(f'{count} {letters[yarn]}' for yarn, count in told.stripes())} " in text


def read_quickly(pdf: bytes) -> str:
    """All words of the page, one space between any two."""
    page = pypdfium2.PdfDocument(pdf)[0]
    return " ".join(page.get_textpage().get_text_range().split())


def check_words(text: str, told: Told, letters: dict[str, str], loom: dict[str, Any], layout: str) -> None:
    ends = len(told.threading.ends)
    assert re.search(rf"\b{ends} ends?\b", text) or layout == "six-numbers"
    seen = check_threading_words(text, told)
    check_winding_words(text, told)
    check_shed_words(text, told, letters, loom)
    if layout == "six-numbers":
        check_six_numbers(text, told, letters)
    elif layout != "bench":
        assert seen >= 2


# --- the drawings ----------------------------------------------------------------------------------------------------


def flat(marks: Iterable[Mark]) -> Iterator[Mark]:
    for mark in marks:
        if isinstance(mark, Group):
            yield from flat(mark.marks)
        else:
            yield mark


@cache
def drawn(folder: File, pattern: str, loom: str, seat: Seat, *only: str) -> tuple[Composed, str]:
    """The record card as marks, and how its warp is wound; with ``only`` some panels under its title."""
    layout = loading.load_layout(ROOT / "layouts" / "cards" / "record.yaml")
    if only:
        layout = replace(layout, rows=(layout.rows[0], *((PanelPlace(name, 12, 1, True),) for name in only)))
    bench = plan_making.load_plan_setup(str(loom_file(folder, loom)), None, in_full=False)
    plan = plan_making.plan_for(loading.load_pattern(pattern_file(folder, pattern)), bench)
    seen = Viewpoint(seat.hand == "left", seat.behind)
    return compose_card(plan_as_seen(plan, seen), layout, layout.papers[0], RULER), plan.winding.method


def panel(composed: Composed, name: str) -> list[Mark]:
    groups = [mark for mark in composed.page.marks if isinstance(mark, Group) and mark.name == name]
    return [mark for group in groups for mark in flat(group.marks)]


def check_order(marks: list[Mark], told: Told, colours: dict[str, str]) -> None:
    """One cell for every end of its own colour, those in holes higher than those in slots."""
    boxes = [mark for mark in marks if isinstance(mark, Rectangle)]
    outlined = {mark.box for mark in boxes if mark.stroke == "#000000"}
    cells = [mark for mark in boxes if mark.fill in set(colours.values()) and mark.box in outlined]
    threading = told.threading
    wanted = Counter((colours[yarn], kind) for yarn, kind in zip(threading.ends, threading.kinds(), strict=True))
    assert len(cells) == len(threading.ends)
    levels = sorted({round(cell.box.top, 3) for cell in cells})
    rows: list[list[float]] = []
    for level in levels:  # the two levels of one row of cells overlap
        height = cells[0].box.height
        if rows and level - rows[-1][0] < height:
            rows[-1].append(level)
        else:
            rows.append([level])
    found: Counter[tuple[str, str]] = Counter()
    for cell in cells:
        row = next(row for row in rows if round(cell.box.top, 3) in row)
        if len(row) == 1:  # a row of one end only: the other level is not there to compare with
            return
        assert cell.fill is not None
        found[cell.fill, "hole" if round(cell.box.top, 3) == row[0] else "slot"] += 1
    assert found == wanted


BOARDS_APART = 12.0  # mm: counts of one board stand nearer, also in two storeys


def check_counts_over(marks: list[Mark], told: Told) -> None:
    """The counts over the board, from left to right as it is drawn, give every end, and no other large figures."""
    bold = [mark for mark in marks if isinstance(mark, Words) and mark.face == Face.SANS_BOLD]
    words = [mark for mark in bold if mark.colour == "#000000"]  # the number of the step is white
    counts = sorted((mark.y, mark.x, int(mark.text)) for mark in words if mark.text.isdigit())
    rows: list[list[tuple[float, int]]] = []  # of a wide board in pieces one below the other
    for number, (y, x, count) in enumerate(counts):
        if not number or y - counts[number - 1][0] > BOARDS_APART:
            rows.append([])
        rows[-1].append((x, count))
    if told.seat.begins == "right":
        rows.reverse()  # the upper piece is where she begins
    drawn = [count for row in rows for _, count in sorted(row)]
    assert sum(drawn) == len(told.threading.ends)
    ends = list(told.threading.ends)
    assert are_stripes(ends[::-1] if told.seat.behind else ends, drawn)


def are_stripes(ends: list[str], counts: list[int]) -> bool:
    """Whether the counts part the ends into stripes of one yarn, each of them whole, and ends that lie in turn."""
    parts, done = [], 0
    for count in counts:
        parts.append(ends[done : done + count])
        done += count
    plain = [len(set(part)) == 1 for part in parts]
    in_turn = [all(one != other for one, other in pairwise(part)) for part in parts]
    halved = any(one[-1] == other[0] for one, other in pairwise(parts) if len(set(one + other)) == 1)
    return done == len(ends) and not halved and all(map(or_, plain, in_turn))


def check_board(marks: list[Mark], told: Told, colours: dict[str, str]) -> None:
    """Every end hangs from its own space; the empty spaces on each side stay empty."""
    inks = set(colours.values())
    threads = [mark for mark in marks if isinstance(mark, Line) and mark.colour in inks and mark.round_ends]
    threading = told.threading
    boards = 2 if threading.heddle.back else 1
    assert len(threads) == boards * len(threading.ends)
    slots = {(mark.box.top, mark.box.bottom) for mark in marks if isinstance(mark, Rectangle) and mark.radius > 0}
    slots = {(top, bottom) for top, bottom in slots if any(top < line.y1 < bottom for line in threads)}
    rows = sorted(slots)[boards - 1 :: boards]  # of the front one, row by row
    if told.seat.hand == "left":  # the first row has the spaces that are counted first, from the right
        rows = rows[::-1]
    kinds: list[str] = []
    seen: list[tuple[int, str]] = []
    for top, bottom in rows:
        xs = openings_at(marks, (top + bottom) / 2)
        places = sorted(xs)
        seen += [
            (len(kinds) + places.index(round(line.x1, 2)) + 1, line.colour)
            for line in threads
            if top < line.y1 < bottom
        ]
        kinds += [xs[place] for place in places]
    assert kinds == list(threading.heddle.kinds)[:: -1 if told.seat.behind else 1]
    spaces = threading.heddle.spaces
    wanted = sorted(
        (spaces + 1 - space if told.seat.behind else space, colours[yarn])
        for space, yarn in zip(threading.spaces(), threading.ends, strict=True)
    )
    assert sorted(seen) == wanted


def openings_at(marks: list[Mark], eye: float) -> dict[float, str]:
    """The holes and slots of the board whose holes are drilled at that height, by where they stand."""
    holes = [mark.x for mark in marks if isinstance(mark, Dot) and mark.fill == "#ffffff" and abs(mark.y - eye) < 1]
    slots = [mark.box for mark in marks if isinstance(mark, Rectangle) and mark.radius > 0]
    middles = [box.left + box.width / 2 for box in slots if box.top < eye < box.top + box.height]
    return {round(x, 2): "hole" for x in holes} | {round(x, 2): "slot" for x in middles}


def check_walk(marks: list[Mark], told: Told, colours: dict[str, str], method: str) -> None:
    """Each stroke runs from the post where its ball is to the other one, in the colour of its end."""
    inks = set(colours.values())
    strokes = [mark for mark in marks if isinstance(mark, Line) and mark.colour in inks and not mark.dash]
    assert len(strokes) == len(told.threading.ends)
    runs = told.stripes()
    starts: list[tuple[str, str]] = []
    if method == "order":
        at = "home"
        for yarn in told.ends():
            starts.append((colours[yarn], at))
            at = "far" if at == "home" else "home"
    elif method == "carry":
        for yarn, count, start, _ in balls(runs):
            across = "far" if start == "home" else "home"
            starts += [(colours[yarn], start if turn % 2 == 0 else across) for turn in range(count)]
    else:
        assert Counter(stroke.colour for stroke in strokes) == Counter(colours[yarn] for yarn in told.ends())
        return
    assert [(stroke.colour, "home" if stroke.y1 < stroke.y2 else "far") for stroke in strokes] == starts


def check_face(marks: list[Mark], told: Told, colours: dict[str, str]) -> None:
    """The colours of the two picks: as many figures of each colour as ends of it are on top.

    The tape grows away from the weaver, so the first pick, with the warp pressed down, lies at the foot.
    """
    (stamp,) = [mark for mark in marks if isinstance(mark, Stamp)]
    pick, figures = stamp.dy / 2, Counter[tuple[int, str]]()
    for mark in stamp.marks:
        if isinstance(mark, Path) and mark.fill in colours.values():
            heights = [step[-1] for step in mark.steps if len(step) > 1]
            middle = (min(heights) + max(heights)) / 2
            below = round(stamp.clip.height / pick) - 1 - int((middle - stamp.clip.top) / pick)
            figures[below % 2, str(mark.fill)] += sum(step[0] == "move" for step in mark.steps)
    raised = [told.threading.raised(shed) for shed in ("down", "up")]
    assert figures == Counter((number, colours[yarn]) for number, yarns in enumerate(raised) for yarn in yarns)
