"""``resize``: a pattern in another number of ends, another width, another yarn, for another loom, or all at once."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, get_args

from cardmaker.jobs import file_lookup, loading
from cardmaker.jobs.editor_schemas import schema_line_of
from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.jobs.own_settings import own_files_named
from cardmaker.jobs.pattern_making import refuse_to_replace
from cardmaker.model.pattern import MOST_ENDS, CountSystem, Fibre, Pattern, Yarn
from cardmaker.model.problems import ProblemsFound, Refusal, problem_from
from cardmaker.model.record_class import replace
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reading.source_text import text_of
from cardmaker.reckoning.amounts.yarn_counts import count_refusal
from cardmaker.reckoning.stripes.stripe_counts import end_yarns
from cardmaker.reckoning.threading.placement import place, slots_only_ends
from cardmaker.wording.phrases import did_you_mean

if TYPE_CHECKING:
    from cardmaker.reckoning.stripes.new_size import NewSize


class ResizeRequest(NamedTuple):
    """What the command asks for: ends or width or neither, another yarn or not, a loom that it is to go on or none."""

    pattern: str
    ends: int | None
    width: Fraction | None
    yarn: str | None
    loom: str | None
    out: Path | None


def resize(request: ResizeRequest) -> tuple[bytes, list[str]]:
    """The text of a pattern in another size, and lines that tell what changed and which sizes are near by.

    Raises WrongUsage, ProblemsFound.
    """
    if request.ends is None and request.width is None and request.yarn is None and request.loom is None:
        raise WrongUsage("What shall change? Say --ends, --width, --yarn or --loom, or several of them.")
    if request.ends is not None and request.width is not None:
        raise WrongUsage("--ends and --width cannot both say how wide it is to be. Keep one.")
    if request.ends is not None and not 1 <= request.ends <= MOST_ENDS:
        raise WrongUsage(f"--ends: a tape has 1 to {MOST_ENDS} ends.")
    if request.out is not None:
        if request.out.suffix not in file_lookup.ENDINGS:
            raise WrongUsage(f"{request.out} is no pattern file: let its name end with .yaml.")
        refuse_to_replace(request.out)
    pattern = loading.load_pattern(file_lookup.find("pattern", request.pattern))
    return _resized(pattern, request)


def _resized(pattern: Pattern, request: ResizeRequest) -> tuple[bytes, list[str]]:
    from cardmaker.reckoning.stripes.new_size import made_over
    from cardmaker.wording.resize_words import change_lines, size_lines

    yarn = None if request.yarn is None else yarn_of(request.yarn)
    loom = None if request.loom is None else loading.load_loom(file_lookup.find("loom", request.loom))
    try:
        new = made_over(pattern, ends=request.ends, width_mm=request.width, yarn=yarn, loom=loom)
    except Refusal as refusal:
        raise ProblemsFound([problem_from(refusal, pattern.places)]) from None
    text, in_place = _text_of_new(new)
    return text, [*size_lines(new), *change_lines(new, _holding(new), in_place=in_place)]


def _text_of_new(new: NewSize) -> tuple[bytes, bool]:
    """The new file, and whether it is the old one made over in place; else it is written anew, without its notes.

    It is read again before anybody gets it, and must say what was meant.
    """
    from cardmaker.editing.edited_pattern import edited_text, is_as_meant
    from cardmaker.editing.resized_pattern import resized_text
    from cardmaker.editing.text_edits import NotEditable

    pattern = new.old
    shelf = loading.shelf_of(Path(pattern.places.file))
    try:
        edited = edited_text(new, text_of(pattern.places.raw, pattern.places.file))
        if is_as_meant(parse_pattern(edited.encode(), "the new file", pattern.stem, shelf), new):
            return (edited.replace("\n", "\r\n") if b"\r\n" in pattern.places.raw else edited).encode(), True
    except (NotEditable, ProblemsFound, Refusal):
        pass
    line = schema_line_of(text_of(pattern.places.raw, pattern.places.file))
    text = (f"{line}\n" * bool(line) + resized_text(new)).encode()
    end_yarns(parse_pattern(text, "the new file", pattern.stem, shelf))  # it reads well
    return text, False


def _holding(new: NewSize) -> list[str]:
    """The looms at hand, and the one that was asked for, that hold the new size, by their titles."""
    yarns = end_yarns(new.pattern)
    looms = loading.load_looms(sound_only=True, named=own_files_named(loading.load_settings()).looms)
    if new.loom is not None and new.loom.stem not in [loom.stem for loom in looms]:
        looms = (new.loom, *looms)
    holding = []
    for loom in looms:
        try:
            place(yarns, loom, slots_only_ends(new.pattern, yarns))
        except Refusal:
            continue
        holding.append(loom.title)
    return holding


def yarn_of(text: str) -> Yarn:
    """``cotton 8/2`` or ``wool 28/2 metric``: fibre, count, and the count's system where the fibre has none of its own;
    or the stem of a yarn's file.

    Raises WrongUsage, ProblemsFound.
    """
    if text.strip() in (known := file_lookup.files_by_stem("yarn")):
        shelf = loading.load_yarn(known[text.strip()])
        return replace(shelf.yarn, name="", shelf=shelf)
    word, _, rest = text.strip().partition(" ")
    fibres: tuple[Fibre, ...] = get_args(Fibre)
    systems: tuple[CountSystem, ...] = get_args(CountSystem)
    fibre = next((each for each in fibres if each == word), None)
    system = next((each for each in systems if rest.endswith(f" {each}")), None)
    count = rest.removesuffix(system or "").strip()
    if fibre is None or not count:
        how = did_you_mean(text, () if fibre else known, "Write fibre and count, as in cotton 8/2 or wool 28/2 metric.")
        raise WrongUsage(f"'{text}' is not a yarn. {how}")
    yarn = Yarn("", fibre, count, system)
    if refusal := count_refusal(yarn):
        raise WrongUsage(f"{refusal.message} {refusal.remedy}")
    return yarn
