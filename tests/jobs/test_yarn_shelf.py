"""A yarn described once, in a file of its own: which one a pattern means, and what comes before what."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs.loading import load_loom, load_pattern
from cardmaker.model.plan import Plan
from cardmaker.model.problems import ProblemsFound
from cardmaker.model.record_class import replace
from cardmaker.reckoning.planning import make_plan
from cardmaker.wording.length_words import from_tape
from cardmaker.wording.plan_json import plan_as_json
from cardmaker.wording.report import plan_text
from tests.helpers.places import ROOT

Said = pytest.CaptureFixture[str]

BLUE = """\
title: Loft blue
fibre: linen
count: 20/2
shade: Night
lot: 12
colour: "#2f4a7d"
ends_per_inch: 44
package: {weight: 50 g, price: 6 crowns}
"""
WHITE = BLUE.replace("Night", "Bleach").replace("lot: 12", "lot: 9").replace("2f4a7d", "f4f0e4").replace("44", "48")
TAPE = "title: Gate Band\nyarns: {{blue: {blue}, white: {white}}}\nwarp: [3 blue, 9 white, 3 blue]\n"
NAMED = TAPE.format(blue="{yarn: loft-blue}", white="{yarn: loft-white, shade: Snow}")
WRITTEN_IN = TAPE.format(
    blue='{fibre: linen, count: 20/2, shade: Night, lot: 12, colour: "#2f4a7d", ends_per_inch: 44, '
    "package: {weight: 50 g, price: 6 crowns}}",
    white='{fibre: linen, count: 20/2, shade: Snow, colour: "#f4f0e4", ends_per_inch: 48, '
    "package: {weight: 50 g, price: 6 crowns}}",
)
TAUGHT = "measured:\n- {pattern: Three Paths, date: 2026, loom: Small box, %s}\n"


@pytest.fixture(autouse=True)
def hers(empty_folder: Path) -> Path:
    """A folder with two yarns of her own, and a pattern in them."""
    for folder in ("patterns", "layouts/yarns"):
        (empty_folder / folder).mkdir(parents=True)
    put("layouts/yarns/loft-blue.yaml", BLUE)
    put("layouts/yarns/loft-white.yaml", WHITE)
    put("patterns/gate-band.yaml", NAMED)
    return empty_folder


def put(place: str, text: str) -> None:
    Path(place).write_text(text, "utf-8")


def plan_of(place: str = "patterns/gate-band.yaml", loom: str = "small-box") -> Plan:
    return make_plan(load_pattern(Path(place)), load_loom(ROOT / f"layouts/looms/{loom}.yaml"))


def problems_of(text: str) -> list[str]:
    put("patterns/gate-band.yaml", text)
    with pytest.raises(ProblemsFound) as found:
        load_pattern(Path("patterns/gate-band.yaml"))
    return [str(problem) for problem in found.value.problems]


def run(capsys: Said, *arguments: str) -> tuple[int, str, str]:
    status = run_command_line(list(arguments))
    return (status, *capsys.readouterr())


# What a pattern that names a yarn means


def test_a_pattern_that_names_yarns_gives_the_plan_of_one_that_has_them_written_in(capsys: Said) -> None:
    """The white one says another shade: so the lot of the file's shade is none of it."""
    put("patterns/written-in.yaml", WRITTEN_IN)
    named, written = plan_of(), plan_of("patterns/written-in.yaml")
    assert named.pattern.yarns == written.pattern.yarns
    assert plan_as_json(named) == plan_as_json(written)
    assert plan_text(named, "us") == plan_text(written, "us")
    assert "  blue, Night, lot 12: " in plan_text(named, "us")
    assert "  white, Snow: " in plan_text(named, "us")
    assert run(capsys, "check", "patterns", "layouts")[:2] == (0, "4 files, no problems\n")


