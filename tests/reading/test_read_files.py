"""Whole files: what is read comes out as typed, and what is wrong is told in plain words at its place."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Callable
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import Any, Final

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from cardmaker.model.card_layout import Paper, TypeSizes
from cardmaker.model.carried_file import LARGEST_FILE
from cardmaker.model.dressing_acts import Act
from cardmaker.model.loom import Beam, Heddles, Mark, MeasuredPress, Packing, Press, Side, Space
from cardmaker.model.pattern import Alternation, Package, Piece, Repeat, Stripe, WantedLength
from cardmaker.model.problems import Place, ProblemsFound
from cardmaker.reading import nodes
from cardmaker.reading.binder_file import parse_binder
from cardmaker.reading.card_file import parse_card_layout
from cardmaker.reading.class_file import parse_class
from cardmaker.reading.event_file import parse_event
from cardmaker.reading.loom_file import parse_loom
from cardmaker.reading.pattern_file import draft_pattern, no_shelf, parse_pattern
from cardmaker.reading.pegs_file import parse_pegs
from cardmaker.reading.read_file import kind_of_file, read_card_layout, read_loom, read_pattern_draft, read_pegs
from cardmaker.reading.yarn_file import parse_yarn
from tests.helpers.pattern_files import read_pattern
from tests.helpers.places import CASES, ROOT

BAD: Final = sorted((CASES / "bad").glob("*.yaml"))
GOOD: Final = sorted((CASES / "good").glob("reading-*.yaml"))
PARSE: Final[dict[str, Callable[[bytes, str, str], object]]] = {
    "pattern": parse_pattern,
    "loom": parse_loom,
    "pegs": parse_pegs,
    "card": parse_card_layout,
    "class": parse_class,
    "event": parse_event,
    "binder": parse_binder,
    "yarn": parse_yarn,
}
SMALL: Final = (CASES / "good" / "reading-pattern-small.yaml").read_bytes()
ENGLISH_OF_OTHERS: Final = re.compile(
    r"is not of type|is a required property|does not match|is not valid under|Additional properties|should be non-empty"
    r"|is too (?:short|long)\b|than the (?:minimum|maximum)|while (?:parsing|scanning)"
    r"|did not find expected|\bnull\b|\bNone\b"
)


def told(parse: Callable[[], object]) -> str:
    with pytest.raises(ProblemsFound) as caught:
        parse()
    return str(caught.value)


def kind_in(name: str) -> str:
    return next(kind for kind in PARSE if f"{kind}-" in name)


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_bad_file_is_told_in_these_words(path: Path) -> None:
    lines = told(lambda: PARSE[kind_in(path.stem)](path.read_bytes(), path.name, path.stem))
    assert lines == path.with_suffix(".txt").read_text("utf-8").rstrip("\n")
    assert not ENGLISH_OF_OTHERS.search(lines)


def test_every_bad_file_has_its_words() -> None:
    assert {path.stem for path in BAD} == {path.stem for path in (CASES / "bad").glob("*.txt")}
    assert len(BAD) > 100


@pytest.mark.parametrize("path", GOOD, ids=lambda path: path.stem)
def test_good_file_is_read_alike_by_both_makings_of_the_reader(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    parse = PARSE[kind_in(path.stem)]
    first = parse(path.read_bytes(), path.name, path.stem)
    monkeypatch.setattr(nodes, "_LOADER", yaml.SafeLoader)
    second = parse(path.read_bytes(), path.name, path.stem)
    assert first == second
    assert first.places == second.places  # type: ignore[attr-defined]


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_the_slower_reader_finds_the_same_lines(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    if path.stem in ("pattern-directive", "pattern-nothing-after-colon"):
        pytest.skip("only one of the two makings of the reader refuses this")
    monkeypatch.setattr(nodes, "_LOADER", yaml.SafeLoader)
    lines = told(lambda: PARSE[kind_in(path.stem)](path.read_bytes(), path.name, path.stem)).split("\n")
    expected = path.with_suffix(".txt").read_text("utf-8").split("\n")
    assert [line.split(":")[1] for line in lines] == [line.split(":")[1] for line in expected if line]


def test_text_stays_as_typed() -> None:
    pattern = read_pattern(CASES / "good" / "reading-pattern-as-typed.yaml")
    assert (pattern.title, pattern.code, pattern.version, pattern.date) == ("no", "N", "12e3", "2026-11-20")
    assert pattern.purposes == ("yes", "on", "1:30", "~", "null", "0x1F")
    assert pattern.about == "1_000"
    assert [yarn.name for yarn in pattern.yarns] == ["no", "y", "1900.10"]
    assert [yarn.count for yarn in pattern.yarns] == ["16:2", "20/2", "2e3"]
    assert [yarn.shade for yarn in pattern.yarns] == ["gray", "0812", ""]
    assert (pattern.yarn("y").dye, pattern.yarn("y").dye_evidence) == ("off", ".inf")
    assert pattern.yarn("no").colour == "#f4f0e4"
    # 2 1/4 yd = 2.25 x 914.4 mm; 4 oz = a quarter of 453.59237 g
    assert pattern.yarns[2].package == Package(Fraction("2057.4"), Fraction("113.3980925"), "1_000")
    assert pattern.warp == (
        Stripe("no", 3),
        Alternation(("no", "y"), 4),
        Repeat(2, (Stripe("y", 1), Stripe("1900.10", 2))),
    )
    assert pattern.length == WantedLength(None, (), Fraction(2286), Fraction(12, 100), Fraction(1, 40), 0)
    assert pattern.picks_per_inch == Fraction(29, 2)
    source = pattern.source
    assert source is not None
    assert (source.holder, source.object_number, source.period) == ("No", "1900.10", "1790-1810")
    assert (source.counted_when, source.certainty, source.may_print_photograph) == ("2026-11-20", "1:30", "no")
    assert source.references == ("0812", "12e3", "2026-11-20")
    assert (pattern.notes.student, pattern.notes.teacher) == (("on",), ("NO", "1.0", "0o17"))
    assert (pattern.measured[0].date, pattern.measured[0].note) == ("2026-11-20", "0812")
    assert (pattern.changes[0].version, pattern.changes[0].what) == ("1.10", "no")
    assert pattern.credit == "  two spaces before, kept  "
    assert pattern.marked_as == "null"


def test_a_full_pattern() -> None:
    pattern = read_pattern(CASES / "good" / "reading-pattern-full.yaml")
    assert pattern.stem == "reading-pattern-full"
    assert pattern.about == "White tape with five red posts.\nA post is lifted by hand."
    assert pattern.warp[2] == Repeat(5, (Stripe("thick red", 1), Repeat(3, (Stripe("white", 1),))))
    assert pattern.warp[3] == Alternation(("white", "pale blue"), 7)
    assert pattern.length.pieces == (
        Piece("bookmark", Fraction("228.6"), 4, Fraction("25.4")),
        Piece("bag tie", Fraction(400)),
    )
    assert (pattern.length.shrinkage, pattern.length.spare_ends) == (Fraction(35, 1000), 2)
    assert [yarn.slots_only for yarn in pattern.yarns] == [False, False, True]
    assert pattern.yarn("thick red").metres_per_kg == Fraction("3600.5")
    assert pattern.second_yarns[0].yarns[0].fibre == "cotton"
    assert pattern.pickup is not None
    assert [(row.shed, row.lift, row.drop) for row in pattern.pickup.rows] == [
        ("up", (), ()), ("down", (3,), ()), ("up", (), (2, 4)),
    ]  # fmt: skip
    assert pattern.measured[0].leftover_mm == Fraction("355.6")
    assert (pattern.mirror, pattern.stated_ends, pattern.weft) == ("last stripe", 47, "pale blue")
    assert pattern.width_mm == 15


def test_places_of_keys_and_items() -> None:
    path = CASES / "good" / "reading-pattern-full.yaml"
    at = read_pattern(path).places.at
    assert at["title",] == Place(1, 1)
    assert at["yarns", "white", "colour"] == Place(13, 5)
    assert at["warp", 3] == Place(22, 5)
    assert at["warp", 2, "stripes", 1, "repeat"] == Place(21, 41)
    lines = path.read_text("utf-8").split("\n")
    for key_path, place in at.items():
        if key_path and isinstance(key := key_path[-1], str):
            assert lines[place.line - 1][place.column - 1 :].startswith(f"{key}:")
    items = {path: lines[place.line - 1][place.column - 1 :] for path, place in at.items()}
    assert items["warp", 0] == "3 pale blue"
    assert items["pickup", "rows", 2, "drop", 1] == "4]}"


def test_looms() -> None:
    loom = read_loom(CASES / "good" / "reading-loom-one.yaml")
    assert (loom.heddles, loom.slots, loom.holes, loom.outer) == (Heddles.ONE, 24, 23, Space.SLOT)
    assert loom.mark is Mark.ONE
    assert loom.beam == Beam(Fraction("31.75"), "stick", 4)
    assert loom.packing == Packing(Fraction(2), Fraction(15), 3)
    assert loom.weaving_zone_mm == (Fraction("50.8"), Fraction("152.4"))
    assert (loom.shuttle_down, loom.shuttle_up, loom.threads_from) == (Side.RIGHT, Side.LEFT, "back")
    pair = read_loom(CASES / "good" / "reading-loom-two.yaml")
    assert (pair.heddles, pair.back_heddle, pair.mark, pair.capacity) == (Heddles.TWO, "same", Mark.ZERO, 60)
    assert loom.press == Press(Fraction(400), None, Fraction(600))
    assert loom.measured_press == MeasuredPress(
        Fraction(50), Fraction(400), Fraction(4), 13, Fraction("165.4"), "linen"
    )
    assert (loom.beam_first, loom.cloth_beam, loom.shuttle_kind) == (True, True, "netting")
    assert loom.own_words == ((Act.KEEPERS, "Tape them."), (Act.WIND_ON, "Brown paper all the way"))
    assert (pair.beam_first, pair.cloth_beam, pair.shuttle_kind, pair.own_words) == (False, False, "flat", ())
    even = read_loom(CASES / "good" / "reading-loom-even.yaml")
    assert (even.outer, even.middle_space) == (Space.HOLE, None)


def test_pegs() -> None:
    board = read_pegs(CASES / "good" / "reading-pegs-board.yaml")
    assert [peg.name for peg in board.pegs] == ["A", "2", "no", "D"]
    assert (board.pegs[2].x_mm, board.pegs[2].y_mm) == (Fraction(250), Fraction(50))
    assert (board.home, board.cross, board.order) == ("A", ("2", "no"), ("D",))
    assert board.surface_mm == (Fraction(400), Fraction(1000))
    span = read_pegs(CASES / "good" / "reading-pegs-span.yaml")
    assert (span.kind, span.shortest_mm, span.longest_mm) == ("span", Fraction("914.4"), Fraction("3657.6"))


def test_card_layouts() -> None:
    layout = read_card_layout(CASES / "good" / "reading-card-record.yaml")
    assert layout.papers[0] == Paper("letter", 215.9, 279.4)
    assert layout.papers[2] == Paper("own sheet", 100, 150)
    assert layout.papers[3] == Paper("4x6", 101.6, 152.4)
    assert (layout.binding_mm, layout.binding_side, layout.units, layout.ribbon) == (25, "left", "us", False)
    assert layout.type_sizes == TypeSizes(20, 18, 11, 10.5, 9.5, 9)
    assert [
        [(place.panel, place.columns, place.priority, place.essential) for place in row] for row in layout.rows
    ] == [
        [("title", 12, 1, True)],
        [("walk", 7, 3, False), ("room", 5, 5, False)],
    ]
    small = read_card_layout(CASES / "good" / "reading-card-small.yaml")
    assert (small.margin_mm, small.binding_side, small.units, small.ribbon, small.punch) == (
        0,
        "none",
        "metric",
        True,
        "none",
    )


@pytest.mark.parametrize(
    "raw",
    [
        b"\xef\xbb\xbf" + SMALL,
        SMALL.replace(b"\n", b"\r\n"),
        SMALL.replace(b"\n", b"\r"),
        b"---\n" + SMALL + b"...\n",
        b"%YAML 1.2\n---\n" + SMALL,
        b"{title: Two Rails, yarns: {white: {fibre: linen, count: 20/2}, blue: {fibre: linen, count: 20/2}},\n"
        b" warp: [2 blue, 9 white, 2 blue]}",
    ],
    ids=["byte order mark", "CRLF", "CR", "marked document", "directive", "braces"],
)
def test_other_ways_to_save_the_same(raw: bytes) -> None:
    assert parse_pattern(raw, "a.yaml", "a") == parse_pattern(SMALL, "a.yaml", "a")


def test_places_do_not_move_with_line_ends_or_byte_order_mark() -> None:
    raw = (CASES / "bad" / "pattern-unknown-yarns.yaml").read_bytes()
    plain = told(lambda: parse_pattern(raw, "a.yaml", "a"))
    for other in (b"\xef\xbb\xbf" + raw, raw.replace(b"\n", b"\r\n"), raw.replace(b"\n", b"\r")):
        assert told(partial(parse_pattern, other, "a.yaml", "a")) == plain


SAVE = "Save it again as plain text, with the encoding UTF-8. Its name ends in .yaml."
NO_BREAK = (
    "the space here is one that word processors make, which is not a plain space. "
    "Delete the spaces before the words of this line and type them again."
)
UTF_16 = "a.yaml:1:1: this file is saved as UTF-16 or UTF-32. Save it again as plain text, with the encoding UTF-8."


@pytest.mark.parametrize(
    ("raw", "expected"),
    [
        (SMALL.decode().encode("utf-16"), UTF_16),
        (SMALL.decode().encode("utf-16-le"), UTF_16),
        (SMALL.decode().encode("utf-16-be"), UTF_16),
        (SMALL.decode().encode("utf-32"), UTF_16),
        (SMALL + b"about: a\0b\n", "a.yaml:4:9: the sign NUL (U+0000) stands here. Delete it."),
        (SMALL + b"about: a\x07b\n", "a.yaml:4:9: the sign BELL (U+0007) stands here. Delete it."),
        (
            b"\xef\xbb\xbf\xef\xbb\xbf" + SMALL,
            "a.yaml:1:1: the sign ZERO WIDTH NO-BREAK SPACE (U+FEFF) stands here. Delete it.",
        ),
        (
            SMALL + b"about: caf\xe9\n",
            "a.yaml:4:11: the sign here, perhaps é, is not saved as UTF-8. "
            "Save it again as plain text, with the encoding UTF-8.",
        ),
        (
            b"a: b\r\xff",
            "a.yaml:2:1: the sign here, perhaps ÿ, is not saved as UTF-8. "
            "Save it again as plain text, with the encoding UTF-8.",
        ),
        (
            b"a: b\r\x81",
            "a.yaml:2:1: the byte 0x81 here is not UTF-8 text. Save it again as plain text, with the encoding UTF-8.",
        ),
        (
            b"{\\rtf1\\ansi title: Trial}",
            f"a.yaml:1:1: this is a word processor's document (RTF), not plain text. {SAVE}",
        ),
        (
            b"PK\x03\x04\x14",
            f"a.yaml:1:1: this is a word processor's or spreadsheet's document, not plain text. {SAVE}",
        ),
        (
            b"\xd0\xcf\x11\xe0\xa1",
            f"a.yaml:1:1: this is an old word processor's or spreadsheet's document, not plain text. {SAVE}",
        ),
        (
            b"%PDF-1.7\n%\xe2\xe3",
            "a.yaml:1:1: this is a PDF, not plain text. If it is a card, its files are in it: cardmaker restore a.yaml",
        ),
        (b"\x89PNG\r\n", f"a.yaml:1:1: this is a picture, not plain text. {SAVE}"),
        (b"<!DOCTYPE html><html>", f"a.yaml:1:1: this is a web page, not plain text. {SAVE}"),
        (
            b"count,colour\n3,blue\n9,white\n",
            "a.yaml:1:1: these are stripes alone. "
            'To make a pattern file of them: cardmaker new "Its title" --stripes FILE',
        ),
        (SMALL + "for:\n\u00a0 - a\n".encode(), f"a.yaml:5:1: {NO_BREAK}"),
        (SMALL + "for:\n  -\u00a0a\n".encode(), f"a.yaml:5:4: {NO_BREAK}"),
        (b"", "a.yaml:1:1: this file is empty. Begin with a line such as title: Three Paths."),
        (b" \n\n", "a.yaml:1:1: this file is empty. Begin with a line such as title: Three Paths."),
        (
            SMALL + b"for: [" + b"a, " * 20_000 + b"]",
            "a.yaml:4:59935: there are more than 20,000 keys and values here. Split the file.",
        ),
        (
            SMALL + b"#" * 1_048_576,
            "a.yaml:1:1: this file is larger than 1 MiB, more than any pattern, loom, pegs or card layout needs. "
            "Name the file that you typed.",
        ),
    ],
)
def test_bytes_that_are_no_plain_text(raw: bytes, expected: str) -> None:
    assert told(lambda: parse_pattern(raw, "a.yaml", "a")) == expected


def test_paths_that_are_no_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert told(lambda: read_loom(tmp_path)) == f"{tmp_path}:1:1: this is a folder, not a file. Name a file in it."
    missing = tmp_path / "no.yaml"
    assert told(lambda: read_pegs(missing)) == f"{missing}:1:1: there is no such file. Check the name and the folder."
    assert "cannot be read" in told(lambda: read_pegs(Path("a\0b.yaml")))
    lost = tmp_path / "deep" / "no.yaml"
    assert told(lambda: read_pegs(lost)).endswith(f"there is no such file. There is no folder {tmp_path}/deep either.")
    assert "cannot be read" in told(lambda: read_pegs(tmp_path / ("x" * 5000)))
    pipe = tmp_path / "pipe.yaml"
    os.mkfifo(pipe)
    assert "this is not an ordinary file" in told(lambda: read_pattern(pipe))
    locked = tmp_path / "locked.yaml"
    locked.write_bytes(SMALL)

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError

    monkeypatch.setattr(Path, "open", refuse)
    assert (
        told(lambda: read_pattern(locked))
        == f"{locked}:1:1: this file may not be read. Ask its owner for leave to read it."
    )


def test_a_large_file_is_refused_before_it_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "large.yaml"
    with path.open("wb") as stream:
        stream.truncate(LARGEST_FILE + 1)
    monkeypatch.setattr(Path, "open", lambda *_, **__: pytest.fail("the file was opened"))
    assert "larger than 1 MiB" in told(lambda: read_pattern(path))


def test_draft_keeps_the_stripes_of_a_file_with_other_problems() -> None:
    raw = SMALL + b"colour: red\nends: 14\nmirror: whole\n"
    draft = draft_pattern(raw, "a.yaml", "a")
    assert draft.pattern is None
    [problem] = draft.problems
    assert str(problem).startswith("a.yaml:4:1: 'colour' is not a key that is known here. Known keys are title, code, ")
    assert draft.warp == (Stripe("blue", 2), Stripe("white", 9), Stripe("blue", 2))
    assert (draft.stated_ends, draft.mirror) == (14, "whole")
    assert draft.places.of(("ends",)) == Place(5, 1)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b"9 white", b"9 whit"),
        (b"9 white", b"white"),
        (b"9 white", b"{alternate: [white], ends: 1}"),
        (b"warp: [2 blue, 9 white, 2 blue]", b""),
    ],
)
def test_draft_has_no_warp_when_the_warp_is_wrong(old: bytes, new: bytes) -> None:
    assert old in SMALL
    draft = draft_pattern(SMALL.replace(old, new) + b"ends: 13\n", "a.yaml", "a")
    assert draft.pattern is None
    assert draft.warp is None
    assert draft.stated_ends == 13


def test_draft_of_a_file_that_is_right_or_missing(tmp_path: Path) -> None:
    draft = draft_pattern(SMALL, "a.yaml", "a")
    assert draft.problems == ()
    assert draft.pattern == parse_pattern(SMALL, "a.yaml", "a")
    gone = read_pattern_draft(tmp_path / "gone.yaml", no_shelf)
    assert gone.pattern is None
    assert gone.warp is None
    assert len(gone.problems) == 1


def test_names_are_compared_with_their_accents_composed() -> None:
    composed, apart = "crème".encode(), "cre\u0300me".encode()
    raw = b"title: x\nyarns: {" + composed + b": {fibre: linen, count: 20/2}}\nwarp: [3 " + apart + b"]\nweft: " + apart
    pattern = parse_pattern(raw, "a.yaml", "a")
    assert pattern.warp == (Stripe("crème", 3),)
    assert pattern.weft == "crème"


def test_problems_stop_at_fifty_and_say_how_many_more() -> None:
    raw = b"title: x\nyarns: {white: {fibre: linen, count: 20/2}}\nwarp:\n" + b"- 3 grey\n" * 1234
    problems = draft_pattern(raw, "a.yaml", "a").problems
    assert len(problems) == 51
    assert str(problems[-1]) == "a.yaml:54:3: and 1,184 more problems from here on."


@pytest.mark.parametrize("path", [*GOOD, *BAD], ids=lambda path: path.stem)
def test_kind_of_file_is_told_by_its_keys(path: Path) -> None:
    wanted = {"card": "card layout"}.get(kind_in(path.stem), kind_in(path.stem))
    found = kind_of_file(path.read_bytes())
    has_keys = not re.search("missing-keys|empty$|only-|top-is|no-space|moved-in-too-far|line-without", path.stem)
    assert found in ((wanted,) if has_keys else (wanted, None))


def test_kind_of_file_that_tells_nothing() -> None:
    assert kind_of_file(b"title: Trial\n") is None
    assert kind_of_file(b"\xff\xfe\x00") is None
    assert kind_of_file(b"\xef\xbb\xbfkind: span\r\n") == "pegs"
    assert kind_of_file(b"kind: board\nrows: []\n") == "pegs"


def test_settings_are_told_from_what_has_some_of_their_keys() -> None:
    assert kind_of_file(b"loom: box\npegs: [chairs]\n") == "settings"
    assert kind_of_file(b"title: Book\nloom: box\nlayout: record\nunits: us\nsections: []\n") == "binder"
    assert kind_of_file(b"title: Chairs\npegs: []\n") == "pegs"
    assert kind_of_file(b"loom: box\nstudents: []\n") == "class"
    assert kind_of_file(b"title: Day\npaper: a4\nhours: 5 h\nloom: box\n") == "event"


def test_a_file_that_is_right_never_meets_the_full_validator() -> None:
    code = (
        "import sys; from pathlib import Path; from cardmaker.reading.read_file import read_pattern_draft;"
        "from cardmaker.reading.pattern_file import draft_pattern, no_shelf;"
        "print('jsonschema' in sys.modules); read_pattern_draft(Path(sys.argv[1]), no_shelf);"
        "print('jsonschema' in sys.modules);"
        "draft_pattern(b'titel: x', 'a', 'a'); print('jsonschema' in sys.modules)"
    )
    path = CASES / "good" / "reading-pattern-full.yaml"
    root = ROOT
    run = subprocess.run([sys.executable, "-c", code, str(path)], cwd=root, capture_output=True, text=True, check=True)
    assert run.stdout.split() == ["False", "False", "True"]


YAML_WORDS = st.sampled_from(
    [
        *"abc \n\n\n  ::--[]{},#&*!|>'\"%@`?~\t\\é\0“”\u202e",
        *("title: ", "yarns:", "warp:", "- ", "  ", "9 white", ": ", "<<: ", "---\n", "1e9", "ends: ", "repeat: 3"),
        *("{fibre: linen, count: 20/2}", "\n  white: ", "alternate: ", "stripes: "),
    ]
)


@settings(max_examples=150, deadline=None)
@given(
    raw=st.one_of(st.binary(max_size=60), st.lists(YAML_WORDS, max_size=40).map(lambda words: "".join(words).encode()))
)
def test_no_file_whatever_ends_in_anything_but_problems(raw: bytes) -> None:
    for parse in PARSE.values():
        try:
            parse(raw, "a.yaml", "a")
        except ProblemsFound as found:
            check_problems(found, raw)


@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_a_good_file_with_one_slip_is_told_or_still_read(data: st.DataObject) -> None:
    path = data.draw(st.sampled_from(GOOD))
    text = path.read_text("utf-8")
    at = data.draw(st.integers(0, len(text)))
    gone = data.draw(st.integers(0, 12))
    raw = (text[:at] + data.draw(YAML_WORDS) + text[at + gone :]).encode()
    try:
        PARSE[kind_in(path.stem)](raw, "a.yaml", "a")
    except ProblemsFound as found:
        check_problems(found, raw)


def check_problems(found: ProblemsFound, raw: bytes) -> None:
    """Each problem is one line with a place that is in the file, in the order of the lines."""
    assert 1 <= len(found.problems) <= 51
    lines = re.split("\r\n|\r|\n", raw.decode(errors="replace"))
    places: list[Any] = [problem.place for problem in found.problems]
    assert places == sorted(places)
    for problem in found.problems:
        assert "\n" not in str(problem)
        assert problem.message
        assert not ENGLISH_OF_OTHERS.search(re.sub("'.*'|“.*”", "", problem.message))
        assert 1 <= problem.place.line <= len(lines)
        assert problem.place.column >= 1


@pytest.mark.parametrize(
    ("named", "meant"),
    [
        ("first-wick", "Did you mean first-wick.yaml?"),
        ("first-wick.yml", "Did you mean first-wick.yaml?"),
        ("second.yaml", "Did you mean second.yml?"),
        ("frist-wick.yaml", "Did you mean first-wick.yaml?"),
        ("My", 'Did you mean "My Tape.yaml"? A name with spaces in it stands in quotes.'),
        ("Tape.yaml", 'Did you mean "My Tape.yaml"? A name with spaces in it stands in quotes.'),
        ("zzz.yaml", "Check the name and the folder."),
        ("notes.yaml", "Check the name and the folder."),
    ],
)
def test_a_missing_file_is_told_with_the_one_that_was_meant(
    named: str, meant: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    for name in ("first-wick.yaml", "second.yml", "My Tape.yaml", "notes.txt"):
        Path(name).write_bytes(SMALL)
    assert told(lambda: read_loom(Path(named))) == f"{named}:1:1: there is no such file. {meant}"
