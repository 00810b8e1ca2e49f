"""``cardmaker measured``: what came off the loom goes into three files, and every later tape reckons with it."""

from __future__ import annotations

import io
import sys
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

import pytest
import yaml

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import checking
from cardmaker.jobs.loading import load_loom, load_pattern
from cardmaker.jobs.measuring import ChangedFile, write_changed
from cardmaker.model.plan import Plan
from cardmaker.reckoning.planning import make_plan
from cardmaker.wording.length_words import from_tape
from cardmaker.wording.report import plan_text
from tests.helpers.places import ROOT

Said = pytest.CaptureFixture[str]

GATE = """\
# counted at the table, twice
title: Gate Band
yarns:
  blue: {yarn: loft-linen}     # the dark one
  white: {yarn: loft-linen, shade: Snow, colour: "#ffffff"}
warp: [3 blue, 9 white, 3 blue]
length: {finished: 2 m}
"""
YARN = 'title: Loft linen\nfibre: linen\ncount: 20/2\nshade: Night\ncolour: "#2f4a7d"   # by lamplight\n'
LOOM = (ROOT / "layouts/looms/small-box.yaml").read_text("utf-8")
OPTIONS = (
    *("--date", "2026", "--warp", "3.3 m", "--tape", "2.3 m", "--leftover", "18 in", "--width", "9 mm"),
    *("--picks", "14"),
)
# loom, date, warp, leftover, tape, width, picks, dip, weight, note, for the yarn, for the loom, write
ANSWERS = ("", "2026", "3.3 m", "18 in", "2.3 m", "9 mm", "14", "4 mm", "50 g", "", "", "", "")
RECORD = {
    **{"date": "2026", "loom": "Kitchen box", "warp": "3.3 m", "tape": "2.3 m", "width": "9 mm"},
    **{"picks_per_inch": "14", "leftover": "18 in"},
}
TAUGHT = {
    **{"pattern": "Gate Band", "date": "2026", "loom": "Kitchen box", "ends_per_inch": "42.3", "take_up": "14.8 %"},
    "picks_per_inch": "14",
}


@pytest.fixture(autouse=True)
def hers(empty_folder: Path) -> Path:
    """A folder with a yarn, two looms and two patterns of her own."""
    for folder in ("patterns", "layouts/yarns", "layouts/looms"):
        (empty_folder / folder).mkdir(parents=True)
    put("layouts/yarns/loft-linen.yaml", YARN)
    put("layouts/looms/kitchen-box.yaml", LOOM.replace("title: Small box", "title: Kitchen box"))
    put("layouts/looms/other-box.yaml", LOOM.replace("title: Small box", "title: Other box"))
    put("cardmaker.yaml", "loom: kitchen-box\n")
    put("patterns/gate-band.yaml", GATE)
    put("patterns/low-gate.yaml", GATE.replace("Gate Band", "Low Gate").replace("9 white", "11 white"))
    return empty_folder


def put(place: str, text: str) -> None:
    Path(place).write_text(text, "utf-8")


def read(place: str) -> dict[str, object]:
    """The file as another reader reads it."""
    tree: dict[str, object] = yaml.load(Path(place).read_text("utf-8"), yaml.BaseLoader)
    return tree


def records(place: str) -> list[dict[str, str]]:
    """What the file says under ``measured``."""
    found = read(place)["measured"]
    assert isinstance(found, list)
    return found


def plan_of(stem: str, loom: str = "kitchen-box") -> Plan:
    return make_plan(load_pattern(Path(f"patterns/{stem}.yaml")), load_loom(Path(f"layouts/looms/{loom}.yaml")))


def run(capsys: Said, *arguments: str) -> tuple[int, str, str]:
    try:
        status = run_command_line(list(arguments))
    except SystemExit as end:
        status = end.code if isinstance(end.code, int) else 0
    return (status, *capsys.readouterr())


def answered(answers: Sequence[str], monkeypatch: pytest.MonkeyPatch, *arguments: str) -> int:
    monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{answer}\n" for answer in answers)))
    return run_command_line(["measured", *(arguments or ("gate-band",))])


def everything() -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in Path().rglob("*.yaml")}


# Three files


