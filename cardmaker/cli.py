"""The command line: arguments in, exit status out; everything else is done in the workshop."""

from __future__ import annotations

import argparse
import codecs
import gc
import signal
import sys
import unicodedata
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

from cardmaker import __version__, workshop
from cardmaker.problems import ProblemsFound, on_one_line
from cardmaker.reckoning.stripes import MOST_ENDS
from cardmaker.streams import complain, finish_streams, hush, open_streams
from cardmaker.units import length_mm
from cardmaker.workshop import WrongUsage

if TYPE_CHECKING:
    from cardmaker.card_making import Made
    from cardmaker.classroom import SheetKind

LONGEST_TITLE = 80
_OFTEN = 5_000  # new objects between two looks for garbage, where a thousand cards are drawn: memory before time
DONE, PROBLEMS, USAGE, INTERRUPTED = 0, 1, 2, 130

_PLAIN = str.maketrans({"⁄": "/", "’": "'", "·": "-", "×": "x", "–": "-", "…": "..."})
_NAMES = (
    "A pattern, loom, pegs, card layout, class or binder is named by its file's stem (three-paths, broad-paddle, "
    "record) or a path. "
    "Your own files in patterns/ and layouts/ come before those that are shipped."
)


def _spelled(no: UnicodeError) -> tuple[str, int]:
    """What a terminal that lacks a sign gets instead: fractions and quotes in plain letters, else a question mark."""
    if not isinstance(no, UnicodeEncodeError):
        raise no
    found = unicodedata.normalize("NFKD", no.object[no.start : no.end]).translate(_PLAIN)
    return "".join(sign if sign.isascii() else "?" for sign in found), no.end


