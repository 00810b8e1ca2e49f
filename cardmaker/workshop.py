"""The pipeline on one screen: find the files, read them, reckon, compose, paint, write."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from fractions import Fraction
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal, NamedTuple, get_args

from cardmaker.composing.measures import Units
from cardmaker.noun import noun
from cardmaker.nouns.card_layout import CardLayout, Paper
from cardmaker.nouns.carried import CODE, DIGEST, VERSION, About, Carried, CarriedKind, plain_name
from cardmaker.nouns.loom import Loom
from cardmaker.nouns.pattern import CountSystem, Fibre, Pattern, Yarn
from cardmaker.nouns.plan import Plan
from cardmaker.problems import Place, Places, Problem, ProblemsFound, Refusal, problem_from
from cardmaker.reading.files import (
    kind_of_file,
    read_card_layout,
    read_loom,
    read_pattern_draft,
    read_pegs,
)
from cardmaker.reading.pattern_file import parse_pattern
from cardmaker.reading.source_text import LARGEST_FILE
from cardmaker.reckoning.calculator import make_plan, smallest_loom
from cardmaker.reckoning.counts import count_refusals, metres_per_kg
from cardmaker.reckoning.stripes import end_yarns, stripe_refusals

if TYPE_CHECKING:  # drawing takes longest to load, and most commands draw nothing
    from cardmaker.composing.card import Seen
    from cardmaker.composing.change_words import Replaced
    from cardmaker.nouns.pegs import Pegs
    from cardmaker.writing.draft import Draft

Kind = Literal["pattern", "loom", "pegs", "layout", "class", "binder"]

FOLDERS: Final[dict[Kind, str]] = {
    "pattern": "patterns",
    "loom": "layouts/looms",
    "pegs": "layouts/pegs",
    "layout": "layouts/cards",
    "class": "layouts/classes",
    "binder": "layouts/binders",
}
ENDINGS: Final = (".yaml", ".yml")
PEG_PANELS: Final = ("room",)  # the panels that show where to wind
BENCH_PANELS: Final = frozenset({"room", "turns", "press", "weaving", "rescue", "cautions"})  # what asks the bench
_OF_PEGS: Final = ("pegs", "order", "longest")  # keys of a pegs file that a refusal may point at


class WrongUsage(Exception):
    """What was asked for does not exist or does not go together."""


def shipped() -> Path:
    """Where the patterns and layouts lie that came with the program: in the wheel, or beside a checkout."""
    package = Path(__file__).parent
    inside = package / "shipped"
    return inside if inside.is_dir() else package.parent


def at_hand(kind: Kind) -> dict[str, Path]:
    """Every file of a kind by its stem: those shipped, and the user's own, which win."""
    found: dict[str, Path] = {}
    for root in (shipped(), Path()):
        inside = _inside(root / FOLDERS[kind])
        for ending in ENDINGS:
            found |= {path.stem: path for path in inside if path.name.endswith(ending)}
    return dict(sorted(found.items()))


def _inside(folder: Path) -> list[Path]:
    """What lies in a folder; nothing where there is none, or none that may be looked into."""
    try:
        return [folder / name for name in sorted(os.listdir(folder))]
    except OSError:
        return []


def find(kind: Kind, name: str) -> Path:
    """The file that a name means: a path, or the stem of a file at hand. Raises WrongUsage."""
    path = Path(name)
    if path.suffix in ENDINGS or path.exists() or len(path.parts) > 1:
        return path
    known = at_hand(kind)
    if name in known:
        return known[name]
    import difflib

    near = difflib.get_close_matches(name, known, 1)
    hint = f"Did you mean {near[0]}?" if near else f"At hand: {', '.join(known) or 'none'}."
    wanted = "place to wind" if kind == "pegs" else kind
    raise WrongUsage(f"There is no {wanted} named '{name}'. {hint}")


def yaml_file(path: Path, name: str) -> Path:
    """The path again, if a file may ask for it by this name. Raises WrongUsage.

    Why: a binder or class file may come from anybody; it opens .yaml files and nothing else of this computer.
    """
    if path.suffix not in ENDINGS:
        raise WrongUsage(f"'{name}' is no .yaml file. Name it by its file's stem, or by a path to one.")
    return path


def load_pattern(path: Path) -> Pattern:
    """The pattern in a file, its stripes and counts checked as well. Raises ProblemsFound with all its problems."""
    pattern, problems = pattern_with_problems(path)
    if problems or pattern is None:
        raise ProblemsFound(problems)
    return pattern


def other_kind(path: Path, wanted: str) -> list[Problem]:
    """One plain problem for a file of another kind than is wanted, instead of one for every key of it."""
    try:
        kind = kind_of_file(path.read_bytes()) if path.is_file() and path.stat().st_size <= LARGEST_FILE else None
    except OSError:
        kind = None
    if kind in (None, wanted):
        return []
    message = f"This is a {kind} file." if kind != "pegs" else "This file describes pegs."
    return [Problem(str(path), Place(), "", message, f"A {wanted} file is wanted here.")]


