"""What hostile files and hostile words once broke, a test each; ``tests/fuzz`` found them."""

from __future__ import annotations

import time
from collections.abc import Iterable
from pathlib import Path

import pdfplumber
import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import loading

LINEN = "{fibre: linen, count: 20/2}"


pytestmark = pytest.mark.usefixtures("empty_folder")


def words_of(card: Path) -> str:
    with pdfplumber.open(card) as book:
        return " ".join(word["text"] for word in book.pages[0].extract_words(use_text_flow=True))


def run(*arguments: str) -> int:
    """A command's exit status; argparse leaves by SystemExit."""
    try:
        return run_command_line(arguments)
    except SystemExit as end:
        return int(end.code or 0)


def write(name: str, lines: Iterable[str]) -> str:
    Path(name).write_text("\n".join(lines) + "\n", encoding="utf-8")
    return name


# Two posts without cross pegs


def test_two_pegs_are_told_and_drawn_as_a_figure_of_eight(tmp_path: Path) -> None:
    write("short.yaml", ["title: Short", f"yarns: {{white: {LINEN}}}", "warp: [9 white]", "length: {warp: 1 m}"])
    assert run("card", "short.yaml", "--layout", "bench", "--pegs", "two-pegs") == 0
    text = words_of(tmp_path / "out" / "short-bench.pdf")
    assert "a figure of eight" in text
    assert "half-way between the posts" in text
    assert "cross pegs" not in text


# Panels with too little width


def layout_file(*lines: str) -> str:
    return write("own.yaml", ["title: Own", *lines])


def test_panels_on_a_paper_with_no_width_left_are_refused(capsys: pytest.CaptureFixture[str]) -> None:
    """76.2 mm less 2 × 30 mm are 16 mm: the row of cells would be no cell wide."""
    layout = layout_file("papers: [3x5]", "margin: 30 mm", "rows: [[{panel: order, columns: 12, priority: 1}]]")
    assert run("card", "two-rails", "--layout", layout) == 1
    assert "do not fit on 3x5: the card has room for none of its panels" in capsys.readouterr().err
    assert not Path("out").exists()


def test_an_essential_panel_with_too_little_width_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    layout = layout_file(
        "papers: [3x5]", "margin: 5 mm", "rows: [[{panel: order, columns: 2, priority: 1, essential: yes}]]"
    )
    assert run("card", "two-rails", "--layout", layout) == 1
    assert "the card has too little width for one of its panels" in capsys.readouterr().err


def test_a_heddle_of_hundreds_of_spaces_is_not_drawn_on_a_small_card(capsys: pytest.CaptureFixture[str]) -> None:
    """600 spaces on less than 66 mm are a tenth of a millimetre each."""
    loom = write("wide.yaml", ["title: Wide", "kind: one heddle", "slots: 300", "holes: 300", "outer: slot"])
    rows = "rows: [[{panel: board, columns: 12, priority: 1, essential: yes}]]"
    layout = layout_file("papers: [3x5]", "margin: 5 mm", "ribbon: no", rows)
    assert run("card", "two-rails", "--loom", loom, "--layout", layout) == 1
    assert "too little width" in capsys.readouterr().err


# Names and words on their way to a terminal


