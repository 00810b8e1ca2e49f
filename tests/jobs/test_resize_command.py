"""``cardmaker resize``: new sizes as whole files that check clean, with what was kept and what was left behind."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from itertools import groupby, pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardmaker.cli.command_line import run_command_line
from cardmaker.editing import yaml_text
from cardmaker.jobs import file_lookup, loading
from cardmaker.model.pattern import Pattern
from cardmaker.model.units import length_mm, parse_number, parse_share, weight_g
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reading.read_file import read_loom
from cardmaker.reckoning.amounts.lengths import warp_lengths
from cardmaker.reckoning.amounts.width import tape_width
from cardmaker.reckoning.planning import make_plan
from cardmaker.reckoning.stripes.stripe_counts import end_yarns, is_same_both_ways
from cardmaker.wording.title_words import width_basis, width_fact
from tests.helpers.places import ROOT, shipped_in

STEMS = [path.stem for path in shipped_in("patterns")]
MM = Fraction(1)

Said = pytest.CaptureFixture[str]


pytestmark = pytest.mark.usefixtures("empty_folder")


def run(arguments: Sequence[str], said: Said) -> tuple[int, str, str]:
    try:
        status = run_command_line(["resize", *arguments])
    except SystemExit as left:
        status = int(left.code or 0)
    out, err = said.readouterr()
    return status, out, err


def resized(arguments: Sequence[str], said: Said) -> Pattern:
    """The pattern that comes out, written to a file and checked there as a user would."""
    assert run([*arguments, "--out", "new.yaml"], said)[0] == 0
    assert run_command_line(["check", "new.yaml"]) == 0
    said.readouterr()
    return loading.load_pattern(Path("new.yaml"))


def stripes(pattern: Pattern) -> list[tuple[int, str]]:
    return [(len(list(group)), yarn) for yarn, group in groupby(end_yarns(pattern))]


def original(stem: str) -> Pattern:
    return loading.load_pattern(ROOT / "patterns" / f"{stem}.yaml")


# Three Paths, smaller and larger


def test_to_25_ends(capsys: Said) -> None:
    """3 5 3 9 3 5 3 times 25/31 is 2.4 4.0 2.4 7.3 2.4 4.0 2.4; the middle stays odd, and the threes stay alike."""
    made = resized(["three-paths", "--ends", "25"], capsys)
    assert [ends for ends, _ in stripes(made)] == [2, 4, 2, 9, 2, 4, 2]
    assert [yarn for _, yarn in stripes(made)] == ["red", "white", "blue", "white", "blue", "white", "red"]
    assert made.stated_ends == 25
    assert made.title == "Three Paths, 25 ends"
    assert made.code == "T08-25"


def test_to_10_mm(capsys: Said) -> None:
    """10 mm at 49.3 ends to the inch are 19.4 ends; 19 are 9.79 mm and 21 would be 10.82."""
    made = resized(["three-paths", "--width", "10 mm"], capsys)
    assert len(end_yarns(made)) == 19
    assert float(tape_width(made, end_yarns(made)).likely_mm) == pytest.approx(9.789, abs=1e-3)


def test_to_cotton(capsys: Said) -> None:
    """0.515265 mm of linen against 25.4 / (0.9 * sqrt(3360)) = 0.486882 mm of cotton: 31 become 32.8, so 33."""
    made = resized(["three-paths", "--yarn", "cotton 8/2"], capsys)
    assert len(end_yarns(made)) == 33
    assert {(yarn.fibre, yarn.count, yarn.ends_per_inch) for yarn in made.yarns} == {("cotton", "8/2", None)}
    assert [yarn.colour for yarn in made.yarns] == ["#9c2f2b", "#f4f0e4", "#2f4a7d"]
    assert made.title == "Three Paths, cotton 8/2, 33 ends"
    assert made.source is not None
    assert made.source.differences[-1] == "cotton 8/2, and 33 ends instead of 31"
    assert made.second_yarns == ()


def test_another_yarn_takes_no_figure_of_the_old_one(capsys: Said) -> None:
    """Linen loses 3 % in the wash and took 12 % up; neither is true of cotton, whose card then says that it guesses."""
    old, made = original("three-paths"), resized(["three-paths", "--yarn", "cotton 8/2"], capsys)
    assert (old.length.shrinkage, old.length.take_up) == (Fraction(3, 100), Fraction(12, 100))
    assert (made.length.shrinkage, made.length.take_up) == (None, None)
    assert (made.length.finished_mm, made.length.spare_ends) == (old.length.finished_mm, old.length.spare_ends)
    lengths = make_plan(made, read_loom(file_lookup.find("loom", "middle-box"))).lengths
    assert (lengths.shrinkage, lengths.shrinkage_basis) == (Fraction(8, 100), "default")
    assert all(yarn.package is None and not yarn.shade and yarn.ends_per_inch is None for yarn in made.yarns)


def test_another_count_of_the_fibre_keeps_its_shrinkage(capsys: Said) -> None:
    made = resized(["three-paths", "--yarn", "linen 16/2"], capsys)
    assert (made.length.shrinkage, made.length.take_up) == (Fraction(3, 100), None)


@pytest.mark.parametrize("yarn", ["cotton 8/2", "wool 28/2 metric", "linen 16/2"])
@pytest.mark.parametrize("stem", ["three-paths", "two-rails", "wick"])
def test_the_head_says_the_width_that_the_card_says(stem: str, yarn: str, capsys: Said) -> None:
    """It promised *stays about 16 mm* beside a card of 13 mm. Every width in it but those of other sizes is the card's.

    The card's is taken from its plan, made from the file that was written.
    """
    _, out, _ = run([stem, "--yarn", yarn], capsys)
    Path("over.yaml").write_text(out, "utf-8")
    plan = make_plan(loading.load_pattern(Path("over.yaml")), read_loom(file_lookup.find("loom", "treadle-pair")))
    said = f"{width_fact(plan.width, 'metric')}, {width_basis(plan.width, 'metric')}"
    lines = [line for line in out.split("\n\n")[0].split("\n") if not line.startswith("#   ")]
    assert f"# The card will say {said}: weave a sample." in lines
    assert [line for line in lines if "about" in line] == [f"# The card will say {said}: weave a sample."]


def test_what_is_done_stands_at_the_head(capsys: Said) -> None:
    _, out, err = run(["three-paths", "--yarn", "cotton 8/2"], capsys)
    comment = " ".join(line.removeprefix("# ") for line in out.split("\n\n")[0].split("\n"))
    assert "made over from 31 ends to 33" in comment
    assert "the ends were 0.52 mm thick and are now 0.49 mm, so 31 become 33" in comment
    assert "Kept as it was: it is the same from both edges." in comment
    of_yarn = "the take-up, the shrinkage, the second yarns, the ends per inch, the shades and the packages"
    assert f"Taken out, because it belongs to the old yarn: {of_yarn}." in comment
    assert "Taken out, because it belongs to 31 ends: the notes and the version history." in comment
    told = err.split("\n")[:5]
    assert [line.split(",")[0] for line in told] == [
        "29 ends", "31 ends", "33 ends (this one)", "35 ends", "37 ends",
    ]  # fmt: skip
    assert all(f"#   {line}" in out for line in told)


def test_what_belongs_to_the_design_stays(capsys: Said) -> None:
    made, old = resized(["three-paths", "--ends", "25"], capsys), original("three-paths")
    assert (made.yarns, made.purposes, made.about, made.weft) == (old.yarns, old.purposes, old.about, old.weft)
    assert (made.length, made.second_yarns, made.credit, made.marked_as) == (
        old.length, old.second_yarns, old.credit, old.marked_as,
    )  # fmt: skip
    assert made.source is not None
    assert old.source is not None
    assert made.source.differences == (*old.source.differences, "25 ends instead of 31")
    assert made.source.object_number == "0000.10"
    assert (made.notes.student, made.changes, made.measured) == ((), (), ())


# every pattern


@pytest.mark.parametrize("stem", STEMS)
def test_the_same_size_is_the_same_tape(stem: str, capsys: Said) -> None:
    old = original(stem)
    ends = len(end_yarns(old))
    made = resized([stem, "--ends", str(ends)], capsys)
    assert end_yarns(made) == end_yarns(old)
    assert (made.pickup, made.length.pieces, made.length.warp_mm) == (old.pickup, old.length.pieces, old.length.warp_mm)


@pytest.mark.parametrize("stem", STEMS)
@pytest.mark.parametrize("change", [("--ends", "+6"), ("--ends", "-5"), ("--width", "12 mm"), ("--yarn", "cotton 5/2")])
def test_every_new_size_keeps_the_design(stem: str, change: tuple[str, str], capsys: Said) -> None:
    old = end_yarns(original(stem))
    asked = str(max(1, len(old) + int(change[1]))) if change[0] == "--ends" else change[1]
    made = end_yarns(resized([stem, change[0], asked], capsys))
    assert is_same_both_ways(made) or not is_same_both_ways(old)
    if len(set(old)) > 1:
        single = Counter(yarn for yarn, group in groupby(old) if len(list(group)) == 1)
        few = {yarn: count for yarn, count in single.items() if count < 4 and old.count(yarn) == count}
        assert all(made.count(yarn) == count for yarn, count in few.items())
        assert list(dict.fromkeys(made)) == list(dict.fromkeys(old))
    assert (made[0], made[-1]) == (old[0], old[-1])
    if change == ("--ends", "+6"):
        assert abs(len(made) - len(old) - 6) <= 2


def test_bars_stay_bars(capsys: Said) -> None:
    """White, blue, white ... from the first to the last end, so both edges are what they were."""
    made = resized(["open-ladder", "--ends", "20"], capsys)
    assert end_yarns(made) == ("white", "blue") * 10
    assert "{alternate: [white, blue], ends: 20}" in Path("new.yaml").read_text("utf-8")


def test_thick_ends_still_find_their_slots(capsys: Said) -> None:
    """Single posts in slots stay an even number of places apart, so the loom takes them as it did."""
    made = resized(["five-posts", "--ends", "25"], capsys)
    posts = [number for number, yarn in enumerate(end_yarns(made)) if yarn == "red cord"]
    assert len(posts) == 5
    assert {(after - before) % 2 for before, after in pairwise(posts)} == {0}
    assert made.yarn("red cord").slots_only
    assert made.pickup == original("five-posts").pickup


def test_only_the_usual_yarn_is_changed(capsys: Said) -> None:
    """The cords were chosen to be thick."""
    made = resized(["cord-edge", "--yarn", "cotton 8/2"], capsys)
    assert made.yarn("white").fibre == "cotton"
    assert made.yarn("brown cord") == original("cord-edge").yarn("brown cord")
    assert "Another yarn for white:" in Path("new.yaml").read_text("utf-8")


def test_a_count_that_would_spoil_the_design(capsys: Said) -> None:
    """The same from both edges with an odd middle: 24 cannot be."""
    _, out, _ = run(["three-paths", "--ends", "24"], capsys)
    assert "# 24 ends cannot be had without spoiling the design: 23 is the nearest that can." in out
    assert parse_pattern(out.encode(), "out", "out").stated_ends == 23


# what was measured


MEASURED = """\
title: Own Tape
yarns:
  white: {fibre: cotton, count: 8/2}
  blue: {fibre: cotton, count: 8/2, package: {weight: 4 oz, length: 336 yd, price: 6 crowns}}
