"""What came off the loom, as files are to tell it: the pattern's, and those of its yarns and its loom as far as it
holds for every later tape."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Mapping, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Final, Literal, NamedTuple

from cardmaker.editing.measured_files import bytes_as_before, with_latest, with_record
from cardmaker.editing.text_edits import NotEditable
from cardmaker.editing.yaml_text import decimal_number, yaml_keys, yaml_length, yaml_share, yaml_string
from cardmaker.files import write_many
from cardmaker.jobs import file_lookup, loading
from cardmaker.jobs.file_lookup import Kind, WrongUsage
from cardmaker.jobs.pattern_making import refuse_to_replace
from cardmaker.model.loom import Loom
from cardmaker.model.pattern import Measurement, Pattern, ShelfYarn
from cardmaker.model.problems import Places, ProblemsFound, Refusal
from cardmaker.model.record_class import replace
from cardmaker.model.units import length_mm, nearest_part
from cardmaker.reading import limits
from cardmaker.reading.loom_file import parse_loom
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reading.source_text import text_of
from cardmaker.reading.yarn_file import parse_yarn
from cardmaker.reckoning.amounts.taught_figures import TaughtFigures, figures_taught, shelf_yarns_of_warp
from cardmaker.reckoning.amounts.width import width_refusals
from cardmaker.reckoning.on_loom.press_gauge import standard_levels
from cardmaker.reckoning.planning import make_plan
from cardmaker.wording import measured_words, question_words

Kept = Literal["yarn", "loom"]  # for whom else it holds
LEAST_PICKS: Final = 1
MOST_PICKS: Final = 150


class TapeMeasures(NamedTuple):
    """What was measured on one tape, as typed; empty where it was not."""

    date: str
    warp: str = ""
    tape: str = ""
    width: str = ""
    picks_per_inch: str = ""
    leftover: str = ""
    fringes: str = ""
    note: str = ""
    press_weight: str = ""
    press_dip: str = ""

    @property
    def any_measured(self) -> bool:
        return any(self[1:])


class ChangedFile(NamedTuple):
    """A file as it is to be written: where, from which file with which bytes, and the lines that are new in it."""

    target: Path
    source: Path
    before: bytes
    after: bytes
    new_lines: tuple[str, ...]


# Reading what was typed; each raises ValueError with the reason why not


def read_length(text: str, limit: limits.Limit, *, or_nought: bool = False) -> Fraction:
    """A length that a file of that limit may hold."""
    length = length_mm(text)
    if not length and not or_nought:
        raise ValueError(question_words.no_length(text))
    if length and (message := limit.message(f"'{text}'", length)):
        raise ValueError(message)
    return length


def read_picks(text: str) -> Fraction:
    """A plain number of picks to the inch."""
    if not re.fullmatch(r"[0-9]{1,3}(\.[0-9]{1,9})?", text) or not LEAST_PICKS <= Fraction(text) <= MOST_PICKS:
        raise ValueError(f"'{text}' is no count of picks. Write a number from {LEAST_PICKS} to {MOST_PICKS}, as in 14.")
    return Fraction(text)


READERS: Final[Mapping[str, Callable[[str], Fraction]]] = {
    "warp": lambda text: read_length(text, limits.WARP),
    "tape": lambda text: read_length(text, limits.FINISHED),
    "width": lambda text: read_length(text, limits.TAPE_WIDTH),
    "picks_per_inch": read_picks,
    "leftover": lambda text: read_length(text, limits.LEFTOVER, or_nought=True),
    "fringes": lambda text: read_length(text, limits.LEFTOVER, or_nought=True),
}
_FIELDS: Final = {
    "warp": "warp_mm", "tape": "tape_mm", "width": "width_mm", "picks_per_inch": "picks_per_inch",
    "leftover": "leftover_mm", "fringes": "fringes_mm",
}  # fmt: skip


def measurement_of(measures: TapeMeasures, loom: Loom) -> Measurement:
    """The record of a tape that was woven on ``loom``."""
    figures = {_FIELDS[key]: read(text) for key, read in READERS.items() if (text := getattr(measures, key))}
    return Measurement(date=measures.date, loom=loom.title, note=measures.note, **figures)


def checked_figures(pattern: Pattern, measures: TapeMeasures, loom: Loom) -> TaughtFigures:
    """What a tape tells of its yarn, where it can have come off that warp and be of so many ends."""
    measurement = measurement_of(measures, loom)
    try:
        figures = figures_taught(pattern, measurement, loom)
        for refusal in width_refusals(replace(pattern, width_mm=None, measured=(measurement,))):
            raise refusal
    except Refusal as refusal:
        raise ValueError(f"{refusal.message} {refusal.remedy}") from None
    if figures.take_up is not None:
        told = f"{yaml_share(figures.take_up)} of the warp taken up"
        if message := limits.TAKE_UP.message(told, figures.take_up):
            raise ValueError(measured_words.too_much_taken_up(message))
    return figures


# What is to be written


def changed_files(
    pattern: Pattern, measures: TapeMeasures, loom: Loom, kept: Collection[Kept]
) -> tuple[ChangedFile, ...]:
    """The files as they are to be written, the pattern's first. Raises WrongUsage, and ValueError where a measure
    cannot be."""
    figures = checked_figures(pattern, measures, loom)
    files = [_changed_pattern(pattern, measures, loom)]
    if "yarn" in kept and figures.any_of_yarn:
        values = _values_for_yarn(pattern, measures, loom, figures)
        files += [_changed_yarn(yarn, values) for yarn in shelf_yarns_of_warp(pattern)]
    if "loom" in kept and (latest := _latest_of_loom(pattern, measures, loom)):
        files.append(_changed_loom(loom, latest))
    return tuple(files)


def _changed_pattern(pattern: Pattern, measures: TapeMeasures, loom: Loom) -> ChangedFile:
    typed = [(key, text) for key, text in measures._asdict().items() if text and not key.startswith("press")]
    values = [(key, yaml_string(text)) for key, text in [typed[0], ("loom", loom.title), *typed[1:]]]
    meant = replace(pattern, measured=(*pattern.measured, measurement_of(measures, loom)))
    path = Path(pattern.places.file)

    def is_as_meant(data: bytes) -> bool:
        return parse_pattern(data, str(path), pattern.stem, loading.shelf_of(path)) == meant

    return _changed(
        "pattern",
        pattern.places,
        lambda text: with_record(text, pattern.places, values),
        is_as_meant,
        yaml_keys(values),
    )


def _values_for_yarn(
    pattern: Pattern, measures: TapeMeasures, loom: Loom, figures: TaughtFigures
) -> list[tuple[str, str]]:
    def told(value: Fraction | None, say: Callable[[Fraction], str]) -> str:
        return "" if value is None else say(value)

    return [
        ("pattern", yaml_string(pattern.title)),
        ("date", yaml_string(measures.date)),
        ("loom", yaml_string(loom.title)),
        ("ends_per_inch", told(figures.ends_per_inch, decimal_number)),
        ("take_up", told(figures.take_up, yaml_share)),
        ("shrinkage", told(figures.shrinkage, yaml_share)),
        ("picks_per_inch", told(figures.picks_per_inch, decimal_number)),
    ]


def _changed_yarn(yarn: ShelfYarn, values: Sequence[tuple[str, str]]) -> ChangedFile:
    def is_as_meant(data: bytes) -> bool:
        read = parse_yarn(data, yarn.places.file, yarn.stem)
        return read.yarn == yarn.yarn and len(read.measured) == len(parse_yarn(yarn.places.raw, "", "").measured) + 1

    return _changed(
        "yarn", yarn.places, lambda text: with_record(text, yarn.places, values), is_as_meant, yaml_keys(values)
    )


def _latest_of_loom(pattern: Pattern, measures: TapeMeasures, loom: Loom) -> dict[str, list[tuple[str, str]]]:
    """What the loom's file is to say of its latest warp: its waste, and how a weight dipped it."""
    tape = [("pattern", yaml_string(pattern.title)), ("date", yaml_string(measures.date))]
    latest: dict[str, list[tuple[str, str]]] = {}
    if measures.leftover:
        latest["waste"] = [("length", yaml_string(measures.leftover)), *tape]
    pull = make_plan(pattern, loom).tension if measures.press_dip else None
    span = loom.press.span_mm if loom.press else loom.measured_press.span_mm if loom.measured_press else None
    if pull is not None and span is not None:
        latest["press"] = [
            ("weight", yaml_string(measures.press_weight)),
            ("span", yaml_length(span)),
            ("dip", yaml_string(measures.press_dip)),
            ("ends", str(pull.ends)),
            ("tex", decimal_number(nearest_part(Fraction(pull.tex), 10 if pull.tex >= 20 else 1000))),
            ("fibre", pull.fibre),
            *tape,
        ]
    return latest


