"""``cardmaker resize`` keeps what its weaver typed: only lines of what changes are changed, and nothing is lost."""

from __future__ import annotations

import re
from collections.abc import Sequence
from difflib import ndiff
from fractions import Fraction
from pathlib import Path

import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.editing.resized_pattern import resized_text
from cardmaker.jobs import loading
from cardmaker.model.pattern import Pattern, Yarn
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reckoning.stripes.new_size import made_over
from cardmaker.reckoning.stripes.stripe_counts import end_yarns
from tests.helpers.places import ROOT, shipped_in

Said = pytest.CaptureFixture[str]

pytestmark = pytest.mark.usefixtures("empty_folder")

STEMS = [path.stem for path in shipped_in("patterns")]
IN_PLACE = "Your notes (#) are kept: look whether they still hold. What was taken out stands behind a #, too."
ANEW = "The old file is written in a way that could not be changed in place"
OWN = """\
# My gate band, from the fair.
title: Gate Band   # as we call it
code: "G1"
version: 3
yarns:
  blue:   # the last of the old cone
    fibre: linen
    count: 20/2
    colour: '#2F4A7D'   # faded by now
    package: {weight: 50 g, price: "4 #1"}
  white: {fibre: linen, count: 20/2, shade: 'Bleached, no. 1', package: {weight: 50 g}}   # two cones
warp:
  # the edge
  - 2 blue    # doubled selvedge
  - "9 white"
  # and back
  - 2 blue
ends: 13      # counted twice
length: {finished: 1 1/2 yd, take_up: 12 %, shrinkage: 3 %}   # for the gate
# the end
"""


def resize(text: str, arguments: Sequence[str], said: Said) -> tuple[str, list[str]]:
    """The new text, and what was told."""
    Path("own.yaml").write_bytes(text.encode())
    Path("new.yaml").unlink(missing_ok=True)
    assert run_command_line(["resize", "own.yaml", *arguments, "--out", "new.yaml"]) == 0
    told = said.readouterr().err.splitlines()
    assert run_command_line(["check", "new.yaml"]) == 0
    said.readouterr()
    return Path("new.yaml").read_bytes().decode(), told


def without_head(text: str) -> list[str]:
    """The lines below what was done."""
    return text.split("\n\n", 1)[1].splitlines()


def changed(old: str, new: str) -> list[str]:
    """What went, then what came."""
    return sorted((line for line in ndiff(old.splitlines(), without_head(new)) if line[0] in "+-"), key=is_added)


def is_added(line: str) -> bool:
    return line[0] == "+"


def test_only_the_lines_that_change_are_changed(capsys: Said) -> None:
    """2 9 2 times 17/13 is 2.6 11.8 2.6."""
    new, told = resize(OWN, ["--ends", "17"], capsys)
    assert IN_PLACE in told
    assert changed(OWN, new) == [
        "- title: Gate Band   # as we call it",
        '- code: "G1"',
        "- version: 3",
        "-   - 2 blue    # doubled selvedge",
        '-   - "9 white"',
        "-   - 2 blue",
        "- ends: 13      # counted twice",
        '+ title: "Gate Band, 17 ends"   # as we call it',
        "+ code: G1-17",
        "+ version: 1",
        "+   - 3 blue    # doubled selvedge",
        '+   - "11 white"',
        "+   - 3 blue",
        "+ ends: 17      # counted twice",
    ]


def test_another_yarn_changes_its_lines_and_keeps_the_old_ones_behind_a_number_sign(capsys: Said) -> None:
    new, told = resize(OWN, ["--yarn", "wool 28/2 metric", "--ends", "13"], capsys)
    lines = without_head(new)
    assert IN_PLACE in told
    assert "Now of wool 28/2 metric: blue and white." in told
    for line in (
        "  blue:   # the last of the old cone",
        "    fibre: wool",
        "    system: metric",
        "    count: 28/2",
        "    colour: '#2F4A7D'   # faded by now",
        '    # package: {weight: 50 g, price: "4 #1"}',
        "  # white: {fibre: linen, count: 20/2, shade: 'Bleached, no. 1', package: {weight: 50 g}}   # two cones",
        "  white: {fibre: wool, count: 28/2, system: metric}   # two cones",
        "  - 2 blue    # doubled selvedge",
        "# length: {finished: 1 1/2 yd, take_up: 12 %, shrinkage: 3 %}   # for the gate",
        "length: {finished: 1 1/2 yd}   # for the gate",
        "# the end",
    ):
        assert line in lines
    assert "Gate Band: 13 ends, as before." in told


