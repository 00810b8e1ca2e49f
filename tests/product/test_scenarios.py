"""A demanding teacher's first hour, through the command line: what she tries, and what she must get.

Every expected figure is worked by hand from the stripes, or stands in the catalogue; none was taken from the program.
What a card says is read back from the PDF by a library that did not write it.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from collections import Counter
from collections.abc import Callable, Iterable
from contextlib import redirect_stderr, redirect_stdout
from functools import cache
from io import BytesIO, StringIO
from math import ceil
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pdfplumber
import pikepdf
import pypdfium2
import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.layout.woven_face import pick_height
from cardmaker.model.marks import Box, Mark, Stamp
from tests.helpers.card_faults import leaves, panels
from tests.helpers.places import ROOT
from tests.helpers.record_cards import Case, card, plan, printed

INCH = 25.4
POINT = 25.4 / 72
WHITE, BLUE = (0xF4, 0xF0, 0xE4), (0x2F, 0x4A, 0x7D)  # as the demonstration files say


pytestmark = pytest.mark.usefixtures("empty_folder")


# What she does and what she sees


def run(*arguments: str) -> tuple[int, str, str]:
    """The status, and what is said on the two streams."""
    out, err = StringIO(), StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        status = run_command_line(arguments)
    return status, out.getvalue(), err.getvalue()


def planned(*arguments: str) -> dict[str, Any]:
    """The answer of ``plan --json``."""
    status, out, err = run("plan", *arguments, "--json")
    assert (status, err) == (0, "")
    answer: dict[str, Any] = json.loads(out)
    return answer


def refused(*arguments: str) -> str:
    """The one line that is said instead of an answer; no file is left behind."""
    status, out, err = run(*arguments)
    assert (status, out) == (1, "")
    assert err.count("\n") == 1
    assert not list(Path().rglob("*.pdf"))
    return err.strip()


def card_file(*arguments: str) -> bytes:
    """The card as it was written."""
    with TemporaryDirectory() as folder:
        target = Path(folder) / "card.pdf"
        status, _, err = run("card", *arguments, "--out", str(target))
        assert (status, err) == (0, "")
        return target.read_bytes()


@cache
def words(pdf: bytes) -> str:
    """All words of a card that is one page, panel by panel as they are set, with single spaces between."""
    with pdfplumber.open(BytesIO(without_drawings(pdf))) as document:
        assert len(document.pages) == 1
        found = document.pages[0].extract_words(x_tolerance=1.5, use_text_flow=True)
    return " ".join(" ".join(word["text"] for word in found).replace("\N{NO-BREAK SPACE}", " ").split())


DRAWING = {"m", "l", "c", "v", "y", "re", "h", "S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "n", "W", "W*", "Do"}


def without_drawings(pdf: bytes) -> bytes:
    """The same file with its text alone: paths are what takes a reader of words its time."""
    with pikepdf.open(BytesIO(pdf)) as document:
        for page in document.pages:
            kept = [each for each in pikepdf.parse_content_stream(page) if str(each.operator) not in DRAWING]
            page.Contents = document.make_stream(pikepdf.unparse_content_stream(kept))
        out = BytesIO()
        document.save(out)
    return out.getvalue()


def holds(text: str, *phrases: str) -> bool:
    """Whether all phrases stand on the card, wherever their lines were broken."""
    missing = [phrase for phrase in phrases if phrase not in text]
    assert missing == []
    return True


def written(name: str, text: str) -> str:
    """Her own file; the name to call it by."""
    Path(name).write_text(text, "utf-8")
    return name


def shipped(stem: str) -> str:
    return (ROOT / "patterns" / f"{stem}.yaml").read_text("utf-8")


# 1. An odd count, the first try

FIRST_TRY = """\
title: First Try
yarns:
  blue: {fibre: linen, count: 20/2}
  white: {fibre: linen, count: 20/2}
