"""Slips that beginners make on the command line, each with all that is said of it: it tells what to type instead."""

from __future__ import annotations

import shlex
import time
import tracemalloc
from pathlib import Path
from typing import Final

import pikepdf
import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.cli.told_errors import DONE, PROBLEMS, USAGE
from tests.helpers.places import ROOT

Said = pytest.CaptureFixture[str]

PATTERN: Final = """\
title: Gate Band
yarns: {blue: {fibre: cotton, count: 8/2}, white: {fibre: cotton, count: 8/2}}
warp: [3 blue, 9 white, 3 blue]
"""
LOOM: Final = "title: Kitchen box\nkind: one heddle\nslots: 12\nholes: 11\nwaste: 20 in\n"

LAYOUT_NEEDED: Final = (
    "--layout needs a word after it: the card layout (record); several, as in handout,record, for a card of each; "
    "or all. {help}"
)
# What is typed behind "cardmaker", and what is said; "See: cardmaker … --help" follows it where {help} stands.
USAGE_SLIPS: Final[tuple[tuple[str, str], ...]] = (
    # commands
    ("cards gate-band", "There is no command 'cards'. Did you mean card? See: cardmaker --help"),
    ("Card gate-band", "There is no command 'Card'. Did you mean card? See: cardmaker --help"),
    ("help", "There is no command 'help'. Write cardmaker --help. See: cardmaker --help"),
    ("version", "There is no command 'version'. Write cardmaker --version. See: cardmaker --help"),
    ("card", "PATTERN is missing: what to make cards of. {help}"),
    ("check", "FILE is missing: files of any kind, or folders of them. {help}"),
    ("plan gate-band wick", "'wick' is more than can be named here. A name with spaces in it stands in quotes. "
     "See: cardmaker --help"),
    ("choose --ends 31-9", "--ends: '31-9' has its larger number first: write 9-31. {help}"),
    ("choose --ends few",
     "--ends: 'few' is no range of ends: write the least and the most, as in 9-31, or one number. {help}"),
    ("choose --time 2", "--time: '2' needs a unit, as in 3 h, 90 min or 2 h 30 min. {help}"),
    ("choose --colours blu,white", "'blu' is no colour that is known here. Did you mean blue?"),
    ("choose --colours ,", "--colours names no colour: write them as in blue,white."),
    ("choose --use bookmark",
     "No pattern says that it is for 'bookmark': none says what it is for. Write it under the key for."),
    ("choose --loom any",
     "A sheet says where end 1 goes on a loom: name one of yours, or leave --loom out."),
    ("choose layouts/looms", "There is no pattern in the folder layouts/looms"),
    ("choose --drawer",
     "No yarn at hand says how much there is of it: write at_hand: 40 g into its file in layouts/yarns, or name it "
     'with --yarn "40 g red linen 20/2".'),
    ("choose --yarn '40 red linen 20/2'", "'40 red linen 20/2' does not begin with an amount: "
     "write how much there is first, as in 40 g red linen 20/2."),
    ("choose --yarn '40 g red 20/2'", "'40 g red 20/2' does not say its fibre. Write it as in 40 g red linen 20/2."),
    ("choose --yarn '0 g red linen 20/2'", "'0 g red linen 20/2' is nothing at all."),
    # options
    ("card gate-band --layuot record", "'card' has no option --layuot. Did you mean --layout? {help}"),
    ("card gate-band -layout record", "'card' has no option -layout. Did you mean --layout? {help}"),
    ("card gate-band --Layout record", "'card' has no option --Layout. Did you mean --layout? {help}"),
    ("card gate-band -o x.pdf", "'card' has no option -o. Did you mean --open or --out? {help}"),
    ("card gate-band —layout record",
     "An option begins with two plain hyphens: write --layout, not —layout. {help}"),
    ("card gate-band –paper a4", "An option begins with two plain hyphens: write --paper, not –paper. {help}"),
    ("card gate-band /layout record",
     "An option begins with two plain hyphens: write --layout, not /layout. {help}"),
    ("card gate-band layout=record",
     "An option begins with two plain hyphens: write --layout record, not layout=record. {help}"),
    ("card gate-band --layout", LAYOUT_NEEDED),
    ("card gate-band --layout=", LAYOUT_NEEDED),
    ("card gate-band --layout = record", LAYOUT_NEEDED),
    ("card gate-band --layout --paper a4", LAYOUT_NEEDED),
    ("card gate-band --quiet=yes", "--quiet stands alone, without 'yes'. {help}"),
    ("card gate-band --l record", "--l may be --layout, --loom or --looms. Write it out. {help}"),
    ("rescue gate-band --end 2 --woven 1/2 --turns-left 3",
     "--turns-left and --woven do not go together. Keep one of them. {help}"),
    # an option twice
    ("card gate-band --layout handout --layout record",
     "--layout is given twice. Name all behind one: --layout handout,record. {help}"),
    ("card gate-band --layout handout, record",
     "'handout,' has a comma with no card layout beside it. Write the names as in handout,record. {help}"),
    ("card gate-band --layout record --layout record",
     "--layout is given twice, as record and as record. Keep one. {help}"),
    ("card gate-band --lay handout --layout record",
     "--layout is given twice. Name all behind one: --layout handout,record. {help}"),
    ("plan gate-band --warp 2yd --warp=3yd", "--warp is given twice, as 2yd and as 3yd. Keep one. {help}"),
    ("card gate-band --looms small-box --looms middle-box",
     "--looms is given twice. Name all behind one: --looms small-box middle-box. {help}"),
    # values
    ("plan gate-band --units imperial", "--units is not 'imperial'. Did you mean us? {help}"),
    ("plan gate-band --from back", "--from is not 'back'. Did you mean behind? {help}"),
    ("binder gate-band --layout handout --layout record",
     "--layout is given twice, as handout and as record. Keep one. {help}"),
    ("binder gate-band --by colour", "--by is not 'colour'. Write use, width, ends or grade. {help}"),
    ("plan gate-band --warp 3",
     "--warp: '3' has no unit. Write the two as one word or in quotes, as in 3yd or \"3 m\". {help}"),
    ("plan gate-band --warp 3 yd",
     "--warp: '3' has no unit. Write the two as one word or in quotes, as in 3yd or \"3 m\". {help}"),
    ("plan gate-band --warp 2,5m", "--warp: '2,5m' has a comma in it. Write 2.5m, with a point. {help}"),
    ("plan gate-band --warp '2 yrds'",
     "--warp: '2 yrds' has no unit that is known here. Did you mean 2 yd? {help}"),
    ("plan gate-band --warp -3yd",
     '--warp needs a word after it: a warp that is given, such as "3 yd" or "2.5 m". {help}'),
    ("resize gate-band --ends nine",
     "--ends: 'nine' is no whole number. Write it in figures, as in 15. {help}"),
    # names
    ("card Gate-Band", "There is no pattern named 'Gate-Band'. Did you mean gate-band?"),
    ("card 'Gate Band'", "There is no pattern named 'Gate Band'. Did you mean gate-band?"),
    ("card gate_band", "There is no pattern named 'gate_band'. Did you mean gate-band?"),
    ("card gate-band, wick", "There is no pattern named 'gate-band,'. Did you mean gate-band?"),
    ("card gate-band.yaml",
     "There is no file gate-band.yaml in this folder. Did you mean gate-band, without .yaml?"),
    ("card kitchen-box",
     "'kitchen-box' is a loom, and a pattern is wanted here. Name a pattern with --loom kitchen-box behind it."),
    ("card record",
     "'record' is a layout, and a pattern is wanted here. Name a pattern with --layout record behind it."),
    ("plan gate-band --loom gate-band", "'gate-band' is a pattern, and a loom is wanted here. "
     "Write broad-paddle, middle-box, small-box, treadle-pair or kitchen-box."),
    ("plan gate-band --loom kitchenbox", "There is no loom named 'kitchenbox'. Did you mean kitchen-box?"),
    ("card patterns", "'patterns' is a folder. Name a pattern in it, or put all of them into one PDF: "
     "cardmaker binder patterns"),
    ("card gate-band --layout recrod", "There is no layout named 'recrod'. Did you mean record?"),
    ("card gate-band --paper a5", "Record has no paper 'a5'; it has letter, a4, either."),
    ("card gate-band --out gate.png", "gate.png is no name for a card, which is a PDF. Write --out gate.pdf."),
)  # fmt: skip

