"""Everything that a binder says besides its cards."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.binder_contents import Entry
from cardmaker.model.loom import Heddles, Loom, Mark
from cardmaker.model.problems import Problem
from cardmaker.wording import phrases
from cardmaker.wording.measures import Units, small_length
from cardmaker.wording.source_words import GRADES

CONTENTS: Final = "Contents"
LISTED_IN_CONTENTS: Final = "Its cards are listed in the contents."
CARDS: Final = "Cards"
INDEXES: Final = "Indexes"
FACES: Final = "All tapes at a glance"
FACES_ASIDE: Final = "Each as wide as it comes off the loom; those wider than 24 mm are drawn smaller."
BACK: Final = "Looms, words, cautions"
LOOMS: Final = "The looms at hand"
GLOSSARY: Final = "Words on the cards"
CAUTIONS: Final = "Before you begin"
NOT_MADE: Final = "Not in this binder"
NOT_MADE_ASIDE: Final = "These patterns could not be made into cards. Mend what is told here and make the binder again."
NO_USE: Final = "No use stated"
PAGE: Final = "Page"

CODE: Final = "Code"
NAME: Final = "Name"
CONTENTS_HEADS: Final = (CODE, NAME, "Ends", "Width", PAGE)
LOOM_HEADS: Final = ("Loom", "Heddles", "Slots", "Holes", "Most ends", "The marked middle is")
INDEXES_ASIDE: Final = "The number at the end of each is the page."
CODES: Final = "Every code"
INDEX_TITLES: Final = ("By code", "By number of ends", "By width", "By colour", "By use", "By loom that holds it")
OFTEN_NAMED: Final = frozenset(INDEX_TITLES[index] for index in (3, 5))  # where each card stands several times

WORDS: Final = (
    ("Cross", "where every second thread changes sides on the pegs; it keeps the order of the ends."),
    ("End", "one thread of the warp."),
    ("Far, home", "the pegs at the two ends of a trip: winding begins at home and turns at far."),
    ("Heddle", "the board of holes and slots, or of eyes, that the ends go through."),
    ("Hole, slot", "the two kinds of spaces in a heddle: a hole holds its end, in a slot it slides up and down."),
    ("Pick", "one passage of the weft through the shed."),
    ("Shed", "the opening between raised and lowered ends: down when the warp is pressed down, up when it is lifted."),
    ("Space", "a hole or a slot; left 5 is the fifth to the left of the mark, as this weaver counts."),
    ("Take-up", "the part of the warp's length that goes into bending over and under the weft."),
    ("Warp, weft", "the threads along the tape, and the one thread that goes to and fro across it."),
)
SAFETY: Final = (
    "A warp stretched across a room can trip people and pull furniture over: keep the way clear, tie nothing to what "
    "could fall, and follow the rules of the house.",
    "Fasten clamps and posts as their makers say. Drilling and building are for those who are trained for them.",
    "No cords at neck, hood or chin of children's clothes: look up the standard for children's wear that holds where "
    "you are.",
    "Dyes and mordants can harm: keep to the makers' sheets and to local rules.",
    "Every length, width and weight here is reckoned; your yarn and your hands decide. Weave a sample first.",
)


def width_heading(above: int | None, below: int | None) -> str:
    if above is None:
        return f"Under {below} mm wide"
    return f"{above} mm wide and more" if below is None else f"{above} mm to under {below} mm wide"


def ends_heading(least: int, most: int | None) -> str:
    if most is None:
        return f"{least} ends and more"
    return f"Up to {most} ends" if least == 1 else f"{least} to {most} ends"


def grade(letter: str) -> str:
    """The grade of a source with what it stands for."""
    return f"Grade {GRADES[letter]}" if letter else "No source recorded"


def card_count(entries: Sequence[Entry]) -> str:
    """How many cards there are, and from how few to how many ends."""
    ends = [entry.ends for entry in entries]
    cards = "1 card" if len(entries) == 1 else f"{len(entries)} cards"
    if not ends:
        return "No cards"
    span = f"{ends[0]} ends" if min(ends) == max(ends) else f"{min(ends)} to {max(ends)} ends"
    return f"{cards}, {span}"


def name_and_code(entry: Entry) -> str:
    return f"{entry.title} ({entry.code})" if entry.code else entry.title


def entry_width(entry: Entry, units: Units) -> str:
    return small_length(entry.width_mm, units)


def entry_ends(entry: Entry) -> str:
    return phrases.end_count(entry.ends)


def link_target(entry: Entry, page: int) -> str:
    """Where a link leads, for whoever cannot see it."""
    return on_page(name_and_code(entry), page)


def on_page(title: str, page: int) -> str:
    return f"{title}, page {page}"


def back_to(page: int) -> str:
    return f"Back to the contents, page {page}"


def page_foot(page: int) -> str:
    return str(page)


def notes_page(entry: Entry) -> str:
    """What stands on the back of a card."""
    return f"{name_and_code(entry)}: notes and samples"


def heddle_kinds(loom: Loom) -> str:
    if loom.heddles is Heddles.ONE:
        return "one"
    return "two, the same" if loom.back_heddle == "same" else "two, opposite"


def counting_of(loom: Loom) -> str:
    """What this weaver says on the mark, or where the mark stands."""
    if loom.middle_space is None:
        return "between two spaces"
    kind = loom.kind_of(loom.middle_space)
    return f"a {kind}, counted as {'one' if loom.mark is Mark.ONE else 'zero'}"


def section_size(count: int) -> str:
    return "1 card" if count == 1 else f"{count} cards"


def file_name(path: str) -> str:
    """Of a file's path what tells it apart on paper: its last two parts."""
    return "/".join(path.replace("\\", "/").split("/")[-2:])


def problem_line(problem: Problem) -> str:
    where = f"{problem.where}: " if problem.where else ""
    return f"Line {problem.place.line}: {where}{problem.message} {problem.remedy}".rstrip()