warp: [2 blue, 9 white, 2 blue]
"""


def test_1_an_odd_count_in_numbers() -> None:
    """13 ends on 23 spaces: (23 - 13) / 2 = 5 empty at each side; spaces 6 to 18; the middle end is the 7th."""
    answer = planned(written("first.yaml", FIRST_TRY), "--loom", "small-box")
    place = answer["placement"]
    assert (answer["ends"], place["middle_end"]) == (13, 7)
    assert answer["ends_list"][6] == {"number": 7, "yarn": "white", "space": 12, "kind": "hole"}
    assert (place["first_label"], place["first_kind"]) == ("L6", "hole")
    assert (place["last_label"], place["last_kind"]) == ("R6", "hole")
    assert (place["holes"], place["slots"]) == (7, 6)
    assert (place["empty_left"], place["empty_right"]) == (5, 5)
    assert [(run["total"], run["stand_at"]) for run in answer["stripes"]] == [(2, "home"), (11, "far"), (13, "far")]
    assert (answer["winding"]["far_changes"], answer["winding"]["finish"]) == (1, "far")
    assert answer["same_both_ways"] is True


def test_1_an_odd_count_on_the_card() -> None:
    said = words(card_file(written("first.yaml", FIRST_TRY), "--loom", "small-box"))
    holds(
        said,
        "First Try",
        "13 ends",
        "End 1: count 6 left of the mark (0), holes and slots alike: a hole.",
        "same from both edges",
    )
    holds(said, "filled: 7 holes, 6 slots empty: 5 left, 5 right last end in R6, a hole")
    holds(said, "13 ends = 13 times across: 6 there and back, and 1 more.", "You finish at the far post.")
    assert not re.search(r"\b6\.5\b|\b1[24] ends", said)


# 2. A typing slip


@pytest.mark.parametrize("command", ["plan", "card", "check"])
def test_2_a_typing_slip(command: str) -> None:
    text = shipped("three-paths").replace("ends: 31 ", "ends: 30 ")
    line = 1 + text[: text.index("ends: 30")].count("\n")
    told = refused(command, written("slip.yaml", text))
    assert re.fullmatch(rf"slip\.yaml:{line}:\d+: ends: .+\.", told)
    assert {"30", "31"} <= set(re.findall(r"\d+", told.split("ends: ", 1)[1]))
    assert sorted(path.name for path in Path().iterdir()) == ["slip.yaml"]


def test_2_a_typing_slip_as_a_program(empty_folder: Path) -> None:
    written("slip.yaml", shipped("three-paths").replace("ends: 31 ", "ends: 30 "))
    command = [sys.executable, "-m", "cardmaker", "card", "slip.yaml", "--preview"]
    done = subprocess.run(command, env=os.environ | {"PYTHONPATH": str(ROOT)}, capture_output=True, text=True)
    assert (done.returncode, done.stdout, done.stderr.count("\n")) == (1, "", 1)
    assert "Traceback" not in done.stderr
    assert [path.name for path in empty_folder.iterdir()] == ["slip.yaml"]


# 3. The long odd stripe

TOTALS = [3, 8, 11, 20, 23, 28, 31]  # 3 + 5 + 3 + 9 + 3 + 5 + 3, with a pencil
FAR = [3, 11, 23, 31]  # the odd ones: once more than there and back


def test_3_checkpoints_and_far_changes_in_numbers() -> None:
    answer = planned("three-paths")
    assert [stripe["total"] for stripe in answer["stripes"]] == TOTALS
    assert [stripe["total"] for stripe in answer["stripes"] if stripe["stand_at"] == "far"] == FAR
    assert (answer["winding"]["changes"], answer["winding"]["far_changes"]) == (6, 3)
    assert (answer["winding"]["round_trips"], answer["winding"]["finish"]) == (15, "far")
    totals = {colour["yarn"]: colour["ends"] for colour in answer["colours"]}
    assert totals == {"red": 6, "white": 19, "blue": 6}


def test_3_checkpoints_stand_at_their_posts() -> None:
    """Each total at its post of the walk, where the odd ones lie at the far side; a count over its strokes is none."""
    pdf = printed(("three-paths", "middle-box", "letter"))
    with pdfplumber.open(BytesIO(without_drawings(pdf))) as document:
        found = document.pages[0].extract_words(x_tolerance=1.5)
    winding, after = (top_of(found, heading) for heading in ("Wind", "Thread"))
    home = top_of(found, "home")
    walk = {int(word["text"]): word["top"] for word in found if is_total(word) and home - 16 < word["top"] < after}
    assert winding < home < after
    assert set(TOTALS) <= set(walk)
    assert max(walk[total] for total in TOTALS if total not in FAR) < min(walk[total] for total in FAR) - 30


def top_of(found: list[dict[str, Any]], *heading: str) -> float:
    """How far down the page a heading stands."""
    for at in range(len(found)):
        if [word["text"] for word in found[at : at + len(heading)]] == list(heading):
            return float(found[at]["top"])
    raise AssertionError(heading)


def is_total(word: dict[str, Any]) -> bool:
    return word["text"].isdigit() and int(word["text"]) in TOTALS


# 4. Another loom


def test_4_refused_on_the_small_box_with_the_numbers_and_a_remedy() -> None:
    for told in (refused("plan", "three-paths", "--loom", "small-box"),
                 refused("card", "three-paths", "--loom", "small-box")):  # fmt: skip
        holds(told, "three-paths.yaml:", "31 ends", "12 slots and 11 holes", "23", "Middle box")


@pytest.mark.parametrize(("loom", "empty"), [("middle-box", 1), ("broad-paddle", 8)])
def test_4_on_the_other_looms(loom: str, empty: int) -> None:
    place = planned("three-paths", "--loom", loom)["placement"]
    assert (place["first_label"], place["first_kind"]) == ("L15", "slot")
    assert (place["last_label"], place["last_kind"]) == ("R15", "slot")
    assert (place["empty_left"], place["empty_right"]) == (empty, empty)
    said = words(printed(("three-paths", loom, "letter")))
    holds(said, "End 1: count 15 left of the mark (0), holes and slots alike: a slot.")
    holds(said, f"filled: 15 holes, 16 slots empty: {empty} left, {empty} right last end in R15, a slot")


EVEN_ENDS = "1 Re, 3 Wh, 1 Bu, 5 Wh, 1 Bu, 3 Wh, 1 Re"  # ends 2, 4 ... 30 of 3 5 3 9 3 5 3
ODD_ENDS = "2 Re, 2 Wh, 2 Bu, 4 Wh, 2 Bu, 2 Wh, 2 Re"  # ends 1, 3 ... 31

SLOT_IN_THE_MIDDLE = """\
title: Own Box
kind: one heddle
slots: 17
holes: 16
mark: counted as zero
"""


def test_4_the_shed_sentence_follows_the_loom() -> None:
    """With a hole in the middle space, number 17, space 2 is a slot; with a slot there, space 2 is a hole."""
    said = words(printed(("three-paths", "middle-box", "letter")))
    holds(said, f"DOWN, on top: {EVEN_ENDS}", f"UP, on top: {ODD_ENDS}")
    loom = written("own-box.yaml", SLOT_IN_THE_MIDDLE)
    answer = planned("three-paths", "--loom", loom)
    assert (answer["placement"]["first_label"], answer["placement"]["first_kind"]) == ("L15", "hole")
    assert runs_of(answer["sheds"]["down"]) == [2, 2, 2, 4, 2, 2, 2]
    assert runs_of(answer["sheds"]["up"]) == [1, 3, 1, 5, 1, 3, 1]
    said = words(card_file("three-paths", "--loom", loom))
    holds(
        said,
        f"DOWN, on top: {ODD_ENDS}",
        f"UP, on top: {EVEN_ENDS}",
        "End 1: count 15 left of the mark (0), holes and slots alike: a hole.",
    )


def runs_of(yarns: Iterable[str]) -> list[int]:
    counts: list[int] = []
    last = ""
    for yarn in yarns:
        if yarn == last:
            counts[-1] += 1
        else:
            counts.append(1)
        last = yarn
    return counts


# 5. Bars


def test_5_open_ladder() -> None:
    """On the small box end 1, white, stands in space 5, a slot; so the holes hold blue."""
    answer = planned("open-ladder")
    assert answer["sheds"] == {"down": ["blue"] * 7, "up": ["white"] * 7}
    methods = answer["winding"]["methods"]
    assert (answer["winding"]["method"], methods["order"]["joins"], methods["carry"]["balls"]) == ("carry", 13, 2)
    said = words(card_file("open-ladder"))
    holds(said, "DOWN, on top: all blue, 7", "UP, on top: all white, 7", "Use 2 balls", "13 joins")


def test_5_penned_ladder() -> None:
    """23 ends fill the small box from space 1, a slot: ends 1, 3 ... 23 are 2 blue, 8 white, 2 blue; the rest blue."""
    answer = planned("penned-ladder")
    assert answer["sheds"]["down"] == ["blue"] * 11
    assert answer["sheds"]["up"] == ["blue"] * 2 + ["white"] * 8 + ["blue"] * 2
    assert (answer["winding"]["method"], answer["winding"]["methods"]["order"]["joins"]) == ("carry", 16)
    said = words(card_file("penned-ladder"))
    holds(said, "DOWN, on top: all blue, 11", "UP, on top: 2 Bu, 8 Wh, 2 Bu", "Use 2 balls", "16 joins")


def test_5_the_balls_wait_where_their_strokes_end() -> None:
    """White is wound out, home, out and so on, and blue the same; after 7 of each both wait at the far post."""
    starts = planned("open-ladder")["winding"]["methods"]["carry"]["starts"]
    assert [start["from"] for start in starts if start["yarn"] == "white"] == ["home", "far"] * 3 + ["home"]
    assert [start["to"] for start in starts if start["yarn"] == "blue"] == ["far", "home"] * 3 + ["far"]


def test_5_the_picture_shows_bars() -> None:
    """Each pick of the drawn face is one colour from edge to edge, and the next pick is the other."""
    first, second = drawn_picks(("open-ladder", "small-box", "letter"))
    assert "".join(first) == "b" * 7
    assert "".join(second) == "w" * 7


# 6. The chequer


def test_6_phase_flips_are_drawn() -> None:
    """The catalogue's own picture: holes up, then slots up. Blocks of four change colour where the pattern says."""
    assert planned("pavement", "--loom", "middle-box")["placement"]["first_kind"] == "hole"
    down, up = drawn_picks(("pavement", "middle-box", "letter"))
    assert "".join(down) == "wwwwbbbbwwwwbbbb"
    assert "".join(up) == "bbbbwwwwbbbbwwww"


