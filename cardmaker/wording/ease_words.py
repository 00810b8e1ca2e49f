"""How easy a tape is, in words: never as a mark out of so many."""

from __future__ import annotations

from cardmaker.reckoning.stripes.ease import Ease
from cardmaker.wording.phrases import end_count, plural


def ease_in_words(ease: Ease, *, with_ends: bool = True) -> str:
    """What there is to count, to change and to mistake: ``31 ends, 6 changes (3 at far), no single end``; without the
    ends where they stand beside it."""
    told = [*([end_count(ease.ends)] if with_ends else []), _changes(ease)]
    if ease.changes:
        told.append(plural(ease.single_ends, "single end") if ease.single_ends else "no single end")
    if ease.look_alike:
        told.append(f"{plural(ease.look_alike, 'change')} between colours that look alike")
    if ease.picked_rows:
        told.append(f"a figure of {plural(ease.picked_rows, 'row')} picked up by hand")
    return ", ".join(told)


def _changes(ease: Ease) -> str:
    if not ease.changes:
        return "no change of colour"
    far = f" ({ease.far_changes} at far)" if ease.far_changes else ""
    return f"{plural(ease.changes, 'change')}{far}"


RULE = (
    "The easiest first: without a figure before those picked up by hand; then by the places where something can go "
    "wrong, which are changes of colour, those at far once more, single ends and neighbours that look alike; then by "
    "the number of ends."
)
