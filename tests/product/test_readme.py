"""The manual keeps its promises: every command prints what is shown, every file is right, every key is told."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from PIL import Image, ImageChops, ImageFilter, ImageStat

from cardmaker.card.panels import PANELS
from cardmaker.jobs import checking, file_lookup, loading, plan_making
from tests.helpers.places import ROOT
from tests.helpers.readme import (
    ADDED,
    CONSOLE,
    PAGES,
    PICTURES,
    README,
    SHOTS,
    Command,
    Done,
    blocks,
    commands,
    file_named,
    pictures,
    session,
    shows,
    with_output,
)

TEXTS = {page.relative_to(ROOT).as_posix(): page.read_text("utf-8") for page in PAGES}
TEXT = "\n".join(TEXTS.values())
FILE_KINDS = {
    "yaml pattern": "pattern", "yaml loom": "loom", "yaml pegs": "pegs", "yaml card": "layout", "yaml class": "class",
    "yaml event": "event", "yaml binder": "binder", "yaml settings": "settings", "yaml yarn": "yarn",
}  # fmt: skip
COMMANDS = {
    "begin",
    "form",
    "measured",
    "card",
    "binder",
    "sheet",
    "choose",
    "class",
    "event",
    "plan",
    "rescue",
    "check",
    "new",
    "resize",
    "list",
    "restore",
}
SECTIONS = {
    "pattern": "What stands in the file",
    "loom": "Your loom",
    "pegs": "Where you wind",
    "yarn": "Yarns on your shelf",
    "card": "Your own kind of card",
    "class": "Teaching a class",
    "event": "A day in public",
    "binder": "Keeping a binder",
    "settings": "Your own folder",
}
REFUSED = {
    "README.md": [],
    "patterns/README.md": [
        'cardmaker new "Gate Band" --stripes "2 blue9 white 2 blue"',
        "cardmaker new --form out/tape-form.pdf",
        "cardmaker check patterns/hasty.yaml",
        "cardmaker card three-path",
        "cardmaker card two-rails --paper a3",
        "cardmaker card wide-one",
    ],
    "layouts/README.md": [
        "cardmaker card three-paths --loom small-box",
        "cardmaker binder patterns --by grade --out out/own.pdf",
        "cardmaker restore out/harbour-rails-record.pdf --out second --quiet",
    ],
}
REMEDY = "Look whether it is right, then run: python -m tests.helpers.readme"


class Ran(NamedTuple):
    """Every command of one page, run once, and the folder that it was run in."""

    page: str
    commands: list[tuple[Command, Done]]
    folder: Path


@pytest.fixture(scope="module", params=TEXTS)
def ran(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Ran:
    """A page's commands, run from its top to its end in an empty folder."""
    folder = tmp_path_factory.mktemp("session")
    return Ran(request.param, list(session(TEXTS[request.param], folder)), folder)


# The commands


def test_every_command_prints_what_is_shown(ran: Ran) -> None:
    wrong = {command.line: done.printed for command, done in ran.commands if not shows(command.shown, done.printed)}
    assert not wrong, REMEDY


def test_what_is_said_to_work_works(ran: Ran) -> None:
    assert [command.line for command, done in ran.commands if done.status] == REFUSED[ran.page]


def test_every_command_of_the_program_is_shown() -> None:
    shown = {word for block in blocks(TEXT, CONSOLE) for each in commands(block) for word in each.line.split()[1:2]}
    assert shown == COMMANDS


def test_every_card_that_is_told_of_is_there(ran: Ran) -> None:
    told = [line.split("  ")[0] for _, done in ran.commands for line in done.printed if re.match(r"\S+\.pdf ", line)]
    assert told
    assert all((ran.folder / name).read_bytes().startswith(b"%PDF-") for name in told)


def test_output_that_differs_is_noticed() -> None:
    assert shows(["a", "…", "z"], ["a", "b", "c", "z"])
    assert not shows(["a", "…", "z"], ["a", "b", "c", "y"])
    assert not shows(["a", "…", "z"], ["a", "z"])
    assert not shows(["a"], ["a", "b"])


def test_stale_output_is_written_anew(ran: Ran) -> None:
    text = TEXTS[ran.page]
    stale = re.sub(r"  \((\w+) box, ", r"  (Other \1 box, ", text)
    printed = [done.printed for _, done in ran.commands]
    assert stale != text
    assert with_output(stale, printed) == with_output(text, printed)


