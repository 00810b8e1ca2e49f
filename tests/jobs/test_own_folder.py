"""Whose file a name means: hers before those that are shipped, and what her settings say."""

from __future__ import annotations

import contextlib
import os
from pathlib import Path

import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import file_lookup, paper_lookup
from cardmaker.jobs.file_lookup import WrongUsage, find
from cardmaker.jobs.loading import load_pattern
from cardmaker.jobs.plan_making import load_plan_setup, plan_for
from tests.helpers.places import ROOT
from tests.helpers.shipped import shipped_layout

Said = pytest.CaptureFixture[str]

LOOM = "title: {title}\nkind: one heddle\nslots: {slots}\nholes: {holes}\nmark: counted as zero\nwaste: 20 in\n"
PATTERN = """\
title: Gate Band
yarns: {blue: {fibre: cotton, count: 8/2}, white: {fibre: cotton, count: 8/2}}
warp: [3 blue, 9 white, 3 blue]
"""


@pytest.fixture
def her_folder(empty_folder: Path) -> Path:
    """A folder with two looms and a pattern of her own."""
    (empty_folder / "layouts/looms").mkdir(parents=True)
    (empty_folder / "patterns").mkdir()
    write_loom("kitchen-box", 22, 21)
    write_loom("little-board", 12, 11)
    Path("patterns/gate-band.yaml").write_text(PATTERN)
    return empty_folder


def write_loom(stem: str, slots: int, holes: int) -> None:
    title = stem.replace("-", " ").capitalize()
    Path(f"layouts/looms/{stem}.yaml").write_text(LOOM.format(title=title, slots=slots, holes=holes))


def loom_of_plan() -> str:
    return plan_for(load_pattern(find("pattern", "gate-band")), load_plan_setup(None, None)).loom.stem


def run(capsys: Said, *arguments: str) -> tuple[int, str, str]:
    try:
        status = run_command_line(arguments)
    except SystemExit as end:
        status = end.code if isinstance(end.code, int) else 0
    return (status, *capsys.readouterr())


@pytest.mark.usefixtures("her_folder")
def test_looms_of_her_own_are_chosen_and_compared_and_no_others() -> None:
    """A smaller loom that ships would hold it too."""
    setup = load_plan_setup(None, None)
    assert [loom.stem for loom in setup.looms] == ["kitchen-box", "little-board"]
    plan = plan_for(load_pattern(find("pattern", "gate-band")), setup)
    assert plan.loom.stem == "little-board"
    assert [fit.title for fit in plan.other_looms] == ["Kitchen box"]


@pytest.mark.usefixtures("her_folder")
def test_a_loom_that_ships_is_used_where_she_names_it() -> None:
    setup = load_plan_setup("small-box", None)
    assert setup.loom is not None
    assert setup.loom.stem == "small-box"


@pytest.mark.usefixtures("empty_folder")
def test_without_looms_of_her_own_those_that_ship_are_at_hand() -> None:
    assert [*file_lookup.at_hand("loom")] == ["broad-paddle", "middle-box", "small-box", "treadle-pair"]


@pytest.mark.parametrize(
    ("settings", "chosen"),
    [
        ("loom: kitchen-box\n", "kitchen-box"),
        ("loom: small-box\n", "small-box"),  # shipped, and named
        ("looms: [kitchen-box]\n", "kitchen-box"),
        ("loom: layouts/looms/kitchen-box.yaml\n", "kitchen-box"),
        ("units: us\n", "little-board"),
    ],
)
@pytest.mark.usefixtures("her_folder")
def test_the_loom_of_the_settings_comes_first(settings: str, chosen: str) -> None:
    Path("cardmaker.yaml").write_text(settings)
    assert loom_of_plan() == chosen


@pytest.mark.usefixtures("her_folder")
def test_a_loom_of_the_settings_that_is_too_small_gives_way_to_one_that_holds_it() -> None:
    Path("cardmaker.yaml").write_text("loom: tiny\n")
    write_loom("tiny", 5, 4)
    assert loom_of_plan() == "little-board"


