"""Which facts of a card not every plan has."""

from __future__ import annotations

from collections.abc import Callable

from cardmaker.model.plan import Plan
from cardmaker.reckoning.stripes.colour_clash import colour_clash_notes
from cardmaker.wording import heddle_words, winding_words, yarn_words

# Facts that not every plan has; a fact that is not here applies to all.
APPLIES: dict[str, Callable[[Plan], bool]] = {
    "alike": lambda plan: bool(colour_clash_notes(plan)),
    "about": lambda plan: bool(plan.pattern.about),
    "beam": lambda plan: plan.beam is not None,
    "change": lambda plan: plan.winding.changes > 0,
    "code": lambda plan: bool(plan.pattern.code or plan.pattern.version or plan.pattern.date),
    "honest": lambda plan: plan.pattern.source is not None,
    "hours": lambda plan: plan.pace is not None,
    "known": lambda plan: plan.pattern.source is not None,
    "length to weave": lambda plan: not plan.lengths.pieces_come,
    "looms": lambda plan: bool(plan.other_looms),
    "notes": lambda plan: any(
        note.kind != "caution" and note.about not in ("loom", "shift")
        for note in (*colour_clash_notes(plan), *plan.notes)
    ),
    "pickup": lambda plan: plan.pickup is not None,
    "pickup card": lambda plan: plan.pickup is not None,
    "pieces": lambda plan: bool(plan.lengths.pieces),
    "between pieces": lambda plan: plan.lengths.pieces_come > 1,
    "cross number": lambda plan: bool(winding_words.number_decides(plan, ())),
    "pieces on the loom": lambda plan: bool(plan.lengths.pieces_come),
    "guide string": lambda plan: plan.pegs is not None,
    "room": lambda plan: plan.pegs is not None,
    "route": lambda plan: plan.pegs is not None,
    "student": lambda plan: bool(plan.pattern.notes.student),
    "thick ends": lambda plan: bool(heddle_words.thick_ends_first(plan, "metric")),
    "turns left": lambda plan: plan.beam is not None,
    "use": lambda plan: bool(plan.pattern.purposes),
    "version": lambda plan: bool(plan.pattern.changes),
    "versions": lambda plan: len(plan.pattern.changes) > 1,
    "wraps": lambda plan: plan.shuttle is not None,
    "yarn on pegs": lambda plan: bool(yarn_words.more_on_pegs(plan, "metric")),
}
