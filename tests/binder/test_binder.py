"""A binder as its reader has it: every link followed, every number looked up, every page held against its card."""

from __future__ import annotations

import logging
import re
from collections import Counter, defaultdict
from functools import cache
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import Any, Final

import numpy as np
import pikepdf
import pypdf
import pypdfium2
import pytest
import yaml

from cardmaker.jobs import card_making, loading, paper_lookup
from cardmaker.jobs.binder_making import BinderRequest, make_binder
from tests.helpers import catalogue_table
from tests.helpers.binder_tools import (
    Link,
    bound,
    in_words,
    largest,
    links_by_pikepdf,
    links_by_pypdf,
    outline_by_pdfium,
    outline_by_pypdf,
    plumbed,
)
from tests.helpers.paper_tools import printed
from tests.helpers.places import ROOT, shipped_alone, shipped_in
from tests.helpers.shipped import plan_for_layout
from tests.helpers.shipped import plan_of as plan

PATTERNS: Final = shipped_in("patterns")
FILES: Final = {path.stem: yaml.safe_load(path.read_text("utf-8")) for path in PATTERNS}
TITLES: Final = {str(file["code"]): str(file["title"]) for file in FILES.values()}
STEMS: Final = {str(file["title"]): stem for stem, file in FILES.items()}
BOOK: Final = str(ROOT / "layouts" / "binders" / "the-ropeloft-book.yaml")
FOLDER: Final = str(shipped_alone() / "patterns")
FEW: Final = ("three-paths", "long-sixty", "five-posts", "nine", "bare-thread", "grey-trap")
BINDERS: Final[dict[str, tuple[tuple[str, ...], dict[str, Any]]]] = {
    "own sections, both sides": ((BOOK,), {"layout": "field"}),
    "by use": ((FOLDER,), {"by": "use", "layout": "six-numbers"}),
    "plain, A4": (tuple(f"{FOLDER}/{stem}.yaml" for stem in FEW), {"paper": "a4"}),
}
LOOMS_OF_SECTIONS: Final = {"treadle-ladder": "treadle-pair"}  # of the book: another would be chosen for it alone
every_binder = pytest.mark.parametrize("kind", BINDERS)
BACK: Final = re.compile(r"Back to the contents, page (\d+)")


def pdf_of(kind: str) -> bytes:
    names, more = BINDERS[kind]
    return bound(*names, **more).pdf


def titles_in(kind: str) -> set[str]:
    return {str(FILES[stem]["title"]) for stem in (FEW if kind == "plain, A4" else FILES)}


@cache
def runs(pdf: bytes) -> dict[int, str]:
    """For each page the outermost bookmark that it stands under; a card's page is called ``card``."""
    found: dict[int, str] = {}
    lines = outline_by_pypdf(pdf)
    for number in range(1, len(plumbed(pdf)) + 1):
        before = [line for line in lines if line.page <= number]
        top = [line.title for line in before if line.level == 0][-1]
        is_card = before[-1].level == 1 and before[-1].page == number and top != "Indexes"
        found[number] = "card" if is_card else top
    return found


@cache
def cards(pdf: bytes) -> dict[int, str]:
    """The title that is printed on each card, by its page."""
    return {number: plumbed(pdf)[number - 1].title() for number, run in runs(pdf).items() if run == "card"}


@cache
def leading_to_cards(pdf: bytes) -> dict[tuple[int, int], list[Link]]:
    """Links from everything but the page numbers, those of one row together, by page and target."""
    rows: dict[tuple[int, int], list[Link]] = defaultdict(list)
    for link in links_by_pypdf(pdf):
        if not BACK.match(link.told):
            rows[link.page, link.target].append(link)
    return rows


# Links


@every_binder
def test_two_readers_follow_the_same_links(kind: str) -> None:
    found = links_by_pypdf(pdf_of(kind))
    assert found == links_by_pikepdf(pdf_of(kind))
    assert len(found) > 8 * len(titles_in(kind))