def pattern_with_problems(path: Path) -> tuple[Pattern | None, list[Problem]]:
    """What reading finds and what reckoning refuses, together, so that one look shows everything."""
    if other := other_kind(path, "pattern"):
        return None, other
    draft = read_pattern_draft(path)
    refusals: list[Refusal] = []
    if draft.warp is not None:
        refusals += stripe_refusals(draft.warp, draft.mirror, draft.stated_ends)
    if draft.pattern is not None:
        refusals += count_refusals(draft.pattern)
    return draft.pattern, [*draft.problems, *(problem_from(refusal, draft.places) for refusal in refusals)]


def load_looms(*, sound_only: bool = False) -> tuple[Loom, ...]:
    """All looms at hand; with ``sound_only`` those whose files have no problems. Raises ProblemsFound."""
    looms = []
    for path in at_hand("loom").values():
        try:
            looms.append(read_loom(path))
        except ProblemsFound:
            if not sound_only:
                raise
    return tuple(looms)


def load_pegs() -> tuple[Pegs, ...]:
    """All places to wind a warp at hand. Raises ProblemsFound."""
    return tuple(read_pegs(path) for path in at_hand("pegs").values())


def load_layout(path: Path) -> CardLayout:
    """A card layout whose panels all exist. Raises ProblemsFound."""
    from cardmaker.composing.card import unknown_panels

    layout = read_card_layout(path)
    unknown = unknown_panels(layout)
    if unknown:
        raise ProblemsFound(problem_from(refusal, layout.places) for refusal in unknown)
    return layout


def asks_bench(layout: CardLayout) -> bool:
    """Whether any panel of a layout shows what only the bench can answer."""
    return any({place.panel, place.instead} & BENCH_PANELS for row in layout.rows for place in row)


def shows_pegs(layout: CardLayout) -> bool:
    """Whether any panel of a layout shows where to wind; if none does, nobody looks for a place."""
    return any(place.panel in PEG_PANELS for row in layout.rows for place in row)


class Bench(NamedTuple):
    """What stays the same for every pattern of one call: the looms at hand, the one that was asked for, if any, and
    the places to wind: one that was asked for, or all to choose from, or none when nobody needs to know."""

    looms: tuple[Loom, ...]
    loom: Loom | None = None
    warp_mm: Fraction | None = None
    pegs: tuple[Pegs, ...] = ()
    pegs_were_asked_for: bool = False
    in_full: bool = True  # beam, tension, shuttle, rescue and pace as well


def make_bench(
    loom_name: str | None,
    warp_mm: Fraction | None,
    pegs_name: str | None = None,
    *,
    any_pegs: bool = False,
    in_full: bool = True,
) -> Bench:
    """Reads the looms, and the pegs by name or, with ``any_pegs``, all. Raises WrongUsage and ProblemsFound."""
    looms, loom = load_looms(sound_only=loom_name is not None), None
    if loom_name is not None:
        path = find("loom", loom_name)
        loom = next((loom for loom in looms if loom.places.file == str(path)), None) or read_loom(path)
        looms = (*(other for other in looms if other.stem != loom.stem), loom)
    if pegs_name is not None:
        return Bench(looms, loom, warp_mm, (read_pegs(find("pegs", pegs_name)),), True, in_full)
    return Bench(looms, loom, warp_mm, load_pegs() if any_pegs else (), in_full=in_full)


def plan_for(pattern: Pattern, bench: Bench) -> Plan:
    """The plan on the loom asked for, else on the smallest at hand that holds it. Raises ProblemsFound."""
    try:
        return make_plan(
            pattern,
            bench.loom or smallest_loom(pattern, bench.looms),
            at_hand=bench.looms,
            warp_mm=bench.warp_mm,
            loom_was_chosen=bench.loom is None,
            pegs=bench.pegs,
            pegs_were_asked_for=bench.pegs_were_asked_for,
            with_bench=bench.in_full,
        )
    except Refusal as refusal:
        of_pegs = bench.pegs_were_asked_for and refusal.path[0] in _OF_PEGS
        places = bench.pegs[0].places if of_pegs else pattern.places
        raise ProblemsFound([problem_from(refusal, places)]) from None


def paper_of(layout: CardLayout, name: str | None) -> Paper:
    """The layout's own first paper, or the one named. Raises WrongUsage."""
    if name is None:
        return layout.papers[0]
    for paper in layout.papers:
        if paper.name == name:
            return paper
    raise WrongUsage(
        f"{layout.title} has no paper '{name}'; it has {', '.join(paper.name for paper in layout.papers)}."
    )


@noun
class Card:
    """A finished card: the file's bytes, and what found no room on it."""

    pdf: bytes
    left_out: tuple[str, ...]


class Drawn(NamedTuple):
    """A card's page, drawn but not yet part of a document, and what found no room on it."""

    draft: Draft
    left_out: tuple[str, ...]


