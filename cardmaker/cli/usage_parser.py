"""A parser of arguments that refuses in plain words, on one line, and says what to type instead."""

from __future__ import annotations

import argparse
import re
import sys
from typing import Any, Final, NoReturn

from cardmaker.model.problems import on_one_line

_WRONG_USAGE: Final = 2  # the exit status
_OPTION_OTHERWISE: Final = re.compile(r"(?:[–—]+|/)([a-z][a-z-]+)|([a-z][a-z-]+)=.*", re.DOTALL)


class UsageParser(argparse.ArgumentParser):
    """Refuses an option given twice, names the nearest of what there is, and takes words of any case for choices."""

    def error(self, message: str) -> NoReturn:
        """Ends the process with one line and the status of wrong usage."""
        from cardmaker.wording.usage_words import plain_words

        needed = {str(action.metavar): action.help or "" for action in self._actions if not action.option_strings}
        needed |= {option: action.help or "" for action in self._actions for option in action.option_strings}
        self.exit(_WRONG_USAGE, f"cardmaker: {on_one_line(plain_words(message, needed))} See: {self.prog} --help\n")

    def parse_known_args(self, args: Any = None, namespace: Any = None) -> tuple[Any, list[str]]:
        """What is known among the arguments. Of an option that there is not, the nearest is named."""
        words = sys.argv[1:] if args is None else list(args)
        self._given: dict[str, str] = {}
        self._refuse_other_dashes(words)
        known, extras = super().parse_known_args(words, namespace)
        if option := next((word for word in extras if word.startswith("-") and word.strip("-")), ""):
            from cardmaker.wording.lookup_words import no_option

            self.error(no_option(self.prog.split()[-1], option, list(self._option_string_actions)))
        return known, extras

    def _refuse_other_dashes(self, words: list[str]) -> None:
        """``—layout``, as word processors make of two hyphens; ``/layout`` and ``layout=record``, as other systems
        have it: each would be taken for a file's name."""
        for word in words:
            found = _OPTION_OTHERWISE.fullmatch(word)
            if found and (option := f"--{found[1] or found[2]}") in self._option_string_actions:
                value = f" {word.split('=', 1)[1]}" if found[2] else ""
                self.error(f"An option begins with two plain hyphens: write {option}{value}, not {word}.")

    def _check_value(self, action: argparse.Action, value: Any) -> None:
        """A value among its choices; for one that does not exist the nearest is named."""
        if action.choices is None or value in action.choices:
            return
        from cardmaker.reading.word_meant import closest_word
        from cardmaker.wording.lookup_words import no_command
        from cardmaker.wording.usage_words import none_of_choices

        choices = [*action.choices]
        if isinstance(action, argparse._SubParsersAction):
            self.error(no_command(value, choices))
        self.error(none_of_choices(action.option_strings[0], value, choices, closest_word(str(value), choices)))

    def _get_value(self, action: argparse.Action, arg_string: str) -> Any:
        """One value, read; a choice in any case."""
        of_choice = action.choices is not None and not isinstance(action, argparse._SubParsersAction)
        return super()._get_value(action, arg_string.casefold() if of_choice else arg_string)

    def _get_values(self, action: argparse.Action, arg_strings: list[str]) -> Any:
        """The value of an option, which is given once. ``--out=--`` would be an empty list, where one word is
        promised."""
        if action.option_strings and action.nargs != 0:
            self._refuse_value(action, arg_strings)
        return super()._get_values(action, arg_strings)

    def _refuse_value(self, action: argparse.Action, arg_strings: list[str]) -> None:
        """Ends the process where no value stands behind an option, or one stands there already."""
        option, use, words = action.option_strings[-1], action.help or "", " ".join(arg_strings)
        between = " " if action.nargs == "+" else "," if "several, as in" in use else ""
        before = None if isinstance(action, argparse._AppendAction) else self._given.get(action.dest)
        self._given[action.dest] = words
        ends_in_comma = between == "," and words.endswith(",")
        if words not in ("--", "=", "") and before is None and not ends_in_comma:
            return
        from cardmaker.wording import layout_words, usage_words

        if words in ("--", "=", ""):
            self.error(usage_words.no_value(option, use))
        if ends_in_comma:
            self.error(layout_words.wrong_list_of_layouts(words, words.split(",")))
        self.error(usage_words.given_twice(option, before or "", words, between))