@every_binder
def test_every_link_says_the_page_and_the_card_that_it_leads_to(kind: str) -> None:
    """Lines of contents, dividers, indexes and small pictures: their number is the page, their words its title."""
    pdf = pdf_of(kind)
    on = cards(pdf)
    pages = plumbed(pdf)
    looked_at = Counter[str]()
    for (page, target), links in leading_to_cards(pdf).items():
        for said in {row_of(link, links, pages[page - 1]) for link in links}:
            assert said.split()[-1] == str(target), said
            if target not in on:
                assert said.rsplit(" ", 1)[0] == largest(pages[target - 1].page)
                continue
            title = on[target]
            code = str(FILES[STEMS[title]]["code"])
            words = set(said.replace("…", "").split()[:-1])
            assert words & {code, *title.split()}, (said, title)
            assert not words & (set(TITLES) - {code}), (said, title)
            looked_at[runs(pdf)[page]] += 1
    assert {"Contents", "Indexes", "All tapes at a glance"} <= looked_at.keys()


def row_of(link: Link, links: list[Link], page: Any) -> str:
    """The words of a link, with those of the links beside it that lead to the same page."""
    beside = sorted(other for other in links if abs(other.top - link.top) < 0.01)
    return " ".join(filter(None, (page.inside(other) for other in beside)))


@every_binder
def test_every_card_is_led_to_from_contents_codes_and_pictures(kind: str) -> None:
    pdf = pdf_of(kind)
    where = runs(pdf)
    led: dict[str, set[int]] = defaultdict(set)
    for page, target in leading_to_cards(pdf):
        led[where[page]].add(target)
    for run in ("Contents", "Indexes", "All tapes at a glance"):
        assert cards(pdf).keys() <= led[run]


@every_binder
def test_a_page_number_leads_back_to_the_contents_page_that_lists_the_card(kind: str) -> None:
    pdf = pdf_of(kind)
    listing = defaultdict(set)
    for page, target in leading_to_cards(pdf):
        if runs(pdf)[page] == "Contents":
            listing[target].add(page)
    back = {link.page: link for link in links_by_pypdf(pdf) if BACK.match(link.told)}
    for number, title in cards(pdf).items():
        link = back[number]
        assert link.target in listing[number], title
        assert link.told == f"Back to the contents, page {link.target}"
        assert plumbed(pdf)[number - 1].inside(link) == str(number)


@every_binder
def test_every_card_stands_in_it_once(kind: str) -> None:
    assert sorted(cards(pdf_of(kind)).values()) == sorted(titles_in(kind))


# Outline and labels


@every_binder
def test_the_outline_is_what_the_pages_say(kind: str) -> None:
    pdf = pdf_of(kind)
    lines = outline_by_pypdf(pdf)
    assert lines == outline_by_pdfium(pdf)
    assert lines[0].level == 0
    assert all(after.level <= before.level + 1 for before, after in pairwise(lines))
    assert [line.page for line in lines] == sorted(line.page for line in lines)
    on = cards(pdf)
    for line in lines:
        if line.page in on and line.level == 1:
            assert line.title == f"{on[line.page]} ({FILES[STEMS[on[line.page]]]['code']})"
        elif line.level == 0 and line.title != "Cards":
            assert largest(plumbed(pdf)[line.page - 1].page) == line.title
        elif line.level:
            assert line.title in " ".join(plumbed(pdf)[line.page - 1].page.extract_text().split())


@every_binder
def test_pages_are_numbered_from_one_as_they_print(kind: str) -> None:
    pdf = pdf_of(kind)
    document = pypdfium2.PdfDocument(pdf)
    count = len(document)
    labels = [str(number) for number in range(1, count + 1)]
    assert pypdf.PdfReader(BytesIO(pdf)).page_labels == labels
    assert [document.get_page_label(index) for index in range(count)] == labels
    margin = loading.load_layout(ROOT / "layouts" / "cards" / f"{card_of(kind)[0]}.yaml").margin_mm
    for number, letters in enumerate(plumbed(pdf)[1:], start=2):
        page = letters.page
        figures = [c for c in page.chars if middle(c) > float(page.height) - margin / 25.4 * 72]
        assert "".join(c["text"] for c in figures) == str(number)
        outer = 12 / 25.4 * 72  # 12 mm
        if kind.startswith("own") and number % 2 == 0:
            assert figures[0]["x0"] == pytest.approx(outer, abs=0.1)
        else:
            assert figures[-1]["x1"] == pytest.approx(float(page.width) - outer, abs=0.1)


