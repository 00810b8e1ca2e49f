"""What the tests of a class share: the demonstration and the case to the gram, planned, drawn and printed once."""

from fractions import Fraction
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any, Final

import pdfplumber
import pytest

from cardmaker import classroom
from cardmaker.cli import main
from cardmaker.composing.school.handouts import Size
from cardmaker.nouns.school_class import ClassPlan, Purchase
from cardmaker.reckoning.shopping import shopping

ROOT: Final = Path(__file__).parent.parent
SUPPER: Final = ROOT / "layouts" / "classes" / "a-yard-by-supper.yaml"
ELEVEN: Final = ROOT / "tests" / "cases" / "classes" / "eleven-of-three-paths.yaml"
MM: Final = 25.4 / 72
YARD: Final = Fraction("914.4")

Said = pytest.CaptureFixture[str]


def run(capsys: Said, *arguments: str) -> tuple[int, str, str]:
    status = main(arguments)
    out, err = capsys.readouterr()
    return status, out, err


@cache
def planned(path: Path) -> ClassPlan:
    return classroom.plan_class(classroom.load_class(path))


@cache
def sheets(path: Path, paper: Size | None = None) -> classroom.ClassSheets:
    return classroom.class_sheets(planned(path), classroom.Wishes(paper))


@cache
def printed(path: Path, kind: classroom.SheetKind, paper: Size | None = None) -> Any:
    return pdfplumber.open(BytesIO(classroom.painted(planned(path), sheets(path, paper), (kind,))))


def lines(path: Path, kind: classroom.SheetKind) -> list[str]:
    return [line for page in printed(path, kind).pages for line in page.extract_text().splitlines()]


def bought(path: Path) -> tuple[Purchase, ...]:
    plan = planned(path)
    own = plan.school_class
    return shopping([kit.plan for kit in plan.kits], own.extra, own.spare_ends, own.packages)
