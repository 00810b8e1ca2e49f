"""The shopping sheet: what the kits take of each yarn, and what to buy of it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil, floor
from typing import Final, Literal

from cardmaker.layout.pages.blocks import Block, Heading
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.page_flow import flow
from cardmaker.layout.table_setting import Column, Row, Table
from cardmaker.model.marks import Page, Ruler
from cardmaker.model.money import totals
from cardmaker.model.school_class import Amount, ClassPlan, Packages, Purchase
from cardmaker.model.units import MM_PER_YARD
from cardmaker.reckoning.amounts.class_amounts import costs
from cardmaker.school import class_words, offer_words
from cardmaker.school.handout_sheets import WHOLE, Size
from cardmaker.school.teacher_sheet import running_head, small_paragraph
from cardmaker.wording.formatters import Units, metres_up, yards_up

SUMS: Final = 4  # columns of a yarn and what is needed of it
LONGEST_FIGURE: Final = 14  # letters of a price that is set on one line


def compose_shopping(
    plan: ClassPlan, purchases: Sequence[Purchase], size: Size, ruler: Ruler, units: Units
) -> tuple[Page, ...]:
    """What to buy for the whole class, on one page as a rule."""
    lacking = offer_words.not_in_sums(plan)
    blocks: list[Block] = [
        *([small_paragraph("", strong=lacking)] if lacking else []),
        *(small_paragraph(line, small=True) for line in class_words.kit_lines(plan, units)),
        Heading(class_words.AMOUNTS),
        _amounts(purchases, units),
        Heading(class_words.BUY),
        _packages(purchases, units),
        *(small_paragraph(remark, small=True) for remark in _remarks(purchases)),
    ]
    return flow(blocks, Leaf(WHOLE[size], ruler), running_head(plan.school_class, class_words.SHOPPING))


def _lengths(units: Units) -> tuple[str, str]:
    return ("m", "yd") if units == "metric" else ("yd", "m")


def _figures(amount: Amount, units: Units) -> tuple[str, str, str]:
    """Both lengths and the weight, each rounded up once."""
    both = {"m": metres_up(amount.length_mm), "yd": yards_up(amount.length_mm)}
    first, second = _lengths(units)
    return both[first], both[second], class_words.UNKNOWN if amount.grams is None else str(ceil(amount.grams))


def _amounts(purchases: Sequence[Purchase], units: Units) -> Table:
    """Warp and weft of every yarn, each on a line of its own."""
    first, second = _lengths(units)
    columns = (
        Column("yarn", strong=True),
        Column(""),
        Column("for"),
        Column(first, "right", strong=True),
        Column(second, "right"),
        Column("g", "right"),
    )
    rows = [
        Row((*(names if is_first else ("", "")), what, *_figures(amount, units)))
        for each in purchases
        for names in ((each.yarn.name, _kind(each, purchases)),)
        for is_first, what, amount in _parts(each)
    ]
    return Table("what the kits take", columns, tuple(rows))


def _parts(purchase: Purchase) -> list[tuple[bool, str, Amount]]:
    """Warp, then weft; a yarn that is only one of them has one line."""
    parts = ((class_words.WARP, purchase.warp), (class_words.WEFT, purchase.weft))
    some = [(what, amount) for what, amount in parts if amount.length_mm]
    return [(number == 0, what, amount) for number, (what, amount) in enumerate(some)]


def _packages(purchases: Sequence[Purchase], units: Units) -> Table:
    """Warp and weft together, in whole packages. Prices are ranged as figures, or wrapped where they are long words."""
    first, second = _lengths(units)
    longest = max((len(each.packages.package.price) for each in purchases if each.packages), default=0)
    prices: Literal["left", "right"] = "left" if longest > LONGEST_FIGURE else "right"
    columns: tuple[Column, ...] = (
        Column("yarn", strong=True),
        Column(first, "right"),
        Column(second, "right", spare=3),
        Column("g", "right"),
        Column("packages", "right", strong=True),
        Column("of"),
        Column("left over", "right", spare=2),
        Column("each", prices, spare=1),
        Column("cost", prices),
    )
    rows = [
        Row((_name(each, purchases), *_figures(each.total, units), *_bought(each.packages, units)))
        for each in purchases
    ]
    if not any(each.packages for each in purchases):  # a remark tells why there is nothing to say of them
        columns, rows = columns[:SUMS], [Row(row.cells[:SUMS]) for row in rows]
    sums = totals(costs(purchases))
    rows += [Row((class_words.TOTAL, "", "", "", "", "", "", "", str(money)), strong=True) for money in sums]
    return Table("what to buy", columns, tuple(rows), ticks=True)


def _kind(purchase: Purchase, purchases: Sequence[Purchase]) -> str:
    """Fibre, count and shade, and the colour where another yarn of this name has them all alike."""
    own = (purchase.yarn.name, class_words.yarn_and_shade(purchase.yarn))
    alike = [each for each in purchases if (each.yarn.name, class_words.yarn_and_shade(each.yarn)) == own]
    return class_words.yarn_and_shade(purchase.yarn, with_colour=len(alike) > 1)


def _name(purchase: Purchase, purchases: Sequence[Purchase]) -> str:
    yarn = purchase.yarn
    return f"{yarn.name} ({_kind(purchase, purchases)})" if purchase.shares_name else yarn.name


def _bought(packages: Packages | None, units: Units) -> tuple[str, str, str, str, str]:
    if packages is None:
        return (class_words.UNKNOWN, "", "", "", "")
    cost = packages.cost
    return (
        str(packages.count),
        class_words.package_in_words(packages.package),
        _left(packages.left_mm, units),
        packages.package.price if cost else "",
        str(cost) if cost else class_words.UNKNOWN,
    )


def _left(length: Fraction | None, units: Units) -> str:
    """What is left over, rounded down: it is there at the least."""
    if length is None:
        return ""
    return f"{floor(length / 1000)} m" if units == "metric" else f"{floor(length / MM_PER_YARD)} yd"


def _remarks(purchases: Sequence[Purchase]) -> list[str]:
    remarks = [class_words.ROUNDED]
    unsold = [_name(each, purchases) for each in purchases if each.packages is None]
    if unsold:
        remarks.append(f"{class_words.not_packed(unsold)} {class_words.PACKAGE_HOW}")
    unpriced = [_name(each, purchases) for each in purchases if each.packages and each.packages.cost is None]
    if unpriced:
        remarks.append(class_words.not_priced(unpriced))
    if len(totals(costs(purchases))) > 1:
        remarks.append(class_words.SEVERAL_CURRENCIES)
    return remarks
