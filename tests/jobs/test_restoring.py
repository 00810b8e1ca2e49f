"""What a card carries comes back byte for byte; what a hostile document carries comes back as one line of refusal."""

from __future__ import annotations

import json
import os
import zlib
from collections.abc import Callable
from contextlib import suppress
from io import BytesIO
from pathlib import Path
from random import Random
from typing import Any

import pikepdf
import pypdf
import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.model.carried_file import HOW_MADE, LARGEST_FILE, Carried, is_plain_name, plain_name
from cardmaker.model.file_names import name_anywhere
from cardmaker.model.marks import Page
from cardmaker.pdf.attachments import CannotRestore, held_in
from cardmaker.pdf.distrusted import CannotReadPdf, read_distrusted
from tests.fuzz.greedy_documents import GREEDY, faults_of, restored
from tests.helpers.painted import paint
from tests.helpers.places import ROOT, shipped_in

PATTERN = ROOT / "patterns" / "three-paths.yaml"
LOOM = ROOT / "layouts" / "looms" / "broad-paddle.yaml"
CARRIED = [PATTERN, *shipped_in("layouts/looms"), ROOT / "layouts" / "cards" / "record.yaml"]


@pytest.fixture
def card(tmp_path: Path) -> Path:
    target = tmp_path / "card.pdf"
    assert run_command_line(["card", str(PATTERN), "--loom", str(LOOM), "--out", str(target), "--quiet"]) == 0
    return target


def document(tmp_path: Path, *files: Carried) -> Path:
    target = tmp_path / "made.pdf"
    target.write_bytes(paint([Page(100, 100, ())], title="Made", carried=files))
    return target


# What comes back


