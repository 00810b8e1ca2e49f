"""A pattern file: from its text to a :class:`Pattern`, or to every problem in it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any, Final

from cardmaker.model.pattern import (
    Alternation,
    Change,
    Measurement,
    Mirror,
    Notes,
    Package,
    Pattern,
    Pickup,
    PickupRow,
    Piece,
    Repeat,
    SecondYarn,
    Source,
    Stripe,
    WantedLength,
    WarpItem,
    Yarn,
)
from cardmaker.model.problems import KeyPath, Places, Problem, ProblemsFound
from cardmaker.model.records import record
from cardmaker.reading.fields import FieldReader, top_reader
from cardmaker.reading.nodes import as_name
from cardmaker.reading.schema_check import Sentence, quoted
from cardmaker.reading.source_text import invisible_sign, sign_in_words

MOST_ENDS: Final = 10_000
_STRIPE: Final = re.compile(r"\s*([1-9][0-9]{0,4})\s+(\S.*?)\s*", re.DOTALL)
_OWN_SYSTEM: Final = ("linen", "cotton")
_THICKNESS: Final = ("count", "yards_per_pound", "metres_per_kg", "wraps_per_inch", "ends_per_inch")
_SOURCE_LINES: Final = (
    "what", "holder", "object_number", "attached_to", "place", "period", "attributed", "counted_by", "counted_when",
    "counted_how", "certainty", "fibre", "twist", "colour_today", "colour_then", "colour_reason", "photograph",
    "may_print_photograph",
)  # fmt: skip


@record
class PatternDraft:
    """A pattern file as far as it could be read.

    Why: a file with a misspelt key still has stripes, and whether they add up is told in the same breath. ``warp`` is
    None when something is wrong in the warp itself; ``pattern`` is None when there is any problem.
    """

    pattern: Pattern | None
    problems: tuple[Problem, ...]
    warp: tuple[WarpItem, ...] | None
    mirror: Mirror | None
    stated_ends: int | None
    places: Places


def parse_pattern(text: bytes, file: str, stem: str) -> Pattern:
    """The pattern that the text of a file describes. Raises ProblemsFound."""
    draft = draft_pattern(text, file, stem)
    if draft.pattern is None:
        raise ProblemsFound(draft.problems)
    return draft.pattern


def draft_pattern(text: bytes, file: str, stem: str) -> PatternDraft:
    """As much of the pattern as can be read, with every problem of the file. Raises nothing."""
    try:
        top = top_reader(text, file, "pattern", {"a stripe": stripe_sentence})
    except ProblemsFound as found:
        return PatternDraft(None, found.problems, None, None, None, Places(file))
    pattern = _pattern(top, stem)
    problems = top.findings.told()
    warp_is_wrong = top.findings.is_wrong("warp") or top.findings.is_wrong("mirror") or not pattern.warp
    return PatternDraft(
        pattern=None if problems else pattern,
        problems=problems,
        warp=None if warp_is_wrong else pattern.warp,
        mirror=pattern.mirror,
        stated_ends=pattern.stated_ends,
        places=top.findings.places,
    )


def stripe_sentence(text: str) -> Sentence:
    """What is wrong with a stripe that is not written as ``9 white``, and what was probably meant."""
    words = text.split()
    if not words:
        return "this stripe is empty.", "Write how many ends, a space and the yarn, as in 9 white."
    if re.fullmatch(r"[0-9]+", text.strip(), re.ASCII) and int(words[0][:9]):
        return f"{quoted(text)} says how many ends but not of which yarn.", f"Write it as in {words[0][:9]} white."
    if found := re.fullmatch(r"\s*([1-9][0-9]{0,4})[x×*]?\s*([^\W\d].*)", text, re.DOTALL):
        return f"{quoted(text)} is not a stripe.", f"Write {quoted(f'{found[1]} {found[2].strip()}')}, with a space."
    if found := re.fullmatch(r"\s*(.*?\S)(?:\s*[×*:]\s*|\s+x?\s*)([1-9][0-9]{0,4})\s*", text[:80], re.DOTALL):
        return f"{quoted(text)} is the wrong way round.", f"Write {quoted(f'{found[2]} {found[1]}')}."
    if re.match(r"\s*[-+.,0-9]", text):
        return f"{quoted(text)} has no whole number of ends from 1 to 10,000.", "Write it as in 9 white."
    if len(words) > 1:
        return f"{quoted(text)} does not begin with a number.", "Write how many ends in figures, as in 9 white."
    return f"{quoted(text)} does not say how many ends.", f"Write it as in {quoted(f'9 {words[0]}')}."


def _pattern(top: FieldReader, stem: str) -> Pattern:
    yarns = _yarns(top, "yarns")
    known = tuple(top.values.get("yarns") or ())
    return Pattern(
        title=top.line("title"),
        stem=stem,
        yarns=yarns,
        warp=_warp(top, known),
        code=top.line("code"),
        version=top.line("version"),
        date=top.line("date"),
        purposes=top.texts("for"),
        about=top.text("about"),
        mirror=top.choice("mirror"),
        stated_ends=top.choice("ends"),
        weft=_yarn_name(top, "weft", known),
        length=_length_wish(top.part("length")),
        picks_per_inch=top.choice("picks_per_inch"),
        width_mm=top.length("width"),
        second_yarns=tuple(_second_yarn(part, known) for part in top.parts("second_yarns")),
        pickup=_pickup(top.part("pickup"), known),
        measured=tuple(map(_measurement, top.parts("measured"))),
        source=_source(top.part("source")),
        notes=_notes(top.part("notes")),
        changes=tuple(map(_change, top.parts("changes"))),
        credit=top.text("credit"),
        marked_as=top.line("marked_as"),
        places=top.findings.places,
    )


def _yarns(part: FieldReader, key: str) -> tuple[Yarn, ...]:
    group = part.part(key)
    if group is None:
        return ()
    return tuple(_yarn(name, inner) for name in group.values if (inner := group.part(name)))


def _yarn(name: str, part: FieldReader) -> Yarn:
    """One yarn; it must have a name that can be seen and something that tells how thick it is."""
    _check_yarn(name, part)
    return Yarn(
        name=name,
        fibre=part.choice("fibre", "other"),
        count=part.line("count"),
        system=part.choice("system"),
        yards_per_pound=part.choice("yards_per_pound"),
        metres_per_kg=part.choice("metres_per_kg"),
        wraps_per_inch=part.choice("wraps_per_inch"),
        ends_per_inch=part.choice("ends_per_inch"),
        colour=part.line("colour").lower(),
        shade=part.line("shade"),
        dye=part.line("dye"),
        dye_evidence=part.line("dye_evidence"),
        slots_only=part.choice("spaces") == "slots",
        package=_package(part.part("package")),
    )


def _check_yarn(name: str, part: FieldReader) -> None:
    """The checks on a yarn that no schema can make.

    A count without a system is refused because 20/2 means 3,000 yards to the pound in linen and 8,400 in cotton
    (common practice of the labels; the lengths follow from ASTM D2260's hank lengths).
    """
    if sign := invisible_sign(name):
        part.tell(
            None, f"the name {quoted(name)} holds a sign that cannot be seen: {sign_in_words(sign)}.", "Delete it."
        )
    if len(name) > 40:
        part.tell(None, f"the name {quoted(name)} is {len(name)} signs long.", "Write 40 at most.")
    given = [key for key in _THICKNESS if key in part.values or part.findings.is_wrong(*part.path, key)]
    if not given:
        remedy = "Add its count, as in count: 20/2, or yards_per_pound, metres_per_kg, wraps_per_inch or ends_per_inch."
        part.tell(None, "nothing tells how thick this yarn is.", remedy)
    fibre = part.values.get("fibre")
    by_label = "yards_per_pound" in given or "metres_per_kg" in given
    says_system = "system" in part.values or part.findings.is_wrong(*part.path, "system")
    if "count" in part.values and fibre and fibre not in _OWN_SYSTEM and not says_system and not by_label:
        remedy = (
            "Add system: cotton, metric or whichever the label means, or the label's yards_per_pound or metres_per_kg."
        )
        part.tell("count", f"a count in {fibre} does not say which count system it is.", remedy)


def _package(part: FieldReader | None) -> Package | None:
    return Package(part.length("length"), part.weight("weight"), part.line("price")) if part else None


def _yarn_name(part: FieldReader, key: str, known: tuple[str, ...]) -> str:
    """The name of a yarn under a key; it must be one of those known."""
    name = part.name(key)
    if name and name not in known:
        part.unknown_name((*part.path, key), name, "yarns", known)
    return name


def _warp(top: FieldReader, known: tuple[str, ...]) -> tuple[WarpItem, ...]:
    """The items of the warp, with a check that they do not come to more ends than any loom has."""
    items = _items(top, "warp", known)
    ends = _ends(items) * (2 if top.choice("mirror") == "whole" else 1)
    if ends > MOST_ENDS and not top.findings.is_wrong("warp"):
        top.tell(
            "warp", f"these stripes come to {_spoken_count(ends)} ends.", "A warp has 10,000 at most.", at_key=True
        )
    return items


def _spoken_count(ends: int) -> str:
    return f"{ends:,}" if ends < 10**12 else "far more than a million million"


def _ends(items: tuple[WarpItem, ...]) -> int:
    """How many ends the items come to, without laying them out."""
    return sum(item.times * _ends(item.stripes) if isinstance(item, Repeat) else item.ends for item in items)


def _items(part: FieldReader, key: str, known: tuple[str, ...]) -> tuple[WarpItem, ...]:
    values = part.values.get(key) or ()
    path = (*part.path, key)
    return tuple(_item(value, (*path, index), part, known) for index, value in enumerate(values) if value is not None)


def _item(value: Any, path: KeyPath, part: FieldReader, known: tuple[str, ...]) -> WarpItem:
    if isinstance(value, str):
        return _stripe(value, path, part, known)
    inner = FieldReader(value, path, part.findings)
    if "repeat" in value or "stripes" in value:
        return Repeat(inner.count("repeat"), _items(inner, "stripes", known))
    yarns = inner.names("alternate")
    for index, name in enumerate(inner.values.get("alternate") or ()):
        if name is not None and as_name(name) not in known:
            part.unknown_name((*path, "alternate", index), as_name(name), "yarns", known)
    return Alternation(yarns, inner.count("ends"))


def _stripe(text: str, path: KeyPath, part: FieldReader, known: tuple[str, ...]) -> Stripe:
    found = _STRIPE.fullmatch(text)
    if not found:
        part.findings.tell(path, *stripe_sentence(text))
        return Stripe("", 1)
    ends, name = int(found[1]), as_name(found[2])
    if ends > MOST_ENDS:
        part.findings.tell(path, f"{ends:,} ends are too many.", "A stripe has 10,000 at most.")
    if name not in known and re.search(r",\s*[0-9]", name):
        part.findings.tell(path, f"{quoted(text)} is more than one stripe.", "Write each on a line of its own.")
    elif name not in known:
        part.unknown_name(path, name, "yarns", known)
    return Stripe(name, ends)


def _length_wish(part: FieldReader | None) -> WantedLength:
    if part is None:
        return WantedLength()
    asked = [key for key in ("finished", "pieces", "warp") if key in part.values]
    for key in asked[1:]:
        message = f"'{key}' and '{asked[0]}' cannot both say how long it is to be."
        part.tell(key, message, "Keep one of finished, pieces and warp.", at_key=True)
    return WantedLength(
        finished_mm=part.length("finished"),
        pieces=tuple(map(_piece, part.parts("pieces"))),
        warp_mm=part.length("warp"),
        take_up=part.share("take_up"),
        shrinkage=part.share("shrinkage"),
        spare_ends=part.count("spare_ends"),
    )


def _piece(part: FieldReader) -> Piece:
    fringe = part.length("fringe", or_nought=True)
    return Piece(part.line("for"), part.length("length") or Fraction(0), part.count("count"), fringe or Fraction(0))


def _second_yarn(part: FieldReader, known: tuple[str, ...]) -> SecondYarn:
    yarns = _yarns(part, "yarns")
    for yarn in yarns:
        if yarn.name not in known:
            path = (*part.path, "yarns", yarn.name)
            near = part.findings.hint(yarn.name, known)
            remedy = f"Did you mean '{near}'?" if near else "Use the name of the yarn that it takes the place of."
            part.findings.tell(path, f"{quoted(yarn.name)} is not one of the pattern's yarns.", remedy, True, True)
    return SecondYarn(part.line("title"), yarns)


def _pickup(part: FieldReader | None, known: tuple[str, ...]) -> Pickup | None:
    if part is None:
        return None
    return Pickup(_yarn_name(part, "pattern_yarn", known), tuple(map(_pickup_row, part.parts("rows"))))


def _pickup_row(part: FieldReader) -> PickupRow:
    lift, drop = (tuple(end for end in part.choice(key, ()) if end is not None) for key in ("lift", "drop"))
    for end in sorted(set(lift) & set(drop)):
        part.tell(
            "drop", f"pattern end {end} is lifted and dropped in the same row.", "Keep one of the two.", at_key=True
        )
    return PickupRow(part.choice("shed", "down"), lift, drop)


def _measurement(part: FieldReader) -> Measurement:
    return Measurement(
        date=part.line("date"),
        loom=part.line("loom"),
        warp_mm=part.length("warp"),
        tape_mm=part.length("tape"),
        width_mm=part.length("width"),
        picks_per_inch=part.choice("picks_per_inch"),
        leftover_mm=part.length("leftover", or_nought=True),
        note=part.text("note"),
    )


def _source(part: FieldReader | None) -> Source | None:
    if part is None:
        return None
    lines: Mapping[str, str] = {key: part.line(key) for key in _SOURCE_LINES}
    differences, references = part.texts("differences"), part.texts("references")
    return Source(grade=part.choice("grade", "F"), differences=differences, references=references, **lines)


def _notes(part: FieldReader | None) -> Notes:
    return Notes(*(part.texts(key) for key in ("student", "teacher", "visitor"))) if part else Notes()


def _change(part: FieldReader) -> Change:
    return Change(part.line("version"), part.line("date"), part.text("what"))