def middle(char: Any) -> float:
    """Half way up a figure: a third of the size above its foot, which is a quarter above the box's lower edge."""
    return float(char["bottom"]) - 0.5 * float(char["size"])


# The file


@every_binder
def test_each_face_is_embedded_once(kind: str) -> None:
    """A second file of a face holds its unusual signs, those that its first has no room for."""
    with pikepdf.open(BytesIO(pdf_of(kind))) as document:
        names = [str(each.FontName) for each in document.objects if _is(each, "/FontDescriptor")]
        files = [each.FontFile2.read_bytes() for each in document.objects if _is(each, "/FontDescriptor")]
    assert len(names) == len(set(names)) == len(set(files))
    faces = Counter(name.split("+")[-1] for name in names)
    assert 3 <= len(faces) <= 5
    assert max(faces.values()) <= 2


def _is(thing: Any, kind: str) -> bool:
    return isinstance(thing, pikepdf.Dictionary) and thing.get("/Type") == kind


@every_binder
def test_it_opens_without_a_warning(kind: str, caplog: pytest.LogCaptureFixture) -> None:
    """qpdf looks at every object; pypdf says what it had to guess; pdfium draws every page."""
    pdf = pdf_of(kind)
    with pikepdf.open(BytesIO(pdf)) as document:
        assert document.check_pdf_syntax() == []
        count = len(document.pages)
    with caplog.at_level(logging.WARNING):
        reader = pypdf.PdfReader(BytesIO(pdf), strict=True)
        assert len(reader.pages) == len(plumbed(pdf)) == count
        assert all(page.extract_text() is not None for page in reader.pages)
    assert caplog.records == []
    drawn = pypdfium2.PdfDocument(pdf)
    assert all(drawn[index].render(scale=0.2).to_numpy().size for index in range(count))


@pytest.mark.parametrize("jobs", [2, 3])
def test_the_same_bytes_whoever_draws_them(jobs: int) -> None:
    names, more = BINDERS["by use"]
    assert make_binder(BinderRequest(names, quiet=True, jobs=jobs, **more)).pdf == pdf_of("by use")
    assert make_binder(BinderRequest(names, quiet=True, jobs=1, **more)).pdf == pdf_of("by use")


# The cards in it are the cards alone


@every_binder
def test_a_card_in_it_is_the_card_alone_and_a_page_number(kind: str) -> None:
    """The same operators, the same characters in the same places; the number is put on top."""
    pdf = pdf_of(kind)
    layout, paper, units = card_of(kind)
    with pikepdf.open(BytesIO(pdf)) as document:
        for number, title in cards(pdf).items():
            alone = single(STEMS[title], layout, paper, units)
            with pikepdf.open(BytesIO(alone)) as card:
                wanted = card.pages[0].Contents.read_bytes()
            contents = document.pages[number - 1].Contents
            assert contents[0].read_bytes() == wanted, title
            assert len(contents) == 2
            assert set_on(plumbed(pdf)[number - 1].page)[: -len(str(number))] == set_on(plumbed(alone)[0].page)


@pytest.mark.parametrize("stem", ["three-paths", "long-sixty", "five-posts"])
def test_a_card_in_it_looks_like_the_card_alone(stem: str) -> None:
    """Grey pictures of both, alike to the last pixel but for the corner with the page number."""
    pdf = pdf_of("plain, A4")
    number = next(page for page, title in cards(pdf).items() if STEMS[title] == stem)
    inside = pypdfium2.PdfDocument(pdf)[number - 1].render(scale=1.5, grayscale=True).to_numpy().squeeze().astype(int)
    alone = pypdfium2.PdfDocument(printed(stem, "record", "a4"))[0].render(scale=1.5, grayscale=True)
    differ = np.argwhere(inside != alone.to_numpy().squeeze())
    pixel = 1.5 * 72 / 25.4
    corner = np.array([297 - 7.5 - 4, 210 - 12 - 8]) * pixel
    assert 0 < len(differ) < 600
    assert (differ >= corner).all()