codecs.register_error("spelled", _spelled)


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs one command.

    Returns the exit status: 0 done, 1 problems in files, 2 wrong usage, 130 interrupted, 143 told to end.
    """
    open_streams("spelled")
    said = sys.argv[1:] if arguments is None else [*arguments]
    try:
        with _told_to_end() as stops:
            return _finished(_run(said, stops))
    except SystemExit as end:  # the parser has told its help, or what is wrong with the arguments
        raise SystemExit(_finished(end.code if isinstance(end.code, int) else USAGE)) from None
    except (KeyboardInterrupt, _Stopped) as stop:
        complain("cardmaker: interrupted; no file is left half written")
        return stop.status if isinstance(stop, _Stopped) else INTERRUPTED


def _finished(status: int) -> int:
    """The exit status, once what was printed is on its way."""
    if (no := finish_streams()) is None:
        return status
    complain(f"cardmaker: what it said could not be written: {no.strerror}")
    return status or PROBLEMS


class _Stopped(BaseException):
    """SIGINT or SIGTERM came: what was begun is taken back.

    Why not KeyboardInterrupt: Python remembers one that passed through code made at run time, as classes are, and ends
    the process by the signal after all, whatever the exit status.
    """

    def __init__(self, number: int) -> None:
        super().__init__()
        self.status = 128 + number


class _Stops:
    """The signals that came. Some libraries make another error of ours on its way, so the first is kept."""

    def __init__(self) -> None:
        self.first: _Stopped | None = None

    def hear(self, number: int, _: object) -> NoReturn:
        self.first = self.first or _Stopped(number)
        raise self.first


def _in_main_thread() -> bool:
    """Where nothing has loaded the library of threads, there is but one."""
    threads = sys.modules.get("threading")
    return threads is None or threads.current_thread() is threads.main_thread()


@contextmanager
def _told_to_end() -> Iterator[_Stops]:
    """SIGINT and SIGTERM unwind what was begun while the context lasts. Signals come to the main thread only."""
    stops = _Stops()
    if not _in_main_thread():
        yield stops
        return
    heard = {number: signal.getsignal(number) for number in (signal.SIGINT, signal.SIGTERM)}
    before = {number: how for number, how in heard.items() if how is not signal.SIG_IGN}  # `nohup` and `&` mean it
    for number in before:
        signal.signal(number, stops.hear)
    try:
        yield stops
    finally:
        for number, how in before.items():
            signal.signal(number, how)


def _run(said: Sequence[str], stops: _Stops) -> int:
    try:
        options = _parser(said[0] if said else "").parse_args(said)
        run: Callable[[argparse.Namespace], int] = options.run
        try:
            return run(options)
        except BaseException:
            if stops.first is not None:
                raise stops.first from None
            raise
    except ProblemsFound as found:
        _tell(found)
        return PROBLEMS
    except WrongUsage as wrong:
        complain(on_one_line(f"cardmaker: {wrong}"))
        return USAGE
    except BrokenPipeError:  # the reader of our output has left, as `head` does
        hush(sys.stdout)
        return DONE
    except OSError as no:
        complain(on_one_line(f"cardmaker: {no if no.filename is None else f'{no.filename}: {no.strerror}'}"))
        return PROBLEMS


def _say(line: str) -> None:
    """One line, whatever the names in it hold."""
    print(on_one_line(line))


def _tell(found: ProblemsFound) -> None:
    for problem in found.problems:
        complain(str(problem))


class _Parser(argparse.ArgumentParser):
    """Repeats a wrong argument on one line."""

    def error(self, message: str) -> NoReturn:
        super().error(on_one_line(message))

    def _get_values(self, action: argparse.Action, arg_strings: list[str]) -> Any:
        """The value of an option. ``--out=--`` would be an empty list, where one word is promised."""
        if action.option_strings and arg_strings == ["--"]:
            self.error(f"argument {action.option_strings[0]}: '--' is no value")
        return super()._get_values(action, arg_strings)


def _parser(asked: str) -> argparse.ArgumentParser:
    """The parser of all commands, or of the one that is asked for: each takes a millisecond to make."""
    parser = _Parser(
        prog="cardmaker",
        description="One-page pattern cards for narrow warp-faced tape, reckoned from a short text file.",
        epilog=f"{_NAMES} Try: cardmaker card three-paths",
    )
    parser.add_argument("--version", action="version", version=f"cardmaker {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)
    adders = {
        "card": _add_card,
        "binder": _add_binder,
        "class": _add_class,
        "plan": _add_plan,
        "check": _add_check,
        "new": _add_new,
        "resize": _add_resize,
        "list": _add_list,
        "restore": _add_restore,
    }
    for add in [adders[asked]] if asked in adders else adders.values():
        add(commands)
    return parser


def _command(commands: Any, name: str, run: Callable[[argparse.Namespace], int], told: str) -> argparse.ArgumentParser:
    parser: argparse.ArgumentParser = commands.add_parser(
        name, help=told[0].lower() + told[1:].rstrip("."), description=told, epilog=_NAMES
    )
    parser.set_defaults(run=run)
    return parser


def _add_card(commands: Any) -> None:
    parser = _command(commands, "card", run_card, "Make one-page cards.")
    parser.add_argument("patterns", nargs="+", metavar="PATTERN", help="what to make cards of")
    parser.add_argument("--layout", default="record", help="the card layout (record)")
    parser.add_argument("--paper", help="one of the layout's papers (its first)")
    parser.add_argument("--out", type=Path, default=Path("out"), help="a folder, or one .pdf for a single card (out)")
    parser.add_argument("--hand", choices=("right", "left"), default="right", help="for which hand (right)")
    parser.add_argument(
        "--from",
        dest="side",
        choices=("front", "behind"),
        help="from which side the heddle is threaded (as the loom says)",
    )
    parser.add_argument("--preview", action="store_true", help="write a PNG beside each PDF as well")
    parser.add_argument(
        "--supersedes", type=Path, metavar="OLD.pdf", help="a card that this one replaces: it says what has changed"
    )
    _add_bench_options(parser)
    _add_quiet(parser)


def _add_quiet(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--quiet", action="store_true", help="say nothing but problems")


def _add_binder(commands: Any) -> None:
    parser = _command(commands, "binder", run_binder, "Put many cards into one PDF, with contents and indexes.")
    parser.add_argument(
        "patterns", nargs="+", metavar="PATTERN", help="folders of patterns, patterns, or one binder file"
    )
    parser.add_argument("--out", type=Path, default=Path("out/binder.pdf"), help="the file to write (out/binder.pdf)")
    parser.add_argument("--title", help="what stands on the first page (A book of tapes)")
    parser.add_argument("--by", choices=("use", "width", "ends", "grade"), help="sections by one of these (none)")
    parser.add_argument("--layout", help="the card layout (record)")
    parser.add_argument("--paper", help="one of the layout's papers (its first)")
    parser.add_argument("--loom", help="the loom of every card (the smallest at hand that holds the pattern)")
    parser.add_argument("--units", choices=("metric", "us"), help="which to print first; the other follows")
    parser.add_argument("--duplex", action="store_true", help="for both sides: every card begins on a right-hand page")
    parser.add_argument("--strict", action="store_true", help="make nothing when one pattern cannot be made")
    parser.add_argument("--jobs", type=_whole_number, default=0, help="how many processes draw cards (one a core)")
    _add_quiet(parser)


def _whole_number(text: str) -> int:
    if not text.isascii() or not text.isdecimal() or not 0 < int(text[:4]) <= 256:
        raise argparse.ArgumentTypeError("write a number from 1 to 256")
    return int(text)


def _add_restore(commands: Any) -> None:
    parser = _command(commands, "restore", run_restore, "Write the files that a card or binder was made from.")
    parser.add_argument("card", type=Path, metavar="CARD.pdf", help="a card or binder that this program has made")
    parser.add_argument("--out", type=Path, default=Path("out"), help="the folder to write into (out)")
    parser.add_argument("--force", action="store_true", help="replace files of the same names that differ")
    _add_quiet(parser)


def _add_class(commands: Any) -> None:
    parser = _command(commands, "class", run_class, "Make what a teacher prints for a class.")
    parser.add_argument("school_class", metavar="CLASS", help="the class: the stem of its file, or a path")
    parser.add_argument("--paper", choices=("letter", "a4"), help="what to print on (as the class file says)")
    parser.add_argument("--units", choices=("metric", "us"), help="which to print first (as the class file says)")
    parser.add_argument("--one", action="store_true", help="all sheets in one file")
    parser.add_argument("--out", type=Path, default=Path("out"), help="a folder, or one .pdf with --one (out)")
    _add_quiet(parser)


def _add_plan(commands: Any) -> None:
    parser = _command(commands, "plan", run_plan, "Tell the numbers in the terminal.")
    parser.add_argument("pattern", metavar="PATTERN", help="what to reckon")
    parser.add_argument("--json", action="store_true", help="for programs: millimetres, grams, counts")
    _add_bench_options(parser)


def _add_bench_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--loom", help="the loom to thread (the smallest at hand that holds the pattern)")
    parser.add_argument("--pegs", help="where to wind the warp (the place at hand that suits it best)")
    parser.add_argument(
        "--warp",
        type=_more_than_nothing("a warp has some length"),
        metavar="LENGTH",
        help='a warp that is given, such as "3 yd" or "2.5 m"',
    )
    parser.add_argument("--units", choices=("metric", "us"), help="which to print first; the other follows")


def _more_than_nothing(refusal: str) -> Callable[[str], Fraction]:
    """A reader of lengths that answers nothing at all with ``refusal``."""

    def read(text: str) -> Fraction:
        try:
            length = length_mm(text)
        except ValueError as no:
            raise argparse.ArgumentTypeError(str(no)) from None
        if not length:
            raise argparse.ArgumentTypeError(refusal)
        return length

    return read


def _add_check(commands: Any) -> None:
    parser = _command(commands, "check", run_check, "Tell every problem of every file, with line and column.")
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE", help="files of any kind, or folders of them")


def _add_new(commands: Any) -> None:
    parser = _command(commands, "new", run_new, "Write a commented pattern file to start from.")
    parser.add_argument("name", nargs="?", metavar="NAME", help='its title, such as "Harbour Rails"')
    parser.add_argument("--ask", action="store_true", help="ask for title, yarns, stripes and loom, one by one")
    parser.add_argument("--stripes", metavar="STRIPES", help='from left to right, such as "2 blue, 9 white, 2 blue"')
    parser.add_argument("--out", type=Path, default=Path("patterns"), help="the folder to write into (patterns)")


def _add_resize(commands: Any) -> None:
    parser = _command(commands, "resize", run_resize, "Make a pattern over: wider, narrower, or in another yarn.")
    parser.add_argument("pattern", metavar="PATTERN", help="what to make over")
    wish = parser.add_mutually_exclusive_group(required=True)
    wish.add_argument("--ends", type=int, help="how many ends it should have")
    wish.add_argument(
        "--width",
        type=_more_than_nothing("a tape has some width"),
        metavar="LENGTH",
        help='how wide it should be, such as "10 mm"',
    )
    wish.add_argument("--yarn", help='another yarn at the same width, such as "cotton 8/2"')
    parser.add_argument("--out", type=Path, metavar="FILE", help="a new file to write (the terminal)")


def _add_list(commands: Any) -> None:
    _command(commands, "list", run_list, "Tell the looms, pegs, card layouts, classes, binders and patterns at hand.")


def run_card(options: argparse.Namespace) -> int:
    """``cardmaker card``: every pattern that can be made is made; the problems of the others are told."""
    from cardmaker.card_making import Made, Wish, cards
    from cardmaker.progress import aside, watched

    paths = [workshop.find("pattern", name) for name in options.patterns]
    layout = workshop.load_layout(workshop.find("layout", options.layout))
    paper = workshop.paper_of(layout, options.paper)
    turned = [
        word for word, wanted in (("left", options.hand == "left"), ("behind", options.side == "behind")) if wanted
    ]
    targets = _targets(paths, options.out, "-".join((layout.stem, *turned)))
    bench = workshop.make_bench(
        options.loom,
        options.warp,
        options.pegs,
        any_pegs=workshop.shows_pegs(layout),
        in_full=workshop.asks_bench(layout),
    )
    said = {"left": "for a left hand", "behind": "threaded from behind"}
    if options.supersedes and len(paths) > 1:
        raise WrongUsage("--supersedes is for one card at a time.")
    wish = Wish(
        bench, layout, paper, options.units, options.hand == "left",
        options.side and options.side == "behind", options.supersedes, options.preview,
    )  # fmt: skip
    say = _sayer(options)
    status = DONE
    with cards(wish, paths) as found:
        watched_cards = watched(found, len(paths), "drawing", quiet=options.quiet or sys.stdout.isatty())
        for target, answer in zip(targets, watched_cards, strict=True):
            if not isinstance(answer, Made):
                for problem in answer:
                    aside(str(problem))
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
    from cardmaker.bindery import Asked, make_binder
    from cardmaker.writing.files import write_whole

    asked = Asked(
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
    _sayer(options)(f"{target}  ({cards} on {bound.pages} pages)")
    return PROBLEMS if bound.problems else DONE


def run_restore(options: argparse.Namespace) -> int:
    """``cardmaker restore``: every file or none."""
    from cardmaker.giving_back import restore

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


def _deliver(card: Made, target: Path) -> None:
    from cardmaker.writing.files import write_many

    write_many({target: card.pdf} | ({target.with_suffix(".png"): card.png} if card.png is not None else {}))


def run_class(options: argparse.Namespace) -> int:
    """``cardmaker class``: handouts, kit tags, the teacher's sheet and the shopping sheet, all of them or none."""
    from cardmaker import classroom
    from cardmaker.writing.files import write_many

    path = workshop.find("class", options.school_class)
    plan = classroom.plan_class(classroom.load_class(path))
    targets = _class_targets(path, options)
    sheets = classroom.class_sheets(plan, classroom.Wishes(options.paper, options.units, options.quiet))
    write_many({target: classroom.painted(plan, sheets, kinds) for target, kinds in targets.items()})
    say = _sayer(options)
    for target, kinds in targets.items():
        pages = sum(len(sheets.pages[kind]) for kind in kinds)
        say(f"{target}  ({'1 page' if pages == 1 else f'{pages} pages'})")
    for told in sheets.left_out:
        say(f"  left out for want of room: {told}")
    return DONE


