"""The sentences of yarn and lengths: what the sum rests on, what to wind, what the weft takes."""

from __future__ import annotations

from collections.abc import Sequence

from cardmaker.composing.measures import Units, decimal, percent, tape_length, warp_length
from cardmaker.composing.wording import a_space, capitalised, listed, plural
from cardmaker.nouns.pattern import Yarn
from cardmaker.nouns.plan import Lengths, OtherLoom, Plan


def spare(plan: Plan) -> str:
    count = plan.pattern.length.spare_ends
    if not count:
        return "No spare ends are counted."
    return f"{plural(count, 'spare end')} of each colour counted in."


def length_basis(lengths: Lengths) -> str:
    """What the sum rests on where it does not rest on the file's own figures."""
    guessed = [
        name
        for name, basis in (
            ("take-up", lengths.take_up_basis),
            ("shrinkage", lengths.shrinkage_basis),
            ("waste", lengths.waste_basis),
        )
        if basis == "default"
    ]
    if not guessed:
        return ""
    verb = "is a guess" if len(guessed) == 1 else "are guesses"
    return f"The {listed(guessed)} {verb} until you have measured your own."


def on_loom(other: OtherLoom) -> str:
    """How the pattern sits on another loom, or why it does not."""
    placement = other.placement
    if placement is None:
        return f"{other.why_not}."
    return (
        f"{other.first_label}, {a_space(placement.first_kind)}, to {other.last_label}; "
        f"empty {placement.empty_left} + {placement.empty_right}."
    )


def length_sum(lengths: Lengths, units: Units) -> list[str]:
    """The sum with her own numbers: division by what is left, never adding percentages."""
    wanted = tape_length(lengths.finished_mm, units)
    on_loom = tape_length(lengths.on_loom_mm, units)
    if lengths.asked == "warp":
        return []
    fringe = f" and {tape_length(lengths.fringes_mm, units)} of fringes" if lengths.fringes_mm else ""
    return [
        f"{wanted} finished, with {percent(lengths.shrinkage)} lost in washing, is {on_loom} woven;",
        f"with {percent(lengths.take_up)} taken up and {tape_length(lengths.waste_mm, units)} of waste{fringe}, "
        f"the warp is {tape_length(lengths.warp_mm, units)}.",
    ]


def wind(lengths: Lengths, units: Units) -> str:
    return f"Wind {warp_length(lengths.wind_mm, units)}"


def gives(lengths: Lengths, units: Units) -> str:
    return f"gives about {tape_length(lengths.tape_from_warp_mm, units)} of finished tape"


def yarn_aside(units: Units) -> str:
    return f"warp and weft in {'metres' if units == 'metric' else 'yards'}, then all of it"


def yarn_kinds(yarns: Sequence[Yarn]) -> str:
    """Fibre and count, said once when all yarns are of one kind."""
    kinds = [f"{yarn.fibre} {yarn.count}".strip() for yarn in yarns]
    if len(set(kinds)) == 1:
        return f"All {kinds[0]}."
    said = listed([f"{yarn.name} {kind}" for yarn, kind in zip(yarns, kinds, strict=True)])
    return capitalised(f"{said}.")


def dyes(yarns: Sequence[Yarn]) -> str:
    """Dye claims, each with its evidence; a claim without evidence is not repeated."""
    said = [f"{yarn.name}: {yarn.dye} ({yarn.dye_evidence})" for yarn in yarns if yarn.dye and yarn.dye_evidence]
    return f"Dyed {'; '.join(said)}." if said else ""


def weft_line(plan: Plan) -> str:
    weft = plan.weft
    basis = {"pattern": "", "measured": ", measured", "default": ", a guess"}[weft.basis]
    picks = f"about {decimal(weft.picks_per_inch, 0)} picks to the inch{basis}"
    return f"Weft: {weft.yarn}, {picks}; {weft.picks} picks in all"