def single(stem: str, layout: str, paper: str | None, units: Any) -> bytes:
    if units is None:
        return printed(stem, layout, paper)
    found = loading.load_layout(ROOT / "layouts" / "cards" / f"{layout}.yaml")
    return card_making.make_card(
        plan_for_layout(stem, layout, units, LOOMS_OF_SECTIONS.get(stem)),
        found,
        paper_lookup.paper_of(found, paper),
        units,
    ).pdf


def card_of(kind: str) -> tuple[str, str | None, Any]:
    more = BINDERS[kind][1]
    return more.get("layout", "record"), more.get("paper"), "us" if kind.startswith("own") else None


def set_on(page: Any) -> list[tuple[Any, ...]]:
    return [
        (c["text"], c["fontname"].split("+")[-1], round(c["size"], 2), round(c["x0"], 2), round(c["top"], 2))
        for c in page.chars
    ]


# Both sides


def test_on_both_sides_every_card_is_a_right_hand_page() -> None:
    pdf = pdf_of("own sections, both sides")
    assert all(number % 2 == 1 for number in cards(pdf))
    assert all(line.page % 2 == 1 for line in outline_by_pypdf(pdf) if line.level == 0)
    assert len(plumbed(pdf)) % 2 == 0


def test_on_both_sides_the_margin_for_binding_changes_sides() -> None:
    """The margins are those of the layout; rules run from one to the other."""
    pdf = bound(FOLDER, duplex=True).pdf
    margins = {}
    for number, run in runs(pdf).items():
        if run in ("Contents", "Indexes"):
            page = plumbed(pdf)[number - 1].page
            rules = [line for line in page.lines if line["x1"] - line["x0"] > 400]
            if not rules:  # the empty back of the last page
                continue
            left, right = min(r["x0"] for r in rules), max(r["x1"] for r in rules)
            margins[number] = (round(left / 72 * 25.4, 1), round((float(page.width) - right) / 72 * 25.4, 1))
    layout = loading.load_layout(ROOT / "layouts" / "cards" / "record.yaml")
    outer = layout.margin_mm
    inner = layout.binding_mm if layout.binding_side != "none" else outer
    assert {number % 2 for number in margins} == {0, 1}
    for number, found in margins.items():
        assert found == pytest.approx((inner, outer) if number % 2 else (outer, inner), abs=0.2)


def test_the_back_of_a_card_lies_behind_it() -> None:
    """The visitor's side, which has no code: the name, what it is for, and how many threads it has."""
    pdf = pdf_of("own sections, both sides")
    for number, title in cards(pdf).items():
        file = FILES[STEMS[title]]
        back = " ".join(plumbed(pdf)[number].page.extract_text().split())
        assert title in back
        assert f"{plan(STEMS[title]).ends} threads" in back
        assert file["for"][0] in back
        assert "notes and samples" not in back


def test_where_a_layout_has_no_back_that_is_for_notes(tmp_path: Path) -> None:
    text = (ROOT / "layouts" / "cards" / "field.yaml").read_text("utf-8")
    own = tmp_path / "own.yaml"
    own.write_text(text[: text.index("\nback:\n")].replace("ribbon: back ", "ribbon: no "), "utf-8")
    pdf = bound(*(f"{FOLDER}/{stem}.yaml" for stem in FEW), layout=str(own), duplex=True).pdf
    assert len(cards(pdf)) == len(FEW)
    for number, title in cards(pdf).items():
        code = FILES[STEMS[title]]["code"]
        back = " ".join(plumbed(pdf)[number].page.extract_text().split())
        assert back.startswith(f"{title} ({code}): notes and samples")
        assert FILES[STEMS[title]]["for"][0] in back.lower()


def test_a_section_s_cards_are_for_its_own_loom() -> None:
    """What one heddle holds as well stands in the chapter for the treadle pair as it is threaded there."""
    pdf = pdf_of("own sections, both sides")
    (number,) = (page for page, title in cards(pdf).items() if title == "Treadle Ladder")
    card = plumbed(pdf)[number - 1].page.extract_text()
    assert "Treadle pair" in card
    assert "LEFT FOOT" in card
    one_loom = bound(BOOK, layout="field", loom="broad-paddle", jobs=1)
    assert any(
        "Long Sixty" in problem.message or problem.file.endswith("long-sixty.yaml") for problem in one_loom.problems
    )
    (number,) = (page for page, title in cards(one_loom.pdf).items() if title == "Treadle Ladder")
    assert "LEFT FOOT" not in plumbed(one_loom.pdf)[number - 1].page.extract_text()


