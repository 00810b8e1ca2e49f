"""A card by ear against the second count: whoever hears it can wind, thread and weave."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from cardmaker.jobs import loading, plan_making
from cardmaker.model.plan import Plan
from cardmaker.pdf.fonts import TypeRuler
from tests.helpers.places import ROOT, shipped_in
from tests.helpers.recount import ACROSS, Seat, Told, empty_walks, next_sheds, read, reckon_lengths, share, thread

PATTERNS = [path.stem for path in shipped_in("patterns")]
LOOMS = tuple(
    ROOT / "layouts" / "looms" / f"{loom}.yaml" for loom in ("small-box", "middle-box", "broad-paddle", "treadle-pair")
)
SEATS = [Seat(hand, behind) for hand in ("right", "left") for behind in (False, True)]
RULER = TypeRuler()
STRIPE = r"(\d+) (?:of (?P<turn>.+?) in turn|(?P<yarn>.+?))"
STOPS = r"(?P<stops>(?: stop at [^;]+;)*)"
ORDER = r"^(\d+) ends? from the (left|right) edge as you sit: (.+?)\. (?:End 1|It) lies in a (hole|slot)"
TRIPS = (
    r"(?P<ends>\d+) ends? (?:is|are) (?P<across>once|\d+ times) across"
    r"(?:: (?P<round>\d+) there and back(?P<single>, and 1 more)?)?\. You finish (?P<post>at home|at the far post)\."
    r"|(?P<trips>\d+) times across, one for every end\. You finish (?P<last>at home|at the far post)\."
    r"|(?P<in_all>\d+) times across in (?P<bundles>\d+) bundles; every bundle starts at home\."
)
POST = {"home": "home", "at home": "home", "the far post": "far", "at the far post": "far"}
OTHER = {"left": "right", "right": "left"}
SHEDS = "down|up|left foot|right foot"
BY_HAND = {"press the warp down": "down", "lift the warp up": "up", "warp down": "down", "warp up": "up"}
LEFT_RAISES_FRONT = {"left_foot": "front up"}  # tried first where the loom's file does not tell
COUNT_OUT = (
    r"^(?:(?P<front>Front)|(?P<end_1>End 1)): (?:(?P<at_mark>begin at (?:the|its) mark \([01]\))"
    r"|(?:count )?(?P<nought>\d+) (?P<side>left|right) of (?:(?:the|its) mark \(0\)|(?:its )?0), holes and slots alike"
    r"|say 1 on (?:the|its) mark and count to (?P<one>\d+) (?P<side_of_one>left|right), holes and slots alike)"
    r": (?:a )?(?P<kind>hole|slot)(?:, not (?:a )?(?P<not>hole|slot))?\."
    r"(?: If (?:that|the front space) is a (?P<else>hole|slot) you have miscounted\.)?"
)
BOXES = (
    r"^When done: (?:filled: (?:front )?|(?P<of_front>front: ))(?P<holes>\d+) holes?, (?P<slots>\d+) slots?"
    r"(?:; back (?P<back_holes>\d+) and (?P<back_slots>\d+))?(?:\n|; )"
    r"(?:none empty|(?:front )?empty: (?:front )?(?P<near_empty>\d+) (?P<near>left|right), "
    r"(?P<far_empty>\d+) (?P<far>left|right))"
    r"(?:; back (?P<back_near>\d+) and (?P<back_far>\d+))?\n"
    r"last end in (?P<last>.+)$"
)
IN_BRIEF = (  # of balls every end is once across: a crowded card does not tell it
    r"^Wind ([\d.]+)\sm(?:, (?P<balls>\d+) balls from home(?:: (?P<trips_of_balls>\d+)\stimes\sacross)?"
    r"(?:, \d+\sempty walks?(?:\sto\sthe next ball)?)?"
    r"| in (?P<bundles>\d+) bundles, each from home: (?P<trips_of_bundles>\d+)\stimes\sacross"
    r"| from home, (?:once|(?P<trips_in_order>\d+)\stimes)\sacross)"
    r"\.(?:\sFinish\sat\s(?P<last>home|far)\.)?(?:\s(?:Tick|Underlined)\s[^.]+\.)?$"
)
LENGTH = r"([\d.]+)\sm(?:etres?)?\b \((?P<yards>.+?) (?:yd|yards?)\)"
IN_HEAD = (  # of a student's card, with the width: in one unit where the line is too short for both
    r"^\d+ ends? · [\d.]+ mm wide · [^·\n]+ · Wind ([\d.]+) m(?: \((?P<yards>[^)]+) yd\))?$"
)
YARDS = Fraction(9144, 10)


@dataclass
class Listener:
    """Somebody who hears a card once: what has been said is behind her."""

    text: str
    at: int = 0

    def hear(self, pattern: str) -> re.Match[str]:
        """The next thing that is said like this; it may not have been said before what she has heard already."""
        found = re.compile(pattern, re.MULTILINE).search(self.text, self.at)
        assert found, f"not said after character {self.at}: {pattern}\n{self.text[self.at :]}"
        self.at = found.end()
        return found


def listed(told: str) -> list[str]:
    """``white, blue and red`` as a list."""
    *others, last = re.split(r", | and ", told)
    return [*others, last]


def laid(count: int, found: re.Match[str]) -> list[str]:
    """The yarns of so many ends of a stripe that was told, one by one."""
    if found["yarn"]:
        return [found["yarn"]] * count
    names = listed(found["turn"])
    return [names[turn % len(names)] for turn in range(count)]


# Each part of the card against the second count


def hear_order(ear: Listener, told: Told) -> None:
    """All ends, edge to edge, and a running total that adds up; where the walk is drawn its stretches tell them."""
    ends = told.ends()
    if not re.search(ORDER, ear.text, re.MULTILINE):
        return
    found = ear.hear(ORDER)
    assert (int(found[1]), found[2]) == (len(ends), told.seat.seen(told.seat.begins))
    heard: list[str] = []
    for item in found[3].split("; "):
        stripe = re.fullmatch(rf"{STRIPE}, total (?P<total>\d+)", item)
        assert stripe, item
        heard += laid(int(stripe[1]), stripe)
        assert int(stripe["total"]) == len(heard)
    assert heard == ends
    assert found[4] == told.kind(told.first_and_last()[0])
    if ends == ends[::-1]:
        ear.hear(r"It is the same from both edges\.")
        return
    other = ear.hear(r"From the other edge: (.+?)\.")
    back: list[str] = []
    for item in other[1].split("; "):
        stripe = re.fullmatch(STRIPE, item)
        assert stripe, item
        back += laid(int(stripe[1]), stripe)
    assert back == ends[::-1]


def hear_length(ear: Listener, pattern: dict[str, Any], loom: dict[str, Any], *, where: str = LENGTH) -> None:
    """What to wind, in metres and yards, on a card of few words in its own unit alone, ``where`` that is said; where
    earlier tapes have taught other figures, that it is said."""
    found = ear.hear(where)
    wish = pattern["length"]
    if "measured" in pattern or "take_up" not in wish or "shrinkage" not in wish:
        return
    wind = reckon_lengths(pattern, loom, share(wish["take_up"]), share(wish["shrinkage"])).wind
    assert Fraction(found[1]) == Fraction(math.floor(wind / 10 + Fraction(1, 2)), 100)
    if yards := found.groupdict().get("yards"):
        assert in_yards(yards) == wind / YARDS


def hear_winding_in_brief(ear: Listener, told: Told) -> None:
    """The line over the boxes of a card for the pocket: balls or bundles, trips of all ends, and where they finish."""
    found, ends = ear.hear(IN_BRIEF), told.ends()
    colours, trips = found["balls"] or found["bundles"], found["trips_of_balls"] or found["trips_of_bundles"]
    assert colours is None or int(colours) == len(set(ends))
    assert trips is None or int(trips) == len(ends)
    if not colours:
        assert int(found["trips_in_order"] or 1) == len(ends)
    if found["bundles"]:
        assert not found["last"]
    else:
        carries_last = ends.count(ends[-1]) if found["balls"] else len(ends)
        finish = found["last"] or ear.hear(r"^Finish\sat\s(home|far)\.$")[1]
        assert finish == ("far" if carries_last % 2 else "home")


def in_yards(told: str) -> Fraction:
    """``2 ½`` or ``2 and a half``."""
    quarters = {
        "¼": ".25",
        "½": ".5",
        "¾": ".75",
        " and a quarter": ".25",
        " and a half": ".5",
        " and 3 quarters": ".75",
    }
    yards = told.replace("\N{NO-BREAK SPACE}", "").replace(" ", "" if told[-1] in "¼½¾" else " ")
    for said, meant in quarters.items():
        yards = yards.replace(said, meant)
    return Fraction(yards)


def hear_winding(ear: Listener, told: Told) -> None:
    """Every stretch from its post to its post, by the method that is said; each total; where it ends."""
    found = ear.hear(
        r"^(?:Wind [\d.]+ metres? .*?\. )?(Wind in order|One colour|Use (\d+) balls|Wind one colour)[^.]*\."
    )
    hers = ear.hear(rf"(?P<walk>(?: Wind [^.]+\.)+) (?:{TRIPS})$")
    ends = told.ends()
    assert int(hers["ends"] or hers["trips"] or hers["in_all"]) == len(ends)
    told_stretches = re.findall(r" Wind ([^.]+)\.", hers["walk"])
    if found[1].startswith("Use"):
        assert int(found[2]) == len(set(ends))
        assert POST[hers["last"]] == carried(told_stretches, ends)
    elif found[1] == "Wind one colour":
        bundled(told_stretches, ends)
        assert int(hers["bundles"]) == len(set(ends))
    else:
        assert POST[hers["post"]] == in_order(told_stretches, ends, straight=found[1] == "One colour")
        assert int(hers["across"].replace("once", "1").split()[0]) == len(ends)
        assert (int(hers["round"] or 0), bool(hers["single"])) == (len(ends) // 2, len(ends) % 2 == 1 < len(ends))


def in_order(told_stretches: list[str], ends: list[str], *, straight: bool) -> str:
    """One thread walks on and on; a stop on the way is where she is after so many ends."""
    at, wound = "home", 0
    places = ["home"]
    for _ in ends:
        places.append(ACROSS[places[-1]])
    for told in told_stretches:
        found = re.fullmatch(
            rf"{STRIPE}, from (home|the far post) to (home|the far post)(?P<each>, changing yarn after every end)?;"
            rf"{STOPS} total (?P<total>\d+), (?P<change>change yarn )?(?P<at>at home|at the far post)",
            told,
        )
        assert found, told
        yarns = laid(int(found[1]), found)
        assert yarns == ends[wound : wound + len(yarns)]
        assert bool(found["each"]) == (len(set(yarns)) > 1)
        assert POST[found[4]] == at
        wound += len(yarns)
        check_stops(found["stops"], wound - len(yarns), wound, places)
        at = places[wound]
        assert (POST[found[5]], POST[found["at"]], int(found["total"])) == (at, at, wound)
        assert bool(found["change"]) == (wound < len(ends))
    assert wound == len(ends)
    assert straight == (len(set(ends)) == 1)
    return at


def check_stops(told: str, after: int, before: int, places: list[str]) -> None:
    for total, place in re.findall(r" stop at (\d+), (at home|at the far post);", told):
        assert after < int(total) < before
        assert POST[place] == places[int(total)]


def carried(told_stretches: list[str], ends: list[str]) -> str:
    """A ball for each colour, all at home to begin with; each waits where its own last end was left."""
    waits = dict.fromkeys(ends, "home")
    places = ["home"]
    for yarn in ends:
        waits[yarn] = ACROSS[waits[yarn]]
        places.append(waits[yarn])
    waits, wound = dict.fromkeys(ends, "home"), 0
    for told in told_stretches:
        found = re.fullmatch(rf"{STRIPE}, (?P<way>(?:from|the) [^;]+);{STOPS} total (?P<total>\d+), (?P<then>.+)", told)
        assert found, told
        yarns = laid(int(found[1]), found)
        assert yarns == ends[wound : wound + len(yarns)]
        names = list(dict.fromkeys(yarns))
        starts = {yarn: waits[yarn] for yarn in names}
        for yarn in yarns:
            waits[yarn] = ACROSS[waits[yarn]]
        wound += len(yarns)
        check_stops(found["stops"], wound - len(yarns), wound, places)
        if found["turn"]:
            assert (", walking empty to each" in found["way"]) == (empty_walks(yarns, "carry", starts) > 0)
            assert dict(
                re.findall(r"the (.+?) ball from (home|the far post)", found["way"].replace(" and the", ", the"))
            ) == {yarn: said_to(post) for yarn, post in starts.items()}
        else:
            (yarn,) = names
            assert found["way"] == f"from {said_to(starts[yarn])} to {said_to(waits[yarn])}"
        assert int(found["total"]) == wound
        heard = re.findall(r"(?:^|, | and )the (.+?) ball (waits|is tied off) (at home|at the far post)", found["then"])
        assert {yarn: POST[place] for yarn, _, place in heard} == {yarn: waits[yarn] for yarn in names}
        assert {yarn: what == "waits" for yarn, what, _ in heard} == {yarn: yarn in ends[wound:] for yarn in names}
    assert wound == len(ends)
    return waits[ends[-1]]


def said_to(post: str) -> str:
    return "home" if post == "home" else "the far post"


def bundled(told_stretches: list[str], ends: list[str]) -> None:
    """A bundle of each colour in the order in which they first lie; every one starts at home."""
    names = list(dict.fromkeys(ends))
    assert len(told_stretches) == len(names)
    for yarn, told in zip(names, told_stretches, strict=True):
        count = ends.count(yarn)
        place = "the far post" if count % 2 else "home"
        assert told == f"{count} {yarn}, from home to {place}; total {count} of this bundle, at {place}"


def place_of(told: Told, end_number: int) -> str:
    """The space of her own end by its number, as it should be said."""
    first, last = told.first_and_last()
    space = first + (end_number - 1 if last >= first else 1 - end_number)
    front = f"{said_space(told, space)} {told.kind(space)}"
    offset = told.threading.back_offset()
    if offset is None:
        return front
    back = f"{said_space(told, space + offset)} {told.threading.back_kind(space + offset)}"
    return f"front {front.removeprefix('the ')} with back {back.removeprefix('the ')}"


def said_space(told: Told, space: int) -> str:
    label = told.label(space)
    return label if label == "the middle" else f"{'left' if label[0] == 'L' else 'right'} {label[1:]}"


def hear_threading(ear: Listener, told: Told) -> None:
    """First and last space, empties, then every end's own space, then the middle end; and what is then full."""
    ends, heddle, kinds = told.ends(), told.threading.heddle, told.threading.kinds()
    one = heddle.back is None
    behind = "behind the heddle" if one else "behind the heddles"
    ear.hear(rf" Seen from {behind if told.seat.behind else 'your seat'}\. ")
    if heddle.middle is None:
        ear.hear(r"left and right of the mark, which is between two spaces\.")
    else:
        mark = ear.hear(r"left and right of the mark, which is a (hole|slot), counted as (zero|one)\.")
        assert mark[1] == heddle.kind(heddle.middle)
        assert mark[2] == ("one" if heddle.mark == "counted as one" else "zero")
    found = ear.hear(
        r" End 1 goes into (.+?); end (\d+) into (.+?); "
        r"(?:none empty|empty: (front )?(\d+) (left|right), (\d+) (left|right)(?:; back (\d+) and (\d+))?)\."
    )
    assert (found[1], int(found[2]), found[3]) == (place_of(told, 1), len(ends), place_of(told, len(ends)))
    assert empties_heard(told, *found.group(5, 6, 7, 8)) == told.empties()
    assert bool(found[4]) == (heddle.back is not None)
    hear_back_empties(told, found[9], found[10])
    heard = 0
    while heard < len(ends):
        heard = hear_stripe_threaded(ear, told, heard)
    middle = told.middle()
    if middle is None:
        half = len(ends) // 2
        ear.hear(rf" The middle is between ends {half} and {half + 1}\.")
    else:
        place = re.escape(place_of(told, middle[0]))
        ear.hear(rf"The middle end, no\. {middle[0]} \({middle[1]}\), lies in {place}\.")
    full = ear.hear(r"When done: filled: (front )?(\d+) holes?, (\d+) slots?(?:; back (\d+) and (\d+))?\.")
    assert bool(full[1]) == (heddle.back is not None)
    assert (int(full[2]), int(full[3])) == (kinds.count("hole"), kinds.count("slot"))
    hear_back_filled(told, full[4], full[5])
    hear_count_out(ear, told)
    hear_boxes(ear, told)


