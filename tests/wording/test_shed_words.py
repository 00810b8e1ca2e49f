"""Two heddles on treadles: a foot is named where the loom's file says what it does, and nowhere else.

Which ends rise is counted here by hand: an end rises with the heddle in whose hole it is, and of the two heddles one
rises as the other sinks (needs no source).
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from itertools import groupby
from pathlib import Path

import pytest

from cardmaker.card.composing import compose_card
from cardmaker.cli.command_line import run_command_line
from cardmaker.model.loom import Loom
from cardmaker.model.plan import Plan
from cardmaker.model.viewpoint import Viewpoint
from cardmaker.pdf.fonts import TypeRuler
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.threading.mirror import plan_as_seen
from cardmaker.wording.plan_json import plan_as_json
from cardmaker.wording.report import plan_text
from cardmaker.wording.shed_words import LEFT_HAND_THROWS, TRY_IT, next_shed_alt_text, next_sheds
from tests.helpers.screen_reader_text import text_read_aloud
from tests.helpers.shipped import LAYOUTS, shipped_layout, shipped_pattern
from tests.helpers.treadle_looms import TIE_UPS, treadles

RULER = TypeRuler()
FOOT = re.compile(r"\b(left|right)\W+foot\b", re.IGNORECASE)


def plan_on(loom: Loom, pattern: str = "treadle-ladder") -> Plan:
    return make_plan(shipped_pattern(pattern), loom)


def risen_with(plan: Plan, heddle: str) -> str:
    """The ends in the holes of one heddle, as stripes with their letters."""
    ends = plan_as_json(plan)["ends_list"]
    up = [end["yarn"] for end in ends if end["kind" if heddle == "front" else "back_kind"] == "hole"]
    return ", ".join(f"{len(list(same))} {plan.letters(yarn)}" for yarn, same in groupby(up))


def said_on_cards(plan: Plan) -> Iterator[str]:
    """All words of every shipped layout, for either hand: those that are printed, and those read aloud."""
    for stem in LAYOUTS:
        layout = shipped_layout(stem)
        for hand in (Viewpoint(), Viewpoint(left_hand=True)):
            page = compose_card(plan_as_seen(plan, hand), layout, layout.papers[-1], RULER, None).page
            yield repr(page.marks)
            yield text_read_aloud(page)


@pytest.mark.parametrize("tie_up", TIE_UPS)
@pytest.mark.parametrize("pattern", ["treadle-ladder", "long-sixty", "fair-day"])
def test_a_foot_shows_the_ends_that_its_heddle_raises(tie_up: str, pattern: str) -> None:
    plan, front = plan_on(treadles(tie_up), pattern), TIE_UPS[tie_up]
    back = "left" if front == "right" else "right"
    assert risen_with(plan, "front") != risen_with(plan, "back") or pattern != "treadle-ladder"
    text = plan_text(plan, "metric")
    if pattern == "treadle-ladder":
        assert f"  {front.capitalize()} foot, on top: {risen_with(plan, 'front')}\n" in text
        assert f"  {back.capitalize()} foot, on top: {risen_with(plan, 'back')}\n" in text
    read = plan_as_json(plan)
    assert read["treadles"] == {"down": front, "up": back}
    assert read["sheds"]["down"] == [end["yarn"] for end in read["ends_list"] if end["kind"] == "hole"]
    assert not [note for note in plan.notes if note.key == "no_tie_up"]


@pytest.mark.parametrize("tie_up", TIE_UPS)
def test_the_shuttle_goes_by_foot_whatever_the_foot_raises(tie_up: str) -> None:
    """Left foot, shuttle left: so with the weft on the right, the left foot is next."""
    plan = plan_on(treadles(tie_up))
    rules = {rule["weft_hangs"]: rule["next"] for rule in plan_as_json(plan)["next_shed"]}
    assert rules == {"right": "left foot", "left": "right foot"}
    assert {
        rule["weft_hangs"]: rule["next"] for rule in plan_as_json(plan_on(treadles(tie_up, "")))["next_shed"]
    } == rules
    crossed = plan_on(treadles(tie_up, "shuttle: {left_foot: right, right_foot: left}"))
    assert {rule["weft_hangs"]: rule["next"] for rule in plan_as_json(crossed)["next_shed"]} == {
        "left": "left foot",
        "right": "right foot",
    }


@pytest.mark.parametrize("pattern", ["treadle-ladder", "nine"])
def test_without_a_tie_up_no_foot_is_named(pattern: str) -> None:
    plan = plan_on(treadles(shuttle=""), pattern)
    heard = [plan_text(plan, "metric"), *said_on_cards(plan), json.dumps(plan_as_json(plan))]
    told = [text.replace("left_foot: front up, right_foot: back up", "") for text in heard]  # how to write it down
    assert not [FOOT.findall(text) for text in told if FOOT.search(text)]
    aloud = [text for text in heard[2:-1:2] if "Weft on the" in text]
    assert len(aloud) >= 10
    assert all(TRY_IT in text for text in aloud)
    assert plan_as_json(plan)["treadles"] is None
    assert [rule["next"] for rule in plan_as_json(plan)["next_shed"]] == ["front up", "back up"]
    assert f"  Front up, on top: {risen_with(plan, 'front')}\n" in heard[0]
    assert heard[0].count(TRY_IT) == 1


def test_the_shuttle_s_own_feet_are_known_without_a_tie_up() -> None:
    """The file says to which side the shuttle flies at each foot; which ends that foot raises it does not say."""
    plan = plan_on(treadles())
    assert plan_as_json(plan)["treadles"] is None
    text = plan_text(plan, "metric").replace("\N{NO-BREAK SPACE}", " ")
    assert "Weft on the RIGHT, next: LEFT FOOT. Weft on the LEFT, next: RIGHT FOOT." in text
    assert f"  Front up, on top: {risen_with(plan, 'front')}\n  Back up, on top: {risen_with(plan, 'back')}\n" in text
    assert f"  {TRY_IT}\n" in text


def test_it_is_advised_once_to_write_it_down() -> None:
    for loom, times in ((treadles(), 1), (treadles(next(iter(TIE_UPS))), 0)):
        assert plan_text(plan_on(loom), "metric").count("does not say which foot raises the front heddle") == times
        assert [note.key for note in plan_on(loom).notes].count("no_tie_up") == times


def test_check_advises_it_and_finds_no_fault(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "pair.yaml"
    path.write_text("title: Pair\nkind: two heddles\nslots: 9\nholes: 8\nback_heddle: same\n", "utf-8")
    assert run_command_line(["check", str(path)]) == 0
    out, err = capsys.readouterr()
    assert out == "1 file, no problems, 2 notes\n"
    assert err.startswith(f"{path}:2:1: note: kind: The file of Pair does not say which foot raises the front heddle")
    assert "does not say to which side the shuttle flies: write shuttle: {left_foot: left, right_foot: right}" in err
    path.write_text(f"{path.read_text('utf-8')}tie_up: {{{next(iter(TIE_UPS))}}}\n", "utf-8")
    path.write_text(f"{path.read_text('utf-8')}shuttle: {{left_foot: left, right_foot: right}}\n", "utf-8")
    assert run_command_line(["check", str(path)]) == 0
    assert capsys.readouterr() == ("1 file, no problems\n", "")


@pytest.mark.parametrize("tie_up", TIE_UPS)
def test_a_left_hand_throws_the_other_way_with_the_same_feet(tie_up: str) -> None:
    """Her loom is tied up as it is; the shuttle starts in her left hand (common practice, no source)."""
    plan = plan_on(treadles(tie_up))
    left = plan_as_seen(plan, Viewpoint(left_hand=True))
    assert plan_as_json(left)["treadles"] == plan_as_json(plan)["treadles"]
    assert {rule["weft_hangs"]: rule["next"] for rule in plan_as_json(left)["next_shed"]} == {
        "left": "left foot",
        "right": "right foot",
    }
    assert next_sheds(left).replace("\N{NO-BREAK SPACE}", " ").count("LEFT, next: LEFT FOOT") == 1
    assert LEFT_HAND_THROWS in next_shed_alt_text(left)
    assert LEFT_HAND_THROWS not in next_shed_alt_text(plan)
    layout = shipped_layout("record")
    page = compose_card(plan_as_seen(plan, Viewpoint(left_hand=True)), layout, layout.papers[0], RULER, None).page
    assert LEFT_HAND_THROWS.split()[0] in repr(page.marks)
    assert text_read_aloud(page).count(LEFT_HAND_THROWS) == 2  # below the picture, and in its words
