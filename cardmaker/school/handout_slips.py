"""A handout in stages: slips to wind, to dress and to weave by, which a student gets one after the other."""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import Final

from cardmaker.card.composing import Composed, compose_card
from cardmaker.card.sheet import CardOwner
from cardmaker.layout.yarn_inks import Hatches
from cardmaker.model.card_layout import CardLayout, PanelPlace, Paper
from cardmaker.model.dressing_acts import Slip
from cardmaker.model.marks import Ruler
from cardmaker.model.problems import Refusal
from cardmaker.model.record_class import replace
from cardmaker.model.school_class import Done, Kit
from cardmaker.school import class_words
from cardmaker.school.handout_sheets import HALF, WHOLE, Size, student_plan
from cardmaker.wording.formatters import Units

BELOW: Final = "legend"  # the panel under which stands what was done beforehand
DRESS, WEAVE = "slip-dress", "slip-weave"  # the panels that tell which slip it is
# In large print dressing may take two sheets: what stands for a panel on the one with the board, and on the one with
# the drawn steps; nothing where it stands on the other sheet alone.
THREADING: Final = {DRESS: "stuck-dressing", "then-weave": ""}
STEPS: Final = {DRESS: "dress-steps", "board": "", "thick-ends": "", "legend": "", "wound": ""}


def slips_needed(done: Collection[Done]) -> tuple[Slip, ...]:
    """The slips of what is not done yet. A loom that is threaded has its warp on the beam."""
    if "threaded" in done:
        return ("weave",)
    return ("dress", "weave") if "wound" in done else ("wind", "dress", "weave")


def compose_slip(
    kit: Kit,
    layout: CardLayout,
    large: CardLayout,
    size: Size,
    ruler: Ruler,
    units: Units,
    hatches: Hatches | None = None,
    *,
    done: frozenset[Done] = frozenset(),
    with_back: bool = False,
) -> list[Composed]:
    """One student's slip; in large print a whole sheet, with the type and margins of ``large``, or two where the board
    leaves no room for the drawn steps. Raises Refusal when the essential does not fit."""
    own = kit.student.units if kit.student else None
    owner = CardOwner(kit.student.name if kit.student else "", class_words.kit_and_hand(kit))

    def composed(of: CardLayout, paper: Paper) -> Composed:
        return compose_card(
            student_plan(kit), of, paper, ruler, own or units, owner=owner, hatches=hatches, with_back=with_back
        )

    slip = for_stage(layout, done)
    if not kit.large_print:
        return [composed(slip, HALF[size])]
    return _in_large_print(_enlarged(slip, large), WHOLE[size], composed)


def for_stage(layout: CardLayout, done: frozenset[Done]) -> CardLayout:
    """The slip with one line to tick for what was done just before its own step: for dressing that the warp is wound,
    for weaving that the loom is threaded."""
    line = "wound" if DRESS in layout.panels and "wound" in done else ""
    line = "threaded" if WEAVE in layout.panels and "threaded" in done else line
    rows = list(layout.rows)
    if line:
        below = next(number for number, row in enumerate(rows) if row[0].panel == BELOW)
        rows.insert(below + 1, (PanelPlace(line, 12, 1, essential=True),))
    return replace(layout, rows=tuple(rows), done=done)


def _enlarged(layout: CardLayout, large: CardLayout) -> CardLayout:
    return replace(layout, papers=large.papers, margin_mm=large.margin_mm, type_sizes=large.type_sizes)


def _in_large_print(
    layout: CardLayout, paper: Paper, composed: Callable[[CardLayout, Paper], Composed]
) -> list[Composed]:
    try:
        return [composed(layout, paper)]
    except Refusal:
        if DRESS not in layout.panels:
            raise
    to_thread, to_dress = _parted(layout)
    return [composed(to_thread, paper), composed(to_dress, paper)]


def _parted(layout: CardLayout) -> tuple[CardLayout, CardLayout]:
    """The sheet with the board, and the sheet with the drawn steps and the next slip."""
    first = [tuple(replace(each, panel=THREADING.get(each.panel, each.panel)) for each in row) for row in layout.rows]
    second = [tuple(replace(each, panel=STEPS.get(each.panel, each.panel)) for each in row) for row in layout.rows]
    return (
        replace(layout, rows=tuple(row for row in first if row[0].panel), back=()),
        replace(layout, rows=tuple(row for row in second if row[0].panel), back=()),
    )