def test_6_the_strip_is_at_life_size() -> None:
    """32 ends at 49.3 to the inch are 16.5 mm wide, and the ribbon is drawn so."""
    answer = planned("pavement")
    assert answer["width"]["likely_mm"] == pytest.approx(32 / 49.3 * INCH, abs=0.001)
    ribbon = woven_box(("pavement", "middle-box", "letter"), "ribbon")
    assert ribbon.width == pytest.approx(16.487, abs=0.001)


def woven_box(case: Case, panel: str) -> Box:
    """Where the woven face is drawn in a panel."""
    group = next(group for group in panels(card(case)) if group.name == panel)
    stamps: list[Mark] = [mark for mark in leaves(group.marks) if isinstance(mark, Stamp)]
    assert len(stamps) == 1
    stamp = stamps[0]
    assert isinstance(stamp, Stamp)
    return stamp.clip


def drawn_picks(case: Case) -> tuple[list[str], list[str]]:
    """The colour of each raised end in the first two picks, w or b, as the printed page shows it at 300 dpi."""
    of = plan(*case[:2])
    box = woven_box(case, "face")
    page = pypdfium2.PdfDocument(printed(case))[0].render(scale=300 / 72).to_pil().convert("RGB")
    end_width, pick = box.width / of.ends, pick_height(of) * box.width / float(of.width.likely_mm)
    rows, shown = [], ceil(box.height / pick - 1e-6)  # the first pick is the lowest
    for number, raised in ((0, of.sheds.down), (1, of.sheds.up)):
        y = box.top + (shown - number - 0.5) * pick
        rows.append([seen(page.getpixel, box.left + (end - 0.5) * end_width, y, end_width) for end in raised])
    return rows[0], rows[1]


