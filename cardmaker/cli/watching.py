"""``--watch``: a command that is carried out again whenever a file that it is about is saved, until it is stopped."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence

from cardmaker.cli.streams import print_above_bar
from cardmaker.cli.told_errors import DONE, USAGE, status_once_told
from cardmaker.model.problems import on_one_line


def keep_making(
    make: Callable[[], int], say: Callable[[str], None], patterns: Sequence[str], others: Sequence[str]
) -> int:
    """Makes it now and again at every save; problems are told as they come and go. Ends by a signal.

    Returns a status at once when it is asked for something that does not exist or does not go together.
    """
    from cardmaker.jobs.saved_files import file_states, wait_for_saves
    from cardmaker.wording.watch_words import MENDED, STAYS, WATCHING, saved

    states = file_states(patterns, others)
    if (status := status_once_told(make)) == USAGE:
        return status
    say(WATCHING)
    while True:
        sys.stdout.flush()
        states, saves = wait_for_saves(states, patterns, others)
        for file, is_gone in saves:
            say(on_one_line(saved(file, is_gone=is_gone)))
        before, status = status, status_once_told(make)
        if status != DONE:
            print_above_bar(STAYS)
        elif before != DONE:
            say(MENDED)
