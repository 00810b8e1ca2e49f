"""The one setter of headings: in lines where they are long, with a few words beside them or below."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal

from cardmaker.layout.ink import BLACK, SOFT
from cardmaker.layout.type_setting import SetLine, Span, TypeSpace, cap_height, leading, set_lines
from cardmaker.model.marks import Box, Face, Words
from cardmaker.model.record_class import record

BEFORE_ASIDE: Final = 3.0  # mm


@record
class SetHeading:
    """A heading in lines. Its aside stands at the end of its only line, or in lines below, or nowhere."""

    space: TypeSpace
    lines: Sequence[SetLine]
    aside: str = ""
    below: Sequence[SetLine] = ()
    strong: bool = False  # the aside, in black
    ink: str = SOFT  # of an aside that is not: grey for labels only, what somebody does is black

    @property
    def height_mm(self) -> float:
        """From the top of the first capitals to the last baseline."""
        sizes = self.space.sizes
        first = cap_height(sizes.heading) + (len(self.lines) - 1) * leading(sizes.heading)
        return first + len(self.below) * leading(sizes.small)


def set_heading(
    space: TypeSpace,
    text: str,
    width: float,
    aside: str = "",
    *,
    strong: bool = False,
    below: bool = False,
    ink: str = SOFT,
) -> SetHeading:
    """The heading in ``width`` mm, its aside where it finds room: where it finds none beside, ``below`` or nowhere."""
    lines = space.lines([Span(text, Face.SERIF_SEMIBOLD)], space.sizes.heading, width)
    if not aside or (len(lines) == 1 and fits_beside(space, text, aside, width)):
        return SetHeading(space, lines, aside, strong=strong, ink=ink)
    return SetHeading(
        space, lines, below=space.lines([Span(aside, colour=SOFT)], space.sizes.small, width) if below else ()
    )


def fits_beside(space: TypeSpace, text: str, aside: str, width: float) -> bool:
    """Whether an aside finds room at the other end of a heading's line, in black as well."""
    heading = space.wide(text, Face.SERIF_SEMIBOLD, space.sizes.heading)
    return heading + BEFORE_ASIDE + space.wide(aside, Face.SANS_SEMIBOLD, space.sizes.small) <= width


def heading_words(heading: SetHeading, left: float, baseline: float) -> list[Words]:
    """The heading's lines, the first on ``baseline``."""
    return set_lines(heading.lines, left, baseline, heading.space.sizes.heading, heading.space.ruler)


def aside_words(
    heading: SetHeading, box: Box, baseline: float, align: Literal["left", "right"] = "right"
) -> list[Words]:
    """The aside: at the right end of the heading's line in ``box``, or ranged ``left`` after it; or the lines below."""
    space, sizes = heading.space, heading.space.sizes
    if heading.below:
        last = baseline + (len(heading.lines) - 1) * leading(sizes.heading)
        return set_lines(heading.below, box.left, last + leading(sizes.small), sizes.small, space.ruler)
    if not heading.aside:
        return []
    used = sum(space.wide(span.text, span.face, sizes.heading) for span in heading.lines[0]) + BEFORE_ASIDE
    face, colour = (Face.SANS_SEMIBOLD, BLACK) if heading.strong else (Face.SANS, heading.ink)
    x = box.right if align == "right" else box.left + used
    return [Words(x, baseline, heading.aside, face, sizes.small, colour, align)]