def seen(pixel: Callable[[tuple[int, int]], Any], x: float, y: float, wide: float) -> str:
    """The colour that most of a small spot has: hatching and outlines are thin."""
    dots = 300 / INCH
    spot = [
        pixel((round((x + right * wide / 12) * dots), round((y + down * wide / 12) * dots)))
        for right in range(-3, 4)
        for down in range(-3, 4)
    ]
    votes = Counter("w" if distance(dot, WHITE) < distance(dot, BLUE) else "b" for dot in spot)
    return votes.most_common(1)[0][0]


def distance(one: tuple[int, ...], other: tuple[int, ...]) -> int:
    return sum((a - b) ** 2 for a, b in zip(one, other, strict=True))


# 7. Thick ends


def test_7_cord_edge_warns_and_offers_21_or_23() -> None:
    """22 ends: the first and the last are in different kinds of space; only an odd count puts both cords in slots."""
    answer = planned("cord-edge")
    cords = [end["kind"] for end in answer["ends_list"] if end["yarn"] == "brown cord"]
    assert sorted(cords) == ["hole", "slot"]
    warnings = [note["text"] for note in answer["notes"] if note["kind"] == "warning"]
    assert any({"21", "23"} <= set(re.findall(r"\d+", text)) and "hole" in text for text in warnings)
    said = words(card_file("cord-edge"))
    holds(said, "1 of the 2 thick brown cord ends lies in a hole", "21 or 23")


