"""The woven face grows upward on paper as it does before the weaver, in every picture of it, and rows are numbered so.

Five Posts, whose rows all differ from their neighbours; and a figure that is not its own mirror image.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import pairwise

import pytest

from cardmaker.card.composing import Composed, compose_card, face_repeat
from cardmaker.layout.type_setting import cap_height
from cardmaker.layout.woven_face import Cloth, edges_across, pick_height, repeat_of, stamped_face
from cardmaker.layout.yarn_inks import card_inks
from cardmaker.model.card_layout import PanelPlace
from cardmaker.model.marks import Box, Group, Line, Mark, Path, Rectangle, Stamp
from cardmaker.model.pattern import Pickup, PickupRow
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import replace
from cardmaker.reckoning.planning import make_plan
from tests.helpers.card_faults import all_words, leaves, panels
from tests.helpers.paper_tools import RULER, composed
from tests.helpers.screen_reader_text import text_read_aloud
from tests.helpers.shipped import plan_of, shipped_layout, shipped_loom, shipped_pattern

POST = "#9c2f2b"  # the red cord of Five Posts, of which no two neighbouring rows show the same


def stair() -> Plan:
    """Post 1, then 3, then 5 lifted: it climbs to the right, and its mirror image climbs to the left."""
    rows = [row for post in (1, 3, 5) for row in (PickupRow("up"), PickupRow("down", (post,)))]
    pattern = replace(shipped_pattern("five-posts"), pickup=Pickup("red cord", tuple(rows)))
    return make_plan(pattern, shipped_loom("middle-box"))


def middles(marks: Iterable[Mark], colour: str) -> Iterator[tuple[float, float]]:
    """The middle of every float of one colour, across and down."""
    for mark in leaves(marks):
        if isinstance(mark, Path) and str(mark.fill).lower() == colour:
            figures: list[list[tuple[float, float]]] = []
            for step in mark.steps:
                if step[0] == "move":
                    figures.append([])
                if len(step) > 1:
                    figures[-1].append((step[-2], step[-1]))
            for points in figures:
                across, down = zip(*points, strict=True)
                yield (min(across) + max(across)) / 2, (min(down) + max(down)) / 2


def spans(marks: Iterable[Mark], colour: str) -> Iterator[tuple[float, float, float]]:
    """From where to where every float of one colour reaches across, and the middle of its height."""
    for mark in leaves(marks):
        if isinstance(mark, Path) and str(mark.fill).lower() == colour:
            figure: list[tuple[float, float]] = []
            for step in mark.steps:
                if len(step) > 1:
                    figure.append((step[-2], step[-1]))
                else:
                    across, down = zip(*figure, strict=True)
                    yield min(across), max(across), (min(down) + max(down)) / 2
                    figure = []


def posts_by_row(marks: Iterable[Mark], box: Box, rows: int, ends: int) -> list[list[int]]:
    """The end numbers of the posts on top, of each row from the foot of the box up."""
    found: list[list[int]] = [[] for _ in range(rows)]
    for x, y in middles(marks, POST):
        row = int((box.bottom - y) / (box.height / rows))
        found[row].append(round((x - box.left) / (box.width / ends) + 0.5))
    return [sorted(row) for row in found]


def wanted(plan: Plan) -> list[list[int]]:
    assert plan.pickup is not None
    return [sorted(set(row.raised) & set(plan.pickup.pattern_ends)) for row in plan.pickup.rows]


def figure_card(plan: Plan) -> Composed:
    """A card of nothing but the figure: there it always has room."""
    of = shipped_layout("bench")
    rows = ((PanelPlace("name", 12, 1, essential=True),), (PanelPlace("pickup", 12, 1, essential=True),))
    return compose_card(plan, replace(of, rows=rows), of.papers[0], RULER)


def pickup_panel(plan: Plan) -> Group:
    return next(group for group in panels(figure_card(plan)) if group.name == "pickup")


def picture(group: Group, name: str) -> Group:
    return next(each for each in group.marks if isinstance(each, Group) and each.name == name)


@pytest.mark.parametrize("plan", [plan_of("five-posts"), stair()], ids=["five-posts", "stair"])
def test_row_1_of_a_figure_lies_at_the_foot(plan: Plan) -> None:
    floats = picture(pickup_panel(plan), "floats")
    rows = wanted(plan)
    assert posts_by_row(floats.marks, floats.box, len(rows), plan.ends) == rows


@pytest.mark.parametrize("plan", [plan_of("five-posts"), stair()], ids=["five-posts", "stair"])
def test_every_row_of_the_table_stands_beside_its_own_pick(plan: Plan) -> None:
    pickup = pickup_panel(plan)
    floats, rows = picture(pickup, "floats"), len(wanted(plan))
    names = {words.text: words for words in all_words(pickup.marks) if words.text.isdigit()}
    for number in range(1, rows + 1):
        middle = floats.box.bottom - (number - 0.5) * floats.box.height / rows
        words = names[str(number)]
        assert abs(words.y - words.size * 0.12 - middle) < floats.box.height / rows / 2


def test_the_first_row_is_still_the_first_that_is_read_aloud() -> None:
    heard = text_read_aloud(figure_card(plan_of("five-posts")).page)
    rows = re.findall(r"^row (\d+); shed warp (?:UP|DOWN); by hand", heard, re.MULTILINE)
    assert rows == [str(number) for number in range(1, 9)]


@pytest.mark.parametrize("picks", [2, 3, 7, 8, 9, 15.5])
def test_a_face_of_any_height_begins_with_row_1_at_its_foot(picks: float) -> None:
    """Where it is not a whole number of picks high the rest stays white: no pick is cut."""
    plan = stair()
    pick = pick_height(plan)
    box = Box(10.0, 20.0, float(plan.width.likely_mm), pick * picks)
    (stamp,) = stamped_face(Cloth(plan, card_inks(plan.pattern)), box, 1.0)
    assert isinstance(stamp, Stamp)
    shown = whole(stamp, pick, plan.ends)
    rows = wanted(plan)
    last = int(picks)
    assert stamp.clip.height == pytest.approx(last * pick)
    assert shown[:last] == [rows[number % len(rows)] for number in reversed(range(last))]


def whole(stamp: Stamp, pick: float, ends: int) -> list[list[int]]:
    """The posts on top of each pick that is stamped down, from the top."""
    count = round(stamp.dy / pick)
    unit = Box(stamp.clip.left, stamp.clip.top, stamp.clip.width, stamp.dy)
    return posts_by_row(stamp.marks, unit, count, ends)[::-1] * stamp.count


def test_the_face_of_a_record_shows_the_sheds_that_its_words_tell() -> None:
    """As they open, before the hand lifts or drops an end: no post stands among the whites of the other shed."""
    plan = plan_of("five-posts")
    assert plan.pickup is not None
    face = next(group for group in panels(composed(plan, "record")) if group.name == "face")
    drawn = picture(face, "face")
    names = [words for words in all_words(drawn.marks) if words.text in ("UP", "DOWN")]
    from_the_foot = [words.text for words in sorted(names, key=lambda words: -words.y)]
    assert from_the_foot[:2] == ["DOWN", "UP"]
    (stamp,) = (mark for mark in drawn.marks if isinstance(mark, Stamp))
    unit = Box(stamp.clip.left, stamp.clip.top, stamp.clip.width, stamp.dy)
    posts = posts_by_row(stamp.marks, unit, 2, plan.ends)
    assert posts == [sorted(set(shed) & set(plan.pickup.pattern_ends)) for shed in (plan.sheds.down, plan.sheds.up)]
    assert [len(each) for each in posts] == [0, 5]


def test_a_small_picture_in_a_binder_grows_upward_too() -> None:
    plan = stair()
    box, marks, _ = face_repeat(plan)
    assert posts_by_row(marks, box, len(repeat_of(plan)), plan.ends) == wanted(plan)


def test_the_hand_lifts_and_drops_as_in_the_file() -> None:
    """One word for one thing, in the file, on the card, aloud and in the terminal."""
    words = {word.text for word in all_words(pickup_panel(plan_of("five-posts")).marks)}
    assert {"lift P3", "lift P2 and P4", "drop P3"} <= words
    heard = text_read_aloud(figure_card(plan_of("five-posts")).page)
    assert "by hand lift P2 and P4" in heard
    assert "pick up" not in heard.casefold()


def test_the_face_tells_aloud_what_the_hand_changes() -> None:
    """Lifting post 1 (end 8) of Five Posts in the pressed-down shed splits its twelve white ends into two and ten."""
    heard = text_read_aloud(figure_card(stair()).page)
    assert "Row 2, warp down: by hand lift P1; on top 2 blue; 2 white; 1 red cord; 10 white; 2 blue." in heard
    assert "Row 1, warp up: by hand nothing; " in heard
    _, _, told = face_repeat(stair())  # the picture of its own, which shows the rows too
    assert "Row 2 of 6, warp down, by hand: 2 blue; 2 white; 1 red cord; 10 white; 2 blue." in told
    assert "Row 1 of 6" not in told


def test_a_thick_yarn_is_drawn_wider_in_the_tape() -> None:
    """Cord Edge: cords at 38.2 ends to the inch beside white at 49.3, so 1.29 times as wide in the flat band, and in
    the weave as well: at the edge, where a cord has but one lowered neighbour, the five floats next to it share the
    room of 1.29 + 8 + 1/2 white ends."""
    plan = plan_of("cord-edge")
    inks, box = card_inks(plan.pattern), Box(0, 0, float(plan.width.likely_mm), 40)
    cord, white = 25.4 / 38.2, 25.4 / 49.3
    assert box.width == pytest.approx(2 * cord + 20 * white)
    edges = edges_across(plan, box)
    assert [edges[1], edges[-1] - edges[-2]] == pytest.approx([cord, cord])
    (stamp,) = stamped_face(Cloth(plan, inks), box, 1.0)
    assert isinstance(stamp, Stamp)
    brown = [x for x, _ in middles(stamp.marks, inks["brown cord"].fill.lower())]
    float_of_cord = (cord + 8 * white + white / 2) * cord / (cord + 4 * white)
    assert sorted(brown) == pytest.approx([float_of_cord / 2, box.width - float_of_cord / 2])
    assert float_of_cord > 1.15 * 2 * white


def test_the_band_over_the_weave_shows_thick_ends_wider() -> None:
    """The first stripe of the record's ribbon, one cord, and the second, 20 white ends, within their outlines."""
    ribbon = next(group for group in groups_named(composed(plan_of("cord-edge"), "record").page.marks, "ribbon"))
    first, second, *_ = (mark.box for mark in leaves(ribbon.marks) if isinstance(mark, Rectangle) and mark.fill)
    assert first.width == pytest.approx(25.4 / 38.2, abs=0.15)
    assert first.width > 1.1 * second.width / 20


