"""The pieces that come off one warp: how many, how long on the loom, what to leave bare, where to cut, what is left."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Final

from cardmaker.model.plan import Lengths, PlannedPiece
from cardmaker.model.units import MM_PER_INCH
from cardmaker.wording.formatters import Units, piece_length, piece_length_alone, tape_at_least, woven_length
from cardmaker.wording.phrases import NO_BREAK, capitalised, listed, so_many

PIECES: Final = "Pieces"
CUT_WITHOUT_FRINGE: Final = "throw two picks of another colour and cut between them"
"""Common practice, no source."""
_CUT_IN_BRIEF: Final = "two picks of another colour; cut the tape there."  # the same
_CUT_IN_BRIEFEST: Final = "2 picks of another colour; cut there."
_PICKS_BETWEEN: Final = f"two{NO_BREAK}picks of another colour"  # the same
_MARKS_BETWEEN: Final = f"2{NO_BREAK}marker picks"  # the same in the fewest words
CUT_HALFWAY: Final = "cut halfway"


def how_many(count: int, purpose: str) -> str:
    return f"{count}{NO_BREAK}×{NO_BREAK}{purpose}"


def pieces_that_come(lengths: Lengths) -> str:
    """Every kind with how many of it come, and how many were wanted where those are more."""
    return listed([_of_kind(piece) for piece in lengths.pieces if piece.come or piece.wanted])


def _of_kind(piece: PlannedPiece) -> str:
    return how_many(piece.come, piece.purpose) if piece.come == piece.wanted else _fewer(piece)


def _fewer(piece: PlannedPiece) -> str:
    return f"{piece.come} of {how_many(piece.wanted, piece.purpose)}"


def tape_to_spare(lengths: Lengths, units: Units) -> str:
    """What the warp still gives after the pieces; empty for less than half an inch."""
    if not lengths.pieces_come or lengths.pieces_spare_mm < MM_PER_INCH / 2:
        return ""
    return f"{tape_at_least(lengths.pieces_spare_mm, units)} of tape to spare"


def piece_on_loom(piece: PlannedPiece, units: Units) -> str:
    """One kind: how many, how long each is on the loom and when it is done, and what it takes of the warp."""
    if not piece.come:
        return f"{_of_kind(piece)}: one takes {piece_length(piece.warp_mm, units)} of warp."
    return (
        f"{_of_kind(piece)}: weave {woven_length(piece.on_loom_mm, units)} of each, "
        f"{piece_length(piece.length_mm, units)} washed; {piece_length(piece.warp_mm, units)} of warp"
        f"{' with both fringes' if piece.fringe_mm else ''}."
    )


def where_to_cut(lengths: Lengths, units: Units) -> str:
    """The bare warp before the first piece, the gaps between pieces, and where to cut."""
    row = [piece for piece in lengths.pieces for _ in range(min(piece.come, 2))]
    if not row:
        return ""
    gaps = _gaps(lengths)
    is_even = all(first.fringe_mm == second.fringe_mm for first, second in pairwise(row))
    first, last = row[0].fringe_mm, row[-1].fringe_mm
    bare = [gap for gap in gaps if gap]
    parts = [f"leave bare {_bare_ends(first, last, units)}"] if first or last else []
    if len(bare) == 1 and is_even:
        parts.append(f"{piece_length(bare[0], units)} between two, cut in its middle")
    elif bare:
        parts.append("between two leave each its own fringe, and cut where they meet")
    if 0 in gaps:
        parts.append(f"{'where no fringe is wanted,' if bare else 'between two'} {CUT_WITHOUT_FRINGE}")
    return f"{capitalised('; '.join(parts))}." if parts else ""


def where_to_cut_in_brief(lengths: Lengths, units: Units, *, brief: bool = False) -> str:
    """What to do between two pieces, for a line where each piece has been told with what it leaves bare; ``brief`` for
    one that has little room left."""
    row = [piece for piece in lengths.pieces for _ in range(min(piece.come, 2))]
    gaps = _gaps(lengths)
    bare = [gap for gap in gaps if gap]
    if not bare:
        return _between_in_brief(lengths, brief=brief)
    is_even = all(first.fringe_mm == second.fringe_mm for first, second in pairwise(row))
    if len(bare) == 1 and is_even:
        cut = f"{piece_length_alone(bare[0], units)} between two, cut in its middle"
    else:
        cut = "Cut where the bare ends of two meet"
    return f"{cut}; {f'where none is bare, {CUT_WITHOUT_FRINGE}' if 0 in gaps else ''}".removesuffix("; ") + "."


def _bare_ends(first: Fraction, last: Fraction, units: Units) -> str:
    """What stays bare before the first piece and after the last."""
    if first == last:
        return f"{piece_length(first, units)} before the first and after the last"
    ends = ((first, "before the first"), (last, "after the last"))
    return " and ".join(f"{piece_length(length, units)} {where}" for length, where in ends if length)


def pieces_in_brief(lengths: Lengths, units: Units, *, alone: bool = False) -> str:
    """How long each kind is on the loom and what stays bare, in one line; nothing when none comes. Told ``alone`` in
    the card's own units."""
    kinds = [_kind_on_loom(piece, units, alone=alone) for piece in lengths.pieces if piece.come]
    return f"On the loom: {'; '.join(kinds)}." if kinds else ""


