"""``cardmaker rescue``: it agrees with the plan's list of ends, from either edge, for both hands, on both sides."""

from __future__ import annotations

import json
import re
import shlex
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pdfplumber
import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.model.loom import Side
from cardmaker.model.plan import Plan
from cardmaker.model.problems import ProblemsFound
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.reckoning.weaving.lost_ends import end_from_edge, lost_end, place_in_stripe
from cardmaker.wording.plan_json import plan_as_json
from cardmaker.wording.rescue_report import lost_end_json, lost_end_text
from cardmaker.wording.trouble_words import TROUBLES
from tests.helpers.places import ROOT
from tests.helpers.shipped import LOOMS, PATTERNS, plan_of

Said = pytest.CaptureFixture[str]
VIEWS = [Viewpoint(left, behind) for left in (False, True) for behind in (False, True)]
PLACE = ("number", "yarn", "space", "kind", "back_space", "back_kind")

pytestmark = pytest.mark.usefixtures("empty_folder")


def run(arguments: Sequence[str], said: Said) -> tuple[int, str, str]:
    try:
        status = run_command_line(["rescue", *arguments])
    except SystemExit as left:
        status = int(left.code or 0)
    out, err = said.readouterr()
    return status, out, err


def answer(arguments: str, said: Said) -> dict[str, Any]:
    status, out, err = run([*arguments.split(), "--json"], said)
    assert (status, err) == (0, "")
    found: dict[str, Any] = json.loads(out)
    return found


# It agrees with the list of ends


def plans_of(pattern: str) -> list[Plan]:
    found = []
    for loom in LOOMS:
        try:
            found.append(plan_of(pattern, loom))
        except ProblemsFound:
            continue
    return found


def told_of(plan: Plan, count: int, edge: Side) -> dict[str, Any]:
    assert plan.rescue is not None
    number = end_from_edge(count, edge, plan)
    lost = lost_end(number, plan, plan.rescue, plan.rescue.replacements[0].woven, None)
    return lost_end_json(plan, lost, place_in_stripe(number, edge, plan), "metric")


def as_listed(end: dict[str, Any] | None) -> dict[str, Any] | None:
    return None if end is None else {key: end[key] for key in PLACE if key in end}


@pytest.mark.parametrize("view", VIEWS, ids=["right", "right-behind", "left", "left-behind"])
@pytest.mark.parametrize("pattern", PATTERNS)
def test_it_agrees_with_the_list_of_ends_from_either_edge(pattern: str, view: Viewpoint) -> None:
    """The tape from left to right as it is called: the plan's list, turned round for a left hand, which numbers from
    the right. Beside it the same of the tape as it lies before the seat, which from behind is turned once more."""
    plans = plans_of(pattern)
    assert plans
    for seated in plans:
        plan = plan_as_seen(seated, view)
        ends = plan_as_json(plan)["ends_list"]
        across = ends[::-1] if view.left_hand else ends
        before_seat = list(seated.end_yarns)
        assert [end["yarn"] for end in across] == (before_seat[::-1] if view.from_behind else before_seat)
        for at, end in enumerate(across):
            from_left, from_right = at + 1, len(ends) - at
            for count, edge in ((from_left, Side.LEFT), (from_right, Side.RIGHT)):
                told = told_of(plan, count, edge)
                assert as_listed(told["end"]) == end
                assert (told["from_left"], told["from_right"]) == (from_left, from_right)
                assert as_listed(told["left"]) == (across[at - 1] if at else None)
                assert as_listed(told["right"]) == (across[at + 1] if at + 1 < len(ends) else None)
                assert told["nearer"] == ("right" if from_right < from_left else "left")


