"""How easy a tape is to make: what there is to count, to change and to mistake.

The rules are ours: common practice, no source. A tape without a figure comes before one that is picked up by hand. Then
decides at how many places something can go wrong: a change of colour, each that falls at the far post once more, a
stripe of one end, two neighbours that look alike. Then how many ends there are to wind and thread.
"""

from __future__ import annotations

from itertools import pairwise

from cardmaker.model.plan import Plan
from cardmaker.model.record_class import record
from cardmaker.reckoning.stripes.colour_clash import colour_clash_notes


@record
class Ease:
    """What makes a tape easy or hard, counted; ``order`` sorts the easiest first."""

    ends: int
    changes: int  # of colour, across the warp
    far_changes: int  # of these, at the far post
    single_ends: int  # stripes of one end
    look_alike: int  # changes between two colours that are hard to tell apart
    picked_rows: int  # of a figure that is picked up by hand; 0 without one

    @property
    def places(self) -> int:
        """Where something can go wrong."""
        return self.changes + self.far_changes + self.single_ends + self.look_alike

    @property
    def order(self) -> tuple[bool, int, int, int]:
        return self.picked_rows > 0, self.places, self.ends, self.picked_rows


def ease_of(plan: Plan) -> Ease:
    """What there is to count, to change and to mistake. One end by itself at an edge is such a stripe too."""
    alike = {frozenset({note.values["one"], note.values["other"]}) for note in colour_clash_notes(plan)}
    runs = plan.runs
    return Ease(
        ends=plan.ends,
        changes=plan.winding.changes,
        far_changes=plan.winding.far_changes,
        single_ends=sum(run.ends == 1 for run in runs) if len(runs) > 1 else 0,
        look_alike=sum(frozenset({one.yarn, other.yarn}) in alike for one, other in pairwise(runs)),
        picked_rows=len(plan.pickup.rows) if plan.pickup else 0,
    )
