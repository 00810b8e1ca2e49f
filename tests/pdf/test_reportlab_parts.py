"""What of ReportLab is relied on is there; what an upgrade took away or changed is told by its name."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from inspect import Parameter, getsource, signature
from pathlib import Path
from textwrap import dedent
from typing import Any, Final

import pytest
import reportlab
from reportlab.pdfbase.pdfdoc import PDFDocument

from cardmaker.model.marks import Face
from cardmaker.pdf import reportlab_parts
from cardmaker.pdf.fonts import face_path
from cardmaker.pdf.reportlab_parts import BASIC_FONTS, MEANINGS, MEMBERS
from tests.helpers.places import ROOT

PDF: Final = ROOT / "cardmaker" / "pdf"
RELIED_ON: Final = [(part, member, reason) for part, members, reason in MEMBERS for member in members.split()]
NAMES: Final = [f"{part}.{member}" for part, member, _ in RELIED_ON]


@cache
def specimens() -> dict[str, Any]:
    """A thing of each kind, as a document has it that one character was set in."""
    document = PDFDocument(compression=1, invariant=1, lang="en")
    font = reportlab_parts.TTFont("specimen", str(face_path(Face.SANS)))
    state = font._assignState(document)
    ((subset, _),) = font.splitString("a", document)
    name = font.getSubsetInternalName(subset, document)[1:]
    font.addObjects(document)
    embedded = document.idToObject[BASIC_FONTS].dict[name]
    things: dict[str, Any] = {
        "settings": reportlab_parts.settings, "PDFDocument": document, "PDFCatalog": document.Catalog, "TTFont": font,
        "State": state, "TTFontFace": font.face, "PDFTrueTypeFont": embedded,
        "PDFStream": document.idToObject[MEANINGS + embedded.BaseFont],
        "PDFFile": reportlab_parts.PDFFile((1, 7)), "PDFIndirectObject": reportlab_parts.PDFIndirectObject("R1", ""),
        "PDFObjectReference": reportlab_parts.PDFObjectReference("R1"), "PDFPage": reportlab_parts.PDFPage(),
        "PDFDictionary": reportlab_parts.PDFDictionary({}), "PDFInfo": document.info,
    }  # fmt: skip
    return {part: things.get(part, getattr(reportlab_parts, part, None)) for part, *_ in MEMBERS}


def fault(part: str, member: str, reason: str, thing: Any, parts: Any = reportlab_parts) -> str | None:
    """What is no longer as it is relied on, or None. ``(a,b)`` makes one, ``name(a,b)`` calls it, ``name`` is there."""
    name, _, arguments = member.rstrip(")").partition("(")
    message = f"ReportLab {reportlab.__version__}: {part}.{member} is {{}}; relied on for: {reason}"
    owner, name = (thing, name) if name else (parts, part)
    if not hasattr(owner, name):
        return message.format("gone")
    if "(" not in member:
        return None
    called = getattr(owner, name)
    if not callable(called):
        return message.format("nothing to call")
    wanted, takes = arguments.split(",") if arguments else [], signature(called).parameters.values()
    needed = {
        each.name for each in takes if each.default is Parameter.empty and each.kind is Parameter.POSITIONAL_OR_KEYWORD
    }
    changed = not set(wanted) <= {each.name for each in takes} or not needed <= set(wanted)
    return message.format(f"called with {signature(called)}") if changed else None


@pytest.mark.parametrize(("part", "member", "reason"), RELIED_ON, ids=NAMES)
def test_each_part_is_as_it_is_relied_on(part: str, member: str, reason: str) -> None:
    assert fault(part, member, reason, specimens()[part]) is None


class Without:
    """A thing that lost one of its members."""

    def __init__(self, thing: Any, name: str) -> None:
        self._thing, self._name = thing, name

    def __getattr__(self, name: str) -> Any:
        if name == self._name:
            raise AttributeError(name)
        return getattr(self._thing, name)


class Other(Without):
    """A thing one of whose members is called otherwise."""

    def __getattr__(self, name: str) -> Any:
        return (lambda unknown: None) if name == self._name else getattr(self._thing, name)


@pytest.mark.parametrize(("part", "member", "reason"), RELIED_ON, ids=NAMES)
def test_whatever_is_taken_away_is_told_by_name(part: str, member: str, reason: str) -> None:
    name, thing = member.partition("(")[0], specimens()[part]
    message = fault(part, member, reason, Without(thing, name), Without(reportlab_parts, part))
    assert message == f"ReportLab {reportlab.__version__}: {part}.{member} is gone; relied on for: {reason}"
    if "(" in member:
        message = fault(part, member, reason, Other(thing, name), Other(reportlab_parts, part))
        assert message is not None
        assert f"{part}.{member} is called with (unknown)" in message


def test_every_part_has_its_members_listed() -> None:
    parts = {
        name
        for name, value in vars(reportlab_parts).items()
        if getattr(value, "__module__", "").startswith("reportlab.")
    }
    assert parts
    assert parts <= {part for part, *_ in MEMBERS}


# Nothing else is reached for


def attributes_of(kind: type) -> set[str]:
    """What things of a kind have: methods and values of its classes, and what their code sets in ``self``."""
    names = {name for name in dir(kind) if name not in dir(dict)}
    for each in kind.__mro__[:-1]:
        for node in ast.walk(ast.parse(dedent(getsource(each)))):
            if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "self":
                names.add(node.attr)
    return names


@cache
def insides() -> set[str]:
    """The names of all that ReportLab's parts have, but those of its settings that are common words."""
    kinds = {type(thing) if not isinstance(thing, type) else thing for thing in specimens().values()}
    kinds = {kind for kind in kinds if kind.__module__.startswith("reportlab.")}
    return set().union(*map(attributes_of, kinds)) | {name for name in vars(reportlab_parts.settings) if name[0] != "_"}