@pytest.mark.parametrize("pattern", PATTERNS)
def test_what_it_says_is_what_it_tells_programs(pattern: str) -> None:
    plan = plan_of(pattern)
    assert plan.rescue is not None
    for number in (1, plan.ends):
        lost = lost_end(number, plan, plan.rescue, plan.rescue.replacements[1].woven, None)
        place = place_in_stripe(number, Side.LEFT, plan)
        said = " ".join(lost_end_text(plan, lost, place, "metric").split())
        told = lost_end_json(plan, lost, place, "metric")
        assert f"End {number} of {plan.ends}: {told['end']['yarn']} ({told['end']['letters']})" in said
        assert told["end"]["label"] in said
        for beside in ("left", "right"):
            if told[beside]:
                assert f"On its {beside}: {told[beside]['yarn']} in " in said
            else:
                assert f"On its {beside}: nothing, it is the edge end" in said
        assert f"{told['new_end']['length_mm'] / 10:.0f} cm" in said
        assert all(step in said for step in told["steps"])


# In the terminal


def test_an_end_as_it_is_told(capsys: Said) -> None:
    status, out, _ = run(["three-paths", "--end", "17", "--woven", "1/2"], capsys)
    assert status == 0
    lines = [line.strip() for line in out.splitlines()]
    assert lines[:2] == [
        "Three Paths (T08), Middle box: End 17 of 31: white (Wh)",
        "15 from the right edge, 17 from the left. Seen from your seat.",
    ]
    for line in (
        "Stripe 4 from the left (9 ends): its end 6.",
        "R1, a slot.",
        "Count 1 right of the mark (0), holes and slots alike.",
        "On its left: white in the middle, a hole.",
        "On its right: white in R2, a hole.",
        "3. Thread it: R1, a slot. Between its neighbours, through no other space.",
    ):
        assert line in lines
    assert "2. Cut 198 cm (78 in) of white. So long it must be with half of the tape woven." in lines
    assert "Hooks and pins are sharp" in out


def test_two_heddles_thick_ends_and_from_behind(capsys: Said) -> None:
    out = run(["fair-day", "--end", "10", "--edge", "right"], capsys)[1]
    assert "Front R14, a slot; back R13, a hole." in out
    assert "Through both, front heddle first." in out
    assert "On its right: red in front R15, a hole; back R14, a slot." in out
    thick = " ".join(run(["three-sparks", "--end", "13", "--from", "behind"], capsys)[1].split())
    assert "13 from either edge. Seen from behind the heddle." in thick
    assert "It is the space at the mark (0)." in thick
    assert "It may stick in its hole: pull it through by itself, without a knot." in thick
    assert "At the tape, from your seat, left and right change places." in thick
    assert "may stick" not in run(["three-sparks", "--end", "12"], capsys)[1]  # a white one


def test_an_end_of_a_figure_is_told_as_one(capsys: Said) -> None:
    figure = next(name for name in PATTERNS if plan_of(name).pickup)
    plan = plan_of(figure)
    assert plan.pickup is not None
    second = plan.pickup.pattern_ends[1]
    out = run([figure, "--end", str(second)], capsys)[1]
    assert f"It is pattern end 2 of the {len(plan.pickup.pattern_ends)} that are picked up." in out


def test_by_stripe_it_is_the_same_end(capsys: Said) -> None:
    by_stripe = answer("off-side --stripe 2 --in-stripe 1 --edge right", capsys)
    assert by_stripe == answer("off-side --end 2 --edge right", capsys)
    assert by_stripe["end"]["number"] == 21
    assert by_stripe["stripe"] == {"from": "right", "stripe": 2, "in_stripe": 1, "ends": 4}
    left = answer("off-side --stripe 2 --in-stripe 1 --hand left", capsys)
    assert (left["end"]["number"], left["end"]["yarn"], left["from_right"]) == (2, "white", 2)
    assert left["view"] == {"from": "front", "hand": "left"}


def test_how_long_by_share_and_by_turns(capsys: Said) -> None:
    nothing = answer("three-paths --end 1", capsys)["new_end"]
    assert (nothing["woven"], nothing["turns_left"]) == (0.0, None)
    for typed in ("1/2", "0.5", "50%", "½"):
        assert answer(f"three-paths --end 1 --woven {typed}", capsys)["new_end"]["woven"] == 0.5
    half = answer("three-paths --end 1 --woven 1/2", capsys)["new_end"]["length_mm"]
    turns = answer("three-paths --end 1 --turns-left 6.5", capsys)["new_end"]
    assert (turns["woven"], turns["turns_left"]) == (None, 6.5)
    assert turns["length_mm"] < half < nothing["length_mm"]
    assert "with 6 ½ turns left on the beam" in run(["three-paths", "--end", "1", "--turns-left", "6 1/2"], capsys)[1]
    assert "with 1 turn left" in run(["three-paths", "--end", "1", "--turns-left", "1"], capsys)[1]