def hear_count_out(ear: Listener, told: Told) -> None:
    """Where a card has a sentence that counts to the first space: from its mark, its way, its number and its kind."""
    heddle = told.threading.heddle
    if not re.search(r"\n(?:End 1|Front): ", ear.text[ear.at :]):
        return
    found = ear.hear(COUNT_OUT)
    side, said, kind = told.counted()
    assert (bool(found["front"]), bool(found["end_1"])) == (heddle.back is not None, heddle.back is None)
    assert found["kind"] == kind
    assert found["else"] in (None, "slot" if kind == "hole" else "hole")
    assert found["not"] in (None, "slot" if kind == "hole" else "hole")
    if side == "middle":
        assert found["at_mark"]
        return
    from_one = heddle.middle is not None and heddle.mark == "counted as one"
    assert (found["one"] is not None) == from_one
    assert (found["one" if from_one else "nought"], found["side_of_one" if from_one else "side"]) == (str(said), side)


def hear_boxes(ear: Listener, told: Told) -> None:
    """Where a card has boxes to tick after threading: what is full, what stays empty and where the last end lies."""
    if "\nWhen done: " not in ear.text[ear.at :]:
        return
    if told.threading.heddle.back is None and re.search(r"\nWhen done: \d", ear.text[ear.at :]):
        hear_brief_boxes(ear, told)
        return
    found = ear.hear(BOXES)
    kinds, last, offset = told.threading.kinds(), told.first_and_last()[1], told.threading.back_offset()
    assert (int(found["holes"]), int(found["slots"])) == (kinds.count("hole"), kinds.count("slot"))
    if found["of_front"]:
        assert offset is not None
        assert found["last"] == f"front {told.label(last)}, back {told.label(last + offset)}"
    else:
        hear_back_filled(told, found["back_holes"], found["back_slots"])
        hear_back_empties(told, found["back_near"], found["back_far"])
        place = f"{told.label(last)}, a {told.kind(last)}"
        if offset is not None:
            behind = last + offset
            place = f"front {place}; back {told.label(behind)}, a {told.threading.back_kind(behind)}"
        assert found["last"] == place
    assert empties_heard(told, *found.group("near_empty", "near", "far_empty", "far")) == told.empties()


