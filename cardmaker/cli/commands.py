"""The commands: the job that each asks for, what it prints, and the exit status that it ends with.

What only one command needs is loaded by it alone.
"""

from __future__ import annotations

import argparse
import gc
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final, TypeVar

from cardmaker.cli.streams import print_above_bar, print_error
from cardmaker.cli.told_errors import DONE, PROBLEMS
from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.model.problems import on_one_line

if TYPE_CHECKING:
    from cardmaker.wording.formatters import Units

_OFTEN: Final = 5_000  # new objects between two looks for garbage, where a thousand cards are drawn: memory before time

R = TypeVar("R")


def run_card(options: argparse.Namespace) -> int:
    """``cardmaker card``: once, or at every save."""
    if not options.watch:
        return _make_cards(options)
    from cardmaker.cli.watching import keep_making

    def make() -> int:
        status = _make_cards(options)
        options.open &= status != DONE  # once: what is open shows the new one, or is asked to by hand
        return status

    layouts = (options.layout or "").split(",")
    named = [options.layout, *layouts, options.loom, options.pegs, *(options.looms or ()), *(options.places or ())]
    return keep_making(make, partial(_report, options), options.patterns, [name for name in named if name])


def _make_cards(options: argparse.Namespace) -> int:
    """Every pattern that can be made is made; the problems of the others are told."""
    from cardmaker.jobs.card_making import Card, CardRequest, write_cards

    status = DONE
    made: dict[Path, str] = {}
    with write_cards(_request(CardRequest, options)) as cards:
        for target, card in cards:
            if isinstance(card, Card):
                made[target] = card.pattern
                _report(options, f"{target}  ({card.description})", *_on_back(card.on_back), *_left_out(card.left_out))
                continue
            for problem in card:
                print_above_bar(str(problem))
            status = status if all(problem.is_note for problem in card) else PROBLEMS
    if len(made) > (patterns := len({*made.values()})):
        from cardmaker.wording.layout_words import cards_written

        _report(options, cards_written(len(made), patterns))
    _open(options, [*made])
    return status


def run_binder(options: argparse.Namespace) -> int:
    """``cardmaker binder``: what can be made is made, and what cannot is named in it and told."""
    from cardmaker.jobs.binder_making import BinderRequest, write_binder
    from cardmaker.wording.phrases import plural

    gc.set_threshold(_OFTEN)
    target, binder = write_binder(_request(BinderRequest, options), options.out)
    for problem in binder.problems:
        print_error(str(problem))
    if options.since and not binder.pdf:
        _report(options, f"Nothing has changed since {options.since}: there is nothing to print.")
        return DONE
    size = f"{plural(binder.cards, 'card')} on {plural(binder.pages, 'page')}"
    if binder.change:
        size = f"{binder.change}: {plural(binder.pages, 'page')} with the slip"
    _report(options, f"{target}  ({size})", *_left_out(binder.left_out))
    _open(options, [target])
    return PROBLEMS if binder.problems else DONE


def run_sheet(options: argparse.Namespace) -> int:
    """``cardmaker sheet``."""
    from cardmaker.jobs.sheet_making import SheetRequest, write_sheet
    from cardmaker.wording.phrases import plural

    target, sheet = write_sheet(_request(SheetRequest, options), options.out)
    size = f"{plural(sheet.tapes, 'tape')} on {plural(sheet.pages, 'page')}"
    _report(options, f"{target}  ({size})", *_left_out(sheet.left_out))
    _open(options, [target])
    return DONE


def run_choose(options: argparse.Namespace) -> int:
    """``cardmaker choose``: which tapes suit, in the terminal and on a page."""
    from cardmaker.jobs.choosing import ChooseRequest, choose, lines_of_choice, write_choice
    from cardmaker.wording.phrases import plural

    choice = choose(_request(ChooseRequest, options))
    for problem in choice.problems:
        print_error(str(problem))
    _report(options, *lines_of_choice(choice, why=options.why))
    if choice.tapes and not options.list_only:
        target, sheet = write_choice(choice, options.out)
        size = f"{plural(sheet.tapes, 'tape')} on {plural(sheet.pages, 'page')}"
        _report(options, f"{target}  ({size})", *_left_out(sheet.left_out))
        _open(options, [target])
    return PROBLEMS if choice.problems or not choice.tapes else DONE


