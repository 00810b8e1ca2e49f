"""What a class may choose from: pages for each loom, of the tapes that it holds, with names to tick beside each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING, Final, NamedTuple

from cardmaker.card.sheet import Choosers
from cardmaker.jobs.class_planning import folder_around_class
from cardmaker.jobs.file_lookup import find
from cardmaker.jobs.loading import load_sheet
from cardmaker.jobs.paper_lookup import paper_of
from cardmaker.model.problems import ProblemsFound, Refusal, problem_from
from cardmaker.reckoning.weaving.working_time import kit_time
from cardmaker.school import offer_words

if TYPE_CHECKING:
    from cardmaker.layout.yarn_inks import Hatches
    from cardmaker.model.card_layout import CardLayout
    from cardmaker.model.marks import Page
    from cardmaker.model.plan import Plan
    from cardmaker.model.school_class import ClassPlan, Offer, SchoolClass, Student
    from cardmaker.school.handout_sheets import Size
    from cardmaker.tape_sheet.sheet_pages import SheetPages, Tape
    from cardmaker.wording.formatters import Units

PAGE: Final = "choose"
MOST_NAMES: Final = 16  # beside each tape of a page; of more students at one loom each part has pages of its own


class ChoosingPages(NamedTuple):
    """The pages, what found no room on them, by the tapes' titles, and the layout that they were made by."""

    pages: tuple[Page, ...]
    left_out: tuple[tuple[str, tuple[str, ...]], ...]
    layout: CardLayout


def choosing_pages(plan: ClassPlan, size: Size, units: Units, hatches: Hatches) -> ChoosingPages:
    """The pages of every loom at which somebody has not chosen yet. Raises ProblemsFound."""
    layout = load_sheet(find("sheet", PAGE, folder_around_class(plan.school_class)))
    try:
        made = [
            _pages(plan, offer, students, layout, size, units, hatches)
            for offer in plan.open_offers
            for students in _parted(offer.students)
        ]
    except Refusal as refusal:
        raise ProblemsFound([problem_from(refusal, layout.places)]) from None
    left_out = dict.fromkeys(each for pages in made for each in pages.left_out)
    return ChoosingPages(tuple(page for pages in made for page in pages.pages), tuple(left_out), layout)


def _parted(students: Sequence[Student]) -> Iterator[Sequence[Student]]:
    """So many that their names find room beside a tape, about as many in each part; parts of whom nobody has to choose
    any more are left out."""
    parts = ceil(len(students) / MOST_NAMES)
    each = ceil(len(students) / parts)
    for start in range(0, len(students), each):
        part = students[start : start + each]
        if not all(student.pattern for student in part):
            yield part


def _pages(
    plan: ClassPlan,
    offer: Offer,
    students: Sequence[Student],
    layout: CardLayout,
    size: Size,
    units: Units,
    hatches: Hatches,
) -> SheetPages:
    """Raises Refusal."""
    from cardmaker.pdf.fonts import RULER
    from cardmaker.tape_sheet.sheet_pages import compose_tape_sheet

    school_class = plan.school_class
    tapes = [_tape(plan, each, students) for each in offer.plans]
    whom = offer_words.for_whom(offer, students)
    note = offer_words.foot_of_offer(school_class, whom, has_times=any(tape.choosers.time for tape in tapes))
    return compose_tape_sheet(
        tapes, layout, paper_of(layout, size), RULER, units, hatches,
        offer_words.head_of_offer(school_class), note,
        whom if offer_words.stands_beside_head(whom) else "",
    )  # fmt: skip


def _tape(plan: ClassPlan, each: Plan, students: Sequence[Student]) -> Tape:
    """A tape with the names of all who may tick it, and of all who have chosen it."""
    from cardmaker.tape_sheet.sheet_pages import Tape

    file = each.pattern.places.file
    has_it = {kit.student for kit in plan.students if kit.plan.pattern.places.file == file}
    names = tuple(student.name for student in students if not student.pattern)
    decided = tuple(student.name for student in students if student in has_it)
    return Tape(each, choosers=Choosers(names, decided, _time(plan.school_class, each)))


def _time(school_class: SchoolClass, each: Plan) -> str:
    session = school_class.session_minutes or Fraction(0)
    time = kit_time(
        each, session,
        wound_beforehand=school_class.wound_beforehand, threaded_beforehand=school_class.threaded_beforehand,
    )  # fmt: skip
    return offer_words.time_in_class(time, int(session))
