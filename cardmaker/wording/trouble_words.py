"""When it goes wrong: twelve troubles, what is seen, why, and the cure; the lines of a card are six of these sentences.

Numbers and order are those of the whole list, so that a page may say *trouble 3*. All of it is common practice, no
source; that neighbours must differ, and that threading again goes to the edge that was threaded last, is parity.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cardmaker.model.loom import Heddles
from cardmaker.model.record_class import record
from cardmaker.wording.phrases import plural

if TYPE_CHECKING:
    from cardmaker.model.bench import Rescue
    from cardmaker.model.plan import Plan

TROUBLE: Final = "When it goes wrong"
FUZZY: Final = frozenset({"linen", "wool", "hemp"})  # fibres whose hairs cling: damping lays them


@record
class Trouble:
    """One row of the list. ``cure`` tells why and what to do, in the sentence that a card has too; ``further`` is for
    the list alone. ``in_brief`` is a card's short form, of a trouble that stands on cards."""

    number: int
    seen: str
    cure: str
    further: str = ""
    in_brief: tuple[str, str] = ("", "")
    of_wound: tuple[str, str] = ("", "")  # in full and in brief, where somebody else has wound the warp

    @property
    def question(self) -> str:
        return f"{self.seen}?"


TWO_TOGETHER, NARROW, ONE_OVER, SLACK_END, SLACK_EDGE, LOOPS = 1, 2, 3, 4, 5, 6
WEFT_SHOWS, THICK_LINE, STICKS, BREAKS, NEVER_MOVES, CROSS_LOST = 7, 8, 9, 10, 11, 12

# Common practice, no source.
_ROWS: Final = (
    Trouble(
        TWO_TOGETHER,
        "Two neighbours move together",
        "A space was skipped there: thread again, from it to the edge threaded last.",
        "Two ends in one space: the same.",
        ("Two move as one?", "Rethread from the skipped space on."),
    ),
    Trouble(
        NARROW,
        "Shed narrow in one place",
        "Two ends cross there: draw that pair out, uncross, rethread.",
        "Open the front tie for it.",
        ("Shed narrow in one place?", "Two ends cross: swap them."),
    ),
    Trouble(
        ONE_OVER,
        "One end or space over",
        "A stripe is miscounted: find it by its tick, rethread from it on.",
        "Or the cross was missed: look for two neighbours that go the same way over the fingers. Rethread to the edge "
        "threaded last.",
        ("One end over?", "Rethread from the wrong stripe."),
        ("Count each colour in the heddle; rethread from the wrong one.", "Count its colour in the heddle."),
    ),
    Trouble(
        SLACK_END,
        "One end is slack",
        "It was wound longer, or slipped in its knot: lift it over a pencil behind the heddle.",
    ),
    Trouble(
        SLACK_EDGE,
        "One edge is slack",
        "It slid off its sticks after winding on: slip a thin stick under it; take wider sticks next time.",
        "An edge that slides off while you wind on weaves tight, not slack.",
    ),
    Trouble(
        LOOPS,
        "Loops at an edge",
        "Change the shed, beat, pull the weft in.",
        "Pull until the edge end touches its neighbour.",
        ("Loops at an edge?", "Change, beat, then pull in."),
    ),
    Trouble(
        WEFT_SHOWS,
        "Weft shows, the tape widens",
        "It was drawn in too little: unweave to where the gauge fitted; ends must touch.",
    ),
    Trouble(
        THICK_LINE,
        "A thick line across",
        "Two picks lie in one shed: tug the weft; in its own shed it slides out. Take one back.",
    ),
    Trouble(
        STICKS,
        "The shed sticks",
        "Pluck it sideways; slide a finger behind the heddle.",
        "Hairs, dry air or a slack warp make it stick.",
        ("The shed sticks?", "Pluck it sideways."),
    ),
    Trouble(
        BREAKS,
        "An end broke",
        "Count from its edge; pin a new one below the last pick, weight behind.",
        "Make no knot near the heddle.",
        ("An end broke?", "Count from its edge; pin in a new one."),
    ),
    Trouble(
        NEVER_MOVES,
        "An end never moves, or the heddles jam",
        "It lies in a slot of both, or in a hole of both: hole in one, slot in the other.",
    ),
    Trouble(
        CROSS_LOST,
        "The cross is lost",
        "Keepers or fingers came out too soon: pinch the X where the ends part; else sort by colour, topmost first.",
    ),
)
_DAMPED: Final = "; damp the yarn only."
TROUBLES: Final = {row.number: row for row in _ROWS}
# On cards, what a beginner meets first at the head.
ON_CARDS: Final = (LOOPS, TWO_TOGETHER, NARROW, ONE_OVER, STICKS, BREAKS)


def trouble(is_fuzzy: bool, *, brief: bool = False, is_wound: bool = False) -> list[tuple[str, str]]:
    """Six lines for a card; damping helps linen and wool only, and of a warp that came wound nobody counts at a
    tick."""
    return [_line(TROUBLES[number], is_fuzzy, brief=brief, is_wound=is_wound) for number in ON_CARDS]


def _line(row: Trouble, is_fuzzy: bool, *, brief: bool, is_wound: bool) -> tuple[str, str]:
    question, cure = row.in_brief if brief else (row.question, row.cure)
    if is_wound:
        cure = row.of_wound[brief] or cure
    return question, _damped(row, cure, is_fuzzy)


def _damped(row: Trouble, cure: str, is_fuzzy: bool) -> str:
    return f"{cure[:-1]}{_DAMPED}" if is_fuzzy and row.number == STICKS else cure


def line_of(number: int, plan: Plan, *, is_wound: bool = False) -> tuple[str, str]:
    """One trouble by its number as a line of a card, in full."""
    return _line(TROUBLES[number], is_fuzzy(plan), brief=False, is_wound=is_wound)


def cure_of(row: Trouble, plan: Plan) -> str:
    """Why it happens and what to do, with the sentence that only the list has room for."""
    return f"{_damped(row, row.cure, is_fuzzy(plan))} {row.further}".strip()


def is_fuzzy(plan: Plan) -> bool:
    """Whether any yarn has hairs that cling."""
    return any(yarn.fibre in FUZZY for yarn in plan.pattern.yarns)


def troubles_of(plan: Plan) -> list[Trouble]:
    """Those that this warp can have, by their numbers: heddles jam only where there are two; of one end there is no
    neighbour."""
    lacks = set() if plan.loom.heddles is Heddles.TWO else {NEVER_MOVES}
    lacks |= {TWO_TOGETHER, NARROW} if plan.ends == 1 else set()
    return [row for row in _ROWS if row.number not in lacks]


def skipped(rescue: Rescue, *, brief: bool = False) -> str:
    """What a skipped space costs, and, if not ``brief``, how many ends at most; nothing for an end without neighbour.

    Towards the end that was threaded last, whichever edge is nearer: then the warp lies as it was counted out.
    """
    row, most = TROUBLES[TWO_TOGETHER], at_most(rescue)
    counted = "" if brief else f" {most}."
    return f"{row.question} {row.cure}{counted}" if most else ""


def at_most(rescue: Rescue) -> str:
    """How many ends are threaded again at the most; nothing for an end without neighbour."""
    most = max(each.ends for each in rescue.rethreading)
    return f"{plural(most, 'end')} at most" if most else ""
