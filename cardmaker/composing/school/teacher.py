"""The teacher's sheet: who has what, whether it fits the session, the tools, and what to watch for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardmaker.composing import class_words as said
from cardmaker.composing import note_words, wording
from cardmaker.composing.likeness import alike_notes
from cardmaker.composing.measures import Units
from cardmaker.composing.pages import (
    Block,
    Column,
    Gap,
    Heading,
    KeepTogether,
    Leaf,
    Paragraph,
    Row,
    Running,
    Table,
    flow,
)
from cardmaker.composing.school.bars import Bar, time_bars
from cardmaker.composing.school.handouts import WHOLE, Size, seen_plan
from cardmaker.composing.setting import Span
from cardmaker.nouns.marks import Face, Page
from cardmaker.nouns.plan import Note, Plan
from cardmaker.nouns.ruler import Ruler
from cardmaker.nouns.school_class import ClassPlan, Kit
from cardmaker.reckoning.class_time import kit_time

_FIGURES = frozenset({"kit", "ends", "empty left", "empty right"})


def compose_teacher(plan: ClassPlan, size: Size, ruler: Ruler, units: Units) -> tuple[Page, ...]:
    """All that the teacher wants to have at hand, on as many pages as it takes."""
    leaf, school_class = Leaf(WHOLE[size], ruler), plan.school_class
    running = Running(school_class.title, said.subtitle(school_class, said.TEACHER), said.foot(school_class))
    blocks = [
        *_who_has_what(plan),
        *_time(plan, leaf, units),
        *_tools(plan),
        *_watch(plan, units),
        *_notes(plan),
        *_care(units),
    ]
    return flow(blocks, leaf, running)


def paragraph(text: str, *, strong: str = "", small: bool = False, mark: bool = False, tick: bool = False) -> Paragraph:
    """A paragraph of plain words, after a few strong ones."""
    spans = (*((Span(strong, Face.SANS_SEMIBOLD),) if strong else ()), Span(text))
    return Paragraph(spans, "small" if small else "body", "tick" if tick else "dot" if mark else "none")


# who has what


def _who_has_what(plan: ClassPlan) -> list[Block]:
    columns = tuple(
        Column(head, "right" if head in _FIGURES else "left", strong=head in ("name", "ends"), grows=head == "name")
        for head in said.WHO_HEADS
    )
    rows = tuple(Row(_cells(kit)) for kit in plan.kits)
    return [Heading(said.WHO, said.looms(_looms(plan))), Table("who has what", columns, rows)]


def _cells(kit: Kit) -> tuple[str, ...]:
    seen = seen_plan(kit)
    placement = seen.placement
    empty = (placement.empty_left, placement.empty_right)
    left, right = reversed(empty) if seen.loom.sides_swapped else empty
    return (
        str(kit.number),
        kit.student.name if kit.student else said.SPARE,
        ("left" if kit.left_hand else "right") if kit.student else "",
        seen.loom.title,
        said.pattern_name(seen.pattern),
        str(seen.ends),
        said.first_space(seen),
        str(left),
        str(right),
        said.winding_ends(seen),
    )


def _looms(plan: ClassPlan) -> list[tuple[str, int]]:
    """The looms that the students sit at, with how many of each."""
    titles = [kit.plan.loom.title for kit in plan.students]
    return [(title, titles.count(title)) for title in dict.fromkeys(titles)]


# the time


def _time(plan: ClassPlan, leaf: Leaf, units: Units) -> list[Block]:
    session = plan.school_class.session_minutes
    if session is None:
        return [KeepTogether((Heading(said.TIME), paragraph(said.NO_SESSION)))]
    beforehand = plan.school_class.wound_beforehand
    found = [(each, kit_time(each, session, wound_beforehand=beforehand)) for each in plan.plans if _who(plan, each)]
    timed = [(each, time) for each, time in found if time is not None]
    length = said.duration(int(session))
    blocks: list[Block] = [Heading(said.TIME, said.session_of(plan.school_class, int(session)))]
    if timed:
        bars = [Bar(said.time_steps(each, time), said.STEPS, time.steps) for each, time in timed]
        pace = paragraph(f"{said.STEPS_KEY} {said.PACE_IS_HERS}", small=True)
        blocks = [KeepTogether((*blocks, time_bars(bars, int(session), length, leaf), pace))]
    blocks += [paragraph(said.session_sentence(time, _who(plan, each), units), mark=True) for each, time in timed]
    slow = list(dict.fromkeys(each.loom.title for each, time in found if time is None))
    return [*blocks, *([paragraph(said.no_pace(slow))] if slow else [])]


def _who(plan: ClassPlan, each: Plan) -> list[str]:
    """The names of the students who follow this plan."""
    return [kit.student.name for kit in plan.students if kit.plan is each and kit.student]


# the tools


def _tools(plan: ClassPlan) -> list[Block]:
    beams = [kit.plan.beam for kit in plan.students]
    sticks = sum(beam.sticks for beam in beams if beam is not None)
    told = said.tools(len(plan.kits), len(plan.students), sticks, None in beams)
    return [KeepTogether((Heading(said.TOOLS), *(paragraph(each, tick=True) for each in told)))]


# what to watch for


def _watch(plan: ClassPlan, units: Units) -> list[Block]:
    blocks: list[Block] = [Heading(said.WATCH)]
    for each in plan.plans:
        words = [wording.trips(each), said.far_changes(each), *_warned(each, units)]
        blocks.append(paragraph(" ".join(word for word in words if word), strong=f"{said.on_loom(each)}:"))
    left = [kit.student.name for kit in plan.students if kit.student and kit.left_hand]
    if left:
        blocks.append(paragraph(said.left_hands(left), strong=said.LEFT_HANDS))
    return blocks


def _warned(plan: Plan, units: Units) -> Iterator[str]:
    """Warnings and advice of the plan; which loom was chosen is no news here."""
    notes: Sequence[Note] = (*alike_notes(plan), *plan.notes)
    for note in sorted(notes, key=lambda note: note.kind != "warning"):
        if note.kind != "caution" and note.about != "loom":
            yield note_words.note(note, units)


def _notes(plan: ClassPlan) -> list[Block]:
    """The teacher's notes of each pattern once, then those of the class."""
    patterns = {id(each.pattern): each.pattern for each in plan.plans}.values()
    blocks: list[Block] = []
    for pattern in patterns:
        notes = [paragraph(note, mark=True) for text in pattern.notes.teacher for note in _parts(text)]
        if notes:
            blocks.append(KeepTogether((paragraph("", strong=said.pattern_name(pattern)), notes[0])))
            blocks += notes[1:]
    if blocks:
        blocks.insert(0, Heading(said.FROM_PATTERNS))
    own: list[Block] = [paragraph(note, mark=True) for text in plan.school_class.notes for note in _parts(text)]
    return [*blocks, *([Heading(said.OWN_NOTES), *own] if own else [])]


def _parts(text: str) -> list[str]:
    """A text as its paragraphs."""
    return [" ".join(part.split()) for part in text.split("\n\n") if part.strip()]


def _care(units: Units) -> list[Block]:
    """What a teacher answers for; the venue's rules go first."""
    notes = [Note("caution", "pegs", "across_a_room", {}), Note("caution", "use", "children", {})]
    told = [said.VENUE_FIRST, *(note_words.note(note, units) for note in notes)]
    return [KeepTogether((Heading(said.CARE), *(paragraph(each, mark=True) for each in told))), Gap(1.0)]
