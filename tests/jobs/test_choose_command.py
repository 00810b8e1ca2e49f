"""``cardmaker choose``: which tapes suit, in which order, why the others do not, and the page of them."""

from __future__ import annotations

import shlex
from pathlib import Path

import pdfplumber
import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.cli.told_errors import DONE, PROBLEMS
from tests.helpers.places import ROOT

Said = pytest.CaptureFixture[str]

YARNS = """\
yarns:
  blue: {fibre: linen, count: 20/2, colour: "#2F4A7D"}
  ground: {fibre: linen, count: 20/2, colour: "#F4F0E4"}
  red: {fibre: linen, count: 20/2, colour: "#9C2F2B"}
"""


@pytest.fixture
def her_folder(empty_folder: Path) -> Path:
    """Three tapes of hers; their loom's file tells no pace."""
    for folder in ("patterns", "layouts/looms", "layouts/yarns"):
        Path(folder).mkdir(parents=True)
    for name, use, warp in (
        ("Rails", "[bookmark]", "[3 blue, 9 ground, 3 blue]"),
        ("Plain", "[bag tie]", "[11 ground]"),
        ("Red Bar", "[bag tie, strap]", "[5 ground, 3 red, 5 ground, 3 red, 5 ground]"),
    ):
        text = f"title: {name}\nfor: {use}\n{YARNS}warp: {warp}\n"
        Path(f"patterns/{name.lower().replace(' ', '-')}.yaml").write_text(text)
    Path("layouts/looms/box.yaml").write_text("title: Box\nkind: one heddle\nslots: 9\nholes: 8\nwaste: 20 in\n")
    Path("layouts/looms/big.yaml").write_text("title: Big\nkind: one heddle\nslots: 20\nholes: 19\nwaste: 20 in\n")
    return empty_folder


def chosen(asked: str, said: Said) -> tuple[int, list[str], str]:
    status = run_command_line(shlex.split(f"choose {asked}"))
    out, err = said.readouterr()
    return status, out.splitlines(), err


def stems(lines: list[str]) -> list[str]:
    return [line.split()[0] for line in lines[1:] if line.startswith("  ") and not line.startswith("    ")]


@pytest.mark.usefixtures("her_folder")
def test_all_of_hers_the_easiest_first_and_none_of_those_shipped(capsys: Said) -> None:
    assert chosen("--list", capsys) == (
        DONE,
        [
            "3 of 3 tapes suit, the easiest first:",
            "  plain              Plain: 11 ends, no change of colour",
            "  rails              Rails: 15 ends, 2 changes (1 at far), no single end",
            "  red-bar            Red Bar: 21 ends, 4 changes (2 at far), no single end",
        ],
        "",
    )
    assert not Path("out").exists()


@pytest.mark.usefixtures("her_folder")
@pytest.mark.parametrize(
    ("asked", "fit", "left_out"),
    [
        ("--colours blue,white", ["plain", "rails"], ["Red Bar: it has red in it"]),
        ("--colours white", ["plain"], ["Rails: it has blue in it", "Red Bar: it has red in it"]),
        ("--colours ground", ["plain"], ["Rails: it has blue in it", "Red Bar: it has red in it"]),
        ("--ends 12-20", ["rails"], ["Plain: it has 11 ends, fewer than 12", "Red Bar: it has 21 ends, more than 20"]),
        ("--ends 15", ["rails"], ["Plain: it has 11 ends, fewer than 15", "Red Bar: it has 21 ends, more than 15"]),
        ("--use tie", ["plain", "red-bar"], ["Rails: it is for bookmark"]),
        ("--use Bookmarks", ["rails"], ["Plain: it is for bag tie", "Red Bar: it is for bag tie and strap"]),
        (
            "--loom box",
            ["plain", "rails"],
            ["Red Bar: 21 ends; Box has 9 slots and 8 holes, 17 spaces in all"],
        ),
    ],
)
def test_each_wish_leaves_out_what_it_says(asked: str, fit: list[str], left_out: list[str], capsys: Said) -> None:
    status, lines, _ = chosen(f"{asked} --list", capsys)
    at = lines.index("Left out:")
    assert (status, stems(lines[:at])) == (DONE, fit)
    assert [line.strip() for line in lines[at + 1 :]] == left_out


@pytest.mark.usefixtures("her_folder")
def test_without_a_pace_no_time_is_promised(capsys: Said) -> None:
    status, lines, _ = chosen('--time "9 h" --list --why', capsys)
    assert status == PROBLEMS
    assert lines[0] == (
        "No tape suits. The time leaves out all 3. Nearest is Plain: "
        "nothing tells how long it takes: its loom's file has no pace."
    )


