"""What a whole class takes of each yarn: multiplied first, added up exactly, rounded only where it is printed.

One kit takes what :func:`cardmaker.reckoning.amounts.yarn_amounts.amounts` says of its plan.
Plain sums: need no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from math import ceil

from cardmaker.model.money import Money, parse_money, times
from cardmaker.model.pattern import Package, Yarn
from cardmaker.model.plan import Plan
from cardmaker.model.record_class import record, replace
from cardmaker.model.school_class import NO_PACKAGES, Amount, Packages, Purchase
from cardmaker.reckoning.amounts.yarn_amounts import ball_length_mm, grams, yarn_needed
from cardmaker.reckoning.amounts.yarn_counts import metres_per_kg


def purchases(
    plans: Sequence[Plan],
    extra: Fraction = Fraction(0),
    spare_ends: int | None = None,
    packages: Mapping[str, Package] = NO_PACKAGES,
) -> tuple[Purchase, ...]:
    """The purchases for kits that follow these plans, one plan for every kit, yarns in the order of the plans.

    ``spare_ends`` of each warp yarn and kit are each pattern's own unless given; ``packages`` by a yarn's name go
    before those that the patterns tell.
    """
    sums: list[_Sum] = []
    for plan in plans:
        for each in yarn_needed(plan.pattern, plan.end_yarns, plan.lengths, plan.weft, 1, extra, spare_ends):
            new = _Sum(plan.pattern.yarn(each.yarn), each.warp_mm, each.weft_mm)
            at = next((index for index, old in enumerate(sums) if is_same_yarn(new.yarn, old.yarn)), None)
            if at is None:
                sums.append(new)
            else:
                sums[at] = sums[at].with_more(new)
    names = [total.yarn.name for total in sums]
    return tuple(_purchase(total, packages, shares_name=names.count(total.yarn.name) > 1) for total in sums)


@record
class _Sum:
    """One yarn so far; ``names`` are all that the patterns call it."""

    yarn: Yarn
    warp_mm: Fraction
    weft_mm: Fraction
    other_names: tuple[str, ...] = ()

    def with_more(self, new: _Sum) -> _Sum:
        """Both sums together, with the shade and the package of the new one where the first told none."""
        yarn = replace(
            self.yarn, shade=self.yarn.shade or new.yarn.shade, package=self.yarn.package or new.yarn.package
        )
        names = (*self.other_names, new.yarn.name)
        return _Sum(yarn, self.warp_mm + new.warp_mm, self.weft_mm + new.weft_mm, names)


def is_same_yarn(first: Yarn, second: Yarn) -> bool:
    """Whether two patterns mean one yarn: fibre, weight and colour agree, and so does the shade where both tell it.

    The name is each pattern's own and tells nothing, unless neither says a colour.
    """
    if (first.fibre, first.colour, metres_per_kg(first)) != (second.fibre, second.colour, metres_per_kg(second)):
        return False
    if first.shade and second.shade and first.shade != second.shade:
        return False
    return bool(first.colour) or first.name == second.name


def _purchase(sum_of_kits: _Sum, packages: Mapping[str, Package], *, shares_name: bool) -> Purchase:
    yarn = sum_of_kits.yarn
    stated = (packages[name] for name in (yarn.name, *sum_of_kits.other_names) if name in packages)
    lengths = (sum_of_kits.warp_mm, sum_of_kits.weft_mm, sum_of_kits.warp_mm + sum_of_kits.weft_mm)
    warp, weft, total = (Amount(length, grams(yarn, length)) for length in lengths)
    return Purchase(yarn, warp, weft, total, _packages(yarn, total, next(stated, yarn.package)), shares_name)


def _packages(yarn: Yarn, total: Amount, package: Package | None) -> Packages | None:
    """Whole packages, by length where that is told and else by weight, and what is left over of the last one."""
    if package is None:
        return None
    holds = package.length_mm
    if holds is None and package.weight_g is not None:
        holds = ball_length_mm(yarn, package.weight_g)
    if not holds:
        return None
    count = ceil(total.length_mm / holds)
    left = count * holds - total.length_mm
    return Packages(package, count, left, _cost(package.price, count))


def _cost(price: str, count: int) -> Money | None:
    """The price of so many, or None when none is told; a pattern's price is any text, and one that is none is left."""
    try:
        return times(parse_money(price), count)
    except ValueError:
        return None


def costs(purchases: Iterable[Purchase]) -> list[Money]:
    """What each purchase costs, where that is known."""
    return [each.packages.cost for each in purchases if each.packages and each.packages.cost]
