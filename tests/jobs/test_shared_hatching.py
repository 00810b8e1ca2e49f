"""One yarn has one hatching in a whole binder and a whole class, on its cards as on its small pictures."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pypdfium2
import pytest

from cardmaker.card.composing import face_repeat
from cardmaker.jobs import card_making, class_making, class_planning, loading, paper_lookup, plan_making
from cardmaker.jobs.binder_making import BinderRequest, make_binder
from cardmaker.layout.ink import WHITE
from cardmaker.layout.yarn_inks import card_inks, settled_hatches
from cardmaker.model.marks import Group, Mark, Stamp
from cardmaker.model.marks import Path as Outline
from cardmaker.model.plan import Plan
from cardmaker.pdf.draft import form_of
from tests.helpers.places import ROOT

YARN = "  {name}: {{fibre: linen, count: 20/2, ends_per_inch: 20, colour: '{colour}'}}\n"
COLOURS = {"white": "#f4f0e4", "rose": "#b8503f", "wine": "#7c2424"}
WARPS = {"Both": ["rose", "wine"], "Alone": ["white", "wine"]}  # the wine gives way to the rose, lighter and as red


@pytest.fixture
def files(tmp_path: Path) -> dict[str, Path]:
    """Two patterns that share a yarn; where it stands without the rose it would by itself have the rose's hatching."""
    paths = {}
    for title, (edge, middle) in WARPS.items():
        text = f"title: {title}\nyarns:\n" + "".join(
            YARN.format(name=name, colour=COLOURS[name]) for name in (edge, middle)
        )
        paths[title] = tmp_path / f"{title.lower()}.yaml"
        paths[title].write_text(f"{text}warp: [4 {edge}, 5 {middle}, 4 {edge}]\nlength: {{warp: 3 yd}}\n")
    return paths


def plan_of(path: Path, layout: str = "record") -> Plan:
    setup = plan_making.load_plan_setup_for(loading.load_layout(ROOT / f"layouts/cards/{layout}.yaml"), None)
    return plan_making.plan_for(loading.load_pattern(path), setup)


def picture(pdf: bytes, number: int) -> np.ndarray[tuple[int, ...], np.dtype[np.int64]]:
    """The page in grey, without the strip at its foot where a binder has its page number."""
    page = pypdfium2.PdfDocument(pdf)[number].render(scale=2, grayscale=True).to_numpy().squeeze()
    return np.asarray(page[: -int(20 / 25.4 * 144)], dtype=np.int64)


def cards_of(pdf: bytes, titles: list[str]) -> dict[str, int]:
    """The index of each card's page: of the bookmarks with its title the first."""
    document = pypdfium2.PdfDocument(pdf)
    found: dict[str, int] = {}
    for line in document.get_toc():
        title = line.get_title()
        if title in titles and title not in found:
            destination = line.get_dest()
            assert destination is not None
            found[title] = destination.get_index()
    return found


def test_a_card_in_a_binder_has_the_hatchings_of_the_binder(files: dict[str, Path]) -> None:
    binder = make_binder(BinderRequest([str(path) for path in files.values()], paper="a4", quiet=True))
    assert binder.cards == 2
    pages = cards_of(binder.pdf, list(files))
    hatches = settled_hatches(loading.load_pattern(path) for path in files.values())
    layout = loading.load_layout(ROOT / "layouts/cards/record.yaml")
    paper = paper_lookup.paper_of(layout, "a4")
    for title, path in files.items():
        plan = plan_of(path)
        inside = picture(binder.pdf, pages[title])
        by_itself = picture(card_making.make_card(plan, layout, paper, None).pdf, 0)
        assert np.array_equal(inside, by_itself) == (title == "Both")
        draft = card_making.draw_card(plan, layout, paper, None, hatches=hatches).front
        assert np.array_equal(inside, picture(pdf_of(draft), 0))


def pdf_of(draft: object) -> bytes:
    from cardmaker.model.carried_file import About
    from cardmaker.pdf.painter import paint_drafts

    return paint_drafts([draft], About("x"), ())  # type: ignore[list-item]


def test_a_binder_is_the_same_however_many_draw_it(files: dict[str, Path]) -> None:
    names = [str(path) for path in files.values()]
    one, two = (make_binder(BinderRequest(names, quiet=True, jobs=jobs)).pdf for jobs in (1, 2))
    assert one == two


def test_small_pictures_have_the_hatchings_of_the_binder(files: dict[str, Path]) -> None:
    """In the face too: of wide ends, so that they carry hatching."""
    plan = plan_of(files["Alone"])
    hatches = settled_hatches(loading.load_pattern(path) for path in files.values())
    names = [form_of(face_repeat(plan, each)[1])[0] for each in (None, {}, hatches)]
    assert names[0] == names[1] != names[2]


CLASS = """
title: A day
warp: 3 yd
session: 3 h
students:
  - {{name: Ann, loom: middle-box, pattern: "{Both}"}}
  - {{name: Bea, loom: middle-box, pattern: "{Alone}"}}
"""


def test_handouts_of_a_class_share_their_hatchings(files: dict[str, Path], tmp_path: Path) -> None:
    """The wine's hatching in Bea's cells is that of Ann's, not the one that Bea's card would have by itself."""
    path = tmp_path / "day.yaml"
    path.write_text(CLASS.format(**{title: str(file) for title, file in files.items()}))
    plan = class_planning.plan_class(loading.load_class(path))
    patterns = {kit.plan.pattern.title: kit.plan.pattern for kit in plan.kits}
    hatches = settled_hatches(patterns.values())
    settled = card_inks(patterns["Alone"], hatches)["wine"]
    assert settled == card_inks(patterns["Both"], hatches)["wine"]
    sheets = class_making.class_sheets(plan, quiet=True).pages["handouts"]
    (sheet,) = sheets
    ann, bea = (slopes_of([mark for mark in sheet.marks if on_half(mark, half)]) for half in (0, 1))
    assert ann == {1, *settled.slopes}
    assert bea == set(settled.slopes) != set(card_inks(patterns["Alone"])["wine"].slopes)


def on_half(mark: Mark, half: int) -> bool:
    return isinstance(mark, Group) and mark.role == "panel" and (mark.box.left > 139.7) == bool(half)


def slopes_of(marks: list[Mark]) -> set[int]:
    """The directions of all hatch lines on dark yarn on a card: straight white strokes, each by itself. A white line
    that goes on round corners is no hatching: it keeps one thread apart from another where they cross."""
    found: set[int] = set()
    for mark in marks:
        if isinstance(mark, Group | Stamp):
            found |= slopes_of([*mark.marks])
        elif isinstance(mark, Outline) and mark.fill is None and mark.stroke == WHITE:
            steps = mark.steps
            if [kind for kind, *_ in steps] != ["move", "line"] * (len(steps) // 2):
                continue
            for (_, *start), (_, *stop) in zip(steps[::2], steps[1::2], strict=True):
                rise = start[1] - stop[1]
                found.add(0 if abs(rise) < 1e-6 else 1 if rise > 0 else -1)
    return found
