"""Lengths, pieces, yarn and the beam on a finished card, held against the second calculator."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from itertools import dropwhile, islice, pairwise, takewhile
from math import ceil
from typing import Final

from tests.helpers.second_amounts import amounts
from tests.helpers.second_print_numbers import (
    LENGTH,
    NUMBER,
    ONE_OR_BOTH,
    Card,
    Fault,
    is_length,
    is_length_at_least,
    is_nearest,
    is_up,
    is_width,
    is_woven_length,
    same,
)
from tests.helpers.second_sizes import UNITS_MM, YARD_M

# Lengths and pieces

TAPE: Final = r"(?: \((?:both )?from your tape of [-\d]+\))?"  # what a figure that was measured rests on


def lengths(card: Card) -> Iterator[Fault]:
    """What to wind, what comes of it, and the sum that led there."""
    ours = card.plan["lengths"]
    for found in card.find(rf"Wind {LENGTH}"):
        yield from is_length("what to wind", found.groups(), ours["wind_mm"])
    for found in card.find(rf"{LENGTH} to wind for"):
        yield from is_length("what to wind", found.groups(), ours["wind_mm"])
    for found in card.find(rf"to wind for about ({NUMBER} (?:cm|in))(?:, ({NUMBER} (?:cm|in)) at least)?"):
        yield from is_length("tape about", [found[1]], ours["tape_from_warp_mm"])
        if found[2]:
            yield from is_length_at_least("tape at least", [found[2]], ours["tape_at_least_mm"])
    for found in card.find(rf"One end is {LENGTH} round the pegs"):
        yield from is_length("round the pegs", found.groups(), ours["wound_mm"])
    yield from shares(card)
    for found in card.find(rf"these pegs give {LENGTH}"):
        yield from is_length("what pegs give", found.groups(), ours["wound_mm"])
    for found in card.find(rf"at least {LENGTH} and about {LENGTH} of finished tape"):
        yield from is_length_at_least("tape at least", found.groups()[:2], ours["tape_at_least_mm"])
        yield from is_length("tape about", found.groups()[2:], ours["tape_from_warp_mm"])
    for found in card.find(rf"gives about {LENGTH} of finished tape"):
        yield from is_length("tape about", found.groups(), ours["tape_from_warp_mm"])
    sum_of_it = (
        rf"{LENGTH} finished. With (up to )?([\d.]+) % lost in washing that is {LENGTH} woven; "
        r"with (up to )?([\d.]+) % "
        rf"taken up{TAPE} and {LENGTH} of waste{TAPE}(?: and {LENGTH} of fringes)?, the warp is {LENGTH}"
        r"(?:, rounded up)?\."
    )
    for found in card.find(sum_of_it):
        told = found.groups()
        yield from is_length("finished", told[0:2], ours["finished_mm"])
        yield from is_share("shrinkage", told[2], told[3], ours["shrinkage_range"])
        yield from is_length("woven", told[4:6], ours["on_loom_mm"])
        yield from is_share("take-up", told[6], told[7], ours["take_up_range"])
        yield from is_length("waste", told[8:10], ours["waste_mm"])
        yield from is_length("fringes", told[10:12] if told[10] else ["0 mm"], ours["fringes_mm"])
        yield from is_length("warp", told[12:14], ours["warp_mm"])


SHARES: Final = ("finished", "wash", "take-up", "fringes", "to spare", "waste")


def shares(card: Card) -> Iterator[Fault]:
    """The bar: whole centimetres or inches of each part, none of them a whole one off, which add up to the whole."""
    ours = card.plan["lengths"]
    whole = ours["wind_mm" if ours["warp_mm"] == ours["wind_mm"] else "wound_mm"]  # a warp that was asked for is itself
    exact = {"finished": ours["tape_from_warp_mm"], "waste": ours["waste_mm"]}
    part = rf"(?:{'|'.join(SHARES)}) \d+(?: (?:cm|in))?"
    for found in card.find(rf"of (\d+) (cm|in) ((?:{part} ?)+)"):
        told = {name: int(count) for name, count in re.findall(rf"({'|'.join(SHARES)}) (\d+)", found[3])}
        yield from is_length("parts of what is wound", [f"{found[1]} {found[2]}"], whole)
        yield same("parts that add up", sum(told.values()), int(found[1]))
        yield from is_length("part finished", [f"{told.get('finished', 0)} {found[2]}"], exact["finished"])
        for name, length in exact.items():
            off = abs(told.get(name, 0) - length / UNITS_MM[found[2]])
            yield same(f"part {name}, {float(off):.2f} off", off < 1, True)._replace(about=f"part {name}")


def is_share(about: str, up_to: str | None, printed: str, ours: list[Fraction]) -> Iterator[Fault]:
    yield is_nearest(about, printed, 100 * ours[1])
    yield same(f"{about}, one figure or a range", up_to is not None, ours[0] != ours[1])


def pieces(card: Card) -> Iterator[Fault]:
    """Which come, and what is to spare."""
    ours = {(kind["for"], kind["come"], kind["wanted"]) for kind in card.plan["pieces"]}
    for found in card.find(r"to wind for (\d+ (?:of \d+ )?× .*?) How long"):
        yield same("pieces to wind for", set(piece_counts(found[1])), ours)
    for found in card.find(rf"cut between them\. {LENGTH} of tape to spare"):
        yield from is_length_at_least("to spare", found.groups(), card.plan["pieces_spare_mm"])
    for found in card.find(rf"which gives (\d+ (?:of \d+ )?× .*?)(?:, and {LENGTH} of tape to spare)?\."):
        yield same("pieces that come", set(piece_counts(found[1])), ours)
        if found[2]:
            yield from is_length_at_least("to spare", found.groups()[1:], card.plan["pieces_spare_mm"])


def one_piece(card: Card) -> Iterator[Fault]:
    """What one of a kind is on the loom and washed, what it takes of the warp, and its fringes."""
    by_name = {kind["for"]: kind for kind in card.plan["pieces"]}
    names = "|".join(by_name) or "-"
    counts_and_loom = rf"(\d+ (?:of \d+ )?× (?:{names})): weave {LENGTH} of each, {LENGTH} washed; "
    for found in card.find(rf"{counts_and_loom}{LENGTH} of warp( with both fringes)?"):
        ((name, come, wanted),) = piece_counts(found[1])
        kind = by_name[name]
        ours = (kind["come"], kind["wanted"], kind["fringe_mm"] > 0)
        yield same("a piece", (come, wanted, found[8] is not None), ours)
        yield from is_woven_length("a piece on the loom", found.group(2, 3), kind["on_loom_mm"])
        yield from is_length("a piece washed", found.group(4, 5), kind["length_mm"])
        warp = kind["on_loom_mm"] / (1 - card.plan["lengths"]["take_up_range"][1]) + 2 * kind["fringe_mm"]
        yield from is_length("warp of a piece", found.group(6, 7), warp)
    for all_of_them in card.find(r"On the loom: (.*?)\. "):
        for found in re.finditer(rf"({names}) {ONE_OR_BOTH}(?:, bare {ONE_OR_BOTH} at each end)?", all_of_them[1]):
            kind = by_name[found[1]]
            yield from is_woven_length("a piece on the loom", filter(None, found.group(2, 3)), kind["on_loom_mm"])
            fringe = [each for each in found.group(4, 5) if each] or ["0 mm"]
            yield from is_length("a fringe", fringe, kind["fringe_mm"])
    fringes = [kind["fringe_mm"] for kind in card.plan["pieces"] if kind["come"]]
    for found in card.find(rf"{ONE_OR_BOTH} between two, cut in its middle"):
        yield from is_length("bare between two", filter(None, found.groups()), 2 * fringes[0])
    for found in card.find(rf"Leave bare {LENGTH} before the first(?: and(?: {LENGTH})? after the last)?"):
        yield from is_length("bare before the first", found.group(1, 2), fringes[0])
        if "after the last" in found[0]:
            yield from is_length(
                "bare after the last", found.group(3, 4) if found[3] else found.group(1, 2), fringes[-1]
            )


def to_weave(card: Card) -> Iterator[Fault]:
    """What a student weaves: so many of each kind, so long on the loom, how close, and what lies between two, so much
    bare or two picks of another colour; or so much tape, so wide."""
    ours = {kind["for"]: kind for kind in card.plan["pieces"] if kind["come"]}
    small = rf"{NUMBER} (?:mm|cm|in)"
    piece = r"\d+ (?:bag tie|bookmark|garter)s?, "
    cut = r"(?: Between(?: (two|[a-z ]+))?: (?:two|2) picks of another colour; cut (?:the tape )?there\.)?"
    for found in card.find(rf"({piece}[^.]*(?:\.(?! Between| Beat)[^.]*)*)\.{cut} Beat {BEATEN}\."):
        words = found[1]
        yield from beaten_closely(card, found[3], found[4], found[5])
        row = [kind["fringe_mm"] for kind in ours.values() for _ in range(kind["come"])]
        is_cut = any(one == two == 0 for one, two in pairwise(row))
        yield same("cut between two without a fringe", "of another colour" in found[0], is_cut)
        between = rf"({small}) bare (between|at either end)(?: two)?(?: \(cut halfway\))?"
        bare = rf"(?:, {between})?(?:, ({small}) at (?:either end|the ends))?"
        kinds = [re.fullmatch(rf"(\d+) (\D+?)s?, ({small})( each)?{bare}", kind) for kind in words.split(". ")]
        told = [(kind[2], int(kind[1]), kind[4] is not None) if kind else None for kind in kinds]
        yield same("to weave", told, [(name, kind["come"], kind["come"] > 1) for name, kind in ours.items()])
        for kind in filter(None, kinds):
            yield from is_woven_length("a piece to weave", [kind[3]], ours[kind[2]]["on_loom_mm"])
            fringe, is_between = ours[kind[2]]["fringe_mm"], kind[6] == "between"
            yield same("bare between two", is_between, bool(fringe) and ours[kind[2]]["come"] > 1)
            yield from is_length("bare to weave", [kind[5] or "0 cm"], fringe * (2 if is_between else 1))
            yield from is_length("bare at either end", [kind[7]], fringe) if kind[7] else ()
    for found in card.find(rf"Weave about ({small}), (?:({small}) wide, )?{BEATEN}\."):
        yield same("tape to weave, where no piece comes", False, bool(ours))
        lengths = card.plan["lengths"]
        woven = lengths["tape_from_warp_mm"] / (1 - lengths["shrinkage"])
        yield from is_length("tape to weave", [found[1]], woven)
        width = card.plan["width"]
        is_measured = width["low_mm"] == width["likely_mm"] * Fraction("0.95")
        if found[2]:
            yield from (is_length if is_measured else is_width)("width to weave", [found[2]], width["likely_mm"])
        yield from beaten_closely(card, found[3], found[4], found[5])


# How close: about so many picks, unless they were measured; and so many to the cm, on a card in centimetres.
BEATEN = r"(about )?([\d.]+) picks to the inch(?: \(([\d.]+) to the cm\))?"


def beaten_closely(card: Card, about: str | None, picks: str, in_cm: str | None) -> Iterator[Fault]:
    ours = card.plan["weft"]["picks_per_inch"]
    yield is_nearest("picks to weave", picks, ours)
    if in_cm:
        yield is_nearest("picks to the cm", in_cm, ours / Fraction("2.54"))
    yield same("about stands before a whole number", about is None or picks.isdigit(), True)


def piece_counts(printed: str) -> list[tuple[str, int, int]]:
    """``2 of 4 × garter and 1 × bag tie``: the names, how many come, and how many were wanted."""
    found = re.findall(r"(\d+)(?: of (\d+))? × ((?:bag tie|bookmark|garter))", printed)
    return [(name, int(come), int(wanted or come)) for come, wanted, name in found]


# Yarn and weft


def on_pegs(card: Card) -> Iterator[Fault]:
    """How far one walks, and of which yarns these pegs take more than the record says."""
    ends, wound = card.plan["ends"], card.plan["lengths"]["wound_mm"]
    for found in card.find(rf"(\d+) times? that is {LENGTH} of thread to walk"):
        yield same("times to walk", int(found[1]), ends)
        yield from is_length("thread to walk", found.groups()[1:], ends * wound)
    usual = amounts(card.pattern, card.loom, card.ends, card.case.warp, None, card.case.units)["yarn"]
    for found in card.find(r"(\w+): (\d+) (m|yd) on these pegs, (\d+) (m|yd) more"):
        name, metres = found[1].lower(), YARD_M if found[3] == "yd" else Fraction(1)
        here, there = (next(line for line in lines if line["yarn"] == name) for lines in (card.plan["yarn"], usual))
        taken = card.ends.count(name) * wound / 1000 + here["weft_m"]
        yield same("the record's yarn is too short on these pegs", taken > there["total_m"], True)
        yield is_up("yarn on these pegs", found[2], here["total_m"] / metres, Fraction(1))
        more = ceil(here["total_m"] / metres) - ceil(there["total_m"] / metres)
        yield same("more than the record", (int(found[4]), found[5]), (more, found[3]))


def yarn_table(card: Card) -> Iterator[Fault]:
    """Warp and weft to the nearest, in the unit that stands first; all of it in both and in grams, rounded up."""
    head = next((line for line in card.lines if line.startswith("yarn ends warp ")), None)
    if head is None:
        return
    us = head.startswith("yarn ends warp yd")
    colours = {colour["yarn"]: colour["ends"] for colour in card.plan["colours"]}
    first, other = (YARD_M, Fraction(1)) if us else (Fraction(1), YARD_M)
    for line in card.plan["yarn"]:
        name = line["yarn"]
        start = rf"{card.letters[name]} (?:{name}|{name[:3]}\w*\.\.\.) {colours[name]} "
        warp, weft = (r"([\d.]+) " if line[part] else "()" for part in ("warp_m", "weft_m"))
        rows = [re.fullmatch(rf"{start}{warp}{weft}(\d+) (\d+) ([\d.]+|–)", row) for row in card.lines]
        told = next((row.groups() for row in rows if row), None)
        yield Fault("yarn row", "" if told else f"no row of {name} as ours would be")
        if told:
            yield is_nearest("warp of a yarn", told[0] or "0", line["warp_m"] / first)
            yield is_nearest("weft of a yarn", told[1] or "0", line["weft_m"] / first)
            yield is_up("all of a yarn", told[2], line["total_m"] / first, Fraction(1))
            yield is_up("in the other unit", told[3], line["total_m"] / other, Fraction(1))
            yield from is_weight(told[4], line["grams"])


def is_weight(printed: str, grams: Fraction | None) -> Iterator[Fault]:
    if grams is None:
        yield same("grams", printed, "–")
    else:
        yield is_up("grams", printed, grams, Fraction(1, 10) if float(printed) < 10 else Fraction(1))


def weft(card: Card) -> Iterator[Fault]:
    ours = card.plan["weft"]
    for found in card.find(r"Weft: (\w+), (?:about )?([\d.]+) picks to the inch(?:, [-\w ]+)?; in all (\d+) picks"):
        yield same("weft and picks", (found[1], int(found[3])), (ours["yarn"], ours["picks"]))
        yield is_nearest("picks to the inch", found[2], ours["picks_per_inch"])


# The beam and new ends


def beam(card: Card) -> Iterator[Fault]:
    """Turns, sticks, and what is still to come at the turns that are left."""
    ours = card.plan["beam"]
    if ours is None:
        return
    for found in card.find(r"The warp goes about ([\d.]+) times round the beam"):
        yield is_nearest("turns", found[1], ours["turns"])
    for found in card.find(r"([\d.]+) turns \(about\)"):
        yield is_nearest("turns", found[1], ours["turns"])
    for found in card.find(r"(\d+) sticks(?: in all:)? 2 at the knot, then 2 after turns? ([\d, and]+)\."):
        turns = [int(turn) for turn in re.findall(r"\d+", found[2])]
        yield same("sticks", (int(found[1]), [0, *turns]), (ours["sticks"], ours["stick_turns"]))
    still = {row["turns"]: row for row in ours["tape_left"]}
    for line in rows_below("on the beam tape to come, at least", card):
        tape = re.fullmatch(rf"(\d+) turns? (?:{LENGTH}|none)", line)
        yield same("a row of the beam", line if tape is None else "", "")
        if tape and tape[2]:
            yield from is_length_at_least("tape to come", tape.groups()[1:], still[int(tape[1])]["tape_mm"])
        elif tape:
            yield same("no tape to come", still[int(tape[1])]["tape_mm"] < UNITS_MM["in"] / 2, True)
    for line in rows_below("on the beam whole pieces, at least", card):
        whole = re.fullmatch(r"(\d+) turns? (none|\d+ × .*)", line)
        yield same("a row of the beam", line if whole is None else "", "")
        if whole:
            counts = zip((kind["for"] for kind in card.plan["pieces"]), still[int(whole[1])]["pieces"], strict=True)
            told = {name: come for name, come, _ in piece_counts(whole[2])}
            yield same("pieces to come", told, {name: count for name, count in counts if count})


def rows_below(head: str, card: Card) -> Iterator[str]:
    """The lines of the table that has this at its head, as far as they begin with a number of turns."""
    below = dropwhile(lambda line: not line.startswith(head), card.lines)
    yield from takewhile(lambda line: re.match(r"\d+ turns? ", line), islice(below, 1, None))


def new_ends(card: Card) -> Iterator[Fault]:
    parts = ("nothing is", "a quarter is", "half is", "three quarters is")
    words = ",? (?:and )?".join(rf"{LENGTH} when {part} woven" for part in parts)
    ways = ("with nothing woven", "with a quarter", "with half", "with three quarters")
    briefly = ",? (?:and )?".join(rf"{LENGTH} {way}" for way in ways)
    for found in (*card.find(rf"A\s?new end is {words}"), *card.find(rf"A\s?new end is {briefly}")):
        for index, row in enumerate(card.plan["rescue"]["replacements"]):
            yield from is_length("a new end", found.groups()[2 * index : 2 * index + 2], row["length_mm"])