def run_class(options: argparse.Namespace) -> int:
    """``cardmaker class``: handouts, kit tags, the teacher's sheet and the shopping sheet, all of them or none."""
    from cardmaker.jobs.class_making import ClassRequest, write_class
    from cardmaker.wording.phrases import plural

    made = write_class(_request(ClassRequest, options))
    for note in made.notes:
        print_error(str(note))
    _report(options, *(f"{target}  ({plural(pages, 'page')})" for target, pages in made.pages.items()))
    for panels in made.left_out:
        _report(options, *_left_out([panels]))
    _report(options, *made.next_steps)
    _open(options, [*made.pages])
    return DONE


def run_event(options: argparse.Namespace) -> int:
    """``cardmaker event``: the day's pages, the tapes on one page, field cards and labels, all of them or none."""
    from cardmaker.jobs.event_making import EventRequest, write_event
    from cardmaker.wording.phrases import plural

    files, left_out = write_event(_request(EventRequest, options))
    _report(options, *(f"{target}  ({plural(pages, 'page')})" for target, pages in files.items()))
    for facts in left_out:
        _report(options, *_left_out([facts]))
    _open(options, [*files])
    return DONE


def run_restore(options: argparse.Namespace) -> int:
    """``cardmaker restore``: what differs stays as it is and is told, and the others are written."""
    from cardmaker.jobs.restoring import restore

    restored = restore(options.card, options.out, force=options.force)
    _report(options, *(f"{target}  ({said})" if said else str(target) for target, said in restored.paths))
    for line in restored.not_written:
        print_error(on_one_line(line))
    if restored.not_written:
        for line in restored.next_steps:
            print_error(on_one_line(line))
        return PROBLEMS
    _report(options, *restored.next_steps)
    return DONE


def run_plan(options: argparse.Namespace) -> int:
    """``cardmaker plan``."""
    from cardmaker.jobs.loading import load_settings
    from cardmaker.jobs.plan_making import PlanRequest, plan_by_name
    from cardmaker.model.record_class import replace
    from cardmaker.wording.plan_json import plan_as_json
    from cardmaker.wording.report import plan_text

    request = _request(PlanRequest, options)
    units: Units = request.units or load_settings().units or "metric"
    plan = plan_by_name(replace(request, units=units))
    if options.json:
        import json

        print(json.dumps(plan_as_json(plan, units), ensure_ascii=False, indent=2))
    else:
        print(plan_text(plan, units), end="")
    return DONE


def run_rescue(options: argparse.Namespace) -> int:
    """``cardmaker rescue``: one end in the terminal, or on a slip; or the list of troubles."""
    from cardmaker.jobs.rescuing import RescueRequest, rescue_text, write_slip

    request = _request(RescueRequest, options)
    if request.out is None:
        print(rescue_text(request), end="")
    else:
        target, description = write_slip(request)
        _report(options, f"{target}  ({description})")
    return DONE


def run_check(options: argparse.Namespace) -> int:
    """``cardmaker check``: silence is praise, so it says how many files are right."""
    from cardmaker.jobs.checking import files_to_check, looms_to_try, problems_of_file
    from cardmaker.wording.phrases import plural

    files = files_to_check(options.files)
    to_try = looms_to_try()
    problems = [problem for file in files for problem in problems_of_file(file, to_try)]
    for problem in problems:
        print_error(str(problem))
    notes = sum(problem.is_note for problem in problems)
    if len(problems) > notes:
        return PROBLEMS
    print(", ".join((plural(len(files), "file"), "no problems", *([plural(notes, "note")] if notes else []))))
    return DONE


def run_new(options: argparse.Namespace) -> int:
    """``cardmaker new``: never over a file that is there."""
    if options.form is not None:
        return _new_of_form(options)
    if options.kind != "pattern":
        return _new_of_kind(options)
    if options.ask and options.stripes is not None:
        raise WrongUsage("--ask asks for the stripes as well: leave --stripes out.")
    if options.ask:
        from cardmaker.jobs.pattern_questions import ask_for_pattern

        _report(options, *ask_for_pattern(options.name, options.out))
        return DONE
    if options.name is None:
        raise WrongUsage('A new pattern needs a title, such as "Gate Band"; or --ask, to be asked for everything.')
    if options.name.casefold().endswith(".pdf"):
        from cardmaker.wording.form_words import named_without_option

        raise WrongUsage(named_without_option(options.name))
    from cardmaker.jobs.pattern_making import write_new_pattern

    target, lines = write_new_pattern(options.name, options.stripes, options.out)
    _report(options, str(target), *lines)
    _report(options, f"Next: change what you like in it, then run: cardmaker card {target}")
    return DONE