# What is typed, and what is said of a file.
FILE_SLIPS: Final[tuple[tuple[str, str], ...]] = (
    ("card patterns/My Tape.yaml",
     'patterns/My:1:1: there is no such file. Did you mean "patterns/My Tape.yaml"? '
     "A name with spaces in it stands in quotes.\n"
     "Tape.yaml:1:1: there is no such file. Check the name and the folder."),
    ("card patterns/gate-band",
     "patterns/gate-band:1:1: there is no such file. Did you mean patterns/gate-band.yaml?"),
    ("card patterns/gate-band.yml",
     "patterns/gate-band.yml:1:1: there is no such file. Did you mean patterns/gate-band.yaml?"),
    ("check pattern/gate-band.yaml",
     "pattern/gate-band.yaml:1:1: there is no such file. There is no folder pattern either."),
    ("card patterns/", "patterns:1:1: this is a folder, not a file. Name a file in it."),
    ("card layouts/looms/kitchen-box.yaml",
     "layouts/looms/kitchen-box.yaml:1:1: This is a loom file. "
     "A pattern file is wanted here; a loom is named with --loom."),
    ("plan gate-band --loom patterns/gate-band.yaml",
     "patterns/gate-band.yaml:1:1: This is a pattern file. A loom file is wanted here."),
    ("check patterns/band.rtf",
     "patterns/band.rtf:1:1: this is a word processor's document (RTF), not plain text. "
     "Save it again as plain text, with the encoding UTF-8. Its name ends in .yaml."),
    ("card ./card.pdf",
     "card.pdf:1:1: this is a PDF, not plain text. If it is a card, its files are in it: cardmaker restore card.pdf"),
)  # fmt: skip


