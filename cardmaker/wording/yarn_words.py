"""Yarn: what one warp takes of each, fibre and count, dyes, and the weft."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.pattern import OWN_SYSTEM, Yarn
from cardmaker.model.plan import Plan, YarnAmount
from cardmaker.wording import formatters
from cardmaker.wording.formatters import Units, grams_up, metres_up, yards_up, yarn_length
from cardmaker.wording.length_words import from_tape
from cardmaker.wording.phrases import capitalised, listed, plural

YARN: Final = "Yarn for one warp"
SNIPS: Final = "knot a snip of each yarn through its ring"


def spare_ends(count: int) -> str:
    return f"{plural(count, 'spare end')} of each colour" if count else "no spare ends"


def spare(plan: Plan) -> str:
    count = plan.pattern.length.spare_ends
    return capitalised(f"{spare_ends(count)} {'counted in' if count else 'are counted'}.")


def spare_and_snips(plan: Plan) -> str:
    """What stands beside the heading: the spare ends, and what the rings are for."""
    return f"{spare(plan).rstrip('.')}; {SNIPS}"


def more_on_pegs(plan: Plan, units: Units, *, brief: bool = False) -> str:
    """Of which yarns the ends and the weft take more on these pegs than the record tells, which reckons with the length
    asked for. The figure is the record's on these pegs, spare ends and all; nothing where the record's own does.

    In whole metres or yards, rounded up as the record's are: ``White: 169 m on these pegs, 7 m more than the record
    says.`` In ``brief`` for a line that has just said that it is more than on other cards.
    """
    unit, up = ("m", metres_up) if units == "metric" else ("yd", yards_up)
    told: list[str] = []
    ends = {colour.yarn: colour.ends for colour in plan.colours}
    for here, usual in zip(plan.amounts, plan.amounts_without_pegs, strict=False):
        least_mm = ends.get(here.yarn, 0) * plan.lengths.wound_mm + here.weft_mm
        needed, least, there = (int(up(each)) for each in (here.total_mm, least_mm, usual.total_mm))
        if least > there:
            on_record = "" if told or brief else " than the record says"
            told.append(f"{usual.yarn}: {needed} {unit} on these pegs, {needed - there} {unit} more{on_record}")
    return f"{capitalised('; '.join(told))}." if told else ""


def name_and_shade(yarn: Yarn) -> str:
    """The name that the stripes use, and what the label calls the colour: ``white, Bleached 1``; with the dye lot where
    the file tells it."""
    lot = yarn.lot if yarn.lot.casefold().startswith("lot") or not yarn.lot else f"lot {yarn.lot}"
    return ", ".join(part for part in (yarn.name, yarn.shade, lot) if part)


def yarn_kind(yarn: Yarn) -> str:
    """Fibre and count, with the count's system where the fibre does not imply it: ``wool 28/2 metric``."""
    system = "" if yarn.system in (None, OWN_SYSTEM.get(yarn.fibre)) or not yarn.count else yarn.system
    return " ".join(part for part in (yarn.fibre, yarn.count, system) if part)


def yarn_kinds(yarns: Sequence[Yarn], *, with_shades: bool = False) -> str:
    """Fibre and count, said once for all yarns of one kind; and, if asked for, what the labels call the colours:
    ``All linen 20/2: white Bleached 1 and blue Night Tide.``"""
    kinds = [yarn_kind(yarn) for yarn in yarns]
    if len(set(kinds)) == 1:
        shades = [f"{yarn.name} {yarn.shade}" for yarn in yarns if yarn.shade and with_shades]
        return f"All {kinds[0]}{f': {listed(shades)}' if shades else ''}."
    named = [
        f"{listed([_shaded(yarn, with_shades) for yarn, of in zip(yarns, kinds, strict=True) if of == kind])} {kind}"
        for kind in dict.fromkeys(kinds)
    ]
    return capitalised(f"{', '.join(named)}.")


def _shaded(yarn: Yarn, with_shades: bool) -> str:
    return f"{yarn.name} ({yarn.shade})" if yarn.shade and with_shades else yarn.name


def dyes(yarns: Sequence[Yarn]) -> str:
    """Dye claims, each with its evidence; a claim without evidence is not repeated."""
    claims = [f"{yarn.name}: {yarn.dye} ({yarn.dye_evidence})" for yarn in yarns if yarn.dye and yarn.dye_evidence]
    return f"Dyed {'; '.join(claims)}." if claims else ""


def amount_at_hand(amount: YarnAmount, units: Units) -> str:
    """What to have at hand of one yarn: ``43 m (47 yd), 7.1 g``; without grams where nothing tells its weight."""
    weight = f", {grams_up(amount.grams)} g" if amount.grams is not None else ""
    return f"{yarn_length(amount.total_mm, units)}{weight}"


def picks_to_the_inch(plan: Plan) -> str:
    """How close the picks lie, with what their number rests on."""
    weft, tape = plan.weft, from_tape(plan, "picks per inch")
    close = formatters.how_close_picks_lie(weft.picks_per_inch, is_measured=bool(tape))
    if tape:
        return f"{close}, {tape}"
    return f"{close}{', a guess' if weft.basis == 'default' else ''}"


def weft_line(plan: Plan) -> str:
    """The weft's yarn and its picks, with what their number rests on."""
    return f"Weft: {plan.weft.yarn}, {picks_to_the_inch(plan)}; in all {plan.weft.picks} picks"
