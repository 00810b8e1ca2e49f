"""The commands: what each does with its arguments, and the exit status that it ends with."""

from __future__ import annotations

import argparse
import gc
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from cardmaker.cli.streams import complain
from cardmaker.jobs import card_making, loading, lookup, plan_making, resizing
from cardmaker.jobs.lookup import WrongUsage
from cardmaker.model.pattern import MOST_ENDS
from cardmaker.model.problems import on_one_line

if TYPE_CHECKING:
    from cardmaker.jobs.card_making import WrittenCard
    from cardmaker.jobs.class_making import SheetKind

LONGEST_TITLE = 80
_OFTEN = 5_000  # new objects between two looks for garbage, where a thousand cards are drawn: memory before time
DONE, PROBLEMS, USAGE, INTERRUPTED = 0, 1, 2, 130


def _say(line: str) -> None:
    """One line, whatever the names in it hold."""
    print(on_one_line(line))


def run_card(options: argparse.Namespace) -> int:
    """``cardmaker card``: every pattern that can be made is made; the problems of the others are told."""
    from cardmaker.cli.streams import print_above_bar
    from cardmaker.jobs.card_making import CardRequest, WrittenCard, cards_of_files
    from cardmaker.jobs.progress import watched

    paths = [lookup.find("pattern", name) for name in options.patterns]
    layout = loading.load_layout(lookup.find("layout", options.layout))
    paper = card_making.paper_of(layout, options.paper)
    turned = [
        word for word, wanted in (("left", options.hand == "left"), ("behind", options.side == "behind")) if wanted
    ]
    targets = _targets(paths, options.out, "-".join((layout.stem, *turned)))
    bench = plan_making.load_equipment(
        options.loom,
        options.warp,
        options.pegs,
        any_pegs=plan_making.shows_pegs(layout),
        in_full=plan_making.asks_bench(layout),
    )
    said = {"left": "for a left hand", "behind": "threaded from behind"}
    if options.supersedes and len(paths) > 1:
        raise WrongUsage("--supersedes is for one card at a time.")
    wish = CardRequest(
        bench, layout, paper, options.units, options.hand == "left",
        options.side and options.side == "behind", options.supersedes, options.preview,
    )  # fmt: skip
    say = _sayer(options)
    status = DONE
    with cards_of_files(wish, paths) as found:
        watched_cards = watched(found, len(paths), "drawing", quiet=options.quiet or sys.stdout.isatty())
        for target, answer in zip(targets, watched_cards, strict=True):
            if not isinstance(answer, WrittenCard):
                for problem in answer:
                    print_above_bar(str(problem))
                status = PROBLEMS
                continue
            _deliver(answer, target)
            how = ", ".join((answer.loom, paper.name, *(said[word] for word in turned)))
            say(f"{target}  ({how})")
            if answer.left_out:
                say(f"  left out for want of room: {', '.join(answer.left_out)}")
    return status


def _sayer(options: argparse.Namespace) -> Callable[[str], None]:
    """Prints what was done, or nothing when only problems are wanted."""
    return (lambda told: None) if options.quiet else _say


def run_binder(options: argparse.Namespace) -> int:
    """``cardmaker binder``: what can be made is made, and what cannot is named in it and told."""
    from cardmaker.files import write_whole
    from cardmaker.jobs.binder_making import BinderRequest, make_binder

    asked = BinderRequest(
        tuple(options.patterns), options.title, options.by, options.layout, options.paper, options.loom, options.units,
        options.duplex, options.strict, options.quiet, options.jobs,
    )  # fmt: skip
    target = options.out / "binder.pdf" if options.out.is_dir() else options.out
    if target.suffix.lower() != ".pdf":
        raise WrongUsage(f"{target} is no PDF: let its name end with .pdf.")
    gc.set_threshold(_OFTEN)
    bound = make_binder(asked)
    write_whole(target, bound.pdf)
    for problem in bound.problems:
        complain(str(problem))
    cards = "1 card" if bound.cards == 1 else f"{bound.cards} cards"
    say = _sayer(options)
    say(f"{target}  ({cards} on {bound.pages} pages)")
    if bound.left_out:
        say(f"  left out for want of room: {', '.join(bound.left_out)}")
    return PROBLEMS if bound.problems else DONE


