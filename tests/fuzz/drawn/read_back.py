"""A finished file read back by libraries that did not write it, and held against the pages that were composed."""

from __future__ import annotations

import shutil
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from io import BytesIO
from pathlib import Path
from typing import Any, Final
from unicodedata import normalize

import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium

from cardmaker.model.marks import Page
from tests.fuzz.drawn.jobs import Command, Job
from tests.fuzz.drawn.page_laws import Broken
from tests.helpers.accessible import faults
from tests.helpers.card_faults import all_words
from tests.helpers.paper_tools import MM_PER_POINT

BACK: Final = "back"
INSIDE_POINTS: Final = 8.0  # of every edge: words stand no nearer (card_faults: a sixth of an inch, less their tails)
_DROPPED: Final = "\u00ad\u2010\u0002\ufffe-"  # a hyphen at the end of a line is read in several ways


def file_faults(path: Path, pages: Sequence[Page], job: Job, run: Callable[[Command], Any]) -> Iterator[Broken]:
    """What is wrong with one file: its pages, its letters and where they stand, its tags, and the files in it."""
    data = path.read_bytes()
    document = pypdfium2.PdfDocument(data)
    if len(document) != len(pages):
        yield Broken("read back", f"{path.name}: {len(document)} pages, composed {len(pages)}")
    for number, (read, page) in enumerate(zip(document, pages, strict=False), start=1):
        yield from (Broken("read back", f"{path.name}, page {number}: {what}") for what in page_wrong(read, page))
    document.close()
    yield from (Broken("tags", f"{path.name}: {what}"[:300]) for what in faults(data))
    yield from (Broken("restored", f"{path.name}: {what}"[:300]) for what in _not_restored(path, data, job, run))


def page_wrong(read: Any, page: Page) -> Iterator[str]:
    """Letters that are lost or too many, and letters off the paper."""
    found, outside = read_letters(read)
    # Letter and accent are set as one character where there is one (Unicode NFC).
    texts = (normalize("NFC", words.text) for words in all_words(page.marks))
    composed = Counter(sign for text in texts for sign in text if not _is_dropped(sign))
    if found != composed:
        yield f"not read {dict(composed - found)}, not composed {dict(found - composed)}"[:250]
    if outside:
        yield f"letters at the very edge: {outside[:20]!r}"
    width, height = read.get_size()
    if abs(width * MM_PER_POINT - page.width_mm) > 0.1 or abs(height * MM_PER_POINT - page.height_mm) > 0.1:
        yield f"a page of {width * MM_PER_POINT:.1f} by {height * MM_PER_POINT:.1f} mm"


def read_letters(read: Any) -> tuple[Counter[str], str]:
    """The letters of a page, but for spaces and hyphens, and those that stand nearer to an edge than letters may."""
    text = read.get_textpage()
    width, height = read.get_size()
    found: Counter[str] = Counter()
    outside = ""
    for index in range(text.count_chars()):
        sign = chr(pdfium.FPDFText_GetUnicode(text, index))
        if _is_dropped(sign) or pdfium.FPDFText_IsGenerated(text, index) == 1:
            continue
        found[sign] += 1
        left, bottom, right, top = text.get_charbox(index)
        if min(left, bottom, width - right, height - top) < INSIDE_POINTS:
            outside += sign
    return found, outside


def _is_dropped(sign: str) -> bool:
    return sign.isspace() or sign in _DROPPED


def _not_restored(path: Path, data: bytes, job: Job, run: Callable[[Command], Any]) -> Iterator[str]:
    """Files that the PDF gives back otherwise than they were."""
    with pikepdf.open(BytesIO(data)) as opened:
        if not opened.attachments:
            return
    shutil.rmtree(BACK, ignore_errors=True)
    ran = run(["restore", str(path), "--out", BACK])
    if ran.status != 0:
        yield f"restore ended with {ran.status}: {ran.told[:200]}"
    there = [file for file in sorted(Path(BACK).rglob("*")) if file.is_file()]
    if not there:
        yield "nothing was restored"
    for file in there:
        name = file.relative_to(BACK).as_posix()
        if name in job.files and file.read_bytes() != job.files[name]:
            yield f"{name} is another file"
    shutil.rmtree(BACK, ignore_errors=True)