@pytest.mark.usefixtures("her_folder")
def test_where_nothing_suits_the_dearest_wish_and_the_nearest_tape_are_told(capsys: Said) -> None:
    status, lines, _ = chosen("--colours blue,white --ends 17-40", capsys)
    assert status == PROBLEMS
    assert lines == [
        "No tape suits. The number of ends leaves out 2 of 3. Nearest is Rails: it has 15 ends, fewer than 17."
    ]
    assert not Path("out").exists()


def test_the_time_is_that_of_the_plan(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    """Two Rails is reckoned at 2 h 40 min: that is enough, and a minute less is not."""
    monkeypatch.chdir(ROOT)
    _, lines, _ = chosen('patterns/two-rails.yaml --time "2 h 40 min" --list', capsys)
    assert lines[1].endswith("; about 2 h 40 min in all")
    _, lines, _ = chosen('patterns/two-rails.yaml --time "2 h 39 min" --list', capsys)
    assert lines[0].endswith("Nearest is Two Rails: it takes about 2 h 40 min, 1 min too long.")


def test_of_many_left_out_they_are_counted_by_wish(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    monkeypatch.chdir(ROOT)
    _, lines, _ = chosen("--use bookmark --colours white,blue --list", capsys)
    assert lines[-1].endswith("--why tells each.")
    counts = [int(word) for word in lines[-1].split() if word.isdecimal()]
    assert counts[0] == sum(counts[1:])
    _, told, _ = chosen("--use bookmark --colours white,blue --list --why", capsys)
    assert len(told) - 1 - told.index("Left out:") == counts[0]


@pytest.mark.usefixtures("her_folder")
def test_a_file_with_a_problem_is_told_and_the_others_are_chosen(capsys: Said) -> None:
    Path("patterns/broken.yaml").write_text("title: Broken\nwarp: [3 bleu]\n")
    status, lines, err = chosen("--list", capsys)
    assert status == PROBLEMS
    assert len(stems(lines)) == 3
    assert err.startswith("patterns/broken.yaml:")


@pytest.mark.usefixtures("her_folder")
def test_the_page_tells_the_rule_in_words_and_every_tape_in_the_same_order(capsys: Said) -> None:
    status, lines, _ = chosen("--colours blue,white --out day.pdf --title 'For Ansel'", capsys)
    assert status == DONE
    assert lines[-1] == "day.pdf  (2 tapes on 1 page)"
    with pdfplumber.open("day.pdf") as pdf:
        text = " ".join(" ".join(page.extract_text() for page in pdf.pages).split())
    assert "For Ansel" in text
    assert text.index("Plain") < text.index("Rails")
    assert "2 changes (1 at far), no single end." in text.replace("Rails", "")
    assert "The easiest first:" in text
    assert "single ends and neighbours that look alike; then by the number of ends." in text
    assert "★" not in text


@pytest.mark.usefixtures("her_folder")
def test_yarns_of_her_own_files_with_what_is_at_hand(capsys: Said) -> None:
    shelf = Path("layouts/yarns/chalk.yaml")
    shelf.write_text("title: Chalk linen\nfibre: linen\ncount: 20/2\nshade: White\nat_hand: 40 g\n")
    Path("layouts/yarns/rest.yaml").write_text("title: A rest\nfibre: linen\ncount: 20/2\nshade: Blue\n")
    status, lines, _ = chosen("--drawer --list", capsys)
    assert status == DONE
    assert lines[0] == "1 of 3 tapes can be woven of your yarn alone, and 2 with some that is bought, after them:"
    assert stems(lines) == ["plain", "rails", "red-bar"]
    assert "    Matched: its ground is your Chalk linen." in lines
    by_option = chosen("--yarn chalk --list", capsys)
    assert by_option == (status, lines, "")
    less = chosen('--yarn "10 g chalk" --list', capsys)[1]
    assert less != lines


@pytest.mark.usefixtures("her_folder")
def test_a_yarn_whose_weight_goes_nobody_knows_how_far_is_a_problem_of_its_file(capsys: Said) -> None:
    Path("layouts/yarns/rest.yaml").write_text("title: A rest\nfibre: linen\nwraps_per_inch: 40\nat_hand: 40 g\n")
    assert run_command_line(["check", "layouts/yarns/rest.yaml"]) == PROBLEMS
    assert capsys.readouterr().err == (
        "layouts/yarns/rest.yaml:4:10: at_hand: nothing tells how far this weight goes. "
        "Add its count, or yards_per_pound or metres_per_kg.\n"
    )


@pytest.mark.usefixtures("her_folder")
def test_what_must_be_bought_stands_on_the_page(capsys: Said) -> None:
    chosen("--yarn '99 g white linen 20/2' patterns/rails.yaml --out day.pdf", capsys)
    with pdfplumber.open("day.pdf") as pdf:
        text = " ".join(pdf.pages[0].extract_text().split())
    assert "To buy for" in text
    assert "blue linen 20/2" in text