def run_restore(options: argparse.Namespace) -> int:
    """``cardmaker restore``: every file or none."""
    from cardmaker.jobs.restoring import restore

    written, same = restore(options.card, options.out, force=options.force)
    say = _sayer(options)
    for target in written:
        say(str(target))
    for target in same:
        say(f"{target}  (was there already, just the same)")
    return DONE


def _targets(paths: Sequence[Path], out: Path, layout: str) -> list[Path]:
    """Where each card is written. Raises WrongUsage when two would share a file."""
    if out.suffix.lower() == ".pdf" and not out.is_dir():
        if len(paths) > 1:
            raise WrongUsage(f"{out} is one file, but {len(paths)} cards were asked for: name a folder.")
        return [out]
    targets = [out / f"{path.stem}-{layout}.pdf" for path in paths]
    for target in targets:
        if targets.count(target) > 1:
            raise WrongUsage(f"Two of the patterns would be written to {target}: give them different file names.")
    return targets


def _deliver(card: WrittenCard, target: Path) -> None:
    from cardmaker.files import write_many

    write_many({target: card.pdf} | ({target.with_suffix(".png"): card.png} if card.png is not None else {}))


def run_class(options: argparse.Namespace) -> int:
    """``cardmaker class``: handouts, kit tags, the teacher's sheet and the shopping sheet, all of them or none."""
    from cardmaker.files import write_many
    from cardmaker.jobs import class_making

    path = lookup.find("class", options.school_class)
    plan = class_making.plan_class(class_making.load_class(path))
    targets = _class_targets(path, options)
    sheets = class_making.class_sheets(plan, class_making.ClassRequest(options.paper, options.units, options.quiet))
    write_many({target: class_making.class_pdf(plan, sheets, kinds) for target, kinds in targets.items()})
    say = _sayer(options)
    for target, kinds in targets.items():
        pages = sum(len(sheets.pages[kind]) for kind in kinds)
        say(f"{target}  ({'1 page' if pages == 1 else f'{pages} pages'})")
    for told in sheets.left_out:
        say(f"  left out for want of room: {told}")
    return DONE


def _class_targets(path: Path, options: argparse.Namespace) -> dict[Path, tuple[SheetKind, ...]]:
    """The files to write, with the kinds of sheets that go into each. Raises WrongUsage."""
    from cardmaker.jobs.class_making import SHEETS

    out: Path = options.out
    is_file = out.suffix.lower() == ".pdf" and not out.is_dir()
    if is_file and not options.one:
        raise WrongUsage(f"{out} is one file, but a class makes four: name a folder, or say --one.")
    if options.one:
        return {out if is_file else out / f"{path.stem}-class.pdf": SHEETS}
    return {out / f"{path.stem}-{kind}.pdf": (kind,) for kind in SHEETS}


def run_plan(options: argparse.Namespace) -> int:
    """``cardmaker plan``."""
    from cardmaker.wording.plan_json import plan_json
    from cardmaker.wording.report import plan_text

    pattern = loading.load_pattern(lookup.find("pattern", options.pattern))
    bench = plan_making.load_equipment(options.loom, options.warp, options.pegs, any_pegs=True)
    plan = plan_making.plan_for(pattern, bench)
    if options.json:
        import json

        print(json.dumps(plan_json(plan), ensure_ascii=False, indent=2))
    else:
        print(plan_text(plan, options.units or "metric"), end="")
    return DONE