def _class_targets(path: Path, options: argparse.Namespace) -> dict[Path, tuple[SheetKind, ...]]:
    """The files to write, with the kinds of sheets that go into each. Raises WrongUsage."""
    from cardmaker.classroom import SHEETS

    out: Path = options.out
    is_file = out.suffix.lower() == ".pdf" and not out.is_dir()
    if is_file and not options.one:
        raise WrongUsage(f"{out} is one file, but a class makes four: name a folder, or say --one.")
    if options.one:
        return {out if is_file else out / f"{path.stem}-class.pdf": SHEETS}
    return {out / f"{path.stem}-{kind}.pdf": (kind,) for kind in SHEETS}


def run_plan(options: argparse.Namespace) -> int:
    """``cardmaker plan``."""
    from cardmaker.composing.telling import plan_json, plan_text

    pattern = workshop.load_pattern(workshop.find("pattern", options.pattern))
    bench = workshop.make_bench(options.loom, options.warp, options.pegs, any_pegs=True)
    plan = workshop.plan_for(pattern, bench)
    if options.json:
        import json

        print(json.dumps(plan_json(plan), ensure_ascii=False, indent=2))
    else:
        print(plan_text(plan, options.units or "metric"), end="")
    return DONE


def run_check(options: argparse.Namespace) -> int:
    """``cardmaker check``: silence is praise, so it says how many files are right."""
    files: list[Path] = []
    for path in options.files:
        inside = (
            sorted(file for file in path.rglob("*") if file.suffix in workshop.ENDINGS) if path.is_dir() else [path]
        )
        if not inside:
            raise WrongUsage(f"There is no .yaml file in the folder {path}")
        files += inside
    problems = [problem for file in files for problem in workshop.check(file)]
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
        from cardmaker.asking import ask_for_pattern

        ask_for_pattern(options.name, options.out)
        return DONE
    if options.name is None:
        raise WrongUsage('A new pattern needs a title, such as "Harbour Rails"; or --ask, to be asked for everything.')
    from cardmaker.composing.new_pattern import DEFAULT_STRIPES, new_pattern_text, parsed_stripes, stem_of
    from cardmaker.reading.pattern_file import parse_pattern
    from cardmaker.reading.source_text import spoken_sign, unwelcome_sign
    from cardmaker.reckoning.stripes import stripe_refusals
    from cardmaker.writing.files import write_whole

    try:
        stripes = parsed_stripes(options.stripes or DEFAULT_STRIPES)
    except ValueError as no:
        raise WrongUsage(f"--stripes: {no}") from None
    if sign := unwelcome_sign(options.name + (options.stripes or "")):
        raise WrongUsage(f"The sign {spoken_sign(sign)} cannot stand in a pattern file. Leave it out.")
    stem = stem_of(options.name)
    if len(options.name) > LONGEST_TITLE or len(options.name.splitlines()) > 1:
        raise WrongUsage(f"A title is one line of at most {LONGEST_TITLE} letters.")
    if not stem:
        raise WrongUsage(f"'{options.name}' has no letter or digit to name a file by.")
    target = options.out / f"{stem}.yaml"
    if target.exists():
        raise WrongUsage(f"{target} is there already. Choose another name, or move it away.")
    text = new_pattern_text(options.name, stripes).encode()
    started = parse_pattern(text, str(target), stem)
    if refusals := stripe_refusals(started.warp):
        raise WrongUsage(f"--stripes: {refusals[0]}")
    write_whole(target, text)
    _say(str(target))
    _say(f"Next: change what you like in it, then run: cardmaker card {target}")
    return DONE


def run_resize(options: argparse.Namespace) -> int:
    """``cardmaker resize``: the whole file to standard output or a new file, the sizes near by to standard error."""
    from cardmaker.writing.files import write_whole

    target: Path | None = options.out
    if options.ends is not None and not 1 <= options.ends <= MOST_ENDS:
        raise WrongUsage(f"--ends: a tape has 1 to {MOST_ENDS} ends.")
    if target is not None and target.suffix not in workshop.ENDINGS:
        raise WrongUsage(f"{target} is no pattern file: let its name end with .yaml.")
    if target is not None and target.exists():
        raise WrongUsage(f"{target} is there already. Choose another name, or move it away.")
    pattern = workshop.load_pattern(workshop.find("pattern", options.pattern))
    made = workshop.make_over(pattern, ends=options.ends, width_mm=options.width, yarn=options.yarn)
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
    for line in workshop.listing():
        _say(line)
    return DONE