def test_what_belongs_to_the_old_tape_stands_behind_a_number_sign(capsys: Said) -> None:
    more = (
        "width: 7 mm\nmeasured:\n  - {date: 2026-01-02, width: 6 mm}   # at home\n\n  # and a note\n"
        "notes:\n  student:\n  - End 7\n"
    )
    new, _ = resize(OWN + more, ["--ends", "17"], capsys)
    assert without_head(new)[-12:] == [
        "# the end",
        "# Of 13 ends, and so behind a #:",
        "# width: 7 mm",
        "# Of 13 ends, and so behind a #:",
        "# measured:",
        "#   - {date: 2026-01-02, width: 6 mm}   # at home",
        "",
        "#   # and a note",
        "# Of 13 ends, and so behind a #:",
        "# notes:",
        "#   student:",
        "#   - End 7",
    ]
    assert loading.load_pattern(Path("new.yaml")).measured == ()


@pytest.mark.parametrize(
    ("warp", "lines"),
    [
        (
            "warp: [2 blue, 9 white]   # half\nmirror: last stripe\nends: 13\n",
            ["warp: [3 blue, 11 white]   # half", "mirror: last stripe"],
        ),
        ("warp: [2 blue, 4 white]\nmirror: whole\nends: 12\n", ["warp: [3 blue, 6 white]", "mirror: whole"]),
        (
            "warp:\n  - 2 blue\n  - {alternate: [white, blue], ends: 9}   # bars\n  - 2 blue\nends: 13\n",
            ["  - 3 blue", "  - {alternate: [white, blue], ends: 11}   # bars", "  - 3 blue"],
        ),
        (
            "warp:\n  # thrice\n  - {repeat: 3, stripes: [2 blue, 2 white]}\n  - 2 blue\nends: 14\n",
            ["# thrice", "warp:", "  - 3 blue", "  - 2 white", "  - 2 blue", "  - 2 white", "  - 2 blue"],
        ),
        ("warp:\n- 2 blue   # left\n- 9 white\n- 2 blue\nends: 13\n", ["- 3 blue   # left", "- 11 white", "- 3 blue"]),
    ],
)  # fmt: skip
def test_stripes_in_every_style(warp: str, lines: list[str], capsys: Said) -> None:
    text = "title: Lane\nyarns:\n  blue: {fibre: cotton, count: 8/2}\n  white: {fibre: cotton, count: 8/2}\n" + warp
    new, told = resize(text, ["--ends", "17" if "whole" not in warp else "18"], capsys)
    assert IN_PLACE in told
    found = without_head(new)
    at = found.index(lines[0])
    assert found[at : at + len(lines)] == lines


def test_line_ends_of_another_system_stay(capsys: Said) -> None:
    new, told = resize(OWN.replace("\n", "\r\n"), ["--ends", "17"], capsys)
    assert IN_PLACE in told
    assert new.count("\n") == new.count("\r\n") > 20


@pytest.mark.parametrize(
    "text",
    [
        "title: Lane\n  and more\nyarns: {a: {fibre: cotton, count: 8/2}}\nwarp: [9 a]\n",
        "title: >\n  Lane\nyarns: {a: {fibre: cotton, count: 8/2}}\nwarp: [9 a]\n",
    ],
)
def test_a_file_of_another_style_is_written_anew_and_that_is_told(text: str, capsys: Said) -> None:
    new, told = resize(text, ["--ends", "12"], capsys)
    assert any(line.startswith(ANEW) for line in told)
    assert parse_pattern(new.encode(), "new", "new").stated_ends == 12


def test_made_over_twice_it_has_one_head(capsys: Said) -> None:
    first, _ = resize(OWN, ["--ends", "17"], capsys)
    second, _ = resize(first, ["--ends", "21"], capsys)
    assert re.findall(r"made over from (.*)\.", second) == ["17 ends to 21"]
    assert "# My gate band, from the fair." in second
    assert second.count("\n\n") == first.count("\n\n")


# All that ships, against the file as it would be written anew