def test_every_key_of_a_yarn_may_stand_in_its_file_and_the_patterns_own_comes_before_it() -> None:
    put(
        "layouts/yarns/rope.yaml",
        "title: Rope\nfibre: wool\ncount: 28/2\nsystem: metric\nyards_per_pound: 7000\nmetres_per_kg: 14112\n"
        'wraps_per_inch: 40\nends_per_inch: 50\ncolour: "#112233"\nshade: Tar\nlot: A7\ndye: madder\n'
        "dye_evidence: label\nspaces: slots\npackage: {length: 300 m, weight: 50 g, price: $7}\n",
    )
    put("patterns/gate-band.yaml", TAPE.format(blue="{yarn: rope}", white="{fibre: linen, count: 20/2}"))
    yarn = load_pattern(Path("patterns/gate-band.yaml")).yarns[0]
    assert yarn.shelf is not None
    assert yarn == replace(yarn.shelf.yarn, name="blue")
    assert all(getattr(yarn, field) for field in yarn.__match_args__)
    own = '{yarn: rope, wraps_per_inch: 41, colour: "#332211", shade: Pitch, lot: B, dye: walnut, dye_evidence: nose, '
    put(
        "patterns/gate-band.yaml",
        TAPE.format(blue=f"{own}package: {{price: $8}}}}", white="{fibre: linen, count: 20/2}"),
    )
    other = load_pattern(Path("patterns/gate-band.yaml")).yarns[0]
    differing = [field for field in yarn.__match_args__ if getattr(yarn, field) != getattr(other, field)]
    assert differing == [
        *("wraps_per_inch", "ends_per_inch", "colour", "shade", "lot", "dye", "dye_evidence", "package")
    ]
    assert other.ends_per_inch is None  # wraps that the pattern says come before what the file measured


def test_hers_comes_before_the_shipped_one_and_the_pattern_s_own_folder_before_both(hers: Path) -> None:
    put("patterns/gate-band.yaml", TAPE.format(blue="{yarn: bleached-linen}", white="{yarn: loft-white}"))
    assert load_pattern(Path("patterns/gate-band.yaml")).yarns[0].shade == "Bleached 1"
    put("layouts/yarns/bleached-linen.yaml", BLUE)
    assert load_pattern(Path("patterns/gate-band.yaml")).yarns[0].shade == "Night"
    for folder in ("patterns", "layouts/yarns"):
        (hers / "other" / folder).mkdir(parents=True)
    put("other/patterns/gate-band.yaml", Path("patterns/gate-band.yaml").read_text())
    put("other/layouts/yarns/bleached-linen.yaml", BLUE.replace("Night", "Dusk"))
    assert load_pattern(Path("other/patterns/gate-band.yaml")).yarns[0].shade == "Dusk"


def test_second_yarns_may_be_named_too() -> None:
    put(
        "patterns/gate-band.yaml", NAMED + "second_yarns: [{title: For a class, yarns: {white: {yarn: quay-cotton}}}]\n"
    )
    (second,) = load_pattern(Path("patterns/gate-band.yaml")).second_yarns
    assert (second.yarns[0].fibre, second.yarns[0].name) == ("cotton", "white")


# Refused


def test_a_yarn_that_is_nowhere_is_told_at_its_line_with_where_it_was_looked_for() -> None:
    assert problems_of(NAMED.replace("loft-blue", "loft-blu")) == [
        "patterns/gate-band.yaml:2:22: yarns.blue.yarn: There is no yarn named 'loft-blu'. Did you mean loft-blue?"
    ]
    (line,) = problems_of(NAMED.replace("loft-blue", "sisal"))
    assert line.startswith("patterns/gate-band.yaml:2:22: yarns.blue.yarn: There is no yarn named 'sisal'. Looked in ")
    assert "layouts/yarns" in line
    assert "quay-cotton" in line


def test_a_yarn_is_named_by_its_stem_so_that_it_is_found_wherever_both_are_taken() -> None:
    assert problems_of(NAMED.replace("loft-blue", "layouts/yarns/loft-blue.yaml")) == [
        "patterns/gate-band.yaml:2:22: yarns.blue.yarn: 'layouts/yarns/loft-blue.yaml' is a path, and a yarn is named "
        "by its file's stem alone. Put the file into layouts/yarns, and write loft-blue."
    ]