def test_pattern_and_loom_come_back_byte_for_byte(
    card: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "back"
    assert run_command_line(["restore", str(card), "--out", str(out)]) == 0
    back = {path.relative_to(out): path.read_bytes() for path in out.rglob("*.yaml")}
    assert back == {path.relative_to(ROOT): path.read_bytes() for path in CARRIED}
    assert run_command_line(["restore", str(card), "--out", str(out)]) == 0  # the same again is no harm
    assert capsys.readouterr().out.count("just the same") == len(CARRIED)


def test_odd_line_ends_and_marks_come_back_as_typed(tmp_path: Path) -> None:
    typed = b"\xef\xbb\xbf" + PATTERN.read_bytes().replace(b"\n", b"\r\n")
    source = tmp_path / "three-paths.yaml"
    source.write_bytes(typed)
    assert run_command_line(["card", str(source), "--out", str(tmp_path / "card.pdf"), "--quiet"]) == 0
    assert run_command_line(["restore", str(tmp_path / "card.pdf"), "--out", str(tmp_path / "back"), "--quiet"]) == 0
    assert (tmp_path / "back/patterns/three-paths.yaml").read_bytes() == typed


def attached_by_pikepdf(pdf: bytes) -> dict[str, bytes]:
    with pikepdf.open(BytesIO(pdf)) as opened:
        return {name: file.get_file().read_bytes() for name, file in opened.attachments.items()}


def attached_by_pypdf(pdf: bytes) -> dict[str, bytes]:
    return {name: files[0] for name, files in pypdf.PdfReader(BytesIO(pdf)).attachments.items()}


@pytest.mark.parametrize("attached", [attached_by_pikepdf, attached_by_pypdf])
def test_other_readers_find_the_files(card: Path, attached: Callable[[bytes], dict[str, bytes]]) -> None:
    found = attached(card.read_bytes())
    assert json.loads(found.pop(HOW_MADE))["command"] == "card"
    assert found == {path.name: path.read_bytes() for path in CARRIED}


def test_the_card_says_what_it_is(card: Path) -> None:
    held = held_in(card)
    assert (held.code, held.version) == ("T08", "2")
    assert held.digest.startswith("sha256:")
    assert len(held.digest) == 7 + 64
    with pikepdf.open(card) as pdf, pdf.open_metadata() as metadata:
        assert metadata["{urn:cardmaker:card}ContentDigest"] == held.digest
        assert metadata["dc:title"] == str(pdf.docinfo["/Title"]) == "Three Paths (T08)"


def test_the_digest_goes_with_the_files(card: Path, tmp_path: Path) -> None:
    def digest(pattern: Path) -> str:
        target = tmp_path / f"{len(list(tmp_path.iterdir()))}.pdf"
        assert run_command_line(["card", str(pattern), "--loom", str(LOOM), "--out", str(target), "--quiet"]) == 0
        return held_in(target).digest

    changed = tmp_path / "three-paths.yaml"
    changed.write_bytes(PATTERN.read_bytes() + b"# a remark\n")
    assert digest(PATTERN) == held_in(card).digest != digest(changed)


def test_another_file_of_that_name_stays_unless_forced(
    card: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "back"
    mine = out / "patterns" / PATTERN.name
    mine.parent.mkdir(parents=True)
    mine.write_text("mine")
    assert run_command_line(["restore", str(card), "--out", str(out)]) == 1
    said = capsys.readouterr().err.splitlines()
    assert said[0] == f"{mine} is there already, and differs: it was left as it is."
    assert len(said) == 2
    assert mine.read_text() == "mine"
    assert {path.name for path in out.rglob("*.yaml")} == {path.name for path in CARRIED}  # the others are written
    assert run_command_line(["restore", str(card), "--out", str(out), "--force"]) == 0
    assert mine.read_bytes() == PATTERN.read_bytes()


# Hostile documents


def test_no_force_follows_a_link_out_of_the_folder(card: Path, tmp_path: Path) -> None:
    elsewhere, out = tmp_path / "elsewhere", tmp_path / "back"
    elsewhere.mkdir()
    out.mkdir()
    (elsewhere / PATTERN.name).write_text("mine")
    (out / "patterns").symlink_to(elsewhere, target_is_directory=True)
    assert run_command_line(["restore", str(card), "--out", str(out), "--force"]) == 1
    assert (elsewhere / PATTERN.name).read_text() == "mine"


def renamed(name: str) -> Callable[[Any], None]:
    def change(pdf: Any) -> None:
        specification = pdf.Root.Names.EmbeddedFiles.Names[1]
        specification.F = specification.UF = pikepdf.String(name)

    return change


def bomb(pdf: Any) -> None:
    stream = pdf.make_stream(b"")
    stream.write(zlib.compress(b"\0" * (64 * 1024 * 1024)), filter=pikepdf.Name.FlateDecode)
    pdf.Root.Names.EmbeddedFiles.Names[1].EF = pikepdf.Dictionary(F=stream, UF=stream)


def torn_stream(pdf: Any) -> None:
    stream = pdf.make_stream(b"")
    stream.write(zlib.compress(PATTERN.read_bytes())[:-40], filter=pikepdf.Name.FlateDecode)
    pdf.Root.Names.EmbeddedFiles.Names[1].EF = pikepdf.Dictionary(F=stream, UF=stream)


def other_packing(pdf: Any) -> None:
    pdf.Root.Names.EmbeddedFiles.Names[1].EF.F.Filter = pikepdf.Name.ASCIIHexDecode


def endless(pdf: Any) -> None:
    tree = pdf.make_indirect(pikepdf.Dictionary())
    tree.Kids = pikepdf.Array([tree, tree])
    pdf.Root.Names.EmbeddedFiles = tree


def twice(pdf: Any) -> None:
    names = pdf.Root.Names.EmbeddedFiles.Names
    names.extend([pikepdf.String("A"), names[1]])


def no_names(pdf: Any) -> None:
    del pdf.Root.Names


def numbers(pdf: Any) -> None:
    pdf.Root.Names.EmbeddedFiles = 7


def no_stream(pdf: Any) -> None:
    pdf.Root.Names.EmbeddedFiles.Names[1].EF = pikepdf.Dictionary(F=12, UF=pikepdf.Array([1]))


NAMES = (
    "../three-paths.yaml", "/etc/three-paths.yaml", "a/b.yaml", "a\\b.yaml", "C:x.yaml", "..", ".yaml", ".bashrc",
    "three-paths", "card.sh", "con.yaml", "COM1.yaml", "a\0.yaml", "a\n.yaml", "\u202egnp.yaml", " x.yaml", "x.yaml ",
    "COM¹.yaml", "-rf.yaml", "x" * 300 + ".yaml", "lpt9.tar.yaml", "a\u200b.yaml", "~/x.yaml", "nul .yaml", "",
)  # fmt: skip
HARM: dict[str, tuple[Callable[[Any], None], str]] = {
    "bomb": (bomb, "larger than a pattern can be"),
    "torn": (torn_stream, "is torn"),
    "packing": (other_packing, "packed in a way"),
    "endless": (endless, "knotted into itself"),
    "twice": (twice, "two files named"),
    "none": (no_names, "carries no pattern"),
    "numbers": (numbers, "carries no pattern"),
    "no stream": (no_stream, "empty or torn"),
    **{f"name {name!a}": (renamed(name), "no plain name") for name in NAMES if name},
}


@pytest.mark.parametrize("harm", HARM)
def test_harm_is_refused_in_one_line_and_nothing_is_written(
    harm: str, card: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    change, told = HARM[harm]
    hostile, out = tmp_path / "hostile.pdf", tmp_path / "a" / "back"
    out.mkdir(parents=True)
    with pikepdf.open(card) as pdf:
        change(pdf)
        pdf.save(hostile)
    assert run_command_line(["restore", str(hostile), "--out", str(out), "--force"]) == 1
    said = capsys.readouterr().err
    assert said.startswith(f"{hostile}:1:1: ")
    assert told in said
    assert said.count("\n") == 1
    assert list(out.iterdir()) == []
    assert sorted(path.name for path in tmp_path.rglob("*")) == ["a", "back", "card.pdf", "hostile.pdf"]


@pytest.mark.parametrize("kind", GREEDY)
def test_a_small_document_that_asks_for_everything_ends_in_a_sentence(kind: str, tmp_path: Path) -> None:
    document, out = tmp_path / "greedy.pdf", tmp_path / "out"
    document.write_bytes(GREEDY[kind](Random(kind)))
    assert faults_of(restored(document, out), document, out) == []


def test_what_takes_too_long_to_read_is_refused(card: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """By the clock of this process's own work, though a library catches every error of its own on the way."""

    def read_on(_reader: object) -> None:
        while True:
            with suppress(Exception):
                sum(range(1000))

    monkeypatch.setattr("cardmaker.pdf.distrusted.MOST_SECONDS", 0.05)
    with pytest.raises(CannotReadPdf, match="takes longer to read"):
        read_distrusted(card.read_bytes(), read_on)
    assert read_distrusted(card.read_bytes(), lambda reader: len(reader.pages)) == 1  # the clock is put back


def test_a_pipe_and_a_device_are_not_read(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    for path in (tmp_path / "pipe", Path("/dev/zero")):
        with pytest.raises(CannotRestore, match="not a file"):
            held_in(path)


def kept_checksum(pdf: Any) -> None:
    names = list(pdf.Root.Names.EmbeddedFiles.Names)
    stream = names[names.index(pikepdf.String("three-paths.yaml")) + 1].EF.F
    told = stream.Params
    stream.write(stream.read_bytes().replace(b"3 blue", b"5 blue"))
    stream.Params = told


def new_checksum(pdf: Any) -> None:
    name = "three-paths.yaml"
    data = pdf.attachments[name].get_file().read_bytes()
    pdf.attachments[name] = pikepdf.AttachedFileSpec(pdf, data + b"# mine\n", filename=name)


@pytest.mark.parametrize(
    ("change", "told"),
    [(kept_checksum, "three-paths.yaml is not what it was made from"), (new_checksum, "Its files are not those")],
)
def test_what_was_changed_inside_a_card_is_told(
    change: Callable[[Any], None], told: str, card: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    changed, out = tmp_path / "changed.pdf", tmp_path / "out"
    with pikepdf.open(card) as pdf:
        change(pdf)
        pdf.save(changed)
    assert run_command_line(["restore", str(card), "--out", str(out)]) == 0
    assert "made from" not in capsys.readouterr().out
    assert run_command_line(["restore", str(changed), "--out", str(tmp_path / "other")]) == 0
    assert told in capsys.readouterr().out


def test_a_locked_card_is_refused(card: Path, tmp_path: Path) -> None:
    with pikepdf.open(card) as pdf:
        pdf.save(tmp_path / "locked.pdf", encryption=pikepdf.Encryption(owner="o", user="u"))
    with pytest.raises(CannotRestore, match="locked with a password"):
        held_in(tmp_path / "locked.pdf")


@pytest.mark.parametrize("share", [0, 0.01, 0.3, 0.6, 0.9, 0.99])
def test_a_torn_card_is_refused_or_whole(card: Path, tmp_path: Path, share: float) -> None:
    data = card.read_bytes()
    torn = tmp_path / "torn.pdf"
    torn.write_bytes(data[: int(len(data) * share)])
    try:
        files = held_in(torn).files
    except CannotRestore as no:
        files, said = (), str(no)
        assert "\n" not in said
    assert {file.data for file in files} <= {path.read_bytes() for path in CARRIED}


@pytest.mark.parametrize(
    "data", [b"", b"title: Three Paths\n", b"%PDF-1.7\n%%EOF\n", b"\x89PNG\r\n\x1a\n" + b"\0" * 90]
)
def test_what_is_no_card_is_refused(data: bytes, tmp_path: Path) -> None:
    (tmp_path / "no.pdf").write_bytes(data)
    with pytest.raises(CannotRestore):
        held_in(tmp_path / "no.pdf")


@pytest.mark.parametrize("name", ["no.pdf", "."])
def test_no_file_and_a_folder_are_told(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run_command_line(["restore", str(tmp_path / name), "--out", str(tmp_path / "back")]) == 1
    assert capsys.readouterr().err.count("\n") == 1
    assert not (tmp_path / "back").exists()


def test_a_file_as_large_as_can_be_comes_back(tmp_path: Path) -> None:
    whole = Carried("large.yaml", b"#" * LARGEST_FILE)
    assert held_in(document(tmp_path, whole)).files[0].data == whole.data
    with pytest.raises(CannotRestore):
        held_in(document(tmp_path, Carried("large.yaml", b"#" * (LARGEST_FILE + 1))))


# Names


@pytest.mark.parametrize("name", NAMES)
def test_names_that_lead_elsewhere_are_not_plain_and_are_made_so(name: str) -> None:
    assert not is_plain_name(name)
    assert is_plain_name(plain_name(name, ()))


@pytest.mark.parametrize("name", ["three-paths.yaml", "Три дорожки.yml", "my card (2).yaml", "é.yaml", "a.b.yaml"])
def test_plain_names_stay(name: str) -> None:
    assert plain_name(name, ()) == name
    assert plain_name(name, {name_anywhere(name)}) == f"{name.rpartition('.')[0]}-2.yaml"