def test_the_two_lines_of_installing_read_alike_on_windows() -> None:
    first = README.read_text("utf-8")
    here = [line for block in blocks(first, "sh") for line in block.text.splitlines()]
    there = [line for block in blocks(first, "bat") for line in block.text.splitlines()]
    assert [line.rsplit(" && ", 1)[1] for line in here] == [
        ".venv/bin/cardmaker card three-paths",
        ".venv/bin/pytest -n auto",
    ]
    assert [_on_windows(line) for line in here] == there


def _on_windows(line: str) -> str:
    return line.replace("python3", "py").replace(".venv/bin/", ".venv\\Scripts\\").replace("'", '"')


def test_the_check_script_runs_both_lines() -> None:
    script = (ROOT / ".ci" / "run").read_text("utf-8")
    assert "readme_line 'pytest -n auto'" in script
    assert "readme_line 'card three-paths'" in script


# The files


def test_every_block_is_of_a_kind_that_is_tried() -> None:
    kinds = {block.kind for block in blocks(TEXT)}
    assert kinds == {"sh", "bat", CONSOLE, "yaml pattern-part", "yaml fault", ADDED, *FILE_KINDS}


@pytest.mark.parametrize("kind", FILE_KINDS)
def test_a_file_that_is_shown_checks_clean(kind: str, empty_folder: Path) -> None:
    for block in blocks(TEXT, "yaml yarn"):  # which a pattern may name
        target = empty_folder / file_named(block)
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(block.text, encoding="utf-8")
    for block in blocks(TEXT, kind):
        assert _problems(block.text, empty_folder) == []


@pytest.mark.parametrize("part", [block.text for block in blocks(TEXT, "yaml pattern-part")])
def test_a_part_that_is_shown_fits_the_whole_file(part: str, tmp_path: Path) -> None:
    whole = _with(part)
    assert _problems(whole, tmp_path) == []
    pattern = loading.load_pattern(tmp_path / "shown.yaml")
    assert plan_making.plan_for(pattern, plan_making.load_plan_setup("middle-box", None)).ends > 0


def test_the_faulty_files_are_faulty(tmp_path: Path) -> None:
    hasty, slip = blocks(TEXT, "yaml fault")
    assert len(_problems(slip.text, tmp_path)) == 3
    assert len(_problems(hasty.text, tmp_path)) == 5


@pytest.mark.parametrize("ran", [page for page, text in TEXTS.items() if blocks(text, ADDED)], indirect=True)
def test_what_is_added_makes_a_sound_file(ran: Ran) -> None:
    added = blocks(TEXTS[ran.page], ADDED)
    assert [each for each in added if checking.problems_of_file(ran.folder / file_named(each))] == []


@pytest.mark.parametrize("ran", ["patterns/README.md"], indirect=True)
def test_what_was_measured_makes_another_card(ran: Ran) -> None:
    (added,) = blocks(TEXTS[ran.page], ADDED)
    old, new = (ran.folder / place / f"{Path(file_named(added)).stem}-record.pdf" for place in ("out", "next"))
    assert old.read_bytes() != new.read_bytes()


def _problems(text: str, folder: Path) -> list[str]:
    path = folder / "shown.yaml"
    path.write_text(text, encoding="utf-8")
    return [str(problem) for problem in checking.problems_of_file(path)]


def _with(part: str) -> str:
    """The whole pattern with the part's keys in place of its own; a count that no longer holds goes."""
    (whole,) = blocks(_section(SECTIONS["pattern"]), "yaml pattern")
    parts, own = _keys(part), _keys(whole.text)
    if "warp" in parts:
        own.pop("ends")
        names = set(re.findall(r"\d+ (\w+)", parts["warp"])) - set(re.findall(r"  (\w+):", own["yarns"]))
        assert not names or "yarns" in parts
    own |= {key: text for key, text in parts.items() if key != "yarns"}
    if "yarns" in parts:
        own["yarns"] = parts["yarns"]
    return "".join(own.values())


def _keys(text: str) -> dict[str, str]:
    """The text of every key at the left edge, by its name."""
    found = re.split(r"^(?=\w+:)", text, flags=re.MULTILINE)
    return {part.split(":")[0]: part for part in found if re.match(r"\w+:", part)}


# The keys


@pytest.mark.parametrize("kind", SECTIONS)
def test_every_key_is_told(kind: str) -> None:
    schema = json.loads((ROOT / "cardmaker" / "schemas" / f"{kind}.json").read_text("utf-8"))
    told = _section(SECTIONS[kind])
    missing = {key for key in _schema_keys(schema) if not re.search(rf"\b{key}\b(`|:)", told)}
    assert not missing


