"""A loom file: from its text to a :class:`Loom`, or to every problem in it."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cardmaker.model.loom import (
    DEEPEST_DIP,
    HEAVIEST_PRESS_G,
    LEAST_DIP_MM,
    LIGHTEST_PRESS_G,
    LONGEST_FREE_MM,
    LONGEST_SPAN_MM,
    SHORTEST_SPAN_MM,
    Beam,
    Heddles,
    Loom,
    Mark,
    MeasuredPress,
    MeasuredWaste,
    Packing,
    Press,
    Side,
    Space,
    WeaverPace,
)
from cardmaker.model.problems import NOWHERE
from cardmaker.model.record_class import replace
from cardmaker.reading import limits
from cardmaker.reading.fields import FieldReader, parsed
from cardmaker.reading.value_words import quoted

if TYPE_CHECKING:
    from cardmaker.model.dressing_acts import Act

_SHUTTLE_KEYS: Final = {Heddles.ONE: ("down", "up"), Heddles.TWO: ("left_foot", "right_foot")}

_FRONT_RISES: Final = ("front up", "back down")


def parse_loom(text: bytes, file: str, stem: str) -> Loom:
    """The loom that the text of a file describes. Raises ProblemsFound."""
    return parsed(text, file, "loom", lambda top: _loom(top, stem))


def loom_in_place(part: FieldReader) -> Loom:
    """A loom whose spaces stand in another kind of file: it has no file of its own, and without a title it is called by
    them."""
    loom = _loom(part, "")
    spaces = f"{loom.slots} slots and {loom.holes} holes"
    return replace(loom, title=loom.title or spaces, stem=loom.title or spaces, places=NOWHERE)


def _loom(top: FieldReader, stem: str) -> Loom:
    heddles = Heddles(top.choice("kind", Heddles.ONE))
    _check_back_heddle(top)
    waste, waste_front = _waste(top)
    tie_up, measured = top.part("tie_up"), top.part("measured")
    front_raised_by = _tie_up(tie_up, heddles)
    shuttle = top.part("shuttle")
    down, up = _shuttle(shuttle, heddles)
    if front_raised_by is Side.RIGHT:  # the keys tell the left foot's side first, the record that of the down shed
        down, up = up, down
    return Loom(
        title=top.line("title"),
        stem=stem,
        heddles=heddles,
        slots=top.count("slots"),
        holes=top.count("holes"),
        outer=_outer(top),
        mark=Mark(top.choice("mark", Mark.ZERO)),
        back_heddle=top.choice("back_heddle"),
        hole_size_mm=top.length("hole_size", limit=limits.HOLE),
        beam=top.group("beam", _beam),
        packing=top.group("packing", _packing),
        waste_mm=waste,
        waste_front_mm=waste_front,
        weaving_zone_mm=top.group("weaving_zone", _weaving_zone),
        shuttle_down=down,
        shuttle_stated=shuttle is not None,
        shuttle_up=up,
        shuttle_length_mm=top.length("shuttle_length", limit=limits.SHUTTLE),
        threads_from=top.choice("threads_from", "front"),
        marked_as=top.line("marked_as"),
        places=top.problems.places,
        shuttle_holds=top.choice("shuttle_holds"),
        front_raised_by=front_raised_by,
        shuttle_by_foot=heddles is Heddles.TWO and front_raised_by is None and shuttle is not None,
        press=top.group("press", _press),
        measured_press=measured.group("press", _measured_press) if measured else None,
        measured_waste=measured.group("waste", _measured_waste) if measured else None,
        pace=top.group("pace", _pace),
        beam_first=top.choice("dressing") == "beam first",
        cloth_beam=top.choice("cloth_beam") == "yes",
        shuttle_kind=top.choice("shuttle_kind", "flat"),
        own_words=top.group("own_words", _own_words) or (),
    )


def _outer(top: FieldReader) -> Space:
    """The kind of the outermost spaces: the one there are more of, since slots and holes alternate (parity)."""
    slots, holes, stated = (top.values.get(key) for key in ("slots", "holes", "outer"))
    if slots is None or holes is None:
        return Space(stated or Space.SLOT)
    if abs(slots - holes) > 1:
        message = f"{slots:,} slots and {holes:,} holes cannot alternate."
        top.report("holes", message, "They may differ by one at most; count them again.")
    if slots == holes:
        if stated is None and not top.is_wrong("outer"):
            message = (
                f"with {slots:,} slots and {holes:,} holes, one side begins with a slot and the other with a hole."
            )
            top.report("holes", message, "Add outer: slot or outer: hole, whichever is leftmost as the weaver sits.")
        return Space(stated or Space.SLOT)
    larger = Space.SLOT if slots > holes else Space.HOLE
    if stated is not None and stated != larger and abs(slots - holes) == 1:
        message = f"with {slots:,} slots and {holes:,} holes, both outer spaces are {larger}s."
        top.report("outer", message, f"Write outer: {larger}, or take the line out.")
    return larger


def _check_back_heddle(top: FieldReader) -> None:
    kind, back = top.values.get("kind"), top.values.get("back_heddle")
    if kind == Heddles.TWO and back is None and not top.is_wrong("back_heddle"):
        remedy = "Add back_heddle: same, or back_heddle: opposite when it has slots where the front one has holes."
        top.report("kind", "two heddles need to say how the back one is made.", remedy)
    if kind == Heddles.ONE and back is not None:
        top.report("back_heddle", "a loom with one heddle has no back heddle.", "Take the line out.", at_key=True)


def _shuttle(part: FieldReader | None, heddles: Heddles) -> tuple[Side, Side]:
    """The sides that the shuttle travels to in the down and the up shed; they must differ, or it never comes back."""
    if part is None:
        return Side.LEFT, Side.RIGHT
    wanted = _SHUTTLE_KEYS[heddles]
    for key in part.values:
        if key not in wanted:
            message = f"'{key}' does not belong to a loom with {heddles}."
            part.report(key, message, f"Write {wanted[0]} and {wanted[1]}.", at_key=True)
    first, second = (part.values.get(key) for key in wanted)
    for key in wanted:
        if key not in part.values and not part.is_wrong(key):
            part.report(None, f"'{key}' is missing.", f"Write it as in {wanted[0]}: left, {wanted[1]}: right.")
    if first is not None and first == second:
        message = f"the shuttle cannot travel to the {first} in both sheds."
        part.report(wanted[1], message, "One must be left and the other right.")
    return Side(first or Side.LEFT), Side(second or Side.RIGHT)


def _waste(top: FieldReader) -> tuple[Fraction | None, Fraction | None]:
    """All of the waste, and what of it lies in front where the file says so."""
    parts = top.part("waste")
    if parts is None:
        return (None if top.is_wrong("waste") else top.length("waste", or_nought=True, limit=limits.WASTE)), None
    front, back = (parts.length(key, or_nought=True, limit=limits.WASTE) or Fraction(0) for key in ("front", "back"))
    if not parts.is_wrong() and not limits.WASTE.holds(front + back):
        parts.report(None, f"the two parts come to more than {limits.WASTE.most} together.", "Check the lengths.")
    return front + back, front


def _tie_up(part: FieldReader | None, heddles: Heddles) -> Side | None:
    """The foot that raises the front heddle. The two heddles move opposite ways, and the two feet do the opposite."""
    if part is None:
        return None
    if heddles is Heddles.ONE:
        part.report(None, "a loom with one heddle has no treadles.", "Take the line out.")
        return None
    raises_front = {foot: move in _FRONT_RISES for foot, move in part.values.items()}
    if len(raises_front) < len(Side):
        return None  # the schema has told what is missing or wrong
    if raises_front["left_foot"] == raises_front["right_foot"]:
        heddle = "front" if raises_front["left_foot"] else "back"
        message = f"both feet would raise the {heddle} heddle, since one heddle rises as the other sinks."
        part.report("right_foot", message, "Press each treadle, and write down what its heddle does.")
        return None
    return Side.LEFT if raises_front["left_foot"] else Side.RIGHT


def _beam(part: FieldReader) -> Beam:
    diameter = part.length("diameter", limit=limits.BEAM)
    return Beam(diameter or Fraction(0), part.choice("held_by", "stick"), part.count("stops_per_turn"))


def _packing(part: FieldReader) -> Packing:
    thickness, width = part.length("thickness", limit=limits.PACKING), part.length("width", limit=limits.STICK_WIDTH)
    return Packing(thickness or Fraction(0), width or Fraction(0), part.count("every_turns"))


def _press(part: FieldReader) -> Press | None:
    weight, span, free = part.weight("weight"), part.length("span"), part.length("free_length")
    _check_weight(part, weight)
    _check_span(part, span)
    if free is not None and free > LONGEST_FREE_MM:
        message = f"{quoted(part.values['free_length'])} of warp would be longer than any room."
        part.report("free_length", message, f"Write {LONGEST_FREE_MM // 1000} m or less.")
    if free is not None and span is not None and free < span:
        message = "the warp that is free to stretch cannot be shorter than the clear span of it."
        part.report("free_length", message, "Measure from where the tape is held to where the warp leaves the beam.")
    return None if span is None else Press(span, weight, free)


def _measured_press(part: FieldReader) -> MeasuredPress | None:
    weight, span, dip = part.weight("weight"), part.length("span"), part.length("dip")
    _check_weight(part, weight)
    _check_span(part, span)
    if dip is not None and dip < LEAST_DIP_MM:
        message = f"a dip of {quoted(part.values['dip'])} is too small to be read off a gauge."
        part.report("dip", message, f"Hang a weight that dips it by {LEAST_DIP_MM} mm or more, best 4 to 6 mm.")
    if dip is not None and span is not None and dip > DEEPEST_DIP * span:
        message = "the dip is more than a tenth of the span: there the weight stretches the yarn, and tells no pull."
        part.report("dip", message, "Hang a lighter weight, best one that dips it by 4 to 6 mm.")
    ends, tex, fibre = (part.choice(key) for key in ("ends", "tex", "fibre"))
    if weight is None or span is None or dip is None or ends is None or tex is None or fibre is None:
        return None
    return MeasuredPress(weight, span, dip, ends, Fraction(tex), fibre, part.line("pattern"), part.line("date"))


def _measured_waste(part: FieldReader) -> MeasuredWaste | None:
    length = part.length("length", or_nought=True, limit=limits.WASTE)
    return None if length is None else MeasuredWaste(length, part.line("pattern"), part.line("date"))


def _check_weight(part: FieldReader, weight: Fraction | None) -> None:
    """Not lighter than a kitchen scale shows, and not so heavy that it is a load and no test."""
    if weight is not None and weight and not LIGHTEST_PRESS_G <= weight <= HEAVIEST_PRESS_G:
        wrong = "less than a kitchen scale shows" if weight < LIGHTEST_PRESS_G else "a load, not a test"
        remedy = f"Write {LIGHTEST_PRESS_G} g to {HEAVIEST_PRESS_G // 1000} kg."
        part.report("weight", f"{quoted(part.values['weight'])} is {wrong}.", remedy)


def _check_span(part: FieldReader, span: Fraction | None) -> None:
    """Not so short that a dip that can be read only stretches the yarn, and not longer than a loom."""
    if span is not None and span and not SHORTEST_SPAN_MM <= span <= LONGEST_SPAN_MM:
        wrong = "not enough for a dip to tell the pull" if span < SHORTEST_SPAN_MM else "longer than any loom"
        remedy = f"Write {SHORTEST_SPAN_MM // 10} cm to {LONGEST_SPAN_MM // 1000} m."
        part.report("span", f"{quoted(part.values['span'])} of clear warp is {wrong}.", remedy)


def _pace(part: FieldReader) -> WeaverPace:
    session, picked = part.choice("session_minutes"), part.choice("picked_rows_per_minute")
    return WeaverPace(
        winding_seconds=Fraction(part.choice("winding", 0)),
        threading_seconds=Fraction(part.choice("threading", 0)),
        picks_per_minute=Fraction(part.choice("picks_per_minute", 1)),
        fixed_minutes=Fraction(part.choice("fixed_minutes", 0)),
        session_minutes=None if session is None else Fraction(session),
        picked_rows_per_minute=None if picked is None else Fraction(picked),
    )


def _own_words(part: FieldReader) -> tuple[tuple[Act, str], ...]:
    """What a weaver says of a step, in the order of the steps."""
    from cardmaker.model.dressing_acts import Act

    return tuple((act, words) for act in Act if (words := part.line(act.value)))


def _weaving_zone(part: FieldReader) -> tuple[Fraction, Fraction] | None:
    zone = limits.WEAVING_ZONE
    start, stop = part.length("from", or_nought=True, limit=zone), part.length("to", limit=zone)
    if start is None or stop is None:
        return None
    if start >= stop:
        part.report("to", "the weaving zone ends before it begins.", "Let 'to' be farther from the heddle than 'from'.")
    return start, stop
