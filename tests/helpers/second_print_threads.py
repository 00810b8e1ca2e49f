"""Ends, spaces, trips and sheds on a finished card, held against the second calculator."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from tests.helpers.second_heddle import kind_of, label, said_on
from tests.helpers.second_print_looms import told_of_other_looms
from tests.helpers.second_print_numbers import (
    LENGTH,
    NUMBER,
    Card,
    Fault,
    at_each_side,
    counted,
    empties,
    is_length,
    is_width,
    same,
)

POST: Final = {"home": "home", "far": "the far post"}


def heddle(card: Card) -> Iterator[Fault]:
    """First and last space, their kinds, the empties, and the words that lead there."""
    plan, places, view = card.plan, card.places, card.view
    place = plan["placement"]
    begin, end, way = (places.last, places.first, -1) if view.is_turned else (places.first, places.last, 1)
    space = r"(?:[LR]\d+|the middle), a (?:hole|slot)"
    for found in card.find(rf"end (\d+): ((?:front )?{space}(?:; back {space})?)"):
        number = int(found[1])
        yield same("first and last number", number in {1, plan["ends"]}, True)
        yield same("first space" if number == 1 else "last space", found[2], where(card, begin if number == 1 else end))
    for found in card.find(r"(?:filled: (?:front )?|front: )(\d+ holes?, \d+ slots?)"):
        yield same("filled", found[1], f"{counted(place['holes'], 'hole')}, {counted(place['slots'], 'slot')}")
    for found in card.find(r"every space (?:in order )?to (the middle|\S+);"):
        yield same("last space in a line", found[1], where(card, end).partition(",")[0])
    own = card.text.replace(told_of_other_looms(card), "")
    for found in re.finditer(r"none empty|[Ee]mpty: (?:front )?\d+ \w+, \d+ \w+", own):
        in_both = "front" in found[0]  # and then those of the back heddle, so noughts are told
        ours = f"empty: front {at_each_side(place, view)}" if in_both else empties(place, view)
        yield same("empty", found[0].lower(), ours)
    yield from empty_behind(card)
    for found in card.find(
        r"(?<!: )(?<!front )\b(\d+ holes?, \d+ slots?) last end in (\S+|the middle) (?:none |)empty"
    ):  # the same in brief
        yield same("filled", found[1], f"{counted(place['holes'], 'hole')}, {counted(place['slots'], 'slot')}")
        yield same("last end", found[2], place["last_label"])
    for found in card.find(rf"last end in ((?:front )?{space}(?:; back {space})?)"):
        yield same("last end", found[1], where(card, end))
    for found in card.find(r"last end in front (\S+), back ([LR]\d+|the middle)"):
        behind = label(card.loom, places.spaces, end + (places.back_offset or 0), view)
        yield same("last end in brief", (found[1], found[2]), (place["last_label"], behind))
    stop = begin
    for found in card.find(
        r"Front: count (\d+) \w+ of its 0: a (hole|slot)(?:, not a \w+)?\. "
        r"Back: count (\d+) \w+ of its 0: a (hole|slot)\. Holes and slots alike\."
    ):
        space_behind = begin + (places.back_offset or 0)
        told = (str(said_on(card.loom, places.spaces, begin)), kind_of(card.loom, begin))
        other = "hole" if told[1] == "slot" else "slot"
        behind_told = (str(said_on(card.loom, places.spaces, space_behind)), other)
        yield same("count on both", found.groups(), (*told, *behind_told))
    counting = r"(?:(?:count )?(\d+) \w+ of (?:(?:the|its) mark \(0\)|(?:its )?0)| mark and count to (\d+) \w+)"
    for found in card.find(rf"(?:End 1|Front): [\w ]*?{counting}, holes and slots alike: (?:a )?(hole|slot)"):
        told = (found[1] or found[2], found[3])
        yield same("count to", told, (str(said_on(card.loom, places.spaces, stop)), kind_of(card.loom, stop)))
    for found in card.find(r"All is moved one space to the (left|right)"):
        yield same("further", found[1], view.side("right" if places.shift > 0 else "left"))
    for found in card.find(r"The middle end, no. (\d+) \((\w+)\), lies in (?:the middle space|(\w+))"):
        middle = place["middle_end"]
        name = label(card.loom, places.spaces, begin + way * (middle - 1), view)
        ours_middle = (str(middle), plan["ends_list"][middle - 1]["yarn"], None if name == "the middle" else name)
        yield same("middle end", found.groups(), ours_middle)


def empty_behind(card: Card) -> Iterator[Fault]:
    """What is filled and empty of the back heddle: one has a hole where the other has a slot."""
    place = card.plan["placement"]
    for found in card.find(r"filled: front [^;]*; back (\d+) and (\d+)"):
        yield same("filled behind", found.groups(), (str(place["slots"]), str(place["holes"])))
    for found in card.find(r"[Ee]mpty: front [^;]*; back (\d+) and (\d+)"):
        last, first = card.places.last, card.places.first
        back = card.places.back_offset or 0
        sides = str(first + back - 1), str(card.places.spaces - last - back)
        yield same("empty behind", found.groups(), sides[::-1] if card.view.is_turned else sides)


def where(card: Card, space: int) -> str:
    """A space in print; with two heddles in both: "every end goes through a hole of one and a slot of the other"."""
    kind = kind_of(card.loom, space)
    front = f"{label(card.loom, card.places.spaces, space, card.view)}, a {kind}"
    if card.places.back_offset is None:
        return front
    back = label(card.loom, card.places.spaces, space + card.places.back_offset, card.view)
    return f"front {front}; back {back}, a {'slot' if kind == 'hole' else 'hole'}"


# Beside the picture of the cross, which of its ends are alike; where that finds no room, the cross in words.
CROSS: Final = (
    r" (?:Cross: odd ends below A, above B; even ends above A, below B|"
    r"Odd ends (?:pass|cross) [^.]+|At the cross \d[^.]+)\."
)


def winding(card: Card) -> Iterator[Fault]:
    """Trips, joins, balls and where it ends, by the method."""
    ours = card.plan["winding"]
    ends, method = ours["trips"], ours["method"]
    across = r"(\d+ ends?) = (once|\d+ times) across(?:: (\d+) there and back(, and 1 more)?)?"
    for found in card.find(rf"{across}\. You finish at (home|the far post|far)"):
        pairs, more = (str(ends // 2), ", and 1 more" if ends % 2 else None) if ends > 1 else (None, None)
        trips = (counted(ends, "end"), counted(ends, "time") if ends > 1 else "once", pairs, more)
        yield same("times across", (method, *found.groups()), ("order", *trips, POST[ours["finish"]]))
    for found in card.find(r"end 1 first: (\d+) joins?, (?:(\d+|all) of them )?at (home|the far post)"):
        far = {"all": int(found[1]), None: int(found[1])}.get(found[2]) or int(found[2])
        far = far if found[3] == "the far post" else int(found[1]) - far
        yield same("joins", (method, int(found[1]), far), ("order", ours["changes"], ours["far_changes"]))
    finish = r"You finish at (home|the far post|far)"
    for found in card.find(
        rf"(\d+) times across, one for every end\. {finish}\.(?:{CROSS})?(?: Count at the cross\.)? Use (\d+) balls"
    ):
        balls = str(sum(colour["ends"] > 0 for colour in card.plan["colours"]))
        yield same("balls", (method, *found.groups()), ("carry", str(ends), POST[ours["finish"]], balls))
    for found in card.find(r"(\d+) times across in (\d+) bundles"):
        bundles = str(sum(colour["ends"] > 0 for colour in card.plan["colours"]))
        yield same("bundles", (method, *found.groups()), ("bundle", str(ends), bundles))
    for found in card.find(r"in order it needs (\d+) joins"):
        yield same("joins spared", int(found[1]), ours["changes"])
    for found in card.find(r"Count at the cross: (\d+) ends?; (.*?)\."):
        colours = {colour["yarn"]: colour["ends"] for colour in card.plan["colours"] if colour["ends"]}
        named = re.findall(
            r"(\d+) (\w+)(?: (\w+))?", found[2]
        )  # "9 white", or "9 Wh white" where no list has the names
        told = {name if name and word in card.letters.values() else word: int(count) for count, word, name in named}
        yield same("count at the cross", (int(found[1]), told), (ends, colours))
    for found in card.find(r"Count every bundle at its cross: (.*?); (\d+) ends in all\."):
        told = {name: int(count) for count, name in re.findall(r"(\d+) (?:[A-Z]\w* )?(\w+)", found[1])}
        colours = {colour["yarn"]: colour["ends"] for colour in card.plan["colours"] if colour["ends"]}
        yield same("count every bundle", (told, int(found[2])), (colours, ends))
    for found in card.find(r"From the other edge: (.*?)\."):
        yield same("from the other edge", spelled_out(found[1]), ends_in_letters(card)[::-1])


def ends_in_letters(card: Card) -> list[str]:
    return [card.letters[end["yarn"]] for end in card.plan["ends_list"]]


def spelled_out(stripes: str) -> list[str]:
    """``2 Re, 4 Bn Ye in turn`` as Re Re Bn Ye Bn Ye."""
    ends = []
    for stripe in stripes.split(", "):
        count, *names = re.split(r"[ /]", stripe.removesuffix(" in turn"))
        ends += [names[index % len(names)] for index in range(int(count))]
    return ends


def steps(card: Card) -> Iterator[Fault]:
    """The list of winding: every stroke with its yarn, its posts and the total after it."""
    posts = r"(home|far) to (home|far)|(?:all|both|each) from (home|far)|((?:\w+ (?:home|far), )+\w+ (?:home|far))"
    posts += r"|to (home|far)"  # on a crowded card only where it ends
    row_of = re.compile(rf"(\d+)(?: of (\d+))? (.+ in turn|.+?) (?:{posts}) (\d+)(?: .*)?")
    found = [row for line in card.lines if (row := row_of.fullmatch(line))]
    if not found or card.plan["winding"]["method"] == "bundle":
        yield from bundle_steps(card, found)
        return
    ends: list[str] = []
    close_by = {letters + name: letters for name, letters in card.letters.items()}  # "Bu blue", a thin space apart
    called = card.letters | close_by
    done = 0  # of a long stripe, which has a row for every part
    for row in found:
        words = re.findall(r"\w+", row[3].removesuffix(" in turn"))
        names = [called.get(name, name) for name in words if name not in ("and", "then")]
        stop = done + int(row[1])
        told = spelled_out(" ".join([row[1], *names]))  # each row names its own ends in their order
        yield same("a row says what its ends are", "then" in words, len(set(names)) == int(row[1]) == 2)
        done = stop if row[2] and stop < int(row[2]) else 0
        yield same("go on within a stripe", row[0].endswith(" go on"), bool(done))
        starts = {name: stands_at(card, ends, name) for name in ([told[0]] if row[4] else told)}
        if row[4] or row[6]:
            yield same("step from", {row[4] or row[6]}, set(starts.values()))
        elif row[7]:
            yield same("step from", dict(re.findall(r"(\w+) (home|far)", row[7])), starts)
        ends += told
        to = row[5] or row[8]
        yield same("step to", (to, int(row[9])), (stands_at(card, ends, ends[-1]) if to else None, len(ends)))
    yield same("all steps", ends, ends_in_letters(card))
    if card.plan["winding"]["method"] == "order" and not any("in turn" in row[3] for row in found):
        joins = sum(row[0].endswith(" join next") for row in found)
        if "After each: join next; at the end tie off." in card.text:  # said once, for every row that ends a stripe
            joins = sum(not row[0].endswith(" go on") for row in found) - 1
        yield same("joins in the list", joins, card.plan["winding"]["changes"])


def bundle_steps(card: Card, found: Sequence[re.Match[str]]) -> Iterator[Fault]:
    """Every colour by itself, from home; a long one in parts."""
    done = 0
    for row in found:
        names = [name for name, letters in card.letters.items() if row[3] in {name, letters, f"{letters} {name}"}]
        count = next((colour["ends"] for colour in card.plan["colours"] if [colour["yarn"]] == names), 0)
        wound = done + int(row[1]) if row[2] else count
        ours = (str(wound - done), "far" if done % 2 else "home", "far" if wound % 2 else "home", str(wound))
        yield same("bundle step", (row[1], row[4] or ours[1], row[5] or row[8], row[9]), ours)
        yield same("bundle", row[2] or row[1], str(count))
        done = wound if wound < count else 0


def stands_at(card: Card, ends: list[str], yarn: str) -> str:
    """Where the yarn is after these ends: in order all of it is one walk, else every ball walks by itself from home."""
    walked = len(ends) if card.plan["winding"]["method"] == "order" else ends.count(yarn)
    return "far" if walked % 2 else "home"


def sheds(card: Card) -> Iterator[Fault]:
    """What is seen in either shed: of two heddles, the ends in the holes of the one that is up."""
    stripes = r"((?:\d+ \w+(?: \w+)* in turn|\d+ \w+)(?:, (?:\d+ \w+(?: \w+)* in turn|\d+ \w+))*)(?! and)"
    for words, shed in ((r"Warp DOWN|Front up", "down"), (r"Warp UP|Back up", "up")):
        from_left = card.plan["sheds"][shed][:: -1 if card.view.is_turned else 1]  # "told as you sit, on every card"
        seen = [card.letters[yarn] for yarn in from_left]
        for _ in card.find(rf"(?:{words}), on top: nothing\."):
            yield same("sheds", [], seen)
        for found in card.find(rf"(?:{words}), on top: all (\w+), (\d+)"):
            yield same("sheds", [card.letters[found[1]]] * int(found[2]), seen)
        for found in card.find(rf"(?:{words}), on top: (\d[^:]*?), mixed as in the picture"):
            told = {name: int(count) for count, name in re.findall(r"(\d+) (\w+)", found[1])}
            yield same("sheds", told, dict(Counter(seen)))
        for found in card.find(rf"(?:{words}), on top: {stripes}"):
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
    for found in re.finditer(rf"^{LENGTH}\n({NUMBER}) to ({NUMBER}) (mm|in)", head, re.MULTILINE):
        is_measured = width["low_mm"] == width["likely_mm"] * Fraction("0.95")
        yield from (is_length if is_measured else is_width)("width", found.groups()[:2], width["likely_mm"])
        yield from is_width("width from", [f"{found[3]} {found[5]}"], width["low_mm"])
        yield from is_width("width to", [f"{found[4]} {found[5]}"], width["high_mm"])
