"""What the pages for people lead to is there: every file, every heading; and each page of the manual lists its own."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.helpers.places import ROOT
from tests.helpers.readme import PAGES

ALL_PAGES = [*PAGES, ROOT / "DEVELOPERS.md", ROOT / "tests" / "mutation" / "README.md"]
MOST_LINES = 350  # of the first page: what somebody reads before the first card


def _name(page: Path) -> str:
    return page.relative_to(ROOT).as_posix()


def _prose(page: Path) -> str:
    """The page without its fenced blocks, in which a ``#`` begins a remark."""
    return re.sub(r"^```.*?^```$", "", page.read_text("utf-8"), flags=re.MULTILINE | re.DOTALL)


def _links(page: Path) -> list[str]:
    """Where the links and pictures of a page lead to, save those out into the world."""
    found = re.findall(r"\]\(([^)\s]+)\)", _prose(page)) + re.findall(r'src="([^"]+)"', _prose(page))
    return [target for target in found if not target.startswith("http")]


def _headings(text: str, level: str = "#{1,6}") -> list[str]:
    """The headings' anchors, as they are made where such pages are shown; the second of a name ends in -1."""
    found: list[str] = []
    for title in re.findall(rf"^{level} (.+)$", text, re.MULTILINE):
        anchor = re.sub(r"[^\w -]", "", title).lower().replace(" ", "-")
        again = sum(re.fullmatch(rf"{re.escape(anchor)}(-\d+)?", other) is not None for other in found)
        found.append(f"{anchor}-{again}" if again else anchor)
    return found


def _broken(page: Path) -> Iterator[str]:
    for target in _links(page):
        path, _, anchor = target.partition("#")
        file = page.parent / path if path else page
        if not file.is_file() or (anchor and anchor not in _headings(_prose(file))):
            yield target


@pytest.mark.parametrize("page", ALL_PAGES, ids=_name)
def test_every_link_leads_to_what_is_there(page: Path) -> None:
    assert list(_broken(page)) == []


def test_the_pages_lead_to_each_other() -> None:
    for page in PAGES:
        to = {(page.parent / link.partition("#")[0]).resolve() for link in _links(page) if link[0] != "#"}
        assert {other.resolve() for other in PAGES} - {page.resolve()} <= to


@pytest.mark.parametrize("page", PAGES, ids=_name)
def test_every_section_stands_in_the_list_at_the_top(page: Path) -> None:
    head, *rest = re.split(r"(?=^## )", _prose(page), flags=re.MULTILINE)
    listed = re.findall(r"\]\(#([^)]+)\)", head)
    assert listed == _headings("".join(rest), "#{2,3}")


def test_the_first_page_leads_to_every_section_of_the_others() -> None:
    first, *others = PAGES
    listed = _links(first)
    wanted = [f"{_name(page)}#{anchor}" for page in others for anchor in _headings(_prose(page), "##")]
    assert set(wanted) <= set(listed)


def test_the_first_page_is_short() -> None:
    assert len(PAGES[0].read_text("utf-8").splitlines()) <= MOST_LINES


def test_a_link_that_leads_nowhere_is_noticed(tmp_path: Path) -> None:
    page = tmp_path / "page.md"
    page.write_text(
        "# One\n\n## Your loom\n\n## Your loom\n\n```sh\n# Not a heading\n```\n\n[a](#your-loom) [b](#your-loom-1)\n"
        "[c](#not-a-heading) [d](page.md#one) [e](page.md#two) [f](other.md) <img src='x'> <img src=\"x.png\">\n",
        encoding="utf-8",
    )
    assert list(_broken(page)) == ["#not-a-heading", "page.md#two", "other.md", "x.png"]