def test_a_pattern_cannot_make_another_yarn_of_it() -> None:
    assert problems_of(NAMED.replace("loft-blue}", "loft-blue, fibre: cotton, count: 8/2}")) == [
        "patterns/gate-band.yaml:2:40: yarns.blue.fibre: this is 'cotton', but layouts/yarns/loft-blue.yaml says linen."
        " Take fibre out here if it is that yarn; if it is another, take yarn out and describe it here.",
        "patterns/gate-band.yaml:2:55: yarns.blue.count: this is '8/2', but layouts/yarns/loft-blue.yaml says 20/2. "
        "Take count out here if it is that yarn; if it is another, take yarn out and describe it here.",
    ]
    put("patterns/gate-band.yaml", NAMED.replace("loft-blue}", "loft-blue, fibre: linen, count: 20/2}"))
    assert load_pattern(Path("patterns/gate-band.yaml")).yarns[0].count == "20/2"


def test_two_names_for_one_file_are_two_yarns_only_where_something_tells_them_apart() -> None:
    assert problems_of(TAPE.format(blue="{yarn: loft-blue}", white="{yarn: loft-blue}")) == [
        "patterns/gate-band.yaml:2:48: yarns.white.yarn: 'white' and 'blue' are one yarn: both name loft-blue, and no "
        "more. Say what tells them apart, as in shade: or colour:, or use one of the two names in the stripes."
    ]
    put("patterns/gate-band.yaml", TAPE.format(blue="{yarn: loft-blue}", white="{yarn: loft-blue, shade: Snow}"))
    assert [yarn.shade for yarn in load_pattern(Path("patterns/gate-band.yaml")).yarns] == ["Night", "Snow"]


def test_what_is_wrong_in_a_yarn_s_file_is_told_there_once(capsys: Said) -> None:
    put("layouts/yarns/loft-blue.yaml", BLUE.replace("20/2", "2/20").replace("lot:", "lott:"))
    text = TAPE.format(blue="{yarn: loft-blue}", white="{yarn: loft-blue, shade: Snow}")
    told = "layouts/yarns/loft-blue.yaml:5:1: 'lott' is not a key that is known here. Did you mean 'lot'?"
    assert problems_of(text) == [told]
    assert run(capsys, "check", "layouts/yarns/loft-blue.yaml") == (1, "", f"{told}\n")
    put("layouts/yarns/loft-blue.yaml", BLUE.replace("20/2", "2/20"))
    (line,) = problems_of(text)
    assert line.startswith("layouts/yarns/loft-blue.yaml:3:1: count: Count 2/20 has its smaller figure first;")
    put("layouts/yarns/loft-blue.yaml", "title: a loom\nkind: one heddle\nslots: 12\nholes: 11\n")
    assert problems_of(text) == [
        "layouts/yarns/loft-blue.yaml:1:1: This is a loom file. A yarn file is wanted here; "
        "a loom is named with --loom."
    ]


def test_a_yarn_s_file_is_listed_checked_and_told_by_its_key(capsys: Said) -> None:
    status, out, _ = run(capsys, "list", "yarns")
    assert status == 0
    assert out.splitlines() == [
        "your yarns",
        "  loft-blue          Loft blue, linen 20/2, Night",
        "  loft-white         Loft blue, linen 20/2, Bleach",
        "",
        "yarns that are shipped",
        *(line for line in out.splitlines()[5:]),
    ]
    assert len(out.splitlines()) == 8
    assert run(capsys, "list", "yarn")[1] == out
    assert run(capsys, "list", "yarms") == (
        2,
        "",
        "cardmaker: 'yarms' is nothing that is listed. Did you mean yarns?\n",
    )


# What tapes of a yarn taught