def can_be_pressed(pattern: Pattern, loom: Loom) -> bool:
    """Whether a press test of this warp tells anything: the loom has a clear span, its yarn a weight that is known."""
    return (loom.press or loom.measured_press) is not None and make_plan(pattern, loom).tension is not None


def check_press(pattern: Pattern, measures: TapeMeasures, loom: Loom, *, is_weighed: bool = True) -> None:
    """Raises ValueError where such a weight cannot have dipped this warp so far; of one that is not yet known only the
    dip is looked at."""
    try:
        text = with_latest(*_text_and_places(loom.places), _latest_of_loom(pattern, measures, loom))
        _loom_as_changed(loom, text, with_levels=is_weighed)
    except NotEditable:
        return


def _loom_as_changed(loom: Loom, text: str, *, with_levels: bool = True) -> Loom:
    """The loom as its changed text describes it. Raises ValueError."""
    try:
        read = parse_loom(text.encode(), loom.places.file, loom.stem)
        if with_levels:
            standard_levels(read)
    except ProblemsFound as error:
        raise ValueError(f"{error.problems[0].message} {error.problems[0].remedy}".strip()) from None
    except Refusal as refusal:
        raise ValueError(f"{refusal.message} {refusal.remedy}") from None
    return read


def _changed_loom(loom: Loom, latest: Mapping[str, Sequence[tuple[str, str]]]) -> ChangedFile:
    original = parse_loom(loom.places.raw, loom.places.file, loom.stem)

    def is_as_meant(data: bytes) -> bool:
        read = _loom_as_changed(loom, data.decode())
        told = replace(read, measured_press=original.measured_press, measured_waste=original.measured_waste)
        return told == original

    new = ", ".join(f"{name}: {yaml_keys(values)}" for name, values in latest.items())
    return _changed(
        "loom", loom.places, lambda text: with_latest(text, loom.places, latest), is_as_meant, f"measured: {{{new}}}"
    )


