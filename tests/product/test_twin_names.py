"""Two files whose names are one on some system never lie side by side by our doing, and every file that is written goes
through the one place that holds this."""

from __future__ import annotations

import ast
import io
import sys
from pathlib import Path
from unicodedata import normalize

import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.files import CannotWrite, NamesThere, twins_among, write_many
from cardmaker.model.carried_file import Carried
from cardmaker.model.file_names import name_anywhere
from cardmaker.model.marks import Page
from cardmaker.pdf.attachments import held_in
from tests.helpers.painted import paint
from tests.helpers.places import ROOT

Said = pytest.CaptureFixture[str]

PATTERN = (ROOT / "patterns" / "two-rails.yaml").read_bytes()
COMPOSED, APART = normalize("NFC", "Lärche"), normalize("NFD", "Lärche")
# Pairs that are one name where capitals or composition make no difference: by the Unicode Standard, D145 and the file
# CaseFolding.txt (ß folds to ss, the long s to s, the Kelvin sign to k, final sigma to sigma).
TWINS = [
    ("Wick", "wick"),
    (COMPOSED, APART),
    (COMPOSED, APART.upper()),
    ("Straße", "STRASSE"),
    ("ſteg", "steg"),
    ("\u212a", "k"),
    ("ΟΔΟΣ", "οδος"),
    ("\u1e69", "s\u0307\u0323"),  # the marks in the other order
]


@pytest.mark.parametrize(("one", "other"), TWINS)
def test_two_names_that_some_system_takes_for_one(one: str, other: str, tmp_path: Path) -> None:
    assert one != other
    assert name_anywhere(one) == name_anywhere(other)
    paths = tmp_path / "out" / f"{one}.pdf", tmp_path / "out" / f"{other}.pdf"
    assert twins_among(paths) == paths
    with pytest.raises(CannotWrite, match=r" is to be written too, and many systems take them for one name$"):
        write_many({tmp_path / "out" / "a.pdf": b"%PDF-", **dict.fromkeys(paths, b"%PDF-")})
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("one", "other"), [("wick", "wick-2"), ("Larche", "Lärche"), ("o", "0"), ("fichte", "föhre"), ("I", "ı")]
)
def test_other_names_are_two_files(one: str, other: str, tmp_path: Path) -> None:
    paths = tmp_path / one, tmp_path / other
    assert twins_among(paths) is None
    write_many(dict.fromkeys(paths, b"x"))
    assert all(path.read_bytes() == b"x" for path in paths)


def test_two_ways_to_one_file_are_one(tmp_path: Path) -> None:
    (tmp_path / "here").mkdir()
    (tmp_path / "there").symlink_to(tmp_path / "here")
    paths = tmp_path / "here" / "a.pdf", tmp_path / "there" / "a.pdf"
    assert twins_among(paths) == paths


def test_what_is_there_under_a_twins_name_is_there(tmp_path: Path) -> None:
    (tmp_path / "Wick.yaml").write_bytes(b"hers")
    (tmp_path / "gone.yaml").symlink_to(tmp_path / "nowhere")
    there = NamesThere()
    assert there.at(tmp_path / "wick.yaml") == there.at(tmp_path / "Wick.yaml") == tmp_path / "Wick.yaml"
    assert there.at(tmp_path / "Gone.yaml") == there.at(tmp_path / "gone.yaml").with_name("gone.yaml")  # type: ignore[union-attr]
    assert there.at(tmp_path / "nine.yaml") is there.at(tmp_path / "no folder" / "a.yaml") is None
    with pytest.raises(
        CannotWrite, match=r"wick\.yaml: .*Wick\.yaml is there already, and many systems take them for one"
    ):
        write_many({tmp_path / "wick.yaml": b"ours"}, new=[tmp_path / "wick.yaml"])
    write_many({tmp_path / "wick.yaml": b"ours"})  # where it may replace, here they are two
    assert (tmp_path / "Wick.yaml").read_bytes() == b"hers"


# by the commands


@pytest.mark.parametrize(("one", "other"), TWINS[:3])
@pytest.mark.parametrize("more", [(), ("--preview",), ("--layout", "record,handout"), ("--back",)])
def test_no_card_is_made_where_two_would_meet(
    one: str, other: str, more: tuple[str, ...], empty_folder: Path, capsys: Said
) -> None:
    for name in (one, other):
        Path(f"{name}.yaml").write_bytes(PATTERN)
    assert run_command_line(["card", "nine", f"{one}.yaml", f"{other}.yaml", *more]) == 2
    told = f"Two of the patterns would be written to out/{one}-record.pdf and out/{other}-record.pdf, and many systems"
    assert told in capsys.readouterr().err
    assert not Path("out").exists()


def test_nor_where_two_layouts_are_twins(empty_folder: Path, capsys: Said) -> None:
    Path("Record.yaml").write_bytes((ROOT / "layouts/cards/record.yaml").read_bytes())
    assert run_command_line(["card", "nine", "--layout", "record,./Record.yaml"]) == 2
    assert "Two of the cards would be written to out/nine-record.pdf and out/nine-Record.pdf" in capsys.readouterr().err
    assert not Path("out").exists()