@pytest.mark.parametrize("stem", STEMS)
@pytest.mark.parametrize(
    ("ends", "width", "yarn"),
    [
        (6, None, None),
        (-5, None, None),
        (None, Fraction(12), None),
        (4, None, Yarn("", "wool", "28/2", "metric")),
        (None, Fraction(15), Yarn("", "silk", "20/2", "metric")),
    ],
)
def test_in_place_says_what_a_new_file_would_and_keeps_every_note(
    stem: str, ends: int | None, width: Fraction | None, yarn: Yarn | None, capsys: Said
) -> None:
    text = (ROOT / "patterns" / f"{stem}.yaml").read_text("utf-8")
    old = parse_pattern(text.encode(), stem, stem)
    count = None if ends is None else max(1, len(end_yarns(old)) + ends)
    asked = [
        *(["--ends", str(count)] if count else []),
        *(["--width", f"{width} mm"] if width else []),
        *(["--yarn", " ".join(filter(None, (yarn.fibre, yarn.count, yarn.system)))] if yarn else []),
    ]
    new, told = resize(text, asked, capsys)
    assert IN_PLACE in told
    anew = resized_text(made_over(old, ends=count, width_mm=width, yarn=yarn))
    assert facts(parse_pattern(new.encode(), "new", "own")) == facts(parse_pattern(anew.encode(), "anew", "own"))
    notes = [line.strip() for line in text.splitlines() if line.strip().startswith("#")]
    assert [note for note in notes if note not in new] == []


def facts(pattern: Pattern) -> tuple[object, ...]:
    return (
        pattern.title, pattern.code, end_yarns(pattern), pattern.stated_ends, pattern.yarns, pattern.length,
        pattern.weft, pattern.picks_per_inch, pattern.width_mm, pattern.measured, pattern.second_yarns, pattern.pickup,
        pattern.source, pattern.notes, pattern.changes, pattern.date, pattern.purposes, pattern.about, pattern.credit,
        pattern.marked_as,
    )  # fmt: skip


# Several changes at once


def counted(name: str) -> int:
    return len(end_yarns(loading.load_pattern(Path(name))))


@pytest.mark.parametrize(
    ("asked", "ends", "fibre"),
    [
        (["--loom", "small-box"], 23, "linen"),  # 31 before; 12 slots and 11 holes
        (["--ends", "45", "--loom", "middle-box"], 33, "linen"),
        (["--ends", "25", "--loom", "middle-box"], 25, "linen"),
        (["--ends", "25", "--yarn", "cotton 8/2"], 25, "cotton"),
        (["--yarn", "cotton 8/2", "--loom", "middle-box"], 33, "cotton"),
        (["--yarn", "cotton 8/2", "--loom", "small-box"], 23, "cotton"),
        (["--width", "10 mm", "--yarn", "cotton 8/2"], 25, "cotton"),  # 62.6 to the inch: 23 are 9.3 mm, 25 are 10.1
        (["--width", "30 mm", "--yarn", "cotton 8/2", "--loom", "broad-paddle"], 47, "cotton"),
    ],
)
def test_it_lands_on_what_the_loom_holds(asked: list[str], ends: int, fibre: str, capsys: Said) -> None:
    assert run_command_line(["resize", "three-paths", *asked, "--out", "new.yaml"]) == 0
    told = capsys.readouterr().err
    assert counted("new.yaml") == ends
    assert loading.load_pattern(Path("new.yaml")).yarns[0].fibre == fibre
    if "--loom" in asked:
        assert run_command_line(["plan", "new.yaml", "--loom", asked[asked.index("--loom") + 1]]) == 0
    assert f"31 ends become {ends}." in told


def test_that_a_loom_is_too_small_is_told(capsys: Said) -> None:
    """70 ends of 0.49 mm are wanted; the widest loom at hand has 60 places."""
    run_command_line(["resize", "three-paths", "--ends", "71", "--loom", "small-box"])
    out, err = capsys.readouterr()
    assert "71 ends do not go on Small box: 23 is the nearest that does." in err
    assert "# 71 ends do not go on Small box: 23 is the nearest that does." in out
    run_command_line(["resize", "three-paths", "--ends", "71"])
    assert "No loom at hand holds it: with --loom NAME it becomes the nearest size that goes on one." in (
        capsys.readouterr().err
    )


def test_ends_that_must_lie_in_slots_still_do_on_the_loom(capsys: Said) -> None:
    assert run_command_line(["resize", "five-posts", "--ends", "60", "--loom", "middle-box", "--out", "new.yaml"]) == 0
    assert run_command_line(["plan", "new.yaml", "--loom", "middle-box"]) == 0
    assert counted("new.yaml") == 31  # 33 fill it, and then every odd end is in a hole


def test_a_loom_that_no_size_of_the_design_goes_on(capsys: Said) -> None:
    Path("tiny.yaml").write_text("title: Tiny\nkind: one heddle\nslots: 2\nholes: 1\nmark: counted as zero\n")
    assert run_command_line(["resize", "three-paths", "--loom", "./tiny.yaml"]) == 1
    assert capsys.readouterr().err.endswith(
        "warp: No size of this design goes on Tiny, which has room for 3: it has 15 ends at the fewest, lest it is "
        "spoilt. Choose another loom, or take stripes out.\n"
    )