def _text_and_places(places: Places) -> tuple[str, Places]:
    return text_of(places.raw, places.file), places


def _changed(
    kind: Kind, places: Places, edit: Callable[[str], str], is_as_meant: Callable[[bytes], bool], line: str
) -> ChangedFile:
    """A file with its change, read again. Raises WrongUsage where it cannot be changed in place."""
    source = Path(places.file)
    before, _ = _text_and_places(places)
    try:
        text = edit(before)
        if not is_as_meant(text.encode()):
            raise NotEditable
    except (NotEditable, ProblemsFound):
        raise WrongUsage(measured_words.add_by_hand(places.file, [line])) from None
    old = set(before.split("\n"))
    new_lines = [each for each in text.split("\n") if each not in old]
    return ChangedFile(_target(kind, source), source, places.raw, bytes_as_before(text, places.raw), tuple(new_lines))


def _target(kind: Kind, source: Path) -> Path:
    """Where a changed file is written: in its place, but what is shipped into her own folder. Raises WrongUsage."""
    if not file_lookup.is_shipped(source):
        return source
    target = file_lookup.own_folder() / file_lookup.FOLDERS[kind] / source.name
    if file_lookup.is_shipped(target):
        raise WrongUsage(measured_words.not_yours(str(source)))
    refuse_to_replace(target)
    return target


def write_changed(files: Sequence[ChangedFile]) -> None:
    """All of the files, unless one has changed since it was read. Raises WrongUsage, CannotWrite."""
    for file in files:
        if file.source.read_bytes() != file.before:
            raise WrongUsage(measured_words.changed_meanwhile(str(file.source)))
    new = [file.target for file in files if file.target != file.source]
    write_many({file.target: file.after for file in files}, new=new)
