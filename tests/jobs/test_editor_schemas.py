"""New files lead an editor to their schema, in a folder that moves with them, without internet."""

from __future__ import annotations

import getpass
import io
import json
import shutil
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs.checking import problems_of_file
from cardmaker.jobs.editor_schemas import schema_for_editors
from cardmaker.jobs.file_lookup import shipped_files
from cardmaker.reading.quick_check import schema_of

Said = pytest.CaptureFixture[str]

pytestmark = pytest.mark.usefixtures("empty_folder")

START = "# yaml-language-server: $schema="
BEGIN = ("", "", "", "Kitchen box", "", "22", "21", "2", "left", "", "", "", "Gate Band", "", "", "", "", "y")
LOOM = ("Long board", "", "40", "39", "2", "left", "", "", "", "y")


def run(arguments: list[str], monkeypatch: pytest.MonkeyPatch, answers: tuple[str, ...] = ()) -> int:
    monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{answer}\n" for answer in answers)))
    return run_command_line(arguments)


def schema_led_to(file: Path) -> dict[str, Any]:
    """What an editor reads: the line names a file, from the folder of the file that has the line."""
    (line,) = (line for line in file.read_text("utf-8").splitlines() if line.startswith(START))
    way = line.removeprefix(START)
    assert not way.startswith("/")
    assert getpass.getuser() not in way
    schema: dict[str, Any] = json.loads((file.parent / way).read_text("utf-8"))
    return schema


def is_schema_of(kind: str, led_to: dict[str, Any]) -> bool:
    """Ours, but that a number may stand wherever a text may."""
    text = json.dumps(led_to).replace('["string", "number"]', '"string"')
    return bool(json.loads(text) == schema_of(kind))


def test_every_file_of_a_folder_that_is_begun_leads_to_its_schema(
    monkeypatch: pytest.MonkeyPatch, capsys: Said, empty_folder: Path
) -> None:
    """And does so wherever the folder is moved to."""
    folder = empty_folder / "hers"
    folder.mkdir()
    monkeypatch.chdir(folder)
    assert run(["begin"], monkeypatch, BEGIN) == 0
    assert run(["new", "Red Gate"], monkeypatch) == 0
    assert ".schemas/" not in "".join(line for line in capsys.readouterr().out.splitlines() if START not in line)
    monkeypatch.chdir(empty_folder)
    folder.rename(empty_folder / "moved")
    kinds = {
        "cardmaker.yaml": "settings",
        "layouts/looms/kitchen-box.yaml": "loom",
        "patterns/gate-band.yaml": "pattern",
        "patterns/red-gate.yaml": "pattern",
    }
    for name, kind in kinds.items():
        file = Path("moved", name)
        assert is_schema_of(kind, schema_led_to(file))
        assert problems_of_file(file) == []
        jsonschema.validate(as_an_editor_reads(file.read_text("utf-8")), schema_led_to(file))
    assert sorted(path.name for path in Path("moved/.schemas").iterdir()) == [
        "loom.json", "pattern.json", "settings.json",
    ]  # fmt: skip


def test_what_is_shown_before_it_is_written_is_what_is_written(monkeypatch: pytest.MonkeyPatch, capsys: Said) -> None:
    assert run(["new", "--kind", "loom"], monkeypatch, LOOM) == 0
    assert f"  {START}../../.schemas/loom.json\n" in capsys.readouterr().out
    assert is_schema_of("loom", schema_led_to(Path("layouts/looms/long-board.yaml")))


def test_from_a_folder_below_it_is_the_one_of_her_own_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    Path("cardmaker.yaml").write_text("units: us\n")
    Path("notes/2026").mkdir(parents=True)
    monkeypatch.chdir("notes/2026")
    assert run(["new", "Red Gate"], monkeypatch) == 0
    monkeypatch.chdir("../..")
    assert is_schema_of("pattern", schema_led_to(Path("patterns/red-gate.yaml")))
    assert Path(".schemas/pattern.json").is_file()


def test_in_a_folder_elsewhere_it_lies_beside_the_file(monkeypatch: pytest.MonkeyPatch, empty_folder: Path) -> None:
    (empty_folder / "hers").mkdir()
    monkeypatch.chdir("hers")
    assert run(["new", "Red Gate", "--out", "../elsewhere"], monkeypatch) == 0
    assert is_schema_of("pattern", schema_led_to(Path("../elsewhere/red-gate.yaml")))
    assert not Path(".schemas").exists()


