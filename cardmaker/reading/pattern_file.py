"""A pattern file: from its text to a :class:`Pattern`, or to every problem in it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import partial
from typing import Final

from cardmaker.model.pattern import (
    LONGEST_YARN_NAME,
    OWN_SYSTEM,
    Change,
    Measurement,
    Mirror,
    Notes,
    Package,
    Pattern,
    Pickup,
    PickupRow,
    Piece,
    SecondYarn,
    ShelfYarn,
    Source,
    WantedLength,
    WarpItem,
    Yarn,
)
from cardmaker.model.problems import Places, Problem, ProblemsFound, Refusal
from cardmaker.model.record_class import record, replace
from cardmaker.reading import limits
from cardmaker.reading.fields import FieldReader, top_reader
from cardmaker.reading.nodes import Keys, Node
from cardmaker.reading.source_text import invisible_sign, sign_in_words
from cardmaker.reading.stripe_lines import stripe_sentence, stripes_sentence, warp_items_of
from cardmaker.reading.value_words import overlong_text, quoted

_THICKNESS: Final = ("count", "yards_per_pound", "metres_per_kg", "wraps_per_inch", "ends_per_inch")
_SOURCE_LINES: Final = (
    "what", "holder", "object_number", "attached_to", "place", "period", "attributed", "counted_by", "counted_when",
    "counted_how", "certainty", "fibre", "twist", "colour_today", "colour_then", "colour_reason", "photograph",
    "may_print_photograph",
)  # fmt: skip
_WHICH_YARN: Final = ("fibre", "count", "system", "yards_per_pound", "metres_per_kg")
"""What tells one yarn from another: a pattern that says it otherwise than the yarn's file means another yarn."""

Shelf = Callable[[str], ShelfYarn]  # the yarn of a name; raises Refusal, ProblemsFound


def no_shelf(name: str) -> ShelfYarn:
    """For a pattern that is read where there are no files of yarns. Raises Refusal."""
    raise Refusal((), f"the file of the yarn {quoted(name)} is not here.")


@record
class PatternDraft:
    """A pattern file as far as it could be read.

    Why: a file with a misspelt key still has stripes, and whether they add up is told in the same breath. ``warp`` is
    None when something is wrong in the warp itself; ``pattern`` is None when there is any problem.
    """

    problems: tuple[Problem, ...]
    places: Places
    pattern: Pattern | None = None
    warp: tuple[WarpItem, ...] | None = None
    mirror: Mirror | None = None
    stated_ends: int | None = None


def parse_pattern(text: bytes, file: str, stem: str, shelf: Shelf = no_shelf) -> Pattern:
    """The pattern that the text of a file describes; yarns that it names are on the shelf. Raises ProblemsFound."""
    draft = draft_pattern(text, file, stem, shelf)
    if draft.pattern is None:
        raise ProblemsFound(draft.problems)
    return draft.pattern


def draft_pattern(text: bytes, file: str, stem: str, shelf: Shelf = no_shelf) -> PatternDraft:
    """As much of the pattern as can be read, with every problem of the file. Raises nothing."""
    try:
        top = top_reader(text, file, "pattern", {"a stripe": stripe_sentence, "a list of stripes": stripes_sentence})
    except ProblemsFound as error:
        return PatternDraft(error.problems, Places(file))
    pattern = _pattern(top, stem, shelf)
    problems = top.problems.in_order()
    warp_is_wrong = top.is_wrong("warp") or top.is_wrong("mirror") or not pattern.warp
    return PatternDraft(
        problems,
        top.problems.places,
        pattern=None if problems else pattern,
        warp=None if warp_is_wrong else pattern.warp,
        mirror=pattern.mirror,
        stated_ends=pattern.stated_ends,
    )


