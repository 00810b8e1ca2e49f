"""A document gives back all that it was made from, to where it is found, and the command that makes the same bytes."""

from __future__ import annotations

import json
import re
import shlex
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.pdf.attachments import held_in
from tests.helpers.places import ROOT, shipped_alone

Said = pytest.CaptureFixture[str]

LOOM = "title: {title}\nkind: one heddle\nslots: {slots}\nholes: {holes}\nmark: counted as zero\nwaste: 20 in\n"
YARN = """\
title: Loft blue
fibre: cotton
count: 8/2
lot: 12
colour: "#2f4a7d"
measured:
- {pattern: Low Gate, date: 2026, ends_per_inch: 31.5}
"""
PATTERN = """\
# counted at the table, twice
title: {title}
yarns: {{blue: {{yarn: loft-blue}}, white: {{fibre: cotton, count: 8/2}}}}
warp: [{edge} blue, 9 white, {edge} blue]
"""
CLASS = """\
title: Saturday at the loft
teacher: Ada
students:
- {name: Ben, loom: kitchen-box, pattern: gate-band}
- {name: Cleo, loom: little-board, pattern: tapes/low-gate.yaml}
notes: [Ben is always late]
"""
OPEN = """\
title: Sunday at the loft
choose_from: [gate-band, tapes/low-gate.yaml]
students:
- {name: Ben, loom: kitchen-box}
- {name: Cleo, loom: little-board, pattern: tapes/low-gate.yaml}
"""
EVENT = """\
title: Gate Day
hours: 3 h
loom: kitchen-box
hand: left
patterns: [gate-band, tapes/low-gate.yaml]
"""
BINDER = """\
title: My book
loom: kitchen-box
sections:
- title: Gates
  patterns: [gate-band, tapes/low-gate.yaml]
- title: On the little board
  loom: little-board
  patterns: [wick]
"""
SETTINGS = {
    "none": None,
    "of all": "loom: kitchen-box\nlooms: [little-board, kitchen-box]\npegs: [my-board]\nunits: us\npaper: a4\n"
    "hand: left\nfrom: behind\nlayout: my-record\nout: cards\n",
    "of a shipped loom": "loom: treadle-pair\nunits: us\npaper: a4\nlayout: handout\nout: elsewhere\n",
    "of nothing that is there": "loom: sold-long-ago\nlooms: [sold-long-ago]\npegs: [lent-out]\nhand: left\n",
}