# Sections


def sections(pdf: bytes) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for line in outline_by_pypdf(pdf):
        if line.level == 0:
            found[line.title] = []
        elif line.page in cards(pdf):
            found[[*found][-1]].append(line.title.rsplit(" (", 1)[0])
    return {title: inside for title, inside in found.items() if inside}


def test_by_use_every_card_stands_under_its_first_use() -> None:
    expected = defaultdict(list)
    for code, title in TITLES.items():
        use = FILES[STEMS[title]]["for"][0]
        expected[use[0].upper() + use[1:]].append((int(code[1:]), title))
    in_order = {use: [title for _, title in sorted(expected[use])] for use in sorted(expected)}
    assert sections(pdf_of("by use")) == in_order


def test_by_ends() -> None:
    """The counts are those of the catalogue, counted by hand; the limits are 15, 25, 35 and 50."""
    expected = defaultdict(list)
    heads = {15: "Up to 15 ends", 25: "16 to 25 ends", 35: "26 to 35 ends", 50: "36 to 50 ends"}
    heads[999] = "51 ends and more"
    for row in sorted(catalogue_table.rows(), key=lambda row: row.code):
        expected[next(limit for limit in heads if row.ends <= limit)].append(row.title)
    pdf = bound(FOLDER, layout="six-numbers", by="ends").pdf
    assert sections(pdf) == {heads[limit]: expected[limit] for limit in sorted(expected)}


def test_by_width() -> None:
    """Widths as printed on the cards' plans; a tape stands in the section whose limits hold its width."""
    found = sections(bound(FOLDER, layout="six-numbers", by="width").pdf)
    assert sorted(title for inside in found.values() for title in inside) == sorted(TITLES.values())
    for head, inside in found.items():
        limits = [int(figure) for figure in re.findall(r"\d+", head)]
        least, most = (0, limits[0]) if head.startswith("Under") else (limits[0], limits[1] if limits[1:] else 10**6)
        assert all(least <= plan(STEMS[title]).width.likely_mm < most for title in inside), head
    starts = [min(plan(STEMS[title]).width.likely_mm for title in inside) for inside in found.values()]
    assert starts == sorted(starts)


def test_by_grade() -> None:
    found = sections(bound(FOLDER, layout="six-numbers", by="grade").pdf)
    for head, inside in found.items():
        letter = head[6] if head.startswith("Grade ") else None
        assert all((FILES[STEMS[title]].get("source") or {}).get("grade") == letter for title in inside), head
    assert sorted(title for inside in found.values() for title in inside) == sorted(TITLES.values())
    assert [*found] == sorted(found)


def test_a_binder_file_has_its_own_sections_in_its_own_order() -> None:
    file = yaml.safe_load(Path(BOOK).read_text("utf-8"))
    expected = {
        section["title"]: [FILES[stem]["title"] for stem in section["patterns"]]
        for section in file["sections"]
        if "patterns" in section
    }
    pdf = pdf_of("own sections, both sides")
    assert sections(pdf) == expected
    pages = plumbed(pdf)
    first = min(number for number, run in runs(pdf).items() if run == "How to use this book")
    text = " ".join(" ".join(pages[number - 1].page.extract_text() for number in (first, first + 1)).split())
    assert " ".join(file["sections"][0]["text"].split()) in text
    assert pages[0].page.extract_text().split("\n")[0] == "The Ropeloft Book"
    assert file["marked_as"] in pages[0].page.extract_text()


# Indexes


def test_the_index_of_colours_and_looms_names_every_card_that_has_them() -> None:
    """Counted a second time from the text of the pages and from the files and plans."""
    text = index_text(pdf_of("own sections, both sides"))
    expected: dict[str, set[str]] = defaultdict(set)
    for stem, file in FILES.items():
        reckoned = plan(stem)
        for colour in reckoned.colours:
            expected[colour.yarn[0].upper() + colour.yarn[1:]].add(file["code"])
        for loom in {reckoned.loom.title, *(o.title for o in reckoned.other_looms if o.placement is not None)}:
            expected[loom].add(file["code"])
        for use in file["for"]:
            expected[use[0].upper() + use[1:]].add(file["code"])
    for key, codes in expected.items():
        assert set(re.findall(r"T\d\d", "\n".join(text[key]))) == codes, key