def test_every_pattern_in_a_yarn_reckons_with_what_a_tape_of_it_taught_and_says_which() -> None:
    """15 ends at 40 to the inch are 9.525 mm; 1.8 m of tape at 3 % and 16 % lost, and 20 in of waste."""
    before = plan_of()
    taught = TAUGHT % "ends_per_inch: 40, take_up: 16 %, shrinkage: 3 %, picks_per_inch: 13.5"
    put("layouts/yarns/loft-blue.yaml", BLUE + taught)
    partly = plan_of()  # nothing is known of the white yarn: of the whole tape neither take-up nor picks
    assert (partly.lengths.take_up_basis, partly.weft.basis) == ("default", "default")
    assert partly.weft.picks_per_inch == partly.width.ends_per_inch / 3
    assert partly.width.likely_mm > before.width.likely_mm
    assert partly.measured_on == ()
    put("layouts/yarns/loft-white.yaml", WHITE + taught)
    plan = plan_of()
    assert round(float(plan.width.likely_mm), 3) == 9.525
    assert [float(plan.lengths.take_up), float(plan.lengths.shrinkage), float(plan.weft.picks_per_inch)] == [
        *(0.16, 0.03, 13.5),
    ]
    assert round(float(plan.lengths.warp_mm), 1) == round(1800 / 0.97 / 0.84 + 508, 1)
    told = "measured on Three Paths, 2026"
    assert [from_tape(plan, figure) for figure in ("take-up", "shrinkage", "width", "picks per inch", "waste")] == [
        *(told, told, told, told, "")
    ]
    text = " ".join(plan_text(plan, "metric").split())
    assert f"about 9.5 mm (⅜ in); 8.5 to 11 mm, {told} " in text
    assert f"With 3 % lost in washing ({told}) that is" in text
    assert f"with 16 % taken up ({told}) and" in text
    assert f"13.5 picks to the inch, {told};" in text
    assert "shrinkage (3 %) is a guess" not in text
    read = plan_as_json(plan)["learned"]
    assert read["measured_on"]["width"] == ["Three Paths, 2026"]


def test_what_the_pattern_says_itself_comes_first() -> None:
    taught = TAUGHT % "ends_per_inch: 40, take_up: 16 %, shrinkage: 3 %, picks_per_inch: 13.5"
    put("layouts/yarns/loft-blue.yaml", BLUE + taught)
    put("layouts/yarns/loft-white.yaml", WHITE + taught)
    own = "width: 12 mm\npicks_per_inch: 20\nlength: {take_up: 11 %, finished: 1 m}\n"
    put("patterns/gate-band.yaml", NAMED + own)
    plan = plan_of()
    figures = (plan.width.likely_mm, plan.weft.picks_per_inch, plan.lengths.take_up)
    assert [float(each) for each in figures] == [12, 20, 0.11]
    assert float(plan.lengths.shrinkage) == 0.05  # it went with the other take-up
    assert plan.measured_on == ()
    put("patterns/gate-band.yaml", NAMED + "measured: [{date: 2027, warp: 3 yd, tape: 71 in, leftover: 20 in}]\n")
    plan = plan_of()
    assert from_tape(plan, "take-up") == "from your tape of 2027"
    assert from_tape(plan, "picks per inch") == "measured on Three Paths, 2026"
    put(
        "patterns/gate-band.yaml",
        NAMED.replace("loft-blue}", "loft-blue, ends_per_inch: 50}").replace("Snow}", "Snow, ends_per_inch: 50}"),
    )
    plan = plan_of()
    assert float(plan.width.ends_per_inch) == 50
    assert from_tape(plan, "width") == ""


def test_a_tape_of_this_loom_comes_before_a_younger_one_of_another() -> None:
    records = (
        "- {pattern: Old, date: 2024, loom: small-box, take_up: 12 %, ends_per_inch: 41}\n"
        "- {pattern: Young, date: 2026, loom: Middle box, take_up: 14 %, ends_per_inch: 43}\n"
        "- {pattern: Middle, date: 2025, loom: Middle box, take_up: 13 %, ends_per_inch: 42}\n"
    )
    for stem, text in (("loft-blue", BLUE), ("loft-white", WHITE)):
        put(f"layouts/yarns/{stem}.yaml", f"{text}measured:\n{records}")
    here, there, elsewhere = (plan_of(loom=loom) for loom in ("small-box", "middle-box", "broad-paddle"))
    assert [from_tape(plan, "take-up") for plan in (here, there, elsewhere)] == [
        *("measured on Old, 2024", "measured on Young, 2026", "measured on Young, 2026"),
    ]
    assert [float(plan.width.ends_per_inch) for plan in (here, there, elsewhere)] == [41, 43, 43]


