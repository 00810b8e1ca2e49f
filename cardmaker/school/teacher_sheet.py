"""The teacher's sheet: who has what, whether it fits the session, the tools, and what to watch for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

from cardmaker.card.panels.ribbon_panel import ribbon_cut
from cardmaker.layout.pages.blocks import Block, Gap, Heading, KeepTogether, Paragraph
from cardmaker.layout.pages.leaf import Leaf
from cardmaker.layout.pages.page_flow import Running, flow
from cardmaker.layout.table_setting import Column, Row, Table
from cardmaker.layout.type_setting import Span
from cardmaker.model.marks import Face, Page, Ruler
from cardmaker.model.plan import Note, Plan
from cardmaker.model.school_class import ClassPlan, Kit, SchoolClass
from cardmaker.reckoning.stripes.colour_clash import colour_clash_notes
from cardmaker.reckoning.weaving.working_time import kit_time
from cardmaker.school import class_words, kit_words, offer_words
from cardmaker.school.handout_sheets import WHOLE, Size, student_plan
from cardmaker.school.time_bars_drawing import Bar, time_bars
from cardmaker.wording import note_words, phrases, title_words, walk_words, winding_words
from cardmaker.wording.formatters import Units, duration

MOST_TOGETHER = 6  # of a heading, bars and a remark
_FIGURES = frozenset({"kit", "ends", "empty left", "empty right"})


def compose_teacher(plan: ClassPlan, size: Size, ruler: Ruler, units: Units) -> tuple[Page, ...]:
    """All that the teacher wants to have at hand, on as many pages as it takes."""
    leaf = Leaf(WHOLE[size], ruler)
    blocks = [
        *_who_has_what(plan, units),
        *_time(plan, leaf, units),
        *_kits(plan),
        *_tools(plan),
        *_watch(plan, units),
        *_notes(plan),
        *_care(units),
    ]
    return flow(blocks, leaf, running_head(plan.school_class, class_words.TEACHER))


def running_head(school_class: SchoolClass, sheet: str) -> Running:
    """What stands above and below every page of a sheet that is the teacher's own."""
    return Running(school_class.title, class_words.subtitle(school_class, sheet), class_words.foot(school_class))


def small_paragraph(
    text: str, *, strong: str = "", small: bool = False, mark: bool = False, tick: bool = False
) -> Paragraph:
    """A paragraph of plain words, after a few strong ones."""
    spans = (*((Span(strong, Face.SANS_SEMIBOLD),) if strong else ()), Span(text))
    return Paragraph(spans, "small" if small else "body", "tick" if tick else "dot" if mark else "none")


# who has what


def _who_has_what(plan: ClassPlan, units: Units) -> list[Block]:
    columns = tuple(
        Column(head, "right" if head in _FIGURES else "left", strong=head in ("name", "ends"), grows=head == "name")
        for head in class_words.WHO_HEADS
    )
    rows = tuple(Row(_cells(kit, units)) for kit in plan.kits)
    lacking = offer_words.not_in_sums(plan)
    return [
        Heading(class_words.WHO, class_words.looms(_looms(plan))),
        Table("who has what", columns, rows),
        *([small_paragraph("", strong=lacking)] if lacking else []),
        small_paragraph(class_words.SIDES, small=True),
    ]


def _cells(kit: Kit, units: Units) -> tuple[str, ...]:
    plan = student_plan(kit)
    placement = plan.placement
    empty = (placement.empty_left, placement.empty_right)
    left, right = reversed(empty) if plan.view.left_hand else empty
    return (
        str(kit.number),
        kit.student.name if kit.student else class_words.SPARE,
        class_words.handout(kit, units),
        plan.loom.title,
        title_words.card_title(plan.pattern, brief=True),
        str(plan.ends),
        class_words.first_space(plan),
        str(left),
        str(right),
        walk_words.finish(plan),
    )


def _looms(plan: ClassPlan) -> list[tuple[str, int]]:
    """The looms that the students sit at, with how many of each."""
    titles = [kit.plan.loom.title for kit in plan.students]
    return [(title, titles.count(title)) for title in dict.fromkeys(titles)]


# the time


def _time(plan: ClassPlan, leaf: Leaf, units: Units) -> list[Block]:
    session = plan.school_class.session_minutes
    if session is None:
        return [KeepTogether((Heading(class_words.TIME), small_paragraph(class_words.NO_SESSION)))]
    wound, threaded = plan.school_class.wound_beforehand, plan.school_class.threaded_beforehand
    times = [
        (each, kit_time(each, session, wound_beforehand=wound, threaded_beforehand=threaded))
        for each in plan.plans
        if _followers(plan, each)
    ]
    timed = [(each, time) for each, time in times if time is not None]
    length = duration(int(session))
    blocks: list[Block] = [Heading(class_words.TIME, class_words.session_of(plan.school_class, int(session)))]
    if timed:
        bars = [Bar(class_words.time_steps(each, time), class_words.STEPS, time.steps) for each, time in timed]
        pace = small_paragraph(
            f"{class_words.steps_key(plan.school_class)} {class_words.whose_pace([each for each, _ in timed])}",
            small=True,
        )
        pictures = time_bars(bars, int(session), length, leaf)
        blocks = _in_company([*blocks, *pictures, pace])
    blocks += [
        small_paragraph(class_words.session_sentence(time, _followers(plan, each), units), mark=True)
        for each, time in timed
    ]
    blocks += _winding_beforehand(plan) if wound else []
    slow = list(dict.fromkeys(each.loom.title for each, time in times if time is None))
    return [*blocks, *([small_paragraph(class_words.no_pace(slow))] if slow else [])]