def _pattern(top: FieldReader, stem: str, shelf: Shelf) -> Pattern:
    yarns = top.group("yarns", partial(_yarns, shelf=shelf)) or ()
    known = _yarn_names(top)
    return Pattern(
        title=top.line("title"),
        stem=stem,
        yarns=yarns,
        warp=warp_items_of(top, "warp", known),
        code=top.line("code"),
        version=top.line("version"),
        date=top.line("date"),
        purposes=top.texts("for"),
        about=top.text("about"),
        mirror=top.choice("mirror"),
        stated_ends=top.choice("ends"),
        weft=_yarn_name(top, "weft", known),
        length=top.group("length", _wanted_length) or WantedLength(),
        picks_per_inch=top.choice("picks_per_inch"),
        width_mm=top.length("width", limit=limits.TAPE_WIDTH),
        second_yarns=top.groups("second_yarns", partial(_second_yarn, known=known, shelf=shelf)),
        pickup=top.group("pickup", partial(_pickup, known=known)),
        measured=top.groups("measured", _measurement),
        source=top.group("source", _source),
        notes=top.group("notes", _notes) or Notes(),
        changes=top.groups("changes", _change),
        credit=top.text("credit"),
        marked_as=top.line("marked_as"),
        places=top.problems.places,
    )


def _yarn_names(top: FieldReader) -> tuple[str, ...]:
    """The names of all yarns, also of those that are wrong or stand among the top keys by a slip: what is said of them
    is enough."""
    written = top.problems.tree.root.values
    inside = written.get("yarns")
    names = [*inside.values] if isinstance(inside, Keys) else []
    return (*names, *(name for name, node in written.items() if is_yarn_by_its_keys(name, node)))


def is_yarn_by_its_keys(name: str, node: Node) -> bool:
    """Whether a group among the top keys is a yarn that was not moved in."""
    return (
        name not in ("yarns", "source")
        and isinstance(node, Keys)
        and not node.values.keys().isdisjoint({"fibre", "yarn"})
    )


def _yarns(group: FieldReader, shelf: Shelf) -> tuple[Yarn, ...]:
    yarns = tuple(_yarn(name, part, shelf) for name in group.values if (part := group.part(name)))
    _check_told_apart(group, yarns)
    return yarns


def _check_told_apart(group: FieldReader, yarns: tuple[Yarn, ...]) -> None:
    """Two yarns of one file are two shades of it, or differ in something else that the pattern says of them."""
    seen: dict[tuple[str, Yarn], str] = {}
    for yarn in yarns:
        if not yarn.shelf:
            continue
        first = seen.setdefault((yarn.shelf.stem, replace(yarn, name="")), yarn.name)
        if first != yarn.name:
            message = f"{quoted(yarn.name)} and {quoted(first)} are one yarn: both name {yarn.shelf.stem}, and no more."
            remedy = "Say what tells them apart, as in shade: or colour:, or use one of the two names in the stripes."
            group.report((yarn.name, "yarn"), message, remedy)


def _yarn(name: str, part: FieldReader, shelf: Shelf) -> Yarn:
    """One yarn; it must have a name that can be seen and something that tells how thick it is."""
    _check_name(name, part)
    if "yarn" not in part.values:
        check_yarn(part)
        return yarn_of_keys(name, part)
    own, stem = yarn_of_keys(name, part), part.line("yarn")
    known = len(part.problems.problems)
    try:
        of_file = shelf(stem)
    except Refusal as refusal:
        part.report("yarn", refusal.message, refusal.remedy)
    except ProblemsFound as error:
        part.problems.problems += [each for each in error.problems if each not in part.problems.problems[:known]]
    else:
        return _on_top_of(of_file, own, part)
    return own