@pytest.mark.parametrize(("loom", "left", "right"), [("middle-box", 2, 0), ("broad-paddle", 9, 7)])
def test_7_five_posts_move_one_space_and_say_why(loom: str, left: int, right: int) -> None:
    answer = planned("five-posts", "--loom", loom)
    place = answer["placement"]
    assert abs(place["shifted"]) == 1
    assert (place["first_label"], place["first_kind"], place["last_label"]) == ("L14", "hole", "R16")
    assert (place["empty_left"], place["empty_right"]) == (left, right)
    posts = [(end["number"], end["kind"]) for end in answer["ends_list"] if end["yarn"] == "red cord"]
    assert posts == [(number, "slot") for number in (8, 12, 16, 20, 24)]
    said = words(printed(("five-posts", loom, "letter")))
    holds(
        said,
        "End 1: count 14 left of the mark (0), holes and slots alike: a hole.",
        "All is moved one space to the right",
        "because the red cord ends must lie in slots",
        "last end in R16, a ",
    )
    holds(said, f"empty: {left} left, {right} right")


def test_7_posts_never_land_in_holes_on_two_heddles() -> None:
    told = refused("card", "five-posts", "--loom", "treadle-pair")
    holds(told, "red cord", "two heddles", "Use a loom with one heddle")


# 9. Lengths, both ways


def test_9_from_tape_to_warp_and_back() -> None:
    """72 / 0.97 = 74.23; / 0.88 = 84.35; + 20 = 104.35 in. And (108 - 20) × 0.88 × 0.97 = 75.12 in."""
    lengths = planned("three-paths", "--loom", "middle-box", "--pegs", "two-chairs")["lengths"]
    assert lengths["finished_mm"] == pytest.approx(72 * INCH)
    assert lengths["on_loom_mm"] == pytest.approx(72 / 0.97 * INCH, abs=0.001)
    assert lengths["warp_mm"] == pytest.approx((72 / 0.97 / 0.88 + 20) * INCH, abs=0.001)
    assert lengths["wind_mm"] == 2700  # of 2,651 mm, in tenths of a metre
    yards = planned("three-paths", "--loom", "middle-box", "--pegs", "two-chairs", "--units", "us")["lengths"]
    assert yards["wind_mm"] == pytest.approx(3 * 36 * INCH)
    assert yards["tape_from_warp_mm"] == pytest.approx(88 * 0.88 * 0.97 * INCH, abs=0.001)


def test_9_the_sum_on_the_card() -> None:
    """The bar tells its parts on the record; the sum that leads there stands in the terminal."""
    asked = ("three-paths", "--loom", "middle-box")
    said = words(printed(("three-paths", "middle-box", "letter")))
    holds(said, "2.74 m (3 yd) to wind", "to wind for about 191 cm", "of 274 cm", "finished 191", "waste 51")
    other = words(card_file(*asked, "--units", "us"))
    holds(other, "3 yd (2.74 m) to wind", "to wind for about 75 in", "of 108 in", "finished 75", "waste 20")
    status, plan, _ = run("plan", *asked, "--pegs", "two-chairs", "--units", "us")
    told = " ".join(plan.split())
    assert status == 0
    holds(told, "72 in (183 cm) finished", "74 in (189 cm) woven", "20 in (51 cm) of waste")
    holds(told, "the warp is 104 in (265 cm), rounded up", "Wind 3 yd (2.74 m)", "75 in (191 cm) of finished tape")
    assert "102" not in said + other + told  # which is what adding the two percentages gives