@pytest.fixture(autouse=True)
def her_folder(empty_folder: Path) -> Path:
    """A folder with a loom and two patterns of her own, and what is no pattern."""
    Path("patterns").mkdir()
    Path("layouts/looms").mkdir(parents=True)
    Path("patterns/gate-band.yaml").write_text(PATTERN)
    Path("patterns/My Tape.yaml").write_text(PATTERN)
    Path("patterns/band.rtf").write_text("{\\rtf1\\ansi title: Gate Band}")
    Path("layouts/looms/kitchen-box.yaml").write_text(LOOM)
    Path("card.pdf").write_bytes(b"%PDF-1.7\n%\xe2\xe3\n")
    return empty_folder


def run(asked: str, said: Said) -> tuple[int, str, str]:
    try:
        status = run_command_line(shlex.split(asked))
    except SystemExit as left:
        status = int(left.code or 0)
    return (status, *said.readouterr())


@pytest.mark.parametrize(("asked", "told"), USAGE_SLIPS, ids=[slip[0] for slip in USAGE_SLIPS])
def test_wrong_usage_is_told_in_one_line(asked: str, told: str, capsys: Said) -> None:
    status, out, err = run(asked, capsys)
    assert (status, out) == (USAGE, "")
    assert err == f"cardmaker: {told}\n".replace("{help}", f"See: cardmaker {asked.split()[0]} --help")
    assert not Path("out").exists()


@pytest.mark.parametrize(("asked", "told"), FILE_SLIPS, ids=[slip[0] for slip in FILE_SLIPS])
def test_a_file_that_is_not_what_is_wanted_is_told(asked: str, told: str, capsys: Said) -> None:
    assert run(asked, capsys) == (PROBLEMS, "", f"{told}\n")


def test_an_option_twice_is_told_though_both_are_one_text(capsys: Said) -> None:
    with pytest.raises(SystemExit):
        run_command_line(["plan", "gate-band", *(2 * ["--units", "us"])])
    assert "--units is given twice, as us and as us." in capsys.readouterr().err


def test_there_are_enough_of_them() -> None:
    assert len(USAGE_SLIPS) + len(FILE_SLIPS) >= 50
    assert len({slip[0] for slip in USAGE_SLIPS + FILE_SLIPS}) == len(USAGE_SLIPS + FILE_SLIPS)


# What is plain is simply taken


@pytest.mark.parametrize(
    ("paper", "size"),
    [("a4", (595, 842)), ("A4", (595, 842)), ("DIN A4", (595, 842)), ("Letter", (612, 792)), ("US Letter", (612, 792))],
)
def test_a_paper_in_any_case(paper: str, size: tuple[int, int], capsys: Said) -> None:
    assert run(f"card gate-band --paper '{paper}' --out x.pdf", capsys)[0] == DONE
    with pikepdf.open("x.pdf") as document:
        assert tuple(round(float(side)) for side in document.pages[0].mediabox[2:]) == size


def test_a_paper_of_the_settings_in_any_case(capsys: Said) -> None:
    Path("cardmaker.yaml").write_text("paper: A4\n")
    assert "(Kitchen box, a4)" in run("card gate-band", capsys)[1]


@pytest.mark.parametrize("choices", ["--units US --hand Left", "--units Metric --hand RIGHT", "--from Behind"])
def test_choices_in_any_case(choices: str, capsys: Said) -> None:
    status, told, _ = run(f"plan gate-band {choices}", capsys)
    assert status == DONE
    assert told == run(f"plan gate-band {choices.lower()}", capsys)[1]