def _on_top_of(of_file: ShelfYarn, own: Yarn, part: FieldReader) -> Yarn:
    """The yarn of a file as a pattern has it: what the pattern says of it comes before what the file does.

    It says how many ends lie in an inch, or wraps: then what was measured on tapes tells no more of that.
    """
    for key in _WHICH_YARN:
        theirs = getattr(of_file.yarn, key)
        if key in part.values and theirs and theirs != getattr(own, key):
            message = f"this is {quoted(_as_typed(getattr(own, key)))}, but {of_file.places.file} says "
            remedy = f"Take {key} out here if it is that yarn; if it is another, take yarn out and describe it here."
            part.report(key, f"{message}{_as_typed(theirs)}.", remedy)
    said = {key: getattr(own, key) for key in part.values if key not in ("yarn", "spaces")}
    if "spaces" in part.values:
        said["slots_only"] = own.slots_only
    if "shade" in said and "lot" not in said and own.shade != of_file.yarn.shade:
        said["lot"] = ""  # of another shade
    measured = of_file.measured
    if own.ends_per_inch or own.wraps_per_inch:
        said["ends_per_inch"] = own.ends_per_inch
        measured = tuple([replace(each, ends_per_inch=None) for each in measured])
    return replace(of_file.yarn, name=own.name, shelf=replace(of_file, measured=measured), **said)


def _as_typed(value: str | Fraction | int) -> str:
    return value if isinstance(value, str) else f"{float(value):.10g}"


def yarn_of_keys(name: str, part: FieldReader) -> Yarn:
    """The yarn that a group of keys describes, those of a pattern's yarn or of a yarn's file."""
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
        lot=part.line("lot"),
        dye=part.line("dye"),
        dye_evidence=part.line("dye_evidence"),
        slots_only=part.choice("spaces") == "slots",
        package=part.group("package", _package),
    )


def _check_name(name: str, part: FieldReader) -> None:
    """The name of a yarn can be seen, and is no longer than cards have room for."""
    if sign := invisible_sign(name):
        part.report(
            None, f"the name {quoted(name)} holds a sign that cannot be seen: {sign_in_words(sign)}.", "Delete it."
        )
    if len(name) > LONGEST_YARN_NAME:
        message, remedy = overlong_text(name, LONGEST_YARN_NAME)
        part.report(None, f"the name {message}", remedy)


def check_yarn(part: FieldReader) -> None:
    """The checks on a yarn that no schema can make.

    A count without a system is refused because 20/2 means 3,000 yards to the pound in linen and 8,400 in cotton
    (common practice of the labels; the lengths follow from ASTM D2260's hank lengths).
    """
    if "fibre" not in part.values and not part.is_wrong("fibre"):
        part.report(None, "'fibre' is missing.", "Write it as in fibre: linen.")
    given = [key for key in _THICKNESS if key in part.values or part.is_wrong(key)]
    if not given:
        remedy = "Add its count, as in count: 20/2, or yards_per_pound, metres_per_kg, wraps_per_inch or ends_per_inch."
        part.report(None, "nothing tells how thick this yarn is.", remedy)
    fibre = part.values.get("fibre")
    by_label = "yards_per_pound" in given or "metres_per_kg" in given
    says_system = "system" in part.values or part.is_wrong("system")
    if "count" in part.values and fibre and fibre not in OWN_SYSTEM and not says_system and not by_label:
        remedy = (
            "Add system: cotton, metric or whichever the label means, or the label's yards_per_pound or metres_per_kg."
        )
        part.report("count", f"a count in {fibre} does not say which count system it is.", remedy)


def _package(part: FieldReader) -> Package:
    length, weight = part.length("length", limit=limits.PACKAGE_LENGTH), part.weight("weight", limits.PACKAGE_WEIGHT)
    return Package(length, weight, part.line("price"))


def _yarn_name(part: FieldReader, key: str, known: tuple[str, ...]) -> str:
    """The name of a yarn under a key; it must be one of those known."""
    name = part.name(key)
    if name:
        part.check_name(key, name, "yarns", known)
    return name