def test_9_a_short_warp_wastes_a_lot() -> None:
    """(54 - 20) × 0.88 × 0.97 = 29.02 in, which is 54 % of the warp."""
    asked = ("three-paths", "--loom", "middle-box", "--warp", "1.5 yd")
    answer = planned(*asked)
    assert answer["lengths"]["wind_mm"] == pytest.approx(1.5 * 36 * INCH)
    assert answer["lengths"]["tape_from_warp_mm"] == pytest.approx(29.022 * INCH, abs=0.02)
    assert [note["text"] for note in answer["notes"] if "waste" in note["text"]]
    said = words(card_file(*asked))
    holds(said, "1.37 m (1 ½ yd) to wind", "to wind for about 74 cm", "of 137 cm", "waste 51", "54 %", "waste a lot")


def test_9_a_warp_that_is_all_waste_is_refused() -> None:
    told = refused("card", "three-paths", "--loom", "middle-box", "--warp", "1/2 yd")
    assert re.search(r"\d", told)


# 14. Honesty

HONEST = """\
title: Honest
code: N
yarns:
  indigo: {fibre: linen, count: 20/2, shade: N, colour: "#2F4A7D"}
  white: {fibre: linen, count: 20/2, shade: 0812}
warp: [2 indigo, 9 white, 2 indigo]
source:
  grade: B
  what: a tape on an apron
  object_number: 1900.10
  holder: no
"""


def test_14_an_empty_source_says_so() -> None:
    said = words(card_file("bare-thread"))
    holds(said, "No source recorded.")
    assert not re.search(r"traditional|period|antique|authentic", said, re.IGNORECASE)


def test_14_what_was_typed_is_printed_exactly() -> None:
    said = words(card_file(written("honest.yaml", HONEST)))
    assert re.search(r"(^| )N( |$)", said)
    assert re.search(r"\b1900\.10(?!\d)", said)
    holds(said, "After a tape on an apron.", "Held by: no.")
    assert "False" not in said
    assert planned("honest.yaml")["code"] == "N"


def test_14_a_colour_word_makes_no_dye_claim() -> None:
    said = words(card_file(written("honest.yaml", HONEST)))
    holds(said, "indigo")
    assert not re.search(r"\bdye|\bwoad|\bmadder|\bplant", said, re.IGNORECASE)


def test_14_a_dye_without_evidence_is_not_claimed() -> None:
    text = HONEST.replace("shade: N,", "shade: N, dye: woad,")
    status, _, err = run("card", written("honest.yaml", text), "--out", "card.pdf")
    if status:
        assert re.match(r"honest\.yaml:\d+:\d+: ", err)
    else:
        assert "woad" not in words(Path("card.pdf").read_bytes())


@pytest.mark.parametrize("stem", ["five-posts", "long-sixty", "peep-edge", "penned-ladder"])
def test_14_grade_e_never_says_copy(stem: str) -> None:
    text = shipped(stem)
    assert re.search(r"^  grade: E$", text, re.MULTILINE)
    said = words(card_file(stem))
    holds(said, "In the manner of")
    credit = re.search(r"^credit: (.+)$", text, re.MULTILINE)
    if credit:  # her own words about the sheet of paper, not about the tape
        said = said.replace(credit[1], "")
    assert not re.search(r"\bcop(y|ied)\b(?! freely)", said, re.IGNORECASE)


SPOKEN_OF = {
    "A": "After", "B": "After", "C": "Suggested by", "D": "Suggested by", "E": "In the manner of", "F": "A new design:",
}  # fmt: skip


@pytest.mark.parametrize("grade", SPOKEN_OF)
def test_14_no_grade_says_more_than_it_may(grade: str) -> None:
    said = words(card_file(written("honest.yaml", HONEST.replace("grade: B", f"grade: {grade}"))))
    holds(said, f"{SPOKEN_OF[grade]} a tape on an apron.")


# 15. Change and reprint; two heddles

