"""The beam's sentences and its table: each figure with its condition, and no tape hidden between two rows."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as some

from cardmaker.model.bench import WarpOnBeam
from cardmaker.model.loom import Beam, Heddles, Loom, Packing, Space
from cardmaker.reckoning.on_loom.beam import warp_on_beam
from cardmaker.wording import beam_words
from cardmaker.wording.formatters import Units
from tests.helpers.shipped import PATTERNS, plan_of
from tests.helpers.warps import lengths_of

LOOM = Loom(
    "Small box", "small-box", Heddles.ONE, slots=12, holes=11, outer=Space.SLOT,
    beam=Beam(Fraction(30), "stick", 4),
    packing=Packing(Fraction(2), Fraction(15), 3),
    weaving_zone_mm=(Fraction(50), Fraction(130)),
)  # fmt: skip


def wound(loom: Loom = LOOM, warp_mm: int = 2500) -> WarpOnBeam:
    return warp_on_beam(loom, 0.5, lengths_of(warp_mm, 500, Fraction(12, 100), Fraction(3, 100)))


@given(some.integers(600, 20_000), some.integers(0, 900), some.integers(8, 80), some.integers(1, 30))
def test_the_last_turn_with_tape_stands_beside_the_first_without(warp: int, waste: int, bare: int, tenths: int) -> None:
    """Between two rows of which the lower says none, no turn may lie that still gives some."""
    loom = replace(LOOM, beam=Beam(Fraction(bare), "stick", 4), packing=None)
    beam = warp_on_beam(loom, tenths / 10, lengths_of(warp, min(waste, warp - 1), Fraction(12, 100), Fraction(3, 100)))
    rows = beam_words.turns_left(beam)
    assert len(rows) <= beam_words.MOST_ROWS
    assert [row.turns for row in rows] == sorted((row.turns for row in rows), reverse=True)
    given_tape = [
        row.turns for row in beam.tape_left if row.tape_mm >= beam_words.LEAST_TAPE_MM and row.turns == int(row.turns)
    ]
    shown = [row.turns for row in rows if row.tape_mm >= beam_words.LEAST_TAPE_MM]
    assert shown[-1:] == given_tape[-1:]
    assert len(rows) >= min(len(given_tape), beam_words.ENOUGH_ROWS - 1)
    assert [turns for turns in given_tape if turns % 5 == 0][-3:] == [turns for turns in shown if turns % 5 == 0][-3:]
    none = [row.turns for row in rows if row.tape_mm < beam_words.LEAST_TAPE_MM]
    if none and shown:
        assert none == [shown[-1] - 1]
    elif shown:
        assert shown[-1] == 1


@pytest.mark.parametrize("stem", sorted(PATTERNS))
def test_no_shipped_card_hides_the_last_tape(stem: str) -> None:
    beam = plan_of(stem).beam
    if beam is None:
        return
    *_, last, none = beam_words.turns_left(beam)
    assert none.tape_mm < beam_words.LEAST_TAPE_MM <= last.tape_mm
    assert last.turns == none.turns + 1


def test_a_move_is_told_in_stops() -> None:
    """16 turns of 7/6 mm on 30 mm, four stops: 53 mm of warp at first, 47 of tape: 80 mm of zone take one. Where the
    waste begins, some 4 turns from the beam, a stop is π·39/4 = 31 mm, 27 of tape: two."""
    sentence = beam_words.let_off(wound(), LOOM, "metric")
    assert "A move takes 1 or 2 of these: about " in sentence
    assert sentence.endswith(" in all.")


def test_a_move_of_as_many_stops_all_along_says_so_once() -> None:
    short = replace(LOOM, weaving_zone_mm=(Fraction(50), Fraction(80)))
    assert "A move takes 1 of these: about " in beam_words.let_off(wound(short, 1200), short, "metric")


def test_without_a_zone_nothing_is_said_of_moves() -> None:
    zoneless = replace(LOOM, weaving_zone_mm=None)
    assert beam_words.let_off(wound(zoneless), zoneless, "metric").endswith("at the end.")


def test_a_tape_shorter_than_the_zone_takes_no_move() -> None:
    sentence = beam_words.let_off(wound(LOOM, 550), LOOM, "metric")
    assert sentence.endswith("at the end. The whole tape is woven without a move.")


def test_a_stop_longer_than_the_zone_is_a_sentence() -> None:
    coarse = replace(LOOM, beam=Beam(Fraction(30), "stick", 1))
    beyond = "One may give more tape than the weaving zone is long: the fell then lies beyond it."
    assert beam_words.let_off(wound(coarse), coarse, "metric").endswith(beyond)
    assert beyond not in beam_words.let_off(wound(), LOOM, "metric")


def test_an_edge_off_the_sticks_is_short_or_slack_as_it_slipped() -> None:
    """Sticks of 2 mm: 4π mm, 13 mm, at every turn."""
    sentence = beam_words.slipped_edge(wound(), "metric")
    assert "while you wind on comes off tight, up to 13 mm (½ in) too short at every turn;" in sentence
    assert sentence.endswith("one that slips later is slack by as much.")
    assert "slack" not in beam_words.slipped_edge(wound(), "metric", brief=True)
    assert beam_words.slipped_edge(wound(replace(LOOM, packing=None)), "metric") == ""


def test_the_sticks_are_told_by_size() -> None:
    assert beam_words.sticks(wound(), LOOM, "metric").startswith(
        "12 sticks in all, 2 mm (¹⁄₁₆ in) by 15 mm (⁹⁄₁₆ in): "
    )
    assert beam_words.sticks(wound(), LOOM, "metric", brief=True).startswith("12 sticks in all: 2 at the knot")


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("stem", sorted(PATTERNS))
def test_a_small_card_tells_the_fewest_turns_that_still_give_tape(stem: str, units: Units) -> None:
    plan = plan_of(stem)
    if plan.beam is None:
        return
    last, none = beam_words.turns_left(plan.beam)[-2:]
    assert beam_words.tape_to_come(none, plan.lengths, units) == "none"
    brief = beam_words.turns_left_in_brief(plan.beam, plan.lengths, units)
    whole = beam_words.tape_to_come(last, plan.lengths, units)
    comes = whole if plan.lengths.pieces_come else f"at least {whole.split(' (')[0]}"
    assert comes not in ("none", "at least none")
    assert brief == f"{int(last.turns)} turns left on the beam: {comes}."
