"""The card by matplotlib: a bare figure on its PDF canvas, and one collection for each run of marks of a kind.

Collections are what it draws quickest. Nothing of its plotting is used: no axes, no global figure.
"""

from __future__ import annotations

from functools import cache
from io import BytesIO
from itertools import groupby
from typing import Any, Final

from cardmaker.model.marks import Dot, Face, Line, Page, Rectangle, Stamp, Words
from cardmaker.pdf.fonts import face_path
from tests.benchmarks.peers.marks import Plain, copies, drawn

POINTS: Final = 72 / 25.4
Runs = list[tuple[Any, list[Plain]]]


def prepared(page: Page) -> tuple[float, float, Runs]:
    """Runs of marks of one kind, each with what cuts it off, stamps written out."""
    clipped: list[tuple[Any, Plain]] = []
    for mark in drawn(page):
        clipped += [(mark.clip, copy) for copy in copies(mark)] if isinstance(mark, Stamp) else [(None, mark)]
    runs = groupby(clipped, key=lambda one: (one[0], _kind(one[1])))
    return page.width_mm, page.height_mm, [(clip, [mark for _, mark in marks]) for (clip, _), marks in runs]


def _kind(mark: Plain) -> tuple[object, ...]:
    """What marks of one collection share: the kind, and how strokes end."""
    return (isinstance(mark, Words), isinstance(mark, Line), getattr(mark, "round_ends", False))


def made(card: tuple[float, float, Runs]) -> bytes:
    """One PDF."""
    import matplotlib
    from matplotlib.backends.backend_pdf import FigureCanvasPdf
    from matplotlib.figure import Figure
    from matplotlib.transforms import Affine2D

    width, height, runs = card
    figure: Any = Figure(figsize=(width / 25.4, height / 25.4), dpi=72)
    FigureCanvasPdf(figure)
    placed = Affine2D().scale(POINTS, -POINTS).translate(0, height * POINTS)
    for order, (clip, marks) in enumerate(runs):
        if isinstance(marks[0], Words):
            for mark in marks:
                _words(figure, mark, placed, order)
        else:
            _shapes(figure, clip, marks, placed, order)
    out = BytesIO()
    with matplotlib.rc_context({"pdf.fonttype": 42}):
        figure.savefig(out, format="pdf", dpi=72)
    return out.getvalue()


@cache
def _font(face: Face) -> Any:
    from matplotlib.font_manager import FontProperties

    return FontProperties(fname=str(face_path(face)))


def _words(figure: Any, mark: Any, placed: Any, order: int) -> None:
    figure.text(
        mark.x, mark.y, mark.text, transform=placed, fontproperties=_font(mark.face), fontsize=mark.size,
        color=mark.colour, va="baseline", ha="left", rotation=mark.turned, rotation_mode="anchor", zorder=order,
        parse_math=False,
    )  # fmt: skip


def _shapes(figure: Any, clip: Any, marks: Any, placed: Any, order: int) -> None:
    from matplotlib.collections import PathCollection
    from matplotlib.transforms import Bbox, TransformedBbox

    round_ends = getattr(marks[0], "round_ends", False)
    strokes = [_stroke(mark) for mark in marks]
    shapes: Any = PathCollection(
        [_outline(mark) for mark in marks],
        facecolors=[getattr(mark, "fill", None) or "none" for mark in marks],
        edgecolors=[stroke or "none" for stroke, _ in strokes],
        linewidths=[mark.width * POINTS if stroke else 0 for mark, (stroke, _) in zip(marks, strokes, strict=True)],
        linestyles=[dash for _, dash in strokes],
        capstyle="round" if round_ends else "butt",
        joinstyle="round" if round_ends else "miter",
        zorder=order,
    )
    shapes.set_transform(placed)
    figure.add_artist(shapes)
    if clip is not None:
        box = Bbox([[clip.left, clip.top], [clip.right, clip.bottom]])
        shapes.set_clip_box(TransformedBbox(box, placed))


def _stroke(mark: Any) -> tuple[str | None, Any]:
    colour = mark.colour if isinstance(mark, Line) else mark.stroke
    dash = getattr(mark, "dash", ())
    width = mark.width or 1  # dashes are told in widths
    return colour, (0, [part / width for part in dash]) if colour and dash else "solid"


def _outline(mark: Any) -> Any:
    from matplotlib.patches import FancyBboxPatch
    from matplotlib.path import Path as Outline

    match mark:
        case Line():
            return Outline([(mark.x1, mark.y1), (mark.x2, mark.y2)])
        case Dot():
            return Outline.circle((mark.x, mark.y), mark.radius)
        case Rectangle() if mark.radius:
            box = mark.box
            style = f"round,pad=0,rounding_size={mark.radius}"
            return FancyBboxPatch((box.left, box.top), box.width, box.height, style).get_path()
        case Rectangle():
            box = mark.box
            corners = [(box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom)]
            return Outline([*corners, corners[0]], closed=True)
        case _:
            return _steps(mark)


def _steps(mark: Any) -> Any:
    from matplotlib.path import Path as Outline

    codes, places = [], []
    for step in mark.steps:
        found = list(zip(step[1::2], step[2::2], strict=True)) or [(0, 0)]
        code = {"move": Outline.MOVETO, "line": Outline.LINETO, "curve": Outline.CURVE4, "close": Outline.CLOSEPOLY}
        codes += [code[step[0]]] * len(found)
        places += found
    return Outline(places, codes)