def _new_of_form(options: argparse.Namespace) -> int:
    """A pattern that a filled form describes."""
    if options.ask or options.stripes is not None or options.kind != "pattern":
        raise WrongUsage("--form tells everything of a pattern: leave --ask, --stripes and --kind out.")
    from cardmaker.jobs.form_reading import write_pattern_of_form

    target, lines = write_pattern_of_form(options.form, options.name, options.out)
    _report(options, str(target), *lines)
    return DONE


def _new_of_kind(options: argparse.Namespace) -> int:
    """A loom, a yarn or a class, which are always asked for."""
    if options.stripes is not None:
        raise WrongUsage(f"--stripes belongs to a pattern: a {options.kind} is asked for.")
    if options.kind == "loom":
        from cardmaker.jobs.loom_questions import ask_for_loom

        _report(options, *ask_for_loom(options.name, options.out))
    elif options.kind == "yarn":
        from cardmaker.jobs.yarn_questions import ask_for_yarn

        _report(options, *ask_for_yarn(options.name, options.out))
    else:
        from cardmaker.jobs.class_questions import ask_for_class

        _report(options, *ask_for_class(options.name, options.out))
    return DONE


def run_form(options: argparse.Namespace) -> int:
    """``cardmaker form``: a form to record a tape."""
    from cardmaker.jobs.form_making import FormRequest, write_form

    target = write_form(_request(FormRequest, options))
    _report(options, str(target), f"Next: fill it in and save it, then run: cardmaker new --form {target}")
    _open(options, [target])
    return DONE


def run_begin(options: argparse.Namespace) -> int:
    """``cardmaker begin``: makes the folder where it runs one's own."""
    from cardmaker.jobs.beginning import begin

    _report(options, *begin())
    return DONE


def run_nothing(options: argparse.Namespace) -> int:
    """``cardmaker`` alone: what to do next here."""
    from cardmaker.jobs.file_lookup import own_files, own_settings_file
    from cardmaker.wording.lookup_words import next_steps

    _report(options, *next_steps([*own_files("pattern")], is_begun=own_settings_file() is not None))
    return DONE


def run_resize(options: argparse.Namespace) -> int:
    """``cardmaker resize``: the whole file to standard output or a new file, the sizes near by to standard error."""
    from cardmaker.files import write_many
    from cardmaker.jobs.resizing import ResizeRequest, resize

    text, size_lines = resize(_request(ResizeRequest, options))
    for line in size_lines:
        print_error(on_one_line(line))
    if options.out is None:
        print(text.decode(), end="")
        return DONE
    write_many({options.out: text}, new=[options.out])
    next_step = f"Next: look at what is said at its head, then run: cardmaker card {options.out}"
    _report(options, str(options.out), next_step)
    return DONE


def run_measured(options: argparse.Namespace) -> int:
    """``cardmaker measured``: asks, unless options tell."""
    from cardmaker.jobs.tape_measuring import MeasuredRequest, measure_tape

    _report(options, *measure_tape(_request(MeasuredRequest, options)))
    return DONE


def run_list(options: argparse.Namespace) -> int:
    """``cardmaker list``."""
    from cardmaker.jobs.file_listing import lines_of_files_at_hand

    for line in lines_of_files_at_hand(options.kind):
        _report(options, line)
    return DONE


def _request(kind: Callable[..., R], options: argparse.Namespace) -> R:
    """What a job is asked for: its fields have the names of the options."""
    return kind(**{name: getattr(options, name) for name in kind.__annotations__})


def _report(options: argparse.Namespace, *lines: str) -> None:
    """What was done, a line each whatever the names in it hold; nothing where only problems are wanted."""
    if not options.quiet:
        for line in lines:
            print(on_one_line(line))


def _open(options: argparse.Namespace, files: Sequence[Path]) -> None:
    """What was made is opened where that is wanted. That it could not be is told, and fails nothing."""
    if options.open and files:
        from cardmaker.cli.viewer import open_in_viewer

        if sentence := open_in_viewer(files):
            print_error(on_one_line(sentence))


def _left_out(panels: Sequence[str]) -> list[str]:
    return [f"  no room for: {', '.join(panels)}"] if panels else []


def _on_back(facts: Sequence[str]) -> list[str]:
    return [f"  on the back: {', '.join(facts)}"] if facts else []
