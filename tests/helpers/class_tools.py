"""What the tests of a class share: the demonstration and the case to the gram, planned, drawn and printed once."""

from fractions import Fraction
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any, Final

import pdfplumber
import pypdfium2
import pytest

from cardmaker.cli.command_line import run_command_line
from cardmaker.jobs import class_making, class_planning, loading
from cardmaker.model.school_class import ClassPlan, Purchase
from cardmaker.reckoning.amounts.class_amounts import purchases
from cardmaker.school.handout_sheets import Size
from tests.helpers.places import ROOT

SUPPER: Final = ROOT / "layouts" / "classes" / "a-yard-by-supper.yaml"
ELEVEN: Final = ROOT / "tests" / "cases" / "classes" / "eleven-of-three-paths.yaml"
MM: Final = 25.4 / 72
YARD: Final = Fraction("914.4")

Said = pytest.CaptureFixture[str]


def run(capsys: Said, *arguments: str) -> tuple[int, str, str]:
    status = run_command_line(arguments)
    out, err = capsys.readouterr()
    return status, out, err


@cache
def planned(path: Path) -> ClassPlan:
    return class_planning.plan_class(loading.load_class(path))


@cache
def sheets(path: Path, paper: Size | None = None) -> class_making.ClassSheets:
    return class_making.class_sheets(planned(path), paper)


@cache
def pdf_of(path: Path, kind: class_making.SheetKind, paper: Size | None = None) -> bytes:
    return class_making.class_pdf(planned(path), sheets(path, paper), (kind,))


def texts(path: Path, kind: class_making.SheetKind, paper: Size | None = None) -> list[str]:
    """The words of each page, read by pdfium, which is quick."""
    return [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf_of(path, kind, paper))]


@cache
def printed(path: Path, kind: class_making.SheetKind, paper: Size | None = None) -> Any:
    return pdfplumber.open(BytesIO(pdf_of(path, kind, paper)))


def lines(path: Path, kind: class_making.SheetKind) -> list[str]:
    return [line for page in printed(path, kind).pages for line in page.extract_text().splitlines()]


def bought(path: Path) -> tuple[Purchase, ...]:
    plan = planned(path)
    own = plan.school_class
    return purchases([kit.plan for kit in plan.kits], own.extra, own.spare_ends, own.packages)