def test_the_index_of_ends_is_the_catalogue() -> None:
    """Every count stands before its card, under the heading of its limits."""
    text = index_text(pdf_of("own sections, both sides"))
    heads = {
        "Up to 15 ends": 15,
        "16 to 25 ends": 25,
        "26 to 35 ends": 35,
        "36 to 50 ends": 50,
        "51 ends and more": 999,
    }
    expected = defaultdict(set)
    for row in catalogue_table.rows():
        expected[next(head for head, most in heads.items() if row.ends <= most)].add((str(row.ends), row.code))
    found = {head: set(re.findall(r"^(\d+) (T\d\d)\b", "\n".join(text[head]), re.MULTILINE)) for head in heads}
    assert found == expected


def test_a_heading_is_not_there_for_every_width() -> None:
    heads = [key for key in index_text(pdf_of("own sections, both sides")) if key.endswith((" wide", " wide and more"))]
    assert 3 <= len(heads) <= 6
    assert len(heads) < len({plan(stem).width.likely_mm for stem in STEMS.values()}) / 3


def test_a_key_with_one_card_has_it_on_its_line() -> None:
    pdf = pdf_of("own sections, both sides")
    lines = [
        line
        for number, run in runs(pdf).items()
        if run == "Indexes"
        for line in plumbed(pdf)[number - 1].page.extract_text().splitlines()
    ]
    pages = {title: number for number, title in cards(pdf).items()}
    for key, title in (("Lanyard", "Four Drips"), ("Towel loop", "Open Ladder"), ("Yellow", "Fair Day")):
        code = next(code for code, known in TITLES.items() if known == title)
        assert f"{key} {code} {title} {pages[title]}" in lines


def test_a_code_never_runs_into_its_page() -> None:
    """Between a code and the number of a page stands a name, or *p.*"""
    pdf = pdf_of("own sections, both sides")
    text = "\n".join(
        plumbed(pdf)[number - 1].page.extract_text() for number, run in runs(pdf).items() if run == "Indexes"
    )
    assert len(re.findall(r"T\d\d p\. ?\d+", text)) > 50
    assert not re.findall(r"T\d\d \d+", text)


def index_text(pdf: bytes) -> dict[str, list[str]]:
    """The lines under each key, on a field card's paper, so narrow that there is one column.

    Keys are set in semibold, and so is the figure before a line; after a key its one line may stand at once.
    """
    found: dict[str, list[str]] = defaultdict(list)
    key = ""
    for number, run in runs(pdf).items():
        if run != "Indexes":
            continue
        for line in plumbed(pdf)[number - 1].page.extract_text_lines(return_chars=True):
            strong = in_words([c for c in line["chars"] if "Sans" in c["fontname"] and "Semibold" in c["fontname"]])
            plain = in_words([c for c in line["chars"] if "Sans" in c["fontname"] and "Semibold" not in c["fontname"]])
            is_figure = bool(re.fullmatch(r"\d+|[\d.]+ mm|.*\bin", strong)) and bool(plain)
            if strong and not is_figure:
                key = strong
            if plain:
                found[key].append(line["text"] if is_figure else plain)
    return found


# Restoring


def test_a_binder_gives_back_every_file_as_it_was(tmp_path: Path) -> None:
    from cardmaker.jobs.restoring import restore

    (tmp_path / "book.pdf").write_bytes(pdf_of("own sections, both sides"))
    restore(tmp_path / "book.pdf", tmp_path / "back", force=False)
    back = {path.name: path.read_bytes() for path in (tmp_path / "back/patterns").iterdir()}
    assert {path.name: path.read_bytes() for path in PATTERNS} == back
    back = {path.name: path.read_bytes() for path in (tmp_path / "back/layouts/binders").iterdir()}
    assert back["the-ropeloft-book.yaml"] == Path(BOOK).read_bytes()
