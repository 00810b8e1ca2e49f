"""The recording form: what stands on it, and what each field is called, on paper, aloud and where it is wrong."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from cardmaker.model import tape_form
from cardmaker.model.pattern import MOST_ENDS, Alternation, Mirror, Source, Stripe, WarpItem
from cardmaker.wording.formatters import Units
from cardmaker.wording.phrases import did_you_mean, end_count, listed
from cardmaker.wording.source_words import GRADES, grade, source_sentence

FORM_TITLE: Final = "A tape on record"
FORM_HOW: Final = (
    "On a screen: fill it in and save it; then cardmaker new --form and its name makes a pattern file of it.",
    "At the tape: a pencil and a hand lens; type it in later. Leave empty what nobody knows.",
)
FORM_SUBJECT: Final = "A form to record the stripes of a tape, and where it comes from"
OBJECT: Final = "The tape"
GRADE: Final = "What this rests on"
TICK_ONE: Final = "tick one"
STRIPES: Final = "Its stripes, from the left edge to the right"
STRIPES_HOW: Final = "a row for every change of colour; single ends in turn: 15, white / blue"
AGAIN: Final = "To weave it again"
AGAIN_HOW: Final = "a line for all colours, or for each its own"
COUNT: Final = "The count"
STRIPE_HEADS: Final = ("row", "ends", "colour")
YARN_HEADS: Final = ("colour", "yarn, as in cotton 8/2", "shade on the label")
TOTAL_LABEL: Final = "Ends in all"
TOTAL_HOW: Final = "counted once more, edge to edge"
_EXAMPLES: Final[dict[Units, str]] = {"us": "2 yd", "metric": "2 m"}

_LABELS: Final = {
    "title": "Name", "code": "Short code", "what": "What it is", "attached_to": "Fixed to", "holder": "Kept by",
    "object_number": "Number there", "place": "Where from", "period": "How old", "counted_by": "Counted by",
    "counted_when": "When", "counted_how": "How counted", "certainty": "How sure", "fibre": "Its fibre", "loom": "Loom",
    "length": "Length", "weft": "Weft", "total": TOTAL_LABEL, "notes": "Notes",
}  # fmt: skip
_ASKED: Final = {
    "title": "what the tape is called, such as Gate Band",
    "code": "a short code of your own for the binder, such as T08",
    "what": "a few words that complete: after. Such as a tape tie on a seed pouch",
    "attached_to": "what the tape is fixed to",
    "holder": "who keeps the object",
    "object_number": "the number that its keeper gives it",
    "place": "where it comes from, as its keeper says",
    "period": "its date, as its keeper says",
    "counted_by": "who counted the ends",
    "counted_when": "the day of the count",
    "counted_how": "how it was counted: hand lens, photograph, how many times",
    "certainty": "how sure the count is: certain, or give or take so many ends",
    "fibre": "the fibre of the old tape, and how it is known",
    "loom": "the loom to weave it on: the name of its file",
    "weft": "the colour of the yarn on the shuttle; empty, that of the edges",
    "total": "how many ends there are in all, counted once more from edge to edge",
}  # fmt: skip
MIRROR_LABELS: Final = {
    "mirror_last": "Only half: the last row is the middle, and stands once.",
    "mirror_whole": "Only half: the last row stands twice, side by side.",
}
_YARN_ASKED: Final = {
    "colour": "the colour that it is for, as in the stripes; empty, for all colours",
    "yarn": "fibre and count, such as cotton 8/2 or wool 28/2 metric",
    "shade": "what its label calls the colour",
}
_CELL_NAMES: Final = {"ends": "ends", "colour": "colour", "yarn": "yarn", "shade": "shade"}
_NUMBERED: Final = re.compile(r"(stripe|yarn|notes)_(\d+)_?(\w*)")


def line_label(field: str) -> str:
    """What stands before a line of the form."""
    return _LABELS[field]


def length_label(units: Units) -> str:
    """With an example, since a length needs its unit."""
    return f"{_LABELS['length']}, as in {_EXAMPLES[units]}"


def grade_label(letter: str) -> str:
    """A grade as on the cards."""
    return GRADES[letter]


def field_name(field: str) -> str:
    """A field as its problems are told: ``Stripe 3, ends``."""
    if field.startswith("grade_"):
        return GRADE
    if field in tape_form.MIRRORS:
        return f"Only half, the last row {'once' if field == 'mirror_last' else 'twice'}"
    if found := _NUMBERED.fullmatch(field):
        number, cell = int(found[2]), _CELL_NAMES.get(found[3], "")
        if found[1] == "notes":
            return f"Notes, line {number}"
        return f"{'Row' if found[1] == 'stripe' else 'Yarn line'} {number}, {cell}"
    return _LABELS[field]


def tooltip(field: str, units: Units) -> str:
    """What belongs in a field, for whoever hears it, or rests the pointer on it."""
    if field.startswith("grade_"):
        return f"{GRADE}: {GRADES[field[-1].upper()]}"
    if field in tape_form.MIRRORS:
        return f"{MIRROR_LABELS[field]} The other half is the same, backwards"
    if found := _NUMBERED.fullmatch(field):
        return f"{field_name(field)}: {_asked_in_line(found[1], found[3])}"
    if field == tape_form.LENGTH:
        return f"{_LABELS[field]}: how much finished tape is wanted, with its unit, as in {_EXAMPLES[units]}"
    return f"{field_name(field)}: {_ASKED[field]}"


def _asked_in_line(kind: str, cell: str) -> str:
    if kind == "notes":
        return "anything else worth keeping: width, edges, wear, where a photograph lies"
    if kind == "yarn":
        return _YARN_ASKED[cell]
    return "how many ends" if cell == "ends" else "their colour; single ends in turn as in white / blue"


def form_is_there(file: str) -> str:
    return f"{file} is there already, and may be filled in. Name another file, or a folder, which gets the next number."


def named_without_option(file: str) -> str:
    return f"'{file}' is a PDF, and no title. If it is a filled form, write: cardmaker new --form {file}"


# What is said of a filled form

TO_LOOK_AT: Final = "To look at; it stands at the head of the file, too:"
NOT_FILLED: Final = (
    "no field of it is filled in.",
    "Click into a field and type, then save; what is drawn or written over the page with another tool is not read.",
)
WRITTEN_OVER: Final = (
    "something is drawn or written over the page, and is not read.",
    "Only what stands in the fields is in the file: compare the two.",
)
NO_TITLE: Final = ("it is empty.", "Write what the tape is called; the file is named by it.")
NO_STRIPES: Final = ("no stripe is written.", "Write how many ends, and their colour, from the left edge on.")
NO_LENGTH: Final = ("it is empty; the usual length is taken.", "Say in the file how much tape you want.")
NO_GRADE: Final = ("none is ticked; the card says that no source is recorded.",)
BOTH_HALVES: Final = (
    "both boxes are ticked, and the last row stands once or twice.",
    "Tick one; or none, where the rows go from edge to edge.",
)
SHADE_OF_ALL: Final = ("it is empty, and a shade is written beside it.", "A shade is of one colour: write which.")
NOT_ALIKE: Final = (
    "the two halves are not quite alike, since the last row has an even number of ends in turn.",
    "Count the middle once more.",
)


def doubt(problem: tape_form.FieldProblem) -> str:
    """A doubt with its field, in one line."""
    where = f"{field_name(problem.field)}: " if problem.field else ""
    return f"{where}{problem.message} {problem.remedy}".strip()


def other_title(title: str, typed: str) -> tuple[str, str]:
    return f"the form says '{title}', and the command '{typed}'.", "Leave one of them out, or make them agree."


def no_total(ends: int) -> tuple[str, str]:
    return (
        f"it is empty, so nothing checks the {end_count(ends)} of the rows.",
        "Count the whole tape once more, and write it into the file.",
    )


def too_many_ends(ends: int) -> tuple[str, str]:
    return f"the rows come to {end_count(ends)}; {MOST_ENDS} is the most.", "Count them again."


def other_total(counted: int, ends: int, meant: Mirror | str | None) -> tuple[str, str]:
    """That rows and total differ; ``meant`` is how the rows come to it: None is unmirrored."""
    message = f"the rows come to {end_count(counted)}, and {ends} were counted in all."
    remedy = {
        None: "That is what the rows are without the other half: take the tick away, or count the whole.",
        "last stripe": f"They come to {ends} when they are half and the last is the middle: if so, tick that.",
        "whole": f"They come to {ends} when they are half and the last stands twice: if so, tick that.",
    }
    return message, remedy.get(meant, "Count both once more.")


def several_grades(graded: Sequence[str]) -> tuple[str, str]:
    return f"{listed(graded)} are ticked.", "Tick one: what the whole of the count rests on."


def no_grade_for(field: str) -> tuple[str, str]:
    return f"none is ticked, and something is written beside {field_name(field)}.", "Tick one of A to F."


def missing_fact(field: str, grade: str) -> tuple[str, str]:
    return f"it is empty, and {grade} is ticked.", f"Whoever reads the card will ask {_WILL_ASK[field]}."


_WILL_ASK: Final = {
    "what": "what it is copied from",
    "holder": "where to find it",
    "certainty": "how far to believe the count",
}


def same_neighbours(row: int, colour: str, ends: int) -> tuple[str, str]:
    return (
        f"rows {row - 1} and {row} are both {colour}: they are one stripe of {end_count(ends)}.",
        "Has a colour between them been left out?",
    )


def second_line(colour: str, number: int) -> tuple[str, str]:
    what = f"{colour} has" if colour else "all colours have"
    return f"{what} line {number} already.", "Keep one of the two, or write which colour this one is for."


def no_such_colour(colour: str, meant: str, names: Sequence[str]) -> tuple[str, str]:
    if meant:
        return f"'{colour}' is called '{meant}' in the stripes.", "Write one name for one colour."
    known = f"They have {listed(names)}." if names else "They have none."
    return f"no stripe is {colour}.", f"{did_you_mean(colour, names, known)}"


def weft_of_its_own(weft: str) -> tuple[str, str]:
    return f"no stripe is {weft}, and no line says which yarn that is.", "Write a colour of the stripes, or its yarn."


def yarn_assumed(names: Sequence[str], kind: str) -> tuple[str, str]:
    return f"nothing is said of {listed(names)}; {kind} is taken.", "Write into the file what the label says."


def no_yarn(reason: str) -> tuple[str, str]:
    return reason, "Or leave it empty until the yarn is chosen."


def no_such_loom(name: str, looms: Sequence[str]) -> tuple[str, str]:
    named = ", ".join(looms)
    return f"there is no loom named '{name}'.", did_you_mean(name, looms, f"There are {named or 'none'}.")


def understood(tape: tape_form.RecordedTape, ends: int, *, same_both_ways: bool) -> str:
    """``31 ends: 9 white, 13 white / blue in turn, 9 white; the same from both edges.``"""
    rows = [_row_in_words(row) for row in tape.stripes]
    back = {"last stripe": ", and back, the last once", "whole": ", and back, the last twice"}
    again = back[tape.mirror] if tape.mirror else ""
    alike = "the same from both edges" if same_both_ways else "not the same from both edges"
    return f"{end_count(ends)}: {', '.join(rows)}{again}; {alike}."


def _row_in_words(row: WarpItem) -> str:
    if isinstance(row, Alternation):
        return f"{row.ends} {' / '.join(row.yarns)} in turn"
    return f"{row.ends} {row.yarn}" if isinstance(row, Stripe) else ""


def yarns_understood(tape: tape_form.RecordedTape) -> str:
    """``Yarn: white and blue of linen 20/2.``"""
    kinds: dict[str, list[str]] = {}
    for yarn in tape.yarns:
        kinds.setdefault(" ".join(filter(None, (yarn.fibre, yarn.label_count, yarn.system))), []).append(yarn.name)
    return f"Yarn: {'; '.join(f'{listed(names)} of {kind}' for kind, names in kinds.items())}."


def source_understood(source: Source) -> str:
    """The grade, and what the card may say of it."""
    return f"{grade(source.grade)}. On the card: {source_sentence(source)}"


def next_step(command: str, *, in_doubt: bool) -> str:
    first = "Next: look at what is in doubt" if in_doubt else "Next: change what you like in it"
    return f"{first}, then run: cardmaker card {command}"