def test_an_older_schema_is_replaced(monkeypatch: pytest.MonkeyPatch) -> None:
    Path(".schemas").mkdir()
    Path(".schemas/pattern.json").write_text("{}")
    assert run(["new", "Red Gate"], monkeypatch) == 0
    assert is_schema_of("pattern", schema_led_to(Path("patterns/red-gate.yaml")))


@pytest.mark.parametrize("how", ["in place", "anew"])
def test_a_pattern_made_over_keeps_the_line_once(how: str, monkeypatch: pytest.MonkeyPatch) -> None:
    assert run(["new", "Red Gate"], monkeypatch) == 0
    file = Path("patterns/red-gate.yaml")
    if how == "anew":
        text = file.read_text("utf-8").replace("title: Red Gate", "# mine\ntitle: >\n  Red Gate")
        file.write_text(text, "utf-8")
    for name, ends in (("wider", 17), ("widest", 21)):
        assert run(["resize", str(file), "--ends", str(ends), "--out", f"patterns/{name}.yaml"], monkeypatch) == 0
        file = Path(f"patterns/{name}.yaml")
        assert "# mine\n" not in file.read_text("utf-8")
        assert is_schema_of("pattern", schema_led_to(file))
        assert problems_of_file(file) == []


def test_a_restored_file_leads_to_its_schema_too(monkeypatch: pytest.MonkeyPatch) -> None:
    assert run(["new", "Red Gate"], monkeypatch) == 0
    assert run(["card", "red-gate", "--out", "card.pdf"], monkeypatch) == 0
    for folder in ("patterns", ".schemas"):
        shutil.rmtree(folder)
    assert run(["restore", "card.pdf", "--out", "back"], monkeypatch) == 0
    assert is_schema_of("pattern", schema_led_to(Path("back/patterns/red-gate.yaml")))
    assert run(["restore", "card.pdf"], monkeypatch) == 0
    assert is_schema_of("pattern", schema_led_to(Path("patterns/red-gate.yaml")))


def test_a_line_that_leads_out_of_the_folder_writes_nothing_there(
    monkeypatch: pytest.MonkeyPatch, empty_folder: Path
) -> None:
    """A document may come from anybody."""
    assert run(["new", "Red Gate"], monkeypatch) == 0
    file = Path("patterns/red-gate.yaml")
    file.write_text(file.read_text("utf-8").replace("../.schemas", "../../out/.schemas"), "utf-8")
    assert run(["card", "red-gate", "--out", "card.pdf"], monkeypatch) == 0
    (empty_folder / "hers").mkdir()
    monkeypatch.chdir("hers")
    assert run(["restore", "../card.pdf"], monkeypatch) == 0
    assert sorted(path.as_posix() for path in empty_folder.rglob("*.json")) == [f"{empty_folder}/.schemas/pattern.json"]


@pytest.mark.parametrize("kind", ["pattern", "loom", "pegs", "class", "event", "binder", "settings", "card"])
def test_editors_find_no_fault_with_what_ships(kind: str) -> None:
    """They take 1 for a number where our reader takes it as it is typed."""
    schema = json.loads(schema_for_editors(kind))
    jsonschema.Draft202012Validator.check_schema(schema)
    folder = {"card": "layout"}.get(kind, kind)
    files = [] if kind == "settings" else list(shipped_files(folder).values())  # type: ignore[arg-type]
    for file in files:
        jsonschema.validate(as_an_editor_reads(file.read_text("utf-8")), schema)


def as_an_editor_reads(text: str) -> Any:
    """YAML 1.2: dates are text, and so are yes and no."""

    class Loader(yaml.SafeLoader):
        pass

    kept = ("tag:yaml.org,2002:int", "tag:yaml.org,2002:float", "tag:yaml.org,2002:null")
    Loader.yaml_implicit_resolvers = {
        first: [(tag, form) for tag, form in resolvers if tag in kept]
        for first, resolvers in yaml.SafeLoader.yaml_implicit_resolvers.items()
    }
    return yaml.load(text, Loader)