@pytest.fixture
def hers(empty_folder: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with looms, pegs, layouts, patterns, a class and a binder of her own."""
    folder = empty_folder / "hers"
    kinds = [f"layouts/{name}" for name in ("yarns", "looms", "pegs", "cards", "classes", "events", "binders")]
    for kind in ("patterns", "tapes", *kinds):
        (folder / kind).mkdir(parents=True)
    write = {
        "patterns/gate-band.yaml": PATTERN.format(title="Gate Band", edge=3),
        "tapes/low-gate.yaml": PATTERN.format(title="Low Gate", edge=2),
        "layouts/yarns/loft-blue.yaml": YARN,
        "layouts/looms/kitchen-box.yaml": LOOM.format(title="Kitchen box", slots=22, holes=21),
        "layouts/looms/little-board.yaml": LOOM.format(title="Little board", slots=12, holes=11),
        "layouts/classes/saturday.yaml": CLASS,
        "layouts/classes/sunday.yaml": OPEN,
        "layouts/classes/nobody.yaml": OPEN.replace(", pattern: tapes/low-gate.yaml", ""),
        "layouts/events/gate-day.yaml": EVENT,
        "layouts/binders/my-book.yaml": BINDER,
        "layouts/pegs/my-board.yaml": shipped("pegs/yard-board").replace("title: ", "title: My ", 1),
        "layouts/cards/my-record.yaml": shipped("cards/record").replace("title: ", "title: My ", 1),
        "layouts/cards/handout.yaml": shipped("cards/handout") + "# mine\n",
    }
    for name, text in write.items():
        (folder / name).write_text(text, "utf-8")
    monkeypatch.chdir(folder)
    return folder


def shipped(name: str) -> str:
    return (ROOT / "layouts" / f"{name}.yaml").read_text("utf-8")


def run(capsys: Said, *arguments: str) -> tuple[int, str, str]:
    status = run_command_line(list(arguments))
    return (status, *capsys.readouterr())


def command_in(said: str) -> list[str]:
    (line,) = re.findall(r"^The same again: cardmaker (.*)$", said, re.MULTILINE)
    return shlex.split(line)


def files_below(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*.yaml")}


DOCUMENTS = {
    "card": (["card", "gate-band"], "gate-band-record.pdf"),
    "card with all options": (
        [
            *("card", "gate-band", "--layout", "my-record", "--paper", "a4", "--loom", "little-board"),
            *("--pegs", "my-board", "--hand", "left", "--from", "behind", "--units", "us", "--warp", "3 yd", "--back"),
        ],
        "gate-band-my-record-left-behind.pdf",
    ),
    "bench card": (["card", "gate-band", "--layout", "bench", "--from", "loom"], "gate-band-bench.pdf"),
    "card from elsewhere": (["card", "tapes/low-gate.yaml", "--layout", "handout"], "low-gate-handout.pdf"),
    "class": (["class", "saturday", "--backs"], "saturday-teacher.pdf"),
    "shopping": (["class", "saturday"], "saturday-shopping.pdf"),
    "class in one": (["class", "saturday", "--one", "--paper", "a4"], "saturday-class.pdf"),
    "class in stages": (["class", "saturday", "--stages"], "saturday-teacher.pdf"),
    "class that is to choose": (["class", "nobody"], "nobody-choose.pdf"),
    "class that has some who chose": (["class", "sunday", "--paper", "a4"], "sunday-choose.pdf"),
    "sheet of a class that is to choose": (["class", "sunday"], "sunday-shopping.pdf"),
    "day of an event": (["event", "gate-day"], "gate-day-day.pdf"),
    "tapes of an event": (["event", "gate-day", "--units", "us"], "gate-day-sheet.pdf"),
    "cards of an event": (["event", "gate-day", "--paper", "a4"], "gate-day-cards.pdf"),
    "labels of an event": (["event", "gate-day"], "gate-day-labels.pdf"),
    "binder": (["binder", "my-book", "--layout", "my-record", "--duplex"], "binder.pdf"),
    "binder of patterns": (
        ["binder", "wick", "gate-band", "--by", "width", "--title", 'A "fine" book', "--layout", "bench"],
        "binder.pdf",
    ),
}


def made(capsys: Said, name: str) -> Path:
    """The document, made in her folder and laid aside."""
    command, file = DOCUMENTS[name]
    out = Path("first")
    target = out / file if command[0] == "binder" else out
    assert run(capsys, *command, "--out", str(target), "--quiet")[::2] == (0, "")
    return (out / file).resolve()


def remade(capsys: Said, said: str) -> bytes:
    """What the printed command makes, under the name of the document."""
    words = command_in(said)
    assert words[-2] == "--out"
    status, _, problems = run(capsys, *words, "--quiet")
    assert (status, problems) == (0, "")
    again = Path(words[-1])
    return again.read_bytes() if again.is_file() else b""


@pytest.mark.parametrize("settings", SETTINGS)
@pytest.mark.parametrize("name", DOCUMENTS)
def test_what_comes_back_makes_the_same_bytes_under_any_settings(
    name: str, settings: str, hers: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    """Given back in a folder without any file, but with settings of its own."""
    document = made(capsys, name)
    empty = tmp_path / "empty"
    empty.mkdir()
    monkeypatch.chdir(empty)
    if text := SETTINGS[settings]:
        (empty / "cardmaker.yaml").write_text(text)
    status, said, problems = run(capsys, "restore", str(document))
    assert (status, problems) == (0, "")
    check_same(capsys, said, document)
    back = files_below(empty)
    back.pop("cardmaker.yaml", None)
    own = files_below(hers)
    assert {place: data for place, data in back.items() if not place.endswith("low-gate.yaml")}.items() <= own.items()
    assert "patterns/gate-band.yaml" in back or name == "card from elsewhere"
    assert back["layouts/yarns/loft-blue.yaml"] == YARN.encode()


@pytest.mark.parametrize("name", ["card", "class", "binder", "binder of patterns"])
def test_what_her_settings_said_is_in_the_command(
    name: str, hers: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    (hers / "cardmaker.yaml").write_text(SETTINGS["of all"] or "")
    command, _ = DOCUMENTS[name]
    assert run(capsys, *command)[::2] == (0, "")
    documents = [path.resolve() for path in Path("cards").iterdir()]
    empty = tmp_path / "empty"
    empty.mkdir()
    monkeypatch.chdir(empty)
    document = next(path for path in documents if "handouts" not in path.name and "tags" not in path.name)
    status, said, problems = run(capsys, "restore", str(document))
    assert (status, problems) == (0, "")
    check_same(capsys, said, document)


def check_same(capsys: Said, said: str, document: Path) -> None:
    words = command_in(said)
    data = remade(capsys, said)
    if words[0] in ("class", "event"):
        data = (Path(words[-1]) / document.name).read_bytes()
    assert data == document.read_bytes()


@pytest.mark.parametrize("name", DOCUMENTS)
def test_where_other_files_have_the_names_they_stay_and_all_comes_back_in_a_folder_of_its_own(
    name: str, hers: Path, capsys: Said
) -> None:
    document = made(capsys, name)
    own = files_below(hers)
    others = {hers / place: b"title: another\n" + data for place, data in own.items()}
    for path, data in others.items():
        path.write_bytes(data)
    changed = files_below(hers)
    status, said, problems = run(capsys, "restore", str(document))
    assert status == 1
    assert "The same again" not in said
    assert files_below(hers).items() >= changed.items()
    lines = problems.splitlines()
    assert all(line.endswith("is there already, and differs: it was left as it is.") for line in lines[:-1])
    assert lines[-1].startswith("So this is not all as it was. To have all of it, in a folder of its own: cardmaker ")
    words = shlex.split(lines[-1].partition(": cardmaker ")[2])
    status, said, problems = run(capsys, *words)
    assert (status, problems) == (0, "")
    check_same(capsys, said, document)
    assert {path: path.read_bytes() for path in others} == others
    status, said, problems = run(capsys, "restore", str(document), "--force")
    assert (status, problems) == (0, "")
    check_same(capsys, said, document)


def test_only_what_differs_is_left_out(hers: Path, capsys: Said) -> None:
    document = made(capsys, "card with all options")
    (hers / "layouts/looms/little-board.yaml").write_text("mine")
    (hers / "patterns/gate-band.yaml").unlink()
    status, said, problems = run(capsys, "restore", str(document))
    assert status == 1
    assert said.splitlines()[0] == "patterns/gate-band.yaml"
    assert problems.startswith("layouts/looms/little-board.yaml is there already, and differs: it was left as it is.\n")
    assert (hers / "layouts/looms/little-board.yaml").read_text() == "mine"
    assert (hers / "patterns/gate-band.yaml").read_text() == PATTERN.format(title="Gate Band", edge=3)


def test_files_go_to_her_own_folder_from_wherever_she_is(
    hers: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    document = made(capsys, "bench card")
    other = tmp_path / "other"
    (other / "notes").mkdir(parents=True)
    (other / "cardmaker.yaml").write_text("units: us\n")
    monkeypatch.chdir(other / "notes")
    status, said, _ = run(capsys, "restore", str(document))
    assert status == 0
    assert said.startswith("../patterns/gate-band.yaml\n")
    assert command_in(said)[:2] == ["card", "gate-band"]
    check_same(capsys, said, document)
    assert (other / "patterns/gate-band.yaml").read_bytes() == (hers / "patterns/gate-band.yaml").read_bytes()


def test_a_pattern_and_a_loom_of_one_name_are_told_apart(hers: Path, capsys: Said) -> None:
    (hers / "patterns/kitchen-box.yaml").write_text(PATTERN.format(title="Kitchen Box", edge=4))
    run(capsys, "card", "kitchen-box", "--loom", "kitchen-box", "--out", "card.pdf")
    (hers / "back").mkdir()
    status, said, _ = run(capsys, "restore", "card.pdf", "--out", "back")
    assert status == 0
    for place in ("patterns/kitchen-box.yaml", "layouts/looms/kitchen-box.yaml"):
        assert (hers / "back" / place).read_bytes() == (hers / place).read_bytes()
    assert remade(capsys, said) == Path("card.pdf").read_bytes()


def test_what_is_shipped_is_not_written_beside_it_and_not_hidden(
    empty_folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    """Else the shipped loom would be hers from then on, and the only one that is chosen."""
    run(capsys, "card", "three-paths", "--out", "card.pdf")
    status, said, _ = run(capsys, "restore", "card.pdf")
    assert status == 0
    assert [path.name for path in empty_folder.iterdir()] == ["card.pdf"]
    assert said.count("  (is shipped with the program, just the same)\n") == len(said.splitlines()) - 1
    assert remade(capsys, said) == Path("card.pdf").read_bytes()
    later = empty_folder / "later"
    for place, data in files_below(shipped_alone() / "layouts").items():
        (later / "layouts" / place).parent.mkdir(parents=True, exist_ok=True)
        (later / "layouts" / place).write_bytes(data + (b"# a new version\n" if "record" in place else b""))
    (later / "patterns").mkdir()
    (later / "patterns/three-paths.yaml").write_bytes((ROOT / "patterns/three-paths.yaml").read_bytes())
    monkeypatch.setattr("cardmaker.jobs.file_lookup.shipped", lambda: later)
    status, said, _ = run(capsys, "restore", "card.pdf")
    assert status == 0
    assert said.splitlines()[0] == (
        "layouts/cards/record.yaml  (comes before the shipped one of that name from now on, which differs)"
    )
    assert files_below(empty_folder / "layouts") == {"cards/record.yaml": shipped("cards/record").encode()}
    assert remade(capsys, said) == Path("card.pdf").read_bytes()


def test_what_is_needed_and_not_inside_is_told(hers: Path, capsys: Said) -> None:
    run(capsys, "card", "gate-band", "--out", "old.pdf")
    changed = PATTERN.format(title="Gate Band", edge=4)
    (hers / "patterns/gate-band.yaml").write_text(changed)
    assert run(capsys, "card", "gate-band", "--supersedes", "old.pdf", "--out", "new.pdf")[0] == 0
    status, said, _ = run(capsys, "restore", "new.pdf")
    assert status == 0
    assert "--supersedes old.pdf" in said
    assert said.splitlines()[-1].startswith("That needs old.pdf as well, which is not inside")
    assert remade(capsys, said) == Path("new.pdf").read_bytes()


# What a student's sheet carries


def test_sheets_that_are_given_away_carry_no_names_and_no_notes_of_the_teacher(hers: Path, capsys: Said) -> None:
    pattern = hers / "patterns/gate-band.yaml"
    pattern.write_text(pattern.read_text() + "notes: {teacher: [Watch Ben's selvedge], student: [Look twice]}\n")
    run(capsys, "class", "saturday", "--out", "first", "--quiet")
    for kind in ("handouts", "tags"):
        held = held_in(Path(f"first/saturday-{kind}.pdf"))
        carried = b"".join(file.data for file in held.files) + held.how_made
        assert {file.name for file in held.files} >= {"low-gate.yaml", "kitchen-box.yaml", "handout.yaml"}
        assert not re.search(rb"Ben|Cleo|always late|selvedge|saturday", carried)
    for kind in ("teacher", "shopping"):
        files = {file.name for file in held_in(Path(f"first/saturday-{kind}.pdf")).files}
        assert files >= {"saturday.yaml", "gate-band.yaml", "low-gate.yaml", "kitchen-box.yaml", "little-board.yaml"}


def test_a_sheet_of_a_class_gives_its_files_back_and_says_that_it_tells_no_command(hers: Path, capsys: Said) -> None:
    run(capsys, "class", "saturday", "--out", "first", "--quiet")
    status, said, _ = run(capsys, "restore", "first/saturday-handouts.pdf", "--out", "back")
    assert status == 0
    assert said.splitlines()[-1] == "It does not say by which command it was made."
    for place in ("patterns/gate-band.yaml", "layouts/looms/kitchen-box.yaml", "layouts/cards/handout.yaml"):
        assert (hers / "back" / place).read_bytes() == (hers / place).read_bytes()


# Documents of old, and harmful ones


def test_a_document_of_old_gives_its_files_back_by_their_kinds(hers: Path, capsys: Said) -> None:
    document = made(capsys, "card")
    with pikepdf.open(document) as pdf:
        del pdf.attachments["how-it-was-made.json"]
        pdf.save("old.pdf")
    status, said, _ = run(capsys, "restore", "old.pdf", "--out", "back")
    assert status == 0
    assert said.splitlines()[-2:] == [
        "It does not say by which command it was made.",
        "Next: cardmaker card back/patterns/gate-band.yaml",
    ]
    for place in ("patterns/gate-band.yaml", "layouts/looms/kitchen-box.yaml", "layouts/pegs/my-board.yaml"):
        if (hers / "back" / place).exists():
            assert (hers / "back" / place).read_bytes() == (hers / place).read_bytes()
    assert (hers / "back/patterns/gate-band.yaml").is_file()
    assert (hers / "back/layouts/looms/kitchen-box.yaml").is_file()


Change = Callable[[dict[str, Any]], None]


def placed(place: str) -> Change:
    return lambda told: told["places"].update({"gate-band.yaml": place})


def with_option(*option: Any) -> Change:
    return lambda told: told["options"].append(list(option))


HARM: dict[str, Change] = {
    "above": placed("../gate-band.yaml"),
    "above from below": placed("patterns/../../gate-band.yaml"),
    "absolute": placed("/elsewhere/gate-band.yaml"),
    "hidden": placed(".config/gate-band.yaml"),
    "drive": placed("C:/gate-band.yaml"),
    "device": placed("con/gate-band.yaml"),
    "no end": placed("patterns/gate-band.yaml/"),
    "empty folder": placed("patterns//gate-band.yaml"),
    "backslash": placed("patterns\\..\\..\\gate-band.yaml"),
    "not yaml": placed("patterns/gate-band.sh"),
    "settings": placed("cardmaker.yaml"),
    "settings below": placed("patterns/CardMaker.yaml"),
    "deep": placed("/".join("abcdefghijk") + "/gate-band.yaml"),
    "one place for two": placed("layouts/looms/Kitchen-Box.yaml"),
    "no text": placed(7),  # type: ignore[arg-type]
    "option": with_option("--force"),
    "option with a value": with_option("--out", "/etc/passwd"),
    "file that is not there": with_option("--loom", "other.yaml"),
    "old card elsewhere": with_option("--supersedes", "../../etc/passwd"),
    "escape": with_option("--title", "\x1b[2J"),
    "line end": with_option("--title", "a\nb"),
    "command": lambda told: told.update({"command": "rm"}),
    "no command": lambda told: told.update({"command": ["card"]}),
    "nothing": lambda told: told.clear(),
    "of nothing": lambda told: told.update({"of": []}),
    "edition": lambda told: told.update({"edition": 99}),
}


@pytest.mark.parametrize("harm", HARM)
def test_a_false_list_is_refused_in_one_line_and_nothing_is_written(harm: str, hers: Path, capsys: Said) -> None:
    document = made(capsys, "card")
    with pikepdf.open(document) as pdf:
        told = json.loads(pdf.attachments["how-it-was-made.json"].get_file().read_bytes())
        HARM[harm](told)
        attach(pdf, json.dumps(told).encode())
        pdf.save("hostile.pdf")
    before = sorted(hers.parent.rglob("*"))
    status, _, problems = run(capsys, "restore", "hostile.pdf", "--out", "back", "--force")
    assert status == 1
    assert problems.startswith("hostile.pdf:1:1: ")
    assert problems.count("\n") == 1
    assert sorted(hers.parent.rglob("*")) == before


def test_a_word_of_a_command_is_one_word_to_the_shell(hers: Path, capsys: Said) -> None:
    title = "; rm -rf ~ $(touch x) `y` \"z\" 'q' & -"
    run(capsys, "binder", "gate-band", "--title", title, "--layout", "bench", "--out", "book.pdf")
    _, said, _ = run(capsys, "restore", "book.pdf")
    assert title in command_in(said)


@pytest.mark.parametrize("data", [b"{", b"[]", b"7", b"\xff", b"[" * 100_000, b"null"])
def test_a_torn_list_is_refused(data: bytes, hers: Path, capsys: Said) -> None:
    with pikepdf.open(made(capsys, "card")) as pdf:
        attach(pdf, data)
        pdf.save("hostile.pdf")
    status, _, problems = run(capsys, "restore", "hostile.pdf", "--out", "back")
    assert (status, problems.count("\n")) == (1, 1)
    assert not Path("back").exists()


def attach(pdf: pikepdf.Pdf, data: bytes) -> None:
    specification = pdf.attachments["how-it-was-made.json"].obj
    for key in ("/F", "/UF"):
        specification.EF[key] = pdf.make_stream(data)


def test_a_link_that_leads_out_of_the_folder_is_not_followed(hers: Path, tmp_path: Path, capsys: Said) -> None:
    document = made(capsys, "card")
    outside = tmp_path / "outside.yaml"
    outside.write_text("not hers\n")
    (hers / "patterns/gate-band.yaml").unlink()
    (hers / "patterns/gate-band.yaml").symlink_to(outside)
    status, _, problems = run(capsys, "restore", str(document), "--force")
    assert status == 1
    assert problems.startswith("patterns/gate-band.yaml is there already, and differs")
    assert outside.read_text() == "not hers\n"


def test_a_file_of_the_other_ending_hides_it(hers: Path, capsys: Said) -> None:
    document = made(capsys, "card")
    (hers / "patterns/gate-band.yaml").rename(hers / "patterns/gate-band.yml")
    status, _, problems = run(capsys, "restore", str(document))
    assert status == 1
    assert problems.startswith(
        "patterns/gate-band.yaml was not written, since patterns/gate-band.yml has the same name"
    )