@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("two\nlines.yaml", "two[U+000A]lines.yaml:1:1: "),
        ("gone\x1b[2J.yaml", "gone[U+001B][2J.yaml:1:1: "),
        ("fdp\u202eexe.yaml", "fdp[U+202E]exe.yaml:1:1: "),
        ("no\udcffutf.yaml", "no[U+DCFF]utf.yaml:1:1: "),
    ],
)
def test_a_hostile_file_name_is_spelled_out(name: str, shown: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("check", name) == 1
    told = capsys.readouterr().err
    assert told.startswith(shown)
    assert told.count("\n") == 1


@pytest.mark.parametrize(
    "arguments",
    [("card", "two-rails", "--loom=a\nb\x1b[2J"), ("list", "--no\x1bsuch"), ("resize", "wick", "--yarn=\n")],
)
def test_hostile_arguments_are_spelled_out(arguments: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    assert run(*arguments) == 2
    told = capsys.readouterr().err
    assert "\x1b" not in told
    assert "[U+" in told
    assert told.splitlines()[-1].startswith("cardmaker")


@pytest.mark.parametrize("option", ["--pegs", "--loom", "--layout", "--paper", "--out", "--warp"])
def test_two_dashes_are_no_value(option: str, capsys: pytest.CaptureFixture[str]) -> None:
    """argparse makes an empty list of ``--out=--``."""
    assert run("card", "two-rails", f"{option}=--") == 2
    assert f"{option} needs a word after it: " in capsys.readouterr().err


def test_a_hostile_folder_is_spelled_out_and_used(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("card", "two-rails", "--out", "bell\x07") == 0
    assert "bell[U+0007]/two-rails-record.pdf" in capsys.readouterr().out
    assert Path("bell\x07/two-rails-record.pdf").is_file()


@pytest.mark.parametrize("title", ["caf\udce9", "a\x1bb", "\u202egnp"])
def test_no_new_file_with_signs_that_no_file_may_hold(title: str, capsys: pytest.CaptureFixture[str]) -> None:
    for arguments in (("new", f"Harbour {title}"), ("new", "Harbour", f"--stripes=9 {title}")):
        assert run(*arguments) == 2
        assert "cannot stand in a file" in capsys.readouterr().err
    assert not Path("patterns").exists()


def test_a_title_that_is_a_device_makes_an_ordinary_file() -> None:
    assert run("new", "NUL") == 0
    assert [path.name for path in Path("patterns").iterdir()] == ["nul-tape.yaml"]


def test_a_name_that_is_too_long_is_told_in_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("card", "two-rails", "--out", "x" * 300) == 1
    told = capsys.readouterr().err
    assert told.startswith("cardmaker: xxx")
    assert told.rstrip().endswith("File name too long")


@pytest.mark.parametrize(
    ("pattern", "panel", "sizes"),
    [
        ("five-posts", "pickup", "title: 9, count: 4, heading: 5, body: 20, small: 30, smallest: 4"),
        ("three-paths", "face", "title: 9, count: 9, heading: 15, body: 4, small: 144, smallest: 4"),
        ("three-paths", "turns", "title: 9, count: 9, heading: 24, body: 20, small: 144, smallest: 4"),
    ],
)
def test_a_picture_with_no_width_beside_its_table_is_refused(
    pattern: str, panel: str, sizes: str, capsys: pytest.CaptureFixture[str]
) -> None:
    row = f"rows: [[{{panel: {panel}, columns: 12, priority: 1, essential: yes}}]]"
    layout = layout_file("papers: [a6]", "margin: 20 mm", "ribbon: no", f"type: {{{sizes}}}", row)
    assert run("card", pattern, "--layout", layout) == 1
    assert "too little width" in capsys.readouterr().err


# What would keep the reader busy for minutes. Seconds are of the processor; each of these once took more than two.


def seconds(*arguments: str) -> float:
    started = time.process_time()
    assert run(*arguments) != 0
    return time.process_time() - started


@pytest.mark.parametrize("line", ["- " * 200_000 + ":", "- - " * 100_000 + "x: &"])
def test_a_very_long_line_that_is_no_yaml_is_refused_at_once(line: str) -> None:
    assert seconds("check", write("long.yaml", ["title: Long", line, "  x: : y"])) < 2


@pytest.mark.parametrize("text", ["x" * 100_000 + "!", " " * 100_000 + "!", "1 " * 50_000])
def test_a_very_long_length_is_refused_at_once(text: str) -> None:
    assert seconds("plan", "two-rails", f"--warp={text}") < 2


# Binder files


def test_a_pattern_that_a_binder_names_twice_stands_in_it_once(capsys: pytest.CaptureFixture[str]) -> None:
    file = write("book.yaml", ["title: Book", "sections: [{title: One, patterns: [wick, wick]}]"])
    assert run("binder", file, "--out", "book.pdf") == 0
    assert "(1 card on " in capsys.readouterr().out


def test_a_binder_file_can_be_checked(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("check", write("book.yaml", ["title: Book", "sections: [{title: One, patterns: [wick]}]"])) == 0
    assert run("check", write("bare.yaml", ["title: Book", "sections: []"])) == 1
    assert capsys.readouterr().err.startswith("bare.yaml:2:11: sections: ")


def binder(*lines: str) -> int:
    sections = "sections: [{title: One, patterns: [wick]}]"
    return run("binder", write("book.yaml", ["title: Book", *(lines or ()), *([] if lines else [sections])]))


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (["sections: [{title: One, patterns: [/etc/passwd]}]"], "book.yaml:2:36: sections: 1: patterns: '/etc/passwd'"),
        (["layout: /etc/passwd", "sections: [{title: One, patterns: [wick]}]"], "book.yaml:2:1: layout: '/etc/passwd'"),
        (["loom: ../x", "sections: [{title: One, patterns: [wick]}]"], "book.yaml:2:1: loom: '../x'"),
        (["layout: recrod", "sections: [{title: One, patterns: [wick]}]"], "book.yaml:2:1: layout: There is no layout"),
    ],
)
def test_a_binder_file_opens_only_yaml_files(lines: list[str], told: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert binder(*lines) == 1
    assert capsys.readouterr().err.startswith(told)
    assert not Path("out").exists()


def test_a_binders_own_words_must_be_in_the_typeface(capsys: pytest.CaptureFixture[str]) -> None:
    assert binder("about: \u4e00", "sections: [{title: One, patterns: [wick]}]") == 1
    assert capsys.readouterr().err.startswith("book.yaml:2:1: about: The binder's typeface has no '\u4e00'")
    assert run("binder", "wick", "--title", "\u4e00") == 2
    assert capsys.readouterr().err.startswith("cardmaker: --title: the type has no '\u4e00'")
    assert not Path("out").exists()


# Faults in faults


def test_what_is_wrong_inside_of_what_is_too_long_is_told_as_well(capsys: pytest.CaptureFixture[str]) -> None:
    """A list that goes out whole, with an item in it that is wrong: twenty uses are the most."""
    uses = ", ".join(["a"] * 20 + ["[b]"])
    lines = ["title: Many", f"for: [{uses}]", f"yarns: {{white: {LINEN}}}", "warp: [9 white]"]
    assert run("check", write("many.yaml", lines)) == 1
    told = capsys.readouterr().err.splitlines()
    assert [line.split(": ")[1] for line in told] == ["for", "for item 21"]


def test_one_stripe_of_far_too_many_ends_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    lines = ["title: Wide", f"yarns: {{white: {LINEN}}}", "warp: [10001 white]"]
    assert run("check", write("wide.yaml", lines)) == 1
    assert "wide.yaml:3:8: warp item 1: 10,001 ends are too many; 400 is the most." in capsys.readouterr().err


def test_a_pattern_without_any_loom_at_hand_is_refused(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(loading, "load_looms", lambda **_: ())
    assert run("plan", "wick") == 1
    assert "There is no loom at hand." in capsys.readouterr().err


def test_a_class_file_opens_only_yaml_files(capsys: pytest.CaptureFixture[str]) -> None:
    students = "students: [{name: Ansel, loom: small-box, pattern: /etc/passwd}]"
    assert run("class", write("class.yaml", ["title: Class", students])) == 1
    assert capsys.readouterr().err.startswith("class.yaml:2:")
    assert not Path("out").exists()