warp: [4 blue, 12 white, 4 blue]
length: {finished: 1 1/3 yd, take_up: 12.5 %, shrinkage: 8 %, spare_ends: 2}
width: 11 mm
measured:
  - {date: 2026-12-05, width: 10 mm, picks_per_inch: 14.5}
notes: {student: "Twenty ends."}
"""


def test_what_was_measured_goes_over_as_a_sample(capsys: Said) -> None:
    """20 ends came off 10 mm wide: 50.8 to the inch. Its width key, records and notes belong to 20 ends."""
    Path("own.yaml").write_text(MEASURED, "utf-8")
    made = resized(["own.yaml", "--ends", "30"], capsys)
    assert {yarn.ends_per_inch for yarn in made.yarns} == {Fraction(254, 5)}
    assert (made.width_mm, made.measured, made.picks_per_inch) == (None, (), Fraction(29, 2))
    found = tape_width(made, end_yarns(made))
    assert found.basis == "sample"
    assert float(found.likely_mm) == pytest.approx(15, abs=0.02)
    left = "# Taken out, because it belongs to 20 ends: the measured width, "
    assert left in Path("new.yaml").read_text("utf-8")


def test_lengths_and_labels_come_through_exactly(capsys: Said) -> None:
    Path("own.yaml").write_text(MEASURED, "utf-8")
    old = loading.load_pattern(Path("own.yaml"))
    made = resized(["own.yaml", "--width", "9 mm"], capsys)
    assert made.length == old.length
    assert made.yarn("blue").package == old.yarn("blue").package
    loom = loading.load_looms()[0]
    assert warp_lengths(made, loom) == warp_lengths(old, loom)


def test_made_over_twice(capsys: Said) -> None:
    """The title and code say the last size, not both."""
    resized(["three-paths", "--ends", "25"], capsys)
    Path("new.yaml").rename("first.yaml")
    again = resized(["first.yaml", "--ends", "37"], capsys)
    assert (again.title, again.code) == ("Three Paths, 37 ends", "T08-37")
    assert again.source is not None
    assert again.source.differences[-2:] == ("25 ends instead of 31", "37 ends instead of 25")


def test_words_that_yaml_would_take_apart(capsys: Said) -> None:
    text = MEASURED.replace("title: Own Tape", 'title: "Salt: \\"no. 2\\" # not a note"')
    text = text.replace("  blue:", '  "N #2":').replace("4 blue", '"4 N #2"')
    Path("own.yaml").write_text(text, "utf-8")
    made = resized(["own.yaml", "--ends", "16"], capsys)
    assert made.title == 'Salt: "no. 2" # not a note, 16 ends'
    assert end_yarns(made)[0] == "N #2"


# where it goes, and wrong usage


def test_to_standard_output(capsys: Said, empty_folder: Path) -> None:
    status, out, err = run(["three-paths", "--ends", "25"], capsys)
    assert (status, list(empty_folder.iterdir())) == (0, [])
    assert out.split("\n")[1] == "# Three Paths, made over from 31 ends to 25."
    assert parse_pattern(out.encode(), "out", "out").stated_ends == 25
    assert err.split("\n")[5:] == [
        "Three Paths: 31 ends become 25.",
        "Taken out, because the new tape has its own: the notes and the version history.",
        "Your notes (#) are kept: look whether they still hold. What was taken out stands behind a #, too.",
        "Looms at hand that hold it: Broad paddle, Middle box, Treadle pair.",
        "",
    ]


def test_never_over_a_file(capsys: Said) -> None:
    Path("mine.yaml").write_text("mine", "utf-8")
    status, out, err = run(["three-paths", "--ends", "25", "--out", "mine.yaml"], capsys)
    assert (status, out) == (2, "")
    assert err == "cardmaker: mine.yaml is there already. Choose another name, or move it away.\n"
    assert Path("mine.yaml").read_text("utf-8") == "mine"


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ([], "What shall change? Say --ends, --width, --yarn or --loom, or several of them."),
        (["--ends", "25", "--width", "10 mm"], "--ends and --width cannot both say how wide it is to be. Keep one."),
        (["--ends", "0"], "--ends: a tape has 1 to 400 ends."),
        (["--ends", "401"], "--ends: a tape has 1 to 400 ends."),
        (["--ends", "many"], "--ends: 'many' is no whole number. Write it in figures"),
        (["--width", "10"], "'10' has no unit. Write the two as one word"),
        (["--width", "0 mm"], "a tape has some width"),
        (["--yarn", "cotton"], "'cotton' is not a yarn. Write fibre and count, as in cotton 8/2 or wool 28/2 metric."),
        (["--yarn", "jute 8/2"], "'jute 8/2' is not a yarn."),
        (["--yarn", "wool 28/2"], "Count 28/2 of wool yarn does not say which system it is in."),
        (["--yarn", "cotton 2/8"], "has its smaller figure first"),
        (["--ends", "25", "--out", "new.pdf"], "new.pdf is no pattern file: let its name end with .yaml."),
    ],
    ids=str,
)
def test_wrong_usage(asked: list[str], said: str, capsys: Said, empty_folder: Path) -> None:
    status, out, err = run(["three-paths", *asked], capsys)
    assert (status, out) == (2, "")
    assert said in " ".join(err.split())
    assert list(empty_folder.iterdir()) == []


def test_a_width_past_all_looms(capsys: Said) -> None:
    status, out, err = run(["three-paths", "--width", "50 cm"], capsys)
    assert (status, out) == (1, "")
    assert re.fullmatch(r"\S+:\d+:\d+: warp: 970 ends are asked for; 400 is the most\. Ask for fewer\.\n", err)


def test_a_system_of_its_own(capsys: Said) -> None:
    made = resized(["two-rails", "--yarn", "wool 10/2 woollen run"], capsys)
    assert {(yarn.count, yarn.system) for yarn in made.yarns} == {("10/2", "woollen run")}


# values as they are typed


@given(st.fractions(min_value=Fraction(1, 100), max_value=10**5, max_denominator=480))
def test_lengths_read_back(mm: Fraction) -> None:
    for length in (mm, mm * Fraction(254, 10), mm * Fraction(9144, 10)):
        if length < 10**6:
            assert length_mm(yaml_text.yaml_length(length)) == length


@given(st.fractions(min_value=Fraction(1, 100), max_value=10**5, max_denominator=128))
def test_weights_numbers_and_shares_read_back(value: Fraction) -> None:
    assert weight_g(yaml_text.yaml_weight(value)) == value
    assert parse_number(yaml_text.yaml_number(value)) == value
    assert parse_share(yaml_text.yaml_share(value / 10**6)) == value / 10**6


@given(st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs"), max_codepoint=0x2FF), min_size=1))
def test_texts_read_back(words: str) -> None:
    line = " ".join(words.split())
    if not line:
        return
    text = f"title: {yaml_text.yaml_string(line[:150])}\nyarns: {{a: {{fibre: linen, count: 20/2}}}}\nwarp: [3 a]\n"
    assert parse_pattern(text.encode(), "t", "t").title == line[:150].strip()