def _kind_on_loom(piece: PlannedPiece, units: Units, *, alone: bool) -> str:
    fringe = piece_length_alone(piece.fringe_mm, units) if alone else piece_length(piece.fringe_mm, units)
    bare = f", bare {fringe} at each end" if piece.fringe_mm else ""
    return f"{piece.purpose} {woven_length(piece.on_loom_mm, units, alone=alone)}{bare}"


def weave_each(lengths: Lengths, units: Units, beaten: Sequence[str] | None) -> list[tuple[str, ...]]:
    """What a student weaves, in the units that stand first: a sentence for each kind of piece, with what lies between
    two, and last how close it is ``beaten``, of which the first is told most fully. One kind alone takes all in one
    sequence, as do the shorter tries, each in fewer words. Nothing when no piece comes; where ``beaten`` is None the
    lengths alone, and where it is empty they and what lies between.

    ``Weave 9 bookmarks, 21 cm each, 5 cm bare between two (cut halfway), 2.5 cm at either end.`` ``Beat about 16 picks
    to the inch.``
    """
    kinds = [f"{_kind_to_weave(piece, units)}." for piece in lengths.pieces if piece.come]
    if not kinds:
        return []
    named = [f"Weave {kinds[0]}", *kinds[1:]]
    if beaten is None:
        return [(" ".join(named),), (" ".join(kinds),)]
    between, shorter = (_between_in_brief(lengths, brief=is_brief) for is_brief in (False, True))
    close = [f"Beat {each}." for each in beaten] or [""]
    rows = [*named[:-1], f"{named[-1]} {between}".rstrip(), *filter(None, close[:1])]
    joined = [[*named, between, each] for each in close]
    brief = [f"{_kind_to_weave(piece, units, brief=True)}." for piece in lengths.pieces if piece.come]
    fewer = [[f"Weave {brief[0]}", *brief[1:], shorter, close[-1]], [*brief, shorter, close[-1]]]
    in_one: list[tuple[str, ...]] = [(" ".join(filter(None, each)),) for each in (*joined, *fewer)]
    return [tuple(rows), *in_one] if len(kinds) > 1 else in_one


def _kind_to_weave(piece: PlannedPiece, units: Units, *, brief: bool = False) -> str:
    """Between two that follow each other both leave their fringe."""
    each, fringe = " each" if piece.come > 1 else "", piece.fringe_mm
    bare = f", {piece_length_alone(fringe, units)} bare at either end" if fringe else ""
    if fringe and piece.come > 1:
        two, ends = ("between", "at the ends") if brief else ("between two", "at either end")
        between = f"{piece_length_alone(2 * fringe, units)} bare {two} ({CUT_HALFWAY})"
        bare = f", {between}, {piece_length_alone(fringe, units)} {ends}"
    return f"{so_many(piece.come, piece.purpose)}, {woven_length(piece.on_loom_mm, units, alone=True)}{each}{bare}"