def groups_named(marks: Iterable[Mark], name: str) -> Iterator[Group]:
    for mark in marks:
        if isinstance(mark, Group):
            if mark.name == name:
                yield mark
            yield from groups_named(mark.marks, name)


def test_what_is_read_aloud_of_the_bare_sheds_tells_of_no_row_worked_by_hand() -> None:
    """Beside the sheds the face shows them as they open: rows of the figure are told where these are drawn."""
    for pattern in ("five-posts", "five-bars-up"):
        card = composed(plan_of(pattern), "record")
        (face,) = (group for group in panels(card) if group.name == "face")
        (drawn,) = (each for each in face.marks if isinstance(each, Group) and each.name == "face")
        assert "Warp down: " in drawn.alt, pattern
        assert "Warp up: " in drawn.alt, pattern
        assert not re.search(r"Row \d|by hand", drawn.alt), pattern


def test_a_lifted_cord_is_drawn_as_thick_as_in_the_rows_where_it_rises_by_itself() -> None:
    """Lifted it lies over its neighbours, which are up as well: it does not share their room."""
    for plan in (stair(), plan_of("five-posts")):
        floats = picture(pickup_panel(plan), "floats")
        assert plan.pickup is not None
        wide: dict[int, set[float]] = {}
        for left, right, y in spans(floats.marks, POST):
            end = round(((left + right) / 2 - floats.box.left) / (floats.box.width / plan.ends) + 0.5)
            row = int((floats.box.bottom - y) / (floats.box.height / len(plan.pickup.rows)))
            assert end in plan.pickup.rows[row].raised
            wide.setdefault(end, set()).add(round(right - left, 3))
        lifted = {end for row in plan.pickup.rows for end in row.lifted}
        assert lifted
        assert set(wide) == set(plan.pickup.pattern_ends)
        assert all(len(each) == 1 for each in wide.values()), wide


