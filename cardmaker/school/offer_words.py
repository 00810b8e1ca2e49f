"""What a class may choose from: the sentences of its page, and what the terminal says of it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from cardmaker.model.bench import SessionPlan
from cardmaker.model.school_class import ClassPlan, Offer, SchoolClass, Student
from cardmaker.school import class_words
from cardmaker.wording import phrases
from cardmaker.wording.formatters import duration

LONGEST_ASIDE: Final = 44  # letters
# Whose pace it is: the loom's file tells that of one weaver; that beginners are slower is common practice, no source.
WHOSE_PACE: Final = (
    "Times are at the pace in the loom’s file, of somebody who has woven a tape or two: beginners take much longer."
)


def head_of_offer(school_class: SchoolClass) -> str:
    """The head of the page."""
    return f"{school_class.title}: which one?"


def for_whom(offer: Offer, students: Sequence[Student]) -> str:
    """For whom a page is: at which loom, and who of many."""
    seated = f"for those at {offer.loom.title}"
    if len(students) == len(offer.students):
        return seated
    return f"{seated}, {students[0].name} to {students[-1].name}"


def stands_beside_head(whom: str) -> bool:
    """Whether for whom a page is finds room beside its head; it stands below the tapes otherwise."""
    return len(whom) <= LONGEST_ASIDE


def time_in_class(time: SessionPlan | None, session: int) -> str:
    """How long what is done in class takes, and by how much that is longer than it lasts; nothing where the loom's
    file tells no pace."""
    if time is None:
        return ""
    about = f"about {_kept(time.needed_minutes)} in class"
    over = time.needed_minutes - session
    return f"{about}, {_kept(over)} longer than it lasts" if session and over > 0 else about


def _kept(minutes: int) -> str:
    return duration(minutes).replace(" ", phrases.NO_BREAK)


def foot_of_offer(school_class: SchoolClass, whom: str, *, has_times: bool) -> str:
    """What stands below the tapes."""
    told = "" if stands_beside_head(whom) else phrases.capitalised(phrases.sentence(whom))
    return " ".join(part for part in (told, WHOSE_PACE if has_times else "", class_words.foot(school_class)) if part)


def steps_to_choose(plan: ClassPlan, named: str) -> list[str]:
    """What the terminal says while somebody has no pattern: who, and what to do about it. ``named`` is the class as
    the command was given it."""
    if not plan.undecided:
        return []
    if plan.is_open:
        do = "write what is chosen behind each name, as in pattern: " + plan.school_class.choose_from[0]
        return [f"Nobody has chosen yet. Next: let each tick one tape, {do}, then run: cardmaker class {named}"]
    return [f"{not_chosen(plan)} Write a pattern behind each of these names, then run: cardmaker class {named}"]


def not_chosen(plan: ClassPlan) -> str:
    """Who has not chosen yet, and what is not made for them."""
    names = [student.name for student in plan.undecided]
    verb, them = ("has", "her") if len(names) == 1 else ("have", "them")
    return f"{phrases.listed(names)} {verb} not chosen yet: nothing is made for {them}."


def not_on_page(plan: ClassPlan) -> list[str]:
    """Which tapes a loom does not hold, so that they are not on its page."""
    return [
        f"The page for {offer.loom.title} leaves out what does not go on it: {phrases.listed(offer.not_held)}."
        for offer in plan.open_offers
        if offer.not_held
    ]


def not_in_sums(plan: ClassPlan) -> str:
    """That those who have not chosen are in no count of the teacher's sheets; nothing where all have."""
    if not plan.undecided:
        return ""
    names = [student.name for student in plan.undecided]
    verb, them = ("has", "her") if len(names) == 1 else ("have", "them")
    return f"{phrases.listed(names)} {verb} not chosen yet. No figure on this sheet counts {them}."
