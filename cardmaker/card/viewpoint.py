"""From where a card is seen: for which hand, and from which side of the heddle."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cardmaker.model.plan import Plan
from cardmaker.model.records import record
from cardmaker.reckoning.threading.mirror import plan_from_behind, plan_from_other_edge

if TYPE_CHECKING:
    pass


@record
class Viewpoint:
    """For which hand, and from which side of the heddle, a card is drawn."""

    left_hand: bool = False
    from_behind: bool = False

    def turned(self, plan: Plan) -> Plan:
        """The plan as this weaver counts it. A left hand begins at the other edge and turns the drawing over;
        behind the heddle, sides change places once more."""
        if self.left_hand != self.from_behind:
            return plan_from_behind(plan, sides_swapped=self.left_hand)
        return plan_from_other_edge(plan) if self.left_hand else plan


RIGHT_HAND: Final = Viewpoint()