def test_every_pick_is_named_beside_picks_a_little_too_low_for_their_names() -> None:
    """Long Sixty, whose picks are lower than lines of names: each name has its line to the middle of its pick, and they
    stand beside the face."""
    plan = plan_of("long-sixty")
    (panel,) = (group for group in panels(composed(plan, "record")) if group.name == "face")
    (drawn,) = (each for each in panel.marks if isinstance(each, Group) and each.name == "face")
    names = [words for words in all_words([drawn]) if words.text.endswith("FOOT")]
    assert [words.text for words in names] == [
        f"{pick} {'LEFT' if pick % 2 else 'RIGHT'} FOOT" for pick in range(1, len(names) + 1)
    ]
    step = names[0].y - names[1].y
    assert step > cap_height(names[0].size) + 0.5
    assert [lower.y - upper.y for lower, upper in pairwise(names)] == pytest.approx([step] * (len(names) - 1))
    (stamp,) = (mark for mark in leaves(drawn.marks) if isinstance(mark, Stamp))
    pick = pick_height(plan) * stamp.clip.width / float(plan.width.likely_mm)
    assert pick < step
    assert len(names) == round(stamp.clip.height / pick) >= 4
    assert names[-1].y - cap_height(names[0].size) > stamp.clip.top - 0.8
    assert names[0].y < stamp.clip.bottom + 0.8
    ends = [mark.y2 for mark in leaves(drawn.marks) if isinstance(mark, Line) and mark.x2 < stamp.clip.left]
    assert ends == pytest.approx([stamp.clip.bottom - (at + 0.5) * pick for at in range(len(names))])


@pytest.mark.parametrize("height", [0.0, -1600.0])
def test_a_face_without_height_is_not_drawn(height: float) -> None:
    """As where a sample of the tape, glued on, takes the whole height of the ribbon."""
    plan = plan_of("two-rails")
    assert stamped_face(Cloth(plan, card_inks(plan.pattern)), Box(0, 0, 20, height), 1.0) == []