# what is asked, in the order of the questions; of a loom and a class the title is all that matters here
KINDS = {"pattern": "patterns", "loom": "layouts/looms", "yarn": "layouts/yarns", "class": "layouts/classes"}


@pytest.mark.parametrize("kind", KINDS)
def test_a_new_file_takes_no_twins_place(
    kind: str, empty_folder: Path, capsys: Said, monkeypatch: pytest.MonkeyPatch
) -> None:
    twin = Path(KINDS[kind], f"{APART.upper()}.yaml")
    twin.parent.mkdir(parents=True)
    twin.write_bytes(b"hers")
    monkeypatch.setattr(sys, "stdin", io.StringIO(f"{COMPOSED}\n"))
    asked = ["new", COMPOSED] if kind == "pattern" else ["new", "--kind", kind]
    assert run_command_line(asked) == 2
    said = capsys.readouterr()
    assert f"{twin} is there already" in said.out + said.err
    assert {path: path.read_bytes() for path in Path().rglob("*") if path.is_file()} == {twin: b"hers"}


def test_a_tape_made_over_takes_no_twins_place(empty_folder: Path, capsys: Said) -> None:
    Path("Wider.yaml").write_bytes(b"hers")
    assert run_command_line(["resize", "nine", "--ends", "11", "--out", "wider.yaml"]) == 2
    assert "Wider.yaml is there already" in capsys.readouterr().err
    assert [path.name for path in Path().iterdir()] == ["Wider.yaml"]


def test_a_binder_of_twins_gives_both_back_under_names_of_their_own(empty_folder: Path, capsys: Said) -> None:
    Path("patterns").mkdir()
    for name in (COMPOSED, APART):
        Path("patterns", f"{name}.yaml").write_bytes(PATTERN + f"# {name!a}\n".encode())
    assert run_command_line(["binder", "patterns", "--out", "book.pdf", "--jobs", "1"]) == 0
    assert run_command_line(["restore", "book.pdf", "--out", "back"]) == 0
    back = [path for path in Path("back/patterns").iterdir() if path.name[0] == "L"]
    assert {path.read_bytes() for path in back} == {path.read_bytes() for path in Path("patterns").iterdir()}
    assert len({name_anywhere(path.name) for path in back}) == 2


def test_a_document_with_two_files_for_one_place_is_refused(empty_folder: Path, capsys: Said) -> None:
    files = [Carried(f"{name}.yaml", PATTERN + f"# {name!a}\n".encode()) for name in (COMPOSED, APART)]
    Path("made.pdf").write_bytes(paint([Page(100, 100, ())], title="Made", carried=files))
    assert len(held_in(Path("made.pdf")).files) == 2
    assert run_command_line(["restore", "made.pdf", "--out", "back"]) == 1
    assert "It carries two files for one place" in capsys.readouterr().err
    assert not Path("back").exists()


@pytest.mark.parametrize("force", [(), ("--force",)])
def test_what_comes_back_takes_no_twins_place(force: tuple[str, ...], empty_folder: Path, capsys: Said) -> None:
    assert run_command_line(["card", "two-rails", "--out", "card.pdf"]) == 0
    twin = Path("back/patterns/Two-Rails.yaml")
    twin.parent.mkdir(parents=True)
    twin.write_bytes(b"hers")
    assert run_command_line(["restore", "card.pdf", "--out", "back", *force]) == 1
    told = "back/patterns/two-rails.yaml was not written, since back/patterns/Two-Rails.yaml has the same name"
    assert told in capsys.readouterr().err
    assert [path.read_bytes() for path in Path("back/patterns").iterdir()] == [b"hers"]


# every writer

WRITES = {"write_bytes", "write_text", "mkdir", "makedirs", "rename", "replace", "unlink", "remove", "rmtree", "link"}
WRITES |= {
    "symlink",
    "symlink_to",
    "hardlink_to",
    "touch",
    "copy",
    "copyfile",
    "move",
    "truncate",
    "NamedTemporaryFile",
}


def writes_in(path: Path) -> set[str]:
    """The calls of a module that would change what lies in a folder."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        of = (
            node.func.value.id if isinstance(node.func, ast.Attribute) and isinstance(node.func.value, ast.Name) else ""
        )
        strings = [
            each.value for each in ast.walk(node) if isinstance(each, ast.Constant) and isinstance(each.value, str)
        ]
        if name == "open" and any(set(text) <= set("rwaxbt+") and set(text) & set("wax+") for text in strings):
            found.add("open")
        elif name in WRITES and not (name in ("replace", "copy", "remove", "link") and of not in ("os", "shutil")):
            found.add(name)
    return found


def test_every_file_is_written_in_one_place() -> None:
    found = {
        path.relative_to(ROOT / "cardmaker").as_posix(): writes
        for path in sorted((ROOT / "cardmaker").rglob("*.py"))
        if (writes := writes_in(path))
    }
    assert found.pop("files.py") >= {"open", "replace", "link", "unlink", "write_bytes", "mkdir"}
    assert found == {}