def test_a_weft_of_another_yarn_makes_other_picks() -> None:
    taught = TAUGHT % "ends_per_inch: 40, take_up: 16 %, picks_per_inch: 13.5"
    put("layouts/yarns/loft-blue.yaml", BLUE + taught)
    put("layouts/yarns/loft-white.yaml", WHITE + taught)
    thin = NAMED.replace("Snow}}", "Snow}, thin: {fibre: linen, count: 40/2}}") + "weft: thin\n"
    put("patterns/gate-band.yaml", thin)
    plan = plan_of()
    assert plan.lengths.take_up_basis == plan.weft.basis == "default"
    assert from_tape(plan, "width") == "measured on Three Paths, 2026"


def test_a_long_name_does_not_crowd_out_its_figure() -> None:
    long = "A Tape with a Name that Goes on and on and on until the End of the Line"
    for stem, text in (("loft-blue", BLUE), ("loft-white", WHITE)):
        put(f"layouts/yarns/{stem}.yaml", text + TAUGHT.replace("Three Paths", long) % "ends_per_inch: 40")
    assert from_tape(plan_of(), "width") == "measured on A Tape with a Name that Goes on…, 2026"


def test_what_a_yarn_is_marked_as_is_printed(capsys: Said) -> None:
    from cardmaker.wording.loom_words import marks_of_files

    put("layouts/yarns/loft-blue.yaml", f"{BLUE}marked_as: borrowed\n")
    assert marks_of_files(plan_of()) == "Small box: sample data, invented; Loft blue: borrowed"


def test_the_code_on_paper_says_that_the_files_of_the_yarns_are_not_in_it() -> None:
    from cardmaker.wording.file_code_words import what_it_holds

    plain, named = (
        what_it_holds(is_packed=False),
        what_it_holds(is_packed=False, yarn_files=["loft-blue", "loft-white"]),
    )
    assert named == f"{plain} Not in it: the files of loft-blue and loft-white. Keep them, or the PDF of this card."


def test_a_card_says_beside_the_bar_on_which_tape_its_losses_were_measured(capsys: Said) -> None:
    taught = TAUGHT % "ends_per_inch: 40, take_up: 16 %, shrinkage: 3 %, picks_per_inch: 13.5"
    for stem, text in (("loft-blue", BLUE), ("loft-white", WHITE)):
        put(f"layouts/yarns/{stem}.yaml", text + taught)
    assert run(capsys, "card", "gate-band", "--loom", "small-box", "--out", "card.pdf", "--back")[0] == 0
    pages = [page.extract_text() for page in PdfReader("card.pdf").pages]
    assert "Take-up and shrinkage measured on Three Paths, 2026." in " ".join(pages[0].split())
    assert "Not in it: the files of loft-blue and loft-white." in " ".join(pages[1].split())
    assert all("Three Paths, 2026" in " ".join(page.split()) for page in pages)


def test_a_card_that_replaces_another_tells_that_its_yarn_was_measured_since(capsys: Said) -> None:
    """The old pattern is read with the yarns that the old card carries, not with those of today."""
    assert run(capsys, "card", "gate-band", "--loom", "small-box", "--out", "old.pdf")[0] == 0
    again = ("card", "gate-band", "--loom", "small-box", "--supersedes", "old.pdf", "--out", "new.pdf")
    assert run(capsys, *again)[0] == 0
    before = " ".join(PdfReader("new.pdf").pages[0].extract_text().split())
    put("layouts/yarns/loft-blue.yaml", BLUE + TAUGHT % "ends_per_inch: 40")
    assert run(capsys, *again)[0] == 0
    text = " ".join(PdfReader("new.pdf").pages[0].extract_text().split())
    assert "measured" in text
    assert "measured" not in before
    Path("layouts/yarns/loft-blue.yaml").unlink()
    put("layouts/yarns/loft-white.yaml", WHITE)
    put("patterns/gate-band.yaml", WRITTEN_IN)
    assert run(capsys, *again)[0] == 0
