"""What a card may print for the figures of the second calculator, read from the text of a finished PDF.

A figure in print is right when it is the exact one to the nearest of its last digit or fraction; yarn to buy is rounded
up. Each check looks for its words; where a layout left them out there is nothing to check, and the caller counts how
often each has found something, so that none can pass by never looking.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import Any, Final, NamedTuple
from unicodedata import normalize

from tests.helpers.second_calculator import kind_of, label
from tests.helpers.second_sizes import UNITS_MM, YARD_M, Tree

NUMBER: Final = r"(?:\d[\d.]*(?: \d+⁄\d+)?|\d+⁄\d+)"
LENGTH: Final = rf"({NUMBER} (?:mm|cm|m)) \(({NUMBER} (?:in|yd))\)"
POST: Final = {"home": "home", "far": "the far post"}
EXACT: Final = Fraction(1, 10**6)


class Fault(NamedTuple):
    """What was looked at, and what is wrong with it; an empty text when it is right."""

    about: str
    wrong: str


class Card(NamedTuple):
    """The text of a card in lines and in one, our figures for it, its loom, and the letters of its yarns."""

    lines: list[str]
    text: str
    plan: dict[str, Any]
    loom: Tree
    letters: dict[str, str]

    def find(self, pattern: str) -> Iterator[re.Match[str]]:
        return re.finditer(pattern, self.text)


def card_of(text: str, plan: dict[str, Any], loom: Tree, letters: dict[str, str]) -> Card:
    lines = [" ".join(normalize("NFKC", line).split()) for line in text.splitlines()]
    return Card(lines, " ".join(lines), plan, loom, letters)


def faults(card: Card) -> tuple[list[str], Counter[str]]:
    """Everything that is printed otherwise than our figures say, and how often each thing was looked at."""
    looks = (heddle, winding, steps, sheds, title, lengths, pieces, yarn_table, weft, beam, new_ends)
    all_of_them = [fault for look in looks for fault in look(card)]
    return [f"{about}: {wrong}" for about, wrong in all_of_them if wrong], Counter(about for about, _ in all_of_them)


# Numbers in print


def number(printed: str) -> tuple[Fraction, Fraction]:
    """A number, and half of its last digit or fraction: ``2 3⁄8`` is 19/8, give or take 1/16.

    What is less than the smallest mark of a ruler is that mark, 1/16.
    """
    if printed == "1⁄16":
        return Fraction(3, 64), Fraction(3, 64)
    whole, _, fraction = printed.rpartition(" ") if "⁄" in printed else (printed, "", "")
    if fraction:
        part = Fraction(fraction.replace("⁄", "/"))
        return Fraction(whole or 0) + part, Fraction(1, 2 * part.denominator)
    digits = len(printed.partition(".")[2])
    return Fraction(printed), Fraction(1, 2 * 10**digits)


def is_nearest(about: str, printed: str, exact: float | Fraction) -> Fault:
    value, half = number(printed)
    right = abs(value - Fraction(exact)) <= half + EXACT
    return Fault(about, "" if right else f"{printed} is printed for {float(exact):.4f}")


def is_up(about: str, printed: str, exact: Fraction, step: Fraction) -> Fault:
    """Rounded up, and not further than it must."""
    right = -EXACT <= number(printed)[0] - exact < step + EXACT
    return Fault(about, "" if right else f"{printed} is printed for {float(exact):.4f}")


def is_length(about: str, printed: Iterable[str], exact_mm: float | Fraction) -> Iterator[Fault]:
    """A length in both units."""
    for one in printed:
        value, _, unit = one.rpartition(" ")
        yield is_nearest(about, value, Fraction(exact_mm) / UNITS_MM[unit])


def same(about: str, printed: object, ours: object) -> Fault:
    return Fault(about, "" if printed == ours else f"{printed} is printed, ours is {ours}")


def counted(number: int, thing: str) -> str:
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


# Heddle, winding, sheds


def heddle(card: Card) -> Iterator[Fault]:
    """First and last space, their kinds, the empties, and the words that lead there."""
    plan, place = card.plan, card.plan["placement"]
    for found in card.find(r"end 1: (.*?) end (\d+): (.*?(?:hole|slot)(?:; back .*?(?:hole|slot))?)(?= )"):
        yield same("first space", found[1], where(card, place["first_space"]))
        yield same("last space", (int(found[2]), found[3]), (plan["ends"], where(card, place["last_space"])))
    for found in card.find(r"When done (.*? last space .*?, a (?:hole|slot))"):
        ours = (
            f"{counted(place['holes'], 'hole')}, {counted(place['slots'], 'slot')} · {place['empty_left']} empty left, "
            f"{place['empty_right']} empty right · last space {place['last_label']}, a {place['last_kind']}"
        )
        yield same("when done", found[1].replace(" · ", " "), ours.replace(" · ", " "))
    shifted = place["shifted"]
    for found in card.find(r"stop at (\d+), a (hole|slot)"):
        stop = place["first_space"] - shifted
        yield same("stop at", found.groups(), (str(place["count_to"] + shifted), kind_of(card.loom, stop)))
    for found in card.find(r"Then go 1 space to the (left|right), to (\w+), a (hole|slot)"):
        way = {1: "right", -1: "left"}.get(shifted)
        yield same("then go", found.groups(), (way, place["first_label"], place["first_kind"]))
    for found in card.find(r"The middle end, no. (\d+) \((\w+)\), lies in (?:the middle space|(\w+))"):
        middle = place["middle_end"]
        space = place["first_space"] + middle - 1
        name = label(card.loom, place["spaces"], space)
        ours_middle = (str(middle), plan["ends_list"][middle - 1]["yarn"], None if name == "the middle" else name)
        yield same("middle end", found.groups(), ours_middle)


def where(card: Card, space: int) -> str:
    """A space in print; with two heddles in both: "every end goes through a hole of one and a slot of the other"."""
    place, kind = card.plan["placement"], kind_of(card.loom, space)
    front = f"{label(card.loom, place['spaces'], space)}, a {kind}"
    if place["back_heddle"] is None:
        return front
    back = label(card.loom, place["spaces"], space + place["back_heddle"]["offset"])
    return f"front {front}; back {back}, a {'slot' if kind == 'hole' else 'hole'}"


def winding(card: Card) -> Iterator[Fault]:
    """Trips, joins, balls and where it ends, by the method."""
    ours = card.plan["winding"]
    ends, method = ours["trips"], ours["method"]
    for found in card.find(r"(\d+ ends?) = (\d+ round trips?)( and 1 single)?; you finish at (home|the far post)"):
        single = " and 1 single" if ends % 2 else None
        trips = (counted(ends, "end"), counted(ours["round_trips"], "round trip"), single, POST[ours["finish"]])
        yield same("round trips", (method, *found.groups()), ("order", *trips))
    for found in card.find(r"end 1 first: (\d+) joins?, (?:(\d+|all) of them )?at (home|the far post)"):
        far = {"all": int(found[1]), None: int(found[1])}.get(found[2]) or int(found[2])
        far = far if found[3] == "the far post" else int(found[1]) - far
        yield same("joins", (method, int(found[1]), far), ("order", ours["changes"], ours["far_changes"]))
    for found in card.find(r"(\d+) trips, one for every end; the last one ends at (home|the far post)\. Carry (\d+)"):
        balls = str(sum(colour["ends"] > 0 for colour in card.plan["colours"]))
        yield same("balls", (method, *found.groups()), ("carry", str(ends), POST[ours["finish"]], balls))
    for found in card.find(r"(\d+) trips in (\d+) bundles"):
        bundles = str(sum(colour["ends"] > 0 for colour in card.plan["colours"]))
        yield same("bundles", (method, *found.groups()), ("bundle", str(ends), bundles))
    for found in card.find(r"in order it needs (\d+) joins"):
        yield same("joins spared", int(found[1]), ours["changes"])
    for found in card.find(r"Count at the cross: (\d+) ends?; (.*?)\."):
        colours = {colour["yarn"]: colour["ends"] for colour in card.plan["colours"] if colour["ends"]}
        told = {name: int(count) for name, count in re.findall(r"(\w+) (\d+)", found[2])}
        yield same("count at the cross", (int(found[1]), told), (ends, colours))
    for found in card.find(r"From the other edge: (.*?)\."):
        yield same("from the other edge", spelled_out(found[1]), ends_in_letters(card)[::-1])


def ends_in_letters(card: Card) -> list[str]:
    return [card.letters[end["yarn"]] for end in card.plan["ends_list"]]


def spelled_out(stripes: str) -> list[str]:
    """``2 Re, 4 Bn Ye in turn`` as Re Re Bn Ye Bn Ye."""
    ends = []
    for stripe in stripes.split(", "):
        count, *names = stripe.removesuffix(" in turn").split()
        ends += [names[index % len(names)] for index in range(int(count))]
    return ends


def steps(card: Card) -> Iterator[Fault]:
    """The list of winding: every stroke with its yarn, its posts and the total after it."""
    row_of = re.compile(r"(\d+) (.+?) (?:(home|far) to (home|far)|to and fro) (\d+)(?: .*)?")
    found = [row for line in card.lines if (row := row_of.fullmatch(line))]
    if not found or card.plan["winding"]["method"] == "bundle":
        for row in found:
            count = next(colour["ends"] for colour in card.plan["colours"] if colour["yarn"] == row[2])
            ours = (str(count), "home", "far" if count % 2 else "home", str(count))
            yield same("bundle step", (row[1], row[3], row[4], row[5]), ours)
        return
    ends: list[str] = []
    for row in found:
        words = re.findall(r"\w+", row[2].removesuffix(" in turn"))
        names = [card.letters.get(name, name) for name in words if name != "and"]
        told = spelled_out(" ".join([row[1], *names]))
        yield same("step from", row[3], stands_at(card, ends, told[0]) if row[3] else None)
        ends += told
        yield same("step to", (row[4], int(row[5])), (stands_at(card, ends, ends[-1]) if row[4] else None, len(ends)))
    yield same("all steps", ends, ends_in_letters(card))


def stands_at(card: Card, ends: list[str], yarn: str) -> str:
    """Where the yarn is after these ends: in order all of it is one walk, else every ball walks by itself from home."""
    walked = len(ends) if card.plan["winding"]["method"] == "order" else ends.count(yarn)
    return "far" if walked % 2 else "home"


def sheds(card: Card) -> Iterator[Fault]:
    """What is seen when the warp is pressed down and lifted up, on one heddle."""
    if card.plan["placement"]["back_heddle"]:
        return
    stripes = r"((?:\d+ \w+(?: \w+)* in turn|\d+ \w+)(?:, (?:\d+ \w+(?: \w+)* in turn|\d+ \w+))*)(?! and)"
    for words, shed in (("Pressed down", "down"), ("Lifted up", "up")):
        seen = [card.letters[yarn] for yarn in card.plan["sheds"][shed]]
        for found in card.find(rf"{words}: all (\w+), (\d+)"):
            yield same("sheds", [card.letters[found[1]]] * int(found[2]), seen)
        for found in card.find(rf"{words}: (\d[^:]*?), mixed as in the picture"):
            told = {name: int(count) for count, name in re.findall(r"(\d+) (\w+)", found[1])}
            yield same("sheds", told, dict(Counter(seen)))
        for found in card.find(rf"{words}: {stripes}"):
            if "mixed as" not in card.text[found.end() : found.end() + 40]:
                yield same("sheds", spelled_out(found[1]), seen)


def title(card: Card) -> Iterator[Fault]:
    """Ends, colours, changes and the width, as they stand at the head of a record."""
    ours, width = card.plan["winding"], card.plan["width"]
    head = "\n".join(card.lines[:12])
    for found in re.finditer(r"^(\d+) ends?\b", head, re.MULTILINE):
        yield same("ends", int(found[1]), ours["trips"])
    for found in re.finditer(r"^(no|\d+) changes?(?:, (\d+|all) at far)?$", head, re.MULTILINE):
        yield same("changes", 0 if found[1] == "no" else int(found[1]), ours["changes"])
        if found[2]:
            yield same("changes at far", ours["changes"] if found[2] == "all" else int(found[2]), ours["far_changes"])
    for found in re.finditer(rf"^{LENGTH}\n({NUMBER}) to ({NUMBER}) mm", head, re.MULTILINE):
        yield from is_length("width", found.groups()[:2], width["likely_mm"])
        yield is_nearest("width from", found[3], width["low_mm"])
        yield is_nearest("width to", found[4], width["high_mm"])


# Lengths and pieces


def lengths(card: Card) -> Iterator[Fault]:
    """What to wind, what comes of it, and the sum that led there."""
    ours = card.plan["lengths"]
    for found in card.find(rf"Wind {LENGTH}"):
        yield from is_length("what to wind", found.groups(), ours["wind_mm"])
    for found in card.find(rf"these pegs give {LENGTH}"):
        yield from is_length("what pegs give", found.groups(), ours["wound_mm"])
    for found in card.find(rf"at least {LENGTH} and about {LENGTH} of finished tape"):
        yield from is_length("tape at least", found.groups()[:2], ours["tape_at_least_mm"])
        yield from is_length("tape about", found.groups()[2:], ours["tape_from_warp_mm"])
    for found in card.find(rf"gives about {LENGTH} of finished tape"):
        yield from is_length("tape", found.groups(), ours["tape_from_warp_mm"])
    sum_of_it = (
        rf"{LENGTH} finished, with (up to )?([\d.]+) % lost in washing, is {LENGTH} woven; with (up to )?([\d.]+) % "
        rf"taken up and {LENGTH} of waste(?: and {LENGTH} of fringes)?, the warp is {LENGTH}\."
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


def is_share(about: str, up_to: str | None, printed: str, ours: list[Fraction]) -> Iterator[Fault]:
    yield is_nearest(about, printed, 100 * ours[1])
    yield same(f"{about}, one figure or a range", up_to is not None, ours[0] != ours[1])


def pieces(card: Card) -> Iterator[Fault]:
    """Which come, what one is on the loom, what it takes, and what is to spare."""
    kinds, kept = card.plan["pieces"], card.plan["lengths"]
    for found in card.find(rf"which gives (\d+ (?:of \d+ )?× .*?)(?:, and {LENGTH} of tape to spare)?\."):
        ours = {(kind["for"], kind["come"], kind["wanted"]) for kind in kinds}
        yield same("pieces that come", set(piece_counts(found[1])), ours)
        if found[2]:
            yield from is_length("to spare", found.groups()[1:], card.plan["pieces_spare_mm"])
    by_name = {kind["for"]: kind for kind in kinds}
    kind_and_loom = rf"(\d+ (?:of \d+ )?× [\w ]+?): weave {LENGTH} of each, {LENGTH} when washed; "
    for found in card.find(rf"{kind_and_loom}(with both fringes )?it takes {LENGTH}"):
        told = found.groups()
        ((name, come, wanted),) = piece_counts(told[0])
        kind = by_name[name]
        warp = kind["on_loom_mm"] / (1 - kept["take_up_range"][1]) + 2 * kind["fringe_mm"]
        yield same(
            "a piece", (come, wanted, told[5] is not None), (kind["come"], kind["wanted"], kind["fringe_mm"] > 0)
        )
        yield from is_length("a piece on the loom", told[1:3], kind["on_loom_mm"])
        yield from is_length("a piece washed", told[3:5], kind["length_mm"])
        yield from is_length("warp of a piece", told[6:8], warp)


def piece_counts(printed: str) -> list[tuple[str, int, int]]:
    """``2 of 4 × garter and 1 × bag tie``: the names, how many come, and how many were wanted."""
    found = re.findall(r"(\d+)(?: of (\d+))? × ((?:bag tie|bookmark|garter))", printed)
    return [(name, int(come), int(wanted or come)) for come, wanted, name in found]


# Yarn and weft


def yarn_table(card: Card) -> Iterator[Fault]:
    """Warp and weft in metres to the nearest, the whole of it in metres, yards and grams rounded up."""
    if not any(line.startswith("yarn ends warp") for line in card.lines):
        return
    colours = {colour["yarn"]: colour["ends"] for colour in card.plan["colours"]}
    for line in card.plan["yarn"]:
        name = line["yarn"]
        start = rf"{card.letters[name]} {name} {colours[name]} "
        warp, weft = (r"([\d.]+) " if line[part] else "()" for part in ("warp_m", "weft_m"))
        rows = [re.fullmatch(rf"{start}{warp}{weft}(\d+) (\d+) ([\d.]+|–)", row) for row in card.lines]
        told = next((row.groups() for row in rows if row), None)
        yield Fault("yarn row", "" if told else f"no row of {name} as ours would be")
        if told:
            warped, woven, metres, yards, grams = told
            yield is_nearest("warp of a yarn", warped or "0", line["warp_m"])
            yield is_nearest("weft of a yarn", woven or "0", line["weft_m"])
            yield is_up("metres", metres, line["total_m"], Fraction(1))
            yield is_up("yards", yards, line["total_m"] / YARD_M, Fraction(1))
            if line["grams"] is None:
                yield same("grams", grams, "–")
            else:
                yield is_up("grams", grams, line["grams"], Fraction(1, 10) if float(grams) < 10 else Fraction(1))


def weft(card: Card) -> Iterator[Fault]:
    ours = card.plan["weft"]
    for found in card.find(r"Weft: (\w+), about ([\d.]+) picks to the inch(?:, [\w ]+)?; (\d+) picks in all"):
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
    for found in card.find(r"(\d+) sticks in all: 2 at the knot, then 2 after turns? ([\d, and]+)\."):
        turns = [int(turn) for turn in re.findall(r"\d+", found[2])]
        yield same("sticks", (int(found[1]), [0, *turns]), (ours["sticks"], ours["stick_turns"]))
    still = {row["turns"]: row for row in ours["tape_left"]}
    for line in card.lines:
        if tape := re.fullmatch(rf"(\d+) (?:{LENGTH}|none, only waste)", line):
            printed = tape.groups()[1:] if tape[2] else ("0 mm",)
            yield from is_length("tape to come", printed, still[int(tape[1])]["tape_mm"])
        elif whole := re.fullmatch(r"(\d+) (no whole one|\d+ × .*)", line):
            counts = zip((kind["for"] for kind in card.plan["pieces"]), still[int(whole[1])]["pieces"], strict=True)
            told = {name: come for name, come, _ in piece_counts(whole[2])}
            yield same("pieces to come", told, {name: count for name, count in counts if count})


def new_ends(card: Card) -> Iterator[Fault]:
    parts = ("nothing is", "a quarter is", "half is", "three quarters is")
    words = ",? (?:and )?".join(rf"{LENGTH} when {part} woven" for part in parts)
    for found in card.find(rf"A new end is {words}"):
        for index, row in enumerate(card.plan["rescue"]["replacements"]):
            yield from is_length("a new end", found.groups()[2 * index : 2 * index + 2], row["length_mm"])
