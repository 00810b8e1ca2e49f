"""The arguments of every command, and what they say when they are wrong."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Final, Literal

from cardmaker import __version__
from cardmaker.cli import commands
from cardmaker.cli.usage_parser import UsageParser
from cardmaker.model.units import length_mm, parse_number

_NAMES: Final = (
    "A pattern, loom, yarn, pegs, card layout, class or binder is named by its file's stem (three-paths, broad-paddle, "
    "record), or by a path, which ends in .yaml or has a slash in it. "
    "Your own files in patterns/ and layouts/ come before those that are shipped, and cardmaker.yaml says what you "
    "use unless you say otherwise."
)


def command_parser(command: str) -> argparse.ArgumentParser:
    """The parser of all commands, or of the one that is asked for: each takes a millisecond to make."""
    parser = UsageParser(
        prog="cardmaker",
        description="One-page pattern cards for narrow warp-faced tape, reckoned from a short text file.",
        epilog=f"{_NAMES} Try: cardmaker card three-paths",
    )
    parser.add_argument("--version", action="version", version=f"cardmaker {__version__}")
    parser.set_defaults(run=commands.run_nothing, quiet=False)
    subparsers = parser.add_subparsers(title="commands", metavar="COMMAND")
    for name in [command] if command in _COMMANDS else _COMMANDS:
        run, add_options, description = _COMMANDS[name]
        own = subparsers.add_parser(
            name, help=description[0].lower() + description[1:].rstrip("."), description=description, epilog=_NAMES
        )
        own.set_defaults(run=run, quiet=False)
        add_options(own)
    return parser


# The options of each command


def _add_card(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("patterns", nargs="+", metavar="PATTERN", help="what to make cards of")
    parser.add_argument(
        "--layout", help="the card layout (record); several, as in handout,record, for a card of each; or all"
    )
    parser.add_argument("--paper", help="one of the layout's papers (its first)")
    parser.add_argument("--out", type=Path, help="a folder, or one .pdf for a single card (out)")
    _add_view(parser)
    parser.add_argument(
        "--back", action="store_true", help="a second page for the other side of the sheet, with what found no room"
    )
    parser.add_argument("--preview", action="store_true", help="write a PNG beside each PDF as well")
    parser.add_argument(
        "--supersedes", type=Path, metavar="OLD.pdf", help="a card that this one replaces: it says what has changed"
    )
    _add_choices_of_plan(parser)
    _add_at_hand(parser)
    _add_places(parser)
    _add_open(parser)
    parser.add_argument(
        "--watch", action="store_true", help="make it again whenever a file that it is made from is saved, until Ctrl-C"
    )
    _add_quiet(parser)


def _add_binder(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "patterns", nargs="+", metavar="PATTERN", help="folders of patterns, patterns, or one binder file"
    )
    parser.add_argument("--out", type=Path, help="the file to write (out/binder.pdf)")
    parser.add_argument("--title", help="what stands on the first page (A book of tapes)")
    parser.add_argument("--by", choices=("use", "width", "ends", "grade"), help="sections by one of these (none)")
    parser.add_argument("--layout", help="the card layout (record)")
    parser.add_argument("--paper", help="one of the layout's papers (its first)")
    parser.add_argument("--loom", help="the loom of every card (the smallest at hand that holds the pattern)")
    parser.add_argument(
        "--prefer", metavar="LOOM", help="or the loom of every card that it holds (as cardmaker.yaml says)"
    )
    _add_at_hand(parser)
    _add_places(parser)
    _add_view(parser)
    parser.add_argument("--units", choices=("metric", "us"), help="which to print first; the other follows")
    parser.add_argument("--duplex", action="store_true", help="for both sides: every card begins on a right-hand page")
    parser.add_argument("--strict", action="store_true", help="make nothing when one pattern cannot be made")
    parser.add_argument(
        "--since",
        type=Path,
        metavar="OLD.pdf",
        help="the binder as it was: print new and changed leaves only, and a slip that says where they go",
    )
    parser.add_argument("--jobs", type=_whole_number, default=0, help="how many processes draw cards (one a core)")
    _add_open(parser)
    _add_quiet(parser)


def _add_sheet(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("patterns", nargs="+", metavar="PATTERN", help="the tapes of the page, in their order")
    parser.add_argument("--to", metavar="SHEET", default="reference", help="what the page is for: choose (reference)")
    parser.add_argument("--paper", help="one of the sheet's papers (its first)")
    parser.add_argument("--title", default="", help="what stands at its head (as the sheet's file says)")
    parser.add_argument("--out", type=Path, help="a folder, or one .pdf (out)")
    parser.add_argument("--loom", help="the loom of all tapes (the smallest at hand that holds each)")
    _add_at_hand(parser)
    parser.add_argument(
        "--warp",
        type=_length_within("a warp has some length", "WARP"),
        metavar="LENGTH",
        help='a warp that is given, such as "3 yd" or "2.5 m"',
    )
    _add_view(parser)
    parser.add_argument("--units", choices=("metric", "us"), help="which to print first; the other follows")
    _add_open(parser)
    _add_quiet(parser)


def _add_event(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("event", metavar="EVENT", help="the event: the stem of its file, or a path")
    parser.add_argument("--paper", choices=("letter", "a4"), help="what to print on (as the event file says)")
    parser.add_argument("--units", choices=("metric", "us"), help="which to print first (as the event file says)")
    _add_at_hand(parser)
    parser.add_argument("--out", type=Path, help="a folder (out)")
    _add_open(parser)
    _add_quiet(parser)


def _add_choose(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "patterns", nargs="*", metavar="PATTERN", help="patterns or folders of them to choose among (all of yours)"
    )
    parser.add_argument("--use", help="what the tape is for, such as bookmark")
    parser.add_argument("--ends", type=_ends_range, metavar="RANGE", help="how many ends it has, such as 9-31")
    parser.add_argument("--colours", help="the only colours that it may have, such as blue,white")
    parser.add_argument("--loom", help="the loom that it goes on (the smallest at hand that holds each)")
    _add_at_hand(parser)
    parser.add_argument(
        "--time", type=_time_at_most, metavar="TIME", help='how long winding, dressing and weaving may take: "2 h"'
    )
    parser.add_argument(
        "--yarn",
        action="append",
        help='a yarn that is at hand, such as "40 g red linen 20/2", or the name of its file; once for each yarn',
    )
    parser.add_argument(
        "--drawer", action="store_true", help="all yarns at hand whose files say how much there is (at_hand)"
    )
    parser.add_argument("--why", action="store_true", help="tell of every tape that is left out why it is")
    parser.add_argument("--list", dest="list_only", action="store_true", help="make no page: tell it in the terminal")
    parser.add_argument("--paper", help="one of the sheet's papers (its first)")
    parser.add_argument("--title", default="", help="what stands at the head of the page")
    parser.add_argument("--out", type=Path, help="a folder, or one .pdf (out)")
    _add_view(parser)
    parser.add_argument("--units", choices=("metric", "us"), help="which to print first; the other follows")
    _add_open(parser)
    _add_quiet(parser)


def _add_class(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("school_class", metavar="CLASS", help="the class: the stem of its file, or a path")
    parser.add_argument("--paper", choices=("letter", "a4"), help="what to print on (as the class file says)")
    parser.add_argument("--units", choices=("metric", "us"), help="which to print first (as the class file says)")
    parser.add_argument(
        "--backs", action="store_true", help="a back behind every handout, printed on both sides over the long edge"
    )
    _add_at_hand(parser)
    parser.add_argument(
        "--stages", action="store_true", help="slips to wind, dress and weave by, one after the other, for handouts"
    )
    parser.add_argument("--one", dest="in_one", action="store_true", help="all sheets in one file")
    parser.add_argument("--out", type=Path, help="a folder, or one .pdf with --one (out)")
    _add_open(parser)
    _add_quiet(parser)


def _add_plan(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("pattern", metavar="PATTERN", help="what to reckon")
    parser.add_argument("--json", action="store_true", help="for programs: millimetres, grams, counts")
    _add_places(parser)
    _add_view(parser)
    _add_choices_of_plan(parser)


def _add_rescue(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("pattern", metavar="PATTERN", help="what is on the loom; without an end, the list of troubles")
    parser.add_argument("--end", type=_count, metavar="N", help="the end that broke, counted from an edge of the warp")
    parser.add_argument("--stripe", type=_count, metavar="N", help="or its stripe, counted from that edge")
    parser.add_argument("--in-stripe", type=_count, metavar="N", help="and its count in the stripe, from that edge too")
    parser.add_argument(
        "--edge", choices=("left", "right"), help="from which edge (where end 1 is: left, for a left hand right)"
    )
    so_far = parser.add_mutually_exclusive_group()
    so_far.add_argument("--woven", type=_share, metavar="SHARE", help="how much of the tape is woven, such as 1/2 (0)")
    so_far.add_argument(
        "--turns-left", type=_amount, metavar="TURNS", help="or how many turns of warp are still on the beam"
    )
    parser.add_argument("--json", action="store_true", help="for programs: millimetres, counts")
    parser.add_argument("--out", type=Path, metavar="FILE.pdf", help="a slip of the end to write (the terminal)")
    parser.add_argument("--paper", help="one of the slip's papers (its first)")
    _add_places(parser)
    _add_view(parser)
    _add_choices_of_plan(parser)


def _add_check(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE", help="files of any kind, or folders of them")


def _add_new(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name", nargs="?", metavar="NAME", help='its title, such as "Harbour Rails"')
    parser.add_argument("--ask", action="store_true", help="ask for title, yarns, stripes and loom, one by one")
    parser.add_argument(
        "--stripes",
        metavar="STRIPES",
        help='from left to right, such as "2 blue, 9 white, 2 blue"; or a file of them, a table that a spreadsheet has '
        "saved as CSV, or - for standard input",
    )
    parser.add_argument(
        "--form", type=Path, metavar="FILLED.pdf", help="a form that cardmaker form has made and somebody has filled in"
    )
    parser.add_argument(
        "--kind",
        choices=("pattern", "loom", "yarn", "class"),
        default="pattern",
        help="what to make; a loom, yarn or class is asked for",
    )
    parser.add_argument("--out", type=Path, help="the folder to write into (patterns, of your own folder)")


def _add_measured(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("pattern", metavar="PATTERN", help="what was woven; without any option all is asked for")
    parser.add_argument("--loom", help="the loom that it was woven on (as cardmaker.yaml says)")
    parser.add_argument("--date", help="when it was measured, such as 2026")
    parser.add_argument("--warp", metavar="LENGTH", help="the warp as it was wound")
    parser.add_argument("--tape", metavar="LENGTH", help="the finished tape, washed and rested")
    parser.add_argument("--width", metavar="LENGTH", help="how wide it is")
    parser.add_argument("--picks", metavar="NUMBER", help="picks in an inch, counted before washing")
    parser.add_argument("--leftover", metavar="LENGTH", help="warp that could not be woven, in front and at the back")
    parser.add_argument("--fringes", metavar="LENGTH", help="warp that was left bare on purpose, all fringes together")
    parser.add_argument("--note", help="anything else worth keeping")
    parser.add_argument("--press-weight", metavar="WEIGHT", help="what hung on the warp (as the loom's file says)")
    parser.add_argument("--press-dip", metavar="LENGTH", help="how far it dipped the warp while that wove well")
    parser.add_argument(
        "--also",
        nargs="+",
        choices=("yarn", "loom"),
        help="keep what holds for all: in the yarns' files, in the loom's",
    )
    _add_quiet(parser)


def _add_list(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "kind",
        nargs="?",
        metavar="KIND",
        help="one kind alone, such as yarns or looms",
    )


def _add_form(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--paper", choices=("letter", "a4"), help="what to print on (as cardmaker.yaml says)")
    parser.add_argument("--units", choices=("metric", "us"), help="for its examples (as cardmaker.yaml says)")
    parser.add_argument("--out", type=Path, help="a folder, or the .pdf to write (out/tape-form.pdf)")
    _add_open(parser)
    _add_quiet(parser)


def _add_resize(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("pattern", metavar="PATTERN", help="what to make over")
    parser.add_argument("--ends", type=int, help="how many ends it should have")
    parser.add_argument(
        "--width",
        type=_length_within("a tape has some width", "TAPE_WIDTH"),
        metavar="LENGTH",
        help='how wide it should be, such as "10 mm"',
    )
    parser.add_argument(
        "--yarn",
        help='another yarn, such as "cotton 8/2", or the name of its file; at the same width, unless --ends or --width '
        "says otherwise",
    )
    parser.add_argument("--loom", help="a loom that it is to go on: the nearest size that it holds")
    parser.add_argument("--out", type=Path, metavar="FILE", help="a new file to write (the terminal)")


def _add_restore(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "card",
        type=Path,
        metavar="CARD",
        help="a card or binder that this program has made (PDF), or a scan or photograph of a card's code (PNG, JPEG)",
    )
    parser.add_argument(
        "--out", type=Path, metavar="FOLDER", help="another folder, laid out as your own (your own folder)"
    )
    parser.add_argument("--force", action="store_true", help="replace files of the same names that differ")
    _add_quiet(parser)


# Options that several commands have


def _add_view(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--hand", choices=("right", "left"), help="for which hand (right)")
    parser.add_argument(
        "--from",
        dest="side",
        choices=("front", "behind", "loom"),
        help="from which side the heddle is threaded: loom is as the loom says (as cardmaker.yaml or the loom says)",
    )


def _add_at_hand(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--looms",
        nargs="+",
        metavar="LOOM",
        help="the looms that you have, to choose from and to compare (as cardmaker.yaml says, or all at hand)",
    )


def _add_places(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--places",
        nargs="+",
        metavar="PEGS",
        help="the places to wind to choose from (as cardmaker.yaml says, or all at hand)",
    )


def _add_choices_of_plan(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--loom", help="the loom to thread, or any (the smallest at hand that holds the pattern)")
    parser.add_argument("--pegs", help="where to wind the warp (the place at hand that suits it best)")
    parser.add_argument(
        "--warp",
        type=_length_within("a warp has some length", "WARP"),
        metavar="LENGTH",
        help='a warp that is given, such as "3 yd" or "2.5 m"',
    )
    parser.add_argument("--units", choices=("metric", "us"), help="which to print first; the other follows")


def _add_open(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--open", action="store_true", help="open what is made, as if you had clicked it twice")


def _add_quiet(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--quiet", action="store_true", help="say nothing but problems")


def _whole_number(text: str) -> int:
    if not text.isascii() or not text.isdecimal() or not 0 < int(text[:4]) <= 256:
        raise argparse.ArgumentTypeError("write a number from 1 to 256")
    return int(text)


def _count(text: str) -> int:
    """A count of ends or stripes; the pattern says how many there are."""
    if not text.isascii() or not text.isdecimal() or len(text) > 4 or not int(text):
        raise argparse.ArgumentTypeError(f"'{text}' is no count: write a whole number from 1")
    return int(text)


def _ends_range(text: str) -> tuple[int, int]:
    from cardmaker.reading.choice_text import ends_range

    try:
        return ends_range(text)
    except ValueError as error:
        raise argparse.ArgumentTypeError(str(error)) from None


def _time_at_most(text: str) -> Fraction:
    from cardmaker.reading.choice_text import time_at_most

    try:
        return time_at_most(text)
    except ValueError as error:
        raise argparse.ArgumentTypeError(str(error)) from None


def _amount(text: str) -> Fraction:
    try:
        return parse_number(text)
    except ValueError as error:
        raise argparse.ArgumentTypeError(f"{error}; write it as in 6 or 6 1/2") from None


def _share(text: str) -> Fraction:
    """A share from nothing to all: ``1/2``, ``0.5`` or ``50 %``."""
    try:
        share = parse_number(text.rstrip().removesuffix("%")) / (100 if text.rstrip().endswith("%") else 1)
    except ValueError as error:
        raise argparse.ArgumentTypeError(f"{error}; write a share from 0 to 1, such as 1/2, or 50 %") from None
    if share > 1:
        raise argparse.ArgumentTypeError(f"'{text}' is more than all of it; write a share from 0 to 1, such as 1/2")
    return share


def _length_refusal(text: str, otherwise: str) -> str:
    """What is wrong with a length; one without a unit may have lost it to the space before it."""
    if "kilometre" in otherwise:
        return otherwise
    if text.replace(".", "").isdecimal():
        return f"'{text}' has no unit. Write the two as one word or in quotes, as in {text}yd or \"{text} m\"."
    from cardmaker.reading.quantity_words import length_sentence

    return " ".join(length_sentence(text))


def _length_within(refusal: str, limit: Literal["TAPE_WIDTH", "WARP"]) -> Callable[[str], Fraction]:
    """A reader of lengths that answers nothing at all with ``refusal``, and holds to the limit that files have."""

    def read(text: str) -> Fraction:
        try:
            length = length_mm(text)
        except ValueError as error:
            raise argparse.ArgumentTypeError(_length_refusal(text, str(error))) from None
        if not length:
            raise argparse.ArgumentTypeError(refusal)
        from cardmaker.reading import limits

        bounds: limits.Limit = getattr(limits, limit)
        if message := bounds.message(f"'{text}'", length):
            raise argparse.ArgumentTypeError(message.rstrip("."))
        return length

    return read


_Command = tuple[Callable[[argparse.Namespace], int], Callable[[argparse.ArgumentParser], None], str]
_COMMANDS: Final[dict[str, _Command]] = {
    "card": (commands.run_card, _add_card, "Make one-page cards."),
    "binder": (commands.run_binder, _add_binder, "Put many cards into one PDF, with contents and indexes."),
    "sheet": (commands.run_sheet, _add_sheet, "Put several tapes on one page, for the bench or to choose from."),
    "choose": (
        commands.run_choose,
        _add_choose,
        "Find the tapes that suit what you ask, or your yarn, and put them on one page.",
    ),
    "class": (commands.run_class, _add_class, "Make what a teacher prints for a class."),
    "event": (commands.run_event, _add_event, "Make what a day in public takes: cards, labels, answers, a list."),
    "plan": (commands.run_plan, _add_plan, "Tell the numbers in the terminal."),
    "rescue": (
        commands.run_rescue,
        _add_rescue,
        "Tell where an end lies that broke, and how to put in a new one.",
    ),
    "check": (commands.run_check, _add_check, "Tell every problem of every file, with line and column."),
    "begin": (commands.run_begin, lambda _: None, "Make this folder yours: your loom, units, paper, a first pattern."),
    "new": (commands.run_new, _add_new, "Write a commented pattern, loom, yarn or class file to start from."),
    "measured": (
        commands.run_measured,
        _add_measured,
        "Keep what came off the loom, so that the next cards reckon with it.",
    ),
    "form": (commands.run_form, _add_form, "Make a form to record a tape, on a screen or with a pencil."),
    "resize": (
        commands.run_resize,
        _add_resize,
        "Make a pattern over: wider, narrower, in another yarn, for a loom.",
    ),
    "list": (
        commands.run_list,
        _add_list,
        "Tell the looms, yarns, pegs, card layouts, classes, binders and patterns at hand.",
    ),
    "restore": (commands.run_restore, _add_restore, "Write the files that a card or binder was made from."),
}
