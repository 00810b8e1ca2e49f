"""A class file to start from: who comes, to which loom, with which pattern, and a comment for all else."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from cardmaker.editing.yaml_text import yaml_keys, yaml_string


class NewClassRequest(NamedTuple):
    """What a new class should be; empty texts are left open."""

    title: str
    students: Sequence[str]
    loom: str
    pattern: str
    date: str = ""
    warp: str = ""
    session: str = ""


def requested_class_text(request: NewClassRequest) -> str:
    """The text of a class file that checks clean as it stands."""
    students = "\n".join(
        f"  - {yaml_keys([('name', yaml_string(name)), ('loom', request.loom), ('pattern', request.pattern)])}"
        for name in request.students
    )
    date = f"date: {yaml_string(request.date)}" if request.date else "# date: Saturday, 21 November"
    warp = f"warp: {request.warp}" if request.warp else "# warp: 3 yd"
    session = f"session: {request.session}" if request.session else "# session: 3 h"
    return f"""\
# A class. Lines that begin with # are notes to you: change or delete them.
title: {yaml_string(request.title)}
{date}
# teacher: your name
# place: where it is
# about: One sentence for the top of your sheet.

{session:<21} # without the breaks
winding: beforehand   # or: in class
{warp:<21} # every warp, whatever its pattern asks for
# extra: 5 %          # bought on top, for knots and false starts

# Or let them choose: leave each pattern out, and name at least two here. They are printed with names to tick.
# choose_from: [{request.pattern}, another-pattern]

# One student a line. To a line may be added hand: left, large_print: yes or units: metric.
students:
{students}

# spares:             # kits for nobody yet
#   - {{count: 1, loom: {request.loom}, pattern: {request.pattern}}}
# notes: [what you must not forget]
"""
