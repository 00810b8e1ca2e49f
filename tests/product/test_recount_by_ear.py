"""What is said of a card, held against a second count from the files: enough to wind, thread and weave by ear.

``tests/recount.py`` counts from the YAML alone, as a hand counts, and imports nothing of the program. Here the spoken
text is taken apart again, end by end, and every number in it is compared, in the order in which the work is done.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from cardmaker.card.composing import compose_card
from cardmaker.card.sheet import Viewpoint
from cardmaker.jobs import loading, plan_making
from cardmaker.layout.screen_reader_text import text_read_aloud
from cardmaker.model.card_layout import PanelPlace
from cardmaker.model.plan import Plan
from cardmaker.pdf.fonts import TypeRuler
from tests.helpers.places import ROOT
from tests.helpers.recount import ACROSS, Seat, Told, next_sheds, read, reckon_lengths, share, stripes, thread
from tests.product.test_recount import OWN_LOOMS, OWN_PATTERNS, write_bench

PATTERNS = sorted(path.stem for path in (ROOT / "patterns").glob("*.yaml"))
LOOMS = tuple(
    ROOT / "layouts" / "looms" / f"{loom}.yaml" for loom in ("small-box", "middle-box", "broad-paddle", "treadle-pair")
)
Rows = tuple[tuple[PanelPlace, ...], ...]
NO_ROWS: Rows = ()
SEATS = [Seat(hand, behind) for hand in ("right", "left") for behind in (False, True)]
RULER = TypeRuler()
STRIPE = r"(\d+) (?:of (?P<turn>.+?) in turn|(?P<yarn>.+?))"
STOPS = r"(?P<stops>(?: stop at [^;]+;)*)"
POST = {"home": "home", "at home": "home", "the far post": "far", "at the far post": "far"}
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
    """All ends, edge to edge, and a running total that adds up."""
    ends = told.ends()
    found = ear.hear(r"^(\d+) ends? from the (left|right) edge: (.+?)\. (?:End 1|It) lies in a (hole|slot)")
    assert (int(found[1]), found[2]) == (len(ends), told.seat.begins)
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


def hear_length(ear: Listener, pattern: dict[str, Any], loom: dict[str, Any]) -> None:
    """What to wind, in metres and yards; where earlier tapes have taught other figures, that it is said."""
    found = ear.hear(r"Wind ([\d.]+) m(?:etres?)?\b \((.+?) (?:yd|yards?)\)")
    wish = pattern["length"]
    if "measured" in pattern or "take_up" not in wish or "shrinkage" not in wish:
        return
    wind = reckon_lengths(pattern, loom, share(wish["take_up"]), share(wish["shrinkage"])).wind
    assert Fraction(found[1]) == Fraction(math.floor(wind / 10 + Fraction(1, 2)), 100)
    quarters = {
        "¼": ".25",
        "½": ".5",
        "¾": ".75",
        " and a quarter": ".25",
        " and a half": ".5",
        " and 3 quarters": ".75",
    }
    yards = found[2].replace("\N{NO-BREAK SPACE}", "").replace(" ", "" if found[2][-1] in "¼½¾" else " ")
    for said, meant in quarters.items():
        yards = yards.replace(said, meant)
    assert Fraction(yards) == wind / YARDS


def hear_winding(ear: Listener, told: Told) -> None:
    """Every stretch from its post to its post, by the method that is said; each total; where it ends."""
    found = ear.hear(
        r"^(?:Wind [\d.]+ metres? .*?\. )?(Wind in order|Wind straight|Carry (\d+) balls|Wind one colour)[^.]*\."
    )
    hers = ear.hear(r"(?P<walk>(?: Wind [^.]+\.)+) That is (\d+) trips?; you finish (.+?)\.$")
    ends = told.ends()
    assert int(hers[2]) == len(ends)
    told_stretches = re.findall(r" Wind ([^.]+)\.", hers["walk"])
    if found[1].startswith("Carry"):
        assert int(found[2]) == len(set(ends))
        finish = carried(told_stretches, ends)
    elif found[1] == "Wind one colour":
        finish = bundled(told_stretches, ends)
    else:
        finish = in_order(told_stretches, ends, straight=found[1] == "Wind straight")
    assert POST[hers[3]] == finish


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
            assert dict(
                re.findall(r"the (.+?) ball from (home|the far post)", found["way"].replace(" and the", ", the"))
            ) == {yarn: said_to(post) for yarn, post in starts.items()}
        else:
            (yarn,) = names
            assert found["way"] == f"from {said_to(starts[yarn])} to {said_to(waits[yarn])}"
        assert int(found["total"]) == wound
        heard = re.findall(r"(?:^|, | and )the (.+?) ball waits (at home|at the far post)", found["then"])
        assert {yarn: POST[place] for yarn, place in heard} == {yarn: waits[yarn] for yarn in names}
    assert wound == len(ends)
    return waits[ends[-1]]


def said_to(post: str) -> str:
    return "home" if post == "home" else "the far post"


def bundled(told_stretches: list[str], ends: list[str]) -> str:
    """A bundle of each colour in the order in which they first lie; every one starts at home."""
    names = list(dict.fromkeys(ends))
    at = "home"
    assert len(told_stretches) == len(names)
    for yarn, told in zip(names, told_stretches, strict=True):
        count = ends.count(yarn)
        at = "far" if count % 2 else "home"
        place = {"home": "home", "far": "the far post"}[at]
        assert told == f"{count} {yarn}, from home to {place}; total {count} of this bundle, at {place}"
    return at


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
    seen = "seen from behind the heddle" if told.seat.behind else "seen from the weaver’s seat"
    ear.hear(rf", {seen}: ")
    if heddle.middle is None:
        ear.hear(r"the mark, which stands between two of them\.")
    else:
        mark = ear.hear(r"the marked one in the middle, a (hole|slot), which counts as (\d)\.")
        assert (mark[1], int(mark[2])) == (heddle.kind(heddle.middle), 1 if heddle.mark == "counted as one" else 0)
    found = ear.hear(
        r" End 1 goes into (.+?); end (\d+) into (.+?); (\d+) empty (left|right), (\d+) empty (left|right)\."
    )
    assert (found[1], int(found[2]), found[3]) == (place_of(told, 1), len(ends), place_of(told, len(ends)))
    assert {found[5]: int(found[4]), found[7]: int(found[6])} == told.empties()
    assert found[5] == told.seat.begins
    heard = 0
    while heard < len(ends):
        heard = hear_stripe_threaded(ear, told, heard)
    middle = told.middle()
    if middle is None:
        half = len(ends) // 2
        ear.hear(rf" The middle is between ends {half} and {half + 1}\.")
    else:
        ear.hear(rf"The middle end is {middle[0]}, {middle[1]}, in {re.escape(place_of(told, middle[0]))}\.")
    full = ear.hear(r"The ends fill (\d+) holes? and (\d+) slots?")
    assert (int(full[1]), int(full[2])) == (kinds.count("hole"), kinds.count("slot"))


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
    """The weft's yarn, and for each side on which it may hang the shed that is next."""
    weft = ear.hear(r"The weft is (.+?)\. When")
    if "weft" in pattern:
        assert weft[1] == pattern["weft"]
    else:  # it hides at the left edge of the tape
        assert weft[1] == told.threading.ends[0]
    ear.at = weft.start()
    first = ear.hear(r"When it hangs (left|right), (?:the next shed is (down|up)|the (left foot|right foot) is next)\.")
    second = ear.hear(
        r" When it hangs (left|right), (?:the next shed is (down|up)|the (left foot|right foot) is next)\."
    )
    heard = {found[1]: found[2] or found[3].replace(" ", "_") for found in (first, second)}
    assert heard == next_sheds(loom, told.seat.hand)