def empties_heard(
    told: Told, near_empty: str | None, near: str | None, far_empty: str | None, far: str | None
) -> dict[str, int]:
    """How many spaces stay empty on each side, her first side first; ``none empty`` is nought on both."""
    if near_empty is None or near is None or far_empty is None or far is None:
        return {"left": 0, "right": 0}
    assert near == told.seat.begins
    return {near: int(near_empty), far: int(far_empty)}


def hear_brief_boxes(ear: Listener, told: Told) -> None:
    """The same in few words, of one heddle."""
    found = ear.hear(
        r"^When done: (\d+) holes?, (\d+) slots?\nlast end in (.+)\n"
        r"(?:none empty|empty: (\d+) (left|right), (\d+) (left|right))$"
    )
    kinds, last = told.threading.kinds(), told.first_and_last()[1]
    assert (int(found[1]), int(found[2])) == (kinds.count("hole"), kinds.count("slot"))
    assert found[3] == told.label(last)
    assert empties_heard(told, *found.group(4, 5, 6, 7)) == told.empties()


def hear_back_filled(told: Told, holes: str | None, slots: str | None) -> None:
    """Of the back heddle, where there is one: each end's space by itself."""
    offset, threading = told.threading.back_offset(), told.threading
    if offset is None:
        assert (holes, slots) == (None, None)
        return
    kinds = [threading.back_kind(space + offset) for space in threading.spaces()]
    assert (holes, slots) == (str(kinds.count("hole")), str(kinds.count("slot")))