def make_card(
    plan: Plan,
    layout: CardLayout,
    paper: Paper,
    units: Units | None,
    seen: Seen | None = None,
    replaces: Replaced | None = None,
) -> Card:
    """One page, painted; the files that it was made from are in it. Raises ProblemsFound."""
    from cardmaker.writing.postponed import postpone

    postpone("PIL", "Image")
    from cardmaker.writing.painter import paint_drafts

    drawn = draw_card(plan, layout, paper, units, seen, replaces)
    pattern, files = plan.pattern, carried_files([plan])
    facts = {CODE: pattern.code, VERSION: pattern.version, DIGEST: content_digest(files)}
    about = About(drawn.draft.title, pattern.about, pattern.code, facts=facts)
    return Card(paint_drafts([drawn.draft], about, files), drawn.left_out)


def draw_card(
    plan: Plan,
    layout: CardLayout,
    paper: Paper,
    units: Units | None,
    seen: Seen | None = None,
    replaces: Replaced | None = None,
) -> Drawn:
    """One page, drawn. Raises ProblemsFound."""
    from cardmaker.composing.card import Seen, compose_card
    from cardmaker.writing.draft import draft_of, named
    from cardmaker.writing.fonts import TypeRuler

    places = plan.pattern.places
    try:
        composed = compose_card(plan, layout, paper, TypeRuler(), units, seen or Seen(), replaces)
    except Refusal as refusal:
        raise ProblemsFound([problem_from(refusal, places)]) from None
    draft = draft_of(composed.page)
    if draft.missing:
        raise ProblemsFound(unprintable(named(draft.missing), places))
    return Drawn(draft, composed.left_out)


def carried_files(plans: Iterable[Plan]) -> tuple[Carried, ...]:
    """The files of the patterns and looms of some plans, each once, as read, under names fit for any folder."""
    files: dict[tuple[str, bytes], Carried] = {}
    taken: set[str] = set()
    for plan in plans:
        carry(files, taken, "pattern", plan.pattern.places.file, plan.pattern.places.raw)
        carry(files, taken, "loom", plan.loom.places.file, plan.loom.places.raw)
    return tuple(files.values())


def carry(files: dict[tuple[str, bytes], Carried], taken: set[str], kind: CarriedKind, path: str, raw: bytes) -> None:
    """One file more, unless it is among them; ``taken`` are the names that others have."""
    if raw and (path, raw) not in files:
        name = plain_name(Path(path).name, taken)
        taken.add(name.casefold())
        files[path, raw] = Carried(name, raw, kind, path)


def content_digest(files: Iterable[Carried]) -> str:
    """SHA-256 over the SHA-256 of every file, in the order of their names: alike when all of the files are alike."""
    each = b"".join(sha256(file.data).digest() for file in sorted(files))
    return f"sha256:{sha256(each).hexdigest()}"


def unprintable(missing: Sequence[tuple[str, str, object]], places: Places) -> Iterable[Problem]:
    seen = dict.fromkeys((character, name) for character, name, _ in missing)
    for character, name in seen:
        message = (
            f"The card's typeface has no '{character}' ({name})." if character.isprintable() else f"It has {name}."
        )
        yield Problem(places.file, places.of(()), "", message, "Write it in other characters.")


@noun
class MadeOver:
    """A pattern in another size: the text of its file, and the sizes near by, a line each."""

    text: bytes
    told: tuple[str, ...]


def make_over(
    pattern: Pattern, *, ends: int | None = None, width_mm: Fraction | None = None, yarn: str | None = None
) -> MadeOver:
    """The pattern at one of: a count of ends, a width, another yarn. Raises WrongUsage and ProblemsFound."""
    from cardmaker.composing.resized_pattern import resized_text, sizes_told
    from cardmaker.reckoning.new_size import to_ends, to_width, to_yarn

    kind = yarn_of(yarn) if yarn is not None else None
    try:
        if kind is not None:
            new = to_yarn(pattern, kind)
        else:
            new = to_width(pattern, width_mm) if width_mm is not None else to_ends(pattern, ends or 0)
    except Refusal as refusal:
        raise ProblemsFound([problem_from(refusal, pattern.places)]) from None
    text = resized_text(new).encode()
    made = parse_pattern(text, "the new file", pattern.stem)
    end_yarns(made)
    return MadeOver(text, tuple(sizes_told(new)))


def yarn_of(text: str) -> Yarn:
    """``cotton 8/2`` or ``wool 28/2 metric``: fibre, count, and the count's system where the fibre has none of its own.

    Raises WrongUsage.
    """
    word, _, rest = text.strip().partition(" ")
    fibres: tuple[Fibre, ...] = get_args(Fibre)
    systems: tuple[CountSystem, ...] = get_args(CountSystem)
    fibre = next((each for each in fibres if each == word), None)
    system = next((each for each in systems if rest.endswith(f" {each}")), None)
    count = rest.removesuffix(system or "").strip()
    if fibre is None or not count:
        raise WrongUsage(f"'{text}' is not a yarn. Write fibre and count, as in cotton 8/2 or wool 28/2 metric.")
    yarn = Yarn("", fibre, count, system)
    try:
        metres_per_kg(yarn)
    except Refusal as refusal:
        raise WrongUsage(f"{refusal.message} {refusal.remedy}") from None
    return yarn