def _wanted_length(part: FieldReader) -> WantedLength:
    stated = [key for key in ("finished", "pieces", "warp") if key in part.values]
    for key in stated[1:]:
        message = f"'{key}' and '{stated[0]}' cannot both say how long it is to be."
        part.report(key, message, "Keep one of finished, pieces and warp.", at_key=True)
    pieces = part.groups("pieces", _piece)
    total = sum((piece.count * piece.length_mm for piece in pieces), Fraction(0))
    if pieces and not part.is_wrong("pieces") and (message := limits.PIECES.message("the length of all pieces", total)):
        part.report("pieces", message, limits.PIECES.remedy, at_key=True)
    return WantedLength(
        finished_mm=part.length("finished", limit=limits.FINISHED),
        pieces=pieces,
        warp_mm=part.length("warp", limit=limits.WARP),
        take_up=part.share("take_up", limits.TAKE_UP),
        shrinkage=part.share("shrinkage", limits.SHRINKAGE),
        spare_ends=part.count("spare_ends"),
    )


def _piece(part: FieldReader) -> Piece:
    length, fringe = (
        part.length("length", limit=limits.PIECE),
        part.length("fringe", or_nought=True, limit=limits.FRINGE),
    )
    return Piece(part.line("for"), length or Fraction(0), part.count("count"), fringe or Fraction(0))


def _second_yarn(part: FieldReader, known: tuple[str, ...], shelf: Shelf) -> SecondYarn:
    yarns = part.group("yarns", partial(_yarns, shelf=shelf)) or ()
    for yarn in yarns:
        if yarn.name not in known:
            near = part.problems.hint(yarn.name, known)
            remedy = f"Did you mean '{near}'?" if near else "Use the name of the yarn that it takes the place of."
            message = f"{quoted(yarn.name)} is not one of the pattern's yarns."
            part.report(("yarns", yarn.name), message, remedy, at_key=True)
    return SecondYarn(part.line("title"), yarns)


def _pickup(part: FieldReader, known: tuple[str, ...]) -> Pickup:
    rows = part.groups("rows", _pickup_row)
    if len({row.shed for row in rows}) == 1 and not part.is_wrong("rows"):
        message = f"every row has the same shed, {rows[0].shed}, so ends would stay up for ever."
        part.report("rows", message, "Let rows of both sheds follow each other.", at_key=True)
    return Pickup(_yarn_name(part, "pattern_yarn", known), rows)


def _pickup_row(part: FieldReader) -> PickupRow:
    lift, drop = (tuple(end for end in part.choice(key, ()) if end is not None) for key in ("lift", "drop"))
    for end in sorted(set(lift) & set(drop)):
        part.report(
            "drop", f"pattern end {end} is lifted and dropped in the same row.", "Keep one of the two.", at_key=True
        )
    return PickupRow(part.choice("shed", "down"), lift, drop)


def _measurement(part: FieldReader) -> Measurement:
    return Measurement(
        date=part.line("date"),
        loom=part.line("loom"),
        warp_mm=part.length("warp", limit=limits.WARP),
        tape_mm=part.length("tape", limit=limits.FINISHED),
        width_mm=part.length("width", limit=limits.TAPE_WIDTH),
        picks_per_inch=part.choice("picks_per_inch"),
        leftover_mm=part.length("leftover", or_nought=True, limit=limits.LEFTOVER),
        fringes_mm=part.length("fringes", or_nought=True, limit=limits.LEFTOVER),
        note=part.text("note"),
    )


def _source(part: FieldReader) -> Source:
    lines: Mapping[str, str] = {key: part.line(key) for key in _SOURCE_LINES}
    differences, references = part.texts("differences"), part.texts("references")
    return Source(grade=part.choice("grade", "F"), differences=differences, references=references, **lines)


def _notes(part: FieldReader) -> Notes:
    return Notes(*(part.texts(key) for key in ("student", "teacher", "visitor")))


def _change(part: FieldReader) -> Change:
    return Change(part.line("version"), part.line("date"), part.text("what"))