def hear_back_empties(told: Told, near: str | None, far: str | None) -> None:
    """The same of what stays empty in it."""
    offset, threading = told.threading.back_offset(), told.threading
    if offset is None:
        assert (near, far) == (None, None)
        return
    taken = [space + offset for space in threading.spaces()]
    left, right = str(min(taken) - 1), str(threading.heddle.spaces - max(taken))
    assert (near, far) == ((right, left) if told.seat.turned else (left, right))


def hear_stripe_threaded(ear: Listener, told: Told, heard: int) -> int:
    """One stripe of ends after ``heard`` of them: each end's yarn and space."""
    found = ear.hear(r" Ends? (\d+)(?: (?:to|and) (\d+))?, (.+?): ([^.]+)\.")
    start, stop = int(found[1]), int(found[2] or found[1])
    assert start == heard + 1
    spaces = found[4].split(", ")
    assert len(spaces) == stop - start + 1
    for number, space in enumerate(spaces, start=start):
        yarn = told.ends()[number - 1]
        if found[3].endswith(" in turn"):
            assert space == f"{yarn} {place_of(told, number)}"
        else:
            assert (found[3], space) == (yarn, place_of(told, number))
    return stop


def hear_weaving(ear: Listener, told: Told, pattern: dict[str, Any], loom: dict[str, Any]) -> None:
    """The weft's yarn, what is done first, and for each side on which it may hang the shed that is next."""
    weft = ear.hear(
        r"^The weft is ([^.]+)\. Begin( as you sit)?: ([^.]+), throw (left|right)\.( As you sit:)?"
        rf" Weft on the (left|right), next: ({SHEDS})\. Weft on the (left|right), next: ({SHEDS})\."
    )
    if "weft" in pattern:
        assert weft[1] == pattern["weft"]
    else:  # it hides at the left edge of the tape
        assert weft[1] == told.threading.ends[0]
    assert (bool(weft[2]), bool(weft[5])) == (told.seat.behind, told.seat.behind)
    heard = {weft[6]: weft[7].replace(" ", "_"), weft[8]: weft[9].replace(" ", "_")}
    expected = next_sheds(loom, told.seat.hand)
    assert heard == expected
    begun = BY_HAND.get(weft[3], weft[3].replace(" ", "_"))
    assert begun == expected[OTHER[weft[4]]] == first_shed(pattern, loom)