RAILS = """\
title: Harbour Rails
code: H1
version: 1
date: 2026-03-07
yarns:
  blue: {fibre: linen, count: 20/2}
  white: {fibre: linen, count: 20/2}
warp: [2 blue, 9 white, 2 blue]
"""
NEXT = RAILS.replace("version: 1", "version: 2").replace("2026-03-07", "2026-05-01").replace("9 white", "7 white")
CHANGES = """\
changes:
  - {version: 2, date: 2026-05-01, what: middle narrowed from 9 white to 7}
"""


def test_15_a_changed_stripe_is_seen_on_the_new_card() -> None:
    before = words(card_file(written("rails.yaml", RAILS)))
    holds(before, "13 ends", "version 1", "2026-03-07")
    after = words(card_file(written("rails.yaml", NEXT + CHANGES)))
    holds(after, "11 ends", "version 2", "2026-05-01")
    assert "2026-03-07" not in after


def test_15_a_new_version_says_what_it_supersedes() -> None:
    said = words(card_file(written("rails.yaml", NEXT + CHANGES)))
    holds(said, "middle narrowed from 9 white to 7")


def test_15_the_worked_example_says_what_was_superseded() -> None:
    said = words(printed(("three-paths", "middle-box", "letter")))
    holds(said, "version 2", "2026-11-20", "middle widened from 7 white to 9")


def test_15_an_unchanged_file_prints_an_identical_page() -> None:
    name = written("rails.yaml", RAILS)
    first = card_file(name)
    assert card_file(name) == first
    assert card_file(written("rails.yaml", NEXT)) != first
    written("rails.yaml", RAILS)
    command = [sys.executable, "-m", "cardmaker", "card", name, "--out", "card.pdf"]
    surroundings = os.environ | {"PYTHONPATH": str(ROOT), "PYTHONHASHSEED": "5", "TZ": "Asia/Kathmandu"}
    subprocess.run(command, env=surroundings, check=True, capture_output=True)
    assert Path("card.pdf").read_bytes() == first


def kind_of(space: int) -> str:
    """Each heddle of the treadle pair has 31 slots and 30 holes, so a slot stands at both outer places."""
    return "slot" if space % 2 else "hole"


@pytest.mark.parametrize(("stem", "ends"), [("treadle-ladder", 40), ("long-sixty", 60)])
def test_15_on_two_heddles_every_end_has_a_hole_and_a_slot(stem: str, ends: int) -> None:
    answer = planned(stem, "--loom", "treadle-pair")
    assert [end["number"] for end in answer["ends_list"]] == list(range(1, ends + 1))
    for end in answer["ends_list"]:
        assert (end["kind"], end["back_kind"]) == (kind_of(end["space"]), kind_of(end["back_space"]))
        assert {end["kind"], end["back_kind"]} == {"hole", "slot"}
        assert 1 <= end["back_space"] <= 61
    offsets = {end["back_space"] - end["space"] for end in answer["ends_list"]}
    assert offsets in ({1}, {-1})
    assert answer["placement"]["back_heddle"]["offset"] in offsets


def test_15_the_back_heddles_offset_is_stated() -> None:
    said = words(printed(("treadle-ladder", "treadle-pair", "letter")))
    holds(said, "Each end goes through both, front first: hole of one, slot of the other.", "40 ends", "Treadle pair")
    front, back = re.search(r"Front: count (\d+) left .*? Back: count (\d+) left ", said).groups()  # type: ignore[union-attr]
    assert abs(int(front) - int(back)) == 1


def test_15_long_sixty_fills_the_pair() -> None:
    """60 ends are the most that two heddles of 61 spaces hold when one is moved over by one."""
    place = planned("long-sixty")["placement"]
    assert (place["loom"], place["spaces"]) == ("Treadle pair", 61)
    assert place["empty_left"] + place["empty_right"] == 1


@pytest.mark.parametrize(
    ("loom", "numbers"),
    [
        ("small-box", ("12 slots and 11 holes", "23")),
        ("middle-box", ("16 slots and 17 holes", "33")),
        ("broad-paddle", ("24 slots and 23 holes", "47")),
    ],
)
def test_15_long_sixty_on_one_heddle_is_refused_with_a_suggestion(loom: str, numbers: tuple[str, str]) -> None:
    told = refused("card", "long-sixty", "--loom", loom)
    holds(told, "60 ends", *numbers, "Treadle pair holds it")
