"""A yarn file: from its text to a :class:`ShelfYarn`, or to every problem in it."""

from __future__ import annotations

from typing import Final

from cardmaker.model.pattern import ShelfYarn, YarnMeasurement
from cardmaker.reading import limits
from cardmaker.reading.fields import FieldReader, parsed
from cardmaker.reading.pattern_file import check_yarn, yarn_of_keys

_TELLS_HOW_FAR: Final = frozenset({"count", "yards_per_pound", "metres_per_kg", "package"})


def parse_yarn(text: bytes, file: str, stem: str) -> ShelfYarn:
    """The yarn that the text of a file describes. Raises ProblemsFound."""
    return parsed(text, file, "yarn", lambda top: _yarn(top, stem))


def _yarn(top: FieldReader, stem: str) -> ShelfYarn:
    check_yarn(top)
    if "at_hand" in top.values and not _TELLS_HOW_FAR & top.values.keys():
        top.report(
            "at_hand", "nothing tells how far this weight goes.", "Add its count, or yards_per_pound or metres_per_kg."
        )
    return ShelfYarn(
        title=top.line("title"),
        stem=stem,
        yarn=yarn_of_keys(stem, top),
        measured=top.groups("measured", _measurement),
        at_hand_g=top.weight("at_hand", limits.PACKAGE_WEIGHT),
        marked_as=top.line("marked_as"),
        places=top.problems.places,
    )


def _measurement(part: FieldReader) -> YarnMeasurement:
    return YarnMeasurement(
        pattern=part.line("pattern"),
        date=part.line("date"),
        loom=part.line("loom"),
        ends_per_inch=part.choice("ends_per_inch"),
        take_up=part.share("take_up", limits.TAKE_UP),
        shrinkage=part.share("shrinkage", limits.SHRINKAGE),
        picks_per_inch=part.choice("picks_per_inch"),
    )