def first_shed(pattern: dict[str, Any], loom: dict[str, Any]) -> str:
    """What opens the shed of the first pick: the warp down or the front heddle up, but of a figure that of row 1."""
    is_up = "pickup" in pattern and pattern["pickup"]["rows"][0]["shed"] == "up"
    if loom["kind"] == "one heddle":
        return "up" if is_up else "down"
    raises_front = loom.get("tie_up", LEFT_RAISES_FRONT)["left_foot"] in ("front up", "back down")
    return "left_foot" if raises_front != is_up else "right_foot"


@cache
def plan(pattern: Path, loom: Path) -> Plan:
    return plan_making.plan_for(loading.load_pattern(pattern), plan_making.load_plan_setup(str(loom), None))


def shipped(pattern: str) -> Path:
    return ROOT / "patterns" / f"{pattern}.yaml"


def counted(
    pattern: Path, looms: Iterable[Path] = LOOMS
) -> Iterator[tuple[Path, Told, dict[str, Any], dict[str, Any]]]:
    """The pattern on every loom that holds it, for every weaver: loom, second count, and the two files."""
    pattern_text = read(pattern)
    for loom in looms:
        loom_text = read(loom)
        threading = thread(pattern_text, loom_text)
        if threading is not None:
            yield from ((loom, Told(seat, threading), pattern_text, loom_text) for seat in SEATS)