def run_check(options: argparse.Namespace) -> int:
    """``cardmaker check``: silence is praise, so it says how many files are right."""
    from cardmaker.jobs import checking

    files: list[Path] = []
    for path in options.files:
        inside = sorted(file for file in path.rglob("*") if file.suffix in lookup.ENDINGS) if path.is_dir() else [path]
        if not inside:
            raise WrongUsage(f"There is no .yaml file in the folder {path}")
        files += inside
    problems = [problem for file in files for problem in checking.problems_of_file(file)]
    for problem in problems:
        complain(str(problem))
    if problems:
        return PROBLEMS
    print("1 file, no problems" if len(files) == 1 else f"{len(files)} files, no problems")
    return DONE


def run_new(options: argparse.Namespace) -> int:
    """``cardmaker new``: never over a file that is there."""
    if options.ask and options.stripes:
        raise WrongUsage("--ask asks for the stripes as well: leave --stripes out.")
    if options.ask:
        from cardmaker.jobs.asking import ask_for_pattern

        ask_for_pattern(options.name, options.out)
        return DONE
    if options.name is None:
        raise WrongUsage('A new pattern needs a title, such as "Harbour Rails"; or --ask, to be asked for everything.')
    from cardmaker.editing.new_pattern import DEFAULT_STRIPES, new_pattern_text, parsed_stripes, stem_of
    from cardmaker.files import write_whole
    from cardmaker.reading.pattern_file import parse_pattern
    from cardmaker.reading.source_text import sign_in_words, unwelcome_sign

    try:
        stripes = parsed_stripes(options.stripes or DEFAULT_STRIPES)
    except ValueError as no:
        raise WrongUsage(f"--stripes: {no}") from None
    if sign := unwelcome_sign(options.name + (options.stripes or "")):
        raise WrongUsage(f"The sign {sign_in_words(sign)} cannot stand in a pattern file. Leave it out.")
    stem = stem_of(options.name)
    if len(options.name) > LONGEST_TITLE or len(options.name.splitlines()) > 1:
        raise WrongUsage(f"A title is one line of at most {LONGEST_TITLE} letters.")
    if not stem:
        raise WrongUsage(f"'{options.name}' has no letter or digit to name a file by.")
    target = options.out / f"{stem}.yaml"
    if target.exists():
        raise WrongUsage(f"{target} is there already. Choose another name, or move it away.")
    text = new_pattern_text(options.name, stripes).encode()
    parse_pattern(text, str(target), stem)
    write_whole(target, text)
    _say(str(target))
    _say(f"Next: change what you like in it, then run: cardmaker card {target}")
    return DONE


def run_resize(options: argparse.Namespace) -> int:
    """``cardmaker resize``: the whole file to standard output or a new file, the sizes near by to standard error."""
    from cardmaker.files import write_whole

    target: Path | None = options.out
    if options.ends is not None and not 1 <= options.ends <= MOST_ENDS:
        raise WrongUsage(f"--ends: a tape has 1 to {MOST_ENDS} ends.")
    if target is not None and target.suffix not in lookup.ENDINGS:
        raise WrongUsage(f"{target} is no pattern file: let its name end with .yaml.")
    if target is not None and target.exists():
        raise WrongUsage(f"{target} is there already. Choose another name, or move it away.")
    pattern = loading.load_pattern(lookup.find("pattern", options.pattern))
    made = resizing.resize_pattern(pattern, ends=options.ends, width_mm=options.width, yarn=options.yarn)
    for line in made.told:
        complain(on_one_line(line))
    if target is None:
        print(made.text.decode(), end="")
        return DONE
    write_whole(target, made.text)
    _say(str(target))
    _say(f"Next: look at what is said at its head, then run: cardmaker card {target}")
    return DONE


def run_list(options: argparse.Namespace) -> int:
    """``cardmaker list``."""
    from cardmaker.jobs import at_hand_list

    for line in at_hand_list.list_of_files():
        _say(line)
    return DONE
