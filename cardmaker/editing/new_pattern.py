"""A pattern file to start from: the stripes that were asked for, and a comment for all else."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from typing import Final, NamedTuple

from cardmaker.editing.yaml_text import yaml_keys, yaml_list, yaml_string
from cardmaker.model.carried_file import RESERVED_NAMES
from cardmaker.model.named_colours import named_colour
from cardmaker.model.pattern import Fibre
from cardmaker.reckoning.amounts.allowances import USUAL_SHRINKAGE
from cardmaker.reckoning.amounts.yarn_thickness import Range
from cardmaker.wording.formatters import Units, decimal, percent_range
from cardmaker.wording.phrases import NO_BREAK

USUAL_LENGTH: Final[dict[Units, str]] = {"us": "2 yd", "metric": "2 m"}  # of tape, where nothing is said
DEFAULT_STRIPES: Final = ((2, "blue"), (9, "white"), (2, "blue"))


def stem_of(title: str) -> str:
    """The file name of a title: lower case, hyphens for spaces, letters and digits only, and no device's name."""
    stem = "-".join(re.findall(r"[^\W_]+", title.casefold()))
    return f"{stem}-tape" if stem in RESERVED_NAMES else stem


class YarnRequest(NamedTuple):
    """One yarn of a new pattern: what the label says, and a colour as # and six signs, or none; or the file that
    describes it, with the colour that this says."""

    name: str
    fibre: Fibre = "cotton"
    label_count: str = "8/2"
    system: str = ""
    colour: str = ""
    file: str = ""
    file_colour: str = ""


class PatternRequest(NamedTuple):
    """What a new pattern should be. ``half`` tells its stripes from the edge to the middle, which is not doubled."""

    title: str
    stripes: Sequence[tuple[int, str]]
    yarns: Sequence[YarnRequest]
    uses: Sequence[str] = ()
    half: bool = False
    finished: str = ""

    @property
    def ends(self) -> int:
        """How many ends there are in all."""
        once = sum(count for count, _ in self.stripes)
        return 2 * once - self.stripes[-1][0] if self.half else once


def usual_request(title: str, stripes: Sequence[tuple[int, str]], finished: str) -> PatternRequest:
    """A pattern of which nothing is known but its title and stripes: a usual yarn for each name."""
    names = dict.fromkeys(name for _, name in stripes)
    yarns = [YarnRequest(name, colour=named_colour(name)) for name in names]
    return PatternRequest(title, stripes, yarns, finished=finished)


def requested_pattern_text(request: PatternRequest) -> str:
    """The text of a pattern file that checks clean as it stands, with a comment for all that is left open."""
    title, stripes = request.title, request.stripes
    yarns = "\n".join(f"  {yaml_string(yarn.name)}: {_yarn(yarn)}" for yarn in request.yarns)
    uses = f"for: {yaml_list(request.uses)}" if request.uses else "# for: [garter]         # what it is for"
    mirror = (
        "mirror: last stripe     # then back to the other edge; the last stripe is the middle\n" if request.half else ""
    )
    fibre, (least, likely, most) = _usual_shrinkage(request)
    shrinks = percent_range(least, most).replace(NO_BREAK, " ")
    edge = "edge to the middle" if request.half else "left edge to the right edge"
    warp = "\n".join(f"  - {yaml_string(f'{count} {name}')}" for count, name in stripes)
    return f"""\
# A pattern for narrow tape. Lines that begin with # are notes to you: change or delete them.
title: {yaml_string(title)}
version: 1
# code: T31             # your own number for it
# date: 2026-11-20      # when you made it
{uses}
# about: One sentence for the top of the card.

# The yarns. The label tells fibre and count; when it also tells yards per pound, add
# yards_per_pound: 3360. Colours are optional and stand in quotes.
yarns:
{yarns}

# The stripes from the {edge} as you sit at the loom: a count and a yarn.
# Yarns in turn:   - {{alternate: [white, blue], ends: 15}}
# The same again:  - {{repeat: 3, stripes: [2 blue, 4 white]}}
warp:
{warp}
{mirror}ends: {request.ends}                # a check on your counting
weft: {yaml_string(stripes[0][1])}              # best the same as the edges

# How much tape you want when it is woven and washed.
length:
  finished: {request.finished or USUAL_LENGTH["us"]}
  # take_up: 15 %       # how much shorter the tape is than its warp; a guess is taken until you have measured it
  # shrinkage: {f"{decimal(100 * likely, 0)} %":<8}  # what the wash takes; {shrinks} is the guess for {fibre}

# source:               # where it comes from; leave it out and the card says that none is recorded
#   grade: F            # A object seen, B photograph or record, C description, D picture, E in the style of, F own
"""


def _usual_shrinkage(request: PatternRequest) -> tuple[Fibre, Range]:
    """The fibre of the most ends, and its usual shrinkage."""
    ends: Counter[str] = Counter()
    for count, name in request.stripes:
        ends[name] += count
    commonest = ends.most_common(1)[0][0]
    fibre: Fibre = next((yarn.fibre for yarn in request.yarns if yarn.name == commonest), "other")
    return fibre, USUAL_SHRINKAGE[fibre]


def _yarn(yarn: YarnRequest) -> str:
    count, colour = (yaml_string(text) if text else "" for text in (yarn.label_count, yarn.colour))
    if yarn.file:
        own = "" if yarn.colour.casefold() == yarn.file_colour else colour
        return yaml_keys([("yarn", yaml_string(yarn.file)), ("colour", own)])
    return yaml_keys([("fibre", yarn.fibre), ("count", count), ("system", yarn.system), ("colour", colour)])
