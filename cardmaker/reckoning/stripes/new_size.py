"""A pattern made over: to another count of ends or width, into another yarn, onto a loom, or several of these at once.

What was measured on the old tape stays with it: its ends per inch go over to the new one as those of a sample, its
width and its records do not. What belongs to the old yarn does not go over to another one either: its label, its
shrinkage, its take-up.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from fractions import Fraction

from cardmaker.model.bench import Resized, StripeRun
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import MOST_ENDS, Alternation, Notes, Pattern, Pickup, Stripe, WarpItem, Yarn
from cardmaker.model.plan import Width
from cardmaker.model.problems import Refusal
from cardmaker.model.record_class import record, replace
from cardmaker.model.units import nearest_part
from cardmaker.reckoning.amounts.measured_tapes import latest
from cardmaker.reckoning.amounts.other_yarns import length_in_other_yarns
from cardmaker.reckoning.amounts.shelf_figures import as_measured
from cardmaker.reckoning.amounts.width import tape_width
from cardmaker.reckoning.amounts.yarn_thickness import ends_per_inch_range, thickness_mm
from cardmaker.reckoning.stripes.other_sizes import ends_for_yarn, nearest_ends_for_width, sizes_around
from cardmaker.reckoning.stripes.segments import hand_counted
from cardmaker.reckoning.stripes.stripe_counts import end_yarns, runs
from cardmaker.reckoning.threading.placement import place, slots_only_ends


@record
class Size:
    """The design in one number of ends, and how wide it is likely to come out."""

    stripes: Resized
    width: Width


@record
class NewSize:
    """A pattern made over. ``sizes`` are the chosen one and up to two either side of it, narrowest first."""

    old: Pattern
    old_ends: int
    old_width: Width
    pattern: Pattern
    wanted_ends: int
    sizes: tuple[Size, ...]
    changed_yarns: tuple[str, ...] = ()  # of a change of yarn: those that were changed
    diameters_mm: tuple[Fraction, Fraction] | None = None  # of a change of yarn: before and after, the mean of all ends
    keeps_width: bool = False  # of a change of yarn: the count was chosen so
    loom: Loom | None = None  # the one that it is to go on
    refused_by_loom: bool = False  # what was wanted does not go on it

    @property
    def ends(self) -> int:
        return self.pattern.stated_ends or 0

    @property
    def chosen(self) -> Size:
        return next(size for size in self.sizes if size.stripes.ends == self.ends)


def made_over(
    pattern: Pattern,
    *,
    ends: int | None = None,
    width_mm: Fraction | None = None,
    yarn: Yarn | None = None,
    loom: Loom | None = None,
) -> NewSize:
    """The design at a count of ends, or the size whose likely width is nearest to a wanted one, or what is nearest.

    In another ``yarn`` all yarns as thick as the commonest one are changed; thinner and thicker ones stay, since they
    were chosen to be so. Where neither ends nor width are given, it then has the count that keeps its width: the ends
    go with the diameters. With a ``loom`` it is the nearest size that goes on it. Raises Refusal for a yarn whose
    thickness cannot be told, for more ends than a pattern may have, and where no size goes on the loom.
    """
    changed = changed_yarns(pattern) if yarn is not None else ()
    if yarn is not None and yarn.shelf and yarn.shade and len(changed) > 1:
        message = f"{yarn.shelf.stem} is of one shade, {yarn.shade}, and {', '.join(changed)} would all be of it."
        raise Refusal(("yarns",), message, "Change them in the file, each to a yarn of its own.")
    basis = _in_yarn(pattern, yarn, changed) if yarn is not None else _with_sample(pattern)
    yarns = end_yarns(pattern)
    diameters = (_mean_thickness(pattern, yarns), _mean_thickness(basis, yarns)) if changed else None
    if ends is not None:
        wanted = ends
    elif width_mm is not None:
        wanted = nearest_ends_for_width(width_mm, _likely_width(replace(basis, width_mm=None), yarns).ends_per_inch)
    else:
        wanted = ends_for_yarn(len(yarns), *diameters) if diameters else len(yarns)
    keeps_width = diameters is not None and ends is None and width_mm is None
    resized = _new_size(pattern, basis, wanted, None if ends is not None else width_mm, loom)
    return replace(resized, changed_yarns=changed, diameters_mm=diameters, keeps_width=keeps_width, loom=loom)


def changed_yarns(pattern: Pattern) -> tuple[str, ...]:
    """The yarns that another yarn takes the place of: all that are as thick as the commonest one. Raises Refusal."""
    usual = _thickness(pattern.yarn(Counter(end_yarns(pattern)).most_common(1)[0][0]))
    return tuple(yarn.name for yarn in pattern.yarns if _thickness(yarn) == usual)


def _in_yarn(pattern: Pattern, kind: Yarn, changed: Sequence[str]) -> Pattern:
    """The pattern in another yarn with as many ends; what was measured belongs to the old one."""
    new_yarns = tuple(_in_other_yarn(yarn, kind) if yarn.name in changed else yarn for yarn in pattern.yarns)
    return replace(
        pattern,
        yarns=new_yarns,
        width_mm=None,
        measured=(),
        picks_per_inch=None,
        second_yarns=(),
        length=length_in_other_yarns(pattern, (yarn for yarn in new_yarns if yarn.name in changed)),
    )


def _new_size(
    pattern: Pattern, basis: Pattern, wanted: int, wanted_width_mm: Fraction | None, loom: Loom | None
) -> NewSize:
    """``basis`` is the pattern with its new yarns; its stripes are still the old ones."""
    old_yarns = end_yarns(pattern)
    if not 1 <= wanted <= MOST_ENDS:
        raise Refusal(("warp",), f"{wanted:,} ends are asked for; {MOST_ENDS} is the most.", "Ask for fewer.")
    stripes: tuple[StripeRun, ...] = tuple((run.yarn, run.ends) for run in runs(old_yarns))

    def distance(size: Size) -> tuple[Fraction, int]:
        off = (
            abs(size.stripes.ends - wanted) if wanted_width_mm is None else abs(size.width.likely_mm - wanted_width_mm)
        )
        return Fraction(off), size.stripes.ends

    sizes = _sizes(basis, stripes, wanted)
    chosen = min(sizes, key=distance)
    held = chosen if loom is None or _goes_on(loom, basis, chosen) else None
    if held is None and loom is not None:
        held = _nearest_on(loom, basis, stripes, wanted, distance)
        if held is None:
            raise _goes_on_in_no_size(loom, min(size.stripes.ends for size in _sizes(basis, stripes, 1)))
    refused, chosen = held is not chosen, held or chosen
    if refused or wanted_width_mm is not None:
        sizes = _sizes(basis, stripes, chosen.stripes.ends)
    resized = _with_stripes(basis, chosen.stripes)
    if wanted_width_mm is not None and not refused:
        wanted = chosen.stripes.ends
    width = _likely_width(pattern, old_yarns)
    return NewSize(pattern, len(old_yarns), width, resized, wanted, sizes, refused_by_loom=refused)


def _goes_on_in_no_size(loom: Loom, fewest: int) -> Refusal:
    holds = f"{loom.title}, which has room for {loom.capacity}"
    message = f"No size of this design goes on {holds}: it has {fewest} ends at the fewest, lest it is spoilt."
    return Refusal(("warp",), message, "Choose another loom, or take stripes out.")


def _nearest_on(
    loom: Loom,
    basis: Pattern,
    stripes: Sequence[StripeRun],
    wanted: int,
    distance: Callable[[Size], tuple[Fraction, int]],
) -> Size | None:
    """The size nearest to what is wanted that a loom holds: tried from the largest that it could hold downwards."""
    for ends in range(min(wanted, loom.capacity), 0, -1):
        held = [size for size in _sizes(basis, stripes, ends) if _goes_on(loom, basis, size)]
        if held:
            return min(held, key=distance)
    return None


def _goes_on(loom: Loom, basis: Pattern, size: Size) -> bool:
    yarns = laid_out(size.stripes.runs)
    try:
        place(yarns, loom, slots_only_ends(basis, yarns))
    except Refusal:
        return False
    return True


def _sizes(basis: Pattern, stripes: Sequence[StripeRun], wanted: int) -> tuple[Size, ...]:
    return tuple(
        Size(resized, _likely_width(basis, laid_out(resized.runs))) for resized in sizes_around(stripes, wanted)
    )


def _likely_width(pattern: Pattern, yarns: Sequence[str]) -> Width:
    """With what tapes of its yarns taught, whatever the loom."""
    return tape_width(as_measured(pattern), yarns)


def laid_out(stripes: Sequence[StripeRun]) -> tuple[str, ...]:
    """The yarn of every end."""
    return tuple(yarn for yarn, ends in stripes for _ in range(ends))


def warp_items(stripes: Sequence[StripeRun]) -> tuple[WarpItem, ...]:
    """The stripes as a file would list them, single ends in turn taken together."""
    return tuple(
        Alternation(segment.yarns, segment.ends) if segment.in_turn else Stripe(segment.yarns[0], segment.ends)
        for segment in hand_counted(runs(laid_out(stripes)))
    )


def _with_stripes(basis: Pattern, stripes: Resized) -> Pattern:
    """The whole pattern in its new size. Words for one audience name the counts of the old one, so they stay there."""
    return replace(
        basis,
        warp=warp_items(stripes.runs),
        mirror=None,
        stated_ends=stripes.ends,
        width_mm=None,
        measured=(),
        pickup=_pickup(basis, stripes),
        notes=Notes(),
        changes=(),
        version="1",
        date="",
    )


def _pickup(basis: Pattern, stripes: Resized) -> Pickup | None:
    """The figure, as long as it finds the pattern ends that it counts."""
    if basis.pickup is None:
        return None
    name = basis.pickup.pattern_yarn
    before, after = (tuple(yarns).count(name) for yarns in (end_yarns(basis), laid_out(stripes.runs)))
    return basis.pickup if before == after else None


def _with_sample(pattern: Pattern) -> Pattern:
    """What was measured on the tape, said of its yarns and picks instead: as many ends to the inch as it really had."""
    yarns = end_yarns(pattern)
    width = _likely_width(pattern, yarns)
    picks = latest(pattern, lambda record: record.picks_per_inch) or pattern.picks_per_inch
    if width.basis != "measured":
        return replace(pattern, picks_per_inch=picks)
    usual = {yarn.name: _usual_ends_per_inch(yarn, width.ends_per_inch) for yarn in pattern.yarns}
    reckoned = sum((1 / usual[name] for name in yarns), Fraction(0))  # inches
    share = reckoned / (len(yarns) / width.ends_per_inch)
    sampled = tuple(
        replace(yarn, ends_per_inch=nearest_part(usual[yarn.name] * share, 10)) if yarn.name in yarns else yarn
        for yarn in pattern.yarns
    )
    return replace(pattern, yarns=sampled, picks_per_inch=picks, width_mm=None, measured=())


def _usual_ends_per_inch(yarn: Yarn, otherwise: Fraction) -> Fraction:
    try:
        return ends_per_inch_range(yarn).likely
    except Refusal:
        return otherwise


def _in_other_yarn(yarn: Yarn, kind: Yarn) -> Yarn:
    """The same place in the pattern in another yarn: what the old label and tape told goes with the old yarn."""
    of_shade = kind.shelf is not None and kind.shade
    colour = kind.colour if of_shade and kind.colour else yarn.colour
    return replace(kind, name=yarn.name, colour=colour, slots_only=yarn.slots_only)


def _mean_thickness(pattern: Pattern, yarns: Sequence[str]) -> Fraction:
    thickness = {name: _thickness(pattern.yarn(name)) for name in dict.fromkeys(yarns)}
    return sum((thickness[name] for name in yarns), Fraction(0)) / len(yarns)


def _thickness(yarn: Yarn) -> Fraction:
    thickness = thickness_mm(yarn)
    if thickness is None:
        raise Refusal(("yarns", yarn.name), "Nothing tells how thick this yarn is.", "Give its count or its label.")
    return thickness