def _winding_beforehand(plan: ClassPlan) -> list[Block]:
    """How long it takes to wind all kits, the spare ones too, at the pace of the looms' files."""
    counts = Counter(
        None if (time := kit_time(kit.plan, Fraction(0))) is None else time.work.winding_minutes for kit in plan.kits
    )
    unknown = counts.pop(None, 0)
    known = [(count, minutes) for minutes, count in counts.items() if minutes is not None]
    words = class_words.winding_beforehand(known, unknown)
    return [small_paragraph(words, mark=True)] if words else []


def _in_company(blocks: Sequence[Block]) -> list[Block]:
    """A heading, bars and a remark: together where they are few, else the first two bars and the last two."""
    if len(blocks) <= MOST_TOGETHER:
        return [KeepTogether(tuple(blocks))]
    return [KeepTogether(tuple(blocks[:3])), *blocks[3:-3], KeepTogether(tuple(blocks[-3:]))]


def _followers(plan: ClassPlan, each: Plan) -> list[str]:
    """The names of the students who follow this plan."""
    return [kit.student.name for kit in plan.students if kit.plan is each and kit.student]


# the kits and the tools


def _kits(plan: ClassPlan) -> list[Block]:
    """What goes into the kits of each pattern, and how many of them there are, to tick when they are packed."""
    lines = [
        small_paragraph(
            kit_words.kit_holds(each, plan.school_class.done),
            strong=class_words.kits_of(sum(kit.plan is each for kit in plan.kits), each),
            tick=True,
        )
        for each in plan.plans
    ]
    return [KeepTogether((Heading(kit_words.IN_EACH), *lines[:MOST_TOGETHER])), *lines[MOST_TOGETHER:]]


def _tools(plan: ClassPlan) -> list[Block]:
    windings = [kit.plan.winding for kit in plan.kits]
    crosses = sum(winding.bundles if winding.method == "bundle" else 1 for winding in windings)
    shares = Counter(
        (kit.plan.beam.sticks, class_words.pattern_on_loom(kit.plan)) for kit in plan.students if kit.plan.beam
    )
    is_unknown = any(kit.plan.beam is None for kit in plan.students)
    sticks = class_words.packing([(count, each, on) for (each, on), count in shares.items()], is_unknown)
    cut = dict.fromkeys(kit.plan.pattern.title for kit in plan.students if not ribbon_cut(kit.plan).is_whole)
    gauge = class_words.gauges(len(plan.students), list(cut))
    lines = class_words.tools(len(plan.kits), len(plan.students), sticks, crosses, gauge, plan.school_class.done)
    return [KeepTogether((Heading(class_words.TOOLS), *(small_paragraph(each, tick=True) for each in lines)))]


# what to watch for


def _watch(plan: ClassPlan, units: Units) -> list[Block]:
    blocks: list[Block] = [Heading(class_words.WATCH)]
    for each in plan.plans:
        ticks = _told_by_hand(plan, each, walk_words.ticks_called_out)
        changes = _told_by_hand(plan, each, winding_words.far_changes)
        words = [walk_words.trips(each), *changes, *ticks, *_warned(each, units)]
        blocks.append(
            small_paragraph(" ".join(word for word in words if word), strong=f"{class_words.pattern_seen(each)}:")
        )
    left = [kit.student.name for kit in plan.students if kit.student and kit.left_hand]
    if left:
        blocks.append(small_paragraph(class_words.left_hands(left), strong=class_words.LEFT_HANDS))
    return blocks


def _told_by_hand(plan: ClassPlan, each: Plan, told: Callable[[Plan], str]) -> list[str]:
    """What is told of a warp, for a left hand as well where one winds it from the other edge and it differs."""
    kits = (kit for kit in plan.kits if kit.plan is each)
    lines = {kit.left_hand: told(student_plan(kit)) for kit in kits}
    if len(set(lines.values())) == 1:
        return list(lines.values())[:1]
    left = lines[True]
    return [lines[False], f"{class_words.BY_LEFT_HAND} {left[:1].lower()}{left[1:]}"]


def _warned(plan: Plan, units: Units) -> Iterator[str]:
    """Warnings and advice of the plan; which loom was chosen is no news here."""
    notes: Sequence[Note] = (*colour_clash_notes(plan), *plan.notes)
    for note in sorted(notes, key=lambda note: note.kind != "warning"):
        if note.kind != "caution" and note.about != "loom":
            yield note_words.note_sentence(note, units)


def _notes(plan: ClassPlan) -> list[Block]:
    """The teacher's notes of each pattern once, then those of the class."""
    patterns = {id(each.pattern): each.pattern for each in plan.plans}.values()
    blocks: list[Block] = []
    for pattern in patterns:
        notes = _noted(pattern.notes.teacher)
        if notes:
            blocks.append(KeepTogether((small_paragraph("", strong=title_words.card_title(pattern)), notes[0])))
            blocks += notes[1:]
    if blocks:
        blocks.insert(0, Heading(class_words.FROM_PATTERNS))
    own: list[Block] = [*_noted(plan.school_class.notes)]
    return [*blocks, *([Heading(class_words.OWN_NOTES), *own] if own else [])]


def _noted(texts: Sequence[str]) -> list[Paragraph]:
    """Every paragraph of some notes, hung beside a dot."""
    return [small_paragraph(note, mark=True) for text in texts for note in phrases.text_paragraphs(text)]


def _care(units: Units) -> list[Block]:
    """What a teacher answers for; the venue's rules go first."""
    notes = [Note("caution", "pegs", "across_a_room", {}), Note("caution", "use", "children", {})]
    lines = [class_words.VENUE_FIRST, class_words.COMFORT, *(note_words.note_sentence(note, units) for note in notes)]
    return [KeepTogether((Heading(class_words.CARE), *(small_paragraph(each, mark=True) for each in lines))), Gap(1.0)]