def pieces_in_a_line(lengths: Lengths, units: Units) -> list[str]:
    """What to weave, how long each is on the loom, and what lies between two, for the line of a small card, the fullest
    first: ``8 bookmarks of 23.5 cm, 5.1 cm bare between``, ``8 × 23.5 cm, 5.1 cm bare between``."""
    row = [piece for piece in lengths.pieces for _ in range(min(piece.come, 2))]
    gaps = _gaps(lengths)
    is_even = len({piece.fringe_mm for piece in row}) == 1
    told = []
    for by_name, picks in ((True, _PICKS_BETWEEN), (False, _PICKS_BETWEEN), (False, _MARKS_BETWEEN)):
        kinds = [_kind_in_a_line(piece, units, by_name=by_name) for piece in lengths.pieces if piece.come]
        if is_even:
            told.append(", ".join([listed(kinds), *([_lies_between(gaps[0], picks, units)] if gaps else [])]))
            continue
        pairs = zip([piece for piece in lengths.pieces if piece.come], kinds, strict=True)
        told.append("; ".join(f"{kind}{_beside_each(piece, picks, units)}" for piece, kind in pairs))
    return told


def _kind_in_a_line(piece: PlannedPiece, units: Units, *, by_name: bool) -> str:
    long = woven_length(piece.on_loom_mm, units, alone=True).replace(" ", NO_BREAK)
    if by_name:
        return f"{so_many(piece.come, piece.purpose)} of{NO_BREAK}{long}"
    return f"{piece.come}{NO_BREAK}×{NO_BREAK}{long}"


def _lies_between(gap: Fraction, picks: str, units: Units) -> str:
    """What is left bare between two pieces, or the picks that part them."""
    return f"{_bare(gap, units)} between" if gap else f"{picks} between"


def _beside_each(piece: PlannedPiece, picks: str, units: Units) -> str:
    """The same of pieces of which some leave a fringe and others none: of each kind for itself."""
    if picks == _MARKS_BETWEEN:
        bare = f"bare ends {piece_length_alone(piece.fringe_mm, units)}".replace(" ", NO_BREAK)
        return f", {bare}" if piece.fringe_mm else f", {picks}" if piece.come > 1 else ""
    if piece.fringe_mm:
        return f", {_bare(piece.fringe_mm, units)} at both ends"
    return f", {picks} between" if piece.come > 1 else ""


def _bare(length: Fraction, units: Units) -> str:
    return f"{piece_length_alone(length, units)} bare".replace(" ", NO_BREAK)


def _between_in_brief(lengths: Lengths, *, brief: bool = False) -> str:
    """What to do between two pieces that leave no fringe; nothing where there are no such two."""
    gaps = _gaps(lengths)
    if 0 not in gaps:
        return ""
    where = (
        f"Between {_kind_without_fringe(lengths) or 'two without a fringe'}" if any(gaps) else f"Between{NO_BREAK}two"
    )
    if brief:
        follows = not any(gaps) or not [piece for piece in lengths.pieces if piece.come][-1].fringe_mm
        return f"{'Between' if follows else where}: {_CUT_IN_BRIEFEST}"
    return f"{where}: {_CUT_IN_BRIEF}"


def _kind_without_fringe(lengths: Lengths) -> str:
    """``garters``, where they alone have none; nothing where they are several kinds, or their name takes no s."""
    names = [so_many(2, piece.purpose) for piece in lengths.pieces if piece.come and not piece.fringe_mm]
    return names[0].partition(NO_BREAK)[2] if len(names) == 1 and "×" not in names[0] else ""


def _gaps(lengths: Lengths) -> list[Fraction]:
    """What stays bare between any two pieces that follow each other, each length once."""
    row = [piece for piece in lengths.pieces for _ in range(min(piece.come, 2))]
    return list(dict.fromkeys(first.fringe_mm + second.fringe_mm for first, second in pairwise(row)))


def piece_lines(lengths: Lengths, units: Units) -> list[str]:
    """All that is told of the pieces, a sentence a line; nothing when no pieces are asked for."""
    if not lengths.pieces:
        return []
    spare = tape_to_spare(lengths, units)
    cuts = f"{where_to_cut(lengths, units)} {capitalised(spare)}{'.' if spare else ''}".strip()
    return [*(piece_on_loom(piece, units) for piece in lengths.pieces), *([cuts] if cuts else [])]


def pieces_to_come(counts: Iterable[int], lengths: Lengths) -> str:
    """How many whole pieces of each kind are still to come."""
    still = [how_many(count, piece.purpose) for count, piece in zip(counts, lengths.pieces, strict=True) if count]
    return ", ".join(still)
