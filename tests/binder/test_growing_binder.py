"""A binder that grows: what is printed since an old one, put in as its slip says, makes the binder that was meant."""

from __future__ import annotations

import json
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from random import Random
from typing import Any, Final, NamedTuple

import pikepdf
import pypdf
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs.binder_making import BinderRequest, FinishedBinder, make_binder
from cardmaker.jobs.leaf_lists import leaf_list_in
from cardmaker.model.binder_leaves import LEAF_LIST
from cardmaker.model.problems import ProblemsFound
from tests.benchmarks.distinct import pattern_text
from tests.helpers.places import shipped_in
from tests.helpers.shelves import ROW, PaperLeaf, differences, printed_leaves, worked_through

Said = pytest.CaptureFixture[str]
SMALL: Final = ("--layout", "six-numbers")
pytestmark = pytest.mark.usefixtures("empty_folder")


def pattern(stem: str, *, title: str = "", code: str = "", ends: int = 9, folder: str = "own") -> str:
    """A pattern file; returns its path."""
    path = Path(folder) / f"{stem}.yaml"
    path.parent.mkdir(exist_ok=True)
    lines = [f"title: {title or stem.capitalize()}", *([f"code: {code}"] if code else [])]
    lines += ["yarns: {white: {fibre: linen, count: 20/2}}", f"warp: [{ends} white]"]
    path.write_text("\n".join(lines), "utf-8")
    return str(path)


def made(*names: str, **more: Any) -> FinishedBinder:
    return make_binder(BinderRequest(names, quiet=True, layout=more.pop("layout", "six-numbers"), **more))


def kept(pdf: bytes, name: str) -> Path:
    path = Path(name)
    path.write_bytes(pdf)
    return path


def labels_of(path: str) -> list[str]:
    return pypdf.PdfReader(path, strict=True).page_labels


# The whole errand


@pytest.mark.parametrize("duplex", [False, True], ids=["one side", "both sides"])
def test_thirty_cards_of_which_two_change_one_comes_and_one_goes(duplex: bool) -> None:
    """The paper that results is the new binder, leaf by leaf, but for the numbers that the slip tells."""
    folder = Path("own")
    folder.mkdir()
    for path in shipped_in("patterns"):
        (folder / path.name).write_bytes(path.read_bytes())
    for number in (1, 2, 3):
        (folder / f"distinct-{number}.yaml").write_text(pattern_text(number), "utf-8")
    asked = {"layout": "record", "by": "grade", "duplex": duplex}
    old = made("own", **asked)
    assert old.cards == 30

    wick = folder / "wick.yaml"
    wick.write_text(wick.read_text("utf-8").replace("title: Wick", "title: Candle"), "utf-8")
    first = folder / "distinct-1.yaml"
    first.write_text(first.read_text("utf-8").replace("72 in", "80 in"), "utf-8")
    (folder / "distinct-4.yaml").write_text(pattern_text(4), "utf-8")
    (folder / "nine.yaml").unlink()
    grown = made("own", since=kept(old.pdf, "old.pdf"), **asked)
    whole = made("own", **asked)

    shelf = printed_leaves(old.pdf, duplex=duplex).leaves
    printed = printed_leaves(grown.pdf, duplex=duplex)
    after = worked_through(shelf, printed)
    assert differences(after, printed_leaves(whole.pdf, duplex=duplex).leaves) == []
    stayed = [leaf for leaf in after if leaf in shelf]
    assert len(stayed) >= 27  # the cards that did not change, and most pages before sections
    assert "Then the binder has " + f"{len(after)} leaves" in printed.slip


class Edit(NamedTuple):
    """Something that happens to a folder of patterns: what, to which of them, and with what number."""

    kind: str
    place: int
    number: int


EDITS: Final = st.builds(
    Edit, st.sampled_from(("add", "remove", "ends", "title", "file", "move")), st.integers(0, 9), st.integers(1, 40)
)


class _Kept(NamedTuple):
    stem: str
    title: str
    code: str
    ends: int


def _letter(number: int) -> str:
    """A name's end that is no number of a page."""
    return chr(ord("A") + number)


def edited(patterns: list[_Kept], edit: Edit, serial: int) -> list[_Kept]:
    at = edit.place % len(patterns)
    changed = list(patterns)
    if edit.kind == "add":
        code = f"N{serial}" if edit.number % 2 else ""
        changed.insert(at, _Kept(f"new{serial}", f"New {_letter(serial)}", code, edit.number))
    elif edit.kind == "remove" and len(patterns) > 1:
        del changed[at]
    elif edit.kind == "move":
        changed.insert(edit.number % len(patterns), changed.pop(at))
    elif edit.kind == "ends":
        changed[at] = patterns[at]._replace(ends=edit.number)
    elif edit.kind == "title":
        changed[at] = patterns[at]._replace(title=f"Renamed {_letter(serial)}")
    elif edit.kind == "file":
        changed[at] = patterns[at]._replace(stem=f"file{serial}")
    return changed