# Without an end: the troubles


def test_without_an_end_it_tells_the_troubles_with_its_numbers(capsys: Said) -> None:
    status, out, _ = run(["three-paths"], capsys)
    assert status == 0
    text = " ".join(out.split())
    for number, row in TROUBLES.items():
        assert (f" {number} {row.seen}? {row.cure[:-1]}" in text) == (number != 11)
    for own in (
        "30 ends at most.",
        "filled: 15 holes, 16 slots",
        "12 sticks in all",
        "about 16 mm",
        "Weft on the RIGHT, next: DOWN.",
        "315 cm (124 in) with nothing woven",
        "3 red, 5 white, 3 blue",
    ):
        assert own in text
    two = " ".join(run(["fair-day"], capsys)[1].split())
    assert "11 An end never moves, or the heddles jam?" in two
    assert "End 1: front L24, a slot; back L25, a hole." in two
    rows = answer("three-paths", capsys)["troubles"]
    assert [row["number"] for row in rows] == [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12]
    assert all(row["text"].startswith(f"{row['seen']}?") for row in rows)


# What is wrong is said at its option


@pytest.mark.parametrize(
    ("options", "message"),
    [
        ("--end 32", "--end 32: Three Paths has 31 ends. Write a number from 1 to 31."),
        ("--stripe 8 --in-stripe 1", "--stripe 8: Three Paths has 7 stripes. Write a number from 1 to 7."),
        (
            "--stripe 2 --in-stripe 6",
            "--in-stripe 6: stripe 2 from the left edge has 5 ends. Write a number from 1 to 5.",
        ),
        ("--stripe 2", "--stripe needs --in-stripe as well: which end of the stripe, counted from the same edge."),
        ("--in-stripe 2", "--in-stripe needs --stripe as well: which stripe, counted from the same edge."),
        (
            "--end 2 --stripe 2 --in-stripe 1",
            "--end counts over the whole warp: leave --stripe and --in-stripe out, or --end.",
        ),
        ("--woven 1/2", "--woven is about one end: say which, as in --end 17, or --stripe 3 --in-stripe 2."),
        ("--edge left", "--edge is about one end: say which, as in --end 17, or --stripe 3 --in-stripe 2."),
        ("--out x.pdf", "--out is about one end: say which, as in --end 17, or --stripe 3 --in-stripe 2."),
        (
            "--end 2 --turns-left 19",
            "--turns-left 19: this warp makes about 18 turns on Middle box. Write a number from 0 to 18.",
        ),
        ("--end 0", "--end: '0' is no count: write a whole number from 1"),
        ("--end two", "--end: 'two' is no count: write a whole number from 1"),
        ("--end 3.5", "--end: '3.5' is no count: write a whole number from 1"),
        ("--end 12345", "--end: '12345' is no count: write a whole number from 1"),
        ("--end 2 --woven 3/2", "'3/2' is more than all of it; write a share from 0 to 1, such as 1/2"),
        ("--end 2 --woven half", "'half' is not a number; write a share from 0 to 1, such as 1/2, or 50 %"),
        ("--end 2 --turns-left few", "'few' is not a number; write it as in 6 or 6 1/2"),
        ("--end 2 --turns-left 3 --woven 1/2", "--woven and --turns-left do not go together. Keep one of them."),
        ("--end 2 --json --out x.pdf", "--json tells programs in the terminal, and --out writes a slip"),
        ("--end 2 --paper a6", "--paper is of a slip: say with --out where to write it."),
        ("--end 2 --edge top", "--edge is not 'top'. Write left or right."),
        ("--end 2 --out x.pdf --paper a3", "Rescue has no paper 'a3'; it has 4x6, a6."),
    ],
)
def test_what_is_wrong_is_said_at_its_option(options: str, message: str, capsys: Said) -> None:
    status, out, err = run(["three-paths", *options.split()], capsys)
    assert (status, out) == (2, "")
    assert message in err
    assert not Path("x.pdf").exists()


