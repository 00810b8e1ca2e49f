"""What keeps a command from its end, told on the stream of errors, and the exit status that it means."""

from __future__ import annotations

from collections.abc import Callable

from cardmaker.cli.streams import print_error
from cardmaker.jobs.file_lookup import WrongUsage
from cardmaker.model.problems import ProblemsFound, on_one_line

DONE, PROBLEMS, USAGE, INTERRUPTED = 0, 1, 2, 130


def status_once_told(run: Callable[[], int]) -> int:
    """What ``run`` returns; or the status of what it raises, which is told. Raises BrokenPipeError, for a reader that
    has left is no error."""
    try:
        return run()
    except ProblemsFound as error:
        for problem in error.problems:
            print_error(str(problem))
        return PROBLEMS
    except WrongUsage as error:
        print_error(on_one_line(f"cardmaker: {error}"))
        return USAGE
    except BrokenPipeError:
        raise
    except OSError as error:
        if isinstance(error, FileNotFoundError) and error.filename is None:
            message = "the folder that you are in is not there any more: go into another."
        else:
            message = str(error) if error.filename is None else f"{error.filename}: {error.strerror}"
        print_error(on_one_line(f"cardmaker: {message}"))
        return PROBLEMS