def names_of(patterns: list[_Kept]) -> list[str]:
    return [pattern(each.stem, title=each.title, code=each.code, ends=each.ends) for each in patterns]


@given(
    st.lists(st.lists(EDITS, min_size=1, max_size=4), min_size=1, max_size=3),
    st.booleans(),
    st.sampled_from((None, "ends")),
)
@settings(max_examples=5, derandomize=True, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_whatever_happens_the_slips_lead_to_the_new_binder(
    rounds: list[list[Edit]], duplex: bool, by: str | None
) -> None:
    """Round after round, each since the file of the one before."""
    patterns = [_Kept(f"p{number}", f"Path {_letter(number)}", f"P{number}", 7 + 2 * number) for number in range(1, 6)]
    asked = {"layout": "record", "duplex": duplex, "by": by}  # on smaller paper long numbers make more pages
    binder = made(*names_of(patterns), **asked)
    shelf: list[PaperLeaf] = list(printed_leaves(binder.pdf, duplex=duplex).leaves)
    serial = 0
    for edits in rounds:
        for edit in edits:
            serial += 1
            patterns = edited(patterns, edit, serial)
        names = names_of(patterns)
        grown = made(*names, **asked, since=kept(binder.pdf, "old.pdf"))
        whole = made(*names, **asked)
        if grown.pdf:
            shelf = worked_through(shelf, printed_leaves(grown.pdf, duplex=duplex))
            binder = grown
        assert differences(shelf, printed_leaves(whole.pdf, duplex=duplex).leaves) == []


def test_a_weaver_who_skips_a_line_is_found_out() -> None:
    """The comparison can fail: for a leaf that is not put in, one that is not exchanged, and one that is left in."""
    names = [pattern(stem, ends=ends) for stem, ends in (("one", 9), ("two", 11), ("three", 13))]
    old = made(*names)
    names = [pattern("one", ends=19), pattern("four", ends=15), names[2]]
    printed = printed_leaves(made(*names, since=kept(old.pdf, "old.pdf")).pdf, duplex=False)
    whole = printed_leaves(made(*names).pdf, duplex=False).leaves
    shelf = printed_leaves(old.pdf, duplex=False).leaves
    assert differences(worked_through(shelf, printed), whole) == []
    lines = [line for line in printed.slip.splitlines() if line.endswith(("One", "Two", "Four", "Contents"))]
    assert len(lines) == 4
    for line in lines:
        out_or_in = ROW.fullmatch(line)
        assert out_or_in
        put_in = "" if out_or_in[3].startswith("nothing") else out_or_in[2] or out_or_in[1]
        left = tuple(leaf for leaf in printed.leaves if leaf.label != put_in)
        skipped = printed._replace(slip=printed.slip.replace(line + "\n", ""), leaves=left)
        assert differences(worked_through(shelf, skipped), whole)


# What counts as changed, and which numbers there are


def test_only_what_changed_is_printed_and_the_rest_keeps_its_number() -> None:
    names = [pattern(stem) for stem in ("one", "two", "three")]
    old = kept(made(*names).pdf, "old.pdf")
    before = {leaf.title: leaf for leaf in leaf_list_in(old).leaves}
    pattern("two", ends=11)
    grown = kept(made(names[0], pattern("four"), *names[1:], since=old).pdf, "grown.pdf")
    after = {leaf.title: leaf for leaf in leaf_list_in(grown).leaves}
    assert [after[title] for title in ("One", "Three")] == [before[title] for title in ("One", "Three")]
    assert after["Two"].labels == before["Two"].labels
    assert after["Two"].prints != before["Two"].prints
    assert after["Four"].labels == (f"{before['One'].labels[0]}a",)
    number = before["One"].labels[0]
    assert [label for label in labels_of("grown.pdf") if label in (number, f"{number}a", str(int(number) + 1))] == [
        f"{number}a",
        str(int(number) + 1),
    ]


def test_a_file_of_another_name_with_the_same_print_stays() -> None:
    names = [pattern("one", ends=9), pattern("two", ends=11)]
    old = kept(made(*names).pdf, "old.pdf")
    assert made(names[0], pattern("other", title="Two", ends=11), since=old).pdf == b""


def test_what_does_not_print_makes_no_leaf_new(capsys: Said) -> None:
    """A remark in a file, and nothing at all."""
    name = pattern("one")
    assert run_command_line(["binder", name, *SMALL, "--out", "old.pdf", "--quiet"]) == 0
    Path(name).write_text(Path(name).read_text("utf-8") + "\n# a remark\n", "utf-8")
    assert run_command_line(["binder", name, *SMALL, "--since", "old.pdf", "--out", "grown.pdf"]) == 0
    assert capsys.readouterr().out == "Nothing has changed since old.pdf: there is nothing to print.\n"
    assert not Path("grown.pdf").exists()


def test_a_card_that_moves_is_taken_out_and_put_in() -> None:
    """It is the one that moved, not those that it passed, and its old number is gone."""
    names = [pattern(stem) for stem in ("one", "two", "three", "four")]
    old = made(*names)
    shelf = {leaf.title: leaf.labels[0] for leaf in leaf_list_in(kept(old.pdf, "old.pdf")).leaves}
    slip = printed_leaves(made(*names[1:], names[0], since=Path("old.pdf")).pdf, duplex=False).slip
    assert f"{shelf['One']} nothing in its place One" in slip
    assert f"{shelf['Four']}a after {shelf['Four']} One" in slip
    assert not {"Two", "Three", "Four"} & {line.split()[-1] for line in slip.splitlines()}


def test_all_leaves_are_new_on_another_layout_and_loom() -> None:
    names = [pattern(stem) for stem in ("one", "two")]
    old = kept(made(*names, layout="record").pdf, "old.pdf")
    for more in ({"loom": "broad-paddle"}, {"units": "us"}):
        slip = printed_leaves(made(*names, layout="record", since=old, **more).pdf, duplex=False).slip
        assert {"One", "Two"} <= {line.split()[-1] for line in slip.splitlines()}


def test_a_program_that_draws_otherwise_makes_new_leaves(monkeypatch: pytest.MonkeyPatch) -> None:
    """A wider rule on a card, and another edition of the type."""
    name = pattern("one")
    old = kept(made(name).pdf, "old.pdf")
    assert made(name, since=old).pdf == b""
    with monkeypatch.context() as patch:
        patch.setattr("cardmaker.pdf.print_digests._type_digest", lambda: b"another edition")
        assert len(leaf_list_in(kept(made(name, since=old).pdf, "grown.pdf")).leaves) == made(name).pages
    from cardmaker.binder import page_numbers

    monkeypatch.setattr(page_numbers, "SIZE", page_numbers.SIZE + 0.1)
    assert len(printed_leaves(made(name, since=old).pdf, duplex=False).leaves) == made(name).pages - 1  # but the title


def test_the_file_carries_all_that_the_binder_is_made_from_now() -> None:
    names = [pattern(stem) for stem in ("one", "two")]
    old = kept(made(*names).pdf, "old.pdf")
    kept(made(names[0], pattern("three"), since=old).pdf, "grown.pdf")
    assert run_command_line(["restore", "grown.pdf", "--out", "back", "--quiet"]) == 0
    assert {path.name for path in Path("back/patterns").iterdir()} == {"one.yaml", "three.yaml"}
    assert not {"two.yaml", LEAF_LIST} & {path.name for path in Path("back").rglob("*")}


def test_links_lead_to_leaves_that_are_printed_with_them() -> None:
    """And the others are words; every page has its number as viewers show it."""
    names = [pattern(stem) for stem in ("one", "two", "three")]
    old = kept(made(*names, by="ends").pdf, "old.pdf")
    grown = made(*names, pattern("four"), by="ends", since=old).pdf
    reader = pypdf.PdfReader(BytesIO(grown), strict=True)
    links = [link.get_object() for page in reader.pages for link in page.get("/Annots", [])]
    told = {str(link["/Contents"]) for link in links}
    assert any(text.startswith("Four, page ") for text in told)
    assert not any(text.startswith(("One", "Two", "Three")) for text in told)
    assert reader.page_labels[0] == "slip"
    assert reader.outline[0].title == "Take out, put in"  # type: ignore[union-attr]


# Files that are none, or not sound


def refusal(*asked: str, said: Said) -> str:
    assert run_command_line(["binder", *asked, "--out", "grown.pdf"]) == 1
    assert not Path("grown.pdf").exists()
    return said.readouterr().err


def test_a_card_and_a_foreign_file_and_none_are_refused(capsys: Said) -> None:
    name = pattern("one")
    assert run_command_line(["card", name, *SMALL, "--out", "card.pdf", "--quiet"]) == 0
    foreign = pikepdf.new()
    foreign.add_blank_page()
    foreign.save("foreign.pdf")
    Path("text.pdf").write_text("no PDF", "utf-8")
    for old, why in (
        ("card.pdf", "It is no binder that tells of its leaves."),
        ("foreign.pdf", "It carries no pattern: it was not made by cardmaker"),
        ("text.pdf", "It is neither a PDF nor a picture"),
        ("none.pdf", "There is no such file."),
    ):
        assert why in refusal(name, *SMALL, "--since", old, said=capsys)


def test_another_paper_and_the_other_side_are_refused(capsys: Said) -> None:
    name = pattern("one")
    kept(made(name).pdf, "old.pdf")
    kept(made(name, duplex=True).pdf, "both.pdf")
    assert "choose the same with --paper" in refusal(name, *SMALL, "--paper", "a6", "--since", "old.pdf", said=capsys)
    assert "leave --duplex out" in refusal(name, *SMALL, "--duplex", "--since", "old.pdf", said=capsys)
    assert "say --duplex" in refusal(name, *SMALL, "--since", "both.pdf", said=capsys)


def test_a_fault_in_a_file_takes_no_leaf_out(capsys: Said) -> None:
    names = [pattern("one"), pattern("two")]
    kept(made(*names).pdf, "old.pdf")
    Path(names[1]).write_text("title: Two\nyarns: {}\n", "utf-8")
    assert names[1] in refusal(*names, *SMALL, "--since", "old.pdf", said=capsys)


def test_the_old_binder_is_not_written_over(capsys: Said) -> None:
    name = pattern("one")
    old = kept(made(name).pdf, "old.pdf").read_bytes()
    pattern("one", ends=11)
    assert run_command_line(["binder", name, *SMALL, "--since", "old.pdf", "--out", "old.pdf"]) == 2
    assert "name another file with --out" in capsys.readouterr().err
    assert Path("old.pdf").read_bytes() == old


def test_a_byte_that_was_changed_anywhere_is_found() -> None:
    """In the file as it is written: nothing of it is taken for what it was."""
    name = pattern("one")
    sound = made(name).pdf
    table = sound.rindex(b"\nstartxref")
    end = int(sound[table:].split()[1])
    chance = Random(7)
    for place in [0, end - 1, *(chance.randrange(end) for _ in range(25))]:
        torn = bytearray(sound)
        torn[place] ^= 1 << chance.randrange(8)
        with pytest.raises(ProblemsFound):
            leaf_list_in(kept(bytes(torn), "torn.pdf"))


def test_another_number_in_a_print_is_found() -> None:
    """A page whose content is unpacked, changed in one byte, and packed again, in a file that is sound."""
    name = pattern("one")
    kept(made(name).pdf, "old.pdf")
    with pikepdf.open("old.pdf") as document:
        contents = document.pages[3].obj.Contents
        part = contents[0] if isinstance(contents, pikepdf.Array) else contents
        code = part.read_bytes()
        part.write(code.replace(b"1", b"2", 1))
        document.save("changed.pdf")
    with pytest.raises(ProblemsFound, match="not as cardmaker wrote it"):
        leaf_list_in(Path("changed.pdf"))


@pytest.mark.parametrize(
    "change",
    [
        lambda told: told.pop("leaves"),
        lambda told: told.update(edition=2),
        lambda told: told.update(leaves=[]),
        lambda told: told.update(leaves=7),
        lambda told: told.update(width_mm="wide"),
        lambda told: told.update(width_mm=float("nan")),
        lambda told: told.update(duplex=1),
        lambda told: told["leaves"].reverse(),
        lambda told: told["leaves"][0].update(labels=["01"]),
        lambda told: told["leaves"][0].update(labels=[]),
        lambda told: told["leaves"][0].update(prints=[1]),
        lambda told: told["leaves"][0].update(part="0"),
        lambda told: told["leaves"][0].update(more=""),
        lambda told: told["leaves"].append(told["leaves"][-1]),
    ],
)
def test_a_list_of_leaves_that_cannot_be_is_refused(
    change: Callable[[Any], object], monkeypatch: pytest.MonkeyPatch
) -> None:
    name = pattern("one")
    written = json.dumps

    def told_otherwise(told: Any, **options: Any) -> str:
        if told["kind"] == "leaves of a binder":
            told = json.loads(written(told))
            change(told)
        return written(told, **options)

    with monkeypatch.context() as patch:
        patch.setattr("cardmaker.jobs.leaf_lists.json.dumps", told_otherwise)
        old = kept(made(name).pdf, "old.pdf")
    with pytest.raises(ProblemsFound, match="list of leaves cannot be read"):
        leaf_list_in(old)