def test_turns_need_a_beam(capsys: Said) -> None:
    loom = (ROOT / "layouts" / "looms" / "middle-box.yaml").read_text()
    bare = "\n".join(line for line in loom.splitlines() if not line.startswith(("beam:", "packing:")))
    Path("bare.yaml").write_text(bare)
    status, _, err = run(["three-paths", "--loom", "bare.yaml", "--end", "2", "--turns-left", "3"], capsys)
    assert status == 2
    assert "--turns-left: nobody has noted enough of the beam of Middle box" in err
    assert "as in --woven 1/2." in err


# On a slip


def test_a_slip_is_written_and_tells_its_end(capsys: Said) -> None:
    status, out, _ = run(["three-paths", "--end", "15", "--edge", "right", "--out", "slip.pdf"], capsys)
    assert (status, out) == (0, "slip.pdf  (Middle box, 4x6, end 17)\n")
    with pdfplumber.open("slip.pdf") as pdf:
        text = " ".join((pdf.pages[0].extract_text() or "").replace("\N{NO-BREAK SPACE}", " ").split())
    assert "End 17 of 31: white (Wh)" in text
    assert run_command_line(["restore", "slip.pdf", "--out", "back", "--quiet"]) == 0
    assert Path("back/patterns/three-paths.yaml").exists()
    assert run(["three-paths", "--end", "3", "--out", "slips"], capsys)[0] == 0
    assert Path("slips/three-paths-end-3-rescue.pdf").exists()


def test_the_layout_alone_makes_no_card(capsys: Said) -> None:
    assert run_command_line(["card", "three-paths", "--layout", "rescue"]) == 1
    told = "".join(capsys.readouterr())
    assert "Three Paths: a rescue slip is about one end, and none is named." in told
    assert "cardmaker rescue three-paths --end 1 --out slip.pdf" in told
    assert not Path("out").exists() or not list(Path("out").iterdir())


def test_her_settings_hold_for_it(capsys: Said) -> None:
    Path("cardmaker.yaml").write_text("units: us\nhand: left\npaper: a6\n")
    out = run(["three-paths", "--end", "1"], capsys)[1]
    assert "1 from the right edge, 31 from the left." in out
    assert " in (" in out
    assert "1 from the left edge" in run(["three-paths", "--end", "1", "--hand", "right"], capsys)[1]
    assert run(["three-paths", "--end", "1", "--out", "x.pdf"], capsys)[1] == "x.pdf  (Middle box, a6, end 1)\n"


# The slip tells what makes it again


@pytest.mark.parametrize(
    "options",
    [
        "--end 17",
        "--stripe 3 --in-stripe 2 --edge right --woven 1/2 --hand left --from behind --units us",
        "--end 4 --turns-left 6 --loom broad-paddle --pegs yard-board --paper a6 --warp 3yd",
    ],
)
def test_a_slip_is_made_again_by_what_restore_tells(
    options: str, capsys: Said, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In another folder, under settings of its own."""
    assert run(["three-paths", *options.split(), "--out", "slip.pdf"], capsys)[0] == 0
    slip = Path("slip.pdf").resolve()
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    monkeypatch.chdir(elsewhere)
    Path("cardmaker.yaml").write_text("loom: treadle-pair\nunits: us\npaper: a4\nhand: left\nfrom: behind\n", "utf-8")
    assert run_command_line(["restore", str(slip)]) == 0
    (command,) = re.findall(r"^The same again: cardmaker (.*)$", capsys.readouterr().out, re.MULTILINE)
    assert run_command_line(shlex.split(command)) == 0
    assert Path("again/slip.pdf").read_bytes() == slip.read_bytes()