def test_settings_are_found_from_a_folder_below(her_folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (her_folder / "cardmaker.yaml").write_text("loom: kitchen-box\n")
    below = her_folder / "notes/2026"
    below.mkdir(parents=True)
    monkeypatch.chdir(below)
    assert find("pattern", "gate-band") == Path("../../patterns/gate-band.yaml")
    assert loom_of_plan() == "kitchen-box"
    assert run_command_line(["card", "gate-band", "--quiet"]) == 0
    assert (her_folder / "out/gate-band-record.pdf").is_file()


@pytest.mark.usefixtures("her_folder")
def test_every_setting_is_as_if_the_command_had_said_it(capsys: Said) -> None:
    Path("cardmaker.yaml").write_text(
        "loom: kitchen-box\nunits: us\npaper: a4\nhand: left\nfrom: behind\nlayout: bench\nout: cards\n"
    )
    assert run(capsys, "card", "gate-band")[0] == 0
    (made,) = Path("cards").iterdir()
    assert made.name == "gate-band-bench-left-behind.pdf"
    by_settings = made.read_bytes()
    Path("cardmaker.yaml").unlink()
    said = (
        "card gate-band --loom kitchen-box --units us --paper a4 --hand left --from behind --layout bench --out cards"
    )
    assert run(capsys, *said.split())[0] == 0
    assert made.read_bytes() == by_settings


@pytest.mark.usefixtures("her_folder")
@pytest.mark.parametrize("form", ["", "--json"])
def test_the_units_of_the_settings_hold_for_a_plan_too(form: str, capsys: Said) -> None:
    """So the plan in the terminal winds the length that the card of the same folder tells."""
    plan = ["plan", "gate-band", *form.split()]
    metric = run(capsys, *plan)
    asked = run(capsys, *plan, "--units", "us")
    Path("cardmaker.yaml").write_text("units: us\n")
    assert run(capsys, *plan) == asked != metric
    assert run(capsys, *plan, "--units", "metric") == metric


@pytest.mark.usefixtures("her_folder")
def test_what_a_command_says_comes_before_the_settings(capsys: Said) -> None:
    Path("cardmaker.yaml").write_text("loom: kitchen-box\npaper: a4\nlayout: handout\n")
    _, out, _ = run(capsys, "card", "gate-band", "--loom", "little-board", "--layout", "record", "--paper", "letter")
    assert out.startswith("out/gate-band-record.pdf  (Little board, letter)")


@pytest.mark.usefixtures("her_folder")
def test_a_paper_that_a_layout_lacks_is_only_a_wish(capsys: Said) -> None:
    Path("cardmaker.yaml").write_text("paper: a4\n")
    status, out, _ = run(capsys, "card", "gate-band", "--layout", "six-numbers")
    assert (status, "a4" in out) == (0, False)


@pytest.mark.parametrize(
    ("settings", "told"),
    [
        ("lom: kitchen-box\n", "cardmaker.yaml:1:1: "),
        (
            "loom: kitchenbox\n",
            "cardmaker.yaml:1:1: loom: There is no loom named 'kitchenbox'. Did you mean kitchen-box?",
        ),
        ("units: imperial\n", "cardmaker.yaml:1:8: units: "),
        ("hand: both\n", "cardmaker.yaml:1:7: hand: "),
        ("looms: []\n", "cardmaker.yaml:1:"),
    ],
)
@pytest.mark.usefixtures("her_folder")
def test_settings_are_checked_as_every_other_file(settings: str, told: str, capsys: Said) -> None:
    Path("cardmaker.yaml").write_text(settings)
    status, _, err = run(capsys, "card", "gate-band")
    assert status == 1
    assert err.startswith(told)


@pytest.mark.usefixtures("her_folder")
def test_the_binder_of_her_folder_has_hers(capsys: Said) -> None:
    status, out, _ = run(capsys, "binder", "patterns")
    assert (status, out.startswith("out/binder.pdf  (1 card ")) == (0, True)


@pytest.mark.usefixtures("her_folder")
def test_what_lies_in_the_folder_does_not_hide_a_name() -> None:
    """Rule: a name that ends in .yaml or has a slash in it is a path; any other is a stem."""
    Path("handout").mkdir()
    Path("gate-band").write_text("a note")
    assert find("layout", "handout").is_file()
    assert find("pattern", "gate-band") == Path("patterns/gate-band.yaml")
    assert find("pattern", "./gate-band") == Path("gate-band")


@pytest.mark.usefixtures("her_folder")
def test_not_found_says_where_it_looked_and_where_it_lies() -> None:
    with pytest.raises(
        WrongUsage, match=r"^There is no pattern named 'zzz'\. Looked in patterns and what is shipped: "
    ):
        find("pattern", "zzz")
    Path("out").mkdir()
    Path("out/harbour-rails.yaml").write_text(PATTERN)
    with pytest.raises(WrongUsage) as refused:
        find("pattern", "harbour-rails")
    assert str(refused.value) == (
        "There is no pattern named 'harbour-rails'. It was looked for in patterns; out/harbour-rails.yaml lies "
        "elsewhere: name it by that path."
    )


@pytest.mark.usefixtures("her_folder")
def test_the_list_tells_hers_first_and_those_shipped_apart(capsys: Said) -> None:
    _, out, _ = run(capsys, "list")
    assert out.startswith("your looms\n  kitchen-box        Kitchen box, 43 ends at most\n  little-board ")
    assert out.index("your patterns\n  gate-band ") < out.index("looms that are shipped\n  broad-paddle ")
    assert "patterns that are shipped\n  bare-thread " in out


def test_in_a_checkout_hers_and_those_shipped_lie_side_by_side(
    empty_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As if the program lay in her folder."""
    for name in ("patterns/three-paths.yaml", "layouts/looms/small-box.yaml"):
        (empty_folder / name).parent.mkdir(parents=True, exist_ok=True)
        (empty_folder / name).write_bytes((ROOT / name).read_bytes())
    (empty_folder / "patterns/gate-band.yaml").write_text(PATTERN)
    monkeypatch.setattr(file_lookup, "shipped", lambda: empty_folder)
    monkeypatch.setattr(
        file_lookup, "shipped_names", lambda: ("layouts/looms/small-box.yaml", "patterns/three-paths.yaml")
    )
    assert [*file_lookup.own_files("pattern")] == ["gate-band"]
    assert [*file_lookup.at_hand("pattern")] == ["gate-band"]
    assert file_lookup.own_files("loom") == {}
    assert file_lookup.at_hand("loom") == {"small-box": Path("layouts/looms/small-box.yaml")}
    assert find("pattern", "three-paths") == Path("patterns/three-paths.yaml")


@pytest.mark.parametrize(
    ("paper", "layout", "used"),
    [
        ("a4", "record", "a4"),
        ("a4", "handout", "a5"),
        ("a4", "field", "a6"),
        ("letter", "handout", "half-letter"),
        ("letter", "field", "4x6"),
        ("a5", "record", "a4"),
    ],
)
def test_a_card_is_on_the_nearest_kind_of_the_settings_paper(paper: str, layout: str, used: str) -> None:
    """Half a sheet of A4 is A5 (ISO 216): no printer of A4 is handed a half of Letter."""
    assert paper_lookup.paper_of(shipped_layout(layout), None, paper).name == used


@pytest.mark.usefixtures("her_folder")
def test_a_folder_that_must_not_be_looked_into_is_told(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    """Else her patterns would be missing without a word, and shipped ones chosen instead."""
    listed = os.listdir

    def locked(folder: str | Path) -> list[str]:
        if Path(folder).name == "patterns":
            raise PermissionError(13, "Permission denied")
        return listed(folder)

    monkeypatch.setattr(os, "listdir", locked)
    for words in (("list",), ("card", "gate-band")):
        status, _, told = run(capsys, *words)
        assert status == 2
        assert told == "cardmaker: The folder patterns cannot be looked into: it allows nobody to read it.\n"


def test_a_folder_that_is_gone_is_told(empty_folder: Path, capsys: Said) -> None:
    gone = empty_folder / "gone"
    gone.mkdir()
    with contextlib.chdir(gone):
        gone.rmdir()
        try:
            assert run(capsys, "card", "three-paths")[::2] == (
                1,
                "cardmaker: the folder that you are in is not there any more: go into another.\n",
            )
        finally:
            gone.mkdir()