# The cards


def said(pattern: Path, loom: Path, layout: str, seat: Seat, rows: Rows = NO_ROWS) -> str:
    """The card as it is read aloud; with ``rows``, of a layout that has those instead of its own."""
    of = loading.load_layout(ROOT / "layouts" / "cards" / f"{layout}.yaml")
    seen = Viewpoint(seat.hand == "left", seat.behind)
    wanted = replace(of, rows=rows or of.rows)
    return text_read_aloud(compose_card(plan(pattern, loom), wanted, of.papers[0], RULER, None, seen).page)


@cache
def plan(pattern: Path, loom: Path) -> Plan:
    return plan_making.plan_for(loading.load_pattern(pattern), plan_making.load_equipment(str(loom), None))


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


def check_record(pattern: Path, looms: Iterable[Path]) -> int:
    """How many cards were heard."""
    cards = 0
    for loom, told, pattern_text, loom_text in counted(pattern, looms):
        ear = Listener(said(pattern, loom, "record", told.seat))
        assert ear.hear(r"^(.+)$")[1] == pattern_text["title"]
        hear_order(ear, told)
        hear_length(ear, pattern_text, loom_text)
        hear_winding(ear, told)
        hear_threading(ear, told)
        hear_weaving(ear, told, pattern_text, loom_text)
        cards += 1
    return cards