def test_a_switch_given_twice_harms_nothing(capsys: Said) -> None:
    assert run("card gate-band --quiet --quiet", capsys) == (DONE, "", "")


@pytest.mark.parametrize("warp", ["3yd", "'3 yd'", "'3-1/2 yd'", "3yd.", "108in"])
def test_a_warp_in_any_way_that_is_plain(warp: str, capsys: Said) -> None:
    assert run(f"plan gate-band --warp {warp}", capsys)[0] == DONE


# Files are checked by name, and against the looms that there are


def test_check_takes_the_name_of_a_file_at_hand(capsys: Said) -> None:
    assert run("check gate-band", capsys) == (DONE, "1 file, no problems\n", "")
    assert run("check kitchen-box", capsys)[2].startswith("layouts/looms/kitchen-box.yaml:2:1: note: kind: ")
    assert run("check two-rails record", capsys) == (DONE, "2 files, no problems\n", "")


WIDE: Final = "title: Wide\nyarns:\n  white: {fibre: linen, count: 20/2}\nwarp: [65 white]\n"


def test_check_notes_a_pattern_that_none_of_her_looms_holds(capsys: Said) -> None:
    """The shipped loom for 60 ends is not hers, and 65 are too many for any."""
    Path("patterns/wide.yaml").write_text(WIDE.replace("65", "47"))
    note = (
        "patterns/wide.yaml:4:1: note: warp: None of your looms holds it: 47 ends; Kitchen box has 12 slots and "
        "11 holes, 23 spaces in all. The nearest count that fits and stays odd is 23; "
        "it can stay the same from both edges.\n"
    )
    assert run("check patterns/wide.yaml", capsys) == (DONE, "1 file, no problems, 1 note\n", note)
    Path("patterns/wide.yaml").write_text(WIDE.replace("65", "23"))
    assert run("check patterns/wide.yaml", capsys) == (DONE, "1 file, no problems\n", "")


def test_check_goes_by_the_looms_of_the_settings(capsys: Said) -> None:
    Path("patterns/wide.yaml").write_text(WIDE.replace("65", "41"))
    Path("cardmaker.yaml").write_text("loom: kitchen-box\nlooms: [kitchen-box, treadle-pair]\n")
    assert run("check wide", capsys) == (DONE, "1 file, no problems\n", "")
    Path("cardmaker.yaml").write_text("looms: [kitchen-box, middle-box]\n")
    assert "None of your looms holds it: 41 ends; " in run("check wide", capsys)[2]
    Path("cardmaker.yaml").write_text("looms: [no-such-box]\n")  # checking that file tells of it
    assert "None of your looms holds it: 41 ends; Kitchen box" in run("check wide", capsys)[2]


def test_check_without_a_loom_of_hers_goes_by_those_at_hand(capsys: Said) -> None:
    Path("layouts/looms/kitchen-box.yaml").unlink()
    Path("patterns/wide.yaml").write_text(WIDE)
    status, out, err = run("check wide", capsys)
    assert (status, out) == (DONE, "1 file, no problems, 1 note\n")
    assert err.startswith("patterns/wide.yaml:4:1: note: warp: No loom at hand holds it: 65 ends; Treadle pair has ")


def test_no_shipped_pattern_is_without_a_loom(capsys: Said, monkeypatch: pytest.MonkeyPatch) -> None:
    Path("layouts/looms/kitchen-box.yaml").unlink()
    names = " ".join(sorted(path.stem for path in (ROOT / "patterns").glob("t*.yaml")))
    assert run(f"check {names}", capsys)[2] == ""


def test_a_huge_file_is_refused_by_its_size_and_not_read(capsys: Said) -> None:
    """Three gigabytes that hold nothing: to read them would take all of this computer's memory."""
    huge = Path("patterns/huge.yaml")
    with huge.open("wb") as stream:
        stream.truncate(3 << 30)
    message = "this file is larger than 1 MiB, more than any pattern, loom, pegs or card layout needs."
    told = f"patterns/huge.yaml:1:1: {message} Name the file that you typed.\n"
    begin = time.process_time()
    tracemalloc.start()
    try:
        for asked in ("check patterns/huge.yaml", "check huge", "card huge", "plan huge"):
            assert run(asked, capsys) == (PROBLEMS, "", told)
        assert tracemalloc.get_traced_memory()[1] < 32 << 20
    finally:
        tracemalloc.stop()
    assert time.process_time() - begin < 10
