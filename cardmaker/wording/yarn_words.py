"""Yarn: what one warp takes of each, fibre and count, dyes, and the weft."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.pattern import Yarn
from cardmaker.model.plan import Plan
from cardmaker.wording.formatters import Units, decimal
from cardmaker.wording.length_words import from_tape
from cardmaker.wording.phrases import capitalised, listed, plural

YARN: Final = "Yarn for one warp"


def spare_ends(count: int) -> str:
    return f"{plural(count, 'spare end')} of each colour" if count else "no spare ends"


def spare(plan: Plan) -> str:
    count = plan.pattern.length.spare_ends
    return capitalised(f"{spare_ends(count)} {'counted in' if count else 'are counted'}.")


def yarn_aside(units: Units) -> str:
    return f"warp and weft in {'metres' if units == 'metric' else 'yards'}, then all of it"


def yarn_kind(yarn: Yarn) -> str:
    return f"{yarn.fibre} {yarn.count}".strip()


def yarn_kinds(yarns: Sequence[Yarn]) -> str:
    """Fibre and count, said once when all yarns are of one kind."""
    kinds = [yarn_kind(yarn) for yarn in yarns]
    if len(set(kinds)) == 1:
        return f"All {kinds[0]}."
    named = [f"{yarn.name} {kind}" for yarn, kind in zip(yarns, kinds, strict=True)]
    return capitalised(f"{listed(named)}.")


def dyes(yarns: Sequence[Yarn]) -> str:
    """Dye claims, each with its evidence; a claim without evidence is not repeated."""
    claims = [f"{yarn.name}: {yarn.dye} ({yarn.dye_evidence})" for yarn in yarns if yarn.dye and yarn.dye_evidence]
    return f"Dyed {'; '.join(claims)}." if claims else ""


def weft_line(plan: Plan) -> str:
    """The weft's yarn and its picks, with what their number rests on."""
    weft, tape = plan.weft, from_tape(plan, "picks per inch")
    if tape:
        picks = f"{decimal(weft.picks_per_inch, 1)} picks to the inch, {tape}"
    else:
        guess = ", a guess" if weft.basis == "default" else ""
        picks = f"about {decimal(weft.picks_per_inch, 0)} picks to the inch{guess}"
    return f"Weft: {weft.yarn}, {picks}; {weft.picks} picks in all"