def own_names(trees: list[ast.Module]) -> set[str]:
    """What our own classes have."""
    names: set[str] = set()
    for node in (
        inner for tree in trees for cls in ast.walk(tree) if isinstance(cls, ast.ClassDef) for inner in ast.walk(cls)
    ):
        if isinstance(node, ast.FunctionDef):
            names.add(node.name)
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            names.add(node.target.id)
        elif isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Store):
            names.add(node.attr)
    return names


def faults(text: str, own: set[str]) -> Iterator[str]:
    """What a module's text takes from ReportLab beside the list: imports, and attributes that its parts have."""
    tree, listed = ast.parse(text), {re.sub(r"\(.*", "", member) for _, member, _ in RELIED_ON}
    others, uses_it = insides() - listed - own, False
    for node in ast.walk(tree):
        if isinstance(node, ast.Import | ast.ImportFrom):
            modules = [alias.name for alias in node.names] if isinstance(node, ast.Import) else [node.module or ""]
            yield from (f"imports {module}" for module in modules if module.partition(".")[0] == "reportlab")
            uses_it |= any(
                module.startswith(("cardmaker.pdf.reportlab_parts", "cardmaker.pdf.document")) for module in modules
            )
    for node in ast.walk(tree) if uses_it else ():
        if isinstance(node, ast.Attribute) and node.attr in others:
            yield f"reaches for .{node.attr}"


MODULES: Final = sorted(path for path in PDF.glob("*.py") if path.stem != "reportlab_parts")
GIVEN: Final = [ROOT / "cardmaker" / "model" / name for name in ("carried_file.py", "marks.py")]  # what it is given
OWN: Final = own_names([ast.parse(path.read_text()) for path in (*MODULES, *GIVEN)])


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_no_module_reaches_for_another_inside(path: Path) -> None:
    assert list(faults(path.read_text(), OWN)) == []


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("from reportlab.pdfbase import pdfmetrics", "imports reportlab.pdfbase"),
        ("import reportlab.rl_config as settings", "imports reportlab.rl_config"),
        ("def late():\n    from reportlab.pdfgen.canvas import Canvas", "imports reportlab.pdfgen.canvas"),
        ("document.delayedFonts.append(1)", "reaches for .delayedFonts"),
        ("document._timeStamp", "reaches for ._timeStamp"),
        ("document.fontMapping['a'] = 1", "reaches for .fontMapping"),
        ("font.face.makeSubset([1])", "reaches for .makeSubset"),
        ("page.setStream('')", "reaches for .setStream"),
        ("settings.useA85 = 0", "reaches for .useA85"),
    ],
)
def test_reaching_for_another_inside_is_told(text: str, message: str) -> None:
    assert list(faults(f"from cardmaker.pdf.document import Document\n{text}", OWN)) == [message]
