"""The card by typst, in process, in two ways: its compiler and fonts are kept, and told another card each time.

*Calls* writes every mark as a call in typst's own language, which is the quickest that we found. *Data* keeps one
template and gives it the marks as JSON, which is how most would use it from a program.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path as File
from typing import Any, Final

from cardmaker.model.marks import Dot, Face, Line, Mark, Page, Path, Rectangle, Stamp, Words
from cardmaker.pdf.fonts import face_path
from tests.benchmarks.peers.marks import drawn

TEMPLATE: Final = File(__file__).with_name("card.typ")
FAMILIES: Final = {
    Face.SANS: ("Source Sans Pro", 400), Face.SANS_SEMIBOLD: ("Source Sans Pro", 600),
    Face.SANS_BOLD: ("Source Sans Pro", 700), Face.SERIF: ("Source Serif Pro", 400),
    Face.SERIF_SEMIBOLD: ("Source Serif Pro", 600),
}  # fmt: skip
STEPS: Final = {"move": "m", "line": "i", "curve": "c", "close": "z"}
Json = Any


@cache
def compiler(way: str) -> Any:
    """One compiler for all cards of a way, which knows our faces and no others, and begins with the template."""
    import typst

    folders = sorted({str(face_path(face).parent) for face in Face})
    return typst.Compiler(input=str(TEMPLATE), root=str(TEMPLATE.parent), font_paths=folders, ignore_system_fonts=True)


def prepared_calls(page: Page) -> bytes:
    """The card as typst's own text, below the names of the template."""
    return "\n".join([TEMPLATE.read_text("utf-8"), *map(_call, drawn(page))]).encode()


def calls(source: bytes) -> bytes:
    """One PDF, without tags: ours has them, theirs is spared."""
    pdf: bytes = compiler("calls").compile(input=source, format="pdf", pdf_tags=False)
    return pdf


def prepared_data(page: Page) -> str:
    """The card's marks as data."""
    return json.dumps([_data(mark) for mark in drawn(page)])


def data(marks: str) -> bytes:
    """One PDF by the template, without tags."""
    pdf: bytes = compiler("data").compile(format="pdf", pdf_tags=False, sys_inputs={"card": marks})
    return pdf


def _data(mark: Mark) -> Json:
    match mark:
        case Words():
            place = ["t" if mark.turned else "w", mark.x, mark.y]
            return [*place, mark.size, *FAMILIES[mark.face], mark.colour, mark.text]
        case Line():
            look = _look(mark.colour, mark.width, mark.dash, mark.round_ends)
            return ["l", mark.x1, mark.y1, mark.x2, mark.y2, look]
        case Rectangle():
            look = _look(mark.stroke, mark.width, mark.dash)
            return ["r", *mark.box, mark.fill, look, mark.radius]
        case Dot():
            corner = [mark.x - mark.radius, mark.y - mark.radius]
            return ["d", *corner, mark.radius, mark.fill, _look(mark.stroke, mark.width)]
        case Path():
            steps = [[STEPS[step[0]], *zip(step[1::2], step[2::2], strict=True)] for step in mark.steps]
            return ["p", mark.fill, _look(mark.stroke, mark.width, mark.dash, mark.round_ends), steps]
        case Stamp():
            return ["s", *mark.clip, mark.count, mark.dx, mark.dy, [_data(each) for each in mark.marks]]
        case _:
            raise TypeError(f"a card has no {type(mark).__name__}")


def _look(colour: str | None, width: float, dash: tuple[float, ...] = (), round_ends: bool = False) -> Json:
    return [colour, width, list(dash), round_ends] if colour else None


def _call(mark: Mark) -> str:
    """The same in typst's own words, made of the data."""
    return f"#{_called(_data(mark))}"


def _called(told: Json) -> str:
    match told:
        case ["w" | "t" as name, x, y, size, family, weight, colour, said]:
            text = said.replace("\\", "\\\\").replace('"', '\\"')
            return f'{name}({_mm(x, y)},{size}pt,"{family}",{weight},"{colour}","{text}")'
        case ["l", x1, y1, x2, y2, look]:
            return f"l(({_mm(x1, y1)}),({_mm(x2, y2)}),{_stroke(look)})"
        case ["r", left, top, width, height, fill, look, radius]:
            return f"r({_mm(left, top, width, height)},{_fill(fill)},{_stroke(look)},{_mm(radius)})"
        case ["d", left, top, radius, fill, look]:
            return f"d({_mm(left, top, radius)},{_fill(fill)},{_stroke(look)})"
        case ["p", fill, look, steps]:
            return f"p({_fill(fill)},{_stroke(look)},{','.join(map(_step, steps))})"
        case ["s", left, top, width, height, count, dx, dy, marks]:
            inside = "".join(f"#{_called(each)}" for each in marks)
            return f"s({_mm(left, top, width, height)},{count},{_mm(dx, dy)},[{inside}])"
        case _:
            raise TypeError(f"no such mark: {told}")


def _step(step: Json) -> str:
    name, *places = step
    return f"{name}({','.join(f'({_mm(x, y)})' for x, y in places)})" if places else name


def _mm(*numbers: float) -> str:
    return ",".join(f"{number:.6g}mm" for number in numbers)


def _fill(colour: str | None) -> str:
    return f'rgb("{colour}")' if colour else "none"


def _stroke(look: Json) -> str:
    if look is None:
        return "none"
    colour, width, dash, round_ends = look
    dashed = f",dash:({''.join(f'{_mm(part)},' for part in dash)})" if dash else ""
    ends = ',cap:"round",join:"round"' if round_ends else ""
    return f'(paint:rgb("{colour}"),thickness:{_mm(width)}{dashed}{ends})'