def test_what_is_answered_goes_into_three_files_whose_notes_stay(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    assert answered(ANSWERS, monkeypatch) == 0
    told = capsys.readouterr().out.replace("\xa0", " ")
    assert "42.3 ends to the inch, 14.8 % taken up, 14 picks to the inch. Shall every pattern in Loft linen" in told
    assert told.endswith(
        "patterns/gate-band.yaml\nlayouts/yarns/loft-linen.yaml\nlayouts/looms/kitchen-box.yaml\n"
        "Measured on Gate Band, 2026, and written into 3 files.\n"
        "Next: the card reckons with it: cardmaker card gate-band\n"
    )
    assert Path("patterns/gate-band.yaml").read_text().startswith(GATE)
    assert Path("layouts/yarns/loft-linen.yaml").read_text().startswith(YARN)
    assert Path("layouts/looms/kitchen-box.yaml").read_text().startswith(LOOM.replace("Small box", "Kitchen box", 1))
    assert read("patterns/gate-band.yaml")["measured"] == [RECORD]
    assert read("layouts/yarns/loft-linen.yaml")["measured"] == [TAUGHT]
    tape = {"pattern": "Gate Band", "date": "2026"}
    assert read("layouts/looms/kitchen-box.yaml")["measured"] == {
        "waste": {"length": "18 in", **tape},
        "press": {
            **{"weight": "50 g", "span": "40 cm", "dip": "4 mm", "ends": "15", "tex": "165.4", "fibre": "linen"},
            **tape,
        },
    }
    assert [problem for file in everything() for problem in checking.problems_of_file(Path(file))] == []


def test_options_write_the_same_as_answers(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    before = everything()
    answered(ANSWERS, monkeypatch)
    asked = everything()
    for place, data in before.items():
        Path(place).write_bytes(data)
    capsys.readouterr()
    press = ("--press-weight", "50 g", "--press-dip", "4 mm")
    status, out, err = run(capsys, "measured", "gate-band", *OPTIONS, *press, "--also", "yarn", "loom")
    assert (status, err) == (0, "")
    assert everything() == asked
    assert out.startswith("patterns/gate-band.yaml, changed:\n  measured:\n    - {date: 2026, loom: Kitchen box, ")


def test_for_this_pattern_alone_nothing_else_is_written(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    before = everything()
    answered((*ANSWERS[:10], "no", "no", ""), monkeypatch)
    changed = {place for place, data in everything().items() if before[place] != data}
    assert changed == {"patterns/gate-band.yaml"}
    for place, data in before.items():
        Path(place).write_bytes(data)
    assert run(capsys, "measured", "gate-band", *OPTIONS)[0] == 0
    assert {place for place, data in everything().items() if before[place] != data} == {"patterns/gate-band.yaml"}


# Later tapes


def test_another_pattern_in_that_yarn_on_that_loom_reckons_with_it_and_says_from_which_tape(capsys: Said) -> None:
    """17 ends at 42.3 to the inch are 10.21 mm; 2 m at 5 % and 14.8 % lost, and 18 in of waste, are 2.928 m."""
    before = plan_of("low-gate")
    assert run(capsys, "measured", "gate-band", *OPTIONS, "--also", "yarn", "loom")[0] == 0
    plan = plan_of("low-gate")
    told = "measured on Gate Band, 2026"
    assert [from_tape(plan, figure) for figure in ("width", "take-up", "picks per inch", "waste")] == [told] * 4
    assert (
        round(float(plan.width.likely_mm), 2) == round(17 / 42.3 * 25.4, 2) != round(float(before.width.likely_mm), 2)
    )
    assert round(float(plan.lengths.warp_mm), 2) == round(2000 / 0.95 / 0.852 + 457.2, 2)
    assert plan.lengths.warp_mm != before.lengths.warp_mm
    assert plan.weft.picks_per_inch == 14
    assert f"18 in) of waste (both {told}), the warp is" in " ".join(plan_text(plan, "metric").split())
    own = plan_of("gate-band")
    assert {from_tape(own, figure) for figure in ("width", "take-up", "picks per inch", "waste")} == {
        "from your tape of 2026"
    }


def test_on_another_loom_only_what_belongs_to_the_yarn_holds(capsys: Said) -> None:
    assert run(capsys, "measured", "gate-band", *OPTIONS, "--also", "yarn", "loom")[0] == 0
    plan = plan_of("low-gate", "other-box")
    told = "measured on Gate Band, 2026"
    assert [from_tape(plan, figure) for figure in ("width", "take-up", "picks per inch", "waste")] == [told] * 3 + [""]
    assert float(plan.lengths.waste_mm) == 508  # as that loom's file has it


def test_in_another_yarn_only_what_belongs_to_the_loom_holds(capsys: Said) -> None:
    assert run(capsys, "measured", "gate-band", *OPTIONS, "--also", "yarn", "loom")[0] == 0
    put("patterns/low-gate.yaml", GATE.replace("{yarn: loft-linen", "{fibre: cotton, count: 8/2"))
    plan = plan_of("low-gate")
    assert [from_tape(plan, figure) for figure in ("width", "take-up", "picks per inch", "waste")] == [
        *("", "", "", "measured on Gate Band, 2026")
    ]


def test_no_card_reads_the_other_pattern(capsys: Said) -> None:
    assert run(capsys, "measured", "gate-band", *OPTIONS, "--also", "yarn", "loom")[0] == 0
    with_it = plan_text(plan_of("low-gate"), "us")
    Path("patterns/gate-band.yaml").unlink()
    assert plan_text(plan_of("low-gate"), "us") == with_it


def test_the_press_of_a_warp_that_wove_well_is_the_standard_and_says_from_which(capsys: Said) -> None:
    press = ("--press-weight", "50 g", "--press-dip", "4 mm")
    assert run(capsys, "measured", "gate-band", "--date", "2026", *press, "--also", "loom")[0] == 0
    assert "Measured on Gate Band, 2026: 50 g dipped 15 ends that wove well by 4 mm." in plan_text(
        plan_of("low-gate"), "metric"
    )


def test_a_shrinkage_that_the_pattern_says_goes_with_its_take_up(capsys: Said) -> None:
    put("patterns/gate-band.yaml", GATE.replace("finished: 2 m", "finished: 2 m, shrinkage: 3 %"))
    assert run(capsys, "measured", "gate-band", *OPTIONS, "--also", "yarn", "loom")[0] == 0
    (taught,) = records("layouts/yarns/loft-linen.yaml")
    assert (taught["take_up"], taught["shrinkage"]) == ("16.6 %", "3 %")
    plan = plan_of("low-gate")
    came = (plan.lengths.wind_mm - plan.lengths.waste_mm) * (1 - Fraction("0.166")) * (1 - Fraction("0.03"))
    assert plan.lengths.tape_from_warp_mm == came
    assert from_tape(plan, "shrinkage") == "measured on Gate Band, 2026"


def test_a_tape_of_two_kinds_of_yarn_tells_nothing_of_either(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    put("layouts/yarns/rope.yaml", YARN.replace("20/2", "10/2"))
    put("patterns/gate-band.yaml", GATE.replace("{yarn: loft-linen, shade: Snow", "{yarn: rope, shade: Snow"))
    before = everything()
    assert answered((*ANSWERS[:10], "", ""), monkeypatch) == 0  # one offer less
    assert "The tape is of yarns that differ" in capsys.readouterr().out
    changed = {place for place, data in everything().items() if before[place] != data}
    assert changed == {"patterns/gate-band.yaml", "layouts/looms/kitchen-box.yaml"}


def test_a_weft_of_another_yarn_leaves_only_the_width_for_all(capsys: Said) -> None:
    put(
        "patterns/gate-band.yaml",
        f"{GATE.replace('warp:', '  thin: {fibre: linen, count: 40/2}' + chr(10) + 'warp:')}weft: thin\n",
    )
    assert run(capsys, "measured", "gate-band", *OPTIONS, "--also", "yarn")[0] == 0
    (taught,) = records("layouts/yarns/loft-linen.yaml")
    assert set(taught) == {"pattern", "date", "loom", "ends_per_inch"}


# The text of the files


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("measured:\n  - {date: 2025, width: 10 mm}  # the first\n# after\nweft: blue\n",
         "measured:\n  - {date: 2025, width: 10 mm}  # the first\n  - {NEW}\n# after\nweft: blue\n"),
        ("measured:\n- date: 2025\n  width: 10 mm\n", "measured:\n- date: 2025\n  width: 10 mm\n- {NEW}\n"),
        ("measured: [{date: 2025, width: 1 cm}]\nends: 15",
         "measured: [{date: 2025, width: 1 cm}, {NEW}]\nends: 15\n"),
        ("measured: []\n", "measured: [{NEW}]\n"),
        ("weft: blue", "weft: blue\n\nmeasured:\n  - {NEW}\n"),
        ("weft: blue\n\n\n", "weft: blue\n\n\nmeasured:\n  - {NEW}\n"),
    ],
)  # fmt: skip
def test_a_record_more_stands_behind_the_others_and_nothing_else_changes(old: str, new: str, capsys: Said) -> None:
    put("patterns/gate-band.yaml", GATE + old)
    assert run(capsys, "measured", "gate-band", "--date", "2026", "--width", "9 mm")[0] == 0
    record = "date: 2026, loom: Kitchen box, width: 9 mm"
    assert Path("patterns/gate-band.yaml").read_text() == GATE + new.replace("NEW", record)


@pytest.mark.parametrize(
    "measured",
    [
        "measured: {press: {weight: 50 g, span: 40 cm, dip: 4 mm, ends: 13, tex: 165.4, fibre: linen}}\n",
        "measured:\n  press: {weight: 50 g, span: 40 cm, dip: 4 mm, ends: 13, tex: 165.4, fibre: linen}\n# below\n",
        "measured:\n  press:\n    weight: 50 g\n    span: 40 cm\n    dip: 4 mm\n    ends: 13\n    tex: 165.4\n"
        "    fibre: linen\n# below\n",
        "measured: {waste: {length: 30 in, pattern: Old, date: 2020}}  # beside\n",
        "measured:\n  waste:\n    length: 30 in   # beside\n    pattern: Old\n",
    ],
)
def test_the_latest_of_a_loom_takes_the_place_of_the_one_before(measured: str, capsys: Said) -> None:
    put("layouts/looms/kitchen-box.yaml", LOOM + measured)
    status, _, err = run(
        capsys, "measured", "gate-band", "--date", "2026", "--leftover", "17 in", "--press-weight", "40 g",
        "--press-dip", "4 mm", "--also", "loom",
    )  # fmt: skip
    assert (status, err) == (0, "")
    found = read("layouts/looms/kitchen-box.yaml")["measured"]
    assert isinstance(found, dict)
    assert found["waste"] == {"length": "17 in", "pattern": "Gate Band", "date": "2026"}
    assert (found["press"]["weight"], found["press"]["pattern"], found["press"]["ends"]) == ("40 g", "Gate Band", "15")
    text = Path("layouts/looms/kitchen-box.yaml").read_text()
    assert text.startswith(LOOM)
    assert all(remark in text for remark in ("# beside", "# below") if remark in measured)


def test_line_ends_and_the_mark_of_the_file_stay(capsys: Said) -> None:
    data = b"\xef\xbb\xbf" + GATE.replace("\n", "\r\n").encode()
    Path("patterns/gate-band.yaml").write_bytes(data)
    assert run(capsys, "measured", "gate-band", "--date", "2026", "--width", "9 mm")[0] == 0
    written = Path("patterns/gate-band.yaml").read_bytes()
    assert written == data + b"\r\nmeasured:\r\n  - {date: 2026, loom: Kitchen box, width: 9 mm}\r\n"


def test_a_file_that_cannot_be_changed_in_place_says_what_to_write(capsys: Said) -> None:
    put("patterns/gate-band.yaml", "{title: Gate Band, yarns: {blue: {yarn: loft-linen}}, warp: [9 blue]}\n")
    before = everything()
    assert run(capsys, "measured", "gate-band", "--date", "2026", "--width", "6 mm") == (
        *(2, ""),
        "cardmaker: patterns/gate-band.yaml is written in a way that cannot be changed here. Write into it yourself: "
        "{date: 2026, loom: Kitchen box, width: 6 mm}\n",
    )
    assert everything() == before


def test_what_ships_is_left_as_it_is_and_copied_into_her_folder(capsys: Said) -> None:
    status, out, _ = run(capsys, "measured", "wick", "--date", "2026", "--width", "7 mm")
    assert status == 0
    assert "patterns/wick.yaml is your own copy of what is shipped" in out
    assert Path("patterns/wick.yaml").read_bytes().startswith((ROOT / "patterns/wick.yaml").read_bytes())


# Refused


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("--width", "9 mm"), 'When was it measured? Say --date, such as --date 2026; "from which tape" needs it.'),
        (("--date", "2026"), "Nothing was measured, so there is nothing to write."),
        (("--date", "2026", "--width", "9"), "--width: '9' needs a unit, as in 36 in"),
        (("--date", "2026", "--width", "9 m"), "--width: '9 m' is too much: 50 cm is the most, because"),
        (("--date", "2026", "--picks", "14 picks"), "--picks: '14 picks' is no count of picks. Write a number from 1"),
        (("--date", "2026", "--width", "1 mm"), "15 ends across 1 mm are 381 to the inch"),
        (
            ("--date", "2026", "--warp", "2 m", "--tape", "3 m", "--leftover", "10 in"),
            "118.1 in of tape, 124.3 in before washing, cannot come from a warp of 78.7 in less 10.0 in of waste and "
            "fringes. Check the lengths.",
        ),
        (
            ("--date", "2026", "--warp", "9 m", "--tape", "1 m", "--leftover", "10 in"),
            "88 % of the warp taken up is too much: 50 % is the most, because",
        ),
        (("--date", "2026", "--press-dip", "4 mm"), "--press-dip: what did the weight weigh? Say --press-weight"),
        (
            ("--date", "2026", "--press-dip", "90 mm", "--press-weight", "50 g"),
            "--press-dip: the dip is more than a tenth of the span",
        ),
        (("--date", "2026", "--width", "9 mm", "--loom", "kitchn-box"), "There is no loom named 'kitchn-box'."),
        (("--date", "A year that nobody can tell", "--width", "9 mm"), "--date: That is too long: write 24 letters"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(options: Sequence[str], told: str, capsys: Said) -> None:
    before = everything()
    status, out, err = run(capsys, "measured", "gate-band", *options, "--also", "yarn", "loom")
    assert (status, out) == (2, "")
    assert err.startswith(f"cardmaker: {told}")
    assert err.count("\n") == 1
    assert everything() == before


def test_an_answer_that_cannot_be_is_asked_for_again_with_the_reason(
    monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    answers = (
        *("", "2026", "9", "3.3 m", "18 in", "4 m", "2.3 m", "1 mm", "9 mm", "many", "14", "90 mm", "?", "4 mm"),
        *("1 mg", "50 g", "back", "", "", "", "", ""),
    )
    assert answered(answers, monkeypatch) == 0
    told = capsys.readouterr().out
    for reason in (
        "  157.5 in of tape, 165.8 in before washing, cannot come from a warp of 129.9 in",
        "  15 ends across 1 mm are 381 to the inch",
        "  'many' is no count of picks.",
        "  The mark that you made on the gauge of the bench card.",
        "  the dip is more than a tenth of the span",
    ):
        assert reason in told
    assert read("patterns/gate-band.yaml")["measured"] == [RECORD]


@pytest.mark.parametrize("answers", [ANSWERS[:6], (*ANSWERS[:12], "no"), ("", "2026", *[""] * 8)])
def test_whoever_leaves_or_says_no_leaves_everything_as_it_was(
    answers: Sequence[str], monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    before = everything()
    assert answered(answers, monkeypatch) == 2
    assert everything() == before
    assert capsys.readouterr().err.startswith(("cardmaker: No", "cardmaker: The questions were not all answered."))


def test_a_file_that_changes_meanwhile_is_not_written_over(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    def changed_first(files: Sequence[ChangedFile]) -> None:
        put("patterns/gate-band.yaml", GATE + "# by her editor\n")
        write_changed(files)

    monkeypatch.setattr("cardmaker.jobs.tape_measuring.write_changed", changed_first)
    assert run(capsys, "measured", "gate-band", *OPTIONS, "--also", "yarn") == (
        *(2, ""),
        "cardmaker: patterns/gate-band.yaml has changed meanwhile: nothing was written. Once more, please.\n",
    )
    assert Path("layouts/yarns/loft-linen.yaml").read_text() == YARN
