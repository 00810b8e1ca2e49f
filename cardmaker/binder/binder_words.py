"""Everything that a binder says besides its cards."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from cardmaker.model.binder_contents import Entry
from cardmaker.model.loom import Heddles, Loom
from cardmaker.model.problems import Problem
from cardmaker.wording import phrases
from cardmaker.wording.formatters import Units, small_length
from cardmaker.wording.title_words import card_title, uses

ABOUT: Final = "About this binder"
CONTENTS: Final = "Contents"
ALL_LISTED: Final = "All of them are listed in the contents."
CARDS: Final = "Cards"
INDEXES: Final = "Indexes"
FACES: Final = "All tapes at a glance"
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
ENDS: Final = "Ends"
WIDTH: Final = "Width"
CONTENTS_HEADS: Final = (CODE, NAME, ENDS, WIDTH, PAGE)
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
    (
        "Space",
        "a hole or a slot; left 5 is the fifth to the left of the mark, as this weaver counts: seen from your seat, or "
        "from behind the heddle where the card says so.",
    ),
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


def faces_aside(*, some_are_smaller: bool, widest_mm: float, units: Units) -> str:
    if not some_are_smaller:
        return "Each as wide as it comes off the loom."
    widest = small_length(widest_mm, units)
    return f"Each as wide as it comes off the loom; those wider than {widest} are drawn smaller."


DRAWN_SMALLER: Final = "drawn smaller"


def section_aside(entries: Sequence[Entry], units: Units) -> str:
    """What the tapes of a section have in common: how many, their ends and their widths."""
    if not entries:
        return ""
    widths = [entry.width_mm for entry in entries]
    least, most = (small_length(width, units) for width in (min(widths), max(widths)))
    wide = f"{least} wide" if least == most else f"{least} to {most} wide"
    return f"{card_count(entries)}, {wide}"


def tape_facts(entry: Entry, units: Units) -> tuple[str, str, str]:
    """What one chooses a tape by, line by line: code and ends, width, and what it is for."""
    counted = " · ".join(part for part in (entry.code, phrases.end_count(entry.ends)) if part)
    return counted, small_length(entry.width_mm, units), uses(entry.purposes)


def some_of(shown: int, cards: int) -> str:
    """Where the cards stand that a divider does not show."""
    return f"{shown} of {phrases.plural(cards, 'card')} are shown. {ALL_LISTED}"


FIND: Final = "Find a tape"


def where_to_find(contents: str, indexes: str, faces: str) -> str:
    """How a reader gets from a tape or a wish to its card."""
    return (
        f"In their order, in the contents on page {contents}. By looking, among all tapes on page {faces}. By code, "
        f"ends, width, colour, use or loom, in the indexes on page {indexes}."
    )


def width_heading(above: int | None, below: int | None, units: Units, *, brief: bool = False) -> str:
    least, most = (_limit(limit or 0, units, brief=brief) for limit in (above, below))
    if above is None:
        return f"Under {most} wide"
    return f"{least} wide and more" if below is None else f"{least} to under {most} wide"


def width_briefly(width_mm: Fraction, units: Units) -> str:
    """A width in the first unit only, where many stand below each other."""
    return small_length(width_mm, units).split(" (")[0]


def _limit(limit_mm: int, units: Units, *, brief: bool) -> str:
    if units == "metric":
        return f"{limit_mm} mm"
    return width_briefly(Fraction(limit_mm), units) if brief else small_length(limit_mm, units)


def ends_heading(least: int, most: int | None) -> str:
    if most is None:
        return f"{least} ends and more"
    return f"Up to {most} ends" if least == 1 else f"{least} to {most} ends"


def card_count(entries: Sequence[Entry]) -> str:
    """How many cards there are, and from how few to how many ends."""
    ends = [entry.ends for entry in entries]
    if not ends:
        return "No cards"
    least = "" if min(ends) == max(ends) else f"{min(ends)} to "
    return f"{phrases.plural(len(entries), 'card')}, {least}{phrases.end_count(max(ends))}"


def link_target(entry: Entry, page: str) -> str:
    """Where a link leads, for whoever cannot see it."""
    return on_page(card_title(entry), page)


def on_page(title: str, page: str) -> str:
    return f"{title}, {phrases.page_in_words(page)}"


def back_to(page: str) -> str:
    return on_page("Back to the contents", page)


def back_title(entry: Entry) -> str:
    """What stands on the back of a card."""
    return f"{card_title(entry)}: notes and samples"


SAMPLE: Final = "sample"
SAMPLES_ALT_TEXT: Final = "Frames for samples of what was woven."


def what_it_is(entry: Entry) -> str:
    """What the tape is for, and what its file says of it: on the card's own page there is not always room."""
    about = phrases.sentence(" ".join(entry.about.split())) if entry.about.strip() else ""
    return " ".join(part for part in (uses(entry.purposes), about) if part)


def heddle_kinds(loom: Loom) -> str:
    if loom.heddles is Heddles.ONE:
        return "one"
    return "two, the same" if loom.back_heddle == "same" else "two, opposite"


def file_name(path: str) -> str:
    """Of a file's path what tells it apart on paper: its last two parts."""
    return "/".join(path.replace("\\", "/").split("/")[-2:])


def problem_line(problem: Problem) -> str:
    where = f"{problem.where}: " if problem.where else ""
    return f"Line {problem.place.line}: {where}{problem.message} {problem.remedy}".rstrip()