def _schema_keys(schema: Mapping[str, Any]) -> Iterator[str]:
    for key, value in schema.items():
        if key == "properties":
            yield from value
        if isinstance(value, dict):
            yield from _schema_keys(value)
        if isinstance(value, list):
            for item in value:
                if isinstance(item, dict) and key != "examples":
                    yield from _schema_keys(item)


def test_every_panel_is_told() -> None:
    told = _section("What a card shows") + _section("Several tapes on one page")
    assert not {name for name in PANELS if f"`{name}`" not in told}


def test_every_layout_that_ships_is_told_with_its_papers() -> None:
    rows = [line.split("|") for line in _section("Making a card").splitlines() if line.startswith("| `")]
    told = {name: row[3].strip() for row in rows for name in re.findall(r"`([\w-]+)`", row[1]) if name[0] != "-"}
    shipped = file_lookup.shipped_files("layout")
    assert told == {name: ", ".join(p.name for p in loading.load_layout(path).papers) for name, path in shipped.items()}


def _section(title: str) -> str:
    """The section of this heading, on whichever page it stands; it stands on one."""
    (found,) = (text.split(f"\n## {title}\n")[1] for text in TEXTS.values() if f"\n## {title}\n" in text)
    return found.split("\n## ")[0]


def test_no_key_and_no_panel_is_told_of_that_is_not_there() -> None:
    """The other way round: what the binder's table names is what its schema knows."""
    schema = json.loads((ROOT / "cardmaker" / "schemas" / "binder.json").read_text("utf-8"))
    rows = [line for line in _section("Keeping a binder").splitlines() if line.startswith("| `")]
    assert {key for row in rows for key in re.findall(r"`(\w+)`", row)} - {"yes", "no"} <= set(_schema_keys(schema))


# The pictures


@cache
def _made() -> dict[str, bytes]:
    return dict(zip(SHOTS, pictures(SHOTS.values()), strict=True))


def _shown(name: str) -> bytes:
    return (PICTURES / f"{name}.png").read_bytes()


def _difference(shown: bytes, made: bytes) -> tuple[float, float]:
    """How far a picture of the first page is from one made now: in the mean, and at its worst place; of 255.

    Both are blurred first, since another renderer's edges of type are a little different.
    """
    one, other = _blurred(shown), _blurred(made)
    assert one.size == other.size
    apart = ImageStat.Stat(ImageChops.difference(one, other))
    return max(apart.mean), max(most for _, most in apart.extrema)


def _blurred(png: bytes) -> Image.Image:
    return Image.open(BytesIO(png)).convert("RGB").filter(ImageFilter.GaussianBlur(4))


def test_the_pictures_are_small() -> None:
    sizes = {path.stem: path.stat().st_size for path in PICTURES.iterdir()}
    assert set(sizes) == set(SHOTS)
    assert max(sizes.values()) < 200_000
    assert sum(sizes.values()) < 1_000_000


def test_every_picture_is_on_the_first_page_and_told_in_words() -> None:
    told = dict(re.findall(r'src="\.pictures/([^"]+)\.png" width="\d+" alt="([^"]+)"', TEXTS["README.md"]))
    assert set(told) == set(SHOTS)
    assert all(len(words) > 40 for words in told.values())


def test_what_stands_below_a_picture_makes_it() -> None:
    """The binder's, of the shipped patterns, is shortened for the reader to the folder's name."""
    gallery = _section("What comes out")
    for name, shot in SHOTS.items():
        assert name == "card" or name.startswith("binder") or f"`{shot.command}`" in gallery


@pytest.mark.parametrize("name", SHOTS)
def test_a_picture_shows_the_page_as_it_is_now(name: str) -> None:
    mean, worst = _difference(_shown(name), _made()[name])
    assert mean < 1, REMEDY
    assert worst < 40, REMEDY


def test_a_picture_of_another_card_would_be_noticed() -> None:
    (other,) = pictures([SHOTS["card"]._replace(command="cardmaker card five-posts", file="out/five-posts-record.pdf")])
    mean, worst = _difference(_shown("card"), other)
    assert mean > 3
    assert worst > 80


def test_another_page_of_a_binder_would_be_noticed() -> None:
    (other,) = pictures([SHOTS["binder-contents"]._replace(bookmark="Indexes")])
    mean, worst = _difference(_shown("binder-contents"), other)
    assert mean > 1
    assert worst > 40
