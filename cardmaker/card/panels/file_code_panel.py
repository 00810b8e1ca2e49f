"""The pattern file in a code, with what it is and how the file comes back: for whoever keeps the card."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from cardmaker.card.parts import COLUMN_GAP, columns_part, heading_part, picture_part, stack_part, words_part
from cardmaker.card.sheet import Panel, Sheet
from cardmaker.layout.qr_code import LEAST_MODULE_MM, QUIET, FileCode, code_mark, file_code
from cardmaker.layout.stacking import NO_ROOM, HeightRange, Part
from cardmaker.layout.type_setting import Span
from cardmaker.model.carried_file import Carried, plain_name
from cardmaker.model.marks import Box, Face, Mark
from cardmaker.model.record_class import replace
from cardmaker.wording import file_code_words

FACT: Final = "file code"
BETWEEN: Final = 2.4  # mm between paragraphs
LEAST_WORDS: Final = 45.0  # mm: narrower words stand over the code instead of beside it
LEAST_WORDS_CROWDED: Final = 26.0


def _code(sheet: Sheet) -> FileCode | None:
    places = sheet.plan.pattern.places
    return file_code(Carried(plain_name(Path(places.file).name, ()), places.raw))


def _parts(sheet: Sheet, width: float) -> list[Part]:
    code = _code(sheet)
    if code is None:
        return _words(sheet, width, [file_code_words.TOO_LARGE], sheet.sizes.body, facts=(FACT,))
    shelves = [yarn.shelf.stem for yarn in sheet.plan.pattern.all_yarns if yarn.shelf]
    held = file_code_words.what_it_holds(is_packed=code.is_packed, yarn_files=[*dict.fromkeys(shelves)])
    words = [held, file_code_words.HOW_BACK]
    least_words, module = LEAST_WORDS, code.most_module_mm
    if sheet.is_crowded:
        least_words, module = LEAST_WORDS_CROWDED, LEAST_MODULE_MM
    wide = _wide(code, module)
    beside = width - wide - COLUMN_GAP
    if beside < least_words:
        small = words_part(sheet, width, [[*_spans(words[0]), *_spans(words[1])]], sheet.sizes.small, above=0.0)
        heading = heading_part(sheet, width, file_code_words.HEADING)
        return [heading, small, _picture(code, width, at_right=False)]
    left = (0.0, beside, stack_part(_words(sheet, beside, words, sheet.sizes.body)))
    return [columns_part([left, (width - wide, wide, _picture(code, wide, at_right=True))])]


def _words(
    sheet: Sheet,
    width: float,
    sentences: Sequence[str],
    size: float,
    facts: tuple[str, ...] = (),
) -> list[Part]:
    first, *further = (words_part(sheet, width, [_spans(each)], size, above=BETWEEN, facts=facts) for each in sentences)
    return [heading_part(sheet, width, file_code_words.HEADING), replace(first, above=0.0), *further]


def _spans(sentence: str) -> list[Span]:
    """The sentence with what is to be typed, at its end, set apart."""
    for command in (file_code_words.FROM_PAPER, file_code_words.FROM_PDF):
        if sentence.endswith(command):
            return [Span(sentence.removesuffix(command).strip()), Span(command, Face.SANS_SEMIBOLD)]
    return [Span(sentence)]


def _wide(code: FileCode, module_mm: float) -> float:
    """A code with the white towards its words. Towards the panel's own edge, where it stands in line with what is above
    it, margin or gutter are as wide as it needs."""
    return (code.modules + QUIET) * module_mm


def _high(code: FileCode, module_mm: float) -> float:
    return (code.modules + 2 * QUIET) * module_mm


def _picture(code: FileCode, width: float, *, at_right: bool) -> Part:
    """The code as large as its height allows, at the one end of its width or the other."""
    if width < _wide(code, LEAST_MODULE_MM):
        return Part(NO_ROOM, lambda box: (), facts=(FACT,))
    most = min(code.most_module_mm, width / (code.modules + QUIET))
    heights = HeightRange(_high(code, LEAST_MODULE_MM), _high(code, most))
    alt = file_code_words.code_alt_text(is_packed=code.is_packed)

    def draw(box: Box) -> list[Mark]:
        module = box.height / (code.modules + 2 * QUIET)
        side = code.modules * module
        left = box.right - side if at_right else box.left
        return [code_mark(code, Box(left, box.top + QUIET * module, side, side))]

    return picture_part("file code", heights, draw, alt, facts=(FACT,))


FILE_CODE = Panel("file-code", _parts, applies=lambda sheet: bool(sheet.plan.pattern.places.raw))
