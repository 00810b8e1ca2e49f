"""What the pictures of dressing ask of the plan: figures and ready words, nothing to draw.

A picture is drawn for a right hand, in a box 45 mm wide and 35 mm high at the origin. For a left hand the finished
picture is mirrored, and its words stay readable; so every space and side in here is given as it is drawn before that.
"""

from __future__ import annotations

from typing import Final, Literal

from cardmaker.model.loom import Space
from cardmaker.model.marks import Box, Ruler
from cardmaker.model.record_class import record

ACT_BOX: Final = Box(0, 0, 45, 35)  # mm: of every picture


@record
class Board:
    """The spaces of one heddle, left to right as they are drawn, and where the warp lies in it. Spaces count from 1."""

    kinds: tuple[Space, ...]
    first_space: int
    last_space: int
    mark: float  # the marked space; between two spaces a half, as 8.5

    @property
    def first_kind(self) -> Space:
        return self.kinds[self.first_space - 1]


@record
class ActFigures:
    """One warp on one loom, for the hands that dress it.

    Words are ready to be set: lengths carry their unit, and names of sides are as this weaver calls them.
    """

    ruler: Ruler  # how wide a label is
    type_size: float  # points, of every label

    ends: int
    beam_first: bool  # else the loom is threaded first
    from_behind: bool  # whoever threads sits behind the heddle; spaces are numbered as she sees them
    needle_comes_near: bool  # in step 3: the end is drawn through towards whoever threads, else away from her
    is_wound: bool  # somebody has wound the warp and taken it off: no pegs, no scissors in step 1

    front: Board  # the only one, with one heddle
    back: Board | None  # two heddles
    count: str  # what is said on the first space, counting from the mark: "15"
    mark_says: str  # what is said on the mark itself: "0" or "1"
    counts_from_mark: bool  # False where end 1 lies in the marked space itself: nothing is counted

    held_by: Literal["stick", "ratchet"] | None  # what keeps the beam from turning; None without a beam in the file
    cloth_beam: bool  # step 7b, else 7a
    stick_turns: tuple[int, ...]  # after which turns two packing sticks go in, 0 at the knot; none without packing
    turns: str  # of the beam: "9 1/2"; empty where the file tells no beam

    shuttle: Literal["netting", "flat"]

    opens_by: Literal["hand", "treadle"]
    first_shed: Literal["down", "up"]
    on_top: Space  # of the (front) heddle, the ends that are on top in the first shed
    throw_to_left: bool  # as it is drawn; the tail is left on the other side
    zone: tuple[str, str] | None  # where weaving goes well, from the heddle: ("2 in", "6 in")
    zone_mm: tuple[float, float] | None
    pressed_at_left: bool | None = None  # the treadle of the first shed, as drawn; None where no tie-up tells it
