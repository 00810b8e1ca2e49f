"""``resize`` of a pattern whose yarns have files of their own, and into a yarn that has one."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs.loading import load_pattern
from cardmaker.model.pattern import Pattern

Said = pytest.CaptureFixture[str]

LINEN = "title: Loft linen\nfibre: linen\ncount: 20/2\n"
COTTON = "title: Loft cotton\nfibre: cotton\ncount: 8/2\npackage: {weight: 50 g, price: $3}\n"
GATE = """\
title: Gate Band
yarns:
  blue: {yarn: loft-linen, shade: Night, colour: "#2f4a7d"}     # the dark one
  white:                    # the light one
    yarn: loft-linen
    shade: Snow
warp:
  - 3 blue
  - 9 white
  - 3 blue
"""


@pytest.fixture(autouse=True)
def hers(empty_folder: Path) -> None:
    for folder in ("patterns", "layouts/yarns"):
        (empty_folder / folder).mkdir(parents=True)
    put("layouts/yarns/loft-linen.yaml", LINEN)
    put("layouts/yarns/loft-cotton.yaml", COTTON)
    put("patterns/gate-band.yaml", GATE)


def put(place: str, text: str) -> None:
    Path(place).write_text(text, "utf-8")


def resized(capsys: Said, *options: str) -> tuple[str, str]:
    """The new file, and what was said."""
    Path("patterns/new.yaml").unlink(missing_ok=True)
    status = run_command_line(["resize", "gate-band", *options, "--out", "patterns/new.yaml"])
    said = capsys.readouterr()
    assert (status, "could not be changed in place" in said.err) == (0, False), said.err
    return Path("patterns/new.yaml").read_text(), said.err


def new_pattern() -> Pattern:
    return load_pattern(Path("patterns/new.yaml"))


def stems() -> list[str]:
    return [yarn.shelf.stem if yarn.shelf else "" for yarn in new_pattern().yarns]


def test_another_size_still_names_its_yarns(capsys: Said) -> None:
    text, _ = resized(capsys, "--ends", "21")
    assert '  blue: {yarn: loft-linen, shade: Night, colour: "#2f4a7d"}     # the dark one\n' in text
    assert stems() == ["loft-linen", "loft-linen"]


def test_the_width_is_reckoned_with_what_tapes_of_the_yarn_taught(capsys: Said) -> None:
    """20 mm at 40 ends to the inch are 31 or 32 ends; nothing of it is written into the pattern."""
    put("layouts/yarns/loft-linen.yaml", LINEN + "measured: [{pattern: Low Gate, date: 2026, ends_per_inch: 40}]\n")
    text, _ = resized(capsys, "--width", "20 mm")
    assert "ends_per_inch" not in text
    assert 30 <= sum(stripe.ends for stripe in new_pattern().warp if hasattr(stripe, "ends")) <= 33


def test_what_its_own_tape_had_is_said_beside_the_name_of_the_yarn(capsys: Said) -> None:
    put("patterns/gate-band.yaml", f"{GATE}width: 10 mm\n")
    text, _ = resized(capsys, "--ends", "21")
    assert '{yarn: loft-linen, shade: Night, colour: "#2f4a7d", ends_per_inch: 38.1}' in text
    assert stems() == ["loft-linen", "loft-linen"]


def test_another_yarn_is_described_in_the_place_of_the_file(capsys: Said) -> None:
    text, _ = resized(capsys, "--yarn", "cotton 8/2")
    assert '  blue: {fibre: cotton, colour: "#2f4a7d", count: 8/2}     # the dark one\n' in text
    yarns = new_pattern().yarns
    assert [(yarn.fibre, yarn.count, yarn.shade, yarn.shelf) for yarn in yarns] == [("cotton", "8/2", "", None)] * 2


def test_a_yarn_with_a_file_is_named_by_it(capsys: Said) -> None:
    resized(capsys, "--yarn", "loft-cotton")
    assert stems() == ["loft-cotton", "loft-cotton"]
    put("patterns/gate-band.yaml", GATE.replace("yarn: loft-linen", "fibre: linen\n    count: 20/2").replace(
        "{fibre: linen\n    count: 20/2,", "{fibre: linen, count: 20/2,"))  # fmt: skip
    text, _ = resized(capsys, "--yarn", "loft-cotton")
    assert stems() == ["loft-cotton", "loft-cotton"]
    assert "{yarn: loft-cotton, colour:" in text
    assert [yarn.package is not None for yarn in new_pattern().yarns] == [True, True]


def test_a_yarn_of_one_shade_cannot_be_all_of_them(capsys: Said) -> None:
    put("layouts/yarns/loft-cotton.yaml", f"{COTTON}shade: Sky\n")
    assert run_command_line(["resize", "gate-band", "--yarn", "loft-cotton"]) == 1
    assert capsys.readouterr().err == (
        "patterns/gate-band.yaml:2:1: yarns: loft-cotton is of one shade, Sky, and blue, white would all be of it. "
        "Change them in the file, each to a yarn of its own.\n"
    )


def test_a_misspelt_yarn_names_the_nearest(capsys: Said) -> None:
    assert run_command_line(["resize", "gate-band", "--yarn", "loft-coton"]) == 2
    assert capsys.readouterr().err == "cardmaker: 'loft-coton' is not a yarn. Did you mean loft-cotton?\n"


def test_a_file_written_anew_names_its_yarns_too(capsys: Said) -> None:
    put(
        "patterns/gate-band.yaml",
        "title: >\n  Gate Band\nyarns: {blue: {yarn: loft-linen, shade: Sea}}\nwarp: [9 blue]\n",
    )
    assert run_command_line(["resize", "gate-band", "--ends", "11"]) == 0
    assert "  blue: {yarn: loft-linen, shade: Sea}\n" in capsys.readouterr().out