@pytest.mark.parametrize("pattern", PATTERNS)
def test_a_record_is_enough_to_wind_thread_and_weave_by_ear(pattern: str) -> None:
    assert check_record(shipped(pattern), LOOMS) >= len(SEATS)


@pytest.fixture(scope="session")
def own_files(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_bench(tmp_path_factory.mktemp("spoken"))


@pytest.mark.parametrize("pattern", OWN_PATTERNS)
def test_so_is_one_for_looms_that_nobody_ships(pattern: str, own_files: Path) -> None:
    """The mark between two spaces or counted as one, opposite heddles, a single end, more colours than are carried."""
    looms = [own_files / f"{loom}.yaml" for loom in OWN_LOOMS]
    assert check_record(own_files / f"{pattern}.yaml", looms) >= len(SEATS)


def test_all_three_ways_of_winding_were_heard(own_files: Path) -> None:
    one_slot, box = own_files / "one-slot.yaml", LOOMS[0]
    ways = [(own_files / "many.yaml", one_slot), (shipped("penned-ladder"), box), (shipped("two-rails"), box)]
    told = [said(pattern, loom, "record", Seat()) for pattern, loom in ways]
    heard = [re.search(r"^(Wind one colour|Carry|Wind in order)", text, re.MULTILINE) for text in told]
    assert [found and found[1] for found in heard] == ["Wind one colour", "Carry", "Wind in order"]


@pytest.mark.parametrize("layout", ["handout", "handout-large", "field", "field-folded", "six-numbers"])
@pytest.mark.parametrize("pattern", PATTERNS)
def test_the_small_cards_are_too(pattern: str, layout: str) -> None:
    """They name what to wind beside the title or on its own; what finds no room on paper is not told either."""
    smallest = next(counted(shipped(pattern)))[0]
    for loom, told, pattern_text, loom_text in counted(shipped(pattern), {smallest, LOOMS[-1]}):
        text = said(shipped(pattern), loom, layout, told.seat)
        ear = Listener(text)
        assert ear.hear(r"^(.+)$")[1] == pattern_text["title"]
        hear_length(Listener(text), pattern_text, loom_text)
        hear_order(ear, told)
        if layout == "six-numbers" or "you finish" in text:
            hear_winding(ear, told)
        hear_threading(ear, told)
        hear_weaving(ear, told, pattern_text, loom_text)


@pytest.mark.parametrize("pattern", PATTERNS)
def test_a_bench_card_tells_the_winding_step_by_step(pattern: str) -> None:
    """The list is a table: its rows lay all ends, and its last column says what is done with the yarn then."""
    for loom, told, pattern_text, loom_text in counted(shipped(pattern), LOOMS[1:]):
        text = said(shipped(pattern), loom, "bench", told.seat)
        hear_length(Listener(text), pattern_text, loom_text)
        rows = re.findall(r"^ends (\d+); yarn (.+?); from and to (.+?); total (\d+); then (.+)$", text, re.MULTILINE)
        heard: list[str] = []
        for count, yarn, _, total, then in rows:
            names = listed(yarn.removesuffix(" in turn")) if yarn.endswith(" in turn") else [yarn]
            heard += [names[turn % len(names)] for turn in range(int(count))]
            assert int(total) == (int(count) if then == "band the bundle" else len(heard))
        ends = told.ends()
        bundles = rows[0][4] == "band the bundle"
        assert heard == ([yarn for name in dict.fromkeys(ends) for yarn in ends if yarn == name] if bundles else ends)


def test_the_ear_finds_what_is_wrong() -> None:
    """A count, a total, a post, a space, a shed and the order of two parts: each altered, each is heard."""
    loom, told, pattern_text, loom_text = next(counted(shipped("three-paths")))
    text = said(shipped("three-paths"), loom, "record", told.seat)

    def whole(of: str) -> None:
        ear = Listener(of)
        hear_order(ear, told)
        hear_winding(ear, told)
        hear_threading(ear, told)
        hear_weaving(ear, told, pattern_text, loom_text)

    whole(text)
    altered = [
        ("5 white, total 8", "5 white, total 9"),
        ("9 white, total 20", "8 white, total 20"),
        ("change yarn at the far post", "change yarn at home"),
        ("you finish at the far post", "you finish at home"),
        ("left 12 hole", "left 12 slot"),
        ("right 5 slot", "right 6 slot"),
        ("1 empty left", "2 empty left"),
        ("hangs right, the next shed is down", "hangs right, the next shed is up"),
        ("Ends 4 to 8, white", "Ends 4 to 8, red"),
        ("The weft is red", "The weft is white"),
    ]
    for right, wrong in altered:
        assert right in text
        with pytest.raises(AssertionError):
            whole(text.replace(right, wrong, 1))
    lines = text.splitlines()
    board = next(line for line in lines if "End 1 goes into" in line)
    lines.remove(board)
    with pytest.raises(AssertionError):
        whole("\n".join([*lines, board]))


@pytest.mark.parametrize("pattern", PATTERNS)
def test_the_face_and_the_ribbon_are_told_edge_to_edge(pattern: str) -> None:
    """Hole ends show while the warp is pressed down, slot ends when it is lifted; no hand changes the tape."""
    for loom, told, _, _ in counted(shipped(pattern), LOOMS[1:]):
        text = said(shipped(pattern), loom, "record", told.seat)
        two = told.threading.heddle.back is not None
        for shed, name in (
            ("down", "Left foot" if two else "Pressed down"),
            ("up", "Right foot" if two else "Lifted up"),
        ):
            found = re.search(rf"seen from the left\. .*?{name}: ([^.]+)\.", text)
            assert found
            assert expanded(found[1]) == told.threading.raised(shed)
        ribbon = re.search(r"^The tape at life size, from its left edge: ([^.]+)\.", text, re.MULTILINE)
        assert ribbon
        assert expanded(ribbon[1]) == list(told.threading.ends)


def expanded(told: str) -> list[str]:
    """Stripes without totals, end by end."""
    ends: list[str] = []
    for item in [] if told == "nothing" else told.split("; "):
        found = re.fullmatch(STRIPE, item)
        assert found, item
        ends += laid(int(found[1]), found)
    return ends


@pytest.mark.parametrize("pattern", PATTERNS)
def test_a_lost_end_is_found_by_ear(pattern: str) -> None:
    """From each edge, the edge end first: yarn and hole or slot of every end, and none twice."""
    rows = ((PanelPlace("name", 12, 1, essential=True),), (PanelPlace("rescue", 12, 1, essential=True),))
    for loom, told, _, _ in counted(shipped(pattern), LOOMS[1:]):
        text = said(shipped(pattern), loom, "bench", told.seat, rows)
        found = re.search(r"^From the left edge: ([^.]+)\.(?: From the right edge: ([^.]+)\.)?", text, re.MULTILINE)
        assert found
        tape = list(zip(told.threading.ends, told.threading.kinds(), strict=True))
        left, right = (
            [f"{number} {yarn}, {kind}" for number, (yarn, kind) in enumerate(ends, start=1)]
            for ends in (tape, tape[::-1])
        )
        half = math.ceil(len(tape) / 2)
        assert found[1].split("; ") == left[:half]
        assert (found[2].split("; ") if found[2] else []) == right[: len(tape) - half]


def test_the_second_count_is_of_the_files_alone() -> None:
    """Two Rails on the small box, by hand: 2, 9, 2; left 6 hole to right 6 hole; 5 empty on each side."""
    _, told, _, _ = next(counted(shipped("two-rails")))
    assert stripes(told.ends()) == [("blue", 2), ("white", 9), ("blue", 2)]
    assert (place_of(told, 1), place_of(told, 7), place_of(told, 13)) == (
        "left 6 hole",
        "the middle hole",
        "right 6 hole",
    )
    assert told.empties() == {"left": 5, "right": 5}
