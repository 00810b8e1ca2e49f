"""What is said of a card, held against a second count from the files: enough to wind, thread and weave by ear.

``tests/helpers/recount.py`` counts from the YAML alone, as a hand counts, and imports nothing of the program. Here
what is read aloud is taken apart again, end by end, and every number in it is compared, in the order in which the work
is done.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import pytest

from cardmaker.card.composing import compose_card
from cardmaker.jobs import loading
from cardmaker.model.card_layout import PanelPlace
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.threading.mirror import plan_as_seen
from tests.helpers.own_bench import OWN_LOOMS, OWN_PATTERNS, write_bench
from tests.helpers.places import ROOT
from tests.helpers.recount import Seat, stripes
from tests.helpers.recount_by_ear import (
    IN_BRIEF,
    IN_HEAD,
    LENGTH,
    LOOMS,
    PATTERNS,
    RULER,
    SEATS,
    STRIPE,
    TRIPS,
    Listener,
    counted,
    hear_length,
    hear_order,
    hear_threading,
    hear_weaving,
    hear_winding,
    hear_winding_in_brief,
    laid,
    listed,
    place_of,
    plan,
    said_space,
    shipped,
)
from tests.helpers.screen_reader_text import text_read_aloud

BANDED = "tie off; sticks in, band it"
WINDING_ROW = re.compile(
    r"^ends (\d+)(?: of (\d+))?; yarn (.+?); (?:from and )?to .+?; total (\d+)(?:(?:; then)? (.+))?$", re.MULTILINE
)

Rows = tuple[tuple[PanelPlace, ...], ...]
NO_ROWS: Rows = ()


# The cards


def said(pattern: Path, loom: Path, layout: str, seat: Seat, rows: Rows = NO_ROWS) -> str:
    """The card as it is read aloud; with ``rows``, of a layout that has those instead of its own."""
    of = loading.load_layout(ROOT / "layouts" / "cards" / f"{layout}.yaml")
    seen = Viewpoint(seat.hand == "left", seat.behind)
    wanted = replace(of, rows=rows or of.rows)
    return text_read_aloud(compose_card(plan_as_seen(plan(pattern, loom), seen), wanted, of.papers[0], RULER).page)


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
    heard = [re.search(r"^(Wind one colour|Use 2 balls|Wind in order)", text, re.MULTILINE) for text in told]
    assert [found and found[1] for found in heard] == ["Wind one colour", "Use 2 balls", "Wind in order"]


@pytest.mark.parametrize("layout", ["handout", "handout-large", "field", "field-folded", "six-numbers"])
@pytest.mark.parametrize("pattern", PATTERNS)
def test_the_small_cards_are_too(pattern: str, layout: str) -> None:
    """They name what to wind beside the title or on its own; what finds no room on paper is not told either."""
    smallest = next(counted(shipped(pattern)))[0]
    for loom, told, pattern_text, loom_text in counted(shipped(pattern), {smallest, LOOMS[-1]}):
        text = said(shipped(pattern), loom, layout, told.seat)
        ear = Listener(text)
        assert ear.hear(r"^(.+)$")[1] == pattern_text["title"]
        where = IN_BRIEF if layout.startswith("field") else IN_HEAD if layout.startswith("handout") else LENGTH
        hear_length(Listener(text), pattern_text, loom_text, where=where)
        hear_order(ear, told)
        if layout.startswith("field"):
            hear_winding_in_brief(Listener(text), told)
        if layout == "six-numbers" or re.search(TRIPS, text) or "You finish" in text:
            hear_winding(ear, told)
        hear_threading(ear, told)
        hear_weaving(ear, told, pattern_text, loom_text)


@pytest.mark.parametrize("pattern", PATTERNS)
def test_a_bench_card_tells_the_winding_step_by_step(pattern: str) -> None:
    """The list is a table: its rows lay all ends, and its last column says what is done with the yarn then. A long
    stripe has a row for every part, with how many of its ends that is."""
    for loom, told, pattern_text, loom_text in counted(shipped(pattern), LOOMS[1:]):
        text = said(shipped(pattern), loom, "bench", told.seat)
        hear_length(Listener(text), pattern_text, loom_text)
        rows = WINDING_ROW.findall(text)
        banded = BANDED in text
        heard: list[str] = []
        done, stripe = 0, 0  # of a stripe in parts
        for count, of, yarn, total, then in rows:
            names = listed(yarn.removesuffix(" in turn")) if yarn.endswith(" in turn") else yarn.split(", then ")
            assert int(of or count) == stripe or not stripe
            stop = done + int(count)
            heard += [names[turn % len(names)] for turn in range(int(count))]  # its own ends, in their order
            assert int(total) == (stop if banded else len(heard))
            goes_on = bool(of) and stop < int(of)
            assert (then == "go on") == goes_on
            done, stripe = (stop, int(of)) if goes_on else (0, 0)
        assert not stripe
        ends = told.ends()
        assert heard == ([yarn for name in dict.fromkeys(ends) for yarn in ends if yarn == name] if banded else ends)


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
        ("home; total 8", "home; total 9"),
        ("Wind 9 white", "Wind 8 white"),
        ("change yarn at the far post", "change yarn at home"),
        ("You finish at the far post", "You finish at home"),
        ("left 12 hole", "left 12 slot"),
        ("right 5 slot", "right 6 slot"),
        ("empty: 1 left, 1 right.", "empty: 2 left, 1 right."),
        ("on the right, next: down", "on the right, next: up"),
        ("15 there and back", "16 there and back"),
        ("31 times across", "30 times across"),
        ("Ends 4 to 8, white", "Ends 4 to 8, red"),
        ("The weft is red", "The weft is white"),
        ("count 15 left of", "count 16 left of"),
        ("count 15 left of", "count 15 right of"),
        ("holes and slots alike: a slot", "holes and slots alike: a hole"),
        ("If that is a hole", "If that is a slot"),
        ("empty: 1 left, 1 right\n", "empty: 1 left, 2 right\n"),
        ("last end in R15, a slot", "last end in R15, a hole"),
        ("Begin: press the warp down", "Begin: lift the warp up"),
        ("down, throw left. ", "down, throw right. "),
        ("throw left. Weft", "throw left. As you sit: Weft"),
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
            ("down", "Left foot" if two else "Warp down"),
            ("up", "Right foot" if two else "Warp up"),
        ):
            found = re.search(rf"from the left edge as you sit\. .*?{name}: ([^.]+)\.", text)
            assert found
            assert expanded(found[1]) == told.threading.raised(shed)
        size = r"(?:at life size|drawn at \d+ percent of life size)"
        ribbon = re.search(rf"^The tape {size}, from the left edge as you sit: ([^.]+)\.", text, re.MULTILINE)
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
    """From each edge, the edge end first: yarn and space of every end, and none twice. From behind the edges are
    called the other way round, and it is said; the middle end goes with the edge that is the left one at the seat."""
    rows = ((PanelPlace("name", 12, 1, essential=True),), (PanelPlace("rescue", 12, 1, essential=True),))
    for loom, told, _, _ in counted(shipped(pattern), LOOMS[1:]):
        text = said(shipped(pattern), loom, "bench", told.seat, rows)
        begin = r"^Seen from behind the heddles?\. " if told.seat.behind else "^"
        found = re.search(rf"{begin}((?: ?From the (?:left|right) edge: [^.]+\.)+)", text, re.MULTILINE)
        assert found
        edges = dict(re.findall(r"From the (left|right) edge: ([^.]+)\.", found[1]))
        spaces = [said_space(told, space) for space in range(told.threading.first, told.threading.last + 1)]
        tape = list(zip(told.threading.ends, spaces, told.threading.kinds(), strict=True))
        left, right = (
            [f"{number} {yarn}, {space} {kind}" for number, (yarn, space, kind) in enumerate(ends, start=1)]
            for ends in (tape, tape[::-1])
        )
        half = math.ceil(len(tape) / 2)
        assert edges[told.seat.seen("left")].split("; ") == left[:half]
        far = edges.get(told.seat.seen("right"), "")
        assert (far.split("; ") if far else []) == right[: len(tape) - half]


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
